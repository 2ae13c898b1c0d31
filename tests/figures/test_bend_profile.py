"""The side view of a bent strip: its shape against geometry, its labels against the print."""

from __future__ import annotations

import math
import random
import re
from itertools import pairwise

import pytest

from generator.figures import figure
from generator.figures.folded import Bend, Strip, folded
from generator.figures.picture import Circle, Outline, Picture, Words
from generator.findings import Refusal
from tests.figures.measured import box, boxes, collisions, every, outside, strokes

ANGLE = {
    "thickness": "0.914 mm",
    "leg 1": "25.0 mm",
    "bend 1": "90° R 3.2 mm up",
    "leg 2": "50.0 mm",
}
HAT = {
    "thickness": "1.6 mm",
    "leg 1": "18.0 mm",
    "bend 1": "90° R 3.2 mm down",
    "leg 2": "30.0 mm",
    "bend 2": "90° R 3.2 mm up",
    "leg 3": "60.0 mm",
    "bend 3": "90° R 3.2 mm up",
    "leg 4": "30.0 mm",
    "bend 4": "90° R 3.2 mm down",
    "leg 5": "18.0 mm",
}
STAIR = {
    "thickness": "1.2 mm",
    **{f"leg {n}": "30.0 mm" for n in range(1, 8)},
    **{f"bend {n}": f"60° R 3.0 mm {'up' if n % 3 == 1 else 'down'}" for n in range(1, 7)},
}
ACUTE = {**ANGLE, "bend 2": "135° R 3.2 mm up", "leg 3": "20.0 mm"}


def profile(rows: dict[str, str], wide: float = 160) -> Picture:
    return figure("figure", "bend-profile", rows, wide)


def sheet(picture: Picture) -> Outline:
    """The metal: the one closed outline that is not filled."""
    (found,) = [o for o in every(picture, Outline) if o.closed and not o.filled]
    return found


def measured(outline: Outline) -> tuple[float, float]:
    """Length and thickness of a bent strip, from the area and the way round it.

    Along an arc the two surfaces together are twice the middle line, and the area is the middle
    line times the thickness: area = L·T and round = 2·(L + T).
    """
    ring = [*outline.points, outline.points[0]]
    area = abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairwise(ring))) / 2
    half = sum(math.dist(a, b) for a, b in pairwise(ring)) / 2
    length = (half + math.sqrt(half**2 - 4 * area)) / 2
    return length, half - length


def test_the_middle_line_is_as_long_as_flats_and_arcs() -> None:
    made = folded(Strip(0.914, (25.0, 50.0), (Bend(90, 3.2, True),)))
    length = sum(math.dist((a.x, a.y), (b.x, b.y)) for a, b in pairwise(made.middle))
    flats = (25.0 - (3.2 + 0.914)) + (50.0 - (3.2 + 0.914))  # set-back at 90° is R + T
    arc = math.pi / 2 * (3.2 + 0.914 / 2)
    assert length == pytest.approx(flats + arc, abs=0.002)


def test_what_is_drawn_has_that_length_too_in_proportion_to_its_thickness() -> None:
    """The hat: two legs of 18 and two of 30 with three and four set-backs, one of 60 with two."""
    length, thickness = measured(sheet(profile(HAT)))
    set_back = 3.2 + 1.6
    flats = 18 + 30 + 60 + 30 + 18 - 8 * set_back
    arcs = 4 * math.pi / 2 * (3.2 + 0.8)
    assert length / thickness == pytest.approx((flats + arcs) / 1.6, rel=0.001)


@pytest.mark.parametrize(
    ("turns", "total"),
    [(((90, True),), 90), (((90, False), (90, True)), 0), (((60, True), (45, True)), 105)],
)
def test_the_sheet_turns_by_the_sum_of_its_bends(
    turns: tuple[tuple[float, bool], ...], total: float
) -> None:
    bends = tuple(Bend(angle, 3.0, up) for angle, up in turns)
    middle = folded(Strip(1.0, (40.0,) * (len(bends) + 1), bends)).middle
    way = [math.atan2(b.y - a.y, b.x - a.x) for a, b in pairwise(middle)]
    turned = sum((b - a + math.pi) % (2 * math.pi) - math.pi for a, b in pairwise(way))
    assert math.degrees(turned) == pytest.approx(total, abs=1e-6)


def test_both_surfaces_are_true_arcs_of_the_inner_and_the_outer_radius() -> None:
    strip = Strip(1.5, (30.0, 30.0), (Bend(120, 4.0, True),))
    arc = folded(strip).arcs[0]
    middle = arc[0].off(4.0 + 0.75)  # an upward bend has its middle above the sheet
    for spot in arc:
        assert math.dist(middle, spot.off(0.75)) == pytest.approx(4.0)
        assert math.dist(middle, spot.off(-0.75)) == pytest.approx(5.5)


def test_mould_lines_meet_where_the_legs_say() -> None:
    """At 90° the outside of the angle is a box of 25.0 by 50.0 mm, whatever the radius."""
    points = folded(Strip(0.914, (25.0, 50.0), (Bend(90, 3.2, True),))).outline
    xs, ys = zip(*points, strict=True)
    assert max(xs) - min(xs) == pytest.approx(50.0)
    assert max(ys) - min(ys) == pytest.approx(25.0)


