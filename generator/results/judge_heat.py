"""Heat treatments of a form in; the same moment that is written down twice and differs, out.

The record of a treatment has one wall clock for every time, each with its day. What an operation
tells of the same moment, at its own clock or at a later one, is that time.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from generator.composing.recorded import (
    DOOR_OPENS,
    QUENCH,
    SOAK_ENDS,
    SOAK_STARTS,
    STORED,
    TAKEN_OUT,
)
from generator.results.case import Case, Verdict
from generator.results.form import Field
from generator.results.form_says import ordinal
from generator.results.judge_clocks import Times, called, done_by_then, holding, out, told_by

# What an operation may call a moment of a record, and what the record calls it.
_MOMENTS = {
    **{each: each for each in (DOOR_OPENS, QUENCH, SOAK_STARTS, SOAK_ENDS, STORED, TAKEN_OUT)},
    "quench": QUENCH, "last metal under": QUENCH, "soak starts": SOAK_STARTS,
    "load at temperature": SOAK_STARTS, "door opens": DOOR_OPENS,
    "into the store": STORED, "out of the store": TAKEN_OUT,
}  # fmt: skip


def same_moments(case: Case) -> Iterator[Verdict]:
    """A time at an operation that is not the one that the record of its treatment has."""
    times = Times(case)
    places = _treated(times)
    for each in times.turns if places else ():
        row = recorded_as(each)
        if row and not each.added and each.name != "from":
            yield from _as_recorded(times, each, row, places)


def recorded_as(of: Field) -> str:
    """What the record of a treatment calls the moment of a clock at an operation; "" for none."""
    told = told_by(of)
    row = _MOMENTS.get((told[1] if told else of.row).lower(), "")
    return row if of.operation and called(of)[1] != row else ""


def _treated(times: Times) -> Collection[int]:
    """Where the operations stand that have a record of a treatment, on any of the sheets."""
    sheets = (times, *times.later, *times.before)
    return {called(f)[0] for held in sheets for f in held.turns if called(f)[1] == QUENCH} - {0}


def _as_recorded(times: Times, of: Field, row: str, places: Collection[int]) -> Iterator[Verdict]:
    told, now, case = told_by(of), times.at(of), times.case
    last = int(told[2]) if told else ordinal(of.operation)
    place = max((each for each in places if each <= last), default=0)
    if now is None or not place:
        return
    found = holding(times, of.operation, (place, row), "", done_by_then(case, of, now))
    then = found[0].at(found[1]) if found else None
    if found is None or then is None:
        return
    if now.minutes != then.minutes or (_day_counts(times, of) and then.until(now)):
        sheet = found[1].sheet.replace("-", " ")
        yield out(case, of, f"{now}, and the {sheet} has {found[1].row} {then}")


def _day_counts(times: Times, of: Field) -> bool:
    """Whether the day of a clock tells: one that is written, or by which a window of its operation
    is counted for another one. Else the day of its signature may be a later one."""
    if times.case.form.day_box(of) is not None:
        return True
    end = f", operation {ordinal(of.operation)}"
    sheets = (times, *times.later, *times.before)
    labels = (label for held in sheets for f in held.turns for label in (f.not_before, f.not_after))
    return any(label.endswith(end) for label in labels)
