"""Least radii against the tables they come from, and good tables against each other."""

from __future__ import annotations

from itertools import pairwise

import pytest

from generator.calculations import calculations
from generator.findings import Refusal
from generator.quantities.text import read_amount
from generator.quantities.units import unit
from generator.tables import row_source, table
from tests.calculations.asking import answer, half_a_digit

SHEETS = ("1/64", "1/32", "1/16", "1/8", "3/16", "1/4", "3/8", "1/2")
# Aluminum Association, Aluminum Design Manual, Part VII, Table 3-1 (Jan 2005), p. VII-78; the 6061
# rows from a design-handbook web page with an older issue. Multiples of the thickness.
MULTIPLES = {
    "2024-O": "0 0 0 0.5 1 1 2.5 4",
    "2024-T3": "2.5 3 4 5 5 6 7 7.5",
    "2024-T361": "3 4 5 6 6 8 8.5 9.5",
    "2024-T4": "2.5 3 4 5 5 6 7 7.5",
    "2024-T81": "4.5 5.5 6 7.5 8 9 10 10.5",
    "2014-O": "0 0 0 0.5 1 1 2.5 4",
    "2014-T3": "1.5 2.5 3 4 5 5 6 7",
    "2014-T4": "1.5 2.5 3 4 5 5 6 7",
    "2014-T6": "3 4 4 5 6 8 8.5 9.5",
    "5052-O": "0 0 0 0.5 1 1 1.5 1.5",
    "5052-H32": "0 0 1 1.5 1.5 1.5 1.5 2",
    "5052-H34": "0 1 1.5 2 2 2.5 2.5 3",
    "5052-H36": "1 1 1.5 2.5 3 3.5 4 4.5",
    "5052-H38": "1 1.5 2.5 3 4 5 5.5 6.5",
    "6061-O": "0 0 0 1 1 1 1.5 2",
    "6061-T4": "0 0 1 1.5 2.5 3 3.5 4",
    "6061-T6": "1 1 1.5 2.5 3 3.5 4.5 5",
}
# Aircraft extrusion supplier's table: least radii in inches for .016, .020, .025 and .032 sheet.
RADII = {
    "5052-O": "0.03 0.03 0.03 0.03",
    "6061-O": "0.03 0.03 0.03 0.03",
    "2024-O": "0.03 0.03 0.06 0.06",
    "6061-T4": "0.03 0.03 0.06 0.06",
    "2219-T42": "0.03 0.03 0.06 0.06",
    "2219-T31": "0.03 0.06 0.06 0.06",
    "7075-O": "0.03 0.03 0.06 0.06",
    "2024-T3": "0.06 0.06 0.09 0.12",
    "2024-T4": "0.06 0.06 0.09 0.12",
    "6061-T6": "0.06 0.06 0.09 0.12",
    "7075-T6": "0.09 0.09 0.12 0.16",
    "2024-T36": "0.09 0.09 0.12 0.16",
}
THIN = ("0.016", "0.020", "0.025", "0.032")


LARGE = "140 mm"


def inches(sheet: str) -> float:
    return unit("in").from_base(read_amount(f"{sheet} in").value)


def least(alloy: str, sheet: str, thickness: str = "", guide: str = "multiples") -> float:
    """The least radius in inches, asked for beside a radius that is large enough for any sheet."""
    asked = {"guide": guide, "alloy": alloy, "sheet": f"{sheet} in"}
    typed = thickness or f"{sheet} in"
    return answer("radius_allowed", "in", "least", thickness=typed, radius=LARGE, **asked)


@pytest.mark.parametrize("alloy", MULTIPLES)
def test_multiples_of_the_thickness(alloy: str) -> None:
    for sheet, printed in zip(SHEETS, MULTIPLES[alloy].split(), strict=True):
        have = least(alloy, sheet) / inches(sheet)
        assert have == pytest.approx(float(printed), rel=1e-9, abs=1e-9), sheet


@pytest.mark.parametrize("alloy", RADII)
def test_radii_in_inches(alloy: str) -> None:
    for sheet, printed in zip(THIN, RADII[alloy].split(), strict=True):
        assert least(alloy, sheet, guide="radii") == pytest.approx(float(printed), rel=1e-9), sheet


def test_the_rows_are_the_printed_ones_and_no_more() -> None:
    rows = table("bend_radius")["rows"]
    have = {(r["guide"], r["alloy"], r["sheet"]): (r["times"], r["least"]) for r in rows}
    wanted = {}
    for alloy, line in MULTIPLES.items():
        for sheet, printed in zip(SHEETS, line.split(), strict=True):
            wanted["multiples", alloy, f"{sheet} in"] = (f"{printed} ratio", "0 in")
    for alloy, line in RADII.items():
        for sheet, printed in zip(THIN, line.split(), strict=True):
            wanted["radii", alloy, f"{sheet} in"] = ("0 ratio", f"{printed} in")
    assert have == wanted
    assert len(rows) == len(have)


