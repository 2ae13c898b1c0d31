"""Control cable, its load and its run in; strength, proof load, pulleys and fairleads out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import (
    Example,
    Second,
    calculation,
    choice,
    given,
    gives,
    key,
    looked_up,
)
from generator.quantities.amount import Amount
from generator.quantities.functions import arc, arctan, by_range, exponential, step

STRENGTHS = "AC 43.13-1B (9/8/98) table 7-3; smallest cable: 14 CFR 23.689(a)(1)"
SMALL = "a cable of {value} is too thin for a primary control (14 CFR 23.689: 1/8 in)"
Load = Annotated[
    Amount, given("F", "lbf", "greatest load of the cable", above="0", at_most="50000")
]
Smallest = Annotated[
    Amount, given("d_23689", "in", "smallest cable of a primary control", fixed="0.125 in")
]


@dataclass(frozen=True)
class StrengthRow:
    """A breaking strength: it holds for this size, construction and metal only."""

    cable: Annotated[str, key("size of the cable, as the table prints it")]
    construction: Annotated[str, key("construction, as the table prints it")]
    metal: Annotated[str, key("metal and composition, as the table prints them")]
    diameter: Annotated[Amount, given("d", "in", "diameter of the cable")]
    strength: Annotated[Amount, given("F_m", "lbf", "least breaking strength")]


@dataclass(frozen=True)
class CableStrength:
    """A cable against its load."""

    strength: Annotated[
        Amount, gives("F_m", "lbf", "least breaking strength", to="10", safe="down")
    ]
    factor: Annotated[
        Amount, gives("n_F", "", "breaking strength over load", to="0.1", safe="down")
    ]
    spare: Annotated[
        Amount,
        gives("ΔF_m", "lbf", "strength left over the load times its factor", to="1", safe="down",
              at_least="0", beyond="A larger cable"),
    ]  # fmt: skip


def _strength_by_share(
    purpose: str, row: Any, load: float, wanted: float, smallest: float
) -> CableStrength:
    """The share of the strength that the load uses up."""
    used = load / row.strength
    made: Any = CableStrength
    bare: CableStrength = made(row.strength, 1 / used, row.strength * (1 - used * wanted))
    return bare


@calculation(
    source=STRENGTHS,
    not_covered="terminals and splices, which may be weaker; wear and broken wires; cable of "
    "another specification than the row's; the load, which approved data give",
    second=Second(_strength_by_share, "0.001 %", "share of the strength that the load uses up"),
    examples=(
        Example(
            {
                "purpose": "primary control",
                "cable": "1/8 in",
                "construction": "7x19",
                "metal": "carbon steel A",
                "load": "500 lbf",
                "wanted": "3",
            },
            {"strength": "2000 lbf", "factor": "4.0", "spare": "500 lbf"},
            "AC 43.13-1B table 7-3: 2000 lb, composition A",
        ),
    ),
)
def cable_strength(
    purpose: Annotated[str, choice("what the cable works", "primary control", "tab or secondary")],
    row: Annotated[StrengthRow, looked_up("cable")],
    load: Load,
    wanted: Annotated[
        Amount, given("n_w", "", "factor that is wanted", at_least="1", at_most="20")
    ],
    smallest: Smallest,
) -> CableStrength:
    """Strength of a control cable by its table row, against the greatest load."""
    if purpose == "primary control":
        step(row.diameter, "d", "in", "diameter of the cable", at_least=smallest, wrong=SMALL)
    return CableStrength(row.strength, row.strength / load, row.strength - wanted * load)


@dataclass(frozen=True)
class CableProof:
    """How a made-up cable is proved."""

    load: Annotated[Amount, gives("F_p", "lbf", "proof load", to="1")]
    hold: Annotated[Amount, gives("t_p", "min", "time under load, at the least", to="1")]
    gauge: Annotated[
        Amount, gives("F_g", "lbf", "load at which people stand behind the guard", to="1",
                      safe="down")
    ]  # fmt: skip


def _proof_by_rest(
    row: Any, share: float, hold: float, largest: float, guarded: float
) -> CableProof:
    rest = (1 - share) * row.strength
    proof = row.strength - rest
    made: Any = CableProof
    bare: CableProof = made(proof, hold, proof - (1 - guarded) * proof)
    return bare


@calculation(
    source="AC 43.13-1B (9/8/98) paragraphs 7-146 and 7-148: 60 % of the strength, held for 3 "
    "minutes; guard from a tenth of it: common practice, no source",
    not_covered="splices by hand; another terminal standard: one holds its terminals for 5 s only, "
    "and proves those from 7/16 in at 40 % (MIL-DTL-781J 4.6.1)",
    second=Second(_proof_by_rest, "0.001 %", "the strength less what is not asked of it"),
    examples=(
        Example(
            {"cable": "1/8 in", "construction": "7x19", "metal": "carbon steel A"},
            {"load": "1200 lbf", "hold": "3 min"},
            "AC 43.13-1B paragraph 7-148 and table 7-3: 60 % of 2000 lb",
        ),
    ),
)
def cable_proof_load(
    row: Annotated[StrengthRow, looked_up("cable")],
    share: Annotated[Amount, given("s_p", "%", "proof over strength", fixed="60 %")],
    hold: Annotated[Amount, given("t_h", "min", "time under load", fixed="3 min")],
    largest: Annotated[
        Amount, given("d_p", "in", "largest cable that the share holds for", fixed="0.375 in")
    ],
    guarded: Annotated[Amount, given("s_g", "%", "guard over proof", fixed="10 %")],
) -> CableProof:
    """Proof load of a made-up cable: what swaged ends must hold before the cable is fitted.

    Marks across cable and sleeve show a slip.
    """
    step(
        row.diameter, "d", "in", "diameter of the cable", at_most=largest,
        wrong="for a cable of {value} the standards differ (40 or 60 %): the lead types the load",
    )  # fmt: skip
    proof = step(share * row.strength, "F_p", "lbf", "proof load")
    return CableProof(proof, hold, guarded * proof)


@dataclass(frozen=True)
class Pulley:
    """The pulley that a cable may bend round."""

    share: Annotated[Amount, gives("s_F", "%", "load over breaking strength", to="0.1")]
    diameter: Annotated[
        Amount, gives("D_min", "mm", "least diameter of the pulley", to="0.1", safe="up")
    ]
    spare: Annotated[
        Amount,
        gives("ΔD", "mm", "pulley above the least", to="0.1", safe="down", at_least="0",
              beyond="A larger pulley"),
    ]  # fmt: skip


def _pulley_by_steps(
    cable: float,
    pulley: float,
    load: float,
    strength: float,
    light: float,
    medium: float,
    heavy: float,
) -> Pulley:
    """The printed columns walked through, lowest first."""
    columns = ((0.01, light), (0.1, medium), (0.2, heavy))
    ratio = next(each for top, each in columns if load <= top * strength * (1 + 1e-12))
    made: Any = Pulley
    bare: Pulley = made(load / strength, ratio * cable, pulley - ratio * cable)
    return bare


@calculation(
    source="MIL-F-18372(Aer), table of sheave ratios; between two of its loads the heavier",
    not_covered="a load above 20 % of the strength; cable of another make than 7x19; wear of "
    "groove and bush; the guard, which stands at the tangent points and, for more than 90° of "
    "wrap, between them too (3.1.1.17.13)",
    second=Second(_pulley_by_steps, "0.001 %", "the printed columns walked through"),
    examples=(
        Example(
            {"cable": "1/8 in", "pulley": "3 in", "load": "200 lbf", "strength": "2000 lbf"},
            {"share": "10 %", "diameter": "2.5 in", "spare": "0.5 in"},
            "MIL-F-18372(Aer): ratio 20 at 10 % of the strength",
        ),
    ),
)
def pulley_diameter(
    cable: Annotated[
        Amount, given("d", "mm", "diameter of the cable", at_least="0.7", at_most="40")
    ],
    pulley: Annotated[
        Amount, given("D", "mm", "diameter of the pulley in its groove", above="0", at_most="900")
    ],
    load: Load,
    strength: Annotated[
        Amount, given("F_m", "lbf", "least breaking strength", above="0", at_most="200000")
    ],
    light: Annotated[Amount, given("r_1", "", "ratio up to 1 %", fixed="10 ratio")],
    medium: Annotated[Amount, given("r_10", "", "ratio up to 10 %", fixed="20 ratio")],
    heavy: Annotated[Amount, given("r_20", "", "ratio up to 20 %", fixed="28 ratio")],
) -> Pulley:
    """Diameter of a pulley: how small the pulley may be that a cable bends round under load."""
    share = step(
        load / strength, "s_F", "%", "load over breaking strength", at_most="20",
        wrong="the load is {value} of the strength; the table of ratios ends at 20 %",
    )  # fmt: skip
    ratio = by_range(share, "0.01", light, by_range(share, "0.1", medium, heavy))
    least = step(ratio * cable, "D_min", "mm", "least diameter")
    return Pulley(share, least, pulley - least)


@dataclass(frozen=True)
class AngleRow:
    """A largest angle: it holds for this system and pulley only."""

    system: Annotated[str, key("system, as the table prints it")]
    pulley: Annotated[str, key("kind of pulley, as the table prints it")]
    largest: Annotated[Amount, given("φ_max", "°", "largest angle of the row")]


@dataclass(frozen=True)
class PulleyAngle:
    """How far a cable leaves the plane of its pulley."""

    angle: Annotated[Amount, gives("φ", "°", "angle to the pulley's plane", to="0.1", safe="up")]
    spare: Annotated[
        Amount,
        gives("Δφ", "°", "angle left", to="0.1", safe="down", at_least="0",
              beyond="Move or tilt the pulley: the cable rubs its flange"),
    ]  # fmt: skip


def _angle_by_slant(row: Any, offset: float, distance: float) -> PulleyAngle:
    """From the slant length of the cable."""
    angle = math.asin(offset / math.hypot(offset, distance))
    made: Any = PulleyAngle
    bare: PulleyAngle = made(angle, row.largest - angle)
    return bare


@calculation(
    source="MIL-F-18372(Aer) paragraph 3.1.1.17.8 (degree signs worn in the copy that was read); "
    "14 CFR 23.689(b) asks that the cable does not rub and gives no angle",
    not_covered="a pulley whose plane is not measured; travel that moves the cable sideways: both "
    "ends of the travel are measured",
    second=Second(_angle_by_slant, "0.001 %", "from the slant length of the cable"),
    examples=(
        Example(
            {
                "system": "all other controls",
                "pulley": "usual",
                "offset": "17.4550649 mm",
                "distance": "1000 mm",
            },
            {"angle": "1.000 °", "spare": "1.000 °"},
            "tan 1° = 0.01745506 (table of tangents); MIL-F-18372(Aer): 2°",
        ),
    ),
)
def pulley_angle(
    row: Annotated[AngleRow, looked_up("pulley_angle_limit")],
    offset: Annotated[
        Amount,
        given("h", "mm", "cable off the pulley's plane", at_least="0", at_most="500",
              at_bench="0.5"),
    ],
    distance: Annotated[
        Amount,
        given("l", "mm", "distance from the pulley where it is measured", above="0",
              at_most="5000"),
    ],
) -> PulleyAngle:  # fmt: skip
    """Angle between a cable and the plane of its pulley, against the largest that is allowed."""
    angle = step(arctan(offset / distance), "φ", "°", "angle to the pulley's plane")
    return PulleyAngle(angle, row.largest - angle)


def _bend_by_slopes(offset: float, before: float, after: float) -> float:
    """Sum of two tangents."""
    one, other = offset / before, offset / after
    return math.atan2(one + other, 1 - one * other)


@calculation(
    source="14 CFR 23.689(c), 25.689(c) and AC 43.13-1B paragraph 7-149 n: 3° at a fairlead",
    not_covered="a fairlead that is worn; a bend in two planes at once: take the larger offset "
    "square to the straight line",
    second=Second(_bend_by_slopes, "0.0001 °", "sum of two tangents"),
    examples=(
        Example(
            {"offset": "17.4550649 mm", "before": "1000 mm", "after": "1000 mm"},
            {"": "2.000 °"},
            "tan 1° = 0.01745506 on either side (table of tangents)",
        ),
    ),
)
def fairlead_bend(
    offset: Annotated[
        Amount,
        given("h", "mm", "fairlead off the straight line", at_least="0", at_most="500",
              at_bench="0.5"),
    ],
    before: Annotated[
        Amount, given("l₁", "mm", "run before the fairlead", above="0", at_most="20000")
    ],
    after: Annotated[
        Amount, given("l₂", "mm", "run after the fairlead", above="0", at_most="20000")
    ],
) -> Annotated[
    Amount,
    gives("φ", "°", "change of direction", to="0.1", safe="up", at_most="3",
          beyond="A pulley, or another run"),
]:  # fmt: skip
    """Change of a cable's direction at a fairlead, from its offset to the straight line."""
    bend: Amount = arctan(offset / before) + arctan(offset / after)
    return bend


