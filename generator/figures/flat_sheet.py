"""A blank and the paper it lies on, in; its rectangle with all its lines, out.

y counts down from the blank's upper edge.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from generator.figures.blank import Blank, Fold
from generator.figures.lettering import centred_baseline, text_width
from generator.figures.picture import Circle, Line, Mark, Outline, Point, Words

SIZE, SMALL = 10.5, 9.0
FINE, EDGE, FIRST = 0.25, 0.5, 0.9
CLEAR = 1.2  # the centre line and the sight line are told apart from here on
OPEN = 2.5  # a bend narrower than this on paper shows no centre line
SMALLEST_HOLE, LARGEST_HOLE = 0.7, 4.0


@dataclass(frozen=True)
class Paper:
    """Where the blank lies: x of its first edge, scale along it, its height on paper."""

    first: float
    scale: float
    height: float
    width: float  # of the whole picture

    def at(self, along: float) -> float:
        return self.first + self.scale * along


def drawn(told: Blank, paper: Paper) -> Iterator[Mark]:
    """The rectangle, its first edge thick, and what lies on it."""
    left, right, low = paper.at(0), paper.at(told.length.millimetres), paper.height
    yield Outline(((left, 0), (right, 0), (right, low), (left, low)), EDGE, closed=True)
    yield Line(left, 0, left, low, FIRST)
    for fold in told.folds:
        yield from _fold_lines(fold, paper)
    if told.width is not None:
        yield from _width(told.width.figures, right, low)
    room = clearest(told, paper)
    if told.grain and room is not None:
        yield from grain(told, (room[0] + room[1] - _grain_width(told)) / 2, paper.height / 2)


def narrow(fold: Fold, paper: Paper) -> bool:
    """Whether a bend has no room on paper for a centre line between its tangent lines."""
    return paper.scale * (fold.end.millimetres - fold.start.millimetres) < OPEN


def hole(fold: Fold, paper: Paper) -> float:
    """Radius of the relief hole, in proportion while it is neither a dot nor over the labels."""
    if fold.relief is None:
        return 0.0
    return min(LARGEST_HOLE, max(SMALLEST_HOLE, paper.scale * fold.relief.millimetres / 2))


def head(tip: Point, way: int, upright: bool = False) -> Outline:
    """A slim black arrowhead whose shaft runs right or down (1), left or up (-1) from its tip."""
    x, y = tip
    if upright:
        corners = ((x, y), (x - 0.5, y + 2.2 * way), (x + 0.5, y + 2.2 * way))
    else:
        corners = ((x, y), (x + 2.2 * way, y - 0.5), (x + 2.2 * way, y + 0.5))
    return Outline(corners, FINE, closed=True, filled=True)


def clearest(told: Blank, paper: Paper) -> tuple[float, float] | None:
    """The widest part of the blank between lines and holes; None where no grain fits there."""
    at = [paper.at(0), paper.at(told.length.millimetres)]
    for fold in told.folds:
        at += [paper.at(one.millimetres) for one in (fold.start, fold.end, fold.sight)]
        at += [paper.at(fold.middle) + side * hole(fold, paper) for side in (-1, 1)]
    start, end = max(pairwise(sorted(at)), key=lambda pair: pair[1] - pair[0])
    return (start, end) if end - start >= _grain_width(told) + 2 else None


def grain(told: Blank, x: float, y: float) -> Iterator[Mark]:
    """The word and an arrow with two heads, left end at x, middle at y."""
    wide = _grain_width(told)
    if told.grain.startswith("along"):
        yield Words(x, centred_baseline(y - 2.2, SMALL), "GRAIN", SMALL)
        yield Line(x, y + 2.2, x + wide, y + 2.2, FINE)
        yield from (head((x, y + 2.2), 1), head((x + wide, y + 2.2), -1))
        return
    yield Line(x + 0.8, y - 5.5, x + 0.8, y + 5.5, FINE)
    yield head((x + 0.8, y - 5.5), 1, upright=True)
    yield head((x + 0.8, y + 5.5), -1, upright=True)
    yield Words(x + 3, centred_baseline(y, SMALL), "GRAIN", SMALL)


def _grain_width(told: Blank) -> float:
    return text_width("GRAIN", SMALL) + (0 if told.grain.startswith("along") else 3)


def _fold_lines(fold: Fold, paper: Paper) -> Iterator[Mark]:
    """Tangent lines in full, the sight line dashed, the centre line chained, relief holes.

    Where they would run into one, the centre line keeps the upper part and the sight line the
    lower, each beside its own label.
    """
    start, end = paper.at(fold.start.millimetres), paper.at(fold.end.millimetres)
    sight, middle, low = paper.at(fold.sight.millimetres), paper.at(fold.middle), paper.height
    yield from (Line(x, 0, x, low, FINE) for x in (start, end))
    apart = abs(sight - middle) >= CLEAR or narrow(fold, paper)
    yield from _broken(sight, 0 if apart else 0.4 * low, low, (2.2, 1.1))
    if not narrow(fold, paper):
        yield from _broken(middle, 0, low if apart else 0.35 * low, (4.0, 0.9, 0.6, 0.9))
    if fold.relief is not None:
        yield from (Circle(middle, y, hole(fold, paper)) for y in (0, low))


def _broken(x: float, top: float, low: float, pattern: tuple[float, ...]) -> Iterator[Line]:
    """An upright line of strokes and gaps in turn."""
    y, part = top, 0
    while y < low:
        end = min(low, y + pattern[part % len(pattern)])
        if part % 2 == 0:
            yield Line(x, y, x, end, FINE)
        y, part = end, part + 1


def _width(figures: str, right: float, low: float) -> Iterator[Mark]:
    """The dimension of the blank across, beside its last edge."""
    x = right + 3
    yield Line(x, 0, x, low, FINE)
    yield from (head((x, 0), 1, upright=True), head((x, low), -1, upright=True))
    yield from (Line(right + 0.8, y, x + 0.8, y, FINE) for y in (0, low))
    yield Words(x + 1.5, centred_baseline(low / 2, SIZE), figures, SIZE, names=("width",))
