"""One run of a calculation in; its numbers and its printed lines out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from generator.calculation import Calculation, Gives
from generator.computing.running import Result, Run
from generator.computing.second_unit import result_in_second_unit
from generator.computing.tolerance import Limits
from generator.findings import Refusal
from generator.quantities.amount import Amount, Step
from generator.quantities.rounding import rounded
from generator.quantities.units import Unit, unit

WORST_CASE = "worst case"


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
    fact: Gives | None = None
    limits: Limits | None = None

    @property
    def second(self) -> tuple[str, str]:
        """The number in its second unit and that unit; empty where it has none."""
        match = re.search(r" \((\S+) ([^)]+)\)$", self.text)
        return (match[1], match[2]) if match and self.mark.startswith("c") else ("", "")


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

    @property
    def single(self) -> tuple[Number, ...]:
        """The results that stand alone, not in a table on a sheet of its own."""
        if self.ran is None or not self.ran.calculation.listed:
            return self.results
        begins = tuple(f"{self.name}.{out.name}." for out in self.ran.calculation.listed)
        return tuple(n for n in self.results if not n.name.startswith(begins))


@dataclass(frozen=True)
class Workings:
    """All numbers of one process for one part."""

    numbers: Mapping[str, Number]
    givens: tuple[GivenLine, ...]
    workings: Mapping[str, Working]
    typed: int

    @property
    def amounts(self) -> Mapping[str, Amount]:
        """Those of the numbers that are amounts."""
        return {n: each.amount for n, each in self.numbers.items() if each.amount is not None}


def working_of(
    name: str, mark: str, ran: Run, also: Mapping[str, str] | None = None, lines: bool = True
) -> Working:
    """A run as it is printed. also: the second unit, in brackets, for each unit that has one;
    lines: with its printed lines, which nobody asks of a column of a strip."""
    what = ran.calculation
    texts = {result.name: _text(result, also or {}) for result in ran.results}
    numbers = tuple(_number(name, mark, result, texts[result.name]) for result in ran.results)
    keys = {i.name: ran.inputs[i.name] for i in what.inputs if i.kind in ("key", "choice")}
    return Working(
        mark, name, f"{name.replace('_', ' ')}: {what.title[:1].lower()}{what.title[1:]}",
        numbers, tuple(printed_lines(ran, texts)) if lines else (), ran.second, _range(what),
        what.not_covered, what.source, ran, keys | dict(ran.looked_up),
    )  # fmt: skip


def _text(result: Result, also: Mapping[str, str]) -> str:
    if result.amount is None:
        return result.text
    second = result_in_second_unit(result.fact, result.amount, also.get(result.fact.unit, ""))
    return f"{result.text}{second}"


def _number(name: str, mark: str, result: Result, text: str) -> Number:
    full = f"{name}.{result.name}" if result.name else name
    fact = result.fact if isinstance(result.fact, Gives) else None
    return Number(
        full, mark, text, result.shown, fact.unit if fact else "", result.amount, result.order,
        meaning=result.fact.meaning, fact=fact,
    )  # fmt: skip


def with_limits(
    working: Working, limits: Mapping[str, Limits], also: Mapping[str, str] | None = None
) -> Working:
    """The working with the limits of its results, and a line for each.

    An end of a window becomes the end that holds for the whole tolerance; refuses a window of
    which then nothing is left.
    """
    moved = {n.name: limits[n.name] for n in working.results if _moves(n, limits.get(n.name))}
    if not moved:
        return working
    _must_be_settled(working.results, moved)
    results = tuple(_limited(n, moved.get(n.name), also or {}) for n in working.results)
    _must_stay_open(results)
    _must_stay_inside(working.results, results)
    ends = {n.fact.symbol for n in results if n.fact and n.fact.end and n.name in moved}
    lines = tuple(
        s._replace(result=f"{s.result}, at nominal") if s.symbol in ends and s.formula else s
        for s in working.lines
    )
    more = tuple(line for number in results for line in _limit_lines(number))
    return replace(working, results=results, lines=lines + more)


def _moves(number: Number, limits: Limits | None) -> bool:
    """Whether a result moves by anything that its last printed digit could ever feel."""
    if limits is None or number.fact is None:
        return False
    width = (limits.high - limits.low) / unit(number.fact.unit).factor
    return width > 1e-6 * float(number.fact.to)


def _must_stay_inside(usual: Iterable[Number], results: Iterable[Number]) -> None:
    """Refuses a number that lies inside its window at nominal and outside the one that holds for
    the whole tolerance. What lies outside at nominal, such as an early pass, is meant to."""
    before, after = ({n.name: n for n in numbers} for numbers in (usual, results))
    for number in after.values():
        window = number.fact.inside if number.fact else ""
        if not window:
            continue
        names = [f"{number.name.partition('.')[0]}.{window}.{end}" for end in ("from", "to")]
        low, high = (after[name] for name in names)
        if _between_ends(number, *(before[name] for name in names)) and not _between_ends(
            number, low, high
        ):
            wrong = f"{number.meaning} {number.text} lies outside its window for the whole "
            wrong += f"tolerance, {low.text} to {high.text}"
            raise Refusal("range", wrong, "a target further inside, or a strip over what moves it")


def _between_ends(number: Number, low: Number, high: Number) -> bool:
    assert number.amount is not None and low.amount is not None and high.amount is not None
    slack = 1e-9 * abs(high.amount.value)
    return low.amount.value - slack <= number.amount.value <= high.amount.value + slack


def _limited(number: Number, limits: Limits | None, also: Mapping[str, str]) -> Number:
    fact, amount = number.fact, number.amount
    if limits is None or fact is None or amount is None or not fact.end:
        return replace(number, limits=limits)
    narrowest = limits.high if fact.end == "from" else limits.low
    whole = Amount(narrowest, amount.unit)
    result = Result(number.name, fact, whole, rounded(whole.number(), fact.to, fact.safe))
    return replace(
        number, text=_text(result, also), shown=result.shown, amount=whole, limits=limits
    )


def _must_be_settled(results: Iterable[Number], limits: Mapping[str, Limits]) -> None:
    for number in results:
        found, fact = limits.get(number.name), number.fact
        if found is not None and fact is not None and fact.settled:
            between = _between(unit(fact.unit), found.low, found.high, fact)
            wrong = f"{fact.meaning} may be {between} inside the tolerance of {found.driver}"
            raise Refusal("range", wrong, "narrower tolerances: a choice is one for all of them")


def _must_stay_open(results: Iterable[Number]) -> None:
    ends = {number.name: number for number in results if number.fact and number.fact.end}
    for name, low in ends.items():
        high = ends.get(f"{name.removesuffix('from')}to")
        if high is None or high is low or low.amount is None or high.amount is None:
            continue
        if low.amount.value > high.amount.value + 1e-12 * max(1.0, abs(high.amount.value)):
            wrong = f"no window is left for the whole tolerance: {low.meaning} {low.text}"
            wrong += f", {high.meaning} {high.text}"
            raise Refusal("range", wrong, "narrower tolerances, or a strip over what is measured")


def _limit_lines(number: Number) -> Iterator[Step]:
    """One line: worst case, how it was found, root sum square beside it, and what drives both."""
    limits, fact = number.limits, number.fact
    if limits is None or fact is None:
        return
    scale = unit(fact.unit)
    how = "two corners, slopes proven" if limits.proven else "searched"
    if limits.bound is not None:
        how += f", intervals allow {_between(scale, *limits.bound, fact)}"
    text = f"{_between(scale, limits.low, limits.high, fact)} ({how})"
    text += f"; root sum square {_between(scale, limits.rss_low, limits.rss_high, fact)}"
    moves = "move it most" if len(limits.drivers) > 1 else "moves it most"
    each = " each" if len(limits.drivers) > 1 else ""
    text += f"; {limits.driver} {moves}, {limits.share * 100:.0f} %{each}"
    if limits.proven and len(limits.rises) + len(limits.falls) > 1:
        ways = (("rises with", limits.rises), ("falls with", limits.falls))
        text += "".join(f"; {way} {', '.join(names)}" for way, names in ways if names)
    if fact.end:
        text += f"; for the whole tolerance {number.text}"
    yield Step(fact.symbol, WORST_CASE, "", "", text)


def worst_case(number: Number) -> str:
    """The worst case of a number in its unit; "" where nothing moves it."""
    limits, fact = number.limits, number.fact
    if limits is None or fact is None:
        return ""
    return _between(unit(fact.unit), limits.low, limits.high, fact)


def _between(scale: Unit, low: float, high: float, fact: Gives) -> str:
    """Both limits, rounded so that neither shows less than there is."""
    ends = (
        rounded(scale.from_base(low), fact.to, "down"),
        rounded(scale.from_base(high), fact.to, "up"),
    )
    return f"{ends[0]} to {ends[1]} {fact.unit}".rstrip()


def printed_lines(ran: Run, texts: Mapping[str, str] | None = None) -> Iterator[Step]:
    """The named steps once each, then each result that is more than a named step.

    A result that is a named step is printed with it, unrounded and rounded. texts: the results as
    they are printed, where that is more than one unit.
    """
    texts = texts or {result.name: result.text for result in ran.results}
    if ran.calculation.method:
        yield from _method_lines(ran, texts)
        return
    results = [(result, result.amount) for result in ran.results if result.amount is not None]
    printed_as = {
        amount.formula: result_text(texts[result.name], result.fact) for result, amount in results
    }
    told: set[str] = set()
    for result, amount in results:
        for step in amount.steps:
            if step.symbol not in told and step.formula != step.symbol:
                told.add(step.symbol)
                yield _with_print(step, printed_as.get(step.symbol, ""))
        if amount.formula not in told:
            text, fact = result_text(texts[result.name], result.fact), result.fact
            yield Step(fact.symbol, fact.meaning, amount.formula, amount.numbers, text)


def _method_lines(ran: Run, texts: Mapping[str, str]) -> Iterator[Step]:
    """A named method: what went in, what it is called, what came out; no formula to be mistaken."""
    for item in ran.calculation.inputs:
        value = ran.inputs[item.name]
        for leaf in value if isinstance(value, tuple) else (value,):
            if isinstance(leaf, Amount):
                yield Step(leaf.formula, item.fact.meaning, "", "", leaf.numbers)
    yield Step("method", "", "", "", ran.calculation.method)
    begins = tuple(f"{out.name}." for out in ran.calculation.listed)
    for result in ran.results:
        if result.amount is not None and not result.name.startswith(begins):
            text = result_text(texts[result.name], result.fact)
            yield Step(result.fact.symbol, result.fact.meaning, "", "", text)


def _with_print(step: Step, text: str) -> Step:
    if not text:
        return step
    same = text.startswith((f"{step.result},", f"{step.result} ("))
    return step._replace(result=text if same else f"{step.result}; printed {text}")


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
