"""Springback against what is printed elsewhere; the source stands beside each check."""

from __future__ import annotations

import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, half_a_digit

# Kalpakjian & Schmid, Manufacturing Engineering and Technology, ch. 16 (from memory): a 20-gauge
# steel strip bent to 0.5 in; x 0.0192, Ri/Rf 0.942, Rf 0.531 in.
STRIP = {"thickness": "0.0359 in", "yield_strength": "40000 psi", "modulus": "29000000 psi"}


@pytest.mark.parametrize(
    ("result", "shown", "printed"),
    [("elastic", "", "0.0192"), ("ratio", "", "0.942"), ("radius", "in", "0.531")],
)
def test_twenty_gauge_strip(result: str, shown: str, printed: str) -> None:
    have = answer("springback_radius", shown, result, radius="0.5 in", **STRIP)
    assert have == pytest.approx(float(printed), abs=half_a_digit(printed))


def test_twenty_gauge_strip_to_one_more_place() -> None:
    # The same equation (16.6) with one more place in a second list (from memory).
    for result, shown, wanted in (
        ("elastic", "", 0.01921),
        ("ratio", "", 0.9424),
        ("radius", "in", 0.5306),
    ):
        have = answer("springback_radius", shown, result, radius="0.5 in", **STRIP)
        assert have == pytest.approx(wanted, abs=0.0005)


def test_the_strip_backwards() -> None:
    have = answer("punch_radius", "in", "radius", radius="0.531 in", **STRIP)
    assert have == pytest.approx(0.5, abs=half_a_digit("0.500"))


@pytest.mark.parametrize("radius", ["0.03 in", "0.5 in", "3 in", "10 in"])
def test_there_and_back_again(radius: str) -> None:
    after = answer("springback_radius", "in", "radius", radius=radius, **STRIP)
    tool = answer("punch_radius", "in", "radius", radius=f"{after:.9f} in", **STRIP)
    assert tool == pytest.approx(float(radius.split()[0]), rel=1e-6)
    miss = answer("punch_radius", "", "residual", radius=f"{after:.9f} in", **STRIP)
    assert abs(miss) < 1e-9


@pytest.mark.parametrize("radius", ["0.5 m", "1 m", "3 m"])
def test_there_and_back_again_with_a_plate(radius: str) -> None:
    # The same equation both ways, where the sheet is thick and the radius large.
    plate = {"thickness": "13 mm", "yield_strength": "100 MPa", "modulus": "200000 MPa"}
    after = answer("springback_radius", "m", "radius", radius=radius, **plate)
    tool = answer("punch_radius", "m", "radius", radius=f"{after:.9f} m", **plate)
    assert tool == pytest.approx(float(radius.split()[0]), rel=1e-6)


@pytest.mark.parametrize("radius", ["13.01 in", "14 in", "100 in"])
def test_a_sheet_that_springs_back_flat_is_refused(radius: str) -> None:
    # Limit of the equation: at x = 0.5, R_i = 13.014 in here, Ri/Rf is 0; above it it would rise
    # again and print a radius that is none.
    if float(radius.split()[0]) < 13.014:
        assert answer("springback_radius", "", "ratio", radius=radius, **STRIP) < 1e-6
        return
    with pytest.raises(Refusal, match="springs back flat"):
        answer("springback_radius", "in", "radius", radius=radius, **STRIP)


def test_over_bend_keeps_the_middle_of_the_sheet() -> None:
    # Kalpakjian & Schmid ch. 16 (from memory): K_s = (2 R_i/T + 1)/(2 R_f/T + 1) = A_f/A_i.
    strip = {"thickness": "0.0359 in", "tool_radius": "0.5 in", "radius": "0.531 in"}
    have = answer("over_bend", "°", "set_to", bend_angle="90°", **strip)
    factor = (2 * 0.5 / 0.0359 + 1) / (2 * 0.531 / 0.0359 + 1)
    assert 90 / have == pytest.approx(factor, rel=1e-12)


def test_a_bend_never_closes() -> None:
    with pytest.raises(Refusal, match="never closes"):
        answer("over_bend", "°", "set_to", thickness="1 mm", tool_radius="5 mm", radius="4.9 mm",
               bend_angle="90°")  # fmt: skip


def test_over_bend_past_the_tool_is_refused() -> None:
    with pytest.raises(Refusal, match="bend angle in the tool comes to"):
        answer("over_bend_by_strip", "°", "set_to", strip_set="110°", strip_after="100°",
               bend_angle="170°")  # fmt: skip


@pytest.mark.parametrize(
    ("came", "wanted", "set_to"), [("80°", "80°", 90.0), ("90°", "45°", 45.0), ("80°", "40°", 45.0)]
)
def test_over_bend_by_strip(came: str, wanted: str, set_to: float) -> None:
    # Common practice, no source: A_set = A (1 + s); a strip set to 90° that came to 80° has 12.5 %.
    strip = {"strip_set": "90°", "strip_after": came, "bend_angle": wanted}
    assert answer("over_bend_by_strip", "°", "set_to", **strip) == pytest.approx(set_to, rel=1e-12)


def over_bent(strip_set: str, strip_after: str, bend_angle: str) -> float:
    typed = {"strip_set": strip_set, "strip_after": strip_after, "bend_angle": bend_angle}
    return answer("over_bend_by_strip", "°", "set_to", **typed)


@pytest.mark.parametrize(
    ("strip", "bend"), [("30°", "150°"), ("30°", "60.1°"), ("90°", "44.9°"), ("160°", "20°")]
)
def test_a_strip_far_from_the_bend_says_nothing_of_it(strip: str, bend: str) -> None:
    # Common practice, no source: a bend of half to twice the strip's angle, 30/15 and 30/60.
    with pytest.raises(Refusal, match="of the strip's angle: bend a strip to about the angle"):
        over_bent(strip, strip, bend)


@pytest.mark.parametrize(("strip", "bend"), [("30°", "60°"), ("90°", "45°"), ("90°", "170°")])
def test_a_strip_near_enough_to_the_bend_serves(strip: str, bend: str) -> None:
    assert over_bent(strip, strip, bend) == pytest.approx(float(bend.rstrip("°")), rel=1e-12)


@pytest.mark.parametrize("came", ["91°", "78°"])
def test_a_strip_outside_0_to_15_per_cent_is_refused(came: str) -> None:
    with pytest.raises(Refusal, match="the strip sprang back"):
        answer(
            "over_bend_by_strip", "°", "set_to", strip_set="90°", strip_after=came, bend_angle="90°"
        )


def test_stretch_that_holds_the_shape() -> None:
    # Bending under tension, Hosford & Caddell, Marciniak (from memory): t/(2R) + σ/E, here
    # 1.2/1800 + 0.00115 = 0.1817 %.
    block = {"thickness": "1.2 mm", "radius": "900 mm", "modulus": "70000 MPa"}
    have = answer("stretch_against_springback", "%", yield_strength="80.5 MPa", **block)
    assert have == pytest.approx(0.1817, abs=half_a_digit("0.1817"))
