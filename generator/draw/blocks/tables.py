"""Tables of words, in; ruled rows whose cells wrap, out. The header is repeated over pages."""

from __future__ import annotations

from collections.abc import Sequence

from generator.draw.breaking import Text, one_line, typeset, widest_word
from generator.draw.fonts import BOLD
from generator.draw.paper import BODY, HAIR, RULE, SMALL
from generator.draw.parse import Row, Table
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows

_BETWEEN = 3.0  # between two columns
_PAD = 1.0  # above and below the words of a row


def column_widths(rows: Sequence[Row], width: float, size: float = BODY) -> list[float]:
    """A width for each column: by their words, shared out so that the whole fits."""
    columns = list(zip(*rows, strict=True))
    room = width - _BETWEEN * (len(columns) - 1)
    wants = [max(_natural(cell, i, size) for i, cell in enumerate(c)) + 0.1 for c in columns]
    if sum(wants) <= room:
        return [*wants[:-1], wants[-1] + room - sum(wants)]
    least = [max(_least(cell, i, size) for i, cell in enumerate(c)) + 0.1 for c in columns]
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


def table_rows(rows: Sequence[Row], width: float, size: float = BODY) -> tuple[Piece, Pieces]:
    """The header and the body of a table, as pieces."""
    widths = column_widths(rows, width, size)
    places = _places(widths)

    def row_piece(row: Row, letters: float, face: str | None, rule: float) -> Piece:
        cells = zip(row, widths, strict=True)
        texts = [typeset(c, w, letters, face) if face else typeset(c, w, letters) for c, w in cells]
        return cells_piece(texts, places, width, rule)

    header = row_piece(rows[0], SMALL, BOLD, RULE)
    return header, tuple(row_piece(row, size, None, HAIR) for row in rows[1:])


def table(block: Table, area: Area) -> Pieces:
    """A plain table."""
    header, body = table_rows(block.rows, area.width)
    return (header, *breakable_rows(body, header, 1)) if body else (header,)
