"""A process whose givens have tolerances in; the limits of its numbers out, over the whole chain."""

from __future__ import annotations

import shutil

import pytest

from generator.workshop import open_shop, work_out
from tests.helping import SOUND

MM = 1e-3


def numbers(tmp_path, *edits):
    """The numbers of the sound shelf with parts of its text replaced."""
    workings, findings = worked(tmp_path, *edits)
    assert findings == []
    return workings.numbers


def worked(tmp_path, *edits):
    """Its workings and every finding."""
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "processes" / "shelf.yaml"
    text = file.read_text(encoding="utf-8")
    for was, now in edits:
        assert text.count(was) == 1, was
        text = text.replace(was, now)
    file.write_text(text, encoding="utf-8")
    shop = open_shop(tmp_path)
    workings, findings = work_out(shop, "processes/shelf.yaml")
    told = [
        f for f in (*shop.findings, *findings) if f.code != "threads"
    ]  # nothing is tightened here
    return workings, told


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


PAD = (
    "    is: 25 mm\n",
    "    is: 25 mm\n    from: original drawing\n  pad:\n    is: 5 ± 0.05 mm\n    tolerance: each\n",
)


def entry(text):
    return ("  sight_line:\n", f"  extra:\n{text}  sight_line:\n")


def test_a_tolerance_of_its_own_at_every_place_of_one_formula(tmp_path):
    """Three pads of 5 ± 0.05, each its own: ± 0.15 at worst, 0.05 · √3 by root sum square; the
    difference of two of them moves by ± 0.10."""
    three = numbers(tmp_path / "a", PAD, entry("    is: pad + pad + pad\n    to: 0.001 mm\n"))[
        "extra"
    ]
    assert (three.limits.high - three.limits.low) / 2 == pytest.approx(0.15 * MM)
    assert (three.limits.rss_high - three.limits.rss_low) / 2 == pytest.approx(0.05 * 3**0.5 * MM)
    apart = numbers(tmp_path / "b", PAD, entry("    is: pad - pad\n    to: 0.001 mm\n"))["extra"]
    assert (apart.limits.low, apart.limits.high) == (
        pytest.approx(-0.1 * MM),
        pytest.approx(0.1 * MM),
    )
    assert apart.limits.drivers == ("pad, place 1 of extra", "pad, place 2 of extra")


TORQUE = """    use: table_torque
    thread: 1/4-28
    nut: tension
    lubrication: oil-free
    drag: {}
"""


def test_a_window_is_the_one_that_holds_for_the_whole_tolerance(tmp_path):
    """AC 43.13-1B table 7-1, 50 to 70: with 8 ± 2 of drag from 50 + 10 to 70 + 6."""
    found = numbers(tmp_path, entry(TORQUE.format("8 ± 2 lbf·in")))
    assert found["extra.from"].text == "60.0 lbf·in"
    assert found["extra.to"].text == "76.0 lbf·in"


def test_a_window_of_which_nothing_is_left_is_refused(tmp_path):
    """With 20 ± 15 of drag the least may be 85 and the largest 75: nothing goes for both."""
    _, findings = worked(tmp_path, entry(TORQUE.format("20 ± 15 lbf·in")))
    assert [f.code for f in findings] == ["range"]
    assert "no window is left for the whole tolerance" in findings[0].wrong


def test_a_divisor_that_may_come_to_zero_has_no_limits(tmp_path):
    small = (LEG, "    is: 25 mm\n    from: original drawing\n  small:\n    is: 0.1 ± 0.5 mm\n")
    _, findings = worked(tmp_path, small, entry("    is: leg / small\n    to: 0.1 ratio\n"))
    assert len(findings) == 1
    assert "do not keep a divisor away from zero" in findings[0].wrong


