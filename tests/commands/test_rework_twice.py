"""An operation that is done again twice, in; the earlier sheet out of force on paper, for the close
and for the list of open work, and what was entered on it still there, out."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from generator.commands.enter import form_read, results_of
from generator.commands.in_force import in_force
from generator.record import traveller
from generator.workshop import open_workshop
from tests.commands.test_commands import run
from tests.commands.test_slips import ON, close, dispose, entered, slip
from tests.results.filled import filled


def rework(folder: Path, number: str, *operations: str) -> int:
    return dispose(
        folder, f"NC-A-000{number}", "rework", "--operations", *operations, "--done", "40"
    )


def paper(folder: Path, sheet: str) -> str:
    place = folder / f"output/completed/A-0001/{sheet}/rework.pdf"
    pages = (page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(place))
    return " ".join(" ".join(pages).split())


def listed(folder: Path, capsys) -> str:
    capsys.readouterr()
    assert run(folder, "list") == 0
    return capsys.readouterr().out


def refused(folder: Path, capsys) -> str:
    capsys.readouterr()
    assert close(folder) == 1
    return capsys.readouterr().err


# The slips in the order in which they are raised, and in the other: what is decided last holds.
@pytest.fixture(params=[("1", "2"), ("2", "1")], ids=["as raised", "the other way"])
def twice(request, issued: Path) -> Path:
    """A-0001, of which 30 is done again on R1, and then 10, with all behind it, on R2."""
    entered(issued)
    first, then = request.param
    for number in ("1", "2"):
        assert slip(issued, "30" if number == first else "10") == 0
    assert rework(issued, first, "30") == 0
    assert rework(issued, then, "10") == 0
    return issued


def test_the_later_sheet_says_what_is_void_on_the_earlier_one(twice, capsys):
    assert "Void by it on rework sheet R1, begun or not: 30R1, 40R1." in paper(twice, "R2")
    assert "Nothing there is left." in paper(twice, "R2")
    assert "rework sheet" not in paper(twice, "R1")


def test_nothing_of_the_earlier_sheet_is_asked_for(twice, capsys):
    assert "A-0001 R1" not in refused(twice, capsys)
    assert "rework R2 is not complete" in refused(twice, capsys)
    assert "operation 10R2, measure, on rework sheet R2, waits for " in listed(twice, capsys)
    entered(twice, rework="R2")
    assert close(twice) == 0


def test_what_is_out_waits_for_the_sheet_that_has_it_last(issued, capsys):
    entered(issued, {"10 thickness": "0.96"})
    for _ in ("1", "2"):
        assert slip(issued, "10") == 0
    assert rework(issued, "2", "10") == 0
    assert rework(issued, "1", "10") == 0
    assert "0.96 mm is above 0.954: NC-A-0001 has it done again on R2" in refused(issued, capsys)


def test_what_is_entered_on_the_earlier_sheet_stays_and_is_not_judged(twice, capsys):
    entered(twice, rework="R1")
    told = capsys.readouterr().out
    assert "30R1, 40R1: void by a later rework, kept and not judged" in told
    assert "0 to be looked at, 0 boxes still empty" in told
    entered(twice, rework="R2")
    assert close(twice) == 0
    (act,) = results_of(traveller(twice, "A-0001"), "R1")
    assert "30R1" in act.tree["boxes"]["traveller"]


def test_of_an_earlier_sheet_what_the_later_leaves_stays_in_force(issued, capsys):
    entered(issued)
    assert slip(issued, "10") == 0
    assert slip(issued, "30") == 0
    assert rework(issued, "1", "10") == 0
    assert rework(issued, "2", "30") == 0
    assert "void by it on rework sheet R1: 30R1, 40R1" in capsys.readouterr().out
    assert "30R1, 40R1. The lead crosses" in paper(issued, "R2")
    assert "Still in force there: 10R1." in paper(issued, "R2")
    told = refused(issued, capsys)
    assert "A-0001 R1 traveller operation 10R1: missing: empty: " in told
    assert "30R1" not in told
    entered(issued, rework="R2")
    assert "rework R1 is not complete" in refused(issued, capsys)
    assert "operation 10R1, measure, on rework sheet R1, waits for " in listed(issued, capsys)
    in_force_alone(issued, "R1")
    assert close(issued) == 0


def in_force_alone(folder: Path, sheet: str) -> None:
    """Of a rework sheet what is in force, entered, and nothing of what is void."""
    workshop, _ = open_workshop(folder)
    instruments = {each.kind: each.number for each in workshop.instruments}
    history = traveller(folder, "A-0001")
    form = in_force(history, sheet, form_read(history, sheet))
    file = folder.parent / f"{folder.name}-part.yaml"
    text = filled(form, f"A-0001 {sheet}", instruments)
    assert "10R1" in text
    assert "30R1" not in text
    file.write_text(text, encoding="utf-8")
    words = ("--supplement", sheet, *ON, "LQ1")
    assert run(folder, "enter", "A-0001", str(file), *words) == 0


def test_work_that_is_done_again_has_come_as_far_as_the_sheet_before(issued, capsys):
    """Nothing is entered: that 30 was begun, only the first rework says."""
    assert slip(issued, "30") == 0
    assert dispose(issued, "NC-A-0001", "rework") == 0
    assert slip(issued, "10") == 0
    capsys.readouterr()
    assert dispose(issued, "NC-A-0002", "rework") == 0
    assert "void behind it: 30\nvoid by it on rework sheet R1: 30R1" in capsys.readouterr().out


def test_a_slip_is_raised_on_what_is_done_again_because_it_is_void(issued):
    entered(issued)
    assert slip(issued, "10") == 0
    assert rework(issued, "1", "10") == 0
    assert slip(issued, "30R1", "Not released.") == 0


def test_the_list_names_the_kind_and_what_the_part_waits_for(issued, capsys):
    assert "operation 10, measure, waits for volunteer" in listed(issued, capsys)
    assert slip(issued, "10") == 0
    assert dispose(issued, "NC-A-0001", "scrap") == 0
    told = listed(issued, capsys)
    assert (
        "A-0001  T6-P-0120 A  T6-120-1 0001  issued 2026-11-25: NC-A-0001: the part goes: " in told
    )
    assert "scrap; witnessmark withdraw A-0001" in told
    assert "waits for volunteer" not in told
