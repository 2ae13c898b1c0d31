"""The sheets of the demo travellers in; rework sheets on which everything that they name is there,
under its own name, out."""

from __future__ import annotations

import json
import re

import pytest

from generator.draw import box_map, lay_out
from generator.draw.sheet import read_sheet
from generator.results.form import Form, form_of
from generator.results.supplement import is_rework, operations_of, supplement, void_behind
from tests.compose.sheets import FILES, file_of, made
from tests.results.test_form import form as printed

RECORDS = ("rigging sheet", "functional test sheet", "heat treatment record", "tightening record")


def again(file: str, numbers: tuple[str, ...] = (), sheets: dict[str, str] | None = None) -> str:
    """The rework sheet R1 of all operations, or of some."""
    sheets = sheets or dict(made(file).sheets)
    known = [each.number for each in operations_of(read_sheet(sheets["traveller"]).parts)]
    return supplement(sheets, ("REWORK R1", "R1"), numbers or known, ["Why."], "2026-11-26")


def form(sheet: str) -> Form:
    drawn = lay_out({"traveller": sheet}).sheet("traveller")
    return form_of({"traveller": sheet}, json.loads(box_map({"traveller": drawn})))


@pytest.mark.parametrize("file", FILES)
def test_everything_that_a_rework_sheet_leads_to_is_on_it(file):
    sheet = again(file)
    heads = set(re.findall(r"(?m)^# (Operation .*)$", sheet))
    led = re.findall(r"(?m)^\| (?:written|map|sense) \| (.*) \|$", sheet)
    for words in led:
        assert not any(f"the {record}" in words for record in RECORDS)
        assert "not here" not in words
        (there,) = re.findall(r"under (Operation [0-9]+R1) on this sheet", words)
        assert there in heads
    was = re.findall(r"(?m)^\| (?:written|map|sense) \| ", made(file).sheets["traveller"])
    assert len(led) == len(was)
    assert not re.search(r"(?m)^\| operation [0-9]+\b(?!R1)", sheet)
    for closed in re.findall(r"(?m)^\| closes operations \| (.*) \|$", sheet):
        assert re.fullmatch(r"none|[0-9]+R1(?:(?: to |, )[0-9]+R1)*", closed)


@pytest.mark.parametrize("file", [file_of("T6-P-0110"), file_of("T6-P-0410")])
def test_a_reading_that_is_taken_again_is_read_with_the_same_kind_of_instrument(file):
    """Without it a value beyond its instrument was a question on a rework sheet, and no finding."""
    first, _ = printed(file)
    kinds = {(f.operation, f.row, f.name): f.measured_with for f in first.fields if f.operation}
    overleaf = re.compile(r" \([0-9]+\)$")
    for (operation, row, name), kind in kinds.items():
        beside = {
            k for (o, r, _), k in kinds.items() if (o, r) == (operation, overleaf.sub("", row))
        }
        assert overleaf.search(row) is None or {kind} == beside, (operation, row, name)
    again_with = {
        (f.operation.removesuffix("R1"), overleaf.sub("", f.row)): f.measured_with
        for f in form(again(file)).fields if f.operation and f.kind == "number"
    }  # fmt: skip
    told = {(o, overleaf.sub("", r)): k for (o, r, _), k in kinds.items() if k}
    assert told
    assert {key: again_with[key] for key in told} == told


def test_what_is_measured_on_a_record_is_void_too():
    """The proof of T6-P-0410 is work by its kind, and its pressure stands on the test sheet."""
    sheets = made(file_of("T6-P-0410")).sheets
    operations = operations_of(read_sheet(sheets["traveller"]).parts)
    numbers = [each.number for each in operations]
    written = re.findall(r"(?m)^## Operation ([0-9]+)$", sheets["functional-test-sheet"])
    assert any(each.kind == "work" for each in operations if each.number in written)
    void = void_behind(operations, numbers[:1], numbers[-1])
    assert {*written} <= {*void}


