"""The rows of a drawing at full size, in; a page for each of its tiles, and the map of them, out.

Every tile carries two bars that are measured before anything is cut: 150 mm across the page and
250 mm down it. No content is 250 mm high on A4 or Letter, so the second stands in the left
margin, beside the codes and clear of the punch holes.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.draw.blocks.key_map import key_map
from generator.draw.blocks.pictures import draw_mark
from generator.draw.blocks.readings import box_width, number_box
from generator.draw.breaking import Text, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import (
    BOX_HEIGHT,
    BOX_WIDTH,
    CAPTION,
    HAIR,
    HEADING,
    SMALL,
    STAMP_HEIGHT,
    STAMP_WIDTH,
    TABLE,
)
from generator.draw.parse import Container, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces
from generator.draw.tiles import Tile, Tiling, joins, tiled, touches
from generator.figures import full_size as drawing_of
from generator.figures.full_size import THIN, FullSize
from generator.figures.picture import Mark
from generator.findings import Refusal

ACROSS, DOWN = 150.0, 250.0
"""The bars (mm): what they must measure within is said in words and at their boxes."""

BAR_AT = 3.0
"""The bar down the page stands so far left of the content (mm); ticks of 3 mm end clear of the
codes, which end 20 mm from the edge, and of punch holes, which end 15 mm from it (ISO 838)."""

_TICK = 1.5
_STRIP = 23.2  # height of the bar across with its boxes
_GAP = 1.6
_DO_NOT = (
    "Do not cut, drill or mark from this sheet unless the bars measure 150 ± 0.3 mm across and "
    "250 ± 0.5 mm down. Print at 100 %: no fit to page."
)
_LEAST = 60.0  # a lower window is not worth a page


@dataclass(frozen=True)
class _Sheet:
    """What all tiles of a drawing share: its words above the window and below, and the marks."""

    drawing: FullSize
    tiling: Tiling
    title: Text
    notes: Text
    warning: Text
    marks: tuple[Mark, ...]
    area: Area

    @property
    def top(self) -> float:
        """From the top of the content to the window."""
        return _above(self.title, self.notes)


def full_size(block: Container, area: Area) -> Pieces:
    """A page for each tile, each as high as a page; before them, where there are several, the
    page with the map of them."""
    rows = {plain(row[0]): plain(row[1]) for row in block.rows}
    if len(rows) < len(block.rows):
        raise Refusal("sheet", f"line {block.line}: a row stands twice", "each row once")
    sheet = _sheet(drawing_of(block.words, rows), area)
    tiles = sheet.tiling.printed
    pages = [_tile_page(sheet, tile, not n) for n, tile in enumerate(tiles)]
    if len(tiles) > 1:
        pages.insert(0, key_map(sheet.drawing, sheet.tiling, area))
    return tuple(pages)


def _sheet(drawing: FullSize, area: Area) -> _Sheet:
    title = typeset(drawing.title, area.width - 22.0, HEADING, BOLD, 1.15)
    said = f"{drawing.size[:1].upper()}{drawing.size[1:]}. {' '.join(drawing.notes)}"
    notes = typeset(said, area.width, TABLE, leading=1.22)
    warning = typeset(_DO_NOT, area.width, TABLE, BOLD, 1.22)
    high = area.page - _above(title, notes) - warning.height - _STRIP - 2 * _GAP
    if high < _LEAST:
        wrong = f"{drawing.title}: {high:.0f} mm are left for a tile"
        raise Refusal("layout", wrong, f"{_LEAST:.0f} mm or more: fewer words")
    tiling = tiled(drawing, area.width, high)
    marks = (*drawing.marks, *joins(tiling, drawing.marks))
    return _Sheet(drawing, tiling, title, notes, warning, marks, area)


def _above(title: Text, notes: Text) -> float:
    return title.height + notes.height + SMALL * 0.5 + _GAP


def _tile_page(sheet: _Sheet, tile: Tile, first: bool) -> Piece:
    """One tile; the first of a drawing has the boxes for instrument, day and stamp too."""

    def draw(pen: Pen, x: float, y: float) -> None:
        tiling = sheet.tiling
        pen.entry(f"{sheet.drawing.title}, tile {tile.name}", 0, y)
        _words(pen, x, y, sheet, tile)
        _window(pen, x, y + sheet.top, sheet, tile)
        low = y + sheet.top + tiling.height + _GAP
        sheet.warning.draw(pen, x, low)
        _strip(
            pen, x, low + sheet.warning.height + _GAP, f"{sheet.drawing.title}, {tile.name}", first
        )
        _bar_down(pen, x - BAR_AT)

    return Piece(sheet.area.page, draw, breaks=True)


def _words(pen: Pen, x: float, y: float, sheet: _Sheet, tile: Tile) -> None:
    """The title and the name of the tile, what is to be known, and which tiles lie beside it."""
    end = x + sheet.area.width
    named = typeset(f"tile {tile.name}", sheet.area.width, HEADING, BOLD, 1.15)
    named.draw(pen, end - named.width, y)
    sheet.title.draw(pen, x, y)
    sheet.notes.draw(pen, x, y + sheet.title.height)
    base = y + sheet.title.height + sheet.notes.height + 3.2
    pen.text(x, base, _beside(sheet.tiling, tile), size=SMALL)


def _beside(tiling: Tiling, tile: Tile) -> str:
    if len(tiling.printed) == 1:
        return "The whole drawing is on this sheet."
    ways = {"above": (-1, 0), "below": (1, 0), "left": (0, -1), "right": (0, 1)}
    found = {way: tiling.at(tile.row + r, tile.column + c) for way, (r, c) in ways.items()}
    named = [f"{way} {other.name}" for way, other in found.items() if other]
    return "Joins " + ", ".join(named) + ": lay join marks J of one number over each other."


def _window(pen: Pen, x: float, y: float, sheet: _Sheet, tile: Tile) -> None:
    """What of the drawing the tile shows, and the corners of its window."""
    tiling = sheet.tiling
    box = tiling.window(tile)
    with pen.window(x, y, tiling.width, tiling.height):
        for mark in sheet.marks:
            if touches(mark, box):
                draw_mark(pen, x - tile.x, y - tile.y, mark)
    if len(tiling.printed) == 1:
        return
    right, low = x + tiling.width, y + tiling.height
    for cx, cy, dx, dy in ((x, y, 3, 3), (right, y, -3, 3), (x, low, 3, -3), (right, low, -3, -3)):
        pen.outline(((cx + dx, cy), (cx, cy), (cx, cy + dy)), HAIR)


def _strip(pen: Pen, x: float, y: float, name: str, first: bool) -> None:
    """The bar across with the boxes under it: what both bars measure, and by whom."""
    pen.text(x + ACROSS / 2, y + 2.8, "150 mm, from tick to tick", BOLD, SMALL, anchor="middle")
    _bar(pen, x, y + 5.6, x + ACROSS, y + 5.6)
    low = y + _STRIP - BOX_HEIGHT
    wide = box_width("mm")
    at = x
    for caption, meaning in (
        ("across: 149.7 to 150.3", "bar across"), ("down: 249.5 to 250.5", "bar down"),
    ):  # fmt: skip
        pen.text(at, low - 1.0, caption, size=CAPTION)
        number_box(pen, at, low, "mm", name, meaning)
        at += wide + 3.0
    if first:
        _signed(pen, at, low, x + ACROSS, name)


def _signed(pen: Pen, at: float, low: float, end: float, name: str) -> None:
    """Who measured, with what, and when: once for a drawing, on its first tile."""
    date = end - BOX_WIDTH
    pen.text(at, low - 1.0, "measured with instrument no.", size=CAPTION)
    pen.box("write", at, low, date - 3.0 - at, BOX_HEIGHT, name, "instrument no.")
    pen.text(date, low - 1.0, "date YYYY-MM-DD", size=CAPTION)
    pen.box("date", date, low, BOX_WIDTH, BOX_HEIGHT, name, "date")
    top = low + BOX_HEIGHT - STAMP_HEIGHT
    pen.text(end + 3.0, top - 1.0, "all tiles: stamp", size=CAPTION)
    pen.box("stamp", end + 3.0, top, STAMP_WIDTH, STAMP_HEIGHT, name, "bars of all tiles measured")


def _bar_down(pen: Pen, x: float) -> None:
    """The bar down the page, about the middle of its height, and its words."""
    middle = pen.paper.height / 2
    with pen.in_margin(x - 6.0):
        _bar(pen, x, middle - DOWN / 2, x, middle + DOWN / 2)
        pen.turned(x - _TICK - 0.8, middle + 20.0, "250 mm, from tick to tick", BOLD, CAPTION)


def _bar(pen: Pen, x1: float, y1: float, x2: float, y2: float) -> None:
    """A bar along or down the page, with a tick at each end."""
    pen.line(x1, y1, x2, y2, THIN)
    upright = x1 == x2
    for x, y in ((x1, y1), (x2, y2)):
        dx, dy = (_TICK, 0.0) if upright else (0.0, _TICK)
        pen.line(x - dx, y - dy, x + dx, y + dy, THIN)
