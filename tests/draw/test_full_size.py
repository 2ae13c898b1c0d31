"""Full-size pages in; bars, holes, seams and outlines measured on a picture of the page, out."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as c
import pytest
import zxingcpp
from PIL import Image

from generator.composing.kinds import FULL_SIZE_PAGES
from generator.draw import lay_out
from tests.draw.inspector import MM, pages_of, point_of
from tests.draw.measured_pages import (
    BAR_WITHIN,
    BOTH,
    BRACKET,
    HOLES,
    PAPERS,
    PITCH_CIRCLE,
    RING,
    SEEN_WITHIN,
    Straight,
    picture,
    printed,
    sheets,
    straights,
    tile_of,
    tiles,
)

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
    listed = dict(re.findall(r"\b([A-Z]\d{1,2})\s+sheet (\d+)", key.text))
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
    for name, sheet in re.findall(r"\b([A-Z]\d{1,2})\s+sheet (\d+)", key.text):
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
        points = [point_of(each.raw, i) for i in range(c.FPDFPath_CountSegments(each.raw))]
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
