"""Rivets against print; the source stands beside each check."""

from __future__ import annotations

import math

import pytest

from generator.findings import Refusal
from generator.tables import table
from tests.calculations.asking import answer, results

# --- length ---------------------------------------------------------------------------------------


def test_two_sources_round_a_length_differently() -> None:
    # Solid-rivet training document: two skins of .040, 1/8 rivet, 0.267 in rounds to 1/4 in (-4).
    # TM 10-5410-229-13&P paragraph 5-6 takes the next longer: 5/16 in (-5).
    typed = {"grip": "0.080 in", "diameter": "0.125 in"}
    assert answer("rivet_length", "in", "length", **typed) == pytest.approx(0.267, abs=0.001)
    near = results("rivet_code", rounding="nearest", **typed)
    longer = results("rivet_code", rounding="next longer", **typed)
    assert (near["code"].shown, longer["code"].shown) == ("4", "5")
    assert near["do"].shown == "stays as it is: shorter than wanted, with nothing to trim"
    assert longer["do"].shown == "trim it to the length wanted"


def test_a_code_that_leaves_too_little_for_a_head_is_refused() -> None:
    # 1.2 D at the least: common practice, no source. 0.1404 in and a 3/32 rivet: 1/4 in leaves 1.17 D.
    with pytest.raises(Refusal, match="diameters left for the head comes to"):
        results("rivet_code", grip="0.1404 in", diameter="0.09375 in", rounding="nearest")


@pytest.mark.parametrize(("grip", "wanted"), [("0.064 in", 4.024), ("0.128 in", 5.048)])
def test_lengths_in_sixteenths(grip: str, wanted: float) -> None:
    # Builders' worked figures: (1.5 D + G) · 16 for a 1/8 rivet.
    have = answer("rivet_length", "", "sixteenths", grip=grip, diameter="0.125 in")
    assert have == pytest.approx(wanted, abs=0.001)


# --- diameter and layout --------------------------------------------------------------------------


def test_diameter_from_one_to_three_sheets() -> None:
    # NAVEDTRA 14018 ch. 13, rules 5 to 7; the training document starts at three sheets: 0.120 in.
    sheets = ["0.040 in", "0.040 in"]
    assert answer(
        "rivet_diameter", "in", "other_guides", sheets=sheets, diameter="0.1 in"
    ) == pytest.approx(0.12)
    for size in ("0.121 in", "0.09 in"):
        with pytest.raises(Refusal, match="does not suit the thickest sheet"):
            results("rivet_diameter", sheets=sheets, diameter=size)


@pytest.mark.parametrize(
    ("sheets", "size", "mm"),
    [
        (["0.040 in", "0.040 in"], "3/32 in", "2.38125"),  # the least: a structural rivet
        (["0.040 in", "0.040 in"], "0.120 in", "3.04800"),  # the largest: three times 0.040 in
        (["5/32 in"], "5/32 in", "3.96875"),  # the least: the thickest sheet itself
        (["0.1285 in"], "0.1285 in", "3.26390"),
    ],
)
def test_no_size_that_goes_lies_outside_the_printed_window(sheets, size, mm) -> None:
    """By 25.4 mm an inch, by hand: 3/32 · 25.4 = 2.38125, 0.120 · 25.4 = 3.048,
    5/32 · 25.4 = 3.96875, 0.1285 · 25.4 = 3.2639."""
    came = results("rivet_diameter", sheets=sheets, diameter=size)
    ends = (came["goes.from"].shown, came["goes.to"].shown)
    assert mm in ends
    assert float(ends[0]) <= float(mm) <= float(ends[1])


# Pitch and edge by NAVEDTRA 14018, US Army AL0992, TM 10-5410 and AC 43.13-1B paragraph 4-57, worked
# out by hand for four rivets: edge 2 D, edge 2.5 D (flush, and a lecture's preference), edge 4 D,
# pitch 3 D, in.
LAYOUT = {
    "0.09375": (0.1875, 0.2344, 0.375, 0.2812),
    "0.125": (0.25, 0.3125, 0.5, 0.375),
    "0.15625": (0.3125, 0.3906, 0.625, 0.4688),
    "0.1875": (0.375, 0.4688, 0.75, 0.5625),
}


