"""A blank and the paper it lies on, in; the labels above it and below it, out.

Labels are spread along the blank in the order of what they belong to, so that no leader crosses
another. y counts from the blank's edge, upward it is negative.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.figures.bend_rows import Length
from generator.figures.blank import Blank, Fold
from generator.figures.flat_sheet import FINE, FIRST, SIZE, SMALL, Paper, head, hole, narrow
from generator.figures.lettering import centred_baseline, text_width
from generator.figures.picture import Circle, Line, Mark, Outline, Words
from generator.figures.spreading import spread

LINE = 4.8
BALLOON = 3.4
BEYOND = 0.9  # how far the figures of a distance reach beyond their leader
LEAST_FAN, HIGHEST_FAN = 4.0, 26.0
PARTING = 1.2  # over the dimension lines: leaders that part at one height never cross
ROWS = ("SIGHT", "tangent", "SIGHT", "tangent", "SIGHT")
BEFORE, START, INSIDE, END, AFTER = range(5)  # where in ROWS a line of a bend is printed


@dataclass(frozen=True)
class Lettering:
    """Size of the figures in points, room between labels in millimetres, and whether nose and leg,
    and way and angle, stand in two lines."""

    size: float
    gap: float
    nose_parted: bool = False
    parted: bool = False


@dataclass(frozen=True)
class Layer:
    """Marks beside the blank, and how far they reach from it."""

    marks: tuple[Mark, ...]
    reach: float


def above(told: Blank, paper: Paper, lettering: Lettering) -> Layer | None:
    """Flats with their dimension lines, and over them what is to be known of each bend.

    None where they find no room.
    """
    middles = [paper.at((a + b) / 2) for a, b in _flat_ends(told)]
    bends = [paper.at(fold.middle) for fold in told.folds]
    says = [_said(fold, lettering) for fold in told.folds]
    row = _flats_row(told, middles, bends, paper, lettering)
    halves = [max(BALLOON, *(text_width(*line) / 2 for line in lines)) for lines in says]
    stacks = _row(bends, halves, paper.width, lettering.gap)
    if row is None or stacks is None:
        return None
    flats, passing = row[0::2], row[1::2]
    line = -max(3.5, *(hole(fold, paper) + 1.5 for fold in told.folds))
    parting = line - PARTING
    over = parting - fan(middles, flats)
    foot = over - LINE - fan(passing, stacks)
    marks = [*_dimensions(told, paper, line), *_flats(told, middles, flats, line, over, lettering)]
    for i, fold in enumerate(told.folds):
        start = parting if narrow(fold, paper) else 0.0
        upward = ((bends[i], start), (bends[i], parting), (passing[i], over))
        marks.append(Outline((*upward, (passing[i], over - LINE), (stacks[i], foot)), FINE))
        marks += _stack(i + 1, says[i], stacks[i], foot)
    return Layer(tuple(marks), 2 * BALLOON + 0.8 + LINE * max(map(len, says)) - foot)


def _flat_ends(told: Blank) -> list[tuple[float, float]]:
    lines = [0.0]
    for fold in told.folds:
        lines += [fold.start.millimetres, fold.end.millimetres]
    lines.append(told.length.millimetres)
    return list(zip(lines[0::2], lines[1::2], strict=True))


def _flats_row(
    told: Blank, middles: list[float], bends: list[float], paper: Paper, lettering: Lettering
) -> tuple[float, ...] | None:
    """The sizes of the flats, and in turn with them the leaders of the bends that pass between."""
    wanted = [middles[0]]
    halves = [text_width(told.flats[0].figures, lettering.size) / 2]
    for bend, middle, flat in zip(bends, middles[1:], told.flats[1:], strict=True):
        wanted += [bend, middle]
        halves += [0.15, text_width(flat.figures, lettering.size) / 2]
    return _row(wanted, halves, paper.width, lettering.gap)


def _row(
    wanted: list[float], halves: list[float], width: float, gap: float
) -> tuple[float, ...] | None:
    """Middles of labels in one row, each as near as can be to where it is wanted."""
    highest = [width - half for half in halves]
    return spread(wanted, halves, highest, lambda i, j: halves[i] + halves[j] + gap)


def fan(wanted: Sequence[float], places: Sequence[float]) -> float:
    """The height in which leaders run aside: the farther, the higher, so that none lies flat."""
    farthest = max(abs(a - b) for a, b in zip(wanted, places, strict=True))
    return 0.8 if farthest < 0.5 else min(HIGHEST_FAN, max(LEAST_FAN, 0.3 * farthest))


def _said(fold: Fold, lettering: Lettering) -> list[tuple[str, float]]:
    """What is to be known of a bend, a line and its size each; the last is nearest its number."""
    way, angle = "UP" if fold.turn.bend.up else "DOWN", f"{fold.turn.angle}°"
    said = [way, angle] if lettering.parted else [f"{way} {angle}"]
    said += [f"R {fold.turn.radius.figures}", f"BA {fold.allowance.figures}"]
    said += [] if fold.relief is None else [f"Ø {fold.relief.figures}"]
    return [*((words, lettering.size) for words in said), *_nose(fold, lettering)]


def _nose(fold: Fold, lettering: Lettering) -> list[tuple[str, float]]:
    if not fold.nose:
        return []
    leg = f"leg {fold.nose}"
    lines = ["nose on", leg] if lettering.nose_parted else [f"nose on {leg}"]
    return [(words, SMALL) for words in lines]


def _stack(number: int, says: list[tuple[str, float]], x: float, foot: float) -> Iterator[Mark]:
    """A bend's number in a circle that stands on foot, and its words over it."""
    yield Circle(x, foot - BALLOON, BALLOON)
    yield _centred(x, foot - BALLOON, str(number), SIZE, bold=True)
    top = foot - 2 * BALLOON - 0.8
    for line, (words, size) in enumerate(reversed(says)):
        yield _centred(x, top - LINE * (line + 0.5), words, size)


