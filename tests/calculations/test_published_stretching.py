"""Stretched sheet against what is printed elsewhere and against a taut string round the points of a
block; the source stands beside each check."""

from __future__ import annotations

import itertools
import math
import re
from typing import Any

import pytest

from generator.calculations.stretch_forming import FORMING
from generator.calculations.stretch_sizing import SIZING
from generator.findings import Refusal
from tests.calculations.asking import answer, half_a_digit

# The demo block: seven stations 150 mm apart.
RADII = (520, 508, 499, 494, 496, 503, 513)
CROWNS = (0, 10.5, 17.5, 20, 18.5, 12.5, 3)
BLOCK = [
    {"at": f"{150 * k} mm", "radius": f"{RADII[k]} mm", "crown": f"{CROWNS[k]} mm"}
    for k in range(7)
]
DEMO = {"stations": BLOCK, "bore": "65 mm"}


def forming(result: str, unit: str, **more: Any) -> float:
    return answer("stretch_forming", unit, result, **(FORMING | DEMO | more))


def sizing(result: str, unit: str, **more: Any) -> float:
    return answer("stretch_sizing", unit, result, **(SIZING | DEMO | more))


def taut(radius: float, crown: float, rise: float, thickness: float) -> float:
    """The length of a taut string from jaw to jaw over many points of the circle: the upper convex
    hull of the points (Andrew's monotone chain)."""
    mean, height = radius + thickness / 2, 420 + crown + rise
    turns = [math.pi * k / 40_000 for k in range(40_001)]
    points = sorted(
        [(-560.0, 0.0), (560.0, 0.0)]
        + [(mean * math.cos(a), height - radius + mean * math.sin(a)) for a in turns]
    )
    hull: list[tuple[float, float]] = []
    for x, y in points:
        while len(hull) > 1 and _left(hull[-2], hull[-1], (x, y)) >= 0:
            hull.pop()
        hull.append((x, y))
    pairs = itertools.pairwise(hull)
    return sum(math.dist(a, b) for a, b in pairs)


