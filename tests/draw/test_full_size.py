"""Full-size pages as finished PDFs: bars, holes, seams and outlines measured on a picture of the page.

Where a mark stands is looked up in the PDF's own strokes by an independent library; what it
measures is then taken from pixels at 600 dpi. The picture has whole pixels, so a millimetre is
the page's millimetres over the picture's pixels, for each axis apart.
"""

from __future__ import annotations

import ctypes
import math
import re
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as c
import pytest
import zxingcpp
from PIL import Image

from generator.compose import SheetFacts
from generator.composing.kinds import FULL_SIZE_PAGES
from generator.draw import Drawn, draw_sheet, lay_out
from generator.workshop import chosen, open_shop, sheets_of
from tests.draw.inspector import MM, Seen, pages_of

SHOP = open_shop(Path(__file__).parents[2])
RING, BRACKET = "T6-P-0310", "T6-P-0120"
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
BOTH = [(number, paper) for number in (RING, BRACKET) for paper in PAPERS]
DPI = 600
PITCH_CIRCLE, HOLES = 640.0, 24  # GA-6-310, in the process
SEEN_WITHIN, BAR_WITHIN = 0.1, 0.05  # mm


@cache
def sheets(number: str) -> Mapping[str, str]:
    facts = SheetFacts("A-0001", ("0001",), "25 NOV 2026")
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
        (x1, y1), (x2, y2) = (_point(each.raw, i) for i in range(2))
        weight = ctypes.c_float()
        c.FPDFPageObj_GetStrokeWidth(each.raw, weight)
        ends = (x1 * MM, (height - y1) * MM, x2 * MM, (height - y2) * MM)
        found.append(Straight(*ends, weight.value * MM))
    return tuple(found)


def _point(path: Any, index: int) -> tuple[float, float]:
    x, y = ctypes.c_float(), ctypes.c_float()
    c.FPDFPathSegment_GetPoint(c.FPDFPath_GetPathSegment(path, index), x, y)
    return x.value, y.value


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


@cache
def picture(number: str, paper: str, page: int) -> Picture:
    return Picture(printed(number, paper)[0].pdf, page)


# --- bars -----------------------------------------------------------------------------------


def bars(number: str, paper: str, page: int) -> tuple[Straight, Straight]:
    """The bar across and the bar down a page."""
    found = straights(number, paper, page)
    (across,) = [s for s in found if abs(s.length - 150) < 1 and s.y1 == s.y2]
    (down,) = [s for s in found if abs(s.length - 250) < 1 and s.x1 == s.x2]
    return across, down


@pytest.mark.parametrize(("number", "paper"), BOTH)
def test_every_tile_has_both_bars(number: str, paper: str) -> None:
    for page in tiles(number, paper).values():
        across, down = bars(number, paper, page)
        assert across.x1 >= 25.0 - 0.01
        # Right of the codes, whose squares end 20 mm from the edge, and of holes of ISO 838 (6 mm,
        # 12 mm from the edge, so they end at 15) and of three-hole punches (8 mm at 12.7 mm: 16.7).
        assert down.x1 - 1.5 >= 20.2
        high = PAPERS[paper][1]
        assert 6.0 < min(down.y1, down.y2) < max(down.y1, down.y2) < high - 6.0


@pytest.mark.parametrize(("number", "paper"), BOTH)
def test_bars_measure_what_they_say(number: str, paper: str) -> None:
    first, *_, last = (*tiles(number, paper).values(),) * 2
    for page in {first, last}:
        across, down = bars(number, paper, page)
        seen = picture(number, paper, page)
        y, ends = across.y1, sorted((across.x1, across.x2))
        found = [seen.middle(x - 0.8, y + 0.5, x + 0.8, y + 1.3)[0] for x in ends]
        assert abs(found[1] - found[0] - 150.0) < BAR_WITHIN
        x, ends = down.x1, sorted((down.y1, down.y2))
        found = [seen.middle(x + 0.5, y - 0.8, x + 1.3, y + 0.8)[1] for y in ends]
        assert abs(found[1] - found[0] - 250.0) < BAR_WITHIN


