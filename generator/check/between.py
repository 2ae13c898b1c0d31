"""What all processes of a workshop need of each other, by file, in; faults that only the set shows,
by file, out. It takes time by the number of processes alone, however they hang together.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from generator.findings import Fault, near_word

if TYPE_CHECKING:
    from generator.process import Process


@dataclass(frozen=True, slots=True)
class Needs:
    """The number of a process, and those of its prerequisites in their order; "" for evidence."""

    number: str
    needs: tuple[str, ...]


def needs_of(process: Process) -> Needs:
    """What a process needs of others."""
    return Needs(process.number, tuple(each.process for each in process.prerequisites))


def set_faults(
    processes: Mapping[str, Needs], unsound: Collection[str] = (), all_read: bool = True
) -> Iterator[tuple[str, Fault]]:
    """Duplicate numbers, prerequisites that nobody wrote, prerequisites in a circle.

    processes: by file as shown; unsound: numbers of processes with faults of their own.
    Where a file could not be read, nobody knows which number it has: no prerequisite is missed.
    """
    first: dict[str, str] = {}
    for file, process in sorted(processes.items()):
        if process.number in first:
            wrong = f"process {process.number} is also {first[process.number]}"
            yield file, Fault(("process",), "repeated", wrong, "a number of its own")
        first.setdefault(process.number, file)
    by_number = {processes[file].number: processes[file] for file in first.values()}
    written = dict.fromkeys([*by_number, *unsound])
    for file, process in sorted(processes.items()):
        if all_read:
            yield from ((file, fault) for fault in _unwritten(process, written))
    yield from _circles(first, by_number)


def _unwritten(process: Needs, written: Collection[str]) -> Iterator[Fault]:
    for i, needed in enumerate(process.needs):
        if needed and needed not in written:
            near = near_word(needed, written)
            right = (f"{near}? " if near else "") + "A process here, or evidence: with its number"
            wrong = f"prerequisite {needed} is no process of this workshop"
            yield Fault(("prerequisites", i, "process"), "prerequisite", wrong, right)


def _circles(
    first: Mapping[str, str], by_number: Mapping[str, Needs]
) -> Iterator[tuple[str, Fault]]:
    """Each circle once, told at the process in it that comes first."""
    told: set[frozenset[str]] = set()
    for number in sorted(_between_circles(by_number)):
        loop = _loop_from(number, by_number)
        if loop and frozenset(loop) not in told:
            told.add(frozenset(loop))
            at = by_number[loop[0]].needs.index(loop[1 % len(loop)])
            wrong = "prerequisites run in a circle: " + " needs ".join([*loop, loop[0]])
            fault = Fault(
                ("prerequisites", at, "process"), "circle", wrong, "one of them without the other"
            )
            yield first[loop[0]], fault


def _between_circles(by_number: Mapping[str, Needs]) -> set[str]:
    """The processes in a circle or on a way from one to another: what is left when again and again
    those are taken away that need nobody, and those that nobody needs."""
    needs = {n: {m for m in each.needs if m in by_number} for n, each in by_number.items()}
    needed: dict[str, set[str]] = {number: set() for number in by_number}
    for number, wanted in needs.items():
        for each in wanted:
            needed[each].add(number)
    left = set(by_number)
    for ways, back in ((needs, needed), (needed, needs)):
        free = [number for number in left if not ways[number]]
        while free:
            gone = free.pop()
            left.discard(gone)
            for each in back[gone]:
                ways[each].discard(gone)
                if not ways[each] and each in left:
                    free.append(each)
    return left


def _loop_from(start: str, by_number: Mapping[str, Needs]) -> list[str]:
    """The way from a process back to itself, or nothing."""
    trail, came = deque([start]), {start: ""}
    while trail:
        at = trail.popleft()
        for needed in by_number[at].needs:
            if needed == start:
                return _way(came, at)
            if needed in by_number and needed not in came:
                came[needed] = at
                trail.append(needed)
    return []


def _way(came: Mapping[str, str], to: str) -> list[str]:
    way = [to]
    while came[way[-1]]:
        way.append(came[way[-1]])
    return way[::-1]
