"""What was found out about a process, in; kept beside the drafts, and out again as long as nothing
changed that decides it.

One file a process in output/draft/.kept/, thrown away with the drafts. Its first line is the sum
of the others, so that a torn or altered file is none; the second says what decided it. Whatever
is not wholly as it was written is passed over: it costs time, never a finding. Only sound
processes are kept.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

from generator.library.verdicts import Verdict, as_text, from_text

_LARGEST = 1 << 20
_ROOM = os.path.join("output", "draft", ".kept")


@dataclass(frozen=True, slots=True)
class Print:
    """A folder of finished sheets: what they were made with besides the process, what its files
    looked like, and the sum of each."""

    made_with: str
    looks: str
    sums: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Kept:
    """What is kept of one process file; prints: by the name of their folder in output/draft/."""

    key: str
    verdict: Verdict
    prints: Mapping[str, Print]


def place_of(folder: Path, shown: str) -> str:
    """Where the file of a process file lies."""
    return os.path.join(folder, _ROOM, sha256(os.fsencode(shown)).hexdigest()[:32])


def recall(folder: Path, shown: str, key: str, with_advice: bool = False) -> Kept | None:
    """What is kept of a process file under this key; None where there is nothing or not that."""
    try:
        told, _, rest = _content(place_of(folder, shown)).partition(b"\n")
        if told.decode() != sha256(rest).hexdigest():
            return None
        under, verdict, *prints = rest.decode().split("\n")
        if under != key:
            return None
        return Kept(key, from_text(verdict, with_advice), dict(map(_print, prints)))
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return None


def _content(place: str) -> bytes:
    """The bytes of a file of ours; whatever else stands there is never waited for."""
    handle = os.open(place, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
    try:
        return os.read(handle, _LARGEST)
    finally:
        os.close(handle)


def _print(line: str) -> tuple[str, Print]:
    name, made_with, looks, sums = json.loads(line)
    return str(name), Print(str(made_with), str(looks), dict(sums))


def _line(name: str, made: Print) -> str:
    return json.dumps([name, made.made_with, made.looks, dict(made.sums)], separators=(",", ":"))


def content_of(kept: Kept) -> bytes:
    """The bytes of a file of ours."""
    lines = [kept.key, as_text(kept.verdict), *(_line(*each) for each in kept.prints.items())]
    rest = "\n".join(lines).encode()
    return sha256(rest).hexdigest().encode() + b"\n" + rest


def keep(folder: Path, shown: str, kept: Kept, begin: bool = True) -> None:
    """Keep what is sound, where the disk lets us. begin: also where nothing is kept yet."""
    room = os.path.join(folder, _ROOM)
    if not kept.verdict.sound or not (begin or os.path.isdir(room)):
        return
    with suppress(OSError):
        if not os.path.isdir(room):
            os.makedirs(room, exist_ok=True)
            Path(room, ".gitignore").write_text("*\n", encoding="utf-8")
        put(content_of(kept), place_of(folder, shown))


def put(content: bytes, place: str) -> None:
    """The content whole at its place, or not at all."""
    beside = f"{place}.new"
    with open(beside, "wb") as made:
        made.write(content)
    os.replace(beside, place)


def added(before: Kept | None, key: str, verdict: Verdict) -> Kept:
    """What was kept with a verdict added: one that looked further stays."""
    if before is None or before.key != key:
        return Kept(key, verdict, {})
    further = before.verdict if before.verdict.whole and not verdict.whole else verdict
    return replace(before, verdict=further)


def forget(folder: Path, shown: Iterable[str]) -> None:
    """Keep nothing of these any more."""
    for each in shown:
        with suppress(OSError):
            os.unlink(place_of(folder, each))


def tidy(folder: Path, shown: Iterable[str]) -> None:
    """Take away what is kept of files that are not there any more."""
    wanted = {".gitignore", "lock"}
    wanted |= {os.path.basename(place_of(folder, each)) for each in shown}
    with suppress(OSError):
        for name in set(os.listdir(os.path.join(folder, _ROOM))) - wanted:
            if not name.endswith(".new"):
                os.unlink(os.path.join(folder, _ROOM, name))
