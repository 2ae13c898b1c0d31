"""Wrong rows of a flat pattern, and how fine it may be drawn; labels pushed apart along a line."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.figures.picture import Circle, Line, Outline, Words
from generator.figures.spreading import spread
from generator.findings import Refusal
from tests.figures.bent import ANGLE, SECTIONS, flat
from tests.figures.measured import every


@pytest.mark.parametrize(
    ("change", "wrong"),
    [
        ({"bend 1": "90° up"}, "'90° up' is no bend"),
        ({"flat 1": "20.9"}, "'20.9' is no length"),
        ({"tangent 1": "20.9 mm, 26.6 mm"}, "are no two tangent lines"),
        ({"relief 1": "3.2 mm"}, "'3.2 mm' is no relief hole"),
        ({"grain": "sideways"}, "the grain runs 'sideways'"),
        ({"order": "1 2"}, "does not name each of 1 bends once"),
        ({"sihgt 1": "24.1 mm"}, "no row 'sihgt 1'"),
        ({"width": "1.5 in"}, "lengths in in and in mm"),
        ({"tangent 1": "26.6 mm to 20.9 mm"}, "do not follow the first edge"),
        ({"tangent 1": "70.0 mm to 75.7 mm"}, "a line of bend 1 is 75.7 mm from the first edge"),
        ({"sight 1": "80.0 mm"}, "a line of bend 1 is 80.0 mm from the first edge"),
        # The second tangent line at 26.6 and the far edge at 72.5 leave 45.9.
        ({"flat 2": "46.9 mm"}, "flat 2 is 46.9 mm, but its two lines are 45.9 apart"),
        ({"allowance 1": "6.66 mm"}, "allowance 1 is 6.66 mm, but its two lines are 5.7 apart"),
    ],
)
def test_rows_that_cannot_be_read_or_do_not_agree_are_refused(
    change: dict[str, str], wrong: str
) -> None:
    with pytest.raises(Refusal, match=re.escape(wrong)) as caught:
        flat({**ANGLE, **change})
    assert caught.value.code == "figure"
    assert caught.value.right


@pytest.mark.parametrize("name", list(ANGLE))
def test_no_row_may_be_missing(name: str) -> None:
    with pytest.raises(Refusal) as caught:
        flat({key: value for key, value in ANGLE.items() if key != name})
    assert caught.value.right


def test_a_misspelt_row_is_answered_with_the_right_one() -> None:
    with pytest.raises(Refusal) as caught:
        flat({**ANGLE, "sihgt 1": "24.1 mm"})
    assert caught.value.right == "sight 1"


def test_bends_that_lie_over_one_another_are_refused() -> None:
    rows = {**SECTIONS["U"], "tangent 2": "25.0 mm to 84.0 mm"}
    with pytest.raises(Refusal, match="do not follow bend 1"):
        flat(rows)


def test_what_finds_no_room_is_refused() -> None:
    with pytest.raises(Refusal, match="8 bends find no room in 113 mm") as caught:
        flat(SECTIONS["eight"], 113)
    assert "wider" in caught.value.right


@pytest.mark.parametrize("name", SECTIONS)
def test_strokes_and_letters_outlive_a_copy(name: str) -> None:
    picture = flat(SECTIONS[name])
    assert min(m.weight for kind in (Line, Outline, Circle) for m in every(picture, kind)) >= 0.25
    assert min(w.size for w in every(picture, Words)) >= 9
    figures = [w.size for w in every(picture, Words) if re.fullmatch(r"[0-9.]+", w.text)]
    assert name == "clustered" or min(figures) >= 10.5


@given(
    wanted=st.lists(st.floats(0, 100), min_size=1, max_size=12).map(sorted),
    apart=st.floats(0.5, 12),
)
def test_places_keep_order_distance_and_bounds_or_there_are_none(
    wanted: list[float], apart: float
) -> None:
    count = len(wanted)
    places = spread(wanted, [0.0] * count, [100.0] * count, lambda i, j: apart)
    need = apart * (count - 1)
    if places is None:
        assert need > 100
        return
    assert need <= 100 + 1e-6
    assert all(-1e-6 <= place <= 100 + 1e-6 for place in places)
    gaps = [b - a for a, b in pairwise(places)]
    assert all(gap >= apart - 1e-6 for gap in gaps)


def test_places_that_are_free_are_taken_as_wanted_and_a_pair_gives_way_evenly() -> None:
    assert spread([10, 20, 30], [0] * 3, [40] * 3, lambda i, j: 5) == (10, 20, 30)
    assert spread([19, 21], [0] * 2, [40] * 2, lambda i, j: 6) == (17, 23)