@pytest.mark.parametrize(("number", "paper"), BOTH)
def test_boxes_for_both_values_on_every_tile_and_the_signature_on_the_first(
    number: str, paper: str
) -> None:
    drawn, _ = printed(number, paper)
    first, *others = tiles(number, paper).values()
    for page in (first, *others):
        meanings = {box.meaning for box in drawn.boxes if box.page == page + 1}
        assert {"bar across, mm", "bar down, mm"} <= meanings
        signs = {"instrument no.", "date", "bars of all tiles measured"}
        assert meanings & signs == (signs if page == first else set())


@pytest.mark.parametrize(("number", "paper"), BOTH)
def test_boxes_in_the_pdf_are_the_boxes_on_the_map(number: str, paper: str) -> None:
    drawn, pages = printed(number, paper)
    for index, page in enumerate(pages, start=1):
        mapped = sorted((b.y, b.x, b.width, b.height) for b in drawn.boxes if b.page == index)
        found = sorted((b.y, b.x, b.width, b.height) for b in page.boxes)
        assert len(mapped) == len(found)
        for one, other in zip(mapped, found, strict=True):
            assert all(abs(a - b) < 0.02 for a, b in zip(one, other, strict=True))


@pytest.mark.parametrize(("number", "paper"), BOTH)
def test_every_tile_says_what_is_to_be_known(number: str, paper: str) -> None:
    means = {
        RING: ["hole centres", "looking aft"],
        BRACKET: ["cut line", "grain", "UP", "marked side"],
    }
    for page in printed(number, paper)[1]:
        if tile_of(page):
            words = " ".join(page.text.split())
            for each in (*means[number], "hand: none", "Print at 100 %: no fit to page", number):
                assert each in words
            assert "150 ± 0.3 mm across and 250 ± 0.5 mm down" in words


@pytest.mark.parametrize("number", [RING, BRACKET])
def test_the_printer_is_told_not_to_scale(number: str) -> None:
    """ISO 32000-1 12.2: the viewer preference PrintScaling None; read by another library."""
    pack = lay_out(sheets(number))
    for pdf in (pack.sheet(FULL_SIZE_PAGES).pdf, pack.whole()):
        document = pypdfium2.PdfDocument(pdf)
        assert not c.FPDF_VIEWERREF_GetPrintScaling(document.raw)


def test_codes_beside_the_bar_are_read() -> None:
    """On Letter the bar of 250 mm is longer than the way between the codes and runs beside them."""
    drawn, _ = printed(RING, "Letter")
    page = next(iter(tiles(RING, "Letter").values()))
    black = picture(RING, "Letter", page).black
    image = Image.fromarray((255 - 255 * black).astype(np.uint8)).resize((1275, 1650))
    found = {each.text for each in zxingcpp.read_barcodes(image)}
    assert found == {code.meaning for code in drawn.codes if code.page == page + 1}


# --- the tiled drilling map -----------------------------------------------------------------


def crosses(
    number: str, paper: str, page: int, arm: float, weight: float
) -> list[tuple[float, float]]:
    """The middles of all crosses of two strokes of that length."""
    middles: dict[tuple[float, float], int] = defaultdict(int)
    for each in straights(number, paper, page):
        if abs(each.length - 2 * arm) < 0.01 and abs(each.weight - weight) < 0.01:
            middles[round(each.middle[0], 1), round(each.middle[1], 1)] += 1
    return [place for place, count in middles.items() if count >= 2]


@cache
def holes(paper: str, tile: str) -> dict[int, tuple[float, float]]:
    """Where the holes of a tile stand on its page, by their numbers, measured from pixels: those
    that lie 3 mm or more inside the window. The number stands 9 mm from its hole."""
    page = tiles(RING, paper)[tile]
    window = _window(paper, page)
    words = [s for s in printed(RING, paper)[1][page].said if re.fullmatch(r"\d{1,2}", s.text)]
    found = {}
    for x, y in crosses(RING, paper, page, 5.0, 0.3):
        inside = window[0] + 3 < x < window[2] - 3 and window[1] + 3 < y < window[3] - 3
        near = [s for s in words if abs(math.dist(_centre(s), (x, y)) - 9.0) < 0.7]
        if inside and near:
            (number,) = {int(each.text) for each in near}
            found[number] = picture(RING, paper, page).cross(x, y)
    return found


def _centre(said: Any) -> tuple[float, float]:
    place = said.place
    return place.x + place.width / 2, place.y + place.height / 2


