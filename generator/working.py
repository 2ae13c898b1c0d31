"""One run of a calculation in; its numbers and its printed lines out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from generator.calculation import Calculation, Gives
from generator.quantities.amount import Amount, Step
from generator.running import Result, Run


@dataclass(frozen=True)
class Number:
    """A number that sheets may print. text has its unit, shown has not; mark is g1 or c1.

    flag: TYPED (worked out elsewhere), EXAMPLE (the part has not brought its own) or "".
    """

    name: str
    mark: str
    text: str
    shown: str
    unit: str
    amount: Amount | None = None
    order: tuple[int, ...] = ()
    flag: str = ""
    meaning: str = ""


@dataclass(frozen=True)
class GivenLine:
    """A given as the list of givens shows it."""

    number: Number
    source: str
    note: str


@dataclass(frozen=True)
class Working:
    """One calculation as it ran, ready to print."""

    mark: str
    name: str
    title: str
    results: tuple[Number, ...]
    lines: tuple[Step, ...]
    second: str
    range: str
    not_covered: str
    source: str
    ran: Run | None = None
    keys: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Workings:
    """All numbers of one process for one part."""

    numbers: Mapping[str, Number]
    givens: tuple[GivenLine, ...]
    workings: Mapping[str, Working]
    typed: int


def working_of(name: str, mark: str, ran: Run) -> Working:
    what = ran.calculation
    numbers = tuple(_number(name, mark, result) for result in ran.results)
    keys = {i.name: ran.inputs[i.name] for i in what.inputs if i.kind in ("key", "choice")}
    return Working(
        mark, name, f"{name.replace('_', ' ')}: {what.title[:1].lower()}{what.title[1:]}",
        numbers, tuple(printed_lines(ran)), ran.second, _range(what), what.not_covered,
        what.source, ran, keys | dict(ran.looked_up),
    )  # fmt: skip


def _number(name: str, mark: str, result: Result) -> Number:
    full = f"{name}.{result.name}" if result.name else name
    unit_text = result.fact.unit if result.amount is not None else ""
    return Number(
        full, mark, result.text, result.shown, unit_text, result.amount, result.order,
        meaning=result.fact.meaning,
    )  # fmt: skip


def printed_lines(ran: Run) -> Iterator[Step]:
    """The named steps once each, then each result that is more than a named step.

    A result that is a named step is printed with it, unrounded and rounded.
    """
    if ran.calculation.method:
        yield from _method_lines(ran)
        return
    results = [(result, result.amount) for result in ran.results if result.amount is not None]
    printed_as = {
        amount.formula: result_text(result.text, result.fact) for result, amount in results
    }
    told: set[str] = set()
    for result, amount in results:
        for step in amount.steps:
            if step.symbol not in told and step.formula != step.symbol:
                told.add(step.symbol)
                yield _with_print(step, printed_as.get(step.symbol, ""))
        if amount.formula not in told:
            text, fact = result_text(result.text, result.fact), result.fact
            yield Step(fact.symbol, fact.meaning, amount.formula, amount.numbers, text)


def _method_lines(ran: Run) -> Iterator[Step]:
    """A named method: what went in, what it is called, what came out; no formula to be mistaken."""
    for item in ran.calculation.inputs:
        value = ran.inputs[item.name]
        for leaf in value if isinstance(value, tuple) else (value,):
            if isinstance(leaf, Amount):
                yield Step(leaf.formula, item.fact.meaning, "", "", leaf.numbers)
    yield Step("method", "", "", "", ran.calculation.method)
    for result in ran.results:
        if result.amount is not None:
            text = result_text(result.text, result.fact)
            yield Step(result.fact.symbol, result.fact.meaning, "", "", text)


def _with_print(step: Step, text: str) -> Step:
    if not text:
        return step
    same = text.startswith(f"{step.result},")
    return replace(step, result=text if same else f"{step.result}; printed {text}")


def result_text(text: str, fact: Gives) -> str:
    side = "" if fact.safe == "nearest" else f" {fact.safe}"
    return f"{text}, rounded{side} to {fact.to} {fact.unit}".rstrip()


def _range(what: Calculation) -> str:
    parts = []
    for item in what.inputs:
        cells = item.row or (item,)
        for cell in cells:
            if cell.kind in ("amount", "amounts"):
                limits = cell.fact.range_in_words()
                if limits != "any value":
                    parts.append(f"{cell.fact.symbol} {limits}")
    return "; ".join(parts)
