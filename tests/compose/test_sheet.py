"""A sound workshop in; the sheets of a process, the same every time, with a fingerprint of what they
say."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from generator.compose import SheetFacts, Sheets, compose, short
from generator.workshop import open_shop, work_out
from tests.helping import SOUND, texts_in

SHELF, RING = "processes/shelf.yaml", "processes/ring.yaml"
DRAFT = SheetFacts("", (), "2026-11-25")


def sheet_in(folder: Path, file: str, facts: SheetFacts = DRAFT) -> Sheets:
    shop = open_shop(folder)
    assert shop.workshop is not None
    assert not shop.findings
    workings, findings = work_out(shop, file)
    assert not findings
    made, faults = compose(shop.processes[file], workings, shop.workshop, facts)
    assert not faults
    assert made is not None
    return made


def whole(made: Sheets) -> str:
    """All sheets behind each other."""
    return "\n".join(made.sheets.values())


@pytest.fixture(scope="module")
def sound() -> dict[str, Sheets]:
    return {file: sheet_in(SOUND, file) for file in (SHELF, RING)}


# --- the same bytes -------------------------------------------------------------------------


def test_the_same_process_gives_the_same_sheet(sound):
    assert {file: sheet_in(SOUND, file) for file in (SHELF, RING)} == sound


def test_the_same_sheet_comes_from_another_run_of_python(sound):
    program = (
        "from tests.helping import *; import sys;"
        "sheets, _ = sheets_of(SOUND); sys.stdout.buffer.write(sheets[sys.argv[1]].encode())"
    )
    root = str(Path(__file__).parents[2])
    told = subprocess.run(
        [sys.executable, "-c", program, RING],
        capture_output=True, check=True, cwd=root,
        env={**os.environ, "PYTHONHASHSEED": "7", "PYTHONPATH": root},
    )  # fmt: skip
    assert told.stdout.decode() == whole(sound[RING])


# --- the fingerprint ------------------------------------------------------------------------

# One line each: the file, what stood there, what stands there instead. All of it is printed.
PRINTED = [
    (SHELF, "title: Battery-shelf bracket", "title: Battery-shelf brackets"),
    (SHELF, "trade: forming", "trade: machining"),
    (SHELF, "  number: T6-120-1", "  number: T6-120-2"),
    (SHELF, "  name: Battery-shelf bracket", "  name: Battery-shelf angle"),
    (SHELF, "  hand: none", "  hand: PORT"),
    (SHELF, "  drawing: none survives", "  drawing: sketch 4"),
    (SHELF, "  position: hull, radio bay", "  position: hull, mail bay"),
    (SHELF, "airframe: 6-03", "airframe: 6-04"),
    (SHELF, "author: LQ1\nchecker", "author: IND4\nchecker"),
    (SHELF, "checker: LQ14", "checker: INS2"),
    (SHELF, "  - letter: A", "  - letter: B"),
    (SHELF, "    date: 2026-09-28", "    date: 2026-09-29"),
    (SHELF, "    approved by: INS2", "    approved by: IND4"),
    (SHELF, "    changed: First issue.", "    changed: Second issue."),
    (SHELF, "    why: One of four", "    why: Two of four"),
    (SHELF, "    says: ring in place", "    says: ring painted"),
    (SHELF, "    issue: B", "    issue: C"),
    (SHELF, "    title: Workshop rules for the bending brake", "    title: Workshop rules"),
    (SHELF, "safety: [sheet metal]", "safety: [sheet metal, alone]"),
    (SHELF, "    quantity: 0.02 m²", "    quantity: 0.03 m²"),
    (SHELF, "    batch: yes", "    batch: no"),
    (SHELF, "  - soft pencil", "  - hard pencil"),
    (SHELF, "  - kind: steel rule", "  - kind: digital caliper"),
    (SHELF, "    is: 3.2 mm", "    is: 3.3 mm"),
    (SHELF, "    is: 25 mm", "    is: 25.0 mm"),
    (SHELF, "    note: from flat", "    note: from the flat sheet"),
    (SHELF, "  leg:\n    is: 25 mm\n    from: original drawing", "  leg:\n    is: 25 mm\n    from: mirrored"),
    (SHELF, "    legs: [leg, leg]", "    legs: [leg, 25.5 mm]"),
    (SHELF, "    is: flat.flats.1 + radius", "    is: flat.flats.1 - radius"),
    (SHELF, "      step: 0.020 mm", "      step: 0.010 mm"),
    (SHELF, "        lower: 0.874 mm", "        lower: 0.884 mm"),
    (SHELF, "        with: micrometer", "        with: micrometer\n        times: \"4\""),
    (SHELF, "    do: Measure the sheet at four places.", "    do: Measure the sheet at five places."),
    (SHELF, "    warning: Sheet edges cut to the bone.", "    warning: Sheet edges cut."),
    (SHELF, "    caution: A nick", "    caution: A scratch"),
    (SHELF, "      - Deburr all edges.", "      - Deburr both edges."),
    (SHELF, "    released by: inspector", "    released by: lead"),
    (SHELF, '        exactly: "0"', '        exactly: "1"'),
    (RING, "    spares: \"2\"", "    spares: \"3\""),
    (RING, "    example: 8 lbf·in", "    example: 9 lbf·in"),
    (RING, "    target: 60 lbf·in", "    target: 61 lbf·in"),
    (RING, "    pitch circle: 640 mm", "    pitch circle: 641 mm"),
    (RING, "    first: top", "    first: bottom"),
    (RING, "    numbering: clockwise", "    numbering: anticlockwise"),
    (RING, "    looking: aft", "    looking: forward"),
    (RING, "      - every bolt is marked", "      - every nut is marked"),
    ("processes/workshop/workshop.yaml", "workshop: Lantern Quay Workshop", "workshop: Lantern Quay"),
    ("processes/workshop/workshop.yaml", "aircraft: Type 6", "aircraft: Type 7"),
    ("processes/workshop/workshop.yaml", "units: Lengths", "units: All lengths"),
]  # fmt: skip


@pytest.mark.parametrize(("file", "was", "now"), PRINTED, ids=lambda text: str(text).strip()[:40])
def test_the_fingerprint_changes_with_whatever_is_printed(file, was, now, tmp_path, sound):
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    text = (tmp_path / file).read_text(encoding="utf-8")
    assert text.count(was) == 1
    (tmp_path / file).write_text(text.replace(was, now), encoding="utf-8")
    of = SHELF if file not in (SHELF, RING) else file
    changed = sheet_in(tmp_path, of)
    assert changed.fingerprint != sound[of].fingerprint
    assert _what_is_said(changed) != _what_is_said(sound[of])


def _what_is_said(made: Sheets) -> str:
    """The sheets without their fingerprints, which would differ in any case."""
    return re.sub(r"(?m)^(\| fingerprint \||Full fingerprint:).*$", "", whole(made))


PRINTS = [
    SheetFacts("A-0042", ("0003",), "2026-11-25"),
    SheetFacts("A-0043", ("0003",), "2026-11-25"),
    SheetFacts("A-0042", ("0004", "0005"), "2026-11-25"),
    SheetFacts("A-0042", ("0003",), "2027-01-01"),
]


@pytest.mark.parametrize("facts", PRINTS, ids=lambda facts: f"{facts.serial} {facts.day}")
def test_the_fingerprint_is_the_same_for_every_print_of_one_text(facts, sound):
    made = sheet_in(SOUND, SHELF, facts)
    assert made.fingerprint == sound[SHELF].fingerprint
    for kind, text in made.sheets.items():
        assert text != sound[SHELF].sheets[kind]
        assert f"| serial | {facts.serial} |" in text
        assert f"| printed | {facts.day} |" in text
        assert "DRAFT" not in text


def test_a_comment_or_an_empty_line_changes_no_fingerprint(tmp_path, sound):
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    file = tmp_path / SHELF
    file.write_text(
        "# a note to ourselves\n\n" + file.read_text(encoding="utf-8"), encoding="utf-8"
    )
    assert sheet_in(tmp_path, SHELF).fingerprint == sound[SHELF].fingerprint


def test_a_draft_says_that_it_is_one(sound):
    for text in sound[SHELF].sheets.values():
        assert "| serial | DRAFT |" in text
        assert "| draft | DRAFT - NOT FOR WORK |" in text


def test_the_short_fingerprint_is_the_start_of_the_full_one(sound):
    made = sound[SHELF]
    assert re.fullmatch(r"[0-9a-f]{64}", made.fingerprint)
    assert short(made.fingerprint).replace(" ", "").lower() == made.fingerprint[:12]
    for text in made.sheets.values():
        assert f"Full fingerprint: {made.fingerprint}" in text
        assert f"| fingerprint | {short(made.fingerprint)} |" in text


# --- numbers --------------------------------------------------------------------------------


def test_the_framed_column_of_a_strip_is_the_number_of_the_sheet(sound):
    lines = sound[SHELF].sheets["traveller"].split("\n")
    head = next(i for i, line in enumerate(lines) if line.startswith("| thickness mm |"))
    cells = [cell.strip() for cell in lines[head].strip("|").split("|")]
    values = [cell.strip() for cell in lines[head + 2].strip("|").split("|")]
    framed = [value for cell, value in zip(cells, values, strict=True) if cell.startswith("**")]
    (length,) = re.findall(r"CUT\*\* the blank to \[(\S+) mm\]", sound[SHELF].sheets["traveller"])
    assert framed == [length]
    assert cells[1:] == ["0.874", "0.894", "**0.914**", "0.934", "0.954"]


def test_an_edge_of_a_strip_is_what_the_sheet_says_at_that_value(tmp_path, sound):
    """The sheet worked out anew with the edge as its nominal has the strip's own number."""
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    file = tmp_path / SHELF
    text = file.read_text(encoding="utf-8").replace("    is: 0.914 mm", "    is: 0.874 mm")
    file.write_text(text, encoding="utf-8")
    (anew,) = re.findall(
        r"CUT\*\* the blank to \[(\S+) mm\]", sheet_in(tmp_path, SHELF).sheets["traveller"]
    )
    (row,) = re.findall(
        r"(?m)^\| \[developed length mm\]\(#c1\) \| (\S+) \|", sound[SHELF].sheets["traveller"]
    )
    assert row == anew


