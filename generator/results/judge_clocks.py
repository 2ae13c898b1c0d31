"""Clocks of a form in; times out of their turn, sums that are none, and times before or after those
that they may not pass, out.

A time whose box has no day is of the day on which its operation was signed by who did it; a sum
past midnight is of the day after. What goes wrong is out of limits: it has a slip, and is decided
on, as any reading; so has what nobody can tell.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date
from functools import cached_property
from itertools import groupby, islice, product

from generator.composing.recorded import (
    DELAYED,
    DOOR_OPENS,
    QUENCH,
    SOAK_ENDS,
    SOAK_STARTS,
    SOAKED,
)
from generator.quantities.text import read_amount
from generator.quantities.units import unit
from generator.results.case import Case, Verdict, is_not_applicable
from generator.results.form import AGAIN, Field
from generator.results.form_says import IN_TURN, SINCE, ordinal
from generator.results.judge_values import beyond, on_a_slip, unticked
from generator.results.sums import added, worked_out
from generator.results.values import Moment, day_of, number_in

_DAY = 24 * 60
_LAST = _DAY - 1  # who signed for a day may have worked until its end
SUM = "to"
_ELSEWHERE = re.compile(r"(.+), operation ([0-9]+)")
TOLD_AGAIN = re.compile(r"(.+) (?:\(|of )operation ([0-9]+)\)?")
Meant = tuple[int, str]  # where an operation stands among the others, and the row of a clock
_READ_TO = 1.0  # minutes: hours and minutes tell no more of a time that was stopped
_STOPPED = (
    (SOAKED, SOAK_STARTS, SOAK_ENDS),
    (DELAYED, DOOR_OPENS, QUENCH),
)


def clocks(case: Case) -> Iterator[Verdict]:
    """Every clock held against those above it, its sum, its limits and what stands beside it."""
    times = Times(case)
    for _, together in groupby(times.turns, key=lambda f: (f.sheet, f.operation, _again(f))):
        yield from _in_turn(times, list(together))
    for each in times.turns:
        yield from _without_its_day(case, each)
        yield from _of_another_time(times, each)
        yield from _held(times, each)
        yield from _told_again(times, each)
    yield from _waited(times)
    yield from _logged(times)
    yield from _stopped(times)


def out(case: Case, of: Field, says: str) -> Verdict:
    return on_a_slip(case, of, "out", says)


def _again(of: Field) -> str:
    """What tells the rows of a second block of clocks from those of the first."""
    found = AGAIN.search(of.row)
    return found[0] if found else ""


class Times:
    """The times of one case: its clocks, and of each its moment."""

    def __init__(self, case: Case) -> None:
        self.case = case
        self.clocks = [f for f in case.form.fields if f.kind == "clock" and f.unit]
        self.turns = [f for f in self.clocks if f.unit == IN_TURN]

    @cached_property
    def before(self) -> tuple[Times, ...]:
        return tuple(map(Times, self.case.before))

    @cached_property
    def later(self) -> tuple[Times, ...]:
        return tuple(map(Times, self.case.later))

    def later_for(self, operation: str) -> tuple[Times, ...]:
        """The later sheets that can tell of what was done at an operation here."""
        wanted = self.case.later_for(operation)
        return tuple(each for each in self.later if any(each.case is w for w in wanted))

    def at(self, of: Field) -> Moment | None:
        """When a clock says that it was."""
        return self.case.at(of)


def _without_its_day(case: Case, of: Field) -> Iterator[Verdict]:
    """A time whose day was written off: it is held against nothing, and nobody can tell."""
    own = case.form.day_box(of)
    if own is not None and case.written(of) and case.entry(own).state == "not applicable":
        yield out(case, of, f"{case.written(of)}, and its day is N/A")


def _of_another_time(times: Times, of: Field) -> Iterator[Verdict]:
    """A time of its own on a day before the issue or after the entry: a wait that begins in another
    month would be long over. A sum may end later, and a time told again was earlier."""
    now = times.at(of) if times.case.form.day_box(of) is not None else None
    if now is None or now.day is None or of.added or of.name == "from" or told_by(of):
        return
    if wrong := beyond(times.case, of, now.day):
        yield out(times.case, of, f"{now}, and {wrong}")


def told_by(of: Field) -> re.Match[str] | None:
    """The row and the operation of which a time is told again; never its own."""
    told = TOLD_AGAIN.fullmatch(of.row)
    return told if told and int(told[2]) != ordinal(of.operation) else None


# --- in one operation ---------------------------------------------------------------------------


def _in_turn(times: Times, fields: Sequence[Field]) -> Iterator[Verdict]:
    """The clocks of one block from above: no time before the last one, a sum counts from that."""
    above: Field | None = None
    last: tuple[Field, Moment] | None = None
    for each in fields:
        now = times.at(each)
        if each.added:
            yield from _summed(times, each, now)
            yield from _without_its_end(times, each, above)
        elif each.name == "from":
            first = times.at(above) if above else None
            if above and now and now != first and _is_known(times, above):
                yield out(times.case, each, f"{now}, and {above.row} above is {first or 'N/A'}")
        else:
            if last and now and (last[1].until(now) or 0) < 0:
                yield out(times.case, each, f"{now} is before {last[0].row}, {last[1]}")
            above, last = each, (each, now) if now else last


def _is_known(times: Times, of: Field) -> bool:
    """Whether a clock tells what it has to tell: a time, or that there is none."""
    return times.at(of) is not None or times.case.entry(of).state == "not applicable"


def _summed(times: Times, of: Field, ends: Moment | None) -> Iterator[Verdict]:
    """A sum that is not what it adds up to. Without days it may run past midnight."""
    allowed, begun = added(times.case, of), _begins(times, of)
    if ends is None:
        return
    if begun is None:
        first = times.case.form.beside(of, "from")
        if first is not None and times.case.entry(first).state == "not applicable":
            yield out(times.case, of, f"{ends}, and what it counts from is N/A")
        return
    if allowed is None and not of.added_by:
        yield out(times.case, of, f"{ends}, and nobody can read what is added: {of.added}")
        return
    if allowed is None:
        says = f"{ends}, and no column is ticked that says what is added"
        yield unticked(times.case, of, says)
        return
    least, most = allowed
    passed = begun.until(ends) or 0
    if times.case.form.day_box(of) is None:
        passed %= _DAY
        least, most = least - _DAY * (most // _DAY), most % _DAY
    if not least - _READ_TO < passed < most + _READ_TO:
        yield out(times.case, of, f"{ends} is not {begun} and {of.added or 'what is ticked'}")


def _without_its_end(times: Times, of: Field, above: Field | None) -> Iterator[Verdict]:
    """A sum whose end was written off: nothing can be held against it, as against a time without
    its day. It is told where the time stands from which it counts; of a wait that has none, where
    its operation was signed. Where nothing began, the line of its N/A says so."""
    case = times.case
    whole = any(is_not_applicable(f) and case.written(f) for f in case.in_operation(of.operation))
    if case.entry(of).state != "not applicable" or whole:
        return
    begun = [(f, now) for f in (case.form.beside(of, "from"), above) if f and (now := times.at(f))]
    for each, now in begun[:1]:
        yield out(case, each, f"{now}, and the end of {of.row} is N/A")
    for each, day in islice(signed_on(case, of.operation), 0 if begun or not of.waits else 1):
        yield out(case, each, f"signed {day.isoformat()}, and the end of {of.row} is N/A")


# --- between operations -------------------------------------------------------------------------


def _held(times: Times, of: Field) -> Iterator[Verdict]:
    """A time before or after a sum that it may not pass, or before what its window counts from."""
    now = times.at(of)
    for label, words, sign in ((of.not_before, "before", 1), (of.not_after, "after", -1)):
        if not label or now is None:
            continue
        found = _sum_of(times, of, label)
        if found is None:
            yield out(times.case, of, f"{now}, and no sheet has {label}")
            continue
        limit, begins = found[0].at(found[1]), _begins(*found)
        if not (limit or begins) and found[0].case.entry(found[1]).state == "not applicable":
            yield out(times.case, of, f"{now}, and {label} is N/A")
        elif limit and (limit.until(now) or 0) * sign < 0:
            yield out(times.case, of, f"{now} is {words} {label}, {limit}")
        elif (right := _worked_out(*found, sign)) and (right.until(now) or 0) * sign < 0:
            yield out(times.case, of, f"{now} is {words} {label}, worked out as {right}")
        elif begins and _ELSEWHERE.fullmatch(label) and (begins.until(now) or 0) < 0:
            yield out(times.case, of, f"{now} is before {begins}, from which {label}, counts")


def _begins(times: Times, of: Field) -> Moment | None:
    """What a sum counts from."""
    first = times.case.form.beside(of, "from")
    return times.at(first) if first is not None else None


def _worked_out(times: Times, of: Field, sign: int) -> Moment | None:
    """When a sum is by what it counts from, whatever somebody wrote as it: the least of it (sign 1)
    or the most. None where its box is N/A, which is told by itself."""
    gone = times.case.entry(of).state == "not applicable"
    return None if gone else worked_out(times.case, of, _begins(times, of), sign)


def _sum_of(times: Times, of: Field, label: str) -> tuple[Times, Field] | None:
    """The sum that a label means."""
    if _ELSEWHERE.fullmatch(label):
        return holding(times, of.operation, _meant(of, label), SUM, times.at(of))
    here = (of.sheet, of.operation, label + _again(of), SUM)
    return next(((times, each) for each in times.turns if each.key == here), None)


def _meant(of: Field, label: str) -> Meant:
    other = _ELSEWHERE.fullmatch(label)
    return (int(other[2]), other[1]) if other else (ordinal(of.operation), label + _again(of))


def called(of: Field) -> Meant:
    """By which a clock is meant: a treatment on a sheet of its own has its operation beside it, and
    the second of a sheet is no other clock of its own treatment."""
    if of.operation:
        return ordinal(of.operation), of.row
    return ordinal(of.of), AGAIN.sub("", of.row)


def holding(
    times: Times, operation: str, meant: Meant, name: str, now: Moment | None
) -> tuple[Times, Field] | None:
    """The clock of another operation that holds for what was done at an operation then: on the
    latest sheet on which that had begun, else on this one, else on those before it. Where none of
    them has it, a later one."""
    ahead: list[tuple[Times, Field]] = []
    later = times.later_for(operation)
    for held in (*later, times, *times.before):
        for each in held.turns:
            if called(each) != meant or each.name not in (name, "time"):
                continue
            begun = _begins(held, each) or held.at(each)
            if held not in later or (begun and now and (begun.until(now) or 0) >= 0):
                return held, each
            ahead.append((held, each))
    return ahead[0] if ahead else None


def _told_again(times: Times, of: Field) -> Iterator[Verdict]:
    """A time of another operation, such as "out of the store (operation 150)", that is not the one
    that is written there."""
    told, now, case = told_by(of), times.at(of), times.case
    if told is None or now is None:
        return
    meant = (int(told[2]), told[1])
    found = holding(times, of.operation, meant, "", done_by_then(case, of, now))
    first = found[0].at(found[1]) if found else None
    if found and first and first.until(now):
        yield out(case, of, f"{now}, and operation {found[1].operation} has {first}")


def done_by_then(case: Case, of: Field, now: Moment) -> Moment:
    """Until when what a clock tells may have begun: the end of the day of its last signature."""
    by = max((day for _, day in signed_on(case, of.operation)), default=None)
    return Moment(_LAST, by) if by else now


def _waited(times: Times) -> Iterator[Verdict]:
    """Work behind a wait that was begun or signed before its end, told once for each operation."""
    ends = list(_ends_of_waits(times))
    for number in times.case.form.operations:
        for wait in ends:
            yield from islice(_too_early(times, number, wait), 1)


def _ends_of_waits(times: Times) -> Iterator[Meant]:
    """The sums at which a wait ends. One after which something may not be done is the end of a
    window, and no wait."""
    turns = [f for held in (times, *times.later, *times.before) for f in held.turns]
    last = {_meant(f, f.not_after) for f in turns} - {_meant(f, f.not_before) for f in turns}
    waits = dict.fromkeys((ordinal(f.operation), f.row) for f in turns if f.waits)
    return (each for each in waits if each not in last)


def _too_early(times: Times, number: str, wait: Meant) -> Iterator[Verdict]:
    for each, now, told in done_since(times, number, wait[0]):
        found = holding(times, number, wait, SUM, now)
        if found and (ends := end_behind(*found, now)):
            wrong = f"{told}, and the wait of operation {found[1].operation} ends {ends}"
            yield out(times.case, each, wrong)


def end_behind(times: Times, of: Field, now: Moment) -> Moment | None:
    """The end of a sum, as it is written or else as it is worked out, where it is still to come at
    a time; None where it is over."""
    both = (times.at(of), _worked_out(times, of, 1))
    return next((e for e in both if e and e.day and (e.until(now) or 0) < 0), None)


def done_since(times: Times, number: str, wait: int) -> Iterator[tuple[Field, Moment, str]]:
    """When an operation was begun and signed, in words too, that stands behind a wait; when the
    wait itself was signed."""
    behind = wait < ordinal(number)
    if behind:
        yield from ((each, now, str(now)) for each, now in begun_at(times, number))
    if behind or wait == ordinal(number):
        for each, day in signed_on(times.case, number):
            yield each, Moment(_LAST, day), f"signed {day.isoformat()}"


def begun_at(times: Times, number: str) -> Iterator[tuple[Field, Moment]]:
    """The times that an operation has of its own."""
    for each in times.turns:
        own = each.operation == number and not each.added
        if own and each.name != "from" and not told_by(each):
            now = times.at(each)
            yield from ((each, now),) if now else ()


def signed_on(case: Case, number: str) -> Iterator[tuple[Field, date]]:
    """The days on which an operation was signed, each with its box."""
    for each in case.form.signed.get(number, ()):
        day = day_of(case.written(each))
        yield from ((each, day),) if day else ()


# --- beside other boxes -------------------------------------------------------------------------


def _logged(times: Times) -> Iterator[Verdict]:
    """The clocks of a log, each as long after the first that tells a time as their rows say. A log
    has no days: one that runs on the next day is at the same hours."""
    rows = [f for f in times.clocks if f.unit == SINCE]
    for _, together in groupby(rows, key=lambda f: (f.sheet, f.operation)):
        told = [(f, now) for f in together if (now := times.at(f))]
        for (first, begun), (each, now) in product(told[:1], told[1:]):
            late = (begun.until(now) or 0) - (_since(each) - _since(first))
            if _READ_TO < late % _DAY < _DAY - _READ_TO:
                base = f"{each.row} after {begun}"
                base = base if not _since(first) else f"at {each.row}, and {first.row} is {begun}"
                yield out(times.case, each, f"{now} is not {base}")


def _since(row: Field) -> float:
    """How long after the start of a log one of its rows is, in minutes."""
    return read_amount(AGAIN.sub("", row.row)).value / unit("min").factor


def _stopped(times: Times) -> Iterator[Verdict]:
    """A time that was stopped, and that is not what lies between its two clocks."""
    case, found = times.case, {f.row: f for f in times.turns if not f.added}
    for each in case.form.fields if found else ():
        for row, begins, ends in _STOPPED:
            if each.kind != "number" or not each.row.startswith(row):
                continue
            again = _again(each)
            pair = [found.get(label + again) for label in (begins, ends)]
            when = [times.at(f) if f else None for f in pair]
            value = number_in(case.written(each))
            passed = when[0].until(when[1]) if when[0] and when[1] else None
            if value is None or passed is None:
                continue
            minutes = value * unit(each.unit).factor / unit("min").factor
            if abs(minutes - passed) > _READ_TO:
                says = f"{case.written(each)} {each.unit}, and from {when[0]} to {when[1]}"
                yield out(case, each, f"{says} are {passed} min")
