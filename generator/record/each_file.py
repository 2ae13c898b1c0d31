"""Files of a record with the sums that its lists give them, in; what is wrong with each by itself,
out. They are read on all cores, so many at a time that handing them out costs nothing."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from hashlib import sha256
from itertools import chain
from pathlib import Path

from generator.files import LARGEST
from generator.findings import Finding, Place
from generator.library.cores import on_all_cores
from generator.record.git import sums_by_git
from generator.record.shapes import ACT, fault_in

_AT_ONCE = 200  # files; with fewer than a few times that, one process reads them all
_BUFFER = 1 << 18
_FACTS = re.compile(r"output/issued/([^/]+)/facts\.yaml")
_READ = ("changed", "unreadable")  # what is told first
_Told = tuple[str, str, str | None]  # path, sum, name of what git holds of it; None: not asked


def wrong_files(
    folder: Path, sums: Mapping[str, str], there: Sequence[str], held: Mapping[str, str] | None
) -> list[Finding]:
    """What is wrong with the files that are there: another sum, an act or facts that no command
    could read, an act of another kind or traveller than its path says, other content than HEAD
    holds; all of one kind together, in the order of the files.

    held: path -> name of its content in git's store; None where git is not asked.
    """
    told = [(path, sums[path], None if held is None else held.get(path, "")) for path in there]
    parts = [told[at : at + _AT_ONCE] for at in range(0, len(told), _AT_ONCE)]
    look = partial(_wrong_in, folder)
    found = [each for part in on_all_cores(look, parts) for each in part]
    first = [each for code in _READ for each in found if each.code == code]
    return [*first, *(each for each in found if each.code not in _READ)]


def _wrong_in(folder: Path, told: Sequence[_Told]) -> list[Finding]:
    buffer = bytearray(_BUFFER)
    return list(chain.from_iterable(_wrong(folder, each, buffer) for each in told))


def _wrong(folder: Path, told: _Told, buffer: bytearray) -> Iterator[Finding]:
    path, named, held = told
    found, by_git = sums_of(f"{folder}/{path}", buffer, len(held or ""))
    if found != named:
        # HEAD may hold the change as well: only the commit that brought it is sure to be whole.
        right = f"git log -p -- {path}, then git checkout FIRST-COMMIT -- {path}"
        yield Finding(Place(path), "changed", "it is not what its sum says", right)
    elif held is not None and (not held or by_git != held):
        yield not_held(path, held)
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


def not_held(path: str, held: str) -> Finding:
    """That HEAD does not hold a file as it was recorded; held: what it holds, "" for nothing."""
    if not held:
        right = f"git add --force {path}, then git commit: no other clone has it"
        return Finding(Place(path), "uncommitted", "HEAD does not hold it", right)
    wrong = "HEAD holds something else under its name, such as other line ends"
    right = f"'output/** -text' in .gitattributes, git add --renormalize {path}, then git commit"
    return Finding(Place(path), "uncommitted", wrong, right)


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
    return sums_of(path, buffer, 0)[0]


def sums_of(path: str, buffer: bytearray, width: int) -> tuple[str, str]:
    """The sum of a file, and its name in a store of git's whose names have that width, "" for none;
    in one reading. "" for both where it cannot be read."""
    made, view = sha256(), memoryview(buffer)
    try:
        handle = os.open(path, os.O_RDONLY | os.O_NOFOLLOW)
    except OSError:
        return "", ""
    try:
        count = os.readv(handle, [buffer])
        size = count if count < len(buffer) else os.fstat(handle).st_size
        named = sums_by_git(size, width) if width else None
        while count:
            made.update(view[:count])
            if named:
                named.update(view[:count])
            if count < len(buffer):
                break  # a plain file gives less only at its end
            count = os.readv(handle, [buffer])
    finally:
        os.close(handle)
    return made.hexdigest(), named.hexdigest() if named else ""
