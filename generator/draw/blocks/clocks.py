"""Clock times and times to add, in; rows of HH:MM boxes, out."""

from __future__ import annotations

from generator.draw.breaking import kept_together, one_line, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import BODY, BOX_HEIGHT, CAPTION, INSTRUCTION, PT
from generator.draw.parse import Container, Row, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces

HALF, COLON = 11.5, 2.6
CLOCK_WIDTH = 2 * HALF + COLON


def clock_boxes(pen: Pen, x: float, y: float, row: str, meaning: str) -> None:
    """Two boxes with a colon between them, for hours and minutes."""
    pen.box("clock", x, y, HALF, BOX_HEIGHT, row, f"{meaning} hours".strip())
    pen.text(
        x + HALF + COLON / 2, y + BOX_HEIGHT / 2 + 0.3 * INSTRUCTION * PT, ":", BOLD,
        INSTRUCTION, anchor="middle",
    )  # fmt: skip
    pen.box("clock", x + HALF + COLON, y, HALF, BOX_HEIGHT, row, f"{meaning} minutes".strip())


def _row(row: Row, label_width: float, captioned: bool) -> Piece:
    name, added = plain(row[0]), kept_together(plain(row[1]))
    label = typeset(row[0], label_width - 2.0)
    top = 3.4 if captioned else 0.8
    height = max(BOX_HEIGHT, label.height) + top + 0.8

    def draw(pen: Pen, x: float, y: float) -> None:
        down = y + top
        label.draw(pen, x, down + (BOX_HEIGHT - label.height) / 2)
        at = x + label_width
        if captioned:
            _caption(pen, at, down - 0.9)
        clock_boxes(pen, at, down, name, f"{name} from" if added else name)
        if added:
            at = _sum(pen, at + CLOCK_WIDTH + 2.5, down, added)
            clock_boxes(pen, at, down, name, f"{name} to")

    return Piece(height, draw)


def _sum(pen: Pen, x: float, y: float, added: str) -> float:
    words = f"{added} ="
    pen.text(x, y + BOX_HEIGHT / 2 + 0.34 * BODY * PT, words, BOLD)
    return x + one_line(words, BODY, BOLD) + 2.5


def clock(block: Container, area: Area) -> Pieces:
    """Rows of clock boxes; a time to add gives a second pair, for the sum worked out by hand."""
    sums = [one_line(f"{plain(row[1])} =", BODY, BOLD) for row in block.rows if plain(row[1])]
    taken = CLOCK_WIDTH + (max(sums) + 5.0 + CLOCK_WIDTH if sums else 0.0)
    widest = max(one_line(row[0]) for row in block.rows) + 4.0
    label = min(widest, area.width - taken)
    first, *others = (_row(row, label, i == 0) for i, row in enumerate(block.rows))
    caption = Piece(2.6, lambda pen, x, y: _caption(pen, x + label, y + 2.5))
    return (first, *(each._replace(header=caption) for each in others))


def _caption(pen: Pen, x: float, base: float) -> None:
    """How a time is written, above the first boxes of a page."""
    pen.text(x, base, "HH : MM, 24 hour", size=CAPTION)
