"""The lists of a record, in; which file must stand where with which sum, and which lines are none,
out. Nothing here writes, follows a link or reads a file twice."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from string import ascii_uppercase

from generator.findings import Finding, Place
from generator.record import line_ends

NAMES = ("register", "processes", "slips", "concessions")
"""The lists of a desk that are only ever added to."""

PLACES = (
    *(f"output/{name}-{desk}.txt" for desk in ascii_uppercase for name in NAMES),
    "output/processes",
)
"""Where lists stand, those of every letter: a desk of which nothing is left is one that somebody
took away."""

LIST = re.compile(rf"({'|'.join(NAMES)})-([A-Z])\.txt")
ISSUED_LIST = re.compile(r"issued-([A-Z])\.txt")
_ROW = re.compile(r"([0-9a-f]{64})  (output/(?:[A-Za-z0-9_][A-Za-z0-9_ .+-]*/)*[^/\n]+)")
_PUT_BACK = "git checkout HEAD -- "


@dataclass
class Expected:
    """What the lists say. sums: path -> sum; lists: the paths of the lists themselves; found: what
    is wrong with the lists; instead: what is read in the place of some lists."""

    sums: dict[str, str] = field(default_factory=dict)
    lists: list[str] = field(default_factory=list)
    found: list[Finding] = field(default_factory=list)
    instead: Mapping[str, bytes] = field(default_factory=dict)

    def text(self, folder: Path, path: str) -> str:
        """What a list says."""
        content = self.instead.get(path)
        told = (folder / path).read_bytes() if content is None else content
        return told.decode("utf-8", errors="replace")


def expected(folder: Path, instead: Mapping[str, bytes] | None = None) -> Expected:
    """What must stand below output/, by the registers and the sums of the folders they name.

    instead: what git holds of lists to which lines of a begun act were added, if it has any.
    """
    instead = instead or {}
    lists = sorted(path for path in lists_in(folder) if instead.get(path) != b"")
    made = Expected(lists=lists, instead=instead)
    for path in made.lists:
        if path.rpartition("/")[2].startswith("register-"):
            _read_rows(folder, path, made)
    for path in [each for each in made.sums if each.endswith("/sums.txt")]:
        if (folder / path).is_file():
            _read_rows(folder, path, made)
    return made


def lists_in(folder: Path) -> Iterator[str]:
    """The lists of all desks that stand there. Whatever else lies beside them, of whatever name,
    is none, and nothing is read in it."""
    yield from (f"output/{name}" for name in _names(folder / "output") if LIST.fullmatch(name))
    for number in _names(folder / "output/processes"):
        yield from issued_lists(folder, number)


def registers(folder: Path) -> list[str]:
    """The registers of all desks that stand there, in the order of their letters."""
    names = ((name, LIST.fullmatch(name)) for name in sorted(_names(folder / "output")))
    return [f"output/{name}" for name, list_ in names if list_ and list_[1] == "register"]


def issued_lists(folder: Path, number: str) -> list[str]:
    """The lists of travellers of one process, in the order of their letters."""
    place = f"output/processes/{number}"
    names = sorted(_names(folder / place))
    return [f"{place}/{name}" for name in names if ISSUED_LIST.fullmatch(name)]


def desk_of(path: str) -> str:
    """The letter of the desk whose list it is."""
    return path[-len("A.txt")]


def _names(place: Path) -> list[str]:
    return os.listdir(place) if place.is_dir() else []


def is_list(path: str) -> bool:
    """Whether a path is that of a list of a desk."""
    name = path.rpartition("/")[2]
    if path.startswith("output/processes/"):
        return bool(ISSUED_LIST.fullmatch(name))
    return path == f"output/{name}" and bool(LIST.fullmatch(name))


def _read_rows(folder: Path, path: str, made: Expected) -> None:
    """The lines of a register, or of the sums of a folder, which name nothing outside it."""
    inside = path.removesuffix("sums.txt") if path.endswith("/sums.txt") else "output/"
    text = made.text(folder, path)
    if "\r\n" in text:
        made.found.append(line_ends.finding(path))
    lines = text.replace("\r\n", "\n").split("\n")
    if lines[-1]:
        made.found.append(_finding(path, "its last line has no end"))
    for number, row in enumerate(lines[:-1] or lines, start=1):
        told = _ROW.fullmatch(row)
        if told is None or not told[2].startswith(inside):
            made.found.append(_finding(path, f"line {number} is none of ours: {row[:60]!r}"))
        elif told[2] in made.sums:
            made.found.append(_finding(path, f"line {number} names {told[2]} a second time"))
        else:
            made.sums[told[2]] = told[1]


def _finding(path: str, wrong: str) -> Finding:
    return Finding(Place(path), "changed", wrong, _PUT_BACK + path)
