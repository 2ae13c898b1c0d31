"""A cone or a cylinder that is cut off at a slant, in; its flat pattern, line by line, out."""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Callable, Sequence
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, count, given
from generator.calculations.cones import Height, Large, Measured, Sheet, Small, middle_by_angle
from generator.calculations.unrolling import (
    OUTSIDE,
    Flat,
    Laid,
    Marked,
    Off,
    Pattern,
    Ruling,
    flat_of,
    pattern,
    warp_of,
)
from generator.findings import Refusal
from generator.quantities.amount import Amount

PARALLEL = "development by parallel or radial lines (any text on sheet metal drafting; from memory)"
NOT_COVERED = (
    "laps and seams, which are added; an axis that leans; a hole; sheet so thick that its middle "
    "stretches when it is rolled; a cut that is square to the sheet and not to its middle"
)
SHORT, LONG = "short side", "long side"
_FINE = 960  # lines in space of the second method
_BETWEEN = 16  # places on an edge between two lines
_WIDEST = math.radians(340)

Cut = Annotated[
    Amount, given("β", "°", "cut, out of square to the axis", at_least="0", at_most="60")
]
Lines = Annotated[int, count("n", "lines of the pattern, seam to seam", at_least=8, at_most=36)]
Seam = Annotated[str, choice("where the seam is", SHORT, LONG)]


def _turns(lines: int, seam: str, fine: int = 1) -> list[float]:
    """Angles round the axis from the short side, from seam to seam."""
    start = 0.0 if seam == SHORT else math.pi
    return [start + 2 * math.pi * k / (lines * fine) for k in range(lines * fine + 1)]


Space = Callable[[float], Ruling]


def _rolled(
    flat: Callable[[float], Laid], space: Space, lines: int, seam: str, marked: str, off: float
) -> Pattern:
    """The pattern of what is known line by line in the flat; edges by chords, improved."""
    told = [flat(turn) for turn in _turns(lines, seam)]
    many = [flat(turn) for turn in _turns(lines, seam, _BETWEEN)]
    edges = (_improved([a for a, _ in many]), _improved([b for _, b in many]))
    warp = warp_of([space(turn) for turn in _turns(lines, seam)], range(lines + 1))
    return pattern(Flat(told, edges, warp), False, "DOWN" if marked == OUTSIDE else "UP", off)


def _by_triangles(space: Space, lines: int, seam: str, marked: str, off: float) -> Pattern:
    """The pattern from many lines in space, triangle by triangle."""
    fine = math.ceil(_FINE / lines)
    rulings = [space(turn) for turn in _turns(lines, seam, fine)]
    strip = flat_of(rulings, range(0, len(rulings), fine))
    return pattern(strip, False, "DOWN" if marked == OUTSIDE else "UP", off)


def _improved(points: Sequence[complex]) -> float:
    """The length of a line by its points: chords, and a third of what halving them gained."""
    fine = math.fsum(abs(b - a) for a, b in itertools.pairwise(points))
    coarse = math.fsum(abs(b - a) for a, b in itertools.pairwise(points[::2]))
    return fine + (fine - coarse) / 3


# --- a cone ------------------------------------------------------------------------------------


def _cone(large: float, small: float, height: float, cut: float) -> tuple[float, float, float]:
    """Half angle, way from the apex to the large circle and to the cut on the axis; refuses what
    is no cone and a cut that leaves it."""
    if large < small - 1e-6:
        raise Refusal("range", "the large diameter is below the small one", "the larger as large")
    if large - small < 1e-6:
        raise Refusal("range", "the two diameters are one", "a cylinder: cylinder_pattern")
    half = math.atan2(large - small, 2 * height)
    whole = large / 2 / math.tan(half)
    rest = whole - height
    if 2 * math.pi * math.sin(half) > _WIDEST:
        raise Refusal("range", "the cone is so flat that its pattern is nearly a whole circle",
                      "a sector of 340° at most")  # fmt: skip
    if rest < -1e-9:
        raise Refusal("range", "the sheet is thicker than the small end is wide", "a thinner sheet")
    falls = math.tan(half) * math.tan(cut)
    if falls >= 1 or rest / (1 - falls) >= whole - 1e-6:
        wrong = "the cut comes down to the large circle"
        raise Refusal("range", wrong, "a smaller angle, or a smaller small diameter")
    return half, whole, rest


def _cone_in_space(whole: float, rest: float, half: float, cut: float) -> Space:
    """Lines from the large circle to the plane of the cut, the apex at 0."""
    slope, tilt = math.tan(half), math.tan(cut)

    def space(turn: float) -> Ruling:
        across, up = math.cos(turn), math.sin(turn)
        deep = rest / (1 - slope * tilt * across)
        return (
            (whole * slope * across, whole * slope * up, -whole),
            (deep * slope * across, deep * slope * up, -deep),
        )

    return space


