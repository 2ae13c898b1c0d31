"""Figures that are finer than what they were read on, and counts that are not whole, in; what is
told and what needs a slip, out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from generator.process import Instrument
from generator.quantities.text import read_amount
from generator.results.case import Books
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.judge import judged

DUE = date(2030, 1, 1)
HELD = {n: Instrument(n, kind, read_amount(step) if step else None, DUE) for n, kind, step in (
    ("G-160", "pressure gauge", "0.5 bar"), ("G-161", "pressure gauge", "5 bar"),
    ("G-101", "micrometer", "0.001 mm"), ("G-102", "micrometer", ""),
    ("G-240", "torque wrench", "0.5 lbf·in"))}  # fmt: skip


def _said(scale: str, word: str, *numbers: str, measured_with: str = "", **limits: str):
    value = Field("traveller", "10", "value", "", "number", (f"value, {scale}",), unit=scale,
                  **limits)  # fmt: skip
    words = {replace(value, measured_with=measured_with): word}
    for n in numbers:
        kind = HELD[n].kind
        words[Field("traveller", "10", f"{kind} no.", "", "words", (f"{kind} no.",))] = n
    entries = {field.key: entry_of(each) for field, each in words.items()}
    found = judged(Form(tuple(words), ("10",), ()), entries, Books({}, HELD))
    return [(each.code, each.says, each.blocks) for each in found]


@pytest.mark.parametrize(
    ("scale", "word", "numbers", "told"),
    [
        ("bar g", "70.13", ["G-160"], "70.13 bar g, and G-160 reads to 0.5 bar g"),
        # Between two marks half of a step can be told.
        ("bar g", "70.25", ["G-160"], ""), ("bar g", "70.5", ["G-160"], ""),
        ("bar g", "70", ["G-160"], ""), ("bar g", "-0.5", ["G-160"], ""),
        ("bar g", "71", ["G-161"], "71 bar g, and G-161 reads to 5 bar g"),
        ("mm", "1.5963", ["G-101"], "1.5963 mm, and G-101 reads to 0.001 mm"),
        ("mm", "1.596", ["G-101"], ""), ("mm", "1.6", ["G-101"], ""),
        # Nobody knows how finely this one reads, and nobody knows which of the two it was.
        ("mm", "1.5963", ["G-102"], ""),
        # In another unit the steps are others.
        ("N·m", "6.33", ["G-240"], ""),
        ("°C", "18.13", ["G-160"], ""),
    ],
)  # fmt: skip
def test_a_figure_that_is_finer_than_its_instrument_reads_is_told_and_stops_nothing(
    scale, word, numbers, told
):
    more = ": was it read with another, or worked out?"
    assert _said(scale, word, *numbers) == ([("step", told + more, False)] if told else [])


def test_of_two_instruments_the_one_that_reads_so_finely_may_have_been_taken():
    other = Instrument("G-162", "master gauge", read_amount("0.01 bar"), DUE)
    HELD["G-162"] = other
    assert _said("bar g", "70.13", "G-160", "G-162") == []
    assert len(_said("bar g", "70.13", "G-160", "G-162", measured_with="pressure gauge")) == 1


SHEET = "inspection-sheet"


@pytest.mark.parametrize(
    ("cells", "copied", "wanted"),
    [
        (("1.5963", "1.5964"), ("1.5963", "1.5964"), ["station 0: 1"]),
        (("1.596", "1.5964"), ("1.596", "1.5964"), ["station 0: 2"]),
        # What was measured anew is told by itself.
        (("1.5963", "1.5964"), ("1.5963", "1.5965"), ["station 0: 1", "feature 1: 1 of 2"]),
        (("1.596", "1.597"), ("1.5961", "1.597"), ["feature 1: 1 of 2"]),
    ],
)
def test_a_row_is_told_once_and_its_copy_on_the_inspection_sheet_not_again(cells, copied, wanted):
    row = [Field("traveller", "10", "station 0", n, "number", (n,), unit="mm") for n in "12"]
    there = [Field(SHEET, "", "feature 1", f"{n} of 2", "number", (f"{n} of 2, mm",), unit="mm",
                   of="10", reading="station 0") for n in "12"]  # fmt: skip
    number = "micrometer no."
    words = dict(zip((*row, *there), (*cells, *copied), strict=True))
    words[Field("traveller", "10", number, "", "words", (number,))] = "G-101"
    words[Field(SHEET, "", "feature 1", number, "words", (number,))] = "G-101"
    entries = {field.key: entry_of(each) for field, each in words.items()}
    found = judged(Form(tuple(words), ("10",), ()), entries, Books({}, HELD))
    assert [each.row for each in found if each.code == "step"] == wanted


@pytest.mark.parametrize(
    ("word", "limits", "wanted"),
    [
        ("24.5", {}, True), ("24", {}, False), ("24.0", {}, False),
        ("6.5", {"lower": "6"}, True), ("6.5", {"lower": "6", "upper": "8"}, True),
        # Limits with a point say that parts of one are read.
        ("15.5", {"upper": "17.9"}, False), ("15.5", {"upper": "17.0"}, False),
    ],
)  # fmt: skip
def test_a_count_is_whole(word, limits, wanted):
    found = _said("count", word, **limits)
    says = f"{word} is no whole count: a slip is needed"
    assert found == ([("out", says, True)] if wanted else [])
