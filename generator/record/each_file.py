"""Files of a record with the sums that its lists give them, in; what is wrong with each by itself,
out. They are read on all cores, so many at a time that handing them out costs nothing."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from hashlib import sha256
from pathlib import Path

from generator.files import LARGEST
from generator.findings import Finding, Place
from generator.library.cores import on_all_cores
from generator.record.shapes import ACT, fault_in

_AT_ONCE = 200  # files; with fewer than a few times that, one process reads them all
_BUFFER = 1 << 18
_FACTS = re.compile(r"output/issued/([^/]+)/facts\.yaml")
_READ = ("changed", "unreadable")  # what is told first


def wrong_files(folder: Path, sums: Mapping[str, str], there: Sequence[str]) -> list[Finding]:
    """What is wrong with the files that are there: another sum, an act or facts that no command
    could read, an act of another kind or traveller than its path says; all of one kind together,
    in the order of the files."""
    told = [(path, sums[path]) for path in there]
    parts = [told[at : at + _AT_ONCE] for at in range(0, len(told), _AT_ONCE)]
    look = partial(_wrong_in, folder)
    found = [each for part in on_all_cores(look, parts) for each in part]
    first = [each for code in _READ for each in found if each.code == code]
    return [*first, *(each for each in found if each.code not in _READ)]


def _wrong_in(folder: Path, told: Sequence[tuple[str, str]]) -> list[Finding]:
    buffer = bytearray(_BUFFER)
    return [each for path, named in told for each in _wrong(folder, path, named, buffer)]


def _wrong(folder: Path, path: str, named: str, buffer: bytearray) -> Iterator[Finding]:
    if sum_of(f"{folder}/{path}", buffer) != named:
        # HEAD may hold the change as well: only the commit that brought it is sure to be whole.
        right = f"git log -p -- {path}, then git checkout FIRST-COMMIT -- {path}"
        yield Finding(Place(path), "changed", "it is not what its sum says", right)
    act = ACT.fullmatch(path)
    if act is None and not path.endswith("/facts.yaml"):
        return
    try:
        with (folder / path).open("rb") as handle:
            content = handle.read(LARGEST + 1)
    except OSError as fault:
        yield _unreadable(path, f"{fault.strerror}")
        return
    if wrong := fault_in(path, content):
        yield _unreadable(path, wrong)
    if act:
        yield from _misplaced(path, content, act[1] == "completed", act[2], act[3])
    elif (facts := _FACTS.fullmatch(path)) and f"traveller: {facts[1]}" not in _head(content):
        yield Finding(Place(path), "serial", f"it is not of {facts[1]}", "look at its history")


def _head(content: bytes) -> list[str]:
    return content[:400].decode("utf-8", errors="replace").split("\n")


def _unreadable(path: str, wrong: str) -> Finding:
    right = f"git log -p -- {path}, which shows how it came to stand there"
    return Finding(Place(path), "unreadable", f"no command can read it: {wrong}", right)


def _misplaced(
    path: str, content: bytes, of_traveller: bool, of: str, kind: str
) -> Iterator[Finding]:
    key = "traveller" if of_traveller else "process"
    if content and not content.startswith(f"act: {kind}\n{key}: {of}\n".encode()):
        wrong = f"it is no act '{kind}' on {of}"
        yield Finding(Place(path), "act", wrong, f"git log -p -- {path}")


def sum_of(path: str, buffer: bytearray) -> str:
    """The sum of a file; "" where it cannot be read."""
    made, view = sha256(), memoryview(buffer)
    try:
        handle = os.open(path, os.O_RDONLY | os.O_NOFOLLOW)
    except OSError:
        return ""
    try:
        while count := os.readv(handle, [buffer]):
            made.update(view[:count])
            if count < len(buffer):
                break  # a plain file gives less only at its end
    finally:
        os.close(handle)
    return made.hexdigest()
