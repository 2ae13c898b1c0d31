"""A warning, a caution or a note, in; one framed piece that stays whole, out.

Told apart without colour: heavy frame and triangle, double frame and triangle, bar at the left.
"""

from __future__ import annotations

from collections.abc import Callable

from generator.draw.breaking import Text, typeset
from generator.draw.fonts import BOLD, TEXT
from generator.draw.marks import alert, double_frame, octagon
from generator.draw.paper import BODY, HEADING, INSTRUCTION, NUMBER, PT, RULE, WARNING_STROKE
from generator.draw.parse import Container
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces

_TEXT_AT, _NOTE_AT, _PAD = 14.0, 5.0, 2.6
_LARGE = 40.0  # letters read from across a workshop (pt)


def _texts(block: Container, width: float, face: str) -> list[Text]:
    return [typeset(words, width, BODY, face) for words in block.paragraphs]


def _piece(
    block: Container, width: float, face: str, shape: Callable[..., None], left: float = _TEXT_AT
) -> Piece:
    size = HEADING if block.name == "warning" else INSTRUCTION
    head = typeset(block.name.upper(), width, size, BOLD, 1.2)
    texts = _texts(block, width - left - _PAD - 1.5, face)
    height = head.height + sum(t.height for t in texts) + 1.2 * (len(texts) - 1) + 2 * _PAD

    def draw(pen: Pen, x: float, y: float) -> None:
        shape(pen, x, y, width, height)
        down = y + _PAD
        for text in (head, *texts):
            text.draw(pen, x + left, down)
            down += text.height + (0.0 if text is head else 1.2)

    return Piece(height, draw, gap=2.2)


def warning(block: Container, area: Area) -> Pieces:
    """Injury: the heaviest frame, a triangle, bold words."""

    def shape(pen: Pen, x: float, y: float, width: float, height: float) -> None:
        half = WARNING_STROKE / 2
        pen.frame(x + half, y + half, width - 2 * half, height - 2 * half, WARNING_STROKE)
        alert(pen, x + 3.0, y + 3.2, 8.6)

    return (_piece(block, area.width, BOLD, shape),)


def caution(block: Container, area: Area) -> Pieces:
    """Damage: a thin double frame, a triangle."""

    def shape(pen: Pen, x: float, y: float, width: float, height: float) -> None:
        half = RULE / 2
        double_frame(pen, x + half, y + half, width - 2 * half, height - 2 * half, RULE, RULE)
        alert(pen, x + 3.6, y + 3.2, 7.6, 0.5)

    return (_piece(block, area.width, TEXT, shape),)


def note(block: Container, area: Area) -> Pieces:
    """Help: no frame, a bar at the left."""

    def shape(pen: Pen, x: float, y: float, width: float, height: float) -> None:
        pen.line(x + 1.2, y + 1.6, x + 1.2, y + height - 1.6, 1.0)

    return (_piece(block, area.width, TEXT, shape, _NOTE_AT),)


def stop(block: Container, area: Area) -> Pieces:
    """Words that forbid all work: read from across the workshop, with the octagon of a hold."""
    side, pad = 27.0, 5.0
    words = block.paragraphs[0]
    text = typeset(words, area.width - side - 4 * pad, _LARGE, BOLD, 1.15)
    height = max(text.height, side) + 2 * pad

    def draw(pen: Pen, x: float, y: float) -> None:
        half = WARNING_STROKE
        double_frame(
            pen, x + half, y + half, area.width - 2 * half, height - 2 * half, 2 * half, half
        )
        octagon(pen, x + 1.5 * pad, y + (height - side) / 2, side)
        middle = y + height / 2 + 0.345 * NUMBER * PT
        pen.text(x + 1.5 * pad + side / 2, middle, "STOP", BOLD, NUMBER, anchor="middle")
        text.draw(pen, x + 3.5 * pad + side, y + (height - text.height) / 2)

    return (Piece(height, draw, gap=2.2),)
