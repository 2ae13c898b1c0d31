"""Lines of a flat pattern as a sheet's rows give them, in; the pattern to scale, or at 1:1, out.

Everything is drawn from the printed points. A smooth edge is the smooth line through them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.curve import through
from generator.figures.clearance import Box
from generator.figures.flat_sheet import head
from generator.figures.full_size import CUT, THIN, Check, FullSize, moved, reach
from generator.figures.lettering import centred_baseline, text_box, wrapped
from generator.figures.picture import Line, Mark, Outline, Picture, Point, Words
from generator.findings import Refusal

SIZE, SMALL, LARGE = 10.5, 9.0, 14.0
HIGHEST = 90.0  # of the pattern to scale
MARGIN = 4.0
ROW = 5.8
GRAIN = 22.0
_CLEAR = 1.5  # between a line and words
_INSIDE = 7.0  # from an edge to the number of a line
_PARTS = 16
_HOW = (
    "Cut to the middle of the thick outline. Thin lines are straight on the finished part: roll "
    "round them, or bend along them where the edges have corners. No lap or seam is added."
)
GRAINS = ("along the length", "across the length")


@dataclass(frozen=True)
class Development:
    """A pattern: both edges point by point, in mm, up counted up; how it is to be read."""

    first: tuple[Point, ...]
    second: tuple[Point, ...]
    smooth: bool
    marked: str
    rolls: str
    grain: str
    sheet: str


def _development(rows: Mapping[str, str]) -> Development:
    for name in ("edge a", "edge b", "marked", "rolls"):
        if not rows.get(name):
            raise Refusal("figure", f"a pattern without its {name}", name)
    first, second = _points(rows["edge a"]), _points(rows["edge b"])
    if len(first) != len(second):
        wrong = f"{len(first)} points on one edge, {len(second)} on the other"
        raise Refusal("figure", wrong, "as many on both")
    grain = rows.get("grain", "")
    if grain and grain not in GRAINS:
        raise Refusal("figure", f"grain {grain!r}", " or ".join(GRAINS))
    return Development(
        first, second, rows.get("edges") == "smooth", rows["marked"], rows["rolls"], grain,
        rows.get("sheet", ""),
    )  # fmt: skip


def _points(text: str) -> tuple[Point, ...]:
    try:
        plain = text.replace("\N{MINUS SIGN}", "-")
        read = [tuple(float(each) for each in pair.split()) for pair in plain.split(";")]
        points = tuple((across, up) for across, up in read)
    except ValueError:
        raise Refusal("figure", f"{text[:40]!r} are no points", "0.0 0.0; 10.0 4.0") from None
    if len(points) < 2:
        raise Refusal("figure", "an edge of one point", "two or more")
    return points


def _edge(points: Sequence[Point], smooth: bool) -> list[Point]:
    """An edge as it is drawn; two points in one place count once."""
    apart = [points[0], *(b for a, b in pairwise(points) if math.dist(a, b) > 0.05)]
    if not smooth or len(apart) < 3:
        return apart
    curve = through(apart)
    found = []
    for a, b in pairwise(curve.x.knots):
        found += [curve.at(a + (b - a) * k / _PARTS) for k in range(_PARTS)]
    return [*found, curve.at(curve.x.knots[-1])]


def _outline(told: Development) -> list[list[Point]]:
    """The four sides: first edge, last line, second edge, first line."""
    return [
        _edge(told.first, told.smooth),
        [told.first[-1], told.second[-1]],
        _edge(told.second, told.smooth),
        [told.first[0], told.second[0]],
    ]


def _round(told: Development) -> list[Point]:
    """The outline as one closed line."""
    first, _, second, _ = _outline(told)
    return [*first, *second[::-1]]


def _says(told: Development) -> str:
    other = "inside" if told.marked == "outside" else "outside"
    turn = "" if told.rolls == "flat" else f", edges roll {told.rolls}"
    return f"Marked face: the {told.marked} of the part; the {other} lies below{turn}."


# --- to scale ----------------------------------------------------------------------------------


def development_plan(rows: Mapping[str, str], width: float) -> Picture:
    """The pattern to scale: outline thick, its lines thin, the first and the last with their
    number."""
    told = _development(rows)
    every = _round(told)
    left, right = min(x for x, _ in every), max(x for x, _ in every)
    low, high = min(y for _, y in every), max(y for _, y in every)
    scale = min((width - 24) / max(right - left, 1e-6), HIGHEST / max(high - low, 1e-6))
    aside = (width - scale * (right - left)) / 2

    def place(point: Point) -> Point:
        return aside + scale * (point[0] - left), 6.0 + scale * (high - point[1])

    marks: list[Mark] = [
        Outline(tuple(map(place, side)), 0.5) for side in _outline(told) if len(side) > 1
    ]
    for a, b in list(zip(told.first, told.second, strict=True))[1:-1]:
        marks.append(Line(*place(a), *place(b), 0.25))
    marks += _end_numbers(told, place)
    y = 6.0 + scale * (high - low) + 9.0
    grain = f" The grain runs {told.grain}." if told.grain else ""
    sheet = f" Sheet {told.sheet}." if told.sheet else ""
    said = f"{_says(told)} Lower edge: the first.{sheet}{grain} 1 mm here is {1 / scale:.1f} mm."
    for line in wrapped(said, SIZE, width):
        marks.append(Words(0.0, y, line, SIZE))
        y += 4.8
    return Picture(width, y - 1.0, tuple(marks))


def _end_numbers(told: Development, place: Callable[[Point], Point]) -> Iterator[Mark]:
    """The numbers of the first and the last line, outside the pattern, beyond their first edge."""
    for n in (1, len(told.first)):
        (ax, ay), (bx, by) = place(told.first[n - 1]), place(told.second[n - 1])
        away = 4.0 / max(math.dist((ax, ay), (bx, by)), 1e-6)
        x, y = ax + (ax - bx) * away, ay + (ay - by) * away
        yield Words(x, centred_baseline(y, SMALL), str(n), SMALL, True, "middle")


# --- at full size ------------------------------------------------------------------------------


def full_development(rows: Mapping[str, str]) -> FullSize:
    """The pattern at 1:1: outline, numbered lines, marked face, the way it rolls, grain.

    Refuses a pattern without grain.
    """
    told = _development(rows)
    if not told.grain:
        raise Refusal("figure", "a pattern at full size without its grain", f"grain: {GRAINS[0]}")
    placed_words = _words(told, rows.get("of hand", ""))
    words = [word for group in placed_words for word in group]
    numbers = list(_numbers(told, [text_box(w).grown(_CLEAR) for w in words]))
    boxes = [text_box(each).grown(_CLEAR) for each in (*words, *numbers)]
    marks: list[Mark] = [*_cut(told), *_lines(told, boxes), *words, *numbers]
    marks += (mark for group in placed_words for mark in _grain(told, group))
    around = [reach(mark) for mark in marks]
    left, top = min(b.left for b in around), min(b.top for b in around)
    right, bottom = max(b.right for b in around), max(b.bottom for b in around)
    placed = tuple(moved(mark, MARGIN - left, MARGIN - top) for mark in marks)
    sheet = f", sheet {told.sheet}" if told.sheet else ""
    return FullSize(
        "Flat pattern", f"{len(told.first)} lines{sheet}",
        f"on the marked face, the {told.marked}; UP comes towards you, DOWN goes away",
        right - left + 2 * MARGIN, bottom - top + 2 * MARGIN, placed, tuple(_checks(told)),
        (_says(told), f"The grain runs {told.grain}.", _HOW),
    )  # fmt: skip


def _down(point: Point) -> Point:
    return point[0], -point[1]


def _cut(told: Development) -> Iterator[Mark]:
    """What is cut, in short pieces, so that a tile looks only at those that are near it."""
    for side in _outline(told):
        points = [_down(p) for p in side]
        for k in range(0, len(points) - 1, _PARTS):
            yield Outline(tuple(points[k : k + _PARTS + 1]), CUT)


def _lines(told: Development, boxes: Sequence[Box]) -> Iterator[Mark]:
    """The lines between the first and the last, with gaps where words stand."""
    for a, b in list(zip(told.first, told.second, strict=True))[1:-1]:
        for start, end in _clear(_down(a), _down(b), boxes):
            yield Line(*start, *end, THIN)


def _clear(a: Point, b: Point, boxes: Sequence[Box]) -> Iterator[tuple[Point, Point]]:
    """The pieces of a line that lie in no box."""
    spans = sorted(filter(None, (_inside(a, b, box) for box in boxes)))
    at = 0.0
    for start, end in [*spans, (1.0, 1.0)]:
        if start > at + 1e-9:
            yield _between(a, b, at), _between(a, b, start)
        at = max(at, end)


def _inside(a: Point, b: Point, box: Box) -> tuple[float, float] | None:
    """The shares of a line between which it lies in a box."""
    low, high = 0.0, 1.0
    for start, way, least, most in (
        (a[0], b[0] - a[0], box.left, box.right), (a[1], b[1] - a[1], box.top, box.bottom),
    ):  # fmt: skip
        if abs(way) < 1e-12:
            if not least < start < most:
                return None
            continue
        ends = sorted(((least - start) / way, (most - start) / way))
        low, high = max(low, ends[0]), min(high, ends[1])
    return (low, high) if low < high else None


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _numbers(told: Development, taken: Sequence[Box]) -> Iterator[Words]:
    """The number of each line on it, inside the longer edge; left out where it finds no room."""
    lengths = [sum(math.dist(a, b) for a, b in pairwise(e)) for e in (told.first, told.second)]
    ends = list(zip(told.first, told.second, strict=True))
    if lengths[1] > lengths[0]:
        ends = [(b, a) for a, b in ends]
    boxes = list(taken)
    for n, (a, b) in enumerate(ends, 1):
        long = math.dist(a, b)
        if long < 3 * _INSIDE:
            continue
        away = 2 * _INSIDE if n in (1, len(ends)) else _INSIDE
        x, y = _down(_between(a, b, away / long))
        aside = {1: 3.5, len(ends): -3.5}.get(n, 0.0)
        one = Words(x + aside, centred_baseline(y, SMALL), str(n), SMALL, True, "middle")
        box = text_box(one).grown(0.5)
        if not any(box.overlaps(other) for other in boxes):
            boxes.append(box)
            yield one


def _words(told: Development, hand: str) -> list[list[Words]]:
    """What must be on the piece itself when the notes are cut off, at three places, because words
    that a tile's edge cuts are left out; once below it where it is narrow."""
    lines = [
        (f"MARKED FACE: {told.marked.upper()}", LARGE, True),
        (f"ROLL {told.rolls.upper()}" if told.rolls != "flat" else "FLAT", LARGE, True),
        (hand if hand and hand != "none" else "", LARGE, True),
        ("GRAIN", SIZE, True),
    ]
    kept = [line for line in lines if line[0]]

    def stacked(x: float, y: float) -> list[Words]:
        return [
            Words(x, y + ROW * k, text, size, bold, "middle")
            for k, (text, size, bold) in enumerate(kept)
        ]

    found: list[list[Words]] = []
    for share in (0.5, 0.2, 0.8):
        n = round(share * (len(told.first) - 1))
        x, y = _down(_between(told.first[n], told.second[n], 0.5))
        words = stacked(x, y - ROW * (len(kept) - 1) / 2)
        if _holds(told, words) and not any(_touch(words, other) for other in found):
            found.append(words)
    if found:
        return found
    x, _ = _down(_between(told.first[0], told.first[-1], 0.5))
    return [stacked(x, max(-py for _, py in _round(told)) + 8.0)]


