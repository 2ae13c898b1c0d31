"""The readings of one process in; faults of their limits, units and instruments out."""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.findings import Fault, near_word
from generator.process import Process, Reading, Workshop
from generator.quantities.amount import Amount
from generator.quantities.rounding import plain

_UNTIL = re.compile(r"\b(life|expir\w*|use by|due|until)\b", re.IGNORECASE)


def limits_are_in_order(process: Process, _: Workshop) -> Iterator[Fault]:
    for here, reading in _readings(process):
        nominal, lower, upper = reading.nominal, reading.lower, reading.upper
        fixed = [each for each in (nominal, lower, upper) if isinstance(each, Amount)]
        kinds = {(a.unit.dimension, a.unit.point) for a in fixed}
        if len(kinds) > 1:
            wrong = f"the limits of '{reading.name}' are different kinds of quantity"
            yield Fault(here, "unit", wrong, "one unit for nominal, lower and upper")
            continue
        if isinstance(lower, Amount) and isinstance(upper, Amount) and lower.value > upper.value:
            wrong = (
                f"'{reading.name}': lower {_shown(lower)} is above upper {_shown(upper)}; swapped?"
            )
            yield Fault((*here, "lower"), "limits", wrong, "lower below upper")
        elif isinstance(nominal, Amount):
            yield from _nominal_inside(here, reading, nominal)


def _shown(amount: Amount) -> str:
    return f"{plain(amount.number(), 9)} {amount.unit.text}".strip()


def _nominal_inside(
    here: tuple[str | int, ...], reading: Reading, nominal: Amount
) -> Iterator[Fault]:
    lower, upper = reading.lower, reading.upper
    slack = 1e-9 * max(1e-6, abs(nominal.value))
    low = isinstance(lower, Amount) and nominal.value < lower.value - slack
    high = isinstance(upper, Amount) and nominal.value > upper.value + slack
    if low or high:
        wrong = f"'{reading.name}': nominal {_shown(nominal)} lies outside its own limits"
        yield Fault((*here, "nominal"), "limits", wrong, "a nominal between lower and upper")


def readings_have_names_of_their_own(process: Process, _: Workshop) -> Iterator[Fault]:
    """Two readings of one name in one operation cannot be told apart on paper or in the record."""
    for i, operation in enumerate(process.operations):
        names = [reading.name for reading in operation.readings]
        for j, name in enumerate(names):
            if name in names[:j]:
                wrong = f"operation {operation.number} has two readings called '{name}'"
                steps = ("operations", i, "readings", j, "name")
                yield Fault(steps, "repeated", wrong, "a name of its own, or times: 2")


def readings_are_called_in_words(process: Process, _: Workshop) -> Iterator[Fault]:
    """The name of a reading is printed and compared with what is ticked; a key is neither."""
    for here, reading in _readings(process):
        if "_" in reading.name:
            wrong = f"'{reading.name}' is printed as it stands, and this is no word"
            right = f"name: {reading.name.replace('_', ' ').strip()}"
            yield Fault((*here, "name"), "name", wrong, right)


def readings_have_a_form(process: Process, _: Workshop) -> Iterator[Fault]:
    for here, reading in _readings(process):
        limits = [x for x in (reading.nominal, reading.lower, reading.upper) if x is not None]
        bare = reading.nominal is not None and reading.lower is None and reading.upper is None
        if reading.not_before and reading.entry != "date":
            wrong = f"'{reading.name}' is {reading.entry}: "
            wrong += "no day to compare with the day of use"
            yield Fault((*here, "not before"), "limits", wrong, "entry: date")
        elif reading.entry == "number" and bare:
            wrong = f"'{reading.name}' has a wanted value and no limit"
            yield Fault((*here, "name"), "limits", wrong, "± after it, or lower and upper")
        elif reading.entry == "number":
            if not limits and not reading.unit:
                wrong = f"'{reading.name}' has neither limits nor a unit"
                right = "wanted: 1.2 ± 0.1 mm; or lower and upper; or unit: mm; "
                right += "or entry: words, tick, clock, date, count"
                yield Fault((*here, "name"), "limits", wrong, right)
            elif any(isinstance(x, Amount) and x.unit.text == "" for x in limits) and not any(
                isinstance(x, str) for x in limits
            ):
                wrong = f"the limits of '{reading.name}' have no unit"
                yield Fault(
                    (*here, "name"), "unit", wrong, "an amount with its unit, or entry: count"
                )
        elif reading.entry != "count" and limits:
            wrong = f"'{reading.name}' is {reading.entry}, which has no limits"
            right = "entry: number or count"
            right = "not before: day of use" if reading.entry == "date" else right
            yield Fault((*here, "entry"), "limits", wrong, right)
        yield from _step_fits(here, reading)


def _step_fits(here: tuple[str | int, ...], reading: Reading) -> Iterator[Fault]:
    limits = [x for x in (reading.lower, reading.upper, reading.nominal) if isinstance(x, Amount)]
    if reading.to is None or not limits:
        return
    if reading.to.unit.dimension != limits[0].unit.dimension:
        wrong = f"'{reading.name}' is read to {reading.to.typed}, another kind of quantity"
        yield Fault((*here, "to"), "unit", wrong, f"a step in {limits[0].unit.text}")
    elif not any(isinstance(x, str) for x in (reading.lower, reading.upper)):
        yield from coarse_step(here, reading, _fixed(reading.lower), _fixed(reading.upper))


