"""Holds and work on several sheets of one traveller, in; what is on the wrong side, out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from generator.results.case import Books, Case
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.form_says import Stop
from generator.results.judge_across import across

HOLD = Stop("30", "hold", ("10", "20"))


def sheet(stops: tuple[Stop, ...] = (), **signed: int) -> Case:
    """Operations with the day of December 2026 on which each was signed: o20=5."""
    fields = {each[1:]: Field("traveller", each[1:], "sign", "date", "date", ("date",))
              for each in signed}  # fmt: skip
    entries = {fields[name[1:]].key: entry_of(date(2026, 12, day).isoformat())
               for name, day in signed.items()}  # fmt: skip
    stamps = (replace(each, name="stamp", kind="stamp") for each in fields.values())
    whole = (*fields.values(), *stamps)
    return Case(Form(whole, tuple(fields), stops), entries, Books({}, {}))


TRAVELLER = ("", sheet((HOLD,), o10=1, o20=2, o30=5, o40=6))
AGAIN = Stop("30R2", "hold", ("10R2", "20R2"))


@pytest.mark.parametrize(
    ("others", "wanted"),
    [
        ([("R1", sheet(o20R1=4))], []),
        ([("R1", sheet(o20R1=7))], [("R1", "20R1", "after")]),
        ([("B", sheet(o40=4))], [("B", "40", "before")]),
        ([("R1", sheet(o50R1=4))], [("R1", "50R1", "before")]),
        # A later release of the same hold, on whatever sheet, covers what was done before it.
        ([("R1", sheet(o20R1=7)), ("R2", sheet((AGAIN,), o20R2=8, o30R2=9))], []),
        ([("R1", sheet(o20R1=7)), ("R2", sheet((AGAIN,), o20R2=8, o30R2=6))],
         [("R1", "20R1", "after")]),
    ],
)  # fmt: skip
def test_work_on_the_wrong_side_of_a_hold_on_another_sheet(others, wanted):
    found = list(across([TRAVELLER, *others]))
    assert [(name, number, says.split()[1]) for name, number, says in found] == wanted


def test_a_hold_of_a_newer_revision_stops_the_traveller_too():
    """The hold stands on change sheet B; what is behind it was signed on the traveller before."""
    found = list(across([("", sheet(o40=6)), ("B", sheet((HOLD,), o30=9))]))
    assert found == [("", "40", "signed before hold 30 was released")]


def test_a_day_on_a_record_of_another_sheet_is_one_too():
    other = sheet(o40=6)
    moved = tuple(replace(f, sheet="rigging-sheet") for f in other.form.fields)
    entries = {moved[0].key: other.entries[other.form.fields[0].key]}
    record = Case(replace(other.form, fields=moved), entries, Books({}, {}))
    found = list(across([("B", sheet((HOLD,), o30=9)), ("", record)]))
    assert found == [("", "40", "signed before hold 30 was released")]