def test_thicker_sheet_never_asks_for_less_and_rows_leave_no_gap() -> None:
    # What lets a sheet between two columns belong to the thicker one.
    for name, sheets in (("multiples", SHEETS), ("radii", THIN)):
        for alloy in MULTIPLES if name == "multiples" else RADII:
            rows = [
                r for r in table("bend_radius")["rows"] if (r["guide"], r["alloy"]) == (name, alloy)
            ]
            assert [r["sheet"] for r in rows] == [f"{sheet} in" for sheet in sheets]
            assert [r["up_to"] for r in rows] == [r["sheet"] for r in rows]
            assert [r["over"] for r in rows] == ["0 in", *(r["up_to"] for r in rows[:-1])]
            for thin, thick in pairwise(rows):
                for cell in ("times", "least"):
                    assert read_amount(thin[cell]).value <= read_amount(thick[cell]).value


def test_040_of_2024_t3_takes_the_handbooks_radius() -> None:
    # FAA-H-8083-31 vol. 1 ch. 4, step 1 of the U-channel (chart fig. 4-125): 0.16 in, 5/32.
    have = least("2024-T3", "1/16", "0.040 in")
    assert have == pytest.approx(0.16, abs=half_a_digit("0.16"))


def test_064_of_2024_t3_lies_in_the_circulars_range() -> None:
    # AC 43.13-1B table 4-6 as an inspection-authorisation exam page uses it: 0.192 to 0.320 in.
    assert 0.192 <= least("2024-T3", "1/8", "0.064 in") <= 0.320 + 1e-9


def test_annealed_sheet_bends_to_about_its_thickness() -> None:
    # FAA-H-8083-31 vol. 1 ch. 4, making straight line bends: annealed sheet about 1 T.
    for alloy in (name for name in MULTIPLES if name.endswith("-O")):
        for sheet in SHEETS[:6]:
            assert least(alloy, sheet) <= inches(sheet) + 1e-9


# Engineering-forum quotation of the older government table: ranges of multiples, 0.016 to 0.183 in.
OLDER = {
    "5052-H32": "0-0 0-0 0-0 0-0 0-1",
    "5052-H34": "0-0 0-0 0-1 0.5-1.5 1.5-3",
    "5052-H36": "0-1 0.5-1.5 1-2 1.5-3 2-4",
    "6061-T6": "0-1 0.5-1.5 1-2 1.5-3 2-4",
}


@pytest.mark.parametrize("alloy", OLDER)
def test_the_table_taken_never_asks_for_less_than_the_older_one(alloy: str) -> None:
    # Two guides that do not agree on 5052: the younger asks for more, and that side is taken.
    for sheet, printed in zip(SHEETS, OLDER[alloy].split(), strict=False):
        low, _ = map(float, printed.split("-"))
        assert least(alloy, sheet) / inches(sheet) >= low - 1e-9, sheet


def test_6061_t6_lies_inside_every_range_of_the_older_table() -> None:
    for sheet, printed in zip(SHEETS, OLDER["6061-T6"].split(), strict=False):
        low, high = map(float, printed.split("-"))
        assert low - 1e-9 <= least("6061-T6", sheet) / inches(sheet) <= high + 1e-9, sheet


def test_guides_differ_and_the_sheet_says_so() -> None:
    # The radii against the multiples on the same sheet: more, but for the hard alloy at .032 in.
    less = set()
    for alloy in sorted(set(MULTIPLES) & set(RADII)):
        for sheet in THIN:
            column = next(s for s in SHEETS if inches(s) >= float(sheet))
            if least(alloy, sheet, guide="radii") < least(alloy, column, f"{sheet} in") - 1e-9:
                less.add((alloy, sheet))
    assert less == {("2024-T3", "0.032"), ("2024-T4", "0.032")}
    for name in ("least_radius", "radius_allowed"):
        said = calculations()[name].not_covered
        for words in ("guides differ", "FAA-H-8083-31 asks about 1 T", "cold one of 90°", "sharp"):
            assert words in said


def test_a_row_names_its_own_document_and_how_it_was_read() -> None:
    def row(alloy: str, guide: str = "multiples", sheet: str = "1/16 in") -> str:
        return row_source("bend_radius", {"guide": guide, "alloy": alloy, "sheet": sheet})

    inferred = "columns read from run-together text, their alignment inferred"
    for alloy in MULTIPLES:
        of_6061 = alloy.startswith("6061")
        assert ("p. VII-78" in row(alloy)) is not of_6061
        assert row(alloy).endswith(inferred) is not of_6061
        assert ("Aluminum Association T-multiple table, 6061 rows" in row(alloy)) is of_6061
    assert "extrusion supplier" in row("2024-T3", "radii", "0.032 in")
    assert inferred not in row("2024-T3", "radii", "0.032 in")


