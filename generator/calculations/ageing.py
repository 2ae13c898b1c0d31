"""Metal after its quench in; how long it may be worked, stored and must age, out.

Time at room temperature hardens the metal; time in a cold store hardly does.
"""

from __future__ import annotations

import bisect
import itertools
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, key, looked_up
from generator.calculations.soaking import BY_ROW, GUIDE
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import step, total
from generator.quantities.points import between
from generator.quantities.units import unit

ALLOY = "alloy, as the table prints it"
LOW = "MIL-H-6088, AMS 2770 (from memory, of low certainty)"


@dataclass(frozen=True)
class WindowRow:
    """A working window: it holds for this guide, alloy and beginning."""

    guide: Annotated[str, key(GUIDE)]
    alloy: Annotated[str, key(ALLOY)]
    begins: Annotated[str, key("from when it is counted, as the table prints it")]
    longest: Annotated[Amount, given("t_row", "min", "window of the row")]


@dataclass(frozen=True)
class WorkingWindow:
    """A window and what must fit into it."""

    longest: Annotated[Amount, gives("t_w", "min", "working window", to="1", safe="down")]
    needed: Annotated[Amount, gives("t_n", "min", "time that the work takes", to="1", safe="up")]
    left: Annotated[
        Amount,
        gives("Δt", "min", "time to spare", to="1", safe="down", at_least="0",
              beyond="Quicker work, more hands, a colder room, or a cold store between"),
    ]  # fmt: skip


Times = Annotated[
    tuple[Amount, ...],
    given("t", "min", "time of one operation inside the window", at_least="0", at_most="1440"),
]


def _used_up(row: Any, times: tuple[float, ...]) -> WorkingWindow:
    """The window used up, one operation after the other."""
    left = row.longest
    for each in reversed(times):
        left -= each
    made: Any = WorkingWindow
    bare: WorkingWindow = made(row.longest, row.longest - left, left)
    return bare


@calculation(
    source=BY_ROW,
    not_covered="a room warmer than the specification has in mind; work that takes longer than it "
    "was given: a rehearsal with scrap tells",
    second=Second(_used_up, "0.000001 min", "the window used up, one operation after the other"),
    examples=(
        Example(
            {
                "guide": "MIL-H-6088", "alloy": "2014, 2024, 2219", "begins": "quench",
                "times": ["9 min", "5 min"],
            },
            {"longest": "15 min", "needed": "14 min", "left": "1 min"},
            f"{LOW}: 15 min; 15 less 9 and 5",
        ),
    ),
)  # fmt: skip
def working_window(
    row: Annotated[WindowRow, looked_up("working_window")], times: Times
) -> WorkingWindow:
    """Working window: how long metal may be worked after the quench, and whether the work fits.

    Refuses operations that together take longer than the window.
    """
    needed = step(total(times), "t_n", "min", "time that the work takes")
    return WorkingWindow(row.longest, needed, row.longest - needed)


@dataclass(frozen=True)
class Band:
    """One line of a specification: up to this temperature the metal may be worked so long."""

    up_to: Annotated[
        Amount, given("ϑ", "°C", "room temperature of a row", at_least="0", at_most="40")
    ]
    longest: Annotated[Amount, given("t", "min", "window of a row", above="0", at_most="1440")]


def _by_place(bands: Any, temperature: float, coldest: float) -> float:
    """The place of the temperature among those of the rows."""
    place = bisect.bisect_left([b.up_to + 1e-9 for b in bands], temperature)
    found: float = bands[place].longest
    return found


@calculation(
    source="the workshop's own specification, whose rows are typed; no rows are published here",
    not_covered="metal that is warmer than the room; a room that warms while the work is done",
    method="the rows gone through for the first whose temperature is not below that of the room: "
    "between two rows the warmer one holds, which allows less; outside the rows nothing is said",
    second=Second(_by_place, "0.000001 min", "the place among the rows by halving"),
    examples=(
        Example(
            {
                "bands": [
                    {"up_to": "15 °C", "longest": "30 min"},
                    {"up_to": "20 °C", "longest": "20 min"},
                    {"up_to": "25 °C", "longest": "12 min"},
                ],
                "temperature": "17 °C",
                "coldest": "10 °C",
            },
            {"": "20 min"},
            "visible arithmetic: 17 °C is above 15 and not above 20",
        ),
    ),
)
def window_by_room(
    bands: tuple[Band, ...],
    temperature: Annotated[
        Amount,
        given("ϑ_r", "°C", "temperature of the room", at_least="-10", at_most="40", at_bench="0.5"),
    ],
    coldest: Annotated[
        Amount,
        given("ϑ_0", "°C", "coldest room of the specification", at_least="-10", at_most="40"),
    ],
) -> Annotated[Amount, gives("t_w", "min", "working window", to="1", safe="down")]:
    """Working window by the temperature of the room, from rows of the workshop's specification.

    Rows run from cold to warm and never allow more in a warmer room.
    """
    room: Any = temperature
    floor: Any = coldest
    _in_order(bands)
    last: Any = bands[-1].up_to
    if not floor - 1e-9 <= room <= last + 1e-9:
        shown, low, high = (f"{unit('°C').from_base(each):.6g} °C" for each in (room, floor, last))
        raise Refusal("range", f"the specification has no row for a room of {shown}",
                      f"{low} to {high}")  # fmt: skip
    rows: Any = bands
    found: Amount = next(band.longest for band in rows if room <= band.up_to + 1e-9)
    return found


