"""A cone between two circles in; its slant, the arcs and the sector of its flat pattern out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import pi_times, sin, square_root, step

OUT, MIDDLE = "outside", "middle of the sheet"
DRAFTING = "Sheet Metal Drafting (1921)"
GEOMETRY = (
    "geometry of the cone; the middle of a sheet lies T/2 square to it, which is T over the "
    "cosine of the half angle in a diameter (common practice takes T)"
)

Large = Annotated[
    Amount, given("D_1", "mm", "large diameter", above="0", at_most="4000", at_bench="0.5")
]
Small = Annotated[
    Amount, given("D_2", "mm", "small diameter", at_least="0", at_most="4000", at_bench="0.5")
]
Height = Annotated[
    Amount, given("H", "mm", "height between the two circles", above="0", at_most="4000")
]
Sheet = Annotated[Amount, given("T", "mm", "sheet thickness", at_least="0", at_most="6")]
Measured = Annotated[str, choice("where the diameters are measured", OUT, MIDDLE)]


@dataclass(frozen=True)
class Frustum:
    """A cone cut off square, laid flat: a part of a ring."""

    large: Annotated[Amount, gives("d_1", "mm", "large diameter, middle of the sheet", to="0.1")]
    small: Annotated[Amount, gives("d_2", "mm", "small diameter, middle of the sheet", to="0.1")]
    slant: Annotated[Amount, gives("s", "mm", "slant height", to="0.1")]
    outer: Annotated[Amount, gives("R_1", "mm", "radius of the outer arc", to="0.1")]
    inner: Annotated[Amount, gives("R_2", "mm", "radius of the inner arc", to="0.1")]
    sector: Annotated[Amount, gives("θ", "°", "angle of the sector", to="0.01")]
    chord: Annotated[Amount, gives("c_1", "mm", "chord of the outer arc", to="0.1")]
    inner_chord: Annotated[Amount, gives("c_2", "mm", "chord of the inner arc", to="0.1")]
    area: Annotated[Amount, gives("A", "mm²", "area of the pattern", to="1", safe="up")]


def middle_by_angle(
    large: float, small: float, height: float, thickness: float, measured: str
) -> tuple[float, float]:
    """Both diameters in the middle of the sheet, by the half angle."""
    half = math.atan2(large - small, 2 * height)
    away = thickness / math.cos(half) if measured == OUT else 0.0
    return large - away, small - away


def _by_apex(large: float, small: float, height: float, thickness: float, measured: str) -> Frustum:
    """From the apex: the half angle, the sector by its sine, the chords by their ends."""
    big, little = middle_by_angle(large, small, height, thickness, measured)
    half = math.atan2(big - little, 2 * height)
    arcs = [each / 2 / math.sin(half) for each in (big, little)]
    sector = 2 * math.pi * math.sin(half)
    chords = [abs(complex(r * math.cos(sector), r * math.sin(sector)) - r) for r in arcs]
    area = sector / 2 * (arcs[0] ** 2 - arcs[1] ** 2)
    made: Any = Frustum
    bare: Frustum = made(big, little, arcs[0] - arcs[1], *arcs, sector, *chords, area)
    return bare


@calculation(
    source=GEOMETRY + f"; area: {DRAFTING} section 43, mean of both circumferences times slant",
    not_covered="a cone whose axis leans, which is triangulated; laps and seams, which are added; "
    "sheet so thick that its middle stretches when it is rolled",
    second=Second(_by_apex, "0.001 %", "from the apex, by its half angle"),
    examples=(
        Example(
            {
                "large": "8 in", "small": "5 in", "height": "4 in", "thickness": "0 mm",
                "measured": OUT,
            },
            {"slant": "4.272 in", "area": "87.24 in²"},
            f"{DRAFTING} section 43: 5 and 8 in, slant 4.272 in",
        ),
        Example(
            {
                "large": "100 mm", "small": "0 mm", "height": "50 mm", "thickness": "0 mm",
                "measured": MIDDLE,
            },
            {"sector": "254.6 °"},
            "a blacksmiths' layout page: 360° times the sine of half the angle at the point, 90°",
        ),
    ),
)  # fmt: skip
def frustum(
    large: Large, small: Small, height: Height, thickness: Sheet, measured: Measured,
    turn: Annotated[Amount, given("360°", "°", "a whole turn", fixed="360°")],
) -> Frustum:  # fmt: skip
    """Cone between two circles, laid flat: radii of both arcs, angle, and chords to check by.

    Both circles are square to the axis. A small diameter of 0 mm is a whole cone.
    """
    drop = step(
        large - small, "ΔD", "mm", "large less small diameter", above="0",
        wrong="the two diameters differ by {value}: a cylinder, or the large one is the small one",
    )  # fmt: skip
    slant = step(square_root(height**2 + (drop / 2) ** 2), "s", "mm", "slant height")
    off = step(thickness * slant / height, "ΔT", "mm", "sheet, in a diameter")
    big = step(
        large - off if measured == OUT else large,
        "d_1", "mm", "large diameter, middle of the sheet", above="0",
    )  # fmt: skip
    little = step(
        small - off if measured == OUT else small,
        "d_2", "mm", "small diameter, middle of the sheet", at_least="0",
        wrong="the sheet is thicker than the small end is wide",
    )  # fmt: skip
    outer = step(
        slant * big / drop, "R_1", "mm", "radius of the outer arc", at_most="20000",
        wrong="the outer arc has a radius of {value}, longer than a trammel: lay out the lines",
    )  # fmt: skip
    inner = step(outer - slant, "R_2", "mm", "radius of the inner arc")
    sector = step(turn * big / (2 * outer), "θ", "°", "angle of the sector", at_most="340")
    half = step(sector / 2, "θ_h", "°", "half the angle")
    chord, inner_chord = 2 * outer * sin(half), 2 * inner * sin(half)
    area = pi_times(big + little) / 2 * slant
    return Frustum(big, little, slant, outer, inner, sector, chord, inner_chord, area)
