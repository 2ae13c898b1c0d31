"""A process and a record, in; approved, issued or refused, out: each refusal by what it says."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.record import perform, text_of, traveller
from generator.record.act import Act
from generator.record.processes import acts_of, issued_of
from tests.commands.changing import change, revise
from tests.commands.test_commands import issue, run
from tests.commands.test_commands import shop as shop  # the fixture
from tests.helping import SOUND

WORDS = ("--on", "2026-11-25", "--stamp")
DRAG = 'process: T6-P-0310\npart serial: "0001"\nvalues: {drag: {is: 5 lbf·in, from: measured on this nut}}\n'
ISSUE = ("issue", "T6-P-0120", "--for", "0001", "--on", "2026-11-25", "--stamp", "LQ1")


def ended(folder: Path, serial: str, kind: str = "close", **own: str) -> None:
    """A traveller that is closed, or an other act on it, as its own command would write it."""

    def make(at):
        path = at.next_file(f"output/completed/{serial}", kind)
        tree = {"act": kind, "traveller": serial, "on": "2026-11-26", "by": "LQ1", **own}
        return Act(path, f"{kind} {serial}", {path: text_of(tree)})

    perform(folder, "A", make)


def test_the_checkers_act_has_stamp_day_fingerprint_and_commit(shop, capsys):
    assert run(shop, "approve", "T6-P-0120", *WORDS, "LQ14") == 0
    (act,) = acts_of(shop, "T6-P-0120")
    assert act.path == "output/processes/T6-P-0120/A-001-approve.yaml"
    assert (act.tree["by"], act.tree["on"], act.tree["revision"]) == ("LQ14", "2026-11-25", "A")
    assert len(act.tree["fingerprint"]) == 64
    listed = (shop / "output/processes-A.txt").read_text(encoding="utf-8")
    assert listed == f"PR-A-0001 T6-P-0120 A {act.tree['fingerprint']}\n"
    assert run(shop, *ISSUE) == 0
    facts = traveller(shop, "A-0001").facts
    assert facts["approved fingerprint"] == act.tree["fingerprint"]
    assert facts["approval"] == act.path
    assert facts["by"] == "LQ1"
    assert [e.line for e in issued_of(shop, "T6-P-0120")] == ["A-0001 A 0001\n"]


def test_what_nobody_approved_is_not_issued(shop, capsys):
    assert run(shop, *ISSUE) == 1
    said = capsys.readouterr().err
    assert "revision A is not approved" in said
    assert "witnessmark approve T6-P-0120 --stamp LQ14" in said
    assert not (shop / "output").exists()


@pytest.mark.parametrize(
    ("old", "new", "file"),
    [
        ("four places", "five places", "processes/shelf.yaml"),
        ("Lengths in mm", "All lengths in mm", "processes/workshop/workshop.yaml"),
    ],
)
def test_a_change_after_the_approval_needs_another(shop, capsys, old, new, file):
    assert run(shop, "approve", "T6-P-0120", *WORDS, "LQ14") == 0
    change(shop, old, new, file)
    assert run(shop, *ISSUE) == 1
    assert "revision A is not as it was approved" in capsys.readouterr().err
    assert run(shop, "approve", "T6-P-0120", *WORDS, "LQ14") == 0
    assert run(shop, *ISSUE) == 0


def test_only_the_checker_of_the_file_approves_and_only_once(shop, capsys):
    assert run(shop, "approve", "T6-P-0120", *WORDS, "LQ1") == 1
    assert "LQ1 is not the checker" in capsys.readouterr().err
    assert run(shop, "approve", "T6-P-0120", *WORDS, "LQ99") == 1
    assert "nobody held the stamp LQ99" in capsys.readouterr().err
    assert run(shop, "approve", "T6-P-0120", "--on", "2019-01-01", "--stamp", "LQ14") == 1
    assert run(shop, "approve", "T6-P-0120", *WORDS, "LQ14") == 0
    capsys.readouterr()
    assert run(shop, "approve", "T6-P-0120", *WORDS, "LQ14") == 1
    assert "is approved as it stands" in capsys.readouterr().err


def test_uncommitted_text_is_not_approved(shop, capsys):
    file = shop / "processes/shelf.yaml"
    file.write_text(file.read_text("utf-8").replace("four places", "five places"), "utf-8")
    assert run(shop, "approve", "T6-P-0120", *WORDS, "LQ14") == 1
    assert "uncommitted" in capsys.readouterr().err


def test_who_issues_is_lead_or_archivist(shop, capsys):
    assert run(shop, "approve", "T6-P-0120", *WORDS, "LQ14") == 0
    assert run(shop, *ISSUE[:-1], "LQ14") == 1
    assert "LQ14 is of class volunteer" in capsys.readouterr().err


def test_a_letter_that_was_issued_keeps_its_content(shop, capsys):
    assert issue(shop, "T6-P-0120", "0001") == 0
    change(shop, "four places", "five places")
    assert run(shop, "approve", "T6-P-0120", *WORDS, "LQ14") == 1
    said = capsys.readouterr().err
    assert "revision A was issued as A-0001 with other content" in said
    assert "four places" in said
    assert "five places" in said


def test_a_new_revision_waits_for_the_open_travellers_of_the_old(shop, capsys):
    assert issue(shop, "T6-P-0120", "0001") == 0
    revise(shop)
    assert issue(shop, "T6-P-0120", "0002", on="2026-11-26") == 1
    assert "A-0001 of revision A is open, and nobody decided" in capsys.readouterr().err
    ended(shop, "A-0001", "decide", revision="B", decision="finish")
    assert issue(shop, "T6-P-0120", "0002", on="2026-11-26") == 0
    change(shop, "- letter: B", "- letter: A")
    assert issue(shop, "T6-P-0120", "0003", on="2026-11-26") == 1


def test_a_part_on_the_floor_gets_no_second_traveller_until_it_is_closed(shop, capsys):
    assert issue(shop, "T6-P-0120", "0001") == 0
    assert issue(shop, "T6-P-0120", "0001") == 1
    assert "part 0001 has the open traveller A-0001" in capsys.readouterr().err
    ended(shop, "A-0001")
    assert issue(shop, "T6-P-0120", "0001", on="2026-11-26") == 0


def test_no_issue_is_dated_before_the_one_before(shop, capsys):
    assert issue(shop, "T6-P-0120", "0001", on="2026-11-26") == 0
    assert issue(shop, "T6-P-0120", "0002", on="2026-11-25") == 1
    assert "A-0001 was issued on 2026-11-26, after 2026-11-25" in capsys.readouterr().err


@pytest.fixture
def chained(shop: Path) -> Path:
    """The shelf waits for the ring."""
    text = (SOUND / "processes/shelf.yaml").read_text("utf-8")
    change(shop, "evidence: EV-0310", "process: T6-P-0310")
    assert (shop / "processes/shelf.yaml").read_text("utf-8") == text
    return shop


def test_what_comes_before_is_closed_and_not_withdrawn(chained, capsys):
    assert issue(chained, "T6-P-0120", "0001") == 1
    assert "T6-P-0310 is not done: nothing was issued" in capsys.readouterr().err
    values = chained.parent / f"{chained.name}-values.yaml"
    values.write_text(DRAG, encoding="utf-8")
    words = ("--for", "0001", "--given", str(values))
    assert issue(chained, "T6-P-0310", *words) == 0
    assert issue(chained, "T6-P-0120", "0001") == 1
    assert "T6-P-0310 is not done: A-0001 is open" in capsys.readouterr().err
    ended(chained, "A-0001")
    assert issue(chained, "T6-P-0120", "0001") == 0
    why = ("withdraw", "T6-P-0310", "--why", "Wrong torque.", *WORDS, "LQ1")
    assert run(chained, *why) == 0
    assert issue(chained, "T6-P-0120", "0002") == 1
    assert "A-0001 is closed, but its revision A is withdrawn" in capsys.readouterr().err


def test_a_withdrawn_revision_is_neither_approved_nor_issued(shop, capsys):
    assert issue(shop, "T6-P-0120", "0001") == 0
    words = ("withdraw", "T6-P-0120", "--why", "Wrong sheet.", *WORDS, "LQ1")
    assert run(shop, *words) == 0
    assert run(shop, *words) == 1
    capsys.readouterr()
    assert issue(shop, "T6-P-0120", "0002") == 1
    said = capsys.readouterr().err
    assert "revision A was withdrawn on 2026-11-25: Wrong sheet." in said


def test_what_cannot_be_drawn_is_not_approved(shop, capsys):
    change(shop, "title: Battery-shelf bracket", f"title: {'W' * 60}")
    assert run(shop, "check", "T6-P-0120") == 1
    wide = capsys.readouterr().err
    assert "processes/shelf.yaml:2:" in wide
    assert run(shop, "approve", "T6-P-0120", *WORDS, "LQ14") == 1
    assert capsys.readouterr().err.splitlines()[0] == wide.splitlines()[0]
    assert not acts_of(shop, "T6-P-0120")
