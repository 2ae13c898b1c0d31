"""The sheets of the demo processes on which work is written down, printed and read back: what
belongs together stands on one page, or says on both pages that it goes on."""

from __future__ import annotations

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
    ],
)
def test_a_kind_is_spoken_in_small_letters_but_for_what_has_a_number(kind, heading, inside):
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
