"""A folder of finished sheets in; does it stand as it was written, out.

Names, lengths, inodes and times of change are looked at first: a file that is written to gets
another time, which nobody can set back. Where they differ, as in a copy of the workshop, the
sums of the contents decide.
"""

from __future__ import annotations

import os
import stat
import time
from collections.abc import Mapping
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

from generator.library.kept import Kept, Print, keep

_TICK = 0.02  # seconds; clocks of file systems move at least every hundredth


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which print of a process is wanted: made_with: the sum of what decides it besides the
    process; only: the one kind of sheet, "" for the whole pack."""

    made_with: str
    only: str

    def name(self, number: str) -> str:
        """The folder of the print. One sheet alone has a folder of its own, so that it never takes
        the place of a pack."""
        return f"{number}-{self.only}" if self.only else number


def stands(folder: Path, kept: Kept, wanted: Wanted) -> bool:
    """Whether the wanted print of a process stands in its folder; a copy is known again faster."""
    name = wanted.name(kept.verdict.number)
    made = kept.prints.get(name)
    if made is None or made.made_with != wanted.made_with:
        return False
    found = standing(os.path.join(folder, "output", "draft", name), made)
    if found is not None and found is not made:
        prints = {**kept.prints, name: found}
        keep(folder, kept.verdict.shown, replace(kept, prints=prints))
    return found is not None


def looks_of(place: str) -> str | None:
    """What the files of a folder look like from outside; None where it holds anything else."""
    try:
        handle = os.open(place, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
    except OSError:
        return None
    try:
        rows = []
        for name in os.listdir(handle):
            told = os.stat(name, dir_fd=handle, follow_symlinks=False)
            if not stat.S_ISREG(told.st_mode):
                return None
            rows.append(f"{name} {told.st_size} {told.st_ino} {told.st_ctime_ns}")
        return "\n".join(sorted(rows))
    except (OSError, ValueError):
        return None
    finally:
        os.close(handle)


def sums_of(place: str) -> Mapping[str, str] | None:
    """The sum of each file of a folder; None where one cannot be read."""
    try:
        names = sorted(os.listdir(place))
        return {name: _sum(os.path.join(place, name)) for name in names}
    except OSError:
        return None


def _sum(path: str) -> str:
    with open(path, "rb", buffering=0) as opened:
        return sha256(opened.read()).hexdigest()


def standing(place: str, made: Print) -> Print | None:
    """The print as it is to be kept, where all its files are there unaltered; else None."""
    looks = looks_of(place)
    if looks is None or looks == made.looks:
        return made if looks is not None else None
    return replace(made, looks=looks) if sums_of(place) == made.sums else None


def settled() -> None:
    """Wait until whatever is written from now on gets a later time than all that was."""
    time.sleep(_TICK)
