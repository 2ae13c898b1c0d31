"""Sheets that are filled in only when something happens, in; a notice that nobody lifted and a slip
without its number, out. What is wanted is read off the sheets' own words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.process import Stamp
from generator.results.case import Case
from generator.results.entries import entry_of
from generator.results.form import Field, Form
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
    done = signed("10", "sign done", "volunteer", "done by volunteer")
    words = {(STOP, "", *k): w for k, w in {BY: "LQ14", DAY: "2026-11-20", **LIFT, **LOOK}.items()}
    words |= {done[0].key: "LQ14", done[1].key: day}
    form = Form((*FORM.fields, *done), ("10",), ())
    case = Case(form, {k: entry_of(w) for k, w in words.items()}, WITH_A_LEAD)
    says = f"signed {day}, while the work was stopped: 2026-11-20 to 2026-11-24: a slip is needed"
    assert [v.says for v in notices(case)] == ([says] if wrong else [])
    again = replace(case, books=replace(WITH_A_LEAD, done_again={"10"}))
    assert not any(v.blocks for v in notices(again))


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
