"""A calculation and the keys of a table row, in; the row as amounts, and its cells as text, out."""

from __future__ import annotations

import typing
from collections.abc import Mapping
from typing import Any, get_type_hints

from generator.calculation import Calculation, Given, Key, fact_of
from generator.quantities.amount import Amount, leaf
from generator.quantities.functions import subscript
from generator.quantities.text import read_amount
from generator.quantities.units import unit
from generator.tables import Rows, find_row, row_source


def row_of(what: Calculation, name: str, bound: Mapping[str, Any], own: Rows) -> Any:
    """The row that the keys name, its cells as leaves; a cell may hold a list."""
    row_type = what.tables[name]
    hints = get_type_hints(row_type, include_extras=True)
    keys = {n: bound[n] for n, h in hints.items() if isinstance(fact_of(h), Key)}
    table = next(i.table for i in what.inputs if i.name in keys)
    row = find_row(table, keys, own)
    cells: dict[str, Any] = dict(keys)
    for cell, hint in hints.items():
        fact = fact_of(hint)
        if isinstance(fact, Given):
            cells[cell] = _cell(fact, row[cell], many=typing.get_origin(_base(hint)) is tuple)
    return row_type(**cells)


def _base(hint: Any) -> Any:
    return hint.__origin__ if hasattr(hint, "__metadata__") else hint


def _cell(fact: Given, text: str, many: bool) -> Any:
    """A cell of a table row: one amount, or a list of them parted by commas."""
    if not many:
        return leaf(read_amount(text), fact.symbol, unit(fact.unit))
    return tuple(
        leaf(read_amount(each), subscript(fact.symbol, n), unit(fact.unit))
        for n, each in enumerate(text.split(", "), start=1)
    )


def cells_of(what: Calculation, name: str, row: Any, own: Rows) -> dict[str, str]:
    """The amounts of a looked-up row by their meanings, and its source, for the printed working."""
    hints = get_type_hints(type(row), include_extras=True)
    facts = {name: fact_of(hint) for name, hint in hints.items()}
    cells = {f.meaning: getattr(row, n) for n, f in facts.items() if isinstance(f, Given)}
    shown = {n: _numbers(each) for n, each in cells.items()}
    keys = {n: getattr(row, n) for n, f in facts.items() if isinstance(f, Key)}
    table = next(i.table for i in what.inputs if i.name in keys)
    return {n: each for n, each in shown.items() if each} | {
        "row from": row_source(table, keys, own)
    }


def _numbers(cell: Any) -> str:
    """A cell as it is printed; "" for what is no amount on amounts, but floats in a method."""
    if isinstance(cell, tuple):
        return ", ".join(filter(None, map(_numbers, cell)))
    return cell.numbers if isinstance(cell, Amount) else ""
