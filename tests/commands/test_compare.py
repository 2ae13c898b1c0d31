"""An issued traveller and a newer revision, in; what changed, and what becomes of it, out."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from generator.record import traveller
from generator.results.changes import changes
from tests.commands.changing import REVISION_B, change, revise
from tests.commands.test_commands import approve, issue, run
from tests.commands.test_commands import shop as shop  # the fixture
from tests.commands.test_slips import close, entered
from tests.results.filled import counted

ON = ("--on", "2026-11-26", "--stamp")
INSTRUMENTS = "processes/workshop/instruments.yaml"


def decide(folder: Path, decision: str, *more: str, stamp: str = "LQ1") -> int:
    words = ("--decision", decision, "--why", "As compared.", *more)
    return run(folder, "decide", "A-0001", *words, *ON, stamp)


def compared(folder: Path, capsys) -> str:
    capsys.readouterr()
    assert run(folder, "compare", "T6-P-0120") == 0
    return capsys.readouterr().out


def test_nothing_changed_says_so(issued, capsys):
    assert "revision A, as issued with A-0001: 0 changes" in compared(issued, capsys)


def test_a_text_is_told_old_and_new_with_its_reason(issued, capsys):
    revise(issued)
    said = compared(issued, capsys)
    assert "operation 10: text: MEASURE the sheet at four places. -> MEASURE the sheet" in said
    assert "open: A-0001 of revision A: it may go over before operation 10 is begun" in said
    sheet = issued / "output/draft/T6-P-0120-change/change-sheet.md"
    words = sheet.read_text(encoding="utf-8")
    assert "**B, 2026-11-26:** Cut to the new length. The fit was tight." in words
    assert "| kind | CHANGE SHEET |" in words
    # It is stamped and filed: a record, which no draft is.
    assert "DRAFT" not in words.partition(":::\n\n")[0]
    (page, *_) = pypdfium2.PdfDocument(sheet.with_suffix(".pdf"))
    assert "five places" in page.get_textpage().get_text_range()
    assert "NOT FOR WORK" not in page.get_textpage().get_text_range()


WEIGHTY = [
    ("upper: 0.954 mm", "upper: 0.944 mm", "operation 10: LIMIT: "),
    ("released by: inspector", "released by: lead", "operation 30: STOP: "),
    ("quantity: 0.02 m²", "quantity: 0.03 m²", "MATERIAL: "),
    ("  - number: 40\n    kind: close", "  - number: 50\n    kind: close", "operation 40: REMOVED"),
    ("  - number: 40\n    kind: close", "  - number: 50\n    kind: close", "operation 50: ADDED"),
]


@pytest.mark.parametrize(("old", "new", "says"), WEIGHTY)
def test_limits_stops_materials_and_operations_stand_out(issued, capsys, old, new, says):
    revise(issued, old, new)
    said = compared(issued, capsys)
    assert says in said
    assert "with the inspector" in said


def test_a_number_that_only_a_given_changes_is_told_where_it_stands(issued, capsys):
    revise(issued, "is: 3.2 mm", "is: 3.4 mm")
    said = compared(issued, capsys)
    assert "3.2 mm" in said
    assert "3.4 mm" in said


@pytest.fixture
def measured(shop: Path) -> Path:
    """The shelf, whose radius comes with the part, issued for one of 3.4 mm."""
    change(
        shop, "is: 3.2 mm\n", "with the part: yes\n    example: 3.2 mm\n    range: 3.0 to 3.6 mm\n"
    )
    values = shop.parent / f"{shop.name}-values.yaml"
    values.write_text(
        "process: T6-P-0120\npart serial: 0001\n"
        "values:\n  radius: {is: 3.4 mm, from: 'survey, LQ14'}\n",
        encoding="utf-8",
    )
    assert issue(shop, "T6-P-0120", "--for", "0001", "--given", str(values)) == 0
    return shop


def test_a_part_that_has_its_own_values_is_compared_with_them(measured, capsys):
    assert "as issued with A-0001: 0 changes" in compared(measured, capsys)
    revise(measured)
    said = compared(measured, capsys)
    assert "as issued with A-0001: 1 change\n" in said
    assert "operation 10: text: MEASURE the sheet at four places." in said
    sheet = measured / "output/draft/T6-P-0120-change/change-sheet.md"
    assert "EXAMPLE" not in sheet.read_text(encoding="utf-8")


def test_what_the_part_need_not_bring_any_more_is_told_as_a_change(measured, capsys):
    given = "with the part: yes\n    example: 3.2 mm\n    range: 3.0 to 3.6 mm\n"
    revise(measured, given, "is: 3.2 mm\n")
    said = compared(measured, capsys)
    assert "radius  3.4 mm  measured from an original part  survey, LQ14 -> radius  3.2 mm" in said


def test_a_value_that_the_new_revision_refuses_is_told_at_its_line(measured, capsys):
    revise(measured, "range: 3.0 to 3.6 mm", "range: 3.0 to 3.3 mm")
    capsys.readouterr()
    assert run(measured, "compare", "T6-P-0120") == 1
    said = capsys.readouterr().err
    assert "output/issued/A-0001/given.yaml:4:16: " in said
    assert "3.4 mm" in said


def test_every_open_traveller_is_told_what_changed_for_itself(issued, capsys):
    """A-0002 is of revision B, and a text changed since; for A-0001 of revision A a limit did."""
    revise(issued, "upper: 0.954 mm", "upper: 0.944 mm")
    assert decide(issued, "finish") == 0
    assert issue(issued, "T6-P-0120", "0002", on="2026-11-26") == 0
    change(issued, REVISION_B, REVISION_B + REVISION_B.replace("letter: B", "letter: C"))
    change(issued, "four places", "five places")
    said = compared(issued, capsys)
    assert "revision B, as issued with A-0002: 1 change\n" in said
    start = "it may go over before operation 10 is begun"
    assert f"open: A-0002 of revision B: {start}, by the lead\n" in said
    words = f"open: A-0001 of revision A: {start}, with the inspector"
    assert f"{words}; its sheet: witnessmark compare T6-P-0120 --since A-0001" in said
    sheet = issued / "output/draft/T6-P-0120-change/change-sheet.md"
    assert "A-0001" not in sheet.read_text(encoding="utf-8")  # it does not tell its changes


def test_a_revision_that_changes_nothing_of_the_sheets_says_so(issued, capsys):
    revise(issued, "four places", "four places")
    said = compared(issued, capsys)
    assert "as issued with A-0001: 0 changes" in said
    assert "B, 2026-11-26: Cut to the new length." in said
    assert "open: A-0001 of revision A: nothing changed for it" in said


def test_where_fingerprints_differ_and_nothing_can_be_named_that_is_said(
    issued, capsys, monkeypatch
):
    monkeypatch.setattr("generator.results.changes.changes", lambda old, new: ())
    revise(issued)
    approve(issued, "T6-P-0120", "2026-11-26")
    said = compared(issued, capsys)
    assert "The fingerprints differ (" in said
    assert "no change can be named" in said
    assert "open: A-0001 of revision A: what changed for it cannot be named" in said
    assert "0 changes" not in said
    assert "nothing changed" not in said
    sheet = (issued / "output/draft/T6-P-0120-change/change-sheet.md").read_text("utf-8")
    assert "The fingerprints differ (" in sheet
    assert "Nothing that is printed" not in sheet
    assert decide(issued, "adopt", "--done", "0") == 1
    assert "no change can be named" in capsys.readouterr().err


def test_a_newer_check_of_an_instrument_is_no_change_of_the_process(issued, capsys):
    """What a tool list says of the shop's instruments hangs on the day of its print."""
    change(issued, "check due: 2027-03-15", "check due: 2028-03-15", INSTRUMENTS)
    assert "as issued with A-0001: 0 changes" in compared(issued, capsys)


