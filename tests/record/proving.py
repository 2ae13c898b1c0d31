"""A workshop in git, in; runs killed at random instants, and whether its record is whole, out."""

from __future__ import annotations

import contextlib
import io
import os
import random
import signal
import time
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

from tests.record.conftest import run_git


def assert_whole(workshop: Path, desk: str = "A") -> list[str]:
    """Every line of the register has its file, unchanged; every file its line; the serials have no
    gap; git holds it all; nothing lies about. Gives the serials."""
    output = workshop / "output"
    rows = (output / f"register-{desk}.txt").read_text(encoding="utf-8").splitlines()
    told = {path: sums for sums, path in (row.split("  ", 1) for row in rows)}
    assert len(told) == len(rows), "a line stands twice"
    folders = sorted(each.name for each in (output / "issued").glob(f"{desk}-*"))
    assert folders == [f"{desk}-{n:04d}" for n in range(1, len(folders) + 1)]
    for serial in folders:
        assert f"output/issued/{serial}/sums.txt" in told
    named = dict(told)
    for path in [each for each in told if each.endswith("/sums.txt")]:
        inside = (workshop / path).read_text(encoding="utf-8").splitlines()
        named |= {own: sums for sums, own in (row.split("  ", 1) for row in inside)}
    for path, sums in named.items():
        assert sha256((workshop / path).read_bytes()).hexdigest() == sums, path
    there = [*_files(output / "issued"), *_files(output / "completed")]
    assert {f"output/{file.relative_to(output)}" for file in there} <= named.keys()
    assert run_git(workshop, "status", "--porcelain", "--", "output") == ""
    assert not list(output.glob(".new-*"))
    # Drafts are thrown away: what a killed run left there goes with the next draft.
    hidden = [each.relative_to(output).as_posix() for each in output.rglob(".*")]
    assert all(each.startswith("draft/") for each in hidden), hidden
    return folders


def _files(place: Path) -> list[Path]:
    return [each for each in place.rglob("*") if each.is_file()]


def killed(act: Callable[[], object], chance: random.Random, longest: float) -> bool:
    """Run the act in a child of its own group and kill it at a random instant, half of the time
    with all that it started, as a power cut would; False where it came to its end before."""
    child = os.fork()
    if child == 0:
        os.setsid()
        with contextlib.suppress(BaseException), contextlib.redirect_stdout(io.StringIO()):
            act()
        os._exit(0)
    time.sleep(chance.uniform(0.0, longest))
    kill = os.killpg if chance.random() < 0.5 else os.kill
    with contextlib.suppress(ProcessLookupError, PermissionError):
        kill(child, signal.SIGKILL)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL
