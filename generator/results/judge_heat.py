"""Heat treatments of a form in; the same moment that is written down twice and differs, work that
waits for the end of the ageing and did not, and a treatment that nobody counted, out.

The record of a treatment has one wall clock for every time, each with its day. What an operation
tells of the same moment, at its own clock or at a later one, is that time.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import islice

from generator.composing.recorded import (
    AGED,
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
from generator.results.judge_clocks import (
    SUM,
    TOLD_AGAIN,
    Meant,
    Times,
    called,
    done_by_then,
    done_since,
    end_behind,
    holding,
    out,
    told_by,
)
from generator.results.judge_values import on_a_slip
from generator.results.sums import length
from generator.results.values import Moment, number_in

TREATED = "treatments with this one"  # the count of a record, and its column there
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
    told = TOLD_AGAIN.fullmatch(of.row)
    row = _MOMENTS.get((told[1] if told else of.row).lower(), "")
    return row if of.operation and called(of)[1] != row else ""


def _treated(times: Times) -> Collection[int]:
    """Where the operations stand that have a record of a treatment, on any of the sheets."""
    return {called(f)[0] for f in _everywhere(times) if called(f)[1] == QUENCH} - {0}


def _everywhere(times: Times) -> list[Field]:
    return [f for held in (times, *times.later, *times.before) for f in held.turns]


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
        yield out(case, of, f"{now}, and {_recorded(found[1])} has {found[1].row} {then}")


def _recorded(of: Field) -> str:
    """Where the record of a treatment stands: a rework sheet has it below its operation."""
    return f"operation {of.operation}" if of.operation else f"the {of.sheet.replace('-', ' ')}"


def _day_counts(times: Times, of: Field) -> bool:
    """Whether the day of a clock tells: one that is written, or by which a window of its operation
    is counted for another one. Else the day of its signature may be a later one."""
    if times.case.form.day_box(of) is not None:
        return True
    end = f", operation {ordinal(of.operation)}"
    labels = (label for f in _everywhere(times) for label in (f.not_before, f.not_after))
    return any(label.endswith(end) for label in labels)


# --- ageing -------------------------------------------------------------------------------------


def aged(case: Case) -> Iterator[Verdict]:
    """Work done before the ageing was complete by the record: the wait that is as long, and all
    behind it. Where the process has no such wait, a hold that closes the treatment, but for one
    before work that must be done in a window, when the metal is still soft."""
    times = Times(case)
    ends = {called(f): f for f in times.turns if f.name == SUM and f.row.startswith(AGED)}
    for held in (*times.before, *times.later):
        ends |= {called(f): f for f in held.turns if f.name == SUM and f.row.startswith(AGED)}
    for meant, ageing in ends.items():
        waits = _waits(times, meant[0], ageing)
        wait = min(waits, default=(0, ""))
        for number in case.form.operations:
            if wait[0] or _closes(times, number, meant[0]):
                first = wait[0] or ordinal(number)
                yield from islice(_before_its_end(times, number, first, meant, waits), 1)


def _waits(times: Times, place: int, ageing: Field) -> Collection[Meant]:
    """The waits behind a treatment that are as long as its ageing, before the next treatment."""
    wanted = length(ageing)
    behind = min((each for each in _treated(times) if each > place), default=None)
    return {
        called(f) for f in _everywhere(times)
        if f.waits and f.name == SUM and length(f) == wanted is not None
        and place < called(f)[0] and (behind is None or called(f)[0] < behind)
    }  # fmt: skip


def _closes(times: Times, number: str, place: int) -> bool:
    """Whether an operation is a hold that closes a treatment and is behind the windows that begin
    with it, or at a clock that tells a moment of its record."""
    every = _everywhere(times)
    begins = {place, *(called(f)[0] for f in every if recorded_as(f))}
    ends = tuple(f", operation {each}" for each in begins if each >= place)
    last = [called(f)[0] for f in every if f.not_after.endswith(ends)]
    stops = times.case.form.stops
    closing = any(s.operation == number and place in map(ordinal, s.closes) for s in stops)
    return closing and ordinal(number) > max(last, default=place)


def _before_its_end(
    times: Times, number: str, first: int, meant: Meant, waits: Collection[Meant]
) -> Iterator[Verdict]:
    """What was done at an operation before the end; a wait that is over later tells it itself."""
    for each, now, told in done_since(times, number, first):
        found = holding(times, number, meant, SUM, now)
        ends = end_behind(*found, now) if found else None
        if found is None or ends is None:
            continue
        if not any(_is_over(times, number, wait, now, ends) for wait in waits):
            yield out(times.case, each, f"{told}, and {_recorded(found[1])} has {AGED} {ends}")


def _is_over(times: Times, number: str, wait: Meant, now: Moment, ends: Moment) -> bool:
    """Whether a wait is over no earlier than the ageing."""
    found = holding(times, number, wait, SUM, now)
    over = found[0].at(found[1]) if found else None
    return over is not None and over.day is not None and (ends.until(over) or 0) >= 0


# --- done again ---------------------------------------------------------------------------------


def counted(case: Case) -> Iterator[Verdict]:
    """A count of treatments that is no higher than on a sheet before, on which the same treatment
    was made: clad metal that is treated once too often looks as sound as any. Metal that is new is
    said to be on a slip."""
    for each in _counts(case):
        now = number_in(case.written(each))
        place = ordinal(each.operation or each.of)
        for sheet in case.before:
            earlier = (sheet.written(f) for f in _counts(sheet)
                       if ordinal(f.operation or f.of) == place)  # fmt: skip
            most = max((n for text in earlier if (n := number_in(text)) is not None), default=None)
            if now is None or most is None:
                continue
            if now <= most:
                says = f"{case.written(each)}, and the sheet before has {most:g} without this one"
                yield on_a_slip(case, each, "out", says)
            break


def _counts(case: Case) -> list[Field]:
    return [f for f in case.form.fields if f.boxes[0] == TREATED]
