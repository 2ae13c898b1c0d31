"""Counts of a map of rivets, in; those that were rejected and not replaced, out."""

from __future__ import annotations

from functools import cache

import pytest

from generator.results.blank_form import blank_form
from generator.results.case import Case
from generator.results.entries import entries_in, entry_of
from generator.results.form import Field, Form
from generator.results.judge import _two_people, done_by
from generator.results.judge_counts import rejected, replaced, used
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
    return [f"{v.code}: {v.says}" for v in (*limits(case), *replaced(case), *rejected(case))
            if v.blocks]  # fmt: skip


@pytest.mark.parametrize(
    ("rejected", "again", "wanted"),
    [
        ("0", "0", []),
        ("2", "2", []),
        ("2", "1", ["out: 1 replaced of 2 rejected: a slip is needed, in the line of each"]),
        (
            "1",
            "3",
            ["count: 3 replaced of 1 rejected: each that is replaced was rejected, count again"],
        ),
        ("2", "some", ["number: 'some' is no number"]),
        ("-1", "-1", ["number: '-1' is below nothing, and things are counted"] * 2),
        ("few", "0", ["number: 'few' is no number"]),
    ],
)
def test_a_rivet_that_is_rejected_is_replaced(rejected, again, wanted):
    assert told({(*TOP, "rejected"): rejected, (*TOP, "replaced"): again}) == wanted


def test_each_rivet_that_is_not_replaced_has_a_slip_in_its_line():
    words = {(*TOP, "rejected"): "2", (*TOP, "replaced"): "0", (*FIRST, "slip no."): "S-1"}
    assert len(told(words)) == 1
    assert told({**words, (*SECOND, "slip no."): "S-1"}) == []


def test_the_slip_of_a_rivet_that_was_replaced_is_none_of_another():
    words = {(*TOP, "rejected"): "2", (*TOP, "replaced"): "1", (*FIRST, "slip no."): "S-1"}
    assert told({**words, (*FIRST, "replaced"): ""}) == []
    (found,) = told({**words, (*FIRST, "rivet no."): "7", (*FIRST, "replaced"): "x"})
    assert found.startswith("out: 1 replaced of 2 rejected: a slip is needed")


@pytest.mark.parametrize(
    ("line", "count"),
    [("7", 1), ("7, 9", 2), ("7 and 9", 2), ("7 8 9", 3), ("7 to 12", 6), ("7-9; 12", 4),
     ("7 in the upper row 3", 1), (f"7 to {'9' * 5_000}", 1), ("", 1)],
)  # fmt: skip
def test_a_line_may_leave_several_rivets_to_its_slip(line, count):
    slip = {(*FIRST, "rivet no."): line, (*FIRST, "slip no."): "S-1", (*FIRST, "replaced"): ""}
    for missing, wrong in ((count, False), (count + 1, True)):
        words = {(*TOP, "rejected"): str(missing), (*TOP, "replaced"): "0", **slip}
        assert bool(told(words)) == wrong


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


CRACKED = {(*FIRST, "rivet no."): "7", (*FIRST, "what was wrong"): "cracked"}
ONE = {(*TOP, "rejected"): "1", (*TOP, "replaced"): "1"}
FIVE = ["count: 5 rejected rivets are named, and 1 is counted as rejected"]
NEEDS = "out: rejected, not ticked as replaced: a slip is needed, in its line"


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ({**ONE, **CRACKED, (*FIRST, "replaced"): ""}, [NEEDS]),
        ({**ONE, (*FIRST, "hole after drilling out, mm"): "3.9", (*FIRST, "replaced"): ""}, [NEEDS]),
        ({**ONE, **CRACKED, (*FIRST, "replaced"): "x"}, []),
        ({**ONE, **CRACKED, (*FIRST, "replaced"): "", (*FIRST, "slip no."): "S-1"}, []),
        ({**CRACKED, (*FIRST, "replaced"): "x"},
         ["count: 1 rejected rivet is named, and 0 are counted as rejected"]),
        ({**ONE, **CRACKED, (*FIRST, "rivet no."): "7, 9 to 12"}, FIVE),
        ({**CRACKED, (*TOP, "rejected"): "1", (*FIRST, "replaced"): "",
          (*FIRST, "rivet no."): "7, 9 to 12", (*FIRST, "slip no."): "S-1"}, FIVE),
        ({**CRACKED, (*TOP, "rejected"): "5", (*TOP, "replaced"): "5",
          (*FIRST, "rivet no."): "7, 9 to 12"}, []),
        ({**ONE, **CRACKED, (*FIRST, "rivet no."): "7 in the upper row 3"}, []),
        ({**ONE, **CRACKED, (*SECOND, "rivet no."): "9", (*SECOND, "replaced"): "x"},
         ["count: 2 rejected rivets are named, and 1 is counted as rejected"]),
        ({**ONE, (*FIRST, "replaced"): "", (*FIRST, "rivet no."): "N/A: none"}, []),
    ],
)  # fmt: skip
def test_a_line_of_a_rejected_rivet_is_replaced_or_has_its_slip(words, wanted):
    assert told({(*FIRST, "replaced"): "x", **words}) == wanted


