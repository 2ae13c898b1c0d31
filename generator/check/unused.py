"""One process in; advice on what it lists and nothing in it uses, out: a given that no formula, no
limit and no text takes, an instrument by which nothing is read. It stops nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from generator.findings import Fault
from generator.process import InstrumentKind, Process
from generator.quantities.amount import Amount
from generator.quantities.units import unit

_IN_TEXT = re.compile(r"\{\{(.*?)\}\}")
_NAME = re.compile(r"[a-z][a-z0-9_]*")
_SENTENCE = re.compile(r"[A-Za-z_]\s+[A-Za-z_]")  # a formula has no two words side by side


def unused(process: Process) -> Iterator[Fault]:
    """A given or an instrument that nobody takes to the bench is somebody's slip, or is left over
    from another revision."""
    texts = list(_texts((process.work_out, process.maps, process.operations, process.warnings)))
    names = {name for text in texts for name in _named(text)}
    for name in process.given:
        if name not in names:
            wrong = f"nothing uses the given '{name}'"
            right = "its name in a formula, a limit or a text, or no line for it"
            yield Fault(("given", name), "unused", wrong, right, of_key=True, advice=True)
    said = " ".join(texts)
    for i, each in enumerate(process.instruments):
        if not re.search(rf"\b{re.escape(each.kind)}\b", said) and not _logs(process, each):
            wrong = f"nothing is read with a {each.kind}"
            right = f"with: {each.kind}, at a reading, or no line for it"
            yield Fault(("instruments", i, "kind"), "unused", wrong, right, advice=True)


def _logs(process: Process, kind: InstrumentKind) -> bool:
    """Whether a column of a log is of what an instrument reads: a log names none."""
    logged = {
        unit(text).dimension
        for operation in process.operations
        if operation.log is not None
        for text in operation.log.of.values()
    }
    return kind.reads_to is not None and kind.reads_to.unit.dimension in logged


def _texts(value: Any) -> Iterator[str]:
    """Every text in a part of a process, but those of its amounts."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for each in value.values():
            yield from _texts(each)
    elif isinstance(value, list | tuple):
        for each in value:
            yield from _texts(each)
    elif is_dataclass(value) and not isinstance(value, type | Amount):
        for one in fields(value):
            yield from _texts(getattr(value, one.name))


def _named(text: str) -> Iterator[str]:
    """The names that a text takes numbers from: within braces, or where it is a name or a formula
    altogether."""
    for part in _IN_TEXT.findall(text):
        yield from _NAME.findall(part)
    if not _SENTENCE.search(text):
        yield from _NAME.findall(text)
