"""A process with a given or an instrument that nothing in it uses, in; advice on it, out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from generator.workshop import advice_on, open_shop
from tests.helping import SOUND

SHOWN = "processes/shelf.yaml"
GIVEN = "given:\n"
SPARE = "  spare:\n    is: 3 mm\n    from: original drawing\n"


def told(folder: Path, *edits: tuple[str, str]) -> list[tuple[str, str]]:
    """The advice of this kind on a sound process after some edits: the line, and what is wrong."""
    shutil.copytree(SOUND, folder, dirs_exist_ok=True)
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
