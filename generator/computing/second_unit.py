"""A number and a second unit in; the same number in that unit, in brackets, out.

The bracket is made from the unrounded value, to a step no coarser than the number itself is
printed to, with at least two figures, and to the same safe side.
"""

from __future__ import annotations

import math
from dataclasses import replace

from generator.calculation import Gives
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.rounding import decimals, plain, rounded
from generator.quantities.units import Unit, named, unit


def result_in_second_unit(fact: Gives, amount: Amount, second: str) -> str:
    """ " (6.41 N·m)" after 56.7 lbf·in; "" where no second unit is asked for."""
    if not second or second == fact.unit:
        return ""
    scale = _alike(amount.unit, second)
    step = finer_step(min(float(fact.to), _figure(amount, 2)), amount.unit, scale)
    return f" ({rounded(scale.from_base(amount.value), step, fact.safe)} {second})"


def shown_in(fact: Gives, amount: Amount, other: Unit) -> Gives:
    """The fact of a result that is shown in another unit: as fine, its limits judged before."""
    step = finer_step(min(float(fact.to), _figure(amount, 2)), amount.unit, other)
    return replace(fact, unit=other.text, to=step, above="", at_least="", at_most="")


def in_second_unit(amount: Amount, second: str) -> str:
    """The same for a given: its limits where it has them; to as many figures as were typed, and
    never fewer than four."""
    if not second or second == amount.unit.text:
        return ""
    scale = _alike(amount.unit, second)
    numbers = [x for x in (amount.value, amount.low, amount.high) if x is not None]
    places = max(
        decimals(plain(amount.unit.from_base(n), 9).replace("\N{MINUS SIGN}", "-")) for n in numbers
    )
    step = finer_step(min(10.0**-places, _figure(amount, 4)), amount.unit, scale)
    if amount.low is None or amount.high is None:
        return f" ({rounded(scale.from_base(amount.value), step)} {second})"
    low = rounded(scale.from_base(amount.low), step, "up")
    high = rounded(scale.from_base(amount.high), step, "down")
    return f" ({low} to {high} {second})"


def _figure(amount: Amount, which: int) -> float:
    """The step of its second or fourth figure: 25 mm is 0.9843 in, not 0.98 in."""
    size = abs(amount.number())
    return float(10.0 ** (math.floor(math.log10(size)) + 1 - which)) if size else 1.0


def finer_step(step: float, own: Unit, other: Unit) -> str:
    """The power of ten in the other unit that is no coarser than the step in the own one."""
    size = step * own.factor / other.factor
    places = math.ceil(-math.log10(size) - 1e-9)
    return f"{10.0**-places:.{max(0, places)}f}"


def _alike(own: Unit, second: str) -> Unit:
    scale = unit(second)
    if (scale.dimension, scale.point) != (own.dimension, own.point):
        wrong = f"{second} is {named(scale.dimension)}, not {named(own.dimension)} as {own.text} is"
        raise Refusal("unit", wrong, f"another unit for {own.text or 'a plain number'}")
    return scale
