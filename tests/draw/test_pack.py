"""All sheets of a process as one PDF, read back: pages counted through, one outline, links inside."""

from __future__ import annotations

import ctypes
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pypdfium2
import pypdfium2.raw as c
import pytest

from generator.compose import CALCULATION_SHEET, TRAVELLER, SheetFacts, kinds_of
from generator.draw import Drawn, Pack, draw_set, lay_out
from generator.workshop import open_shop, sheets_of
from tests.draw.inspector import pages_of
from tests.draw.test_links import links_in
from tests.draw.test_pages import instructions

SHOP = open_shop(Path(__file__).parents[2])
FILES = sorted(SHOP.processes)


@cache
def sheets(file: str) -> Mapping[str, str]:
    made, findings = sheets_of(SHOP, file, SheetFacts("A-0001", ("0001",), "2026-11-25"))
    assert made is not None, findings
    return made.sheets


@cache
def packed(file: str) -> tuple[Pack, Mapping[str, Drawn], bytes]:
    pack = lay_out(sheets(file))
    return pack, draw_set(sheets(file)), pack.whole()


def outline_of(pdf: bytes) -> list[tuple[int, str, int]]:
    """Level, words and page (counted from 0) of every entry."""
    entries = pypdfium2.PdfDocument(pdf).get_toc()
    return [(e.level, e.get_title(), e.get_dest().get_index()) for e in entries]


def leads(pdf: bytes) -> list[tuple[int, int]]:
    """From which page to which page (counted from 0) every link leads."""
    document, found = pypdfium2.PdfDocument(pdf), []
    for number, page in enumerate(document):
        at, link = ctypes.c_int(0), c.FPDF_LINK()
        while c.FPDFLink_Enumerate(page.raw, at, link):
            place = c.FPDFLink_GetDest(document.raw, link)
            found.append((number, c.FPDFDest_GetDestPageIndex(document.raw, place)))
    return found


@pytest.mark.parametrize("file", FILES)
def test_pages_are_counted_over_the_pack(file: str) -> None:
    _, drawn, whole = packed(file)
    alone = [page for each in drawn.values() for page in pages_of(each.pdf)]
    together = pages_of(whole)
    assert len(together) == len(alone) == sum(each.pages for each in drawn.values())
    for number, (one, other) in enumerate(zip(alone, together, strict=True), 1):
        assert f"sheet {number} of {len(alone)}" in one.text
        assert (one.said, one.boxes) == (other.said, other.boxes)


@pytest.mark.parametrize("file", FILES)
def test_first_pages_follow_each_other(file: str) -> None:
    pack, drawn, _ = packed(file)
    assert list(drawn)[:2] == [TRAVELLER, CALCULATION_SHEET]
    assert tuple(drawn) == kinds_of(SHOP.processes[file])
    first = 1
    for each in drawn.values():
        assert each.first == first
        first += each.pages
    assert pack.count == first - 1


@pytest.mark.parametrize("file", FILES)
def test_outline_has_every_sheet_and_every_operation(file: str) -> None:
    _, drawn, whole = packed(file)
    entries = outline_of(whole)
    tops = [(words, page) for level, words, page in entries if level == 0]
    named = [kind.replace("-", " ").capitalize() for kind in drawn]
    assert tops == [(n, d.first - 1) for n, d in zip(named, drawn.values(), strict=True)]
    inner = [(words, page) for level, words, page in entries if level > 0]
    single = [
        (words, page + each.first - 1)
        for each in drawn.values()
        for _, words, page in outline_of(each.pdf)
    ]
    assert inner == single
    for operation in SHOP.processes[file].operations:
        assert any(words.startswith(f"{operation.number} ") for words, _ in inner)
    assert len(instructions(sheets(file)[TRAVELLER])) == len(SHOP.processes[file].operations)


@pytest.mark.parametrize("file", FILES)
def test_what_leads_to_the_other_file_leads_inside_the_pack(file: str) -> None:
    _, drawn, whole = packed(file)
    files, inside = links_in(whole)
    assert files == []
    traveller, calculation = (sheets(file)[kind] for kind in (TRAVELLER, CALCULATION_SHEET))
    assert inside >= traveller.count("](#") + calculation.count("](#")
    border = drawn[TRAVELLER].pages
    over = [(here, there) for here, there in leads(whole) if here < border <= there]
    assert len(over) == traveller.count("](calculation-sheet.pdf#")
    assert not any(there < border <= here for here, there in leads(whole))


def test_the_same_bytes_again() -> None:
    _, drawn, whole = packed(FILES[0])
    assert lay_out(sheets(FILES[0])).whole() == whole
    again = draw_set(sheets(FILES[0]))
    assert [each.pdf for each in again.values()] == [each.pdf for each in drawn.values()]


def test_a_pack_may_hold_papers_of_two_sizes() -> None:
    made = dict(sheets(FILES[0]))
    made[CALCULATION_SHEET] = made[CALCULATION_SHEET].replace(
        "| paper | A4 |", "| paper | Letter |"
    )
    widths = {round(page.width, 1) for page in pages_of(lay_out(made).whole())}
    assert widths == {210.0, 215.9}
