"""Inspection sheets and tightening records of the demo processes in; what they say, out."""

from __future__ import annotations

import dataclasses
import re
import shutil
from pathlib import Path

import pytest

from generator.composing.kinds import tightens
from generator.draw import draw_sheet
from generator.draw.parse import (
    Block,
    Container,
    Heading,
    Paragraph,
    blocks_of,
    plain,
)  # fmt: skip
from generator.workshop import open_shop, sheets_of
from tests.check.worded import row as reading_row
from tests.check.worded import work
from tests.compose.sheets import FACTS, FILES, SHOP, features, file_of, made, marked

# --- inspection sheet ---------------------------------------------------------------------------


WRITTEN_ELSEWHERE = ("rigging-sheet", "functional-test-sheet", "heat-treatment-record")


def readings_of_operations(file: str) -> list[tuple[str, list[str]]]:
    """Every row of readings with its operation, links and all, in the order of the operations: from
    the traveller, or from the one sheet on which an operation is written down."""
    sheets = made(file).sheets
    found, operation = [], ""
    for kind in ("traveller", *(kind for kind in WRITTEN_ELSEWHERE if kind in sheets)):
        for block in blocks_of(sheets[kind]):
            if isinstance(block, Heading) and block.level == 2:
                operation = plain(block.runs).removeprefix("Operation ").partition(" ")[0]
            if isinstance(block, Container) and block.name == "readings":
                found += [(operation, [marked(cell) for cell in row]) for row in block.rows[1:]]
    return sorted(found, key=lambda each: int(each[0]))


def counted_there(file: str, operation: str, row: list[str]) -> bool:
    """A count of what the close finds, or of fasteners that are ticked on a record of their own."""
    (own,) = [o for o in SHOP.processes[file].operations if str(o.number) == operation]
    record = made(file).sheets.get("tightening-record", "")
    ticked = f"\n# Operation {operation}\n" in record and row[1] == row[2] not in ("0", "1")
    return row[3] == "count" and (own.kind == "close" or ticked)


@pytest.mark.parametrize("file", FILES)
def test_inspection_sheet_numbers_every_reading_with_limits_of_the_traveller(file):
    blocks = blocks_of(made(file).sheets["inspection-sheet"])
    held = [b for b in blocks if isinstance(b, Container) and b.name == "features"]
    own = [[marked(cell) for cell in row] for block in held for row in block.rows[1:]]
    assert [row[0] for row in own] == [str(n) for n in range(1, len(own) + 1)]
    limits = [
        (operation, row)
        for operation, row in readings_of_operations(file)
        if not {row[1], row[2]} <= {"-", "record"} and not counted_there(file, operation, row)
        and row[3] != "date"  # until when something holds is no size of the part
    ]  # fmt: skip
    assert [(row[1], row[2:7]) for row in own] == [(o, row[:5]) for o, row in limits]
    # The nominal of each, in the last column of both where any has one.
    aimed = [row[5] if len(row) > 5 else "-" for _, row in limits]
    widest = max(map(len, own))
    assert [row[-1] if widest in (10, 13) else "-" for row in own] == aimed


def test_inspection_sheet_asks_the_temperature_of_a_length_read_to_a_hundredth():
    own = {row[2]: row[7:9] for row in features("T6-P-0120")}
    assert own["thickness"] == ["micrometer", "°C"]
    assert own["width of the blank"] == ["digital caliper", "-"]
    assert own["angle bent, 1 and 2"] == ["protractor", "-"]


def test_inspection_sheet_has_boxes_for_repeats_mean_range_and_verdict():
    drawn = draw_sheet(made(file_of("T6-P-0120")).sheets["inspection-sheet"])
    first = [box.meaning for box in drawn.boxes if box.row == "feature 1"]
    assert first == [
        "micrometer no.", "temperature, °C", "1 of 4, mm", "2 of 4, mm", "3 of 4, mm",
        "4 of 4, mm", "mean, mm", "range, mm", "in", "between", "out",
    ]  # fmt: skip
    second = [box.meaning for box in drawn.boxes if box.row == "feature 2"]
    assert second == [
        "digital caliper no.", "lower as ticked, mm", "upper as ticked, mm",
        "accept from, as ticked, mm", "accept to, as ticked, mm", "actual, mm",
        "in", "between", "out",
    ]  # fmt: skip


