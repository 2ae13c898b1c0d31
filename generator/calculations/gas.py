"""Gauge pressures of a gas, the barometer and temperatures in; losses and precharges out.

A gas law holds in absolute pressures and kelvin: a gauge reading is brought to them and back.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import above_ambient, step
from generator.quantities.points import above_absolute_zero, above_vacuum, as_gauge, between

GAS_LAW = "gas law: absolute pressure over kelvin stays while no gas leaves"
IDEAL = "a real gas far from ideal: dry nitrogen up to 200 bar is near enough; moisture; a vessel "
GaugeStart = given("p₁", "bar g", "pressure at the start", at_least="0", at_most="200",
                   at_bench="0.01")  # fmt: skip
GaugeEnd = given("p₂", "bar g", "pressure at the end", at_least="0", at_most="200",
                 at_bench="0.01")  # fmt: skip
NORMAL = {"at_least": "0.8", "at_most": "1.1"}
AmbientStart = given("a₁", "bar a", "barometer at the start", **NORMAL)
AmbientEnd = given("a₂", "bar a", "barometer at the end", **NORMAL)
TemperatureStart = given("T₁", "°C", "temperature of the gas at the start", at_least="-40",
                         at_most="80", at_bench="0.1")  # fmt: skip
TemperatureEnd = given("T₂", "°C", "temperature of the gas at the end", at_least="-40",
                       at_most="80", at_bench="0.1")  # fmt: skip


@dataclass(frozen=True)
class Decay:
    """A pressure test with gas, corrected for temperature and barometer."""

    expected: Annotated[
        Amount, gives("p_e", "bar g", "pressure at the end without a leak", to="0.001")
    ]
    loss: Annotated[Amount, gives("Δp_l", "bar", "corrected loss", to="0.001", safe="up")]


def _by_amount_of_gas(
    start: float,
    end: float,
    ambient_start: float,
    ambient_end: float,
    start_temperature: float,
    end_temperature: float,
) -> Decay:
    """The gas that is left, as a share of what was there, at the temperature of the end."""
    was = (start + ambient_start) / start_temperature
    left = (end + ambient_end) / end_temperature
    gone = (was - left) * end_temperature
    made: Any = Decay
    bare: Decay = made(end + gone, gone)
    return bare


def _expected(
    start: Any, ambient_start: Any, ambient_end: Any, start_temperature: Any, end_temperature: Any
) -> Any:
    absolute = step(
        above_ambient(start) + above_vacuum(ambient_start), "P₁", "bar", "absolute at the start"
    )
    cold = step(above_absolute_zero(start_temperature), "K₁", "K", "kelvin at the start")
    warm = step(above_absolute_zero(end_temperature), "K₂", "K", "kelvin at the end")
    return step(
        absolute * warm / cold - above_vacuum(ambient_end), "p_e", "bar", "end without a leak"
    )


@calculation(
    source=GAS_LAW,
    not_covered=IDEAL + "or hose that grows; a gas that is not yet as warm as its vessel",
    second=Second(_by_amount_of_gas, "0.000001 bar", "gas left, as a share of what was there"),
    examples=(
        Example(
            {
                "start": "2.00 bar g",
                "end": "1.96 bar g",
                "ambient_start": "1.013 bar a",
                "ambient_end": "1.013 bar a",
                "start_temperature": "18.0 °C",
                "end_temperature": "17.2 °C",
            },
            {"expected": "1.992 bar g", "loss": "0.032 bar"},
            "gas law by hand: 3.013 · 290.35 / 291.15 − 1.013",
        ),
    ),
)
def gas_decay(
    start: Annotated[Amount, GaugeStart],
    end: Annotated[Amount, GaugeEnd],
    ambient_start: Annotated[Amount, AmbientStart],
    ambient_end: Annotated[Amount, AmbientEnd],
    start_temperature: Annotated[Amount, TemperatureStart],
    end_temperature: Annotated[Amount, TemperatureEnd],
) -> Decay:
    """Decay of a gas under test: the loss of pressure, corrected for temperature and barometer."""
    without = _expected(start, ambient_start, ambient_end, start_temperature, end_temperature)
    return Decay(as_gauge(without), without - above_ambient(end))


def _expected_by_warming(
    start: float,
    ambient_start: float,
    ambient_end: float,
    start_temperature: float,
    end_temperature: float,
) -> float:
    """What warming adds, and what the barometer takes."""
    warming = (start + ambient_start) * (end_temperature - start_temperature) / start_temperature
    return start + warming + (ambient_start - ambient_end)


@calculation(
    source=GAS_LAW,
    not_covered=IDEAL + "or hose that grows; a gas that is not yet as warm as its vessel",
    second=Second(_expected_by_warming, "0.000001 bar", "what warming adds, the barometer takes"),
    examples=(
        Example(
            {
                "start": "2.00 bar g",
                "ambient_start": "1.013 bar a",
                "ambient_end": "1.013 bar a",
                "start_temperature": "18.0 °C",
                "end_temperature": "17.2 °C",
            },
            {"": "1.992 bar g"},
            "gas law by hand: 3.013 · 290.35 / 291.15 − 1.013",
        ),
    ),
)
def gas_expected(
    start: Annotated[Amount, GaugeStart],
    ambient_start: Annotated[Amount, AmbientStart],
    ambient_end: Annotated[Amount, AmbientEnd],
    start_temperature: Annotated[Amount, TemperatureStart],
    end_temperature: Annotated[Amount, TemperatureEnd],
) -> Annotated[Amount, gives("p_e", "bar g", "pressure at the end without a leak", to="0.001")]:
    """Pressure of a tight vessel at the end of a test with gas, for a strip over temperature."""
    without = _expected(start, ambient_start, ambient_end, start_temperature, end_temperature)
    gauge: Amount = as_gauge(without)
    return gauge


def _rate_by_minutes(loss: float, volume: float, time: float) -> float:
    """What is lost in a second, times the volume."""
    return loss / time * volume


@calculation(
    source="textbook: leak rate = loss of pressure × volume / time",
    not_covered="a volume that is not the whole of what is shut in, hoses of the rig with it",
    second=Second(_rate_by_minutes, "0.001 %", "what is lost in a second, times the volume"),
    examples=(
        Example(
            {"loss": "0.032 bar", "volume": "1500 cm³", "time": "30 min"},
            {"": "1.60 bar·cm³/min"},
            "closed form: 0.032 · 1500 / 30",
        ),
    ),
)
def gas_leak_rate(
    loss: Annotated[Amount, given("Δp_l", "bar", "corrected loss", at_least="0", at_most="200")],
    volume: Annotated[
        Amount, given("V", "cm³", "volume that is shut in", above="0", at_most="500000")
    ],
    time: Annotated[Amount, given("t", "min", "time of the test", above="0", at_most="10080")],
) -> Annotated[Amount, gives("q", "bar·cm³/min", "leak rate", to="0.01", safe="up")]:
    """Leak rate of a gas: loss of pressure times volume, over the time of the test."""
    return loss * volume / time


def _precharge_by_kelvin(
    reference: float, ambient: float, reference_temperature: float, temperature: float
) -> float:
    """Pressure for each kelvin, kelvin by kelvin from the reference."""
    each = (reference + ambient) / reference_temperature
    return reference + each * (temperature - reference_temperature)


@calculation(
    source=GAS_LAW,
    not_covered=IDEAL + "whose gas is not yet as warm as the air; fluid left in the accumulator",
    second=Second(_precharge_by_kelvin, "0.00001 bar", "pressure for each kelvin"),
    examples=(
        Example(
            {
                "reference": "30.0 bar g",
                "ambient": "1.013 bar a",
                "reference_temperature": "20 °C",
                "temperature": "10 °C",
            },
            {"": "28.942 bar g"},
            "gas law by hand: 31.013 · 283.15 / 293.15 − 1.013 = 28.942",
        ),
    ),
)
def accumulator_precharge(
    reference: Annotated[
        Amount,
        given("p_r", "bar g", "precharge at the reference", at_least="1", at_most="200"),
    ],
    ambient: Annotated[Amount, given("a", "bar a", "barometer", **NORMAL)],
    reference_temperature: Annotated[
        Amount, given("T_r", "°C", "reference temperature", at_least="-40", at_most="80")
    ],
    temperature: Annotated[
        Amount,
        given("T", "°C", "temperature of the gas", at_least="-40", at_most="80", at_bench="1"),
    ],
) -> Annotated[Amount, gives("p_c", "bar g", "precharge at this temperature", to="0.1")]:
    """Precharge of an accumulator at the temperature of the day.

    Dry nitrogen only, with no pressure on the fluid side.
    """
    air = above_vacuum(ambient)
    absolute = step(above_ambient(reference) + air, "P_r", "bar", "absolute at the reference")
    cold = step(above_absolute_zero(reference_temperature), "K_r", "K", "kelvin at the reference")
    now = step(above_absolute_zero(temperature), "K_n", "K", "kelvin now")
    charged: Amount = as_gauge(absolute * now / cold - air)
    return charged


def _volume_by_ends(size: float, precharge: float, least: float, most: float) -> float:
    """Volumes of the gas at both ends, one taken from the other."""
    work = precharge * size
    return work / least - work / most


@calculation(
    source="Boyle's law for a cycle longer than about 3 minutes; limits of the pressures: "
    "accumulator maker's selection notes, for a bladder",
    not_covered="a fast cycle, in which the gas cools and gives less (about a fifth less with "
    "dry nitrogen); a piston or diaphragm, whose maker gives other limits",
    second=Second(_volume_by_ends, "0.001 %", "volumes of the gas at both ends"),
    examples=(
        Example(
            {
                "size": "1.0 L",
                "precharge": "50 bar a",
                "least": "60 bar a",
                "most": "120 bar a",
            },
            {"": "0.4167 L"},
            "V₀ (p₀/p₁ − p₀/p₂) in closed form (from memory)",
        ),
        Example(
            {
                "size": "10 L",
                "precharge": "1000 psi a",
                "least": "1200 psi a",
                "most": "3000 psi a",
            },
            {"": "5.0 L"},
            "well-control course: a bottle of 10, from 3000 down to 1200 over 1000, gives 5.0",
        ),
    ),
)
def accumulator_volume(
    size: Annotated[Amount, given("V₀", "L", "size of the gas side", above="0", at_most="500")],
    precharge: Annotated[Amount, given("p₀", "bar a", "precharge", at_least="1", at_most="300")],
    least: Annotated[
        Amount, given("p₁", "bar a", "least working pressure", at_least="1", at_most="700")
    ],
    most: Annotated[
        Amount, given("p₂", "bar a", "greatest working pressure", at_least="1", at_most="700")
    ],
) -> Annotated[Amount, gives("ΔV", "L", "fluid that it gives", to="0.01", safe="down")]:
    """Fluid that a bladder accumulator gives between two pressures, slowly, in absolute pressures.

    The least pressure is at least 1.1, the greatest at most 4 times the precharge.
    """
    charge, low, high = (above_vacuum(each) for each in (precharge, least, most))
    room = step(
        low / charge, "r₁", "", "least over precharge", at_least="1.1",
        wrong="the least pressure is {value} of the precharge: the bladder meets its valve",
    )  # fmt: skip
    pressed = step(
        high / charge, "r₂", "", "greatest over precharge", at_most="4",
        wrong="the greatest pressure is {value} of the precharge: the bladder is crushed",
    )  # fmt: skip
    step(
        between(most, least), "Δp", "bar", "between the pressures", above="0",
        wrong="the greatest pressure is above the least by {value}",
    )  # fmt: skip
    given_out: Amount = size / room - size / pressed
    return given_out
