"""British threads, wires and tapping drills against print; the source stands beside each check."""

from __future__ import annotations

import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, results

BOLT = ("major.to", "major.from", "effective.to", "effective.from")


# BS 84 as tabulated by a fastener supplier and a threading-tables sheet, BSW: effective, minor, in.
BSW = {
    "1/8": (0.109, 0.093), "5/32": (0.1362, 0.1162), "3/16": (0.1608, 0.1341),
    "7/32": (0.192, 0.1654), "1/4": (0.218, 0.186), "5/16": (0.2769, 0.2414),
    "3/8": (0.335, 0.295), "7/16": (0.3918, 0.346), "1/2": (0.4467, 0.3933),
    "9/16": (0.5091, 0.4559), "5/8": (0.5668, 0.5086), "3/4": (0.686, 0.622),
    "7/8": (0.8039, 0.7327), "1": (0.92, 0.84),
}  # fmt: skip
# BS 84:2007 series (open specification document), BSF, diameters by the form: effective, minor, in.
BSF = {
    "3/16": (0.1675, 0.1475), "7/32": (0.1959, 0.173), "1/4": (0.2254, 0.2007),
    "9/32": (0.2566, 0.232), "5/16": (0.2834, 0.2543), "3/8": (0.343, 0.311),
    "7/16": (0.4019, 0.3664), "1/2": (0.46, 0.42), "9/16": (0.5225, 0.4825),
    "5/8": (0.5793, 0.5335), "11/16": (0.6418, 0.596), "3/4": (0.6966, 0.6433),
    "13/16": (0.7591, 0.7058), "7/8": (0.8168, 0.7586), "1": (0.936, 0.8719),
    "1-1/8": (1.0539, 0.9827), "1-1/4": (1.1789, 1.1077), "1-1/2": (1.42, 1.3399),
}  # fmt: skip


@pytest.mark.parametrize(
    ("series", "size", "printed"),
    [("BSW", *row) for row in BSW.items()] + [("BSF", *row) for row in BSF.items()],
)
def test_whitworth_sizes(series: str, size: str, printed: tuple[float, float]) -> None:
    have = [
        answer("thread_whitworth", "in", of, series=series, size=size)
        for of in ("effective", "minor")
    ]
    assert have == pytest.approx(printed, abs=0.00013)


# BS 93:1951 design rule: pitch 0.9^n mm, diameter 6 p^1.2 mm, both to two figures; diameters in
# inches from an encyclopedia's copy of the table (12 BA .0511 there, .0512 by arithmetic).
INCHES = (
    0.2362,
    0.2087,
    0.185,
    0.1614,
    0.1417,
    0.126,
    0.1102,
    0.0984,
    0.0866,
    0.0748,
    0.0669,
    0.0591,
    0.0511,
)


@pytest.mark.parametrize("number", range(17))
def test_ba_sizes(number: int) -> None:
    have = {
        of: answer("thread_ba", "mm", of, ba=str(number))
        for of in ("pitch", "major", "effective", "minor")
    }
    pitch = 0.9**number
    assert have["pitch"] == pytest.approx(pitch, abs=0.005)
    assert have["major"] == pytest.approx(6 * pitch**1.2, abs=0.05)
    depth = round(0.6 * have["pitch"] / 0.005) * 0.005
    assert have["effective"] == pytest.approx(have["major"] - depth, abs=0.0051)
    assert have["minor"] == pytest.approx(have["major"] - 2 * depth, abs=0.0101)
    if number < len(INCHES):
        assert have["major"] / 25.4 == pytest.approx(INCHES[number], abs=0.00011)


# BS 84:2007 formulas worked by hand for one diameter engaged: T, in. Free is one and a half T, close
# two thirds; nuts alike (Machinery's Handbook, as an open specification document has them).
@pytest.mark.parametrize(("size", "tolerance"), [("1/4", 0.00374), ("3/8", 0.0044)])
def test_whitworth_tolerances(size: str, tolerance: float) -> None:
    engaged = {"1/4": "0.25 in", "3/8": "0.375 in"}[size]
    typed = {"series": "BSF", "size": size, "engaged": engaged}
    shares = {"close": 2 / 3, "medium": 1, "free": 1.5}
    for name, share in shares.items():
        high, low = (answer("whitworth_bolt_limits", "in", of, bolt_class=name, **typed)
                     for of in ("effective.to", "effective.from"))  # fmt: skip
        assert high - low == pytest.approx(share * tolerance, abs=0.00001)
        nut_class = "normal" if name == "free" else name
        top = answer("whitworth_nut_limits", "in", "effective.to", nut_class=nut_class, **typed)
        assert top - high == pytest.approx(share * tolerance, abs=0.00001)


# BS 93:2008 annex B: tolerances from the pitch, mm.
@pytest.mark.parametrize("number", ["0", "2", "4", "6", "10"])
def test_ba_tolerances(number: str) -> None:
    pitch = answer("thread_ba", "mm", "pitch", ba=number)
    wanted = {"close": (0.15 * pitch, 0.08 * pitch + 0.02, 0.0),
              "normal": (0.20 * pitch, 0.10 * pitch + 0.025, 0.025)}  # fmt: skip
    for name, (crest, flank, down) in wanted.items():
        ends = {of: answer("ba_bolt_limits", "mm", of, ba=number, bolt_class=name) for of in BOLT}
        assert ends["major.to"] - ends["major.from"] == pytest.approx(crest)
        assert ends["effective.to"] - ends["effective.from"] == pytest.approx(flank)
        assert answer("thread_ba", "mm", "major", ba=number) - ends["major.to"] == pytest.approx(
            down, abs=1e-9
        )
    minor, effective = (
        answer("ba_nut_limits", "mm", f"{of}.to", ba=number)
        - answer("ba_nut_limits", "mm", f"{of}.from", ba=number)
        for of in ("minor", "effective")
    )
    assert (minor, effective) == pytest.approx((0.375 * pitch, 0.12 * pitch + 0.03))


