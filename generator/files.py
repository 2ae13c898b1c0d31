"""The folder of a workshop in; which files there are, and their bytes, out."""

from __future__ import annotations

import os
from collections.abc import Collection
from pathlib import Path

from generator.findings import Finding, Place, Refusal, near_word

LARGEST = 1024 * 1024  # bytes; a process of 60 operations takes about 40 kB
LISTS = ("workshop", "stamps", "instruments", "materials")


def shop_files(folder: Path) -> list[str]:
    """The files that hold for the whole shop and decide what is printed, seen from the folder."""
    room = folder / "processes" / "workshop"
    files = [room / f"{name}.yaml" for name in LISTS]
    files += sorted((room / "tables").glob("*.yaml"))
    return [file.relative_to(folder).as_posix() for file in files if file.exists()]


def process_files(folder: Path) -> list[str]:
    """Every process file as seen from the folder, in the order of their names, a folder before what
    begins like it; lists of the shop and values are none, and links are told as odd files."""
    root = os.path.join(folder, "processes")
    found: list[tuple[str, ...]] = []
    for above, folders, files in os.walk(root):
        steps = () if above == root else tuple(above[len(root) + 1 :].split(os.sep))
        if not steps:
            folders[:] = [name for name in folders if name != "workshop"]
        own = (n for n in (*folders, *files) if n.endswith(".yaml") and n[:7] != "values-")
        found += [(*steps, n) for n in own if not os.path.islink(os.path.join(above, n))]
    return ["/".join(("processes", *steps)) for steps in sorted(found)]


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


def no_folder(folder: Path) -> Finding:
    """Of a folder that is no workshop: where it was looked, and what one has in it."""
    wrong = "no folder processes/ here" if folder.is_dir() else "there is no such folder"
    right = "a folder with processes/ in it, and in that processes/workshop/ with the lists"
    if folder == Path():
        right = f"--workshop FOLDER: {right}"
    return Finding(Place(str(folder.absolute())), "folder", wrong, right)


def not_named(folder: Path, word: str, numbers: Collection[str]) -> Refusal:
    """Of a word that names no process: what it is instead, and which numbers there are."""
    wrong = f"no process has the number '{word}'"
    if word.endswith((".yaml", ".yml")) or "/" in word:
        wrong = f"there is no file '{word}'"
        if Path(word).exists():
            wrong = f"'{word}' is no process file below {folder.absolute() / 'processes'}"
    near = near_word(word, numbers)
    known = ", ".join(sorted(numbers)) or "none"
    return Refusal("process", wrong, (f"{near}? " if near else "") + f"one of: {known}")


def no_record(folder: Path) -> Refusal:
    """Of a folder in which nothing was approved or issued yet, or that is no workshop."""
    wrong = f"{folder.absolute()}: there is no record here: no folder output/"
    right = "witnessmark approve, then witnessmark issue: they begin it"
    if not (folder / "processes").is_dir():
        right = no_folder(folder).right
    return Refusal("folder", wrong, right)
