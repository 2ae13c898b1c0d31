"""Rows of the front pages that are filled in by hand, in; words and boxes, out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.draw.blocks.tables import column_widths
from generator.draw.breaking import Text, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import (
    BODY,
    BOX_HEIGHT,
    BOX_WIDTH,
    CAPTION,
    HAIR,
    RULE,
    SMALL,
    STAMP_HEIGHT,
    STAMP_WIDTH,
    TICK,
)  # fmt: skip
from generator.draw.parse import Container, Row, Run, Runs, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows

_GAP, _BEFORE_BOX = 1.6, 2.4
_DATES = ("use by", "date", "due")


@dataclass(frozen=True, slots=True)
class Blank:
    """A column of boxes: what its caption says, of which kind and width its boxes are."""

    caption: str
    kind: str
    width: float


@dataclass(frozen=True, slots=True)
class _Column:
    place: float
    width: float
    blank: Blank | None


def _blank(caption: str, width: float = BOX_WIDTH) -> Blank:
    dated = any(word in caption.lower() for word in _DATES)
    return Blank(caption, "date" if dated else "write", width)


def _caption(blank: Blank) -> str:
    return f"{blank.caption}\nDD MMM YYYY" if blank.kind == "date" else blank.caption


def _laid_out(rows: Sequence[Row], blanks: dict[int, Blank], width: float) -> list[_Column]:
    """Columns of words get what the columns of boxes leave."""
    count = len(rows[0])
    boxes = sum(b.width for b in blanks.values()) + _GAP * len(blanks)
    words = [i for i in range(count) if i not in blanks]
    texts = [tuple(row[i] for i in words) for row in rows]
    widths = iter(column_widths(texts, width - boxes - _BEFORE_BOX))
    columns, place = [], 0.0
    for i in range(count):
        blank = blanks.get(i)
        wide = blank.width if blank else next(widths)
        columns.append(_Column(place, wide, blank))
        place += wide + (_GAP if blank else 3.0 if i + 1 in words else _BEFORE_BOX)
    return columns


def _header(names: Row, columns: Sequence[_Column], width: float) -> Piece:
    texts = [
        typeset(
            _caption(c.blank) if c.blank else name, c.width, CAPTION if c.blank else SMALL, BOLD
        )
        for name, c in zip(names, columns, strict=True)
    ]
    height = max(t.height for t in texts) + 1.4

    def draw(pen: Pen, x: float, y: float) -> None:
        for text, column in zip(texts, columns, strict=True):
            text.draw(pen, x + column.place, y + height - 0.7 - text.height)
        pen.line(x, y + height, x + width, y + height, RULE)

    return Piece(height, draw)


def _row(cells: Row, columns: Sequence[_Column], width: float) -> Piece:
    name = plain(cells[0])
    texts = [
        None if c.blank and plain(cell) in ("box", "-") else typeset(cell, c.width)
        for cell, c in zip(cells, columns, strict=True)
    ]
    height = max([BOX_HEIGHT, *(t.height for t in texts if t)]) + 2.2

    def draw(pen: Pen, x: float, y: float) -> None:
        for cell, text, column in zip(cells, texts, columns, strict=True):
            at = x + column.place
            if text:
                text.draw(pen, at, y + (height - text.height) / 2)
            elif plain(cell) == "box":
                _draw_blank(pen, at, y + (height - BOX_HEIGHT) / 2, column.blank, name)
            else:
                middle = y + height / 2
                pen.line(at + column.width / 2 - 2, middle, at + column.width / 2 + 2, middle, RULE)
        pen.line(x, y + height, x + width, y + height, HAIR)

    return Piece(height, draw)


def _draw_blank(pen: Pen, x: float, y: float, blank: Blank | None, name: str) -> None:
    assert blank is not None
    if blank.kind == "check":
        lift = (BOX_HEIGHT - TICK) / 2
        pen.box("check", x + (blank.width - TICK) / 2, y + lift, TICK, TICK, name, blank.caption)
    else:
        pen.box(blank.kind, x, y, blank.width, BOX_HEIGHT, name, blank.caption)


def _table(rows: Sequence[Row], blanks: dict[int, Blank], width: float) -> Pieces:
    columns = _laid_out(rows, blanks, width)
    header = _header(rows[0], columns, width)
    body = [_row(row, columns, width) for row in rows[1:]]
    return (header, *breakable_rows(body, header, 1))


def _words(text: str) -> Runs:
    return (Run(text),) if text else ()


def kit(block: Container, area: Area) -> Pieces:
    """Material, hardware and consumables: a cell that says "box" is a place to write."""
    blanks = {
        i: _blank(plain(name))
        for i, name in enumerate(block.rows[0])
        if i and any(plain(row[i]) == "box" for row in block.rows[1:])
    }
    return _table(block.rows, blanks, area.width)


def instruments(block: Container, area: Area) -> Pieces:
    """Instruments by kind: number and next check due are written in."""
    count = len(block.rows[0])
    blanks = {count: _blank("number", 34.0), count + 1: _blank("next check due", 27.0)}
    names = (*block.rows[0], _words("number"), _words("next check due"))
    body = [(*row, _words("box"), _words("box")) for row in block.rows[1:]]
    return _table([names, *body], blanks, area.width)


def references(block: Container, area: Area) -> Pieces:
    """Prerequisites: the traveller or other reference is written in, and ticked."""
    count = len(block.rows[0])
    blanks = {
        count: _blank("traveller or reference no.", 44.0),
        count + 1: Blank("seen", "check", 9.0),
    }
    names = (*(() for _ in range(count)), _words("reference"), _words("seen"))
    body = [(*row, _words("box"), _words("box")) for row in block.rows]
    return _table([names, *body], blanks, area.width)


def approvals(block: Container, area: Area) -> Pieces:
    """Who has to stamp the sheet before work: two to a row, a stamp box and a date box each."""
    half = (area.width - 5.0) / 2
    made = [_approval(row, half) for row in block.rows]
    pairs = [made[i : i + 2] for i in range(0, len(made), 2)]
    return tuple(_side_by_side(pair, half + 5.0) for pair in pairs)


def _side_by_side(pieces: Sequence[Piece], across: float) -> Piece:
    def draw(pen: Pen, x: float, y: float) -> None:
        for i, piece in enumerate(pieces):
            piece.draw(pen, x + i * across, y)

    return Piece(max(p.height for p in pieces), draw)


def _approval(row: Row, width: float) -> Piece:
    role, name = row[0], plain(row[0])
    room = width - STAMP_WIDTH - BOX_WIDTH - 3.0
    head: Text = typeset(role, room, BODY, BOLD)
    who = typeset(row[1], room)
    height = max(STAMP_HEIGHT + 4.6, head.height + who.height + 4.6)

    def draw(pen: Pen, x: float, y: float) -> None:
        head.draw(pen, x, y + 3.6)
        who.draw(pen, x, y + 3.6 + head.height)
        stamp, date = x + room + 1.5, x + width - BOX_WIDTH
        pen.text(stamp, y + 2.8, "stamp", size=CAPTION)
        pen.box("stamp", stamp, y + 3.6, STAMP_WIDTH, STAMP_HEIGHT, name, f"{name} stamp")
        pen.text(date, y + 2.8, "date DD MMM YYYY", size=CAPTION)
        pen.box("date", date, y + 3.6, BOX_WIDTH, BOX_HEIGHT, name, f"{name} date")

    return Piece(height, draw)
