"""Blanks and the lines on them against what is printed elsewhere; the source beside each check."""

from __future__ import annotations

import math

import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, half_a_digit

# FAA-H-8083-31 vol. 1 ch. 4, Layout and Forming: U-channel of .040 2024-T3, R .16, 1.00/2.00/1.00.
UP = {"radius": "0.16 in", "bend_angle": "90°", "turns": "up"}
CHANNEL = {
    "thickness": "0.040 in",
    "legs": ["1.00 in", "2.00 in", "1.00 in"],
    "bends": [UP, UP],
}


def of_channel(name: str, **more: object) -> float:
    return answer("developed_length", "in", name, **(CHANNEL | more))


@pytest.mark.parametrize("bend", [1, 2])
def test_sight_line_is_one_radius_from_the_line_under_the_nose(bend: int) -> None:
    # Same chapter, step 7 of the U-channel: one inside radius from the tangent line under the nose.
    offset = of_channel(f"sight_lines.{bend}") - of_channel(f"begins.{bend}")
    assert offset == pytest.approx(0.16, abs=half_a_digit("0.16"))


def test_sight_line_of_a_blank_turned_end_for_end() -> None:
    # The same rule with the leg after the bend under the nose: one radius back from its own line.
    after = [UP, UP | {"holds": "leg after"}]
    offset = of_channel("ends.2", bends=after) - of_channel("sight_lines.2", bends=after)
    assert offset == pytest.approx(0.16, abs=half_a_digit("0.16"))
    from_the_end = of_channel("length", bends=after) - of_channel("sight_lines.2", bends=after)
    assert from_the_end == pytest.approx(
        of_channel("sight_lines.1")
    )  # a part that is its own mirror


def test_tangent_lines_lie_where_the_flats_of_the_handbook_end() -> None:
    # Steps 3 and 5: flats of 0.8, 1.6 and 0.8 in, one allowance between each two.
    for number, wanted in enumerate(("0.8", "1.6"), start=1):
        start = of_channel(f"ends.{number - 1}") if number > 1 else 0.0
        flat = of_channel(f"begins.{number}") - start
        assert flat == pytest.approx(float(wanted), abs=half_a_digit("0.80"))
    last = of_channel("length") - of_channel("ends.2")
    assert last == pytest.approx(0.8, abs=half_a_digit("0.80"))


def test_flats_and_allowances_are_the_whole_blank() -> None:  # step 5 of the same page, the rule
    parts = [of_channel(f"flats.{n}") for n in (1, 2, 3)]
    parts += [of_channel(f"allowances.{n}") for n in (1, 2)]
    assert of_channel("length") == pytest.approx(sum(parts), rel=1e-12)
    for bend in (1, 2):
        taken = of_channel(f"ends.{bend}") - of_channel(f"begins.{bend}")
        assert taken == pytest.approx(of_channel(f"allowances.{bend}"), rel=1e-12)


def test_which_way_a_bend_turns_changes_no_length() -> None:
    # Geometry: mould lines are the same on either side of the sheet.
    z_section = [UP, UP | {"turns": "down"}]
    assert of_channel("length", bends=z_section) == of_channel("length")


@pytest.mark.parametrize("turns", ["", "Up", "left", "both"])
def test_a_bend_that_does_not_say_which_way_is_refused(turns: str) -> None:
    with pytest.raises(Refusal) as caught:
        of_channel("length", bends=[UP, UP | {"turns": turns}])
    assert caught.value.code == "choice"
    assert "up, down" in caught.value.right


def test_any_open_section_by_factor() -> None:
    # Groover, Fundamentals of Modern Manufacturing, Example 20.2 (from memory): 38 + 6.08 + 25.
    # Its flats of 38 and 25 mm are legs of 42.590 and 29.590 mm: 7.95 tan 30° = 4.590 mm more.
    stock = {
        "thickness": "3.2 mm",
        "legs": ["42.590 mm", "29.590 mm"],
        "bends": [{"radius": "4.75 mm", "bend_angle": "60°", "turns": "down"}],
        "factor": "0.33",
    }
    for result, printed in (("allowances.1", "6.08"), ("length", "69.08"), ("flats.1", "38.00")):
        have = answer("developed_length_by_factor", "mm", result, **stock)
        assert have == pytest.approx(float(printed), abs=half_a_digit(printed))


