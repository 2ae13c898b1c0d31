"""The codes in the page corners: every module against an independent encoder, every code of every
demo page read by an independent reader, fresh and after two copies, and where they stand."""

from __future__ import annotations

import random
import re
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from PIL import Image, ImageFilter
from reportlab.graphics.barcode import qrencoder

from generator.compose import KINDS, SheetFacts
from generator.draw import Drawn, draw_set, draw_sheet
from generator.draw.codes import CORNERS
from generator.draw.paper import CODE_MODULE
from generator.draw.qr import modules_of
from generator.findings import Refusal
from generator.workshop import open_shop, sheets_of
from tests.draw.stress import stress_sheet

SHOP = open_shop(Path(__file__).parents[2])
FILES = sorted(SHOP.processes)
DPI = 300
CROP = round(26 * DPI / 25.4)  # a corner with its code and a good part of what stands near
FRAME = (Path(__file__).parent / "sample.md").read_text(encoding="utf-8").partition("\n:::\n")[0]
ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"  # ISO/IEC 18004, table of the mode


@cache
def prints(file: str) -> dict[str, Drawn]:
    made, findings = sheets_of(SHOP, file, SheetFacts("A-0001", ("0001",), "2026-11-25"))
    assert made is not None, findings
    return dict(draw_set(made.sheets))


def rastered(pdf: bytes, first: int = 0) -> list[Image.Image]:
    pages = list(pypdfium2.PdfDocument(pdf))[first:]
    return [page.render(scale=DPI / 72, grayscale=True).to_pil() for page in pages]


def read(picture: Image.Image) -> list[Any]:
    return zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)


def told(picture: Image.Image) -> list[str]:
    return sorted(found.text for found in read(picture))


def said(drawn: Drawn, page: int) -> list[str]:
    return sorted(code.meaning for code in drawn.codes if code.page == page)


def corners_of(page: Image.Image) -> Image.Image:
    """The four corners of a page pushed together: what there is to read, in a small picture."""
    made = Image.new("L", (2 * CROP, 2 * CROP), 255)
    for column, x in enumerate((0, page.width - CROP)):
        for row, y in enumerate((0, page.height - CROP)):
            part = page.crop((x, y, x + CROP, y + CROP))
            made.paste(part, (column * CROP, row * CROP))
    return made


def copied(picture: Image.Image, turn: float) -> Image.Image:
    """A copy in black and white: 1 % larger, turned by degrees, and blurred by 1.2 points of 300
    to the inch (0.10 mm), which is a quarter of a module."""
    size = round(picture.width * 1.01), round(picture.height * 1.01)
    larger = picture.resize(size, Image.Resampling.BILINEAR)
    turned = larger.rotate(turn, Image.Resampling.BICUBIC, expand=True, fillcolor=255)
    return turned.filter(ImageFilter.GaussianBlur(1.2)).point(lambda v: 255 * (v > 128))


@pytest.mark.parametrize("length", [1, 2, 51, 60, 61, 62, 76, 77])
def test_every_module_is_that_of_an_independent_encoder(length: int) -> None:
    """The encoder of the PDF library, told version, level and mask: up to 61 signs fit level M."""
    level = qrencoder.QRErrorCorrectLevel.M if length <= 61 else qrencoder.QRErrorCorrectLevel.L
    chance = random.Random(length)
    for _ in range(8):
        text = "".join(chance.choices(ALPHANUMERIC, k=length))
        other = qrencoder.QRCode(3, level)
        other.addData(qrencoder.QRAlphaNum(text))
        other.makeImpl(False, 2)
        rows = ["".join("01"[bool(dark)] for dark in row) for row in other.modules]
        assert modules_of(text).split() == rows, text


@pytest.mark.parametrize(
    ("text", "wrong"),
    [("A" * 78, "too long"), ("a", "'a' in"), ("AÄ", "'Ä' in"), ("A#B", "'#' in")],
)
def test_what_a_code_cannot_hold_is_refused(text: str, wrong: str) -> None:
    with pytest.raises(Refusal, match=re.escape(wrong)):
        modules_of(text)


# Of the copies every so many pages: a part in `make test`, each page in `make prove`.
@pytest.mark.parametrize("every", [5, pytest.param(1, marks=pytest.mark.prove)])
@pytest.mark.parametrize("file", FILES)
def test_codes_of_every_page_are_read_fresh_and_after_two_copies(file: str, every: int) -> None:
    for drawn in prints(file).values():
        pages = rastered(drawn.pdf)
        assert len(pages) == drawn.pages
        for number, page in enumerate(pages, 1):
            corners = corners_of(page)
            assert told(corners) == said(drawn, number)
            if number % every == 0 or number == drawn.pages:
                assert told(copied(copied(corners, 0.8), -1.5)) == said(drawn, number)


@pytest.mark.parametrize("most", [1, pytest.param(2, marks=pytest.mark.prove)])
@pytest.mark.parametrize("kind", KINDS)
def test_codes_are_read_from_a_whole_page_and_two_copies_of_it(kind: str, most: int) -> None:
    printed = [each for each in (FILES[0], FILES[-1], *FILES) if kind in prints(each)]
    for file in printed[:most]:
        drawn = prints(file)[kind]
        (page,) = rastered(drawn.pdf, drawn.pages - 1)
        assert told(page) == said(drawn, drawn.pages)
        assert told(copied(copied(page, 0.8), -1.5)) == said(drawn, drawn.pages)


