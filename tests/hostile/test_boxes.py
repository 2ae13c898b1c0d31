"""Numbers, days, times and signs that no paper has, in boxes of every kind, in; the judging that tells
them, and breaks at none, out. `make prove` has every process of the demo and many more."""

from __future__ import annotations

import pytest

from tests.compose.sheets import file_of
from tests.hostile.boxes import KINDS, LONG, Sheets, of_the_demo, sweeps, told_by
from tests.hostile.records import words_target


def skin() -> Sheets:
    """A skin that is treated by heat: clocks with days, waits and windows, papers with serials."""
    return of_the_demo(file_of("T6-P-0110"))


def test_it_has_a_box_of_every_kind():
    assert {field.kind for field in skin().form.fields} == {*KINDS}


@pytest.mark.parametrize("text", [*sweeps(1)], ids=lambda text: f"{text[:16]} {len(text)}")
def test_no_word_breaks_the_judging(text):
    assert told_by(text, skin())


@pytest.mark.parametrize("line", [f"number: {LONG[-1]}", f"number: {LONG[-2]}", "date: 9999-12-31"])
def test_no_word_that_is_recorded_breaks_list_and_close(line):
    assert words_target().run(line)
