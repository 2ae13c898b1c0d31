"""Amounts, floats or arrays in; the same kind out: the functions that a formula may use.

On Amounts they write themselves into the formula; on floats and arrays (base units) they compute.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from generator.findings import Refusal
from generator.quantities.amount import Amount, Step, made, must_be_angle
from generator.quantities.rounding import plain
from generator.quantities.units import PLAIN, unit


def _on_numbers(name: str, number: Any) -> Any:
    if isinstance(number, int | float):
        return getattr(math, name)(number)
    import numpy

    return getattr(numpy, name)(number)


def _of_angle(name: str, angle: Any) -> Any:
    if not isinstance(angle, Amount):
        return _on_numbers(name, angle)
    must_be_angle(angle)
    value = getattr(math, name)(angle.value)
    return made(angle, f"{name}({angle.formula})", f"{name}({angle.numbers})", value, PLAIN)


def tan(angle: Any) -> Any:
    """The tangent of an angle."""
    return _of_angle("tan", angle)


def sin(angle: Any) -> Any:
    """The sine of an angle."""
    return _of_angle("sin", angle)


def cos(angle: Any) -> Any:
    """The cosine of an angle."""
    return _of_angle("cos", angle)


def arc(angle: Any) -> Any:
    """The angle as a plain number: length of arc over radius."""
    if not isinstance(angle, Amount):
        return angle
    must_be_angle(angle)
    formula, numbers = f"({angle.formula} · π/180°)", f"({angle.numbers} · π/180°)"
    return made(angle, formula, numbers, angle.value, PLAIN)


def circle_area(diameter: Any) -> Any:
    """The area of a circle of that diameter."""
    if not isinstance(diameter, Amount):
        return math.pi / 4 * diameter * diameter
    squared = diameter**2
    return replace(
        squared,
        value=math.pi / 4 * diameter.value**2,
        formula=f"π/4 · {squared.formula}",
        numbers=f"π/4 · {squared.numbers}",
        binding=2,
    )


def above_ambient(pressure: Any) -> Any:
    """A gauge pressure as the difference that pushes: gauge 0 is the pressure around us."""
    if not isinstance(pressure, Amount):
        return pressure
    if pressure.unit.point != "gauge":
        raise Refusal("unit", "a gauge pressure belongs here", "a value in bar g or psi g")
    difference = unit(pressure.unit.text.removesuffix(" g"))
    numbers = pressure.numbers.removesuffix(" g")
    return replace(pressure, unit=difference, numbers=numbers)


def step(
    amount: Any,
    symbol: str,
    shown: str,
    meaning: str,
    *,
    above: str = "",
    at_least: str = "",
    at_most: str = "",
    wrong: str = "",
) -> Any:
    """Name a line of a working. A limit here stands where other programs would branch.

    shown: the unit it is printed in; above, at_least, at_most: limits in that unit; wrong: what to
    say when a limit is passed, with {value} for the value.
    """
    if not isinstance(amount, Amount):
        return amount
    result = amount.in_unit(unit(shown))
    _within(result, symbol, above, at_least, at_most, wrong)
    value = f"{plain(result.number(), 7)}{' ' if shown not in ('', '°') else ''}{shown}"
    line = Step(symbol, meaning, amount.formula, result.numbers, value)
    return Amount(result.value, result.unit, symbol, value, steps=(*amount.steps, line))


def _within(
    amount: Amount, symbol: str, above: str, at_least: str, at_most: str, wrong: str
) -> None:
    for base in (amount.value, amount.low, amount.high):
        if base is not None:
            _judged(
                amount.unit.from_base(base),
                amount.unit.text,
                symbol,
                above,
                at_least,
                at_most,
                wrong,
            )


def _judged(
    number: float, text: str, symbol: str, above: str, at_least: str, at_most: str, wrong: str
) -> None:
    slack = 1e-12 * max(1.0, abs(number))
    passed = (
        (above and number <= float(above) + slack)
        or (at_least and number < float(at_least) - slack)
        or (at_most and number > float(at_most) + slack)
    )
    if passed:
        value = f"{plain(number, 6)} {text}".strip()
        told = wrong.replace("{value}", value) if wrong else f"{symbol} comes to {value}"
        raise Refusal("range", told, limits_in_words(above, at_least, at_most, text))


def limits_in_words(above: str, at_least: str, at_most: str, unit_text: str) -> str:
    """ "above 0 mm and up to 6 mm" """
    parts = []
    if above:
        parts.append(f"above {above} {unit_text}".strip())
    if at_least:
        parts.append(f"at least {at_least} {unit_text}".strip())
    if at_most:
        parts.append(f"up to {at_most} {unit_text}".strip())
    return " and ".join(parts) or "any value"


def total(amounts: Any) -> Any:
    """The sum of a list that is not empty."""
    first, *rest = amounts
    for amount in rest:
        first = first + amount
    return first


_SUBSCRIPTS = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


def subscript(symbol: str, number: int) -> str:
    """R and 2 give R₂."""
    return symbol + str(number).translate(_SUBSCRIPTS)
