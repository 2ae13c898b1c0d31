"""A leg, its jack and what it weighs, in; the load of the jack along the stroke, out.

Seen along the leg's axis. The leg hangs straight down at 0° and swings to the right and up, as in
the clearance sweep; places are right of its axis and above it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives
from generator.calculations.hydraulics import Bore, Rod
from generator.calculations.sweep_search import golden
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import circle_area, cos, sin, square_root, step
from generator.quantities.points import as_gauge

STATICS = "statics in one plane: moment of the weight over the arm of the jack"
OPEN = (
    "acceleration and the blow at the end of the stroke; air loads; springs; back pressure; load "
    "of doors and locks; what the efficiency does not hold of friction"
)
NEAR = math.radians(5)  # a jack this near to in line with its arm: common practice, no source
GRID = math.radians(0.25)
TURN = "the jack does not lift here: its arm about the leg's axis is {value}"

LegAngle = Annotated[
    Amount, given("φ", "°", "leg angle", at_least="0", at_most="180", at_bench="0.5")
]
LugArm = Annotated[
    Amount, given("a", "mm", "leg's axis to the lug of the jack", at_least="10", at_most="3000")
]
LugAngle = Annotated[
    Amount,
    given("β", "°", "lug ahead of the leg, as it swings up", at_least="-180", at_most="180"),
]
Across = Annotated[
    Amount,
    given("X", "mm", "fixed pin of the jack, right of the leg's axis", at_least="-5000",
          at_most="5000"),
]  # fmt: skip
Up = Annotated[Amount, given("Y", "mm", "and above it", at_least="-5000", at_most="5000")]
Weight = Annotated[
    Amount, given("W", "N", "weight of all that swings", above="0", at_most="200000")
]
Middle = Annotated[
    Amount, given("r_W", "mm", "leg's axis to its middle", at_least="1", at_most="5000")
]
Friction = Annotated[
    Amount, given("M_f", "N·m", "friction of the leg's axis", at_least="0", at_most="20000")
]
FromLeg = Annotated[Amount, given("φ₁", "°", "swing from leg angle", at_least="0", at_most="179")]
ToLeg = Annotated[Amount, given("φ₂", "°", "to leg angle", at_least="1", at_most="180")]
AtHand = Annotated[Amount, given("p_a", "bar g", "pressure at hand", above="0", at_most="700")]
Lifts = Annotated[str, choice("what lifts the leg", "pull", "push")]
Efficiency = Annotated[Amount, given("η", "%", "efficiency", at_least="50", at_most="100")]


@dataclass(frozen=True)
class JackLoad:
    """The jack at one leg angle."""

    length: Annotated[Amount, gives("L", "mm", "jack, pin to pin", to="0.1")]
    arm: Annotated[Amount, gives("h", "mm", "arm of the jack about the leg's axis", to="0.1")]
    force: Annotated[Amount, gives("F", "kN", "force of the jack", to="0.01", safe="up")]
    pressure: Annotated[
        Amount, gives("p_n", "bar g", "pressure that it takes", to="0.1", safe="up")
    ]


@dataclass(frozen=True)
class Jack:
    """A jack between a fixed pin and a lug of the leg, as plain numbers."""

    lug: float
    ahead: float
    across: float
    up: float

    def length(self, leg: float) -> float:
        turned = leg + self.ahead
        x, y = self.lug * math.sin(turned), -self.lug * math.cos(turned)
        return math.hypot(self.across - x, self.up - y)

    def shortens(self, leg: float, by: float = 1e-4) -> float:
        """How fast it becomes shorter as the leg goes up: its arm, by virtual work."""
        return (self.length(leg - by) - self.length(leg + by)) / (2 * by)


def _load_by_work(
    leg: float, lug: float, ahead: float, across: float, up: float, weight: float, middle: float,
    friction: float, lifts: str, bore: float, rod: float, efficiency: float,
) -> JackLoad:  # fmt: skip
    """Virtual work: what the weight gains in height, over what the jack becomes shorter."""
    jack = Jack(lug, ahead, across, up)
    arm = jack.shortens(leg) * (1 if lifts == "pull" else -1)
    height = middle * (math.cos(leg - 1e-4) - math.cos(leg + 1e-4)) / 2e-4
    force = (weight * height + friction) / arm
    area = math.pi / 4 * (bore * bore - (rod * rod if lifts == "pull" else 0.0))
    made: Any = JackLoad
    bare: JackLoad = made(jack.length(leg), arm, force, force / area / efficiency)
    return bare


DEMO = {
    "lug": "100 mm",
    "ahead": "10°",
    "across": "98.480775 mm",
    "up": "17.364818 mm",
    "weight": "1000 N",
    "middle": "600 mm",
    "friction": "10 N·m",
    "lifts": "pull",
    "bore": "50 mm",
    "rod": "25 mm",
    "efficiency": "100 %",
}


@calculation(
    source=STATICS,
    not_covered=OPEN + "; the worst place of the stroke (jack_over_stroke)",
    second=Second(_load_by_work, "0.01 %", "virtual work: height gained over length lost"),
    examples=(
        Example(
            DEMO | {"leg": "30°"},
            {"length": "100.0 mm", "arm": "86.6 mm", "force": "3.580 kN", "pressure": "24.3 bar g"},
            "closed form: axis, lug and fixed pin make a triangle of three equal sides of 100 mm; "
            "its height is 86.6 mm; 300 N·m and 10 N·m; on a ring of 1473 mm²",
        ),
    ),
)
def jack_load(
    leg: LegAngle, lug: LugArm, ahead: LugAngle, across: Across, up: Up, weight: Weight,
    middle: Middle, friction: Friction, lifts: Lifts, bore: Bore, rod: Rod, efficiency: Efficiency,
    pulls: Annotated[Amount, given("k_pull", "", "a jack that pulls", fixed="1 ratio")],
    pushes: Annotated[Amount, given("k_push", "", "a jack that pushes", fixed="-1 ratio")],
) -> JackLoad:  # fmt: skip
    """Jack load at one leg angle: length and arm of the jack, the force and the pressure it takes.

    Over the leg angle, in a strip, it is the load over the stroke.
    """
    turned = step(leg + ahead, "θ", "°", "lug from straight down")
    right = step(across - lug * sin(turned), "x_j", "mm", "fixed pin right of the lug")
    above = step(up + lug * cos(turned), "y_j", "mm", "and above it")
    length = step(square_root(right**2 + above**2), "L", "mm", "jack, pin to pin", above="1",
                  wrong="the lug comes onto the fixed pin: the jack is {value} long")  # fmt: skip
    sense = pulls if lifts == "pull" else pushes
    toward = sense * lug * (across * cos(turned) + up * sin(turned))
    arm = step(toward / length, "h", "mm", "arm of the jack", above="1", wrong=TURN)
    moment = step(weight * middle * sin(leg) + friction, "M", "N·m", "moment about the leg's axis")
    force = step(moment / arm, "F", "kN", "force of the jack")
    area = circle_area(bore) - circle_area(rod) if lifts == "pull" else circle_area(bore)
    works = step(area, "A_j", "mm²", "area that works", above="0",
                 wrong="the rod is no thinner than the bore: {value}")  # fmt: skip
    takes = step(force / (works * efficiency), "p", "bar", "pressure above ambient")
    return JackLoad(length, arm, force, as_gauge(takes))


@dataclass(frozen=True)
class OverStroke:
    """The jack over a whole swing of the leg."""

    stroke: Annotated[Amount, gives("s", "mm", "stroke that the swing takes", to="0.1")]
    longest: Annotated[Amount, gives("L_max", "mm", "jack at its longest, pin to pin", to="0.1")]
    shortest: Annotated[Amount, gives("L_min", "mm", "and at its shortest", to="0.1")]
    force: Annotated[Amount, gives("F_max", "kN", "largest force", to="0.01", safe="up")]
    at: Annotated[Amount, gives("φ_F", "°", "leg angle of the largest force", to="0.1")]
    pressure: Annotated[Amount, gives("p_max", "bar g", "pressure there", to="0.1", safe="up")]
    spare: Annotated[
        Amount,
        gives("Δp", "bar", "pressure left", to="0.1", safe="down", at_least="0",
              beyond="The jack does not lift the leg at this pressure"),
    ]  # fmt: skip
    least: Annotated[
        Amount, gives("γ", "°", "least angle between jack and lug arm", to="0.1", safe="down")
    ]


def _stroke_by_steps(
    from_leg: float, to_leg: float, lug: float, ahead: float, across: float, up: float,
    weight: float, middle: float, friction: float, lifts: str, bore: float, rod: float,
    efficiency: float, pressure: float,
) -> OverStroke:  # fmt: skip
    """A thousand places of the swing, then a thousand about the worst, arms by virtual work."""
    jack, sign = Jack(lug, ahead, across, up), 1 if lifts == "pull" else -1

    def worst(low: float, high: float) -> tuple[float, float]:
        legs = [low + (high - low) * n / 1000 for n in range(1001)]
        return max(
            ((weight * middle * math.sin(leg) + friction) / (sign * jack.shortens(leg)), leg)
            for leg in legs
        )

    _, about = worst(from_leg, to_leg)
    wide = (to_leg - from_leg) / 1000
    force, at = worst(max(from_leg, about - wide), min(to_leg, about + wide))
    legs = [from_leg + (to_leg - from_leg) * n / 1000 for n in range(1001)]
    lengths, arms = [jack.length(leg) for leg in legs], [sign * jack.shortens(leg) for leg in legs]
    area = math.pi / 4 * (bore + rod) * (bore - rod) if lifts == "pull" else math.pi / 4 * bore**2
    takes = force / area / efficiency
    made: Any = OverStroke
    bare: OverStroke = made(
        max(lengths) - min(lengths), max(lengths), min(lengths), force, at, takes,
        pressure - takes, math.asin(min(1.0, min(arms) / lug)),
    )  # fmt: skip
    return bare


@calculation(
    source=f"{STATICS}; 5° from a dead centre: common practice, no source",
    not_covered=OPEN,
    method="the swing walked in quarters of a degree; the largest force by golden section about "
    "the largest that was met",
    second=Second(_stroke_by_steps, "0.1 %", "a thousand places, arms by virtual work"),
    examples=(
        Example(
            DEMO | {"from_leg": "0°", "to_leg": "60°", "pressure": "70 bar g"},
            {"stroke": "89.66 mm", "longest": "141.42 mm", "shortest": "51.76 mm",
             "force": "5.48 kN", "at": "60.0 °", "least": "45.0 °"},
            "closed form: chords 2 · 100 · sin 45° and sin 15°; at 60° 519.6 N·m and 10 N·m on "
            "100 cos 15° or 96.59 mm",
        ),
    ),
)  # fmt: skip
def jack_over_stroke(
    from_leg: FromLeg, to_leg: ToLeg, lug: LugArm, ahead: LugAngle, across: Across, up: Up,
    weight: Weight, middle: Middle, friction: Friction, lifts: Lifts, bore: Bore, rod: Rod,
    efficiency: Efficiency, pressure: AtHand,
) -> OverStroke:  # fmt: skip
    """Jack load over the whole stroke: the largest force, where it is, and the pressure left.

    Refused where the jack comes near to in line with its arm on the way: a dead centre.
    """
    ends: Any = (from_leg, to_leg)
    if ends[1] - ends[0] < math.radians(0.5) * (1 - 1e-9):
        raise Refusal("range", "the swing is less than half a degree", "to leg above from leg")
    places: Any = (lug, ahead, across, up)
    load: Any = (weight, middle, friction)
    jack, sign = Jack(*places), 1.0 if lifts == "pull" else -1.0
    steps = max(8, math.ceil((ends[1] - ends[0]) / GRID))
    legs = [ends[0] + (ends[1] - ends[0]) * n / steps for n in range(steps + 1)]
    least = min(_angle(jack, leg, sign) for leg in legs)

    def against(leg: float) -> float:
        arm = jack.lug * math.sin(_angle(jack, leg, sign))
        return float(-(load[0] * load[1] * math.sin(leg) + load[2]) / arm)

    top = min(range(len(legs)), key=lambda n: against(legs[n]))
    about = legs[max(0, top - 1)], legs[min(steps, top + 1)]
    at, worst = min(
        (golden(against, *about, 30), (legs[top], against(legs[top]))), key=lambda x: x[1]
    )
    sizes: Any = (bore, rod if lifts == "pull" else 0.0, efficiency, pressure)
    if sizes[1] >= sizes[0]:
        raise Refusal("range", "the rod is no thinner than the bore", "a rod below the bore")
    takes = -worst / (math.pi / 4 * (sizes[0] ** 2 - sizes[1] ** 2)) / sizes[2]
    lengths = [jack.length(leg) for leg in legs]
    made: Any = OverStroke
    found: OverStroke = made(
        max(lengths) - min(lengths), max(lengths), min(lengths), -worst, at, takes,
        sizes[3] - takes, least,
    )  # fmt: skip
    return found


def _angle(jack: Jack, leg: float, sign: float) -> float:
    """The angle between jack and lug arm; refuses one that is near to a dead centre."""
    turned = leg + jack.ahead
    toward = jack.lug * (jack.across * math.cos(turned) + jack.up * math.sin(turned))
    far = jack.length(leg)
    sine = sign * toward / far / jack.lug if far else 0.0
    if sine < math.sin(NEAR):
        wrong = f"at a leg angle of {math.degrees(leg):.1f}° the jack is within 5° of in line with"
        right = "another place for its pin or its lug, or a swing that ends before"
        raise Refusal("range", f"{wrong} its arm, or past it: a dead centre", right)
    return math.asin(min(1.0, sine))
