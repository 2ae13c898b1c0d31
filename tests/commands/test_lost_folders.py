"""A record from which the whole folder of an issued traveller was taken away, in; what every command
says of it, and the way back that works, out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.commands.test_commands import issue, run
from tests.record.conftest import run_git
from tests.record.whole import slipped

PLACE = "output/issued/A-0001"
BACK = f"git checkout HEAD -- {PLACE}"
DELETED = f"git log --diff-filter=D -- {PLACE}, then git checkout THAT-COMMIT~1 -- {PLACE}"


@pytest.fixture(params=[BACK, DELETED], ids=["taken away", "and committed"])
def lost(request, issued: Path) -> tuple[Path, str]:
    """A workshop that lost the folder, and the way back."""
    shutil.rmtree(issued / PLACE)
    if request.param == DELETED:
        run_git(issued, "commit", "-qam", "Tidy")
    return issued, request.param


def said_by(folder: Path, capsys, *words: str, code: int = 1) -> str:
    capsys.readouterr()
    assert run(folder, *words) == code
    told = capsys.readouterr()
    return told.out + told.err


def test_verify_tells_a_lost_folder_once_with_its_way_back(lost, capsys):
    folder, back = lost
    said = said_by(folder, capsys, "verify")
    assert f"{PLACE}: missing: a register names this traveller, and its folder is not" in said
    assert f"Right: {back}\n" in said
    assert "unexpected" not in said and "git rm" not in said
    assert "\n1 finding;" in said


def test_the_way_back_of_verify_works(lost, capsys):
    folder, back = lost
    commit = "HEAD" if back == BACK else "HEAD~1"
    run_git(folder, "checkout", commit, "--", PLACE)
    run_git(folder, "commit", "-q", "--allow-empty", "-m", "Brought back")
    said_by(folder, capsys, "verify", code=0)


def test_an_emptied_folder_is_a_lost_one(lost, capsys):
    folder, back = lost
    (folder / PLACE).mkdir(parents=True)
    said = said_by(folder, capsys, "verify")
    assert f"Right: {back}\n" in said and "\n1 finding;" in said


def test_what_is_gone_with_the_sums_is_not_unexpected(issued, capsys):
    for name in ("sums.txt", "traveller.md", "facts.yaml"):
        (issued / PLACE / name).unlink()
    said = said_by(issued, capsys, "verify")
    assert f"{PLACE}/sums.txt: missing: " in said and "HEAD holds it" not in said
    run_git(issued, "checkout", "HEAD", "--", f"{PLACE}/sums.txt")
    said = said_by(issued, capsys, "verify")
    assert f"{PLACE}/facts.yaml: missing: " in said and f"{PLACE}/traveller.md: missing: " in said


def test_sums_that_were_deleted_and_committed_have_one_way_back(issued, capsys):
    run_git(issued, "rm", "-q", f"{PLACE}/sums.txt")
    run_git(issued, "commit", "-qm", "Tidy")
    said = said_by(issued, capsys, "verify")
    assert "files beside it stand in no list" in said
    assert "git log --diff-filter=D -- " in said and "git checkout HEAD" not in said


@pytest.mark.parametrize("ended", [False, True])
def test_a_dossier_and_the_recall_list_leave_no_lost_traveller_out(lost, capsys, ended):
    folder, back = lost
    if ended:  # the last act on it, seen by name alone once its folder is gone
        run_git(folder, "checkout", "HEAD" if back == BACK else "HEAD~1", "--", PLACE)
        run_git(folder, "commit", "-q", "--allow-empty", "-m", "Brought back")
        why = ("--why", "Wrong.", "--on", "2026-11-26", "--stamp", "LQ1")
        assert run(folder, "withdraw", "A-0001", *why) == 0
        shutil.rmtree(folder / PLACE)
        if back == DELETED:
            run_git(folder, "commit", "-qam", "Tidy")
    bag = folder.parent / "bag"
    asked = ("T6-P-0120", "--into", str(bag), "--on", "2026-11-28")
    for words in (("dossier", *asked), ("affected",), ("affected", "T6-P-0120")):
        said = said_by(folder, capsys, *words)
        assert f"{PLACE} is not there" in said and back in said, words
    assert not bag.exists()


def test_a_dossier_is_refused_where_the_register_lost_the_traveller_too(issued, capsys):
    """Then no list names it any more, and HEAD still does."""
    assert issue(issued, "T6-P-0120", "0002") == 0
    shutil.rmtree(issued / PLACE)
    register = issued / "output/register-A.txt"
    rows = [row for row in register.read_text("utf-8").splitlines(True) if "A-0001" not in row]
    register.write_text("".join(rows), encoding="utf-8")
    bag = issued.parent / "bag"
    asked = ("T6-P-0120", "--into", str(bag), "--on", "2026-11-28")
    for words in (("dossier", *asked), ("affected",)):
        assert "output/register-A.txt" in said_by(issued, capsys, *words)
    assert not bag.exists()


def test_a_dossier_leaves_none_out_of_which_nobody_can_say_whether_it_belongs_there(issued, capsys):
    assert issue(issued, "T6-P-0120", "0002") == 0
    bag = issued.parent / "bag"
    for name in ("facts.yaml", "process.yaml"):
        (issued / PLACE / name).unlink()
        asked = ("T6-P-0120", "--into", str(bag), "--on", "2026-11-28")
        said = said_by(issued, capsys, "dossier", *asked)
        assert f"{PLACE}/{name} is not there" in said
        assert f"git checkout HEAD -- {PLACE}/{name}" in said
        run_git(issued, "checkout", "HEAD", "--", PLACE)
    assert not bag.exists()


WHY = ("--why", "Wrong.", "--on", "2026-11-26", "--stamp", "LQ1")
ASKED = {
    "restore": ("reprint", "A-0001", "--restore"),
    "reprint": ("reprint", "A-0001", *WHY),
    "close": ("close", "A-0001", *WHY[2:]),
    "slip": ("slip", "A-0001", "--operation", "10", "--what", "Crack.", *WHY[2:]),
    "enter": ("enter", "A-0001", *WHY[2:]),
    "withdraw": ("withdraw", "A-0001", *WHY),
    "list": ("list",),
    "issue": ("issue", "T6-P-0120", "--for", "0001", *WHY[2:]),
}


@pytest.mark.parametrize("words", ASKED.values(), ids=ASKED)
def test_what_asks_for_a_lost_traveller_names_the_folder_and_the_way_back(lost, capsys, words):
    folder, back = lost
    said = said_by(folder, capsys, *words)
    assert f"{PLACE} is not there" in said and f"Right: {back}\n" in said
    assert "was issued here" not in said


@pytest.mark.parametrize("words", [ASKED["restore"], ASKED["list"], ASKED["issue"]])
def test_sums_that_are_lost_alone_are_named_alone(issued, capsys, words):
    (issued / PLACE / "sums.txt").unlink()
    said = said_by(issued, capsys, *words)
    assert f"{PLACE}/sums.txt is not there" in said and f"{BACK}/sums.txt" in said
    run_git(issued, "commit", "-qam", "Tidy")
    said = said_by(issued, capsys, *words)
    sums = f"{PLACE}/sums.txt"
    assert f"log --diff-filter=D -- {sums}, then git checkout THAT-COMMIT~1 -- {sums}" in said


def test_an_act_with_a_number_that_is_lost_is_missing_and_no_more(issued, capsys):
    """Its line in the list of its desk is no fault, and no words are left out of what is told."""
    slipped(issued)
    for committed in (False, True):
        for kind in ("concession", "slip"):
            acts = sorted((issued / "output/completed/A-0001").glob(f"*-{kind}.yaml"))
            path = acts[-1].relative_to(issued).as_posix()
            acts[-1].unlink()
            if committed:
                run_git(issued, "commit", "-qam", "Tidy")
            said = said_by(issued, capsys, "verify")
            assert f"{path}: missing: " in said and ": number: " not in said
            assert "\n1 finding;" in said
            run_git(issued, "checkout", "HEAD~1" if committed else "HEAD", "--", path)
            if committed:
                run_git(issued, "commit", "-qam", "Brought back")
    said_by(issued, capsys, "verify", code=0)


def test_a_lost_act_hides_no_line_of_another(issued, capsys):
    """One slip is lost, and the list has two lines on its traveller that no act has."""
    slipped(issued)
    slips = issued / "output/slips-A.txt"
    slips.write_text(slips.read_text("utf-8") + "NC-A-0003 A-0001 20 Scratch.\n", "utf-8")
    sorted((issued / "output/completed/A-0001").glob("*-slip.yaml"))[-1].unlink()
    assert "output/slips-A.txt: number: " in said_by(issued, capsys, "verify")
