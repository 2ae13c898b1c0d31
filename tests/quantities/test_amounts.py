"""Amounts compute, and what they print is what ran."""

from __future__ import annotations

import math

import pytest

from generator.findings import Refusal
from generator.quantities.amount import leaf
from generator.quantities.functions import above_ambient, arc, circle_area, sin, step, tan
from generator.quantities.rounding import plain, rounded
from generator.quantities.text import read_amount
from generator.quantities.units import unit


def named(symbol: str, text: str):
    amount = read_amount(text)
    return leaf(amount, symbol, amount.unit)


T, R, A = named("T", "0.914 mm"), named("R", "3.2 mm"), named("A", "90°")


def test_a_sum_of_products_prints_itself() -> None:
    made = (R + T) * 2 - T / 4
    assert made.formula == "(R + T) · 2 − T / 4"
    assert made.numbers == "(3.2 mm + 0.914 mm) · 2 − 0.914 mm / 4"
    assert made.number() == pytest.approx((3.2 + 0.914) * 2 - 0.914 / 4)


def test_brackets_stand_where_they_must() -> None:
    assert (R - (R - T)).formula == "R − (R − T)"
    assert (R / (R / T)).formula == "R / (R / T)"
    assert ((R + T) ** 2).formula == "(R + T)²"
    assert (R**2).numbers == "(3.2 mm)²"


def test_other_units_bring_their_factor_along() -> None:
    made = named("p", "70 bar") * circle_area(named("D", "50 mm"))
    force = made.in_unit(unit("kN"))
    assert force.numbers == "70 bar · (π/4 · (50 mm)²) · 0.0001 kN/(bar·mm²)" or (
        force.numbers == "70 bar · π/4 · (50 mm)² · 0.0001 kN/(bar·mm²)"
    )
    assert force.number() == pytest.approx(7e6 * math.pi / 4 * 0.05**2 / 1000)
    assert (R + named("x", "1 in")).number() == pytest.approx(3.2 + 25.4)
    assert "25.4 mm/in" in (R + named("x", "1 in")).numbers


@pytest.mark.parametrize(
    "act",
    [
        lambda: R + A,
        lambda: R * R + R,
        lambda: arc(A) + A,
        lambda: tan(R),
        lambda: sin(arc(A)),
        lambda: read_amount("20 °C") * 2,
        lambda: read_amount("70 bar g") + read_amount("1 bar"),
        lambda: above_ambient(read_amount("70 bar a")),
        lambda: R.in_unit(unit("°")),
        lambda: R / (R - R),
    ],
)
def test_what_makes_no_sense_is_refused(act) -> None:
    with pytest.raises(Refusal):
        act()


@pytest.mark.parametrize("act", [lambda: R * 0.0078, lambda: R + 1, lambda: 1.5 * R, lambda: bool(R), lambda: R > T])
def test_bare_numbers_and_branches_are_refused(act) -> None:
    with pytest.raises(TypeError):
        act()


def test_a_named_step_is_kept_and_limited() -> None:
    ratio = step(R / T, "R/T", "", "radius over thickness", at_least="0.5", at_most="10")
    assert ratio.formula == "R/T"
    assert [s.formula for s in ratio.steps] == ["R / T"]
    with pytest.raises(Refusal, match="only 3.5"):
        step(R / T, "R/T", "", "ratio", at_most="3", wrong="only {value}")


def test_a_percentage_is_the_number_it_means() -> None:
    share = named("s", "30 %")
    made = share * named("T", "60 lbf·in") + named("D", "8 lbf·in")
    assert made.in_unit(unit("lbf·in")).numbers == "30 % · 60 lbf·in + 8 lbf·in"
    assert made.number() == pytest.approx(26)


@pytest.mark.parametrize(
    ("number", "to", "safe", "text"),
    [
        (1.1 * 3, "0.1", "up", "3.3"),
        (2.5, "1", "nearest", "3"),
        (-2.5, "1", "nearest", "−3"),
        (-0.001, "0.01", "nearest", "0.00"),
        (56.666, "0.1", "down", "56.6"),
        (56.61, "0.1", "up", "56.7"),
        (7.4, "0.5", "nearest", "7.5"),
        (123.0, "5", "down", "120"),
        (0.125, "0.01", "nearest", "0.13"),
    ],
)
def test_rounding_is_once_and_to_the_safe_side(number, to, safe, text) -> None:
    assert rounded(number, to, safe) == text


def test_plain_numbers_have_no_exponent() -> None:
    assert plain(0.00001234) == "0.00001234"
    assert plain(1234567.0) == "1234567"
