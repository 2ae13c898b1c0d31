"""A fit record with what stands there, in; lines whose part, place or number is another than the
record has, out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.results.case import Case
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.judge_fit import POSITION, SERIAL, fits
from tests.results.judging import BOOKS

LINES = [Field("fit-record", "", row, name, "words", (name,)) for row in ("1", "2")
         for name in (SERIAL, POSITION)]  # fmt: skip
ONE, TWO = "frame 1", "frame 2"
LACKS = f"part 0002 is recorded at {TWO}, and no line has it"


def told(*words: str, sits: tuple[str, ...] = (ONE, TWO), meant: str = "") -> list[str]:
    """words: serial and place of the first line, then of the second. sits: where 0001 and 0002 are
    by the record, "" for nowhere. meant: the place that the process names."""
    parts = ("0001", "0002")
    fitted = {part: place for part, place in zip(parts, sits, strict=True) if place}
    books = replace(BOOKS, parts=parts, part="6-120", fitted=fitted, place=meant)
    entries = {f.key: entry_of(word) for f, word in zip(LINES, words, strict=True) if word}
    found = list(fits(Case(Form(tuple(LINES), (), ()), entries, books)))
    assert not any(each.blocks for each in found)
    return [f"{v.row}: {v.says}" for v in found if v.code == "fit"]


@pytest.mark.parametrize("first", ["0001", "1", "6-120-0001", "6-120 0001"])
@pytest.mark.parametrize("place", [ONE, TWO])
def test_a_part_is_at_its_place_however_its_serial_is_written(first, place):
    wrong = f"1: {POSITION}: {TWO}, and part 0001 is recorded at {ONE}"
    assert told(first, place, "0002", TWO) == [wrong] * (place == TWO)


def test_two_lines_are_of_two_parts():
    found = told("0001", ONE, "1", ONE)
    again = f"2: {SERIAL}: part 0001 stands in line 1 too: read both again"
    assert found == [again, f"1: {SERIAL}: {LACKS}"]


@pytest.mark.parametrize(
    ("second", "sits", "wanted"),
    [
        (("", ""), (ONE, TWO), [f"1: {SERIAL}: {LACKS}"]),
        (("", ""), (ONE, ""), []),  # it is not fitted yet
        (("0002", TWO), (ONE, TWO), []),
        (("0077", TWO), (ONE, TWO), []),  # it is told as the serial of none
        (("", TWO), (ONE, TWO), []),  # it is told as an empty box
    ],
)
def test_every_part_that_is_fitted_has_a_line(second, sits, wanted):
    assert told("0001", ONE, *second, sits=sits) == wanted


@pytest.mark.parametrize(
    ("sits", "wanted"), [(("", TWO), True), (("stern", TWO), True), ((ONE, TWO), False)]
)
def test_a_place_that_is_none_of_the_process_is_told_until_the_record_has_it(sits, wanted):
    """Who recorded the part there was told then, and nothing would take it away."""
    says = f"1: {POSITION}: {ONE}, and the process says {TWO}"
    assert (says in told("0001", ONE, "0002", TWO, sits=sits, meant=TWO)) == wanted
