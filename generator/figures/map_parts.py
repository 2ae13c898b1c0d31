"""What every map of fasteners has: sizes for pen and eye, its heading and the order below it.

Rows or an order go in; marks, or a refusal of what cannot be drawn, come out.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from generator.figures.clearance import Box
from generator.figures.lettering import text_box, text_width, wrapped
from generator.figures.picture import Mark, Outline, Point, Words
from generator.findings import Refusal

NUMBER = 12.0  # points; smaller is not read at arm's length
TICK = 5.5
BALLOON = 3.6  # radius of a circle that holds a two-figure number
TALLEST = 150.0
LINE = 5.0
ARROW = 4.0
PITCHES = ("pitch circle", "pitch across", "pitch down")
ONE_OF_SEVERAL = "order: one of several valid ones"
IN_A_LINE = (12, 10, 8, 6, 4, 3, 2, 1)


def known_rows(rows: Mapping[str, str], needed: Sequence[str], known: Sequence[str]) -> None:
    """Refuses a map with a row that is missing, or with one that it does not know."""
    missing = [name for name in needed if not rows.get(name, "").strip()]
    if missing:
        raise Refusal("figure", f"the map has no row {missing[0]!r}", ", ".join(needed))
    strange = [name for name in rows if name not in known]
    if strange:
        raise Refusal("figure", f"the map has a row {strange[0]!r}", ", ".join(known))


def order_of(text: str, count: int) -> tuple[int, ...]:
    """The order as numbers, or none; refuses one that does not name every fastener once."""
    words = text.replace(",", " ").split()
    if not all(w.isascii() and w.isdecimal() for w in words):
        raise Refusal("figure", f"the order {text!r} is no list of numbers", "such as 1 3 2 4")
    order = tuple(map(int, words))
    if order and sorted(order) != list(range(1, count + 1)):
        right = f"each number from 1 to {count}, once"
        raise Refusal("figure", "the order does not name every fastener once", right)
    return order


def heading(view: str, facts: str, width: float) -> tuple[Words, ...]:
    """The view in bold, then what else the map says, centred and broken to the width."""
    lines = [(line, 12.0, True) for line in wrapped(view, 12, width)]
    lines += [(line, 10.5, False) for line in wrapped(facts, 10.5, width)]
    return tuple(
        Words(width / 2, LINE * i - 1, line, size, bold, "middle", _pitches(line))
        for i, (line, size, bold) in enumerate(lines, 1)
    )


def _pitches(line: str) -> tuple[str, ...]:
    """The pitches that a line of the heading gives."""
    return tuple(name for name in PITCHES if name in line)


def order_list(
    order: tuple[int, ...], y: float, width: float, begin: bool = False
) -> tuple[Words, ...]:
    """The order below the map, its first line standing on y; begin: in words too, where it begins.

    An order that does not begin at 1 always says so, because a map is read from its number 1.
    """
    if not order:
        return ()
    begins = f"begin at {order[0]}" if begin or order[0] != 1 else ""
    lead, step = max(text_width("order", 10.5), text_width(begins, 10.5)) + 4, 9.5
    fit = [n for n in IN_A_LINE if lead + n * step <= width]
    if not fit:
        raise Refusal("figure", f"the order does not fit {width:.0f} mm", "a wider picture")
    in_line = min(fit[0], len(order))
    x = (width - lead - in_line * step) / 2
    numbers = [
        Words(
            x + lead + step * (i % in_line + 0.5),
            y + 6 * (i // in_line),
            str(number),
            NUMBER,
            True,
            "middle",
        )
        for i, number in enumerate(order)
    ]
    told = (Words(x, y + LINE, begins, 10.5, bold=True),) if begins else ()
    return (*told, Words(x, y, "order", 10.5), *numbers)


def foot(marks: Sequence[Words], otherwise: float) -> float:
    """How far down words reach; otherwise, where there are none."""
    return max((words.y for words in marks), default=otherwise)


def black(points: tuple[Point, ...]) -> Outline:
    """A black area."""
    return Outline(points, 0.18, closed=True, filled=True)


def must_fit(marks: tuple[Mark, ...], width: float, count: int) -> None:
    """Refuses words that do not fit the width."""
    room = Box(-0.01, -math.inf, width + 0.01, math.inf)
    for mark in marks:
        if isinstance(mark, Words) and not room.holds(text_box(mark)):
            wrong = f"{mark.text!r} does not fit a map {width:.0f} mm wide"
            raise Refusal("figure", wrong, f"shorter words round {count} fasteners")
