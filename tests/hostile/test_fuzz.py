"""A seeded part of the fuzz run of `make prove`: nothing that is typed breaks the program."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.hostile import records, targets
from tests.hostile.fuzzing import Target, fuzz

# name -> how the target is made, inputs here, inputs in `make prove`
RUNS: dict[str, tuple[Callable[[], Target], int, int]] = {
    "formulas": (lambda: targets.FORMULA, 2_000, 110_000),
    "texts": (lambda: targets.TEXT, 400, 30_000),
    "sheets": (targets.sheet_target, 500, 25_000),
    "leaves": (lambda: targets.LEAF, 600, 20_000),
    "YAML": (targets.reading_target, 400, 10_000),
    "results": (targets.result_target, 150, 5_000),
    "lists": (records.list_target, 60, 1_500),
    "acts": (records.act_target, 60, 1_500),
    "processes": (targets.process_target, 40, 2_000),
}


@pytest.mark.parametrize("name", RUNS)
def test_nothing_that_is_damaged_breaks_the_program(name):
    make, few, _ = RUNS[name]
    told = fuzz(make(), few, seed=1)
    assert not told.broken, told.report()
    assert told.inputs >= few


def test_the_fuzzer_finds_what_is_broken():
    """A program that breaks at one word is broken within a few hundred damaged texts."""

    def run(text: str) -> str:
        if "mm" in text and text.endswith("±"):
            raise KeyError(text)
        return "whole"

    told = fuzz(Target("broken", run, ("1.2 mm",), ("±", "mm"), ()), 2_000, seed=1)
    assert len(told.broken) == 1
    assert "KeyError" in told.report()


def test_the_fuzzer_keeps_what_reaches_new_lines():
    """Digits one behind the other are found because each one that fits is kept."""
    told = fuzz(Target("stairs", _stairs, ("",), ("7", "3", "9"), ("../tests/hostile",)), 3_000, 1)
    assert "top" in told.answers


def _stairs(text: str) -> str:
    if text[:1] != "7":
        return "ground"
    if text[1:2] != "3":
        return "first"
    if text[2:3] != "9":
        return "second"
    return "top"


def test_one_seed_is_one_run():
    one, other = (fuzz(targets.FORMULA, 500, seed=5) for _ in range(2))
    assert (one.answers, one.kept, one.lines) == (other.answers, other.kept, other.lines)


def test_a_hang_is_told(monkeypatch):
    monkeypatch.setattr("tests.hostile.fuzzing.HANGS", 1)

    def run(text: str) -> str:
        while True:
            pass

    told = fuzz(Target("hangs", run, ("a",), ("b",), ()), 0, seed=1)
    assert "TimeoutError" in told.report()
