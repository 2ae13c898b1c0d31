"""The lists of a record and git's history of them, in; every list of which an earlier version is no
beginning of today's, out: what was once written was changed afterwards."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from hashlib import sha1, sha256
from pathlib import Path
from string import ascii_uppercase

from generator.findings import Finding, Place
from generator.record.expected import NAMES, is_list
from generator.record.git import WorkTree, opened
from generator.record.log import told_by_log

MOST = 300  # versions of a list that are looked at where not all are asked for


def rewritten(folder: Path, lists: Sequence[str], all_versions: bool) -> Iterator[Finding]:
    """Lists that are not what HEAD holds, or no continuation of what any commit held.

    all_versions: every one in history; else the latest and evenly spread ones, MOST together.
    """
    tree = opened(folder)
    held = _held(tree)
    for path in sorted({*lists, *held}):
        file = folder / path
        today = file.read_bytes() if file.is_file() and not file.is_symlink() else None
        if today is None:
            wrong = "HEAD holds this list, and it is not there"
            yield Finding(Place(path), "missing", wrong, f"git checkout HEAD -- {path}")
        elif path not in held:
            right = f"git log --all -- {path}, or move it out of output/"
            yield Finding(Place(path), "unexpected", "git holds no such list", right)
        elif not _begins(today, held[path], len(today)):
            wrong = "it is not what HEAD holds: lines were changed, lost or added by hand"
            yield Finding(Place(path), "changed", wrong, f"git checkout HEAD -- {path}")
    blobs = _versions(tree, all_versions)
    for path, (name, commit) in _no_beginning(folder, tree, lists, blobs):
        wrong = f"what commit {commit[:12]} held is no beginning of it: lines were rewritten"
        right = f"git diff {name[:12]} HEAD:{tree.prefix}{path}, and ask who committed it"
        yield Finding(Place(path), "rewritten", wrong, right)
    yield from _behind(tree)


def _held(tree: WorkTree) -> Mapping[str, str]:
    """The lists that HEAD holds, with the names of their blobs."""
    below = tree.asked("ls-tree", "-r", "-z", "HEAD", "--", "output/processes") or b""
    beside = tree.asked("ls-tree", "-z", "HEAD", "--", "output/") or b""
    rows = [os.fsdecode(each).split("\t", 1) for each in (below + beside).split(b"\0") if each]
    found = {path: facts.split()[2] for facts, path in rows}
    return {path: name for path, name in found.items() if is_list(path)}


def _versions(tree: WorkTree, all_versions: bool) -> Mapping[str, Mapping[str, str]]:
    """The blobs of every list in the history of HEAD: path -> blob -> its commit."""
    # Every letter: a desk of which nothing is left is one that somebody took away.
    beside = [f"output/{name}-{desk}.txt" for desk in ascii_uppercase for name in NAMES]
    found: dict[str, dict[str, str]] = {}
    for commit in told_by_log(tree, "%H", "HEAD", "--", *beside, "output/processes"):
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


def _no_beginning(
    folder: Path,
    tree: WorkTree,
    lists: Sequence[str],
    blobs: Mapping[str, Mapping[str, str]],
) -> Iterator[tuple[str, tuple[str, str]]]:
    """The first version of each list that is no beginning of today's, by git's own names: a blob is
    named by the sum of its content, so no old content need be unpacked."""
    names = [name for each in blobs.values() for name in each if set(name) != {"0"}]
    feed = "".join(f"{name}\n" for name in names).encode()
    told = tree.told("cat-file", "--batch-check=%(objectname) %(objectsize)", feed=feed)
    sizes = dict(row.split(" ") for row in os.fsdecode(told).splitlines())
    for path in sorted({*lists, *blobs}):
        file = folder / path
        today = file.read_bytes() if file.is_file() else b""
        for name, commit in reversed(list(blobs.get(path, {}).items())):
            if set(name) == {"0"}:
                yield path, (name, commit)  # it was deleted for a while
                break
            if not _begins(today, name, int(sizes[name])):
                yield path, (name, commit)
                break


def _begins(content: bytes, name: str, size: int) -> bool:
    """Whether the blob of that name and size is the beginning of the content."""
    if size > len(content):
        return False
    sums = sha1(usedforsecurity=False) if len(name) == 40 else sha256()
    sums.update(b"blob %d\0" % size)
    sums.update(memoryview(content)[:size])
    return sums.hexdigest() == name


def _behind(tree: WorkTree) -> Iterator[Finding]:
    """Desks whose last act is not in HEAD: another branch, or a reset."""
    told = tree.asked("for-each-ref", "--format=%(refname)", "refs/witnessmark/") or b""
    for ref in os.fsdecode(told).split():
        if tree.asked("merge-base", "--is-ancestor", ref, "HEAD") is None:
            desk = ref.rpartition("/")[2]
            wrong = f"HEAD does not hold the last act of desk {desk}"
            path = f"output/register-{desk}.txt"
            yield Finding(Place(path), "rewritten", wrong, f"git merge {ref}")
