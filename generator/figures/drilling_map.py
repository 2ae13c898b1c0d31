"""A circle or a rectangle of fasteners as a sheet's rows give it, in; its hole centres at 1:1, out.

Every hole is a cross with its number. The positions are those of the map that is ticked at the
bench: same view, same number 1, same way round.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from generator.figures.circle_map import asked_for as asked_for_circle
from generator.figures.full_size import CHAIN, THIN, Check, FullSize, arc, millimetres, patterned
from generator.figures.lettering import centred_baseline
from generator.figures.picture import Line, Mark, Outline, Point, Words
from generator.figures.placed_map import asked_for as asked_for_places
from generator.figures.rectangle_map import Asked
from generator.figures.rectangle_map import asked_for as asked_for_rectangle
from generator.findings import Refusal

NUMBER = 12.0  # points
ARM = 5.0  # of a hole's cross, from its middle
BESIDE = 9.0  # from a hole to the middle of its number
MARGIN = 14.0  # from the outermost hole to the edge of the drawing
LEAST_APART = 10.0  # nearer holes leave no room for numbers
SMALL = 9.0
ROOMY = 30.0  # a shorter datum line has no room for words
TITLE = "Drilling map"
_CROSS = "Each cross is the centre of a hole. Prick its middle."


def drilling_circle(rows: Mapping[str, str]) -> FullSize:
    """The hole centres of a circle of fasteners, about a centre that is marked."""
    asked = asked_for_circle(rows)
    if not asked.pitch_circle:
        raise Refusal("figure", "a circle without its pitch circle", "pitch circle: 640 mm")
    radius = millimetres(asked.pitch_circle) / 2
    _apart(2 * radius * math.sin(math.pi / asked.count))
    side = 2 * (radius + MARGIN)
    middle = (side / 2, side / 2)
    numbers = range(1, asked.count + 1)
    marks: list[Mark] = [*_centre(middle, radius)]
    for number in numbers:
        angle = asked.angle(number)
        at = _polar(middle, radius, angle)
        step = asked.turn * 2 * math.pi / asked.count
        marks.append(Outline(arc(middle, radius, angle, step), THIN))
        marks += _cross(at, angle)
        marks.append(_number(_polar(middle, radius + BESIDE, angle), number))
    size = f"{_holes(asked.count, asked.item)} on a pitch circle of {asked.pitch_circle}"
    view = f"looking {asked.looking}, numbered {asked.numbering}, number 1 at {asked.first}"
    far = asked.count // 2
    chord = 2 * radius * math.sin(math.pi * far / asked.count)
    checks = (Check(f"middle of hole 1 to middle of hole {1 + far}", chord),)
    return FullSize(TITLE, size, view, side, side, tuple(marks), checks, (_CROSS,))


def drilling_rectangle(rows: Mapping[str, str]) -> FullSize:
    """The hole centres of a rectangle of fasteners, from the two datum lines of number 1."""
    asked = asked_for_rectangle(rows)
    across, down = _pitch(asked, 0, asked.columns), _pitch(asked, 1, asked.rows)
    _apart(min(across or down, down or across))
    places = {n: _place(asked, n, across, down) for n in range(1, asked.count + 1)}
    width = across * (asked.columns - 1) + 2 * MARGIN
    height = down * (asked.rows - 1) + 2 * MARGIN
    marks: list[Mark] = [*_datum_lines(places[1], width, height)]
    for number, at in places.items():
        marks += _cross(at, 0.0)
        marks.append(_number((at[0] + 4.2, at[1] - 4.2), number))
    size = (
        f"{_holes(asked.count, asked.item)}, {asked.rows} rows of {asked.columns}{_pitches(asked)}"
    )
    view = f"looking {asked.looking}, numbered row by row, number 1 at {asked.first}"
    checks = _spans(asked, across, down)
    notes = (_CROSS, "Both datum lines run through number 1.")
    return FullSize(TITLE, size, view, width, height, tuple(marks), checks, notes)


def drilling_placed(rows: Mapping[str, str]) -> FullSize:
    """The hole centres of fasteners by their places, from the two datum lines."""
    asked = asked_for_places(rows)
    xs = [0.0, *(x for x, _ in asked.places.values())]
    ups = [0.0, *(up for _, up in asked.places.values())]
    width, height = max(xs) - min(xs) + 2 * MARGIN, max(ups) - min(ups) + 2 * MARGIN
    places = {
        n: (MARGIN + x - min(xs), MARGIN + max(ups) - up) for n, (x, up) in asked.places.items()
    }
    numbers = sorted(places)
    _apart(min(math.dist(places[a], places[b]) for a in numbers for b in numbers if a < b))
    marks: list[Mark] = [*_datum_lines((MARGIN - min(xs), MARGIN + max(ups)), width, height)]
    for number, at in places.items():
        marks += _cross(at, 0.0)
        marks.append(_number((at[0] + 4.2, at[1] - 4.2), number))
        if number in asked.marks:
            marks.append(Words(at[0] + 1.4, at[1] + 4.6, asked.marks[number], SMALL))
    far = max(numbers[1:], key=lambda n: math.dist(places[1], places[n]))
    checks = (
        Check(f"middle of hole 1 to middle of hole {far}", math.dist(places[1], places[far])),
    )
    notes = (_CROSS, f"The datum lines cross at: {asked.datum}.")
    size = f"{_holes(asked.count, asked.item)}, by their places"
    view = f"looking {asked.looking}, numbered as listed"
    return FullSize(TITLE, size, view, width, height, tuple(marks), checks, notes)


def _holes(count: int, item: str) -> str:
    return f"{count} holes for {item}" if item else f"{count} holes"


def _pitches(asked: Asked) -> str:
    across, down = asked.pitches
    said = f", pitch across {across}" if asked.columns > 1 else ""
    return f"{said}, pitch down {down}" if asked.rows > 1 else said


def _spans(asked: Asked, across: float, down: float) -> tuple[Check, ...]:
    """From number 1 to the end of its row, and to the hole of the last row over or under it."""
    last, corner = asked.columns, asked.columns * (asked.rows - 1) + 1
    ends = ((last, across * (last - 1)), (corner, down * (asked.rows - 1)))
    return tuple(Check(f"middle of hole 1 to middle of hole {n}", far) for n, far in ends if far)


def _pitch(asked: Asked, which: int, count: int) -> float:
    """The pitch across or down in millimetres; 0 where there is one row or column alone."""
    if count == 1:
        return 0.0
    way = ("pitch across", "pitch down")[which]
    if not asked.pitches[which]:
        raise Refusal("figure", f"a rectangle without its {way}", f"{way}: 40 mm")
    return millimetres(asked.pitches[which])


def _place(asked: Asked, number: int, across: float, down: float) -> Point:
    row, column = divmod(number - 1, asked.columns)
    row = row if asked.from_top else asked.rows - 1 - row
    column = column if asked.from_left else asked.columns - 1 - column
    return MARGIN + across * column, MARGIN + down * row


def _apart(least: float) -> None:
    if least < LEAST_APART:
        wrong = f"holes {least:.1f} mm apart leave no room for their numbers"
        raise Refusal("figure", wrong, f"at least {LEAST_APART:g} mm at full size")


def _polar(middle: Point, radius: float, angle: float) -> Point:
    return middle[0] + radius * math.sin(angle), middle[1] - radius * math.cos(angle)


def _cross(at: Point, angle: float) -> Iterator[Mark]:
    """A hole's centre: two strokes, one along the radius."""
    for turn in (angle, angle + math.pi / 2):
        yield Line(*_polar(at, ARM, turn), *_polar(at, -ARM, turn), THIN)


