"""Intervals with slopes in; the interval and the slopes of what is made of them, out.

A Spread is all values a number may take while the givens move inside their limits, with the
interval of its slope against each given. A slope whose interval holds no change of sign is proven:
the extremes then lie at two corners. Ends are not rounded outward: an error of the last bit of a
float reaches no printed digit.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

Span = tuple[float, float]
ZERO: Span = (0.0, 0.0)


class Unproven(Exception):
    """Nothing can be said of a slope here: a jump lies inside the limits."""


class Pole(Unproven):
    """A divisor may come to zero inside the limits: what is divided by it has none."""


def hull(*spans: Span) -> Span:
    """The smallest interval around all."""
    return min(low for low, _ in spans), max(high for _, high in spans)


def _plus(one: Span, other: Span) -> Span:
    return one[0] + other[0], one[1] + other[1]


def _times(one: Span, other: Span) -> Span:
    corners = [a * b for a in one for b in other]
    return min(corners), max(corners)


def _inverse(span: Span) -> Span:
    if span[0] <= 0.0 <= span[1]:
        raise Pole
    return 1.0 / span[1], 1.0 / span[0]


@dataclass(frozen=True)
class Spread:
    """The values a number may take, and its slope against each given that moves.

    strict: a limit that this interval does not prove stops the run, as Unproven.
    """

    span: Span
    slopes: Mapping[str, Span] = field(default_factory=dict)
    strict: bool = False

    def __add__(self, other: object) -> Spread:
        other = spread(other)
        names = {**self.slopes, **other.slopes}
        slopes = {n: _plus(self.slope(n), other.slope(n)) for n in names}
        return Spread(_plus(self.span, other.span), slopes, self.strict or other.strict)

    __radd__ = __add__

    def __neg__(self) -> Spread:
        return self.scaled((-1.0, -1.0), (-self.span[1], -self.span[0]))

    def __sub__(self, other: object) -> Spread:
        return self + (-spread(other))

    def __rsub__(self, other: object) -> Spread:
        return spread(other) + (-self)

    def __mul__(self, other: object) -> Spread:
        other = spread(other)
        slopes = {
            n: _plus(_times(self.slope(n), other.span), _times(self.span, other.slope(n)))
            for n in {**self.slopes, **other.slopes}
        }
        return Spread(_times(self.span, other.span), slopes, self.strict or other.strict)

    __rmul__ = __mul__

    def __truediv__(self, other: object) -> Spread:
        return self * spread(other).inverse()

    def __rtruediv__(self, other: object) -> Spread:
        return spread(other) * self.inverse()

    def __pow__(self, power: int) -> Spread:
        if power < 1:
            raise Unproven
        ends = [self.span[0] ** power, self.span[1] ** power]
        if power % 2 == 0 and self.span[0] < 0.0 < self.span[1]:
            ends.append(0.0)
        below = Spread(self.span) if power == 2 else Spread(self.span) ** (power - 1)
        factor = below.span if power > 1 else (1.0, 1.0)
        return self.scaled(_times((float(power), float(power)), factor), (min(ends), max(ends)))

    def slope(self, name: str) -> Span:
        return self.slopes.get(name, ZERO)

    def scaled(self, slope: Span, span: Span) -> Spread:
        """A function of this number: its own interval, and slopes by the chain rule."""
        slopes = {n: _times(slope, each) for n, each in self.slopes.items()}
        return Spread(span, slopes, self.strict)

    def inverse(self) -> Spread:
        span = _inverse(self.span)
        steepest = _times(span, span)
        return self.scaled((-steepest[1], -steepest[0]), span)

    def called(self, name: str) -> Spread:
        """A function by its name in the math library."""
        return _FUNCTIONS[name](self)


def spread(number: object) -> Spread:
    """A fixed number as a Spread that does not move."""
    if isinstance(number, Spread):
        return number
    if isinstance(number, int | float):
        return Spread((float(number), float(number)))
    raise TypeError(f"{number!r} is no number")


def moving(name: str, low: float, high: float, strict: bool = False) -> Spread:
    """A given that moves between two ends."""
    return Spread((low, high), {name: (1.0, 1.0)}, strict)


def at_either(one: Spread, other: Spread) -> Spread:
    """A number that may be one or the other: both values and both slopes are possible."""
    names = {**one.slopes, **other.slopes}
    slopes = {n: hull(one.slope(n), other.slope(n)) for n in names}
    return Spread(hull(one.span, other.span), slopes, one.strict or other.strict)


def _sine_span(span: Span) -> Span:
    """The range of the sine over an interval."""
    low, high = span
    ends = [math.sin(low), math.sin(high)]
    if math.floor((high - math.pi / 2) / (2 * math.pi)) > math.floor(
        (low - math.pi / 2) / (2 * math.pi)
    ):
        ends.append(1.0)
    if math.floor((high + math.pi / 2) / (2 * math.pi)) > math.floor(
        (low + math.pi / 2) / (2 * math.pi)
    ):
        ends.append(-1.0)
    return min(ends), max(ends)


def _sin(one: Spread) -> Spread:
    quarter = (one.span[0] + math.pi / 2, one.span[1] + math.pi / 2)
    return one.scaled(_sine_span(quarter), _sine_span(one.span))


def _cos(one: Spread) -> Spread:
    return _sin(replace(one, span=(one.span[0] + math.pi / 2, one.span[1] + math.pi / 2)))


def _tan(one: Spread) -> Spread:
    low, high = one.span
    if math.floor(low / math.pi + 0.5) != math.floor(high / math.pi + 0.5):
        raise Unproven
    cosine = _sine_span((low + math.pi / 2, high + math.pi / 2))
    inverse = _inverse(cosine)
    return one.scaled(_times(inverse, inverse), (math.tan(low), math.tan(high)))


def _sqrt(one: Spread) -> Spread:
    if one.span[0] <= 0:
        raise Unproven
    ends = (math.sqrt(one.span[0]), math.sqrt(one.span[1]))
    return one.scaled((0.5 / ends[1], 0.5 / ends[0]), ends)


def _log10(one: Spread) -> Spread:
    if one.span[0] <= 0:
        raise Unproven
    per = 1.0 / math.log(10.0)
    return one.scaled(
        (per / one.span[1], per / one.span[0]), (math.log10(one.span[0]), math.log10(one.span[1]))
    )


def _exp(one: Spread) -> Spread:
    ends = (math.exp(one.span[0]), math.exp(one.span[1]))
    return one.scaled(ends, ends)


def _asin(one: Spread) -> Spread:
    low, high = one.span
    if not -1.0 < low <= high < 1.0:
        raise Unproven
    squares = (one**2).span
    slope = (1.0 / math.sqrt(1.0 - squares[0]), 1.0 / math.sqrt(1.0 - squares[1]))
    return one.scaled(slope, (math.asin(low), math.asin(high)))


def _acos(one: Spread) -> Spread:
    return math.pi / 2 - _asin(one)


def _atan(one: Spread) -> Spread:
    squares = (one**2).span
    slope = (1.0 / (1.0 + squares[1]), 1.0 / (1.0 + squares[0]))
    return one.scaled(slope, (math.atan(one.span[0]), math.atan(one.span[1])))


_FUNCTIONS = {
    "sin": _sin,
    "cos": _cos,
    "tan": _tan,
    "sqrt": _sqrt,
    "log10": _log10,
    "exp": _exp,
    "asin": _asin,
    "acos": _acos,
    "atan": _atan,
}
