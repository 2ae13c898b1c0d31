"""A calculation and its inputs in; its results with their working, or a Refusal, out.

The body runs on amounts that remember their expression; a second method runs beside it on plain
numbers, and where the two do not agree nothing is printed.
"""

from __future__ import annotations

import dataclasses
import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any, get_type_hints

from generator.calculation import (
    Calculation,
    Count,
    Given,
    Gives,
    Input,
    Key,
    check_range,
    check_unit,
    constant,
    fact_of,
)
from generator.findings import Refusal
from generator.quantities.amount import Amount, leaf
from generator.quantities.functions import limits_in_words, subscript
from generator.quantities.rounding import plain, rounded
from generator.quantities.text import read_amount, read_plain
from generator.quantities.units import unit
from generator.tables import find_row


@dataclass(frozen=True)
class Result:
    """One number that came out, ready to print: name is "" or "flats.2"; shown has no unit."""

    name: str
    fact: Any
    amount: Amount | None
    shown: str
    order: tuple[int, ...] = ()

    @property
    def text(self) -> str:
        """The number with its unit, as it stands on every sheet."""
        if self.order:
            return " ".join(str(n) for n in self.order)
        unit_text = self.fact.unit
        return f"{self.shown}{'' if unit_text in ('', '°') else ' '}{unit_text}"


@dataclass(frozen=True)
class Run:
    """One run: the inputs as leaves, the results, and what the second method said."""

    calculation: Calculation
    inputs: Mapping[str, Any]
    results: tuple[Result, ...]
    second: str
    looked_up: Mapping[str, str] = field(default_factory=dict)


def run(what: Calculation, values: Mapping[str, Any]) -> Run:
    """Run a calculation on amounts, keys and counts by name; refuses what is out of range.

    values: amount -> Amount; amounts -> list of Amount; rows -> list of dicts of Amount;
    key -> text; count -> int.
    """
    bound = {
        item.name: _bound(item, values[item.name]) for item in what.inputs if item.kind != "fixed"
    }
    for item in what.inputs:
        if item.kind == "fixed":
            bound[item.name] = constant(item.fact, traced=True)
    arguments = _arguments(what, bound)
    results = _results(what, what.body(**arguments))
    looked: dict[str, str] = {}
    for name in what.tables:
        looked |= _cells(arguments[name])
    return Run(what, bound, results, _second(what, arguments, results), looked)


def _cells(row: Any) -> dict[str, str]:
    """The amounts of a looked-up row by their meanings, for the printed working."""
    hints = get_type_hints(type(row), include_extras=True)
    facts = {name: fact_of(hint) for name, hint in hints.items()}
    return {f.meaning: getattr(row, n).numbers for n, f in facts.items() if isinstance(f, Given)}


def _arguments(what: Calculation, bound: Mapping[str, Any]) -> dict[str, Any]:
    """The body's arguments: table rows are looked up by their keys."""
    arguments: dict[str, Any] = {}
    for name in what.parameters:
        if name in what.tables:
            arguments[name] = _row_of(what, name, bound)
        else:
            arguments[name] = bound[name]
    return arguments


def _row_of(what: Calculation, name: str, bound: Mapping[str, Any]) -> Any:
    row_type = what.tables[name]
    hints = get_type_hints(row_type, include_extras=True)
    keys = {n: bound[n] for n, h in hints.items() if isinstance(fact_of(h), Key)}
    table = next(i.table for i in what.inputs if i.name in keys)
    row = find_row(table, keys)
    cells: dict[str, Any] = dict(keys)
    for cell, hint in hints.items():
        fact = fact_of(hint)
        if isinstance(fact, Given):
            cells[cell] = leaf(read_amount(row[cell]), fact.symbol, unit(fact.unit))
    return row_type(**cells)


def _bound(item: Input, value: Any) -> Any:
    """An input's value as the leaf its formula shows, checked against its range."""
    if item.kind == "amount":
        return _leaf(item.fact, value, item.fact.symbol)
    if item.kind == "amounts":
        return tuple(
            _leaf(item.fact, each, subscript(item.fact.symbol, n))
            for n, each in enumerate(value, start=1)
        )
    if item.kind == "rows":
        return tuple(_row(item, row, n) for n, row in enumerate(value, start=1))
    if item.kind == "count":
        return _counted(item.fact, value)
    return value


def _row(item: Input, row: Mapping[str, Any], number: int) -> Any:
    assert item.row_type is not None
    cells = {
        cell.name: _leaf(cell.fact, row[cell.name], subscript(cell.fact.symbol, number))
        for cell in item.row
    }
    return item.row_type(**cells)


