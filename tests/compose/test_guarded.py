"""Limits and an uncertainty in; the limits between which a value is accepted, out, by hand.

The rule: a value is proven inside only within the limits, each moved inwards by U (ISO 14253-1:2017,
known here from secondary summaries only). The sums are done in the tests.
"""

from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from generator.check.readers import step, uncertainty
from generator.compose import SheetFacts
from generator.composing.guarded import Guard, guard
from generator.composing.instruments import UNKNOWN, Uncertainty, uncertainty_of
from generator.draw import draw_sheet
from generator.findings import Refusal
from generator.process import Instrument, InstrumentKind, Reading
from generator.quantities.units import unit
from generator.workshop import chosen, open_shop, sheets_of
from tests.compose.sheets import SHOP, features, file_of, made, rows

ROOT = Path(__file__).parents[2]


def reading(to: str = "", instrument: str = "micrometer") -> Reading:
    fine = step(to) if to else None
    return Reading("bore", "number", None, None, None, "mm", fine, instrument, 1)


def guarded(lower: str, upper: str, u: str, to: str = "", scale: str = "mm") -> Guard:
    return guard(reading(to), lower, upper, unit(scale), Uncertainty(uncertainty(u), f"U {u}"))


# --- the sum --------------------------------------------------------------------------------------


def test_the_example_of_the_trade():
    """TRADE M12: 9.00 ± 0.10 and U 0.03 leave 8.93 to 9.07."""
    assert guarded("8.90", "9.10", "0.03 mm", "0.01 mm") == Guard("8.93", "9.07", 0)


@pytest.mark.parametrize(("lower", "upper", "u", "to", "accept"), [
    # 24.0 + 0.03 = 24.03, on to 24.1; 24.4 - 0.03 = 24.37, back to 24.3.
    ("24.0", "24.4", "0.03 mm", "0.1 mm", ("24.1", "24.3")),
    # 3.0 + 0.4 = 3.4, on to 3.5; 8.0 - 0.4 = 7.6, back to 7.5.
    ("3.0", "8.0", "0.4 mm", "0.5 mm", ("3.5", "7.5")),
    # On the step already: 0.874 + 0.003 and 0.954 - 0.003 are not moved by rounding.
    ("0.874", "0.954", "0.003 mm", "0.001 mm", ("0.877", "0.951")),
    # Without a step, the finest place of limits and U: 1.5 + 0.25, 2.5 - 0.25.
    ("1.5", "2.5", "0.25 mm", "", ("1.75", "2.25")),
    # Below zero inwards is upwards at the lower limit: -0.04 + 0.015 = -0.025, on to -0.02.
    ("−0.04", "0.04", "0.015 mm", "0.01 mm", ("−0.02", "0.02")),
    # 9.045 goes on to 9.05, 9.055 back to 9.05: one value is left.
    ("9.00", "9.10", "0.045 mm", "0.01 mm", ("9.05", "9.05")),
    # U in another unit: 20 µm are 0.020 mm.
    ("8.90", "9.10", "20 µm", "0.01 mm", ("8.92", "9.08")),
    # One side only: the other has no limit to move.
    ("9.00", "", "0.03 mm", "0.01 mm", ("9.03", "")),
    ("", "0.50", "0.03 mm", "0.01 mm", ("", "0.47")),
])  # fmt: skip
def test_each_limit_moves_inwards_by_u_and_rounds_inwards(lower, upper, u, to, accept):
    made = guarded(lower, upper, u, to)
    assert (made.lower, made.upper) == accept


def test_a_torque_and_a_temperature_move_by_a_difference():
    """1 N·m is 8.8507 lbf·in (1 lbf·in = 0.1129848 N·m): 50 + 8.85 goes on to 59, 70 - 8.85 back
    to 61. On the scale of degrees 0.5 °C is a difference: 15 + 0.5, 25 - 0.5."""
    torque = guarded("50", "70", "1 N·m", "1 lbf·in", "lbf·in")
    assert (torque.lower, torque.upper) == ("59", "61")
    warm = guarded("15", "25", "0.5 °C", "0.5 °C", "°C")
    assert (warm.lower, warm.upper) == ("15.5", "24.5")


def test_never_outside_by_less_than_u():
    """Whatever the step, what is accepted keeps U from both limits."""
    for tenths in range(1, 20):
        u, low, high = Decimal(tenths) / 100, Decimal("9.13"), Decimal("10.27")
        made = guarded(str(low), str(high), f"{u} mm", "0.05 mm")
        assert low + u <= Decimal(made.lower) < low + u + Decimal("0.05")
        assert high - u - Decimal("0.05") < Decimal(made.upper) <= high - u


