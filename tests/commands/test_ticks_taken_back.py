"""Ticks of N/A, and what was typed into a box that is empty on the paper, in; what only the signs of a
tick do, and how each is taken back, out."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.commands.enter import entries_of, form_read
from generator.record import traveller
from generator.results.entries import entry_of
from generator.results.judge import judged
from tests.commands.test_commands import run
from tests.commands.test_slips import ON
from tests.results.judging import BOOKS, FORM, SOUND, T

OPERATION, DONE = '"operation": {"20 N/A": %s}', '"operation": {"20 done": %s}'


def typed(folder: Path, row: str, *more: str) -> int:
    file = folder.parent / f"{folder.name}-tick.yaml"
    text = f'traveller: A-0001\nboxes:\n  traveller:\n    "20":\n      {row}\n'
    file.write_text(text, encoding="utf-8")
    return run(folder, "enter", "A-0001", str(file), *ON, "LQ1", *more)


def standing(folder: Path) -> dict[str, str]:
    """What stands in the boxes of operation 20."""
    history = traveller(folder, "A-0001")
    found = entries_of(history, form_read(history))
    return {key[3] or key[2]: each.text for key, each in found.items() if key[1] == "20"}


@pytest.mark.parametrize(
    "word", ["no", "banana", "none", "-", "false", "X Y", "N/A", "N/A: no", "late: no, written X"]
)
def test_a_word_that_is_no_tick_leaves_no_operation_out(issued, capsys, word):
    assert typed(issued, OPERATION % f'"{word}"') == 1
    told = capsys.readouterr().err
    assert "does not fit the box operation: 20 N/A" in told
    assert 'Right: x where it is ticked, "" where it is not' in told
    assert standing(issued) == {}


@pytest.mark.parametrize("word", ["no", "banana", "N/A: no"])
def test_a_word_that_was_recorded_as_a_tick_stands_for_none(word):
    none = (T, "30", "operation", "30 N/A")
    left = {key: word for key, word in SOUND.items() if key[1] != "30"}
    entries = {key: entry_of(each) for key, each in {**left, none: word}.items()}
    found = [(v.code, v.row) for v in judged(FORM, entries, BOOKS) if v.operation == "30"]
    assert ("tick", "operation: 30 N/A") in found
    assert ("missing", "operation: 30 done") in found


def test_a_tick_of_n_a_is_taken_back_as_it_is_documented(issued, capsys):
    assert typed(issued, OPERATION % "x") == 0
    assert typed(issued, OPERATION % "left blank") == 1
    told = capsys.readouterr().err
    assert "'x' was entered here before" in told
    assert typed(issued, OPERATION % "left blank", "--corrects", "It was operation 30.") == 0
    assert standing(issued) == {}
    assert "operation 20, operation: 20 N/A: reason" not in capsys.readouterr().out
    assert typed(issued, OPERATION % "x") == 0
    assert standing(issued) == {"20 N/A": "x"}
    header = issued.parent / "blank.yaml"
    assert run(issued, "enter", "A-0001", "--blank", str(header)) == 0
    assert "left blank" in header.read_text(encoding="utf-8")
    assert "`left blank`" in Path("README.md").read_text(encoding="utf-8")


def test_ticks_of_steps_are_taken_back_by_the_list_of_those_that_are_not(issued, capsys):
    assert typed(issued, "ticks: all") == 0
    assert standing(issued) == {"20 done": "x", "a": "x", "b": "x"}
    assert typed(issued, "ticks: {not: [b]}") == 1
    assert "'x' was entered here before" in capsys.readouterr().err
    assert typed(issued, "ticks: {not: [b]}", "--corrects", "b is not ticked.") == 0
    assert standing(issued) == {"20 done": "x", "a": "x"}
    assert typed(issued, "ticks: none", "--corrects", "None is.") == 0
    assert standing(issued) == {}


def test_what_was_never_there_is_not_taken_back(issued, capsys):
    assert typed(issued, OPERATION % "left blank") == 0
    assert "all of it stands there already: nothing is recorded" in capsys.readouterr().out
    assert traveller(issued, "A-0001").acts == ()


def test_a_word_is_taken_back_in_any_box(issued):
    assert typed(issued, '"sign done": {"slip no.": "NC-A-0009"}') == 0
    back = '"sign done": {"slip no.": left blank}'
    assert typed(issued, back, "--corrects", "It is beside operation 10.") == 0
    assert standing(issued) == {}
