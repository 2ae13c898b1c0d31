"""A serial and the files of a traveller, in; a note by which any later run can finish it, out.

The note lies in the git folder from before the number is taken until after the commit. It names
every file's blob in git's store, so that finishing never depends on what became of the folder.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from generator.findings import Refusal
from generator.record import register
from generator.record.desk import ISSUED, Desk, trailer
from generator.record.disk import replace_file
from generator.record.git import stored


@dataclass(frozen=True)
class Taking:
    """One traveller on its way into the record.

    lines: its lines for the register. blobs: path from the workshop folder -> name in git's store.
    """

    serial: str
    message: str
    lines: str
    blobs: Mapping[str, str]

    @property
    def added(self) -> bytes:
        return self.lines.encode()


def taking(desk: Desk, serial: str, files: Mapping[str, bytes], message: str) -> Taking:
    """The note of a traveller, its files already in git's store."""
    folder = f"{ISSUED}/{serial}"
    blobs = {f"{folder}/{name}": stored(desk.tree, files[name]) for name in sorted(files)}
    words = f"{committable(message).rstrip()}\n\n{trailer(serial)}"
    return Taking(serial, words, register.lines(folder, files), blobs)


def committable(message: str) -> str:
    """The same words. Refusal where git would refuse them, which must not wait until the commit."""
    if "\0" in message or message.encode(errors="replace").decode() != message:
        raise Refusal("record", "the words of the commit hold unreadable signs", "plain text")
    return message


def keep(note: Path, what: Taking) -> None:
    replace_file(note, json.dumps(asdict(what)).encode())


def kept(note: Path) -> Taking | None:
    """The note that a killed run left, if any."""
    return Taking(**json.loads(note.read_bytes())) if note.exists() else None
