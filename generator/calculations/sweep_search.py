"""A gap as a function of an angle, and how fast it may change, in; its least, nothing missed, out.

No calculation stands here: the clearances ask for it. Polygon libraries are left out on purpose:
one convex outline against a straight edge needs a page, and the tests compare it with brute force.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

Gap = Callable[[float], float]
Speed = Callable[[float, float], float]
GOLD = (math.sqrt(5) - 1) / 2


def golden(of: Gap, low: float, high: float, times: int) -> tuple[float, float]:
    """The least of a function with one dip between two ends: where, and how much."""
    one, two = high - GOLD * (high - low), low + GOLD * (high - low)
    at_one, at_two = of(one), of(two)
    for _ in range(times):
        if at_one < at_two:
            high, two, at_two = two, one, at_one
            one = high - GOLD * (high - low)
            at_one = of(one)
        else:
            low, one, at_one = one, two, at_two
            two = low + GOLD * (high - low)
            at_two = of(two)
    return (one, at_one) if at_one < at_two else (two, at_two)


def least_gap(
    gap: Gap, speed: Speed, ends: tuple[float, float], slack: float
) -> tuple[float, float]:
    """Where a gap is least, and how much it is there; nowhere is it less by more than the slack.

    speed: the most that the gap can change for each radian between two angles. Steps are halved
    until no place is left in which the gap could fall that far below the least one that was found.
    """
    known = {at: gap(at) for at in _grid(ends, 4)}
    best = min(known, key=lambda at: known[at])
    angles = sorted(known)
    open_parts = list(pairwise(angles))
    while open_parts:
        low, high = open_parts.pop()
        fall = speed(low, high) * (high - low)
        if (known[low] + known[high] - fall) / 2 >= known[best] - slack:
            continue
        middle = (low + high) / 2
        known[middle] = gap(middle)
        best = middle if known[middle] < known[best] else best
        open_parts += [(low, middle), (middle, high)]
    angles = sorted(known)
    place = angles.index(best)
    low, high = angles[max(0, place - 1)], angles[min(len(angles) - 1, place + 1)]
    found = golden(gap, low, high, 14)
    return found if found[1] < known[best] else (best, known[best])


def _grid(ends: tuple[float, float], steps: int) -> list[float]:
    return [ends[0] + (ends[1] - ends[0]) * n / steps for n in range(steps + 1)]


Point = tuple[float, float]


def to_edge(point: Point, one: Point, other: Point) -> float:
    """The distance of a point from a straight edge."""
    along = (other[0] - one[0], other[1] - one[1])
    off = (point[0] - one[0], point[1] - one[1])
    size = along[0] * along[0] + along[1] * along[1]
    share = (off[0] * along[0] + off[1] * along[1]) / size
    share = 0.0 if share < 0.0 else min(share, 1.0)
    return math.hypot(off[0] - share * along[0], off[1] - share * along[1])


@dataclass(frozen=True)
class Tyre:
    """The outline of a tyre in its own frame: along the leg, and across it.

    (across / half width)² + (along / half length)^fullness = 1
    """

    half_length: float
    half_width: float
    fullness: float

    def at(self, place: float) -> Point:
        """A point of the outline; a place runs from 0 to 4 once round, its quarters whole."""
        quarter = math.floor(place)
        part = place - quarter
        quarter %= 4
        part = 1 - part if quarter % 2 else part
        share = part * (2 - part)
        across = self.half_width * math.sqrt(max(0.0, 1 - share**self.fullness))
        along = self.half_length * share
        return (along if quarter < 2 else -along), (across if quarter in (0, 3) else -across)

    def holds(self, point: Point) -> bool:
        """Whether a point lies inside the outline."""
        along, across = abs(point[0]) / self.half_length, point[1] / self.half_width
        return along <= 1 and along**self.fullness + across * across <= 1

    def gap(self, one: Point, other: Point, ring: list[tuple[float, Point]]) -> float:
        """The distance of a straight edge from the outline; 0 where they meet."""
        if self.holds(one):
            return 0.0
        nearest = min(ring, key=lambda each: to_edge(each[1], one, other))[0]
        width = 4 / len(ring)
        return golden(
            lambda place: to_edge(self.at(place), one, other), nearest - width, nearest + width, 14
        )[1]

    def ring(self, points: int) -> list[tuple[float, Point]]:
        return [(4 * n / points, self.at(4 * n / points)) for n in range(points)]
