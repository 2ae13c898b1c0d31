"""A hinge line and the shell below it as rows, in; its section and its plan, out.

In the section heights are drawn larger than lengths, by a factor that is told. Every number is
written as it is printed elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.figures.hinge_rows import amount, hand_of, numbered
from generator.figures.lettering import text_width, wrapped
from generator.figures.picture import Circle, Line, Mark, Outline, Picture, Point, Words

SIZE, FINE, THICK = 10.5, 0.25, 0.7
LINE = 4.8
ENDS = 13.0  # room beside the end stations for their numbers
DEEP = 26.0  # of the section, from the highest pad's line to the lowest point of the shell
WIDE = 10.0  # of the plan, from the line to the farthest point
ARROW = 2.4


@dataclass(frozen=True)
class Pad:
    """One station: where, how high the shell is, and what is printed of its pad."""

    at: float
    up: float
    pad: float
    offset: float
    pad_text: str
    offset_text: str


def hinge_line(rows: Mapping[str, str], width: float) -> Picture:
    """The section along the line, looking inboard, over the plan of it from outside, inboard up.

    So the bow is to the left of PORT parts and to the right of STBD ones.
    """
    pads = [_pad(rows, n) for n in range(1, numbered(rows, "at") + 1)]
    left, span = pads[0].at, pads[-1].at - pads[0].at
    scale = (width - 2 * ENDS) / span
    ahead = hand_of(rows) == "PORT"
    along = [ENDS + scale * (pad.at - left) for pad in pads]
    places = along if ahead else [width - x for x in along]
    marks: list[Mark] = []
    y = _heading(marks, ("SECTION along the line", "looking inboard"), 0.0, width, ahead)
    y, larger = _section(marks, pads, places, y, scale)
    y = _heading(marks, ("PLAN from outside", "inboard is up"), y + 4.0, width, ahead)
    y, wider = _plan(marks, pads, places, y, scale)
    said = (
        f"{rows['of hand']}. Line by {rows['fit']}; it rises {rows['rises']} and turns inboard "
        f"{rows['turns']} going aft. Thinnest: {rows['thinnest']}. In the section: height of the "
        f"hinge line over the shell. In the plan: line inboard (plus) of the surveyed point. "
        f"Heights are drawn {larger:.0f} times as large as lengths{wider}."
    )
    y += 5.0
    for text in wrapped(said, SIZE, width):
        marks.append(Words(0.0, y, text, SIZE))
        y += LINE
    return Picture(width, y - 1.0, tuple(marks))


def _pad(rows: Mapping[str, str], n: int) -> Pad:
    at, _ = amount(rows, f"at {n}")
    up, _ = amount(rows, f"height {n}")
    pad, pad_text = amount(rows, f"pad {n}")
    offset, offset_text = amount(rows, f"offset {n}")
    return Pad(at, up, pad, offset, pad_text, offset_text)


def _heading(marks: list[Mark], texts: Sequence[str], y: float, width: float, ahead: bool) -> float:
    """A heading between the arrows to bow and stern; the y below it. ahead: the bow to the left."""
    base = y + 4.2
    for n, text in enumerate(texts):
        marks.append(Words(width / 2, base + LINE * n, text, SIZE, n == 0, "middle"))
    marks += _arrow((9.0, base), (0.0, base))
    marks.append(Words(10.0, base + 1.3, "BOW" if ahead else "AFT", SIZE, True))
    marks += _arrow((width - 9.0, base), (width, base))
    marks.append(Words(width - 10.0, base + 1.3, "AFT" if ahead else "BOW", SIZE, True, "end"))
    return base + LINE * (len(texts) - 1) + 3.0


def _arrow(start: Point, end: Point) -> Iterator[Mark]:
    """A straight arrow along or across the page."""
    (x1, y1), (x2, y2) = start, end
    yield Line(x1, y1, x2, y2, 0.5)
    size = abs(x2 - x1) + abs(y2 - y1)
    ux, uy = (x2 - x1) / size, (y2 - y1) / size
    back = (x2 - ARROW * ux, y2 - ARROW * uy)
    side = (-uy * ARROW / 2, ux * ARROW / 2)
    yield Outline(
        (end, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1])),
        FINE, True, True,
    )  # fmt: skip


def _section(
    marks: list[Mark], pads: Sequence[Pad], places: Sequence[float], y: float, scale: float
) -> tuple[float, float]:
    """The line, the shell below it, a dimension line at each station; the y below, and how much
    larger heights are drawn."""
    lines = [pad.up + pad.pad for pad in pads]
    low, high = min(pad.up for pad in pads), max(lines)
    up = DEEP / (high - low)
    rows = _staggered([pad.pad_text for pad in pads], places)
    top = y + LINE * (max(rows) + 1) + 1.5

    def place(height: float) -> float:
        return top + up * (high - height)

    shell = [(x, place(pad.up)) for x, pad in zip(places, pads, strict=True)]
    marks.append(Outline(tuple(shell), THICK))
    reach = math.copysign(6.0, places[-1] - places[0])
    marks.append(
        Line(places[0] - reach, place(lines[0]), places[-1] + reach, place(lines[-1]), 0.35)
    )
    for n, (x, pad, line, row) in enumerate(zip(places, pads, lines, rows, strict=True), 1):
        marks.append(Line(x, place(line), x, place(pad.up), FINE))
        marks.append(Circle(x, place(line), 0.9, 0.35))
        if row:
            marks.append(Line(x, place(line) - 1.0, x, top - 1.6 - LINE * row + 0.8, FINE))
        marks.append(
            Words(x, top - 1.8 - LINE * row, pad.pad_text, SIZE, False, "middle", (f"pad {n}",))
        )
        marks.append(Words(x, place(low) + 5.6, str(n), SIZE, True, "middle"))
    return place(low) + 7.0, up / scale


def _staggered(texts: Sequence[str], places: Sequence[float]) -> list[int]:
    """A row for each text, so that none touches another of its row."""
    ends: list[float] = []
    rows = [0] * len(texts)
    for n in sorted(range(len(texts)), key=lambda each: places[each]):
        half = text_width(texts[n], SIZE) / 2 + 0.8
        start = places[n] - half
        row = next((k for k, end in enumerate(ends) if end <= start), len(ends))
        ends[row:] = [places[n] + half, *ends[row + 1 :]]
        rows[n] = row
    return rows


def _plan(
    marks: list[Mark], pads: Sequence[Pad], places: Sequence[float], y: float, scale: float
) -> tuple[float, str]:
    """The line from above with the surveyed points beside it; the y below, and how much larger
    their distances are drawn."""
    far = max(abs(pad.offset) for pad in pads)
    beside = WIDE / far if far > 0 else 0.0
    rows = _staggered([pad.offset_text for pad in pads], places)
    room = WIDE if far > 0 else 2.0
    middle = y + LINE * (max(rows) + 1) + room
    marks.append(Line(min(places) - 6, middle, max(places) + 6, middle, 0.35))
    for x, pad, row in zip(places, pads, rows, strict=True):
        at = middle + beside * pad.offset  # the point lies outboard of a line inboard of it
        marks.append(Line(x - 1.6, at, x + 1.6, at, 0.5))
        marks.append(Line(x, at - 1.6, x, at + 1.6, 0.5))
        if at != middle:
            marks.append(Line(x, middle, x, at, FINE))
        text = middle - room - 1.0 - LINE * row
        marks.append(Words(x, text, pad.offset_text, SIZE, False, "middle"))
    told = f"; in the plan the points stand off {beside / scale:.0f} times as far" if far else ""
    return middle + room, told
