"""A flush head and its sheet in; drill, depth of the countersink, and countersink or dimple out."""

from __future__ import annotations

import math
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
    word,
)
from generator.quantities.amount import Amount
from generator.quantities.functions import step, tan
from generator.quantities.window import Window, window

DIMPLE = "dimpling of sheet up to 0.040 in: AC 65-15A ch. 5, fig. 5-47"
Head = Annotated[Amount, given("A", "mm", "diameter of the flush head", at_least="2", at_most="40")]
Shank = Annotated[
    Amount, given("d", "mm", "diameter of the hole under the head", at_least="1", at_most="30")
]
Angle = Annotated[Amount, given("α", "°", "angle of the countersink", at_least="60", at_most="120")]
Sheet = Annotated[
    Amount, given("T", "mm", "sheet that takes the head", at_least="0.3", at_most="20",
                  at_bench="0.01")
]  # fmt: skip
Two = Annotated[Amount, given("k_α", "", "sides of the cone", fixed="2 ratio")]
MostDimple = Annotated[
    Amount, given("T_d", "mm", "thickest sheet that is dimpled", fixed="1.016 mm")
]


def _by_slant(head: float, hole: float, angle: float) -> float:
    """From the slant side of the cone."""
    slant = (head - hole) / 2 / math.sin(angle / 2)
    return slant * math.cos(angle / 2)


@dataclass(frozen=True)
class Sunk:
    """How the head is let in."""

    depth: Annotated[Amount, gives("h", "mm", "depth of the countersink", to="0.01", safe="up")]
    most: Annotated[Amount, gives("h_2", "mm", "deepest that the rule allows", to="0.01",
                                  safe="down")]  # fmt: skip
    least_sheet: Annotated[
        Amount, gives("T_1", "mm", "thinnest sheet for this countersink", to="0.01", safe="up")
    ]
    verdict: Annotated[str, word("verdict", "countersink or dimple, and by which rule")]


RULES = ("two thirds of the sheet", "70 % of the sheet")
WAYS = ("countersink", "dimple", "neither: too thin to countersink, too thick to dimple")


def _way(cut: bool, soft: bool, rule: str) -> str:
    return f"{WAYS[0] if cut else WAYS[1] if soft else WAYS[2]} (by {rule})"


def _sunk_by_slant(
    head: float, hole: float, angle: float, sheet: float, rule: str, two: float, three: float,
    seventy: float, most_dimple: float,
) -> Sunk:  # fmt: skip
    """The sheet that the cone needs, against the sheet that is there."""
    depth = _by_slant(head, hole, angle)
    needs = depth / {RULES[0]: two / three, RULES[1]: seventy}[rule]
    cut = needs <= sheet * (1 + 1e-9)
    made: Any = Sunk
    bare: Sunk = made(
        depth, depth * sheet / needs, needs,
        _way(cut, sheet <= most_dimple * (1 + 1e-9), rule),
    )  # fmt: skip
    return bare


@calculation(
    source="at the most two thirds of the sheet: common practice, no source; 70 %: light-jet "
    f"structural repair manual 51-40-08; {DIMPLE}",
    not_covered="a table of least sheets, which is another rule: countersink_by_table; the sheet "
    "under a dimple, which is dimpled or countersunk too; cracks at the dimple",
    method="depth of the cone from head, hole and angle, against the share of the sheet that the "
    "named rule allows; where it is deeper, a dimple in sheet up to 0.040 in",
    second=Second(_sunk_by_slant, "0.000001 mm", "the sheet that the cone needs"),
    examples=(
        Example(
            {
                "head": "0.225 in",
                "hole": "0.125 in",
                "angle": "100°",
                "sheet": "0.064 in",
                "rule": "two thirds of the sheet",
            },
            {"depth": "0.042 in"},
            "MS20426 (from memory), 1/8 rivet",
        ),
    ),
)
def countersink_or_dimple(
    head: Head,
    hole: Shank,
    angle: Angle,
    sheet: Sheet,
    rule: Annotated[str, choice("rule for the deepest countersink", *RULES)],
    two: Two,
    three: Annotated[Amount, given("k_3", "", "thirds of a sheet", fixed="3 ratio")],
    seventy: Annotated[Amount, given("k_7", "", "seven tenths", fixed="0.7 ratio")],
    most_dimple: MostDimple,
) -> Sunk:
    """Countersink or dimple for a flush head, by the rule that is named beside the verdict."""
    wide: Any = head - hole
    half: Any = angle / two
    both: Any = two
    depth = wide / (both * math.tan(half))
    room: Any = sheet
    dimpled: Any = most_dimple
    most = room * (two / three if rule == RULES[0] else seventy)
    cut = depth <= most * (1 + 1e-9)
    soft = room <= dimpled * (1 + 1e-9)
    made: Any = Sunk
    found: Sunk = made(depth, most, depth * room / most, _way(cut, soft, rule))
    return found


