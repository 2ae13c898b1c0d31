"""A section by its ordinates or by points in order, in; ordinates elsewhere, inside, girth, out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives, listed
from generator.calculations import line_again
from generator.calculations.line_again import again, by_chords, chords, fine_places, normal
from generator.calculations.section_sides import (
    PLACES,
    in_order,
    inside_girth,
    room_for,
    side_of,
    sound,
)
from generator.calculations.sections import Skin
from generator.curve import Curve, Point, beside, girth, halved, through
from generator.findings import Refusal
from generator.quantities.amount import Amount

SPLINE = "cubic spline over the chords, ends not a knot (any text on splines; from memory)"
NOT_COVERED = (
    "what lies between two points: a line that turns sharply there needs more of them, closest at "
    "the nose; ordinates that were read or printed wrong"
)
MOVED = "moved by the skin square to the line"

Across = Annotated[
    Amount, given("y", "mm", "across from the datum line", at_least="-3000", at_most="3000")
]
Up = Annotated[Amount, given("z", "mm", "up from the datum line", at_least="-3000", at_most="3000")]
SIDES = ("below", "above", "left", "right", "within")
In = Annotated[str, choice("on which side of the line the inside lies", *SIDES)]


@dataclass(frozen=True)
class Drawn:
    """One station of a table of ordinates."""

    at: Annotated[Amount, given("x", "mm", "station", at_least="0", at_most="6000")]
    upper: Annotated[Amount, given("y_u", "mm", "upper ordinate", at_least="-1000", at_most="1000")]
    lower: Annotated[Amount, given("y_l", "mm", "lower ordinate", at_least="-1000", at_most="1000")]


@dataclass(frozen=True)
class Read:
    """Both surfaces at one station."""

    at: Annotated[Amount, gives("x", "mm", "station", to="0.01")]
    upper: Annotated[Amount, gives("y_u", "mm", "upper, up", to="0.01")]
    lower: Annotated[Amount, gives("y_l", "mm", "lower, up", to="0.01")]


@dataclass(frozen=True)
class FromTable:
    """A section that was drawn by a table."""

    ordinates: Annotated[tuple[Read, ...], listed("ordinates of the section")]
    girth_upper: Annotated[
        Amount, gives("g_u", "mm", "girth of the mould line, nose to end, upper", to="0.1")
    ]
    girth_lower: Annotated[
        Amount, gives("g_l", "mm", "girth of the mould line, nose to end, lower", to="0.1")
    ]


@dataclass(frozen=True)
class Placed:
    """A point of a section."""

    across: Across
    up: Up


@dataclass(frozen=True)
class Moved:
    """A point of the inside."""

    across: Annotated[Amount, gives("y", "mm", "inside, across", to="0.01")]
    up: Annotated[Amount, gives("z", "mm", "inside, up", to="0.01")]


@dataclass(frozen=True)
class Lined:
    """A section by points, and its inside."""

    inside: Annotated[tuple[Moved, ...], listed("inside of the section")]
    girth: Annotated[Amount, gives("g", "mm", "girth of the mould line, first to last", to="0.1")]
    girth_inside: Annotated[
        Amount, gives("g_i", "mm", "girth of the inside, first to last", to="0.1")
    ]


# --- a section by its ordinates ----------------------------------------------------------------


def _around(rows: Sequence[Any]) -> list[Point]:
    """From the upper end over the nose to the lower end."""
    upper = [(r.at, r.upper) for r in reversed(rows)]
    return upper + [(r.at, r.lower) for r in rows[1:]]


def _sound_table(rows: Sequence[Any]) -> None:
    in_order([row.at for row in rows])
    if len(rows) < 4:
        raise Refusal("range", f"{len(rows)} stations", "four or more, the nose first")
    if rows[0].upper != rows[0].lower:
        wrong = "the first station has two ordinates"
        raise Refusal("range", wrong, "the nose first: upper and lower alike")
    for row in rows[1:]:
        if row.upper < row.lower:
            wrong = f"station {1000 * row.at:g} mm: upper and lower cross"
            raise Refusal("range", wrong, "upper above lower, with the right signs")


def _at_station(curve: Curve, nose: float, x: float, upper: bool, skin: float) -> float:
    """The ordinate of one side. Refusal where the inside has none."""

    def place(t: float) -> Point:
        return beside(curve, t, skin) if skin else curve.at(t)

    end = curve.ends[0 if upper else 1]
    told = "upper" if upper else "lower"
    knots = [t for t in curve.x.knots if (t <= nose if upper else t >= nose)]
    way = [
        a + (b - a) * k / PLACES for a, b in itertools.pairwise(knots) for k in range(PLACES)
    ] + [knots[-1]]
    way = way if upper else way[::-1]
    if x == curve.x.at(nose) and not skin:
        return curve.y.at(nose)
    last = place(end)[0]
    if x > last + 1e-12:
        wrong = f"station {1000 * x:g} mm: the {told} line ends at {1000 * last:.2f} mm"
        raise Refusal("range", wrong, "stations up to there; nothing is carried on beyond an end")
    along = [place(t)[0] for t in way]
    begins = min(along)
    for k, (before, after) in enumerate(itertools.pairwise(along[: along.index(begins) + 1])):
        if after >= before:
            wrong = f"the {told} line folds back behind station {1000 * after:.1f} mm"
            raise Refusal("range", wrong, "more points there, or the right stations")
        if after <= x:
            return place(halved(lambda t: place(t)[0] - x, way[k + 1], way[k]))[1]
    wrong = f"station {1000 * x:g} mm: the {told} line begins at {1000 * begins:.2f} mm"
    raise Refusal("range", wrong, "stations from there on; nothing is carried on beyond an end")


def _table_again(table: Any, stations: Sequence[float], skin: float) -> FromTable:
    """The same line by its second derivatives, read between neighbouring points."""
    points = [complex(*p) for p in _around(table)]
    knots = by_chords(points)
    at = again(knots, points)
    nose = knots[len(table) - 1]
    places = fine_places(knots)
    upper = [at(t) + skin * normal(at, t, knots) for t in places if t <= nose + 1e-12][::-1]
    lower = [at(t) + skin * normal(at, t, knots) for t in places if t >= nose - 1e-12]
    made: Any = Read
    read = [made(x, _height(upper, x, skin), _height(lower, x, skin)) for x in stations]
    lengths = (chords(at, knots[: len(table)]), chords(at, knots[len(table) - 1 :]))
    whole: Any = FromTable
    found: FromTable = whole(tuple(read), *lengths)
    return found


def _height(points: Sequence[complex], x: float, skin: float) -> float:
    """The height of one side, on its points from the nose on: behind the last that lies before."""
    if not skin and x == points[0].real:
        return points[0].imag
    k = max(k for k, p in enumerate(points) if p.real <= x + 1e-12)
    return line_again.read(points[max(k - 2, 0) : k + 4], x)


TABLE = [
    {"at": "0 mm", "upper": "0 mm", "lower": "0 mm"},
    {"at": "50 mm", "upper": "49 mm", "lower": "-22 mm"},
    {"at": "200 mm", "upper": "75 mm", "lower": "-40 mm"},
    {"at": "1000 mm", "upper": "0 mm", "lower": "0 mm"},
]


@calculation(
    source=SPLINE,
    not_covered=NOT_COVERED,
    method=f"{SPLINE.partition(' (')[0]}, from the upper end over the nose to the lower end; "
    f"{MOVED}; the point at a station by halving; girth by five places (Gauss), four a span",
    second=Second(_table_again, "0.01 mm", "the spline by its second derivatives, as points"),
    examples=(
        Example(
            {"table": TABLE, "stations": ["50 mm", "200 mm"], "skin": "0 mm"},
            {"ordinates.1.upper": "49 mm", "ordinates.2.lower": "-40 mm"},
            "visible arithmetic: the line passes through the points that it was given",
            within="0.001 mm",
        ),
    ),
)
def section_by_ordinates(
    table: tuple[Drawn, ...],
    stations: Annotated[
        tuple[Amount, ...], given("s", "mm", "wanted station", at_least="0", at_most="6000")
    ],
    skin: Skin,
) -> FromTable:
    """Section from a table of ordinates: ordinates at other stations, the inside of a skin, girth.

    The first station is the nose; nothing is carried on beyond the last.
    """
    numbers: Any = (table, stations, skin)
    rows, wanted, thick = numbers
    _sound_table(rows)
    in_order(wanted)
    points = _around(rows)
    sound(points, "the section")
    curve = through(points)
    room_for(curve, 1, thick, "the section")
    nose = curve.x.knots[len(rows) - 1]
    made, whole = _makers()
    read = []
    for x in wanted:
        heights = [_at_station(curve, nose, x, upper, thick) for upper in (True, False)]
        if heights[0] < heights[1] - 1e-9:
            wrong = f"station {1000 * x:g} mm: upper and lower cross"
            raise Refusal("range", wrong, "stations further forward, or a thinner skin")
        read.append(made(x, *heights))
    split = len(rows) - 1
    return whole(tuple(read), _part(curve, 0, split), _part(curve, split, len(points) - 1))


def _makers() -> tuple[Callable[..., Read], Callable[..., FromTable]]:
    return Read, FromTable


def _part(curve: Curve, first: int, last: int) -> float:
    """The girth between two of the points."""
    part = slice(first, last + 1)
    x, y = (type(c)(c.knots[part], c.values[part], c.slopes[part]) for c in (curve.x, curve.y))
    return girth(Curve(x, y))


# --- a section by points in order --------------------------------------------------------------


def _line_again(points: Any, inside: str, skin: float) -> Lined:
    """The same line by its second derivatives; its inside square to neighbouring points."""
    placed = [complex(p.across, p.up) for p in points]
    knots = by_chords(placed)
    at = again(knots, placed)
    first, last = placed[0], placed[-1]
    if inside == "within":
        ring = zip(placed, [*placed[1:], first], strict=True)
        hand = math.copysign(1, sum((a.conjugate() * b).imag for a, b in ring))
    else:
        way = {"below": -1j, "above": 1j, "left": -1, "right": 1}[inside]
        hand = math.copysign(1, (way * ((last - first) * 1j).conjugate()).real)
    moved = [at(t) + hand * skin * normal(at, t, knots) for t in fine_places(knots)]
    made: Any = Moved
    rows = tuple(made(p.real, p.imag) for p in moved[:: line_again.FINE])
    fine, coarse = (
        sum(abs(b - a) for a, b in itertools.pairwise(each)) for each in (moved, moved[::2])
    )
    whole: Any = Lined
    found: Lined = whole(rows, chords(at, knots), fine + (fine - coarse) / 3)
    return found


ARCH = [
    {"across": "-30 mm", "up": "0 mm"},
    {"across": "0 mm", "up": "20 mm"},
    {"across": "30 mm", "up": "0 mm"},
]


@calculation(
    source=SPLINE,
    not_covered=NOT_COVERED + "; the slope of a tapered skin along the part, for which see loft",
    method=f"{SPLINE.partition(' (')[0]}; {MOVED}; girth by five places (Gauss), four a span; the "
    "inside is longer or shorter by the skin times the angle through which the line turns",
    second=Second(_line_again, "0.01 mm", "the spline by its second derivatives, as points"),
    examples=(
        Example(
            {"points": ARCH, "inside": "below", "skin": "1.2 mm"},
            {"inside.2.across": "0 mm", "inside.2.up": "18.8 mm"},
            "visible arithmetic: at the crown the inside lies a skin below, 20 - 1.2 mm",
            within="0.001 mm",
        ),
    ),
)
def section_by_points(points: tuple[Placed, ...], inside: In, skin: Skin) -> Lined:
    """Section by points in order: the inside of a skin square to the line, and the girth of both.

    Refused where the radius of the line, on the inside, is less than the skin is thick.
    """
    thick: Any = skin
    placed: Any = [(p.across, p.up) for p in points]
    sound(placed, "the section")
    side = side_of(placed, inside)
    curve = through(placed)
    room_for(curve, side, thick, "the section")
    made: Any = Moved
    rows = tuple(made(*beside(curve, t, side * thick)) for t in curve.x.knots)
    whole: Any = Lined
    found: Lined = whole(rows, girth(curve), inside_girth(curve, side, thick))
    return found
