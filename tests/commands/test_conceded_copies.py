"""A value that a concession allows, and the same reading on the inspection sheet, in; whether it is
allowed there, out."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

import pytest

from generator.commands.enter import form_read
from generator.record import traveller
from generator.results.form import Field
from tests.commands.test_commands import run
from tests.commands.test_slips import ON, close, concede, dispose, entered, slip

SHEET = "inspection-sheet"


def feature(folder: Path) -> list[Field]:
    form = form_read(traveller(folder, "A-0001"))
    return [f for f in form.fields if (f.sheet, f.row) == (SHEET, "feature 1")]


def written(folder: Path, row: str, words: Mapping[str, str]) -> None:
    """Some boxes of the inspection sheet, entered after all others."""
    boxes = {SHEET: {"sheet": {row: dict(words)}}}
    file = folder.parent / f"{folder.name}-later.yaml"
    file.write_text(json.dumps({"traveller": "A-0001", "boxes": boxes}), encoding="utf-8")
    why = ("--corrects", "Copied from operation 10.")
    assert run(folder, "enter", "A-0001", str(file), *ON, "LQ1", *why) == 0


@pytest.fixture
def conceded(issued: Path) -> Path:
    """0.96 mm is allowed at operation 10; on the inspection sheet nothing is out yet."""
    entered(issued, {"10 thickness": "0.96"})
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "use") == 0
    assert concede(issued, "NC-A-0001") == 0
    return issued


def values(folder: Path, value: str = "0.96", **more: str) -> dict[str, str]:
    told = {f.name: value for f in feature(folder) if f.kind == "number"}
    return {**told, "in": "out", **more}


def test_the_very_same_reading_needs_no_slip_of_its_own(conceded, capsys):
    written(conceded, "feature 1", values(conceded))
    told = capsys.readouterr().out
    assert "0.96 mm is above 0.954, its slip is done with" in told
    assert "answered out, its slip is done with" in told
    assert close(conceded) == 0


ANEW = {
    "another value": lambda folder: values(folder, "0.957"),
    "another instrument": lambda folder: values(folder, **{"micrometer no.": "G-102"}),
    "no instrument": lambda folder: values(folder, **{"micrometer no.": "N/A: none at hand"}),
}


@pytest.mark.parametrize("case", ANEW)
def test_what_was_measured_anew_is_another_value(conceded, case, capsys):
    written(conceded, "feature 1", ANEW[case](conceded))
    assert "mm is above 0.954: a slip is needed" in capsys.readouterr().out
    assert close(conceded) == 1
    assert "inspection sheet, feature 1: actual: out" in capsys.readouterr().err


def test_an_operation_without_a_concession_allows_no_copy(issued, capsys):
    entered(issued, {"10 thickness": "0.96"})
    written(issued, "feature 1", values(issued))
    assert capsys.readouterr().out.count("0.96 mm is above 0.954: a slip is needed") == 3


def test_a_concession_on_one_rework_sheet_allows_nothing_on_the_next(issued, capsys):
    """The boxes have one name on both, and the value was measured anew."""
    entered(issued, {"10 thickness": "0.97"})
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "rework") == 0
    entered(issued, {"feature 1": "0.96", "feature 1: in": "out"}, "R1")
    assert slip(issued, "10R1") == 0
    assert dispose(issued, "NC-A-0002", "use") == 0
    assert concede(issued, "NC-A-0002") == 0
    assert slip(issued, "10R1", "Scratched.") == 0
    assert dispose(issued, "NC-A-0003", "rework") == 0
    capsys.readouterr()
    entered(issued, {"feature 1": "0.96"}, "R2")
    assert "0.96 mm is above 0.954: a slip is needed" in capsys.readouterr().out
    assert close(issued) == 1
    said = capsys.readouterr().err
    assert "A-0001 R2 traveller, feature 1: actual: out" in said
    assert "A-0001 R1" not in said
