"""Parts that are closed, fitted or withdrawn, in; what still waits for somebody, told, and the way
out of every refusal, out."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.record import traveller
from tests.commands.test_commands import issue, run
from tests.commands.test_slips import ON, close, concede, dispose, entered, slip
from tests.commands.test_trust import merged
from tests.commands.test_trust import two as two  # the fixture

REMOVED = ("--removed", "--what", "Cracked.")


def said(folder: Path, capsys, *words: str) -> str:
    capsys.readouterr()
    assert run(folder, *words) == 0
    return capsys.readouterr().out


def listed(folder: Path, capsys) -> str:
    """What `list` tells, which its visit sheet tells too."""
    told = said(folder, capsys, "list", "--print", "--on", "2026-11-26")
    sheet = (folder / "output/draft/visit/visit-sheet.md").read_text(encoding="utf-8")
    assert ("NC-A-0001" in told) == ("NC-A-0001" in sheet)
    return told


def opened(folder: Path, capsys, name: str) -> str:
    """What a dossier tells as open, which its page tells too."""
    into = folder.parent / name
    told = said(folder, capsys, "dossier", "A-0001", "--into", str(into), "--on", "2026-11-26")
    page = (into / "data/index.html").read_text(encoding="utf-8").partition("<h2>Travellers")[0]
    assert ("NC-A-0001" in told) == ("NC-A-0001" in page)
    return "\n".join(line for line in told.splitlines() if line.startswith("open: "))


@pytest.fixture
def fitted(issued: Path) -> Path:
    """A-0001 closed, its part fitted."""
    entered(issued)
    assert close(issued) == 0
    assert run(issued, "fit", "A-0001", *ON, "LQ14") == 0
    return issued


def test_a_slip_on_a_fitted_part_is_told_until_it_is_done_with(fitted, capsys):
    assert listed(fitted, capsys).startswith("0 open, 0 at a stop\n")
    assert slip(fitted, what="Crack.") == 0
    told = listed(fitted, capsys)
    assert "A-0001  T6-P-0120 A  T6-120-1 0001  closed; part 0001 sits at hull, radio bay: " in told
    assert (
        "NC-A-0001, operation 10, nobody decided on: Crack.; witnessmark dispose NC-A-0001" in told
    )
    assert "0 open, 0 at a stop; ended ones that wait for somebody: 1" in told
    assert "nobody decided on: Crack." in opened(fitted, capsys, "one")
    assert dispose(fitted, "NC-A-0001", "use") == 0
    for told in (listed(fitted, capsys), opened(fitted, capsys, "two")):
        assert "to be used as it is, without a concession; witnessmark concede NC-A-0001" in told
    assert concede(fitted, "NC-A-0001") == 0
    assert "NC-A-0001" not in listed(fitted, capsys)
    assert "NC-A-0001" not in opened(fitted, capsys, "three")


def test_a_fitted_part_that_goes_is_told_until_it_is_off_and_withdrawn(fitted, capsys):
    assert slip(fitted, what="Crack.") == 0
    assert dispose(fitted, "NC-A-0001", "scrap") == 0
    told = listed(fitted, capsys)
    assert "the part goes: scrap; witnessmark fit A-0001 --part 0001 --removed" in told
    assert run(fitted, "fit", "A-0001", *REMOVED, *ON, "LQ14") == 0
    assert "the part goes: scrap; witnessmark withdraw A-0001" in listed(fitted, capsys)
    assert run(fitted, "withdraw", "A-0001", "--why", "Scrapped.", *ON, "LQ1") == 0
    assert "NC-A-0001" not in listed(fitted, capsys)
    assert run(fitted, "close", "A-0001", *ON, "LQ1") == 1
    right = "Right: witnessmark issue T6-P-0120 --for PART-SERIAL, for a new part"
    assert right in capsys.readouterr().err


def test_what_was_settled_before_the_close_is_not_told_and_stays_shut(issued, capsys, monkeypatch):
    entered(issued, {"10 thickness": "0.96"})
    assert slip(issued) == 0
    assert dispose(issued, "NC-A-0001", "use") == 0
    assert concede(issued, "NC-A-0001") == 0
    assert close(issued) == 0
    monkeypatch.setattr("generator.record.slips.acts_in", None)  # no act of it is read
    assert listed(issued, capsys).startswith("0 open, 0 at a stop\n")


def test_an_undecided_slip_of_a_withdrawn_traveller_is_told(issued, capsys):
    assert slip(issued, what="Crack.") == 0
    assert run(issued, "withdraw", "A-0001", "--why", "Torn.", *ON, "LQ1") == 0
    assert "withdrawn: NC-A-0001, operation 10, nobody decided on: Crack." in listed(issued, capsys)
    assert dispose(issued, "NC-A-0001", "use") == 0
    assert "withdrawn: NC-A-0001" in listed(issued, capsys)
    assert concede(issued, "NC-A-0001") == 0
    assert "NC-A-0001" not in listed(issued, capsys)


def test_a_fitted_part_is_taken_off_before_its_traveller_is_withdrawn(fitted, capsys):
    withdraw = ("withdraw", "A-0001", "--why", "Wrong alloy.", *ON, "LQ1")
    assert run(fitted, *withdraw) == 1
    told = capsys.readouterr().err
    assert "part 0001 of A-0001 sits at hull, radio bay" in told
    assert 'witnessmark fit A-0001 --part 0001 --removed --what "...", first' in told
    assert traveller(fitted, "A-0001").status == "closed"
    assert run(fitted, "fit", "A-0001", *REMOVED, *ON, "LQ14") == 0
    assert run(fitted, *withdraw) == 0
    assert traveller(fitted, "A-0001").status == "withdrawn"


def test_what_sits_on_an_airframe_comes_off_though_another_desk_withdrew_it(two, capsys):
    here, there = two
    entered(here)
    assert close(here) == 0
    merged(there, here)
    assert run(here, "fit", "A-0001", *ON, "LQ14") == 0
    assert run(there, "withdraw", "A-0001", "--why", "Wrong alloy.", *ON, "LQ1") == 0
    merged(here, there)
    told = said(here, capsys, "list")
    assert (
        "A-0001  T6-P-0120 A  T6-120-1 0001  withdrawn; part 0001 sits at hull, radio bay" in told
    )
    assert "though it is withdrawn; witnessmark fit A-0001 --part 0001 --removed" in told
    assert run(here, "fit", "A-0001", *REMOVED, *ON, "LQ14") == 0
    assert said(here, capsys, "list").startswith("0 open, 0 at a stop\n")
    assert run(here, "fit", "A-0001", *ON, "LQ14") == 1  # a withdrawn one is not fitted again


def test_a_refusal_on_what_has_ended_names_the_way_on(issued, capsys):
    entered(issued)
    assert close(issued) == 0
    file = issued.parent / f"{issued.name}-result.yaml"
    again = ("enter", "A-0001", str(file), *ON, "LQ1", "--corrects", "A slip of the pen.")
    for words in (again, ("close", "A-0001", *ON, "LQ1")):
        capsys.readouterr()
        assert run(issued, *words) == 1
        told = capsys.readouterr().err
        assert "A-0001 is closed" in told
        assert 'witnessmark slip A-0001 --operation N --what "..."' in told
        assert "witnessmark withdraw A-0001, then witnessmark issue T6-P-0120 --for 0001" in told
    assert run(issued, "withdraw", "A-0001", "--why", "Wrong.", *ON, "LQ1") == 0
    capsys.readouterr()
    assert run(issued, *again) == 1
    told = capsys.readouterr().err
    assert "A-0001 is withdrawn" in told
    assert "Right: witnessmark issue T6-P-0120 --for 0001" in told
    assert issue(issued, "T6-P-0120", "0001", on="2026-11-26") == 0
    assert run(issued, "replace", "A-0002", "--why", "Lost.", *ON, "LQ1") == 0
    capsys.readouterr()
    assert run(issued, "close", "A-0002", *ON, "LQ1") == 1
    assert "A-0002 is replaced\n    Right: A-0003" in capsys.readouterr().err