def test_a_traveller_is_finished_on_its_old_revision(issued, capsys):
    revise(issued)
    assert decide(issued, "finish") == 0
    assert decide(issued, "finish") == 1
    assert issue(issued, "T6-P-0120", "0002", on="2026-11-26") == 0
    assert traveller(issued, "A-0001").status == "open"


def test_there_must_be_a_newer_revision(issued, capsys):
    assert decide(issued, "finish") == 1
    assert "there is no newer one" in capsys.readouterr().err


def test_what_changed_and_is_begun_cannot_go_over(issued, capsys):
    revise(issued)
    approve(issued, "T6-P-0120", "2026-11-26")
    assert decide(issued, "adopt") == 2
    for done in ("\u00b2", "1\u00b2", "ten", "-1", "1" * 5_000):
        assert decide(issued, "adopt", "--done", done) == 2
        assert "is no operation" in capsys.readouterr().err
    assert decide(issued, "adopt", "--done", "10") == 1
    assert "operation 10 changed and is begun" in capsys.readouterr().err


def test_a_change_that_weighs_needs_the_inspector_and_an_approval(issued, capsys):
    revise(issued, "upper: 0.954 mm", "upper: 0.944 mm")
    assert decide(issued, "adopt", "--done", "0", stamp="INS2") == 1
    assert "is not approved" in capsys.readouterr().err
    approve(issued, "T6-P-0120", "2026-11-26")
    assert decide(issued, "adopt", "--done", "0") == 1
    assert "LQ1 is of class lead" in capsys.readouterr().err
    assert decide(issued, "adopt", "--done", "0", stamp="INS2") == 0