def _touch(words: Sequence[Words], others: Sequence[Words]) -> bool:
    return any(text_box(a).grown(GRAIN).overlaps(text_box(b)) for a in words for b in others)


def _holds(told: Development, words: Sequence[Words]) -> bool:
    """Whether the pattern has room for all words and the grain's arrow below them."""
    boxes = [text_box(word).grown(2.0) for word in words]
    whole = Box(
        min(b.left for b in boxes), min(b.top for b in boxes), max(b.right for b in boxes),
        max(b.bottom for b in boxes) + GRAIN,
    )  # fmt: skip
    edge = [_down(p) for p in _round(told)]
    sides = list(pairwise([*edge, edge[0]]))
    return all(_within(corner, sides) for corner in whole.corners()) and not any(
        _inside(a, b, whole) for a, b in sides
    )


def _within(point: Point, sides: Sequence[tuple[Point, Point]]) -> bool:
    """Whether a point lies inside a closed line: by how often a ray to the right crosses it."""
    x, y = point
    crossed = 0
    for (ax, ay), (bx, by) in sides:
        if (ay > y) != (by > y) and ax + (y - ay) * (bx - ax) / (by - ay) > x:
            crossed += 1
    return crossed % 2 == 1


def _grain(told: Development, words: Sequence[Words]) -> Iterator[Mark]:
    """An arrow with two heads below its word, the way the grain runs."""
    word = words[-1]
    x, y = word.x, word.y + 3.5
    if told.grain == GRAINS[0]:
        yield Line(x - GRAIN / 2, y, x + GRAIN / 2, y, THIN)
        yield from (head((x - GRAIN / 2, y), 1), head((x + GRAIN / 2, y), -1))
        return
    yield Line(x, y, x, y + GRAIN - 6.0, THIN)
    yield from (head((x, y), 1, upright=True), head((x, y + GRAIN - 6.0), -1, upright=True))


def _checks(told: Development) -> Iterator[Check]:
    last = len(told.first)
    for what, a, b in (
        (f"first edge, line 1 to line {last}", told.first[0], told.first[-1]),
        (f"second edge, line 1 to line {last}", told.second[0], told.second[-1]),
        ("line 1, edge to edge", told.first[0], told.second[0]),
        (f"line {last}, edge to edge", told.first[-1], told.second[-1]),
        (f"first edge at line 1 to second edge at line {last}", told.first[0], told.second[-1]),
    ):
        if math.dist(a, b) >= 20:
            yield Check(what, math.dist(a, b))
