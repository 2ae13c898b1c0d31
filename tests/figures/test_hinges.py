"""Figures of hinges, tilts, doors and circles: where their marks lie, by arithmetic."""

from __future__ import annotations

import itertools
import math

import pytest

from generator.figures import figure
from generator.figures.clearance import Box
from generator.figures.lettering import text_box
from generator.figures.picture import Circle, Line, Outline, Picture, Words
from generator.findings import Refusal

WIDTHS = (110.0, 157.0)
PADS = (16.82, 11.09, 9.05, 11.06, 16.84)
HEIGHTS = (0.0, 5.92, 8.14, 6.31, 0.72)
LINE = {
    "of hand": "STBD", "fit": "least squares", "rises": "0.044°", "turns": "0.000°",
    "thinnest": "pad 3",
    **{f"at {n}": f"{240 * (n - 1)} mm" for n in range(1, 6)},
    **{f"height {n}": f"{h} mm" for n, h in enumerate(HEIGHTS, 1)},
    **{f"pad {n}": f"{h:.2f} mm" for n, h in enumerate(PADS, 1)},
    **{f"offset {n}": f"{o} mm" for n, o in enumerate(("0.30", "−0.20", "0.00", "0.10", "−0.15"), 1)},
}  # fmt: skip
TILTS = ((3.896, 29.3, 1.91), (3.620, 0.1, 0.01), (3.970, -29.1, -1.93))
BASES = {
    "of hand": "STBD",
    **{f"tilt {n}": f"{t:.3f}°" for n, (t, _, _) in enumerate(TILTS, 1)},
    **{f"azimuth {n}": f"{a:.1f}°".replace("-", "−") for n, (_, a, _) in enumerate(TILTS, 1)},
    **{f"along {n}": f"{a:.2f}°".replace("-", "−") for n, (_, _, a) in enumerate(TILTS, 1)},
    **{f"ends {n}": "1.46 mm" for n in (1, 2, 3)},
}
DOOR = {
    "opens": "100°", "sure": "1.6 mm", "door 1": "12.00 -9.05; 420.00 15.95; 420.00 13.95",
    "shell 1": "10.00 -9.05; -200.00 -21.05", "at 1": "480.0 mm", "gap 1": "2.0 mm",
    "opening 1": "0.0°",
}  # fmt: skip
CIRCLE = {
    "diameter": "80 mm", "way": "clockwise", "chord": "40.00 mm",
    **{f"hole {n}": f"{40 * math.cos(math.radians(60 * n)):.3f} mm; "
       f"{40 * math.sin(math.radians(60 * n)):.3f} mm" for n in range(1, 7)},
}  # fmt: skip
PLAN = {"tilt": "24.321°", "azimuth": "53.6°", "x": "20°", "y": "15°"}
PAIR = {
    "slips": "point 2 across", "differ": "none", "port 1": "0.00 −400.00",
    "stbd 1": "0.00 400.00", "port 2": "300.00 −250.00", "stbd 2": "300.00 −250.00",
}  # fmt: skip
TURN = {"turn": "90°", "before 1": "0.00 100.00", "after 1": "100.00 0.00"}
ALL = [
    ("pair-plan", PAIR), ("turn-view", TURN),
    ("hinge-line", LINE), ("hinge-line", LINE | {"of hand": "PORT"}), ("tilt-arrows", BASES),
    ("tilt-arrows", BASES | {"of hand": "PORT"}), ("door-swing", DOOR), ("bolt-circle", CIRCLE),
    ("tilt-plan", PLAN),
]  # fmt: skip


def made(kind: str, rows: dict[str, str], width: float = 157.0) -> Picture:
    return figure("figure", kind, rows, width)


def words(picture: Picture, text: str) -> list[Words]:
    return [m for m in picture.marks if isinstance(m, Words) and m.text == text]


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize(("kind", "rows"), ALL)
def test_no_words_touch_each_other_or_leave_the_picture(
    kind: str, rows: dict[str, str], width: float
) -> None:
    picture = made(kind, rows, width)
    boxes = [text_box(m) for m in picture.marks if isinstance(m, Words)]
    paper = Box(0.0, 0.0, picture.width, picture.height)
    assert all(paper.grown(0.6).holds(box) for box in boxes)
    for one, other in itertools.combinations(boxes, 2):
        assert not one.grown(-0.3).overlaps(other.grown(-0.3))


@pytest.mark.parametrize(("hand", "ahead"), [("PORT", True), ("STBD", False)])
def test_the_bow_is_where_the_view_puts_it(hand: str, ahead: bool) -> None:
    # Looking inboard at a STBD side the bow is to the right, at a PORT side to the left.
    picture = made("hinge-line", LINE | {"of hand": hand})
    bow, aft = words(picture, "BOW"), words(picture, "AFT")
    assert len(bow) == len(aft) == 2
    assert all((b.x < a.x) == ahead for b, a in zip(bow, aft, strict=True))
    (first,), (last,) = words(picture, "1"), words(picture, "5")
    assert (first.x < last.x) == ahead


def test_dimension_lines_are_as_long_as_their_pads() -> None:
    picture = made("hinge-line", LINE)
    (first,) = words(picture, "1")
    (crown,) = words(picture, "3")

    def upright(x: float) -> float:
        long = [abs(m.y2 - m.y1) for m in picture.marks
                if isinstance(m, Line) and m.x1 == m.x2 == x and m.weight == 0.25]  # fmt: skip
        return max(long)

    assert upright(first.x) / upright(crown.x) == pytest.approx(PADS[0] / PADS[2], rel=1e-6)


