"""The lists of a record and git's history of them, in; every list of which an earlier version is no
beginning of today's, out: what was once written was changed afterwards."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path
from string import ascii_uppercase

from generator.findings import Finding, Place, Refusal
from generator.library.cores import count
from generator.record.desk import Desk, memories_of
from generator.record.expected import PLACES
from generator.record.git import STILL_THERE, WorkTree, begins
from generator.record.held import held_lists, off_head
from generator.record.line_ends import plain
from generator.record.log import told_by_log

CUT = "git's history is cut here, as in a shallow clone: what was rewritten before is not seen"
MOST = 300  # versions of a list that are looked at where not all are asked for


def rewritten(
    tree: WorkTree, lists: Sequence[str], begun: Collection[str], all_versions: bool
) -> Iterator[Finding]:
    """Lists that are not what HEAD holds, or no continuation of what any commit held.

    begun: those to which no more than lines of a begun act were added. all_versions: every one in
    history; else the latest and evenly spread ones, MOST together.
    """
    folder = tree.folder
    for each in off_head(tree, lists, held_lists(tree)):
        if each.place.path not in begun:
            yield each
    blobs = _versions(tree, all_versions)
    sizes = _sizes(tree, blobs)
    for path, (name, commit) in _no_beginning(folder, lists, blobs, sizes):
        if name not in sizes and not _is_none(name):
            wrong = f"git's store has lost what commit {commit[:12]} held of it"
            yield Finding(Place(path), "lost", wrong, STILL_THERE)
            continue
        wrong = f"what commit {commit[:12]} held is no beginning of it: lines were rewritten"
        right = f"git diff {name[:12]} HEAD:{tree.prefix}{path}, and ask who committed it"
        yield Finding(Place(path), "rewritten", wrong, right)
    yield from _behind(tree)


def _versions(tree: WorkTree, all_versions: bool) -> Mapping[str, Mapping[str, str]]:
    """The blobs of every list in the history of HEAD: path -> blob -> its commit."""
    found: dict[str, dict[str, str]] = {}
    for commit in told_by_log(tree, "%H", "HEAD", "--", *PLACES):
        for path, name in commit.changed.items():
            if path.endswith(".txt"):
                found.setdefault(path.removeprefix(tree.prefix), {})[name] = commit.head
    if all_versions:
        return found
    return {path: _spread(blobs) for path, blobs in found.items()}


def _spread(blobs: Mapping[str, str]) -> Mapping[str, str]:
    """The latest half of MOST, and as many of the rest at even steps."""
    names = list(blobs)
    if len(names) <= MOST:
        return blobs
    latest, rest = names[: MOST // 2], names[MOST // 2 :]
    step = -(-len(rest) // (MOST // 2))
    return {name: blobs[name] for name in [*latest, *rest[::step], rest[-1]]}


def _sizes(tree: WorkTree, blobs: Mapping[str, Mapping[str, str]]) -> Mapping[str, int]:
    """The lengths of these versions, none of those that git's store has lost."""
    names = [name for each in blobs.values() for name in each if not _is_none(name)]
    feed = "".join(f"{name}\n" for name in names).encode()
    told = tree.told("cat-file", "--batch-check=%(objectname) %(objectsize)", feed=feed)
    rows = (row.split(" ") for row in os.fsdecode(told).splitlines())
    return {name: int(size) for name, size in rows if size != "missing"}


def _no_beginning(
    folder: Path,
    lists: Sequence[str],
    blobs: Mapping[str, Mapping[str, str]],
    sizes: Mapping[str, int],
) -> Iterator[tuple[str, tuple[str, str]]]:
    """The first version of each list that is no beginning of today's, by git's own names: a blob is
    named by the sum of its content, so no old content need be unpacked."""
    with ThreadPoolExecutor(count()) as pool:  # sums are taken outside the interpreter's lock
        for path in sorted({*lists, *blobs}):
            file = folder / path
            today = plain(file.read_bytes()) if file.is_file() else b""
            versions = list(reversed(list(blobs.get(path, {}).items())))
            found = pool.map(partial(_goes_on, today, sizes), versions)
            wrong = (each for each, good in zip(versions, found, strict=True) if not good)
            if first := next(wrong, None):
                yield path, first


def _goes_on(today: bytes, sizes: Mapping[str, int], version: tuple[str, str]) -> bool:
    """Whether a list begins with that version of it; it has none from while it was deleted."""
    name, _ = version
    return name in sizes and begins(today, name, sizes[name])


def _is_none(name: str) -> bool:
    return set(name) == {"0"}


def is_cut(tree: WorkTree) -> bool:
    """Whether git has a part of its history only, as in a shallow clone."""
    return tree.one("rev-parse", "--is-shallow-repository") == "true"


def cut_off() -> Finding:
    """What is told where all of history was asked for and is not there."""
    right = "git fetch --unshallow, or another clone"
    return Finding(Place("output"), "cut", CUT, right)


def _behind(tree: WorkTree) -> Iterator[Finding]:
    """Desks whose last act is not in HEAD: another branch, or a reset; and those of which git
    cannot say so."""
    try:
        letters = _remembered(tree)
    except Refusal as no:
        yield Finding(Place("output"), "lost", no.wrong, no.right)
        return
    for letter in letters:
        desk = Desk(tree, letter)
        place = Place(desk.register_path)
        try:
            ref = desk.known()
        except Refusal as no:
            yield Finding(place, "lost", no.wrong, no.right)
            continue
        if ref and tree.asked("cat-file", "-e", f"{ref}^{{commit}}") is None:
            wrong = f"git's store has lost the commit that {ref} names"
            yield Finding(place, "lost", wrong, STILL_THERE)
        elif ref and tree.asked("merge-base", "--is-ancestor", ref, "HEAD") is None:
            wrong = f"HEAD does not hold the last act of desk {letter}"
            yield Finding(place, "rewritten", wrong, f"git merge {ref}")


def _remembered(tree: WorkTree) -> list[str]:
    """The letters of the desks of which a last act is known, here or, from an earlier version, in
    any workshop of the repository; a ref that git cannot read is a file all the same."""
    places = {memories_of(tree.prefix), memories_of("")}
    refs = os.fsdecode(tree.told("for-each-ref", "--format=%(refname)", *places)).split("\n")
    refs += [f"{at}{name}" for at in places for name in _files(tree.common / at)]
    found = {ref[-1:] for ref in refs if ref[:-1] in places}
    return sorted(found & {*ascii_uppercase})


def _files(place: Path) -> list[str]:
    return os.listdir(place) if place.is_dir() else []
