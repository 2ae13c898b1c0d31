"""The instruments of the workshop on a day in; which of a kind are fit for a process, and the
uncertainty U that a measurement with that kind then has, out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from generator.process import Instrument, InstrumentKind, Process
from generator.quantities.amount import Amount

UNKNOWN = "no uncertainty known: the lead decides"


@dataclass(frozen=True)
class Uncertainty:
    """U of a kind of instrument, None where nobody states it, and in words where it comes from."""

    amount: Amount | None
    source: str


def unfit(instrument: Instrument, kind: InstrumentKind, on: date | None) -> str:
    """Why an instrument does not do for a process on that day; "" where it does. on: None is no
    day, and no check is then out of date."""
    if on is not None and instrument.check_due < on:
        return "OUT OF DATE"
    if _above(instrument.reads_to, kind.reads_to):
        assert instrument.reads_to is not None
        return f"TOO COARSE, reads to {instrument.reads_to.typed}"
    if _above(instrument.uncertainty, kind.uncertainty):
        assert instrument.uncertainty is not None
        return f"TOO UNCERTAIN, U {instrument.uncertainty.typed}"
    return ""


def _above(own: Amount | None, allowed: Amount | None) -> bool:
    if own is None or allowed is None or own.unit.dimension != allowed.unit.dimension:
        return False
    return own.value > allowed.value * (1 + 1e-9)


def uncertainty_of(
    name: str, process: Process, held: Sequence[Instrument], on: date | None
) -> Uncertainty:
    """The largest U of the fit instruments of a kind, because any of them may be taken; else what
    the process allows at most; never a guess."""
    kind = next((each for each in process.instruments if each.kind == name), None)
    if kind is None:
        return Uncertainty(None, UNKNOWN)
    fit = [i for i in held if i.kind == name and not unfit(i, kind, on)]
    stated = [(i.uncertainty, i.number) for i in fit if i.uncertainty is not None]
    if not stated:
        return _allowed(kind)
    silent = [i.number for i in fit if i.uncertainty is None]
    largest = max((amount for amount, _ in stated), key=lambda amount: amount.value)
    words = f"U {largest.typed}, the largest of " if len(stated) > 1 else f"U {largest.typed} of "
    words += ", ".join(number for _, number in stated)
    if silent:
        words += f"; not with {', '.join(silent)}: no uncertainty known"
    return Uncertainty(largest, words)


def _allowed(kind: InstrumentKind) -> Uncertainty:
    if kind.uncertainty is None:
        return Uncertainty(None, UNKNOWN)
    words = f"U {kind.uncertainty.typed}, the most that the process allows: see the certificate"
    return Uncertainty(kind.uncertainty, words)
