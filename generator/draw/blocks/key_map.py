"""A drawing at full size and its tiles, in; the page that shows which tile lies where, out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.draw.blocks.pictures import draw_mark
from generator.draw.breaking import Text, one_line, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import BODY, CAPTION, HAIR, HEADING, PT, RULE, TABLE
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece
from generator.draw.tiles import OVERLAP, Tile, Tiling, box_of, touches
from generator.figures.full_size import FullSize, moved
from generator.figures.picture import Circle, Line, Mark, Outline, Point, Words
from generator.findings import Refusal

_GAP = 3.0
_COLUMN, _ROW = 28.0, 5.0  # of the list of tiles
_TALLEST = 150.0
_LEAST_CELL = 8.0  # room for a tile's name


@dataclass(frozen=True)
class _Plan:
    """What stands on the page of a key map: scale of the small picture, words, rows of the list."""

    drawing: FullSize
    tiling: Tiling
    title: Text
    words: Text
    scale: float
    across: int

    @property
    def cell(self) -> tuple[float, float]:
        """A tile without its overlap, on paper."""
        width, height = self.tiling.width - OVERLAP, self.tiling.height - OVERLAP
        return width * self.scale, height * self.scale

    @property
    def size(self) -> tuple[float, float]:
        """The whole grid, on paper."""
        columns, rows = self.tiling.columns, self.tiling.rows
        return (
            ((self.tiling.width - OVERLAP) * columns + OVERLAP) * self.scale,
            ((self.tiling.height - OVERLAP) * rows + OVERLAP) * self.scale,
        )


def key_map(drawing: FullSize, tiling: Tiling, area: Area) -> Piece:
    """The page before the tiles: a small picture with the grid, and the sheet of every tile.

    The tiles must follow it, each on a page of its own. Refuses what one page does not hold.
    """
    plan = _planned(drawing, tiling, area)

    def draw(pen: Pen, x: float, y: float) -> None:
        pen.entry(f"{drawing.title}, key map", 0, y)
        plan.title.draw(pen, x, y)
        y += plan.title.height + 1.0
        plan.words.draw(pen, x, y)
        y += plan.words.height + _GAP
        _picture(pen, x + (area.width - plan.size[0]) / 2, y, plan)
        _list(pen, x, y + plan.size[1] + _GAP, plan, pen.sheet)

    return Piece(area.page, draw, breaks=True)


def _planned(drawing: FullSize, tiling: Tiling, area: Area) -> _Plan:
    title = typeset(f"{drawing.title}: key map", area.width, HEADING, BOLD, 1.15)
    words = typeset(_says(drawing, tiling), area.width, BODY)
    across = int(area.width / _COLUMN)
    rows = -(-len(tiling.printed) // across)
    listed = _ROW * (rows + 1)
    taken = title.height + 1.0 + words.height + 2 * _GAP + listed
    plan = _Plan(drawing, tiling, title, words, 1.0, across)
    scale = min(area.width / plan.size[0], min(_TALLEST, area.page - taken) / plan.size[1])
    plan = _Plan(drawing, tiling, title, words, scale, across)
    if min(plan.cell) < _LEAST_CELL * 0.6 or plan.cell[0] < _LEAST_CELL:
        wrong = f"{drawing.title}: {tiling.rows} rows of {tiling.columns} tiles fit no key map"
        raise Refusal("layout", wrong, "a smaller drawing")
    return plan


def _says(drawing: FullSize, tiling: Tiling) -> str:
    rows = f"{tiling.rows} rows of {tiling.columns}" if tiling.rows > 1 else f"{tiling.columns}"
    blank = f", {len(tiling.blank)} blank and left out" if tiling.blank else ""
    lost = f" Words cut by an edge and left out: {', '.join(tiling.lost)}." if tiling.lost else ""
    return (
        f"{drawing.size[:1].upper()}{drawing.size[1:]}. "
        f"The drawing with its words is {drawing.width:.0f} mm wide and {drawing.height:.0f} mm "
        f"high: {rows} tiles{blank}, {len(tiling.printed)} sheets. "
        f"Neighbours show the same {OVERLAP:.0f} mm of it. Measure the bars of every tile first. "
        "Then lay the tiles row by row: a join mark, a ring with a cross and J with a number, lies "
        f"over the mark of the same number. Both marks of an edge must meet.{lost}"
    )


def _picture(pen: Pen, x: float, y: float, plan: _Plan) -> None:
    """The drawing without its words, and the grid with the names of the tiles."""
    first = min((*plan.tiling.printed, *plan.tiling.blank), key=lambda t: (t.row, t.column))
    small = [_small(mark, plan.scale, first) for mark in plan.drawing.marks]
    marks = [moved(mark, x, y) for mark in small if mark]
    for mark in marks:
        draw_mark(pen, 0.0, 0.0, mark)
    for tile in (*plan.tiling.printed, *plan.tiling.blank):
        _cell(pen, x, y, plan, tile, marks)


def _small(mark: Mark, scale: float, first: Tile) -> Mark | None:
    """A stroke as the key map shows it, the first window's corner at 0, 0; no words."""

    def at(x: float, y: float) -> Point:
        return (x - first.x) * scale, (y - first.y) * scale

    match mark:
        case Line(x1, y1, x2, y2, _):
            return Line(*at(x1, y1), *at(x2, y2), RULE)
        case Circle(x, y, radius, _):
            return Circle(*at(x, y), radius * scale, RULE)
        case Outline(points):
            return Outline(tuple(at(*p) for p in points), RULE, mark.closed, mark.filled)
    return None