@pytest.mark.parametrize(("diameter", "printed"), LAYOUT.items())
def test_layout_of_rivets(diameter: str, printed: tuple[float, ...]) -> None:
    size = {"diameter": f"{diameter} in"}
    wide = {"edge": "0.75 in", **size}
    have = [answer("edge_distance", "in", "least", head=h, **wide) for h in ("protruding", "flush")]
    have.append(answer("edge_distance", "in", "beyond", head="protruding", **wide))
    pitch = f"{6 * float(diameter)} in"
    have.append(answer("rivet_pitch", "in", "least", pitch=pitch, guide="AL0992", **size))
    assert have == pytest.approx(printed, abs=0.0001)


def test_the_largest_pitch_is_that_of_the_guide() -> None:
    # NAVEDTRA 14018: usually up to 8 D; AL0992 and a trade article: up to 10 D.
    nine = {"pitch": "1.125 in", "diameter": "0.125 in"}
    assert results("rivet_pitch", guide="AL0992", **nine)["in_diameters"].shown == "9.00"
    with pytest.raises(Refusal, match="the pitch is 9 diameters: too close"):
        results("rivet_pitch", guide="NAVEDTRA 14018", **nine)
    with pytest.raises(Refusal, match=r"2\.88 diameters: too close"):
        results("rivet_pitch", guide="AL0992", pitch="0.36 in", diameter="0.125 in")


def test_rows_of_rivets() -> None:
    # TM 10-5410: rows 2.5 D apart at the least; trade article citing AC 43.13: 75 % of the pitch.
    typed = {"diameter": "0.125 in", "pitch": "0.4 in"}
    assert answer("rivet_rows", "in", "least", apart="0.4 in", **typed) == pytest.approx(0.3125)
    typed["pitch"] = "0.75 in"
    assert answer("rivet_rows", "in", "least", apart="0.6 in", **typed) == pytest.approx(0.5625)
    with pytest.raises(Refusal, match="rows above the least comes to"):
        results("rivet_rows", apart="0.55 in", **typed)


@pytest.mark.parametrize("head", ["protruding", "flush"])
def test_an_edge_below_the_least_is_refused(head: str) -> None:
    least = {"protruding": 0.25, "flush": 0.3125}[head]
    typed = {"diameter": "0.125 in", "head": head}
    assert results("edge_distance", edge=f"{least} in", **typed)["spare"].shown == "0.00"
    with pytest.raises(Refusal, match="edge distance above the least comes to"):
        results("edge_distance", edge=f"{least - 0.0001} in", **typed)


def test_a_remainder_is_spread_over_all_spaces() -> None:
    # Visible: 230 mm at 25 mm is nine spaces and 5 mm; ten spaces of 23 mm end at the edge.
    typed = {"length": "250 mm", "first": "10 mm", "last": "10 mm", "diameter": "3.2 mm"}
    came = results("rivet_row_spread", wanted="25 mm", **typed)
    assert came["places.1.at"].shown == "10.0" and came["places.11.at"].shown == "240.0"
    even = results("rivet_row_spread", wanted="23 mm", **typed)
    assert (even["remainder"].shown, even["each"].shown, even["rivets"].shown) == (
        "0.00",
        "0.00",
        "11",
    )


# --- heads ----------------------------------------------------------------------------------------

# Solid-rivet training document, driven heads: diameter and height, least and largest, in.
DRIVEN = {
    "1/16": (0.08, 0.11, 0.02, 0.04), "3/32": (0.12, 0.16, 0.03, 0.06), "1/8": (0.16, 0.21, 0.04, 0.08),
    "5/32": (0.2, 0.27, 0.05, 0.1), "3/16": (0.24, 0.32, 0.06, 0.12), "1/4": (0.33, 0.43, 0.08, 0.17),
    "5/16": (0.41, 0.53, 0.11, 0.21), "3/8": (0.49, 0.64, 0.12, 0.25),
}  # fmt: skip


