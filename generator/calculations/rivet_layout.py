"""A row or a circle of fasteners in; pitch, edge, rows and the places of each, out."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import (
    Example,
    Second,
    calculation,
    choice,
    count,
    given,
    gives,
    listed,
)
from generator.calculations.rivets import Diameter
from generator.quantities.amount import Amount
from generator.quantities.functions import largest, pi_times, sin, step

NAVY = "NAVEDTRA 14018 ch. 13: at least 3 D, usually 4 to 8 D"
ARMY = "US Army course AL0992: 3 to 10 D, usually 6 to 8 D; edge 2 to 4 D, 2.5 D where flush"
GUIDES = ("NAVEDTRA 14018", "AL0992")
SPACED = (
    "the pitch is {value} diameters: too close weakens the sheet between the rivets, too wide "
    "lets it open"
)
CLOSE = "the pitch of the row is {value} diameters: too close weakens the sheet between the rivets"
Guide = Annotated[str, choice("guide for the largest pitch: 8 or 10 diameters", *GUIDES)]
Fasteners = Annotated[int, count("n", "fasteners", at_least=3, at_most=2000)]
Circle = Annotated[
    Amount, given("C", "mm", "diameter of the circle of fasteners", at_least="10", at_most="6000")
]
Least = Annotated[Amount, given("k_1", "", "least pitch in diameters", fixed="3 ratio")]
Usual = Annotated[Amount, given("k_2", "", "largest pitch, NAVEDTRA 14018", fixed="8 ratio")]
Army = Annotated[Amount, given("k_3", "", "largest pitch, AL0992", fixed="10 ratio")]


def _in_diameters(pitch: Any, diameter: Any, least: Any, most: Any) -> Any:
    """The pitch in diameters; refuses one that is too close or too wide."""
    ends = {"at_least": least, "at_most": most}
    return step(pitch / diameter, "p/D", "", "pitch in diameters", **ends, wrong=SPACED)


@dataclass(frozen=True)
class Pitch:
    """A pitch against what a guide allows."""

    in_diameters: Annotated[Amount, gives("p/D", "", "pitch in diameters", to="0.01")]
    least: Annotated[Amount, gives("p_1", "mm", "least pitch", to="0.01", safe="up")]
    most: Annotated[Amount, gives("p_2", "mm", "largest pitch", to="0.01", safe="down")]


def _pitch_by_share(
    pitch: float, diameter: float, guide: str, least: float, usual: float, army: float
) -> Pitch:
    """Both ends as shares of the pitch."""
    have = pitch / diameter
    most = {GUIDES[0]: usual, GUIDES[1]: army}[guide]
    made: Any = Pitch
    bare: Pitch = made(have, pitch * least / have, pitch * most / have)
    return bare


@calculation(
    source=f"{NAVY}; {ARMY}",
    not_covered="the load, which may ask for more rivets: rivets_for_sheet; a pitch under 4 D, "
    "which is closer than usual",
    second=Second(_pitch_by_share, "0.001 %", "both ends as shares of the pitch"),
    examples=(
        Example(
            {"pitch": "0.75 in", "diameter": "0.125 in", "guide": "NAVEDTRA 14018"},
            {"in_diameters": "6.00", "least": "0.375 in", "most": "1.000 in"},
            "NAVEDTRA 14018 ch. 13: 3 and 8 diameters of a 1/8 rivet",
        ),
    ),
)
def rivet_pitch(
    pitch: Annotated[
        Amount, given("p", "mm", "pitch of the rivets", above="0", at_most="500", at_bench="0.1")
    ],
    diameter: Diameter,
    guide: Guide,
    least: Least,
    usual: Usual,
    army: Army,
) -> Pitch:
    """Pitch of rivets against the least and the largest of the guide that is named."""
    most = usual if guide == GUIDES[0] else army
    ratio = _in_diameters(pitch, diameter, least, most)
    return Pitch(ratio, least * diameter, most * diameter)


@dataclass(frozen=True)
class OnCircle:
    """Fasteners on a circle, evenly."""

    pitch: Annotated[Amount, gives("p", "mm", "pitch along the circle", to="0.01")]
    chord: Annotated[Amount, gives("s", "mm", "hole to next hole in a straight line", to="0.01")]


def _chord_by_places(circle: float, fasteners: int) -> float:
    """Two neighbours as points of the circle, and the distance between them."""
    return abs(circle / 2 * (cmath.rect(1, 2 * math.pi / fasteners) - 1))


def _circle_by_places(circle: float, fasteners: int) -> OnCircle:
    made: Any = OnCircle
    arc = circle / 2 * (2 * math.pi / fasteners)
    bare: OnCircle = made(arc, _chord_by_places(circle, fasteners))
    return bare


@calculation(
    source="geometry of the circle: chord C sin(180°/n), arc π C/n",
    not_covered="what the fasteners carry; whether rivets stand too close or too wide: rivet_pitch",
    second=Second(_circle_by_places, "0.001 %", "two neighbours as points of the circle"),
    examples=(
        Example(
            {"circle": "100 mm", "fasteners": "6"},
            {"chord": "50 mm", "pitch": "52.36 mm"},
            "geometry: the side of a regular hexagon is its radius; 100 π / 6",
        ),
    ),
)
def pitch_circle(
    circle: Circle,
    fasteners: Fasteners,
    half: Annotated[Amount, given("180°", "°", "half a turn", fixed="180°")],
) -> OnCircle:
    """Fasteners on a circle: chord from hole to hole, which a caliper reads, and pitch along it."""
    return OnCircle(pi_times(circle) / fasteners, circle * sin(half / fasteners))


Length = Annotated[
    Amount, given("L", "mm", "length of the sheet along the row", at_least="10", at_most="20000")
]
FirstEdge = Annotated[
    Amount, given("e_1", "mm", "end of the sheet to the first rivet", above="0", at_most="200")
]
LastEdge = Annotated[
    Amount, given("e_2", "mm", "last rivet to the end of the sheet", above="0", at_most="200")
]


def _row_by_ends(
    length: float, first: float, last: float, fasteners: int, diameter: float, least: float
) -> float:
    """From the place of the last rivet back to that of the first."""
    return ((length - last) - first) / (fasteners - 1)


@calculation(
    source=f"geometry: one space less than rivets; {NAVY}",
    not_covered="the load; whether they stand too wide: rivet_pitch; stiffeners and corners, whose "
    "rivets stand where they must",
    second=Second(_row_by_ends, "0.001 %", "from the place of the last rivet back to the first"),
    examples=(
        Example(
            {
                "length": "20000 mm",
                "first": "10 mm",
                "last": "10 mm",
                "fasteners": "1000",
                "diameter": "3.2 mm",
            },
            {"": "20 mm"},
            "visible: 19980 mm in 999 spaces, a seam of the hull",
        ),
    ),
)
def rivet_row(
    length: Length,
    first: FirstEdge,
    last: LastEdge,
    fasteners: Fasteners,
    diameter: Diameter,
    least: Least,
) -> Annotated[Amount, gives("p", "mm", "pitch of the row", to="0.01")]:
    """Rivets in a row: the pitch that a count of rivets has between the two end rivets.

    Refuses rivets that stand closer than three diameters.
    """
    between = step(length - first - last, "L_r", "mm", "first to last rivet", above="0",
                   wrong="{value} is left between the end rivets")  # fmt: skip
    pitch: Amount = between / (fasteners - 1)
    step(pitch / diameter, "p/D", "", "pitch in diameters", at_least=least, wrong=CLOSE)
    return pitch


@dataclass(frozen=True)
class Place:
    """Where one rivet stands."""

    at: Annotated[Amount, gives("x", "mm", "from the end of the sheet", to="0.1")]


@dataclass(frozen=True)
class Spread:
    """A row that takes a wanted pitch as nearly as it goes."""

    rivets: Annotated[Amount, gives("n", "", "rivets", to="1", settled=True)]
    pitch: Annotated[Amount, gives("p", "mm", "pitch of the row", to="0.01")]
    in_diameters: Annotated[
        Amount, gives("p/D", "", "pitch in diameters", to="0.01", at_least="3",
                      beyond="A larger pitch")
    ]  # fmt: skip
    remainder: Annotated[
        Amount, gives("r", "mm", "what the wanted pitch leaves over at the end", to="0.01")
    ]
    each: Annotated[Amount, gives("Δp", "mm", "taken off each space to spread it", to="0.01")]
    places: Annotated[tuple[Place, ...], listed("places of the rivets")]


def _spread_by_counting(
    length: float, first: float, last: float, wanted: float, diameter: float
) -> Spread:
    """Spaces added until the pitch is no longer above the wanted one."""
    between = length - first - last
    spaces = 1
    while between / spaces > wanted * (1 + 1e-9):
        spaces += 1
    whole = spaces if abs(between - spaces * wanted) <= 1e-9 * between else spaces - 1
    pitch = between / spaces
    stands: Any = Place
    places = tuple(stands(length - last - pitch * (spaces - n)) for n in range(spaces + 1))
    made: Any = Spread
    bare: Spread = made(
        spaces + 1.0, pitch, pitch / diameter, between - whole * wanted, wanted - pitch, places
    )
    return bare


@calculation(
    source=f"the remainder spread evenly over all spaces: common practice, no source; {NAVY}",
    not_covered="the load; rivets that must stand at a stiffener or a corner: one row for each "
    "piece between them, whose end rivets are the corner rivets",
    method="as many spaces as the wanted pitch does not go over, all alike; the end rivets stand "
    "at the edge distances",
    second=Second(_spread_by_counting, "0.000001 mm", "spaces added one by one"),
    examples=(
        Example(
            {
                "length": "250 mm",
                "first": "10 mm",
                "last": "10 mm",
                "wanted": "25 mm",
                "diameter": "3.2 mm",
            },
            {
                "rivets": "11",
                "pitch": "23 mm",
                "remainder": "5 mm",
                "each": "2 mm",
                "places.2.at": "33 mm",
            },
            "visible: 230 mm is nine times 25 and 5 over; ten spaces of 23",
        ),
    ),
)  # fmt: skip
def rivet_row_spread(
    length: Length,
    first: FirstEdge,
    last: LastEdge,
    wanted: Annotated[Amount, given("p_w", "mm", "pitch wanted", at_least="5", at_most="200")],
    diameter: Diameter,
) -> Spread:
    """Row of rivets for a wanted pitch: the remainder spread over all spaces, and every place."""
    between: Any = length - first - last
    ratio = between / wanted
    spaces = max(1, math.ceil(ratio * (1 - 1e-9)))
    pitch = between / spaces
    over = between - math.floor(ratio * (1 + 1e-9)) * wanted
    stands: Any = Place
    places = tuple(stands(first + pitch * n) for n in range(spaces + 1))
    made: Any = Spread
    found: Spread = made(spaces + 1.0, pitch, pitch / diameter, over, wanted - pitch, places)
    return found


@dataclass(frozen=True)
class Edge:
    """An edge distance against the least one."""

    least: Annotated[Amount, gives("e_min", "mm", "least edge distance", to="0.01", safe="up")]
    spare: Annotated[
        Amount,
        gives("Δe", "mm", "edge distance above the least", to="0.01", safe="down", at_least="0",
              beyond="Under it the sheet tears out: move the row, or raise a slip"),
    ]  # fmt: skip
    in_diameters: Annotated[
        Amount, gives("e/D", "", "edge distance in diameters", to="0.01", safe="down")
    ]
    beyond: Annotated[
        Amount, gives("e_4", "mm", "edge distance past which a sheet lifts", to="0.01",
                      safe="down")
    ]  # fmt: skip


HEADS = ("protruding", "flush")


def _edge_by_share(
    edge: float, diameter: float, head: str, two: float, flush: float, four: float
) -> Edge:
    """In diameters, and what is left of them."""
    times = {"protruding": two, "flush": flush}[head]
    have = edge / diameter
    made: Any = Edge
    bare: Edge = made(times * diameter, (have - times) * diameter, have, four * diameter)
    return bare


@calculation(
    source="2 D: AC 43.13-1B (9/8/98) paragraph 4-57, NAVEDTRA 14018 ch. 13 and TM "
    f"10-5410-229-13&P paragraph 5-6; 2.5 D for flush heads and 4 D at the most: {ARMY}",
    not_covered="approved data that ask for more; the edge of the hole, which an oversize hole "
    "moves; bolts in the same row as larger ones",
    second=Second(_edge_by_share, "0.001 %", "in diameters"),
    examples=(
        Example(
            {"edge": "0.3125 in", "diameter": "0.125 in", "head": "protruding"},
            {"least": "0.25 in", "spare": "0.0625 in", "beyond": "0.5 in"},
            "AC 43.13-1B paragraph 4-57: two diameters of 1/8",
            "0.0001 in",
        ),
    ),
)
def edge_distance(
    edge: Annotated[
        Amount, given("e", "mm", "edge distance, centre of the hole to the edge", above="0",
                      at_most="200", at_bench="0.05")
    ],
    diameter: Annotated[
        Amount, given("D", "mm", "diameter of the fastener", at_least="1.5", at_most="40")
    ],
    head: Annotated[str, choice("head of the fastener", *HEADS)],
    two: Annotated[Amount, given("k_e", "", "least edge in diameters", fixed="2 ratio")],
    flush: Annotated[Amount, given("k_f", "", "the same, flush head", fixed="2.5 ratio")],
    four: Annotated[Amount, given("k_4", "", "largest edge in diameters", fixed="4 ratio")],
) -> Edge:  # fmt: skip
    """Edge distance of a rivet or bolt against the least, its tolerance counted in."""
    times = two if head == HEADS[0] else flush
    least = step(times * diameter, "e_min", "mm", "least edge distance")
    return Edge(least, edge - least, edge / diameter, four * diameter)


@dataclass(frozen=True)
class Rows:
    """Two rows of rivets against the least distance between them."""

    least: Annotated[Amount, gives("a_min", "mm", "least distance of rows", to="0.01", safe="up")]
    spare: Annotated[
        Amount, gives("Δa", "mm", "rows above the least", to="0.01", safe="down", at_least="0",
                      beyond="The rows stand too close")
    ]  # fmt: skip


def _rows_by_share(
    apart: float, pitch: float, diameter: float, rows: float, quarters: float
) -> Rows:
    least = diameter * max(rows, quarters * pitch / diameter)
    made: Any = Rows
    bare: Rows = made(least, apart - least)
    return bare


@calculation(
    source="2.5 D: TM 10-5410-229-13&P paragraph 5-6; 75 % of the pitch: trade article, 1999, that "
    "cites AC 43.13",
    not_covered="staggered rows, whose diagonal pitch counts too; the load",
    second=Second(_rows_by_share, "0.001 %", "in diameters"),
    examples=(
        Example(
            {"apart": "0.75 in", "pitch": "0.8 in", "diameter": "0.125 in"},
            {"least": "0.6 in", "spare": "0.15 in"},
            "75 % of 0.8 in, which is more than 2.5 diameters of 1/8",
        ),
    ),
)
def rivet_rows(
    apart: Annotated[
        Amount, given("a", "mm", "distance of the rows", above="0", at_most="500", at_bench="0.1")
    ],
    pitch: Annotated[Amount, given("p", "mm", "pitch in the rows", above="0", at_most="500")],
    diameter: Diameter,
    rows: Annotated[Amount, given("k_a", "", "rows in diameters", fixed="2.5 ratio")],
    quarters: Annotated[Amount, given("k_p", "", "rows over pitch", fixed="0.75 ratio")],
) -> Rows:
    """Distance of two rows of rivets against the least by diameter and by pitch."""
    least = step(largest(rows * diameter, quarters * pitch), "a_min", "mm", "least distance")
    return Rows(least, apart - least)
