"""Drawings at full size: where holes, bends and edges lie, by arithmetic that can be seen."""

from __future__ import annotations

import itertools
import math

import pytest

from generator.figures import FULL_SIZE, full_size
from generator.figures.full_size import (
    CUT,
    LARGEST,
    FullSize,
    arc,
    millimetres,
    moved,
    patterned,
    reach,
)
from generator.figures.picture import Circle, Line, Outline, Tick, Words
from generator.findings import Refusal

COMMON = {"name": "ring", "line": "hole centres", "hand": "PORT"}
CIRCLE = {
    "fasteners": "24", "item": "bolt 1/4-28", "pitch circle": "640 mm", "first": "top",
    "numbering": "clockwise", "looking": "aft", **COMMON,
}  # fmt: skip
RECTANGLE = {
    "fasteners": "15", "rows": "3", "columns": "5", "item": "bolt", "pitch across": "64 mm",
    "pitch down": "2 in", "first": "bottom right", "numbering": "row by row",
    "looking": "outboard", **COMMON,
}  # fmt: skip
FLAT = {
    "length": "104.9 mm", "thickness": "0.914 mm",
    "flat 1": "20.9 mm", "bend 1": "90° R 3.2 mm up", "allowance 1": "5.66 mm",
    "tangent 1": "20.9 mm to 26.5 mm", "sight 1": "24.1 mm", "nose 1": "leg 1",
    "flat 2": "51.8 mm", "bend 2": "45° R 3.2 mm down", "allowance 2": "5.66 mm",
    "tangent 2": "78.3 mm to 84.0 mm", "sight 2": "80.8 mm", "nose 2": "leg 3",
    "flat 3": "20.9 mm", "width": "40 mm", "grain": "along the length", "order": "2 1",
    "relief 1": "Ø 6.4 mm", "relief 2": "Ø 6.4 mm",
    "name": "developed", "line": "cut line", "hand": "none",
}  # fmt: skip


def crosses(made: FullSize) -> list[tuple[float, float]]:
    """The middles of all crosses: two strokes of 10 mm with one middle."""
    middles = [
        ((m.x1 + m.x2) / 2, (m.y1 + m.y2) / 2)
        for m in made.marks
        if isinstance(m, Line) and abs(math.dist((m.x1, m.y1), (m.x2, m.y2)) - 10) < 1e-9
    ]
    return [a for a, b in zip(middles[0::2], middles[1::2], strict=True) if math.dist(a, b) < 1e-9]


def numbered(made: FullSize) -> dict[int, tuple[float, float]]:
    """Every hole by the number that stands nearest to it."""
    holes = crosses(made)
    return {
        int(m.text): min(holes, key=lambda h: math.dist(h, (m.x, m.y)))
        for m in made.marks
        if isinstance(m, Words) and m.text.isdigit()
    }


@pytest.mark.parametrize(
    ("first", "numbering", "places"),
    [
        # (number, right of the centre, below the centre) in pitch radii
        ("top", "clockwise", [(1, 0, -1), (7, 1, 0), (13, 0, 1), (19, -1, 0)]),
        ("top", "anticlockwise", [(1, 0, -1), (7, -1, 0), (13, 0, 1), (19, 1, 0)]),
        ("left", "clockwise", [(1, -1, 0), (7, 0, -1), (13, 1, 0), (19, 0, 1)]),
        ("bottom", "anticlockwise", [(1, 0, 1), (7, 1, 0), (13, 0, -1), (19, -1, 0)]),
    ],
)
def test_holes_of_a_circle(first: str, numbering: str, places: list[tuple[int, int, int]]) -> None:
    made = full_size("circle", {**CIRCLE, "first": first, "numbering": numbering})
    holes = numbered(made)
    assert sorted(holes) == list(range(1, 25))
    middle = (made.width / 2, made.height / 2)
    for number, right, below in places:
        x, y = holes[number]
        assert math.isclose(x - middle[0], 320.0 * right, abs_tol=1e-9)
        assert math.isclose(y - middle[1], 320.0 * below, abs_tol=1e-9)
    for number in range(1, 24):  # 640 mm · sin(180° / 24) = 83.536 mm
        assert abs(math.dist(holes[number], holes[number + 1]) - 83.536) < 0.001
    (check,) = made.checks
    assert check.what.endswith("hole 13")
    assert math.isclose(check.millimetres, 640.0)


