"""Entries and answers as the sheet's rows give them, in; a small chart of them, out.

The answers are joined by straight lines to show how they run. The chart is not read between its
points: the table above it has the numbers, and its note says so. Both ends are bars that say STOP.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from generator.figures.chart_rows import Told, told
from generator.figures.lettering import centred_baseline, text_width, wrapped
from generator.figures.picture import Circle, Line, Mark, Outline, Picture, Point, Words
from generator.figures.spreading import spread
from generator.figures.ticks import outward, steps_from, tick_text, ticks
from generator.findings import Refusal

SIZE, SMALL = 10.5, 9.0
LINE = 4.8
HEIGHT = 34.0
FINE, AXIS, CURVE, BAR = 0.25, 0.35, 0.5, 1.0
TICK = 1.6
POINT, NOMINAL = 0.9, 1.9  # radius of a point, and of the ring round the nominal one
OVER = 2.8  # from the plot up to the words over it, clear of the highest tick
LABELS = 38.0  # the widest that words beside a curve's end may be
LEADER = 6.0
APART = 1.6  # between two words in a row
NOTE = "The table has the numbers: take none between two points."


@dataclass(frozen=True)
class End:
    """Words at the right end, and the answer that they belong to."""

    value: Decimal
    lines: tuple[str, ...]

    @property
    def half(self) -> float:
        return LINE * len(self.lines) / 2


@dataclass(frozen=True)
class Plot:
    """Where the plot lies in the picture, and the answers at its lower and upper edge."""

    told: Told
    left: float
    right: float
    top: float
    bottom: float
    low: Decimal
    high: Decimal
    step: Decimal

    def x(self, entry: Decimal) -> float:
        first, last = self.told.entries[0], self.told.entries[-1]
        return self.left + (self.right - self.left) * float((entry - first) / (last - first))

    def y(self, answer: Decimal) -> float:
        part = float((answer - self.low) / (self.high - self.low))
        return self.bottom - (self.bottom - self.top) * part


def chart(rows: Mapping[str, str], width: float) -> Picture:
    """The chart of 2 to 24 entries and at most 5 curves, width in millimetres.

    Refuses rows it cannot plot, and words that find no room in the width.
    """
    asked = told(rows)
    ends = _ends(asked)
    title = wrapped(asked.up, SIZE, width)
    plot = _plot(asked, ends, LINE * len(title) + 1.0, width)
    marks: list[Mark] = [Words(0, LINE * i, t, SIZE, True) for i, t in enumerate(title, 1)]
    marks += [*_axes(plot), *_stops(plot), *_verdict_marks(plot), *_nominal(plot)]
    marks += [*_limits(plot), *_curves(plot), *_end_words(plot, ends)]
    y = plot.bottom + TICK + 2 * LINE
    marks.append(Words((plot.left + plot.right) / 2, y, asked.across, SIZE, True, "middle"))
    note = wrapped(NOTE, SMALL, width)
    marks += [Words(0, y + 1.2 + 4.2 * i, line, SMALL) for i, line in enumerate(note, 1)]
    _must_fit(plot, width)
    return Picture(width, y + 1.2 + 4.2 * len(note) + 1.5, tuple(marks))


def _ends(asked: Told) -> tuple[End, ...]:
    """The names of the curves and the limits, from the highest down."""
    named = zip(asked.names, asked.curves, strict=False)
    ends = [End(curve[-1], wrapped(name, SIZE, LABELS)) for name, curve in named]
    ends += [End(each.value, wrapped(each.words, SIZE, LABELS)) for each in asked.limits]
    return tuple(sorted(ends, key=lambda end: -end.value))


def _plot(asked: Told, ends: Sequence[End], top: float, width: float) -> Plot:
    low, high, step = _upward(asked)
    beside = max(text_width(tick_text(t, step), SIZE) for t in ticks(low, high, step))
    stop = text_width("STOP", SIZE) / 2
    words = max((text_width(t, SIZE) for end in ends for t in end.lines), default=0.0)
    right = width - (max(stop, LEADER + words) if ends else stop)
    left = max(beside + TICK + 1.5, stop)
    rows = 1 + bool(asked.verdicts) + _nominal_has_a_row(asked, left, right)
    upper = top + LINE * rows + OVER
    needed = sum(2 * end.half + 0.6 for end in ends)
    return Plot(asked, left, right, upper, upper + max(HEIGHT, needed), low, high, step)


def _upward(asked: Told) -> tuple[Decimal, Decimal, Decimal]:
    """The lower and the upper end of the axis, and its step: round numbers all."""
    low, high = min(asked.values), max(asked.values)
    if low == high:  # flat: as much room above as below
        low, high = low - 3 * asked.finest, high + 3 * asked.finest
    step = next(steps_from(high - low, 5))
    lowest, highest = outward(low, high, step)
    edges = {each.value for each in asked.limits}  # a limit lies on no axis: there it is not seen
    return lowest - step * (lowest in edges), highest + step * (highest in edges), step


def _across_ticks(plot: Plot) -> tuple[Decimal, tuple[Decimal, ...]]:
    """The finest round step whose numbers stand clear of each other, and its ticks."""
    first, last = plot.told.entries[0], plot.told.entries[-1]
    for step in steps_from(last - first, 8):
        found = ticks(first, last, step)
        wide = max((text_width(tick_text(t, step), SIZE) for t in found), default=0.0)
        pitch = (plot.right - plot.left) * float(step / (last - first))
        if wide + APART <= pitch or len(found) < 3:
            return step, found
    raise AssertionError("steps grow without end")


def _axes(plot: Plot) -> Iterator[Mark]:
    """Both axes, their ticks and the round numbers beside them."""
    yield Line(plot.left, plot.bottom, plot.right, plot.bottom, AXIS)
    for value in ticks(plot.low, plot.high, plot.step):
        y = plot.y(value)
        yield Line(plot.left - TICK, y, plot.left, y, AXIS)
        at = (plot.left - TICK - 1.0, centred_baseline(y, SIZE))
        yield Words(*at, tick_text(value, plot.step), SIZE, False, "end")
    step, found = _across_ticks(plot)
    for value in found:
        x = plot.x(value)
        yield Line(x, plot.bottom, x, plot.bottom + TICK, AXIS)
        y = plot.bottom + TICK + LINE - 1.0
        yield Words(x, y, tick_text(value, step), SIZE, False, "middle")


def _stops(plot: Plot) -> Iterator[Mark]:
    """A bar at each end, and over it the word."""
    for x in (plot.left, plot.right):
        yield Line(x, plot.top, x, plot.bottom, BAR)
        yield Words(x, plot.top - OVER, "STOP", SIZE, True, "middle")


def _nominal_has_a_row(asked: Told, left: float, right: float) -> bool:
    """Whether the word stands over the others: where it would touch one of them."""
    if asked.nominal is None:
        return False
    entry, first, last = asked.entries[asked.nominal], asked.entries[0], asked.entries[-1]
    x = left + (right - left) * float((entry - first) / (last - first))
    clear = (text_width("NOMINAL", SIZE) + text_width("STOP", SIZE)) / 2 + APART
    return min(x - left, right - x) < clear or bool(asked.verdicts)


def _nominal(plot: Plot) -> Iterator[Mark]:
    """The dashed line at the nominal entry, its word, and a ring round each nominal answer."""
    asked = plot.told
    if asked.nominal is None:
        return
    x, row = plot.x(asked.entries[asked.nominal]), 0
    if _nominal_has_a_row(asked, plot.left, plot.right):
        row = 1 + bool(asked.verdicts)
    half = text_width("NOMINAL", SIZE) / 2
    y, most = plot.top - OVER - LINE * row, plot.right + text_width("STOP", SIZE) / 2
    yield Words(min(max(x, half), most - half), y, "NOMINAL", SIZE, True, "middle")
    yield from _dashed((x, plot.top), (x, plot.bottom))
    for curve in asked.curves:
        yield Circle(x, plot.y(curve[asked.nominal]), NOMINAL, AXIS)


def _dashed(start: Point, end: Point, dash: float = 1.6) -> Iterator[Line]:
    """A broken line, upright or level, of dashes and gaps of one length."""
    (ax, ay), (bx, by) = start, end
    length = max(abs(bx - ax), abs(by - ay))
    at = 0.0
    while at < length:
        a, b = at / length, min(at + dash, length) / length
        yield Line(
            ax + a * (bx - ax), ay + a * (by - ay), ax + b * (bx - ax), ay + b * (by - ay), FINE
        )
        at += 2 * dash


def _limits(plot: Plot) -> Iterator[Mark]:
    for limit in plot.told.limits:
        y = plot.y(limit.value)
        yield from _dashed((plot.left, y), (plot.right, y), 3.0)


def _curves(plot: Plot) -> Iterator[Mark]:
    for curve in plot.told.curves:
        points = [
            (plot.x(entry), plot.y(answer))
            for entry, answer in zip(plot.told.entries, curve, strict=True)
        ]
        yield Outline(tuple(points), CURVE)
        yield from (Circle(x, y, POINT, AXIS) for x, y in points)


def _end_words(plot: Plot, ends: Sequence[End]) -> Iterator[Mark]:
    """Beside the right bar, from the top down: each name with a leader from its curve's end."""
    if not ends:
        return
    places = spread(
        [plot.y(end.value) for end in ends],
        [plot.top + end.half for end in ends],
        [plot.bottom - end.half for end in ends],
        lambda i, j: sum(2 * e.half for e in ends[i + 1 : j]) + ends[i].half + ends[j].half + 0.6,
    )
    assert places is not None  # the plot is as high as they need
    x = plot.right + LEADER
    for end, y in zip(ends, places, strict=True):
        yield Line(plot.right + BAR, plot.y(end.value), x - 0.8, y, FINE)
        for i, line in enumerate(end.lines):
            middle = y - end.half + LINE * (i + 0.5)
            yield Words(x, centred_baseline(middle, SIZE), line, SIZE)


