"""A workshop folder and a serial, in; what of that traveller is not as the registers say, out.

It is asked before anything is judged by frozen files or added to what was entered: `verify` looks
at the whole record, this at one traveller.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from generator.findings import Refusal
from generator.record.act import SUMS
from generator.record.desk import COMPLETED, ISSUED
from generator.record.history import SERIAL
from generator.record.verify import below, sum_of

_ROW = re.compile(r"([0-9a-f]{64})  (output/[^\n]+)\n")
_BUFFER = 1 << 16


def sound(folder: Path, serial: str) -> None:
    """Refusal, with the first file that is missing, changed or in no list."""
    told = _told(folder, serial)
    there = {
        path
        for place in (f"{ISSUED}/{serial}", f"{COMPLETED}/{serial}")
        if (folder / place).is_dir()
        for path in below(f"{folder}/{place}", place)
    }
    for path in sorted(there - told.keys()):
        raise Refusal("record", f"{path} stands in no list", "witnessmark verify")
    buffer = bytearray(_BUFFER)
    for path in sorted(told):
        if path not in there:
            raise Refusal("record", f"{path} is not there", f"git checkout HEAD -- {path}")
        if sum_of(f"{folder}/{path}", buffer) != told[path]:
            wrong = f"{path} is not what was recorded"
            raise Refusal("record", wrong, f"git diff HEAD -- {path}, and witnessmark verify")


def sums_of(folder: Path, serial: str, registered: Mapping[str, str]) -> dict[str, str]:
    """The sums of the files that a traveller was issued with, by their names. Refusal where the
    file that lists them is not what the register says."""
    path = f"{ISSUED}/{serial}/{SUMS}"
    if sum_of(f"{folder}/{path}", bytearray(_BUFFER)) != registered.get(path, ""):
        wrong = f"{path} is not what was recorded"
        raise Refusal("record", wrong, f"git checkout HEAD -- {path}")
    start = f"{ISSUED}/{serial}/"
    return {name.removeprefix(start): told for name, told in _sums(folder / path)}


def registered(folder: Path, serial: str = SERIAL.pattern) -> dict[str, str]:
    """What the registers say of one traveller, or of all: path -> sum."""
    found: dict[str, str] = {}
    row = re.compile(
        rf"^([0-9a-f]{{64}})  (output/(?:issued|completed)/{serial}/[^\n]+)\n", re.MULTILINE
    )
    for name in sorted(os.listdir(folder / "output")):
        if name.startswith("register-"):
            rows = (folder / "output" / name).read_bytes().decode("utf-8", errors="replace")
            found |= {path: told for told, path in row.findall(rows)}
    return found


def _told(folder: Path, serial: str) -> dict[str, str]:
    """What the registers, and the sums they name, say of the traveller: path -> sum."""
    found = registered(folder, serial)
    for path in [each for each in found if each.endswith(f"/{SUMS}")]:
        found |= dict(_sums(folder / path))
    return found


def _sums(file: Path) -> Iterator[tuple[str, str]]:
    if file.is_file():
        rows = file.read_bytes().decode("utf-8", errors="replace")
        yield from ((path, told) for told, path in _ROW.findall(rows))
