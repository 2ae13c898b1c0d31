"""Tables of words, in; ruled rows whose cells wrap, out. The header is repeated over pages."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from generator.draw.breaking import Text, one_line, typeset, widest_word
from generator.draw.fonts import BOLD
from generator.draw.paper import BODY, HAIR, RULE, SMALL
from generator.draw.parse import Row, Runs, Table
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows

_BETWEEN = 3.0  # between two columns
_PAD = 1.0  # above and below the words of a row
_NUMBER = re.compile(r"([−+-]?\d+)(\.\d+)?(?![\d/]| \d)")  # one number, no list of them
_MOST_SHIFT = 12.0  # a column of numbers that differ by more than this is not set by its points
_NO_SHIFTS: Sequence[float] = ()


def column_widths(
    rows: Sequence[Row],
    width: float,
    size: float = BODY,
    more: Mapping[int | None, float] = MappingProxyType({}),
) -> list[float]:
    """A width for each column: by their words, shared out so that the whole fits. more: what a
    column needs beyond its words (mm)."""
    columns = list(zip(*rows, strict=True))
    extra = [0.1 + more.get(i, 0.0) for i in range(len(columns))]
    room = width - _BETWEEN * (len(columns) - 1)
    wants = [
        max(_natural(cell, i, size) for i, cell in enumerate(c)) + over
        for c, over in zip(columns, extra, strict=True)
    ]
    if sum(wants) <= room:
        return [*wants[:-1], wants[-1] + room - sum(wants)]
    least = [
        max(_least(cell, i, size) for i, cell in enumerate(c)) + over
        for c, over in zip(columns, extra, strict=True)
    ]
    if sum(least) >= room:
        return [one * room / sum(least) for one in least]
    share = (room - sum(least)) / (sum(wants) - sum(least))
    return [low + (want - low) * share for low, want in zip(least, wants, strict=True)]


def _natural(cell: Row | object, number: int, size: float) -> float:
    return one_line(cell, SMALL, BOLD) if number == 0 else one_line(cell, size)  # type: ignore[arg-type]


def _least(cell: Row | object, number: int, size: float) -> float:
    return widest_word(cell, SMALL, BOLD) if number == 0 else widest_word(cell, size)  # type: ignore[arg-type]


def _places(widths: Sequence[float]) -> list[float]:
    return [sum(widths[:i]) + _BETWEEN * i for i in range(len(widths))]


def cells_piece(
    texts: Sequence[Text], places: Sequence[float], width: float, rule: float, least: float = 0.0
) -> Piece:
    """A row of texts over a rule."""
    height = max(max(t.height for t in texts) + 2 * _PAD, least)

    def draw(pen: Pen, x: float, y: float) -> None:
        for text, place in zip(texts, places, strict=True):
            text.draw(pen, x + place, y + _PAD)
        pen.line(x, y + height, x + width, y + height, rule)

    return Piece(height, draw)


def table_rows(
    rows: Sequence[Row], width: float, size: float = BODY, figures: int | None = None
) -> tuple[Piece, Pieces]:
    """The header and the body of a table, as pieces. figures: the column whose numbers stand with
    their decimal points below each other."""
    rows, shifts = (rows, _NO_SHIFTS) if figures is None else _by_point(rows, figures, size)
    widths = column_widths(rows, width, size, {figures: max(shifts, default=0.0)})
    places = _places(widths)

    def row_piece(row: Row, letters: float, face: str | None, rule: float, shift: float) -> Piece:
        cells = [
            (cell, wide, shift if i == figures else 0.0)
            for i, (cell, wide) in enumerate(zip(row, widths, strict=True))
        ]
        texts = [
            typeset(c, w - s, letters, face) if face else typeset(c, w - s, letters)
            for c, w, s in cells
        ]
        moved = [place + s for place, (_, _, s) in zip(places, cells, strict=True)]
        return cells_piece(texts, moved, width, rule)

    header = row_piece(rows[0], SMALL, BOLD, RULE, 0.0)
    body = zip(rows[1:], shifts or [0.0] * len(rows), strict=False)
    return header, tuple(row_piece(row, size, None, HAIR, shift) for row, shift in body)


def _by_point(
    rows: Sequence[Row], column: int, size: float
) -> tuple[Sequence[Row], Sequence[float]]:
    """The rows with the numbers of a column in figures of one width, and how far each cell moves to
    the right so that the points stand below each other (mm)."""
    cells = [_figured(row[column]) for row in rows[1:]]
    wholes = [one_line(cell[:1], size) if cell and cell[0].figure else None for cell in cells]
    told = [wide for wide in wholes if wide is not None]
    if not told or max(told) - min(told) > _MOST_SHIFT:
        return rows, _NO_SHIFTS
    made = [(*row[:column], c, *row[column + 1 :]) for row, c in zip(rows[1:], cells, strict=True)]
    return [rows[0], *made], [max(told) - (max(told) if w is None else w) for w in wholes]


def _figured(cell: Runs) -> Runs:
    """The cell with the whole part of its number, and what stands behind the point, as figures."""
    if not cell or not (found := _NUMBER.match(cell[0].text)):
        return cell
    first = cell[0]
    after = first.text[found.end() :]
    # The space before a unit belongs to the unit: that of the figures' face is too wide.
    parts = (found[1], found[2], f"\u00a0{after[1:]}" if after.startswith(" ") else after)
    runs = [first._replace(text=t, figure=i < 2) for i, t in enumerate(parts) if t]
    return (*runs, *cell[1:])


def table(block: Table, area: Area) -> Pieces:
    """A plain table."""
    header, body = table_rows(block.rows, area.width)
    return (header, *breakable_rows(body, header, 1)) if body else (header,)
