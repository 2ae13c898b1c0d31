"""Bending against what is printed elsewhere; the source stands beside each check."""

from __future__ import annotations

from decimal import Decimal

import pytest

from generator.computing.arithmetic import worked
from generator.findings import Refusal
from generator.quantities.text import read_amount
from generator.quantities.units import unit
from tests.calculations.asking import answer, results

# FAA AC 43.13-1B (9/8/98) table 4-7, p. 4-15: K = tan(A/2) as printed, ten angles a line. The last
# printed place is 0.0001 up to 90°, 0.001 up to 168° and 0.01 up to 179°; whole places stand here.
FOUR_PLACES = """
    87 174 261 349 436 524 611 699 787 874
    963 1051 1139 1228 1316 1405 1494 1583 1673 1763
    1853 1943 2034 2125 2216 2308 2400 2493 2586 2679
    2773 2867 2962 3057 3153 3249 3346 3443 3541 3639
    3738 3838 3939 4040 4142 4244 4348 4452 4557 4663
    4769 4877 4985 5095 5205 5317 5429 5543 5657 5773
    5890 6008 6128 6248 6370 6494 6618 6745 6872 7002
    7132 7265 7399 7535 7673 7812 7954 8097 8243 8391
    8540 8692 8847 9004 9163 9324 9489 9656 9827 10000
"""
THREE_PLACES = """
    1017 1035 1053 1072 1091 1110 1130 1150 1170 1191
    1213 1234 1257 1279 1303 1327 1351 1376 1401 1428
    1455 1482 1510 1539 1569 1600 1631 1664 1697 1732
    1767 1804 1841 1880 1921 1962 2005 2050 2096 2144
    2194 2246 2299 2355 2414 2475 2538 2605 2674 2747
    2823 2904 2988 3077 3171 3270 3375 3487 3605 3732
    3866 4010 4165 4331 4510 4704 4915 5144 5399 5671
    5975 6313 6691 7115 7595 8144 8776 9514
"""
TWO_PLACES = """
    1038 1143
    1270 1430 1635 1908 2290 2663 3818 5729 11459
"""
LAST_PLACES = (("0.0001", FOUR_PLACES), ("0.001", THREE_PLACES), ("0.01", TWO_PLACES))
PRINTED = [
    (Decimal(whole) * Decimal(place), Decimal(place))
    for place, block in LAST_PLACES
    for whole in block.split()
]
K_CHART = [(angle, printed, place) for angle, (printed, place) in enumerate(PRINTED, start=1)]
# Printed wrong there: 159° should be 5.396 (a 9 for a 6), 176° should be 28.64 (a 6 for an 8).
MISPRINTS = {159: Decimal("5.399"), 176: Decimal("26.63")}


@pytest.mark.parametrize(("angle", "printed", "place"), K_CHART)
def test_setback_is_k_times_radius_and_thickness(
    angle: int, printed: Decimal, place: Decimal
) -> None:
    # R + T = 1 in, so that the setback in inches is K itself; one last place either way.
    have = answer("setback", "in", thickness="0.2 in", radius="0.8 in", bend_angle=f"{angle}°")
    near = abs(Decimal(have).quantize(place) - printed) <= place
    assert near != (angle in MISPRINTS), (have, printed)


def test_the_chart_is_whole_and_its_misprints_are_the_ones_named() -> None:
    assert len(K_CHART) == 179
    assert {a: p for a, p, _ in K_CHART if a in MISPRINTS} == MISPRINTS


def test_a_fold_flat_on_itself_is_refused() -> None:
    # The chart gives no number at 180°: the setback is infinite.
    with pytest.raises(Refusal, match="out of range") as caught:
        answer("setback", "in", thickness="0.2 in", radius="0.8 in", bend_angle="180°")
    assert "hem" in caught.value.right


# FAA-H-8083-31 vol. 1 ch. 4, Layout and Forming: U-channel of .040 2024-T3, R .16, 1.00/2.00/1.00.
CHANNEL = {
    "thickness": "0.040 in",
    "legs": ["1.00 in", "2.00 in", "1.00 in"],
    "bends": [{"radius": "0.16 in", "bend_angle": "90°", "turns": "up"}] * 2,
}


def test_channel_setback_is_020() -> None:  # step 2
    have = answer("setback", "in", thickness="0.040 in", radius="0.16 in", bend_angle="90°")
    assert have == pytest.approx(0.20, abs=0.0005)


