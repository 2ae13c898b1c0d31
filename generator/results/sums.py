"""A clock that adds, in; what it adds, and when its sum is whatever somebody wrote as it, out."""

from __future__ import annotations

from math import ceil, floor

from generator.findings import Refusal
from generator.quantities.units import unit
from generator.results.case import Case
from generator.results.form import Field
from generator.results.form_says import printed_amount
from generator.results.judge_values import ticked
from generator.results.values import Moment, days_later

_DAY = 24 * 60
_NEAR = 1e-6  # minutes: 1.1 h are 66 min and a last digit of the machine


def added(case: Case, of: Field) -> tuple[float, float] | None:
    """What a clock adds, from least to most, in minutes; None where a strip must say it and does
    not."""
    words = of.added
    if of.added_by:
        value = ticked(case, of, (of.added_by,))
        cases = (case, *case.later, *case.before)
        units = (a.unit for c in cases for a in c.form.answers if a.mark == of.added_by and a.unit)
        words = f"{value} {next(units, '')}"
    try:
        amount = printed_amount(words)
    except Refusal:
        return None
    ends = (amount.value if end is None else end for end in (amount.low, amount.high))
    least, most = (each / unit("min").factor for each in ends)
    return least, most


def length(of: Field) -> float | None:
    """What a clock adds as it is printed, in minutes; None where the sheet does not print it."""
    try:
        return printed_amount(of.added).value / unit("min").factor
    except Refusal:
        return None


def worked_out(case: Case, of: Field, begun: Moment | None, sign: int) -> Moment | None:
    """The sum by what it counts from: the least that it may be (sign 1), before which nothing is
    done, or the most. Clocks tell whole minutes, so that half of one goes to either side. None
    where nobody can tell."""
    adds = added(case, of)
    if begun is None or adds is None:
        return None
    least, most = adds
    whole = floor(least + _NEAR) if sign > 0 else ceil(most - _NEAR)
    days, minutes = divmod(begun.minutes + whole, _DAY)
    day = begun.day and days_later(begun.day, days)
    return Moment(minutes, day) if day or not begun.day else None
