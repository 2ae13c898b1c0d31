"""Control cable against what is printed elsewhere; the source stands beside each check."""

from __future__ import annotations

import math
import random

import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, results

# AC 43.13-1B (9/8/98) table 7-3: size, construction, carbon steel A, stainless steel B (lb).
STRENGTHS = [
    ("1/32", "3x7", 110, 110),
    ("3/64", "7x7", 270, 270),
    ("1/16", "7x7", 480, 480),
    ("1/16", "7x19", 480, 480),
    ("3/32", "7x7", 920, 920),
    ("3/32", "7x19", 1000, 920),
    ("1/8", "7x19", 2000, 1760),
    ("5/32", "7x19", 2800, 2400),
    ("3/16", "7x19", 4200, 3700),
    ("7/32", "7x19", 5600, 5000),
    ("1/4", "7x19", 7000, 6400),
    ("9/32", "7x19", 8000, 7800),
    ("5/16", "7x19", 9800, 9000),
    ("11/32", "7x19", 12500, 0),
    ("3/8", "7x19", 14400, 12000),
    ("7/16", "6x19 IWRC", 17600, 16300),
    ("1/2", "6x19 IWRC", 22800, 22800),
    ("9/16", "6x19 IWRC", 28500, 28500),
    ("5/8", "6x19 IWRC", 35000, 35000),
    ("3/4", "6x19 IWRC", 49600, 49600),
    ("7/8", "6x19 IWRC", 66500, 66500),
    ("1", "6x19 IWRC", 85400, 85400),
    ("1-1/8", "6x19 IWRC", 106400, 106400),
    ("1-1/4", "6x19 IWRC", 129400, 129400),
    ("1-3/8", "6x19 IWRC", 153600, 153600),
    ("1-1/2", "6x19 IWRC", 180500, 180500),
]
# The same table, last column (sizes paired from memory), and table 7-2 (from memory).
OTHERS = [
    *[
        (size, make, "non-magnetic steel", lb)
        for size, make, lb in (
            ("1/16", "7x7", 360), ("3/32", "7x7", 700), ("1/8", "7x19", 1300),
            ("5/32", "7x19", 2000), ("3/16", "7x19", 2900), ("7/32", "7x19", 3800),
            ("1/4", "7x19", 4900), ("9/32", "7x19", 6100), ("5/16", "7x19", 7600),
            ("3/8", "7x19", 11000), ("7/16", "6x19 IWRC", 14900), ("1/2", "6x19 IWRC", 19300),
            ("9/16", "6x19 IWRC", 24300), ("5/8", "6x19 IWRC", 30100),
            ("3/4", "6x19 IWRC", 42900), ("7/8", "6x19 IWRC", 58000), ("1", "6x19 IWRC", 75200),
        )
    ],
    *[
        (size, "1x19", "carbon or stainless steel", lb)
        for size, lb in (
            ("3/64", 375), ("1/16", 500), ("5/64", 800), ("3/32", 1200), ("7/64", 1600),
            ("1/8", 2100), ("5/32", 3300), ("3/16", 4700), ("7/32", 6300), ("1/4", 8200),
            ("5/16", 12500), ("3/8", 17500),
        )
    ],
]  # fmt: skip
ROWS = [
    (size, make, metal, lb)
    for size, make, *both in STRENGTHS
    for metal, lb in zip(("carbon steel A", "stainless steel B"), both, strict=True)
] + OTHERS
TAB = {"purpose": "tab or secondary", "load": "50 lbf", "wanted": "2"}


@pytest.mark.parametrize(("size", "make", "metal", "pounds"), ROWS)
def test_every_row_of_the_cable_table(size: str, make: str, metal: str, pounds: int) -> None:
    typed = {"cable": f"{size} in", "construction": make, "metal": metal} | TAB
    if not pounds:
        with pytest.raises(Refusal, match="no row"):
            results("cable_strength", **typed)
        return
    assert answer("cable_strength", "lbf", "strength", **typed) == pytest.approx(pounds)
    assert answer("cable_strength", "lbf", "spare", **typed) == pytest.approx(pounds - 100)


@pytest.mark.parametrize(("size", "make", "metal", "pounds"), [
    ("1/16", "7x7", "carbon steel A", 480),
    ("1/8", "7x19", "carbon steel A", 2000),
    ("1/8", "7x19", "stainless steel B", 1760),
])  # fmt: skip
def test_rows_agree_with_a_magazine(size: str, make: str, metal: str, pounds: int) -> None:
    # An aviation magazine's article on control cable names these three.
    typed = {"cable": f"{size} in", "construction": make, "metal": metal} | TAB
    assert answer("cable_strength", "lbf", "strength", **typed) == pytest.approx(pounds)