def test_a_wait_is_void_behind_what_is_done_again():
    """The ageing of T6-P-0110 is a wait without a reading: metal that is treated again waits anew,
    or the tests and the hold behind it are made on soft metal."""
    operations = operations_of(read_sheet(made(file_of("T6-P-0110")).sheets["traveller"]).parts)
    assert "180" in void_behind(operations, ["130"], "240")
    assert "180" not in void_behind(operations, ["130"], "170")  # the work has not come so far
    assert "180" not in void_behind(operations, ["190"], "240")
    waits = [each.number for each in operations if each.kind == "wait"]
    assert {*waits} <= {*void_behind(operations, ["10"], "240")}


def test_a_treatment_is_on_the_rework_sheet_with_its_clock():
    sheet = again(file_of("T6-P-0110"), ("130",))
    assert sheet.count("# Operation 130R1\n") == 1
    own = sheet.partition("# Operation 130R1\n")[2]
    for told in ("### Treatment", "### Clock", "| operation 130R1, as it happened |"):
        assert told in own
    assert "Treatment" not in again(file_of("T6-P-0110"), ("140",))


HOLDS = [
    (("40", "80"), "40R1"),
    (("40", "50", "80"), "40R1, 50R1"),
    (("40", "50", "60", "80"), "40R1 to 60R1"),
    (("40", "60", "80"), "40R1, 60R1"),
    (("80", "90"), "10 to 70"),  # what it closes is on the traveller
]


@pytest.mark.parametrize(("numbers", "closed"), HOLDS)
def test_a_hold_closes_what_is_done_again(numbers, closed):
    sheet = again(file_of("T6-P-0310"), numbers)
    assert f"| closes operations | {closed} |" in sheet
    (stop,) = [each for each in form(sheet).stops if each.operation == "80R1"]
    assert stop.closes == tuple(f"{n}R1" for n in numbers if int(n) < 80)


def test_a_map_of_rivets_is_ticked_on_the_rework_sheet_once_for_all_its_operations():
    told = dict(made(file_of("T6-P-0310")).sheets)
    row = "| map | on the rivet map: tick each one there, not here |"
    state = f"::: state\n{row}\n| --- | --- |\n:::\n\n"
    for number in ("100", "160"):
        told["traveller"] = re.sub(rf"(?m)^(## {number} .*\n)", rf"\1\n{state}", told["traveller"])
    told["rivet-map"] = told["rivet-map"].replace(
        "Not stopped:", "Operation 100, 160. Not stopped:"
    )
    sheet = again(file_of("T6-P-0310"), ("100", "160"), told)
    led = "| map | under Operation 100R1 on this sheet: tick each one there |"
    assert sheet.count(led) == 2
    assert sheet.count("### Map rivets") == 1
    spare = [f for f in form(sheet).fields if f.row == "first of map rivets"]
    assert {f.name for f in spare} >= {"rivet no.", "what was wrong", "replaced"}
    assert all(f.operation and f.may_be_empty for f in spare)
    assert "Operation 100, 160" not in sheet
    driven = [f for f in form(sheet).fields if f.name == "driven"]
    assert [(f.operation, f.lower, f.upper) for f in driven] == [("100R1", "24", "24")] * 4


def test_a_sheet_of_a_newer_revision_keeps_the_numbers_of_its_operations():
    sheets = made(file_of("T6-P-0410")).sheets
    (number,) = re.findall(r"## Operation ([0-9]+)\n", sheets["functional-test-sheet"])[:1]
    sheet = supplement(sheets, ("CHANGE B", ""), [number], ["Why."], "2026-11-26")
    assert f"under Operation {number} on this sheet" in sheet
    assert f"| operation {number}, as it happened |" in sheet
    assert "is meant" not in sheet


def test_what_is_used_again_has_boxes_for_its_batch_and_its_day():
    """Operation 30 of T6-P-0105 uses the boards and the glue, of which the glue has a day."""
    sheets = dict(made(file_of("T6-P-0105")).sheets)
    uses = {
        e: re.findall(r"(?m)^\| uses \| (.*) \|$", again("", (e,), sheets)) for e in ("30", "40")
    }
    assert "resin glue for timber" in uses["30"][0]
    boxes = [
        f for f in form(again("", ("30",), sheets)).fields if f.row == "2 resin glue for timber"
    ]
    assert [(f.name, f.kind, f.used_in) for f in boxes] == [
        ("batch", "words", ()), ("use by", "date", ("30R1",))
    ]  # fmt: skip
    assert all(f.lasts == (f.name == "use by") and not f.may_be_empty for f in boxes)
    assert "glue" not in str(uses["40"])
    assert not any("glue" in f.row for f in form(again("", ("40",), sheets)).fields)
    adopted = supplement(sheets, ("REVISION B", ""), ["30"], ["Why."], "2026-11-26")
    assert "Material used again" not in adopted


