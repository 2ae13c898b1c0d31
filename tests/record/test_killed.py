"""A run killed at each thing it does to the disk, or many runs at once, in; no gap, no twin out."""

from __future__ import annotations

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from generator.record import recover
from tests.record.conftest import run_git
from tests.record.desk import assert_sound, issue

# All by which the record reaches the disk. A kill before the n-th of them is a kill after the
# one before it. A flush changes nothing that a kill would show: tests/faults has the power cuts.
TOUCHES = [(os, name) for name in ("rename", "replace", "link", "unlink", "mkdir", "rmdir")]
TOUCHES += [(os, "ftruncate"), (subprocess, "run")]
MOST = 200
# Every so many steps are killed: a seeded part in `make test`, each of them in `make prove`.
EVERY = (3, pytest.param(1, marks=pytest.mark.prove))


def _killed_at(workshop: Path, step: int) -> bool:
    """Run an issue in a child that dies before its n-th touch; False where it came to the end."""
    child = os.fork()
    if child == 0:
        _count_down(step)
        issue(workshop)
        os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9


def _count_down(step: int) -> None:
    left = [step]

    def counted(act, torn=False):
        def touch(*words, **more):
            left[0] -= 1
            if left[0] == 0:
                if torn:
                    act(words[0], words[1][: len(words[1]) // 2])
                os._exit(9)
            return act(*words, **more)

        return touch

    for room, name in TOUCHES:
        setattr(room, name, counted(getattr(room, name)))
    os.write = counted(os.write, torn=True)


@pytest.fixture
def second(workshop):
    """A workshop with one traveller, something staged, and the next to be issued."""
    issue(workshop)
    (workshop / "processes" / "clip.yaml").write_text("title: Staged\n")
    run_git(workshop, "add", "processes")
    return workshop


def _recovered(workshop: Path, title: str) -> bool:
    """Recover; whether the act was done: finished now, or killed when it had only to be forgotten."""
    assert recover(workshop, "A") in ("", title)
    return title in run_git(workshop, "log", "-1", "--format=%s")


def _restored(workshop: Path, bare: Path) -> None:
    """The work tree and its git folder as they were before the kill."""
    subprocess.run(["rm", "-rf", str(workshop.parent)], check=True)
    subprocess.run(["cp", "-a", str(bare), str(workshop.parent)], check=True)


@pytest.mark.parametrize("every", EVERY)
def test_a_kill_at_any_step_is_undone_or_finished(second, tmp_path, every):
    bare = tmp_path / "as-it-was"
    subprocess.run(["cp", "-a", str(second.parent), str(bare)], check=True)
    undone = finished = 0
    for step in range(1, MOST, every):
        if not _killed_at(second, step):
            break
        done = _recovered(second, "A-0002")
        if done:
            finished += 1
            assert_sound(second, "A-0001", "A-0002")
        else:
            undone += 1
            assert_sound(second, "A-0001")
        assert run_git(second, "diff", "--cached", "--name-only").split() == [
            "workshop/processes/clip.yaml"
        ]
        assert issue(second).serial == ("A-0003" if done else "A-0002")
        _restored(second, bare)
    else:
        pytest.fail(f"an issue has more than {MOST} steps")
    assert undone > 10 / every, "killed before the rename"
    assert finished > 10 / every, "killed after it"


@pytest.mark.parametrize("first", [24, 36, 44])
def test_a_recovery_that_is_killed_is_recovered(second, first):
    for step in (first, 1, 4, 8, 12, 16, 20, 24):
        if not _killed_at(second, step):
            break
    recover(second, "A")
    last = issue(second).serial
    serials = [f"A-{n:04d}" for n in range(1, int(last[2:]) + 1)]
    assert_sound(second, *serials)


def _killed_after_the_rename(workshop: Path) -> None:
    child = os.fork()
    if child == 0:
        from generator.record import recording as room

        room.commit = lambda *_: os._exit(9)
        issue(workshop)
        os._exit(0)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9


def test_while_half_done_nobody_can_commit_the_traveller_away(second):
    _killed_after_the_rename(second)
    with pytest.raises(subprocess.CalledProcessError):
        run_git(second, "commit", "--quiet", "-m", "staged")
    assert recover(second, "A") == "A-0002"
    run_git(second, "commit", "--quiet", "-m", "staged")
    assert_sound(second, "A-0001", "A-0002")


def test_what_was_changed_in_between_is_committed_as_it_was_taken(second):
    _killed_after_the_rename(second)
    sheet = second / "output" / "issued" / "A-0002" / "traveller.md"
    sheet.write_text("forged\n")
    assert recover(second, "A") == "A-0002"
    assert "traveller.md" in run_git(second, "status", "--porcelain", "--", "output")
    run_git(second, "checkout", "HEAD", "--", "output")
    assert_sound(second, "A-0001", "A-0002")


def test_many_at_once_leave_no_gap_and_no_twin(workshop):
    program = "import sys; from pathlib import Path; from tests.record.desk import issue\n"
    program += "print(issue(Path(sys.argv[1])).serial)"

    def one(_: int) -> str:
        line = [sys.executable, "-c", program, str(workshop)]
        top = Path(__file__).parents[2]
        return subprocess.run(line, cwd=top, check=True, capture_output=True, text=True).stdout

    with ThreadPoolExecutor(6) as pool:
        serials = sorted(said.strip() for said in pool.map(one, range(6)))
    assert serials == [f"A-000{n}" for n in range(1, 7)]
    assert_sound(workshop, *serials)
