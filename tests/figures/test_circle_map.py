"""A circle of fasteners: numbers stand where the clock says, and a pen finds room at each."""

from __future__ import annotations

import math
import re

import pytest

from generator.figures import figure
from generator.figures.lettering import text_width
from generator.figures.picture import Circle, Picture, Tick, Words
from generator.findings import Refusal
from tests.figures.measured import (
    boxes,
    circle_enters,
    collisions,
    every,
    middle,
    outside,
    strokes,
    width,
)

RING = {
    "fasteners": "24",
    "item": "bolt 1/4-28",
    "pitch circle": "640 mm",
    "first": "top",
    "numbering": "clockwise",
    "looking": "aft",
}
# The order of the demo joint: opposite, then a quarter turn, then the rest by opposites.
ORDER = "1 13 7 19 4 16 10 22 2 14 8 20 3 15 9 21 5 17 11 23 6 18 12 24"


def ring(wide: float = 160, /, **rows: str) -> Picture:
    return figure("map", "circle", {**RING, **rows}, wide)


def numbers(picture: Picture) -> dict[int, tuple[float, float]]:
    """The middle of each number on the map: the first of its kind, before the order's list."""
    found: dict[int, tuple[float, float]] = {}
    for words in every(picture, Words):
        if words.text.isdecimal() and words.size == 12:
            found.setdefault(int(words.text), middle(words))
    return found


def centre(picture: Picture) -> tuple[float, float]:
    """The middle of the circle that the fasteners stand on."""
    holes = every(picture, Circle)
    return sum(c.x for c in holes) / len(holes), sum(c.y for c in holes) / len(holes)


def clock(middle: tuple[float, float], at: tuple[float, float]) -> float:
    """Degrees from the top, clockwise as a reader of the page sees it."""
    return math.degrees(math.atan2(at[0] - middle[0], middle[1] - at[1])) % 360


def apart(one: float, other: float) -> float:
    return abs((one - other + 180) % 360 - 180)


@pytest.mark.parametrize(
    ("first", "numbering", "number", "degrees"),
    [
        ("top", "clockwise", 7, 90),
        ("top", "anticlockwise", 7, 270),
        ("right", "clockwise", 7, 180),
        ("bottom", "anticlockwise", 7, 90),
        ("left", "clockwise", 1, 270),
        ("left", "anticlockwise", 13, 90),
        ("bow", "clockwise", 1, 0),
    ],
)
def test_a_quarter_and_a_half_round_stand_where_the_clock_says(
    first: str, numbering: str, number: int, degrees: float
) -> None:
    picture = ring(first=first, numbering=numbering)
    assert apart(clock(centre(picture), numbers(picture)[number]), degrees) < 0.5
    assert any(first in words.text for words in every(picture, Words))


@pytest.mark.parametrize("wide", [118, 175])
@pytest.mark.parametrize("count", [2, 3, 7, 12, 24, 25, 35, 36])
def test_all_numbers_are_at_equal_angles_with_their_tick_box_beside(
    count: int, wide: float
) -> None:
    picture = ring(wide, fasteners=str(count))
    at, middle = numbers(picture), centre(picture)
    ticks = every(picture, Tick)
    assert sorted(at) == list(range(1, count + 1))
    for number in at:
        wanted = 360 / count * (number - 1)
        assert apart(clock(middle, at[number]), wanted) < 0.5
        nearest = min(ticks, key=lambda t: math.dist(at[number], (t.x + 2.75, t.y + 2.75)))
        assert nearest.meaning == f"bolt 1/4-28 no. {number}"


@pytest.mark.parametrize("numbering", ["clockwise", "anticlockwise"])
@pytest.mark.parametrize("first", ["top", "bottom", "left", "right"])
@pytest.mark.parametrize("wide", [113, 160])
def test_up_to_36_nothing_touches_and_nothing_leaves_the_picture(
    first: str, numbering: str, wide: float
) -> None:
    for count in range(2, 37):
        order = " ".join(map(str, range(1, count + 1)))
        picture = ring(wide, fasteners=str(count), first=first, numbering=numbering, order=order)
        assert collisions(picture) == [], count
        assert outside(picture) == [], count


