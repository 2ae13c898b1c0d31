"""A decided act, in; a commit of its paths alone on the branch and the desk's ref, out."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from generator.record.act import Note
from generator.record.desk import Desk
from generator.record.disk import flush, remove
from generator.record.durable import flush_objects, flush_refs
from generator.record.git import branch, head, signature, stored
from generator.record.lacking import Lacking
from generator.record.locks import moving_refs, room
from generator.record.trees import trees_with


def commit(desk: Desk, what: Note, lacks: Lacking) -> str:
    """Commit what HEAD lacks of the files and lines of an act; the name of the commit, of HEAD
    where it lacks nothing.

    To be called with the index held. What the user staged or changed stays as it is: the tree is
    HEAD's with our paths put in, and the user's index gets our paths only. That index moves last,
    and while it is held nobody can commit from an index that lacks our files.
    """
    clear(desk)
    ours = dict(what.blobs)
    for path, lines in lacks.lines.items():
        ours[path] = stored(desk.tree, lacks.held[path] + lines)
    users = _users_index(desk, ours)
    if lacks.nothing:
        name = _seen_done(desk, what)
    else:
        lists = [ours[path] for path in what.added]
        name = _moved(desk, what, trees_with(desk.tree, ours), lists)
    os.replace(users, desk.tree.own / "index")
    flush(desk.tree.own)
    clear(desk)
    return name


def clear(desk: Desk) -> None:
    """Remove our own index files, and what a killed git left beside them."""
    for scratch in room(desk.tree).glob("index-of-*"):
        remove(scratch)


def _users_index(desk: Desk, ours: Mapping[str, str]) -> Path:
    """A copy of the user's index with our paths as they will be committed."""
    index = room(desk.tree) / "index-of-user"
    standing = desk.tree.own / "index"
    if standing.exists():
        # A second name, not a copy: git never writes into an index, it puts a new one in its place.
        os.link(standing, index)
    _put(desk, ours, index)
    return index


def _put(desk: Desk, ours: Mapping[str, str], index: Path) -> None:
    prefix = desk.tree.prefix
    entries = "".join(f"100644 {blob}\t{prefix}{path}\0" for path, blob in ours.items())
    words = ("update-index", "--add", "--replace", "-z", "--index-info")
    desk.tree.told(*words, feed=os.fsencode(entries), index=index)


def _seen_done(desk: Desk, what: Note) -> str:
    """HEAD, which holds the act already; the desk's ref may have been killed away between."""
    name = head(desk.tree)
    with moving_refs(desk.tree):
        desk.tree.told("update-ref", "-m", f"record {what.title}", desk.memory, name)
        flush_refs(desk.tree, (branch(desk.tree), desk.memory))
    return name


def _moved(desk: Desk, what: Note, trees: Sequence[str], lists: Sequence[str]) -> str:
    """Branch and desk's ref move to the new commit together or not at all.

    trees, lists: the folders and lists that are new in it, to be flushed with it; its files were
    flushed before the act was decided.
    """
    at, parent = branch(desk.tree), head(desk.tree)
    words = (*signature(desk.tree, desk.letter), "commit-tree", "-p", parent, "-F", "-", trees[-1])
    name = desk.tree.one(*words, feed=what.words.encode())
    flush_objects(desk.tree, [name, *trees, *lists])
    before = desk.tree.asked("rev-parse", "--verify", "--quiet", desk.memory)
    last = os.fsdecode(before).strip() if before else "0" * len(parent)
    moves = f"start\nupdate {at} {name} {parent}\nupdate {desk.memory} {name} {last}\ncommit\n"
    feed = os.fsencode(moves)
    with moving_refs(desk.tree):
        desk.tree.told("update-ref", "-m", f"record {what.title}", "--stdin", feed=feed)
        flush_refs(desk.tree, (at, desk.memory))
    return name
