"""Thread, nut, thread state and running drag in; torques at the nut and wrench settings out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import (
    Example,
    Second,
    calculation,
    given,
    gives,
    key,
    looked_up,
)
from generator.quantities.amount import Amount
from generator.quantities.functions import cos, step, subscript
from generator.quantities.window import Window, window

CIRCULAR = "AC 43.13-1B table 7-1 and paragraph 7-40"
WITH_LEVER = f"{CIRCULAR}; extension: TM 9-254 fig. 4-6"
BINDS = "the running drag of {value} is more than the table row clamps with: reject the nut"
LOWER, UPPER = "lower torque of the table row", "upper torque of the table row"


@dataclass(frozen=True)
class TorqueRow:
    """A row of a torque table: it holds for this thread, nut and thread state only."""

    thread: Annotated[str, key("thread, as the table prints it")]
    nut: Annotated[str, key("kind of nut: tension or shear")]
    lubrication: Annotated[str, key("state of the threads: the table's own")]
    lower: Annotated[Amount, given("T_min", "lbf·in", LOWER)]
    upper: Annotated[Amount, given("T_max", "lbf·in", UPPER)]


@dataclass(frozen=True)
class DragRow:
    """What a self-locking nut must still hold to be used again, measured this way."""

    thread: Annotated[str, key("thread, as the table prints it")]
    measured: Annotated[str, key("how it is measured: running or breakaway")]
    lowest: Annotated[Amount, given("D_min", "lbf·in", "smallest torque of the table row")]


@dataclass(frozen=True)
class WrenchSetting:
    """What the wrench is set to, and between which settings a castle nut may find its slot."""

    final: Annotated[Amount, gives("T_f", "lbf·in", "final torque at the nut", to="0.1")]
    setting: Annotated[Amount, gives("S", "lbf·in", "wrench setting", to="0.1", inside="allowed")]
    passes: Annotated[
        tuple[Amount, ...],
        gives("S", "lbf·in", "wrench setting of pass", to="0.1", inside="allowed"),
    ]
    left: Annotated[
        Amount,
        gives(
            "T_l",
            "lbf·in",
            "torque that the last pass leaves out",
            to="0.1",
            at_least="0",
            at_most="0",
            beyond="The last pass is the whole torque: 100 %",
        ),
    ]
    allowed: Annotated[Window, gives("S", "lbf·in", "wrench setting", to="0.1")]


@dataclass(frozen=True)
class UsedNut:
    """Whether a nut still locks."""

    lowest: Annotated[
        Amount, gives("D_a", "lbf·in", "smallest torque of a nut used again", to="0.1", safe="up")
    ]
    spare: Annotated[
        Amount,
        gives(
            "D_s",
            "lbf·in",
            "torque of the nut above the smallest",
            to="0.1",
            safe="down",
            at_least="0",
            beyond="Reject the nut",
        ),
    ]


Drag = Annotated[
    Amount, given("D", "lbf·in", "running drag of the nut", at_least="0", at_bench="1")
]
Shares = Annotated[tuple[Amount, ...], given("s", "%", "share of the target in pass", above="0")]


def _by_sum(row: Any, drag: float) -> Window:
    """The row moved up by the drag: its middle and half its width."""
    middle, half = (row.lower + row.upper) / 2 + drag, (row.upper - row.lower) / 2
    return Window(middle - half, middle + half, "", "")


@calculation(
    source=CIRCULAR,
    not_covered="another thread state than the row's; an extension, which reads less; preload, "
    "which scatters 2.5 to 1 at one torque; metric, BSF and BA threads, for which no public table "
    "by thread, nut and thread state was found: the workshop adds rows of its own",
    second=Second(_by_sum, "0.001 %", "middle and half width of the row, moved up by the drag"),
    examples=(
        Example(
            {
                "thread": "1/4-28",
                "nut": "tension",
                "lubrication": "oil-free",
                "drag": "0 lbf·in",
            },
            {"from": "50 lbf·in", "to": "70 lbf·in"},
            "TM 1-1730-232-13&P table F-1, nut MS21045-4",
        ),
    ),
)
def table_torque(
    row: Annotated[TorqueRow, looked_up("torque")], drag: Drag
) -> Annotated[Window, gives("T_f", "lbf·in", "torque at the nut", to="0.1")]:
    """Torque at the nut: the table row for thread, nut and thread state, plus the running drag.

    A castle nut begins at the least and is turned to its slot, up to the largest and no further.
    """
    drag = step(drag, "D", "lbf·in", "running drag", at_most=row.upper, wrong=BINDS)
    return window({LOWER: row.lower + drag}, {UPPER: row.upper + drag})


WrenchLength = Annotated[
    Amount,
    given("L", "in", "wrench, centre of grip to drive", at_least="3", at_most="60", at_bench="0.1"),
]
Extension = Annotated[
    Amount, given("E", "in", "extension, drive to nut", at_least="0", at_most="24")
]
ExtensionAngle = Annotated[
    Amount,
    given("φ", "°", "angle between wrench and extension", at_least="0", at_most="90",
          beyond="A reversed extension is not calculated: turn it round"),
]  # fmt: skip


def _by_lever(
    row: Any,
    target: float,
    drag: float,
    wrench_length: float,
    extension: float,
    extension_angle: float,
    shares: tuple[float, ...],
) -> WrenchSetting:
    """The force at the grip times its own lever: the nut sees the longer lever."""
    longer = wrench_length + extension * math.sin(math.pi / 2 - extension_angle)
    final = target + drag
    settings = [(share * target + drag) / longer * wrench_length for share in shares]
    low, high = ((end + drag) / longer * wrench_length for end in (row.lower, row.upper))
    made: Any = WrenchSetting
    bare: WrenchSetting = made(
        final,
        final / longer * wrench_length,
        tuple(settings),
        final - (shares[-1] * target + drag),
        Window(low, high, "", ""),
    )
    return bare


@calculation(
    source=WITH_LEVER,
    not_covered="another thread state than the row's; preload, which scatters 2.5 to 1 at one "
    "torque; a wrench out of its check; metric, BSF and BA threads without a row of the workshop",
    second=Second(_by_lever, "0.001 %", "force at the grip times the longer lever"),
    examples=(
        Example(
            {
                "thread": "1/2-20",
                "nut": "shear",
                "lubrication": "oil-free",
                "target": "30 lbf·ft",
                "drag": "0 lbf·in",
                "wrench_length": "12 in",
                "extension": "6 in",
                "extension_angle": "0°",
                "shares": ["100 %"],
            },
            {"setting": "20 lbf·ft"},
            "torque-wrench maker's page on adapters: 30 lbf·ft, 12 in and 6 in",
        ),
    ),
)
def wrench_setting(
    row: Annotated[TorqueRow, looked_up("torque")],
    target: Annotated[Amount, given("T", "lbf·in", "target torque before drag", above="0")],
    drag: Drag,
    wrench_length: WrenchLength,
    extension: Extension,
    extension_angle: ExtensionAngle,
    shares: Shares,
) -> WrenchSetting:
    """Wrench setting: table torque, plus running drag, corrected for an extension, pass by pass.

    Drag is added whole to every pass, after the percentage: it turns the nut before it clamps.
    No pass is below the one before, and the last is the whole torque.
    """
    within = "the target of {value} lies outside the table row"
    target = step(
        target, "T", "lbf·in", "target", at_least=row.lower, at_most=row.upper, wrong=within
    )
    drag = step(drag, "D", "lbf·in", "running drag", at_most=row.upper, wrong=BINDS)
    lever = step(wrench_length + extension * cos(extension_angle), "L_e", "in", "lever to the nut")
    final = step(target + drag, "T_f", "lbf·in", "final torque")
    at_nut = _rising([share * target + drag for share in shares])
    allowed = window(
        {LOWER: (row.lower + drag) * wrench_length / lever},
        {UPPER: (row.upper + drag) * wrench_length / lever},
    )
    return WrenchSetting(
        final,
        final * wrench_length / lever,
        tuple(torque * wrench_length / lever for torque in at_nut),
        final - at_nut[-1],
        allowed,
    )


def _rising(torques: list[Any]) -> list[Any]:
    """Each torque as a line of the working, none below the one before."""
    named: list[Any] = []
    for number, torque in enumerate(torques, start=1):
        meaning = f"torque at the nut in pass {number}"
        wrong = f"pass {number} reaches only {{value}} at the nut, less than the pass before"
        least = named[-1] if named else ""
        symbol = subscript("T", number)
        named.append(step(torque, symbol, "lbf·in", meaning, at_least=least, wrong=wrong))
    return named


def _by_share(row: Any, drag: float) -> UsedNut:
    made: Any = UsedNut
    bare: UsedNut = made(row.lowest, row.lowest * (drag / row.lowest - 1))
    return bare


@calculation(
    source="AC 43.13-1B table 7-2 (running); TM 1-1500-204-23-6 table 2-8 (breakaway)",
    not_covered="new nuts, which their own specification limits from above too; nuts that may be "
    "used once only; fibre and nylon nuts above 250 °F",
    second=Second(_by_share, "0.000001 lbf·in", "as a share of the smallest"),
    examples=(
        Example(
            {"thread": "7/16-20", "measured": "running", "drag": "8 lbf·in"},
            {"lowest": "8 lbf·in", "spare": "0 lbf·in"},
            "AC 43.13-1B table 7-2, p. 7-12",
        ),
    ),
)
def used_nut_drag(
    row: Annotated[DragRow, looked_up("nut_drag")],
    drag: Annotated[
        Amount,
        given("D", "lbf·in", "torque of the nut, nothing clamped", at_least="0", at_bench="1"),
    ],
) -> UsedNut:
    """Whether a self-locking nut may be used again: its drag against the smallest of the table.

    Running: while the nut turns on the thread. Breakaway: what starts it turning. Never mixed.
    """
    return UsedNut(row.lowest, drag - row.lowest)
