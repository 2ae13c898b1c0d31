"""Where good sources contradict each other: which side is taken, and why. One test a quarrel."""

from __future__ import annotations

import pytest

from generator.calculations import calculations
from generator.quantities.text import read_amount
from generator.tables import table
from tests.calculations.asking import answer, results

CHANNEL = {"thickness": "0.040 in", "radius": "0.16 in", "bend_angle": "90°"}


def test_the_channels_allowance_is_the_formulas_not_the_one_printed_beside_it() -> None:
    # FAA-H-8083-31 step 4 prints 0.27 where its own formula gives 0.279 and its chart 0.273. The
    # formula is taken: it can be worked again at any thickness, and the chart was made with it.
    have = answer("bend_allowance", "in", **CHANNEL)
    assert have == pytest.approx(90 * (0.01743 * 0.16 + 0.0078 * 0.040), rel=1e-12)
    assert abs(have - 0.27) > 0.005


def test_the_factor_on_the_radius_is_the_faas_not_the_navys() -> None:
    # FAA-H-8083-31 prints 0.01743, NAVEDTRA 14018 prints 0.0173, 0.7 % less. An arc of one degree
    # is pi/180 = 0.017453 times its radius, and the FAA's is the nearer to it.
    radius_alone = {"thickness": "0.2 mm", "bend_angle": "90°"}
    short = answer("bend_allowance", "mm", radius="1 mm", **radius_alone)
    long = answer("bend_allowance", "mm", radius="2 mm", **radius_alone)
    assert (long - short) / 90 == pytest.approx(0.01743, rel=1e-9)


def test_no_k_factor_is_taken_for_granted() -> None:
    # Textbooks take 0.33 or 0.50, DIN 6935 a logarithm, tables 0.38 to 0.48 by material. They do
    # not agree, so the factor is asked for: a test strip of the batch gives it.
    factor = next(
        i for i in calculations()["bend_allowance_by_factor"].inputs if i.name == "factor"
    )
    assert factor.kind == "amount"
    assert factor.fact.fixed == ""


# Tensile stress areas of fine threads, in2: Shigley table 8-2.
STRESS_AREAS = {
    "1/4-28": (0.25, 0.0364),
    "5/16-24": (0.3125, 0.0580),
    "3/8-24": (0.375, 0.0878),
    "7/16-20": (0.4375, 0.1187),
    "1/2-20": (0.5, 0.1599),
}


def test_rows_off_the_trend_stand_as_they_are_printed() -> None:
    # In AC 43.13-1B table 7-1 the 3/8-24 row lies far below its neighbours and 7/16-20 far above,
    # by torque over diameter and stress area. An approved table is not smoothed.
    middle = {}
    for row in table("torque")["rows"]:
        if row["thread"] in STRESS_AREAS and row["nut"] == "tension":
            diameter, area = STRESS_AREAS[row["thread"]]
            ends = [read_amount(row[end]).number() for end in ("lower", "upper")]
            middle[row["thread"]] = sum(ends) / 2 / (diameter * area)
    plain = [middle[thread] for thread in ("1/4-28", "5/16-24", "1/2-20")]
    assert middle["3/8-24"] < 0.85 * min(plain)
    assert middle["7/16-20"] > 1.2 * max(plain)


def test_the_table_holds_oil_free_threads_alone() -> None:
    # Torques of lubricated threads and of flare nuts differ between good sources (aluminium tube
    # nuts by a third): there is no row for them until a workshop brings its own specification.
    rows = table("torque")["rows"]
    assert {row["lubrication"] for row in rows} == {"oil-free"}
    assert {row["nut"] for row in rows} == {"tension", "shear"}
    assert len(rows) == len({(row["thread"], row["nut"]) for row in rows}) == 50


def test_strokes_are_not_rounded_up() -> None:
    # 49.09 strokes are 50 whole ones. The bench compares what it counts with a band about the
    # number itself, so the tenth is printed and nothing is rounded up.
    typed = {"volume": "589.05 cm³", "displacement": "12 cm³", "efficiency": "100 %"}
    assert results("hand_pump_strokes", **typed)[""].text == "49.1"
