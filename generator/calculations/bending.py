"""Sheet thickness, inside radius and bend angle in; bend allowance, setback and deduction out.

The bend angle is the angle through which the metal is bent, from flat; never the included angle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import arc, by_range, log10, step, tan

HANDBOOK = "FAA-H-8083-31 vol. 1 ch. 4, Layout and Forming"
HEM = "At 180° the setback is infinite: a hem needs its own rule"
LEAST_RATIO, MOST_RATIO = "0.5", "10"  # R/T between which the empirical formula holds
NEUTRAL = 0.4475  # 0.0078/0.01743: where the empirical formula has its neutral axis, in T

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
WideThickness = Annotated[
    Amount, given("T", "mm", "sheet thickness", at_least="0.2", at_most="13", at_bench="0.01")
]
WideRadius = Annotated[
    Amount, given("R", "mm", "inside bend radius", at_least="0.3", at_most="130")
]
Factor = Annotated[
    Amount, given("K", "", "place of the neutral axis", at_least="0.25", at_most="0.5")
]
PerRadius = Annotated[Amount, given("c₁", "1/°", "factor on the radius", fixed="0.01743 1/°")]
PerThickness = Annotated[Amount, given("c₂", "1/°", "factor on the thickness", fixed="0.0078 1/°")]
LeastRatio = Annotated[
    Amount, given("q₁", "", "least R/T of the allowance formula", fixed=f"{LEAST_RATIO} ratio")
]
MostRatio = Annotated[
    Amount, given("q₂", "", "largest R/T of the allowance formula", fixed=f"{MOST_RATIO} ratio")
]


def ratio_in_range(radius: Any, thickness: Any, bend: int = 0) -> None:
    """Refuses a radius outside 0.5 to 10 thicknesses, where the empirical formula holds.

    bend: which of several bends it is, for the words of the refusal.
    """
    which = f" of bend {bend}" if bend else ""
    step(
        radius / thickness,
        "R/T",
        "",
        "radius over thickness",
        at_least=LEAST_RATIO,
        at_most=MOST_RATIO,
        wrong=f"the radius{which} is {{value}} times the thickness; the formula holds from "
        f"{LEAST_RATIO} to {MOST_RATIO}",
    )


def _by_neutral_axis(thickness: float, radius: float, bend_angle: float) -> float:
    return bend_angle * (radius + NEUTRAL * thickness)


@calculation(
    source=f"{HANDBOOK}, step 4 of the U-channel",
    not_covered="springback; grain; the spread of one batch to the next, found by a test strip",
    second=Second(_by_neutral_axis, "0.3 %", f"arc of the neutral axis at {NEUTRAL} T"),
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
    ratio_in_range(radius, thickness)
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
    thickness: WideThickness, radius: WideRadius, bend_angle: BendAngle, factor: Factor
) -> Annotated[Amount, gives("BA", "mm", "bend allowance", to="0.01")]:
    """Bend allowance from a K-factor: the neutral axis lies K thicknesses from the inside."""
    allowance: Amount = arc(bend_angle) * (radius + factor * thickness)
    return allowance


def setback_by_triangle(thickness: float, radius: float, bend_angle: float) -> float:
    """From bend line to mould line: the leg of the triangle with the outside radius."""
    outside = radius + thickness
    hypotenuse = outside / math.cos(bend_angle / 2)
    return math.sqrt(max(0.0, hypotenuse**2 - outside**2))


@calculation(
    source=f"{HANDBOOK}, step 2 of the U-channel; AC 43.13-1B table 4-7 for tan(A/2)",
    not_covered="springback; a bend that is not an arc",
    second=Second(setback_by_triangle, "0.001 %", "Pythagoras on the outside radius"),
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
class AllowanceDin:
    """The factor of DIN 6935 and the bend allowance that it gives."""

    factor: Annotated[Amount, gives("K", "", "place of the neutral axis", to="0.0001")]
    allowance: Annotated[Amount, gives("BA", "mm", "bend allowance", to="0.01")]


def _by_natural_logarithm(thickness: float, radius: float, bend_angle: float) -> AllowanceDin:
    """Share of the way from the inside arc to the middle arc; log10 as ln over ln 10."""
    share = 1.0
    if radius <= 5 * thickness * (1 + 1e-12):
        share = 0.65 + math.log(radius / thickness) / (2 * math.log(10))
    inside, middle = bend_angle * radius, bend_angle * (radius + thickness / 2)
    made: Any = AllowanceDin
    bare: AllowanceDin = made(share / 2, inside + share * (middle - inside))
    return bare


Ground = Annotated[Amount, given("k₁", "", "factor at R = T", fixed="0.65 ratio")]
PerDecade = Annotated[Amount, given("k₂", "", "more for each tenfold R/T", fixed="0.5 ratio")]
Middle = Annotated[Amount, given("K_m", "", "neutral axis at mid thickness", fixed="0.5 ratio")]


@calculation(
    source="DIN 6935, correction factor as a public CAD tutorial quotes it; that its logarithm is "
    "the common one is from memory",
    not_covered="a radius below 0.65 times the thickness; metals other than flat steel, for which "
    "the standard is written; springback",
    second=Second(_by_natural_logarithm, "0.001 %", "from the inside arc towards the middle arc"),
    examples=(
        Example(
            {"thickness": "2 mm", "radius": "4 mm", "bend_angle": "90°"},
            {"factor": "0.4003"},
            "public CAD tutorial on DIN 6935, R/T = 2",
        ),
        Example(
            {"thickness": "0.5 in", "radius": "3.0 in", "bend_angle": "90°"},
            {"allowance": "5.1 in"},
            "NAVEDTRA 14119 fig. 13-49 example 1, p. 13-43: neutral axis at mid thickness",
        ),
    ),
)
def bend_allowance_din(
    thickness: WideThickness,
    radius: WideRadius,
    bend_angle: BendAngle,
    ground: Ground,
    per_decade: PerDecade,
    middle: Middle,
) -> AllowanceDin:
    """Bend allowance to DIN 6935: the neutral axis moves to the middle as the radius grows.

    Up to R/T = 5 by the logarithm of R/T, above it at half the thickness; from R/T = 0.65.
    """
    factor = factor_din(thickness, radius, ground, per_decade, middle)
    return AllowanceDin(factor, arc(bend_angle) * (radius + factor * thickness))


def factor_din(
    thickness: Any, radius: Any, ground: Any, per_decade: Any, middle: Any, symbol: str = "K"
) -> Any:
    """The place of the neutral axis by DIN 6935; refuses a radius below 0.65 thicknesses."""
    ratio = step(
        radius / thickness,
        "R/T",
        "",
        "radius over thickness",
        at_least="0.65",
        wrong="the radius is {value} times the thickness; the factor's table starts at 0.65",
    )
    rising = (ground + per_decade * log10(radius / thickness)) / 2
    return step(by_range(ratio, "5", rising, middle), symbol, "", "place of the neutral axis")


def _by_adding_slices(
    thickness: float, radius: float, bend_angle: float, per_radius: float, per_thickness: float
) -> float:
    """What every slice of the angle adds to both mould lines, less the metal that it takes up."""
    outside, taken = radius + thickness, per_radius * radius + per_thickness * thickness
    slices = 2000
    width = bend_angle / slices
    ends = [outside / math.cos(n * width / 2) ** 2 - taken for n in range(slices + 1)]
    middles = [outside / math.cos((n + 0.5) * width / 2) ** 2 - taken for n in range(slices)]
    return width / 6 * (ends[0] + ends[-1] + 2 * sum(ends[1:-1]) + 4 * sum(middles))


@calculation(
    source=f"{HANDBOOK}: twice the setback less the bend allowance",
    not_covered="drawings that give legs to the tangent line beyond 90°: there another rule holds; "
    "springback",
    second=Second(_by_adding_slices, "0.01 %", "2000 slices of the bend angle, Simpson's rule"),
    examples=(
        Example(
            {"thickness": "0.050 in", "radius": "0.032 in", "bend_angle": "90°"},
            {"": "0.079 in"},
            "open sheet-metal workbook, 6th ed. 2012, 90-degree bends",
        ),
    ),
)
def bend_deduction(
    thickness: Thickness,
    radius: Radius,
    bend_angle: BendAngle,
    per_radius: PerRadius,
    per_thickness: PerThickness,
) -> Annotated[Amount, gives("BD", "mm", "bend deduction", to="0.01", above="0")]:
    """Bend deduction: what one bend takes off the sum of the two mould-line lengths.

    Above zero at every angle, because both legs are measured to the mould line.
    """
    back = step(setback(thickness, radius, bend_angle), "SB", "mm", "setback")
    allowance = bend_allowance(thickness, radius, bend_angle)
    deduction: Amount = 2 * back - step(allowance, "BA", "mm", "bend allowance")
    return deduction
