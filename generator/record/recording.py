"""A workshop, a desk and what is to be recorded, in; the same in files, register and git, out.

Order of steps: files into git's store, a new folder beside, the note (the act is decided), the
folder's rename and the other files, the lines of register and lists, the commit, forget the note.
What is killed before the note is undone by the next run, after it finished by the next.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path

from generator.findings import Refusal
from generator.odd_files import refuse_links_on_the_way
from generator.record import git, register
from generator.record.act import Act, Note, keep, kept, outside, register_lines, whole
from generator.record.commit import clear, commit
from generator.record.desk import Desk, lettered
from generator.record.disk import (
    disk_refusals,
    flush,
    flush_ways,
    half_written,
    made_folder,
    move_folder,
    remove,
    replace_file,
    write_folder,
)
from generator.record.durable import flush_history, flush_objects
from generator.record.finishing import must_be_finished_here, none_elsewhere
from generator.record.held import lists_held, own_folders, travellers_held
from generator.record.lacking import lacking
from generator.record.locks import (
    index_held,
    issuing,
    moving_refs,
    release_index,
    release_refs,
)
from generator.record.trees import tree_of_all, ways

OWN_DESK = "witnessmark.desk"


def perform(folder: Path, desk: str, make: Callable[[Desk], Act]) -> tuple[Act, str]:
    """Record one act of a desk, wholly or not at all, with many at once or after a kill.

    folder: the workshop. desk: one capital letter, unless the clone has its own. make: gives the
    act, and is told the desk, whose next numbers it may take; what it raises passes through and
    nothing is taken. Only the act's own files, its lists and the register are committed. Gives the
    act and the name of its commit.
    Refusal("record"): no git work tree, no commit, no branch, a merge or the like under way, a
    branch without the desk's last act, a register, list or folder changed by hand, of whatever
    desk, a file that is there already, or the disk or git says no. What is refused behind the note,
    the next run ends.
    """
    with _at_desk(folder, desk) as at:
        own_folders(at.tree)
        _recovered(at)
        with disk_refusals():
            at.standing()
            lists_held(at)
        act = whole(make(at))
        with disk_refusals():
            travellers_held(at, act)
        with _telling(at, act.title):
            name = _carried_out(at, act)
    return act, name


def recover(folder: Path, desk: str) -> str:
    """Undo or finish what a killed run of the desk left: the title it finished, "" for none.

    Refusals as for perform.
    """
    with _at_desk(folder, desk) as at:
        return _recovered(at)


@contextmanager
def _at_desk(folder: Path, letter: str) -> Iterator[Desk]:
    """The desk, held by this run alone. What git's own settings of a clone say goes before the
    letter of workshop.yaml, which all clones share."""
    tree = git.opened(folder)
    desk = Desk(tree, letter_of(tree, letter))
    with issuing(desk.tree) as locked:
        git.branch(locked)
        yield replace(desk, tree=locked)


def letter_of(tree: git.WorkTree, letter: str) -> str:
    """The letter of the desk of a clone, which may have its own. Refusal where it is none."""
    return lettered(tree.setting(OWN_DESK) or letter)


def _recovered(at: Desk) -> str:
    with disk_refusals():
        none_elsewhere(at)
        release_index(at.tree)
        release_refs(at.tree, lambda: _refs(at))
        clear(at)
        left = kept(at.note)
        if left is not None:
            with _telling(at, left.title):
                must_be_finished_here(at, left)
                with index_held(at.tree):
                    _finished(at, left)
                _forgotten(at)
            return left.title
        _undone(at)
    return ""


def _carried_out(at: Desk, act: Act) -> str:
    _none_there(at, act)
    try:
        made_folder(at.output)
        flush(at.tree.folder)
        git.signed(at.tree, at.letter)
        note = _noted(at, act)
        with index_held(at.tree):
            keep(at.note, note)
            name = _finished(at, note)
        _forgotten(at)
    except BaseException:
        if not at.note.exists():
            with suppress(OSError):  # the next run undoes it, and why it failed is told
                _undone(at)
        raise
    return name


@contextmanager
def _telling(at: Desk, title: str) -> Iterator[None]:
    """Inside, a refusal says what became of the act."""
    try:
        with disk_refusals():
            yield
    except Refusal as no:
        if not at.note.exists():
            raise
        ends = f"{title} is begun and will be: the next act of this desk finishes it first"
        raise Refusal(no.code, no.wrong, no.right, ends) from no


def _none_there(at: Desk, act: Act) -> None:
    """Nothing of the record is ever written over, and no name is used again."""
    for path in [*act.files, *act.lists, at.register_path]:
        refuse_links_on_the_way(at.tree.folder, path)
    for path in [*([act.folder] if act.folder else []), *outside(act.folder, act.files)]:
        if os.path.lexists(at.tree.folder / path):
            raise Refusal("record", f"{path} is there already", f"move {path} out of the workshop")
    ways(at.tree, [*act.files, *act.lists, at.register_path])
    known = at.committed(at.register_path)
    for row in register_lines(act).splitlines():
        path = row.partition("  ")[2]
        if f"  {path}\n".encode() in known:
            raise Refusal(
                "record", f"{path} was recorded before and is gone", f"git checkout HEAD -- {path}"
            )


def _noted(at: Desk, act: Act) -> Note:
    """The note of an act whose files lie in git's store and, where it is a folder, beside."""
    blobs = {path: git.stored(at.tree, act.files[path]) for path in outside(act.folder, act.files)}
    if act.folder:
        beside, inside = at.unfinished(act.folder), _inside(act.folder, act.files)
        write_folder(beside, inside)
        names = git.stored_files(at.tree, [beside / name for name in inside])
        blobs |= {f"{act.folder}/{n}": blob for n, blob in zip(inside, names, strict=True)}
    together = tree_of_all(at.tree, blobs.values())
    flush_objects(at.tree, [*blobs.values(), together])
    with moving_refs(at.tree):  # git gc takes away what no ref leads to
        at.tree.told("update-ref", at.begun, together)
        flush_history(at.tree, _refs(at))
    added = {**act.lists, at.register_path: register_lines(act)}
    return Note(act.title, act.words, blobs, added, act.folder, at.tree.prefix)


