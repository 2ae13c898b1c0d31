"""A workshop folder and a file of its record that is not there, in; the words that bring it back
from git, out. Nothing here writes."""

from __future__ import annotations

from pathlib import Path

from generator.findings import Refusal
from generator.record.git import opened

_ALL = "git sparse-checkout disable: a record is needed whole"


def put_back(folder: Path, *paths: str) -> list[str]:
    """What to do about each path. Where git was told to leave folders out, it knows no path in
    them, and git checkout brings none back."""
    if is_sparse(folder):
        return [_ALL for _ in paths]
    return [f"git checkout HEAD -- {path}" for path in paths]


def is_sparse(folder: Path) -> bool:
    """Whether git leaves folders out of this work tree."""
    try:
        return opened(folder).setting("core.sparseCheckout") == "true"
    except Refusal:  # no git, or one that says by itself what is wrong
        return False
