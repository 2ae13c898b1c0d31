"""A work tree, in; the desk's lock and git's own index lock held while a block runs, out."""

from __future__ import annotations

import fcntl
import os
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from generator.findings import Refusal
from generator.record.disk import disk_refusals, flush, made_folder
from generator.record.git import WorkTree

ROOM = "witnessmark"  # our folder inside git's
_STEP = 0.02  # seconds between two tries
_WAIT_FOR_DESK = 120.0  # seconds; a queue of volunteers at one desk, each a second or two
_WAIT_FOR_REF = 2.0  # seconds; git moves a ref in milliseconds
_WAIT_FOR_INDEX = 5.0  # seconds; git status and git add hold it for far less


def room(tree: WorkTree) -> Path:
    """Our folder inside the git folder of this work tree."""
    return made_folder(tree.own / ROOM)


@contextmanager
def issuing(tree: WorkTree) -> Iterator[WorkTree]:
    """One run at a time in a repository. git's children keep the lock with us.

    The lock belongs to the open file, not to a file that exists: it ends with the last process
    that holds it, so a power cut leaves nothing to clear. Refusal after two minutes.
    """
    with disk_refusals():
        shared = made_folder(tree.common / ROOM)
        handle = os.open(shared / "lock", os.O_RDWR | os.O_CREAT, 0o666)
    try:
        if not _came(lambda: _locked(handle), _WAIT_FOR_DESK):
            wrong = "another issue is under way in this repository"
            raise Refusal("record", wrong, "wait until it is done")
        yield tree.holding(handle)
    finally:
        os.close(handle)


@contextmanager
def index_held(tree: WorkTree) -> Iterator[None]:
    """Keep every other git command from committing while the branch and the index move.

    The lock is a second name of our token file, so that after a kill it is provably ours. The token
    stays for good: after a power cut there must be no lock without it.
    """
    token, lock = _token(tree), _lock(tree)
    token.touch()
    flush(token.parent)
    release_index(tree)
    try:
        if not _came(lambda: _linked(token, lock), _WAIT_FOR_INDEX):
            right = f"wait until it is done; where no git runs, remove {lock}"
            raise Refusal("record", "another git command holds the index", right)
        yield
    finally:
        release_index(tree)


def release_index(tree: WorkTree) -> None:
    """Take away an index lock that is ours; leave any other."""
    token, lock = _token(tree), _lock(tree)
    if token.exists() and lock.exists() and token.samefile(lock):
        lock.unlink()


@contextmanager
def moving_refs(tree: WorkTree) -> Iterator[None]:
    """Say that git moves our refs while the block runs: a git that is killed then leaves locks."""
    mark = _mark(tree)
    mark.touch()
    flush(mark.parent)
    try:
        yield
    finally:
        mark.unlink(missing_ok=True)


def release_refs(tree: WorkTree, refs: Callable[[], Iterable[str]]) -> None:
    """Take away the locks of refs that a killed git of ours left. They are asked for only then.

    To be called with the desk's lock held. A lock is taken for ours only where a killed run says
    that it was moving refs, the lock is no older than that, and no living git has let go of it in
    two seconds.
    """
    mark = _mark(tree)
    if not mark.exists():
        return
    began = mark.stat().st_mtime_ns
    for lock in (tree.own / "HEAD.lock", *(tree.common / f"{ref}.lock" for ref in refs())):
        if not _came(lambda lock=lock: not lock.exists(), _WAIT_FOR_REF):  # type: ignore[misc]
            with suppress(FileNotFoundError):
                if lock.stat().st_mtime_ns >= began:
                    lock.unlink()
    mark.unlink(missing_ok=True)


def _mark(tree: WorkTree) -> Path:
    return room(tree) / "refs-moving"


def _token(tree: WorkTree) -> Path:
    return room(tree) / "index-token"


def _lock(tree: WorkTree) -> Path:
    return tree.own / "index.lock"


def _linked(token: Path, lock: Path) -> bool:
    try:
        os.link(token, lock)
    except FileExistsError:
        return False
    return True


def _locked(handle: int) -> bool:
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


def _came(ready: Callable[[], bool], longest: float) -> bool:
    until = time.monotonic() + longest
    while not ready():
        if time.monotonic() > until:
            return False
        time.sleep(_STEP)
    return True
