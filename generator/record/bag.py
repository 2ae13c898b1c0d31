"""Files with their sums, in; a folder by RFC 8493 (BagIt 1.0) that any tool for such bags checks,
out. Written whole or not at all, the same bytes for the same files and words."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from hashlib import sha256
from pathlib import Path

from generator.beside import own_room
from generator.findings import Refusal
from generator.record.disk import named, write

_BUFFER = 1 << 20


def write_bag(
    target: Path,
    copies: Mapping[str, tuple[Path, str]],
    made: Mapping[str, bytes],
    about: Sequence[tuple[str, str]],
) -> int:
    """Write the bag; gives the bytes of its payload.

    copies: name below data/ -> the file and the sum that it must have; made: name below data/ ->
    content; about: lines of bag-info.txt. Refusal where a file is not what its sum says or where
    the target is there already.
    """
    if os.path.lexists(target):
        raise Refusal("file", f"{target} is there already", "a new name for the dossier")
    with own_room(target.parent) as room:
        beside = room / target.name
        sums, size = _payload(beside / "data", copies, made)
        told = [*about, ("Payload-Oxum", f"{size}.{len(sums)}")]
        tags = {
            "bagit.txt": b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n",
            "bag-info.txt": "".join(f"{key}: {words}\n" for key, words in told).encode(),
            "manifest-sha256.txt": _manifest({f"data/{n}": s for n, s in sums.items()}),
        }
        tags["tagmanifest-sha256.txt"] = _manifest(
            {name: sha256(content).hexdigest() for name, content in tags.items()}
        )
        for name, content in tags.items():
            write(beside / name, content)
        os.rename(beside, target)
    return size


def _manifest(sums: Mapping[str, str]) -> bytes:
    return "".join(f"{told}  {_coded(name)}\n" for name, told in sorted(sums.items())).encode()


def _coded(name: str) -> str:
    """A name as section 2.1.3 wants it: line ends and the sign for a code are written as codes."""
    return name.replace("%", "%25").replace("\n", "%0A").replace("\r", "%0D")


def _payload(
    data: Path, copies: Mapping[str, tuple[Path, str]], made: Mapping[str, bytes]
) -> tuple[dict[str, str], int]:
    sums: dict[str, str] = {}
    size = 0
    for name, (file, wanted) in copies.items():
        target = data / name
        target.parent.mkdir(parents=True, exist_ok=True)
        sums[name] = _copied(file, target)
        size += target.stat().st_size
        if sums[name] != wanted:
            wrong = f"{file.name} is not what the record says"
            raise Refusal("record", wrong, "witnessmark verify, first")
    for name, content in made.items():
        target = data / name
        target.parent.mkdir(parents=True, exist_ok=True)
        write(target, content)
        sums[name] = sha256(content).hexdigest()
        size += len(content)
    return sums, size


def _copied(file: Path, target: Path) -> str:
    """Copy a file and give the sum of what was copied."""
    told = sha256()
    try:
        with file.open("rb") as source, named(target), target.open("wb") as copy:
            while block := source.read(_BUFFER):
                told.update(block)
                copy.write(block)
    except FileNotFoundError:
        raise Refusal("record", f"{file.name} is missing", "witnessmark verify, first") from None
    return told.hexdigest()
