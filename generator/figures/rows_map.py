"""Rows of fasteners as the sheet's rows give them, in; a map with a number and a box for each, out.

A row is drawn as a line of numbered boxes, broken where it is longer than the picture is wide, so
that a number is never smaller than a pen and an eye need. It is a list in order, not to scale.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

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
from generator.figures.picture import Line, Mark, Picture, Tick, Words
from generator.findings import Refusal

NEEDED = ("fasteners", "in rows", "numbering", "looking")
KNOWN = (*NEEDED, "item", "first", "order")
MOST = 200
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
    head = heading(f"looking {rows['looking']}, {rows['numbering']}", told, width)
    marks: list[Mark] = [*head]
    y, number = foot(head, 0.0) + 2.0, 1
    for name, fasteners in named.items():
        drawn = list(_row(name, number, fasteners, y, width, rows.get("item", "fastener")))
        marks += drawn
        y += LABEL + HIGH * -(-fasteners // _in_a_line(width))
        number += fasteners
    marks += order_list(order, y + LINE, width, begin=True)
    must_fit(tuple(marks), width, count)
    below = foot(order_list(order, y + LINE, width), y) + 2 if order else y
    return Picture(width, below, tuple(marks))


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
