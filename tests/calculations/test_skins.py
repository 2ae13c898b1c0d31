"""Skins between two sections against closed forms, and folded back."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
import pytest

from generator.findings import Refusal
from tests.calculations.asking import results
from tests.calculations.rolled_out import (
    WITHIN,
    ellipse_girth,
    flat,
    integral,
    number,
    smooth_length,
    smooth_places,
)

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