@pytest.mark.parametrize(
    ("flat", "printed"), [("flats.1", 0.8), ("flats.2", 1.6), ("flats.3", 0.8)]
)
def test_channel_flats(flat: str, printed: float) -> None:  # step 3
    assert answer("developed_length", "in", flat, **CHANNEL) == pytest.approx(printed, abs=0.001)


def test_channel_total_is_the_sum_of_flats_and_allowances() -> None:
    # Step 5 adds up to 3.74 with its printed allowance of 0.27. That allowance is not what the
    # handbook's own formula gives (0.279), so only the addition is checked with it.
    names = {name: read_amount(f"{n} in") for name, n in {"f": 0.8, "g": 1.6, "ba": 0.27}.items()}
    assert unit("in").from_base(worked("2 * f + g + 2 * ba", names).value) == pytest.approx(3.74)


def test_developed_width_is_less_than_the_mould_lines() -> None:  # same page, the rule
    assert answer("developed_length", "in", "length", **CHANNEL) < 4.00


def test_chart_of_allowances_040_by_156() -> None:
    # Same chapter, bend allowance chart (fig. 4-128), .040 sheet, .156 radius: .003034 a degree.
    one = answer("bend_allowance", "in", thickness="0.040 in", radius="0.156 in", bend_angle="1°")
    all_of_it = answer(
        "bend_allowance", "in", thickness="0.040 in", radius="0.156 in", bend_angle="90°"
    )
    assert one == pytest.approx(0.003034, rel=0.002)
    assert all_of_it == pytest.approx(0.273, rel=0.002)


def test_workbook_allowance_and_deduction() -> None:
    # Open web sheet-metal workbook, 6th ed. 2012, 90-degree bends: T .050, R .032.
    sheet = {"thickness": "0.050 in", "radius": "0.032 in", "bend_angle": "90°"}
    allowance, back = answer("bend_allowance", "in", **sheet), answer("setback", "in", **sheet)
    assert allowance == pytest.approx(0.085, abs=0.0005)
    assert 2 * back == pytest.approx(0.164, abs=0.0005)
    assert 2 * back - allowance == pytest.approx(0.079, abs=0.0005)


def test_mid_plane_allowance_of_half_inch_plate() -> None:
    # NAVEDTRA 14119 fig. 13-49 example 1, p. 13-43: T 1/2, R 3, 90 degrees, 5.10 (with 1.57 rad).
    plate = {"thickness": "0.5 in", "radius": "3.0 in", "bend_angle": "90°", "factor": "0.5"}
    assert answer("bend_allowance_by_factor", "in", **plate) == pytest.approx(5.1, abs=0.01)


def test_textbook_allowance_and_blank() -> None:
    # Groover, Fundamentals of Modern Manufacturing, Example 20.2 (from memory): 6.08, 69.08 mm.
    stock = {"thickness": "3.2 mm", "radius": "4.75 mm", "bend_angle": "60°", "factor": "0.33"}
    allowance = answer("bend_allowance_by_factor", "mm", **stock)
    assert allowance == pytest.approx(6.08, abs=0.005)
    assert 38 + 25 + allowance == pytest.approx(69.08, abs=0.01)


# Lowest and highest K of each published set: a design-handbook web page by material, thickness and
# radius; the DIN 6935 factor for R/T of 0.65 and more; Groover ch. 20 for R below and above 2 T.
K_FACTORS = [
    ("aluminium", "0.38", "0.407"),
    ("cold-rolled steel", "0.42", "0.467"),
    ("stainless steel", "0.438", "0.483"),
    ("DIN 6935", "0.2782", "0.5"),
    ("Groover", "0.33", "0.50"),
]


@pytest.mark.parametrize(("source", "lowest", "highest"), K_FACTORS)
def test_published_k_factors_lie_inside_the_range(source: str, lowest: str, highest: str) -> None:
    plate = {"thickness": "2 mm", "radius": "4 mm", "bend_angle": "90°"}
    short, long = (
        answer("bend_allowance_by_factor", "mm", factor=k, **plate) for k in (lowest, highest)
    )
    assert 0 < short < long, source


def test_radius_of_the_handbooks_sheet_is_inside_the_range() -> None:
    # Step 1 of the U-channel takes R .16 for .040 2024-T3: four thicknesses.
    assert results("bend_allowance", thickness="0.040 in", radius="0.16 in", bend_angle="90°")


def test_a_single_bend_is_not_counted() -> None:
    """Of a part with one bend the refusal names no bend; of several, the one that is meant."""
    with pytest.raises(Refusal, match=r"the radius is 0\.3 times the thickness"):
        answer("bend_allowance", "in", thickness="0.040 in", radius="0.012 in", bend_angle="90°")
