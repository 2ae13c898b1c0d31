"""The sheets of the demo processes on which work is written down, printed and read back: what
belongs together stands on one page, or says on both pages that it goes on."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest

from generator.draw import draw_sheet
from generator.draw.pages import used
from generator.draw.prints import lay_out
from generator.draw.sheet import spoken
from tests.compose.sheets import FILES, made
from tests.draw.inspector import pages_of

RECORDS = (
    "rigging-sheet", "functional-test-sheet", "heat-treatment-record", "tightening-record",
)  # fmt: skip
WITH_RECORDS = [(f, kind) for f in FILES for kind in RECORDS if kind in made(f).sheets]


# The readings of operation 100 of the demo leg, in their order.
READ = (
    "leak test gauge before the pressure is raised", "difference of the two probes after 15 minutes",
    "pressure at the end, last test", "tests made",
)  # fmt: skip


def page_numbers(boxes, key) -> Mapping[str, set[int]]:
    found: dict[str, set[int]] = {}
    for box in boxes:
        found.setdefault(key(box), set()).add(box.page)
    return found


@pytest.mark.parametrize("file", FILES)
def test_a_feature_has_its_readings_and_its_verdict_on_one_page(file):
    boxes = draw_sheet(made(file).sheets["inspection-sheet"]).boxes
    places = page_numbers(boxes, lambda box: box.row)
    features = {row: pages for row, pages in places.items() if row.startswith("feature ")}
    assert features
    assert [row for row, pages in features.items() if len(pages) > 1] == []


@pytest.mark.parametrize(("file", "kind"), WITH_RECORDS)
def test_an_operation_of_a_record_that_goes_on_says_so_on_both_pages(file, kind):
    drawn = draw_sheet(made(file).sheets[kind])
    seen = pages_of(drawn.pdf)
    for operation, pages in page_numbers(drawn.boxes, lambda box: box.operation).items():
        for number in sorted(pages)[:-1] if operation else ():
            before, after = seen[number - drawn.first], seen[number - drawn.first + 1]
            assert f"Operation {operation} continues on the next sheet" in before.text
            assert f"Operation {operation} continued" in after.text


def test_some_record_goes_on_overleaf():
    """Else the test above has nothing to look at."""
    words = [made(f).sheets[kind] for f, kind in WITH_RECORDS]
    texts = [page.text for sheet in words for page in pages_of(draw_sheet(sheet).pdf)]
    assert any("continues on the next sheet" in text for text in texts)


@pytest.mark.parametrize(("file", "kind"), WITH_RECORDS)
def test_who_writes_down_an_operation_stamps_beside_its_last_boxes(file, kind):
    drawn = draw_sheet(made(file).sheets[kind])
    for box in drawn.boxes:
        if box.kind == "stamp" and box.operation:
            own = [b for b in drawn.boxes if b.operation == box.operation and b.kind != "stamp"]
            assert box.page in {b.page for b in own}


@pytest.mark.parametrize("file", FILES)
def test_no_sheet_of_several_pages_ends_on_one_with_little_on_it(file):
    for kind, laid in lay_out(made(file).sheets).sheets.items():
        room = laid.framed.bottom - laid.framed.top
        if len(laid.pages) > 1 and kind != "full-size-pages":
            assert used(laid.pages[-1]) > 0.25 * room, kind


@pytest.mark.parametrize(
    ("kind", "heading", "inside"),
    [
        ("TOOL LIST", "Tool list", "tool list"),
        ("REWORK R1", "Rework R1", "rework R1"),
        ("REWORK R12", "Rework R12", "rework R12"),
        ("CHANGE B", "Change B", "change B"),
    ],
)
def test_a_kind_is_spoken_in_small_letters_but_for_numbers_and_letters(kind, heading, inside):
    assert spoken(kind) == heading
    assert spoken(kind, begins=False) == inside


def test_the_boxes_of_a_ticked_limit_stand_below_their_strip_on_its_page():
    """Operation 70 of the demo circuit: the tension that the temperature of the structure allows."""
    file = next(f for f in FILES if "T6-P-0510" in f)
    boxes = draw_sheet(made(file).sheets["rigging-sheet"]).boxes
    used = [box for box in boxes if (box.operation, box.row) == ("70", "used")]
    read = [b for b in boxes if b.operation == "70" and b.row == "tension, up cable and down cable"]
    assert len(read) == 2
    assert {box.page for box in used} == {box.page for box in read}
    assert max(box.y for box in used) < min(box.y for box in read)


@pytest.mark.parametrize(("file", "kind"), WITH_RECORDS)
def test_no_ticked_limit_goes_overleaf_from_the_table_above_it(file, kind):
    """Operation 100 of the demo leg has its ticked reading third: it stood on the next page."""
    sheet = made(file).sheets[kind]
    boxes = draw_sheet(sheet).boxes
    for number, own in re.findall(r"(?ms)^## Operation (\d+)$(.*?)(?=^## )", sheet):
        rows = re.findall(r"(?m)^\| ([^|]*) \| \[ticked\].*$", own)
        if rows and "\n::: strip\n" in own:
            table = {b.page for b in boxes if (b.operation, b.row) == (number, "used")}
            read = {b.page for b in boxes if b.operation == number and b.row in rows}
            assert read == table, (number, rows)


@pytest.mark.parametrize(("file", "kind"), WITH_RECORDS)
def test_no_record_begins_with_a_page_on_which_next_to_nothing_stands(file, kind):
    laid = lay_out({kind: made(file).sheets[kind]}).sheets[kind]
    room = laid.framed.bottom - laid.framed.top
    assert used(laid.pages[0]) > 0.3 * room


def sheet_with_log(rows: int, readings: int) -> str:
    """The test sheet of the demo leg with a log of so many rows, and the last readings of it."""
    text = made(next(f for f in FILES if "T6-P-0410" in f)).sheets["functional-test-sheet"]
    lines = text.split("\n")
    log = [n for n, line in enumerate(lines) if re.match(r"\| \d+ min \| clock \|", line)]
    made_rows = [lines[log[0]].replace("| 0 min |", f"| {2 * n} min |") for n in range(rows)]
    lines[log[0] : log[-1] + 1] = made_rows
    own = "\n".join(lines).split("## Operation 100\n")[1].split("::: readings\n")[1]
    kept = own.split(":::")[0].strip().split("\n")
    return "\n".join(lines).replace("\n".join(kept), "\n".join([*kept[:2], *kept[2:][-readings:]]))


@pytest.mark.parametrize("readings", [1, 2, 4])
@pytest.mark.parametrize("rows", [5, 6, 9, 12, 15])
def test_a_log_that_a_page_holds_stands_on_one_and_answers_by_their_reading(rows, readings):
    boxes = draw_sheet(sheet_with_log(rows, readings)).boxes
    own = [box for box in boxes if box.operation == "100"]
    log = {box.row: box.page for box in own if re.fullmatch(r"\d+ min", box.row)}
    assert len(log) == rows
    assert len(set(log.values())) == 1
    first = next(box.row for box in own if box.row in READ[-readings:])
    assert {b.page for b in own if b.row == "used"} == {b.page for b in own if b.row == first}


def test_a_log_that_is_taller_than_a_page_goes_on_and_loses_no_row():
    boxes = draw_sheet(sheet_with_log(40, 1)).boxes
    log = {box.row: box.page for box in boxes if re.fullmatch(r"\d+ min", box.row)}
    assert [*log] == [f"{2 * n} min" for n in range(40)]
    pages = [*log.values()]
    assert len(set(pages)) > 1
    assert min(pages.count(page) for page in set(pages)) >= 2


@pytest.mark.parametrize("warnings", range(8))
def test_who_signs_for_a_map_of_rivets_stands_with_its_last_row(warnings):
    """However far down the page the map begins."""
    text = made(next(f for f in FILES if "T6-P-0310" in f)).sheets["rivet-map"]
    more = "::: warning\nA rivet set throws chips. Wear goggles.\n:::\n\n" * warnings
    boxes = draw_sheet(text.replace("\nNot stopped:", f"\n{more}Not stopped:")).boxes
    (signed,) = {b.page for b in boxes if b.row == "96 in the map" and b.kind == "stamp"}
    assert signed in {b.page for b in boxes if b.row == "fourth of map rivets"}