# DIN 6935 as a public CAD tutorial quotes it: R/T and the K-factor, from 0.65 to above 5.
DIN = [
    ("0.65", "0.2782"), ("1", "0.325"), ("1.5", "0.369"), ("2", "0.4003"), ("2.4", "0.4201"),
    ("3", "0.4443"), ("3.8", "0.4699"), ("4", "0.4755"), ("5", "0.4997"), ("6", "0.5"),
]  # fmt: skip


@pytest.mark.parametrize(("ratio", "printed"), DIN)
def test_din_factor(ratio: str, printed: str) -> None:
    # The table prints four places and leaves off a last 0: 0.325 stands for 0.3250.
    sheet = {"thickness": "1 mm", "radius": f"{ratio} mm", "bend_angle": "90°"}
    have = answer("bend_allowance_din", "", "factor", **sheet)
    assert have == pytest.approx(float(printed), abs=half_a_digit("0.0001"))


@pytest.mark.parametrize("ratio", ["0.64", "0.5"])
def test_din_starts_where_its_table_starts(ratio: str) -> None:
    with pytest.raises(Refusal, match=r"table starts at 0\.65"):
        answer("bend_allowance_din", "mm", "allowance", thickness="1 mm", radius=f"{ratio} mm",
               bend_angle="90°")  # fmt: skip


def test_din_above_five_is_the_mid_plane_of_the_navy_plate() -> None:
    # NAVEDTRA 14119 fig. 13-49 example 1, p. 13-43: T 1/2, R 3, 90 degrees, 5.1 in.
    plate = {"thickness": "0.5 in", "radius": "3.0 in", "bend_angle": "90°"}
    have = answer("bend_allowance_din", "in", "allowance", **plate)
    assert have == pytest.approx(5.1, abs=half_a_digit("5.1"))


def test_din_blank_is_the_sum_of_its_own_allowances() -> None:
    legs = {"thickness": "2 mm", "legs": ["50 mm", "50 mm"]}
    bend = {"radius": "4 mm", "bend_angle": "90°"}
    length = answer("developed_length_din", "mm", "length", bends=[bend | {"turns": "up"}], **legs)
    one = answer("bend_allowance_din", "mm", "allowance", thickness="2 mm", **bend)
    assert length == pytest.approx(2 * (50 - 6) + one, rel=1e-12)


@pytest.mark.parametrize(
    ("ratio", "printed", "angle", "leg"), [("4", 0.4755, 51.5, 2.45), ("6", 0.5, 52.9, 3.6)]
)
def test_sight_line_to_din_of_a_bend_whose_blank_is_turned(
    ratio: str, printed: float, angle: float, leg: float
) -> None:
    # The same table's factor, and step 7 of the handbook's U-channel: one radius back from the
    # second tangent line. Short legs, so that hardly more than the allowance is left to be wrong.
    bend = {"radius": f"{ratio} mm", "bend_angle": f"{angle}°", "turns": "up"}
    part = {
        "thickness": "1 mm",
        "legs": [f"{leg} mm"] * 2,
        "bends": [bend | {"holds": "leg after"}],
    }
    have = answer("developed_length_din", "mm", "sight_lines.1", **part)
    flat = leg - math.tan(math.radians(angle / 2)) * (float(ratio) + 1)
    allowance = math.radians(angle) * (float(ratio) + printed)
    assert have == pytest.approx(flat + allowance - float(ratio), abs=0.00005)


@pytest.mark.parametrize(
    "name", ["developed_length", "developed_length_by_factor", "developed_length_din"]
)
@pytest.mark.parametrize("legs", [1, 2, 4])
def test_a_part_has_one_leg_more_than_bends(name: str, legs: int) -> None:
    # Common sense: a leg at either end of every bend, and each between two bends but once.
    more = {"factor": "0.4"} if name.endswith("factor") else {}
    with pytest.raises(Refusal) as caught:
        answer(name, "in", "length", **(CHANNEL | {"legs": ["1 in"] * legs} | more))
    assert caught.value.code == "count"
    assert caught.value.wrong == f"{legs} legs and 2 bends do not make a part"
    assert caught.value.right == "3 legs: one more than bends"


