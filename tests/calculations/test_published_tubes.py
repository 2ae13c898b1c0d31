"""Hydraulic tube against what is printed elsewhere; the source stands beside each check."""

from __future__ import annotations

import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, results

# Pressure rating of hydraulic tubing, course note (2001): S 50 ksi, factor 4; od, wall, psi.
# The table is rounded to 50 psi.
WORKING = [
    (0.25, 0.028, 2800),
    (0.25, 0.035, 3500),
    (0.25, 0.049, 4900),
    (0.375, 0.035, 2350),
    (0.375, 0.049, 3250),
    (0.5, 0.035, 1750),
    (0.5, 0.065, 3250),
    (0.625, 0.049, 1950),
    (0.75, 0.095, 3150),
    (1.0, 0.12, 3000),
]


@pytest.mark.parametrize(("outside", "wall", "psi"), WORKING)
def test_working_pressure_by_barlow(outside: float, wall: float, psi: int) -> None:
    typed = {"outside": f"{outside} in", "wall": f"{wall} in", "strength": "50000 psi"}
    have = answer("tube_pressure", "psi", "working", factor="4", **typed)
    assert have == pytest.approx(psi, abs=50)


@pytest.mark.parametrize(
    ("rule", "psi"), [("barlow", 9800.0), ("boardman", 10633.7), ("lame", 10738.0)]
)
def test_bursting_by_three_rules(rule: str, psi: float) -> None:
    # The same note's formulas with its own figures (closed form): 1/2 by 0.049 in, 50 ksi.
    typed = {"outside": "0.5 in", "wall": "0.049 in", "strength": "50000 psi", "factor": "4"}
    assert answer("tube_pressure", "psi", rule, **typed) == pytest.approx(psi, abs=0.1)


def test_mean_of_the_thin_rules_is_the_mean_diameter() -> None:
    # Textbook (from memory): p D_m / 2t is 100 MPa for 10 MPa, 20 mm and 1 mm.
    typed = {"outside": "21 mm", "wall": "1 mm", "pressure": "100 bar g"}
    inner, outer = (answer("tube_hoop_stress", "MPa", n, **typed) for n in ("inside", "outside"))
    assert (inner + outer) / 2 == pytest.approx(100)


def test_stress_of_the_demo_pipe() -> None:
    # SCENARIO 6.4, no published check: 9.53 × 0.91 at 105 bar is 44.5, 55.0 and 50.3 MPa.
    typed = {"outside": "9.53 mm", "wall": "0.91 mm", "pressure": "105 bar g"}
    have = [answer("tube_hoop_stress", "MPa", n, **typed) for n in ("inside", "outside", "thick")]
    assert have == pytest.approx([44.5, 55.0, 50.3], abs=0.05)
    assert answer("tube_hoop_stress_thick", "MPa", **typed) == pytest.approx(have[2])


# AC 43.13-1B table 9-2 (from memory): tube, aluminium alloy, steel (in; 0: no row).
BENDS = [
    ("1/8", 3 / 8, 0),
    ("3/16", 7 / 16, 21 / 32),
    ("1/4", 9 / 16, 7 / 8),
    ("5/16", 3 / 4, 1 + 1 / 8),
    ("3/8", 15 / 16, 1 + 5 / 16),
    ("1/2", 1 + 1 / 4, 1 + 3 / 4),
    ("5/8", 1 + 1 / 2, 2 + 3 / 16),
    ("3/4", 1 + 3 / 4, 2 + 5 / 8),
    ("1", 3, 3 + 1 / 2),
    ("1-1/4", 3 + 3 / 4, 4 + 3 / 8),
    ("1-1/2", 5, 5 + 1 / 4),
]
DIAMETERS = {"1": 1.0, "1-1/4": 1.25, "1-1/2": 1.5}


@pytest.mark.parametrize(("tube", "soft", "steel"), BENDS)
def test_every_row_of_the_bend_table(tube: str, soft: float, steel: float) -> None:
    diameter = DIAMETERS.get(tube) or int(tube.split("/")[0]) / int(tube.split("/")[1])
    for metal, radius in (("aluminium alloy", soft), ("steel", steel)):
        typed = {"tube": f"{tube} in", "metal": metal, "radius": "6 in"}
        if not radius:
            with pytest.raises(Refusal, match="no row"):
                results("tube_bend", **typed)
            continue
        assert answer("tube_bend", "in", "radius", **typed) == pytest.approx(radius)
        # FAA AMT handbook, rigid lines: 75 % of the outside diameter.
        assert answer("tube_bend", "in", "across", **typed) == pytest.approx(0.75 * diameter)
        with pytest.raises(Refusal, match="radius above the least"):
            results("tube_bend", **typed | {"radius": f"{radius - 0.01:.9f} in"})


