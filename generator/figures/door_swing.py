"""Door, shell and opening as rows, in; the sections square to the hinge line, out."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from generator.figures.hinge_rows import amount, numbered, places
from generator.figures.lettering import wrapped
from generator.figures.picture import Circle, Line, Mark, Outline, Picture, Point, Words
from generator.findings import Refusal

SIZE, FINE = 10.5, 0.25
LINE = 4.8
HIGHEST = 80.0
MARGIN = 3.0
STEPS = 60


def door_swing(rows: Mapping[str, str], width: float) -> Picture:
    """Every section below the other, to scale: shell thick, door shut and open, the way of its
    farthest corner."""
    marks: list[Mark] = []
    y = 0.0
    opens, opens_text = amount(rows, "opens")
    for n in range(1, numbered(rows, "door") + 1):
        y = _section(marks, rows, n, opens, width, y)
    said = (
        f"Cut square to the hinge line, the small circle; door shut and open {opens_text}, thick: "
        "the shell. Right: towards the door, up: outward; opening turns it anticlockwise. "
        f"Sure in all sections: {rows['sure']}."
    )
    for text in wrapped(said, SIZE, width):
        marks.append(Words(0.0, y + 4.0, text, SIZE))
        y += LINE
    return Picture(width, y + 2.0, tuple(marks))


def _section(
    marks: list[Mark], rows: Mapping[str, str], n: int, opens: float, width: float, y: float
) -> float:
    door, shell = (_corners(rows, f"{what} {n}") for what in ("door", "shell"))
    turn = math.radians(opens)
    far = max(door, key=lambda p: math.hypot(*p))
    way = [_turned(far, turn * k / STEPS) for k in range(STEPS + 1)]
    every = [*door, *shell, *way, (0.0, 0.0), *(_turned(p, turn) for p in door)]
    left, right = min(p[0] for p in every), max(p[0] for p in every)
    low, high = min(p[1] for p in every), max(p[1] for p in every)
    scale = min((width - 2 * MARGIN) / (right - left), HIGHEST / (high - low))
    aside = (width - scale * (right - left)) / 2
    top = y + 2 * LINE + 2.0

    def place(point: Point) -> Point:
        return aside + scale * (point[0] - left), top + scale * (high - point[1])

    station = f"SECTION {n}, station {rows[f'at {n}']}"
    gap = f"least gap {rows[f'gap {n}']} at {rows[f'opening {n}']}"
    marks.append(Words(width / 2, y + LINE - 0.6, station, SIZE, True, "middle"))
    marks.append(Words(width / 2, y + 2 * LINE - 0.6, gap, SIZE, False, "middle"))
    marks.append(Outline(tuple(place(p) for p in shell), 0.9))
    closed = len(door) > 2
    marks.append(Outline(tuple(place(p) for p in door), 0.5, closed))
    marks.append(Outline(tuple(place(_turned(p, turn)) for p in door), 0.35, closed))
    for a, b in zip(way[::2], way[1::2], strict=False):
        marks.append(Line(*place(a), *place(b), FINE))
    marks.append(Circle(*place((0.0, 0.0)), 0.9, 0.5))
    return top + scale * (high - low) + 2.0


def _turned(point: Point, turn: float) -> Point:
    c, s = math.cos(turn), math.sin(turn)
    return c * point[0] - s * point[1], s * point[0] + c * point[1]


def _corners(rows: Mapping[str, str], name: str) -> Sequence[Point]:
    corners = places(rows, name)
    if len(corners) < 2:
        raise Refusal("figure", f"{name} has one corner only", "two or more")
    return corners
