"""Strips bent up and down in turn: what is drawn, measured from its marks."""

from __future__ import annotations

import math
import random
import re
from itertools import combinations, pairwise

import pytest

from generator.figures.clearance import Stroke
from generator.figures.picture import Circle, Line, Picture, Words
from generator.findings import Refusal
from tests.figures.measured import box, crossing, distance, every
from tests.figures.test_bend_profile import (
    HAT,
    drawn_by_chance,
    neat,
    profile,
    sheet,
    tried,
    within,
)

Bends = tuple[tuple[float, float, str], ...]


def rows_of(thickness: float, legs: tuple[float, ...], bends: Bends) -> dict[str, str]:
    rows = {"thickness": f"{thickness} mm"}
    rows |= {f"leg {n}": f"{leg} mm" for n, leg in enumerate(legs, 1)}
    return rows | {f"bend {n}": f"{a}° R {r} mm {way}" for n, (a, r, way) in enumerate(bends, 1)}


UP, DOWN = (90, 3.0, "up"), (90, 3.0, "down")
SECTIONS: dict[str, tuple[float, tuple[float, ...], Bends]] = {
    "U": (0.914, (25, 60, 25), (UP, UP)),
    "Z": (1.2, (20, 40, 20), (UP, DOWN)),
    "joggled": (1.0, (30, 8, 40), ((30, 3.0, "up"), (30, 3.0, "down"))),
    "hat": (1.6, (18, 30, 60, 30, 18), (DOWN, UP, UP, DOWN)),
    "J": (0.8, (12, 20, 50), (UP, UP)),
    "stiffener": (
        1.2,
        (25, 40, 30, 30),
        ((60, 3.2, "up"), (120, 3.2, "down"), (120, 3.2, "up")),
    ),
    "lipped hat": (0.9, (10, 16, 25, 40, 25, 16, 10), (UP, DOWN, UP, UP, DOWN, UP)),
    "lipped C": (1.0, (15, 30, 50, 30, 15), (UP, UP, UP, UP)),
    "eight": (
        0.8,
        (15, 20, 20, 20, 30, 20, 20, 20, 15),
        (
            UP,
            DOWN,
            (60, 2.0, "down"),
            (60, 2.0, "up"),
            (45, 2.0, "up"),
            (45, 2.0, "down"),
            UP,
            DOWN,
        ),
    ),
}


