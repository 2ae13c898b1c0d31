"""A wheel on a leg, and a door that closes behind it, in; the least gap on the way, out.

Seen along the leg's axis. The leg hangs straight down at 0° and swings to the right and up. The
door's hinge lies to the right and above (minus: below) the leg's axis; the door closes to the left.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives, word
from generator.calculations.sweep_search import Point, Tyre, least_gap, to_edge
from generator.findings import Refusal
from generator.quantities.amount import Amount

GO, NO = "GO", "NO-GO"
NO_GO = "No-go: another trigger, or more room"

WheelRadius = Annotated[
    Amount, given("R", "mm", "leg's axis to the wheel's middle", at_least="50", at_most="5000")
]
HalfLength = Annotated[
    Amount, given("a", "mm", "half the tyre along the leg", at_least="10", at_most="1500")
]
HalfWidth = Annotated[
    Amount, given("b", "mm", "half the tyre across it", at_least="5", at_most="1000")
]
Fullness = Annotated[
    Amount,
    given("n", "", "fullness: 2 is an ellipse, more is squarer", at_least="2", at_most="12"),
]
HingeAcross = Annotated[
    Amount,
    given("x", "mm", "door hinge right of the leg's axis", at_least="-8000", at_most="8000"),
]
HingeUp = Annotated[Amount, given("y", "mm", "and above it", at_least="-8000", at_most="8000")]
DoorLength = Annotated[
    Amount, given("l", "mm", "hinge to the door's edge", at_least="10", at_most="3000")
]
OpenAngle = Annotated[Amount, given("ψ₀", "°", "door open", at_least="5", at_most="180")]
Trigger = Annotated[
    Amount,
    given(
        "φ_t",
        "°",
        "leg angle at which the door begins to close",
        at_least="0",
        at_most="170",
        at_bench="0.1",
    ),
]
Closed = Annotated[
    Amount,
    given("φ_c", "°", "leg angle at which it is closed", at_least="1", at_most="180"),
]
FromLeg = Annotated[Amount, given("φ₁", "°", "sweep from leg angle", at_least="0", at_most="179")]
ToLeg = Annotated[Amount, given("φ₂", "°", "to leg angle", at_least="1", at_most="180")]
Wanted = Annotated[Amount, given("g_w", "mm", "least gap that is wanted", above="0", at_most="200")]
Drawing = Annotated[
    Amount,
    given(
        "g_d", "mm", "how far the real parts may be off this drawing", at_least="0", at_most="50"
    ),
]
NoGo = Annotated[
    str, choice("what a no-go does: show is for strips", "refuse", "show", otherwise="refuse")
]
Search = Annotated[Amount, given("g_ε", "mm", "error of the search", fixed="0.1 mm")]


@dataclass(frozen=True)
class Clearance:
    """The closest moment."""

    gap: Annotated[Amount, gives("g", "mm", "least gap that was found", to="0.1", safe="down")]
    leg: Annotated[Amount, gives("φ", "°", "leg angle of the closest moment", to="0.1")]
    sure: Annotated[
        Amount,
        gives("g_s", "mm", "gap that is sure", to="0.1",
              safe="down"),
    ]  # fmt: skip
    spare: Annotated[
        Amount,
        gives("Δg", "mm", "sure gap over the wanted, minus is NO-GO", to="0.1",
              safe="down"),
    ]  # fmt: skip
    verdict: Annotated[str, word("go", "verdict")]


@dataclass(frozen=True)
class Door:
    """Hinge, length, and how far it stands open at a leg angle."""

    hinge: Point
    length: float
    open_angle: float
    trigger: float
    closed: float

    def opening(self, leg: float) -> float:
        """Open until the trigger, then closing evenly."""
        part = (leg - self.trigger) / (self.closed - self.trigger)
        return self.open_angle * (1 - min(1.0, max(0.0, part)))

    def tip(self, leg: float) -> Point:
        opening = self.opening(leg)
        x, y = self.hinge
        return x - self.length * math.cos(opening), y - self.length * math.sin(opening)

    def speed(self, low: float, high: float) -> float:
        """How fast its tip moves between two leg angles, for each radian of the leg."""
        if high <= self.trigger or low >= self.closed:
            return 0.0
        return self.length * self.open_angle / (self.closed - self.trigger)


def verdict(least: float, off: tuple[float, float], wanted: float, no_go: str) -> tuple[Any, ...]:
    """The gap that is sure, what it is over the wanted one, and GO or NO-GO.

    off: the errors of the search and of the drawing, which come off the least gap. Refuses a no-go
    where it is not to be shown.
    """
    sure = least - off[0] - off[1]
    if no_go == "refuse" and sure < wanted:
        told = [math.floor(sure * 10000) / 10, wanted * 1000]
        wrong = "the gap that is sure is {:.1f} mm where {:g} mm are wanted".format(*told)
        raise Refusal("range", wrong, NO_GO)
    return sure, sure - wanted, GO if sure >= wanted else NO


def told(spare: float, error: float) -> str:
    """The verdict of a second method; "" where it is too near to the limit for one."""
    if abs(spare) <= error:
        return ""
    return GO if spare > 0 else NO


def _in_wheel(point: Point, leg: float, radius: float) -> Point:
    """A place along the leg from the wheel's centre, and across it."""
    x, y = point
    along = x * math.sin(leg) - y * math.cos(leg) - radius
    return along, x * math.cos(leg) + y * math.sin(leg)


