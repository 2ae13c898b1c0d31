"""Workings and the entries that asked for them in; blocks of the calculation sheet and rows of the
traveller's table of numbers, out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Set
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any, get_type_hints

from generator.calculation import Given, Input, fact_of
from generator.composing.escape import Markdown, escape
from generator.composing.working_lines import line_rows
from generator.computing import arithmetic
from generator.computing.running import Run
from generator.computing.working import GivenLine, Number, Working, Workings, worst_case
from generator.process import Process, WorkOut
from generator.quantities.amount import Amount

Numbers = Mapping[str, Number]
InputRow = tuple[str, str, str, Markdown]
_MANY = 20  # results that a table still shows at a glance
_NAME = re.compile(r"\{\{\s*([a-z][a-z0-9_.]*)\s*\}\}")
TYPED = escape("typed here")
USUAL = escape("nobody typed it: taken where nothing is said")


def given_rows(process: Process, lines: tuple[GivenLine, ...]) -> list[Mapping[str, str]]:
    """A row for each number that the job starts from, its tolerance named where it is each's."""
    return [
        {
            "mark": line.number.mark,
            "number": line.number.meaning,
            "value": line.number.text,
            "each": "each on its own" if process.given[line.number.name].each else "",
            "flag": line.number.flag,
            "source": line.source,
            "note": line.note,
        }
        for line in lines
    ]


def result_rows(workings: Workings, asked: Set[str]) -> list[Mapping[str, str]]:
    """A row for each number that was worked out, in the order of the workings.

    Of a working with very many results, and of one that makes a calculation of many inputs again,
    those that are asked for by name: the calculation sheet has them all.
    """
    short = made_again(workings)
    return [
        {
            "mark": number.mark,
            "number": _called(number),
            "value": number.text,
            "worst": worst_case(number),
        }
        for working in workings.workings.values()
        for number in working.single
        if number.name in asked or (len(working.results) <= _MANY and working.mark not in short)
    ]


def made_again(workings: Workings) -> Mapping[str, str]:
    """Workings that make a calculation of many inputs again: their marks, and that of the first."""
    first: dict[str, str] = {}
    again: dict[str, str] = {}
    for working in workings.workings.values():
        if working.ran is None or _inputs_of(working.ran) <= _MANY:
            continue
        mark = first.setdefault(working.ran.calculation.name, working.mark)
        if mark != working.mark:
            again[working.mark] = mark
    return again


def _inputs_of(ran: Run) -> int:
    """How many values go in."""
    return sum(len(each) if isinstance(each, tuple) else 1 for each in ran.inputs.values())


def names_in(what: Any) -> set[str]:
    """All words of a part of a process that may be names of numbers."""
    found: set[str] = set()
    rest = [what]
    while rest:
        each = rest.pop()
        inside = _words_inside(each.__class__)
        if inside == "word":
            found.add(each)
            if "{{" in each:
                found.update(_NAME.findall(each))
        elif inside == "list":
            rest.extend(each)
        elif inside == "mapping":
            rest.extend(each.values())
        elif inside == "fields":
            rest.extend(vars(each).values())
    return found


@cache
def _words_inside(kind: Any) -> str:
    """Where names may stand in a thing of this kind: nowhere in a number or an amount."""
    if issubclass(kind, str):
        return "word"
    if issubclass(kind, Mapping):
        return "mapping"
    if issubclass(kind, tuple | list):
        return "list"
    return "fields" if kind is not Amount and is_dataclass(kind) else ""


def _called(number: Number) -> str:
    """What a number means, and its name in the process file where that says more."""
    same = number.name.replace("_", " ") == number.meaning
    return number.meaning if same or not number.meaning else f"{number.meaning} ({number.name})"


def calculations(process: Process, workings: Workings, asked: Set[str]) -> list[Mapping[str, Any]]:
    """Every working as a numbered calculation; where one of many inputs is made again, only what
    differs from the first time, and the results that are asked for by name."""
    again = made_again(workings)
    inputs: dict[str, list[InputRow]] = {}
    made: dict[str, Mapping[str, Any]] = {}
    for name, working in workings.workings.items():
        told = calculation(working, process.work_out[name], workings.numbers)
        if mark := again.get(working.mark):
            told = {**told, **_again(told, working, mark, inputs[mark], asked)}
        else:
            inputs[working.mark] = told["inputs"]
        made[working.mark] = told
    return list(made.values())


def _again(
    told: Mapping[str, Any], working: Working, mark: str, inputs: list[InputRow], asked: Set[str]
) -> Mapping[str, Any]:
    """A calculation that was made before: what goes in otherwise, and what comes out of it."""
    as_before = Markdown(f"all as in [{mark}](#{mark}), but:")
    meant = {n.meaning for n in working.results if n.name in asked}
    rows = [*line_rows(line for line in working.lines if line.meaning in meant)]
    rows += [(n.meaning, n.text) for n in working.results if n.amount is None]
    return {
        **told,
        "about": [*told["about"], ("inputs, method", as_before)],
        "inputs": [row for row in told["inputs"] if row not in inputs],
        "lines": [*rows, ("second method", working.second)],
    }


