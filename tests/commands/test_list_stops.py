"""Travellers with a release that is no good, and with findings, in; what `list` and the visit sheet
say of them, out."""

from __future__ import annotations

from tests.commands.test_commands import run
from tests.commands.test_slips import entered

VISIT = "output/draft/visit/visit-sheet.md"
BY_A_VOLUNTEER = {"30 sign hold: released by inspector stamp": "LQ14"}


def listed(folder, capsys) -> tuple[str, str]:
    capsys.readouterr()
    assert run(folder, "list", "--print", "--on", "2026-11-26") == 0
    return capsys.readouterr().out, (folder / VISIT).read_text(encoding="utf-8")


def test_a_hold_that_somebody_else_stamped_is_still_the_stop_it_waits_at(issued, capsys):
    entered(issued, BY_A_VOLUNTEER)
    told, sheet = listed(issued, capsys)
    waits = "operation 30, hold, waits for inspector (LQ14 is of class volunteer, not inspector)"
    assert waits in told
    assert "1 open, 1 at a stop\n" in told
    assert "### A-0001, operation 30: hold\n" in sheet
    assert waits in sheet.replace("\\", "")


def test_a_hold_that_is_released_as_it_should_be_is_waited_at_no_more(issued, capsys):
    entered(issued)
    told, sheet = listed(issued, capsys)
    assert "1 open, 0 at a stop\n" in told
    assert "findings" not in told + sheet


def test_a_stamp_without_its_day_releases_nothing(issued, capsys):
    entered(issued, {"30 sign hold: released by inspector date": "N/A"})
    told, _ = listed(issued, capsys)
    assert "operation 30, hold, waits for inspector (INS2 without a day is not signed)" in told


def test_where_findings_wait_is_said_and_boxes_that_are_still_empty_are_none(issued, capsys):
    entered(issued, {"10 thickness": "0.96", "20 sign done: done by volunteer date": "2027-11-26"})
    told, sheet = listed(issued, capsys)
    where = "findings at operation 10, operation 20"
    assert where in told
    assert where in sheet
    told, _ = listed(issued, capsys)
    assert "findings" in told


def test_a_stamp_that_is_not_there_yet_is_waited_for_without_a_word_on_its_box(issued, capsys):
    file = issued.parent / f"{issued.name}-begun.yaml"
    words = 'traveller: A-0001\nboxes: {traveller: {"10": {thickness: "0.914"}}}\n'
    file.write_text(words, encoding="utf-8")
    assert run(issued, "enter", "A-0001", str(file), "--on", "2026-11-26", "--stamp", "LQ1") == 0
    told, sheet = listed(issued, capsys)
    assert ": operation 10, measure, waits for volunteer\n" in told
    assert "the box is empty" not in told + sheet


def test_a_traveller_of_which_nothing_is_entered_has_no_findings(issued, capsys):
    assert "findings" not in listed(issued, capsys)[0]
