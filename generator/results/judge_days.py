"""Days that say until when something holds, and on which notice was given, in; what no longer held
when it was used, and notice that came too late, out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from generator.quantities.text import read_amount
from generator.quantities.units import unit
from generator.results.case import Case, Verdict, said
from generator.results.form import Field
from generator.results.values import day_of


def holds_until(case: Case) -> Iterator[Verdict]:
    """A life, a use by or a check due that ended before the day of use."""
    for each in case.form.fields:
        if not each.lasts or (end := day_of(case.written(each))) is None:
            continue
        used = _used(case, each)
        if used and end < max(used):
            allowed = case.allowed(each)
            more = "its slip is done with" if allowed else "a slip is needed"
            says = f"{end.isoformat()} is before the day of use, {max(used).isoformat()}: {more}"
            yield said(each, "out", says, not allowed)
        elif not each.operation and not each.used_in:
            yield from _late_work(case, each, end)


def _used(case: Case, of: Field) -> Sequence[date]:
    """The days on which a thing was surely in use: those of its operations; before these are
    signed, and where nobody says in which it is used, the first of its sheet, or of the issue."""
    signed = [day for number in of.used_in for day in case.days(number)]
    signed += case.days(of.operation) if of.operation else []
    if signed:
        return signed
    first = [] if of.operation else case.days_of(of)
    return sorted(first)[:1] or ([case.books.begun] if case.books.begun else [])


def _late_work(case: Case, of: Field, end: date) -> Iterator[Verdict]:
    """Work went on after the end of a thing that no operation names: somebody must know."""
    last = max((day for n in case.form.operations for day in case.days(n)), default=end)
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


def _whole_days(notice: str) -> int:
    """The days that must lie between two dates for a notice such as 3 d, or 36 h, which may lie
    within two days that follow each other."""
    return int(unit("d").from_base(read_amount(notice).value)) if notice else 0