@dataclass(frozen=True)
class SheetRow:
    """A least sheet: it holds for this guide and fastener only."""

    guide: Annotated[str, key("guide, as the table names it")]
    fastener: Annotated[str, key("fastener, as the table prints it")]
    thickness: Annotated[Amount, given("T_1", "mm", "least sheet of the row")]


@dataclass(frozen=True)
class ByTable:
    """How the head is let in, by a table."""

    least: Annotated[Amount, gives("T_1", "mm", "thinnest sheet of the table", to="0.001",
                                   safe="up")]  # fmt: skip
    spare: Annotated[Amount, gives("ΔT", "mm", "sheet over the thinnest", to="0.001",
                                   safe="down")]  # fmt: skip
    verdict: Annotated[str, word("verdict", "countersink or dimple, and by which guide")]


def _table_by_ratio(row: Any, sheet: float, most_dimple: float) -> ByTable:
    ratio = sheet / row.thickness
    made: Any = ByTable
    bare: ByTable = made(
        sheet / ratio, row.thickness * (ratio - 1),
        _way(ratio >= 1 - 1e-9, sheet / most_dimple <= 1 + 1e-9, row.guide),
    )  # fmt: skip
    return bare


@calculation(
    source=f"least sheet for a machine countersink of 100°, by the guide of the row; {DIMPLE}",
    not_covered="another angle; a rule by the depth of the cut: countersink_or_dimple; good guides "
    "are one gauge apart: the one that was followed stands in the verdict",
    method="the sheet against the thinnest that the guide's row countersinks; where it is thinner, "
    "a dimple in sheet up to 0.040 in",
    second=Second(_table_by_ratio, "0.000001 mm", "the sheet as a multiple of the row's"),
    examples=(
        Example(
            {"guide": "TM 9-2320-363-34-2", "fastener": "1/8", "sheet": "0.064 in"},
            {"least": "0.050 in", "spare": "0.014 in"},
            "TM 9-2320-363-34-2 table 4, p. 22-18: 1/8 rivet, .050",
            "0.00001 in",
        ),
    ),
)
def countersink_by_table(
    row: Annotated[SheetRow, looked_up("countersink_sheet")],
    sheet: Sheet,
    most_dimple: MostDimple,
) -> ByTable:
    """Countersink or dimple for a flush head, by a guide's table of least sheets."""
    there: Any = sheet
    needs: Any = row.thickness
    dimpled: Any = most_dimple
    cut = there >= needs * (1 - 1e-9)
    soft = there <= dimpled * (1 + 1e-9)
    made: Any = ByTable
    found: ByTable = made(needs, there - needs, _way(cut, soft, row.guide))
    return found


@dataclass(frozen=True)
class FlushRow:
    """A flush rivet and its countersink: for this rivet only."""

    rivet: Annotated[str, key("rivet, as the table prints it")]
    diameter: Annotated[Amount, given("D", "in", "diameter of the row")]
    head: Annotated[Amount, given("A", "in", "head of the row")]
    narrow: Annotated[Amount, given("A_1", "in", "least countersink of the row")]
    wide: Annotated[Amount, given("A_2", "in", "largest countersink of the row")]


@dataclass(frozen=True)
class Flush:
    """What a flush rivet needs."""

    head: Annotated[Amount, gives("A", "in", "diameter of the head", to="0.001")]
    height: Annotated[Amount, gives("h", "in", "height of the head", to="0.001", safe="up")]
    countersink: Annotated[Window, gives("A_c", "in", "diameter of the countersink", to="0.001")]


def _flush_by_slant(row: Any, angle: float, two: float) -> Flush:
    half = (row.wide - row.narrow) / 2
    made: Any = Flush
    bare: Flush = made(
        row.head,
        _by_slant(row.head, row.diameter, angle),
        Window(row.wide - 2 * half, row.narrow + 2 * half, "", ""),
    )
    return bare


