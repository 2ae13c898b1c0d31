"""Metal, furnace and thickness in; temperature, soak and quench delay of a solution treatment out.

A soak begins when the coldest metal is at temperature, not when the air of the furnace is. A quench
delay runs from the door that begins to open, or the first metal out of a salt bath, to the last
metal under.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, key, looked_up
from generator.quantities.amount import Amount
from generator.quantities.functions import step
from generator.quantities.points import between
from generator.quantities.window import Window, window

BY_ROW = "table of the row; the workshop's own specification goes before every published row"
SOAK = (
    "metal that is not wrought; a load packed so that the middle warms later; the time to come to "
    "temperature, which comes before the soak"
)
MIL_SOAK = "MIL-H-6088F, soaking times of wrought products (from memory)"
GUIDE = "specification or guide, as the table names it"
SHEET = "thickness that the table prints, the next not below"
NOT_THIS_ROW = "metal of {value} does not belong to the row "

Metal = Annotated[
    Amount,
    given("T", "mm", "thickness of the thickest metal", above="0", at_most="51", at_bench="0.01"),
]
Thinnest = Annotated[
    Amount,
    given("T", "mm", "thickness of the thinnest metal", above="0", at_most="51", at_bench="0.01"),
]
Over = Annotated[Amount, given("T_over", "in", "thickness of the row before")]
UpTo = Annotated[Amount, given("T_to", "in", "thickness of the row")]
Starts = Annotated[Amount, given("T_from", "in", "least thickness of the row")]
Ends = Annotated[Amount, given("T_to", "in", "thickness where the next row starts")]
Least = Annotated[Amount, given("t_min", "min", "least soak of the row")]


def in_row(metal: Any, over: Any, up_to: Any, called: str) -> None:
    """Refusal of metal that the row is not for."""
    step(metal, "T", "mm", "thickness of the metal", above=over, at_most=up_to,
         wrong=NOT_THIS_ROW + f"'{called}'")  # fmt: skip


def from_row(metal: Any, starts: Any, ends: Any, called: str) -> None:
    """Refusal of metal that the row is not for; where the next begins, either holds."""
    step(metal, "T", "mm", "thickness of the metal", at_least=starts, at_most=ends,
         wrong=NOT_THIS_ROW + f"'{called}'")  # fmt: skip


def if_inside(thickness: float, low: float, high: float, answer: float) -> float:
    """What a row answers for a thickness that it holds for; no number for any other."""
    middle, half = (low + high) / 2, (high - low) / 2
    return answer if abs(thickness - middle) <= half * (1 + 1e-9) else math.nan


WITHIN_ROW = "the row's answer, by how far the thickness is from the middle of the row"


Lag = Annotated[
    Amount,
    given("t_lag", "min", "time by which the coldest metal is later than the thermometer",
          at_least="0", at_most="240"),
]  # fmt: skip


@dataclass(frozen=True)
class Soaked:
    """How long a load stays in."""

    least: Annotated[Amount, gives("t_s", "min", "least soak of the metal", to="1", safe="up")]
    clock: Annotated[
        Amount,
        gives("t_c", "min", "least time from the thermometer at temperature", to="1", safe="up"),
    ]


def _soak_again(row: Any, thickness: float, lag: float) -> Soaked:
    least = if_inside(thickness, row.over, row.up_to, row.least)
    made: Any = Soaked
    bare: Soaked = made(least, -(-least - lag))
    return bare


@dataclass(frozen=True)
class SoakRow:
    """A least soak: it holds for this guide, furnace and sheet."""

    guide: Annotated[str, key(GUIDE)]
    furnace: Annotated[str, key("air furnace or salt bath, as the table prints it")]
    sheet: Annotated[str, key(SHEET)]
    over: Over
    up_to: UpTo
    least: Least


@calculation(
    source=BY_ROW,
    not_covered=SOAK + "; clad sheet, which may not soak too long: soak_clad",
    second=Second(_soak_again, "0.000001 min", WITHIN_ROW),
    examples=(
        Example(
            {
                "guide": "MIL-H-6088F", "furnace": "air furnace", "sheet": "0.063 in",
                "thickness": "0.036 in", "lag": "5 min",
            },
            {"least": "30 min", "clock": "35 min"},
            MIL_SOAK,
        ),
        Example(
            {
                "guide": "FAA-H-8083-30", "furnace": "not said", "sheet": "0.250 in",
                "thickness": "0.2 in", "lag": "0 min",
            },
            {"least": "40 min"},
            "FAA-H-8083-30 fig. 5-7 (from memory)",
        ),
    ),
)  # fmt: skip
def soak(row: Annotated[SoakRow, looked_up("soak")], thickness: Metal, lag: Lag) -> Soaked:
    """Soak of a solution treatment: the least time of the coldest metal at temperature.

    The thickest metal of the load decides. The lag is that of the last survey of such a load; 0
    min where a thermometer sits in the coldest metal.
    """
    in_row(thickness, row.over, row.up_to, row.sheet)
    return Soaked(row.least, row.least + lag)


@dataclass(frozen=True)
class CladSoakRow:
    """A soak of clad sheet: it holds for this guide, furnace and sheet."""

    guide: Annotated[str, key(GUIDE)]
    furnace: Annotated[str, key("air furnace or salt bath, as the table prints it")]
    sheet: Annotated[str, key(SHEET)]
    over: Over
    up_to: UpTo
    least: Least
    most: Annotated[Amount, given("t_max", "min", "longest soak of the row")]


@dataclass(frozen=True)
class CladSoak:
    """Between which times clad sheet comes out."""

    least: Annotated[Amount, gives("t_s", "min", "least soak of the metal", to="1", safe="up")]
    most: Annotated[Amount, gives("t_l", "min", "longest soak", to="1", safe="down")]
    clock: Annotated[
        Window, gives("t", "min", "time from the thermometer at temperature that goes", to="1")
    ]


def _clad_again(row: Any, thickness: float, lag: float) -> CladSoak:
    least, most = (
        if_inside(thickness, row.over, row.up_to, each) for each in (row.least, row.most)
    )
    made: Any = CladSoak
    bare: CladSoak = made(least, most, Window(-(-least - lag), most, "", ""))
    return bare


@calculation(
    source=BY_ROW,
    not_covered=SOAK + "; how far the cladding is spent already: clad_reheats",
    second=Second(_clad_again, "0.000001 min", WITHIN_ROW),
    examples=(
        Example(
            {
                "guide": "MIL-H-6088F", "furnace": "air furnace", "sheet": "0.063 in",
                "thickness": "0.036 in", "lag": "5 min",
            },
            {"least": "30 min", "most": "40 min"},
            MIL_SOAK,
        ),
    ),
)  # fmt: skip
def soak_clad(
    row: Annotated[CladSoakRow, looked_up("soak_clad")], thickness: Metal, lag: Lag
) -> CladSoak:
    """Soak of clad sheet: not before the one time, and out before the other.

    At temperature copper goes on into the cladding and spoils it. The coldest metal soaks long
    enough, and the longest soak counts from the thermometer, for the metal that is hot first.
    """
    in_row(thickness, row.over, row.up_to, row.sheet)
    soaked = step(row.least + lag, "t_c", "min", "least time on the clock")
    return CladSoak(row.least, row.most, window({"the soak": soaked}, {"the cladding": row.most}))


@dataclass(frozen=True)
class DelayRow:
    """A longest quench delay: it holds for this guide and metal."""

    guide: Annotated[str, key(GUIDE)]
    metal: Annotated[str, key("thickness, as the table prints it")]
    starts: Starts
    ends: Ends
    longest: Annotated[Amount, given("t_row", "s", "longest delay of the row")]


@dataclass(frozen=True)
class Delay:
    """A quench delay against the rehearsal."""

    longest: Annotated[Amount, gives("t_q", "s", "longest quench delay", to="1", safe="down")]
    spare: Annotated[
        Amount,
        gives("Δt", "s", "time to spare after the rehearsal", to="1", safe="down", at_least="0",
              beyond="A shorter way to the bath, or more hands, and another rehearsal"),
    ]  # fmt: skip


def _delay_again(row: Any, thickness: float, rehearsed: float) -> Delay:
    longest = if_inside(thickness, row.starts, row.ends, row.longest)
    made: Any = Delay
    bare: Delay = made(longest, -(rehearsed - longest))
    return bare


@calculation(
    source=BY_ROW,
    not_covered="a quench by spray; a load that leaves the furnace below its temperature, which no "
    "short delay mends",
    second=Second(_delay_again, "0.000001 s", WITHIN_ROW),
    examples=(
        Example(
            {
                "guide": "T.O. 1-1A-9",
                "metal": "0.032 to 0.090 in",
                "thickness": "0.036 in",
                "rehearsed": "8 s",
            },
            {"longest": "10 s", "spare": "2 s"},
            "MIL-H-6088, T.O. 1-1A-9 table 3-10 (from memory)",
        ),
    ),
)
def quench_delay(
    row: Annotated[DelayRow, looked_up("quench_delay")],
    thickness: Thinnest,
    rehearsed: Annotated[
        Amount,
        given("t_r", "s", "delay at the rehearsal with a cold load", above="0", at_most="60",
              at_bench="1"),
    ],
) -> Delay:  # fmt: skip
    """Quench delay: the longest time from the door that begins to open to the last metal under.

    Out of a salt bath it runs from the first metal that shows. The thinnest metal of the load
    decides. Refuses a rehearsal that took longer.
    """
    from_row(thickness, row.starts, row.ends, row.metal)
    return Delay(row.longest, row.longest - rehearsed)


@dataclass(frozen=True)
class TemperatureRow:
    """Temperatures of the metal: they hold for this guide and alloy."""

    guide: Annotated[str, key(GUIDE)]
    alloy: Annotated[str, key("alloy, as the table prints it")]
    lowest: Annotated[Amount, given("T_low", "°C", "lowest temperature of the row")]
    highest: Annotated[Amount, given("T_high", "°C", "highest temperature of the row")]


@dataclass(frozen=True)
class Setting:
    """A furnace against the range of the alloy."""

    above_lowest: Annotated[
        Amount,
        gives("ΔT_c", "K", "coldest metal above the lowest", to="0.1", safe="down", at_least="0",
              beyond="A higher setting, or a furnace that keeps nearer to it"),
    ]  # fmt: skip
    below_highest: Annotated[
        Amount,
        gives("ΔT_h", "K", "hottest metal below the highest", to="0.1", safe="down", at_least="0",
              beyond="A lower setting: past the range the metal begins to melt and is scrap"),
    ]  # fmt: skip


def _setting_by_ends(row: Any, setting: float, within: float) -> Setting:
    """The two ends of the furnace against the two ends of the range."""
    made: Any = Setting
    coldest, hottest = setting - within, setting + within
    bare: Setting = made(-(row.lowest - coldest), -(hottest - row.highest))
    return bare


@calculation(
    source=BY_ROW,
    not_covered="the furnace itself: its last survey says how far it strays; thermometers that are "
    "off",
    second=Second(_setting_by_ends, "0.000001 K", "both ends of the furnace"),
    examples=(
        Example(
            {
                "guide": "FAA-H-8083-30", "alloy": "2024", "setting": "493.3 °C",
                "within": "5 K",
            },
            {"above_lowest": "0.5 K", "below_highest": "0.5 K"},
            "FAA-H-8083-30 fig. 5-8 (from memory): 910 to 930 °F, which is 487.8 to 498.8 °C",
            within="0.001 K",
        ),
    ),
)  # fmt: skip
def furnace_setting(
    row: Annotated[TemperatureRow, looked_up("solution_temperature")],
    setting: Annotated[
        Amount, given("T_set", "°C", "setting of the furnace", at_least="400", at_most="560")
    ],
    within: Annotated[
        Amount,
        given("u", "K", "how far any metal is off the setting", at_least="1", at_most="6"),
    ],
) -> Setting:
    """Setting of a furnace: whether the coldest and the hottest metal stay in the range."""
    colder = step(between(setting, row.lowest), "ΔT_1", "K", "setting above the lowest")
    hotter = step(between(row.highest, setting), "ΔT_2", "K", "setting below the highest")
    return Setting(colder - within, hotter - within)


@dataclass(frozen=True)
class RecoveryRow:
    """A recovery time of clad sheet: it holds for this sheet."""

    sheet: Annotated[str, key("thickness, as the table prints it")]
    starts: Starts
    ends: Ends
    longest: Annotated[Amount, given("t_row", "min", "longest recovery of the row")]


@dataclass(frozen=True)
class Recovery:
    """A recovery against that of the last such load."""

    longest: Annotated[Amount, gives("t_r", "min", "longest recovery", to="1", safe="down")]
    spare: Annotated[
        Amount,
        gives("Δt", "min", "time to spare at the last such load", to="1", safe="down",
              at_least="0", beyond="A smaller load, or a furnace of more power"),
    ]  # fmt: skip


def _recovery_again(row: Any, thickness: float, seen: float) -> Recovery:
    longest = if_inside(thickness, row.starts, row.ends, row.longest)
    made: Any = Recovery
    bare: Recovery = made(longest, -(seen - longest))
    return bare


@calculation(
    source="SAE AMS 2770R (2020), solution treatment of clad sheet",
    not_covered="metal that is not clad; a load that never comes to temperature",
    second=Second(_recovery_again, "0.000001 min", WITHIN_ROW),
    examples=(
        Example(
            {"sheet": "under 0.125 in", "thickness": "0.036 in", "seen": "22 min"},
            {"longest": "30 min", "spare": "8 min"},
            "SAE AMS 2770R (2020): 30 min under 0.125 in",
        ),
    ),
)
def clad_recovery(
    row: Annotated[RecoveryRow, looked_up("clad_recovery")],
    thickness: Metal,
    seen: Annotated[
        Amount,
        given("t_f", "min", "recovery of the furnace at the last such load", at_least="0",
              at_most="240"),
    ],
) -> Recovery:  # fmt: skip
    """Recovery of a furnace with clad sheet: how long it may take to be at temperature again."""
    from_row(thickness, row.starts, row.ends, row.sheet)
    return Recovery(row.longest, row.longest - seen)
