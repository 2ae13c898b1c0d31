"""Compound angles, blocks, circles, planes, lines and pairs against print, closed forms and numpy;
the source beside each check."""

from __future__ import annotations

import itertools
import math
import random
from typing import Any

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from generator.calculations.space import Straight, angle_between, turned
from generator.findings import Refusal
from generator.tables import find_row
from tests.calculations.asking import answer, results

NORMAL = (-0.331668, -0.244169, 0.911251)


def test_compound_angle_of_the_handbook() -> None:
    # Machinery's Handbook, 31st ed., p. 121: tan R = tan A / tan B, tan C = tan A / sin R, for
    # A 20° and B 15°: R 53.6401°, C 24.3212° (worked from those formulas, no printed answer).
    typed = {"along": "20°", "across": "15°"}
    assert answer("compound_angle", "°", "azimuth", **typed) == pytest.approx(53.6401, abs=0.0001)
    assert answer("compound_angle", "°", "tilt", **typed) == pytest.approx(24.3212, abs=0.0001)


def test_tilt_and_azimuth_are_those_of_the_normal() -> None:
    # Cross product of (1, 0, tan 20°) and (0, 1, tan 15°), closed form.
    x, y, z = np.cross([1, 0, math.tan(math.radians(20))], [0, 1, math.tan(math.radians(15))])
    size = math.sqrt(x * x + y * y + z * z)
    assert (x / size, y / size, z / size) == pytest.approx(NORMAL, abs=1e-6)
    tilt = math.radians(answer("compound_angle", "°", "tilt", along="20°", across="15°"))
    turn = math.radians(answer("compound_angle", "°", "azimuth", along="20°", across="15°"))
    lean = (-math.sin(tilt) * math.sin(turn), -math.sin(tilt) * math.cos(turn), math.cos(tilt))
    assert lean == pytest.approx(NORMAL, abs=1e-6)


def test_every_sign_turns_the_arrow_into_its_own_quarter() -> None:
    # The steepest way up a plane z = a x + b y is (a, b): its azimuth from y towards x, by numpy.
    for a, b in itertools.product((-12.0, -3.0, 4.0, 11.0), (-9.0, -2.0, 5.0, 20.0)):
        typed = {"along": f"{a}°", "across": f"{b}°"}
        wanted = np.degrees(np.arctan2(np.tan(np.radians(a)), np.tan(np.radians(b))))
        assert answer("compound_angle", "°", "azimuth", **typed) == pytest.approx(wanted, abs=1e-9)
        typed = {
            "tilt": f"{answer('compound_angle', '°', 'tilt', **typed):.9f}°",
            "azimuth": f"{wanted:.9f}°",
        }
        back = [answer("compound_slopes", "°", name, **typed) for name in ("along", "across")]
        assert back == pytest.approx([a, b], abs=1e-6)


@pytest.mark.parametrize(("along", "across"), [("0.03°", "0.03°"), ("44°", "44°")])
def test_a_tilt_that_no_azimuth_or_bar_can_set_is_refused(along: str, across: str) -> None:
    with pytest.raises(Refusal, match="a tilt of"):
        results("compound_angle", along=along, across=across)


def test_degrees_and_minutes() -> None:
    # TC 9-524 appendix C: 23° 41′, sine 0.40168.
    have = answer("angle_of_minutes", "°", degrees="23°", minutes="41", seconds="0")
    assert have == pytest.approx(23.683333, abs=1e-6)
    assert math.sin(math.radians(have)) == pytest.approx(0.40168, abs=5e-6)
    have = answer("angle_of_minutes", "°", degrees="0°", minutes="0", seconds="36")
    assert have == pytest.approx(0.01, rel=1e-9)  # definition


def test_taper_of_half_an_inch_to_the_foot() -> None:
    # 2 arctan(T/24), closed form.
    typed = {"large": "1.5 in", "small": "1 in", "length": "12 in"}
    assert answer("taper_angle", "°", "whole", **typed) == pytest.approx(2.387, abs=0.0001)
    assert answer("taper_angle", "°", "half", **typed) == pytest.approx(1.19349, abs=0.0001)
    with pytest.raises(Refusal, match="the small diameter is the larger one"):
        results("taper_angle", large="1 in", small="1.5 in", length="12 in")


