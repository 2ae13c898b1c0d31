"""Treatments that metal has had, or an anneal, in; what it may still have, how it cools, out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import (
    Example,
    Second,
    calculation,
    choice,
    count,
    given,
    gives,
    key,
    looked_up,
)
from generator.calculations.soaking import BY_ROW, GUIDE, Ends, Metal, Starts, from_row
from generator.quantities.amount import Amount
from generator.quantities.functions import step, total
from generator.quantities.points import between

ANNEALED, TREATED = "annealed", "heat-treated"


@dataclass(frozen=True)
class ReheatRow:
    """How often: it holds for this guide and sheet."""

    guide: Annotated[str, key(GUIDE)]
    sheet: Annotated[str, key("thickness, as the table prints it")]
    starts: Starts
    ends: Ends
    most: Annotated[Amount, given("n_row", "", "reheats of the row")]


@dataclass(frozen=True)
class Reheats:
    """Reheats of a clad part."""

    thicker: Annotated[
        Amount, gives("ΔT", "mm", "metal above the thinnest of the row", to="0.01", safe="down")
    ]
    counted: Annotated[Amount, gives("n", "", "reheats with this treatment", to="1")]
    most: Annotated[Amount, gives("n_max", "", "reheats that are allowed", to="1", safe="down")]
    left: Annotated[
        Amount,
        gives("n_l", "", "reheats left after this treatment", to="1", safe="down", at_least="0",
              beyond="The cladding is spent: no further treatment without the inspector"),
    ]  # fmt: skip


def _by_tally(row: Any, thickness: float, bought: str, treatments: int, one: float) -> Reheats:
    """One mark for each treatment; the first of annealed metal is struck out."""
    marks = ["reheat"] * treatments
    if bought == ANNEALED:
        marks[0] = "first"
    counted = float(marks.count("reheat"))
    made: Any = Reheats
    bare: Reheats = made(-(row.starts - thickness), counted, row.most, -(counted - row.most))
    return bare


@calculation(
    source="T.O. 1-1A-9 table 3-12, note: how reheats are counted; " + BY_ROW,
    not_covered="metal that is not clad; treatments that nobody wrote down: metal of unknown past "
    "is not treated",
    second=Second(_by_tally, "0.000001 ratio", "a tally, the first treatment struck out"),
    examples=(
        Example(
            {
                "guide": "T.O. 1-1A-9", "sheet": "over 0.125 in", "thickness": "0.19 in",
                "bought": ANNEALED, "treatments": "2",
            },
            {"counted": "1", "most": "2", "left": "1"},
            "T.O. 1-1A-9 table 3-12, note: the first treatment of annealed metal is no reheat; "
            "2 reheats over 0.125 in (from memory)",
        ),
    ),
)  # fmt: skip
def clad_reheats(
    row: Annotated[ReheatRow, looked_up("clad_reheats")],
    thickness: Metal,
    bought: Annotated[str, choice("state in which the metal was bought", ANNEALED, TREATED)],
    treatments: Annotated[
        int, count("n_t", "solution treatments here, this one included", at_least=1, at_most=3)
    ],
    one: Annotated[Amount, given("1", "", "one treatment", fixed="1 ratio")],
) -> Reheats:
    """Reheats of clad metal: how many solution treatments count, and how many are allowed.

    Metal bought heat-treated has had its first. Annealing and precipitation are not counted.
    """
    from_row(thickness, row.starts, row.ends, row.sheet)
    had = step(total([one] * treatments), "n_h", "", "solution treatments here")
    counted = step(had - one if bought == ANNEALED else had, "n", "", "reheats")
    return Reheats(thickness - row.starts, counted, row.most, row.most - counted)


@dataclass(frozen=True)
class AnnealRow:
    """A full anneal: it holds for this guide and alloy."""

    guide: Annotated[str, key(GUIDE)]
    alloy: Annotated[str, key("alloy, as the table prints it")]
    set: Annotated[Amount, given("ϑ_1", "°C", "temperature of the row")]
    least: Annotated[Amount, given("t_min", "h", "least time at it")]
    most: Annotated[Amount, given("t_max", "h", "longest time at it")]
    rate: Annotated[Amount, given("r", "K/h", "fastest cooling of the row")]
    until: Annotated[Amount, given("ϑ_2", "°C", "temperature down to which it cools slowly")]


@dataclass(frozen=True)
class Anneal:
    """A full anneal as the furnace is set."""

    setting: Annotated[Amount, gives("ϑ_1", "°C", "temperature of the metal", to="1")]
    least: Annotated[Amount, gives("t_min", "h", "least time at it", to="0.1", safe="up")]
    most: Annotated[Amount, gives("t_max", "h", "longest time at it", to="0.1", safe="down")]
    rate: Annotated[Amount, gives("r", "K/h", "fastest cooling", to="1", safe="down")]
    until: Annotated[Amount, gives("ϑ_2", "°C", "cooled slowly down to", to="1", safe="down")]
    cooling: Annotated[Amount, gives("t_c", "h", "least time to cool", to="0.1", safe="up")]


def _cooled_by_minutes(row: Any) -> Anneal:
    """What the metal loses in a minute."""
    made: Any = Anneal
    minutes = (row.set - row.until) / (row.rate * 60)
    bare: Anneal = made(row.set, row.least, row.most, row.rate, row.until, minutes * 60)
    return bare


@calculation(
    source=BY_ROW,
    not_covered="alloys that do not harden by heat; clad metal, whose cladding suffers; what comes "
    "after the slow cooling, which the row's source says",
    second=Second(_cooled_by_minutes, "0.000001 h", "what the metal loses in a minute"),
    examples=(
        Example(
            {"guide": "supplier's sheet", "alloy": "6061"},
            {"cooling": "5.5 h", "least": "2.0 h", "most": "3.0 h"},
            "supplier's public heat-treatment sheet: 775 °F for 2 to 3 h, 50 °F/h to 500 °F",
            within="0.005 h",
        ),
    ),
)
def full_anneal(row: Annotated[AnnealRow, looked_up("annealing")]) -> Anneal:
    """Full anneal of metal that was heat-treated: temperature, time, and how slowly it cools."""
    warmer = step(between(row.set, row.until), "Δϑ", "K", "to be cooled slowly")
    return Anneal(row.set, row.least, row.most, row.rate, row.until, warmer / row.rate)


@dataclass(frozen=True)
class HardenRow:
    """An ageing in the furnace: it holds for this alloy and temperature."""

    alloy: Annotated[str, key("alloy and temper, as the table prints it")]
    at: Annotated[str, key("temperature, as the table prints it")]
    set: Annotated[Amount, given("ϑ_row", "°C", "temperature of the row")]
    least: Annotated[Amount, given("t_row", "h", "time of the row")]


@dataclass(frozen=True)
class Hardened:
    """An ageing as the furnace is set."""

    setting: Annotated[Amount, gives("ϑ", "°C", "temperature of the metal", to="1")]
    time: Annotated[Amount, gives("t", "h", "time at temperature", to="0.1", safe="up")]
    spare: Annotated[
        Amount,
        gives("Δt", "h", "planned time beyond the least", to="0.1", safe="down", at_least="0"),
    ]


def _hardened_again(row: Any, planned: float) -> Hardened:
    made: Any = Hardened
    bare: Hardened = made(row.set, row.least, -(row.least - planned))
    return bare


@calculation(
    source=BY_ROW,
    not_covered="how near the furnace keeps to it; the strength, which the coupon shows",
    second=Second(_hardened_again, "0.000001 h", "the difference the other way round"),
    examples=(
        Example(
            {"alloy": "6061 to T6", "at": "350 °F", "planned": "8 h"},
            {"setting": "176.7 °C", "time": "8 h", "spare": "0 h"},
            "supplier's public heat-treatment sheet: 350 °F 8 h",
        ),
    ),
)
def artificial_ageing(
    row: Annotated[HardenRow, looked_up("artificial_ageing")],
    planned: Annotated[Amount, given("t_p", "h", "time that is planned", above="0", at_most="48")],
) -> Hardened:
    """Ageing in a furnace after the solution treatment: temperature and time.

    Refuses a time that is planned shorter than the row asks.
    """
    return Hardened(row.set, row.least, planned - row.least)
