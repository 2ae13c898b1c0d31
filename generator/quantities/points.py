"""Points on a scale (°C, bar g, bar a) in; what may be multiplied and added, out, and the way back.

On Amounts the working shows the step; floats in base units are kelvin and pascal already.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from generator.findings import Refusal
from generator.quantities.amount import Amount, all_steps
from generator.quantities.units import POINTS, unit

_SUM, _ATOM = 1, 3
_DIFFERENCE = {"temperature": "K"}


def _must_be(amount: Amount, point: str, right: str) -> None:
    if amount.unit.point != point:
        wrong = f"{amount.formula or amount.typed} in {amount.unit.text} is no point of that scale"
        raise Refusal("unit", wrong, right)


def between(one: Any, other: Any) -> Any:
    """One point less another on the same scale: a difference, in K or bar."""
    if not isinstance(one, Amount):
        return one - other
    _must_be(one, other.unit.point, "two points of one scale, such as 18 °C and 17 °C")
    if not one.unit.point:
        raise Refusal("unit", f"{one.formula} is no point on a scale", "a value in °C or bar g")
    other = other.in_unit(one.unit)
    shown = _DIFFERENCE.get(one.unit.point) or one.unit.text[:-2]
    minus = "\N{MINUS SIGN}"
    return Amount(
        one.value - other.value,
        unit(shown),
        f"{one.formula} {minus} {other.formula}",
        f"{one.numbers} {minus} {other.numbers}",
        _SUM,
        steps=all_steps(one, other),
    )


def above_absolute_zero(temperature: Any) -> Any:
    """A temperature as the kelvin it stands above absolute zero."""
    if not isinstance(temperature, Amount):
        return temperature
    _must_be(temperature, "temperature", "a value in °C")
    numbers = f"({temperature.numbers} + 273.15 K)"
    return replace(temperature, unit=unit("K"), numbers=numbers, binding=_ATOM)


def above_vacuum(pressure: Any) -> Any:
    """An absolute pressure as the difference to a vacuum."""
    if not isinstance(pressure, Amount):
        return pressure
    _must_be(pressure, "absolute", "a value in bar a or psi a")
    numbers = pressure.numbers.removesuffix(" a")
    return replace(pressure, unit=unit(pressure.unit.text.removesuffix(" a")), numbers=numbers)


def as_gauge(difference: Any) -> Any:
    """A pressure above ambient as a gauge shows it: 2 bar as 2 bar g."""
    if not isinstance(difference, Amount):
        return difference
    shown = f"{difference.unit.text} g"
    if shown not in POINTS:  # a product, such as bar·K/K
        difference, shown = difference.in_unit(unit("bar")), "bar g"
    return replace(difference, unit=unit(shown))


def warmer(temperature: Any, by: Any) -> Any:
    """A temperature and a difference in K as the temperature that comes of them."""
    if not isinstance(temperature, Amount):
        return temperature + by
    _must_be(temperature, "temperature", "a value in °C")
    by = by.in_unit(unit("K"))
    return Amount(
        temperature.value + by.value,
        temperature.unit,
        f"{temperature.formula} + {by.formula}",
        f"{temperature.numbers} + {by.numbers}",
        _SUM,
        steps=all_steps(temperature, by),
    )
