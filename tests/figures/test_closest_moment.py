"""Two parts at their closest, as rows, in; what can be measured on the picture, by arithmetic.

The parts are placed by the picture from printed numbers; the gap that is measured between its
strokes must be the one that the sweep worked out in its own way.
"""

from __future__ import annotations

import math
import random
import re
from itertools import product

import pytest

from generator.figures import figure
from generator.figures.picture import Circle, Line, Outline, Picture, Words
from generator.findings import Refusal
from tests.calculations.asking import results
from tests.figures.measured import boxes, collisions, every, outside, strokes

WHEEL = {
    "wheel": "820 mm", "half length": "285 mm", "half width": "58 mm", "fullness": "6",
    "door": "330 mm", "open": "95°", "trigger": "80.0°", "closed": "92°",
    "hinge": "1130 mm; −95 mm", "sweep": "75° to 92°", "at": "83.9°", "gap": "16.2 mm",
    "sure": "15.6 mm", "wanted": "12 mm",
}  # fmt: skip
# An arm of 60 mm passes an upright wall at 77 mm: 17 mm at 90°.
ARM = {
    "first": "0.00 −60.00; 1.00 −50.00", "second": "0.00 1.00; 0.00 −40.00", "turns": "−90°",
    "start": "99°", "end": "120°", "hinge": "77 mm; 20 mm", "sweep": "60° to 125°", "at": "90°",
    "gap": "17.0 mm", "sure": "16.4 mm", "wanted": "3 mm",
}  # fmt: skip


def drawn(rows: dict[str, str], width: float = 108.0) -> Picture:
    return figure("figure", "closest-moment", rows, width)


def said(picture: Picture) -> str:
    return " ".join(w.text for w in every(picture, Words))


def right_scale(picture: Picture) -> float:
    found = re.search(r"enlarged, 1 mm is ([\d.]+) mm", said(picture))
    assert found is not None
    return float(found[1])


def dots(picture: Picture) -> list[Circle]:
    return every(picture, Circle)


@pytest.mark.parametrize("width", [108.0, 157.0])
@pytest.mark.parametrize(("rows", "gap"), [(WHEEL, 16.2), (ARM, 17.0)])
def test_the_gap_can_be_measured_on_the_picture(rows, gap, width):
    picture = drawn(rows, width)
    one, other = dots(picture)
    measured = math.dist((one.x, one.y), (other.x, other.y)) * right_scale(picture)
    assert measured == pytest.approx(gap, abs=0.1)
    assert f"gap {gap} mm" in said(picture)


@pytest.mark.parametrize("rows", [WHEEL, ARM])
def test_nothing_of_the_two_parts_is_nearer_than_the_dots(rows):
    picture = drawn(rows)
    frame = max(
        (o for o in every(picture, Outline) if o.closed and len(o.points) == 4),
        key=lambda o: o.points[0][0],
    )
    left = frame.points[0][0]
    pieces = [
        o for o in every(picture, Outline)
        if o.weight == 0.5 and not o.closed and all(x >= left - 0.01 for x, _ in o.points)
    ]  # fmt: skip
    one, other = ((d.x, d.y) for d in dots(picture))
    gap = math.dist(one, other)
    # Every piece belongs to one part: it lies nearer to its own dot's end of the chain of pieces.
    first = chained(pieces, one)
    second = [p for p in pieces if p not in first]
    assert first and second
    ends = product([p for o in first for p in o.points], [p for o in second for p in o.points])
    assert min(math.dist(a, b) for a, b in ends) >= gap - 0.01


def chained(pieces, start):
    """The pieces that hang together with the one nearest to a place."""
    todo = [min(pieces, key=lambda o: off(start, o.points))]
    found = list(todo)
    while todo:
        now = todo.pop()
        for each in pieces:
            if each not in found and any(
                math.dist(a, b) < 1e-6 for a, b in product(now.points, each.points)
            ):
                found.append(each)
                todo.append(each)
    return found