def _cone_again(
    large: float, small: float, height: float, thickness: float, measured: str, cut: float,
    lines: int, seam: str, marked: str, off: float,
) -> Pattern:  # fmt: skip
    """Many lines in space, triangle by triangle."""
    big, little = middle_by_angle(large, small, height, thickness, measured)
    half, whole, rest = _cone(big, little, height, cut)
    return _by_triangles(_cone_in_space(whole, rest, half, cut), lines, seam, marked, off)


@calculation(
    source=PARALLEL,
    not_covered=NOT_COVERED,
    method="from the apex: s / (cos α − sin α tan β cos φ) to the cut, turned by φ sin α; edges by "
    "chords",
    second=Second(_cone_again, "0.05 mm", "960 lines in space, triangle by triangle"),
    examples=(
        Example(
            {
                "large": "100 mm", "small": "0 mm", "height": "50 mm", "thickness": "0 mm",
                "measured": "middle of the sheet", "cut": "0°", "lines": "8",
                "seam": SHORT,
            },
            {"lengths.1.line": "70.7 mm", "first_edge": "314.2 mm"},
            "visible arithmetic: slant 50 √2 mm; the large circle is 100 π mm round",
        ),
    ),
    figures=("development",),
)  # fmt: skip
def cone_pattern(
    large: Large, small: Small, height: Height, thickness: Sheet, measured: Measured, cut: Cut,
    lines: Lines, seam: Seam, marked: Marked, off: Off,
) -> Pattern:  # fmt: skip
    """Flat pattern of a cone that is cut off square or at a slant, line by line.

    The small diameter and the height are those where the plane of the cut meets the axis. The
    first edge is the large circle, the second the cut; the short side has the shortest line.
    """
    wide_: Any = large
    narrow: Any = small
    high: Any = height
    thick: Any = thickness
    angle: Any = cut
    allowed: Any = off
    big, little = middle_by_angle(wide_, narrow, high, thick, measured)
    half, whole, rest = _cone(big, little, high, angle)
    slant, opening = whole / math.cos(half), math.sin(half)

    def flat(turn: float) -> Laid:
        way = cmath.exp(1j * turn * opening)
        return slant * way, rest / (
            math.cos(half) - opening * math.tan(angle) * math.cos(turn)
        ) * way

    return _rolled(flat, _cone_in_space(whole, rest, half, angle), lines, seam, marked, allowed)


# --- a cylinder --------------------------------------------------------------------------------


def _cylinder_in_space(radius: float, height: float, cut: float) -> Space:
    """Lines from the square end to the plane of the cut."""

    def space(turn: float) -> Ruling:
        across, up = radius * math.cos(turn), radius * math.sin(turn)
        return (across, up, 0.0), (across, up, height - across * math.tan(cut))

    return space


def _cylinder_again(
    diameter: float, height: float, thickness: float, measured: str, cut: float, lines: int,
    seam: str, marked: str, off: float,
) -> Pattern:  # fmt: skip
    """Many lines in space, triangle by triangle."""
    radius = (diameter - (thickness if measured == "outside" else 0)) / 2
    return _by_triangles(_cylinder_in_space(radius, height, cut), lines, seam, marked, off)


@calculation(
    source=PARALLEL,
    not_covered=NOT_COVERED,
    method="the cosine curve H − R tan β cos φ over the girth rolled out; edges by chords",
    second=Second(_cylinder_again, "0.05 mm", "960 lines in space, triangle by triangle"),
    examples=(
        Example(
            {
                "diameter": "100 mm", "height": "100 mm", "thickness": "0 mm",
                "measured": "middle of the sheet", "cut": "30°", "lines": "8",
                "seam": SHORT,
            },
            {"first_edge": "314.2 mm", "lengths.1.line": "71.1 mm", "lengths.3.line": "100.0 mm"},
            "development of an oblique cut in closed form (from memory): 100 π round, and 100 less "
            "50 tan 30° = 28.868 mm at the short side",
        ),
    ),
    figures=("development",),
)  # fmt: skip
def cylinder_pattern(
    diameter: Large, height: Height, thickness: Sheet, measured: Measured, cut: Cut,
    lines: Lines, seam: Seam, marked: Marked, off: Off,
) -> Pattern:  # fmt: skip
    """Flat pattern of a cylinder that is cut off square or at a slant, line by line.

    The height is that on the axis. The first edge is the square end, the second the cut; the
    short side has the shortest line.
    """
    sizes: Any = (diameter, height, thickness)
    angle: Any = cut
    allowed: Any = off
    radius = (sizes[0] - (sizes[2] if measured == "outside" else 0)) / 2
    if radius <= 0:
        raise Refusal("range", "the sheet is thicker than the cylinder is wide", "a thinner sheet")
    if sizes[1] - radius * math.tan(angle) <= 1e-6:
        raise Refusal("range", "the cut comes down to the other end", "a smaller angle, or longer")

    def flat(turn: float) -> Laid:
        cut_off = sizes[1] - radius * math.tan(angle) * math.cos(turn)
        return complex(radius * turn, 0), complex(radius * turn, cut_off)

    return _rolled(flat, _cylinder_in_space(radius, sizes[1], angle), lines, seam, marked, allowed)
