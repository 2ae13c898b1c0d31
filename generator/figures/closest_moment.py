"""Two parts that turn, as a sheet's rows give them, in; the moment when they come closest, out.

The parts are placed anew from the printed numbers, so that the picture can be measured: the gap on
it, times its scale, is the gap of the table. Left all of it, right the narrow place enlarged.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise, product

from generator.figures.beside import SMALL, beside
from generator.figures.clearance import Box
from generator.figures.full_size import patterned
from generator.figures.lettering import wrapped
from generator.figures.picture import Circle, Line, Mark, Outline, Picture, Point, Words
from generator.findings import Refusal
from generator.quantities.text import read_amount
from generator.quantities.units import unit

LINE = 4.2
# 0.25 belongs to places to write: an outline as thin would be taken for a box.
THICK, THIN, FINE = 0.5, 0.3, 0.18
HIGHEST, LEFT, RIGHT = 66.0, 0.58, 0.38  # of the whole view, and both views' shares of the width
CROSS, DASHES, END = 2.0, (2.0, 1.2), 0.7
AROUND, LEAST = 4.0, 10.0  # the enlarged place: gaps across, and millimetres at the least
CORNERS = 240
Shape = tuple[complex, ...]


@dataclass(frozen=True)
class Moment:
    """Both parts by the turning of the first, in mm; where they turn; what is told of them."""

    first: Callable[[float], Shape]
    second: Callable[[float], Shape]
    pivots: tuple[complex, complex]
    names: tuple[str, str]
    at: float
    ends: tuple[float, float]
    arm: bool


def closest_moment(rows: Mapping[str, str], width: float) -> Picture:
    """The whole sweep with its closest moment thick, and the place of the gap enlarged.

    Refuses rows that are missing or cannot be read.
    """
    moment = _wheel(rows) if "wheel" in rows else _outlines(rows)
    one, other = moment.first(moment.at), moment.second(moment.at)
    near = _nearest(one, other)
    gap = abs(near[1] - near[0])
    side = max(AROUND * gap, LEAST)
    whole, low, scale = _whole(moment, near, side, LEFT * width)
    room = RIGHT * width
    enlarged = _enlarged((one, other), near, side, (width - room, 0.0), room)
    marks: list[Mark] = [*whole, *enlarged]
    y = max(low, room) + LINE
    for line in wrapped(_said(rows, moment, scale, room / side), SMALL, width):
        marks.append(Words(0.0, y, line, SMALL))
        y += LINE
    return Picture(width, y - LINE + 1.5, tuple(marks))


def _said(rows: Mapping[str, str], moment: Moment, scale: float, larger: float) -> str:
    low, high = (each.strip() for each in rows["sweep"].split(" to "))
    what = moment.names[0]
    lines = "Cross: hinge line" if moment.arm else "Crosses: hinge lines"
    return (
        f"Thick: the closest moment, {what} at {rows['at']}. Dashed: {what} at {low} and at "
        f"{high}. {lines}. Left 1 mm is {1 / scale:.1f} mm. Right the box enlarged, "
        f"1 mm is {1 / larger:.2f} mm: gap {rows['gap']}, of it sure {rows['sure']}, "
        f"wanted {rows['wanted']}."
    )


# --- reading the rows --------------------------------------------------------------------------


def _cell(rows: Mapping[str, str], name: str) -> str:
    if not rows.get(name, "").strip():
        raise Refusal("figure", f"a closest moment without its {name}", name)
    return rows[name].replace("\N{MINUS SIGN}", "-")


def _size(rows: Mapping[str, str], name: str, of: str) -> float:
    text = _cell(rows, name)
    return unit(of).from_base(read_amount(text).value)


def _angle(rows: Mapping[str, str], name: str) -> float:
    return math.radians(_size(rows, name, "°"))


def _both(text: str, by: str, of: str) -> tuple[float, float]:
    read = [unit(of).from_base(read_amount(each.strip()).value) for each in text.split(by)]
    if len(read) != 2:
        raise Refusal("figure", f"{text!r} are not two sizes", f"1 {of}{by}2 {of}")
    return read[0], read[1]


def _ends(rows: Mapping[str, str]) -> tuple[float, float]:
    low, high = _both(_cell(rows, "sweep"), " to ", "°")
    return math.radians(low), math.radians(high)


def _wheel(rows: Mapping[str, str]) -> Moment:
    """A tyre on its leg, which hangs down at 0° and swings to the right, and its door."""
    length, across = _size(rows, "half length", "mm"), _size(rows, "half width", "mm")
    power = 2 / float(_cell(rows, "fullness"))
    reach, door = _size(rows, "wheel", "mm"), _size(rows, "door", "mm")
    hinge = complex(*_both(_cell(rows, "hinge"), ";", "mm"))
    opened, trigger, closed = (_angle(rows, each) for each in ("open", "trigger", "closed"))
    ring = []
    for n in range(CORNERS):
        c, s = math.cos(2 * math.pi * n / CORNERS), math.sin(2 * math.pi * n / CORNERS)
        ring.append(complex(reach + length * math.copysign(abs(c) ** power, c), across * s))

    def tyre(leg: float) -> Shape:
        way = cmath.exp(1j * (leg - math.pi / 2))
        return tuple(each * way for each in ring)

    def edge(leg: float) -> Shape:
        part = min(1.0, max(0.0, (leg - trigger) / (closed - trigger)))
        return hinge, hinge - cmath.rect(door, opened * (1 - part))

    names = ("leg", "door")
    return Moment(tyre, edge, (0j, hinge), names, _angle(rows, "at"), _ends(rows), True)


def _outlines(rows: Mapping[str, str]) -> Moment:
    """Two outlines, each about its own hinge line, anticlockwise."""
    first, second = (_corners(_cell(rows, each)) for each in ("first", "second"))
    hinge = complex(*_both(_cell(rows, "hinge"), ";", "mm"))
    turns, start, end = (_angle(rows, each) for each in ("turns", "start", "end"))

    def follows(turned: float) -> Shape:
        part = min(1.0, max(0.0, (turned - start) / (end - start)))
        return tuple(hinge + each * cmath.exp(1j * turns * part) for each in second)

    return Moment(
        lambda turned: tuple(each * cmath.exp(1j * turned) for each in first), follows,
        (0j, hinge), ("first", "second"), _angle(rows, "at"), _ends(rows), False,
    )  # fmt: skip


def _corners(text: str) -> Shape:
    try:
        places = [complex(*map(float, pair.split())) for pair in text.split(";")]
    except (TypeError, ValueError):
        raise Refusal("figure", f"{text[:40]!r} are no corners", "0.0 0.0; 10.0 4.0") from None
    if len(places) < 2:
        raise Refusal("figure", "an outline of one corner", "two or more")
    return tuple(places)


# --- the narrowest place -----------------------------------------------------------------------


def _sides(shape: Shape) -> list[tuple[complex, complex]]:
    return list(pairwise((*shape, shape[0]) if len(shape) > 2 else shape))


def _foot(place: complex, side: tuple[complex, complex]) -> complex:
    """The place of a side that is nearest to another."""
    a, b = side
    along = b - a
    part = ((place - a) * along.conjugate()).real / (abs(along) ** 2 or 1.0)
    return a + along * min(1.0, max(0.0, part))


def _nearest(one: Shape, other: Shape) -> tuple[complex, complex]:
    """The two places, one on each part, between which the gap is."""
    there = ((c, _foot(c, side)) for c, side in product(one, _sides(other)))
    back = ((_foot(c, side), c) for c, side in product(other, _sides(one)))
    return min((*there, *back), key=lambda pair: abs(pair[1] - pair[0]))


# --- drawing -----------------------------------------------------------------------------------


def _outline(points: Sequence[Point], weight: float) -> Outline:
    return Outline(tuple(points), weight, closed=len(points) > 2)


def _whole(
    moment: Moment, near: tuple[complex, complex], side: float, room: float
) -> tuple[list[Mark], float, float]:
    """All of the sweep; its marks, how far down they reach, and its scale."""
    ghosts = [part(end) for end in moment.ends for part in (moment.first, moment.second)]
    now = [moment.first(moment.at), moment.second(moment.at)]
    corner, narrow = complex(side, side) / 2, (near[0] + near[1]) / 2
    every = [narrow - corner, narrow + corner]
    every += [*moment.pivots[moment.arm :], *(c for shape in (*ghosts, *now) for c in shape)]
    left, right = min(c.real for c in every), max(c.real for c in every)
    low, high = min(c.imag for c in every), max(c.imag for c in every)
    edge = CROSS + LINE
    scale = min((room - 2 * edge) / (right - left), (HIGHEST - 2 * edge) / (high - low))

    def place(c: complex) -> Point:
        return edge + scale * (c.real - left), edge + scale * (high - c.imag)

    marks: list[Mark] = []
    for shape in ghosts:
        marks += _dashed([place(c) for c in shape])
    frame = Box(1.0, 1.0, room, 2 * edge + scale * (high - low) - 1.0)
    ends = [place(each) for each in moment.pivots]
    if moment.arm:  # its pivot is far off: only where the leg comes from is shown
        kept = _cut(ends[0], place(sum(now[0]) / len(now[0])), frame)
        if kept is not None:
            marks.append(Line(*kept[0], *kept[1], THIN))
            ends[0] = kept[0]
    marks += [_outline([place(c) for c in shape], THICK) for shape in now]
    marks.append(_square(place(narrow), max(scale * side / 2, 1.0)))
    marks += [mark for end in ends[moment.arm :] for mark in _cross(end)]
    ends[1] = place(now[1][-1]) if moment.arm else ends[1]
    bodies = [[place(c) for c in shape] for shape in (*ghosts, *now) if len(shape) > 2]
    for end, name in zip(ends, moment.names, strict=True):
        marks.append(beside(name, end, (marks, bodies), frame))
    return marks, 2 * edge + scale * (high - low), scale


def _square(middle: Point, half: float) -> Outline:
    """The window of the closer view, on the whole."""
    x, y = middle
    signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    return Outline(tuple((x + i * half, y + j * half) for i, j in signs), THIN, closed=True)


def _dashed(points: Sequence[Point]) -> Iterator[Mark]:
    closed = [*points, points[0]] if len(points) > 2 else list(points)
    passed: list[Point] = [closed[0]]
    for point in closed[1:]:
        if math.dist(passed[-1], point) >= sum(DASHES) or point == closed[-1]:
            yield from patterned(passed[-1], point, DASHES, THIN)
            passed.append(point)


def _cross(at: Point) -> Iterator[Mark]:
    x, y = at
    yield Line(x - CROSS, y, x + CROSS, y, 0.35)
    yield Line(x, y - CROSS, x, y + CROSS, 0.35)


def _enlarged(
    shapes: tuple[Shape, Shape], near: tuple[complex, complex], side: float, corner: Point,
    room: float,
) -> Iterator[Mark]:  # fmt: skip
    """The place of the gap in a frame, cut off at its edges, the gap as a line with two dots."""
    left, top = corner
    scale, middle = room / side, (near[0] + near[1]) / 2
    frame = Box(left, top, left + room, top + room)

    def place(c: complex) -> Point:
        at = c - middle
        return left + room / 2 + scale * at.real, top + room / 2 - scale * at.imag

    yield Outline(frame.corners(), THIN, closed=True)
    for shape in shapes:
        for a, b in _sides(shape):
            kept = _cut(place(a), place(b), frame)
            if kept is not None:
                yield Outline(kept, THICK)
    ends = [place(each) for each in near]
    yield Line(*ends[0], *ends[1], FINE)
    yield from (Circle(x, y, END, 0.35) for x, y in ends)


def _cut(a: Point, b: Point, frame: Box) -> tuple[Point, Point] | None:
    """The part of a stroke that lies in the frame (clipped side by side)."""
    start, end = 0.0, 1.0
    for k, low, high in ((0, frame.left, frame.right), (1, frame.top, frame.bottom)):
        run = b[k] - a[k]
        if run == 0:
            if not low <= a[k] <= high:
                return None
            continue
        near, far = sorted(((low - a[k]) / run, (high - a[k]) / run))
        start, end = max(start, near), min(end, far)
    if start >= end:
        return None

    def at(part: float) -> Point:
        return a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])

    return at(start), at(end)
