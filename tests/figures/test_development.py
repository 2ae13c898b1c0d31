"""Flat patterns: rows in; pictures whose marks are measured."""

from __future__ import annotations

import itertools
import math

import pytest

from generator import figures
from generator.figures.lettering import text_box
from generator.figures.picture import Line, Outline, Words
from generator.findings import Refusal

N = 13


def ring(radius: float) -> str:
    turns = (math.radians(-120 + 60 * k / (N - 1)) for k in range(N))
    return "; ".join(f"{radius * math.cos(t):.2f} {radius * math.sin(t):.2f}" for t in turns)


ROWS = {
    "edge a": ring(600), "edge b": ring(420), "marked": "outside", "rolls": "DOWN",
    "edges": "smooth", "grain": "along the length", "sheet": "0.8 mm", "of hand": "STBD",
}  # fmt: skip
WHOLE = {**ROWS, "name": "cone", "line": "cut line", "hand": "STBD"}


def drawn(**more: str) -> figures.FullSize:
    return figures.full_size("development", {**WHOLE, **more})


def test_the_outline_is_as_long_as_the_arcs() -> None:
    """Radii of 600 and 420 mm over 60°, and two lines of 180 mm."""
    outline = [m for m in drawn().marks if isinstance(m, Outline) and not m.filled]
    length = sum(math.dist(a, b) for m in outline for a, b in itertools.pairwise(m.points))
    assert length == pytest.approx(math.pi / 3 * (600 + 420) + 2 * 180, abs=0.1)


def test_checks_measure_from_end_to_end() -> None:
    checks = {c.what: c.millimetres for c in drawn().checks}
    assert checks[f"first edge, line 1 to line {N}"] == pytest.approx(600, abs=0.02)
    assert checks[f"second edge, line 1 to line {N}"] == pytest.approx(420, abs=0.02)
    assert checks["line 1, edge to edge"] == pytest.approx(180, abs=0.02)


def test_the_piece_itself_says_face_way_hand_and_grain() -> None:
    words = [m.text for m in drawn().marks if isinstance(m, Words)]
    for wanted in ("MARKED FACE: OUTSIDE", "ROLL DOWN", "STBD", "GRAIN"):
        assert wanted in words
    assert {str(n) for n in range(1, N + 1)} <= set(words)


@pytest.mark.parametrize("grain", ["along the length", "across the length"])
def test_no_words_touch_each_other_or_a_line(grain: str) -> None:
    marks = drawn(grain=grain).marks
    words = [m for m in marks if isinstance(m, Words)]
    boxes = [text_box(w) for w in words]
    for one, other in itertools.combinations(boxes, 2):
        assert not one.overlaps(other)
    for line in (m for m in marks if isinstance(m, Line)):
        for k in range(101):
            x = line.x1 + (line.x2 - line.x1) * k / 100
            y = line.y1 + (line.y2 - line.y1) * k / 100
            assert not any(b.left < x < b.right and b.top < y < b.bottom for b in boxes)


def test_a_narrow_pattern_has_its_words_below() -> None:
    thin = {"edge a": "0 0; 100 0; 200 0", "edge b": "0 12; 100 12; 200 12", "edges": "straight"}
    made = drawn(**thin)
    lowest = max(
        y for m in made.marks if isinstance(m, Outline) for _, y in m.points if not m.filled
    )
    assert all(w.y > lowest for w in made.marks if isinstance(w, Words) and w.text == "ROLL DOWN")


def test_an_apex_is_one_point() -> None:
    made = drawn(**{"edge b": "; ".join(["0.00 0.00"] * N)})
    assert not any("second edge, line 1" in c.what for c in made.checks)
    figures.figure("figure", "development", {**ROWS, "edge b": "; ".join(["0 0"] * N)}, 157.0)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"grain": ""}, "without its grain"),
        ({"grain": "upwards"}, "grain 'upwards'"),
        ({"edge b": "0 0; 10 0"}, "13 points on one edge, 2 on the other"),
        ({"edge a": "0 0; 10"}, "are no points"),
        ({"rolls": ""}, "without its rolls"),
    ],
)
def test_patterns_that_are_refused(more: dict[str, str], says: str) -> None:
    with pytest.raises(Refusal, match=says):
        drawn(**more)
