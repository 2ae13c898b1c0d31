"""A shelf that is worked against the clock, in; what its papers say of the times, out."""

from __future__ import annotations

import json
from pathlib import Path
from shutil import copytree

import pytest

from generator.compose import SheetFacts, Sheets
from generator.draw import box_map, draw_sheet, lay_out
from generator.results.form import form_of
from generator.workshop import open_shop, sheets_of
from tests.draw.inspector import pages_of
from tests.helping import SOUND

SHELF = "processes/shelf.yaml"
WORK = """  window:
    use: working_window
    guide: MIL-H-6088
    alloy: "2014, 2024, 2219"
    begins: quench
    times: [8 min]
"""
CLOCK = """    clock: [quench, {label: the window ends, add: window.longest}]
    within: window.longest
    takes: 8 min
"""
DOUBT = "from memory, of low certainty; not without the specification in force"


@pytest.fixture(scope="module")
def sheets(tmp_path_factory) -> Sheets:
    folder: Path = tmp_path_factory.mktemp("times") / "shop"
    copytree(SOUND, folder)
    text = (folder / SHELF).read_text(encoding="utf-8")
    text = text.replace("work out:\n", f"work out:\n{WORK}", 1)
    text = text.replace("    steps:\n", f"{CLOCK}    steps:\n", 1)
    (folder / SHELF).write_text(text, encoding="utf-8")
    made, findings = sheets_of(open_shop(folder), SHELF, SheetFacts("", ("0001",), "2026-11-25"))
    assert made is not None, findings
    return made


def test_a_time_that_is_worked_out_has_its_mark_and_says_that_its_row_is_from_memory(sheets):
    words = sheets.sheets["traveller"]
    assert "| the window ends | \\+ [15 min](#c1) |" in words
    assert "| window | 8 min of [15 min](#c1) |" in words
    assert (
        f"| be sure | [15 min](#c1) is from MIL-H-6088, AMS 2770 (from memory); {DOUBT} |" in words
    )


def test_the_paper_prints_the_mark_beside_the_sum(sheets):
    pages = pages_of(draw_sheet(sheets.sheets["traveller"]).pdf)
    text = "\n".join(str(page.text) for page in pages)
    assert "+ 15 min [c1] =" in text.replace("\u00a0", " ")


def test_the_sum_is_judged_by_what_is_printed_and_by_no_tick(sheets):
    pack = lay_out(sheets.sheets)
    boxes = json.loads(box_map({kind: pack.sheet(kind) for kind in sheets.sheets}))
    sums = {(f.added, f.added_by) for f in form_of(sheets.sheets, boxes).fields if f.added}
    assert sums == {("15 min", "")}
