"""The place of a folder, in; a new folder in a room of this run alone, which takes its place when
it is whole, out.

For prints and the like, which can be made again: nothing is flushed. Two runs at once make theirs
apart; the later takes the place of the earlier. A run that is killed leaves its room: the next one
takes it away, where our mark lies in it and the lock that ends with a run is free.
"""

from __future__ import annotations

import errno
import fcntl
import os
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from generator.findings import Refusal

_ROOM = re.compile(r"\.new-[0-9]+-[0-9]+")
_MARK = ".witnessmark"  # what lies in a room of ours; a folder of anybody else's has none


@contextmanager
def beside(folder: Path) -> Iterator[Path]:
    """A new folder; behind the block it stands in the place of the old one, or where the block
    fails nothing was changed."""
    with own_room(folder.parent) as room:
        made = room / folder.name
        made.mkdir()
        yield made
        put_in_place(made, folder)


@contextmanager
def own_room(place: Path) -> Iterator[Path]:
    """A new folder in this place, of this run alone; it is gone behind the block, and so is what
    killed runs left."""
    _swept(place)
    room, handle = _new(place)
    try:
        yield room
    finally:
        _taken_away(room)
        os.close(handle)


def is_room(folder: Path) -> bool:
    """Whether a folder is a room of ours: it has our mark, or nothing in it, as in the moment
    before it gets one."""
    if not _ROOM.fullmatch(folder.name) or folder.is_symlink() or not folder.is_dir():
        return False
    return (folder / _MARK).is_file() or not os.listdir(folder)


def _new(place: Path) -> tuple[Path, int]:
    """The room, and the open file that its lock belongs to."""
    for n in range(1000):
        place.mkdir(parents=True, exist_ok=True)
        room = place / f".new-{os.getpid()}-{n}"
        with suppress(FileExistsError, FileNotFoundError):  # another run has it, or took it away
            room.mkdir()
            handle = os.open(room, os.O_RDONLY)
            with suppress(OSError):  # a disk without locks: there nobody takes a room away
                fcntl.flock(handle, fcntl.LOCK_EX)
            try:
                (room / _MARK).touch()
            except BaseException:
                _taken_away(room)
                os.close(handle)
                raise
            return room, handle
    wrong = f"{place} is full of folders that are being made"
    raise Refusal("file", wrong, "take away those whose names begin with .new-")


def _swept(place: Path) -> None:
    """Take away every room that was made here by a run that is no more."""
    for each in filter(is_room, place.glob(".new-*")):
        with suppress(OSError):
            handle = os.open(each, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
                _taken_away(each)
            finally:
                os.close(handle)


def _taken_away(room: Path) -> None:
    """All of it, or nothing of the mark: what a disk refuses twice is still known for ours."""
    for _ in range(2):
        with suppress(OSError):
            for each in [each for each in room.iterdir() if each.name != _MARK]:
                if each.is_dir() and not each.is_symlink():
                    shutil.rmtree(each)
                else:
                    each.unlink()
            (room / _MARK).unlink(missing_ok=True)
            room.rmdir()
            return


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
