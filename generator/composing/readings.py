"""The readings of one operation in; rows with two limits and a unit, or faults, out."""

from __future__ import annotations

import re
from collections.abc import Sequence

from generator.check.pressure_rules import reading_fault
from generator.check.reading_rules import coarse_step
from generator.composing.escape import Markdown, escape
from generator.composing.writer import Writer
from generator.computing.working import Number
from generator.findings import Fault
from generator.process import Operation, Reading
from generator.quantities.amount import Amount
from generator.quantities.rounding import decimals, plain, rounded, snapped
from generator.quantities.units import unit
from generator.read import Steps

_DASH = Markdown("-")
_LINKED = re.compile(r"\[(.*)\]\(#[cg]\d+\)")
Row = tuple[Markdown, str, str, str, int, Markdown]
"""Name, lower and upper limit, unit, times, and the nominal, "" where limits say it all."""


def reading_rows(writer: Writer, here: Steps, operation: Operation) -> list[Row]:
    """A row for each reading."""
    return [_reading(writer, (*here, "readings", j), r) for j, r in enumerate(operation.readings)]


def _reading(writer: Writer, here: Steps, reading: Reading) -> Row:
    name = writer.text((*here, "name"), reading.name)
    if reading.entry in ("words", "clock", "date", "tick"):
        earliest = escape(reading.not_before) if reading.not_before else _DASH
        return name, earliest, _DASH, reading.entry, reading.times, Markdown("")
    lower = _limit(writer, (*here, "lower"), reading, reading.lower)
    upper = _limit(writer, (*here, "upper"), reading, reading.upper)
    scale = "count" if reading.entry == "count" else _unit_of(writer, here, reading)
    if isinstance(reading.lower, str) or isinstance(reading.upper, str):
        ends = (_worked_out(writer, each) for each in (reading.lower, reading.upper))
        writer.faults += coarse_step(here, reading, *ends)
        writer.faults += _worked_out_pressure(writer, here, reading)
    if lower == upper == _DASH:
        lower = upper = "record"
    ticked = {reading.lower, reading.upper, reading.nominal} & writer.answered
    if not ticked and _in_order(writer, here, reading):
        _no_looser(writer, here, reading)
    return name, lower, upper, scale, reading.times, _nominal(writer, here, reading, scale)


def _worked_out_pressure(writer: Writer, here: Steps, reading: Reading) -> list[Fault]:
    """A limit that comes out in plain bar; what is typed or given, check has told already."""
    for side, limit in (("lower", reading.lower), ("upper", reading.upper)):
        known = isinstance(limit, str) and limit not in writer.process.given
        amount = _worked_out(writer, limit) if known else None
        if amount is not None:
            return list(reading_fault((*here, side), reading, amount.unit.text))
    return []


def _nominal(writer: Writer, here: Steps, reading: Reading, scale: str) -> Markdown:
    """What is aimed at between the limits, as it was typed or worked out; "" where it is the middle
    of `wanted: 12 ± 0.1 mm`, or the one count that passes."""
    aim = reading.nominal
    if aim is None or reading.lower == aim == reading.upper:
        return Markdown("")
    if isinstance(aim, str):
        number = writer.workings.numbers.get(aim)
        strips = [o.strip for o in writer.process.operations if o.strip is not None]
        if number is not None and any(aim in strip.of for strip in strips):
            return Markdown(f"[as ticked](#{number.mark})")
        return writer.text((*here, "nominal"), f"{{{{ {aim} }}}}")
    if aim.low is not None and aim.high is not None and _is_middle(aim.low, aim.value, aim.high):
        return Markdown("")
    shown = _typed_limit(reading, aim)
    return escape(shown if scale == "count" else f"{shown}{'' if scale == '°' else ' '}{scale}")


def _is_middle(low: float, value: float, high: float) -> bool:
    return abs(low + high - 2 * value) <= 1e-9 * max(abs(low), abs(high), high - low)


