"""Alloy, temper and thickness in; the least inside radius, and the nose bar that keeps it, out."""

from __future__ import annotations

import bisect
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import (
    Example,
    Second,
    calculation,
    choice,
    given,
    gives,
    key,
    looked_up,
)
from generator.calculations.bending import HANDBOOK, LeastRatio, MostRatio, WideThickness
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import largest, step
from generator.quantities.units import unit
from generator.quantities.window import Window, window

GUIDES = (
    "table of the row; a sheet between two printed thicknesses belongs to the thicker, which "
    "never asks for less"
)
KALPAKJIAN = "Kalpakjian & Schmid, Manufacturing Engineering and Technology, 6th ed., p. 418"
BENDS_LIKE = (
    "any bend but a cold one of 90°, for which the tables hold; bend lines along the grain; "
    "scratched or sheared edges; what another guide asks, for guides differ: compare them. For "
    "annealed sheet the multiples allow 0 T where FAA-H-8083-31 asks about 1 T, and the radii ask "
    "mostly for more than the multiples. A least radius of 0 is a sharp bend in the table's words "
    "and no advice to make one: take the radius of the other guide, or a test strip of the batch"
)


@dataclass(frozen=True)
class RadiusRow:
    """A row of a table of least radii: it holds for this alloy, temper and sheet only."""

    guide: Annotated[str, key("guide: multiples of the thickness, or radii as printed")]
    alloy: Annotated[str, key("alloy and temper, as the table prints it")]
    sheet: Annotated[str, key("sheet thickness that the table prints, the next not below")]
    over: Annotated[Amount, given("T_over", "mm", "sheet of the row before")]
    up_to: Annotated[Amount, given("T_to", "mm", "sheet of the row")]
    times: Annotated[Amount, given("m", "", "thicknesses that the radius is at least")]
    least: Annotated[Amount, given("R_t", "mm", "radius that the row prints")]


@dataclass(frozen=True)
class LeastRadius:
    """The least radius, and the radii for which the bend allowance is known too."""

    least: Annotated[Amount, gives("R_least", "mm", "least inside radius", to="0.01", safe="up")]
    window: Annotated[Window, gives("R", "mm", "inside radius that goes", to="0.01")]


def _in_half_thicknesses(row: Any, thickness: float) -> float:
    """The table steps by halves: so many half thicknesses, or the radius that it prints."""
    halves = [thickness / 2] * round(2 * row.times)
    radius: float = max(sum(halves), row.least)
    return radius


def _least_in_halves(
    row: Any, thickness: float, least_ratio: float, most_ratio: float
) -> LeastRadius:
    least = _in_half_thicknesses(row, thickness)
    goes = Window(sorted([least, thickness * least_ratio])[1], thickness * most_ratio, "", "")
    made: Any = LeastRadius
    bare: LeastRadius = made(least, goes)
    return bare


Row = Annotated[RadiusRow, looked_up("bend_radius")]
PartRadius = Annotated[
    Amount, given("R", "mm", "inside bend radius", at_least="0.3", at_most="140")
]


@calculation(
    source=GUIDES,
    not_covered=BENDS_LIKE,
    second=Second(_least_in_halves, "0.001 %", "half thicknesses, counted and added"),
    examples=(
        Example(
            {
                "guide": "multiples",
                "alloy": "5052-H32",
                "sheet": "1/16 in",
                "thickness": "0.0625 in",
            },
            {"least": "0.0625 in"},
            "Aluminum Design Manual, Part VII, Table 3-1: 1 T",
        ),
        Example(
            {"guide": "multiples", "alloy": "2024-T3", "sheet": "1/16 in", "thickness": "0.040 in"},
            {"least": "0.16 in"},
            f"{HANDBOOK}, step 1 of the U-channel: .040 2024-T3",
        ),
        Example(
            {"guide": "radii", "alloy": "2024-T3", "sheet": "0.032 in", "thickness": "0.032 in"},
            {"least": "0.12 in"},
            "aircraft extrusion supplier's bend-radius table",
        ),
    ),
)
def least_radius(
    row: Row, thickness: WideThickness, least_ratio: LeastRatio, most_ratio: MostRatio
) -> LeastRadius:
    """Least inside radius: what the table asks of this alloy and temper at this thickness.

    The window also keeps the bend allowance inside its formula, 0.5 to 10 thicknesses.
    """
    least = step(_least(row, thickness), "R_least", "mm", "least inside radius")
    goes = window(
        {"the table": least, "the allowance formula": least_ratio * thickness},
        {"the allowance formula": most_ratio * thickness},
    )
    return LeastRadius(least, goes)


