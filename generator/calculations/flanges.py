"""Joggle, curved flange, lightening hole or corner in; strains, lengths and hole sizes out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, count, given, gives
from generator.calculations.bending import HANDBOOK, Radius
from generator.quantities.amount import Amount
from generator.quantities.functions import by_range, largest, square_root, step

COMMON = "common practice, no source"
LIMIT_FROM = "the limit itself, which a coupon or the material's specification gives"
NO_BEND = (
    "the flange's own bend radius, which is taken as none: the width is that of the flat metal "
    "from the contour to the edge, not the height of the finished flange"
)


@dataclass(frozen=True)
class Joggle:
    """A joggle along the sheet."""

    extra: Annotated[Amount, gives("ΔL", "mm", "length to add to the blank", to="0.001")]
    shortest: Annotated[Amount, gives("l_min", "mm", "shortest joggle", to="0.1", safe="up")]


def _by_half_slope(depth: float, length: float, times: int) -> Joggle:
    """The depth times the tangent of half the slope; the length by adding depth to depth."""
    slope = math.atan2(depth, length)
    made: Any = Joggle
    bare: Joggle = made(depth * math.tan(slope / 2), sum([depth] * times))
    return bare


@calculation(
    source=f"{COMMON}: 6 to 8 depths in soft sheet, more in hard; the length by Pythagoras",
    not_covered="the two bends' own radii; the nearest fastener, two diameters and the outside "
    "radius away from the joggle's bend",
    second=Second(_by_half_slope, "0.001 %", "tangent of half the slope"),
    examples=(
        Example(
            {"depth": "4.1 mm", "length": "84 mm", "times": "6"},
            {"extra": "0.100 mm"},
            f"{COMMON}; the right triangle of 41, 840 and 841",
        ),
    ),
)
def joggle(
    depth: Annotated[
        Amount, given("d", "mm", "depth of the joggle", above="0", at_most="20", at_bench="0.01")
    ],
    length: Annotated[
        Amount, given("l", "mm", "length of the joggle along the sheet", above="0", at_most="500")
    ],
    times: Annotated[
        int, count("m", "depths that the joggle is long at least", at_least=6, at_most=20)
    ],
) -> Joggle:
    """Joggle: the length that it takes of the blank, and how short it may be.

    In soft sheet 6 to 8 depths; hard sheet needs more. Refuses a joggle that is shorter.
    """
    shortest = step(times * depth, "l_min", "mm", "shortest joggle")
    step(
        length,
        "l",
        "mm",
        "length of the joggle",
        at_least=shortest,
        wrong="a joggle of {value} is too short for its depth: the sheet would crack or buckle",
    )
    slope = step(square_root(depth**2 + length**2), "l_s", "mm", "length along the slope")
    return Joggle(slope - length, shortest)


Contour = Annotated[
    Amount, given("R", "mm", "contour radius at the bend", at_least="5", at_most="20000")
]
Width = Annotated[
    Amount, given("w", "mm", "width of the flange", above="0", at_most="200", at_bench="0.1")
]
StrainLimit = Annotated[
    Amount, given("e_max", "%", "strain that the sheet takes", above="0", at_most="40")
]
Whole = Annotated[Amount, given("1", "", "edge before over itself", fixed="1 ratio")]


@dataclass(frozen=True)
class FlangeStrain:
    """The edge of a curved flange."""

    strain: Annotated[Amount, gives("e", "%", "strain of the edge", to="0.1", safe="up")]
    widest: Annotated[
        Amount, gives("w_max", "mm", "widest flange at the limit", to="0.1", safe="down")
    ]


def _stretch_by_arcs(contour: float, width: float, limit: float) -> FlangeStrain:
    """An arc of one radian at the edge before, on the contour, and after, inside it."""
    before, after = contour - width, contour
    made: Any = FlangeStrain
    bare: FlangeStrain = made((after - before) / before, contour - contour / (1 + limit))
    return bare


@calculation(
    source=f"{COMMON}: the edge is cut as long as its own arc and stretched to the contour's",
    not_covered=LIMIT_FROM + "; " + NO_BEND + "; a flange not at right angles; the state of its "
    "edge, which must be polished",
    second=Second(_stretch_by_arcs, "0.001 %", "arc of the edge before and after"),
    examples=(
        Example(
            {"contour": "120 mm", "width": "10 mm", "limit": "12 %"},
            {"strain": "9.1 %"},
            f"{COMMON}; closed form",
        ),
    ),
)
def flange_stretch(
    contour: Contour, width: Width, limit: StrainLimit, whole: Whole
) -> FlangeStrain:
    """Stretch of a concave flange: how far the edge must stretch when it is turned.

    Refuses a stretch above the limit: a narrower flange, a softer temper, or notches.
    """
    inner = step(
        contour - width,
        "R_e",
        "mm",
        "radius of the edge in the flat",
        above="0",
        wrong="the flange is as wide as its contour radius: nothing is left to turn",
    )
    strain = _held(width / inner, limit, "stretch")
    spread = step(whole + limit, "λ", "", "edge after over edge before, at most")
    return FlangeStrain(strain, limit * contour / spread)


def _shrink_by_arcs(contour: float, width: float, limit: float) -> FlangeStrain:
    """An arc of one radian at the edge before, outside the contour, and after, on it."""
    before, after = contour + width, contour
    made: Any = FlangeStrain
    bare: FlangeStrain = made((before - after) / before, contour / (1 - limit) - contour)
    return bare


@calculation(
    source=f"{COMMON}: the edge is cut as long as its own arc and shrunk to the contour's",
    not_covered=LIMIT_FROM + ", here set by wrinkling; " + NO_BEND + "; a flange not at right "
    "angles",
    second=Second(_shrink_by_arcs, "0.001 %", "arc of the edge before and after"),
    examples=(
        Example(
            {"contour": "120 mm", "width": "10 mm", "limit": "9 %"},
            {"strain": "7.7 %"},
            f"{COMMON}; closed form",
        ),
    ),
)
def flange_shrink(contour: Contour, width: Width, limit: StrainLimit, whole: Whole) -> FlangeStrain:
    """Shrink of a convex flange: how far the edge must shrink when it is turned.

    Printed above zero. Refuses a shrink above the limit: narrower, crimps, or relief notches.
    """
    outer = step(contour + width, "R_e", "mm", "radius of the edge in the flat")
    strain = _held(width / outer, limit, "shrink")
    left = step(whole - limit, "λ", "", "edge after over edge before, at least")
    return FlangeStrain(strain, limit * contour / left)


def _held(strain: Any, limit: Any, what: str) -> Any:
    return step(
        strain,
        "e",
        "",
        f"{what} of the edge",
        at_most=limit,
        wrong=f"the edge must {what} by {{value}} of its length, above the limit",
    )


@dataclass(frozen=True)
class LighteningHole:
    """The lip of a flanged hole."""

    strain: Annotated[Amount, gives("e", "%", "strain of the lip", to="0.1", safe="up")]
    least_cut: Annotated[
        Amount, gives("d_min", "mm", "least cut diameter at the limit", to="0.1", safe="up")
    ]
    spare: Annotated[
        Amount, gives("c", "mm", "clear distance to spare", to="0.1", safe="down", at_least="0")
    ]


def _hole_by_rims(
    cut: float, lip: float, limit: float, flange_radius: float, clear: float
) -> LighteningHole:
    """The two rims as lengths of wire: what the cut one must grow by."""
    rims = math.pi * cut, math.pi * lip
    made: Any = LighteningHole
    grown = rims[1] / rims[0] - 1
    bare: LighteningHole = made(grown, rims[1] / (math.pi + math.pi * limit), clear - flange_radius)
    return bare


@calculation(
    source=f"{COMMON}: the rim of the cut hole becomes the rim of the lip; clear of an edge or a "
    "bend by one flange radius",
    not_covered=LIMIT_FROM + "; the die's own table, which wins; an edge that is not polished",
    second=Second(_hole_by_rims, "0.001 %", "rims before and after as lengths of wire"),
    examples=(
        Example(
            {
                "cut": "50 mm",
                "lip": "55 mm",
                "limit": "12 %",
                "flange_radius": "5 mm",
                "clear": "8 mm",
            },
            {"strain": "10.0 %", "spare": "3.0 mm"},
            f"{COMMON}; closed form",
        ),
    ),
)
def lightening_hole(
    cut: Annotated[
        Amount, given("d", "mm", "cut diameter", at_least="5", at_most="500", at_bench="0.1")
    ],
    lip: Annotated[
        Amount, given("D", "mm", "diameter of the lip when flanged", at_least="5", at_most="600")
    ],
    limit: StrainLimit,
    flange_radius: Annotated[
        Amount, given("r", "mm", "radius of the flange", at_least="0.5", at_most="50")
    ],
    clear: Annotated[
        Amount,
        given("a", "mm", "sheet left between lip and edge or bend", at_least="0", at_most="1000"),
    ],
    whole: Whole,
) -> LighteningHole:
    """Lightening hole with a flange: how far the lip stretches, and how clear of an edge it is.

    Refuses a stretch above the limit, and less than one flange radius of sheet beside the lip.
    """
    grown = step(
        lip - cut, "g", "mm", "growth of the hole", above="0", wrong="the lip grows by {value}"
    )
    strain = _held(grown / cut, limit, "stretch")
    step(
        clear,
        "a",
        "mm",
        "sheet left",
        at_least=flange_radius,
        wrong="{value} of sheet is left beside the lip: less than one flange radius",
    )
    spread = step(whole + limit, "λ", "", "lip over cut, at most")
    return LighteningHole(strain, lip / spread, clear - flange_radius)


THINNEST = "0.2"  # sheet in millimetres; what is printed says only "up to" for the thin row
FoldedSheet = Annotated[
    Amount,
    given("T", "mm", "sheet thickness", at_least=THINNEST, at_most="3.2512", at_bench="0.01"),
]
Drill = Annotated[Amount, given("D", "mm", "diameter that is drilled", at_least="3", at_most="130")]
Thinnest = Annotated[Amount, given("T₀", "mm", "thinnest of the thin row", fixed=f"{THINNEST} mm")]
Thin = Annotated[Amount, given("T₁", "in", "thickest of the thin row", fixed="0.064 in")]
Thick = Annotated[Amount, given("T₂", "in", "thinnest of the thick row", fixed="0.072 in")]
LeastOfThin = Annotated[Amount, given("D₁", "in", "least hole, thin row", fixed="0.125 in")]
LeastOfThick = Annotated[Amount, given("D₂", "in", "least hole, thick row", fixed="0.1875 in")]
LeastReach = Annotated[
    Amount, given("a₁", "in", "least reach behind the tangent lines", fixed="0.03125 in")
]
LargestReach = Annotated[
    Amount, given("a₂", "in", "largest reach behind the tangent lines", fixed="0.0625 in")
]


@dataclass(frozen=True)
class ReliefHole:
    """The hole in a corner where two bends meet."""

    least: Annotated[Amount, gives("D_min", "mm", "least hole diameter", to="0.1", safe="up")]
    nearest: Annotated[
        Amount, gives("c_min", "mm", "centre outside each tangent line, from", to="0.1", safe="up")
    ]
    farthest: Annotated[
        Amount, gives("c_max", "mm", "centre outside each tangent line, to", to="0.1", safe="down")
    ]


def _hole_by_edges(
    thickness: float,
    radius: float,
    drill: float,
    thick: float,
    small: float,
    large: float,
    near: float,
    far: float,
) -> ReliefHole:
    """The hole's far edge laid behind the lines, its centre half way to the other edge."""
    least = sorted([2 * radius, large if thickness >= thick * (1 - 1e-12) else small])[1]
    made: Any = ReliefHole
    bare: ReliefHole = made(least, *((drill - edge - edge) / 2 for edge in (far, near)))
    return bare


