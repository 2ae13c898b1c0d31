"""Flat patterns against what is printed elsewhere, against integrals by numpy, and folded back."""

from __future__ import annotations

import math

import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, half_a_digit, results
from tests.calculations.rolled_out import (
    WITHIN,
    ellipse_girth,
    flat,
    length_in_space,
    number,
    smooth_length,
)

MIDDLE = "middle of the sheet"
CONE = {"thickness": "0 mm", "measured": MIDDLE}


# --- printed elsewhere -------------------------------------------------------------------------


def test_cone_of_a_right_angle() -> None:
    # A blacksmiths' layout page: sector = 360° sin(half apex); a 90° point gives 254.6°.
    have = answer("frustum", "°", "sector", large="100 mm", small="0 mm", height="50 mm", **CONE)
    assert have == pytest.approx(254.6, abs=half_a_digit("254.6"))


def test_cone_of_six_radii() -> None:
    # A 19th century builders' handbook, striking out a cone: slant of 6 base radii, 60°.
    height = 50 * math.sqrt(35)
    sizes = {"large": "100 mm", "small": "0 mm", "height": f"{height:.6f} mm"}
    assert answer("frustum", "°", "sector", **sizes, **CONE) == pytest.approx(60, abs=1e-4)


def test_area_of_a_frustum() -> None:
    # Sheet Metal Drafting (1921), section 43: mean of both circumferences times slant, 87.24 in².
    sizes = {"large": "8 in", "small": "5 in", "height": "4 in"}
    assert answer("frustum", "in²", "area", **sizes, **CONE) == pytest.approx(87.24, abs=0.02)
    assert answer("frustum", "in", "slant", **sizes, **CONE) == pytest.approx(4.272, abs=0.0005)


def test_frustum_of_the_trade() -> None:
    # Worked figures of the trade, no published check: 420, 310, 260 mm.
    sizes = {"large": "420 mm", "small": "310 mm", "height": "260 mm", **CONE}
    for name, wanted in (("slant", 265.75), ("outer", 1014.7), ("inner", 748.9), ("chord", 1228.5)):
        assert answer("frustum", "mm", name, **sizes) == pytest.approx(wanted, abs=0.06)
    assert answer("frustum", "°", "sector", **sizes) == pytest.approx(74.51, abs=0.006)


def test_the_middle_of_the_sheet_lies_square_to_it() -> None:
    # Geometry: T/2 square to the cone is T/(2 cos) in a radius; common practice takes T/2.
    sizes = {"large": "420 mm", "small": "310 mm", "height": "260 mm", "thickness": "1.2 mm"}
    have = answer("frustum", "mm", "large", **sizes, measured="outside")
    assert have == pytest.approx(420 - 1.2 / math.cos(math.atan(55 / 260)), abs=1e-9)
    assert have == pytest.approx(420 - 1.2, abs=0.03)


# Development of an oblique cut in closed form (from memory): 100 mm, 30°, in twelfths.
OFFSETS = [
    0.0,
    3.868,
    14.434,
    28.868,
    43.301,
    53.868,
    57.735,
    53.868,
    43.301,
    28.868,
    14.434,
    3.868,
    0.0,
]


def test_slanted_cut_of_a_cylinder() -> None:
    came = results(
        "cylinder_pattern", diameter="100 mm", height="100 mm", cut="30°", lines="12",
        seam="short side", **CONE,
    )  # fmt: skip
    lengths = [number(came, f"lengths.{n}.line") for n in range(1, 14)]
    assert [each - lengths[0] for each in lengths] == pytest.approx(OFFSETS, abs=0.001)
    assert lengths[6] - lengths[3] == pytest.approx(28.868, abs=0.001)
    assert number(came, "first_edge") == pytest.approx(314.159, abs=0.01)


def test_ellipse_girth() -> None:
    # Abramowitz & Stegun table 17.1 (from memory): E(0.75) = 1.2110560275684594.
    assert ellipse_girth(1, 0.5) == pytest.approx(4 * 1.2110560275684594, rel=1e-13)


