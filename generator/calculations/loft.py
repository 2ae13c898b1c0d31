"""Sections at a few stations, point by point, in; the line of a former at any station between, out.

Points of one number lie on one line along the part. At every station the smooth line through them
is the section; the inside of a skin lies square to the surface, its slope along the part included.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any, NamedTuple

from generator.calculation import Example, Second, calculation, choice, given, gives, listed, word
from generator.calculations.fairing import ReadTo, changes, differences
from generator.calculations.line_again import again, by_chords, chords, normal
from generator.calculations.section_points import SPLINE, Across, In, Up
from generator.calculations.section_sides import in_order, room_for, side_of, sound
from generator.calculations.sections import Skin
from generator.curve import Cubic, Point, cubic, girth, left, through
from generator.findings import Refusal
from generator.quantities.amount import Amount

HANDS = ("PORT", "STBD", "none")
MOULD, INSIDE = "mould line", "inside of skin"
_LARGEST = 0.5  # slope along the part up to which a skin is moved in the plane of its station


@dataclass(frozen=True)
class LoftPoint:
    """A point of a given section."""

    at: Annotated[Amount, given("x", "mm", "station", at_least="-20000", at_most="20000")]
    across: Across
    up: Up


Stations = Annotated[
    tuple[Amount, ...], given("s", "mm", "wanted station", at_least="-20000", at_most="20000")
]
Taper = Annotated[str, choice("lines along the part", "curved", "straight")]
Hand = Annotated[str, choice("hand of the points", *HANDS)]
WantedHand = Annotated[str, choice("hand wanted", *HANDS)]
GivenLine = Annotated[str, choice("what the points are", MOULD, INSIDE, otherwise=MOULD)]
VIEWS = ("forward", "aft", "up", "down", "inboard", "outboard")
Looking = Annotated[str, choice("the sections are seen looking", *VIEWS)]


@dataclass(frozen=True)
class Lofted:
    """A point of the line of a former."""

    at: Annotated[Amount, gives("x", "mm", "station", to="0.1")]
    across: Annotated[Amount, gives("y", "mm", "across", to="0.01")]
    up: Annotated[Amount, gives("z", "mm", "up", to="0.01")]


@dataclass(frozen=True)
class Girthed:
    """How long the line of a former is."""

    at: Annotated[Amount, gives("x", "mm", "station", to="0.1")]
    girth: Annotated[Amount, gives("g", "mm", "girth of the given line", to="0.1")]


@dataclass(frozen=True)
class Loft:
    """The lines of all formers, and what is to be known of them."""

    ordinates: Annotated[tuple[Lofted, ...], listed("ordinates of the formers")]
    girths: Annotated[tuple[Girthed, ...], listed("girths at the stations")]
    hand: Annotated[str, word("hand", "hand of the ordinates")]
    line: Annotated[str, word("line", "what the line is")]
    unfair: Annotated[str, word("unfair", "second difference changes its sign at")]


class Given(NamedTuple):
    """The given sections: their stations, and for each its points."""

    stations: list[float]
    sections: list[list[Point]]


def _sections(points: Sequence[Any]) -> Given:
    """The sections; refusal where they are not sound or do not go together."""
    groups = [(at, list(each)) for at, each in itertools.groupby(points, key=lambda p: p.at)]
    stations = [at for at, _ in groups]
    in_order(stations)
    if len(stations) < 2:
        raise Refusal("range", f"{len(stations)} section", "sections at two stations or more")
    sections = [[(p.across, p.up) for p in each] for _, each in groups]
    for at, section in zip(stations, sections, strict=True):
        if len(section) != len(sections[0]):
            wrong = f"{_named(at)} has {len(section)} points, the first has {len(sections[0])}"
            raise Refusal("range", wrong, "as many points in every section, on the same lines")
        sound(section, _named(at))
    for at, (one, other) in zip(stations[1:], itertools.pairwise(sections), strict=True):
        if _against(one, other):
            wrong = f"{_named(at)} runs against the one before: their lines cross"
            raise Refusal("range", wrong, "points of every section in the same order")
    return Given(stations, sections)


def _named(at: float) -> str:
    return f"the section at {1000 * at:g} mm"


def _against(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether the points of one section lie nearer to those of the other in reversed order."""
    straight = sum(math.dist(a, b) ** 2 for a, b in zip(one, other, strict=True))
    reversed_ = sum(math.dist(a, b) ** 2 for a, b in zip(one, other[::-1], strict=True))
    return straight > reversed_ * (1 + 1e-9)


