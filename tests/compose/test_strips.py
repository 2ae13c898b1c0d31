"""Strips over one and over two measured numbers: each answer against the textbook rule by hand."""

from __future__ import annotations

import re
import shutil
from itertools import product
from pathlib import Path

import pytest

from tests.helping import SOUND, sheets_of, texts_in

SHELF = "processes/shelf.yaml"
STRIP = "      of: flat.length\n      over: thickness\n"
ACROSS = """      across:
        over: radius
        from: 3.0 mm
        to: 3.4 mm
        step: 0.2 mm
"""
RADIUS = "  radius:\n    is: 3.2 mm\n"
RANGE = "    range: 2.8 to 3.6 mm\n"
THICKNESSES, RADII = ("0.874", "0.894", "0.914", "0.934", "0.954"), ("3.0", "3.2", "3.4")


def sheet_with(folder: Path, *edits: tuple[str, str]) -> str:
    """The shelf's traveller with these edits to its process."""
    shutil.copytree(SOUND, folder, dirs_exist_ok=True)
    file = folder / SHELF
    text = file.read_text(encoding="utf-8")
    for was, now in edits:
        assert text.count(was) == 1, was
        text = text.replace(was, now)
    file.write_text(text, encoding="utf-8")
    sheets, findings = sheets_of(folder)
    assert not findings, findings
    return sheets[SHELF]


def rows_of(sheet: str, name: str) -> list[list[str]]:
    """The cells of the one container of that name, its line of dashes left out."""
    (inside,) = re.findall(rf"(?m)^::: {name}\n((?:.*\n)*?):::$", sheet)
    rows = [line for line in inside.split("\n") if line.startswith("|")]
    cells = [[cell.strip() for cell in line.strip("|").split("|")] for line in rows]
    return [row for row in cells if not set(row[0]) <= {"-"}]


def bare(rows: list[list[str]]) -> list[list[str]]:
    return [[cell.strip("*") for cell in row] for row in rows]


@pytest.fixture(scope="module")
def grid(tmp_path_factory) -> list[list[str]]:
    folder = tmp_path_factory.mktemp("grid")
    sheet = sheet_with(folder, (RADIUS, RADIUS + RANGE), (STRIP, STRIP + ACROSS))
    return rows_of(sheet, "grid")


def test_a_grid_has_one_number_down_and_the_other_across(grid):
    head, *rows = bare(grid)
    assert head == ["thickness mm / radius mm", *RADII]
    assert [row[0] for row in rows] == list(THICKNESSES)


def test_every_answer_of_a_grid_is_the_textbooks(grid):
    """Two legs of 25 mm to the mould line, one bend of 90°: both flats, R + T shorter each, and the
    allowance (0.01743 R + 0.0078 T) · 90 of the hand-books of the trade (FAA-H-8083-31, empirical
    formula for the bend allowance; from memory)."""
    answers = {
        (row[0], r): cell for row in bare(grid)[1:] for r, cell in zip(RADII, row[1:], strict=True)
    }
    for thickness, radius in product(THICKNESSES, RADII):
        t, r = float(thickness), float(radius)
        length = 2 * (25 - r - t) + (0.01743 * r + 0.0078 * t) * 90
        assert float(answers[thickness, radius]) == pytest.approx(length, abs=0.0501)
    assert len(set(answers.values())) >= 4


@pytest.mark.parametrize(
    ("thickness", "radius"), [("0.874", "3.0"), ("0.894", "3.4"), ("0.954", "3.2")]
)
def test_a_cell_is_what_the_sheet_says_with_both_as_its_givens(thickness, radius, grid, tmp_path):
    sheet = sheet_with(
        tmp_path,
        ("    is: 0.914 mm\n", f"    is: {thickness} mm\n"),
        (RADIUS, RADIUS.replace("3.2", radius)),
    )
    (anew,) = re.findall(r"CUT\*\* the blank to \[(\S+) mm\]", sheet)
    row = next(row for row in bare(grid) if row[0] == thickness)
    assert row[1 + RADII.index(radius)] == anew


def test_the_nominal_row_column_and_cell_are_framed_and_nothing_else(grid):
    framed = [(i, j) for i, row in enumerate(grid) for j, cell in enumerate(row) if "**" in cell]
    assert framed == [(0, 2), (3, 0), (3, 2)]
    assert (grid[0][2], grid[3][0]) == ("**3.2**", "**0.914**")


def test_a_nominal_beside_the_grid_frames_only_the_other_one(tmp_path):
    across = ACROSS.replace("from: 3.0", "from: 3.3").replace("step: 0.2", "step: 0.1")
    rows = rows_of(sheet_with(tmp_path, (RADIUS, RADIUS + RANGE), (STRIP, STRIP + across)), "grid")
    framed = [(i, j) for i, row in enumerate(rows) for j, cell in enumerate(row) if "**" in cell]
    assert framed == [(3, 0)]


@pytest.mark.parametrize(("thickness", "radius"), [
    ("    is: 0.914 ± 0.040 mm\n", "    is: 3.2 ± 0.2 mm\n"),
    ("    is: 0.874 +0.080/-0 mm\n", "    is: 3.4 +0/-0.4 mm\n"),
])  # fmt: skip
def test_limits_of_a_givens_own_end_a_grid_where_it_has_no_range(thickness, radius, tmp_path):
    sheet = sheet_with(
        tmp_path,
        ("    is: 0.914 mm\n    range: 0.874 to 0.954 mm\n", thickness),
        ("    is: 3.2 mm\n", radius),
        (STRIP, STRIP + ACROSS),
    )
    head, *rows = bare(rows_of(sheet, "grid"))
    assert (head[1:], [row[0] for row in rows]) == (list(RADII), list(THICKNESSES))


# --- the words above ------------------------------------------------------------------------

TAKE = [
    ("", "Between two values: tell the lead."),
    ("stop", "Between two values: tell the lead."),
    ("nearer", "Between two values: take the nearer; half way, tell the lead."),
    ("larger", "Between two values: take the larger."),
    ("smaller", "Between two values: take the smaller."),
]
END = "At STOP the answers end: work out none, tell the lead."


@pytest.mark.parametrize(("word", "says"), TAKE)
def test_a_strip_says_what_tick_and_stop_mean_and_what_lies_between(word, says, tmp_path):
    more = f"      between: {word}\n" if word else ""
    sheet = sheet_with(tmp_path, (STRIP, STRIP + more))
    assert f"Tick the value used. {says} {END}" in texts_in(sheet)


def test_a_grid_says_what_it_answers_and_what_lies_between_rows_and_columns(tmp_path):
    strip = f"{STRIP}      between: larger\n{ACROSS}"
    both = strip + "        between: larger\n"
    edits = (RADIUS, RADIUS + RANGE)
    of = "Developed length in mm: thickness at the left, radius on top. Tick the one used."
    differing = "Between two rows: take the larger. Between two columns: tell the lead."
    alike = "Between two rows or two columns: take the larger."
    for text, says in ((strip, differing), (both, alike)):
        assert f"{of} {says} {END}" in texts_in(sheet_with(tmp_path, edits, (STRIP, text)))


def test_a_strip_without_across_is_none_the_wider(tmp_path):
    sheet = sheet_with(tmp_path)
    assert "::: grid" not in sheet
    assert bare(rows_of(sheet, "strip"))[0] == ["thickness mm", *THICKNESSES]
