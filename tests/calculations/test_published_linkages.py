"""Levers and four-bars against what is printed elsewhere and a solver of constraints."""

from __future__ import annotations

import math
import random
from typing import Any

import numpy as np
import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, results

NORTON = {"crank": "40 mm", "coupler": "120 mm", "rocker": "80 mm", "ground": "100 mm"}


@pytest.mark.parametrize(
    ("branch", "rocker", "coupler"), [("open", 57.325, 20.298), ("crossed", -98.008, -60.98)]
)
def test_four_bar_of_a_textbook(branch: str, rocker: float, coupler: float) -> None:
    # Norton, Design of Machinery (from memory): 40, 120, 80 on 100 mm, crank at 40°.
    typed = NORTON | {"angle": "40°", "branch": branch}
    have = [answer("four_bar", "°", name, **typed) for name in ("rocker", "coupler")]
    assert have == pytest.approx([rocker, coupler], abs=0.01)


def solved(bars: list[float], crank: float, guess: tuple[float, float]) -> tuple[float, float]:
    """Coupler and rocker angles by Newton's method on the two equations of the closed loop."""
    a, b, c, d = bars
    x = np.array(guess)
    for _ in range(60):
        loop = np.array([
            a * math.cos(crank) + b * math.cos(x[0]) - c * math.cos(x[1]) - d,
            a * math.sin(crank) + b * math.sin(x[0]) - c * math.sin(x[1]),
        ])  # fmt: skip
        slope = np.array([
            [-b * math.sin(x[0]), c * math.sin(x[1])],
            [b * math.cos(x[0]), -c * math.cos(x[1])],
        ])  # fmt: skip
        more = np.linalg.solve(slope, loop)
        x = x - more
        if abs(more).max() < 1e-13:
            break
    return float(x[0]), float(x[1])


def test_a_thousand_random_four_bars_against_a_solver_of_constraints() -> None:
    # Newton's method on the closed loop (numpy), from the other side of a small error.
    draw = random.Random(1)
    done = refused = 0
    while done < 1000:
        bars = [round(draw.uniform(20, 200), 3) for _ in range(4)]
        angle = round(draw.uniform(-175, 175), 3)
        names = dict(zip(("crank", "coupler", "rocker", "ground"), bars, strict=True))
        typed = {n: f"{each} mm" for n, each in names.items()} | {"angle": f"{angle}°"}
        for branch in ("open", "crossed"):
            far = math.dist(
                (bars[0] * math.cos(math.radians(angle)), bars[0] * math.sin(math.radians(angle))),
                (bars[3], 0),
            )
            meets = abs(bars[1] - bars[2]) <= far <= bars[1] + bars[2]
            try:
                have = [
                    answer("four_bar", "rad", n, branch=branch, **typed)
                    for n in ("coupler", "rocker", "transmission")
                ]
            except Refusal as refusal:
                assert ("dead centre" in refusal.wrong) == meets
                refused += 1
                continue
            assert meets
            guess = (have[0] + 0.03, have[1] - 0.03)
            want = solved(bars, math.radians(angle), guess)
            assert have[:2] == pytest.approx(want, abs=1e-9)
            assert abs(math.sin(have[2])) == pytest.approx(abs(math.sin(want[0] - want[1])))
            done += 1
    assert refused > 100


@pytest.mark.parametrize(("angle", "told"), [("90°", "do not reach at 90.0°"), ("10°", "10.0°")])
def test_links_that_do_not_reach_say_where_they_do(angle: str, told: str) -> None:
    # Law of cosines: 40 and 100 span 70 at 36.87..° and 130 at 133.43°, by hand:
    # cos = (11600 − 4900)/8000 = 0.8375 (33.1°); (11600 − 8100)/8000 = 0.4375 (64.1°).
    links = {"crank": "40 mm", "coupler": "80 mm", "rocker": "10 mm", "ground": "100 mm"}
    with pytest.raises(Refusal, match=told) as caught:
        results("four_bar", angle=angle, branch="open", **links)
    assert caught.value.right == "an angle between 33.1° and 64.1° to either side"


# --- chains of levers --------------------------------------------------------------------------


def stage(**more: Any) -> dict[str, str]:
    return {name: str(each) for name, each in more.items()}


