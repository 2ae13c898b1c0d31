"""Jacks against what is printed elsewhere; the source stands beside each check."""

from __future__ import annotations

import math

import pytest

from tests.calculations.asking import answer, half_a_digit

# The bore of a piston of that area, for examples that print the area.
BORE_OF_2 = f"{math.sqrt(2 * 4 / math.pi):.9f} in"
BORE_OF_8 = f"{math.sqrt(8 * 4 / math.pi):.9f} in"
BORE_OF_20 = f"{math.sqrt(20 * 4 / math.pi):.9f} in"


def test_volume_of_a_piston() -> None:
    # TM 1-1500-204-23-2 paragraph 2: 8 in2 by 10 in is 80 in3.
    have = answer("jack_volume", "in³", "push", bore=BORE_OF_8, rod="0 in", stroke="10 in")
    assert have == pytest.approx(80, rel=1e-7)


@pytest.mark.parametrize(
    ("result", "printed"), [("push", "589.05"), ("pull", "404.32"), ("difference", "184.73")]
)
def test_volume_of_a_jack_with_a_rod(result: str, printed: str) -> None:
    # V = π D² s/4, π (D² − d²) s/4 and π d² s/4 in closed form (from memory): 50, 28, 300 mm.
    jack = {"bore": "50 mm", "rod": "28 mm", "stroke": "300 mm"}
    have = answer("jack_volume", "cm³", result, **jack)
    assert have == pytest.approx(float(printed), abs=half_a_digit(printed))


def test_press_with_two_pistons() -> None:
    # Aviation hydraulics study cards: 20 lbf on 2 in2 is 10 psi, which lifts 200 lbf on 20 in2.
    jack = {"bore": BORE_OF_20, "rod": "0 in", "efficiency": "100 %"}
    have = answer("jack_force", "lbf", "push", pressure="10 psi g", **jack)
    assert have == pytest.approx(200, rel=1e-7)
    jack["bore"] = BORE_OF_2
    have = answer("jack_force", "lbf", "push", pressure="10 psi g", **jack)
    assert have == pytest.approx(20, rel=1e-7)
