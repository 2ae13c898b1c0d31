"""A finished picture and the features that measure it, in; the same with a balloon for each, out.

A balloon is a double circle, so that it is none of the numbers that a figure has in single ones.
Its leader ends at the words of the dimension. Nothing that is in the picture is moved or touched.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, pairwise

from generator.figures.clearance import Box, Stroke, around
from generator.figures.lettering import centred_baseline, text_box, text_width
from generator.figures.picture import (
    Circle,
    Line,
    Mark,
    Outline,
    Picture,
    Point,
    Tick,
    Words,
    lowered,
)
from generator.findings import Refusal, near_word

OUTER, INNER = 4.4, 3.7
CLEAR = 0.7  # round a balloon
NEARER = 1.4
FINE, RING = 0.25, 0.35
LARGE, SMALL = 12.0, 10.5  # points; three figures are written smaller
REACHES = (7.0, 9.5, 12.0, 15.0, 19.0, 24.0, 30.0, 38.0, 48.0)
TURNS = tuple(7.5 * n for n in range(48))
FOOT = 0.2  # from a dimension's words to the leader
MOST_TRIES = 12
MARGINS = (0.0, 11.0, 22.0, 33.0)


def dimensions(picture: Picture) -> dict[str, Box]:
    """The dimensions that a picture names, each with the place to which its leader runs."""
    found: dict[str, Box] = {}
    for mark in picture.marks:
        if not isinstance(mark, Tick | Line):
            for name in mark.names:
                found.setdefault(name, _place_of(mark))
    return found


def _place_of(mark: Words | Circle | Outline) -> Box:
    match mark:
        case Words():
            return text_box(mark)
        case Circle(x, y, radius):
            return Box(x - radius, y - radius, x + radius, y + radius)
    x, y = mark.points[len(mark.points) // 2]
    return Box(x, y, x, y)


Sought = tuple[str, Box]  # a number, and the place of the dimension that it belongs to


@dataclass(frozen=True)
class Balloon:
    """A balloon at its middle, its leader, and the box of the dimension that it belongs to."""

    number: str
    middle: Point
    leader: Stroke
    of: Box

    @property
    def box(self) -> Box:
        (x, y), r = self.middle, OUTER
        return Box(x - r, y - r, x + r, y + r)


@dataclass
class Ground:
    """What is taken on the paper: words, circles and strokes of the picture, and the balloons so
    far."""

    frame: Box
    boxes: tuple[Box, ...]
    discs: tuple[Circle, ...]
    strokes: tuple[Stroke, ...]
    placed: list[Balloon]

    def takes(self, balloon: Balloon, strict: bool) -> bool:
        """Whether a balloon keeps clear of everything; strict: its leader of all lines too."""
        room = balloon.box.grown(CLEAR)
        return (
            self.frame.holds(balloon.box)
            and not any(room.overlaps(each) for each in self.boxes)
            and not any(_apart(balloon.middle, disc) < OUTER + 2 * CLEAR for disc in self.discs)
            and not any(stroke.enters(room) for stroke in self.strokes)
            and not any(room.overlaps(p.box) or p.leader.enters(room) for p in self.placed)
            and self._open(balloon, CLEAR if strict else 0.0)
            and not (strict and any(balloon.leader.crosses(each) for each in self.strokes))
        )

    def _open(self, balloon: Balloon, off: float) -> bool:
        """Whether the leader crosses no words, no number in a circle and no other leader, and
        ends well nearer to its own words than to any others. off: from other circles."""
        leader, (x, y) = balloon.leader, balloon.leader.a
        others = [box for box in self.boxes if box != balloon.of]
        foot = Box(x, y, x, y).grown(NEARER)
        return (
            not any(leader.enters(box) or foot.overlaps(box) for box in others)
            and not any(
                _nearest(leader, disc) < off for disc in self.discs if _place_of(disc) != balloon.of
            )
            and not any(leader.enters(p.box.grown(CLEAR)) for p in self.placed)
            and not any(leader.crosses(p.leader) for p in self.placed)
        )


def _apart(point: Point, disc: Circle) -> float:
    return math.dist(point, (disc.x, disc.y)) - disc.radius


def _nearest(stroke: Stroke, disc: Circle) -> float:
    """From the nearest part of a stroke to a circle; below zero inside it."""
    (ax, ay), (bx, by) = stroke.a, stroke.b
    dx, dy = bx - ax, by - ay
    along = ((disc.x - ax) * dx + (disc.y - ay) * dy) / (dx * dx + dy * dy)
    part = min(1.0, max(0.0, along))
    return _apart((ax + part * dx, ay + part * dy), disc)


def ballooned(picture: Picture, wanted: Sequence[tuple[str, Sequence[str]]]) -> Picture:
    """The picture with the number of each feature at every dimension that it measures.

    wanted: the number and its dimensions. It is looked at, not ticked: tick boxes are left out.
    Refuses a dimension that the picture does not name, and balloons that find no place.
    """
    marks = tuple(mark for mark in picture.marks if not isinstance(mark, Tick))
    bare = replace(picture, marks=marks, more=())
    known = dimensions(bare)
    sought = [(number, _named(known, name)) for number, names in wanted for name in names]
    for margin in MARGINS:
        placed = _arranged(bare, sought, margin)
        if placed is not None:
            return _joined(bare, placed)
    wrong = f"{len(sought)} balloons find no place round a figure {picture.width:.0f} mm wide"
    raise Refusal("figure", wrong, "fewer readings on one figure")


def _named(known: dict[str, Box], name: str) -> Box:
    if name not in known:
        right = near_word(name, known) or ", ".join(known) or "another figure"
        raise Refusal("figure", f"the figure has no dimension {name!r}", right)
    return known[name]


def _arranged(
    picture: Picture, sought: Sequence[Sought], margin: float
) -> Sequence[Balloon] | None:
    """All balloons in the order wanted; None where no order of placing them finds room.

    One that finds no place is placed first in the next try: the narrowest choose before others.
    """
    order = list(range(len(sought)))
    for _ in range(min(MOST_TRIES, len(sought))):
        placed = _placed(picture, [sought[n] for n in order], margin)
        if len(placed) == len(order):
            return [balloon for _, balloon in sorted(zip(order, placed, strict=True), key=_first)]
        order.insert(0, order.pop(len(placed)))
    return None


def _first(pair: tuple[int, Balloon]) -> int:
    return pair[0]


def _placed(picture: Picture, sought: Sequence[Sought], margin: float) -> list[Balloon]:
    """Each balloon at its first free place, up to one that finds none inside the margins."""
    frame = Box(0, -margin, picture.width, picture.height + margin)
    words = tuple(text_box(mark) for mark in picture.marks if isinstance(mark, Words))
    discs = tuple(mark for mark in picture.marks if isinstance(mark, Circle))
    ground = Ground(frame, words, discs, tuple(_strokes(picture)), [])
    for number, of in sought:
        places = list(_places(number, of))
        found = chain(
            (each for each in places if ground.takes(each, strict=True)),
            (each for each in places if ground.takes(each, strict=False)),
        )
        balloon = next(found, None)
        if balloon is None:
            break
        ground.placed.append(balloon)
    return ground.placed


def _places(number: str, of: Box) -> Iterator[Balloon]:
    """Places ever farther from the words of a dimension, round about them."""
    x, y = (of.left + of.right) / 2, (of.top + of.bottom) / 2
    near = of.grown(FOOT)
    for reach in REACHES:
        for turn in TURNS:
            way = (math.cos(math.radians(turn)), -math.sin(math.radians(turn)))
            out = reach + _half_across(near, way)
            middle = (x + out * way[0], y + out * way[1])
            foot = (
                min(max(middle[0], near.left), near.right),
                min(max(middle[1], near.top), near.bottom),
            )
            length = math.dist(foot, middle)
            if length > OUTER + 1.5:
                part = OUTER / length
                end = (
                    middle[0] + part * (foot[0] - middle[0]),
                    middle[1] + part * (foot[1] - middle[1]),
                )
                yield Balloon(number, middle, Stroke(foot, end), of)


def _half_across(box: Box, way: Point) -> float:
    """From the middle of a box to its edge, that way."""
    wide, high = (box.right - box.left) / 2, (box.bottom - box.top) / 2
    sides = zip((wide, high), way, strict=True)
    return min(half / abs(part) for half, part in sides if abs(part) > 1e-9)


def _strokes(picture: Picture) -> Iterator[Stroke]:
    for mark in picture.marks:
        if isinstance(mark, Line):
            yield Stroke((mark.x1, mark.y1), (mark.x2, mark.y2))
        elif isinstance(mark, Outline):
            points = mark.points + (mark.points[:1] if mark.closed else ())
            yield from (Stroke(a, b) for a, b in pairwise(points))


def _joined(picture: Picture, placed: Iterable[Balloon]) -> Picture:
    """Picture and balloons, as high as both need."""
    balloons = tuple(placed)
    used = around([Box(0, 0, picture.width, picture.height), *(b.box.grown(0.5) for b in balloons)])
    marks = (*picture.marks, *(mark for each in balloons for mark in _drawn(each)))
    moved = tuple(lowered(mark, -used.top) for mark in marks)
    return Picture(picture.width, used.bottom - used.top, moved)


def _drawn(balloon: Balloon) -> Iterator[Mark]:
    (x, y), leader = balloon.middle, balloon.leader
    size = LARGE if text_width(balloon.number, LARGE) < 2 * INNER else SMALL
    yield Line(*leader.a, *leader.b, FINE)
    yield from (Circle(x, y, radius, RING) for radius in (OUTER, INNER))
    yield Words(x, centred_baseline(y, size), balloon.number, size, True, "middle")