def inches(size: str) -> float:
    whole, _, part = size.rpartition("-")
    above, _, below = part.partition("/")
    return int(whole or 0) + int(above) / int(below or 1)


@pytest.mark.parametrize(("size", "make", "pounds"), [row[:3] for row in STRENGTHS])
def test_thin_cable_works_no_primary_control(size: str, make: str, pounds: int) -> None:
    # 14 CFR 23.689(a)(1): 1/8 in at the least.
    typed = {"cable": f"{size} in", "construction": make, "metal": "carbon steel A"} | TAB
    typed |= {"purpose": "primary control"}
    if inches(size) < 0.125:
        with pytest.raises(Refusal, match="too thin for a primary control"):
            results("cable_strength", **typed)
    else:
        assert answer("cable_strength", "lbf", "strength", **typed) == pytest.approx(pounds)


@pytest.mark.parametrize(("size", "make", "pounds"), [row[:3] for row in STRENGTHS])
def test_proof_load_is_six_tenths_for_three_minutes(size: str, make: str, pounds: int) -> None:
    # AC 43.13-1B 7-146 and 7-148; MIL-DTL-781J 4.6.1 proves terminals from 7/16 in at 40 %.
    typed = {"cable": f"{size} in", "construction": make, "metal": "carbon steel A"}
    if inches(size) > 0.375:
        with pytest.raises(Refusal, match="40 or 60"):
            results("cable_proof_load", **typed)
        return
    have = [answer("cable_proof_load", "lbf", name, **typed) for name in ("load", "gauge")]
    assert have == pytest.approx([0.6 * pounds, 0.06 * pounds])
    assert answer("cable_proof_load", "s", "hold", **typed) == pytest.approx(180)


@pytest.mark.parametrize(
    ("share", "ratio"), [(0.5, 10), (1, 10), (1.01, 20), (10, 20), (10.1, 28), (20, 28)]
)
def test_ratio_of_a_pulley(share: float, ratio: int) -> None:
    # MIL-F-18372(Aer): ratios 10, 20, 28 at 1, 10, 20 % of the strength; between, the heavier.
    typed = {"cable": "0.125 in", "pulley": "10 in", "strength": "2000 lbf"}
    have = answer("pulley_diameter", "in", "diameter", load=f"{share * 20:.6f} lbf", **typed)
    assert have == pytest.approx(ratio * 0.125)
    with pytest.raises(Refusal, match="ends at 20 %"):
        results("pulley_diameter", load="400.1 lbf", **typed)


ANGLES = [  # MIL-F-18372(Aer) 3.1.1.17.8
    ("primary flight controls", "usual", 1),
    ("primary flight controls", "AN219 to AN221 or side travel", 2),
    ("all other controls", "usual", 2),
    ("all other controls", "AN219 to AN221 or side travel", 3),
]


@pytest.mark.parametrize(("system", "pulley", "degrees"), ANGLES)
def test_every_angle_of_a_pulley(system: str, pulley: str, degrees: int) -> None:
    typed = {"system": system, "pulley": pulley, "distance": "1000 mm"}
    at = 1000 * math.tan(math.radians(degrees))
    inside = answer("pulley_angle", "°", "spare", offset=f"{at - 0.001:.6f} mm", **typed)
    assert inside == pytest.approx(0, abs=1e-3)
    with pytest.raises(Refusal, match="angle left"):
        results("pulley_angle", offset=f"{at + 0.01:.6f} mm", **typed)


def test_a_fairlead_turns_a_cable_by_three_degrees_at_the_most() -> None:
    # 14 CFR 23.689(c): 3°; here 1° before it and 2° after it.
    tangents = [math.tan(math.radians(angle)) for angle in (1, 2)]
    runs = [f"{10 / t:.6f} mm" for t in tangents]
    have = answer("fairlead_bend", "°", offset="10 mm", before=runs[0], after=runs[1])
    assert have == pytest.approx(3, abs=1e-6)
    with pytest.raises(Refusal, match="change of direction"):
        results("fairlead_bend", offset="10.01 mm", before=runs[0], after=runs[1])


