"""Holes on a circle in; the place of each, and the way from one to the next, out."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, count, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import cos, sin, step, subscript

LEFT, RIGHT = "anticlockwise", "clockwise"


@dataclass(frozen=True)
class Hole:
    """The place of one hole from the middle of the circle."""

    across: Annotated[Amount, gives("x", "mm", "right of the middle, hole", to="0.001")]
    up: Annotated[Amount, gives("y", "mm", "above the middle, hole", to="0.001")]


@dataclass(frozen=True)
class BoltCircle:
    """All holes, and what is measured between them."""

    holes: tuple[Hole, ...]
    chord: Annotated[Amount, gives("c", "mm", "from the middle of a hole to the next", to="0.01")]


def _by_turning(diameter: float, holes: int, start: float, way: str) -> BoltCircle:
    """The first hole turned on, again and again."""
    on = cmath.exp((1j if way == LEFT else -1j) * math.tau / holes)
    place = diameter / 2 * cmath.exp(1j * start)
    places = []
    for _ in range(holes):
        places.append(place)
        place *= on
    made: Any = Hole
    whole: Any = BoltCircle
    bare: BoltCircle = whole(
        tuple(made(p.real, p.imag) for p in places), abs(places[1] - places[0])
    )
    return bare


@calculation(
    source="x = D/2 cos φ, y = D/2 sin φ; chord D sin(180°/n) (geometry)",
    not_covered="holes that are not evenly spread; a view from the other side, where clockwise is "
    "anticlockwise: say which side is seen",
    second=Second(_by_turning, "0.00001", "the first hole turned on from hole to hole"),
    examples=(
        Example(
            {"diameter": "80 mm", "holes": "6", "start": "30°", "way": RIGHT},
            {
                "holes.1.across": "34.6410 mm", "holes.1.up": "20.0000 mm",
                "holes.2.up": "-20.0000 mm", "holes.3.across": "0.0000 mm",
                "holes.3.up": "-40.0000 mm", "holes.5.across": "-34.6410 mm",
                "chord": "40.00 mm",
            },
            "polar to rectangular: 40 cos 30°, 40 sin 30° (closed form)",
        ),
    ),
    figures=("bolt-circle",),
)  # fmt: skip
def bolt_circle(
    diameter: Annotated[Amount, given("D", "mm", "pitch circle", at_least="1", at_most="5000")],
    holes: Annotated[int, count("n", "holes", 2, 60)],
    start: Annotated[
        Amount,
        given("φ_s", "°", "place of hole 1, from x towards y", at_least="-360", at_most="360"),
    ],
    way: Annotated[str, choice("way from hole to hole, as it is seen", LEFT, RIGHT)],
    turn: Annotated[Amount, given("φ₀", "°", "a whole turn", fixed="360°")],
    back: Annotated[Amount, given("φ_r", "°", "a whole turn the other way", fixed="-360°")],
) -> BoltCircle:
    """Bolt circle: places of the holes across and up from its middle, and the chord.

    Across is plus to the right, up is plus upward, hole 1 counts from the right, anticlockwise.
    """
    radius = step(diameter / 2, "R", "mm", "radius of the pitch circle")
    whole = turn if way == LEFT else back
    apart = step(whole / holes, "Δφ", "°", "from hole to hole, plus is anticlockwise")
    found = []
    for k, n in enumerate(range(holes), start=1):
        at = step(start + n * apart, subscript("φ", k), "°", f"place of hole {k}")
        found.append(Hole(radius * cos(at), radius * sin(at)))
    half = step(turn / (2 * holes), "φ_c", "°", "half the angle between two holes")
    return BoltCircle(tuple(found), diameter * sin(half))
