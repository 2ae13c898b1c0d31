"""Every page of every demo sheet and of a stress sheet, read back from the finished PDF."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest

from generator.compose import CALCULATION_SHEET, KINDS, TRAVELLER, SheetFacts, kinds_of
from generator.draw import Drawn, box_map, draw_sheet
from generator.workshop import open_shop, sheets_of
from tests.draw import checks
from tests.draw.checks import instructions
from tests.draw.inspector import Seen, letters, pages_of
from tests.draw.stress import stress_sheet
from tests.draw.stress_maps import largest, maps_sheet

ROOT = Path(__file__).parents[2]
SHOP = open_shop(ROOT)
TRAVELLERS = [f"{TRAVELLER} {file}" for file in sorted(SHOP.processes)]
DEMO = [
    f"{kind} {file}"
    for kind in KINDS
    for file in sorted(SHOP.processes)
    if kind in kinds_of(SHOP.processes[file])
]
LETTERS = [f"Letter: {name}" for name in DEMO]
LARGE = [f"large: {name}" for name in TRAVELLERS]
MAPS = ("maps", "Letter: maps")
NAMES = [*DEMO, *LETTERS, *LARGE, *MAPS, "stress", "letter", "sample"]


@cache
def sheet(name: str) -> str:
    if name == "stress":
        return stress_sheet()
    if name in MAPS:
        own = maps_sheet()
        return own if name == "maps" else own.replace("| paper | A4 |", "| paper | Letter |")
    if name == "letter":
        return stress_sheet().replace("| paper | A4 |", "| paper | Letter |")
    if name == "sample":
        return (Path(__file__).parent / "sample.md").read_text(encoding="utf-8")
    if name in LETTERS:
        return sheet(name.removeprefix("Letter: ")).replace("| paper | A4 |", "| paper | Letter |")
    if name in LARGE:
        own = sheet(name.removeprefix("large: "))
        return own.replace("| paper | A4 |", "| paper | A3 large print |")
    kind, _, file = name.partition(" ")
    return sheets(file)[kind]


@cache
def sheets(file: str) -> Mapping[str, str]:
    made, findings = sheets_of(SHOP, file, SheetFacts("A-0001", ("0001",), "2026-11-25"))
    assert made is not None, findings
    return made.sheets


@cache
def printed(name: str) -> tuple[Drawn, list[Seen]]:
    drawn = draw_sheet(sheet(name))
    return drawn, pages_of(drawn.pdf)


@pytest.mark.parametrize("name", NAMES)
def test_page_count_is_right_and_on_every_page(name: str) -> None:
    drawn, pages = printed(name)
    assert [*checks.page_counts(pages, drawn.pages)] == []


@pytest.mark.parametrize("name", NAMES)
def test_no_text_outside_the_margins_or_in_the_corners(name: str) -> None:
    assert [*checks.outside_margins(printed(name)[1])] == []


@pytest.mark.parametrize("name", NAMES)
def test_no_letters_too_small(name: str) -> None:
    assert [*checks.small_letters(printed(name)[1])] == []


@pytest.mark.parametrize("name", NAMES)
def test_no_text_lies_on_another(name: str) -> None:
    assert [*checks.text_on_text(printed(name)[1])] == []


@pytest.mark.parametrize("name", NAMES)
def test_no_line_runs_through_words(name: str) -> None:
    assert [*checks.text_on_lines(printed(name)[1])] == []


@pytest.mark.parametrize("name", NAMES)
def test_boxes_in_the_pdf_are_the_boxes_on_the_map(name: str) -> None:
    drawn, pages = printed(name)
    assert [*checks.boxes_not_mapped(pages, drawn.boxes)] == []


@pytest.mark.parametrize("name", NAMES)
def test_boxes_are_large_enough_and_apart_and_free_of_print(name: str) -> None:
    drawn, pages = printed(name)
    assert [*checks.small_boxes(drawn.boxes), *checks.boxes_not_free(pages)] == []


@pytest.mark.parametrize("name", MAPS)
def test_every_fastener_of_the_largest_maps_has_one_box_in_turn(name: str) -> None:
    drawn, _ = printed(name)
    for i, (_, rows) in enumerate(largest(), start=1):
        count = int(rows["fasteners"])
        turn = [*map(int, rows.get("order", "").split())] or [*range(1, count + 1)]
        own = [b for b in drawn.boxes if b.operation == f"{10 * i}" and "no. " in b.meaning]
        ticks = [b for b in own if b.kind == "check"]
        assert [int(re.findall(r"no\. (\d+)", b.meaning)[0]) for b in ticks] == turn
        assert min(min(b.width, b.height) for b in ticks) >= 5.5


@pytest.mark.parametrize("name", NAMES)
def test_no_word_is_lost(name: str) -> None:
    assert [*checks.lost_words(printed(name)[1], sheet(name))] == []


def starts_of(page: Seen, markdown: str) -> list[str]:
    """Operations whose instruction begins on the page."""
    return [n for n, do in instructions(markdown) if letters(do) in letters(page.text)]


@pytest.mark.parametrize("name", NAMES)
def test_a_caution_stands_on_the_page_of_its_step(name: str) -> None:
    assert [*checks.cautions_apart(printed(name)[1], sheet(name))] == []
    assert [*checks.cautions_left(printed(name)[1], sheet(name))] == []


@pytest.mark.parametrize("name", TRAVELLERS)
def test_a_hold_does_not_stand_alone_at_the_top_of_a_page(name: str) -> None:
    for page in printed(name)[1][1:]:
        head = page.text.split("\n", 12)
        body = " ".join(head[:8])
        assert not re.search(r"airframe [\d-]+\s+\d+\s+HOLD\b", body), body


@pytest.mark.parametrize("name", ["stress", "sample", DEMO[0], DEMO[len(TRAVELLERS)]])
def test_outline_and_links_lead_somewhere(name: str) -> None:
    import pypdfium2

    drawn, _ = printed(name)
    document = pypdfium2.PdfDocument(drawn.pdf)
    entries = [entry.get_title() for entry in document.get_toc()]
    for number, _ in instructions(sheet(name)):
        assert any(entry.startswith(f"{number} ") for entry in entries)
    pages_led_to = {e.get_dest().get_index() for e in document.get_toc() if e.get_dest()}
    assert len(pages_led_to) > 1  # a page-saving canvas would send them all to page 1


def test_box_map_is_json_one_box_a_line() -> None:
    drawn, _ = printed("sample")
    text = box_map({TRAVELLER: drawn, CALCULATION_SHEET: drawn})
    rows = json.loads(text)
    codes = [row for row in rows if row["kind"] == "code"]
    assert len(codes) == 2 * 4 * drawn.pages
    assert len(rows) - len(codes) == 2 * len(drawn.boxes)
    assert len(rows) == text.count("\n") - 2
    assert {row["sheet"] for row in rows} == {TRAVELLER, CALCULATION_SHEET}
    assert set(rows[0]) == {
        "sheet",
        "page",
        "kind",
        "operation",
        "row",
        "x",
        "y",
        "width",
        "height",
        "meaning",
    }


def test_same_bytes_whatever_the_hash_seed() -> None:
    code = (
        "import sys,hashlib;from generator.draw import draw_sheet;"
        "print(hashlib.sha256(draw_sheet(open(sys.argv[1],encoding='utf-8').read()).pdf).hexdigest())"
    )
    sample = str(Path(__file__).parent / "sample.md")
    seen = set()
    for seed in ("0", "1", "4242"):
        done = subprocess.run(
            [sys.executable, "-c", code, sample], cwd=ROOT, check=True, capture_output=True,
            text=True, env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT), "TZ": f"UTC-{seed[0]}"},
        )  # fmt: skip
        seen.add(done.stdout.strip())
    assert len(seen) == 1


def test_margin_of_the_punch_holes_is_clear() -> None:
    for name in NAMES:
        for box in printed(name)[0].boxes:
            assert box.x >= 24.9
