"""An act that is decided, in; what of it HEAD does not hold, out.

Each file and the lines of each list are asked for by themselves: whoever found a stopped run may
have committed some of them by hand, and what the others lack would be lost.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.record import register
from generator.record.act import Note
from generator.record.desk import Desk
from generator.record.git import in_head


@dataclass(frozen=True)
class Lacking:
    """held: path of every list of the act -> what HEAD holds of it. lines: what is to be added to
    that, nothing where it holds all. files: whether HEAD lacks a file, asked only where it lacks no
    line."""

    held: Mapping[str, bytes]
    lines: Mapping[str, bytes]
    files: bool

    @property
    def nothing(self) -> bool:
        return not self.files and not any(self.lines.values())


def lacking(at: Desk, what: Note) -> Lacking:
    """What HEAD lacks of an act. Refusal where it holds a list with a torn line."""
    held = {path: at.committed(path) for path in what.added}
    lines = {path: _rest(at, path, held[path], what.added[path]) for path in held}
    return Lacking(held, lines, any(lines.values()) or bool(files_lacking(at, what)))


def lines_lacking(at: Desk, what: Note, path: str) -> bytes:
    """Those lines of an act for a list that HEAD does not hold."""
    return _rest(at, path, at.committed(path), what.added[path])


def _rest(at: Desk, path: str, held: bytes, added: str) -> bytes:
    lines = added.encode()
    rest = register.rest(held, lines)
    if rest == lines and held and not held.endswith(b"\n"):
        raise register.torn(at.tree.folder / path)
    return rest


def files_lacking(at: Desk, what: Note) -> set[str]:
    """Those files of an act that HEAD does not hold as they were noted."""
    held = in_head(at.tree, what.blobs)
    return {path for path, blob in what.blobs.items() if held.get(path) != blob}
