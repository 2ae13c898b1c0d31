"""Pulls and masses about a hinge in; friction and static moment, with its sign, out.

Plus is trailing edge heavy: the trailing edge sinks. Minus is nose heavy.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import step, total

AS_FLOWN = (
    "a surface that is not painted and complete with its tab, or with a rod still hanging on it "
    "(the lag of rods off); the limits, which approved data give"
)
Arm = Annotated[
    Amount, given("r", "mm", "hinge to the hook, along the chord", at_least="10", at_most="5000")
]


@dataclass(frozen=True)
class Hinges:
    """What two pulls of a spring balance say."""

    moment: Annotated[Amount, gives("M", "N·m", "static moment", to="0.01")]
    friction: Annotated[Amount, gives("M_f", "N·m", "friction", to="0.01", safe="up")]
    share: Annotated[Amount, gives("s_f", "%", "friction over static moment", to="0.1", safe="up")]


def _hinges_by_ends(up: float, down: float, arm: float) -> Hinges:
    """Both pulls as moments; the truth lies in their middle, friction is what is left."""
    raised, lowered = up * arm, down * arm
    middle = lowered + (raised - lowered) / 2
    made: Any = Hinges
    bare: Hinges = made(middle, raised - middle, (raised - middle) / middle)
    return bare


@calculation(
    source="common practice, no source: half the sum and half the difference of a slow pull up "
    "and a slow let-down",
    not_covered=f"hinges that stick at one place: pull slowly through neutral; {AS_FLOWN}",
    second=Second(_hinges_by_ends, "0.001 %", "both pulls as moments"),
    examples=(
        Example(
            {"up": "10.3 N", "down": "8.9 N", "arm": "268 mm"},
            {"moment": "2.573 N·m", "friction": "0.188 N·m"},
            "closed form: 9.6 and 0.7 N at 0.268 m",
        ),
    ),
)
def hinge_friction(
    up: Annotated[
        Amount,
        given("F_u", "N", "pull that just raises the edge", above="0", at_most="500",
              at_bench="0.1"),
    ],
    down: Annotated[
        Amount,
        given("F_d", "N", "pull that just lets it sink", at_least="0", at_most="500",
              at_bench="0.1"),
    ],
    arm: Arm,
) -> Hinges:  # fmt: skip
    """Friction of hinges from two pulls, and the static moment between them.

    The balance hangs plumb, the surface lies level at neutral, the circuit is disconnected.
    """
    step(
        up, "F_u", "N", "pull up", at_least=down,
        wrong="the pull up of {value} is below the pull down: the readings are swapped",
    )  # fmt: skip
    moment = step((up + down) / 2 * arm, "M", "N·m", "static moment")
    friction = step((up - down) / 2 * arm, "M_f", "N·m", "friction")
    return Hinges(moment, friction, friction / moment)


@dataclass(frozen=True)
class Piece:
    """A mass and its place: plus is aft of the hinge line."""

    mass: Annotated[Amount, given("m", "kg", "mass", above="0", at_most="500", at_bench="0.001")]
    arm: Annotated[
        Amount,
        given("r", "mm", "arm, aft of the hinge plus, forward minus", at_least="-5000",
              at_most="5000"),
    ]  # fmt: skip


@dataclass(frozen=True)
class StaticBalance:
    """The moment of a surface about its hinge line."""

    mass: Annotated[Amount, gives("m", "kg", "mass of all pieces", to="0.001")]
    moment: Annotated[
        Amount,
        gives("M", "kg·cm", "moment, plus is trailing edge heavy", to="0.01"),
    ]


def _by_centre(pieces: tuple[Any, ...]) -> StaticBalance:
    """Centre of mass first, then the whole mass at it."""
    mass = math.fsum(each.mass for each in pieces)
    centre = math.fsum(each.arm * each.mass / mass for each in pieces)
    made: Any = StaticBalance
    bare: StaticBalance = made(mass, centre * mass)
    return bare


@calculation(
    source="textbook: the moment is the sum of mass times arm",
    not_covered=AS_FLOWN,
    second=Second(_by_centre, "0.0001 %", "the whole mass at the centre of mass"),
    examples=(
        Example(
            {
                "pieces": [
                    {"mass": "8.5 lb", "arm": "5 in"},
                    {"mass": "1.5 lb", "arm": "-3 in"},
                ]
            },
            {"moment": "38.0 lb·in"},
            "aircraft maintenance study notes, flight controls balancing: rudder 8.5 × 5 = 42.5 "
            "and aileron 1.5 × 3 = 4.5, here one less the other",
            within="0.001 lb·in",
        ),
    ),
)
def static_balance(pieces: tuple[Piece, ...]) -> StaticBalance:
    """Static balance of a surface: masses times arms about its hinge line, with the sign.

    Plus is trailing edge heavy, which is under-balanced; minus is nose heavy.
    """
    moment = total([each.mass * each.arm for each in pieces])
    return StaticBalance(total([each.mass for each in pieces]), moment)


def _nose_by_levers(reading: float, spindle: float, distance: float) -> float:
    return -(spindle - reading) * distance


@calculation(
    source="shop manual: distance to the spindle times the scale reading less the spindle",
    not_covered=f"{AS_FLOWN}; a surface that is trailing edge heavy, for which the scale stands "
    "under the trailing edge",
    second=Second(_nose_by_levers, "0.001 %", "taken the other way round"),
    examples=(
        Example(
            {"reading": "1.35 lb", "spindle": "1.25 lb", "distance": "10 in"},
            {"": "1.0 lb·in"},
            "shop manual's formula D (W − S) with chosen numbers (closed form)",
        ),
    ),
)
def nose_heaviness(
    reading: Annotated[
        Amount, given("W", "kg", "reading of the scale", above="0", at_most="200",
                      at_bench="0.01")
    ],
    spindle: Annotated[
        Amount, given("S", "kg", "what the spindle weighs by itself", at_least="0", at_most="50")
    ],
    distance: Annotated[
        Amount, given("D", "mm", "hinge line to the spindle", at_least="10", at_most="3000")
    ],
) -> Annotated[
    Amount,
    gives("M_n", "kg·cm", "moment, nose heavy", to="0.01", at_least="0",
          beyond="The surface is trailing edge heavy: weigh it at the trailing edge"),
]:  # fmt: skip
    """Nose heaviness of a surface from a scale under a spindle ahead of its hinge line."""
    return (reading - spindle) * distance


@dataclass(frozen=True)
class Ballast:
    """What is put into the nose."""

    mass: Annotated[
        Amount,
        gives("m_b", "kg", "mass to put in, minus is to take out", to="0.001"),
    ]
    whole: Annotated[Amount, gives("m_w", "kg", "mass of the surface with it", to="0.001")]


def _ballast_by_trial(moment: float, wanted: float, arm: float, surface: float) -> Ballast:
    """Two trial masses, and the straight line through their moments."""
    none, one = moment, moment - arm
    mass = (wanted - none) / (one - none)
    made: Any = Ballast
    bare: Ballast = made(mass, surface + mass)
    return bare


@calculation(
    source="textbook: mass × arm takes off the moment",
    not_covered="where the ballast may be fixed and how much, which approved data say; the arm of "
    "its middle, which shifts as it grows",
    second=Second(_ballast_by_trial, "0.001 %", "two trial masses and a straight line"),
    examples=(
        Example(
            {
                "moment": "3.5 kg·cm",
                "wanted": "2.5 kg·cm",
                "arm": "50 mm",
                "surface": "1.5 kg",
            },
            {"mass": "0.200 kg", "whole": "1.700 kg"},
            "closed form: 1 kg·cm at 5 cm",
        ),
    ),
)
def balance_mass(
    moment: Annotated[
        Amount,
        given("M", "kg·cm", "moment now, plus is trailing edge heavy", at_least="-5000",
              at_most="5000"),
    ],
    wanted: Annotated[
        Amount, given("M_w", "kg·cm", "moment that is wanted", at_least="-5000", at_most="5000")
    ],
    arm: Annotated[
        Amount,
        given("r_b", "mm", "ballast ahead of the hinge line", at_least="5", at_most="1000"),
    ],
    surface: Annotated[
        Amount, given("m_s", "kg", "mass of the surface now", above="0", at_most="500")
    ],
) -> Ballast:  # fmt: skip
    """Mass of ballast ahead of the hinge line for a wanted moment, and the mass it makes."""
    mass = step((moment - wanted) / arm, "m_b", "kg", "mass to put in")
    return Ballast(mass, surface + mass)
