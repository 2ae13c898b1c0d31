"""Rows of fasteners as the sheet's rows give them, in; a map with a number and a box for each, out.

A row is drawn as a line of numbered boxes, broken where it is longer than the picture is wide, so
that a number is never smaller than a pen and an eye need. It is a list in order, not to scale.
Where the order of tightening would not stand below it on the page, the rows are lines of dots and
the boxes stand below them in that order.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

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
from generator.figures.plan_map import EVERY, MOST, ROUND, Wanted, plan_map
from generator.findings import Refusal

NEEDED = ("fasteners", "in rows", "numbering", "looking")
KNOWN = (*NEEDED, "item", "first", "order")
DOTS_IN_A_LINE = 50  # of a plan
LINES_APART = 7.6  # of a plan: room for the numbers between
CELL = 9.6  # from one fastener to the next
HIGH = 12.6  # a line of numbers and boxes
LABEL = 6.4
_ROW = re.compile(r"(.+): (\d+)")


@dataclass(frozen=True)
class Asked:
    """What the rows say; named: how many stand in each row, view and told: the heading."""

    named: Mapping[str, int]
    order: tuple[int, ...]
    view: str
    told: str
    item: str


@dataclass(frozen=True)
class Drawn:
    """A line of a row: its first and last number, and whether the row begins with it."""

    name: str
    first: int
    last: int
    begins: bool


def rows_map(rows: Mapping[str, str], width: float, height: float = math.inf) -> Picture:
    """The map of rows of fasteners, in as many parts as the height (mm) asks for. Refusal of rows
    that are not understood, of counts that do not agree, and of more than 200 fasteners."""
    known_rows(rows, NEEDED, KNOWN)
    named = _named(rows["in rows"])
    count = sum(named.values())
    if not 1 <= count <= MOST or str(count) != rows["fasteners"]:
        wrong = f"rows of {count} fasteners, and the map says {rows['fasteners']}"
        raise Refusal("figure", wrong, f"as many in the rows, up to {MOST}")
    begin = f"number 1 at the {rows['first']} of the first row" if rows.get("first") else ""
    order = order_of(rows.get("order", ""), count)
    item = rows.get("item", "")
    several = ONE_OF_SEVERAL if order else ""
    told = "; ".join(filter(None, (f"{count} of {item or 'one kind'}", begin, several)))
    view = f"looking {rows['looking']}, {rows['numbering']}"
    asked = Asked(named, order, view, told, item)
    made = _part(asked, _lines(named, width), "", width)
    if made.height <= height:
        return made
    return _as_plan(asked, width, height) if order else _in_parts(asked, width, height)


def _as_plan(asked: Asked, width: float, height: float) -> Picture:
    """The rows as lines of dots, the boxes below in the order of tightening."""
    named = asked.named
    ranges = "; ".join(f"{name}: {a} to {b}" for name, a, b in _numbered(named))
    places = _side_by_side(named, width)
    begins = {first for _, first, _ in _numbered(named)}
    wanted = Wanted(
        view=f"{asked.view}, not to scale",
        facts=f"{asked.told}; {ranges}",
        places=places,
        item=asked.item,
        order=asked.order,
        named=tuple(n for n in places if n % EVERY == 0 or n in begins),
    )
    return plan_map(wanted, width, height)


def _in_parts(asked: Asked, width: float, height: float) -> Picture:
    """The lines of the rows, on as many pages as they take."""
    head = foot(heading(f"{asked.view}, part 9 of 9", asked.told, width), 0.0) + 2.0
    pages: list[list[Drawn]] = [[]]
    low = head
    for line in _lines(asked.named, width):
        label = LABEL if not pages[-1] or line.begins else 0.0
        if pages[-1] and low + label + HIGH > height:
            pages.append([])
            low, label = head, LABEL
        pages[-1].append(line)
        low += label + HIGH
    parts = [
        _part(asked, lines, f", part {i} of {len(pages)}", width)
        for i, lines in enumerate(pages, start=1)
    ]
    return replace(parts[0], more=tuple(parts[1:]))


def _part(asked: Asked, lines: Sequence[Drawn], part: str, width: float) -> Picture:
    """Every fastener with its box below its number, and the order below them all."""
    head = heading(asked.view + part, asked.told, width)
    marks: list[Mark] = [*head]
    y = foot(head, 0.0) + 2.0
    for i, line in enumerate(lines):
        if line.begins or not i:
            last = max(each.last for each in lines if each.name == line.name)
            words = f"{line.name}: {line.first} to {last}"
            marks.append(Words(0.0, y + 4.6, words, 10.5, bold=True))
            y += LABEL
        marks += _line(line, y, asked.item or "fastener")
        y += HIGH
    order = order_list(asked.order, y + LINE, width, begin=True)
    must_fit((*marks, *order), width, sum(asked.named.values()))
    return Picture(width, foot(order, y) + 2 if order else y, (*marks, *order))


def _lines(named: Mapping[str, int], width: float) -> list[Drawn]:
    """The lines in which the rows are drawn, a long row in several."""
    across = _in_a_line(width)
    return [
        Drawn(name, begin, min(begin + across - 1, last), begin == first)
        for name, first, last in _numbered(named)
        for begin in range(first, last + 1, across)
    ]


def _numbered(named: Mapping[str, int]) -> Iterator[tuple[str, int, int]]:
    """Each row with its first and its last number."""
    done = 0
    for name, fasteners in named.items():
        yield name, done + 1, done + fasteners
        done += fasteners


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


def _line(line: Drawn, y: float, item: str) -> Iterator[Mark]:
    for place, number in enumerate(range(line.first, line.last + 1)):
        x = place * CELL
        yield Words(x + CELL / 2, y + 4.4, str(number), NUMBER, True, "middle")
        yield Tick(x + (CELL - TICK) / 2, y + 5.6, TICK, f"{item} no. {number}")
    end = (line.last - line.first + 1) * CELL
    yield Line(0.0, y + HIGH - 0.6, end, y + HIGH - 0.6, 0.18)
