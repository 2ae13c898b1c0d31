"""The rows of a drawing at 1:1, in; its marks in true millimetres and its words for each tile, out.

To add one (a former, a template) is to add one function that takes its own rows and gives a
FullSize, and its line in DRAWINGS. How it is cut into tiles and measured is none of its business.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from generator.figures.clearance import Box
from generator.figures.lettering import text_box
from generator.figures.picture import Circle, Line, Mark, Outline, Point, Words
from generator.findings import Refusal
from generator.quantities.text import read_amount
from generator.quantities.units import unit

LARGEST = 4000.0
"""Longest side (mm) of a drawing at full size: 25 sheets in a row."""

CUT, THIN = 0.35, 0.3
"""Strokes (mm): what is cut along; all other lines. 0.25 belongs to places to write."""

CHAIN, DASHES = (6.0, 1.2, 1.2, 1.2), (3.0, 1.5)
_SAGITTA = 0.004  # how far a chord may leave its arc (mm)


@dataclass(frozen=True)
class Check:
    """A distance that can be measured on the whole drawing: from where to where, in mm."""

    what: str
    millimetres: float


@dataclass(frozen=True)
class FullSize:
    """A drawing at 1:1 in a frame of its own: origin top left, x right, y down, all in mm.

    size: what it is the size of, in words. view: from where it is seen. checks: what is measured
    on it when its tiles are joined. notes: sentences that stand on every tile. Marks keep inside
    width and height; they are strokes and words, never boxes.
    """

    title: str
    size: str
    view: str
    width: float
    height: float
    marks: tuple[Mark, ...]
    checks: tuple[Check, ...]
    notes: tuple[str, ...] = ()


def millimetres(text: str) -> float:
    """A printed length in millimetres, at its nominal; refuses what is no length above nothing."""
    scale = unit("mm")
    amount = read_amount(text.strip())
    if amount.unit.dimension != scale.dimension or amount.value <= 0:
        raise Refusal("figure", f"{text!r} is no length to be drawn", "such as 640 mm")
    return scale.from_base(amount.value)


def patterned(a: Point, b: Point, pattern: tuple[float, ...], weight: float) -> Iterator[Line]:
    """A line from a to b of strokes and gaps in turn, beginning with a stroke."""
    whole = math.dist(a, b)
    along, part = 0.0, 0
    while along < whole - 1e-9:
        end = min(whole, along + pattern[part % len(pattern)])
        if part % 2 == 0:
            yield Line(*_between(a, b, along / whole), *_between(a, b, end / whole), weight)
        along, part = end, part + 1


def _between(a: Point, b: Point, share: float) -> Point:
    return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)


def arc(middle: Point, radius: float, start: float, turn: float) -> tuple[Point, ...]:
    """Points of an arc; angles in radians, clockwise from the top. The chords between them leave
    it by less than a printer's dot, which a curve of four parts does not at 300 mm radius."""
    most = 2 * math.acos(max(0.0, 1 - _SAGITTA / radius))
    parts = max(2, math.ceil(abs(turn) / most))
    angles = (start + turn * i / parts for i in range(parts + 1))
    x, y = middle
    return tuple((x + radius * math.sin(a), y - radius * math.cos(a)) for a in angles)


def reach(mark: Mark) -> Box:
    """The box round a mark."""
    match mark:
        case Line(x1, y1, x2, y2, _):
            return Box(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))
        case Circle(x, y, radius, _):
            return Box(x - radius, y - radius, x + radius, y + radius)
        case Outline(points):
            xs, ys = [x for x, _ in points], [y for _, y in points]
            return Box(min(xs), min(ys), max(xs), max(ys))
        case Words():
            return text_box(mark)
    raise TypeError("a drawing at full size has no places to write")


def moved(mark: Mark, x: float, y: float) -> Mark:
    """The mark so many millimetres farther right and down."""
    match mark:
        case Line(x1, y1, x2, y2, weight):
            return Line(x1 + x, y1 + y, x2 + x, y2 + y, weight)
        case Circle():
            return Circle(mark.x + x, mark.y + y, mark.radius, mark.weight)
        case Outline():
            points = tuple((px + x, py + y) for px, py in mark.points)
            return Outline(points, mark.weight, mark.closed, mark.filled)
        case Words():
            at = (mark.x + x, mark.y + y)
            return Words(*at, mark.text, mark.size, mark.bold, mark.anchor)
    raise TypeError("a drawing at full size has no places to write")
