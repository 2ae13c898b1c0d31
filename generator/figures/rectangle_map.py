"""A rectangle of fasteners as the sheet's rows give it, in; the map ticked at the bench, out.

Every fastener has its number and a box to tick beside it. Number 1 stands in the corner that the
rows name; the numbers run along its row, and every further row begins at the same side. What is
too wide or too high for that is a plan with the boxes below it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from generator.figures import plan_map
from generator.figures.lettering import centred_baseline
from generator.figures.map_parts import (
    ARROW,
    BALLOON,
    LINE,
    NUMBER,
    ONE_OF_SEVERAL,
    TALLEST,
    TICK,
    black,
    foot,
    heading,
    known_rows,
    must_fit,
    order_list,
    order_of,
)
from generator.figures.picture import Anchor, Circle, Line, Mark, Picture, Point, Tick, Words
from generator.findings import Refusal

CORNERS = ("top left", "top right", "bottom left", "bottom right")
NEEDED = ("fasteners", "rows", "columns", "numbering", "looking")
KNOWN = (*NEEDED, "item", "pitch across", "pitch down", "first", "order")
APART = 0.9  # from a fastener's circle to its tick box
SMALL = 2 * BALLOON + 1.4  # a cell across its short side
LONG = 2 * BALLOON + APART + TICK + 1.6  # and along the side where the tick box stands
ROOMY = 12.0  # between fasteners of a plan on which every number is written
CLOSE = 5.5  # rows of a plan nearer than that have no room for a number each
CLEAR = 3.0  # between rows that are counted by eye
HIGHEST = 112.0  # of a plan, if its boxes leave so much
MOST = 99  # a balloon holds two figures, and a rectangle as many rows or columns


@dataclass(frozen=True)
class Asked:
    """What the rows say."""

    rows: int
    columns: int
    item: str
    pitches: tuple[str, str]
    first: str
    looking: str
    order: tuple[int, ...]

    @property
    def count(self) -> int:
        return self.rows * self.columns

    @property
    def from_top(self) -> bool:
        return self.first.startswith("top")

    @property
    def from_left(self) -> bool:
        return self.first.endswith("left")

    def cell(self, number: int) -> tuple[int, int]:
        """Row and column of a fastener in the view, counted from the top left corner."""
        row, column = divmod(number - 1, self.columns)
        return (
            row if self.from_top else self.rows - 1 - row,
            column if self.from_left else self.columns - 1 - column,
        )


@dataclass(frozen=True)
class Grid:
    """Where the fasteners stand on paper. beside: tick boxes at their right, not above or below."""

    asked: Asked
    left: float
    top: float
    across: float
    down: float
    beside: bool

    def at(self, number: int) -> Point:
        """The middle of a fastener."""
        row, column = self.asked.cell(number)
        x, y = self.left + self.across * (column + 0.5), self.top + self.down * (row + 0.5)
        off = (APART + TICK) / 2
        if self.beside:
            return x - off, y
        return x, y - off if self.asked.from_top else y + off

    def tick(self, number: int) -> Point:
        """The middle of its tick box: never between it and the arrow at the start."""
        x, y = self.at(number)
        away = BALLOON + APART + TICK / 2
        if self.beside:
            return x + away, y
        return x, y + away if self.asked.from_top else y - away


def rectangle_map(rows: Mapping[str, str], width: float, height: float = math.inf) -> Picture:
    """The map of a rectangle of 2 to 200 fasteners, width in millimetres; where boxes beside them
    and the order below do not fit in width and height, a plan with the boxes below.

    Refuses missing or unknown rows, an order that does not name every fastener once, and more
    fasteners than can be told apart in the width.
    """
    asked = asked_for(rows)
    cell = _cell(asked, width)
    if cell is None:
        return _as_plan(asked, width, height)
    beside, across, down = cell
    view = f"looking {asked.looking}, numbered row by row"
    head = heading(view, _facts(asked), width)
    above = LINE * len(head) + 3
    above += LINE + ARROW + 1 if asked.from_top else LINE + 1
    grid = Grid(asked, (width - across * asked.columns) / 2, above, across, down, beside)
    below = above + down * asked.rows + (1 if asked.from_top else LINE + ARROW + 1)
    order = order_list(asked.order, below + LINE, width, begin=True)
    marks = (*head, *_start(grid, width), *_fasteners(grid), *order)
    must_fit(marks, width, asked.count)
    high = foot(order, below) + 2
    return Picture(width, high, marks) if high <= height else _as_plan(asked, width, height)


def _as_plan(asked: Asked, width: float, height: float) -> Picture:
    """A rectangle that is too much for boxes beside its fasteners: where each stands, not to scale,
    since a long one would leave no room for its numbers, and the boxes below. Rather in more parts
    than with rows that the eye cannot count."""
    across = _spread(asked.columns, width - 2 * plan_map.ROUND)
    down = _spread(asked.rows, HIGHEST)
    cells = {number: asked.cell(number) for number in range(1, asked.count + 1)}
    plan = plan_map.Wanted(
        view=f"looking {asked.looking}, numbered row by row, not to scale",
        facts=f"NUMBER 1: {asked.first}, {_facts(asked)}",
        places={number: (column * across, row * down) for number, (row, column) in cells.items()},
        item=asked.item,
        order=asked.order,
        named=tuple(number for number in cells if _written(asked, number, across, down)),
    )
    clear = max(plan_map.LEAST, min(down, CLEAR) * (asked.rows - 1) + 2 * plan_map.ROUND)
    try:
        return plan_map.plan_map(replace(plan, lowest=clear), width, height)
    except Refusal:
        return plan_map.plan_map(plan, width, height)


def _spread(count: int, room: float) -> float:
    """How far apart so many stand on the plan, in that room."""
    return min(ROOMY, room / max(1, count - 1))


def _written(asked: Asked, number: int, across: float, down: float) -> bool:
    """Whether a number is written on the plan: every one where there is room, else the first of
    each row and every fifth along it; of rows that stand close, in every fifth row."""
    row, along = divmod(number - 1, asked.columns)
    if down < CLOSE and row % plan_map.EVERY:
        return False
    return across >= ROOMY <= down or along == 0 or (along + 1) % plan_map.EVERY == 0


def asked_for(rows: Mapping[str, str]) -> Asked:
    """What the rows ask for; refuses rows that are missing or cannot be read."""
    known_rows(rows, NEEDED, KNOWN)
    down, across = _number(rows, "rows"), _number(rows, "columns")
    if rows["fasteners"].strip() != str(down * across):
        wrong = f"{down} rows of {across} are {down * across} fasteners, not {rows['fasteners']}"
        raise Refusal("figure", wrong, f"fasteners: {down * across}, or other rows and columns")
    if not 2 <= down * across <= plan_map.MOST:
        wrong = f"a map of {down * across} fasteners"
        raise Refusal("figure", wrong, f"2 to {plan_map.MOST} fasteners")
    first = rows.get("first", CORNERS[0]).strip()
    if first not in CORNERS:
        raise Refusal("figure", f"first {first!r} is no corner", ", ".join(CORNERS))
    if rows["numbering"].strip() != "row by row":
        raise Refusal("figure", f"numbering {rows['numbering']!r} of a rectangle", "row by row")
    return Asked(
        rows=down,
        columns=across,
        item=rows.get("item", "").strip(),
        pitches=(rows.get("pitch across", "").strip(), rows.get("pitch down", "").strip()),
        first=first,
        looking=rows["looking"].strip(),
        order=order_of(rows.get("order", ""), down * across),
    )


def _number(rows: Mapping[str, str], name: str) -> int:
    text = rows[name].strip()
    if not (text.isascii() and text.isdecimal() and 1 <= int(text) <= MOST):
        raise Refusal("figure", f"a map of {text} {name}", f"a whole number from 1 to {MOST}")
    return int(text)


def _facts(asked: Asked) -> str:
    across, down = asked.pitches
    return ", ".join(
        filter(
            None,
            (
                f"{asked.rows} rows of {asked.columns}: {asked.count}" if asked.rows > 1
                else f"one row of {asked.columns}",
                asked.item,
                f"pitch across {across}" if across else "",
                f"pitch down {down}" if down else "",
                ONE_OF_SEVERAL if asked.order else "",
            ),
        )
    )  # fmt: skip


def _cell(asked: Asked, width: float) -> tuple[bool, float, float] | None:
    """Whether tick boxes stand beside, and the size of a cell; roomy where there is room. None
    where there is none."""
    if asked.count > MOST:
        return None
    room = ((width - 1) / asked.columns, TALLEST / asked.rows)
    for beside, least in ((False, (SMALL, LONG)), (True, (LONG, SMALL))):
        if least[0] <= room[0] and least[1] <= room[1]:
            return beside, min(room[0], 1.6 * LONG), min(room[1], least[1] + 2)
    return None


def _fasteners(grid: Grid) -> tuple[Mark, ...]:
    numbers = range(1, grid.asked.count + 1)
    return tuple(mark for number in numbers for mark in _fastener(grid, number))


def _fastener(grid: Grid, number: int) -> tuple[Mark, ...]:
    (x, y), (tx, ty), item = grid.at(number), grid.tick(number), grid.asked.item
    named = f"{item} no. {number}" if item else f"no. {number}"
    return (
        Circle(x, y, BALLOON, 0.5 if number == 1 else 0.35),
        Words(x, centred_baseline(y, NUMBER), str(number), NUMBER, True, "middle"),
        Tick(tx - TICK / 2, ty - TICK / 2, TICK, named),
        *_line_to_next(grid, number),
    )


def _line_to_next(grid: Grid, number: int) -> tuple[Mark, ...]:
    """The thin line along a row, from one fastener to the next, clear of circles and boxes."""
    if number % grid.asked.columns == 0:
        return ()
    (x, y), (nx, _) = sorted((grid.at(number), grid.at(number + 1)))
    begin = x + BALLOON + (APART + TICK + 0.4 if grid.beside else 0)
    return (Line(begin, y, nx - BALLOON, y, 0.18),) if nx - BALLOON - begin > 0.5 else ()


def _start(grid: Grid, width: float) -> tuple[Mark, ...]:
    """Outside number 1: a pointer at it, an arrow the way its row runs, and the words.

    They say where numbering begins, never where the work does: the order may begin elsewhere.
    """
    asked = grid.asked
    (x, y), out = grid.at(1), -1 if asked.from_top else 1
    way = 1 if asked.from_left else -1
    tip, base = y + out * (BALLOON + 0.8), y + out * (BALLOON + 0.8 + ARROW)
    pointer = black(((x, tip), (x - 2, base), (x + 2, base)))
    shaft, run = (tip + base) / 2, x + way * 3.5
    end = run + way * 9
    head = black(((end + way * 3.2, shaft), (end, shaft - 1.3), (end, shaft + 1.3)))
    words_at = centred_baseline(base + out * (LINE / 2 + 0.4), 10.5)
    anchor: Anchor = "start" if asked.from_left else "end"
    words = Words(x - way * 3, words_at, f"NUMBER 1: {asked.first}", 10.5, True, anchor)
    top = Words(width / 2, grid.top - 1.5, "top", 10.5, False, "middle")
    return (
        pointer,
        Line(run, shaft, end, shaft, 0.5),
        head,
        words,
        *(() if asked.from_top else (top,)),
    )
