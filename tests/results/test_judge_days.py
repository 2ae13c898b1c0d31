"""Days that say until when something holds, in; what no longer held when it was used, out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from generator.commands.slips import _lasts_for
from generator.composing.recorded import SOAK_STARTS
from generator.process import DAY_OF_USE
from generator.results.blank_form import blank_form
from generator.results.case import Books
from generator.results.entries import entry_of
from generator.results.form import Field, Form, Key
from generator.results.form_says import Stop
from generator.results.judge import judged
from tests.results.judging import BOOKS, DAY, DONE, FORM, SOUND, T

LIFE = (T, "10", "seal life", "")
SEAL = Field(T, "10", "seal life", "", "date", ("seal life",), lower=DAY_OF_USE)
UNBOUND = replace(SEAL, lower="")
HERE = replace(SEAL, used_in=("10",))  # its operation alone says that it uses it


def _said(changed: dict[Key, str], *more: Field, books: Books = BOOKS) -> list[tuple[str, str]]:
    form = Form((*FORM.fields, *more), FORM.operations, FORM.stops)
    entries = {key: entry_of(word) for key, word in {**SOUND, **changed}.items()}
    return [(each.code, each.says) for each in judged(form, entries, books)]


def test_a_date_that_is_a_reading_is_no_day_of_the_work():
    # Operation 10 is signed 2026-11-02, before its hold of 2026-11-03; G-101 is due 2026-11-30.
    assert _said({LIFE: "2028-06-01"}, UNBOUND) == []
    assert _said({LIFE: "2028-06-01"}, SEAL) == []


def test_a_life_that_ends_before_the_day_of_use_is_out_and_the_day_itself_is_in():
    assert _said({LIFE: "2026-11-02"}, HERE) == []
    assert _said({LIFE: "2025-06-01"}, UNBOUND) == []  # nobody said that it must hold
    says = "2025-06-01 is before the day of use, 2026-11-02: a slip is needed"
    assert _said({LIFE: "2025-06-01"}, SEAL) == [("out", says)]


def test_a_life_holds_for_all_work_behind_it_where_no_operation_says_that_it_uses_it():
    """Operations 10 to 40 are signed from the 2nd to the 4th."""
    behind = "2026-11-03 is before the last day of work behind it, 2026-11-04: a slip is needed"
    assert _said({LIFE: "2026-11-03"}, SEAL) == [("out", behind)]
    assert _said({LIFE: "2026-11-04"}, SEAL) == []
    assert _said({LIFE: "2026-11-02"}, replace(SEAL, used_in=("10",))) == []
    used = "2026-11-03 is before the day of use, 2026-11-04: a slip is needed"
    assert _said({LIFE: "2026-11-03"}, replace(SEAL, used_in=("40",))) == [("out", used)]
    assert _said({LIFE: "2026-11-03"}, replace(SEAL, used_in=("30",))) == []
    # What stands before it in the order of the work is not behind it, whenever it was signed.
    last = replace(SEAL, operation="40")
    assert _said({last.key: "2026-11-04", (T, "10", "sign done", DAY): "2026-11-05"}, last) == [
        ("overrun", "signed 2026-11-05, after hold 20 was released")
    ]


def _on_r1(field: Field, used: str, signed_on: str, own: str = "") -> list[str]:
    """A life on the traveller, and its operation done again on R1, with a batch of its own there or
    without."""
    day = Field(T, used, "sign done", DAY, "date", (DAY,))
    stamp = replace(day, name=DONE, kind="stamp")
    again = replace(field, sheet=T, operation=f"{field.operation}R1" if field.operation else "")
    fields = (day, stamp, *([again] if own else []))
    sheet = Form(fields, (used,), ())
    words = {day.key: signed_on, stamp.key: "LQ12", again.key: own}
    later = [(sheet, {key: entry_of(word) for key, word in words.items()})]
    form = Form((*FORM.fields, field, GIVEN, STORES), FORM.operations, FORM.stops)
    mine = {**SOUND, GIVEN.key: "2026-11-01", field.key: "2026-11-04"}
    found = judged(form, {key: entry_of(word) for key, word in mine.items()}, BOOKS, (), later)
    return [each.says.partition(":")[0] for each in found]


@pytest.mark.parametrize(
    ("which", "used", "wanted"),
    [
        ("glue", "30R1", "the day of use"),
        ("glue", "20R1", ""),  # an operation that does not use it
        ("life", "10R1", ""),  # the reading's own operation, which reads the life again
        ("life", "40R1", "the last day of work behind it"),
        ("nobody", "20R1", "the last day of work"),
    ],
)
def test_what_is_used_again_on_a_rework_sheet_must_still_hold(which, used, wanted):
    field = {"glue": replace(GLUE, used_in=("30",)), "life": SEAL, "nobody": GLUE}[which]
    says = [f"2026-11-04 is before {wanted}, 2026-12-20"] if wanted else []
    assert _on_r1(field, used, "2026-11-04") == []
    assert _on_r1(field, used, "2026-12-20") == says
    # A batch of its own there is another, and is judged there.
    assert _on_r1(field, used, "2026-12-20", own="2027-01-01") == []


def test_a_life_of_operations_that_are_done_again_is_not_judged_by_them():
    in_last = replace(GLUE, used_in=("40",))
    words = {**ISSUED, GLUE.key: "2026-11-03"}
    again = replace(BOOKS, done_again={"40"})
    assert len(_said(words, in_last, GIVEN, STORES)) == 1
    assert _said(words, in_last, GIVEN, STORES, books=again) == []
    assert _said({LIFE: "2026-11-03"}, SEAL, books=again) == []


def test_a_thing_that_nobody_names_is_judged_by_the_first_day_of_its_sheet():
    """Given out on the 1st and received on the 3rd: it was in use on the 1st, perhaps no more."""
    day = replace(GIVEN, row="kit received")
    stamp = replace(STORES, row="kit received")
    words = {**ISSUED, day.key: "2026-11-03", GLUE.key: "2026-11-02"}
    says = "2026-11-02 is before the last day of work, 2026-11-04: was it used after its day?"
    assert _said(words, GLUE, GIVEN, STORES, day, stamp) == [("until", says)]


def test_a_life_is_judged_by_the_issue_before_its_operation_is_signed():
    unsigned = {(T, "10", "sign done", DONE): "", (T, "10", "sign done", DAY): ""}
    begun = replace(BOOKS, begun=date(2026, 11, 1))
    outs = [code for code, _ in _said({**unsigned, LIFE: "2026-10-31"}, HERE, books=begun)]
    assert "out" in outs
    later = [code for code, _ in _said({**unsigned, LIFE: "2026-11-01"}, HERE, books=begun)]
    assert "out" not in later


def test_a_life_beyond_its_limit_can_be_conceded():
    conceded = replace(BOOKS, conceded=((LIFE, "2025-06-01"),))
    form = Form((*FORM.fields, SEAL), FORM.operations, FORM.stops)
    entries = {k: entry_of(w) for k, w in {**SOUND, LIFE: "2025-06-01"}.items()}
    assert [(each.code, each.blocks) for each in judged(form, entries, conceded)] == [
        ("out", False)
    ]


def test_a_life_is_not_left_out_without_the_line_that_gives_its_reason():
    says = "N/A, and no line of the sheet gives its reason with a stamp"
    for life in (SEAL, UNBOUND):
        assert _said({LIFE: "N/A: no label"}, life) == [("reason", says)]


def test_the_blank_form_says_what_the_date_must_hold():
    assert "# not before the day of use" in blank_form(Form((SEAL,), ("10",), ()), "A-0001")


GLUE = Field("kit-list", "", "1 resin glue", "use by", "date", ("use by",))
RIG = Field("tool-list", "", "1 test rig", "check due", "date", ("check due",))
GIVEN = Field("kit-list", "", "kit issued", "date", "date", ("kit issued date",))
STORES = replace(GIVEN, name="stamp", kind="stamp", may_be_empty=True)
ISSUED = {GIVEN.key: "2026-11-01"}  # operations 10 to 40 are signed from the 2nd to the 4th
LATE = "is before the last day of work, 2026-11-04: was it used after its day?"


def test_a_consumable_past_its_day_when_it_was_given_out_is_out():
    says = "2026-10-31 is before the day of use, 2026-11-01: a slip is needed"
    found = _said({**ISSUED, GLUE.key: "2026-10-31"}, GLUE, GIVEN, STORES)
    assert found == [("out", says)]


def test_a_consumable_that_ran_out_while_work_went_on_is_told_and_stops_nothing():
    form = Form((*FORM.fields, GLUE, GIVEN, STORES), FORM.operations, FORM.stops)
    words = {**SOUND, **ISSUED, GLUE.key: "2026-11-03"}
    (told,) = judged(form, {key: entry_of(word) for key, word in words.items()}, BOOKS)
    assert (told.code, told.says, told.blocks) == ("until", f"2026-11-03 {LATE}", False)


def test_a_consumable_is_judged_by_the_operations_that_name_it():
    in_first = replace(GLUE, used_in=("10",))  # signed on the 2nd
    assert _said({**ISSUED, GLUE.key: "2026-11-02"}, in_first, GIVEN, STORES) == []
    in_last = replace(GLUE, used_in=("10", "40"))
    says = "2026-11-03 is before the day of use, 2026-11-04: a slip is needed"
    found = _said({**ISSUED, GLUE.key: "2026-11-03"}, in_last, GIVEN, STORES)
    assert found == [("out", says)]


def test_a_tool_whose_check_was_due_before_it_was_used_is_out():
    day = replace(GIVEN, sheet="tool-list", row="tools accepted")
    stamp = replace(STORES, sheet="tool-list", row="tools accepted")
    words = {day.key: "2026-11-01", RIG.key: "2025-01-01"}
    says = "2025-01-01 is before the day of use, 2026-11-01: a slip is needed"
    assert _said(words, RIG, day, stamp) == [("out", says)]
    assert _said({**words, RIG.key: "2026-11-04"}, RIG, day, stamp) == []
    assert _said({**words, RIG.key: "N/A: no check"}, RIG, day, stamp) == []


def test_a_furnace_whose_check_was_due_before_the_treatment_is_out():
    """The furnace is used on the 2nd, and operations 10 to 40 are signed until the 4th."""
    heat = "heat-treatment-record"
    due = Field(heat, "", "charge", "its check due", "date", ("its check due",))
    day, stamp = (replace(f, sheet=heat, row="treated") for f in (GIVEN, STORES))
    words = {day.key: "2026-11-02"}
    assert _said({**words, due.key: "2026-11-02"}, due, day, stamp) == []
    says = "2026-11-01 is before the day of use, 2026-11-02: a slip is needed"
    assert _said({**words, due.key: "2026-11-01"}, due, day, stamp) == [("out", says)]
    # Its clocks say when it was; who signs may do so later.
    soak = [Field(heat, "", SOAK_STARTS, name, kind, (name,), unit="HH:MM") for name, kind in (
        ("time", "clock"), ("day", "date"))]  # fmt: skip
    soak += [replace(f, row="out of the cold store") for f in soak]  # days later, and no furnace
    words |= dict(zip((f.key for f in soak), ("10:00", "2026-11-01", "10:00", "2026-11-09"),
                      strict=True))  # fmt: skip
    assert _said({**words, due.key: "2026-11-01"}, due, day, stamp, *soak) == []
    found = _said({**words, due.key: "2026-10-31"}, due, day, stamp, *soak)
    says = "2026-10-31 is before the day of use, 2026-11-01: a slip is needed"
    assert found == [("out", says)]
    # On a rework sheet all of it stands at its operation, and work goes on behind it.
    again = [replace(f, sheet=T, operation="30") for f in (due, *soak[:2])]
    words = {again[1].key: "10:00", again[2].key: "2026-11-01"}
    assert _said({**words, again[0].key: "2026-11-01"}, *again) == []
    assert _said({**words, again[0].key: "2026-10-31"}, *again) == [("out", says)]


def test_a_concession_may_name_what_an_operation_uses_and_what_nobody_names():
    in_first = replace(GLUE, used_in=("10",))
    assert [_lasts_for(each, "10") for each in (SEAL, UNBOUND, GLUE, in_first)] == [
        True, False, True, True
    ]  # fmt: skip
    used_later = replace(SEAL, used_in=("40",))
    assert [_lasts_for(used_later, number) for number in ("10", "30", "40")] == [True, False, True]
    assert [_lasts_for(each, "40") for each in (SEAL, GLUE, in_first)] == [False, True, False]


NOTICE = Field(T, "60", "notice", "given on", "date", ("notice given on",))
CAME = Field(T, "60", "sign witness", "inspector stamp", "stamp", ("inspector stamp",))
CAME_ON = replace(CAME, name="inspector date", kind="date")
ALONE = replace(CAME, row="go on without", name="authority stamp")
ALONE_ON = replace(CAME_ON, row="go on without", name="authority date")


def _noticed(asked: str, given: str, came: bool, again: tuple[str, ...] = ()):
    stamp, day = (CAME, CAME_ON) if came else (ALONE, ALONE_ON)
    fields = (NOTICE, CAME, CAME_ON, ALONE, ALONE_ON)
    form = Form(fields, ("60",), (Stop("60", "witness", (), asked),))
    words = {NOTICE.key: given, stamp.key: "INS2", day.key: "2026-11-28"}
    entries = {key: entry_of(word) for key, word in words.items()}
    found = judged(form, entries, replace(BOOKS, done_again=again))
    return [(each.says, each.blocks) for each in found if each.code == "notice"]


def test_a_witness_is_called_as_early_as_the_sheet_asks():
    assert _noticed("3 d", "2026-11-25", came=False) == []
    says = "given 2026-11-26 for 2026-11-28: the sheet asks for 3 d"
    assert _noticed("3 d", "2026-11-26", True) == [(f"{says}, and the witness came", False)]
    assert _noticed("3 d", "2026-11-26", False) == [(f"{says}, and nobody came: call again", True)]
    assert _noticed("3 d", "2026-11-26", False, ("60",))[0][1] is False
    assert _noticed("", "2026-11-28", came=False) == []


def test_hours_of_notice_are_counted_in_whole_days_only_where_they_surely_fall_short():
    assert _noticed("36 h", "2026-11-27", came=False) == []
    assert len(_noticed("36 h", "2026-11-28", came=False)) == 1
    assert len(_noticed("48 h", "2026-11-27", came=False)) == 1
    assert len(_noticed("2 h", "2026-11-29", came=False)) == 1  # after the witnessing


def signed_on(sheet: str, operation: str, row: str) -> list[Field]:
    stamp = Field(sheet, operation, row, "stamp", "stamp", ("stamp",), may_be_empty=True)
    return [stamp, replace(stamp, name="date", kind="date", boxes=("date",))]


@pytest.mark.parametrize(
    ("sheet", "row", "done"),
    [
        ("inspection-sheet", "feature 1", ("", "measured")),
        ("traveller", "feature 1", ("", "measured")),  # of a rework sheet
        ("functional-test-sheet", "checked", ("80", "operation 80, as it happened")),
    ],
)
def test_who_accepts_later_used_no_gauge(sheet, row, done):
    """G-101 is due on 30 NOV."""
    gauge = Field(sheet, "", row, "micrometer no.", "words", ("no.",))
    boxes = [*signed_on(sheet, *done), *signed_on(sheet, "", "accepted")]
    boxes += signed_on(sheet, "", "first")  # a line of N/A
    form = Form((gauge, *boxes), (), ())
    for used, wanted in (("29 NOV 2026", []), ("01 DEC 2026", ["overdue"])):
        words = dict(zip([f.key for f in boxes if f.kind == "date"],
                         [used, "02 DEC 2026", "02 DEC 2026"], strict=True))  # fmt: skip
        entries = {k: entry_of(w) for k, w in {**words, gauge.key: "G-101"}.items()}
        assert [v.code for v in judged(form, entries, BOOKS) if v.code != "missing"] == wanted
