"""Points on a scale: what may be done with them, and that the working shows it."""

from __future__ import annotations

from functools import cache

import pytest

from generator.findings import Refusal
from generator.quantities.amount import leaf
from generator.quantities.functions import exponential, pi_times
from generator.quantities.points import (
    above_absolute_zero,
    above_vacuum,
    as_gauge,
    between,
    scale_of,
)
from generator.quantities.spread import moving
from generator.quantities.text import read_amount
from generator.quantities.units import unit


def test_two_temperatures_differ_by_kelvin() -> None:
    have = between(read_amount("17.9 °C"), read_amount("17.6 °C"))
    assert have.value == pytest.approx(0.3)
    assert have.unit.text == "K"
    assert have.numbers == "17.9 °C − 17.6 °C"


@pytest.mark.parametrize(
    ("one", "other", "pascal", "shown"),
    [
        ("71 bar g", "70 bar g", 1e5, "bar"),
        ("3 bar a", "1 bar a", 2e5, "bar"),
        ("1 bar g", "100 kPa g", 0.0, "bar"),
    ],
)
def test_two_pressures_differ_by_a_pressure(
    one: str, other: str, pascal: float, shown: str
) -> None:
    have = between(read_amount(one), read_amount(other))
    assert have.value == pytest.approx(pascal, abs=1e-6)
    assert have.unit.text == shown


@pytest.mark.parametrize(
    ("one", "other"),
    [("1 bar g", "1 bar a"), ("20 °C", "3 K"), ("2 bar", "1 bar"), ("3 K", "1 °C")],
)
def test_what_is_not_on_one_scale_is_refused(one: str, other: str) -> None:
    with pytest.raises(Refusal) as caught:
        between(read_amount(one), read_amount(other))
    assert caught.value.code == "unit"


@cache
def pint_registry():
    """pint with gauge pressures as it has °C: a scale with an offset and a unit of differences."""
    import pint

    registry = pint.UnitRegistry()
    registry.define("bar_g = 100000 * pascal; offset: 101325")
    registry.define(f"psi_g = {unit('psi').factor!r} * pascal; offset: 101325")
    return registry


PINT = {
    "°C": "degC",
    "bar g": "bar_g",
    "psi g": "psi_g",
    "K": "delta_degC",
    "bar": "delta_bar_g",
    "psi": "delta_psi_g",
}


def in_pint(text: str):
    number, _, name = text.partition(" ")
    return pint_registry().Quantity(float(number), PINT[name])


def named(text: str, symbol: str):
    read = read_amount(text)
    return leaf(read, symbol, read.unit)


SUMS = [
    ("90 bar g", "+", "2 bar", "bar g"),
    ("90 bar g", "-", "2 bar", "bar g"),
    ("90 bar g", "+", "30 psi", "bar g"),
    ("1000 psi g", "-", "2 bar", "psi g"),
    ("2 bar", "+", "90 bar g", "bar g"),
    ("20 °C", "+", "12.5 K", "°C"),
    ("20 °C", "-", "12.5 K", "°C"),
    ("12.5 K", "+", "20 °C", "°C"),
    ("32 °C", "-", "20 °C", "K"),
    ("90 bar g", "-", "60 bar g", "bar"),
    ("90 bar g", "-", "1000 psi g", "bar"),
]


@pytest.mark.parametrize(("one", "sign", "other", "shown"), SUMS)
def test_points_and_differences_are_added_as_pint_adds_them(
    one: str, sign: str, other: str, shown: str
) -> None:
    a, b, c, d = named(one, "a"), named(other, "b"), in_pint(one), in_pint(other)
    have, theirs = (a + b, c + d) if sign == "+" else (a - b, c - d)
    assert have.unit.text == shown
    wanted = theirs.to(PINT[shown]).magnitude
    assert have.number() == pytest.approx(wanted, abs=1e-9)
    assert have.formula == f"a {'+' if sign == '+' else '−'} b"
    assert have.numbers.startswith(one)


