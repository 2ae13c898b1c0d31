"""A thread and three wires, or a tap and its drill, in; sizes over wires, engagement, drill out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import cos, sin, step, tan
from generator.quantities.window import Window, window

JONES = "Jones, Turning and Boring (1914), three-wire system"
FORMS = ("metric or Unified, 60°", "Whitworth, 55°", "BA, 47.5°")
Form = Annotated[str, choice("form of the thread", *FORMS)]
Pitch = Annotated[Amount, given("P", "mm", "pitch", at_least="0.15", at_most="8")]
Sixty = Annotated[Amount, given("α_60", "°", "half of the angle, 60° form", fixed="30°")]
British = Annotated[Amount, given("α_55", "°", "half of the angle, 55° form", fixed="27.5°")]
Association = Annotated[Amount, given("α_47", "°", "half of the angle, 47.5° form", fixed="23.75°")]
Two = Annotated[Amount, given("k_2", "", "sides", fixed="2 ratio")]
HALVES = (30.0, 27.5, 23.75)


def _half_angle(form: str, sixty: Any, british: Any, association: Any) -> Any:
    return dict(zip(FORMS, (sixty, british, association), strict=True))[form]


def _wire_by_triangle(pitch: float, form: str) -> float:
    """The circle that touches a right-angled triangle where the flank is half a pitch apart."""
    half = math.radians(dict(zip(FORMS, HALVES, strict=True))[form])
    return pitch / 2 * math.sqrt(1 + math.tan(half) ** 2)


@calculation(
    source=f"W = P / (2 cos α): touches the flank at the effective diameter; {JONES}",
    not_covered="the lead angle, which is left out: within a few µm on single-start screws; the "
    "wire's own calibration",
    second=Second(_wire_by_triangle, "0.001 %", "by the tangent of the half angle"),
    examples=(
        Example(
            {"pitch": "1 mm", "form": "metric or Unified, 60°"},
            {"": "0.5774 mm"},
            "three-wire relation: 0.57735 P",
        ),
        Example(
            {"pitch": "0.0384615 in", "form": "Whitworth, 55°"},
            {"": "0.0217 in"},
            "Whitworth relation: 0.56369 p, 1/4 BSF",
        ),
    ),
)
def best_wire(
    pitch: Pitch, form: Form, sixty: Sixty, british: British, association: Association, two: Two
) -> Annotated[Amount, gives("W", "mm", "best wire", to="0.001")]:
    """Best wire for measuring a thread over three wires: it touches at the effective diameter."""
    half = _half_angle(form, sixty, british, association)
    wire: Amount = pitch / (two * cos(half))
    return wire


@dataclass(frozen=True)
class OverWires:
    """What the micrometer reads over three wires."""

    over: Annotated[Window, gives("M", "mm", "size over wires", to="0.001")]
    best: Annotated[Amount, gives("W_b", "mm", "best wire", to="0.001")]
    share: Annotated[
        Amount, gives("W/W_b", "", "wire over best wire", to="0.01", at_least="0.9",
                      at_most="1.1", beyond="Another wire: this one touches near crest or root")
    ]  # fmt: skip


def _over_by_places(
    pitch: float, lower: float, upper: float, wire: float, form: str,
) -> OverWires:  # fmt: skip
    """The centre of the wire in its groove, half the thread at a time."""
    half = math.radians(dict(zip(FORMS, HALVES, strict=True))[form])
    ends = []
    for effective in (lower, upper):
        point = effective / 2 - pitch / 4 / math.tan(half)
        centre = point + wire / 2 / math.sin(half)
        ends.append(2 * (centre + wire / 2))
    best = _wire_by_triangle(pitch, form)
    made: Any = OverWires
    bare: OverWires = made(Window(ends[0], ends[1], "", ""), best, wire / best)
    return bare


@calculation(
    source=f"M = E + W (1 + 1/sin α) − P / (2 tan α): {JONES}",
    not_covered="the lead angle and the pull of the micrometer on the wires: both within a few µm "
    "on single-start screws of usual size; errors of angle, which wires near the best hide; wires "
    "beyond a tenth off the best: common practice, no source",
    second=Second(_over_by_places, "0.00001 mm", "the centre of the wire in its groove"),
    examples=(
        Example(
            {
                "pitch": "1.5 mm",
                "lower": "8.862 mm",
                "upper": "8.994 mm",
                "wire": "0.866025 mm",
                "form": "metric or Unified, 60°",
            },
            {"over.from": "10.161 mm", "over.to": "10.293 mm"},
            "M10 6g by ISO 965-2, E + 3 W − 0.866025 P by hand",
            "0.0005 mm",
        ),
        Example(
            {
                "pitch": "0.16666667 in",
                "lower": "1.391747 in",
                "upper": "1.391747 in",
                "wire": "0.1 in",
                "form": "metric or Unified, 60°",
            },
            {"over.to": "1.5474 in"},
            f"{JONES}: D − 1.5155 p + 3 W for 1 1/2 in, 6 threads",
            "0.0001 in",
        ),
    ),
)
def over_wires(
    pitch: Pitch,
    lower: Annotated[
        Amount, given("E_1", "mm", "least effective diameter", at_least="0.4", at_most="100")
    ],
    upper: Annotated[
        Amount, given("E_2", "mm", "largest effective diameter", at_least="0.4", at_most="100")
    ],
    wire: Annotated[
        Amount, given("W", "mm", "diameter of the wires", at_least="0.08", at_most="6",
                      at_bench="0.001")
    ],
    form: Form,
    sixty: Sixty,
    british: British,
    association: Association,
    two: Two,
) -> OverWires:  # fmt: skip
    """Size of a thread over three wires, for the limits of its effective diameter.

    Wires that are not the best wire give another size: the strip asks for those in hand.
    """
    half = _half_angle(form, sixty, british, association)
    out = step(wire + wire / sin(half), "W_o", "mm", "what the wires add")
    deep = step(pitch / (two * tan(half)), "h_o", "mm", "what the groove takes")
    best = step(pitch / (two * cos(half)), "W_b", "mm", "best wire")
    goes = window({"not go": lower + out - deep}, {"go": upper + out - deep})
    return OverWires(goes, best, wire / best)


@dataclass(frozen=True)
class Engaged:
    """How much of a thread holds."""

    threads: Annotated[Amount, gives("n_e", "", "threads engaged", to="0.1", safe="down")]
    diameters: Annotated[
        Amount, gives("L/D", "", "engagement in diameters", to="0.01", safe="down")
    ]
    spare: Annotated[
        Amount, gives("ΔL", "mm", "engagement over the least", to="0.01", safe="down",
                      at_least="0", beyond="A longer thread: it strips before the bolt breaks")
    ]  # fmt: skip


def _engaged_by_turns(
    length: float, lost: float, pitch: float, diameter: float, times: float
) -> Engaged:
    turns = length / pitch - lost / pitch
    made: Any = Engaged
    bare: Engaged = made(turns, turns * pitch / diameter, turns * pitch - times * diameter)
    return bare


@calculation(
    source="least engagement in diameters: common practice, no source (1 in steel, 1.5 to 2 in "
    "aluminium alloy), which the process types",
    not_covered="strength of the thread; a bolt and a nut of different metals; worn threads",
    second=Second(_engaged_by_turns, "0.001 %", "counted in turns"),
    examples=(
        Example(
            {
                "length": "16 mm",
                "lost": "1 mm",
                "pitch": "1 mm",
                "diameter": "6 mm",
                "times": "1.5",
            },
            {"threads": "15", "diameters": "2.5", "spare": "6 mm"},
            "visible: 15 mm against 9",
        ),
    ),
)
def thread_engagement(
    length: Annotated[
        Amount, given("l", "mm", "threaded length that overlaps", above="0", at_most="300",
                      at_bench="0.5")
    ],
    lost: Annotated[
        Amount, given("l_c", "mm", "chamfers and incomplete threads in it", at_least="0",
                      at_most="30")
    ],
    pitch: Pitch,
    diameter: Annotated[
        Amount, given("D", "mm", "major diameter of the thread", at_least="0.7", at_most="100")
    ],
    times: Annotated[
        Amount, given("k_e", "", "least engagement in diameters", at_least="0.8", at_most="3")
    ],
) -> Engaged:  # fmt: skip
    """Engagement of a thread: the turns that hold, against a least number of diameters."""
    held = step(length - lost, "L", "mm", "full thread engaged", above="0",
                wrong="{value} of full thread is left")  # fmt: skip
    least = step(times * diameter, "L_min", "mm", "least engagement")
    return Engaged(held / pitch, held / diameter, held - least)
