"""The two ends of an axis in; the round numbers that stand along it, out: exact, as decimals."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

STEPS = (1, 2, 5)


def steps_from(span: Decimal, most: int) -> Iterator[Decimal]:
    """The steps 1, 2, 5 and their tenfolds that part a span into at most so many, finest first."""
    power = Decimal(1).scaleb((span / most).adjusted())
    while True:
        for step in STEPS:
            if step * power * most >= span:
                yield step * power
        power *= 10


def ticks(low: Decimal, high: Decimal, step: Decimal) -> tuple[Decimal, ...]:
    """The multiples of a step between the ends, both included."""
    first = (low / step).to_integral_value(ROUND_CEILING)
    last = (high / step).to_integral_value(ROUND_FLOOR)
    return tuple(n * step for n in range(int(first), int(last) + 1))


def outward(low: Decimal, high: Decimal, step: Decimal) -> tuple[Decimal, Decimal]:
    """The ends moved outward to multiples of a step."""
    return (
        (low / step).to_integral_value(ROUND_FLOOR) * step,
        (high / step).to_integral_value(ROUND_CEILING) * step,
    )


def tick_text(value: Decimal, step: Decimal) -> str:
    """A tick as it is printed: the places of its step, a true minus."""
    places = max(0, -int(step.normalize().as_tuple().exponent))
    return f"{value:.{places}f}".replace("-", "\N{MINUS SIGN}")
