"""Nothing in; how check and draft do in libraries of 10 to 10,000 processes, as tables, out.

Run by `make bench-library`; it wants half an hour and some gigabytes. Up to COLD processes, or the
number of that name in the environment, everything is checked and drawn. Larger libraries take over
what is kept of processes that are as large, with stand-ins for their prints: as many files, of a
few bytes. What is asked of them is what is measured: reading, sums, what is kept, and the looks of
every file.
"""

from __future__ import annotations

import itertools
import os
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import yaml

from benchmarks.turns import as_installed
from benchmarks.workshop import number_of, write_workshop
from generator.library.cores import on_all_cores
from generator.library.deciders import deciders
from generator.library.kept import Kept, Print, keep, recall
from generator.library.standing import looks_of, sums_of

SIZES = (10, 100, 1_000, 10_000)
COLD = int(os.environ.get("COLD", "1000"))
AGAIN = 5
CHANGES = 3


@dataclass(frozen=True)
class Run:
    """Seconds on the clock and of all cores, and the most memory of its first process, in kB."""

    wall: float
    cores: float
    memory: int


def main() -> int:
    sizes = [int(word) for word in sys.argv[1:]] or list(SIZES)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rows: list[Row] = []
        for size in sizes:
            rows.append(_measured(folder, size, rows[-1].size if rows else 0))
            print(f"{size} done", file=sys.stderr, flush=True)
        _printed(rows)
    return 0


@dataclass(frozen=True)
class Row:
    """What was measured of one library; nothing of a cold run where there was none."""

    size: int
    parsed: float
    start: float
    first: Run
    cold: Run | None
    warm: Run
    all: Run | None
    again: Run
    one: Run
    alone: Run


def _measured(folder: Path, size: int, before: int) -> Row:
    files = write_workshop(folder, size)
    if not before:
        _run(folder, "check", "--whole", "--anew")  # Python compiles what it has not compiled yet
    parsed = min(_parsed(folder, files) for _ in range(3))
    first = _best(folder, "check", "--anew")
    cold = everything = None
    if size <= COLD:
        cold = _run(folder, "check", "--whole", "--anew")
        everything = _run(folder, "draft", "--all", "--anew")
    else:
        _stood_in(folder, files, before)
    warm = _best(folder, "check", "--whole")
    again = _best(folder, "draft", "--all")
    start = min(_run(folder, "--help").wall for _ in range(AGAIN))
    changes = [_after_one_change(folder, files) for _ in range(CHANGES)]
    one, alone = (min(runs, key=lambda run: run.wall) for runs in zip(*changes, strict=True))
    return Row(size, parsed, start, first, cold, warm, everything, again, one, alone)


def _run(folder: Path, *words: str) -> Run:
    """One command in a process of its own."""
    begun = time.perf_counter()
    command = [sys.executable, "-m", "generator", "--workshop", str(folder), *words]
    nowhere = [(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)]
    around = as_installed(folder / ".compiled")
    process = os.posix_spawn(sys.executable, command, around, file_actions=nowhere)
    _, status, used = os.wait4(process, 0)
    if status:
        raise SystemExit(f"{' '.join(words)} in a library of the benchmark: {status}")
    wall = time.perf_counter() - begun
    return Run(wall, used.ru_utime + used.ru_stime, used.ru_maxrss)


def _best(folder: Path, *words: str) -> Run:
    return min((_run(folder, *words) for _ in range(AGAIN)), key=lambda run: run.wall)


def _after_one_change(folder: Path, files: Sequence[str]) -> tuple[Run, Run]:
    """A draft of all after one process got another reason, and one of that process alone after it
    got a third; then the old one again, unmeasured."""
    shown = files[min(len(files), 7) - 1]
    file = folder / shown
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("why: ", "why: Again. ", 1), encoding="utf-8")
    one = _run(folder, "draft", "--all")
    file.write_text(text.replace("why: ", "why: Once more. ", 1), encoding="utf-8")
    alone = _run(folder, "draft", shown)
    file.write_text(text, encoding="utf-8")
    _run(folder, "draft", "--all")
    return one, alone


def _parsed(folder: Path, files: Sequence[str]) -> float:
    """Seconds for libyaml, as fast as Python gets it to: yaml.load by CSafeLoader, on all cores."""
    begun = time.perf_counter()
    parts = [[str(folder / each) for each in files[i::2]] for i in range(2)]
    sum(on_all_cores(_load, parts, least=2))
    return time.perf_counter() - begun


def _load(files: Sequence[str]) -> int:
    for file in files:
        with open(file, "rb") as opened:
            yaml.load(opened.read(), Loader=yaml.CSafeLoader)
    return len(files)


def _stood_in(folder: Path, files: Sequence[str], before: int) -> None:
    """Keep of each process behind the first `before` what is kept of one of these."""
    sums = deciders(folder)
    models: list[Kept] = []
    for shown in files[:before]:
        kept = recall(folder, shown, sums.key(shown, (folder / shown).read_bytes()), True)
        assert kept is not None
        models.append(kept)
    for n, shown in enumerate(files[before:], start=before + 1):
        model = models[(n - 1) % len(models)]
        number = number_of(n)
        place = folder / "output" / "draft" / number
        place.mkdir()
        print_of = model.prints[model.verdict.number]
        for name in print_of.sums:
            (place / name).write_text(name)
        looks, own = looks_of(str(place)), sums_of(str(place))
        assert looks is not None and own is not None
        verdict = replace(model.verdict, shown=shown, number=number)
        key = sums.key(shown, (folder / shown).read_bytes())
        keep(folder, shown, Kept(key, verdict, {number: Print(print_of.made_with, looks, own)}))


def _cells(row: Row) -> Iterator[str]:
    yield f"{row.size:,}"
    yield f"{row.parsed:.2f} s"
    for run in (row.first, row.cold, row.warm):
        yield f"{run.wall:.2f} s" if run else ""
        yield f"{run.wall / row.parsed:.2f}" if run else ""
    yield f"{row.all.wall:.1f} s, {row.all.memory / 1024:.0f} MB" if row.all else ""
    for run in (row.again, row.one, row.alone):
        yield f"{run.wall:.2f} s"
    yield f"{row.again.memory / 1024:.1f} MB"


def _printed(rows: Sequence[Row]) -> None:
    """The tables as they stand in DEVELOPERS.md."""
    heads = ("processes", "parse", "check", "over parse", "check --whole", "over parse",
             "the same again", "over parse", "draft all", "again", "one changed", "that one alone",
             "memory of again")  # fmt: skip
    print(f"| {' | '.join(heads)} |\n{'| --- ' * len(heads)}|")
    for row in rows:
        print(f"| {' | '.join(_cells(row))} |")
    print(f"\nstart-up (--help): {min(row.start for row in rows):.2f} s")
    for one, other in itertools.pairwise(rows):
        more = (other.size - one.size) / 1e6
        check, draft = other.warm.cores - one.warm.cores, other.again.cores - one.again.cores
        print(f"from {one.size:,} to {other.size:,}, a process more takes {check / more:.0f} µs of "
              f"a check, {draft / more:.0f} µs of a draft again, of all cores")  # fmt: skip
    first, last = rows[0], rows[-1]
    if last.size > first.size:
        grown = (last.again.memory - first.again.memory) * 1024 / (last.size - first.size)
        print(f"memory: {grown:.0f} bytes a process")


if __name__ == "__main__":
    raise SystemExit(main())
