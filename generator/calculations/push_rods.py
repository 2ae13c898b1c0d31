"""Push-pull tube and its ends in; the compression it bears, and the thread that must be in, out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import (
    circle_area,
    largest,
    pi_times,
    smallest,
    square_root,
    step,
)

EULER = "Euler: P = π² E A / (L/r)²"
JOHNSON = "Johnson's parabola σ = Y (1 − Y (L/r)² / 4π²E); they meet at half the yield stress"
PINNED = (
    "ends that are not free to turn; load beside the axis; a dent; walls that cripple by "
    "themselves; vibration; what approved data allow: this is a check of a substitution"
)
SLENDER = "a slenderness of {value} is beyond 200: a rod shakes and sags (common practice)"
Outside = Annotated[
    Amount, given("D", "mm", "outside diameter of the rod", at_least="3", at_most="150")
]
Wall = Annotated[
    Amount,
    given("t", "mm", "wall of the rod", at_least="0.3", at_most="75", at_bench="0.01",
          beyond="Half of the diameter for a solid rod"),
]  # fmt: skip
Length = Annotated[
    Amount, given("L", "mm", "length between pin centres", at_least="10", at_most="5000")
]
Modulus = Annotated[
    Amount, given("E", "MPa", "modulus of elasticity", at_least="10000", at_most="250000")
]
Yield = Annotated[
    Amount, given("Y", "MPa", "yield strength in compression", at_least="20", at_most="2000")
]
Whole = Annotated[Amount, given("1", "", "the whole of a load", fixed="1 ratio")]
Thinnest = Annotated[
    Amount, given("k_t", "", "greatest outside diameter over wall", fixed="50 ratio")
]


@dataclass(frozen=True)
class Column:
    """What a straight rod bears in compression, and which rule says so."""

    slenderness: Annotated[Amount, gives("L/r", "", "slenderness", to="0.1")]
    switch: Annotated[
        Amount, gives("s_J", "", "slenderness from which Euler holds", to="0.1")
    ]  # fmt: skip
    stress: Annotated[Amount, gives("σ", "MPa", "stress at that load", to="0.1", safe="down")]
    load: Annotated[
        Amount, gives("P", "N", "load at which the straight rod fails", to="10", safe="down")
    ]


def _section(outside: Any, wall: Any, thinnest: Any) -> tuple[Any, Any]:
    """Area and radius of gyration; refuses a wall so thin that it cripples first."""
    step(
        outside / wall, "D/t", "", "outside diameter over wall", at_least="2", at_most=thinnest,
        wrong="the diameter is {value} of the wall: from 2 (solid) to 50 the rod fails as a whole",
    )  # fmt: skip
    inside = step(outside - 2 * wall, "d", "mm", "inside diameter")
    area = step(circle_area(outside) - circle_area(inside), "A", "mm²", "section")
    squares = step(outside**2 + inside**2, "q", "mm²", "sum of the squares")
    return area, step(square_root(squares) / 4, "r", "mm", "radius of gyration")


def _column(area: Any, radius: Any, length: Any, modulus: Any, strength: Any) -> Column:
    slender = step(
        length / radius, "λ", "", "slenderness", at_most="200", wrong=SLENDER
    )  # fmt: skip
    switch = step(
        pi_times(square_root(2 * modulus / strength)), "s_J", "", "slenderness at the switch"
    )
    short = step(smallest(slender, switch), "λ_J", "", "slenderness, up to the switch")
    long = step(largest(slender, switch), "λ_E", "", "slenderness, from the switch on")
    johnson = step(
        strength - strength * short**2 / (2 * switch**2), "σ_J", "MPa", "Johnson up to the switch"
    )
    euler = step(pi_times(pi_times(modulus)) / long**2, "σ_E", "MPa", "Euler from the switch on")
    stress = step(
        johnson - (strength / 2 - euler), "σ", "MPa", "Johnson, less what Euler takes off"
    )
    return Column(slender, switch, stress, area * stress)


def _column_by_inertia(
    outside: float, wall: float, length: float, modulus: float, strength: float, thinnest: float
) -> Column:
    """Second moment of area, Euler's load in forces, and the parabola as a share of it."""
    inside = outside - 2 * wall
    moment = math.pi / 64 * (outside**4 - inside**4)
    area = math.pi / 4 * (outside**2 - inside**2)
    return _plain_column(area, moment, length, modulus, strength)


def _plain_column(
    area: float, moment: float, length: float, modulus: float, strength: float
) -> Column:
    euler, crush = math.pi**2 * modulus * moment / length**2, area * strength
    load = euler if euler <= crush / 2 else crush * (1 - crush / (4 * euler))
    switch = math.sqrt(2 * math.pi**2 * modulus / strength)
    made: Any = Column
    bare: Column = made(length / math.sqrt(moment / area), switch, load / area, load)
    return bare


