"""All entries of one process, worked out once, in; the same as one function of its givens, out.

Limits are taken on the givens of the whole chain, never stage by stage: a thickness that enters
twice is the same thickness both times. The function runs on floats, where every range is judged
again, and on spreads, where the slopes are proven.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.calculation import Calculation, Given, Gives, Input, check_number
from generator.computing import arithmetic
from generator.computing.arithmetic import OCCURRENCE
from generator.computing.running import Run, bare, judge, no_answer, pieces
from generator.computing.tolerance import Limits, Moving, Problem, limits_of
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import must_hold
from generator.quantities.spread import Pole, Spread, Unproven
from generator.quantities.units import unit

Use = Callable[[str], Any]


@dataclass(frozen=True)
class Link:
    """One entry: how its inputs are found, and what it makes of them.

    inputs: for each input its number as it is, or the name that stands for it.
    """

    name: str
    what: Calculation | None
    inputs: Mapping[str, Any]
    formula: str = ""
    fact: Gives | None = None


@dataclass(frozen=True)
class Named:
    """A place where a name stands: the given or result it means, or a literal that moves."""

    name: str


class AtCorner(Exception):
    """An entry refuses a point inside the tolerances."""

    def __init__(self, entry: str, refusal: Refusal) -> None:
        super().__init__()
        self.entry, self.refusal = entry, refusal


def evaluate(links: Sequence[Link], point: Mapping[str, Any]) -> dict[str, float]:
    """Every result at one point, in base units; raises AtCorner where an entry refuses it."""
    numbers: dict[str, Any] = dict(point)
    results: dict[str, float] = {}
    for link in links:
        try:
            came = _worked(link, numbers, judged=True)
        except Refusal as refusal:
            raise AtCorner(link.name, refusal) from None
        except (ArithmeticError, ValueError):
            raise AtCorner(link.name, no_answer(link.name.replace("_", " "))) from None
        numbers |= came
        results |= {n: float(each) for n, each in came.items() if isinstance(each, int | float)}
    return results


def prove(links: Sequence[Link], point: Mapping[str, Any]) -> dict[str, Spread | float]:
    """Every result whose slopes can be followed, a float where it does not move; the others, and
    what hangs on them, left out. Raises AtCorner where a divisor may come to zero."""
    numbers: dict[str, Any] = dict(point)
    for link in links:
        try:
            numbers |= _worked(link, numbers, judged=False)
        except Pole:
            raise AtCorner(link.name, _divided_by_nothing()) from None
        except (Unproven, Refusal, TypeError, ValueError, KeyError, ArithmeticError):
            continue
    return {name: each for name, each in numbers.items() if name not in point}


def _divided_by_nothing() -> Refusal:
    wrong = "intervals do not keep a divisor away from zero, so there are no limits"
    return Refusal("range", wrong, "narrower tolerances, or another formula")


def holds(links: Sequence[Link], point: Mapping[str, Any]) -> bool:
    """Whether intervals alone prove that no entry refuses anything; point holds strict spreads."""
    numbers: dict[str, Any] = dict(point)
    try:
        for link in links:
            numbers |= _worked(link, numbers, judged=True)
    except (Unproven, Refusal, TypeError, ValueError, KeyError, ArithmeticError):
        return False
    return True


def _worked(link: Link, numbers: Mapping[str, Any], judged: bool) -> dict[str, Any]:
    if link.what is None:
        names = {n: numbers[place.name] for n, place in link.inputs.items()}
        value = arithmetic.on_numbers(link.formula, names)
        if judged and link.fact is not None:
            _judge(link.fact, value)
        return {link.name: value}
    arguments = {name: _put_in(value, numbers) for name, value in link.inputs.items()}
    if judged:
        for item in link.what.inputs:
            _judge_input(item, arguments.get(item.name))
    if link.what.method and any(_holds_spread(each) for each in arguments.values()):
        raise Unproven
    came = {}
    for piece in pieces(link.what, link.what.body(**arguments)):
        if piece.kind in ("order", "word"):
            continue
        if judged:
            _judge(piece.fact, piece.value)
        came[f"{link.name}.{piece.name}" if piece.name else link.name] = piece.value
    return came


def _judge(fact: Given | Gives, value: Any) -> None:
    """A number against the limits of its fact; an interval must prove that it keeps them."""
    if isinstance(value, Spread):
        must_hold(value, unit(fact.unit), fact.above, fact.at_least, fact.at_most)
    elif isinstance(fact, Given):
        check_number(fact, value)
    else:
        judge(fact, unit(fact.unit).from_base(value))


def _holds_spread(value: Any) -> bool:
    if isinstance(value, tuple):
        return any(_holds_spread(each) for each in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, Spread | type):
        return any(_holds_spread(getattr(value, f.name)) for f in dataclasses.fields(value))
    return isinstance(value, Spread)


def _put_in(value: Any, numbers: Mapping[str, Any]) -> Any:
    """The input with the number of every name put in its place."""
    if isinstance(value, Named):
        return numbers[value.name]
    if isinstance(value, tuple):
        return tuple(_put_in(each, numbers) for each in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, Spread | type):
        cells = {
            f.name: _put_in(getattr(value, f.name), numbers) for f in dataclasses.fields(value)
        }
        return type(value)(**cells)
    return value


def _judge_input(item: Input, value: Any) -> None:
    if item.kind == "rows" and value is not None:
        for row in value:
            for cell in item.row:
                _judge_input(cell, getattr(row, cell.name))
    elif isinstance(item.fact, Given) and item.kind != "fixed":
        for each in value if isinstance(value, tuple) else (value,):
            if isinstance(each, float | Spread):
                _judge(item.fact, each)


def limits_at_the_desk(ran: Run) -> dict[str, Limits]:
    """The limits of the results of one run whose inputs were all typed in."""
    places, name = Places({}, frozenset()), ran.calculation.name
    places.calculated(name, ran, {n: _typed(v) for n, v in ran.inputs.items()})
    of = f" of {name.replace('_', ' ')}"
    short = {label: label.replace(of, "") for label in places.labels.values()}
    return {n: each.labelled(short) for n, each in places.limits().items()}


def _typed(value: Any) -> Any:
    """The inputs as they were typed: no names among them."""
    if isinstance(value, Amount):
        return value.typed or "0"
    if isinstance(value, tuple):
        return tuple(_typed(each) for each in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: _typed(getattr(value, f.name)) for f in dataclasses.fields(value)}
    return value


class Places:
    """Where names and moving literals stand in the entries of one process, gathered entry by
    entry. A given whose tolerance is each its own is another number at every place."""

    def __init__(self, givens: Mapping[str, Amount], own: frozenset[str]) -> None:
        self.givens, self.own = givens, own
        self.links: list[Link] = []
        self.moving: dict[str, Moving] = {}
        self.fixed: dict[str, float] = {}
        self.labels: dict[str, str] = {}

    def limits(self) -> dict[str, Limits]:
        """The limits of every result that moves, each driver by its label; raises AtCorner."""
        if not self.moving:
            return {}
        found = limits_of(
            Problem(
                lambda point: evaluate(self.links, {**self.fixed, **point}),
                lambda point: prove(self.links, {**self.fixed, **point}),
                lambda point: holds(self.links, {**self.fixed, **point}),
                self.moving,
            )
        )
        return {name: each.labelled(self.labels) for name, each in found.items()}

    def calculated(self, name: str, ran: Run, typed: Mapping[str, Any]) -> None:
        """A calculation as it ran: what was typed says where names stand."""
        inputs: dict[str, Any] = {}
        cells = {i.name: i for i in ran.calculation.inputs}
        for parameter, value in ran.arguments.items():
            item = cells.get(parameter)
            if item is None or item.kind in ("fixed", "key", "choice", "count"):
                inputs[parameter] = bare(value)
            else:
                leaf = ran.inputs[parameter]
                inputs[parameter] = self._input(item, (name, parameter), typed[parameter], leaf)
        self.links.append(Link(name, ran.calculation, inputs))

    def reckoned(self, name: str, formula: str, fact: Gives) -> None:
        """A line of small arithmetic; a given whose tolerance is each its own has another place
        wherever it stands in the line."""
        spelt = arithmetic.numbered(formula, self.own)
        places = {
            each: self._named((name, each), each.partition(OCCURRENCE)[0])
            for each in arithmetic.names(spelt)
        }
        self.links.append(Link(name, None, places, spelt, fact))

    def _input(self, item: Input, way: tuple[str, ...], typed: Any, value: Any) -> Any:
        if item.kind == "amounts":
            return tuple(
                self._amount(item.fact, (*way, str(n)), text, each)
                for n, (text, each) in enumerate(zip(typed, value, strict=True), start=1)
            )
        if item.kind == "rows":
            return tuple(
                self._row(item, (*way, str(n)), texts, row)
                for n, (texts, row) in enumerate(zip(typed, value, strict=True), start=1)
            )
        return self._amount(item.fact, way, typed, value)

    def _row(self, item: Input, way: tuple[str, ...], texts: Mapping[str, Any], row: Any) -> Any:
        cells = {}
        for cell in item.row:
            value = getattr(row, cell.name)
            held = cell.kind == "amount"
            cells[cell.name] = (
                self._amount(cell.fact, (*way, cell.name), texts[cell.name], value)
                if held
                else value
            )
        return type(row)(**cells)

    def _amount(self, fact: Given, way: tuple[str, ...], typed: str, value: Any) -> Any:
        if typed[:1].isalpha():
            return self._named(way, typed)
        amount = value if isinstance(value, Amount) else None
        if amount is None or amount.low is None or amount.high is None:
            return bare(value)
        number = next((f" {step}" for step in way if step.isdigit()), "")
        return self._moves(".".join(way), f"{fact.meaning}{number} of {way[0]}", amount)

    def _named(self, way: tuple[str, ...], name: str) -> Named:
        given = self.givens.get(name)
        if given is None:
            return Named(name)
        if given.low is None or given.high is None:
            self.fixed[name] = given.value
            return Named(name)
        if name not in self.own:
            return self._moves(name, name, given)
        place = ".".join(way)
        where = " ".join(way[1:]).replace(f"{name}{OCCURRENCE}", "place ")
        return self._moves(f"{name} at {place}", f"{name}, {where} of {way[0]}", given)

    def _moves(self, place: str, label: str, amount: Amount) -> Named:
        assert amount.low is not None and amount.high is not None
        self.moving[place] = Moving(amount.low, amount.value, amount.high)
        self.labels[place] = label.replace("_", " ")
        return Named(place)