@pytest.mark.parametrize(("rivet", "printed"), DRIVEN.items())
def test_driven_heads(rivet: str, printed: tuple[float, ...]) -> None:
    ends = ("widths.from", "widths.to", "heights.from", "heights.to")
    assert [answer("driven_head", "in", of, rivet=rivet) for of in ends] == pytest.approx(printed)
    # The shop's gauge (1.4 to 1.6 D) lies inside this table, to the hundredth that it is printed to.
    top, bottom = rivet.split("/")
    size = f"{int(top) / int(bottom)} in"
    own = [answer("formed_head", "in", of, diameter=size) for of in ends]
    assert own[0] >= printed[0] - 0.005 and own[1] <= printed[1] + 0.005


def test_formed_head_is_above_the_military_least() -> None:
    # MIL-R-47196 as builders quote it: 1.3 D at the least; 0.122 for 3/32 and 0.163 for 1/8.
    for size, least in (("0.09375 in", 0.122), ("0.125 in", 0.163)):
        have = answer("formed_head", "in", "widths.from", diameter=size)
        assert have > least == pytest.approx(1.3 * float(size.split()[0]), abs=0.001)


def test_formed_head_of_the_scenario_s_rivet() -> None:
    # Worked example, common practice: a 3.175 mm rivet, 4.44 to 5.08 and 1.27 to 2.06 mm.
    came = results("formed_head", diameter="3.175 mm")
    ends = ("widths.from", "widths.to", "heights.from", "heights.to")
    assert [came[of].shown for of in ends] == ["4.45", "5.08", "1.27", "2.06"]


# --- holes and countersinks -----------------------------------------------------------------------

# Repair manual of a 1940s fighter, paragraph 16; FAA-H-8083-31 vol. 1 ch. 4 (from memory), in.
DRILLS = {
    ("1940s fighter manual", "1/16", "No.52"): 0.0635, ("1940s fighter manual", "3/32", "No.41"): 0.096,
    ("1940s fighter manual", "1/8", "No.30"): 0.1285, ("1940s fighter manual", "5/32", "No.22"): 0.157,
    ("1940s fighter manual", "3/16", "No.12"): 0.189, ("1940s fighter manual", "1/4", "1/4"): 0.25,
    ("FAA handbook", "3/32", "No.40"): 0.098, ("FAA handbook", "1/8", "No.30"): 0.1285,
    ("FAA handbook", "5/32", "No.21"): 0.159, ("FAA handbook", "3/16", "No.11"): 0.191,
    ("FAA handbook", "1/4", "F"): 0.257,
}  # fmt: skip


@pytest.mark.parametrize(("keys", "hole"), DRILLS.items())
def test_rivet_drills(keys: tuple[str, str, str], hole: float) -> None:
    practice, rivet, drill = keys
    have = answer("rivet_drill", "in", "hole", practice=practice, rivet=rivet, drill=drill)
    assert have == pytest.approx(hole)


def test_the_handbook_s_small_drill_suits_the_military_hole() -> None:
    # MIL-R-47196A table I as quoted: a 3/32 rivet takes a hole of 0.093 to 0.103 in.
    typed = {"practice": "FAA handbook", "rivet": "3/32", "drill": "No.40"}
    assert 0.093 < answer("rivet_drill", "in", "hole", **typed) < 0.103


# MS20426 (from memory): diameter, head, height; TM 9-2320-363-34-2 table 3: countersink, in.
FLUSH = {
    "3/32": (0.179, 0.036, None), "1/8": (0.225, 0.042, (0.222, 0.228)),
    "5/32": (0.286, 0.055, (0.283, 0.289)), "3/16": (0.353, 0.07, (0.35, 0.356)), "1/4": (0.476, 0.095, None),
}  # fmt: skip


@pytest.mark.parametrize(("rivet", "printed"), FLUSH.items())
def test_flush_heads(rivet: str, printed: tuple) -> None:
    head, height, countersink = printed
    assert answer("flush_rivet", "in", "head", rivet=rivet) == pytest.approx(head)
    assert answer("flush_rivet", "in", "height", rivet=rivet) == pytest.approx(height, abs=0.001)
    if countersink:
        ends = [
            answer("flush_rivet", "in", f"countersink.{end}", rivet=rivet) for end in ("from", "to")
        ]
        assert ends == pytest.approx(countersink) and ends[0] < head < ends[1]


