"""The shell as surveyed, in; the straight hinge line over it, and the height of every pad, out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, choice, given, gives, word
from generator.calculations.hinge_fit import Line, by_deviation, by_squares, doubts, pads
from generator.calculations.hinge_fit_again import deviation_again, pads_again, squares_again
from generator.calculations.space import Vector
from generator.findings import Refusal
from generator.quantities.amount import Amount

SQUARES, DEVIATION = "least squares", "least deviation"
_STEEPEST = math.radians(10)
_FITS: dict[str, Callable[[Sequence[Vector]], Line]] = {
    SQUARES: by_squares,
    DEVIATION: by_deviation,
}
Place = {"at_least": "-20000", "at_most": "20000"}
Slope = {"at_least": "-30", "at_most": "30"}


@dataclass(frozen=True)
class Surveyed:
    """One point of the shell, at a station of the hinge line."""

    at: Annotated[Amount, given("x", "mm", "station, plus aft", **Place)]
    across: Annotated[Amount, given("y", "mm", "point across, plus inboard", **Place)]
    up: Annotated[Amount, given("z", "mm", "height of the shell, plus outward", **Place)]
    slope_across: Annotated[
        Amount, given("β", "°", "slope of the shell across, plus rises inboard", **Slope)
    ]


Within = Annotated[
    Amount,
    given("U", "mm", "uncertainty of each surveyed height", above="0", at_most="5"),
]
Thinnest = Annotated[
    Amount, given("h_min", "mm", "least height of a pad", at_least="1", at_most="500")
]
Tolerance = Annotated[
    Amount, given("t", "mm", "tolerance on the height of a pad", at_least="0", at_most="5")
]
Hand = Annotated[str, choice("hand of the part, for its figure", "PORT", "STBD")]
Fit = Annotated[str, choice("line that the pads are cut to", SQUARES, DEVIATION)]
Tallest = Annotated[
    Amount, given("h_max", "mm", "tallest pad that the stock allows", at_least="1", at_most="500")
]


@dataclass(frozen=True)
class HingeLine:
    """The line that was taken, what it asks of every pad, and both lines side by side."""

    pads: Annotated[
        tuple[Amount, ...], gives("h", "mm", "height of the line over the shell, pad", to="0.01")
    ]
    offsets: Annotated[
        tuple[Amount, ...], gives("s", "mm", "line inboard of the surveyed point", to="0.01")
    ]
    doubts: Annotated[
        tuple[Amount, ...],
        gives("U_h", "mm", "the survey may put it off by, pad", to="0.01", safe="up"),
    ]
    rises: Annotated[Amount, gives("ε", "°", "the line rises going aft", to="0.001")]
    turns: Annotated[Amount, gives("γ", "°", "the line turns inboard going aft", to="0.001")]
    thinnest: Annotated[str, word("thinnest", "thinnest pad")]
    fit: Annotated[str, word("fit", "line that the pads are cut to")]
    square_residuals: Annotated[
        tuple[Amount, ...],
        gives("r_q", "mm", "shell over the line of least squares, point", to="0.01"),
    ]
    square_largest: Annotated[
        Amount, gives("r_qm", "mm", "largest of these, least squares", to="0.01", safe="up")
    ]
    square_rises: Annotated[
        Amount, gives("ε_q", "°", "rise of the line, least squares", to="0.001")
    ]
    square_tallest: Annotated[
        Amount, gives("h_q", "mm", "tallest pad, least squares", to="0.01", safe="up")
    ]
    deviation_residuals: Annotated[
        tuple[Amount, ...],
        gives("r_d", "mm", "shell over the line of least deviation, point", to="0.01"),
    ]
    deviation_largest: Annotated[
        Amount, gives("r_dm", "mm", "largest of these, least deviation", to="0.01", safe="up")
    ]
    deviation_rises: Annotated[
        Amount, gives("ε_d", "°", "rise of the line, least deviation", to="0.001")
    ]
    deviation_tallest: Annotated[
        Amount, gives("h_d", "mm", "tallest pad, least deviation", to="0.01", safe="up")
    ]


def _sound(rows: Sequence[Any]) -> list[Vector]:
    """The points; refusal of too few, of stations out of order and of a station twice."""
    if len(rows) < 3:
        wrong = f"{len(rows)} surveyed points: any two lie on a straight line"
        raise Refusal("range", wrong, "three or more, one at every hinge")
    for n, (one, other) in enumerate(itertools.pairwise(rows), start=1):
        if other.at <= one.at:
            what = "the same station as" if other.at == one.at else "a station before"
            wrong = f"point {n + 1} has {what} point {n}"
            raise Refusal("range", wrong, "each station once, in their order from bow to stern")
    return [(row.at, row.across, row.up) for row in rows]


def _level(line: Line) -> None:
    """Refusal of a datum so steep that heights over it are no heights over the line."""
    for what, slope in (("rises", line.rises), ("turns", line.turns)):
        if abs(math.atan(slope)) > _STEEPEST:
            shown = math.degrees(math.atan(slope))
            wrong = f"the line {what} by {shown:.1f}° against the datum of the survey"
            raise Refusal("range", wrong, "a datum within 10° of the hinge line: survey again")


def _not_too_tall(heights: Sequence[float], tallest: float, tolerance: float) -> None:
    worst = max(heights) + tolerance
    if worst > tallest * (1 + 1e-12):
        wrong = f"pad {heights.index(max(heights)) + 1} comes to {1000 * worst:.2f} mm at the most"
        right = f"up to {1000 * tallest:g} mm: more stock, or a line through other stations"
        raise Refusal("range", wrong, right)


def _whole(
    points: Sequence[Vector], slopes: Sequence[float], lines: dict[str, Line], fit: str,
    heights: dict[str, list[float]], doubt: Sequence[float],
) -> HingeLine:  # fmt: skip
    taken = lines[fit]
    hair = 1e-12 * (points[-1][0] - points[0][0])  # what floats leave of nothing
    over = {
        name: [off if abs(off := z - line.up_at(x)) > hair else 0.0 for x, _, z in points]
        for name, line in lines.items()
    }
    thin = heights[fit].index(min(heights[fit])) + 1
    made: Any = HingeLine
    found: HingeLine = made(
        tuple(heights[fit]),
        tuple(taken.across_at(x) - y for x, y, _ in points),
        tuple(doubt),
        math.atan(taken.rises), math.atan(taken.turns), f"pad {thin}", fit,
        tuple(over[SQUARES]), max(map(abs, over[SQUARES])), math.atan(lines[SQUARES].rises),
        max(heights[SQUARES]),
        tuple(over[DEVIATION]), max(map(abs, over[DEVIATION])), math.atan(lines[DEVIATION].rises),
        max(heights[DEVIATION]),
    )  # fmt: skip
    return found


def _hinge_again(
    rows: Any, least: float, tolerance: float, within: float, fit: str, tallest: float
) -> HingeLine:
    """The cubic of the scatter for one line, a search over slopes for the other; pads by cross
    products."""
    points = [(row.at, row.across, row.up) for row in rows]
    slopes = [row.slope_across for row in rows]
    fits = {SQUARES: squares_again, DEVIATION: deviation_again}
    lines = {name: way(points) for name, way in fits.items()}
    thin = least + tolerance
    heights = {name: pads_again(points, slopes, line, thin) for name, line in lines.items()}
    doubt = doubts(points, slopes, thin, within, fits[fit])
    return _whole(points, slopes, lines, fit, heights, doubt)


SHELL = [
    {"at": f"{x} mm", "across": "0 mm", "up": f"{z} mm", "slope_across": "0°"}
    for x, z in ((0, 0), (100, 3), (200, 4), (300, 3), (400, 0))
]


@calculation(
    source="total least squares in space (any text on statistics, from memory); least largest "
    "deviation (Chebyshev's line, from memory); pads and their foot on the line by geometry",
    not_covered="a shell that bends inside the length of a pad: bed it; a height measured wrong, "
    "which moves the whole line: survey twice; twist; points weighed differently; the bending of "
    "the hull when it is lifted",
    method="least squares: axis of the largest scatter in space, by turning out the corners of its "
    "table (Jacobi); least deviation: up and across each the narrowest strip by the sides of the "
    "convex hull; the line raised until the thinnest pad has its least height and its tolerance; "
    "pads square to the line; doubt: each height moved by its uncertainty, all changes added",
    second=Second(
        _hinge_again, "0.001", "the cubic of the scatter, a search over slopes, cross products"
    ),
    examples=(
        Example(
            {
                "rows": SHELL, "least": "9 mm", "tolerance": "0 mm", "within": "0.05 mm",
                "fit": SQUARES, "tallest": "40 mm",
                "hand": "PORT",
            },
            {
                "pads.1": "13 mm", "pads.2": "10 mm", "pads.3": "9 mm",
                "square_largest": "2 mm", "deviation_largest": "2 mm", "rises": "0 °",
            },
            "visible arithmetic: heights 0, 3, 4, 3, 0 mm have the mean 2 mm and lie even about "
            "the middle; the crown is 2 mm over it, the ends 2 mm under it",
        ),
    ),
    figures=("hinge-line",),
)  # fmt: skip
def hinge_line(
    rows: tuple[Surveyed, ...],
    least: Thinnest,
    tolerance: Tolerance,
    within: Within,
    fit: Fit,
    tallest: Tallest,
    hand: Hand,
) -> HingeLine:
    """Hinge line over a curved shell: one straight line, and the height of every pad below it.

    The line through the surveyed points is raised until the thinnest pad keeps its least height.
    Both lines are printed, the pads are cut to the one that is named. Where the line does not pass
    over a surveyed point, the slope across carries the height to below the line.
    """
    numbers: Any = (rows, least, tolerance, within, tallest)
    told, thin, margin, doubt, most = numbers
    points, slopes = _sound(told), [row.slope_across for row in told]
    lines = {name: way(points) for name, way in _FITS.items()}
    for line in lines.values():
        _level(line)
    heights = {name: pads(points, slopes, line, thin + margin) for name, line in lines.items()}
    _not_too_tall(heights[fit], most, margin)
    off = doubts(points, slopes, thin + margin, doubt, _FITS[fit])
    return _whole(points, slopes, lines, fit, heights, off)
