"""Cutting speeds, drills, taps and reamers against what is printed elsewhere; the source beside each
check."""

from __future__ import annotations

from typing import Any

import pytest

from generator.findings import Refusal
from generator.tables import find_row, table
from tests.calculations.asking import answer, half_a_digit, results


def test_half_inch_drill_in_mild_steel() -> None:
    # A public shop reference page, drilling formulae: 100 ft/min, 1/2 in: 764 rpm, by 12/3.14.
    have = answer("spindle_speed", "rpm", cutting_speed="100 ft/min", diameter="0.5 in")
    assert have == pytest.approx(764, abs=1)


def test_the_shops_four_is_not_taken() -> None:
    # A lathe maker's manual, spindle speed example 1: 300 ft/min on 1/2 in by n = 4 V / D: 2400.
    # 4 stands for 12/π = 3.8197 and gives 4.7 % more; the tool takes π.
    have = answer("spindle_speed", "rpm", cutting_speed="300 ft/min", diameter="0.5 in")
    assert 2400 / have == pytest.approx(1.047, abs=0.0005)


@pytest.mark.parametrize(
    ("speed", "diameter", "turns"),
    # The definition, worked apart from the code: no published answer.
    [(30, 10, 954.9), (25, 6.8, 1170.3), (90, 16, 1790.5), (18, 8.5, 674.1),
     (60, 7.8, 2448.5), (120, 40, 954.9), (25, 8, 994.7)],
)  # fmt: skip
def test_metric_speeds(speed: float, diameter: float, turns: float) -> None:
    typed = {"cutting_speed": f"{speed} m/min", "diameter": f"{diameter} mm"}
    assert answer("spindle_speed", "rpm", **typed) == pytest.approx(turns, abs=0.05)


HSS, CARBIDE = "high-speed steel", "carbide"
# Two lathe and mill makers' manuals, table of speeds for high-speed steel (figs. 20 and 28), ft/min;
# both say to double them for carbide.
TURNED = {
    "aluminium alloys": 300, "brass and bronze": 150, "copper": 100, "cast iron, soft": 80,
    "cast iron, hard": 50, "mild steel": 90, "cast steel": 80, "alloy steel, hard": 40,
    "tool steel": 50, "stainless": 60, "titanium": 50,
}  # fmt: skip
# A drill supplier's reference card and a public shop page, identical numbers, ft/min, upper ends.
DRILLED = {
    "aluminium alloys": 300, "brass and bronze": 300, "bronze, high tensile": 150,
    "cast iron, soft": 150, "cast iron, medium": 100, "magnesium": 400,
    "mild steel, 0.2 to 0.3 % C": 110, "steel, 0.4 to 0.5 % C": 80, "tool steel": 60,
    "forgings": 50, "alloy steel, 300 to 400 BHN": 30, "stainless, free machining": 80,
    "stainless, work hardening": 50, "monel": 50,
}  # fmt: skip
# T.O. 1-1A-9 (TM 43-0106) table 2-8, p. 2-72, ft/min, upper ends: rough and finish of each tool.
STAINLESS = {
    ("stainless 302 304 309 310 314 316", HSS): (40, 80),
    ("stainless 302 304 309 310 314 316", CARBIDE): (200, 300),
    ("stainless 321 347 420 431 440", HSS): (40, 90),
    ("stainless 321 347 420 431 440", CARBIDE): (220, 330),
    ("stainless 416 430F", HSS): (60, 120),
    ("stainless 303 420F", HSS): (55, 105),
}
# A teaching handbook's extract, recommended speeds for turning by hardness, m/min.
BY_HARDNESS = {
    "plain carbon 1015 to 1025, 100 to 125 BHN": (43, 152),
    "plain carbon 1015 to 1025, 125 to 175 BHN": (37, 122),
    "plain carbon 1015 to 1025, 175 to 225 BHN": (30, 107),
    "1045 class, 175 to 225 BHN": (30, 107),
    "free machining 1212, 100 to 150 BHN": (49, 152),
    "free machining 4140 to 8640 class, 200 to 250 BHN": (30, 122),
    "alloy steels 4023 4320 8620, 175 to 220 BHN": (24, 107),
    "alloy steels, 275 to 325 BHN": (18, 76),
}
# A vocational school's student sheet on machine tools, cutting speeds, ft/min, upper ends.
SCHOOL = {
    "mild steel": (100, 500), "medium carbon steel": (90, 400), "alloy steel 4140": (80, 350),
    "stainless 304 and 316": (60, 250), "aluminium 6061 and 7075": (300, 1500),
    "brass": (250, 800), "bronze": (150, 600), "cast iron": (80, 400),
}  # fmt: skip


