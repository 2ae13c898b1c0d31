"""A chart of ready answers: every point where its two numbers put it, round ticks, clear words.

Places are read back from the finished picture: the ticks and their printed numbers give the two
scales, and every point must lie where they say.
"""

from __future__ import annotations

import math
from decimal import Decimal
from itertools import pairwise

import pytest

from generator.figures import figure
from generator.figures.picture import Circle, Line, Outline, Picture, Words
from generator.findings import Refusal
from tests.figures.measured import collisions, every, middle, outside

NEAR = 0.05  # mm
WIDTH = 108.0
SHAPES = {
    "rising": lambda n: 12.0 + 3.7 * n,
    "falling": lambda n: 930.0 - 11.3 * n,
    "flat": lambda n: 56.7,
    "through nothing": lambda n: 2.5 - n,
    "curved": lambda n: 0.002 * n * n + 0.914,
    "large": lambda n: 14800.0 + 260 * n,
}


def text(value: float, places: int = 1) -> str:
    return f"{value:.{places}f}".replace("-", "−")


def rows_of(count: int, *curves: str, first: float = 4.0, step: float = 2.0) -> dict[str, str]:
    rows = {"across": "drag lbf·in", "up": "setting lbf·in"}
    if len(curves) > 1:
        rows["curves"] = "; ".join(curves)
    for n in range(count):
        rows[f"at {text(first + step * n, 3)}"] = "; ".join(
            text(SHAPES[each](n), 3) for each in curves
        )
    return rows


def drawn(rows: dict[str, str], width: float = WIDTH) -> Picture:
    return figure("figure", "chart", rows, width)


def scales(picture: Picture) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """The ticks of both axes: the number that is printed at each, and its place."""
    level = [
        ln for ln in every(picture, Line) if ln.y1 == ln.y2 and math.isclose(ln.x2 - ln.x1, 1.6)
    ]
    level = [ln for ln in level if ln.weight == 0.35]
    upright = [ln for ln in every(picture, Line) if ln.x1 == ln.x2 and ln.weight == 0.35]
    words = [w for w in every(picture, Words) if not w.bold]
    up = []
    for tick in level:
        (label,) = [w for w in words if w.anchor == "end" and abs(middle(w)[1] - tick.y1) < 0.2]
        assert 0.5 < tick.x1 - label.x < 2  # beside its tick
        up.append((value(label.text), tick.y1))
    across = []
    for tick in upright:
        (label,) = [w for w in words if w.anchor == "middle" and abs(w.x - tick.x1) < 1e-6]
        across.append((value(label.text), tick.x1))
    return across, up


def value(words: str) -> float:
    return float(words.replace("−", "-"))


def at(scale: list[tuple[float, float]], number: float) -> float:
    """Where a number lies, by the two outermost ticks."""
    (a, x), (b, y) = scale[0], scale[-1]
    return x + (y - x) * (number - a) / (b - a)


def points(picture: Picture) -> list[tuple[float, float]]:
    return [(c.x, c.y) for c in every(picture, Circle) if c.radius < 1]


@pytest.mark.parametrize("count", range(2, 12))
@pytest.mark.parametrize("shape", SHAPES)
def test_every_point_lies_where_both_scales_put_it(shape, count):
    rows = rows_of(count, shape)
    picture = drawn(rows)
    across, up = scales(picture)
    wanted = [(value(k.split()[1]), value(v)) for k, v in rows.items() if k.startswith("at ")]
    found = points(picture)
    assert len(found) == count
    for (entry, answer), (x, y) in zip(wanted, found, strict=True):
        assert abs(at(across, entry) - x) <= NEAR
        assert abs(at(up, answer) - y) <= NEAR
    (curve,) = [o for o in every(picture, Outline) if o.weight == 0.5]
    assert list(curve.points) == found


