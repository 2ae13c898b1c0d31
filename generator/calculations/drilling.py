"""Holes to be made, in; drills, points, depths and speeds for them, out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, key, looked_up
from generator.calculations.cutting import Advance, Spindle
from generator.quantities.amount import Amount
from generator.quantities.functions import pi_times, step, tan

Drill = Annotated[
    Amount,
    given("d", "mm", "diameter of the drill", at_least="0.3", at_most="100", at_bench="0.01"),
]
PointAngle = Annotated[Amount, given("σ", "°", "angle of the point", at_least="60", at_most="150")]
CONE = "cone: l = d / (2 tan(σ/2)) (geometry)"


def _point_by_sine(drill: float, angle: float) -> float:
    """The slant of the cone, and what is left of it along the axis."""
    slant = drill / 2 / math.sin(angle / 2)
    return slant * math.cos(angle / 2)


@calculation(
    source=f"{CONE}; 0.3 d for 118° is the rule of the trade",
    not_covered="a chisel edge, a split point, a point that was ground otherwise",
    second=Second(_point_by_sine, "0.001 %", "slant of the cone"),
    examples=(
        Example(
            {"drill": "10 mm", "angle": "118°"},
            {"": "3.0 mm"},
            "rule of the trade, 0.3 d for 118° (Machinery's Handbook, from memory)",
        ),
    ),
)
def drill_point(
    drill: Drill, angle: PointAngle
) -> Annotated[Amount, gives("l_p", "mm", "length of the point", to="0.01", safe="up")]:
    """Length of a drill's point: how far the tip is ahead of the full diameter."""
    run: Amount = 2 * tan(angle / 2)
    return drill / run


@dataclass(frozen=True)
class DrillTime:
    """What a drilled hole takes."""

    way: Annotated[Amount, gives("l_w", "mm", "way of the drill, point and air", to="0.1")]
    feed: Annotated[Amount, gives("v_f", "mm/min", "feed", to="1", safe="down")]
    time: Annotated[Amount, gives("t_c", "min", "time in the cut", to="0.01", safe="up")]


def _time_by_turns(
    depth: float, air: float, drill: float, angle: float, speed: float, advance: float
) -> DrillTime:
    made: Any = DrillTime
    way = depth + air + _point_by_sine(drill, angle)
    bare: DrillTime = made(way, 1 / (1 / advance / speed), way / advance / speed)
    return bare


@calculation(
    source=f"{CONE}; v_f = n f (definition of the feed)",
    not_covered="pecks, and time to clear the chips",
    second=Second(_time_by_turns, "0.001 %", "slant of the cone; turns that the way takes"),
    examples=(
        Example(
            {
                "depth": "20 mm", "air": "3 mm", "drill": "10 mm", "angle": "118°",
                "speed": "700 rpm", "advance": "0.1 mm/rev",
            },
            {"way": "26 mm", "feed": "70 mm/min", "time": "0.37 min"},
            "rule of the trade, 0.3 d for 118° (Machinery's Handbook, from memory): 20 + 3 + 3; "
            "700 · 0.1; 26/70",
        ),
    ),
)  # fmt: skip
def drilling_time(
    depth: Annotated[Amount, given("l", "mm", "depth at full diameter", above="0", at_most="1000")],
    air: Annotated[
        Amount, given("l_a", "mm", "way before it cuts and beyond", at_least="0", at_most="100")
    ],
    drill: Drill,
    angle: PointAngle,
    speed: Spindle,
    advance: Advance,
) -> DrillTime:
    """Way, feed and time of a drilled hole, the point of the drill counted."""
    point = step(drill / (2 * tan(angle / 2)), "l_p", "mm", "length of the point")
    way = step(depth + air + point, "l_w", "mm", "way of the drill")
    feed = step(speed * advance, "v_f", "mm/min", "feed")
    return DrillTime(way, feed, way / feed)


