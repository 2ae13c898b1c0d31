"""Sine bars, gauge blocks, wires and rods against print, brute force and an integration by scipy."""

from __future__ import annotations

import itertools
import math
import random
from typing import Any

import pytest
from scipy.integrate import quad, solve_ivp

from generator.calculations.gauge_search import PARTS, Shelf, fewest_again, in_steps, near
from generator.findings import Refusal
from generator.tables import find_row
from tests.calculations.asking import answer, results

# Sine bar of 5 in: angle (°) and height (in), as printed, and where.
PRINTED = [
    (27.0, 2.270, "a metrology distributor's learning page, worked example"),
    (18.0, 1.545, "a public shop reference page"),
    (34.416667, 2.826, "Walsh, Handbook of Machining and Metalworking Calculations, ch. 4"),
    (30.0, 2.500, "definition of the sine (from memory)"),
]


@pytest.mark.parametrize(("angle", "height", "where"), PRINTED)
def test_published_heights(angle: float, height: float, where: str) -> None:
    typed = {"angle": f"{angle}°", "bar": "5 in", "error": "0.0001 in"}
    assert answer("sine_bar", "in", "stack", **typed) == pytest.approx(height, abs=0.0005), where


def test_error_of_the_angle_for_an_error_of_the_stack() -> None:
    # A machining forum's figures for 0.0001 in on a bar of 5 in: 0.00132° at 30°, 0.00229° at 60°.
    typed = {"bar": "5 in", "error": "0.0001 in"}
    have = answer("sine_bar", "°", "off", angle="30°", **typed)
    assert have == pytest.approx(0.00132, abs=0.00001)
    with pytest.raises(Refusal) as caught:
        results("sine_bar", angle="60°", **typed)
    assert "set the other angle" in caught.value.right
    # What is set instead, 30°, has 0.00132° and not the 0.00229° that 60° would have had.
    assert 0.00229 / have == pytest.approx(math.cos(math.radians(30)) / 0.5, rel=0.01)


@pytest.mark.parametrize(
    ("angle", "height"),
    # The demo strip of a 200 mm bar, worked in a separate program; 7.5°: h = L sin θ, from memory.
    [(3.40, 11.861), (3.45, 12.035), (3.50, 12.210), (3.55, 12.384), (3.60, 12.558),
     (3.65, 12.732), (7.5, 26.105)],
)  # fmt: skip
def test_bar_of_200_mm(angle: float, height: float) -> None:
    typed = {"angle": f"{angle}°", "bar": "200 mm", "error": "0.001 mm"}
    assert answer("sine_bar", "mm", "stack", **typed) == pytest.approx(height, abs=0.0005)


def test_above_45_degrees_nothing_is_printed() -> None:
    typed = {"bar": "100 mm", "block_set": "46 metric", "within": "0.001 mm", "most": "5"}
    assert results("sine_stacks", angles=["45°"], **typed)
    for name, more in (("sine_stacks", typed | {"angles": ["45.1°"]}),
                       ("sine_bar", {"angle": "45.1°", "bar": "200 mm", "error": "0.001 mm"})):  # fmt: skip
        with pytest.raises(Refusal) as caught:
            results(name, **more)
        assert caught.value.wrong.endswith("45.1 ° is out of range")


SETS = ["46 metric", "87 metric", "112 metric", "81 inch"]


def blocks_of(name: str) -> list[float]:
    return [
        float(b.split()[0])
        for b in find_row("gauge_blocks", {"block_set": name})["blocks"].split(", ")
    ]


@pytest.mark.parametrize("name", SETS)
def test_a_set_has_as_many_blocks_as_its_name_says_each_once(name: str) -> None:
    blocks = blocks_of(name)
    assert len(blocks) == len(set(blocks)) == int(name.split()[0])


@pytest.mark.parametrize("name", SETS)
def test_every_step_of_the_usual_range_can_be_made(name: str) -> None:
    # What such sets are sold for (from memory): every 0.001 mm, or 0.0001 in, from 4 mm (0.4 in).
    inch = name.endswith("inch")
    sizes, part = in_steps(blocks_of(name), 1.0)
    wanted = range(4000, 20000, 37) if not inch else range(4000, 20000, 61)
    shelf = Shelf(sizes, part, 21 * PARTS, 5)
    for n in wanted:
        height = n * PARTS // (10000 if inch else 1000)
        stack = shelf.fewest(height)
        assert stack is not None and sum(stack) == height, n
        assert len(set(stack)) == len(stack) and set(stack) <= set(sizes)


def test_the_stack_is_the_fewest_of_all_choices_of_blocks() -> None:
    draw = random.Random(3)
    for _ in range(60):
        sizes = sorted(draw.sample(range(1, 60), 9), reverse=True)
        shelf = Shelf(sizes, 1, 250, 5)
        sums: dict[int, list[tuple[int, ...]]] = {}
        for count in range(1, 6):
            for choice in itertools.combinations(sizes, count):
                sums.setdefault(sum(choice), []).append(choice)
        for height in range(1, 200):
            found = sums.get(height)
            least = min(map(len, found)) if found else 0
            best = list(max(c for c in found if len(c) == least)) if found else None
            assert shelf.fewest(height) == best == fewest_again(sizes, height, 5)


def test_heights_nearest_to_the_wanted_come_first() -> None:
    assert list(near(1003.4, 5, 7)) == [1005, 1000, 1010]
    assert list(near(3.0, 5, 6)) == [5]


