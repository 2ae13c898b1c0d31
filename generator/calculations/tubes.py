"""Hydraulic tube in; its stress and pressure by three rules, bends and nut torques out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, key, looked_up
from generator.quantities.amount import Amount
from generator.quantities.functions import above_ambient, step
from generator.quantities.window import Window, window

THIN = "textbook: p d / 2t with the inside diameter, p D / 2t with the outside diameter"
LAME = "Lamé for a thick wall, at the bore"
BEYOND_STRESS = (
    "pressure surges, bends (thinner outside, flattened), flares, clamps, fatigue, corrosion"
)
Outside = Annotated[
    Amount, given("D", "mm", "outside diameter of the tube", at_least="3", at_most="80")
]
Wall = Annotated[
    Amount,
    given("t", "mm", "wall of the tube", at_least="0.2", at_most="10", at_bench="0.01"),
]
Pressure = Annotated[
    Amount, given("p", "bar g", "gauge pressure", at_least="0", at_most="1000", at_bench="1")
]


@dataclass(frozen=True)
class HoopStress:
    """The stress round a tube, by three rules."""

    inside: Annotated[
        Amount, gives("σ_i", "MPa", "stress by the inside diameter", to="0.1", safe="up")
    ]
    outside: Annotated[
        Amount, gives("σ_o", "MPa", "stress by the outside diameter", to="0.1", safe="up")
    ]
    thick: Annotated[
        Amount, gives("σ_t", "MPa", "stress at the bore, thick wall", to="0.1", safe="up")
    ]


def _bore(outside: Any, wall: Any) -> Any:
    return step(
        outside - 2 * wall, "d", "mm", "inside diameter", above="0",
        wrong="the wall is half the tube: {value} is left inside",
    )  # fmt: skip


def _thick(pressure: float, outside: float, wall: float) -> float:
    """Lamé in radii: the pressure, and what a thick wall adds at the bore."""
    outer, inner = outside / 2, outside / 2 - wall
    return pressure + 2 * pressure * inner**2 / (outer**2 - inner**2)


def _hoop_by_halves(outside: float, wall: float, pressure: float) -> HoopStress:
    """Half the tube as a free body: what pushes it apart over the two walls that hold it."""
    made: Any = HoopStress
    held = 2 * wall
    inside = pressure * (outside - held) / held
    bare: HoopStress = made(inside, inside + pressure, _thick(pressure, outside, wall))
    return bare


@calculation(
    source=f"{THIN}; {LAME}",
    not_covered=BEYOND_STRESS,
    second=Second(_hoop_by_halves, "0.001 %", "half the tube as a free body; Lamé in radii"),
    examples=(
        Example(
            {"outside": "21 mm", "wall": "1 mm", "pressure": "100 bar g"},
            {"inside": "95 MPa", "outside": "105 MPa", "thick": "100.25 MPa"},
            "10 MPa on a mean diameter of 20 mm and a wall of 1 mm is 100 MPa (from memory): "
            "5 MPa less inside, 5 MPa more outside",
        ),
    ),
)
def tube_hoop_stress(outside: Outside, wall: Wall, pressure: Pressure) -> HoopStress:
    """Stress round a tube under pressure, by inside and outside diameter and for a thick wall.

    The first two hold for a wall of up to a tenth of the outside diameter.
    """
    bore = _bore(outside, wall)
    step(
        wall / outside, "t/D", "", "wall over outside diameter", at_most="0.1",
        wrong="the wall is {value} of the diameter: the thin rules hold up to 0.1, the thick "
        "rule stands by itself (tube_hoop_stress_thick)",
    )  # fmt: skip
    push = above_ambient(pressure)
    return HoopStress(
        push * bore / (2 * wall),
        push * outside / (2 * wall),
        push * (outside**2 + bore**2) / (outside**2 - bore**2),
    )


def _lame_by_radii(outside: float, wall: float, pressure: float) -> float:
    return _thick(pressure, outside, wall)


@calculation(
    source=LAME,
    not_covered=BEYOND_STRESS,
    second=Second(_lame_by_radii, "0.001 %", "in radii: the pressure, and what is added to it"),
    examples=(
        Example(
            {"outside": "20 mm", "wall": "5 mm", "pressure": "300 bar g"},
            {"": "50 MPa"},
            "Lamé with D = 2 d in closed form: 5/3 of the pressure (from memory)",
        ),
    ),
)
def tube_hoop_stress_thick(
    outside: Outside, wall: Wall, pressure: Pressure
) -> Annotated[Amount, gives("σ_t", "MPa", "stress at the bore", to="0.1", safe="up")]:
    """Stress round a tube of any wall under pressure, at its bore."""
    bore = _bore(outside, wall)
    stress: Amount = above_ambient(pressure) * (outside**2 + bore**2) / (outside**2 - bore**2)
    return stress


@dataclass(frozen=True)
class Bursting:
    """The pressure at which a tube bursts, by three rules, and the working pressure from one."""

    barlow: Annotated[Amount, gives("p_B", "bar", "bursting by Barlow", to="1", safe="down")]
    boardman: Annotated[Amount, gives("p_D", "bar", "bursting by Boardman", to="1", safe="down")]
    lame: Annotated[Amount, gives("p_L", "bar", "bursting by Lamé", to="1", safe="down")]
    working: Annotated[
        Amount, gives("p_w", "bar", "working pressure by Barlow", to="1", safe="down")
    ]


def _bursting_by_stress(
    outside: float, wall: float, strength: float, factor: float, boardman: float
) -> Bursting:
    """The pressure that brings each rule's stress to the strength."""
    stress_of_one = _thick(1.0, outside, wall)
    barlow = strength / (outside / (2 * wall))
    made: Any = Bursting
    bare: Bursting = made(
        barlow,
        strength / ((outside - boardman * wall) / (2 * wall)),
        strength / stress_of_one,
        barlow / factor,
    )
    return bare


