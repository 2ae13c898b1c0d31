"""The files of a record, in; a flat index of everything that somebody may look for in ten years, a
row a fact, out. It is made from the files alone and can be thrown away at any time.

The first row says up to where each register is in it, with the sum of that part and the sum of all
rows below: what is new since is added, and where a sum no longer fits all is made anew. Never a
time stamp.
"""

from __future__ import annotations

import csv
import io
import os
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import astuple, dataclass, fields
from hashlib import sha256
from pathlib import Path

from generator.record.desk import ISSUED
from generator.record.disk import write
from generator.record.expected import desk_of, registers
from generator.record.facts_of import Row, rows_of

INDEX = "output/index.csv"
_COLUMNS = tuple(each.name.replace("_", " ") for each in fields(Row))
_COVERED = re.compile(r"([A-Z]) ([0-9]{1,12}) ([0-9a-f]{64})")
_TOUCHED = re.compile(r"  output/(?:issued|completed)/([A-Z]-[0-9]{4,})/")
# Of the rows of an earlier form nothing is kept.
HEAD = "registers of form 6"
# What a spreadsheet takes for a formula, wide signs too, whatever it skips before it; and our sign.
_FORMULA = re.compile(r"[=+\-@\uff1d\uff0b\uff0d\uff20']")
_NUMBER = re.compile(r"[+-][0-9]+([.,][0-9]+)?( ?[a-zA-Zµ°Ω%][a-zA-Zµ°Ω%²³·/ ]*)?")


@dataclass(frozen=True)
class Index:
    """The index as text, and how many travellers were read to make it."""

    text: str
    read: int


def indexed(folder: Path) -> Index:
    """The index of today's record; the file beside is used as far as it goes, and written anew
    where something was added."""
    file = folder / INDEX
    source = file.read_bytes() if file.exists() else b""
    registers = _registers(folder)
    covered = _covered(source, registers)
    serials = _touched(registers, covered)
    standing = source.decode("utf-8", errors="replace")
    # The sums of what is covered were taken just now: only how far it goes is left to ask.
    if covered and {desk: len(rows) for desk, rows in registers.items()} == covered:
        return Index(standing, 0)
    kept = _without(standing, serials) if covered else ""
    made = io.StringIO()
    write = csv.writer(made, lineterminator="\n")
    for serial in serials:
        if (folder / ISSUED / serial).is_dir():
            write.writerows(map(_safe, map(astuple, rows_of(folder, serial))))
    rest = ",".join(_COLUMNS) + "\n" + kept + made.getvalue()
    text = _first_row(registers, rest) + rest
    _put(file, text)
    return Index(text, len(serials))


def _registers(folder: Path) -> Mapping[str, bytes]:
    return {desk_of(path): (folder / path).read_bytes() for path in registers(folder)}


def _first_row(registers: Mapping[str, bytes], rest: str) -> str:
    """What the index was made of, and the sum of what follows: one that was changed by hand is made
    anew."""
    told = [f"{desk} {len(rows)} {sha256(rows).hexdigest()}" for desk, rows in registers.items()]
    return f"{HEAD}," + ",".join([*told, f"rows {sha256(rest.encode()).hexdigest()}"]) + "\n"


def _covered(source: bytes, registers: Mapping[str, bytes]) -> Mapping[str, int]:
    """How much of each register is in the index of those bytes; nothing where any of them was
    changed. The rows below the first are not copied: they grow with the record."""
    end = source.find(b"\n") + 1
    row = source[: max(end - 1, 0)].decode("utf-8", errors="replace").split(",")
    if row[0] != HEAD or not source.startswith(f"{','.join(_COLUMNS)}\n".encode(), end):
        return {}
    if row[-1] != f"rows {sha256(memoryview(source)[end:]).hexdigest()}":
        return {}
    found = {}
    for told in filter(None, row[1:-1]):
        named = _COVERED.fullmatch(told)
        length = int(named[2]) if named else -1
        part = registers.get(named[1], b"")[:length] if named else b""
        if named is None or len(part) != length or sha256(part).hexdigest() != named[3]:
            return {}
        found[named[1]] = length
    return found


