"""Straight lines of a surface, by the ends of each in space, in; the same lines in the flat out.

A surface that can be laid flat is a row of lines; between two of them it is two triangles, whose
sides are as long in the flat as in space.
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any, NamedTuple

from generator.calculation import choice, given, gives, listed, word
from generator.quantities.amount import Amount

Vector = tuple[float, float, float]
Ruling = tuple[Vector, Vector]  # a point of the first edge, a point of the second
Laid = tuple[complex, complex]
_NONE = 1e-7  # what of a warp is the computer's own

OUTSIDE, INSIDE = "outside", "inside"
Off = Annotated[
    Amount, given("e", "mm", "what a length printed to a tenth may be off", fixed="0.05 mm")
]
Marked = Annotated[str, choice("face that is marked", OUTSIDE, INSIDE, otherwise=OUTSIDE)]


@dataclass(frozen=True)
class FlatPoint:
    """Where a line of the pattern begins and ends."""

    a_across: Annotated[Amount, gives("x_a", "mm", "first edge, across", to="0.01")]
    a_up: Annotated[Amount, gives("y_a", "mm", "first edge, up", to="0.01")]
    b_across: Annotated[Amount, gives("x_b", "mm", "second edge, across", to="0.01")]
    b_up: Annotated[Amount, gives("y_b", "mm", "second edge, up", to="0.01")]


@dataclass(frozen=True)
class TrueLength:
    """What a trammel is set to, from a line of the pattern to the next; the last has no next."""

    line: Annotated[Amount, gives("l", "mm", "line", to="0.1")]
    diagonal: Annotated[Amount, gives("d", "mm", "first edge to second edge of the next", to="0.1")]
    a_step: Annotated[Amount, gives("s_a", "mm", "step along first edge", to="0.1")]
    b_step: Annotated[Amount, gives("s_b", "mm", "step along second edge", to="0.1")]


@dataclass(frozen=True)
class Pattern:
    """A surface laid flat."""

    points: Annotated[tuple[FlatPoint, ...], listed("points of the flat pattern")]
    lengths: Annotated[tuple[TrueLength, ...], listed("true lengths, line by line")]
    first_edge: Annotated[Amount, gives("L_a", "mm", "length of the first edge", to="0.1")]
    second_edge: Annotated[Amount, gives("L_b", "mm", "length of the second edge", to="0.1")]
    chord: Annotated[Amount, gives("c_a", "mm", "first edge, from end to end", to="0.1")]
    other_chord: Annotated[Amount, gives("c_b", "mm", "second edge, from end to end", to="0.1")]
    warp: Annotated[
        Amount,
        gives("e_w", "mm", "corner of a field off the plane of the other three, most", to="0.1",
              safe="up"),
    ]  # fmt: skip
    closure: Annotated[
        Amount,
        gives("e_c", "mm", "last line, off, where every true length is set 0.05 mm long", to="0.1",
              safe="up"),
    ]  # fmt: skip
    rolls: Annotated[str, word("rolls", "way the edges roll, seen on the marked face")]


class Flat(NamedTuple):
    """A strip in the flat: the lines that are told, the lengths of both edges, the warp."""

    lines: Sequence[Laid]
    edges: tuple[float, float]
    warp: float


def third(a: complex, b: complex, from_a: float, from_b: float) -> complex:
    """The point so far from two others, to the right of the way from the first to the second."""
    apart = abs(b - a)
    along = (from_a**2 - from_b**2 + apart**2) / (2 * apart)
    aside = math.sqrt(max(from_a**2 - along**2, 0.0))
    return a + (b - a) / apart * complex(along, -aside)


def unrolled(rulings: Sequence[Ruling]) -> list[Laid]:
    """The lines in the flat, the first upright from 0, triangle after triangle."""
    (a, b), *others = rulings
    flat = [(0j, complex(0, math.dist(a, b)))]
    for c, d in others:
        p, q = flat[-1]
        near = third(p, q, math.dist(a, c), math.dist(b, c))
        far = third(near, q, math.dist(c, d), math.dist(b, d))
        flat.append((near, far))
        a, b = c, d
    return flat


def warp_of(rulings: Sequence[Ruling], told: Sequence[int]) -> float:
    """How far the worst field between two told lines is from flat: a line on, each end of the next
    stands off the plane of the three points before it; summed over the field."""
    worst = max(
        math.fsum(_off(*rulings[k], *rulings[k + 1]) for k in range(start, end))
        for start, end in itertools.pairwise(told)
    )
    return worst if worst > _NONE else 0.0


def _off(a: Vector, b: Vector, c: Vector, d: Vector) -> float:
    """How far the fourth point is off the plane of the other three; 0 where they are a line."""
    up = crossing(_less(c, a), _less(b, a))
    size = math.hypot(*up)
    way = _less(d, b)
    return abs(math.fsum(x * y for x, y in zip(up, way, strict=True))) / size if size else 0.0


def by_angles(rulings: Sequence[Ruling]) -> list[Laid]:
    """The same by the angles of the triangles: each line turned on from the one before."""
    (a, b), *others = rulings
    way, at = 1j, 0j
    flat = [(at, at + way * math.dist(a, b))]
    for c, d in others:
        at += way * cmath.exp(-1j * _angle(a, b, c)) * math.dist(a, c)
        top = flat[-1][1]
        way = (top - at) / abs(top - at) if abs(top - at) else way
        way *= cmath.exp(-1j * _angle(c, b, d))
        flat.append((at, at + way * math.dist(c, d)))
        a, b = c, d
    return flat


def _angle(corner: Vector, one: Vector, other: Vector) -> float:
    """The angle of a triangle at a corner, by its cross and dot product; 0 where a side is none."""
    u, v = _less(one, corner), _less(other, corner)
    cross = math.hypot(*crossing(u, v))
    return math.atan2(cross, math.fsum(x * y for x, y in zip(u, v, strict=True)))


def _less(one: Vector, other: Vector) -> Vector:
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def crossing(u: Vector, v: Vector) -> Vector:
    """The cross product."""
    return (
        u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0],
    )  # fmt: skip


def flat_of(rulings: Sequence[Ruling], told: Sequence[int]) -> Flat:
    """A strip laid flat, of which some lines are told."""
    one = unrolled(rulings)
    edges = (_along([a for a, _ in one]), _along([b for _, b in one]))
    return Flat([one[k] for k in told], edges, warp_of(rulings, told))


def _along(points: Sequence[complex]) -> float:
    return math.fsum(abs(b - a) for a, b in itertools.pairwise(points))


def pattern(flat: Flat, mirrored: bool, rolls: str, off: float) -> Pattern:
    """What is told of a strip; mirrored: seen from its other face; off: what a true length may be
    off where it is set."""
    lines = level(flat.lines)
    if mirrored:
        lines = [(-a.conjugate(), -b.conjugate()) for a, b in lines]
    point: Any = FlatPoint
    whole: Any = Pattern
    points = tuple(point(*(_tidy(x) for x in (a.real, a.imag, b.real, b.imag))) for a, b in lines)
    lengths = tuple(_lengths(lines))
    (a, b), (c, d) = lines[0], lines[-1]
    told: Pattern = whole(
        points, lengths, *flat.edges, abs(c - a), abs(d - b), flat.warp, closed(lines, off), rolls
    )
    return told


def _tidy(place: float) -> float:
    """A place on the pattern; what turning it left of nothing is nothing."""
    return place if abs(place) > 1e-9 else 0.0


def level(lines: Sequence[Laid]) -> list[Laid]:
    """The lines turned so that the first edge ends level with its beginning; upright as they are
    where it ends where it began."""
    start, way = lines[0][0], lines[-1][0] - lines[0][0]
    turn = way.conjugate() / abs(way) if abs(way) > 1e-3 else 1
    return [((a - start) * turn, (b - start) * turn) for a, b in lines]


def _lengths(lines: Sequence[Laid]) -> Any:
    made: Any = TrueLength
    for (a, b), (c, d) in itertools.pairwise(lines):
        yield made(abs(b - a), abs(d - a), abs(c - a), abs(d - b))
    a, b = lines[-1]
    yield made(abs(b - a), None, None, None)


def closed(lines: Sequence[Laid], off: float) -> float:
    """How far off the last line comes where every length is set so much too long."""
    (a, b), *others = lines
    turn = (b - a) / abs(b - a) / 1j
    p, q = 0j, complex(0, _set(b - a, off))
    start = a
    for c, d in others:
        far = third(p, q, _set(d - a, off), _set(d - b, off))
        near = third(p, far, _set(c - a, off), _set(d - c, off))
        a, b, p, q = c, d, near, far
    return max(abs((a - start) / turn - p), abs((b - start) / turn - q))


def _set(way: complex, off: float) -> float:
    """A length as it is set; none where two points are one."""
    return abs(way) + off if abs(way) > 1e-5 else 0.0