# TM 9-2320-363-34-2 table 4 and a light-jet repair manual 51-40-08 fig. 2: least sheet, in.
LEAST = {
    "TM 9-2320-363-34-2": {"3/32": 0.04, "1/8": 0.05, "5/32": 0.064, "3/16": 0.072, "1/4": 0.072},
    "light-jet manual": {"3/32": 0.032, "1/8": 0.04, "5/32": 0.05, "3/16": 0.063, "1/4": 0.071,
                         "6-32 screw": 0.05, "8-32 screw": 0.05, "10-32 screw": 0.063,
                         "1/4-28 screw": 0.071},
    "1940s fighter manual": {"1/8": 0.051},
}  # fmt: skip


@pytest.mark.parametrize(
    ("guide", "fastener", "least"),
    [(guide, *row) for guide, rows in LEAST.items() for row in rows.items()],
)
def test_least_sheet_for_a_countersink(guide: str, fastener: str, least: float) -> None:
    typed = {"guide": guide, "fastener": fastener}
    at = results("countersink_by_table", sheet=f"{least} in", **typed)
    assert at["verdict"].shown == f"countersink (by {guide})"
    below = results("countersink_by_table", sheet=f"{least - 0.0005:.4f} in", **typed)
    way = (
        "dimple"
        if least - 0.0005 <= 0.04
        else "neither: too thin to countersink, too thick to dimple"
    )
    assert below["verdict"].shown == f"{way} (by {guide})"


def test_rules_by_depth_differ_and_are_named() -> None:
    # Light-jet manual 51-40-08: depth at most 70 % of the sheet; two thirds is common practice, no
    # source. AC 65-15A ch. 5: dimpling up to 0.040 in. A 1/8 head is 1.066 mm deep.
    typed = {"head": "5.715 mm", "hole": "3.175 mm", "angle": "100°"}
    cases = {
        ("1.60 mm", "two thirds of the sheet"): "countersink (by two thirds of the sheet)",
        ("1.55 mm", "two thirds of the sheet"): "neither",
        ("1.55 mm", "70 % of the sheet"): "countersink (by 70 % of the sheet)",
        ("1.0 mm", "70 % of the sheet"): "dimple (by 70 % of the sheet)",
    }
    for (sheet, rule), told in cases.items():
        assert results("countersink_or_dimple", sheet=sheet, rule=rule, **typed)[
            "verdict"
        ].shown.startswith(told)
    least = answer(
        "countersink_or_dimple",
        "mm",
        "least_sheet",
        sheet="2 mm",
        rule="two thirds of the sheet",
        **typed,
    )
    assert least == pytest.approx(1.60, abs=0.005)


def test_dimpling_keeps_what_a_countersink_loses() -> None:
    # MIL-HDBK-5F as quoted in 1995: 3/32 MS20426AD in 2024-T3, ultimate and yield, lbf.
    printed = {
        "0.032 in": (217, 178, 209, 132),
        "0.040 in": (217, 193, 209, 153),
        "0.063 in": (217, 216, 209, 213),
    }
    losses = []
    for sheet, (dimpled, cut, dimpled_yield, cut_yield) in printed.items():
        have = [answer("flush_rivet_strength", "lbf", of, sheet=sheet, sunk=sunk, rivets="1 count")
                for of in ("ultimate", "at_yield") for sunk in ("dimpled", "countersunk")]  # fmt: skip
        assert have == pytest.approx([dimpled, cut, dimpled_yield, cut_yield])
        losses.append(100 * (1 - have[1] / have[0]))
    assert losses[:2] == pytest.approx([18, 11], abs=1)


# --- counts and strength --------------------------------------------------------------------------

HOLES = {"3/32": 0.096, "1/8": 0.1285, "5/32": 0.159, "3/16": 0.191, "1/4": 0.257}


@pytest.mark.parametrize("alloy", ["2024-T3 Alclad", "5052, all hardnesses"])
def test_rivets_for_each_inch(alloy: str) -> None:
    # AC 43.13-1B tables 4-10 and 4-11, all rows; the constants behind them (shear 0.5 and 0.7 of the
    # sheet, bearing 1.6 and 1.65) were fitted to the printed numbers, which guards the transcription.
    shear, bearing = (0.5, 1.6) if alloy.startswith("2024") else (0.7, 1.65)
    rows = [
        r
        for r in table("rivets_per_inch")["rows"]
        if r["alloy"] == alloy and r["fastener"] in HOLES
    ]
    assert len(rows) == (43 if alloy.startswith("2024") else 47)
    for row in rows:
        sheet, hole = float(row["thickness"].split()[0]), HOLES[row["fastener"]]
        wanted = max(sheet / (shear * math.pi / 4 * hole**2), 1 / (bearing * hole))
        keys = {k: row[k] for k in ("alloy", "sheet", "fastener")}
        have = answer(
            "rivets_for_sheet", "1/in", "each", width="10 in", place="all of the table", **keys
        )
        assert have == pytest.approx(wanted, abs=0.1 if alloy.startswith("2024") else 0.2), row