def _sink_by_cones(head: float, hole: float, angle: float) -> float:
    """The whole cone less the one that the hole has cut off."""
    return _point_by_sine(head, angle) - _point_by_sine(hole, angle)


@calculation(
    source="cone: h = (D − d) / (2 tan(A/2)) (geometry)",
    not_covered="which sheet may be countersunk, which its own rule says; a head that must stand "
    "proud or below; a pilot that leans",
    second=Second(_sink_by_cones, "0.001 %", "one cone less another"),
    examples=(
        Example(
            {"head": "5.715 mm", "hole": "3.175 mm", "angle": "100°"},
            {"": "1.066 mm"},
            "visible arithmetic: 1.27 mm over tan 50° = 1.19175 (table of tangents)",
        ),
    ),
)
def countersink_depth(
    head: Annotated[
        Amount,
        given("D", "mm", "diameter of the countersink", above="0", at_most="150", at_bench="0.01"),
    ],
    hole: Annotated[Amount, given("d", "mm", "diameter of the hole", above="0", at_most="150")],
    angle: Annotated[
        Amount, given("A", "°", "whole angle of the countersink", at_least="60", at_most="130")
    ],
) -> Annotated[
    Amount, gives("h_c", "mm", "depth of the countersink", to="0.01", above="0",
                  beyond="A head that is wider than its hole")
]:  # fmt: skip
    """Depth of a countersink from the diameters of head and hole."""
    run: Amount = 2 * tan(angle / 2)
    return (head - hole) / run


# --- reaming -----------------------------------------------------------------------------------

TEXTBOOKS = "textbooks on machining and cutter makers' tables: 0.1 to 0.3 mm to ream up to 20 mm, "
TEXTBOOKS += "at a third to a half of the cutting speed of drilling (secondary)"


@dataclass(frozen=True)
class Reaming:
    """How a hole is reamed."""

    allowance: Annotated[
        Amount,
        gives("Δd", "mm", "left to ream, on the diameter", to="0.01", at_least="0.1",
              at_most="0.3", beyond="Another drill: too little is rubbed, too much torn"),
    ]  # fmt: skip
    side: Annotated[Amount, gives("Δr", "mm", "left to ream, on a side", to="0.01")]
    cutting_speed: Annotated[Amount, gives("V_r", "m/min", "cutting speed of the reamer", to="0.1")]
    speed: Annotated[Amount, gives("n_r", "rpm", "speed of the reamer", to="1", safe="down")]


def _ream_again(bore: float, drill: float, drilling: float, share: float) -> Reaming:
    """From the radii."""
    made: Any = Reaming
    side = bore / 2 - drill / 2
    slow = drilling - (1 - share) * drilling
    bare: Reaming = made(side + side, side, slow, slow / (math.tau * bore / 2))
    return bare


@calculation(
    source=TEXTBOOKS,
    not_covered="adjustable and tapered reamers, bores above 20 mm, holes that lie off their line "
    "by more than is left on a side",
    second=Second(_ream_again, "0.001 %", "from the radii"),
    examples=(
        Example(
            {"bore": "8 mm", "drill": "7.8 mm", "drilling": "60 m/min", "share": "40 %"},
            {"allowance": "0.2 mm", "side": "0.1 mm", "cutting_speed": "24 m/min"},
            "visible arithmetic: 8 - 7.8; 0.4 · 60",
        ),
    ),
)
def reaming(
    bore: Annotated[Amount, given("D", "mm", "diameter of the bore", at_least="2", at_most="20")],
    drill: Drill,
    drilling: Annotated[
        Amount, given("V_d", "m/min", "cutting speed of drilling", at_least="1", at_most="500")
    ],
    share: Annotated[
        Amount, given("s_V", "%", "reaming over drilling speed", at_least="33.3", at_most="50")
    ],
) -> Reaming:
    """Reaming: what the drill leaves for the reamer, and how slowly the reamer turns."""
    left = step(
        bore - drill, "Δd", "mm", "left to ream", above="0", wrong="{value} is left to ream: the "
        "drill is as large as the bore",
    )  # fmt: skip
    slow = step(share * drilling, "V_r", "m/min", "cutting speed of the reamer")
    return Reaming(left, left / 2, slow, slow / pi_times(bore))