def test_an_odd_circle_is_measured_over_its_longest_chord() -> None:
    """Five holes on 100 mm: 1 to 3 is 100 · sin 72° = 95.106 mm."""
    made = full_size("circle", {**CIRCLE, "fasteners": "5", "pitch circle": "100 mm"})
    (check,) = made.checks
    assert check.what.endswith("hole 3")
    assert abs(check.millimetres - 95.106) < 0.001
    holes = numbered(made)
    assert math.isclose(math.dist(holes[1], holes[3]), check.millimetres)


def test_holes_of_a_rectangle_run_from_the_corner_that_is_named() -> None:
    """Bottom right first: numbers run to the left, the next row above; 2 in is 50.8 mm."""
    holes = numbered(full_size("rectangle", RECTANGLE))
    x, y = holes[1]
    for number, (left, up) in {2: (1, 0), 5: (4, 0), 6: (0, 1), 10: (4, 1), 15: (4, 2)}.items():
        assert math.isclose(holes[number][0], x - 64.0 * left)
        assert math.isclose(holes[number][1], y - 50.8 * up)


def test_a_rectangle_is_measured_along_both_its_sides() -> None:
    made = full_size("rectangle", RECTANGLE)
    found = {check.what.rsplit(" ", 1)[1]: check.millimetres for check in made.checks}
    assert found == {"5": pytest.approx(256.0), "11": pytest.approx(101.6)}  # 4 · 64, 2 · 50.8


def test_blank_and_bends_lie_where_the_rows_say() -> None:
    made = full_size("flat-pattern", FLAT)
    (blank,) = [m for m in made.marks if isinstance(m, Outline) and m.closed and m.weight == CUT]
    box = reach(blank)
    assert math.isclose(box.right - box.left, 104.9)
    assert math.isclose(box.bottom - box.top, 40.0)
    whole = [
        m.x1 - box.left
        for m in made.marks
        if isinstance(m, Line) and m.x1 == m.x2 and math.isclose(m.y2 - m.y1, 40.0)
    ]
    assert sorted(whole) == pytest.approx([20.9, 26.5, 78.3, 84.0])
    # Middles of the bends, (20.9 + 26.5) / 2 and (78.3 + 84.0) / 2, with their holes on both edges.
    holes = [m for m in made.marks if isinstance(m, Circle)]
    assert sorted({round(m.x - box.left, 6) for m in holes}) == [23.7, 81.15]
    assert {round(m.y - box.top, 6) for m in holes} == {0.0, 40.0}
    assert {m.radius for m in holes} == {3.2}


def test_flat_pattern_says_which_way_each_bend_turns() -> None:
    made = full_size("flat-pattern", FLAT)
    said = [m.text for m in made.marks if isinstance(m, Words)]
    for words in (
        "BEND 1",
        "UP 90°",
        "BEND 2",
        "DOWN 45°",
        "1 UP",
        "2 DOWN",
        "GRAIN",
        "FIRST EDGE",
    ):
        assert words in said
    assert "Bend in the order 2, 1." in made.notes
    assert "What the line means: cut line; hand: none." in made.notes


def bends(count: int) -> dict[str, str]:
    """A blank of many bends, 12 mm apart: 6 mm of bend, 6 mm of flat."""
    rows = {"length": f"{12 * count + 6} mm", "thickness": "1 mm", "width": "40 mm"}
    for n in range(1, count + 1):
        at = 12 * n - 6
        rows |= {
            f"flat {n}": "6 mm", f"bend {n}": "90° R 3 mm up", f"allowance {n}": "6 mm",
            f"tangent {n}": f"{at} mm to {at + 6} mm", f"sight {n}": f"{at + 3} mm",
        }  # fmt: skip
    more = {"grain": "across the length", "name": "n", "line": "cut line", "hand": "none"}
    return {**rows, f"flat {count + 1}": "6 mm", **more}


