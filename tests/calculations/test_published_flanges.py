"""Joggles, curved flanges and holes against what is printed elsewhere, or common practice."""

from __future__ import annotations

from typing import Any

import pytest

from generator.calculations import flanges
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import step
from generator.quantities.units import unit
from tests.calculations.asking import answer, half_a_digit

# Common practice, no source; widths 10 to 18 mm on a contour of 120 mm, to a tenth of a per cent.
CURVED = [
    ("10", "9.1", "7.7"),
    ("12", "11.1", "9.1"),
    ("15", "14.3", "11.1"),
    ("18", "17.6", "13.0"),
]


@pytest.mark.parametrize(("width", "stretch", "shrink"), CURVED)
def test_curved_flange(width: str, stretch: str, shrink: str) -> None:
    flange = {"contour": "120 mm", "width": f"{width} mm", "limit": "20 %"}
    for name, printed in (("flange_stretch", stretch), ("flange_shrink", shrink)):
        have = answer(name, "%", "strain", **flange)
        assert have == pytest.approx(float(printed), abs=half_a_digit(printed))


@pytest.mark.parametrize(
    ("name", "word"), [("flange_stretch", "stretch"), ("flange_shrink", "shrink")]
)
def test_a_flange_over_its_limit_is_refused_and_the_widest_one_is_not(name: str, word: str) -> None:
    flange = {"contour": "120 mm", "limit": "7 %"}
    widest = answer(name, "mm", "widest", width="5 mm", **flange)
    assert answer(name, "%", "strain", width=f"{widest - 1e-8:.9f} mm", **flange) == pytest.approx(
        7
    )
    with pytest.raises(Refusal, match=f"the edge must {word}"):
        answer(name, "%", "strain", width=f"{widest + 0.001:.9f} mm", **flange)


def test_a_flange_as_wide_as_its_contour_is_refused() -> None:
    with pytest.raises(Refusal, match="nothing is left"):
        answer("flange_stretch", "%", "strain", contour="20 mm", width="20 mm", limit="40 %")


@pytest.mark.parametrize(("depth", "length", "extra"), [("4.1", "84", 0.1), ("2", "19.8", 0.1008)])
def test_joggle_in_right_triangles(depth: str, length: str, extra: float) -> None:
    # The right triangles of 41, 840 and 841, and of 20, 198 and 199.0075.
    have = answer("joggle", "mm", "extra", depth=f"{depth} mm", length=f"{length} mm", times="6")
    assert have == pytest.approx(extra, abs=0.00005)


def test_joggle_of_the_demo_sheet_is_pythagoras_and_not_its_short_form() -> None:
    # A hand value of 0.076 mm for 0.914 by 5.5 is the short form d²/(2 l) = 0.0759; the formula
    # printed beside it, √(d² + l²) − l, gives 0.0754 and is the one taken.
    have = answer("joggle", "mm", "extra", depth="0.914 mm", length="5.5 mm", times="6")
    assert have == pytest.approx((0.914**2 + 5.5**2) ** 0.5 - 5.5, rel=1e-9)
    assert have == pytest.approx(0.076, abs=0.001)
    assert have < 0.914**2 / (2 * 5.5)


@pytest.mark.parametrize(("times", "length"), [("6", "5.48 mm"), ("8", "7.3 mm")])
def test_a_short_joggle_is_refused(times: str, length: str) -> None:
    # 6 and 8 times 0.914 are 5.484 and 7.312 mm.
    with pytest.raises(Refusal, match="too short for its depth"):
        answer("joggle", "mm", "extra", depth="0.914 mm", length=length, times=times)


HOLE = {"cut": "50 mm", "lip": "55 mm", "limit": "12 %", "flange_radius": "5 mm", "clear": "8 mm"}


def test_lip_of_a_lightening_hole() -> None:
    # Common practice, no source: (55 − 50)/50; cut no smaller than 55/1.12 = 49.107 mm.
    assert answer("lightening_hole", "%", "strain", **HOLE) == pytest.approx(10.0)
    assert answer("lightening_hole", "mm", "least_cut", **HOLE) == pytest.approx(55 / 1.12)


