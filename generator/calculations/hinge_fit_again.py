"""Survey points of a shell in; the same lines and pads as by the fit, in other ways, out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from generator.calculations.hinge_fit import Line, Plane, width
from generator.calculations.space import Vector, cross, dot, length

_GOLD = (math.sqrt(5) - 1) / 2


def squares_again(points: Sequence[Vector]) -> Line:
    """The largest root of the scatter's cubic by the cosine rule, its axis by a cross product."""
    count = len(points)
    mean = [sum(p[i] for p in points) / count for i in range(3)]
    a = [
        [math.fsum((p[i] - mean[i]) * (p[j] - mean[j]) for p in points) for j in range(3)]
        for i in range(3)
    ]
    root = _largest_root(a)
    rows = [[a[i][j] - (root if i == j else 0.0) for j in range(3)] for i in range(3)]
    vectors = [(row[0], row[1], row[2]) for row in rows]
    ways = [cross(vectors[i], vectors[j]) for i, j in ((0, 1), (0, 2), (1, 2))]
    way = max(ways, key=length)
    turns, rises = way[1] / way[0], way[2] / way[0]
    return Line(mean[1] - turns * mean[0], mean[2] - rises * mean[0], turns, rises)


def _largest_root(a: Sequence[Sequence[float]]) -> float:
    """Of the characteristic cubic of a symmetric table."""
    mid = (a[0][0] + a[1][1] + a[2][2]) / 3
    off = a[0][1] ** 2 + a[0][2] ** 2 + a[1][2] ** 2
    spread = sum((a[i][i] - mid) ** 2 for i in range(3)) + 2 * off
    size = math.sqrt(spread / 6)
    b = [[(a[i][j] - (mid if i == j else 0.0)) / size for j in range(3)] for i in range(3)]
    volume = dot((b[0][0], b[0][1], b[0][2]), cross((b[1][0], b[1][1], b[1][2]),
                 (b[2][0], b[2][1], b[2][2])))  # fmt: skip
    return mid + 2 * size * math.cos(math.acos(min(1.0, max(-1.0, volume / 2))) / 3)


def deviation_again(points: Sequence[Vector]) -> Line:
    """The least width by a golden search over the slope."""
    turns, across = _searched([(x, y) for x, y, _ in points])
    rises, up = _searched([(x, z) for x, _, z in points])
    return Line(across, up, turns, rises)


def _searched(points: Sequence[Plane]) -> tuple[float, float]:
    """The width over the slope is convex: its least lies between the steepest neighbours."""
    pairs = itertools.pairwise(points)
    slopes = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairs]
    low, high = min(slopes), max(slopes)
    one, two = high - _GOLD * (high - low), low + _GOLD * (high - low)
    at = width(points, one), width(points, two)
    for _ in range(80):
        if at[0] < at[1]:
            high, two = two, one
            one = high - _GOLD * (high - low)
            at = width(points, one), at[0]
        else:
            low, one = one, two
            two = low + _GOLD * (high - low)
            at = at[1], width(points, two)
    slope = (low + high) / 2
    off = [y - slope * x for x, y in points]
    return slope, (max(off) + min(off)) / 2


def pads_again(
    points: Sequence[Vector], across: Sequence[float], line: Line, thinnest: float
) -> list[float]:
    """Each pad as the distance of the shell under the line from the line, by a cross product in
    the upright plane."""
    found = []
    for (x, y, z), slope in zip(points, across, strict=True):
        shell = z + (line.across + line.turns * x - y) * math.sin(slope) / math.cos(slope)
        arm = (x, 0.0, shell - line.up)
        way = (1.0, 0.0, line.rises)
        found.append(cross(way, arm)[1] / length(way))
    return [each - min(found) + thinnest for each in found]
