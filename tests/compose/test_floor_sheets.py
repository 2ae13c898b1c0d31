"""The demo workshop in; sheets that are filled in by hand when something happens, and the place
where a box that does not apply is explained, out."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from generator.draw import draw_sheet
from generator.workshop import open_shop, sheets_of
from tests.compose.sheets import FACTS, FILES, SHOP, features, file_of, made, rows
from tests.helping import SOUND

# What somebody may leave empty for a reason. Slips, rework and labels are written when needed.
FILLED_IN = (
    "traveller", "kit-list", "tool-list", "hold-list", "evidence-sheet", "inspection-sheet",
    "tightening-record", "closing-sheet", "fit-record",
)  # fmt: skip
RULE = "A box left empty is work not done."


@pytest.mark.parametrize("file", FILES)
def test_every_sheet_that_is_filled_in_has_a_place_for_what_does_not_apply(file):
    sheets = made(file).sheets
    for kind in FILLED_IN:
        if kind in sheets:
            assert sheets[kind].count(RULE) == 1, kind
            assert (
                "| N/A | operation or line | which box, and the reason | date | stamp |"
                in (sheets[kind])
            )


@pytest.mark.parametrize("file", FILES)
def test_what_goes_on_no_airframe_has_no_fit_record(file):
    process = SHOP.processes[file]
    fitted = process.trade not in ("block making", "survey")
    assert ("fit-record" in made(file).sheets) == fitted


def test_a_fit_record_has_a_line_for_each_part_of_a_set():
    process = SHOP.processes[file_of("T6-P-0210")]
    fitted = rows("T6-P-0210", "fit-record", "fill")
    assert [row[0] for row in fitted] == [str(n) for n in range(1, process.part.set_of + 1)]
    assert all(row[1:] == ["box", "tick", "wide box", "box", "stamp"] for row in fitted)


def test_a_fit_record_of_a_handed_part_asks_for_both_hands():
    hands = rows("T6-P-0410", "fit-record", "fill", 2)
    assert [row[0] for row in hands] == ["PORT", "STBD"]
    assert "## Both hands" not in made(file_of("T6-P-0310")).sheets["fit-record"]


def test_rework_has_four_operations_each_with_limits_and_two_stamps():
    sheet = made(file_of("T6-P-0310")).sheets["rework-sheet"]
    assert sheet.count("operation, such as 100R1") == 4
    done = [
        rows("T6-P-0310", "rework-sheet", "fill", at)[0] for at in (1, 2, 3, 4, 6, 7, 8, 9)
    ]  # of each operation one row of what is done, one of who signs
    assert all(row[3:] == ["box", "box", "box"] for row in done[::2])
    assert all(row[1:] == ["box", "stamp", "box", "stamp", "box"] for row in done[1::2])


def test_a_stop_work_notice_says_so_in_words_and_has_a_stub():
    sheet = made(file_of("T6-P-0410")).sheets["stop-work-notice"]
    assert "::: stop\nDO NOT WORK ON THIS PART\n:::" in sheet
    assert rows("T6-P-0410", "stop-work-notice", "fill", 3)[0][0] == "kept"


@pytest.mark.parametrize("kind", ["slips", "rework-sheet", "stop-work-notice"])
@pytest.mark.parametrize("file", FILES)
def test_a_box_that_does_not_apply_gets_its_reason_and_a_stamp_on_every_loose_sheet(file, kind):
    boxes = draw_sheet(made(file).sheets[kind]).boxes
    reason = "which box does not apply, and the reason"
    (row,) = {box.row for box in boxes if box.meaning == reason}
    assert [box.meaning for box in boxes if box.row == row] == [reason, "date", "stamp"]


# --- rigging, functional test, heat treatment ---------------------------------------------------

WRITTEN = [
    ("T6-P-0510", "rigging-sheet", (70, 80, 100)),
    ("T6-P-0410", "functional-test-sheet", (80, 100)),
    ("T6-P-0110", "heat-treatment-record", (130,)),
]


@pytest.mark.parametrize(("number", "kind", "operations"), WRITTEN)
def test_readings_written_elsewhere_have_one_place_and_the_same_limits(number, kind, operations):
    """What a limit says is the inspection sheet's, character for character."""
    sheets = made(file_of(number)).sheets
    inspected = {row[2]: row[3:6] for row in features(number)}
    for at, operation in enumerate(operations):
        process = SHOP.processes[file_of(number)]
        (own,) = [each for each in process.operations if each.number == operation]
        told = rows(number, kind, "readings", at)
        assert len(told) == len(own.readings)
        for name, lower, upper, unit, *_ in told:
            if name in inspected:
                assert [lower, upper, unit] == inspected[name]
        part = sheets["traveller"].split(f"\n## {operation} ")[1].split("\n## ")[0]
        assert "::: readings" not in part
        table = ", with its table" if own.strip else ""
        assert f"on the {kind.replace('-', ' ')}{table}, not here" in part
        assert "::: strip" not in part


