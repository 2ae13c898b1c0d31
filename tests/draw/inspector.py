"""A finished PDF in; its words, their boxes and its rectangles out, read by an independent library."""

from __future__ import annotations

import ctypes
import re
from dataclasses import dataclass
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
class Seen:
    """One page as printed."""

    width: float
    height: float
    text: str
    said: tuple[Said, ...]
    boxes: tuple[Rect, ...]


def pages_of(pdf: bytes) -> list[Seen]:
    """Every page of a PDF."""
    document = pypdfium2.PdfDocument(pdf)
    return [_page(page) for page in document]


def _page(page: Any) -> Seen:
    width, height = page.get_size()
    text = page.get_textpage()
    return Seen(
        width * MM, height * MM, text.get_text_range(), tuple(_stretches(text, height)),
        tuple(_rectangles(page, height)),
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


def _rectangles(page: Any, height: float):
    """Places to write are the only closed rectangles with a stroke of 0.25 mm and no fill."""
    for each in page.get_objects(filter=[c.FPDF_PAGEOBJ_PATH]):
        stroke = ctypes.c_float()
        c.FPDFPageObj_GetStrokeWidth(each.raw, stroke)
        if abs(stroke.value * MM - BOX_STROKE) > 0.01:
            continue
        shown = c.FS_MATRIX()
        c.FPDFPageObj_GetMatrix(each.raw, shown)
        points = [
            (shown.a * x + shown.c * y + shown.e, shown.b * x + shown.d * y + shown.f)
            for x, y in (point_of(each.raw, i) for i in range(c.FPDFPath_CountSegments(each.raw)))
        ]
        xs, ys = {round(x, 2) for x, _ in points}, {round(y, 2) for _, y in points}
        if len(points) in (4, 5) and len(xs) == len(ys) == 2:
            x, top = min(p[0] for p in points), max(p[1] for p in points)
            wide, deep = max(p[0] for p in points) - x, top - min(p[1] for p in points)
            yield Rect(x * MM, (height - top) * MM, wide * MM, deep * MM)


def point_of(path: Any, index: int) -> tuple[float, float]:
    """A point of a path of the PDF, in its own units."""
    x, y = ctypes.c_float(), ctypes.c_float()
    c.FPDFPathSegment_GetPoint(c.FPDFPath_GetPathSegment(path, index), x, y)
    return x.value, y.value


def letters(text: str) -> str:
    """Letters and digits alone: what stays of a text however its lines were broken."""
    return re.sub(r"[\W_]+", "", text)