def test_up_is_up_on_the_page_with_the_longest_leg_flat() -> None:
    for word, above in (("up", True), ("down", False)):
        rows = {**ANGLE, "bend 1": f"90° R 3.2 mm {word}"}
        points = sheet(profile(rows)).points
        start, end = max(pairwise(points), key=lambda pair: math.dist(*pair))
        assert start[1] == pytest.approx(end[1])
        ys = [y for _, y in points]
        assert (max(ys) - start[1] < start[1] - min(ys)) is above


@pytest.mark.parametrize("wide", [113, 160, 175])
@pytest.mark.parametrize("rows", [ANGLE, HAT, STAIR, ACUTE], ids=["angle", "hat", "stair", "acute"])
def test_every_size_is_printed_and_no_two_labels_touch(rows: dict[str, str], wide: float) -> None:
    picture = profile(rows, wide)
    printed = " | ".join(w.text for w in every(picture, Words))
    for name, size in rows.items():
        assert size in printed
        if name.startswith("leg"):
            assert f"{name}: {size}" in printed
    assert neat(picture)


def neat(picture: Picture) -> bool:
    """No words on words, on metal or on any line; nothing outside; a number in every balloon."""
    words = every(picture, Words)
    assert collisions(picture) == []
    assert outside(picture) == []
    for name, held in boxes(picture).items():
        assert not any(stroke.enters(held) for stroke in strokes(picture)), name
    for circle in every(picture, Circle):
        inside = [w for w in words if w.text.isdecimal() and within(circle, w)]
        assert len(inside) == 1
    return True


def within(circle: Circle, words: Words) -> bool:
    return all(
        math.dist((circle.x, circle.y), corner) < circle.radius + 0.3
        for corner in box(words).corners()
    )


def drawn_by_chance(chance: random.Random) -> dict[str, str]:
    count = chance.randint(1, 6)
    rows = {"thickness": f"{chance.choice([0.5, 0.914, 1.6, 3.0])} mm"}
    for number in range(1, count + 2):
        rows[f"leg {number}"] = f"{chance.uniform(15, 120):.1f} mm"
    for number in range(1, count + 1):
        angle, way = chance.choice([20, 45, 60, 90, 120]), chance.choice(["up", "down"])
        rows[f"bend {number}"] = f"{angle}° R {chance.choice([1.6, 3.2, 5.0])} mm {way}"
    return rows


def tried(rows: dict[str, str]) -> Picture | Refusal:
    try:
        return profile(rows)
    except Refusal as refusal:
        return refusal


def test_strips_by_chance_are_neat_or_refused_for_their_shape() -> None:
    chance = random.Random(6)
    tries = [tried(drawn_by_chance(chance)) for _ in range(100)]
    wrong = [t.wrong for t in tries if isinstance(t, Refusal)]
    assert [w for w in wrong if not re.search("runs through|shorter than the set-b", w)] == []
    assert len(wrong) < 20
    assert all(neat(t) for t in tries if isinstance(t, Picture))


def test_a_view_with_its_sizes_in_place_is_at_most_85_mm_high() -> None:
    assert max(profile(rows).height for rows in (ANGLE, HAT, ACUTE)) <= 85


@pytest.mark.parametrize(
    ("rows", "wrong"),
    [
        ({"bend 1": "180° R 3.2 mm up"}, "bend 1 is bent through 180°"),
        ({"bend 1": "90° up"}, "'90° up' is no bend"),
        # 3.0 - (3.2 + 0.914) leaves -1.11
        ({"leg 1": "3.0 mm"}, "leg 1 is 1.11 shorter"),
        ({"leg 1": "25.0"}, "'25.0' is no length"),
        ({"leg 3": "10 mm"}, "with the rows"),
        ({"bend 2": "90° R 3.2 mm up"}, "with the rows"),
    ],
)
def test_what_cannot_be_bent_or_read_is_refused(rows: dict[str, str], wrong: str) -> None:
    with pytest.raises(Refusal, match=re.escape(wrong)) as caught:
        profile({**ANGLE, **rows})
    assert caught.value.code == "figure"
    assert caught.value.right


def test_a_strip_that_runs_through_itself_is_refused() -> None:
    """Three right angles the same way, with a last leg long enough to reach the first."""
    rows = {"thickness": "1.0 mm", **{f"bend {n}": "90° R 2.0 mm up" for n in (1, 2, 3)}}
    legs = {"leg 1": "40 mm", "leg 2": "20 mm", "leg 3": "20 mm", "leg 4": "40 mm"}
    with pytest.raises(Refusal, match="leg 1 runs through leg 4"):
        profile({**rows, **legs})
    assert profile({**rows, **legs, "leg 4": "15 mm"})


def test_inches_are_drawn_in_the_same_proportion() -> None:
    # 25.4 mm to the inch: 0.0360 in is 0.9144 mm, 1 in is 25.4 mm
    inch = {
        "thickness": "0.036 in",
        "leg 1": "1 in",
        "bend 1": "90° R 0.125 in up",
        "leg 2": "2 in",
    }
    millimetres = {
        "thickness": "0.9144 mm",
        "leg 1": "25.4 mm",
        "bend 1": "90° R 3.175 mm up",
        "leg 2": "50.8 mm",
    }
    one, other = (measured(sheet(profile(rows))) for rows in (inch, millimetres))
    assert one[0] / one[1] == pytest.approx(other[0] / other[1])
