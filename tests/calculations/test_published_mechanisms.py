"""Over-centre locks and clearances against print, triangles and brute force; source beside each."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest

from generator.calculations.clearance import told
from generator.calculations.sweep_search import Tyre, golden, least_gap, to_edge
from generator.findings import Refusal
from tests.calculations.asking import answer, results

# --- over-centre locks -------------------------------------------------------------------------

PINS = {"end_pin": "16 mm", "knee_pin": "16 mm", "friction": "0.12"}


def test_drag_brace_by_the_law_of_cosines() -> None:
    # Triangle with sides 400, 350, 749 (from memory): offset 19.315, angles 2.7678° and 3.1636°.
    typed = {"first": "400 mm", "second": "350 mm", "distance": "749 mm", "count": "0.01 mm"}
    have = [
        answer("over_centre_from_distance", u, n, tolerance="1 mm", **typed)
        for u, n in (("mm", "offset"), ("°", "first"), ("°", "second"))
    ]
    assert have == pytest.approx([19.315, 2.7678, 3.1636], abs=0.001)
    back = answer("over_centre", "mm", "shorter", first="400 mm", second="350 mm",
                  offset=f"{have[0]:.9f} mm", **PINS)  # fmt: skip
    assert back == pytest.approx(1.0, abs=1e-6)


KNEE = {"first": "260 mm", "second": "310 mm"}


@pytest.mark.parametrize(("offset", "past"), [("2.5", 1.01), ("3.0", 1.22), ("3.5", 1.42)])
def test_knee_of_the_demo_leg(offset: str, past: float) -> None:
    # SCENARIO 6.4 and TRADE Y9, no published check: 3.0 mm is 1.22° and 0.032 mm.
    came = results("over_centre", offset=f"{offset} mm", **KNEE, **PINS)
    assert came["past"].amount is not None
    assert came["past"].amount.number() == pytest.approx(past, abs=0.005)
    assert came["eaten"].shown == "1.92"
    if offset == "3.0":
        assert came["shorter"].shown == "0.032"
        assert came["left"].shown == "1.08"


def test_offset_that_friction_eats_whole_is_refused() -> None:
    # Friction circles 2 · 0.12 · 8 mm = 1.92 mm (TRADE Y9).
    assert results("over_centre", offset="1.93 mm", **KNEE, **PINS)
    with pytest.raises(Refusal, match="offset left") as caught:
        results("over_centre", offset="1.91 mm", **KNEE, **PINS)
    assert "more offset" in caught.value.right


def test_a_distance_that_hides_the_offset_is_refused_and_says_what_to_measure() -> None:
    # TRADE Y9: D is short by only 0.032 mm; 0.01 mm on it moves the offset by about 0.5 mm.
    typed = KNEE | {"distance": "569.968 mm", "tolerance": "0.5 mm"}
    with pytest.raises(Refusal, match="one count takes") as caught:
        results("over_centre_from_distance", count="0.01 mm", **typed)
    assert "at the knee, with straightedge and feeler" in caught.value.right
    have = answer("over_centre_from_distance", "mm", "count", count="0.001 mm", **typed)
    assert have == pytest.approx(0.05, abs=0.005)


@pytest.mark.parametrize(
    ("distance", "told"),
    [("570 mm", "further apart"), ("49.9 mm", "no lock near"), ("168.8 mm", "no lock near")],
)
def test_lengths_that_make_no_triangle(distance: str, told: str) -> None:
    with pytest.raises(Refusal, match=told):
        results("over_centre_from_distance", distance=distance, count="0.01 mm",
                tolerance="5 mm", **KNEE)  # fmt: skip


@pytest.mark.parametrize("links", [("310 mm", "260 mm"), ("260 mm", "310 mm")])
def test_either_link_may_be_the_longer(links: tuple[str, str]) -> None:
    with pytest.raises(Refusal, match="no lock near"):
        results("over_centre_from_distance", first=links[0], second=links[1], distance="50 mm",
                count="0.01 mm", tolerance="5 mm")  # fmt: skip


def test_offsets_by_chance() -> None:
    # Pythagoras: the distance is that of two right triangles with one side in common.
    draw = random.Random(4)
    for _ in range(200):
        one, two = draw.uniform(100, 600), draw.uniform(100, 600)
        offset = draw.uniform(5, 25)
        distance = math.sqrt(one**2 - offset**2) + math.sqrt(two**2 - offset**2)
        have = answer(
            "over_centre_from_distance", "mm", "offset", first=f"{one:.9f} mm",
            second=f"{two:.9f} mm", distance=f"{distance:.9f} mm", count="0.0001 mm",
            tolerance="2 mm",
        )  # fmt: skip
        assert have == pytest.approx(offset, abs=1e-5)


@pytest.mark.parametrize(("angle", "ratio"), [(45, 0.5), (10, 2.836), (2, 14.318)])
def test_toggle_of_two_equal_links(angle: int, ratio: float) -> None:
    # Q/P = 0.5 / tan α, mechanism pages (closed form).
    have = answer("toggle_force", "N", angle=f"{angle}°", force="1 N")
    assert have == pytest.approx(ratio, abs=0.001)


# --- clearance ---------------------------------------------------------------------------------

DEMO = {
    "wheel_radius": "820 mm", "half_length": "285 mm", "half_width": "58 mm", "fullness": "6",
    "hinge_across": "1130 mm", "hinge_up": "-95 mm", "door_length": "330 mm", "open_angle": "95°",
    "closed": "92°", "from_leg": "0°", "to_leg": "92°", "drawing": "0 mm",
}  # fmt: skip
# SCENARIO 6.4, no published check (a second program with an outline of 4,000 points): trigger,
# least gap, leg angle.
TRIGGERS = [
    (78, 7.2, 83.2), (79, 11.8, 83.6), (79.5, 14.1, 83.7), (80, 16.2, 83.9), (80.5, 18.3, 84.1),
    (81, 20.3, 84.3), (82, 24.0, 84.6),
]  # fmt: skip


@pytest.mark.parametrize(("trigger", "gap", "leg"), TRIGGERS)
def test_trigger_strip_of_the_demo_leg(trigger: float, gap: float, leg: float) -> None:
    have = [
        answer("tyre_door_clearance", u, n, trigger=f"{trigger}°", wanted="1 mm", **DEMO)
        for u, n in (("mm", "gap"), ("°", "leg"))
    ]
    assert have == pytest.approx([gap, leg], abs=0.06)


@pytest.mark.parametrize(("trigger", "spare"), [(78, -4.9), (79, -0.3), (80, 4.1), (82, 11.9)])
def test_a_strip_shows_go_and_no_go(trigger: int, spare: float) -> None:
    # SCENARIO 6.4: 7.2, 11.8, 16.2 and 24.0 of 12 mm, less the search's 0.1 mm.
    typed = DEMO | {"trigger": f"{trigger}°", "wanted": "12 mm", "no_go": "show"}
    have = answer("tyre_door_clearance", "mm", "spare", **typed)
    assert have == pytest.approx(spare, abs=0.06)


@pytest.mark.parametrize("trigger", [78, 79])
def test_no_go_triggers_are_refused(trigger: int) -> None:
    # SCENARIO 6.4: 12 mm are wanted; 79° has 11.8 mm, which a coarse sweep calls 12.2.
    with pytest.raises(Refusal, match="the gap that is sure is") as caught:
        results("tyre_door_clearance", trigger=f"{trigger}°", wanted="12 mm", **DEMO)
    assert "No-go" in caught.value.right


def test_the_drawings_error_is_taken_off_before_the_verdict() -> None:
    typed = DEMO | {"trigger": "80°", "wanted": "12 mm", "drawing": "2 mm"}
    have = [answer("tyre_door_clearance", "mm", n, **typed) for n in ("gap", "sure", "spare")]
    assert have[0] - have[1] == pytest.approx(2.1)
    assert have[1] - have[2] == pytest.approx(12)
    with pytest.raises(Refusal, match="the gap that is sure"):
        results("tyre_door_clearance", **typed | {"drawing": "4.2 mm"})


@pytest.mark.parametrize(("off", "verdict"), [(-0.02, "GO"), (0.02, "NO-GO")])
def test_a_verdict_nearer_than_two_methods_agree_is_told_by_the_finer(
    off: float, verdict: str
) -> None:
    # The sweep is good to 0.01 mm, the polygon beside it to 0.1 mm: it leaves the word to the sweep.
    typed = DEMO | {"trigger": "80°", "no_go": "show"}
    sure = answer("tyre_door_clearance", "mm", "sure", wanted="1 mm", **typed)
    came = results("tyre_door_clearance", wanted=f"{sure + off:.6f} mm", **typed)
    assert came["verdict"].shown == verdict


@pytest.mark.parametrize(
    ("spare", "word"), [(0.0002, "GO"), (0.0001, ""), (-0.0001, ""), (-0.0002, "NO-GO")]
)
def test_the_word_of_a_second_method(spare: float, word: str) -> None:
    assert told(spare, 0.0001) == word


def test_a_trigger_that_lets_them_meet_says_where() -> None:
    with pytest.raises(Refusal, match=r"meet: no gap at a leg angle of (79|8\d)\.\d°"):
        results("tyre_door_clearance", trigger="74°", wanted="1 mm", **DEMO)


SWEPT = [
    (80, 48.9),
    (82, 24.0),
    (83, 18.0),
    (84, 16.2),
    (85, 18.6),
    (86, 24.5),
    (88, 43.9),
    (90, 65.7),
]


def brute(legs: np.ndarray, trigger: float, n: dict[str, float], points: int) -> np.ndarray:
    """Gap at each leg angle, by the distance of every point of a dense outline (numpy)."""
    side = np.linspace(-1, 1, points)
    share = np.sign(side) * (1 - (1 - abs(side)) ** 2)
    along = n["half_length"] * share
    across = n["half_width"] * np.sqrt(np.maximum(0, 1 - abs(share) ** n["fullness"]))
    along, across = np.concatenate([along, along]), np.concatenate([across, -across])
    gaps = []
    for leg in np.radians(legs):
        part = np.clip((np.degrees(leg) - trigger) / (n["closed"] - trigger), 0, 1)
        opening = math.radians(n["open_angle"]) * (1 - part)
        x = (n["wheel_radius"] + along) * math.sin(leg) + across * math.cos(leg)
        y = -(n["wheel_radius"] + along) * math.cos(leg) + across * math.sin(leg)
        x, y = x - n["hinge_across"], y - n["hinge_up"]
        d = (-math.cos(opening), -math.sin(opening))
        u = np.clip(x * d[0] + y * d[1], 0, n["door_length"])
        gaps.append(np.hypot(x - u * d[0], y - u * d[1]).min())
    return np.array(gaps)


NUMBERS = {name: float(text.split()[0].rstrip("°")) for name, text in DEMO.items()}


def test_sweep_of_the_demo_leg_by_brute_force_at_a_hundredth_of_a_degree() -> None:
    legs = np.arange(76, 92.001, 0.01)
    gaps = brute(legs, 80, NUMBERS, 4000)
    have = answer("tyre_door_clearance", "mm", "gap", trigger="80°", wanted="1 mm", **DEMO)
    assert have == pytest.approx(gaps.min(), abs=0.01)
    at = answer("tyre_door_clearance", "°", "leg", trigger="80°", wanted="1 mm", **DEMO)
    assert at == pytest.approx(legs[gaps.argmin()], abs=0.02)


@pytest.mark.parametrize(("leg", "gap"), SWEPT)
def test_gaps_at_single_leg_angles(leg: int, gap: float) -> None:
    # SCENARIO 6.4: the gaps that operation 150 measures; a sweep of half a degree about each.
    assert brute(np.array([leg]), 80, NUMBERS, 4000)[0] == pytest.approx(gap, abs=0.06)
    ends = {"from_leg": f"{leg - 0.25}°", "to_leg": f"{leg + 0.25}°"}
    have = answer("tyre_door_clearance", "mm", "gap", trigger="80°", wanted="1 mm", **DEMO | ends)
    near = brute(np.linspace(leg - 0.25, leg + 0.25, 51), 80, NUMBERS, 4000)
    assert have == pytest.approx(near.min(), abs=0.02)


def test_random_mechanisms_against_brute_force() -> None:
    # A dense outline and steps of 0.1°, then of 0.005° about the least (numpy).
    draw = random.Random(6)
    done = met = 0
    while done < 12:
        n = {
            "wheel_radius": draw.uniform(300, 900), "half_length": draw.uniform(80, 300),
            "half_width": draw.uniform(30, 120), "fullness": draw.choice([2, 3, 6, 10]),
            "hinge_across": draw.uniform(500, 1300), "hinge_up": draw.uniform(-300, 100),
            "door_length": draw.uniform(150, 500), "open_angle": draw.uniform(60, 130),
            "closed": draw.uniform(85, 110),
        }  # fmt: skip
        n = {name: round(each, 3) for name, each in n.items()}
        trigger = round(draw.uniform(40, 80), 2)
        typed = {name: f"{each}{'' if name == 'fullness' else '°' if name in ('open_angle', 'closed') else ' mm'}"
                 for name, each in n.items()}  # fmt: skip
        typed |= {"from_leg": "10°", "to_leg": "110°", "trigger": f"{trigger}°", "drawing": "0 mm"}
        coarse = np.arange(10, 110.01, 0.1)
        gaps = brute(coarse, trigger, n, 400)
        near = coarse[gaps.argmin()]
        fine = brute(np.clip(np.arange(near - 0.2, near + 0.2, 0.005), 10, 110), trigger, n, 3000)
        try:
            have = answer("tyre_door_clearance", "mm", "gap", wanted="0.001 mm", **typed)
        except Refusal as refusal:
            assert "meet" in refusal.wrong or "gap that is sure" in refusal.wrong
            assert fine.min() < 1.0  # points of an outline lie a little off where both meet
            met += 1
            continue
        assert have == pytest.approx(fine.min(), abs=0.1)
        done += 1
    assert met > 0


def test_a_tyre_that_holds_the_whole_door_is_no_gap() -> None:
    tyre = Tyre(0.3, 0.2, 4)
    ring = tyre.ring(24)
    assert tyre.gap((0.0, 0.0), (0.05, 0.05), ring) == 0
    assert tyre.gap((0.0, 0.25), (0.05, 0.3), ring) == pytest.approx(0.05, abs=1e-6)


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"trigger": "91.6°"}, "is closed at 92.0°"),
        ({"from_leg": "60°", "to_leg": "60.4°"}, "sweep runs from 60.0° to 60.4°"),
        ({"from_leg": "80°", "to_leg": "60°"}, "sweep runs from 80.0° to 60.0°"),
    ],
)
def test_angles_that_do_not_follow_one_another(more: dict[str, str], told: str) -> None:
    with pytest.raises(Refusal, match=told):
        results("tyre_door_clearance", **DEMO | {"trigger": "80°", "wanted": "1 mm"} | more)


# --- the search itself -------------------------------------------------------------------------


def test_golden_section_finds_a_dip() -> None:
    at, least = golden(lambda x: (x - 0.3) ** 2 + 5, 0.0, 1.0, 40)
    assert (at, least) == (pytest.approx(0.3, abs=1e-6), pytest.approx(5.0))


def test_a_narrow_notch_between_the_first_steps_is_not_missed() -> None:
    # A notch of 0.02 rad in a sweep of 4: the speed that is told says that it may be there.
    def gap(x: float) -> float:
        return min(1.0, 0.5 + 50 * abs(x - 1.2345))

    at, least = least_gap(gap, lambda low, high: 50.0, (0.0, 4.0), 0.01)
    assert at == pytest.approx(1.2345, abs=1e-3)
    assert least == pytest.approx(0.5, abs=0.01)


@pytest.mark.parametrize(
    ("point", "distance"),
    [((1.0, 1.0), 1.0), ((-3.0, 4.0), 5.0), ((5.0, 4.0), 5.0), ((1.0, 0.0), 0.0)],
)
def test_distance_of_a_point_from_an_edge(point: tuple[float, float], distance: float) -> None:
    # Right triangles of 3, 4 and 5 beyond both ends.
    assert to_edge(point, (0.0, 0.0), (2.0, 0.0)) == pytest.approx(distance)


# --- doors worked by the leg -------------------------------------------------------------------

PAIR = {
    "first_open": "95°", "first_begins": "80°", "first_closed": "92°", "second_open": "90°",
    "second_begins": "84°", "second_closed": "94°", "wanted": "1°",
}  # fmt: skip
STANDING = [  # leg, first and second door open: even closing by hand
    ("0", 95, 90), ("80", 95, 90), ("83", 71.25, 90), ("84", 63.3333, 90), ("86", 47.5, 72),
    ("92", 0, 18), ("94", 0, 0), ("120", 0, 0),
]  # fmt: skip


@pytest.mark.parametrize(("leg", "first", "second"), STANDING)
def test_doors_close_evenly_one_after_the_other(leg: str, first: float, second: float) -> None:
    have = [answer("doors_by_leg", "°", n, leg=f"{leg}°", **PAIR) for n in ("first", "second")]
    assert have == pytest.approx([first, second], abs=1e-4)


def test_the_lapping_door_may_not_close_first() -> None:
    # 92° and 94° lead by 2°, of which 1° is wanted.
    assert answer("doors_by_leg", "°", "ends", leg="0°", **PAIR) == pytest.approx(1)
    assert answer("doors_by_leg", "°", "begins", leg="0°", **PAIR) == pytest.approx(4)
    with pytest.raises(Refusal, match="lead of the first") as caught:
        results("doors_by_leg", leg="0°", **PAIR | {"second_closed": "92.9°"})
    assert "meet the lower one" in caught.value.right
    for late in ({"first_begins": "91.6°"}, {"second_begins": "93.6°"}):
        with pytest.raises(Refusal, match="half a degree of the leg"):
            results("doors_by_leg", leg="0°", **PAIR | late)