def _between(given: Given, wanted: Sequence[float]) -> None:
    """Refusal of stations beyond the ends, and out of order."""
    in_order(wanted)
    first, last = given.stations[0], given.stations[-1]
    for at in wanted:
        if not first - 1e-9 <= at <= last + 1e-9:
            wrong = f"station {1000 * at:g} mm lies beyond the end stations"
            raise Refusal("range", wrong, f"{1000 * first:g} to {1000 * last:g} mm")


class Way(NamedTuple):
    """One line along the part: across and up over the station, and whether it is in pieces."""

    across: Cubic
    up: Cubic
    stations: Sequence[float]
    points: Sequence[Point]
    straight: bool

    def at(self, x: float) -> Point:
        if not self.straight:
            return self.across.at(x), self.up.at(x)
        k, share = self._piece(x)
        a, b = self.points[k], self.points[k + 1]
        return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])

    def slope(self, x: float) -> Point:
        """How it runs; of two straight pieces that meet, the mean."""
        if not self.straight:
            return self.across.first(x), self.up.first(x)
        k, share = self._piece(x)
        slopes = [self._slope(k)]
        if share <= 1e-9 and k > 0:
            slopes.append(self._slope(k - 1))
        return sum(s[0] for s in slopes) / len(slopes), sum(s[1] for s in slopes) / len(slopes)

    def _piece(self, x: float) -> tuple[int, float]:
        before = [k for k, at in enumerate(self.stations[:-1]) if at <= x + 1e-12]
        k = before[-1] if before else 0
        return k, (x - self.stations[k]) / (self.stations[k + 1] - self.stations[k])

    def _slope(self, k: int) -> Point:
        wide = self.stations[k + 1] - self.stations[k]
        a, b = self.points[k], self.points[k + 1]
        return (b[0] - a[0]) / wide, (b[1] - a[1]) / wide


def _ways(given: Given, straight: bool) -> list[Way]:
    found = []
    for points in zip(*given.sections, strict=True):
        across, up = (cubic(given.stations, [p[i] for p in points]) for i in (0, 1))
        found.append(Way(across, up, given.stations, points, straight))
    return found


class Former(NamedTuple):
    """One station: its mould line and the points of the line that is wanted."""

    at: float
    girth: float
    points: list[Point]


def _former(ways: Sequence[Way], at: float, side: int, skin: float) -> Former:
    """The line of one former, moved in by the skin."""
    placed = [way.at(at) for way in ways]
    sound(placed, _named(at))
    curve = through(placed)
    deepest = 0.0
    points = []
    for way, knot, (x, y) in zip(ways, curve.x.knots, placed, strict=True):
        (nx, ny), (sx, sy) = left(curve, knot), way.slope(at)
        sloped = sx * nx + sy * ny
        if skin and abs(sloped) > _LARGEST:
            wrong = f"{_named(at)}: the surface slopes {abs(sloped):.2f} along the part"
            raise Refusal("range", wrong, f"at most {_LARGEST} for the inside of a skin")
        away = side * skin * math.sqrt(1 + sloped * sloped)
        deepest = max(deepest, abs(away))
        points.append((x + away * nx, y + away * ny))
    room_for(curve, side, deepest, _named(at))
    return Former(at, girth(curve), points)


