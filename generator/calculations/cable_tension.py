"""Cable, structure and temperature in; the tension to rig to, and turns of the turnbuckle, out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, key, looked_up
from generator.quantities.amount import Amount
from generator.quantities.functions import largest, smallest, step
from generator.quantities.points import between
from generator.quantities.window import Window, window

MISMATCH = (
    "the structure grows more than the cable, which is stretched by the difference: "
    "ΔF = k EA (α_s − α_c) ΔT, textbook (from memory)"
)
CHART = (
    "an approved chart of tensions, which goes before this; a structure not soaked to one "
    "temperature; sun on one side; cable that has stretched; k and EA, which a test gives"
)
SLACK = "the cable would be slack: its tension comes to {value}"
Reference = Annotated[
    Amount,
    given("F_r", "N", "tension at the reference temperature", at_least="10", at_most="5000"),
]
ReferenceTemperature = Annotated[
    Amount,
    given("T_r", "°C", "reference temperature", at_least="-20", at_most="40"),
]
Temperature = Annotated[
    Amount,
    given("T", "°C", "temperature of the structure, soaked", at_least="-40", at_most="60",
          at_bench="1"),
]  # fmt: skip
Stiffness = Annotated[
    Amount,
    given("EA", "kN", "stiffness of the cable: force for the whole of its length",
          at_least="10", at_most="20000"),
]  # fmt: skip
Share = Annotated[
    Amount,
    given("k", "", "share of it that the run has, structure and pulleys giving way",
          above="0", at_most="1"),
]  # fmt: skip
Band = Annotated[
    Amount, given("b", "%", "band of the tension, either side", above="0", at_most="25")
]


@dataclass(frozen=True)
class Tension:
    """The tension at a temperature, and between which readings it passes."""

    tension: Annotated[Amount, gives("F", "N", "cable tension", to="1")]
    allowed: Annotated[Window, gives("F", "N", "cable tension that passes", to="1")]


def _tension(
    reference: Any, warmer: Any, stiffness: Any, apart: Any, share: Any, band: Any
) -> Tension:
    change = step(share * stiffness * apart * warmer, "ΔF", "N", "change of the tension")
    tension = step(reference + change, "F", "N", "cable tension", above="0", wrong=SLACK)
    spread = step(band * tension, "ΔF_b", "N", "band of the tension")
    return Tension(tension, window({"band": tension - spread}, {"band": tension + spread}))


def _by_lengths(
    reference: float,
    reference_temperature: float,
    temperature: float,
    stiffness: float,
    structure: float,
    cable: float,
    share: float,
    band: float,
) -> Tension:
    """Lengths of a run of one metre: what it was stretched, and what it is now."""
    run = share * stiffness
    stretched = reference / run
    warmer = temperature - reference_temperature
    grown = (1 + structure * warmer) - (1 + cable * warmer)
    tension = run * (stretched + grown)
    made: Any = Tension
    bare: Tension = made(tension, Window((1 - band) * tension, (1 + band) * tension, "", ""))
    return bare


Apart = "stretch of a run of one metre, before and after"


@calculation(
    source=MISMATCH,
    not_covered=CHART,
    second=Second(_by_lengths, "0.001 N", Apart),
    examples=(
        Example(
            {
                "reference": "100 lbf",
                "reference_temperature": "10 °C",
                "temperature": "37.777777778 °C",
                "stiffness": "125000 lbf",
                "structure": "0.00002286 1/K",
                "cable": "0.0000117 1/K",
                "share": "0.6",
                "band": "10 %",
            },
            {"tension": "123.25 lbf"},
            "dF = AE (α_a − α_s) dT in closed form (from memory): 38.75 lbf for 50 °F, 0.6 of it",
        ),
    ),
)
def cable_tension(
    reference: Reference,
    reference_temperature: ReferenceTemperature,
    temperature: Temperature,
    stiffness: Stiffness,
    structure: Annotated[
        Amount,
        given("α_s", "1/K", "expansion of the structure", at_least="0", at_most="0.00003"),
    ],
    cable: Annotated[
        Amount, given("α_c", "1/K", "expansion of the cable", at_least="0", at_most="0.00003")
    ],
    share: Share,
    band: Band,
) -> Tension:
    """Cable tension at the temperature of the day.

    For a workshop without an approved chart. Warmer metal structure makes a steel cable tighter.
    """
    apart = step(structure - cable, "Δα", "1/K", "difference of the expansions")
    warmer = step(between(temperature, reference_temperature), "ΔT", "K", "warmer by")
    return _tension(reference, warmer, stiffness, apart, share, band)


@dataclass(frozen=True)
class StructureRow:
    """How a structure of this metal grows."""

    structure: Annotated[str, key("metal of the structure, as the table prints it")]
    expansion: Annotated[Amount, given("α_s", "1/K", "expansion of the structure")]


@dataclass(frozen=True)
class CableRow:
    """How a cable of this metal grows."""

    cable: Annotated[str, key("metal of the cable, as the table prints it")]
    expansion: Annotated[Amount, given("α_c", "1/K", "expansion of the cable")]


def _by_rows(
    metal: Any,
    wire: Any,
    reference: float,
    reference_temperature: float,
    temperature: float,
    stiffness: float,
    share: float,
    band: float,
) -> Tension:
    return _by_lengths(
        reference, reference_temperature, temperature, stiffness,
        metal.expansion, wire.expansion, share, band,
    )  # fmt: skip


@calculation(
    source=f"{MISMATCH}; expansions: Callister table B.6",
    not_covered=f"{CHART}; a structure of two metals",
    second=Second(_by_rows, "0.001 N", Apart),
    examples=(
        Example(
            {
                "structure": "aluminium 2024",
                "cable": "steel 1020",
                "reference": "200 N",
                "reference_temperature": "15 °C",
                "temperature": "25 °C",
                "stiffness": "400 kN",
                "share": "0.6",
                "band": "10 %",
            },
            {"tension": "226.9 N"},
            "closed form: 200 + 0.6 · 400,000 · (22.9 − 11.7) · 10⁻⁶ · 10; expansions of "
            "Callister table B.6",
        ),
    ),
)
def cable_tension_by_metals(
    metal: Annotated[StructureRow, looked_up("structure_expansion")],
    wire: Annotated[CableRow, looked_up("cable_expansion")],
    reference: Reference,
    reference_temperature: ReferenceTemperature,
    temperature: Temperature,
    stiffness: Stiffness,
    share: Share,
    band: Band,
) -> Tension:
    """Cable tension at the temperature of the day, by the metals of structure and cable."""
    apart = step(metal.expansion - wire.expansion, "Δα", "1/K", "difference of the expansions")
    warmer = step(between(temperature, reference_temperature), "ΔT", "K", "warmer by")
    return _tension(reference, warmer, stiffness, apart, share, band)


Threads = Annotated[Amount, given("n_p", "1/in", "threads per inch", at_least="10", at_most="60")]


def _take_up_by_ends(threads: float, turns: float) -> float:
    """Each end goes in by one pitch a turn."""
    return turns / threads + turns / threads


@calculation(
    source="geometry: a barrel with a right and a left thread takes up two pitches a turn",
    not_covered="a swivel end, which takes up one pitch; threads that are worn",
    second=Second(_take_up_by_ends, "0.001 %", "each end by itself"),
    examples=(
        Example(
            {"threads": "32 1/in", "turns": "4"},
            {"": "0.25 in"},
            "2 pitches a turn in closed form (from memory)",
            within="0.00001 in",
        ),
    ),
)
def turnbuckle_take_up(
    threads: Threads,
    turns: Annotated[Amount, given("N", "", "turns of the barrel", above="0", at_most="60")],
) -> Annotated[Amount, gives("ΔL", "mm", "cable taken up", to="0.1")]:
    """Cable that a turnbuckle takes up: two pitches for each turn of the barrel."""
    return 2 * turns / threads


def _turns_by_stretch(
    change: float, length: float, stiffness: float, share: float, threads: float
) -> float:
    """Force of one turn, and how many of them make the change."""
    one_turn = (2 / threads) / length * stiffness * share
    return change / one_turn


@calculation(
    source="textbook: stretch = force × length / (share × EA); two pitches a turn",
    not_covered="slack, which takes turns of its own; a second turnbuckle in the same run, which "
    "takes half of the turns; k and EA, which a test of the run gives",
    second=Second(_turns_by_stretch, "0.001 %", "the force of one turn"),
    examples=(
        Example(
            {
                "change": "38.75 lbf",
                "length": "240 in",
                "stiffness": "125000 lbf",
                "share": "0.6",
                "threads": "32 1/in",
            },
            {"": "1.984"},
            "closed form (from memory): 240 in by 0.00031 / 0.6 are 0.124 in; 1/16 in a turn",
        ),
    ),
)
def turnbuckle_turns(
    change: Annotated[Amount, given("ΔF", "N", "change of the tension", above="0", at_most="5000")],
    length: Annotated[
        Amount, given("L", "m", "length of the run of cable", above="0", at_most="100")
    ],
    stiffness: Stiffness,
    share: Share,
    threads: Threads,
) -> Annotated[Amount, gives("N", "", "turns of the barrel", to="0.1")]:
    """Turns of a turnbuckle for a change of tension: a first try, the tensiometer decides."""
    stretch = step(change * length / (share * stiffness), "ΔL", "in", "stretch of the run")
    turns: Amount = stretch * threads / 2
    return turns


@dataclass(frozen=True)
class Engagement:
    """How far the ends of a turnbuckle are in."""

    shorter: Annotated[
        Amount, gives("e_s", "mm", "thread engaged at the end that is less in", to="0.1",
                      safe="down")
    ]  # fmt: skip
    diameters: Annotated[
        Amount, gives("e_d", "", "thread engaged, in diameters", to="0.1", safe="down")
    ]


def _engaged_by_end(
    terminal: float, first: float, second: float, threads: float, diameter: float, alike: float
) -> Engagement:
    shorter = min((terminal - end) / threads for end in (first, second))
    made: Any = Engagement
    bare: Engagement = made(shorter, shorter / diameter)
    return bare


SHOWING = "AC 43.13-1B paragraph 7-179: no more than 3 threads may show at an end"


@calculation(
    source=f"{SHOWING}; MIL-F-18372(Aer) 3.1.1.17.9 the same; ends within one thread of each "
    "other: common practice, no source",
    not_covered="the locking, which is a check of its own (at least 4 turns round each shank); "
    "terminals of two different lengths",
    second=Second(_engaged_by_end, "0.001 %", "each end by itself"),
    examples=(
        Example(
            {
                "terminal": "20",
                "first": "1",
                "second": "2",
                "threads": "32 1/in",
                "diameter": "0.164 in",
            },
            {"shorter": "0.5625 in"},
            "closed form: 18 threads of 1/32 in",
        ),
    ),
)
def turnbuckle_engagement(
    terminal: Annotated[
        Amount, given("n_t", "", "threads of a terminal", at_least="8", at_most="80")
    ],
    first: Annotated[
        Amount,
        given("s₁", "", "threads that show at one end", at_least="0", at_most="3",
              beyond=SHOWING, at_bench="1"),
    ],
    second: Annotated[
        Amount,
        given("s₂", "", "threads that show at the other end", at_least="0", at_most="3",
              beyond=SHOWING, at_bench="1"),
    ],
    threads: Threads,
    diameter: Annotated[
        Amount, given("D", "mm", "diameter of the thread", at_least="1", at_most="30")
    ],
    alike: Annotated[
        Amount, given("s_a", "", "threads by which the ends may differ", fixed="1 ratio")
    ],
) -> Engagement:  # fmt: skip
    """Engagement of a turnbuckle: thread inside the barrel where its ends show threads.

    The ends are turned in alike, within one thread.
    """
    more = largest(first, second)
    step(
        more - smallest(first, second), "Δs", "", "difference of the ends", at_most=alike,
        wrong="one end shows {value} threads more than the other: start both ends together",
    )  # fmt: skip
    engaged = step((terminal - more) / threads, "e_s", "mm", "thread engaged")
    return Engagement(engaged, engaged / diameter)