@pytest.mark.parametrize(("u", "share"), [
    ("0.050", 0), ("0.051", 4), ("0.066", 4), ("0.067", 3), ("0.090", 3),
])  # fmt: skip
def test_u_over_a_quarter_or_a_third_of_the_tolerance_is_told(u, share):
    """The tolerance is 0.200: a quarter is 0.050, a third 0.0667."""
    assert guarded("8.900", "9.100", f"{u} mm", "0.001 mm").share == share


@pytest.mark.parametrize(("lower", "upper", "u"), [
    ("8.90", "9.10", "0.11 mm"),  # 9.01 is above 8.99
    ("9.00", "9.00", "0.01 mm"),
    ("", "0.50", "0.50 mm"),  # a gap of 0 at the most
])  # fmt: skip
def test_nothing_left_is_refused(lower, upper, u):
    with pytest.raises(Refusal) as refused:
        guarded(lower, upper, u, "0.01 mm")
    assert refused.value.code == "uncertainty"


def test_the_step_is_blamed_where_u_alone_leaves_something():
    """17.95 + 0.022 goes on to 17.98, 18.00 - 0.022 back to 17.96: U leaves 17.972 to 17.978."""
    with pytest.raises(
        Refusal, match=r"no value written to 0.02 mm is surely within 17.95"
    ) as said:
        guarded("17.95", "18.00", "0.022 mm", "0.02 mm")
    assert said.value.right == "to: a finer step"
    with pytest.raises(Refusal, match=r"leaves nothing of 17.95 to 18.00 mm"):
        guarded("17.95", "18.00", "0.026 mm", "0.02 mm")


def test_below_zero_there_may_be_something_on_a_scale_of_points():
    assert guarded("", "0.5", "1 °C", "0.5 °C", "°C").upper == "−0.5"


def test_an_uncertainty_of_another_kind_is_refused():
    with pytest.raises(Refusal) as refused:
        guarded("8.90", "9.10", "0.2°")
    assert refused.value.code == "unit"


# --- whose U --------------------------------------------------------------------------------------

DAY = date(2026, 11, 25)


def held(number: str, u: str = "", due: date = date(2027, 1, 1), reads: str = "0.01 mm"):
    return Instrument(number, "caliper", step(reads), due, uncertainty(u) if u else None)


def known(*instruments: Instrument, most: str = "", reads: str = "0.01 mm") -> Uncertainty:
    allowed = uncertainty(most) if most else None
    kind = InstrumentKind("caliper", step(reads), "", allowed)
    process = replace(SHOP.processes[file_of("T6-P-0120")], instruments=(kind,))
    return uncertainty_of("caliper", process, instruments, DAY)


def test_the_largest_of_the_kind_is_taken():
    found = known(held("G-1", "0.02 mm"), held("G-2", "0.03 mm"))
    assert found.source == "U 0.03 mm, the largest of G-1, G-2"
    assert known(held("G-1", "0.02 mm")).source == "U 0.02 mm of G-1"


@pytest.mark.parametrize("other", [
    held("G-2", "0.05 mm", due=date(2026, 11, 24)),  # its check was due yesterday
    held("G-2", "0.05 mm", reads="0.05 mm"),  # too coarse for the process
])  # fmt: skip
def test_an_instrument_that_does_not_do_that_day_is_left_out(other):
    assert known(held("G-1", "0.02 mm"), other).source == "U 0.02 mm of G-1"


def test_one_that_is_due_on_the_day_still_does():
    other = held("G-2", "0.05 mm", due=DAY)
    assert known(held("G-1", "0.02 mm"), other).source == "U 0.05 mm, the largest of G-1, G-2"


def test_one_above_what_the_process_allows_is_left_out():
    found = known(held("G-1", "0.02 mm"), held("G-2", "0.05 mm"), most="0.03 mm")
    assert found.source == "U 0.02 mm of G-1"


def test_one_of_unknown_uncertainty_is_named_and_never_vouched_for():
    found = known(held("G-1", "0.02 mm"), held("G-2"))
    assert found.source == "U 0.02 mm of G-1; not with G-2: no uncertainty known"


def test_else_what_the_process_allows_else_nobody_guesses():
    found = known(held("G-1"), most="0.03 mm")
    assert found.source.startswith("U 0.03 mm, the most that the process allows")
    assert known(held("G-1")) == Uncertainty(None, UNKNOWN)
    assert known() == Uncertainty(None, UNKNOWN)


# --- on the sheet ---------------------------------------------------------------------------------


