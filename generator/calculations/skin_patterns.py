"""Two sections of a skin in; the skin that bends one way only between them, laid flat, out.

Both sections lie square to the part. A line of the skin joins points at which they run the same
way: there one plane touches both. Where one section has ended its turn, the other goes on round its
end point, as a piece of a cone.
"""

from __future__ import annotations

import bisect
import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, NamedTuple

from generator.calculation import Example, Second, calculation, choice, count, given
from generator.calculations.line_again import again, by_chords
from generator.calculations.section_points import Across, In, Up
from generator.calculations.section_sides import in_order, side_of, sound
from generator.calculations.transitions import AWAY, Stations, Worst, face_of, placed
from generator.calculations.unrolling import (
    Flat,
    Laid,
    Marked,
    Off,
    Pattern,
    Ruling,
    by_angles,
    crossing,
    flat_of,
    pattern,
    warp_of,
)
from generator.curve import Point, through
from generator.findings import Refusal
from generator.quantities.amount import Amount

OUTER, INNER, MIDDLE = "mould line", "inside of skin", "middle of the skin"
_PARTS = 20
_BACK = math.radians(0.5)  # a turn back that a spline makes on a straight piece
_LEAST = math.radians(2)
_SAME = 1e-12  # two ways nearer than this are one
_MOST = math.radians(30)  # between two points


@dataclass(frozen=True)
class SkinPoint:
    """A point of one of the two sections."""

    at: Annotated[Amount, given("x", "mm", "station", at_least="-20000", at_most="20000")]
    across: Across
    up: Up


Line = Annotated[str, choice("what the points are", OUTER, INNER, MIDDLE)]
Thick = Annotated[Amount, given("T", "mm", "thickness of the skin", at_least="0", at_most="6")]


class Turned(NamedTuple):
    """A section as it turns: at every place its point, and the way it runs as an angle."""

    points: list[Point]
    ways: list[float]


def _two(points: Sequence[Any]) -> tuple[list[float], list[list[Point]]]:
    """The stations and their sections; refuses what is not two sound sections."""
    groups = [(at, list(each)) for at, each in itertools.groupby(points, key=lambda p: p.at)]
    stations = [at for at, _ in groups]
    if len(stations) != 2:
        raise Refusal("range", f"{len(stations)} sections", "two, each with its points in order")
    in_order(stations)
    sections = [[(p.across, p.up) for p in each] for _, each in groups]
    for at, section in zip(stations, sections, strict=True):
        sound(section, f"the section at {1000 * at:g} mm")
    return stations, sections


def _turned(points: list[Point], ways: Sequence[Point], at: float) -> Turned:
    """The angles, running on; refuses a section that turns to both sides."""
    angles = [math.atan2(y, x) for x, y in ways]
    run = [angles[0]]
    for one, other in itertools.pairwise(angles):
        run.append(run[-1] + math.remainder(other - one, 2 * math.pi))
    sign = math.copysign(1, run[-1] - run[0])
    lead = list(itertools.accumulate((sign * w for w in run), max))
    back = max(ahead - sign * w for ahead, w in zip(lead, run, strict=True))
    if back > _BACK:
        wrong = f"the section at {1000 * at:g} mm turns to both sides: back by "
        right = "sections that turn one way; a pattern for each side of where they turn back"
        raise Refusal("range", f"{wrong}{math.degrees(back):.1f}°", right)
    return Turned(points, [sign * w for w in lead])


def _sections(sections: Sequence[Sequence[Point]], stations: Sequence[float]) -> list[Turned]:
    """Both sections on their smooth lines, place by place."""
    found = []
    for at, section in zip(stations, sections, strict=True):
        curve = through(section)
        places = list(_places(curve.x.knots, _PARTS))
        one = _turned([curve.at(t) for t in places], [curve.first(t) for t in places], at)
        for n, (a, b) in enumerate(itertools.pairwise(one.ways[::_PARTS]), 1):
            if abs(b - a) > _MOST:
                wrong = f"the section at {1000 * at:g} mm turns {math.degrees(abs(b - a)):.0f}° "
                wrong += f"between its points {n} and {n + 1}"
                raise Refusal("range", wrong, "30° at most: more points there")
        found.append(one)
    return found


def _places(knots: Sequence[float], parts: int) -> Iterator[float]:
    for a, b in itertools.pairwise(knots):
        yield from (a + (b - a) * k / parts for k in range(parts))
    yield knots[-1]


class Joined(NamedTuple):
    """A line of the skin in its two sections, and the way both run there."""

    first: Point
    second: Point
    way: float


