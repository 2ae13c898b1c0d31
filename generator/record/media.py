"""The record and what lies beside git, in; scans and papers that are missing, changed or not known,
out."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from hashlib import file_digest
from pathlib import Path

from generator.findings import Finding, Place
from generator.record.desk import COMPLETED
from generator.record.files import tree_of

MEDIA = "output/media"


def media_findings(folder: Path, acts: list[str]) -> Iterator[Finding]:
    """What is wrong with the files beside git. acts: the paths of all acts of the record."""
    told = _told(folder, acts)
    if told and not (folder / MEDIA).is_dir():
        wrong = f"the media are not here: {len(told)} files that the record names"
        yield Finding(Place(MEDIA), "missing", wrong, "bring them from the other copy")
        return
    there = set(_there(folder))
    for path in sorted(there - told.keys()):
        right = f"witnessmark attach, or move {path} away"
        yield Finding(Place(path), "unexpected", "no act names it", right)
    for path, (sums, act) in sorted(told.items()):
        if path not in there:
            wrong = f"{act} names it, and it is not there"
            yield Finding(Place(path), "missing", wrong, "bring it from the other copy")
        elif _sum(folder / path) != sums:
            wrong = f"it is not what {act} says"
            yield Finding(Place(path), "changed", wrong, "bring it from the other copy")


def _told(folder: Path, acts: list[str]) -> Mapping[str, tuple[str, str]]:
    found: dict[str, tuple[str, str]] = {}
    for path in acts:
        if path.startswith(COMPLETED) and path.endswith("-attach.yaml"):
            for row in tree_of(folder / path).get("files", ()):
                found[str(row["path"])] = (str(row["sha256"]), path)
    return found


def _there(folder: Path) -> Iterator[str]:
    for place, _, names in os.walk(folder / MEDIA):
        shown = Path(place).relative_to(folder).as_posix()
        yield from (f"{shown}/{name}" for name in names)


def _sum(file: Path) -> str:
    if file.is_symlink():
        return ""
    with file.open("rb") as handle:
        return file_digest(handle, "sha256").hexdigest()
