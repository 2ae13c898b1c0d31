"""The rooms of the house: nothing imports from a room that the work reaches later.

read -> check -> compute -> compose -> draw -> record; what many rooms use stands before them.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.generated import ROOT

ORDER = (
    "findings", "files", "odd_files", "beside", "faces", "quantities", "read", "process", "tables", "curve",
    "calculation", "calculations", "check", "editor", "computing", "figures", "composing",
    "compose", "draw", "results", "workshop", "library", "record", "commands", "__main__",
)  # fmt: skip
HOUSE = ROOT / "generator"
FILES = sorted(HOUSE.rglob("*.py"))


def room_of(file: Path) -> str:
    return file.relative_to(HOUSE).with_suffix("").parts[0]


def imported(file: Path) -> Iterator[tuple[int, str]]:
    """The rooms that a file imports from, also inside its functions, with the line."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}:{node.lineno}: an import names its whole way"
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        else:
            continue
        for name in names:
            house, _, rest = f"{name}.".partition(".")
            room = rest.partition(".")[0]
            if house == "generator" and room != "__version__":
                yield node.lineno, room


def backward(file: Path) -> list[str]:
    at = ORDER.index(room_of(file))
    return [f"line {n}: {room}" for n, room in imported(file) if ORDER.index(room) > at]


def test_every_room_has_its_place_in_the_order():
    assert {room_of(file) for file in FILES} - {"__init__", "templates"} == set(ORDER)


@pytest.mark.parametrize(
    "file",
    [file for file in FILES if room_of(file) not in ("__init__", "templates")],
    ids=lambda file: str(file.relative_to(HOUSE)),
)
def test_no_file_imports_from_a_later_room(file):
    assert backward(file) == []


def test_the_commands_do_not_stand_before_the_record():
    """The test itself sees an import: the commands name the record, and it stands before them."""
    rooms = {room for _, room in imported(HOUSE / "commands" / "issue.py")}
    assert "record" in rooms
    assert ORDER.index("record") < ORDER.index("commands")
