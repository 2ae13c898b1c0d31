"""A rectangle of fasteners: numbers run from their corner, and a pen finds room at each."""

from __future__ import annotations

import math
import re
from itertools import pairwise

import pytest

from generator.figures import figure
from generator.figures.picture import Circle, Line, Picture, Tick, Words
from generator.findings import Refusal
from tests.figures.measured import (
    boxes,
    circle_enters,
    collisions,
    every,
    middle,
    outside,
    strokes,
)

PLATE = {
    "item": "bolt 1/4-28",
    "pitch across": "40 mm",
    "pitch down": "35 mm",
    "first": "top left",
    "numbering": "row by row",
    "looking": "aft",
}
# 4 rows of 6, from the middle outwards.
ORDER = "9 16 10 15 3 22 4 21 8 17 11 14 2 23 5 20 7 18 12 13 1 24 6 19"
SIZES = [(1, 2), (1, 13), (2, 3), (4, 6), (3, 3), (7, 9), (9, 11), (12, 8), (16, 4), (2, 18)]
CORNERS = ("top left", "top right", "bottom left", "bottom right")


def plate(down: int = 4, across: int = 6, wide: float = 160, /, **rows: str) -> Picture:
    size = {"fasteners": str(down * across), "rows": str(down), "columns": str(across)}
    return figure("map", "rectangle", {**size, **PLATE, **rows}, wide)


def numbers(picture: Picture) -> dict[int, tuple[float, float]]:
    """The middle of each number on the map: the first of its kind, before the order's list."""
    found: dict[int, tuple[float, float]] = {}
    for words in every(picture, Words):
        if words.text.isdecimal() and words.size == 12:
            found.setdefault(int(words.text), middle(words))
    return found


@pytest.mark.parametrize(
    ("first", "right", "down"),
    [("top left", 1, 1), ("top right", -1, 1), ("bottom left", 1, -1), ("bottom right", -1, -1)],
)
def test_numbers_run_along_the_row_from_their_corner(first: str, right: int, down: int) -> None:
    at = numbers(plate(first=first))
    assert sorted(at) == list(range(1, 25))
    for number, (x, y) in at.items():
        row, column = (number - 1) // 6, (number - 1) % 6
        assert (x - at[1][0]) * right == pytest.approx(column * abs(at[2][0] - at[1][0]), abs=0.3)
        assert (y - at[1][1]) * down == pytest.approx(row * abs(at[7][1] - at[1][1]), abs=0.01)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("first", CORNERS)
def test_nothing_touches_and_nothing_leaves_the_picture(size: tuple[int, int], first: str) -> None:
    order = " ".join(map(str, range(1, size[0] * size[1] + 1)))
    picture = plate(*size, 160, first=first, order=order)
    assert collisions(picture) == []
    assert outside(picture) == []
    for name, held in boxes(picture).items():
        assert not any(stroke.enters(held) for stroke in strokes(picture)), name
        if name.startswith("tick"):
            assert not any(circle_enters(c, held) for c in every(picture, Circle)), name


@pytest.mark.parametrize("size", SIZES)
def test_every_number_has_its_own_tick_box_nearest(size: tuple[int, int]) -> None:
    for first in CORNERS:
        picture = plate(*size, 160, first=first)
        ticks = every(picture, Tick)
        assert len(ticks) == len(numbers(picture)) == size[0] * size[1]
        for number, at in numbers(picture).items():
            nearest = min(ticks, key=lambda t: math.dist(at, (t.x + 2.75, t.y + 2.75)))
            assert nearest.meaning == f"bolt 1/4-28 no. {number}"


def test_numbers_are_12_point_and_tick_boxes_5_mm() -> None:
    for size in SIZES:
        picture = plate(*size)
        figures = [w for w in every(picture, Words) if w.text.isdecimal()]
        assert min(w.size for w in figures) >= 12
        assert min(t.size for t in every(picture, Tick)) >= 5


@pytest.mark.parametrize("first", CORNERS)
def test_the_view_the_start_and_the_count_are_in_words(first: str) -> None:
    said = {w.text for w in every(plate(first=first), Words)}
    assert "looking aft, numbered row by row" in said
    assert f"NUMBER 1: {first}" in said
    assert not any("START" in text for text in said)
    assert "4 rows of 6: 24, bolt 1/4-28, pitch across 40 mm, pitch down 35 mm" in said
    assert ("top" in said) == first.startswith("bottom")


@pytest.mark.parametrize("first", CORNERS)
def test_the_arrow_at_the_start_runs_as_the_numbers_run(first: str) -> None:
    picture = plate(first=first)
    at = numbers(picture)
    (arrow,) = (line for line in every(picture, Line) if line.weight == 0.5)
    assert (arrow.x2 - arrow.x1) * (at[2][0] - at[1][0]) > 0
    assert abs(arrow.x1 - at[1][0]) < 5
    assert (arrow.y1 < at[1][1]) == first.startswith("top")


def test_the_order_is_printed_as_it_is_given() -> None:
    words = every(plate(order=ORDER), Words)
    after = words[[w.text for w in words].index("order") + 1 :]
    assert " ".join(w.text for w in after) == ORDER
    assert any("one of several valid" in w.text for w in words)
    assert not any("valid" in w.text for w in every(plate(), Words))


