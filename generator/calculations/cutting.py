"""Metal, tool, diameter and machine in; spindle speed, feed and time of a cut out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import (
    Example,
    Second,
    calculation,
    count,
    given,
    gives,
    key,
    looked_up,
)
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import pi_times, step

DEFINITION = "n = V / (π D) (definition of the cutting speed)"
GUIDE = "a worn edge, a thin wall, a long overhang, a cut that hammers: slower; the machine's own "
GUIDE += "highest speed"
Diameter = Annotated[
    Amount,
    given("D", "mm", "diameter of the tool, of the work where that turns", at_least="0.3",
          at_most="1000", at_bench="0.1"),
]  # fmt: skip
CuttingSpeed = Annotated[Amount, given("V", "m/min", "cutting speed", at_least="1", at_most="1000")]
Spindle = Annotated[
    Amount, given("n", "rpm", "speed of the spindle", at_least="1", at_most="30000")
]


def _by_turns(cutting_speed: float, diameter: float) -> float:
    """How often the way round goes into the way of a second."""
    radius = diameter / 2
    return cutting_speed / (2 * math.pi * radius)


Speed = Annotated[Amount, gives("n", "rpm", "speed of the spindle", to="1", safe="down")]


@calculation(
    source=f"{DEFINITION}; shops also reckon with 3.82 or 4 for 12/π: 4 gives 4.7 % more",
    not_covered=GUIDE,
    second=Second(_by_turns, "0.001 %", "the way round by the radius"),
    examples=(
        Example(
            {"cutting_speed": "100 ft/min", "diameter": "0.5 in"},
            {"": "764 rpm"},
            "a public shop reference page, drilling formulae, 1/2 in drill in mild steel",
        ),
    ),
)
def spindle_speed(cutting_speed: CuttingSpeed, diameter: Diameter) -> Speed:
    """Speed of a spindle for a cutting speed at a diameter."""
    around: Amount = pi_times(diameter)
    return cutting_speed / around


@dataclass(frozen=True)
class SpeedRow:
    """A fastest cutting speed: it holds for this material, tool and work only."""

    material: Annotated[str, key("material, as the table prints it")]
    tool: Annotated[str, key("what the edge is made of")]
    work: Annotated[str, key("what is done, as the table prints it")]
    fastest: Annotated[Amount, given("V_max", "ft/min", "fastest cutting speed of the row")]


@dataclass(frozen=True)
class SpeedByTable:
    """A speed, and how it stands to the table."""

    speed: Annotated[Amount, gives("n", "rpm", "speed of the spindle", to="1", safe="down")]
    largest: Annotated[
        Amount, gives("n_max", "rpm", "speed at the fastest of the table", to="1", safe="down")
    ]


def _by_table_again(row: Any, cutting_speed: float, diameter: float) -> SpeedByTable:
    """The largest speed first, and the share of it that is cut at."""
    made: Any = SpeedByTable
    largest = row.fastest / (2 * math.pi * (diameter / 2))
    bare: SpeedByTable = made(largest * (cutting_speed / row.fastest), largest)
    return bare


@calculation(
    source=f"{DEFINITION}; fastest speeds by the table's row",
    not_covered=GUIDE,
    second=Second(_by_table_again, "0.001 %", "the share of the largest speed"),
    examples=(
        Example(
            {
                "material": "aluminium alloys", "tool": "high-speed steel",
                "work": "turning or milling", "cutting_speed": "200 ft/min", "diameter": "0.5 in",
            },
            {"largest": "2292 rpm", "speed": "1528 rpm"},
            "a lathe maker's manual: 300 ft/min, 1/2 in; it prints 2400 by the shop's 4, that is "
            "2400 · 12/(4 π) = 2292; 200 of the 300 ft/min are two thirds of it",
        ),
    ),
)  # fmt: skip
def spindle_speed_by_table(
    row: Annotated[SpeedRow, looked_up("cutting_speed")],
    cutting_speed: CuttingSpeed,
    diameter: Diameter,
) -> SpeedByTable:
    """Speed of a spindle for a material and a tool, refused above the fastest of the table."""
    held = step(
        cutting_speed, "V", "m/min", "cutting speed", at_most=row.fastest,
        wrong="{value} is faster than the table allows for this material, tool and work",
    )  # fmt: skip
    around = step(pi_times(diameter), "U", "mm", "way round")
    return SpeedByTable(held / around, row.fastest / around)


# --- the machine -------------------------------------------------------------------------------


@dataclass(frozen=True)
class MachineRow:
    """The speeds that a machine has."""

    machine: Annotated[str, key("machine, as the workshop calls it")]
    speeds: Annotated[tuple[Amount, ...], given("n", "rpm", "speeds of the machine")]


@dataclass(frozen=True)
class MachineSpeed:
    """The speed that is set."""

    speed: Annotated[Amount, gives("n", "rpm", "speed that is set", to="0.1", settled=True)]
    share: Annotated[Amount, gives("s_n", "%", "of the wanted speed", to="0.1")]


def _last_below(wanted: float, row: Any) -> MachineSpeed:
    """The speeds walked up until one is too fast."""
    taken = 0.0
    for speed in sorted(row.speeds):
        if speed > wanted * (1 + 1e-9):
            break
        taken = speed
    made: Any = MachineSpeed
    bare: MachineSpeed = made(taken, 1 - (wanted - taken) / wanted)
    return bare


@calculation(
    source="nearest lower speed (common practice, no source); the speeds are those of the "
    "machine's row",
    not_covered="a spindle whose speeds changed with a new belt or motor: measure them again",
    method="the fastest of the machine's speeds that is not above the wanted one",
    second=Second(_last_below, "0.001 %", "the speeds walked up until one is too fast"),
    examples=(
        Example(
            {"wanted": "764 rpm", "machine": "series R20/3"},
            {"speed": "710 rpm", "share": "92.9 %"},
            "ISO 229 (from memory), series R20/3: 500, 710, 1000; 710/764",
        ),
    ),
)
def machine_speed(
    wanted: Annotated[Amount, given("n_w", "rpm", "wanted speed", at_least="1", at_most="30000")],
    row: Annotated[MachineRow, looked_up("spindle_speeds")],
) -> MachineSpeed:
    """Speed that the machine really has: the nearest one that is not faster than the wanted."""
    numbers: Any = (wanted, row)
    fastest, held = numbers
    slower = [speed for speed in held.speeds if speed <= fastest * (1 + 1e-9)]
    if not slower:
        shown = f"{60 * min(held.speeds):g} rpm"
        wrong = (
            f"the slowest speed of the machine, {shown}, is above the wanted {60 * fastest:.4g} rpm"
        )
        raise Refusal("range", wrong, "another machine, or a smaller tool")
    made: Any = MachineSpeed
    taken = max(slower)
    found: MachineSpeed = made(taken, taken / fastest)
    return found


# --- feed and time -----------------------------------------------------------------------------

Advance = Annotated[Amount, given("f", "mm/rev", "feed a turn", at_least="0.005", at_most="5")]


@dataclass(frozen=True)
class Feed:
    """How fast a cutter moves on."""

    feed: Annotated[Amount, gives("v_f", "mm/min", "feed", to="1", safe="down")]
    advance: Annotated[Amount, gives("f", "mm/rev", "feed a turn", to="0.001")]


def _by_chips(speed: float, teeth: int, per_tooth: float) -> Feed:
    """The teeth that come by in a second, one chip each."""
    made: Any = Feed
    bare: Feed = made(speed * teeth * per_tooth, sum([per_tooth] * teeth))
    return bare


@calculation(
    source="v_f = n z f_z (definition of the feed a tooth)",
    not_covered="how large the feed of a tooth may be: the cutter's maker says",
    second=Second(_by_chips, "0.001 %", "the teeth that come by, one chip each"),
    examples=(
        Example(
            {"speed": "950 rpm", "teeth": "4", "per_tooth": "0.05 mm"},
            {"feed": "190 mm/min", "advance": "0.2 mm/rev"},
            "visible arithmetic: 950 · 4 · 0.05; 4 · 0.05",
        ),
    ),
)
def milling_feed(
    speed: Spindle,
    teeth: Annotated[int, count("z", "teeth of the cutter", 1, 60)],
    per_tooth: Annotated[Amount, given("f_z", "mm", "feed a tooth", at_least="0.001", at_most="2")],
) -> Feed:
    """Feed of a milling cutter by the feed of one tooth."""
    advance = step(teeth * per_tooth, "f", "mm/rev", "feed a turn")
    return Feed(advance * speed, advance)


@dataclass(frozen=True)
class CutTime:
    """How long a cut takes."""

    feed: Annotated[Amount, gives("v_f", "mm/min", "feed", to="1", safe="down")]
    time: Annotated[Amount, gives("t_c", "min", "time for all cuts", to="0.1", safe="up")]


def _by_revolutions(
    length: float, approach: float, speed: float, advance: float, cuts: int
) -> CutTime:
    """The turns that the way takes, and the time that these take."""
    made: Any = CutTime
    turns = cuts * (length + approach) / advance
    bare: CutTime = made(1 / (1 / advance / speed), turns / speed)
    return bare


@calculation(
    source="v_f = n f; t = cuts · way / v_f (definition of the feed)",
    not_covered="time to set up, to measure, to clear the chips and to go back",
    second=Second(_by_revolutions, "0.001 %", "the turns that the way takes"),
    examples=(
        Example(
            {
                "length": "100 mm", "approach": "20 mm", "speed": "600 rpm",
                "advance": "0.2 mm/rev", "cuts": "3",
            },
            {"feed": "120 mm/min", "time": "3.0 min"},
            "visible arithmetic: 600 · 0.2; 3 · 120/120",
        ),
    ),
)  # fmt: skip
def cut_time(
    length: Annotated[
        Amount, given("l", "mm", "length of the cut", above="0", at_most="10000", at_bench="1")
    ],
    approach: Annotated[
        Amount, given("l_a", "mm", "way before and behind it", at_least="0", at_most="1000")
    ],
    speed: Spindle,
    advance: Advance,
    cuts: Annotated[int, count("i", "cuts", 1, 1000)],
) -> CutTime:
    """Time of a cut, or of several that are alike, and the feed to set."""
    feed = step(speed * advance, "v_f", "mm/min", "feed")
    return CutTime(feed, cuts * (length + approach) / feed)
