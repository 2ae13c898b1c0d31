"""Features on a figure: each number at its dimension, in a double circle, clear of everything."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from generator.figures import figure, offered
from generator.figures.balloons import INNER, OUTER, dimensions
from generator.figures.clearance import Box, Stroke
from generator.figures.picture import Circle, Line, Picture, Tick, Words
from generator.findings import Refusal
from tests.figures.measured import (
    box,
    circle_enters,
    collisions,
    crossing,
    distance,
    every,
    middle,
    outside,
)

PROFILE = {
    "thickness": "0.914 mm",
    "leg 1": "25 mm",
    "bend 1": "90° R 3.2 mm up",
    "leg 2": "60 mm",
    "bend 2": "90° R 3.2 mm up",
    "leg 3": "25 mm",
}
FOUR = {
    "thickness": "1.2 mm",
    "leg 1": "20 mm",
    "bend 1": "45° R 3 mm up",
    "leg 2": "30 mm",
    "bend 2": "90° R 3 mm down",
    "leg 3": "45 mm",
    "bend 3": "60° R 3 mm up",
    "leg 4": "25 mm",
    "bend 4": "30° R 4 mm up",
    "leg 5": "20 mm",
}
FLAT = {
    "length": "104.9 mm",
    "thickness": "0.914 mm",
    "flat 1": "20.9 mm",
    "bend 1": "90° R 3.2 mm up",
    "allowance 1": "5.66 mm",
    "tangent 1": "20.9 mm to 26.5 mm",
    "sight 1": "24.1 mm",
    "nose 1": "leg 1",
    "flat 2": "51.8 mm",
    "bend 2": "90° R 3.2 mm up",
    "allowance 2": "5.66 mm",
    "tangent 2": "78.3 mm to 84.0 mm",
    "sight 2": "80.8 mm",
    "nose 2": "leg 3",
    "flat 3": "20.9 mm",
    "width": "40 mm",
    "grain": "along the length",
}
RING = {
    "fasteners": "24",
    "item": "bolt 1/4-28",
    "pitch circle": "640 mm",
    "first": "top",
    "numbering": "clockwise",
    "looking": "aft",
}
PLATE = {
    "fasteners": "24",
    "rows": "4",
    "columns": "6",
    "item": "bolt 1/4-28",
    "pitch across": "40 mm",
    "pitch down": "35 mm",
    "first": "top left",
    "numbering": "row by row",
    "looking": "aft",
}
PICTURES = {
    "profile": ("figure", "bend-profile", PROFILE),
    "four bends": ("figure", "bend-profile", FOUR),
    "flat": ("figure", "flat-pattern", FLAT),
    "ring": ("map", "circle", RING),
    "ring of 48": ("map", "circle", {**RING, "fasteners": "48"}),
    "plate": ("map", "rectangle", PLATE),
}


def balloons(picture: Picture) -> list[tuple[Words, Circle]]:
    """Every number that stands in a double circle."""
    outer = [c for c in every(picture, Circle) if c.radius == OUTER]
    found = []
    for ring in outer:
        (inner,) = [
            c
            for c in every(picture, Circle)
            if c.radius == INNER and (c.x, c.y) == (ring.x, ring.y)
        ]
        at = (inner.x, inner.y)
        (number,) = [w for w in every(picture, Words) if math.dist(middle(w), at) < 0.3]
        found.append((number, ring))
    return found


def leader(picture: Picture, ring: Circle) -> Stroke:
    """The line that ends at a balloon."""
    lines = [Stroke((m.x1, m.y1), (m.x2, m.y2)) for m in every(picture, Line)]
    (found,) = [s for s in lines if abs(math.dist(s.b, (ring.x, ring.y)) - OUTER) < 1e-6]
    return found


def with_all(name: str, width: float = 175.0) -> tuple[Picture, dict[str, str]]:
    """A picture with a balloon at each dimension it offers, numbered from 95 on."""
    kind, words, rows = PICTURES[name]
    wanted = {str(n): each for n, each in enumerate(offered(kind, words, rows), 95)}
    told = {f"balloon {number}": each for number, each in wanted.items()}
    return figure(kind, words, {**rows, **told}, width), wanted


def test_what_each_picture_offers():
    assert set(offered(*PICTURES["profile"])) == {
        "leg 1", "leg 2", "leg 3", "angle 1", "angle 2", "radius 1", "radius 2",
    }  # fmt: skip
    assert set(offered(*PICTURES["flat"])) == {
        "length", "width", "flat 1", "flat 2", "flat 3", "sight line 1", "sight line 2",
        "tangent 1 begins", "tangent 1 ends", "tangent 2 begins", "tangent 2 ends",
    }  # fmt: skip
    assert set(offered(*PICTURES["ring"])) == {"chord", "pitch circle"}
    assert set(offered(*PICTURES["plate"])) == {"pitch across", "pitch down"}


@pytest.mark.parametrize("name", PICTURES)
def test_every_feature_has_its_balloon_and_its_leader_ends_at_its_dimension(name):
    picture, wanted = with_all(name)
    found = balloons(picture)
    assert [number.text for number, _ in found] == list(wanted)
    known = dimensions(picture)
    for number, ring in found:
        line = leader(picture, ring)
        place = known[wanted[number.text]]
        assert distance(place, Stroke(line.a, line.a)) < 0.35
        assert 1.0 < math.dist(line.a, line.b) < 60


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("width", [130.0, 157.0, 175.0])
def test_a_balloon_touches_no_word_no_circle_and_no_other(name, width):
    picture, _ = with_all(name, width)
    assert not collisions(picture)
    assert not outside(picture)
    found = balloons(picture)
    own = {id(number) for number, _ in found}
    words = [box(w) for w in every(picture, Words) if id(w) not in own]
    others = [c for c in every(picture, Circle) if c.radius not in (OUTER, INNER)]
    for _, ring in found:
        assert not any(circle_enters(ring, held) for held in words)
        for each in others:
            assert math.dist((each.x, each.y), (ring.x, ring.y)) > OUTER + each.radius
    for (_, one), (_, other) in combinations(found, 2):
        assert math.dist((one.x, one.y), (other.x, other.y)) > 2 * OUTER


@pytest.mark.parametrize("name", PICTURES)
def test_a_leader_crosses_no_word_no_number_and_no_other_leader(name):
    picture, wanted = with_all(name)
    found = balloons(picture)
    known = dimensions(picture)
    own = {id(number) for number, _ in found}
    lines = {number.text: leader(picture, ring) for number, ring in found}
    for number, line in lines.items():
        for w in every(picture, Words):
            if id(w) not in own and wanted[number] not in w.names:
                assert not line.enters(box(w)), (wanted[number], w.text)
        for c in every(picture, Circle):
            if c.radius not in (OUTER, INNER) and wanted[number] not in c.names:
                assert distance(Box(c.x, c.y, c.x, c.y), line) > c.radius
    for one, other in combinations(lines.values(), 2):
        assert not crossing(one, other)
    assert known.keys() >= set(wanted.values())


def test_the_number_is_large_enough_and_inside_its_circle():
    picture, _ = with_all("flat")
    for number, ring in balloons(picture):
        assert number.size >= 10
        held = box(number)
        assert max(math.dist(c, (ring.x, ring.y)) for c in held.corners()) < INNER + 0.6
        assert ring.weight >= 0.25


def test_nothing_of_the_picture_moves_but_down_and_tick_boxes_are_left_out():
    kind, words, rows = PICTURES["ring"]
    bare = figure(kind, words, rows, 175.0)
    told = figure(kind, words, {**rows, "balloon 9": "chord"}, 175.0)
    assert every(bare, Tick)
    assert not every(told, Tick)
    downs = {
        round(b.y - a.y, 6) for a, b in zip(every(bare, Words), every(told, Words), strict=False)
    }
    assert len(downs) == 1
    assert [w.text for w in every(told, Words)] == [w.text for w in every(bare, Words)] + ["9"]


def test_one_feature_may_measure_several_dimensions_and_one_dimension_be_measured_twice():
    told = {"balloon 8": "leg 1; leg 3", "balloon 12": "leg 1"}
    picture = figure("figure", "bend-profile", {**PROFILE, **told}, 175.0)
    assert [number.text for number, _ in balloons(picture)] == ["8", "8", "12"]
    assert not collisions(picture)


def test_a_dimension_that_is_not_there_is_refused_with_a_near_word():
    with pytest.raises(Refusal, match="no dimension 'leg 4'") as refused:
        figure("figure", "bend-profile", {**PROFILE, "balloon 1": "leg 4"}, 175.0)
    assert refused.value.right.startswith("leg ")


def test_more_balloons_than_find_a_place_are_refused():
    told = {f"balloon {n}": "leg 1" for n in range(1, 60)}
    with pytest.raises(Refusal, match="balloons find no place"):
        figure("figure", "bend-profile", {**PROFILE, **told}, 175.0)
