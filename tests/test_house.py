"""The size of what stands in the house: a file that is read in one go, a function on one screen."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest

from tests.generated import ROOT

LINES, SPAN = 400, 40
"""The most lines of a file, and of a function with its docstring and without its decorators."""

FILES = sorted(
    file for room in ("generator", "tests", "benchmarks") for file in (ROOT / room).rglob("*.py")
)


def too_long(text: str) -> Iterator[str]:
    """What of a file is longer than it may be."""
    if (lines := len(text.splitlines())) > LINES:
        yield f"{lines} lines"
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            span = (node.end_lineno or 0) - node.lineno + 1
            if span > SPAN:
                yield f"{node.name}: {span} lines"


def test_the_whole_house_is_looked_at():
    rooms = {file.relative_to(ROOT).parts[0] for file in FILES}
    assert rooms == {"generator", "tests", "benchmarks"}
    assert len(FILES) > 500


@pytest.mark.parametrize("room", ["generator", "tests", "benchmarks"])
def test_nothing_in_the_house_is_too_long(room):
    told = {
        str(file.relative_to(ROOT)): found
        for file in FILES
        if file.relative_to(ROOT).parts[0] == room
        and (found := list(too_long(file.read_text(encoding="utf-8"))))
    }
    assert told == {}


def test_what_is_too_long_is_found():
    body = "".join(f"    {n}\n" for n in range(SPAN))
    fits = f"def fits():\n{body}".removesuffix(f"    {SPAN - 1}\n")
    assert list(too_long(fits)) == []
    assert list(too_long(f"def long():\n{body}")) == [f"long: {SPAN + 1} lines"]
    inside = "".join(f"    {line}\n" for line in f"async def inner():\n{body}".splitlines())
    assert f"inner: {SPAN + 1} lines" in list(too_long(f"class Room:\n{inside}"))
    assert list(too_long("\n" * LINES)) == []
    assert list(too_long("\n" * (LINES + 1))) == [f"{LINES + 1} lines"]
