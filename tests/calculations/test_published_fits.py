"""Fits and limits against an independent library and against print; the source stands at each."""

from __future__ import annotations

import pressfit
import pytest
from pressfit import tables as library

from generator.calculations.zones import GRADES, HOLES, SHAFTS, hole_zone, shaft_zone, tolerance
from generator.findings import Refusal
from generator.tables import table
from tests.calculations.asking import answer, results

BANDS = [3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500]
ENDS = [float(end) for end in table("limits_and_fits")["bands"]]


def sizes() -> list[float]:
    """Every end of a band, a hair above the one before, and a size well inside."""
    starts = [0.0, *ENDS[:-1]]
    inside = [(a + b) / 2 for a, b in zip(starts, ENDS, strict=True)]
    return sorted({*ENDS, *inside, *(start + 0.001 for start in starts)} - {0.001})


def micro(number: float) -> float:
    return round(number * 1000, 6)


# --- pressfit 0.1.0 (PyPI, MIT), an independent library, over its whole scope ---------------------


@pytest.mark.parametrize("letter", library.SHAFT_LETTERS)
def test_every_fit_of_the_library(letter: str) -> None:
    for size in sizes():
        for grade in library.GRADES:
            other = pressfit.fit(f"{size} H{grade}/{letter}{grade}")
            bore = hole_zone(size, "H", f"IT{grade}")
            pin = shaft_zone(size, letter, f"IT{grade}")
            assert (micro(bore.lower), micro(bore.upper)) == (other.hole_ei_um, other.hole_es_um)
            assert (micro(pin.lower), micro(pin.upper)) == (other.shaft_ei_um, other.shaft_es_um)


@pytest.mark.parametrize("letter", library.SHAFT_LETTERS)
@pytest.mark.parametrize("size", [2.5, 10.0, 24.0, 30.0, 80.0, 315.0, 500.0])
def test_the_kind_of_fit_is_the_library_s(letter: str, size: float) -> None:
    other = pressfit.fit(f"{size} H7/{letter}6")
    typed = {"nominal": f"{size} mm", "hole": "H", "hole_grade": "IT7", "shaft": letter}
    came = results("fit", shaft_grade="IT6", asked=other.kind, **typed)
    assert came["kind"].shown == other.kind
    have = [answer("fit", "µm", of, shaft_grade="IT6", asked=other.kind, **typed)
            for of in ("least", "most")]  # fmt: skip
    assert have == pytest.approx(list(other.clearance_um), abs=1e-6)


# --- rows in print --------------------------------------------------------------------------------

# ISO 286-1:2010 table 1 as reproduced in two open packages: IT12; IT14 at two sizes (open
# encyclopedia page on tolerance grades: 0.36 mm at 10 mm, 0.87 mm at 100 mm).
IT12 = (100, 120, 150, 180, 210, 250, 300, 350, 400, 460, 520, 570, 630)


def test_tolerances_in_print() -> None:
    assert [micro(tolerance(b, "IT12")) for b in BANDS] == list(IT12)
    assert [tolerance(size, "IT14") for size in (10, 100)] == [0.36, 0.87]


# Machine drawing textbook, table 15.2 (p. 215): e, f, g, h, then j5 and j6, j7, k4 to k7, µm.
TEXTBOOK = {
    250: (-100, -50, -15, 0, -13, -21, 4),
    315: (-110, -56, -17, 0, -16, -26, 4),
    400: (-125, -62, -18, 0, -18, -28, 4),
    500: (-135, -68, -20, 0, -20, -32, 5),
}


@pytest.mark.parametrize(("size", "printed"), TEXTBOOK.items())
def test_deviations_of_a_textbook(size: int, printed: tuple[int, ...]) -> None:
    have = [micro(shaft_zone(size, x, "IT6").upper) for x in ("e", "f", "g", "h")]
    have += [micro(shaft_zone(size, "j", g).lower) for g in ("IT6", "IT7")]
    have += [micro(shaft_zone(size, "k", "IT6").lower)]
    assert tuple(have) == printed
    assert shaft_zone(size, "j", "IT5").lower == shaft_zone(size, "j", "IT6").lower