@dataclass(frozen=True)
class Dragged:
    """What it takes to pull a cable over something that does not turn."""

    ratio: Annotated[Amount, gives("r", "", "pull over tension", to="0.01", safe="up")]
    pull: Annotated[Amount, gives("F_2", "N", "pull", to="1", safe="up")]


def _pull_by_halves(tension: float, friction: float, wrap: float) -> Dragged:
    """Doublings of the pull along the wrap."""
    ratio = 2.0 ** (friction * wrap / math.log(2.0))
    made: Any = Dragged
    bare: Dragged = made(ratio, ratio * tension)
    return bare


@calculation(
    source="Euler and Eytelwein: pull / tension = exp(μ β)",
    not_covered="a pulley that turns, whose bush alone drags; a stiff cable; grease that hardens",
    second=Second(_pull_by_halves, "0.001 %", "doublings of the pull along the wrap"),
    examples=(
        Example(
            {"tension": "50 lbf", "friction": "0.15", "wrap": "90°"},
            {"ratio": "1.2657", "pull": "63.28 lbf"},
            "Euler and Eytelwein in closed form (from memory)",
        ),
        Example(
            {"tension": "1 lbf", "friction": "0.3", "wrap": "360°"},
            {"ratio": "6.6"},
            "open course question on belt friction: a rope once round a bollard",
        ),
    ),
)
def cable_over_seized_pulley(
    tension: Annotated[
        Amount, given("F_1", "N", "tension behind the pulley", above="0", at_most="20000")
    ],
    friction: Annotated[
        Amount, given("μ", "", "friction", at_least="0.01", at_most="0.6")
    ],
    wrap: Annotated[Amount, given("β", "°", "wrap", above="0", at_most="1800")],
) -> Dragged:  # fmt: skip
    """Pull of a cable over a seized pulley or a rub: what a pulley that does not turn costs."""
    ratio = step(exponential(friction * arc(wrap)), "r", "", "pull over tension")
    return Dragged(ratio, ratio * tension)
