"""Thread, nut, thread state and running drag in; wrench settings and the order of a circle out."""

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
    order,
)
from generator.quantities.amount import Amount
from generator.quantities.functions import cos, step, subscript

CIRCULAR = "AC 43.13-1B table 7-1 and paragraph 7-40; extension: TM 9-254 fig. 4-6"


@dataclass(frozen=True)
class TorqueRow:
    """A row of a torque table: it holds for this thread, nut and thread state only."""

    thread: Annotated[str, key("thread, as the table prints it")]
    nut: Annotated[str, key("kind of nut: tension or shear")]
    lubrication: Annotated[str, key("state of the threads: the table's own")]
    lower: Annotated[Amount, given("T_min", "lbf·in", "lower torque of the table row")]
    upper: Annotated[Amount, given("T_max", "lbf·in", "upper torque of the table row")]


@dataclass(frozen=True)
class WrenchSetting:
    """What the wrench is set to."""

    final: Annotated[Amount, gives("T_f", "lbf·in", "final torque at the nut", to="0.1")]
    setting: Annotated[Amount, gives("S", "lbf·in", "wrench setting", to="0.1")]
    passes: Annotated[tuple[Amount, ...], gives("S", "lbf·in", "wrench setting of pass", to="0.1")]


Shares = Annotated[
    tuple[Amount, ...], given("s", "%", "share of the target in pass", above="0", at_most="100")
]


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
    made: Any = WrenchSetting
    bare: WrenchSetting = made(final, final / longer * wrench_length, tuple(settings))
    return bare


@calculation(
    source=CIRCULAR,
    not_covered="another thread state than the row's; preload, which scatters 2.5 to 1 at one "
    "torque; a wrench out of its check",
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
    drag: Annotated[
        Amount,
        given("D", "lbf·in", "running drag of the nut", at_least="0", at_bench="1"),
    ],
    wrench_length: Annotated[
        Amount,
        given(
            "L", "in", "wrench, centre of grip to drive", at_least="3", at_most="60", at_bench="0.1"
        ),
    ],
    extension: Annotated[
        Amount, given("E", "in", "extension, drive to nut", at_least="0", at_most="24")
    ],
    extension_angle: Annotated[
        Amount,
        given(
            "φ",
            "°",
            "angle between wrench and extension",
            at_least="0",
            at_most="90",
            beyond="A reversed extension is not calculated: turn it round",
        ),
    ],
    shares: Shares,
) -> WrenchSetting:
    """Wrench setting: table torque, plus running drag, corrected for an extension, pass by pass.

    Drag is added whole to every pass, after the percentage: it turns the nut before it clamps.
    """
    within = "the target of {value} lies outside the table row"
    low, high = _numbers(row)
    target = step(target, "T", "lbf·in", "target", at_least=low, at_most=high, wrong=within)
    lever = step(wrench_length + extension * cos(extension_angle), "L_e", "in", "lever to the nut")
    final = step(target + drag, "T_f", "lbf·in", "final torque")
    settings = tuple(
        _pass(number, share * target + drag, wrench_length, lever)
        for number, share in enumerate(shares, start=1)
    )
    return WrenchSetting(final, final * wrench_length / lever, settings)


def _pass(number: int, torque: Any, length: Any, lever: Any) -> Any:
    named = step(torque, subscript("T", number), "lbf·in", f"torque at the nut in pass {number}")
    return named * length / lever


def _numbers(row: TorqueRow) -> tuple[str, str]:
    ends: tuple[Any, Any] = (row.lower, row.upper)  # plain floats in a run on floats
    low, high = (f"{end.number():.6g}" if isinstance(end, Amount) else "" for end in ends)
    return low, high


def _room(place: int, tight: list[int], fasteners: int) -> tuple[int, int]:
    """Steps to the nearest tight fastener, and steps between the two it stands between."""
    ahead = next(d for d in range(1, fasteners + 1) if (place - 1 + d) % fasteners + 1 in tight)
    behind = next(d for d in range(1, fasteners + 1) if (place - 1 - d) % fasteners + 1 in tight)
    return min(ahead, behind), ahead + behind


def _by_walking(fasteners: int) -> tuple[int, ...]:
    """Walk from every loose fastener both ways; take the one with most room, opposite first."""
    tight = [1]
    while len(tight) < fasteners:
        loose = [n for n in range(1, fasteners + 1) if n not in tight]
        room = {n: _room(n, tight, fasteners) for n in loose}
        best = [n for n in loose if room[n] == max(room.values())]
        if len(tight) % 2 == 1:
            far = {n: _room(n, [tight[-1]], fasteners)[0] for n in best}
            best = [n for n in best if far[n] == max(far.values())]
        tight.append(min(best))
    return tuple(tight)


def _middles(start: int, size: int, fasteners: int) -> list[int]:
    """The one or two fasteners in the middle of a gap of that many steps after start."""
    return [(start - 1 + half) % fasteners + 1 for half in {size // 2, (size + 1) // 2}]


def _by_gaps(fasteners: int) -> tuple[int, ...]:
    """Keep the tight ones in ring order; the next goes into the middle of the largest gap."""
    ring, sequence = [1], [1]
    while len(sequence) < fasteners:
        ends = [*ring[1:], ring[0] + fasteners]
        sizes = {a: b - a for a, b in zip(ring, ends, strict=True)}
        largest = max(sizes.values())
        open_places = [
            m for a, size in sizes.items() if size == largest for m in _middles(a, size, fasteners)
        ]
        turn = sequence[-1] + fasteners / 2
        if len(sequence) % 2 == 1:
            open_places.sort(
                key=lambda m: (abs((m - turn + fasteners / 2) % fasteners - fasteners / 2), m)
            )
        else:
            open_places.sort()
        sequence.append(open_places[0])
        ring = sorted([*ring, open_places[0]])
    return tuple(sequence)


@calculation(
    source="common practice, no source: cross pattern, each next fastener in the largest gap",
    not_covered="gaskets and joints whose own data give an order; other valid orders exist",
    second=Second(_by_walking, "0", "walking both ways from every loose fastener"),
    examples=(Example({"fasteners": "8"}, {"": "1 5 3 7 2 6 4 8"}, "common practice, no source"),),
)
def tightening_order_circle(
    fasteners: Annotated[int, count("n", "number of fasteners", at_least=3, at_most=72)],
) -> Annotated[tuple[int, ...], order("order", "tightening order")]:
    """Tightening order on a circle: every next fastener stands in the largest gap left.

    After each the one opposite, as near as the count allows; on ties the lowest number.
    """
    return _by_gaps(fasteners)
