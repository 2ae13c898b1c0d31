"""Points in order, in; the same smooth line as curve.py by other formulas, as complex numbers, out.

The spline is found by its second derivatives instead of its slopes, by repeated improvement
instead of elimination; normals are differences; lengths are chords.
"""

from __future__ import annotations

import bisect
import itertools
from collections.abc import Callable, Sequence

_ROUNDS, _ENOUGH = 400, 1e-15
FINE = 80

Numbers = Sequence[complex]


def moments(knots: Sequence[float], values: Numbers) -> list[complex]:
    """The second derivative at each knot (Gauss and Seidel); the first and the last run on in a
    straight line from the two beside them."""
    if len(knots) == 2:
        return [0j, 0j]
    wide = [b - a for a, b in itertools.pairwise(knots)]
    rise = [(b - a) / w for (a, b), w in zip(itertools.pairwise(values), wide, strict=True)]
    jump = [6 * (b - a) for a, b in itertools.pairwise(rise)]
    if len(knots) == 3:
        return [jump[0] / (3 * (wide[0] + wide[1]))] * 3
    last = len(wide) - 1
    found = [0j] * (last + 2)
    first, end = wide[0] / wide[1], wide[last] / wide[last - 1]
    largest = max(map(abs, jump)) or 1.0
    for _ in range(_ROUNDS):
        worst = 0.0
        for k in range(1, last + 1):
            own = 2 * (wide[k - 1] + wide[k])
            before, after = wide[k - 1] * found[k - 1], wide[k] * found[k + 1]
            if k == 1:
                own, before = own + wide[0] * (1 + first), -wide[0] * first * found[2]
            if k == last:
                own, after = own + wide[last] * (1 + end), -wide[last] * end * found[last - 1]
            better = (jump[k - 1] - before - after) / own
            worst = max(worst, abs(better - found[k]) * own)
            found[k] = better
        if worst <= _ENOUGH * largest:
            break
    found[0] = found[1] * (1 + first) - first * found[2]
    found[-1] = found[-2] * (1 + end) - end * found[-3]
    return found


def again(knots: Sequence[float], values: Numbers) -> Callable[[float], complex]:
    """The spline by its second derivatives."""
    bends = moments(knots, values)

    def at(t: float) -> complex:
        k = min(max(bisect.bisect_right(knots, t) - 1, 0), len(knots) - 2)
        wide = knots[k + 1] - knots[k]
        b = (t - knots[k]) / wide
        a = 1 - b
        curved = (a**3 - a) * bends[k] + (b**3 - b) * bends[k + 1]
        return a * values[k] + b * values[k + 1] + curved * wide * wide / 6

    return at


def by_chords(points: Numbers) -> list[float]:
    """Knots of a line in the plane: the chords passed on the way."""
    steps = [abs(b - a) for a, b in itertools.pairwise(points)]
    return [0.0, *itertools.accumulate(steps)]


def fine_places(knots: Sequence[float]) -> list[float]:
    """Places along a line, many in each span."""
    inside = [a + (b - a) * k / FINE for a, b in itertools.pairwise(knots) for k in range(FINE)]
    return [*inside, knots[-1]]


def normal(at: Callable[[float], complex], t: float, knots: Sequence[float]) -> complex:
    """The unit normal to the left, from four neighbours."""
    tiny = 1e-4 * (knots[-1] - knots[0]) / len(knots)
    middle = min(max(t, knots[0] + 2 * tiny), knots[-1] - 2 * tiny)
    turn = 8 * (at(middle + tiny) - at(middle - tiny)) - (
        at(middle + 2 * tiny) - at(middle - 2 * tiny)
    )
    return 1j * turn / abs(turn)


def chords(at: Callable[[float], complex], knots: Sequence[float]) -> float:
    """The length of a line: chords, and a third of what halving them gained."""
    points = [at(t) for t in fine_places(knots)]
    fine = sum(abs(b - a) for a, b in itertools.pairwise(points))
    coarse = sum(abs(b - a) for a, b in itertools.pairwise(points[::2]))
    return fine + (fine - coarse) / 3


def read(points: Numbers, x: float) -> float:
    """The height at a place across, on points in the order of their places: between its four
    neighbours."""
    k = bisect.bisect_left([p.real for p in points], x)
    start = min(max(k - 2, 0), len(points) - 4)
    near = points[start : start + 4]
    height = 0.0
    for i, one in enumerate(near):
        share = 1.0
        for j, other in enumerate(near):
            if i != j:
                share *= (x - other.real) / (one.real - other.real)
        height += share * one.imag
    return height
