"""A chain of levers as rows, in; angles and lengths measured on its picture, by arithmetic.

The picture finds every pin from the lengths of the rods; its last lever must stand where the
calculation, which goes another way, says it does.
"""

from __future__ import annotations

import cmath
import math
import random
import re

import pytest

from generator.figures import figure
from generator.figures.picture import Circle, Line, Picture, Words
from generator.findings import Refusal
from tests.calculations.asking import results
from tests.figures.measured import collisions, every, outside

DEMO = {
    "stage 1": "85 mm; −90°; 70 mm; −90°; 980 mm; −15 mm; rod",
    "stage 2": "90 mm; −90°; 95 mm; −90°; 980 mm; 5 mm; rod",
    "turned": "24.09°",
    "last": "28.00°",
}


def drawn(rows: dict[str, str], width: float = 108.0) -> Picture:
    return figure("figure", "linkage", rows, width)


def levers(picture: Picture, weight: float) -> list[complex]:
    """The levers of one weight, in order, as the ways from their pivots; up is plus."""
    pivots = [(c.x, c.y) for c in every(picture, Circle) if c.radius == 1.1]
    return [
        complex(ln.x2 - ln.x1, ln.y1 - ln.y2)
        for ln in every(picture, Line)
        if ln.weight == weight and (ln.x1, ln.y1) in pivots
    ]


def turnings(picture: Picture) -> list[float]:
    """By how much each lever is turned between thin and thick, in degrees."""
    pairs = zip(levers(picture, 0.3), levers(picture, 0.6), strict=True)
    return [math.degrees(cmath.phase(after / before)) for before, after in pairs]


def said(picture: Picture) -> str:
    return " ".join(w.text for w in every(picture, Words))


@pytest.mark.parametrize("width", [108.0, 157.0])
def test_the_demo_circuit_can_be_measured(width):
    # SCENARIO 6.5: 24.09° of the column are 28° of the elevator.
    picture = drawn(DEMO, width)
    assert turnings(picture)[0] == pytest.approx(24.09, abs=0.001)
    assert turnings(picture)[-1] == pytest.approx(28.0, abs=0.02)
    scale = float(re.search(r"1 mm is ([\d.]+) mm", said(picture))[1])
    lengths = [abs(lever) * scale for lever in levers(picture, 0.3)]
    assert lengths == pytest.approx([85, 70, 90, 95], rel=0.003)
    assert "rods shorter" in said(picture)
    assert not collisions(picture)
    assert not outside(picture)


def test_rods_to_scale_keep_their_length():
    # A rod of 160 to levers of 80 and 100: nothing is drawn shorter.
    rows = {
        "stage 1": "80 mm; 90°; 100 mm; 90°; 160 mm; 0 mm; rod",
        "turned": "20°", "last": "15.8°",
    }  # fmt: skip
    picture = drawn(rows)
    assert "shorter" not in said(picture)
    pins = [(c.x, c.y) for c in every(picture, Circle) if c.radius == 0.6]
    rods = [
        math.dist((ln.x1, ln.y1), (ln.x2, ln.y2))
        for ln in every(picture, Line)
        if (ln.x1, ln.y1) in pins and (ln.x2, ln.y2) in pins
    ]
    assert len(rods) == 2
    assert rods[0] == pytest.approx(rods[1])


def test_random_chains_stand_where_they_are_worked_out():
    draw, met = random.Random(5), 0
    while met < 40:
        stages = [
            {
                "driver": f"{draw.uniform(40, 120):.2f} mm", "driver_angle": "-90°",
                "driven": f"{draw.uniform(40, 120):.2f} mm",
                "driven_angle": f"{draw.choice((90, -90)) + draw.uniform(-25, 25):.2f}°",
                "across": f"{draw.uniform(200, 900):.2f} mm",
                "up": f"{draw.uniform(-200, 200):.2f} mm",
                "by": draw.choice(("rod", "rod", "cable", "crossed cable")),
            }
            for _ in range(draw.choice((1, 2, 3)))
        ]  # fmt: skip
        turned = f"{draw.uniform(-30, 30):.3f}°"
        try:
            came = results("control_travel", stages=stages, angle=turned)
        except Refusal:
            continue
        met += 1
        rows = {f"stage {n}": "; ".join(s.values()) for n, s in enumerate(stages, 1)}
        picture = drawn(rows | {"turned": turned, "last": came["last"].shown})
        last = math.degrees(came["last"].amount.value)
        assert turnings(picture)[-1] == pytest.approx(last, abs=1e-6)
        assert not outside(picture)
        assert not collisions(picture)


def test_runs_of_cable_touch_both_quadrants_square():
    for by in ("cable", "crossed cable"):
        rows = {"stage 1": f"60 mm; −90°; 30 mm; −90°; 300 mm; 40 mm; {by}"}
        picture = drawn(rows | {"turned": "10°", "last": "20°"})
        wheels = [c for c in every(picture, Circle) if c.weight == 0.3]
        pivots = {(c.x, c.y) for c in wheels}
        runs = [
            ln for ln in every(picture, Line) if ln.weight == 0.3 and (ln.x1, ln.y1) not in pivots
        ]
        assert len(wheels) == len(runs) == 2
        for run in runs:
            a, b = complex(run.x1, run.y1), complex(run.x2, run.y2)
            for wheel, touch in zip(wheels, (a, b), strict=True):
                spoke = touch - complex(wheel.x, wheel.y)
                assert abs(spoke) == pytest.approx(wheel.radius)
                assert (spoke * (b - a).conjugate()).real == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ({"turned": "20°", "last": "20°"}, "without its stages"),
        (DEMO | {"last": ""}, "last turning"),
        (DEMO | {"turned": ""}, "without its turned"),
        (DEMO | {"stage 2": "90 mm; −90°; 95 mm; rod"}, "is no stage"),
        (DEMO | {"stage 2": DEMO["stage 2"].replace("rod", "chain")}, "is no stage"),
        (DEMO | {"turned": "110°"}, "does not reach"),
    ],
)
def test_rows_that_cannot_be_drawn_are_refused(rows, told):
    with pytest.raises(Refusal, match=told):
        drawn(rows)
