"""The sheets of one traveller with what stands on them, in; work that is on the wrong side of a
hold on another sheet, out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from generator.results.case import Case
from generator.results.form_says import Stop, ordinal
from generator.results.supplement import is_rework


def across(sheets: Sequence[tuple[str, Case]]) -> Iterator[tuple[str, str, str]]:
    """Sheet, operation and what is wrong: work behind a hold that was done before its release, work
    that it closes done after the last release of it on any sheet.

    sheets: by name, "" the traveller, R1 a rework sheet, whose own holds are judged on it alone.
    """
    for name, holding in sheets:
        for stop in holding.form.stops if not is_rework(name) else ():
            released = holding.days(stop.operation)
            if stop.kind == "hold" and released:
                last = max(_releases(sheets, stop))
                for other, case in sheets:
                    if other != name and not _has(case, stop):
                        yield from _beside(other, case, stop, (max(released), last))


def _has(case: Case, stop: Stop) -> bool:
    """Whether a sheet has the hold itself, and so judges it."""
    return ordinal(stop.operation) in map(ordinal, (each.operation for each in case.form.stops))


def _releases(sheets: Sequence[tuple[str, Case]], stop: Stop) -> Iterator[date]:
    for _, case in sheets:
        for each in case.form.stops:
            if ordinal(each.operation) == ordinal(stop.operation):
                yield from case.days(each.operation)


def _beside(
    name: str, case: Case, stop: Stop, released: tuple[date, date]
) -> Iterator[tuple[str, str, str]]:
    first, last = released
    closed = {*map(ordinal, stop.closes)}
    for number in case.form.operations:
        days = case.all_days(number)
        if days and ordinal(number) > ordinal(stop.operation) and min(days) < first:
            yield name, number, f"signed before hold {stop.operation} was released"
        elif days and ordinal(number) in closed and max(days) > last:
            yield name, number, f"signed after hold {stop.operation} was released"
