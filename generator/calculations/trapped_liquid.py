"""Trapped liquid, its pressure and its temperature in; what of a change is a leak, out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, key, looked_up
from generator.quantities.amount import Amount
from generator.quantities.functions import above_ambient, square_root, step
from generator.quantities.points import as_gauge, between
from generator.quantities.window import Window, window

LEAK = "common practice, no source: change less what temperature makes, by the rig's stiffness"
RIG = (
    "air in the line, which makes it softer than it was when measured; another rig, hose, fluid or "
    "valve position than those of the measured stiffness; a probe that is not at the fluid's "
    "temperature"
)
OUTSIDE = (
    "the temperature changed by more than the rig's stiffness was measured for: shade the rig, "
    "wait until it is even, test again"
)
Stiffness = Annotated[
    Amount,
    given("k_T", "bar/K", "measured stiffness of this rig", at_least="0.5", at_most="25",
          beyond="Trapped oil in steel gives 9 to 13 bar a kelvin; measure it on this rig"),
]  # fmt: skip
Largest = Annotated[
    Amount,
    given("ΔT_w", "K", "largest change for which it was measured", at_least="0.1", at_most="3"),
]
Probe = Annotated[
    Amount,
    given("u_T", "K", "error of a thermometer, either way", at_least="0", at_most="0.5"),
]
Allowed = Annotated[Amount, given("Δp_a", "bar", "allowed loss", above="0", at_most="100")]
PressureNow = given("p₁", "bar g", "pressure at the start", at_least="0", at_most="700",
                    at_bench="0.1")  # fmt: skip
PressureThen = given("p₂", "bar g", "pressure at the end", at_least="0", at_most="700",
                     at_bench="0.1")  # fmt: skip
TemperatureNow = given("T₁", "°C", "temperature at the start", at_least="-40", at_most="80",
                       at_bench="0.1")  # fmt: skip
TemperatureThen = given("T₂", "°C", "temperature at the end", at_least="-40", at_most="80",
                        at_bench="0.1")  # fmt: skip


@dataclass(frozen=True)
class FluidRow:
    """A fluid at about room temperature, without air in it."""

    fluid: Annotated[str, key("fluid, as the table prints it")]
    bulk: Annotated[Amount, given("B", "bar", "bulk modulus of the fluid")]
    expansion: Annotated[Amount, given("β", "1/K", "volume expansion of the fluid")]


def _by_volumes(row: Any, change: float, wall: float) -> float:
    """Fluid that would have to leave for the pressure to stay, pressed back in."""
    grown = (1 + row.expansion * change) - (1 + 3 * wall * change)
    return float(row.bulk * grown)


@calculation(
    source="textbook: Δp = B (β − 3 α) ΔT in a closed space; fluid by the table row",
    not_covered="walls, hoses and seals that give way, by which a real rig is softer: this is the "
    "most that trapped fluid can do, and no stiffness for a leak test; air; a relief valve",
    second=Second(_by_volumes, "0.01 %", "volume that would have to leave, pressed back in"),
    examples=(
        Example(
            {"fluid": "MIL-H-83282", "change": "10 K", "wall": "0.0000117 1/K"},
            {"": "2378.7 psi"},
            "closed form: 300,000 psi · (0.000828 − 3 · 0.0000117) · 10",
        ),
        Example(
            {"fluid": "MIL-H-83282", "change": "27.777777778 K", "wall": "0 1/K"},
            {"": "6900 psi"},
            "manufacturer's engineering data page: 70 to 120 °F at constant volume",
            within="0.5 psi",
        ),
    ),
)
def trapped_liquid_in_rigid_walls(
    row: Annotated[FluidRow, looked_up("fluid")],
    change: Annotated[
        Amount, given("ΔT", "K", "change of temperature", at_least="-50", at_most="50")
    ],
    wall: Annotated[
        Amount,
        given("α_w", "1/K", "linear expansion of the walls", at_least="0", at_most="0.00003"),
    ],
) -> Annotated[Amount, gives("Δp", "bar", "change of pressure at the most", to="1", safe="up")]:
    """Trapped liquid in rigid walls: the most that its pressure can change with temperature.

    For the choice of a relief valve and for caution in the sun.
    """
    grows = step(row.expansion - 3 * wall, "γ", "1/K", "expansion of the fluid in its walls")
    change_of_pressure: Amount = row.bulk * grows * change
    return change_of_pressure


@dataclass(frozen=True)
class RigStiffness:
    """What temperature does to the pressure in this rig with its line shut."""

    stiffness: Annotated[Amount, gives("k_T", "bar/K", "stiffness of the rig", to="0.1")]
    doubt: Annotated[
        Amount,
        gives("s", "%", "doubt that one count of both instruments leaves", to="1", safe="up",
              at_most="20", beyond="Warm the rig by more, or read both to a finer step"),
    ]  # fmt: skip


def _stiffness_by_ends(
    start: float,
    end: float,
    start_temperature: float,
    end_temperature: float,
    count_pressure: float,
    count_temperature: float,
) -> RigStiffness:
    """The stiffness with both instruments one count off, against the one read, to first order."""
    rise, change = end - start, end_temperature - start_temperature
    made: Any = RigStiffness
    parts = (count_pressure / abs(rise), count_temperature / abs(change))
    bare: RigStiffness = made(rise / change, parts[0] + parts[1])
    return bare


@calculation(
    source="common practice, no source: a tight line warmed with its valves shut",
    not_covered="a line that leaks while it is measured, which hides stiffness; air, which makes "
    "it softer at low pressure: measure about the pressure of the test",
    second=Second(_stiffness_by_ends, "0.001 %", "both instruments one count off, first order"),
    examples=(
        Example(
            {
                "start": "60.0 bar g",
                "end": "78.6 bar g",
                "start_temperature": "17.0 °C",
                "end_temperature": "19.0 °C",
                "count_pressure": "0.1 bar",
                "count_temperature": "0.1 K",
            },
            {"stiffness": "9.30 bar/K"},
            "rule of thumb 9 to 11 bar for a degree, fluid power tutorial page (90 psi/°F)",
        ),
    ),
)
def rig_stiffness(
    start: Annotated[Amount, PressureNow],
    end: Annotated[Amount, PressureThen],
    start_temperature: Annotated[Amount, TemperatureNow],
    end_temperature: Annotated[Amount, TemperatureThen],
    count_pressure: Annotated[
        Amount, given("c_p", "bar", "step that the gauge reads to", above="0", at_most="5")
    ],
    count_temperature: Annotated[
        Amount, given("c_T", "K", "step that the thermometer reads to", above="0", at_most="1")
    ],
) -> RigStiffness:
    """Stiffness of a rig: what one kelvin does to the pressure of the trapped fluid in this rig.

    The line is shut, tight and warmed. Refused where one count of the instruments moves it much.
    """
    rise = step(between(end, start), "Δp", "bar", "rise of pressure", above="0",
                wrong="the pressure did not rise with the warmth: {value}")  # fmt: skip
    warmer = step(between(end_temperature, start_temperature), "ΔT", "K", "rise of temperature",
                  above="0", wrong="warm the rig: the temperature rose by {value}")  # fmt: skip
    doubt = count_pressure / rise + count_temperature / warmer
    return RigStiffness(rise / warmer, doubt)


@dataclass(frozen=True)
class Corrected:
    """A leak test with what temperature made of it taken out."""

    by_temperature: Annotated[
        Amount, gives("Δp_T", "bar", "change that temperature alone makes", to="0.1")
    ]
    loss: Annotated[Amount, gives("Δp_l", "bar", "corrected loss", to="0.1", safe="up")]
    doubt: Annotated[
        Amount, gives("u_p", "bar", "doubt that two thermometers leave", to="0.1", safe="up")
    ]


def _loss_by_start(
    stiffness: float,
    largest: float,
    start: float,
    end: float,
    start_temperature: float,
    end_temperature: float,
    thermometer: float,
) -> Corrected:
    """The end brought back to the temperature of the start, then compared with the start."""
    change = end_temperature - start_temperature
    brought_back = end - stiffness * change
    widest = (change + 2 * thermometer) * stiffness - change * stiffness
    made: Any = Corrected
    bare: Corrected = made(end - brought_back, start - brought_back, widest)
    return bare


@calculation(
    source=LEAK,
    not_covered=RIG,
    second=Second(_loss_by_start, "0.0001 bar", "the end brought back to the first temperature"),
    examples=(
        Example(
            {
                "stiffness": "9.3 bar/K",
                "largest": "0.5 K",
                "start": "70.0 bar g",
                "end": "71.1 bar g",
                "start_temperature": "17.6 °C",
                "end_temperature": "17.9 °C",
                "thermometer": "0.1 K",
            },
            {"by_temperature": "2.79 bar", "loss": "1.69 bar", "doubt": "1.86 bar"},
            "common practice, no source: 9.3 bar/K over 0.3 K is 2.79 bar, of which 1.1 was read",
        ),
    ),
)
def trapped_liquid_loss(
    stiffness: Stiffness,
    largest: Largest,
    start: Annotated[Amount, PressureNow],
    end: Annotated[Amount, PressureThen],
    start_temperature: Annotated[Amount, TemperatureNow],
    end_temperature: Annotated[Amount, TemperatureThen],
    thermometer: Probe,
) -> Corrected:
    """Leak test of trapped liquid: the loss of pressure, corrected for the change of temperature.

    Warming hides a leak and cooling looks like one. Refused outside the window of the stiffness.
    """
    change = step(
        _inside(between(end_temperature, start_temperature), largest), "ΔT", "K", "change"
    )
    warmth = step(stiffness * change, "Δp_T", "bar", "change that temperature alone makes")
    return Corrected(warmth, warmth - between(end, start), 2 * thermometer * stiffness)


def _inside(change: Any, largest: Any) -> Any:
    """The change of temperature, inside the window on either side."""
    either = square_root(change**2)
    step(either, "ΔT_e", "K", "change of temperature, either way", at_most=largest, wrong=OUTSIDE)
    return change


@dataclass(frozen=True)
class LastReading:
    """What the gauge may show at the end."""

    expected: Annotated[
        Amount, gives("p_e", "bar g", "pressure at the end without a leak", to="0.1")
    ]
    passes: Annotated[Window, gives("p_2", "bar g", "pressure at the end that passes", to="0.1")]


def _readings_by_loss(
    stiffness: float,
    largest: float,
    start: float,
    change: float,
    allowed: float,
    thermometer: float,
) -> LastReading:
    """The allowed loss and gain, each less the doubt, laid about the expected end."""
    about, doubt = start + stiffness * change, 2 * thermometer * stiffness
    made: Any = LastReading
    bare: LastReading = made(about, Window(about - (allowed - doubt), about + doubt, "", ""))
    return bare


@calculation(
    source=LEAK,
    not_covered=RIG,
    second=Second(_readings_by_loss, "0.0001 bar", "allowed loss less the doubt, about the end"),
    examples=(
        Example(
            {
                "stiffness": "9.3 bar/K",
                "largest": "0.5 K",
                "start": "70 bar g",
                "change": "0.3 K",
                "allowed": "3.0 bar",
                "thermometer": "0.1 K",
            },
            {"expected": "72.79 bar g", "passes.from": "71.65 bar g", "passes.to": "74.65 bar g"},
            "common practice, no source: 70 + 2.79, less 3.0 of which 1.86 are doubt",
        ),
    ),
)
def trapped_liquid_readings(
    stiffness: Stiffness,
    largest: Largest,
    start: Annotated[Amount, PressureNow],
    change: Annotated[
        Amount,
        given("ΔT", "K", "change of temperature", at_least="-3", at_most="3", at_bench="0.1"),
    ],
    allowed: Allowed,
    thermometer: Probe,
) -> LastReading:
    """Readings that pass a leak test of trapped liquid, for a change of temperature.

    The allowed loss is narrowed by what two thermometers may be off. A reading above the window is
    no leak, but more warmth than the probes saw: the test is done again.
    """
    warmth = stiffness * _inside(change, largest)
    expected = step(above_ambient(start) + warmth, "p_e", "bar", "end without a leak")
    doubt = step(
        2 * thermometer * stiffness, "u_p", "bar", "doubt that two thermometers leave",
        at_most=allowed,
        wrong="two thermometers leave a doubt of {value}, more than the loss that is allowed: use "
        "finer ones, or test at a steady temperature",
    )  # fmt: skip
    passes = window(
        {"the allowed loss": as_gauge(expected - (allowed - doubt))},
        {"the thermometers": as_gauge(expected + doubt)},
    )
    return LastReading(as_gauge(expected), passes)