def _least(row: RadiusRow, thickness: Any) -> Any:
    step(
        thickness,
        "T",
        "mm",
        "sheet thickness",
        above=row.over,
        at_most=row.up_to,
        wrong=f"sheet of {{value}} does not belong to the row of {row.sheet}",
    )
    return largest(row.times * thickness, row.least)


@dataclass(frozen=True)
class Allowed:
    """A radius against the least one."""

    least: Annotated[Amount, gives("R_least", "mm", "least inside radius", to="0.01", safe="up")]
    spare: Annotated[
        Amount, gives("ΔR", "mm", "radius above the least", to="0.01", safe="down", at_least="0")
    ]


def _allowed_in_halves(row: Any, thickness: float, radius: float) -> Allowed:
    least = _in_half_thicknesses(row, thickness)
    made: Any = Allowed
    bare: Allowed = made(least, -(least - radius))
    return bare


@calculation(
    source=GUIDES,
    not_covered=BENDS_LIKE,
    second=Second(_allowed_in_halves, "0.001 %", "half thicknesses, counted and added"),
    examples=(
        Example(
            {
                "guide": "multiples",
                "alloy": "2024-T3",
                "sheet": "1/16 in",
                "thickness": "0.040 in",
                "radius": "0.25 in",
            },
            {"least": "0.16 in"},
            f"{HANDBOOK}, step 1 of the U-channel: .040 2024-T3",
        ),
    ),
)
def radius_allowed(row: Row, thickness: WideThickness, radius: PartRadius) -> Allowed:
    """Radius that is allowed: the radius of the part against the least one of its sheet.

    Refuses a radius below it: a bigger nose bar, a softer temper, or an approval.
    """
    least = step(_least(row, thickness), "R_least", "mm", "least inside radius")
    step(
        radius,
        "R",
        "mm",
        "inside bend radius",
        at_least=least,
        wrong=f"R {{value}} is below the least radius of {row.alloy} at this thickness; take a "
        "bigger nose bar, a softer temper, or an approval",
    )
    return Allowed(least, radius - least)


@dataclass(frozen=True)
class NoseBar:
    """The nose bar for a bend."""

    radius: Annotated[Amount, gives("R", "mm", "radius of the nose bar", to="0.01", settled=True)]
    spare: Annotated[
        Amount, gives("ΔR", "mm", "radius above the least", to="0.01", safe="down", at_least="0")
    ]


def _by_place(least: float, bars: tuple[float, ...], grain: str) -> NoseBar:
    """The place of the least radius among the sorted bars; one place on along the grain."""
    sizes = sorted(set(bars))
    place = bisect.bisect_left(sizes, least * (1 - 1e-12))
    chosen = sizes[place + (grain == "along")]
    made: Any = NoseBar
    bare: NoseBar = made(chosen, chosen - least)
    return bare