def test_the_sheet_has_accept_limits_beside_the_limits():
    """Micrometers G-101 and G-102 of the demo have 0.002 and 0.003 mm; 0.874 + 0.003 = 0.877,
    0.954 - 0.003 = 0.951. Calipers have 0.03 mm, read to 0.1 mm: 39.73 on to 39.8, 40.27 back."""
    own = {row[2]: row[9:12] for row in features("T6-P-0120")}
    assert own["thickness"] == ["0.877", "0.951", "U 0.003 mm, the largest of G-101, G-102."]
    assert own["width of the blank"][:2] == ["39.8", "40.2"]
    assert own["inside radius, 1 and 2"] == ["-", "-", UNKNOWN]
    assert own["cracks found under the eyeglass"] == ["-", "-", "-"]


def test_a_ticked_limit_has_its_accept_limits_worked_out_for_every_column():
    """Each cell is the cell of the traveller's strip, 0.03 mm inwards, on to the next 0.1 mm."""
    assert features("T6-P-0120")[1][9:11] == ["ticked", "ticked"]
    lower, upper = rows("T6-P-0120", "traveller", "strip")[1:3]
    own = rows("T6-P-0120", "inspection-sheet", "strip")
    assert [row[0] for row in own] == ["lower mm", "upper mm", "accept from mm", "accept to mm"]
    assert [row[1:] for row in own[:2]] == [lower[1:], upper[1:]]
    accept_from, accept_to = own[2:]
    for limit, accept in zip(lower[1:], accept_from[1:], strict=True):
        assert Decimal(accept) == Decimal(limit) + Decimal("0.1")
    for limit, accept in zip(upper[1:], accept_to[1:], strict=True):
        assert Decimal(accept) == Decimal(limit) - Decimal("0.1")


def test_a_value_may_be_in_or_out_or_between():
    drawn = draw_sheet(made(file_of("T6-P-0120")).sheets["inspection-sheet"])
    words = {box.row: [] for box in drawn.boxes}
    for box in drawn.boxes:
        words[box.row].append(box.meaning)
    assert words["feature 1"][-3:] == ["in", "between", "out"]
    assert words["feature 6"][-3:] == ["in", "between", "out"]  # no uncertainty known
    assert words["feature 7"][-2:] == ["in", "out"]  # a count
    assert "between" not in words["feature 7"]
    assert "accept from, as ticked, mm" in words["feature 2"]


def sheets_with(folder: Path, was: str, now: str, name: str, day: str = "2026-11-25"):
    shutil.copytree(ROOT / "processes", folder / "processes")
    file = folder / "processes" / name
    text = file.read_text(encoding="utf-8")
    assert text.count(was) == 1
    file.write_text(text.replace(was, now), encoding="utf-8")
    shop = open_shop(folder)
    facts = SheetFacts("A-0007", ("0003",), day)
    made, findings = sheets_of(shop, chosen(shop, ["T6-P-0120"])[0], facts)
    assert made is not None, findings
    return made


LIST = "workshop/instruments.yaml"


def test_another_instrument_changes_the_accept_limits_and_no_fingerprint(tmp_path):
    now = sheets_with(tmp_path, "uncertainty: 0.003 mm", "uncertainty: 0.004 mm", LIST)
    before = made(file_of("T6-P-0120"))
    assert "| 0.878 | 0.950 | U 0.004 mm" in now.sheets["inspection-sheet"]
    assert now.fingerprint == before.fingerprint


def test_an_instrument_out_of_date_on_the_day_of_printing_does_not_count(tmp_path):
    due = "uncertainty: 0.003 mm, range: 0 to 25 mm, check due: 2027-09-15"
    now = sheets_with(tmp_path, due, due.replace("2027-09-15", "2026-11-24"), LIST)
    assert "| 0.876 | 0.952 | U 0.002 mm of G-101." in now.sheets["inspection-sheet"]


def test_what_the_process_allows_is_in_the_fingerprint(tmp_path):
    was = "{kind: micrometer, reads to: 0.001 mm}"
    now = was.replace("}", ", uncertainty: 0.003 mm}")
    file = "forming/T6-P-0120-battery-shelf-bracket.yaml"
    assert (
        sheets_with(tmp_path, was, now, file).fingerprint != made(file_of("T6-P-0120")).fingerprint
    )


def test_a_workshop_that_guards_no_limits_prints_none(tmp_path):
    now = sheets_with(
        tmp_path, "guarded limits: yes", "guarded limits: no", "workshop/workshop.yaml"
    )
    assert "accept" not in now.sheets["inspection-sheet"].split("## Signatures")[0]
    assert now.fingerprint != made(file_of("T6-P-0120")).fingerprint
