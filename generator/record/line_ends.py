"""Contents of files of the record, in; whether line ends are all that was changed in them, and the
way back, out. Nothing here writes.

A clone may change them in every file on the way out of git. git sees no difference then, so that
neither its diff nor its checkout helps.
"""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path

from generator.findings import Finding, Place, Refusal

CODE = "line ends"
_WRONG = "line ends were changed, as git does by core.autocrlf or .gitattributes"
_RIGHT = (
    "a line 'output/** -text' in .gitattributes beside output/, then "
    "git rm -rq --cached output, and git checkout HEAD -- output"
)
_FEW = 3  # files that are named one by one; of a whole clone it is said once


def plain(content: bytes) -> bytes:
    """The content with the line ends that the record is written with."""
    return content.replace(b"\r\n", b"\n")


def differ_alone(file: Path, sums: str) -> bool:
    """Whether a file has that sum but for its line ends."""
    if file.is_symlink() or not file.is_file():
        return False
    content = file.read_bytes()
    return b"\r\n" in content and sha256(plain(content)).hexdigest() == sums


def finding(path: str) -> Finding:
    return Finding(Place(path), CODE, f"its {_WRONG}", _RIGHT)


def refusal(path: str) -> Refusal:
    return Refusal("record", f"{path}: its {_WRONG}", _RIGHT)


def told_once(found: Iterable[Finding]) -> list[Finding]:
    """The findings; those on line ends, where they are many, as one."""
    others, ends = [], {}
    for each in found:
        if each.code == CODE:
            ends[each.place.path] = each
        else:
            others.append(each)
    if len(ends) <= _FEW:
        return [*others, *ends.values()]
    return [*others, Finding(Place("output"), CODE, f"in {len(ends)} files {_WRONG}", _RIGHT)]
