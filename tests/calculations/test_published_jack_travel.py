"""Jacks that lift a leg, and triggers of a door, against triangles and brute force.

No published case is known of either: the checks are closed forms, and searches that share no line
with the program.
"""

from __future__ import annotations

import math
import random

import numpy as np
import pytest

from generator.findings import Refusal
from tests.calculations.asking import answer, results
from tests.calculations.test_published_mechanisms import DEMO, NUMBERS, brute

# --- the load of a jack over its stroke --------------------------------------------------------

EQUAL = {
    "lug": "100 mm", "ahead": "0°", "across": "100 mm", "up": "0 mm", "weight": "1000 N",
    "middle": "600 mm", "friction": "0 N·m", "lifts": "pull", "bore": "50 mm", "rod": "25 mm",
    "efficiency": "100 %",
}  # fmt: skip
SWING = {"from_leg": "0°", "to_leg": "60°", "pressure": "70 bar g"}


@pytest.mark.parametrize("leg", [1, 20, 45, 60, 80])
def test_a_triangle_of_two_equal_sides(leg: int) -> None:
    # Axis to lug and axis to pin are both 100 mm: the jack is a chord, its arm the height over it.
    half = math.radians(90 - leg) / 2
    typed = EQUAL | {"leg": f"{leg}°"}
    assert answer("jack_load", "mm", "length", **typed) == pytest.approx(200 * math.sin(half))
    assert answer("jack_load", "mm", "arm", **typed) == pytest.approx(100 * math.cos(half))
    force = 1000 * 0.6 * math.sin(math.radians(leg)) / (0.1 * math.cos(half))
    assert answer("jack_load", "N", "force", **typed) == pytest.approx(force)
    ring = math.pi / 4 * (50**2 - 25**2)
    assert answer("jack_load", "bar g", "pressure", **typed) == pytest.approx(10 * force / ring)


def test_a_jack_that_pushes_from_the_other_side_works_on_its_bore() -> None:
    # Mirrored: the pin left of the axis, so that the jack becomes longer as the leg swings up.
    typed = EQUAL | {"leg": "30°", "across": "-100 mm", "lifts": "push"}
    half = math.radians(90 + 30) / 2
    assert answer("jack_load", "mm", "arm", **typed) == pytest.approx(100 * math.cos(half))
    force = answer("jack_load", "N", "force", **typed)
    assert force == pytest.approx(300 / (0.1 * math.cos(half)))
    pressure = answer("jack_load", "bar g", "pressure", **typed)
    assert pressure == pytest.approx(10 * force / (math.pi / 4 * 50**2))


def test_a_jack_that_pulls_the_wrong_way_is_refused() -> None:
    with pytest.raises(Refusal, match="does not lift here"):
        results("jack_load", **EQUAL | {"leg": "30°", "lifts": "push"})
    with pytest.raises(Refusal, match="dead centre"):
        results("jack_over_stroke", **EQUAL | SWING | {"lifts": "push"})


def test_the_dead_centre_of_a_jack_is_told_with_its_angle() -> None:
    # Axis, lug and pin come into line at 90° of the leg; there the triangle of two equal sides of
    # 100 mm has gone flat, its angle is always (90 + leg) / 2. With the pin at 200 mm straight up
    # the line is at 180°: 100 sin of the rest over the length 100 is 5° at 4.99° before it.
    typed = EQUAL | SWING | {"across": "0 mm", "up": "200 mm", "from_leg": "20°", "to_leg": "180°"}
    with pytest.raises(
        Refusal, match=r"at a leg angle of 17[78]\.\d° the jack is within 5°"
    ) as told:
        results("jack_over_stroke", **typed)
    assert "a swing that ends before" in told.value.right


def test_random_jacks_against_the_work_they_do() -> None:
    """numpy: energy of weight and friction by differences, over the length that the jack loses."""
    draw, met = random.Random(8), 0
    for _ in range(60):
        lug, ahead = draw.uniform(80, 250), draw.uniform(-0.3, 0.3)
        pin = complex(draw.uniform(150, 500), draw.uniform(-50, 400))
        weight, middle = draw.uniform(200, 2000), draw.uniform(300, 900)
        ends = draw.uniform(0, 0.3), draw.uniform(0.7, 1.5)
        typed = EQUAL | {
            "lug": f"{lug:.9f} mm", "ahead": f"{math.degrees(ahead):.9f}°", "pressure": "700 bar g",
            "across": f"{pin.real:.9f} mm", "up": f"{pin.imag:.9f} mm", "friction": "20 N·m",
            "weight": f"{weight:.9f} N", "middle": f"{middle:.9f} mm",
            "from_leg": f"{math.degrees(ends[0]):.9f}°", "to_leg": f"{math.degrees(ends[1]):.9f}°",
        }  # fmt: skip
        legs = np.linspace(*ends, 20001)
        lengths = abs(pin - lug * np.exp(1j * (legs + ahead - math.pi / 2)))
        energy = -weight * middle * np.cos(legs) + 20000 * legs
        try:
            came = results("jack_over_stroke", **typed)
        except Refusal as refusal:
            assert "dead centre" in refusal.right + refusal.wrong
            assert np.max(np.diff(lengths) / np.diff(legs)) > -lug * math.sin(math.radians(5.01))
            continue
        met += 1
        most = np.max(np.diff(energy) / -np.diff(lengths))
        assert came["force"].amount is not None and came["stroke"].amount is not None
        assert came["force"].amount.value == pytest.approx(most, rel=1e-3)
        stroke = 1000 * came["stroke"].amount.value
        assert stroke == pytest.approx(max(lengths) - min(lengths), abs=0.01)
    assert met > 20