KIT = ("kit-list", "", "4 rivet 1/8 in, code 5 (2)")


@pytest.mark.parametrize(
    ("gone", "scrapped", "again", "wanted"),
    [
        ("96", "0", "0", True),
        ("98", "0", "2", True),
        ("96", "2", "2", True),
        ("100", "0", "0", True),  # some are driven elsewhere
        ("few", "0", "0", True),
        ("95", "0", "0", False),
        ("95", "1", "0", False),
        ("97", "0", "2", False),
        ("20", "0", "0", False),
    ],
)
def test_the_kit_has_used_what_the_map_has_driven(gone, scrapped, again, wanted):
    own, entries = filled(file_of("T6-P-0310"))
    counts = {f.key: "0" for f in own.fields if f.sheet == MAP and f.name == "replaced"}
    words = {
        **counts,
        (*TOP, "replaced"): again,
        (*KIT, "used"): gone,
        (*KIT, "scrapped"): scrapped,
    }
    case = Case(own, {**entries, **{k: entry_of(w) for k, w in words.items()}}, BOOKS)
    says = f"{gone} used, {scrapped} scrapped, and the map has 96 driven, {again} replaced"
    assert [v.says for v in used(case)] == ([] if wanted else [says])


def test_maps_of_two_items_are_not_held_against_the_kit():
    own, entries = filled(file_of("T6-P-0310"))
    other = Field(MAP, "", "rivet 5/32 in no. 1", "", "tick", ("tick",))
    case = Case(Form((*own.fields, other), own.operations, ()), entries, BOOKS)
    assert list(used(case)) == []


@pytest.mark.parametrize(
    ("riveter", "inspector", "wanted"),
    [("LQ14", "INS2", []), ("INS2", "INS2", ["same stamp"]), ("LQ14", "", []), ("INS2", "", [])],
)
def test_nobody_inspects_the_rivets_that_he_drove(riveter, inspector, wanted):
    own, _ = filled(file_of("T6-P-0310"))
    stamps = {f.boxes[0]: f for f in own.fields if f.sheet == MAP and f.kind == "stamp"}
    words = {stamps["riveter"].key: riveter, stamps["inspector"].key: inspector}
    case = Case(own, {k: entry_of(w) for k, w in words.items()}, BOOKS)
    assert [v.code for v in _two_people(case)] == wanted
    assert done_by(case) == {riveter}  # who drove them is no second inspector of the joint either


@pytest.mark.parametrize("word", ["all", {"not": ["top to starboard: agrees"]}])
def test_all_ticks_of_a_map_are_those_that_are_asked_for(word):
    """Who types all of a page says of no spare line that its rivet was replaced; nor of a label
    that its part is scrap."""
    own, _ = filled(file_of("T6-P-0310"))
    line = {"rivet no.": "7", "what was wrong": "cracked"}
    tree = {MAP: {"sheet": {"first of map rivets": line, "ticks": word}},
            "part-labels": {"sheet": {"ticks": "all"}}}  # fmt: skip
    entries, faults = entries_in(tree, own)
    assert not faults
    ticked = {key[:3] for key, entry in entries.items() if entry.text == "x"}
    assert FIRST not in ticked and ("part-labels", "", "label 1") not in ticked
    assert (MAP, "", "bottom to port") in ticked
    assert [v.row for v in rejected(Case(own, entries, BOOKS)) if v.code == "out"] == [
        "first of map rivets: replaced"
    ]
    tree[MAP]["sheet"] = {"first of map rivets": {**line, "replaced": "x"}, "ticks": word}
    entries, faults = entries_in(tree, own)
    assert not faults and entries[(*FIRST, "replaced")].text == "x"
    form = blank_form(own, "A-0001")
    assert '"slip no.": "", "replaced": ""}' in form
    assert '"label 1": {"part serial": "", "HOLD": "", "SERVICEABLE": "", "SCRAP": ""}' in form