def _cell(pen: Pen, x: float, y: float, plan: _Plan, tile: Tile, marks: Sequence[Mark]) -> None:
    """A tile without its overlap: its frame and its name, clear of the drawing where it can be;
    one that is left out says so."""
    wide, high = plan.cell
    half = OVERLAP / 2 * plan.scale
    left, top = x + half + tile.column * wide, y + half + tile.row * high
    pen.frame(left, top, wide, high, HAIR)
    words = f"{tile.name} blank" if tile in plan.tiling.blank else tile.name
    size = TABLE if wide > one_line(words, TABLE, BOLD) + 2.0 else CAPTION
    if one_line(words, size, BOLD) > wide - 1.0:
        words = f"{tile.name} \N{EN DASH}"
    places = _places(left, top, wide, high, words, size)
    free = (p for p in places if not any(touches(mark, box_of(p)) for mark in marks))
    name = next(free, places[0])
    draw_mark(pen, 0.0, 0.0, name)


def _places(
    left: float, top: float, wide: float, high: float, words: str, size: float
) -> list[Words]:
    """Where a name may stand in its cell: the corners, then the middle."""
    right, em = left + wide - 1.0, size * PT
    up, low = top + 0.72 * em + 1.0, top + high - 0.22 * em - 0.6
    return [
        Words(left + 1.0, up, words, size, True),
        Words(right, up, words, size, True, "end"),
        Words(left + 1.0, low, words, size, True),
        Words(right, low, words, size, True, "end"),
        Words(left + wide / 2, top + high / 2 + 0.36 * em, words, size, True, "middle"),
    ]


def _list(pen: Pen, x: float, y: float, plan: _Plan, sheet: int) -> None:
    """The sheet of every tile: they follow this page in order."""
    pen.text(x, y + 3.6, "Tile and its sheet", BOLD, TABLE)
    for n, (name, number) in enumerate(_sheets(plan.tiling, sheet)):
        row, column = divmod(n, plan.across)
        base = y + _ROW * (row + 1) + 3.6
        pen.text(x + column * _COLUMN, base, name, BOLD, TABLE)
        pen.text(x + column * _COLUMN + 9.0, base, f"sheet {number}", size=TABLE)


def _sheets(tiling: Tiling, key: int) -> Iterator[tuple[str, int]]:
    for n, tile in enumerate(tiling.printed, 1):
        yield tile.name, key + n
