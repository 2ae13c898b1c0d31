"""Rods, screws, chains and hinges against what is printed elsewhere; its source beside each."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, results

# --- rods in compression -----------------------------------------------------------------------

TUBE = {
    "outside": "1.0 in",
    "wall": "0.049 in",
    "modulus": "10500 ksi",
    "strength": "42000 psi",
}


def test_long_tube_by_euler() -> None:
    # Euler in closed form (from memory): 48 in, slenderness 142.6, 746.4 lb.
    assert answer("rod_buckling", "", "slenderness", length="48 in", **TUBE) == pytest.approx(
        142.6, abs=0.05
    )
    have = answer("rod_buckling", "lbf", "load", length="48 in", **TUBE)
    assert have == pytest.approx(746.4, rel=0.002)


def test_short_tube_by_johnson() -> None:
    # Johnson in closed form (from memory): 20 in, slenderness 59.4, 26,983 psi, 3950 lb.
    short = TUBE | {"length": "20 in"}
    have = [answer("rod_buckling", u, n, **short) for u, n in
            (("", "slenderness"), ("", "switch"), ("psi", "stress"), ("lbf", "load"))]  # fmt: skip
    assert have == pytest.approx([59.4, 70.25, 26983, 3950], rel=0.002)


def test_rules_meet_at_half_the_yield_stress() -> None:
    # Closed form: 250 MPa and 200 GPa meet at a slenderness of 125.66 and 125 MPa.
    strut = {"area": "1000 mm²", "radius": "10 mm", "modulus": "200 GPa", "strength": "250 MPa"}
    assert answer("column_buckling", "", "switch", length="1000 mm", **strut) == pytest.approx(
        125.66, abs=0.01
    )
    for length in ("1256.63 mm", "1256.64 mm"):
        have = answer("column_buckling", "MPa", "stress", length=length, **strut)
        assert have == pytest.approx(125, abs=0.01)


def test_solid_rod_of_a_textbook() -> None:
    # Faires, problem 334(b): 30,000 ksi, 3 times 10 kip, 50 in: 1.507 in, which at 1.5 in has a
    # slenderness of 133.
    rod = {"length": "50 in", "modulus": "30000 ksi", "strength": "40000 psi"}
    have = answer("rod_buckling", "lbf", "load", outside="1.507 in", wall="0.7535 in", **rod)
    assert have == pytest.approx(30000, rel=4 * 0.0005 / 1.507)
    have = answer("rod_buckling", "", "slenderness", outside="1.5 in", wall="0.75 in", **rod)
    assert have == pytest.approx(133, abs=0.5)


def test_wide_flange_where_yield_governs_is_no_eulers_column() -> None:
    # Hibbeler example 13.2: W200x46, 4 m: Euler says 1887.6 kN (320.5 MPa), the yield stress
    # 1472.5 kN. Johnson lies below both, as it must at a slenderness of 78.
    strut = {"area": "5890 mm²", "radius": f"{math.sqrt(15.3e6 / 5890):.6f} mm"}
    strut |= {"modulus": "200 GPa", "strength": "250 MPa"}
    have = answer("column_buckling", "kN", "load", length="4000 mm", **strut)
    assert have < 1472.5
    assert have == pytest.approx(1472.5 * (1 - 1472.5 / (4 * 1887.6)), abs=0.5)
    # Twice as long it is Euler's, a quarter of the printed load.
    have = answer("column_buckling", "kN", "load", length="8000 mm", **strut)
    assert have == pytest.approx(1887.6 / 4, abs=0.1)


ROD = {"outside": "22.2 mm", "wall": "0.914 mm", "modulus": "72.4 GPa", "strength": "270 MPa"}


def test_rod_of_the_demo_circuit() -> None:
    # SCENARIO 6.5, no published check: 980 mm, slenderness 130, 2580 N.
    have = results("rod_buckling", length="980 mm", **ROD)
    assert have["load"].amount is not None
    assert have["load"].amount.number() == pytest.approx(2580, abs=5)
    assert have["slenderness"].amount is not None
    assert have["slenderness"].amount.number() == pytest.approx(130, abs=0.5)


def loaded_by_equilibrium(load: float, bow: float) -> float:
    """Mid-span bow of the demo rod from equilibrium at 2000 points: no formula of a bow in it."""
    outside, inside = 0.0222, 0.0222 - 2 * 0.000914
    stiff = 72.4e9 * math.pi / 64 * (outside**4 - inside**4)
    n, length = 2000, 0.98
    h = length / n
    x = np.linspace(h, length - h, n - 1)
    start = bow * np.sin(math.pi * x / length)
    matrix = np.zeros((n - 1, n - 1))
    np.fill_diagonal(matrix, -2 / h**2 + load / stiff)
    np.fill_diagonal(matrix[1:], 1 / h**2)
    np.fill_diagonal(matrix[:, 1:], 1 / h**2)
    more = np.linalg.solve(matrix, -load / stiff * start)
    return float(start[n // 2 - 1] + more[n // 2 - 1])


@pytest.mark.parametrize("load", [300, 1500, 2200])
def test_bow_against_equilibrium(load: int) -> None:
    # numpy 2, the beam's equation at 2000 points.
    have = answer("rod_with_bow", "mm", "bow", length="980 mm", bow="1 mm", load=f"{load} N", **ROD)
    assert have == pytest.approx(1000 * loaded_by_equilibrium(load, 0.001), rel=1e-4)


def test_a_load_near_eulers_is_refused() -> None:
    with pytest.raises(Refusal, match="a bow runs away"):
        results("rod_with_bow", length="980 mm", bow="1 mm", load="2330 N", **ROD)


def test_rod_end_against_its_witness_hole() -> None:
    # TM 1-1500-204-23-1: the thread must show in the hole. Geometry: 30 − 17 is just enough.
    typed = {"thread": "30 mm", "hole": "13 mm", "diameter": "8 mm", "times": "1"}
    assert answer("rod_end_engagement", "mm", "past", showing="17 mm", **typed) == pytest.approx(
        0, abs=1e-9
    )
    with pytest.raises(Refusal, match="beyond what must be in"):
        results("rod_end_engagement", showing="17.1 mm", **typed)
    thick = typed | {"diameter": "14 mm"}
    assert answer("rod_end_engagement", "mm", "least", showing="10 mm", **thick) == pytest.approx(
        14
    )


# --- screws ------------------------------------------------------------------------------------

DEMO_TAB = {"arm": "32 mm", "pitch": "1.25 mm", "starts": "1", "ratio": "2.5"}


@pytest.mark.parametrize(
    ("angle", "screw", "wheel"),
    [
        ("2.5", None, "2.79"), ("5", "2.23", "5.58"), ("7.5", None, "8.35"),
        ("10", "4.45", "11.11"), ("12.5", None, "13.85"), ("15", "6.63", "16.56"),
    ],
)  # fmt: skip
def test_turns_of_the_demo_tab(angle: str, screw: str | None, wheel: str) -> None:
    # SCENARIO 6.5 and TRADE C5, no published check.
    came = results("tab_turns", angle=f"{angle}°", **DEMO_TAB)
    assert came["wheel"].shown == wheel
    assert screw is None or came["screw"].shown == screw


def test_a_screw_of_two_starts_moves_twice_its_pitch() -> None:
    # Ball-screw glossary: pitch 2 mm, two starts, 7.5 turns move 30 mm.
    typed = {"angle": "30°", "arm": "60 mm", "pitch": "2 mm", "ratio": "1"}
    assert answer("tab_turns", "", "screw", starts="2", **typed) == pytest.approx(7.5)
    assert answer("tab_turns", "", "screw", starts="1", **typed) == pytest.approx(15)


def test_advantage_of_a_screw() -> None:
    # Encyclopedia, Screw: 2 π r n, 10 in and 4 threads give 251.33.
    have = answer("screw_advantage", "", radius="10 in", pitch="0.25 in", starts="1")
    assert have == pytest.approx(251.33, abs=0.01)
    # Navy, Basic Machines NAVEDTRA 14037 ch. 5 (from memory) takes π as 3.14: 602.88.
    have = answer("screw_advantage", "", radius="24 in", pitch="0.25 in", starts="1")
    assert have * 3.14 / math.pi == pytest.approx(602.88, abs=0.001)


def test_the_demo_tab_locks_itself() -> None:
    # TRADE C6: 2.44° below 9.8° at μ 0.15.
    typed = {"pitch": "1.25 mm", "mean": "9.34 mm", "friction": "0.15", "flank": "60°"}
    have = [answer("screw_self_locking", "°", n, starts="1", **typed) for n in
            ("lead_angle", "friction_angle")]  # fmt: skip
    assert have == pytest.approx([2.44, 9.83], abs=0.005)
    with pytest.raises(Refusal, match="lead angle over friction angle") as caught:
        results("screw_self_locking", starts="3", **typed)
    assert "add a lock" in caught.value.right


def test_thread_left_at_both_ends() -> None:
    # Geometry with sin 30° = 1/2: the screw runs out by 16 and in by 16 mm.
    typed = {"outwards": "30°", "inwards": "30°", "arm": "32 mm", "pitch": "1.25 mm", "starts": "1"}
    typed |= {"diameter": "10 mm", "times": "1"}
    came = results("screw_thread_left", engaged="26 mm", room="16 mm", **typed)
    assert [came[n].shown for n in ("outer", "inner", "spare")] == ["10.0", "0.0", "0.0"]
    assert [came[n].shown for n in ("turns_out", "turns_in")] == ["12.8", "12.8"]
    for less in ({"engaged": "25.9 mm", "room": "16 mm"}, {"engaged": "26 mm", "room": "15.9 mm"}):
        with pytest.raises(Refusal):
            results("screw_thread_left", **typed, **less)


# --- chains and drums --------------------------------------------------------------------------


def test_chain_wheels() -> None:
    # From memory: 12 teeth on 30, 2.5 turns. Technology course page: 60 rpm, 18 on 45, 24 rpm.
    assert answer("chain_ratio", "", "turns", driver="12", driven="30", turns="2.5") == 1
    assert answer("chain_ratio", "°", "angle", driver="12", driven="30", turns="2.5") == (
        pytest.approx(360)
    )
    assert answer("chain_ratio", "", "turns", driver="18", driven="45", turns="60") == (
        pytest.approx(24)
    )


def test_travel_of_chain_and_cable() -> None:
    # From memory: z p n is 90.0 mm; r θ of 75 mm and 60° is 78.54 mm.
    assert answer("chain_travel", "mm", teeth="9", pitch="8 mm", turns="1.25") == pytest.approx(90)
    have = answer("drum_travel", "mm", radius="75 mm", rotation="60°")
    assert have == pytest.approx(78.54, abs=0.001)
    back = answer("drum_turns", "", "turns", travel=f"{have:.9f} mm", radius="75 mm", wraps="1")
    assert back == pytest.approx(60 / 360)


# --- hinges and balance ------------------------------------------------------------------------


def test_friction_of_the_demo_elevator() -> None:
    # SCENARIO 6.5, no published check: 10.3 and 8.9 N at 268 mm are 2.57 ± 0.19 N·m.
    came = results("hinge_friction", up="10.3 N", down="8.9 N", arm="268 mm")
    assert [came[n].shown for n in ("moment", "friction")] == ["2.57", "0.19"]


BALANCES = [  # aircraft maintenance study notes, flight controls balancing: lb, in, in·lb
    (0.75, 3, 2.25), (1.5, 3, 4.5), (8.5, 5, 42.5), (0.25, 10, 2.5),
]  # fmt: skip


@pytest.mark.parametrize(("weight", "arm", "moment"), BALANCES)
@pytest.mark.parametrize("sign", [1, -1])
def test_moment_of_a_surface_has_its_sign(
    weight: float, arm: float, moment: float, sign: int
) -> None:
    piece = {"mass": f"{weight} lb", "arm": f"{sign * arm} in"}
    have = answer("static_balance", "lb·in", "moment", pieces=[piece])
    assert have == pytest.approx(sign * moment)


def test_nose_heaviness_from_a_scale() -> None:
    # Shop manual's formula D (W − S), chosen numbers: 10 in, 1.35 and 1.25 lb give 1.0 lb·in.
    typed = {"reading": "1.35 lb", "spindle": "1.25 lb", "distance": "10 in"}
    assert answer("nose_heaviness", "lb·in", **typed) == pytest.approx(1.0)
    with pytest.raises(Refusal, match="moment, nose heavy") as caught:
        results("nose_heaviness", **typed | {"reading": "1.2 lb"})
    assert "trailing edge heavy" in caught.value.right


def test_ballast_brings_the_wanted_moment() -> None:
    # Geometry, closed by the balance itself: what is put in changes the sum as it should.
    draw = random.Random(5)
    for _ in range(100):
        pieces = [
            {"mass": f"{draw.uniform(0.1, 3):.4f} kg", "arm": f"{draw.uniform(-80, 200):.2f} mm"}
            for _ in range(4)
        ]
        moment = answer("static_balance", "kg·cm", "moment", pieces=pieces)
        wanted, ahead = draw.uniform(-3, 3), draw.uniform(20, 200)
        mass = answer(
            "balance_mass", "kg", "mass", moment=f"{moment:.9f} kg·cm",
            wanted=f"{wanted:.9f} kg·cm", arm=f"{ahead:.6f} mm", surface="5 kg",
        )  # fmt: skip
        if mass > 0:
            pieces.append({"mass": f"{mass:.9f} kg", "arm": f"{-ahead:.6f} mm"})
            again = answer("static_balance", "kg·cm", "moment", pieces=pieces)
            assert again == pytest.approx(wanted, abs=1e-5)