def _centred(
    x: float, y: float, words: str, size: float, bold: bool = False, names: tuple[str, ...] = ()
) -> Words:
    return Words(x, centred_baseline(y, size), words, size, bold, "middle", names)


def _flats(
    told: Blank,
    middles: list[float],
    places: Sequence[float],
    line: float,
    over: float,
    lettering: Lettering,
) -> Iterator[Mark]:
    """The size of each flat, with a leader where it stands off its dimension line."""
    for number, (middle, x, one) in enumerate(zip(middles, places, told.flats, strict=True), 1):
        if line - over >= LEAST_FAN:
            yield Outline(((middle, line), (middle, line - PARTING), (x, over)), FINE)
        named = (f"flat {number}",)
        yield _centred(x, over - LINE / 2, one.figures, lettering.size, names=named)


def _dimensions(told: Blank, paper: Paper, y: float) -> Iterator[Mark]:
    """A dimension line over every flat, with a lead to each of its ends."""
    for start, end in _flat_ends(told):
        a, b = paper.at(start), paper.at(end)
        yield from (Line(x, -0.8, x, y - 0.8, FINE) for x in (a, b))
        if b > a:
            yield Line(a, y, b, y, FINE)
        if b - a >= 5:
            yield from (head((a, y), 1), head((b, y), -1))


@dataclass(frozen=True)
class Ordinate:
    """A line's distance from the first edge, printed in one of the rows, left of its leader."""

    x: float
    row: int
    words: str
    wide: float
    names: tuple[str, ...]

    @property
    def left(self) -> float:
        """From the leader back to where the words begin."""
        return self.wide - BEYOND


def below(told: Blank, paper: Paper, lettering: Lettering) -> Layer | None:
    """The distances from the first edge in rows, and the words that name the edge.

    None where they find no room.
    """
    made = _ordinates(told, paper, lettering.size)
    names = paper.first + 1.5 + max(text_width(word, SMALL) for word in ROWS)
    places = spread(
        [one.x for one in made],
        [names + lettering.gap + one.left for one in made],
        [paper.width - BEYOND] * len(made),
        lambda i, j: _apart(made[i], made[j], lettering.gap),
    )
    if places is None:
        return None
    parting = max(1.5, *(hole(fold, paper) for fold in told.folds))
    top = parting + fan([one.x for one in made], places)
    rows = sorted({one.row for one in made})
    foot = top + LINE * len(rows) + 1
    marks = [*_row_names(rows, paper, top), *_first_edge(paper.first, foot)]
    for one, x in zip(made, places, strict=True):
        end = top + LINE * rows.index(one.row)
        marks.append(Outline(((one.x, 0), (one.x, parting), (x, top), (x, end + 0.4)), FINE))
        y, bold = centred_baseline(end + LINE / 2, lettering.size), ROWS[one.row] == "SIGHT"
        marks.append(Words(x + BEYOND, y, one.words, lettering.size, bold, "end", one.names))
    return Layer(tuple(marks), foot + LINE)


def _ordinates(told: Blank, paper: Paper, size: float) -> list[Ordinate]:
    """All lines from left to right, the blank's far edge in the row of the first tangent lines.

    Within a bend a line farther right stands in a lower row: so no leader passes through words.
    """
    lines: list[tuple[Length, int, str]] = [(told.length, START, "length")]
    for n, fold in enumerate(told.folds, 1):
        lines += [
            (fold.start, START, f"tangent {n} begins"),
            (fold.sight, _sight_row(fold), f"sight line {n}"),
            (fold.end, END, f"tangent {n} ends"),
        ]
    made = [
        Ordinate(
            paper.at(one.millimetres), row, one.figures, text_width(one.figures, size), (name,)
        )
        for one, row, name in lines
    ]
    return sorted(made, key=lambda ordinate: (ordinate.x, ordinate.row))


def _sight_row(fold: Fold) -> int:
    if fold.sight.millimetres < fold.start.millimetres:
        return BEFORE
    return INSIDE if fold.sight.millimetres <= fold.end.millimetres else AFTER


def _apart(one: Ordinate, after: Ordinate, gap: float) -> float:
    """The least distance between two leaders, so that neither touches the other's words."""
    if one.row == after.row:
        return BEYOND + gap + after.left
    return gap + (BEYOND if one.row < after.row else after.left)


def _row_names(rows: list[int], paper: Paper, top: float) -> Iterator[Mark]:
    for line, row in enumerate(rows):
        y = centred_baseline(top + LINE * (line + 0.5), SMALL)
        yield Words(paper.first + 1.5, y, ROWS[row], SMALL, ROWS[row] == "SIGHT")


def _first_edge(x: float, top: float) -> Iterator[Mark]:
    """The first edge drawn on down to its name."""
    y = top + LINE / 2
    yield Line(x, 0, x, y, FIRST)
    yield Line(x, y, x + 2.5, y, FIRST)
    yield Words(x + 3.5, centred_baseline(y, SIZE), "FIRST EDGE: measure from here", SIZE, True)