@pytest.mark.parametrize(
    ("other", "told"),
    [
        ({"cut": "49 mm"}, "must stretch by"),
        ({"clear": "4.9 mm"}, "less than one flange radius"),
        ({"lip": "50 mm"}, "the lip grows by"),
    ],
)
def test_a_hole_that_does_not_go(other: dict[str, str], told: str) -> None:
    with pytest.raises(Refusal, match=told):
        answer("lightening_hole", "%", "strain", **(HOLE | other))


# FAA-H-8083-31 vol. 1 ch. 4, folding a box: no less than 1/8 in up to .064 in sheet, 3/16 in from
# .072 to .128 in; 1/32 to 1/16 in behind the inside tangent lines.
@pytest.mark.parametrize(
    ("thickness", "least"),
    [("0.016", 0.125), ("0.064", 0.125), ("0.072", 0.1875), ("0.128", 0.1875)],
)
def test_least_relief_hole_by_thickness(thickness: str, least: float) -> None:
    corner = {"thickness": f"{thickness} in", "radius": "0.05 in", "drill": "0.25 in"}
    assert answer("relief_hole", "in", "least", **corner) == pytest.approx(least, rel=1e-12)


@pytest.mark.parametrize(
    ("sheet", "begins"), [(0.040, 0.2 / 25.4), (0.064, 0.2 / 25.4), (0.1, 0.072)]
)
def test_what_is_called_the_sheet_is_the_sheet(
    sheet: float, begins: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    named: dict[str, float] = {}

    def recorded(amount: Any, symbol: str, shown: str, meaning: str, **more: Any) -> Any:
        if isinstance(amount, Amount):
            named[meaning] = unit("in").from_base(amount.value)
        return step(amount, symbol, shown, meaning, **more)

    monkeypatch.setattr(flanges, "step", recorded)
    answer("relief_hole", "in", "least", thickness=f"{sheet} in", radius="0.05 in", drill="0.25 in")
    assert named["sheet thickness"] == pytest.approx(sheet, rel=1e-12)
    assert named["thinnest sheet of the row"] == pytest.approx(begins, rel=1e-12)


@pytest.mark.parametrize("thickness", ["0.0641", "0.068", "0.0719"])
def test_between_the_two_printed_ranges_there_is_no_hole(thickness: str) -> None:
    corner = {"thickness": f"{thickness} in", "radius": "0.05 in", "drill": "0.25 in"}
    with pytest.raises(Refusal, match="no least diameter is printed") as refused:
        answer("relief_hole", "in", "least", **corner)
    assert f"sheet of {thickness} in" in refused.value.wrong
    assert "0.072 in" in refused.value.right


def test_no_relief_hole_above_the_printed_sheet() -> None:
    with pytest.raises(Refusal, match="out of range"):
        answer(
            "relief_hole", "in", "least", thickness="0.1281 in", radius="0.1 in", drill="0.25 in"
        )


def test_the_larger_of_two_rules_of_one_page_is_taken() -> None:
    # One passage says about twice the bend radius, another the bend radius: R 0.16 gives 0.32.
    corner = {"thickness": "0.040 in", "radius": "0.16 in"}
    assert answer("relief_hole", "in", "least", drill="0.32 in", **corner) == pytest.approx(0.32)
    with pytest.raises(Refusal, match="too small for this corner"):
        answer("relief_hole", "in", "least", drill="0.31 in", **corner)


@pytest.mark.parametrize("drill", [0.125, 0.25, 0.375])
def test_the_hole_reaches_behind_the_tangent_lines_as_printed(drill: float) -> None:
    corner = {"thickness": "0.040 in", "radius": "0.05 in", "drill": f"{drill} in"}
    for centre, behind in (("nearest", 1 / 16), ("farthest", 1 / 32)):
        out = answer("relief_hole", "in", centre, **corner)
        assert drill / 2 - out == pytest.approx(behind, rel=1e-9)