# The same textbook, p. 216: m, n, p, r, s, t, u, v, x, y, z, za, zb, zc (0: a dash).
TIGHT = {
    3: (2, 4, 6, 10, 14, 0, 18, 0, 20, 0, 26, 32, 40, 60),
    14: (7, 12, 18, 23, 28, 0, 33, 0, 40, 0, 50, 64, 90, 130),
    18: (7, 12, 18, 23, 28, 0, 33, 39, 45, 0, 60, 77, 108, 150),
    24: (8, 15, 22, 28, 35, 0, 41, 47, 54, 63, 73, 98, 136, 188),
    30: (8, 15, 22, 28, 35, 41, 48, 55, 64, 75, 88, 118, 160, 218),
    50: (9, 17, 26, 34, 43, 54, 70, 81, 97, 114, 136, 180, 242, 325),
    65: (11, 20, 32, 41, 53, 66, 87, 102, 122, 144, 172, 226, 300, 405),
    80: (11, 20, 32, 43, 59, 75, 102, 120, 146, 174, 210, 274, 360, 480),
    120: (13, 23, 37, 54, 79, 104, 144, 172, 210, 254, 310, 400, 525, 690),
    160: (15, 27, 43, 65, 100, 134, 190, 228, 280, 340, 415, 535, 700, 900),
    180: (15, 27, 43, 68, 108, 146, 210, 252, 310, 380, 465, 600, 780, 1000),
}


@pytest.mark.parametrize(("size", "printed"), TIGHT.items())
def test_tight_shafts_of_a_textbook(size: int, printed: tuple[int, ...]) -> None:
    for letter, wanted in zip(SHAFTS[SHAFTS.index("m") :], printed, strict=True):
        if wanted:
            assert micro(shaft_zone(size, letter, "IT7").lower) == wanted, letter
        else:
            with pytest.raises(Refusal, match=f"'{letter}' has no deviation at {size} mm"):
                shaft_zone(size, letter, "IT7")


# JIS B 0401 (1999), which takes over ISO 286-2, in a tool maker's catalogue: upper, lower, µm.
CATALOGUE = [
    (2, "b", 9, -140, -165), (2, "c", 9, -60, -85), (2, "e", 8, -14, -28), (2, "g", 5, -2, -6),
    (5, "d", 8, -30, -48), (5, "f", 8, -10, -28), (5, "k", 5, 6, 1), (5, "n", 6, 16, 8),
    (8, "m", 5, 12, 6), (8, "s", 6, 32, 23), (8, "js", 6, 4.5, -4.5), (12, "p", 6, 29, 18),
    (12, "r", 6, 34, 23), (16, "x", 6, 56, 45), (20, "t", 6, None, None), (28, "t", 6, 54, 41),
    (28, "u", 6, 61, 48), (28, "x", 6, 77, 64), (45, "c", 9, -130, -192), (60, "b", 9, -190, -264),
]  # fmt: skip


@pytest.mark.parametrize(("size", "letter", "grade", "upper", "lower"), CATALOGUE)
def test_shafts_of_a_catalogue(size, letter, grade, upper, lower) -> None:
    if upper is None:
        with pytest.raises(Refusal, match="has no deviation"):
            shaft_zone(size, letter, f"IT{grade}")
        return
    zone = shaft_zone(size, letter, f"IT{grade}")
    assert (micro(zone.upper), micro(zone.lower)) == (upper, lower)


# ISO 286-2, in two open packages that agree: 25 mm, upper and lower, µm.
HOLES_25 = {
    "J7": (12, -9), "JS7": (10.5, -10.5), "M7": (0, -21), "R7": (-20, -41), "F8": (53, 20),
    "G7": (28, 7), "H8": (33, 0), "H11": (130, 0),
}  # fmt: skip
SHAFTS_25 = {"js7": (10.5, -10.5), "j6": (9, -4), "r6": (41, 28), "k8": (33, 0)}


