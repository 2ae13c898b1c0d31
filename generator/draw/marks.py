"""A place and a size in millimetres, in; the marks that tell kinds apart without colour, out."""

from __future__ import annotations

from math import cos, pi, sin

from generator.draw.fonts import BOLD
from generator.draw.paper import BODY, HEAVY, PT, WARNING_STROKE
from generator.draw.pen import Pen

OVERLEAF = 6.4
"""Height (mm) of the words at the foot of a page, and of those at the top of the next, that say
what goes on."""


def overleaf(pen: Pen, right: float, base: float, what: str) -> None:
    """What continues on the next sheet, with an arrow, up to the right edge."""
    words = f"{what} continues on the next sheet"
    pen.text(right - 5.6, base, words, BOLD, BODY, anchor="end")
    arrow(pen, right - 4.4, base - 1.3, 4.4, to_left=False)


def alert(pen: Pen, x: float, y: float, size: float, weight: float = HEAVY) -> None:
    """A triangle with an exclamation mark in a square of the size, top left corner at x, y."""
    high = size * 0.88
    pen.outline(((x, y + high), (x + size / 2, y), (x + size, y + high)), weight, closed=True)
    letters = high * 0.66 / 0.69 / PT
    pen.text(x + size / 2, y + high * 0.9, "!", BOLD, round(letters, 1), anchor="middle")


def octagon(pen: Pen, x: float, y: float, size: float) -> None:
    """The mark of a hold."""
    around = _ring(x, y, size, 8, pi / 8)
    pen.outline(around, WARNING_STROKE, closed=True)


def ring(pen: Pen, x: float, y: float, size: float) -> None:
    """The mark of a witness point."""
    pen.circle(x + size / 2, y + size / 2, size / 2 - HEAVY / 2, HEAVY)
    pen.circle(x + size / 2, y + size / 2, size / 5, HEAVY)


def two_squares(pen: Pen, x: float, y: float, size: float) -> None:
    """The mark of an independent inspection: two overlapping squares."""
    side = size * 0.62
    pen.frame(x, y, side, side, HEAVY)
    pen.frame(x + size - side, y + size - side, side, side, HEAVY)


def _ring(x: float, y: float, size: float, sides: int, turn: float) -> list[tuple[float, float]]:
    middle, radius = size / 2, size / 2 / cos(pi / sides)
    turns = [turn + 2 * pi * i / sides for i in range(sides)]
    return [(x + middle + radius * cos(t), y + middle + radius * sin(t)) for t in turns]


def double_frame(
    pen: Pen, x: float, y: float, width: float, height: float, outer: float, inner: float
) -> None:
    """Two frames, one inside the other; the weights say which kind."""
    step = outer / 2 + 0.7 + inner / 2
    pen.frame(x, y, width, height, outer)
    pen.frame(x + step, y + step, width - 2 * step, height - 2 * step, inner)


def cut_frame(pen: Pen, x: float, y: float, width: float, height: float, cut: float = 4.0) -> None:
    """A frame with its corners cut off."""
    r, b = x + width, y + height
    points = (
        (x + cut, y), (r - cut, y), (r, y + cut), (r, b - cut),
        (r - cut, b), (x + cut, b), (x, b - cut), (x, y + cut),
    )  # fmt: skip
    pen.outline(points, HEAVY, closed=True)


def arrow(pen: Pen, x: float, y: float, length: float, to_left: bool) -> None:
    """An arrow of a length along y, pointing to the left or to the right."""
    tip, tail, way = (x, x + length, 1.0) if to_left else (x + length, x, -1.0)
    pen.line(tail, y, tip + way * 1.5, y, HEAVY)
    head = ((tip, y), (tip + way * 2.4, y - 1.2), (tip + way * 2.4, y + 1.2))
    pen.outline(head, 0.1, closed=True, filled=True)
