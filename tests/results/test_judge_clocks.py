"""Clocks of a form with times in them, in; what is beyond a limit, in words, out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cache

import pytest

from generator.process import Stamp
from generator.read import read_text
from generator.results.case import Books, Case
from generator.results.entries import Entries, entries_in, entry_of
from generator.results.form import Field, Form
from generator.results.form_says import IN_TURN, SINCE, Answers
from generator.results.judge import judged
from generator.results.judge_clocks import clocks
from generator.results.judge_heat import aged, same_moments
from generator.results.judge_values import limits
from tests.compose.sheets import FILES, file_of
from tests.results.filled import filled
from tests.results.judging import BOOKS, T
from tests.results.test_form import form


def clock(row: str, name: str = "", operation: str = "50", **more: object) -> Field:
    return Field(T, operation, row, name, "clock", (row, row), unit=IN_TURN, **more)


def signed(operation: str) -> list[Field]:
    return [
        Field(T, operation, "sign done", "stamp", "stamp", ("stamp",)),
        Field(T, operation, "sign done", "date", "date", ("date",)),
    ]


OUT, END, LAST, NEXT = "out of the store", "the window ends", "target reached", "tested"
FIELDS = (
    clock(OUT),
    clock(END, "from"),
    clock(END, "to", added="20 min"),
    *signed("50"),
    clock("bolts torqued", operation="60"),
    clock(LAST, operation="60", not_after=f"{END}, operation 50"),
    *signed("60"),
)
TIMES = {
    (T, "50", OUT, ""): "10:00", (T, "50", END, "from"): "10:00", (T, "50", END, "to"): "10:20",
    (T, "60", "bolts torqued", ""): "10:11", (T, "60", LAST, ""): "10:20",
    (T, "50", "sign done", "stamp"): "LQ14", (T, "50", "sign done", "date"): "2026-11-03",
    (T, "60", "sign done", "stamp"): "LQ14", (T, "60", "sign done", "date"): "2026-11-03",
}  # fmt: skip


def told(
    words: dict, fields=FIELDS, answers=(), books: Books = BOOKS, beside=(), later=()
) -> list[str]:
    operations = tuple(dict.fromkeys(f.operation for f in fields if f.operation))
    own = Form(tuple(fields), operations, (), answers)
    entries = {key: entry_of(word) for key, word in words.items()}
    found = judged(own, entries, books, beside, later)
    return [f"{v.code}: {v.row}" for v in found if v.blocks and v.code not in ("missing", "class")]


@pytest.mark.parametrize(
    ("row", "name", "word", "wanted"),
    [
        (OUT, "", "10:00", []),
        (END, "to", "10:40", ["out: the window ends: to"]),
        (END, "to", "10:19", ["out: the window ends: to", "out: target reached"]),
        (END, "from", "10:05", ["out: the window ends: from", "out: the window ends: to"]),
        (LAST, "", "10:21", ["out: target reached"]),
        (LAST, "", "10:10", ["out: target reached"]),
        (LAST, "", "N/A: read later", ["reason: target reached"]),
    ],
)
def test_a_time_out_of_its_window_or_its_turn_is_out_of_limits(row, name, word, wanted):
    operation = "60" if row == LAST else "50"
    assert told({**TIMES, (T, operation, row, name): word}) == wanted


def test_a_window_does_not_end_on_the_day_after():
    """10:15 is before 10:20, and the window of 20 minutes ended a day before."""
    late = {(T, "60", LAST, ""): "10:15", (T, "60", "sign done", "date"): "2026-11-04"}
    assert told({**TIMES, **late}) == ["out: target reached"]


def test_a_time_that_is_out_is_released_by_a_concession_as_a_reading_is():
    words = {**TIMES, (T, "60", LAST, ""): "10:21"}
    for known in ("10:21", "2026-11-03 10:21"):
        conceded = replace(BOOKS, conceded=[((T, "60", LAST, ""), known)])
        assert told(words, books=conceded) == []
    other = {**words, (T, "60", "sign done", "date"): "2026-11-04"}
    assert told(other, books=conceded) == ["out: target reached"]


def test_a_sum_without_days_may_run_past_midnight():
    words = {
        **TIMES, (T, "50", OUT, ""): "23:50", (T, "50", END, "from"): "23:50",
        (T, "50", END, "to"): "00:10",
    }  # fmt: skip
    fields = [f for f in FIELDS if f.operation == "50"]
    assert told({k: w for k, w in words.items() if k[1] == "50"}, fields) == []


def test_what_is_added_is_what_the_ticked_column_says():
    used = Field(T, "50", "used", "", "choice", ("used 15", "used 16"), ("15", "16"))
    fields = [used, *(replace(f, added_by="c9") if f.added else f for f in FIELDS)]
    strip = (Answers("c9", "50", ("30", "20"), "min"),)
    assert told({**TIMES, used.key: "16"}, fields, strip) == []
    assert told({**TIMES, used.key: "15"}, fields, strip) == ["out: the window ends: to"]
    assert told(TIMES, fields, strip) == ["strip: the window ends: to"]


def test_a_time_whose_sum_no_sheet_has_is_told_and_the_traveller_has_it_for_a_rework():
    again = [replace(f, operation="60R1") for f in FIELDS if f.operation == "60"]
    words = {(k[0], "60R1", *k[2:]): w for k, w in TIMES.items() if k[1] == "60"}
    assert told(words, again) == ["out: target reached"]
    before = (Form(FIELDS, ("50", "60"), ()), {k: entry_of(w) for k, w in TIMES.items()})
    assert told(words, again, beside=[before]) == []
    late = {**words, (T, "60R1", LAST, ""): "10:30"}
    assert told(late, again, beside=[before]) == ["out: target reached"]


# --- with days ------------------------------------------------------------------------------------


def dated(row: str, name: str, operation: str, **more: object) -> list[Field]:
    day = "day" if name == "time" else f"{name} day"
    return [
        Field(T, operation, row, day, "date", (day,)),
        clock(row, name, operation, **more),
    ]


AGED = (
    *dated(OUT, "time", "70"),
    *dated("earliest end", "from", "70"),
    *dated("earliest end", "to", "70", added="96 h", waits=True),
    *signed("70"),
    clock(NEXT, operation="80"),
    *signed("80"),
)
DAYS = {
    (T, "70", OUT, "day"): "2026-11-03", (T, "70", OUT, "time"): "10:00",
    (T, "70", "earliest end", "from day"): "2026-11-03",
    (T, "70", "earliest end", "from"): "10:00",
    # 96 hours are four days.
    (T, "70", "earliest end", "to day"): "2026-11-07", (T, "70", "earliest end", "to"): "10:00",
    (T, "70", "sign done", "stamp"): "LQ14", (T, "70", "sign done", "date"): "2026-11-07",
    (T, "80", NEXT, ""): "10:00",
    (T, "80", "sign done", "stamp"): "LQ14", (T, "80", "sign done", "date"): "2026-11-07",
}  # fmt: skip


@pytest.mark.parametrize(
    ("changed", "wanted"),
    [
        ({}, []),
        # The hour is right, the day is not.
        ({(T, "70", "earliest end", "to day"): "2026-11-06"}, ["out: earliest end: to"]),
        ({(T, "70", "earliest end", "from day"): "2026-11-02"},
         ["out: earliest end: from", "out: earliest end: to"]),
        # Begun an hour, or signed a day, before the wait was over: told where the work is.
        ({(T, "80", NEXT, ""): "09:00"}, ["out: tested"]),
        ({(T, "70", "sign done", "date"): "2026-11-06"}, ["out: sign done: date"]),
        ({(T, "80", "sign done", "date"): "2026-11-06"}, ["out: tested"]),
        ({(T, "80", "sign done", "date"): "2026-11-06", (T, "80", NEXT, ""): "N/A: not looked"},
         ["reason: tested", "out: sign done: date"]),
        ({(T, "80", "sign done", "date"): "2026-11-08", (T, "80", NEXT, ""): "08:00"}, []),
    ],
)  # fmt: skip
def test_a_wait_of_days_is_judged_by_its_days(changed, wanted):
    assert told({**DAYS, **changed}, AGED) == wanted


def test_a_time_told_again_at_a_later_operation_is_that_of_the_first():
    first = [clock(OUT, operation="60"), *signed("60")]
    fields = [*first, *(replace(f, row=f"{OUT} (operation 60)") if f.row == OUT else f
                        for f in AGED)]  # fmt: skip
    words = {(k[0], k[1], f"{OUT} (operation 60)", k[3]) if k[2] == OUT else k: w
             for k, w in DAYS.items()}  # fmt: skip
    words |= {(T, "60", OUT, ""): "10:00", (T, "60", "sign done", "stamp"): "LQ14",
              (T, "60", "sign done", "date"): "2026-11-03"}  # fmt: skip
    assert told(words, fields) == []
    words[T, "60", "sign done", "date"] = "2026-11-04"
    assert told(words, fields) == [f"out: {OUT} (operation 60): time"]


def test_the_clocks_of_a_log_keep_the_times_of_its_rows():
    fields = [Field(T, "90", f"{n} min", "", "clock", ("h", "m"), unit=SINCE) for n in (0, 2, 4)]
    words = dict(zip([f.key for f in fields], ("10:00", "10:03", "10:04"), strict=True))
    assert told(words, fields) == []
    assert told({**words, fields[2].key: "10:07"}, fields) == ["out: 4 min"]
    assert told({**words, fields[1].key: "09:58"}, fields) == ["out: 2 min"]


def logged(words: dict[int, str], unit: str = "h") -> list[str]:
    """What is told of a log with these times in the rows of so many hours after its start."""
    rows = {n: Field(T, "90", f"{n} {unit}", "", "clock", ("h", "m"), unit=SINCE) for n in words}
    return told({rows[n].key: word for n, word in words.items()}, [*rows.values()])


def test_a_log_that_runs_on_the_next_day_is_at_the_same_hours():
    right = {0: "10:00", 6: "16:00", 18: "04:00", 24: "10:00", 30: "16:00", 48: "09:59"}
    assert logged(right) == []
    assert logged({**right, 30: "16:02"}) == ["out: 30 h"]
    assert logged({**right, 24: "09:58"}) == ["out: 24 h"]


def test_a_log_whose_first_time_was_written_off_counts_from_the_next_one():
    right = {0: "N/A: nobody looked", 6: "16:00", 12: "22:00"}
    assert logged(right) == ["reason: 0 h"]  # no line of this form gives it
    assert logged({**right, 12: "22:30"}) == ["reason: 0 h", "out: 12 h"]


# --- the demo sheets, as they are printed ---------------------------------------------------------


@cache
def entered(file: str) -> tuple[Form, Entries]:
    own, _ = form(file)
    document, findings = read_text(filled(own, "A-0007", {}).encode(), "result.yaml")
    assert not findings
    entries, faults = entries_in(document.tree["boxes"], own)
    assert not faults
    return own, entries


PEOPLE = Books({"LQ14": Stamp("LQ14", "volunteer", date(2024, 1, 1), None)}, {})


def out(own: Form, entries: Entries) -> list[str]:
    case = Case(own, entries, PEOPLE)
    found = (*clocks(case), *same_moments(case), *aged(case), *limits(case))
    return [v.row for v in found if v.code in ("out", "strip")]


@pytest.mark.parametrize("file", FILES)
def test_a_traveller_that_was_done_as_it_says_has_no_time_out_of_limits(file):
    assert out(*entered(file)) == []


CLOCKED = ["T6-P-0105", "T6-P-0110", "T6-P-0310", "T6-P-0410", "T6-P-0510"]


@pytest.mark.parametrize("number", CLOCKED)
def test_every_sum_and_every_limit_of_the_demo_sheets_is_judged(number):
    own, entries = entered(file_of(number))
    held = [f for f in own.fields if f.unit == IN_TURN and (f.added or f.not_before or f.not_after)]
    days = {f.key for f in own.fields if f.kind == "date"}
    assert held
    for each in held:
        # A limit of days is passed by days: sixteen are more than any of them.
        day = (*each.key[:3], "day" if each.name == "time" else f"{each.name} day")
        key = day if day in days else each.key
        told = entries[key].text
        later = date.fromisoformat(told) + timedelta(days=16) if key == day else None
        hour = datetime.strptime(entries[each.key].text, "%H:%M") + timedelta(hours=7)
        word = later.isoformat() if later else hour.strftime("%H:%M")
        assert each.label in out(own, {**entries, key: entry_of(word)})


@pytest.mark.parametrize(
    ("row", "name", "word", "wanted"),
    [
        ("soak, from the load at temperature", "", "34", True),  # 35 min at least
        ("soak, from the load at temperature", "", "38", True),  # by its clocks 35 min
        ("quench delay, door starts to open to last metal under", "", "12", True),  # 10 s at most
        ("warmest reading of the cold store", "", "-17.5", True),  # -18 °C or colder
        ("warmest reading of the cold store", "", "-18.5", False),
        ("out of the cold store", "day", "2026-11-16", True),  # 14 d from 2026-11-01
        ("soak ends", "time", "10:34", True),  # 35 min from 10:00 is 10:35
        ("soak ends", "day", "2026-11-02", True),
    ],
)
def test_a_heat_treatment_record_is_judged_by_what_it_asks(row, name, word, wanted):
    own, entries = entered(file_of("T6-P-0110"))
    (key,) = [f.key for f in own.fields if f.sheet == "heat-treatment-record" and not f.operation
              and (f.row, f.name if name else "") == (row, name)]  # fmt: skip
    assert (
        any(each.startswith(row) for each in out(own, {**entries, key: entry_of(word)})) == wanted
    )


def test_what_a_treatment_was_found_to_be_is_conceded_at_its_operation():
    own, _ = form(file_of("T6-P-0110"))
    of = {f.of for f in own.fields if f.sheet == "heat-treatment-record"
          and (f.unit == IN_TURN or f.name == "found" or f.row.startswith("soak,"))}  # fmt: skip
    assert of == {"130"}


# --- what the hours alone do not tell -------------------------------------------------------------

GLUED, CURED, OFF = "glued", "cured", "clamps off"
NIGHT = (
    clock(GLUED), clock(CURED, "from"), clock(CURED, "to", added="5 h"), *signed("50"),
    clock(OFF, operation="60", not_before=f"{CURED}, operation 50"), *signed("60"),
)  # fmt: skip
AT_NIGHT = {
    (T, "50", GLUED, ""): "19:30", (T, "50", CURED, "from"): "19:30",
    (T, "50", CURED, "to"): "00:30",
    (T, "50", "sign done", "stamp"): "LQ14", (T, "50", "sign done", "date"): "2026-11-03",
    (T, "60", "sign done", "stamp"): "LQ14", (T, "60", "sign done", "date"): "2026-11-03",
}  # fmt: skip


@pytest.mark.parametrize(
    ("hour", "day", "wanted"),
    [
        ("22:00", "2026-11-03", [f"out: {OFF}"]),  # the same evening, and it cures until midnight
        ("00:20", "2026-11-04", [f"out: {OFF}"]),
        ("00:40", "2026-11-04", []),
    ],
)
def test_a_sum_past_midnight_is_of_the_day_after(hour, day, wanted):
    words = {**AT_NIGHT, (T, "60", OFF, ""): hour, (T, "60", "sign done", "date"): day}
    assert told(words, NIGHT) == wanted


def test_a_sum_past_midnight_is_of_the_day_after_in_its_own_operation_too():
    fields = [*NIGHT[:3], clock(OFF, not_before=CURED), *signed("50")]
    words = {**AT_NIGHT, (T, "50", OFF, ""): "22:00"}
    assert told({k: w for k, w in words.items() if k[1] == "50"}, fields) == [f"out: {OFF}"]


def test_a_time_before_its_window_begins_is_out_as_one_behind_its_end_is():
    """13:40 that was written 1:40 is not within a window from 12:50 to 13:10."""
    words = {
        **TIMES, (T, "50", OUT, ""): "12:50", (T, "50", END, "from"): "12:50",
        (T, "50", END, "to"): "13:10", (T, "60", "bolts torqued", ""): "01:30",
    }  # fmt: skip
    assert told({**words, (T, "60", LAST, ""): "01:40"}) == [f"out: {LAST}"]
    assert told({**words, (T, "60", LAST, ""): "13:05"}) == []


def test_who_looked_at_it_a_day_later_does_not_move_a_window():
    looked = [
        Field(T, "50", "sign witness", "stamp", "stamp", ("stamp",)),
        Field(T, "50", "sign witness", "date", "date", ("date",)),
    ]
    words = {
        **TIMES, (T, "50", "sign witness", "stamp"): "INS2",
        (T, "50", "sign witness", "date"): "2026-11-04",
        (T, "60", "sign done", "date"): "2026-11-04",
    }  # fmt: skip
    assert told(words, (*FIELDS, *looked)) == [f"out: {LAST}"]
    assert told({**words, (T, "60", "sign done", "date"): "2026-11-03"}, (*FIELDS, *looked)) == []


def test_a_time_whose_day_was_written_off_is_not_let_off():
    words = {**DAYS, (T, "70", OUT, "day"): "N/A: day not written"}
    wanted = [f"reason: {OUT}: day", f"out: {OUT}: time"]  # it needs its line, and a slip
    assert told(words, AGED) == wanted
    gone = {**words, (T, "70", OUT, "time"): "N/A: nobody looked"}
    assert f"out: {OUT}: time" not in told(gone, AGED)


def test_a_sum_that_counts_from_no_time_is_none():
    fields = (clock("opened"), *(f for f in FIELDS if f.operation == "50"))
    words = {k: w for k, w in TIMES.items() if k[1] == "50"} | {(T, "50", "opened", ""): "09:00"}
    lost = {**words, (T, "50", OUT, ""): "N/A: nobody looked"}
    assert told(words, fields) == []
    assert told(lost, fields) == [f"reason: {OUT}", f"out: {END}: from"]
    verdicts = [v.says for v in judged(Form(fields, ("50",), ()), {
        k: entry_of(w) for k, w in lost.items()}, BOOKS) if v.code == "out"]  # fmt: skip
    assert "09:00" not in verdicts[0]  # it does not count from the time before
    words[T, "50", END, "from"] = "N/A: nobody looked"
    assert f"out: {END}: to" in told(words, fields)


@pytest.mark.parametrize("added", ["20 min (0.33 h)", "20 min (0.33 h) TYPED", "20 min TYPED"])
def test_what_is_added_is_read_with_the_second_unit_behind_it(added):
    fields = [replace(f, added=added) if f.added else f for f in FIELDS]
    assert told(TIMES, fields) == []
    wrong = {**TIMES, (T, "50", END, "to"): "10:40"}
    assert told(wrong, fields) == [f"out: {END}: to"]


def test_what_is_added_and_cannot_be_read_is_decided_on_a_slip():
    fields = [replace(f, added="some time") if f.added else f for f in FIELDS]
    assert told(TIMES, fields) == [f"out: {END}: to"]


# --- waits and windows on other sheets ------------------------------------------------------------
