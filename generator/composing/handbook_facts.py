"""A calculation in; the rows of what goes into it and of what comes out of it, for the handbook."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any, get_type_hints

from generator.calculation import Calculation, Count, Given, Gives, Input, Output, fact_of
from generator.composing.escape import Markdown, escape
from generator.quantities.functions import limits_in_words, subscript

Row = tuple[str, ...]
Marks = Mapping[str, str]
NONE = "-"
INPUT_HEADS = ("key", "symbol", "meaning", "unit", "range", "typed as")
RESULT_HEADS = ("name", "symbol", "meaning", "unit", "printed to", "rounded", "limits")
ALONE = "the entry's name"


def input_rows(what: Calculation, tables: Marks) -> list[Row]:
    """A row for each input, each cell of its rows, each number of a table row, each constant."""
    rows = [row for item in what.inputs if item.kind != "fixed" for row in _inputs(item, tables)]
    rows += [row for name in what.tables for row in _looked_up(what, name)]
    return rows + [_constant(item.fact) for item in what.inputs if item.kind == "fixed"]


def _inputs(item: Input, tables: Marks) -> Iterator[Row]:
    if item.kind != "rows":
        yield _input(item, tables, item.name, "")
        return
    names = ", ".join(cell.name for cell in item.row)
    yield item.name, NONE, f"rows of {names}", NONE, NONE, "a list of rows"
    for cell in item.row:
        yield _input(cell, tables, f"{item.name}: {cell.name}", ", in each row")


def _input(item: Input, tables: Marks, name: str, where: str) -> Row:
    fact: Any = item.fact
    if isinstance(fact, Given):
        kind = ("a list of amounts" if item.kind == "amounts" else "an amount") + where
        if fact.at_bench:
            kind += f"; the bench measures it to {_with_unit(fact.at_bench, fact.unit)}"
        return name, fact.symbol, _past(fact), fact.unit or NONE, _range(fact), kind
    if isinstance(fact, Count):
        limits = f"{fact.at_least} to {fact.at_most}"
        return name, fact.symbol, fact.meaning, NONE, limits, f"a whole number{where}"
    if item.kind == "choice":
        words = " or ".join(fact.words) + (
            f"; {fact.otherwise} if left out" if fact.otherwise else ""
        )
        return name, NONE, fact.meaning, NONE, words, f"one of the words{where}"
    linked = Markdown(f"a key of {table_link(item.table, tables)}")
    return name, NONE, fact.meaning, NONE, "its rows", linked


def table_link(name: str, tables: Marks) -> Markdown:
    """The name of a table, leading to it where it stands in the handbook."""
    return Markdown(f"[{escape(name)}](#{tables[name]})") if name in tables else escape(name)


def _with_unit(number: str, unit: str) -> str:
    """A number with its unit, where it has one."""
    return f"{number} {unit}".strip()


def _range(fact: Given) -> str:
    return limits_in_words(fact.above, fact.at_least, fact.at_most, "")


def _past(fact: Given) -> str:
    return f"{fact.meaning}. Past its range: {fact.beyond}" if fact.beyond else fact.meaning


def _looked_up(what: Calculation, parameter: str) -> Iterator[Row]:
    """The numbers that come with a table row."""
    for hint in get_type_hints(what.tables[parameter], include_extras=True).values():
        fact = fact_of(hint)
        if isinstance(fact, Given):
            unit = fact.unit or NONE
            yield NONE, fact.symbol, fact.meaning, unit, "as printed", "read from the row"


def _constant(fact: Given) -> Row:
    unit = fact.unit or NONE
    return NONE, fact.symbol, fact.meaning, unit, f"always {fact.fixed}", "never typed"


def result_rows(what: Calculation) -> list[Row]:
    """A row for each result, by the name that texts and other entries use for it."""
    return [
        row for out in what.outputs for row in _results(out, f".{out.name}" if out.name else "")
    ]


def _results(out: Output, name: str) -> Iterator[Row]:
    if out.kind == "rows":
        for cell in out.row:
            yield from _results(replace(cell, fact=_first(cell.fact)), f"{name}.1.{cell.name}")
    elif out.kind == "amounts":
        yield _result(_first(out.fact), f"{name}.1")
    elif out.kind == "window":
        yield _result(_end(out.fact, "min", "least", "up"), f"{name}.from")
        yield _result(_end(out.fact, "max", "largest", "down"), f"{name}.to")
    elif isinstance(out.fact, Gives):
        yield _result(out.fact, name)
    else:
        kind = "a sequence" if out.kind == "order" else "words"
        yield name or ALONE, out.fact.symbol or NONE, out.fact.meaning, NONE, kind, NONE, NONE


def _first(fact: Any) -> Any:
    """The first of several: the others count on."""
    symbol = subscript(fact.symbol, 1) if fact.symbol else ""
    return replace(fact, symbol=symbol, meaning=f"{fact.meaning} 1, and so on")


def _end(fact: Gives, end: str, word: str, side: str) -> Gives:
    symbol = f"{fact.symbol}_{end}"
    return replace(fact, symbol=symbol, meaning=f"{word} {fact.meaning}", safe=side)


def _result(fact: Gives, name: str) -> Row:
    limits = limits_in_words(fact.above, fact.at_least, fact.at_most, "")
    limits = NONE if limits == "any value" else limits
    if fact.beyond:
        limits += f". {fact.beyond}"
    symbol, unit = fact.symbol or NONE, fact.unit or NONE
    return name or ALONE, symbol, fact.meaning, unit, fact.to, fact.safe, limits
