"""Names of what git wrote, in; the same on the disk so that a power cut cannot take it back, out.

git flushes what it is told to flush, but never the folders in which the names of its files stand,
and what the user commits it does not flush at all unless told. A commit of ours stands on both.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from generator.record.disk import flush
from generator.record.git import WorkTree

_RAW = ("--raw", "-r", "-t", "-z", "--no-abbrev", "--no-renames")


def flush_objects(tree: WorkTree, names: Iterable[str]) -> None:
    """Contents, trees and commits in git's store. What lies in a pack was flushed with it."""
    store = tree.common / "objects"
    there = [store / name[:2] / name[2:] for name in sorted(set(names))]
    loose = [each for each in there if each.exists()]
    for each in [*loose, *sorted({each.parent for each in loose}), store]:
        flush(each)


def flush_history(tree: WorkTree, refs: Iterable[str]) -> None:
    """What HEAD holds and no act of any desk knew: commits of the user's own; the refs, and the
    index as it stands."""
    words = ("log", "-m", "--root", "--format=format:%H %T", *_RAW)
    told = tree.told(*words, "HEAD", "--not", "--glob=refs/witnessmark/*")
    flush_objects(tree, _names(told))
    flush_refs(tree, refs)


def flush_refs(tree: WorkTree, refs: Iterable[str]) -> None:
    """Branches and the like, HEAD and the index, with the folders down to them."""
    files = [tree.own / "index", tree.own / "HEAD", tree.common / "packed-refs"]
    files += [tree.common / ref for ref in refs]
    there = [each for each in files if each.is_file()]
    folders = {tree.own, tree.common, tree.common / "reftable"}
    for ref in refs:
        folders |= {tree.common / above for above in Path(ref).parents}
    for each in [*there, *sorted(each for each in folders if each.is_dir())]:
        with suppress(FileNotFoundError):  # the user's own git may move a ref at any time
            flush(each)


def _names(told: bytes) -> list[str]:
    """The names in git's raw lines: of a commit and its tree, or of what a path became."""
    found = []
    for part in os.fsdecode(told).replace("\n", "\0").split("\0"):
        if part.startswith(":"):
            found.append(part.split(" ")[3])
        elif len(both := part.split(" ")) == 2 and all(map(_is_name, both)):
            found += both
    return found


def _is_name(word: str) -> bool:
    return len(word) in (40, 64) and set(word) <= set("0123456789abcdef")