@pytest.mark.parametrize(("number", "kind", "operations"), WRITTEN)
def test_a_strip_stands_above_the_boxes_of_its_readings(number, kind, operations):
    sheets = made(file_of(number)).sheets
    asked = {o.number: o for o in SHOP.processes[file_of(number)].operations}
    for operation in operations:
        part = sheets[kind].split(f"\n## Operation {operation}\n")[1].split("\n## ")[0]
        assert part.count("::: strip") == bool(asked[operation].strip)
        if asked[operation].strip:
            assert part.index("::: strip") < part.index("::: readings")


@pytest.mark.parametrize("file", FILES)
def test_a_sheet_of_its_own_stands_only_where_an_operation_is_written_there(file):
    number = SHOP.processes[file].number
    wanted = {kind for process, kind, _ in WRITTEN if process == number}
    assert wanted == set(made(file).sheets) & {kind for _, kind, _ in WRITTEN}


def test_two_people_write_what_they_saw_of_every_movement():
    (own,) = [o for o in SHOP.processes[file_of("T6-P-0510")].operations if o.sense]
    sheet = made(file_of("T6-P-0510")).sheets["rigging-sheet"]
    for n, point in enumerate(own.sense, start=1):
        assert f"### Point {n}: {point.do}" in sheet
        assert f"Must be seen: **{point.see}**" in sheet
        part = sheet.split(f"### Point {n}: {point.do}\n")[1].split("\n### ")[0]
        told = re.findall(
            rf"(?m)^\| point {n}: (\w+), (.*) \| wide box \| tick \| box \| stamp \|$", part
        )
        assert told == [("first", "inspector"), ("second", "independent inspector")]


def test_a_log_has_a_row_for_each_time_and_a_temperature_beside_each_pressure():
    told = rows("T6-P-0410", "functional-test-sheet", "fill", 3)
    assert [row[0] for row in told] == [f"{n} min" for n in range(0, 11, 2)]
    assert all(row[1:] == ["clock", "box bar g", "box °C", "wide box"] for row in told)


def test_a_rigging_sheet_says_in_which_order_something_is_adjusted():
    """The steps stand there where one of them adjusts; where all of them measure, they do not."""
    number, kind = "T6-P-0510", "rigging-sheet"
    process = SHOP.processes[file_of(number)]
    sheet = made(file_of(number)).sheets[kind]
    for operation, adjusts in ((70, True), (80, False), (100, False)):
        (own,) = [each for each in process.operations if each.number == operation]
        part = sheet.split(f"\n## Operation {operation}\n")[1].split("\n## ")[0]
        order = "\n".join(f"| {n} | {step} |" for n, step in enumerate(own.steps, start=1))
        assert (bool(order) and order in part) == adjusts
        assert ("| In this order | each step is ticked on the traveller |" in part) == adjusts


