"""A command on a disk that says no from one of its steps on, or at that step alone, in; what the
user is told, and what is left, out."""

from __future__ import annotations

import contextlib
import errno
import io
import os
import shutil
import subprocess
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.commands.conftest import copied
from tests.commands.test_commands import run
from tests.faults.acts import doing
from tests.faults.sound import assert_git_whole, assert_sound, noted, recorded
from tests.faults.touching import Touch, touching
from tests.record.conftest import run_git

FULL, QUOTA, BROKEN, LOCKED, DENIED = (
    errno.ENOSPC, errno.EDQUOT, errno.EIO, errno.EROFS, errno.EACCES,
)  # fmt: skip
_GROWS = ("open", "write", "mkdir", "link", "git")
_STEPS = {
    FULL: _GROWS,
    QUOTA: _GROWS,
    BROKEN: ("open", "write", "mkdir", "link", "rename", "replace", "fsync", "ftruncate", "flock", "git"),
    LOCKED: ("open", "mkdir", "link", "rename", "replace", "unlink", "rmdir", "ftruncate", "git"),
    DENIED: ("open", "mkdir", "link", "rename", "replace", "unlink", "rmdir", "git"),
}  # fmt: skip
"""What the system refuses so: a full disk still takes names away, a locked one nothing."""


@dataclass(frozen=True)
class Fault:
    """What is refused. first: the step; for_good: all later ones too. killed: a run of git is killed
    in place of being refused; after: behind its work."""

    number: int
    first: int
    for_good: bool = False
    killed: bool = False
    after: bool = False

    def meets(self, touch: Touch) -> bool:
        hit = touch.number >= self.first if self.for_good else touch.number == self.first
        return hit and touch.name in _STEPS[self.number]


@dataclass(frozen=True)
class Told:
    """How a command ended. hit: whether anything was refused."""

    code: int
    out: str
    err: str
    hit: bool


def refused(act: Callable[[], int], fault: Fault) -> Told:
    """Run the act with the fault."""
    hit = False

    def meet(touch: Touch, step: Callable[[], Any]) -> Any:
        nonlocal hit
        if not fault.meets(touch):
            return step()
        hit = True
        if touch.name == "git":
            return _git_refused(touch, step, fault)
        where = () if touch.name in ("write", "fsync", "flock", "ftruncate") else touch.paths[:1]
        raise OSError(fault.number, os.strerror(fault.number), *where)

    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err), touching(meet):
        code = act()
    return Told(code, out.getvalue(), err.getvalue(), hit)


def _git_refused(touch: Touch, step: Callable[[], Any], fault: Fault) -> Any:
    if fault.after:
        step()
    code, said = 128, f"fatal: unable to write: {os.strerror(fault.number)}\n".encode()
    if fault.killed:
        code, said = -9, b""
    return subprocess.CompletedProcess(touch.words, code, b"", said)


def assert_told(told: Told, fault: Fault) -> None:
    """One finding in plain words: what the disk said and what to do; no traceback, exit code 1."""
    assert told.code == 1, told
    assert "Traceback" not in told.err, told.err
    assert "Right: " in told.err, told.err
    assert "1 finding" in told.err, told.err
    what = "stopped by signal 9" if fault.killed else os.strerror(fault.number)
    assert what in told.err or (fault.killed and "No" in told.err), told.err


def faults(steps: list[Touch]) -> list[Fault]:
    """A fault for each of the steps that can meet one: what is refused, and whether for good, goes
    round with the steps. A folder that is there already is not made, and is no step."""
    found = []
    for n, touch in enumerate(steps):
        kinds = [
            Fault(number, touch.number, i % 2 == 0)
            for i, number in enumerate(_STEPS)
            if touch.name in _STEPS[number]
        ]
        if touch.name == "git":
            kinds += [Fault(FULL, touch.number, after=True)]
            kinds += [
                Fault(BROKEN, touch.number, killed=True, after=after) for after in (True, False)
            ]
        if kinds:
            found.append(kinds[n % len(kinds)])
    return found


def assert_refused_anywhere(
    shop: Path, act: str, papers: Path, chosen: Iterable[Fault], whole: Path, beside: Path
) -> int:
    """Each fault is told, and typed again on a sound disk the act is recorded once and only once.
    How many faults."""
    before, behind = recorded(shop), recorded(whole)
    staged = run_git(shop, "diff", "--cached", "--name-status")
    count = 0
    for fault in chosen:
        place = beside / "refused"
        shutil.rmtree(place, ignore_errors=True)
        place.mkdir()
        there = copied(shop, place)
        told = refused(doing(there, act, papers), fault)
        done = recorded(there).keys() == behind.keys() and not noted(there)
        if told.code == 0:
            assert done, (fault, told)
        else:
            assert_told(told, fault)
        assert (_BEGUN in told.err) == noted(there), (fault, told)
        assert done or doing(there, act, papers)() == 0, fault
        assert recorded(there).keys() == behind.keys(), fault
        assert_sound(there, before)
        assert_git_whole(there, staged)
        assert run(there, "verify") == 0, fault
        count += 1
    return count


_BEGUN = "is begun and will be"
