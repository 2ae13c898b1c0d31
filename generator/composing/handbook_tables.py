"""A published table in; its facts and all its rows, with source and mark of each, out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import ascii_lowercase

from generator.composing.escape import Markdown
from generator.composing.handbook_facts import NONE
from generator.tables import Row, table

_BESIDE = ("source", "mark")


@dataclass(frozen=True)
class Printed:
    """A table as the handbook prints it; facts stand above its rows."""

    mark: str
    name: str
    source: str
    count: str
    facts: Sequence[tuple[str, str]]
    heads: Sequence[str]
    rows: Sequence[Sequence[str]]


def printed_table(name: str, mark: str, used_by: Markdown) -> Printed:
    """A table with its source, what it holds for, who asks for it, and its rows."""
    whole = table(name)
    rows: Sequence[Row] = whole["rows"]
    others = list(dict.fromkeys(row["source"] for row in rows if row.get("source")))
    letters = {source: ascii_lowercase[n] for n, source in enumerate(others)}
    facts = [("source", str(whole["source"])), ("note", str(whole["note"]))]
    facts += [(f"source {letter}", source) for source, letter in letters.items()]
    facts.append(("used by", used_by))
    columns = [c for c in dict.fromkeys(c for row in rows for c in row) if c not in _BESIDE]
    beside = [c for c in _BESIDE if any(row.get(c) for row in rows)]
    return Printed(
        mark, name, str(whole["source"]), f"{len(rows)} rows", facts,
        [each.replace("_", " ") for each in (*columns, *beside)],
        [_cells(row, columns) + _of_the_row(row, beside, letters) for row in rows],
    )  # fmt: skip


def _cells(row: Row, columns: Sequence[str]) -> list[str]:
    return [row.get(column, NONE) for column in columns]


def _of_the_row(row: Row, beside: Sequence[str], letters: Mapping[str, str]) -> list[str]:
    """Where this row comes from, by its letter, and its mark."""
    own = {"source": letters.get(row.get("source", ""), NONE), "mark": row.get("mark", NONE)}
    return [own[each] for each in beside]
