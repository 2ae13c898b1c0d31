"""At least 200,000 damaged inputs, each answered within two seconds of the processor; `make test`
asks a seeded part of them in tests/hostile."""

from __future__ import annotations

import resource

import pytest

from tests.hostile import boxes, records
from tests.hostile.fuzzing import fuzz
from tests.hostile.test_fuzz import RUNS

pytestmark = pytest.mark.prove

# What `make test` has as sweeps in test_boxes: each input is a whole traveller that is judged.
JUDGED = {
    "boxes": (boxes.box_target, 0, 1_500),
    "boxes of the demo": (boxes.demo_target, 0, 600),
    "words": (records.words_target, 0, 1_000),
}
EVERY = RUNS | JUDGED
SECONDS, MEMORY = 2, 200 * 1024  # of one input, of the processor; kB that a whole run may add


def test_the_runs_are_two_hundred_thousand_inputs():
    assert sum(many for _, _, many in RUNS.values()) >= 200_000


@pytest.mark.parametrize("name", EVERY)
def test_nothing_that_is_damaged_breaks_the_program(name, capsys):
    make, _, many = EVERY[name]
    target = make()
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    told = fuzz(target, many, seed=2026)
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    with capsys.disabled():
        print(f"\n{told}, {grown / 1024:.0f} MiB")
    assert not told.broken, told.report()
    assert told.slowest < SECONDS, told.report()
    assert grown < MEMORY
