"""A calculation and its inputs in; its results with their working, or a Refusal, out.

The body runs on amounts that remember their expression; a second method runs beside it on plain
numbers, and where the two do not agree nothing is printed. A named method runs on plain numbers
alone.
"""

from __future__ import annotations

import dataclasses
import inspect
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cache, lru_cache
from typing import Any

from generator.calculation import (
    Calculation,
    Choice,
    Count,
    Given,
    Gives,
    Input,
    Output,
    check_range,
    check_unit,
    constant,
)
from generator.computing.looked_up import cells_of, row_of
from generator.computing.second_unit import shown_in
from generator.findings import Refusal
from generator.quantities.amount import Amount, leaf
from generator.quantities.functions import limits_in_words, passes, subscript
from generator.quantities.rounding import plain, rounded
from generator.quantities.text import read_amount, read_plain
from generator.quantities.units import unit
from generator.quantities.window import Window
from generator.signs import is_whole
from generator.tables import Rows


@dataclass(frozen=True)
class Result:
    """One number that came out, ready to print: name is "" or "flats.2"; shown has no unit.

    A result may also be an order, or words (amount None, shown holds them).
    """

    name: str
    fact: Any
    amount: Amount | None
    shown: str
    order: tuple[int, ...] = ()

    @property
    def text(self) -> str:
        """The number with its unit, as it stands on every sheet."""
        if self.amount is None:
            return self.shown
        return with_unit(self.shown, self.fact.unit)


@dataclass(frozen=True)
class Run:
    """One run: the inputs as leaves, the results, and what the second method said.

    looked_up: the cells of the table rows that were used, and where each row comes from.
    """

    calculation: Calculation
    inputs: Mapping[str, Any]
    results: tuple[Result, ...]
    second: str
    looked_up: Mapping[str, str] = field(default_factory=dict)
    arguments: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Piece:
    """One single value that came out, with its name and its fact."""

    name: str
    kind: str
    fact: Any
    value: Any


def with_unit(shown: str, unit_text: str) -> str:
    """A number with its unit: no space before a degree sign alone."""
    return f"{shown}{'' if unit_text in ('', '°') else ' '}{unit_text}"


def run(
    what: Calculation,
    values: Mapping[str, Any],
    own: Rows | None = None,
    units: Mapping[str, str] | None = None,
    lines: bool = True,
) -> Run:
    """Run a calculation on amounts, keys, choices and counts by name; refuses what is out of range.

    values: amount -> Amount; amounts -> list of Amount; rows -> list of dicts of cells;
    key and choice -> text; count -> int. own: rows of the workshop's own tables, by table. units:
    the unit to show results in, by the one that the calculation gives. lines: whether the working
    is wanted too; without it the same body runs on plain numbers, an eighth of the work, and units
    are those that an earlier run with lines has proven.
    """
    bound = {i.name: bind(i, values[i.name]) for i in what.inputs if i.kind != "fixed"}
    for item in what.inputs:
        if item.kind == "fixed":
            bound[item.name] = constant(item.fact, traced=not what.method)
    arguments = _arguments(what, bound, own or {})
    rows = {name: arguments[name] for name in what.tables}
    if what.method:
        arguments = _on_plain_numbers(arguments)
    results = _inside_their_windows(_results(what, arguments, units or {}, lines))
    looked: dict[str, str] = {}
    for name in what.tables:
        looked |= cells_of(what, name, rows[name], own or {})
    return Run(what, bound, results, _second(what, arguments, results), looked, arguments)


def _results(
    what: Calculation, arguments: Mapping[str, Any], units: Mapping[str, str], lines: bool
) -> tuple[Result, ...]:
    """What the body gives. What is refused on plain numbers is refused in the words of a trace."""
    if not lines:
        with suppress(Refusal):
            return _results(what, _on_plain_numbers(arguments), units, lines=True)
    try:
        return tuple(_result(piece, units) for piece in pieces(what, what.body(**arguments)))
    except (ArithmeticError, ValueError):
        raise no_answer(what.title) from None


def _on_plain_numbers(arguments: Mapping[str, Any]) -> dict[str, Any]:
    return {name: bare(each) for name, each in arguments.items()}


def no_answer(title: str) -> Refusal:
    """The refusal of inputs for which a formula has no answer at all."""
    wrong = f"{title}: the formula has no answer for these"
    return Refusal("range", wrong, "no divisor of zero, no root or logarithm of less")


def _inside_their_windows(results: tuple[Result, ...]) -> tuple[Result, ...]:
    """The results; one within a printed step of an end of its window is rounded inwards, so that
    no unit it is printed in leaves the window."""
    by_name = {result.name: result for result in results}
    return tuple(
        _inwards(result, by_name[f"{window}.from"], by_name[f"{window}.to"])
        if (window := getattr(result.fact, "inside", ""))
        else result
        for result in results
    )