def calculation(working: Working, entry: WorkOut, numbers: Numbers) -> Mapping[str, Any]:
    """One numbered calculation: its head, what went in, its lines, and what belongs to them."""
    (first, *others) = working.single or working.results
    alone = not others and first.amount is not None
    head = {
        "mark": working.mark,
        "name": working.name.replace("_", " "),
        "result": first.text if alone else "",
    }
    if working.ran is None:
        about = [*line_rows(working.lines), _named(entry, numbers)]
        return {**head, "about": about, "inputs": [], "lines": []}
    what = working.ran.calculation
    inputs = list(_inputs(working.ran, entry, numbers))
    about = [("what", f"{what.title} (calculation {what.name})")]
    return {**head, "about": about, "inputs": inputs, "lines": _lines(working, inputs)}


def _named(entry: WorkOut, numbers: Numbers) -> tuple[str, Markdown]:
    """The source of small arithmetic: the numbers that it names."""
    named = ", ".join(_reference(numbers[n]) for n in arithmetic.names(entry.formula))
    told = "arithmetic over the numbers it names"
    return "source", Markdown(f"{told}: {named}" if named else told)


def _lines(working: Working, inputs: list[InputRow]) -> list[tuple[str, str]]:
    """The lines of a calculation; what the table of inputs says already is not said again."""
    said = {(symbol, value) for symbol, _, value, _ in inputs}
    lines = (s for s in working.lines if s.formula or (s.symbol, s.result) not in said)
    rows = [(label, text) for label, text in working.keys.items() if label == "row from"]
    rows += line_rows(lines)
    rows += [(n.meaning, n.text) for n in working.single if n.amount is None]
    if working.ran is not None and working.ran.calculation.listed:
        lists = ", ".join(out.fact.meaning for out in working.ran.calculation.listed)
        rows.append(("on the table of ordinates", lists))
    facts = (
        ("second method", working.second),
        ("holds for", working.range),
        ("does not cover", working.not_covered),
        ("source", working.source),
    )
    return rows + [(label, text) for label, text in facts if text]


def _inputs(ran: Run, entry: WorkOut, numbers: Numbers) -> Iterator[InputRow]:
    for item in ran.calculation.inputs:
        typed = entry.inputs.get(item.name)
        yield from _rows(item, ran.inputs[item.name], typed, numbers)
    yield from _looked_up(ran)


def _rows(
    item: Input, value: Any, typed: Any, numbers: Numbers, place: str = ""
) -> Iterator[InputRow]:
    """The rows of one input: one, or one for each value of a list or cell of a row of values.

    typed: what stands in the process, None for nothing.
    """
    if item.kind == "rows":
        for n, (row, cells) in enumerate(zip(value, typed, strict=True), start=1):
            for cell in item.row:
                asked = getattr(row, cell.name), cells.get(cell.name)
                yield from _rows(cell, *asked, numbers, f" {n}")
    elif item.kind == "amounts":
        for n, (each, asked) in enumerate(zip(value, typed, strict=True), start=1):
            yield _amount(item, each, asked, numbers, f" {n}")
    elif item.kind == "amount":
        yield _amount(item, value, typed, numbers, place)
    elif item.kind == "fixed":
        shown = value.numbers if isinstance(value, Amount) else item.fact.fixed
        yield item.fact.symbol, item.fact.meaning, shown, escape("constant")
    else:
        symbol = getattr(item.fact, "symbol", "")
        where = USUAL if typed is None and item.otherwise else TYPED
        yield symbol, f"{item.fact.meaning}{place}", str(value), where


def _amount(item: Input, value: Amount, typed: str, numbers: Numbers, place: str) -> InputRow:
    number = numbers.get(typed)
    if number is not None:
        own = number.amount.numbers if number.amount is not None else ""
        another = own and number.unit != value.unit.text and number.mark.startswith("g")
        where = Markdown(_reference(number) + (f": {escape(own)}" if another else ""))
    else:
        where = TYPED if typed == value.numbers else escape(f"typed here: {typed}")
    return value.formula, f"{item.fact.meaning}{place}", value.numbers, where


def _reference(number: Number) -> str:
    """The mark of a number, which leads to it on this sheet, and its name."""
    return f"[{number.mark}](#{number.mark}) {escape(number.name.replace('_', ' '))}"


def _looked_up(ran: Run) -> Iterator[InputRow]:
    """The cells of the table rows that were used, with the symbols they have in the formula."""
    for parameter in ran.calculation.tables:
        row = ran.arguments[parameter]
        hints = get_type_hints(type(row), include_extras=True)
        facts = {each.name: fact_of(hints[each.name]) for each in fields(row)}
        for fact in facts.values():
            if isinstance(fact, Given) and fact.meaning in ran.looked_up:
                shown = ran.looked_up[fact.meaning]
                yield fact.symbol, fact.meaning, shown, escape("table row")