# --- tightening record --------------------------------------------------------------------------


def test_a_tightening_record_where_fasteners_are_tightened_one_by_one():
    found = {SHOP.processes[f].number for f in FILES if "tightening-record" in made(f).sheets}
    assert found == {"T6-P-0310", "T6-P-0210"}


def test_tightening_record_has_a_page_for_each_pass_with_the_one_map_to_tick():
    file = file_of("T6-P-0310")
    own = pages(file, "tightening-record")
    traveller = made(file).sheets["traveller"]
    assert list(own) == ["Operation 130", "Operation 140", "Operation 150", "Operation 160"]
    for title, blocks in own.items():
        operation = traveller.split(f"\n## {title.split()[1]} work\n")[1].split("\n## ")[0]
        (plan,) = (b for b in blocks if isinstance(b, Container) and b.name == "map")
        told = {plain(row[0]): plain(row[1]) for row in plan.rows}
        assert (told["fasteners"], told["item"]) == ("24", "bolt 1/4-28")
        assert ("order" in told) == (title != "Operation 160")
        # A fastener is ticked in one place: the traveller has no map and says where it is.
        assert "::: map" not in operation
        assert "| map | on the tightening record: tick each one there, not here |" in operation
        did, _ = (b for b in blocks if isinstance(b, Paragraph))
        said = next(b for b in blocks_of(operation) if isinstance(b, Paragraph))
        assert marked(did.runs) == marked(said.runs)


def pages(file: str, kind: str) -> dict[str, list[Block]]:
    """The blocks under each title that names an operation."""
    found: dict[str, list[Block]] = {}
    title = ""
    for block in blocks_of(made(file).sheets[kind]):
        if isinstance(block, Heading) and block.level == 1:
            title = plain(block.runs)
        elif title.startswith("Operation "):
            found.setdefault(title, []).append(block)
    return found


def test_tightening_record_says_setting_and_threads_and_has_boxes_in_their_units():
    rows = {"130": "wrench setting of pass 1", "140": "wrench setting of pass 2",
            "150": "wrench setting", "160": "wrench setting"}  # fmt: skip
    for title, blocks in pages(file_of("T6-P-0310"), "tightening-record").items():
        row = rows[title.removeprefix("Operation ")]
        _, facts, used, _, whole = (b for b in blocks if isinstance(b, Container))
        told = {plain(row[0]): plain(row[1]) for row in facts.rows}
        assert told["Setting"] == f"as ticked in operation 128: {row} lbf·in"
        assert "the threads are oil-free" in told["Threads"]
        assert [plain(cell) for cell in used.rows[1][1:]] == [
            "box", "box in", "box lbf·in", "box lbf·in", "tick",
        ]  # fmt: skip
        # Of a pass that did not stop one N/A is ticked, in place of two boxes that stay empty; its
        # count is the reading of the operation.
        assert [plain(cell) for cell in whole.rows[0]][1:5] == [
            "N/A", "stopped after no.", "went on from no.", "slip no.",
        ]  # fmt: skip
        assert plain(whole.rows[1][1]) == "tick"


def test_tightening_record_names_a_setting_that_no_strip_answers(tmp_path):
    """Without the strips of operations 126 and 128 the numbers stand as they are worked out."""
    shutil.copytree(Path(__file__).parents[2] / "processes", tmp_path / "processes")
    file = tmp_path / file_of("T6-P-0310")
    text = re.sub(r"(?m)^    strip: .*\n", "", file.read_text(encoding="utf-8"))
    text = re.sub(r"range: [0-9.]+ to [0-9.]+ (lbf·in|in), ", "", text)
    file.write_text(text, encoding="utf-8")
    sheets, findings = sheets_of(open_shop(tmp_path), file_of("T6-P-0310"), FACTS)
    assert sheets is not None, findings
    record = sheets.sheets["tightening-record"]
    settings = re.findall(r"(?m)^\| Setting \| \[(.*?)\]", record)
    # 10/12 of (60 · 30 % + 8), (60 · 70 % + 8) and (60 + 8) lbf·in; by hand.
    assert settings == [
        "21.7 lbf·in (2.45 N·m)", "41.7 lbf·in (4.71 N·m)",
        "56.7 lbf·in (6.40 N·m)", "56.7 lbf·in (6.40 N·m)",
    ]  # fmt: skip


