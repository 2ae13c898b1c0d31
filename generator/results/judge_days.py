"""Days that say until when something holds, in; what no longer held when it was used, out."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from generator.results.case import Case, Verdict, said
from generator.results.entries import day_of
from generator.results.form import Field


def holds_until(case: Case) -> Iterator[Verdict]:
    """A life that ended before the day of the work; where that is not signed, before the issue."""
    for each in case.form.fields:
        if each.kind == "date" and each.lower:
            yield from _over(case, each, case.days_of(each) or _issued(case))


def _issued(case: Case) -> list[date]:
    return [case.books.begun] if case.books.begun else []


def _over(case: Case, of: Field, used: list[date]) -> Iterator[Verdict]:
    """What is told of a day that lies before the latest of those on which a thing was used."""
    end, allowed = day_of(case.written(of)), case.allowed(of)
    if end is not None and used and end < max(used):
        more = "its slip is done with" if allowed else "a slip is needed"
        says = f"{end.isoformat()} is before the day of use, {max(used).isoformat()}: {more}"
        yield said(of, "out", says, not allowed)
