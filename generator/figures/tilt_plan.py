"""Tilt and azimuth of a face as rows, in; its plan with the arrow to the high side, out."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from generator.figures.hinge_rows import amount
from generator.figures.lettering import wrapped
from generator.figures.picture import Line, Mark, Outline, Picture, Point, Words
from generator.figures.tilt_arrows import HEAVY, head

SIZE, FINE, LINE = 10.5, 0.25, 4.8
SIDE = 34.0
KEY = (
    "Seen from above: x to the right, y upward, z towards you. Arrow: to the high side. Azimuth: "
    "from y, plus towards x (to the right). A slope is plus where the face rises with x or with y."
)


def tilt_plan(rows: Mapping[str, str], width: float) -> Picture:
    """One face between its axes."""
    azimuth, azimuth_text = amount(rows, "azimuth")
    _, tilt = amount(rows, "tilt")
    left, top = 4.0, 8.0
    middle = (left + SIDE / 2, top + SIDE / 2)
    marks: list[Mark] = list(_axes(left, top))
    turn = math.radians(azimuth)
    way = (math.sin(turn), -math.cos(turn))
    reach = SIDE / 2 - 3.0
    tip = (middle[0] + reach * way[0], middle[1] + reach * way[1])
    marks.append(Line(*middle, *tip, HEAVY))
    marks.append(head(tip, way))
    said = [f"tilt {tilt}", f"azimuth {azimuth_text}"]
    said += [f"slope along {name} {rows[name]}" for name in ("x", "y") if name in rows]
    for n, text in enumerate(said):
        marks.append(Words(left + SIDE + 14.0, top + 6.0 + LINE * n, text, SIZE))
    y = top + SIDE + 8.0
    for text in wrapped(KEY, SIZE, width):
        marks.append(Words(0.0, y, text, SIZE))
        y += LINE
    return Picture(width, y - 1.0, tuple(marks))


def _axes(left: float, top: float) -> Iterator[Mark]:
    """The face as a square, its two axes through the middle with their names."""
    right, bottom = left + SIDE, top + SIDE
    x, y = left + SIDE / 2, top + SIDE / 2
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    yield Outline(corners, 0.35, True)
    for start, end, way, name, spot in (
        ((left, y), (right + 6.0, y), (1.0, 0.0), "x", (right + 8.0, y + 1.3)),
        ((x, bottom), (x, top - 4.0), (0.0, -1.0), "y", (x + 1.6, top - 3.0)),
    ):
        yield Line(*start, *end, FINE)
        yield _small_head(end, way)
        yield Words(*spot, name, SIZE, True)


def _small_head(tip: Point, way: Point) -> Outline:
    back = (tip[0] - 2.0 * way[0], tip[1] - 2.0 * way[1])
    side = (-way[1] * 0.8, way[0] * 0.8)
    corners = (tip, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1]))
    return Outline(corners, FINE, True, True)
