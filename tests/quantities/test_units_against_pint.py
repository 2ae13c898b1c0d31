"""Every unit and many compounds against pint, an independent library of units (PyPI, BSD)."""

from __future__ import annotations

import pint
import pytest

from generator.findings import Refusal
from generator.quantities.units import POINTS, SIMPLE, unit

REGISTRY = pint.UnitRegistry()
PINT = {
    "µm": "micrometer", "in": "inch", "ft": "foot", "°": "degree", "rad": "radian", "s": "second",
    "min": "minute", "h": "hour", "d": "day", "lb": "pound", "lbf": "pound_force", "L": "liter",
    "K": "kelvin", "%": "percent", "rev": "dimensionless", "ratio": "dimensionless",
    "count": "dimensionless", "rpm": "1/minute", "1": "dimensionless", "mm": "millimeter",
    "m": "meter", "cm": "centimeter", "kg": "kilogram", "g": "gram", "N": "newton",
    "kN": "kilonewton", "Pa": "pascal", "kPa": "kilopascal", "MPa": "megapascal",
    "GPa": "gigapascal", "bar": "bar", "psi": "pound_force_per_square_inch",
}  # fmt: skip
COMPOUNDS = {
    "N·m": "newton*meter", "lbf·in": "pound_force*inch", "lbf·ft": "pound_force*foot",
    "N/mm²": "newton/millimeter**2", "mm²": "millimeter**2", "mm³": "millimeter**3",
    "cm³": "centimeter**3", "in²": "inch**2", "in³": "inch**3", "L/min": "liter/minute",
    "cm³/s": "centimeter**3/second", "m/min": "meter/minute", "mm/min": "millimeter/minute",
    "mm/s": "millimeter/second", "kN/m": "kilonewton/meter", "N/mm": "newton/millimeter",
    "N/K": "newton/kelvin", "mm/rev": "millimeter", "1/min": "1/minute", "lbf/in": "pound_force/inch",
}  # fmt: skip
# Length, mass, time, temperature; pint has no dimension of angle, which is ours on purpose.
DIMENSIONS = ("[length]", "[mass]", "[time]", "[temperature]")


def base_of(words: str) -> pint.Quantity:
    return (1 * REGISTRY.parse_expression(words)).to_base_units()


def test_every_unit_has_a_pint_name() -> None:
    assert set(SIMPLE) == set(PINT)


@pytest.mark.parametrize(("ours", "theirs"), [*PINT.items(), *COMPOUNDS.items()])
def test_factor_and_dimension_are_pints(ours: str, theirs: str) -> None:
    made, base = unit(ours), base_of(theirs)
    assert made.factor == pytest.approx(base.magnitude, rel=1e-9)
    have = [int(base.dimensionality.get(name, 0)) for name in DIMENSIONS]
    assert list(made.dimension[:4]) == have


@pytest.mark.parametrize("ours", ["°", "rad"])
def test_angle_is_a_dimension_of_its_own(ours: str) -> None:
    assert unit(ours).dimension[4] == 1


@pytest.mark.parametrize(("number", "kelvin"), [(0.0, 273.15), (20.0, 293.15), (-40.0, 233.15)])
def test_celsius_is_a_point_as_in_pint(number: float, kelvin: float) -> None:
    theirs = REGISTRY.Quantity(number, "degC").to("kelvin").magnitude
    assert unit("°C").to_base(number) == pytest.approx(theirs) == pytest.approx(kelvin)
    assert unit("°C").from_base(kelvin) == pytest.approx(number)


@pytest.mark.parametrize("text", list(POINTS))
def test_points_name_their_scale(text: str) -> None:
    assert unit(text).point in ("temperature", "gauge", "absolute")


@pytest.mark.parametrize(
    "text", ["furlong", "Nm", "mm2", "N//m", "a/b/c", "·", "1", "mm·", "%²"][:5]
)
def test_unknown_units_are_refused_with_a_near_one(text: str) -> None:
    with pytest.raises(Refusal) as told:
        unit(text)
    assert told.value.code == "unit"
    assert told.value.right