def test_too_little_pressure_is_refused() -> None:
    # 5379 N on a ring of 1472.6 mm²: 36.5 bar.
    assert results("jack_over_stroke", **EQUAL | SWING | {"pressure": "36.6 bar g"})
    with pytest.raises(Refusal, match="pressure left"):
        results("jack_over_stroke", **EQUAL | SWING | {"pressure": "36.5 bar g"})


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"from_leg": "59.6°"}, "less than half a degree"),
        ({"rod": "50 mm"}, "no thinner than the bore"),
    ],
)
def test_swings_and_rods_that_are_none(more: dict[str, str], told: str) -> None:
    with pytest.raises(Refusal, match=told):
        results("jack_over_stroke", **EQUAL | SWING | more)


# --- the window of a trigger -------------------------------------------------------------------

WINDOW = DEMO | {
    "from_leg": "75°", "earliest": "77°", "shortest": "11°", "wanted": "12 mm",
}  # fmt: skip


def test_window_of_the_demo_trigger_by_brute_force() -> None:
    # SCENARIO 6.4, no published check: 79° is NO-GO with 11.8 mm, 79.5° GO with 14.1; 81° is the
    # end, where the door has 11° left. Brute force finds where 12 and 0.1 mm of the search are met.
    low, high = 79.0, 79.5
    legs = np.arange(80.0, 90.0, 0.02)
    for _ in range(9):
        middle = (low + high) / 2
        least = brute(legs, middle, NUMBERS, 2000).min()
        low, high = (middle, high) if least < 12.1 else (low, middle)
    came = answer("trigger_window", "°", "trigger.from", **WINDOW)
    assert came == pytest.approx(high, abs=0.01)
    shown = results("trigger_window", **WINDOW)
    assert shown["trigger.from"].shown == "79.1"
    assert "bound by the gap" in shown["trigger.from"].fact.meaning
    assert shown["trigger.to"].shown == "81.0"
    assert "bound by the door" in shown["trigger.to"].fact.meaning


def test_a_trigger_with_no_clearance_at_any_setting_is_refused_with_the_best() -> None:
    # SCENARIO 6.4: 20.3 mm at 81°, the last that closes in time; 0.1 mm is the search's.
    with pytest.raises(Refusal, match=r"from 77.0° to 81.0° leaves enough") as told:
        results("trigger_window", **WINDOW | {"wanted": "25 mm"})
    assert "20.2 mm, at 81.0°" in told.value.wrong
    assert "25 mm are wanted" in told.value.right


def test_a_door_that_needs_more_leg_than_there_is() -> None:
    with pytest.raises(Refusal, match=r"81\.0° at the latest, the earliest is 81\.5°"):
        results("trigger_window", **WINDOW | {"earliest": "81.5°"})


def test_a_window_may_end_where_the_gap_does() -> None:
    # Geometry: a round wheel of 12 mm on a leg of 60 mm passes an upright door at 77 mm by 5 mm at
    # 90°. The door is shut early, so that the wheel must be past before it begins to move.
    typed = {
        "wheel_radius": "60 mm", "half_length": "12 mm", "half_width": "12 mm", "fullness": "2",
        "hinge_across": "77 mm", "hinge_up": "20 mm", "door_length": "40 mm", "open_angle": "90°",
        "closed": "120°", "from_leg": "85°", "to_leg": "95°", "wanted": "3 mm",
        "drawing": "0.5 mm",
    }  # fmt: skip
    shown = results("trigger_window", earliest="80°", shortest="21°", **typed)
    assert "bound by the gap" in shown["trigger.from"].fact.meaning
    assert shown["best"].shown == "4.4"
    # At the end of the window the sweep says GO, a tenth of a degree below it NO-GO.
    least = float(shown["trigger.from"].shown)
    for trigger, verdict in ((least, "GO"), (least - 0.15, "NO-GO")):
        swept = results("tyre_door_clearance", trigger=f"{trigger:.2f}°", no_go="show", **typed)
        assert swept["verdict"].shown == verdict


def test_five_degrees_from_a_dead_centre() -> None:
    # 200 sin x over the length is sin 5° where x is 2.50° short of 180° (law of cosines).
    typed = EQUAL | SWING | {"across": "0 mm", "up": "200 mm", "from_leg": "20°"}
    came = results("jack_over_stroke", **typed | {"to_leg": "177.4°"})
    assert float(came["least"].shown) == pytest.approx(5.2, abs=0.11)
    with pytest.raises(Refusal, match="dead centre"):
        results("jack_over_stroke", **typed | {"to_leg": "177.6°"})
