"""Levers, long rods and deflections in; angles, travels of the trailing edge and forces out.

The chain with rods of any length, as exact four-bars, is in the four bars.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import arcsin, sin, step, subscript

LONG_ROD = "a rod of {value} arms is too short for the long-rod rule, which holds from 8: take the "
LONG_ROD += "exact linkage (control_travel)"
FLAT = "an arm would stand {value} of the way to its dead centre; 0.95 is the most"
Arm = Annotated[Amount, given("r", "mm", "arm", at_least="5", at_most="2000")]
Chord = Annotated[
    Amount,
    given("c", "mm", "hinge line to trailing edge", at_least="20", at_most="5000"),
]


@dataclass(frozen=True)
class EdgeTravel:
    """Where a trailing edge goes: two lengths that are easily taken for one another."""

    chord: Annotated[
        Amount, gives("s_c", "mm", "straight from neutral to deflected edge (chord)", to="0.1")
    ]
    perpendicular: Annotated[
        Amount, gives("s_p", "mm", "square to the neutral plane (perpendicular)", to="0.1")
    ]


def _edge_by_places(chord: float, angle: float) -> EdgeTravel:
    """The edge's place before and after."""
    after = (chord * math.cos(angle), chord * math.sin(angle))
    made: Any = EdgeTravel
    way = math.copysign(math.hypot(after[0] - chord, after[1]), angle)
    bare: EdgeTravel = made(way, after[1])
    return bare


@calculation(
    source="geometry: chord 2 c sin(θ/2), perpendicular c sin θ",
    not_covered="a scale that is not at the edge, or not in the plane of the rib; a bent edge",
    second=Second(_edge_by_places, "0.0001 mm", "the edge's place before and after"),
    examples=(
        Example(
            {"chord": "420 mm", "angle": "25°"},
            {"chord": "181.81 mm", "perpendicular": "177.50 mm"},
            "2 r sin(d/2) and r sin d in closed form (from memory)",
        ),
    ),
)
def trailing_edge_travel(
    chord: Chord,
    angle: Annotated[
        Amount,
        given("θ", "°", "deflection, up plus", at_least="-90", at_most="90", at_bench="0.5"),
    ],
) -> EdgeTravel:
    """Travel of a trailing edge for a deflection: as a chord and as a perpendicular, both named.

    A rigging board says which of the two it is; at 28° they differ by 3 %.
    """
    return EdgeTravel(2 * chord * sin(angle / 2), chord * sin(angle))


def _angle_by_cosines(chord: float, travel: float) -> float:
    """Law of cosines in the triangle of hinge and both places of the edge."""
    cosine = (2 * chord**2 - travel**2) / (2 * chord**2)
    return 2 * math.atan2(math.sqrt(max(0.0, 1 - cosine)), math.sqrt(1 + cosine))


@calculation(
    source="geometry: 2 arcsin(s / 2c)",
    not_covered="a travel measured square to the neutral plane: that is the perpendicular",
    second=Second(_angle_by_cosines, "0.00001°", "law of cosines"),
    examples=(
        Example(
            {"chord": "420 mm", "travel": "181.8085 mm"},
            {"": "25.00 °"},
            "2 r sin(d/2) in closed form (from memory): 181.81 mm at 25°",
        ),
    ),
)
def deflection_from_chord(
    chord: Chord,
    travel: Annotated[
        Amount,
        given("s_c", "mm", "straight from neutral to deflected edge (chord)", at_least="0.1",
              at_most="7000", at_bench="0.5"),
    ],
) -> Annotated[Amount, gives("θ", "°", "deflection", to="0.1")]:  # fmt: skip
    """Deflection from the chord that a rule measures at the trailing edge."""
    share = step(
        travel / (2 * chord), "q_s", "", "chord over twice the arm", at_most="0.7071",
        wrong="the chord is {value} of twice the arm; up to 90° it is 0.7071 at the most",
    )  # fmt: skip
    half: Amount = arcsin(share)
    return 2 * half


@dataclass(frozen=True)
class LongStage:
    """A lever drives the next by a long rod, both arms square to it at neutral."""

    driver: Annotated[Amount, given("r_d", "mm", "arm that drives", at_least="5", at_most="2000")]
    driven: Annotated[
        Amount, given("r_f", "mm", "arm that is driven", at_least="5", at_most="2000")
    ]
    rod: Annotated[Amount, given("L", "mm", "rod between them", at_least="20", at_most="10000")]