def off(place, piece):
    """The distance of a place from a piece, by a hundred points along it."""
    (ax, ay), (bx, by) = piece
    along = ((ax + (bx - ax) * k / 100, ay + (by - ay) * k / 100) for k in range(101))
    return min(math.dist(place, p) for p in along)


@pytest.mark.parametrize("width", [108.0, 157.0])
@pytest.mark.parametrize("rows", [WHEEL, ARM])
def test_words_stand_clear_and_nothing_leaves_the_picture(rows, width):
    picture = drawn(rows, width)
    assert not collisions(picture)
    assert not outside(picture)
    named = {w.text for w in every(picture, Words)} & {"leg", "door", "first", "second"}
    assert named == ({"leg", "door"} if "wheel" in rows else {"first", "second"})
    for name, held in boxes(picture).items():
        assert not any(stroke.enters(held) for stroke in strokes(picture)), name


def test_both_ends_of_the_sweep_are_dashed_and_named():
    picture = drawn(WHEEL)
    assert "leg at 83.9°. Dashed: leg at 75° and at 92°" in said(picture)
    # The door shut at 92°: a dashed level stroke that ends at its hinge, 330 mm long.
    scale = float(re.search(r"Left 1 mm is ([\d.]+) mm", said(picture))[1])
    level = [ln for ln in every(picture, Line) if ln.weight == 0.3 and abs(ln.y1 - ln.y2) < 1e-6]
    run = max(max(a.x1, a.x2) for a in level) - min(min(a.x1, a.x2) for a in level)
    assert run == pytest.approx(330 / scale, rel=0.02)


def test_random_wheels_against_the_sweep():
    """The sweep's gap and the picture's, which places the parts by itself, are one number."""
    draw, met = random.Random(3), 0
    while met < 12:
        sizes = {
            "wheel_radius": draw.uniform(300, 900), "half_length": draw.uniform(80, 250),
            "half_width": draw.uniform(30, 90), "hinge_across": draw.uniform(500, 1200),
            "hinge_up": draw.uniform(-200, 100), "door_length": draw.uniform(100, 400),
        }  # fmt: skip
        angles = {"open_angle": 95, "trigger": 70, "closed": 92, "from_leg": 60, "to_leg": 92}
        typed = {k: f"{v:.3f} mm" for k, v in sizes.items()} | {
            k: f"{v}°" for k, v in angles.items()
        }
        try:
            came = results("tyre_door_clearance", fullness="4", wanted="1 mm", drawing="0 mm",
                           no_go="show", **typed)  # fmt: skip
        except Refusal:
            continue
        met += 1
        gap, at = came["gap"].amount.value * 1000, math.degrees(came["leg"].amount.value)
        picture = drawn(WHEEL | {
            "wheel": typed["wheel_radius"], "half length": typed["half_length"],
            "half width": typed["half_width"], "fullness": "4", "door": typed["door_length"],
            "open": "95°", "trigger": "70°", "closed": "92°", "sweep": "60° to 92°",
            "hinge": f"{typed['hinge_across']}; {typed['hinge_up']}", "at": f"{at:.4f}°",
            "gap": f"{gap:.1f} mm",
        })  # fmt: skip
        one, other = dots(picture)
        measured = math.dist((one.x, one.y), (other.x, other.y)) * right_scale(picture)
        assert measured == pytest.approx(gap, rel=0.01, abs=0.1)
        assert not collisions(picture)
        assert not outside(picture)


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        (WHEEL | {"hinge": ""}, "without its hinge"),
        (WHEEL | {"hinge": "1130 mm"}, "not two sizes"),
        (ARM | {"first": "0 0 0; 1 1"}, "are no corners"),
        (ARM | {"first": "0 a; 1 1"}, "are no corners"),
        (ARM | {"second": "0 0"}, "one corner"),
        (ARM | {"sweep": "60°"}, "not two sizes"),
    ],
)
def test_rows_that_cannot_be_read_are_refused(rows, told):
    with pytest.raises(Refusal, match=told):
        drawn(rows)
