"""Numbers of instruments on a tool list, in; those that are of another kind, unknown or overdue,
out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from generator.process import Instrument
from generator.results.case import Books
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.judge import judged

TOOLS = "tool-list"
HELD = {n: Instrument(n, kind, None, date(2026, 11, day)) for n, kind, day in (
    ("M-5", "leak test gauge", 30), ("M-6", "pressure gauge", 30), ("M-7", "leak test gauge", 2),
    ("M-8", "torque wrench", 30))}  # fmt: skip
BOX = Field(TOOLS, "", "leak test gauge", "", "words", ("number used",))
SIGN = [Field(TOOLS, "", "tools accepted", kind, kind, (kind,)) for kind in ("stamp", "date")]


def _said(word: str, row: str = "leak test gauge") -> list[tuple[str, str]]:
    words = {replace(BOX, row=row): word, SIGN[0]: "", SIGN[1]: "2026-11-03"}
    entries = {field.key: entry_of(each) for field, each in words.items()}
    found = judged(Form(tuple(words), (), ()), entries, Books({}, HELD))
    return [(each.code, each.says) for each in found if each.row == row]


@pytest.mark.parametrize(
    ("word", "wanted"),
    [
        ("M-5", []),
        ("M-6", [("instrument", "M-6 is a pressure gauge, no leak test gauge")]),
        ("M-9", [("instrument", "the workshop has no instrument M-9")]),
        ("M-7", [("overdue", "M-7 was due 2026-11-02, used 2026-11-03")]),
        ("M-5, M-6", [("instrument", "M-6 is a pressure gauge, no leak test gauge")]),
        ("M-5 and M-5", []),
    ],
)
def test_a_tool_list_names_instruments_of_its_kind_in_date(word, wanted):
    assert _said(word) == wanted


def test_a_line_of_a_tool_that_is_no_kind_of_instrument_takes_words():
    assert _said("the red one", "soft pencil") == []


def test_a_wrench_is_any_wrench():
    assert _said("M-8", "wrench") == []