@calculation(
    source="MS20426 (from memory); TM 9-2320-363-34-2 table 3, p. 22-18; height by the cone",
    not_covered="heads of another angle than 100°; shaved heads",
    second=Second(_flush_by_slant, "0.001 %", "from the slant side of the cone"),
    examples=(
        Example(
            {"rivet": "5/32"},
            {"head": "0.286 in", "height": "0.0545 in", "countersink.from": "0.283 in"},
            "MS20426 (from memory) and TM 9-2320-363-34-2 table 3: 5/32 rivet",
            "0.0001 in",
        ),
    ),
)
def flush_rivet(
    row: Annotated[FlushRow, looked_up("flush_rivet_size")],
    angle: Annotated[Amount, given("α", "°", "angle of the head", fixed="100°")],
    two: Two,
) -> Flush:
    """Flush rivet of 100°: its head, and the countersink that it sits in."""
    height = step((row.head - row.diameter) / (two * tan(angle / two)), "h", "in", "height")
    return Flush(row.head, height, window({"table": row.narrow}, {"table": row.wide}))


@dataclass(frozen=True)
class DrillRow:
    """A drill for a rivet hole: it holds for this practice, rivet and drill only."""

    practice: Annotated[str, key("practice, as the table names it")]
    rivet: Annotated[str, key("rivet, as the table prints it")]
    drill: Annotated[str, key("drill, as the table prints it")]
    nominal: Annotated[Amount, given("D", "in", "rivet of the row")]
    hole: Annotated[Amount, given("d", "in", "drill of the row")]


@dataclass(frozen=True)
class Hole:
    """A hole for a rivet."""

    hole: Annotated[Amount, gives("d", "mm", "diameter of the hole", to="0.01")]
    clearance: Annotated[Amount, gives("c", "mm", "hole over rivet", to="0.01", at_least="0")]


def _hole_by_ratio(row: Any) -> Hole:
    ratio = row.hole / row.nominal
    made: Any = Hole
    bare: Hole = made(row.nominal * ratio, row.nominal * (ratio - 1))
    return bare


@calculation(
    source="drill for a solid rivet by the practice that is named; the practices differ",
    not_covered="a drill that cuts wide; metric drills: the process types the limits of its hole",
    second=Second(_hole_by_ratio, "0.001 %", "the hole as a multiple of the rivet"),
    examples=(
        Example(
            {"practice": "FAA handbook", "rivet": "1/8", "drill": "No.30"},
            {"hole": "0.1285 in", "clearance": "0.0035 in"},
            "FAA-H-8083-31 vol. 1 ch. 4, drill size table (from memory)",
            "0.00001 in",
        ),
    ),
)
def rivet_drill(row: Annotated[DrillRow, looked_up("rivet_drill_size")]) -> Hole:
    """Drill for a solid rivet: its hole, by the practice that is named."""
    return Hole(row.hole, row.hole - row.nominal)


@dataclass(frozen=True)
class NinetyDegrees:
    """A countersunk rivet of 90°."""

    head: Annotated[Amount, gives("A", "mm", "diameter of the head", to="0.01")]
    depth: Annotated[Amount, gives("h", "mm", "depth of the head", to="0.01", safe="up")]
    length: Annotated[Amount, gives("L", "mm", "length, head and all", to="0.1")]


def _ninety_by_parts(
    diameter: float, grip: float, wide: float, deep: float, setting: float
) -> NinetyDegrees:
    made: Any = NinetyDegrees
    whole = (grip / diameter + setting) * diameter
    bare: NinetyDegrees = made(wide * diameter, (wide * diameter) * (deep / wide), whole)
    return bare


@calculation(
    source="BS 4620:1970, proportions as reproduced: head 2 D wide and 0.5 D deep, 0.667 D for the "
    "other head",
    not_covered="heads of 100°: flush_rivet; rivets for aircraft, which have their own standard",
    second=Second(_ninety_by_parts, "0.001 %", "in diameters"),
    examples=(
        Example(
            {"diameter": "4 mm", "grip": "6 mm"},
            {"head": "8 mm", "depth": "2 mm", "length": "8.668 mm"},
            "BS 4620:1970 by its proportions",
            "0.001 mm",
        ),
    ),
)
def rivet_90_degrees(
    diameter: Annotated[
        Amount, given("D", "mm", "diameter of the rivet", at_least="1", at_most="39")
    ],
    grip: Annotated[
        Amount, given("G", "mm", "grip: all that the rivet holds together", above="0",
                      at_most="120")
    ],
    wide: Annotated[Amount, given("k_A", "", "diameters wide", fixed="2 ratio")],
    deep: Annotated[Amount, given("k_h", "", "diameters deep", fixed="0.5 ratio")],
    setting: Annotated[Amount, given("k_s", "", "diameters for setting", fixed="0.667 ratio")],
) -> NinetyDegrees:  # fmt: skip
    """Countersunk metric rivet of 90°: its head, and its length for a grip."""
    return NinetyDegrees(wide * diameter, deep * diameter, grip + setting * diameter)