DEMO = [
    stage(driver="85 mm", driver_angle="-90°", driven="70 mm", driven_angle="-90°",
          across="980 mm", up="-15 mm"),
    stage(driver="90 mm", driver_angle="90°", driven="95 mm", driven_angle="90°",
          across="980 mm", up="-5 mm"),
]  # fmt: skip
LONG = [
    {"driver": "85 mm", "driven": "70 mm", "rod": "980 mm"},
    {"driver": "90 mm", "driven": "95 mm", "rod": "980 mm"},
]
# SCENARIO 6.5, no published check: column and elevator.
STRIP = [
    (3, "3.45"), (6, "6.91"), (9, "10.37"), (12, "13.84"), (15, "17.32"), (18, "20.82"),
    (21, "24.35"), (24, "27.90"), (25.5, "29.69"),
]  # fmt: skip
INVERSE = [(5, "4.35"), (10, "8.68"), (15, "13.00"), (20, "17.30"), (25, "21.55"), (28, "24.09")]


@pytest.mark.parametrize(("column", "elevator"), STRIP)
def test_travel_of_the_demo_elevator_by_long_rods(column: float, elevator: str) -> None:
    came = results("travel_by_long_rods", stages=LONG, angle=f"{column}°")
    assert came["last"].shown == elevator


@pytest.mark.parametrize("sign", [1, -1])
@pytest.mark.parametrize(("column", "elevator"), STRIP)
def test_travel_of_the_demo_elevator_as_an_exact_linkage(
    column: float, elevator: str, sign: int
) -> None:
    # SCENARIO 6.0: the exact chain agrees within 0.01° for rods of 980 mm, level at neutral.
    have = answer("control_travel", "°", "last", stages=DEMO, angle=f"{sign * column}°")
    assert have == pytest.approx(sign * float(elevator), abs=0.01)


@pytest.mark.parametrize(("elevator", "column"), INVERSE)
def test_setting_of_the_demo_column(elevator: int, column: str) -> None:
    # The long-rod strip turned round, by the chain itself driven from its other end.
    back = [{"driver": s["driven"], "driven": s["driver"], "rod": s["rod"]} for s in reversed(LONG)]
    came = results("travel_by_long_rods", stages=back, angle=f"{elevator}°")
    assert came["last"].shown == column


def followed(stages: list[dict[str, str]], angle: float) -> float:
    """The chain turned in small steps, each pin brought back to its rod by Newton's method."""
    turned = angle
    for each in stages:
        n = {k: float(v.split()[0].rstrip("°")) for k, v in each.items() if k != "by"}
        one, other = math.radians(n["driver_angle"]), math.radians(n["driven_angle"])

        def square(first: float, second: float, n: dict[str, float] = n, one: float = one,
                   other: float = other) -> float:  # fmt: skip
            x = n["across"] + n["driven"] * math.cos(other + second)
            y = n["up"] + n["driven"] * math.sin(other + second)
            x -= n["driver"] * math.cos(one + first)
            y -= n["driver"] * math.sin(one + first)
            return x * x + y * y

        rod, second = square(0, 0), 0.0
        for step in range(1, 401):
            first = turned * step / 400
            for _ in range(20):
                slope = (square(first, second + 1e-6) - square(first, second - 1e-6)) / 2e-6
                more = (square(first, second) - rod) / slope
                second -= more
                if abs(more) < 1e-13:
                    break
        turned = second
    return turned


def test_random_chains_against_a_solver_that_follows_them() -> None:
    # Newton's method on the length of each rod, in 400 steps from neutral.
    draw = random.Random(2)
    done = 0
    while done < 60:
        stages = [
            stage(driver=f"{draw.uniform(40, 120):.3f} mm", driver_angle=f"{draw.uniform(50, 130):.3f}°",
                  driven=f"{draw.uniform(40, 120):.3f} mm", driven_angle=f"{draw.uniform(-130, 130):.3f}°",
                  across=f"{draw.uniform(150, 600):.3f} mm", up=f"{draw.uniform(-80, 80):.3f} mm")
            for _ in range(draw.randrange(1, 4))
        ]  # fmt: skip
        angle = round(draw.uniform(-25, 25), 3)
        try:
            have = answer("control_travel", "rad", "last", stages=stages, angle=f"{angle}°")
        except Refusal as refusal:
            assert "dead centre" in refusal.wrong or "does not reach" in refusal.wrong
            continue
        assert have == pytest.approx(followed(stages, math.radians(angle)), abs=1e-8)
        ends = [
            answer("control_travel", "rad", "last", stages=stages, angle=f"{angle + d:.6f}°")
            for d in (-0.001, 0.001)
        ]
        ratio = answer("control_travel", "", "ratio", stages=stages, angle=f"{angle}°")
        assert ratio == pytest.approx((ends[1] - ends[0]) / math.radians(0.002), rel=1e-5, abs=1e-6)
        done += 1


