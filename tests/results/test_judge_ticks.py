"""What is ticked beside what was read, in; the ticks that are others, out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.draw.parse import blocks_of
from generator.draw.sheet import Operation
from generator.results.case import Books, Case
from generator.results.entries import entry_of
from generator.results.form import Field, Form
from generator.results.form_says import limits_of
from generator.results.judge_ticks import ticks
from tests.compose.sheets import FILES, file_of
from tests.results.judging import BOOKS, T
from tests.results.test_form import form
from tests.results.test_judge_clocks import entered

USED = Field(T, "50", "used", "", "choice", ("used 12", "used 14", "used 16"), ("12", "14", "16"),
             corner="room °C", take="larger")  # fmt: skip
ROOM = Field(T, "50", "room", "", "number", ("room, °C",), unit="°C")
GRID = Field(T, "60", "used", "", "choice", (), ("9 × 4", "9 × 6", "10 × 4", "10 × 6"),
             corner="length in / drag lbf·in", take="nearer / smaller")  # fmt: skip
LENGTH = Field(T, "60", "length", "", "number", ("length, in",), unit="in")
DRAG = Field(T, "60", "drag", "", "number", ("drag, lbf·in",), unit="lbf·in")
ROW = ("inspection-sheet", "", "feature 1")
FOUND = Field(*ROW, "in", "choice", (), ("in", "between", "out"))
VALUE = Field(*ROW, "actual", "number", ("actual, mm",), (), lower="8.90", upper="9.10", unit="mm",
              accept_from="8.93", accept_to="9.07")  # fmt: skip
COPIED = Field("inspection-sheet", "", "used (2)", "", "choice", (), USED.choices, of="50")


def told(*written: tuple[Field, str], books: Books = BOOKS) -> list[str]:
    own = Form(tuple(field for field, _ in written), ("50", "60"), ())
    entries = {field.key: entry_of(word) for field, word in written}
    return [f"{v.code}: {v.says}" for v in ticks(Case(own, entries, books)) if v.blocks]


@pytest.mark.parametrize(
    ("take", "read", "goes"),
    [
        ("larger", "14", ["14"]),
        ("larger", "12.5", ["14"]),
        ("smaller", "13.5", ["12"]),
        ("nearer", "12.9", ["12"]),
        ("nearer", "13.1", ["14"]),
        # Half way, between two where nothing is said of it, and at STOP the lead decides.
        ("nearer", "13", []),
        ("stop", "13.1", []),
        ("larger", "16.5", []),
        ("smaller", "11.5", []),
        # A typed table says nothing of what lies between: one of the two.
        ("", "13.1", ["12", "14"]),
    ],
)
def test_the_column_that_is_ticked_is_that_of_the_reading(take, read, goes):
    used = replace(USED, take=take)
    good = [c for c in used.choices if not told((used, c), (ROOM, read))]
    assert good == goes


def test_of_several_readings_the_one_counts_that_the_sheet_takes():
    two = replace(ROOM, name="2")
    assert told((USED, "16"), (ROOM, "12.5"), (two, "14.5")) == []
    assert told((USED, "14"), (ROOM, "12.5"), (two, "14.5")) == [
        "ticked: 14 is ticked, and room 12.5 and 14.5 asks for 16: a slip is needed"
    ]
    nearer = replace(USED, take="nearer")
    for column, wanted in (("12", 0), ("14", 0), ("16", 1)):
        assert len(told((nearer, column), (ROOM, "12.5"), (two, "14.5"))) == wanted


def test_where_the_smaller_is_taken_the_smallest_of_several_readings_counts():
    """The safe side of such a table is below: 14.5 alone would let 14 pass."""
    two, smaller = replace(ROOM, name="2"), replace(USED, take="smaller")
    for column, wanted in (("12", 0), ("14", 1), ("16", 1)):
        assert len(told((smaller, column), (ROOM, "12.5"), (two, "14.5"))) == wanted


def test_a_reading_that_is_called_as_its_given_is_called_as_its_table():
    used = replace(USED, corner="hangar temperature °C")
    for name in ("hangar_temperature", "hangar temperature"):
        assert told((used, "12"), (replace(ROOM, row=name), "14")) == [
            f"ticked: 12 is ticked, and {name} 14 asks for 14: a slip is needed"
        ]
    typed = replace(USED, corner="hangar_temperature")
    assert len(told((typed, "12"), (replace(ROOM, row="hangar temperature"), "14"))) == 1


def test_a_reading_of_another_name_or_unit_says_nothing_of_the_table():
    for other in (
        replace(ROOM, unit="°F"),
        replace(ROOM, row="oil"),
        replace(ROOM, operation="60"),
    ):
        assert told((USED, "12"), (other, "16")) == []


def test_both_sides_of_a_grid_are_held_against_their_readings():
    assert told((GRID, "10 × 4"), (LENGTH, "9.6"), (DRAG, "5.5")) == []
    assert told((GRID, "9 × 6"), (LENGTH, "9.6"), (DRAG, "5.5")) == [
        "ticked: 9 × 6 is ticked, and length 9.6 asks for 10: a slip is needed",
        "ticked: 9 × 6 is ticked, and drag 5.5 asks for 4: a slip is needed",
    ]


def test_a_column_that_is_ticked_again_is_the_one_of_the_operation():
    assert told((USED, "14"), (COPIED, "14")) == []
    assert told((USED, "14"), (COPIED, "12")) == [
        "ticked: 12 is ticked, and operation 50 has 14: a slip is needed"
    ]


@pytest.mark.parametrize(
    ("value", "goes"), [("9.00", "in"), ("9.07", "in"), ("9.08", "between"), ("8.89", "out")]
)
def test_the_verdict_that_is_ticked_is_that_of_the_value(value, goes):
    for choice in FOUND.choices:
        assert bool(told((FOUND, choice), (VALUE, value))) == (choice != goes)


def test_a_word_that_is_no_verdict_is_told_as_such_alone():
    assert told((FOUND, "perhaps"), (VALUE, "9.00")) == []


def test_the_worst_of_several_values_is_the_verdict_and_one_that_is_missing_gives_none():
    two = replace(VALUE, name="2 of 2")
    assert told((FOUND, "out"), (VALUE, "9.00"), (two, "9.11")) == []
    assert len(told((FOUND, "in"), (VALUE, "9.00"), (two, "9.11"))) == 1
    assert told((FOUND, "in"), (VALUE, "9.00"), (two, "")) == []


def test_a_tick_that_is_conceded_blocks_no_more():
    books = replace(BOOKS, conceded=[(USED.key, "12")])
    assert told((USED, "12"), (ROOM, "14"), books=books) == []
    assert told((USED, "12"), (ROOM, "14"))
    # Beyond the table the lead decides, on the reading; inside it the tick is still another one.
    read = replace(BOOKS, conceded=[(ROOM.key, "17"), (ROOM.key, "14")])
    assert told((USED, "12"), (ROOM, "17"), books=read) == []
    assert told((USED, "12"), (ROOM, "14"), books=read)


# --- as the sheets print it -----------------------------------------------------------------------

PRINTED = [
    ("strip\nTick the value used. Between two values: take the larger. At STOP the answers end.\n",
     "room °C", "larger"),
    ("strip\nTick the value used. Between two values: tell the lead. At STOP the answers end.\n",
     "room °C", "stop"),
    ("grid\nTick it. Between two rows: take the nearer; half way, tell the lead. "
     "Between two columns: take the smaller.\n", "a mm / b K", "nearer / smaller"),
    ("grid\nTick it. Between two rows or two columns: take the larger.\n", "a mm / b K",
     "larger / larger"),
    ("lookup", "drag lbf·in", ""),
]  # fmt: skip


@pytest.mark.parametrize(("head", "corner", "take"), PRINTED)
def test_a_table_says_what_is_ticked_for_it_and_what_lies_between(head, corner, take):
    text = f"::: {head}\n| {corner} | 1 | 2 |\n| --- | --- | --- |\n| x | 3 | 4 |\n:::\n"
    part = Operation("50", "work", "", tuple(blocks_of(text)))
    ((key, limits),) = limits_of(T, [part])
    assert (key, limits.corner, limits.take) == ((T, "50", "used"), corner, take)


@pytest.mark.parametrize("file", FILES)
def test_a_traveller_that_was_done_as_it_says_has_no_tick_beside_its_reading(file):
    own, entries = entered(file)
    assert [v for v in ticks(Case(own, entries, BOOKS)) if v.row.startswith("used")] == []


def test_the_blank_of_the_bracket_is_ticked_for_the_thickness_that_was_read():
    """The strip runs over the thickness, which its operation reads at four places."""
    own, _ = form(file_of("T6-P-0120"))
    (used,) = [f for f in own.fields if f.key == (T, "10", "used", "")]
    assert (used.corner, used.take) == ("thickness mm", "nearer")
    read = [f for f in own.fields if f.key[:3] == (T, "10", "thickness") and f.kind == "number"]
    assert len(read) == 4
    entries = {f.key: entry_of("0.912") for f in read}
    for column, wanted in (("0.914", 0), ("0.894", 1)):
        found = list(ticks(Case(own, {**entries, used.key: entry_of(column)}, BOOKS)))
        assert len(found) == wanted


def test_every_table_that_is_ticked_again_says_for_which_operation():
    again = {(file_of(n), f.row): f.of for n in ("T6-P-0120", "T6-P-0510")
             for f in form(file_of(n))[0].fields
             if f.sheet == "inspection-sheet" and f.row[:4] == "used"}  # fmt: skip
    assert again == {(file_of("T6-P-0120"), "used"): "10", (file_of("T6-P-0510"), "used"): "70"}


def test_the_window_of_the_skin_is_that_of_the_temperature_that_was_read():
    """At 15.5 °C the metal may be worked for 20 minutes, not for the 30 of 15 °C: of two columns
    the sheet takes the larger."""
    own, entries = entered(file_of("T6-P-0110"))
    used, read = ((T, "150", row, "") for row in ("used", "temperature at the table"))
    for column, wanted in (("15", ["used"]), ("16", [])):
        words = {**entries, read: entry_of("15.5"), used: entry_of(column)}
        assert [v.row for v in ticks(Case(own, words, BOOKS)) if v.operation == "150"] == wanted
