"""Rivets, sheets and a load in; how many a table asks for, and an estimate of what they carry."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives, key, looked_up
from generator.quantities.amount import Amount
from generator.quantities.functions import circle_area, smallest, step

CHECK = (
    "an estimate beside approved data and never in their place: load paths, unequal shares of the "
    "rivets, fatigue, tension in the rivets, the net section of the sheet"
)
ROWS = "AC 43.13-1B (9/8/98) tables 4-10 and 4-11"


@dataclass(frozen=True)
class InchRow:
    """Rivets for each inch: for this sheet, thickness and fastener only."""

    alloy: Annotated[str, key("sheet, as the table prints it")]
    sheet: Annotated[str, key("thickness of the thinnest sheet, as the table prints it")]
    fastener: Annotated[str, key("rivet, or AN-3 bolt, as the table prints it")]
    thickness: Annotated[Amount, given("T", "in", "thickness of the row")]
    each: Annotated[Amount, given("n_1", "1/in", "rivets for each inch of width")]


@dataclass(frozen=True)
class Needed:
    """How many rivets a splice takes."""

    each: Annotated[Amount, gives("n_1", "1/in", "rivets for each inch here", to="0.1", safe="up")]
    whole: Annotated[Amount, gives("N", "", "rivets, at the least", to="1", safe="up")]


PLACES = ("all of the table", "single-lap skin, 75 %", "stringers and fuselage, 80 %",
          "intermediate frames, 60 %")  # fmt: skip


def _needed_by_inch(
    row: Any, width: float, place: str, all_of: float, skin: float, fuselage: float, frames: float
) -> Needed:
    """The whole table's count, and the part of it that this place leaves out."""
    share = dict(zip(PLACES, (all_of, skin, fuselage, frames), strict=True))[place]
    whole = row.each * width
    made: Any = Needed
    left_out = whole * (1 - share)
    count = whole - left_out
    bare: Needed = made(count / width, count)
    return bare


@calculation(
    source=f"{ROWS}, and their notes on single-lap joints, stringers and frames",
    not_covered="other alloys of rivet and sheet; a sheet between two rows, which takes the "
    "thicker; rivets that must stand in a pattern; approved data",
    second=Second(_needed_by_inch, "0.001 %", "the whole count, less what the place leaves out"),
    examples=(
        Example(
            {
                "alloy": "2024-T3 Alclad",
                "sheet": "0.040 in",
                "fastener": "1/8",
                "width": "10 in",
                "place": "all of the table",
            },
            {"whole": "62"},
            f"{ROWS}: 6.2 rivets of 1/8 for each inch of 0.040 sheet",
        ),
        Example(
            {
                "alloy": "5052, all hardnesses",
                "sheet": "0.064 in",
                "fastener": "5/32",
                "width": "4 in",
                "place": "single-lap skin, 75 %",
            },
            {"whole": "13.8"},
            f"{ROWS}: 4.6 for each inch, and 75 % of it",
        ),
    ),
)
def rivets_for_sheet(
    row: Annotated[InchRow, looked_up("rivets_per_inch")],
    width: Annotated[
        Amount, given("W", "in", "width of the splice across the load", above="0", at_most="400")
    ],
    place: Annotated[str, choice("share of the table that the place asks for", *PLACES)],
    all_of: Annotated[Amount, given("k_1", "", "all of the table", fixed="1 ratio")],
    skin: Annotated[Amount, given("k_2", "", "single-lap skin", fixed="0.75 ratio")],
    fuselage: Annotated[Amount, given("k_3", "", "stringers, fuselage", fixed="0.8 ratio")],
    frames: Annotated[Amount, given("k_4", "", "intermediate frames", fixed="0.6 ratio")],
) -> Needed:
    """Count of rivets for a splice: as many as carry what the sheet carries, by the table."""
    shares = dict(zip(PLACES, (all_of, skin, fuselage, frames), strict=True))
    each = step(shares[place] * row.each, "n_p", "1/in", "rivets for each inch here")
    return Needed(each, each * width)


