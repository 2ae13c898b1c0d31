"""Bending against what is printed elsewhere; the source stands beside each check."""

from __future__ import annotations

import pytest

from generator.arithmetic import worked
from generator.quantities.text import read_amount
from generator.quantities.units import unit
from tests.calculations.asking import answer, results

# FAA AC 43.13-1B (9/8/98) table 4-7, p. 4-15: K = tan(A/2) for 1 to 179 degrees, as printed.
K_CHART = [
    "0.0087",
    "0.0174",
    "0.0261",
    "0.0349",
    "0.0436",
    "0.0524",
    "0.0611",
    "0.0699",
    "0.0787",
    "0.0874",
    "0.0963",
    "0.1051",
    "0.1139",
    "0.1228",
    "0.1316",
    "0.1405",
    "0.1494",
    "0.1583",
    "0.1673",
    "0.1763",
    "0.1853",
    "0.1943",
    "0.2034",
    "0.2125",
    "0.2216",
    "0.2308",
    "0.24",
    "0.2493",
    "0.2586",
    "0.2679",
    "0.2773",
    "0.2867",
    "0.2962",
    "0.3057",
    "0.3153",
    "0.3249",
    "0.3346",
    "0.3443",
    "0.3541",
    "0.3639",
    "0.3738",
    "0.3838",
    "0.3939",
    "0.404",
    "0.4142",
    "0.4244",
    "0.4348",
    "0.4452",
    "0.4557",
    "0.4663",
    "0.4769",
    "0.4877",
    "0.4985",
    "0.5095",
    "0.5205",
    "0.5317",
    "0.5429",
    "0.5543",
    "0.5657",
    "0.5773",
    "0.589",
    "0.6008",
    "0.6128",
    "0.6248",
    "0.637",
    "0.6494",
    "0.6618",
    "0.6745",
    "0.6872",
    "0.7002",
    "0.7132",
    "0.7265",
    "0.7399",
    "0.7535",
    "0.7673",
    "0.7812",
    "0.7954",
    "0.8097",
    "0.8243",
    "0.8391",
    "0.854",
    "0.8692",
    "0.8847",
    "0.9004",
    "0.9163",
    "0.9324",
    "0.9489",
    "0.9656",
    "0.9827",
    "1.0",
    "1.017",
    "1.035",
    "1.053",
    "1.072",
    "1.091",
    "1.11",
    "1.13",
    "1.15",
    "1.17",
    "1.191",
    "1.213",
    "1.234",
    "1.257",
    "1.279",
    "1.303",
    "1.327",
    "1.351",
    "1.376",
    "1.401",
    "1.428",
    "1.455",
    "1.482",
    "1.51",
    "1.539",
    "1.569",
    "1.6",
    "1.631",
    "1.664",
    "1.697",
    "1.732",
    "1.767",
    "1.804",
    "1.841",
    "1.88",
    "1.921",
    "1.962",
    "2.005",
    "2.05",
    "2.096",
    "2.144",
    "2.194",
    "2.246",
    "2.299",
    "2.355",
    "2.414",
    "2.475",
    "2.538",
    "2.605",
    "2.674",
    "2.747",
    "2.823",
    "2.904",
    "2.988",
    "3.077",
    "3.171",
    "3.27",
    "3.375",
    "3.487",
    "3.605",
    "3.732",
    "3.866",
    "4.01",
    "4.165",
    "4.331",
    "4.51",
    "4.704",
    "4.915",
    "5.144",
    "5.399",
    "5.671",
    "5.975",
    "6.313",
    "6.691",
    "7.115",
    "7.595",
    "8.144",
    "8.776",
    "9.514",
    "10.38",
    "11.43",
    "12.7",
    "14.3",
    "16.35",
    "19.08",
    "22.9",
    "26.63",
    "38.18",
    "57.29",
    "114.59",
]
# Printed wrong there: tan(79.5 deg) is 5.3955, tan(88 deg) is 28.636.
MISPRINTS = {159: "5.399", 176: "26.63"}


@pytest.mark.parametrize(("angle", "printed"), list(enumerate(K_CHART, start=1)))
def test_setback_is_k_times_radius_and_thickness(angle: int, printed: str) -> None:
    # R + T = 1 in, so that the setback in inches is K itself.
    have = answer("setback", "in", thickness="0.2 in", radius="0.8 in", bend_angle=f"{angle}°")
    last = 10.0 ** -len(printed.partition(".")[2])
    near = abs(round(have / last) - round(float(printed) / last)) <= 1
    assert near != (angle in MISPRINTS), (have, printed)


def test_misprints_are_the_ones_named() -> None:
    assert {angle: K_CHART[angle - 1] for angle in MISPRINTS} == MISPRINTS


# FAA-H-8083-31 vol. 1 ch. 4, Layout and Forming: U-channel of .040 2024-T3, R .16, 1.00/2.00/1.00.
CHANNEL = {
    "thickness": "0.040 in",
    "legs": ["1.00 in", "2.00 in", "1.00 in"],
    "bends": [{"radius": "0.16 in", "bend_angle": "90°"}] * 2,
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


def test_radius_of_the_handbooks_sheet_is_inside_the_range() -> None:
    # Step 1 of the U-channel takes R .16 for .040 2024-T3: four thicknesses.
    assert results("bend_allowance", thickness="0.040 in", radius="0.16 in", bend_angle="90°")
