"""The demo sheets and the map of their boxes in; a form with every box once, and its limits, out."""

from __future__ import annotations

import json
from collections import Counter
from functools import cache
from itertools import takewhile

import pytest

from generator.draw import box_map, lay_out
from generator.read import read_text
from generator.results.blank_form import blank_form
from generator.results.entries import BLANK, entries_in
from generator.results.form import Field, Form, form_of
from generator.results.form_comments import comments
from generator.results.form_says import Answers
from generator.results.form_tree import form_from, tree_of_form
from tests.compose.sheets import FILES, file_of, made

FRAME = made(file_of("T6-P-0120")).sheets["traveller"].partition("\n:::\n")[0] + "\n:::\n"


@cache
def form(file: str) -> tuple[Form, list[dict[str, object]]]:
    sheets = made(file).sheets
    pack = lay_out(sheets)
    boxes = json.loads(
        box_map({kind: pack.sheet(kind) for kind in sheets} | {"backs": pack.backs()})
    )
    return form_of(sheets, boxes), boxes


@pytest.mark.parametrize("file", FILES)
def test_every_box_of_every_sheet_is_in_one_field(file):
    own, boxes = form(file)
    drawn = Counter(str(box["sheet"]) for box in boxes if box["kind"] != "code")
    asked = Counter(field.sheet for field in own.fields for _ in field.boxes)
    assert asked == drawn


@pytest.mark.parametrize("file", FILES)
def test_no_two_fields_have_one_key_and_a_form_comes_back_from_its_words(file):
    own, _ = form(file)
    assert [k for k, n in Counter(field.key for field in own.fields).items() if n > 1] == []
    assert form_from(tree_of_form(own)) == own


@pytest.mark.parametrize("file", FILES)
def test_a_blank_form_can_be_read_and_is_blank(file):
    own, _ = form(file)
    text = blank_form(own, "A-0007")
    above = [part.rpartition("\n")[2] for part in text.split('\n      ticks: ""')[:-1]]
    assert above and max(map(len, above)) <= 100  # the last line of each list of ticks
    document, findings = read_text(text.encode(), "result.yaml")
    assert not findings
    entries, faults = entries_in(document.tree["boxes"], own)
    assert not faults
    assert set(entries.values()) == {BLANK}


def test_limits_are_those_printed_and_a_hold_knows_what_it_closes():
    own, _ = form(file_of("T6-P-0310"))
    told = {f.key: f for f in own.fields}
    drag = told["traveller", "10", "running drag", "2"]
    assert (drag.kind, drag.lower, drag.upper, drag.unit) == ("number", "4.0", "14.0", "lbf·in")
    assert told["traveller", "80", "sign hold", "released by inspector stamp"].who == "inspector"
    for key in (
        ("traveller", "130", "bolts ticked in pass 1", ""),
        ("rivet-map", "", "top to starboard", "driven"),
        ("closing-sheet", "", "hold list", "sheets in hand"),
    ):
        count = told[key].lower
        assert told[key].kind == "number"
        assert told[key].upper == count
        assert int(count) in (24, 2)
    (hold,) = [stop for stop in own.stops if stop.operation == "80"]
    assert hold.closes == ("10", "20", "30", "40", "50", "60", "70")


@pytest.mark.parametrize(
    ("closes", "wanted"),
    [
        ("10R1, 30R1", ("10R1", "30R1")),
        ("10R1 to 30R1", ("10R1", "20R1", "30R1")),
        ("10 to 20", ("10R1", "20R1")),
        ("30R1A", ("30R1",)),
        ("10R12, 20R12", ("10R1", "20R1")),
    ],
)
def test_a_hold_closes_what_it_names_and_not_what_lies_between(closes, wanted):
    rows = f"| released by | inspector |\n| --- | --- |\n| closes operations | {closes} |\n"
    names = "10R1 measure", "20R1 work", "30R1 work"
    plain = "".join(f"## {name}\nDo it.\n" for name in names)
    text = f"# A sheet\n\n# Operations\n{plain}## 40R1 hold\nLook.\n::: sign hold\n{rows}:::\n"
    own = form_of({"traveller": f"{FRAME}\n{text}\n# End of rework\n"}, [])
    (hold,) = own.stops
    assert hold.closes == wanted


def test_a_treatment_is_judged_by_what_it_asks_though_a_second_unit_stands_behind_it():
    sheets = dict(made(file_of("T6-P-0110")).sheets)
    _, boxes = form(file_of("T6-P-0110"))
    record = sheets["heat-treatment-record"]
    soak = next(line for line in record.splitlines() if line.startswith("| soak, from the load"))
    asked = soak.split("|")[2].strip()
    number = asked.partition("]")[0].removeprefix("[")
    assert number.endswith(" min")
    more = soak.replace(number, f"{number} (0.58 h)", 1)
    sheets["heat-treatment-record"] = record.replace(soak, more, 1)
    two, one = form_of(sheets, boxes), form(file_of("T6-P-0110"))[0]
    lower = [[f.lower for f in own.fields if f.row.startswith("soak, from the load")]
             for own in (one, two)]  # fmt: skip
    assert lower[0] == lower[1] == ["35"]