def fastest(material: str, tool: str, work: str) -> str:
    row = find_row("cutting_speed", {"material": material, "tool": tool, "work": work})
    return str(row["fastest"])


def test_every_row_of_the_table_is_printed_elsewhere() -> None:
    told = {
        **{(m, HSS, "turning or milling"): f"{v} ft/min" for m, v in TURNED.items()},
        **{(m, CARBIDE, "turning or milling"): f"{2 * v} ft/min" for m, v in TURNED.items()},
        **{(m, HSS, "drilling"): f"{v} ft/min" for m, v in DRILLED.items()},
        **{(m, t, f"turning, {w}"): f"{v} ft/min" for (m, t), both in STAINLESS.items()
           for w, v in zip(("rough", "finish"), both, strict=True)},
        **{(m, t, "turning"): f"{v} m/min" for m, both in BY_HARDNESS.items()
           for t, v in zip((HSS, CARBIDE), both, strict=True)},
        **{(m, t, "first trial"): f"{v} ft/min" for m, both in SCHOOL.items()
           for t, v in zip((HSS, CARBIDE), both, strict=True)},
    }  # fmt: skip
    for keys, wanted in told.items():
        assert fastest(*keys) == wanted, keys
    assert len(table("cutting_speed")["rows"]) == len(told)


def by_table(**more: str) -> dict[str, Any]:
    return {
        "material": "aluminium alloys", "tool": HSS, "work": "drilling",
        "cutting_speed": "60 m/min", "diameter": "7.8 mm", **more,
    }  # fmt: skip


def test_faster_than_the_table_is_refused() -> None:
    # 300 ft/min are 91.44 m/min.
    assert results("spindle_speed_by_table", **by_table(cutting_speed="91.4 m/min"))
    with pytest.raises(Refusal) as caught:
        results("spindle_speed_by_table", **by_table(cutting_speed="91.5 m/min"))
    assert "faster than the table allows" in caught.value.wrong


def test_no_row_is_taken_for_another() -> None:
    with pytest.raises(Refusal) as caught:
        results("spindle_speed_by_table", **by_table(tool=CARBIDE))
    assert "the nearest is never taken" in caught.value.wrong


@pytest.mark.parametrize(
    ("wanted", "set_to"),
    # Series R20/3 of ISO 229 (from memory): 31.5, 45, 63 ... 1000, 1400, 2000, 2800.
    [("2448 rpm", 2000), ("2000 rpm", 2000), ("1999.9 rpm", 1400), ("31.5 rpm", 31.5)],
)
def test_the_machines_nearest_lower_speed(wanted: str, set_to: float) -> None:
    have = answer("machine_speed", "rpm", "speed", wanted=wanted, machine="series R20/3")
    assert have == pytest.approx(set_to)


def test_slower_than_the_machine_can_turn_is_refused() -> None:
    with pytest.raises(Refusal) as caught:
        results("machine_speed", wanted="31 rpm", machine="series R20/3")
    assert (
        caught.value.wrong
        == "the slowest speed of the machine, 31.5 rpm, is above the wanted 31 rpm"
    )


