"""Screw jack of a trim tab in; turns, self-locking and the thread that is left at its ends out.

A lead is asked for as pitch and starts: a screw of two starts moves twice its pitch in a turn.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, count, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import arctan, cos, pi_times, sin, step

LEAD = "lead = pitch × starts"
SLANT = (
    "the rod between screw and horn standing askew: arm square to the rod with the tab at neutral, "
    "rod at least 8 arms long; backlash, which is measured"
)
Pitch = Annotated[
    Amount, given("P", "mm", "pitch from thread to thread", at_least="0.2", at_most="20")
]
Starts = Annotated[int, count("z", "starts of the thread", at_least=1, at_most=6)]
Arm = Annotated[Amount, given("a", "mm", "arm of the tab horn", at_least="5", at_most="300")]


@dataclass(frozen=True)
class Turns:
    """What a tab angle takes."""

    lead: Annotated[Amount, gives("l", "mm", "lead of the screw", to="0.001")]
    travel: Annotated[Amount, gives("x", "mm", "travel of the screw", to="0.01")]
    screw: Annotated[Amount, gives("N_s", "", "turns of the screw", to="0.01")]
    wheel: Annotated[Amount, gives("N_w", "", "turns of the wheel in the cockpit", to="0.01")]


def _turns_by_chord(angle: float, arm: float, pitch: float, starts: int, ratio: float) -> Turns:
    """Travel as the chord of the horn, seen along the rod."""
    travel = 2 * arm * math.sin(angle / 2) * math.cos(angle / 2)
    turns = sum(travel / starts for _ in range(starts)) / (pitch * starts)
    made: Any = Turns
    bare: Turns = made(starts * pitch, travel, turns, turns * ratio)
    return bare


@calculation(
    source=f"geometry: travel = arm × sin(angle); {LEAD}",
    not_covered=SLANT,
    second=Second(_turns_by_chord, "0.001 %", "chord of the horn, seen along the rod"),
    examples=(
        Example(
            {"angle": "30°", "arm": "60 mm", "pitch": "2 mm", "starts": "2", "ratio": "3"},
            {"lead": "4 mm", "travel": "30 mm", "screw": "7.5", "wheel": "22.5"},
            "ball-screw glossary: pitch 2 mm, two starts, 7.5 turns move 30 mm; sin 30° is a half",
        ),
    ),
)
def tab_turns(
    angle: Annotated[
        Amount,
        given("θ", "°", "tab angle from neutral", at_least="-40", at_most="40", at_bench="0.5"),
    ],
    arm: Arm,
    pitch: Pitch,
    starts: Starts,
    ratio: Annotated[
        Amount,
        given("k_w", "", "turns of the wheel for one of the screw", at_least="0.05", at_most="50"),
    ],
) -> Turns:
    """Turns of a screw jack for a tab angle, at the screw and at the wheel."""
    lead = step(pitch * starts, "l", "mm", "lead of the screw")
    travel = step(arm * sin(angle), "x", "mm", "travel of the screw")
    screw = step(travel / lead, "N_s", "", "turns of the screw")
    return Turns(lead, travel, screw, ratio * screw)


@dataclass(frozen=True)
class Locking:
    """Whether friction alone holds a screw."""

    lead_angle: Annotated[Amount, gives("λ", "°", "lead angle", to="0.01", safe="up")]
    friction_angle: Annotated[Amount, gives("ρ", "°", "friction angle", to="0.01", safe="down")]
    ratio: Annotated[
        Amount,
        gives("λ/ρ", "", "lead angle over friction angle", to="0.01", safe="up", at_most="0.5",
              beyond="From 1 the load turns the screw; above 0.5 vibration may: add a lock"),
    ]  # fmt: skip


def _locking_by_force(
    pitch: float, starts: int, mean: float, friction: float, flank: float, turn: float
) -> Locking:
    """A wedge once round the screw; the normal force is larger on slanting flanks."""
    round_it = math.pi * mean
    lead_angle = math.atan2(pitch * starts, round_it)
    slant = math.cos(flank / 2)
    held = math.atan2(friction, slant)
    made: Any = Locking
    bare: Locking = made(lead_angle, held, lead_angle / held)
    return bare


@calculation(
    source="textbook: self-locking while the lead angle is below the friction angle; half of it "
    "against vibration: common practice, no source",
    not_covered="a screw that is greased anew or worn, with less friction; ball screws, which "
    "never lock; rolling bearings at the ends, which drag less than assumed",
    second=Second(_locking_by_force, "0.001 %", "a wedge once round the screw"),
    examples=(
        Example(
            {
                "pitch": "1 mm",
                "starts": "2",
                "mean": "30 mm",
                "friction": "0.2",
                "flank": "60°",
            },
            {"lead_angle": "1.22 °", "friction_angle": "13.00 °"},
            "closed form: arctan(2 / 30 π) and arctan(0.2 / cos 30°)",
        ),
        Example(
            {
                "pitch": "1.25 mm",
                "starts": "1",
                "mean": "9.34 mm",
                "friction": "0.15",
                "flank": "60°",
            },
            {"lead_angle": "2.44 °", "friction_angle": "9.83 °"},
            "closed form: arctan(1.25 / 9.34 π) and arctan(0.15 / cos 30°)",
        ),
    ),
)
def screw_self_locking(
    pitch: Pitch,
    starts: Starts,
    mean: Annotated[
        Amount, given("d_m", "mm", "mean diameter of the thread", at_least="2", at_most="120")
    ],
    friction: Annotated[
        Amount,
        given("μ_s", "", "least friction of screw in nut", at_least="0.02", at_most="0.4"),
    ],
    flank: Annotated[
        Amount, given("ψ", "°", "angle between the flanks", at_least="0", at_most="60")
    ],
    turn: Annotated[Amount, given("k_ψ", "", "flanks of a thread", fixed="2 ratio")],
) -> Locking:
    """Self-locking of a screw: whether friction alone keeps the tab where it was set.

    Flanks: 60° for a metric thread, 29° or 30° for a trapezoid, 0° for a square one.
    """
    climb = step(pitch * starts / pi_times(mean), "tan_λ", "", "rise over way round")
    lead_angle = step(arctan(climb), "λ", "°", "lead angle")
    held = step(arctan(friction / cos(flank / turn)), "ρ", "°", "friction angle")
    return Locking(lead_angle, held, lead_angle / held)


@dataclass(frozen=True)
class ThreadLeft:
    """What of the thread is left when the tab is at its ends."""

    outer: Annotated[Amount, gives("e_o", "mm", "thread engaged, run out", to="0.1", safe="down")]
    inner: Annotated[
        Amount,
        gives("g_i", "mm", "room before the screw bottoms, run in", to="0.1", safe="down",
              at_least="0", beyond="The screw bottoms before the stop: a longer nut or a stop"),
    ]  # fmt: skip
    spare: Annotated[
        Amount,
        gives("Δe", "mm", "thread beyond the least, run out", to="0.1", safe="down",
              at_least="0", beyond="Less thread than that pulls out: a stop before it"),
    ]  # fmt: skip
    turns_out: Annotated[
        Amount, gives("N_o", "", "turns out from neutral, at the most", to="0.1", safe="down")
    ]
    turns_in: Annotated[
        Amount, gives("N_i", "", "turns in from neutral, at the most", to="0.1", safe="down")
    ]


def _left_by_turns(
    outwards: float,
    inwards: float,
    arm: float,
    pitch: float,
    starts: int,
    engaged: float,
    room: float,
    diameter: float,
    times: float,
) -> ThreadLeft:
    """All of it counted in turns of the screw."""
    lead = pitch * starts
    out, back = (arm * math.sin(each) / lead for each in (outwards, inwards))
    made: Any = ThreadLeft
    bare: ThreadLeft = made(
        (engaged / lead - out) * lead,
        (room / lead - back) * lead,
        ((engaged - times * diameter) / lead - out) * lead,
        (engaged - times * diameter) / lead,
        room / lead,
    )
    return bare


@calculation(
    source=f"geometry; {LEAD}; at least one diameter in the nut: common practice, no source",
    not_covered=SLANT + "; stops, which are set before the thread ends and are felt first",
    second=Second(_left_by_turns, "0.001 %", "counted in turns of the screw"),
    examples=(
        Example(
            {
                "outwards": "30°",
                "inwards": "20°",
                "arm": "32 mm",
                "pitch": "2 mm",
                "starts": "2",
                "engaged": "30 mm",
                "room": "15 mm",
                "diameter": "10 mm",
                "times": "1.1",
            },
            {"outer": "14.0 mm", "inner": "4.06 mm", "spare": "3.0 mm", "turns_in": "3.75"},
            "closed form: 30 − 16, 15 − 32 · 0.34202, 14 − 11; 15 / 4",
        ),
    ),
)
def screw_thread_left(
    outwards: Annotated[
        Amount, given("θ_o", "°", "tab angle that runs the screw out", at_least="0", at_most="40")
    ],
    inwards: Annotated[
        Amount, given("θ_i", "°", "tab angle that runs it in", at_least="0", at_most="40")
    ],
    arm: Arm,
    pitch: Pitch,
    starts: Starts,
    engaged: Annotated[
        Amount,
        given("e₀", "mm", "thread engaged with the tab at neutral", above="0", at_most="300",
              at_bench="0.5"),
    ],
    room: Annotated[
        Amount,
        given("g₀", "mm", "room before the screw bottoms, at neutral", at_least="0",
              at_most="300", at_bench="0.5"),
    ],
    diameter: Annotated[
        Amount, given("D", "mm", "diameter of the thread", at_least="2", at_most="60")
    ],
    times: Annotated[
        Amount, given("k_e", "", "diameters that must stay in", at_least="1", at_most="3")
    ],
) -> ThreadLeft:  # fmt: skip
    """Thread left at both ends of a tab's travel: the screw must neither run out nor bottom."""
    lead = step(pitch * starts, "l", "mm", "lead of the screw")
    outer = step(engaged - arm * sin(outwards), "e_o", "mm", "thread engaged, run out")
    inner = step(room - arm * sin(inwards), "g_i", "mm", "room, run in")
    least = step(times * diameter, "e_min", "mm", "least thread")
    return ThreadLeft(outer, inner, outer - least, (engaged - least) / lead, room / lead)


def _advantage_by_work(radius: float, pitch: float, starts: int) -> float:
    """A turn's way of the hand over its way of the load."""
    return 2 * math.pi * radius / (pitch * starts)


@calculation(
    source="textbook: way of the hand in a turn over the lead",
    not_covered="friction, which takes about a third of a good screw and more than half of one "
    "that locks itself",
    second=Second(_advantage_by_work, "0.001 %", "way of the hand over way of the load"),
    examples=(
        Example(
            {"radius": "24 in", "pitch": "0.125 in", "starts": "2"},
            {"": "603.19"},
            "Navy, Basic Machines NAVEDTRA 14037 ch. 5 (from memory): 602.88 with π as 3.14, "
            "lead 1/4 in, handle 24 in",
        ),
    ),
)
def screw_advantage(
    radius: Annotated[Amount, given("R", "mm", "radius of the hand", above="0", at_most="2000")],
    pitch: Pitch,
    starts: Starts,
) -> Annotated[Amount, gives("i", "", "advantage without friction", to="0.1")]:
    """Advantage of a screw without friction: force on the load over force of the hand."""
    advantage: Amount = pi_times(2 * radius) / (pitch * starts)
    return advantage
