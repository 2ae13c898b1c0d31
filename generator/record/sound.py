"""A workshop folder and a serial, in; what of that traveller is not as the registers say, out.

It is asked before anything is judged by frozen files or added to what was entered: `verify` looks
at the whole record, this at one traveller.
"""

from __future__ import annotations

import os
import re
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path

from generator.findings import Refusal
from generator.record import line_ends
from generator.record.act import SUMS
from generator.record.desk import COMPLETED, ISSUED, PROCESSES
from generator.record.each_file import sum_of
from generator.record.expected import registers
from generator.record.history import SERIAL, Traveller
from generator.record.put_back import not_there
from generator.record.shapes import ACT
from generator.record.verify import below

_OF_TRAVELLER = re.compile(
    rf"^([0-9a-f]{{64}})  (output/(?:issued|completed)/({SERIAL.pattern})/[^\n]+)\n", re.MULTILINE
)
_ROW = re.compile(r"([0-9a-f]{64})  (output/[^\n]+)\n")
_BUFFER = 1 << 16
_FEW = 8  # travellers whose rows are found sooner than all rows are taken apart
_TWO = "two sums"  # of a path that the lists name twice: no file has it


def sound(folder: Path, serial: str, rows: Mapping[str, str] | None = None) -> None:
    """Refusal, with the first file that is missing, changed or in no list.

    rows: what the registers say of it, where many travellers are asked after and the registers were
    read once for all of them.
    """
    told = _told(folder, registered(folder, serial) if rows is None else rows)
    there = {
        path
        for place in (f"{ISSUED}/{serial}", f"{COMPLETED}/{serial}")
        if (folder / place).is_dir()
        for path in below(f"{folder}/{place}", place)
    }
    _as_told(folder, told, there)


def judged(folder: Path, serials: Collection[str]) -> Iterator[Traveller]:
    """The travellers, each with facts and acts that are what the registers say; their sheets stay
    shut. Refusal with the first file that is missing, changed or in no list. Of a few the rows are
    looked up, of many all rows are read once."""
    rows = by_traveller(folder) if len(serials) > _FEW else {}
    for serial in serials:
        theirs = rows.get(serial, {}) if rows else registered(folder, serial)
        _sound_acts(folder, serial, theirs)
        yield Traveller(folder, serial)


def _sound_acts(folder: Path, serial: str, rows: Mapping[str, str]) -> None:
    done = f"{COMPLETED}/{serial}"
    names = os.listdir(folder / done) if (folder / done).is_dir() else []
    acts = {path for path in (f"{done}/{name}" for name in names) if ACT.fullmatch(path)}
    _as_told(folder, {path: rows[path] for path in rows if ACT.fullmatch(path)}, acts)
    sums, facts = (f"{ISSUED}/{serial}/{name}" for name in (SUMS, "facts.yaml"))
    there = {path for path in (sums, facts) if (folder / path).is_file()}
    _as_told(folder, {sums: rows.get(sums, "")}, there & {sums})
    listed = dict(_sums(folder / sums))
    _as_told(folder, {facts: listed.get(facts, "")}, there & {facts})


def sound_processes(folder: Path, begun: Collection[str] = ()) -> None:
    """Refusal, with the first act on any process that is missing, changed or in no list. begun:
    what another run has not put in its place and its lists yet."""
    told: dict[str, str] = {}
    for rows in _registers(folder):
        theirs = _holding(rows, f"  {PROCESSES}/".encode()).decode(errors="replace")
        for sums, path in _ROW.findall(theirs):
            _name(told, path, sums)
    place = f"{folder}/{PROCESSES}"
    there = below(place, PROCESSES) if os.path.isdir(place) else ()
    acts = {path for path in there if ACT.fullmatch(path)}
    _as_told(folder, {p: told[p] for p in told if p not in begun}, acts.difference(begun))


