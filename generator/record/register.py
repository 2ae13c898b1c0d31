"""Lines of a register, in; serials and lines for sha256sum, out."""

from __future__ import annotations

import hashlib
import os
import re
from pathlib import Path

from generator.findings import Refusal
from generator.record.disk import flush, named

_LINE = re.compile(rb"^[0-9a-f]{64}  output/issued/([A-Z])-([0-9]{4,})/sums\.txt\n", re.MULTILINE)
_PIECE = 16_384  # bytes that are read at a time from the end of a register


def serial_of(desk: str, number: int) -> str:
    """A-0001 for the first traveller of desk A; five digits only after A-9999."""
    return f"{desk}-{number:04d}"


def number_of(desk: str, serial: str) -> int:
    """The number in a serial of the desk; 0 where it is none."""
    found = re.fullmatch(rf"{desk}-([0-9]{{4,}})", serial)
    return int(found[1]) if found else 0


def line(path: str, content: bytes) -> str:
    """One line as sha256sum reads it, path seen from the workshop folder."""
    return f"{hashlib.sha256(content).hexdigest()}  {path}\n"


def last(register: bytes, desk: str) -> int:
    """The number of the desk's last traveller in its register, 0 where it holds none.

    The numbers of a register only ever rise, so the last one is the highest, and a register of any
    length is read from its end.
    """
    end = len(register)
    while end:
        start = register.rfind(b"\n", 0, max(0, end - _PIECE)) + 1
        found = [
            number
            for letter, number in _LINE.findall(register[start:end])
            if letter == desk.encode()
        ]
        if found:
            return int(found[-1])
        end = start
    return 0


def grown(standing: bytes, committed: bytes, added: bytes = b"") -> bool:
    """Whether the register is what git holds, and after it no more than a start of our lines, or
    what a power cut makes of them: a file grown to its length whose bytes are not all there."""
    torn = standing[len(committed) :]
    if not standing.startswith(committed) or len(torn) > len(added):
        return False
    return all(byte in (0, ours) for byte, ours in zip(torn, added, strict=False))


def rest(held: bytes, lines: bytes) -> bytes:
    """What git lacks of lines of ours in a list that it holds: nothing where they stand in it, only
    their end where it ends with a start of them, which somebody committed behind a stopped run."""
    if held.startswith(lines) or b"\n" + lines in held:
        return b""
    for count in range(min(len(lines), len(held)), 0, -1):
        if held.endswith(lines[:count]) and held[-count - 1 : -count] in (b"", b"\n"):
            return lines[count:]
    return lines


def append(file: Path, committed: bytes, added: bytes) -> None:
    """Put the lines after what git holds; a torn last line of a killed run is cut off first.

    Refusal where the register was changed by hand: it is only ever added to.
    """
    standing = file.read_bytes() if file.exists() else b""
    if not grown(standing, committed, added):
        raise changed(file)
    if standing == committed + added:
        if standing:  # a run that was killed may have written it and not flushed it
            flush(file)
            flush(file.parent)
        return
    file.parent.mkdir(parents=True, exist_ok=True)
    handle = os.open(file, os.O_WRONLY | os.O_CREAT, 0o666)
    try:
        with named(file):
            os.ftruncate(handle, len(committed))
            os.lseek(handle, len(committed), os.SEEK_SET)
            _write_all(handle, added)
            os.fsync(handle)
    finally:
        os.close(handle)
    flush(file.parent)


def _write_all(handle: int, content: bytes) -> None:
    while content:
        content = content[os.write(handle, content) :]


def torn(file: Path) -> Refusal:
    """The refusal of a list that git holds with half a line at its end, which is none of ours."""
    shown = f"{file.parent.name}/{file.name}"
    right = f"take the half line out of {shown}, git commit {shown}"
    return Refusal("record", f"git holds {shown} without the end of its last line", right)


def changed(file: Path) -> Refusal:
    """The refusal of a register that is not what git holds."""
    _, found, below = file.as_posix().rpartition("/output/")
    shown = f"output/{below}" if found else file.name  # as it is seen from the workshop folder
    wrong = f"{shown} is not what git holds: lines were changed, lost or added by hand"
    return Refusal("record", wrong, f"git checkout HEAD -- {shown}")
