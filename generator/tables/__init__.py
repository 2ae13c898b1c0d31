"""The name of a table and its keys in; the one row that matches, never a near one, out."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from generator.findings import Refusal, near_word


@cache
def table(name: str) -> Mapping[str, Any]:
    """A table as a mapping: source, note, rows (all cells text)."""
    text = files(__name__).joinpath(f"{name}.yaml").read_text(encoding="utf-8")
    loaded: Mapping[str, Any] = yaml.load(text, Loader=yaml.CBaseLoader)
    return loaded


def find_row(name: str, keys: Mapping[str, str]) -> Mapping[str, str]:
    """The row whose cells equal every key; a miss lists what there is."""
    rows: list[Mapping[str, str]] = table(name)["rows"]
    left = rows
    for column, wanted in keys.items():
        found = [row for row in left if row[column] == wanted]
        if not found:
            raise _miss(name, column, wanted, left, keys)
        left = found
    return left[0]


def _miss(
    name: str, column: str, wanted: str, rows: list[Mapping[str, str]], keys: Mapping[str, str]
) -> Refusal:
    there = sorted({row[column] for row in rows}, key=lambda cell: [len(cell), cell])
    before = [f"{k} {v}" for k, v in keys.items() if k != column and any(r[k] == v for r in rows)]
    of = f" for {', '.join(before)}" if before and len(rows) < len(table(name)["rows"]) else ""
    wrong = f"the {name} table has no row with {column} '{wanted}'{of}; the nearest is never taken"
    near = near_word(wanted, there)
    right = f"one of: {', '.join(there)}" + (f" (did you mean {near}?)" if near else "")
    return Refusal("table", wrong, right)
