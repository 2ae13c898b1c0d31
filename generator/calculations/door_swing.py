"""A door and the shell round it, cut square to the hinge line, in; the gaps while it swings, out.

Across counts from the hinge line, plus towards the door; up counts outward. Opening is plus where
it lifts the door.
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives, word
from generator.calculations.outline_clearance import corners_of, outline_gap, sides_of
from generator.calculations.sweep_search import least_gap
from generator.findings import Refusal
from generator.quantities.amount import Amount

NO_GO = "No-go: a higher hinge line, a wider gap round the door, or a smaller opening"
Place = given("y", "mm", "corner, from the hinge line towards the door", at_least="-5000",
              at_most="5000")  # fmt: skip
Height = given("z", "mm", "corner, outward of the hinge line", at_least="-5000", at_most="5000")
Station = given("x", "mm", "station of the section", at_least="-20000", at_most="20000")


Opens = Annotated[
    Amount, given("φ_max", "°", "opening", at_least="0.5", at_most="180", at_bench="1")
]
Wanted = Annotated[Amount, given("g_w", "mm", "least gap that is wanted", above="0", at_most="200")]
Drawing = Annotated[
    Amount,
    given("g_d", "mm", "how far the real parts may be off this drawing", at_least="0",
          at_most="50"),
]  # fmt: skip
NoGo = Annotated[
    str, choice("what a no-go does: show is for strips", "refuse", "show", otherwise="refuse")
]


@dataclass(frozen=True)
class DoorCorner:
    """A corner of the door in one section."""

    at: Annotated[Amount, Station]
    across: Annotated[Amount, Place]
    up: Annotated[Amount, Height]


@dataclass(frozen=True)
class ShellCorner:
    """A corner of the shell, and of what stands on it, in one section."""

    at: Annotated[Amount, Station]
    across: Annotated[Amount, Place]
    up: Annotated[Amount, Height]


@dataclass(frozen=True)
class SectionGap:
    """The closest moment in one section."""

    at: Annotated[Amount, gives("x", "mm", "station", to="0.1")]
    gap: Annotated[Amount, gives("g", "mm", "least gap that was found", to="0.1", safe="down")]
    opening: Annotated[Amount, gives("φ", "°", "opening at that moment", to="0.1")]


@dataclass(frozen=True)
class Swing:
    """The gaps of a door over its whole swing."""

    sections: tuple[SectionGap, ...]
    sure: Annotated[
        Amount, gives("g_s", "mm", "gap that is sure in all sections", to="0.1", safe="down")
    ]
    spare: Annotated[
        Amount, gives("Δg", "mm", "sure gap over the wanted, minus is NO-GO", to="0.1", safe="down")
    ]
    tightest: Annotated[str, word("tightest", "tightest section")]


Section = tuple[float, tuple[complex, ...], tuple[complex, ...]]


def _sections(door: Sequence[Any], shell: Sequence[Any]) -> list[Section]:
    """Door and shell by station; refusal of stations that only one of them has."""
    doors, shells = (
        {at: corners_of(tuple(group)) for at, group in itertools.groupby(each, lambda c: c.at)}
        for each in (door, shell)
    )
    if list(doors) != list(shells):
        shown = ", ".join(f"{1000 * at:g}" for at in doors) or "none"
        wrong = f"the door is cut at {shown} mm, the shell at other stations"
        raise Refusal("range", wrong, "both at the same stations, in the same order")
    for name, each in (("door", doors), ("shell", shells)):
        for at, corners in each.items():
            if len(corners) < 2 or any(a == b for a, b in sides_of(list(corners))):
                wrong = f"the {name} at {1000 * at:g} mm has a corner twice, or one corner only"
                raise Refusal("range", wrong, "two corners or more, each another place")
    return [(at, doors[at], shells[at]) for at in doors]


def _gap_of(section: Section) -> Callable[[float], float]:
    _, door, shell = section
    still = list(shell)

    def gap(opening: float) -> float:
        way = cmath.exp(1j * opening)
        return outline_gap([corner * way for corner in door], still)

    return gap


def _speed_of(section: Section) -> Callable[[float, float], float]:
    """The most that the gap changes for each radian: no corner is farther from the hinge line."""
    far = max(map(abs, section[1]))
    return lambda low, high: far


def _swing(found: Sequence[tuple[float, float, float]], slack: float, rest: Any) -> Swing:
    made: Any = SectionGap
    whole: Any = Swing
    least = min(found, key=lambda each: each[2])
    sure = least[2] - slack - rest[0]
    number = found.index(least) + 1
    swing: Swing = whole(
        tuple(made(at, gap, opening) for at, opening, gap in found), sure, sure - rest[1],
        f"section {number}",
    )  # fmt: skip
    return swing


def _by_turning_the_shell(
    door: Any, shell: Any, opens: float, wanted: float, drawing: float, no_go: str, error: float
) -> Swing:
    """The door held still and the shell turned back about it, in half degrees, then finer."""
    found = []
    for at, leaf, round_it in _sections(door, shell):
        still = list(leaf)

        def gap(opening: float, still: list[complex] = still, turns: Any = round_it) -> float:
            return outline_gap([c * cmath.exp(-1j * opening) for c in turns], still)

        steps = max(1, math.ceil(math.degrees(opens) * 2))
        wide = opens / steps
        near = min((wide * n for n in range(steps + 1)), key=gap)
        for _ in range(5):
            low, high = max(0.0, near - wide), min(opens, near + wide)
            near = min((low + (high - low) * n / 16 for n in range(17)), key=gap)
            wide /= 8
        found.append((at, near, gap(near)))
    return _swing(found, error, (drawing, wanted))


LEAF = [
    {"at": "0 mm", "across": "30 mm", "up": "-40 mm"},
    {"at": "0 mm", "across": "400 mm", "up": "-40 mm"},
]
HULL = [
    {"at": "0 mm", "across": "-300 mm", "up": "-60 mm"},
    {"at": "0 mm", "across": "0 mm", "up": "-60 mm"},
]


@calculation(
    source="geometry in planes square to the hinge line; a step of the swing is halved until "
    "nothing can hide in it",
    not_covered="sections that nobody gave; a hinge line that is not straight; play and bending; a "
    "shell that bends between its corners: draw so many that the drawing's error holds what is cut "
    "off; the hinge bases, unless they are corners of the shell",
    method="in each section the distance of both outlines, corner to side both ways; openings "
    "halved until, by the speed of the door's farthest corner, no gap can be less by more than the "
    "search's error",
    second=Second(_by_turning_the_shell, "0.1", "the shell turned back, in half degrees, finer"),
    examples=(
        Example(
            {
                "door": LEAF, "shell": HULL, "opens": "100°", "wanted": "3 mm", "drawing": "1 mm",
            },
            {"sections.1.gap": "36.06 mm", "sections.1.opening": "0 °", "sure": "34.96 mm"},
            "geometry: 30 across and 20 up from the shell's end when shut, √1300 = 36.06 mm; the "
            "door's near corner stays 50 mm from the hinge, that of the shell 60 mm",
        ),
    ),
    figures=("door-swing",),
)  # fmt: skip
def door_swing(
    door: tuple[DoorCorner, ...],
    shell: tuple[ShellCorner, ...],
    opens: Opens,
    wanted: Wanted,
    drawing: Drawing,
    no_go: NoGo,
    error: Annotated[Amount, given("g_ε", "mm", "error of the search", fixed="0.1 mm")],
) -> Swing:
    """Swing of a door about its hinge line: the least gap to the shell in every section.

    Each outline is closed by itself: that of the shell through the hull. Where door and shell meet
    it is refused.
    """
    numbers: Any = (opens, wanted, drawing, error)
    end, want, off, slack = numbers
    found = []
    for section in _sections(door, shell):
        opening, gap = least_gap(_gap_of(section), _speed_of(section), (0.0, end), slack)
        if gap <= slack:
            wrong = f"at {1000 * section[0]:g} mm the door meets the shell at an opening of "
            raise Refusal("range", f"{wrong}{math.degrees(opening):.1f}°", NO_GO)
        found.append((section[0], opening, gap))
    swing = _swing(found, slack, (off, want))
    sure: Any = swing.sure
    if no_go == "refuse" and sure < want:
        told = [math.floor(sure * 10000) / 10, want * 1000]
        wrong = "the gap that is sure is {:.1f} mm where {:g} mm are wanted".format(*told)
        raise Refusal("range", wrong, NO_GO)
    return swing
