"""One station of a forming block and the sheet over it in; girth, strain, load and pressure out.

The sheet lies tangent from jaw to block on both sides; between the tangent points it follows a
circle. Widths are held by the block and the grips (plane strain) unless a strip is pulled free.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import (
    arc,
    arccos,
    exponential,
    natural_log,
    square_root,
    step,
)

GEOMETRY = "geometry: two tangents from the jaws and the arc between them"
VOLUME = "constant volume, ε1 + ε2 + ε3 = 0 (any text on plasticity; from memory)"
HOLLOMON = "Kalpakjian & Schmid, Manufacturing Engineering and Technology, ch. 2, σ = K ε^n"
INSIDE = "jaw edge from the tangent circle is {value}: the jaws stand inside the block"
CLEAR = "the wrap is {value}: the sheet does not reach the block"
NO_COUPON = (
    "a batch without a coupon of its own: K and n are a pair from one test and no table's; "
    "warm or quick forming; a sheet that was formed before"
)
SOFT = {"thickness": "1.6 mm", "strain": "5 %", "strength": "205 MPa", "hardening": "0.20"}
BEYOND = (
    "true strain {value}: below 0.002 the law of the coupon does not hold yet, and from its n on "
    "the sheet necks and tears"
)

Thickness = Annotated[
    Amount, given("T", "mm", "sheet thickness", at_least="0.3", at_most="4", at_bench="0.01")
]
BlockRadius = Annotated[
    Amount, given("R", "mm", "radius of the block at the station", at_least="50", at_most="20000")
]
Spread = Annotated[Amount, given("S", "mm", "jaw edge to jaw edge", at_least="100", at_most="6000")]
Girth = Annotated[Amount, given("g", "mm", "girth from jaw to jaw", at_least="100", at_most="9000")]
JawToJaw = Annotated[
    Amount,
    given("L", "mm", "jaw line to jaw line, flat", at_least="100", at_most="9000", at_bench="0.5"),
]
Square = Annotated[
    Amount, given("s₀", "mm", "square of the grid, flat", at_least="5", at_most="200")
]
Strain = Annotated[
    Amount, given("e", "%", "strain, as a share of the flat length", at_least="0", at_most="16")
]
Strength = Annotated[
    Amount, given("K", "MPa", "strength coefficient of the coupon", at_least="50", at_most="3000")
]
Hardening = Annotated[
    Amount, given("n", "", "hardening exponent of the coupon", at_least="0.02", at_most="0.6")
]
Held = Annotated[Amount, given("c", "", "share of a sheet that is held", fixed="1.155 ratio")]
One = Annotated[Amount, given("1", "", "the flat sheet", fixed="1 ratio")]


@dataclass(frozen=True)
class Girthed:
    """A sheet over one station of the block."""

    girth: Annotated[Amount, gives("g", "mm", "girth from jaw to jaw", to="0.1")]
    wrap: Annotated[
        Amount,
        gives("w", "°", "wrap from the crown to the tangent point", to="0.1"),
    ]
    leg: Annotated[Amount, gives("f", "mm", "free sheet, tangent point to jaw edge", to="0.1")]


def _by_chords(thickness: float, radius: float, height: float, spread: float) -> Girthed:
    """Tangent by Pythagoras, angles by their tangents; the arc as twenty thousand chords."""
    mean = radius + thickness / 2
    across, down = spread / 2, radius - height
    away = math.hypot(across, down)
    leg = math.sqrt(away**2 - mean**2)
    wrap = math.atan2(across, down) - math.atan2(leg, mean)
    pieces = 20_000
    chord = 2 * mean * math.sin(wrap / pieces / 2)
    made: Any = Girthed
    bare: Girthed = made(2 * (leg + pieces * chord), wrap, leg)
    return bare


@calculation(
    source=GEOMETRY,
    not_covered="a block that is not round between the tangent points; sag of the free sheet; "
    "jaws that are not level",
    second=Second(_by_chords, "0.0001 %", "angles by their tangents, the arc by chords"),
    examples=(
        Example(
            {"thickness": "2 mm", "radius": "99 mm", "height": "199 mm", "spread": "480 mm"},
            {"girth": "637.92 mm", "wrap": "45.24 °", "leg": "240.0 mm"},
            "triangle of 100, 240 and 260 mm on both sides of the level through the centre; "
            "2 (240 + 100 (π - 2 arctan 2.4)) (from memory)",
        ),
    ),
)
def block_girth(
    thickness: Thickness,
    radius: BlockRadius,
    height: Annotated[
        Amount, given("h", "mm", "crown above the jaw edges", at_least="-2000", at_most="4000")
    ],
    spread: Spread,
) -> Girthed:
    """Girth over the block: how long the sheet is from jaw to jaw at one station.

    Measured at the middle of the sheet's thickness.
    """
    mean = step(radius + thickness / 2, "ρ", "mm", "radius of the middle of the sheet")
    across = spread / 2
    down = step(radius - height, "y", "mm", "jaw edges above the centre of the arc")
    away = step(square_root(across**2 + down**2), "d", "mm", "centre of the arc to a jaw edge")
    gap = step(away - mean, "u", "mm", "jaw edge from the circle", above="0", wrong=INSIDE)
    leg = step(square_root(gap * (away + mean)), "f", "mm", "free sheet on one side")
    turned = arccos(down / away) - arccos(mean / away)
    wrap = step(turned, "w", "°", "wrap on one side", above="0", at_most="180", wrong=CLEAR)
    return Girthed(2 * (leg + mean * arc(wrap)), wrap, leg)


@dataclass(frozen=True)
class Strained:
    """A sheet that was stretched from jaw to jaw."""

    strain: Annotated[
        Amount,
        gives("e", "%", "strain", to="0.01", at_least="0", beyond="The sheet is slack: raise it"),
    ]
    true: Annotated[Amount, gives("ε", "", "true strain", to="0.0001")]
    reading: Annotated[Amount, gives("s", "mm", "square of the grid, stretched", to="0.01")]
    held: Annotated[Amount, gives("t_held", "mm", "thickness, width held", to="0.001", safe="down")]
    free: Annotated[Amount, gives("t_free", "mm", "thickness, width free to shrink", to="0.001")]


def _by_logarithm(thickness: float, girth: float, jaw_to_jaw: float, square: float) -> Strained:
    """Everything from the true strain: exponentials in place of ratios."""
    true = math.log(girth) - math.log(jaw_to_jaw)
    made: Any = Strained
    bare: Strained = made(
        math.expm1(true),
        true,
        square * math.exp(true),
        thickness * math.exp(-true),
        thickness * math.exp(-true / 2),
    )
    return bare


@calculation(
    source=f"e = g/L - 1, ε = ln(1 + e) (Kalpakjian & Schmid, ch. 2); thickness: {VOLUME}",
    not_covered="friction, which leaves less at the crown and more beside it: this is the mean "
    "from jaw to jaw; the grid shows where it went",
    second=Second(_by_logarithm, "0.0001 %", "true strain first, all else by exponentials"),
    examples=(
        Example(
            {
                "thickness": "1.2 mm",
                "girth": "1060 mm",
                "jaw_to_jaw": "1000 mm",
                "square": "50 mm",
            },
            {"strain": "6.00 %", "reading": "53.0 mm", "held": "1.1321 mm", "free": "1.1655 mm"},
            "1.2/1.06 and 1.2/√1.06 (constant volume, from memory)",
        ),
        Example(
            {
                "thickness": "1 mm",
                "girth": "1120 mm",
                "jaw_to_jaw": "1000 mm",
                "square": "50 mm",
            },
            {"true": "0.1133", "strain": "12.00 %"},
            "ε = ln(1 + e) for e = 0.12 (any text on strength of materials)",
        ),
    ),
)
def stretch_strain(
    thickness: Thickness,
    girth: Girth,
    jaw_to_jaw: JawToJaw,
    square: Square,
) -> Strained:
    """Strain from jaw to jaw, what a grid square reads then, and what is left of the thickness."""
    longer = step(girth / jaw_to_jaw, "λ", "", "stretched length over flat length")
    strain = step((girth - jaw_to_jaw) / jaw_to_jaw, "e", "%", "strain")
    true = step(natural_log(longer), "ε", "", "true strain")
    return Strained(
        strain, true, square * longer, thickness / longer, thickness / square_root(longer)
    )


@dataclass(frozen=True)
class Loaded:
    """What a stretched sheet carries."""

    stress: Annotated[Amount, gives("σ", "MPa", "flow stress", to="0.1")]
    load: Annotated[Amount, gives("N", "N/mm", "load for each mm of the flat width", to="0.1")]


def _strip_by_powers(thickness: float, strain: float, strength: float, hardening: float) -> Loaded:
    """The law of the coupon by a power; the load from the first section and the nominal stress."""
    stress = strength * math.log1p(strain) ** hardening
    made: Any = Loaded
    bare: Loaded = made(stress, stress / (1 + strain) * thickness)
    return bare


@calculation(
    source=f"{HOLLOMON}; section by constant volume, A = A0/(1 + e) (from memory)",
    not_covered=NO_COUPON,
    second=Second(_strip_by_powers, "0.0001 %", "a power, and the stress on the first section"),
    examples=(
        Example(
            SOFT,
            {"stress": "112.05 MPa", "load": "170.75 N/mm"},
            "6061-O, K 205 and n 0.20 (Kalpakjian & Schmid, table 2.3); 85.373 kN on 500 mm",
        ),
    ),
)
def strip_load(
    thickness: Thickness, strain: Strain, strength: Strength, hardening: Hardening, one: One
) -> Loaded:
    """Load of a narrow strip whose width is free to shrink, such as a coupon."""
    true = _true_strain(strain, hardening, one)
    stress = strength * exponential(hardening * natural_log(true))
    flow = step(stress, "σ", "MPa", "flow stress")
    return Loaded(flow, flow * thickness / (one + strain))


def _true_strain(strain: Any, hardening: Any, one: Any) -> Any:
    """The true strain, inside what the law of the coupon holds for and before a neck."""
    natural = natural_log(one + strain)
    return step(natural, "ε", "", "true strain", at_least="0.002", at_most=hardening, wrong=BEYOND)


def _held_by_powers(thickness: float, strain: float, strength: float, hardening: float) -> Loaded:
    """The held sheet as a strip that is 1.155^(1 + n) times as hard."""
    strip: Any = _strip_by_powers(thickness, strain, strength, hardening)
    harder = 1.155 ** (1 + hardening)
    made: Any = Loaded
    bare: Loaded = made(harder * strip.stress, harder * strip.load)
    return bare


@calculation(
    source=f"{HOLLOMON}; width held: 2/√3 = 1.155 on strain and stress (plane strain; from memory)",
    not_covered=NO_COUPON,
    second=Second(_held_by_powers, "0.0001 %", "the strip's load, 1.155^(1 + n) times as large"),
    examples=(
        Example(
            SOFT,
            {"stress": "133.204 MPa", "load": "202.978 N/mm"},
            "1.155^1.2 = 1.188771 times the strip: 112.052 MPa, 170.746 N/mm (closed form)",
        ),
    ),
)
def stretch_load(
    thickness: Thickness,
    strain: Strain,
    strength: Strength,
    hardening: Hardening,
    one: One,
    held: Held,
) -> Loaded:
    """Load of a sheet whose width is held by block and grips: flow stress times what is left.

    Holds from a true strain of 0.002 to the strain at which the sheet necks.
    """
    true = _true_strain(strain, hardening, one)
    stress = held * strength * exponential(hardening * natural_log(held * true))
    flow = step(stress, "σ", "MPa", "flow stress, width held")
    return Loaded(flow, flow * thickness / (one + strain))


@dataclass(frozen=True)
class Neck:
    """Where a strip in plain tension stops to stretch evenly."""

    strain: Annotated[Amount, gives("e_u", "%", "even strain before a neck", to="0.1", safe="down")]
    stress: Annotated[Amount, gives("σ_u", "MPa", "true stress at the largest load", to="0.1")]
    strength: Annotated[
        Amount, gives("R_m", "MPa", "tensile strength on the first section", to="0.1")
    ]


def _neck_by_search(strength: float, hardening: float) -> Neck:
    """The largest load on a fine row of strains."""
    steps = [hardening * (0.5 + k / 20_000) for k in range(20_001)]
    best = max(steps, key=lambda true: true**hardening * math.exp(-true))
    stress = strength * best**hardening
    made: Any = Neck
    bare: Neck = made(math.expm1(best), stress, stress * math.exp(-best))
    return bare


@calculation(
    source=f"Considère: the load is largest where ε = n; {HOLLOMON}, example 2.1",
    not_covered="sheet that is held in its width, which necks at the same true strain along it "
    "(from memory); notches, scratches, a bad edge: all tear sooner",
    second=Second(_neck_by_search, "0.1 %", "the largest load on a fine row of strains"),
    examples=(
        Example(
            {"strength": "100000 psi", "hardening": "0.5"},
            {"stress": "70710 psi", "strength": "42888 psi"},
            "Kalpakjian & Schmid, example 2.1 (its e^-0.5 is rounded to 0.606: 42850 psi)",
            within="5 psi",
        ),
    ),
)
def necking_strain(strength: Strength, hardening: Hardening, one: One) -> Neck:
    """Even strain before a neck, and the tensile strength that K and n of a coupon amount to."""
    stress = strength * exponential(hardening * natural_log(hardening))
    flow = step(stress, "σ_u", "MPa", "true stress at the largest load")
    return Neck(exponential(hardening) - one, flow, flow / exponential(hardening))
