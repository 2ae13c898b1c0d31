"""The height of a mean line, a thickness and stations in; the section by another way, out.

Points are complex numbers over the root of the place; normals are differences; lengths chords.
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from generator.calculations.section_shape import CLOSED, OPEN, SCALE
from generator.curve import Point

_FINE = 1500


def _laid_off(
    height: Callable[[float], float], thickness: float, closed: bool, sign: float
) -> Callable[[float], complex]:
    """A surface as complex numbers over the root of x, its mean line turned by differences."""
    terms = CLOSED if closed else OPEN

    def at(u: float) -> complex:
        x, step = u * u, 1e-6
        ahead, behind = min(x + step, 1.0), max(x - step, 0.0)
        turn = complex(ahead - behind, height(ahead) - height(behind))
        a, b, c, d, e = terms
        half = (a * u + x * (b + x * (c + x * (d + x * e)))) * thickness / SCALE
        return complex(x, height(x)) + sign * half * 1j * turn / abs(turn)

    return at


def _moved_in(at: Callable[[float], complex], skin: float, sign: float) -> list[complex]:
    """Points of a surface from the nose to the edge, moved in square to their neighbours."""
    step = 1 / _FINE
    whole = [at(k * step) for k in range(_FINE + 1)]
    if not skin:
        return whole
    tiny = step / 64
    found = []
    for k, point in enumerate(whole):
        u = min(max(k * step, 2 * tiny), 1 - 2 * tiny)
        turn = 8 * (at(u + tiny) - at(u - tiny)) - (at(u + 2 * tiny) - at(u - 2 * tiny))
        found.append(point - sign * skin * 1j * turn / abs(turn))
    return found


def _read(points: list[complex], x: float) -> complex:
    """The point at a station, between its four neighbours; an end of the surface beyond it."""
    if x >= points[-1].real:
        return points[-1]
    if x == 0 and points[0] == 0:
        return points[0]
    k = next(k for k in range(_FINE, 0, -1) if points[k - 1].real <= x)
    near = points[max(k - 2, 0) : k + 2]
    height = 0.0
    for i, one in enumerate(near):
        share = 1.0
        for j, other in enumerate(near):
            if i != j:
                share *= (x - other.real) / (one.real - other.real)
        height += share * one.imag
    return complex(x, height)


class Laid(NamedTuple):
    """A section as it was laid off; points in chords, all else in lengths."""

    rows: list[tuple[Point, Point]]
    nose: float
    slope: float
    edge: float
    upper: float
    lower: float


def laid_again(
    height: Callable[[float], float], slope: float, thickness: float, chord: float,
    stations: Sequence[float], edge: str, laid: str, skin: float,
) -> Laid:  # fmt: skip
    """The section as complex numbers, read between neighbouring points."""
    ways = [_laid_off(height, thickness, edge == "closed", sign) for sign in (1.0, -1.0)]
    rows = []
    lines = [
        _moved_in(way, skin / chord, sign) for way, sign in zip(ways, (1.0, -1.0), strict=True)
    ]
    for s in stations:
        if laid == "stations of the chord":
            upper, lower = (_read(line, s) for line in lines)
        else:
            u = math.sqrt(s)
            upper, lower = (
                _one_moved(way, u, skin / chord, sign)
                for way, sign in zip(ways, (1.0, -1.0), strict=True)
            )
        rows.append((_pair(upper), _pair(lower)))
    girths = [_by_chords(way) * chord for way in ways]
    gap = abs(ways[0](1.0) - ways[1](1.0)) * chord
    nose = 1.1019 * thickness**2 * chord
    return Laid(rows, nose, slope, gap, *girths)


def _one_moved(at: Callable[[float], complex], u: float, skin: float, sign: float) -> complex:
    tiny = 1e-5
    middle = min(max(u, 2 * tiny), 1 - 2 * tiny)
    turn = 8 * (at(middle + tiny) - at(middle - tiny)) - (
        at(middle + 2 * tiny) - at(middle - 2 * tiny)
    )
    return at(u) - cmath.rect(sign * skin, cmath.phase(1j * turn))


def _pair(point: complex) -> Point:
    return point.real, point.imag


def _by_chords(at: Callable[[float], complex]) -> float:
    """The sum of chords, and of half as many; what halving them gained, a third of it, on top."""
    points = [at(k / _FINE) for k in range(_FINE + 1)]
    fine = sum(abs(b - a) for a, b in itertools.pairwise(points))
    coarse = sum(abs(b - a) for a, b in itertools.pairwise(points[::2]))
    return fine + (fine - coarse) / 3
