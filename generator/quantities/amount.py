"""Numbers with units in; numbers with units and the expression that made them, out.

An Amount is a value in base units that remembers how it was made: its formula in symbols and its
formula in numbers. A calculation's body runs on Amounts, and the printed working is what ran.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple, NoReturn

from generator.findings import Refusal
from generator.quantities.rounding import plain
from generator.quantities.units import ANGLE, PLAIN, Unit, difference, named

_SUM, _PRODUCT, _ATOM = 1, 2, 3
_PLUS, _MINUS = "+", "\N{MINUS SIGN}"
_RAISED = {2: "²", 3: "³"}


class Step(NamedTuple):
    """One printed line group of a working: what was named, its formula, its numbers, its value."""

    symbol: str
    meaning: str
    formula: str
    numbers: str
    result: str


@dataclass(frozen=True)
class Amount:
    """A quantity. value is in base units; unit is the one it is shown in.

    low, high: limits in base units where it has any. typed: the user's own text.
    formula, numbers: how it was made, in symbols and in numbers; binding: how tightly they hold.
    steps: the named lines that led to it.
    """

    value: float
    unit: Unit
    formula: str = ""
    numbers: str = ""
    binding: int = _ATOM
    low: float | None = None
    high: float | None = None
    typed: str = ""
    steps: tuple[Step, ...] = ()

    def number(self) -> float:
        """The value in the unit it is shown in."""
        return self.unit.from_base(self.value)

    def in_unit(self, unit: Unit) -> Amount:
        """The same quantity shown in another unit; the factor between them becomes part of it."""
        if unit is self.unit:
            return self
        _same(self, unit)
        factor = self.unit.factor / unit.factor
        if math.isclose(factor, 1.0, rel_tol=1e-12):
            return self._shown(unit, self.numbers, self.binding)
        between = unit.over(self.unit).text
        link = f"{plain(factor, 12)} {between}".strip()
        numbers = f"{_held(self.numbers, self.binding, _PRODUCT)} · {link}"
        return self._shown(unit, numbers, _PRODUCT)

    def _shown(self, unit: Unit, numbers: str, binding: int) -> Amount:
        """The same quantity in another unit. Not by replace: some thousands are made in a print."""
        limits = self.low, self.high
        return Amount(
            self.value, unit, self.formula, numbers, binding, *limits, self.typed, self.steps
        )

    def __add__(self, other: Amount) -> Amount:
        return _summed(self, other, _PLUS)

    def __sub__(self, other: Amount) -> Amount:
        return _summed(self, other, _MINUS)

    def __mul__(self, other: Amount | int) -> Amount:
        other = _as_amount(other)
        _no_points(self, other)
        unit = self.unit.times(other.unit)
        return _joined(self, other, "·", self.value * other.value, unit)

    def __rmul__(self, other: int) -> Amount:
        return _as_amount(other) * self

    def __truediv__(self, other: Amount | int) -> Amount:
        other = _as_amount(other)
        _no_points(self, other)
        if other.value == 0:
            raise Refusal("range", f"{other.formula or 'the divisor'} is zero", "another value")
        unit = self.unit.over(other.unit)
        return _joined(self, other, "/", self.value / other.value, unit)

    def __rtruediv__(self, other: int) -> Amount:
        return _as_amount(other) / self

    def __pow__(self, power: int) -> Amount:
        _no_points(self, self)
        raised = _RAISED[power]
        unit = self.unit
        for _ in range(power - 1):
            unit = unit.times(self.unit)
        formula = _held(self.formula, self.binding, _ATOM) + raised
        held = " " in self.numbers.strip() or self.numbers.startswith("\N{MINUS SIGN}")
        numbers = (f"({self.numbers})" if held else self.numbers) + raised
        text = f"{self.unit.text}{raised}" if self.unit.text.isalpha() else unit.text
        unit = replace(unit, text=text)
        return Amount(self.value**power, unit, formula, numbers, _ATOM, steps=self.steps)

    def __bool__(self) -> NoReturn:
        raise TypeError("a traced body has no branches: name the step and give it a limit")

    def __lt__(self, other: object) -> NoReturn:
        raise TypeError("a traced body has no branches: name the step and give it a limit")

    __gt__ = __le__ = __ge__ = __lt__


def _as_amount(other: Amount | int) -> Amount:
    if isinstance(other, Amount):
        return other
    if isinstance(other, int) and not isinstance(other, bool):
        return Amount(float(other), PLAIN, str(other), str(other))
    raise TypeError(f"a bare number {other!r} in a formula: give it a name, a unit and a source")


def _held(text: str, binding: int, needed: int) -> str:
    return text if binding >= needed else f"({text})"


def _no_points(one: Amount, other: Amount) -> None:
    for amount in (one, other):
        if amount.unit.point:
            wrong = f"{_point(amount)}; it cannot be multiplied"
            raise Refusal("unit", wrong, "a difference, such as bar or K")


def _point(amount: Amount) -> str:
    return f"{amount.formula or amount.typed} in {amount.unit.text} is a point on a scale"


def _same(one: Amount, unit: Unit) -> None:
    if one.unit.dimension != unit.dimension or one.unit.point != unit.point:
        wrong = f"{named(one.unit.dimension)} in {one.unit.text or 'no unit'} where "
        wrong += f"{named(unit.dimension)} in {unit.text or 'no unit'} belongs"
        raise Refusal("unit", wrong, f"a value in {unit.text or 'no unit'}")


def _summed(one: Amount, other: Amount, sign: str) -> Amount:
    if not isinstance(other, Amount):
        raise TypeError(f"a bare number {other!r} in a sum: give it a name, a unit and a source")
    if one.unit.point or other.unit.point:
        return _of_points(one, other, sign)
    return _sum(one, other.in_unit(one.unit), sign, one.unit)


def _of_points(one: Amount, other: Amount, sign: str) -> Amount:
    """A point and a difference of its kind make a point; a point less a point of its scale makes
    a difference. All else is refused: 60 bar g and 30 bar g are not 90 bar of anything."""
    if not other.unit.point:
        return _sum(one, other.in_unit(difference(one.unit)), sign, one.unit)
    if not one.unit.point and sign == _PLUS:
        return _sum(one.in_unit(difference(other.unit)), other, sign, other.unit)
    if not one.unit.point:
        wrong = f"{_point(other)}; it cannot be taken from a difference"
        raise Refusal(
            "unit", wrong, f"the point first, or a value in {difference(other.unit).text}"
        )
    if sign == _PLUS:
        wrong = f"{_point(other)}; it cannot be added to another"
        raise Refusal("unit", wrong, f"a difference, in {difference(one.unit).text}")
    if one.unit.point != other.unit.point:
        wrong = f"{_point(other)}, {one.formula or one.typed} in {one.unit.text} one on another"
        raise Refusal("unit", wrong, "two points on one scale, or a difference")
    return _sum(one, other.in_unit(one.unit), sign, difference(one.unit))


def _sum(one: Amount, other: Amount, sign: str, unit: Unit) -> Amount:
    """The sum or the difference of two values in base units, as they are shown, in a unit."""
    value = one.value + other.value if sign == _PLUS else one.value - other.value
    needed = _SUM if sign == _PLUS else _PRODUCT
    return Amount(
        value,
        unit,
        f"{one.formula} {sign} {_held(other.formula, other.binding, needed)}",
        f"{one.numbers} {sign} {_held(other.numbers, other.binding, needed)}",
        _SUM,
        steps=all_steps(one, other),
    )


def _joined(one: Amount, other: Amount, sign: str, value: float, unit: Unit) -> Amount:
    needed = _PRODUCT if sign == "·" else _ATOM
    return Amount(
        value,
        unit,
        f"{_held(one.formula, one.binding, _PRODUCT)} {sign} "
        f"{_held(other.formula, other.binding, needed)}",
        f"{_held(one.numbers, one.binding, _PRODUCT)} {sign} "
        f"{_held(other.numbers, other.binding, needed)}",
        _PRODUCT,
        steps=all_steps(one, other),
    )


def all_steps(*amounts: Amount) -> tuple[Step, ...]:
    """The named lines that led to several amounts, each once."""
    led = [amount.steps for amount in amounts if amount.steps]
    if len(led) < 2:
        return led[0] if led else ()
    return tuple(dict.fromkeys(step for steps in led for step in steps))


def leaf(amount: Amount, symbol: str, unit: Unit) -> Amount:
    """The amount as a named number in a formula: its symbol, its number in that unit, no history.

    A percentage stands in a formula as the plain number it means.
    """
    _same(amount, unit)
    figures = 10 if amount.typed else 7
    shown = f"{plain(unit.from_base(amount.value), figures)}{spaced(unit.text)}"
    inner = PLAIN if unit.text == "%" else unit
    return Amount(amount.value, inner, symbol, shown, _ATOM, amount.low, amount.high, amount.typed)


def spaced(unit_text: str) -> str:
    """The text of a unit as it follows a number: no space before a degree sign alone."""
    return unit_text if unit_text in ("", "°") else f" {unit_text}"


def made(amount: Amount, formula: str, numbers: str, value: float, unit: Unit) -> Amount:
    """A result of a function of one amount, such as a tangent."""
    return Amount(value, unit, formula, numbers, _ATOM, steps=amount.steps)


def must_be_angle(amount: Amount) -> None:
    """Refuses what is not an angle: a bare number in a sine is a mistake waiting."""
    if amount.unit.dimension != ANGLE:
        raise Refusal(
            "unit", f"{named(amount.unit.dimension)} where an angle belongs", "an angle in °"
        )
