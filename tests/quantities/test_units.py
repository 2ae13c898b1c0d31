"""Every unit of the house against pint, factor by factor; the gauges against printed tables."""

from __future__ import annotations

import math
import re
from functools import cache

import pytest

from generator.findings import Refusal
from generator.quantities.text import SWG, read_amount
from generator.quantities.units import ANGLE, NONE, POINTS, SIMPLE, unit

# Our text -> pint's name. rev is a count here and 2π rad in pint, so it is told apart below.
PINT = {
    "m": "meter", "mm": "millimeter", "cm": "centimeter", "µm": "micrometer", "in": "inch",
    "ft": "foot", "°": "degree", "rad": "radian", "s": "second", "min": "minute", "h": "hour",
    "d": "day", "kg": "kilogram", "g": "gram", "lb": "pound", "N": "newton", "kN": "kilonewton",
    "lbf": "force_pound", "Pa": "pascal", "kPa": "kilopascal", "MPa": "megapascal",
    "GPa": "gigapascal", "bar": "bar", "psi": "psi", "ksi": "kip / inch ** 2", "L": "liter", "K": "kelvin", "%": "percent",
    "ratio": "dimensionless", "count": "dimensionless", "1": "dimensionless",
    "rev": "dimensionless", "rpm": "1 / minute",
}  # fmt: skip
COMPOUNDS = (
    "lbf·in", "lbf·ft", "N·m", "N·mm", "kN·m", "N/mm²", "kN/mm", "kN/m", "lbf/in", "L/min",
    "cm³/s", "cm³", "mm³", "m³", "mm²", "cm²", "m²", "in²", "in³", "ft²", "1/°", "1/mm", "1/K",
    "1/min", "mm/rev", "mm/min", "m/s", "m/min", "N/K", "mm/K", "lbf·s", "kg/m³", "g/cm³", "N/°",
    "N·m/°", "°/min", "mm/°", "lb/ft", "N·s/m", "mm/h", "psi/min", "bar/min", "rev/min",
)  # fmt: skip
NAMES = ("[length]", "[mass]", "[time]", "[temperature]")


@cache
def pint_registry():
    import pint

    return pint.UnitRegistry()


def in_pint(text: str):
    """The text of a unit as a pint quantity: each simple unit by its name."""
    if text in PINT:
        return pint_registry().Quantity(1, PINT[text]).to_base_units()
    above, _, below = text.partition("/")
    made = pint_registry().Quantity(1)
    for part, sign in ((above, 1), (below, -1)):
        for word in filter(None, part.split("·")):
            power = {"²": 2, "³": 3}.get(word[-1], 1)
            made *= in_pint(word.rstrip("²³")) ** (sign * power)
    return made.to_base_units()


@pytest.mark.parametrize("text", [*SIMPLE, *COMPOUNDS])
def test_factor_and_dimension_are_those_of_pint(text):
    ours, theirs = unit(text), in_pint(text)
    assert ours.factor == pytest.approx(theirs.magnitude, rel=1e-14)
    powers = [theirs.dimensionality.get(name, 0) for name in NAMES]
    assert list(ours.dimension[:4]) == powers
    assert ours.text == text


@pytest.mark.parametrize("text", [*SIMPLE, *COMPOUNDS])
def test_only_angles_have_the_dimension_of_an_angle(text):
    """pint has no such dimension: each ° and rad above the line counts one, below it one less."""
    above, _, below = text.partition("/")
    counted = [len(re.findall(r"°|rad", part)) for part in (above, below)]
    assert unit(text).dimension[4] == counted[0] - counted[1]


@pytest.mark.parametrize("celsius", [-40, 0, 20, 37.5, 180])
def test_celsius_is_a_point_on_the_kelvin_scale(celsius):
    theirs = pint_registry().Quantity(celsius, "degC").to("kelvin").magnitude
    assert unit("°C").to_base(celsius) == pytest.approx(theirs, rel=1e-14)
    assert unit("°C").from_base(unit("°C").to_base(celsius)) == pytest.approx(celsius, abs=1e-12)


@pytest.mark.parametrize("text", [t for t in POINTS if t != "°C"])
def test_gauge_and_absolute_pressures_are_two_scales_of_one_unit(text):
    simple, _, letter = text.partition(" ")
    assert unit(text).factor == unit(simple).factor
    assert unit(text).point == {"g": "gauge", "a": "absolute"}[letter]
    assert unit(simple).point == ""