def test_textbook_soft_and_hard_aluminium() -> None:
    # Kalpakjian & Schmid, 6th ed., table 16.3, p. 418: aluminium alloys, soft 0, hard 6 T.
    assert least("2024-O", "1/16") == 0
    assert least("2024-T3", "1/4") / 0.25 == pytest.approx(6)


@pytest.mark.parametrize(
    ("sheet", "thickness"), [("1/32", "0.914 mm"), ("1/16", "0.79 mm"), ("1/8", "1/16 in")]
)
def test_a_sheet_outside_its_row_is_refused(sheet: str, thickness: str) -> None:
    with pytest.raises(Refusal, match="does not belong to the row of"):
        least("2024-T3", sheet, thickness)


def test_an_alloy_that_is_nearly_one_is_refused_with_its_neighbours() -> None:
    with pytest.raises(Refusal) as caught:
        least("2024T", "1/16")
    assert caught.value.code == "table"
    assert "2024-T3" in caught.value.right


def test_a_radius_below_the_least_is_refused_with_what_can_be_done() -> None:
    asked = {"guide": "multiples", "alloy": "2024-T3", "sheet": "1/16 in", "thickness": "0.914 mm"}
    with pytest.raises(Refusal) as caught:
        answer("radius_allowed", "mm", "spare", radius="1.6 mm", **asked)
    assert "R 1.6 mm is below the least radius of 2024-T3" in caught.value.wrong
    assert "nose bar" in caught.value.wrong and "softer temper" in caught.value.wrong
    assert "3.656 mm" in caught.value.right  # 4 times 0.914


def test_no_room_between_table_and_allowance_formula_names_both() -> None:
    # 2024-T81: 9 T at 1/4 in and 10.5 T at 1/2 in; the allowance formula ends at 10 T.
    asked = {"guide": "multiples", "alloy": "2024-T81"}
    thin = asked | {"sheet": "1/4 in", "thickness": "0.25 in"}
    assert answer("least_radius", "in", "window.from", **thin) == pytest.approx(2.25)
    assert answer("least_radius", "in", "window.to", **thin) == pytest.approx(2.5)
    with pytest.raises(Refusal, match=r"the table asks for .* the allowance formula allows"):
        answer(
            "least_radius",
            "in",
            "window.to",
            **(asked | {"sheet": "1/2 in", "thickness": "0.5 in"}),
        )


BARS = {"bars": ["6.4 mm", "1.6 mm", "3.2 mm", "4.8 mm"]}


@pytest.mark.parametrize(
    ("floor", "grain", "bar"),
    [
        ("3.0 mm", "across", 3.2),
        ("3.2 mm", "across", 3.2),
        ("3.3 mm", "across", 4.8),
        ("0 mm", "across", 1.6),
        ("3.0 mm", "along", 4.8),
        ("4.8 mm", "along", 6.4),
    ],
)
def test_nose_bar(floor: str, grain: str, bar: float) -> None:  # common practice, no source
    assert answer("nose_bar", "mm", "radius", least=floor, grain=grain, **BARS) == pytest.approx(
        bar
    )


@pytest.mark.parametrize(("floor", "grain"), [("6.5 mm", "across"), ("6 mm", "along")])
def test_no_bar_is_big_enough(floor: str, grain: str) -> None:
    with pytest.raises(Refusal, match="no nose bar is big enough"):
        answer("nose_bar", "mm", "radius", least=floor, grain=grain, **BARS)


@pytest.mark.parametrize(("reduction", "times"), [("20 %", 1.5), ("10 %", 4.0), ("50 %", 0.0)])
def test_radius_from_ductility(reduction: str, times: float) -> None:
    # Kalpakjian & Schmid, 6th ed., eq. 16.5, p. 418: R = T (50/r − 1); 50/20 − 1 = 1.5.
    have = answer("least_radius_by_ductility", "mm", thickness="2 mm", reduction=reduction)
    assert have == pytest.approx(2 * times, abs=1e-9)


@pytest.mark.parametrize("reduction", ["51 %", "70 %"])
def test_a_ductile_sheet_is_beyond_the_formula(reduction: str) -> None:
    with pytest.raises(Refusal, match="out of range"):
        answer("least_radius_by_ductility", "mm", thickness="2 mm", reduction=reduction)


@pytest.mark.parametrize(("radius", "share"), [("4 mm", 1 / 9), ("1 mm", 1 / 3)])
def test_outer_strain(radius: str, share: float) -> None:
    # Same page, eq. 16.4: e = 1/(2R/T + 1), in closed form 1/9 and 1/3.
    have = answer("outer_fibre_strain", "", thickness="1 mm", radius=radius)
    assert have == pytest.approx(share, rel=1e-12)
