"""Values and the instruments beside them in; values that those instruments cannot read, and gauges
whose scale ends too low, out."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from math import isclose

from generator.check.instrument_rules import reads
from generator.findings import Refusal
from generator.process import Instrument
from generator.quantities.units import Unit, unit
from generator.results.case import Case, Verdict, said
from generator.results.form import FULL_SCALE, Field
from generator.results.form_figures import SET, is_beside
from generator.results.form_says import SINCE
from generator.results.values import number_in
from generator.signs import things_in

_NUMBER = " no."
_COUNT = "count"
_NEAR = 1e-9
Named = Sequence[tuple[Field, Instrument]]


def ranges(case: Case) -> Iterator[Verdict]:
    """A value beyond what every instrument reads that is written for it: those of its row, else
    those of its operation on the same sheet, of its kind where the sheets say with which. Where
    they do not, it may have been read with nothing, as what stands on a drawing: that is told and
    stops nothing."""
    named, logged = _named(case), _logged(case)
    told: set[tuple[str, ...]] = set()
    for each in case.form.fields:
        value, scale, place = number_in(case.written(each)), _scale(each), _place(each, logged)
        if value is None or scale is None or place in told:
            continue
        base = scale.to_base(value)
        differs = (number_in(each.lower) or 0.0) < 0
        able = [(i, _reads(i, base, scale, differs)) for i in _beside(named, each)]
        if each.key[:3] in logged and all(can is None for _, can in able):
            able = [
                (i, _reads(i, base, scale, differs)) for _, i in named.get((each.sheet, ""), ())
            ]
        short = [i for i, can in able if can is False]
        if short and not any(can for _, can in able):
            allowed = case.allowed(each)
            if not allowed:
                told.add(place)
            sure = bool(each.measured_with or each.key[:3] in logged or _in_row(named, each))
            more = "it cannot have read that" if sure else "was it read with another?"
            more = "its slip is done with" if allowed else more
            beyond = ", ".join(f"{i.number} reads {_shown(i)}" for i in short)
            number, waits = case.slip(each) if sure and not allowed else ("", "")
            more += f"; {number} {waits}" * bool(number)
            says = f"{case.written(each)} {scale.text}, and {beyond}: {more}"
            yield said(each, "range", says, sure and not allowed, number)


def _logged(case: Case) -> Collection[tuple[str, str, str]]:
    """The rows of logs, whose values are read with the instruments below them; where none of these
    reads such a quantity, with those at the head of the sheet."""
    return {f.key[:3] for f in case.form.fields if f.kind == "clock" and f.unit == SINCE}


def _place(of: Field, logged: Collection[tuple[str, str, str]]) -> tuple[str, ...]:
    """Where a reading is told once: its row; of a log each value by itself."""
    return of.key if of.key[:3] in logged else of.key[:3]


def _reads(instrument: Instrument, base: float, scale: Unit, differs: bool) -> bool | None:
    """Whether an instrument reads that; None also where the one counts and the other does not: a
    count and a percentage are both without a dimension."""
    own = instrument.range
    counts = {scale.text == _COUNT, own is not None and own.typed.endswith(_COUNT)}
    return reads(instrument, base, scale, differs) if len(counts) == 1 else None


def _shown(instrument: Instrument) -> str:
    return instrument.range.typed if instrument.range is not None else ""


def _named(case: Case) -> Mapping[tuple[str, str], Named]:
    """The instruments that are written on each sheet at each operation, in the order of boxes."""
    found: dict[tuple[str, str], list[tuple[Field, Instrument]]] = {}
    for each, number in _numbers(case):
        if (held := case.held(number)) is not None:
            found.setdefault((each.sheet, each.operation), []).append((each, held))
    return found


def _beside(named: Mapping[tuple[str, str], Named], of: Field) -> Sequence[Instrument]:
    """The instruments with which a value was taken. Where no operation is named, a sheet has those
    of many values: only those of its own row count."""
    here = named.get((of.sheet, of.operation), ())
    known = {held.number: held for _, held in here}
    if (row := _in_row(named, of)) or not of.operation:
        return [known[number] for number in row]
    if not of.measured_with and of.unit == _COUNT:
        return []  # counted by eye
    return [held for held in known.values() if of.measured_with in ("", held.kind)]


def _in_row(named: Mapping[tuple[str, str], Named], of: Field) -> Sequence[str]:
    """The numbers of the instruments in the row of a value."""
    here = named.get((of.sheet, of.operation), ())
    return list(dict.fromkeys(held.number for each, held in here if each.row == of.row))


def _scale(of: Field) -> Unit | None:
    """The unit of a value that an instrument read, or to which a wrench was set; older forms have
    that as words."""
    name, _, scale = of.boxes[0].partition(", ")
    text = scale if name == SET else of.unit if of.kind == "number" else ""
    if is_beside(of.boxes[0]):
        return None
    try:
        return unit(text) if text else None
    except Refusal:
        return None


def steps(case: Case) -> Iterator[Verdict]:
    """A figure that is finer than half of what every instrument reads to that is written for it: it
    was guessed, read with another or worked out, and somebody looks at that. A row of readings is
    told once, and what repeats it on the inspection sheet not again."""
    named, logged = _named(case), _logged(case)
    told: set[tuple[str, ...]] = set()
    for each in case.form.fields:
        value, scale, place = number_in(case.written(each)), _scale(each), _place(each, logged)
        if value is None or scale is None or place in told:
            continue
        known = ((i, _step(i, scale)) for i in _beside(named, each))
        own = [(i, step) for i, step in known if step]
        fine = bool(own) and all(_is_between(value, step) for _, step in own)
        if fine and not case.copied_from(each):
            told.add(place)
            finest = ", ".join(f"{i.number} reads to {step:g} {scale.text}" for i, step in own)
            says = f"{case.written(each)} {scale.text}, and {finest}"
            more = "was it read with another, or worked out?"
            yield said(each, "step", f"{says}: {more}", blocks=False)


def _step(instrument: Instrument, scale: Unit) -> float:
    """What an instrument reads to in the unit of a value; 0 where it reads in another, or nobody
    knows."""
    step = instrument.reads_to
    if step is None or step.unit.dimension != scale.dimension:
        return 0.0
    return step.value / scale.factor if isclose(step.unit.factor, scale.factor) else 0.0


def _is_between(value: float, step: float) -> bool:
    """Whether a value is no multiple of half a step: so much can be told between two marks."""
    halves = 2 * value / step
    return abs(halves - round(halves)) > _NEAR * max(1.0, abs(halves))


def full_scale(case: Case) -> Iterator[Verdict]:
    """A gauge whose full scale is below what was read on it, or was to be read by the limits."""
    for each in case.form.fields:
        name, _, text = each.boxes[0].partition(", ")
        top = number_in(case.written(each))
        if name != FULL_SCALE or top is None or _outside_already(each, top):
            continue
        gauges = {number for f, number in _numbers(case) if f.key[:3] == each.key[:3]}
        most = max(_pressures(case, gauges, text), key=lambda told: told[0], default=None)
        if most is not None and top < most[0] and not case.allowed(each):
            says = f"{case.written(each)} {text}, and operation {most[1].operation} has "
            yield said(each, "range", f"{says}{most[0]:g} {text} on that gauge")


def _outside_already(of: Field, top: float) -> bool:
    """Whether the limit of the field itself tells it."""
    least = number_in(of.lower)
    return least is not None and top < least


def _numbers(case: Case) -> Iterator[tuple[Field, str]]:
    """The boxes for the number of an instrument, and each number that is written there."""
    for each in case.form.fields:
        if (each.name or each.row).endswith(_NUMBER):
            yield from ((each, number) for number in things_in(case.written(each)))


def _pressures(case: Case, gauges: Collection[str], scale: str) -> Iterator[tuple[float, Field]]:
    """Limits and values in that unit of the operations for which one of the gauges is written."""
    places = {f.key[:2] for f, number in _numbers(case) if f.operation and number in gauges}
    for each in case.form.fields:
        if each.key[:2] in places and each.unit == scale:
            for text in (each.lower, each.upper, case.written(each)):
                if (number := number_in(text)) is not None:
                    yield number, each