def test_incidence() -> None:
    # arcsin(Δh/c), closed form; the sign says which end is the higher one.
    typed = {"front": "812.4 mm", "rear": "791.6 mm", "length": "950 mm"}
    assert answer("slope_of_heights", "°", **typed) == pytest.approx(1.25458, abs=0.0001)
    typed = {"front": "791.6 mm", "rear": "812.4 mm", "length": "950 mm"}
    assert answer("slope_of_heights", "°", **typed) == pytest.approx(-1.25458, abs=0.0001)
    with pytest.raises(Refusal, match="no angle has that"):
        results("slope_of_heights", front="100 mm", rear="0 mm", length="99 mm")


# Polar to rectangular, closed form: 80 mm, 6 holes, the first at 0°.
CIRCLE = [
    (40.0, 0.0),
    (20.0, 34.641),
    (-20.0, 34.641),
    (-40.0, 0.0),
    (-20.0, -34.641),
    (20.0, -34.641),
]


def test_bolt_circle() -> None:
    typed = {"diameter": "80 mm", "holes": "6", "start": "0°"}
    for way, places in (("anticlockwise", CIRCLE), ("clockwise", [(x, -y) for x, y in CIRCLE])):
        for n, (across, up) in enumerate(places, start=1):
            have = [
                answer("bolt_circle", "mm", f"holes.{n}.{name}", way=way, **typed)
                for name in ("across", "up")
            ]
            assert have == pytest.approx([across, up], abs=0.0001)


def test_chord_of_the_demo_ring() -> None:
    # The demo scenario: 24 bolts on 640 mm, hole to hole 83.54 mm; also 640 sin 7.5° (geometry).
    have = answer(
        "bolt_circle", "mm", "chord", diameter="640 mm", holes="24", start="90°", way="clockwise"
    )
    assert have == pytest.approx(83.54, abs=0.005)


# --- planes and lines --------------------------------------------------------------------------


def plane(points: list[tuple[float, float, float]]) -> dict[str, Any]:
    rows = [
        {"across": f"{x:.9f} mm", "aside": f"{y:.9f} mm", "up": f"{z:.9f} mm"} for x, y, z in points
    ]
    return {"rows": rows, "within": "0.05 mm"}


THREE = [(0.0, 0.0, 0.0), (-40.0, 0.0, 12.0), (0.0, 25.0, 9.0)]


def test_plane_through_three_points() -> None:
    # Cross product of two edges, closed form: normal, tilt, azimuth of the normal from x −50.1944°.
    tilt = answer("best_plane", "°", "tilt", **plane(THREE))
    assert tilt == pytest.approx(25.1085, abs=0.0001)
    high = answer("best_plane", "°", "azimuth", **plane(THREE))
    of_normal = 90 - (high + 180)  # the normal leans away from the high side; from x towards y
    assert of_normal == pytest.approx(-50.1944, abs=0.0001)
    lean = [
        -math.sin(math.radians(tilt)) * math.sin(math.radians(high)),
        -math.sin(math.radians(tilt)) * math.cos(math.radians(high)),
        math.cos(math.radians(tilt)),
    ]
    assert lean == pytest.approx([0.271652, -0.325982, 0.905506], abs=1e-6)


def test_best_plane_is_the_singular_vector_of_numpy() -> None:
    draw = random.Random(11)
    for _ in range(200):
        a, b = draw.uniform(-0.6, 0.6), draw.uniform(-0.6, 0.6)
        points = [
            (x, y, a * x + b * y + draw.gauss(0, 0.2))
            for x, y in ((draw.uniform(0, 300), draw.uniform(0, 200)) for _ in range(7))
        ]
        table_ = np.array([[round(c, 9) for c in p] for p in points])
        _, _, ways = np.linalg.svd(table_ - table_.mean(axis=0))
        normal = ways[2] if ways[2][2] > 0 else -ways[2]
        off = (table_ - table_.mean(axis=0)) @ normal
        came = results("best_plane", **plane(points))
        have = [came[f"off.{n}"].amount.value * 1000 for n in range(1, 8)]  # type: ignore[union-attr]
        assert have == pytest.approx(list(off), abs=1e-6)
        far = [f"point {n}" for n, each in enumerate(off, 1) if abs(each) > 0.05]
        assert came["again"].shown == (", ".join(far) or "none")


