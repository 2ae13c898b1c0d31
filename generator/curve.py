"""Points in order, in; the smooth line through them, and what is measured on it, out.

The line is the cubic spline of which the first and the last two spans are one cubic each (end
condition "not a knot"): no end is forced straight. Through three points it is a parabola, through
two a straight line. In the plane both coordinates run over the chords passed on the way.
"""

from __future__ import annotations

import bisect
import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

Point = tuple[float, float]

# Gauss and Legendre, five places: exact for polynomials of the ninth degree.
_PLACES = (
    (0.0, 128 / 225),
    (math.sqrt(5 - 2 * math.sqrt(10 / 7)) / 3, (322 + 13 * math.sqrt(70)) / 900),
    (math.sqrt(5 + 2 * math.sqrt(10 / 7)) / 3, (322 - 13 * math.sqrt(70)) / 900),
)
_HALVINGS = 80


class Line(Protocol):
    """A line in the plane over a parameter: where it is, and how that changes, once and twice."""

    @property
    def ends(self) -> tuple[float, float]: ...

    def at(self, t: float) -> Point: ...

    def first(self, t: float) -> Point: ...

    def second(self, t: float) -> Point: ...


@dataclass(frozen=True)
class Cubic:
    """A cubic in each span between two knots, by its values and slopes at the knots."""

    knots: tuple[float, ...]
    values: tuple[float, ...]
    slopes: tuple[float, ...]

    @cached_property
    def spans(self) -> tuple[tuple[float, float, float, float, float, float], ...]:
        """Of each span its first knot and width, and what its share is multiplied by, from the
        value (no share) to its third power. A line is asked some thousand times."""
        told = []
        for k, (start, end) in enumerate(itertools.pairwise(self.knots)):
            wide = end - start
            a, b = self.values[k], self.values[k + 1]
            c, d = self.slopes[k] * wide, self.slopes[k + 1] * wide
            told.append((start, wide, a, c, 3 * (b - a) - 2 * c - d, 2 * (a - b) + c + d))
        return tuple(told)

    def _span(self, t: float) -> tuple[float, float, float, float, float, float]:
        """The span that holds t, the first or the last for a t beyond."""
        knots = self.knots
        return self.spans[bisect.bisect_right(knots, t, 1, len(knots) - 1) - 1]

    def at(self, t: float) -> float:
        """The value."""
        start, wide, one, two, three, four = self._span(t)
        s = (t - start) / wide
        return one + s * (two + s * (three + s * four))

    def first(self, t: float) -> float:
        """How the value changes."""
        start, wide, _, two, three, four = self._span(t)
        s = (t - start) / wide
        return (two + s * (2 * three + 3 * s * four)) / wide

    def second(self, t: float) -> float:
        """How its change changes."""
        start, wide, _, _, three, four = self._span(t)
        s = (t - start) / wide
        return (2 * three + 6 * s * four) / wide**2


def cubic(knots: Sequence[float], values: Sequence[float]) -> Cubic:
    """The cubic spline through values at knots that grow; two or more."""
    wide = [b - a for a, b in itertools.pairwise(knots)]
    rise = [(b - a) / w for (a, b), w in zip(itertools.pairwise(values), wide, strict=True)]
    if len(knots) == 2:
        return Cubic(tuple(knots), tuple(values), (rise[0], rise[0]))
    if len(knots) == 3:
        middle = (rise[0] * wide[1] + rise[1] * wide[0]) / (wide[0] + wide[1])
        slopes = (2 * rise[0] - middle, middle, 2 * rise[1] - middle)
        return Cubic(tuple(knots), tuple(values), slopes)
    return Cubic(tuple(knots), tuple(values), tuple(_slopes(wide, rise)))


def _slopes(wide: Sequence[float], rise: Sequence[float]) -> list[float]:
    """The slopes at the knots: curvature runs on at each, and its change at the second and the
    last but one."""
    last = len(wide)
    two, back = wide[0] + wide[1], wide[-1] + wide[-2]
    below, middle, above = [0.0], [wide[1]], [two]
    right = [((wide[0] + 2 * two) * wide[1] * rise[0] + wide[0] ** 2 * rise[1]) / two]
    for k in range(1, last):
        below.append(wide[k])
        middle.append(2 * (wide[k - 1] + wide[k]))
        above.append(wide[k - 1])
        right.append(3 * (wide[k] * rise[k - 1] + wide[k - 1] * rise[k]))
    below.append(back)
    middle.append(wide[-2])
    above.append(0.0)
    end = wide[-1] ** 2 * rise[-2] + (2 * back + wide[-1]) * wide[-2] * rise[-1]
    right.append(end / back)
    return _three_in_a_row(below, middle, above, right)


