"""A finished PDF in; its words, their boxes and its rectangles out, read by an independent library."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import pypdfium2
import pypdfium2.raw as c

MM = 25.4 / 72
BOX_STROKE = 0.25


@dataclass(frozen=True)
class Rect:
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


@dataclass(frozen=True)
class Said:
    """A stretch of text in one line, its place and its letter size in points."""

    text: str
    place: Rect
    size: float


@dataclass(frozen=True)
class Stroke:
    """A straight line that is drawn, from one point to another; a curve is several of them."""

    x1: float
    y1: float
    x2: float
    y2: float

    def crosses(self, place: Rect) -> bool:
        """Whether any of it lies inside a rectangle (cut by its sides, Liang and Barsky 1984)."""
        begin, end = 0.0, 1.0
        dx, dy = self.x2 - self.x1, self.y2 - self.y1
        for go, room in (
            (-dx, self.x1 - place.x), (dx, place.x + place.width - self.x1),
            (-dy, self.y1 - place.y), (dy, place.y + place.height - self.y1),
        ):  # fmt: skip
            if go == 0:
                if room <= 0:
                    return False
            elif go < 0:
                begin = max(begin, room / go)
            else:
                end = min(end, room / go)
        return begin < end


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
    paths = [each.raw for each in page.get_objects(filter=[c.FPDF_PAGEOBJ_PATH])]
    return Seen(
        width * MM, height * MM, text.get_text_range(), tuple(_stretches(text, height)),
        tuple(_rectangles(paths, height)), tuple(_strokes(paths, height)),
    )  # fmt: skip


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


def _rectangles(paths: Sequence[Any], height: float) -> Iterator[Rect]:
    """Places to write are the only closed rectangles with a stroke of 0.25 mm and no fill."""
    for path in paths:
        stroke = ctypes.c_float()
        c.FPDFPageObj_GetStrokeWidth(path, stroke)
        if abs(stroke.value * MM - BOX_STROKE) > 0.01:
            continue
        points = [point for point, _ in _points(path)]
        xs, ys = {round(x, 2) for x, _ in points}, {round(y, 2) for _, y in points}
        if len(points) in (4, 5) and len(xs) == len(ys) == 2:
            x, top = min(p[0] for p in points), max(p[1] for p in points)
            wide, deep = max(p[0] for p in points) - x, top - min(p[1] for p in points)
            yield Rect(x * MM, (height - top) * MM, wide * MM, deep * MM)


def _points(path: Any) -> list[tuple[tuple[float, float], int]]:
    """The points of a path where they stand on the page, each with the kind of its segment."""
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
        found.append((at, c.FPDFPathSegment_GetType(segment)))
    return found


def _strokes(paths: Sequence[Any], height: float) -> Iterator[Stroke]:
    """What is drawn as a line: of a path without a stroke, such as a code's modules, nothing."""
    fill, stroked = ctypes.c_int(), ctypes.c_int()
    for path in paths:
        c.FPDFPath_GetDrawMode(path, fill, stroked)
        if stroked.value:
            for (x1, y1), (x2, y2) in _lines_of(_points(path)):
                yield Stroke(x1 * MM, (height - y1) * MM, x2 * MM, (height - y2) * MM)


def _lines_of(
    points: Sequence[tuple[tuple[float, float], int]],
) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """The lines of a path; of a curve the four chords between points of it."""
    begin = at = (0.0, 0.0)
    held: list[tuple[float, float]] = []
    for point, kind in points:
        if kind == c.FPDF_SEGMENT_MOVETO:
            begin = at = point
        elif kind == c.FPDF_SEGMENT_LINETO:
            yield at, point
            at = point
        elif len(held) < 2:
            held.append(point)
        else:
            curve = [_on_curve(at, *held, point, part / 4) for part in range(5)]
            yield from pairwise(curve)
            at, held = point, []
    if len(points) > 2:
        yield at, begin


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