def _window(paper: str, page: int) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of a tile's window: between the words over it and under it."""
    seen = printed(RING, paper)[1][page]
    top = max(s.place.y + s.place.height for s in seen.said if "lay join marks" in s.text)
    low = min(s.place.y for s in seen.said if "Do not cut" in s.text)
    return 25.0, top, PAPERS[paper][0] - 10.0, low


@cache
def join_marks(paper: str, tile: str) -> dict[str, tuple[float, float]]:
    """Where the join marks of a tile stand on its page, measured from pixels."""
    page = tiles(RING, paper)[tile]
    words = [s for s in printed(RING, paper)[1][page].said if re.fullmatch(r"J\d+", s.text)]
    found = {}
    for x, y in crosses(RING, paper, page, 3.0, 0.18):
        near = min(words, key=lambda s: math.dist(_centre(s), (x, y)))
        found[near.text] = picture(RING, paper, page).arms(x, y)
    assert len(found) == len(words)
    return found


def chord(one: int, other: int) -> float:
    """From hole to hole in a straight line: 2 R sin of half the angle between them."""
    return PITCH_CIRCLE * math.sin(math.pi * abs(one - other) / HOLES)


@pytest.mark.parametrize("paper", PAPERS)
def test_every_hole_is_on_a_tile(paper: str) -> None:
    found = {number for tile in tiles(RING, paper) for number in holes(paper, tile)}
    assert found == set(range(1, HOLES + 1))


@pytest.mark.parametrize("paper", PAPERS)
def test_holes_of_a_tile_are_as_far_apart_as_the_pitch_circle_says(paper: str) -> None:
    assert abs(chord(1, 2) - 83.54) < 0.005  # the chord that the process gives for the bench
    measured = 0
    for tile in tiles(RING, paper):
        for (one, a), (other, b) in pairwise(holes(paper, tile).items()):
            assert abs(math.dist(a, b) - chord(one, other)) < SEEN_WITHIN
            measured += 1
    assert measured >= 10


@pytest.mark.parametrize("paper", PAPERS)
def test_a_seam_closes(paper: str) -> None:
    """What two tiles share lies on both in the same way: each hole as far from each join mark."""
    shared = 0
    names = list(tiles(RING, paper))
    for i, one in enumerate(names):
        for other in names[i + 1 :]:
            marks = set(join_marks(paper, one)) & set(join_marks(paper, other))
            for hole in set(holes(paper, one)) & set(holes(paper, other)):
                for mark in marks:
                    (x1, y1), (u1, v1) = join_marks(paper, one)[mark], holes(paper, one)[hole]
                    (x2, y2), (u2, v2) = join_marks(paper, other)[mark], holes(paper, other)[hole]
                    assert abs((u1 - x1) - (u2 - x2)) < SEEN_WITHIN
                    assert abs((v1 - y1) - (v2 - y2)) < SEEN_WITHIN
                    shared += 1
    assert shared >= 4


@pytest.mark.parametrize("paper", PAPERS)
def test_tiles_laid_by_their_join_marks_make_the_whole_circle(paper: str) -> None:
    """Every tile is laid beside one that lies already, by one mark that both have; then holes lie
    on the circle, wherever they were printed. Errors add up over the tiles, so 0.2 mm."""
    names = list(tiles(RING, paper))
    moved = {names[0]: (0.0, 0.0)}
    while len(moved) < len(names):
        one, other, mark = next(
            (a, b, m)
            for a in names for b in names if a in moved and b not in moved
            for m in sorted(set(join_marks(paper, a)) & set(join_marks(paper, b)))
        )  # fmt: skip
        (x1, y1), (x2, y2) = join_marks(paper, one)[mark], join_marks(paper, other)[mark]
        moved[other] = (moved[one][0] + x1 - x2, moved[one][1] + y1 - y2)
    laid: dict[int, tuple[float, float]] = {}
    for name in names:
        for hole, (x, y) in holes(paper, name).items():
            place = (x + moved[name][0], y + moved[name][1])
            assert math.dist(laid.setdefault(hole, place), place) < 0.2
    for one, other in ((1, 13), (7, 19), (4, 16), (2, 9), (23, 12), (5, 6)):
        assert abs(math.dist(laid[one], laid[other]) - chord(one, other)) < 0.2
    # Looking aft, clockwise, number 1 at the top: number 7 is at the right, 13 at the foot.
    assert laid[1][1] < laid[7][1] < laid[13][1]
    assert laid[19][0] < laid[1][0] < laid[7][0]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_two_neighbours_share_two_join_marks(paper: str) -> None:
    names = set(tiles(RING, paper))
    for name in names:
        for beside in (f"{name[0]}{int(name[1:]) + 1}", f"{chr(ord(name[0]) + 1)}{name[1:]}"):
            if beside in names:
                assert len(set(join_marks(paper, name)) & set(join_marks(paper, beside))) == 2


