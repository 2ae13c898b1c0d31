"""A finished PDF in; its words, their boxes and its rectangles out, read by an independent library."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, NamedTuple

import pypdfium2
import pypdfium2.raw as c

MM = 25.4 / 72
BOX_STROKE = 0.25


class Rect(NamedTuple):
    """Millimetres from the top left corner."""

    x: float
    y: float
    width: float
    height: float

    def within(self, aside: float, down: float) -> Rect | None:
        """The rectangle less so much at every side; none where nothing is left."""
        wide, deep = self.width - 2 * aside, self.height - 2 * down
        return Rect(self.x + aside, self.y + down, wide, deep) if wide > 0 < deep else None

    def overlap(self, other: Rect) -> float:
        """The area that two rectangles share, as a part of the smaller."""
        across = min(self.x + self.width, other.x + other.width) - max(self.x, other.x)
        down = min(self.y + self.height, other.y + other.height) - max(self.y, other.y)
        if across <= 0 or down <= 0:
            return 0.0
        return across * down / max(1e-9, min(self.width * self.height, other.width * other.height))


class Said(NamedTuple):
    """A stretch of text in one line, its place and its letter size in points."""

    text: str
    place: Rect
    size: float


class Stroke(NamedTuple):
    """A straight line that is drawn, from one point to another; a curve is several of them."""

    x1: float
    y1: float
    x2: float
    y2: float

    def crosses(self, place: Rect) -> bool:
        """Whether any of it lies inside a rectangle."""
        return self.inside(place) is not None

    def inside(self, place: Rect) -> Stroke | None:
        """What of it lies inside a rectangle, cut by its sides (Liang and Barsky, 1984)."""
        begin, end = 0.0, 1.0
        dx, dy = self.x2 - self.x1, self.y2 - self.y1
        for go, room in (
            (-dx, self.x1 - place.x), (dx, place.x + place.width - self.x1),
            (-dy, self.y1 - place.y), (dy, place.y + place.height - self.y1),
        ):  # fmt: skip
            if go == 0:
                if room <= 0:
                    return None
            elif go < 0:
                begin = max(begin, room / go)
            else:
                end = min(end, room / go)
        if begin >= end:
            return None
        return Stroke(
            self.x1 + begin * dx, self.y1 + begin * dy, self.x1 + end * dx, self.y1 + end * dy
        )


@dataclass(frozen=True)
class Seen:
    """One page as printed."""

    width: float
    height: float
    text: str
    said: tuple[Said, ...]
    boxes: tuple[Rect, ...]
    strokes: tuple[Stroke, ...] = ()


def pages_of(pdf: bytes) -> list[Seen]:
    """Every page of a PDF."""
    document = pypdfium2.PdfDocument(pdf)
    return [_page(page) for page in document]


def _page(page: Any) -> Seen:
    width, height = page.get_size()
    text = page.get_textpage()
    drawn = [*_drawn(each.raw for each in page.get_objects(filter=[c.FPDF_PAGEOBJ_PATH]))]
    return Seen(
        width * MM, height * MM, text.get_text_range(), tuple(_stretches(text, height)),
        tuple(_rectangles(drawn, height)), tuple(_strokes(drawn, height)),
    )  # fmt: skip


def _drawn(paths: Iterable[Any]) -> Iterator[tuple[Any, list[Knot]]]:
    """The paths that are drawn as lines, each with its points: of a path that is only filled, such
    as a code's modules, nothing."""
    fill, stroked = ctypes.c_int(), ctypes.c_int()
    for path in paths:
        c.FPDFPath_GetDrawMode(path, fill, stroked)
        if stroked.value:
            yield path, _points(path)


def _stretches(text: Any, height: float):
    for n in range(text.count_rects()):
        left, bottom, right, top = text.get_rect(n)
        words = text.get_text_bounded(left, bottom, right, top).strip()
        if not words:
            continue
        middle_x, middle_y = (left + right) / 2, (bottom + top) / 2
        at = c.FPDFText_GetCharIndexAtPos(text.raw, middle_x, middle_y, 6, 6)
        size = c.FPDFText_GetFontSize(text.raw, at) if at >= 0 else 0.0
        place = Rect(left * MM, (height - top) * MM, (right - left) * MM, (top - bottom) * MM)
        yield Said(words, place, size)


