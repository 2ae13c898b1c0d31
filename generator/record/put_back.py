"""A workshop folder and a file of its record that is not there, in; the words that bring it back
from git, out. Nothing here writes."""

from __future__ import annotations

from pathlib import Path

from generator.findings import Refusal
from generator.record.git import opened

_ALL = "git sparse-checkout disable: a record is needed whole"


def put_back(folder: Path, path: str) -> str:
    """What to do about the path."""
    return way_back(path, is_sparse(folder))


def way_back(path: str, sparse: bool) -> str:
    """The same where it is known whether git was told to leave folders out: then it knows no path
    in them, and git checkout brings none back."""
    return _ALL if sparse else f"git checkout HEAD -- {path}"


def is_sparse(folder: Path) -> bool:
    """Whether git leaves folders out of this work tree."""
    try:
        return opened(folder).setting("core.sparseCheckout") == "true"
    except Refusal:  # no git, or one that says by itself what is wrong
        return False
