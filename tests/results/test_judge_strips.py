"""Limits that stand in a strip, in; judged by the column that was ticked, or told, out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.draw.parse import blocks_of
from generator.draw.sheet import Section
from generator.results.case import Case
from generator.results.entries import entry_of
from generator.results.form import Field, Form, Key
from generator.results.form_says import Answers, answers_of
from generator.results.judge import judged
from tests.results.judging import BOOKS, T

USED = Field(T, "50", "used", "", "choice", ("used 6", "used 8"), ("6", "8"))
SIZE = Field(T, "60", "size", "", "number", ("size",), lower="1", upper_by="c3")
COPY = Field("inspection-sheet", "", "feature 1", "upper as ticked, mm", "words", ("copied",))
FEATURE = Field("inspection-sheet", "", "feature 1", "actual", "number", ("actual",), lower="1",
                upper_by="c3", accept_by="feature 1")  # fmt: skip
TICKED = {USED.key: "8", SIZE.key: "2.5"}
ANSWERS = (
    Answers("c3", "50", ("2.0", "3.0")),
    Answers("feature 1.accept to", "50", ("1.9", "2.9")),
)


def of_a_strip(words: dict[Key, str], answers=ANSWERS, fields=(USED, SIZE), **more) -> list[str]:
    form = Form(tuple(fields), ("50", "60"), (), answers)
    entries = {key: entry_of(word) for key, word in words.items()}
    found = judged(form, entries, replace(BOOKS, **more))
    return [each.code for each in found if each.code != "missing" and each.blocks]


@pytest.mark.parametrize(
    ("words", "answers", "wanted"),
    [
        (TICKED, ANSWERS, []),
        ({**TICKED, SIZE.key: "3.1"}, ANSWERS, ["out"]),
        ({**TICKED, SIZE.key: "0.9"}, ANSWERS, ["out"]),
        # No column is ticked, the strip is written off, or no strip has the number.
        ({SIZE.key: "2.5"}, ANSWERS, ["strip"]),
        ({**TICKED, USED.key: "N/A: no strip at hand"}, ANSWERS, ["reason", "strip"]),
        (TICKED, (), ["strip"]),
        # Of two strips with one number, the one of the same operation counts; else they must agree.
        (TICKED, (*ANSWERS, Answers("c3", "50", ("2.1", "3.1"))), ["strip"]),
        (TICKED, (*ANSWERS, Answers("c3", "40", ("2.1", "3.1"))), []),
    ],
)
def test_a_limit_in_a_strip_that_is_not_known_is_told_and_never_passed_over(words, answers, wanted):
    assert of_a_strip(words, answers) == wanted


def test_a_value_whose_limit_is_not_known_is_released_by_a_concession():
    words = {SIZE.key: "2.5"}
    assert of_a_strip(words, conceded=[(SIZE.key, "2.5")]) == []


def test_a_limit_that_was_copied_wrong_is_told():
    words = {**TICKED, FEATURE.key: "2.8", COPY.key: "3.0"}
    fields = (USED, SIZE, FEATURE, COPY)
    assert of_a_strip(words, fields=fields) == []
    assert of_a_strip({**words, COPY.key: "2.0"}, fields=fields) == ["copied"]


def test_a_value_beyond_the_accept_limit_of_the_ticked_column_is_told():
    fields = (USED, SIZE, FEATURE)
    assert of_a_strip({**TICKED, FEATURE.key: "2.95"}, fields=fields) == ["between"]


def test_a_rework_sheet_is_judged_by_what_is_ticked_on_the_traveller():
    again = replace(SIZE, operation="60R1")
    form = Form((again,), ("60R1",), ())
    before = (Form((USED, SIZE), ("50", "60"), (), ANSWERS), {USED.key: entry_of("8")})
    for value, wanted in (("2.5", []), ("3.1", ["out"])):
        found = judged(form, {again.key: entry_of(value)}, BOOKS, [before])
        assert [each.code for each in found] == wanted
    (told,) = judged(form, {again.key: entry_of("2.5")}, BOOKS, [(before[0], {})])
    assert (told.code, told.blocks) == ("strip", True)


def of_rework(numbers: tuple[str, ...], words: dict[str, str]) -> Case:
    """Sheet R1 with operations of the traveller done again, and what stands in their boxes."""
    fields = [replace(each, operation=f"{each.operation}R1") for each in (USED, SIZE)
              if each.operation in numbers]  # fmt: skip
    answers = [replace(each, operation="50R1") for each in ANSWERS[:1] if "50" in numbers]
    names = tuple(f"{each}R1" for each in numbers)
    form = Form(tuple(fields), names, (), tuple(answers))
    return Case(form, {f.key: entry_of(words.get(f.operation, "")) for f in fields}, BOOKS)


BOTH, STRIP_ALONE = ("50", "60"), ("50",)
SHEETS = [
    # What was ticked and measured again on R1 says nothing of the traveller, and the other way.
    (BOTH, {"50R1": "6", "60R1": "1.5"}, "2.5", [], []),
    (BOTH, {"50R1": "6", "60R1": "2.5"}, "2.5", [], ["out"]),
    (BOTH, {"50R1": "6", "60R1": "1.5"}, "3.1", ["out"], []),
    # The strip alone was ticked again: what stands on the traveller was measured after it.
    (STRIP_ALONE, {"50R1": "6"}, "2.5", ["out"], []),
    (STRIP_ALONE, {"50R1": "6"}, "1.5", [], []),
    # It is not ticked yet, or was left out.
    (BOTH, {"60R1": "1.5"}, "2.5", [], ["strip"]),
    (STRIP_ALONE, {}, "2.5", ["strip"], []),
    (BOTH, {"50R1": "N/A: as before", "60R1": "2.5"}, "2.5", [], ["reason"]),
    (BOTH, {"50R1": "N/A: as before", "60R1": "3.1"}, "2.5", [], ["reason", "out"]),
    (("60",), {"60R1": "3.1"}, "2.5", [], ["out"]),
]


@pytest.mark.parametrize(("numbers", "again", "size", "first", "second"), SHEETS)
def test_each_sheet_is_judged_by_the_column_that_was_ticked_for_it(
    numbers, again, size, first, second
):
    form = Form((USED, SIZE), ("50", "60"), (), ANSWERS)
    entries = {USED.key: entry_of("8"), SIZE.key: entry_of(size)}
    rework = of_rework(numbers, again)
    for found, wanted in (
        (judged(form, entries, BOOKS, later=[(rework.form, rework.entries)]), first),
        (judged(rework.form, rework.entries, BOOKS, before=[(form, entries)]), second),
    ):
        assert [each.code for each in found if each.code != "missing"] == wanted


@pytest.mark.parametrize(("value", "wanted"), [("1.85", []), ("1.95", ["between"])])
def test_accept_limits_are_those_of_the_column_that_is_ticked_on_the_sheet_before(value, wanted):
    """The feature is inspected again and its strip is not: R1 has accept limits and no tick."""
    own = replace(USED, sheet=FEATURE.sheet, operation="")
    feature = replace(FEATURE, of="60R1")
    form = Form((feature, own), ("60R1",), (), ANSWERS[1:])
    words = {feature.key: entry_of(value), own.key: entry_of("6")}
    before = (Form((USED, SIZE), ("50", "60"), (), ANSWERS), {USED.key: entry_of("6")})
    found = judged(form, words, BOOKS, [before])
    assert [each.code for each in found] == wanted


@pytest.mark.parametrize("middle", [(), (Answers("c3", "50", ("53", "68")),)], ids=["", "middle"])
@pytest.mark.parametrize(("value", "code"), [("58", ""), ("57.9", "out"), ("78.1", "out")])
def test_limits_that_a_window_of_a_strip_gives_are_judged_by_the_ticked_column(value, code, middle):
    """Both ends of a window have one mark, and so has the value in its middle, which may stand in
    the strip too: the row of either end is told apart."""
    used = ("used 6", "used 8")
    form = Form(
        (
            Field(T, "50", "used", "", "choice", used, ("6", "8")),
            Field(T, "50", "set to", "", "number", ("set to",), lower_by="c3", upper_by="c3"),
        ),
        ("50",),
        (),
        (*middle, Answers("c3.from", "50", ("48", "58")), Answers("c3.to", "50", ("68", "78"))),
    )
    words = {(T, "50", "used", ""): "8", (T, "50", "set to", ""): value}
    entries = {key: entry_of(word) for key, word in words.items()}
    assert [each.code for each in judged(form, entries, BOOKS)] == ([code] if code else [])


def test_the_second_unit_of_a_strip_is_no_second_answer():
    """Limits are written in the first unit; a row that repeats them in another must not make two."""
    strip = """::: strip
Tick the value used.

| wrench in | 8.0 | **9.0** |
| --- | --- | --- |
| [wrench setting lbf·in](#c1) | 10.9 | 11.1 |
| [the same in N·m](#c1) | 1.23 | 1.26 |
| [set: least lbf·in](#c1) | 10.2 | 10.3 |
| [set: the same in N·m](#c1) | 1.15 | 1.16 |
:::
"""
    part = Section("Operation 30", blocks_of(strip))
    assert [(each.mark, each.values) for each in answers_of([part])] == [
        ("c1", ("10.9", "11.1")),
        ("c1.from", ("10.2", "10.3")),
    ]
