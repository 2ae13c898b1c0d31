"""Answers over two measured numbers, in; a grid fenced by STOP, a box to tick in each cell, out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.draw.blocks.strips import is_bold, said_above, stop_row
from generator.draw.breaking import Text, typeset, widest_word
from generator.draw.fonts import BOLD, in_figures, measured
from generator.draw.paper import BODY, HAIR, HEAVY, PT, RULE, SMALL, TABLE, TICK
from generator.draw.parse import Container, Row, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Draw, Piece, Pieces, breakable_rows, stacked
from generator.findings import Refusal

_STOP, _PAD, _ENTRY = 7.0, 1.9, 7.0
_BESIDE, _BELOW = 8.6, 14.4  # heights of a row whose boxes stand beside or below the answers
_MOST_NAMES = 30.0


@dataclass(frozen=True)
class Grid:
    """The cells of a grid and their measures (mm). beside: the boxes stand beside the answers."""

    rows: Sequence[Row]
    corner: Text
    name: float
    cell: float
    beside: bool

    @property
    def width(self) -> float:
        return 2 * _STOP + self.name + (len(self.rows[0]) - 1) * self.cell

    @property
    def head(self) -> float:
        return max(_ENTRY, self.corner.height + 1.6)

    @property
    def pitch(self) -> float:
        return _BESIDE if self.beside else _BELOW

    @property
    def height(self) -> float:
        return 2 * _STOP + self.head + (len(self.rows) - 1) * self.pitch

    def across(self, column: int) -> float:
        """Where a column of answers begins, counted from 1."""
        return _STOP + self.name + (column - 1) * self.cell

    def down(self, row: int) -> float:
        """Where a row of answers begins, counted from 1."""
        return _STOP + self.head + (row - 1) * self.pitch


def grid(block: Container, area: Area) -> Pieces:
    """A grid: one number down, one across, a box beside each answer or below it.

    Refuses one that is wider than the page allows.
    """
    beside, below = _laid_out(block.rows, True), _laid_out(block.rows, False)
    for room in (area.width, area.wide):
        for one in (beside, below):
            if one.width <= room:
                wide = room > area.width
                piece = said_above(block, Piece(one.height, _drawn(one), gap=2.6, wide=wide), area)
                return (
                    (piece,)
                    if not area.page or piece.height <= area.page
                    else (_in_parts(block, one, wide, area))
                )
    raise Refusal("layout", f"a grid is {below.width:.0f} mm wide", "fewer columns under across")


def _in_parts(block: Container, one: Grid, wide: bool, area: Area) -> Pieces:
    """A grid that is higher than a page, row by row, with the entries across again on each page;
    only its own ends say STOP."""
    stop = Piece(_STOP, lambda pen, x, y: stop_row(pen, x, y, one.width, _STOP))
    head = Piece(one.head, lambda pen, x, y: _band_head(pen, x, y, one))
    rows = [_band(one, number) for number in range(1, len(one.rows))]
    first = said_above(block, stacked([stop, head, rows[0]])._replace(gap=2.6, wide=wide), area)
    parts = breakable_rows([first, *rows[1:-1], stacked([rows[-1], stop])], head, 2)
    return tuple(part._replace(wide=wide) for part in parts)


def _band_head(pen: Pen, x: float, y: float, one: Grid) -> None:
    one.corner.draw(pen, x + _STOP + _PAD, y + (one.head - one.corner.height) / 2)
    _sides(pen, x, y, one, one.head)
    _heads(pen, x, y - _STOP, one, one.head)


def _band(one: Grid, number: int) -> Piece:
    """A row of a grid in parts, with what stands at its sides."""
    row = one.rows[number]

    def draw(pen: Pen, x: float, y: float) -> None:
        top = y - one.down(number)
        _sides(pen, x, y, one, one.pitch)
        for column in range(1, len(row)):
            left = x + one.across(column)
            pen.line(left, y, left, y + one.pitch, RULE if column == 1 else HAIR)
        _answers(pen, x, top, one, number, row)
        _row_frames(pen, x, top, one, number, row)

    return Piece(one.pitch, draw)


def _sides(pen: Pen, x: float, y: float, one: Grid, height: float) -> None:
    """STOP at both sides of a row, in words where they fit; the column of the nominal."""
    length = measured(BOLD, BODY, "STOP")
    for at in (x, x + one.width - _STOP):
        pen.frame(at, y, _STOP, height, HEAVY)
        if length < height - 1.0:
            base = at + _STOP / 2 + 0.34 * BODY * PT
            pen.turned(base, y + (height + length) / 2, "STOP", BOLD, BODY)
    for column, head in enumerate(one.rows[0][1:], start=1):
        if is_bold(head):
            for side in (one.across(column) + 0.5, one.across(column) + one.cell - 0.5):
                pen.line(x + side, y, x + side, y + height, RULE)


def _laid_out(rows: Sequence[Row], beside: bool) -> Grid:
    heads, answers = rows[0][1:], [cell for row in rows[1:] for cell in row[1:]]
    widest = max(_figures(cell, bold=True) for cell in (*heads, *answers))
    names = [_figures(row[0], bold=True) for row in rows[1:]]
    least = max(widest_word(rows[0][0], SMALL, BOLD), *names)
    name = min(max(least, 17.0), _MOST_NAMES) + 2 * _PAD
    corner = typeset(rows[0][0], name - 2 * _PAD, SMALL, BOLD)
    used = widest + TICK + 1.2 if beside else max(widest, TICK)
    return Grid(rows, corner, name, used + 2 * _PAD, beside)


def _figures(cell: Row | object, bold: bool) -> float:
    words = plain(cell)  # type: ignore[arg-type]
    return measured(in_figures(words, bold), TABLE, words)


def _drawn(one: Grid) -> Draw:
    def draw(pen: Pen, x: float, y: float) -> None:
        _fence(pen, x, y, one)
        one.corner.draw(pen, x + _STOP + _PAD, y + _STOP + (one.head - one.corner.height) / 2)
        for i, row in enumerate(one.rows[1:], start=1):
            _row(pen, x, y, one, i, row)
        _frames(pen, x, y, one)

    return draw


def _fence(pen: Pen, x: float, y: float, one: Grid) -> None:
    """STOP on all four sides."""
    inner = one.height - 2 * _STOP
    stop_row(pen, x, y, one.width, _STOP)
    stop_row(pen, x, y + one.height - _STOP, one.width, _STOP)
    length = measured(BOLD, BODY, "STOP")
    for at in (x, x + one.width - _STOP):
        pen.frame(at, y + _STOP, _STOP, inner, HEAVY)
        base = at + _STOP / 2 + 0.34 * BODY * PT
        pen.turned(base, y + (one.height + length) / 2, "STOP", BOLD, BODY)


def _row(pen: Pen, x: float, y: float, one: Grid, number: int, row: Row) -> None:
    if number == 1:
        _heads(pen, x, y, one, one.height - 2 * _STOP)
    _answers(pen, x, y, one, number, row)


def _answers(pen: Pen, x: float, y: float, one: Grid, number: int, row: Row) -> None:
    top = y + one.down(number)
    pen.line(x + _STOP, top, x + one.width - _STOP, top, RULE if number == 1 else HAIR)
    _figure(pen, x + _STOP + one.name / 2, top + one.pitch / 2, plain(row[0]), True)
    for column, cell in enumerate(row[1:], start=1):
        meaning = f"used {plain(row[0])} × {plain(one.rows[0][column])}"
        _cell(pen, x + one.across(column), top, one, plain(cell), meaning)


def _heads(pen: Pen, x: float, y: float, one: Grid, down: float) -> None:
    """The entries across, and the lines between their columns, so far down."""
    for column in range(1, len(one.rows[0])):
        left = x + one.across(column)
        middle = y + _STOP + one.head / 2
        _figure(pen, left + one.cell / 2, middle, plain(one.rows[0][column]), True)
        weight = RULE if column == 1 else HAIR
        pen.line(left, y + _STOP, left, y + _STOP + down, weight)


def _cell(pen: Pen, x: float, y: float, one: Grid, answer: str, meaning: str) -> None:
    if one.beside:
        box_x, box_y = x + one.cell - _PAD - TICK, y + (one.pitch - TICK) / 2
        _figure(pen, (x + box_x) / 2, y + one.pitch / 2, answer, False)
    else:
        box_x, box_y = x + (one.cell - TICK) / 2, y + one.pitch - TICK - 1.0
        _figure(pen, x + one.cell / 2, (y + box_y) / 2, answer, False)
    pen.box("check", box_x, box_y, TICK, TICK, "used", meaning)


def _figure(pen: Pen, x: float, middle: float, words: str, bold: bool) -> None:
    base = middle + 0.34 * TABLE * PT
    pen.text(x, base, words, in_figures(words, bold), TABLE, anchor="middle")


def _frames(pen: Pen, x: float, y: float, one: Grid) -> None:
    """Round the row, the column and the cell of the nominal, as far as it is on the grid."""
    top, deep = y + _STOP, one.height - 2 * _STOP
    for number, row in enumerate(one.rows[1:], start=1):
        _row_frames(pen, x, y, one, number, row)
    for column, head in enumerate(one.rows[0][1:], start=1):
        if is_bold(head):
            _inset(pen, x + one.across(column), top, one.cell, deep, 0.5, RULE)


def _row_frames(pen: Pen, x: float, y: float, one: Grid, number: int, row: Row) -> None:
    if is_bold(row[0]):
        at = (x + _STOP, y + one.down(number))
        _inset(pen, *at, one.width - 2 * _STOP, one.pitch, 0.5, RULE)
    for column, cell in enumerate(row[1:], start=1):
        if is_bold(cell):
            at = (x + one.across(column), y + one.down(number))
            _inset(pen, *at, one.cell, one.pitch, 0.5, HEAVY)


def _inset(
    pen: Pen, x: float, y: float, width: float, height: float, by: float, weight: float
) -> None:
    pen.frame(x + by, y + by, width - 2 * by, height - 2 * by, weight)
