"""A traveller with something on it that stops its close, in; the way out that `close` itself offers,
gone to its end, out."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

from generator.commands.close import _finding
from generator.record import traveller
from generator.results.case import Verdict
from tests.commands.conftest import copied
from tests.commands.test_commands import SOUND, committed, issue, run
from tests.commands.test_slips import close, concede, dispose, entered, slip
from tests.record.conftest import run_git
from tests.results.filled import counted

BETWEEN = {"10 used": "0.894", "10 thickness": "0.884"}  # between two columns: the lead is asked
INSTRUMENTS = "processes/workshop/instruments.yaml"


def _use(folder: Path, number: str) -> None:
    assert dispose(folder, number, "use") == 0
    assert concede(folder, number) == 0


def _later(folder: Path, *words: str) -> int:
    return run(folder, *words[:-1], "--on", "2026-11-27", "--stamp", words[-1])


def test_a_column_for_the_lead_to_decide_on_takes_the_way_of_a_slip(issued, capsys):
    entered(issued, BETWEEN)
    assert close(issued) == 1
    assert "or witnessmark slip A-0001 --operation 10" in capsys.readouterr().err
    assert slip(issued, what="0.884 mm, ticked 0.894.") == 0
    capsys.readouterr()
    _use(issued, "NC-A-0001")
    assert "allowed: used: 0.894" in capsys.readouterr().out
    assert close(issued) == 0


def test_a_value_beyond_its_instrument_takes_the_way_of_a_slip(issued, capsys):
    file = issued / INSTRUMENTS
    text = file.read_text("utf-8")
    file.write_text(
        text.replace("kind: micrometer,", "kind: micrometer, range: 1 to 25 mm,"), "utf-8"
    )
    run_git(issued, "commit", "--quiet", "-m", "Its range", "--", str(file))
    entered(issued)
    assert close(issued) == 1
    said = capsys.readouterr().err
    assert "operation 10, thickness: range: 0.874 mm, and G-101 reads 1 to 25 mm" in said
    assert "the number of the instrument that read it, entered; or witnessmark slip" in said
    assert slip(issued, what="Read with a micrometer from 1 mm on.") == 0
    _use(issued, "NC-A-0001")
    assert close(issued) == 0


def test_a_batch_of_something_else_takes_the_way_of_a_slip(issued_demo, tmp_path, capsys):
    """It was cut of that: no label is to be read again, and no list to be mended."""
    folder = copied(issued_demo, tmp_path)
    row = "1 sheet, clad Al-Cu-Mg, annealed, 20 SWG"
    entered(folder, {f"{row}: batch": "B-0150"})
    capsys.readouterr()
    assert close(folder) == 1
    said = capsys.readouterr().err
    assert "B-0150 is sheet, clad Al-Cu-Mg, heat-treated, 16 SWG on the list of materials" in said
    way = "as it is, witnessmark slip A-0001 --operation N, N any operation, then concede --covers"
    assert f'{way} "{row}: batch=VALUE"' in said
    assert slip(folder, what="Cut of the thick sheet.") == 0
    assert dispose(folder, "NC-A-0001", "use") == 0
    covers = ("concede", "NC-A-0001", "--what", "Thick enough.", "--covers", f"{row}: batch=B-0150")
    assert run(folder, *covers, "--on", "2026-11-26", "--stamp", "INS2") == 0
    assert close(folder) == 0


def test_the_charge_of_an_operation_is_conceded_at_that_operation(issued_demo, capsys):
    """A slip at another names no box of the charge, and would stay open."""
    says = "0001, and 0012 of this traveller is not among them: read the papers again, or a slip"
    told = Verdict("serial", "heat-treatment-record", "", "papers: serials in the charge", says)
    history = traveller(issued_demo, "A-0001")
    for of, at in (("130", "130"), ("", "N, N any operation")):
        right = _finding(history, "", replace(told, of=of)).right
        way = f"; as it is, witnessmark slip A-0001 --operation {at}, then concede --covers "
        assert right.endswith(f'{way}"papers: serials in the charge=VALUE"')


def test_an_instrument_that_was_taken_out_of_the_list_has_the_range_of_its_issue(tmp_path, capsys):
    folder = tmp_path / "shop"
    shutil.copytree(SOUND, folder)
    shelf, list_of = folder / "processes/shelf.yaml", folder / INSTRUMENTS
    alone = shelf.read_text("utf-8").replace("process: T6-P-0310", "evidence: EV-0310")
    shelf.write_text(alone, "utf-8")
    text = list_of.read_text("utf-8")
    list_of.write_text(
        text.replace("kind: micrometer,", "kind: micrometer, range: 1 to 25 mm,"), "utf-8"
    )
    committed(folder)
    assert issue(folder, "T6-P-0120", "0001") == 0
    entered(folder)
    kept = [line for line in text.splitlines() if "G-101" not in line]
    assert len(kept) == len(text.splitlines()) - 1
    list_of.write_text("\n".join(kept) + "\n", "utf-8")
    run_git(folder, "commit", "--quiet", "-m", "Given away", "--", str(list_of))
    assert close(folder) == 1
    assert "0.874 mm, and G-101 reads 1 to 25 mm" in capsys.readouterr().err


def test_what_is_done_again_stands_for_a_signature_of_the_wrong_class(issued, capsys):
    entered(issued, {"10 sign done: done by volunteer stamp": "ST5"})
    assert close(issued) == 1
    assert "ST5 is of class stores, not volunteer" in capsys.readouterr().err
    assert slip(issued, what="Signed by stores.") == 0
    assert dispose(issued, "NC-A-0001", "rework") == 0
    assert close(issued) == 1
    entered(issued, rework="R1")
    assert close(issued) == 0


def test_a_hold_that_was_released_too_early_is_released_again(issued, capsys):
    entered(issued, {"30 sign hold: released by inspector date": "2026-11-25"})
    assert close(issued) == 1
    assert "signed 2026-11-26, after hold 30 was released" in capsys.readouterr().err
    assert slip(issued, "30", "Released a day before the work.") == 0
    assert dispose(issued, "NC-A-0001", "rework") == 0
    entered(issued, rework="R1")
    assert close(issued) == 0


def test_a_hold_that_was_released_over_a_value_needs_the_word_of_an_inspector(issued, capsys):
    """The hold is of the 26th, and the concession of the 27th."""
    entered(issued, {"10 thickness": "0.954", "20 operation: 20 done": "x"})
    assert "over" not in capsys.readouterr().out
    value = {"10 thickness": "0.960", "feature 1: actual": "0.960"}
    entered(issued, {**value, **counted(2, 2, 0)}, corrects="misread")
    words = ("slip", "A-0001", "--operation", "10", "--what", "0.960 mm, limit 0.954.")
    assert _later(issued, *words, "LQ14") == 0
    settle = (("dispose", "--decision", "use", "--why", "It allows it.", "LQ1"),
              ("concede", "--what", "It is allowed.", "INS2"))  # fmt: skip
    for verb, *more in settle:
        assert _later(issued, verb, "NC-A-0001", *more) == 0
    capsys.readouterr()
    assert _later(issued, "close", "A-0001", "LQ1") == 1
    said = capsys.readouterr().err
    assert "released 2026-11-26 over operation 10, thickness 0.960, which was allowed later" in said
    assert "witnessmark slip A-0001 --operation 30" in said
    words = ("slip", "A-0001", "--operation", "30", "--what", "Released over 0.960 mm.")
    assert _later(issued, *words, "LQ14") == 0
    for verb, *more in settle:
        assert _later(issued, verb, "NC-A-0002", *more) == 0
    assert "allowed: sign hold released by inspector date: 2026-11-26" in capsys.readouterr().out
    assert _later(issued, "close", "A-0001", "LQ1") == 0


def test_a_material_past_its_day_is_allowed_at_the_operation_that_uses_it(tmp_path, capsys):
    folder = tmp_path / "shop"
    shutil.copytree(SOUND, folder)
    shelf = folder / "processes/shelf.yaml"
    text = shelf.read_text("utf-8").replace("process: T6-P-0310", "evidence: EV-0310")
    sealant = '  - {item: sealant, sort: consumable, quantity: "1", batch: yes, use by: yes}\n'
    text = text.replace("    batch: yes\n", f"    batch: yes\n{sealant}")
    text = text.replace("    steps:\n      - Mark", "    uses: [sealant]\n    steps:\n      - Mark")
    shelf.write_text(text, "utf-8")
    committed(folder)
    assert issue(folder, "T6-P-0120", "0001") == 0
    entered(folder, {"2 sealant: use by": "2026-11-25"})
    assert close(folder) == 1
    said = "2026-11-25 is before the day of use, 2026-11-26: a slip is needed"
    assert said in capsys.readouterr().err
    assert slip(folder, "20", "Sealant a day past its use by.") == 0
    capsys.readouterr()
    _use(folder, "NC-A-0001")
    assert "allowed: 2 sealant use by: 2026-11-25" in capsys.readouterr().out
    assert close(folder) == 0