def _limit(writer: Writer, here: Steps, reading: Reading, limit: Amount | str | None) -> str:
    if limit is None:
        return _DASH
    if isinstance(limit, Amount):
        return _typed_limit(reading, limit)
    number = writer.workings.numbers.get(limit)
    if number is None or number.amount is None:
        writer.faults.append(writer.unnamed(here, limit))
        return _DASH
    writer.ranges(limit)
    if limit in writer.answered:
        return _as_ticked(writer, here, reading, number)
    worked_out = number.mark.startswith("c")
    shown = number.shown if worked_out else _typed_limit(reading, number.amount)
    return Markdown(f"[{escape(shown)}](#{number.mark})")


def _as_ticked(writer: Writer, here: Steps, reading: Reading, number: Number) -> str:
    """A limit that changes with what a strip measures stands in that strip, not beside the box."""
    operations = writer.process.operations
    strips = [(o, o.strip) for o in operations if o.strip and number.name in o.strip.of]
    for operation, strip in strips:
        if not _is_alone(here, number, [writer.workings.numbers[name] for name in strip.of]):
            wrong = f"the {here[-1]} limit of '{reading.name}' is ticked, and in the strip of "
            wrong += f"operation {operation.number} several rows of {number.mark} may be meant"
            right = f"an entry of its own under work out, such as limit: {number.name}, "
            writer.faults.append(Fault(here, "limits", wrong, f"{right}in that strip and here"))
    if strips:
        return Markdown(f"[ticked](#{number.mark})")
    wrong = f"the {here[-1]} limit of '{reading.name}' changes with what a strip measures"
    right = f"{number.name} under of: in that strip; the row then says: as ticked"
    writer.faults.append(Fault(here, "limits", wrong, right))
    return _DASH


def _is_alone(here: Steps, number: Number, rows: Sequence[Number]) -> bool:
    """Whether a limit is the one row of a strip that its mark leads to: of those with one mark, the
    least is a lower limit and the largest an upper one, before any that is neither."""
    ends = {"least": "lower", "largest": "upper"}
    same = [(each.name, ends.get(each.meaning.partition(" ")[0], "")) for each in rows
            if each.mark == number.mark]  # fmt: skip
    own = [name for name, end in same if end == here[-1]] or [n for n, end in same if not end]
    return own == [number.name]


def _on_the_safe_side(here: Steps, shown: str, number: float) -> bool:
    """Whether rounding left a limit no wider than it was worked out."""
    gap = float(shown.replace("\N{MINUS SIGN}", "-")) - float(snapped(number))
    return gap >= 0 if here[-1] == "lower" else gap <= 0


def _loosened(here: Steps, reading: Reading, number: Number) -> Fault:
    assert number.amount is not None
    side, safe = ("above", "down") if here[-1] == "upper" else ("below", "up")
    exact = plain(number.amount.number(), 6)
    wrong = f"the {here[-1]} limit of '{reading.name}' prints as {number.shown}, {side} {exact}"
    return Fault(here, "rounding", wrong, f"{number.name}: {{is: ..., to: ..., safe: {safe}}}")


def _unit_of(writer: Writer, here: Steps, reading: Reading) -> str:
    units = set()
    for limit in (reading.nominal, reading.lower, reading.upper):
        number = writer.workings.numbers.get(limit) if isinstance(limit, str) else None
        if number is not None:
            units.add(number.unit)
        elif isinstance(limit, Amount):
            units.add(limit.unit.text)
    if len(units) > 1:
        wrong = f"'{reading.name}' mixes units: {', '.join(sorted(u or 'none' for u in units))}"
        writer.faults.append(Fault((*here, "name"), "unit", wrong, "one unit for all its limits"))
    text = units.pop() if units else reading.unit
    return text or "count"


def _in_order(writer: Writer, here: Steps, reading: Reading) -> bool:
    """Limits that were worked out are judged here, as typed ones were in check."""
    ends = [
        _value(writer, reading.lower),
        _value(writer, reading.nominal),
        _value(writer, reading.upper),
    ]
    known = [end for end in ends if end is not None]
    if known != sorted(known) and any(
        isinstance(each, str) for each in (reading.lower, reading.nominal, reading.upper)
    ):
        wrong = f"the limits of '{reading.name}' come out in the wrong order"
        writer.faults.append(Fault((*here, "name"), "limits", wrong, "lower, nominal, upper"))
        return False
    return True


