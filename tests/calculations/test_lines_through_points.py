"""Sections by tables and by points against the formula they were read from, closed forms and an
independent solution by numpy; the source stands beside each check."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest

from generator.computing.running import Result
from generator.curve import cubic, girth, through
from generator.findings import Refusal
from tests.calculations.asking import results
from tests.calculations.naca_tables import AT_STATIONS, STANDARD

ARCH = [(500 * math.cos(math.pi * k / 12), 500 * math.sin(math.pi * k / 12)) for k in range(13)]


def points(placed: Sequence[tuple[float, float]]) -> list[dict[str, str]]:
    return [{"across": f"{x:.6f} mm", "up": f"{y:.6f} mm"} for x, y in placed]


def number(came: dict[str, Result], name: str) -> float:
    """A result in mm."""
    amount = came[name].amount
    assert amount is not None
    return amount.value * 1000


def table(designation: int) -> list[dict[str, str]]:
    """A published table of ordinates in % of chord, on a chord of 1000 mm."""
    upper, lower = AT_STATIONS[designation]
    return [
        {"at": f"{10 * s:.3f} mm", "upper": f"{10 * u:.3f} mm", "lower": f"{10 * w:.3f} mm"}
        for s, u, w in zip(STANDARD, upper, lower, strict=True)
    ]


def by_numpy(knots: Sequence[float], values: Sequence[float], at: Sequence[float]) -> list[float]:
    """All cubics of a spline at once: they pass through the values, slope and curvature run on,
    the third derivative runs on at the second knot and the last but one."""
    spans = len(knots) - 1
    rows, right = [], []

    def powers(x: float, times: int) -> list[float]:
        return [math.perm(n, times) * x ** (n - times) if n >= times else 0.0 for n in range(4)]

    def row(k: int, x: float, times: int, sign: float = 1.0) -> np.ndarray:
        whole = np.zeros(4 * spans)
        whole[4 * k : 4 * k + 4] = [sign * p for p in powers(x - knots[k], times)]
        return whole

    for k in range(spans):
        for x, y in ((knots[k], values[k]), (knots[k + 1], values[k + 1])):
            rows.append(row(k, x, 0))
            right.append(y)
    joints = [(k, times) for k in range(1, spans) for times in (1, 2)]
    for k, times in [*joints, (1, 3), (spans - 1, 3)]:
        rows.append(row(k - 1, knots[k], times) + row(k, knots[k], times, -1.0))
        right.append(0.0)
    terms = np.linalg.solve(np.array(rows), np.array(right))
    spots = [min(max(int(np.searchsorted(knots, x, "right")) - 1, 0), spans - 1) for x in at]
    return [
        float(terms[4 * k : 4 * k + 4] @ powers(x - knots[k], 0))
        for x, k in zip(at, spots, strict=True)
    ]


@pytest.mark.parametrize("seed", range(5))
def test_the_spline_is_the_one_that_numpy_finds(seed: int) -> None:
    random = np.random.default_rng(seed)
    knots = np.cumsum(random.uniform(0.2, 2.0, 9))
    values = random.uniform(-3, 3, 9)
    at = np.linspace(knots[0], knots[-1], 60)
    have = cubic(knots.tolist(), values.tolist())
    want = by_numpy(knots, values, at)
    assert [have.at(x) for x in at] == pytest.approx(want, abs=1e-9)


@pytest.mark.parametrize("terms", [(3.0, -2.0), (1.0, 0.5, -0.25), (2.0, -1.0, 0.5, 0.125)])
def test_a_cubic_goes_through_points_of_a_cubic_unchanged(terms: tuple[float, ...]) -> None:
    # Visible algebra: end condition "not a knot" reproduces any polynomial to the third degree.
    def value(x: float) -> float:
        return sum(a * x**n for n, a in enumerate(terms))

    knots = [0.0, 0.7, 1.1, 2.0, 3.4, 4.0][: len(terms) + 2]
    line = cubic(knots, [value(x) for x in knots])
    places = [knots[-1] * k / 20 for k in range(21)]
    assert [line.at(x) for x in places] == pytest.approx([value(x) for x in places], abs=1e-12)


def test_girth_of_an_ellipse() -> None:
    # 4 a E(1 - b²/a²) with a = 1, b = 0.5 (Abramowitz & Stegun, ch. 17): a quarter is 1.211056.
    quarter = [(math.cos(math.pi * k / 80), 0.5 * math.sin(math.pi * k / 80)) for k in range(41)]
    assert 4 * girth(through(quarter)) == pytest.approx(4.844224110273838, abs=1e-6)


def test_girth_of_a_parabola() -> None:
    # y = x² from 0 to 1: (2√5 + asinh 2) / 4.
    line = through([(k / 30, (k / 30) ** 2) for k in range(31)])
    assert girth(line) == pytest.approx(1.478942857544598, abs=1e-6)


@pytest.mark.parametrize(("inside", "radius"), [("below", 498.0), ("above", 502.0)])
def test_the_inside_of_half_a_circle(inside: str, radius: float) -> None:
    came = results("section_by_points", points=points(ARCH), inside=inside, skin="2 mm")
    for n in range(1, 14):
        place = (number(came, f"inside.{n}.across"), number(came, f"inside.{n}.up"))
        assert math.hypot(*place) == pytest.approx(radius, abs=1e-3)
    assert number(came, "girth") == pytest.approx(500 * math.pi, abs=0.02)
    assert number(came, "girth_inside") == pytest.approx(radius * math.pi, abs=0.03)


def test_within_a_ring_is_its_middle_whichever_way_it_was_measured() -> None:
    ring = [(300 * math.cos(math.pi * k / 10), 300 * math.sin(math.pi * k / 10)) for k in range(20)]
    for way in (ring, ring[::-1]):
        came = results("section_by_points", points=points(way), inside="within", skin="3 mm")
        for n in (3, 8, 15):
            place = (number(came, f"inside.{n}.across"), number(came, f"inside.{n}.up"))
            assert math.hypot(*place) == pytest.approx(297, abs=0.01)


@pytest.mark.parametrize("designation", [2412, 23012])
@pytest.mark.parametrize("skin", ["0 mm", "1 mm"])
def test_a_table_of_ordinates_gives_what_the_formula_gives_between(
    designation: int, skin: str
) -> None:
    # The published tables at their 26 stations, read between them: 0.05 mm on a metre, behind the
    # first half percent of chord.
    stations = (6, 9, 18, 35, 60, 85, 120, 180, 330, 520, 730, 960)
    at = [f"{s} mm" for s in stations]
    have = results("section_by_ordinates", table=table(designation), stations=at, skin=skin)
    name = "naca_four_digit" if designation < 10000 else "naca_five_digit"
    want = results(
        name, section=str(designation), chord="1000 mm", stations=[f"{s / 10} %" for s in stations],
        edge="open", laid="stations of the chord", skin=skin,
    )  # fmt: skip
    for n in range(1, len(stations) + 1):
        for side in ("upper", "lower"):
            name = f"ordinates.{n}.{side}"
            assert number(have, name) == pytest.approx(number(want, name), abs=0.05)
    for name in ("girth_upper", "girth_lower"):
        assert number(have, name) == pytest.approx(number(want, name), abs=0.15)


SOUND = table(2412)
SHORT = [{k: f"{float(v[:-3]) / 2:.3f} mm" for k, v in row.items()} for row in SOUND]


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"table": [*SOUND[:5], SOUND[4], *SOUND[5:]]}, "comes after"),
        ({"table": [*SOUND[:4], SOUND[6], SOUND[5], *SOUND[7:]]}, "comes after"),
        ({"table": SOUND[1:]}, "first station has two ordinates"),
        ({"table": [*SOUND[:9], SOUND[9] | {"lower": "80 mm"}, *SOUND[10:]]}, "upper and lower"),
        ({"table": SOUND[:3]}, "3 stations"),
        ({"stations": ["1001 mm"]}, "line ends at"),
        ({"stations": ["0 mm"], "skin": "1 mm"}, "line begins at"),
        ({"stations": ["40 mm", "30 mm"]}, "comes after"),
        ({"stations": ["998 mm"], "skin": "3 mm"}, "cross"),
        ({"skin": "9 mm", "table": SHORT}, "the radius .* the skin 9 mm"),
    ],
)
def test_tables_that_are_refused(asked: dict[str, Any], says: str) -> None:
    typed: dict[str, Any] = {"table": SOUND, "stations": ["100 mm"], "skin": "0 mm"}
    with pytest.raises(Refusal, match=says):
        results("section_by_ordinates", **(typed | asked))


SMALL = [(8 * math.cos(math.pi * k / 24), 8 * math.sin(math.pi * k / 24)) for k in range(25)]


@pytest.mark.parametrize(
    ("placed", "inside", "says"),
    [
        (SMALL, "below", "the radius .* is 7.9. mm, the skin 9 mm"),
        ([(0, 0), (100, 50), (100, 0), (0, 50)], "below", "crosses itself behind points 1 and 3"),
        ([(0, 0), (100, 50), (100, 50), (200, 0)], "below", "points 2 and 3 are one"),
        ([(0, 0), (100, 50)], "below", "2 points"),
        ([(0, 0), (30, 50), (0, 100)], "below", "no side is below"),
        ([(0, 0), (50, 0), (100, 0)], "within", "no side is within"),
        ([(0, 0), (50, 900), (60, 0)], "below", "turns too sharply"),
    ],
)
def test_points_that_are_refused(placed: list[tuple[float, float]], inside: str, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        results("section_by_points", points=points(placed), inside=inside, skin="9 mm")


def test_a_small_radius_takes_a_skin_on_its_outside() -> None:
    came = results("section_by_points", points=points(SMALL), inside="above", skin="9 mm")
    assert number(came, "inside.13.up") == pytest.approx(17, abs=0.01)