def test_a_life_is_used_by_the_operations_that_name_its_reading():
    """The demo's hose life is read in operation 60, and no operation says that it alone uses it."""
    sheets = dict(made(file_of("T6-P-0110")).sheets)
    life = "earliest life date on a jack hose"
    named = {"60": "", "100": ""}
    for number in named:
        head = f"\n## {number} "
        body = sheets["traveller"]
        at = body.index(head)
        block = body[at : body.index("\n## ", at + 1)]
        named[number] = block
    (field,) = [f for f in form(again("", tuple(named), sheets)).fields if f.row == life]
    assert field.used_in == ()
    told = named["100"].replace(
        "\n::: ", f"\n::: state\n| uses | rope, {life} |\n| --- | --- |\n:::\n\n::: ", 1
    )
    sheets["traveller"] = sheets["traveller"].replace(named["100"], told)
    (field,) = [f for f in form(again("", tuple(named), sheets)).fields if f.row == life]
    assert field.used_in == ("100R1",)


def test_no_rivet_needs_to_be_rejected_on_a_rework_sheet():
    """As on the rivet map itself, where those lines may stay empty."""
    sheets = dict(made(file_of("T6-P-0310")).sheets)
    told = sheets["rivet-map"].replace("Not stopped: ", "Operation 130. Not stopped: ", 1)
    assert told != sheets["rivet-map"]
    own = form(again(file_of("T6-P-0310"), ("130",), {**sheets, "rivet-map": told}))
    rows = {f.row: f for f in own.fields if "of map rivets" in f.row}
    assert {*rows} == {f"{each} of map rivets" for each in ("first", "second", "third", "fourth")}
    for field in own.fields:
        if field.row in rows:
            assert (field.operation, field.may_be_empty) == ("130R1", True), field.label
        elif field.row == "96 in the map" and field.kind == "stamp":
            assert not field.may_be_empty


LIMITS = re.compile(
    r"(?m)^## .*[Ll]imits of feature ([0-9]+)\n\n::: strip\n(?:.*\n)*?:::\n+"
    r"::: features\n.*\n.*\n\| ([0-9]+) \| .* \|\n:::$"
)


@pytest.mark.parametrize("file", FILES)
def test_the_limits_of_a_feature_stand_above_its_boxes_on_the_rework_sheet(file):
    """They stood behind all features, two pages after the boxes that they judge."""
    inspected, sheet = made(file).sheets["inspection-sheet"], again(file)
    wanted = re.findall(r"(?m)^## .*[Ll]imits of feature ([0-9]+)$", inspected)
    assert LIMITS.findall(sheet) == [(n, n) for n in wanted]
    rows = re.findall(r"(?m)^\| ([0-9]+) \| ([0-9]+) \| (.*)$", inspected)
    own = re.findall(r"(?m)^\| ([0-9]+) \| ([0-9]+)R1 \| (.*)$", sheet)
    assert own == rows != []
    for words in sheet.partition("# Inspected again\n")[2].split("::: features")[1:-1]:
        assert re.search(r"\n:::\n+## (?:Further features|.*imits of feature [0-9]+)\n", words)


def test_a_record_on_a_rework_sheet_leads_to_the_steps_on_that_sheet():
    sheet = again(file_of("T6-P-0510"), ("70", "80"))
    for number in ("70", "80"):
        own = sheet.split(f"\n# Operation {number}R1\n")[1].split("\n# ")[0]
        assert f"| traveller | operation {number}R1 on this sheet: " in own
    assert not re.search(r"(?m)^\| traveller \| operation [0-9]+[:,]", sheet)


def test_a_revision_may_be_called_r_and_is_no_rework():
    sheets = ("R1", "R2B", "R10", "R", "B", "")
    assert [is_rework(each) for each in sheets] == [True, True, True, False, False, False]
