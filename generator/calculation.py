"""A function with its facts in; a Calculation that can be run, printed, taught and checked, out.

This is the contract of every calculation: the function's signature states each input (symbol,
unit, meaning, range) and each result (symbol, unit, rounding, limits); the decorator states source,
what the number does not cover, a second method and worked examples. Everything else in the house
(schema rule, finding, printed working, help, tests) is read from here.
"""

from __future__ import annotations

import dataclasses
import inspect
import typing
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any, get_type_hints

from generator.findings import Refusal
from generator.quantities.amount import Amount, leaf
from generator.quantities.functions import limits_in_words
from generator.quantities.rounding import plain, rounded
from generator.quantities.text import read_amount, read_plain
from generator.quantities.units import Unit, named, unit

_SUBSCRIPTS = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


@dataclass(frozen=True)
class Given:
    """What an amount that goes in must be. Limits are numbers as text, in the unit."""

    symbol: str
    unit: str
    meaning: str
    above: str = ""
    at_least: str = ""
    at_most: str = ""
    fixed: str = ""
    beyond: str = ""
    at_bench: str = ""

    def range_in_words(self) -> str:
        return limits_in_words(self.above, self.at_least, self.at_most, self.unit)


@dataclass(frozen=True)
class Gives:
    """What an amount that comes out is: how it is printed, and where it stops making sense."""

    symbol: str
    unit: str
    meaning: str
    to: str
    safe: str = "nearest"
    above: str = ""
    at_least: str = ""
    at_most: str = ""
    beyond: str = ""


@dataclass(frozen=True)
class Key:
    """A word that chooses a row of a table."""

    meaning: str


@dataclass(frozen=True)
class Count:
    """A whole number that goes in."""

    symbol: str
    meaning: str
    at_least: int
    at_most: int


@dataclass(frozen=True)
class Order:
    """A sequence of numbers that comes out, each of 1 to n once."""

    symbol: str
    meaning: str


@dataclass(frozen=True)
class Table:
    """A row looked up in a published table by its keys; the row's fields are keys and amounts."""

    name: str


given = Given
gives = Gives
key = Key
count = Count
order = Order
looked_up = Table


@dataclass(frozen=True)
class Input:
    """One input. kind: amount, amounts (a list), rows (a list of rows), key, count or fixed."""

    name: str
    kind: str
    fact: Any
    row: tuple[Input, ...] = ()
    row_type: type | None = None
    table: str = ""


@dataclass(frozen=True)
class Output:
    """One result. kind: amount, amounts (a list) or order. name is "" where it is the only one."""

    name: str
    kind: str
    fact: Any


@dataclass(frozen=True)
class Example:
    """A worked answer from print: inputs and results as text, and where it is printed.

    within: how far the result may lie from the printed one; by default half of the last digit.
    """

    given: Mapping[str, Any]
    gives: Mapping[str, str]
    where: str
    within: str = ""


@dataclass(frozen=True)
class Second:
    """A second way to the same results: how it works, and how near it must come.

    within: in the result's unit, or as a share such as "0.3 %".
    """

    way: Callable[..., Any]
    within: str
    says: str


@dataclass(frozen=True)
class Calculation:
    """A calculation as the rest of the house sees it."""

    name: str
    subject: str
    title: str
    about: str
    inputs: tuple[Input, ...]
    outputs: tuple[Output, ...]
    body: Callable[..., Any]
    parameters: tuple[str, ...]
    source: str
    not_covered: str
    second: Second | None
    examples: tuple[Example, ...]
    figure: str
    result_type: type | None
    tables: Mapping[str, type] = field(default_factory=dict)

    def __call__(self, *args: Any, **more: Any) -> Any:
        """Run the body inside another formula; constants fill themselves in."""
        fixed = {item.name: item.fact for item in self.inputs if item.kind == "fixed"}
        free = [name for name in self.parameters if name not in fixed]
        values = dict(zip(free, args, strict=False)) | more
        traced = any(isinstance(value, Amount) for value in values.values())
        return self.body(**values, **{n: _constant(f, traced) for n, f in fixed.items()})


