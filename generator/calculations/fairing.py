"""Offsets at stations, drawn or measured, in; offsets between them, and what is unfair, out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, count, given, gives, listed, word
from generator.calculations.line_again import again
from generator.calculations.section_sides import in_order
from generator.curve import cubic
from generator.findings import Refusal
from generator.quantities.amount import Amount

FAIR = "cubic spline, ends not a knot; differences (any text on splines; from memory)"
SQUARES = "least squares (any text on statistics; from memory)"


@dataclass(frozen=True)
class Offset:
    """One offset of a line."""

    at: Annotated[Amount, given("x", "mm", "station", at_least="-20000", at_most="20000")]
    offset: Annotated[Amount, given("y", "mm", "offset", at_least="-5000", at_most="5000")]


Wanted = Annotated[
    tuple[Amount, ...], given("s", "mm", "wanted station", at_least="-20000", at_most="20000")
]
ReadTo = Annotated[
    Amount, given("δ", "mm", "step to which ordinates were read", at_least="0.01", at_most="5")
]


@dataclass(frozen=True)
class Faired:
    """An offset between the given ones."""

    at: Annotated[Amount, gives("s", "mm", "station", to="0.1")]
    offset: Annotated[Amount, gives("y", "mm", "offset", to="0.1")]


@dataclass(frozen=True)
class Fair:
    """A line through given offsets, with its differences over the mean spacing."""

    offsets: Annotated[tuple[Faired, ...], listed("offsets between the stations")]
    spacing: Annotated[Amount, gives("h", "mm", "mean spacing", to="0.1")]
    first: Annotated[tuple[Amount, ...], gives("Δ", "mm", "first difference", to="0.01")]
    second: Annotated[tuple[Amount, ...], gives("ΔΔ", "mm", "second difference", to="0.01")]
    unfair: Annotated[str, word("unfair", "second difference changes its sign at")]


def differences(
    stations: Sequence[float], offsets: Sequence[float]
) -> tuple[list[float], list[float]]:
    """First and second differences, those of unlike spacing taken over the mean spacing."""
    mean = (stations[-1] - stations[0]) / (len(stations) - 1)
    wide = [b - a for a, b in itertools.pairwise(stations)]
    slopes = [(b - a) / w for (a, b), w in zip(itertools.pairwise(offsets), wide, strict=True)]
    second = [
        2 * (s[1] - s[0]) / (w[0] + w[1]) * mean * mean
        for s, w in zip(itertools.pairwise(slopes), itertools.pairwise(wide), strict=True)
    ]
    return [s * mean for s in slopes], second


def changes(second: Sequence[float], read_to: float) -> list[int]:
    """Where a second difference has another sign than the one before it; of what reading alone may
    make, twice its step, no sign is taken."""
    found, before = [], 0.0
    for k, each in enumerate(second):
        if abs(each) <= 2 * read_to * (1 + 1e-9):
            continue
        if before * each < 0:
            found.append(k)
        before = each
    return found


def _rows(rows: Sequence[Any], wanted: Sequence[float], least: int) -> None:
    """Refusal of too few offsets, of stations out of order and of stations beyond the ends."""
    stations = [row.at for row in rows]
    in_order(stations)
    in_order(wanted)
    if len(rows) < least:
        raise Refusal("range", f"{len(rows)} offsets", f"{least} or more")
    for at in wanted:
        if not stations[0] - 1e-9 <= at <= stations[-1] + 1e-9:
            wrong = f"station {1000 * at:g} mm lies beyond the end stations"
            right = f"{1000 * stations[0]:g} to {1000 * stations[-1]:g} mm"
            raise Refusal("range", wrong, right)


def _fair_again(rows: Any, stations: Sequence[float], read_to: float) -> Fair:
    """The spline by its second derivatives; differences by the formula of three points."""
    knots, values = [r.at for r in rows], [r.offset for r in rows]
    line = again(knots, [complex(v) for v in values])
    made: Any = Faired
    mean = sum(b - a for a, b in itertools.pairwise(knots)) / (len(knots) - 1)
    first = [
        mean * (values[k + 1] - values[k]) / (knots[k + 1] - knots[k])
        for k in range(len(knots) - 1)
    ]
    second, turns, before = [], [], 0.0
    for k in range(1, len(knots) - 1):
        a, b, c = knots[k - 1 : k + 2]
        bend = (
            values[k - 1] / ((a - b) * (a - c)) + values[k] / ((b - a) * (b - c))
            + values[k + 1] / ((c - a) * (c - b))
        ) * 2 * mean * mean  # fmt: skip
        second.append(bend)
        if abs(bend) > 2 * read_to * (1 + 1e-9):
            turns += [f"station no. {k + 1}"] if before * bend < 0 else []
            before = bend
    whole: Any = Fair
    found: Fair = whole(
        tuple(made(s, line(s).real) for s in stations), mean, tuple(first), tuple(second),
        ", ".join(turns) or "none",
    )  # fmt: skip
    return found


FRAMES = [
    {"at": "0 mm", "offset": "410 mm"},
    {"at": "200 mm", "offset": "447 mm"},
    {"at": "400 mm", "offset": "468 mm"},
    {"at": "600 mm", "offset": "474 mm"},
]


@calculation(
    source=FAIR,
    not_covered="what lies beyond the end stations; a line with a knuckle, which ends there; a "
    "single change of sign that the drawing wants; fairness that only a batten shows",
    method="cubic spline through the offsets, the first two and the last two spans one cubic each; "
    "differences taken over the mean spacing; twice the reading step counts as no difference",
    second=Second(_fair_again, "0.001 mm", "the spline by its second derivatives"),
    examples=(
        Example(
            {"rows": FRAMES, "stations": ["100 mm", "300 mm", "500 mm"], "read_to": "0.5 mm"},
            {
                "first.1": "37 mm", "first.3": "6 mm", "second.1": "-16 mm", "second.2": "-15 mm",
                "offsets.1.offset": "430.6 mm", "offsets.2.offset": "459.4 mm",
                "offsets.3.offset": "472.8 mm",
            },
            "visible arithmetic: Newton's cubic, 410 + 37/2 + 16/8 + 1/16 = 430.56 mm",
        ),
    ),
)  # fmt: skip
def fair_line(rows: tuple[Offset, ...], stations: Wanted, read_to: ReadTo) -> Fair:
    """Fair line through offsets: offsets between the stations, first and second differences.

    Where the second difference changes its sign the line turns its bend: once may be meant, twice
    in a row is a bump.
    """
    numbers: Any = (rows, stations, read_to)
    told, wanted, step = numbers
    _rows(told, wanted, 3)
    at, values = [r.at for r in told], [r.offset for r in told]
    line = cubic(at, values)
    first, second = differences(at, values)
    turns = [f"station no. {k + 2}" for k in changes(second, step)]
    made: Any = Faired
    whole: Any = Fair
    found: Fair = whole(
        tuple(made(s, line.at(s)) for s in wanted), (at[-1] - at[0]) / (len(at) - 1),
        tuple(first), tuple(second), ", ".join(turns) or "none",
    )  # fmt: skip
    return found


# --- measured points ---------------------------------------------------------------------------


@dataclass(frozen=True)
class Fitted:
    """A line as near as it can be to measured offsets."""

    offsets: Annotated[tuple[Faired, ...], listed("offsets of the fitted line")]
    residuals: Annotated[
        tuple[Amount, ...], gives("r", "mm", "measured less fitted at point", to="0.01")
    ]
    largest: Annotated[Amount, gives("r_max", "mm", "largest residual", to="0.01", safe="up")]
    again: Annotated[str, word("again", "measure again at")]


def _orthogonal(
    stations: Sequence[float], offsets: Sequence[float], degree: int, wanted: Sequence[float]
) -> tuple[list[float], list[float]]:
    """Values of the fitted polynomial at the stations and at the wanted ones, by polynomials that
    are square to each other over the stations (Forsythe)."""
    places = [*stations, *wanted]
    count_ = len(stations)
    before, one = [0.0] * len(places), [1.0] * len(places)
    fitted = [0.0] * len(places)
    size_before = 1.0
    for n in range(degree + 1):
        size = math.fsum(v * v for v in one[:count_])
        share = math.fsum(v * y for v, y in zip(one, offsets, strict=False)) / size
        fitted = [f + share * v for f, v in zip(fitted, one, strict=True)]
        middle = math.fsum(x * v * v for x, v in zip(stations, one, strict=False)) / size
        back = size / size_before if n else 0.0
        following = [
            (x - middle) * v - back * w for x, v, w in zip(places, one, before, strict=True)
        ]
        before, one, size_before = one, following, size
    return fitted[:count_], fitted[count_:]


def _fit_again(rows: Any, stations: Sequence[float], degree: int, within: float) -> Fitted:
    """The normal equations, stations taken from their middle in half spans, by elimination."""
    at, values = [r.at for r in rows], [r.offset for r in rows]
    middle, half = (at[0] + at[-1]) / 2, (at[-1] - at[0]) / 2
    terms = range(degree + 1)
    powers = [[((x - middle) / half) ** n for n in terms] for x in at]
    table = [
        [math.fsum(p[i] * p[j] for p in powers) for j in terms]
        + [math.fsum(p[i] * y for p, y in zip(powers, values, strict=True))]
        for i in terms
    ]
    for i in terms:
        k = max(range(i, degree + 1), key=lambda row: abs(table[row][i]))
        table[i], table[k] = table[k], table[i]
        for j in range(degree + 1):
            if j != i:
                share = table[j][i] / table[i][i]
                table[j] = [a - share * b for a, b in zip(table[j], table[i], strict=True)]
    found = [table[i][-1] / table[i][i] for i in terms]

    def value(x: float) -> float:
        return math.fsum(c * ((x - middle) / half) ** n for n, c in enumerate(found))

    residuals = [y - value(x) for x, y in zip(at, values, strict=True)]
    return _fitted([value(s) for s in stations], residuals, stations, within)


def _fitted(
    read: Sequence[float], residuals: Sequence[float],
    stations: Sequence[float], within: float,
) -> Fitted:  # fmt: skip
    off = [f"point {n}" for n, r in enumerate(residuals, 1) if abs(r) > within * (1 + 1e-9)]
    made: Any = Faired
    whole: Any = Fitted
    fitted: Fitted = whole(
        tuple(made(s, y) for s, y in zip(stations, read, strict=True)), tuple(residuals),
        max(map(abs, residuals)), ", ".join(off) or "none",
    )  # fmt: skip
    return fitted


@calculation(
    source=SQUARES,
    not_covered="an offset measured wrong, which pulls the whole line: measure again where the "
    "residual is large, and fit again; what lies beyond the end stations; other curves than a "
    "polynomial",
    method="polynomial of the asked degree, least squares by polynomials square to each other over "
    "the stations (Forsythe)",
    second=Second(_fit_again, "0.001 mm", "normal equations by elimination"),
    examples=(
        Example(
            {
                "rows": [
                    {"at": "0 mm", "offset": "10 mm"},
                    {"at": "100 mm", "offset": "12 mm"},
                    {"at": "200 mm", "offset": "11 mm"},
                    {"at": "300 mm", "offset": "13 mm"},
                    {"at": "400 mm", "offset": "14 mm"},
                ],
                "stations": ["50 mm", "200 mm"], "degree": "1", "within": "0.95 mm",
            },
            {
                "residuals.1": "-0.2 mm", "residuals.2": "0.9 mm", "residuals.3": "-1 mm",
                "offsets.1.offset": "10.65 mm", "offsets.2.offset": "12 mm",
            },
            "visible arithmetic: mean 12 mm, slope 900/100000, so 10.2, 11.1, 12, 12.9, 13.8 mm",
            within="0.001 mm",
        ),
    ),
)  # fmt: skip
def fitted_line(
    rows: tuple[Offset, ...],
    stations: Wanted,
    degree: Annotated[int, count("n", "degree of the line: 1 straight, 2 one bend", 1, 3)],
    within: Annotated[
        Amount, given("δ", "mm", "residual that is accepted", at_least="0.01", at_most="50")
    ],
) -> Fitted:
    """Fitted line by least squares: offsets of a line near measured points, a residual at each.

    There are two points more than the degree at least. Points further off than is accepted are
    named, to be measured again.
    """
    numbers: Any = (rows, stations, within)
    told, wanted, limit = numbers
    _rows(told, wanted, degree + 2)
    at, values = [r.at for r in told], [r.offset for r in told]
    near, read = _orthogonal(at, values, degree, wanted)
    residuals = [y - f for y, f in zip(values, near, strict=True)]
    return _fitted(read, residuals, wanted, limit)
