"""Points and directions in space in; lines, planes and turned points out.

Named axes are x along, y across, z up. Nothing here knows a unit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from generator.findings import Refusal

Vector = tuple[float, float, float]
Table = list[list[float]]
_NOTHING = 1e-20  # of the corners between: far below what a float of them feels
_SWEEPS = 30


class Straight(NamedTuple):
    """A line in space: a point on it and its direction, of length 1."""

    point: Vector
    direction: Vector


def minus(one: Vector, other: Vector) -> Vector:
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def plus(one: Vector, other: Vector, share: float = 1.0) -> Vector:
    return one[0] + share * other[0], one[1] + share * other[1], one[2] + share * other[2]


def dot(one: Vector, other: Vector) -> float:
    return math.sumprod(one, other) if hasattr(math, "sumprod") else _dot(one, other)


def _dot(one: Vector, other: Vector) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def cross(one: Vector, other: Vector) -> Vector:
    return (
        one[1] * other[2] - one[2] * other[1],
        one[2] * other[0] - one[0] * other[2],
        one[0] * other[1] - one[1] * other[0],
    )


def length(one: Vector) -> float:
    return math.hypot(*one)


def unit_vector(one: Vector, what: str) -> Vector:
    """The direction of a vector; refuses one of no length."""
    size = length(one)
    if size == 0:
        raise Refusal("range", f"{what} has no length", "two places that are not the same")
    return one[0] / size, one[1] / size, one[2] / size


def angle_between(one: Vector, other: Vector) -> float:
    """0 to a half turn; by the tangent, because a cosine does not feel small angles."""
    return math.atan2(length(cross(one, other)), dot(one, other))


def turned(point: Vector, about: Straight, angle: float) -> Vector:
    """A point turned about a line, right-handed along its direction (Rodrigues)."""
    axis = about.direction
    arm = minus(point, about.point)
    along = dot(axis, arm) * (1 - math.cos(angle))
    side = cross(axis, arm)
    moved = plus(plus(_scaled(arm, math.cos(angle)), side, math.sin(angle)), axis, along)
    return plus(about.point, moved)


def _scaled(one: Vector, share: float) -> Vector:
    return one[0] * share, one[1] * share, one[2] * share


def off_line(point: Vector, line: Straight) -> Vector:
    """The way from a line to a point, square to the line."""
    arm = minus(point, line.point)
    return plus(arm, line.direction, -dot(arm, line.direction))


def middle_of(points: Sequence[Vector]) -> Vector:
    """The mean of the points."""
    x, y, z = (math.fsum(axis) / len(points) for axis in zip(*points, strict=True))
    return x, y, z


def scatter(points: Sequence[Vector], middle: Vector) -> Table:
    """Sums of products of the distances from the mean."""
    arms = [minus(p, middle) for p in points]
    return [[math.fsum(a[i] * a[j] for a in arms) for j in range(3)] for i in range(3)]


def axes_of(table: Table) -> list[tuple[float, Vector]]:
    """The three axes of a symmetric table, largest value first, by turning out its corners one
    after the other (Jacobi)."""
    a = [row[:] for row in table]
    turn = [[float(i == j) for j in range(3)] for i in range(3)]
    for _ in range(_SWEEPS):
        for i, j in ((0, 1), (0, 2), (1, 2)):
            if abs(a[i][j]) > _NOTHING * (abs(a[i][i]) + abs(a[j][j])):
                _turned_out(a, turn, i, j)
    found = [(a[k][k], (turn[0][k], turn[1][k], turn[2][k])) for k in range(3)]
    return sorted(found, key=lambda each: -each[0])


def _turned_out(a: Table, turn: Table, i: int, j: int) -> None:
    half = 0.5 * math.atan2(2 * a[i][j], a[i][i] - a[j][j])
    c, s = math.cos(half), math.sin(half)
    for row in (a, turn):
        for k in range(3):
            row[k][i], row[k][j] = c * row[k][i] + s * row[k][j], c * row[k][j] - s * row[k][i]
    a[i], a[j] = (
        [c * p + s * q for p, q in zip(a[i], a[j], strict=True)],
        [c * q - s * p for p, q in zip(a[i], a[j], strict=True)],
    )


def nearest_line(points: Sequence[Vector]) -> Straight:
    """The line for which the sum of the squares of the distances in space is least; it runs
    towards plus x."""
    middle = middle_of(points)
    (_, way), *_ = axes_of(scatter(points, middle))
    return Straight(middle, way if way[0] >= 0 else _scaled(way, -1.0))


def nearest_plane(points: Sequence[Vector]) -> Straight:
    """The plane for which the sum of the squares of the distances is least: a point of it and its
    normal, which points up. Refuses points that do not span a plane."""
    middle = middle_of(points)
    (large, _), (second, _), (_, normal) = axes_of(scatter(points, middle))
    if second <= 1e-12 * large:
        raise Refusal(
            "range", "the points lie on one straight line, or on one place",
            "a point well beside the line through the others",
        )  # fmt: skip
    return Straight(middle, normal if normal[2] >= 0 else _scaled(normal, -1.0))
