"""Long circles, long rows with an order and fasteners by their places, in; a plan on which each is
told apart and a box for each, large enough, nothing over anything else, out."""

from __future__ import annotations

import math
import random
from itertools import combinations

import pytest

from generator.figures import figure, full_size
from generator.figures.clearance import Box, Stroke
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


def shuffled(count: int) -> str:
    numbers = [*range(1, count + 1)]
    random.Random(count).shuffle(numbers)
    return " ".join(map(str, numbers))


def parts(picture):
    return (picture, *picture.more)


def of(picture, kind):
    return [mark for mark in picture.marks if isinstance(mark, kind)]


def on_the_plan(picture) -> list[Words]:
    """The words between the heading and the words above the boxes."""
    (words,) = [w for w in of(picture, Words) if w.text.startswith("tick each one")]
    return [w for w in of(picture, Words) if w.bold and w.y < words.y and "looking" not in w.text]


def in_box(x: float, y: float, r: float, held) -> bool:
    return held.left < x + r and x - r < held.right and held.top < y + r and y - r < held.bottom


def assert_sound(picture, order: list[int], marks: dict[int, str] | None = None) -> None:
    """Every box once, in the order; on every part nothing over anything, nothing too small."""
    told = [f"bolt M6 no. {n}" + (f" {marks[n]}" if marks else "") for n in order]
    assert [tick.meaning for part in parts(picture) for tick in of(part, Tick)] == told
    for part in parts(picture):
        assert_nothing_touches(part)


def assert_nothing_touches(picture) -> None:
    ticks, words, dots = of(picture, Tick), of(picture, Words), of(picture, Circle)
    assert all(tick.size >= 5.5 for tick in ticks)
    assert all(w.size >= 9.0 for w in words)
    squares = [Box(t.x, t.y, t.x + t.size, t.y + t.size) for t in ticks]
    held = [*(box(each) for each in words), *squares]
    assert not [pair for pair in combinations(held, 2) if pair[0].overlaps(pair[1])]
    for one, other in combinations(ticks, 2):
        assert abs(one.x - other.x) >= 7.0 or abs(one.y - other.y) >= 7.0
    room = Box(-0.01, -0.01, picture.width + 0.01, picture.height + 0.01)
    assert all(room.holds(each) for each in held)
    assert all(math.dist((a.x, a.y), (b.x, b.y)) > a.radius + b.radius
               for a, b in combinations(dots, 2))  # fmt: skip
    assert all(d.radius >= 0.45 for d in dots)
    assert not [d for d in dots for h in held if in_box(d.x, d.y, d.radius, h)]
    leaders = [Stroke((m.x1, m.y1), (m.x2, m.y2)) for m in of(picture, Line) if m.weight == 0.18]
    assert not [s for s in leaders for h in held if s.enters(h)]
    assert not [pair for pair in combinations(leaders, 2) if pair[0].crosses(pair[1])]
    assert picture.height <= 205.0


def dot_of(words: Words, picture) -> tuple[float, float]:
    """What a reader takes the number for: along its line, else the dot that is nearest."""
    held = box(words)
    lines = [m for m in of(picture, Line) if m.weight == 0.18 and gap((m.x2, m.y2), held) < 1.2]
    from_here = [(m.x1, m.y1) for m in lines] or [None]
    (start,) = from_here
    dots = [(d.x, d.y) for d in of(picture, Circle)]
    if start:
        return min(dots, key=lambda at: math.dist(at, start))
    return min(dots, key=lambda at: gap(at, held))


def gap(at: tuple[float, float], held) -> float:
    across = max(held.left - at[0], 0.0, at[0] - held.right)
    return math.hypot(across, max(held.top - at[1], 0.0, at[1] - held.bottom))


@pytest.mark.parametrize("ordered", [False, True])
@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("count", [49, 60, 73, 96, 120, 121, 150, 187, 200])
def test_a_long_circle_shows_where_each_stands_and_has_a_box_for_each(count, width, ordered):
    order = shuffled(count) if ordered else ""
    picture = figure("map", "circle", circle(count, order=order) if order else circle(count), width)
    numbers = [int(n) for n in order.split()] or [*range(1, count + 1)]
    if of(picture, Circle)[0].radius > 1.0 or not any("tick" in w.text for w in of(picture, Words)):
        assert count < 61  # boxes beside the fasteners, as on a short circle
        return
    assert_sound(picture, numbers)
    for part in parts(picture):
        said = on_the_plan(part)
        assert {w.text for w in said} == {"1", *(str(n) for n in range(5, count + 1, 5))}
        dots = of(part, Circle)
        assert len(dots) == count
        heavy = [n for n, dot in enumerate(dots, 1) if dot.weight > 0.5]
        assert heavy == [1, *range(5, count + 1, 5)]