def test_a_limit_is_judged_at_every_corner_of_many_givens(tmp_path):
    """Eight parts of 0.1 ± 0.0175 and a sheet of 1.2 ± 0.2 mm: R/T may be 0.66 / 1.4 = 0.47, and
    the formula holds from 0.5."""
    parts = "".join(f"  r{n}:\n    is: 0.1 ± 0.0175 mm\n    from: judgement\n" for n in range(8))
    many = (
        "work out:\n",
        f"{parts}  sheet:\n    is: 1.2 ± 0.2 mm\n    from: judgement\nwork out:\n",
    )
    whole = "    is: " + " + ".join(f"r{n}" for n in range(8)) + "\n    to: 0.01 mm\n"
    use = "  bent:\n    use: bend_allowance\n    thickness: sheet\n    radius: extra\n    bend_angle: bend\n"
    _, findings = worked(tmp_path, many, entry(whole + use))
    assert len(findings) == 1
    assert "times the thickness; the formula holds from 0.5" in findings[0].wrong


def test_an_end_of_a_window_is_not_worked_on_at_nominal(tmp_path):
    further = "  beyond:\n    is: extra.to - extra.from\n    to: 0.1 lbf·in\n"
    _, findings = worked(tmp_path, entry(TORQUE.format("8 ± 2 lbf·in") + further))
    assert [f.code for f in findings] == ["range", "range"]
    assert all("is an end of a window that moves" in f.wrong for f in findings)


WRENCH = """    use: wrench_setting
    thread: 1/4-28
    nut: tension
    lubrication: oil-free
    target: 70 lbf·in
    drag: {}
    wrench_length: 10 in
    extension: 0 in
    extension_angle: 0°
    shares: [100 %]
    also: N·m
"""


def test_a_setting_outside_the_window_of_the_whole_tolerance_is_refused(tmp_path):
    """70 and 3 ± 2 of drag: 73 at nominal, but only 71 may be set where the drag is 1."""
    _, findings = worked(tmp_path, entry(WRENCH.format("3 ± 2 lbf·in")))
    assert len(findings) == 1
    assert "lies outside its window for the whole tolerance" in findings[0].wrong


def test_a_setting_below_the_window_of_the_whole_tolerance_is_refused(tmp_path):
    """50 and 3 ± 2 of drag: 53 at nominal, but 55 must be set where the drag is 5, or the joint
    keeps only 48 of the table's 50."""
    low = WRENCH.format("3 ± 2 lbf·in").replace("70 lbf·in", "50 lbf·in")
    _, findings = worked(tmp_path, entry(low))
    assert len(findings) == 1
    assert "lies outside its window for the whole tolerance" in findings[0].wrong


def test_early_passes_may_lie_below_the_window(tmp_path):
    """30 % of 60 and 3 of drag is 21: below 50 on purpose, whatever the tolerance of the drag."""
    early = WRENCH.format("3 ± 2 lbf·in").replace("70 lbf·in", "60 lbf·in")
    found = numbers(tmp_path, entry(early.replace("[100 %]", "[30 %, 100 %]")))
    assert found["extra.passes.1"].shown == "21.0"
    assert found["extra.allowed.from"].shown == "55.0"


def test_a_setting_at_the_edge_is_rounded_inwards_in_both_units(tmp_path):
    """70 lbf·in is 7.9089 N·m: a maximum, so 7.90 and never 7.91."""
    found = numbers(tmp_path, entry(WRENCH.format("0 lbf·in")))
    assert found["extra.setting"].text == "70.0 lbf·in (7.90 N·m)"
    assert (
        found["extra.passes.1"].text == found["extra.allowed.to"].text == "70.0 lbf·in (7.90 N·m)"
    )


def test_a_small_number_moves_too(tmp_path):
    """0.9 ± 0.05 mm cubed over 25 mm: far below one in metres, and it moves by a third."""
    small = (LEG, "    is: 25 mm\n    from: original drawing\n  b:\n    is: 0.9 ± 0.05 mm\n")
    found = numbers(tmp_path, small, entry("    is: b * b * b / leg\n    to: 0.001 mm²\n"))["extra"]
    assert found.limits is not None
    assert found.limits.low == pytest.approx(0.85**3 / 25 * 1e-6)
    assert found.limits.high == pytest.approx(0.95**3 / 25 * 1e-6)
