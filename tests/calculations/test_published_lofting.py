"""Ordinates of sections against printed tables, and geometry against a second construction; the
source stands beside each check."""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np
import pytest

from generator.calculations.sections import SIMPLE
from generator.computing.running import Result
from generator.findings import Refusal
from tests.calculations.asking import results
from tests.calculations.naca_tables import AT_STATIONS, HALVES, LAID_OFF, PRINTED, SHORT, STANDARD


def section(designation: str, stations: Any, laid: str, **more: str) -> dict[str, Result]:
    """The ordinates of a section of 1000 mm chord."""
    name = "naca_four_digit" if len(designation) == 4 else "naca_five_digit"
    asked = {"section": designation, "chord": "1000 mm", "edge": "open", "skin": "0 mm"}
    return results(
        name, **(asked | {"stations": [f"{s} %" for s in stations], "laid": laid} | more)
    )


def column(came: dict[str, Result], name: str) -> list[float]:
    """One column of the ordinates, in % of a chord of 1000 mm."""
    found = []
    while (one := came.get(f"ordinates.{len(found) + 1}.{name}")) is not None:
        assert one.amount is not None
        found.append(one.amount.value * 100)
    return found


ALONG, ON_LINE = "stations of the chord", "places on the mean line"


@pytest.mark.parametrize("thick", HALVES)
@pytest.mark.parametrize("laid", [ALONG, ON_LINE])
def test_half_thicknesses(thick: int, laid: str) -> None:
    came = section(f"00{thick:02d}", STANDARD, laid)
    assert column(came, "upper") == pytest.approx(HALVES[thick], abs=0.0001)
    assert column(came, "lower") == pytest.approx([-y for y in HALVES[thick]], abs=0.0001)


@pytest.mark.parametrize(("designation", "within"), [(2412, 0.0001), (23012, 0.0016)])
def test_points_laid_off_from_the_mean_line(designation: int, within: float) -> None:
    # The table of 23012 has a slightly different k₁, which moves it by up to 0.0012.
    came = section(str(designation), STANDARD, ON_LINE)
    names = ("along_upper", "upper", "along_lower", "lower")
    for name, printed in zip(names, LAID_OFF[designation], strict=True):
        assert column(came, name) == pytest.approx(printed, abs=within), name


@pytest.mark.parametrize("designation", AT_STATIONS)
def test_ordinates_at_stations(designation: int) -> None:
    # The source reads its own points at the stations: 0.006 near the nose, 0.003 elsewhere.
    came = section(str(designation), STANDARD, ALONG)
    for name, printed in zip(("upper", "lower"), AT_STATIONS[designation], strict=True):
        for station, have, want in zip(STANDARD, column(came, name), printed, strict=True):
            within = 0.006 if 0.5 <= station <= 1.25 else 0.003
            assert have == pytest.approx(want, abs=within), (name, station)


@pytest.mark.parametrize("designation", PRINTED)
def test_ordinates_as_printed_to_two_places(designation: int) -> None:
    # Printed by hand: up to 0.04 off the formula.
    came = section(str(designation), SHORT, ALONG)
    for name, printed in zip(("upper", "lower"), PRINTED[designation], strict=True):
        assert column(came, name) == pytest.approx(printed, abs=0.04), name


@pytest.mark.parametrize(
    ("thick", "printed"),
    [(6, 0.397), (8, 0.705), (10, 1.102), (12, 1.587), (15, 2.479), (18, 3.57), (21, 4.859)],
)
def test_nose_radii(thick: int, printed: float) -> None:
    # The same tables, app. I: radius in % of chord.
    nose = section(f"00{thick:02d}", (50,), ALONG)["nose"].amount
    assert nose is not None and nose.value * 100 == pytest.approx(printed, abs=0.0006)


def test_nose_radius_as_printed_in_the_1940s() -> None:
    # NACA Report 824, 0012 on a chord of 24 in: 0.379 in (1.58 % printed, 1.587 % by the formula).
    nose = section("0012", (50,), ALONG, chord="24 in")["nose"].amount
    assert nose is not None and nose.value / 0.0254 == pytest.approx(0.379, abs=0.002)


