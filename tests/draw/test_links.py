"""The finished PDFs of a demo process, read back: where their links lead, and the marks in print."""

from __future__ import annotations

import ctypes
from functools import cache
from pathlib import Path

import pypdfium2
import pypdfium2.raw as c
import pytest

from generator.compose import CALCULATION_SHEET, TRAVELLER, SheetFacts
from generator.draw import draw_sheet
from generator.draw.parse import blocks_of
from generator.draw.sheet import anchors
from generator.workshop import open_shop, sheets_of
from tests.draw.inspector import pages_of

SHOP = open_shop(Path(__file__).parents[2])
FILES = sorted(f for f, process in SHOP.processes.items() if process.work_out)


@cache
def printed(file: str, kind: str) -> tuple[str, bytes]:
    made, findings = sheets_of(SHOP, file, SheetFacts("A-0001", ("0001",), "2026-11-25"))
    assert made is not None, findings
    return made.sheets[kind], draw_sheet(made.sheets[kind]).pdf


def names_in(pdf: bytes) -> dict[str, int]:
    """The named places of a PDF, each with its page (counted from 0)."""
    document = pypdfium2.PdfDocument(pdf)
    found = {}
    for n in range(c.FPDF_CountNamedDests(document.raw)):
        size = ctypes.c_long(0)
        c.FPDF_GetNamedDest(document.raw, n, None, size)
        name = ctypes.create_string_buffer(size.value)
        place = c.FPDF_GetNamedDest(document.raw, n, name, size)
        index = c.FPDFDest_GetDestPageIndex(document.raw, place)
        found[name.raw.decode("utf-16-le").rstrip("\0")] = index
    return found


def links_in(pdf: bytes) -> tuple[list[str], int]:
    """The files that links of a PDF open, and how many links stay inside it."""
    document = pypdfium2.PdfDocument(pdf)
    files, inside = [], 0
    for page in document:
        at, link = ctypes.c_int(0), c.FPDF_LINK()
        while c.FPDFLink_Enumerate(page.raw, at, link):
            action = c.FPDFLink_GetAction(link)
            if action and c.FPDFAction_GetType(action) == c.PDFACTION_REMOTEGOTO:
                size = c.FPDFAction_GetFilePath(action, None, 0)
                path = ctypes.create_string_buffer(size)
                c.FPDFAction_GetFilePath(action, path, size)
                files.append(path.value.decode())
            else:
                assert c.FPDFLink_GetDest(document.raw, link)
                inside += 1
    return files, inside


@pytest.mark.parametrize("file", FILES)
def test_every_calculation_is_a_named_place_on_its_page(file: str) -> None:
    sheet, pdf = printed(file, CALCULATION_SHEET)
    names, pages = names_in(pdf), pages_of(pdf)
    assert set(names) == {a for block in blocks_of(sheet) for a in anchors(block)}
    assert {f"c{n}" for n in range(1, len(SHOP.processes[file].work_out) + 1)} <= set(names)
    for name, page in names.items():
        assert any(said.text.split()[0] == name for said in pages[page].said), name


@pytest.mark.parametrize("file", FILES)
def test_the_traveller_leads_to_the_file_beside_it(file: str) -> None:
    sheet, pdf = printed(file, TRAVELLER)
    files, inside = links_in(pdf)
    assert set(files) == {"calculation-sheet.pdf"}
    assert len(files) == sheet.count("](calculation-sheet.pdf#")
    assert inside >= sheet.count("](#")
    # The name of the place is a byte string, which a name tree is searched for.
    marks = [n for n in range(1, len(SHOP.processes[file].work_out) + 1) if f"#c{n})" in sheet]
    assert marks or not SHOP.processes[file].work_out
    for n in marks:  # a working whose results stand on a table of their own is not named here
        assert f"/D (c{n})".encode() in pdf


@pytest.mark.parametrize("file", FILES)
def test_the_calculation_sheet_leads_nowhere_but_inside(file: str) -> None:
    sheet, pdf = printed(file, CALCULATION_SHEET)
    files, inside = links_in(pdf)
    assert files == []
    assert inside >= sheet.count("](#") > 0


@pytest.mark.parametrize("file", FILES)
def test_marks_are_printed_in_brackets_in_letters_that_can_be_read(file: str) -> None:
    sheet, pdf = printed(file, TRAVELLER)
    said = [s for page in pages_of(pdf) for s in page.said]
    words = " ".join(s.text for s in said)
    wanted = {part.split(")")[0] for part in sheet.split("](#")[1:]}
    assert wanted
    for mark in wanted:
        assert f"[{mark}]" in words.replace(" ", "").replace("\u00a0", "")
    alone = [s for s in said if s.text.startswith("[") and s.text.endswith("]")]
    assert all(s.size >= 7.99 for s in alone)