CAPSTANS = [  # friction, wrap, pull over tension, within
    (0.3, 360, 6.6, 0.05),  # open course question on belt friction
    (0.25, 1080, 111, 0.5),  # engineering explainer page
    (0.6, 1800, 153552935, 1),  # encyclopedia, table of the capstan equation
    (0.15, 90, 63.28 / 50, 0.0002),  # Euler and Eytelwein (from memory)
]


@pytest.mark.parametrize(("friction", "wrap", "ratio", "within"), CAPSTANS)
def test_rope_round_a_post(friction: float, wrap: int, ratio: float, within: float) -> None:
    typed = {"friction": str(friction), "wrap": f"{wrap}°", "tension": "1 lbf"}
    have = answer("cable_over_seized_pulley", "", "ratio", **typed)
    assert have == pytest.approx(ratio, abs=within)


# --- tension against temperature ---------------------------------------------------------------

MEMORY = {
    "reference": "100 lbf",
    "reference_temperature": "10 °C",
    "temperature": "37.777777778 °C",
    "stiffness": "125000 lbf",
    "structure": "0.00002286 1/K",
    "cable": "0.0000117 1/K",
    "band": "10 %",
}


def test_tension_of_a_cable_in_a_rigid_airframe() -> None:
    # dF = AE (α_a − α_s) dT (from memory): 125,000 lb by a strain of 0.00031 is 38.75 lb at 50 °F.
    have = answer("cable_tension", "lbf", "tension", share="1", **MEMORY)
    assert have == pytest.approx(138.75, abs=1e-4)


DEMO = {
    "reference": "200 N",
    "reference_temperature": "15 °C",
    "stiffness": "400 kN",
    "structure": "0.000023 1/K",
    "cable": "0.0000115 1/K",
    "share": "0.6",
    "band": "10 %",
}


@pytest.mark.parametrize(
    ("temperature", "shown"),
    [(0, "159"), (5, "172"), (10, "186"), (15, "200"), (20, "214"), (25, "228"), (30, "241")],
)
def test_tensions_of_the_demo_circuit(temperature: int, shown: str) -> None:
    # SCENARIO 6.5, no published check: k 0.6.
    came = results("cable_tension", temperature=f"{temperature} °C", **DEMO)
    assert came["tension"].shown == shown


@pytest.mark.parametrize(("temperature", "shown"), [(0, "131"), (30, "269")])
def test_tensions_in_a_rigid_airframe(temperature: int, shown: str) -> None:
    # TRADE C1: k 1.0 gives 4.6 N/K.
    came = results("cable_tension", temperature=f"{temperature} °C", **DEMO | {"share": "1"})
    assert came["tension"].shown == shown


# Callister table B.6, 10⁻⁶ for each kelvin.
STRUCTURES = {
    "aluminium 1100": 23.6, "aluminium 2024": 22.9, "aluminium 6061": 23.6, "aluminium 7075": 23.4,
    "magnesium AZ31B": 26.0, "steel 1020": 11.7, "steel 4140": 12.3, "steel 4340": 12.3,
    "titanium 6Al-4V": 8.6,
}  # fmt: skip
CABLES = {"steel 1020": 11.7, "steel 1040": 11.3, "stainless 304": 17.2, "stainless 316": 15.9}


@pytest.mark.parametrize("structure", STRUCTURES)
@pytest.mark.parametrize("cable", CABLES)
def test_every_pair_of_metals(structure: str, cable: str) -> None:
    typed = {k: v for k, v in DEMO.items() if k not in ("structure", "cable")}
    typed |= {"structure": structure, "cable": cable, "temperature": "25 °C"}
    apart = (STRUCTURES[structure] - CABLES[cable]) * 1e-6
    have = answer("cable_tension_by_metals", "N", "tension", **typed)
    assert have == pytest.approx(200 + 0.6 * 400000 * apart * 10)


def test_a_cold_structure_slackens_the_cable_until_it_is_refused() -> None:
    cold = DEMO | {"share": "1", "reference": "50 N"}
    with pytest.raises(Refusal, match="would be slack"):
        results("cable_tension", temperature="0 °C", **cold)


# --- turnbuckles -------------------------------------------------------------------------------


def test_take_up_of_a_turnbuckle() -> None:
    # Two pitches a turn (from memory): 4 turns at 32 threads take up 1/4 in.
    assert answer("turnbuckle_take_up", "in", threads="32 1/in", turns="4") == pytest.approx(0.25)


