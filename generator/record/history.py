"""A workshop folder and a serial, in; what the record holds of that traveller, in the order in
which it was written, out. Nothing here writes."""

from __future__ import annotations

import os
import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from generator.findings import Refusal
from generator.record.act import SUMS
from generator.record.desk import COMPLETED, ISSUED
from generator.record.expected import registers
from generator.record.files import quick_tree, tree_of
from generator.record.line_ends import plain
from generator.record.put_back import not_there
from generator.record.shapes import fault_of

SERIAL = re.compile(r"[A-Z]-[0-9]{4,}")
_ACT = re.compile(r"([A-Z])-([0-9]{3,})-([a-z-]+)\.yaml")
ENDS = {"close": "closed", "withdraw": "withdrawn", "replace": "replaced", "void": "void"}


@dataclass(frozen=True)
class Recorded:
    """One act on a traveller: its file seen from the workshop folder, and what that says.

    after: the acts that were there when it was written and that no other was after; None where the
    file does not say, as those of a process.
    """

    path: str
    desk: str
    number: int
    kind: str
    tree: Mapping[str, Any]

    @property
    def after(self) -> tuple[str, ...] | None:
        told = self.tree.get("after")
        return tuple(map(str, told)) if isinstance(told, list) else None


@dataclass(frozen=True)
class Traveller:
    """An issued traveller with all that was recorded of it since, the oldest first."""

    folder: Path
    serial: str

    @cached_property
    def facts(self) -> Mapping[str, Any]:
        """What facts.yaml says: who, when, revision, fingerprint, commit."""
        path = f"{ISSUED}/{self.serial}/facts.yaml"
        return dict(_in_shape(path, "facts", tree_of(self.folder / path)))

    @cached_property
    def acts(self) -> tuple[Recorded, ...]:
        return tuple(_acts(self.folder, self.serial))

    @cached_property
    def sheets(self) -> dict[str, str]:
        """The sheets as Markdown, by their kind, as they were frozen."""
        place = self.folder / ISSUED / self.serial
        files = sorted(place.glob("*.md"))
        return {each.stem: each.read_text(encoding="utf-8") for each in files}

    @property
    def heads(self) -> list[str]:
        """The acts that no other is after: what the next act is written in the knowledge of."""
        known = {path for act in self.acts for path in act.after or ()}
        return [act.path for act in self.acts if act.path not in known]

    def of_kind(self, *kinds: str) -> tuple[Recorded, ...]:
        return tuple(each for each in self.acts if each.kind in kinds)

    @property
    def status(self) -> str:
        """open, closed, withdrawn, replaced or void."""
        ends = [ENDS[each.kind] for each in self.acts if each.kind in ENDS]
        return ends[-1] if ends else "open"


def traveller(folder: Path, serial: str) -> Traveller:
    """The traveller of that serial. Refusal where there is none, or no more than its line in a
    register."""
    place = folder / ISSUED / serial
    if not SERIAL.fullmatch(serial) or not (place.is_dir() and os.listdir(place)):
        if _registered(folder, sums := f"{ISSUED}/{serial}/{SUMS}"):
            raise not_there(folder, sums)
        raise Refusal(
            "record",
            f"no traveller {serial} was issued here",
            f"a folder of {ISSUED}/, such as A-0001",
        )
    return Traveller(folder, serial)


def _registered(folder: Path, sums: str) -> bool:
    """Whether a register names the sums of a traveller."""
    row = f"  {sums}\n".encode()
    return any(row in plain((folder / path).read_bytes()) for path in registers(folder))


def acts_in(folder: Path, place: str, kinds: Collection[str] = ()) -> Iterator[Recorded]:
    """The acts whose files lie in a folder of the record, each behind those it was written after;
    where neither knew of the other, by their day, then desk and number. kinds: only those."""
    there = folder / place
    found = []
    for name in os.listdir(there) if there.is_dir() else []:
        named = _ACT.fullmatch(name)
        if named and (not kinds or named[3] in kinds):
            path = f"{place}/{name}"
            found.append((path, named[3], _in_shape(path, named[3], tree_of(there / name))))
    return in_turn(found)


def in_turn(acts: Iterable[tuple[str, str, Mapping[str, Any]]]) -> Iterator[Recorded]:
    """Acts by their path, kind and tree, each behind those it was written after."""
    found = []
    for path, kind, tree in acts:
        if named := _ACT.fullmatch(path.rpartition("/")[2]):
            found.append(Recorded(path, named[1], int(named[2]), kind, tree))
    by_day = sorted(found, key=lambda e: (str(e.tree.get("on", "")), e.desk, e.number))
    return _each_after_its_own(by_day)


def _each_after_its_own(acts: Sequence[Recorded]) -> Iterator[Recorded]:
    waiting, there = list(acts), {act.path for act in acts}
    while waiting:
        free = (a for a in waiting if not {*(a.after or ())} & there)
        act = next(free, waiting[0])  # of acts that name each other, the first: verify tells them
        waiting.remove(act)
        there.discard(act.path)
        yield act


def all_serials(folder: Path) -> list[str]:
    """The serials of all travellers in the record, desk by desk."""
    place = folder / ISSUED
    names = os.listdir(place) if place.is_dir() else []
    return _in_order(name for name in names if SERIAL.fullmatch(name))


def _in_order(serials: Iterable[str]) -> list[str]:
    return sorted(serials, key=lambda serial: (serial[0], int(serial[2:])))


def open_serials(folder: Path, registered: Mapping[str, Collection[str]]) -> list[str]:
    """The serials of the travellers that no act has ended, told by the registers: the files of ten
    thousand closed ones stay shut, and one that somebody took away, or gave an end that nobody
    recorded, is told with the open ones.

    registered: serial -> the paths that the registers name of it.
    """
    serials = {*all_serials(folder), *registered}
    return _in_order(each for each in serials if not _ended(each, registered.get(each, ())))


def _ended(serial: str, paths: Collection[str]) -> bool:
    place = f"{COMPLETED}/{serial}/"
    names = (path.removeprefix(place) for path in paths if path.startswith(place))
    return any((named := _ACT.fullmatch(name)) and named[3] in ENDS for name in names)


def acts_by_name(place: Path) -> list[tuple[str, int, str]]:
    """Desk, number and kind of the acts in a folder, told by their names alone."""
    names = os.listdir(place) if place.is_dir() else []
    found = (_ACT.fullmatch(name) for name in names)
    return [(named[1], int(named[2]), named[3]) for named in found if named]


def acts_named(folder: Path, place: str) -> Iterator[tuple[str, str, Mapping[str, Any]]]:
    """Path, kind and tree of the acts in a folder, read quickly, in the order of their numbers."""
    there = folder / place
    names = sorted(os.listdir(there)) if there.is_dir() else []
    for name in names:
        if named := _ACT.fullmatch(name):
            tree = quick_tree(there / name)
            yield f"{place}/{name}", named[3], {} if fault_of(named[3], tree) else tree


def _in_shape(path: str, kind: str, tree: Any) -> Mapping[str, Any]:
    """The same tree. Refusal where it is not of the shape that such a file is written in."""
    if wrong := fault_of(kind, tree):
        raise Refusal("record", f"{path} is no file of ours: {wrong}", f"git log -p -- {path}")
    found: Mapping[str, Any] = tree
    return found


def _acts(folder: Path, serial: str) -> Iterator[Recorded]:
    return acts_in(folder, f"{COMPLETED}/{serial}")
