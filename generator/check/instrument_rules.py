"""What instruments are said to be good for, in; faults of their uncertainty, and limits that none
of them reaches, out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.check.readers import step, uncertainty
from generator.findings import Fault
from generator.process import AmountOrName, Instrument, Process, Reading, Workshop
from generator.quantities.amount import Amount
from generator.quantities.rounding import plain
from generator.quantities.units import Unit, named
from generator.read import Steps


def uncertainty_faults(tree: Mapping[str, Any]) -> Iterator[Fault]:
    """The uncertainty of an instrument of the workshop is of the kind that it reads."""
    for i, each in enumerate(tree["instruments"]):
        if "uncertainty" in each and "reads to" in each:
            reads_to, own = step(each["reads to"]), uncertainty(each["uncertainty"])
            yield from _of_one_kind(("instruments", i), each["number"], reads_to, own)


def uncertainties_can_be_held(process: Process, workshop: Workshop) -> Iterator[Fault]:
    """A process asks for no smaller uncertainty than any instrument of the workshop has."""
    for i, kind in enumerate(process.instruments):
        here = ("instruments", i)
        allowed = kind.uncertainty
        if allowed is None:
            continue
        if kind.reads_to is not None:
            yield from _of_one_kind(here, kind.kind, kind.reads_to, allowed)
        have = [
            each.uncertainty
            for each in workshop.instruments
            if each.kind == kind.kind
            and each.uncertainty is not None
            and each.uncertainty.unit.dimension == allowed.unit.dimension
        ]
        least = min(have, key=lambda own: own.value, default=None)
        if least is not None and allowed.value * (1 + 1e-9) < least.value:
            wrong = f"the best {kind.kind} of the workshop has an uncertainty of {least.typed}"
            right = f"uncertainty: {least.typed}"
            yield Fault((*here, "uncertainty"), "instrument", wrong, right)


def _of_one_kind(
    here: tuple[str | int, ...], what: str, reads_to: Amount, own: Amount
) -> Iterator[Fault]:
    if own.unit.dimension != reads_to.unit.dimension:
        wrong = f"the uncertainty of {what} is {named(own.unit.dimension)}; it reads to "
        wrong += reads_to.typed
        yield Fault((*here, "uncertainty"), "unit", wrong, f"in the unit of {reads_to.typed}")


def reads(instrument: Instrument, value: float, scale: Unit, differs: bool = False) -> bool | None:
    """Whether a value in base units lies within the range of an instrument; None where it has no
    range, or one of another kind of quantity. scale: the unit of the value. differs: it is what two
    readings differ by, as one below zero is on an instrument that begins at zero or above it."""
    own = instrument.range
    if own is None or own.low is None or own.high is None:
        return None
    if (own.unit.dimension, own.unit.point) != (scale.dimension, scale.point):
        return None
    slack = 1e-9 * max(abs(own.low), abs(own.high))
    if not scale.point and own.low >= 0 and (differs or value < 0):
        return abs(value) <= own.high - own.low + slack
    return own.low - slack <= value <= own.high + slack


@dataclass(frozen=True)
class OutOfReach:
    """A limit of a reading that no instrument of its kind in the workshop reaches."""

    steps: Steps
    operation: int
    kind: str
    reading: str
    limit: str


def out_of_reach(
    process: Process, held: Sequence[Instrument], amounts: Mapping[str, Amount]
) -> Iterator[OutOfReach]:
    """The limits that nobody in the workshop can read, one for each reading. Where an instrument of
    the kind has no range, nobody knows. amounts: the numbers of the process by name.

    A limit of nothing is no reading: a gap of 0 mm is seen, not measured.
    """
    for i, operation in enumerate(process.operations):
        for j, reading in enumerate(operation.readings):
            kind = [each for each in held if each.kind == reading.instrument]
            limits = tuple(_limits(reading, amounts))
            differs = any(limit.value < 0 for limit in limits)
            for limit in limits:
                able = [reads(each, limit.value, limit.unit, differs) for each in kind]
                if able and not any(each is not False for each in able):
                    here = ("operations", i, "readings", j, "with")
                    shown = f"{plain(limit.number(), 6)} {limit.unit.text}"
                    yield OutOfReach(
                        here, operation.number, reading.instrument, reading.name, shown
                    )
                    break


def _limits(reading: Reading, amounts: Mapping[str, Amount]) -> Iterator[Amount]:
    """The limits of a reading, the upper one first, but for one of nothing."""
    for limit in (reading.upper, reading.lower):
        amount = _amount(limit, amounts)
        if amount is not None and (amount.number() != 0 or amount.unit.point):
            yield amount


def _amount(limit: AmountOrName | None, amounts: Mapping[str, Amount]) -> Amount | None:
    return amounts.get(limit) if isinstance(limit, str) else limit


def guard_advice(process: Process, workshop: Workshop) -> Iterator[Fault]:
    """Advice on a lower limit of nothing where limits are guarded: it moves in like any other, and
    the best part there is would lie between."""
    for i, operation in enumerate(process.operations if workshop.guarded else ()):
        for j, reading in enumerate(operation.readings):
            if reading.instrument and reading.upper is not None and _is_nothing(reading.lower):
                wrong = f"'{reading.name}' of nothing is not accepted: "
                wrong += "its lower limit is guarded like any other"
                here = ("operations", i, "readings", j, "lower")
                right = "the upper limit alone, where nothing less can be"
                yield Fault(here, "guard", wrong, right, advice=True)


def _is_nothing(limit: AmountOrName | None) -> bool:
    return isinstance(limit, Amount) and not limit.unit.point and limit.number() == 0


def reach_advice(
    process: Process, workshop: Workshop, amounts: Mapping[str, Amount]
) -> Iterator[Fault]:
    """Advice on readings for which the workshop has nothing that reaches."""
    for each in out_of_reach(process, workshop.instruments, amounts):
        wrong = f"no {each.kind} of the workshop reaches {each.limit} of '{each.reading}'"
        right = "one that does, in workshop/instruments.yaml; or another kind"
        yield Fault(each.steps, "range", wrong, right, advice=True)
