"""A function of several givens and the limits of each in; the limits of every result out.

Worst case: where intervals prove which way a result goes with every given, its extremes lie at two
corners. Else all corners, lines of five points and a seeded search are tried, and the result says
"searched", with how far the proven bound lies outside. Root sum square stands beside it, never in
its place.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from generator.quantities.spread import Spread, moving

Point = Mapping[str, float]
MOST_CORNERS = 6
DRAWS = 256
HAIR = 1e-12  # in base units: below it a result does not move, its floats do


@dataclass(frozen=True)
class Moving:
    """A given that moves: its ends and its nominal, in base units."""

    low: float
    nominal: float
    high: float


@dataclass(frozen=True)
class Limits:
    """The limits of one result in base units, and how they were found.

    proven: at two corners, slopes proven. bound: what intervals alone allow, where they allow
    anything. driver: the given that moves it most; share: its part of all movement, 0 to 1.
    """

    low: float
    high: float
    proven: bool
    bound: tuple[float, float] | None
    rss_low: float
    rss_high: float
    driver: str
    share: float


@dataclass(frozen=True)
class Problem:
    """What is asked: evaluate gives every result at a point; prove gives its Spread, or leaves
    out the results whose slopes it cannot follow."""

    evaluate: Callable[[Point], Mapping[str, float]]
    prove: Callable[[Mapping[str, Spread]], Mapping[str, Spread]]
    givens: Mapping[str, Moving]


def limits_of(problem: Problem) -> dict[str, Limits]:
    """The limits of every result that moves. What evaluate refuses at a corner is not caught."""
    givens = problem.givens
    nominal = {name: each.nominal for name, each in givens.items()}
    at = _remembered(problem.evaluate)
    results = at(nominal)
    for corner in corners(givens):
        at(corner)
    spreads = problem.prove({n: moving(n, g.low, g.high) for n, g in givens.items()})
    halves = _one_by_one(at, givens, nominal)
    middle = at({name: (each.low + each.high) / 2 for name, each in givens.items()})
    found = {}
    for name in results:
        parts = {given: halves[given][name] for given in givens}
        if name in spreads or any(parts.values()):
            limits = _limits(name, at, givens, spreads.get(name), parts, middle[name])
            if limits.high - limits.low > HAIR * max(1.0, abs(limits.high)):
                found[name] = limits
    return found


def _remembered(
    evaluate: Callable[[Point], Mapping[str, float]],
) -> Callable[[Point], Mapping[str, float]]:
    """Every point is worked out once."""
    known: dict[tuple[float, ...], Mapping[str, float]] = {}

    def at(point: Point) -> Mapping[str, float]:
        key = tuple(point.values())
        if key not in known:
            known[key] = evaluate(point)
        return known[key]

    return at


def corners(givens: Mapping[str, Moving]) -> list[dict[str, float]]:
    """Every corner where the givens are few; else a seeded choice of them with both extremes."""
    names = list(givens)
    ends = [(givens[n].low, givens[n].high) for n in names]
    if len(names) <= MOST_CORNERS:
        return [dict(zip(names, corner, strict=True)) for corner in product(*ends)]
    draw = random.Random(1)
    sides = [[0] * len(names), [1] * len(names)]
    sides += [[draw.randrange(2) for _ in names] for _ in range(2**MOST_CORNERS - 2)]
    return [{n: e[s] for n, e, s in zip(names, ends, side, strict=True)} for side in sides]


def _one_by_one(
    at: Callable[[Point], Mapping[str, float]], givens: Mapping[str, Moving], nominal: Point
) -> dict[str, dict[str, float]]:
    """Half of what each result moves while one given runs from end to end, the others nominal."""
    halves = {}
    for name, given in givens.items():
        low, high = at({**nominal, name: given.low}), at({**nominal, name: given.high})
        halves[name] = {result: (high[result] - low[result]) / 2 for result in high}
    return halves


def _limits(
    name: str,
    at: Callable[[Point], Mapping[str, float]],
    givens: Mapping[str, Moving],
    spread: Spread | None,
    parts: Mapping[str, float],
    middle: float,
) -> Limits:
    sides = {given: _side(spread, given) for given in givens}
    loose = [given for given, side in sides.items() if side is None]
    low = _extreme(name, at, givens, sides, loose, -1)
    high = _extreme(name, at, givens, sides, loose, 1)
    whole = sum(abs(part) for part in parts.values())
    driver = max(parts, key=lambda given: abs(parts[given]))
    rss = math.sqrt(sum(part * part for part in parts.values()))
    share = abs(parts[driver]) / whole if whole else 0.0
    bound = spread.span if spread is not None and loose else None
    return Limits(low, high, not loose, bound, middle - rss, middle + rss, driver, share)


def _side(spread: Spread | None, given: str) -> int | None:
    """1 where the result rises with the given all the way, -1 where it falls, None: not proven."""
    if spread is None:
        return None
    low, high = spread.slope(given)
    if low >= 0:
        return 1
    return -1 if high <= 0 else None


def _extreme(
    name: str,
    at: Callable[[Point], Mapping[str, float]],
    givens: Mapping[str, Moving],
    sides: Mapping[str, int | None],
    loose: Sequence[str],
    way: int,
) -> float:
    """The largest (way 1) or smallest (way -1) value of a result."""
    fixed = {n: _end(g, way * (sides[n] or 1)) for n, g in givens.items()}
    if not loose:
        return at(fixed)[name]
    best, value = fixed, at(fixed)[name]
    for point in _tries(givens, fixed, loose):
        new = at(point)[name]
        if way * (new - value) > 0:
            best, value = point, new
    for given in loose:  # lines through the best point
        ends = givens[given]
        for n in range(5):
            point = {**best, given: ends.low + (ends.high - ends.low) * n / 4}
            new = at(point)[name]
            if way * (new - value) > 0:
                best, value = point, new
    return value


def _end(given: Moving, side: int) -> float:
    return given.high if side > 0 else given.low


def _tries(
    givens: Mapping[str, Moving], fixed: Mapping[str, float], loose: Sequence[str]
) -> list[dict[str, float]]:
    """Corners, lines of five points and a seeded search over the givens that are not proven."""
    moved = {name: givens[name] for name in loose}
    nominal = {name: each.nominal for name, each in moved.items()}
    tries = [{**fixed, **corner} for corner in corners(moved)]
    for name, each in moved.items():
        for n in range(5):
            line = {name: each.low + (each.high - each.low) * n / 4}
            tries.append({**fixed, **nominal, **line})
    draw = random.Random(2)
    for _ in range(DRAWS):
        tries.append({**fixed, **{n: draw.uniform(g.low, g.high) for n, g in moved.items()}})
    return tries