def _as_told(folder: Path, told: Mapping[str, str], there: set[str]) -> None:
    lost = [each for each in told.keys() - there if each.endswith(f"/{SUMS}")]
    for path in sorted(there - told.keys()):
        for sums in (each for each in lost if path.startswith(each.removesuffix(SUMS))):
            raise not_there(folder, sums)  # which named the files beside it
        raise Refusal("record", f"{path} stands in no list", "witnessmark verify")
    buffer = bytearray(_BUFFER)
    for path in sorted(told):
        if told[path] == _TWO:
            wrong = f"the lists name {path} twice, with different sums"
            raise Refusal("record", wrong, "witnessmark verify, and ask who committed the second")
        if path not in there:
            raise not_there(folder, path)
        if sum_of(f"{folder}/{path}", buffer) != told[path]:
            if line_ends.differ_alone(folder / path, told[path]):
                raise line_ends.refusal(path)
            wrong = f"{path} is not what was recorded"
            raise Refusal("record", wrong, f"git diff HEAD -- {path}, and witnessmark verify")


def _name(told: dict[str, str], path: str, sums: str) -> None:
    """Put down what a list says of a path."""
    told[path] = sums if told.get(path, sums) == sums else _TWO


def sums_of(folder: Path, serial: str, registered: Mapping[str, str]) -> dict[str, str]:
    """The sums of the files that a traveller was issued with, by their names. Refusal where the
    file that lists them is not what the register says."""
    path = f"{ISSUED}/{serial}/{SUMS}"
    if path in registered and not os.path.lexists(folder / path):
        raise not_there(folder, path)
    if sum_of(f"{folder}/{path}", bytearray(_BUFFER)) != registered.get(path, ""):
        wrong = f"{path} is not what was recorded"
        raise Refusal("record", wrong, f"git checkout HEAD -- {path}")
    start = f"{ISSUED}/{serial}/"
    return {name.removeprefix(start): told for name, told in _sums(folder / path)}


def registered(folder: Path, serial: str = "") -> dict[str, str]:
    """What the registers say of one traveller, or of all: path -> sum."""
    found: dict[str, str] = {}
    for rows in _registers(folder):
        told = _holding(rows, f"/{serial}/".encode()) if serial else rows
        for sums, path, of in _OF_TRAVELLER.findall(told.decode("utf-8", errors="replace")):
            if not serial or of == serial:
                _name(found, path, sums)
    return found


def by_traveller(folder: Path) -> dict[str, dict[str, str]]:
    """What the registers say of each traveller, in one reading."""
    found: dict[str, dict[str, str]] = {}
    for rows in _registers(folder):
        for sums, path, of in _OF_TRAVELLER.findall(rows.decode("utf-8", errors="replace")):
            _name(found.setdefault(of, {}), path, sums)
    return found


def _registers(folder: Path) -> Iterator[bytes]:
    yield from (line_ends.plain((folder / path).read_bytes()) for path in registers(folder))


def _holding(rows: bytes, part: bytes) -> bytes:
    """The rows that hold the part, found in the text before any row is taken apart."""
    found, at = [], rows.find(part)
    while at >= 0:
        start, end = rows.rfind(b"\n", 0, at) + 1, rows.find(b"\n", at) + 1 or len(rows)
        found.append(rows[start:end])
        at = rows.find(part, end)
    return b"".join(found)


def _told(folder: Path, found: Mapping[str, str]) -> dict[str, str]:
    """What the registers, and the sums they name, say of the traveller: path -> sum."""
    told = dict(found)
    for listed in [each for each in found if each.endswith(f"/{SUMS}")]:
        for path, sums in _sums(folder / listed):
            if path.startswith(listed.removesuffix(SUMS)):  # it speaks of its own folder alone
                _name(told, path, sums)
    return told


def _sums(file: Path) -> Iterator[tuple[str, str]]:
    if file.is_file():
        rows = line_ends.plain(file.read_bytes()).decode("utf-8", errors="replace")
        yield from ((path, told) for told, path in _ROW.findall(rows))
