"""A workshop on the moment before an act, in; the power cut at moments of the act, the disk that may
be left, and whether one recovery makes it whole, out."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from pathlib import Path

from generator.record import recover
from tests.commands.conftest import copied
from tests.commands.test_commands import run
from tests.faults.acts import doing
from tests.faults.model import Cut, Step, after
from tests.faults.sound import assert_git_whole, assert_sound, recorded
from tests.faults.steps import steps_of
from tests.record.conftest import run_git

Moment = tuple[int, Cut]


def done(shop: Path, act: str, papers: Path, place: Path) -> tuple[Path, list[Step]]:
    """A copy on which the act is done, and its steps."""
    whole = copied(shop, place)
    return whole, steps_of(doing(whole, act, papers), whole)


def assert_cut_anywhere(
    shop: Path, whole: Path, steps: list[Step], moments: Iterable[Moment], beside: Path
) -> int:
    """Cut at the moments and recovered: wholly recorded or not at all, and recorded where the act
    had come to its end. How many cuts."""
    before, behind = recorded(shop), recorded(whole)
    staged = run_git(shop, "diff", "--cached", "--name-status")
    count = 0
    for moment, cut in moments:
        there = beside / "cut"
        shutil.rmtree(there, ignore_errors=True)
        after(shop, steps, moment, cut, there)
        where = f"{cut.called}, behind {steps[moment - 1] if moment else 'nothing'}"
        recover(there, "A")
        now = recorded(there).keys()
        assert now in (before.keys(), behind.keys()), where
        assert moment < len(steps) or now == behind.keys(), f"told as done and lost: {where}"
        _swept(there)
        assert moment < len(steps) or run(there, "verify") == 0, where
        assert_sound(there, before)
        assert_git_whole(there, staged)
        count += 1
    return count


def _swept(shop: Path) -> None:
    """Half a print or half a scan is no record: the next of its name takes its place."""
    for place in ("draft", "media"):
        for each in [*(shop / "output" / place).rglob(".*.new")]:
            shutil.rmtree(each) if each.is_dir() else each.unlink()
