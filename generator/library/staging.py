"""Folders made beside the drafts, in; all put in their places at the end, or none, out.

A run that is killed leaves its folder: the next one that is alone takes it away. Two runs at once
make their folders apart from each other; the later takes the place of the earlier.
"""

from __future__ import annotations

import errno
import fcntl
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from generator.beside import swept
from generator.findings import Refusal

_MAKING = ".new-"


@contextmanager
def staged(drafts: Path) -> Iterator[Path]:
    """A new folder of this run alone; it is gone behind the block, and where nothing came of it
    all that was made for it."""
    kept = drafts / ".kept"
    is_ours(kept)
    begun = not kept.exists()
    kept.mkdir(parents=True, exist_ok=True)
    (kept / ".gitignore").write_text("*\n", encoding="utf-8")
    # The lock belongs to the open file: it ends with the last process of the run, however it ends.
    handle = os.open(kept / "lock", os.O_RDWR | os.O_CREAT, 0o666)
    try:
        _swept(drafts, handle)
        made = _new(drafts)
        try:
            yield made
        finally:
            shutil.rmtree(made, ignore_errors=True)
            if begun:
                _undone(drafts, handle)
    finally:
        os.close(handle)


def _undone(drafts: Path, handle: int) -> None:
    """Where nothing is kept and no other run is at work, the empty rooms go too."""
    kept = drafts / ".kept"
    with suppress(OSError):
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if set(os.listdir(kept)) == {".gitignore", "lock"}:
            shutil.rmtree(kept)
            drafts.rmdir()
            drafts.parent.rmdir()


def _swept(drafts: Path, handle: int) -> None:
    """Where no other run is at work, what killed ones left is taken away."""
    with suppress(OSError):
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        for each in drafts.glob(f"{_MAKING}*"):
            shutil.rmtree(each, ignore_errors=True)
        swept(drafts)  # a copy of a traveller that was being printed
    with suppress(OSError):  # a disk without locks: then nobody takes anything away either
        fcntl.flock(handle, fcntl.LOCK_SH)


def _new(drafts: Path) -> Path:
    for n in range(1000):
        made = drafts / f"{_MAKING}{os.getpid()}-{n}"
        with suppress(FileExistsError):
            made.mkdir()
            return made
    raise Refusal("file", f"{drafts} is full of folders that are being made", "make clean")


def is_ours(place: Path) -> None:
    """Refusal where something else than a folder stands in the place of a print."""
    if place.is_symlink() or (place.exists() and not place.is_dir()):
        raise Refusal("file", f"{place} is not a folder of ours", "another name there")


def put_in_place(made: Path, place: Path) -> None:
    """The folder takes its place; what stood there goes. Killed between, there is none there."""
    while True:
        old = made.with_name(f"{made.name}.old")
        with suppress(FileNotFoundError):
            os.rename(place, old)
        try:
            os.rename(made, place)
        except OSError as fault:
            if fault.errno not in (errno.ENOTEMPTY, errno.EEXIST):
                raise
            continue  # another run put one there meanwhile
        finally:
            shutil.rmtree(old, ignore_errors=True)
        return
