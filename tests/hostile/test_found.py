"""What the fuzzer found, each by itself: what broke the program or kept it busy, and is mended."""

from __future__ import annotations

import pytest

from generator.draw.parse import blocks_of
from generator.findings import Refusal
from generator.quantities.text import LONGEST, read_amount, read_plain
from generator.results.entries import entries_in
from generator.results.form import Field, Form

KIT = Form((Field("kit-list", "", "1 soft pencil", "used", "words", ("used",)),), (), (), ())


@pytest.mark.parametrize("text", ["9" * 1_000_000, "1." + "9" * 1_000_000, "1 " * 500_000 + "mm"])
@pytest.mark.parametrize("read", [read_amount, read_plain])
def test_a_number_of_a_megabyte_is_refused_at_once(read, text):
    """Looking for an exponent in it took the square of its length: hours."""
    with pytest.raises(Refusal, match="too long") as told:
        read(text)
    assert len(told.value.wrong) < LONGEST


@pytest.mark.parametrize("text", ["12 +0.2/\u2028-0 mm", "12 +0.2/\n-0 mm", "1\t2 mm", "5\x0bmm"])
def test_a_number_on_two_lines_is_no_number(text):
    """White space of any sort was read as a space, and came out again on the sheet."""
    with pytest.raises(Refusal, match="does not print"):
        read_amount(text)


def test_a_row_that_begins_with_a_digit_and_is_not_there_is_a_finding():
    """Rows of a kit list begin with their quantity; they were taken for operations."""
    found, faults = entries_in({"kit-list": {"sheet": {"1 soft pencl": "x"}}}, KIT)
    assert not found
    assert [fault.right for fault in faults] == ["1 soft pencil"]


@pytest.mark.parametrize("sign", ["\r", "\0", "\r\n"])
def test_a_sheet_with_other_line_ends_is_refused(sign):
    """The parser counted other lines than we do, and did not find a container's end."""
    with pytest.raises(Refusal, match="does not print"):
        blocks_of(f"A{sign}b\n\n::: note\nText.\n:::\n")
