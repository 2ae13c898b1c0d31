"""Angles in their many forms in; the same angle in another form out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.calculations.hinge_bases import tilt_of
from generator.calculations.space import cross, unit_vector
from generator.quantities.amount import Amount
from generator.quantities.functions import arcsin, arctan, cos, sin, step, tan

COMPOUND = (
    "tan ψ = tan α / tan β, tan² θ = tan² α + tan² β (Machinery's Handbook, 31st ed., p. 121)"
)
NORMAL = "normal of the plane by a cross product"
Slope = {"at_least": "-44", "at_most": "44"}


@dataclass(frozen=True)
class Compound:
    """A plane by its steepest slope."""

    tilt: Annotated[Amount, gives("θ", "°", "true tilt", to="0.001")]
    azimuth: Annotated[
        Amount, gives("ψ", "°", "azimuth of the high side, from y, plus towards x", to="0.1")
    ]


def _compound_by_normal(along: float, across: float) -> Compound:
    x, y, z = unit_vector(
        cross((1.0, 0.0, math.tan(along)), (0.0, 1.0, math.tan(across))), "the normal"
    )
    made: Any = Compound
    bare: Compound = made(math.atan2(math.hypot(x, y), z), math.atan2(-x, -y))
    return bare


@calculation(
    source=COMPOUND,
    not_covered="slopes that were not measured in two upright planes at right angles; a vice that "
    "is swung before it is tilted by two axes: its second angle is another one",
    second=Second(_compound_by_normal, "0.0001", NORMAL),
    examples=(
        Example(
            {"along": "20°", "across": "15°"},
            {"tilt": "24.3212 °", "azimuth": "53.6401 °"},
            "Machinery's Handbook, 31st ed., p. 121, the formulas for 20° and 15°",
        ),
    ),
    figures=("tilt-plan",),
)
def compound_angle(
    along: Annotated[Amount, given("α", "°", "slope along x, plus rises with x", **Slope)],
    across: Annotated[Amount, given("β", "°", "slope along y, plus rises with y", **Slope)],
) -> Compound:
    """Compound angle: true tilt and azimuth of a face from its two slopes."""
    ahead = step(tan(along), "a", "", "tangent of α")
    aside = step(tan(across), "b", "", "tangent of β")
    return Compound(*tilt_of(ahead, aside, ""))


@dataclass(frozen=True)
class TwoSlopes:
    """A plane by its slopes in two directions."""

    along: Annotated[Amount, gives("α", "°", "slope along x, plus rises with x", to="0.001")]
    across: Annotated[Amount, gives("β", "°", "slope along y, plus rises with y", to="0.001")]


def _slopes_by_normal(tilt: float, azimuth: float) -> TwoSlopes:
    """The normal leans away from the high side."""
    x, y, z = (
        -math.sin(tilt) * math.sin(azimuth), -math.sin(tilt) * math.cos(azimuth), math.cos(tilt),
    )  # fmt: skip
    made: Any = TwoSlopes
    bare: TwoSlopes = made(math.atan2(-x, z), math.atan2(-y, z))
    return bare


@calculation(
    source=COMPOUND,
    not_covered="an azimuth counted from another line or the other way round: look at the figure",
    second=Second(_slopes_by_normal, "0.0001", "slopes of the normal"),
    examples=(
        Example(
            {"tilt": "24.3212°", "azimuth": "53.6401°"},
            {"along": "20.000 °", "across": "15.000 °"},
            "Machinery's Handbook, 31st ed., p. 121, the formulas for 20° and 15°, turned round",
        ),
    ),
    figures=("tilt-plan",),
)
def compound_slopes(
    tilt: Annotated[Amount, given("θ", "°", "true tilt", at_least="0", at_most="45")],
    azimuth: Annotated[
        Amount,
        given("ψ", "°", "azimuth of the high side, from y, plus towards x", at_least="-180",
              at_most="180"),
    ],
) -> TwoSlopes:  # fmt: skip
    """Slopes of a face along two directions from its true tilt and azimuth."""
    steep = step(tan(tilt), "t", "", "tangent of the tilt")
    return TwoSlopes(arctan(steep * sin(azimuth)), arctan(steep * cos(azimuth)))


# --- ways to write an angle --------------------------------------------------------------------


def _by_seconds(degrees: float, minutes: float, seconds: float, one: float) -> float:
    """All of it in seconds of arc."""
    second = math.pi / 180 / 3600
    whole = round(math.degrees(degrees) * 3600, 9) + minutes * 60 + seconds
    return whole * second


@calculation(
    source="1° = 60′, 1′ = 60″ (definition)",
    not_covered="an angle below zero: turn it round",
    second=Second(_by_seconds, "0.0000001", "all of it in seconds"),
    examples=(
        Example(
            {"degrees": "23°", "minutes": "41", "seconds": "0"},
            {"": "23.683333 °"},
            "TC 9-524 appendix C: 23° 41′ (sine 0.40168)",
        ),
    ),
)
def angle_of_minutes(
    degrees: Annotated[Amount, given("A", "°", "whole degrees", at_least="0", at_most="360")],
    minutes: Annotated[Amount, given("m", "", "minutes of arc", at_least="0", at_most="59.9999")],
    seconds: Annotated[Amount, given("s", "", "seconds of arc", at_least="0", at_most="59.9999")],
    one: Annotated[Amount, given("u", "°", "one degree", fixed="1°")],
) -> Annotated[Amount, gives("φ", "°", "angle in degrees", to="0.000001")]:
    """Angle in degrees from degrees, minutes and seconds of arc."""
    return degrees + (minutes / 60 + seconds / 3600) * one


@dataclass(frozen=True)
class TaperAngle:
    """The angles of a taper."""

    whole: Annotated[Amount, gives("2α", "°", "whole angle of the taper", to="0.0001")]
    half: Annotated[Amount, gives("α", "°", "half of it, to set the slide", to="0.0001")]


def _taper_by_sides(large: float, small: float, length: float) -> TaperAngle:
    """The angle between both sides."""
    half = math.atan2(large / 2 - small / 2, length)
    made: Any = TaperAngle
    bare: TaperAngle = made(half + half, half)
    return bare


@calculation(
    source="tan α = (D − d) / (2 l) (geometry)",
    not_covered="a length measured along the side, not along the axis",
    second=Second(_taper_by_sides, "0.00001", "angle between both sides"),
    examples=(
        Example(
            {"large": "1.5 in", "small": "1 in", "length": "12 in"},
            {"whole": "2.3870 °", "half": "1.1935 °"},
            "2 arctan(T/24) for a taper of 1/2 in to the foot (closed form)",
        ),
    ),
)
def taper_angle(
    large: Annotated[
        Amount, given("D", "mm", "large diameter", above="0", at_most="2000", at_bench="0.01")
    ],
    small: Annotated[
        Amount, given("d", "mm", "small diameter", at_least="0", at_most="2000", at_bench="0.01")
    ],
    length: Annotated[
        Amount, given("l", "mm", "length between them, along the axis", above="0", at_most="5000")
    ],
) -> TaperAngle:
    """Angle of a taper from two diameters and the length between them."""
    fall = step(
        (large - small) / 2, "h", "mm", "fall of one side", at_least="0",
        wrong="the small diameter is the larger one",
    )  # fmt: skip
    half = step(arctan(fall / length), "α", "°", "half of the angle")
    return TaperAngle(2 * half, half)


def _by_run(front: float, rear: float, length: float) -> float:
    """The run along the level first."""
    rise = front - rear
    return math.atan2(rise, math.sqrt(length * length - rise * rise))


@calculation(
    source="sin φ = (h₁ − h₂) / l (geometry)",
    not_covered="heights that were not taken from one level; a chord that is not the drawing's",
    second=Second(_by_run, "0.00001", "from the run along the level"),
    examples=(
        Example(
            {"front": "812.4 mm", "rear": "791.6 mm", "length": "950 mm"},
            {"": "1.25458 °"},
            "arcsin(20.8/950) (closed form)",
        ),
    ),
)
def slope_of_heights(
    front: Annotated[
        Amount,
        given(
            "h₁",
            "mm",
            "height of the front point",
            at_least="-5000",
            at_most="5000",
            at_bench="0.1",
        ),
    ],
    rear: Annotated[
        Amount,
        given(
            "h₂", "mm", "height of the rear point", at_least="-5000", at_most="5000", at_bench="0.1"
        ),
    ],
    length: Annotated[
        Amount,
        given("l", "mm", "distance of the points, in a straight line", above="0", at_most="20000"),
    ],
) -> Annotated[Amount, gives("φ", "°", "slope, plus where the front is higher", to="0.001")]:
    """Slope from two heights, such as the incidence of a chord; plus where the front is higher."""
    slope: Amount = arcsin((front - rear) / length)
    return slope
