"""Every page of every demo sheet and of a stress sheet, read back from the finished PDF."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Mapping
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

from generator.compose import CALCULATION_SHEET, KINDS, TRAVELLER, SheetFacts, kinds_of
from generator.draw import Drawn, box_map, draw_sheet
from generator.draw.pen import LEAST
from generator.workshop import open_shop, sheets_of
from tests.draw.inspector import Seen, letters, pages_of
from tests.draw.stress import stress_sheet
from tests.draw.stress_maps import largest, maps_sheet
from tests.helping import texts_in

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
NAMES = [*DEMO, *LETTERS, *LARGE, "stress", "letter", "sample", "maps", "Letter: maps"]
MAPS = ("maps", "Letter: maps")
# Words of the dialect that tell draw what to do and are not printed themselves.
UNPRINTED = {
    "box", "wide box", "tall box", "sketch box", "stamp", "-", "record", "words", "clock", "date", "tick", "count", "unit", "times",
    "instrument", "temperature", "thickness", "in rows", "across", "up", "curves", "no-go", "nominal", "grain", "along the length", "across the length", "closes operations", "numbering", "fasteners", "item", "first", "looking", "notice", "by",
    "name", "rows", "columns", "width", "note", "places",
}  # fmt: skip
PLACES = re.compile(
    r"-?[\d.]+, -?[\d.]+( \S+)?(; -?[\d.]+, -?[\d.]+( \S+)?)*"
)  # drawn, but the marks
BAR_DOWN = "250 mm, from tick to tick"
CORNER = 20.0  # the corner codes' squares end here, from each edge


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
    made, findings = sheets_of(SHOP, file, SheetFacts("A-0001", ("0001",), "25 NOV 2026"))
    assert made is not None, findings
    return made.sheets


@cache
def printed(name: str) -> tuple[Drawn, list[Seen]]:
    drawn = draw_sheet(sheet(name))
    return drawn, pages_of(drawn.pdf)


@pytest.mark.parametrize("name", NAMES)
def test_page_count_is_right_and_on_every_page(name: str) -> None:
    drawn, pages = printed(name)
    assert len(pages) == drawn.pages
    for number, page in enumerate(pages, start=1):
        assert f"sheet {number} of {len(pages)}" in page.text


@pytest.mark.parametrize("name", NAMES)
def test_no_text_outside_the_margins_or_in_the_corners(name: str) -> None:
    for page in printed(name)[1]:
        for said in page.said:
            place = said.place
            right, bottom = place.x + place.width, place.y + place.height
            # Beside the punch holes, which end 15 mm from the edge, stands one thing alone: what
            # the bar down a full-size page is called.
            in_margin = letters(said.text) in letters(BAR_DOWN)
            assert place.x >= (16.0 if in_margin else 24.5), said
            assert right <= page.width - 9.0, said
            in_corner_rows = place.y < CORNER or bottom > page.height - CORNER
            assert not (in_corner_rows and right > page.width - CORNER), said


@pytest.mark.parametrize("name", NAMES)
def test_no_letters_too_small(name: str) -> None:
    for page in printed(name)[1]:
        assert min(said.size for said in page.said if said.size) >= 6.99


@pytest.mark.parametrize("name", NAMES)
def test_no_text_lies_on_another(name: str) -> None:
    for page in printed(name)[1]:
        for one, other in combinations(page.said, 2):
            assert one.place.overlap(other.place) < 0.2, (one, other)


@pytest.mark.parametrize("name", NAMES)
def test_boxes_in_the_pdf_are_the_boxes_on_the_map(name: str) -> None:
    drawn, pages = printed(name)
    for number, page in enumerate(pages, start=1):
        mapped = sorted((b.y, b.x, b.width, b.height) for b in drawn.boxes if b.page == number)
        found = sorted((b.y, b.x, b.width, b.height) for b in page.boxes)
        assert len(mapped) == len(found)
        left = list(found)
        for box in mapped:
            near = min(left, key=lambda f: sum(abs(a - b) for a, b in zip(f, box, strict=True)))
            assert all(abs(a - b) < 0.02 for a, b in zip(near, box, strict=True)), box
            left.remove(near)


@pytest.mark.parametrize("name", NAMES)
def test_boxes_are_large_enough_and_apart_and_free_of_print(name: str) -> None:
    drawn, pages = printed(name)
    for box in drawn.boxes:
        wide, deep = LEAST[box.kind]
        assert box.width >= wide - 1e-3
        assert box.height >= deep - 1e-3
    for page in pages:
        for one, other in combinations(page.boxes, 2):
            assert one.overlap(other) < 0.01
        for box in page.boxes:
            for said in page.said:
                if box.overlap(said.place) > 0.2:
                    # Only a unit may stand in a box, at its right.
                    assert said.place.x > box.x + 20, said


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
    together = letters("".join(page.text for page in printed(name)[1]))
    frame_end = sheet(name).index("\n:::\n")
    for text in texts_in(sheet(name)[frame_end:]):
        if text in UNPRINTED or re.fullmatch(
            r"(bend|leg|flat|allowance|tangent|sight|nose|balloon) \d+|(box|at|verdict) \S+", text
        ):
            continue
        if re.fullmatch(r"\d+ (hold|witness|independent)", text):
            text = text.upper()  # these kinds are printed in capitals
        if PLACES.fullmatch(text):
            text = " ".join(re.findall(r"[A-Z]\S*", text))
        for word in text.split():
            assert letters(word) in together, (word, text)


def starts_of(page: Seen, markdown: str) -> list[str]:
    """Operations whose instruction begins on the page."""
    return [n for n, do in instructions(markdown) if letters(do) in letters(page.text)]


def instructions(markdown: str) -> list[tuple[str, str]]:
    """Each operation's number and the first words of its instruction."""
    parts = re.split(r"(?m)^## (\d+) [a-z]+.*$", markdown)
    found = []
    for number, body in zip(parts[1::2], parts[2::2], strict=True):
        outside = re.sub(r"(?ms)^:::.*?^:::$", "", body)
        line = next((ln for ln in outside.split("\n") if ln.strip()), "")
        found.append((number, re.split(r"[\[(\\]", line.replace("*", ""))[0][:60]))
    return found


@pytest.mark.parametrize("name", NAMES)
def test_a_caution_stands_on_the_page_of_its_step(name: str) -> None:
    pages = printed(name)[1]
    parts = re.split(r"(?m)^## \d+ [a-z]+.*$", sheet(name))[1:]
    for (number, do), body in zip(instructions(sheet(name)), parts, strict=True):
        for text in re.findall(
            r"(?ms)^::: (?:warning|caution)\n(.*?)\n:::$", body.split("\n# ")[0]
        ):
            start = letters(re.split(r"[\[\\]", text)[0][:50])
            on = {i for i, page in enumerate(pages) if start in letters(page.text)}
            at = {i for i, page in enumerate(pages) if letters(do) in letters(page.text)}
            assert on & at, (number, text)


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