def _left(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


@pytest.mark.parametrize("station", range(7))
@pytest.mark.parametrize("rise", [0.0, 7.5])
def test_girths_against_a_taut_string(station: int, rise: float) -> None:
    have = answer(
        "block_girth", "mm", "girth", thickness="0.914 mm", radius=f"{RADII[station]} mm",
        height=f"{420 + CROWNS[station] + rise} mm", spread="1120 mm",
    )  # fmt: skip
    assert have == pytest.approx(taut(RADII[station], CROWNS[station], rise, 0.914), abs=0.001)


@pytest.mark.parametrize(
    ("result", "unit", "printed"),
    [("strain", "%", "12.00"), ("true", "", "0.1133")],
)
def test_true_strain(result: str, unit: str, printed: str) -> None:
    # Strength of materials: e = 0.12 is a true strain of 0.1133.
    sheet = {"thickness": "1 mm", "girth": "1120 mm", "jaw_to_jaw": "1000 mm", "square": "50 mm"}
    have = answer("stretch_strain", unit, result, **sheet)
    assert have == pytest.approx(float(printed), abs=half_a_digit(printed))


@pytest.mark.parametrize(("result", "printed"), [("free", "1.1655"), ("held", "1.1321")])
def test_thickness_by_constant_volume(result: str, printed: str) -> None:
    # 1.2 mm stretched by 6 %: t/√(1 + e) and t/(1 + e), from memory.
    sheet = {"thickness": "1.2 mm", "girth": "1060 mm", "jaw_to_jaw": "1000 mm", "square": "50 mm"}
    have = answer("stretch_strain", "mm", result, **sheet)
    assert have == pytest.approx(float(printed), abs=half_a_digit(printed))


@pytest.mark.parametrize(
    ("strain", "printed"), [("1 %", "50.50"), ("2.5 %", "51.25"), ("4 %", "52.00")]
)
def test_what_a_grid_of_50_mm_reads(strain: str, printed: str) -> None:
    # Visible arithmetic: 50 (1 + e).
    girth = f"{1000 * (1 + float(strain.split()[0]) / 100)} mm"
    sheet = {"thickness": "1 mm", "girth": girth, "jaw_to_jaw": "1000 mm", "square": "50 mm"}
    assert answer("stretch_strain", "mm", "reading", **sheet) == pytest.approx(float(printed))


def test_force_of_a_strip() -> None:
    # 6061-O, K 205 MPa, n 0.20 (Kalpakjian & Schmid, table 2.3): 500 mm of 1.6 mm at 5 %.
    sheet = {"thickness": "1.6 mm", "strain": "5 %", "strength": "205 MPa", "hardening": "0.2"}
    assert 0.5 * answer("strip_load", "N/mm", "load", **sheet) == pytest.approx(85.3731, abs=0.01)
    assert answer("strip_load", "MPa", "stress", **sheet) == pytest.approx(112.052, abs=0.001)


def test_a_held_sheet_of_a_perfect_metal_is_as_hard_as_von_mises_says() -> None:
    # Plane strain against plain tension: 2/√3 (Hosford & Caddell, from memory); n of next to 0.
    sheet = {"thickness": "1 mm", "strain": "1 %", "strength": "100 MPa", "hardening": "0.02"}
    held, free = (answer(name, "MPa", "stress", **sheet) for name in ("stretch_load", "strip_load"))
    assert held / free == pytest.approx(2 / math.sqrt(3) * (2 / math.sqrt(3)) ** 0.02, rel=5e-4)


def test_friction_over_a_block() -> None:
    # T2/T1 = exp(μ θ): 1.07231 for μ 0.10 over 40° (from memory).
    pulled = {"load": "167.862 N/mm", "friction": "0.1", "wrap": "40°"}
    assert answer("jaw_pull", "N/mm", "jaw", **pulled) == pytest.approx(180.0, abs=0.01)
    lift = answer("jaw_pull", "N/mm", "lift", **pulled)
    assert lift == pytest.approx(2 * 180.0 * math.sin(math.radians(40)), abs=0.02)


def test_pressure_of_a_membrane() -> None:
    # Marciniak, Hu & Duncan (from memory): p = T/R, 180 N/mm on 900 mm.
    assert answer("block_pressure", "MPa", load="180 N/mm", radius="900 mm") == pytest.approx(0.2)


@pytest.mark.parametrize(
    ("strength", "hardening", "strain", "stress", "tensile"),
    [
        ("180 MPa", "0.20", 22.14, 130.46, 106.81),  # 1100-O, Kalpakjian & Schmid, table 2.3
        ("205 MPa", "0.20", 22.14, 148.58, 121.65),  # 6061-O
        ("690 MPa", "0.16", 17.35, 514.65, 438.55),  # 2024-T4
    ],
)
def test_where_a_strip_necks(
    strength: str, hardening: str, strain: float, stress: float, tensile: float
) -> None:
    coupon = {"strength": strength, "hardening": hardening}
    have = [
        answer("necking_strain", unit, name, **coupon)
        for unit, name in (("%", "strain"), ("MPa", "stress"), ("MPa", "strength"))
    ]
    assert have == pytest.approx([strain, stress, tensile], abs=0.01)


def test_least_strain_that_sets_a_sheet() -> None:
    # Hosford & Caddell (from memory): 1.2/1800 + 0.00115 = 0.1817 %.
    sheet = {"thickness": "1.2 mm", "radius": "900 mm"}
    metal = {"yield_strength": "80.5 MPa", "modulus": "70000 MPa"}
    assert answer("strain_for_set", "%", **sheet, **metal) == pytest.approx(0.1817, abs=0.0001)


# The demo skin, from a separate program: rise, least and most strain, lift in kN, gauge in bar.
@pytest.mark.parametrize(
    ("rise", "least", "most", "lift", "gauge"),
    [
        ("-5 mm", 0.45, 2.19, 255, 384),
        ("-2.5 mm", 0.73, 2.47, 266, 400),
        ("0 mm", 1.02, 2.76, 275, 414),
        ("2.5 mm", 1.30, 3.04, 283, 427),
        ("5 mm", 1.59, 3.32, 290, 438),
        ("10 mm", 2.16, 3.90, 303, 457),
        ("15 mm", 2.74, 4.47, 314, 474),
    ],
)
def test_the_demo_table(rise: str, least: float, most: float, lift: float, gauge: float) -> None:
    assert forming("least", "%", rise=rise) == pytest.approx(least, abs=0.006)
    assert forming("most", "%", rise=rise) == pytest.approx(most, abs=0.006)
    assert forming("lift", "kN", rise=rise) == pytest.approx(lift, abs=0.6)
    assert forming("gauge", "bar g", rise=rise) == pytest.approx(gauge, abs=0.6)


def test_the_demo_stations() -> None:
    strains = [forming(f"stations.{k}.strain", "%") for k in range(1, 8)]
    assert strains == pytest.approx([1.30, 2.25, 2.86, 3.04, 2.91, 2.37, 1.50], abs=0.006)
    reads = [forming(f"stations.{k}.reading", "mm") for k in range(1, 8)]
    assert reads == pytest.approx([50.65, 51.12, 51.43, 51.52, 51.45, 51.19, 50.75], abs=0.006)
    thick = [forming(f"stations.{k}.thickness", "mm") for k in range(1, 8)]
    assert thick == pytest.approx([0.902, 0.894, 0.889, 0.887, 0.888, 0.893, 0.901], abs=0.0006)


def test_the_demo_sizing() -> None:
    # Second reader's figures: 187 kN at the jaws, 472 bar, 0.882 mm at the thinnest.
    assert sizing("pull", "kN") == pytest.approx(187, abs=0.6)
    assert sizing("gauge", "bar g") == pytest.approx(472, abs=0.6)
    assert sizing("thinnest", "mm") == pytest.approx(0.882, abs=0.0006)
    assert sizing("least", "%") == pytest.approx(0.55, abs=0.02)


def verdict(name: str, facts: dict[str, Any], **more: Any) -> str:
    from tests.calculations.asking import ran

    results = {r.name: r for r in ran(_named(name), facts | DEMO | more).results}
    words = (results["verdict"].shown, results["stopped_by"].shown)
    return " ".join(words).removesuffix(" -")


def _named(name: str) -> Any:
    from generator.calculations import calculations

    return calculations()[name]


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({}, "GO"),
        ({"rise": "-2.5 mm"}, "NO-GO strain low"),
        ({"rise": "15 mm"}, "NO-GO strain high"),
        ({"rise_within": "3 mm"}, "NO-GO strain low"),
        ({"least_thickness": "0.89 mm"}, "NO-GO too thin"),
        ({"thinnest": "0.88 mm"}, "NO-GO too thin"),
        ({"most_gauge": "420 bar g"}, "NO-GO gauge"),
        ({"thickest": "1.1 mm"}, "NO-GO gauge"),
        ({"most_pull": "160 kN"}, "NO-GO jaw pull"),
        ({"most_pressure": "0.3 MPa"}, "NO-GO block"),
    ],
)
def test_the_limit_that_stops_a_first_pass_is_named(more: dict[str, str], says: str) -> None:
    assert verdict("stretch_forming", FORMING, **more) == says


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({}, "GO"),
        ({"rise": "5 mm"}, "NO-GO too little"),
        ({"rise": "10 mm"}, "NO-GO too much"),
        ({"formed_within": "2 mm"}, "NO-GO too little"),
        ({"most_strain": "3.5 %"}, "NO-GO strain high"),
        ({"thinnest": "0.88 mm"}, "NO-GO too thin"),
        ({"most_gauge": "470 bar g"}, "NO-GO gauge"),
    ],
)
def test_the_limit_that_stops_a_second_pass_is_named(more: dict[str, str], says: str) -> None:
    assert verdict("stretch_sizing", SIZING, **more) == says


