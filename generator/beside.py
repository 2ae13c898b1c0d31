"""The place of a folder, in; a new folder beside it that takes its place when it is whole, out.

For prints and the like, which can be made again: nothing is flushed.
"""

from __future__ import annotations

import fcntl
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

_MADE, _WAS = ".new", ".was.new"


@contextmanager
def beside(folder: Path) -> Iterator[Path]:
    """A new folder; behind the block it stands in the place of the old one, or where the block
    fails nothing was changed. What killed runs left beside it is taken away."""
    made, was = (folder.with_name(f".{folder.name}{end}") for end in (_MADE, _WAS))
    folder.parent.mkdir(parents=True, exist_ok=True)
    swept(folder.parent)
    made.mkdir()
    handle = os.open(made, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)  # ends with the run, however it ends
        yield made
        with suppress(FileNotFoundError):
            os.rename(folder, was)
        os.rename(made, folder)
    finally:
        os.close(handle)
        for each in (made, was):
            shutil.rmtree(each, ignore_errors=True)


def swept(place: Path) -> None:
    """Take away every folder that was being made here by a run that is no more."""
    for each in place.glob(f".*{_MADE}"):
        with suppress(OSError):
            handle = os.open(each, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
                shutil.rmtree(each)
            finally:
                os.close(handle)