@dataclass(frozen=True)
class ShearRow:
    """A shear strength: it holds for this alloy and rivet only."""

    alloy: Annotated[str, key("alloy of the rivet, as the table prints it")]
    rivet: Annotated[str, key("rivet, as the table prints it")]
    hole: Annotated[Amount, given("d", "in", "hole of the row")]
    shear: Annotated[Amount, given("P_s", "lbf", "single shear of the row")]


@dataclass(frozen=True)
class Joint:
    """What a riveted joint carries by shear and by bearing."""

    shear: Annotated[Amount, gives("P_s", "lbf", "all rivets in shear", to="1", safe="down")]
    bearing: Annotated[
        Amount, gives("P_b", "lbf", "the sheet behind all rivets, in bearing", to="1",
                      safe="down")
    ]  # fmt: skip
    factor: Annotated[
        Amount, gives("n_P", "", "the lower of both over the load", to="0.01", safe="down",
                      at_least="1", beyond="The joint does not carry the load: ask the designer")
    ]  # fmt: skip


Load = Annotated[
    Amount, given("P", "lbf", "load that the joint takes", above="0", at_most="500000")
]
Rivets = Annotated[
    Amount, given("n_r", "", "fasteners that take the load", at_least="1", at_most="5000")
]
BearingSheet = Annotated[
    Amount, given("T", "in", "sheet that bears, the thinnest", at_least="0.01", at_most="1")
]
BearingStress = Annotated[
    Amount, given("F_b", "psi", "bearing strength of the sheet", at_least="1000", at_most="300000")
]


def _joint_by_each(
    row: Any, rivets: float, sheet: float, bearing_stress: float, load: float
) -> Joint:
    """One rivet, its share of the load, and all of them."""
    one, behind = row.shear, bearing_stress * sheet * row.hole
    share = load / rivets
    made: Any = Joint
    bare: Joint = made(rivets * one, rivets * behind, min(one / share, behind / share))
    return bare


@calculation(
    source="single shear of the row; bearing: hole × sheet × bearing strength",
    not_covered=CHECK,
    second=Second(_joint_by_each, "0.001 %", "one rivet and its share of the load"),
    examples=(
        Example(
            {
                "alloy": "2117-T3 (AD)",
                "rivet": "1/8",
                "rivets": "10 count",
                "sheet": "0.040 in",
                "bearing_stress": "100000 psi",
                "load": "1940 lbf",
            },
            {"shear": "3880 lbf", "bearing": "5140 lbf", "factor": "2"},
            "MIL-HDBK-5F as a public quotation has it: 388 lbf a 1/8 rivet; bearing by hand: "
            "0.1285 · 0.040 · 100000 · 10",
        ),
    ),
)
def rivet_joint_estimate(
    row: Annotated[ShearRow, looked_up("rivet_shear")],
    rivets: Rivets,
    sheet: BearingSheet,
    bearing_stress: BearingStress,
    load: Load,
) -> Joint:
    """Estimate of a riveted joint in single shear and bearing: a check, never an approval."""
    shear = step(rivets * row.shear, "P_s", "lbf", "all rivets in shear")
    bearing = step(rivets * row.hole * sheet * bearing_stress, "P_b", "lbf", "sheet in bearing")
    return Joint(shear, bearing, smallest(shear, bearing) / load)


def _shear_by_radius(stress: float, hole: float, planes: float) -> float:
    return math.pi * (hole / 2) ** 2 * stress * planes