def calculation(
    *,
    source: str,
    not_covered: str,
    second: Second | None = None,
    examples: tuple[Example, ...] = (),
    figure: str = "",
) -> Callable[[Callable[..., Any]], Calculation]:
    """Make a function a calculation. Fails at import where a fact is missing."""

    def wrap(body: Callable[..., Any]) -> Calculation:
        return _described(body, source, not_covered, second, examples, figure)

    return wrap


def _described(
    body: Callable[..., Any],
    source: str,
    not_covered: str,
    second: Second | None,
    examples: tuple[Example, ...],
    figure: str,
) -> Calculation:
    about = inspect.getdoc(body)
    if not about or not source or not not_covered:
        raise TypeError(f"{body.__name__} needs a docstring, a source and what it does not cover")
    hints = get_type_hints(body, include_extras=True)
    parameters = tuple(inspect.signature(body).parameters)
    tables = {n: _base(hints[n]) for n in parameters if isinstance(_fact(hints[n]), Table)}
    inputs = tuple(item for name in parameters for item in _inputs(name, hints[name]))
    title, _, rest = about.partition("\n")
    return Calculation(
        body.__name__,
        body.__module__.rsplit(".", 1)[-1],
        title.rstrip("."),
        rest.strip(),
        inputs,
        _outputs(hints["return"]),
        body,
        parameters,
        source,
        not_covered,
        second,
        examples,
        figure,
        _result_type(hints["return"]),
        tables,
    )


def _result_type(hint: Any) -> type | None:
    return hint if isinstance(hint, type) and dataclasses.is_dataclass(hint) else None


def _fact(hint: Any) -> Any:
    """The fact in an Annotated hint, or None."""
    return hint.__metadata__[0] if hasattr(hint, "__metadata__") else None


def _base(hint: Any) -> Any:
    return hint.__origin__ if hasattr(hint, "__metadata__") else hint


def _inputs(name: str, hint: Any) -> tuple[Input, ...]:
    """The inputs of one parameter; a looked-up row has an input for each of its keys."""
    fact = _fact(hint)
    if isinstance(fact, Table):
        rows = get_type_hints(_base(hint), include_extras=True)
        keys = [(n, _fact(h)) for n, h in rows.items() if isinstance(_fact(h), Key)]
        return tuple(Input(n, "key", f, table=fact.name) for n, f in keys)
    if isinstance(fact, Given):
        many = typing.get_origin(_base(hint)) is tuple
        kind = "fixed" if fact.fixed else "amounts" if many else "amount"
        read_amount(f"1 {fact.unit}") if fact.unit else None  # an unknown unit fails here
        return (Input(name, kind, fact),)
    if isinstance(fact, Count):
        return (Input(name, "count", fact),)
    if typing.get_origin(hint) is tuple and dataclasses.is_dataclass(typing.get_args(hint)[0]):
        row_type: Any = typing.get_args(hint)[0]
        hints = get_type_hints(row_type, include_extras=True)
        row = tuple(item for n, h in hints.items() for item in _inputs(n, h))
        return (Input(name, "rows", None, row, row_type),)
    raise TypeError(f"the input {name} states no fact")


def _outputs(hint: Any) -> tuple[Output, ...]:
    if dataclasses.is_dataclass(hint):
        hints = get_type_hints(hint, include_extras=True)
        return tuple(_output(name, field_hint) for name, field_hint in hints.items())
    return (_output("", hint),)


def _output(name: str, hint: Any) -> Output:
    fact = _fact(hint)
    if isinstance(fact, Order):
        return Output(name, "order", fact)
    if isinstance(fact, Gives):
        many = typing.get_origin(_base(hint)) is tuple
        return Output(name, "amounts" if many else "amount", fact)
    raise TypeError(f"the result {name or 'of the function'} states no fact")