@pytest.mark.parametrize("rows", [FLAT, bends(1), bends(7), {**FLAT, "grain": "across the length"}])
def test_no_words_of_a_flat_pattern_lie_on_each_other_and_none_leave_the_drawing(
    rows: dict[str, str],
) -> None:
    made = full_size("flat-pattern", rows)
    boxes = [reach(mark) for mark in made.marks if isinstance(mark, Words)]
    for i, one in enumerate(boxes):
        assert not any(one.overlaps(other) for other in boxes[i + 1 :])
    for mark in made.marks:
        box = reach(mark)
        assert box.left >= -1e-9
        assert box.top >= -1e-9
        assert box.right <= made.width + 1e-9
        assert box.bottom <= made.height + 1e-9


@pytest.mark.parametrize("radius", [5.0, 25.0, 320.0, 1990.0])
def test_chords_of_an_arc_leave_it_by_less_than_a_printed_dot(radius: float) -> None:
    """At 600 dpi a dot is 0.042 mm."""
    points = arc((7.0, 9.0), radius, 0.3, 2.1)
    for a, b in itertools.pairwise(points):
        assert math.isclose(math.dist(a, (7.0, 9.0)), radius)
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        assert radius - math.dist(middle, (7.0, 9.0)) < 0.005


def test_a_pattern_of_strokes_covers_its_line_from_end_to_end() -> None:
    strokes = list(patterned((0.0, 0.0), (30.0, 40.0), (6.0, 1.2, 1.2, 1.2), 0.3))
    assert (strokes[0].x1, strokes[0].y1) == (0.0, 0.0)
    assert math.isclose(math.dist((0.0, 0.0), (strokes[-1].x2, strokes[-1].y2)), 49.2, abs_tol=1.0)
    for one, other in itertools.pairwise(strokes):
        assert math.isclose(math.dist((one.x2, one.y2), (other.x1, other.y1)), 1.2)


@pytest.mark.parametrize(
    ("text", "value"),
    [("640 mm", 640.0), ("25.2 in", 640.08), ("1 17/64 in", 32.146875), ("640 ± 0.2 mm", 640.0)],
)
def test_a_printed_length_in_millimetres(text: str, value: float) -> None:
    assert math.isclose(millimetres(text), value)  # an inch is 25.4 mm


@pytest.mark.parametrize("text", ["90°", "0 mm", "60 lbf·in"])
def test_what_is_no_length_is_not_drawn(text: str) -> None:
    with pytest.raises(Refusal):
        millimetres(text)


@pytest.mark.parametrize(
    ("kind", "change", "wrong"),
    [
        ("circle", {"line": ""}, "without its line"),
        ("circle", {"hand": ""}, "without its hand"),
        ("circle", {"pitch circle": ""}, "without its pitch circle"),
        ("circle", {"pitch circle": f"{LARGEST - 20:g} mm"}, "a drawing of"),
        ("circle", {"pitch circle": "64 mm"}, "no room for their numbers"),
        ("rectangle", {"pitch across": ""}, "without its pitch across"),
        ("rectangle", {"pitch down": "9 mm"}, "9.0 mm apart"),
        ("flat-pattern", {"width": ""}, "length"),
        ("flat-pattern", {"grain": ""}, "without its grain"),
        ("bend-profile", {}, "no drawing at full size"),
    ],
)
def test_refused(kind: str, change: dict[str, str], wrong: str) -> None:
    sound = {"circle": CIRCLE, "rectangle": RECTANGLE, "flat-pattern": FLAT}.get(kind, CIRCLE)
    with pytest.raises(Refusal, match=wrong):
        full_size(kind, {**sound, **change})


def test_no_place_to_write_is_part_of_a_drawing() -> None:
    tick = Tick(1.0, 1.0, 6.0, "done")
    for use in (lambda: moved(tick, 1.0, 1.0), lambda: reach(tick)):
        with pytest.raises(TypeError):
            use()


def test_every_kind_that_there_is_is_tested_here() -> None:
    # test_plan_map.py, test_former.py, test_development.py
    elsewhere = {"placed", "former-template", "development"}
    assert set(FULL_SIZE) == {"circle", "rectangle", "flat-pattern"} | elsewhere
