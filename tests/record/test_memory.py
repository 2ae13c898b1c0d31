"""Refs, stores and settings of git that are not as they should be, in; no number used twice, and
what is wrong told by its name, out."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from generator.findings import Refusal
from generator.record import Issued, git, take
from generator.record import desk as desks
from generator.record.register import append
from tests.commands.test_commands import run
from tests.record.conftest import run_git
from tests.record.desk import files, issue

OLD, OWN = "refs/witnessmark/A", "refs/witnessmark/workshop+/A"


@pytest.fixture
def other(workshop: Path) -> Path:
    """A second workshop of the same repository."""
    folder = workshop.parent / "other"
    shutil.copytree(workshop / "processes", folder / "processes")
    run_git(folder, "add", ".")
    run_git(folder, "commit", "-qm", "A second workshop")
    return folder


def named(folder: Path, ref: str) -> str:
    return run_git(folder, "rev-parse", "--verify", ref).strip()


def test_a_second_workshop_does_not_make_the_first_forget_its_last_number(workshop, other, capsys):
    assert issue(workshop).serial == "A-0001"
    run_git(workshop, "branch", "old")
    assert issue(workshop).serial == "A-0002"
    run_git(workshop, "switch", "-q", "old")
    assert issue(other).serial == "A-0001"
    with pytest.raises(Refusal, match="does not hold A-0002 of desk A as it was recorded") as told:
        issue(workshop)
    assert told.value.right == f"git merge {OWN}"
    assert run(workshop, "verify") == 1
    assert "HEAD does not hold the last act of desk A" in capsys.readouterr().err
    run(other, "verify")
    assert "HEAD does not hold" not in capsys.readouterr().err
    assert issue(other).serial == "A-0002"


def of_an_earlier_version(folder: Path) -> None:
    """The one ref that all workshops of a repository had."""
    run_git(folder, "update-ref", OLD, OWN)
    run_git(folder, "update-ref", "-d", OWN)


def test_what_an_earlier_version_remembered_still_counts(workshop, capsys):
    issue(workshop)
    issue(workshop)
    of_an_earlier_version(workshop)
    last = named(workshop, "HEAD")
    run_git(workshop, "reset", "-q", "--hard", "HEAD~1")
    with pytest.raises(Refusal, match="does not hold A-0002 of desk A as it was recorded"):
        issue(workshop)
    assert run(workshop, "verify") == 1
    assert f"git merge {OLD}" in capsys.readouterr().err
    run_git(workshop, "merge", "-q", OLD)
    assert issue(workshop).serial == "A-0003"
    assert named(workshop, OWN) == named(workshop, "HEAD")
    assert named(workshop, OLD) == last


def test_the_ref_of_another_workshop_is_not_this_ones(workshop, other, capsys):
    issue(workshop)
    of_an_earlier_version(workshop)
    assert issue(other).serial == "A-0001"
    run_git(other, "update-ref", "-d", "refs/witnessmark/other+/A")
    shutil.copytree(workshop / "output", workshop.parent / "output")
    run_git(workshop.parent, "add", "output")
    run_git(workshop.parent, "commit", "-qm", "A workshop at the top")
    run_git(workshop.parent, "update-ref", OLD, "HEAD")
    for folder, name in ((workshop, "workshop"), (other, "other")):
        with pytest.raises(Refusal, match="this clone never wrote as desk A") as told:
            issue(folder)
        assert f"git update-ref refs/witnessmark/{name}+/A HEAD" in told.value.right


@pytest.mark.parametrize("name", ["A", "w 1", "Büro ~^:?*[1]", "a.lock", "-x", "@{1}", "%20", "+"])
def test_a_workshop_in_a_folder_of_any_name_has_a_ref(workshop, name):
    folder = workshop.parent / name
    shutil.move(workshop, folder)
    run_git(folder.parent, "add", "-A")
    run_git(folder.parent, "commit", "-qm", "Moved")
    inner = folder / "A"
    shutil.copytree(folder / "processes", inner / "processes")
    for each in (folder, inner, folder):
        issue(each)
    at = git.opened(inner).prefix
    assert named(folder, f"{desks.memories_of(at)}A") == named(folder, "HEAD~1")
    assert issue(inner).serial == "A-0002"


def test_no_two_folders_share_a_ref():
    ways = [
        "",
        "A/",
        "A/A/",
        "A+/",
        "A%2B/",
        "A+/A/",
        "%41/",
        "é/",
        "a b/",
        "a%20b/",
        "a/b/",
        "ab/",
    ]
    assert len({desks.memories_of(way) for way in ways}) == len(ways)


@pytest.mark.parametrize("content", ["", "nothing\n"])
def test_a_ref_that_git_cannot_read_is_told_with_a_way_out(workshop, content, capsys):
    issue(workshop)
    last = named(workshop, "HEAD")
    (workshop.parent / ".git" / OWN).write_text(content, encoding="utf-8")
    assert run(workshop, "verify") == 1
    assert f"git cannot read {OWN}" in capsys.readouterr().err
    with pytest.raises(Refusal, match=f"git cannot read {OWN.replace('+', '.')}") as told:
        issue(workshop)
    assert "remove that file, then git update-ref" in told.value.right
    (workshop.parent / ".git" / OWN).unlink()
    run_git(workshop, "update-ref", OWN, last)
    assert issue(workshop).serial == "A-0002"


def test_a_last_act_that_gits_store_has_lost_is_not_taken_for_none(workshop, capsys):
    start = named(workshop, "HEAD")
    issue(workshop)
    lost(workshop, "HEAD")
    run_git(workshop, "update-ref", "refs/heads/main", start)
    run_git(workshop, "reset", "-q", "--hard")
    with pytest.raises(Refusal, match="git says: fatal: "):
        issue(workshop)
    (workshop / "output").mkdir(exist_ok=True)
    assert run(workshop, "verify") == 1
    assert f"lost the commit that {OWN} names" in capsys.readouterr().err


def lost(folder: Path, shown: str) -> str:
    """What git's store held under that name is gone."""
    name = named(folder, shown)
    (folder.parent / ".git/objects" / name[:2] / name[2:]).unlink()
    return name


