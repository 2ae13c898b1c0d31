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
from typing import Any, get_type_hints

from generator.findings import Refusal
from generator.quantities.amount import Amount, leaf
from generator.quantities.functions import limits_in_words, passes
from generator.quantities.rounding import plain
from generator.quantities.text import read_amount
from generator.quantities.units import POINTS, Unit, named, unit
from generator.quantities.window import Window


@dataclass(frozen=True)
class Given:
    """What an amount that goes in must be. Limits are numbers as text, in the unit.

    beyond: what to say past a limit. at_bench: to what step the bench measures it, where it does.
    """

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
    """What an amount that comes out is: how it is printed, and where it stops making sense.

    inside: the name of a window among the results that rounding must not make the number leave.
    end: "from" or "to" where it is an end of a window. settled: a choice, which must be the same
    all over the tolerances.
    """

    symbol: str
    unit: str
    meaning: str
    to: str
    safe: str = "nearest"
    above: str = ""
    at_least: str = ""
    at_most: str = ""
    beyond: str = ""
    inside: str = ""
    end: str = ""
    settled: bool = False


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
class Choice:
    """One of a few words that goes in, such as up or down; otherwise: what holds when none is."""

    meaning: str
    words: tuple[str, ...]
    otherwise: str = ""


@dataclass(frozen=True)
class Word:
    """A word or a few that come out, such as what a row is called."""

    symbol: str
    meaning: str


@dataclass(frozen=True)
class Order:
    """A sequence of numbers that comes out, each of 1 to n once."""

    symbol: str
    meaning: str


@dataclass(frozen=True)
class Listed:
    """Rows that come out and are read as one table, such as ordinates: they stand on a sheet of
    their own and not among the single numbers."""

    meaning: str


@dataclass(frozen=True)
class Table:
    """A row looked up in a published table by its keys; the row's fields are keys and amounts."""

    name: str


given = Given
gives = Gives
key = Key
count = Count
word = Word
order = Order
listed = Listed
looked_up = Table


def choice(meaning: str, *words: str, otherwise: str = "") -> Choice:
    """One of a few words; otherwise is taken where none is written."""
    if not words or (otherwise and otherwise not in words):
        raise TypeError(f"{meaning}: a choice needs its words, and its default among them")
    return Choice(meaning, words, otherwise)


@dataclass(frozen=True)
class Input:
    """One input. kind: amount, amounts (a list), rows (a list), key, count, choice or fixed."""

    name: str
    kind: str
    fact: Any
    row: tuple[Input, ...] = ()
    row_type: type | None = None
    table: str = ""

    @property
    def otherwise(self) -> str:
        """What holds where nothing is written; "" where something must be."""
        return self.fact.otherwise if self.kind == "choice" else ""


@dataclass(frozen=True)
class Output:
    """One result. kind: amount, amounts (a list), rows (a list), window, word or order.

    name is "" where it is the only one. fact: of rows None, or Listed.
    """

    name: str
    kind: str
    fact: Any
    row: tuple[Output, ...] = ()


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
    figures: tuple[str, ...]
    method: str
    result_type: type | None
    tables: Mapping[str, type] = field(default_factory=dict)

    @property
    def listed(self) -> tuple[Output, ...]:
        """The results that are read as tables, on a sheet of their own."""
        return tuple(out for out in self.outputs if isinstance(out.fact, Listed))

    def __call__(self, *args: Any, **more: Any) -> Any:
        """Run the body inside another formula; constants fill themselves in."""
        fixed = {item.name: item.fact for item in self.inputs if item.kind == "fixed"}
        free = [name for name in self.parameters if name not in fixed]
        values = dict(zip(free, args, strict=False)) | more
        traced = any(isinstance(value, Amount) for value in values.values())
        return self.body(**values, **{n: constant(f, traced) for n, f in fixed.items()})


def calculation(
    *,
    source: str,
    not_covered: str,
    second: Second | None = None,
    examples: tuple[Example, ...] = (),
    figures: tuple[str, ...] = (),
    method: str = "",
) -> Callable[[Callable[..., Any]], Calculation]:
    """Make a function a calculation. Fails at import where a fact is missing.

    method: what finds the numbers where no formula gives them, such as a bisection; its inputs and
    results are then floats in base units, and the sheet prints the method instead of a formula.
    """

    def wrap(body: Callable[..., Any]) -> Calculation:
        return _described(body, source, not_covered, second, examples, figures, method)

    return wrap


def _described(
    body: Callable[..., Any],
    source: str,
    not_covered: str,
    second: Second | None,
    examples: tuple[Example, ...],
    figures: tuple[str, ...],
    method: str,
) -> Calculation:
    about = inspect.getdoc(body)
    if not about or not source or not not_covered:
        raise TypeError(f"{body.__name__} needs a docstring, a source and what it does not cover")
    hints = get_type_hints(body, include_extras=True)
    parameters = tuple(inspect.signature(body).parameters)
    tables = {n: _base(hints[n]) for n in parameters if isinstance(fact_of(hints[n]), Table)}
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
        figures,
        method,
        _result_type(hints["return"]),
        tables,
    )


