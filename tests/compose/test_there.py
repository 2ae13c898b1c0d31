"""Operations that are written down or ticked on a record, in; what the record says above its boxes,
and that nothing of them is lost on the way there, out."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Mapping
from pathlib import Path

import pytest

from generator.draw import box_map, lay_out
from generator.results.form import Form, form_of
from generator.workshop import open_shop, sheets_of
from tests.compose.sheets import FACTS, FILES, SHOP, file_of, made
from tests.helping import SOUND

RECORDS = (
    "rigging-sheet", "functional-test-sheet", "heat-treatment-record", "tightening-record",
    "rivet-map",
)  # fmt: skip
SECTION = re.compile(r"(?m)^#{1,2} (?:Treatment of operation|Operation) ([0-9]+)$")
RIVETS = re.compile(r"(?ms)^## Map .*?^Operation ([0-9, ]+)\. Not stopped.*?(?=^## )")
# The travel of a control is measured where its sense is seen.
TRAVEL = """    sense: [{do: handle up, see: shelf UP}]
    start: Rig pins out.
    clock: [pins out, {label: cables settled, add: 20 min}]
    readings:
      - {name: travel up, lower: 25 mm, upper: 27 mm, to: 0.5 mm, with: steel rule}
      - {name: travel down, lower: 19 mm, upper: 22 mm, to: 0.5 mm, with: steel rule}
    if it fails: Put the pins back.
"""
LATER = """  - number: 33
    kind: measure
    do: Read the pull.
    recorded on: rigging sheet
    readings: [{name: pull at the handle, unit: N}]
  - number: 36
    kind: measure
    do: Check the travel.
    warning: The shelf shears fingers. Hands off.
    caution: A stop that is hit is bent. Go slowly.
SENSE  - number: 38
    kind: measure
    do: Count the threads.
    recorded on: rigging sheet
    readings: [{name: threads that show, entry: count, upper: "3"}]
