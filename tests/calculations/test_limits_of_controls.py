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
