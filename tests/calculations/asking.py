"""A calculation and its inputs as a workshop types them, in; the run and its results out."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from generator.calculation import Calculation, Given, Input
from generator.calculations import calculations
from generator.computing.running import Result, Run, run
from generator.quantities.amount import Amount
from generator.quantities.text import read_amount, read_plain
from generator.quantities.units import unit

ALL = tuple(calculations().values())


def named(what: Calculation) -> str:
    """The name of a calculation, for the test's own name."""
    return what.name


def read(fact: Given, text: str) -> Amount:
    """An input as typed; only where no unit belongs may a number stand alone."""
    bare = fact.unit == "" and text[-1:].isdigit()
    return read_plain(text) if bare else read_amount(text)


def values(what: Calculation, typed: Mapping[str, Any]) -> dict[str, Any]:
    """What was typed, read as each input asks for it."""
    return {i.name: _value(i, _typed(i, typed)) for i in what.inputs if i.kind != "fixed"}


def _typed(item: Input, typed: Mapping[str, Any]) -> Any:
    """What was typed for an input; a choice left out is its default."""
    return typed.get(item.name, item.otherwise) if item.otherwise else typed[item.name]


def _value(item: Input, typed: Any) -> Any:
    if item.kind == "amount":
        return read(item.fact, typed)
    if item.kind == "amounts":
        return [read(item.fact, each) for each in typed]
    if item.kind == "rows":
        return [{c.name: _value(c, _typed(c, row)) for c in item.row} for row in typed]
    return int(typed) if item.kind == "count" else typed


def ran(what: Calculation, typed: Mapping[str, Any]) -> Run:
    """One run on what was typed."""
    return run(what, values(what, typed))


def results(name: str, **typed: Any) -> dict[str, Result]:
    """The results of a calculation by name; "" is the only one of its kind."""
    return {r.name: r for r in ran(calculations()[name], typed).results}


def answer(name: str, shown: str, of: str = "", **typed: Any) -> float:
    """One unrounded result of a calculation, in the unit named by shown."""
    amount = results(name, **typed)[of].amount
    assert amount is not None
    return unit(shown).from_base(amount.value)


def half_a_digit(printed: str) -> float:
    """Half a unit of the last printed digit: 0.085 is known to 0.0005."""
    exponent = Decimal(printed).as_tuple().exponent
    return 0.5 * 10.0 ** int(exponent)


def number_and_unit(printed: str) -> tuple[str, str]:
    """ "0.085 in" as its digits and its unit."""
    digits, _, unit_text = printed.partition(" ")
    return digits, unit_text