@calculation(
    source=f"textbook: {EULER}; {JOHNSON}",
    not_covered=PINNED,
    second=Second(_column_by_inertia, "0.001 %", "second moment of area, in forces"),
    examples=(
        Example(
            {
                "outside": "1.0 in",
                "wall": "0.049 in",
                "length": "48 in",
                "modulus": "10500 ksi",
                "strength": "42000 psi",
            },
            {"slenderness": "142.6", "switch": "70.25", "load": "746.4 lbf"},
            "Euler in closed form (from memory)",
            within="0.1 %",
        ),
        Example(
            {
                "outside": "1.0 in",
                "wall": "0.049 in",
                "length": "20 in",
                "modulus": "10500 ksi",
                "strength": "42000 psi",
            },
            {"slenderness": "59.4", "load": "3950 lbf"},
            "Johnson's parabola in closed form (from memory)",
            within="0.1 %",
        ),
    ),
)
def rod_buckling(
    outside: Outside,
    wall: Wall,
    length: Length,
    modulus: Modulus,
    strength: Yield,
    thinnest: Thinnest,
) -> Column:
    """Compression that a straight push-pull rod with pinned ends bears.

    By Johnson where the rod is short, by Euler where it is slender; the two meet at the switch.
    """
    area, radius = _section(outside, wall, thinnest)
    return _column(area, radius, length, modulus, strength)


def _section_by_inertia(
    area: float, radius: float, length: float, modulus: float, strength: float
) -> Column:
    return _plain_column(area, area * radius**2, length, modulus, strength)


@calculation(
    source=f"textbook: {EULER}; {JOHNSON}",
    not_covered=PINNED + "; a section that twists before it bends",
    second=Second(_section_by_inertia, "0.001 %", "second moment of area, in forces"),
    examples=(
        Example(
            {
                "area": "5890 mm²",
                "radius": "50.967 mm",
                "length": "8000 mm",
                "modulus": "200 GPa",
                "strength": "250 MPa",
            },
            {"switch": "125.66", "load": "471.9 kN"},
            "Hibbeler example 13.2, twice as long: a quarter of its 1887.6 kN",
        ),
    ),
)
def column_buckling(
    area: Annotated[Amount, given("A", "mm²", "section", above="0", at_most="100000")],
    radius: Annotated[
        Amount, given("r", "mm", "least radius of gyration", above="0", at_most="500")
    ],
    length: Annotated[
        Amount, given("L", "mm", "length between pin centres", at_least="10", at_most="20000")
    ],
    modulus: Modulus,
    strength: Yield,
) -> Column:
    """Compression that a straight strut of any section bears, pinned at both ends."""
    return _column(area, radius, length, modulus, strength)


@dataclass(frozen=True)
class Bowed:
    """What a bow does to a rod under load."""

    euler: Annotated[Amount, gives("P_E", "N", "load by Euler", to="10", safe="down")]
    bow: Annotated[Amount, gives("w", "mm", "bow under load", to="0.01", safe="up")]
    stress: Annotated[
        Amount, gives("σ_max", "MPa", "greatest stress", to="0.1", safe="up")
    ]  # fmt: skip
    spare: Annotated[
        Amount,
        gives("Δσ", "MPa", "stress left below yield", to="0.1", safe="down", at_least="0",
              beyond="A straighter or a stronger rod"),
    ]  # fmt: skip


def _bow_by_adding(
    outside: float,
    wall: float,
    length: float,
    modulus: float,
    strength: float,
    bow: float,
    load: float,
    thinnest: float,
) -> Bowed:
    """Bow added to bow: each bends the rod by a share of itself, for ever."""
    inside = outside - 2 * wall
    moment = math.pi / 64 * (outside**4 - inside**4)
    area = math.pi / 4 * (outside**2 - inside**2)
    euler = math.pi**2 * modulus * moment / length**2
    whole = more = bow
    while more > 1e-12 * whole:
        more *= load / euler
        whole += more
    stress = load / area + load * whole * outside / 2 / moment
    made: Any = Bowed
    bare: Bowed = made(euler, whole, stress, strength - stress)
    return bare