@dataclass(frozen=True)
class LongTravel:
    """The angles of the levers of a chain."""

    angles: Annotated[tuple[Amount, ...], gives("θ", "°", "turning of lever", to="0.01")]
    last: Annotated[Amount, gives("θ_n", "°", "turning of the last lever", to="0.01")]


def _long_by_travel(stages: tuple[Any, ...], angle: float) -> LongTravel:
    """The travel of each rod, handed on."""
    sines = []
    sine = math.sin(angle)
    for stage in stages:
        travel = stage.driver * sine
        sine = travel / stage.driven
        sines.append(math.atan2(sine, math.sqrt(1 - sine * sine)))
    made: Any = LongTravel
    bare: LongTravel = made(tuple(sines), sines[-1])
    return bare


@calculation(
    source="geometry of long rods: r₁ sin θ₁ = r₂ sin θ₂; from 8 arms on: common practice, no "
    "source",
    not_covered="rods that are not square to their arms at neutral, and short ones: the exact "
    "linkage (control_travel); slack in the pins; a stop that is met before",
    second=Second(_long_by_travel, "0.00001°", "the travel of each rod, handed on"),
    examples=(
        Example(
            {
                "stages": [
                    {"driver": "50 mm", "driven": "100 mm", "rod": "900 mm"},
                    {"driver": "60 mm", "driven": "30 mm", "rod": "900 mm"},
                ],
                "angle": "30°",
            },
            {"last": "30.00 °"},
            "closed form: a half of sin 30°, and twice that",
        ),
    ),
)
def travel_by_long_rods(
    stages: tuple[LongStage, ...],
    angle: Annotated[
        Amount,
        given("θ₀", "°", "turning of the first lever", at_least="-60", at_most="60",
              at_bench="0.5"),
    ],
) -> LongTravel:  # fmt: skip
    """Travel through a chain of levers and long rods, by the sine of each lever's angle.

    Every rod at least 8 of its longer arm; no arm nearer to its dead centre than a sine of 0.95.
    """
    angles = []
    turned = angle
    for number, stage in enumerate(stages, start=1):
        for arm, name in ((stage.driver, "L/r_d"), (stage.driven, "L/r_f")):
            step(
                stage.rod / arm, subscript(name, number), "", "rod over arm", at_least="8",
                wrong=LONG_ROD,
            )  # fmt: skip
        share = step(
            stage.driver * sin(turned) / stage.driven, subscript("s", number), "", "sine",
            at_least="-0.95", at_most="0.95", wrong=FLAT,
        )  # fmt: skip
        turned = step(arcsin(share), subscript("θ", number), "°", "turning of the lever")
        angles.append(turned)
    return LongTravel(tuple(angles), turned)


@dataclass(frozen=True)
class Bellcrank:
    """What a bellcrank makes of a travel and a force."""

    rotation: Annotated[Amount, gives("φ", "°", "turning", to="0.01")]
    travel: Annotated[Amount, gives("s_2", "mm", "travel of the rod out", to="0.1")]
    force: Annotated[Amount, gives("F_2", "N", "force of the rod out", to="1")]


def _crank_by_similar(arm_in: float, arm_out: float, travel: float, force: float) -> Bellcrank:
    """Similar triangles; the turning from its half's tangent."""
    half = travel / 2
    turned = 2 * math.atan2(half, math.sqrt(arm_in**2 - half**2))
    made: Any = Bellcrank
    bare: Bellcrank = made(turned, arm_out * travel / arm_in, force * arm_in / arm_out)
    return bare


@calculation(
    source="geometry and lever rule, long rods, travel half to either side of the square position",
    not_covered="travel that is not alike about the square position (bellcrank_differential); "
    "friction; the force away from the square position",
    second=Second(_crank_by_similar, "0.001 %", "similar triangles"),
    examples=(
        Example(
            {"arm_in": "60 mm", "arm_out": "90 mm", "travel": "20 mm", "force": "300 N"},
            {"rotation": "19.188 °", "travel": "30.0 mm", "force": "200 N"},
            "lever rule and 2 arcsin(10/60) in closed form (from memory)",
        ),
    ),
)
def bellcrank(
    arm_in: Annotated[Amount, given("r_1", "mm", "arm in", at_least="5", at_most="2000")],
    arm_out: Annotated[Amount, given("r_2", "mm", "arm out", at_least="5", at_most="2000")],
    travel: Annotated[
        Amount, given("s_1", "mm", "travel of the rod in", above="0", at_most="3000")
    ],
    force: Annotated[
        Amount, given("F_1", "N", "force of the rod in", at_least="0", at_most="100000")
    ],
) -> Bellcrank:
    """Bellcrank between two long rods, its travel alike to both sides of the square position."""
    share = step(
        travel / (2 * arm_in), "s_b", "", "half the travel over the arm", at_most="0.95", wrong=FLAT
    )
    return Bellcrank(2 * arcsin(share), 2 * arm_out * share, force * arm_in / arm_out)


