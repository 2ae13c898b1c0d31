"""Rows of fasteners in; every number once with a box of its own, large enough and apart, out."""

from __future__ import annotations

from itertools import combinations

import pytest

from generator.figures.picture import Tick, Words
from generator.figures.rows_map import rows_map
from generator.findings import Refusal

BESIDE, WIDE = 118.0, 175.0  # beside a sign-off, and on a sheet of its own (mm)


def asked(**rows: int) -> dict[str, str]:
    told = "; ".join(f"{name}: {count}" for name, count in rows.items())
    return {
        "fasteners": str(sum(rows.values())), "in rows": told, "item": "rivet 1/8 in",
        "first": "top", "numbering": "row by row", "looking": "aft",
    }  # fmt: skip


PLANS = [{"a": 1}, {"a": 7, "b": 5}, {"top": 24, "low": 24}, {"a": 96, "b": 96}, {"one": 200}]


@pytest.mark.parametrize("width", [BESIDE, WIDE])
@pytest.mark.parametrize("plan", PLANS, ids=str)
def test_every_fastener_has_its_number_and_a_box_below_it(plan, width):
    picture = rows_map(asked(**plan), width)
    count = sum(plan.values())
    ticks = [mark for mark in picture.marks if isinstance(mark, Tick)]
    assert [tick.meaning for tick in ticks] == [
        f"rivet 1/8 in no. {n}" for n in range(1, count + 1)
    ]
    numbers = {m.text: m for m in picture.marks if isinstance(m, Words) and m.text.isdigit()}
    assert set(numbers) == {str(n) for n in range(1, count + 1)}
    for n, tick in enumerate(ticks, start=1):
        number = numbers[str(n)]
        assert number.size >= 12.0
        assert number.x == pytest.approx(tick.x + tick.size / 2)
        assert 0.0 < tick.y - number.y < 2.0


@pytest.mark.parametrize("plan", PLANS, ids=str)
def test_boxes_are_apart_and_inside_the_picture(plan):
    picture = rows_map(asked(**plan), BESIDE)
    ticks = [mark for mark in picture.marks if isinstance(mark, Tick)]
    for one, other in combinations(ticks, 2):
        assert abs(one.x - other.x) >= 7.5 or abs(one.y - other.y) >= 7.5
    for tick in ticks:
        assert tick.size >= 5.5
        assert 0 <= tick.x <= picture.width - tick.size
        assert 0 <= tick.y <= picture.height - tick.size


def test_a_row_says_its_name_and_its_numbers_and_the_next_goes_on():
    said = [m.text for m in rows_map(asked(top=24, low=6), BESIDE).marks if isinstance(m, Words)]
    assert "top: 1 to 24" in said
    assert "low: 25 to 30" in said
    assert "looking aft, row by row" in said


WRONG = [
    ({"fasteners": "25"}, "rows of 24 fasteners, and the map says 25"),
    ({"in rows": "top: 0", "fasteners": "0"}, "is not understood"),
    ({"in rows": "top: 12; top: 12"}, "is not understood"),
    ({"in rows": "top 24"}, "is not understood"),
    ({"in rows": "top: 201", "fasteners": "201"}, "rows of 201"),
    ({"order": "1 2 3"}, "the order does not name every fastener once"),
]


@pytest.mark.parametrize(("changed", "says"), WRONG)
def test_what_cannot_be_drawn_is_refused(changed, says):
    with pytest.raises(Refusal) as refused:
        rows_map({**asked(top=24), **changed}, BESIDE)
    assert says in refused.value.wrong


@pytest.mark.parametrize("height", [100.0, 130.0, 170.0])
@pytest.mark.parametrize("plan", [{"one": 200}, {"a": 96, "b": 96}, {"a": 3, "b": 150, "c": 2}])
def test_what_a_page_does_not_hold_goes_on_in_parts(plan, height):
    """Every fastener once, in turn; each part says of which row it is and no part is higher."""
    whole = rows_map(asked(**plan), BESIDE)
    made = rows_map(asked(**plan), BESIDE, height)
    parts = (made, *made.more)
    assert len(parts) > 1
    ticks = [[m for m in part.marks if isinstance(m, Tick)] for part in parts]
    flat = [tick.meaning for each in ticks for tick in each]
    assert flat == [m.meaning for m in whole.marks if isinstance(m, Tick)]
    for i, (part, own) in enumerate(zip(parts, ticks, strict=True), start=1):
        assert part.height <= height
        said = [m.text for m in part.marks if isinstance(m, Words)]
        assert f"looking aft, row by row, part {i} of {len(parts)}" in " ".join(said)
        labels = [m for m in part.marks if isinstance(m, Words) and " to " in m.text]
        assert min(label.y for label in labels) < own[0].y
        told = [label.text.split(": ")[1].split(" to ") for label in labels]
        assert int(told[0][0]) == int(own[0].meaning.split()[-1])
        assert sum(int(last) - int(first) + 1 for first, last in told) == len(own)
        assert all(0 <= t.y <= part.height - t.size for t in own)


@pytest.mark.parametrize(("count", "first"), [(24, 1), (96, 96)])
def test_an_order_that_fits_stands_below_the_rows_and_else_the_boxes_stand_in_it(count, first):
    order = " ".join(str(n) for n in range(count, 0, -1))
    made = rows_map({**asked(top=count), "order": order}, BESIDE, 120.0)
    assert made.height <= 122.0
    ticks = [mark.meaning for mark in made.marks if isinstance(mark, Tick)]
    assert ticks[0] == f"rivet 1/8 in no. {first}"
    assert f"begin at {count}" in " ".join(m.text for m in made.marks if isinstance(m, Words))
