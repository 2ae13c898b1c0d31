"""Clocks whose sums are wrong on paper, or not written, in; what is beyond the sum as it is worked
out, out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from generator.results.entries import entry_of
from generator.results.form import Form
from generator.results.judge import judged
from tests.results.judging import BOOKS, T
from tests.results.test_judge_clocks import AGED, DAYS, END, FIELDS, LAST, OUT, TIMES, told

END_OF = "earliest end"


def test_a_sum_that_is_wrong_on_paper_hides_no_missed_window():
    """10:00 and 20 min are 10:20; written as 10:30, the work of 10:25 is in time by the paper."""
    wrong = {**TIMES, (T, "50", END, "to"): "10:30"}
    assert told(wrong) == ["out: the window ends: to"]
    missed = {**wrong, (T, "60", LAST, ""): "10:25"}
    assert told(missed) == ["out: the window ends: to", "out: target reached"]
    own = Form(FIELDS, ("50", "60"), ())
    entries = {key: entry_of(word) for key, word in missed.items()}
    says = [v.says.partition(":")[2] for v in judged(own, entries, BOOKS) if v.row == LAST]
    assert says == ["25 is after the window ends, operation 50, worked out as 2026-11-03 10:20: "
                    "a slip is needed"]  # fmt: skip
    # A sum that nobody wrote, or that is written off, holds as it is worked out.
    empty = {**missed, (T, "50", END, "to"): ""}
    assert told(empty) == ["out: target reached"]


def test_a_sum_of_half_a_minute_may_be_written_either_way():
    fields = [replace(f, added="90 s") if f.added else f for f in FIELDS]
    for written, last, wanted in (
        ("10:01", "10:01", []), ("10:02", "10:02", []), ("10:03", "10:02", ["out: " + END + ": to"]),
        ("10:03", "10:03", ["out: the window ends: to", "out: target reached"]),
    ):  # fmt: skip
        words = {**TIMES, (T, "50", END, "to"): written, (T, "60", LAST, ""): last}
        words[T, "60", "bolts torqued", ""] = "10:01"
        assert told(words, fields) == wanted


def test_a_sum_past_midnight_is_worked_out_past_midnight():
    words = {**TIMES, (T, "50", OUT, ""): "23:50", (T, "50", END, "from"): "23:50",
             (T, "50", END, "to"): "00:30", (T, "60", "sign done", "date"): "2026-11-04",
             (T, "60", "bolts torqued", ""): "00:01", (T, "60", LAST, ""): "00:10"}  # fmt: skip
    assert told(words) == ["out: the window ends: to"]
    late = {**words, (T, "60", LAST, ""): "00:11"}
    assert told(late) == ["out: the window ends: to", "out: target reached"]


def test_a_wait_that_is_added_up_too_short_on_paper_is_not_over():
    """96 h from the 3rd are the 7th; the sum has the 6th, and the work of the 6th waited for it."""
    short = {**DAYS, (T, "70", "earliest end", "to day"): "2026-11-06"}
    assert told(short, AGED) == ["out: earliest end: to"]
    early = {**short, (T, "80", "sign done", "date"): "2026-11-06"}
    assert told(early, AGED) == ["out: earliest end: to", "out: tested"]


def test_a_sum_beyond_all_calendars_is_none_and_what_it_counts_from_is_told():
    """96 h from the last day of the year 9999 are no day that can be written."""
    far = {**DAYS, (T, "70", OUT, "day"): "9999-12-31", (T, "70", END_OF, "from day"): "9999-12-31"}
    books = replace(BOOKS, until=date(2026, 11, 30))
    assert told(far, AGED, books=books) == [f"out: {END_OF}: to", f"out: {OUT}: time"]
    early = {key: "0001-01-01" if day == "9999-12-31" else day for key, day in far.items()}
    books = replace(books, begun=date(2026, 11, 1))
    assert told(early, AGED, books=books) == [f"out: {END_OF}: to", f"out: {OUT}: time"]


def test_a_sum_past_midnight_of_the_last_of_all_days_is_none():
    last = {**TIMES, (T, "50", OUT, ""): "23:50", (T, "50", END, "from"): "23:50",
            (T, "50", "sign done", "date"): "9999-12-31"}  # fmt: skip
    books = replace(BOOKS, until=date(2026, 11, 30))
    assert told(last, books=books)[0] == "day: sign done: date"
