"""What a label says, in; a page of the same label, eight times, to be cut out, out."""

from __future__ import annotations

from collections.abc import Sequence

from generator.draw.breaking import Text, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import BODY, BOX_HEIGHT, HAIR, HEADING, SMALL
from generator.draw.parse import Container, Row, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows

_ACROSS, _DOWN = 2, 4
_HEIGHT, _PAD, _KEY, _BOX = 53.0, 2.6, 20.0, 50.0
_BETWEEN = 0.9  # between two lines

Line = tuple[Text, Text | None]
"""A key, and its words; None where a box stands."""


def labels(block: Container, area: Area) -> Pieces:
    """Rows of labels with their cutting lines: the first line of a label is set large."""
    width = area.width / _ACROSS
    lines = [_line(row, width, not i) for i, row in enumerate(block.rows)]
    height = max(_HEIGHT, sum(_high(line) for line in lines) + 2 * _PAD)
    rows = [_row(n * _ACROSS + 1, lines, width, height) for n in range(_DOWN)]
    return breakable_rows(rows, None, 1)


def _line(row: Row, width: float, first: bool) -> Line:
    key = typeset(row[0], _KEY, SMALL, BOLD)
    if plain(row[1]) == "box":
        return key, None
    room = width - _KEY - 2 * _PAD
    bold = first or plain(row[1]) in ("PORT", "STBD")
    size = HEADING if bold else BODY
    return key, typeset(row[1], room, size, BOLD) if bold else typeset(row[1], room, size)


def _high(line: Line) -> float:
    key, words = line
    return max(key.height, words.height if words else BOX_HEIGHT) + _BETWEEN


def _row(number: int, lines: Sequence[Line], width: float, height: float) -> Piece:
    def draw(pen: Pen, x: float, y: float) -> None:
        for i in range(_ACROSS):
            pen.frame(x + i * width, y, width, height, HAIR)
            _label(pen, x + i * width + _PAD, y + _PAD, lines, f"label {number + i}")

    return Piece(height, draw)


def _label(pen: Pen, x: float, y: float, lines: Sequence[Line], name: str) -> None:
    for key, words in lines:
        high = _high((key, words)) - _BETWEEN
        first = words.leading if words else BOX_HEIGHT
        key.draw(pen, x, y + (first - key.leading) / 2)
        if words:
            words.draw(pen, x + _KEY, y)
        else:
            pen.box("write", x + _KEY, y, _BOX, BOX_HEIGHT, name, "part serial")
        y += high + _BETWEEN