def _joined(one: Turned, other: Turned) -> list[Joined]:
    """Every place of either section, joined to where the other runs the same way."""
    sign = math.copysign(1, one.ways[-1] - one.ways[0])
    if sign * (other.ways[-1] - other.ways[0]) < 0:
        raise Refusal("range", "the sections turn to opposite sides", "points in the same order")
    if abs(one.ways[-1] - one.ways[0]) + abs(other.ways[-1] - other.ways[0]) < _LEAST:
        raise Refusal("range", "the sections hardly turn: the skin is flat", "transition_pattern")
    whole = 2 * math.pi * round((one.ways[0] - other.ways[0]) / (2 * math.pi))
    turns = [[sign * w for w in one.ways], [sign * (w + whole) for w in other.ways]]
    reach = min(turns[0][-1], turns[1][-1]) - max(turns[0][0], turns[1][0])
    if reach < -1e-9:
        wrong = f"nowhere do both sections run the same way, {math.degrees(-reach):.1f}° apart"
        raise Refusal("range", wrong, "sections of one skin")
    every = sorted({*turns[0], *turns[1]})
    steps = [every[0], *(b for a, b in itertools.pairwise(every) if b - a > 2 * _SAME)]
    return [
        Joined(*pair, sign * w)
        for w in steps
        for pair in _at(w, (one.points, other.points), turns, sign)
    ]


def _at(
    way: float, points: Sequence[Sequence[Point]], turns: Sequence[Sequence[float]], sign: float
) -> Iterator[tuple[Point, Point]]:
    """The lines at one way: one, or two where a section runs straight on there."""
    spans = [_span(way, p, t, sign) for p, t in zip(points, turns, strict=True)]
    yield spans[0][0], spans[1][0]
    if any(math.dist(a, b) > 1e-9 for a, b in spans):
        yield spans[0][1], spans[1][1]


def _span(
    way: float, points: Sequence[Point], turns: Sequence[float], sign: float
) -> tuple[Point, Point]:
    """The first and the last point at which a section runs a way; its end where it never does.

    Between two places the section is an arc, not its chord.
    """
    low, high = bisect.bisect_left(turns, way - _SAME), bisect.bisect_right(turns, way + _SAME)
    if low < high:
        return points[low], points[high - 1]
    if low == 0 or low == len(turns):
        end = points[0] if low == 0 else points[-1]
        return end, end
    (x1, y1), (x2, y2) = points[low - 1], points[low]
    share = (way - turns[low - 1]) / (turns[low] - turns[low - 1])
    bow = sign * 2 * share * (1 - share) * math.tan((turns[low] - turns[low - 1]) / 4)
    point = (
        x1 + share * (x2 - x1) + bow * (y2 - y1), y1 + share * (y2 - y1) - bow * (x2 - x1),
    )  # fmt: skip
    return point, point


def _rulings(
    joined: Sequence[Joined], stations: Sequence[float], away: float, rise: str
) -> list[Ruling]:
    """Lines in space, moved square to the skin; along themselves back to their stations."""
    found = []
    for each in joined:
        a, b = (
            placed(at, *p, rise) for at, p in zip(stations, (each.first, each.second), strict=True)
        )
        run = (b[0] - a[0], b[1] - a[1], b[2] - a[2])
        up = crossing((math.cos(each.way), math.sin(each.way), 0.0), run)
        off = -away / (math.hypot(*up) * math.copysign(1, run[2]))
        back = -off * up[2] / run[2]
        x, y, z = (off * u + back * r for u, r in zip(up, run, strict=True))
        found.append(((a[0] + x, a[1] + y, a[2] + z), (b[0] + x, b[1] + y, b[2] + z)))
    return found


def _told(flat: Sequence[Laid], lines: int) -> list[Laid]:
    """Lines at even steps of both edges together, from the first to the last."""
    passed = [0.0]
    for (a, b), (c, d) in itertools.pairwise(flat):
        passed.append(passed[-1] + abs(c - a) + abs(d - b))
    found = []
    for k in range(lines):
        wanted = passed[-1] * k / (lines - 1)
        n = min(max(bisect.bisect_right(passed, wanted) - 1, 0), len(passed) - 2)
        wide = passed[n + 1] - passed[n]
        share = (wanted - passed[n]) / wide if wide else 0.0
        found.append(tuple(p + share * (q - p) for p, q in zip(flat[n], flat[n + 1], strict=True)))
    return found  # type: ignore[return-value]


def _away(points: Sequence[Point], inside: str, skin: float, line: str) -> float:
    """How far the middle of the skin is to the left of the given line."""
    return side_of(points, inside) * {OUTER: 0.5, INNER: -0.5, MIDDLE: 0.0}[line] * skin


# --- the second method -------------------------------------------------------------------------


