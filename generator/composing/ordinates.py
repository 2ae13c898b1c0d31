"""The workings of a process in; the tables of their results that are read as lists, out.

Rows of one station stand in columns beside each other, so that the block maker follows a point
across the stations and a station down its points.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from generator.calculation import Output
from generator.computing.working import Number, Working, Workings

BESIDE = 4  # stations beside each other on a page
_STATION = "at"

Cells = tuple[str, ...]


@dataclass(frozen=True)
class Listing:
    """One table: what it is, of which working, its heads and its rows."""

    mark: str
    title: str
    heads: Cells
    rows: tuple[Cells, ...]


@dataclass(frozen=True)
class Ordinates:
    """One working: what is told above its tables, and its tables."""

    mark: str
    title: str
    facts: tuple[tuple[str, str], ...]
    tables: tuple[Listing, ...]


def ordinates(workings: Workings) -> list[Ordinates]:
    """Every working that has lists among its results."""
    return [
        _of_working(each)
        for each in workings.workings.values()
        if each.ran is not None and each.ran.calculation.listed
    ]


def _of_working(working: Working) -> Ordinates:
    assert working.ran is not None
    what = working.ran.calculation
    facts = [(i.fact.meaning, str(working.ran.inputs[i.name])) for i in what.inputs if i.kind in (
        "choice", "count"
    )]  # fmt: skip
    facts += [
        (i.fact.meaning, working.ran.inputs[i.name].numbers)
        for i in what.inputs
        if i.kind == "amount"
    ]
    facts += [(n.meaning, n.text) for n in working.single]
    tables = tuple(table for out in what.listed for table in _tables(working, out))
    return Ordinates(working.mark, working.title, tuple(facts), tables)


def _tables(working: Working, out: Output) -> Iterator[Listing]:
    rows = rows_of(working, out)
    heads = tuple(
        f"{cell.fact.meaning} {n.unit}".strip() for cell, n in zip(out.row, rows[0], strict=True)
    )
    title = f"{working.name.replace('_', ' ')}: {out.fact.meaning}"
    groups = [list(each) for _, each in groupby(rows, key=lambda row: row[0].shown)]
    if out.row[0].name != _STATION or len(groups) == len(rows):
        body = tuple((str(n), *_cells(row, len(heads))) for n, row in enumerate(rows, 1))
        yield Listing(working.mark, title, ("no.", *heads), body)
        return
    for k in range(0, len(groups), BESIDE):
        yield _beside(working.mark, title, groups[k : k + BESIDE], heads)


def _cells(row: Sequence[Number], wide: int) -> Iterator[str]:
    """What a row shows; a dash for what is no number, such as a step on from the last line."""
    yield from (cell.shown for cell in row)
    yield from "-" * (wide - len(row))


def _beside(
    mark: str, title: str, groups: Sequence[Sequence[Sequence[Number]]], heads: Cells
) -> Listing:
    """A few stations beside each other: a row for each point."""
    names = [group[0][0].shown for group in groups]
    columns = [f"at {name}: {head}" for name in names for head in heads[1:]]
    rows = tuple(
        (str(n), *(cell.shown for row in points for cell in row[1:]))
        for n, points in enumerate(zip(*groups, strict=True), 1)
    )
    return Listing(mark, title, ("point", *columns), rows)


def rows_of(working: Working, out: Output) -> list[list[Number]]:
    """The numbers of a list, row by row; the last row may end before the others."""
    begins = f"{working.name}.{out.name}."
    found = [n for n in working.results if n.name.startswith(begins)]
    wide = len(out.row)
    return [found[k : k + wide] for k in range(0, len(found), wide)]
