"""Names of readings, in; whether they are of what two pressures differ by, out."""

from __future__ import annotations

import pytest

from generator.check.pressure_rules import names_a_difference


@pytest.mark.parametrize(
    "name",
    [
        "pressure drop in 10 min", "Pressure rise", "highest pressure drop seen", "pressure loss",
        "pressure difference", "return pressure change over 10 min", "rise of the pressure",
        "drop in 10 min", "largest difference between the gauges", "differential pressure",
        "difference in pressure", "filter drop", "gauge error", "deviation", "loss over 24 h",
    ],
)  # fmt: skip
def test_a_name_with_the_noun_at_its_place_is_of_a_difference(name):
    assert names_a_difference(name)


@pytest.mark.parametrize(
    "name",
    [
        "highest pressure while the leg rises", "pressure with the leg changing over", "pressure",
        "pressure when the ram rises", "pressure after the valve dropped in", "pressure change-over",
        "pressure at the change of filter", "pressure after adding the lost fluid",
        "pressure at fall-back", "pressure with gain adjusted", "return pressure, legs falling",
        "pressure before the increase", "pressure after a drop", "fall-back pressure",
        "pressure rises to", "backdrop", "dropped leg pressure", "pressure at rise",
    ],
)  # fmt: skip
def test_a_name_that_says_when_it_was_read_is_of_a_pressure(name):
    assert not names_a_difference(name)
