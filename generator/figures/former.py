"""Sections of a loft as a sheet's rows give them, in; their body plan, or one of them at 1:1, out.

Everything is drawn from the printed ordinates, through which the same smooth line is laid as when
they were worked out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.curve import Curve, beside, through
from generator.figures.clearance import Box
from generator.figures.full_size import (
    CUT,
    THIN,
    Check,
    FullSize,
    moved,
    patterned,
    reach,
)
from generator.figures.lettering import centred_baseline, text_width, wrapped
from generator.figures.picture import Line, Mark, Outline, Picture, Point, Words
from generator.findings import Refusal

SIZE, SMALL, LARGE = 10.5, 9.0, 14.0
HIGHEST = 110.0  # of a body plan
MARGIN = 4.0
ARM = 2.5  # of the cross at a point
NEAR = 60.0  # a datum line further off than this is replaced by a line nearer by
GRID = 50.0
_SAGITTA = 0.01
_PARTS = 16
_AWAY = range(16, 101, 4)  # how far the words may stand from the line
_CHAIN = (24.0, 2.0, 2.0, 2.0)  # datum lines are long: fewer strokes to a sheet
_HOW = (
    "Each cross is a point of the table of ordinates, with its number. Cut to the middle of the "
    "curved line. Chained: datum lines, or lines at the distance from them that is written there."
)
_WAYS = {"below": (0, -1), "above": (0, 1), "left": (-1, 0), "right": (1, 0)}


@dataclass(frozen=True)
class Section:
    """One station, in mm: its points across and up in order."""

    station: str
    points: tuple[Point, ...]

    @property
    def curve(self) -> Curve:
        return through(self.points)


def former_plan(rows: Mapping[str, str], width: float) -> Picture:
    """All sections over each other, to scale, seen as the loft is: the first thick, the last
    dashed, the others thin."""
    sections = _sections(rows)
    every = [p for section in sections for p in _traced(section.curve)]
    left, right = min(x for x, _ in every), max(x for x, _ in every)
    low, high = min(y for _, y in every), max(y for _, y in every)
    scale = min((width - 2) / (right - left), HIGHEST / max(high - low, 1e-6))
    aside = (width - scale * (right - left)) / 2

    def place(point: Point) -> Point:
        return aside + scale * (point[0] - left), 1.0 + scale * (high - point[1])

    marks: list[Mark] = []
    for n, section in enumerate(sections):
        traced = tuple(place(p) for p in _traced(section.curve))
        if n == len(sections) - 1 and n:
            marks += _dashed(traced)
        else:
            marks.append(Outline(traced, 0.7 if n == 0 else 0.25))
    bottom = 1.0 + scale * (high - low)
    said = _said(rows, sections, scale)
    y = bottom + 6.0
    for line in wrapped(said, SIZE, width):
        marks.append(Words(0.0, y, line, SIZE))
        y += 4.8
    return Picture(width, y - 1.0, tuple(marks))


def _said(rows: Mapping[str, str], sections: Sequence[Section], scale: float) -> str:
    names = [section.station for section in sections]
    between = f"; thin: {', '.join(names[1:-1])}" if names[1:-1] else ""
    last = f"; dashed: {names[-1]}" if len(names) > 1 else ""
    return (
        f"{rows['surface'][:1].upper()}{rows['surface'][1:]}, {_hand(rows['of hand'])}, looking "
        f"{rows['looking']}. Thick: {names[0]}{between}{last}. 1 mm here is {1 / scale:.1f} mm."
    )


def _hand(hand: str) -> str:
    return "for neither hand" if hand == "none" else f"hand {hand}"


def _dashed(points: Sequence[Point]) -> Iterator[Mark]:
    """Strokes and gaps of 2 mm along a row of points."""
    passed, stroke = 0.0, [points[0]]
    for a, b in pairwise(points):
        passed += math.dist(a, b)
        stroke.append(b)
        if passed >= 2.0:
            if len(stroke) > 1:
                yield Outline(tuple(stroke), 0.35)
            passed, stroke = -1.5, [b]
        elif passed <= 0.0:
            stroke = [b]


def _sections(rows: Mapping[str, str]) -> list[Section]:
    """The sections of the rows; refuses rows that are missing or cannot be read."""
    for name in ("surface", "of hand", "looking", "inside"):
        if not rows.get(name):
            raise Refusal("figure", f"sections without their {name}", name)
    count = sum(name.startswith("points ") for name in rows)
    if not count:
        raise Refusal("figure", "no sections to be drawn", "points 1: 0.00 0.00; 10.00 4.00")
    return [
        Section(rows.get(f"at {n}", ""), _points(rows.get(f"points {n}", "")))
        for n in range(1, count + 1)
    ]


def _points(text: str) -> tuple[Point, ...]:
    try:
        plain = text.replace("\N{MINUS SIGN}", "-")
        read = [tuple(float(each) for each in pair.split()) for pair in plain.split(";")]
        points = tuple((across, up) for across, up in read)
    except ValueError:
        raise Refusal("figure", f"{text[:40]!r} are no points", "0.00 0.00; 10.00 4.00") from None
    if len(points) < 3 or any(math.dist(a, b) < 1e-3 for a, b in pairwise(points)):
        raise Refusal("figure", "two points of a section are one, or too few", "three or more")
    return points


def _traced(curve: Curve) -> list[Point]:
    """Points along a curve, so near that a chord leaves it by less than a printer's dot."""
    found = []
    for a, b in pairwise(curve.x.knots):
        bend = max(_bend(curve, a + (b - a) * k / 8) for k in range(9))
        parts = min(400, max(_PARTS, math.ceil((b - a) * math.sqrt(bend / 8 / _SAGITTA))))
        found += [curve.at(a + (b - a) * k / parts) for k in range(parts)]
    return [*found, curve.at(curve.x.knots[-1])]


