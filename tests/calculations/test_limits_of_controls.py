"""Limits inside the workings of hydraulics and controls, from just inside and just outside.

As in test_limits_of_steps: the name of each row begins with its calculation.
"""

from __future__ import annotations

import pytest

from tests.calculations.test_limits_of_steps import COMMON, GEOMETRY, Limit, told

MAKER = "accumulator maker's selection notes: p1/p0 from 1.1, p2/p0 up to 4 for a bladder"
WINDOW = "TRADE Y5 and issue 8: refused outside the window of the measured stiffness"

RIG = {"stiffness": "9 bar/K", "largest": "0.5 K", "thermometer": "0.1 K", "start": "70 bar g"}
PROBES = {"start": "50 bar g", "count_pressure": "0.1 bar", "count_temperature": "0.1 K"}
COLD = PROBES | {"start_temperature": "17 °C", "end_temperature": "19 °C"}
BOTTLE = {"size": "10 L", "precharge": "100 bar a"}
TUBE = {"outside": "10 mm", "pressure": "100 bar g"}
STEEL = {"outside": "10 mm", "strength": "350 MPa", "factor": "4"}
TIGHT = {
    "reference": "50 N", "reference_temperature": "15 °C", "stiffness": "400 kN", "band": "10 %",
    "structure": "0.000023 1/K", "cable": "0.0000115 1/K", "share": "1",
}  # fmt: skip
METALS = {
    "reference": "20 N", "reference_temperature": "15 °C", "stiffness": "400 kN", "band": "10 %",
    "structure": "aluminium 2024", "cable": "steel 1020", "share": "1",
}  # fmt: skip
BARREL = {"terminal": "20", "threads": "32 1/in", "diameter": "4 mm"}
SHEAVE = {"cable": "1/8 in", "pulley": "10 in", "strength": "2000 lbf"}
SMALL = {"cable": "1/8 in", "load": "20 lbf", "strength": "2000 lbf"}
ROD = {"outside": "20 mm", "wall": "1 mm", "modulus": "72 GPa", "strength": "270 MPa"}
THIN = {"wall": "0.4 mm", "length": "300 mm", "modulus": "72 GPa", "strength": "270 MPa"}
BOW = {"length": "500 mm", "bow": "0.1 mm", "load": "100 N"}
STRUT = {"area": "100 mm²", "radius": "5 mm", "modulus": "72 GPa", "strength": "270 MPa"}
END = {"thread": "30 mm", "hole": "13 mm", "diameter": "8 mm", "times": "1"}
RODS = [{"driver": "50 mm", "driven": "50 mm", "rod": "400 mm"}]
OVER = [{"driver": "50 mm", "driven": "50 mm", "rod": "399.9 mm"}]
WIDE = [{"driver": "50.1 mm", "driven": "50 mm", "rod": "400 mm"}]
LATE = [{"driver": "50 mm", "driven": "50.1 mm", "rod": "400 mm"}]
CRANK = {"arm_in": "60 mm", "arm_out": "90 mm", "force": "300 N"}
DOORS = {
    "leg": "0°", "first_open": "95°", "first_closed": "92°", "second_open": "90°",
    "second_begins": "84°", "second_closed": "94°", "wanted": "1°",
}  # fmt: skip
SCENARIO = "SCENARIO 6.5: long-rod rule down to 8 cranks"
SLENDER = "common practice, no source: struts up to a slenderness of 200"
CRIPPLE = "common practice, no source: a round tube of D/t up to 50 fails as a whole"