def told_hand(hand: str, wanted: str) -> tuple[str, bool]:
    """What the hand of the result is called, and whether it is mirrored."""
    if hand == wanted:
        return hand, False
    if "none" in (hand, wanted):
        wrong = f"points of hand {hand}, wanted {wanted}"
        raise Refusal("range", wrong, "PORT or STBD for both, or none for both")
    return f"{wanted}, mirrored from {hand}", True


def _unfair(given: Given, read_to: float) -> str:
    """Where the second difference of any line changes its sign, by point and given station."""
    found = []
    for n, points in enumerate(zip(*given.sections, strict=True), 1):
        for i, called in ((0, "across"), (1, "up")):
            second = differences(given.stations, [p[i] for p in points])[1]
            turns = changes(second, read_to)
            found += [f"point {n} {called} at station no. {k + 2}" for k in turns]
    shown = found[:12] + ([f"and {len(found) - 12} more"] if len(found) > 12 else [])
    return "; ".join(shown) or "none"


# --- the second method -------------------------------------------------------------------------


def _loft_again(
    points: Any, stations: Sequence[float], taper: str, inside: str, skin: float, hand: str,
    wanted_hand: str, read_to: float, given_line: str,
) -> Loft:  # fmt: skip
    """Lines and sections by their second derivatives; the inside by normals in space."""
    groups = [list(each) for _, each in itertools.groupby(points, key=lambda p: p.at)]
    knots = [each[0].at for each in groups]
    lines = [[complex(p.across, p.up) for p in row] for row in zip(*groups, strict=True)]
    ways = [_straight(knots, line) if taper == "straight" else again(knots, line) for line in lines]
    over = wanted_hand != hand
    rows, girths = [], []
    made: Any = Lofted
    measured: Any = Girthed
    for at in stations:
        placed = [way(at) for way in ways]
        passed = by_chords(placed)
        section = again(passed, placed)
        turn = _hand([lines[k][0] for k in range(len(lines))], inside)
        for way, t, point in zip(ways, passed, placed, strict=True):
            step = 1e-6
            ahead = (way(min(at + step, knots[-1])), min(at + step, knots[-1]))
            behind = (way(max(at - step, knots[0])), max(at - step, knots[0]))
            slope = (ahead[0] - behind[0]) / (ahead[1] - behind[1])
            square = normal(section, t, passed)
            tilt = math.atan((slope * square.conjugate()).real)
            moved = point + turn * skin / math.cos(tilt) * square
            rows.append(made(at, -moved.real if over else moved.real, moved.imag))
        girths.append(measured(at, chords(section, passed)))
    line = given_line if skin == 0 else INSIDE
    called = f"{wanted_hand}, mirrored from {hand}" if over else hand
    whole: Any = Loft
    unfair = _signs(knots, lines, read_to)
    found: Loft = whole(tuple(rows), tuple(girths), called, line, unfair)
    return found


def _straight(knots: Sequence[float], line: Sequence[complex]) -> Any:
    def at(x: float) -> complex:
        k = sum(knot <= x for knot in knots[1:-1])
        share = (x - knots[k]) / (knots[k + 1] - knots[k])
        return (1 - share) * line[k] + share * line[k + 1]

    return at


def _hand(section: Sequence[complex], inside: str) -> float:
    if inside == "within":
        ring = zip(section, [*section[1:], section[0]], strict=True)
        return math.copysign(1, sum((a.conjugate() * b).imag for a, b in ring))
    way = {"below": -1j, "above": 1j, "left": -1, "right": 1}[inside]
    return math.copysign(1, (way * ((section[-1] - section[0]) * 1j).conjugate()).real)


