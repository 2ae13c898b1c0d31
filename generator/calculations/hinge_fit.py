"""Survey points of a shell in; the straight lines that lie nearest to them, and pads, out.

x along, y across, z up. Nothing here knows a unit, and no length is large or small by itself.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from generator.calculations.space import Vector, nearest_line

Plane = tuple[float, float]


class Line(NamedTuple):
    """A line over x: across and up at x = 0, and how both run."""

    across: float
    up: float
    turns: float
    rises: float

    def across_at(self, x: float) -> float:
        return self.across + self.turns * x

    def up_at(self, x: float) -> float:
        return self.up + self.rises * x


def by_squares(points: Sequence[Vector]) -> Line:
    """Total least squares in space."""
    (x, y, z), (a, b, c) = nearest_line(points)
    turns, rises = b / a, c / a
    return Line(y - turns * x, z - rises * x, turns, rises)


def by_deviation(points: Sequence[Vector]) -> Line:
    """Up and across each the line whose largest deviation is least."""
    turns, across = narrowest([(x, y) for x, y, _ in points])
    rises, up = narrowest([(x, z) for x, _, z in points])
    return Line(across, up, turns, rises)


def narrowest(points: Sequence[Plane]) -> tuple[float, float]:
    """Slope and height at 0 of the middle of the narrowest upright strip round the points.

    Its slope is that of a side of their convex hull: the width over the slope is convex, made of
    straight pieces that meet at those slopes.
    """
    hull = [*_chain(sorted(points)), *_chain(sorted(points, reverse=True))]
    sides = [(a, b) for a, b in itertools.pairwise(hull) if a[0] != b[0]]
    slopes = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in sides]
    slope = min(slopes, key=lambda each: width(points, each))
    off = [y - slope * x for x, y in points]
    return slope, (max(off) + min(off)) / 2


def _chain(points: Sequence[Plane]) -> list[Plane]:
    """One side of the hull, by turns to the left only."""
    chain: list[Plane] = []
    for p in points:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 0:
            chain.pop()
        chain.append(p)
    return chain


def _turn(a: Plane, b: Plane, c: Plane) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def width(points: Sequence[Plane], slope: float) -> float:
    """How high the strip of a slope is that holds all points."""
    off = [y - slope * x for x, y in points]
    return max(off) - min(off)


def gaps(points: Sequence[Vector], across: Sequence[float], line: Line) -> list[float]:
    """How far the shell lies below the line at each station, square to the line; across: the slope
    of the shell across, which carries its height from the point measured to below the line."""
    square = math.cos(math.atan(line.rises))
    return [
        (line.up_at(x) - z - (line.across_at(x) - y) * math.tan(slope)) * square
        for (x, y, z), slope in zip(points, across, strict=True)
    ]


def pads(
    points: Sequence[Vector], across: Sequence[float], line: Line, thinnest: float
) -> list[float]:
    """The heights of the pads when the line is raised until the thinnest has its height."""
    below = gaps(points, across, line)
    return [gap - min(below) + thinnest for gap in below]


def doubts(
    points: Sequence[Vector], across: Sequence[float], thinnest: float, within: float,
    fit: Callable[[Sequence[Vector]], Line],
) -> list[float]:  # fmt: skip
    """How far each pad moves when every height is off by the same doubt, at the worst: each height
    moved by itself and the line fitted anew, all changes added."""
    usual = pads(points, across, fit(points), thinnest)
    moved = [0.0] * len(points)
    for k, (x, y, z) in enumerate(points):
        tried = []
        for height in (z - within, z + within):
            other = [*points[:k], (x, y, height), *points[k + 1 :]]
            tried.append(pads(other, across, fit(other), thinnest))
        for i, (low, high) in enumerate(zip(*tried, strict=True)):
            moved[i] += max(abs(low - usual[i]), abs(high - usual[i]))
    return moved
