"""The long proofs: the same questions as in `make test`, asked far more often. Run by `make prove`."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from generator.draw import draw_sheet
from tests.check import test_never_a_traceback as damage
from tests.draw.stress import stress_sheet
from tests.helping import SOUND, sheets_of

pytestmark = pytest.mark.prove


def test_four_thousand_damaged_files() -> None:
    inner = damage.test_any_damage_gives_findings_or_sheets.hypothesis.inner_test
    often = settings(max_examples=4000, derandomize=False, deadline=None)
    often(given(damage.damage())(inner))()


@pytest.mark.parametrize("seed", range(1000, 1300))
def test_three_hundred_random_sheets(seed: int) -> None:
    drawn = draw_sheet(stress_sheet(seed, operations=40))
    assert draw_sheet(stress_sheet(seed, operations=40)).pdf == drawn.pdf


def test_the_same_sheet_a_hundred_times() -> None:
    assert len({str(sheets_of(SOUND)) for _ in range(100)}) == 1