def _in_order(bands: Any) -> None:
    for one, other in itertools.pairwise(bands):
        if not (one.up_to < other.up_to and one.longest >= other.longest):
            shown = f"{unit('°C').from_base(other.up_to):.6g} °C"
            wrong = f"the row of {shown} does not follow the one before it"
            raise Refusal("range", wrong, "warmer from row to row, and never a longer time")


@dataclass(frozen=True)
class NaturalRow:
    """A natural ageing: it holds for this alloy."""

    alloy: Annotated[str, key(ALLOY)]
    least: Annotated[Amount, given("t_row", "h", "ageing of the row")]


@dataclass(frozen=True)
class NaturalAgeing:
    """How long the metal ages at room temperature."""

    whole: Annotated[Amount, gives("t_a", "h", "natural ageing", to="1", safe="up")]
    left: Annotated[
        Amount,
        gives("t_l", "h", "ageing that is left out of the store", to="1", safe="up", at_least="0"),
    ]


def _left_by_minutes(row: Any, spent: float) -> NaturalAgeing:
    """Counted in minutes."""
    made: Any = NaturalAgeing
    minutes = row.least / 60 - spent / 60
    bare: NaturalAgeing = made(row.least, minutes * 60)
    return bare


@calculation(
    source=BY_ROW,
    not_covered="hours in a cold store, which do not count; whether the metal has its strength, "
    "which the coupon shows; a part that is aged in a furnace",
    second=Second(_left_by_minutes, "0.000001 h", "counted in minutes"),
    examples=(
        Example(
            {"alloy": "2024", "spent": "0 h"},
            {"whole": "96 h", "left": "96 h"},
            "T.O. 1-1A-9 (TM 43-0106), ch. 3: 96 h",
        ),
    ),
)
def natural_ageing(
    row: Annotated[NaturalRow, looked_up("natural_ageing")],
    spent: Annotated[
        Amount,
        given("t_0", "h", "time at room temperature before the store, 0 h to be safe",
              at_least="0", at_most="200"),
    ],
) -> NaturalAgeing:  # fmt: skip
    """Natural ageing: how long the metal stays at room temperature before it is fitted or tested.

    Only hours at room temperature count.
    """
    return NaturalAgeing(row.least, row.least - spent)


@dataclass(frozen=True)
class StoreRow:
    """A time in a cold store: it holds for this guide, alloy and store."""

    guide: Annotated[str, key(GUIDE)]
    alloy: Annotated[str, key(ALLOY)]
    store: Annotated[str, key("temperature of the store, as the table prints it")]
    warmest: Annotated[Amount, given("ϑ_row", "°C", "temperature of the row")]
    longest: Annotated[Amount, given("t_row", "d", "time of the row")]


@dataclass(frozen=True)
class Stored:
    """A cold store and how long metal keeps in it."""

    longest: Annotated[Amount, gives("t_c", "d", "longest time in the store", to="1", safe="down")]
    left: Annotated[
        Amount,
        gives("t_l", "d", "time left in the store", to="1", safe="down", at_least="0",
              beyond="The metal is treated anew, where its count allows it"),
    ]  # fmt: skip
    colder: Annotated[
        Amount,
        gives("Δϑ", "K", "store below the row's temperature", to="0.1", safe="down", at_least="0",
              beyond="A colder store, or the row of a warmer one"),
    ]  # fmt: skip


def _store_again(row: Any, warmest: float, spent: float) -> Stored:
    """Both differences the other way round."""
    made: Any = Stored
    bare: Stored = made(row.longest, -(spent - row.longest), -(warmest - row.warmest))
    return bare


@calculation(
    source=BY_ROW,
    not_covered="the way to the store, which counts as working time; a store that was opened and "
    "warmed: its warmest reading counts",
    second=Second(_store_again, "0.0001 %", "both differences the other way round"),
    examples=(
        Example(
            {
                "guide": "MIL-H-6088", "alloy": "2014, 2024, 2219", "store": "0 °F",
                "warmest": "-18 °C", "spent": "0 d",
            },
            {"longest": "30 d", "left": "30 d"},
            f"{LOW}: 30 days at 0 °F",
        ),
    ),
)  # fmt: skip
def cold_store(
    row: Annotated[StoreRow, looked_up("cold_store")],
    warmest: Annotated[
        Amount,
        given("ϑ", "°C", "warmest reading of the store", at_least="-80", at_most="0",
              at_bench="0.5"),
    ],
    spent: Annotated[
        Amount, given("t_0", "d", "days in the store so far", at_least="0", at_most="365")
    ],
) -> Stored:  # fmt: skip
    """Cold store: how long metal keeps after the quench, and whether the store is cold enough."""
    colder = step(between(row.warmest, warmest), "Δϑ", "K", "store below the row")
    return Stored(row.longest, row.longest - spent, colder)
