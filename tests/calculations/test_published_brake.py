"""Forces and flanges on a brake against what is printed elsewhere; the source beside each check."""

from __future__ import annotations

import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, half_a_digit

# Lange, Umformtechnik: Blechbearbeitung, 2nd ed. 1990, equation of Oehler, as a public forming
# handbook quotes it (Bending force I): 4.34 kN.
OEHLER = {
    "thickness": "1 mm",
    "tensile_strength": "310 MPa",
    "bend_length": "100 mm",
    "opening": "10 mm",
    "nose_radius": "2 mm",
}


def test_force_in_a_v_die() -> None:
    have = answer("bending_force_v_die", "kN", **OEHLER)
    assert have == pytest.approx(4.34, abs=half_a_digit("4.34"))


@pytest.mark.parametrize(
    "other", [{"opening": "4.9 mm"}, {"opening": "20.1 mm"}, {"nose_radius": "2.1 mm"}]
)
def test_outside_what_was_proven_it_is_refused(other: dict[str, str]) -> None:
    # Same page: proven for w/s from 5 to 20 and w/r of 5 and more.
    with pytest.raises(Refusal, match="the equation is proven from 5"):
        answer("bending_force_v_die", "kN", **(OEHLER | other))


# Groover, Fundamentals of Modern Manufacturing, Example 20.2 (from memory): 10 909 N.
GROOVER = {
    "thickness": "3.2 mm",
    "tensile_strength": "450 MPa",
    "bend_length": "44.5 mm",
    "opening": "25 mm",
}


def test_force_by_the_factor_of_the_die() -> None:
    assert answer("bending_force", "N", die="V", **GROOVER) == pytest.approx(10909, abs=0.5)


@pytest.mark.parametrize(("die", "kalpakjian"), [("V", 1.3), ("wiping", 0.3)])
def test_factors_of_two_textbooks_lie_near_each_other(die: str, kalpakjian: float) -> None:
    # Kalpakjian & Schmid ch. 16 (from memory): about 0.3 wiping, 0.7 U, 1.3 V; Groover 0.33, 1.33.
    factor = answer("bending_force", "N", die=die, **GROOVER) / (450 * 44.5 * 3.2**2 / 25)
    assert factor == pytest.approx(kalpakjian, abs=0.05)


def test_factor_of_the_v_die_lies_in_the_second_published_range() -> None:
    factor = answer("bending_force", "N", die="V", **GROOVER) / (450 * 44.5 * 3.2**2 / 25)
    assert 1.2 <= factor <= 1.33 + 1e-9


def test_a_u_die_has_no_factor_here() -> None:
    with pytest.raises(Refusal) as caught:
        answer("bending_force", "N", die="U", **GROOVER)
    assert caught.value.code == "choice"


def test_shortest_flange_of_the_handbooks_channel() -> None:
    # FAA-H-8083-31 vol. 1 ch. 4, step 3 of the U-channel: a flat of 0.8 in is a leg of 1.00 in.
    bend = {"thickness": "0.040 in", "radius": "0.16 in", "bend_angle": "90°"}
    have = answer("shortest_flange", "in", least_flat="0.8 in", **bend)
    assert have == pytest.approx(1.00, abs=half_a_digit("1.00"))


CORNER = {"thickness": "0.040 in", "radius": "0.16 in", "bend_angle": "90°", "leg": "1.00 in"}


def test_a_flange_at_the_limit_goes_and_a_shorter_one_is_refused() -> None:
    # Same step 3: the leg of 1.00 leaves a flat of 0.8 in.
    assert answer("flange_on_brake", "in", "spare", least_flat="0.8 in", **CORNER) == pytest.approx(
        0, abs=1e-9
    )
    with pytest.raises(Refusal, match=r"a leg of .* is too short for this brake") as caught:
        answer("flange_on_brake", "in", "spare", least_flat="0.81 in", **CORNER)
    assert "at least 25.654 mm" in caught.value.right  # 1.01 in


def test_no_flange_has_an_end_at_180_degrees() -> None:
    with pytest.raises(Refusal, match="out of range") as caught:
        answer("shortest_flange", "mm", thickness="1 mm", radius="3 mm", bend_angle="180°",
               least_flat="6 mm")  # fmt: skip
    assert "hem" in caught.value.right