@pytest.mark.parametrize(("called", "printed"), HOLES_25.items())
def test_holes_of_25(called: str, printed: tuple[float, float]) -> None:
    letter = called.rstrip("0123456789")
    zone = hole_zone(25, letter, f"IT{called[len(letter) :]}")
    assert (micro(zone.upper), micro(zone.lower)) == printed


@pytest.mark.parametrize(("called", "printed"), SHAFTS_25.items())
def test_shafts_of_25(called: str, printed: tuple[float, float]) -> None:
    letter = called.rstrip("0123456789")
    zone = shaft_zone(25, letter, f"IT{called[len(letter) :]}")
    assert (micro(zone.upper), micro(zone.lower)) == printed


# ISO 286-2: h6 of seven bands, lower deviation, µm; 50 g6 in mm.
H6 = {6: -8, 10: -9, 18: -11, 30: -13, 50: -16, 80: -19, 120: -22}


def test_shafts_h6_and_50_g6() -> None:
    for size, lower in H6.items():
        zone = shaft_zone(size, "h", "IT6")
        assert (micro(zone.upper), micro(zone.lower)) == (0, lower)
    typed = {"nominal": "50 mm", "shaft": "g", "shaft_grade": "IT6"}
    came = results("shaft_limits", **typed)
    assert (came["smallest"].shown, came["largest"].shown) == ("49.9750", "49.9910")
    pair = {"hole": "H", "hole_grade": "IT7", "asked": "clearance"}
    fitted = results("fit", **typed, **pair)
    ends = ("hole_smallest", "hole_largest", "shaft_smallest", "shaft_largest")
    assert [fitted[of].shown for of in ends] == ["50.0000", "50.0250", "49.9750", "49.9910"]


# ISO 286-1 and -2:2010, in two open packages that agree: shaft es and ei, clearances, kind, µm.
FITS = {
    ("10", "7", "g6"): (-5, -14, 5, 29, "clearance"),
    ("10", "7", "h6"): (0, -9, 0, 24, "clearance"),
    ("10", "7", "k6"): (10, 1, -10, 14, "transition"),
    ("10", "7", "n6"): (19, 10, -19, 5, "transition"),
    ("10", "7", "p6"): (24, 15, -24, 0, "interference"),
    ("10", "8", "f7"): (-13, -28, 13, 50, "clearance"),
    ("10", "7", "f7"): (-13, -28, 13, 43, "clearance"),
    ("10", "7", "m6"): (15, 6, -15, 9, "transition"),
    ("25", "7", "g6"): (-7, -20, 7, 41, "clearance"),
    ("25", "7", "h6"): (0, -13, 0, 34, "clearance"),
    ("25", "7", "k6"): (15, 2, -15, 19, "transition"),
    ("25", "7", "n6"): (28, 15, -28, 6, "transition"),
    ("25", "7", "p6"): (35, 22, -35, -1, "interference"),
    ("25", "8", "f7"): (-20, -41, 20, 74, "clearance"),
    ("25", "7", "f7"): (-20, -41, 20, 62, "clearance"),
    ("25", "7", "m6"): (21, 8, -21, 13, "transition"),
    ("25", "7", "s6"): (48, 35, -48, -14, "interference"),
    ("50", "7", "g6"): (-9, -25, 9, 50, "clearance"),
    ("50", "7", "h6"): (0, -16, 0, 41, "clearance"),
    ("50", "7", "k6"): (18, 2, -18, 23, "transition"),
    ("50", "7", "n6"): (33, 17, -33, 8, "transition"),
    ("50", "7", "p6"): (42, 26, -42, -1, "interference"),
    ("50", "8", "f7"): (-25, -50, 25, 89, "clearance"),
    ("50", "7", "f7"): (-25, -50, 25, 75, "clearance"),
    ("50", "7", "m6"): (25, 9, -25, 16, "transition"),
}


