"""A chain of levers as a sheet's rows give it, in; the chain at neutral and turned, out.

Every driven pin is found anew from the length of its rod, by steps from neutral; the picture can be
measured against the angles that the table has.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.figures.beside import SMALL, beside
from generator.figures.clearance import Box
from generator.figures.lettering import wrapped
from generator.figures.picture import Circle, Line, Mark, Picture, Point, Words
from generator.findings import Refusal
from generator.quantities.text import read_amount
from generator.quantities.units import unit

LINE, EDGE, HIGHEST = 4.2, 6.5, 60.0
THIN, THICK, PIVOT, PIN = 0.3, 0.6, 1.1, 0.6
ARM = 14.0  # the longest lever on paper, where rods may be drawn shorter for it
APART = 1.3  # pivots, in sums of both levers
SHORTER = (1.0, 0.8, 0.65, 0.5, 0.4, 0.3, 0.25, 0.2, 0.16, 0.13, 0.1)
BY = ("rod", "cable", "crossed cable")


@dataclass(frozen=True)
class Stage:
    """Two levers at neutral, from their own pivots, and the pivot of the second from the first."""

    driver: complex
    driven: complex
    pivot: complex
    by: str


@dataclass(frozen=True)
class Paper:
    """Pivots on paper, and the scale of the levers; part: of its length that a rod is drawn."""

    pivots: tuple[complex, ...]
    scale: float
    part: float

    def at(self, n: int, arm: complex) -> Point:
        """The end of a lever at a pivot; y turns over, because on paper it runs down."""
        place = self.pivots[n] + self.scale * arm.conjugate()
        return place.real, place.imag


def linkage(rows: Mapping[str, str], width: float) -> Picture:
    """The chain at neutral thin, turned thick; rods drawn shorter where levers would be too small.

    Refuses rows that cannot be read, and a rod that does not reach.
    """
    stages = _stages(rows)
    turned = _angle(rows.get("turned", ""), "turned")
    turnings = _turnings(stages, turned)
    paper, height = _paper(stages, width)
    marks = [*_chain(stages, [0.0] * (len(stages) + 1), paper, THIN)]
    marks += _chain(stages, turnings, paper, THICK)
    for n in range(len(stages) + 1):
        x, y = paper.at(n, 0j)
        marks.append(Circle(x, y, PIVOT, 0.35))
    frame = Box(0.5, 0.5, width, height)
    for n in range(len(stages) + 1):
        marks.append(beside(f"{n + 1}", paper.at(n, 0j), (marks, ()), frame))
    y = height + LINE
    for line in wrapped(_said(rows, stages, paper), SMALL, width):
        marks.append(Words(0.0, y, line, SMALL))
        y += LINE
    return Picture(width, y - LINE + 1.5, tuple(marks))


def _said(rows: Mapping[str, str], stages: Sequence[Stage], paper: Paper) -> str:
    short = "" if paper.part == 1.0 else ", pivots drawn nearer together and rods shorter"
    return (
        f"Thin: neutral, rig pins in. Thick: lever 1 turned by {rows['turned']}, lever "
        f"{len(stages) + 1} by {rows['last']} (plus is anticlockwise). "
        f"Levers to scale, 1 mm is {1 / paper.scale:.2f} mm{short}."
    )


# --- reading the rows --------------------------------------------------------------------------


def _angle(text: str, name: str) -> float:
    if not text.strip():
        raise Refusal("figure", f"a linkage without its {name}", name)
    return read_amount(text.replace("\N{MINUS SIGN}", "-")).value


def _stages(rows: Mapping[str, str]) -> list[Stage]:
    count = sum(name.startswith("stage ") for name in rows)
    if not count or not rows.get("last"):
        raise Refusal("figure", "a linkage without its stages or its last turning", "stage 1, last")
    return [_stage(rows.get(f"stage {n}", "")) for n in range(1, count + 1)]


def _stage(text: str) -> Stage:
    cells = [each.strip().replace("\N{MINUS SIGN}", "-") for each in text.split(";")]
    right = "85 mm; -90°; 70 mm; -90°; 980 mm; 0 mm; rod"
    if len(cells) != 7 or cells[6] not in BY:
        raise Refusal("figure", f"{text!r} is no stage of a linkage", right)
    driver, at, driven, other, across, up = (read_amount(each).value for each in cells[:6])
    mm = unit("mm").from_base
    pivot = complex(mm(across), mm(up))
    return Stage(cmath.rect(mm(driver), at), cmath.rect(mm(driven), other), pivot, cells[6])


# --- turning it --------------------------------------------------------------------------------


def _turnings(stages: Sequence[Stage], turned: float) -> list[float]:
    """The turning of every lever, the first given."""
    found = [turned]
    for stage in stages:
        found.append(_follows(stage, found[-1]))
    return found


def _follows(stage: Stage, turned: float) -> float:
    if stage.by != "rod":
        ratio = abs(stage.driver) / abs(stage.driven)
        return turned * ratio if stage.by == "cable" else -turned * ratio
    steps = max(1, math.ceil(abs(turned) / math.radians(1)))
    rod, arm, last = abs(stage.pivot + stage.driven - stage.driver), abs(stage.driven), 0.0
    for n in range(1, steps + 1):
        pin = stage.driver * cmath.exp(1j * turned * n / steps) - stage.pivot
        cosine = (arm * arm + abs(pin) ** 2 - rod * rod) / (2 * arm * abs(pin))
        if abs(cosine) > 1 + 1e-9:
            raise Refusal("figure", "a rod that does not reach", "a travel that ends before")
        off = math.acos(max(-1.0, min(1.0, cosine)))
        both = [cmath.phase(pin * cmath.exp(1j * s) / stage.driven) for s in (off, -off)]
        last = min(both, key=lambda each: abs(math.remainder(each - last, 2 * math.pi)))
    return last


# --- drawing -----------------------------------------------------------------------------------


def _paper(stages: Sequence[Stage], width: float) -> tuple[Paper, float]:
    """Where the pivots go: rods as long as they are, or shorter until the levers can be seen."""
    longest = max(abs(arm) for s in stages for arm in (s.driver, s.driven))
    least = max(APART * (abs(s.driver) + abs(s.driven)) / abs(s.pivot) for s in stages)
    allowed = [part for part in SHORTER if part >= least] or [1.0]
    tried = [_laid(stages, part, width) for part in allowed]
    seen = (each for each in tried if each[0].scale * longest >= ARM)
    return next(seen, max(tried, key=lambda each: each[0].scale))


def _laid(stages: Sequence[Stage], part: float, width: float) -> tuple[Paper, float]:
    pivots = [0j]
    for stage in stages:
        pivots.append(pivots[-1] + part * stage.pivot)
    arms = [abs(stages[0].driver)]
    arms += [
        max(abs(s.driven), abs(stages[n + 1].driver) if n + 1 < len(stages) else 0.0)
        for n, s in enumerate(stages)
    ]
    pairs = list(zip(pivots, arms, strict=True))
    left, right = min(p.real - r for p, r in pairs), max(p.real + r for p, r in pairs)
    low, high = min(p.imag - r for p, r in pairs), max(p.imag + r for p, r in pairs)
    scale = min((width - 2 * EDGE) / (right - left), (HIGHEST - 2 * EDGE) / (high - low))
    aside = (width - scale * (right - left)) / 2
    places = tuple(
        complex(aside + scale * (p.real - left), EDGE + scale * (high - p.imag)) for p in pivots
    )
    return Paper(places, scale, part), 2 * EDGE + scale * (high - low)


def _chain(
    stages: Sequence[Stage], turnings: Sequence[float], paper: Paper, weight: float
) -> Iterator[Mark]:
    for n, stage in enumerate(stages):
        driver = stage.driver * cmath.exp(1j * turnings[n])
        driven = stage.driven * cmath.exp(1j * turnings[n + 1])
        for k, arm in ((n, driver), (n + 1, driven)):
            yield Line(*paper.at(k, 0j), *paper.at(k, arm), weight)
            yield Circle(*paper.at(k, arm), PIN, 0.35)
        if stage.by == "rod":
            yield from _rod(paper.at(n, driver), paper.at(n + 1, driven), paper.part, weight)
        elif weight == THIN:
            yield from _cables(stage, n, paper)


def _rod(a: Point, b: Point, part: float, weight: float) -> Iterator[Mark]:
    """A rod; where it is drawn shorter, a gap between two slanted strokes."""
    if part == 1.0:
        yield Line(*a, *b, weight)
        return
    start, end = complex(*a), complex(*b)
    along = (end - start) / abs(end - start)
    middle = (start + end) / 2
    for towards, far in ((-1, start), (1, end)):
        near = middle + towards * 0.7 * along
        slant = 1.6 * along * cmath.exp(1j * math.radians(70))
        yield Line(far.real, far.imag, near.real, near.imag, weight)
        one, other = near - slant, near + slant
        yield Line(one.real, one.imag, other.real, other.imag, THIN)


def _cables(stage: Stage, n: int, paper: Paper) -> Iterator[Mark]:
    """Both quadrants as circles, and the two runs of cable between them."""
    one, other = (paper.scale * abs(arm) for arm in (stage.driver, stage.driven))
    first, second = paper.pivots[n], paper.pivots[n + 1]
    yield Circle(first.real, first.imag, one, THIN)
    yield Circle(second.real, second.imag, other, THIN)
    along = second - first
    crossed = -1 if stage.by == "crossed cable" else 1
    lean = math.acos(max(-1.0, min(1.0, (one - crossed * other) / abs(along))))
    for side in (1, -1):
        way = along / abs(along) * cmath.exp(1j * side * lean)
        a, b = first + one * way, second + crossed * other * way
        yield Line(a.real, a.imag, b.real, b.imag, THIN)
