"""Amounts in a formula in; the value, the unit and the two lines that say what ran, out."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.findings import Refusal
from generator.quantities.amount import Amount, leaf
from generator.quantities.functions import above_ambient, arc, circle_area, cos, sin, step, tan
from generator.quantities.text import read_amount, read_plain
from generator.quantities.units import unit


def amount(symbol: str, typed: str) -> Amount:
    """A named number as a formula has it."""
    read = read_amount(typed)
    return leaf(read, symbol, read.unit)


T, R, A = amount("T", "0.914 mm"), amount("R", "3.2 mm"), amount("A", "90°")
INCH, FORCE, RATIO = amount("E", "1 in"), amount("F", "500 N"), amount("k", "0.33 ratio")


def test_the_lines_are_what_ran():
    made = (R + RATIO * T) * 2
    assert made.formula == "(R + k · T) · 2"
    assert made.numbers == "(3.2 mm + 0.33 · 0.914 mm) · 2"
    assert made.number() == pytest.approx((3.2 + 0.33 * 0.914) * 2)


def test_another_operator_is_another_line():
    assert (R + T).formula == "R + T"
    assert (R - T).formula == "R − T"
    assert (R * T).formula == "R · T"
    assert (R / T).formula == "R / T"
    assert (R**2).formula == "R²"


def test_brackets_stand_where_they_are_needed_and_nowhere_else():
    assert (R - (T - INCH)).formula == "R − (T − E)"
    assert (R - T - INCH).formula == "R − T − E"
    assert (FORCE / (R * T)).formula == "F / (R · T)"
    assert (FORCE / R * T).formula == "F / R · T"
    assert (FORCE * (R / T)).formula == "F · R / T"
    assert ((R + T) ** 2).formula == "(R + T)²"


def test_a_sum_over_two_units_shows_the_factor_between_them():
    made = R + INCH
    assert made.numbers == "3.2 mm + 1 in · 25.4 mm/in"
    assert made.number() == pytest.approx(3.2 + 25.4)
    assert made.unit.text == "mm"


def test_units_follow_from_what_ran():
    assert (R * T).unit.dimension == unit("mm²").dimension
    assert (FORCE / (R * T)).unit.dimension == unit("MPa").dimension
    assert (R / T).unit.text == ""
    assert (R**2).unit.text == "mm²"
    assert (R**3).unit.text == "mm³"
    assert (R / T * 1).unit.dimension == unit("").dimension


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: R + A,
        lambda: RATIO + A,
        lambda: A - RATIO,
        lambda: R + FORCE,
        lambda: R + R * R,
        lambda: (R / T) + R,
        lambda: R.in_unit(unit("N")),
        lambda: A.in_unit(unit("")),
        lambda: sin(RATIO),
        lambda: tan(R),
        lambda: arc(RATIO),
        lambda: leaf(R, "R", unit("°")),
    ],
)
def test_kinds_of_quantity_are_never_mixed(wrong):
    with pytest.raises(Refusal) as caught:
        wrong()
    assert caught.value.code == "unit"


POINTS = [amount("t", "20 °C"), amount("p", "70 bar g"), amount("q", "2 bar a")]


@pytest.mark.parametrize("point", POINTS, ids=lambda point: point.unit.text)
@pytest.mark.parametrize(
    "used",
    [
        lambda p: p * 2,
        lambda p: 2 * p,
        lambda p: p / 2,
        lambda p: R * p,
        lambda p: R / p,
        lambda p: p**2,
        lambda p: p + p,
        lambda p: amount("x", "1 K") - p,
        lambda p: amount("x", "1 bar") - p,
    ],
)
def test_a_point_on_a_scale_is_never_multiplied_nor_added_to_another(point, used):
    with pytest.raises(Refusal, match="point on a scale"):
        used(point)


def test_a_gauge_pressure_pushes_with_its_difference_to_ambient():
    difference = above_ambient(POINTS[1])
    assert difference.unit.text == "bar"
    assert difference.numbers == "70 bar"
    assert difference.value == 70e5
    for other in (POINTS[2], amount("p", "70 bar"), R):
        with pytest.raises(Refusal, match="gauge pressure"):
            above_ambient(other)


@pytest.mark.parametrize(
    "bare",
    [
        lambda: R * 2.5,
        lambda: 2.5 * R,
        lambda: R + 2,
        lambda: 2 - R,
        lambda: R / 0.5,
        lambda: R * True,
        lambda: R + 0.1,
    ],
)
def test_a_bare_number_in_a_formula_is_refused(bare):
    with pytest.raises(TypeError):
        bare()


@pytest.mark.parametrize(
    "branch",
    [lambda: bool(R), lambda: R < T, lambda: R > T, lambda: R <= 1, lambda: max(R, T)],
)
def test_a_branch_in_a_formula_is_refused(branch):
    with pytest.raises(TypeError, match="no branches"):
        branch()


def test_division_by_nothing_is_refused_by_its_formula():
    with pytest.raises(Refusal, match="R − R is zero"):
        T / (R - R)


def test_functions_of_an_angle():
    # 30° and 60° and 45°: values that are known without a table.
    assert sin(amount("A", "30°")).value == pytest.approx(0.5)
    assert cos(amount("A", "60°")).value == pytest.approx(0.5)
    assert tan(amount("A", "45°")).value == pytest.approx(1)
    assert tan(A / 2).formula == "tan(A / 2)"
    assert tan(A / 2).numbers == "tan(90° / 2)"
    assert arc(amount("A", "180°")).value == pytest.approx(math.pi)
    assert arc(A).formula == "(A · π/180°)"
    for function in (sin, cos, tan):
        assert function(0.3) == getattr(math, function.__name__)(0.3)


def test_area_of_a_circle():
    area = circle_area(amount("D", "20 mm"))
    assert area.in_unit(unit("mm²")).number() == pytest.approx(math.pi * 10**2)
    assert area.formula == "π/4 · D²"
    assert area.numbers == "π/4 · (20 mm)²"


def test_a_step_is_a_named_line_and_then_a_name():
    named = step(R + T, "R_o", "mm", "outside radius")
    assert (named * 2).formula == "R_o · 2"
    (line,) = named.steps
    assert (line.symbol, line.meaning, line.formula) == ("R_o", "outside radius", "R + T")
    assert line.numbers == "3.2 mm + 0.914 mm"
    assert line.result == "4.114 mm"
    assert (named * 2 + R).steps == (line,)


def test_a_step_refuses_beyond_its_limits_and_not_at_them():
    assert step(R, "R", "mm", "radius", at_least="3.2", at_most="3.2").number() == pytest.approx(
        3.2
    )
    for limits in ({"at_least": "3.21"}, {"at_most": "3.19"}, {"above": "3.2"}):
        with pytest.raises(Refusal) as caught:
            step(R, "R", "mm", "radius", **limits)
        assert caught.value.code == "range"
        assert next(iter(limits.values())) in caught.value.right


def test_a_percentage_stands_for_the_plain_number_it_means():
    made = amount("s", "30 %") * amount("T", "60 lbf·in")
    assert made.numbers == "30 % · 60 lbf·in"
    assert made.number() == pytest.approx(18)
    assert made.unit.text == "lbf·in"


# --- any formula: the printed line, worked out as Python arithmetic, gives the value --------------

VALUES = {"a": "3", "b": "-2.5", "c": "0.75", "d": "-4", "e": "12"}
LEAVES = st.sampled_from(sorted(VALUES))
TREES = st.recursive(
    LEAVES, lambda inner: st.tuples(st.sampled_from("+-*/²"), inner, inner), max_leaves=8
)


def _amount_of(tree) -> Amount:
    if isinstance(tree, str):
        return leaf(read_plain(VALUES[tree]), tree, unit(""))
    sign, one, other = tree[0], _amount_of(tree[1]), _amount_of(tree[2])
    if sign == "²":
        return one**2
    if sign == "/":
        return one / other
    return one + other if sign == "+" else one - other if sign == "-" else one * other


def _worked(line: str, names: dict[str, float]) -> float:
    text = re.sub(r"²", "**2", line).replace("·", "*").replace("−", "-")
    return float(eval(text, {"__builtins__": {}}, names))


@given(TREES)
def test_a_pocket_calculator_gets_the_value_from_either_line(tree):
    try:
        made = _amount_of(tree)
    except Refusal:
        return  # a division by nothing
    floats = {name: float(value) for name, value in VALUES.items()}
    wanted = pytest.approx(made.value, rel=1e-9, abs=1e-9)
    assert _worked(made.numbers, {}) == wanted
    assert _worked(made.formula, floats) == wanted
