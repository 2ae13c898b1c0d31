"""Sheet thickness, mould-line legs and bends in; blank length and every line on the blank out.

All lines are measured from the first edge of the blank, the free end of leg 1.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives
from generator.calculations.bending import (
    HANDBOOK,
    NEUTRAL,
    BendAngle,
    Factor,
    Ground,
    Middle,
    PerDecade,
    Radius,
    Thickness,
    bend_allowance,
    bend_allowance_by_factor,
    factor_din,
    ratio_in_range,
    setback,
    setback_by_triangle,
)
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import step, subscript, total

NOT_COVERED = "springback; trim; a bend line that is not square to the edge"
OVERLAP = "The bends overlap: a longer leg or a smaller radius"


@dataclass(frozen=True)
class Bend:
    """One bend: its inside radius and angle, which way it turns, and which leg the brake holds.

    The sight line lies one inside radius from the tangent line under the nose bar: of the leg
    before the bend, or of the leg after it where the blank is turned end for end.
    """

    radius: Radius
    bend_angle: BendAngle
    turns: Annotated[str, choice("way the bend turns, seen on the marked side", "up", "down")]
    holds: Annotated[
        str,
        choice(
            "leg under the nose bar, counted from the first edge",
            "leg before",
            "leg after",
            otherwise="leg before",
        ),
    ]


@dataclass(frozen=True)
class Flat:
    """The flat pattern of a part with several bends: lengths, and lines from the first edge."""

    length: Annotated[Amount, gives("L", "mm", "developed length", to="0.1")]
    flats: Annotated[
        tuple[Amount, ...], gives("f", "mm", "flat", to="0.1", above="0", beyond=OVERLAP)
    ]
    allowances: Annotated[
        tuple[Amount, ...], gives("BA", "mm", "bend allowance of bend", to="0.01")
    ]
    setbacks: Annotated[tuple[Amount, ...], gives("SB", "mm", "setback of bend", to="0.01")]
    begins: Annotated[tuple[Amount, ...], gives("b", "mm", "first tangent line of bend", to="0.1")]
    ends: Annotated[tuple[Amount, ...], gives("e", "mm", "second tangent line of bend", to="0.1")]
    sight_lines: Annotated[tuple[Amount, ...], gives("s", "mm", "sight line of bend", to="0.1")]


Legs = Annotated[
    tuple[Amount, ...], given("M", "mm", "mould-line length of leg", above="0", at_most="5000")
]


def _bare(
    thickness: float, legs: tuple[float, ...], bends: tuple[Any, ...], allowances: list[float]
) -> Flat:
    """Mould lines one after the other, less a deduction for every bend that is passed."""
    backs = [setback_by_triangle(thickness, b.radius, b.bend_angle) for b in bends]
    lost = [2 * s - a for s, a in zip(backs, allowances, strict=True)]
    either_end = [0.0, *backs, 0.0]
    flats = [leg - either_end[i] - either_end[i + 1] for i, leg in enumerate(legs)]
    corners = [sum(legs[: n + 1]) - sum(lost[:n]) for n in range(len(bends))]
    begins = [corner - back for corner, back in zip(corners, backs, strict=True)]
    ends = [corner - cut + back for corner, cut, back in zip(corners, lost, backs, strict=True)]
    sights = [
        begin + (b.radius if b.holds == "leg before" else allowance - b.radius)
        for begin, b, allowance in zip(begins, bends, allowances, strict=True)
    ]
    length = sum(legs) - sum(lost)
    lists = (flats, allowances, backs, begins, ends, sights)
    made: Any = Flat
    bare: Flat = made(length, *(tuple(each) for each in lists))
    return bare


def _by_deductions(thickness: float, legs: tuple[float, ...], bends: tuple[Any, ...]) -> Flat:
    allowances = [b.bend_angle * (b.radius + NEUTRAL * thickness) for b in bends]
    return _bare(thickness, legs, bends, allowances)


CHANNEL = {
    "thickness": "0.040 in",
    "legs": ["1.00 in", "2.00 in", "1.00 in"],
    "bends": [
        {"radius": "0.16 in", "bend_angle": "90°", "turns": "up"},
        {"radius": "0.16 in", "bend_angle": "90°", "turns": "up", "holds": "leg after"},
    ],
}
CHANNEL_FLATS = {"flats.1": "0.8 in", "flats.2": "1.6 in", "flats.3": "0.8 in"}


@calculation(
    source=f"{HANDBOOK}, steps 2 to 5 and 7 of the U-channel",
    not_covered=NOT_COVERED,
    second=Second(
        _by_deductions, "0.3 %", f"mould lines less bend deductions, arcs at {NEUTRAL} T"
    ),
    examples=(
        Example(
            CHANNEL,
            CHANNEL_FLATS,
            f"{HANDBOOK}, step 3 of the U-channel (flats; its printed allowance of 0.27 is not "
            "what its own formula gives)",
            within="0.001 in",
        ),
    ),
    figures=("bend-profile", "flat-pattern"),
)
def developed_length(thickness: Thickness, legs: Legs, bends: tuple[Bend, ...]) -> Flat:
    """Developed length: the length of flat sheet for a part with several bends.

    Legs are measured to the mould lines; there is one leg more than bends. Tangent and sight
    lines are measured from the first edge, whichever leg the nose bar holds.
    """
    _must_alternate(legs, bends)
    allowances = []
    for number, bend in enumerate(bends, start=1):
        ratio_in_range(bend.radius, thickness, number)
        allowances.append(bend_allowance(thickness, bend.radius, bend.bend_angle))
    return _laid_out(thickness, legs, bends, allowances)


def _by_two_arcs(
    thickness: float, legs: tuple[float, ...], bends: tuple[Any, ...], factor: float
) -> Flat:
    """Each allowance as a share of the way from the inside arc to the outside arc."""
    arcs = [(b.bend_angle * b.radius, b.bend_angle * (b.radius + thickness)) for b in bends]
    allowances = [(1 - factor) * inside + factor * outside for inside, outside in arcs]
    return _bare(thickness, legs, bends, allowances)


@calculation(
    source="textbook geometry of the neutral axis (NAVEDTRA 14119 p. 13-43; Groover ch. 20); "
    "sight line: " + HANDBOOK + ", step 7",
    not_covered="the K-factor itself, which a test strip of the batch gives; " + NOT_COVERED,
    second=Second(_by_two_arcs, "0.0001 mm", "mould lines less deductions, between two arcs"),
    examples=(
        Example(
            CHANNEL | {"factor": "0.4475"},
            CHANNEL_FLATS,
            f"{HANDBOOK}, step 3 of the U-channel (flats, which no allowance changes)",
            within="0.001 in",
        ),
        Example(
            {
                "thickness": "3.2 mm",
                "legs": ["42.59 mm", "29.59 mm"],
                "bends": [{"radius": "4.75 mm", "bend_angle": "60°", "turns": "up"}],
                "factor": "0.33",
            },
            {"flats.1": "38.00 mm", "flats.2": "25.00 mm", "length": "69.08 mm"},
            "Groover, Fundamentals of Modern Manufacturing, Example 20.2 (from memory); its flats "
            "of 38 and 25 mm are 42.59 and 29.59 mm to the mould line",
        ),
    ),
    figures=("bend-profile", "flat-pattern"),
)
def developed_length_by_factor(
    thickness: Thickness, legs: Legs, bends: tuple[Bend, ...], factor: Factor
) -> Flat:
    """Developed length from a K-factor: the same blank, with the K of a test strip.

    The neutral axis lies K thicknesses from the inside in every bend of the part.
    """
    _must_alternate(legs, bends)
    allowances = [
        bend_allowance_by_factor(thickness, bend.radius, bend.bend_angle, factor) for bend in bends
    ]
    return _laid_out(thickness, legs, bends, allowances)


def _by_natural_logarithms(
    thickness: float, legs: tuple[float, ...], bends: tuple[Any, ...]
) -> Flat:
    """DIN 6935 by natural logarithms, each allowance from the arc at mid thickness inwards."""
    shares = [min(1.0, 0.65 + math.log(b.radius / thickness) / math.log(100)) for b in bends]
    allowances = [
        b.bend_angle * (b.radius + thickness / 2) - b.bend_angle * thickness / 2 * (1 - share)
        for b, share in zip(bends, shares, strict=True)
    ]
    return _bare(thickness, legs, bends, allowances)


@calculation(
    source="DIN 6935, correction factor as a public CAD tutorial quotes it (that its logarithm is "
    "the common one is from memory); sight line: " + HANDBOOK + ", step 7",
    not_covered="metals other than flat steel, for which the standard is written; " + NOT_COVERED,
    second=Second(
        _by_natural_logarithms, "0.1 %", "mould lines less deductions, by natural logarithms"
    ),
    examples=(
        Example(
            CHANNEL,
            CHANNEL_FLATS,
            f"{HANDBOOK}, step 3 of the U-channel (flats, which no allowance changes)",
            within="0.001 in",
        ),
    ),
    figures=("bend-profile", "flat-pattern"),
)
def developed_length_din(
    thickness: Thickness,
    legs: Legs,
    bends: tuple[Bend, ...],
    ground: Ground,
    per_decade: PerDecade,
    middle: Middle,
) -> Flat:
    """Developed length to DIN 6935: the same blank, with the standard's neutral axis.

    Each bend has its own factor, by its own radius over the thickness, from 0.65.
    """
    _must_alternate(legs, bends)
    allowances = []
    for number, bend in enumerate(bends, start=1):
        symbol = subscript("K", number)
        factor = factor_din(thickness, bend.radius, ground, per_decade, middle, symbol)
        allowances.append(bend_allowance_by_factor(thickness, bend.radius, bend.bend_angle, factor))
    return _laid_out(thickness, legs, bends, allowances)


def _must_alternate(legs: Sequence[Any], bends: Sequence[Any]) -> None:
    if len(legs) != len(bends) + 1:
        wrong = f"{len(legs)} legs and {len(bends)} bends do not make a part"
        raise Refusal("count", wrong, f"{len(bends) + 1} legs: one more than bends")


def _laid_out(thickness: Any, legs: Any, bends: Any, worked: Sequence[Any]) -> Flat:
    """Flats between setbacks, then one line after the other from the first edge."""
    allowances = _each("BA", "bend allowance of bend", worked)
    backs = [setback(thickness, bend.radius, bend.bend_angle) for bend in bends]
    setbacks = _each("SB", "setback of bend", backs)
    flats = _each("f", "flat", _flats(legs, setbacks))
    begins, sights, ends = [], [], []
    at = flats[0]
    for number, bend in enumerate(bends, start=1):
        begin = _line("b", number, at, "first tangent line of bend")
        end = _line("e", number, begin + allowances[number - 1], "second tangent line of bend")
        under_the_nose = begin + bend.radius if bend.holds == "leg before" else end - bend.radius
        sights.append(_line("s", number, under_the_nose, "sight line of bend"))
        begins.append(begin)
        ends.append(end)
        at = end + flats[number]
    lists = (flats, allowances, setbacks, begins, ends, sights)
    return Flat(total(flats + allowances), *(tuple(each) for each in lists))


def _flats(legs: Sequence[Any], setbacks: Sequence[Any]) -> list[Any]:
    """Each leg less the setback at either end, where a bend stands there."""
    flats = []
    for number, leg in enumerate(legs):
        before, after = setbacks[:number][-1:], setbacks[number:][:1]
        flat = leg
        for back in (*before, *after):
            flat = flat - back
        flats.append(flat)
    return flats


def _each(symbol: str, meaning: str, amounts: Sequence[Any]) -> list[Any]:
    return [_line(symbol, n, amount, meaning) for n, amount in enumerate(amounts, start=1)]


def _line(symbol: str, number: int, amount: Any, meaning: str) -> Any:
    return step(amount, subscript(symbol, number), "mm", f"{meaning} {number}")
