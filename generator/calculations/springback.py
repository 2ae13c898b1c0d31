"""Sheet, strength and the bend that is wanted in; what the tool must be set to, out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.calculations.bending import BendAngle, WideThickness
from generator.quantities.amount import Amount
from generator.quantities.functions import step

KALPAKJIAN = "Kalpakjian & Schmid, Manufacturing Engineering and Technology, ch. 16, springback"
FLAT = "x is {value}: from 0.5 on the sheet springs back flat and no radius is left"

Yield = Annotated[
    Amount, given("Y", "MPa", "yield strength of the sheet", at_least="5", at_most="2500")
]
Elastic = Annotated[
    Amount, given("E", "MPa", "modulus of elasticity", at_least="10000", at_most="450000")
]


Whole = Annotated[Amount, given("1", "", "ratio of a bend that keeps its radius", fixed="1 ratio")]


@dataclass(frozen=True)
class Sprung:
    """A bend after it has left the tool."""

    elastic: Annotated[Amount, gives("x", "", "elastic share", to="0.0001")]
    ratio: Annotated[
        Amount, gives("R_i/R_f", "", "radius in the tool over radius after", to="0.001")
    ]
    radius: Annotated[Amount, gives("R_f", "mm", "inside radius after springback", to="0.01")]


def _by_moments(thickness: float, radius: float, yield_strength: float, modulus: float) -> Sprung:
    """Moment of the half-elastic section over its stiffness: the curvature that is given back."""
    core = 2 * radius * yield_strength / modulus  # height that is still elastic at the release
    plastic = yield_strength * (thickness**2 - core**2) / 4
    moment = plastic + yield_strength * core**2 / 6
    back = 12 * moment / (modulus * thickness**3)
    made: Any = Sprung
    bare: Sprung = made(core / thickness / 2, 1 - back * radius, 1 / (1 / radius - back))
    return bare


@calculation(
    source=KALPAKJIAN + " equation; its worked example is from memory",
    not_covered="work-hardening; the stiffer wide sheet; a punch that bottoms and sets the bend; "
    "the batch in hand, which a test strip shows",
    second=Second(_by_moments, "0.001 %", "bending moment over stiffness, given back as curvature"),
    examples=(
        Example(
            {
                "thickness": "0.0359 in",
                "radius": "0.5 in",
                "yield_strength": "40000 psi",
                "modulus": "29000000 psi",
            },
            {"elastic": "0.0192", "ratio": "0.942", "radius": "0.531 in"},
            "Kalpakjian & Schmid ch. 16, example of a 20-gauge steel strip (from memory)",
        ),
    ),
)
def springback_radius(
    thickness: WideThickness,
    radius: Annotated[
        Amount, given("R_i", "mm", "inside radius in the tool", at_least="0.3", at_most="5000")
    ],
    yield_strength: Yield,
    modulus: Elastic,
    whole: Whole,
) -> Sprung:
    """Springback of the radius: how far a bend opens when the tool lets go.

    Pure bending of an elastic, perfectly plastic sheet; holds while x is below 0.5.
    """
    share = radius * yield_strength / (modulus * thickness)
    x = step(share, "x", "", "elastic share", at_most="0.5", wrong=FLAT)
    left = step(4 * x**3 - 3 * x + whole, "ρ", "", "radius ratio", above="0", wrong=FLAT)
    return Sprung(x, left, radius / left)


@dataclass(frozen=True)
class PunchRadius:
    """The radius of the tool, and how well it gives the radius that is wanted."""

    radius: Annotated[Amount, gives("R_i", "mm", "inside radius of the tool", to="0.01")]
    elastic: Annotated[Amount, gives("x", "", "elastic share", to="0.0001")]
    residual: Annotated[
        Amount, gives("ε", "", "miss of the wanted radius, as a share of it", to="0.000001")
    ]


def _punch_in_closed_form(
    thickness: float, radius: float, yield_strength: float, modulus: float
) -> PunchRadius:
    """The smallest positive root of the cubic in x, by the cosine of a third of an angle."""
    flexible = radius * yield_strength / (modulus * thickness)
    size = math.sqrt(1 + 1 / (3 * flexible))
    x = size * math.cos((math.acos(-1 / size**3) + 4 * math.pi) / 3)
    made: Any = PunchRadius
    bare: PunchRadius = made(x / yield_strength * modulus * thickness, x, 0.0)
    return bare


@calculation(
    source=KALPAKJIAN + " equation, solved for the radius in the tool",
    not_covered="work-hardening; the stiffer wide sheet; a punch that bottoms and sets the bend; "
    "the batch in hand, which a test strip shows",
    method="200 halvings of the tool's curvature, between the curvature that is wanted and that "
    "with all the springback a fully plastic section can have",
    second=Second(_punch_in_closed_form, "0.0001 %", "closed root of the cubic"),
    examples=(
        Example(
            {
                "thickness": "0.0359 in",
                "radius": "0.531 in",
                "yield_strength": "40000 psi",
                "modulus": "29000000 psi",
            },
            {"radius": "0.500 in", "elastic": "0.0192"},
            "Kalpakjian & Schmid ch. 16, a 20-gauge steel strip, backwards (from memory)",
        ),
    ),
)
def punch_radius(
    thickness: WideThickness,
    radius: Annotated[
        Amount, given("R_f", "mm", "inside radius that is wanted", at_least="0.3", at_most="5000")
    ],
    yield_strength: Yield,
    modulus: Elastic,
) -> PunchRadius:
    """Radius of the tool for a wanted radius: the springback equation run backwards.

    There is one radius with x below 0.5 for every wanted one; it is always the smaller of the two.
    """
    stiff: Any = yield_strength / (modulus * thickness)  # x over the radius in the tool
    wanted: Any = 1 / radius
    low, high = max(2 * stiff, wanted), wanted + 3 * stiff
    for _ in range(200):
        middle = (low + high) / 2
        if _left(middle, stiff) < wanted:
            low = middle
        else:
            high = middle
    curvature = (low + high) / 2
    miss = wanted / _left(curvature, stiff) - 1
    made: Any = PunchRadius
    found: PunchRadius = made(1 / curvature, stiff / curvature, miss)
    return found


def _left(curvature: float, stiff: float) -> float:
    """The curvature that is left of that in the tool."""
    x = stiff / curvature
    return curvature * (4 * x**3 - 3 * x + 1)


SET = "A tool cannot bend past 179°"


@dataclass(frozen=True)
class OverBend:
    """What the brake is set to."""

    set_to: Annotated[
        Amount,
        gives("A_set", "°", "bend angle in the tool", to="0.1", at_most="179", beyond=SET),
    ]
    over: Annotated[Amount, gives("ΔA", "°", "over-bend", to="0.1")]


def _by_length_kept(
    thickness: float, tool_radius: float, radius: float, bend_angle: float
) -> OverBend:
    """The mid-plane arc of the finished bend, laid round the tool."""
    middle = bend_angle * radius + bend_angle * thickness / 2
    turned = middle / (tool_radius + thickness / 2)
    made: Any = OverBend
    bare: OverBend = made(turned, turned - bend_angle)
    return bare


@calculation(
    source=KALPAKJIAN + ": the middle of the sheet keeps its length (from memory)",
    not_covered="the legs, which spring too where the tool bends them; the batch in hand, which a "
    "test strip shows",
    second=Second(_by_length_kept, "0.001 %", "mid-plane arc laid round the tool"),
    examples=(
        Example(
            {
                "thickness": "2 mm",
                "tool_radius": "9 mm",
                "radius": "11 mm",
                "bend_angle": "75°",
            },
            {"set_to": "90.0 °", "over": "15.0 °"},
            "Kalpakjian & Schmid ch. 16, K_s = (2 R_i/T + 1)/(2 R_f/T + 1) in closed form: 10/12 "
            "(from memory)",
        ),
    ),
)
def over_bend(
    thickness: WideThickness,
    tool_radius: Annotated[
        Amount, given("R_i", "mm", "inside radius in the tool", at_least="0.3", at_most="5000")
    ],
    radius: Annotated[
        Amount,
        given("R_f", "mm", "inside radius after springback", at_least="0.3", at_most="5000"),
    ],
    bend_angle: BendAngle,
) -> OverBend:
    """Over-bend from the two radii: how far the tool must go so that the wanted angle is left.

    The radius after springback is never the smaller one.
    """
    step(
        radius / tool_radius,
        "R_f/R_i",
        "",
        "radius after over radius in the tool",
        at_least="1",
        wrong="the radius after springback is {value} of that in the tool: a bend never closes",
    )
    half = step(thickness / 2, "h", "mm", "half the thickness")
    turned = bend_angle * (radius + half) / (tool_radius + half)
    named = step(turned, "A_set", "°", "bend angle in the tool")
    return OverBend(named, named - bend_angle)


StripSet = Annotated[
    Amount, given("A_s", "°", "angle the strip was bent to", at_least="1", at_most="179")
]
StripAfter = Annotated[
    Amount,
    given("A_a", "°", "angle of the strip off the tool", at_least="1", at_most="179",
          at_bench="0.1"),
]  # fmt: skip


@dataclass(frozen=True)
class OverBendByStrip:
    """What the brake is set to after a test strip."""

    share: Annotated[Amount, gives("s", "%", "springback of the strip", to="0.1")]
    set_to: Annotated[
        Amount,
        gives("A_set", "°", "bend angle in the tool", to="0.1", at_most="179", beyond=SET),
    ]
    over: Annotated[Amount, gives("ΔA", "°", "over-bend", to="0.1")]


def _by_halving(strip_set: float, strip_after: float, bend_angle: float) -> OverBendByStrip:
    """Settings tried, each let go as the strip was, until the wanted angle is left."""
    kept = 1 - (strip_set - strip_after) / strip_set
    low, high = 0.0, 2 * bend_angle
    for _ in range(100):
        tried = (low + high) / 2
        low, high = (tried, high) if tried * kept < bend_angle else (low, tried)
    made: Any = OverBendByStrip
    bare: OverBendByStrip = made(1 / kept - 1, low, low - bend_angle)
    return bare


@calculation(
    source="common practice, no source: over-bend in proportion to a test strip of the batch, for "
    "a bend of half to twice the strip's angle",
    not_covered="another batch, thickness, radius or direction of the grain than the strip's; the "
    "legs and the edges, which do not spring in proportion: the nearer the strip's angle is to "
    "the bend, the better",
    second=Second(_by_halving, "0.001 %", "the setting found by halving, let go as the strip was"),
    examples=(
        Example(
            {"strip_set": "90°", "strip_after": "80°", "bend_angle": "80°"},
            {"share": "12.5 %", "set_to": "90.0 °", "over": "10.0 °"},
            "common practice, no source: a part like its strip is set like its strip",
        ),
    ),
)
def over_bend_by_strip(
    strip_set: StripSet,
    strip_after: StripAfter,
    bend_angle: BendAngle,
) -> OverBendByStrip:
    """Over-bend from a test strip: the strip's springback, in proportion, for the part.

    The strip is of the same batch, thickness, radius and grain; its springback is 0 to 15 %, and
    the bend has half to twice its angle.
    """
    step(
        bend_angle / strip_after,
        "A/A_a",
        "",
        "bend over the strip's angle",
        at_least="0.5",
        at_most="2",
        wrong="the bend is {value} of the strip's angle: bend a strip to about the angle of the "
        "bend; the proportion is used from 0.5 to 2",
    )
    lost = (strip_set - strip_after) / strip_after
    share = step(
        lost,
        "s",
        "",
        "springback of the strip",
        at_least="0",
        at_most="0.15",
        wrong="the strip sprang back {value} of its angle; the proportion holds from 0 to 15 %",
    )
    over = step(bend_angle * share, "ΔA", "°", "over-bend")
    return OverBendByStrip(share, bend_angle + over, over)


def _by_inner_fibre(
    thickness: float, radius: float, yield_strength: float, modulus: float
) -> float:
    """The middle stretches as far as the inside is pressed, and then to the yield point."""
    pressed = (radius - (radius - thickness / 2)) / radius
    return pressed + yield_strength / modulus


@calculation(
    source="bending under tension, Hosford & Caddell and Marciniak (from memory)",
    not_covered="work-hardening, which leaves some springback; friction over the block; tearing",
    second=Second(_by_inner_fibre, "0.001 %", "the pressed inside brought to its yield point"),
    examples=(
        Example(
            {
                "thickness": "1.2 mm",
                "radius": "900 mm",
                "yield_strength": "80.5 MPa",
                "modulus": "70000 MPa",
            },
            {"": "0.1817 %"},
            "bending under tension in closed form (from memory): t/(2R) + σ/E with 0.00115",
        ),
    ),
)
def stretch_against_springback(
    thickness: WideThickness,
    radius: Annotated[
        Amount,
        given("R", "mm", "radius of the middle of the sheet", at_least="20", at_most="50000"),
    ],
    yield_strength: Yield,
    modulus: Elastic,
) -> Annotated[Amount, gives("e", "%", "least stretch of the middle", to="0.01", safe="up")]:
    """Stretch against springback: the strain that brings the whole section past yield in tension.

    For a thin sheet on a large radius, from ten thicknesses.
    """
    step(
        radius / thickness,
        "R/T",
        "",
        "radius over thickness",
        at_least="10",
        wrong="the radius is {value} times the thickness; the rule is for thin sheet, from 10",
    )
    half = step(thickness / 2, "h", "mm", "half the thickness")
    stretch: Amount = half / radius + yield_strength / modulus
    return stretch
