"""A drawing at full size and the window that a page has for it, in; its tiles, named, out.

Tiles overlap, so every stroke near an edge is on both. A tile on which nothing is drawn is left
out, unless the others would then no longer hang together and could not be laid in their places.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from generator.draw.fonts import BOLD, TEXT
from generator.draw.pen import room_of_text
from generator.figures.clearance import Box
from generator.figures.full_size import FullSize, reach
from generator.figures.picture import Anchor, Circle, Line, Mark, Outline, Point, Words
from generator.findings import Refusal

OVERLAP = 10.0
MOST_TILES = 120
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_STEP = 1.0  # the grid is shifted so far at a time to keep words whole


@dataclass(frozen=True)
class Tile:
    """A window on the drawing: its name such as B2, its row and column, its top left corner."""

    name: str
    row: int
    column: int
    x: float
    y: float


@dataclass(frozen=True)
class Tiling:
    """All windows of a drawing. width and height: of one window. printed: those with a page, in
    order; blank: the others. lost: words that no window holds whole."""

    rows: int
    columns: int
    width: float
    height: float
    printed: tuple[Tile, ...]
    blank: tuple[Tile, ...]
    lost: tuple[str, ...]

    def at(self, row: int, column: int) -> Tile | None:
        """The printed tile in that place of the grid."""
        return next((t for t in self.printed if (t.row, t.column) == (row, column)), None)

    def window(self, tile: Tile) -> Box:
        """What of the drawing a tile shows."""
        return Box(tile.x, tile.y, tile.x + self.width, tile.y + self.height)

    def core(self, tile: Tile) -> Box:
        """What of the drawing a tile shows up to the middle of each overlap: the cores of all
        tiles cover the drawing once."""
        half = OVERLAP / 2
        box = self.window(tile)
        return Box(
            box.left + half * (tile.column > 0), box.top + half * (tile.row > 0),
            box.right - half * (tile.column < self.columns - 1),
            box.bottom - half * (tile.row < self.rows - 1),
        )  # fmt: skip


def tiled(drawing: FullSize, width: float, height: float) -> Tiling:
    """The tiles of a drawing in windows of that size (mm); refuses more than MOST_TILES."""
    words = [box_of(mark) for mark in drawing.marks if isinstance(mark, Words)]
    columns, rows = _count(drawing.width, width), _count(drawing.height, height)
    if rows > len(_LETTERS):
        raise _too_many(drawing, f"{rows} rows of tiles", f"{len(_LETTERS)}")
    left = _origin(drawing.width, width, columns, [(box.left, box.right) for box in words])
    top = _origin(drawing.height, height, rows, [(box.top, box.bottom) for box in words])
    grid = tuple(
        Tile(
            f"{_LETTERS[row]}{column + 1}", row, column,
            left + column * (width - OVERLAP), top + row * (height - OVERLAP),
        )
        for row in range(rows)
        for column in range(columns)
    )  # fmt: skip
    whole = Tiling(rows, columns, width, height, grid, (), ())
    drawn = [t for t in grid if any(touches(m, whole.core(t)) for m in drawing.marks)]
    if not _hang_together(drawn):
        drawn = list(grid)
    if len(drawn) > MOST_TILES:
        raise _too_many(drawing, f"{len(drawn)} tiles", f"{MOST_TILES}")
    blank = tuple(tile for tile in grid if tile not in drawn)
    windows = [whole.window(tile) for tile in drawn]
    lost = tuple(
        mark.text
        for mark in drawing.marks
        if isinstance(mark, Words) and not any(each.holds(box_of(mark)) for each in windows)
    )
    return Tiling(rows, columns, width, height, tuple(drawn), blank, lost)


def _too_many(drawing: FullSize, needs: str, most: str) -> Refusal:
    wrong = f"{drawing.title} needs {needs}"
    return Refusal("layout", wrong, f"at most {most}: a smaller drawing, or fewer notes")


@lru_cache(maxsize=4096)
def box_of(words: Words) -> Box:
    """The box round words as the pen sets them."""
    face = BOLD if words.bold else TEXT
    x, y, wide, high = room_of_text(
        words.x, words.y, words.text, face, words.size, words.anchor
    )  # fmt: skip
    return Box(x, y, x + wide, y + high)


def _count(size: float, window: float) -> int:
    """How many windows in a row show the whole size."""
    return max(1, math.ceil((size - OVERLAP) / (window - OVERLAP) - 1e-9))


def _origin(
    size: float, window: float, count: int, words: Sequence[tuple[float, float]]
) -> float:  # fmt: skip
    """Where the first window begins: what all windows show beyond the drawing is shared between
    both ends, but for a shift that leaves as few words as can be on an edge."""
    step = window - OVERLAP
    spare = (count - 1) * step + window - size

    def lost(begin: float) -> int:
        ends = [(begin + i * step, begin + i * step + window) for i in range(count)]
        return sum(not any(a <= low and high <= b for a, b in ends) for low, high in words)

    tries = range(-int(spare / 2 / _STEP), int(spare / 2 / _STEP) + 1)
    begins = [-spare / 2 + i * _STEP for i in sorted(tries, key=abs)]
    return min(begins, key=lost)


def _hang_together(tiles: Sequence[Tile]) -> bool:
    """Whether one can go from each tile to each other over edges."""
    places = {(tile.row, tile.column) for tile in tiles}
    seen, ahead = set(), [next(iter(places))] if places else []
    while ahead:
        row, column = ahead.pop()
        seen.add((row, column))
        beside = {(row + 1, column), (row - 1, column), (row, column + 1), (row, column - 1)}
        ahead += sorted((beside & places) - seen)
    return seen == places


# --- whether a mark is seen in a box --------------------------------------------------------


def touches(mark: Mark, box: Box) -> bool:
    """Whether anything of a mark is seen in a box."""
    match mark:
        case Words():
            return box_of(mark).overlaps(box)
        case Circle(x, y, radius, _):
            near = math.hypot(_outside(x, box.left, box.right), _outside(y, box.top, box.bottom))
            far = max(math.hypot(cx - x, cy - y) for cx, cy in box.corners())
            return near <= radius <= far
        case Line(x1, y1, x2, y2, _):
            return crosses((x1, y1), (x2, y2), box)
        case Outline(points):
            if not _meet(reach(mark), box):
                return False
            closing = [(points[-1], points[0])] if mark.closed else []
            pairs = [*pairwise(points), *closing]
            return any(crosses(a, b, box) for a, b in pairs)
    return False


def _meet(one: Box, other: Box) -> bool:
    """Whether two boxes have a point in common; one of them may be flat."""
    across = one.left <= other.right and other.left <= one.right
    return across and one.top <= other.bottom and other.top <= one.bottom


def _outside(at: float, low: float, high: float) -> float:
    """How far a place lies outside a stretch."""
    return max(low - at, at - high, 0.0)


def crosses(a: Point, b: Point, box: Box) -> bool:
    """Whether a straight stroke has a part in a box: the stretch of it that lies between the
    box's sides and the stretch between its top and its foot have a part in common."""
    if _both_beyond(a, b, box):
        return False
    if box.left <= a[0] <= box.right and box.top <= a[1] <= box.bottom:
        return True
    begin, end = 0.0, 1.0
    for i, (low, high) in enumerate(((box.left, box.right), (box.top, box.bottom))):
        way = b[i] - a[i]
        if abs(way) < 1e-12:
            if not low <= a[i] <= high:
                return False
            continue
        first, last = sorted(((low - a[i]) / way, (high - a[i]) / way))
        begin, end = max(begin, first), min(end, last)
    return begin <= end


