"""Operations with the days on which they were signed, in; those that were signed before the one
that goes before them, out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.form_says import Stop
from generator.results.judge import judged
from tests.results.judging import BOOKS, T, signed


def _told(days: dict[str, str], again=(), slip: str = "", stops=(), fields=()) -> dict[str, str]:
    """Operation -> what is said of its day. slip: the operation beside which a slip is named."""
    of = [f for n in days for f in signed(n, "sign done", "volunteer", "done by volunteer")]
    number = [Field(T, slip, "sign done", "slip no.", "words", ("slip no.",), may_be_empty=True)]
    form = Form((*of, *number, *fields), tuple(days), tuple(stops))
    words = {f.key: "LQ12" for f in of if f.kind == "stamp"}
    words |= {f.key: days[f.operation] for f in of if f.kind == "date"}
    words |= {number[0].key: "NC-A-0001"} if slip else {}
    entries = {key: entry_of(word) for key, word in words.items()}
    found = judged(form, entries, replace(BOOKS, done_again={*again}))
    assert not any(each.blocks for each in found if each.code == "order")
    return {each.operation: each.says for each in found if each.code == "order"}


def test_operations_that_were_signed_in_reverse_are_told_where_each_step_back_is():
    days = {"10": "2026-11-28", "20": "2026-11-27", "30": "2026-11-27", "40": "2026-11-26"}
    more = "correct the wrong day, or name the slip that says why"
    assert _told(days) == {
        "20": f"signed 2026-11-27, and operation 10 before it 2026-11-28: {more}",
        "40": f"signed 2026-11-26, and operation 30 before it 2026-11-27: {more}",
    }


@pytest.mark.parametrize(
    "days",
    [
        {"10": "2026-11-26", "20": "2026-11-26", "30": "2026-11-28"},
        {"10": "2026-11-28", "20": "", "30": "2026-11-28"},
        {"10": "2026-11-28", "20": "N/A", "30": "2026-11-29"},
    ],
)
def test_days_that_go_on_say_nothing(days):
    assert _told(days) == {}


def test_what_is_not_signed_hides_no_step_back():
    assert [*_told({"10": "2026-11-28", "20": "", "30": "2026-11-27"})] == ["30"]


def test_an_operation_that_is_done_again_says_nothing_of_the_order():
    days = {"10": "2026-11-28", "20": "2026-11-27", "30": "2026-11-29"}
    assert _told(days, again=["20"]) == {}
    assert _told(days, again=["10"]) == {}
    assert [*_told({"10": "2026-11-28", "20": "2026-11-20", "30": "2026-11-27"}, ["20"])] == ["30"]


def test_a_slip_that_is_named_beside_either_signature_says_why():
    days = {"10": "2026-11-28", "20": "2026-11-27"}
    assert _told(days, slip="20") == {}
    assert _told(days, slip="10") == {}
    assert [*_told({**days, "30": "2026-11-20"}, slip="10")] == ["30"]


def test_the_wrong_side_of_a_hold_is_told_by_the_hold_alone():
    days = {"10": "2026-11-28", "20": "2026-11-27"}
    for stop in (Stop("10", "hold", ()), Stop("20", "hold", ("10",))):
        assert _told(days, stops=[stop]) == {}
    # A hold that closes another operation says nothing of this one.
    assert [*_told(days, stops=[Stop("20", "hold", ())])] == ["20"]
    assert [*_told(days, stops=[Stop("10", "witness", ())])] == ["20"]


def test_who_looked_at_the_work_later_does_not_move_its_day():
    """Operation 10 was done on the 26th and looked at on the 28th."""
    seen = signed("10", "sign done", "inspector", "seen by inspector")
    seen = [replace(f, row="sign seen") for f in seen]
    days = {"10": "2026-11-26", "20": "2026-11-27"}
    assert _told(days, fields=seen) == {}
