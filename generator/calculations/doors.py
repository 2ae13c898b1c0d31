"""Two doors worked by a leg in; how far each stands open, and how much one leads, out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import largest, smallest, step

Leg = {"at_least": "0", "at_most": "180"}
Nothing = Annotated[Amount, given("part_0", "", "a door that has not begun", fixed="0 ratio")]
Whole = Annotated[Amount, given("part_1", "", "a door that is closed", fixed="1 ratio")]


@dataclass(frozen=True)
class Doors:
    """Both doors at a leg angle, and how much the first leads."""

    first: Annotated[Amount, gives("ψ_1", "°", "first door open", to="0.1")]
    second: Annotated[Amount, gives("ψ_2", "°", "second door open", to="0.1")]
    begins: Annotated[
        Amount, gives("Δφ_b", "°", "leg angle by which the first begins before", to="0.1")
    ]
    ends: Annotated[
        Amount,
        gives("Δφ_e", "°", "lead of the first at its end, over the wanted", to="0.1",
              safe="down", at_least="0", beyond="The upper door would meet the lower one"),
    ]  # fmt: skip


def _opening(leg: float, opened: float, begins: float, closed: float) -> float:
    if leg <= begins:
        return opened
    return opened * (closed - leg) / (closed - begins) if leg < closed else 0.0


def _by_cases(
    leg: float, first_open: float, first_begins: float, first_closed: float,
    second_open: float, second_begins: float, second_closed: float, wanted: float,
) -> Doors:  # fmt: skip
    """Before, between and after, each door by itself."""
    made: Any = Doors
    bare: Doors = made(
        _opening(leg, first_open, first_begins, first_closed),
        _opening(leg, second_open, second_begins, second_closed),
        -(first_begins - second_begins),
        -(first_closed - second_closed) - wanted,
    )
    return bare


def _standing(leg: Any, opened: Any, ends: tuple[Any, Any], known: tuple[Any, Any], n: str) -> Any:
    begins, closed = ends
    nothing, whole = known
    swing = step(
        closed - begins, f"Δφ{n}", "°", "leg angle from begun to closed", at_least="0.5",
        wrong="a door closes over half a degree of the leg at the least, not over {value}",
    )  # fmt: skip
    part = step(
        smallest(largest((leg - begins) / swing, nothing), whole),
        f"q{n}",
        "",
        "part that is closed",
    )
    return step(opened - opened * part, f"ψ{n}", "°", "door open")


@calculation(
    source="geometry: each door closes evenly with the leg between two leg angles",
    not_covered="doors worked by a linkage of their own, which do not close evenly (control_travel "
    "gives their angle); gaps between doors and leg (clearance sweeps); emergency lowering",
    second=Second(_by_cases, "0.00001°", "before, between and after, door by door"),
    examples=(
        Example(
            {
                "leg": "86°",
                "first_open": "95°",
                "first_begins": "80°",
                "first_closed": "92°",
                "second_open": "90°",
                "second_begins": "84°",
                "second_closed": "94°",
                "wanted": "1°",
            },
            {"first": "47.5 °", "second": "72.0 °", "begins": "4.0 °", "ends": "1.0 °"},
            "closed form: half of 95°, four fifths of 90°",
        ),
    ),
)
def doors_by_leg(
    leg: Annotated[Amount, given("φ", "°", "leg angle", **Leg, at_bench="0.5")],
    first_open: Annotated[
        Amount, given("ψ_a", "°", "first door open", at_least="5", at_most="180")
    ],
    first_begins: Annotated[
        Amount, given("φ_a", "°", "leg angle at which the first begins", **Leg)
    ],
    first_closed: Annotated[
        Amount, given("φ_b", "°", "leg angle at which the first is closed", **Leg)
    ],
    second_open: Annotated[
        Amount, given("ψ_b", "°", "second door open", at_least="5", at_most="180")
    ],
    second_begins: Annotated[
        Amount, given("φ_c", "°", "leg angle at which the second begins", **Leg)
    ],
    second_closed: Annotated[
        Amount, given("φ_d", "°", "leg angle at which the second is closed", **Leg)
    ],
    wanted: Annotated[
        Amount, given("Δφ_w", "°", "lead that is wanted at the end", at_least="0.1", at_most="60")
    ],
    nothing: Nothing,
    whole: Whole,
) -> Doors:
    """Doors by the leg: how far two overlapping doors stand open, and how much the first leads.

    The first is the one that is overlapped: it must be closed before the one that laps over it.
    """
    known = (nothing, whole)
    first = _standing(leg, first_open, (first_begins, first_closed), known, "_1")
    second = _standing(leg, second_open, (second_begins, second_closed), known, "_2")
    return Doors(first, second, second_begins - first_begins, second_closed - first_closed - wanted)
