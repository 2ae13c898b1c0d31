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
from generator.record.lacking import lines_lacking
from generator.record.locks import ROOM


def must_be_finished_here(at: Desk, left: Note) -> None:
    """Refusal where the act was begun for another folder of the work tree, where its files are
    recorded with other contents by now, or where the branch lacks the desk's last act."""
    if left.prefix is not None and left.prefix != at.tree.prefix:
        raise _begun_in(left, left.prefix, at)
    committed = at.committed(at.register_path)
    rest = lines_lacking(at, left, at.register_path)
    if not rest:
        return
    ours = left.added[at.register_path].encode()
    before = committed[: len(committed) + len(rest) - len(ours)]
    for line in ours.splitlines(keepends=True):
        if line[line.index(b"  ") :] in before:
            wrong = f"{left.title} was begun here, and was recorded otherwise meanwhile"
            raise Refusal("record", wrong, f"remove {at.note}, then the act once more")
    if not at.moved_alone(before + ours):
        at.must_hold_last(before)


def _begun_in(left: Note, prefix: str, at: Desk) -> Refusal:
    """The refusal of an act that was begun in another workshop, which may have been moved since."""
    there, here = prefix or "the top folder", at.tree.prefix or "the top folder"
    wrong = f"{left.title} was begun in {there} of this repository"
    top = Path(at.tree.one("rev-parse", "--show-toplevel"))
    if (top / prefix / "processes").is_dir():
        return Refusal("record", wrong, "any act there finishes it; a desk letter each")
    right = f"git mv {here} back to {there}, git commit, and any act there finishes it"
    return Refusal("record", wrong, right)


def none_elsewhere(at: Desk) -> None:
    """Refusal where an act of the desk is begun in another work tree of the repository."""
    notes = [at.tree.common / ROOM / at.note.name]
    notes += sorted((at.tree.common / "worktrees").glob(f"*/{ROOM}/{at.note.name}"))
    for note in notes:
        left = kept(note) if note != at.note else None
        if left is not None:
            where = _work_tree_of(note.parents[1])
            wrong = f"{left.title} of desk {at.letter} is begun in {where}"
            right = "any act there finishes it; git worktree prune where that folder is gone"
            raise Refusal("record", wrong, right)


def _work_tree_of(own: Path) -> str:
    """A work tree in words, from git's folder for it. Of the first one git knows that folder alone:
    `.git` may be a link to it, or a file that names it."""
    back = own / "gitdir"
    if not back.exists():
        return f"the first work tree, of which git's folder is {own}"
    file = own / os.fsdecode(back.read_bytes()).strip()  # newer ones may write it from there
    return f"the work tree {os.path.normpath(file.parent)}"