def _number(middle: Point, number: int) -> Words:
    x, y = middle
    return Words(x, centred_baseline(y, NUMBER), str(number), NUMBER, True, "middle")


def _centre(middle: Point, radius: float) -> Iterator[Mark]:
    """The two datum lines through the centre, up to the crosses."""
    x, y = middle
    reach = radius - ARM - 2.0
    for dx, dy in ((0, -1), (1, 0), (0, 1), (-1, 0)):
        yield from patterned(
            middle, (x + dx * max(4.0, reach), y + dy * max(4.0, reach)), CHAIN, THIN
        )
    if reach >= ROOMY:
        yield Words(x + 3.0, y - 2.0, "CENTRE", SMALL, True)
        yield Words(x + 2.0, y - reach + 5.0, "TOP", SMALL, True)
        yield Words(x + 2.0, y - reach + 9.0, "DATUM", SMALL)
        yield Words(x - reach + 2.0, y - 2.0, "DATUM", SMALL)


def _datum_lines(one: Point, width: float, height: float) -> Iterator[Mark]:
    """The lines through number 1, from edge to edge."""
    x, y = one
    yield from patterned((0.0, y), (width, y), CHAIN, THIN)
    yield from patterned((x, 0.0), (x, height), CHAIN, THIN)
    yield Words(1.0, y + 4.5, "DATUM", SMALL)
