"""Sheets that are filled in only when something happens, in; a notice that nobody lifted and a slip
without its number, out. What is wanted is read off the sheets' own words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

import pytest

from generator.process import Stamp
from generator.results.case import Case
from generator.results.entries import entry_of
from generator.results.form import Field, Form, Key
from generator.results.judge_papers import notices, slips
from tests.results.judging import BEGAN, BOOKS, signed

STOP, SLIPS = "stop-work-notice", "slips"
LIFTED, SEEN, REASON = "lifted, work goes on", "seen before it was lifted", "on this notice"
WHY = "which box does not apply, and the reason"


def box(sheet: str, row: str, name: str, kind: str = "words") -> Field:
    return Field(sheet, "", row, name, kind, (name,), may_be_empty=True)


FORM = Form(
    (
        *(box(STOP, "stopped", n) for n in ("notice no.", "after operation", "slip no.")),
        box(STOP, "said", "why"),
        *(box(STOP, r, n, n) for r in ("stopped by", LIFTED, SEEN) for n in ("stamp", "date")),
        *(box(STOP, REASON, n, k) for n, k in ((WHY, "words"), ("date", "date"), ("stamp", "stamp"))),
        box(STOP, "kept", "notice no."),
        box(STOP, "kept", "date", "date"),
        *(box(SLIPS, "found", n) for n in ("slip no.", "where on the part")),
        box(SLIPS, "measured", "what it is"),
        box(SLIPS, "raised by", "date", "date"),
        box(SLIPS, "decided, one only", "use as is", "tick"),
        box(SLIPS, "decided, one only", "slip no."),
        box(SLIPS, "allowed by", "stamp", "stamp"),
        box(SLIPS, "on either slip", WHY),
    ),
    (),
    (),
)  # fmt: skip


LEAD = {"LQ1": Stamp("LQ1", "lead", BEGAN, None)}
WITH_A_LEAD = replace(BOOKS, stamps={**BOOKS.stamps, **LEAD})


def told(sheet: str, words: dict[tuple[str, str], str]) -> list[tuple[str, str, bool]]:
    entries = {(sheet, "", *place): entry_of(word) for place, word in words.items()}
    case = Case(FORM, entries, WITH_A_LEAD)
    return [(v.code, v.row, v.blocks) for v in (*notices(case), *slips(case))]


BY, DAY = ("stopped by", "stamp"), ("stopped by", "date")
LIFT = {(LIFTED, "stamp"): "LQ1", (LIFTED, "date"): "2026-11-24"}
LOOK = {(SEEN, "stamp"): "INS2", (SEEN, "date"): "2026-11-24"}
LATE = ("stopped", f"{LIFTED}: date", True)
EARLY = ("stopped", f"{SEEN}: date", True)
NOT_LIFTED, NOT_SEEN = ("stopped", f"{LIFTED}: stamp", True), ("stopped", f"{SEEN}: stamp", True)


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ({}, []),
        ({BY: "LQ14", DAY: "2026-11-24"}, [NOT_LIFTED, NOT_SEEN]),
        ({("said", "why"): "crack seen"}, [NOT_LIFTED, NOT_SEEN]),
        ({("kept", "notice no."): "1"}, [NOT_LIFTED, NOT_SEEN]),
        ({("said", "why"): "unreadable"}, [NOT_LIFTED, NOT_SEEN]),
        ({("said", "why"): "N/A: never stopped"}, []),
        ({BY: "LQ14", **LOOK}, [NOT_LIFTED]),
        ({BY: "LQ14", **LIFT}, [NOT_SEEN]),
        ({BY: "LQ14", **LIFT, **LOOK}, []),
        (
            {BY: "LQ14", **LIFT, (REASON, WHY): "seen before it was lifted: no inspector came",
             (REASON, "date"): "2026-11-24", (REASON, "stamp"): "LQ1"}, [],
        ),
        (
            {BY: "LQ14", **LIFT, (REASON, WHY): "seen before it was lifted: no inspector came",
             (REASON, "date"): "2026-11-24", (REASON, "stamp"): "LQ14"}, [NOT_SEEN],
        ),
        ({BY: "LQ14", DAY: "2026-11-25", **LIFT, **LOOK}, [LATE]),
        ({BY: "LQ14", **LIFT, **LOOK, (SEEN, "date"): "2026-11-25"}, [LATE]),
        ({BY: "LQ14", DAY: "2026-11-20", **LIFT, **LOOK}, []),
        # Who saw the part before it was stopped did not see what it was stopped for.
        ({BY: "LQ14", DAY: "2026-11-23", **LIFT, **LOOK, (SEEN, "date"): "2026-11-22"}, [EARLY]),
        ({BY: "LQ14", DAY: "2026-11-23", **LOOK, (SEEN, "date"): "2026-11-22"},
         [EARLY, NOT_LIFTED]),
        ({BY: "LQ14", DAY: "2026-11-23", **LIFT, **LOOK, (SEEN, "date"): "2026-11-23"}, []),
        ({("kept", "date"): "2026-11-25", **LIFT, **LOOK}, [LATE]),
        ({BY: "LQ14", **LIFT, (REASON, WHY): "seen before it was lifted"}, [NOT_SEEN]),
    ],
)  # fmt: skip
def test_a_stop_work_notice_hangs_until_it_is_lifted(words, wanted):
    assert told(STOP, words) == wanted


@pytest.mark.parametrize(
    ("day", "wrong"),
    [("2026-11-20", False), ("2026-11-21", True), ("2026-11-23", True), ("2026-11-24", False)],
)
def test_nobody_works_while_a_notice_hangs(day, wrong):
    says = f"signed {day}, while the work was stopped: 2026-11-20 to 2026-11-24: a slip is needed"
    case = stopped(BY[0], day)
    assert [v.says for v in notices(case)] == ([says] if wrong else [])
    again = replace(case, books=replace(WITH_A_LEAD, done_again={"10"}))
    assert not any(v.blocks for v in notices(again))


DONE = signed("10", "sign done", "volunteer", "done by volunteer")
STOPPED_ON = "2026-11-20"


def stopped(row: str, day: str, *more: Field, by: Mapping[Key, str] = MappingProxyType({})) -> Case:
    """A part that was stopped by a row of the notice until 24 November, and work of a day."""
    notice = {(row, "date"): STOPPED_ON, **LIFT, **LOOK}
    words = {(STOP, "", *k): w for k, w in notice.items()}
    words |= {DONE[0].key: "LQ14", DONE[1].key: day, **by}
    form = Form((*FORM.fields, *DONE, *more), ("10",), ())
    return Case(form, {k: entry_of(w) for k, w in words.items()}, WITH_A_LEAD)


@pytest.mark.parametrize("row", ["stopped by", "kept"])
def test_the_stub_alone_tells_when_the_work_was_stopped(row):
    assert [v.row for v in notices(stopped(row, "2026-11-22"))] == [f"sign done: {DONE[1].name}"]


def test_work_that_its_record_has_on_a_day_of_the_notice_is_told():
    """Once a day of an operation, however many boxes have it."""
    record = [Field("heat-treatment-record", "10", row, n, n, (n,)) for n in ("stamp", "date")
              for row in ("as it happened", "it cooled", "it aged")]  # fmt: skip
    days = ("2026-11-22", "2026-11-22", "2026-11-23")
    by = dict(zip((f.key for f in record if f.kind == "date"), days, strict=True))
    found = list(notices(stopped("stopped by", "2026-11-26", *record, by=by)))
    on = "on the heat treatment record"
    assert [(v.row, v.says.partition(", ")[0]) for v in found] == [
        ("as it happened: date", f"signed 2026-11-22 {on}"),
        ("it aged: date", f"signed 2026-11-23 {on}"),
    ]


@pytest.mark.parametrize("side", ["before", "later"])
def test_nobody_works_on_another_sheet_while_a_notice_hangs(side):
    """A rework sheet has no notice of its own."""
    again = signed("10R1", "sign done", "volunteer", "done by volunteer")
    words = {again[0].key: entry_of("LQ14"), again[1].key: entry_of("2026-11-22")}
    own = Case(Form(tuple(again), ("10R1",), ()), words, WITH_A_LEAD)
    case = replace(own, **{side: (stopped("stopped by", "2026-11-19"),)})
    assert [(v.operation, v.blocks) for v in notices(case)] == [("10R1", True)]
    assert not list(notices(own))


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ({}, []),
        ({("on either slip", WHY): "none was raised"}, []),
        ({("found", "where on the part"): "bend"}, ["found: slip no."]),
        ({("measured", "what it is"): "crack"}, ["found: slip no."]),
        ({("raised by", "date"): "2026-11-24"}, ["found: slip no."]),
        ({("measured", "what it is"): "crack", ("found", "slip no."): "NC-A-0001"}, []),
        ({("decided, one only", "use as is"): "x"}, ["decided, one only: slip no."]),
        ({("allowed by", "stamp"): "INS2"}, ["decided, one only: slip no."]),
        ({("allowed by", "stamp"): "INS2", ("decided, one only", "slip no."): "NC-A-0001"}, []),
        ({("found", "slip no."): "NC-A-0001"}, []),
    ],
)
def test_a_slip_that_is_filled_in_has_its_number(words, wanted):
    assert told(SLIPS, words) == [("slip", row, True) for row in wanted]
