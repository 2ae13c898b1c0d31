"""The "work out" part of a tree in; faults of its entries against the calculations out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from generator.calculation import Calculation, Given, Input, check_range, check_unit
from generator.calculations import calculations, not_known
from generator.check.readers import amount as single
from generator.findings import Fault, Refusal, fault, near_word
from generator.quantities.amount import Amount
from generator.quantities.text import read_count, read_plain
from generator.quantities.units import unit
from generator.read import Steps
from generator.signs import is_whole

_ARITHMETIC = ("is", "to", "safe", "also")


def work_out_faults(tree: Mapping[str, Any]) -> list[Fault]:
    """Faults of every entry: unknown calculation, keys, kinds, and amounts that are typed in."""
    entries = tree.get("work out")
    if not isinstance(entries, Mapping):
        return []
    return [f for name, entry in entries.items() for f in _entry_faults(("work out", name), entry)]


def _entry_faults(here: Steps, entry: Any) -> Iterator[Fault]:
    if not isinstance(entry, Mapping):
        right = "{is: ..., to: 0.1 mm}, with safe: up or down where it is a limit"
        yield Fault(here, "rounding", f"'{here[-1]}' does not say how it is printed", right)
        return
    if "use" not in entry:
        yield from _arithmetic_faults(here, entry)
        return
    known = calculations()
    name = entry["use"]
    if not isinstance(name, str) or name not in known:
        yield fault((*here, "use"), not_known(str(name)))
        return
    yield from _key_faults(here, entry, known[name].inputs, known[name])
    for item in known[name].inputs:
        if item.name in entry:
            yield from _value_faults((*here, item.name), item, entry[item.name])
    yield from _also_faults(here, entry)


def _also_faults(here: Steps, entry: Mapping[str, Any]) -> Iterator[Fault]:
    for key in ("also", "in"):
        if key in entry:
            try:
                unit(str(entry[key]))
            except Refusal as refusal:
                yield fault((*here, key), refusal)


_FORMS = "{use: a calculation, ...} or {is: a + b, to: 0.1 mm}"


def _without_use(here: Steps, entry: Mapping[str, Any]) -> Fault:
    """An entry with neither use nor is: one fault, not one for each of its inputs."""
    meant = [key for key in entry if near_word(key, ("use",))]
    if meant:
        wrong = f"'{meant[0]}' is not a key here"
        return Fault((*here, meant[0]), "unknown", wrong, "did you mean 'use'?", of_key=True)
    return Fault(here, "missing", f"'{here[-1]}' has neither 'use' nor 'is'", _FORMS, of_key=True)


def _arithmetic_faults(here: Steps, entry: Mapping[str, Any]) -> Iterator[Fault]:
    nears = {near_word(key, _ARITHMETIC) for key in entry if key not in _ARITHMETIC}
    if not nears & {"is", "to"} and not {"is", "to"} & set(entry):
        yield _without_use(here, entry)
        return
    for key in ("is", "to"):
        if key not in entry and key not in nears:
            yield Fault(here, "missing", f"'{here[-1]}' has no '{key}'", _FORMS, of_key=True)
    for key, value in entry.items():
        if key not in _ARITHMETIC:
            near = near_word(key, ("use", *_ARITHMETIC))
            right = f"did you mean '{near}'?" if near else "is, to, safe, also; or use"
            yield Fault((*here, key), "unknown", f"'{key}' is not a key here", right, of_key=True)
        elif not isinstance(value, str):
            yield Fault((*here, key), "kind", f"'{key}' is not text", "text")
        elif key == "safe" and value not in ("up", "down", "nearest"):
            yield Fault((*here, key), "choice", f"'{value}' is no safe side", "up, down or nearest")
        elif key == "to":
            try:
                from generator.check.readers import step

                step(value)
            except Refusal as refusal:
                yield fault((*here, key), refusal)
    yield from _also_faults(here, entry)


def _key_faults(
    here: Steps, entry: Mapping[str, Any], inputs: tuple[Input, ...], what: Calculation | None
) -> Iterator[Fault]:
    wanted = {item.name: item for item in inputs if item.kind != "fixed"}
    beside = ("use", "also", "in") if what else ()
    nears = set()
    for key in entry:
        if key not in wanted and key not in beside:
            near = near_word(key, (*wanted, *beside))
            nears.add(near)
            right = f"did you mean '{near}'?" if near else "one of: " + ", ".join(wanted)
            yield Fault(
                (*here, key), "unknown", f"'{key}' is not an input here", right, of_key=True
            )
    for name, item in wanted.items():
        if name not in entry and name not in nears and not item.otherwise:
            of = f" of {what.name}" if what else ""
            wrong = f"the input '{name}'{of} is missing"
            yield Fault(here, "missing", wrong, f"{name}: {_meaning(item)}", of_key=True)


def listed(words: Sequence[str]) -> str:
    """ "up or down" """
    return " or ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _meaning(item: Input) -> str:
    if item.kind == "rows":
        cells = ", ".join(f"{cell.name}: {_meaning(cell)}" for cell in item.row)
        return f"a list of {{{cells}}}"
    if item.kind == "choice":
        return f"{item.fact.meaning}: {listed(item.fact.words)}"
    fact: Any = item.fact
    words: str = fact.meaning
    if isinstance(fact, Given):
        words += f", in {fact.unit or 'no unit'}"
        limits = fact.range_in_words()
        words += "" if limits == "any value" else f", {limits}"
    return f"a list: {words}" if item.kind == "amounts" else words


def _value_faults(here: Steps, item: Input, value: Any) -> Iterator[Fault]:
    if item.kind in ("amounts", "rows"):
        if not isinstance(value, list) or not value:
            yield Fault(here, "kind", f"'{item.name}' is not a list", _meaning(item))
            return
        for n, each in enumerate(value):
            if item.kind == "rows":
                yield from _row_faults((*here, n), item, each)
            else:
                yield from _amount_faults((*here, n), item.fact, each)
    elif not isinstance(value, str):
        yield Fault(here, "kind", f"'{item.name}' is not one value", _meaning(item))
    elif item.kind == "amount":
        yield from _amount_faults(here, item.fact, value)
    elif item.kind == "choice":
        if value not in item.fact.words:
            near = near_word(value, item.fact.words)
            right = (f"{near}? " if near else "") + listed(item.fact.words)
            yield Fault(here, "choice", f"'{value}' is no {item.fact.meaning}", right)
    elif item.kind == "count":
        try:
            number = read_count(value)
            if not item.fact.at_least <= number <= item.fact.at_most:
                wrong = f"{item.fact.meaning} {number} is out of range"
                yield Fault(here, "range", wrong, f"{item.fact.at_least} to {item.fact.at_most}")
        except Refusal as refusal:
            yield fault(here, refusal)


def _row_faults(here: Steps, item: Input, row: Any) -> Iterator[Fault]:
    if not isinstance(row, Mapping):
        yield Fault(here, "kind", f"a row of '{item.name}' is not a block of keys", _meaning(item))
        return
    yield from _key_faults(here, row, item.row, None)
    for cell in item.row:
        if cell.name in row:
            yield from _value_faults((*here, cell.name), cell, row[cell.name])


def _amount_faults(here: Steps, fact: Given, value: Any) -> Iterator[Fault]:
    """An amount typed in is read and judged here; a name is judged when it is worked out."""
    if not isinstance(value, str):
        yield Fault(here, "kind", f"{fact.meaning} is not one value", "an amount or a name")
        return
    if value[:1].isalpha():
        return
    try:
        amount = literal(fact, value)
        check_unit(amount, unit(fact.unit), fact.meaning)
        check_range(fact, amount)
    except Refusal as refusal:
        yield fault(here, refusal)


def literal(fact: Given, value: str) -> Amount:
    """An amount as typed for an input; a plain number is whole only where no unit belongs."""
    if fact.unit == "" and is_whole(value.strip()[-1:]):
        return read_plain(value)
    return single(value)
