"""What a person might type or write wrongly on a whole traveller, in; each told, and what cannot
stand in its box not even recorded, out."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from generator.commands.enter import _empty, form_read
from generator.record import traveller
from generator.results.case import Verdict
from generator.workshop import open_workshop
from tests.commands.conftest import copied
from tests.commands.test_commands import demo as demo  # the fixture
from tests.commands.test_commands import run
from tests.results.filled import filled

ON = ("--on", "2026-11-26", "--stamp", "LQ1")


@pytest.fixture
def issued(issued_demo: Path, tmp_path: Path) -> Path:
    """The bracket, whose blank has limits that a strip answers."""
    return copied(issued_demo, tmp_path)


def enter(folder: Path, own: Mapping[str, str], empty: str = "") -> int:
    workshop, _ = open_workshop(folder)
    instruments = {each.kind: each.number for each in workshop.instruments}
    form = form_read(traveller(folder, "A-0001"))
    file = folder.parent / f"{folder.name}-result.yaml"
    text = filled(form, "A-0001", instruments, own)
    file.write_text(re.sub(rf'("{empty}"): "[^"]+"', r'\1: ""', text), encoding="utf-8")
    return run(folder, "enter", "A-0001", str(file), *ON)


def test_the_filled_bracket_is_sound(issued, capsys):
    assert enter(issued, {}) == 0
    assert "0 to be looked at, 0 boxes still empty" in capsys.readouterr().out


TICKED = [
    ("0.954", "105.0", "105.0 mm is above 104.9"),
    ("0.914", "104.6", "104.6 mm is below 104.7"),
]


@pytest.mark.parametrize(("used", "length", "says"), TICKED)
def test_a_limit_that_was_ticked_is_that_of_the_ticked_column(issued, capsys, used, length, says):
    own = {"10 used": used, "20 length of the blank": length}
    assert enter(issued, own) == 0
    assert f"out: {says}: a slip is needed" in capsys.readouterr().out


def test_inside_the_ticked_column_nothing_is_said(issued, capsys):
    assert enter(issued, {"10 used": "0.954", "20 length of the blank": "104.9"}) == 0
    assert "length of the blank" not in capsys.readouterr().out


WRONG = [
    (
        "10",
        "sign done",
        "done by volunteer date",
        "2026-11-24",
        "2026-11-24 is before the issue of 2026-11-25",
    ),
    (
        "10",
        "sign done",
        "done by volunteer date",
        "2026-11-27",
        "2026-11-27 is after the day of entering",
    ),
    ("", "accepted", "stamp", "LQ14", "LQ14 is of class volunteer, not inspector"),
    ("", "prepared", "stamp", "LQ15", "LQ15, where the sheet names LQ1"),
    ("20", "sign done", "slip no.", "NC-A-0099", "NC-A-0099 is no slip of A-0001"),
]


@pytest.mark.parametrize(("operation", "row", "part", "word", "says"), WRONG)
def test_days_classes_and_slips_are_told(issued, capsys, operation, row, part, word, says):
    form = form_read(traveller(issued, "A-0001"))
    field = next(
        f
        for f in form.fields
        if f.operation == operation and f.row == row and part in (f.name or f.row)
    )
    assert enter_one(issued, field, word) == 0
    assert says in capsys.readouterr().out


def enter_one(folder: Path, field, word: str) -> int:
    """A result with one box filled in."""
    value = {field.name: word} if field.name else word
    boxes = {field.sheet: {field.operation or "sheet": {field.row: value}}}
    file = folder.parent / f"{folder.name}-result.yaml"
    file.write_text(json.dumps({"traveller": "A-0001", "boxes": boxes}), encoding="utf-8")
    return run(folder, "enter", "A-0001", str(file), *ON)


UNREADABLE = [
    ("number", "0.914 mm", "a number alone, its unit is mm"),
    ("number", "0,914", "a number alone, its unit is mm, with a point for its decimals"),
    ("number", "six", "a number alone"),
    ("date", "27.11.2026", "a day such as 2026-11-26"),
    ("choice", "maybe", "one of: "),
    ("tick", "yes", "x"),
]


@pytest.mark.parametrize(("kind", "word", "right"), UNREADABLE)
def test_what_cannot_stand_in_its_box_is_refused_before_it_is_recorded(
    issued, capsys, kind, word, right
):
    form = form_read(traveller(issued, "A-0001"))
    wanted = (f for f in form.fields if f.kind == kind and f.sheet == "traveller" and f.operation)
    field = next(f for f in wanted if kind != "number" or f.unit == "mm")
    assert enter_one(issued, field, word) == 1
    said = capsys.readouterr().err
    assert f"'{word}' does not fit the box" in said
    assert right in said
    assert traveller(issued, "A-0001").acts == ()


def enter_text(folder: Path, text: str) -> int:
    file = folder.parent / f"{folder.name}-result.yaml"
    file.write_text("traveller: A-0001\nboxes:\n  traveller:\n" + text, encoding="utf-8")
    return run(folder, "enter", "A-0001", str(file), *ON)


# The box, as it is typed; what is marked of it; what is said.
MARKED = [
    ('thickness: ["0.91", "0,92", "0.91", "0.91"]', '"0,92"', "'0,92' does not fit"),
    ('thickness: {"1": "0.91", "3": "0.9l"}', '"0.9l"', "'0.9l' does not fit"),
    ('thickness: ["0.91", ["0.92"], "0.91", "0.91"]', "[", "this is no word"),
    ('thickness: ["0.91", "0.92"]', "[", "2 words for 4 boxes"),
]


@pytest.mark.parametrize(("typed", "marked", "says"), MARKED)
def test_the_wrong_word_itself_is_marked(issued, typed, marked, says, capsys):
    assert enter_text(issued, f'    "10":\n      {typed}\n') == 1
    head, line, caret, *_ = capsys.readouterr().err.splitlines()
    assert says in head
    assert line.strip() == typed
    at = caret.index("^")
    assert line[at:].startswith(marked)
    # "[" is in the line twice where a list stands in a list: the inner one is the wrong word.
    assert line.index(marked) == at or line.rindex(marked) == at
    assert caret.count("^") == len(marked)
    assert f":5:{at + 3}: " in head  # shown with two blanks less


def test_what_was_entered_before_is_marked_in_its_list(issued, capsys):
    row = '    "10":\n      thickness: ["0.914", "{}", "0.914", "0.914"]\n'
    assert enter_text(issued, row.format("0.914")) == 0
    capsys.readouterr()
    assert enter_text(issued, row.format("0.92")) == 1
    head, line, caret, *_ = capsys.readouterr().err.splitlines()
    assert "'0.914' was entered here before" in head
    assert line[caret.index("^") :].startswith('"0.92"')
    assert enter_text(issued, '    "10":\n      ticks: all\n') == 0
    capsys.readouterr()
    assert enter_text(issued, '    "10":\n      ticks: all\n') == 0  # the same again


def test_close_says_at_which_operation_the_slip_of_a_feature_is_raised(issued, capsys):
    assert enter(issued, {"feature 1": "0.99"}) == 0
    assert run(issued, "close", "A-0001", *ON) == 1
    said = capsys.readouterr().err
    assert "inspection sheet, feature 1: 1 of 4: out" in said
    assert "witnessmark slip A-0001 --operation 10\n" in said
    assert "--operation N" not in said


def test_a_form_with_blanks_alone_is_not_recorded(issued, capsys):
    file = issued.parent / f"{issued.name}-result.yaml"
    assert run(issued, "enter", "A-0001", "--blank", str(file)) == 0
    assert run(issued, "enter", "A-0001", str(file), *ON) == 1
    assert "nothing is filled in" in capsys.readouterr().err


def test_the_form_has_no_boxes_of_backs(issued):
    file = issued.parent / f"{issued.name}-result.yaml"
    assert run(issued, "enter", "A-0001", "--blank", str(file)) == 0
    assert "backs:" not in file.read_text(encoding="utf-8")


def test_nothing_is_issued_before_the_day_of_its_approval(demo, capsys):
    words = ("--stamp", "LQ14", "--on", "2026-11-26")
    assert run(demo, "approve", "T6-P-0120", *words) == 0
    words = ("--for", "0001", "--on", "2026-11-25", "--stamp", "LQ1")
    assert run(demo, "issue", "T6-P-0120", *words) == 1
    assert "approved on 2026-11-26, after 2026-11-25" in capsys.readouterr().err


def test_accept_limits_that_are_ticked_and_full_size_sheets_are_judged(issued_demo):
    """Guarded limits stand in a strip of their own; bars and checks of a pattern have theirs."""
    form = form_read(traveller(issued_demo, "A-0001"))
    marks = {each.mark for each in form.answers}
    assert {"feature 2.accept from", "feature 2.accept to"} <= marks
    sizes = {f.label: (f.lower, f.upper) for f in form.fields if f.sheet == "full-size-pages"
             and f.kind == "number"}  # fmt: skip
    assert sizes["Flat pattern developed, A1: bar across"] == ("149.7", "150.3")
    assert sizes["Flat pattern developed: blank, first edge to last edge: measured"] == (
        "104.6", "105.2")  # fmt: skip
    assert not [f for f in form.fields if f.sheet == "full-size-pages" and f.kind == "stamp"
                and f.may_be_empty and f.row != "first"]  # fmt: skip


def test_a_few_empty_boxes_are_told_by_name(issued, capsys):
    assert enter(issued, {}, "length of the blank") == 0
    said = capsys.readouterr().out
    assert "operation 20, length of the blank: empty" in said
    assert said.endswith("1 to be looked at, 1 boxes still empty\n")


def test_many_empty_boxes_are_told_by_their_place():
    boxes = [Verdict("missing", "traveller", "10", f"row {n}", "empty") for n in range(9)]
    boxes += [Verdict("missing", "kit-list", "", f"line {n}", "empty") for n in range(4)]
    assert list(_empty(boxes)) == ["empty: operation 10 (9), kit list (4)"]
    assert list(_empty(boxes[:2])) == [f"operation 10, row {n}: empty" for n in (0, 1)]
