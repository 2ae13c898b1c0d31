"""Calculations and published tables in; the handbook as Markdown out, its examples run now.

Whatever the handbook says is read from where the program itself reads it.
"""

from __future__ import annotations

import inspect
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from itertools import groupby

from generator import __version__
from generator.calculation import Calculation
from generator.composing.engine import rendered
from generator.composing.escape import Markdown, escape
from generator.composing.handbook_examples import Worked, worked_examples
from generator.composing.handbook_facts import (
    INPUT_HEADS,
    RESULT_HEADS,
    Marks,
    Row,
    input_rows,
    result_rows,
)
from generator.composing.handbook_tables import Printed, printed_table
from generator.computing.typed import command_line, yaml_lines

TITLE = "Handbook of calculations"
Calculations = Mapping[str, Calculation]


@dataclass(frozen=True)
class Entry:
    """One calculation as the handbook prints it."""

    mark: str
    what: Calculation
    facts: Sequence[tuple[str, str]]
    inputs: Sequence[Row]
    results: Sequence[Row]
    typed: Sequence[tuple[str, str]]
    examples: Sequence[Worked]

    @property
    def short(self) -> str:
        """The title as the contents have it: up to its colon."""
        return self.what.title.partition(":")[0]


@dataclass(frozen=True)
class Subject:
    """The calculations of one file, in the order in which they stand there."""

    title: str
    about: str
    entries: Sequence[Entry]


def handbook(calculations: Calculations, tables: Sequence[str]) -> str:
    """The whole handbook; refuses where an example no longer comes to what its print says."""
    found = sorted(calculations.values(), key=_place)
    marks = {what.name: f"c{n}" for n, what in enumerate(found, start=1)}
    table_marks = {name: f"t{n}" for n, name in enumerate(tables, start=1)}
    body = rendered(
        "handbook.md.j2",
        title=TITLE,
        subjects=list(_subjects(found, marks, table_marks)),
        tables=[_table(name, mark, found, marks) for name, mark in table_marks.items()],
        input_heads=INPUT_HEADS,
        result_heads=RESULT_HEADS,
        linked=lambda name, mark: Markdown(f"[{escape(name)}](#{mark})"),
        version=__version__,
    )
    return _framed(body)


def _place(what: Calculation) -> tuple[str, int]:
    return what.subject, what.body.__code__.co_firstlineno


def _subjects(found: Sequence[Calculation], marks: Marks, tables: Marks) -> Iterator[Subject]:
    for subject, group in groupby(found, key=lambda what: what.subject):
        members = list(group)
        room = inspect.getmodule(members[0].body)
        about = (inspect.getdoc(room) or "").partition("\n\n")[0]
        entries = [_entry(what, marks[what.name], tables) for what in members]
        yield Subject(subject.replace("_", " ").capitalize(), about, entries)


def _entry(what: Calculation, mark: str, tables: Marks) -> Entry:
    typed = yaml_lines(what, what.examples[0].given)
    return Entry(
        mark, what, list(_facts(what)), input_rows(what, tables), result_rows(what), list(typed),
        list(worked_examples(what)),
    )  # fmt: skip


def _facts(what: Calculation) -> Iterator[tuple[str, str]]:
    yield "name", what.name
    paragraphs = [" ".join(part.split()) for part in what.about.split("\n\n")]
    yield from (("" if n else "about", part) for n, part in enumerate(filter(None, paragraphs)))
    yield "source", what.source
    yield "does not cover", what.not_covered
    if what.method:
        yield "method", what.method
    if what.second is not None:
        yield "second method", f"{what.second.says}; must agree within {what.second.within}"
    for kind in what.figures:
        yield "figure", f"{kind.replace('-', ' ')}, where an operation asks for it"
    yield "at the desk", f"witnessmark {command_line(what, what.examples[0].given)}"


def _table(name: str, mark: str, found: Sequence[Calculation], marks: Marks) -> Printed:
    users = [what.name for what in found if any(i.table == name for i in what.inputs)]
    links = [f"[{escape(user)}](#{marks[user]})" for user in users]
    return printed_table(name, mark, Markdown(", ".join(links) or "no calculation yet"))


def _framed(body: str) -> str:
    """The body with the frame that every page carries: the handbook belongs to no part."""
    fingerprint = sha256(body.encode()).hexdigest()
    word = fingerprint[:12].upper()
    rows = {
        "kind": "HANDBOOK",
        "trade": "Calculations and tables",
        "title": TITLE,
        "process": "none",
        "revision": "none",
        "serial": "none",
        "part": "none",
        "part serial": "none",
        "hand": "none",
        "airframe": "none",
        "fingerprint": f"{word[:4]} {word[4:8]} {word[8:]}",
        "printed": "not dated",
        "units": "Every number stands with its own unit.",
        "language": "en-GB",
        "paper": "A4",
    }
    first, *others = [f"| {key} | {escape(value)} |" for key, value in rows.items()]
    lines = ["::: frame", first, "| --- | --- |", *others, ":::", "", body.rstrip()]
    return "\n".join([*lines, "", f"Full fingerprint: {fingerprint}", ""])