BLANKS = [
    ("T6-P-0120", "Flat pattern developed, A1", ["bar across: 149.7 to 150.3 mm",
                                                 "bar down: 249.5 to 250.5 mm"]),
    ("T6-P-0120", "length of the blank", ["limits as ticked in operation 10, mm"]),
    ("T6-P-0120", "thickness", ["4 times, 0.874 to 0.954 mm"]),
    ("T6-P-0120", "cracks found under the eyeglass", ["exactly 0"]),
    ("T6-P-0120", "coupon came back with the charge", ["one of: yes, no"]),
    ("T6-P-0120", "sheets of this traveller in hand", ["record, a count"]),
    # Feature 2 is the length of the blank, of the thickness there are four, feature 8 is a count.
    ("T6-P-0120", "feature 2", ["actual: limits as ticked in operation 10, mm",
                                "in: one of: in, between, out"]),
    ("T6-P-0120", "feature 1", ["1 of 4 to 4 of 4: 0.874 to 0.954 mm, accepted 0.877 to 0.951",
                                "in: one of: in, between, out"]),
    ("T6-P-0510", "threads showing, up cable, both ends", ["2 times, 3 or less"]),
]  # fmt: skip


@pytest.mark.parametrize(("number", "row", "says"), BLANKS)
def test_the_form_to_be_filled_in_says_what_each_box_of_a_row_takes(number, row, says):
    own, _ = form(file_of(number))
    lines = blank_form(own, "A-0007").splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith(f'      "{row}": '))
    above = list(takewhile(lambda line: "# " in line, reversed(lines[:at])))
    assert [line.removeprefix("      # ") for line in reversed(above)] == says


def test_a_row_with_one_value_and_a_choice_is_no_row_of_two_values():
    own, _ = form(file_of("T6-P-0120"))
    counts = [f for f in own.fields if f.name == "actual" and f.unit == "count"]
    text = blank_form(own, "A-0007")
    for each in counts:
        told = text.partition(f'      "{each.row}": ')[0].rstrip().splitlines()[-2:]
        wanted = [f"# actual: exactly {each.lower}", "# in: one of: in, out"]
        assert [line.strip() for line in told] == wanted
    assert {each.lower for each in counts} >= {"0"}


@pytest.mark.parametrize(
    ("limits", "says"),
    [
        ({"lower": "1", "upper_by": "c3"},
         "1 mm or more, not above the limit ticked in operation 50, mm"),
        ({"lower_by": "c3", "upper": "2"},
         "not below the limit ticked in operation 50, mm, 2 mm or less"),
        ({"lower_by": "c3"}, "not below the limit ticked in operation 50, mm"),
        ({"lower_by": "c9", "upper_by": "c9"}, "limits as ticked, mm"),
        ({"set_to": "56.7"}, "56.7 mm as printed"),
        ({"set_by": "c3 setting of pass 1 mm"}, "as ticked: setting of pass 1 mm"),
    ],
)  # fmt: skip
def test_a_limit_that_is_ticked_says_where(limits, says):
    one = Field("traveller", "60", "size", "", "number", ("size",), unit="mm", **limits)
    own = Form((one,), ("50", "60"), (), (Answers("c3.from", "50", ("2", "3")),))
    assert list(comments([one], own)) == [says]


def test_what_a_rework_sheet_leaves_open_has_no_limits():
    own, _ = form(file_of("T6-P-0120"))
    found = [f for f in own.fields if f.sheet == "rework-sheet" and f.name == "found"]
    assert {(f.kind, f.lower, f.upper) for f in found} == {("words", "", "")}


def test_a_date_that_must_hold_has_its_bound_and_is_no_day_of_the_work():
    own, _ = form(file_of("T6-P-0410"))
    told = {f.key: f for f in own.fields}
    life = told["traveller", "30", "earliest life date on a hose", ""]
    assert (life.kind, life.lower, life.upper) == ("date", "day of use", "")
    assert not own.is_done_on(life)
    days = [f for f in own.fields if f.sheet == "traveller" and f.operation == "30"]
    assert [f.row for f in days if own.is_done_on(f)] == ["sign done"]


