"""Files by their names in git's store, in; the tree of HEAD with these files put in, out.

Only the folders that lead to the files are read and written: what else the record holds is named by
the folders beside them and is never looked at, however much there is.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath

from generator.findings import Refusal
from generator.record.git import WorkTree

Entries = dict[bytes, tuple[bytes, bytes]]  # name -> its mode and the bytes of its object's name

_FILE, _FOLDER, _REPOSITORY = b"100644", b"40000", b"160000"
_NONE = (b"", b"")


@dataclass(frozen=True)
class _Made:
    """A folder as git stores it: the bytes of its name there, and its own."""

    name: bytes
    raw: bytes


def trees_with(tree: WorkTree, blobs: Mapping[str, str]) -> list[str]:
    """The names of the folders that make HEAD's tree with these files in it, all now in git's
    store: the inner ones first, the tree itself last.

    blobs: path from the workshop folder -> name of its content. What stands in the way of a file or
    a folder on its way is replaced. Refusal where git has no such content, or cannot write.
    """
    _all_there(tree, blobs.values())
    folders = ways(tree, blobs)
    ours = {PurePosixPath(tree.prefix + path): blob for path, blob in blobs.items()}
    for path, blob in ours.items():
        folders[path.parent][os.fsencode(path.name)] = (_FILE, bytes.fromhex(blob))
    made: list[_Made] = []
    for path in sorted(folders, key=lambda each: -len(each.parts)):  # the inner ones first
        made.append(_made(folders[path]))
        if path.parts:
            folders[path.parent][os.fsencode(path.name)] = (_FOLDER, made[-1].name)
    # Not mktree: that one reads no settings of git, and flushes nothing of what it writes.
    told = [tree.one("hash-object", "-w", "-t", "tree", "--stdin", feed=e.raw) for e in made]
    if told != [each.name.hex() for each in made]:
        raise Refusal("record", "git wrote another tree than it was given", "git fsck")
    return told


def ways(tree: WorkTree, paths: Iterable[str]) -> dict[PurePosixPath, Entries]:
    """What HEAD holds in the folders that lead to these paths, nothing where it has none yet.
    Refusal where git's store has lost one, or where another repository stands in its place."""
    ours = [PurePosixPath(tree.prefix + path) for path in paths]
    return _none_lost(_read(tree, sorted({above for path in ours for above in path.parents})))


def tree_of_all(tree: WorkTree, blobs: Iterable[str]) -> str:
    """The name of a folder in git's store of nothing but these contents, under mere numbers."""
    names = sorted(set(blobs))
    entries = {b"%06d" % n: (_FILE, bytes.fromhex(name)) for n, name in enumerate(names)}
    return tree.one("hash-object", "-w", "-t", "tree", "--stdin", feed=_made(entries).raw)


def _all_there(tree: WorkTree, blobs: Iterable[str]) -> None:
    feed = "".join(f"{blob}\n" for blob in blobs).encode()
    told = tree.told("cat-file", "--batch-check=%(objecttype) %(objectname)", feed=feed)
    for line in told.decode().splitlines():
        if not line.startswith("blob "):
            wrong = f"git's store has lost a file of the act: {line}"
            raise Refusal("record", wrong, "git fsck")


def _none_lost(
    folders: Mapping[PurePosixPath, Entries | None],
) -> dict[PurePosixPath, Entries]:
    """The folders, those that HEAD has not yet empty. Refusal where HEAD names one that git's store
    has lost: made anew it would hold the files of this act alone."""
    for path, entries in folders.items():
        above = folders[path.parent]
        if path.parts and (above or {}).get(os.fsencode(path.name), _NONE)[0] == _REPOSITORY:
            raise submodule(path.as_posix())
        if entries is None and (not path.parts or os.fsencode(path.name) in (above or ())):
            shown = path.as_posix() if path.parts else "the top folder"
            wrong = f"git's store has lost the folder {shown} of HEAD"
            raise Refusal("record", wrong, "git fsck, and a clone or a copy that still has it")
    return {path: entries or {} for path, entries in folders.items()}


def submodule(shown: str) -> Refusal:
    """The refusal of a folder that git holds as another repository's."""
    wrong = f"{shown} is a repository of its own (a submodule), whose files git does not hold here"
    right = f"remove {shown}/.git, git rm --cached {shown}, git add {shown}, git commit"
    return Refusal("record", wrong, right)


def _read(tree: WorkTree, paths: Iterable[PurePosixPath]) -> dict[PurePosixPath, Entries | None]:
    """What HEAD holds in these folders, in one run of git; None where git knows no such thing."""
    wanted = list(paths)
    feed = "".join(f"HEAD:{path if path.parts else ''}\n" for path in wanted)
    told = tree.told("cat-file", "--batch", feed=os.fsencode(feed))
    found: dict[PurePosixPath, Entries | None] = {}
    at = 0
    for path in wanted:
        end = told.index(b"\n", at)
        facts = told[at:end].split(b" ")
        at = end + 1
        found[path] = None
        if not facts[-1].isdigit():
            continue  # missing; of another repository newer versions of git say submodule
        found[path] = {}
        length = int(facts[-1])
        if facts[-2] == b"tree":
            found[path] = _entries(told[at : at + length], len(facts[0]) // 2)
        at += length + 1
    return found


def _entries(raw: bytes, width: int) -> Entries:
    """The entries of a folder, of which each ends in the bytes of its object's name."""
    entry = re.compile(rb"([0-7]+) ([^\0]+)\0(.{%d})" % width, re.DOTALL)
    return {name: (mode.lstrip(b"0"), sha) for mode, name, sha in entry.findall(raw)}


def _made(entries: Entries) -> _Made:
    """A folder of these entries, in git's order: folders as if their names ended in a slash."""
    ordered = sorted(entries.items(), key=lambda each: each[0] + b"/" * (each[1][0] == _FOLDER))
    raw = b"".join(b"%s %s\0%s" % (mode, name, sha) for name, (mode, sha) in ordered)
    sums = hashlib.sha1 if len(ordered[0][1][1]) == 20 else hashlib.sha256  # git's two formats
    return _Made(sums(b"tree %d\0%s" % (len(raw), raw)).digest(), raw)