def test_the_medium_of_a_quench_is_on_the_order_and_on_the_record(tmp_path):
    shutil.copytree(Path(__file__).parents[2] / "processes", tmp_path / "processes")
    shown = file_of("T6-P-0110")
    file = tmp_path / shown
    text = file.read_text(encoding="utf-8")
    old = "    heat treatment:\n"
    assert text.count(old) == 1
    file.write_text(text.replace(old, f"{old}      quench: cold water\n"), encoding="utf-8")
    sheets, findings = sheets_of(open_shop(tmp_path), shown, FACTS)
    assert sheets is not None, findings
    for kind in ("subcontract-order", "heat-treatment-record"):
        assert "| Quenched in | cold water |" in sheets.sheets[kind]
        assert "Quenched in" not in made(shown).sheets[kind]


HYDRAULIC = ("fluid", "filter element", "air bled", "relief set", "bar g", "pressure")
CONTROL = """  - number: 33
    kind: work
    do: Move the shelf up.
    sense: [{do: handle up, see: shelf UP}]
  - number: 36
    kind: independent
    do: Look at the shelf.
    first by: inspector
    second by: independent inspector
    points: [locked]
"""
TESTED = [("control rigging", "control"), ("assembly", "assembly"), ("machining", "part")]


@pytest.mark.parametrize(("trade", "tested"), TESTED)
def test_a_functional_test_sheet_speaks_of_what_its_trade_tests(tmp_path, trade, tested):
    """A rig with fluid, filter and relief valve belongs to hydraulics alone."""
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    file = tmp_path / "processes/shelf.yaml"
    text = file.read_text(encoding="utf-8").replace("trade: forming", f"trade: {trade}")
    own = CONTROL if tested == "control" else ""
    for old, new in (
        ("    do: Measure", "    recorded on: functional test sheet\n    do: Measure"),
        ("  - number: 40\n", f"{own}  - number: 40\n"),
    ):
        assert old in text
        text = text.replace(old, new, 1)
    file.write_text(text, encoding="utf-8")
    shop = open_shop(tmp_path)
    assert shop.findings == ()
    sheets, findings = sheets_of(shop, "processes/shelf.yaml", FACTS)
    assert sheets is not None, findings
    sheet = sheets.sheets["functional-test-sheet"]
    assert f"## The {tested} before the test" in sheet
    assert f"| {tested} ready | box | tick | tick | box °C | box |" in sheet
    own = sheet.partition("\n## Operation ")[0].partition("\n# ")[2]
    assert [word for word in HYDRAULIC if word in own] == []
    hydraulic = made(file_of("T6-P-0410")).sheets["functional-test-sheet"]
    assert "fluid, by its specification" in hydraulic


def test_a_heat_treatment_record_adds_the_window_to_the_quench_and_guesses_nothing():
    clocks = {row[0]: row[1] for row in rows("T6-P-0110", "heat-treatment-record", "clock")}
    assert clocks["the window ends, out of the store"] == "+ 20 min"
    assert clocks["natural ageing complete, out of the store"] == "+ 96 h"
    assert clocks["earliest out, from the soak's start"] == "+ 35 min"
    assert clocks["latest out, from the soak's start"] == "+ 40 min"
    assert clocks["latest out of the cold store"] == "+ 14 d"
    held = "earliest out, from the soak's start", "latest out, from the soak's start"
    assert clocks["soak ends"] == f"not before: {held[0]}; not after: {held[1]}"
    assert clocks["out of the cold store"] == "not after: latest out of the cold store"
    order = list(clocks)
    assert order.index("last metal under: quench") < order.index("into the cold store")
    assert order.index("out of the cold store") < order.index("the window ends, out of the store")
    asked = rows("T6-P-0110", "heat-treatment-record", "fill", 3)
    assert asked[0] == ["temperature of the load", "by the specification", "box °C"]
    assert asked[3] == ["quench delay, door starts to open to last metal under", "10 s", "box s"]
    assert asked[4] == ["warmest reading of the cold store", "−18 °C", "box °C"]


