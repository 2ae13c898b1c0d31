"""A Process and the values of one part in; every number a sheet may print, with its working, out.

Entries are worked out in the order of their needs. Numbers stay unrounded between calculations;
each is rounded once, where its text is made.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from generator import arithmetic
from generator.calculation import Calculation, Gives, Input, check_range, check_unit
from generator.calculations import calculations
from generator.check.workings import literal
from generator.findings import Fault, Refusal, fault, near_word
from generator.process import GivenNumber, PartValues, Process, WorkOut
from generator.quantities.amount import Amount, Step, leaf
from generator.quantities.rounding import decimals, plain
from generator.quantities.text import echo
from generator.quantities.units import unit
from generator.read import Steps
from generator.running import Run, printed, run
from generator.working import GivenLine, Number, Working, Workings, result_text, working_of


class _Stuck(Exception):
    """An entry cannot be worked out; the fault is told already or comes with it."""

    def __init__(self, found: Fault | None = None) -> None:
        super().__init__()
        self.found = found


def compute(
    process: Process, values: PartValues | None = None, drafting: bool = True
) -> tuple[Workings, list[Fault]]:
    """Work everything out. Faults where it cannot be; what else can be is still worked out."""
    faults = list(_value_faults(process, values))
    givens = _givens(process, values, drafting, faults)
    board = _Board(process, {line.number.name: line.number for line in givens}, faults)
    for name in process.work_out:
        board.work(name)
    numbers = {**{line.number.name: line.number for line in givens}, **board.numbers}
    typed = sum(given.source == "calculated" for given in process.given.values())
    typed += sum(
        o.lookup is not None and o.lookup.source == "calculated" for o in process.operations
    )
    ordered = {name: board.done[name] for name in process.work_out if name in board.done}
    return Workings(numbers, givens, ordered, typed), faults


def _value_faults(process: Process, values: PartValues | None) -> Iterator[Fault]:
    """Values of a part that name no given of the process are told by the caller's own file."""
    if values is None:
        return
    brought = {name for name, each in process.given.items() if each.with_part}
    for name in values.values:
        if name not in brought:
            near = near_word(name, brought)
            right = f"{near}?" if near else "one of: " + (", ".join(sorted(brought)) or "none")
            wrong = f"'{name}' is no number that comes with the part of {process.number}"
            yield Fault(("values", name), "name", wrong, right, of_key=True)


def _givens(
    process: Process, values: PartValues | None, drafting: bool, faults: list[Fault]
) -> tuple[GivenLine, ...]:
    lines, missing = [], []
    for n, given in enumerate(process.given.values(), start=1):
        line = _given_line(n, given, values, drafting)
        if line is None:
            missing.append(given.name)
            continue
        amount = line.number.amount
        assert amount is not None
        if given.range is not None and not _inside(amount, given.range):
            key = "is" if given.amount is not None else "example"
            wrong = f"'{given.name}' {line.number.text} lies outside its range"
            steps: Steps = ("given", given.name, key)
            if values and given.name in values.values:
                steps = ("values", given.name, "is")
            faults.append(Fault(steps, "range", wrong, given.range.typed))
            continue
        lines.append(line)
    if missing:
        faults.append(_missing(missing))
    return tuple(lines)


def _missing(names: Sequence[str]) -> Fault:
    """One fault for all numbers that the part should have brought."""
    more = f" and {len(names) - 1} more" if len(names) > 1 else ""
    come = "come" if more else "comes"
    wrong = f"'{names[0]}'{more} {come} with the part and no value was given"
    right = f"--given FILE with {', '.join(names)}; for drafts an example here"
    return Fault(("given", names[0]), "given", wrong, right, of_key=True)


def _inside(amount: Amount, limits: Amount) -> bool:
    if amount.unit.dimension != limits.unit.dimension or amount.unit.point != limits.unit.point:
        return False
    slack = 1e-9 * max(abs(amount.value), 1e-9)
    ends = [x for x in (amount.value, amount.low, amount.high) if x is not None]
    assert limits.low is not None and limits.high is not None
    return all(limits.low - slack <= x <= limits.high + slack for x in ends)


def _given_line(
    n: int, given: GivenNumber, values: PartValues | None, drafting: bool
) -> GivenLine | None:
    typed = "TYPED" if given.source == "calculated" else ""
    amount, flag, note = given.amount, typed, given.note
    if given.with_part:
        if values and given.name in values.values:
            amount, note = values.values[given.name]
        elif drafting and given.example is not None:
            amount, flag = given.example, "EXAMPLE"
        else:
            return None
    assert amount is not None
    text = echo(amount)
    number = Number(
        given.name, f"g{n}", text, text, amount.unit.text, amount, (), flag,
        given.name.replace("_", " "),
    )  # fmt: skip
    return GivenLine(number, given.source, note)