def test_an_open_edge_is_a_quarter_of_a_percent_and_a_closed_one_is_sharp() -> None:
    # Sum of the five terms: 0.0021, so 0.0105 t on either side (NACA Report 460).
    ends = [section("0012", (50,), ALONG, edge=edge)["edge"].amount for edge in ("open", "closed")]
    assert [each is not None and round(each.value * 100, 6) for each in ends] == [0.252, 0.0]


@pytest.mark.parametrize(("designation", "slope"), [("2412", 0.1), ("4412", 0.2)])
def test_slope_of_the_nose_radius(designation: str, slope: float) -> None:
    # Abbott & von Doenhoff, app. III.
    have = section(designation, (50,), ALONG)["slope"].amount
    assert have is not None and have.value == pytest.approx(slope, abs=1e-9)


def test_mean_line_230() -> None:
    # NACA Report 537: nose slope 0.305, largest camber 1.84 % at 15 %.
    came = section("23012", (14.9, 15, 15.1), ON_LINE)
    slope = came["slope"].amount
    assert slope is not None and slope.value == pytest.approx(0.30508, abs=0.0003)
    upper, lower = column(came, "upper"), column(came, "lower")
    heights = [(a + b) / 2 for a, b in zip(upper, lower, strict=True)]
    assert heights[1] == pytest.approx(1.84, abs=0.01)
    assert max(heights) == pytest.approx(heights[1], abs=1e-4)


@pytest.mark.parametrize(("place", "at"), [(1, 0.05), (2, 0.10), (3, 0.15), (4, 0.20), (5, 0.25)])
def test_simple_mean_lines_are_highest_where_their_name_says(place: int, at: float) -> None:
    # NACA Report 537: p = m (1 - √(m/3)).
    m, _ = SIMPLE[place]
    assert m * (1 - (m / 3) ** 0.5) == pytest.approx(at, abs=0.0003)


@pytest.mark.parametrize("designation", ["0012", "2412", "4415", "23012", "21006"])
@pytest.mark.parametrize("skin", [0.0, 0.9, 3.0])
def test_a_skin_lies_its_thickness_from_the_surface(designation: str, skin: float) -> None:
    """Measured against many points of the mould line: the nearest is as far away as the skin is
    thick, wherever on the inside one stands."""
    whole = section(designation, [k * k / 160 for k in range(1, 127)], ON_LINE)
    line = [*_points(whole, "upper"), *_points(whole, "lower")]
    inside = section(designation, (3, 20, 55, 80), ALONG, skin=f"{skin} mm")
    for x, y in (*_points(inside, "upper"), *_points(inside, "lower")):
        assert _away(line, x, y) == pytest.approx(skin / 10, abs=0.0015)


def _points(came: dict[str, Result], name: str) -> list[tuple[float, float]]:
    return list(zip(column(came, f"along_{name}"), column(came, name), strict=True))


def _away(line: list[tuple[float, float]], x: float, y: float) -> float:
    """From a point to the nearest chord between neighbouring points of a surface."""
    points = np.array(line)
    half = len(line) // 2
    starts = np.vstack([points[: half - 1], points[half:-1]])
    ends = np.vstack([points[1:half], points[half + 1 :]])
    along = ends - starts
    share = np.clip(((np.array([x, y]) - starts) * along).sum(1) / (along**2).sum(1), 0, 1)
    feet = starts + share[:, None] * along
    return float(np.hypot(*(feet - (x, y)).T).min())