def test_only_what_is_tightened_is_ticked_as_the_wrench_lets_go(tmp_path):
    """Washers are counted beside the bolts: they stay a reading with its limits, and a feature."""
    shutil.copytree(Path(__file__).parents[2] / "processes", tmp_path / "processes")
    shown = file_of("T6-P-0210")
    file = tmp_path / shown
    old = '      - {name: bolts torqued in pass 1, entry: count, exactly: "20"}\n'
    text = file.read_text(encoding="utf-8")
    assert old in text
    washers = old.replace("bolts torqued in pass 1", "washers under the nuts")
    file.write_text(text.replace(old, old + washers), encoding="utf-8")
    sheets, findings = sheets_of(open_shop(tmp_path), shown, FACTS)
    assert sheets is not None, findings
    record = sheets.sheets["tightening-record"]
    ticked = re.findall(r"(?m)^### (.*): tick each one as the wrench lets go$", record)
    assert ticked == ["Bolts torqued in pass 1", "Bolts torqued in pass 2"]
    assert len(re.findall(r"(?m)^\| no\. \d+, bolts torqued in pass [12] \|$", record)) == 40
    assert "ashers" not in record
    counted = "| washers under the nuts | 20 | 20 | count |"
    assert counted in sheets.sheets["traveller"]
    assert counted in sheets.sheets["inspection-sheet"]


@pytest.mark.parametrize(
    ("do", "asks"),
    [
        ("Install the 24 bolts, heads outward.", False),
        ("Install the 24 bolts. Do not torque them.", False),
        ("Torque the 24 bolts to 60 lbf·in.", True),
        ("Re-torque the bolts.", True),
        ("Install the bolts; tighten each nut by half a turn.", True),
        ("Pull the nuts up to 60 lbf·in.", True),
        ("Install the nuts to {{ wrench.final }}.", True),
    ],
)
def test_tightening_record_asks_for_a_wrench_only_where_one_is_set(tmp_path, do, asks):
    """Bolts that are put in round a map with an order have its ticks, and no boxes for N/A."""
    shutil.copytree(Path(__file__).parents[2] / "processes", tmp_path / "processes")
    file = tmp_path / file_of("T6-P-0310")
    text = file.read_text(encoding="utf-8")
    head, tail = text.split("    do: Install the 24 bolts, heads outward", 1)
    own, rest = tail.split("\n", 1)[1].split("  - number: 110\n", 1)
    own = own.replace("    map: lap\n", "    map: ring\n")
    text = f"{head}    do: {do}\n{own}  - number: 110\n{rest}"
    file.write_text(text, encoding="utf-8")
    sheets, findings = sheets_of(open_shop(tmp_path), file_of("T6-P-0310"), FACTS)
    assert sheets is not None, findings
    record = sheets.sheets["tightening-record"]
    page = record.split("# Operation 100\n")[1].split("# Operation 130\n")[0]
    for words in (
        "wrench no.",
        "running drag",
        "wrench set to",
        "| Setting |",
        "the wrench is put",
    ):
        assert (words in page) == asks, words
    assert "::: map circle" in page
    assert "| operation 100: 24 | tick | box |" in page
    assert record.count("wrench no.") == 4 + asks


@pytest.mark.parametrize(
    ("scale", "asks"), [("lbf·in", True), ("N·m", True), ("mm", False), ("", False)]
)
def test_a_wrench_is_set_where_a_torque_is_read(scale, asks):
    reading = dataclasses.replace(reading_row(), unit=scale)
    assert tightens(work("Install the nut.", readings=(reading,))) == asks


# --- balloons -----------------------------------------------------------------------------------


