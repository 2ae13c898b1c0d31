"""Sums whose end was written off, in; waits and windows that nobody can judge any more, out."""

from __future__ import annotations

from dataclasses import replace

from tests.results.judging import BOOKS, T
from tests.results.test_judge_clocks import AGED, DAYS, END, LAST, OUT, TIMES, told


def test_a_sum_whose_end_was_written_off_is_not_let_off():
    """As a time whose day was written off: a line is not enough where something began."""
    ends = {(T, "70", "earliest end", name): "N/A: not worked out" for name in ("to", "to day")}
    words = {**DAYS, **ends, (T, "80", "sign done", "date"): "2026-11-04"}
    lines = [f"reason: earliest end: {name}" for name in ("to day", "to")]
    assert told(words, AGED) == [*lines, "out: earliest end: from"]
    # Where also its begin is gone it counts from the time above, and one that is conceded is.
    first = {(T, "70", "earliest end", name): "N/A: lost" for name in ("from", "from day")}
    assert f"out: {OUT}: time" in told({**words, **first}, AGED)
    books = replace(BOOKS, conceded=[((T, "70", "earliest end", "from"), "2026-11-03 10:00")])
    assert told(words, AGED, books=books) == lines
    # Of a wait of which nothing is known, where it was signed; of another sum nothing.
    none = {(T, "70", OUT, name): "N/A: lost" for name in ("time", "day")}
    assert "out: sign done: date" in told({**words, **first, **none}, AGED)
    fields = [replace(f, waits=False) for f in AGED]
    assert not [v for v in told({**words, **first, **none}, fields) if v.startswith("out")]


def test_a_window_whose_end_was_written_off_is_not_let_off():
    ends = {(T, "50", END, "to"): "N/A: not worked out"}
    words = {**TIMES, **ends, (T, "60", LAST, ""): "10:50"}
    assert told(words) == [f"reason: {END}: to", f"out: {END}: from"]
    # Where nothing is known of it, at the time that must not be after it.
    gone = {(T, "50", END, "from"): "N/A: lost", (T, "50", OUT, ""): "N/A: lost"}
    assert [v for v in told({**words, **gone}) if v[:3] == "out"] == [f"out: {LAST}"]