@pytest.mark.parametrize(("called", "printed"), FITS.items())
def test_fits_in_print(called: tuple[str, str, str], printed: tuple) -> None:
    size, grade, shaft = called
    es, ei, least, most, kind = printed
    zone = shaft_zone(float(size), shaft[0], f"IT{shaft[1]}")
    assert (micro(zone.upper), micro(zone.lower)) == (es, ei)
    typed = {"nominal": f"{size} mm", "hole": "H", "hole_grade": f"IT{grade}",
             "shaft": shaft[0], "shaft_grade": f"IT{shaft[1]}"}  # fmt: skip
    came = results("fit", asked=kind, **typed)
    assert came["kind"].shown == kind
    for of, wanted in (("least", least), ("most", most)):
        assert answer("fit", "µm", of, asked=kind, **typed) == pytest.approx(wanted, abs=1e-6)
    for other in {"clearance", "transition", "interference"} - {kind}:
        with pytest.raises(Refusal, match=f"{other} is asked for; .*: {kind}$"):
            results("fit", asked=other, **typed)


def test_rows_that_another_package_has_wrong() -> None:
    # Found by the width rule in isofits 1.0: f6 of 120 to 180, E7 of 315 to 400, K6 of 6 to 10 mm.
    for size in (140, 160, 180):
        zone = shaft_zone(size, "f", "IT6")
        assert (micro(zone.upper), micro(zone.lower)) == (-43, -68)
    for size in (355, 400):
        zone = hole_zone(size, "E", "IT7")
        assert (micro(zone.upper), micro(zone.lower)) == (182, 125)
    zone = hole_zone(10, "K", "IT6")
    assert (micro(zone.upper), micro(zone.lower)) == (2, -7)


def test_a_band_edge_belongs_to_the_lower_band() -> None:
    # ISO 286-1 table 1: over one size, up to and including the next.
    assert micro(tolerance(30, "IT7")) == 21
    assert micro(tolerance(30.001, "IT7")) == 25


# Δ as ISO 286-1:2010 table 3 prints it for IT3 to IT8 (from memory), bands of 13.
DELTA = {
    6: (1, 1.5, 1, 3, 4, 6), 10: (1, 1.5, 2, 3, 6, 7), 18: (1, 2, 3, 3, 7, 9),
    30: (1.5, 2, 3, 4, 8, 12), 50: (1.5, 3, 4, 5, 9, 14), 80: (2, 3, 5, 6, 11, 16),
    120: (2, 4, 5, 7, 13, 19), 180: (3, 4, 6, 7, 15, 23), 250: (3, 4, 6, 9, 17, 26),
    315: (4, 4, 7, 9, 20, 29), 400: (4, 5, 7, 11, 21, 32), 500: (5, 5, 7, 13, 23, 34),
}  # fmt: skip


@pytest.mark.parametrize(("size", "deltas"), DELTA.items())
def test_delta_of_tight_holes(size: int, deltas: tuple[float, ...]) -> None:
    for number, delta in enumerate(deltas, start=3):
        for letter in ("K", "M", "N", *(("P", "S", "ZC") if number < 8 else ())):
            own = -micro(shaft_zone(size, letter.lower(), "IT6").lower)
            odd = 2 if (letter, number, size) == ("M", 6, 315) else 0
            assert micro(hole_zone(size, letter, f"IT{number}").upper) == own + delta + odd


def test_holes_without_delta() -> None:
    # ISO 286-1 tables 2 and 3: up to 3 mm; M over IT8; P to ZC over IT7; N over IT8 is 0.
    assert micro(hole_zone(3, "N", "IT7").upper) == -4
    assert micro(hole_zone(30, "M", "IT9").upper) == -8
    assert micro(hole_zone(30, "P", "IT8").upper) == -22
    assert micro(hole_zone(30, "N", "IT9").upper) == 0
    assert micro(hole_zone(3, "N", "IT9").upper) == -4
    assert micro(hole_zone(2, "K", "IT9").upper) == 0