@pytest.mark.parametrize("count", [2, 5, 11])
@pytest.mark.parametrize("shape", SHAPES)
def test_ticks_are_round_evenly_spaced_and_hold_every_answer(shape, count):
    rows = rows_of(count, shape, first=0.874, step=0.008)
    for scale in scales(drawn(rows)):
        numbers = [number for number, _ in scale]
        assert 2 <= len(numbers) <= 9
        step = Decimal(str(numbers[1])) - Decimal(str(numbers[0]))
        assert step.normalize().as_tuple().digits in ((1,), (2,), (5,))
        for (a, x), (b, y) in pairwise(scale):
            assert Decimal(str(b)) - Decimal(str(a)) == step
            assert y - x == pytest.approx(scale[1][1] - scale[0][1])
        assert all(Decimal(str(number)) % step == 0 for number in numbers)
    _, up = scales(drawn(rows))
    answers = [value(v) for k, v in rows.items() if k.startswith("at ")]
    assert up[0][0] <= min(answers) <= max(answers) <= up[-1][0]


LIMITS = "below 10.0; above 60.0"
NAMED = {
    "one": rows_of(6, "rising"),
    "with limits": {**rows_of(6, "rising"), "no-go": LIMITS},
    "three": rows_of(6, "rising", "flat", "through nothing"),
    "five alike": {
        **{f"at {n}": f"{n}.0; {n}.1; {n}.2; {n}.3; {n}.4" for n in range(2, 12)},
        "curves": "drag 4; drag 6; drag 8; drag 10; drag 12",
        "across": "length in",
        "up": "setting lbf·in",
    },
    "five and limits": {
        **{f"at {n}": f"{n}.0; {n}.1; {n}.2; {n}.3; {n}.4" for n in range(2, 5)},
        "curves": "drag 4; drag 6; drag 8; drag 10; drag 12",
        "no-go": "below 2.0 for drag 4; above 4.5 for drag 12",
        "across": "length in",
        "up": "setting lbf·in",
    },
    "nominal first": {**rows_of(6, "rising"), "nominal": "4.000"},
    "nominal last": {**rows_of(6, "rising"), "nominal": "14.000"},
    "nominal beside": {**rows_of(11, "rising"), "nominal": "6.000"},
    "nominal in the middle": {**rows_of(5, "falling"), "nominal": "8.000"},
    "verdicts": {
        **rows_of(6, "rising"), "nominal": "8.000",
        "verdict 4.000": "NO-GO too small", "verdict 6.000": "GO", "verdict 8.000": "GO",
        "verdict 10.000": "GO", "verdict 12.000": "NO-GO too large",
        "verdict 14.000": "NO-GO too large",
    },
}  # fmt: skip


@pytest.mark.parametrize("width", [100, 108, 157])
@pytest.mark.parametrize("name", NAMED)
def test_no_word_touches_another_or_leaves_the_picture(name, width):
    picture = drawn(NAMED[name], width)
    assert not collisions(picture)
    assert not outside(picture)


@pytest.mark.parametrize("name", NAMED)
def test_both_ends_have_a_bar_and_the_word(name):
    picture = drawn(NAMED[name])
    bars = [line for line in every(picture, Line) if line.weight == 1.0]
    stops = [w for w in every(picture, Words) if w.text == "STOP"]
    ends = [min(x for x, _ in points(picture)), max(x for x, _ in points(picture))]
    assert [bar.x1 for bar in bars] == [w.x for w in stops] == pytest.approx(ends)
    assert all(bar.x1 == bar.x2 for bar in bars)
    assert all(w.bold and w.y < bar.y1 for w, bar in zip(stops, bars, strict=True))