@calculation(
    source="common practice, no source: the smallest bar that goes; the next one along the grain",
    not_covered="grain at another angle, which counts as along; whether the bar gives its own "
    "radius: springback",
    method="the shop's bars gone through one by one for the smallest that is not below the least "
    "radius; along the grain, the smallest above that one",
    second=Second(_by_place, "0.001 %", "place among the sorted bars"),
    examples=(
        Example(
            {
                "least": "2.9 mm",
                "bars": ["1.6 mm", "3.2 mm", "2.4 mm", "4.8 mm"],
                "grain": "across",
            },
            {"radius": "3.2 mm", "spare": "0.3 mm"},
            "common practice, no source",
        ),
        Example(
            {
                "least": "2.9 mm",
                "bars": ["1.6 mm", "3.2 mm", "2.4 mm", "4.8 mm"],
                "grain": "along",
            },
            {"radius": "4.8 mm", "spare": "1.9 mm"},
            "common practice, no source: next radius up",
        ),
    ),
)
def nose_bar(
    least: Annotated[
        Amount, given("R_least", "mm", "least inside radius", at_least="0", at_most="140")
    ],
    bars: Annotated[
        tuple[Amount, ...], given("R", "mm", "radius of nose bar", above="0", at_most="140")
    ],
    grain: Annotated[str, choice("way the bend line runs to the grain", "across", "along")],
) -> NoseBar:
    """Nose bar: which of the shop's bars goes into the brake.

    Across the grain the smallest bar not below the least radius; along it the next bigger one.
    """
    floor: Any = least
    sizes: Any = bars
    chosen = _smallest([bar for bar in sizes if bar >= floor * (1 - 1e-12)], floor)
    if grain == "along":
        chosen = _smallest([bar for bar in sizes if bar > chosen * (1 + 1e-12)], chosen)
    made: Any = NoseBar
    found: NoseBar = made(chosen, chosen - floor)
    return found


def _smallest(fit: list[float], needed: float) -> float:
    if not fit:
        shown = f"{unit('mm').from_base(needed):.6g} mm"
        wrong = f"no nose bar is big enough: {shown} is the most that is asked or there"
        raise Refusal("range", wrong, "a bigger bar, a softer temper, or an approval")
    return min(fit)


def _by_outer_strain(thickness: float, reduction: float) -> float:
    """The radius whose outside stretches as far as the test bar when it breaks."""
    true = reduction / (1 - reduction)  # stretch at fracture, the volume kept
    return (thickness / true - thickness) / 2


@calculation(
    source=f"{KALPAKJIAN}, eq. 16.5",
    not_covered="the grain and the edge; a bend as good as new: at this radius the crack begins",
    second=Second(_by_outer_strain, "0.001 %", "outer fibre at the stretch of fracture"),
    examples=(
        Example(
            {"thickness": "2 mm", "reduction": "20 %"},
            {"": "3.0 mm"},
            f"{KALPAKJIAN}, eq. 16.5 in closed form: 50/20 − 1 = 1.5 thicknesses",
        ),
    ),
)
def least_radius_by_ductility(
    thickness: WideThickness,
    reduction: Annotated[
        Amount,
        given(
            "r",
            "%",
            "reduction of area in the tensile test",
            at_least="5",
            at_most="50",
            beyond="From 50 % on the sheet folds onto itself and the formula says nothing",
        ),
    ],
    half: Annotated[Amount, given("r_0", "%", "reduction at which R is zero", fixed="50 %")],
) -> Annotated[Amount, gives("R_min", "mm", "radius at which cracks begin", to="0.1", safe="up")]:
    """Radius at which cracks begin, from ductility: for a sheet that no table of radii has.

    A textbook estimate from the reduction of area; never a substitute for a table row.
    """
    radius: Amount = thickness * (half / reduction) - thickness
    return radius


def _by_two_arcs(thickness: float, radius: float) -> float:
    """The outside arc against the arc at mid thickness, for any angle."""
    outside, middle = radius + thickness, radius + thickness / 2
    return (outside - middle) / middle


@calculation(
    source=f"{KALPAKJIAN}, eq. 16.4",
    not_covered="the neutral axis, which moves inwards on a tight bend; thinning",
    second=Second(_by_two_arcs, "0.001 %", "outside arc against the arc at mid thickness"),
    examples=(
        Example(
            {"thickness": "1 mm", "radius": "4 mm"},
            {"": "11.11 %"},
            f"{KALPAKJIAN}, eq. 16.4 in closed form: 1/(2·4 + 1)",
        ),
    ),
)
def outer_fibre_strain(
    thickness: WideThickness, radius: PartRadius
) -> Annotated[Amount, gives("e", "%", "strain of the outside", to="0.1", safe="up")]:
    """Strain of the outside of a bend, with the neutral axis at mid thickness."""
    strain: Amount = thickness / (2 * radius + thickness)
    return strain
