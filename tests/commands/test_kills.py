"""A traveller before an act that is a folder and files together, in; the act killed at a random
instant, and the record wholly before it or wholly behind it, out."""

from __future__ import annotations

import random
import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.record import recover, traveller
from tests.commands.changing import revise
from tests.commands.conftest import copied
from tests.commands.test_commands import approve, run
from tests.commands.test_slips import dispose, entered, slip
from tests.record.proving import assert_whole, killed

ON = ("--on", "2026-11-26", "--stamp")
ACTS = ("replace", "rework", "adopt")


def ready(shop: Path, act: str) -> None:
    """The shop as it is on the moment before the act."""
    if act == "rework":
        entered(shop, {"10 thickness": "0.96"})
        assert slip(shop) == 0
    elif act == "adopt":
        revise(shop)
        approve(shop, "T6-P-0120", "2026-11-26")


def doing(shop: Path, act: str) -> Callable[[], int]:
    if act == "replace":
        return lambda: run(shop, "replace", "A-0001", "--why", "Lost.", *ON, "LQ1")
    if act == "rework":
        return lambda: dispose(shop, "NC-A-0001", "rework")
    words = ("--decision", "adopt", "--done", "0", "--why", "Not begun.")
    return lambda: run(shop, "decide", "A-0001", *words, *ON, "INS2")


def kinds(shop: Path) -> list[str]:
    return [str(each.tree["act"]) for each in traveller(shop, "A-0001").acts]


def kills(shop: Path, act: str, count: int, seed: int) -> int:
    """So many kills of one act, each on a copy of the shop; how many came before its end."""
    chance = random.Random(seed)
    ready(shop, act)
    before = kinds(shop)
    whole = copied(shop, _fresh(shop, "whole"))
    start = time.perf_counter()
    assert doing(whole, act)() == 0
    longest = 1.1 * (time.perf_counter() - start)
    behind = kinds(whole)
    assert len(behind) == len(before) + 1
    hit = 0
    for number in range(count):
        place = _fresh(shop, str(number))
        there = copied(shop, place)
        hit += killed(doing(there, act), chance, longest)
        recover(there, "A")
        assert_whole(there)
        assert kinds(there) in (before, behind)
        if kinds(there) == before:
            assert doing(there, act)() == 0
        assert kinds(there) == behind
        assert _names(there) == _names(whole)
        assert run(there, "verify") == 0
        shutil.rmtree(place)
    return hit


def _fresh(shop: Path, name: str) -> Path:
    place = shop.parent / f"kill-{name}"
    place.mkdir()
    return place


def _names(shop: Path) -> set[str]:
    """What is recorded, but for names that hang on nothing but the order of acts."""
    output = shop / "output"
    return {str(each.relative_to(output)) for each in output.rglob("*") if each.is_file()}


@pytest.mark.parametrize("act", ACTS)
def test_an_act_of_a_folder_and_files_that_is_killed_is_done_wholly_or_not(issued, act, capsys):
    assert kills(issued, act, 4, seed=3) > 0
