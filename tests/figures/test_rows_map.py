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
