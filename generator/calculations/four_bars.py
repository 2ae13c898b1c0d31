"""Levers and rods in one plane, as they stand at neutral, in; exact turnings out.

Angles run from the line across (to the right) upwards; places are those of the pivots.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives
from generator.calculations.lever_chain import (
    GRID,
    chain,
    free,
    halved,
    last,
    least_on,
    path,
    place,
    placed,
    short_of,
)
from generator.quantities.amount import Amount

PLANE = "geometry of rigid links in one plane: exact for any length of rod"
OPEN = (
    "rods out of the plane of their levers; slack, stretch and bending; rod ends that bind; "
    "lengths other than those that the rig pins give"
)


@dataclass(frozen=True)
class Stage:
    """A lever that drives the next one, as both stand at neutral.

    By a rod; or by a cable on two quadrants, both turning the same way or crossed.
    """

    driver: Annotated[Amount, given("r_d", "mm", "arm that drives", at_least="5", at_most="2000")]
    driver_angle: Annotated[
        Amount, given("α_d", "°", "its angle at neutral", at_least="-360", at_most="360")
    ]
    driven: Annotated[
        Amount, given("r_f", "mm", "arm that is driven", at_least="5", at_most="2000")
    ]
    driven_angle: Annotated[
        Amount, given("α_f", "°", "its angle at neutral", at_least="-360", at_most="360")
    ]
    across: Annotated[
        Amount,
        given("x", "mm", "pivot of the driven lever, right of that of the driving one",
              at_least="-20000", at_most="20000"),
    ]  # fmt: skip
    up: Annotated[Amount, given("y", "mm", "and above it", at_least="-20000", at_most="20000")]
    by: Annotated[str, choice("what drives", "rod", "cable", "crossed cable", otherwise="rod")]


@dataclass(frozen=True)
class Travel:
    """A chain of levers, turned."""

    angles: Annotated[tuple[Amount, ...], gives("θ", "°", "turning of lever", to="0.01")]
    last: Annotated[Amount, gives("θ_n", "°", "turning of the last lever", to="0.01")]
    ratio: Annotated[
        Amount, gives("i", "", "turning of the last for that of the first, here", to="0.001")
    ]
    least: Annotated[
        Amount,
        gives("γ", "°", "least angle between a rod and an arm on the way", to="0.1", safe="down"),
    ]


def _half_tangent(stage: Any, turned: float) -> float:
    """Turning of a driven lever by the tangent of its half angle (Freudenstein's equation)."""
    ax = stage.driver * math.cos(stage.driver_angle + turned) - stage.across
    ay = stage.driver * math.sin(stage.driver_angle + turned) - stage.up
    bx = stage.driver * math.cos(stage.driver_angle) - stage.across
    by = stage.driver * math.sin(stage.driver_angle) - stage.up
    arm, at = stage.driven, stage.driven_angle
    square = (bx - arm * math.cos(at)) ** 2 + (by - arm * math.sin(at)) ** 2
    c = (ax * ax + ay * ay + arm * arm - square) / (2 * arm)
    root = math.sqrt(ax * ax + ay * ay - c * c)
    sign = 1.0 if bx * math.sin(at) - by * math.cos(at) > 0 else -1.0
    found = 2 * math.atan2(ay + sign * root, ax + c)
    return math.remainder(found - at, 2 * math.pi)


def _turned_by_tangents(stages: tuple[Any, ...], angle: float) -> list[float]:
    turnings = []
    for stage in stages:
        size = stage.driver / stage.driven
        if stage.by == "rod":
            angle = _half_tangent(stage, angle)
        else:
            angle = angle * size if stage.by == "cable" else -angle * size
        turnings.append(angle)
    return turnings


def _sines(stage: Any, first: float, second: float) -> tuple[float, float]:
    """Rod against both arms, from the lengths of the triangles alone."""
    one = cmath.rect(stage.driver, stage.driver_angle + first)
    other = complex(stage.across, stage.up) + cmath.rect(stage.driven, stage.driven_angle + second)
    pivot, rod = complex(stage.across, stage.up), abs(other - one)
    angles = []
    for arm, far in ((stage.driver, abs(other)), (stage.driven, abs(one - pivot))):
        cosine = (arm**2 + rod**2 - far**2) / (2 * arm * rod)
        angles.append(math.atan2(math.sqrt(max(0.0, 1 - cosine**2)), abs(cosine)))
    return angles[0], angles[1]


def _ratio_by_partials(stages: tuple[Any, ...], first: float, turnings: list[float]) -> float:
    """Square of each rod's length, by how it would grow with either turning."""
    ratio, before = 1.0, first
    for stage, after in zip(stages, turnings, strict=True):
        if stage.by == "rod":
            one, other = stage.driver_angle + before, stage.driven_angle + after
            dx = stage.across + stage.driven * math.cos(other) - stage.driver * math.cos(one)
            dy = stage.up + stage.driven * math.sin(other) - stage.driver * math.sin(one)
            by_one = stage.driver * (dx * math.sin(one) - dy * math.cos(one))
            by_other = stage.driven * (dy * math.cos(other) - dx * math.sin(other))
            ratio *= -by_one / by_other
        else:
            ratio *= stage.driver / stage.driven * (1 if stage.by == "cable" else -1)
        before = after
    return ratio


def _travel_by_tangents(stages: tuple[Any, ...], angle: float) -> Travel:
    """Freudenstein's equation for each stage; the ratio from how a rod would grow."""
    turnings = _turned_by_tangents(stages, angle)
    least = math.pi / 2
    for at in path(angle):
        ways = [at, *_turned_by_tangents(stages, at)]
        for stage, first, second in zip(stages, ways, ways[1:], strict=False):
            if stage.by == "rod":
                least = min(least, *_sines(stage, first, second))
    made: Any = Travel
    ratio = _ratio_by_partials(stages, angle, turnings)
    bare: Travel = made(tuple(turnings), turnings[-1], ratio, least)
    return bare


PARALLEL = {
    "driver": "60 mm",
    "driver_angle": "-90°",
    "driven": "60 mm",
    "driven_angle": "-90°",
    "across": "500 mm",
    "up": "0 mm",
}
TWO = [PARALLEL, PARALLEL | {"driven": "30 mm", "by": "crossed cable"}]


@calculation(
    source=f"{PLANE}; 15° from a dead centre: common practice, no source",
    not_covered=OPEN,
    method="each driven pin where two circles meet, on the side on which it was rigged; the way "
    "from neutral is walked in steps of half a degree",
    second=Second(_travel_by_tangents, "0.00001°", "tangents of half angles (Freudenstein)"),
    figures=("linkage",),
    examples=(
        Example(
            {
                "stages": TWO,
                "angle": "20°",
            },
            {"angles.1": "20.00 °", "last": "-40.00 °", "ratio": "-2.000", "least": "70.0 °"},
            "a parallelogram keeps its angle; a crossed cable on half the radius turns twice back",
        ),
        Example(
            {
                "stages": [
                    {
                        "driver": "40 mm",
                        "driver_angle": "40°",
                        "driven": "80 mm",
                        "driven_angle": "57.325°",
                        "across": "100 mm",
                        "up": "0 mm",
                    }
                ],
                "angle": "0°",
            },
            {"last": "0.00 °"},
            "four-bar of Norton, Design of Machinery (from memory), at its own place",
        ),
    ),
)
def control_travel(
    stages: tuple[Stage, ...],
    angle: Annotated[
        Amount,
        given("θ₀", "°", "turning of the first lever", at_least="-120", at_most="120",
              at_bench="0.5"),
    ],
) -> Travel:  # fmt: skip
    """Travel through a chain of levers, rods and quadrants, as exact linkages in one plane.

    Each stage is drawn as it stands with the rig pins in; that gives the rods their lengths.
    Refused where a rod does not reach, or comes near to a dead centre, on the way.
    """
    links, turned = chain(stages), float(angle)  # type: ignore[arg-type]
    least = least_on(links, turned)
    here = place(links, turned)
    made: Any = Travel
    found: Travel = made(here.turnings, here.turnings[-1], here.ratio, least)
    return found


@dataclass(frozen=True)
class Setting:
    """Where the first lever of a chain stands for a turning of the last."""

    first: Annotated[Amount, gives("θ_0", "°", "turning of the first lever", to="0.01")]
    ratio: Annotated[
        Amount, gives("i", "", "turning of the last for that of the first, here", to="0.001")
    ]
    residual: Annotated[
        Amount, gives("ε", "°", "residual: miss of the wanted turning", to="0.000001")
    ]


def _backwards(stages: tuple[Any, ...]) -> tuple[Any, ...]:
    """The chain driven from its other end."""
    kind: Any = Stage
    return tuple(
        kind(s.driven, s.driven_angle, s.driver, s.driver_angle, -s.across, -s.up, s.by)
        for s in reversed(stages)
    )


def _setting_backwards(stages: tuple[Any, ...], wanted: float) -> Setting:
    """The chain driven from its other end by the wanted turning."""
    back = _backwards(stages)
    turnings = _turned_by_tangents(back, wanted)
    ratio = 1 / _ratio_by_partials(back, wanted, turnings)
    made: Any = Setting
    bare: Setting = made(turnings[-1], ratio, 0.0)
    return bare


@calculation(
    source=f"{PLANE}; 15° from a dead centre: common practice, no source",
    not_covered=OPEN,
    method="the first lever turned from neutral in steps of half a degree until the last has "
    "passed the wanted turning, then 50 halvings",
    second=Second(_setting_backwards, "0.00001°", "the chain driven from its other end"),
    figures=("linkage",),
    examples=(
        Example(
            {
                "stages": TWO,
                "wanted": "-40°",
            },
            {"first": "20.00 °", "ratio": "-2.000"},
            "a parallelogram keeps its angle; a crossed cable on half the radius turns twice back",
        ),
    ),
)
def control_setting(
    stages: tuple[Stage, ...],
    wanted: Annotated[
        Amount,
        given("θ_n", "°", "wanted turning of the last lever", at_least="-120", at_most="120"),
    ],
) -> Setting:
    """Setting of the first lever for a wanted turning of the last: the travel run backwards."""
    links, target = chain(stages), float(wanted)  # type: ignore[arg-type]
    least_on(links, 0.0)
    way = math.copysign(GRID, target * place(links, 0.0).ratio)
    low, high = 0.0, 0.0
    while abs(last(links, high)) < abs(target):
        low, high = high, high + way
        if not free(links, high):
            raise short_of(links, low, high, target)
    first = halved(lambda at: abs(last(links, at)) < abs(target), low, high)
    made: Any = Setting
    miss = round(last(links, first) - target, 12)  # below it there is nothing but rounding
    found: Setting = made(first, place(links, first).ratio, miss)
    return found


@dataclass(frozen=True)
class FourBar:
    """A four-bar at one angle of its crank."""

    rocker: Annotated[Amount, gives("θ_4", "°", "angle of the rocker", to="0.01")]
    coupler: Annotated[Amount, gives("θ_3", "°", "angle of the coupler", to="0.01")]
    transmission: Annotated[
        Amount, gives("γ", "°", "angle between coupler and rocker", to="0.1", safe="down")
    ]


def _by_freudenstein(
    crank: float, coupler: float, rocker: float, ground: float, angle: float, branch: str
) -> FourBar:
    """Freudenstein's equation by its three ratios, roots by the tangent of the half angle."""
    k1, k2 = ground / crank, ground / rocker
    k3 = (crank**2 - coupler**2 + rocker**2 + ground**2) / (2 * crank * rocker)
    cosine = math.cos(angle)
    a, b = cosine - k1 - k2 * cosine + k3, -2 * math.sin(angle)
    c = k1 - (k2 + 1) * cosine + k3
    sign = -1.0 if branch == "open" else 1.0
    turned = 2 * math.atan2(-b + sign * math.sqrt(b * b - 4 * a * c), 2 * a)
    turned = math.remainder(turned, 2 * math.pi)
    x = ground + rocker * math.cos(turned) - crank * cosine
    y = rocker * math.sin(turned) - crank * math.sin(angle)
    joint = math.remainder(math.atan2(y, x) - turned, math.pi)
    made: Any = FourBar
    bare: FourBar = made(turned, math.atan2(y, x), abs(joint))
    return bare


@calculation(
    source=PLANE,
    not_covered=OPEN + "; a change from open to crossed, which a linkage cannot make by itself",
    method="the pin of the rocker where two circles meet, on the side that is named",
    second=Second(_by_freudenstein, "0.00001°", "Freudenstein's equation"),
    examples=(
        Example(
            {
                "crank": "40 mm",
                "coupler": "120 mm",
                "rocker": "80 mm",
                "ground": "100 mm",
                "angle": "40°",
                "branch": "open",
            },
            {"rocker": "57.325 °", "coupler": "20.298 °"},
            "Norton, Design of Machinery, four-bar example (from memory)",
        ),
        Example(
            {
                "crank": "40 mm",
                "coupler": "120 mm",
                "rocker": "80 mm",
                "ground": "100 mm",
                "angle": "40°",
                "branch": "crossed",
            },
            {"rocker": "-98.008 °", "coupler": "-60.98 °"},
            "Norton, Design of Machinery, four-bar example (from memory)",
            within="0.01 °",
        ),
    ),
)
def four_bar(
    crank: Annotated[Amount, given("a", "mm", "crank", at_least="5", at_most="20000")],
    coupler: Annotated[Amount, given("b", "mm", "coupler", at_least="5", at_most="20000")],
    rocker: Annotated[Amount, given("c", "mm", "rocker", at_least="5", at_most="20000")],
    ground: Annotated[Amount, given("d", "mm", "pivots apart", at_least="5", at_most="20000")],
    angle: Annotated[
        Amount,
        given("θ₂", "°", "angle of the crank from the line of pivots", at_least="-180",
              at_most="180", at_bench="0.5"),
    ],
    branch: Annotated[str, choice("how it was put together", "open", "crossed")],
) -> FourBar:  # fmt: skip
    """Four-bar at one angle of its crank: where the rocker and the coupler stand.

    Refused where the coupler does not reach, and nearer than 15° to a dead centre.
    """
    bars: Any = (crank, coupler, rocker, ground)
    turned: Any = angle
    pin, arm = placed(bars, turned, 1.0 if branch == "open" else -1.0)
    rod = bars[3] + arm - pin
    joint = math.remainder(cmath.phase(rod / arm), math.pi)
    made: Any = FourBar
    found: FourBar = made(cmath.phase(arm), cmath.phase(rod), abs(joint))
    return found