@pytest.mark.parametrize(("count", "wide"), [(24, 160), (36, 160), (36, 113), (48, 130)])
def test_no_stroke_crosses_a_number_or_a_tick_box(count: int, wide: float) -> None:
    picture = ring(wide, fasteners=str(count))
    for name, held in boxes(picture).items():
        assert not any(stroke.enters(held) for stroke in strokes(picture)), name
        if name.startswith("tick"):
            assert not any(circle_enters(c, held) for c in every(picture, Circle)), name


def test_numbers_are_12_point_and_tick_boxes_5_mm() -> None:
    picture = ring(fasteners="36")
    figures = [w for w in every(picture, Words) if w.text.isdecimal()]
    assert min(w.size for w in figures) >= 12
    assert min(t.size for t in every(picture, Tick)) >= 5


def test_the_order_is_printed_in_lines_of_at_most_12() -> None:
    for wide in (60.0, 113.0, 160.0):
        words = every(ring(wide + 60, order=ORDER), Words)
        after = words[[w.text for w in words].index("order") + 1 :]
        assert " ".join(w.text for w in after) == ORDER
        lines = [w.y for w in after]
        assert max(map(lines.count, lines)) <= 12
        assert lines == sorted(lines)
        assert "one of several valid" in " ".join(w.text for w in words)


def test_the_view_the_direction_the_circle_and_the_count_are_in_words() -> None:
    said = {w.text: w.size for w in every(ring(), Words)}
    assert "looking aft, numbered clockwise" in said
    assert "pitch circle 640 mm" in said
    assert said["24"] == max(said.values())


def test_an_item_too_long_for_the_middle_is_printed_above() -> None:
    item = "close-tolerance bolt with a head washer and a nut washer"
    picture = ring(113, fasteners="6", item=item)
    assert item in " ".join(words.text for words in every(picture, Words))
    assert collisions(picture) == []


@pytest.mark.parametrize(
    ("rows", "wrong"),
    [
        ({"fasteners": "1"}, "a map of 1 fasteners"),
        ({"fasteners": "2.5"}, "a map of 2.5 fasteners"),
        ({"looking": ""}, "no row 'looking'"),
        ({"numbering": "round"}, "numbering 'round'"),
        ({"colour": "red"}, "a row 'colour'"),
        ({"order": "1 2 3"}, "does not name every fastener once"),
        ({"order": ORDER.replace("24", "23")}, "does not name every fastener once"),
        ({"order": "any"}, "no list of numbers"),
        ({"fasteners": "201"}, "a map of 201 fasteners"),
    ],
)
def test_what_cannot_be_drawn_is_refused(rows: dict[str, str], wrong: str) -> None:
    with pytest.raises(Refusal, match=re.escape(wrong)) as refused:
        figure("map", "circle", {**RING, **rows}, 160)
    assert refused.value.code == "figure"
    assert refused.value.right


@pytest.mark.parametrize("first", ["top", "right", "bottom", "left", "bow"])
def test_a_start_is_only_called_so_where_the_order_begins_there(first: str) -> None:
    rest = ORDER.split()[1:]
    usual = {w.text for w in every(ring(160, first=first, order=ORDER), Words)}
    picture = ring(160, first=first, order=" ".join([*rest, ORDER.split()[0]]))
    said = {w.text for w in every(picture, Words)}
    assert f"START: {first}" in usual and not any("begin" in text for text in usual)
    assert f"NUMBER 1: {first}" in said and f"begin at {rest[0]}" in said
    assert not any("START" in text for text in said)
    assert collisions(picture) == [] and outside(picture) == []


def test_an_unknown_picture_is_refused_with_the_near_one() -> None:
    with pytest.raises(Refusal) as refused:
        figure("map", "cirkle", RING, 160)
    assert refused.value.right == "map circle"


@pytest.mark.parametrize("bold", [False, True])
def test_rough_widths_are_never_less_than_the_printed_face(bold: bool) -> None:
    for text in (
        "looking aft, numbered anticlockwise",
        "WWW MMM @ mm",
        "START: bottom",
        "90° R 3.2 mm up",
        "bolt 1/4-28, Ø6.35",
        "0123456789",
        "Łódź, Çeşme, Ærø",
    ):
        assert width(text, 10.5, bold) <= text_width(text, 10.5)
