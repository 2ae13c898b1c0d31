"""Points on a scale: what may be done with them, and that the working shows it."""

from __future__ import annotations

import pytest

from generator.findings import Refusal
from generator.quantities.functions import exponential, pi_times
from generator.quantities.points import above_absolute_zero, above_vacuum, as_gauge, between
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