def _inside(folder: str, files: Mapping[str, bytes]) -> dict[str, bytes]:
    start = f"{folder}/"
    return {p.removeprefix(start): content for p, content in files.items() if p.startswith(start)}


def _finished(at: Desk, what: Note) -> str:
    """All that follows the note. Each step may have been done before."""
    _put_in_place(at, what)
    lacks = lacking(at, what)
    for path, lines in lacks.lines.items():
        register.append(at.tree.folder / path, lacks.held[path], lines)
    name = commit(at, what, lacks)
    flush_ways(at.tree.folder, (*what.blobs, *what.added))
    return name


def _forgotten(at: Desk) -> None:
    """The note goes last: all that it says is on the disk."""
    remove(at.note)
    flush(at.note.parent)


def _refs(at: Desk) -> tuple[str, str, str]:
    return git.branch(at.tree), at.memory, at.begun


def _put_in_place(at: Desk, what: Note) -> None:
    """The files where they belong; what stands there already is left, whatever it holds."""
    folder = at.tree.folder
    if what.folder and not (folder / what.folder).exists():
        place, beside = folder / what.folder, at.unfinished(what.folder)
        place.parent.mkdir(parents=True, exist_ok=True)
        if not _is_whole(beside, what):
            remove(beside)
            stored = {
                path: _from_store(at, blob)
                for path, blob in what.blobs.items()
                if path.startswith(f"{what.folder}/")
            }
            write_folder(beside, _inside(what.folder, stored))
        move_folder(beside, place)
    for path in outside(what.folder, what.blobs):
        place = folder / path
        if not place.exists():
            place.parent.mkdir(parents=True, exist_ok=True)
            replace_file(place, _from_store(at, what.blobs[path]))


def _is_whole(beside: Path, what: Note) -> bool:
    """Whether the folder beside was written to its end: that was before the note, so it is whole
    where all its files stand there."""
    start = f"{what.folder}/"
    names = [path.removeprefix(start) for path in what.blobs if path.startswith(start)]
    return all((beside / name).is_file() for name in names)


def _from_store(at: Desk, blob: str) -> bytes:
    return at.tree.told("cat-file", "blob", blob)


def _undone(at: Desk) -> None:
    for each in (*at.leftovers(), half_written(at.note), at.note):
        remove(each)
