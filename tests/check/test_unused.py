"""A process with a given or an instrument that nothing in it uses, in; advice on it, out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from generator.workshop import advice_on, open_shop
from tests.helping import SOUND

SHOWN = "processes/shelf.yaml"
LISTS = "processes/workshop/instruments.yaml"
GIVEN = "given:\n"
SPARE = "  spare:\n    is: 3 mm\n    from: original drawing\n"


def told(folder: Path, *edits: tuple[str, str], owned: str = "") -> list[tuple[str, str]]:
    """The advice of this kind on a sound process after some edits: the line, and what is wrong."""
    shutil.copytree(SOUND, folder, dirs_exist_ok=True)
    with (folder / LISTS).open("a", encoding="utf-8") as list_of:
        list_of.write(owned)
    file = folder / SHOWN
    text = file.read_text(encoding="utf-8")
    for old, new in (("  - kind: steel rule\n    reads to: 0.5 mm\n", ""), *edits):
        assert old in text
        text = text.replace(old, new, 1)
    file.write_text(text, encoding="utf-8")
    shop = open_shop(folder)
    assert shop.findings == ()
    found = [each for each in advice_on(shop, SHOWN) if each.code == "unused"]
    assert all(each.advice for each in found)
    return [(text.split("\n")[each.place.line - 1].strip(), each.wrong) for each in found]


def test_what_is_all_used_gets_none(tmp_path):
    assert told(tmp_path) == []


def test_a_given_that_nothing_takes(tmp_path):
    found = told(tmp_path, (GIVEN, GIVEN + SPARE))
    assert found == [("spare:", "nothing uses the given 'spare'")]


def test_an_instrument_by_which_nothing_is_read(tmp_path):
    old = "instruments:\n"
    found = told(tmp_path, (old, f"{old}  - kind: digital caliper\n"))
    assert found == [("- kind: digital caliper", "nothing is read with a digital caliper")]


@pytest.mark.parametrize("edit", [
    ("Mark the sight line at {{ sight_line }}.", "Mark the sight line {{ spare }} off the edge."),
    ("    is: flat.flats.1 + radius\n", "    is: flat.flats.1 + radius + spare\n"),
    ("    legs: [leg, leg]\n", "    legs: [leg, spare]\n"),
    ("        upper: 0.954 mm\n", "        upper: spare\n"),
])  # fmt: skip
def test_a_given_is_used_in_a_text_a_formula_a_list_or_a_limit(tmp_path, edit):
    assert told(tmp_path, (GIVEN, GIVEN + SPARE), edit) == []


def test_the_word_in_a_sentence_is_no_use_of_the_number(tmp_path):
    edit = ("Deburr all edges.", "Keep the spare blank.")
    found = told(tmp_path, (GIVEN, GIVEN + SPARE), edit)
    assert found == [("spare:", "nothing uses the given 'spare'")]


def test_an_instrument_that_a_step_names_is_used(tmp_path):
    edits = (
        ("instruments:\n", "instruments:\n  - kind: digital caliper\n"),
        ("Deburr all edges.", "Lay the digital caliper in its box."),
    )
    assert told(tmp_path, *edits) == []


OWNED = "  - {number: G-170, kind: thermometer, reads to: 0.1 °C, check due: 2027-01-18}\n"
LOG = "    log: {of: {pressure: bar g, oil: °C}, every: 2 min, for: 10 min}\n"


@pytest.mark.parametrize(("reads_to", "log", "wanted"), [
    ("0.1 °C", LOG, []),
    ("0.1 °C", "", ["nothing is read with a thermometer"]),
    ("1 m", LOG, ["nothing is read with a thermometer"]),
])  # fmt: skip
def test_a_column_of_a_log_is_read_with_what_reads_its_kind(tmp_path, reads_to, log, wanted):
    """A log names no instrument: the thermometer of its oil was told to be of no use."""
    old, do = "instruments:\n", "    warning: Sheet edges cut to the bone. Wear gloves.\n"
    line = f"{old}  - {{kind: thermometer, reads to: {reads_to}}}\n"
    found = told(tmp_path, (old, line), (do, f"{log}{do}"), owned=OWNED)
    assert [wrong for _, wrong in found] == wanted
