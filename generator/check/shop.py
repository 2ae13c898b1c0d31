"""What a workshop adds to every process, in; its faults out: rows of tables, and second units.

A row stands beside the published ones, never in place of one: the same keys are refused.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from generator.calculations import calculations
from generator.findings import Fault, Refusal, fault, near_word
from generator.quantities.amount import Amount
from generator.quantities.text import read_amount
from generator.quantities.units import named, unit
from generator.tables import Row, table, table_names

_BESIDE = ("source", "mark")


def second_unit_faults(tree: Mapping[str, Any]) -> Iterator[Fault]:
    """A second unit must be of the same kind as the unit it follows."""
    for own, second in tree.get("also in", {}).items():
        one, other = unit(own), unit(second)
        if (one.dimension, one.point) != (other.dimension, other.point):
            told = f"{second} is {named(other.dimension)}, not {named(one.dimension)} as {own} is"
            yield Fault(("also in", own), "unit", told, f"another unit for {own}")


def twice_faults(tree: Mapping[str, Any], name: str, key: str) -> Iterator[Fault]:
    """A stamp or an instrument that stands twice in its list: nobody knows which entry holds."""
    seen: set[str] = set()
    for i, each in enumerate(tree[name]):
        if each[key] in seen:
            yield Fault((name, i, key), "repeated", f"{each[key]} stands twice", "each once")
        seen.add(each[key])


def name_fault(name: str) -> Fault | None:
    """The fault of a file that has the name of no table."""
    known = table_names()
    if name in known:
        return None
    near = near_word(name, known)
    right = (f"{near}? " if near else "") + "one of: " + ", ".join(known)
    return Fault((), "table", f"no published table is named '{name}'", right)


def row_faults(name: str, rows: Sequence[Mapping[str, Any]]) -> Iterator[Fault]:
    """Every fault of the rows that a workshop adds to the table of that name."""
    published: Sequence[Row] = table(name)["rows"]
    columns = [column for column in published[0] if column not in _BESIDE]
    keys = key_columns(name)
    taken = {_alike(row, keys): "is published" for row in published}
    for n, row in enumerate(rows):
        here = ("rows", n)
        wrong = [*_column_faults(here, columns, row), *_cell_faults(here, published, row)]
        wrong = wrong or list(_order_fault(here, row))
        yield from wrong
        if wrong:
            continue
        own = _alike(row, keys)
        if own in taken:
            told = f"the row {', '.join(row[key] for key in keys)} {taken[own]} already"
            right = "keys of its own: a published row is never put aside in silence"
            yield Fault((*here, keys[0]), "duplicate", told, right)
        taken[own] = "stands here"


def _alike(row: Mapping[str, Any], keys: Sequence[str]) -> tuple[str, ...]:
    """The keys of a row as a reader would not tell them apart: 10 - 32 is 10-32."""
    return tuple(_folded(row[key]) for key in keys)


def _folded(cell: str) -> str:
    plain = unicodedata.normalize("NFKC", cell).translate(_LOOK_ALIKES)
    return "".join(plain.lower().split())


_LOOK_ALIKES = {
    **dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2212"), "-"),
    ord("\u00d7"): "x",
    ord("\u2044"): "/",
    ord("\u2215"): "/",
}


def key_columns(name: str) -> list[str]:
    """The columns by which a row of the table is looked up."""
    inputs = [i for what in calculations().values() for i in what.inputs if i.table == name]
    return list(dict.fromkeys(i.name for i in inputs))


def _column_faults(
    here: tuple[str | int, ...], columns: Sequence[str], row: Mapping[str, Any]
) -> Iterator[Fault]:
    strange = [column for column in row if column not in (*columns, *_BESIDE)]
    meant = {near_word(column, (*columns, *_BESIDE)) for column in strange}
    for column in (*columns, "source"):
        if column not in row and column not in meant:
            right = f"{column}: the document, issue and page" if column == "source" else column
            yield Fault(here, "missing", f"the row has no '{column}'", right, of_key=True)
    for column in strange:
        near = near_word(column, (*columns, *_BESIDE))
        right = f"did you mean '{near}'?" if near else "one of: " + ", ".join(columns)
        told = f"'{column}' is no column of the table"
        yield Fault((*here, column), "unknown", told, right, of_key=True)


def _cell_faults(
    here: tuple[str | int, ...], published: Sequence[Row], row: Mapping[str, Any]
) -> Iterator[Fault]:
    """A cell that is an amount in the published rows is one value of the same kind here."""
    like = published[0]
    zero = {c for each in published for c, cell in each.items() if _is_zero(cell)}
    for column, cell in row.items():
        several = ", " in like.get(column, "")
        pattern = _amount(like.get(column, "").partition(", ")[0])
        if pattern is None or column in _BESIDE:
            continue
        for each in cell.split(", ") if several else [cell]:
            try:
                own = read_amount(each)
                yield from _value_faults((*here, column), own, pattern, column in zero)
            except Refusal as refusal:
                yield fault((*here, column), refusal)


def _value_faults(
    here: tuple[str | int, ...], own: Amount, pattern: Amount, may_be_zero: bool
) -> Iterator[Fault]:
    name, such_as = f"'{here[-1]}'", f"such as {pattern.typed}"
    if own.unit.dimension != pattern.unit.dimension:
        told = f"{name} is {named(own.unit.dimension)}"
        yield Fault(here, "unit", told, f"{named(pattern.unit.dimension)}, {such_as}")
    elif own.low is not None:
        told = f"{name} has a tolerance, and a row holds one value"
        yield Fault(here, "range", told, f"one value, {such_as}")
    elif own.value < 0 or (own.value == 0 and not may_be_zero):
        told = f"{name} is {own.typed}: no published row has such a value"
        yield Fault(here, "range", told, f"a value above zero, {such_as}")


def _order_fault(here: tuple[str | int, ...], row: Mapping[str, Any]) -> Iterator[Fault]:
    """A lower limit above its upper one, by whatever names the table has for the two."""
    for first, second in _PAIRS:
        low, high = (_amount(str(row.get(column, ""))) for column in (first, second))
        if low is not None and high is not None and low.value > high.value:
            told = f"{first} {row[first]} is above {second} {row[second]}; swapped?"
            yield Fault((*here, first), "limits", told, "the smaller first")


_PAIRS = (("lower", "upper"), ("smallest", "largest"), ("over", "up_to"), ("proof", "tensile"))


def _is_zero(cell: str) -> bool:
    found = _amount(cell)
    return found is not None and found.value == 0


def _amount(cell: str) -> Amount | None:
    try:
        return read_amount(cell)
    except Refusal:
        return None