# NAVEDTRA 14018 table 6-6: tube, then wall and least bore of three metals (in).
METALS = ("aluminium 6061", "stainless steel 1/8 hard", "stainless steel annealed")
BORES = [
    ("1/8", 0.06, 0.07, 0.06),
    ("3/16", 0.095, 0.11, 0.115),
    ("1/4", 0.15, 0.165, 0.155),
    ("5/16", 0.18, 0.225, 0.225),
    ("3/8", 0.24, 0.29, 0.27),
    ("1/2", 0.33, 0.4, 0.38),
    ("5/8", 0.42, 0.485, 0.475),
    ("3/4", 0.53, 0.61, 0.59),
    ("1", 0.83, 0.84, 0.8),
]


@pytest.mark.parametrize(("tube", "bores"), [(t, b) for t, *b in BORES])
def test_every_row_of_the_bore_table(tube: str, bores: list[float]) -> None:
    for metal, bore in zip(METALS, bores, strict=True):
        typed = {"tube": f"{tube} in", "metal": metal}
        have = answer("tube_bore", "in", bore=f"{bore + 0.01:.3f} in", **typed)
        assert have == pytest.approx(0.01, abs=1e-9)
        with pytest.raises(Refusal, match="bore above the least"):
            results("tube_bore", bore=f"{bore - 0.001:.4f} in", **typed)


# TM 55-1520-240-23-1 paragraph 1-13 and TM 55-1730-229-12: aluminium, steel, hose (lbf·in).
MANUAL = [
    ("1/4", (50, 65), (135, 150), (100, 120)),
    ("3/8", (100, 125), (270, 300), (210, 250)),
    ("1/2", (210, 250), (450, 500), (340, 420)),
    ("5/8", (300, 350), (650, 700), (400, 480)),
    ("3/4", (425, 500), (900, 1000), (725, 850)),
    ("1", (600, 700), (1200, 1400), (900, 1150)),
    ("1-1/4", (680, 800), (1200, 1400), (950, 1150)),
]
# AC 43.13-1B table 9-2 (from memory): aluminium, steel.
CIRCULAR = [
    ("1/4", (40, 65), (135, 150)),
    ("5/16", (60, 80), (180, 200)),
    ("3/8", (75, 125), (270, 300)),
    ("1/2", (150, 250), (450, 500)),
    ("5/8", (200, 350), (650, 700)),
    ("3/4", (300, 500), (900, 1000)),
    ("1", (500, 700), (1200, 1400)),
    ("1-1/4", (600, 900), (1200, 1400)),
]
FITTINGS = ("nut on aluminium tube", "nut on steel tube", "nut of a hose")
TORQUES = [
    (table, tube, fitting, ends)
    for table, rows in (("TM 55-1520-240-23-1", MANUAL), ("AC 43.13-1B table 9-2", CIRCULAR))
    for tube, *all_ends in rows
    for fitting, ends in zip(FITTINGS, all_ends, strict=False)
]


@pytest.mark.parametrize(("table", "tube", "fitting", "ends"), TORQUES)
def test_every_row_of_the_flare_tables(
    table: str, tube: str, fitting: str, ends: tuple[int, int]
) -> None:
    typed = {"table": table, "tube": f"{tube} in", "fitting": fitting}
    have = [answer("flare_nut_torque", "lbf·in", f"allowed.{e}", **typed) for e in ("from", "to")]
    assert have == pytest.approx(ends)
    assert answer("flare_nut_torque", "lbf·in", "aim", **typed) == pytest.approx(sum(ends) / 2)


def test_the_two_tables_contradict_each_other_on_aluminium_tube_alone() -> None:
    # Where they disagree the lead names the table; on steel they are the same.
    circular = {tube: rest for tube, *rest in CIRCULAR}
    for tube, soft, steel, _ in MANUAL:
        assert circular[tube][1] == steel
        assert circular[tube][0] != soft