def _bend(curve: Curve, t: float) -> float:
    return math.hypot(*curve.second(t))


# --- at full size ------------------------------------------------------------------------------


def former_template(rows: Mapping[str, str]) -> FullSize:
    """One section at 1:1: its line, its points by number, datum lines, side, hand and station."""
    (section,) = _sections(rows)
    curve = section.curve
    words = list(_words(rows, section, curve))
    marks = [
        *_line(curve),
        *_crosses(section, curve, rows["inside"]),
        *_datums(section, _round(words)),
        *words,
    ]
    boxes = [reach(mark) for mark in marks]
    left, top = min(b.left for b in boxes), min(b.top for b in boxes)
    right, bottom = max(b.right for b in boxes), max(b.bottom for b in boxes)
    placed = tuple(moved(mark, MARGIN - left, MARGIN - top) for mark in marks)
    girth = f", girth of the given line {rows['girth']}" if rows.get("girth") else ""
    return FullSize(
        "Template", f"{rows['surface']} at station {section.station}{girth}",
        f"looking {rows['looking']}, {_hand(rows['of hand'])}",
        right - left + 2 * MARGIN, bottom - top + 2 * MARGIN, placed, _checks(section),
        (_HOW, f"The inside lies {_inside(rows['inside'])} the line."),
    )  # fmt: skip


def _line(curve: Curve) -> Iterator[Mark]:
    """The line in short pieces, so that a tile looks only at those that are near it."""
    traced = [(x, -y) for x, y in _traced(curve)]
    for k in range(0, len(traced) - 1, _PARTS):
        yield Outline(tuple(traced[k : k + _PARTS + 1]), CUT)


def _inside(word: str) -> str:
    return {"left": "to the left of", "right": "to the right of"}.get(word, word)


def _checks(section: Section) -> tuple[Check, ...]:
    """From the first point to the last, and from the first to the one furthest from it."""
    first, *others = section.points
    last = len(section.points)
    far = max(range(2, last + 1), key=lambda n: math.dist(first, others[n - 2]))
    ends = dict.fromkeys((last, far, 1 + last // 2))
    return tuple(
        Check(f"point 1 to point {n}", math.dist(first, section.points[n - 1]))
        for n in ends
        if n > 1 and math.dist(first, section.points[n - 1]) >= 20
    )


def side(points: Sequence[Point], inside: str) -> int:
    """On which hand of the line its inside lies: 1 left, -1 right."""
    (x1, y1), (x2, y2) = points[0], points[-1]
    if inside == "within":
        area = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*points, points[0]]))
        return 1 if area > 0 else -1
    way = _WAYS.get(inside)
    if way is None:
        raise Refusal("figure", f"inside {inside!r}", ", ".join((*_WAYS, "within")))
    return 1 if way[1] * (x2 - x1) - way[0] * (y2 - y1) > 0 else -1


def _crosses(section: Section, curve: Curve, inside: str) -> Iterator[Mark]:
    """A cross at each point, along the line and square to it; its number on the outside."""
    out = -side(section.points, inside)
    for n, t in enumerate(curve.x.knots, 1):
        for away in (-ARM, ARM):
            (x1, y1), (x2, y2) = curve.at(t), beside(curve, t, away)
            yield Line(x1, -y1, x2, -y2, THIN)
        x, y = _clear_of_datums(section, beside(curve, t, out * (ARM + 3.2)), str(n))
        yield Words(x, centred_baseline(-y, SIZE), str(n), SIZE, True, "middle")


