"""A seeded tenth of the long proofs of the record: kills at random instants, many at once, in; a
record without a loss, a twin or a gap, out."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from generator.record import Act, perform, recover, text_of
from tests.record.desk import issue
from tests.record.proving import assert_whole, killed

TOP = Path(__file__).parents[2]


def enter(workshop: Path, serial: str) -> None:
    """One act on a traveller, as `enter` records it."""

    def make(at):
        path = at.next_file(f"output/completed/{serial}", "result")
        tree = {"act": "result", "traveller": serial, "on": "2026-11-26", "by": "LQ1",
                "boxes": {}}  # fmt: skip
        return Act(path, f"Enter results of {serial}", {path: text_of(tree)})

    perform(workshop, "A", make)


def kills(workshop: Path, count: int, seed: int) -> tuple[int, int]:
    """So many kills, an issue or an entry each; how many hit, and how many of those were finished
    by the next run."""
    chance = random.Random(seed)
    issue(workshop)
    start = time.perf_counter()
    issue(workshop)
    longest = 1.2 * (time.perf_counter() - start)
    hit = finished = 0
    for _ in range(count):
        serial = f"A-{len(list((workshop / 'output/issued').iterdir())):04d}"
        if chance.random() < 0.5:
            hit += killed(lambda: issue(workshop), chance, longest)
        else:
            hit += killed(lambda s=serial: enter(workshop, s), chance, longest)
        finished += bool(recover(workshop, "A"))
        assert_whole(workshop)
    issue(workshop)
    assert_whole(workshop)
    return hit, finished


def test_twenty_five_kills_at_random_instants_leave_nothing_half_done(workshop):
    hit, _ = kills(workshop, 25, seed=5)
    assert hit > 5


def at_once(workshop: Path, runs: int, each: int) -> None:
    """So many processes, each issuing so many travellers."""
    program = (
        "import sys; from pathlib import Path; from tests.record.desk import issue\n"
        f"for _ in range({each}): issue(Path(sys.argv[1]))"
    )

    def one(_: int) -> None:
        line = [sys.executable, "-c", program, str(workshop)]
        subprocess.run(line, cwd=TOP, check=True, capture_output=True)

    with ThreadPoolExecutor(runs) as pool:
        list(pool.map(one, range(runs)))
    assert len(assert_whole(workshop)) == runs * each


def test_eight_processes_at_once_issue_twenty_four_travellers(workshop):
    at_once(workshop, 8, 3)
