"""A process whose givens have tolerances in; the limits of its numbers out, over the whole chain."""

from __future__ import annotations

import shutil

import pytest

from generator.workshop import open_shop, work_out
from tests.helping import SOUND

MM = 1e-3


def numbers(tmp_path, *edits):
    """The numbers of the sound shelf with parts of its text replaced."""
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8")
    for was, now in edits:
        assert text.count(was) == 1, was
        text = text.replace(was, now)
    file.write_text(text, encoding="utf-8")
    shop = open_shop(tmp_path)
    workings, findings = work_out(shop, "processes/shelf.yaml")
    assert [*shop.findings, *findings] == []
    return workings.numbers


LEG = "    is: 25 mm\n"


def test_two_legs_of_one_given_move_together(tmp_path):
    """Both legs are the same 25 ± 0.3: the length moves by ± 0.6 and so does its root sum square."""
    limits = numbers(tmp_path, (LEG, "    is: 25 ± 0.3 mm\n"))["flat.length"].limits
    assert limits is not None and limits.proven
    assert (limits.high - limits.low) / 2 == pytest.approx(0.6 * MM)
    assert (limits.rss_high - limits.rss_low) / 2 == pytest.approx(0.6 * MM)


def test_two_legs_each_with_its_own_move_apart(tmp_path):
    """Two legs of 25 ± 0.3 each: worst case ± 0.6, root sum square 0.3 · √2 = 0.4243."""
    own = "    is: 25 ± 0.3 mm\n    tolerance: each\n"
    limits = numbers(tmp_path, (LEG, own))["flat.length"].limits
    assert limits is not None
    assert (limits.high - limits.low) / 2 == pytest.approx(0.6 * MM)
    assert (limits.rss_high - limits.rss_low) / 2 == pytest.approx(0.3 * 2**0.5 * MM)


DIFFERENCE = (
    "  sight_line:\n",
    "  apart:\n    is: flat.flats.1 - flat.flats.2\n    to: 0.01 mm\n  sight_line:\n",
)


def test_what_two_legs_share_cancels(tmp_path):
    """The difference of two flats of one leg does not move at all; of two legs of their own it
    moves by ± 0.6 (visible arithmetic: 0.3 + 0.3)."""
    shared = numbers(tmp_path / "a", (LEG, "    is: 25 ± 0.3 mm\n"), DIFFERENCE)
    assert shared["apart"].limits is None
    own = numbers(tmp_path / "b", (LEG, "    is: 25 ± 0.3 mm\n    tolerance: each\n"), DIFFERENCE)
    limits = own["apart"].limits
    assert limits is not None
    assert (limits.low, limits.high) == (pytest.approx(-0.6 * MM), pytest.approx(0.6 * MM))


def test_limits_run_through_a_second_entry_and_never_stage_by_stage(tmp_path):
    """sight line = (leg - setback) + radius with setback = radius + thickness at 90°: the radius
    cancels, so only the thickness is left: 25 - T."""
    wide = numbers(
        tmp_path,
        ("    is: 3.2 mm\n", "    is: 3.2 ± 0.2 mm\n"),
        ("    is: 0.914 mm\n", "    is: 0.914 ± 0.03 mm\n"),
    )
    limits = wide["sight_line"].limits
    assert limits is not None
    assert limits.low == pytest.approx((25 - 0.944) * MM)
    assert limits.high == pytest.approx((25 - 0.884) * MM)
    assert limits.driver == "thickness"


def test_a_value_typed_at_a_calculation_may_have_a_tolerance_too(tmp_path):
    typed = numbers(tmp_path, ("    legs: [leg, leg]", "    legs: [leg, 25 ± 0.2 mm]"))
    limits = typed["flat.length"].limits
    assert limits is not None
    assert (limits.high - limits.low) / 2 == pytest.approx(0.2 * MM)
    assert limits.driver == "mould-line length of leg 2 of flat"


def test_nothing_moves_where_nothing_has_a_tolerance(tmp_path):
    assert all(number.limits is None for number in numbers(tmp_path).values())
