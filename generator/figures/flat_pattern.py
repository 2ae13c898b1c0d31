"""A blank, its flats and its bends as the sheet's rows give them, in; a flat pattern, out.

The blank lies across the page in proportion along its length. Above it stands what belongs to a
flat or a bend, below it the distances of all lines from the first edge.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from generator.figures.blank import Blank, blank
from generator.figures.flat_labels import LINE, Layer, Lettering, above, below
from generator.figures.flat_sheet import SIZE, SMALL, Paper, clearest, drawn, grain
from generator.figures.lettering import text_width, wrapped
from generator.figures.picture import Mark, Picture, Words, lowered
from generator.findings import Refusal

HEIGHT, FLATTEST, HIGHEST = 24.0, 16.0, 40.0
FIRST_EDGE = 1.0
UNITS = {"mm": "millimetres", "in": "inches"}
LETTERINGS = (
    Lettering(SIZE, gap=2.0),
    Lettering(SIZE, gap=0.9),
    Lettering(SIZE, gap=0.9, nose_parted=True),
    Lettering(SMALL, gap=0.9, nose_parted=True),
    Lettering(SMALL, gap=0.9, nose_parted=True, parted=True),
)


def flat_pattern(rows: Mapping[str, str], width: float) -> Picture:
    """The flat blank with its bend, tangent and sight lines, width in millimetres.

    Refuses rows it cannot read or that contradict one another, and a blank whose labels find no
    room in the width.
    """
    told = blank(rows)
    paper = _paper(told, width)
    return _finished(told, paper, _fitted(above, told, paper), _fitted(below, told, paper))


def _paper(told: Blank, width: float) -> Paper:
    """As long as the width allows; in proportion across too, unless that is thin or deep."""
    beside, height = 1.0, HEIGHT
    if told.width is not None:
        beside = 5.5 + text_width(told.width.figures, SIZE)
    scale = (width - FIRST_EDGE - beside) / told.length.millimetres
    if told.width is not None:
        height = min(HIGHEST, max(FLATTEST, told.width.millimetres * scale))
    return Paper(FIRST_EDGE, scale, height, width)


def _fitted(
    labels: Callable[[Blank, Paper, Lettering], Layer | None], told: Blank, paper: Paper
) -> Layer:
    """The labels in the largest lettering that finds room."""
    for lettering in LETTERINGS:
        layer = labels(told, paper, lettering)
        if layer is not None:
            return layer
    wrong = f"the sizes of {len(told.folds)} bends find no room in {paper.width:.0f} mm"
    raise Refusal("figure", wrong, "a wider picture, or fewer bends in one figure")


def _finished(told: Blank, paper: Paper, over: Layer, under: Layer) -> Picture:
    """Title, what stands above, the blank, what stands below, and how to read it."""
    title = wrapped(_title(told), SIZE, paper.width)
    marks: list[Mark] = [
        Words(0, LINE * i - 1, line, SIZE, bold=True) for i, line in enumerate(title, 1)
    ]
    top = LINE * len(title) + 1.5 + over.reach
    marks += [lowered(mark, top) for mark in (*over.marks, *drawn(told, paper))]
    marks += [lowered(mark, top + paper.height) for mark in under.marks]
    foot = top + paper.height + under.reach + 1.5
    told_below, height = _told_below(told, paper)
    marks += [lowered(mark, foot) for mark in told_below]
    return Picture(paper.width, foot + height, tuple(marks))


def _told_below(told: Blank, paper: Paper) -> tuple[list[Mark], float]:
    """The grain where the blank has no room for it, the order of bending, how to read it all."""
    marks: list[Mark] = []
    y = 0.0
    if told.grain and clearest(told, paper) is None:
        marks += grain(told, FIRST_EDGE, 5.5)
        y += 12
    if told.order:
        words = "Bend in the order " + ", ".join(map(str, told.order)) + "."
        for line in wrapped(words, SIZE, paper.width):
            marks.append(Words(0, y + 3.6, line, SIZE, bold=True))
            y += LINE
    for line in wrapped(_note(told), SMALL, paper.width):
        y += 4.2
        marks.append(Words(0, y, line, SMALL))
    return marks, y + 1.5


def _title(told: Blank) -> str:
    across = "" if told.width is None else f" by {told.width.figures}"
    sheet = f"sheet {told.thickness.figures} {told.thickness.unit} thick"
    return f"Blank {told.length.figures}{across} {told.length.unit}, {sheet}"


def _note(told: Blank) -> str:
    relief = ", Ø of its relief holes" if any(fold.relief for fold in told.folds) else ""
    nose = ""
    if any(fold.nose for fold in told.folds):
        nose = "Nose on: the leg that lies under the nose bar; leg 1 begins at the first edge. "
    return (
        f"Not to scale: measure by the figures, in {UNITS[told.length.unit]}. "
        "Above the blank: each flat between its lines; each bend with its way and angle, "
        f"R inside radius, BA bend allowance{relief}. {nose}"
        "Below: how far from the first edge. "
        "Dashed: the sight line. Chained: the middle of a bend."
    )
