"""Points on a scale (°C, bar g, bar a) in; what may be multiplied and added, out, and the way back.

On Amounts the working shows the step; floats in base units are kelvin and pascal already.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.units import POINTS, Unit, difference, unit

_ATOM = 3


def _must_be(amount: Amount, point: str, right: str) -> None:
    if amount.unit.point != point:
        wrong = f"{amount.formula or amount.typed} in {amount.unit.text} is no point of that scale"
        raise Refusal("unit", wrong, right)


def scale_of(shown: Unit, step: Unit) -> str:
    """The unit in which a value prints whose step is said: to 0.5 bar a gauge pressure prints in
    bar g, to 0.1 °C a difference in K. The step's own where both are points, or neither."""
    if shown.dimension != step.dimension or bool(shown.point) == bool(step.point):
        return step.text
    if step.point:
        return difference(step).text
    text = "°C" if shown.point == "temperature" else f"{step.text} {shown.text[-1]}"
    return text if text in POINTS else step.text


def between(one: Any, other: Any) -> Any:
    """One point less another on the same scale: a difference, in K or bar."""
    if not isinstance(one, Amount):
        return one - other
    _must_be(one, other.unit.point, "two points of one scale, such as 18 °C and 17 °C")
    if not one.unit.point:
        raise Refusal("unit", f"{one.formula} is no point on a scale", "a value in °C or bar g")
    return one - other


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
    return temperature + by
