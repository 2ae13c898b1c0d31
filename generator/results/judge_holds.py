"""Holds of a form with the work on both sides of them, in; work on the wrong side, and what a hold
was released over, out.

An operation that a complete rework sheet stands for is judged there: a hold that is released again
is released, and what was signed on the wrong side and is done again says nothing any more.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from generator.results.case import Case, Verdict, said
from generator.results.form import Field
from generator.results.form_says import Stop, ordinal
from generator.results.judge_left_out import is_missing
from generator.results.judge_values import on_a_slip
from generator.results.values import day_of, number_in

_TRAVELLER = "traveller"
_SIGN = "sign hold"
_SLIP = "slip no."
_BEYOND = ("out", "between")
# What is wrong with a signature: a hold with it was never released.
PEOPLE = ("stamp", "trade", "class", "unsigned", "missing", "same stamp", "took part")
# Work that is not done, and boxes that are not typed, stay open: nobody knows what stands there.
_OPEN = ("missing", "reason", "hold")


def holds(case: Case) -> Iterator[Verdict]:
    """Work behind a hold that is not released, or dated before its release; work that the hold
    closed, dated after it."""
    for stop in _holds(case):
        released = _released(case, stop) or _again(case, stop)
        begun = _begun_behind(case, stop)
        if _released(case, stop):
            yield from _left_blank(case, stop)
        if begun and not released:
            field = case.in_operation(stop.operation)[0]
            yield said(field, "hold", f"operation {begun[0]} is entered and the hold not released")
        if released:
            last = max([*released, *_again(case, stop)])
            yield from _out_of_turn(case, stop, begun, (max(released), last))


def _holds(case: Case) -> Iterator[Stop]:
    return (stop for stop in case.form.stops if stop.kind == "hold")


def _released(case: Case, stop: Stop) -> list[date]:
    """The days of a release that every stamp is on."""
    stamped = [f for f in case.in_operation(stop.operation, "stamp") if f.row == _SIGN]
    return case.days(stop.operation) if all(map(case.written, stamped)) else []


def _again(case: Case, stop: Stop) -> list[date]:
    """The days on which a hold was released that is on a complete rework sheet again: of the sheets
    for which no other stands."""
    if stop.operation not in case.books.done_again:
        return []
    there = (
        (sheet, each) for sheet in case.later for each in sheet.form.stops
        if ordinal(each.operation) == ordinal(stop.operation)
        and each.operation not in case.books.done_again
    )  # fmt: skip
    return [day for sheet, each in there for day in _released(sheet, each)]


def _begun_behind(case: Case, stop: Stop) -> list[str]:
    """The operations behind a hold that are entered and not done again."""
    numbers = case.form.operations
    after = numbers[numbers.index(stop.operation) + 1 :]
    return [n for n in after if n not in case.books.done_again
            and any(case.written(f) for f in case.in_operation(n))]  # fmt: skip


def _left_blank(case: Case, stop: Stop) -> Iterator[Verdict]:
    """Work that a hold closes and of which a box is empty, though the hold is released."""
    for number in stop.closes:
        again = number in case.books.done_again
        for each in case.in_operation(number):
            if is_missing(case, each) and not (again and _signs(case, each)):
                says = (
                    f"hold {stop.operation} is released, and a box of operation {number} is empty"
                )
                yield said(each, "hold", says)
                break


def _out_of_turn(
    case: Case, stop: Stop, begun: Sequence[str], released: tuple[date, date]
) -> Iterator[Verdict]:
    """What was signed, on the traveller or on the record on which it is written down, on the wrong
    side of the days on which a hold was released, first and last."""
    first, last = released
    for number, words in (
        *((n, "before") for n in begun),
        *((n, "after") for n in stop.closes),
    ):
        for each in case.form.dated.get(number, ()):
            day = day_of(case.written(each))
            if day and (day < first if words == "before" else day > last):
                says = f"{signed_on(each, day)}, {words} hold {stop.operation} was released"
                yield said(case.in_operation(number)[0], "overrun", says)
                break


def signed_on(of: Field, day: date) -> str:
    """The day on which something was signed, with the record on which it stands."""
    on = "" if of.sheet == _TRAVELLER else f" on the {of.sheet.replace('-', ' ')}"
    return f"signed {day.isoformat()}{on}"


# --- what is done again ------------------------------------------------------------------------


def settled(case: Case, told: Verdict) -> Verdict:
    """A verdict of operations for which a complete rework sheet stands: told, and it stops nothing.
    Boxes that are not typed stay open, but for those of a signature, which nobody can give any
    more."""
    numbers = {told.operation, told.of} - {""}
    again = {*case.books.done_again}
    if not told.blocks or not numbers or not numbers & again:
        return told
    if told.code in _OPEN and not (told.code == "missing" and _is_signature(case, told)):
        return told
    if told.code in PEOPLE and any(_worked_before(case, n) for n in numbers & again):
        return told
    return replace(told, blocks=False, says=f"{told.says}, and it is done again")


def _is_signature(case: Case, told: Verdict) -> bool:
    return any(
        (f.sheet, f.operation, f.label) == (told.sheet, told.operation, told.row)
        for f in case.form.fields
        if _signs(case, f)
    )


def _signs(case: Case, of: Field) -> bool:
    """Whether a box is one of a signature: a stamp, or its day."""
    return of.kind == "stamp" or case.form.is_done_on(of)


def _worked_before(case: Case, number: str) -> bool:
    """Whether work behind a hold went on before it was released again: there was no other release
    for it."""
    for stop in _holds(case):
        if stop.operation == number:
            released = _again(case, stop)
            behind = [day for n in _begun_behind(case, stop) for day in case.all_days(n)]
            return bool(behind) and (not released or min(behind) < min(released))
    return False


# --- what it was released over ------------------------------------------------------------------


def over(case: Case, found: Sequence[Verdict]) -> Iterator[Verdict]:
    """A hold that was released while a value before it was out of limits and no concession allowed
    it yet: an inspector has to say that the release stands, on a slip at the hold. Where the slip
    is named beside the signatures, it was known. A value that nothing allows so far is told by
    itself."""
    labels = {(f.sheet, f.operation, f.label): f for f in case.form.fields if f.operation}
    for stop in _holds(case):
        signs = [f for f in case.in_operation(stop.operation, "date") if f.row == _SIGN]
        released = _released(case, stop)
        if not released or not signs or stop.operation in case.books.done_again:
            continue
        for each in found:
            of = labels.get((each.sheet, each.operation, each.row))
            if each.blocks or each.code not in _BEYOND or of is None or of.lasts:
                continue
            if not _was_open(case, stop, of, released):
                continue
            says = f"released {max(released).isoformat()} over operation {of.operation}, "
            says += f"{each.row} {case.written(of)}, which was allowed later"
            yield on_a_slip(case, signs[0], "over", says, "the inspector decides, on a slip")
            break


def _was_open(case: Case, stop: Stop, of: Field, released: Sequence[date]) -> bool:
    """Whether a value that is out of limits was allowed after a hold behind it was released."""
    if of.operation not in stop.closes or of.operation in case.books.done_again:
        return False
    if any(names_a_slip(case, n) for n in (of.operation, stop.operation)):
        return False
    text = case.written(of)
    allowed = [
        day for (key, value), day in case.books.conceded_on.items()
        if key == of.key and (value == text or number_in(value) == number_in(text) is not None)
    ]  # fmt: skip
    return bool(allowed) and min(allowed) > max(released)


def names_a_slip(case: Case, number: str) -> bool:
    """Whether a slip is named beside a signature of an operation, on the traveller or on its
    record. A word without a figure, such as none, names none."""
    boxes = (f for f in case.form.fields if (f.operation, f.name) == (number, _SLIP))
    return any(char.isdigit() for f in boxes for char in case.written(f))