@pytest.mark.parametrize("text", ["", "MM", "mm^2", "N/mm/s", "N/(mm·s)", "·mm", "mm·", "/mm", "%·mm", "°C/min", "bar g/min", "mm⁴"])  # fmt: skip
def test_what_is_no_unit(text):
    if text == "":
        assert unit(text).dimension == NONE
        return
    with pytest.raises(Refusal, match="not a unit"):
        unit(text)


# A prefix is told as the factor it is: never the unit without it, which is another amount.
NEARLY = [
    ("mbar", "bar, with 1 mbar written as 0.001 bar"), ("hPa", "Pa, with 1 hPa written as 100 Pa"),
    ("km", "m, with 1 km written as 1000 m"), ("Mpsi", "psi, with 1 Mpsi written as 1000000 psi"),
    ("mL", "L, with 1 mL written as 0.001 L"), ("kpsi", "ksi"), ("PSI", "psi"), ("KSI", "ksi"),
    ("Mpa", "MPa"), ("Bar", "bar"), ("MM", "mm"), ("psf", "psi, with 144 psf written as 1 psi"),
    ("kgf", "N, with 1 kgf written as 9.80665 N"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "right"), NEARLY)
def test_what_is_meant_by_what_is_nearly_a_unit(text, right):
    with pytest.raises(Refusal) as caught:
        unit(text)
    assert caught.value.right == f"did you mean {right}?"


@pytest.mark.parametrize("right", [right for _, right in NEARLY if "written as" in right])
def test_a_factor_that_is_told_is_that_of_pint(right):
    many, strange, amount, simple = _told(right)
    there = {"Mpsi": "megapsi", "psf": "force_pound / foot ** 2"}.get(strange, strange)
    theirs = pint_registry().Quantity(float(many), there).to(PINT[simple]).magnitude
    assert theirs == pytest.approx(float(amount), rel=1e-12)


def _told(right: str) -> tuple[str, ...]:
    """ "bar, with 1 mbar written as 0.001 bar" -> 1, mbar, 0.001, bar"""
    found = re.search(r"with (\S+) (\S+) written as (\S+) (\S+)", right)
    assert found
    return found.groups()


def test_an_angle_is_no_plain_number():
    assert unit("°").dimension == ANGLE != NONE
    assert unit("°").factor == pytest.approx(math.pi / 180)


# British Imperial Standard Wire Gauge, millimetres as workshop tables print them.
SWG_IN_MM = {
    6: "4.877", 7: "4.470", 8: "4.064", 9: "3.658", 10: "3.251", 11: "2.946", 12: "2.642",
    13: "2.337", 14: "2.032", 15: "1.829", 16: "1.626", 17: "1.422", 18: "1.219", 19: "1.016",
    20: "0.914", 21: "0.813", 22: "0.711", 23: "0.610", 24: "0.559", 25: "0.508", 26: "0.457",
    27: "0.417", 28: "0.376", 29: "0.345", 30: "0.315",
}  # fmt: skip

# American wire gauge, millimetres: ASTM B258, nominal diameters at 20 °C.
AWG_IN_MM = {
    0: "8.251", 2: "6.544", 4: "5.189", 6: "4.115", 8: "3.264", 10: "2.588", 12: "2.053",
    14: "1.628", 16: "1.291", 18: "1.024", 20: "0.8118", 22: "0.6438", 24: "0.5106", 26: "0.4049",
    28: "0.3211", 30: "0.2546", 36: "0.1270",
}  # fmt: skip


def _within_its_last_digit(value: float, printed: str) -> bool:
    return abs(value - float(printed)) <= 0.51 * 10 ** -len(printed.partition(".")[2])


def test_every_row_of_the_imperial_gauge():
    assert set(SWG) == set(SWG_IN_MM)
    for number, printed in SWG_IN_MM.items():
        value = read_amount(f"{number} SWG").value * 1000
        assert _within_its_last_digit(value, printed), (number, value, printed)


@pytest.mark.parametrize(("number", "printed"), AWG_IN_MM.items())
def test_the_american_gauge_is_what_astm_b258_prints(number, printed):
    assert _within_its_last_digit(read_amount(f"{number} AWG").value * 1000, printed)