def test_setting_and_travel_are_each_others_inverse() -> None:
    for wanted in (-28, -20, -5, 5, 20, 28):
        first = answer("control_setting", "°", "first", stages=DEMO, wanted=f"{wanted}°")
        have = answer("control_travel", "°", "last", stages=DEMO, angle=f"{first:.9f}°")
        assert have == pytest.approx(wanted, abs=1e-6)


ARM = stage(driver="50 mm", driver_angle="90°", driven="100 mm", driven_angle="90°",
            across="400 mm", up="-50 mm")  # fmt: skip
SHORT = stage(driver="100 mm", driver_angle="90°", driven="50 mm", driven_angle="90°",
              across="400 mm", up="50 mm")  # fmt: skip


def test_a_dead_centre_inside_the_travel_is_refused_with_its_angle() -> None:
    # An arm of 100 mm takes one of 50 mm to its dead centre: long rods say at asin(1/2) = 30°, and
    # 15° before it at asin(cos 15° / 2) = 28.9°. With a rod of 400 mm it is near that.
    with pytest.raises(Refusal, match="dead centre") as caught:
        results("control_travel", stages=[SHORT], angle="60°")
    at = float(caught.value.wrong.split("°")[0].removeprefix("at "))
    assert at == pytest.approx(28.9, abs=2.5)
    least = answer("control_travel", "°", "least", stages=[SHORT], angle=f"{at - 0.2:.1f}°")
    assert 15 <= least < 18


def test_a_setting_that_is_never_met_says_how_far_it_goes() -> None:
    with pytest.raises(Refusal, match=r"does not come to 80\.0°: at .*dead centre"):
        results("control_setting", stages=[ARM], wanted="80°")


def test_a_rod_that_does_not_reach_says_at_which_angle() -> None:
    # Both pins lie apart by 10 mm in line with the pivots' line at neutral: no way either side.
    flat = stage(driver="50 mm", driver_angle="0°", driven="50 mm", driven_angle="180°",
                 across="400 mm", up="0 mm")  # fmt: skip
    with pytest.raises(Refusal, match=r"at 0\.0° of the first lever a rod is within 15°"):
        results("control_travel", stages=[flat], angle="5°")


def test_quadrants_turn_by_their_radii() -> None:
    # Geometry: the same cable runs off one and on to the other.
    same = ARM | {"by": "cable"}
    crossed = ARM | {"by": "crossed cable"}
    assert answer("control_travel", "°", "last", stages=[same], angle="40°") == pytest.approx(20)
    have = answer("control_travel", "°", "last", stages=[same, crossed], angle="40°")
    assert have == pytest.approx(-10)
    first = answer("control_setting", "°", "first", stages=[same, crossed], wanted="-10°")
    assert first == pytest.approx(40)


# --- long rods, levers, edges ------------------------------------------------------------------


@pytest.mark.parametrize(("rod", "good"), [("760 mm", True), ("759.9 mm", False)])
def test_short_rods_have_no_long_rod_rule(rod: str, good: bool) -> None:
    # SCENARIO 6.5: deviation to be checked when the rod is shorter than 8 cranks, here of 95 mm.
    stages = [LONG[0], LONG[1] | {"rod": rod}]
    if good:
        assert results("travel_by_long_rods", stages=stages, angle="10°")
        return
    with pytest.raises(Refusal, match="too short for the long-rod rule"):
        results("travel_by_long_rods", stages=stages, angle="10°")


@pytest.mark.parametrize("sign", [1, -1])
def test_long_rods_stop_before_the_dead_centre(sign: int) -> None:
    # TRADE C2: the sine stays below 0.95; arms 70 on 35 reach it at asin(0.475) = 28.36°.
    stages = [{"driver": "70 mm", "driven": "35 mm", "rod": "980 mm"}]
    assert results("travel_by_long_rods", stages=stages, angle=f"{sign * 28.3}°")
    with pytest.raises(Refusal, match="dead centre"):
        results("travel_by_long_rods", stages=stages, angle=f"{sign * 28.4}°")