WINDOW = {k: v for k, v in (FORMING | DEMO).items() if k not in ("rise", "square", "thickness")}


def test_the_window_of_rises_is_where_the_verdict_turns() -> None:
    low, high = (
        round(answer("stretch_rises", "mm", f"rise.{end}", **WINDOW), 4) for end in ("from", "to")
    )
    for rise, says in (
        (low - 0.01, "NO-GO strain low"), (low + 0.01, "GO"),
        (high - 0.01, "GO"), (high + 0.01, "NO-GO strain high"),
    ):  # fmt: skip
        assert verdict("stretch_forming", FORMING | {"most_gauge": "700 bar g"},
                       most_pressure="1 MPa", rise=f"{rise:.4f} mm") == says  # fmt: skip


@pytest.mark.parametrize(
    ("more", "wrong"),
    [
        ({"most_strain": "2.6 %"}, "the most strain"),
        ({"most_gauge": "410 bar g"}, "the gauge"),
        ({"most_pressure": "0.32 MPa"}, "the block"),
        ({"least_thickness": "0.891 mm"}, "the least thickness"),
    ],
)
def test_a_window_with_nothing_in_it_says_which_limit_to_move_and_how_far(
    more: dict[str, str], wrong: str
) -> None:
    with pytest.raises(Refusal, match=f"no rise goes: .*{wrong} allows") as refused:
        answer("stretch_rises", "mm", "rise.from", **(WINDOW | more))
    moved = re.fullmatch(
        rf"{wrong} moved by \S+ to (.+), or the least strain moved by \S+ to (.+ %)",
        refused.value.right,
    )
    assert moved is not None
    limit = next(iter(more))
    number, shown = moved[1].split(" ", 1)
    up = 0.999 if limit == "least_thickness" else 1.001
    for enough in ({limit: f"{float(number) * up:.4f} {shown}"},
                   {"least_strain": f"{float(moved[2][:-2]) - 0.01:.2f} %"}):  # fmt: skip
        answer("stretch_rises", "mm", "rise.from", **(WINDOW | more | enough))


@pytest.mark.parametrize(
    ("more", "wrong"),
    [
        ({"stations": BLOCK[::-1]}, "comes after"),
        ({"stations": BLOCK[:1]}, "1 station"),
        ({"spread": "400 mm"}, "jaws stand inside the block"),
        ({"height": "-100 mm"}, "does not reach the block"),
        ({"jaw_to_jaw": "1480 mm"}, "true strain"),
        ({"hardening": "0.02"}, "true strain"),
        ({"thinnest": "0.95 mm"}, "allowed 0.95 to"),
    ],
)
def test_a_setting_that_cannot_be_is_refused(more: dict[str, Any], wrong: str) -> None:
    with pytest.raises(Refusal) as refused:
        forming("least", "%", **more)
    assert wrong in refused.value.wrong