def _counted(fact: Count, value: int) -> int:
    if not fact.at_least <= value <= fact.at_most:
        right = f"{fact.at_least} to {fact.at_most}"
        raise Refusal("range", f"{fact.meaning}: {value} is out of range", right)
    return value


def _leaf(fact: Given, value: Amount, symbol: str) -> Amount:
    wanted = unit(fact.unit)
    check_unit(value, wanted, fact.meaning)
    check_range(fact, value)
    return leaf(value, symbol, wanted)


def _results(what: Calculation, came: Any) -> tuple[Result, ...]:
    results: list[Result] = []
    for out in what.outputs:
        value = getattr(came, out.name) if out.name else came
        if out.kind == "order":
            results.append(Result(out.name, out.fact, None, "", tuple(value)))
        elif out.kind == "amounts":
            results += [
                _result(f"{out.name}.{n}", out.fact, each, n) for n, each in enumerate(value, 1)
            ]
        else:
            results.append(_result(out.name, out.fact, value, 0))
    return tuple(results)


def _result(name: str, fact: Gives, value: Amount, number: int) -> Result:
    if number:
        symbol, meaning = subscript(fact.symbol, number), f"{fact.meaning} {number}"
        fact = dataclasses.replace(fact, symbol=symbol, meaning=meaning)
    amount = value.in_unit(unit(fact.unit))
    return Result(name, fact, amount, printed(fact, amount))


def printed(fact: Gives, amount: Amount) -> str:
    """The text of a result, rounded once, or a refusal where it leaves its limits."""
    value = amount.number()
    slack = 1e-12 * max(1.0, abs(value))
    passed = (
        (fact.above and value <= float(fact.above) + slack)
        or (fact.at_least and value < float(fact.at_least) - slack)
        or (fact.at_most and value > float(fact.at_most) + slack)
    )
    if passed:
        shown = f"{rounded(value, fact.to)} {fact.unit}".strip()
        wrong = f"{fact.meaning} comes to {shown}"
        right = limits_in_words(fact.above, fact.at_least, fact.at_most, fact.unit)
        raise Refusal("range", wrong, right + (f". {fact.beyond}" if fact.beyond else ""))
    return rounded(value, fact.to, fact.safe)


def _second(what: Calculation, arguments: Mapping[str, Any], results: tuple[Result, ...]) -> str:
    """Run the second method on plain numbers; refuse where the two do not agree."""
    if what.second is None:
        return ""
    asked = _asked(what.second.way)
    plain_arguments = {n: _bare(v) for n, v in arguments.items() if n in asked}
    others = _plain_results(what, what.second.way(**plain_arguments))
    furthest = 0.0
    for result, other in zip(results, others, strict=True):
        if result.order:
            if tuple(other) != result.order:
                raise Refusal("second", f"{what.title}: the second method disagrees", "report it")
            continue
        assert result.amount is not None
        gap = abs(result.amount.unit.from_base(other) - result.amount.number())
        furthest = max(furthest, gap)
        if gap > _allowed(what.second.within, result.amount.number()):
            wrong = f"{what.title}: two methods differ by {plain(gap, 3)} {result.fact.unit}"
            raise Refusal(
                "second", wrong, f"agreement within {what.second.within}; nothing printed"
            )
    return f"{what.second.says}; agrees within {what.second.within}"


@cache
def _asked(way: Callable[..., Any]) -> frozenset[str]:
    return frozenset(inspect.signature(way).parameters)


def _plain_results(what: Calculation, came: Any) -> list[Any]:
    if what.result_type is None:
        return [came]
    flat: list[Any] = []
    for out in what.outputs:
        value = getattr(came, out.name)
        flat += list(value) if out.kind == "amounts" else [value]
    return flat


def _bare(value: Any) -> Any:
    """Amounts as floats in base units, also inside rows and lists."""
    if isinstance(value, Amount):
        return value.value
    if isinstance(value, tuple):
        return tuple(_bare(each) for each in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        cells = {f.name: _bare(getattr(value, f.name)) for f in dataclasses.fields(value)}
        return type(value)(**cells)
    return value


def _allowed(within: str, result: float) -> float:
    """The gap allowed, in the result's unit; a share is of the result."""
    if within.endswith("%"):
        return float(within[:-1]) / 100 * abs(result) + 1e-12
    return (read_plain(within).value) + 1e-9 * abs(result)


def on_floats(what: Calculation, ran: Run) -> list[float]:
    """The same body on plain floats: the results in their units, in the order of the results."""
    arguments = {n: _bare(v) for n, v in _arguments(what, ran.inputs).items()}
    others = _plain_results(what, what.body(**arguments))
    return [
        other if result.amount is None else result.amount.unit.from_base(other)
        for result, other in zip(ran.results, others, strict=True)
    ]