@pytest.mark.parametrize("tree", ["workshop/output", "workshop/output/processes"])
def test_a_tree_that_gits_store_has_lost_is_not_taken_for_a_change_by_hand(workshop, tree, capsys):
    def lists(serial: str) -> dict[str, str]:
        return {"output/processes/T1/issued-A.txt": f"{serial} A 0001\n"}

    def one() -> Issued:
        return take(workshop, "A", files, lambda serial: f"Issue {serial}", lists)

    one()
    name = lost(workshop, f"HEAD:{tree}")
    with pytest.raises(Refusal, match=f"git says: .*{name}") as told:
        one()
    assert told.value.right.startswith("git fsck, and a clone")
    (workshop / "output/issued/A-0001/more.md").touch()
    assert run(workshop, "verify") == 1
    said = capsys.readouterr().err
    assert name in said and "git holds no such list" not in said
    assert "output/issued/A-0001/more.md: unexpected" in said


def test_a_commit_of_head_that_gits_store_has_lost_is_told(workshop, capsys):
    issue(workshop)
    name = lost(workshop, "HEAD")
    for words in (("verify",), ("list",)):
        run(workshop, *words)
        said = capsys.readouterr().err
        assert "git has no commit here yet" not in said
    with pytest.raises(Refusal, match=f"git's store has lost the commit {name[:12]}"):
        issue(workshop)


def test_a_list_that_was_changed_is_named_as_its_command_needs_it(tmp_path):
    file = tmp_path / "output/processes/T6-P-0120/issued-A.txt"
    file.parent.mkdir(parents=True)
    file.write_bytes(b"changed\n")
    with pytest.raises(Refusal) as told:
        append(file, b"as it was\n", b"more\n")
    assert told.value.right == "git checkout HEAD -- output/processes/T6-P-0120/issued-A.txt"


GIT = """#!/bin/sh
echo 'warning: core.something is deprecated' >&2
echo 'hint: look elsewhere' >&2
echo "fatal: detected dubious ownership in repository at '/x'" >&2
echo 'To add an exception for this directory, call:' >&2
echo >&2
printf '\\tgit config --global --add safe.directory /x\\n' >&2
exit 128
"""


def test_what_git_says_is_its_fault_and_its_own_way_out(workshop, tmp_path, monkeypatch):
    place = tmp_path / "bin"
    place.mkdir()
    (place / "git").write_text(GIT, encoding="utf-8")
    (place / "git").chmod(0o755)
    monkeypatch.setenv("PATH", f"{place}:{os.environ['PATH']}")
    with pytest.raises(Refusal) as told:
        git.opened(workshop)
    assert told.value.wrong == "git says: fatal: detected dubious ownership in repository at '/x'"
    right = "git config --global --add safe.directory /x, then run again"
    assert told.value.right == right
