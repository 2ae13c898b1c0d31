"""What went out on an order and came back, in; fewer than were sent, and days that cannot be, out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

import pytest

from generator.results.case import Books
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.judge import judged
from tests.compose.sheets import file_of
from tests.results.judging import BOOKS
from tests.results.test_judge_clocks import entered

filled = cache(entered)
ORDER = "subcontract-order"
WHEN = replace(BOOKS, begun=date(2026, 11, 1), until=date(2026, 11, 30))


def told(written: dict[str, str], books: Books = WHEN, number: str = "T6-P-0110") -> list[str]:
    """What is said of the order, filled in well but for boxes by their meaning: of the part alone
    where a coupon goes with it."""
    own, entries = filled(file_of(number))
    words = dict(entries)
    order = [f for f in own.fields if f.sheet == ORDER and not f.row.startswith("coupon")]
    for each in order:
        if word := written.get(each.boxes[0]):
            words[each.key] = entry_of(word)
    fields = [f for f in own.fields if f.sheet == ORDER and f.kind != "stamp"]
    found = judged(Form(tuple(fields), own.operations, ()), words, books)
    return [f"{v.code}: {v.says}" for v in found if v.blocks and v.code != "missing"]


@pytest.mark.parametrize("number", ["T6-P-0110", "T6-P-0410"])
def test_as_many_come_back_as_were_sent(number):
    """With a coupon, sent and returned stand in rows that are there again; without, in one."""
    assert told({}, number=number) == []
    assert told({"count sent": "4", "count returned": "4"}, number=number) == []
    assert told({"count sent": "4", "count returned": "3"}, number=number) == [
        "count: 3 returned of 4 sent: a slip is needed, its number in the row"
    ]
    assert len(told({"count sent": "4", "count returned": "5"}, number=number)) == 1
    named = {"count sent": "4", "count returned": "3", "slip no.": "S-1"}
    assert told(named, number=number) == []


@pytest.mark.parametrize("box", ["count sent", "count returned"])
def test_a_count_is_a_figure(box):
    assert told({box: "some"}) == ["number: 'some' is no number"]


@pytest.mark.parametrize(
    ("sent", "back", "wanted"),
    [
        ("2026-11-05", "2026-11-05", []),
        ("2026-11-06", "2026-11-05",
         ["count: 2026-11-05 is before it was sent, 2026-11-06: a slip is needed, its number in the "
          "row"]),
        ("2026-11-06", "2027-11-05",
         ["count: 2027-11-05 is after the day of entering, 2026-11-30: a slip is needed, its number "
          "in the row"]),
        ("2026-11-06", "later", ["day: 'later' is no day such as 26 NOV 2026"]),
    ],
)  # fmt: skip
def test_what_was_sent_comes_back_later(sent, back, wanted):
    assert told({"sent on": sent, "returned on": back}) == wanted


def test_the_day_of_sending_is_one_of_the_work_and_the_day_that_is_wished_for_is_none():
    own, _ = filled(file_of("T6-P-0110"))
    days = {f.boxes[0]: f for f in own.fields if f.sheet == ORDER and f.kind == "date"}
    assert own.is_done_on(days["sent on"]) and not own.is_done_on(days["wanted back on"])
    stamp = Field(*days["sent on"].key[:3], "sent by", "stamp", ("sent by",))
    form = Form((days["sent on"], days["wanted back on"], stamp), (), ())
    words = {days["sent on"].key: "2026-10-05", days["wanted back on"].key: "2027-02-01",
             stamp.key: "LQ14"}  # fmt: skip
    found = judged(form, {k: entry_of(word) for k, word in words.items()}, WHEN)
    # A wish beyond the day of entering is none; LQ14 holds no longer in 2027, but signed in 2026.
    assert [v.says for v in found] == ["2026-10-05 is before the issue of 2026-11-01"]


def test_each_of_two_orders_has_its_own_return():
    def order(number: str, again: str) -> list[Field]:
        row = (ORDER, "", f"operation {number}")
        thing = (ORDER, "", f"part X{again}")
        return [
            Field(*row, "sent on", "date", ("sent on",)),
            Field(*thing, "count sent", "number", ("count sent",)),
            Field(*thing, "count returned", "number", ("count returned",)),
        ]

    fields = [*order("20", ""), *order("40", " (2)")]
    for counts, wanted in (
        ("1122", []),
        ("2211", []),
        ("1222", ["part X"]),
        ("1121", ["part X (2)"]),
    ):
        words = dict(zip((f.key for f in fields if f.kind == "number"), counts, strict=True))
        found = judged(
            Form(tuple(fields), (), ()), {k: entry_of(w) for k, w in words.items()}, WHEN
        )
        assert [v.row.partition(":")[0] for v in found if v.code == "count"] == wanted
    words = dict(zip((f.key for f in fields if f.kind == "number"), "1121", strict=True))
    again = replace(WHEN, done_again={"40"})
    found = judged(Form(tuple(fields), (), ()), {k: entry_of(w) for k, w in words.items()}, again)
    assert not [v for v in found if v.code == "count" and v.blocks]


@pytest.mark.parametrize(
    ("sent", "back", "wrong"),
    [
        ("2026-11-01", "2026-11-01", ""),
        ("2026-10-28", "2026-11-20", ""),
        ("2026-11-02", "2026-11-20", "is before it was sent, 2026-11-02"),
        ("2026-10-20", "2026-10-31", "is after it came back, 2026-10-31"),
        ("", "", ""),
    ],
)
def test_a_part_is_treated_while_it_is_there(sent, back, wrong):
    """The clocks of the record are of 1 NOV; an older record is that of another charge."""
    own, entries = filled(file_of("T6-P-0110"))
    days = {"sent on": sent, "returned on": back}
    words = {f.key: days[f.boxes[0]] for f in own.fields
             if f.sheet == ORDER and f.boxes[0] in days}  # fmt: skip
    entries = {**entries, **{k: entry_of(w) for k, w in words.items()}}
    books = replace(BOOKS, begun=date(2026, 10, 1), until=date(2026, 11, 30))
    found = [
        v for v in judged(own, entries, books) if "it was sent" in v.says or "came back" in v.says
    ]
    says = f"2026-11-01 10:00 {wrong}: a slip is needed"
    assert [(v.where, v.says) for v in found] == (
        [("heat treatment record, load at temperature: soak starts: time", says)] if wrong else []
    )
    again = replace(books, done_again={"130"})
    assert not any(
        v.blocks for v in judged(own, entries, again) if v in found or "came back" in v.says
    )
