"""A NACA designation, a chord and stations in; the ordinates of the section out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, count, given, gives, listed
from generator.calculations.section_again import Laid as LaidOff
from generator.calculations.section_again import laid_again
from generator.calculations.section_shape import (
    CLOSED,
    OPEN,
    Inside,
    Surface,
    five_digit_line,
    four_digit_line,
)
from generator.curve import Point, length, sharpest, spread_over
from generator.findings import Refusal
from generator.quantities.amount import Amount

REPORT_460 = (
    "NACA Report 460 (1933): thickness by its five terms, laid off square to the mean line; "
    "designations of 6 to 25 % thickness, camber to 6 % at 20 to 70 % (range from memory)"
)
REPORT_537 = (
    "NACA Report 537 (1935), mean lines 210 to 250 by m and k₁; thickness as in Report 460 "
    "(range of 6 to 25 % from memory)"
)
NOT_COVERED = (
    "sections that a maker altered; printed tables, which are up to 0.04 % of chord off their own "
    "formula; a closed trailing edge, which takes -0.1036 for the last term, is no NACA section; a "
    "nose other than round"
)
METHOD = (
    "upper surface x = x_c - y_t sin θ, y = y_c + y_t cos θ, lower with the other signs, moved "
    "inwards by the skin square to itself; the point at a station by halving the root of x_c until "
    "nothing changes; girth by five places (Gauss) in each of 200 parts"
)
PUBLISHED = (
    "R. Carmichael, public-domain tables after Abbott & von Doenhoff, Theory of Wing Sections, "
    "app. III (2017)"
)
# NACA Report 537: mean lines whose camber is largest at 5 to 25 % of chord, for a design lift
# coefficient of 0.3: where their curvature ends, and k₁.
SIMPLE = {
    1: (0.0580, 361.4), 2: (0.1260, 51.64), 3: (0.2025, 15.957), 4: (0.2900, 6.643),
    5: (0.3910, 3.230),
}  # fmt: skip

Chord = Annotated[Amount, given("c", "mm", "chord", at_least="50", at_most="6000")]
Along = Annotated[
    tuple[Amount, ...],
    given("s", "%", "station along the chord from the nose", at_least="0", at_most="100"),
]
Edge = Annotated[str, choice("trailing edge", "open", "closed")]
Laid = Annotated[
    str,
    choice("what the stations are", "stations of the chord", "places on the mean line"),
]
Skin = Annotated[
    Amount,
    given("T", "mm", "thickness of the skin", at_least="0", at_most="10"),
]


@dataclass(frozen=True)
class Ordinate:
    """Where the upper and the lower surface are, from the nose along the chord and from it up."""

    along_upper: Annotated[Amount, gives("x_u", "mm", "upper, along", to="0.01")]
    upper: Annotated[Amount, gives("y_u", "mm", "upper, up", to="0.01")]
    along_lower: Annotated[Amount, gives("x_l", "mm", "lower, along", to="0.01")]
    lower: Annotated[Amount, gives("y_l", "mm", "lower, up", to="0.01")]


@dataclass(frozen=True)
class Section:
    """The ordinates of a section, and what a template of it needs besides."""

    ordinates: Annotated[tuple[Ordinate, ...], listed("ordinates of the section")]
    nose: Annotated[Amount, gives("r", "mm", "nose radius of the mould line", to="0.01")]
    slope: Annotated[
        Amount, gives("σ", "", "slope of the radius through the nose, up over along", to="0.0001")
    ]
    edge: Annotated[Amount, gives("e", "mm", "thickness of the trailing edge", to="0.01")]
    girth_upper: Annotated[
        Amount, gives("g_u", "mm", "girth of the mould line, nose to edge, upper", to="0.1")
    ]
    girth_lower: Annotated[
        Amount, gives("g_l", "mm", "girth of the mould line, nose to edge, lower", to="0.1")
    ]


def _worked(
    surface: Surface, chord: float, stations: Sequence[float], laid: str, skin: float
) -> Section:
    """The section, its stations in order."""
    in_order(stations)
    inside = Inside(surface, skin / chord)
    _room_for(inside)
    rows = [_points(inside, s, laid) for s in stations]
    for s, (upper, lower) in zip(stations, rows, strict=True):
        if upper[1] < lower[1] - 1e-9:
            wrong = f"station {s:.3%}: upper and lower skin cross"
            raise Refusal("range", wrong, "stations further forward, or a thinner skin")
    made, whole = _row(chord), _section()
    girths = [_length(surface, sign) * chord for sign in (1.0, -1.0)]
    gap = 2 * surface.half(1.0)[0] * chord
    nose = surface.nose_radius() * chord
    return whole(tuple(made(*each) for each in rows), nose, surface.line.told(0.0)[1], gap, *girths)


def _length(surface: Surface, sign: float) -> float:
    """The length of one side; in two, because its pace changes where the mean line's parts meet."""
    joint = sign * math.sqrt(surface.line.meets)
    return length(surface, 0.0, joint, 100) + length(surface, joint, sign, 100)