def _ways_again(section: Sequence[Point], at: float) -> Turned:
    """A section by its second derivatives; the way it runs by differences."""
    points = [complex(x, y) for x, y in section]
    passed = by_chords(points)
    line: Callable[[float], complex] = again(passed, points)
    tiny = 1e-5 * passed[-1]
    places = list(_places(passed, 3 * _PARTS))
    on = [line(t) for t in places]
    runs = []
    for t in places:
        t = min(max(t, passed[0] + tiny), passed[-1] - tiny)
        run = line(t + tiny) - line(t - tiny)
        runs.append((run.real, run.imag))
    return _turned([(p.real, p.imag) for p in on], runs, at)


def _skin_again(
    points: Any, skin: float, line: str, inside: str, stations: str, lines: int, marked: str,
    most_warp: float, off: float,
) -> Pattern:  # fmt: skip
    """Three times as many places, other splines, triangles by their angles, lengths in space."""
    levels, sections = _two(points)
    one, other = (_ways_again(s, at) for s, at in zip(sections, levels, strict=True))
    away = _away(sections[0], inside, skin, line)
    rulings = _rulings(_joined(one, other), levels, away, stations)
    flat = by_angles(rulings)
    lengths = [
        math.fsum(math.dist(a[k], b[k]) for a, b in itertools.pairwise(rulings)) for k in (0, 1)
    ]
    warp = warp_of(rulings, _fields(len(rulings), lines))
    face = face_of([a for a, _ in rulings], [b for _, b in rulings], inside, marked)
    return pattern(
        Flat(_told(flat, lines), (lengths[0], lengths[1]), warp), face.mirrored, face.rolls, off
    )


def _fields(rulings: int, lines: int) -> list[int]:
    """Where fields for the warp begin and end."""
    return sorted({round((rulings - 1) * k / (lines - 1)) for k in range(lines)})


HALF_AS_LARGE = [
    {"at": f"{at} mm", "across": f"{y} mm", "up": f"{z} mm"}
    for at, y, z in (
        (0, -100, -25), (0, 0, 0), (0, 100, -25), (150, -50, -12.5), (150, 0, 0), (150, 50, -12.5),
    )
]  # fmt: skip


@calculation(
    source="a developable surface through two curves is the envelope of the planes that touch both "
    "(any text on descriptive geometry; from memory)",
    not_covered="a skin that bends two ways, which is stretched; sections that are not square to "
    "the part; laps and seams; sheet so thick that its middle stretches when it is rolled",
    method="smooth lines through both sections; points at which both run the same way are joined; "
    "moved to the middle of the skin square to it; laid flat triangle by triangle",
    second=Second(_skin_again, "0.1 mm", "other splines and places, triangles by angles"),
    examples=(
        Example(
            {
                "points": HALF_AS_LARGE, "skin": "0 mm", "line": MIDDLE, "inside": "below",
                "stations": AWAY, "lines": "3", "most_warp": "0.5 mm",
            },
            {"first_edge": "208.0 mm", "second_edge": "104.0 mm", "lengths.1.line": "158.6 mm"},
            "visible arithmetic: z = −y²/400 and one half as large, arcs of 400 (¼ √1¼ + ½ arsinh "
            "½) and half of it; √(150² + 50² + 12.5²)",
        ),
    ),
    figures=("development",),
)  # fmt: skip
def skin_pattern(
    points: tuple[SkinPoint, ...], skin: Thick, line: Line, inside: In, stations: Stations,
    lines: Annotated[int, count("n", "lines of the pattern", at_least=3, at_most=40)],
    marked: Marked, most_warp: Worst, off: Off,
) -> Pattern:  # fmt: skip
    """Flat pattern of a skin that bends one way between two sections.

    The sections need not have their points on the same lines. The first edge is the section at
    the first station. Refuses sections that turn to both sides.
    """
    thick: Any = skin
    allowed: Any = most_warp
    set_off: Any = off
    levels, sections = _two(points)
    one, other = _sections(sections, levels)
    away = _away(sections[0], inside, thick, line)
    rulings = _rulings(_joined(one, other), levels, away, stations)
    warp = warp_of(rulings, _fields(len(rulings), lines))
    if warp > allowed + 1e-7:
        wrong = f"the skin is warped: a corner stands {1000 * warp:.2f} mm off its field"
        raise Refusal("range", wrong, f"at most {1000 * allowed:g} mm; more points to each section")
    face = face_of([a for a, _ in rulings], [b for _, b in rulings], inside, marked)
    every = flat_of(rulings, range(len(rulings)))
    whole = Flat(_told(every.lines, lines), every.edges, warp)
    return pattern(whole, face.mirrored, face.rolls, set_off)