def test_girth_of_a_section() -> None:
    """Against the sum of chords between many points."""
    came = section("2412", [k * k / 1600 for k in range(401)], ON_LINE)
    for name in ("upper", "lower"):
        chords = sum(math.dist(a, b) for a, b in itertools.pairwise(_points(came, name)))
        girth = came[f"girth_{name}"].amount
        assert girth is not None and girth.value * 100 == pytest.approx(chords, abs=0.002)


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"section": "2430"}, "thickness 30 %"),
        ({"section": "2104"}, "thickness 4 %"),
        ({"section": "2112"}, "camber at 10 %"),
        ({"section": "0412"}, "camber of 0 %"),
        ({"section": "23112"}, "mean line 231"),
        ({"section": "24012", "chord": "60 mm", "skin": "2 mm"}, "sharpest radius"),
        ({"stations": ["0 %", "20 %"], "skin": "1 mm"}, "inside of the upper skin begins at"),
        ({"stations": ["20 %", "99.9 %"], "skin": "3 mm"}, "upper and lower skin cross"),
        ({"stations": ["20 %", "10 %"]}, "comes after"),
        ({"stations": ["20 %", "20 %"]}, "comes after"),
        ({"section": "6725", "stations": ["99.95 %"]}, "lower surface ends at"),
    ],
)
def test_sections_that_are_refused(asked: dict[str, Any], says: str) -> None:
    typed = {"section": "2412", "chord": "1000 mm", "stations": ["20 %"], "edge": "open"}
    typed |= {"laid": ALONG, "skin": "0 mm"} | asked
    name = "naca_four_digit" if len(typed["section"]) == 4 else "naca_five_digit"
    with pytest.raises(Refusal, match=says):
        results(name, **typed)


# --- lines, measured points, timber ------------------------------------------------------------

# F. J. Anscombe, Graphs in Statistical Analysis (1973), first set of four (from memory).
ANSCOMBE = {
    4: 4.26, 5: 5.68, 6: 7.24, 7: 4.82, 8: 6.95, 9: 8.81, 10: 8.04, 11: 8.33, 12: 10.84, 13: 7.58,
    14: 9.96,
}  # fmt: skip


def test_least_squares_of_a_printed_set() -> None:
    # The same: y = 3.00 + 0.500 x.
    rows = [{"at": f"{x} mm", "offset": f"{y} mm"} for x, y in ANSCOMBE.items()]
    came = results("fitted_line", rows=rows, stations=["4 mm", "14 mm"], degree="1", within="1 mm")
    for n, printed in ((1, 3.00 + 0.500 * 4), (2, 3.00 + 0.500 * 14)):
        have = came[f"offsets.{n}.offset"].amount
        assert have is not None and have.value * 1000 == pytest.approx(printed, abs=0.01)
    far = [n for n, (x, y) in enumerate(ANSCOMBE.items(), 1) if abs(y - 3.0 - 0.5 * x) > 1]
    assert came["again"].shown == ", ".join(f"point {n}" for n in far)


@pytest.mark.parametrize("degree", [1, 2, 3])
def test_least_squares_as_numpy_does_it(degree: int) -> None:
    stations = [0.0, 140.0, 310.0, 450.0, 600.0, 770.0, 900.0]
    offsets = [410.2, 436.1, 459.0, 470.4, 474.9, 472.3, 461.0]
    rows = [{"at": f"{x} mm", "offset": f"{y} mm"} for x, y in zip(stations, offsets, strict=True)]
    asked = {"rows": rows, "stations": ["50 mm", "500 mm"], "degree": str(degree)}
    came = results("fitted_line", within="0.5 mm", **asked)
    line = np.polynomial.Polynomial.fit(stations, offsets, degree)
    for n, at in ((1, 50), (2, 500)):
        have = came[f"offsets.{n}.offset"].amount
        assert have is not None and have.value * 1000 == pytest.approx(line(at), abs=1e-6)
    for n, (x, y) in enumerate(zip(stations, offsets, strict=True), 1):
        have = came[f"residuals.{n}"].amount
        assert have is not None and have.value * 1000 == pytest.approx(y - line(x), abs=1e-6)


def line_of(*offsets: float, at: Any = None) -> list[dict[str, str]]:
    stations = at or [100 * k for k in range(len(offsets))]
    return [{"at": f"{x} mm", "offset": f"{y} mm"} for x, y in zip(stations, offsets, strict=True)]


@pytest.mark.parametrize(
    ("offsets", "unfair"),
    [
        ((0, 10, 18, 24, 28, 30), "none"),
        ((0, 10, 18, 26, 28, 30), "none"),  # second differences -2, 0, -6, 0: no sign but minus
        (
            (0, 10, 18, 22, 30, 32),
            "station no. 4, station no. 5",
        ),  # -2, -4, +4, -6: a hollow at 300
        ((0, 2, 6, 12, 16, 18), "station no. 4"),  # +2, +2, -2, -2: one reflex
    ],
)
def test_where_a_second_difference_changes_its_sign(
    offsets: tuple[float, ...], unfair: str
) -> None:
    # Visible arithmetic.
    came = results("fair_line", rows=line_of(*offsets), stations=["50 mm"], read_to="0.5 mm")
    assert came["unfair"].shown == unfair