@calculation(
    source=f"{HANDBOOK}, folding a box. It contradicts itself: about twice the bend radius in one "
    "passage, the bend radius in another; the larger is taken",
    not_covered="bends with different radii: take the larger; sheet between 0.064 and 0.072 in, "
    "for which no least diameter is printed",
    second=Second(_hole_by_edges, "0.001 %", "from the far edge of the hole back to its centre"),
    examples=(
        Example(
            {"thickness": "0.040 in", "radius": "0.05 in", "drill": "0.125 in"},
            {"least": "0.125 in", "nearest": "0 in"},
            f"{HANDBOOK}, folding a box: 1/8 in, at the most centred where the lines meet",
            within="0.0001 in",
        ),
        Example(
            {"thickness": "0.072 in", "radius": "0.08 in", "drill": "0.1875 in"},
            {"least": "0.1875 in"},
            f"{HANDBOOK}, folding a box: 3/16 in",
        ),
    ),
)
def relief_hole(
    thickness: FoldedSheet,
    radius: Radius,
    drill: Drill,
    thinnest: Thinnest,
    thin: Thin,
    thick: Thick,
    small: LeastOfThin,
    large: LeastOfThick,
    near: LeastReach,
    far: LargestReach,
) -> ReliefHole:
    """Relief hole where two bends meet: how big, and where its centre goes.

    The hole reaches 1/32 to 1/16 in behind both inside tangent lines; its centre is measured from
    each line outwards, into the corner that is cut away.
    """
    begins = by_range(thickness / thin, "1", thinnest, thick)
    step(
        thickness,
        "T",
        "in",
        "sheet thickness",
        at_least=step(begins, "T_row", "in", "thinnest sheet of the row"),
        wrong="for sheet of {value} no least diameter is printed, only up to 0.064 in and from "
        "0.072 in",
    )
    printed = step(by_range(thickness / thin, "1", small, large), "D_t", "mm", "least by sheet")
    least = step(largest(2 * radius, printed), "D_min", "mm", "least hole diameter")
    step(
        drill,
        "D",
        "mm",
        "diameter that is drilled",
        at_least=least,
        wrong="a hole of {value} is too small for this corner",
    )
    half = step(drill / 2, "D_h", "mm", "half the hole")
    return ReliefHole(least, half - far, half - near)
