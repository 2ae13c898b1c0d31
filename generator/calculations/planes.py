"""Measured points in; the plane nearest to them, and how far each lies off it, out.

x and y lie in the plate, z stands up from it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, word
from generator.calculations.space import (
    Straight,
    Vector,
    cross,
    dot,
    length,
    middle_of,
    minus,
    nearest_plane,
    scatter,
    unit_vector,
)
from generator.findings import Refusal
from generator.quantities.amount import Amount

_STEEPEST = math.radians(60)
Place = {"at_least": "-20000", "at_most": "20000"}


@dataclass(frozen=True)
class Measured:
    """One measured point."""

    across: Annotated[Amount, given("x", "mm", "measured point, x", **Place)]
    aside: Annotated[Amount, given("y", "mm", "measured point, y", **Place)]
    up: Annotated[Amount, given("z", "mm", "measured point, z", **Place)]


@dataclass(frozen=True)
class BestPlane:
    """A plane near points, and the points off it."""

    tilt: Annotated[Amount, gives("θ", "°", "true tilt", to="0.001")]
    azimuth: Annotated[
        Amount, gives("ψ", "°", "azimuth of the high side, from y, plus towards x", to="0.1")
    ]
    along: Annotated[Amount, gives("α", "°", "slope along x, plus rises with x", to="0.001")]
    across: Annotated[Amount, gives("β", "°", "slope along y, plus rises with y", to="0.001")]
    off: Annotated[tuple[Amount, ...], gives("r", "mm", "above the plane, point", to="0.001")]
    flatness: Annotated[
        Amount, gives("f", "mm", "highest over lowest point", to="0.001", safe="up")
    ]
    again: Annotated[str, word("again", "measure again at")]


def _plane(points: Sequence[Vector], plane: Straight, within: float) -> BestPlane:
    x, y, z = plane.direction
    tilt = math.atan2(math.hypot(x, y), z)
    if tilt > _STEEPEST * (1 + 1e-9):
        wrong = f"the plane is tilted by {math.degrees(tilt):.1f}°"
        raise Refusal("range", wrong, "up to 60°: turn the axes, so that z stands up from it")
    span = max(length(minus(p, plane.point)) for p in points)
    off = [dot(minus(p, plane.point), plane.direction) for p in points]
    off = [each if abs(each) > 1e-12 * span else 0.0 for each in off]
    far = [f"point {n}" for n, each in enumerate(off, 1) if abs(each) > within * (1 + 1e-9)]
    azimuth = math.atan2(-x, -y) if tilt > 1e-9 else 0.0
    made: Any = BestPlane
    found: BestPlane = made(
        tilt, azimuth, math.atan2(-x, z), math.atan2(-y, z), tuple(off), max(off) - min(off),
        ", ".join(far) or "none",
    )  # fmt: skip
    return found


def _by_least_root(rows: Any, within: float) -> BestPlane:
    """The least root of the scatter's cubic by the cosine rule, its axis by a cross product."""
    points = [(row.across, row.aside, row.up) for row in rows]
    middle = middle_of(points)
    a = scatter(points, middle)
    mid = (a[0][0] + a[1][1] + a[2][2]) / 3
    off = a[0][1] ** 2 + a[0][2] ** 2 + a[1][2] ** 2
    size = math.sqrt((sum((a[i][i] - mid) ** 2 for i in range(3)) + 2 * off) / 6)
    b = [[(a[i][j] - mid * (i == j)) / size for j in range(3)] for i in range(3)]
    r = [(row[0], row[1], row[2]) for row in b]
    half = min(1.0, max(-1.0, dot(r[0], cross(r[1], r[2])) / 2))
    root = 2 * math.cos(math.acos(half) / 3 + math.tau / 3)
    r = [(row[0] - root * (i == 0), row[1] - root * (i == 1), row[2] - root * (i == 2))
         for i, row in enumerate(r)]  # fmt: skip
    normal = max((cross(r[i], r[j]) for i, j in ((0, 1), (0, 2), (1, 2))), key=length)
    up = normal if normal[2] >= 0 else (-normal[0], -normal[1], -normal[2])
    return _plane(points, Straight(middle, unit_vector(up, "the normal")), within)


@calculation(
    source="total least squares (any text on statistics, from memory)",
    not_covered="points off by more than a slip of the gauge, which tilt the plane: measure those "
    "that are named again; a face that is no plane; flatness by the standard's least zone, which "
    "is never more than this",
    method="axis of the least scatter in space, by turning out the corners of its table (Jacobi)",
    second=Second(_by_least_root, "0.001", "the least root of the scatter's cubic"),
    examples=(
        Example(
            {
                "rows": [
                    {"across": "0 mm", "aside": "0 mm", "up": "0 mm"},
                    {"across": "-40 mm", "aside": "0 mm", "up": "12 mm"},
                    {"across": "0 mm", "aside": "25 mm", "up": "9 mm"},
                ],
                "within": "0.05 mm",
            },
            {"tilt": "25.1085 °", "flatness": "0 mm", "azimuth": "-39.8 °"},
            "normal by the cross product of two edges (closed form): 25.1085°, its own azimuth "
            "from x −50.1944°; the high side lies opposite, from y −39.8056°",
        ),
    ),
    figures=("tilt-plan",),
)  # fmt: skip
def best_plane(
    rows: tuple[Measured, ...],
    within: Annotated[
        Amount, given("δ", "mm", "how far a point may lie off", at_least="0.001", at_most="50")
    ],
) -> BestPlane:
    """Best plane through measured points: its tilt, its slopes, and each point above it.

    Three points or more, not on one straight line. Points further off than is accepted are named.
    """
    numbers: Any = (rows, within)
    told, limit = numbers
    if len(told) < 3:
        raise Refusal("range", f"{len(told)} points", "three or more, not on one straight line")
    points = [(row.across, row.aside, row.up) for row in told]
    for n, point in enumerate(points, start=1):
        if point in points[: n - 1]:
            wrong = f"point {n} is point {points.index(point) + 1} again"
            raise Refusal("range", wrong, "every point once")
    return _plane(points, nearest_plane(points), limit)
