"""Fasteners by their places, in; a plan of where each number stands and a box for each, out.

For what is too much for boxes beside the fasteners: a long circle, or places that follow no rule.
The plan is to scale; the boxes stand below it, ten in a line, in the order of the numbers.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.figures.clearance import Box, Stroke
from generator.figures.lettering import centred_baseline, text_box
from generator.figures.map_parts import LINE, NUMBER, TICK
from generator.figures.picture import Circle, Line, Mark, Point, Tick, Words
from generator.findings import Refusal

MOST = 120  # more boxes than that leave no room for a plan on the page
TALL = 195.0  # of plan and boxes together
PITCH = 7.2  # from one line of boxes to the next
DOT = 0.7
SMALL = 9.0  # points, of the numbers on the plan; those at the boxes are as large as on any map
CROSS = 4.0  # arms of the datum's mark
LEAST = 45.0  # a lower plan says too little
ROUND = 9.0  # room for numbers outside the outermost fasteners
_AWAY = (2.4, 4.2, 6.5, 9.0, 12.0)
_DIRECTIONS = tuple(math.radians(45 * i) for i in range(8))


def in_a_line(count: int, width: float) -> int:
    """How many boxes stand side by side, each with its number before it: ten at the most."""
    cell = 13.0 if count < 100 else 15.4
    return max(1, min(10, int(width // cell)))


def boxes_height(count: int, width: float) -> float:
    """How high the boxes of so many fasteners are, with the words above them."""
    return LINE + 3 + PITCH * -(-count // in_a_line(count, width))


def boxes(count: int, item: str, y: float, width: float) -> Iterator[Mark]:
    """A box for each fastener, its number before it, in lines."""
    named = f"{item} no. " if item else "no. "
    yield Words(0.0, y + LINE - 1, "tick each one", 10.5)
    across = in_a_line(count, width)
    step = width / across
    for i in range(count):
        line, place = divmod(i, across)
        x, top = place * step, y + LINE + 2 + line * PITCH
        base = centred_baseline(top + TICK / 2, NUMBER)
        yield Words(x + step - TICK - 1.4, base, str(i + 1), NUMBER, True, "end")
        yield Tick(x + step - TICK, top, TICK, f"{named}{i + 1}")


@dataclass(frozen=True)
class Plan:
    """A finished plan: what is drawn, and how far down it reaches."""

    marks: tuple[Mark, ...]
    low: float


def plan(
    places: Mapping[int, Point],
    named: Sequence[int],
    y: float,
    width: float,
    room: float,
    datum: Point | None = None,
) -> Plan:
    """The plan below y.

    places: number -> where it stands, in millimetres of the work, y down. named: the numbers that
    are written on it. room: how high it may be. datum: the point from which places are measured,
    drawn as a cross. Refuses places so near to each other that dots or numbers would run into each
    other, and a room in which no plan fits.
    """
    every = [*places.values(), *([datum] if datum else [])]
    if room < LEAST:
        raise Refusal("figure", f"a map of {len(places)} fasteners is too high", "split the map")
    paper = _on_paper(every, y, width, room)
    at = {n: paper(place) for n, place in places.items()}
    _apart(at)
    frame = Box(0.0, y, width, y + room)
    taken = [Box(px - DOT, py - DOT, px + DOT, py + DOT) for px, py in at.values()]
    strokes: list[Stroke] = []
    marks: list[Mark] = []
    texts = {str(number): at[number] for number in named}
    if datum:
        x, base = paper(datum)
        marks += [
            Line(x - CROSS, base, x + CROSS, base, 0.25),
            Line(x, base - CROSS, x, base + CROSS, 0.25),
        ]
        taken += [Box(x - CROSS, base - 0.2, x + CROSS, base + 0.2),
                  Box(x - 0.2, base - CROSS, x + 0.2, base + CROSS)]  # fmt: skip
        texts["datum"] = (x, base)
    for text, place in texts.items():
        label, leader = _label(text, place, frame, taken, strokes)
        marks += [label, *leader]
        taken.append(text_box(label))
        strokes += [Stroke((each.x1, each.y1), (each.x2, each.y2)) for each in leader]
    dots = [Circle(*xy, DOT, 0.6 if n == 1 else 0.35) for n, xy in at.items()]
    low = max([py + DOT for _, py in at.values()] + [box.bottom for box in taken])
    return Plan((*dots, *marks), low + 1)


def _on_paper(
    places: Sequence[Point], y: float, width: float, room: float
) -> Callable[[Point], Point]:
    """Where a place of the work stands on paper: as large as fits, in the middle."""
    xs, ys = [x for x, _ in places], [y for _, y in places]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    fits = [(width - 2 * ROUND) / wide] if wide else []
    fits += [(room - 2 * ROUND) / high] if high else []
    scale, left, top = min(fits), min(xs), min(ys)
    margin = (width - wide * scale) / 2
    return lambda at: (margin + (at[0] - left) * scale, y + ROUND + (at[1] - top) * scale)


def _apart(at: Mapping[int, Point]) -> None:
    """Refuses dots that run into each other."""
    numbers = sorted(at, key=lambda n: at[n])
    for i, one in enumerate(numbers):
        for other in numbers[i + 1 :]:
            if at[other][0] - at[one][0] > 2 * DOT + 0.2:
                break
            if math.dist(at[one], at[other]) < 2 * DOT + 0.2:
                first, second = sorted((one, other))
                wrong = f"fasteners {first} and {second} cannot be told apart on the map"
                raise Refusal("figure", wrong, "places farther apart, or a map of their own")


def _label(
    text: str, at: Point, frame: Box, taken: Sequence[Box], strokes: Sequence[Stroke]
) -> tuple[Words, tuple[Line, ...]]:
    """The number at its first free place round the dot; with a line to it where that is farther."""
    for away in _AWAY:
        for turn in _DIRECTIONS:
            x, y = at[0] + away * math.sin(turn), at[1] - away * math.cos(turn)
            words = _standing(text, x, y, math.sin(turn))
            box = text_box(words)
            leader = _leader(at, x, y) if away > _AWAY[1] else ()
            told = [Stroke((each.x1, each.y1), (each.x2, each.y2)) for each in leader]
            clear = box.grown(0.4)
            if (
                frame.holds(box)
                and not any(clear.overlaps(other) for other in taken)
                and not any(stroke.enters(clear) for stroke in strokes)
                and not any(one.crosses(other) for one in told for other in strokes)
                and not any(one.enters(other) for one in told for other in taken)
            ):
                return words, leader
    wrong = f"there is no room for {text!r} on the map"
    raise Refusal("figure", wrong, "places farther apart, fewer fasteners, or a map of their own")


def _standing(text: str, x: float, y: float, side: float) -> Words:
    base = centred_baseline(y, SMALL)
    anchor = "start" if side > 0.3 else "end" if side < -0.3 else "middle"
    return Words(x, base, text, SMALL, True, anchor)  # type: ignore[arg-type]


def _leader(at: Point, x: float, y: float) -> tuple[Line, ...]:
    """From beside the dot to beside the number."""
    far = math.dist(at, (x, y))
    ux, uy = (x - at[0]) / far, (y - at[1]) / far
    start = (at[0] + ux * (DOT + 0.3), at[1] + uy * (DOT + 0.3))
    return (Line(*start, x - ux * 0.8, y - uy * 1.6, 0.18),)
