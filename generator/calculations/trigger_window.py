"""A wheel, its door and the limits of the setting, in; the triggers that go, as a window, out."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.calculations.clearance import (
    Closed,
    Door,
    DoorLength,
    Drawing,
    FromLeg,
    Fullness,
    HalfLength,
    HalfWidth,
    HingeAcross,
    HingeUp,
    OpenAngle,
    Search,
    ToLeg,
    Wanted,
    WheelRadius,
    closest,
    gap_of_polygon,
    must_follow,
)
from generator.calculations.sweep_search import Tyre
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.window import Window

STEP = math.radians(0.5)
Sure = Callable[[float], float]


@dataclass(frozen=True)
class Triggers:
    """The triggers that go."""

    trigger: Annotated[Window, gives("φ_t", "°", "trigger that goes", to="0.1")]
    best: Annotated[
        Amount, gives("g_b", "mm", "largest sure gap that was found", to="0.1", safe="down")
    ]
    best_at: Annotated[Amount, gives("φ_b", "°", "trigger of the largest sure gap", to="0.1")]


def _run_of(sure: Sure, ends: tuple[float, float], wanted: float, halvings: int) -> Triggers:
    """The run of triggers round the best one in which the gap is enough."""
    steps = max(1, math.ceil((ends[1] - ends[0]) / STEP - 1e-9))
    places = [ends[0] + (ends[1] - ends[0]) * n / steps for n in range(steps + 1)]
    gaps = [sure(place) for place in places]
    top = max(range(len(places)), key=lambda n: gaps[n])
    if gaps[top] < wanted:
        raise _none(ends, places[top], gaps[top], wanted)
    low, high = top, top
    while low > 0 and gaps[low - 1] >= wanted:
        low -= 1
    while high < steps and gaps[high + 1] >= wanted:
        high += 1
    least, most = places[low], places[high]
    if low > 0:
        least = _edge(sure, wanted, least, places[low - 1], halvings)
    if high < steps:
        most = _edge(sure, wanted, most, places[high + 1], halvings)
    names = ("the gap" if low > 0 else "the earliest", "the gap" if high < steps else "the door")
    made: Any = Triggers
    found: Triggers = made(Window(least, most, *names), gaps[top], places[top])
    return found


def _edge(sure: Sure, wanted: float, good: float, bad: float, halvings: int) -> float:
    """The last good trigger towards a bad one."""
    for _ in range(halvings):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if sure(middle) >= wanted else (good, middle)
    return good


def _none(ends: Sequence[float], at: float, gap: float, wanted: float) -> Refusal:
    low, high, best = (math.degrees(each) for each in (*ends, at))
    wrong = f"no trigger from {low:.1f}° to {high:.1f}° leaves enough: the most gap that is sure "
    wrong += f"is {math.floor(gap * 10000) / 10:.1f} mm, at {best:.1f}°".replace(
        "-", "\N{MINUS SIGN}"
    )
    right = f"{wanted * 1000:g} mm are wanted: another door, another hinge, or a later closing"
    return Refusal("range", wrong, right)


Earliest = Annotated[
    Amount, given("φ_e", "°", "earliest trigger that can be set", at_least="0", at_most="170")
]
Shortest = Annotated[
    Amount,
    given("Δφ_c", "°", "leg angle that the door needs at the least to close", at_least="0.5",
          at_most="170"),
]  # fmt: skip


def _by_polygons(
    wheel_radius: float, half_length: float, half_width: float, fullness: float,
    hinge_across: float, hinge_up: float, door_length: float, open_angle: float,
    earliest: float, shortest: float, closed: float, from_leg: float, to_leg: float,
    wanted: float, drawing: float, search: float,
) -> Triggers:  # fmt: skip
    """Polygons for the outline, leg angles in steps."""
    tyre = Tyre(half_length, half_width, fullness)

    def sure(trigger: float) -> float:
        door = Door((hinge_across, hinge_up), door_length, open_angle, trigger, closed)
        gap, _ = gap_of_polygon(door, tyre, wheel_radius, (from_leg, to_leg))
        return gap - search - drawing

    return _run_of(sure, (earliest, closed - shortest), wanted, 6)


@calculation(
    source="geometry in one plane, as in the clearance sweep; the last trigger by the leg that the "
    "door needs to close",
    not_covered="what the clearance sweep leaves out: other planes, bending, a tyre larger than "
    "its outline; how exactly the trigger can be set and how much it wears: stay inside by that",
    method="a clearance sweep at triggers half a degree apart or less, then 10 halvings where the "
    "gap becomes too small",
    second=Second(_by_polygons, "0.1", "polygons of 160 corners, leg angles in steps"),
    examples=(
        Example(
            {
                "wheel_radius": "60 mm",
                "half_length": "12 mm",
                "half_width": "12 mm",
                "fullness": "2",
                "hinge_across": "77 mm",
                "hinge_up": "20 mm",
                "door_length": "40 mm",
                "open_angle": "90°",
                "earliest": "98.5°",
                "shortest": "21°",
                "closed": "120°",
                "from_leg": "89.5°",
                "to_leg": "90.7°",
                "wanted": "3 mm",
                "drawing": "0.5 mm",
            },
            {"trigger.from": "98.5 °", "trigger.to": "99.0 °", "best": "4.40 mm"},
            "geometry: a round wheel of 12 mm comes to 60 + 12 of the 77 mm to a door that is "
            "still upright; 120° less 21°",
        ),
    ),
)
def trigger_window(
    wheel_radius: WheelRadius,
    half_length: HalfLength,
    half_width: HalfWidth,
    fullness: Fullness,
    hinge_across: HingeAcross,
    hinge_up: HingeUp,
    door_length: DoorLength,
    open_angle: OpenAngle,
    earliest: Earliest,
    shortest: Shortest,
    closed: Closed,
    from_leg: FromLeg,
    to_leg: ToLeg,
    wanted: Wanted,
    drawing: Drawing,
    search: Search,
) -> Triggers:  # fmt: skip
    """Window of the trigger: from the first that leaves gap enough to the last that closes in time.

    Where no trigger leaves enough it is refused, and the best one named.
    """
    numbers: Any = (half_length, half_width, fullness, hinge_across, hinge_up, door_length)
    angles: Any = (open_angle, earliest, closed, from_leg, to_leg, shortest)
    latest = angles[2] - angles[5]
    if latest < angles[1]:
        shown = [f"{math.degrees(each):.1f}°" for each in (latest, angles[1])]
        wrong = "the door needs a trigger of {} at the latest, the earliest is {}".format(*shown)
        raise Refusal("range", wrong, "a faster door, or an earlier trigger")
    must_follow(latest, *angles[2:5])
    tyre = Tyre(*numbers[:3])
    rest: Any = (wheel_radius, search, drawing, wanted)

    def sure(trigger: float) -> float:
        door = Door(numbers[3:5], numbers[5], angles[0], trigger, angles[2])
        _, gap = closest((tyre, rest[0], door), (angles[3], angles[4]), rest[1])
        return float(gap - rest[1] - rest[2])

    return _run_of(sure, (angles[1], latest), rest[3], 10)
