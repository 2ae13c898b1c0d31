"""A bare number that ends in 1 keeps its last digit, and is refused for want of a unit."""

from __future__ import annotations

import pytest

from generator.findings import Refusal
from generator.quantities.text import read_amount


@pytest.mark.parametrize("text", ["11", "0.881", "0.66 to 0.81", "1.2 ± 0.1", "1", "21 1", "5/31"])
def test_a_number_that_ends_in_one_has_no_unit(text):
    with pytest.raises(Refusal):
        read_amount(text)


@pytest.mark.parametrize(
    ("text", "number"), [("0.01743 1/°", 0.01743), ("11 mm", 11.0), ("0.881 mm", 0.881)]
)
def test_what_has_a_unit_keeps_every_digit(text, number):
    assert read_amount(text).number() == pytest.approx(number)