def _row(chord: float) -> Callable[[Point, Point], Ordinate]:
    made: Any = Ordinate
    return lambda upper, lower: made(
        upper[0] * chord, upper[1] * chord, lower[0] * chord, lower[1] * chord
    )


def _section() -> Callable[..., Section]:
    return Section


def _points(inside: Inside, station: float, laid: str) -> tuple[Point, Point]:
    if laid == "stations of the chord":
        return inside.ordinate(station, True), inside.ordinate(station, False)
    root = math.sqrt(station)
    return inside.at(root), inside.at(-root)


def _room_for(inside: Inside) -> None:
    """Refusal where the section turns more sharply than a skin of that thickness can."""
    if not inside.skin:
        return
    _, turn = sharpest(inside.surface, -1, spread_over(-1.0, 1.0, 400))
    if turn * inside.skin >= 1:
        wrong = f"the sharpest radius is {1 / turn:.3%} of chord, the skin {inside.skin:.3%}"
        raise Refusal("range", wrong, "a skin thinner than the sharpest radius")


def in_order(stations: Sequence[float]) -> None:
    """Refusal where stations do not follow each other."""
    for before, after in itertools.pairwise(stations):
        if after <= before:
            wrong = f"station {after:.3%} comes after {before:.3%}"
            raise Refusal("range", wrong, "stations in order, each once")


def four_digits(section: int) -> tuple[float, float, float]:
    """Camber, its place and the thickness, as shares of the chord; refuses what is none."""
    camber, place, thick = section // 1000, section // 100 % 10, section % 100
    if not 6 <= thick <= 25:
        raise Refusal("range", f"NACA {section:04d}: thickness {thick} %", "6 to 25 %")
    if camber and not 2 <= place <= 7:
        raise Refusal("range", f"NACA {section:04d}: camber at {place}0 %", "at 20 to 70 %")
    if camber > 6 or (place and not camber):
        raise Refusal("range", f"NACA {section:04d}: camber of {camber} %", "0 0 or 1 to 6 %")
    return camber / 100, place / 10, thick / 100


def five_digits(section: int) -> tuple[float, float, float]:
    """m and k₁ of the mean line, and the thickness; refuses what is none of the simple lines."""
    lift, place, back, thick = (
        section // 10000, section // 1000 % 10, section // 100 % 10, section % 100
    )  # fmt: skip
    if lift != 2 or back != 0 or place not in SIMPLE:
        wrong = f"NACA {section}: mean line {section // 100}"
        raise Refusal("range", wrong, "210, 220, 230, 240 or 250; others need a table of ordinates")
    if not 6 <= thick <= 25:
        raise Refusal("range", f"NACA {section}: thickness {thick} %", "6 to 25 %")
    return (*SIMPLE[place], thick / 100)


# --- the second method -------------------------------------------------------------------------


def _from(chord: float, laid: LaidOff) -> Section:
    made = _row(chord)
    return _section()(tuple(made(*each) for each in laid.rows), *laid[1:])


