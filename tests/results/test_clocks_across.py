"""Clocks of a form that are read on another sheet or done again there, in; what is beyond a limit, in
words, out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from generator.results.entries import Entries, entry_of
from generator.results.form import Field, Form
from generator.results.judge import judged
from tests.results.judging import BOOKS, T
from tests.results.test_judge_clocks import (
    AGED,
    DAYS,
    FIELDS,
    LAST,
    NEXT,
    OUT,
    TIMES,
    clock,
    dated,
    signed,
    told,
)


def sheet(fields, words: dict, again: str = "") -> tuple[Form, Entries]:
    """A sheet with some fields, and what stands on it; again: R1 where they are done again."""
    operations = tuple(dict.fromkeys(f"{f.operation}{again}" for f in fields))
    entries = {(k[0], f"{k[1]}{again}", *k[2:]): entry_of(w) for k, w in words.items()}
    return Form(tuple(replace(f, operation=f"{f.operation}{again}") for f in fields),
                operations, ()), entries  # fmt: skip


def on_a_sheet(fields, words: dict, again: str = "", **more: object) -> list[str]:
    form, entries = sheet(fields, words, again)
    plain = {key: entry.text for key, entry in entries.items()}
    return told(plain, form.fields, **more)


def at(operation: str, of) -> list[Field]:
    return [f for f in of if f.operation == operation]


def moved(operation: str, words: dict, **to: str) -> dict:
    """The words of one operation with other ones in some of its rows, by the end of their name."""
    here = {k: w for k, w in words.items() if k[1] == operation}
    return {k: to.get(k[3].rpartition(" ")[2] or "time", w) for k, w in here.items()}


def test_work_on_a_rework_sheet_waits_for_the_end_of_a_wait_on_the_traveller():
    before = [sheet(AGED, DAYS)]
    again = at("80", AGED)
    right = moved("80", DAYS, date="2026-11-08")
    assert on_a_sheet(again, right, "R1", beside=before) == []
    early = moved("80", DAYS, time="09:00")
    assert on_a_sheet(again, early, "R1", beside=before) == ["out: tested"]
    # On the traveller it stands for what was done too early.
    books = replace(BOOKS, done_again=["80"])
    assert told({**DAYS, (T, "80", NEXT, ""): "09:00"}, AGED) == ["out: tested"]
    assert told({**DAYS, (T, "80", NEXT, ""): "09:00"}, AGED, books=books) == []


def test_a_wait_that_was_done_again_holds_for_what_was_done_behind_it():
    days = {"day": "2026-11-09", "date": "2026-11-13"}
    wait = moved("70", DAYS, **days) | {(T, "70", "earliest end", "to day"): "2026-11-13"}
    later = [sheet(at("70", AGED), wait, "R1")]
    assert on_a_sheet(at("70", AGED), wait, "R1", beside=[sheet(AGED, DAYS)]) == []
    # Done before it was done again, behind its end, and between the two.
    for day, wanted in (("08", []), ("13", []), ("12", ["out: tested"])):
        words = {**DAYS, (T, "80", "sign done", "date"): f"2026-11-{day}"}
        assert told(words, AGED, later=later) == wanted


def test_a_window_that_was_begun_again_holds_for_what_was_done_in_it():
    again = [sheet(at("50", FIELDS), moved("50", TIMES, date="2026-11-05"), "R1")]
    on = {(T, "60", "sign done", "date"): "2026-11-05"}
    assert told(TIMES, later=again) == []
    assert told({**TIMES, **on}, later=again) == []
    assert told({**TIMES, **on}) == ["out: target reached"]
    assert told({**TIMES, **on, (T, "60", LAST, ""): "10:21"}, later=again) == [
        "out: target reached"
    ]


def test_a_time_told_again_on_a_rework_sheet_is_that_of_the_latest_sheet():
    row = f"{OUT} (operation 50)"
    again = [clock(OUT), *signed("50"), *dated(row, "time", "60"), *signed("60")]
    words = {
        (T, "50", OUT, ""): "10:00", (T, "60", row, "day"): "2026-11-03",
        (T, "60", row, "time"): "10:00",
        (T, "50", "sign done", "stamp"): "LQ14", (T, "50", "sign done", "date"): "2026-11-03",
        (T, "60", "sign done", "stamp"): "LQ14", (T, "60", "sign done", "date"): "2026-11-03",
    }  # fmt: skip
    other = {**words, (T, "60", row, "day"): "2026-11-02"}
    wanted = [f"out: {row}: time"]
    assert on_a_sheet(again, words, "R1") == []
    assert on_a_sheet(again, other, "R1") == wanted
    before = [sheet(again, words)]
    assert on_a_sheet(at("60", again), moved("60", words), "R1", beside=before) == []
    assert on_a_sheet(at("60", again), moved("60", other), "R1", beside=before) == wanted


def test_a_wait_with_two_ends_goes_on_at_the_first_and_is_over_at_the_second():
    fields = [
        clock("applied"), clock("tacky", "from"), clock("tacky", "to", added="15 min", waits=True),
        clock("too dry", "from"), clock("too dry", "to", added="45 min", waits=True), *signed("50"),
        clock("joined", operation="60", not_before="tacky, operation 50",
              not_after="too dry, operation 50"), *signed("60"),
    ]  # fmt: skip
    words = {
        (T, "50", "applied", ""): "10:00",
        (T, "50", "tacky", "from"): "10:00", (T, "50", "tacky", "to"): "10:15",
        (T, "50", "too dry", "from"): "10:00", (T, "50", "too dry", "to"): "10:45",
        (T, "60", "joined", ""): "10:25", **{k: w for k, w in TIMES.items() if k[2] == "sign done"},
    }  # fmt: skip
    assert told(words, fields) == []
    for hour in ("10:10", "10:50"):
        assert set(told({**words, (T, "60", "joined", ""): hour}, fields)) == {"out: joined"}


def test_a_sum_without_a_column_names_the_slip_that_is_raised_and_its_end():
    fields = [replace(f, added_by="c9") if f.added else f for f in FIELDS]
    entries = {k: entry_of(w) for k, w in TIMES.items()}
    says = []
    for books in (
        BOOKS,
        replace(BOOKS, on_slip={"50": ("NC-A-0001", "waits for its decision")}),
        replace(BOOKS, done_again=["50"]),
    ):
        found = judged(Form(tuple(fields), ("50", "60"), ()), entries, books)
        (strip,) = [v for v in found if v.code == "strip"]
        says.append((strip.blocks, strip.slip, strip.says.partition("what is added")[2]))
    assert says == [
        (True, "", ": tick it, or a slip is needed"),
        (True, "NC-A-0001", ": NC-A-0001 waits for its decision"),
        (False, "", ", its slip is done with"),
    ]


@pytest.mark.parametrize(
    ("day", "wanted"),
    [
        ("2026-11-03", []),
        ("2026-10-03", ["out: glued: time"]),  # the month before: the glue would be long dry
        ("2026-12-04", ["out: glued: time"]),
    ],
)
def test_a_time_of_its_own_is_between_the_issue_and_the_entry(day, wanted):
    """The sum may end behind the day of the entry."""
    fields = [*dated("glued", "time", "50"), *dated("dry", "from", "50"),
              *dated("dry", "to", "50", added="30 d")]  # fmt: skip
    ends = (date.fromisoformat(day) + timedelta(days=30)).isoformat()
    words = dict(zip((f.key for f in fields), (day, "10:00") * 2 + (ends, "10:00"), strict=True))
    books = replace(BOOKS, begun=date(2026, 11, 1), until=date(2026, 12, 1))
    assert told(words, fields, books=books) == wanted
