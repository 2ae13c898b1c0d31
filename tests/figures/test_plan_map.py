"""Long circles and fasteners by their places, in; a plan on which each is told apart and a box for
each, large enough, nothing over anything else, out."""

from __future__ import annotations

import math
import random
from itertools import combinations

import pytest

from generator.figures import figure, full_size
from generator.figures.picture import Circle, Line, Tick, Words
from generator.findings import Refusal
from tests.figures.measured import box

WIDTHS = [118.0, 157.0, 175.0]


def circle(count: int, **more: str) -> dict[str, str]:
    return {"fasteners": str(count), "item": "bolt M6", "pitch circle": "900 mm", "first": "top",
            "numbering": "clockwise", "looking": "aft", **more}  # fmt: skip


def placed(places: list[tuple[float, float]], **more: str) -> dict[str, str]:
    told = "; ".join(f"{x:g}, {up:g}" for x, up in places)
    return {"fasteners": str(len(places)), "places": told, "datum": "lower left corner",
            "item": "bolt M6", "looking": "aft", **more}  # fmt: skip


def spread(count: int, seed: int, apart: float = 40.0) -> list[tuple[float, float]]:
    """Places at random on a plate of 1,200 by 700 mm, no two nearer than that."""
    chance = random.Random(seed)
    found: list[tuple[float, float]] = []
    while len(found) < count:
        at = (round(chance.uniform(0, 1200), 1), round(chance.uniform(0, 700), 1))
        if all(math.dist(at, other) >= apart for other in found):
            found.append(at)
    return found


def assert_sound(picture, count: int) -> None:
    ticks = [mark for mark in picture.marks if isinstance(mark, Tick)]
    assert [tick.meaning for tick in ticks] == [f"bolt M6 no. {n}" for n in range(1, count + 1)]
    assert all(tick.size >= 5.5 for tick in ticks)
    words = [mark for mark in picture.marks if isinstance(mark, Words)]
    held = [box(each) for each in words]
    held += [type(held[0])(t.x, t.y, t.x + t.size, t.y + t.size) for t in ticks]
    assert not [pair for pair in combinations(held, 2) if pair[0].overlaps(pair[1])]
    for each in held:
        assert each.left >= -0.01
        assert each.right <= picture.width + 0.01
        assert each.top >= -0.01
        assert each.bottom <= picture.height + 0.01
    dots = [mark for mark in picture.marks if isinstance(mark, Circle)]
    assert all(math.dist((a.x, a.y), (b.x, b.y)) > a.radius + b.radius
               for a, b in combinations(dots, 2))  # fmt: skip
    assert not [
        d
        for d in dots
        for h in held
        if h.left < d.x + d.radius and d.x - d.radius < h.right
        and h.top < d.y + d.radius and d.y - d.radius < h.bottom
    ]  # fmt: skip


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("count", [49, 60, 73, 96, 120])
def test_a_long_circle_shows_where_each_stands_and_has_a_box_for_each(count, width):
    if (count, width) == (120, 118.0):
        with pytest.raises(Refusal, match="cannot be told apart"):
            figure("map", "circle", circle(count), width)
        return
    picture = figure("map", "circle", circle(count), width)
    assert_sound(picture, count)
    dots = [mark for mark in picture.marks if isinstance(mark, Circle)]
    if len(dots) == count and dots[0].radius < 1.0:  # a plan: every fifth has its number
        said = {m.text for m in picture.marks if isinstance(m, Words) and m.size == 9.0}
        assert said == {"1", *(str(n) for n in range(5, count + 1, 5))}


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("seed", range(12))
def test_places_at_random_are_told_apart_by_their_numbers(seed, width):
    count = 4 + 3 * seed
    picture = figure("map", "placed", placed(spread(count, seed, 70.0)), width)
    assert_sound(picture, count)
    said = [m.text for m in picture.marks if isinstance(m, Words) and m.size == 9.0]
    assert sorted(said) == sorted([*(str(n) for n in range(1, count + 1)), "datum"])


def test_the_plan_is_to_scale_in_the_view_that_it_names():
    """A right angle of 300 by 400 mm stays one, up is up and right is right."""
    picture = figure("map", "placed", placed([(0, 0), (300, 0), (300, 400)]), 157.0)
    a, b, c = [mark for mark in picture.marks if isinstance(mark, Circle)]
    assert b.x > a.x
    assert c.y < b.y
    assert (b.y - a.y, c.x - b.x) == pytest.approx((0, 0), abs=1e-6)
    assert (b.y - c.y) / (b.x - a.x) == pytest.approx(400 / 300)
    crosses = [m for m in picture.marks if isinstance(m, Line) and m.weight == 0.25]
    assert len(crosses) == 2


def test_a_circle_keeps_its_order_and_its_first():
    order = " ".join(str(n) for n in [*range(60, 0, -1)])
    picture = figure("map", "circle", circle(60, order=order, first="left"), 118.0)
    said = " ".join(m.text for m in picture.marks if isinstance(m, Words))
    assert "begin at 60" in said
    assert "NUMBER 1: left" in said


REFUSED = [
    (placed([(0, 0), (50, 0), (0.05, 0)]), "fasteners 1 and 3 stand at the same place"),
    (placed([(0, 0), (1500, 0), (4, 0)]), "fasteners 1 and 3 cannot be told apart"),
    (placed([(0, 0), (10, 10)]) | {"fasteners": "3"}, "2 places, and the map says 3"),
    (placed([(0, 0), (10, 10)]) | {"places": "0, 0; ten, 10"}, "'ten, 10' of the map is not"),
    (placed([(0, 0), (10, 10)], order="1 1"), "does not name every fastener once"),
    (circle(121), "a map of 121 fasteners"),
]


@pytest.mark.parametrize(("rows", "says"), REFUSED)
def test_what_cannot_be_drawn_so_that_it_is_read_is_refused(rows, says):
    kind = "placed" if "places" in rows else "circle"
    with pytest.raises(Refusal, match=says):
        figure("map", kind, rows, 157.0)


def test_places_are_drilled_from_a_page_at_full_size():
    rows = {"name": "flange", "line": "hole centres", "hand": "none"}
    made = full_size("placed", placed([(20, 20), (120, 20), (120, 95), (20, 95)]) | rows)
    numbers = {m.text: m for m in made.marks if isinstance(m, Words) and m.text.isdigit()}
    one, two, four = numbers["1"], numbers["2"], numbers["4"]
    assert (two.x - one.x, two.y - one.y) == pytest.approx((100, 0))
    assert (four.x - one.x, one.y - four.y) == pytest.approx((0, 75))
    (check,) = made.checks
    assert check.millimetres == pytest.approx(math.hypot(100, 75))
    assert "The datum lines cross at: lower left corner." in made.notes


def test_holes_too_near_for_their_numbers_are_not_drawn_at_full_size():
    rows = {"name": "flange", "line": "hole centres", "hand": "none"}
    with pytest.raises(Refusal, match="leave no room for their numbers"):
        full_size("placed", placed([(20, 20), (26, 20)]) | rows)