def _fixed(limit: Amount | str | None) -> Amount | None:
    return limit if isinstance(limit, Amount) else None


def coarse_step(
    here: tuple[str | int, ...], reading: Reading, lower: Amount | None, upper: Amount | None
) -> Iterator[Fault]:
    """A step that cannot show the limits: over half of what lies between them, so that no three
    values can be written; over a limit that stands alone. Both limits as amounts.

    A tenth of the band is what is usually asked (the rule of tens of measurement systems analysis,
    read in secondary summaries only); benches often have a quarter, so only what fails is told.
    """
    step, known = reading.to, [each for each in (lower, upper) if each is not None]
    if step is None or not known or step.unit.dimension != known[0].unit.dimension:
        return
    scale = known[0].unit
    if len(known) == 2:
        band = known[1].value - known[0].value
        most, told = band / 2, f"its limits are {_spread(band, known[0])} apart"
    else:
        most = 0.0 if scale.point else abs(known[0].value)
        told = f"its limit is {_shown(known[0])}"
    if 0 < most * (1 + 1e-9) < step.value:
        wrong = f"'{reading.name}' is written to {step.typed}; {told}"
        right = f"a step of {_spread(most, known[0])} or finer; a tenth of the limits is usual"
        yield Fault((*here, "to"), "limits", wrong, right)


def bound_advice(process: Process) -> Iterator[Fault]:
    """Advice on dates that by their names say until when something holds, and have no bound: one
    that is past is then only written down."""
    for here, reading in _readings(process):
        if reading.entry == "date" and not reading.not_before and _UNTIL.search(reading.name):
            wrong = f"'{reading.name}' may be past, and nobody is told"
            yield Fault((*here, "entry"), "until", wrong, "not before: day of use", advice=True)


def instruments_are_named(process: Process, workshop: Workshop) -> Iterator[Fault]:
    kinds = {each.kind: each for each in process.instruments}
    owned = {each.kind for each in workshop.instruments}
    for i, each in enumerate(process.instruments):
        if each.kind not in owned:
            near = near_word(each.kind, owned)
            right = (
                f"{near}? " if near else ""
            ) + "An instrument of that kind in workshop/instruments.yaml"
            wrong = f"the workshop has no {each.kind}"
            yield Fault(("instruments", i, "kind"), "instrument", wrong, right)
    yield from _finer_than_owned(process, workshop)
    for here, reading in _readings(process):
        if not reading.instrument:
            continue
        if reading.instrument not in kinds:
            near = near_word(reading.instrument, kinds)
            if reading.instrument in owned and near and near not in owned:
                continue  # the kind is misspelt where it is listed, and told there
            right = (f"{near}? " if near else "") + "A kind listed under instruments"
            wrong = f"'{reading.instrument}' is not among the instruments of this process"
            yield Fault((*here, "with"), "instrument", wrong, right)
            continue
        yield from _fine_enough(here, reading, kinds[reading.instrument].reads_to)


def _finer_than_owned(process: Process, workshop: Workshop) -> Iterator[Fault]:
    """A process may not claim a finer instrument than the workshop has."""
    for i, needed in enumerate(process.instruments):
        have = [
            o.reads_to
            for o in workshop.instruments
            if o.kind == needed.kind and o.reads_to is not None
        ]
        if needed.reads_to is None or not have:
            continue
        finest = min(have, key=lambda step: step.value)
        if needed.reads_to.value * (1 + 1e-9) < finest.value:
            wrong = f"the finest {needed.kind} of the workshop reads to {finest.typed}"
            yield Fault(
                ("instruments", i, "reads to"), "instrument", wrong, f"reads to: {finest.typed}"
            )


def _fine_enough(
    here: tuple[str | int, ...], reading: Reading, reads_to: Amount | None
) -> Iterator[Fault]:
    """A reading finer than its instrument, or limits finer than it can tell apart."""
    if reads_to is None:
        return
    slack = 1 + 1e-9
    reads = f"the {reading.instrument} reads to {reads_to.typed}"
    same = reading.to is not None and reading.to.unit.dimension == reads_to.unit.dimension
    if same and reading.to is not None and reading.to.value * slack < reads_to.value:
        wrong = f"'{reading.name}' is written to {reading.to.typed}; {reads}"
        yield Fault((*here, "to"), "instrument", wrong, f"to: {reads_to.typed}")
        return
    lower, upper = reading.lower, reading.upper
    if (
        isinstance(lower, Amount)
        and isinstance(upper, Amount)
        and lower.unit.dimension == reads_to.unit.dimension
    ):
        span = upper.value - lower.value
        if 0 < span * slack < 4 * reads_to.value:
            wrong = f"the limits of '{reading.name}' are {_spread(span, lower)} apart; {reads}, "
            wrong += "more than a quarter of that"
            yield Fault((*here, "with"), "instrument", wrong, "a finer instrument, or wider limits")


def _spread(span: float, like: Amount) -> str:
    return f"{plain(span / like.unit.factor, 6)} {like.unit.text.removesuffix(' g')}".strip()


def _readings(process: Process) -> Iterator[tuple[tuple[str | int, ...], Reading]]:
    for i, operation in enumerate(process.operations):
        for j, reading in enumerate(operation.readings):
            yield ("operations", i, "readings", j), reading
