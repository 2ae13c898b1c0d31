"""Amounts, floats or arrays in; the same kind out: the functions that a formula may use.

On Amounts they write themselves into the formula; on floats and arrays (base units) they compute.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from generator.findings import Refusal
from generator.quantities.amount import Amount, Step, all_steps, made, must_be_angle
from generator.quantities.rounding import plain
from generator.quantities.spread import Spread, Unproven, at_either, spread
from generator.quantities.units import NONE, PLAIN, Unit, named, unit


def _on_numbers(name: str, number: Any) -> Any:
    if isinstance(number, int | float):
        return getattr(math, name)(number)
    if isinstance(number, Spread):
        return number.called(name)
    import numpy

    return getattr(numpy, _IN_NUMPY.get(name, name))(number)


_IN_NUMPY = {"asin": "arcsin", "acos": "arccos", "atan": "arctan"}


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


def _plain_number(name: str, amount: Amount) -> None:
    if amount.unit.dimension != NONE:
        kind = named(amount.unit.dimension)
        raise Refusal("unit", f"{kind} where {name} wants a plain number", "a ratio")


def _to_angle(name: str, ratio: Any) -> Any:
    if not isinstance(ratio, Amount):
        return _on_numbers(name, ratio)
    _plain_number(name, ratio)
    if name != "atan" and abs(ratio.value) > 1:
        wrong = f"{ratio.formula} comes to {plain(ratio.value, 6)}: no angle has that"
        raise Refusal("range", wrong, "a ratio between −1 and 1")
    shown = f"arc{name[1:]}"
    value = getattr(math, name)(ratio.value)
    return made(ratio, f"{shown}({ratio.formula})", f"{shown}({ratio.numbers})", value, unit("°"))


def arcsin(ratio: Any) -> Any:
    """The angle whose sine is that ratio, between -90° and 90°."""
    return _to_angle("asin", ratio)


def arccos(ratio: Any) -> Any:
    """The angle whose cosine is that ratio, between 0° and 180°."""
    return _to_angle("acos", ratio)


def arctan(ratio: Any) -> Any:
    """The angle whose tangent is that ratio, between -90° and 90°."""
    return _to_angle("atan", ratio)


def log10(ratio: Any) -> Any:
    """The common logarithm of a plain number above zero."""
    if not isinstance(ratio, Amount):
        return _on_numbers("log10", ratio)
    _plain_number("log10", ratio)
    if ratio.value <= 0:
        raise Refusal("range", f"{ratio.formula} is not above zero", "a ratio above zero")
    value = math.log10(ratio.value)
    return made(ratio, f"log10({ratio.formula})", f"log10({ratio.numbers})", value, PLAIN)


def square_root(square: Any) -> Any:
    """The square root of a plain number or of an area."""
    if not isinstance(square, Amount):
        return _on_numbers("sqrt", square)
    if square.value < 0:
        raise Refusal("range", f"{square.formula} is below zero", "a square of zero or more")
    own, side = square.unit, PLAIN
    if own.dimension != NONE:
        side = unit(own.text.removesuffix("²"))
        if side.times(side).dimension != own.dimension or not own.text.endswith("²"):
            raise TypeError(f"no square root of {own.text}")
    value = math.sqrt(square.value)
    return made(square, f"√({square.formula})", f"√({square.numbers})", value, side)


def _extreme(name: str, amounts: Any) -> Any:
    if isinstance(amounts[0], Amount):
        return _extreme_amount(name, amounts)
    if any(isinstance(each, Spread) for each in amounts):
        made_of = [spread(each) for each in amounts]
        if name == "min":
            return -_largest_spread([-each for each in made_of])
        return _largest_spread(made_of)
    if all(isinstance(each, int | float) for each in amounts):
        return (max if name == "max" else min)(amounts)
    import numpy

    return getattr(numpy, f"{name}imum")(*amounts)


def _largest_spread(made_of: list[Spread]) -> Spread:
    """Which of them is the largest may depend on the givens: then each is possible."""
    floor = max(each.span[0] for each in made_of)
    able = [each for each in made_of if each.span[1] >= floor]
    result = able[0]
    for each in able[1:]:
        result = at_either(result, each)
    return replace(result, span=(floor, max(each.span[1] for each in able)))


def _extreme_amount(name: str, amounts: Any) -> Any:
    first, *others = amounts
    alike = [first, *(each.in_unit(first.unit) for each in others)]
    pick = (max if name == "max" else min)(alike, key=lambda each: each.value)
    formula = f"{name}({', '.join(each.formula for each in alike)})"
    numbers = f"{name}({', '.join(each.numbers for each in alike)})"
    return Amount(pick.value, first.unit, formula, numbers, steps=all_steps(*alike))


def largest(*amounts: Any) -> Any:
    """The largest of two or more of one kind."""
    return _extreme("max", amounts)


def smallest(*amounts: Any) -> Any:
    """The smallest of two or more of one kind."""
    return _extreme("min", amounts)


def by_range(ratio: Any, up_to: str, below: Any, above: Any) -> Any:
    """One rule up to a plain number, that number included, and another above it.

    The working prints the rule that was used. A Spread that reaches over the number is not proven.
    """
    limit = float(up_to)
    if isinstance(ratio, Amount):
        _plain_number("the rule", ratio)
        return below if ratio.value <= limit * (1 + 1e-12) else above
    if isinstance(ratio, Spread):
        if ratio.span[0] <= limit < ratio.span[1]:
            raise Unproven
        return below if ratio.span[1] <= limit else above
    if isinstance(ratio, int | float):
        return below if ratio <= limit * (1 + 1e-12) else above
    import numpy

    return numpy.where(ratio <= limit * (1 + 1e-12), below, above)


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


def pi_times(amount: Any) -> Any:
    """π times a number of any kind, such as a diameter for its circumference."""
    if not isinstance(amount, Amount):
        return math.pi * amount
    one = 1 * amount
    formula, numbers = one.formula.removeprefix("1 · "), one.numbers.removeprefix("1 · ")
    return replace(
        one, value=math.pi * amount.value, formula=f"π · {formula}", numbers=f"π · {numbers}"
    )


def exponential(ratio: Any) -> Any:
    """e to the power of a plain number."""
    if not isinstance(ratio, Amount):
        return _on_numbers("exp", ratio)
    _plain_number("exp", ratio)
    value = math.exp(ratio.value)
    return made(ratio, f"exp({ratio.formula})", f"exp({ratio.numbers})", value, PLAIN)


def above_ambient(pressure: Any) -> Any:
    """A gauge pressure as the difference that pushes: gauge 0 is the pressure around us."""
    if not isinstance(pressure, Amount):
        return pressure
    if pressure.unit.point != "gauge":
        raise Refusal("unit", "a gauge pressure belongs here", "a value in bar g or psi g")
    difference = unit(pressure.unit.text.removesuffix(" g"))
    numbers = pressure.numbers.removesuffix(" g")
    return replace(pressure, unit=difference, numbers=numbers)


Limit = Any  # a number as text in the step's own unit, or an amount (float) of its kind


def step(
    amount: Any,
    symbol: str,
    shown: str,
    meaning: str,
    *,
    above: Limit = "",
    at_least: Limit = "",
    at_most: Limit = "",
    wrong: str = "",
) -> Any:
    """Name a line of a working. A limit here stands where other programs would branch.

    shown: the unit it is printed in; above, at_least, at_most: limits, as text in that unit or as
    amounts of its kind; wrong: what to say when one is passed, with {value} for the value. On
    floats the limits are judged too, so that they hold at every corner of the tolerances.
    """
    scale = unit(shown)
    ends = (_end(above, scale), _end(at_least, scale), _end(at_most, scale))
    if not isinstance(amount, Amount):
        if any(isinstance(each, Spread) and each.strict for each in (above, at_least, at_most)):
            must_hold(spread(amount), scale, above, at_least, at_most)
        elif isinstance(amount, int | float):
            _judged(scale.from_base(amount), shown, symbol, ends, wrong)
        elif isinstance(amount, Spread) and amount.strict:
            must_hold(amount, scale, above, at_least, at_most)
        return amount
    result = amount.in_unit(scale)
    _judged(result.number(), shown, symbol, ends, wrong)
    value = f"{plain(result.number(), 7)}{' ' if shown not in ('', '°') else ''}{shown}"
    line = Step(symbol, meaning, amount.formula, result.numbers, value)
    return Amount(result.value, result.unit, symbol, value, steps=(*amount.steps, line))


def must_hold(amount: Spread, scale: Unit, above: Limit, at_least: Limit, at_most: Limit) -> None:
    """Raises Unproven where the interval does not prove that the limits hold all over it."""
    low, high = (scale.from_base(end) for end in amount.span)
    for limit, number, side in ((above, low, 0), (at_least, low, 0), (at_most, high, 1)):
        if isinstance(limit, Spread):
            end: Limit = scale.from_base(limit.span[1 - side])
        else:
            end = _end(limit, scale)
            if end == "":
                continue
        past = float(end) - number if side == 0 else number - float(end)
        if past > 1e-12 * max(1.0, abs(number)) or (limit is above and past >= 0):
            raise Unproven


def _end(limit: Limit, scale: Unit) -> str:
    """A limit as text in the unit of its step; "" where there is none."""
    if isinstance(limit, str):
        return limit
    base = limit.value if isinstance(limit, Amount) else limit
    return f"{scale.from_base(base):.13g}" if isinstance(base, int | float) else ""


def _judged(number: float, text: str, symbol: str, ends: tuple[str, str, str], wrong: str) -> None:
    if passes(number, *ends):
        value = f"{plain(number, 6)} {text}".strip()
        told = wrong.replace("{value}", value) if wrong else f"{symbol} comes to {value}"
        raise Refusal("range", told, _in_words(ends, text))


def _in_words(ends: tuple[str, str, str], text: str) -> str:
    above, at_least, at_most = (plain(float(e), 7) if len(e) > 9 else e for e in ends)
    return limits_in_words(above, at_least, at_most, text)


def passes(number: float, above: str, at_least: str, at_most: str) -> bool:
    """Whether a number lies outside its limits, 12 figures of it counting."""
    slack = 1e-12 * max(1.0, abs(number))
    return bool(
        (above and number <= float(above) + slack)
        or (at_least and number < float(at_least) - slack)
        or (at_most and number > float(at_most) + slack)
    )


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
