"""What instruments are said to be good for, in; faults of their uncertainty out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from generator.check.readers import step, uncertainty
from generator.findings import Fault
from generator.process import Process, Workshop
from generator.quantities.amount import Amount
from generator.quantities.units import named


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
