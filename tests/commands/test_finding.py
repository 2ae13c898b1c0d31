"""A whole record, in; the questions of the tenth year, each answered by one command, out."""

from __future__ import annotations

import csv
import shutil
from pathlib import Path

import pypdfium2
import pytest

from generator.record.facts_of import Row
from generator.record.index import INDEX, found_in, indexed, rows_in
from tests.commands.changing import change
from tests.commands.test_commands import SOUND, issue, run
from tests.commands.test_slips import ON
from tests.record.test_verify import folder as folder  # the fixtures
from tests.record.test_verify import kept as kept


def asked(folder: Path, capsys, *words: str) -> str:
    capsys.readouterr()
    assert run(folder, *words) == 0
    return capsys.readouterr().out


def test_who_fitted_it(kept, capsys):
    said = asked(kept, capsys, "trace", "T6-120-1 0001")
    assert "part T6-120-1 0001" in said
    said = asked(kept, capsys, "trace", "6-03 hull, radio bay")
    assert "A-0001  2026-11-26  fit: part 0001" in said


def test_which_batch_and_what_else_came_from_it(kept, capsys):
    said = asked(kept, capsys, "trace", "A-0001")
    assert "batch: B-77" in said
    said = asked(kept, capsys, "trace", "b-77", "--kind", "batch")
    assert "kit list" in said
    assert "on A-0001:" in said


def test_which_parts_were_measured_with_an_instrument_in_a_year(kept, capsys):
    indexed(kept)
    with (kept / INDEX).open(encoding="utf-8", newline="") as handle:
        number = next(row[2] for row in csv.reader(handle) if row[1:2] == ["instrument"])
    words = ("trace", number, "--since", "2026-01-01", "--until", "2026-12-31")
    said = asked(kept, capsys, *words)
    assert "operation 10, traveller" in said
    assert "thickness 0.96 mm" in said
    assert run(kept, "trace", number, "--since", "2027-01-01") == 1


def test_all_that_a_stamp_did(kept, capsys):
    said = asked(kept, capsys, "trace", "INS2", "--kind", "stamp")
    assert "concession" in said
    assert "operation 30, traveller" in said


def test_slips_concessions_certificates_and_scans(kept, capsys):
    assert "0.97 mm." in asked(kept, capsys, "trace", "NC-A-0002")
    assert "A-0001" in asked(kept, capsys, "trace", "CN-A-0001")
    assert "1 to 5 both" in asked(kept, capsys, "trace", "A-0001.pdf")


def test_an_old_drawing_a_process_and_a_name(kept, capsys):
    assert "issue C" in asked(kept, capsys, "trace", "LQ-HT-01")
    assert "A-0004" in asked(kept, capsys, "trace", "T6-P-0120")
    assert "T6-120-1" in asked(kept, capsys, "trace", "battery-shelf BRACKET")


def test_what_replaced_what(kept, capsys):
    assert "on A-0002:" in asked(kept, capsys, "trace", "A-0003", "--kind", "replaced by")
    assert "on A-0003:" in asked(kept, capsys, "trace", "A-0002", "--kind", "replaces")


def test_an_act_that_cannot_be_read_is_never_left_out_in_silence(folder, capsys):
    act = next((folder / "output/completed/A-0001").glob("*-result.yaml"))
    act.write_text("act: result\n  : [broken\n", encoding="utf-8")
    (folder / "output/index.csv").unlink(missing_ok=True)
    for words in (("index",), ("trace", "LQ1")):
        assert run(folder, *words) == 1
        assert f"{act.name} cannot be read" in capsys.readouterr().err
    assert not (folder / "output/index.csv").exists()


def test_all_concessions_of_a_trade(kept, capsys):
    said = asked(kept, capsys, "trace", "forming", "--kind", "trade")
    assert "on A-0001:" in said
    assert "concession: CN-A-0001" in said


def test_what_a_limit_was_and_why_it_changed(folder, capsys):
    change(folder, "upper: 0.954 mm", "upper: 0.944 mm")
    said = asked(folder, capsys, "compare", "T6-P-0120", "--since", "A-0001")
    assert "operation 10: LIMIT: thickness: lower 0.874, upper 0.954, unit mm" in said
    assert "-> thickness: lower 0.874, upper 0.944, unit mm" in said
    assert "B, 2026-11-26: Cut to the new length. The fit was tight." in said


def test_what_is_nowhere_says_what_is_near(kept, capsys):
    assert run(kept, "trace", "LQ-HT-02") == 1
    assert "LQ-HT-01?" in capsys.readouterr().err


