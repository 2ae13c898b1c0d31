"""Points of a plan and their numbers, in; a free place for each number, out.

A number stands beside its dot, nearer to it than to any that it might be taken for; where there is
no room it moves away and a line leads to it. The most crowded find their places first, because the
others have more to choose from.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.figures.clearance import Box, Stroke
from generator.figures.lettering import centred_baseline, text_box
from generator.figures.picture import Line, Point, Words
from generator.findings import Refusal

_AWAY = (0.0, 1.8, 4.1, 6.6, 9.6)  # farther than beside (mm)
_LED = 1  # beyond this one of them a line leads to the number
_TURNS = tuple(math.radians(turn) for turn in (0, 45, -45, 90, -90, 135, -135, 180))
_CLEAR = 0.4
_OF_OTHERS = 1.3  # from a number to the line of another, which is not to be taken for its own
_NEARER = 1.3  # another dot is at least so many times as far from a number without a line
_NEAR = 25.0  # what is farther from a dot than this touches neither its number nor its line
_CROWD = 8.0
_TRIES = 20  # what found no place chooses first the next time

Label = tuple[Words, tuple[Line, ...]]


@dataclass(frozen=True)
class Ground:
    """What numbers are placed on. dots: where they stand, of one radius; frame: the numbers stay
    inside; taken: what else is there. rivals: the dots that a number might be taken for. size: of
    the numbers, in points. outwards: numbers stand on the side away from this point first; none:
    above first."""

    frame: Box
    dots: tuple[Point, ...]
    dot: float
    taken: tuple[Box, ...]
    rivals: tuple[Point, ...]
    size: float
    outwards: Point | None = None


def labelled(texts: Mapping[str, Point], ground: Ground) -> list[Label]:
    """Words and leader of each text in turn, clear of everything and of each other. Refuses what
    finds no place, also when it may choose first."""
    crowd = {text: _crowd(at, texts) for text, at in texts.items()}
    turn = sorted(texts, key=lambda each: (each.isdecimal(), -crowd[each]))
    spots = {text: _spot(at, ground) for text, at in texts.items()}
    for _ in range(_TRIES):
        found, left = _in_turn(turn, spots, ground)
        if not left:
            return [found[text] for text in texts]
        turn.remove(left)
        turn.insert(0, left)
    wrong = f"there is no room for {left!r} on the map"
    raise Refusal("figure", wrong, "places farther apart, fewer fasteners, or a map of their own")


@dataclass(frozen=True)
class Spot:
    """A dot that gets a number: where it is, what is near it whatever the others choose, and the
    dots near it that its number might be taken for."""

    at: Point
    taken: tuple[Box, ...]
    rivals: tuple[Point, ...]


def _spot(at: Point, ground: Ground) -> Spot:
    r = ground.dot
    near = [(x, y) for x, y in ground.dots if math.dist((x, y), at) < _NEAR + 2 * r]
    held = [*ground.taken, *(Box(x - r, y - r, x + r, y + r) for x, y in near)]
    return Spot(
        at,
        tuple(box for box in held if _gap(at, box) < _NEAR),
        tuple(dot for dot in ground.rivals if dot != at and math.dist(dot, at) < _NEAR),
    )


def _in_turn(
    turn: Sequence[str], spots: Mapping[str, Spot], ground: Ground
) -> tuple[dict[str, Label], str]:
    """The places of the texts as they choose one after the other, and the first without one."""
    held: list[Box] = []
    strokes: list[Stroke] = []
    numbers: list[Box] = []  # with the room that lines of others leave
    found: dict[str, Label] = {}
    for text in turn:
        spot = spots[text]
        near = [*spot.taken, *(box for box in held if _gap(spot.at, box) < _NEAR)]
        label = _label(text, spot, ground, near, strokes, numbers)
        if label is None:
            return found, text
        words, leader = found[text] = label
        held.append(text_box(words))
        numbers.append(text_box(words).grown(_OF_OTHERS))
        strokes += _strokes(leader)
    return found, ""


def _crowd(at: Point, texts: Mapping[str, Point]) -> int:
    return sum(math.dist(at, other) < _CROWD for other in texts.values())


def _gap(at: Point, box: Box) -> float:
    """How far a point is from a box."""
    x, y = at
    across = box.left - x if x < box.left else x - box.right if x > box.right else 0.0
    down = box.top - y if y < box.top else y - box.bottom if y > box.bottom else 0.0
    return math.hypot(across, down)


def _strokes(leader: Sequence[Line]) -> list[Stroke]:
    return [Stroke((each.x1, each.y1), (each.x2, each.y2)) for each in leader]


def _label(
    text: str,
    spot: Spot,
    ground: Ground,
    taken: Sequence[Box],
    strokes: Sequence[Stroke],
    numbers: Sequence[Box],
) -> Label | None:
    """The text at its first free place round the dot; with a line to it where that is farther."""
    at, rivals = spot.at, spot.rivals
    for words, leader in _places(text, at, ground):
        box = text_box(words)
        if not ground.frame.holds(box):
            continue
        near = _gap(at, box) * _NEARER
        if not leader and any(_gap(dot, box) < near for dot in rivals):
            continue
        lines = _strokes(leader)
        if (
            _free(box, lines, taken, strokes)
            and not any(stroke.enters(box.grown(_OF_OTHERS)) for stroke in strokes)
            and not any(line.enters(number) for line in lines for number in numbers)
        ):
            return words, leader
    return None


def _places(text: str, at: Point, ground: Ground) -> Iterator[Label]:
    """Where the text may stand, the best first."""
    first, lines = _outwards(at, ground.outwards), ground.size / 12
    for step, away in enumerate(_AWAY):
        for turn in _TURNS:
            across, up = math.sin(first + turn), math.cos(first + turn)
            far = ground.dot + _CLEAR + 0.05 + (1.0 + 1.5 * abs(up)) * lines + away
            x, y = at[0] + far * across, at[1] - far * up
            leader = _leader(at, (x, y), ground) if step > _LED else ()
            yield _standing(text, x, y, across, ground.size), leader


def _outwards(at: Point, middle: Point | None) -> float:
    """The clock angle of the way out, in radians from the top."""
    if middle is None or math.dist(at, middle) < 1e-6:
        return 0.0
    return math.atan2(at[0] - middle[0], middle[1] - at[1])


def _free(
    box: Box, lines: Sequence[Stroke], taken: Sequence[Box], strokes: Sequence[Stroke]
) -> bool:
    clear = box.grown(_CLEAR)
    return (
        not any(clear.overlaps(other) for other in taken)
        and not any(line.crosses(other) for line in lines for other in strokes)
        and not any(line.enters(other) for line in lines for other in taken)
    )


def _standing(text: str, x: float, y: float, side: float, size: float) -> Words:
    base = centred_baseline(y, size)
    anchor = "start" if side > 0.3 else "end" if side < -0.3 else "middle"
    return Words(x, base, text, size, True, anchor)  # type: ignore[arg-type]


def _leader(at: Point, to: Point, ground: Ground) -> tuple[Line, ...]:
    """From beside the dot to beside the number."""
    far = math.dist(at, to)
    ux, uy = (to[0] - at[0]) / far, (to[1] - at[1]) / far
    start = (at[0] + ux * (ground.dot + 0.3), at[1] + uy * (ground.dot + 0.3))
    return (Line(*start, to[0] - ux * 0.8, to[1] - uy * 2.0 * ground.size / 9, 0.18),)
