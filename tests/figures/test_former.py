"""Sections as rows, in; where their lines, datum lines and words lie at full size, by arithmetic."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest

from generator.figures import figure, full_size
from generator.figures.full_size import CUT, FullSize
from generator.figures.picture import Line, Outline, Point, Words
from generator.findings import Refusal

RING = [(300 * math.cos(math.pi * k / 12), 300 * math.sin(math.pi * k / 12)) for k in range(3, 10)]
SAID = {
    "name": "formers 3", "line": "inside of skin", "hand": "STBD", "station": "450.0 mm, 3 of 7",
    "of hand": "STBD, mirrored from PORT", "looking": "aft", "inside": "below",
    "surface": "inside of skin, skin 0.9 mm", "at 1": "450.0 mm", "girth": "471.2 mm",
}  # fmt: skip


def told(points: list[Point]) -> str:
    return "; ".join(f"{x:.2f} {y:.2f}" for x, y in points).replace("-", "\N{MINUS SIGN}")


def template(points: list[Point], **more: str) -> FullSize:
    return full_size("former-template", {**SAID, "points 1": told(points), **more})


def line(made: FullSize) -> list[Point]:
    return [p for m in made.marks if isinstance(m, Outline) and m.weight == CUT for p in m.points]


def crosses(made: FullSize) -> list[Point]:
    """The middles of the crosses on the line: strokes of 5 mm, in their order."""
    return [
        ((m.x1 + m.x2) / 2, (m.y1 + m.y2) / 2)
        for m in made.marks
        if isinstance(m, Line) and abs(math.dist((m.x1, m.y1), (m.x2, m.y2)) - 2.5) < 1e-6
    ]


def words(made: FullSize) -> list[str]:
    return [m.text for m in made.marks if isinstance(m, Words)]


def chained(made: FullSize, upright: bool) -> float:
    """Where the chained line across or up the drawing lies."""
    at = {
        round(m.x1 if upright else m.y1, 6)
        for m in made.marks
        if isinstance(m, Line) and (m.x1 == m.x2 if upright else m.y1 == m.y2)
        and math.dist((m.x1, m.y1), (m.x2, m.y2)) != pytest.approx(2.5)
    }  # fmt: skip
    (one,) = at
    return one


def test_the_line_is_the_section_at_its_own_size() -> None:
    made = template(RING)
    right, down = chained(made, upright=True), chained(made, upright=False)
    # The datum up 0 is 212 mm below the lowest point: a line in a round distance stands for it.
    assert "up +250 mm from the datum" in words(made) and "DATUM across 0" in words(made)
    traced = line(made)
    for x, y in traced:
        across, up = x - right, down - y + 250
        assert math.hypot(across, up) == pytest.approx(300, abs=0.15)
    assert len(traced) > 60
    assert max(math.dist(a, b) for a, b in itertools.pairwise(traced)) < 10


def test_the_points_of_the_table_lie_on_the_line() -> None:
    made = template(RING)
    right, down = chained(made, upright=True), chained(made, upright=False)
    for n, (across, up) in enumerate(RING, 1):
        (number,) = (m for m in made.marks if isinstance(m, Words) and m.text == str(n))
        at = (right + across, down - (up - 250))
        assert math.dist((number.x, number.y), at) < 10
        assert min(math.dist(at, p) for p in line(made)) < 0.01


def test_it_can_be_measured_from_point_to_point() -> None:
    made = template(RING)
    assert [(each.what, round(each.millimetres, 1)) for each in made.checks] == [
        ("point 1 to point 7", 424.3),  # 2 x 300 x sin 45°
        ("point 1 to point 4", 229.6),  # 2 x 300 x sin 22.5°
    ]


def test_it_says_on_the_piece_what_it_is() -> None:
    said = words(template(RING))
    for wanted in (
        "STATION 450.0 mm", "STBD, mirrored from PORT", "INSIDE OF SKIN, SKIN 0.9 MM, looking AFT",
        "THIS SIDE IS INSIDE",
    ):  # fmt: skip
        assert wanted in said


@pytest.mark.parametrize(
    ("inside", "points", "sign"),
    [("below", RING, 1), ("below", RING[::-1], 1), ("above", RING, -1), ("within", None, 1)],
)
def test_the_words_stand_on_the_inside(inside: str, points: Any, sign: int) -> None:
    placed = points or [
        (300 * math.cos(2 * math.pi * k / 12), 300 * math.sin(2 * math.pi * k / 12))
        for k in range(12)
    ]
    made = template(placed, inside=inside)
    (word,) = (m for m in made.marks if isinstance(m, Words) and m.text == "THIS SIDE IS INSIDE")
    right = chained(made, upright=True) if points else 0.0
    if points:
        down = chained(made, upright=False)
        away = math.hypot(word.x - right, down - word.y + 250)
        assert (300 - away) * sign > 5
    assert f"The inside lies {inside} the line." in made.notes


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"looking": ""}, "without their looking"),
        ({"surface": ""}, "without their surface"),
        ({"points 1": "0 0; 10"}, "are no points"),
        ({"points 1": "0 0; 10 5"}, "two points of a section are one, or too few"),
        ({"points 1": "0 0; 10 5; 10 5; 20 0"}, "are one"),
        ({"inside": "outside"}, "inside 'outside'"),
    ],
)
def test_rows_that_are_refused(more: dict[str, str], says: str) -> None:
    with pytest.raises(Refusal, match=says):
        full_size("former-template", {**SAID, "points 1": told(RING), **more})


def test_the_plan_shows_all_sections_in_proportion() -> None:
    rows = {name: SAID[name] for name in ("of hand", "looking", "inside", "surface")}
    for n, share in enumerate((1.0, 0.9, 0.8), 1):
        rows[f"at {n}"] = f"{100 * n}.0 mm"
        rows[f"points {n}"] = told([(x * share, y * share) for x, y in RING])
    made = figure("figure", "former-templates", rows, 150.0)
    thick, thin = (
        [m for m in made.marks if isinstance(m, Outline) and m.weight == w] for w in (0.7, 0.25)
    )
    assert len(thick) == len(thin) == 1
    wide = [max(x for x, _ in m.points) - min(x for x, _ in m.points) for m in (*thick, *thin)]
    assert wide[1] / wide[0] == pytest.approx(0.9, abs=1e-3)
    said = " ".join(m.text for m in made.marks if isinstance(m, Words))
    assert "Thick: 100.0 mm; thin: 200.0 mm; dashed: 300.0 mm" in said
    assert "hand STBD, mirrored from PORT, looking aft" in said
