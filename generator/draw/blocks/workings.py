"""Givens, results and workings, in; tables and blocks that links lead to, out."""

from __future__ import annotations

import re
from collections.abc import Sequence

from generator.draw.blocks.plain import text_piece
from generator.draw.blocks.tables import table_rows
from generator.draw.breaking import typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import HAIR, INSTRUCTION, SMALL, TABLE
from generator.draw.parse import Container, Row, Run, Runs, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows

# Wide enough for most keys, so that the texts of all workings stand in one column.
_KEY_COLUMN = 46.0
_INDENT = 12.0
_BETWEEN = 0.5  # between two texts of one key
_VALUE = 2  # the column of the value in the tables of numbers
# A symbol of a calculation with its mark below, such as T_f; names of a process are longer words.
_LOW = re.compile(
    r"(?<![A-Za-z0-9_])([A-Za-zα-ωΑ-Ω]′?)_([A-Za-z0-9α-ω]{1,4}(?:_(?:min|max))?)(?![A-Za-z0-9_])"
)


def _lowered(cell: Runs) -> Runs:
    """The cell with what stands behind the underscore of a symbol as a subscript."""
    made: list[Run] = []
    for run in cell:
        parts = _LOW.split(run.text) if not run.link else [run.text]
        for i in range(0, len(parts), 3):
            made.append(run._replace(text=parts[i]))
            if i + 1 < len(parts):
                made[-1] = run._replace(text=parts[i] + parts[i + 1])
                made.append(run._replace(text=parts[i + 2].replace("_", "\u00a0"), low=True))
    return tuple(run for run in made if run.text)


def _anchored(piece: Piece, name: str) -> Piece:
    def draw(pen: Pen, x: float, y: float) -> None:
        pen.anchor(name, y)
        piece.draw(pen, x, y)

    return piece._replace(draw=draw)


def givens(block: Container, area: Area) -> Pieces:
    """The numbers that the calculations start from; each row is where its links lead."""
    header, body = table_rows(block.rows, area.width, TABLE, _VALUE)
    rows = [
        _anchored(piece, plain(row[0])) for piece, row in zip(body, block.rows[1:], strict=True)
    ]
    return (header, *breakable_rows(rows, header, 1))


def results(block: Container, area: Area) -> Pieces:
    """The numbers that were worked out; the first row of each calculation is where links lead."""
    header, body = table_rows(block.rows, area.width, TABLE, _VALUE)
    rows: list[Piece] = []
    known: set[str] = set()
    for piece, row in zip(body, block.rows[1:], strict=True):
        mark = plain(row[0])
        rows.append(piece if mark in known else _anchored(piece, mark))
        known.add(mark)
    return (header, *breakable_rows(rows, header, 1))


def inputs(block: Container, area: Area) -> Pieces:
    """What went into a calculation: it stands right under the head of its working."""
    rows = [(_lowered(row[0]), *row[1:]) for row in block.rows]
    header, body = table_rows(rows, area.width - _INDENT, TABLE, _VALUE)
    again = _stacked(_continued(block.words), _indented(header))
    under = breakable_rows([_indented(piece) for piece in body], again, 2)
    return (_indented(header)._replace(glued=True, gap=0.6), *under)


def lines(block: Container, area: Area) -> Pieces:
    """The lines of a calculation under its inputs; a new page says which calculation goes on."""
    rows = [(_lowered(row[0]), _lowered(row[1])) for row in block.rows]
    first, *others = breakable_rows(_groups(rows, area.width), _continued(block.words), 2)
    return (first._replace(header=_continued(block.words), gap=1.6), *others)


def _indented(piece: Piece) -> Piece:
    def draw(pen: Pen, x: float, y: float) -> None:
        piece.draw(pen, x + _INDENT, y)

    return piece._replace(draw=draw)


def _stacked(upper: Piece, lower: Piece) -> Piece:
    def draw(pen: Pen, x: float, y: float) -> None:
        upper.draw(pen, x, y)
        lower.draw(pen, x, y + upper.height)

    return Piece(upper.height + lower.height, draw)


def working(block: Container, area: Area) -> Pieces:
    """One calculation: number, name and result, then formula, numbers and what belongs to them."""
    head = _entered(_anchored(_head(block, area.width), block.words), block)
    groups = breakable_rows(_groups(block.rows[1:], area.width), _continued(block.words), 2)
    return (head._replace(gap=4.0), *groups)


def _entered(piece: Piece, block: Container) -> Piece:
    """The head of a working with its entry in the outline."""

    def draw(pen: Pen, x: float, y: float) -> None:
        pen.entry(f"{block.words} {plain(block.rows[0][0])}", 1, y)
        piece.draw(pen, x, y)

    return piece._replace(draw=draw)


def _continued(mark: str) -> Piece:
    text = typeset(f"{mark} continued", 60.0, SMALL, BOLD)
    return text_piece(text, 0.0)


def _head(block: Container, width: float) -> Piece:
    """Number and name at the left, the result in bold at the right."""
    number = typeset(block.words, 16.0, INSTRUCTION, BOLD)
    room = width - _INDENT
    result = typeset(block.rows[0][1], room * 0.45, INSTRUCTION, BOLD)
    name = typeset(block.rows[0][0], room - result.width - 4.0, INSTRUCTION, BOLD)
    height = max(name.height, result.height) + 1.6

    def draw(pen: Pen, x: float, y: float) -> None:
        number.draw(pen, x, y)
        name.draw(pen, x + _INDENT, y)
        result.draw(pen, x + width - result.width, y)
        pen.line(x, y + height - 1.0, x + width, y + height - 1.0, HAIR)

    return Piece(height, draw)


def _groups(rows: Sequence[Row], width: float) -> list[Piece]:
    """A key with its texts below each other: formula, numbers and result stay on one page."""
    groups: list[list[Row]] = []
    for row in rows:
        if plain(row[0]) or not groups:
            groups.append([])
        groups[-1].append(row)
    return [_group(group, width) for group in groups]


def _group(rows: Sequence[Row], width: float) -> Piece:
    key = typeset(rows[0][0], _KEY_COLUMN - 2.0, SMALL, BOLD)
    texts = [typeset(row[1], width - _INDENT - _KEY_COLUMN, TABLE) for row in rows]
    lift = (texts[0].leading - key.leading) / 2 + 0.1
    high = sum(text.height + _BETWEEN for text in texts)

    def draw(pen: Pen, x: float, y: float) -> None:
        key.draw(pen, x + _INDENT, y + lift)
        for text in texts:
            text.draw(pen, x + _INDENT + _KEY_COLUMN, y)
            y += text.height + _BETWEEN

    return Piece(max(high, key.height + lift) + 0.6, draw)