class _Board:
    """The entries of one process while they are worked out, each once, in the order of needs."""

    def __init__(self, process: Process, givens: Mapping[str, Number], faults: list[Fault]) -> None:
        self.process, self.givens, self.faults = process, givens, faults
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
            return working_of(entry.name, self.marks[entry.name], self._run(what, entry))
        return self._arithmetic(entry)

    def _run(self, what: Calculation, entry: WorkOut) -> Run:
        values = {
            item.name: self._value(
                ("work out", entry.name, item.name), item, entry.inputs[item.name]
            )
            for item in what.inputs
            if item.kind != "fixed"
        }
        return run(what, values)

    def _value(self, here: Steps, item: Input, typed: Any) -> Any:
        if item.kind == "key":
            return typed
        if item.kind == "count":
            return int(typed)
        if item.kind == "amount":
            return self._amount(here, item, typed)
        if item.kind == "amounts":
            return [self._amount((*here, n), item, each) for n, each in enumerate(typed)]
        return [
            {
                cell.name: self._amount((*here, n, cell.name), cell, row[cell.name])
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

    def named(self, here: Steps, name: str) -> Amount:
        """The amount of a name, worked out first where it must be."""
        owner = name.partition(".")[0]
        if owner in self.process.work_out:
            self.work(owner)
            if owner in self.stuck:
                raise _Stuck
        number = self.givens.get(name) or self.numbers.get(name)
        if number is None or number.amount is None:
            raise _Stuck(self._no_number(here, name, owner))
        return number.amount

    def _no_number(self, here: Steps, name: str, owner: str) -> Fault | None:
        if owner in self.process.given:  # its own fault is told already
            return None
        if owner in self.done:
            results = [n.name for n in self.done[owner].results]
            right = "one of: " + ", ".join(results)
            return Fault(here, "name", f"'{name}' is not among the results of '{owner}'", right)
        known = [*self.process.given, *self.process.work_out]
        near = near_word(name, known)
        right = f"{near}?" if near else "a name under given or work out, or an amount with its unit"
        return Fault(here, "name", f"no number is named '{name}'", right)

    def _arithmetic(self, entry: WorkOut) -> Working:
        here: Steps = (
            ("work out", entry.name, "is") if entry.to is not None else ("work out", entry.name)
        )
        try:
            names = arithmetic.names(entry.formula)
            amounts = {n: _as_leaf(n, self.named(here, n)) for n in names}
            amount = arithmetic.worked(entry.formula, amounts)
            fact = self._rounding(entry, amount, names)
            amount = amount.in_unit(unit(fact.unit))
        except Refusal as refusal:
            raise _Stuck(fault(here, refusal)) from None
        shown = printed(fact, amount)
        mark = self.marks[entry.name]
        text = f"{shown}{'' if fact.unit in ('', '°') else ' '}{fact.unit}"
        number = Number(entry.name, mark, text, shown, fact.unit, amount, meaning=fact.meaning)
        line = Step(entry.name, "", amount.formula, amount.numbers, result_text(text, fact))
        return Working(
            mark, entry.name, entry.name.replace("_", " "), (number,), (line,), "", "", "",
            "arithmetic over the numbers it names",
        )  # fmt: skip

    def _rounding(self, entry: WorkOut, amount: Amount, names: Sequence[str]) -> Gives:
        meaning = entry.name.replace("_", " ")
        if entry.to is not None:
            step = plain(entry.to.number())
            return Gives(entry.name, entry.to.unit.text, meaning, step, entry.safe)
        for name in names:
            number = self.givens.get(name) or self.numbers[name]
            if number.amount is not None and number.amount.unit.dimension == amount.unit.dimension:
                places = decimals(plain(number.amount.number()).replace("\N{MINUS SIGN}", "-"))
                return Gives(entry.name, number.unit, meaning, f"{10**-places:.{places}f}")
        raise Refusal(
            "rounding", f"'{entry.name}' does not say how it is printed", "{is: ..., to: 0.1 mm}"
        )


def _as_leaf(name: str, amount: Amount) -> Amount:
    if amount.unit.point:
        return replace(amount, formula=name)
    return leaf(amount, name, amount.unit)


def strip_rows(
    process: Process, workings: Workings, of: Sequence[str], over: str, first: Amount, last: Amount,
    step: Amount,
) -> list[tuple[Amount, list[Number]]]:  # fmt: skip
    """The results for each value of one given, everything that hangs on it worked out again.

    Refuses where a row cannot be worked out. Values run from first to last by step.
    """
    rows = []
    scale = first.unit
    rungs = (last.value - first.value) / step.value
    for n in range(round(rungs) + 1):
        number = plain(scale.from_base(first.value + n * step.value), 9).replace(
            "\N{MINUS SIGN}", "-"
        )
        value = Amount(first.value + n * step.value, scale, typed=f"{number} {scale.text}")
        givens = {line.number.name: line.number for line in workings.givens}
        givens[over] = replace(givens[over], amount=value)
        faults: list[Fault] = []
        board = _Board(process, givens, faults)
        results = []
        for name in of:
            board.work(name.partition(".")[0])
            if faults or name not in board.numbers:
                wrong = faults[0].wrong if faults else f"no result is named '{name}'"
                raise Refusal(
                    "strip", f"the row {value.typed}: {wrong}", "a strip inside the range"
                )
            results.append(board.numbers[name])
        rows.append((value, results))
    return rows
