"""Published or textbook formulas on inputs of our own, the answers worked out apart from the code.

They guard against mistakes and are no agreement with a printed answer: nothing here may be counted
as one.
"""

from __future__ import annotations

import math

import pytest

from tests.calculations.asking import answer

# FAA-H-8083-31 formulas; angle, R, T (in) -> bend allowance, setback, deduction (in), worked
# separately.
BENDS = [
    (90, 0.125, 0.032, 0.2186, 0.157, 0.0954),
    (90, 0.094, 0.051, 0.1833, 0.145, 0.1067),
    (45, 0.125, 0.040, 0.1121, 0.0683, 0.0246),
    (135, 0.1875, 0.064, 0.5086, 0.6072, 0.7058),
    (120, 0.0625, 0.025, 0.1541, 0.1516, 0.149),
    (30, 0.25, 0.063, 0.1455, 0.0839, 0.0223),
]


@pytest.mark.parametrize(("angle", "radius", "thickness", "allowance", "back", "off"), BENDS)
def test_bends(angle, radius, thickness, allowance, back, off) -> None:
    typed = {"thickness": f"{thickness} in", "radius": f"{radius} in", "bend_angle": f"{angle}°"}
    assert answer("bend_allowance", "in", **typed) == pytest.approx(allowance, abs=0.0002)
    assert answer("setback", "in", **typed) == pytest.approx(back, abs=0.0002)
    assert answer("bend_deduction", "in", **typed) == pytest.approx(off, abs=0.0002)


# Kalpakjian & Schmid's springback equation; R_i, Y, E, T -> R_i/R_f and R_f, worked separately.
SPRUNG = [
    ("50 mm", "300 MPa", "210000 MPa", "2 mm", 0.89304, "mm", 55.989),
    ("0.16 in", "47000 psi", "10500000 psi", "0.04 in", 0.9463, "in", 0.1691),
    ("0.375 in", "70000 psi", "10300000 psi", "0.063 in", 0.8789, "in", 0.4267),
    ("0.0625 in", "11000 psi", "10600000 psi", "0.04 in", 0.9951, "in", 0.0628),
    ("0.125 in", "75000 psi", "29000000 psi", "0.063 in", 0.9846, "in", 0.127),
]


@pytest.mark.parametrize(
    ("radius", "strong", "modulus", "thickness", "ratio", "shown", "after"), SPRUNG
)
def test_springback(radius, strong, modulus, thickness, ratio, shown, after) -> None:
    typed = {"radius": radius, "yield_strength": strong, "modulus": modulus, "thickness": thickness}
    near = 0.0005 if shown == "mm" else 0.0002
    assert answer("springback_radius", "", "ratio", **typed) == pytest.approx(ratio, abs=0.0002)
    assert answer("springback_radius", shown, "radius", **typed) == pytest.approx(after, abs=near)


def test_channel_by_its_own_formula() -> None:
    typed = {"legs": ["1.00 in", "2.00 in", "1.00 in"], "thickness": "0.040 in"}
    typed["bends"] = [{"radius": "0.16 in", "bend_angle": "90°", "turns": "up"}] * 2
    assert answer("developed_length", "in", "allowances.1", **typed) == pytest.approx(
        0.2791, abs=1e-4
    )
    assert answer("developed_length", "in", "length", **typed) == pytest.approx(3.7581, abs=1e-3)


def test_extension_at_45_degrees() -> None:
    # TM 9-254 formula: 50 by 16 over 16 + 2 cos 45.
    have = answer(
        "wrench_setting", "lbf·in", "setting", thread="1/4-28", nut="tension",
        lubrication="oil-free", target="50 lbf·in", drag="0 lbf·in", wrench_length="16 in",
        extension="2 in", extension_angle="45°", shares=["100 %"],
    )  # fmt: skip
    assert have == pytest.approx(45.939, abs=0.001)


def test_extension_at_90_degrees() -> None:
    have = answer(
        "wrench_setting", "lbf·in", "setting", thread="1/4-28", nut="tension",
        lubrication="oil-free", target="50 lbf·in", drag="0 lbf·in", wrench_length="16 in",
        extension="2 in", extension_angle="90°", shares=["100 %"],
    )  # fmt: skip
    assert have == pytest.approx(50.0, abs=0.001)


BENT = {"radius": "2 mm", "bend_angle": "90°"}


def test_two_millimetres_with_the_din_factor() -> None:
    # DIN 6935 gives K = 0.325 at R = T; R = T = 2 mm, 90 degrees, legs 50 and 50 mm outside.
    bend = {"thickness": "2 mm", **BENT}
    allowance = answer("bend_allowance_by_factor", "mm", factor="0.325", **bend)
    deduction = 2 * answer("setback", "mm", **bend) - allowance
    assert allowance == pytest.approx(4.163, abs=0.01)
    assert deduction == pytest.approx(3.837, abs=0.01)
    assert 100 - deduction == pytest.approx(96.16, abs=0.01)
    part = {"thickness": "2 mm", "legs": ["50 mm"] * 2, "bends": [{**BENT, "turns": "up"}]}
    assert answer("bend_allowance_din", "", "factor", **bend) == pytest.approx(0.325, abs=1e-4)
    assert answer("developed_length_din", "mm", "length", **part) == pytest.approx(96.16, abs=0.01)


def test_force_out_and_back() -> None:
    # p π D²/4 and p π (D² − d²)/4 at 100 bar, 50/28 mm: 19.635 and 13.477 kN.
    jack = {"pressure": "100 bar g", "bore": "50 mm", "rod": "28 mm", "efficiency": "100 %"}
    assert answer("jack_force", "kN", "push", **jack) == pytest.approx(19.635, abs=0.001)
    assert answer("jack_force", "kN", "pull", **jack) == pytest.approx(13.477, abs=0.001)


def test_times_at_a_fixed_flow() -> None:
    # t = A L / Q for 50/28 mm by 300 mm at 6 L/min: 5.89 s out, 4.043 s back.
    jack = {"bore": "50 mm", "rod": "28 mm", "stroke": "300 mm"}
    for way, wanted in (("push", 5.89), ("pull", 4.043)):
        volume = f"{answer('jack_volume', 'cm³', way, **jack):.6f} cm³"
        have = answer("jack_time", "s", volume=volume, flow="6 L/min")
        assert have == pytest.approx(wanted, abs=0.001)


def test_hand_pump() -> None:
    # 589.05 cm3 at 12 cm3 a double stroke: 49.09, that is 50 whole strokes.
    typed = {"volume": "589.05 cm³", "displacement": "12 cm³", "efficiency": "100 %"}
    have = answer("hand_pump_strokes", "", **typed)
    assert have == pytest.approx(49.09, abs=0.005)
    assert math.ceil(have) == 50
