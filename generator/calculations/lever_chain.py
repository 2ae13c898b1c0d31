"""A chain of levers, rods and quadrants, as they stand at neutral, in; the chain turned, out.

No calculation stands here: the four bars ask for these places.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from generator.findings import Refusal

NEAR = math.radians(15)  # a rod this near to in line with an arm: common practice, no source
GRID = math.radians(0.5)
HAIR = 1e-12  # by which rounding may put a rod that is just in line with its arm out of reach


class OutOfReach(Exception):
    """The rod of a stage does not reach."""


@dataclass(frozen=True)
class Stand:
    """A stage, turned. angles: between the rod and either arm, 0° and 180° are dead. ratio: both
    pins move alike along the rod."""

    turning: float
    angles: tuple[float, float]
    ratio: float


@dataclass(frozen=True)
class Link:
    """A stage as it turns: pivot of the driven lever from that of the driver, arms, rod, side."""

    pivot: complex
    driver: complex
    driven: complex
    rod: float
    side: float

    def driven_arm(self, turned: float) -> complex:
        """The driven arm after the driver has turned, on the side on which it was rigged."""
        pin = self.driver * cmath.exp(1j * turned) - self.pivot  # from the driven lever's pivot
        far, arm = abs(pin), abs(self.driven)
        cosine = (arm * arm + far * far - self.rod * self.rod) / (2 * arm * far)
        if abs(cosine) > 1.0 + HAIR:
            raise OutOfReach
        turned_off = math.acos(max(-1.0, min(1.0, cosine)))
        return arm * pin / far * cmath.exp(1j * self.side * turned_off)

    def stands(self, turned: float) -> Stand:
        """The stage after its driver has turned."""
        driver, driven = self.driver * cmath.exp(1j * turned), self.driven_arm(turned)
        rod = self.pivot + driven - driver
        along, lever = driver.conjugate() * rod, driven.conjugate() * rod
        angles = abs(cmath.phase(along)), abs(cmath.phase(lever))
        ratio = along.imag / lever.imag if lever.imag else math.inf
        return Stand(cmath.phase(driven / self.driven), angles, ratio)


def _linked(stage: Any) -> Link:
    driver = cmath.rect(stage.driver, stage.driver_angle)
    driven = cmath.rect(stage.driven, stage.driven_angle)
    pivot = complex(stage.across, stage.up)
    pin, rod = driver - pivot, pivot + driven - driver
    cross = (pin.conjugate() * driven).imag
    return Link(pivot, driver, driven, abs(rod), math.copysign(1.0, cross))


@dataclass(frozen=True)
class Place:
    """A chain at one turning of its first lever. least: the angle nearest to a dead centre."""

    turnings: tuple[float, ...]
    least: float
    ratio: float


def _gear(stage: Any) -> float:
    size: float = stage.driver / stage.driven
    return size if stage.by == "cable" else -size


def place(links: tuple[Link | float, ...], turned: float) -> Place:
    turnings, least, ratio = [], math.pi / 2, 1.0
    for number, link in enumerate(links, start=1):
        if isinstance(link, float):
            ratio, turned = ratio * link, turned * link
        else:
            try:
                stand = link.stands(turned)
            except OutOfReach:
                raise OutOfReach(number) from None
            least = min(least, *stand.angles, *(math.pi - each for each in stand.angles))
            ratio, turned = ratio * stand.ratio, stand.turning
        turnings.append(turned)
    return Place(tuple(turnings), least, ratio)


def chain(stages: tuple[Any, ...]) -> tuple[Link | float, ...]:
    for number, stage in enumerate(stages, start=1):
        rod = complex(stage.across, stage.up) + cmath.rect(stage.driven, stage.driven_angle)
        if stage.by == "rod" and abs(rod - cmath.rect(stage.driver, stage.driver_angle)) == 0:
            raise Refusal("range", f"stage {number} has no rod: both pins are one", "its pivots")
    return tuple(_linked(each) if each.by == "rod" else _gear(each) for each in stages)


def path(turned: float) -> Iterator[float]:
    """The way from neutral, in equal steps of half a degree at the most, its end last."""
    steps = max(1, math.ceil(abs(turned) / GRID))
    return (turned * n / steps for n in range(steps + 1))


def least_on(links: tuple[Link | float, ...], turned: float) -> float:
    """The angle nearest to a dead centre on the way; refuses a way that is not free."""
    least = math.pi / 2
    before = 0.0
    for at in path(turned):
        if not free(links, at):
            raise _notfree(links, before, at)
        least, before = min(least, place(links, at).least), at
    return least


def free(links: tuple[Link | float, ...], turned: float) -> bool:
    try:
        return place(links, turned).least >= NEAR
    except OutOfReach:
        return False


def _notfree(links: tuple[Link | float, ...], good: float, bad: float) -> Refusal:
    """What is wrong on the way from a free place to one that is not, and at which turning."""
    for _ in range(50):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if free(links, middle) else (good, middle)
    shown = f"{math.degrees(bad):.1f}°".replace("-", "\N{MINUS SIGN}")
    right = "other arms, or a travel that ends before"
    try:
        place(links, bad)
    except OutOfReach as stop:
        return Refusal("range", f"the rod of stage {stop} does not reach at {shown}", right)
    wrong = f"at {shown} of the first lever a rod is within 15° of in line with an arm"
    return Refusal("range", f"{wrong}: a dead centre", right)


def last(links: tuple[Link | float, ...], turned: float) -> float:
    return place(links, turned).turnings[-1]


def halved(short: Callable[[float], bool], low: float, high: float) -> float:
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if short(middle) else (low, middle)
    return (low + high) / 2


def short_of(links: tuple[Link | float, ...], good: float, bad: float, target: float) -> Refusal:
    """The wanted turning is not met before the way ends."""
    stop = _notfree(links, good, bad)
    shown = f"{math.degrees(target):.1f}°".replace("-", "\N{MINUS SIGN}")
    return Refusal("range", f"the last lever does not come to {shown}: {stop.wrong}", stop.right)


Bars = tuple[float, float, float, float]  # crank, coupler, rocker, distance of the pivots


def placed(bars: Bars, angle: float, side: float) -> tuple[complex, complex]:
    """Pin of the crank and arm of the rocker; refuses where a four-bar does not reach."""
    crank, coupler, rocker, ground = bars
    pin = cmath.rect(crank, angle)
    far = abs(pin - ground)
    shown = f"{math.degrees(angle):.1f}°".replace("-", "\N{MINUS SIGN}")
    if not abs(coupler - rocker) <= far <= coupler + rocker:
        raise Refusal("range", f"the links do not reach at {shown}", _reach(bars))
    cosine = (rocker * rocker + far * far - coupler * coupler) / (2 * rocker * far)
    arm = rocker * (pin - ground) / far * cmath.exp(-1j * side * math.acos(cosine))
    joint = abs(math.remainder(cmath.phase((ground + arm - pin) / arm), math.pi))
    if joint < NEAR:
        wrong = f"at {shown} coupler and rocker are within 15° of in line: a dead centre"
        raise Refusal("range", wrong, "other links, or another angle")
    return pin, arm


def _reach(bars: Bars) -> str:
    """Between which angles of the crank, either side of the line of pivots, the links reach."""
    crank, coupler, rocker, ground = bars
    ends = []
    for far in (abs(coupler - rocker), coupler + rocker):
        cosine = (crank * crank + ground * ground - far * far) / (2 * crank * ground)
        ends.append(math.degrees(math.acos(min(1.0, max(-1.0, cosine)))))
    if ends[0] >= ends[1]:
        return "links that can meet"
    return f"an angle between {ends[0]:.1f}° and {ends[1]:.1f}° to either side"
