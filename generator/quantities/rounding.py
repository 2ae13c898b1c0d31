"""A number and the step it is printed to in; the printed text out: rounded once, here, at print."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

from generator.findings import Refusal

_LARGEST = 1e12  # numbers are good to 12 figures
_NOISE = Decimal("1e-10")  # of a step: what is left of 1000 - 999.9 - 0.1 is below it
_WAYS = {"nearest": ROUND_HALF_UP, "up": ROUND_CEILING, "down": ROUND_FLOOR}


def snapped(number: float) -> Decimal:
    """The number to 12 figures: 1.1 · 3 is 3.3 here, not a hair above it."""
    return Decimal(f"{number:.12g}")


def rounded(number: float, step: str, safe: str = "nearest") -> str:
    """The number to a multiple of step ("0.01", "0.5", "5"), as text with a true minus sign.

    safe: "nearest" (halves away from zero), "up" or "down" towards the safe side. A number that
    is off a step by less than the noise of floating point is that step: nothing left is 0.0 and
    not -0.1 where -1e-16 was left.
    """
    if not abs(number) < _LARGEST:  # not a number is not below it either
        raise Refusal("range", f"{number:.3g} cannot be printed", "a number below 10¹²")
    size = Decimal(step)
    exact = snapped(number) / size
    steps = exact.quantize(Decimal(1), rounding=ROUND_HALF_UP)
    if safe != "nearest" and abs(exact - steps) > _NOISE:
        steps = exact.quantize(Decimal(1), rounding=_WAYS[safe])
    return with_minus(str((steps * size).quantize(size) if steps else abs(size * 0)))


def with_minus(text: str) -> str:
    """The text of a number with the sign that is as wide as a plus."""
    return text.replace("-", "\N{MINUS SIGN}")


def plain(number: float, figures: int = 10) -> str:
    """The shortest text of a number to so many figures, never with an exponent."""
    text = f"{Decimal(f'{number:.{figures}g}'):f}"
    return with_minus(text.rstrip("0").rstrip(".") if "." in text else text)


def decimals(step: str) -> int:
    """How many decimals a number printed to that step has."""
    return max(0, -int(Decimal(step).as_tuple().exponent))