@pytest.mark.parametrize(
    ("points", "told"),
    [
        ([(0, 0, 0), (1, 1, 1), (2, 2, 2)], "on one straight line"),
        ([(0, 0, 0), (10, 0, 3), (0, 0, 0)], "point 3 is point 1 again"),
        ([(0, 0, 0), (10, 0, 3)], "2 points"),
        ([(0, 0, 0), (0, 10, 0), (1, 0, 10)], "tilted by 84.3°"),
    ],
)
def test_points_that_make_no_plane_are_refused(points: Any, told: str) -> None:
    with pytest.raises(Refusal) as caught:
        results("best_plane", **plane(points))
    assert told in caught.value.wrong


def test_rodrigues() -> None:
    # Closed forms: x about (1, 1, 1) by 120° is y; (1, 2, 3) about z by a quarter is (−2, 1, 3).
    third = 1 / math.sqrt(3)
    about = Straight((0.0, 0.0, 0.0), (third, third, third))
    assert turned((1.0, 0.0, 0.0), about, math.radians(120)) == pytest.approx((0, 1, 0), abs=1e-12)
    about = Straight((0.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    assert turned((1.0, 2.0, 3.0), about, math.radians(90)) == pytest.approx((-2, 1, 3), abs=1e-12)


def test_a_point_turned_about_a_hinge_line() -> None:
    # Rodrigues about an axis beside the origin, worked apart; and by scipy's rotations.
    line = {"x1": "4 mm", "y1": "0 mm", "z1": "0 mm", "x2": "4 mm", "y2": "1 mm", "z2": "0 mm"}
    point = {"x": "10 mm", "y": "5 mm", "z": "2 mm"}
    typed: dict[str, Any] = {"points": [point], "line": [line], "angle": "25°"}
    have = [answer("turned_points", "mm", f"1.{name}", **typed) for name in ("x", "y", "z")]
    assert have == pytest.approx([10.283083, 5.0, -0.723094], abs=1e-6)
    turn = Rotation.from_rotvec([0, math.radians(25), 0])
    assert have == pytest.approx(list(turn.apply([6, 5, 2]) + np.array([4, 0, 0])), abs=1e-9)


def test_small_angles_are_felt() -> None:
    # Numerical practice (Kahan, from memory): by the cosine this angle comes to nothing.
    assert angle_between((1.0, 0.0, 0.0), (1.0, 1e-8, 0.0)) == pytest.approx(1e-8, rel=1e-9)
    # cos = a · b / (|a| |b|) = 8/9, closed form.
    have = math.degrees(angle_between((1.0, 2.0, 2.0), (2.0, 1.0, 2.0)))
    assert have == pytest.approx(27.266, abs=0.0001)


def through(first: tuple[float, ...], second: tuple[float, ...]) -> dict[str, str]:
    names = ("x1", "y1", "z1", "x2", "y2", "z2")
    return {n: f"{c} mm" for n, c in zip(names, (*first, *second), strict=True)}


def test_two_lines() -> None:
    # |(p2 − p1) · (d1 × d2)| / |d1 × d2|, closed form: 1. Parallel ones by Pythagoras: 5.
    skew = [through((0, 0, 0), (1, 0, 0)), through((0, 1, 1), (0, 2, 1))]
    assert answer("lines_apart", "mm", "distance", lines=skew) == pytest.approx(1, abs=1e-12)
    even = [through((0, 0, 0), (9, 0, 0)), through((2, 3, 4), (7, 3, 4))]
    assert answer("lines_apart", "mm", "distance", lines=even) == pytest.approx(5, abs=1e-12)
    assert answer("lines_apart", "°", "angle", lines=even) == 0
    with pytest.raises(Refusal, match="the line has no length"):
        results("lines_apart", lines=[even[0], through((1, 1, 1), (1, 1, 1))])
    with pytest.raises(Refusal, match="3 lines"):
        results("lines_apart", lines=[*even, even[0]])


# --- blocks and pairs --------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["13 blocks", "16 blocks"])
def test_angle_blocks_are_the_fewest_of_all_choices(name: str) -> None:
    row = find_row("angle_blocks", {"angle_set": name})
    seconds = [round(float(b[:-1]) * 3600) for b in row["blocks"].split(", ")]
    assert len(seconds) == int(name.split()[0])
    for angle in ("31°", "33.5°", "0.05°", "12.345°"):
        came = results("angle_stack", angle=angle, angle_set=name)
        parts = came["blocks"].shown.replace("\N{MINUS SIGN} ", "-").replace("+ ", "").split()
        sizes = [(int(p.strip("-°′″")), p[-1], p.startswith("-")) for p in parts]
        in_seconds = {"°": 3600, "′": 60, "″": 1}
        total = sum((-1 if turned_ else 1) * n * in_seconds[u] for n, u, turned_ in sizes)
        step = round(float(row["finest"][:-1]) * 3600)
        assert total == round(float(angle[:-1]) * 3600 / step) * step
        for fewer in range(1, len(parts)):
            if fewer > 3:
                break  # all choices of three are tried; of more the second method is the check
            for chosen in itertools.combinations(seconds, fewer):
                sums = {sum(s * b for s, b in zip(signs, chosen, strict=True))
                        for signs in itertools.product((1, -1), repeat=fewer)}  # fmt: skip
                assert total not in sums


def test_an_angle_that_the_blocks_do_not_make_is_refused() -> None:
    # 41 + 27 + 9 + 3 + 1 and 40 minutes are 81° 40′ and a few seconds: no 85°.
    with pytest.raises(Refusal, match="no blocks of the set make 85"):
        results("angle_stack", angle="85°", angle_set="13 blocks")


def pair(**more: str) -> dict[str, str]:
    return {
        "port_along": "100 mm", "port_across": "-40 mm", "port_up": "12 mm",
        "stbd_along": "100.02 mm", "stbd_across": "40.01 mm", "stbd_up": "12 mm", **more,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("more", "slips", "differ"),
    # A mirror image: across has the other sign, along and up the same.
    [
        ({}, "none", "none"),
        ({"stbd_across": "-40.01 mm"}, "point 1 across", "none"),
        ({"stbd_up": "-12.03 mm"}, "point 1 up", "none"),
        ({"stbd_along": "-100 mm", "stbd_up": "13 mm"}, "point 1 along", "point 1 up"),
        ({"stbd_across": "40.06 mm"}, "none", "point 1 across"),
    ],
)
def test_signs_of_a_pair(more: dict[str, str], slips: str, differ: str) -> None:
    came = results("hands_compared", rows=[pair(**more)], within="0.05 mm")
    assert (came["slips"].shown, came["differ"].shown) == (slips, differ)


def test_signs_of_slopes() -> None:
    rows = [{"port": "1.95°", "stbd": "1.93°"}, {"port": "3.40°", "stbd": "-3.41°"},
            {"port": "-2°", "stbd": "-2.5°"}]  # fmt: skip
    came = results("slopes_compared", rows=rows, within="0.05°")
    assert (came["slips"].shown, came["differ"].shown) == ("slope 2", "slope 3")


def test_a_port_and_a_starboard_base_have_the_same_numbers() -> None:
    # What the hand changes is the picture alone: slopes are told by what rises, aft and inboard.
    rows = [{"along": "1.95°", "across": "3.40°"}]
    typed: dict[str, Any] = {"rows": rows, "rises": "0°", "turns": "0°", "length": "44 mm"}
    for name in ("1.tilt", "1.azimuth", "1.ends"):
        port, stbd = (results("hinge_bases", hand=h, **typed)[name].shown for h in ("PORT", "STBD"))
        assert port == stbd


# --- doors -------------------------------------------------------------------------------------


def corners(at: str, *places: tuple[float, float]) -> list[dict[str, str]]:
    return [{"at": at, "across": f"{x:.6f} mm", "up": f"{z:.6f} mm"} for x, z in places]


def test_a_door_against_a_wall() -> None:
    # Geometry: the far corner (200, −30), turned by 120°, stands at 200 cos 120° + 30 sin 120° =
    # −74.02 across; the wall at −80 is 5.98 mm away, and farther at every smaller opening.
    typed: dict[str, Any] = {
        "door": corners("0 mm", (20, -30), (200, -30)),
        "shell": corners("0 mm", (-80, 60), (-80, 400)),
        "opens": "120°", "wanted": "1 mm", "drawing": "0.5 mm",
    }  # fmt: skip
    wanted = 80 + 200 * math.cos(math.radians(120)) + 30 * math.sin(math.radians(120))
    assert answer("door_swing", "mm", "sections.1.gap", **typed) == pytest.approx(wanted, abs=1e-6)
    assert answer("door_swing", "°", "sections.1.opening", **typed) == pytest.approx(120, abs=1e-6)
    # The error of the search, 0.1 mm, and that of the drawing are taken off.
    assert answer("door_swing", "mm", "sure", **typed) == pytest.approx(wanted - 0.6, abs=1e-6)
    with pytest.raises(Refusal, match=r"the gap that is sure is 5\.3 mm where 6 mm are wanted"):
        results("door_swing", **(typed | {"wanted": "6 mm"}))


def test_a_door_swings_as_by_brute_force() -> None:
    # Random quadrangles, tried at every quarter of a degree, corners against sides by numpy.
    draw = random.Random(5)

    def to_side(p: complex, a: complex, b: complex) -> float:
        share = ((p - a) * (b - a).conjugate()).real / abs(b - a) ** 2
        return abs(p - a - min(1.0, max(0.0, share)) * (b - a))

    for _ in range(12):
        near, far = draw.uniform(10, 40), draw.uniform(120, 300)
        leaf = [(near, draw.uniform(-20, 20)), (far, draw.uniform(-20, 20))]
        hull = [(-400.0, draw.uniform(-120, -90)), (-10.0, draw.uniform(-80, -50))]
        typed: dict[str, Any] = {
            "door": corners("0 mm", *leaf), "shell": corners("0 mm", *hull), "opens": "100°",
            "wanted": "0.1 mm", "drawing": "0 mm",
        }  # fmt: skip
        one, other = [complex(*p) for p in leaf], [complex(*p) for p in hull]
        least = min(
            min(to_side(p * w, *other) for p in one)
            for w in (np.exp(1j * np.radians(t / 4)) for t in range(401))
        )
        back = min(
            min(to_side(p / w, *one) for p in other)
            for w in (np.exp(1j * np.radians(t / 4)) for t in range(401))
        )
        have = answer("door_swing", "mm", "sections.1.gap", **typed)
        assert have == pytest.approx(min(least, back), abs=0.11)


def test_a_door_that_meets_the_shell_is_refused_with_its_angle() -> None:
    # A wall 50 mm from the hinge line stops a door of 100 mm before it stands at 120°.
    typed: dict[str, Any] = {
        "door": corners("0 mm", (10, 0), (100, 0)), "shell": corners("0 mm", (-50, 10), (-50, 300)),
        "opens": "180°", "wanted": "1 mm", "drawing": "0 mm",
    }  # fmt: skip
    with pytest.raises(Refusal) as caught:
        results("door_swing", **typed)
    assert "at 0 mm the door meets the shell" in caught.value.wrong
    assert results("door_swing", **(typed | {"opens": "110°"}))


def test_door_and_shell_are_cut_at_the_same_stations() -> None:
    typed: dict[str, Any] = {
        "door": corners("0 mm", (10, 0), (100, 0)), "shell": corners("5 mm", (-50, 10), (-50, 300)),
        "opens": "90°", "wanted": "1 mm", "drawing": "0 mm",
    }  # fmt: skip
    with pytest.raises(Refusal, match="the shell at other stations"):
        results("door_swing", **typed)