def test_a_traveller_that_went_over_is_judged_by_the_new_limits(issued, capsys):
    revise(issued, "upper: 0.954 mm", "upper: 0.944 mm")
    approve(issued, "T6-P-0120", "2026-11-26")
    assert decide(issued, "adopt", "--done", "0", stamp="INS2") == 0
    place = issued / "output/completed/A-0001/B"
    assert {"change-sheet.pdf", "operations.pdf", "form.yaml"} <= {e.name for e in place.iterdir()}
    entered(issued)
    assert run(issued, "close", "A-0001", *ON, "LQ1") == 1
    said = capsys.readouterr().err
    assert "A-0001 B traveller operation 10: missing: empty: " in said
    assert "A-0001 operation 10" not in said
    entered(issued, {"10 thickness": "0.95"}, "B")
    assert run(issued, "close", "A-0001", *ON, "LQ1") == 1
    assert "0.95 mm is above 0.944" in capsys.readouterr().err


def test_sheets_of_the_same_text_have_no_changes(issued):
    sheets = traveller(issued, "A-0001").sheets
    assert changes(sheets, sheets) == ()


@pytest.fixture
def over(issued: Path) -> Path:
    """A-0001, gone over to revision B, whose limit is narrower; both sheets filled in."""
    revise(issued, "upper: 0.954 mm", "upper: 0.944 mm")
    approve(issued, "T6-P-0120", "2026-11-26")
    assert decide(issued, "adopt", "--done", "0", stamp="INS2") == 0
    entered(issued)
    entered(issued, {"10 thickness": "0.95"}, "B")
    words = ("--operation", "10", "--what", "0.95 mm.", *ON, "LQ14")
    assert run(issued, "slip", "A-0001", *words) == 0
    return issued


def test_what_went_over_is_not_reworked_on_the_old_limits(over, capsys):
    words = ("--decision", "rework", "--why", "Thinner sheet.", *ON, "LQ1")
    assert run(over, "dispose", "NC-A-0001", *words) == 1
    assert "operation 10 went over to a newer revision" in capsys.readouterr().err


def test_a_concession_on_what_went_over_allows_the_value_on_its_sheet(over, capsys):
    words = ("--decision", "use", "--why", "Strong enough.", *ON, "LQ1")
    assert run(over, "dispose", "NC-A-0001", *words) == 0
    allowed = ("concede", "NC-A-0001", "--what", "0.95 mm allowed.", *ON, "INS2")
    assert run(over, *allowed) == 0
    assert "allowed: thickness: 0.95" in capsys.readouterr().out
    entered(over, counted(1, 1, 1), corrects="Counted.")
    assert run(over, "close", "A-0001", *ON, "LQ1") == 0, capsys.readouterr().err


