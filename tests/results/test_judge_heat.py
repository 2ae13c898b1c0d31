"""A treatment with its record, its window and its wait, in; the same moment told twice and not
alike, and what was done before the metal was aged, out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.composing.recorded import LOAD, QUENCH
from generator.draw.parse import blocks_of
from generator.draw.sheet import Section
from generator.results.case import Case, Verdict
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.form_figures import furnaces_of
from generator.results.form_says import Stop, limits_of
from generator.results.judge import judged
from generator.results.judge_clocks import clocks
from generator.results.judge_heat import TREATED, aged, counted, same_moments
from tests.results.judging import BOOKS, T
from tests.results.test_judge_clocks import clock, dated, signed

H = "heat-treatment-record"
AGEING, AGAIN = "natural ageing complete, from the quench", "quench of operation 40"


def on_record(row: str, name: str, **more: object) -> list[Field]:
    return [replace(f, sheet=H, operation="", of="40") for f in dated(row, name, "40", **more)]


RECORD = (
    *on_record(QUENCH, "time"),
    *on_record(AGEING, "from"),
    *on_record(AGEING, "to", added="24 h"),
)
OWN = (
    replace(clock("quench", operation="40"), sheet=H),
    replace(clock("the window ends", "to", "40", added="2 h"), sheet=H),
    *signed("40"),
)
BENT = (clock("bent", operation="50", not_after="the window ends, operation 40"), *signed("50"))
WAIT = (
    *dated(AGAIN, "time", "60"),
    *dated("earliest end", "to", "60", added="24 h", waits=True),
    *signed("60"),
)
BEHIND = (*signed("70"), *signed("80"))
FIELDS = (*RECORD, *OWN, *BENT, *WAIT, *BEHIND)
FIRST, NEXT = "2026-11-23", "2026-11-24"
WORDS = {
    (H, "", QUENCH, "day"): FIRST, (H, "", QUENCH, "time"): "10:45",
    (H, "", AGEING, "to day"): NEXT, (H, "", AGEING, "to"): "10:45",
    (H, "40", "quench", ""): "10:45",
    (T, "60", AGAIN, "day"): FIRST, (T, "60", AGAIN, "time"): "10:45",
    (T, "60", "earliest end", "to day"): NEXT, (T, "60", "earliest end", "to"): "10:45",
    **{(T, n, "sign done", "date"): FIRST if n in "40 50" else NEXT
       for n in ("40", "50", "60", "70", "80")},
}  # fmt: skip
STOP = Stop("70", "hold", ("40", "50", "60"))


def case_of(changed: dict, fields=FIELDS, before=(), again: str = "") -> Case:
    own = [replace(f, operation=f"{f.operation}{again}") if f.operation else f for f in fields]
    numbers = tuple(dict.fromkeys(f.operation for f in own if f.operation))
    stops = (replace(STOP, operation=f"70{again}"),) if f"70{again}" in numbers else ()
    entries = {k: entry_of(w) for k, w in changed.items()}
    return Case(Form(tuple(own), numbers, stops), entries, BOOKS, before)


def told(found: list[Verdict]) -> list[str]:
    return [f"{v.where}: {v.says.partition(': a slip')[0]}" for v in found if v.blocks]


def moments(changed: dict, fields=FIELDS) -> list[str]:
    return told(list(same_moments(case_of({**WORDS, **changed}, fields))))


RECORDED = f"and the heat treatment record has {QUENCH} {FIRST} 10:45"


@pytest.mark.parametrize(
    ("key", "word", "wanted"),
    [
        ((H, "40", "quench", ""), "10:45", []),
        ((H, "40", "quench", ""), "11:45",
         [f"operation 40, quench: {FIRST} 11:45, {RECORDED}"]),
        ((T, "60", AGAIN, "time"), "10:46",
         [f"operation 60, {AGAIN}: time: {FIRST} 10:46, {RECORDED}"]),
        ((T, "60", AGAIN, "day"), "2026-11-22",
         [f"operation 60, {AGAIN}: time: 2026-11-22 10:45, {RECORDED}"]),
        # The window of operation 50 would run from the day on which operation 40 was signed.
        ((T, "40", "sign done", "date"), NEXT,
         [f"operation 40, quench: {NEXT} 10:45, {RECORDED}"]),
    ],
)  # fmt: skip
def test_a_moment_that_the_record_has_is_the_same_wherever_it_is_told(key, word, wanted):
    assert moments({key: word}) == wanted


def test_who_signs_later_moves_no_moment_from_which_no_other_operation_counts():
    late = {(T, "40", "sign done", "date"): NEXT}
    assert moments(late, [f for f in FIELDS if f not in BENT]) == []


def test_a_treatment_that_is_done_again_has_its_own_moments():
    """The record of 40R1 stands on the sheet of that rework; 60R1 tells of it."""
    record = [replace(f, sheet=T, operation="40", of="") for f in RECORD]
    fields = [*record, *(replace(f, sheet=T) for f in OWN), *WAIT]
    words = {(T, f"{k[1] or 40}R1", *k[2:]): w for k, w in WORDS.items()}
    before = (case_of(WORDS),)
    assert told(list(same_moments(case_of(words, fields, before, "R1")))) == []
    words[T, "40R1", QUENCH, "time"] = "10:50"
    found = told(list(same_moments(case_of(words, fields, before, "R1"))))
    assert [each.partition(",")[0] for each in found] == ["operation 40R1", "operation 60R1"]
    assert all(f"and operation 40R1 has {QUENCH} " in each for each in found)


def test_without_a_record_a_time_told_again_is_that_of_its_operation():
    fields = [f for f in FIELDS if f not in RECORD]
    words = {**WORDS, (T, "60", AGAIN, "time"): "10:46"}
    found = [v for v in clocks(case_of(words, fields)) if v.row == f"{AGAIN}: time"]
    wrong = f"operation 60, {AGAIN}: time: {FIRST} 10:46, and operation 40 has {FIRST} 10:45"
    assert told(found) == [wrong]


def tally(sheet: str, of: str = "40") -> Field:
    on = ("", of) if sheet == H else (of, "")
    return replace(Field(sheet, on[0], "this metal", TREATED, "number", (TREATED,)), of=on[1])


@pytest.mark.parametrize(
    ("first", "again", "of", "wanted"),
    [
        ("1", "2", "40R1", []),
        ("", "1", "40R1", []),  # the metal was not treated before
        ("1", "1", "90R1", []),  # that of another treatment
        ("1", "", "40R1", []),
        ("1", "1", "40R1", ["1, and the sheet before has 1 without this one"]),
        ("2", "1", "40R1", ["1, and the sheet before has 2 without this one"]),
    ],
)
def test_a_treatment_that_is_done_again_is_counted(first, again, of, wanted):
    def sheet(field: Field, word: str, before: tuple[Case, ...] = ()) -> Case:
        return Case(Form((field,), (), ()), {field.key: entry_of(word)}, BOOKS, before)

    case = sheet(tally(T, of), again, (sheet(tally(H), first),))
    assert [v.says.partition(": a slip")[0] for v in counted(case) if v.blocks] == wanted
    assert wanted == [v.says.partition(": a slip")[0]
                      for v in judged(case.form, case.entries, BOOKS, [(s.form, s.entries) for s in case.before])
                      if v.code == "out"]  # fmt: skip


# --- ageing ---------------------------------------------------------------------------------------

LATER = {(H, "", AGEING, "to"): "11:45", (H, "", AGEING, "to day"): "2026-11-25"}
UNTIL = "and the heat treatment record has natural ageing complete"


def ages(changed: dict, fields=FIELDS) -> list[str]:
    return told(list(aged(case_of({**WORDS, **changed}, fields))))


def test_what_is_done_as_the_record_says_waited_for_the_ageing():
    assert ages({}) == []


def test_the_wait_and_all_work_behind_it_wait_for_the_ageing_of_the_record():
    """Operation 50 bends inside the window, while the metal is soft."""
    wanted = [f"operation {n}, sign done: date: signed {NEXT}, {UNTIL} 2026-11-25 11:45"
              for n in ("60", "70", "80")]  # fmt: skip
    assert ages(LATER) == wanted
    done = {(T, "80", "sign done", "date"): "2026-11-25"}
    assert ages({**LATER, **done}) == wanted[:2]


def test_a_wait_that_is_over_no_earlier_tells_itself_of_work_before_its_end():
    over = {
        (T, "60", "earliest end", "to"): "11:45",
        (T, "60", "earliest end", "to day"): "2026-11-25",
    }
    assert ages({**LATER, **over}) == []


def test_without_a_wait_as_long_the_hold_that_closes_the_treatment_waits():
    short = [replace(f, added="12 h") if f.waits else f for f in FIELDS]
    wanted = [f"operation 70, sign done: date: signed {NEXT}, {UNTIL} 2026-11-25 11:45"]
    assert ages(LATER, short) == wanted
    assert ages({**LATER, (T, "70", "sign done", "date"): "2026-11-25"}, short) == []
    # A hold before the end of the window: the metal is not aged, nor has it to be.
    soft = clock("straight", operation="80", not_after="the window ends, operation 40")
    assert ages(LATER, [*short, soft]) == []
    glued = replace(soft, not_after="the pot life ends, operation 75")
    assert ages(LATER, [*short, glued]) == wanted


# --- the band of the furnace ----------------------------------------------------------------------

ASKED = """::: fill
| what | asked | found |
| --- | --- | --- |
| temperature of the load | {asked} | box °C |
:::"""
FURNACE = """::: readings
| reading | lower | upper | unit | times |
| --- | --- | --- | --- | --- |
| furnace at the end of the soak | 488 | 498 | °C | 1 |
| furnace at the start | 470 | 498 | °C | 1 |
| water of the quench | 10 | 38 | °C | 1 |
:::"""


@pytest.mark.parametrize(
    ("asked", "wanted"),
    [
        ("493 °C", ("488", "498")),
        ("493 ± 3 °C", ("490", "496")),
        ("[493 °C](calculation-sheet.pdf#g3)", ("488", "498")),
        ("500 °C", ("", "")),  # no reading has a band around it
        ("by the specification", ("", "")),
    ],
)
def test_the_load_is_within_the_band_that_the_sheet_prints_for_its_furnace(asked, wanted):
    parts = [Section("Treatment of operation 40", tuple(blocks_of(ASKED.format(asked=asked)))),
             Section("Operation 40", tuple(blocks_of(FURNACE)))]  # fmt: skip
    limits = dict(limits_of(H, parts))
    load = (limits | dict(furnaces_of(limits)))[H, "", LOAD]
    assert (load.lower, load.upper, load.unit) == (*wanted, "°C")


def test_the_start_of_its_own_operation_is_no_time_told_again():
    """It is before the end of the wait of operation 60."""
    start = clock("start of operation 80", operation="80")
    found = clocks(case_of({**WORDS, start.key: "09:00"}, [*FIELDS, start]))
    wrong = f"{NEXT} 09:00, and the wait of operation 60 ends {NEXT} 10:45"
    assert told(list(found)) == [f"operation 80, start of operation 80: {wrong}"]