def _result_type(hint: Any) -> type | None:
    return hint if isinstance(hint, type) and dataclasses.is_dataclass(hint) else None


def fact_of(hint: Any) -> Any:
    """The fact in an Annotated hint, or None."""
    return hint.__metadata__[0] if hasattr(hint, "__metadata__") else None


def _base(hint: Any) -> Any:
    return hint.__origin__ if hasattr(hint, "__metadata__") else hint


def _inputs(name: str, hint: Any) -> tuple[Input, ...]:
    """The inputs of one parameter; a looked-up row has an input for each of its keys."""
    fact = fact_of(hint)
    if isinstance(fact, Table):
        rows = get_type_hints(_base(hint), include_extras=True)
        keys = [(n, fact_of(h)) for n, h in rows.items() if isinstance(fact_of(h), Key)]
        return tuple(Input(n, "key", f, table=fact.name) for n, f in keys)
    if isinstance(fact, Given):
        many = typing.get_origin(_base(hint)) is tuple
        kind = "fixed" if fact.fixed else "amounts" if many else "amount"
        read_amount(f"1 {fact.unit}") if fact.unit else None  # an unknown unit fails here
        return (Input(name, kind, fact),)
    if isinstance(fact, Count):
        return (Input(name, "count", fact),)
    if isinstance(fact, Choice):
        return (Input(name, "choice", fact),)
    if typing.get_origin(hint) is tuple and dataclasses.is_dataclass(typing.get_args(hint)[0]):
        row_type: Any = typing.get_args(hint)[0]
        hints = get_type_hints(row_type, include_extras=True)
        row = tuple(item for n, h in hints.items() for item in _inputs(n, h))
        return (Input(name, "rows", None, row, row_type),)
    raise TypeError(f"the input {name} states no fact")


def _outputs(hint: Any) -> tuple[Output, ...]:
    if dataclasses.is_dataclass(hint):
        return _fields(hint)
    return (_output("", hint),)


def _fields(row_type: Any) -> tuple[Output, ...]:
    hints = get_type_hints(row_type, include_extras=True)
    return tuple(_output(name, field_hint) for name, field_hint in hints.items())


def _output(name: str, hint: Any) -> Output:
    fact, base = fact_of(hint), _base(hint)
    if isinstance(fact, Order):
        return Output(name, "order", fact)
    if isinstance(fact, Word):
        return Output(name, "word", fact)
    many = typing.get_origin(base) is tuple
    if isinstance(fact, Gives):
        unit(fact.unit)  # an unknown unit fails here
        return Output(name, "window" if base is Window else "amounts" if many else "amount", fact)
    if many and dataclasses.is_dataclass(typing.get_args(base)[0]):
        return Output(name, "rows", fact, _fields(typing.get_args(base)[0]))
    raise TypeError(f"the result {name or 'of the function'} states no fact")


def constant(fact: Given, traced: bool) -> Any:
    amount = read_amount(fact.fixed)
    return leaf(amount, fact.symbol, unit(fact.unit)) if traced else amount.value


def check_unit(value: Amount, wanted: Unit, meaning: str) -> None:
    """Refuses an amount of another kind, and a pressure that does not say gauge or absolute."""
    have = value.unit
    if have.dimension == wanted.dimension and have.point == wanted.point:
        return
    if have.dimension == wanted.dimension and wanted.point in ("gauge", "absolute"):
        asked, article = ("g", "a") if wanted.point == "gauge" else ("a", "an")
        said = f"does not say {article} {wanted.point} pressure"
        wrong = f"{meaning}: '{value.typed or have.text}' {said}"
        own = f"{have.text} {asked}" in POINTS
        right = f"{value.typed or have.text} {asked}" if own else f"bar {asked}"
        raise Refusal("unit", wrong, f"{right} ({wanted.point} pressure)")
    wrong = f"{meaning}: {value.typed or value.formula} is {named(have.dimension)}"
    right = f"{named(wanted.dimension)}, such as a value in {wanted.text or 'no unit'}"
    raise Refusal("unit", wrong, right)


def check_range(fact: Given, value: Amount) -> None:
    """Refuses a value, or either end of its tolerance, outside the range of the fact."""
    for base in (value.value, value.low, value.high):
        if base is not None:
            check_number(fact, base)


def check_number(fact: Given, base: float) -> None:
    """Refuses a number in base units outside the range of the fact."""
    number = unit(fact.unit).from_base(base)
    if passes(number, fact.above, fact.at_least, fact.at_most):
        shown = f"{plain(number, 7)} {fact.unit}".strip()
        right = fact.range_in_words() + (f". {fact.beyond}" if fact.beyond else "")
        raise Refusal("range", f"{fact.meaning} {shown} is out of range", right)
