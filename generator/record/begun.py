"""A work tree, in; the acts that killed runs left begun in it, out. Nothing here writes: any act of
the same desk finishes them."""

from __future__ import annotations

from generator.record.act import Note, kept
from generator.record.git import WorkTree
from generator.record.locks import ROOM


def begun_in(tree: WorkTree) -> dict[str, Note]:
    """The acts by the letters of their desks; one at most of each."""
    found = {}
    for file in sorted((tree.own / ROOM).glob("act-[A-Z].json")):
        if note := kept(file):
            found[file.stem[-1]] = note
    return found
