"""Chain wheels, drums and quadrants in; turns and travel out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, count, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import arc, step

Turns = Annotated[
    Amount, given("N", "", "turns of the driving wheel", at_least="0", at_most="1000")
]
TOOTH = "slack of the chain and worn teeth; a chain that jumps"


@dataclass(frozen=True)
class Driven:
    """What the driven wheel does."""

    turns: Annotated[Amount, gives("N_2", "", "turns of the driven wheel", to="0.01")]
    angle: Annotated[Amount, gives("θ_2", "°", "turning of the driven wheel", to="0.1")]


def _driven_by_links(driver: int, driven: int, turns: float, whole: float) -> Driven:
    """Links that pass, over the links once round the driven wheel."""
    links = turns * driver
    made: Any = Driven
    bare: Driven = made(links / driven, 2 * math.pi * links / driven)
    return bare


@calculation(
    source="textbook: turns × teeth are the same on both wheels",
    not_covered=TOOTH,
    second=Second(_driven_by_links, "0.001 %", "links that pass"),
    examples=(
        Example(
            {"driver": "12", "driven": "30", "turns": "2.5"},
            {"turns": "1.0", "angle": "360 °"},
            "ratio of the teeth in closed form (from memory)",
        ),
        Example(
            {"driver": "18", "driven": "45", "turns": "60"},
            {"turns": "24"},
            "technology course page: 60 rpm, 18 teeth on 45, 24 rpm",
        ),
    ),
)
def chain_ratio(
    driver: Annotated[int, count("z₁", "teeth of the driving wheel", at_least=6, at_most=150)],
    driven: Annotated[int, count("z₂", "teeth of the driven wheel", at_least=6, at_most=150)],
    turns: Turns,
    whole: Annotated[Amount, given("θ_360", "°", "one turn", fixed="360°")],
) -> Driven:
    """Chain drive: turns and angle of the driven wheel."""
    out = step(turns * driver / driven, "N_2", "", "turns of the driven wheel")
    return Driven(out, out * whole)


def _travel_by_polygon(teeth: int, pitch: float, turns: float) -> float:
    """Sides of the wheel's polygon that pass."""
    across = pitch / math.sin(math.pi / teeth)
    side = across * math.sin(math.pi / teeth)
    return side * teeth * turns


@calculation(
    source="textbook: teeth × pitch in a turn",
    not_covered=TOOTH,
    second=Second(_travel_by_polygon, "0.001 %", "sides of the wheel's polygon"),
    examples=(
        Example(
            {"teeth": "9", "pitch": "8 mm", "turns": "1.25"},
            {"": "90.0 mm"},
            "z p n in closed form (from memory)",
        ),
    ),
)
def chain_travel(
    teeth: Annotated[int, count("z", "teeth of the wheel", at_least=6, at_most=150)],
    pitch: Annotated[Amount, given("p", "mm", "pitch of the chain", at_least="3", at_most="60")],
    turns: Turns,
) -> Annotated[Amount, gives("s", "mm", "travel of the chain", to="0.1")]:
    """Travel of a chain for turns of its wheel."""
    return teeth * pitch * turns


def _travel_by_share(radius: float, rotation: float) -> float:
    """The share of the whole way round."""
    return 2 * math.pi * radius * (rotation / (2 * math.pi))


@calculation(
    source="geometry: arc = radius × angle",
    not_covered="a cable that leaves its groove: the radius is that of the cable's middle; "
    "stretch of the cable under load",
    second=Second(_travel_by_share, "0.001 %", "share of the whole way round"),
    examples=(
        Example(
            {"radius": "75 mm", "rotation": "60°"},
            {"": "78.54 mm"},
            "r θ in closed form (from memory)",
        ),
    ),
)
def drum_travel(
    radius: Annotated[
        Amount,
        given("r", "mm", "radius to the middle of the cable", at_least="5", at_most="1000"),
    ],
    rotation: Annotated[
        Amount,
        given("θ", "°", "turning of quadrant or drum", at_least="-36000", at_most="36000",
              at_bench="1"),
    ],
) -> Annotated[Amount, gives("s", "mm", "travel of the cable", to="0.1")]:  # fmt: skip
    """Travel of a cable on a quadrant or drum."""
    travel: Amount = radius * arc(rotation)
    return travel


def _turns_by_degrees(travel: float, radius: float, wraps: float, whole: float) -> DrumTurns:
    angle = travel / radius
    made: Any = DrumTurns
    bare: DrumTurns = made(angle / (2 * math.pi), angle / (2 * math.pi) + wraps)
    return bare


@dataclass(frozen=True)
class DrumTurns:
    """What a drum must turn, and what must be wound on it."""

    turns: Annotated[Amount, gives("N_d", "", "turns of the drum", to="0.01")]
    wound: Annotated[
        Amount, gives("N_o", "", "turns of cable on the drum at the start", to="0.1", safe="up")
    ]


@calculation(
    source="geometry: arc = radius × angle; turns that stay on: common practice, no source",
    not_covered="cable that climbs on itself; a drum whose groove is shorter",
    second=Second(_turns_by_degrees, "0.001 %", "the angle in radians, as turns"),
    examples=(
        Example(
            {"travel": "471.238898 mm", "radius": "25 mm", "wraps": "1.5"},
            {"turns": "3.00", "wound": "4.50"},
            "closed form: 150 π mm on a drum of 50 π mm round",
        ),
    ),
)
def drum_turns(
    travel: Annotated[Amount, given("s", "mm", "travel of the cable", above="0", at_most="20000")],
    radius: Annotated[
        Amount,
        given("r", "mm", "radius to the middle of the cable", at_least="5", at_most="1000"),
    ],
    wraps: Annotated[
        Amount, given("N_w", "", "turns that stay on the drum", at_least="1", at_most="10")
    ],
    whole: Annotated[Amount, given("θ_360", "°", "one turn", fixed="360°")],
) -> DrumTurns:
    """Turns of a drum for a travel of its cable, and the turns of cable wound on it."""
    turns = step(travel / (radius * arc(whole)), "N_d", "", "turns of the drum")
    return DrumTurns(turns, turns + wraps)