@pytest.mark.parametrize("paper", PAPERS)
def test_key_map_names_the_tiles_and_their_sheets(paper: str) -> None:
    _, pages = printed(RING, paper)
    (key,) = [page for page in pages if "key map" in page.text]
    listed = dict(re.findall(r"\b([A-Z]\d+)\s+sheet (\d+)", key.text))
    on = {}
    for page in pages:
        if tile_of(page):
            on[tile_of(page)] = re.search(r"sheet (\d+) of", page.text)[1]  # type: ignore[index]
    assert listed == on
    assert f"{len(on)} sheets" in " ".join(key.text.split())


def test_key_map_counts_the_sheets_of_the_pack() -> None:
    pack = lay_out(sheets(RING))
    pages = pages_of(pack.sheet(FULL_SIZE_PAGES).pdf)
    key = next(page for page in pages if "key map" in page.text)
    for name, sheet in re.findall(r"\b([A-Z]\d+)\s+sheet (\d+)", key.text):
        (page,) = [p for p in pages if tile_of(p) == name]
        assert f"sheet {sheet} of {pack.count}" in page.text


# --- the flat pattern -----------------------------------------------------------------------


@pytest.mark.parametrize("paper", PAPERS)
def test_outline_of_the_blank_measures_what_the_sheet_says(paper: str) -> None:
    text = sheets(BRACKET)[FULL_SIZE_PAGES]
    (length,) = (float(f) for f in re.findall(r"\| length \| ([\d.]+) mm", text))
    page = tiles(BRACKET, paper)["A1"]
    left, right, top, low = _blank(paper, page, length, 40.0)
    seen = picture(BRACKET, paper, page)
    y = top + 8.0  # clear of words on every side
    xs = [seen.middle(x - 0.8, y, x + 0.8, y + 3.0)[0] for x in (left, right)]
    ys = [seen.middle(left + 4.0, y - 0.8, left + 8.0, y + 0.8)[1] for y in (top, low)]
    assert abs(xs[1] - xs[0] - length) < SEEN_WITHIN
    assert abs(ys[1] - ys[0] - 40.0) < SEEN_WITHIN
    tangents = re.findall(r"\| tangent \d \| ([\d.]+) mm to ([\d.]+) mm", text)
    for edge in (float(f) for pair in tangents for f in pair):
        at = left + edge
        found = seen.middle(at - 0.5, top + 2.0, at + 0.5, top + 14.0)[0]
        assert abs(found - xs[0] - edge) < SEEN_WITHIN


def _blank(paper: str, page: int, length: float, width: float) -> tuple[float, float, float, float]:
    """Left, right, top and foot of the one closed outline of that size."""
    document = pypdfium2.PdfDocument(printed(BRACKET, paper)[0].pdf)
    sheet = document[page]
    high = sheet.get_height()
    for each in sheet.get_objects(filter=[c.FPDF_PAGEOBJ_PATH]):
        points = [_point(each.raw, i) for i in range(c.FPDFPath_CountSegments(each.raw))]
        xs, ys = [x * MM for x, _ in points], [(high - y) * MM for _, y in points]
        if abs(max(xs) - min(xs) - length) < 0.5 and abs(max(ys) - min(ys) - width) < 0.5:
            return min(xs), max(xs), min(ys), max(ys)
    raise AssertionError("no outline of that size")


def test_whole_drawings_are_measured_against_limits_rounded_to_the_inside() -> None:
    """0.2 %, and 0.3 mm where that is more: 640 · 0.998 = 638.72, 640 · 1.002 = 641.28."""
    assert "| 638.8 mm | 641.2 mm |" in sheets(RING)[FULL_SIZE_PAGES]
    assert "| 39.7 mm | 40.3 mm |" in sheets(BRACKET)[FULL_SIZE_PAGES]


def test_a_pattern_at_nominal_says_so() -> None:
    assert "NOMINAL" in " ".join(page.text for page in printed(BRACKET, "A4")[1] if tile_of(page))
