"""Points of a section in order, in; whether they make one, which side is inside, and what it takes
to lie there, out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from generator.curve import Curve, Point, bent, between_knots, girth, sharpest, spread_over
from generator.findings import Refusal

PLACES = 24  # in each span, where a line is tried
_SHARPEST = 20  # a span may be so many of its sharpest radius long


def crossed(points: Sequence[Point]) -> tuple[int, int] | None:
    """The first two pieces of a row of points that cross, by the numbers of their first points."""
    pieces = list(itertools.pairwise(points))
    for i, (a, b) in enumerate(pieces):
        for j in range(i + 2, len(pieces)):
            c, d = pieces[j]
            if _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0:
                return i + 1, j + 1
    return None


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def sound(points: Sequence[Point], what: str) -> None:
    """Refusal of a line with two points in one place, or that crosses itself."""
    if len(points) < 3:
        raise Refusal("range", f"{what}: {len(points)} points", "three points or more, in order")
    for n, (a, b) in enumerate(itertools.pairwise(points), 1):
        if math.dist(a, b) < 1e-6:
            raise Refusal("range", f"{what}: points {n} and {n + 1} are one", "each point once")
    if (found := crossed(points)) is not None:
        wrong = f"{what} crosses itself behind points {found[0]} and {found[1]}"
        raise Refusal("range", wrong, "points in order along the line, with the right signs")


def side_of(points: Sequence[Point], inside: str) -> int:
    """On which hand of the way along the points the inside lies: 1 left, -1 right. Refusal where
    the words do not tell."""
    (x1, y1), (x2, y2) = points[0], points[-1]
    if inside == "within":
        closed = [*points, points[0]]
        area = sum(a[0] * b[1] - b[0] * a[1] for a, b in itertools.pairwise(closed)) / 2
        told = area / sum(math.dist(a, b) for a, b in itertools.pairwise(closed)) ** 2
        least = 1e-4
    else:
        way = {"below": (0, -1), "above": (0, 1), "left": (-1, 0), "right": (1, 0)}[inside]
        told = (way[1] * (x2 - x1) - way[0] * (y2 - y1)) / max(math.hypot(x2 - x1, y2 - y1), 1e-9)
        least = 0.1
    if abs(told) < least:
        wrong = f"from the first point to the last no side is {inside}"
        raise Refusal("range", wrong, "another word for the side on which the inside lies")
    return 1 if told > 0 else -1


def room_for(curve: Curve, side: int, skin: float, what: str) -> None:
    """Refusal where a line turns so sharply that its points do not tell it, or, to the inside, more
    sharply than a skin of that thickness can."""
    places = list(between_knots(curve, PLACES))
    for a, b in itertools.pairwise(curve.x.knots):
        turn = max(abs(bent(curve, t)) for t in spread_over(a, b, PLACES))
        if turn * (b - a) > _SHARPEST:
            wrong = f"{what} turns too sharply {_by(curve, (a + b) / 2)} for the points it has"
            raise Refusal("range", wrong, "more points there, or the right signs")
    at, turn = sharpest(curve, side, places)
    if turn * skin >= 1:
        wrong = f"{what}: the radius {_by(curve, at)} is {1000 / turn:.2f} mm, the skin "
        raise Refusal("range", wrong + f"{1000 * skin:g} mm", "a skin thinner than the radius")


def _by(curve: Curve, t: float) -> str:
    x, y = (1000 * each for each in curve.at(t))
    return f"by {x:.1f}, {y:.1f} mm"


def in_order(stations: Sequence[float]) -> None:
    """Refusal of stations that do not follow each other."""
    for before, after in itertools.pairwise(stations):
        if after <= before:
            wrong = f"station {1000 * after:g} mm comes after {1000 * before:g} mm"
            raise Refusal("range", wrong, "stations in order, each once")


def inside_girth(curve: Curve, side: int, skin: float) -> float:
    """The length of the line a skin inside: each piece as much shorter as the line turns in it."""
    turned = 0.0
    for a, b in itertools.pairwise(curve.x.knots):
        (x1, y1), (x2, y2) = curve.first(a), curve.first(b)
        middle = curve.first((a + b) / 2)
        turned += math.atan2(x1 * middle[1] - y1 * middle[0], x1 * middle[0] + y1 * middle[1])
        turned += math.atan2(middle[0] * y2 - middle[1] * x2, middle[0] * x2 + middle[1] * y2)
    return girth(curve) - side * skin * turned