@pytest.mark.parametrize("file", FILES)
def test_codes_say_what_the_page_is(file: str) -> None:
    process = SHOP.processes[file].number
    drawn = prints(file)
    count = sum(each.pages for each in drawn.values())
    numbers = iter(range(1, count + 1))
    for kind, each in drawn.items():
        for page in range(1, each.pages + 1):
            begin = f"WM1 {process} A-0001 {kind.upper()} {next(numbers)}/{count} "
            words = said(each, page)
            assert all(re.fullmatch(rf"{begin}[0-9A-F]{{12}} (TL|TR|BL|BR)", w) for w in words)
            assert len({w[-2:] for w in words}) == 4
    assert next(numbers, None) is None


def sheet_on(paper: str) -> Drawn:
    if paper == "A4":
        return prints(FILES[0])[KINDS[1]]  # no line for where work stopped: its rule lies lower
    return draw_sheet(stress_sheet(operations=8).replace("| paper | A4 |", f"| paper | {paper} |"))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_codes_stand_where_the_map_says_and_white_is_round_them(paper: str) -> None:
    """The black of each code ends within a point of the raster where the map says; where the
    reader sees it, within 0.33 mm; and four modules round it are white."""
    drawn = sheet_on(paper)
    for number, (page, size) in enumerate(
        zip(rastered(drawn.pdf), sizes(drawn.pdf), strict=True), 1
    ):
        across, down = size[0] / page.width, size[1] / page.height  # mm a point, each way
        black = np.asarray(page) < 128
        seen = {found.text: found.position for found in read(page)}
        for code in (code for code in drawn.codes if code.page == number):
            white = 4 * CODE_MODULE
            left, top = round((code.x - white) / across), round((code.y - white) / down)
            right = round((code.x + code.width + white) / across)
            low = round((code.y + code.height + white) / down)
            rows, columns = np.nonzero(black[top:low, left:right])
            assert (left + columns.min()) * across == pytest.approx(code.x, abs=0.1)
            assert (top + rows.min()) * down == pytest.approx(code.y, abs=0.1)
            assert (left + columns.max() + 1) * across == pytest.approx(
                code.x + code.width, abs=0.1
            )
            assert (top + rows.max() + 1) * down == pytest.approx(code.y + code.height, abs=0.1)
            place = seen[code.meaning]
            for point, x, y in (
                (place.top_left, code.x, code.y),
                (place.top_right, code.x + code.width, code.y),
                (place.bottom_left, code.x, code.y + code.height),
                (place.bottom_right, code.x + code.width, code.y + code.height),
            ):
                assert point.x * across == pytest.approx(x, abs=0.33)
                assert point.y * down == pytest.approx(y, abs=0.33)


def sizes(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of every page (mm)."""
    pages = [page.get_size() for page in pypdfium2.PdfDocument(pdf)]
    return [(width * 25.4 / 72, height * 25.4 / 72) for width, height in pages]


def test_codes_stand_in_their_corners_clear_of_punch_holes() -> None:
    """14 mm squares, 6 mm from the edges. Two holes 80 mm apart (ISO 838) or four; on Letter two
    70 mm apart or three 108 mm apart (both from memory)."""
    for paper, wide, high, holes in (
        ("A4", 210.0, 297.0, (-120.0, -40.0, 40.0, 120.0)),
        ("Letter", 215.9, 279.4, (-108.0, -35.0, 0.0, 35.0, 108.0)),
    ):
        drawn = sheet_on(paper)
        assert len(drawn.codes) == 4 * drawn.pages
        for code in drawn.codes:
            left = 6.0 if code.row.endswith("left") else wide - 20.0
            top = 6.0 if code.row.startswith("top") else high - 20.0
            assert left <= code.x and code.x + code.width <= left + 14.0 + 1e-6
            assert top <= code.y and code.y + code.height <= top + 14.0 + 1e-6
            assert code.meaning.endswith(f" {CORNERS[code.row]}")
            for hole in holes:
                middle = high / 2 + hole
                assert code.y + code.height < middle - 4.0 or code.y > middle + 4.0


def test_a_sheet_without_a_process_has_codes_too() -> None:
    frame = re.sub(r"(?m)^\| (process|serial) \|.*$", r"| \1 | none |", FRAME)
    drawn = draw_sheet(f"{frame}\n:::\n\n# Main leg retraction\n\n## Front\n\nWords.\n")
    (page,) = rastered(drawn.pdf)
    assert told(page) == said(drawn, 1)
    assert all(words.startswith("WM1 - - TRAVELLER 1/1 ") for words in said(drawn, 1))


def test_a_number_that_no_code_holds_is_refused() -> None:
    frame = re.sub(r"(?m)^\| process \|.*$", "| process | T6-P-0410 über |", FRAME)
    with pytest.raises(Refusal, match="cannot stand in the codes"):
        draw_sheet(f"{frame}\n:::\n\n# Main leg retraction\n\n## Front\n\nWords.\n")
