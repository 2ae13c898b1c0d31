"""The limits of a reading as printed, and the uncertainty U of its instrument, in; the limits
between which a value is accepted, out.

A value is proven inside only where it lies inside by U: each limit moves inwards by U (the rule of
ISO 14253-1:2017, read in secondary summaries only). Between a guarded limit and its limit a value
is proven neither inside nor outside. Both start from the limits as printed, so that the sum can be
done again from the paper.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from generator.composing.instruments import Uncertainty
from generator.findings import Refusal
from generator.process import Reading
from generator.quantities.rounding import decimals, plain, rounded, snapped
from generator.quantities.units import Unit, named

_MINUS, _HYPHEN = "\N{MINUS SIGN}", "-"
# U is wanted at a quarter of the tolerance or less; a third is warned of (common practice).
ADVICE = {
    0: "",
    4: " U is over 1/4 of the tolerance: take a better instrument if there is one.",
    3: " U is over 1/3 of the tolerance: tell the lead before measuring.",
}


@dataclass(frozen=True)
class Guard:
    """The accept limits as text, "" for a side without a limit; share: 3 where U is over a third
    of the tolerance, 4 where it is over a quarter, else 0."""

    lower: str
    upper: str
    share: int


def guard(reading: Reading, lower: str, upper: str, scale: Unit, known: Uncertainty) -> Guard:
    """The accept limits of two limits as they are printed, each "" where there is none.

    Refuses a U of another kind of quantity, and one that leaves nothing between the limits.
    """
    assert known.amount is not None
    if known.amount.unit.dimension != scale.dimension:
        wrong = f"the uncertainty of the {reading.instrument} is "
        wrong += (
            f"{named(known.amount.unit.dimension)}, '{reading.name}' is {named(scale.dimension)}"
        )
        raise Refusal("unit", wrong, f"an uncertainty in {scale.text}, or another instrument")
    shrink = snapped(known.amount.value / scale.factor)
    step = _step(reading, scale, (lower, upper, plain(float(shrink))))
    made = Guard(
        rounded(float(_number(lower) + shrink), step, "up") if lower else "",
        rounded(float(_number(upper) - shrink), step, "down") if upper else "",
        _share(lower, upper, shrink),
    )
    _something_left(reading, lower, upper, made, scale, known)
    return made


def _number(text: str) -> Decimal:
    return Decimal(text.replace(_MINUS, _HYPHEN))


def _step(reading: Reading, scale: Unit, texts: tuple[str, ...]) -> str:
    """The step to which the value is read; without one, the finest place of what is printed."""
    if reading.to is not None and reading.to.unit.dimension == scale.dimension:
        return plain(reading.to.value / scale.factor)
    places = max(decimals(text.replace(_MINUS, _HYPHEN)) for text in texts if text)
    return f"{10**-places:.{places}f}"


def _share(lower: str, upper: str, shrink: Decimal) -> int:
    """The part of the tolerance that U is over; a limit alone leaves no tolerance."""
    if not (lower and upper):
        return 0
    tolerance = _number(upper) - _number(lower)
    return next((parts for parts in (3, 4) if shrink * parts > tolerance), 0)


def _something_left(
    reading: Reading, lower: str, upper: str, made: Guard, scale: Unit, known: Uncertainty
) -> None:
    """Refuses limits between which no value could be accepted.

    An upper limit alone is a size, such as a gap, unless its scale has points below zero.
    """
    if lower and upper:
        gone = _number(made.lower) > _number(made.upper)
        between = f"{lower} to {upper} {scale.text}"
    else:
        gone = bool(upper) and not scale.point and _number(made.upper) <= 0 < _number(upper)
        between = f"at most {upper} {scale.text}"
    if gone and _by_the_step(lower, upper, scale, known):
        written = f"written to {reading.to.typed}" if reading.to is not None else "as it is printed"
        wrong = f"with {known.source} no value {written} is surely within {between} "
        raise Refusal("uncertainty", f"{wrong}for '{reading.name}'", "to: a finer step")
    if gone:
        wrong = f"{known.source} leaves nothing of {between} for '{reading.name}'"
        right = (
            f"{reading.instrument}: uncertainty: a smaller one; or a finer kind, or wider limits"
        )
        raise Refusal("uncertainty", wrong, right)


def _by_the_step(lower: str, upper: str, scale: Unit, known: Uncertainty) -> bool:
    """Whether U leaves something of two limits, and only the step to which it is written does not:
    the blame is not the instrument's."""
    if not (lower and upper) or known.amount is None:
        return False
    return _number(upper) - _number(lower) >= 2 * snapped(known.amount.value / scale.factor)
