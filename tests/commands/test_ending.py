"""An issued traveller, in; replaced, withdrawn, printed again, its lost files made again, out."""

from __future__ import annotations

import errno
import re
import subprocess
from pathlib import Path

import pypdfium2
import pytest

from generator.commands import ending
from generator.record import traveller
from tests.commands.changing import change
from tests.commands.test_commands import issue, run
from tests.commands.test_slips import close, entered

DAY = ("--on", "2026-11-27", "--stamp", "LQ1")
WHY = ("--why", "Lost in the yard.")


def words_of(pdf: Path) -> str:
    return "\n".join(pages_of(pdf))


def pages_of(pdf: Path) -> list[str]:
    """The text of every page, as an independent reader finds it."""
    document = pypdfium2.PdfDocument(pdf)
    return [page.get_textpage().get_text_range() for page in document]


def clean(folder: Path) -> bool:
    told = subprocess.run(
        ["git", "status", "--porcelain"], cwd=folder, capture_output=True, text=True, check=True
    )
    return told.stdout == ""


def test_a_lost_traveller_is_replaced_from_what_was_frozen(issued, capsys):
    change(issued, "four places", "five places")
    assert run(issued, "replace", "A-0001", *WHY, *DAY) == 0
    old, new = traveller(issued, "A-0001"), traveller(issued, "A-0002")
    assert (old.status, new.status) == ("replaced", "open")
    (act,) = old.acts
    assert (act.tree["with"], act.tree["why"]) == ("A-0002", "Lost in the yard.")
    assert new.facts["replaces"] == "A-0001"
    assert "four places" in new.sheets["traveller"]
    assert new.facts["fingerprint"] == old.facts["fingerprint"]
    first = words_of(issued / "output/issued/A-0002/traveller.pdf")
    assert "REPLACES A-0001" in first
    assert clean(issued)
    register = (issued / "output/register-A.txt").read_text("utf-8").splitlines()
    ends = [line.rpartition("  ")[2] for line in register[-2:]]
    assert ends == ["output/issued/A-0002/sums.txt", "output/completed/A-0001/A-001-replace.yaml"]
    capsys.readouterr()
    assert run(issued, "replace", "A-0001", *WHY, *DAY) == 1
    assert "A-0001 is replaced" in capsys.readouterr().err


def test_a_withdrawn_traveller_takes_no_results(issued, capsys):
    assert run(issued, "withdraw", "A-0001", "--why", "Wrong part.", *DAY) == 0
    assert traveller(issued, "A-0001").status == "withdrawn"
    form = issued.parent / "form.yaml"
    assert run(issued, "enter", "A-0001", "--blank", str(form)) == 0
    assert run(issued, "enter", "A-0001", str(form), *DAY) == 1
    assert "A-0001 is withdrawn" in capsys.readouterr().err
    assert issue(issued, "T6-P-0120", "0001", on="2026-11-27") == 0


@pytest.mark.parametrize("decision", ["scrap", "return"])
def test_a_part_that_went_or_waits_gets_no_traveller_in_place_of_another(issued, decision, capsys):
    """As `issue` says it, though the slip stands on another traveller of the part."""
    entered(issued)
    assert close(issued) == 0
    assert issue(issued, "T6-P-0120", "0001", on="2026-11-27") == 0
    assert run(issued, "slip", "A-0001", "--operation", "10", "--what", "Thin.", *DAY) == 0
    assert run(issued, "replace", "A-0002", *WHY, *DAY) == 1
    told = capsys.readouterr().err
    assert "part 0001 waits for a decision on NC-A-0001: Thin." in told
    assert "witnessmark dispose NC-A-0001" in told
    assert run(issued, "dispose", "NC-A-0001", "--decision", decision, "--why", "Thin.", *DAY) == 0
    assert run(issued, "replace", "A-0002", *WHY, *DAY) == 1
    assert f"part 0001 went by NC-A-0001: {decision}" in capsys.readouterr().err
    assert not (issued / "output/issued/A-0003").exists()
    assert traveller(issued, "A-0002").status == "open"
    assert clean(issued)


def test_a_part_that_is_used_as_it_is_gets_a_traveller_in_place_of_another(issued):
    entered(issued)
    assert close(issued) == 0
    assert issue(issued, "T6-P-0120", "0001", on="2026-11-27") == 0
    assert run(issued, "slip", "A-0001", "--operation", "10", "--what", "Thin.", *DAY) == 0
    assert run(issued, "dispose", "NC-A-0001", "--decision", "use", "--why", "Fits.", *DAY) == 0
    assert run(issued, "replace", "A-0002", *WHY, *DAY) == 0


def test_a_slip_of_another_run_is_seen_while_nobody_else_writes(issued, monkeypatch, capsys):
    """The sheets are made in the meantime: what is found before that may not hold behind it."""
    entered(issued)
    assert close(issued) == 0
    assert issue(issued, "T6-P-0120", "0001", on="2026-11-27") == 0
    as_it_was = ending.as_it_was

    def meanwhile(history):
        monkeypatch.setattr(ending, "as_it_was", as_it_was)
        assert run(issued, "slip", "A-0001", "--operation", "10", "--what", "Thin.", *DAY) == 0
        return as_it_was(history)

    monkeypatch.setattr(ending, "as_it_was", meanwhile)
    assert run(issued, "replace", "A-0002", *WHY, *DAY) == 1
    assert "waits for a decision on NC-A-0001" in capsys.readouterr().err


