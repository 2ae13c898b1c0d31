"""The sound workshop of the cases in; the same with something hostile in it, out."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.helping import SOUND

SHELF = "processes/shelf.yaml"
NUMBER = "T6-P-0120"


def shop(beside: Path, alone: bool = False) -> Path:
    """A copy in a folder of its own, with nothing beside it. alone: its own lists, no process."""
    folder = beside / "shop"
    shutil.copytree(SOUND, folder)
    for file in (folder / "processes").glob("*.yaml") if alone else ():
        file.unlink()
    return folder


def with_text(folder: Path, old: str, new: str) -> Path:
    """One text of the shelf's process in the place of another; it must have stood there."""
    file = folder / SHELF
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8", newline="")
    return folder


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, so that a test can say that nothing changed."""
    return {
        each.relative_to(folder).as_posix(): each.read_bytes()
        for each in sorted(folder.rglob("*"))
        if each.is_file() and not each.is_symlink()
    }