def _four_again(
    section: int, chord: float, stations: Sequence[float], edge: str, laid: str, skin: float
) -> Section:
    m, p, t = int(f"{section:04d}"[0]), int(f"{section:04d}"[1]), int(f"{section:04d}"[2:])

    def height(x: float) -> float:
        camber, place = m / 100, p / 10
        if not m:
            return 0.0
        if x < place:
            return camber * (2 * place * x - x * x) / place**2
        return camber * (1 - 2 * place + 2 * place * x - x * x) / (1 - place) ** 2

    slope = 2 * m / p / 10 if m else 0.0
    return _from(chord, laid_again(height, slope, t / 100, chord, stations, edge, laid, skin))


def _five_again(
    section: int, chord: float, stations: Sequence[float], edge: str, laid: str, skin: float
) -> Section:
    m, k = SIMPLE[int(str(section)[1])]

    def height(x: float) -> float:
        if x < m:
            return k / 6 * (x**3 - 3 * m * x * x + m * m * (3 - m) * x)
        return k / 6 * m**3 * (1 - x)

    slope = k * m * m * (3 - m) / 6
    return _from(
        chord,
        laid_again(height, slope, int(str(section)[3:]) / 100, chord, stations, edge, laid, skin),
    )


TRIED = {
    "chord": "1000 mm",
    "stations": ["5 %", "40 %"],
    "edge": "open",
    "laid": "places on the mean line",
    "skin": "0 mm",
}
SECOND = "points as complex numbers, read between four neighbours; girth by 1500 chords"


@calculation(
    source=REPORT_460,
    not_covered=NOT_COVERED,
    method=METHOD,
    second=Second(_four_again, "0.005 mm", SECOND),
    examples=(
        Example(
            {"section": "2412", **TRIED},
            {
                "ordinates.1.along_upper": "46.901 mm",
                "ordinates.1.upper": "40.099 mm",
                "ordinates.1.along_lower": "53.099 mm",
                "ordinates.1.lower": "-30.724 mm",
                "ordinates.2.upper": "78.030 mm",
                "ordinates.2.lower": "-38.030 mm",
                "nose": "15.87 mm",
            },
            PUBLISHED,
            within="0.006 mm",
        ),
    ),
)
def naca_four_digit(
    section: Annotated[
        int, count("NACA", "four-digit designation", at_least=6, at_most=6725)
    ],
    chord: Chord, stations: Along, edge: Edge, laid: Laid, skin: Skin,
) -> Section:  # fmt: skip
    """NACA four-digit section: ordinates at stations of the chord or laid off from the mean line.

    The first figure is the camber in % of chord, the second its place in tenths, the last two the
    thickness in %. With a skin above 0 mm, the ordinates are those of its inside, square to the
    surface.
    """
    camber, place, thick = four_digits(section)
    surface = Surface(four_digit_line(camber, place), thick, OPEN if edge == "open" else CLOSED)
    numbers: Any = (chord, stations, laid, skin)
    return _worked(surface, *numbers)


@calculation(
    source=REPORT_537,
    not_covered="reflexed mean lines, other design lift; " + NOT_COVERED,
    method=METHOD,
    second=Second(_five_again, "0.005 mm", SECOND),
    examples=(
        Example(
            {"section": "23012", **TRIED},
            {
                "ordinates.1.along_upper": "44.262 mm",
                "ordinates.1.upper": "46.635 mm",
                "ordinates.2.upper": "71.275 mm",
                "ordinates.2.lower": "-44.757 mm",
                "nose": "15.87 mm",
            },
            PUBLISHED + "; its k₁ differs a little",
            within="0.016 mm",
        ),
    ),
)
def naca_five_digit(
    section: Annotated[
        int, count("NACA", "five-digit designation", at_least=21006, at_most=25025)
    ],
    chord: Chord, stations: Along, edge: Edge, laid: Laid, skin: Skin,
) -> Section:  # fmt: skip
    """NACA five-digit section: ordinates at stations of the chord or laid off from the mean line.

    The first three figures name the mean line, 210 to 250, the last two the thickness in %. With a
    skin above 0 mm, the ordinates are those of its inside, square to the surface.
    """
    meets, factor, thick = five_digits(section)
    surface = Surface(five_digit_line(meets, factor), thick, OPEN if edge == "open" else CLOSED)
    numbers: Any = (chord, stations, laid, skin)
    return _worked(surface, *numbers)