def test_differences_of_unlike_spacing_are_those_of_a_parabola() -> None:
    # y = x²/1000 at 0, 100, 300, 400: curvature 2/1000, mean spacing 400/3.
    at = (0, 100, 300, 400)
    rows = line_of(*(x * x / 1000 for x in at), at=at)
    came = results("fair_line", rows=rows, stations=["200 mm"], read_to="0.5 mm")
    for n in (1, 2):
        have = came[f"second.{n}"].amount
        assert have is not None
        assert have.value * 1000 == pytest.approx((400 / 3) ** 2 * 2 / 1000, abs=1e-6)
    between = came["offsets.1.offset"].amount
    assert between is not None and between.value * 1000 == pytest.approx(40, abs=1e-9)


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"stations": ["501 mm"]}, "beyond the end stations"),
        ({"stations": ["-1 mm"]}, "beyond the end stations"),
        ({"stations": ["200 mm", "100 mm"]}, "comes after"),
        ({"rows": line_of(0, 1, 2, at=(0, 200, 100))}, "comes after"),
        ({"rows": line_of(0, 1)}, "2 offsets"),
    ],
)
def test_lines_that_are_refused(asked: dict[str, Any], says: str) -> None:
    typed = {"rows": line_of(0, 1, 3, 6, 10, 15), "stations": ["50 mm"], "read_to": "0.5 mm"}
    with pytest.raises(Refusal, match=says):
        results("fair_line", **(typed | asked))


@pytest.mark.parametrize(
    ("coefficient", "width", "change", "moved"),
    [
        # A flooring maker's page after the Wood Handbook: mesquite, 6 to 9 %, 5 in wide: 0.019 in.
        ("0.129", "5 in", ("6 %", "9 %"), 0.019),
        # Coefficients as the same pages list them, times width, times points: visible arithmetic.
        ("0.353", "10 in", ("8 %", "12 %"), 0.1412),
        ("0.267", "10 in", ("12 %", "7 %"), -0.1335),
    ],
)
def test_timber_movement(
    coefficient: str, width: str, change: tuple[str, str], moved: float
) -> None:
    came = results(
        "timber_movement", width=width, moves=coefficient, moisture=change[0], later=change[1]
    )[""].amount
    assert came is not None and came.value / 0.0254 == pytest.approx(moved, abs=0.0005)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"moves": "0.00263"}, "0.263"),
        ({"later": "15 %"}, "out of range"),
        ({"moisture": "5 %"}, "out of range"),
    ],
)
def test_timber_that_is_refused(more: dict[str, str], says: str) -> None:
    typed = {"width": "500 mm", "moves": "0.263", "moisture": "8 %", "later": "12 %"}
    with pytest.raises(Refusal) as caught:
        results("timber_movement", **(typed | more))
    assert says in caught.value.wrong + caught.value.right


def test_the_other_hand() -> None:
    # Common practice, no source: y to -y, angle signs reversed, hand named.
    feature = {"across": "-12.5 mm", "up": "30 mm", "angle": "-15°", "turns": "anticlockwise"}
    came = results("other_hand", features=[feature], hand="STBD", wanted_hand="PORT")
    shown = {name: each.shown for name, each in came.items()}
    assert shown == {
        "features.1.across": "12.50", "features.1.up": "30.00", "features.1.angle": "15.00",
        "features.1.turns": "clockwise", "hand": "PORT, mirrored from STBD",
    }  # fmt: skip


@pytest.mark.parametrize("hands", [("PORT", "PORT"), ("PORT", "none"), ("none", "STBD")])
def test_hands_that_are_not_each_others(hands: tuple[str, str]) -> None:
    feature = {"across": "1 mm", "up": "0 mm", "angle": "0°"}
    with pytest.raises(Refusal):
        results("other_hand", features=[feature], hand=hands[0], wanted_hand=hands[1])
