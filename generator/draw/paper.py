"""The name of a paper size, in; the millimetres that every page keeps to, out.

All lengths are millimetres from the top left corner of the page, letter sizes are points.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.findings import Refusal

PT = 25.4 / 72
"""Millimetres in a point."""

# One scale of letter sizes (points) for the whole sheet.
CAPTION, SMALL, TABLE, BODY, INSTRUCTION, HEADING, NUMBER = 7.5, 9.0, 10.5, 11.0, 12.0, 14.0, 18.0

# Strokes (mm): 0.25 belongs to boxes alone, so that a test can tell a place to write from a frame.
BOX_STROKE, HAIR, RULE, HEAVY, WARNING_STROKE = 0.25, 0.18, 0.35, 0.7, 1.2

BOX_HEIGHT = 8.5
BOX_WIDTH = 25.0
TICK = 6.0
STAMP_WIDTH, STAMP_HEIGHT = 19.5, 19.2

CORNER_AT, CORNER = 6.0, 14.0
"""The squares in the page's corners for the codes alone: distance from the edges, and side."""

CODE_MODULE = 0.42
"""Side of a module of a code: 29 of them stand in the outer corner of the square, and four more of
white (ISO/IEC 18004 asks as much) towards the middle; towards the edges the margin is white."""


@dataclass(frozen=True)
class Paper:
    """A sheet of paper: its size, and the content's edges on it. scale: everything is laid out on
    this size and drawn so many times as large, type, boxes and strokes alike."""

    width: float
    height: float
    scale: float = 1.0

    @property
    def left(self) -> float:
        return 25.0

    @property
    def right(self) -> float:
        return self.width - 10.0

    @property
    def content(self) -> float:
        return self.right - self.left

    @property
    def beside_corner(self) -> float:
        """How far right a line may run that stands beside a corner code."""
        return self.width - CORNER_AT - CORNER - 2.0


LARGE_PRINT = " large print"
PAPERS = {
    "A4": Paper(210.0, 297.0),
    "Letter": Paper(215.9, 279.4),
    "A3": Paper(297.0, 420.0),
    # An A4 page on A3 (ISO 216: sides are in the ratio of the square root of two).
    f"A3{LARGE_PRINT}": Paper(297.0 / 2**0.5, 420.0 / 2**0.5, 2**0.5),
    # 11 by 17 inches (ANSI/ASME Y14.1, size B), as wide as a Letter page drawn larger.
    "Tabloid": Paper(279.4, 431.8),
    f"Tabloid{LARGE_PRINT}": Paper(215.9, 431.8 / (279.4 / 215.9), 279.4 / 215.9),
}


def paper_named(name: str) -> Paper:
    """The paper of that name; refuses any that is not known."""
    if name not in PAPERS:
        raise Refusal("sheet", f"paper {name!r} is not known", ", ".join(PAPERS))
    return PAPERS[name]
