"""Jacks against what is printed elsewhere; the source stands beside each check."""

from __future__ import annotations

import math

import pytest

from tests.calculations.asking import answer, half_a_digit, results

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


@pytest.mark.parametrize(("name", "printed"), [("push", 19.635), ("pull", 13.477)])
def test_force_out_and_in(name: str, printed: float) -> None:
    # F = p π D²/4 and p π (D² − d²)/4 in closed form (from memory): 50, 28 mm at 100 bar.
    typed = {"pressure": "100 bar g", "bore": "50 mm", "rod": "28 mm", "efficiency": "100 %"}
    assert answer("jack_force", "kN", name, **typed) == pytest.approx(printed, abs=0.001)


@pytest.mark.parametrize(("volume", "printed"), [("589.0486 cm³", 5.89), ("404.3186 cm³", 4.043)])
def test_times_on_a_fixed_flow(volume: str, printed: float) -> None:
    # t = A L / Q in closed form (from memory): 50/28 × 300 mm, 6 L/min.
    typed = {"volume": volume, "flow": "6 L/min"}
    assert answer("jack_time", "s", **typed) == pytest.approx(printed, abs=0.001)
    have = answer("jack_time_band", "s", "time", **typed, band="15 %")
    assert have == pytest.approx(printed, abs=0.001)


# --- the demo leg: SCENARIO 6.4, no published check --------------------------------------------

LEG = {"bore": "50 mm", "rod": "25 mm"}


@pytest.mark.parametrize(
    ("efficiency", "push", "pull"), [("100 %", "13.74", "10.31"), ("95 %", "13.06", "9.79")]
)
def test_forces_of_the_demo_leg(efficiency: str, push: str, pull: str) -> None:
    came = results("jack_force", pressure="70 bar g", efficiency=efficiency, **LEG)
    assert (came["push"].shown, came["pull"].shown) == (push, pull)


def test_volumes_of_the_demo_leg() -> None:
    came = results("jack_volume", stroke="214 mm", **LEG)
    assert [r.shown for r in came.values()] == ["420", "315", "105"]


def test_times_and_strokes_of_the_demo_leg() -> None:
    # The ends round inwards: 7.143 s is 7.2, 9.663 is 9.6, 5.357 is 5.4, 7.248 is 7.2.
    out, back = "420.1880 cm³", "315.1410 cm³"
    for volume, shown in ((out, ["8.4", "7.2", "9.6"]), (back, ["6.3", "5.4", "7.2"])):
        came = results("jack_time_band", volume=volume, flow="3.0 L/min", band="15 %")
        assert [r.shown for r in came.values()] == shown
    for volume, shown in ((out, ["20.8", "23.8"]), (back, ["15.6", "17.9"])):
        typed = {"displacement": "22 cm³", "efficiency": "92 %", "band": "15 %"}
        came = results("hand_pump_strokes_band", volume=volume, **typed)
        assert [came["strokes"].shown, came["allowed.to"].shown] == shown
