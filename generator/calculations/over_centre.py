"""Links of an over-centre lock in; how far past centre it stands, and what friction eats, out.

The offset at the knee is measured by itself: between the ends it hides in hundredths.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives
from generator.quantities.amount import Amount
from generator.quantities.functions import arcsin, arctan, square_root, step, tan

TRIANGLE = "geometry of the triangle of two links"
STIFF = "bending of links and structure under load: the offset is measured with load on and off"
DIRECT = "Measure the offset itself, at the knee, with straightedge and feeler: D hides it"
FirstLink = Annotated[
    Amount, given("L₁", "mm", "one link, pin to pin", at_least="20", at_most="3000")
]
SecondLink = Annotated[
    Amount, given("L₂", "mm", "other link, pin to pin", at_least="20", at_most="3000")
]


@dataclass(frozen=True)
class OverCentre:
    """A lock that is past its centre."""

    past: Annotated[Amount, gives("θ", "°", "angle past centre", to="0.01", safe="down")]
    shorter: Annotated[
        Amount, gives("ΔD", "mm", "ends nearer than at centre", to="0.001")
    ]  # fmt: skip
    eaten: Annotated[Amount, gives("h_μ", "mm", "offset that friction eats", to="0.01", safe="up")]
    left: Annotated[
        Amount,
        gives("h_l", "mm", "offset left", to="0.01", safe="down", at_least="0",
              beyond="Friction alone may hold it short of locking: more offset"),
    ]  # fmt: skip


def _past_by_places(
    first: float, second: float, offset: float, end_pin: float, knee_pin: float, friction: float
) -> OverCentre:
    """Places of the pins; the friction circles of two pins side by side."""
    one, other = (math.sqrt(each**2 - offset**2) for each in (first, second))
    past = math.atan2(offset, one) + math.atan2(offset, other)
    nearer = offset * math.tan(math.asin(offset / first) / 2)
    nearer += offset * math.tan(math.asin(offset / second) / 2)
    eaten = friction * end_pin / 2 + friction * knee_pin / 2
    made: Any = OverCentre
    bare: OverCentre = made(past, nearer, eaten, offset - eaten)
    return bare


@calculation(
    source=f"{TRIANGLE}; friction circle of a pin: friction × radius, textbook",
    not_covered=STIFF + "; springs and locks, which approved data ask for beside it; dirt and wear "
    "that raise friction",
    second=Second(_past_by_places, "0.001 %", "places of the pins, half angles"),
    examples=(
        Example(
            {
                "first": "400 mm",
                "second": "350 mm",
                "offset": "19.315 mm",
                "end_pin": "16 mm",
                "knee_pin": "16 mm",
                "friction": "0.12",
            },
            {"past": "5.931 °", "shorter": "1.000 mm", "eaten": "1.92 mm"},
            "triangle with sides 400, 350, 749 by the law of cosines (from memory): "
            "2.7678° and 3.1636°",
        ),
    ),
)
def over_centre(
    first: FirstLink,
    second: SecondLink,
    offset: Annotated[
        Amount,
        given("h", "mm", "offset of the knee past the line of the ends", above="0", at_most="200",
              at_bench="0.05"),
    ],
    end_pin: Annotated[
        Amount, given("d_e", "mm", "diameter of the end pins", at_least="2", at_most="150")
    ],
    knee_pin: Annotated[
        Amount, given("d_k", "mm", "diameter of the knee pin", at_least="2", at_most="150")
    ],
    friction: Annotated[
        Amount,
        given("μ_p", "", "greatest friction in the pins", at_least="0.02", at_most="0.6"),
    ],
) -> OverCentre:  # fmt: skip
    """Over-centre lock from the offset at its knee: angle past centre, and what friction eats.

    Load on the links holds the lock only where the offset is more than both friction circles.
    """
    lean, other = (
        step(offset / link, f"h/{name}", "", "offset over link", at_most="0.3",
             wrong="the offset is {value} of a link; from 0.3 it is no lock but a bent knee")
        for link, name in ((first, "L₁"), (second, "L₂"))
    )  # fmt: skip
    one = square_root(first**2 - offset**2)
    two = square_root(second**2 - offset**2)
    shorter = offset**2 / (first + one) + offset**2 / (second + two)
    eaten = step(friction * (end_pin + knee_pin) / 2, "h_μ", "mm", "offset that friction eats")
    past = arcsin(lean) + arcsin(other)
    return OverCentre(past, shorter, eaten, offset - eaten)


@dataclass(frozen=True)
class FromDistance:
    """The offset that a distance between the ends gives, where it gives one."""

    offset: Annotated[Amount, gives("h", "mm", "offset of the knee", to="0.01")]
    first: Annotated[Amount, gives("θ_1", "°", "angle of one link to the line", to="0.01")]
    second: Annotated[Amount, gives("θ_2", "°", "angle of the other", to="0.01")]
    count: Annotated[
        Amount, gives("Δh", "mm", "offset that one count makes", to="0.001", safe="up")
    ]
    part: Annotated[
        Amount,
        gives("p", "%", "part of the offset's tolerance that one count takes", to="0.1",
              safe="up", at_most="10", beyond=DIRECT),
    ]  # fmt: skip


def _by_cosines(
    first: float, second: float, distance: float, count: float, tolerance: float
) -> FromDistance:
    """Law of cosines, both angles; the count by how fast the ends close."""
    angles = [
        math.acos((a**2 + distance**2 - b**2) / (2 * a * distance))
        for a, b in ((first, second), (second, first))
    ]
    offset = first * math.sin(angles[0])
    slopes = [
        offset / (link * math.cos(a)) for link, a in zip((first, second), angles, strict=True)
    ]
    made: Any = FromDistance
    moved = count / sum(slopes)
    bare: FromDistance = made(offset, angles[0], angles[1], moved, moved / tolerance)
    return bare


@calculation(
    source=f"{TRIANGLE}; one count up to a tenth of the tolerance: common practice, no source",
    not_covered=STIFF + "; the error of the links' own lengths, which counts as much as that of "
    "the distance; on which side of the line the knee stands",
    second=Second(_by_cosines, "0.1 %", "law of cosines"),
    examples=(
        Example(
            {
                "first": "400 mm",
                "second": "350 mm",
                "distance": "749 mm",
                "count": "0.01 mm",
                "tolerance": "1.5 mm",
            },
            {"offset": "19.315 mm", "first": "2.7678 °", "second": "3.1636 °"},
            "triangle with sides 400, 350, 749 by the law of cosines (from memory)",
        ),
    ),
)
def over_centre_from_distance(
    first: FirstLink,
    second: SecondLink,
    distance: Annotated[
        Amount,
        given("D", "mm", "end pin to end pin", at_least="10", at_most="6000", at_bench="0.01"),
    ],
    count: Annotated[Amount, given("c_D", "mm", "step that it is read to", above="0", at_most="5")],
    tolerance: Annotated[
        Amount, given("t_h", "mm", "tolerance of the offset, either way", above="0", at_most="100")
    ],
) -> FromDistance:
    """Offset of an over-centre lock from the distance of its ends: refused where that hides it.

    Near the centre a hundredth between the ends is tenths at the knee.
    """
    short = step(
        first + second - distance, "s", "mm", "ends nearer than at centre", above="0",
        wrong="the ends are further apart than both links are long, by {value} the other way",
    )  # fmt: skip
    one_on, two_on = (
        step((distance**2 + a**2 - b**2) / (2 * distance), name, "mm", "link along the line",
             above="0", wrong="one link leans by 90° or more ({value}): no lock near its centre")
        for a, b, name in ((first, second, "a_1"), (second, first, "a_2"))
    )  # fmt: skip
    both = step(first + second + distance, "w", "mm", "all three")
    ahead, behind = distance + first - second, distance + second - first
    offset = step(
        square_root(both * short) * square_root(ahead * behind) / (2 * distance),
        "h", "mm", "offset of the knee",
    )  # fmt: skip
    one = step(arctan(offset / one_on), "θ_1", "°", "angle of one link")
    two = step(arctan(offset / two_on), "θ_2", "°", "angle of the other")
    moved = step(count / (tan(one) + tan(two)), "Δh", "mm", "offset that one count makes")
    return FromDistance(offset, one, two, moved, moved / tolerance)


def _thrust_by_height(angle: float, force: float) -> float:
    """A link of one metre as its place, its thrust as far as it reaches."""
    return force / 2 * math.cos(angle) / math.sin(angle)


@calculation(
    source="textbook: Q/P = 1 / (2 tan α) for a toggle of two equal links pressed at its knee",
    not_covered="links of unequal length, or a force that is not square to the line of the ends; "
    "friction, which near the centre decides",
    second=Second(_thrust_by_height, "0.001 %", "cosine over sine"),
    examples=(
        Example(
            {"angle": "10°", "force": "1000 N"},
            {"": "2836 N"},
            "Q/P = 0.5 / tan α (mechanism pages, closed form): 2.836 at 10°",
        ),
    ),
)
def toggle_force(
    angle: Annotated[
        Amount,
        given("α", "°", "angle of a link to the line of the ends", at_least="1", at_most="80"),
    ],
    force: Annotated[
        Amount, given("P", "N", "force on the knee, square to that line", at_least="0",
                      at_most="500000")
    ],
) -> Annotated[Amount, gives("Q", "N", "force along the line of the ends", to="1")]:  # fmt: skip
    """Force of a symmetric toggle along the line of its ends, for a force on its knee."""
    thrust: Amount = force / (2 * tan(angle))
    return thrust
