"""One process on A4 and on A3 in; the same pages, everything larger by the square root of two, but
for what is drawn at full size, out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from generator.draw import lay_out
from generator.workshop import chosen, open_shop, sheets_of
from tests.compose.sheets import FACTS, SHOP, file_of, made
from tests.draw.inspector import pages_of

LARGER = 2**0.5


def printed_on(folder: Path, paper: str):
    """The bracket's pack on another paper."""
    shutil.copytree(Path(SHOP.folder) / "processes", folder / "processes")
    file = folder / "processes" / "workshop" / "workshop.yaml"
    words = file.read_text(encoding="utf-8").replace("paper: A4", f"paper: {paper}")
    file.write_text(words, encoding="utf-8")
    shop = open_shop(folder)
    sheets, findings = sheets_of(shop, chosen(shop, ["T6-P-0120"])[0], FACTS)
    assert sheets is not None, findings
    return lay_out(sheets.sheets)


@pytest.fixture(scope="module")
def both(tmp_path_factory):
    large = printed_on(tmp_path_factory.mktemp("large"), "A3")
    return lay_out(made(file_of("T6-P-0120")).sheets), large


def test_a_letter_page_goes_on_tabloid_as_large_as_its_width_allows(tmp_path):
    """11 by 17 inches (ANSI/ASME Y14.1, size B): 11/8.5 times as large as on Letter."""
    letter = pages_of(printed_on(tmp_path / "letter", "Letter").sheet("traveller").pdf)
    large = printed_on(tmp_path / "tabloid", "Tabloid")
    pages = pages_of(large.sheet("traveller").pdf)
    assert pages[0].width == pytest.approx(11 * 25.4, abs=0.1)
    assert pages[0].height == pytest.approx(17 * 25.4, abs=0.1)
    assert len(pages) <= len(letter)  # the page is taller than its width asks
    word = "Warnings for the whole job"
    tall = [next(s.place.height for s in p.said if s.text == word) for p in (letter[0], pages[0])]
    assert tall[1] == pytest.approx(tall[0] * 11 / 8.5, rel=0.02)
    full = pages_of(large.sheet("full-size-pages").pdf)
    assert full[0].width == pytest.approx(11 * 25.4, abs=0.1)
    assert min(box.height for box in full[0].boxes) == pytest.approx(8.5, abs=0.02)


@pytest.mark.parametrize("kind", ["traveller", "inspection-sheet", "kit-list"])
def test_every_box_is_larger_by_as_much_as_the_paper(both, kind):
    small, large = (pack.sheet(kind) for pack in both)
    assert large.pages == small.pages
    for one, other in zip(small.boxes, large.boxes, strict=True):
        assert (one.page, one.meaning) == (other.page, other.meaning)
        for side in ("x", "y", "width", "height"):
            assert getattr(other, side) == pytest.approx(getattr(one, side) * LARGER, abs=0.05)


def test_the_page_is_a3_and_its_letters_are_larger(both):
    small, large = (pages_of(pack.sheet("traveller").pdf)[0] for pack in both)
    # ISO 216: A3 is 297 mm by 420 mm.
    assert (large.width, large.height) == (pytest.approx(297, abs=0.1), pytest.approx(420, abs=0.1))
    word = "Warnings for the whole job"
    tall = [next(s.place.height for s in page.said if s.text == word) for page in (small, large)]
    assert tall[1] == pytest.approx(tall[0] * LARGER, rel=0.02)


def test_what_is_drawn_at_full_size_is_not_made_larger(both):
    _, large = both
    page = pages_of(large.sheet("full-size-pages").pdf)[0]
    assert page.width == pytest.approx(297, abs=0.1)
    small_box = min(box.height for box in page.boxes)
    assert small_box == pytest.approx(8.5, abs=0.02)  # a write-in box of the pen's least height


def test_every_page_has_a_back_on_its_own_paper(both):
    """Full-size pages are laid out on A3 itself, the others on what is drawn larger."""
    _, large = both
    backs = large.backs()
    assert {box.page for box in backs.boxes} == set(range(1, large.count + 1))
    for box in backs.boxes:
        assert box.x + box.width < 297.0
        assert box.y + box.height < 420.0
    assert len(pages_of(large.whole(backs=True))) == 2 * large.count