def test_an_example_is_marked_wherever_it_stands(tmp_path):
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    file = tmp_path / RING
    words = "    do: Clean the threads dry."
    text = file.read_text(encoding="utf-8").replace(words, "    do: Drag was {{ drag }}.")
    file.write_text(text, encoding="utf-8")
    texts = texts_in(sheet_in(tmp_path, RING).sheets["traveller"])
    assert "DRAG was 8 lbf·in EXAMPLE." in texts
    assert "8 lbf·in EXAMPLE" in texts


def test_an_example_never_reaches_a_sheet_that_is_issued():
    shop = open_shop(SOUND)
    _, findings = work_out(shop, RING, drafting=False)
    assert [(f.code, f.place.words.strip()) for f in findings][:1] == [("given", "drag:")]
    assert "'drag' comes with the part" in findings[0].wrong
    assert "--given FILE" in findings[0].right


def test_a_number_that_somebody_worked_out_elsewhere_is_marked_typed(tmp_path):
    shutil.copytree(SOUND, tmp_path, dirs_exist_ok=True)
    file = tmp_path / SHELF
    was = "  leg:\n    is: 25 mm\n    from: original drawing"
    text = file.read_text(encoding="utf-8").replace(
        was, was.replace("original drawing", "calculated")
    )
    text = text.replace("      - Deburr all edges.", "      - Mark {{ leg }} from the end.")
    file.write_text(text, encoding="utf-8")
    sheets = sheet_in(tmp_path, SHELF).sheets
    assert "Mark 25 mm TYPED from the end." in texts_in(sheets["traveller"])
    for kind in ("traveller", "calculation-sheet", "evidence-sheet"):
        assert "25 mm TYPED" in texts_in(sheets[kind])


def test_nothing_is_marked_that_is_neither(sound):
    assert "TYPED" not in whole(sound[SHELF])
    assert "EXAMPLE" not in whole(sound[SHELF])
