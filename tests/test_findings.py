"""The word that a finding offers for a misspelt one."""

from __future__ import annotations

import pytest

from generator.findings import near_word


@pytest.mark.parametrize(
    ("word", "known", "near"),
    [
        ("bend_alowance", ["bend_allowance", "bend_radius"], "bend_allowance"),
        ("2024-T33", ["2024-T3", "7075-T6"], "2024-T3"),
        ("1/8", ["1-1/8", "1/4", "1-8"], "1-8"),
        ("1/8", ["1-1/8", "1/4"], ""),
        ("1/4 28", ["1/4-28", "1/4-20"], "1/4-28"),
        ("x" * 10_000, ["x"], ""),
    ],
)
def test_a_near_word_is_a_slip_of_the_pen_and_never_another_size(word, known, near):
    assert near_word(word, known) == near