def _no_looser(writer: Writer, here: Steps, reading: Reading) -> None:
    """A worked-out limit must not be wider on paper than it was worked out."""
    for side, limit in (("lower", reading.lower), ("upper", reading.upper)):
        number = writer.workings.numbers.get(limit) if isinstance(limit, str) else None
        if number is None or number.amount is None or not number.mark.startswith("c"):
            continue
        if limit in writer.answered:
            continue
        steps = (*here, side)
        if not _on_the_safe_side(steps, number.shown, number.amount.number()):
            writer.faults.append(_loosened(steps, reading, number))
        elif second := _second_looser(steps, number):
            writer.faults.append(_loosened_in_brackets(steps, reading, number, second))
        elif number.limits is not None and not (number.fact and number.fact.end):
            writer.faults.append(_moves(steps, reading, number))


def _second_looser(here: Steps, number: Number) -> str:
    """The bracket in the second unit where it is a wider limit than was worked out; else ""."""
    shown, second = number.second
    if not second or number.amount is None:
        return ""
    exact = unit(second).from_base(number.amount.value)
    return "" if _on_the_safe_side(here, shown, exact) else f"{shown} {second}"


def _loosened_in_brackets(here: Steps, reading: Reading, number: Number, second: str) -> Fault:
    side, safe = ("above", "down") if here[-1] == "upper" else ("below", "up")
    wrong = f"the {here[-1]} limit of '{reading.name}' prints as {second} in brackets, {side} it"
    return Fault(here, "rounding", wrong, f"{number.name}: {{is: ..., to: ..., safe: {safe}}}")


def _moves(here: Steps, reading: Reading, number: Number) -> Fault:
    """A limit that hangs on a tolerance is no limit: it would be printed at nominal only."""
    assert number.limits is not None and number.fact is not None
    scale = unit(number.fact.unit)
    ends = [plain(scale.from_base(end), 6) for end in (number.limits.low, number.limits.high)]
    wrong = f"the {here[-1]} limit of '{reading.name}' may be {ends[0]} to {ends[1]} "
    wrong += f"{number.unit} inside the tolerance of {number.limits.driver}"
    right = "a range: for that given, with a strip over it; or a limit that does not hang on it"
    return Fault(here, "limits", wrong, right)


def _value(writer: Writer, limit: Amount | str | None) -> float | None:
    """The value of a limit that was worked out or typed, in base units."""
    amount = _worked_out(writer, limit)
    return None if amount is None else amount.value


def _worked_out(writer: Writer, limit: Amount | str | None) -> Amount | None:
    """A limit as an amount, None where it has none."""
    if not isinstance(limit, str):
        return limit
    number = writer.workings.numbers.get(limit)
    return number.amount if number is not None else None


def unlinked(cell: str) -> str:
    """A limit of a row as it is printed, without its link."""
    found = _LINKED.fullmatch(cell)
    return found[1] if found else str(cell)


def thread_step(writer: Writer, operation: Operation) -> list[Markdown]:
    """The first step where bolts are tightened: the threads must be as the table row asks."""
    working = writer.workings.workings.get(operation.tightens)
    if working is None or "lubrication" not in working.keys:
        return []
    keys = working.keys
    row = f"table row {keys['thread']}, {keys['nut']} nut"
    return [escape(f"Check: the threads are {keys['lubrication']} ({row}). IF not, THEN stop.")]


def _typed_limit(reading: Reading, limit: Amount) -> str:
    """A typed limit to the step it is read to, never to fewer figures than it was typed with."""
    number = limit.number()
    places = decimals(plain(number).replace("\N{MINUS SIGN}", "-"))
    if reading.to is not None:
        step = limit.unit.factor and reading.to.value / limit.unit.factor
        places = max(places, decimals(plain(step)))
    return rounded(number, f"{10**-places:.{places}f}")
