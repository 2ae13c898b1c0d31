"""The folder of the drafts, in; a room of this run alone in it, out, and nothing at all where
nothing came of the run."""

from __future__ import annotations

import fcntl
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from generator.beside import is_ours, own_room


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
        with suppress(OSError):  # a disk without locks: then nobody takes anything away either
            fcntl.flock(handle, fcntl.LOCK_SH)
        try:
            with own_room(drafts) as made:
                yield made
        finally:
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
