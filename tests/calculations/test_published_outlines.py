"""Clearance of two outlines against geometry, the wheel's own sweep and brute force (numpy)."""

from __future__ import annotations

import math
import random
from typing import Any

import numpy as np
import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, results


def corners(places: list[tuple[float, float]]) -> list[dict[str, str]]:
    return [{"across": f"{x:.6f} mm", "up": f"{y:.6f} mm"} for x, y in places]


REST = {"wanted": "1 mm", "drawing": "0 mm"}
STILL = {
    "turns": "0°",
    "start": "-180°",
    "end": "-179°",
    "hinge_across": "0 mm",
    "hinge_up": "0 mm",
}


def test_a_tyre_of_many_corners_has_the_gap_of_the_tyre() -> None:
    # SCENARIO 6.4 at a trigger of 80°: 16.2 mm at 83.9°. The same outline, drawn by 160 corners,
    # which cut off up to 0.04 mm: the sides near the end are 4 mm long on a radius of 50 mm.
    ring = []
    for n in range(40):
        share = 1 - (1 - n / 40) ** 2
        ring.append((285 * share, 58 * math.sqrt(1 - share**6)))
    ring.append((285.0, 0.0))
    half = ring + [(x, -y) for x, y in reversed(ring[:-1])]
    whole = half + [(-x, y) for x, y in reversed(half[1:-1])]
    tyre = [(y, -(820 + x)) for x, y in whole]
    opening = math.radians(95)
    door = [(0.0, 0.0), (-330 * math.cos(opening), -330 * math.sin(opening))]
    typed: dict[str, Any] = {
        "first": corners(tyre), "second": corners(door), "hinge_across": "1130 mm",
        "hinge_up": "-95 mm", "turns": "-95°", "start": "80°", "end": "92°", "from_turned": "82°",
        "to_turned": "86°",
    }  # fmt: skip
    assert answer("outline_clearance", "mm", "gap", **typed, **REST) == pytest.approx(
        16.225, abs=0.04
    )
    assert answer("outline_clearance", "°", "at", **typed, **REST) == pytest.approx(83.9, abs=0.1)


def test_a_square_turning_in_front_of_a_wall() -> None:
    # Geometry: its corner stands out by half the diagonal, 10 √2 mm, of the 20 mm to the wall.
    square = corners([(-10, -10), (10, -10), (10, 10), (-10, 10)])
    wall = corners([(20, -50), (20, 50)])
    sweep = {"from_turned": "0°", "to_turned": "90°"}
    have = answer(
        "outline_clearance", "mm", "gap", first=square, second=wall, **STILL, **sweep, **REST
    )
    assert have == pytest.approx(20 - 10 * math.sqrt(2), abs=1e-6)
    at = answer("outline_clearance", "°", "at", first=square, second=wall, **STILL, **sweep, **REST)
    assert at == pytest.approx(45, abs=1e-3)


def test_a_hollow_outline_is_no_hull() -> None:
    # Geometry: a pin of 1 mm half width stands in the notch of a U, 4 mm from its bottom.
    notch = corners(
        [(-20, 0), (-5, 0), (-5, -30), (5, -30), (5, 0), (20, 0), (20, -40), (-20, -40)]
    )
    pin = corners([(-1, -26), (1, -26), (1, 10), (-1, 10)])
    sweep = {"from_turned": "-0.5°", "to_turned": "0.5°"}
    have = answer(
        "outline_clearance", "mm", "gap", first=pin, second=notch, **STILL, **sweep, **REST
    )
    assert 3.7 < have < 4.0


INSIDE = corners([(-1, -1), (1, -1), (0, 1)])
ROUND = corners([(-50, -50), (50, -50), (50, 50), (-50, 50)])


@pytest.mark.parametrize(("first", "second"), [(INSIDE, ROUND), (ROUND, INSIDE)])
def test_one_outline_inside_the_other_is_no_gap(first: list[Any], second: list[Any]) -> None:
    sweep = {"from_turned": "0°", "to_turned": "10°"}
    with pytest.raises(Refusal, match="the two outlines meet"):
        results("outline_clearance", first=first, second=second, **STILL, **sweep, **REST)


def test_edges_that_cross_are_no_gap() -> None:
    cross = [corners([(-20, 0), (20, 0)]), corners([(0, -20), (0, 20)])]
    sweep = {"from_turned": "-5°", "to_turned": "5°"}
    with pytest.raises(Refusal, match="the two outlines meet"):
        results("outline_clearance", first=cross[0], second=cross[1], **STILL, **sweep, **REST)