def test_a_line_of_a_list_knows_the_operations_that_name_it():
    own, _ = form(file_of("T6-P-0105"))
    used = {f.row: f.used_in for f in own.fields if f.lasts}
    assert used["2 resin glue for timber"] == ("30",)
    templates = next(row for row in used if row.endswith("templates TP-0110-A 1 to 7"))
    assert used[templates] == ("20", "60", "70")


def test_a_gauge_has_the_full_scale_that_was_worked_out_and_a_witness_his_notice():
    own, _ = form(file_of("T6-P-0410"))
    (scale,) = [f for f in own.fields if f.boxes[0].startswith("full scale,")]
    # 1.25 times the proof of the tubes, 105 bar g, up to the next bar; the hoses want 175.
    assert (scale.kind, scale.lower, scale.upper, scale.unit) == ("number", "132", "", "bar g")
    (witness,) = [stop for stop in own.stops if stop.kind == "witness"]
    assert witness.notice == "3 d"


def test_limits_on_a_sheet_of_its_own_are_read_there():
    own, _ = form(file_of("T6-P-0510"))
    showing = [f for f in own.fields if f.sheet == "rigging-sheet" and f.kind == "number"]
    told = {(f.operation, f.row): (f.lower, f.upper) for f in showing}
    assert told["80", "threads showing, up cable, both ends"] == ("", "3")
    assert told["100", "column back"] == ("23.8", "24.3")


def test_the_values_of_a_log_are_numbers_in_the_unit_of_their_boxes():
    """Else a word would pass for a pressure, and no gauge would be asked whether it reads that."""
    own, _ = form(file_of("T6-P-0410"))
    told = {f.name: (f.kind, f.unit) for f in own.fields
            if (f.operation, f.row) == ("100", "2 min")}  # fmt: skip
    assert told.pop("clock HH:MM")[0] == "clock"
    assert told == {"pressure": ("number", "bar g"), "oil": ("number", "°C"),
                    "seen and heard": ("words", "")}  # fmt: skip
    blank = blank_form(own, "A-0007").partition("functional-test-sheet:")[2]
    assert blank.count('# pressure: record, bar g\n      # oil: record, °C\n      "0 min"') == 1
    assert blank.count("# oil: record") == 1  # not above each of the six rows


def test_an_operation_that_does_not_apply_is_no_tick_among_others():
    own, _ = form(file_of("T6-P-0310"))
    (done, none) = [
        f for f in own.fields if (f.sheet, f.operation, f.row) == ("traveller", "10", "operation")
    ]
    assert (done.kind, done.may_be_empty) == ("tick", False)
    assert (none.kind, none.may_be_empty) == ("words", True)


def test_in_between_and_out_are_one_choice():
    own, _ = form(file_of("T6-P-0310"))
    told = [f for f in own.fields if f.row == "feature 9" and f.kind == "choice"]
    assert [f.choices for f in told] == [("in", "between", "out")]


def test_a_reading_is_never_optional_whatever_it_is_called():
    """A blank box of a reading is work not done, also where the reading is called "first ..."."""
    sheet = made(file_of("T6-P-0120")).sheets["traveller"]
    for word in ("first crack", "note of the gauge", "reason of the scratch", "fourth leg N/A"):
        named = sheet.replace("| inside radius, 1 and 2 |", f"| {word} |")
        assert named != sheet
        pack = lay_out({"traveller": named})
        boxes = json.loads(box_map({"traveller": pack.sheet("traveller")}))
        own = form_of({"traveller": named}, boxes)
        told = [field for field in own.fields if field.row == word]
        assert told
        assert not any(field.may_be_empty for field in told)


def test_accept_limits_and_the_classes_of_a_point_of_sense_are_read():
    own, _ = form(file_of("T6-P-0310"))
    told = {f.row: f for f in own.fields if f.sheet == "inspection-sheet" and f.kind == "number"}
    # 83.54 ± 0.25 mm with U 0.03 mm, inwards to the step of 0.05 mm.
    chord = told["feature 9"]
    assert (chord.accept_from, chord.accept_to) == ("83.35", "83.75")
    rigged, _ = form(file_of("T6-P-0510"))
    stamps = [f for f in rigged.fields if f.row.startswith("point 1: ") and f.kind == "stamp"]
    assert [f.who for f in stamps] == ["inspector", "independent inspector"]


def test_the_papers_of_a_treatment_are_of_its_operation():
    """Where it is done again, what they say of the first charge stops nothing."""
    own, _ = form(file_of("T6-P-0110"))
    of = {f.row: f.of for f in own.fields
          if f.sheet == "heat-treatment-record" and not f.operation}  # fmt: skip
    for row in ("charge", "papers", "sketch", "read", "this metal"):
        assert of[row] == "130", row
    for row in ("stopped here", "stopped here (2)", "first", "treated", "accepted"):
        assert of[row] == "", row
