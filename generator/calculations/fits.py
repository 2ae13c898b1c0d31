"""A nominal size and its tolerance zones in; limits of size, clearances and the kind of fit out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives, word
from generator.calculations.zones import (
    GRADES,
    HOLES,
    ODD_M6,
    SHAFTS,
    Zone,
    band,
    hole_zone,
    shaft_zone,
    tolerance,
)
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.rounding import plain
from generator.tables import table

STANDARD = "ISO 286-1:2010 tables 1 to 5"
NOT_COVERED = (
    "sizes over 500 mm; form, straightness and roughness, which take up clearance; another "
    "temperature than 20 °C (ISO 1); js and JS of IT7 to IT11, which some shops round to whole µm"
)
ZONE = (
    "the standard's row for the band that the nominal size belongs to (over one size, up to and "
    "with the next); shaft: tolerance of the grade beside the deviation of the letter; hole: the "
    "same mirrored, and Δ, the tolerance less that of the next finer grade, for K, M, N up to IT8 "
    "and P to ZC up to IT7, over 3 mm"
)
Nominal = Annotated[
    Amount, given("D", "mm", "nominal size of the fit", above="0", at_most="500",
                  beyond="ISO 286-1 has other tables above 500 mm")
]  # fmt: skip
Millimetre = Annotated[Amount, given("mm", "mm", "unit of the table", fixed="1 mm")]
Hole = Annotated[str, choice("letter of the hole", *HOLES)]
HoleGrade = Annotated[str, choice("grade of the hole", *GRADES)]
Shaft = Annotated[str, choice("letter of the shaft", *SHAFTS)]
ShaftGrade = Annotated[str, choice("grade of the shaft", *GRADES)]


@dataclass(frozen=True)
class Limits:
    """Between which sizes a shaft or a hole lies."""

    smallest: Annotated[Amount, gives("d_1", "mm", "smallest size", to="0.0001", safe="up")]
    largest: Annotated[Amount, gives("d_2", "mm", "largest size", to="0.0001", safe="down")]
    lower: Annotated[Amount, gives("e_1", "µm", "lower deviation", to="0.1", safe="up")]
    upper: Annotated[Amount, gives("e_2", "µm", "upper deviation", to="0.1", safe="down")]
    width: Annotated[Amount, gives("IT", "µm", "tolerance", to="0.1", safe="down")]
    band: Annotated[str, word("band", "band of nominal sizes")]


def _limits(nominal: Any, mm: Any, zone: Zone) -> Limits:
    made: Any = Limits
    lower, upper = zone.lower * mm, zone.upper * mm
    found: Limits = made(nominal + lower, nominal + upper, lower, upper, zone.width * mm, zone.band)
    return found


def _about_middle(size: float, middle: float, grade: str) -> Zone:
    """The zone as its middle and half of the tolerance on either side."""
    half = tolerance(size, grade) / 2
    return Zone(middle - half, middle + half, band(size))


def _shaft_again(size: float, shaft: str, shaft_grade: str) -> Zone:
    zone = shaft_zone(size, shaft, shaft_grade)
    return _about_middle(size, (zone.lower + zone.upper) / 2, shaft_grade)


def _shaft_about_middle(nominal: float, shaft: str, shaft_grade: str, mm: float) -> Limits:
    return _limits(nominal, mm, _shaft_again(nominal / mm, shaft, shaft_grade))


@calculation(
    source=STANDARD,
    not_covered=NOT_COVERED,
    method=ZONE,
    second=Second(_shaft_about_middle, "0.00001 mm", "middle of the zone and half the tolerance"),
    examples=(
        Example(
            {"nominal": "50 mm", "shaft": "g", "shaft_grade": "IT6"},
            {"smallest": "49.975 mm", "largest": "49.991 mm"},
            "ISO 286-2, shaft 50 g6",
            "0.00001 mm",
        ),
        Example(
            {"nominal": "25 mm", "shaft": "k", "shaft_grade": "IT8"},
            {"lower": "0 µm", "upper": "33 µm"},
            "ISO 286-1: k has its deviation in IT4 to IT7 alone",
        ),
    ),
)
def shaft_limits(nominal: Nominal, shaft: Shaft, shaft_grade: ShaftGrade, mm: Millimetre) -> Limits:
    """Limits of a shaft: smallest and largest size by ISO 286, such as 8 f7."""
    size: Any = nominal / mm
    return _limits(nominal, mm, shaft_zone(size, shaft, shaft_grade))


def _hole_again(size: float, hole: str, hole_grade: str) -> Zone:
    """The hole as the mirror of its shaft; in the finer grades of that with the next finer grade,
    so that such a hole and a shaft h fit as hole H and the shaft do."""
    letter, place = hole.lower(), GRADES.index(hole_grade)
    exact = hole_zone(size, hole, hole_grade)
    wide = tolerance(size, hole_grade)
    if hole == "J" or (hole == "N" and place > GRADES.index("IT8")):
        return _about_middle(size, (exact.lower + exact.upper) / 2, hole_grade)
    fine = GRADES.index("IT8" if hole in "KMN" else "IT7") >= place and size > 3.000001
    if letter not in table("limits_and_fits")["above"] or not fine:
        mirror = shaft_zone(size, letter, "IT7" if letter == "k" else hole_grade)
        upper = -mirror.lower
    else:
        finer = GRADES[place - 1]
        tight = shaft_zone(size, letter, "IT6" if letter == "k" else finer)
        upper = wide - (tight.lower + tolerance(size, finer))
    if hole == "M" and hole_grade == "IT6" and exact.band in ODD_M6:
        upper += 0.002
    return _about_middle(size, upper - wide / 2, hole_grade)


def _hole_by_shaft(nominal: float, hole: str, hole_grade: str, mm: float) -> Limits:
    return _limits(nominal, mm, _hole_again(nominal / mm, hole, hole_grade))


@calculation(
    source=STANDARD,
    not_covered=NOT_COVERED,
    method=ZONE,
    second=Second(_hole_by_shaft, "0.00001 mm", "the shaft of that letter, mirrored"),
    examples=(
        Example(
            {"nominal": "20 mm", "hole": "P", "hole_grade": "IT7"},
            {"lower": "-35 µm", "upper": "-14 µm"},
            "ISO 286-1 rule of Δ, hole 20 P7: −22 + 21 − 13",
            "0.0001 µm",
        ),
        Example(
            {"nominal": "300 mm", "hole": "M", "hole_grade": "IT6"},
            {"lower": "-41 µm", "upper": "-9 µm"},
            "ISO 286-1:2010 table 3, footnote on M6 from 250 to 315 mm",
            "0.0001 µm",
        ),
    ),
)
def hole_limits(nominal: Nominal, hole: Hole, hole_grade: HoleGrade, mm: Millimetre) -> Limits:
    """Limits of a hole: smallest and largest size by ISO 286, such as 8 H7."""
    size: Any = nominal / mm
    return _limits(nominal, mm, hole_zone(size, hole, hole_grade))


KINDS = ("clearance", "transition", "interference")


@dataclass(frozen=True)
class Fit:
    """What a hole and a shaft do together."""

    hole_smallest: Annotated[Amount, gives("D_1", "mm", "smallest hole", to="0.0001", safe="up")]
    hole_largest: Annotated[Amount, gives("D_2", "mm", "largest hole", to="0.0001", safe="down")]
    shaft_smallest: Annotated[Amount, gives("d_1", "mm", "smallest shaft", to="0.0001", safe="up")]
    shaft_largest: Annotated[Amount, gives("d_2", "mm", "largest shaft", to="0.0001", safe="down")]
    least: Annotated[
        Amount,
        gives("c_1", "µm", "least clearance, − interference", to="0.1", safe="down"),
    ]
    most: Annotated[
        Amount, gives("c_2", "µm", "largest clearance, − interference", to="0.1", safe="up")
    ]
    kind: Annotated[str, word("fit", "kind of fit")]
    band: Annotated[str, word("band", "band of nominal sizes")]


def kind_of(least: float, most: float) -> str:
    """Clearance where it never is below zero, interference where it never is above."""
    hair = 1e-9 * (most - least)
    if least >= -hair:
        return "clearance"
    return "interference" if most <= hair else "transition"


def asked_kind(called: str, asked: str, least: float, most: float) -> str:
    """The kind of a fit, from mm; refuses another one than was asked for."""
    kind = kind_of(least, most)
    if kind != asked:
        between = f"{plain(least * 1e3, 6)} to {plain(most * 1e3, 6)} µm"
        wrong = f"{asked} is asked for; {called} has {between}: {kind}"
        raise Refusal("range", wrong, f"another zone, or asked: {kind} where that is wanted")
    return kind


def _by_widths(
    nominal: float, hole: str, hole_grade: str, shaft: str, shaft_grade: str, mm: float
) -> Fit:
    """Mean clearance, and half of both tolerances on either side of it."""
    size = nominal / mm
    bore, pin = _hole_again(size, hole, hole_grade), _shaft_again(size, shaft, shaft_grade)
    mean = (bore.lower + bore.upper - pin.lower - pin.upper) / 2
    half = (tolerance(size, hole_grade) + tolerance(size, shaft_grade)) / 2
    least, most = mean - half, mean + half
    kind = KINDS[(least < -1e-7) + (most <= 1e-7 and least < -1e-7)]
    ends = (bore.lower, bore.upper, pin.lower, pin.upper)
    made: Any = Fit
    bare: Fit = made(*(nominal + e * mm for e in ends), least * mm, most * mm, kind, bore.band)
    return bare


@calculation(
    source=STANDARD,
    not_covered=NOT_COVERED + "; what a part was made to: measured sizes are judged by "
    "measured_fit",
    method=f"{ZONE}; least clearance: smallest hole less largest shaft",
    second=Second(_by_widths, "0.00001 mm", "mean clearance and half of both tolerances"),
    examples=(
        Example(
            {
                "nominal": "10 mm",
                "hole": "H",
                "hole_grade": "IT7",
                "shaft": "g",
                "shaft_grade": "IT6",
                "asked": "clearance",
            },
            {"least": "5 µm", "most": "29 µm"},
            "ISO 286-1 and -2:2010, 10 H7/g6",
            "0.0001 µm",
        ),
        Example(
            {
                "nominal": "25 mm",
                "hole": "H",
                "hole_grade": "IT7",
                "shaft": "s",
                "shaft_grade": "IT6",
                "asked": "interference",
            },
            {"least": "-48 µm", "most": "-14 µm"},
            "ISO 286-1 and -2, 25 H7/s6",
            "0.0001 µm",
        ),
    ),
)
def fit(
    nominal: Nominal,
    hole: Hole,
    hole_grade: HoleGrade,
    shaft: Shaft,
    shaft_grade: ShaftGrade,
    asked: Annotated[str, choice("kind of fit that is asked for", *KINDS)],
    mm: Millimetre,
) -> Fit:
    """Fit of a hole and a shaft by ISO 286, such as 8 H7/f7, against the kind that is asked for."""
    size: Any = nominal / mm
    bore, pin = hole_zone(size, hole, hole_grade), shaft_zone(size, shaft, shaft_grade)
    least, most = bore.lower - pin.upper, bore.upper - pin.lower
    called = f"{plain(size, 7)} {hole}{hole_grade[2:]}/{shaft}{shaft_grade[2:]}"
    kind = asked_kind(called, asked, least, most)
    ends = (bore.lower, bore.upper, pin.lower, pin.upper)
    made: Any = Fit
    one: Any = mm
    found: Fit = made(
        *(nominal + end * one for end in ends), least * one, most * one, kind, bore.band
    )
    return found
