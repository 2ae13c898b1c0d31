"""A process and a size of paper in; its full-size pages as finished PDFs, their strokes and a picture
of each page, out.

Where a mark stands is looked up in the PDF's own strokes by an independent library; what it
measures is then taken from pixels at 600 dpi. The picture has whole pixels, so a millimetre is
the page's millimetres over the picture's pixels, for each axis apart.
"""

from __future__ import annotations

import ctypes
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

import numpy as np
import pypdfium2
import pypdfium2.raw as c

from generator.compose import SheetFacts
from generator.composing.kinds import FULL_SIZE_PAGES
from generator.draw import Drawn, draw_sheet
from generator.workshop import chosen, open_shop, sheets_of
from tests.draw.inspector import MM, Seen, pages_of, point_of

SHOP = open_shop(Path(__file__).parents[2])
RING, BRACKET = "T6-P-0310", "T6-P-0120"
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
BOTH = [(number, paper) for number in (RING, BRACKET) for paper in PAPERS]
DPI = 600
PITCH_CIRCLE, HOLES = 640.0, 24  # GA-6-310, in the process
SEEN_WITHIN, BAR_WITHIN = 0.1, 0.05  # mm


@cache
def sheets(number: str) -> Mapping[str, str]:
    facts = SheetFacts("A-0001", ("0001",), "2026-11-25")
    made, findings = sheets_of(SHOP, chosen(SHOP, [number])[0], facts)
    assert made is not None, findings
    return made.sheets


@cache
def printed(number: str, paper: str) -> tuple[Drawn, list[Seen]]:
    text = sheets(number)[FULL_SIZE_PAGES]
    assert "| paper | A4 |" in text
    drawn = draw_sheet(text.replace("| paper | A4 |", f"| paper | {paper} |"))
    return drawn, pages_of(drawn.pdf)


def tile_of(page: Seen) -> str:
    """The name of the tile on a page; "" on the key map and on the last page."""
    found = re.search(r"tile ([A-Z]\d+)\b", page.text)
    return found[1] if found else ""


def tiles(number: str, paper: str) -> dict[str, int]:
    """The tiles and the index of their page."""
    return {tile_of(page): i for i, page in enumerate(printed(number, paper)[1]) if tile_of(page)}


# --- strokes and pixels ---------------------------------------------------------------------


@dataclass(frozen=True)
class Straight:
    """A single straight stroke: millimetres from the top left corner, and its weight."""

    x1: float
    y1: float
    x2: float
    y2: float
    weight: float

    @property
    def length(self) -> float:
        return math.hypot(self.x2 - self.x1, self.y2 - self.y1)

    @property
    def middle(self) -> tuple[float, float]:
        return (self.x1 + self.x2) / 2, (self.y1 + self.y2) / 2


@cache
def straights(number: str, paper: str, page: int) -> tuple[Straight, ...]:
    document = pypdfium2.PdfDocument(printed(number, paper)[0].pdf)
    sheet = document[page]
    height = sheet.get_height()
    found = []
    for each in sheet.get_objects(filter=[c.FPDF_PAGEOBJ_PATH]):
        if c.FPDFPath_CountSegments(each.raw) != 2:
            continue
        (x1, y1), (x2, y2) = (point_of(each.raw, i) for i in range(2))
        weight = ctypes.c_float()
        c.FPDFPageObj_GetStrokeWidth(each.raw, weight)
        ends = (x1 * MM, (height - y1) * MM, x2 * MM, (height - y2) * MM)
        found.append(Straight(*ends, weight.value * MM))
    return tuple(found)


class Picture:
    """A page in pixels; black is 1."""

    def __init__(self, pdf: bytes, page: int) -> None:
        sheet = pypdfium2.PdfDocument(pdf)[page]
        grey = sheet.render(scale=DPI / 72, grayscale=True).to_numpy()
        self.black = 1.0 - np.squeeze(grey).astype(np.float32) / 255.0
        rows, columns = self.black.shape
        self.across = sheet.get_width() * MM / columns
        self.down = sheet.get_height() * MM / rows

    def middle(self, x1: float, y1: float, x2: float, y2: float) -> tuple[float, float]:
        """The middle of what is black in a rectangle, in mm; black must be there."""
        left, right = round(x1 / self.across), round(x2 / self.across)
        top, low = round(y1 / self.down), round(y2 / self.down)
        part = self.black[top:low, left:right]
        assert part.sum() > 4, (x1, y1, x2, y2)
        rows, columns = np.indices(part.shape)
        x = float((part * columns).sum() / part.sum()) + left + 0.5
        y = float((part * rows).sum() / part.sum()) + top + 0.5
        return x * self.across, y * self.down

    def cross(self, x: float, y: float) -> tuple[float, float]:
        """The middle of a cross near a place: what is black within 3 mm of it, in a disc."""
        for _ in range(3):
            reach = 3.0
            left, top = round((x - reach) / self.across), round((y - reach) / self.down)
            right, low = round((x + reach) / self.across), round((y + reach) / self.down)
            part = self.black[top:low, left:right]
            rows, columns = np.indices(part.shape)
            xs, ys = (columns + left + 0.5) * self.across, (rows + top + 0.5) * self.down
            part = part * (np.hypot(xs - x, ys - y) < reach)
            assert part.sum() > 50, (x, y)
            x, y = float((part * xs).sum() / part.sum()), float((part * ys).sum() / part.sum())
        return x, y

    def arms(self, x: float, y: float) -> tuple[float, float]:
        """The middle of a join mark: where its arms stand outside its ring."""
        ups = [
            self.middle(x - 0.8, y + a, x + 0.8, y + b)[0] for a, b in ((-2.9, -2.5), (2.5, 2.9))
        ]
        sides = [
            self.middle(x + a, y - 0.8, x + b, y + 0.8)[1] for a, b in ((-2.9, -2.5), (2.5, 2.9))
        ]
        return sum(ups) / 2, sum(sides) / 2


@lru_cache(maxsize=3)  # a page is 130 MB
def picture(number: str, paper: str, page: int) -> Picture:
    return Picture(printed(number, paper)[0].pdf, page)
