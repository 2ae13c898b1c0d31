"""Points before and after a turn as rows, in; the view along the line they turn about, out."""

from __future__ import annotations

import math
from collections.abc import Mapping

from generator.figures.hinge_rows import amount, numbered, places
from generator.figures.lettering import centred_baseline, wrapped
from generator.figures.picture import Circle, Line, Mark, Outline, Picture, Point, Words

SIZE, SMALL, FINE, LINE = 10.5, 9.0, 0.25, 4.8
RADIUS, STEPS = 36.0, 60
KEY = (
    "Looking along the line from its first point to its second, up is up: a plus turn is "
    "clockwise. Small circles: before, crosses: after. The line itself is the circle in the middle."
)


def turn_view(rows: Mapping[str, str], width: float) -> Picture:
    """Every point on its own circle about the line, before and after."""
    count = numbered(rows, "before")
    pairs = [
        (places(rows, f"before {n}")[0], places(rows, f"after {n}")[0]) for n in range(1, count + 1)
    ]
    turn, text = amount(rows, "turn")
    far = max(max(math.hypot(*point) for pair in pairs for point in pair), 1e-9)
    scale = RADIUS / far
    middle = (width / 2, RADIUS + 7.0)
    marks: list[Mark] = [Circle(*middle, 0.9, 0.5)]
    for n, (before, after) in enumerate(pairs, start=1):
        one, other = ((middle[0] + scale * p[0], middle[1] - scale * p[1]) for p in (before, after))
        marks.append(Outline(_arc(before, turn, scale, middle), FINE))
        marks.append(Circle(*one, 1.2, 0.5))
        marks += [Line(other[0] - 1.4, other[1], other[0] + 1.4, other[1], 0.5),
                  Line(other[0], other[1] - 1.4, other[0], other[1] + 1.4, 0.5)]  # fmt: skip
        for x, y in (one, other):
            marks.append(Words(x + 2.0, centred_baseline(y - 2.2, SMALL), str(n), SMALL, True))
    y = 2 * RADIUS + 17.0
    for line in wrapped(f"Turn {text}. {KEY}", SIZE, width):
        marks.append(Words(0.0, y, line, SIZE))
        y += LINE
    return Picture(width, y - 1.0, tuple(marks))


def _arc(start: Point, turn: float, scale: float, middle: Point) -> tuple[Point, ...]:
    """The way of a point, clockwise for plus."""
    away, at = scale * math.hypot(*start), math.atan2(start[1], start[0])
    steps = (at - math.radians(turn) * k / STEPS for k in range(STEPS + 1))
    return tuple((middle[0] + away * math.cos(a), middle[1] - away * math.sin(a)) for a in steps)
