"""Flat patterns against what is printed elsewhere, against integrals by numpy, and folded back."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, half_a_digit, results

MIDDLE = "middle of the sheet"
CONE = {"thickness": "0 mm", "measured": MIDDLE}
WITHIN = 0.1  # mm: what a length along the rolled pattern may be off


# --- printed elsewhere -------------------------------------------------------------------------


def test_cone_of_a_right_angle() -> None:
    # A blacksmiths' layout page: sector = 360° sin(half apex); a 90° point gives 254.6°.
    have = answer("frustum", "°", "sector", large="100 mm", small="0 mm", height="50 mm", **CONE)
    assert have == pytest.approx(254.6, abs=half_a_digit("254.6"))


def test_cone_of_six_radii() -> None:
    # A 19th century builders' handbook, striking out a cone: slant of 6 base radii, 60°.
    height = 50 * math.sqrt(35)
    sizes = {"large": "100 mm", "small": "0 mm", "height": f"{height:.6f} mm"}
    assert answer("frustum", "°", "sector", **sizes, **CONE) == pytest.approx(60, abs=1e-4)


def test_area_of_a_frustum() -> None:
    # Sheet Metal Drafting (1921), section 43: mean of both circumferences times slant, 87.24 in².
    sizes = {"large": "8 in", "small": "5 in", "height": "4 in"}
    assert answer("frustum", "in²", "area", **sizes, **CONE) == pytest.approx(87.24, abs=0.02)
    assert answer("frustum", "in", "slant", **sizes, **CONE) == pytest.approx(4.272, abs=0.0005)


def test_frustum_of_the_trade() -> None:
    # Worked figures of the trade, no published check: 420, 310, 260 mm.
    sizes = {"large": "420 mm", "small": "310 mm", "height": "260 mm", **CONE}
    for name, wanted in (("slant", 265.75), ("outer", 1014.7), ("inner", 748.9), ("chord", 1228.5)):
        assert answer("frustum", "mm", name, **sizes) == pytest.approx(wanted, abs=0.06)
    assert answer("frustum", "°", "sector", **sizes) == pytest.approx(74.51, abs=0.006)


def test_the_middle_of_the_sheet_lies_square_to_it() -> None:
    # Geometry: T/2 square to the cone is T/(2 cos) in a radius; common practice takes T/2.
    sizes = {"large": "420 mm", "small": "310 mm", "height": "260 mm", "thickness": "1.2 mm"}
    have = answer("frustum", "mm", "large", **sizes, measured="outside")
    assert have == pytest.approx(420 - 1.2 / math.cos(math.atan(55 / 260)), abs=1e-9)
    assert have == pytest.approx(420 - 1.2, abs=0.03)


# Development of an oblique cut in closed form (from memory): 100 mm, 30°, in twelfths.
OFFSETS = [
    0.0,
    3.868,
    14.434,
    28.868,
    43.301,
    53.868,
    57.735,
    53.868,
    43.301,
    28.868,
    14.434,
    3.868,
    0.0,
]


def test_slanted_cut_of_a_cylinder() -> None:
    came = results(
        "cylinder_pattern", diameter="100 mm", height="100 mm", cut="30°", lines="12",
        seam="short side", **CONE,
    )  # fmt: skip
    lengths = [number(came, f"lengths.{n}.line") for n in range(1, 14)]
    assert [each - lengths[0] for each in lengths] == pytest.approx(OFFSETS, abs=0.001)
    assert lengths[6] - lengths[3] == pytest.approx(28.868, abs=0.001)
    assert number(came, "first_edge") == pytest.approx(314.159, abs=0.01)


# --- cones and cylinders, folded back ----------------------------------------------------------


def number(came: dict[str, Any], name: str) -> float:
    amount = came[name].amount
    assert amount is not None
    return float(amount.value * 1000)


def flat(came: dict[str, Any]) -> list[tuple[complex, complex]]:
    """Both ends of every line as they are printed, to a tenth of a millimetre."""
    found = []
    while f"points.{len(found) + 1}.a_up" in came:
        at = f"points.{len(found) + 1}."
        a, b = (
            complex(
                *(
                    float(came[f"{at}{e}_{c}"].shown.replace("\N{MINUS SIGN}", "-"))
                    for c in ("across", "up")
                )
            )
            for e in ("a", "b")
        )
        found.append((a, b))
    return found


PLACES, WEIGHTS = np.polynomial.legendre.leggauss(12)


def integral(of: Callable[[float], float], low: float, high: float, parts: int = 60) -> float:
    """By the twelve places of Gauss and Legendre in each part."""
    step = (high - low) / parts
    middles = (low + (k + 0.5) * step for k in range(parts))
    return (
        math.fsum(
            w * of(m + x * step / 2) for m in middles for x, w in zip(PLACES, WEIGHTS, strict=True)
        )
        * step
        / 2
    )


def smooth_places(points: Sequence[complex]) -> Any:
    """Many places on the smooth line through printed points, as complex numbers: by numpy's
    equations for a spline whose first and last two spans are one cubic each."""
    at = np.concatenate([[0], np.cumsum(np.abs(np.diff(points)))])
    wide, rise = np.diff(at), np.diff(points) / np.diff(at)
    count = len(points)
    rows, right = np.zeros((count, count)), np.zeros(count, dtype=complex)
    for k in range(1, count - 1):
        rows[k, k - 1 : k + 2] = wide[k - 1], 2 * (wide[k - 1] + wide[k]), wide[k]
        right[k] = 6 * (rise[k] - rise[k - 1])
    rows[0, :3] = wide[1], -(wide[0] + wide[1]), wide[0]
    rows[-1, -3:] = wide[-1], -(wide[-2] + wide[-1]), wide[-2]
    bends = np.linalg.solve(rows.astype(complex), right)
    found = []
    for k in range(count - 1):
        b = np.linspace(0, 1, 200, endpoint=False)
        a, bow = 1 - b, wide[k] ** 2 / 6
        curved = (a**3 - a) * bends[k] + (b**3 - b) * bends[k + 1]
        found.append(a * points[k] + b * points[k + 1] + curved * bow)
    return np.concatenate([*found, [points[-1]]])


def smooth_length(points: Sequence[complex]) -> float:
    """The length of the smooth line through printed points."""
    return float(np.abs(np.diff(smooth_places(points))).sum())


def length_in_space(edge: Callable[[float], Sequence[float]], low: float, high: float) -> float:
    def pace(t: float) -> float:
        step = 1e-5
        return math.dist(edge(t + step), edge(t - step)) / (2 * step)

    return integral(pace, low, high)


def ellipse_girth(wide: float, high: float) -> float:
    """4 a E(m), by its integral (Abramowitz & Stegun 17.3.3)."""
    return (
        4
        * wide
        * integral(
            lambda t: math.sqrt(1 - (1 - (high / wide) ** 2) * math.sin(t) ** 2), 0, math.pi / 2
        )
    )


def test_ellipse_girth() -> None:
    # Abramowitz & Stegun table 17.1 (from memory): E(0.75) = 1.2110560275684594.
    assert ellipse_girth(1, 0.5) == pytest.approx(4 * 1.2110560275684594, rel=1e-13)


@pytest.mark.parametrize("cut", [0, 12, 25])
@pytest.mark.parametrize("seam", ["short side", "long side"])
def test_a_cone_folded_back(cut: int, seam: str) -> None:
    """Both edges of the rolled pattern are as long as those of the cone, and every line is."""
    came = results(
        "cone_pattern", large="420 mm", small="310 mm", height="260 mm", cut=f"{cut}°",
        lines="24", seam=seam, **CONE,
    )  # fmt: skip
    slope = 55 / 260
    rest, tilt = 155 / slope, math.tan(math.radians(cut))

    def edge(turn: float) -> tuple[float, float, float]:
        deep = rest / (1 - slope * tilt * math.cos(turn))
        return deep * slope * math.cos(turn), deep * slope * math.sin(turn), deep

    lines = flat(came)
    around = length_in_space(edge, 0, 2 * math.pi)
    assert smooth_length([a for a, _ in lines]) == pytest.approx(420 * math.pi, abs=WITHIN)
    assert smooth_length([b for _, b in lines]) == pytest.approx(around, abs=WITHIN)
    assert number(came, "second_edge") == pytest.approx(around, abs=0.02)
    start = 0 if seam == "short side" else math.pi
    for k, (a, b) in enumerate(lines):
        turn = start + 2 * math.pi * k / 24
        base = (210 * math.cos(turn), 210 * math.sin(turn), 210 / slope)
        assert abs(b - a) == pytest.approx(math.dist(edge(turn), base), abs=WITHIN)
    assert came["rolls"].shown == "DOWN"
    assert number(came, "warp") == pytest.approx(0, abs=1e-6)


def test_pattern_and_frustum_agree() -> None:
    sizes = {"large": "420 mm", "small": "310 mm", "height": "260 mm"}
    sizes |= {"thickness": "1.2 mm", "measured": "outside"}
    came = results("cone_pattern", cut="0°", lines="24", seam="long side", **sizes)
    for name, other in (("chord", "chord"), ("other_chord", "inner_chord")):
        assert number(came, name) == pytest.approx(
            answer("frustum", "mm", other, **sizes), abs=0.02
        )
    assert number(came, "lengths.5.line") == pytest.approx(
        answer("frustum", "mm", "slant", **sizes), abs=0.01
    )


def test_a_cylinder_folded_back() -> None:
    """The cut is an ellipse in space."""
    came = results(
        "cylinder_pattern", diameter="160 mm", height="200 mm", cut="40°", lines="24",
        seam="long side", **CONE,
    )  # fmt: skip
    long = 80 / math.cos(math.radians(40))
    around = ellipse_girth(long, 80)
    assert smooth_length([b for _, b in flat(came)]) == pytest.approx(around, abs=WITHIN)
    assert number(came, "second_edge") == pytest.approx(around, abs=0.02)


@pytest.mark.parametrize(
    ("name", "typed", "says"),
    [
        ("frustum", {"large": "100 mm", "small": "100 mm"}, "differ by 0 mm"),
        ("frustum", {"large": "100 mm", "small": "120 mm"}, "differ by"),
        ("frustum", {"large": "100 mm", "small": "99.9 mm"}, "longer than a trammel"),
        ("frustum", {"large": "1000 mm", "small": "0 mm", "height": "20 mm"}, "θ comes to"),
        ("cone_pattern", {"large": "100 mm", "small": "100 mm"}, "two diameters are one"),
        (
            "cone_pattern",
            {"large": "100 mm", "small": "90 mm", "height": "20 mm", "cut": "60°"},
            "comes down",
        ),
        ("cone_pattern", {"large": "4000 mm", "small": "0 mm", "height": "50 mm"}, "so flat"),
        ("cylinder_pattern", {"diameter": "400 mm", "cut": "60°"}, "comes down to the other end"),
    ],
)
def test_cones_that_are_refused(name: str, typed: dict[str, str], says: str) -> None:
    asked = {"height": "200 mm", **CONE}
    if name != "frustum":
        asked |= {"cut": "0°", "lines": "12", "seam": "short side"}
    with pytest.raises(Refusal, match=says):
        results(name, **(asked | typed))


# --- transitions -------------------------------------------------------------------------------

CORNERS = [(100, 100), (-100, 100), (-100, -100), (100, -100)]
ROUND = 70.0


def square_to_round() -> list[tuple[tuple[float, ...], tuple[float, ...]]]:
    """A square of 200 mm that goes over to a circle of 140 mm, 150 mm on: a quarter of the circle
    belongs to each corner, seam in the middle of the side to the right."""
    pairs = [((100.0, 0.0), (ROUND, 0.0))]
    for n, corner in enumerate(CORNERS):
        for k in range(7):
            turn = math.radians(90 * n + 15 * k)
            pairs.append((corner, (ROUND * math.cos(turn), ROUND * math.sin(turn))))
    pairs.append(pairs[0])
    return [((0.0, *a), (150.0, *b)) for a, b in pairs]


def asked_for(pairs: Sequence[Any], **more: str) -> dict[str, Any]:
    points = [
        {"edge": edge, "at": f"{p[0]} mm", "across": f"{p[1]:.7f} mm", "up": f"{p[2]:.7f} mm"}
        for k, edge in enumerate(("first", "second"))
        for p in (pair[k] for pair in pairs)
    ]
    told = {
        "points": points, "edges": "straight from point to point", "inside": "within",
        "stations": "away from the viewer", "most_warp": "0.01 mm",
    }  # fmt: skip
    return told | more


def test_a_square_that_goes_round_folded_back() -> None:
    """Every side of every triangle is as long in the flat as in space."""
    pairs = square_to_round()
    came = results("transition_pattern", **asked_for(pairs))
    lines = flat(came)
    assert len(lines) == len(pairs)
    for (a, b), (p, q) in zip(pairs, lines, strict=True):
        assert abs(q - p) == pytest.approx(math.dist(a, b), abs=WITHIN)
    for k, ((a, b), (c, d)) in enumerate(itertools.pairwise(pairs)):
        p, q, r, s = *lines[k], *lines[k + 1]
        assert abs(r - p) == pytest.approx(math.dist(a, c), abs=WITHIN)
        assert abs(s - q) == pytest.approx(math.dist(b, d), abs=WITHIN)
        assert abs(r - q) == pytest.approx(math.dist(b, c), abs=WITHIN)
        assert number(came, f"lengths.{k + 1}.diagonal") == pytest.approx(abs(s - p), abs=WITHIN)
    assert number(came, "first_edge") == pytest.approx(800, abs=1e-6)
    assert number(came, "warp") == pytest.approx(0, abs=1e-6)
    assert came["rolls"].shown == "DOWN"
    inner = results("transition_pattern", **asked_for(pairs, marked="inside"))
    assert inner["rolls"].shown == "UP"


def test_the_area_of_a_transition_is_that_of_its_triangles() -> None:
    """Heron in space against Gauss in the flat."""
    pairs = square_to_round()
    lines = flat(results("transition_pattern", **asked_for(pairs)))
    outline = [a for a, _ in lines] + [b for _, b in lines[::-1]]
    inside = abs(
        sum((a.conjugate() * b).imag for a, b in itertools.pairwise([*outline, outline[0]]))
    )
    whole = 0.0
    for (a, b), (c, d) in itertools.pairwise(pairs):
        for one in ((a, b, c), (c, b, d)):
            sides = [math.dist(x, y) for x, y in itertools.pairwise([*one, one[0]])]
            half = sum(sides) / 2
            whole += math.sqrt(max(half * math.prod(half - s for s in sides), 0.0))
    assert inside / 2 == pytest.approx(whole, rel=1e-3)


def test_a_warped_sheet_says_how_far_and_is_refused() -> None:
    """A field of 50 by 200 mm of which one corner is lifted by 5 mm: visible arithmetic."""
    pairs = [((0.0, x, 0.0), (200.0, x, 0.1 * x)) for x in (0.0, 50.0, 100.0, 150.0, 200.0)]
    more = {"inside": "below"}
    for edges in ("straight from point to point", "smooth through all points"):
        came = results(
            "transition_pattern", **asked_for(pairs, edges=edges, most_warp="10 mm", **more)
        )
        assert number(came, "warp") == pytest.approx(5, rel=0.03)
    with pytest.raises(Refusal, match=r"warped: a corner stands \d\.\d\d mm off its field"):
        results("transition_pattern", **asked_for(pairs, **more))


@pytest.mark.parametrize(
    ("pairs", "says"),
    [
        ([((0.0, 0.0, 0.0), (100.0, 0.0, 0.0))], "the first edge has 1 points"),
        ([((0.0, 0.0, 0.0), (0.0, 0.0, 0.0)), ((0.0, 9.0, 0.0), (9.0, 9.0, 0.0))], "no length"),
        ([((0.0, 0.0, 0.0), (9.0, 0.0, 0.0))] * 2, "lines 1 and 2 are one"),
        (
            [((0.0, x, 0.0), (90.0, y, 0.0)) for x, y in ((0.0, 80.0), (40.0, 40.0), (80.0, 0.0))],
            "lines cross",
        ),
    ],
)
def test_transitions_that_are_refused(pairs: Sequence[Any], says: str) -> None:
    with pytest.raises(Refusal, match=says):
        results("transition_pattern", **asked_for(pairs, inside="below"))


# --- skins between two sections ----------------------------------------------------------------

Section = Callable[[float], tuple[float, float]]


def skin(one: Section, other: Section, apart: float, turns: Sequence[float], **more: str) -> Any:
    points = [
        {"at": f"{at} mm", "across": f"{y:.7f} mm", "up": f"{z:.7f} mm"}
        for at, section in ((0, one), (apart, other))
        for y, z in map(section, turns)
    ]
    told = {
        "points": points, "skin": "0 mm", "line": "middle of the skin", "inside": "below",
        "stations": "away from the viewer", "lines": "25", "most_warp": "0.1 mm",
    }  # fmt: skip
    return results("skin_pattern", **(told | more))


HALF = [math.radians(-70 + 10 * k) for k in range(15)]


def circle(radius: float, across: float = 0.0, up: float = 0.0) -> Section:
    return lambda t: (across + radius * math.sin(t), up + radius * math.cos(t))


def test_a_skin_on_a_leaning_cone() -> None:
    """Circles of which the second stands aside: lines join equal angles. Distances from the apex,
    and the angles between lines, are the pattern, independent of any triangles."""
    apart, one, other, aside = 400.0, 300.0, 200.0, (40.0, 25.0)
    came = skin(circle(one), circle(other, *aside), apart, HALF)
    share = one / (one - other)
    apex = np.array([share * aside[0], share * aside[1], share * apart])

    def way(t: float) -> Any:
        return np.array([*circle(one)(t), 0.0]) - apex

    def pace(t: float) -> float:
        step = 1e-5
        a, b = (way(t + s) / np.linalg.norm(way(t + s)) for s in (step, -step))
        return float(np.linalg.norm(a - b) / (2 * step))

    whole = integral(pace, HALF[0], HALF[-1])
    ends = [float(np.linalg.norm(way(t))) for t in (HALF[0], HALF[-1])]
    chord = math.sqrt(ends[0] ** 2 + ends[1] ** 2 - 2 * ends[0] * ends[1] * math.cos(whole))
    assert number(came, "chord") == pytest.approx(chord, abs=0.03)
    assert number(came, "lengths.1.line") == pytest.approx(ends[0] * (1 - other / one), abs=0.03)
    assert number(came, "lengths.25.line") == pytest.approx(ends[1] * (1 - other / one), abs=0.03)
    arcs = math.radians(140) * one, math.radians(140) * other
    lines = flat(came)
    assert smooth_length([a for a, _ in lines]) == pytest.approx(arcs[0], abs=WITHIN)
    assert smooth_length([b for _, b in lines]) == pytest.approx(arcs[1], abs=WITHIN)


def ellipse(wide: float, high: float) -> Section:
    """By the angle at which it runs: level at 0."""

    def at(t: float) -> tuple[float, float]:
        root = math.hypot(wide * math.sin(t), high * math.cos(t))
        return wide**2 * math.sin(t) / root, high**2 * math.cos(t) / root

    return at


def test_a_skin_between_ellipse_and_circle() -> None:
    """Where both run the same way, the field between two lines has as sides both radii times the
    turn, and lies across the line: the area of the skin in closed form, integrated over the turn."""
    wide, high, radius, apart = 260.0, 180.0, 150.0, 350.0
    quarter = [math.radians(-90 + 7.5 * k) for k in range(25)]
    came = skin(ellipse(wide, high), circle(radius), apart, quarter, lines="40")
    lines = flat(came)
    outline = [*smooth_places([a for a, _ in lines]), *smooth_places([b for _, b in lines])[::-1]]
    ring = itertools.pairwise([*outline, outline[0]])
    area = abs(sum((a.conjugate() * b).imag for a, b in ring)) / 2

    def field(t: float) -> float:
        (y1, z1), (y2, z2) = ellipse(wide, high)(t), circle(radius)(t)
        bend = wide**2 * high**2 / math.hypot(wide * math.sin(t), high * math.cos(t)) ** 3
        along = (y2 - y1) * math.cos(t) - (z2 - z1) * math.sin(t)
        line = math.dist((0, y1, z1), (apart, y2, z2))
        return (bend + radius) / 2 * math.sqrt(line**2 - along**2)

    assert area == pytest.approx(integral(field, -math.pi / 2, math.pi / 2), rel=2e-4)
    edges = ellipse_girth(wide, high) / 2, math.pi * radius
    for edge, around in zip(([a for a, _ in lines], [b for _, b in lines]), edges, strict=True):
        assert smooth_length(edge) == pytest.approx(around, abs=WITHIN)


def test_a_skin_in_its_middle() -> None:
    """A cylinder of mould line 300 mm with 2 mm of skin is rolled from 299 mm; the same from its
    inside. On a cone the middle lies T/2 square to it."""
    thick = {"skin": "2 mm"}
    for line, radius in (("mould line", 299.0), ("inside of skin", 301.0)):
        came = skin(circle(300), circle(300), 400, HALF, line=line, **thick)
        assert number(came, "first_edge") == pytest.approx(math.radians(140) * radius, abs=0.01)
    came = skin(circle(300), circle(200), 400, HALF, line="mould line", **thick)
    away = 1 / math.cos(math.atan(100 / 400))
    for edge, radius in (("first_edge", 300 - away), ("second_edge", 200 - away)):
        assert number(came, edge) == pytest.approx(math.radians(140) * radius, abs=0.01)


def test_the_other_hand_is_the_pattern_turned_over() -> None:
    aside = {"lines": "9"}
    port = flat(skin(circle(300), circle(200, 40.0, 25.0), 400, HALF, **aside))
    stbd = flat(skin(circle(300), circle(200, -40.0, 25.0), 400, HALF, **aside))
    for (a, b), (c, d) in zip(port, stbd[::-1], strict=True):
        middle = port[-1][0].real
        assert abs(complex(middle - a.real, a.imag) - c) < 0.11
        assert abs(complex(middle - b.real, b.imag) - d) < 0.11


@pytest.mark.parametrize("marked", ["outside", "inside"])
@pytest.mark.parametrize("stations", ["away from the viewer", "towards the viewer"])
def test_which_face_is_seen(marked: str, stations: str) -> None:
    """A quarter of a cylinder over the crown to the right, seen from above on its outside: looking
    forward along rising stations the line at the right comes first to the right. Turned over, or
    seen from the other end, it comes to the left. Rolled by the marks it must be the part."""
    quarter = [math.radians(10 * k) for k in range(10)]  # from the crown to starboard
    came = skin(
        circle(200), circle(200, 0.0, 30.0), 400, quarter, marked=marked, stations=stations,
        most_warp="1 mm",
    )  # fmt: skip
    lines = flat(came)
    assert came["rolls"].shown == ("DOWN" if marked == "outside" else "UP")
    # First edge nearest, second edge away: seen on the outside from above, starboard is right.
    to_the_right = lines[-1][0].real > 0
    second_above = lines[0][1].imag > 0
    seen = (stations == "away from the viewer") == (marked == "outside")
    assert (to_the_right == second_above) == seen


def wavy(t: float) -> tuple[float, float]:
    return 300 * t, 40 * math.sin(3 * t)


@pytest.mark.parametrize(
    ("one", "other", "more", "says"),
    [
        (wavy, wavy, {}, "turns to both sides"),
        (circle(300), lambda t: (300 * t, 0.0), {"most_warp": "20 mm"}, None),
        (lambda t: (300 * t, 0.0), lambda t: (300 * t, 5.0), {}, "hardly turn"),
        (circle(300), lambda t: (300 * math.sin(t), -300 * math.cos(t)), {}, "opposite sides"),
    ],
)
def test_skins_that_are_refused(
    one: Section, other: Section, more: dict[str, str], says: str | None
) -> None:
    if says is None:  # a flat section against a round one: a cone round each of its ends
        came = skin(one, other, 400, HALF, **more)
        assert number(came, "second_edge") == pytest.approx(300 * (HALF[-1] - HALF[0]), abs=0.05)
        return
    with pytest.raises(Refusal, match=says):
        skin(one, other, 400, HALF, **more)


def test_three_sections_are_refused() -> None:
    points = [
        {"at": f"{at} mm", "across": f"{y:.4f} mm", "up": f"{z:.4f} mm"}
        for at in (0, 200, 400)
        for y, z in map(circle(300), HALF)
    ]
    with pytest.raises(Refusal, match="3 sections"):
        results(
            "skin_pattern", points=points, skin="0 mm", line="mould line", inside="below",
            stations="away from the viewer", lines="9", most_warp="1 mm",
        )  # fmt: skip


def test_too_few_points_where_it_turns_are_refused() -> None:
    few = [math.radians(-90 + 90 * k) for k in range(3)]
    with pytest.raises(Refusal, match="between its points 1 and 2"):
        skin(circle(300), circle(200), 400, few)