"""


def rigged(folder: Path, travel: str) -> Mapping[str, str]:
    """The sheets of the sound shelf as a control, with three operations on its rigging sheet."""
    shutil.copytree(SOUND, folder, dirs_exist_ok=True)
    file = folder / "processes/shelf.yaml"
    text = file.read_text(encoding="utf-8").replace("trade: forming", "trade: control rigging")
    last = "  - number: 40\n"
    assert text.count(last) == 1
    text = text.replace(last, LATER.replace("SENSE", travel) + last)
    file.write_text(text, encoding="utf-8")
    shop = open_shop(folder)
    assert shop.findings == ()
    sheets, findings = sheets_of(shop, "processes/shelf.yaml", FACTS)
    assert sheets is not None, findings
    return sheets.sheets


def form(sheets: Mapping[str, str]) -> Form:
    pack = lay_out(sheets)
    return form_of(sheets, json.loads(box_map({kind: pack.sheet(kind) for kind in sheets})))


def section(sheet: str, number: int) -> str:
    return sheet.split(f"\n## Operation {number}\n")[1].split("\n## ")[0]


ON_THE_SHEET = ("", "    recorded on: rigging sheet\n")


@pytest.mark.parametrize("named", ON_THE_SHEET)
def test_readings_and_times_beside_a_sense_are_on_the_rigging_sheet_and_in_the_form(
    tmp_path, named
):
    """They were on no sheet at all: the points of the sense took their place."""
    sheets = rigged(tmp_path, named + TRAVEL)
    own = section(sheets["rigging-sheet"], 36)
    for told in (
        "### Point 1: handle up", "### Times and readings", "| pins out |  |",
        "| cables settled | \\+ 20 min |", "| travel up | 25.0 | 27.0 | mm | 1 |",
        "| travel down | 19.0 | 22.0 | mm | 1 |", "| steel rule no. |",
        "| operation 36, as it happened | box | box | stamp | stamp |",
    ):  # fmt: skip
        assert told in own, told
    asked = {(f.sheet, f.operation, f.row) for f in form(sheets).fields}
    for row in ("travel up", "travel down", "pins out", "cables settled", "steel rule no."):
        assert ("rigging-sheet", "36", row) in asked, row
        assert ("traveller", "36", row) not in asked


@pytest.mark.parametrize("named", ON_THE_SHEET)
def test_the_traveller_says_of_a_sense_where_its_readings_are(tmp_path, named):
    own = rigged(tmp_path, named + TRAVEL)["traveller"].split("\n## 36 measure\n")[1]
    own = own.split("\n## ")[0]
    assert "| sense | two people write what they see and stamp each point on the rigging" in own
    assert "| written | on the rigging sheet, not here |" in own


def test_a_sense_alone_has_no_place_for_readings(tmp_path):
    sheets = rigged(tmp_path, "    sense: [{do: handle up, see: shelf UP}]\n")
    own = section(sheets["rigging-sheet"], 36)
    assert "### Readings" not in own and "as it happened" not in own
    assert "| written |" not in sheets["traveller"].split("\n## 36 ")[1].split("\n## ")[0]


def test_a_rigging_sheet_has_its_operations_in_their_order(tmp_path):
    sheet = rigged(tmp_path, TRAVEL)["rigging-sheet"]
    assert re.findall(r"(?m)^## Operation (\d+)$", sheet) == ["33", "36", "38"]


def test_a_record_warns_says_how_the_work_starts_and_leads_to_the_steps(tmp_path):
    own = section(rigged(tmp_path, TRAVEL)["rigging-sheet"], 36)
    warned = "::: warning\nThe shelf shears fingers. Hands off.\n:::"
    careful = "::: caution\nA stop that is hit is bent. Go slowly.\n:::"
    starts = "| start | Rig pins out. |"
    leads = "| traveller | operation 36, ticked and stamped there |"
    fails = "| if it fails | Put the pins back. |"
    places = [own.index(each) for each in (warned, careful, "**CHECK**", starts, leads, fails)]
    assert places == sorted(places)
    assert own.index("### Point 1") < own.index(fails) < own.index("as it happened")


def on_records(sheets: Mapping[str, str]) -> list[tuple[int, str]]:
    """What records have of each operation: the first section of a sheet that names it."""
    found = []
    for kind in (kind for kind in RECORDS if kind in sheets):
        seen = set()
        for named in SECTION.finditer(sheets[kind]):
            words = sheets[kind][named.end() :]
            if named[1] not in seen:
                found.append((int(named[1]), re.split(r"(?m)^#{1,2} ", words)[0]))
            seen.add(named[1])
        for named in RIVETS.finditer(sheets[kind]):
            found += [(int(number), named[0]) for number in named[1].split(", ")]
    return found


@pytest.mark.parametrize("file", FILES)
def test_no_demo_record_is_without_the_cautions_of_its_operations(file):
    """Word for word those of the traveller, above what is done."""
    sheets = made(file).sheets
    for number, own in on_records(sheets):
        told = re.split(rf"(?m)^## {number} [a-z]+$", sheets["traveller"])[1].split("\n## ")[0]
        told = told.replace("](#", "](calculation-sheet.pdf#")
        alerts = re.findall(r"(?ms)^::: (?:warning|caution)\n.*?\n:::$", told)
        (operation,) = [o for o in SHOP.processes[file].operations if o.number == number]
        assert len(alerts) == len(operation.warnings) + len(operation.cautions)
        first = own.index("::: state")
        assert all(own.index(each) < first for each in alerts)
        start = re.findall(r"(?m)^\| start \| (.*) \|$", told)
        assert all(f"| {each} |" in own for each in start)
        assert re.search(rf"(?m)^\| traveller \| operation {number}[:,]", own)


def test_some_demo_record_has_a_warning_a_caution_and_a_start():
    """Else the test above has nothing to look at."""
    words = "".join(own for file in FILES for _, own in on_records(made(file).sheets))
    for told in ("::: warning", "::: caution", "| start |"):
        assert words.count(told) > 1
    kinds = {kind for file in FILES for kind in RECORDS if kind in made(file).sheets}
    assert kinds == {*RECORDS}


def test_a_rivet_map_warns_for_all_its_operations_once(tmp_path):
    """Two operations rivet by one map: a warning that both have stands there once."""
    shutil.copytree(Path(__file__).parents[2] / "processes", tmp_path / "processes")
    shown = file_of("T6-P-0310")
    file = tmp_path / shown
    text = file.read_text(encoding="utf-8")
    alike = "    warning: The rivet gun bruises. Two hands.\n"
    riveting = "\n    map: rivets\n"
    more = {"172": "    start: bars at hand\n", "175": "    caution: A dent stays.\n"}
    added = "".join(
        f"  - number: {number}\n    kind: work\n    do: Drive row {number}.{riveting}{alike}{own}"
        for number, own in more.items()
    )
    text = text.replace("  - number: 180\n", f"{added}  - number: 180\n", 1)
    file.write_text(text, encoding="utf-8")
    shop = open_shop(tmp_path)
    assert shop.findings == ()
    sheets, findings = sheets_of(shop, shown, FACTS)
    assert sheets is not None, findings
    (own,) = [words for number, words in on_records(sheets.sheets) if number == 175]
    assert own.count("The rivet gun bruises. Two hands.") == 1
    assert "::: caution\nA dent stays.\n:::" in own
    assert "| start, 172 | bars at hand |" in own
    for number in more:
        assert f"| traveller | operation {number}, ticked and stamped there |" in own
