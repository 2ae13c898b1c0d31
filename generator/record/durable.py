"""Names of what git wrote, in; the same on the disk so that a power cut cannot take it back, out.

git flushes what it is told to flush, but never the folders in which the names of its files stand,
and what the user commits it does not flush at all unless told. A commit of ours stands on both.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from itertools import chain
from pathlib import Path

from generator.record.disk import flush
from generator.record.git import WorkTree
from generator.record.log import told_by_log


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
    theirs = ("HEAD", "--not", "--glob=refs/witnessmark/*")
    told = list(told_by_log(tree, "%H %T", "-r", "-t", *theirs))
    names = [*(each.head.split(" ") for each in told), *(each.changed.values() for each in told)]
    flush_objects(tree, chain.from_iterable(names))
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
