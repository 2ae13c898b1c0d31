"""Jacks against what is printed elsewhere; the source stands beside each check."""

from __future__ import annotations

import math

import pytest

from tests.calculations.asking import answer

# The bore of a piston of that area, for examples that print the area.
BORE_OF_8 = f"{math.sqrt(8 * 4 / math.pi):.9f} in"
BORE_OF_20 = f"{math.sqrt(20 * 4 / math.pi):.9f} in"


def test_volume_of_a_piston() -> None:
    # TM 1-1500-204-23-2 paragraph 2: 8 in2 by 10 in is 80 in3.
    have = answer("jack_volume", "in³", "push", bore=BORE_OF_8, rod="0 in", stroke="10 in")
    assert have == pytest.approx(80, rel=1e-7)


def test_press_with_two_pistons() -> None:
    # Aviation hydraulics study cards: 20 lbf on 2 in2 is 10 psi, which lifts 200 lbf on 20 in2.
    jack = {"bore": BORE_OF_20, "rod": "0 in", "efficiency": "100 %"}
    have = answer("jack_force", "lbf", "push", pressure="10 psi g", **jack)
    assert have == pytest.approx(200, rel=1e-7)


def test_force_out_and_back() -> None:
    # F = p π D²/4 and p π (D² − d²)/4 at 100 bar, 50/28 mm (from memory): 19.635 and 13.477 kN.
    jack = {"pressure": "100 bar g", "bore": "50 mm", "rod": "28 mm", "efficiency": "100 %"}
    assert answer("jack_force", "kN", "push", **jack) == pytest.approx(19.635, abs=0.001)
    assert answer("jack_force", "kN", "pull", **jack) == pytest.approx(13.477, abs=0.001)


def test_times_at_a_fixed_flow() -> None:
    # t = A L / Q for 50/28 mm by 300 mm at 6 L/min (from memory): 5.89 s out, 4.043 s back.
    jack = {"bore": "50 mm", "rod": "28 mm", "stroke": "300 mm"}
    for way, printed in (("push", 5.89), ("pull", 4.043)):
        volume = f"{answer('jack_volume', 'cm³', way, **jack):.6f} cm³"
        have = answer("jack_time", "s", volume=volume, flow="6 L/min")
        assert have == pytest.approx(printed, abs=0.001)


def test_hand_pump() -> None:
    # 589.05 cm3 at 12 cm3 a double stroke (from memory): 49.09, that is 50 whole strokes.
    typed = {"volume": "589.05 cm³", "displacement": "12 cm³", "efficiency": "100 %"}
    have = answer("hand_pump_strokes", "", **typed)
    assert have == pytest.approx(49.09, abs=0.005)
    assert math.ceil(have) == 50
