"""A record from which the whole folder of an issued traveller was taken away, in; what every command
says of it, and the way back that works, out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.commands.test_commands import run
from tests.record.conftest import run_git

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
