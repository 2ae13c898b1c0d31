"""A circle of fasteners as the sheet's rows give it, in; the map that is ticked at the bench, out.

Every fastener has its number and a box to tick beside it. The view is drawn as the rows name it;
a number's place is right only in that view, so the view is printed large above the circle.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from generator.figures import plan_map
from generator.figures.lettering import (
    DIGIT_HEIGHT,
    POINT,
    centred_baseline,
    text_box,
    text_width,
    wrapped,
)
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
from generator.figures.picture import (
    Anchor,
    Circle,
    Line,
    Mark,
    Outline,
    Picture,
    Point,
    Tick,
    Words,
)
from generator.findings import Refusal

TICK_REACH = TICK / math.sqrt(2)  # from the middle of a tick box to its corner
TICK_APART = (TICK + 0.7) * math.sqrt(2)  # chord that clears two boxes which meet at a corner
HOLE = 1.5
CLOCK = {"top": 0.0, "right": 90.0, "bottom": 180.0, "left": 270.0}
_LONG, _HIGHEST = 120, 110.0  # a plan of up to so many need be no higher than that (mm)
NEEDED = ("fasteners", "numbering", "looking")
KNOWN = (*NEEDED, "item", "pitch circle", "first", "order")


@dataclass(frozen=True)
class Asked:
    """What the rows say: turn is +1 clockwise and -1 anticlockwise; start in degrees from top."""

    count: int
    item: str
    pitch_circle: str
    first: str
    start: float
    turn: int
    numbering: str
    looking: str
    order: tuple[int, ...]

    def angle(self, number: int) -> float:
        """Clock angle of a fastener, in radians from the top."""
        return math.radians(self.start + self.turn * (number - 1) * 360 / self.count)


@dataclass(frozen=True)
class Rings:
    """Radii on paper: the pitch circle, and how far from it numbers and tick boxes stand.

    Staggered, every other number stands inside the pitch circle with its tick box.
    """

    pitch: float
    hole: float
    number: float
    tick: float
    staggered: bool

    @property
    def reach(self) -> float:
        return self.pitch + self.tick + TICK_REACH

    @property
    def free(self) -> float:
        """Radius that stays empty in the middle."""
        taken = self.tick + TICK_REACH if self.staggered else self.hole
        return self.pitch - taken

    def side(self, number: int) -> int:
        return -1 if self.staggered and number % 2 == 0 else 1


def circle_map(rows: Mapping[str, str], width: float, height: float = math.inf) -> Picture:
    """The map of a circle of 2 to 200 fasteners, width in millimetres; where boxes beside them and
    the order below do not fit in width and height, a plan with the boxes below.

    Refuses missing or unknown rows, an order that does not name every fastener once, and more
    fasteners than can be ticked in the width.
    """
    asked = asked_for(rows)
    start = f"{_at_number_1(asked)}: {asked.first}"
    sideways = asked.start in (90.0, 270.0)
    aside = text_width(start, 10.5) + ARROW + 3 if sideways else 0.0
    rings = _rings(asked.count, width - aside) or _rings(asked.count, width)
    if rings is None:
        return _as_plan(asked, width, height)
    tight = 2 * rings.reach > width - aside
    inside = _middle(asked, rings.free - 4.5)
    told = _facts(asked, item=len(inside) == 1, start=start if tight else "")
    view = f"looking {asked.looking}, numbered {asked.numbering}"
    head = heading(view, told, width)
    x = width / 2 if tight else (width + (aside if asked.start == 270 else -aside)) / 2
    y = LINE * len(head) + 3 + (ARROW + 2 if asked.start == 0 else 0) + LINE + rings.reach
    below = y + rings.reach + (ARROW + LINE + 2 if asked.start == 180 else 0) + 2
    order = order_list(asked.order, below + LINE, width)
    circle = (*_fasteners(asked, rings), *_direction(asked, rings), *inside, *_top(asked, rings))
    outside = () if tight else _start(asked, rings, start)
    marks = (*head, *_moved((*circle, *outside), x, y), *order)
    must_fit(marks, width, asked.count)
    high = foot(order, below) + 2
    return Picture(width, high, marks) if high <= height else _as_plan(asked, width, height)


def _as_plan(asked: Asked, width: float, height: float) -> Picture:
    """A circle of too many for boxes beside them: where each stands, and the boxes below."""
    start = f"{_at_number_1(asked)}: {asked.first}"
    places = {n: _at(asked.angle(n), 1.0) for n in range(1, asked.count + 1)}
    wanted = plan_map.Wanted(
        view=f"looking {asked.looking}, numbered {asked.numbering}",
        facts=_facts(asked, True, start),
        places=places,
        item=asked.item,
        order=asked.order,
        named=tuple(n for n in places if n == 1 or n % plan_map.EVERY == 0),
        highest=_HIGHEST if asked.count <= _LONG else math.inf,
        outwards=(0.0, 0.0),
    )
    return plan_map.plan_map(wanted, width, height)


def _at_number_1(asked: Asked) -> str:
    """Work starts at number 1, unless the order begins elsewhere."""
    return "START" if asked.order[:1] in ((), (1,)) else "NUMBER 1"


def asked_for(rows: Mapping[str, str]) -> Asked:
    """What the rows ask for; refuses rows that are missing or cannot be read."""
    known_rows(rows, NEEDED, KNOWN)
    count = _count(rows["fasteners"])
    numbering, first = rows["numbering"].strip(), rows.get("first", "top").strip()
    if numbering not in ("clockwise", "anticlockwise"):
        wrong = f"numbering {numbering!r} says no direction"
        raise Refusal("figure", wrong, "clockwise or anticlockwise")
    return Asked(
        count=count,
        item=rows.get("item", "").strip(),
        pitch_circle=rows.get("pitch circle", "").strip(),
        first=first,
        # Any other word, such as bow, is printed at the top and so says what the top is.
        start=CLOCK.get(first, 0.0),
        turn=1 if numbering == "clockwise" else -1,
        numbering=numbering,
        looking=rows["looking"].strip(),
        order=order_of(rows.get("order", ""), count),
    )


def _count(text: str) -> int:
    number, most = text.strip(), plan_map.MOST
    if not (number.isascii() and number.isdecimal() and 2 <= int(number) <= most):
        right = f"a whole number from 2 to {most}"
        raise Refusal("figure", f"a map of {text} fasteners", right)
    return int(text)


def _rings(count: int, width: float) -> Rings | None:
    """One ring where it fits, else two; None where neither does."""
    most = (min(width, TALLEST) - 1) / 2
    made = (_one_ring(count, most), _two_rings(count))
    return next((rings for rings in made if rings.reach <= most), None)


def _one_ring(count: int, most: float) -> Rings:
    tick = BALLOON + 0.9 + TICK_REACH
    half = 2 * math.sin(math.pi / count)
    least = max(22.0, (2 * BALLOON + 1.2) / half, TICK_APART / half - tick)
    wished = min(9.2 / half, 44.0)
    return Rings(max(least, min(wished, most - tick - TICK_REACH)), BALLOON, 0.0, tick, False)


def _two_rings(count: int) -> Rings:
    half_number = 3.0
    number = HOLE + 0.8 + half_number
    tick = number + half_number + 0.6 + TICK_REACH
    least = tick + TICK_APART / (2 * math.sin(min(math.pi / 2, 2 * math.pi / count)))
    if count % 2:  # the last and the first then stand side by side, both outside
        least = max(least, TICK_APART / (2 * math.sin(math.pi / count)) - tick)
    return Rings(max(22.0, least), HOLE, number, tick, True)


def _at(angle: float, radius: float) -> Point:
    return (radius * math.sin(angle), -radius * math.cos(angle))


def _fasteners(asked: Asked, rings: Rings) -> tuple[Mark, ...]:
    numbers = range(1, asked.count + 1)
    return tuple(mark for number in numbers for mark in _fastener(asked, rings, number))


def _fastener(asked: Asked, rings: Rings, number: int) -> tuple[Mark, ...]:
    angle, side = asked.angle(number), rings.side(number)
    x, y = _at(angle, rings.pitch)
    nx, ny = _at(angle, rings.pitch + side * rings.number)
    tx, ty = _at(angle, rings.pitch + side * rings.tick)
    named = f"{asked.item} no. {number}" if asked.item else f"no. {number}"
    return (
        Circle(x, y, rings.hole, 0.5 if number == 1 else 0.35),
        Words(nx, centred_baseline(ny, NUMBER), str(number), NUMBER, True, "middle"),
        Tick(tx - TICK / 2, ty - TICK / 2, TICK, named),
        _pitch_arc(asked, rings, number),
    )


def _pitch_arc(asked: Asked, rings: Rings, number: int) -> Outline:
    """The pitch circle between one fastener and the next, clear of both circles."""
    clear = 2 * math.asin(rings.hole / (2 * rings.pitch))
    step = 2 * math.pi / asked.count - 2 * clear
    start = asked.angle(number) + asked.turn * clear
    named = ("chord",) if number == 1 else ()
    return Outline(_arc(start, asked.turn * step, rings.pitch), 0.18, names=named)


def _arc(start: float, turn: float, radius: float) -> tuple[Point, ...]:
    parts = max(2, math.ceil(abs(turn) / math.radians(3)))
    return tuple(_at(start + turn * i / parts, radius) for i in range(parts + 1))


def _direction(asked: Asked, rings: Rings) -> tuple[Mark, ...]:
    """The arc arrow that leaves number 1 the way the numbers run, just inside them."""
    radius = rings.free - 2.5
    start = asked.angle(1)
    end = start + asked.turn * math.radians(55)
    tip = end + asked.turn * 3.2 / radius
    head = (_at(end, radius - 1.3), _at(end, radius + 1.3), _at(tip, radius))
    arc = Outline(_arc(start, end - start, radius), 0.5)
    return (_pointer(start, radius - 0.3, radius + 2, 1.2), arc, black(head))


def _pointer(angle: float, base: float, tip: float, half: float) -> Outline:
    """A black arrowhead along a radius."""
    (bx, by), (sx, sy) = _at(angle, base), _at(angle + math.pi / 2, half)
    return black((_at(angle, tip), (bx + sx, by + sy), (bx - sx, by - sy)))


def _start(asked: Asked, rings: Rings, start: str) -> tuple[Mark, ...]:
    """The arrowhead outside number 1, and the words for its place."""
    angle, base = asked.angle(1), rings.reach + 1 + ARROW
    anchors: dict[float, Anchor] = {90.0: "start", 270.0: "end"}
    anchor = anchors.get(asked.start, "middle")
    x, y = _at(angle, base + (3.2 if anchor == "middle" else 1.0))
    words = Words(x, centred_baseline(y, 10.5), start, 10.5, True, anchor)
    return (_pointer(angle, base, rings.reach + 1, 2.0), words)


def _top(asked: Asked, rings: Rings) -> tuple[Mark, ...]:
    """The word at the view's top, where the start does not stand there and say so."""
    if asked.start == 0:
        return ()
    return (Words(0, -rings.reach - 1.5, "top", 10.5, False, "middle"),)