def test_a_height_that_no_blocks_make_is_refused() -> None:
    with pytest.raises(Refusal) as caught:
        results("sine_stacks", angles=["3.896°"], bar="200 mm", block_set="46 metric",
                within="0.001 mm", most="2")  # fmt: skip
    assert caught.value.wrong == "no 2 blocks of the set make 13.5891, the stack of angle 1"


def test_an_inch_set_is_told_in_inches() -> None:
    # 5 in · sin 27° = 2.26995 in: 2 + 0.149 + 0.1209 is no choice (0.1209 is no block).
    typed: dict[str, Any] = {
        "angles": ["27°"], "bar": "5 in", "block_set": "81 inch", "within": "0.0001 in", "most": "5",
    }  # fmt: skip
    made = results("sine_stacks", **typed)["1.blocks"].shown
    assert sum(float(each) for each in made.split(" + ")) == pytest.approx(2.27, abs=0.00005)


# --- wires and rods ----------------------------------------------------------------------------

WIRE = {
    "diameter": "0.4 mm", "density": "7850 kg/m³", "tension": "60 N", "stands": "1000 mm",
    "zeroed": "0 mm", "most": "0.5 mm",
}  # fmt: skip
ROD = {"diameter": "8 mm", "density": "7850 kg/m³", "modulus": "205 GPa"}


def test_the_demo_wire() -> None:
    # The demo scenario: 0.4 mm at 60 N over 1 m sags 0.020 mm.
    assert answer("wire_sag", "mm", "middle", place="500 mm", **WIRE) == pytest.approx(
        0.020, abs=0.0005
    )


def test_a_wire_hangs_in_a_catenary() -> None:
    # The exact curve, a cosh(x/a), a = horizontal tension over weight a length (any text on
    # statics): the parabola is nearer than a micron where the sag is a two-thousandth of the span.
    weight = 7850 * 9.80665 * math.pi / 4 * 0.0004**2
    a = 60 / weight
    for x in (0.0, 0.1, 0.35, 0.5, 0.8):
        exact = a * (math.cosh(0.5 / a) - math.cosh((x - 0.5) / a))
        have = answer("wire_sag", "mm", "here", place=f"{1000 * x:g} mm", **WIRE)
        assert have == pytest.approx(1000 * exact, abs=1e-6)


def test_a_slack_wire_is_no_datum() -> None:
    with pytest.raises(Refusal) as caught:
        results("wire_sag", place="500 mm", **(WIRE | {"tension": "2 N"}))
    assert "more tension or a thinner wire" in caught.value.wrong


@pytest.mark.parametrize("name", ["place", "zeroed"])
def test_nothing_hangs_beyond_a_stand(name: str) -> None:
    with pytest.raises(Refusal) as caught:
        results("wire_sag", **(WIRE | {"place": "500 mm"} | {name: "1000.1 mm"}))
    assert "beyond the other one" in caught.value.wrong


def deflection(length: float) -> float:
    """The middle of the rod by E I y'' = −w x (L − x) / 2, shot from one end (scipy)."""
    weight, stiff = 7850 * 9.80665 * math.pi / 4 * 0.008**2, 205e9 * math.pi * 0.008**4 / 64

    def bent(x: float, y: list[float]) -> list[float]:
        return [y[1], -weight * x * (length - x) / 2 / stiff]

    start = quad(lambda x: weight * x * (length - x) / 2 / stiff, 0, length / 2)[0]
    made = solve_ivp(bent, (0, length / 2), [0.0, start], rtol=1e-10, atol=1e-14)
    return float(made.y[0][-1])


@pytest.mark.parametrize("span", [200, 425, 960, 1500])
def test_rod_by_its_differential_equation(span: int) -> None:
    have = answer("rod_span", "mm", "sag", span=f"{span} mm", most="1 mm", **ROD)
    assert have == pytest.approx(1000 * deflection(span / 1000), rel=1e-6)


def test_the_demo_rod_is_refused_as_a_straight_line() -> None:
    # The demo scenario has 1.03 mm, which is steel of 7800 kg/m³ at 205 GPa; 7850 gives 1.04.
    have = answer(
        "rod_span", "mm", "sag", span="960 mm", most="0.04 mm", **(ROD | {"density": "7800 kg/m³"})
    )
    assert have == pytest.approx(1.03, abs=0.005)
    with pytest.raises(Refusal) as caught:
        results("rod_datum", span="960 mm", most="0.04 mm", **ROD)
    assert "this rod sags 1.038" in caught.value.wrong


def test_the_longest_span_of_a_rod_is_where_its_use_as_a_datum_ends() -> None:
    longest = answer("rod_span", "mm", "longest", span="960 mm", most="0.04 mm", **ROD)
    assert results("rod_datum", span=f"{longest - 0.01:.3f} mm", most="0.04 mm", **ROD)
    with pytest.raises(Refusal):
        results("rod_datum", span=f"{longest + 0.01:.3f} mm", most="0.04 mm", **ROD)


def test_thermal_length_of_the_demo() -> None:
    # The demo scenario: 960 mm of light alloy, 8 K: 0.18 mm.
    typed = {"structure": "aluminium 2024", "length": "960 mm", "measured": "20 °C"}
    assert answer("thermal_length", "mm", "growth", used="28 °C", **typed) == pytest.approx(
        0.18, abs=0.005
    )
    assert answer("thermal_length", "mm", "growth", used="12 °C", **typed) == pytest.approx(
        -0.18, abs=0.005
    )
