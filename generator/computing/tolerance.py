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
from dataclasses import dataclass, replace
from itertools import product

from generator.findings import Refusal
from generator.quantities.spread import Spread, moving

Point = Mapping[str, float]
MOST_CORNERS = 10  # of so many givens all corners are tried: 1024 points
DRAWS = 256
HAIR = 1e-12  # of the result: below it a result does not move, its floats do


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
    anything. drivers: the given that moves it most, or several alike; share: the part of all
    movement that each of them has, 0 to 1. rises, falls: the givens with which the result is
    proven to rise or to fall, so that both corners can be found again.
    """

    low: float
    high: float
    proven: bool
    bound: tuple[float, float] | None
    rss_low: float
    rss_high: float
    drivers: tuple[str, ...]
    share: float
    rises: tuple[str, ...] = ()
    falls: tuple[str, ...] = ()

    @property
    def driver(self) -> str:
        """The drivers in words."""
        return " and ".join(filter(None, (", ".join(self.drivers[:-1]), self.drivers[-1])))

    def labelled(self, labels: Mapping[str, str]) -> Limits:
        """The same with every given called by its label."""
        names = (self.drivers, self.rises, self.falls)
        drivers, rises, falls = (tuple(dict.fromkeys(labels[n] for n in each)) for each in names)
        return replace(self, drivers=drivers, rises=rises, falls=falls)


@dataclass(frozen=True)
class Problem:
    """What is asked.

    evaluate gives every result at a point, and raises where one is refused. prove gives the
    Spread of each result, a float where it does not move, and leaves out what it cannot follow.
    holds says whether intervals alone prove that nothing is refused.
    """

    evaluate: Callable[[Point], Mapping[str, float]]
    prove: Callable[[Mapping[str, Spread]], Mapping[str, Spread | float]]
    holds: Callable[[Mapping[str, Spread]], bool]
    givens: Mapping[str, Moving]


def limits_of(problem: Problem) -> dict[str, Limits]:
    """The limits of every result that moves. What evaluate refuses at a point is not caught."""
    givens = problem.givens
    nominal = {name: each.nominal for name, each in givens.items()}
    at = _remembered(problem.evaluate)
    spreads = problem.prove({n: moving(n, g.low, g.high) for n, g in givens.items()})
    if not problem.holds({n: moving(n, g.low, g.high, True) for n, g in givens.items()}):
        if len(givens) > MOST_CORNERS:
            wrong = f"{len(givens)} givens with tolerances: not every corner can be tried"
            raise Refusal("range", wrong, f"at most {MOST_CORNERS}, or wider ranges")
        for point in _tries(givens, {}, list(givens)):
            at(point)
    lines = {given: _line(at, givens, nominal, given) for given in givens}
    middle = at({name: (each.low + each.high) / 2 for name, each in givens.items()})
    found = {}
    for name in at(nominal):
        spread = spreads.get(name)
        if isinstance(spread, float):
            continue
        parts = {given: lines[given][name] for given in givens}
        limits = _limits(name, at, givens, spread, parts, middle[name])
        if limits.high - limits.low > HAIR * max(abs(limits.low), abs(limits.high)):
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


def _line(
    at: Callable[[Point], Mapping[str, float]],
    givens: Mapping[str, Moving],
    nominal: Point,
    given: str,
) -> dict[str, float]:
    """Half of what each result moves while one given runs from end to end, the others nominal."""
    each = givens[given]
    came = [at({**nominal, given: x}) for x in _five(each)]
    return {name: (max(c[name] for c in came) - min(c[name] for c in came)) / 2 for name in came[0]}


def _five(given: Moving) -> list[float]:
    """Five points from end to end; the ends are met exactly."""
    inner = [given.low + (given.high - given.low) * n / 4 for n in (1, 2, 3)]
    return [given.low, *inner, given.high]


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
    whole = sum(parts.values())
    most = max(parts.values())
    drivers = tuple(g for g, part in parts.items() if part >= most * (1 - 1e-9))
    rss = math.sqrt(sum(part * part for part in parts.values()))
    share = most / whole if whole else 0.0
    bound = spread.span if spread is not None and loose else None
    moved = [g for g, part in parts.items() if part > 0]
    rises, falls = (tuple(g for g in moved if sides[g] == side) for side in (1, -1))
    return Limits(
        low, high, not loose, bound, middle - rss, middle + rss, drivers, share, rises, falls
    )


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
        for x in _five(givens[given]):
            point = {**best, given: x}
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
        tries += [{**fixed, **nominal, name: x} for x in _five(each)]
    draw = random.Random(2)
    for _ in range(DRAWS):
        tries.append({**fixed, **{n: draw.uniform(g.low, g.high) for n, g in moved.items()}})
    return tries
