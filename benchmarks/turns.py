"""Things to do, in; how long each took, out, all measured in turns on one machine.

On a machine that has other work beside, one thing after the other is measured on two machines. In
turns each has the same share of good and bad moments, so that their ratios hold.
"""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path


def as_installed(room: Path) -> dict[str, str]:
    """The environment of a new process as users have it: Python keeps what it compiled, here in
    this room, whatever the environment of the benchmark says."""
    kept = {name: told for name, told in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPYCACHEPREFIX": str(room)}


@dataclass(frozen=True)
class Took:
    """Milliseconds by the clock on the wall and of the processor, and the least by the wall."""

    wall: float
    processor: float
    least: float


@dataclass
class Watch:
    """Gathers what each named thing took, each time it is done."""

    wall: dict[str, list[float]] = field(default_factory=dict)
    processor: dict[str, list[float]] = field(default_factory=dict)

    @contextmanager
    def over(self, name: str) -> Iterator[None]:
        """Time what is done inside."""
        wall, processor = time.perf_counter(), time.process_time()
        yield
        self.add(name, time.perf_counter() - wall, time.process_time() - processor)

    def add(self, name: str, wall: float, processor: float) -> None:
        """Note what something took, in seconds."""
        self.wall.setdefault(name, []).append(wall * 1000)
        self.processor.setdefault(name, []).append(processor * 1000)

    def took(self, *names: str) -> Took:
        """The medians over all turns, of several names done one after the other."""
        wall, processor = (
            [sum(turn) for turn in zip(*(of[name] for name in names), strict=True)]
            for of in (self.wall, self.processor)
        )
        return Took(statistics.median(wall), statistics.median(processor), min(wall))


def in_turns(acts: Mapping[str, Callable[[], object]], runs: int) -> Watch:
    """Do all acts so many times, one after the other in each turn, after a turn to warm up."""
    for act in acts.values():
        act()
    watch = Watch()
    for _ in range(runs):
        for name, act in acts.items():
            with watch.over(name):
                act()
    return watch


def table(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> str:
    """Rows as a Markdown table, ready to paste."""
    lines = [heads, ("---",) * len(heads), *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)