@pytest.mark.parametrize("why", ["", "  ", "two\nlines"])
def test_a_reason_is_a_sentence(issued, capsys, why):
    assert run(issued, "withdraw", "A-0001", "--why", why, *DAY) == 2
    assert traveller(issued, "A-0001").status == "open"


def test_nothing_ends_before_it_began(issued, capsys):
    words = ("withdraw", "A-0001", "--why", "Wrong.", "--on", "2026-11-20", "--stamp", "LQ1")
    assert run(issued, *words) == 2
    assert "A-0001 was issued on 2026-11-25, after that day" in capsys.readouterr().err


def test_a_second_print_is_a_numbered_copy_that_nobody_works_to(issued):
    for number in ("1", "2"):
        assert run(issued, "reprint", "A-0001", "--why", "For the file.", *DAY) == 0
        folder = issued / "output/draft" / f"A-0001-copy-{number}"
        for page in pages_of(folder / "pack.pdf"):
            assert f"A-0001 COPY {number} - NOT FOR WORK" in page
    copies = traveller(issued, "A-0001").of_kind("copy")
    assert [each.tree["copy"] for each in copies] == ["1", "2"]
    assert traveller(issued, "A-0001").status == "open"


def test_a_copy_that_has_no_place_is_not_recorded(issued, capsys):
    place = issued / "output/draft/A-0001-copy-1"
    place.parent.mkdir(exist_ok=True)
    place.write_text("by hand\n", encoding="utf-8")
    assert run(issued, "reprint", "A-0001", "--why", "Torn.", *DAY) == 1
    told = capsys.readouterr().err
    assert "A-0001-copy-1 is not a folder of ours" in told and "nothing written" in told
    assert not traveller(issued, "A-0001").acts
    place.unlink()
    assert run(issued, "reprint", "A-0001", "--why", "Torn.", *DAY) == 0
    assert (place / "pack.pdf").exists()


def test_a_copy_that_is_recorded_and_not_printed_is_told_so(issued, capsys, monkeypatch):
    def full(place, files):
        raise OSError(errno.ENOSPC, "No space left on device", str(place / "pack.pdf"))

    monkeypatch.setattr("generator.commands.reprint.write_folder", full)
    assert run(issued, "reprint", "A-0001", "--why", "Torn.", *DAY) == 1
    told = capsys.readouterr().err
    assert "pack.pdf: No space left on device" in told and "nothing written" not in told
    assert "copy 1 of A-0001 is recorded and not printed; reprint makes the next" in told
    monkeypatch.undo()
    assert run(issued, "reprint", "A-0001", "--why", "Torn.", *DAY) == 0
    assert (issued / "output/draft/A-0001-copy-2/pack.pdf").exists()


def test_a_revision_is_withdrawn_whatever_stands_behind_it(issued, capsys):
    facts = issued / "output/issued/A-0001/facts.yaml"
    facts.write_bytes(facts.read_bytes() + b"more: x\n")
    assert run(issued, "withdraw", "T6-P-0120", "--why", "Wrong.", *DAY) == 1
    told = capsys.readouterr().err
    assert "facts.yaml is not what was recorded" in told
    assert "1 finding; revision A of T6-P-0120 is withdrawn" in told


def test_lost_files_are_made_again_byte_for_byte_whatever_changed_since(issued, capsys):
    place = issued / "output/issued/A-0001"
    kept = {each.name: each.read_bytes() for each in place.iterdir() if each.is_file()}
    change(issued, "four places", "five places")
    change(issued, "Lengths in mm", "All lengths in mm", "processes/workshop/workshop.yaml")
    lost = [name for name in kept if name.endswith((".pdf", ".md", "boxes.json"))]
    for name in lost:
        (place / name).unlink()
    assert run(issued, "reprint", "A-0001", "--restore") == 0
    assert {name: (place / name).read_bytes() for name in lost} == {n: kept[n] for n in lost}
    assert clean(issued)
    assert run(issued, "reprint", "A-0001", "--restore") == 0
    assert "nothing is missing" in capsys.readouterr().out


@pytest.mark.parametrize(
    "lost",
    [("process.yaml",), ("facts.yaml",), ("form.yaml",), ("workshop/stamps.yaml", "traveller.pdf"),
     ("process.yaml", "workshop/workshop.yaml", "pack.pdf")],
)  # fmt: skip
def test_what_the_sheets_are_made_from_is_got_back_from_git(issued, capsys, lost):
    place = "output/issued/A-0001"
    for name in lost:
        (issued / place / name).unlink()
    assert run(issued, "reprint", "A-0001", "--restore") == 1
    told = capsys.readouterr().err
    assert f"{lost[0]} of A-0001 is missing, and no print makes it again" in told
    (right,) = re.findall("Right: (git checkout HEAD -- .+)\n", told)
    subprocess.run(right.split(), cwd=issued, check=True)
    assert run(issued, "reprint", "A-0001", "--restore") == 0
    assert clean(issued)


def test_what_this_version_makes_otherwise_is_not_put_back(issued, capsys, monkeypatch):
    place = issued / "output/issued/A-0001"
    (place / "traveller.pdf").unlink()
    monkeypatch.setattr("generator.draw.prints.TEXT", "wm-bold")
    monkeypatch.setattr("generator.compose.short", lambda fingerprint: "0000 0000 0000")
    assert run(issued, "reprint", "A-0001", "--restore") == 1
    assert "this version does not make traveller.pdf as it was" in capsys.readouterr().err
    assert not (place / "traveller.pdf").exists()
