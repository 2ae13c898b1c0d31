"""A number and its second unit in; the bracket out, its conversion checked against pint."""

from __future__ import annotations

import re

import pint
import pytest

from generator.calculation import Gives
from generator.computing.second_unit import in_second_unit, result_in_second_unit
from generator.findings import Refusal
from generator.quantities.text import read_amount

PINT = pint.UnitRegistry()
IN_PINT = {"lbf·in": "lbf*inch", "N·m": "newton*meter", "in": "inch", "°": "degree", "lbf·ft": "lbf*foot",
           "bar g": "bar", "psi g": "psi", "bar": "bar", "psi": "psi", "kN": "kilonewton", "cm³": "cm**3", "in³": "inch**3"}  # fmt: skip
PAIRS = [("lbf·in", "N·m"), ("N·m", "lbf·in"), ("mm", "in"), ("in", "mm"), ("bar g", "psi g"), ("psi", "bar"),
         ("kN", "lbf"), ("cm³", "in³"), ("L", "cm³"), ("lbf·ft", "N·m")]  # fmt: skip


@pytest.mark.parametrize(("own", "second"), PAIRS)
@pytest.mark.parametrize("number", ["0.036", "1", "56.7", "1234.5"])
@pytest.mark.parametrize("to", ["0.01", "0.1", "1"])
def test_the_bracket_is_the_unrounded_number_in_the_other_unit(own, second, number, to):
    amount = read_amount(f"{number} {own}")
    text = result_in_second_unit(Gives("x", own, "a number", to), amount, second)
    match = re.fullmatch(r" \(([0-9.]+) (.+)\)", text)
    assert match is not None and match[2] == second
    truth = PINT.Quantity(float(number), IN_PINT.get(own, own)).to(IN_PINT.get(second, second)).m
    step = PINT.Quantity(float(to), IN_PINT.get(own, own)).to(IN_PINT.get(second, second)).m
    assert abs(float(match[1]) - truth) <= step / 2 * (1 + 1e-9)


@pytest.mark.parametrize(("safe", "shown"), [("up", "6.41"), ("down", "6.40"), ("nearest", "6.41")])
def test_the_safe_side_holds_in_both_units(safe, shown):
    """56.7 lbf·in is 6.4062... N·m."""
    fact = Gives("S", "lbf·in", "a torque", "0.1", safe)
    assert result_in_second_unit(fact, read_amount("56.7 lbf·in"), "N·m") == f" ({shown} N·m)"


def test_limits_of_a_given_never_grow_in_the_other_unit():
    """0.874 to 0.954 mm is 0.0344094 to 0.0375591 in."""
    assert in_second_unit(read_amount("0.914 ± 0.04 mm"), "in") == " (0.034410 to 0.037559 in)"


def test_a_round_given_keeps_four_figures():
    assert in_second_unit(read_amount("25 mm"), "in") == " (0.9843 in)"


def test_its_own_unit_is_not_told_twice():
    assert in_second_unit(read_amount("25 mm"), "mm") == ""
    assert (
        result_in_second_unit(Gives("x", "mm", "a length", "0.1"), read_amount("25 mm"), "mm") == ""
    )


@pytest.mark.parametrize("second", ["N", "bar a", "°"])
def test_another_kind_is_refused(second):
    with pytest.raises(Refusal):
        in_second_unit(read_amount("25 bar g"), second)