@pytest.mark.parametrize(
    ("one", "sign", "other"),
    [
        ("90 bar g", "+", "60 bar g"),
        ("20 °C", "+", "20 °C"),
        ("2 bar", "-", "90 bar g"),
        ("12 K", "-", "20 °C"),
        ("90 bar g", "-", "2 bar a"),
        ("90 bar g", "+", "2 bar a"),
        ("90 bar g", "-", "20 °C"),
        ("90 bar g", "+", "3 K"),
        ("20 °C", "-", "2 bar"),
        ("2 mm", "+", "90 bar g"),
    ],
)
def test_what_makes_neither_a_point_nor_a_difference_is_refused(
    one: str, sign: str, other: str
) -> None:
    a, b = named(one, "a"), named(other, "b")
    with pytest.raises(Refusal) as caught:
        _ = a + b if sign == "+" else a - b
    assert caught.value.code == "unit"
    assert caught.value.right


@pytest.mark.parametrize(
    ("shown", "step", "prints"),
    [
        ("bar g", "bar", "bar g"),
        ("bar g", "psi", "psi g"),
        ("bar a", "kPa", "kPa a"),
        ("bar g", "bar g", "bar g"),
        ("bar", "bar g", "bar"),
        ("°C", "K", "°C"),
        ("K", "°C", "K"),
        ("mm", "in", "in"),
        ("bar g", "mm", "mm"),
        ("bar g", "MPa", "MPa"),
    ],
)
def test_a_step_prints_a_value_on_its_own_scale(shown: str, step: str, prints: str) -> None:
    assert scale_of(unit(shown), unit(step)) == prints


def test_a_temperature_stands_above_absolute_zero() -> None:
    have = above_absolute_zero(read_amount("18 °C"))
    assert (have.value, have.unit.text) == (pytest.approx(291.15), "K")
    assert have.numbers == "(18 °C + 273.15 K)"
    with pytest.raises(Refusal):
        above_absolute_zero(read_amount("3 K"))


def test_an_absolute_pressure_is_a_difference_to_a_vacuum() -> None:
    have = above_vacuum(read_amount("1.013 bar a"))
    assert (have.unit.text, have.numbers) == ("bar", "1.013 bar")
    assert have.value == pytest.approx(101300)
    for text in ("1.013 bar g", "1.013 bar"):
        with pytest.raises(Refusal):
            above_vacuum(read_amount(text))


def test_a_difference_becomes_a_gauge_pressure() -> None:
    assert as_gauge(read_amount("2 bar")).unit == unit("bar g")
    assert as_gauge(read_amount("29 psi")).unit == unit("psi g")
    product = read_amount("2 bar") * read_amount("3 K") / read_amount("1 K")
    have = as_gauge(product)
    assert (have.value, have.unit.text) == (pytest.approx(6e5), "bar g")


def test_on_floats_they_are_base_units_already() -> None:
    assert between(300.0, 290.0) == 10.0
    assert [f(5.0) for f in (above_absolute_zero, above_vacuum, as_gauge)] == [5.0, 5.0, 5.0]


def test_pi_times() -> None:
    have = pi_times(read_amount("2 mm"))
    assert have.value == pytest.approx(0.006283185307)
    assert have.numbers == "π · 2 mm"
    assert pi_times(1.0) == pytest.approx(3.14159265359)


def test_exponential() -> None:
    # e = 2.718281828 (from memory).
    have = exponential(read_amount("1 ratio"))
    assert have.value == pytest.approx(2.718281828)
    assert have.numbers == "exp(1)"
    with pytest.raises(Refusal):
        exponential(read_amount("1 mm"))
    spread = exponential(moving("x", 0.0, 1.0))
    assert spread.span == pytest.approx((1.0, 2.718281828))
    assert spread.slope("x") == pytest.approx((1.0, 2.718281828))
