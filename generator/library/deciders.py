"""A workshop in; the sums of all that decides a print besides the text of its process, out.

The code with its templates, tables and schema, the faces, the libraries, Python and the machine;
and the lists and tables of the workshop. Contents alone, never a time of a file.
"""

from __future__ import annotations

import os
import sys
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from generator.faces import FILES
from generator.files import LISTS, shop_files

HERE = Path(__file__).parents[1]


@dataclass(frozen=True)
class Deciders:
    """What decides every print of a workshop: the sum of the program and that of its lists."""

    program: str
    lists: str

    def key(self, shown: str, source: bytes) -> str:
        """The sum over all that decides what is found out about a process file of these bytes."""
        whole = sha256(f"{self.program}\n{self.lists}\n".encode())
        whole.update(os.fsencode(shown) + b"\n")
        whole.update(source)
        return whole.hexdigest()


def deciders(folder: Path) -> Deciders:
    """The sums as the files stand now."""
    return Deciders(program_sum(), lists_sum(folder))


def lists_sum(folder: Path) -> str:
    """Over the lists and own tables of a workshop, by name; a list that is not there counts too."""
    whole = sha256()
    names = [f"processes/workshop/{name}.yaml" for name in LISTS]
    for shown in dict.fromkeys([*names, *shop_files(folder)]):
        _add(whole, shown, os.path.join(folder, shown))
    return whole.hexdigest()


def program_sum() -> str:
    """Over all that makes a print out of text, whoever the workshop is."""
    whole = sha256(os.fsencode("\n".join(_machine())))
    if not HERE.is_dir():  # inside an archive nothing can be summed, and nothing is believed
        whole.update(os.urandom(16))
    for room in (HERE, HERE.parent / "schema"):
        for name, path in _files_below(str(room)):
            _add(whole, name, path)
    for package, name in FILES.values():
        _add(whole, name, _in_package(package, name))
    for name, path in _installed():
        _add(whole, name, path)
    return whole.hexdigest()


def _machine() -> list[str]:
    """Python, the C library (it rounds), the compressor, what the environment tells reportlab."""
    c_library = os.confstr("CS_GNU_LIBC_VERSION") if "CS_GNU_LIBC_VERSION" in _names() else ""
    told = sorted(f"{key}={value}" for key, value in os.environ.items() if key.startswith("RL_"))
    return [sys.version, sys.platform, str(c_library), zlib.ZLIB_RUNTIME_VERSION, *told]


def _names() -> dict[str, int]:
    return getattr(os, "confstr_names", {})


def _add(whole: Any, name: str, path: str) -> None:
    """The name and the bytes of a file; one that cannot be read counts as such."""
    try:
        with open(path, "rb", buffering=0) as opened:
            content = opened.read()
    except OSError as fault:
        whole.update(os.fsencode(f"{name}\n{fault.errno}\n"))
        return
    whole.update(os.fsencode(f"{name}\n{len(content)}\n"))
    whole.update(content)


def _files_below(room: str) -> Iterator[tuple[str, str]]:
    """Every file of a room by its name in it, but for what Python compiled."""
    for place, rooms, names in os.walk(room):
        rooms[:] = sorted(each for each in rooms if each != "__pycache__")
        for name in sorted(names):
            path = os.path.join(place, name)
            yield os.path.relpath(path, room), path


def _in_package(package: str, name: str) -> str:
    """Where a file of a package lies; "" where the package is not installed."""
    spec = find_spec(package)
    places = list(spec.submodule_search_locations or ()) if spec else []
    return os.path.join(places[0], "files", name) if places else ""


def _installed() -> Iterator[tuple[str, str]]:
    """The record of every installed library: its version, and the sum of each of its files."""
    for place in sys.path:
        try:
            names = sorted(each for each in os.listdir(place or ".") if each.endswith(".dist-info"))
        except OSError:
            continue
        for name in names:
            yield name, os.path.join(place, name, "RECORD")
