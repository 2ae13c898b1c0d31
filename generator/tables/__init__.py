"""The name of a table and its keys in; the one row that matches, never a near one, out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from generator.findings import Refusal, near_word

Row = Mapping[str, str]
Rows = Mapping[str, Sequence[Row]]


@cache
def table(name: str) -> Mapping[str, Any]:
    """A table as a mapping: source, note, rows (all cells text)."""
    text = files(__name__).joinpath(f"{name}.yaml").read_text(encoding="utf-8")
    loaded: Mapping[str, Any] = yaml.load(text, Loader=yaml.CBaseLoader)
    return loaded


@cache
def table_names() -> tuple[str, ...]:
    """The tables whose rows are looked up by keys, in the order of their names."""
    found = (f.name.removesuffix(".yaml") for f in files(__name__).iterdir())
    named = sorted(n for n in found if not n.startswith("_") and "." not in n)
    return tuple(n for n in named if "rows" in table(n))


def find_row(name: str, keys: Mapping[str, str], own: Rows | None = None) -> Row:
    """The row whose cells equal every key; a miss lists what there is.

    own: rows that the workshop added, by table; each stands beside the published ones.
    """
    rows: list[Row] = [*table(name)["rows"], *(own or {}).get(name, ())]
    left = rows
    for column, wanted in keys.items():
        found = [row for row in left if row[column] == wanted]
        if not found:
            raise _miss(name, column, wanted, left, keys, len(rows))
        left = found
    return left[0]


def row_source(name: str, keys: Mapping[str, str], own: Rows | None = None) -> str:
    """Where a row comes from, with its mark, such as "estimated in the table"."""
    row = find_row(name, keys, own)
    source = row.get("source") or str(table(name)["source"])
    return f"{source}; {row['mark']}" if row.get("mark") else source


def _miss(
    name: str, column: str, wanted: str, rows: list[Row], keys: Mapping[str, str], whole: int
) -> Refusal:
    there = sorted({row[column] for row in rows}, key=lambda cell: [len(cell), cell])
    before = [f"{k} {v}" for k, v in keys.items() if k != column and any(r[k] == v for r in rows)]
    of = f" for {', '.join(before)}" if before and len(rows) < whole else ""
    wrong = f"the {name} table has no row with {column} '{wanted}'{of}; the nearest is never taken"
    # A key may be a list, such as three alloys: in quotes it is seen where one ends.
    listed = any(", " in cell for cell in there)
    shown = {cell: f"'{cell}'" if listed else cell for cell in there}
    near = next((c for c in there if wanted in c.split(", ")), "") or near_word(wanted, there)
    right = f"one of: {', '.join(shown.values())}"
    right += f" (did you mean {shown[near]}?)" if near else ""
    return Refusal("table", wrong, right)
