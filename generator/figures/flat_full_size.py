"""A blank and its bends as a sheet's rows give them, in; the flat pattern at 1:1, out.

It is drawn from the printed figures, so that what a rule measures on it is what the sheets say.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from generator.figures.blank import Blank, Fold, blank
from generator.figures.flat_sheet import CLEAR, head
from generator.figures.full_size import (
    CHAIN,
    CUT,
    DASHES,
    THIN,
    Check,
    FullSize,
    moved,
    patterned,
    reach,
)
from generator.figures.lettering import centred_baseline, text_width
from generator.figures.picture import Circle, Line, Mark, Outline, Point, Words
from generator.figures.spreading import spread
from generator.findings import Refusal

SIZE, SMALL = 10.5, 9.0
LINE = 4.8
MARGIN = 3.0
FAN = 9.0  # height in which leaders run aside to their labels
OVER = 2.0  # how far bend lines and leaders run on over the edge
GRAIN = 22.0  # length of the grain's arrow
_HOW = (
    "Cut to the middle of the outline. In full: the tangent lines of a bend; chained: its middle; "
    "dashed: its sight line."
)


def full_flat_pattern(rows: Mapping[str, str]) -> FullSize:
    """The blank at full size: outline, bends with way and angle, grain.

    Refuses rows it cannot read or that contradict one another, and a blank without width or grain.
    """
    told = blank(rows)
    if told.width is None:
        raise _lacks("width", "width: 40 mm")
    if not told.grain:
        raise _lacks("grain", "grain: along the length")
    marks = [*_outline(told), *_folds(told), *_labels(told), *_inside(told), *_below(told)]
    left, top, right, bottom = _extent(marks)
    placed = tuple(moved(mark, MARGIN - left, MARGIN - top) for mark in marks)
    unit, figures = told.length.unit, told.length.figures
    size = f"blank {figures} by {told.width.figures} {unit}, {told.thickness.figures} {unit} thick"
    checks = (
        Check("blank, first edge to last edge", told.length.millimetres),
        Check("blank, across", _across(told)),
    )
    view = "on the marked side; UP comes towards you, DOWN goes away"
    notes = [f"The grain runs {told.grain}.", _HOW, *_lines(told)]
    if told.order:
        notes.append("Bend in the order " + ", ".join(map(str, told.order)) + ".")
    width, height = right - left + 2 * MARGIN, bottom - top + 2 * MARGIN
    return FullSize("Flat pattern", size, view, width, height, placed, checks, tuple(notes))


def _lacks(what: str, right: str) -> Refusal:
    return Refusal("figure", f"a flat pattern at full size without its {what}", right)


def _lines(told: Blank) -> Iterator[str]:
    """Where the lines of each bend lie from the first edge, and what lies between them."""
    for number, fold in enumerate(told.folds, 1):
        lines = f"tangent lines {fold.start.figures} to {fold.end.figures}"
        nose = f", nose on leg {fold.nose}" if fold.nose else ""
        more = f"sight line {fold.sight.figures}, allowance {fold.allowance.figures}{nose}"
        yield f"Bend {number}: {lines} from the first edge, {more}."
    yield f"Flats: {', '.join(flat.figures for flat in told.flats)}."


def _across(told: Blank) -> float:
    assert told.width is not None
    return told.width.millimetres


def _outline(told: Blank) -> Iterator[Mark]:
    """What is cut: the first edge at x = 0, the blank downward from y = 0."""
    long, deep = told.length.millimetres, _across(told)
    yield Outline(((0.0, 0.0), (long, 0.0), (long, deep), (0.0, deep)), CUT, closed=True)


def _folds(told: Blank) -> Iterator[Mark]:
    """The lines of every bend from edge to edge. Where middle and sight line would run into one,
    the middle keeps the upper part of the blank and the sight line the lower."""
    deep = _across(told)
    for fold in told.folds:
        for one in (fold.start, fold.end):
            yield Line(one.millimetres, 0.0, one.millimetres, deep, THIN)
        sight, middle = fold.sight.millimetres, fold.middle
        apart = abs(sight - middle) >= CLEAR
        yield from patterned((sight, 0.0 if apart else 0.45 * deep), (sight, deep), DASHES, THIN)
        yield from patterned((middle, 0.0), (middle, deep if apart else 0.4 * deep), CHAIN, THIN)
        if fold.relief is not None:
            radius = fold.relief.millimetres / 2
            yield from (Circle(middle, y, radius, CUT) for y in (0.0, deep))


def _labels(told: Blank) -> Iterator[Mark]:
    """Over every bend its number, way, angle and radius; a leader from its middle."""
    says = [_said(number, fold) for number, fold in enumerate(told.folds, 1)]
    wanted = [fold.middle for fold in told.folds]
    halves = [max(text_width(words, SIZE) for words in lines) / 2 for lines in says]
    far = sum(halves) * 2 + told.length.millimetres
    places = spread(
        wanted, [-far] * len(says), [2 * far] * len(says),
        lambda i, j: halves[i] + halves[j] + 3.0,
    )  # fmt: skip
    assert places is not None  # there is room without end on both sides
    start = -OVER - _hole(told)
    for lines, middle, x in zip(says, wanted, places, strict=True):
        foot = start - (FAN if abs(x - middle) > 0.5 else 2.0)
        yield Outline(((middle, start), (x, foot)), THIN)
        yield from _stack(lines, x, foot - 0.8)


def _said(number: int, fold: Fold) -> list[str]:
    way = "UP" if fold.turn.bend.up else "DOWN"
    said = [f"BEND {number}", f"{way} {fold.turn.angle}°", f"R {fold.turn.radius.figures}"]
    return said if fold.relief is None else [*said, f"Ø {fold.relief.figures}"]


def _stack(lines: Sequence[str], x: float, foot: float) -> Iterator[Words]:
    for row, words in enumerate(reversed(lines)):
        y = centred_baseline(foot - LINE * (row + 0.5), SIZE)
        yield Words(x, y, words, SIZE, row >= len(lines) - 2, "middle")


def _hole(told: Blank) -> float:
    """Radius of the largest relief hole."""
    return max((f.relief.millimetres / 2 for f in told.folds if f.relief), default=0.0)


def _gaps(told: Blank) -> list[tuple[float, float]]:
    """The clear metal before the first bend, between bends and after the last."""
    edges = [0.0]
    for fold in told.folds:
        lines = (fold.start.millimetres, fold.end.millimetres, fold.sight.millimetres)
        edges += [min(lines), max(lines)]
    edges.append(told.length.millimetres)
    return list(zip(edges[0::2], edges[1::2], strict=True))


def _inside(told: Blank) -> Iterator[Mark]:
    """What stays on the blank when the paper is cut: number and way of each bend, after it, and
    the grain where there is room for it."""
    deep, gaps = _across(told), _gaps(told)
    for number, (fold, (start, end)) in enumerate(zip(told.folds, gaps[1:], strict=True), 1):
        words = f"{number} {'UP' if fold.turn.bend.up else 'DOWN'}"
        if deep - 2 * _hole(told) >= 7.0 and end - start >= text_width(words, SMALL) + 3.0:
            y = deep - _hole(told) - 2.5
            yield Words(start + 1.5, y, words, SMALL, True)
    if _grain_inside(told):
        start, end = max(gaps, key=lambda gap: gap[1] - gap[0])
        along = told.grain.startswith("along")
        wide = text_width("GRAIN", SMALL) + 2.0 + (GRAIN if along else 1.0)
        y = deep / 2 if along else (deep - GRAIN) / 2 + 2.0
        yield from _grain(told, ((start + end - wide) / 2, y))


def _grain_inside(told: Blank) -> bool:
    """Whether word and arrow stand clear of the bends and of their words."""
    along = told.grain.startswith("along")
    widest = max(end - start for start, end in _gaps(told))
    wide = text_width("GRAIN", SMALL) + (GRAIN if along else 1.0) + 6.0
    deep = _across(told) - 2 * _hole(told)
    return widest >= wide and deep >= (18.0 if along else GRAIN + 18.0)


def _below(told: Blank) -> Iterator[Mark]:
    """The first edge by its name, and the grain beside it where the blank has no room for it."""
    low = _across(told) + OVER + _hole(told)
    yield Line(0.0, low, 0.0, low + 5.0, THIN)
    yield head((0.0, low), 1, upright=True)
    yield Words(1.8, low + 4.6, "FIRST EDGE", SMALL, True)
    if not _grain_inside(told):
        yield from _grain(told, (text_width("FIRST EDGE", SMALL) + 10.0, low + 3.4))


def _grain(told: Blank, at: Point) -> Iterator[Mark]:
    """The word, and an arrow with two heads the way the grain runs."""
    x, y = at
    yield Words(x, centred_baseline(y, SMALL), "GRAIN", SMALL, True)
    x += text_width("GRAIN", SMALL) + 2.0
    if told.grain.startswith("along"):
        yield Line(x, y, x + GRAIN, y, THIN)
        yield from (head((x, y), 1), head((x + GRAIN, y), -1))
        return
    y -= 2.0
    yield Line(x, y, x, y + GRAIN, THIN)
    yield from (head((x, y), 1, upright=True), head((x, y + GRAIN), -1, upright=True))


def _extent(marks: Sequence[Mark]) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of everything that is drawn."""
    boxes = [reach(mark) for mark in marks]
    return (
        min(box.left for box in boxes), min(box.top for box in boxes),
        max(box.right for box in boxes), max(box.bottom for box in boxes),
    )  # fmt: skip