def test_the_nominal_has_its_word_its_line_and_its_ring():
    rows = NAMED["nominal in the middle"]
    picture = drawn(rows)
    (word,) = [w for w in every(picture, Words) if w.text == "NOMINAL"]
    (ring,) = [c for c in every(picture, Circle) if c.radius > 1]
    assert (ring.x, ring.y) == pytest.approx(points(picture)[2])
    assert word.x == pytest.approx(ring.x)
    dashes = [ln for ln in every(picture, Line) if ln.x1 == ln.x2 == ring.x and ln.weight == 0.25]
    assert len(dashes) > 5
    assert not [w for w in every(drawn(NAMED["one"]), Words) if w.text == "NOMINAL"]


def test_a_limit_is_a_line_at_its_number_with_its_side_in_words():
    picture = drawn(NAMED["with limits"])
    _, up = scales(picture)
    level = {
        round(ln.y1, 3)
        for ln in every(picture, Line)
        if ln.y1 == ln.y2 and ln.weight == 0.25 and ln.x2 - ln.x1 <= 3.01
    }
    for number in (10.0, 60.0):
        assert any(abs(at(up, number) - y) <= NEAR for y in level)
    words = " ".join(w.text for w in every(picture, Words))
    assert "NO-GO above 60.0" in words
    assert "NO-GO below 10.0" in words


def test_each_curve_is_named_at_its_end_in_the_order_of_their_ends():
    picture = drawn(NAMED["five alike"])
    names = [w for w in every(picture, Words) if w.text.startswith("drag ")]
    assert [w.text for w in names] == [f"drag {n}" for n in (12, 10, 8, 6, 4)]
    assert [w.y for w in names] == sorted(w.y for w in names)
    ends = sorted(points(picture)[9::10], key=lambda point: point[1])
    leaders = [ln for ln in every(picture, Line) if ln.x2 > ends[0][0] + 4 and ln.weight == 0.25]
    for (_, y), leader in zip(ends, leaders, strict=True):
        assert leader.y1 == pytest.approx(y)


def test_verdicts_stand_over_the_entries_that_have_them():
    picture = drawn(NAMED["verdicts"])
    xs = [x for x, _ in points(picture)]
    spans = [o for o in every(picture, Outline) if o.weight == 0.35]
    said = [w.text for w in every(picture, Words) if w.text in ("GO", "NO-GO")]
    assert said == ["NO-GO", "GO", "NO-GO"]
    for span, (first, last) in zip(spans, ((0, 0), (1, 3), (4, 5)), strict=True):
        ends = [x for x, _ in span.points]
        assert (min(ends), max(ends)) == pytest.approx((xs[first] - 0.6, xs[last] + 0.6))


def test_it_is_black_lines_only():
    for rows in NAMED.values():
        picture = drawn(rows)
        assert not [o for o in every(picture, Outline) if o.filled]
        weights = [m.weight for m in (*every(picture, Line), *every(picture, Circle))]
        assert min(weights) >= 0.25
        assert min(w.size for w in every(picture, Words)) >= 9
        assert math.isclose(picture.width, WIDTH)


GOOD = rows_of(3, "rising")


@pytest.mark.parametrize(("change", "wrong"), [
    ({"at 5.000": "low"}, "'low' is no number"),
    ({"at x": "1"}, "'x' is no number"),
    ({"at 5.000": "1; 2"}, "answers"),
    ({"colour": "red"}, "a row 'colour'"),
    ({"nominal": "5"}, "no point at the nominal"),
    ({"no-go": "over 5"}, "no limit"),
    ({"verdict 4.000": "GO", "verdict 6.000": "perhaps", "verdict 8.000": "GO"}, "'perhaps'"),
    ({"up": ""}, "no row 'up'"),
])  # fmt: skip
def test_what_cannot_be_plotted_is_refused(change, wrong):
    with pytest.raises(Refusal) as refused:
        drawn({**GOOD, **change})
    assert wrong in refused.value.wrong


def test_one_point_and_six_curves_are_refused():
    with pytest.raises(Refusal, match="1 point"):
        drawn(rows_of(1, "rising"))
    with pytest.raises(Refusal, match="6 curves"):
        drawn(rows_of(4, *["rising"] * 6))
