"""Bolts and counts against print and by hand; the source stands beside each check."""

from __future__ import annotations

import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, results

# A worked example, common practice: skin 0.914, ring 2.0, doubler 1.6 mm, washers of 1.6 mm, bolt with
# a grip of 6.35 mm: 6.114 ≤ 6.35 < 7.714.
JOINT = {"parts": ["0.914 mm", "2.0 mm", "1.6 mm"], "head_washer": "1.6 mm", "nut_washer": "1.6 mm"}


def test_grip_between_two_washers() -> None:
    came = results("bolt_grip", grip="6.35 mm", **JOINT)
    shown = [came[of].shown for of in ("stack", "least", "most", "over", "under")]
    assert shown == ["4.514", "6.114", "7.714", "0.236", "1.364"]


def test_the_naive_sum_puts_the_nut_on_the_shank() -> None:
    # All parts and both washers as grip: the shank ends where the nut begins, and nothing is clamped.
    with pytest.raises(Refusal, match="room that the grip leaves the nut comes to 0"):
        results("bolt_grip", grip="7.714 mm", **JOINT)
    with pytest.raises(Refusal, match="room that the grip leaves the nut"):
        results("bolt_grip", grip="7.9 mm", **JOINT)
    with pytest.raises(Refusal, match="grip over the least comes to"):
        results("bolt_grip", grip="6.1 mm", **JOINT)


def test_the_bolt_that_stores_gives_out() -> None:
    # Grips in sixteenths of an inch: 6.35 mm goes, 7.94 would be too long.
    grips = ["4.7625 mm", "6.35 mm", "7.9375 mm"]
    assert results("bolt_from_stock", grips=grips, **JOINT)["grip"].shown == "6.35"
    with pytest.raises(Refusal, match="no grip of the stores"):
        results("bolt_from_stock", grips=["4.7625 mm", "7.9375 mm"], **JOINT)


def test_grip_of_a_bolt_in_hand() -> None:
    # FAA study notes: 1 1/2 in overall, 1 3/16 in of shank, 5/8 in of thread: 9/16 in.
    assert answer("bolt_plain_length", "in", shank="1.1875 in", threaded="0.625 in") == 0.5625


def test_a_whole_thread_stands_out_of_the_nut() -> None:
    # AC 43.13-1B paragraph 7-37: at least one thread.
    typed = {"parts": ["5 mm"], "washers": "3.2 mm", "nut": "8 mm", "pitch": "1 mm"}
    assert results("bolt_thread", length="17.2 mm", **typed)["threads"].shown == "1.0"
    with pytest.raises(Refusal, match="threads outside the nut comes to"):
        results("bolt_thread", length="17.1 mm", **typed)


# Lettered drills (from memory): E 0.250, F 0.257, N 0.302, O 0.316, U 0.368, V 0.377 in; AC 43.13-1B
# paragraph 7-39 takes the first above the bolt.
LETTERS = {"E": 0.25, "F": 0.257, "N": 0.302, "O": 0.316, "U": 0.368, "V": 0.377}


@pytest.mark.parametrize(
    ("bolt", "drill", "size"), [("1/4", "F", 0.25), ("5/16", "O", 0.3125), ("3/8", "V", 0.375)]
)
def test_drills_for_bolts(bolt: str, drill: str, size: float) -> None:
    above = min((width, letter) for letter, width in LETTERS.items() if width > size)
    assert above[1] == drill
    assert answer("bolt_hole", "in", "hole", bolt=bolt, drill=drill) == pytest.approx(above[0])


def test_light_drive() -> None:
    # AC 43.13-1B paragraph 7-39: 0.0006 in for a 5/8 in bolt, and no number for others.
    assert answer("bolt_light_drive", "in", bolt="5/8 in", tight="0.0006 in") == pytest.approx(
        0, abs=1e-9
    )
    with pytest.raises(Refusal, match="interference left comes to"):
        results("bolt_light_drive", bolt="5/8 in", tight="0.0007 in")
    with pytest.raises(Refusal, match="none of its words"):
        results("bolt_light_drive", bolt="1/2 in", tight="0.0005 in")


def test_interference_where_clearance_is_wanted_is_refused() -> None:
    with pytest.raises(Refusal, match="hole over bolt comes to"):
        results("bolt_clearance", bolt="6.35 mm", hole="6.34 mm")