def _middle(asked: Asked, free: float) -> tuple[Words, ...]:
    """The count, large, and under it the item where it fits the free radius."""
    big = 28.0
    deep = DIGIT_HEIGHT * big * POINT
    for wide in (2 * free, 1.6 * free, 1.2 * free):
        lines = wrapped(asked.item, 10.5, wide)
        top = -(deep + LINE * len(lines)) / 2
        words = [Words(0, top + deep, str(asked.count), big, True, "middle")]
        for i, line in enumerate(lines, 1):
            words.append(Words(0, top + deep + LINE * i + 0.6, line, 10.5, False, "middle"))
        if all(math.hypot(*c) <= free for w in words for c in text_box(w).corners()):
            return tuple(words)
    return (Words(0, deep / 2, str(asked.count), big, True, "middle"),)


def _facts(asked: Asked, item: bool, start: str) -> str:
    circle = f"pitch circle {asked.pitch_circle}" if asked.pitch_circle else ""
    valid = ONE_OF_SEVERAL if asked.order else ""
    return ", ".join(filter(None, (start, asked.item if item else "", circle, valid)))


def _moved(marks: tuple[Mark, ...], x: float, y: float) -> tuple[Mark, ...]:
    """The marks, drawn about the circle's middle, with that middle at x, y."""
    return tuple(_shifted(mark, x, y) for mark in marks)


def _shifted(mark: Mark, x: float, y: float) -> Mark:
    match mark:
        case Line(x1, y1, x2, y2, weight):
            return Line(x1 + x, y1 + y, x2 + x, y2 + y, weight)
        case Outline():
            return replace(mark, points=tuple((px + x, py + y) for px, py in mark.points))
    return replace(mark, x=mark.x + x, y=mark.y + y)