@pytest.mark.parametrize("order", [ORDER, " ".join(map(str, range(1, 25)))])
def test_where_the_order_begins_is_in_bold_words_beside_it(order: str) -> None:
    words = every(plate(order=order), Words)
    (begins,) = (w for w in words if w.text.startswith("begin"))
    (name,) = (w for w in words if w.text == "order")
    assert begins.text == f"begin at {order.split()[0]}"
    assert begins.bold
    assert begins.x == name.x and 0 < begins.y - name.y < 6
    assert not any(w.text.startswith("begin") for w in every(plate(), Words))


@pytest.mark.parametrize("wide", [113.0, 160.0])
def test_the_words_below_an_order_of_one_line_stay_in_the_picture(wide: float) -> None:
    picture = plate(2, 2, wide, order="4 1 2 3")
    assert outside(picture) == [] and collisions(picture) == []


PLANS = [(33, 3), (2, 30), (30, 2), (10, 10), (10, 20), (20, 10), (4, 50)]


@pytest.mark.parametrize("size", PLANS)
@pytest.mark.parametrize("first", CORNERS)
def test_what_is_too_much_for_boxes_beside_is_a_plan_with_the_boxes_below(
    size: tuple[int, int], first: str
) -> None:
    down, across = size
    order = " ".join(map(str, range(down * across, 0, -1)))
    high = 200.0
    rows = {"fasteners": f"{down * across}", "rows": f"{down}", "columns": f"{across}"}
    made = figure("map", "rectangle", {**rows, **PLATE, "first": first, "order": order}, 160, high)
    parts = (made, *made.more)
    ticks = [tick for part in parts for tick in every(part, Tick)]
    assert [t.meaning for t in ticks] == [f"bolt 1/4-28 no. {n}" for n in order.split()]
    for part in parts:
        assert part.height <= high
        assert collisions(part) == [] and outside(part) == []
        said = " ".join(w.text for w in every(part, Words))
        assert f"NUMBER 1: {first}" in said and "not to scale" in said
        assert_numbers_stand_at_their_dots(part, down, across, first)


def assert_numbers_stand_at_their_dots(part: Picture, down: int, across: int, first: str) -> None:
    """Each number on the plan is nearest to the dot of its row and column in the view."""
    dots = [(c.x, c.y) for c in every(part, Circle)]
    columns, rows = (sorted({round(d[i], 6) for d in dots}) for i in (0, 1))
    assert (len(rows), len(columns), len(dots)) == (down, across, down * across)
    below = min(tick.y for tick in every(part, Tick)) - 2
    figures = [w for w in every(part, Words) if w.text.isdecimal() and w.y < below]
    assert len(figures) >= down / 5
    # Rows stand apart enough to be counted by eye: 3 mm, less the rounding of the sum.
    assert down == 1 or min(b - a for a, b in pairwise(rows)) > 2.99
    heavy = [(c.x, c.y) for c in every(part, Circle) if c.weight == 0.6]
    for words in figures:
        near = min(heavy if len(heavy) > 1 else dots, key=lambda dot: math.dist(dot, middle(words)))
        row, column = divmod(int(words.text) - 1, across)
        row = row if first.startswith("top") else down - 1 - row
        column = column if first.endswith("left") else across - 1 - column
        assert (round(near[0], 6), round(near[1], 6)) == (columns[column], rows[row]), words.text


def test_a_rectangle_higher_than_its_page_is_a_plan_also_where_boxes_would_fit_beside() -> None:
    order = " ".join(map(str, range(1, 100)))
    size = {"fasteners": "99", "rows": "9", "columns": "11", "order": order}
    beside = figure("map", "rectangle", {**size, **PLATE}, 160)
    assert beside.height > 200
    made = figure("map", "rectangle", {**size, **PLATE}, 160, 200.0)
    assert max(part.height for part in (made, *made.more)) <= 200


@pytest.mark.parametrize(
    ("rows", "wrong"),
    [
        ({"fasteners": "23"}, "4 rows of 6 are 24 fasteners, not 23"),
        ({"rows": "0"}, "a map of 0 rows"),
        ({"columns": "x"}, "a map of x columns"),
        ({"rows": "1", "columns": "1", "fasteners": "1"}, "a map of 1 fasteners"),
        ({"rows": "3", "columns": "67", "fasteners": "201"}, "a map of 201 fasteners"),
        ({"rows": "99", "columns": "2", "fasteners": "198"}, "cannot be told apart"),
        ({"looking": ""}, "no row 'looking'"),
        ({"numbering": "clockwise"}, "numbering 'clockwise'"),
        ({"first": "top"}, "first 'top' is no corner"),
        ({"pitch circle": "640 mm"}, "a row 'pitch circle'"),
        ({"order": "1 2 3"}, "does not name every fastener once"),
        ({"order": "any"}, "no list of numbers"),
    ],
)
def test_what_cannot_be_drawn_is_refused(rows: dict[str, str], wrong: str) -> None:
    with pytest.raises(Refusal, match=re.escape(wrong)) as refused:
        plate(**rows)
    assert refused.value.code == "figure"
    assert refused.value.right
