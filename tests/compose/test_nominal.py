"""Readings with a nominal in; the nominal beside the limits wherever they are written down and
inspected, on paper and when two revisions are compared, out."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from generator.draw import draw_sheet
from generator.draw.parse import Container, blocks_of
from generator.results.changes import changes
from generator.workshop import open_shop, sheets_of
from tests.compose.sheets import FACTS, FILES, file_of, made, marked
from tests.compose.test_there import form
from tests.draw.inspector import letters, pages_of
from tests.helping import SOUND

WRITTEN = (
    "traveller", "rigging-sheet", "functional-test-sheet", "heat-treatment-record",
)  # fmt: skip
# Nominals of the demo, as their processes say them: typed, given, worked out, ticked in a strip.
SAID = [
    ("T6-P-0310", "bolt holes, 1 to 24", "6.38 mm"),
    ("T6-P-0310", "wrench set for pass 1 to", "as ticked[c25]"),
    ("T6-P-0210", "bore, bases 1 to 5", "8.000 mm[g35]"),
    ("T6-P-0105", "station 150", "330.5 mm[c7]"),
    ("T6-P-0120", "inside radius, 1 and 2", "3.2 mm"),
    ("T6-P-0510", "down, column forward, port and starboard", "107.7 mm[c20]"),
]


def nominals(file: str, kind: str, name: str) -> dict[str, str]:
    """What is read -> its nominal, in the tables of a sheet that have one."""
    found = {}
    for block in blocks_of(made(file).sheets[kind]):
        if isinstance(block, Container) and block.name == name:
            heads = [marked(cell) for cell in block.rows[0]]
            for row in block.rows[1:] if "nominal" in heads else ():
                told = dict(zip(heads, map(marked, row), strict=True))
                found[told.get("what", told.get("reading", ""))] = told["nominal"]
    return found


@pytest.mark.parametrize(("number", "name", "said"), SAID)
def test_a_nominal_stands_where_it_is_read_and_where_it_is_inspected(number, name, said):
    file = file_of(number)
    kinds = [kind for kind in WRITTEN if kind in made(file).sheets]
    read = {k: v for kind in kinds for k, v in nominals(file, kind, "readings").items()}
    assert read[name] == said
    assert nominals(file, "inspection-sheet", "features")[name] == said


@pytest.mark.parametrize("file", FILES)
def test_no_nominal_of_a_process_is_left_out_and_none_is_made_up(file):
    own = (Path(__file__).parents[2] / file).read_text(encoding="utf-8")
    typed = re.findall(r'(?m)^ +- \{name: ("[^"]*"|[^,]*), nominal: ', own)
    kinds = [kind for kind in WRITTEN if kind in made(file).sheets]
    printed = [
        name
        for kind in kinds
        for name, nominal in nominals(file, kind, "readings").items()
        if nominal != "-"
    ]
    # A wanted value that is not the middle of its limits has one too.
    wanted = re.findall(r'name: ("[^"]*"|[^,]*), wanted: [^,]* \+[0-9.]+/-[0-9.]+', own)
    assert {*printed} == {each.strip('"') for each in (*typed, *wanted)}


def read_with(folder: Path, limits: str) -> str:
    """The reading of the sound shelf with other limits, as the traveller has it."""
    shutil.copytree(SOUND, folder, dirs_exist_ok=True)
    file = folder / "processes/shelf.yaml"
    text = file.read_text(encoding="utf-8")
    old = re.search(r"(?m)^        nominal: .*\n        lower: .*\n        upper: .*\n", text)
    assert old is not None
    file.write_text(text.replace(old[0], f"        {limits}\n"), encoding="utf-8")
    shop = open_shop(folder)
    assert shop.findings == ()
    sheets, findings = sheets_of(shop, "processes/shelf.yaml", FACTS)
    assert sheets is not None, findings
    (row,) = re.findall(r"(?m)^\| thickness \| .* \|$", sheets.sheets["traveller"])
    return row.removeprefix("| thickness | ").removesuffix(" |")


@pytest.mark.parametrize(
    ("limits", "printed"),
    [
        ("wanted: 0.914 ± 0.040 mm", "0.874 | 0.954 | mm | 1"),
        ("wanted: 0.914 +0.020/-0.020 mm", "0.894 | 0.934 | mm | 1"),
        ("wanted: 0.914 +0.040/-0.000 mm", "0.914 | 0.954 | mm | 1 | 0.914 mm"),
        ("wanted: 0.90 to 0.94 mm", "0.900 | 0.940 | mm | 1"),
        ("upper: 0.954 mm", "- | 0.954 | mm | 1"),
    ],
)
def test_limits_that_say_it_all_have_no_nominal(tmp_path, limits, printed):
    assert read_with(tmp_path, limits) == printed


def test_a_nominal_is_on_the_paper_with_its_mark():
    """Of a page as it is read back: the words stand below or behind those of the reading."""
    file = file_of("T6-P-0105")
    for kind in ("traveller", "inspection-sheet"):
        pages = pages_of(draw_sheet(made(file).sheets[kind]).pdf)
        said = letters("".join(page.text for page in pages))
        assert letters("station 150 nominal 330.5 mm [c7]") in said


def test_a_nominal_changes_no_box_and_no_limit():
    own = form(made(file_of("T6-P-0105")).sheets)
    (field,) = [f for f in own.fields if (f.sheet, f.row) == ("traveller", "station 150")]
    assert (field.lower, field.upper, field.unit) == ("330.0", "331.0", "mm")
    assert (field.lower_by, field.upper_by, field.boxes) == ("", "", ("station 150, mm",))


def test_another_nominal_is_a_change_of_its_own_reading_alone():
    sheets = made(file_of("T6-P-0105")).sheets
    newer = {**sheets, "traveller": sheets["traveller"].replace("330.5 mm](#c7)", "330.6 mm](#c7)")}
    (told,) = [c for c in changes(sheets, newer) if c.what == "limit"]
    assert "station 150: " in told.old and "nominal 330.5 mm" in told.old
    assert "nominal 330.6 mm" in told.new
    none = re.sub(r"\[330\.5 mm\]\(#c7\) \|", "- |", sheets["traveller"])
    (told,) = [c for c in changes(sheets, {**sheets, "traveller": none}) if c.what == "limit"]
    assert "nominal" not in told.new
