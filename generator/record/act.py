"""What is to be added to the record in one step, in; a note by which any later run can finish it,
out.

The note lies in the git folder from the moment the act is decided until after the commit. It names
every file's blob in git's store, so that finishing never depends on what became of the files.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path, PurePosixPath

from generator.findings import Refusal
from generator.record import register
from generator.record.disk import replace_file
from generator.record.shapes import fault_in

SUMS = "sums.txt"
_BLOB = re.compile(r"[0-9a-f]{40}|[0-9a-f]{64}")
# Signs that sha256sum, git and every file system write alike; a dot first hides or leads away.
_PLAIN_PART = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_ .+-]*")


@dataclass(frozen=True)
class Act:
    """One act for the record: nothing in it may be there already.

    title: what people call it, such as A-0042. words: of its commit.
    files: path from the workshop folder -> content, all below output/.
    lists: path of a list that is only ever added to -> lines that go behind what git holds.
    folder: "" or a new folder, which then appears in one step and gets a file of its sums; the
    register names that file, and every file that is not in the folder.
    """

    title: str
    words: str
    files: Mapping[str, bytes]
    lists: Mapping[str, str] = field(default_factory=dict)
    folder: str = ""


@dataclass(frozen=True)
class Note:
    """An act that is decided: its files by their names in git's store, its lines by their list.

    prefix: the way from the top of the work tree to the workshop it was begun in; None in a note
    that does not say.
    """

    title: str
    words: str
    blobs: Mapping[str, str]
    added: Mapping[str, str]
    folder: str
    prefix: str | None = None


def whole(act: Act) -> Act:
    """The act with the sums of its folder. Refusal where a name or the words cannot be kept."""
    if not act.files:
        raise Refusal("record", f"{act.title} has no files", "at least one file")
    for path in act.files:
        if not _is_plain(path) or any(str(a) in act.files for a in PurePosixPath(path).parents):
            shown = path.removeprefix(f"{act.folder}/") if act.folder else path
            right = "a plain relative name, such as traveller.md or workshop/stamps.yaml"
            raise Refusal("record", f"'{shown}' is no name for a file of the record", right)
    committable(act.words)
    for path, content in act.files.items():
        if wrong := fault_in(path, content):
            right = "words without it; whoever keeps the program is told, with this line"
            raise Refusal("record", f"{path} could not be read again: {wrong}", right)
    if not act.folder:
        return act
    own = [path for path in sorted(act.files) if path.startswith(f"{act.folder}/")]
    sums = "".join(register.line(path, act.files[path]) for path in own)
    files = {**act.files, f"{act.folder}/{SUMS}": sums.encode()}
    return Act(act.title, act.words, files, act.lists, act.folder)


def register_lines(act: Act) -> str:
    """The lines of a whole act for the register."""
    own = [f"{act.folder}/{SUMS}"] if act.folder else []
    shown = [*own, *sorted(outside(act.folder, act.files))]
    return "".join(register.line(path, act.files[path]) for path in shown)


def outside(folder: str, paths: Iterable[str]) -> list[str]:
    """Those of the paths that are not in the folder."""
    return [path for path in paths if not folder or not path.startswith(f"{folder}/")]


def _is_plain(path: str) -> bool:
    return path.startswith("output/") and all(map(_PLAIN_PART.fullmatch, path.split("/")))


def committable(words: str) -> str:
    """The same words. Refusal where git would refuse them, which must not wait until the commit."""
    if "\0" in words or words.encode(errors="replace").decode() != words:
        raise Refusal("record", "the words of the commit hold unreadable signs", "plain text")
    return words


def keep(note: Path, what: Note) -> None:
    """From here on the act is decided: every later run finishes it."""
    replace_file(note, json.dumps(asdict(what)).encode())


def kept(note: Path) -> Note | None:
    """The note that a killed run left, if any. Refusal where it is not as it was written."""
    if not note.exists():
        return None
    try:
        left = _shaped(Note(**json.loads(note.read_bytes())), note.stem[-1])
    except (AttributeError, ValueError, TypeError, RecursionError):
        wrong = f"the note of an act that was begun cannot be read: {note}"
        right = "a copy of it; or without it, where nothing of the act stands in output/"
        raise Refusal("record", wrong, right) from None
    return left


def _shaped(left: Note, letter: str) -> Note:
    """The same note. TypeError where it is not of the shape in which a desk keeps it."""
    texts = [left.title, left.words, left.folder, "" if left.prefix is None else left.prefix]
    paths = [*left.blobs, *left.added, *([left.folder] if left.folder else [])]
    texts += [*paths, *left.blobs.values(), *left.added.values()]
    if not all(isinstance(text, str) for text in texts):
        raise TypeError("not all texts")
    whole = left.blobs and left.added.get(f"output/register-{letter}.txt")
    if not (whole and all(map(_is_plain, paths))):
        raise TypeError("no files, no lines of a register, or a path that leads elsewhere")
    if not all(map(_BLOB.fullmatch, left.blobs.values())):
        raise TypeError("a file without a name in git's store")
    return left
