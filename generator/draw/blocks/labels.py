"""What a label says, in; a page of the same label, eight times, to be cut out, out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.draw.breaking import Text, one_line, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import BODY, BOX_HEIGHT, HAIR, HEADING, PT, SMALL, TICK
from generator.draw.parse import Container, Row, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows

_ACROSS, _DOWN = 2, 4
_HEIGHT, _PAD, _KEY, _BOX = 53.0, 2.6, 20.0, 50.0
_BETWEEN = 0.9  # between two lines
_STATUS_AT = 14.0  # the longest status has the room it needs

_STATUS = "Status"  # the key of the row in which one of its words is ticked


@dataclass(frozen=True, slots=True)
class Line:
    """A key, and its words; None where a box stands, or the ticks of a status."""

    key: Text
    words: Text | None = None
    ticks: tuple[str, ...] = ()

    @property
    def height(self) -> float:
        """Of the higher of both, with what parts it from the next."""
        return max(self.key.height, self.words.height if self.words else BOX_HEIGHT) + _BETWEEN


def labels(block: Container, area: Area) -> Pieces:
    """Rows of labels with their cutting lines: the first line of a label is set large."""
    width = area.width / _ACROSS
    lines = [_line(row, width, not i) for i, row in enumerate(block.rows)]
    height = max(_HEIGHT, sum(line.height for line in lines) + 2 * _PAD)
    rows = [_row(n * _ACROSS + 1, lines, width, height) for n in range(_DOWN)]
    return breakable_rows(rows, None, 1)


def _line(row: Row, width: float, first: bool) -> Line:
    key = typeset(row[0], _KEY, SMALL, BOLD)
    if plain(row[0]) == _STATUS:
        return Line(key, ticks=tuple(plain(row[1]).split(", ")))
    if plain(row[1]) == "box":
        return Line(key)
    room = width - _KEY - 2 * _PAD
    bold = first or plain(row[1]) in ("PORT", "STBD")
    size = HEADING if bold else BODY
    return Line(key, typeset(row[1], room, size, BOLD) if bold else typeset(row[1], room, size))


def _row(number: int, lines: Sequence[Line], width: float, height: float) -> Piece:
    def draw(pen: Pen, x: float, y: float) -> None:
        for i in range(_ACROSS):
            pen.frame(x + i * width, y, width, height, HAIR)
            _label(pen, x + i * width + _PAD, y + _PAD, lines, f"label {number + i}")

    return Piece(height, draw)


def _label(pen: Pen, x: float, y: float, lines: Sequence[Line], name: str) -> None:
    for line in lines:
        first = line.words.leading if line.words else BOX_HEIGHT
        line.key.draw(pen, x, y + (first - line.key.leading) / 2)
        if line.words:
            line.words.draw(pen, x + _KEY, y)
        elif line.ticks:
            _ticks(pen, x + _STATUS_AT, y, line.ticks, name)
        else:
            pen.box("write", x + _KEY, y, _BOX, BOX_HEIGHT, name, "part serial")
        y += line.height


def _ticks(pen: Pen, x: float, y: float, words: Sequence[str], name: str) -> None:
    base = y + BOX_HEIGHT / 2 + 0.34 * SMALL * PT
    for word in words:
        pen.box("check", x, y + (BOX_HEIGHT - TICK) / 2, TICK, TICK, name, word)
        pen.text(x + TICK + 1.2, base, word, BOLD, SMALL)
        x += TICK + 1.2 + one_line(word, SMALL, BOLD) + 3.0
