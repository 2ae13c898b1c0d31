"""A workshop, a desk and a maker of files, in; the next traveller frozen and committed, out.

Order of steps: note, new folder, rename (the number is taken), register lines, commit, forget the
note. What is killed before the rename is undone by the next run, after it finished by the next.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from generator.findings import Refusal
from generator.record import git, register
from generator.record.commit import clear, commit
from generator.record.desk import ISSUED, Desk, lettered
from generator.record.disk import (
    disk_refusals,
    flush,
    half_written,
    move_folder,
    remove,
    write_folder,
)
from generator.record.locks import index_held, issuing, release_index
from generator.record.taking import Taking, keep, kept, taking


@dataclass(frozen=True)
class Issued:
    """A traveller in the record: its serial, its folder, and the commit that holds it."""

    serial: str
    folder: Path
    commit: str


def take(
    folder: Path,
    desk: str,
    make: Callable[[str], Mapping[str, bytes]],
    message: Callable[[str], str],
) -> Issued:
    """Issue the desk's next traveller: no gap, no number twice, with many at once or after a kill.

    folder: the workshop. desk: one capital letter. make: gives the files (relative name -> bytes)
    for a serial such as A-0001; message: the words of the commit. What either raises passes
    through and takes no number. Only the traveller and its register lines are committed.
    Refusal("record"): no git work tree, no commit, no branch, a merge or the like under way, a
    branch without the desk's last traveller, a register or folder changed by hand, or the disk or
    git says no. After a refusal that names a taken serial the next run finishes that one first.
    """
    with _at_desk(folder, desk) as at:
        _recovered(at)
        with disk_refusals():
            serial = _next(at)
        files = register.plain_names(make(serial))
        words = message(serial)
        with disk_refusals():
            name = _carried_out(at, taking(at, serial, files, words), files)
    return Issued(serial, folder / ISSUED / serial, name)


def recover(folder: Path, desk: str) -> str:
    """Undo or finish what a killed run of the desk left: the serial it finished, "" for none.

    Refusals as for take.
    """
    with _at_desk(folder, desk) as at:
        return _recovered(at)


@contextmanager
def _at_desk(folder: Path, letter: str) -> Iterator[Desk]:
    desk = Desk(git.opened(folder), lettered(letter))
    with issuing(desk.tree) as locked:
        git.branch(locked)
        yield replace(desk, tree=locked)


def _recovered(at: Desk) -> str:
    with disk_refusals():
        release_index(at.tree)
        clear(at)
        left = kept(at.note)
        if left is not None and _is_taken(at, left):
            with index_held(at.tree):
                _finished(at, left)
            remove(at.note)
            return left.serial
        _undone(at)
    return ""


def _is_taken(at: Desk, what: Taking) -> bool:
    """Whether the rename was done, also where somebody has since removed the folder."""
    standing, committed = at.standing_register(), at.committed_register()
    begun = len(standing) > len(committed) and register.grown(standing, committed, what.added)
    return (at.issued / what.serial).is_dir() or begun or what.added in committed


def _next(at: Desk) -> str:
    """One above the highest number. The register, the folders and the desk's ref must agree on it.

    Where they do not, going on would leave a gap or use a number twice, so that is a refusal.
    """
    committed = at.committed_register()
    if at.standing_register() != committed:
        raise register.changed(at.register)
    known = register.numbers(committed, at.letter)
    strays = at.folders() - known
    if strays:
        shown = f"{ISSUED}/{register.serial_of(at.letter, min(strays))}"
        wrong = f"{shown} stands in no register that git holds"
        raise Refusal("record", wrong, f"move {shown} out of the workshop, or merge its branch")
    last = at.remembered()
    if last and last not in known:
        raise _elsewhere(at, register.serial_of(at.letter, last))
    return register.serial_of(at.letter, register.highest(known) + 1)


def _elsewhere(at: Desk, serial: str) -> Refusal:
    wrong = f"this branch does not hold {serial}, the last traveller of desk {at.letter}"
    if at.tree.asked("merge-base", "--is-ancestor", at.memory, "HEAD") is None:
        return Refusal("record", wrong, f"git merge {at.memory}")
    paths = f"{at.register_path} {ISSUED}/{serial}"
    return Refusal("record", wrong, f"git checkout {at.memory} -- {paths}, then git commit")


def _carried_out(at: Desk, what: Taking, files: Mapping[str, bytes]) -> str:
    new, place = at.unfinished(what.serial), at.issued / what.serial
    try:
        at.issued.mkdir(parents=True, exist_ok=True)
        flush(at.tree.folder)
        keep(at.note, what)
        write_folder(new, files)
        with index_held(at.tree):
            move_folder(new, place)
            name = _finished(at, what)
        remove(at.note)
    except BaseException:
        if not place.exists():
            _undone(at)
        raise
    return name


def _finished(at: Desk, what: Taking) -> str:
    """All that follows the rename. Each step may have been done before."""
    committed = at.committed_register()
    added = b"" if what.added in committed else what.added
    register.append(at.register, committed, added)
    return commit(at, what)


def _undone(at: Desk) -> None:
    for each in (*at.leftovers(), half_written(at.note), at.note):
        remove(each)