def _both_beyond(a: Point, b: Point, box: Box) -> bool:
    """Whether both ends lie beyond one side of a box, as most strokes of a drawing do."""
    (ax, ay), (bx, by) = a, b
    return (
        (ax < box.left and bx < box.left) or (ax > box.right and bx > box.right)
        or (ay < box.top and by < box.top) or (ay > box.bottom and by > box.bottom)
    )  # fmt: skip


# --- marks by which tiles are joined ---------------------------------------------------------

JOIN = 3.0
"""Radius of a join mark: a ring with a cross in it."""
_CLEAR, _LETTER = 14.0, 7.5
_BESIDE: tuple[tuple[float, Anchor], ...] = ((1.0, "start"), (-1.0, "end"))
_SIDES: tuple[tuple[float, Anchor], ...] = ((0.6, "start"), (-0.6, "end"))


def joins(tiling: Tiling, marks: Sequence[Mark]) -> tuple[Mark, ...]:
    """Two numbered marks on every edge that two printed tiles share, each whole on both: where
    the drawing leaves room, far apart."""
    made: list[Mark] = []
    number = 0
    for tile in tiling.printed:
        window = tiling.window(tile)
        seen = [mark for mark in marks if touches(mark, window)]
        for upright in (True, False):
            other = tiling.at(tile.row + (not upright), tile.column + upright)
            if other is None:
                continue
            for at in _places(tiling, tile, upright, seen):
                number += 1
                made += _join(at, number, upright, marks)
    return tuple(made)


