"""All processes of a workshop by file in; faults that only the set shows, by file, out."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from generator.findings import Fault, near_word
from generator.process import Process


def set_faults(
    processes: Mapping[str, Process], unsound: Collection[str] = (), all_read: bool = True
) -> Iterator[tuple[str, Fault]]:
    """Duplicate numbers, prerequisites that nobody wrote, prerequisites in a circle.

    processes: file as shown -> process; unsound: numbers of processes with faults of their own.
    Where a file could not be read, nobody knows which number it has: no prerequisite is missed.
    """
    first: dict[str, str] = {}
    for file, process in sorted(processes.items()):
        if process.number in first:
            wrong = f"process {process.number} is also {first[process.number]}"
            yield file, Fault(("process",), "repeated", wrong, "a number of its own")
        first.setdefault(process.number, file)
    by_number = {processes[file].number: processes[file] for file in first.values()}
    for file, process in sorted(processes.items()):
        if all_read:
            yield from ((file, fault) for fault in _unwritten(process, [*by_number, *unsound]))
    yield from _circles(first, by_number)


def _unwritten(process: Process, written: Collection[str]) -> Iterator[Fault]:
    for i, needed in enumerate(process.prerequisites):
        if needed.process and needed.process not in written:
            near = near_word(needed.process, written)
            right = (f"{near}? " if near else "") + "A process here, or evidence: with its number"
            wrong = f"prerequisite {needed.process} is no process of this workshop"
            yield Fault(("prerequisites", i, "process"), "prerequisite", wrong, right)


def _circles(
    first: Mapping[str, str], by_number: Mapping[str, Process]
) -> Iterator[tuple[str, Fault]]:
    """Each circle once, told at the process in it that comes first."""
    told: set[frozenset[str]] = set()
    for number in sorted(by_number):
        loop = _loop_from(number, by_number)
        if loop and frozenset(loop) not in told:
            told.add(frozenset(loop))
            needs = by_number[loop[0]].prerequisites
            at = next(i for i, n in enumerate(needs) if n.process == loop[1 % len(loop)])
            wrong = "prerequisites run in a circle: " + " needs ".join([*loop, loop[0]])
            fault = Fault(
                ("prerequisites", at, "process"), "circle", wrong, "one of them without the other"
            )
            yield first[loop[0]], fault


def _loop_from(start: str, by_number: Mapping[str, Process]) -> list[str]:
    """The way from a process back to itself, or nothing."""
    trail: list[list[str]] = [[start]]
    seen: set[str] = set()
    while trail:
        way = trail.pop(0)
        for needed in by_number[way[-1]].prerequisites:
            if needed.process == start:
                return way
            if needed.process in by_number and needed.process not in seen:
                seen.add(needed.process)
                trail.append([*way, needed.process])
    return []