def _legs_of_polygon(
    door: Door, tyre: Tyre, radius: float, legs: list[float], points: int
) -> tuple[float, float]:
    """The least gap at these leg angles, between the door and a polygon of so many corners."""
    corners = [point for _, point in tyre.ring(points)]
    sides = list(zip(corners, corners[1:] + corners[:1], strict=True))
    best = (math.inf, 0.0)
    for leg in legs:
        ends = (_in_wheel(door.hinge, leg, radius), _in_wheel(door.tip(leg), leg, radius))
        near = min(to_edge(corner, *ends) for corner in corners)
        near = min(near, *(to_edge(end, *side) for end in ends for side in sides))
        best = min(best, (near, leg))
    return best


@lru_cache(maxsize=512)
def gap_of_polygon(
    door: Door, tyre: Tyre, radius: float, sweep: tuple[float, float]
) -> tuple[float, float]:
    """The least gap with a polygon for the outline, and the leg angle; steps of a degree, then
    finer about the least."""
    low, high = sweep
    steps = max(1, math.ceil((high - low) / math.radians(1)))
    legs = [low + (high - low) * n / steps for n in range(steps + 1)]
    wide = (high - low) / steps
    gap, near = _legs_of_polygon(door, tyre, radius, legs, 64)
    for _ in range(3):
        first, last = max(low, near - wide), min(high, near + wide)
        legs = [first + (last - first) * n / 16 for n in range(17)]
        gap, near = _legs_of_polygon(door, tyre, radius, legs, 160)
        wide /= 8
    return gap, near


def _by_polygon(
    wheel_radius: float, half_length: float, half_width: float, fullness: float,
    hinge_across: float, hinge_up: float, door_length: float, open_angle: float,
    trigger: float, closed: float, from_leg: float, to_leg: float,
    wanted: float, drawing: float, search: float,
) -> Clearance:  # fmt: skip
    """A polygon for the outline, the leg in steps of a degree, then finer about the least."""
    tyre = Tyre(half_length, half_width, fullness)
    door = Door((hinge_across, hinge_up), door_length, open_angle, trigger, closed)
    gap, near = gap_of_polygon(door, tyre, wheel_radius, (from_leg, to_leg))
    made: Any = Clearance
    sure = gap - search - drawing
    bare: Clearance = made(gap, near, sure, sure - wanted, told(sure - wanted, search))
    return bare


