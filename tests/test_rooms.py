"""The rooms of the house: nothing imports from a room that the work reaches later.

read -> check -> compute -> compose -> draw -> record; what many rooms use stands before them.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

from tests.generated import ROOT

ORDER = (
    "findings", "signs", "files", "odd_files", "beside", "faces", "quantities", "read", "process", "tables", "curve",
    "calculation", "calculations", "check", "editor", "computing", "figures", "composing",
    "compose", "draw", "results", "workshop", "library", "record", "commands", "__main__",
)  # fmt: skip
HOUSE = ROOT / "generator"
FILES = sorted(HOUSE.rglob("*.py"))


def room_of(file: Path) -> str:
    return file.relative_to(HOUSE).with_suffix("").parts[0]


def imports(text: str) -> Iterator[tuple[int, str]]:
    """The whole ways that a file of this text imports, also inside its functions, with the line."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"line {node.lineno}: an import names its whole way"
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        else:
            continue
        yield from ((node.lineno, name) for name in names)


def imported(text: str) -> Iterator[tuple[int, str]]:
    """The rooms that a file of this text imports from."""
    for line, name in imports(text):
        house, _, rest = f"{name}.".partition(".")
        room = rest.partition(".")[0]
        if house == "generator" and room != "__version__":
            yield line, room


def files_behind(text: str) -> set[Path]:
    """The files of the house that a file of this text imports."""
    found = set()
    for _, name in imports(text):
        way = ROOT.joinpath(*name.split("."))
        there = [each.with_suffix(".py") for each in (way, way.parent)]
        there.append(way / "__init__.py")
        found.update(file for file in there if file in FILES)
    return found


def backward(room: str, text: str) -> list[str]:
    """The imports of a file of this room from rooms that the work reaches later."""
    at = ORDER.index(room)
    return [f"line {n}: {other}" for n, other in imported(text) if ORDER.index(other) > at]


def test_every_room_has_its_place_in_the_order():
    assert {room_of(file) for file in FILES} - {"__init__", "templates"} == set(ORDER)


@pytest.mark.parametrize(
    "file",
    [file for file in FILES if room_of(file) not in ("__init__", "templates")],
    ids=lambda file: str(file.relative_to(HOUSE)),
)
def test_no_file_imports_from_a_later_room(file):
    assert backward(room_of(file), file.read_text(encoding="utf-8")) == []


def test_no_two_files_lean_on_each_other():
    ways = {file: files_behind(file.read_text(encoding="utf-8")) for file in FILES}
    order = [*TopologicalSorter(ways).static_order()]  # CycleError, with its files
    assert set(order) == set(FILES)
    results = HOUSE / "results"
    assert results / "values.py" in ways[results / "case.py"]


def test_files_that_lean_on_each_other_are_found():
    text = "def f():\n    from generator.results import case\n"
    results = HOUSE / "results"
    ways = {results / "entries.py": files_behind(text), results / "case.py": files_behind(
        "from generator.results.entries import BLANK\n")}  # fmt: skip
    with pytest.raises(CycleError):
        TopologicalSorter(ways).prepare()


@pytest.mark.parametrize(
    ("room", "text", "told"),
    [
        ("read", "from generator.draw.pen import Pen\n", ["line 1: draw"]),
        ("compose", "import os\nimport generator.record\n", ["line 2: record"]),
        ("check", "def f():\n    from generator import workshop\n", ["line 2: workshop"]),
        ("draw", "from generator.read import Steps\nfrom generator import __version__\n", []),
        ("record", "from generator.record.git import opened\nimport yaml\n", []),
    ],
)
def test_an_import_that_runs_backward_is_found_wherever_it_stands(room, text, told):
    assert backward(room, text) == told
