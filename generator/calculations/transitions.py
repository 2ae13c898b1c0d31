"""Two edges in space, point for point, in; the sheet between them laid flat out.

The sheet is a row of triangles. Where it is warped it cannot be laid flat without stretch, and how
far it is from that is told.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, NamedTuple

from generator.calculation import Example, Second, calculation, choice, given
from generator.calculations.line_again import again
from generator.calculations.section_points import Across, In, Up
from generator.calculations.section_sides import side_of
from generator.calculations.unrolling import (
    INSIDE,
    Flat,
    Marked,
    Off,
    Pattern,
    Ruling,
    Vector,
    by_angles,
    crossing,
    flat_of,
    pattern,
)
from generator.curve import Cubic, cubic
from generator.findings import Refusal
from generator.quantities.amount import Amount

TRIANGLES = "development by triangles (any text on sheet metal drafting; from memory)"
FIRST, SECOND = "first", "second"
STRAIGHT, SMOOTH = "straight from point to point", "smooth through all points"
AWAY, TOWARDS = "away from the viewer", "towards the viewer"
_PARTS = 16
_FLAT_TURN, _TOGETHER = 1e-6, 1e-5

Stations = Annotated[str, choice("stations rise, in the view", AWAY, TOWARDS)]
Edges = Annotated[str, choice("edges run", STRAIGHT, SMOOTH)]
Worst = Annotated[
    Amount, given("e_t", "mm", "warp that the sheet takes", at_least="0", at_most="20")
]


@dataclass(frozen=True)
class EdgePoint:
    """A point of one of the two edges."""

    edge: Annotated[str, choice("edge that the point is of", FIRST, SECOND)]
    at: Annotated[Amount, given("x", "mm", "station", at_least="-20000", at_most="20000")]
    across: Across
    up: Up


class Face(NamedTuple):
    """How a sheet is seen: whether the flat lines show its other face, and how the edges roll."""

    mirrored: bool
    rolls: str


def placed(at: float, across: float, up: float, stations: str) -> Vector:
    """A point in space, right-handed: across to the right, up, and towards the viewer."""
    return across, up, -at if stations == AWAY else at


def face_of(first: Sequence[Vector], second: Sequence[Vector], inside: str, marked: str) -> Face:
    """Which face the lines show as they are laid out, and how the edges roll, seen on the marked
    one: by the turns of the first edge, or of the second where the first is one point."""
    edge = [(x, y) for x, y, _ in (first if _spread(first) else second)]
    side = side_of(edge, inside)
    middle = len(first) // 2
    before, here = max(middle - 1, 0), max(middle, 1)
    along = (
        _less(first[here], first[before]) if _spread(first) else _less(second[here], second[before])
    )
    out = crossing(along, _less(second[here], first[here]))
    inward = (-side * along[1], side * along[0])
    shows_inside = out[0] * inward[0] + out[1] * inward[1] > 0
    turns = _turns(edge)
    ways = {t > 0 for t in turns}
    if len(ways) != 1:
        rolls = "both ways: by the lines" if ways else "flat"
    else:
        hollow = (turns[0] > 0) == (side > 0)  # the inside is where the line turns to
        rolls = "UP" if hollow == (marked == INSIDE) else "DOWN"
    return Face(shows_inside != (marked == INSIDE), rolls)


def _turns(edge: Sequence[tuple[float, float]]) -> list[float]:
    """How the edge turns at each of its points, where it does."""
    ways = [
        (b[0] - a[0], b[1] - a[1])
        for a, b in itertools.pairwise(edge)
        if math.dist(a, b) > _TOGETHER
    ]
    found = [
        math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])
        for a, b in itertools.pairwise(ways)
    ]
    return [turn for turn in found if abs(turn) > _FLAT_TURN]


def _spread(edge: Sequence[Vector]) -> bool:
    return any(math.dist(a, b) > 1e-6 for a, b in itertools.pairwise(edge))


def _less(one: Vector, other: Vector) -> Vector:
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


# --- edges -------------------------------------------------------------------------------------


def _edges(points: Sequence[Any], stations: str) -> tuple[list[Vector], list[Vector]]:
    """Both edges in space; refuses edges that do not go together."""
    first, second = (
        [placed(p.at, p.across, p.up, stations) for p in points if p.edge == which]
        for which in (FIRST, SECOND)
    )
    if len(first) != len(second) or len(first) < 2:
        wrong = f"the first edge has {len(first)} points, the second {len(second)}"
        raise Refusal("range", wrong, "as many points on both edges, two or more")
    for n, (a, b) in enumerate(zip(first, second, strict=True), 1):
        if math.dist(a, b) < 1e-6:
            raise Refusal("range", f"line {n} has no length", "edges apart from each other")
    for n in range(1, len(first)):
        steps = (math.dist(edge[n - 1], edge[n]) for edge in (first, second))
        if max(steps) < 1e-6:
            raise Refusal("range", f"lines {n} and {n + 1} are one", "each line once")
    if _crossing_over(first, second):
        wrong = "the edges run against each other: their lines cross"
        raise Refusal("range", wrong, "points of both edges in the same order")
    return first, second


def _crossing_over(first: Sequence[Vector], second: Sequence[Vector]) -> bool:
    straight = sum(math.dist(a, b) ** 2 for a, b in zip(first, second, strict=True))
    over = sum(math.dist(a, b) ** 2 for a, b in zip(first, second[::-1], strict=True))
    return straight > over * (1 + 1e-9)


Way = Callable[[float], Vector]


def _lines(first: Way, second: Way, count: int, edges: str) -> list[Ruling]:
    """Lines from edge to edge at every point, and between two points where the edges are smooth."""
    parts = _PARTS if edges == SMOOTH else 1
    places = [k / parts for k in range((count - 1) * parts + 1)]
    return [(first(t), second(t)) for t in places]


def _way(points: Sequence[Vector], edges: str) -> Way:
    """An edge over the number of its points."""
    if edges == STRAIGHT:
        return lambda t: points[round(t)]
    passed = _passed(points)
    number = _over_numbers(passed)
    over: list[Cubic] = [cubic(passed, [p[i] for p in points]) for i in range(3)]
    return lambda t: (over[0].at(number(t)), over[1].at(number(t)), over[2].at(number(t)))


def _passed(points: Sequence[Vector]) -> list[float]:
    """The chords passed on the way; refuses a smooth edge with two points in one place."""
    steps = [math.dist(a, b) for a, b in itertools.pairwise(points)]
    if min(steps) < 1e-6:
        raise Refusal("range", "two points of a smooth edge are one", f"edges: {STRAIGHT}")
    return [0.0, *itertools.accumulate(steps)]


def _over_numbers(passed: Sequence[float]) -> Callable[[float], float]:
    def at(t: float) -> float:
        k = min(int(t), len(passed) - 2)
        return passed[k] + (t - k) * (passed[k + 1] - passed[k])

    return at


def _way_again(points: Sequence[Vector], edges: str) -> Way:
    """The same edge by its second derivatives, two of its coordinates as one complex number."""
    if edges == STRAIGHT:
        return lambda t: points[round(t)]
    passed = _passed(points)
    number = _over_numbers(passed)
    flat = again(passed, [complex(x, y) for x, y, _ in points])
    deep = again(passed, [complex(z, 0) for _, _, z in points])
    return lambda t: (flat(number(t)).real, flat(number(t)).imag, deep(number(t)).real)


def _transition_again(
    points: Any,
    edges: str,
    inside: str,
    stations: str,
    marked: str,
    most_warp: float,
    off: float,
) -> Pattern:
    """Edges by their second derivatives; triangles by their angles."""
    first, second = _edges(points, stations)
    lines = _lines(_way_again(first, edges), _way_again(second, edges), len(first), edges)
    flat = by_angles(lines)
    parts = _PARTS if edges == SMOOTH else 1
    warp = max(
        math.fsum(_off_by_volume(*lines[k], *lines[k + 1]) for k in range(start, start + parts))
        for start in range(0, len(lines) - 1, parts)
    )
    lengths = tuple(
        math.fsum(math.dist(a[k], b[k]) for a, b in itertools.pairwise(lines)) for k in (0, 1)
    )
    face = face_of(first, second, inside, marked)
    strip = Flat(flat[::parts], (lengths[0], lengths[1]), warp)
    return pattern(strip, face.mirrored, face.rolls, off)


def _off_by_volume(a: Vector, b: Vector, c: Vector, d: Vector) -> float:
    """Three times the volume between four points over the triangle of three, which has its area by
    its sides."""
    u, v, w = _less(b, a), _less(c, a), _less(d, a)
    volume = abs(
        u[0] * (v[1] * w[2] - v[2] * w[1]) - u[1] * (v[0] * w[2] - v[2] * w[0])
        + u[2] * (v[0] * w[1] - v[1] * w[0])
    )  # fmt: skip
    sides = sorted((math.dist(a, b), math.dist(b, c), math.dist(c, a)))
    half = sum(sides) / 2
    area = math.sqrt(max(half * math.prod(half - side for side in sides), 0.0))
    return volume / (2 * area) if area > 1e-12 else 0.0


SQUARE_TO_POINT = [
    {"edge": edge, "at": f"{at} mm", "across": f"{y} mm", "up": f"{z} mm"}
    for edge, at, corners in (
        (FIRST, 0, ((30, 40), (-30, 40), (-30, -40))),
        (SECOND, 120, ((30, 40), (-30, 40), (-30, -40))),
    )
    for y, z in corners
]


@calculation(
    source=TRIANGLES,
    not_covered="laps and seams, which are added; the middle of the sheet: points are taken to lie "
    "in it; how a warped sheet is stretched into its form; bend allowances at sharp lines",
    method="every line from edge to edge in space, smooth edges in 16 parts between two points; "
    "laid flat triangle by triangle; the warp from the fourth corner of every field",
    second=Second(_transition_again, "0.05 mm", "other splines, triangles by angles"),
    examples=(
        Example(
            {
                "points": SQUARE_TO_POINT, "edges": STRAIGHT, "inside": "within",
                "stations": AWAY, "most_warp": "0 mm",
            },
            {
                "first_edge": "140 mm", "lengths.1.line": "120 mm", "chord": "140 mm",
                "lengths.1.diagonal": "134.2 mm",
            },
            "visible arithmetic: two sides of a box of 60 by 80 by 120 mm; √(60² + 120²) = 134.2",
        ),
    ),
    figures=("development",),
)  # fmt: skip
def transition_pattern(
    points: tuple[EdgePoint, ...], edges: Edges, inside: In, stations: Stations, marked: Marked,
    most_warp: Worst, off: Off,
) -> Pattern:  # fmt: skip
    """Flat pattern of the sheet between two edges, by triangles: such as a square that goes round.

    Line 1 joins the first points of both edges, and so on. A ring begins and ends at its seam,
    with the same point. Refuses a sheet that is warped more than it takes.
    """
    allowed: Any = most_warp
    set_off: Any = off
    first, second = _edges(points, stations)
    lines = _lines(_way(first, edges), _way(second, edges), len(first), edges)
    parts = _PARTS if edges == SMOOTH else 1
    flat = flat_of(lines, range(0, len(lines), parts))
    if flat.warp > allowed + 1e-7:
        wrong = f"the sheet is warped: a corner stands {1000 * flat.warp:.2f} mm off its field"
        right = f"at most {1000 * allowed:g} mm; points joined another way, or a form to stretch it"
        raise Refusal("range", wrong, right)
    face = face_of(first, second, inside, marked)
    return pattern(flat, face.mirrored, face.rolls, set_off)