def balloons(number: str) -> dict[str, dict[str, str]]:
    """The balloons of each figure of an inspection sheet: feature number -> dimensions."""
    found: dict[str, dict[str, str]] = {}
    title = ""
    for block in blocks_of(made(file_of(number)).sheets["inspection-sheet"]):
        if isinstance(block, Heading):
            title = plain(block.runs)
        elif isinstance(block, Container) and block.name in ("figure", "map"):
            rows = {plain(a): plain(b) for a, b in block.rows}
            found[title] = {
                name.removeprefix("balloon "): value
                for name, value in rows.items()
                if name.startswith("balloon ")
            }
    return found


def test_the_numbers_in_the_balloons_are_those_of_the_features():
    """Each reading says which dimension it measures; the sheet numbers both alike."""
    numbers = {}
    for row in features("T6-P-0120"):
        numbers.setdefault(row[2], []).append(row[0])
    (blank,), (legs,), (web,) = (
        numbers[name]
        for name in (
            "length of the blank",
            "outer legs, 1 and 3, to the mould line",
            "web, mould line to mould line",
        )
    )
    in_the_brake, aged = numbers["angle bent, 1 and 2"]
    found = balloons("T6-P-0120")
    assert list(found) == ["Figure of operation 30", "Figure of operation 50"]
    flat, bent = found.values()
    assert flat[blank] == "length"
    assert bent[legs] == "leg 1; leg 3"
    assert bent[web] == "leg 2"
    assert bent[in_the_brake] == bent[aged] == "angle 1; angle 2"
    on_a_figure = {*flat, *bent}
    assert numbers["thickness"][0] not in on_a_figure
    assert not on_a_figure & {*numbers["cracks found under the eyeglass"]}


def test_a_map_is_ballooned_without_its_order_and_its_tick_boxes():
    own = balloons("T6-P-0310")
    (chord,) = own["Figure of operation 30"].items()
    own_features = {row[0]: row[2] for row in features("T6-P-0310")}
    assert own_features[chord[0]] == "chord from each hole to the next, 1 to 24"
    assert chord[1] == "chord"
    drawn = draw_sheet(made(file_of("T6-P-0310")).sheets["inspection-sheet"])
    assert not [box for box in drawn.boxes if box.meaning.startswith("bolt 1/4-28 no.")]


def test_a_sheet_without_a_measured_figure_has_none():
    assert balloons("T6-P-0410") == {}
    assert "## Figures" not in made(file_of("T6-P-0410")).sheets["inspection-sheet"]


PART = re.compile(r"(?ms)^## Warnings for the whole job\n(.*?)^##? ")
ALERT = re.compile(r"(?ms)^::: warning\n(.*?)^:::$")


def warned(sheet: str) -> list[str]:
    """The warnings for the whole job on a sheet, with links as a record has them."""
    (part,) = PART.findall(sheet)
    return ALERT.findall(part.replace("](#", "](calculation-sheet.pdf#"))


@pytest.mark.parametrize("file", FILES)
def test_a_record_has_the_warnings_that_hold_for_the_whole_job(file):
    """Who stands at the rig or at the furnace has its sheet in hand, and no traveller."""
    sheets = made(file).sheets
    whole = warned(sheets["traveller"])
    assert whole
    for kind in ("rigging-sheet", "functional-test-sheet"):
        assert kind not in sheets or warned(sheets[kind]) == whole
    if "heat-treatment-record" in sheets:
        at_the_furnace = ("**heat treatment:**", "**alone:**")
        wanted = [each for each in whole if not each.startswith("**")
                  or each.startswith(at_the_furnace)]  # fmt: skip
        assert warned(sheets["heat-treatment-record"]) == wanted


def test_the_test_sheet_prints_the_full_scale_by_which_its_gauge_is_judged():
    said = made(file_of("T6-P-0410")).sheets["functional-test-sheet"]
    tubes, hoses = (f"[{n} bar g](calculation-sheet.pdf#c{i}) for proof" for n, i in
                    ((132, 1), (175, 2)))  # fmt: skip
    told = f"The full scale of the gauge is at least {tubes} tubes, {hoses} hoses."
    assert told in said


def test_an_order_asks_for_a_coupon_where_there_is_one():
    hoses, skin = (made(file_of(f"T6-P-{n}")).sheets["subcontract-order"] for n in ("0410", "0110"))
    assert "coupon" not in hoses
    assert "A part without its coupon, or a coupon without its part, is tagged HOLD." in skin