def _constant(fact: Given, traced: bool) -> Any:
    amount = read_amount(fact.fixed)
    return leaf(amount, fact.symbol, unit(fact.unit)) if traced else amount.value


# --- running ---------------------------------------------------------------------------------


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


def subscript(symbol: str, number: int) -> str:
    """R and 2 give R₂."""
    return symbol + str(number).translate(_SUBSCRIPTS)


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
            bound[item.name] = _constant(item.fact, traced=True)
    arguments = _arguments(what, bound)
    results = _results(what, what.body(**arguments))
    looked: dict[str, str] = {}
    for name in what.tables:
        looked |= _cells(arguments[name])
    return Run(what, bound, results, _second(what, arguments, results), looked)


def _cells(row: Any) -> dict[str, str]:
    """The amounts of a looked-up row by their meanings, for the printed working."""
    hints = get_type_hints(type(row), include_extras=True)
    facts = {name: _fact(hint) for name, hint in hints.items()}
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
    from generator.tables import find_row

    row_type = what.tables[name]
    hints = get_type_hints(row_type, include_extras=True)
    keys = {n: bound[n] for n, h in hints.items() if isinstance(_fact(h), Key)}
    table = next(i.table for i in what.inputs if i.name in keys)
    row = find_row(table, keys)
    cells: dict[str, Any] = dict(keys)
    for cell, hint in hints.items():
        fact = _fact(hint)
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


def check_unit(value: Amount, wanted: Unit, meaning: str) -> None:
    """Refuses an amount of another kind, and a pressure that does not say gauge or absolute."""
    have = value.unit
    if have.dimension == wanted.dimension and have.point == wanted.point:
        return
    if have.dimension == wanted.dimension and wanted.point in ("gauge", "absolute"):
        asked = "g" if wanted.point == "gauge" else "a"
        wrong = f"{meaning}: '{value.typed or have.text}' does not say a {wanted.point} pressure"
        raise Refusal("unit", wrong, f"bar {asked} ({wanted.point} pressure)")
    wrong = f"{meaning}: {value.typed or value.formula} is {named(have.dimension)}"
    right = f"{named(wanted.dimension)}, such as a value in {wanted.text or 'no unit'}"
    raise Refusal("unit", wrong, right)


def check_range(fact: Given, value: Amount) -> None:
    """Refuses a value, or either end of its tolerance, outside the range of the fact."""
    scale = unit(fact.unit)
    for base in (value.value, value.low, value.high):
        if base is None:
            continue
        number = scale.from_base(base)
        slack = 1e-9 * max(1.0, abs(number))
        if (
            (fact.above and number <= float(fact.above) + slack)
            or (fact.at_least and number < float(fact.at_least) - slack)
            or (fact.at_most and number > float(fact.at_most) + slack)
        ):
            shown = f"{plain(number, 7)} {fact.unit}".strip()
            right = fact.range_in_words() + (f". {fact.beyond}" if fact.beyond else "")
            raise Refusal("range", f"{fact.meaning} {shown} is out of range", right)


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
    symbol = subscript(fact.symbol, number) if number else fact.symbol
    fact = dataclasses.replace(fact, symbol=symbol)
    amount = value.in_unit(unit(fact.unit))
    return Result(name, fact, amount, printed(fact, amount, number))


def printed(fact: Gives, amount: Amount, number: int = 0) -> str:
    """The text of a result, rounded once, or a refusal where it leaves its limits."""
    value = amount.number()
    slack = 1e-9 * max(1.0, abs(value))
    passed = (
        (fact.above and value <= float(fact.above) + slack)
        or (fact.at_least and value < float(fact.at_least) - slack)
        or (fact.at_most and value > float(fact.at_most) + slack)
    )
    if passed:
        nth = f" {number}" if number else ""
        shown = f"{rounded(value, fact.to)} {fact.unit}".strip()
        wrong = f"{fact.meaning}{nth} comes to {shown}"
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
