"""The sheets that go with a traveller: the demo processes in; which there are, and what they say."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.compose import KINDS, SheetFacts, kinds_of, short
from generator.draw import draw_sheet
from generator.draw.parse import (
    Container,
    Table,
    blocks_of,
    plain,
)  # fmt: skip
from generator.workshop import sheets_of
from tests.compose.sheets import FILES, SHOP, features, file_of, made, operations, rows
from tests.draw.inspector import pages_of

# --- which sheets there are ---------------------------------------------------------------------


@pytest.mark.parametrize("file", FILES)
def test_the_sheets_are_those_that_the_process_needs(file):
    kinds = tuple(made(file).sheets)
    assert kinds == kinds_of(SHOP.processes[file])
    assert list(kinds) == [kind for kind in KINDS if kind in kinds]


@pytest.mark.parametrize("file", FILES)
def test_a_hold_list_where_the_work_stops(file):
    stops = [o for o in operations(file) if o.kind in ("hold", "witness", "independent")]
    assert ("hold-list" in made(file).sheets) == bool(stops)


# --- hold list ----------------------------------------------------------------------------------


def test_hold_list_says_where_who_and_when():
    found = [row[:4] for row in rows("T6-P-0410", "hold-list", "points") if row[1] != "point"]
    assert found == [
        ["60", "HOLD", "lead", "-"],
        ["90", "WITNESS", "inspector", "3 d"],
        ["200", "INDEPENDENT", "inspector, then independent inspector", "-"],
        ["220", "HOLD", "inspector", "-"],
    ]


def test_hold_list_names_the_points_that_two_persons_look_at():
    told = [row for row in rows("T6-P-0410", "hold-list", "points") if row[1] == "point"]
    (operation,) = (o for o in operations(file_of("T6-P-0410")) if o.number == 200)
    assert len(operation.points) == 5
    assert [(row[0], row[4]) for row in told] == [("200", point) for point in operation.points]


def test_each_point_of_the_hold_list_begins_a_line():
    (page, *_) = pages_of(draw_sheet(made(file_of("T6-P-0410")).sheets["hold-list"]).pdf)
    starts = [said for said in page.said if said.text.startswith("\u2013")]
    assert len(starts) == 5
    assert len({round(said.place.x, 1) for said in starts}) == 1


# --- kit list -----------------------------------------------------------------------------------


@pytest.mark.parametrize("file", FILES)
def test_a_kit_list_where_there_is_a_kit(file):
    assert ("kit-list" in made(file).sheets) == bool(SHOP.processes[file].kit)


def test_kit_list_has_the_lines_of_the_process_and_boxes_for_their_papers():
    own = rows("T6-P-0310", "kit-list", "fill")
    kit = SHOP.processes[file_of("T6-P-0310")].kit
    once = {True: " (single use)", False: ""}
    meant = [[k.item + once[k.single_use], k.quantity, str(k.spares)] for k in kit]
    assert [row[1:4] for row in own] == meant
    assert own[4][1] == "sealant"
    assert own[4][4:] == ["box", "box", "tick", "box"]
    assert own[0][4:] == ["box", "box", "tick", "-"]


def test_the_traveller_asks_for_the_lists_and_has_no_second_place_for_what_they_hold():
    sheet = made(file_of("T6-P-0310")).sheets["traveller"]
    asked = [line for line in sheet.splitlines() if line.startswith(("| kit list", "| tool list"))]
    assert len(asked) == 3
    assert "self-locking nut 1/4-28 (single use)" not in sheet


def test_kit_list_balances_what_is_counted_and_says_the_rule():
    counted = rows("T6-P-0310", "kit-list", "fill", 1)
    kit = SHOP.processes[file_of("T6-P-0310")].kit
    assert [row[1] for row in counted] == [line.item for line in kit if line.count]
    assert all(row[2:] == ["box"] * 4 + ["tick"] for row in counted)
    sheet = made(file_of("T6-P-0310")).sheets["kit-list"]
    assert "Issued = used + returned + scrapped." in sheet


def test_kit_list_asks_a_reason_and_a_stamp_for_a_box_left_empty():
    for row in rows("T6-P-0310", "kit-list", "fill", 2):
        assert row[1:] == ["box", "tall box", "box", "stamp"]


# --- tool list ----------------------------------------------------------------------------------

PRESSURE = "T6-P-0410"


@pytest.mark.parametrize("file", FILES)
def test_tool_list_has_every_tool_and_every_kind_of_instrument(file):
    process = SHOP.processes[file]
    found = [rows(process.number, "tool-list", "fill", n) for n in range(2)]
    assert [row[1] for row in found[0]] == list(process.tools)
    assert [row[0] for row in found[1]] == [each.kind for each in process.instruments]
    assert all(row[3] == "box" for row in found[1])


def instruments_on(day: str) -> dict[str, str]:
    sheet = made(file_of(PRESSURE), SheetFacts("A-0007", ("0003",), day)).sheets["tool-list"]
    held = [b for b in blocks_of(sheet) if isinstance(b, Container) and b.name == "fill"]
    return {plain(row[0]): plain(row[2]) for row in held[1].rows[1:]}


def test_tool_list_judges_the_instruments_on_the_day_of_printing():
    """The list of the workshop: G-160 due 2027-02-01; G-161 the same, but it reads to 5 bar."""
    coarse = "G-161 due 2027-02-01: TOO COARSE, reads to 5 bar"
    on_the_day = instruments_on("2027-02-01")["pressure gauge"]
    assert on_the_day == f"G-160 due 2027-02-01; {coarse}"
    late = instruments_on("2027-02-02")["pressure gauge"]
    assert late == "G-160 due 2027-02-01: OUT OF DATE; G-161 due 2027-02-01: OUT OF DATE"
    assert instruments_on("not dated")["pressure gauge"] == on_the_day


def test_what_hangs_on_one_print_does_not_change_the_fingerprint():
    file = file_of(PRESSURE)
    one, other = made(file), made(file, SheetFacts("", (), "2027-02-02"))
    assert one.fingerprint == other.fingerprint
    assert one.sheets["tool-list"] != other.sheets["tool-list"]


# --- evidence sheet -----------------------------------------------------------------------------


def evidence_of(file: str) -> list[list[str]]:
    """Number, value, source and note of every row of an evidence sheet, by their marks."""
    blocks = blocks_of(made(file).sheets["evidence-sheet"])
    tables = [b for b in blocks if isinstance(b, Container | Table) and len(b.rows[0]) > 3]
    told = [[plain(cell) for cell in row] for table in tables for row in table.rows[1:]]
    return [row for row in told if row[0] != "first"]  # the place for what does not apply


@pytest.mark.parametrize("file", FILES)
def test_evidence_sheet_has_every_given_as_the_traveller_has_it(file):
    number = SHOP.processes[file].number
    found = {row[0]: row for row in evidence_of(file)}
    given = rows(number, "traveller", "givens")
    assert set(found) == {row[0] for row in given}
    for mark, name, value, source, note in given:
        row = found[mark]
        assert row[1] == name
        assert row[2].partition("; allowed ")[0] == value
        assert row[3].startswith(source)
        assert note in " ".join(row[3:])


def test_evidence_sheet_has_stamp_and_date_beside_what_was_measured():
    sources = {"measured from an original part", "measured from the mating structure"}
    for file in FILES:
        given = SHOP.processes[file].given
        for row in evidence_of(file):
            one = given[row[1].replace(" ", "_")]
            measured = one.with_part or one.source in sources
            assert (row[-2:] == ["stamp", "box"]) == measured, row


def test_evidence_sheet_says_typed_and_example():
    file = file_of("T6-P-0310")
    process = SHOP.processes[file]
    typed = replace(process.given["skin"], source="calculated")
    given = {**process.given, "skin": typed}
    shop = replace(SHOP, processes={**SHOP.processes, file: replace(process, given=given)})
    made_of, _ = sheets_of(shop, file, SheetFacts("", (), "2026-11-25"))
    assert made_of is not None and "TYPED" not in made(file).sheets["evidence-sheet"]
    assert "| skin | 0.914 mm **TYPED** |" in made_of.sheets["evidence-sheet"]
    drafted, _ = sheets_of(SHOP, file_of("T6-P-0210"), SheetFacts("", (), "2026-11-25"))
    assert drafted is not None
    assert "**EXAMPLE**" in drafted.sheets["evidence-sheet"].partition("## Measured")[2]


# --- part labels --------------------------------------------------------------------------------


@pytest.mark.parametrize("file", FILES)
def test_eight_labels_on_a_page_say_what_the_part_is(file):
    process, sheets = SHOP.processes[file], made(file)
    drawn = draw_sheet(sheets.sheets["part-labels"])
    assert drawn.pages == 1
    one = [box.meaning for box in drawn.boxes if box.row == "label 1"]
    assert one == ["part serial", "HOLD", "SERVICEABLE", "SCRAP"]
    assert len(drawn.boxes) == 8 * len(one)
    (block,) = (
        b for b in blocks_of(sheets.sheets["part-labels"]) if getattr(b, "name", "") == "labels"
    )
    said = {plain(row[0]): plain(row[1]) for row in block.rows}
    hand = {} if process.part.hand == "none" else {"Hand": process.part.hand}
    assert said == {
        "Part": process.part.number,
        "Name": process.part.name,
        **hand,
        "Serial": "box",
        "Status": "HOLD, SERVICEABLE, SCRAP",
        "Process": f"{process.number} revision {process.revision.letter}",
        "Traveller": f"A-0007, print {short(sheets.fingerprint)}",
    }


# --- closing sheet ------------------------------------------------------------------------------


@pytest.mark.parametrize("file", FILES)
def test_closing_sheet_tallies_every_tool_and_asks_for_every_sheet(file):
    process = SHOP.processes[file]
    held = [rows(process.number, "closing-sheet", "fill", n) for n in range(4)]
    tools = [*process.tools, *(each.kind for each in process.instruments)]
    assert [row[1] for row in held[0]] == tools
    others = [k.replace("-", " ") for k in kinds_of(process) if k != "closing-sheet"]
    assert [row[0] for row in held[3]] == others
    assert [row[0] for row in held[2]][:2] == ["non-conformance slips", "concession slips"]


@pytest.mark.parametrize("file", FILES)
def test_what_the_close_counts_is_asked_by_its_operation_alone(file):
    closing = [o for o in operations(file) if o.kind == "close"]
    counts = [r.name for o in closing for r in o.readings if r.entry == "count"]
    assert counts
    inspected = features(SHOP.processes[file].number)
    numbers = {str(o.number) for o in closing}
    assert not [row[2] for row in inspected if row[1] in numbers and row[2] in counts]
    assert not [name for name in counts if f"| {name} |" in made(file).sheets["closing-sheet"]]


# --- slips --------------------------------------------------------------------------------------


@pytest.mark.parametrize("file", FILES)
def test_both_slips_stand_on_one_page_with_the_facts_of_the_print(file):
    sheets = made(file)
    drawn = draw_sheet(sheets.sheets["slips"])
    assert drawn.pages == 1
    meanings = {box.meaning for box in drawn.boxes}
    assert {"slip no.", "what it is", "what it should be", "quantity", "photo no."} < meanings
    assert {"use as is", "rework", "return", "scrap", "technical reason"} < meanings
    for facts in (
        b for b in blocks_of(sheets.sheets["slips"]) if getattr(b, "name", "") == "facts"
    ):
        said = {plain(row[0]): plain(row[1]) for row in facts.rows}
        assert said["Traveller"] == f"A-0007, print {short(sheets.fingerprint)}"
        assert said["Serial"] == "0003"


# --- all of them --------------------------------------------------------------------------------


@pytest.mark.parametrize("file", FILES)
def test_no_two_boxes_of_a_page_mean_the_same(file):
    """A box on a scan is found by its sheet, page, row and meaning."""
    for kind in set(kinds_of(SHOP.processes[file])) - {"traveller", "calculation-sheet"}:
        boxes = draw_sheet(made(file).sheets[kind]).boxes
        assert all(box.meaning and box.row for box in boxes)
        known = [(box.page, box.row, box.meaning) for box in boxes]
        twice = {each for each in known if known.count(each) > 1}
        assert not twice, (kind, twice)


@pytest.mark.parametrize("file", FILES)
def test_no_sheet_ends_on_a_page_with_nothing_to_fill_in(file):
    for kind in set(kinds_of(SHOP.processes[file])) - {"traveller", "calculation-sheet"}:
        drawn = draw_sheet(made(file).sheets[kind])
        assert max(box.page for box in drawn.boxes) == drawn.pages, kind


def test_the_last_true_length_goes_on_to_no_line():
    """A trammel has nothing to be set to behind the last line: a dash, and no 0.0 to set it to."""
    sheet = made(file_of("T6-P-0130")).sheets["table-of-ordinates"]
    told = sheet.split("true lengths, line by line")[1].split("\n\n")[1].split("\n")
    first, *_, before, last = ([cell.strip() for cell in row.split("|")[1:-1]] for row in told[2:])
    assert last == ["25", first[1], "\\-", "\\-", "\\-"]
    assert before[0] == "24"
    assert all(float(cell) > 0 for cell in before)
