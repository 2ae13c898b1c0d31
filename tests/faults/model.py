"""What a run did to the disk, step by step, in; the disks that a power cut may leave behind, out.

A small model of a file system that promises no more than POSIX does: what was written to a file is
on the disk when the file was flushed; a name that was made, moved or removed is on the disk when
its folder was flushed. What was not flushed may be there, or not, in whatever order: a later change
without an earlier one, a name without the content, half of the content. A rename is one step.
"""

from __future__ import annotations

import os
import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path


@dataclass(frozen=True)
class Step:
    """One change. name: make (a file with its content), write (the whole content of a file as it is
    then), mkdir, rename, link, remove, flush. safe: the content was flushed before the next step."""

    name: str
    path: str
    to: str = ""
    content: bytes = b""
    safe: bool = False


@dataclass
class Node:
    """A file or a folder; kept is what the disk is sure to hold of it."""

    folder: bool
    made: int
    content: bytes = b""
    kept: bytes = b""
    names: dict[str, Node] = field(default_factory=dict)
    kept_names: dict[str, Node] = field(default_factory=dict)


Entry = tuple[Node, str, "Node | None"]  # in this folder, under this name, stands that now


@dataclass
class Disk:
    """Everything below one folder. waiting: changes of names that no flush has made sure of."""

    root: Node
    waiting: list[tuple[Entry, ...]] = field(default_factory=list)
    count: int = 0

    def at(self, path: str) -> Node:
        node = self.root
        for part in Path(path).parts:
            node = node.names[part]
        return node

    def _place(self, path: str) -> tuple[Node, str]:
        there = Path(path)
        return self.at(str(there.parent)), there.name

    def _change(self, *entries: Entry) -> None:
        for folder, name, node in entries:
            if node is None:
                folder.names.pop(name, None)
            else:
                folder.names[name] = node
        self.waiting.append(entries)

    def _new(self, folder: bool, content: bytes = b"") -> Node:
        self.count += 1
        return Node(folder, self.count, content)

    def do(self, step: Step) -> None:
        if step.name == "flush":
            self._flush(self.at(step.path))
        elif step.name == "write":
            self.at(step.path).content = step.content
        elif step.name in ("make", "mkdir"):
            made = self._new(step.name == "mkdir", step.content)
            if step.safe:
                made.kept = made.content
            self._change((*self._place(step.path), made))
        elif step.name == "remove":
            self._change((*self._place(step.path), None))
        elif step.name == "link":
            self._change((*self._place(step.to), self.at(step.path)))
        else:
            moved = self.at(step.path)
            self._change((*self._place(step.path), None), (*self._place(step.to), moved))

    def _flush(self, node: Node) -> None:
        if not node.folder:
            node.kept = node.content
            return
        still = []
        for change in self.waiting:
            if any(folder is node for folder, _, _ in change):
                _keep(change)
            else:
                still.append(change)
        self.waiting = still


def _keep(change: tuple[Entry, ...]) -> None:
    for folder, name, node in change:
        if node is None:
            folder.kept_names.pop(name, None)
        else:
            folder.kept_names[name] = node


def read(place: Path) -> Disk:
    """A folder as it stands, all of it surely on the disk."""
    disk = Disk(Node(True, 0))
    known: dict[tuple[int, int], Node] = {}

    def fill(node: Node, folder: Path) -> None:
        for each in sorted(folder.iterdir()):
            if each.is_dir():
                made = disk._new(True)
                fill(made, each)
            else:
                told = each.stat()
                made = known.get((told.st_dev, told.st_ino)) or disk._new(False, each.read_bytes())
                made.kept = made.content
                known[told.st_dev, told.st_ino] = made
            node.names[each.name] = node.kept_names[each.name] = made

    fill(disk.root, place)
    return disk


@dataclass(frozen=True)
class Cut:
    """What became of all that was not flushed. names: the chance that a change of a name is on the
    disk; content: whole, none (as long as no byte of it were there), half, or any."""

    called: str
    names: float
    content: str
    seed: int = 0


