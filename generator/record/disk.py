"""Files and a folder, in; the same on the disk so that a power cut cannot take them back, out."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath

from generator.findings import Refusal


@contextmanager
def named(path: Path) -> Iterator[None]:
    """Inside, what the disk refuses has the name of the file: a write alone does not know it."""
    try:
        yield
    except OSError as fault:
        fault.filename = fault.filename or str(path)
        raise


def flush(path: Path) -> None:
    """Wait until a file, or the names in a folder, are on the disk."""
    handle = os.open(path, os.O_RDONLY)
    try:
        with named(path):
            os.fsync(handle)
    finally:
        os.close(handle)


def write(file: Path, content: bytes) -> None:
    """The content in the file, not flushed."""
    with named(file):
        file.write_bytes(content)


def made_folder(folder: Path) -> Path:
    """The folder, made with all above it and flushed where it was not there."""
    if not folder.is_dir():
        made_folder(folder.parent)
        folder.mkdir(exist_ok=True)
        flush(folder.parent)
    return folder


def flush_ways(top: Path, paths: Iterable[str]) -> None:
    """The names of all folders between the top and each of the paths below it, and of the paths."""
    above = {folder for path in paths for folder in PurePosixPath(path).parents}
    for folder in sorted(above):
        flush(top / folder)


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """A new folder with these files, all flushed. The folder must not be there yet."""
    folder.mkdir()
    for name in sorted(files):
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        write(file, files[name])
        flush(file)
    for inner in [each for each in folder.rglob("*") if each.is_dir()]:
        flush(inner)
    flush(folder)
    flush(folder.parent)


def move_folder(source: Path, target: Path) -> None:
    """Rename a folder, as one step that is either done or not, and flush both ends."""
    os.rename(source, target)
    flush(target.parent)
    flush(source.parent)


def replace_file(file: Path, content: bytes) -> None:
    """Write a file so that at any moment the old or the new content stands there, never a mix."""
    beside = half_written(file)
    try:
        write(beside, content)
        flush(beside)
        os.replace(beside, file)
    except OSError:
        with suppress(OSError):
            beside.unlink(missing_ok=True)
        raise
    flush(file.parent)


def half_written(file: Path) -> Path:
    """Where a file's new content stands until it is whole."""
    return file.with_name(file.name + ".new")


def remove(path: Path) -> None:
    """Remove a file or a folder with all that is in it; nothing where there is none."""
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path)
    else:
        path.unlink(missing_ok=True)


@contextmanager
def disk_refusals() -> Iterator[None]:
    """Inside, what the disk refuses becomes a refusal in plain words."""
    try:
        yield
    except OSError as fault:
        wrong = f"{fault.filename or 'the disk'}: {fault.strerror or fault}"
        right = "room and the right to write there, then run again"
        raise Refusal("record", wrong, right) from fault