LIMITS = [
    Limit("rig_stiffness", COLD, "end", "60 bar g", "50 bar g", "did not rise", GEOMETRY),
    Limit("rig_stiffness", COLD, "end", "60 bar g", "49.9 bar g", "did not rise", GEOMETRY),
    Limit(
        "rig_stiffness", PROBES | {"end": "60 bar g", "start_temperature": "17 °C"},
        "end_temperature", "18 °C", "17 °C", "warm the rig", GEOMETRY,
    ),
    Limit(
        "rig_stiffness", PROBES | {"end": "60 bar g", "start_temperature": "17 °C"},
        "end_temperature", "17.53 °C", "17.52 °C", "doubt that one count", COMMON,
    ),
    Limit(
        "trapped_liquid_loss", RIG | {"end": "70 bar g", "start_temperature": "17 °C"},
        "end_temperature", "17.5 °C", "17.501 °C", "more than the rig's", WINDOW,
    ),
    Limit(
        "trapped_liquid_loss", RIG | {"end": "70 bar g", "start_temperature": "17 °C"},
        "end_temperature", "16.5 °C", "16.499 °C", "more than the rig's", WINDOW,
    ),
    Limit(
        "trapped_liquid_readings", RIG | {"allowed": "3 bar"},
        "change", "0.5 K", "0.501 K", "more than the rig's", WINDOW,
    ),
    Limit(
        "trapped_liquid_readings", RIG | {"allowed": "3 bar"},
        "change", "-0.5 K", "-0.501 K", "more than the rig's", WINDOW,
    ),
    Limit(
        "trapped_liquid_readings", RIG | {"change": "0 K"},
        "allowed", "1.8 bar", "1.799 bar", "more than the loss", WINDOW,
    ),
    Limit(
        "accumulator_volume", BOTTLE | {"most": "300 bar a"},
        "least", "110 bar a", "109.9 bar a", "the bladder meets its valve", MAKER,
    ),
    Limit(
        "accumulator_volume", BOTTLE | {"least": "150 bar a"},
        "most", "400 bar a", "400.1 bar a", "the bladder is crushed", MAKER,
    ),
    Limit(
        "accumulator_volume", BOTTLE | {"least": "150 bar a"},
        "most", "150.1 bar a", "150 bar a", "above the least by 0 bar", GEOMETRY,
    ),
    Limit(
        "tube_hoop_stress", TUBE, "wall", "1 mm", "1.001 mm", "the thin rules hold up to 0.1",
        "TRADE Y8 and textbooks: thin means a wall of less than a tenth of the diameter",
    ),
    Limit("tube_hoop_stress_thick", TUBE, "wall", "4.99 mm", "5 mm", "the wall is half", GEOMETRY),
    Limit("tube_pressure", STEEL, "wall", "4.99 mm", "5 mm", "the wall is half", GEOMETRY),
    Limit("cable_tension", TIGHT, "temperature", "4.2 °C", "4.1 °C", "would be slack", GEOMETRY),
    Limit(
        "cable_tension_by_metals", METALS, "temperature", "10.6 °C", "10.5 °C", "would be slack",
        GEOMETRY,
    ),
    Limit(
        "turnbuckle_engagement", BARREL | {"first": "1"}, "second", "2", "2.001",
        "threads more than the other", COMMON,
    ),
    Limit(
        "turnbuckle_engagement", BARREL | {"second": "1"}, "first", "2", "2.001",
        "threads more than the other", COMMON,
    ),
    Limit(
        "pulley_diameter", SHEAVE, "load", "400 lbf", "400.1 lbf", "ends at 20 %",
        "MIL-F-18372(Aer), table of sheave ratios",
    ),
    Limit(
        "pulley_diameter", SMALL, "pulley", "1.25 in", "1.249 in", "pulley above the least",
        "MIL-F-18372(Aer), table of sheave ratios: 10 at 1 %",
    ),
    Limit("rod_buckling", ROD, "length", "1340 mm", "1350 mm", "is beyond 200", SLENDER),
    Limit("rod_buckling", THIN, "outside", "20 mm", "20.01 mm", "from 2 (solid) to 50", CRIPPLE),
    Limit(
        "rod_buckling", ROD | {"length": "300 mm"}, "wall", "10 mm", "10.01 mm",
        "from 2 (solid) to 50", GEOMETRY,
    ),
    Limit(
        "rod_with_bow", ROD | {"bow": "0.1 mm", "load": "100 N"}, "length", "1340 mm", "1350 mm",
        "is beyond 200", SLENDER,
    ),
    Limit(
        "rod_with_bow", BOW | {k: v for k, v in ROD.items() if k != "outside"} | {"wall": "0.4 mm"},
        "outside", "20 mm", "20.01 mm", "from 2 (solid) to 50", CRIPPLE,
    ),
    Limit(
        "rod_with_bow", ROD | {"length": "1000 mm", "bow": "0 mm"}, "load", "1720 N", "1732 N",
        "a bow runs away", COMMON,
    ),
    Limit("column_buckling", STRUT, "length", "1000 mm", "1000.1 mm", "is beyond 200", SLENDER),
    Limit("rod_end_engagement", END, "showing", "17 mm", "17.01 mm", "beyond what must", COMMON),
    Limit(
        "rod_end_engagement", END | {"showing": "0 mm"}, "hole", "30 mm", "30.01 mm",
        "too short for this rod", GEOMETRY,
    ),
    Limit(
        "screw_self_locking",
        {"pitch": "1.25 mm", "starts": "1", "mean": "9.34 mm", "flank": "60°"},
        "friction", "0.075", "0.07", "lead angle over friction angle", COMMON,
    ),
    Limit(
        "hinge_friction", {"down": "8.9 N", "arm": "268 mm"}, "up", "8.9 N", "8.89 N",
        "the readings are swapped", GEOMETRY,
    ),
    Limit("travel_by_long_rods", {"angle": "10°"}, "stages", RODS, OVER, "too short", SCENARIO),
    Limit("travel_by_long_rods", {"angle": "10°"}, "stages", RODS, WIDE, "too short", SCENARIO),
    Limit("travel_by_long_rods", {"angle": "10°"}, "stages", RODS, LATE, "too short", SCENARIO),
    Limit(
        "deflection_from_chord", {"chord": "100 mm"}, "travel", "141.42 mm", "141.43 mm",
        "up to 90°", GEOMETRY,
    ),
    Limit("bellcrank", CRANK, "travel", "114 mm", "114.01 mm", "dead centre", "TRADE C2: 0.95"),
    Limit(
        "bellcrank_differential", {"arm": "50 mm", "offset": "40°"}, "rotation", "35°", "35.01°",
        "nears its dead centre", "TRADE C2: within 15° of a dead centre",
    ),
    Limit(
        "over_centre", {"first": "100 mm", "end_pin": "5 mm", "knee_pin": "5 mm",
                        "friction": "0.1", "second": "500 mm"},
        "offset", "30 mm", "30.01 mm", "but a bent knee", COMMON,
    ),
    Limit(
        "over_centre", {"first": "500 mm", "end_pin": "5 mm", "knee_pin": "5 mm",
                        "friction": "0.1", "second": "100 mm"},
        "offset", "30 mm", "30.01 mm", "but a bent knee", COMMON,
    ),
    # Pythagoras: links of 260 and 310, one of them square to the line at 168.81943 mm.
    Limit(
        "over_centre_from_distance",
        {"first": "260 mm", "second": "310 mm", "count": "0.01 mm", "tolerance": "5 mm"},
        "distance", "168.8197 mm", "168.8194 mm", "no lock near", GEOMETRY,
    ),
    Limit(
        "over_centre_from_distance",
        {"first": "310 mm", "second": "260 mm", "count": "0.01 mm", "tolerance": "5 mm"},
        "distance", "168.8197 mm", "168.8194 mm", "no lock near", GEOMETRY,
    ),
    Limit("doors_by_leg", DOORS, "first_begins", "91.5°", "91.51°", "half a degree", COMMON),
    Limit("rig_stiffness", COLD | {"count_pressure": "0.01 bar"}, "end", "50.5 bar g", "50 bar g",
          "did not rise", GEOMETRY),
]  # fmt: skip
CASES = [
    pytest.param(limit, id=f"{limit.calculation}-{limit.name}-{number}")
    for number, limit in enumerate(LIMITS)
]


@pytest.mark.parametrize("limit", CASES)
def test_inside_the_limit_it_is_worked_out(limit: Limit) -> None:
    assert told(limit, limit.inside) is None, limit.source


@pytest.mark.parametrize("limit", CASES)
def test_outside_the_limit_it_is_refused(limit: Limit) -> None:
    refusal = told(limit, limit.outside)
    assert refusal is not None, limit.source
    assert refusal.code == "range"
    assert limit.told in refusal.wrong