CUTS = (
    Cut("all that was not flushed is lost", 0.0, "kept"),
    Cut("names are there, contents are empty", 1.0, "none"),
    Cut("names are there, contents are torn", 1.0, "half"),
    Cut("names and lengths are there, all bytes are zero", 1.0, "zeros"),
    Cut("all is there, as after a kill", 1.0, "whole"),
)
"""The corners."""


def by_chance(seed: int) -> Cut:
    """Some of it is there, whatever came first."""
    return Cut(f"some of it is there, {seed}", 0.5, "any", seed)


def left_behind(disk: Disk, cut: Cut, place: Path) -> None:
    """Write the disk that the cut leaves into a new folder. The disk is used up by that."""
    chance = random.Random(cut.seed)
    for change in disk.waiting:
        if chance.random() < cut.names:
            _keep(change)
    links: dict[int, Path] = {}
    begun = 1_000_000_000  # seconds; a clock that goes a second a node, so that order shows

    def write(node: Node, there: Path) -> None:
        there.mkdir()
        for name, each in node.kept_names.items():
            if each.folder:
                write(each, there / name)
            elif id(each) in links:
                os.link(links[id(each)], there / name)
            else:
                (there / name).write_bytes(_content(each, cut, chance))
                os.utime(there / name, (begun + each.made, begun + each.made))
                links[id(each)] = there / name

    write(disk.root, place)


def _content(node: Node, cut: Cut, chance: random.Random) -> bytes:
    if node.content == node.kept:
        return node.kept
    how = (
        chance.choice(("kept", "none", "half", "whole", "zeros"))
        if cut.content == "any"
        else cut.content
    )
    grown = node.content.startswith(node.kept)
    rest = node.content[len(node.kept) :] if grown else b""
    return {
        "kept": node.kept,
        "none": node.kept if grown else b"",
        "half": node.kept + rest[: len(rest) // 2] if grown else node.content[: len(node.content) // 2],
        "zeros": node.kept + bytes(len(rest)) if grown else bytes(len(node.content)),
        "whole": node.content,
    }[how]  # fmt: skip


def after(before: Path, steps: list[Step], moment: int, cut: Cut, place: Path) -> None:
    """The disk where the power goes behind so many steps."""
    disk = read(before)
    for step in steps[:moment]:
        disk.do(step)
    left_behind(disk, cut, place)


# --- what git did, seen from outside ------------------------------------------------------------

Seen = Mapping[str, tuple[int, bytes] | None]
"""path -> its number and content; None for a folder."""


def seen(place: Path) -> Seen:
    """All that stands below a folder."""
    found: dict[str, tuple[int, bytes] | None] = {}
    for each in sorted(place.rglob("*")):
        shown = str(each.relative_to(place))
        try:
            found[shown] = None if each.is_dir() else (each.stat().st_ino, each.read_bytes())
        except FileNotFoundError:
            continue
    return found


def steps_of_git(before: Seen, behind: Seen, safe: bool) -> Iterator[Step]:
    """What a run of git did: folders and files with their content first, beside; then the diary;
    then the names. safe: git was told to flush what it writes; its diary it never does."""
    fresh = [path for path in behind if path not in before]
    yield from (Step("mkdir", path) for path in fresh if behind[path] is None)
    renames = []
    for path, told in behind.items():
        was = before.get(path)
        if told is None or told == was or (was and was[0] == told[0]):
            continue
        beside = (
            f"{path}.lock" if "objects/" not in path else f"{Path(path).parent}/tmp_obj_{told[0]}"
        )
        if _is_diary(path):
            yield Step("make", path, content=told[1])
            continue
        yield Step("make", beside, content=told[1], safe=safe)
        renames.append(Step("rename", beside, path))
    moved = any("refs/" in each.to for each in renames)
    if moved:
        yield Step("make", ".git/HEAD.lock")
    for path, told in behind.items():
        was = before.get(path)
        if told and was and told != was and told[0] == was[0]:
            yield Step("write", path, content=told[1])
    yield from renames
    if moved:
        yield Step("remove", ".git/HEAD.lock")
    yield from (Step("remove", path) for path in reversed(before) if path not in behind)


def _is_diary(path: str) -> bool:
    return path.startswith(".git/logs/")