def _touched(registers: Mapping[str, bytes], covered: Mapping[str, int]) -> list[str]:
    """The travellers of which something stands behind what is covered, in their order."""
    found: dict[str, None] = {}
    for desk, rows in registers.items():
        told = rows[covered.get(desk, 0) :].decode("utf-8", errors="replace")
        found |= dict.fromkeys(_TOUCHED.findall(told))
    return list(found)


def _without(standing: str, serials: Sequence[str]) -> str:
    """The rows of the index that are of none of the travellers."""
    gone = {f"{serial}," for serial in serials}
    rows = standing.split("\n", 2)[2] if standing.count("\n") > 1 else ""
    if not gone:
        return rows
    return "".join(
        row for row in rows.splitlines(keepends=True) if row[: row.index(",") + 1] not in gone
    )


def _safe(cells: Sequence[str]) -> list[str]:
    """Cells that no spreadsheet takes for a formula, on one line each. In some countries it parts
    the cells of a line at each semicolon, so that a formula may begin behind one as well."""
    told = (" ".join(cell.split()) for cell in cells)
    return [cell if _is_plain(cell) else ";".join(map(_as_text, cell.split(";"))) for cell in told]


def _is_plain(cell: str) -> bool:
    return ";" not in cell and (not cell or cell[0].isalnum())


def _as_text(part: str) -> str:
    seen = next((n for n, sign in enumerate(part) if sign.isprintable() and sign not in ' "'), 0)
    begins = part[seen:]
    formula = _FORMULA.match(begins) and not _NUMBER.fullmatch(begins.rstrip(' "'))
    return f"'{part}" if formula else part


def found_in(text: str, word: str) -> Iterator[Row]:
    """The rows whose value is the word, whatever its case; where there are none, those that have it
    in them."""
    lower = text.lower()
    rows = list(_rows_with(text, lower, word.lower()))
    exact = [row for row in rows if row.value.lower() == word.lower()]
    yield from exact or rows


def _rows_with(text: str, lower: str, word: str) -> Iterator[Row]:
    """The rows that hold the word anywhere, found in the text before any row is taken apart."""
    part = max(word.split(";"), key=len) or word  # our sign may stand behind a semicolon
    quoted = part.replace('"', '""')  # as a cell has it
    at = lower.find(quoted, lower.find("\n", lower.find("\n") + 1) + 1)
    same = len(lower) == len(text)  # some signs have a longer small letter
    while at >= 0:
        start, end = lower.rfind("\n", 0, at) + 1, lower.find("\n", at)
        line = text[start:end] if same else lower[start:end]
        row = Row(*_bare(next(csv.reader([line]))))
        if word in row.value.lower():
            yield row
        at = lower.find(quoted, end)


def rows_of_traveller(text: str, serial: str) -> Iterator[Row]:
    """The rows of one traveller."""
    at = text.find(f"\n{serial},")
    while at >= 0:
        end = text.find("\n", at + 1)
        yield Row(*_bare(next(csv.reader([text[at + 1 : end]]))))
        at = text.find(f"\n{serial},", end)


def rows_in(text: str) -> Iterator[Row]:
    """Every row of an index."""
    for cells in csv.reader(io.StringIO(text.split("\n", 2)[2])):
        yield Row(*_bare(cells))


def _bare(cells: Sequence[str]) -> list[str]:
    return [";".join(part.removeprefix("'") for part in cell.split(";")) for cell in cells]


def _put(file: Path, text: str) -> None:
    beside = file.with_name(f".{file.name}.new")
    try:
        write(beside, text.encode())
        os.replace(beside, file)
    finally:
        beside.unlink(missing_ok=True)