def _verdict_marks(plot: Plot) -> Iterator[Mark]:
    """Over the entries of one verdict a line from the first of them to the last, and the word."""
    spans = _spans(plot)
    if not spans:
        return
    y = plot.top - OVER - LINE - 1.2
    halves = [text_width(word, SIZE) / 2 for word, _, _ in spans]
    places = spread(
        [(a + b) / 2 for _, a, b in spans],
        halves,
        [plot.right + text_width("STOP", SIZE) / 2 - half for half in halves],
        lambda i, j: halves[i] + halves[j] + APART,
    )
    if places is None:
        raise Refusal("figure", f"{len(spans)} verdicts find no room over a chart", "no chart here")
    for (word, start, end), x in zip(spans, places, strict=True):
        yield Words(x, y, word, SIZE, True, "middle")
        yield Outline(((start, y + 2.0), (start, y + 1.2), (end, y + 1.2), (end, y + 2.0)), AXIS)


def _spans(plot: Plot) -> list[tuple[str, float, float]]:
    """Each run of entries with one verdict: the word, and where it begins and ends on paper."""
    pairs = zip(plot.told.verdicts, plot.told.entries, strict=False)
    found = []
    for word, run in groupby(pairs, key=lambda pair: pair[0]):
        at = [plot.x(entry) for _, entry in run]
        found.append((word, at[0] - 0.6, at[-1] + 0.6))
    return found


def _must_fit(plot: Plot, width: float) -> None:
    if plot.right - plot.left < 30.0:
        wrong = f"the words of a chart leave {plot.right - plot.left:.0f} mm of {width:.0f} for it"
        raise Refusal("figure", wrong, "shorter words, or a wider picture")
    if text_width(plot.told.across, SIZE) > width:
        raise Refusal("figure", f"{plot.told.across!r} does not fit", "shorter words")