@calculation(
    source="P = F_su π/4 d²; an AN-3 bolt by AC 43.13-1B table 4-10, note d: 75000 psi",
    not_covered=f"bending of a pin in thick sheets; {CHECK}",
    second=Second(_shear_by_radius, "0.001 %", "area from the radius"),
    examples=(
        Example(
            {"stress": "30000 psi", "hole": "0.257 in", "planes": "2 count"},
            {"": "3112 lbf"},
            "MIL-HDBK-5 / MMPDS table 8.1.2 (from memory): 1/4 rivet of 2117, twice 1556",
            "1 lbf",
        ),
        Example(
            {"stress": "75000 psi", "hole": "0.190 in", "planes": "1 count"},
            {"": "2126 lbf"},
            "AC 43.13-1B table 4-10, note d: an AN-3 bolt",
            "1 lbf",
        ),
    ),
)
def fastener_shear(
    stress: Annotated[
        Amount,
        given("F_s", "psi", "shear strength of the fastener", at_least="1000", at_most="200000"),
    ],
    hole: Annotated[
        Amount,
        given(
            "d",
            "in",
            "diameter that shears: a rivet's hole, a bolt's shank",
            at_least="0.05",
            at_most="2",
        ),
    ],
    planes: Annotated[
        Amount, given("n_s", "", "planes in which it shears", at_least="1", at_most="4")
    ],
) -> Annotated[Amount, gives("P_s", "lbf", "shear of one fastener", to="1", safe="down")]:
    """Shear of one fastener: its area and the strength of its metal. An estimate."""
    load: Amount = planes * stress * circle_area(hole)
    return load


def _bearing_by_width(hole: float, sheet: float, bearing_stress: float) -> float:
    return (bearing_stress * hole) * sheet


@calculation(
    source="P = d T F_bru: MIL-HDBK-5 table 8.1.5.1, unit bearing strength",
    not_covered=f"an edge distance under 2 D, for which the strength does not hold; {CHECK}",
    second=Second(_bearing_by_width, "0.001 %", "load for each unit of sheet, times the sheet"),
    examples=(
        Example(
            {"hole": "0.25 in", "sheet": "0.10 in", "bearing_stress": "100000 psi"},
            {"": "2500 lbf"},
            "MIL-HDBK-5 table 8.1.5.1 as quoted: 1/4 in, 0.10 in, 100 ksi",
        ),
    ),
)
def hole_bearing(
    hole: Annotated[Amount, given("d", "in", "diameter of the hole", at_least="0.05", at_most="2")],
    sheet: BearingSheet,
    bearing_stress: BearingStress,
) -> Annotated[Amount, gives("P_b", "lbf", "bearing load of one hole", to="1", safe="down")]:
    """Bearing of one hole: what the sheet behind a fastener takes. An estimate."""
    load: Amount = hole * sheet * bearing_stress
    return load


@dataclass(frozen=True)
class SunkRow:
    """Strength of a flush rivet: for this sheet and this way only."""

    sheet: Annotated[str, key("sheet, as the table prints it")]
    sunk: Annotated[str, key("how the head is let in: dimpled or countersunk")]
    ultimate: Annotated[Amount, given("P_u", "lbf", "ultimate shear of the row")]
    at_yield: Annotated[Amount, given("P_y", "lbf", "yield of the row")]


@dataclass(frozen=True)
class SunkStrength:
    """What flush rivets carry."""

    ultimate: Annotated[Amount, gives("P_u", "lbf", "ultimate, all rivets", to="1", safe="down")]
    at_yield: Annotated[Amount, gives("P_y", "lbf", "yield, all rivets", to="1", safe="down")]


def _sunk_by_sum(row: Any, rivets: float) -> SunkStrength:
    made: Any = SunkStrength
    bare: SunkStrength = made(row.ultimate / (1 / rivets), row.at_yield / (1 / rivets))
    return bare


@calculation(
    source="MIL-HDBK-5F, flush rivet joint tables, as quoted in 1995: 3/32 MS20426AD in 2024-T3",
    not_covered=f"other rivets and sheets; {CHECK}",
    second=Second(_sunk_by_sum, "0.001 %", "divided by the share of one rivet"),
    examples=(
        Example(
            {"sheet": "0.032 in", "sunk": "countersunk", "rivets": "1 count"},
            {"ultimate": "178 lbf", "at_yield": "132 lbf"},
            "MIL-HDBK-5F as quoted in 1995: 0.032 sheet",
        ),
    ),
)
def flush_rivet_strength(
    row: Annotated[SunkRow, looked_up("flush_rivet_loads")], rivets: Rivets
) -> SunkStrength:
    """Strength of 3/32 flush rivets, dimpled or countersunk: an estimate."""
    return SunkStrength(rivets * row.ultimate, rivets * row.at_yield)
