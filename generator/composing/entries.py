"""One edge of a strip as asked for in; the values it runs over, and where it must end, out."""

from __future__ import annotations

from dataclasses import dataclass

from generator.composing.writer import Writer
from generator.computing.compute import values_along
from generator.findings import Refusal, near_word
from generator.process import Along, Reading
from generator.quantities.amount import Amount
from generator.quantities.rounding import decimals, plain, rounded
from generator.read import Steps

_HYPHEN, _MINUS = "-", "\N{MINUS SIGN}"


@dataclass(frozen=True)
class Entries:
    """The values along one edge: what the bench measures, with its unit; each value and its text;
    framed: whether it is the nominal."""

    title: str
    values: tuple[Amount, ...]
    heads: tuple[str, ...]
    framed: tuple[bool, ...]


def entries_of(writer: Writer, here: Steps, along: Along, most: int, called: str) -> Entries:
    """The values of one given from first to last by step; called: columns or rows, at most `most`.

    Refuses what is no given, has no end, runs past its range or its tolerance, is in another
    unit, does not rise, misses its own last value, is too long, or is finer than the bench reads.
    """
    nominal = _nominal(writer, along)
    _rises_inside(along, writer.process.given[along.over].range, nominal)
    unit = nominal.unit.text
    if along.first.unit.text != unit:
        wrong = f"the strip is in {along.first.unit.text}, '{along.over}' in {unit}"
        raise Refusal("strip", wrong, f"from, to and step in {unit}")
    _no_finer_than_read(writer, here, along)
    if round(_rungs(along)) + 1 > most:
        raise Refusal("strip", f"the strip has more than {most} {called}", "a larger step")
    values = values_along(along)
    _holds_the_nominal(writer, along, nominal, values)
    places = _places(along)
    return Entries(
        f"{along.over.replace('_', ' ')} {unit}".strip(),
        values,
        tuple(rounded(value.number(), places) for value in values),
        tuple(_same(value.value, nominal.value) for value in values),
    )


def _holds_the_nominal(
    writer: Writer, along: Along, nominal: Amount, values: tuple[Amount, ...]
) -> None:
    """A nominal inside the strip must be one of its values, to be framed; a gauge number may lie
    a twentieth of a step beside one. What comes with the part may lie between two."""
    if writer.process.given[along.over].with_part:
        return
    inside = along.first.value < nominal.value < along.last.value
    near = along.step.value / 20
    if inside and not any(abs(value.value - nominal.value) <= near for value in values):
        wrong = f"the nominal {nominal.numbers} of '{along.over}' is no value of the strip"
        raise Refusal("strip", wrong, "from and step such that the nominal is met")


def _same(one: float, other: float) -> bool:
    return abs(one - other) < 1e-9 * max(abs(one), 1e-6)


def _nominal(writer: Writer, along: Along) -> Amount:
    known = writer.workings.numbers.get(along.over)
    if along.over not in writer.process.given or known is None or known.amount is None:
        near = near_word(along.over, writer.process.given)
        wrong = f"the strip runs over '{along.over}', which is no given here"
        raise Refusal("strip", wrong, f"{near}?" if near else "the name of a given")
    return known.amount


def _rungs(along: Along) -> float:
    return (along.last.value - along.first.value) / along.step.value


def _places(along: Along) -> str:
    """The decimals in which the entries are printed, as a step."""
    scale = along.first.unit
    numbers = (along.step.value / scale.factor, along.first.number())
    places = max(decimals(plain(n).replace(_MINUS, _HYPHEN)) for n in numbers)
    return f"{10**-places:.{places}f}"


def _rises_inside(along: Along, given_range: Amount | None, nominal: Amount) -> None:
    own = nominal if nominal.low is not None else None
    ends = [each for each in (given_range, own) if each is not None]
    if not ends:
        wrong = f"'{along.over}' has no range, so the strip has no STOP"
        raise Refusal("strip", wrong, f"range: under given {along.over}")
    if len({a.unit.dimension for a in (along.first, along.last, along.step, *ends)}) > 1:
        wrong = "the strip's from, to and step are different kinds of quantity"
        raise Refusal("unit", wrong, "one unit")
    for limits in ends:
        _inside(along, limits, "range" if limits is given_range else "tolerance")
    if along.last.value <= along.first.value:
        raise Refusal("strip", "the strip does not rise from 'from' to 'to'", "from below to")
    if abs(_rungs(along) - round(_rungs(along))) > 1e-6:
        wrong = f"steps of {along.step.typed} do not end at {along.last.typed}"
        raise Refusal("strip", wrong, "a step that divides the range")


def _inside(along: Along, limits: Amount, what: str) -> None:
    assert limits.low is not None
    assert limits.high is not None
    slack = 1e-9 * max(abs(limits.high), 1e-9)
    if along.first.value < limits.low - slack or along.last.value > limits.high + slack:
        wrong = f"the strip runs from {along.first.typed} to {along.last.typed}, outside the {what}"
        if what == "tolerance":
            wrong += f" of '{along.over}'"
        raise Refusal("strip", wrong, f"inside {limits.typed}: a strip is never extended")


def _no_finer_than_read(writer: Writer, here: Steps, along: Along) -> None:
    """Where the operation reads the number itself, its reading must tell two values apart."""
    operation = writer.process.operations[int(here[1])]
    for reading in operation.readings:
        read_to = _read_to(reading, along)
        if read_to is not None and along.step.value * (1 + 1e-9) < read_to.value:
            wrong = f"the strip goes by {along.step.typed}; '{reading.name}' is read to "
            raise Refusal("strip", wrong + read_to.typed, f"step: {read_to.typed} or more")


def _read_to(reading: Reading, along: Along) -> Amount | None:
    named = reading.name == along.over.replace("_", " ")
    fits = reading.to is not None and reading.to.unit.dimension == along.step.unit.dimension
    return reading.to if named and fits else None
