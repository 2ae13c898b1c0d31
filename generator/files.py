"""The folder of a workshop in; which files there are, and their bytes, out."""

from __future__ import annotations

import os
from pathlib import Path

LARGEST = 1024 * 1024  # bytes; a process of 60 operations takes about 40 kB
LISTS = ("workshop", "stamps", "instruments", "materials")


def shop_files(folder: Path) -> list[str]:
    """The files that hold for the whole shop and decide what is printed, seen from the folder."""
    room = folder / "processes" / "workshop"
    files = [room / f"{name}.yaml" for name in LISTS]
    files += sorted((room / "tables").glob("*.yaml"))
    return [file.relative_to(folder).as_posix() for file in files if file.exists()]


def process_files(root: Path) -> list[Path]:
    """Every process file, in the order of their names; lists of the shop and values are none, and
    links are told as odd files."""
    files = [f for f in root.rglob("*.yaml") if not f.name.startswith("values-")]
    files = [f for f in files if not f.is_symlink()]
    return sorted(f for f in files if f.relative_to(root).parts[0] != "workshop")


def source_of(folder: Path, shown: str) -> bytes | None:
    """The bytes of a file, up to one too many; None where there are none: `read_file` says why."""
    try:
        handle = os.open(os.path.join(folder, shown), os.O_RDONLY | os.O_NONBLOCK)
        try:
            return os.read(handle, LARGEST + 1) or None
        finally:
            os.close(handle)
    except (OSError, ValueError):
        return None
