"""Givens and workings of the calculation sheet, in; tables and blocks that links lead to, out."""

from __future__ import annotations

from dataclasses import replace

from generator.draw.blocks.plain import text_piece
from generator.draw.blocks.tables import table_rows
from generator.draw.breaking import one_line, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import HAIR, INSTRUCTION, SMALL, TABLE
from generator.draw.parse import Container, Row, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows

# Wide enough for most keys, so that the texts of all workings stand in one column.
_KEY_COLUMN = 28.0


def _anchored(piece: Piece, name: str) -> Piece:
    def draw(pen: Pen, x: float, y: float) -> None:
        pen.anchor(name, y)
        piece.draw(pen, x, y)

    return replace(piece, draw=draw)


def givens(block: Container, area: Area) -> Pieces:
    """The numbers that the calculations start from; each row is where its links lead."""
    header, body = table_rows(block.rows, area.width, TABLE)
    rows = [
        _anchored(piece, plain(row[0])) for piece, row in zip(body, block.rows[1:], strict=True)
    ]
    return (header, *breakable_rows(rows, header, 1))


def working(block: Container, area: Area) -> Pieces:
    """One calculation: number, name and result, then formula, numbers and what belongs to them."""
    keys = [row[0] for row in block.rows[1:]]
    widest = max((one_line(k, SMALL, BOLD) for k in keys), default=0.0)
    key_width = min(max(widest + 3.0, _KEY_COLUMN), 34.0)
    head = _anchored(_head(block, area.width), block.words)
    lines = [_line(row, key_width, area.width) for row in block.rows[1:]]
    return (replace(head, gap=3.0), *breakable_rows(lines, _continued(block.words), 2))


def _continued(mark: str) -> Piece:
    text = typeset(f"{mark} continued", 60.0, SMALL, BOLD)
    return text_piece(text, 0.0)


def _head(block: Container, width: float) -> Piece:
    """Number and name at the left, the result in bold at the right."""
    number = typeset(block.words, 16.0, INSTRUCTION, BOLD)
    room = width - 12.0
    result = typeset(block.rows[0][1], room * 0.45, INSTRUCTION, BOLD)
    name = typeset(block.rows[0][0], room - result.width - 4.0, INSTRUCTION, BOLD)
    height = max(name.height, result.height) + 2.4

    def draw(pen: Pen, x: float, y: float) -> None:
        pen.line(x, y, x + width, y, HAIR)
        number.draw(pen, x, y + 1.4)
        name.draw(pen, x + 12.0, y + 1.4)
        result.draw(pen, x + width - result.width, y + 1.4)

    return Piece(height, draw)


def _line(row: Row, key_width: float, width: float) -> Piece:
    key = typeset(row[0], key_width - 2.0, SMALL, BOLD)
    text = typeset(row[1], width - 12.0 - key_width, TABLE)
    lift = (text.leading - key.leading) / 2 + 0.1

    def draw(pen: Pen, x: float, y: float) -> None:
        key.draw(pen, x + 12.0, y + lift)
        text.draw(pen, x + 12.0 + key_width, y)

    return Piece(max(text.height, key.height) + 0.7, draw)