def test_a_line_inboard_of_its_point_has_the_point_below_it_in_the_plan() -> None:
    picture = made("hinge-line", LINE)
    crosses = [m for m in picture.marks if isinstance(m, Line) and m.y1 == m.y2 and m.weight == 0.5
               and m.x2 - m.x1 == pytest.approx(3.2)]  # fmt: skip
    assert len(crosses) == 5
    middle = crosses[2].y1  # no offset
    assert crosses[0].y1 > middle > crosses[1].y1
    assert (crosses[0].y1 - middle) / (middle - crosses[1].y1) == pytest.approx(0.30 / 0.20)


def arrows(picture: Picture) -> list[float]:
    """The heavy arrows as degrees from up, plus to the right."""
    return [
        math.degrees(math.atan2(m.x2 - m.x1, m.y1 - m.y2))
        for m in picture.marks
        if isinstance(m, Line) and m.weight == 0.9
    ]


def test_an_arrow_points_to_the_high_side() -> None:
    # Onto the shell face of a STBD base aft is to the right; of a PORT base to the left.
    azimuths = [a for _, a, _ in TILTS]
    assert arrows(made("tilt-arrows", BASES)) == pytest.approx(azimuths)
    port = made("tilt-arrows", BASES | {"of hand": "PORT"})
    assert arrows(port) == pytest.approx([-a for a in azimuths])
    assert arrows(made("tilt-plan", PLAN)) == pytest.approx([53.6])


@pytest.mark.parametrize(("hand", "bow"), [("STBD", "left"), ("PORT", "right")])
def test_the_taller_end_stands_at_the_bow_where_the_shell_rises_aft(hand: str, bow: str) -> None:
    picture = made("tilt-arrows", BASES | {"of hand": hand})
    first = next(m for m in picture.marks if isinstance(m, Outline) and m.weight == 0.5)
    top_left, top_right, bottom_right, bottom_left = first.points
    left, right = bottom_left[1] - top_left[1], bottom_right[1] - top_right[1]
    assert (left > right) == (bow == "left")


def test_a_base_of_no_hand_is_refused() -> None:
    for kind, rows in (("hinge-line", LINE), ("tilt-arrows", BASES)):
        with pytest.raises(Refusal, match="for hand 'none'"):
            made(kind, rows | {"of hand": "none"})


def test_the_open_door_is_the_shut_one_turned_about_the_hinge() -> None:
    picture = made("door-swing", DOOR)
    shut, opened = (m for m in picture.marks if isinstance(m, Outline) and m.weight in (0.5, 0.35))
    hinge = next(m for m in picture.marks if isinstance(m, Circle))
    for a, b in zip(shut.points, opened.points, strict=True):
        one = math.atan2(hinge.y - a[1], a[0] - hinge.x)
        other = math.atan2(hinge.y - b[1], b[0] - hinge.x)
        assert math.degrees(other - one) == pytest.approx(100, abs=0.01)
        assert math.dist(a, (hinge.x, hinge.y)) == pytest.approx(math.dist(b, (hinge.x, hinge.y)))


def test_holes_lie_at_their_places() -> None:
    picture = made("bolt-circle", CIRCLE)
    ring, *holes = (m for m in picture.marks if isinstance(m, Circle))
    for n, hole in enumerate(holes, start=1):
        turn = math.degrees(math.atan2(ring.y - hole.y, hole.x - ring.x)) % 360
        assert turn == pytest.approx(60 * n % 360, abs=0.01)
        assert math.dist((hole.x, hole.y), (ring.x, ring.y)) == pytest.approx(ring.radius, rel=1e-4)
        (number,) = words(picture, str(n))
        nearest = min(holes, key=lambda h: math.dist((h.x, h.y), (number.x, number.y)))
        assert nearest is hole


def test_a_sign_that_slipped_lies_on_the_wrong_side() -> None:
    # Seen from above with the bow up, STBD is to the right of the middle line.
    picture = made("pair-plan", PAIR)
    port = [m.x for m in picture.marks if isinstance(m, Circle)]
    stbd = [(m.x1 + m.x2) / 2 for m in picture.marks
            if isinstance(m, Line) and m.weight == 0.5 and m.y1 == m.y2]  # fmt: skip
    middle = picture.width / 2
    assert all(x < middle for x in port)
    assert stbd[0] > middle > stbd[1]
    assert stbd[0] - middle == pytest.approx(middle - port[0])


def test_a_plus_turn_is_clockwise_along_the_line() -> None:
    # Right-handed along the way one looks: up goes to the right, as a screw is driven.
    picture = made("turn-view", TURN)
    line, before = (m for m in picture.marks if isinstance(m, Circle))
    way = next(m for m in picture.marks if isinstance(m, Outline))
    assert before.x == pytest.approx(line.x) and before.y < line.y
    assert way.points[-1][0] > line.x and way.points[-1][1] == pytest.approx(line.y)


@pytest.mark.parametrize("kind", ["hinge-line", "tilt-arrows", "door-swing", "bolt-circle"])
def test_rows_that_cannot_be_drawn_are_refused(kind: str) -> None:
    with pytest.raises(Refusal):
        made(kind, {"of hand": "PORT", "opens": "ten degrees", "diameter": "ten"})
