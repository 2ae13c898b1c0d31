"""What would stop an act behind its note, in; a refusal before anything is decided, with a way out
that works, out."""

from __future__ import annotations

import json
import shutil
import subprocess

import pytest

from generator.findings import Refusal
from generator.record import recover
from generator.record.begun import begun_in
from generator.record.git import opened
from tests.record.conftest import run_git
from tests.record.desk import assert_sound, issue
from tests.record.test_begun import begun, stopped
from tests.record.test_in_head import SLIPS, slip, told
from tests.record.test_in_head import folder as folder  # the fixture
from tests.record.test_in_head import kept as kept  # the fixture


def note_of(workshop):
    return workshop.parent / ".git/witnessmark/act-A.json"


@pytest.mark.parametrize(
    ("name", "value", "says"),
    [
        ("GIT_AUTHOR_DATE", "garbage", "invalid date format"),
        ("GIT_COMMITTER_DATE", "garbage", "invalid date format"),
        ("GIT_AUTHOR_NAME", "", "empty ident name"),
        ("GIT_COMMITTER_NAME", "<>", "disallowed characters"),
    ],
)
def test_a_signature_that_git_does_not_take(workshop, monkeypatch, name, value, says):
    issue(workshop)
    monkeypatch.setenv(name, value)
    with pytest.raises(Refusal, match=says):
        issue(workshop)
    monkeypatch.delenv(name)
    assert not note_of(workshop).exists()
    assert issue(workshop).serial == "A-0002"
    assert_sound(workshop, "A-0001", "A-0002")


@pytest.mark.parametrize("name", ["GLOB", "ICASE"])
def test_how_the_caller_reads_paths_changes_nothing(workshop, monkeypatch, name):
    issue(workshop)
    slip(workshop)
    monkeypatch.setenv(f"GIT_{name}_PATHSPECS", "1")
    issue(workshop)
    slip(workshop)


def test_other_settings_of_the_caller_change_nothing(workshop, monkeypatch, tmp_path):
    run_git(workshop, "config", "witnessmark.desk", "B")
    (tmp_path / "other").write_text("[witnessmark]\n\tdesk = C\n", encoding="utf-8")
    monkeypatch.setenv("GIT_CONFIG", str(tmp_path / "other"))
    assert issue(workshop).serial == "B-0001"


@pytest.mark.parametrize("name", ["GIT_GRAFT_FILE", "GIT_SHALLOW_FILE"])
def test_another_history_of_the_caller_hides_no_rewritten_list(
    folder, monkeypatch, tmp_path, capsys, name
):
    listed = folder / SLIPS
    listed.write_text(listed.read_text("utf-8").replace("0.96", "0.99"), encoding="utf-8")
    run_git(folder, "commit", "--quiet", "-m", "otherwise", "--", SLIPS)
    head = run_git(folder, "rev-parse", "HEAD")
    (tmp_path / "cut").write_text(head, encoding="utf-8")
    monkeypatch.setenv(name, str(tmp_path / "cut"))
    assert f"{SLIPS}: rewritten" in told(folder, capsys)


@pytest.mark.parametrize("place", ["output", "output/completed", "output/completed/A-0001"])
def test_a_folder_of_the_record_that_is_another_repository(workshop, place):
    issue(workshop)
    slip(workshop)
    run_git(workshop, "init", "--quiet", place)
    run_git(workshop / place, "add", ".")
    run_git(workshop / place, "commit", "--quiet", "-m", "its own")
    run_git(workshop, "rm", "-r", "--quiet", "--cached", place)
    run_git(workshop, "add", place)
    run_git(workshop, "commit", "--quiet", "-m", "submodule")
    with pytest.raises(Refusal, match=f"{place} is a repository of its own") as no:
        slip(workshop)
    assert "git rm --cached" in no.value.right and not note_of(workshop).exists()
    shutil.rmtree(workshop / place / ".git")
    run_git(workshop, "rm", "--quiet", "--cached", place)
    run_git(workshop, "add", place)
    run_git(workshop, "commit", "--quiet", "-m", "one repository")
    slip(workshop)


WHOLE = {"title": "A-0002", "words": "w", "folder": "", "prefix": "workshop/",
         "blobs": {"output/a.txt": "1" * 40},
         "added": {"output/register-A.txt": "x\n"}}  # fmt: skip


@pytest.mark.parametrize(
    "change",
    [
        {"added": {}}, {"added": []}, {"blobs": {}}, {"blobs": []}, {"title": 1}, {"prefix": 1},
        {"folder": None}, {"added": {"output/register-B.txt": "x\n"}}, {"blobs": {"output/a": "x"}},
        {"blobs": {"../a.txt": "1" * 40}}, {"added": {"output/register-A.txt": 1}},
    ],
)  # fmt: skip
def test_a_note_of_another_shape(workshop, change):
    issue(workshop)
    note_of(workshop).write_text(json.dumps(WHOLE | change), encoding="utf-8")
    for act in (lambda: issue(workshop), lambda: begun_in(opened(workshop))):
        with pytest.raises(Refusal, match="begun cannot be read"):
            act()
    note_of(workshop).unlink()
    assert issue(workshop).serial == "A-0002"


def test_a_workshop_that_was_moved_while_an_act_was_begun(workshop):
    issue(workshop)
    begun(workshop)
    top = workshop.parent
    run_git(top, "mv", "workshop", "hall")
    run_git(top, "commit", "--quiet", "-m", "moved")
    with pytest.raises(Refusal, match="was begun in workshop/") as told:
        issue(top / "hall")
    assert told.value.right.startswith("git mv hall/ back to workshop/, git commit")
    run_git(top, "mv", "hall", "workshop")
    run_git(top, "commit", "--quiet", "-m", "moved back")
    assert recover(workshop, "A") == "A-0002"
    run_git(top, "mv", "workshop", "hall")
    run_git(top, "commit", "--quiet", "-m", "moved")
    with pytest.raises(Refusal, match="this clone never wrote as desk A") as told:
        issue(top / "hall")
    assert told.value.right.endswith("git update-ref refs/witnessmark/hall+/A HEAD")
    run_git(top, "update-ref", "refs/witnessmark/hall+/A", "HEAD")
    assert issue(top / "hall").serial == "A-0003"


def test_a_branch_that_lacks_a_slip_is_told_the_slip(workshop):
    issue(workshop)
    act = slip(workshop)
    run_git(workshop, "switch", "--quiet", "-c", "old", "HEAD~1")
    with pytest.raises(Refusal, match=f"does not hold {act.title} of desk A"):
        slip(workshop)


def test_a_first_work_tree_whose_git_folder_stands_elsewhere(workshop, tmp_path):
    issue(workshop)
    stopped(workshop, lambda: issue(workshop), "_put_in_place")
    side, apart = tmp_path / "side", tmp_path / "apart" / "git"
    run_git(workshop, "worktree", "add", "--quiet", "-b", "side", str(side))
    apart.parent.mkdir()
    subprocess.run(["mv", str(workshop.parent / ".git"), str(apart)], check=True)
    (workshop.parent / ".git").symlink_to(apart)
    run_git(workshop, "worktree", "repair", str(side))
    with pytest.raises(Refusal, match="begun in the first work tree") as told:
        issue(side / "workshop")
    assert told.value.wrong.endswith(f"git's folder is {apart}")