def test_workbook_deduction() -> None:
    # Open web sheet-metal workbook, 6th ed. 2012, 90-degree bends: T .050, R .032: 0.079.
    sheet = {"thickness": "0.050 in", "radius": "0.032 in", "bend_angle": "90°"}
    assert answer("bend_deduction", "in", **sheet) == pytest.approx(0.079, abs=0.0005)


@pytest.mark.parametrize("angle", ["1", "30", "60", "89", "91", "120", "150", "179"])
def test_a_deduction_is_above_zero_at_every_angle(angle: str) -> None:
    # 2 tan(A/2) is more than A for every angle, and R + T more than R + 0.4475 T.
    sheet = {"thickness": "1 mm", "radius": "3 mm", "bend_angle": f"{angle}°"}
    assert answer("bend_deduction", "mm", **sheet) > 0


@pytest.mark.parametrize(
    "name", ["developed_length", "developed_length_by_factor", "developed_length_din"]
)
def test_a_hem_needs_its_own_rule(name: str) -> None:
    # AC 43.13-1B table 4-7: at 180° the setback is infinite.
    more = {"factor": "0.4"} if name.endswith("factor") else {}
    with pytest.raises(Refusal, match="out of range") as caught:
        answer(
            name, "mm", "length", **(CHANNEL | {"bends": [UP, UP | {"bend_angle": "180°"}]} | more)
        )
    assert "hem" in caught.value.right


@pytest.mark.parametrize(
    "name", ["developed_length", "developed_length_by_factor", "developed_length_din"]
)
def test_bends_that_overlap_are_refused(name: str) -> None:
    more = {"factor": "0.4"} if name.endswith("factor") else {}
    with pytest.raises(Refusal) as caught:
        answer(name, "in", "length", **(CHANNEL | {"legs": ["1 in", "0.3 in", "1 in"]} | more))
    assert "overlap" in caught.value.right
    assert "flat 2" in caught.value.wrong


# Machinery's Handbook, 26th ed., K-factor table as a public web page tabulates it (second hand):
# thickness in inches, then K for inside radii of .030, .060, .090, .120 and .188 in.
K_RADII = ("0.030", "0.060", "0.090", "0.120", "0.188")
K_TABLE = [
    ("aluminium", "0.032", "0.398 0.394 0.391 0.391 0.392"),
    ("aluminium", "0.063", "0.404 0.402 0.401 0.401 0.401"),
    ("aluminium", "0.100", "0.406 0.381 0.380 0.380 0.380"),
    ("aluminium", "0.125", "0.407 0.407 0.406 0.406 0.406"),
    ("cold-rolled steel", "0.048", "0.438 0.433 0.433 0.433 0.420"),
    ("cold-rolled steel", "0.060", "0.467 0.463 0.463 0.463 0.453"),
    ("cold-rolled steel", "0.093", "0.459 0.457 0.456 0.456 0.450"),
    ("stainless steel", "0.029", "0.483 0.479 0.475 0.475 0.454"),
    ("stainless steel", "0.078", "0.449 0.446 0.446 0.446 0.438"),
]


@pytest.mark.parametrize(("metal", "thickness", "line"), K_TABLE)
def test_handbook_formula_lies_near_the_tabulated_k(metal: str, thickness: str, line: str) -> None:
    # The formula knows no metal; against each tabulated K its allowance is never 7 % off.
    for radius, factor in zip(K_RADII, line.split(), strict=True):
        sheet = {"thickness": f"{thickness} in", "radius": f"{radius} in", "bend_angle": "90°"}
        by_table = answer("bend_allowance_by_factor", "in", factor=factor, **sheet)
        if float(radius) / float(thickness) < 0.5:  # where the formula is refused
            continue
        formula = answer("bend_allowance", "in", **sheet)
        assert formula == pytest.approx(by_table, rel=0.07), (metal, radius)


def test_a_radius_out_of_range_names_its_bend() -> None:
    small = UP | {"radius": "0.012 in"}
    with pytest.raises(Refusal, match=r"the radius of bend 2 is 0\.3 times"):
        of_channel("length", bends=[UP, small])
