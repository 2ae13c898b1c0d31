"""Columns of a strip as a keyboard types them, in; the column as it is printed, out."""

from __future__ import annotations

import pytest

from generator.results.entries import entries_in, unreadable
from generator.results.form import Field, Form

HEADS = ("−0.5", "−0.1", "0.0", "0.1", "5/32 in", "20 SWG")
GRID = ("−0.1 × 10", "−0.1 × 20", "0.1 × 10", "0.1 × 20")


def read(word: str, choices: tuple[str, ...] = HEADS) -> str:
    """What stands in the box of a strip; "" where it is refused."""
    used = Field("traveller", "50", "used", "", "choice", choices, choices)
    form = Form((used,), ("50",), ())
    tree = {"traveller": {"50": {"used": word}}}
    entries, faults = entries_in(tree, form)
    assert not faults
    return "" if unreadable(tree, form, entries) else entries[used.key].text


@pytest.mark.parametrize(
    ("word", "wanted"),
    [
        ("-0.1", "−0.1"), ("−0.1", "−0.1"), ("–0.1", "−0.1"), ("-0.10", "−0.1"), ("-.1", "−0.1"),
        ("0.1", "0.1"), ("+0.1", "0.1"), (".1", "0.1"), ("0", "0.0"), ("-0", "0.0"),
        ("5/32 in", "5/32 in"), ("5/32  in", "5/32 in"), ("20 swg", "20 SWG"),
        ("-0.2", ""), ("1", ""), ("0,1", ""), ("-", ""), ("--0.1", ""), ("20", ""), ("x", ""),
        ("late: -0.1, written 2026-11-26", "−0.1"),
    ],
)  # fmt: skip
def test_a_number_may_be_typed_as_a_keyboard_has_it(word, wanted):
    assert read(word) == wanted


@pytest.mark.parametrize(
    ("word", "wanted"),
    [
        ("-0.1 × 20", "−0.1 × 20"), ("-0.1 x 20", "−0.1 × 20"), ("-0.1x20.0", "−0.1 × 20"),
        ("-0.1 * 20", "−0.1 × 20"), ("0.1 × 10", "0.1 × 10"), ("20 × -0.1", ""), ("-0.1", ""),
    ],
)  # fmt: skip
def test_a_cell_of_a_grid_is_typed_by_both_its_heads(word, wanted):
    assert read(word, GRID) == wanted


def test_a_word_that_could_be_two_columns_is_neither():
    assert read("0.10", ("0.1", "0.100")) == ""
    assert read("0.1", ("0.1", "0.100")) == "0.1"