def _inwards(result: Result, low: Result, high: Result) -> Result:
    assert result.amount is not None and low.amount is not None and high.amount is not None
    exact, slack = result.amount.value, 1e-9 * abs(high.amount.value)
    if not low.amount.value - slack <= exact <= high.amount.value + slack:
        return result
    to = float(result.fact.to) * result.amount.unit.factor
    if high.amount.value - exact >= to and exact - low.amount.value >= to:
        return result
    side = "down" if high.amount.value - exact < to else "up"
    fact = dataclasses.replace(result.fact, safe=side)
    return dataclasses.replace(result, fact=fact, shown=printed(fact, result.amount))


def _arguments(what: Calculation, bound: Mapping[str, Any], own: Rows) -> dict[str, Any]:
    """The body's arguments: table rows are looked up by their keys."""
    return {
        name: row_of(what, name, bound, own) if name in what.tables else bound[name]
        for name in what.parameters
    }


def bind(item: Input, value: Any) -> Any:
    """An input's value as the leaf its formula shows, checked against its range."""
    if item.kind == "amounts":
        return tuple(
            _single(item, each, subscript(item.fact.symbol, n))
            for n, each in enumerate(value, start=1)
        )
    if item.kind == "rows":
        return tuple(_row(item, row, n) for n, row in enumerate(value, start=1))
    return _single(item, value, getattr(item.fact, "symbol", ""))


def _row(item: Input, row: Mapping[str, Any], number: int) -> Any:
    assert item.row_type is not None
    cells = {}
    for cell in item.row:
        value = row.get(cell.name, cell.otherwise)
        symbol = subscript(getattr(cell.fact, "symbol", ""), number)
        cells[cell.name] = _single(cell, value, symbol)
    return item.row_type(**cells)


def _single(item: Input, value: Any, symbol: str) -> Any:
    if item.kind == "count":
        return _counted(item.fact, value)
    if item.kind == "choice":
        return _chosen(item.fact, value)
    if item.kind == "key":
        return value
    return _leaf(item.fact, value, symbol)


def _counted(fact: Count, value: int) -> int:
    if not fact.at_least <= value <= fact.at_most:
        right = f"{fact.at_least} to {fact.at_most}"
        raise Refusal("range", f"{fact.meaning}: {value} is out of range", right)
    return value


def _chosen(fact: Choice, value: str) -> str:
    if value not in fact.words:
        right = f"one of: {', '.join(fact.words)}"
        raise Refusal("choice", f"{fact.meaning}: '{value}' is none of its words", right)
    return value


def _leaf(fact: Given, value: Amount, symbol: str) -> Amount:
    wanted = unit(fact.unit)
    check_unit(value, wanted, fact.meaning)
    check_range(fact, value)
    return leaf(value, symbol, wanted)


def pieces(what: Calculation, came: Any) -> Iterator[Piece]:
    """Every single value of what a body gave, in order, with its full name."""
    for out in what.outputs:
        yield from _pieces(out, getattr(came, out.name) if out.name else came, out.name)


def _pieces(out: Output, value: Any, name: str) -> Iterator[Piece]:
    """None is no number at all, such as a step on from the last line: nothing comes of it."""
    if value is None:
        return
    if out.kind == "amounts":
        for n, each in enumerate(value, start=1):
            yield Piece(_joined(name, str(n)), "amount", _numbered(out.fact, n), each)
    elif out.kind == "rows":
        for n, row in enumerate(value, start=1):
            for cell in out.row:
                yield from _pieces(
                    _of_row(cell, n), getattr(row, cell.name), _joined(name, str(n), cell.name)
                )
    elif out.kind == "window":
        yield from _window_pieces(out.fact, value, name)
    else:
        yield Piece(name, out.kind, out.fact, value)


def _window_pieces(fact: Gives, value: Window, name: str) -> Iterator[Piece]:
    """The two ends of a window: neither is ever printed wider than it was worked out."""
    for end, number, by, side in (
        ("from", value.low, value.low_by, "up"),
        ("to", value.high, value.high_by, "down"),
    ):
        word = "least" if end == "from" else "largest"
        told = dataclasses.replace(
            fact,
            symbol=f"{fact.symbol}_{'min' if end == 'from' else 'max'}",
            meaning=f"{word} {fact.meaning}" + (f", bound by {by}" if by else ""),
            safe=side,
            end=end,
        )
        yield Piece(_joined(name, end), "amount", told, number)


def _joined(*names: str) -> str:
    return ".".join(filter(None, names))