def test_normal_class_from_11_ba_is_refused() -> None:
    # BS 93:2008 annex B.4.1: from 11 BA the normal class has 0.25 P in place of 0.20 P.
    with pytest.raises(Refusal, match="finer than 10 BA"):
        results("ba_bolt_limits", ba="11", bolt_class="normal")


SIXTY, WHITWORTH, BA = "metric or Unified, 60°", "Whitworth, 55°", "BA, 47.5°"


@pytest.mark.parametrize(
    ("form", "wire", "groove"),
    [(SIXTY, 3.0, 0.866025), (WHITWORTH, 3.1657, 0.960491), (BA, 3.4829, 1.13634)],
)
def test_constants_of_three_wires(form: str, wire: float, groove: float) -> None:
    # Jones, Turning and Boring (1914): 3 W and 3.1657 W; groove 1.732 p less the depth of the form,
    # 0.960491 p for Whitworth; BA 3.4829 and 1.13634 (a public calculator of British wires).
    typed = {"pitch": "1 mm", "lower": "10 mm", "upper": "10 mm", "form": form}
    best = answer("best_wire", "mm", pitch="1 mm", form=form)
    two = [
        answer("over_wires", "mm", "over.to", wire=f"{best * s:.6f} mm", **typed)
        for s in (0.95, 1.05)
    ]
    slope = (two[1] - two[0]) / (0.1 * best)
    assert slope == pytest.approx(wire, abs=0.0001)
    assert 10 + wire * best * 0.95 - two[0] == pytest.approx(groove, abs=0.0001)


# Three-wire relation worked by hand on ISO 965-2 limits: pitch, effective, size over best wires, mm.
WIRES = [(1.0, 5.324, 6.1902), (1.25, 7.16, 8.2426), (1.5, 8.994, 10.293), (1.5, 8.862, 10.161)]


@pytest.mark.parametrize(("pitch", "effective", "over"), WIRES)
def test_over_best_wires(pitch: float, effective: float, over: float) -> None:
    best = answer("best_wire", "mm", pitch=f"{pitch} mm", form=SIXTY)
    assert best == pytest.approx(0.57735 * pitch, abs=0.00001)
    typed = {"lower": f"{effective} mm", "upper": f"{effective} mm", "wire": f"{best:.6f} mm"}
    have = answer("over_wires", "mm", "over.to", pitch=f"{pitch} mm", form=SIXTY, **typed)
    assert have == pytest.approx(over, abs=0.0005)


def test_wires_of_a_whitworth_thread() -> None:
    # Jones's relation with BS 84 basic sizes: 1/4 BSF, best wire 0.0217, 0.2571 in over wires.
    best = answer("best_wire", "in", pitch="0.0384615 in", form=WHITWORTH)
    assert best == pytest.approx(0.0217, abs=0.00005)
    typed = {"lower": "0.2254 in", "upper": "0.2254 in", "wire": f"{best:.6f} in"}
    have = answer("over_wires", "in", "over.to", pitch="0.0384615 in", form=WHITWORTH, **typed)
    assert have == pytest.approx(0.2571, abs=0.0001)


def test_jones_example_of_three_wires() -> None:
    # Jones, Turning and Boring (1914), fig. 27: 1 1/2 in, 6 threads, wires 0.140 in: 1.6674 in. Its
    # wire is far from the best one, so the relation is asked at two wires and drawn on from there.
    pitch, major = 1 / 6, 1.5
    effective = major - 0.649519 * pitch
    typed = {
        "pitch": f"{pitch:.7f} in",
        "lower": f"{effective:.6f} in",
        "upper": f"{effective:.6f} in",
    }
    one, other = (
        answer("over_wires", "in", "over.to", wire=f"{w} in", form=SIXTY, **typed)
        for w in (0.09, 0.1)
    )
    assert other + (other - one) / 0.01 * 0.04 == pytest.approx(1.6674, abs=0.0001)


def test_a_wire_far_from_the_best_is_refused() -> None:
    typed = {"pitch": "1 mm", "lower": "5.2 mm", "upper": "5.3 mm", "form": SIXTY}
    with pytest.raises(Refusal, match="wire over best wire comes to"):
        results("over_wires", wire="0.65 mm", **typed)


# BSF tapping drills of a supplier equal the minor diameter; BS 1157 style drills for BSW, mm, leave
# 80 to 93 % of the thread: larger than the minor diameter and smaller than the effective one.
BSF_DRILLS = {"3/16": 0.148, "7/32": 0.173, "1/4": 0.201, "5/16": 0.254, "3/8": 0.311, "7/16": 0.366,
              "1/2": 0.42, "9/16": 0.483, "5/8": 0.534, "3/4": 0.643, "7/8": 0.759}  # fmt: skip
BSW_DRILLS = {"1/8": 2.55, "3/16": 3.7, "1/4": 5.1, "5/16": 6.5, "7/16": 9.25, "1/2": 10.5, "9/16": 12.1,
              "5/8": 13.5, "7/8": 19.25, "1": 22.0}  # fmt: skip


def test_british_drills_stand_at_the_minor_diameter() -> None:
    for size, drill in BSF_DRILLS.items():
        assert answer("thread_whitworth", "in", "minor", series="BSF", size=size) == pytest.approx(
            drill, abs=0.0006
        )
    for size, drill in BSW_DRILLS.items():
        minor, effective = (
            answer("thread_whitworth", "mm", of, series="BSW", size=size)
            for of in ("minor", "effective")
        )
        assert minor < drill < effective