@calculation(
    source="hydraulics course note, Pressure rating of hydraulic tubing (2001): Barlow, Boardman "
    "and Lamé",
    not_covered=BEYOND_STRESS + "; approved data, which give the tube and its pressure",
    second=Second(_bursting_by_stress, "0.001 %", "the pressure that brings the stress there"),
    examples=(
        Example(
            {
                "outside": "0.5 in",
                "wall": "0.049 in",
                "strength": "50000 psi",
                "factor": "4",
            },
            {"barlow": "9800 psi", "boardman": "10633.7 psi", "lame": "10738.0 psi"},
            "the course note's three formulas with its own figures (closed form)",
            within="0.1 psi",
        ),
        Example(
            {"outside": "1 in", "wall": "0.12 in", "strength": "50000 psi", "factor": "4"},
            {"working": "3000 psi"},
            "the course note's table: 1 in by 0.120 in",
        ),
    ),
)
def tube_pressure(
    outside: Outside,
    wall: Wall,
    strength: Annotated[
        Amount, given("R_m", "MPa", "tensile strength of the tube", at_least="20", at_most="2000")
    ],
    factor: Annotated[
        Amount, given("n", "", "bursting over working pressure", at_least="3", at_most="10")
    ],
    boardman: Annotated[
        Amount, given("c_D", "", "share of the wall in Boardman's rule", fixed="0.8 ratio")
    ],
) -> Bursting:
    """Bursting pressure of a straight tube by three rules, and the working pressure by the least.

    Barlow gives the lowest of the three; the working pressure comes from it.
    """
    bore = _bore(outside, wall)
    barlow = step(2 * wall * strength / outside, "p_B", "bar", "bursting by Barlow")
    return Bursting(
        barlow,
        2 * wall * strength / (outside - boardman * wall),
        strength * (outside**2 - bore**2) / (outside**2 + bore**2),
        barlow / factor,
    )


@dataclass(frozen=True)
class BendRow:
    """A least bend radius: it holds for this tube and metal only."""

    tube: Annotated[str, key("outside diameter of the tube, as the table prints it")]
    metal: Annotated[str, key("metal of the tube, as the table prints it")]
    diameter: Annotated[Amount, given("D", "mm", "outside diameter of the row")]
    radius: Annotated[Amount, given("R_r", "mm", "least bend radius of the row")]


@dataclass(frozen=True)
class TubeBend:
    """How tight a tube may be bent, and how flat the bend may be."""

    radius: Annotated[Amount, gives("R_min", "mm", "least bend radius", to="0.1", safe="up")]
    spare: Annotated[
        Amount,
        gives("ΔR", "mm", "radius above the least", to="0.1", safe="down", at_least="0",
              beyond="A larger former"),
    ]  # fmt: skip
    across: Annotated[
        Amount,
        gives("D_f", "mm", "least diameter across the flattened bend", to="0.1", safe="up"),
    ]


def _bend_by_lost(row: Any, radius: float, kept: float) -> TubeBend:
    """What the bend may lose of its diameter, taken from it."""
    made: Any = TubeBend
    lost = (1 - kept) * row.diameter
    bare: TubeBend = made(row.radius, -(row.radius - radius), row.diameter - lost)
    return bare