@pytest.mark.parametrize("cut", [0, 12, 25])
@pytest.mark.parametrize("seam", ["short side", "long side"])
def test_a_cone_folded_back(cut: int, seam: str) -> None:
    """Both edges of the rolled pattern are as long as those of the cone, and every line is."""
    came = results(
        "cone_pattern", large="420 mm", small="310 mm", height="260 mm", cut=f"{cut}°",
        lines="24", seam=seam, **CONE,
    )  # fmt: skip
    slope = 55 / 260
    rest, tilt = 155 / slope, math.tan(math.radians(cut))

    def edge(turn: float) -> tuple[float, float, float]:
        deep = rest / (1 - slope * tilt * math.cos(turn))
        return deep * slope * math.cos(turn), deep * slope * math.sin(turn), deep

    lines = flat(came)
    around = length_in_space(edge, 0, 2 * math.pi)
    assert smooth_length([a for a, _ in lines]) == pytest.approx(420 * math.pi, abs=WITHIN)
    assert smooth_length([b for _, b in lines]) == pytest.approx(around, abs=WITHIN)
    assert number(came, "second_edge") == pytest.approx(around, abs=0.02)
    start = 0 if seam == "short side" else math.pi
    for k, (a, b) in enumerate(lines):
        turn = start + 2 * math.pi * k / 24
        base = (210 * math.cos(turn), 210 * math.sin(turn), 210 / slope)
        assert abs(b - a) == pytest.approx(math.dist(edge(turn), base), abs=WITHIN)
    assert came["rolls"].shown == "DOWN"
    assert number(came, "warp") == pytest.approx(0, abs=1e-6)


def test_pattern_and_frustum_agree() -> None:
    sizes = {"large": "420 mm", "small": "310 mm", "height": "260 mm"}
    sizes |= {"thickness": "1.2 mm", "measured": "outside"}
    came = results("cone_pattern", cut="0°", lines="24", seam="long side", **sizes)
    for name, other in (("chord", "chord"), ("other_chord", "inner_chord")):
        assert number(came, name) == pytest.approx(
            answer("frustum", "mm", other, **sizes), abs=0.02
        )
    assert number(came, "lengths.5.line") == pytest.approx(
        answer("frustum", "mm", "slant", **sizes), abs=0.01
    )


def test_a_cylinder_folded_back() -> None:
    """The cut is an ellipse in space."""
    came = results(
        "cylinder_pattern", diameter="160 mm", height="200 mm", cut="40°", lines="24",
        seam="long side", **CONE,
    )  # fmt: skip
    long = 80 / math.cos(math.radians(40))
    around = ellipse_girth(long, 80)
    assert smooth_length([b for _, b in flat(came)]) == pytest.approx(around, abs=WITHIN)
    assert number(came, "second_edge") == pytest.approx(around, abs=0.02)


@pytest.mark.parametrize(
    ("name", "typed", "says"),
    [
        ("frustum", {"large": "100 mm", "small": "100 mm"}, "differ by 0 mm"),
        ("frustum", {"large": "100 mm", "small": "120 mm"}, "differ by"),
        ("frustum", {"large": "100 mm", "small": "99.9 mm"}, "longer than a trammel"),
        ("frustum", {"large": "1000 mm", "small": "0 mm", "height": "20 mm"}, "θ comes to"),
        ("cone_pattern", {"large": "100 mm", "small": "100 mm"}, "two diameters are one"),
        (
            "cone_pattern",
            {"large": "100 mm", "small": "90 mm", "height": "20 mm", "cut": "60°"},
            "comes down",
        ),
        ("cone_pattern", {"large": "4000 mm", "small": "0 mm", "height": "50 mm"}, "so flat"),
        ("cylinder_pattern", {"diameter": "400 mm", "cut": "60°"}, "comes down to the other end"),
    ],
)
def test_cones_that_are_refused(name: str, typed: dict[str, str], says: str) -> None:
    asked = {"height": "200 mm", **CONE}
    if name != "frustum":
        asked |= {"cut": "0°", "lines": "12", "seam": "short side"}
    with pytest.raises(Refusal, match=says):
        results(name, **(asked | typed))