def _three_in_a_row(
    below: Sequence[float], middle: Sequence[float], above: Sequence[float], right: Sequence[float]
) -> list[float]:
    """The unknowns of equations with three neighbours each, by elimination."""
    over, told = [above[0] / middle[0]], [right[0] / middle[0]]
    for a, b, c, r in zip(below[1:], middle[1:], above[1:], right[1:], strict=True):
        pivot = b - a * over[-1]
        over.append(c / pivot)
        told.append((r - a * told[-1]) / pivot)
    found = [told[-1]]
    for c, r in zip(reversed(over[:-1]), reversed(told[:-1]), strict=True):
        found.append(r - c * found[-1])
    return found[::-1]


@dataclass(frozen=True)
class Curve:
    """A smooth line in the plane through points in order."""

    x: Cubic
    y: Cubic

    @property
    def ends(self) -> tuple[float, float]:
        return self.x.knots[0], self.x.knots[-1]

    def at(self, t: float) -> Point:
        return self.x.at(t), self.y.at(t)

    def first(self, t: float) -> Point:
        return self.x.first(t), self.y.first(t)

    def second(self, t: float) -> Point:
        return self.x.second(t), self.y.second(t)


def through(points: Sequence[Point]) -> Curve:
    """The smooth line through points no two of which follow each other in one place."""
    passed = list(itertools.accumulate(itertools.starmap(math.dist, itertools.pairwise(points))))
    knots = (0.0, *passed)
    return Curve(cubic(knots, [x for x, _ in points]), cubic(knots, [y for _, y in points]))


def length(line: Line, start: float, end: float, parts: int) -> float:
    """The length of a line between two parameters, by five places in each of so many parts."""
    step = (end - start) / parts
    whole = 0.0
    for k in range(parts):
        middle = start + (k + 0.5) * step
        for away, weight in _PLACES:
            for sign in (-1, 1) if away else (1,):
                whole += weight * math.hypot(*line.first(middle + sign * away * step / 2))
    return whole * abs(step) / 2


def girth(curve: Curve) -> float:
    """The length of a smooth line from its first point to its last."""
    return math.fsum(length(curve, a, b, 4) for a, b in itertools.pairwise(curve.x.knots))


def left(line: Line, t: float) -> Point:
    """The unit normal to the left of the way the line runs."""
    x, y = line.first(t)
    away = math.hypot(x, y)
    return -y / away, x / away


def bent(line: Line, t: float) -> float:
    """One over the radius, positive where the line turns to the left."""
    (x, y), (xx, yy) = line.first(t), line.second(t)
    return (x * yy - y * xx) / math.hypot(x, y) ** 3


def beside(line: Line, t: float, away: float) -> Point:
    """The point so far to the left of the line, square to it."""
    (x, y), (across, up) = line.at(t), left(line, t)
    return x + away * across, y + away * up


def sharpest(line: Line, side: int, places: Sequence[float]) -> tuple[float, float]:
    """Where the line turns most to a side (1 left, -1 right), and how much (one over the radius).

    Looked for between neighbouring places by thirds, about the place where it turns most.
    """
    turns = [side * bent(line, t) for t in places]
    k = turns.index(max(turns))
    low, high = places[max(k - 1, 0)], places[min(k + 1, len(places) - 1)]
    for _ in range(60):
        a, b = low + (high - low) / 3, high - (high - low) / 3
        if side * bent(line, a) < side * bent(line, b):
            low = a
        else:
            high = b
    middle = (low + high) / 2
    best = max((side * bent(line, t), t) for t in (middle, places[k]))
    return best[1], best[0]


def halved(measure: Callable[[float], float], low: float, high: float) -> float:
    """Where a measure that is below nothing at one end and above at the other comes to nothing."""
    falls = measure(low) > 0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if (measure(middle) > 0) is falls:
            low = middle
        else:
            high = middle
        if high - low == 0:
            break
    return (low + high) / 2


def spread_over(start: float, end: float, parts: int) -> list[float]:
    """Places from start to end, both included."""
    return [start + (end - start) * k / parts for k in range(parts + 1)]


def between_knots(curve: Curve, parts: int) -> Iterator[float]:
    """Places on a curve, so many in each span, and its last point."""
    for a, b in itertools.pairwise(curve.x.knots):
        yield from (a + (b - a) * k / parts for k in range(parts))
    yield curve.x.knots[-1]