def upper(picture: Picture) -> list[tuple[float, float]]:
    """The upper surface from the strip's start to its end, y upward."""
    points = sheet(picture).points
    return [(x, -y) for x, y in points[: len(points) // 2]]


def flats(picture: Picture) -> list[Stroke]:
    """The straight runs of the upper surface: all else is made of chords of 3 degrees."""
    runs = [Stroke(a, b) for a, b in pairwise(upper(picture))]
    longest_chord = 0.25 * max(math.dist(s.a, s.b) for s in runs) ** 0.5
    return [run for run in runs if math.dist(run.a, run.b) > longest_chord]


def heading(stroke: Stroke) -> float:
    return math.degrees(math.atan2(stroke.b[1] - stroke.a[1], stroke.b[0] - stroke.a[0]))


def thickness(picture: Picture) -> float:
    points = sheet(picture).points
    return math.dist(points[0], points[-1])


@pytest.mark.parametrize("name", SECTIONS)
def test_every_bend_turns_its_own_way_and_every_flat_has_its_length(name: str) -> None:
    """Turn by turn along the upper surface; a flat is its leg less (R + T)·tan(A/2) at each end."""
    sheet_thick, legs, bends = SECTIONS[name]
    picture = profile(rows_of(sheet_thick, legs, bends))
    runs = flats(picture)
    assert len(runs) == len(legs)
    turned = [(heading(b) - heading(a) + 180) % 360 - 180 for a, b in pairwise(runs)]
    assert turned == pytest.approx([a if way == "up" else -a for a, _, way in bends], abs=1e-6)
    backs = [0, *((r + sheet_thick) * math.tan(math.radians(a) / 2) for a, r, _ in bends), 0]
    wanted = [leg - a - b for leg, a, b in zip(legs, backs[:-1], backs[1:], strict=True)]
    scale = thickness(picture) / sheet_thick
    assert [math.dist(s.a, s.b) / scale for s in runs] == pytest.approx(wanted)
    assert heading(runs[legs.index(max(legs))]) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("wide", [113, 165])
@pytest.mark.parametrize("name", SECTIONS)
def test_mixed_sections_are_neat(name: str, wide: float) -> None:
    assert neat(profile(rows_of(*SECTIONS[name]), wide))


@pytest.mark.parametrize("name", SECTIONS)
def test_a_balloon_leads_to_the_bend_of_its_number(name: str) -> None:
    picture = profile(rows_of(*SECTIONS[name]))
    runs = flats(picture)
    middles = [((a.b[0] + b.a[0]) / 2, -(a.b[1] + b.a[1]) / 2) for a, b in pairwise(runs)]
    for circle in every(picture, Circle):
        (number,) = (
            w.text for w in every(picture, Words) if w.text.isdecimal() and within(circle, w)
        )
        (leader,) = (line for line in every(picture, Line) if ends_on(line, circle))
        foot = (leader.x1, leader.y1)
        nearest = min(range(len(middles)), key=lambda n: math.dist(foot, middles[n]))
        assert str(nearest + 1) == number


def ends_on(line: Line, circle: Circle) -> bool:
    return math.isclose(math.dist((line.x2, line.y2), (circle.x, circle.y)), circle.radius)


@pytest.mark.parametrize("name", SECTIONS)
def test_the_words_of_a_leg_stand_at_their_own_leg(name: str) -> None:
    """Without a leader or a dimension line beside them, no other leg is nearer."""
    picture = profile(rows_of(*SECTIONS[name]))
    runs = [Stroke((s.a[0], -s.a[1]), (s.b[0], -s.b[1])) for s in flats(picture)]
    lines = [Stroke((m.x1, m.y1), (m.x2, m.y2)) for m in every(picture, Line)]
    listed = max(y for _, y in sheet(picture).points) + 12
    for words in every(picture, Words):
        found = re.match(r"leg (\d)", words.text)
        if found is None or words.y > listed or any(distance(box(words), s) < 2.2 for s in lines):
            continue
        assert min(runs, key=lambda s: distance(box(words), s)) is runs[int(found[1]) - 1]


def test_no_drawn_strip_passes_through_itself() -> None:
    chance = random.Random(11)
    drawn = [
        t for t in (tried(drawn_by_chance(chance)) for _ in range(20)) if isinstance(t, Picture)
    ]
    assert len(drawn) > 12
    for picture in drawn:
        points = sheet(picture).points
        ring = [Stroke(a, b) for a, b in pairwise([*points, points[0]])]
        assert not any(crossing(a, b) for a, b in combinations(ring, 2))


@pytest.mark.parametrize(
    ("legs", "wrong"),
    [
        # A box of 30 by 30: the fourth leg ends on the first.
        ((30, 30, 30, 30), "leg 1 runs through leg 4"),
        # 20 from outside to outside: a fourth leg of 19.5 ends half way through the first one.
        ((60, 20, 30, 19.5), "runs through"),
    ],
)
def test_metal_as_thick_as_it_is_may_not_overlap(legs: tuple[float, ...], wrong: str) -> None:
    with pytest.raises(Refusal, match=wrong) as caught:
        profile(rows_of(1.0, legs, (UP, UP, UP)))
    assert caught.value.right


def test_a_leg_that_stops_short_of_another_is_drawn() -> None:
    """Outside to outside 20 mm, sheet of 1.0: a last leg of 18.9 leaves 0.1, one of 19.1 does not."""
    assert profile(rows_of(1.0, (60, 20, 30, 18.9), (UP, UP, UP)))
    with pytest.raises(Refusal, match="runs through"):
        profile(rows_of(1.0, (60, 20, 30, 19.1), (UP, UP, UP)))


def test_the_order_of_bending_stands_at_each_bend_and_below() -> None:
    printed = [w.text for w in every(profile({**HAT, "order": "2 3 1 4"}), Words)]
    for said in ("up, 1st", "up, 2nd", "down, 3rd", "down, 4th"):
        assert sum(text.endswith(said) for text in printed) == 1
    assert "Bend in the order 2, 3, 1, 4." in " ".join(printed)
    assert "order" not in " ".join(w.text for w in every(profile(HAT), Words))


def test_each_number_stays_with_its_bend_whatever_the_order() -> None:
    picture = profile({**rows_of(*SECTIONS["Z"]), "order": "2 1"})
    printed = {w.text: w for w in every(picture, Words)}
    for number, words in (("1", "90° R 3.0 mm up, 2nd"), ("2", "90° R 3.0 mm down, 1st")):
        assert printed[number].y == printed[words].y


@pytest.mark.parametrize("order", ["1 2 3", "1 2 3 3", "1 2 3 5", "1 to 4"])
def test_an_order_that_leaves_a_bend_out_is_refused(order: str) -> None:
    with pytest.raises(Refusal, match=r"does not name each of 4 bends once"):
        profile({**HAT, "order": order})