@pytest.mark.parametrize(
    ("called", "text"),
    [
        ((25, "K", "IT9"), "'K' is not given in grade IT9 over 3 mm"),
        ((25, "K", "IT2"), "'K' is not given in grade IT2 over 3 mm"),
        ((25, "J", "IT9"), "'J' is not given in grade IT9"),
        ((0.8, "A", "IT11"), "'A' is not given up to 1 mm"),
        ((0.8, "N", "IT9"), "'N' is not given in grade IT9 up to 1 mm"),
        ((0.8, "H", "IT14"), "IT14 is not given up to 1 mm"),
        ((60, "CD", "IT7"), "'cd' has no deviation at 60 mm"),
    ],
)
def test_what_the_standard_does_not_give_is_refused(called: tuple, text: str) -> None:
    with pytest.raises(Refusal, match=text):
        hole_zone(*called)


def test_every_zone_is_as_wide_as_its_grade() -> None:
    given = 0
    for zone_of, letters in ((shaft_zone, SHAFTS), (hole_zone, HOLES)):
        for letter in letters:
            for grade in GRADES:
                for size in ENDS:
                    try:
                        zone = zone_of(size, letter, grade)
                    except Refusal:
                        continue
                    given += 1
                    assert micro(zone.width) == micro(tolerance(size, grade))
    assert given > 20000


def test_the_hole_is_the_shaft_mirrored_for_clearance() -> None:
    # ISO 286-1 clause on holes A to H: EI = -es.
    for letter in SHAFTS[: SHAFTS.index("js")]:
        for size in (10.0, 50.0):
            shaft, hole = shaft_zone(size, letter, "IT7"), hole_zone(size, letter.upper(), "IT7")
            assert hole.lower == -shaft.upper


def test_no_size_above_500_mm() -> None:
    with pytest.raises(Refusal, match="out of range"):
        results("hole_limits", nominal="500.1 mm", hole="H", hole_grade="IT7")


# --- temperatures and measured sizes --------------------------------------------------------------


def test_reference_temperature() -> None:
    # ISO 1:2022: 20 °C; a length measured there is what it is.
    typed = {"measured": "500 mm", "temperature": "20 °C", "expansion": "0.000023 1/K"}
    assert answer("length_at_20_degrees", "mm", "growth", **typed) == 0


def test_a_part_that_would_get_too_hot_is_refused() -> None:
    typed = {"diameter": "30 mm", "interference": "35 µm", "clearance": "20 µm",
             "expansion": "0.000023 1/K", "cold": "20 °C"}  # fmt: skip
    assert results("heating_for_fit", highest="100 °C", **typed)["spare"].shown == "0"
    with pytest.raises(Refusal, match="left below the highest temperature"):
        results("heating_for_fit", highest="99 °C", **typed)


# ISO 14253-1 by its rule, visible: 9.00 ± 0.10, U 0.03.
MEASURED = {
    "8.93": "conforms", "9.07": "conforms", "9.071": "not proven", "8.929": "not proven",
    "9.13": "not proven", "8.87": "not proven", "9.131": "does not conform",
    "8.869": "does not conform",
}  # fmt: skip


@pytest.mark.parametrize(("value", "verdict"), MEASURED.items())
def test_measured_sizes(value: str, verdict: str) -> None:
    typed = {"lower": "8.9 mm", "upper": "9.1 mm", "uncertainty": "0.03 mm"}
    assert (came := results("measured_size", measured=f"{value} mm", **typed))[
        "verdict"
    ].shown == verdict
    assert came["share"].shown == "15"


def test_no_room_between_guarded_limits_is_refused() -> None:
    typed = {"lower": "8.9 mm", "upper": "9.1 mm", "measured": "9 mm"}
    with pytest.raises(Refusal, match="no room is left"):
        results("measured_size", uncertainty="0.11 mm", **typed)


def test_a_measured_pair_that_is_not_proven_is_refused() -> None:
    typed = {"hole": "8.010 mm", "hole_uncertainty": "0.003 mm", "shaft_uncertainty": "0.002 mm"}
    assert results("measured_fit", shaft="8.005 mm", asked="clearance", **typed)
    with pytest.raises(Refusal, match=r"clearance is asked for; .*: transition"):
        results("measured_fit", shaft="8.006 mm", asked="clearance", **typed)
