"""Numbers of instruments on a tool list, in; those that are of another kind, unknown or overdue,
out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from types import MappingProxyType

import pytest

from generator.process import Instrument
from generator.results.case import Books
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.judge import judged

TOOLS = "tool-list"
HELD = {n: Instrument(n, kind, None, date(2026, 11, day)) for n, kind, day in (
    ("M-5", "leak test gauge", 30), ("M-6", "pressure gauge", 30), ("M-7", "leak test gauge", 2),
    ("M-8", "torque wrench", 30))}  # fmt: skip
BOX = Field(TOOLS, "", "leak test gauge", "", "words", ("number used",))
SIGN = [Field(TOOLS, "", "tools accepted", kind, kind, (kind,)) for kind in ("stamp", "date")]


READ = Field("traveller", "10", "leak test gauge no.", "", "words", ("leak test gauge no.",))
DONE = [Field("traveller", "10", "sign done", kind, kind, (kind,)) for kind in ("stamp", "date")]


def _said(
    word: str, row: str = "leak test gauge", beside: Mapping[Field, str] = MappingProxyType({})
) -> list[tuple[str, str, bool]]:
    words = {replace(BOX, row=row): word, SIGN[0]: "", SIGN[1]: "2026-11-03", **beside}
    entries = {field.key: entry_of(each) for field, each in words.items()}
    found = judged(Form(tuple(words), ("10",), ()), entries, Books({}, HELD))
    return [(e.row, f"{e.code}: {e.says}", e.blocks) for e in found if e.row in (row, READ.row)]


ANOTHER = "instrument: M-6 is a pressure gauge, no leak test gauge"
LATE = "overdue: M-7 was due 2026-11-02, used 2026-11-03"


@pytest.mark.parametrize(
    ("word", "wanted", "blocks"),
    [
        ("M-5", [], True),
        ("M-6", [ANOTHER], True),
        ("M-9", ["instrument: the workshop has no instrument M-9"], True),
        # The list has no day of use, and no reading tells one.
        ("M-7", [f"{LATE}: no reading names it"], False),
        ("M-5, M-6", [ANOTHER], True),
        ("M-5 and M-5", [], True),
    ],
)
def test_a_tool_list_names_instruments_of_its_kind_in_date(word, wanted, blocks):
    assert _said(word) == [(BOX.row, says, blocks) for says in wanted]


@pytest.mark.parametrize(
    ("used", "wanted"), [("2026-11-02", []), ("2026-11-03", [(READ.row, LATE, True)]), ("", [])]
)
def test_an_instrument_of_a_tool_list_is_in_date_where_it_stands_at_a_reading(used, wanted):
    """A line of N/A, or one who accepts the list, may be of another day than the work."""
    assert _said("M-7", beside={READ: "M-7", DONE[0]: "", DONE[1]: used}) == wanted
    assert _said("M-5", beside={READ: "M-7", DONE[0]: "", DONE[1]: used}) == wanted
    named = _said("M-7", beside={READ: "M-5", DONE[0]: "", DONE[1]: used})
    assert named == [(BOX.row, f"{LATE}: no reading names it", False)]


def test_a_line_of_a_tool_that_is_no_kind_of_instrument_takes_words():
    assert _said("the red one", "soft pencil") == []


def test_a_wrench_is_any_wrench():
    assert _said("M-8", "wrench") == []
