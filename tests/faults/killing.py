"""A workshop on the moment before an act, in; the act killed before each of its steps and typed
again, and whether it was then recorded once and only once, out."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from pathlib import Path

from tests.commands.conftest import copied
from tests.commands.test_commands import run
from tests.faults.acts import doing
from tests.faults.sound import assert_git_whole, assert_sound, noted, recorded
from tests.faults.touching import Touch, counted, killed_at
from tests.record.conftest import run_git


def done(shop: Path, act: str, papers: Path, beside: Path) -> tuple[Path, list[Touch]]:
    """A copy on which the act is done, and the steps behind each of which the disk is another."""
    whole = copied(shop, _fresh(beside, "whole"))
    told = counted(lambda: _well(doing(whole, act, papers)()), whole)
    return whole, told


def _well(code: int) -> None:
    assert code == 0


def assert_killed_anywhere(
    shop: Path, act: str, papers: Path, beside: Path, steps: Iterable[Touch], whole: Path
) -> int:
    """Killed before each of the steps and typed once more: recorded once. How many kills."""
    before, behind = recorded(shop), recorded(whole)
    staged = run_git(shop, "diff", "--cached", "--name-status")
    count = 0
    for step in steps:
        there = copied(shop, _fresh(beside, "killed"))
        assert killed_at(doing(there, act, papers), step.number), step
        finished = recorded(there).keys() == behind.keys() and not noted(there)
        assert finished or doing(there, act, papers)() == 0, step
        assert recorded(there).keys() == behind.keys(), step
        assert_sound(there, before)
        assert_git_whole(there, staged)
        assert run(there, "verify") == 0, step
        count += 1
    return count


def _fresh(beside: Path, name: str) -> Path:
    place = beside / name
    shutil.rmtree(place, ignore_errors=True)
    place.mkdir()
    return place
