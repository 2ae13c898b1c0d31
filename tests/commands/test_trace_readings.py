"""An operation with several instruments and a shelf life on its kit list, in; what trace says was
measured with each, and on which day, out."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.test_commands import issue, run
from tests.commands.test_commands import shop as shop  # the fixture
from tests.record.conftest import run_git

READINGS = """        with: micrometer
      - name: length
        nominal: 40 mm
        lower: 38 mm
        upper: 42 mm
        to: 0.5 mm
        with: steel rule
      - name: width
        unit: mm
        to: 1 mm
      - name: nicks found
        entry: count
        exactly: "0"
"""
RESULT = """traveller: A-0001
boxes:
  kit-list:
    sheet:
      "1 sheet, 20 SWG": {"batch": B-77, "use by": 2031-05-31}
      "kit issued": {"date": 2026-11-26}
  traveller:
    "10":
      thickness: "0.914"
      length: "40.0"
      width: "31"
      nicks found: "0"
      micrometer no.: G-101
      steel rule no.: G-140
      sign done: {"done by volunteer stamp": LQ14, "done by volunteer date": 2026-11-27}
  inspection-sheet:
    sheet:
      feature 1: {"micrometer no.": G-101, "actual": "0.915"}
      feature 2: {"steel rule no.": G-140, "actual": "40.5"}
"""


@pytest.fixture
def told(shop: Path) -> Path:
    """A-0001 with its operation 10 and a line of its kit list entered."""
    file = shop / "processes/shelf.yaml"
    text = file.read_text("utf-8").replace("        with: micrometer\n", READINGS, 1)
    text = text.replace("    batch: yes\n", "    batch: yes\n    use by: yes\n")
    file.write_text(text, encoding="utf-8")
    run_git(shop, "commit", "--quiet", "-am", "More to measure")
    assert issue(shop, "T6-P-0120", "0001") == 0
    result = shop.parent / f"{shop.name}-result.yaml"
    result.write_text(RESULT, encoding="utf-8")
    assert run(shop, "enter", "A-0001", str(result), "--on", "2026-11-29", "--stamp", "LQ1") == 0
    return shop


def trace(folder: Path, capsys, word: str) -> str:
    capsys.readouterr()
    assert run(folder, "trace", word) == 0
    return capsys.readouterr().out


def test_an_instrument_has_the_readings_that_were_taken_with_it(told, capsys):
    """The width is beside both, since the process does not say with which it was measured; a count
    is beside none."""
    said = trace(told, capsys, "G-101")
    assert "micrometer no.: thickness 0.914 mm; width 31 mm\n" in said
    said = trace(told, capsys, "G-140")
    assert "steel rule no.: length 40.0 mm; width 31 mm\n" in said


def test_the_instrument_of_a_feature_has_the_values_of_that_feature_alone(told, capsys):
    """A recall of one gauge would condemn all the others with it."""
    said = trace(told, capsys, "G-101")
    assert "inspection sheet, feature 1: micrometer no.: feature 1 0.915 mm\n" in said
    assert "40.5" not in said
    said = trace(told, capsys, "G-140")
    assert "inspection sheet, feature 2: steel rule no.: feature 2 40.5 mm\n" in said
    assert "0.915" not in said


def test_a_shelf_life_is_no_day_on_which_something_was_done(told, capsys):
    said = trace(told, capsys, "B-77")
    assert "A-0001  2026-11-26  kit list, 1 sheet, 20 SWG: batch\n" in said
    assert "2031" not in said


def test_what_was_done_has_the_day_of_its_signature(told, capsys):
    assert "A-0001  2026-11-27  operation 10, traveller, micrometer no." in trace(
        told, capsys, "G-101"
    )
