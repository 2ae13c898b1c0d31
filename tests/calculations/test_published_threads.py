"""Threads against print; the source stands beside each check."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from generator.findings import Refusal
from generator.tables import table
from tests.calculations.asking import answer, results

# ISO 965-2 / ASME B1.13M limits of 6g and 6H, as tabulated in an open thread data file: major and
# effective diameter of the bolt, largest and least; minor and effective of the nut, least and
# largest, mm. From M11 on the file rounds the bolt to 0.01 mm; M12 to 0.001 is from memory.
METRIC = {
    "M1.6": (1.581, 1.496, 1.354, 1.291, 1.221, 1.321, 1.373, 1.458),
    "M2": (1.981, 1.886, 1.721, 1.654, 1.567, 1.679, 1.74, 1.83),
    "M2.5": (2.48, 2.38, 2.188, 2.117, 2.013, 2.138, 2.208, 2.303),
    "M3": (2.98, 2.874, 2.655, 2.58, 2.459, 2.599, 2.675, 2.775),
    "M3x0.35": (2.981, 2.896, 2.754, 2.687, 2.621, 2.721, 2.773, 2.863),
    "M3.5": (3.479, 3.354, 3.089, 3.004, 2.85, 3.01, 3.11, 3.222),
    "M4": (3.978, 3.838, 3.523, 3.433, 3.242, 3.422, 3.545, 3.663),
    "M4x0.5": (3.98, 3.874, 3.655, 3.58, 3.459, 3.599, 3.675, 3.775),
    "M5": (4.976, 4.826, 4.456, 4.361, 4.134, 4.334, 4.48, 4.605),
    "M5x0.5": (4.98, 4.874, 4.655, 4.58, 4.459, 4.599, 4.675, 4.775),
    "M6": (5.974, 5.794, 5.324, 5.212, 4.917, 5.153, 5.35, 5.5),
    "M6x0.75": (5.978, 5.838, 5.491, 5.391, 5.188, 5.378, 5.513, 5.645),
    "M7": (6.974, 6.794, 6.324, 6.212, 5.917, 6.153, 6.35, 6.5),
    "M8": (7.972, 7.76, 7.16, 7.042, 6.647, 6.912, 7.188, 7.348),
    "M8x1": (7.974, 7.794, 7.324, 7.212, 6.917, 7.153, 7.35, 7.5),
    "M10": (9.968, 9.732, 8.994, 8.862, 8.376, 8.676, 9.026, 9.206),
    "M10x1.25": (9.972, 9.76, 9.16, 9.042, 8.647, 8.912, 9.188, 9.348),
    "M10x1": (9.974, 9.794, 9.324, 9.212, 8.917, 9.153, 9.35, 9.5),
    "M12": (11.966, 11.701, 10.829, 10.679, 10.106, 10.441, 10.863, 11.063),
    "M12x1.5": (11.97, 11.73, 10.99, 10.85, 10.376, 10.676, 11.026, 11.216),
    "M12x1.25": (11.97, 11.76, 11.16, 11.03, 10.647, 10.912, 11.188, 11.368),
    "M14": (13.96, 13.68, 12.66, 12.5, 11.835, 12.21, 12.701, 12.913),
    "M14x1.5": (13.97, 13.73, 12.99, 12.85, 12.376, 12.676, 13.026, 13.216),
    "M16": (15.96, 15.68, 14.66, 14.5, 13.835, 14.21, 14.701, 14.913),
    "M18": (17.96, 17.62, 16.33, 16.16, 15.294, 15.744, 16.376, 16.601),
    "M20": (19.96, 19.62, 18.33, 18.16, 17.294, 17.744, 18.376, 18.6),
    "M22x1.5": (21.97, 21.73, 20.99, 20.85, 20.376, 20.676, 21.026, 21.216),
    "M24": (23.95, 23.58, 22.0, 21.8, 20.752, 21.252, 22.051, 22.316),
    "M24x2": (23.96, 23.68, 22.66, 22.49, 21.835, 22.21, 22.701, 22.925),
    "M27": (26.95, 26.58, 25.0, 24.8, 23.752, 24.252, 25.051, 25.316),
    "M30": (29.95, 29.52, 27.67, 27.46, 26.211, 26.771, 27.727, 28.007),
    "M36": (35.94, 35.47, 33.34, 33.12, 31.67, 32.27, 33.402, 33.702),
    "M39": (38.94, 38.47, 36.34, 36.12, 34.67, 35.27, 36.402, 36.702),
}


@pytest.mark.parametrize(("thread", "printed"), METRIC.items())
def test_metric_limits(thread: str, printed: tuple[float, ...]) -> None:
    coarse = float(thread[1:].split("x")[0]) > 10 and thread != "M12"
    for of, wanted in zip(
        ("major.to", "major.from", "effective.to", "effective.from"), printed, strict=False
    ):
        have = answer("metric_bolt_limits", "mm", of, thread=thread, tolerance_class="6g")
        assert have == pytest.approx(wanted, abs=0.0055 if coarse else 0.0011), of
    for of, wanted in zip(
        ("minor.from", "minor.to", "effective.from", "effective.to"), printed[4:], strict=True
    ):
        have = answer("metric_nut_limits", "mm", of, thread=thread, tolerance_class="6H")
        assert have == pytest.approx(wanted, abs=0.0011), of


# The same rows as basic sizes, deviations and tolerances, µm: d2, D1, es, T_d, T_d2, T_D1, T_D2.
DEVIATIONS = {
    "M5": (4.48, 4.134, -24, 150, 95, 200, 125),
    "M6": (5.35, 4.917, -26, 180, 112, 236, 150),
    "M8": (7.188, 6.647, -28, 212, 118, 265, 160),
    "M8x1": (7.35, 6.917, -26, 180, 112, 236, 150),
    "M10x1.25": (9.188, 8.647, -28, 212, 118, 265, 160),
}


@pytest.mark.parametrize(("thread", "printed"), DEVIATIONS.items())
def test_metric_deviations(thread: str, printed: tuple[float, ...]) -> None:
    basic = [answer("thread_metric", "mm", of, thread=thread) for of in ("effective", "minor")]
    assert basic == pytest.approx(printed[:2], abs=0.0006)
    bolt = next(r for r in table("metric_bolt")["rows"]
                if (r["thread"], r["tolerance_class"]) == (thread, "6g"))  # fmt: skip
    nut = next(r for r in table("metric_nut")["rows"]
               if (r["thread"], r["tolerance_class"]) == (thread, "6H"))  # fmt: skip
    cells = [bolt["deviation"], bolt["major"], bolt["effective"], nut["minor"], nut["effective"]]
    assert [round(float(c.split()[0]) * 1000) for c in cells] == list(printed[2:])


def test_tolerances_of_every_row_by_the_standard_s_formulas() -> None:
    # ISO 965-1 clause on formulas (from memory), which the standard rounds to a series of
    # preferred numbers: T_d = 180 ∛P² - 3.15/√P, T_d2 = 90 P^0.4 d^0.1, T_D2 = 1.32 T_d2,
    # T_D1 = 433 P - 190 P^1.22 up to 0.8, 230 P^0.7 from 1; grades 4, 5, 7: 0.63, 0.8, 1.25.
    ends = [0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45.0]
    grades = {"4": 0.63, "5": 0.8, "6": 1.0, "7": 1.25}
    seen = 0
    for name, third in (("metric_bolt", "major"), ("metric_nut", "minor")):
        for row in table(name)["rows"]:
            size, pitch = (float(row[c].split()[0]) for c in ("diameter", "pitch"))
            mean = next(math.sqrt(a * b) for a, b in pairwise(ends) if size <= b)
            share = grades[row["tolerance_class"][0]]
            flank = 90 * pitch**0.4 * mean**0.1 * (1.32 if third == "minor" else 1)
            crest = 180 * pitch ** (2 / 3) - 3.15 / math.sqrt(pitch)
            if third == "minor":
                crest = 433 * pitch - 190 * pitch**1.22 if pitch <= 0.8 else 230 * pitch**0.7
            for column, wanted in (("effective", flank), (third, crest)):
                have = float(row[column].split()[0]) * 1000
                assert have == pytest.approx(wanted * share, rel=0.07), (row, column)
                seen += 1
            base = {"g": 15, "e": 50, "h": 0, "G": 15, "H": 0}[row["tolerance_class"][1]]
            away = abs(float(row["deviation"].split()[0])) * 1000
            wanted = base + 11 * pitch if base else 0
            assert away == pytest.approx(wanted, abs=5.6 if base == 50 else 2.6), row
    assert seen > 600


# ASME B1.1 tables of limits, an engineering site's copy: bolt 2A, bolt 3A, nut 2B, nut 3B, in.
SMALL = {
    "0-80": (
        0.0595,
        0.0563,
        0.0514,
        0.0496,
        0.06,
        0.0568,
        0.0519,
        0.0506,
        0.0514,
        0.0465,
        0.0542,
        0.0536,
    ),
    "1-64": (
        0.0724,
        0.0686,
        0.0623,
        0.0603,
        0.073,
        0.0692,
        0.0629,
        0.0614,
        0.0623,
        0.0561,
        0.0655,
        0.0648,
    ),
    "1-72": (
        0.0724,
        0.0689,
        0.0634,
        0.0615,
        0.073,
        0.0695,
        0.064,
        0.0626,
        0.0635,
        0.058,
        0.0665,
        0.0659,
    ),
    "2-56": (
        0.0854,
        0.0813,
        0.0738,
        0.0717,
        0.086,
        0.0819,
        0.0744,
        0.0728,
        0.0737,
        0.0667,
        0.0772,
        0.0765,
    ),
    "2-64": (
        0.0854,
        0.0816,
        0.0753,
        0.0733,
        0.086,
        0.0822,
        0.0759,
        0.0744,
        0.0753,
        0.0691,
        0.0786,
        0.0779,
    ),
}
BOLT = ("major.to", "major.from", "effective.to", "effective.from")
STEP = 0.00016  # a printed step of 0.0001 in, and the rounding of what it was made from


def bolt(thread: str, name: str) -> list[float]:
    return [answer("unified_bolt_limits", "in", of, thread=thread, bolt_class=name) for of in BOLT]


def nut(thread: str, name: str, *of: str) -> list[float]:
    return [answer("unified_nut_limits", "in", each, thread=thread, nut_class=name) for each in of]


@pytest.mark.parametrize(("thread", "printed"), SMALL.items())
def test_unified_limits_of_small_threads(thread: str, printed: tuple[float, ...]) -> None:
    assert bolt(thread, "2A") == pytest.approx(printed[:4], abs=STEP)
    assert bolt(thread, "3A") == pytest.approx(printed[4:8], abs=STEP)
    assert nut(thread, "2B", "minor.to", "minor.from", "effective.to") == pytest.approx(
        printed[8:11], abs=STEP
    )
    assert nut(thread, "3B", "effective.to") == pytest.approx(printed[11:], abs=STEP)


# Supplier's table of UNC 2B limits (2016): effective, largest; minor, largest and least, the last
# two rounded to 0.001 in. Three misprints of the copy are left out (2-56, 1/2-13 and 9/16-12).
UNC_2B = {
    "4-40": (0.0991, 0.0939, 0.0849), "6-32": (0.1214, 0.114, 0.104), "8-32": (0.1475, 0.139, 0.13),
    "10-24": (0.1672, 0.156, 0.145), "1/4-20": (0.2224, 0.207, 0.196),
    "5/16-18": (0.2817, 0.265, 0.252), "3/8-16": (0.3401, 0.321, 0.307),
    "7/16-14": (0.3972, 0.376, 0.36), "5/8-11": (0.5732, 0.546, 0.527),
    "3/4-10": (0.6927, 0.663, 0.642), "7/8-9": (0.811, 0.778, 0.755), "1-8": (0.9276, 0.89, 0.865),
}  # fmt: skip


@pytest.mark.parametrize(("thread", "printed"), UNC_2B.items())
def test_unified_nut_limits(thread: str, printed: tuple[float, ...]) -> None:
    assert nut(thread, "2B", "effective.to") == pytest.approx(printed[:1], abs=STEP)
    assert nut(thread, "2B", "minor.to", "minor.from") == pytest.approx(printed[1:], abs=0.00056)


# ASME B1.1 (from memory): 2A and 3A of the threads of aircraft bolts, in.
UNF = {
    "1/4-28": ((0.2490, 0.2425, 0.2258, 0.2225), (0.25, 0.2435, 0.2268, 0.2243)),
    "10-32": ((0.1891, 0.1831, 0.1688, 0.1658), (0.19, 0.184, 0.1697, 0.1674)),
    "5/16-24": ((0.3114, 0.3042, 0.2843, 0.2806), (0.3125, 0.3053, 0.2854, 0.2827)),
    "3/8-24": ((0.3739, 0.3667, 0.3468, 0.3430), (0.375, 0.3678, 0.3479, 0.3450)),
}


@pytest.mark.parametrize(("thread", "printed"), UNF.items())
def test_unified_bolt_limits(thread: str, printed: tuple[tuple[float, ...], ...]) -> None:
    assert bolt(thread, "2A") == pytest.approx(printed[0], abs=STEP)
    assert bolt(thread, "3A") == pytest.approx(printed[1], abs=STEP)


# ASME B1.1 pitch diameters (coarse from memory), in.
PITCH = {
    "10-32": 0.1697,
    "1/4-28": 0.2268,
    "5/16-24": 0.2854,
    "3/8-24": 0.3479,
    "1/4-20": 0.2175,
    "3/8-16": 0.3344,
}


@pytest.mark.parametrize(("thread", "printed"), PITCH.items())
def test_unified_pitch_diameters(thread: str, printed: float) -> None:
    assert answer("thread_unified", "in", "effective", thread=thread) == pytest.approx(
        printed, abs=0.0001
    )


# Shigley 9th ed., tables 8-1 and 8-2 (from ANSI B1.1-1974): stress areas, mm² and in². 5-44 is a
# misprint there (0.00880 for 0.00830) and left out.
AREAS = {"M5": 14.2, "M6": 20.1, "M8": 36.6, "M10": 58.0, "M12": 84.3, "M14": 115, "M16": 157,
         "M18": 192, "M20": 245, "M22": 303, "M24": 353}  # fmt: skip
INCH_AREAS = {
    "8-36": 0.01474, "10-32": 0.02, "1/4-28": 0.0364, "5/16-24": 0.058, "3/8-24": 0.0878,
    "7/16-20": 0.1187, "1/2-20": 0.1599, "9/16-18": 0.203, "5/8-18": 0.256, "3/4-16": 0.373,
    "7/8-14": 0.509, "1-12": 0.663, "8-32": 0.014, "10-24": 0.0175, "1/4-20": 0.0318,
    "5/16-18": 0.0524, "3/8-16": 0.0775, "7/16-14": 0.1063, "1/2-13": 0.1419, "9/16-12": 0.182,
    "5/8-11": 0.226, "3/4-10": 0.334, "7/8-9": 0.462, "1-8": 0.606,
}  # fmt: skip


@pytest.mark.parametrize(("thread", "area"), {**AREAS, **INCH_AREAS}.items())
def test_stress_areas(thread: str, area: float) -> None:
    name, unit = ("thread_metric", "mm²") if thread[0] == "M" else ("thread_unified", "in²")
    assert answer(name, unit, "area", thread=thread) == pytest.approx(area, rel=0.005)


@pytest.mark.parametrize(
    ("name", "typed", "there"),
    [
        ("thread_metric", {"thread": "M8x1.2"}, "M8, M10"),
        ("thread_unified", {"thread": "1/4-24"}, "1/4-20, 1/4-28"),
        ("thread_whitworth", {"series": "BSW", "size": "9/32"}, "1/4"),
        ("thread_ba", {"ba": "17"}, "16"),
        ("metric_bolt_limits", {"thread": "M8", "tolerance_class": "8g"}, "4h, 6e, 6g, 6h"),
    ],
)
def test_a_thread_that_is_not_in_the_table_lists_what_is(
    name: str, typed: dict[str, str], there: str
) -> None:
    with pytest.raises(Refusal) as caught:
        results(name, **typed)
    assert caught.value.code == "table" and "the nearest is never taken" in caught.value.wrong
    assert set(there.split(", ")) <= set(
        caught.value.right.removeprefix("one of: ").split(" (")[0].split(", ")
    )