@calculation(
    source=f"textbook (from memory): {EULER}; a bow grows by 1 / (1 − P/P_E), its moment adds to "
    "the stress",
    not_covered=PINNED,
    second=Second(_bow_by_adding, "0.01 %", "bow added to bow for ever"),
    examples=(
        Example(
            {
                "outside": "1.0 in",
                "wall": "0.049 in",
                "length": "48 in",
                "modulus": "10500 ksi",
                "strength": "42000 psi",
                "bow": "0.05 in",
                "load": "373.2 lbf",
            },
            {"euler": "746.4 lbf", "bow": "0.100 in", "stress": "3674 psi"},
            "Euler in closed form (from memory): half of its load doubles the bow; "
            "373.2 / 0.1464 + 373.2 · 0.1 · 0.5 / 0.016594",
            within="0.1 %",
        ),
    ),
)
def rod_with_bow(
    outside: Outside,
    wall: Wall,
    length: Length,
    modulus: Modulus,
    strength: Yield,
    bow: Annotated[
        Amount,
        given("w₀", "mm", "bow of the rod without load", at_least="0", at_most="20",
              at_bench="0.1"),
    ],
    load: Annotated[Amount, given("P", "N", "load with its factor", above="0", at_most="500000")],
    thinnest: Thinnest,
    whole: Whole,
) -> Bowed:  # fmt: skip
    """Bow of a push-pull rod under load: how far it grows and what stress it makes.

    Holds up to nine tenths of Euler's load.
    """
    area, radius = _section(outside, wall, thinnest)
    slender = step(length / radius, "λ", "", "slenderness", at_most="200", wrong=SLENDER)
    euler = step(pi_times(pi_times(modulus)) * area / slender**2, "P_E", "N", "load by Euler")
    used = step(
        load / euler, "u", "", "share of Euler's load", at_most="0.9",
        wrong="the load is {value} of Euler's: from 0.9 a bow runs away",
    )  # fmt: skip
    under = step(bow / (whole - used), "w", "mm", "bow under load")
    bending = step(under * outside / (2 * radius**2), "m", "", "stress by bending over by load")
    stress = step(load / area * (whole + bending), "σ_max", "MPa", "greatest stress")
    return Bowed(euler, under, stress, strength - stress)


@dataclass(frozen=True)
class RodEnd:
    """How far a rod end is in."""

    engaged: Annotated[Amount, gives("e", "mm", "thread in the rod", to="0.1", safe="down")]
    least: Annotated[Amount, gives("e_min", "mm", "thread that must be in", to="0.1", safe="up")]
    past: Annotated[
        Amount,
        gives("Δe", "mm", "thread beyond what must be in", to="0.1", safe="down", at_least="0",
              beyond="Screw the rod end in; a rod that then does not suit goes back"),
    ]  # fmt: skip
    most: Annotated[
        Amount,
        gives("s_max", "mm", "thread that may show, lock nut included", to="0.1", safe="down"),
    ]


def _end_by_showing(
    thread: float, showing: float, hole: float, diameter: float, times: float
) -> RodEnd:
    """How much may show, less how much does."""
    least = max(hole, times * diameter)
    made: Any = RodEnd
    bare: RodEnd = made(thread - showing, least, (thread - least) - showing, thread - least)
    return bare


@calculation(
    source="witness hole: TM 1-1500-204-23-1, the thread shows in the hole and a 0.020 in wire "
    "does not pass; one diameter at the least: common practice, no source",
    not_covered="the locking of the nut; the hand of the thread; both ends of the rod, which are "
    "turned in alike; the wire, which is the check and not this number",
    second=Second(_end_by_showing, "0.001 %", "how much may show, less how much does"),
    examples=(
        Example(
            {
                "thread": "30 mm",
                "showing": "12 mm",
                "hole": "13 mm",
                "diameter": "8 mm",
                "times": "1",
            },
            {"engaged": "18.0 mm", "least": "13.0 mm", "past": "5.0 mm", "most": "17.0 mm"},
            "common practice, no source: 30 less 12 in, 13 wanted",
        ),
    ),
)
def rod_end_engagement(
    thread: Annotated[
        Amount, given("l_t", "mm", "thread of the rod end", at_least="3", at_most="200")
    ],
    showing: Annotated[
        Amount,
        given("s", "mm", "thread that shows, lock nut included", at_least="0", at_most="200",
              at_bench="0.5"),
    ],
    hole: Annotated[
        Amount,
        given("h_w", "mm", "end of the rod to the far side of its witness hole", above="0",
              at_most="200"),
    ],
    diameter: Annotated[
        Amount, given("D", "mm", "diameter of the thread", at_least="2", at_most="60")
    ],
    times: Annotated[
        Amount, given("k_e", "", "diameters that must be in", at_least="1", at_most="3")
    ],
) -> RodEnd:  # fmt: skip
    """Engagement of a rod end: past the witness hole, and at least one diameter deep."""
    least = step(largest(hole, times * diameter), "e_min", "mm", "thread that must be in")
    room = step(
        thread - least, "s_max", "mm", "thread that may show", at_least="0",
        wrong="the rod end is too short for this rod by its witness hole: {value} may show",
    )  # fmt: skip
    return RodEnd(thread - showing, least, room - showing, room)
