"""What is typed for a calculation, in; its values, its lines of YAML and its command line, out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from generator.calculation import Calculation, Input
from generator.check.workings import literal
from generator.quantities.text import read_count

Typed = Mapping[str, Any]

# What YAML would read as something else than these words.
_MARKS = re.compile(r"""^$|^[\s\-?:&*!|>'"%@`#]|[\[\]{},]|: | #|[:\s]$""")


def values_of(what: Calculation, typed: Typed) -> dict[str, Any]:
    """What was typed, by input, as run() wants it; a choice left out is its default."""
    return {i.name: _value(i, _told(i, typed)) for i in what.inputs if i.kind != "fixed"}


def _told(item: Input, typed: Typed) -> Any:
    return typed.get(item.name, item.otherwise) if item.otherwise else typed[item.name]


def _value(item: Input, told: Any) -> Any:
    if item.kind == "amount":
        return literal(item.fact, told)
    if item.kind == "amounts":
        return [literal(item.fact, each) for each in told]
    if item.kind == "rows":
        return [{cell.name: _value(cell, _told(cell, row)) for cell in item.row} for row in told]
    return read_count(told) if item.kind == "count" else told


def yaml_lines(what: Calculation, typed: Typed) -> Iterator[tuple[str, str]]:
    """Key and value of each line of an entry under `work out` that asks for this."""
    yield "use", what.name
    for name, value in typed.items():
        yield name, yaml_text(value)


def yaml_text(value: Any) -> str:
    """A value on one line of YAML: text, [a list] or {a block: of keys}."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {yaml_text(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(yaml_text(each) for each in value) + "]"
    text = str(value)
    if not _MARKS.search(text):
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def command_line(what: Calculation, typed: Typed) -> str:
    """The words after `witnessmark` that work this out at the desk."""
    words = [f'{name}="{_on_the_line(value)}"' for name, value in typed.items()]
    return " ".join(["calculate", what.name, *words])


def _on_the_line(value: Any) -> str:
    if isinstance(value, Mapping):
        return " / ".join(map(str, value.values()))
    if isinstance(value, list | tuple):
        return ", ".join(_on_the_line(each) for each in value)
    return str(value)
