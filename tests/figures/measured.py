"""Marks of a picture, in; the boxes they really fill in the printed face, out.

The figures know only rough widths; these come from the font files themselves.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable
from itertools import combinations, pairwise
from pathlib import Path
from typing import TypeVar

import fontpkg_fira_sans
from reportlab.pdfbase.ttfonts import TTFont

from generator.figures.clearance import Box, Stroke
from generator.figures.picture import Circle, Line, Outline, Picture, Tick, Words

Kind = TypeVar("Kind")
MM = 25.4 / 72


@functools.cache
def face(bold: bool) -> TTFont:
    name = "FiraSans-Bold.ttf" if bold else "FiraSans-Regular.ttf"
    return TTFont(name, next(Path(fontpkg_fira_sans.__file__).parent.rglob(name)))


def width(text: str, size: float, bold: bool = False) -> float:
    return face(bold).stringWidth(text, size) * MM


def box(words: Words) -> Box:
    """From the top of a capital to the foot of a descender."""
    wide, em = width(words.text, words.size, words.bold), words.size * MM
    left = words.x - {"start": 0, "middle": 0.5, "end": 1}[words.anchor] * wide
    return Box(left, words.y - 0.72 * em, left + wide, words.y + 0.22 * em)


def middle(words: Words) -> tuple[float, float]:
    """Where a figure's own middle stands: Fira's figures are 0.689 em high."""
    held = box(words)
    return ((held.left + held.right) / 2, words.y - 0.689 * words.size * MM / 2)


def every(picture: Picture, kind: type[Kind]) -> list[Kind]:
    return [mark for mark in picture.marks if isinstance(mark, kind)]


def boxes(picture: Picture) -> dict[str, Box]:
    """Everything that must not touch another: words and tick boxes, under a name to report."""
    held = {f"{i} {w.text}": box(w) for i, w in enumerate(every(picture, Words))}
    for tick in every(picture, Tick):
        held[f"tick {tick.meaning}"] = Box(tick.x, tick.y, tick.x + tick.size, tick.y + tick.size)
    return held


def strokes(picture: Picture) -> list[Stroke]:
    """Every straight stroke of lines and outlines."""
    made = [Stroke((m.x1, m.y1), (m.x2, m.y2)) for m in every(picture, Line)]
    for outline in every(picture, Outline):
        points = outline.points + (outline.points[:1] if outline.closed else ())
        made += [Stroke(a, b) for a, b in pairwise(points)]
    return made


def circle_enters(circle: Circle, held: Box) -> bool:
    """Whether any of a circle's inside lies in a box."""
    x = min(max(circle.x, held.left), held.right)
    y = min(max(circle.y, held.top), held.bottom)
    return (x - circle.x) ** 2 + (y - circle.y) ** 2 < circle.radius**2


def collisions(picture: Picture) -> list[str]:
    held = boxes(picture)
    return [f"{a} / {b}" for a, b in combinations(held, 2) if held[a].overlaps(held[b])]


def outside(picture: Picture) -> list[str]:
    """What leaves the picture."""
    room = Box(0, 0, picture.width, picture.height)
    drawn: Iterable[tuple[str, Box]] = [
        *boxes(picture).items(),
        *(("stroke", Box(*p, *p)) for s in strokes(picture) for p in (s.a, s.b)),
        *(
            (f"circle {c}", Box(c.x - c.radius, c.y - c.radius, c.x + c.radius, c.y + c.radius))
            for c in every(picture, Circle)
        ),
    ]
    return [name for name, held in drawn if not room.holds(held)]


def crossing(one: Stroke, other: Stroke) -> bool:
    """Whether two strokes pass through each other, by the side on which each has the other's ends.

    Ends that merely touch do not count.
    """

    def side(stroke: Stroke, point: tuple[float, float]) -> float:
        (ax, ay), (bx, by) = stroke.a, stroke.b
        return (bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)

    hair = 1e-9
    return (
        side(one, other.a) * side(one, other.b) < -hair
        and side(other, one.a) * side(other, one.b) < -hair
    )


def distance(held: Box, stroke: Stroke) -> float:
    """From a box to a stroke, by two hundred points along the stroke."""
    (ax, ay), (bx, by) = stroke.a, stroke.b

    def off(part: float) -> float:
        x, y = ax + part * (bx - ax), ay + part * (by - ay)
        aside = max(held.left - x, 0, x - held.right)
        return float((aside**2 + max(held.top - y, 0, y - held.bottom) ** 2) ** 0.5)

    return min(off(i / 200) for i in range(201))