def test_the_share_of_a_place_is_taken_and_rounded_up() -> None:
    # AC 43.13-1B table 4-10, notes: 75 %, 80 % and 60 % of the number. 7.9 · 3 = 23.7 rivets.
    typed = {"alloy": "2024-T3 Alclad", "sheet": "0.051 in", "fastener": "1/8", "width": "3 in"}
    shown = {"all of the table": "24", "single-lap skin, 75 %": "18", "stringers and fuselage, 80 %": "19",
             "intermediate frames, 60 %": "15"}  # fmt: skip
    for place, whole in shown.items():
        assert results("rivets_for_sheet", place=place, **typed)["whole"].shown == whole


# MIL-HDBK-5 / MMPDS table 8.1.2 (from memory; 217 and 388 read in a public quotation): lbf.
SHEAR = {
    "2117-T3 (AD)": (30000, {"3/32": 217, "1/8": 388, "5/32": 596, "3/16": 862, "1/4": 1556}),
    "2024-T31 (DD)": (41000, {"3/32": 296, "1/8": 531, "5/32": 815, "3/16": 1180, "1/4": 2120}),
}


@pytest.mark.parametrize(
    ("alloy", "rivet", "load"),
    [(alloy, *row) for alloy, (_, rows) in SHEAR.items() for row in rows.items()],
)
def test_shear_of_driven_rivets(alloy: str, rivet: str, load: int) -> None:
    typed = {
        "rivets": "1 count",
        "sheet": "0.1 in",
        "bearing_stress": "100000 psi",
        "load": "100 lbf",
    }
    assert answer(
        "rivet_joint_estimate", "lbf", "shear", alloy=alloy, rivet=rivet, **typed
    ) == pytest.approx(load)
    stress = f"{SHEAR[alloy][0]} psi"
    have = answer(
        "fastener_shear", "lbf", stress=stress, hole=f"{HOLES[rivet]} in", planes="1 count"
    )
    assert have == pytest.approx(load, rel=0.005)


def test_a_joint_that_does_not_carry_its_load_is_refused() -> None:
    typed = {"alloy": "2117-T3 (AD)", "rivet": "1/8", "rivets": "10 count", "sheet": "0.040 in",
             "bearing_stress": "100000 psi"}  # fmt: skip
    with pytest.raises(Refusal, match="the lower of both over the load comes to"):
        results("rivet_joint_estimate", load="3900 lbf", **typed)


def test_substitutes() -> None:
    # AC 43.13-1B paragraph 4-57 b: 2117 for 2017 up to 3/16, for 2024 up to 5/32, 1/32 larger.
    for alloy, largest in (("2017", 0.1875), ("2024", 0.15625)):
        have = answer("rivet_substitute", "in", instead_of=alloy, diameter=f"{largest} in")
        assert have == pytest.approx(largest + 1 / 32)
        with pytest.raises(Refusal, match="too large for a 2117 rivet"):
            results("rivet_substitute", instead_of=alloy, diameter=f"{largest + 1 / 32} in")


def test_metric_countersunk_rivet() -> None:
    # BS 4620:1970, proportions as reproduced: 90° head 2 D wide and 0.5 D deep, 0.667 D for setting.
    came = {of: answer("rivet_90_degrees", "mm", of, diameter="3 mm", grip="4 mm")
            for of in ("head", "depth", "length")}  # fmt: skip
    assert came == pytest.approx({"head": 6.0, "depth": 1.5, "length": 6.0}, abs=0.01)
    depth = answer("countersink_depth", "mm", head="6 mm", hole="3 mm", angle="90°")
    assert depth == pytest.approx(1.5)
