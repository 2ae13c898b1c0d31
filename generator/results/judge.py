"""The form of a traveller and what was entered, in; everything that is wrong or still open, out.

Values are judged by the limits as they were printed; stamps and instruments by the day on which
they were used. Nothing is repaired and nothing is guessed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator

from generator.results import (
    judge_clocks,
    judge_counts,
    judge_days,
    judge_fit,
    judge_heat,
    judge_holds,
    judge_left_out,
    judge_logs,
    judge_orders,
    judge_papers,
    judge_ranges,
    judge_stores,
    judge_tally,
    judge_ticks,
    judge_values,
    judge_wrench,
)
from generator.results.case import Books, Case, Verdict, said
from generator.results.entries import Entries
from generator.results.form import SIGNING, Field, Form
from generator.results.values import day_of

_OF_TWO = re.compile(r"(.+): (?:first|second), .+")
_RIVETER = "riveter"  # the box of who drove the rivets of a map
_CLOSING_UP = ("nothing left inside", "seen before closing up")


def judged(
    form: Form,
    entries: Entries,
    books: Books,
    before: Iterable[tuple[Form, Entries]] = (),
    later: Iterable[tuple[Form, Entries]] = (),
) -> tuple[Verdict, ...]:
    """All that is wrong, rule after rule, each in the order of the form.

    before, later: forms and entries of the other sheets of the traveller that were printed before
    this one and after it, each the latest first.
    """
    sides = (tuple(Case(of, written, books) for of, written in side) for side in (before, later))
    case = Case(form, entries, books, *sides)
    found = [verdict for rule in _RULES for verdict in rule(case)]
    found += judge_holds.over(case, found)
    return tuple(judge_holds.settled(case, each) for each in found)


# --- people -------------------------------------------------------------------------------------


def _stamps(case: Case) -> Iterator[Verdict]:
    """A stamp that nobody holds, or not on that day, or of another class than the box asks; a stamp
    without a day is not signed."""
    for stamp, day_field in _pairs(case):
        text = case.written(stamp)
        if not text:
            continue
        day = day_of(case.written(day_field)) if day_field else None
        if day_field is not None and day is None:
            yield said(stamp, "unsigned", f"{text} without a day is not signed")
        holder = case.books.stamps.get(text)
        if holder is None:
            yield said(stamp, "stamp", f"nobody holds the stamp {text}")
        elif day is not None and not holder.holds_on(day):
            yield said(stamp, "stamp", f"{text} did not hold on {day.isoformat()}")
        elif case.books.trade and not holder.holds_for(case.books.trade):
            yield said(stamp, "trade", f"{text} does not hold for {case.books.trade}")
        elif stamp.who and not {*SIGNING} & {*stamp.who.split(" or ")}:
            if text != stamp.who:
                yield said(stamp, "class", f"{text}, where the sheet names {stamp.who}")
        elif stamp.who and holder.role not in stamp.who.split(" or "):
            yield said(stamp, "class", f"{text} is of class {holder.role}, not {stamp.who}")


def _pairs(case: Case) -> Iterator[tuple[Field, Field | None]]:
    """Every stamp with the day of its row: the next behind it, else the last before it."""
    fields = case.form.fields
    for i, each in enumerate(fields):
        if each.kind == "stamp":
            ahead, past = fields[i + 1 :], fields[:i]
            behind = (f for f in ahead if _same_row(f, each) and case.form.is_done_on(f))
            before = (f for f in reversed(past) if _same_row(f, each) and case.form.is_done_on(f))
            yield each, next(behind, None) or next(before, None)


def _same_row(one: Field, other: Field) -> bool:
    return (one.sheet, one.operation, one.row) == (other.sheet, other.operation, other.row)


def _two_people(case: Case) -> Iterator[Verdict]:
    """Two stamps of one point are of two people, and the second took no part in the work."""
    doers = {*done_by(case), *case.books.doers}
    yield from _closing_up(case)
    yield from _own_rivets(case)
    for first, second in _points(case):
        one, other = case.written(first), case.written(second)
        if other and one == other:
            yield said(second, "same stamp", f"{other} stands twice where two people look")
        elif other in doers:
            yield said(second, "took part", f"{other} did work on this traveller")


def _closing_up(case: Case) -> Iterator[Verdict]:
    """Who saw that nothing was left inside is another than who says so."""
    rows = [[f for f in case.form.fields if f.kind == "stamp" and f.row == row]
            for row in _CLOSING_UP]  # fmt: skip
    for one, other in zip(*rows, strict=False):
        text = case.written(other)
        if text and case.written(one) == text:
            yield said(other, "same stamp", f"{text} stands twice where two people look")


def done_by(case: Case) -> Collection[str]:
    """The stamps of those who did the operations, and of who drove the rivets of a map."""
    did = (f for f in case.form.fields if f.row == "sign done" or _drove(f))
    return {case.written(f) for f in did} - {""}


def _drove(of: Field) -> bool:
    return of.kind == "stamp" and of.boxes[0] == _RIVETER


def _own_rivets(case: Case) -> Iterator[Verdict]:
    """Who inspects the rivets of a map is another than who drove them."""
    drove = {f.key[:3]: case.written(f) for f in case.form.fields if _drove(f)}
    for each in case.form.fields if drove else ():
        text = case.written(each) if each.kind == "stamp" and not _drove(each) else ""
        if text and text == drove.get(each.key[:3]):
            yield said(each, "same stamp", f"{text} stands twice where two people look")


def _points(case: Case) -> Iterator[tuple[Field, Field]]:
    """The stamps of the first and of the second person at each point that two people look at: in
    one row of an independent inspection, in two rows of another sheet."""
    independent = {stop.operation for stop in case.form.stops if stop.kind == "independent"}
    points: dict[tuple[str, str, str], list[Field]] = {}
    for each in case.form.fields:
        if each.kind != "stamp" or each.row == "sign done":
            continue
        of_two = _OF_TWO.fullmatch(each.row)
        if of_two or (each.sheet == "traveller" and each.operation in independent):
            point = of_two[1] if of_two else each.row
            points.setdefault((each.sheet, each.operation, point), []).append(each)
    return ((stamps[0], stamps[1]) for stamps in points.values() if len(stamps) == 2)


_RULES: tuple[Callable[[Case], Iterator[Verdict]], ...] = (
    judge_left_out.blank, judge_left_out.left_out, judge_left_out.operations,
    judge_left_out.witnesses,
    judge_values.late, judge_values.limits, judge_values.copies, judge_values.answers,
    judge_values.days, judge_logs.logs, judge_wrench.settings, judge_wrench.columns,
    judge_clocks.clocks, judge_heat.same_moments, judge_heat.aged, judge_heat.counted,
    judge_ticks.ticks,
    judge_days.holds_until, judge_days.notices, judge_days.in_order, _stamps, _two_people,
    judge_holds.holds,
    judge_counts.instruments, judge_ranges.ranges, judge_ranges.steps,
    judge_ranges.full_scale,
    judge_counts.counts, judge_counts.replaced, judge_counts.rejected, judge_counts.used,
    judge_counts.means, judge_counts.sheets,
    judge_orders.returned, judge_orders.days, judge_orders.treated,
    judge_stores.batches, judge_stores.serials,
    judge_papers.notices, judge_papers.slips, judge_tally.raised,
    judge_fit.fits,
)  # fmt: skip
