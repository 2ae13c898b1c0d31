"""Strips and typed tables with a chart, in; the rows of the chart, which are theirs, out."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.draw.parse import Container, blocks_of, plain
from tests.compose.sheets import file_of, made
from tests.compose.test_strips import ACROSS, RADIUS, RANGE, STRIP, bare, rows_of, sheet_with

CHART = "      chart: yes\n"


def pairs(cells: list[list[str]]) -> dict[str, str]:
    found = {row[0]: row[1] for row in cells}
    assert len(found) == len(cells)
    return found


def charts(number: str) -> list[dict[str, str]]:
    """The charts of a demo traveller, in their order."""
    blocks = blocks_of(made(file_of(number)).sheets["traveller"])
    held = [b for b in blocks if isinstance(b, Container) and b.words == "chart"]
    return [pairs([[plain(cell) for cell in row] for row in each.rows]) for each in held]


def test_a_chart_of_a_strip_has_the_cells_of_the_strip(tmp_path: Path) -> None:
    sheet = sheet_with(tmp_path, (STRIP, STRIP + CHART))
    (title, *entries), (label, *answers) = bare(rows_of(sheet, "strip"))
    chart = pairs(rows_of(sheet, "figure chart"))
    assert chart["across"] == title
    assert label.startswith(f"[{chart['up']}]")
    assert [chart[f"at {entry}"] for entry in entries] == answers
    assert chart["nominal"] == "0.914"
    assert set(chart) == {"across", "up", "nominal", *(f"at {e}" for e in entries)}


def test_a_chart_of_a_grid_has_a_curve_for_each_column(tmp_path: Path) -> None:
    edits = (RADIUS, RADIUS + RANGE), (STRIP, STRIP + CHART + ACROSS)
    sheet = sheet_with(tmp_path, *edits)
    (_, *heads), *rows = bare(rows_of(sheet, "grid"))
    chart = pairs(rows_of(sheet, "figure chart"))
    assert chart["curves"] == "; ".join(f"radius {head}" for head in heads)
    for entry, *answers in rows:
        assert chart[f"at {entry}"] == "; ".join(answers)


@pytest.mark.parametrize("text", ["", "      chart: no\n"])
def test_no_chart_unless_it_is_asked_for(text: str, tmp_path: Path) -> None:
    assert "figure chart" not in sheet_with(tmp_path, (STRIP, STRIP + text))


def test_limits_of_the_reading_that_a_strip_answers_stand_in_its_chart() -> None:
    """Operation 128 sets pass 1 between 18.0 and 27.0 lbf·in, by the strip over the drag."""
    (chart,) = charts("T6-P-0310")
    assert chart["no-go"] == "below 18.0 for pass 1; above 27.0 for pass 1"
    assert chart["curves"] == "pass 1; pass 2; setting"
    assert chart["at 8"] == "21.7; 41.7; 56.7"  # 10/12 of 18 + 8, 42 + 8 and 60 + 8 lbf·in, by hand


SEARCHED = """    strip:
      of: flat.length
      over: thickness
      from: 0.874 mm
      to: 0.954 mm
      step: 0.020 mm
"""
TYPED = """    lookup:
      title: {title}
      from: calculated
      chart: yes
      columns: [{columns}]
      framed: "{framed}"
      rows: [{rows}]
"""


def typed(folder: Path, title: str, columns: str, framed: str, rows: str) -> dict[str, str]:
    """The chart of a table that somebody typed, in place of the strip of the shelf."""
    table = TYPED.format(title=title, columns=columns, framed=framed, rows=rows)
    no_range = ("    range: 0.874 to 0.954 mm\n", "")
    return pairs(rows_of(sheet_with(folder, (SEARCHED, table), no_range), "figure chart"))


def test_a_typed_table_shows_the_columns_in_the_unit_of_its_second(tmp_path: Path) -> None:
    tension = typed(
        tmp_path / "a", "Tension", "structure °C, least N, wanted N, greatest N", "14",
        '["12", "173", "192", "210"], ["14", "178", "197", "216"], ["16", "183", "203", "223"]',
    )  # fmt: skip
    assert (tension["across"], tension["up"]) == ("structure °C", "N")
    assert tension["curves"] == "least; wanted; greatest"
    assert tension["at 14"] == "178; 197; 216"
    assert tension["nominal"] == "14"
    trigger = typed(
        tmp_path / "b", "Clearance", "trigger °, clearance mm, at leg °, verdict", "80.0",
        '["79.5", "14.1", "83.7", GO], ["80.0", "16.2", "83.9", GO], ["80.5", "18.3", "84.1", GO]',
    )  # fmt: skip
    assert (trigger["across"], trigger["up"]) == ("trigger °", "clearance mm")
    assert "curves" not in trigger
    assert (trigger["at 79.5"], trigger["verdict 79.5"]) == ("14.1", "GO")