@calculation(
    source="geometry in one plane; a step of the sweep is halved until nothing can hide in it",
    not_covered="what does not lie in this plane; bending of leg and door under air loads and "
    "flexing; a tyre smaller or larger than its outline: draw it at its greatest growth, with the "
    "strut extended; slower or faster doors than this even closing: sweep both ends of the band",
    method="distance of the door's straight edge from the outline by golden section; leg angles "
    "halved until, by the speed of wheel and door, no gap can be less by more than the search's "
    "error",
    second=Second(_by_polygon, "0.1", "polygon of 160 corners, in steps down to 1/500 of a degree"),
    figures=("closest-moment",),
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
                "trigger": "99°",
                "closed": "120°",
                "from_leg": "89.5°",
                "to_leg": "90.7°",
                "wanted": "3 mm",
                "drawing": "0.5 mm",
            },
            {
                "gap": "5.00 mm",
                "leg": "90.0 °",
                "sure": "4.40 mm",
                "spare": "1.40 mm",
            },
            "geometry: a round wheel of 12 mm comes to 60 + 12 of the 77 mm to an upright door",
        ),
    ),
)
def tyre_door_clearance(
    wheel_radius: WheelRadius,
    half_length: HalfLength,
    half_width: HalfWidth,
    fullness: Fullness,
    hinge_across: HingeAcross,
    hinge_up: HingeUp,
    door_length: DoorLength,
    open_angle: OpenAngle,
    trigger: Trigger,
    closed: Closed,
    from_leg: FromLeg,
    to_leg: ToLeg,
    wanted: Wanted,
    drawing: Drawing,
    no_go: NoGo,
    search: Search,
) -> Clearance:  # fmt: skip
    """Clearance sweep of a wheel past its closing door: the least gap, and whether it is enough.

    The errors of the search and of the drawing are taken off before the verdict. A no-go is
    refused, or shown as a minus where a strip is made; that tyre and door meet is always refused.
    """
    numbers: Any = (half_length, half_width, fullness, hinge_across, hinge_up, door_length)
    angles: Any = (open_angle, trigger, closed, from_leg, to_leg)
    tyre, door = Tyre(*numbers[:3]), Door(numbers[3:5], numbers[5], *angles[:3])
    must_follow(*angles[1:])
    radius: Any = wheel_radius
    slack: Any = search
    leg, least = closest((tyre, radius, door), (angles[3], angles[4]), slack)
    if least <= slack:
        wrong = f"the tyre and the door meet: no gap at a leg angle of {math.degrees(leg):.1f}°"
        raise Refusal("range", wrong, NO_GO)
    rest: Any = (drawing, wanted)
    made: Any = Clearance
    found: Clearance = made(least, leg, *verdict(least, (slack, rest[0]), rest[1], no_go))
    return found


@lru_cache(maxsize=512)
def closest(
    parts: tuple[Tyre, float, Door], sweep: tuple[float, float], slack: float
) -> tuple[float, float]:
    """The leg angle at which tyre and door are nearest, and their gap there.

    Kept, because limits and strips ask for the same sweep many times.
    """
    tyre, radius, door = parts
    ring = tyre.ring(24)
    reach = math.hypot(radius + tyre.half_length, tyre.half_width)

    def gap(leg: float) -> float:
        ends = (_in_wheel(door.hinge, leg, radius), _in_wheel(door.tip(leg), leg, radius))
        return tyre.gap(*ends, ring)

    return least_gap(gap, lambda low, high: reach + door.speed(low, high), sweep, slack)


def must_follow(trigger: float, closed: float, from_leg: float, to_leg: float) -> None:
    for first, last, what in (
        (trigger, closed, "the door begins to close at {0} of the leg and is closed at {1}"),
        (from_leg, to_leg, "the sweep runs from {0} to {1} of the leg"),
    ):
        if last - first < math.radians(0.5) * (1 - 1e-9):
            shown = [f"{math.degrees(each):.1f}°" for each in (first, last)]
            right = "the second at least half a degree above the first"
            raise Refusal("range", what.format(*shown), right)
