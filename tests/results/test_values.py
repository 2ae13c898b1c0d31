"""Words that a person wrote in a box, in; the number, the day or the time of day, or none, out."""

from __future__ import annotations

from datetime import date

import pytest

from generator.results.entries import Entry, entry_of, unreadable
from generator.results.form import Field, Form
from generator.results.values import day_of, is_clock, number_in
from tests.results.judging import T


@pytest.mark.parametrize(
    ("text", "number"),
    [("1.5", 1.5), ("−1.5", -1.5), ("-0.25", -0.25), ("12", 12.0), ("1.5.2", None), ("", None),
     ("1e3", None), ("nan", None), ("1 000", None), ("\u0663.\u0665", None), ("\uff15", None),
     ("5\u00b2", None), ("\u00b2", None), ("1_0", None), (".5", 0.5), ("+2", 2.0)],
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
