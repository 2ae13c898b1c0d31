"""A record and a seed, in; one small thing in it changed, and what must be told, out; and back."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Tampering:
    """What was done, to which file, and how it is undone."""

    what: str
    path: str
    undo: Callable[[], object]


def tampered(folder: Path, seed: int) -> Tampering:
    """One change to a file of the record, chosen by the seed."""
    chance = random.Random(seed)
    files = sorted(f for f in (folder / "output").rglob("*") if f.is_file() and _counts(f, folder))
    file = chance.choice(files)
    path = file.relative_to(folder).as_posix()
    what = chance.choice(["bit", "line", "line", "remove", "add", "rename"])
    content = file.read_bytes()
    if what == "line" and file.suffix not in (".txt", ".md", ".yaml", ".json"):
        what = "bit"
    if what == "bit":
        at = chance.randrange(len(content))
        flipped = content[at] ^ (1 << chance.randrange(8))
        file.write_bytes(content[:at] + bytes([flipped]) + content[at + 1 :])
        return Tampering(f"bit at {at}", path, lambda: file.write_bytes(content))
    if what == "line":
        how, lines = _lines(content, chance)
        file.write_bytes(lines)
        return Tampering(how, path, lambda: file.write_bytes(content))
    if what == "remove":
        file.unlink()
        return Tampering(what, path, lambda: file.write_bytes(content))
    if what == "add":
        name = file.with_name(f"added-{seed}{file.suffix}")
        name.write_bytes(content)
        return Tampering(what, name.relative_to(folder).as_posix(), name.unlink)
    name = file.with_name(f"renamed-{seed}{file.suffix}")
    file.rename(name)
    return Tampering(what, path, lambda: name.rename(file))


def _counts(file: Path, folder: Path) -> bool:
    return file.relative_to(folder / "output").parts[0] not in ("draft", "handbook", "sample")


def _lines(content: bytes, chance: random.Random) -> tuple[str, bytes]:
    """One line deleted, doubled, changed, or two of them in each other's place."""
    rows = content.splitlines(keepends=True)
    at = chance.randrange(len(rows))
    how = chance.choice(["delete", "double", "change", "swap", "carriage return"])
    other = next((i for i, row in enumerate(rows) if row != rows[at]), None)
    if how == "swap" and other is not None:
        rows[at], rows[other] = rows[other], rows[at]
    elif how == "delete":
        del rows[at]
    elif how == "double":
        rows.insert(at, rows[at])
    elif how == "carriage return":
        rows[at] = rows[at].rstrip(b"\n") + b"\r\n"
    else:
        rows[at] = b"0" + rows[at]
    return f"{how} line {at + 1}", b"".join(rows)
