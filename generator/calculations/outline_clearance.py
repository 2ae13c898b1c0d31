"""Two outlines as corners, each turning about its own hinge line, in; the least gap on the way out.

Both are drawn along the hinge lines, which are parallel, with the first part at 0° and the second
as it stands open. Turning is counted anticlockwise.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from itertools import product
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, word
from generator.calculations.clearance import NO_GO, Drawing, NoGo, Search, Wanted, told, verdict
from generator.calculations.sweep_search import Point, least_gap, to_edge
from generator.findings import Refusal
from generator.quantities.amount import Amount

Place = given("x", "mm", "corner, right of its hinge line", at_least="-9000", at_most="9000")
Height = given("y", "mm", "and above it", at_least="-9000", at_most="9000")
HingeAcross = Annotated[
    Amount,
    given("X", "mm", "second hinge line, right of the first", at_least="-9000", at_most="9000"),
]
HingeUp = Annotated[
    Amount, given("Y", "mm", "second hinge line, above it", at_least="-9000", at_most="9000")
]
Turns = Annotated[
    Amount, given("ψ", "°", "turning of the second, on the whole", at_least="-180", at_most="180")
]
Start = Annotated[
    Amount,
    given("φ_t", "°", "turning of the first at which the second starts", at_least="-180",
          at_most="180", at_bench="0.1"),
]  # fmt: skip
End = Annotated[
    Amount,
    given("φ_c", "°", "turning of the first at which the second ends", at_least="-180",
          at_most="180"),
]  # fmt: skip
FromTurned = Annotated[Amount, given("φ₁", "°", "sweep from", at_least="-180", at_most="180")]
ToTurned = Annotated[Amount, given("φ₂", "°", "sweep to", at_least="-180", at_most="180")]


@dataclass(frozen=True)
class Corner:
    """A corner of an outline, from its own hinge line."""

    across: Annotated[Amount, Place]
    up: Annotated[Amount, Height]


@dataclass(frozen=True)
class OutlineGap:
    """The closest moment of two outlines."""

    gap: Annotated[Amount, gives("g", "mm", "least gap that was found", to="0.1", safe="down")]
    at: Annotated[Amount, gives("φ", "°", "turning of the first at that moment", to="0.1")]
    sure: Annotated[Amount, gives("g_s", "mm", "gap that is sure", to="0.1", safe="down")]
    spare: Annotated[
        Amount,
        gives("Δg", "mm", "sure gap over the wanted, minus is NO-GO", to="0.1", safe="down"),
    ]
    verdict: Annotated[str, word("go", "verdict")]


@dataclass(frozen=True)
class _Pair:
    """Both outlines about their hinges, and how the second follows the first."""

    first: tuple[complex, ...]
    second: tuple[complex, ...]
    hinge: complex
    start: float
    end: float
    turns: float

    def follows(self, turned: float) -> float:
        part = (turned - self.start) / (self.end - self.start)
        return self.turns * min(1.0, max(0.0, part))

    def speed(self, low: float, high: float) -> float:
        """The most that the gap changes for each radian of the first."""
        speed = max(map(abs, self.first))
        if high > self.start and low < self.end:
            speed += max(map(abs, self.second)) * abs(self.turns) / (self.end - self.start)
        return speed

    def placed(self, turned: float) -> tuple[list[complex], list[complex]]:
        way, other = cmath.exp(1j * turned), cmath.exp(1j * self.follows(turned))
        return [c * way for c in self.first], [self.hinge + c * other for c in self.second]


def sides_of(corners: list[complex]) -> list[tuple[complex, complex]]:
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def _point(place: complex) -> Point:
    return place.real, place.imag


def _left(one: complex, other: complex, place: complex) -> float:
    """Above zero where a place lies left of the way from one to the other."""
    return ((other - one).conjugate() * (place - one)).imag


def _cross(one: tuple[complex, complex], other: tuple[complex, complex]) -> bool:
    return (
        _left(*one, other[0]) * _left(*one, other[1]) < 0
        and _left(*other, one[0]) * _left(*other, one[1]) < 0
    )


def _holds(sides: list[tuple[complex, complex]], place: complex) -> bool:
    """Whether a closed outline holds a place: it is left by an odd number of sides."""
    crossed = 0
    for a, b in sides:
        if (a.imag > place.imag) != (b.imag > place.imag):
            x = a.real + (place.imag - a.imag) / (b.imag - a.imag) * (b.real - a.real)
            crossed += x > place.real
    return crossed % 2 == 1


def outline_gap(first: list[complex], second: list[complex]) -> float:
    """The distance of two outlines; 0 where they meet, or one holds the other."""
    one, other = sides_of(first), sides_of(second)
    if any(_cross(a, b) for a, b in product(one, other)):
        return 0.0
    if _holds(one, second[0]) or _holds(other, first[0]):
        return 0.0
    near = min(to_edge(_point(c), _point(a), _point(b)) for c in first for a, b in other)
    back = min(to_edge(_point(c), _point(a), _point(b)) for c in second for a, b in one)
    return min(near, back)


def _by_steps(
    first: tuple[Any, ...], second: tuple[Any, ...], hinge_across: float, hinge_up: float,
    turns: float, start: float, end: float, from_turned: float, to_turned: float,
    wanted: float, drawing: float, error: float,
) -> OutlineGap:  # fmt: skip
    """The second held still and the first turned about it, in steps of a degree, then finer."""
    shapes = [[complex(c.across, c.up) for c in each] for each in (first, second)]
    hinge = complex(hinge_across, hinge_up)

    def gap(turned: float) -> float:
        back = cmath.exp(-1j * turns * min(1.0, max(0.0, (turned - start) / (end - start))))
        return outline_gap(
            [(c * cmath.exp(1j * turned) - hinge) * back for c in shapes[0]], shapes[1]
        )

    wide = (to_turned - from_turned) / max(1, math.ceil((to_turned - from_turned) * 57.3))
    steps = round((to_turned - from_turned) / wide)
    near = min((from_turned + wide * n for n in range(steps + 1)), key=gap)
    for _ in range(5):
        low, high = max(from_turned, near - wide), min(to_turned, near + wide)
        near = min((low + (high - low) * n / 16 for n in range(17)), key=gap)
        wide /= 8
    least = gap(near)
    made: Any = OutlineGap
    sure = least - error - drawing
    bare: OutlineGap = made(least, near, sure, sure - wanted, told(sure - wanted, error))
    return bare


@calculation(
    source="geometry in one plane; a step of the sweep is halved until nothing can hide in it",
    not_covered="hinge lines that are not parallel; bending; curves between corners: draw so many "
    "that the drawing's error holds what is cut off; slower or faster doors than this even turning",
    method="distance of two outlines, corner to side both ways; turnings halved until, by the "
    "speed of both parts, no gap can be less by more than the search's error",
    second=Second(_by_steps, "0.1", "the second held still, in steps of a degree, then finer"),
    figures=("closest-moment",),
    examples=(
        Example(
            {
                "first": [
                    {"across": "0 mm", "up": "-60 mm"},
                    {"across": "1 mm", "up": "-50 mm"},
                ],
                "second": [
                    {"across": "0 mm", "up": "1 mm"},
                    {"across": "0 mm", "up": "-40 mm"},
                ],
                "hinge_across": "77 mm",
                "hinge_up": "20 mm",
                "turns": "-90°",
                "start": "99°",
                "end": "120°",
                "from_turned": "89.5°",
                "to_turned": "90.7°",
                "wanted": "3 mm",
                "drawing": "0.5 mm",
            },
            {
                "gap": "17.00 mm",
                "at": "90.0 °",
                "sure": "16.40 mm",
                "spare": "13.40 mm",
            },
            "geometry: an arm of 60 mm comes to 60 of the 77 mm to an upright wall",
        ),
    ),
)
def outline_clearance(
    first: tuple[Corner, ...],
    second: tuple[Corner, ...],
    hinge_across: HingeAcross,
    hinge_up: HingeUp,
    turns: Turns,
    start: Start,
    end: End,
    from_turned: FromTurned,
    to_turned: ToTurned,
    wanted: Wanted,
    drawing: Drawing,
    no_go: NoGo,
    error: Search,
) -> OutlineGap:
    """Clearance sweep of two outlines about parallel hinge lines: the least gap, and whether it is
    enough.

    An outline is closed by itself; two corners make a straight edge. That both meet is refused.
    """
    one, other = corners_of(first), corners_of(second)
    ends: Any = (start, end, from_turned, to_turned, hinge_across, hinge_up, turns)
    _must_be_sound((one, other), ends[:4])
    pair = _Pair(one, other, complex(ends[4], ends[5]), ends[0], ends[1], ends[6])
    slack: Any = error
    at, least = least_gap(
        lambda x: outline_gap(*pair.placed(x)), pair.speed, (ends[2], ends[3]), slack
    )
    if least <= slack:
        wrong = f"the two outlines meet: no gap at a turning of {math.degrees(at):.1f}°"
        raise Refusal("range", wrong, NO_GO)
    rest: Any = (drawing, wanted)
    made: Any = OutlineGap
    found: OutlineGap = made(least, at, *verdict(least, (slack, rest[0]), rest[1], no_go))
    return found


def corners_of(outline: tuple[Any, ...]) -> tuple[complex, ...]:
    return tuple(complex(each.across, each.up) for each in outline)


def _must_be_sound(bodies: tuple[tuple[complex, ...], ...], ends: tuple[float, ...]) -> None:
    for name, corners in zip(("first", "second"), bodies, strict=True):
        if any(a == b for a, b in sides_of(list(corners))) or len(corners) < 2:
            wrong = f"the {name} outline has a corner twice in a row, or one corner only"
            raise Refusal("range", wrong, "two corners or more, each another place")
    for low, high, what in (ends[0], ends[1], "second turns"), (ends[2], ends[3], "sweep runs"):
        if high - low < math.radians(0.5) * (1 - 1e-9):
            shown = f"from {math.degrees(low):.1f}° to {math.degrees(high):.1f}°"
            right = "the second angle at least half a degree above the first"
            raise Refusal("range", f"the {what} {shown}".replace("-", "\N{MINUS SIGN}"), right)
