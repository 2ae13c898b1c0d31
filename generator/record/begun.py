"""A work tree, in; the acts that killed runs left begun in it, and what of them stands there, out.
Nothing here writes: any act of the same desk finishes them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from generator.findings import Finding, Place, Refusal
from generator.record.act import Note, kept
from generator.record.desk import Desk
from generator.record.git import WorkTree, begins, opened
from generator.record.history import SERIAL
from generator.record.locks import ROOM
from generator.record.register import grown, rest

ON_TRAVELLER = re.compile(rf"output/(?:issued|completed)/({SERIAL.pattern})/")


@dataclass(frozen=True)
class Begun:
    """Acts that are decided and not wholly there.

    acts: by the letters of their desks. files: paths that hold what they are to hold, or a part of
    it under a passing name. lists: those of which git lacks lines -> what is read in their
    place, nothing where it has no such list.
    """

    acts: Mapping[str, Note] = field(default_factory=dict)
    files: frozenset[str] = frozenset()
    lists: Mapping[str, bytes] = field(default_factory=dict)

    @property
    def there(self) -> set[str]:
        """The files of the acts that are whole."""
        return {path for note in self.acts.values() for path in note.blobs} & self.files

    @property
    def blobs(self) -> dict[str, str]:
        """What git is to hold of the acts: path -> name of its content."""
        return {path: blob for note in self.acts.values() for path, blob in note.blobs.items()}

    def findings(self) -> Iterator[Finding]:
        """A line for each act."""
        for desk, note in self.acts.items():
            place = Place(note.folder or min(note.blobs))
            right = f"any act of desk {desk} finishes it"
            yield Finding(place, "begun", f"{note.title} is begun: a run was stopped in it", right)


NOTHING = Begun()


def begun_in(tree: WorkTree) -> Begun:
    """What is begun in a work tree: an act at most of each desk."""
    acts = {}
    for file in sorted((tree.own / ROOM).glob("act-[A-Z].json")):
        note = kept(file)
        if note is not None and note.prefix in (None, tree.prefix):  # not of another workshop
            acts[file.stem[-1]] = note
    files: set[str] = set()
    lists: dict[str, bytes] = {}
    for desk, note in ((Desk(tree, letter), note) for letter, note in acts.items()):
        files.update(_files(desk, note))
        lists |= _lists(desk, note)
    return Begun(acts, frozenset(files), lists)


def _files(desk: Desk, note: Note) -> Iterator[str]:
    for path, blob in note.blobs.items():
        if _holds(desk.tree.folder / path, blob):
            yield path
        yield f"{path}.new"
        yield from (f"{above}/" for above in PurePosixPath(path).parents)  # while it is empty
    if note.folder:
        yield desk.unfinished(note.folder).relative_to(desk.tree.folder).as_posix()


def _holds(file: Path, blob: str) -> bool:
    if file.is_symlink() or not file.is_file():
        return False
    content = file.read_bytes()
    return begins(content, blob, len(content))


def _lists(desk: Desk, note: Note) -> Iterator[tuple[str, bytes]]:
    """The lists that lack lines, as they are to be read: with them where somebody committed those
    of the register, so that the act counts, else without."""
    register = note.added[desk.register_path].encode()
    told = not rest(desk.committed(desk.register_path), register)
    for path, lines in note.added.items():
        standing, committed = desk.written(path), desk.committed(path)
        ours = rest(committed, lines.encode())
        if ours and grown(standing, committed, ours):
            yield path, committed + (ours if told else b"")


def begun_on(folder: Path) -> dict[str, str]:
    """The travellers on which an act is begun, each with what to do. Nothing outside of git."""
    try:
        begun = begun_in(opened(folder))
    except Refusal:
        return {}
    found = {}
    for desk, note in begun.acts.items():
        for on in filter(None, map(ON_TRAVELLER.match, note.blobs)):
            found[on[1]] = f"{note.title} is begun; any act of desk {desk} finishes it"
    return found
