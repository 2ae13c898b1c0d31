"""A small form and what was entered in; exactly what is wrong with it, out.

Every expected verdict is read off the form by eye: a limit, a class, a day.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from generator.process import Stamp
from generator.results.case import Case
from generator.results.entries import entry_of
from generator.results.form import IN_HAND, Field, Form, Key
from generator.results.form_says import Stop
from generator.results.judge import judged
from tests.results.judging import BEGAN, BOOKS, DAY, DONE, FORM, LOST, SECOND, SOUND, T, codes


def test_what_is_as_it_should_be_gets_no_word():
    assert codes({}) == []


GAP = (T, "10", "gap", "")
MEAN = ("inspection-sheet", "", "feature 2", "mean, mm")
RANGE = ("inspection-sheet", "", "feature 2", "range, mm")
PINS = (T, "40", "pins", "2: independent inspector stamp")
WRONG: list[tuple[dict[Key, str], list[tuple[str, str]]]] = [
    ({GAP: "0.81"}, [("out", "10")]),
    ({GAP: "0.49"}, [("out", "10")]),
    ({GAP: "0.5"}, []),
    ({GAP: "0,6"}, [("number", "10")]),
    ({GAP: ""}, [("missing", "10"), ("hold", "10")]),
    ({GAP: "unreadable"}, [("unreadable", "10")]),
    ({GAP: "N/A"}, [("reason", "10")]),
    ({GAP: "N/A: bay is not fitted"}, [("reason", "10")]),
    # A stamp is never left out by N/A in its own box.
    (
        {(T, "20", "sign hold", "released by inspector stamp"): "N/A: was not here"},
        [("missing", "20"), ("hold", "20")],
    ),
    ({PINS: "N/A: nobody came"}, [("missing", "40")]),
    ({GAP: "late: 0.6, written 05 NOV 2026"}, [("late", "10")]),
    ({GAP: "late: 0.9, written 05 NOV 2026"}, [("late", "10"), ("out", "10")]),
    ({(T, "10", "clean", ""): "no"}, [("out", "10")]),
    ({(T, "10", "clean", ""): "perhaps"}, [("choice", "10")]),
    ({(T, "10", "micrometer no.", ""): "G-999"}, [("instrument", "10")]),
    ({(T, "10", "micrometer no.", ""): "G-200"}, [("instrument", "10")]),
    ({(T, "10", "sign done", DONE): "LQ99"}, [("stamp", "10")]),
    ({(T, "10", "sign done", DONE): "INS2"}, [("class", "10")]),
    ({(T, "10", "sign done", DAY): ""}, [("missing", "10"), ("unsigned", "10"), ("hold", "10")]),
    ({(T, "10", "sign done", DAY): "2 Nov"}, [("day", "10"), ("unsigned", "10")]),
    ({(T, "30", "operation", "30 done"): "yes"}, [("tick", "30")]),
    ({("inspection-sheet", "", "feature 1", "in"): "between"}, [("between", ""), ("ticked", "")]),
    ({("inspection-sheet", "", "feature 1", "in"): "out"}, [("out", ""), ("ticked", "")]),
    (
        {
            (T, "30", "operation", "30 done"): "",
            (T, "30", "operation", "30 N/A"): "x",
            (T, "30", "sign done", DONE): "",
            (T, "30", "sign done", DAY): "",
            (T, "", "first", "operation or line"): "operation 30",
            (T, "", "first", "which box, and the reason"): "all: the bay has no pins",
            (T, "", "first", "stamp"): "INS2",
        },
        [],
    ),
    # A volunteer leaves nothing out, an operation without limits neither.
    (
        {
            (T, "30", "operation", "30 done"): "",
            (T, "30", "operation", "30 N/A"): "x",
            (T, "30", "sign done", DONE): "",
            (T, "30", "sign done", DAY): "",
            (T, "", "first", "operation or line"): "operation 30",
            (T, "", "first", "which box, and the reason"): "all: the bay has no pins",
            (T, "", "first", "stamp"): "LQ12",
        },
        [("class", "30")],
    ),
    # A line of N/A without its reason is none.
    (
        {
            (T, "30", "operation", "30 done"): "",
            (T, "30", "operation", "30 N/A"): "x",
            (T, "30", "sign done", DONE): "",
            (T, "30", "sign done", DAY): "",
            (T, "", "first", "operation or line"): "operation 30",
        },
        [("reason", "30")],
    ),
    # It is done or it does not apply.
    ({(T, "30", "operation", "30 N/A"): "x"}, [("reason", "30"), ("out", "30")]),
    # 24 used and 1 scrapped of 24 issued are not made good by -1 returned.
    (
        {
            ("kit-list", "", "1 bolt", "issued"): "24",
            ("kit-list", "", "1 bolt", "returned"): "-1",
        },
        [("number", "")],
    ),
    # TRADE M12: 9.00 ± 0.10 with U 0.03 is accepted from 8.93 to 9.07.
    ({("inspection-sheet", "", "feature 1", "actual"): "8.92"}, [("between", ""), ("ticked", "")]),
    ({("inspection-sheet", "", "feature 1", "actual"): "9.08"}, [("between", ""), ("ticked", "")]),
    ({("inspection-sheet", "", "feature 1", "actual"): "9.11"}, [("out", ""), ("ticked", "")]),
    # The sense of a control: one person twice, a day that is missing before its stamp.
    (
        {("rigging-sheet", "140", SECOND, "stamp"): "INS2"},
        [("class", "140"), ("same stamp", "140")],
    ),
    (
        {("rigging-sheet", "140", SECOND, "date"): ""},
        [("missing", "140"), ("unsigned", "140")],
    ),
    # Work that the hold closes, signed after it was released.
    ({(T, "10", "sign done", DAY): "04 NOV 2026"}, [("overrun", "10")]),
    # A release after the work behind it; no release at all.
    (
        {(T, "20", "sign hold", "released by inspector date"): "04 NOV 2026"},
        [("overrun", "30")],
    ),
    (
        {
            (T, "20", "sign hold", "released by inspector stamp"): "",
            (T, "20", "sign hold", "released by inspector date"): "",
        },
        [("missing", "20"), ("missing", "20"), ("hold", "20")],
    ),
    ({PINS: "INS2"}, [("class", "40"), ("same stamp", "40")]),
    ({PINS: "LQ12"}, [("class", "40"), ("took part", "40")]),
    ({("kit-list", "", "1 bolt", "scrapped"): "2"}, [("count", "")]),
    ({("kit-list", "", "1 bolt", "used"): "all"}, [("number", "")]),
    (
        {("kit-list", "", "1 bolt", name): "all" for name in ("issued", "used")},
        [("number", ""), ("number", "")],
    ),
    # A mean is rounded to the nearer at its last place, and may be finer than the readings.
    ({MEAN: "5.003"}, []),
    ({MEAN: "5.004"}, [("count", "")]),
    ({MEAN: "5.01"}, [("count", "")]),
    ({MEAN: "5.02"}, [("count", "")]),
    ({MEAN: "4.99"}, [("count", "")]),
    ({MEAN: "about 5"}, [("number", "")]),
    ({RANGE: "0.06"}, [("count", "")]),
    ({RANGE: "0.1"}, []),
    ({RANGE: "0.2"}, [("count", "")]),
    ({("inspection-sheet", "", "feature 2", "2 of 3"): ""}, [("missing", "")]),
    ({("closing-sheet", "", "traveller", IN_HAND): "4"}, [("sheets", "")]),
    ({("closing-sheet", "", "traveller", IN_HAND): "6"}, [("sheets", "")]),
    ({("closing-sheet", "", "traveller", IN_HAND): "all"}, [("number", "")]),
]


@pytest.mark.parametrize(("changed", "wanted"), WRONG)
def test_each_slip_gets_its_own_word(changed, wanted):
    assert codes(changed) == wanted


def test_an_instrument_is_judged_on_the_day_of_use():
    late = {
        (T, "10", "sign done", DAY): "01 DEC 2026",
        (T, "20", "sign hold", "released by inspector date"): "01 DEC 2026",
        (T, "30", "sign done", DAY): "02 DEC 2026",
        (T, "40", "pins", "1: inspector date"): "02 DEC 2026",
        (T, "40", "pins", "2: independent inspector date"): "02 DEC 2026",
    }
    assert codes(late) == [("overdue", "10")]


def test_a_stamp_is_judged_on_its_day():
    later = {(T, "10", "sign done", DAY): "01 JAN 2027"}
    assert ("stamp", "10") in codes(later)


@pytest.mark.parametrize(
    ("books", "value", "blocks"),
    [
        ({"conceded": [(GAP, "0.9")]}, "0.9", False),
        # Another value in the same box, and another box of the same operation, are not conceded.
        ({"conceded": [(GAP, "0.9")]}, "0.91", True),
        ({"conceded": [((T, "10", "clean", ""), "no")]}, "0.9", True),
        ({"done_again": {"10"}}, "0.91", False),
        ({"done_again": {"20"}}, "0.9", True),
    ],
)
def test_a_deviation_that_was_decided_on_is_told_and_blocks_nothing(books, value, blocks):
    entries = {key: entry_of(word) for key, word in {**SOUND, GAP: value}.items()}
    (told,) = judged(FORM, entries, replace(BOOKS, **books))
    assert (told.code, told.blocks) == ("out", blocks)


def test_a_feature_is_allowed_with_the_operation_that_is_done_again():
    feature = Field("inspection-sheet", "", "feature 9", "actual", "number", ("actual",), of="10")
    for again, wanted in (({"10"}, True), ({"30"}, False), (set(), False)):
        case = Case(FORM, {}, replace(BOOKS, done_again=again))
        assert case.allowed(feature) == wanted


def test_what_lies_between_a_limit_and_its_accept_limit_is_released_by_a_concession():
    actual = ("inspection-sheet", "", "feature 1", "actual")
    box = ("inspection-sheet", "", "feature 1", "in")
    words = {actual: "8.92", box: "between"}
    entries = {key: entry_of(word) for key, word in {**SOUND, **words}.items()}
    assert all(each.blocks for each in judged(FORM, entries, BOOKS))
    books = replace(BOOKS, conceded=[(actual, "8.92"), (box, "between")])
    found = judged(FORM, entries, books)
    assert [(each.code, each.blocks) for each in found] == [("between", False)] * 2


def test_a_lost_sheet_of_which_is_said_what_was_done_is_told_and_blocks_nothing():
    in_hand = {("closing-sheet", "", "traveller", IN_HAND): "4"}
    said = {("closing-sheet", "", "traveller", LOST): "sheet 3, oil; entered by inspection"}
    for words, blocks in ((in_hand, True), ({**in_hand, **said}, False)):
        entries = {key: entry_of(word) for key, word in {**SOUND, **words}.items()}
        (told,) = judged(FORM, entries, BOOKS)
        assert (told.says, told.blocks) == ("4 in hand of 5 printed", blocks)


G101 = (T, "10", "micrometer no.", "")
USED_ON = {(T, "10", "sign done", DAY): "01 DEC 2026",
           (T, "20", "sign hold", "released by inspector date"): "01 DEC 2026",
           (T, "30", "sign done", DAY): "02 DEC 2026",
           (T, "40", "pins", "1: inspector date"): "02 DEC 2026",
           (T, "40", "pins", "2: independent inspector date"): "02 DEC 2026"}  # fmt: skip
THEN = {"G-101": BOOKS.instruments["G-101"]}  # due 2026-11-30


@pytest.mark.parametrize(
    ("today", "wanted"),
    [
        # Due the day before its use; since then the list has another day, and when it was checked.
        ({"check_due": date(2027, 12, 1), "checked": date(2026, 12, 1)}, []),
        ({"check_due": date(2027, 12, 3), "checked": date(2026, 12, 3)}, ["overdue"]),
        ({"check_due": date(2027, 12, 3)}, ["overdue"]),
        ({}, ["overdue"]),
    ],
)
def test_a_later_check_makes_no_earlier_use_good(today, wanted):
    held = replace(BOOKS.instruments["G-101"], **today)
    books = replace(BOOKS, instruments={**BOOKS.instruments, "G-101": held}, then=THEN)
    entries = {key: entry_of(word) for key, word in {**SOUND, **USED_ON}.items()}
    assert [each.code for each in judged(FORM, entries, books)] == wanted


def test_an_instrument_that_the_workshop_has_given_away_was_in_date_when_it_was_used():
    entries = {key: entry_of(word) for key, word in SOUND.items()}
    gone = {k: v for k, v in BOOKS.instruments.items() if k != "G-101"} | {
        "G-9": replace(BOOKS.instruments["G-101"], number="G-9")
    }
    assert judged(FORM, entries, replace(BOOKS, instruments=gone, then=THEN)) == ()
    (told,) = judged(FORM, entries, replace(BOOKS, instruments=gone))
    assert told.code == "instrument"
    rule = {"G-101": replace(THEN["G-101"], kind="steel rule")}
    books = replace(BOOKS, instruments=gone, then=rule)
    (told,) = judged(FORM, entries, books)
    assert told.says == "G-101 is a steel rule, no micrometer"


def test_an_instrument_of_a_kind_that_the_workshop_gave_away_is_asked_for_too():
    rules = {k: v for k, v in BOOKS.instruments.items() if v.kind != "micrometer"}
    books = replace(BOOKS, instruments=rules, then=THEN)
    for written, wanted in (("G-101", []), ("G-999", ["the workshop has no instrument G-999"])):
        told = {**SOUND, (T, "10", "micrometer no.", ""): written}
        entries = {key: entry_of(word) for key, word in told.items()}
        assert [each.says for each in judged(FORM, entries, books)] == wanted


def test_an_instrument_of_the_inspection_sheet_is_judged_by_the_days_of_that_sheet():
    gauge = Field("inspection-sheet", "", "feature 1", "micrometer no.", "words", ("no.",))
    day = Field("inspection-sheet", "", "measured", "date", "date", ("date",))
    stamp = replace(day, name="stamp", kind="stamp", may_be_empty=True)
    form = Form((gauge, stamp, day), (), ())
    for written, wanted in (("30 NOV 2026", []), ("01 DEC 2026", ["overdue"])):
        entries = {gauge.key: entry_of("G-101"), day.key: entry_of(written)}
        assert [each.code for each in judged(form, entries, BOOKS)] == wanted


@pytest.mark.parametrize(
    ("out", "back", "wanted"),
    [("1", "1", []), ("yes", "yes", []), ("4", "3", ["count"]), ("4", "some", ["number"])],
)
def test_tools_that_were_counted_out_are_counted_back(out, back, wanted):
    row = [Field("closing-sheet", "", "1 pins", n, "words", (n,)) for n in ("out", "back")]
    words = dict(zip((f.key for f in row), map(entry_of, (out, back)), strict=True))
    assert [each.code for each in judged(Form(tuple(row), (), ()), words, BOOKS)] == wanted


def test_an_instrument_of_a_record_is_judged_by_the_days_of_that_record_too():
    """The traveller was signed on 2 NOV, and the pass was torqued on 1 DEC, a day past the check."""
    place = ("tightening-record", "10")
    gauge = Field(*place, "operation 10", "micrometer no.", "words", ("no.",))
    day = Field(*place, "operation 10: 24", "date", "date", ("date",))
    stamp = replace(day, name="stamp", kind="stamp", may_be_empty=True)
    done = [f for f in FORM.fields if f.key[:3] == (T, "10", "sign done")]
    form = Form((*done, gauge, stamp, day), ("10",), ())
    for written, wanted in (("30 NOV 2026", []), ("01 DEC 2026", ["overdue"])):
        words = {done[0].key: "LQ14", done[1].key: "02 NOV 2026", gauge.key: "G-101"}
        entries = {k: entry_of(w) for k, w in {**words, day.key: written}.items()}
        assert [each.code for each in judged(form, entries, BOOKS)] == wanted


def test_who_did_work_on_another_sheet_took_part():
    second = (T, "40", "pins", "2: independent inspector stamp")
    entries = {key: entry_of(word) for key, word in SOUND.items()}
    found = judged(FORM, entries, replace(BOOKS, doers=frozenset(["IND4"])))
    assert {each.code for each in found} == {"took part"}
    assert second in entries


@pytest.mark.parametrize(
    ("written", "wanted"),
    [("26 NOV 2026", [("late", False)]), ("1999-01-01", [("late", True)]),
     ("2031-01-01", [("late", True)]), ("later", [("late", True)])],
)  # fmt: skip
def test_a_late_entry_has_a_day_on_which_it_can_have_been_written(written, wanted):
    words = {**SOUND, GAP: f"late: 0.8, written {written}"}
    entries = {key: entry_of(word) for key, word in words.items()}
    books = replace(BOOKS, begun=date(2026, 11, 1), until=date(2026, 12, 1))
    assert [(each.code, each.blocks) for each in judged(FORM, entries, books)] == wanted


@pytest.mark.parametrize(
    ("place", "before", "after"),
    [
        ((T, "40", "Lock A is home."), ["day"], ["day"]),
        (("rigging-sheet", "140", "point 1: first, inspector"), ["day"], ["day"]),
        (("tightening-record", "30", "operation 30: 24"), ["day"], ["day"]),
        (("inspection-sheet", "", "measured"), ["day"], ["day"]),
        (("kit-list", "", "counts agree"), ["day"], ["day"]),
        # Who saw a number being measured may have seen it on any day before.
        (("evidence-sheet", "", "g1"), [], ["day"]),
    ],
)
def test_a_day_beside_a_stamp_is_between_the_issue_and_the_entry(place, before, after):
    row = (Field(*place, "date", "date", ("date",)), Field(*place, "stamp", "stamp", ("stamp",)))
    books = replace(BOOKS, begun=date(2026, 11, 1), until=date(2026, 12, 1))
    for day, wanted in (("2026-11-01", []), ("2026-12-01", []), ("2026-10-31", before),
                        ("2026-12-02", after)):  # fmt: skip
        words = {row[0].key: entry_of(day), row[1].key: entry_of("INS2")}
        assert [each.code for each in judged(Form(row, (), ()), words, books)] == wanted


@pytest.mark.parametrize(("stamp", "wanted"), [("INS2", []), ("LQ12", [("class", "20")])])
def test_a_hold_is_written_off_with_the_stamp_of_an_inspector_alone(stamp, wanted):
    line = [Field(T, "", "first", name, "words", (name,)) for name in (
        "operation or line", "which box, and the reason")]  # fmt: skip
    fields = (
        Field(T, "20", "operation", "20 N/A", "words", ("20 N/A",)),
        *line, Field(T, "", "first", "stamp", "stamp", ("stamp",)),
    )  # fmt: skip
    form = Form(fields, ("20",), (Stop("20", "hold", ()),))
    words = dict(zip((f.key for f in fields), ("x", "operation 20", "no bay", stamp), strict=True))
    found = judged(form, {key: entry_of(word) for key, word in words.items()}, BOOKS)
    assert [(each.code, each.operation) for each in found] == wanted


def test_two_people_see_that_nothing_is_left_inside():
    rows = ("nothing left inside", "seen before closing up")
    fields = tuple(Field("closing-sheet", "", row, "stamp", "stamp", ("stamp",)) for row in rows)
    for second, wanted in (("LQ12", []), ("LQ14", ["same stamp"])):
        entries = dict(zip((f.key for f in fields), map(entry_of, ("LQ14", second)), strict=True))
        found = judged(Form(fields, (), ()), entries, BOOKS)
        assert [each.code for each in found] == wanted


LINE = {
    (T, "", "first", "operation or line"): "10",
    (T, "", "first", "which box, and the reason"): "gap: the bay is not fitted",
    (T, "", "first", "stamp"): "LQ12",
}


@pytest.mark.parametrize(("stamp", "wanted"), [("LQ12", ["class"]), ("INS2", []), ("LQ1", [])])
def test_a_value_with_limits_is_left_out_with_the_stamp_of_lead_or_inspector(stamp, wanted):
    words = {**SOUND, **LINE, GAP: "N/A: bay is not fitted", (T, "", "first", "stamp"): stamp}
    books = replace(BOOKS, stamps={**BOOKS.stamps, "LQ1": Stamp("LQ1", "lead", BEGAN, None)})
    found = judged(FORM, {key: entry_of(word) for key, word in words.items()}, books)
    assert [each.code for each in found] == wanted


def test_a_witness_is_passed_by_a_stamp_alone():
    rows = [Field(T, "60", row, f"{row} {what}", what, (what,)) for row in (
        "sign witness", "go on without") for what in ("stamp", "date")]  # fmt: skip
    form = Form(tuple(rows), ("60",), (Stop("60", "witness", ()),))
    days = {row.key: entry_of("2026-11-02") for row in rows if row.kind == "date"}
    assert [each.code for each in judged(form, days, BOOKS)] == ["missing", "missing"]
    came = {**days, rows[0].key: entry_of("INS2")}
    assert [each.code for each in judged(form, came, BOOKS)] == []