@lru_cache(maxsize=1 << 12)
def _of_row(cell: Output, number: int) -> Output:
    return dataclasses.replace(cell, fact=_numbered(cell.fact, number))


@lru_cache(maxsize=1 << 12)
def _numbered(fact: Any, number: int) -> Any:
    symbol, meaning = subscript(fact.symbol, number), f"{fact.meaning} {number}"
    return dataclasses.replace(fact, symbol=symbol, meaning=meaning)


def _result(piece: Piece, units: Mapping[str, str]) -> Result:
    if piece.kind == "order":
        shown = " ".join(str(n) for n in piece.value)
        return Result(piece.name, piece.fact, None, shown, tuple(piece.value))
    if piece.kind == "word":
        return Result(piece.name, piece.fact, None, piece.value)
    scale = unit(piece.fact.unit)
    value = piece.value
    amount = value.in_unit(scale) if isinstance(value, Amount) else Amount(float(value), scale)
    if other := units.get(piece.fact.unit):
        judge(piece.fact, amount.number())
        fact = shown_in(piece.fact, amount, unit(other))
        amount = amount.in_unit(unit(other))
        return Result(piece.name, fact, amount, printed(fact, amount))
    return Result(piece.name, piece.fact, amount, printed(piece.fact, amount))


def printed(fact: Gives, amount: Amount) -> str:
    """The text of a result, rounded once, or a refusal where it leaves its limits."""
    value = amount.number()
    judge(fact, value)
    return rounded(value, fact.to, fact.safe)


def judge(fact: Gives, value: float) -> None:
    """Refuses a result outside its limits. value is in the unit of the fact."""
    if passes(value, fact.above, fact.at_least, fact.at_most):
        shown = f"{rounded(value, fact.to)} {fact.unit}".strip()
        wrong = f"{fact.meaning} comes to {shown}"
        right = limits_in_words(fact.above, fact.at_least, fact.at_most, fact.unit)
        raise Refusal("range", wrong, right + (f". {fact.beyond}" if fact.beyond else ""))


def _second(what: Calculation, arguments: Mapping[str, Any], results: tuple[Result, ...]) -> str:
    """Run the second method on plain numbers; refuse where the two do not agree."""
    if what.second is None:
        return ""
    asked = _asked(what.second.way)
    plain_arguments = {n: bare(v) for n, v in arguments.items() if n in asked}
    try:
        others = list(pieces(what, what.second.way(**plain_arguments)))
    except (ArithmeticError, ValueError):
        raise no_answer(what.title) from None
    for result, other in zip(results, others, strict=True):
        if result.amount is None:
            same = (
                tuple(other.value) == result.order
                if result.order
                else other.value in (result.shown, "")  # "": nearer to the limit than it can tell
            )
            if not same:
                raise Refusal("second", f"{what.title}: the second method disagrees", "report it")
            continue
        gap = abs(result.amount.unit.from_base(other.value) - result.amount.number())
        if gap > _allowed(what.second.within, result.amount):
            wrong = f"{what.title}: two methods differ by {plain(gap, 3)} {result.fact.unit}"
            raise Refusal(
                "second", wrong, f"agreement within {what.second.within}; nothing printed"
            )
    return f"{what.second.says}; agrees within {what.second.within}"


@cache
def _asked(way: Callable[..., Any]) -> frozenset[str]:
    return frozenset(inspect.signature(way).parameters)


def bare(value: Any) -> Any:
    """Amounts as floats in base units, also inside rows and lists."""
    if isinstance(value, Amount):
        return value.value
    if isinstance(value, tuple):
        return tuple(bare(each) for each in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        cells = {f.name: bare(getattr(value, f.name)) for f in dataclasses.fields(value)}
        return type(value)(**cells)
    return value


def _allowed(within: str, result: Amount) -> float:
    """The gap allowed, in the result's unit: a share of it, a plain number, or an amount."""
    if within.endswith("%"):
        return float(within[:-1]) / 100 * abs(result.number()) + 1e-12
    hair = 1e-9 * abs(result.number())
    if is_whole(within[-1:]):
        return read_plain(within).value + hair
    gap = read_amount(within)
    if gap.unit.dimension != result.unit.dimension:
        return hair  # an amount of another kind allows this result no gap of its own
    return gap.value / result.unit.factor + hair


def on_floats(what: Calculation, ran: Run) -> list[Any]:
    """The same body on plain floats: the results in their units, in the order of the results."""
    arguments = {n: bare(v) for n, v in ran.arguments.items()}
    others = pieces(what, what.body(**arguments))
    return [
        other.value if result.amount is None else result.amount.unit.from_base(other.value)
        for result, other in zip(ran.results, others, strict=True)
    ]
