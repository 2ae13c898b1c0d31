"""Rows of fasteners as the sheet's rows give them, in; a map with a number and a box for each, out.

A row is drawn as a line of numbered boxes, broken where it is longer than the picture is wide, so
that a number is never smaller than a pen and an eye need. It is a list in order, not to scale.
Where the order of tightening would not stand below it on the page, the rows are lines of dots and
the boxes stand below them in that order.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from generator.figures.map_parts import (
    LINE,
    NUMBER,
    ONE_OF_SEVERAL,
    TICK,
    foot,
    heading,
    known_rows,
    must_fit,
    order_list,
    order_of,
)
from generator.figures.picture import Line, Mark, Picture, Point, Tick, Words
from generator.figures.plan_map import EVERY, MOST, ROUND, TALL, Wanted, plan_map
from generator.findings import Refusal

NEEDED = ("fasteners", "in rows", "numbering", "looking")
KNOWN = (*NEEDED, "item", "first", "order")
DOTS_IN_A_LINE = 50  # of a plan
LINES_APART = 7.6  # of a plan: room for the numbers between
CELL = 9.6  # from one fastener to the next
HIGH = 12.6  # a line of numbers and boxes
LABEL = 6.4
_ROW = re.compile(r"(.+): (\d+)")


def rows_map(rows: Mapping[str, str], width: float) -> Picture:
    """The map of rows of fasteners. Refusal of rows that are not understood, of counts that do not
    agree, and of more than 200 fasteners."""
    known_rows(rows, NEEDED, KNOWN)
    named = _named(rows["in rows"])
    count = sum(named.values())
    if not 1 <= count <= MOST or str(count) != rows["fasteners"]:
        wrong = f"rows of {count} fasteners, and the map says {rows['fasteners']}"
        raise Refusal("figure", wrong, f"as many in the rows, up to {MOST}")
    begin = f"number 1 at the {rows['first']} of the first row" if rows.get("first") else ""
    order = order_of(rows.get("order", ""), count)
    told = "; ".join(
        filter(None, (f"{count} of {rows.get('item', 'one kind')}", begin,
                      ONE_OF_SEVERAL if order else ""))
    )  # fmt: skip
    item = rows.get("item", "")
    view = f"looking {rows['looking']}, {rows['numbering']}"
    made = _in_place(named, order, heading(view, told, width), width, item or "fastener")
    if order and made.height > TALL:
        ranges = "; ".join(f"{name}: {a} to {b}" for name, a, b in _numbered(named))
        places = _side_by_side(named, width)
        shown = tuple(n for n in places if n % EVERY == 0 or n in _begins(named))
        wanted = Wanted(f"{view}, not to scale", f"{told}; {ranges}", places, item, order, shown)
        return plan_map(wanted, width)
    return made


def _in_place(
    named: Mapping[str, int],
    order: tuple[int, ...],
    head: Sequence[Words],
    width: float,
    item: str,
) -> Picture:
    """Every fastener with its box below its number, and the order below them all."""
    marks: list[Mark] = [*head]
    y = foot(head, 0.0) + 2.0
    for name, first, last in _numbered(named):
        marks += _row(name, first, last - first + 1, y, width, item)
        y += LABEL + HIGH * -(-named[name] // _in_a_line(width))
    marks += order_list(order, y + LINE, width, begin=True)
    must_fit(tuple(marks), width, sum(named.values()))
    below = foot(order_list(order, y + LINE, width), y) + 2 if order else y
    return Picture(width, below, tuple(marks))


def _numbered(named: Mapping[str, int]) -> Iterator[tuple[str, int, int]]:
    """Each row with its first and its last number."""
    done = 0
    for name, fasteners in named.items():
        yield name, done + 1, done + fasteners
        done += fasteners


def _begins(named: Mapping[str, int]) -> set[int]:
    return {first for _, first, _ in _numbered(named)}


def _side_by_side(named: Mapping[str, int], width: float) -> dict[int, Point]:
    """Where the dots of the rows stand on paper, a long row in several lines."""
    places: dict[int, Point] = {}
    line = 0
    longest = min(DOTS_IN_A_LINE, max(named.values()))
    pitch = (width - 2 * ROUND) / max(1, longest - 1)
    for _, first, last in _numbered(named):
        for number in range(first, last + 1):
            down, along = divmod(number - first, longest)
            places[number] = (along * pitch, (line + down) * LINES_APART)
        line += -(-(last - first + 1) // longest)
    return places


def _named(text: str) -> dict[str, int]:
    """The rows by name; each once."""
    found: dict[str, int] = {}
    for part in text.split("; "):
        match = _ROW.fullmatch(part)
        if match is None or match[1] in found or match[2] == "0":
            wrong = f"the row {part!r} of the map is not understood"
            raise Refusal("figure", wrong, "a name and how many, such as upper row: 24")
        found[match[1]] = int(match[2])
    return found


def _in_a_line(width: float) -> int:
    """How many stand side by side: an even number, so that people count in pairs."""
    fit = int(width // CELL)
    if fit < 4:
        raise Refusal("figure", f"a map of rows does not fit {width:.0f} mm", "a wider picture")
    return fit - fit % 2


def _row(
    name: str, first: int, fasteners: int, y: float, width: float, item: str
) -> Iterator[Mark]:
    last = first + fasteners - 1
    yield Words(0.0, y + 4.6, f"{name}: {first} to {last}", 10.5, bold=True)
    across = _in_a_line(width)
    for i in range(fasteners):
        line, place = divmod(i, across)
        x, top = place * CELL, y + LABEL + line * HIGH
        yield Words(x + CELL / 2, top + 4.4, str(first + i), NUMBER, True, "middle")
        yield Tick(x + (CELL - TICK) / 2, top + 5.6, TICK, f"{item} no. {first + i}")
        if place == across - 1 or i == fasteners - 1:
            yield Line(0.0, top + HIGH - 0.6, x + CELL, top + HIGH - 0.6, 0.18)