def _clear_of_datums(section: Section, at: Point, number: str) -> Point:
    """Where the number of a point stands, moved aside where a datum line would run through it."""
    (x, y), (upright, level) = at, _levels(section)
    wide, high = text_width(number, SIZE) / 2 + 1.2, 3.0
    if abs(x - upright) < wide:
        x = upright + math.copysign(wide, x - upright)
    if abs(y - level) < high:
        y = level + math.copysign(high, y - level)
    return x, y


def _levels(section: Section) -> Point:
    """Where the upright and the level datum line stand."""
    xs, ys = [x for x, _ in section.points], [y for _, y in section.points]
    return _nearest(min(xs) - 8, max(xs) + 8), _nearest(min(ys) - 8, max(ys) + 8)


def _round(words: Sequence[Mark]) -> Box:
    """The box round all words, and a little more."""
    boxes = [reach(each) for each in words]
    return Box(
        min(b.left for b in boxes) - 1.5, min(b.top for b in boxes) - 1.5,
        max(b.right for b in boxes) + 1.5, max(b.bottom for b in boxes) + 1.5,
    )  # fmt: skip


def _datums(section: Section, words: Box) -> Iterator[Mark]:
    """The two datum lines where they pass near, else lines in round distances from them; with a
    gap where the words stand."""
    xs, ys = [x for x, _ in section.points], [y for _, y in section.points]
    left, right, low, high = min(xs) - 8, max(xs) + 8, min(ys) - 8, max(ys) + 8
    upright, level = _levels(section)
    top, bottom = max(high, level + 8), min(low, level - 8)
    start, end = min(left, upright - 8), max(right, upright + 8)
    foot = max(-bottom, words.bottom + 8) if words.left <= upright <= words.right else -bottom
    last = max(end, words.right + 8) if words.top <= -level <= words.bottom else end
    if words.left <= upright <= words.right:
        yield from patterned((upright, -top), (upright, max(-top, words.top)), _CHAIN, THIN)
        yield from patterned((upright, words.bottom), (upright, foot), _CHAIN, THIN)
    else:
        yield from patterned((upright, -top), (upright, foot), _CHAIN, THIN)
    if words.top <= -level <= words.bottom:
        yield from patterned((start, -level), (max(start, words.left), -level), _CHAIN, THIN)
        yield from patterned((words.right, -level), (last, -level), _CHAIN, THIN)
    else:
        yield from patterned((start, -level), (last, -level), _CHAIN, THIN)
    across = "DATUM across 0" if upright == 0 else f"across {upright:+.0f} mm from the datum"
    up = "DATUM up 0" if level == 0 else f"up {level:+.0f} mm from the datum"
    yield Words(upright + 1.5, foot - 1.5, across, SMALL)
    yield Words(start + 1.0, -level - 1.2, up, SMALL)


def _nearest(low: float, high: float) -> float:
    """0 where it lies in the span or near it, else the round distance nearest to its middle."""
    if low - NEAR <= 0 <= high + NEAR:
        return 0.0
    return GRID * round((low + high) / 2 / GRID)


def _words(rows: Mapping[str, str], section: Section, curve: Curve) -> Iterator[Mark]:
    """What must be on the piece itself when the notes are cut off: station, hand, view, side. As
    near to the middle of the line as the line leaves room; where it leaves none, at the nearest."""
    traced = [Box(x, -y, x, -y) for x, y in _traced(curve)]
    tried = [_words_at(rows, section, curve, away) for away in _AWAY]
    free = (each for each in tried if not any(map(_round(each).holds, traced)))
    yield from next(free, tried[0])


def _words_at(rows: Mapping[str, str], section: Section, curve: Curve, away: float) -> list[Mark]:
    """The words so far from the middle of the line."""
    middle = curve.x.knots[len(curve.x.knots) // 2]
    x, y = beside(curve, middle, side(section.points, rows["inside"]) * away)
    lines = (
        (f"STATION {section.station}", LARGE, True),
        (rows["of hand"] if rows["of hand"] != "none" else "NO HAND", LARGE, True),
        (f"{rows['surface'].upper()}, looking {rows['looking'].upper()}", SIZE, False),
        ("THIS SIDE IS INSIDE", SIZE, True),
    )
    wide = max(text_width(text, size) for text, size, _ in lines)
    down = -y + (0 if rows["inside"] in ("below", "within", "left", "right") else -22.0)
    shift = {"left": -wide / 2, "right": wide / 2}.get(rows["inside"], 0.0)
    return [
        Words(x + shift, down + 5.8 * n, text, size, bold, "middle")
        for n, (text, size, bold) in enumerate(lines)
    ]
