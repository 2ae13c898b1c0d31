"""Published formulas on inputs of our own: against mistakes, no agreement with a printed answer."""

from __future__ import annotations

import pytest

from tests.calculations.asking import answer

# FAA-H-8083-31 formulas; angle, R, T (in) -> bend allowance, setback (in), worked separately.
BENDS = [
    (90, 0.125, 0.032, 0.2186, 0.157),
    (90, 0.094, 0.051, 0.1833, 0.145),
    (45, 0.125, 0.040, 0.1121, 0.0683),
    (135, 0.1875, 0.064, 0.5086, 0.6072),
    (120, 0.0625, 0.025, 0.1541, 0.1516),
    (30, 0.25, 0.063, 0.1455, 0.0839),
]


@pytest.mark.parametrize(("angle", "radius", "thickness", "allowance", "back"), BENDS)
def test_bends(angle, radius, thickness, allowance, back) -> None:
    typed = {"thickness": f"{thickness} in", "radius": f"{radius} in", "bend_angle": f"{angle}°"}
    assert answer("bend_allowance", "in", **typed) == pytest.approx(allowance, abs=0.0002)
    assert answer("setback", "in", **typed) == pytest.approx(back, abs=0.0002)


def test_channel_by_its_own_formula() -> None:
    typed = {"legs": ["1.00 in", "2.00 in", "1.00 in"], "thickness": "0.040 in"}
    typed["bends"] = [{"radius": "0.16 in", "bend_angle": "90°"}] * 2
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
