"""Counts of a map of rivets, in; those that were rejected and not replaced, out."""

from __future__ import annotations

from functools import cache

import pytest

from generator.results.case import Case
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.judge_counts import replaced
from generator.results.judge_values import limits
from tests.compose.sheets import file_of
from tests.results.judging import BOOKS
from tests.results.test_judge_clocks import entered

filled = cache(entered)
MAP = "rivet-map"
TOP = (MAP, "", "top to starboard")
FIRST, SECOND = ((MAP, "", f"{n} of map rivets") for n in ("first", "second"))


def told(words: dict[tuple[str, str, str, str], str]) -> list[str]:
    own, entries = filled(file_of("T6-P-0310"))
    fields = tuple(f for f in own.fields if f.sheet == MAP)
    good = {f.key: "0" for f in fields if f.name in ("rejected", "replaced") and f.kind != "tick"}
    entered_ = {**entries, **{k: entry_of(w) for k, w in {**good, **words}.items()}}
    case = Case(Form(fields, own.operations, ()), entered_, BOOKS)
    return [f"{v.code}: {v.says}" for v in (*limits(case), *replaced(case)) if v.blocks]


@pytest.mark.parametrize(
    ("rejected", "again", "wanted"),
    [
        ("0", "0", []),
        ("2", "2", []),
        ("2", "1", ["out: 1 replaced of 2 rejected: a slip is needed, in the line of each"]),
        ("2", "some", ["number: 'some' is no number"]),
        ("few", "0", ["number: 'few' is no number"]),
    ],
)
def test_a_rivet_that_is_rejected_is_replaced(rejected, again, wanted):
    assert told({(*TOP, "rejected"): rejected, (*TOP, "replaced"): again}) == wanted


def test_each_rivet_that_is_not_replaced_has_a_slip_in_its_line():
    words = {(*TOP, "rejected"): "2", (*TOP, "replaced"): "0", (*FIRST, "slip no."): "S-1"}
    assert len(told(words)) == 1
    assert told({**words, (*SECOND, "slip no."): "S-1"}) == []


def test_the_slips_of_one_map_are_none_of_another():
    def plan(name: str) -> list[Field]:
        row, line = (MAP, "", f"row of {name}"), (MAP, "", f"first of {name}")
        return [
            *(Field(*row, n, "number", (n,), unit="count") for n in ("driven", "rejected", "replaced")),
            Field(*line, "slip no.", "words", ("slip no.",)),
        ]  # fmt: skip

    fields = (*plan("skin"), *plan("rib"))
    words = dict(
        zip((f.key for f in fields), ("9", "1", "1", "S-1", "9", "1", "0", ""), strict=True)
    )
    entries = {k: entry_of(w) for k, w in words.items()}
    found = list(replaced(Case(Form(fields, (), ()), entries, BOOKS)))
    assert [(v.row, v.blocks) for v in found] == [("row of rib: replaced", True)]