@dataclass(frozen=True)
class Differential:
    """The two unequal travels of a lever that does not start square."""

    fore: Annotated[Amount, gives("s_f", "mm", "travel with the offset", to="0.01")]
    aft: Annotated[Amount, gives("s_a", "mm", "travel against the offset", to="0.01")]
    ratio: Annotated[Amount, gives("q", "", "larger over smaller travel", to="0.01")]


def _differential_by_places(arm: float, offset: float, rotation: float) -> Differential:
    """Places of the pin across the pivot, three times."""
    before, with_it, against = (
        arm * math.sin(a) for a in (offset, offset + rotation, offset - rotation)
    )
    made: Any = Differential
    bare: Differential = made(
        with_it - before, before - against, (before - against) / (with_it - before)
    )
    return bare


@calculation(
    source="geometry: r (sin(ε + φ) − sin ε) and r (sin ε − sin(ε − φ)), long rod",
    not_covered="a short rod, which adds its own difference: control_travel",
    second=Second(_differential_by_places, "0.001 %", "places of the pin"),
    examples=(
        Example(
            {"arm": "50 mm", "offset": "30°", "rotation": "20°"},
            {"fore": "13.30 mm", "aft": "16.32 mm"},
            "50 (sin 50° − sin 30°) and 50 (sin 30° − sin 10°) in closed form (from memory)",
        ),
    ),
)
def bellcrank_differential(
    arm: Arm,
    offset: Annotated[
        Amount, given("ε", "°", "arm off square at neutral", at_least="0", at_most="60")
    ],
    rotation: Annotated[
        Amount,
        given("φ", "°", "turning to either side", above="0", at_most="60", at_bench="0.5"),
    ],
) -> Differential:
    """Differential of a lever that stands off square at neutral: unequal travels up and down."""
    far = step(
        offset + rotation, "ε_φ", "°", "arm off square at the end", at_most="75",
        wrong="the arm ends {value} off square; from 75° it nears its dead centre",
    )  # fmt: skip
    fore = step(arm * (sin(far) - sin(offset)), "s_f", "mm", "travel with the offset")
    aft = step(
        arm * (sin(offset) - sin(offset - rotation)), "s_a", "mm", "travel against the offset"
    )
    return Differential(fore, aft, aft / fore)


@dataclass(frozen=True)
class HandleForce:
    """What a hand must hold."""

    advantage: Annotated[
        Amount, gives("A_h", "mm", "hinge moment for each newton of the hand", to="0.1")
    ]
    force: Annotated[Amount, gives("F_h", "N", "force of the hand", to="1", safe="up")]


def _force_by_travel(moment: float, grip: float, ratio: float) -> HandleForce:
    """By how much the surface turns for each millimetre of the hand."""
    turned = ratio / grip
    made: Any = HandleForce
    bare: HandleForce = made(1 / turned, moment * turned)
    return bare


@calculation(
    source="virtual work: hand × grip × turning of the column = moment × turning of the surface",
    not_covered="friction, springs, bobweights and balance; the ratio changes along the travel "
    "(control_travel gives it at each place)",
    second=Second(_force_by_travel, "0.001 %", "turning for each millimetre of the hand"),
    examples=(
        Example(
            {"moment": "40 N·m", "grip": "400 mm", "ratio": "0.5"},
            {"advantage": "800 mm", "force": "50 N"},
            "lever rule in closed form: 40 N·m at 0.4 m are 100 N; half the turning, half of 100 N",
        ),
    ),
)
def handle_force(
    moment: Annotated[
        Amount, given("M", "N·m", "hinge moment", at_least="0", at_most="20000")
    ],
    grip: Annotated[
        Amount, given("R", "mm", "column pivot to grip", at_least="50", at_most="2000")
    ],
    ratio: Annotated[
        Amount,
        given("i", "", "turning of the surface for that of the column", at_least="0.05",
              at_most="20"),
    ],
) -> HandleForce:  # fmt: skip
    """Force of the hand for a hinge moment, by the ratio of turnings at that place."""
    return HandleForce(grip / ratio, moment * ratio / grip)
