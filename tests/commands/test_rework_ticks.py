"""A traveller whose limits are ticked and its rework sheets, in; each judged by what was ticked for
it, and the paper that says where that is, out."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.conftest import copied
from tests.commands.test_slips import close, dispose, entered, slip


@pytest.fixture
def issued(issued_demo: Path, tmp_path: Path) -> Path:
    """The bracket: operation 10 ticks the column for the length of operation 20, feature 2."""
    return copied(issued_demo, tmp_path)


def rework(folder: Path, number: str) -> str:
    return (folder / f"output/completed/A-0001/{number}/rework.md").read_text(encoding="utf-8")


def test_the_sheets_of_a_rework_and_of_the_traveller_have_each_their_own_column(issued, capsys):
    entered(issued)  # the first column is ticked, and the length is one of it
    assert slip(issued, "20", "Sheet bent.") == 0
    assert dispose(issued, "NC-A-0001", "rework", "--operations", "10", "20") == 0
    capsys.readouterr()
    entered(issued, {"10R1 used": "0.954"}, "R1")
    assert close(issued) == 1
    said = capsys.readouterr().err
    assert "A-0001 R1 operation 20R1, length of the blank: out" in said
    assert "A-0001 R1 traveller, feature 2: actual: out" in said
    assert "A-0001 R1 traveller, feature 2: lower as ticked, mm: copied" in said
    assert "A-0001 operation" not in said
    assert "A-0001 inspection sheet" not in said


def test_the_paper_of_a_rework_names_the_operation_whose_column_counts(issued):
    words = "Tick the column that is ticked in operation "
    for operations, told in ((("20",), "10"), (("10", "20"), "10R2"), (("20",), "10R2")):
        assert slip(issued, "20", "Sheet bent.") == 0
        number = 1 + len(list((issued / "output/completed/A-0001").glob("R?")))
        stamp = "INS2" if number > 2 else "LQ1"
        found = dispose(issued, f"NC-A-000{number}", "rework", "--operations", *operations,
                        stamp=stamp)  # fmt: skip
        assert found == 0
        sheet = rework(issued, f"R{number}")
        assert f"{words}{told}, then copy" in sheet
        assert sheet.count(words) == 1