@pytest.mark.parametrize(("letter", "stopped"), [("A", False), ("B", True)])
def test_of_what_went_over_the_new_revision_is_in_use(over, letter, stopped, capsys):
    why = ("--revision", letter, "--why", "Wrong.", *ON, "LQ1")
    assert run(over, "withdraw", "T6-P-0120", *why) == 0
    capsys.readouterr()
    assert run(over, "close", "A-0001", *ON, "LQ1") == 1  # the slip waits in any case
    assert (f"revision {letter} of T6-P-0120 was withdrawn" in capsys.readouterr().err) == stopped


def test_what_was_decided_is_said_and_stands_on_no_sheet_again(issued, capsys):
    revise(issued)
    approve(issued, "T6-P-0120", "2026-11-26")
    assert decide(issued, "finish") == 0
    assert "open: A-0001 of revision A: it is finished as it is, as decided" in compared(
        issued, capsys
    )
    sheet = (issued / "output/draft/T6-P-0120-change/change-sheet.md").read_text(encoding="utf-8")
    assert sheet.count("A-0001") == 1, "what it is compared with, and no box to decide on it"


def test_parts_that_an_older_revision_accepted_are_named(issued, capsys):
    """The first revision may have had a wrong number, and its part flies."""
    entered(issued)
    assert close(issued) == 0
    assert run(issued, "fit", "A-0001", *ON, "LQ14") == 0
    assert "older revision" not in compared(issued, capsys)
    revise(issued)
    said = compared(issued, capsys)
    assert "closed by an older revision: A-0001 (fitted: " in said
    assert "witnessmark slip" in said


def test_a_form_says_on_which_sheet_its_changed_operations_are_done(over, capsys):
    """Who went over types from two sheets of paper, and may take one form for the other."""
    capsys.readouterr()
    form = over / "old.yaml"
    assert run(over, "enter", "A-0001", "--blank", str(form)) == 0
    right = "done on sheet B: enter A-0001 --supplement B"
    assert f"operation 10: {right}" in capsys.readouterr().out
    head, _, boxes = form.read_text("utf-8").partition("traveller: A-0001\n")
    assert f"# operation 10: {right}\n" in head
    assert '"10":' not in boxes
    assert '"20":' in boxes
    assert run(over, "enter", "A-0001", "--blank", str(over / "B.yaml"), "--supplement", "B") == 0
    assert "done on sheet" not in capsys.readouterr().out + (over / "B.yaml").read_text("utf-8")
    assert '"10":' in (over / "B.yaml").read_text("utf-8")


def test_what_is_entered_where_it_is_void_is_a_finding(over, capsys):
    capsys.readouterr()
    entered(over)
    said = capsys.readouterr().out
    assert "operation 10: void: it counts for nothing; done on sheet B: enter A-0001" in said
    assert ", 0 boxes still empty" in said
    assert "0 to be looked at" not in said


def test_what_is_compared_with_is_the_last_that_is_open(issued, capsys):
    """A-0002 was issued later and withdrawn: nobody works by it, and somebody does by A-0001."""
    revise(issued)
    assert decide(issued, "finish") == 0
    assert issue(issued, "T6-P-0120", "0002", on="2026-11-26") == 0
    assert "revision B, as issued with A-0002: 0 changes" in compared(issued, capsys)
    assert run(issued, "withdraw", "A-0002", "--why", "Not wanted.", *ON, "LQ1") == 0
    assert "revision A, as issued with A-0001: 1 change\n" in compared(issued, capsys)
    assert run(issued, "withdraw", "A-0001", "--why", "Not wanted.", *ON, "LQ1") == 0
    assert "revision B, as issued with A-0002: 0 changes" in compared(issued, capsys)