def test_which_parts_are_open_and_whom_they_wait_for(kept, capsys):
    said = asked(kept, capsys, "list")
    assert "A-0004  T6-P-0120 A  T6-120-1 0003" in said
    assert "operation 10, measure, waits for volunteer" in said
    assert "1 open" in said
    assert "A-0001" not in said


def test_a_new_workshop_has_nothing_open(tmp_path, capsys):
    folder = tmp_path / "shop"
    shutil.copytree(SOUND, folder)
    assert asked(folder, capsys, "list") == "0 open, 0 at a stop\n"
    assert not (folder / "output").exists()


def test_the_visit_sheet_has_the_hold_that_is_due(folder, capsys):
    file = folder.parent / "result.yaml"
    done = '{sign done: {"done by volunteer stamp": LQ14, "date": 2026-11-26}}'
    boxes = f'{{traveller: {{"10": {done}, "20": {done}}}}}'
    from generator.commands.enter import form_read
    from generator.record import traveller

    form = form_read(traveller(folder, "A-0004"))
    rows = [f for f in form.fields if f.operation == "10" and f.row == "sign done"]
    words = ", ".join(f'"{f.name}": {"LQ14" if f.kind == "stamp" else DAY}' for f in rows)
    boxes = f'{{traveller: {{"10": {{sign done: {{{words}}}}}, "20": {{sign done: {{{words}}}}}}}}}'
    file.write_text(f"traveller: A-0004\nboxes: {boxes}\n", encoding="utf-8")
    assert run(folder, "enter", "A-0004", str(file), *ON, "LQ1") == 0
    said = asked(folder, capsys, "list", "--print", "--on", "2026-11-26")
    assert "operation 30, hold, waits for inspector" in said
    pdf = folder / "output/draft/visit/visit-sheet.pdf"
    text = "\n".join(p.get_textpage().get_text_range() for p in pypdfium2.PdfDocument(pdf))
    assert "A-0004, operation 30: hold" in text


DAY = "2026-11-26"


# --- the index itself ---------------------------------------------------------------------------


def test_the_index_is_made_from_the_files_alone_and_again_the_same(folder):
    (folder / INDEX).unlink(missing_ok=True)
    first = indexed(folder)
    assert first.read == 4
    assert indexed(folder).read == 0
    assert (folder / INDEX).read_text(encoding="utf-8") == first.text
    kinds = {row.kind for row in rows_in(first.text)}
    assert {"part", "process", "stamp", "instrument", "slip", "scan", "position"} <= kinds


def test_only_what_is_new_is_read_again_and_the_rows_are_those_of_a_fresh_one(folder):
    indexed(folder)
    assert issue(folder, "T6-P-0120", "0009", on="2026-11-26") == 0
    added = indexed(folder)
    assert added.read == 1
    (folder / INDEX).unlink()
    fresh = indexed(folder)
    assert fresh.read == 5
    assert sorted(fresh.text.splitlines()) == sorted(added.text.splitlines())


@pytest.mark.parametrize("damage", ["", "nonsense\n", "registers,A 5 0\n", None])
def test_an_index_that_does_not_fit_is_made_anew(folder, damage):
    first = indexed(folder).text
    told = first.replace("A-0001", "A-0007") if damage is None else damage
    if damage is None:
        told = told.replace(",A ", ",A 1", 1)
    (folder / INDEX).write_text(told, encoding="utf-8")
    assert indexed(folder).text == first


def test_no_cell_is_a_formula_for_a_spreadsheet(folder):
    words = ("--operation", "10", "--what", '=HYPERLINK("x")')
    assert run(folder, "slip", "A-0004", *words, *ON, "LQ14") == 0
    text = indexed(folder).text
    with (folder / INDEX).open(encoding="utf-8", newline="") as handle:
        cells = [cell for row in csv.reader(handle) for cell in row]
    assert not [cell for cell in cells if cell.startswith(("=", "@"))]
    assert [r for r in rows_in(text) if r.note == '=HYPERLINK("x")']


def test_a_word_is_found_whole_before_it_is_found_in_others():
    head = "registers\n" + ",".join(f"c{n}" for n in range(8)) + "\n"
    text = head + "A-0001,batch,B-1,,,,,\nA-0002,batch,B-12,,,,,\n"
    assert list(found_in(text, "b-1")) == [Row("A-0001", "batch", "B-1", "", "", "", "", "")]
    assert [row.value for row in found_in(text, "b-")] == ["B-1", "B-12"]