# --- tapping -----------------------------------------------------------------------------------


@dataclass(frozen=True)
class FormRow:
    """The full depth of a thread: it holds for threads of this form only."""

    form: Annotated[str, key("form of the thread, as the table prints it")]
    angle: Annotated[Amount, given("α_f", "°", "angle of its flanks")]
    full: Annotated[Amount, given("k", "", "full thread on both sides, in pitches")]


Major = Annotated[
    Amount, given("D", "mm", "major diameter of the thread", at_least="0.2", at_most="100")
]
Pitch = Annotated[Amount, given("P", "mm", "pitch", at_least="0.05", at_most="8")]
FULL = "drill = D − k s P, k by the form of the thread: 1.299 (60°), 1.2807 (55°), 1.2 (47.5°)"
TAPS = "metal that is pushed into the thread: soft alloys fill it further; forming taps; how deep "
TAPS += "a thread a joint needs: 60 to 80 % is common practice"


def _tap_by_sides(row: Any, major: float, pitch: float, share: float) -> float:
    """One side of the thread taken off on either side."""
    side: float = row.full / 2 * pitch * share
    return major - side - side


@calculation(
    source=FULL,
    not_covered=TAPS,
    second=Second(_tap_by_sides, "0.001 %", "one side of the thread, twice"),
    examples=(
        Example(
            {
                "form": "60° metric or unified", "major": "10 mm", "pitch": "1.5 mm",
                "share": "76.98 %",
            },
            {"": "8.50 mm"},
            "public tap drill charts: M10 x 1.5 with 8.5 mm; Machinery's Handbook (from memory): "
            "major less pitch is always 76.98 %",
        ),
    ),
)  # fmt: skip
def tapping_drill(
    row: Annotated[FormRow, looked_up("tapping_form")],
    major: Major,
    pitch: Pitch,
    share: Annotated[
        Amount, given("s", "%", "share of the full thread", at_least="50", at_most="100")
    ],
) -> Annotated[Amount, gives("d_t", "mm", "tapping drill", to="0.01", above="0")]:
    """Tapping drill for a share of the full thread, by the form of the thread."""
    return major - row.full * share * pitch


@dataclass(frozen=True)
class Tapped:
    """What a drill leaves of a thread."""

    share: Annotated[
        Amount,
        gives("s", "%", "share of the full thread", to="1", at_least="50", at_most="100",
              beyond="A smaller drill, or one that is not below the minor diameter"),
    ]  # fmt: skip


def _share_by_full(row: Any, major: float, pitch: float, drill: float) -> Tapped:
    """The depth that is left over the full one."""
    made: Any = Tapped
    core = major - row.full * pitch
    bare: Tapped = made(1 - (drill - core) / (major - core))
    return bare


@calculation(
    source=FULL,
    not_covered=TAPS,
    second=Second(_share_by_full, "0.001 %", "what the drill takes of the full depth"),
    examples=(
        Example(
            {
                "form": "60° metric or unified", "major": "0.25 in", "pitch": "0.05 in",
                "drill": "0.201 in",
            },
            {"share": "75.4 %"},
            "Machinery's Handbook (from memory): (D - drill) n 76.98; 1/4-20 with 0.201 in: "
            "0.049 · 20 · 76.98",
        ),
    ),
)  # fmt: skip
def thread_share(
    row: Annotated[FormRow, looked_up("tapping_form")], major: Major, pitch: Pitch, drill: Drill
) -> Tapped:
    """Share of the full thread that a tapping drill leaves, by the form of the thread."""
    return Tapped((major - drill) / (row.full * pitch))