def _signs(knots: Sequence[float], lines: Sequence[Sequence[complex]], read_to: float) -> str:
    """Where bends change sign, by divided differences about each station."""
    mean = (knots[-1] - knots[0]) / (len(knots) - 1)
    found = []
    for n, line in enumerate(lines, 1):
        for called in ("across", "up"):
            values = [p.real if called == "across" else p.imag for p in line]
            before = 0.0
            for k in range(1, len(knots) - 1):
                a, b, c = knots[k - 1 : k + 2]
                bend = (
                    values[k - 1] / ((a - b) * (a - c)) + values[k] / ((b - a) * (b - c))
                    + values[k + 1] / ((c - a) * (c - b))
                )  # fmt: skip
                bend *= 2 * mean * mean
                if abs(bend) <= 2 * read_to * (1 + 1e-9):
                    continue
                if before * bend < 0:
                    found.append(f"point {n} {called} at station no. {k + 1}")
                before = bend
    shown = found[:12] + ([f"and {len(found) - 12} more"] if len(found) > 12 else [])
    return "; ".join(shown) or "none"


ARCHES = [
    {"at": f"{x} mm", "across": f"{y} mm", "up": f"{z} mm"}
    for x, y, z in (
        (0, -40, 0), (0, 0, 30), (0, 40, 0), (200, -50, 0), (200, 0, 40), (200, 50, 0),
    )
]  # fmt: skip


@calculation(
    source=f"{SPLINE}; inside of a skin T along the surface normal, T √(1 + m²) in the plane of "
    "the station, m its slope (geometry)",
    not_covered="what lies between two sections or two points that nobody gave; knuckles and "
    "chines, which need an end there; thickness that changes; a surface that slopes more than 0.5 "
    "along the part; a single change of sign that the drawing wants",
    method="a cubic spline, or straight pieces, along each line of points; at every station a "
    "cubic spline over the chords; moved by T √(1 + m²) square to it; second differences over the "
    "mean spacing, twice the reading step counting as none",
    second=Second(_loft_again, "0.01 mm", "splines by second derivatives, normals by differences"),
    examples=(
        Example(
            {
                "points": ARCHES,
                "stations": ["0 mm", "50 mm", "200 mm"],
                "taper": "straight",
                "inside": "below",
                "skin": "0 mm",
                "hand": "none",
                "wanted_hand": "none",
                "looking": "aft",
                "read_to": "0.5 mm",
            },
            {"ordinates.5.up": "32.5 mm", "ordinates.6.across": "42.5 mm"},
            "visible arithmetic: a quarter of the way, 30 + 10/4 and 40 + 10/4 mm",
            within="0.001 mm",
        ),
    ),
    figures=("former-templates",),
)
def loft(
    points: tuple[LoftPoint, ...], stations: Stations, taper: Taper, inside: In, skin: Skin,
    hand: Hand, wanted_hand: WantedHand, looking: Looking, read_to: ReadTo,
    given_line: GivenLine,
) -> Loft:  # fmt: skip
    """Loft between sections: the lines of formers at any station between the end stations.

    Every section has as many points as the others, in the same order; points of one number lie on
    one line along the part. Across is to the right in the view. A skin of 0 mm leaves the line as
    it was given, above it the line is the inside of skin. The other hand has every across
    with its sign changed, seen in the same view.
    """
    thick: Any = skin
    wanted: Any = stations
    step: Any = read_to
    if thick and given_line == INSIDE:
        wrong = "points that are the inside of skin are moved in by the skin once more"
        raise Refusal("range", wrong, "skin: 0 mm, or the mould line for the points")
    given_ = _sections(points)
    _between(given_, wanted)
    called, over = told_hand(hand, wanted_hand)
    side = side_of(given_.sections[0], inside)
    for at, section in zip(given_.stations, given_.sections, strict=True):
        if side_of(section, inside) != side:
            raise Refusal("range", f"{_named(at)}: its inside lies elsewhere", "points in order")
    ways = _ways(given_, taper == "straight")
    formers = [_former(ways, at, side, thick) for at in wanted]
    made: Any = Lofted
    measured: Any = Girthed
    rows = tuple(made(f.at, -x if over else x, y) for f in formers for x, y in f.points)
    girths = tuple(measured(f.at, f.girth) for f in formers)
    line = INSIDE if thick else given_line
    return Loft(rows, girths, called, line, _unfair(given_, step))