def test_a_number_on_a_long_circle_stands_at_its_angle():
    """Number 51 of 200 a quarter round from number 1, clockwise from the top."""
    for part in parts(figure("map", "circle", circle(200), 157.0)):
        dots = of(part, Circle)
        x, y = sum(d.x for d in dots) / 200, sum(d.y for d in dots) / 200
        assert (dots[0].x, dots[50].y) == pytest.approx((x, y), abs=1e-6)
        assert dots[0].y < y < dots[100].y
        assert dots[50].x > x > dots[150].x
        (fifty,) = [w for w in on_the_plan(part) if w.text == "50"]
        assert math.dist((fifty.x, fifty.y), (dots[49].x, dots[49].y)) < 8.0


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("seed", range(12))
def test_places_at_random_are_told_apart_by_their_numbers(seed, width):
    count = 4 + 3 * seed
    picture = figure("map", "placed", placed(spread(count, seed, 70.0)), width)
    assert_sound(picture, [*range(1, count + 1)])
    said = [w.text for w in on_the_plan(picture)]
    assert sorted(said) == sorted([*(str(n) for n in range(1, count + 1)), "datum"])


@pytest.mark.parametrize(("count", "apart"), [(90, 45.0), (140, 40.0), (200, 35.0)])
def test_every_number_of_many_places_is_read_for_its_own_dot(count, apart):
    """By its line, else by the nearest dot: what a reader does, not what drew it."""
    order = shuffled(count)
    picture = figure("map", "placed", placed(spread(count, count, apart), order=order), 157.0)
    assert_sound(picture, [int(n) for n in order.split()])
    found: list[int] = []
    for part in parts(picture):
        dots = [(d.x, d.y) for d in of(part, Circle)]
        for words in on_the_plan(part):
            if words.text != "datum":
                assert dot_of(words, part) == dots[int(words.text) - 1], words.text
                found.append(int(words.text))
    assert sorted(found) == [*range(1, count + 1)]


def test_a_part_has_the_numbers_of_its_own_boxes_and_says_where_it_goes_on():
    order = shuffled(200)
    made = parts(figure("map", "placed", placed(spread(200, 200, 35.0), order=order), 157.0))
    assert len(made) > 1
    last = ""
    for i, part in enumerate(made, 1):
        boxes = {tick.meaning.split()[-1] for tick in of(part, Tick)}
        assert {w.text for w in on_the_plan(part)} - {"datum"} == boxes
        said = " ".join(w.text for w in of(part, Words))
        assert f"part {i} of {len(made)}" in said
        begin = f"going on after {last} of part {i - 1}" if last else f"begin at {order.split()[0]}"
        assert begin in said
        last = of(part, Tick)[-1].meaning.split()[-1]


def test_a_place_is_called_by_its_mark_too():
    rows = placed([(0, 0), (300, 0), (300, 400)])
    rows["places"] = "0, 0 P-1; 300, 0 P/2; 300, 400 Q.3"
    picture = figure("map", "placed", rows, 157.0)
    assert_sound(picture, [1, 2, 3], {1: "P-1", 2: "P/2", 3: "Q.3"})
    said = [w.text for w in of(picture, Words)]
    assert {"1 P-1", "2 P/2", "3 Q.3"} < set(said)


PLANS = [[100, 60, 40], [200], [50, 50, 50, 50], [17] * 11 + [13], [199, 1], [12] * 12]


@pytest.mark.parametrize("plan", PLANS, ids=str)
def test_long_rows_with_an_order_have_their_boxes_in_that_order(plan):
    count, order = sum(plan), shuffled(sum(plan))
    rows = {"fasteners": str(count), "item": "bolt M6", "numbering": "row by row",
            "looking": "aft", "first": "left", "order": order,
            "in rows": "; ".join(f"row {i}: {n}" for i, n in enumerate(plan, 1))}  # fmt: skip
    picture = figure("map", "rows", rows, 157.0, 170.0)
    assert_sound(picture, [int(n) for n in order.split()])
    begins = {sum(plan[:i]) + 1 for i in range(len(plan))}
    for part in parts(picture):
        dots = of(part, Circle)
        assert len(dots) == count
        named = {int(w.text) for w in on_the_plan(part)}
        assert named == begins | set(range(5, count + 1, 5))
        assert all(dots[n - 2].y < dots[n - 1].y - 5.0 for n in begins - {1})
        said = " ".join(w.text for w in of(part, Words))
        assert "not to scale" in said
        assert f"row 1: 1 to {plan[0]}" in said


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
    (circle(201), "a map of 201 fasteners"),
    (placed([(i * 9, i % 7 * 40) for i in range(201)]), "201 places"),
    (placed([(i % 15 * 10, i // 15 * 10) for i in range(200)], order="2 1"), "does not name every"),
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
