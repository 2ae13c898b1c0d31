"""Tables that somebody typed, worked out again here by plain geometry and physics.

A typed table has no calculation behind it yet, so this is the only second pair of hands it has.
The forming tables are left out: they need the flow stress of the coupon.
"""

from __future__ import annotations

import math
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest

from generator.workshop import open_shop

SHOP = open_shop(Path(__file__).parents[2])
PROCESSES = {process.number: process for process in SHOP.processes.values()}


def table_of(process: str, operation: int) -> list[tuple[str, ...]]:
    """The rows of the ready answers in one operation."""
    (found,) = [o for o in PROCESSES[process].operations if o.number == operation]
    assert found.lookup is not None
    assert found.lookup.source == "calculated"
    return list(found.lookup.rows)


def assert_printed(printed: str, worked: float) -> None:
    """A printed cell is the number rounded to its own last place."""
    cell = Decimal(printed.replace("+", ""))
    half = 0.5 * 10.0 ** int(cell.as_tuple().exponent)
    assert abs(worked - float(cell)) <= half + 1e-9, (printed, worked)


def test_trapped_liquid() -> None:
    # 9.3 bar for each °C on this rig.
    rows = table_of("T6-P-0410", 100)
    for warmer, change in rows:
        assert_printed(change, 9.3 * float(warmer))
    assert [float(warmer) for warmer, _ in rows] == pytest.approx(np.arange(-0.4, 0.41, 0.1))


def clearance(leg: float, trigger: float) -> float:
    """Least gap in mm between tyre and door, leg and trigger in degrees.

    The tyre stands 820 mm out on the leg, 58 mm half width and 285 mm half length, its outline
    rounded by the sixth power. The door of 330 mm hangs at (1130, −95) and closes from 95° evenly
    between the trigger and a leg angle of 92°.
    """
    along, turn = np.linspace(-285, 285, 2001), math.radians(leg)
    out, across = (
        np.array([math.sin(turn), -math.cos(turn)]),
        np.array([math.cos(turn), math.sin(turn)]),
    )
    half = (58 * np.sqrt(1 - (np.abs(along) / 285) ** 6))[:, None] * across
    tyre = np.concatenate([(820 + along)[:, None] * out + side * half for side in (1, -1)])
    open_by = math.radians(95 * (1 - min(1.0, max(0.0, (leg - trigger) / (92 - trigger)))))
    door = np.array([-math.cos(open_by), -math.sin(open_by)])
    from_hinge = tyre - np.array([1130.0, -95.0])
    nearest = np.clip(from_hinge @ door, 0, 330)[:, None] * door
    return float(np.hypot(*(from_hinge - nearest).T).min())


def worst(trigger: float) -> tuple[float, float]:
    """The least clearance of the whole swing, and the leg angle it comes at."""
    return min((clearance(leg, trigger), leg) for leg in np.arange(82, 86.01, 0.05))


def test_clearance_for_each_setting_of_the_trigger() -> None:
    for trigger, gap, leg, verdict in table_of("T6-P-0410", 140):
        least, at = worst(float(trigger))
        assert_printed(gap, least)
        assert abs(at - float(leg)) <= 0.101
        assert verdict == ("GO" if least >= 12 else "NO-GO")


def test_the_triggers_limits_are_the_ends_of_the_table() -> None:
    rows = table_of("T6-P-0410", 140)
    trigger = PROCESSES["T6-P-0410"].given["trigger"].amount
    assert trigger is not None
    ends = [trigger.unit.from_base(end) for end in (trigger.low, trigger.high) if end is not None]
    assert ends == pytest.approx([float(rows[0][0]), float(rows[-1][0])])
    assert worst(79.0)[0] < 12 < worst(79.5)[0]  # half a degree less and the tyre is too near


def test_cable_tension() -> None:
    # 200 N at 15 °C; EA 4.0e5 N, steel in a light-alloy hull (11.5e-6 1/K apart), sharing 0.6.
    # The limits are whole newtons inside the ten per cent.
    for degrees, least, wanted, greatest in table_of("T6-P-0510", 70):
        tension = 200 + 0.6 * 4.0e5 * 11.5e-6 * (float(degrees) - 15)
        assert_printed(wanted, tension)
        assert (int(least), int(greatest)) == (math.ceil(0.9 * tension), math.floor(1.1 * tension))


def test_elevator_travel() -> None:
    # Arms 85 to 70 and 90 to 95; chords at 310 (trailing edge) and 420 (grip). Long rods.
    for elevator, column, edge, grip in table_of("T6-P-0510", 100):
        turn = math.radians(float(elevator))
        column_turn = math.asin(95 / 90 * 70 / 85 * math.sin(turn))
        assert_printed(column, math.degrees(column_turn))
        assert_printed(edge, 2 * 310 * math.sin(turn / 2))
        assert_printed(grip, 2 * 420 * math.sin(column_turn / 2))


def test_tab_turns() -> None:
    # Arm 32, lead 1.25 of a single start, 2.5 turns of the wheel to one of the screw.
    for degrees, turns in table_of("T6-P-0510", 150):
        assert_printed(turns, 2.5 * 32 * math.sin(math.radians(float(degrees))) / 1.25)
