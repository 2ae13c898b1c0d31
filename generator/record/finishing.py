"""A desk and an act of it that a killed run left begun, in; a refusal where it must not be finished
here, out.

Whoever finishes an act on a branch that lacks the desk's last one, or takes a number while it is
begun in another work tree of the same repository, gives one number to two travellers.
"""

from __future__ import annotations

import os
from pathlib import Path

from generator.findings import Refusal
from generator.record.act import Note, kept
from generator.record.desk import Desk
from generator.record.locks import ROOM


def must_be_finished_here(at: Desk, left: Note) -> None:
    """Refusal where the act was begun for another folder of the work tree, where its files are
    recorded with other contents by now, or where the branch lacks the desk's last act."""
    if left.prefix is not None and left.prefix != at.tree.prefix:
        wrong = f"{left.title} was begun in {left.prefix or 'the top folder'} of this repository"
        raise Refusal("record", wrong, "any act there finishes it; a desk letter each")
    committed = at.committed(at.register_path)
    lines = left.added[at.register_path]
    if lines.encode() in committed:
        return
    for line in lines.splitlines():
        path = line.partition("  ")[2]
        if f"  {path}\n".encode() in committed:
            wrong = f"{left.title} was begun here, and was recorded otherwise meanwhile"
            raise Refusal("record", wrong, f"remove {at.note}, then the act once more")
    if not at.moved_alone(committed + lines.encode()):
        at.must_hold_last(committed)


def none_elsewhere(at: Desk) -> None:
    """Refusal where an act of the desk is begun in another work tree of the repository."""
    notes = [at.tree.common / ROOM / at.note.name]
    notes += sorted((at.tree.common / "worktrees").glob(f"*/{ROOM}/{at.note.name}"))
    for note in notes:
        left = kept(note) if note != at.note else None
        if left is not None:
            where = _work_tree_of(note.parents[1])
            wrong = f"{left.title} of desk {at.letter} is begun in the work tree {where}"
            right = "any act there finishes it; git worktree prune where that folder is gone"
            raise Refusal("record", wrong, right)


def _work_tree_of(own: Path) -> Path:
    """The folder of a work tree, from git's folder for it."""
    back = own / "gitdir"
    return Path(os.fsdecode(back.read_bytes()).strip()).parent if back.exists() else own.parent
