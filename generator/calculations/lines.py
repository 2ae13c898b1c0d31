"""Points and directions in space in; turned points, distances and angles between lines out.

x along, y across, z up; a turn is right-handed along its direction.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.calculations.space import (
    Straight,
    Vector,
    angle_between,
    cross,
    dot,
    length,
    minus,
    off_line,
    plus,
    turned,
    unit_vector,
)
from generator.findings import Refusal
from generator.quantities.amount import Amount

Place = {"at_least": "-20000", "at_most": "20000"}
PARALLEL = 1e-9  # radians: below it two directions are one


@dataclass(frozen=True)
class Spot:
    """A point in space."""

    x: Annotated[Amount, given("x", "mm", "point, along", **Place)]
    y: Annotated[Amount, given("y", "mm", "point, across", **Place)]
    z: Annotated[Amount, given("z", "mm", "point, up", **Place)]


@dataclass(frozen=True)
class Through:
    """A line through two points."""

    x1: Annotated[Amount, given("x₁", "mm", "first point of the line, along", **Place)]
    y1: Annotated[Amount, given("y₁", "mm", "first point of the line, across", **Place)]
    z1: Annotated[Amount, given("z₁", "mm", "first point of the line, up", **Place)]
    x2: Annotated[Amount, given("x₂", "mm", "second point of the line, along", **Place)]
    y2: Annotated[Amount, given("y₂", "mm", "second point of the line, across", **Place)]
    z2: Annotated[Amount, given("z₂", "mm", "second point of the line, up", **Place)]


@dataclass(frozen=True)
class Moved:
    """A point that was turned."""

    x: Annotated[Amount, gives("x′", "mm", "turned, along, point", to="0.001")]
    y: Annotated[Amount, gives("y′", "mm", "turned, across, point", to="0.001")]
    z: Annotated[Amount, gives("z′", "mm", "turned, up, point", to="0.001")]


def _line(row: Any) -> Straight:
    first, second = (row.x1, row.y1, row.z1), (row.x2, row.y2, row.z2)
    return Straight(first, unit_vector(minus(second, first), "the line"))


def _one(lines: tuple[Any, ...], wanted: int) -> list[Straight]:
    if len(lines) != wanted:
        raise Refusal("count", f"{len(lines)} lines", f"{wanted}, each through two points")
    return [_line(row) for row in lines]


def _turned_again(points: Any, line: Any, angle: float) -> tuple[Moved, ...]:
    """By axes of its own: along the line, towards the point, and square to both."""
    (axis,) = _one(line, 1)
    made: Any = Moved
    found = []
    for row in points:
        point = (row.x, row.y, row.z)
        arm = off_line(point, axis)
        foot = minus(point, arm)
        side = cross(axis.direction, arm)
        moved = plus(foot, plus((0.0, 0.0, 0.0), arm, math.cos(angle)))
        found.append(made(*plus(moved, side, math.sin(angle))))
    return tuple(found)


AT_0 = dict.fromkeys(("x1", "y1", "z1", "x2", "y2", "z2"), "0 mm")
ON_Y = {"x1": "4 mm", "y1": "0 mm", "z1": "0 mm", "x2": "4 mm", "y2": "100 mm", "z2": "0 mm"}


@calculation(
    source="Rodrigues' formula, v cos φ + (k × v) sin φ + k (k · v)(1 − cos φ) (from memory)",
    not_covered="a line that the parts bend or that has play",
    method="Rodrigues' formula about the line through two points; a turn is right-handed along "
    "the way from the first to the second",
    second=Second(_turned_again, "0.00001", "axes along the line, to the point, square to both"),
    examples=(
        Example(
            {
                "points": [{"x": "10 mm", "y": "5 mm", "z": "2 mm"}],
                "line": [ON_Y], "angle": "25°",
            },
            {"1.x": "10.283083 mm", "1.y": "5.000000 mm", "1.z": "-0.723094 mm"},
            "Rodrigues about an axis beside the origin, worked apart (closed form)",
        ),
    ),
    figures=("turn-view",),
)  # fmt: skip
def turned_points(
    points: tuple[Spot, ...],
    line: tuple[Through, ...],
    angle: Annotated[Amount, given("φ", "°", "turn", at_least="-360", at_most="360")],
) -> tuple[Moved, ...]:
    """Points turned about a line in space, such as a hinge line."""
    numbers: Any = (points, angle)
    told, turn = numbers
    (axis,) = _one(line, 1)
    made: Any = Moved
    return tuple(made(*turned((row.x, row.y, row.z), axis, turn)) for row in told)


@dataclass(frozen=True)
class Apart:
    """Two lines in space."""

    distance: Annotated[
        Amount, gives("d", "mm", "least distance of the lines", to="0.001", safe="up")
    ]
    angle: Annotated[Amount, gives("φ", "°", "angle between the directions", to="0.001")]


def _apart_again(lines: Any) -> Apart:
    """The nearest places on both lines by two equations; the angle from the two unit vectors' sum
    and difference."""
    one, other = _one(lines, 2)
    joined = minus(other.point, one.point)
    c = dot(one.direction, other.direction)
    p, q = dot(joined, one.direction), dot(joined, other.direction)
    rest = length(cross(one.direction, other.direction)) ** 2
    if rest > PARALLEL**2:
        s, t = (p - c * q) / rest, (c * p - q) / rest
    else:
        s, t = p, 0.0
    near: Vector = plus(plus(joined, other.direction, t), one.direction, -s)
    gap = minus(one.direction, other.direction)
    both = plus(one.direction, other.direction)
    made: Any = Apart
    bare: Apart = made(length(near), 2 * math.atan2(length(gap), length(both)))
    return bare


@calculation(
    source="(p₂ − p₁) · (d₁ × d₂) / |d₁ × d₂|; the angle by its tangent, for a cosine does not "
    "feel small ones (numerical practice, from memory)",
    not_covered="lines that end before they come so near",
    method="the part of the way between the lines that is square to both; the angle by the tangent "
    "of cross and dot product",
    second=Second(_apart_again, "0.00001", "nearest places by two equations, angle by halves"),
    examples=(
        Example(
            {
                "lines": [
                    {**AT_0, "x1": "0 mm", "x2": "1 mm"},
                    {**AT_0, "y1": "1 mm", "z1": "1 mm", "y2": "2 mm", "z2": "1 mm"},
                ],
            },
            {"distance": "1.000 mm", "angle": "90.000 °"},
            "one line along x, one along y a millimetre above it (closed form)",
        ),
    ),
)  # fmt: skip
def lines_apart(lines: tuple[Through, ...]) -> Apart:
    """Two lines in space, such as hinge lines: how far apart they pass, and the angle between."""
    one, other = _one(lines, 2)
    square = cross(one.direction, other.direction)
    angle = angle_between(one.direction, other.direction)
    if length(square) > PARALLEL:
        joined = minus(other.point, one.point)
        distance = abs(dot(joined, unit_vector(square, "the square")))
    else:
        distance = length(off_line(other.point, one))
    made: Any = Apart
    found: Apart = made(distance, angle)
    return found