def test_smallest_structural_bolts() -> None:
    # AC 43.13-1B paragraph 7-41: steel from No. 10 (0.190 in), aluminium alloy from 1/4 in.
    for metal, least in (("steel", 0.19), ("aluminium alloy", 0.25)):
        assert answer(
            "structural_bolt", "in", metal=metal, diameter=f"{least} in"
        ) == pytest.approx(0, abs=1e-9)
        with pytest.raises(Refusal, match="diameter over the least comes to"):
            results("structural_bolt", metal=metal, diameter=f"{least - 0.001:.3f} in")


def test_fibre_nuts_up_to_250_fahrenheit() -> None:
    # AC 43.13-1B paragraph 7-64.
    assert answer(
        "fibre_nut_temperature", "K", temperature="100 °C", margin="0 K"
    ) == pytest.approx((250 - 212) / 1.8, abs=1e-5)
    with pytest.raises(Refusal, match="left below the hottest comes to"):
        results("fibre_nut_temperature", temperature="115 °C", margin="10 K")


def test_washers_to_bring_a_grip_right() -> None:
    # Light-sport aircraft maintenance manual: four in all, two at one end.
    assert results("washer_count", under_head="2 count", under_nut="2 count")[""].shown == "0"
    with pytest.raises(Refusal, match="out of range"):
        results("washer_count", under_head="3 count", under_nut="0 count")


def test_bolt_shear_and_bearing() -> None:
    # AC 43.13-1B table 4-10, note d: AN-3 bolt 2126 lb at 75 ksi; MIL-HDBK-5 table 8.1.5.1 as quoted:
    # 1/4 in, 0.10 in, 100 ksi: 2500 lb.
    assert answer(
        "fastener_shear", "lbf", stress="75000 psi", hole="0.19 in", planes="1 count"
    ) == pytest.approx(2126, abs=1)
    assert answer(
        "hole_bearing", "lbf", hole="0.25 in", sheet="0.1 in", bearing_stress="100000 psi"
    ) == pytest.approx(2500)


def test_preload_against_the_proof_load() -> None:
    # Shigley 9th ed., example 8-3: 3750 lbf·in on a 3/4-16 at K 0.2 is 25 kip; grade 5, 85 kpsi on
    # 0.373 in²: 78.9 % of the proof load, more than the 75 % of bolts that are taken out again.
    typed = {"torque": "3750 lbf·in", "diameter": "0.75 in", "k_low": "0.2", "proof": "31705 lbf"}
    assert results("preload_against_proof", share="90 %", **typed)["share"].shown == "79"
    with pytest.raises(Refusal, match="left below the share of the proof load comes to"):
        results("preload_against_proof", share="75 %", **typed)


def test_a_circle_of_bolts() -> None:
    # Geometry, checked with a table of sines: 640 mm and 24 bolts, 640 · sin 7.5° = 640 · 0.130526.
    assert answer("pitch_circle", "mm", "chord", circle="640 mm", fasteners="24") == pytest.approx(
        83.537, abs=0.001
    )
    assert answer("pitch_circle", "mm", "pitch", circle="640 mm", fasteners="24") == pytest.approx(
        83.776, abs=0.001
    )
    # A prime number and an odd one go as well: 25 bolts, 7.2° each side.
    assert answer("pitch_circle", "mm", "chord", circle="640 mm", fasteners="25") == pytest.approx(
        640 * 0.1253332, abs=0.001
    )


def test_25_bolts_have_an_order_and_a_count() -> None:
    came = results("tightening_order_circle", fasteners="25")[""]
    assert sorted(came.order) == list(range(1, 26))
    group = {"places": "25", "takes": "1", "counted": "25"}
    kit = {"issued": "27", "returned": "2", "scrapped": "0"}
    assert results("count_reconciliation", groups=[group], kits=[kit])["missing"].shown == "0"


def test_counts_that_do_not_agree_are_refused() -> None:
    sound = {"places": "24", "takes": "2", "counted": "48"}
    other = {"places": "6", "takes": "1", "counted": "5"}
    kit = {"issued": "58", "returned": "4", "scrapped": "0"}
    with pytest.raises(Refusal, match="sub-assembly 2: 5 counted, 6 belong there"):
        results("count_reconciliation", groups=[sound, other], kits=[kit])
    other["counted"] = "6"
    assert (
        results("count_reconciliation", groups=[sound, other], kits=[kit])["fitted"].shown == "54"
    )
    with pytest.raises(Refusal, match="issued and nowhere comes to 1"):
        results("count_reconciliation", groups=[sound, other], kits=[kit | {"returned": "3"}])
