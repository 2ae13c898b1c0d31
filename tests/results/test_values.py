"""Words that a person wrote in a box, in; the number, the day or the time of day, or none, out."""

from __future__ import annotations

from datetime import date

import pytest

from generator.results.entries import Entry, entries_in, entry_of, unreadable
from generator.results.form import Field, Form
from generator.results.values import day_of, is_clock, number_in
from generator.signs import things_in
from tests.results.judging import FORM, T

MOST = "at most 1000 signs: more stands on the paper alone, or on a scan of it"


@pytest.mark.parametrize(
    ("text", "number"),
    [("1.5", 1.5), ("−1.5", -1.5), ("-0.25", -0.25), ("12", 12.0), ("1.5.2", None), ("", None),
     ("1e3", None), ("nan", None), ("1 000", None), ("\u0663.\u0665", None), ("\uff15", None),
     ("5\u00b2", None), ("\u00b2", None), ("1_0", None), (".5", 0.5), ("+2", 2.0),
     ("+-2", None), ("+", None), ("9" * 12, 999999999999.0), ("9" * 13, None), ("9" * 400, None),
     ("9" * 5_000, None), ("0" * 400 + "1", 1.0), ("0." + "9" * 400, 1.0)],
)  # fmt: skip
def test_numbers_are_read_as_they_are_written_or_not_at_all(text, number):
    assert number_in(text) == number


@pytest.mark.parametrize(
    ("text", "told"),
    [("14:05", True), ("9:00", True), ("23:59", True), ("24:00", False), ("12:60", False),
     ("\u00b2:00", False), ("1\u00b2:00", False), ("12:0\u00b2", False), ("\u0661\u0662:00", False),
     ("12", False), (":00", False), ("12:", False), ("1" * 5_000 + ":00", False)],
)  # fmt: skip
def test_a_time_of_day_is_read_as_it_is_written_or_not_at_all(text, told):
    assert is_clock(text) is told


def test_a_clock_that_is_none_is_a_finding():
    clock = Field(T, "10", "start", "", "clock", ("start",))
    tree = {T: {"10": {"start": "\u00b2:00"}}}
    (fault,) = unreadable(tree, Form((clock,), (), (), ()), {clock.key: entry_of("\u00b2:00")})
    assert (fault.wrong, fault.right) == (
        "'\u00b2:00' does not fit the box start",
        "a time such as 14:05",
    )


def test_days_are_read_in_two_ways_and_no_other():
    assert day_of("26 NOV 2026") == day_of("2026-11-26") == date(2026, 11, 26)
    assert day_of("26.11.2026") is None
    assert day_of("31 NOV 2026") is None


def test_words_of_a_box():
    assert entry_of(" 0.6 ") == Entry("0.6", "written")
    assert entry_of("N/A: no bay") == Entry("", "not applicable", why="no bay")
    assert entry_of("late: 0.6, written 05 NOV 2026").written == "05 NOV 2026"


@pytest.mark.parametrize(
    ("kind", "word", "wrong", "right"),
    [
        ("number", "9" * 13, f"'{'9' * 13}' does not fit the box gap",
         "a number alone, its unit is mm, at most 12 digits before the point"),
        ("words", "9" * 5_000, "5000 signs in the box gap", MOST),
        ("words", "N/A: " + "x" * 1_001, "1001 signs in the box gap", MOST),
        ("date", "late: 2026-11-26, written " + "x" * 1_001, "1001 signs in the box gap", MOST),
    ],
)  # fmt: skip
def test_what_is_too_long_for_any_box_is_a_finding(kind, word, wrong, right):
    box = Field(T, "10", "gap", "", kind, ("gap, mm",), unit="mm" if kind == "number" else "")
    (fault,) = unreadable(
        {T: {"10": {"gap": word}}}, Form((box,), (), ()), {box.key: entry_of(word)}
    )
    assert (fault.steps, fault.wrong, fault.right) == (("boxes", T, "10", "gap"), wrong, right)


def test_a_box_takes_a_long_sentence():
    box = Field(T, "10", "reason", "", "words", ("reason",))
    told = entry_of("x" * 1_000)
    assert (
        unreadable({T: {"10": {"reason": told.text}}}, Form((box,), (), ()), {box.key: told}) == []
    )


@pytest.mark.parametrize(
    ("text", "things"),
    [("B-1", ["B-1"]), ("B-1, B-2", ["B-1", "B-2"]), ("B-1 and", ["B-1 and"]), ("B-1,", ["B-1"]),
     ("RC/22", ["RC/22"]), ("a / b", ["a", "b"]), ("", []), (" ", []),
     # A sign alone is no thing that anybody has: it is looked up as it stands, and not found.
     ("&", ["&"]), ("+", ["+"]), (",", [","]), (" ; ", [";"]), ("&;", ["&;"]), ("x and &", ["x"])],
)  # fmt: skip
def test_what_stands_in_one_box_is_one_thing_or_several(text, things):
    assert things_in(text) == things


@pytest.mark.parametrize("word", ["left blank", " left blank ", "N/A: none", "unreadable", ""])
def test_one_word_that_is_no_value_is_that_of_every_box_in_a_row(word):
    found, faults = entries_in({"kit-list": {"sheet": {"1 bolt": word}}}, FORM)
    assert not faults
    assert found == {f.key: entry_of(word) for f in FORM.fields if f.row == "1 bolt"}
    assert len(found) == 4


@pytest.mark.parametrize(
    ("row", "words", "wrong", "right"),
    [
        ("gap", ["1", "2", "3"], "3 words for 1 box", '1 word, such as "" for a box left blank'),
        ("clean", [], "0 words for 1 box", '1 word, such as "" for a box left blank'),
        ("pins", ["x"], "1 word for 2 boxes", '2 words, such as "" for a box left blank'),
        ("pins", "INS2", "one word for 4 boxes", "one for each of: 1: inspector stamp, 1: inspector "
         "date, 2: independent inspector stamp, 2: independent inspector date"),
    ],
)  # fmt: skip
def test_words_and_boxes_are_counted_as_people_count(row, words, wrong, right):
    operation = "40" if row == "pins" else "10"
    found, (fault,) = entries_in({T: {operation: {row: words}}}, FORM)
    assert (found, fault.wrong, fault.right) == ({}, wrong, right)
