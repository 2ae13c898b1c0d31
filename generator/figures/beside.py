"""A place and what is drawn round it, in; a word beside it that nothing crosses, out."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from generator.figures.clearance import Box, Stroke
from generator.figures.lettering import text_box
from generator.figures.picture import Anchor, Circle, Line, Mark, Outline, Point, Words

SMALL = 9.0


def strokes_of(marks: Iterable[Mark]) -> Iterator[Stroke]:
    for mark in marks:
        if isinstance(mark, Line):
            yield Stroke((mark.x1, mark.y1), (mark.x2, mark.y2))
        elif isinstance(mark, Outline):
            points = (*mark.points, mark.points[0]) if mark.closed else mark.points
            yield from (Stroke(a, b) for a, b in pairwise(points))
        elif isinstance(mark, Circle):
            turns = (2 * math.pi * k / 48 for k in range(49))
            ring = [(mark.x + mark.radius * math.cos(t), mark.y + mark.radius * math.sin(t))
                    for t in turns]  # fmt: skip
            yield from (Stroke(a, b) for a, b in pairwise(ring))


def beside(
    name: str, at: Point, drawn: tuple[Sequence[Mark], Sequence[Sequence[Point]]], frame: Box
) -> Words:
    """A word beside a place, at the first spot round it that no stroke enters and no part holds."""
    marks, bodies = drawn
    taken = list(strokes_of(marks))
    words = [text_box(each) for each in marks if isinstance(each, Words)]
    tried: list[tuple[int, int, Words]] = []
    for away in (1.5, 3.0, 5.0, 8.0, 12.0):
        for x, y, anchor in _round(at, away):
            mark = Words(x, y, name, SMALL, False, anchor)
            box = text_box(mark)
            middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
            cost = sum(each.enters(box.grown(0.4)) for each in taken)
            cost += 10 * sum(_holds(body, middle) for body in bodies)
            cost += 100 * sum(box.overlaps(each) for each in words) + 1000 * (not frame.holds(box))
            tried.append((cost, len(tried), mark))
    return min(tried, key=lambda each: each[:2])[2]


def _holds(body: Sequence[Point], place: Point) -> bool:
    """Whether a closed outline holds a place: a ray from it leaves by an odd number of sides."""
    x, y = place
    crossed = 0
    for (ax, ay), (bx, by) in pairwise((*body, body[0])):
        if (ay > y) != (by > y):
            crossed += ax + (y - ay) / (by - ay) * (bx - ax) > x
    return crossed % 2 == 1


def _round(at: Point, away: float) -> Iterator[tuple[float, float, Anchor]]:
    x, y = at
    down = 2.2
    yield x, y - away, "middle"
    yield x, y + away + down, "middle"
    for dy in (down / 2, -away, away + down):
        yield x + away, y + dy, "start"
        yield x - away, y + dy, "end"
