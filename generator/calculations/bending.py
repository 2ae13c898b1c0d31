"""Sheet thickness, radii and angles in; bend allowance, setback and developed length out.

The bend angle is the angle through which the metal is bent, from flat; never the included angle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import arc, step, subscript, tan, total

HANDBOOK = "FAA-H-8083-31 vol. 1 ch. 4, Layout and Forming"
HEM = "At 180° the setback is infinite: a hem needs its own rule"

Thickness = Annotated[
    Amount, given("T", "mm", "sheet thickness", at_least="0.2", at_most="6.5", at_bench="0.01")
]
Radius = Annotated[Amount, given("R", "mm", "inside bend radius", at_least="0.3", at_most="65")]
BendAngle = Annotated[
    Amount,
    given(
        "A",
        "°",
        "bend angle, the angle through which the metal is bent",
        at_least="1",
        at_most="179",
        beyond=HEM,
    ),
]
PerRadius = Annotated[Amount, given("c₁", "1/°", "factor on the radius", fixed="0.01743 1/°")]
PerThickness = Annotated[Amount, given("c₂", "1/°", "factor on the thickness", fixed="0.0078 1/°")]


def _ratio_in_range(radius: Any, thickness: Any, radius_symbol: str = "R/T") -> None:
    step(
        radius / thickness,
        radius_symbol,
        "",
        "radius over thickness",
        at_least="0.5",
        at_most="10",
        wrong="the radius is {value} times the thickness; the formula holds from 0.5 to 10",
    )


def _by_neutral_axis(thickness: float, radius: float, bend_angle: float) -> float:
    return bend_angle * (radius + 0.4475 * thickness)


@calculation(
    source=f"{HANDBOOK}, step 4 of the U-channel",
    not_covered="springback; grain; the spread of one batch to the next, found by a test strip",
    second=Second(_by_neutral_axis, "0.3 %", "arc of the neutral axis at 0.4475 T"),
    examples=(
        Example(
            {"thickness": "0.050 in", "radius": "0.032 in", "bend_angle": "90°"},
            {"": "0.085 in"},
            "open sheet-metal workbook, 6th ed. 2012, 90-degree bends",
        ),
        Example(
            {"thickness": "0.040 in", "radius": "0.156 in", "bend_angle": "90°"},
            {"": "0.273 in"},
            "FAA-H-8083-31 bend allowance chart, .040 sheet, .156 radius (per 90°)",
            within="0.2 %",
        ),
    ),
)
def bend_allowance(
    thickness: Thickness,
    radius: Radius,
    bend_angle: BendAngle,
    per_radius: PerRadius,
    per_thickness: PerThickness,
) -> Annotated[Amount, gives("BA", "mm", "bend allowance", to="0.01")]:
    """Bend allowance: the length of metal that a bend takes up along the sheet.

    The empirical formula of the handbook; holds for a radius of 0.5 to 10 times the thickness.
    """
    _ratio_in_range(radius, thickness)
    return (per_radius * radius + per_thickness * thickness) * bend_angle


def _half_and_half(thickness: float, radius: float, bend_angle: float, factor: float) -> float:
    inner, outer = bend_angle * radius, bend_angle * (radius + thickness)
    return inner + factor * (outer - inner)


@calculation(
    source="textbook geometry of the neutral axis (NAVEDTRA 14119 p. 13-43; Groover ch. 20)",
    not_covered="the K-factor itself, which a test strip of the batch gives; springback",
    second=Second(_half_and_half, "0.0001", "share of the way from the inside to the outside arc"),
    examples=(
        Example(
            {"thickness": "3.2 mm", "radius": "4.75 mm", "bend_angle": "60°", "factor": "0.33"},
            {"": "6.08 mm"},
            "Groover, Fundamentals of Modern Manufacturing, Example 20.2 (from memory)",
        ),
    ),
)
def bend_allowance_by_factor(
    thickness: Annotated[
        Amount, given("T", "mm", "sheet thickness", at_least="0.2", at_most="13", at_bench="0.01")
    ],
    radius: Annotated[
        Amount, given("R", "mm", "inside bend radius", at_least="0.3", at_most="130")
    ],
    bend_angle: BendAngle,
    factor: Annotated[
        Amount, given("K", "", "place of the neutral axis", at_least="0.25", at_most="0.5")
    ],
) -> Annotated[Amount, gives("BA", "mm", "bend allowance", to="0.01")]:
    """Bend allowance from a K-factor: the neutral axis lies K thicknesses from the inside."""
    allowance: Amount = arc(bend_angle) * (radius + factor * thickness)
    return allowance


def _by_right_triangle(thickness: float, radius: float, bend_angle: float) -> float:
    """From bend line to mould line: the leg of the triangle with the outside radius."""
    outside = radius + thickness
    hypotenuse = outside / math.cos(bend_angle / 2)
    return math.sqrt(max(0.0, hypotenuse**2 - outside**2))


@calculation(
    source=f"{HANDBOOK}, step 2 of the U-channel; AC 43.13-1B table 4-7 for tan(A/2)",
    not_covered="springback; a bend that is not an arc",
    second=Second(_by_right_triangle, "0.001 %", "Pythagoras on the outside radius"),
    examples=(
        Example(
            {"thickness": "0.040 in", "radius": "0.16 in", "bend_angle": "90°"},
            {"": "0.2 in"},
            f"{HANDBOOK}, step 2 of the U-channel",
            within="0.0005 in",
        ),
    ),
)
def setback(
    thickness: Thickness, radius: Radius, bend_angle: BendAngle
) -> Annotated[Amount, gives("SB", "mm", "setback", to="0.01")]:
    """Setback: from the mould line back to the line where the bend begins."""
    back: Amount = tan(bend_angle / 2) * (radius + thickness)
    return back


@dataclass(frozen=True)
class Bend:
    """One bend of a part: its inside radius and its bend angle."""

    radius: Radius
    bend_angle: BendAngle


@dataclass(frozen=True)
class Flat:
    """The flat pattern of a part with several bends."""

    length: Annotated[Amount, gives("L", "mm", "developed length", to="0.1")]
    flats: Annotated[
        tuple[Amount, ...],
        gives(
            "f",
            "mm",
            "flat",
            to="0.1",
            above="0",
            beyond="The bends overlap: a longer leg or a smaller radius",
        ),
    ]
    allowances: Annotated[
        tuple[Amount, ...], gives("BA", "mm", "bend allowance of bend", to="0.01")
    ]
    setbacks: Annotated[tuple[Amount, ...], gives("SB", "mm", "setback of bend", to="0.01")]


def _by_deductions(thickness: float, legs: tuple[float, ...], bends: tuple[Any, ...]) -> Flat:
    """Mould-line lengths less a deduction for every bend."""
    allowances = [_by_neutral_axis(thickness, b.radius, b.bend_angle) for b in bends]
    setbacks = [_by_right_triangle(thickness, b.radius, b.bend_angle) for b in bends]
    lost = sum(2 * s - a for s, a in zip(setbacks, allowances, strict=True))
    ends = [0.0, *setbacks, 0.0]
    flats = [leg - ends[i] - ends[i + 1] for i, leg in enumerate(legs)]
    made: Any = Flat
    bare: Flat = made(sum(legs) - lost, tuple(flats), tuple(allowances), tuple(setbacks))
    return bare


@calculation(
    source=f"{HANDBOOK}, steps 2 to 5 of the U-channel",
    not_covered="springback; trim; relief holes; a bend line that is not square to the edge; "
    "which way each bend turns: the figure draws all of them the same way",
    second=Second(_by_deductions, "0.3 %", "mould lines less bend deductions, arcs at 0.4475 T"),
    examples=(
        Example(
            {
                "thickness": "0.040 in",
                "legs": ["1.00 in", "2.00 in", "1.00 in"],
                "bends": [{"radius": "0.16 in", "bend_angle": "90°"}] * 2,
            },
            {"flats.1": "0.8 in", "flats.2": "1.6 in", "flats.3": "0.8 in"},
            f"{HANDBOOK}, step 3 of the U-channel (flats; its printed allowance of 0.27 is not "
            "what its own formula gives)",
            within="0.001 in",
        ),
    ),
    figure="bend-profile",
)
def developed_length(
    thickness: Thickness,
    legs: Annotated[
        tuple[Amount, ...], given("M", "mm", "mould-line length of leg", above="0", at_most="5000")
    ],
    bends: tuple[Bend, ...],
) -> Flat:
    """Developed length: the length of flat sheet for a part with several bends.

    Legs are measured to the mould lines; there is one leg more than bends.
    """
    if len(legs) != len(bends) + 1:
        wrong = f"{len(legs)} legs and {len(bends)} bends do not make a part"
        raise Refusal("count", wrong, f"{len(bends) + 1} legs: one more than bends")
    setbacks, allowances, flats = [], [], []
    for number, bend in enumerate(bends, start=1):
        _ratio_in_range(bend.radius, thickness, f"R{number}/T")
        back = setback(thickness, bend.radius, bend.bend_angle)
        setbacks.append(_named("SB", number, back, "setback of bend"))
        allowance = bend_allowance(thickness, bend.radius, bend.bend_angle)
        allowances.append(_named("BA", number, allowance, "bend allowance of bend"))
    for number, leg in enumerate(legs, start=1):
        flat = leg
        if number > 1:
            flat = flat - setbacks[number - 2]
        if number <= len(setbacks):
            flat = flat - setbacks[number - 1]
        flats.append(_named("f", number, flat, "flat"))
    length = total(flats + allowances)
    return Flat(length, tuple(flats), tuple(allowances), tuple(setbacks))


def _named(symbol: str, number: int, amount: Any, meaning: str) -> Any:
    return step(amount, subscript(symbol, number), "mm", f"{meaning} {number}")