@pytest.mark.parametrize(
    ("drill", "angle", "length", "share"),
    # Geometry of a cone, worked apart from the code; the rule 0.3 d for 118° is Machinery's
    # Handbook's (from memory).
    [("0.5", 118, 0.1502, 0.3004), ("10.0", 118, 3.0043, 0.3004), ("6.8", 118, 2.0429, 0.3004),
     ("0.25", 118, 0.0751, 0.3004), ("10.0", 135, 2.0711, 0.2071), ("0.5", 90, 0.2500, 0.5)],
)  # fmt: skip
def test_point_of_a_drill(drill: str, angle: int, length: float, share: float) -> None:
    unit = "in" if float(drill) < 1 else "mm"
    have = answer("drill_point", unit, drill=f"{drill} {unit}", angle=f"{angle}°")
    assert have == pytest.approx(length, abs=0.0005 * float(drill))
    assert have / float(drill) == pytest.approx(share, abs=0.00005)


METRIC, WHITWORTH, BA = "60° metric or unified", "55° Whitworth", "47.5° BA"
# Public tap drill references (an open encyclopedia's chart, suppliers' charts): major less pitch.
CHART = [
    ("5", "0.8", 4.2),
    ("6", "1", 5.0),
    ("8", "1.25", 6.75),
    ("10", "1.5", 8.5),
    ("7", "0.5", 6.5),
]


@pytest.mark.parametrize(("major", "pitch", "drill"), CHART)
def test_metric_tapping_drills(major: str, pitch: str, drill: float) -> None:
    # Machinery's Handbook (from memory): major less pitch always gives 76.98 %.
    typed = {"form": METRIC, "major": f"{major} mm", "pitch": f"{pitch} mm"}
    have = answer("tapping_drill", "mm", share="76.98 %", **typed)
    assert have == pytest.approx(drill, abs=0.0005)
    back = answer("thread_share", "%", "share", drill=f"{drill} mm", **typed)
    assert back == pytest.approx(76.98, abs=0.005)


def test_the_rule_of_76_98() -> None:
    # Machinery's Handbook (from memory): share = (D − drill) n · 76.98 with n threads an inch.
    typed = {"form": METRIC, "major": "0.25 in", "pitch": "0.05 in", "drill": "0.201 in"}
    have = answer("thread_share", "%", "share", **typed)
    assert have == pytest.approx((0.25 - 0.201) * 20 * 76.98, abs=0.02)


# A motorcycle parts supplier's thread list, BSF tapping drills (in): they are minor diameters.
BSF = [
    ("0.1875", 32, "0.148"), ("0.21875", 28, "0.173"), ("0.25", 26, "0.201"), ("0.3125", 22, "0.254"),
    ("0.375", 20, "0.311"), ("0.4375", 18, "0.366"), ("0.5", 16, "0.420"), ("0.5625", 16, "0.483"),
    ("0.625", 14, "0.534"), ("0.75", 12, "0.643"), ("0.875", 11, "0.759"),
]  # fmt: skip


@pytest.mark.parametrize(("major", "threads", "drill"), BSF)
def test_full_whitworth_threads(major: str, threads: int, drill: str) -> None:
    typed = {"form": WHITWORTH, "major": f"{major} in", "pitch": f"{1 / threads:.9f} in"}
    have = answer("tapping_drill", "in", share="100 %", **typed)
    assert have == pytest.approx(float(drill), abs=2 * half_a_digit(drill))


# BS 1157 style tapping drills for Whitworth, a public sheet of threading tables, mm.
BSW = [
    ("0.125", 40, 2.55), ("0.1875", 24, 3.7), ("0.25", 20, 5.1), ("0.3125", 18, 6.5),
    ("0.4375", 14, 9.25), ("0.5", 12, 10.5), ("0.5625", 12, 12.1), ("0.625", 11, 13.5),
    ("0.875", 9, 19.25), ("1", 8, 22.0),
]  # fmt: skip


