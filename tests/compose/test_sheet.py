"""A composed sheet: the same every time, its fingerprint, its marks, one text for one number."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from generator.compose import SheetFacts, compose
from generator.workshop import open_shop, work_out
from tests.helping import SOUND

SHELF = "processes/shelf.yaml"


def sheet(folder: Path, file: str = SHELF, facts: SheetFacts | None = None):
    shop = open_shop(folder)
    assert not shop.findings
    workings, findings = work_out(shop, file)
    assert not findings
    assert shop.workshop is not None
    made, faults = compose(
        shop.processes[file], workings, shop.workshop, facts or SheetFacts("", (), "not dated")
    )
    assert made is not None, faults
    return made


def changed(tmp_path: Path, was: str, now: str, file: str = SHELF) -> Path:
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    path = tmp_path / file
    text = path.read_text(encoding="utf-8")
    assert text.count(was) == 1, was
    path.write_text(text.replace(was, now), encoding="utf-8")
    return tmp_path


def test_the_same_every_time() -> None:
    assert sheet(SOUND) == sheet(SOUND)


def test_fingerprint_is_the_same_for_every_print_of_one_process() -> None:
    one = sheet(SOUND, facts=SheetFacts("A-0001", ("0001",), "25 NOV 2026"))
    other = sheet(SOUND, facts=SheetFacts("A-0002", ("0002",), "26 NOV 2026"))
    assert one.fingerprint == other.fingerprint == sheet(SOUND).fingerprint
    assert one.markdown != other.markdown


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ("Measure the sheet at four places.", "Measure the sheet at five places."),
        ("title: Battery-shelf bracket", "title: Battery-shelf brackets"),
        ("    released by: inspector", "    released by: lead"),
    ],
)
def test_fingerprint_changes_with_what_is_printed(tmp_path: Path, was: str, now: str) -> None:
    assert sheet(changed(tmp_path, was, now)).fingerprint != sheet(SOUND).fingerprint


def test_one_number_has_one_text_everywhere() -> None:
    for file in ("processes/shelf.yaml", "processes/ring.yaml"):
        shop = open_shop(SOUND)
        workings, _ = work_out(shop, file)
        text = sheet(SOUND, file).markdown
        known = {(number.mark, number.text) for number in workings.numbers.values()}
        linked = re.findall(r"\[([^\]]+)\]\(#([cg]\d+)\)", text)
        assert linked
        for words, mark in linked:
            assert (mark, words.replace("\\", "")) in known


def test_a_draft_says_so_and_has_no_serial() -> None:
    draft = sheet(SOUND).markdown
    assert "| draft | DRAFT - NOT FOR WORK |" in draft
    issued = sheet(SOUND, facts=SheetFacts("A-0001", ("0001",), "25 NOV 2026")).markdown
    assert "DRAFT" not in issued
    assert "| serial | A-0001 |" in issued


def test_a_number_somebody_typed_says_typed(tmp_path: Path) -> None:
    was = "is: 25 mm\n    from: original drawing"
    folder = changed(tmp_path, was, was.replace("original drawing", "calculated"))
    text = sheet(folder).markdown
    assert "**TYPED**" in text
    assert "**TYPED**" not in sheet(SOUND).markdown
