"""Limits inside a working, each from just inside and just outside; the limit's source beside it.

The limits of what is typed are tried in test_contract; these stand in the body of a calculation,
between two inputs or on what comes out of them. The name of each row begins with its calculation.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest

from generator.calculations import calculations
from generator.findings import Refusal
from tests.calculations.asking import answer, ran

COMMON = "common practice, no source"
HANDBOOK = "FAA-H-8083-31 vol. 1 ch. 4, Layout and Forming: the empirical formula"
RATIO = f"{HANDBOOK}; its ends 0.5 and 10 thicknesses are {COMMON}"
DIN = "DIN 6935, K-factor table as a public CAD tutorial quotes it, which starts at R/T = 0.65"
OEHLER = "Lange, Umformtechnik: Blechbearbeitung, 2nd ed. 1990: proven for w/s 5 to 20, w/r from 5"
KALPAKJIAN = "Kalpakjian & Schmid ch. 16 (from memory): Ri/Rf = 4x³ − 3x + 1, zero at x = 0.5"
GEOMETRY = "geometry: nothing is left at zero"
STANDARD = "ISO 261 and ASME B1.1 (from memory): the coarsest thread has more than 4 pitches"

SHEET = {"thickness": "2 mm", "bend_angle": "90°"}
LEGS = {"thickness": "2 mm", "legs": ["80 mm", "80 mm"]}
VEE = {"thickness": "2 mm", "tensile_strength": "310 MPa", "bend_length": "100 mm"}
NOSE = VEE | {"nose_radius": "1 mm"}
SPRING = {"thickness": "1 mm", "yield_strength": "500 MPa", "modulus": "100000 MPa"}
STRIP = {"strip_set": "100°", "strip_after": "100°"}
BACK = {"strip_after": "100°", "bend_angle": "100°"}
LIP = {"cut": "50 mm", "limit": "12 %", "flange_radius": "5 mm", "clear": "8 mm"}
RELIEF = {"thickness": "1 mm", "radius": "4 mm"}
JACK = {"bore": "5 mm", "pressure": "100 bar g", "efficiency": "100 %"}
FACTORS = {"preload": "1000 lbf", "diameter": "0.25 in"}
BOLT = {"property_class": "8.8 up to 16 mm", "share": "75 %"}


def bent(radius: str) -> list[dict[str, str]]:
    """One bend of a blank."""
    return [{"radius": radius, "bend_angle": "90°", "turns": "up"}]


@dataclass(frozen=True)
class Limit:
    """name: the input that is moved; told: what the refusal outside says; source: of the limit."""

    calculation: str
    given: dict[str, Any]
    name: str
    inside: Any
    outside: Any
    told: str
    source: str


LIMITS = [
    Limit("bend_allowance", SHEET, "radius", "1 mm", "0.9999 mm", "holds from 0.5 to 10", RATIO),
    Limit("bend_allowance", SHEET, "radius", "20 mm", "20.001 mm", "holds from 0.5 to 10", RATIO),
    Limit("bend_deduction", SHEET, "radius", "1 mm", "0.9999 mm", "holds from 0.5 to 10", RATIO),
    Limit("bend_deduction", SHEET, "radius", "20 mm", "20.001 mm", "holds from 0.5 to 10", RATIO),
    Limit("developed_length", LEGS, "bends", bent("1 mm"), bent("0.9999 mm"), "holds from", RATIO),
    Limit("developed_length", LEGS, "bends", bent("20 mm"), bent("20.001 mm"), "holds from", RATIO),
    Limit("bend_allowance_din", SHEET, "radius", "1.3 mm", "1.2999 mm", "starts at 0.65", DIN),
    Limit("developed_length_din", LEGS, "bends", bent("1.3 mm"), bent("1.2999 mm"), "0.65", DIN),
    Limit("bending_force_v_die", NOSE, "opening", "10 mm", "9.999 mm", "from 5 to 20", OEHLER),
    Limit("bending_force_v_die", NOSE, "opening", "40 mm", "40.001 mm", "from 5 to 20", OEHLER),
    Limit(
        "bending_force_v_die", VEE | {"opening": "10 mm"},
        "nose_radius", "2 mm", "2.0001 mm", "times the nose radius", OEHLER,
    ),
    Limit(
        "bending_force", VEE | {"die": "V"},
        "opening", "10 mm", "9.999 mm", "from 5 to 20", f"{OEHLER}; taken over: {COMMON}",
    ),
    Limit(
        "bending_force", VEE | {"die": "wiping"},
        "opening", "40 mm", "40.001 mm", "from 5 to 20", f"{OEHLER}; taken over: {COMMON}",
    ),
    Limit("springback_radius", SPRING, "radius", "99.5 mm", "100.5 mm", "back flat", KALPAKJIAN),
    Limit(
        "over_bend", SHEET | {"tool_radius": "5 mm"},
        "radius", "5 mm", "4.9999 mm", "a bend never closes", GEOMETRY,
    ),
    Limit("over_bend_by_strip", BACK, "strip_set", "115°", "115.01°", "0 to 15 %", COMMON),
    Limit("over_bend_by_strip", BACK, "strip_set", "100°", "99.99°", "0 to 15 %", COMMON),
    Limit("over_bend_by_strip", STRIP, "bend_angle", "50°", "49.99°", "from 0.5 to 2", COMMON),
    Limit(
        "over_bend_by_strip", {"strip_set": "80°", "strip_after": "80°"},
        "bend_angle", "160°", "160.01°", "from 0.5 to 2", COMMON,
    ),
    Limit(
        "stretch_against_springback",
        {"thickness": "4 mm", "yield_strength": "80 MPa", "modulus": "70000 MPa"},
        "radius", "40 mm", "39.999 mm", "for thin sheet, from 10", COMMON,
    ),
    Limit(
        "joggle", {"depth": "2 mm", "times": "6"},
        "length", "12 mm", "11.999 mm", "too short for its depth", COMMON,
    ),
    Limit("lightening_hole", LIP, "lip", "50.1 mm", "50 mm", "the lip grows by 0 mm", GEOMETRY),
    Limit(
        "lightening_hole", {"cut": "50 mm", "lip": "55 mm", "limit": "12 %", "clear": "8 mm"},
        "flange_radius", "8 mm", "8.001 mm", "less than one flange radius", COMMON,
    ),
    Limit(
        "relief_hole", RELIEF, "drill", "8 mm", "7.999 mm", "too small for this corner",
        "FAA-H-8083-31 vol. 1 ch. 4, folding a box: about twice the bend radius",
    ),
    Limit("jack_force", JACK, "rod", "4.98 mm", "5 mm", "the rod is no thinner", GEOMETRY),
    Limit(
        "jack_volume", {"bore": "5 mm", "stroke": "300 mm"},
        "rod", "4.98 mm", "5 mm", "the rod is no thinner", GEOMETRY,
    ),
    Limit(
        "nut_factor_torque", FACTORS | {"k_low": "0.12", "k_high": "0.3"},
        "k_nominal", "0.12", "0.1199", "outside its bracket", "meaning of a bracket",
    ),
    Limit(
        "nut_factor_torque", FACTORS | {"k_low": "0.12", "k_high": "0.3"},
        "k_nominal", "0.3", "0.3001", "outside its bracket", "meaning of a bracket",
    ),
    Limit(
        "nut_factor_torque", FACTORS | {"k_low": "0.2", "k_nominal": "0.2"},
        "k_high", "0.2001", "0.2", "one factor is no bracket", "meaning of a bracket",
    ),
    Limit(
        "stress_area_metric", {"pitch": "2 mm"},
        "diameter", "8 mm", "7.999 mm", "no thread of the standard", STANDARD,
    ),
    Limit(
        "stress_area_unified", {"threads": "8 1/in"},
        "diameter", "0.5 in", "0.4999 in", "no thread of the standard", STANDARD,
    ),
    Limit(
        "preload_of_proof_metric", BOLT | {"pitch": "2 mm"},
        "diameter", "16 mm", "16.001 mm", "does not belong to this row", "EN ISO 898-1:2013 table 3",
    ),
]  # fmt: skip
CASES = [
    pytest.param(limit, id=f"{limit.calculation}-{limit.name}-{number}")
    for number, limit in enumerate(LIMITS)
]


def told(limit: Limit, text: Any) -> Refusal | None:
    """What a run says with this typed."""
    try:
        ran(calculations()[limit.calculation], limit.given | {limit.name: text})
    except Refusal as refusal:
        return refusal
    return None


@pytest.mark.parametrize("limit", CASES)
def test_inside_the_limit_it_is_worked_out(limit: Limit) -> None:
    assert told(limit, limit.inside) is None, limit.source


@pytest.mark.parametrize("limit", CASES)
def test_outside_the_limit_it_is_refused(limit: Limit) -> None:
    refusal = told(limit, limit.outside)
    assert refusal is not None, limit.source
    assert refusal.code == "range"
    assert limit.told in refusal.wrong


def test_flange_stretch_says_what_is_wrong_with_a_flange_as_wide_as_its_contour() -> None:
    # Geometry: half a millimetre less wide there is an edge left, which must stretch ninefold.
    for width, wrong in (("4.5 mm", "must stretch by 9 "), ("5 mm", "nothing is left to turn")):
        with pytest.raises(Refusal) as caught:
            answer("flange_stretch", "%", "strain", contour="5 mm", width=width, limit="40 %")
        assert wrong in caught.value.wrong
        assert caught.value.code == "range"


@pytest.mark.parametrize(
    ("ratio", "printed"), [pytest.param(*row, id=f"bend_allowance_din-{row[0]}") for row in
                           (("5", 0.4997), ("5.001", 0.5), ("6", 0.5))]
)  # fmt: skip
def test_the_rule_changes_above_its_number_and_not_at_it(ratio: str, printed: float) -> None:
    # DIN 6935, K-factor table as a public CAD tutorial quotes it: 0.4997 at R/T = 5, 0.5 above.
    sheet = {"thickness": "1 mm", "radius": f"{ratio} mm", "bend_angle": "90°"}
    have = answer("bend_allowance_din", "", "factor", **sheet)
    assert have == pytest.approx(printed, abs=0.00005)
