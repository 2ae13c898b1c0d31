"""An act that was begun and killed, in; finished where it belongs, refused elsewhere, no number
twice, out."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path

import pytest

from generator.findings import Refusal
from generator.record import recording, recover
from generator.record.begun import begun_in
from generator.record.git import opened
from tests.record.conftest import run_git
from tests.record.desk import assert_sound, issue


def begun(workshop: Path, before: str = "_put_in_place") -> None:
    """An issue that is killed as soon as it is decided, or before another step."""
    child = os.fork()
    if child == 0:
        setattr(recording, before, lambda *_: os._exit(9))
        issue(workshop)
        os._exit(0)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9
    own = Path(run_git(workshop, "rev-parse", "--absolute-git-dir").strip())
    (own / "index.lock").unlink(missing_ok=True)  # as git itself advises, and people do


def test_an_older_branch_does_not_finish_what_was_begun_on_another(workshop):
    issue(workshop)
    begun(workshop)
    run_git(workshop, "switch", "--quiet", "-c", "old", "HEAD~1")
    with pytest.raises(Refusal, match="does not hold A-0001") as told:
        issue(workshop)
    assert "A-0002 is begun" in told.value.ends
    run_git(workshop, "switch", "--quiet", "main")
    assert issue(workshop).serial == "A-0003"
    assert_sound(workshop, "A-0001", "A-0002", "A-0003")


def test_a_branch_whose_move_a_power_cut_took_is_moved_again(workshop):
    issue(workshop)
    begun(workshop, before="_forgotten")
    run_git(workshop, "update-ref", "refs/heads/main", "main~1")  # the desk's ref kept its move
    assert recover(workshop, "A") == "A-0002"
    assert issue(workshop).serial == "A-0003"
    assert_sound(workshop, "A-0001", "A-0002", "A-0003")


def test_what_another_branch_holds_is_not_taken_for_a_move_that_was_lost(workshop):
    issue(workshop)
    begun(workshop, before="_forgotten")
    run_git(workshop, "switch", "--quiet", "-c", "old", "HEAD~1")
    with pytest.raises(Refusal, match="does not hold A-0002"):
        issue(workshop)
    run_git(workshop, "switch", "--quiet", "main")
    assert recover(workshop, "A") == "A-0002"


def test_a_second_work_tree_takes_no_number_that_is_begun_in_the_first(workshop, tmp_path):
    issue(workshop)
    begun(workshop)
    side = tmp_path / "side"
    run_git(workshop, "worktree", "add", "--quiet", "-b", "side", str(side))
    with pytest.raises(Refusal, match="A-0002 of desk A is begun in the work tree") as told:
        issue(side / "workshop")
    assert str(workshop.parent) in told.value.wrong
    assert recover(workshop, "A") == "A-0002"
    assert_sound(workshop, "A-0001", "A-0002")
    run_git(side, "merge", "--quiet", "main")
    assert issue(side / "workshop").serial == "A-0003"


def test_the_first_work_tree_waits_for_what_is_begun_in_a_second(workshop, tmp_path):
    issue(workshop)
    side = tmp_path / "side"
    run_git(workshop, "worktree", "add", "--quiet", "-b", "side", str(side))
    begun(side / "workshop")
    with pytest.raises(Refusal, match="begun in the work tree") as told:
        issue(workshop)
    assert str(side) in told.value.wrong
    subprocess.run(["rm", "-rf", str(side)], check=True)
    with pytest.raises(Refusal) as told:
        issue(workshop)
    assert "git worktree prune" in told.value.right
    run_git(workshop, "worktree", "prune")
    assert issue(workshop).serial == "A-0002"


def test_a_second_workshop_of_the_repository_does_not_finish_it(workshop):
    begun(workshop)
    other = workshop.parent / "other"
    (other / "processes").mkdir(parents=True)
    with pytest.raises(Refusal, match="A-0001 was begun in workshop/"):
        issue(other)
    assert recover(workshop, "A") == "A-0001"


def test_what_was_recorded_otherwise_meanwhile_is_not_finished(workshop):
    issue(workshop)
    begun(workshop)
    note = workshop.parent / ".git" / "witnessmark" / "act-A.json"
    aside = note.read_bytes()
    recover(workshop, "A")
    told = json.loads(aside)
    told["added"] = {
        path: lines.replace(lines[:8], "0" * 8) for path, lines in told["added"].items()
    }
    note.write_text(json.dumps(told))
    with pytest.raises(Refusal, match="recorded otherwise meanwhile"):
        issue(workshop)
    note.unlink()
    assert issue(workshop).serial == "A-0003"


def test_a_list_that_was_written_and_not_flushed_is_flushed_by_the_next(workshop, monkeypatch):
    issue(workshop)
    child = os.fork()
    if child == 0:
        os.fsync = lambda handle: (
            os._exit(9) if "register-A.txt" in os.readlink(f"/proc/self/fd/{handle}") else None
        )
        issue(workshop)
        os._exit(0)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9
    flushed: list[str] = []
    real = os.fsync
    monkeypatch.setattr(
        os, "fsync", lambda h: (flushed.append(os.readlink(f"/proc/self/fd/{h}")), real(h))
    )
    assert recover(workshop, "A") == "A-0002"
    assert str(workshop / "output" / "register-A.txt") in flushed


@pytest.mark.parametrize("content", [b"{", b"[]", b'{"title": "A-0002"}', b"\xff", b"[" * 100_000])
def test_a_damaged_note_is_told_and_nothing_is_done(workshop, content):
    issue(workshop)
    note = workshop.parent / ".git" / "witnessmark" / "act-A.json"
    note.write_bytes(content)
    for act in (lambda: issue(workshop), lambda: begun_in(opened(workshop))):
        with pytest.raises(Refusal, match=r"begun cannot be read: .*act-A\.json"):
            act()
    note.unlink()
    assert issue(workshop).serial == "A-0002"


def test_a_replaced_commit_hides_nothing(workshop):
    """git replace lets a ref of the user's stand for another object."""
    first = issue(workshop).commit
    before = run_git(workshop, "rev-parse", f"{first}~1").strip()
    run_git(workshop, "replace", first, before)
    assert issue(workshop).serial == "A-0002"
    run_git(workshop, "replace", "-d", first)
    assert_sound(workshop, "A-0001", "A-0002")
