"""The entries of one process in; each worked out once, in the order of needs, out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from generator.calculation import Calculation, Gives, Input, Output, check_range, check_unit
from generator.calculations import calculations
from generator.check.workings import literal
from generator.computing import arithmetic
from generator.computing.running import printed, run, with_unit
from generator.computing.second_unit import result_in_second_unit
from generator.computing.working import Number, Working, result_text, working_of
from generator.findings import Fault, Refusal, fault, near_word
from generator.process import Process, WorkOut
from generator.quantities.amount import Amount, Step, leaf
from generator.quantities.points import scale_of
from generator.quantities.rounding import decimals, plain
from generator.quantities.units import unit
from generator.read import Steps
from generator.tables import Rows

_NAME = "a name under given or work out"
_NAME_OR_AMOUNT = f"{_NAME}, or an amount with its unit"


class _Stuck(Exception):
    """An entry cannot be worked out; the fault is told already or comes with it."""

    def __init__(self, found: Fault | None = None) -> None:
        super().__init__()
        self.found = found


@dataclass(frozen=True)
class ShopFacts:
    """What the workshop adds: the second unit of a unit, and rows of its own tables."""

    also: Mapping[str, str] = field(default_factory=dict)
    rows: Rows = field(default_factory=dict)


Runs = dict[Any, Working]
"""Workings by the name of their entry and all that went in, without their printed lines."""


class Board:
    """The entries of one process while they are worked out, each once, in the order of needs."""

    def __init__(
        self,
        process: Process,
        givens: Mapping[str, Number],
        shop: ShopFacts,
        faults: list[Fault],
        runs: Runs | None = None,
    ) -> None:
        self.runs = runs
        self.process, self.givens, self.shop, self.faults = process, givens, shop, faults
        self.facts: dict[str, Gives] = {}
        self.marks = {name: f"c{n}" for n, name in enumerate(process.work_out, start=1)}
        self.numbers: dict[str, Number] = {}
        self.done: dict[str, Working] = {}
        self.stuck: set[str] = set()
        self.path: list[str] = []

    def work(self, name: str) -> None:
        """Work one entry out, and first whatever it needs."""
        if name in self.done or name in self.stuck:
            return
        if name in self.path:
            loop = " needs ".join([*self.path[self.path.index(name) :], name])
            wrong = f"the calculations run in a circle: {loop}"
            raise _Stuck(
                Fault(("work out", name), "circle", wrong, "one of them without the other", True)
            )
        self.path.append(name)
        try:
            working = self._worked(self.process.work_out[name])
            self.done[name] = working
            self.numbers |= {number.name: number for number in working.results}
        except _Stuck as stop:
            self.stuck.add(name)
            if stop.found:
                self.faults.append(stop.found)
        except Refusal as refusal:
            self.stuck.add(name)
            self.faults.append(fault(("work out", name), refusal))
        finally:
            self.path.pop()

    def _worked(self, entry: WorkOut) -> Working:
        if entry.use:
            what = calculations()[entry.use]
            return self._calculated(what, entry)
        return self._arithmetic(entry)

    def also_of(self, name: str) -> Mapping[str, str]:
        """The second unit of each unit that has one, for one entry."""
        entry = self.process.work_out[name]
        if not entry.use:
            return self.shop.also
        what = calculations()[entry.use]
        shown_in = _own_unit(entry, what, "in", entry.shown_in)
        own = _own_unit(entry, what, "also", entry.also)
        return {**self.shop.also, **own, **{u: entry.also for u in shown_in.values() if own}}

    def _calculated(self, what: Calculation, entry: WorkOut) -> Working:
        values = {
            item.name: self._value(
                ("work out", entry.name, item.name),
                item,
                entry.inputs.get(item.name, item.otherwise),
            )
            for item in what.inputs
            if item.kind != "fixed"
        }
        key = (entry.name, _told_apart(values)) if self.runs is not None else None
        if self.runs is not None and key in self.runs:
            return self.runs[key]
        units = _own_unit(entry, what, "in", entry.shown_in)
        lines = self.runs is None
        ran = run(what, values, self.shop.rows, units, lines)
        mark = self.marks[entry.name]
        made = working_of(entry.name, mark, ran, self.also_of(entry.name), lines)
        if self.runs is not None:
            self.runs[key] = made
        return made

    def _value(self, here: Steps, item: Input, typed: Any) -> Any:
        if item.kind in ("key", "choice"):
            return typed
        if item.kind == "count":
            return int(typed)
        if item.kind == "amount":
            return self._amount(here, item, typed)
        if item.kind == "amounts":
            return [self._amount((*here, n), item, each) for n, each in enumerate(typed)]
        return [
            {
                cell.name: self._value(
                    (*here, n, cell.name), cell, row.get(cell.name, cell.otherwise)
                )
                for cell in item.row
            }
            for n, row in enumerate(typed)
        ]

    def _amount(self, here: Steps, item: Input, typed: str) -> Amount:
        amount = self.named(here, typed) if typed[:1].isalpha() else literal(item.fact, typed)
        try:
            check_unit(amount, unit(item.fact.unit), item.fact.meaning)
            check_range(item.fact, amount)
        except Refusal as refusal:
            raise _Stuck(fault(here, refusal)) from None
        return amount

    def named(self, here: Steps, name: str, other: str = _NAME_OR_AMOUNT) -> Amount:
        """The amount of a name, worked out first where it must be."""
        owner = name.partition(".")[0]
        if owner in self.process.work_out:
            self.work(owner)
            if owner in self.stuck:
                raise _Stuck
        number = self.givens.get(name) or self.numbers.get(name)
        if number is None or number.amount is None:
            raise _Stuck(self._no_number(here, name, owner, other))
        return number.amount

    def _no_number(self, here: Steps, name: str, owner: str, other: str) -> Fault | None:
        if owner in self.process.given:  # its own fault is told already
            return None
        if owner in self.done:
            results = [n.name for n in self.done[owner].results]
            right = "one of: " + ", ".join(results)
            return Fault(here, "name", f"'{name}' is not among the results of '{owner}'", right)
        known = [*self.process.given, *self.process.work_out]
        near = near_word(name, known)
        right = f"{near}?" if near else other
        return Fault(here, "name", f"no number is named '{name}'", right)

    def _arithmetic(self, entry: WorkOut) -> Working:
        here: Steps = (
            ("work out", entry.name, "is") if entry.to is not None else ("work out", entry.name)
        )
        try:
            arithmetic.without_amounts(entry.formula)
            names = arithmetic.names(entry.formula)
            amounts = {n: self._in_a_sum(here, n) for n in names}
            amount = arithmetic.worked(entry.formula, amounts)
            fact = self._rounding(entry, amount, names)
            amount = amount.in_unit(unit(fact.unit))
            second = entry.also or self.shop.also.get(fact.unit, "")
            both = result_in_second_unit(fact, amount, second)
        except Refusal as refusal:
            raise _Stuck(fault(here, refusal)) from None
        shown = printed(fact, amount)
        mark = self.marks[entry.name]
        self.facts[entry.name] = fact
        text = f"{with_unit(shown, fact.unit)}{both}"
        number = Number(
            entry.name, mark, text, shown, fact.unit, amount, meaning=fact.meaning, fact=fact
        )
        line = Step(entry.name, "", amount.formula, amount.numbers, result_text(text, fact))
        return Working(
            mark, entry.name, entry.name.replace("_", " "), (number,), (line,), "", "", "",
            "arithmetic over the numbers it names",
        )  # fmt: skip

    def _in_a_sum(self, here: Steps, name: str) -> Amount:
        amount = self.named(here, name, _NAME)
        return leaf(amount, name, amount.unit)

    def _rounding(self, entry: WorkOut, amount: Amount, names: Sequence[str]) -> Gives:
        meaning = entry.name.replace("_", " ")
        if entry.to is not None:
            step, text = plain(entry.to.number()), scale_of(amount.unit, entry.to.unit)
            return Gives(entry.name, text, meaning, step, entry.safe)
        for name in names:
            number = self.givens.get(name) or self.numbers[name]
            if number.amount is not None and number.amount.unit.dimension == amount.unit.dimension:
                places = decimals(plain(number.amount.number()).replace("\N{MINUS SIGN}", "-"))
                return Gives(entry.name, number.unit, meaning, f"{10**-places:.{places}f}")
        raise Refusal(
            "rounding", f"'{entry.name}' does not say how it is printed", "{is: ..., to: 0.1 mm}"
        )


def _told_apart(value: Any) -> Any:
    """What makes an input another one, as something that can be looked up: of an amount all but
    how it was made, which a calculation does not see."""
    if isinstance(value, Amount):
        return value.value, value.unit, value.low, value.high, value.typed
    if isinstance(value, Mapping):
        return tuple(map(_told_apart, value.values()))
    return tuple(map(_told_apart, value)) if isinstance(value, list) else value


def _own_unit(entry: WorkOut, what: Calculation, key: str, asked: str) -> dict[str, str]:
    """The unit that an entry asks for under a key, for the unit of each result of that kind."""
    if not asked:
        return {}
    wanted = unit(asked)
    units = {piece.fact.unit for piece in _all_outputs(what.outputs) if hasattr(piece.fact, "unit")}
    kind = (wanted.dimension, wanted.point)
    fits = [u for u in units if (unit(u).dimension, unit(u).point) == kind]
    if not fits:
        right = f"a unit for one of: {', '.join(sorted(u for u in units if u))}"
        steps: Steps = ("work out", entry.name, key)
        wrong = f"no result of '{entry.name}' can be shown in {asked}"
        raise _Stuck(Fault(steps, "unit", wrong, right))
    return dict.fromkeys(fits, asked)


def _all_outputs(outputs: Sequence[Output]) -> Iterator[Output]:
    for each in outputs:
        yield from _all_outputs(each.row) if each.row else (each,)