def test_bellcrank_of_a_textbook() -> None:
    # Lever rule and 2 arcsin(10/60) in closed form (from memory).
    typed = {"arm_in": "60 mm", "arm_out": "90 mm", "travel": "20 mm", "force": "300 N"}
    have = [answer("bellcrank", u, n, **typed) for u, n in
            (("°", "rotation"), ("mm", "travel"), ("N", "force"))]  # fmt: skip
    assert have == pytest.approx([19.188, 30.0, 200], abs=0.001)


def test_differential_of_a_lever_off_square() -> None:
    # 50 (sin 50° − sin 30°) and 50 (sin 30° − sin 10°) in closed form (from memory).
    typed = {"arm": "50 mm", "offset": "30°", "rotation": "20°"}
    have = [answer("bellcrank_differential", "mm", n, **typed) for n in ("fore", "aft")]
    assert have == pytest.approx([13.3, 16.32], abs=0.01)
    with pytest.raises(Refusal, match="nears its dead centre"):
        results("bellcrank_differential", arm="50 mm", offset="40°", rotation="35.1°")


def test_edge_of_a_surface() -> None:
    # 2 r sin(d/2) and r sin d in closed form (from memory): 420 mm, 25°.
    typed = {"chord": "420 mm", "angle": "25°"}
    have = [answer("trailing_edge_travel", "mm", n, **typed) for n in ("chord", "perpendicular")]
    assert have == pytest.approx([181.81, 177.5], abs=0.01)
    back = answer("deflection_from_chord", "°", chord="420 mm", travel=f"{have[0]:.9f} mm")
    assert back == pytest.approx(25)


EDGES = [(5, "27.0"), (10, "54.0"), (15, "80.9"), (20, "107.7"), (25, "134.2"), (28, "150.0")]


@pytest.mark.parametrize(("angle", "shown"), EDGES)
def test_edge_of_the_demo_elevator(angle: int, shown: str) -> None:
    # SCENARIO 6.5, no published check: chords at 310 mm.
    came = results("trailing_edge_travel", chord="310 mm", angle=f"{angle}°")
    assert came["chord"].shown == shown


@pytest.mark.parametrize(("column", "shown"), [("24.09°", 175), ("17.30°", 126)])
def test_column_top_of_the_demo_circuit(column: str, shown: int) -> None:
    # SCENARIO 6.5: the grip at 420 mm moves 175 mm for 28° up and 126 mm for 20° down.
    have = answer("trailing_edge_travel", "mm", "chord", chord="420 mm", angle=column)
    assert have == pytest.approx(shown, abs=0.5)


def test_advantage_of_the_demo_column_falls_along_its_travel() -> None:
    # TRADE C7: 365 at neutral, 353 N·mm/N at the end; the same from the exact chain's ratio.
    for wanted, printed in ((0.001, 365), (28, 353)):
        back = [
            {"driver": s["driven"], "driven": s["driver"], "rod": s["rod"]} for s in reversed(LONG)
        ]
        ends = [
            answer("travel_by_long_rods", "rad", "last", stages=back, angle=f"{wanted + d}°")
            for d in (0.0, 0.001)
        ]
        ratio = math.radians(0.001) / (ends[1] - ends[0])
        have = answer("handle_force", "mm", "advantage", moment="1 N·m", grip="420 mm",
                      ratio=f"{ratio:.9f}")  # fmt: skip
        assert have == pytest.approx(printed, abs=1.5)


LEVERS = [  # Navy, Basic Machines ch. 1 (study cards): ratio of arms, force of the load, effort
    (1 / 5, 50, 10), (1 / 4, 200, 50),
]  # fmt: skip


@pytest.mark.parametrize(("share", "load", "effort"), LEVERS)
def test_levers(share: float, load: int, effort: int) -> None:
    # A lever is a ratio of turnings of one, and a load at its own arm.
    moment = f"{load * share:.6f} lbf·ft"
    have = answer("handle_force", "lbf", "force", moment=moment, grip="12 in", ratio="1")
    assert have == pytest.approx(effort)