def test_turns_make_up_for_the_temperature() -> None:
    # From memory: a steel cable of 240 in in aluminium, 50 °F warmer, is out by 0.0744 in, which
    # at AE 125,000 lb are 38.75 lb.
    typed = {"change": "38.75 lbf", "length": "240 in", "stiffness": "125000 lbf", "share": "1"}
    turns = answer("turnbuckle_turns", "", threads="32 1/in", **typed)
    taken = answer("turnbuckle_take_up", "in", threads="32 1/in", turns=f"{turns:.9f}")
    assert taken == pytest.approx(0.0744, abs=0.0001)


@pytest.mark.parametrize("end", ["first", "second"])
def test_a_fourth_thread_that_shows_is_refused(end: str) -> None:
    # AC 43.13-1B paragraph 7-179 and MIL-F-18372(Aer) 3.1.1.17.9: three at the most.
    typed = {"terminal": "20", "first": "3", "second": "3", "threads": "32 1/in"}
    have = answer("turnbuckle_engagement", "in", "shorter", diameter="0.164 in", **typed)
    assert have == pytest.approx(17 / 32)
    with pytest.raises(Refusal, match="out of range") as caught:
        results("turnbuckle_engagement", diameter="0.164 in", **typed | {end: "4"})
    assert "no more than 3 threads" in caught.value.right


def test_ends_of_a_turnbuckle_by_chance() -> None:
    # Geometry: the end that shows more is less far in, whichever end it is.
    draw = random.Random(3)
    for _ in range(100):
        one, two = sorted((draw.uniform(0, 3), draw.uniform(0, 3)))
        two = min(two, one + 1)
        ends = [f"{one:.6f}", f"{two:.6f}"]
        draw.shuffle(ends)
        have = answer(
            "turnbuckle_engagement", "", "diameters", terminal="16", first=ends[0],
            second=ends[1], threads="20 1/in", diameter="0.25 in",
        )  # fmt: skip
        assert have == pytest.approx((16 - two) / 20 / 0.25, abs=1e-5)


# --- locks -------------------------------------------------------------------------------------

# AC 43.13-1B (9/8/98) table 7-8: cable, wrap, wire, diameter (in); 4 turns by paragraph 7-180.
WIRES = [
    ("1/16 in", "single", "copper or brass", 0.040),
    ("3/32 in", "single", "copper or brass", 0.040),
    ("1/8 in", "single", "stainless steel or Monel", 0.040),
    ("1/8 in", "double", "copper or brass", 0.040),
    ("1/8 in", "single", "copper or brass", 0.057),
    ("5/32 in and more", "double", "stainless steel or Monel", 0.040),
    ("5/32 in and more", "single", "stainless steel or Monel", 0.057),
    ("5/32 in and more", "double", "copper or brass", 0.0512),
]


@pytest.mark.parametrize(("cable", "wrap", "wire", "inches"), WIRES)
def test_every_row_of_the_turnbuckle_wires(cable: str, wrap: str, wire: str, inches: float) -> None:
    typed = {"cable": cable, "wrap": wrap, "wire": wire}
    have = answer("turnbuckle_wire", "in", "spare", used=f"{inches} in", turns="4", **typed)
    assert have == pytest.approx(0, abs=1e-12)
    with pytest.raises(Refusal, match="wire thicker than its row"):
        results("turnbuckle_wire", used=f"{inches - 0.001:.4f} in", turns="4", **typed)
    with pytest.raises(Refusal, match="turns more than the least"):
        results("turnbuckle_wire", used=f"{inches} in", turns="3", **typed)


# TM 1-1500-204-23-6 table 2-19: size, construction, lbf, N.
@pytest.mark.parametrize(
    ("size", "make", "pounds", "newtons"),
    [
        ("0.020 in", "1x7", 30, 133.4),
        ("0.032 in", "3x7", 70, 311.4),
        ("0.040 in", "7x7", 110, 489.3),
    ],
)
def test_every_row_of_the_safety_cable(size: str, make: str, pounds: int, newtons: float) -> None:
    typed = {"cable": size, "construction": make}
    assert answer("safety_cable_crimp", "lbf", pull=f"{pounds} lbf", **typed) == pytest.approx(0)
    have = answer("safety_cable_crimp", "N", pull=f"{newtons + 10} N", **typed)
    assert have == pytest.approx(10, abs=0.1)
    with pytest.raises(Refusal, match="pull over the least"):
        results("safety_cable_crimp", pull=f"{pounds - 1} lbf", **typed)
