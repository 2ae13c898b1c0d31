"""Rows that are filled in by hand, in; words and boxes, out."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.draw.blocks.clocks import CLOCK_WIDTH, clock_boxes
from generator.draw.blocks.readings import box_width, number_box
from generator.draw.blocks.tables import column_widths
from generator.draw.breaking import Text, one_line, typeset, widest_word
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
from generator.signs import is_whole

_GAP, _BEFORE_BOX = 1.6, 2.4
_FEW, _LOW = 3, 80.0  # rows, and their height (mm)
_DATES = ("use by", "date", "due", "sent on", "wanted back on", "returned on")
# What a cell says where something is written in: a unit may stand behind "box", and is printed in
# the box. "wide" takes the room that is left, "tall" as well, for several lines, "sketch" for a
# drawing by hand.
_PLACE = re.compile(r"(?:(wide|tall|sketch) )?(box|tick|stamp|clock)(?: (\S+(?: [ga])?))?")
_TALL = {"tall": 18.0, "sketch": 52.0}


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
    return f"{blank.caption}\nYYYY-MM-DD" if blank.kind == "date" else blank.caption


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
    name = _row_name(cells)
    places = [
        _PLACE.fullmatch(plain(cell)) if c.blank else None
        for cell, c in zip(cells, columns, strict=True)
    ]
    texts = [
        None if place or (c.blank and plain(cell) == "-") else typeset(cell, c.width)
        for cell, c, place in zip(cells, columns, places, strict=True)
    ]
    deep = [_deep(place) for place in places if place]
    height = max([BOX_HEIGHT, *deep, *(t.height for t in texts if t)]) + 2.2

    def draw(pen: Pen, x: float, y: float) -> None:
        for text, column, place in zip(texts, columns, places, strict=True):
            at = x + column.place
            if text:
                text.draw(pen, at, y + (height - text.height) / 2)
            elif place:
                top = y + (height - _deep(place)) / 2
                _draw_blank(pen, at, top, column.blank, name, place)
            else:
                middle = y + height / 2
                pen.line(at + column.width / 2 - 2, middle, at + column.width / 2 + 2, middle, RULE)
        pen.line(x, y + height, x + width, y + height, HAIR)

    return Piece(height, draw)


def _row_name(cells: Row) -> str:
    """What a row is called on the map of boxes: its first words, with the next behind a number."""
    first, second = plain(cells[0]), plain(cells[1])
    return f"{first} {second}" if is_whole(first) and not _PLACE.fullmatch(second) else first


def _deep(place: re.Match[str]) -> float:
    """How high a place to write is."""
    if place[1] in _TALL:
        return _TALL[place[1]]
    return STAMP_HEIGHT if place[2] == "stamp" else BOX_HEIGHT


def _draw_blank(
    pen: Pen, x: float, y: float, blank: Blank | None, name: str, place: re.Match[str]
) -> None:
    assert blank is not None
    if blank.kind == "check":
        lift = (BOX_HEIGHT - TICK) / 2
        pen.box("check", x + (blank.width - TICK) / 2, y + lift, TICK, TICK, name, blank.caption)
    elif place[2] == "clock":
        clock_boxes(pen, x, y, name, blank.caption)
    elif place[3]:
        number_box(pen, x, y, place[3], name, blank.caption)
    else:
        pen.box(blank.kind, x, y, blank.width, _deep(place), name, blank.caption)


def _table(rows: Sequence[Row], blanks: dict[int, Blank], width: float) -> Pieces:
    columns = _laid_out(rows, blanks, width)
    header = _header(rows[0], columns, width)
    body = [_row(row, columns, width) for row in rows[1:]]
    # A few rows stay on one page: nobody looks overleaf for the second of two.
    few = len(body) <= _FEW and sum(row.height for row in body) <= _LOW
    return (header, *breakable_rows(body, header, len(body) if few else 1))


def _words(text: str) -> Runs:
    return (Run(text),) if text else ()


def fill(block: Container, area: Area) -> Pieces:
    """Any table to be filled in: a cell says "box", "box mm", "wide box", "tall box", "tick" or
    "stamp" where something is written in, and "-" where nothing is."""
    names, *rows = block.rows
    wide = [i for i in range(len(names)) if _says(rows, i, ("wide", "tall", "sketch"))]
    blanks = {i: _place(names[i], rows, i) for i in range(len(names)) if _says(rows, i)}
    taken = sum(b.width + _GAP for i, b in blanks.items() if i not in wide)
    words = [i for i in range(len(names)) if i not in blanks]
    if wide:
        told = [tuple(row[i] for i in words) for row in block.rows]
        room = area.width - taken - _GAP * len(wide)
        most = min(room * 0.5, _natural(told) + _BEFORE_BOX + 0.5) if words else 0.0
        for i in wide:
            blanks[i] = replace(blanks[i], width=(room - most) / len(wide))
    return _table(block.rows, blanks, area.width)


def _natural(rows: Sequence[Row]) -> float:
    """How wide columns of words would like to be."""
    columns = list(zip(*rows, strict=True))
    wants = (
        max(one_line(c, SMALL if not n else BODY) for n, c in enumerate(each)) for each in columns
    )
    return sum(wants) + 3.0 * (len(columns) - 1)


def _says(rows: Sequence[Row], i: int, sizes: Sequence[str] = ()) -> bool:
    """Whether a column has a place to write, of one of these sizes."""
    found = (_PLACE.fullmatch(plain(row[i])) for row in rows)
    return any(match and (not sizes or match[1] in sizes) for match in found)


def _place(name: Runs, rows: Sequence[Row], i: int) -> Blank:
    """The column of boxes that the cells ask for, as wide as its widest unit needs."""
    found = [m for row in rows if (m := _PLACE.fullmatch(plain(row[i])))]
    caption = plain(name)
    if found[0][2] == "tick":
        return Blank(caption, "check", max(TICK + 2.0, widest_word(name, CAPTION, BOLD) + 0.2))
    if found[0][2] == "stamp":
        return Blank(caption, "stamp", STAMP_WIDTH)
    if found[0][2] == "clock":
        return Blank(caption, "clock", CLOCK_WIDTH)
    wide = max([BOX_WIDTH, *(box_width(m[3]) for m in found if m[3])])
    return _blank(caption, wide)


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
        pen.text(date, y + 2.8, "date YYYY-MM-DD", size=CAPTION)
        pen.box("date", date, y + 3.6, BOX_WIDTH, BOX_HEIGHT, name, f"{name} date")

    return Piece(height, draw)