def _places(
    tiling: Tiling, tile: Tile, upright: bool, marks: Sequence[Mark]
) -> tuple[Point, Point]:  # fmt: skip
    """The middles of two marks on the seam at the right or at the foot of a tile: a third of it
    or more apart, and crossed by as little of the drawing as can be."""
    box = tiling.window(tile)
    seam = (box.right if upright else box.bottom) - OVERLAP / 2
    low, high = (box.top, box.bottom) if upright else (box.left, box.right)
    along = [low + _CLEAR + 2.0 * i for i in range(int((high - low - 2 * _CLEAR) / 2.0) + 1)]
    points = [(seam, each) if upright else (each, seam) for each in along]
    half = OVERLAP / 2
    near = [m for m in marks if touches(m, Box(
        seam - half if upright else low, low if upright else seam - half,
        seam + half if upright else high, high if upright else seam + half,
    ))]  # fmt: skip
    crossed = [_crossed(_room(p, upright), near, upright) for p in points]
    for most in sorted(set(crossed)):
        free = [p for p, many in zip(points, crossed, strict=True) if many <= most]
        if math.dist(free[0], free[-1]) > (high - low) / 3:
            break
    return free[0], free[-1]


def _crossed(room: Box, marks: Sequence[Mark], upright: bool) -> int:
    """How much of a drawing crosses a place. A line along the seam does little harm; one across
    it may be the cross of a hole, and a word could not be read any more."""
    return sum(_harm(mark, upright) for mark in marks if touches(mark, room))


def _harm(mark: Mark, upright: bool) -> int:
    if isinstance(mark, Words):
        return 1000
    if isinstance(mark, Line):
        over = abs(mark.x2 - mark.x1) if upright else abs(mark.y2 - mark.y1)
        return 1 if over < 0.01 else 30
    return 30


def _room(at: Point, upright: bool) -> Box:
    """What a mark with its number takes, and 4 mm more along the seam."""
    x, y = at
    if upright:
        return Box(x - 5.0, y - JOIN - 8.5, x + 5.0, y + JOIN + 5.0)
    return Box(x - JOIN - 5.0, y - 5.0, x + JOIN + 11.0, y + 5.0)


def _join(at: Point, number: int, upright: bool, marks: Sequence[Mark]) -> Iterator[Mark]:
    x, y = at
    yield Circle(x, y, JOIN - 0.8, 0.18)
    yield Line(x - JOIN, y, x + JOIN, y, 0.18)
    yield Line(x, y - JOIN, x, y + JOIN, 0.18)
    names = _names(at, f"J{number}", upright)
    boxes = [(n, box_of(n)) for n in names]
    free = (n for n, box in boxes if not any(touches(mark, box) for mark in marks))
    yield next(free, names[0])


def _names(at: Point, name: str, upright: bool) -> list[Words]:
    """Where the number of a mark may stand, so that no line of the drawing runs through it: on a
    seam upwards above the ring or below it, beside a line on the seam; else at the ring's side."""
    x, y = at
    below = JOIN + 0.6 + _LETTER * 0.25
    if not upright:
        return [
            Words(x + side * (JOIN + 0.4), down, name, _LETTER, True, anchor)
            for side, anchor in _BESIDE
            for down in (y - 0.9, y + 2.8)
        ]  # fmt: skip
    made = [
        Words(x + side, down, name, _LETTER, True, anchor)
        for down in (y - JOIN - 0.6, y + below, y - JOIN - 4.2, y + below + 3.6)
        for side, anchor in _SIDES
    ]
    fits = [n for n in made if box_of(n).right - x <= OVERLAP / 2 >= x - box_of(n).left]
    return fits or [replace(made[0], x=x, anchor="middle")]
