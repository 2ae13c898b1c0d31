"""A timber block or a part for one side in; how far the timber moves, the other side, out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives, listed, word
from generator.calculations.loft import HANDS, Hand, WantedHand, told_hand
from generator.calculations.section_points import Across, Up
from generator.findings import Refusal
from generator.quantities.amount import Amount

HANDBOOK = (
    "Forest Products Laboratory, Wood Handbook, ch. on drying and dimensional change: coefficient "
    "times width times change of moisture, 6 to 14 % (as flooring makers quote it)"
)

Moisture = Annotated[
    Amount, given("M₁", "%", "moisture when it was measured", at_least="6", at_most="14")
]


Movement = Annotated[Amount, gives("ΔW", "mm", "movement across the grain, + wider", to="0.1")]


def _by_steps(width: float, moves: float, moisture: float, later: float) -> float:
    """Tenths of the change, one after the other, each on the first width."""
    return math.fsum(width * moves * (later - moisture) / 10 for _ in range(10))


@calculation(
    source=HANDBOOK,
    not_covered="moisture outside 6 to 14 %; the board in hand, which may move half as much or "
    "half as much again; along the grain; cup, twist and glue lines; a middle that is wetter",
    second=Second(_by_steps, "0.0001 mm", "the change in ten equal steps"),
    examples=(
        Example(
            {"width": "5 in", "moves": "0.129", "moisture": "6 %", "later": "9 %"},
            {"": "0.019 in"},
            "a flooring maker's page after the Wood Handbook: mesquite, 0.00129 for 1 %, 5 in wide",
        ),
    ),
)
def timber_movement(
    width: Annotated[
        Amount, given("W", "mm", "width across the grain", at_least="10", at_most="3000")
    ],
    moves: Annotated[
        Amount,
        given(
            "c", "", "movement coefficient, % of width for each % of moisture",
            at_least="0.05", at_most="0.6",
            beyond="A handbook's 0.00263 for 1 % is written 0.263",
        ),
    ],
    moisture: Moisture,
    later: Annotated[
        Amount, given("M₂", "%", "moisture later", at_least="6", at_most="14", at_bench="0.5")
    ],
) -> Movement:  # fmt: skip
    """Timber movement: how much wider a block gets when its moisture rises.

    The coefficient is that of the species and of the way the board was sawn: along the rings a
    board moves about twice as much as across them.
    """
    return width * moves * (later - moisture)


# --- the other hand ----------------------------------------------------------------------------

TURNS = ("clockwise", "anticlockwise", "none")


@dataclass(frozen=True)
class Feature:
    """A point of a part, and what is turned or tilted there."""

    across: Across
    up: Up
    angle: Annotated[
        Amount, given("α", "°", "angle to the datum line", at_least="-180", at_most="180")
    ]
    turns: Annotated[str, choice("way it turns, seen in the view", *TURNS, otherwise="none")]


@dataclass(frozen=True)
class Mirrored:
    """The same on the other hand."""

    across: Annotated[Amount, gives("y", "mm", "across", to="0.01")]
    up: Annotated[Amount, gives("z", "mm", "up", to="0.01")]
    angle: Annotated[Amount, gives("α", "°", "angle to the datum line", to="0.01")]
    turns: Annotated[str, word("turns", "way it turns")]


@dataclass(frozen=True)
class OtherHand:
    """A part for the other side."""

    features: Annotated[tuple[Mirrored, ...], listed("features of the other hand")]
    hand: Annotated[str, word("hand", "hand of the features")]


def _reflected(features: Any, hand: str, wanted_hand: str) -> OtherHand:
    """By complex numbers: across the upright datum line a point becomes minus its conjugate, a
    direction the conjugate."""
    made: Any = Mirrored
    rows = []
    swapped = {"clockwise": "anticlockwise", "anticlockwise": "clockwise", "none": "none"}
    for f in features:
        point = -complex(f.across, f.up).conjugate()
        turned = complex(math.cos(f.angle), math.sin(f.angle)).conjugate()
        angle = math.atan2(turned.imag, turned.real)
        if abs(abs(angle) - math.pi) < 1e-12:
            angle = -math.copysign(math.pi, f.angle)
        rows.append(made(point.real, point.imag, angle, swapped[f.turns]))
    whole: Any = OtherHand
    found: OtherHand = whole(tuple(rows), f"{wanted_hand}, mirrored from {hand}")
    return found


@calculation(
    source="geometry: across changes its sign, and with it every angle and turn",
    not_covered="threads, grain, handed fittings and bought parts, which have no mirror image; the "
    "side of the sheet that is marked; bends, which keep UP and DOWN seen on the same side",
    method="every across and every angle with its sign changed, clockwise for anticlockwise; up "
    "stays",
    second=Second(_reflected, "0.0001 mm", "points and directions as complex numbers"),
    examples=(
        Example(
            {
                "features": [
                    {"across": "120 mm", "up": "35 mm", "angle": "30°", "turns": "clockwise"}
                ],
                "hand": "PORT", "wanted_hand": "STBD",
            },
            {"features.1.across": "-120 mm", "features.1.up": "35 mm", "features.1.angle": "-30 °"},
            "visible: y becomes -y, an angle changes its sign",
        ),
    ),
)  # fmt: skip
def other_hand(features: tuple[Feature, ...], hand: Hand, wanted_hand: WantedHand) -> OtherHand:
    """Other hand of a part: signs, angles and turns changed, and the hand named.

    Seen in the same view as the part for the first hand.
    """
    called, over = told_hand(hand, wanted_hand)
    if not over:
        right = " or ".join(each for each in HANDS[:2] if each != hand)
        raise Refusal("range", f"the other hand of {hand} is not {wanted_hand}", right)
    told: Any = features
    made: Any = Mirrored
    swapped = dict(zip(TURNS, (TURNS[1], TURNS[0], TURNS[2]), strict=True))
    rows = tuple(made(-f.across, f.up, -f.angle, swapped[f.turns]) for f in told)
    return OtherHand(rows, called)
