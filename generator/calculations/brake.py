"""Sheet, die and tool of a bending brake in; the shortest flange and the bending force out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives
from generator.calculations.bending import (
    HANDBOOK,
    BendAngle,
    Radius,
    Thickness,
    WideThickness,
    setback,
)
from generator.quantities.amount import Amount
from generator.quantities.functions import step

LANGE = "Lange, Umformtechnik: Blechbearbeitung, 2nd ed. 1990, equation of Oehler"
GROOVER = "Groover, Fundamentals of Modern Manufacturing, ch. 20"
LOAD = (
    "what the brake bears, which is often a force per length of the bed (tons a metre): divide by "
    "the length of the bend; a load uneven along the bend or off the middle of the bed"
)


LeastFlat = Annotated[
    Amount,
    given("f_min", "mm", "smallest flat that the brake can hold", above="0", at_most="500"),
]


def _by_cotangent(thickness: float, radius: float, bend_angle: float, least_flat: float) -> float:
    """From the corner back: the outside radius over the tangent of half the included angle."""
    included = math.pi - bend_angle
    return least_flat + (radius + thickness) / math.tan(included / 2)


@calculation(
    source="geometry of the flat: the leg is the flat and one setback, " + HANDBOOK + ", step 3",
    not_covered="the smallest flat itself, which the brake and its tools give; a flange between "
    "two bends, which has a setback at both ends",
    second=Second(_by_cotangent, "0.001 %", "outside radius and half the included angle"),
    examples=(
        Example(
            {
                "thickness": "0.040 in",
                "radius": "0.16 in",
                "bend_angle": "90°",
                "least_flat": "0.8 in",
            },
            {"": "1.00 in"},
            f"{HANDBOOK}, step 3 of the U-channel: the flat of 0.8 is a leg of 1.00",
        ),
    ),
)
def shortest_flange(
    thickness: Thickness,
    radius: Radius,
    bend_angle: BendAngle,
    least_flat: LeastFlat,
) -> Annotated[Amount, gives("M_min", "mm", "shortest leg to the mould line", to="0.1", safe="up")]:
    """Shortest flange: the least mould-line length of an end leg that this brake can bend.

    A leg below it leaves less flat than the tool holds: make it long, bend it, trim it.
    """
    shortest: Amount = least_flat + setback(thickness, radius, bend_angle)
    return shortest


@dataclass(frozen=True)
class FlangeOnBrake:
    """An end leg against the shortest one."""

    shortest: Annotated[
        Amount, gives("M_min", "mm", "shortest leg to the mould line", to="0.1", safe="up")
    ]
    spare: Annotated[
        Amount, gives("ΔM", "mm", "leg above the shortest", to="0.1", safe="down", at_least="0")
    ]


def _spare_by_flat(
    thickness: float, radius: float, bend_angle: float, least_flat: float, leg: float
) -> FlangeOnBrake:
    """The flat that the leg leaves, less the flat that the brake needs."""
    flat = leg - (radius + thickness) / math.tan((math.pi - bend_angle) / 2)
    made: Any = FlangeOnBrake
    bare: FlangeOnBrake = made(leg - flat + least_flat, flat - least_flat)
    return bare


@calculation(
    source="geometry of the flat: the leg is the flat and one setback, " + HANDBOOK + ", step 3",
    not_covered="the smallest flat itself, which the brake and its tools give; a flange between "
    "two bends, which has a setback at both ends",
    second=Second(_spare_by_flat, "0.001 %", "the flat that is left, by half the included angle"),
    examples=(
        Example(
            {
                "thickness": "0.040 in",
                "radius": "0.16 in",
                "bend_angle": "90°",
                "least_flat": "0.5 in",
                "leg": "1.00 in",
            },
            {"shortest": "0.70 in", "spare": "0.30 in"},
            f"{HANDBOOK}, step 3 of the U-channel: the leg of 1.00 leaves a flat of 0.8",
        ),
    ),
)
def flange_on_brake(
    thickness: Thickness,
    radius: Radius,
    bend_angle: BendAngle,
    least_flat: LeastFlat,
    leg: Annotated[
        Amount, given("M", "mm", "mould-line length of the leg", above="0", at_most="5000")
    ],
) -> FlangeOnBrake:
    """Flange on the brake: an end leg of the part against the shortest that the brake can bend.

    Refuses a shorter one: a longer leg that is trimmed after bending, or another tool.
    """
    least = shortest_flange(thickness, radius, bend_angle, least_flat)
    shortest = step(least, "M_min", "mm", "shortest leg")
    step(
        leg,
        "M",
        "mm",
        "leg",
        at_least=shortest,
        wrong="a leg of {value} is too short for this brake; bend it longer and trim it",
    )
    return FlangeOnBrake(shortest, leg - shortest)


TensileStrength = Annotated[
    Amount, given("R_m", "MPa", "tensile strength of the sheet", above="0", at_most="2500")
]
BendLength = Annotated[
    Amount, given("l", "mm", "length of the bend line", above="0", at_most="5000")
]
Opening = Annotated[Amount, given("w", "mm", "opening of the die", above="0", at_most="300")]
Force = Annotated[Amount, gives("F", "kN", "bending force", to="0.01", safe="up")]


def _opening_in_range(opening: Any, thickness: Any) -> None:
    step(
        opening / thickness,
        "w/T",
        "",
        "opening over thickness",
        at_least="5",
        at_most="20",
        wrong="the opening is {value} times the thickness; the equation is proven from 5 to 20",
    )


def _by_two_terms(
    thickness: float, tensile_strength: float, bend_length: float, opening: float
) -> float:
    """The force of a slender strip on two supports, and what a short opening adds to it."""
    slender = tensile_strength * bend_length * thickness * (thickness / opening)
    return slender + 4 * slender * (thickness / opening)


@calculation(
    source=f"{LANGE}, as a public forming handbook quotes it",
    not_covered="metals other than steel, on which it was proven; coining at the bottom of the "
    "die; " + LOAD,
    second=Second(_by_two_terms, "0.001 %", "slender strip, and what a short opening adds"),
    examples=(
        Example(
            {
                "thickness": "1 mm",
                "tensile_strength": "310 MPa",
                "bend_length": "100 mm",
                "opening": "10 mm",
                "nose_radius": "2 mm",
            },
            {"": "4.34 kN"},
            "public forming handbook, Bending force I, after Lange",
        ),
    ),
)
def bending_force_v_die(
    thickness: Annotated[
        Amount,
        given("T", "mm", "sheet thickness", at_least="0.5", at_most="10", at_bench="0.01"),
    ],
    tensile_strength: TensileStrength,
    bend_length: BendLength,
    opening: Opening,
    nose_radius: Annotated[
        Amount, given("r", "mm", "radius of the punch nose", above="0", at_most="60")
    ],
) -> Force:
    """Bending force in a V-die: the largest force of the punch before it bottoms, after Oehler.

    Proven for an opening of 5 to 20 thicknesses and of at least 5 nose radii.
    """
    _opening_in_range(opening, thickness)
    step(
        opening / nose_radius,
        "w/r",
        "",
        "opening over nose radius",
        at_least="5",
        wrong="the opening is {value} times the nose radius; the equation is proven from 5",
    )
    short = step(4 * thickness / opening, "q", "", "what a short opening adds")
    slender = tensile_strength * bend_length * thickness**2 / opening
    force: Amount = slender + short * slender
    return force


Wiping = Annotated[Amount, given("k_wiping", "", "factor of a wiping die", fixed="0.33 ratio")]
Vee = Annotated[Amount, given("k_V", "", "factor of a V-die", fixed="1.33 ratio")]


def _by_modulus_of_section(
    die: str,
    thickness: float,
    tensile_strength: float,
    bend_length: float,
    opening: float,
    wiping: float,
    vee: float,
) -> float:
    """Moment of the section at the tensile strength over the lever of the die."""
    moment = tensile_strength * bend_length * thickness**2 / 6
    return 6 * {"V": vee, "wiping": wiping}[die] * moment / opening


@calculation(
    source=f"{GROOVER}, bending force (from memory); a second published range for the V-die is "
    "1.2 to 1.33",
    not_covered="a U-die, for which another textbook takes 0.7 of the yield strength; coining at "
    "the bottom of the die; friction of a worn die; " + LOAD,
    second=Second(_by_modulus_of_section, "0.001 %", "moment of the section over the lever"),
    examples=(
        Example(
            {
                "die": "V",
                "thickness": "3.2 mm",
                "tensile_strength": "450 MPa",
                "bend_length": "44.5 mm",
                "opening": "25 mm",
            },
            {"": "10909 N"},
            f"{GROOVER}, Example 20.2 (from memory)",
        ),
    ),
)
def bending_force(
    die: Annotated[str, choice("kind of die", "V", "wiping")],
    thickness: WideThickness,
    tensile_strength: TensileStrength,
    bend_length: BendLength,
    opening: Opening,
    wiping: Wiping,
    vee: Vee,
) -> Force:
    """Bending force by the factor of the die: to see whether the brake can do it.

    A textbook estimate for an opening of 5 to 20 thicknesses; the wiping die's opening is the
    distance from the edge of the die to where the punch touches.
    """
    _opening_in_range(opening, thickness)
    factor = vee if die == "V" else wiping
    force: Amount = factor * tensile_strength * bend_length * thickness**2 / opening
    return force
