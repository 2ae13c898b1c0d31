"""A heading or a paragraph, in; one piece, out."""

from __future__ import annotations

from generator.draw.breaking import Text, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import BODY, HEADING, INSTRUCTION
from generator.draw.parse import Heading, Paragraph
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces


def text_piece(text: Text, gap: float, indent: float = 0.0, breaks: bool = False) -> Piece:
    """A text alone as a piece."""

    def draw(pen: Pen, x: float, y: float) -> None:
        text.draw(pen, x + indent, y)

    return Piece(text.height, draw, gap, breaks)


def instruction(block: Paragraph, area: Area) -> Pieces:
    """A paragraph of an operation: larger than the rest."""
    return (text_piece(typeset(block.runs, area.width, INSTRUCTION), 2.2),)


def paragraph(block: Paragraph, area: Area) -> Pieces:
    """A paragraph of a section."""
    return (text_piece(typeset(block.runs, area.width, BODY), 1.8),)


def small_heading(block: Heading, area: Area) -> Pieces:
    """A heading of level 3."""
    return (text_piece(typeset(block.runs, area.width, INSTRUCTION, BOLD), 3.0),)


def section_heading(text: str, width: float) -> Piece:
    """A heading of level 2."""
    return text_piece(typeset(text, width, HEADING, BOLD), 4.5)