@pytest.mark.parametrize(("major", "threads", "drill"), BSW)
def test_usual_whitworth_drills_leave_a_usual_share(major: str, threads: int, drill: float) -> None:
    # The charts choose drills, not a share: all of them leave 74 to 93 % of the form's own depth.
    typed = {"form": WHITWORTH, "major": f"{major} in", "pitch": f"{1 / threads:.9f} in"}
    have = answer("thread_share", "%", "share", drill=f"{drill} mm", **typed)
    assert 74 <= have <= 93, have


def test_each_form_has_its_own_constant() -> None:
    # BS 84: minor = D − 1.280654 P. BS 93: depth 0.6 P, so 2 BA (4.7 mm, 0.81 mm) has a minor
    # diameter of 3.728 mm. ISO 68-1: 1.299 P is called full (twice 0.6495).
    typed = {"major": "4.7 mm", "pitch": "0.81 mm", "share": "100 %"}
    for form, drill in (
        (BA, 3.728),
        (WHITWORTH, 4.7 - 1.280654 * 0.81),
        (METRIC, 4.7 - 1.299 * 0.81),
    ):
        assert answer("tapping_drill", "mm", form=form, **typed) == pytest.approx(drill, abs=0.0005)
    with pytest.raises(Refusal) as caught:
        results("tapping_drill", form="60°", **typed)
    assert "the nearest is never taken" in caught.value.wrong


def test_the_demo_tapping_drill() -> None:
    # The demo scenario: 10-32 at 75 % comes to 4.05 mm (major 0.190 in, 32 threads an inch).
    have = answer(
        "tapping_drill", "mm", form=METRIC, major="0.190 in", pitch="0.03125 in", share="75 %"
    )
    assert have == pytest.approx(4.05, abs=0.005)


def test_a_drill_that_leaves_too_little_thread_is_refused() -> None:
    typed = {"form": METRIC, "major": "10 mm", "pitch": "1.5 mm"}
    assert results("thread_share", drill="9.0 mm", **typed)
    with pytest.raises(Refusal, match="share of the full thread comes to 49"):
        results("thread_share", drill="9.04 mm", **typed)


@pytest.mark.parametrize(
    ("drill", "sound"), [("7.9", True), ("7.7", True), ("7.91", False), ("7.69", False)]
)
def test_the_stock_for_the_reamer(drill: str, sound: bool) -> None:
    # Textbooks on machining and cutter makers' tables: 0.1 to 0.3 mm up to 20 mm (secondary).
    typed = {"bore": "8 mm", "drill": f"{drill} mm", "drilling": "60 m/min", "share": "40 %"}
    if sound:
        assert results("reaming", **typed)
    else:
        with pytest.raises(Refusal, match="left to ream, on the diameter comes to"):
            results("reaming", **typed)


def test_the_demo_countersink() -> None:
    # The demo scenario: a head of 5.715 mm over 3.175 mm at 100° comes to 1.07 mm.
    have = answer("countersink_depth", "mm", head="5.715 mm", hole="3.175 mm", angle="100°")
    assert have == pytest.approx(1.07, abs=0.005)
    with pytest.raises(Refusal, match="depth of the countersink comes to 0"):
        results("countersink_depth", head="3 mm", hole="3 mm", angle="100°")


def test_the_demo_feeds() -> None:
    # The demo scenario: 2400 rpm at 0.15 mm a turn are 360 mm/min.
    typed = {"length": "18 mm", "approach": "0 mm", "cuts": "1"}
    have = answer("cut_time", "mm/min", "feed", speed="2400 rpm", advance="0.15 mm/rev", **typed)
    assert have == pytest.approx(360)
    have = answer("cut_time", "s", "time", speed="2400 rpm", advance="0.15 mm/rev", **typed)
    assert have == pytest.approx(3.0)