@pytest.mark.parametrize("file", FILES)
def test_what_goes_out_has_an_order_and_a_return_with_its_coupon(file):
    process, sheets = SHOP.processes[file], made(file).sheets
    out = [o for o in process.operations if o.kind == "subcontract"]
    assert ("subcontract-order" in sheets) == bool(out)
    for n, operation in enumerate(out):
        sheet = sheets["subcontract-order"]
        assert f"## Order for operation {operation.number}" in sheet
        assert f"## Return for operation {operation.number}" in sheet
        treated = operation.heat_treatment
        if treated is not None:
            sent = rows(process.number, "subcontract-order", "fill", 4 * n + 1)
            back = rows(process.number, "subcontract-order", "fill", 4 * n + 2)
            assert sent[1] == ["coupon", "wide box", "box", "box"]
            assert back[1] == ["coupon", "box", "box", "tick", "tick", "box"]
            assert f"| Coupon | {treated.coupon}" in sheet


def test_the_order_says_the_numbers_of_the_heat_treatment_record():
    sheets = made(file_of("T6-P-0110")).sheets
    for text in ("35 min", "40 min", "10 s", "−18 °C"):
        assert text in sheets["heat-treatment-record"] and text in sheets["subcontract-order"]
    traveller = sheets["traveller"]
    assert "operations 150, 160 together take 19 min" in traveller
    (mark,) = re.findall(r"\| the window ends \| \\\+ \[as ticked\]\(#(c\d+)\) \|", traveller)
    assert f"| [working window min](#{mark}) |" in traveller


def test_bolts_that_are_tightened_without_a_map_have_a_tick_in_every_pass():
    """Operation 200 counts 20 bolts in each of two passes, on no map."""
    sheet = made(file_of("T6-P-0210")).sheets["tightening-record"]
    for n in (1, 2):
        told = [f"| no. {bolt}, bolts torqued in pass {n} |" for bolt in range(1, 21)]
        assert all(sheet.count(each) == 1 for each in told)
        row = f"| bolts torqued in pass {n}: 20 | tick | box | box | box | box | stamp |"
        assert sheet.count(row) == 1
    assert "no. 21, bolts" not in sheet


def test_a_rivet_map_has_every_rivet_its_numbers_and_counts_by_row():
    """96 rivets in four rows, as SCENARIO 6.3 has them on the ring."""
    sheet = made(file_of("T6-P-0310")).sheets["rivet-map"]
    counted = rows("T6-P-0310", "rivet-map", "fill")
    assert sum(int(row[1]) for row in counted) == 96
    assert all(row[2:] == ["box", "box", "box", "tick"] for row in counted)
    # The values are those of the traveller's table of numbers, character for character.
    results = [(row[0], row[2]) for row in rows("T6-P-0310", "traveller", "results")]
    for shown in (("c10", "21.86 mm"), ("c14", "7.28 mm"), ("c19", "7.95 mm")):
        assert shown in results
        assert f"[{shown[1]}](calculation-sheet.pdf#{shown[0]})" in sheet


@pytest.mark.parametrize("file", FILES)
def test_a_rivet_map_only_where_a_map_is_of_rivets(file):
    riveted = any(plan.fastening == "rivet" for plan in SHOP.processes[file].maps.values())
    assert ("rivet-map" in made(file).sheets) == riveted


@pytest.mark.parametrize("file", FILES)
def test_every_sheet_with_lines_for_na_says_how_a_box_is_named_and_who_stamps(file):
    says = "N/A has a line here (box: reason), stamped by lead or inspector;"
    with_lines = {
        k for k, sheet in made(file).sheets.items() if "| N/A | operation or line" in sheet
    }
    assert with_lines == {kind for kind, sheet in made(file).sheets.items() if says in sheet}
    assert "traveller" in with_lines