@calculation(
    source="AC 43.13-1B table 9-2 (from memory); flattening: FAA AMT handbook, rigid lines, 75 %",
    not_covered="wrinkles and scores, which reject a bend; a wall for which the bender has no "
    "mandrel; tube below 1/4 in, which may be bent without a tool",
    second=Second(_bend_by_lost, "0.001 %", "what a bend may lose of its diameter"),
    examples=(
        Example(
            {"tube": "3/8 in", "metal": "aluminium alloy", "radius": "1.25 in"},
            {"radius": "0.9375 in", "across": "0.281 in"},
            "AC 43.13-1B table 9-2 (from memory): 15/16 in; 75 % of 0.375 in",
        ),
    ),
)
def tube_bend(
    row: Annotated[BendRow, looked_up("tube_bend_radius")],
    radius: Annotated[
        Amount, given("R", "mm", "bend radius of the centre line", above="0", at_most="1000")
    ],
    kept: Annotated[
        Amount, given("k_f", "", "share of the diameter that a bend keeps", fixed="0.75 ratio")
    ],
) -> TubeBend:
    """Bend of a tube: its least radius by the table, and how flat it may become."""
    return TubeBend(row.radius, radius - row.radius, kept * row.diameter)


@dataclass(frozen=True)
class BoreRow:
    """What must pass a bent or flared tube: for this tube, metal and wall only."""

    tube: Annotated[str, key("outside diameter of the tube, as the table prints it")]
    metal: Annotated[str, key("metal of the tube, as the table prints it")]
    wall: Annotated[Amount, given("t", "mm", "wall of the row")]
    bore: Annotated[Amount, given("d_r", "mm", "least inside diameter of the row")]


def _spare_bore(row: Any, bore: float) -> float:
    return -float(row.bore - bore)


@calculation(
    source="NAVEDTRA 14018 table 6-6",
    not_covered="a wall other than the row's; the shape of the bend",
    second=Second(_spare_bore, "0.001 %", "taken the other way round"),
    examples=(
        Example(
            {"tube": "3/8 in", "metal": "aluminium 6061", "bore": "0.25 in"},
            {"": "0.01 in"},
            "NAVEDTRA 14018 table 6-6: 0.24 in",
            within="0.00001 in",
        ),
    ),
)
def tube_bore(
    row: Annotated[BoreRow, looked_up("tube_least_bore")],
    bore: Annotated[
        Amount,
        given("d", "mm", "largest ball that passes the tube", above="0", at_most="80",
              at_bench="0.1"),
    ],
) -> Annotated[
    Amount,
    gives("Δd", "mm", "bore above the least", to="0.01", safe="down", at_least="0",
          beyond="Reject the tube"),
]:  # fmt: skip
    """Bore of a bent or flared tube: the ball that passes it, against the table."""
    return bore - row.bore


@dataclass(frozen=True)
class FlareRow:
    """A torque of a flare nut: it holds for this table, tube and fitting only."""

    table: Annotated[str, key("table, by its name")]
    tube: Annotated[str, key("outside diameter of the tube, as the table prints it")]
    fitting: Annotated[str, key("nut and tube, as the table prints them")]
    lower: Annotated[Amount, given("T_min", "lbf·in", "lower torque of the table row")]
    upper: Annotated[Amount, given("T_max", "lbf·in", "upper torque of the table row")]


@dataclass(frozen=True)
class FlareTorque:
    """The torque of a flare nut."""

    aim: Annotated[Amount, gives("T", "lbf·in", "torque to aim for", to="1", inside="allowed")]
    allowed: Annotated[Window, gives("T", "lbf·in", "torque of the nut", to="1")]


def _flare_by_half_width(row: Any) -> FlareTorque:
    half = (row.upper - row.lower) / 2
    made: Any = FlareTorque
    bare: FlareTorque = made(row.lower + half, Window(row.lower, row.upper, "", ""))
    return bare


@calculation(
    source="the table that is named: good tables differ for nuts on aluminium tube",
    not_covered="where no torque wrench goes: tighten until the torque rises, a further 1/6 turn, "
    "back off, again until it rises and 1/6 to 1/3 turn (TM 55-1520-240-23-1 note 1); a nut that "
    "leaks is not tightened further: look at the flare",
    second=Second(_flare_by_half_width, "0.001 %", "the lower end and half the width of the row"),
    examples=(
        Example(
            {
                "table": "TM 55-1520-240-23-1",
                "tube": "3/8 in",
                "fitting": "nut on steel tube",
            },
            {"allowed.from": "270 lbf·in", "allowed.to": "300 lbf·in"},
            "TM 55-1520-240-23-1 paragraph 1-13; TM 55-1730-229-12 has the same",
        ),
    ),
)
def flare_nut_torque(row: Annotated[FlareRow, looked_up("flare_torque")]) -> FlareTorque:
    """Torque of a flared-fitting nut, by the table that the lead names."""
    allowed = window({"lower torque of the row": row.lower}, {"upper torque": row.upper})
    return FlareTorque((row.lower + row.upper) / 2, allowed)
