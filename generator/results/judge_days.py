"""Days in: those until which something holds, those on which notice was given, and those on which
operations were signed. Out: what no longer held when it was used, notice that came too late, and
work that was done before what goes before it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from itertools import pairwise

from generator.composing.recorded import SOAK_ENDS, SOAK_STARTS
from generator.quantities.text import read_amount
from generator.quantities.units import unit
from generator.results.case import Case, Verdict, said
from generator.results.form import FURNACE_DUE, Field
from generator.results.form_says import ordinal
from generator.results.judge_holds import names_a_slip
from generator.results.values import day_of


def holds_until(case: Case) -> Iterator[Verdict]:
    """A life, a use by or a check due that ended before the day of use. A furnace is used on the
    days of its record, whatever is worked on later."""
    for each in case.form.fields:
        if not each.lasts or (end := day_of(case.written(each))) is None:
            continue
        heats = each.boxes[0] == FURNACE_DUE
        used = _heated(case, each) if heats else _used(case, each)
        alone = heats or each.used_in or not each.operation
        behind = [] if alone else _behind(case, each)
        if used and end < max(used):
            yield _over(case, each, f"{end.isoformat()} is before the day of use, {max(used)}")
        elif behind and end < max(behind):
            says = f"{end.isoformat()} is before the last day of work behind it, {max(behind)}"
            yield _over(case, each, says)
        elif not heats and not each.operation and not each.used_in:
            yield from _late_work(case, each, end)


def _over(case: Case, of: Field, says: str) -> Verdict:
    allowed = case.allowed(of)
    more = "its slip is done with" if allowed else "a slip is needed"
    return said(of, "out", f"{says}: {more}", not allowed)


def _used(case: Case, of: Field) -> Sequence[date]:
    """The days on which a thing was surely in use: those of its operations, on every later sheet
    too that does not say anew until when it holds; before these are signed, and where nobody says
    in which it is used, the first of its sheet, or of the issue."""
    numbers = {*of.used_in, *([of.operation] if of.operation else [])}
    standing = numbers - {*case.books.done_again}
    signed = [day for number in standing for day in case.days(number)]
    places = {*map(ordinal, of.used_in)}
    for sheet in _as_before(case, of):
        signed += _days(sheet, lambda n: ordinal(n) in places)
    if signed or numbers > standing:
        return signed
    first = [] if of.operation else case.days_of(of)
    return sorted(first)[:1] or ([case.books.begun] if case.books.begun else [])


def _heated(case: Case, of: Field) -> Sequence[date]:
    """The days on which a furnace was in use: those of the soak by its clocks, since who signs may
    do so later; where no clock tells, the first that its sheet or its operation has."""
    again = of.row.removeprefix("charge")  # (2) of the second treatment on a sheet
    soak = [f for f in case.form.fields if f.kind == "clock" and f.key[:2] == of.key[:2]
            and f.row in (SOAK_STARTS + again, SOAK_ENDS + again)]  # fmt: skip
    days = [at.day for f in soak if (at := case.at(f)) and at.day]
    return days or sorted(case.days_of(of))[:1]


def _behind(case: Case, of: Field) -> list[date]:
    """The days of all work behind a reading of a life: no operation says that it alone uses what
    the life is of."""
    here = ordinal(of.operation)
    standing = {*case.form.operations} - {*case.books.done_again}
    found = _days(case, lambda n: n in standing and ordinal(n) > here)
    for sheet in _as_before(case, of):
        found += _days(sheet, lambda n: ordinal(n) > here)
    return found


def _as_before(case: Case, of: Field) -> Iterator[Case]:
    """The later sheets until one says anew until when a thing holds, as a new batch does."""
    for sheet in reversed(case.later):
        if any(f.lasts and f.row == of.row and ordinal(f.operation) == ordinal(of.operation)
               and sheet.written(f) for f in sheet.form.fields):  # fmt: skip
            return
        yield sheet


def _days(case: Case, which: Callable[[str], bool]) -> list[date]:
    return [day for n in case.form.operations if which(n) for day in case.days(n)]


def _late_work(case: Case, of: Field, end: date) -> Iterator[Verdict]:
    """Work went on after the end of a thing that no operation names: somebody must know."""
    sheets = (case, *_as_before(case, of))
    last = max((day for each in sheets for day in _days(each, lambda n: True)), default=end)
    if end < last:
        says = f"{end.isoformat()} is before the last day of work, {last.isoformat()}"
        yield said(of, "until", f"{says}: was it used after its day?", blocks=False)


def notices(case: Case) -> Iterator[Verdict]:
    """A witness who was called later than the sheet asks. One who came and signed took it as it
    was; where nobody came, it was no leave to go on without."""
    for stop in case.form.stops:
        asked = _whole_days(stop.notice)
        given = [f for f in case.in_operation(stop.operation, "date") if f.row == "notice"]
        for each in given if stop.notice else ():
            day, done = day_of(case.written(each)), case.days(stop.operation)
            if day is None or not done or (min(done) - day).days >= asked:
                continue
            came = any(case.written(f) for f in case.in_operation(stop.operation, "stamp")
                       if f.row == "sign witness")  # fmt: skip
            says = f"given {day.isoformat()} for {min(done).isoformat()}: the sheet asks for "
            more = ", and the witness came" if came else ", and nobody came: call again"
            yield said(each, "notice", says + stop.notice + more, not (came or case.allowed(each)))


def in_order(case: Case) -> Iterator[Verdict]:
    """An operation that was done on an earlier day than the signed one before it. Nothing in a
    process says that the one waits for the other, as a hold does, so that it is told and stops
    nothing: a wrong day, or work that somebody must know of. What is on the wrong side of a hold is
    told there."""
    holds = {stop.operation: stop for stop in case.form.stops if stop.kind == "hold"}
    standing = [n for n in case.form.operations if n not in case.books.done_again]
    signed = [(n, day) for n in standing if (day := case.done_on(n)) is not None]
    for (before, first), (number, then) in pairwise(signed):
        at_a_hold = before in holds or (number in holds and before in holds[number].closes)
        if then >= first or at_a_hold or any(names_a_slip(case, n) for n in (before, number)):
            continue
        says = f"signed {then.isoformat()}, and operation {before} before it {first.isoformat()}"
        of = next(f for f in case.form.signed[number] if day_of(case.written(f)) == then)
        more = "correct the wrong day, or name the slip that says why"
        yield said(of, "order", f"{says}: {more}", blocks=False)


def _whole_days(notice: str) -> int:
    """The days that must lie between two dates for a notice such as 3 d, or 36 h, which may lie
    within two days that follow each other."""
    return int(unit("d").from_base(read_amount(notice).value)) if notice else 0
