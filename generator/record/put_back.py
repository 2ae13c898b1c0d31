"""A workshop folder and a file of its record that is not there, in; the words that bring it back
from git, out. Nothing here writes."""

from __future__ import annotations

import os
import re
from pathlib import Path

from generator.findings import Refusal
from generator.record.git import in_head, opened

_ISSUED = re.compile(r"(output/issued/[^/]+)/.+")
_ALL = "git sparse-checkout disable: a record is needed whole"


def put_back(folder: Path, path: str) -> str:
    """What to do about the path."""
    return way_back(path, is_sparse(folder))


def way_back(path: str, sparse: bool) -> str:
    """The same where it is known whether git was told to leave folders out: then it knows no path
    in them, and git checkout brings none back."""
    return _ALL if sparse else f"git checkout HEAD -- {path}"


def way_back_of_deleted(path: str) -> str:
    """The same where HEAD holds it no more: it was deleted and committed."""
    return f"git log --diff-filter=D -- {path}, then git checkout THAT-COMMIT~1 -- {path}"


def lost_with(folder: Path, path: str) -> str:
    """What is to be brought back for a path that is not there: the folder of an issued traveller,
    where nothing is left in that, else the path."""
    found = _ISSUED.fullmatch(path)
    place = folder / found[1] if found else folder
    if found is None or place.is_symlink() or place.is_file():
        return path
    return path if place.is_dir() and os.listdir(place) else found[1]


def not_there(folder: Path, path: str) -> Refusal:
    """The refusal of what stands on a path that is not there: the path, or the folder of its
    traveller where nothing is left in that, and the way back."""
    what = lost_with(folder, path)
    way = way_back_of_deleted(what) if _is_deleted(folder, path) else put_back(folder, what)
    return Refusal("record", f"{what} is not there", way)


def _is_deleted(folder: Path, path: str) -> bool:
    """Whether HEAD holds it no more."""
    try:
        return not in_head(opened(folder), (path,))
    except Refusal:  # as for is_sparse
        return False


def is_sparse(folder: Path) -> bool:
    """Whether git leaves folders out of this work tree."""
    try:
        return opened(folder).setting("core.sparseCheckout") == "true"
    except Refusal:  # no git, or one that says by itself what is wrong
        return False