@pytest.mark.parametrize(
    ("outline", "told"),
    [([(0, 0)], "one corner only"), ([(0, 0), (5, 5), (5, 5)], "a corner twice in a row")],
)
def test_an_outline_that_is_none_is_refused(outline: list[Any], told: str) -> None:
    wall = corners([(20, -50), (20, 50)])
    sweep = {"from_turned": "0°", "to_turned": "10°"}
    for both in ((corners(outline), wall), (wall, corners(outline))):
        with pytest.raises(Refusal, match=told):
            results("outline_clearance", first=both[0], second=both[1], **STILL, **sweep, **REST)


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"start": "5°", "end": "5.4°"}, "second turns from 5.0° to 5.4°"),
        (
            {"from_turned": "0°", "to_turned": "−0.3°".replace("−", "-")},
            "sweep runs from 0.0° to −0.3°",
        ),
    ],
)
def test_angles_that_do_not_follow(more: dict[str, str], told: str) -> None:
    typed = STILL | {"from_turned": "0°", "to_turned": "10°"} | more
    with pytest.raises(Refusal, match=told):
        results(
            "outline_clearance", first=INSIDE, second=corners([(20, 0), (20, 9)]), **typed, **REST
        )


def test_a_no_go_is_refused_or_shown() -> None:
    square = corners([(-10, -10), (10, -10), (10, 10), (-10, 10)])
    wall = corners([(20, -50), (20, 50)])
    typed: dict[str, Any] = STILL | {"from_turned": "0°", "to_turned": "90°", "drawing": "1 mm"}
    typed |= {"first": square, "second": wall, "wanted": "5 mm"}
    with pytest.raises(Refusal, match=r"sure is 4\.7 mm where 5 mm are wanted"):
        results("outline_clearance", **typed)
    # 20 − 14.142 is 5.858; 0.1 of the search and 1 of the drawing leave 4.758.
    have = answer("outline_clearance", "mm", "spare", no_go="show", **typed)
    assert have == pytest.approx(4.758 - 5, abs=1e-3)


def dense(outline: list[tuple[float, float]]) -> np.ndarray:
    """Places along the sides of an outline, 200 to a side."""
    places = np.array([complex(*c) for c in outline])
    share = np.linspace(0, 1, 200)
    return np.concatenate(
        [a + (b - a) * share for a, b in zip(places, np.roll(places, -1), strict=True)]
    )


def test_random_outlines_against_brute_force() -> None:
    # Places along both outlines, every pair of them, in steps of 0.25° (numpy).
    draw = random.Random(9)
    done = 0
    while done < 8:
        outlines = []
        for size, middle in ((draw.uniform(30, 60), 0.0), (draw.uniform(30, 60), 0.0)):
            angles = sorted(draw.uniform(0, 2 * math.pi) for _ in range(draw.randrange(3, 7)))
            outlines.append(
                [
                    (round(middle + size * math.cos(a), 3), round(size * math.sin(a) - 20, 3))
                    for a in angles
                ]
            )
        across, turns = round(draw.uniform(120, 170), 3), round(draw.uniform(-120, 120), 2)
        typed: dict[str, Any] = {
            "first": corners(outlines[0]), "second": corners(outlines[1]), "turns": f"{turns}°",
            "hinge_across": f"{across} mm", "hinge_up": "0 mm", "start": "10°", "end": "50°",
            "from_turned": "0°", "to_turned": "70°",
        }  # fmt: skip
        one, two = (dense(each) for each in outlines)
        gaps = []
        for turned in np.arange(0, 70.01, 0.25):
            part = min(1.0, max(0.0, (turned - 10) / 40))
            a = one * np.exp(1j * math.radians(turned))
            b = across + two * np.exp(1j * math.radians(turns * part))
            gaps.append(abs(a[:, None] - b[None, ::4]).min())
        try:
            have = answer("outline_clearance", "mm", "gap", **typed, **REST)
        except Refusal as refusal:
            assert "meet" in refusal.wrong or "sure" in refusal.wrong
            assert min(gaps) < 2.5
            continue
        assert have == pytest.approx(min(gaps), abs=0.35)
        assert have <= min(gaps) + 1e-6
        done += 1