def _rectangles(drawn: Sequence[tuple[Any, list[Knot]]], height: float) -> Iterator[Rect]:
    """Places to write are the only closed rectangles with a stroke of 0.25 mm."""
    stroke = ctypes.c_float()
    for path, knots in drawn:
        c.FPDFPageObj_GetStrokeWidth(path, stroke)
        if abs(stroke.value * MM - BOX_STROKE) > 0.01:
            continue
        points = [knot.at for knot in knots]
        xs, ys = {round(x, 2) for x, _ in points}, {round(y, 2) for _, y in points}
        if len(points) in (4, 5) and len(xs) == len(ys) == 2:
            x, top = min(p[0] for p in points), max(p[1] for p in points)
            wide, deep = max(p[0] for p in points) - x, top - min(p[1] for p in points)
            yield Rect(x * MM, (height - top) * MM, wide * MM, deep * MM)


class Knot(NamedTuple):
    """A point of a path where it stands on the page: the kind of segment that ends there, and
    whether a line goes back from it to where the path began."""

    at: tuple[float, float]
    kind: int
    closes: bool


def _points(path: Any) -> list[Knot]:
    """The points of a path."""
    shown = c.FS_MATRIX()
    c.FPDFPageObj_GetMatrix(path, shown)
    x, y, found = ctypes.c_float(), ctypes.c_float(), []
    for i in range(c.FPDFPath_CountSegments(path)):
        segment = c.FPDFPath_GetPathSegment(path, i)
        c.FPDFPathSegment_GetPoint(segment, x, y)
        at = (
            shown.a * x.value + shown.c * y.value + shown.e,
            shown.b * x.value + shown.d * y.value + shown.f,
        )
        kind, closes = c.FPDFPathSegment_GetType(segment), c.FPDFPathSegment_GetClose(segment)
        found.append(Knot(at, kind, bool(closes)))
    return found


def _strokes(drawn: Sequence[tuple[Any, list[Knot]]], height: float) -> Iterator[Stroke]:
    """What is seen of lines: of a tile of a drawing what its edge leaves."""
    for path, knots in drawn:
        edge = _edge(path, height)
        for (x1, y1), (x2, y2) in _lines_of(knots):
            stroke = Stroke(x1 * MM, (height - y1) * MM, x2 * MM, (height - y2) * MM)
            seen = stroke.inside(edge) if edge else stroke
            if seen:
                yield seen


def _edge(path: Any, height: float) -> Rect | None:
    """The rectangle outside of which nothing of a path is drawn; none where all of it is."""
    clip = c.FPDFPageObj_GetClipPath(path)
    if not clip or c.FPDFClipPath_CountPaths(clip) < 1:
        return None
    x, y, found = ctypes.c_float(), ctypes.c_float(), []
    for i in range(c.FPDFClipPath_CountPathSegments(clip, 0)):
        c.FPDFPathSegment_GetPoint(c.FPDFClipPath_GetPathSegment(clip, 0, i), x, y)
        found.append((x.value * MM, (height - y.value) * MM))
    left, top = (min(point[i] for point in found) for i in (0, 1))
    right, bottom = (max(point[i] for point in found) for i in (0, 1))
    return Rect(left, top, right - left, bottom - top)


def _lines_of(
    knots: Sequence[Knot],
) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """The lines of a path; of a curve the four chords between points of it."""
    begin = at = (0.0, 0.0)
    held: list[tuple[float, float]] = []
    for knot in knots:
        if knot.kind == c.FPDF_SEGMENT_MOVETO:
            begin = knot.at
        elif knot.kind == c.FPDF_SEGMENT_LINETO:
            yield at, knot.at
        elif len(held) < 2:
            held.append(knot.at)
            continue
        else:
            yield from pairwise([_on_curve(at, *held, knot.at, part / 4) for part in range(5)])
            held = []
        at = knot.at
        if knot.closes:
            yield at, begin
            at = begin


def _on_curve(
    a: tuple[float, float], b: tuple[float, float], d: tuple[float, float],
    e: tuple[float, float], part: float,
) -> tuple[float, float]:  # fmt: skip
    """A point of a cubic curve by its four points."""
    rest = 1 - part
    weights = (rest**3, 3 * rest**2 * part, 3 * rest * part**2, part**3)
    x, y = (sum(w * p[i] for w, p in zip(weights, (a, b, d, e), strict=True)) for i in (0, 1))
    return x, y


def point_of(path: Any, index: int) -> tuple[float, float]:
    """A point of a path of the PDF, in its own units."""
    x, y = ctypes.c_float(), ctypes.c_float()
    c.FPDFPathSegment_GetPoint(c.FPDFPath_GetPathSegment(path, index), x, y)
    return x.value, y.value


def letters(text: str) -> str:
    """Letters and digits alone: what stays of a text however its lines were broken."""
    return re.sub(r"[\W_]+", "", text)
