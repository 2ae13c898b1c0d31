"""A feature of the inspection sheet and the uncertainty of its instrument in; between which limits
its value is accepted, as cells and as a strip where a strip answers the limits, out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.composing.guarded import ADVICE, Guard, guard
from generator.composing.instruments import UNKNOWN, Uncertainty
from generator.composing.readings import Row, unlinked
from generator.composing.writer import Writer
from generator.findings import Refusal, fault
from generator.process import Reading
from generator.quantities.units import Unit, unit
from generator.read import Steps

_TICKED = "ticked"
BY_THE_LEAD = "the limits are ticked: the lead takes U off at each end"


@dataclass(frozen=True)
class Accept:
    """The cells of a feature: both accept limits, "" where there is none, and what U is.

    lines: where a strip answers the limits, the accept limits for each of its columns. plain:
    nothing is measured that could be uncertain, such as a count.
    """

    lower: str
    upper: str
    says: str
    lines: tuple[tuple[str, Sequence[str]], ...] = ()
    plain: bool = False


def accepted(
    writer: Writer,
    operations: Sequence[Mapping[str, Any]],
    here: Steps,
    row: Row,
    known: Uncertainty,
) -> Accept:
    """The accept limits of one feature; a fault where U leaves nothing between its limits."""
    reading = writer.process.operations[int(here[1])].readings[int(here[3])]
    if row[3] == "count":
        return Accept("", "", "", plain=True)
    if known.amount is None:
        return Accept("", "", UNKNOWN)
    lower, upper = _bare(row[1]), _bare(row[2])
    try:
        if _TICKED in (lower, upper):
            return _ticked(operations, reading, (lower, upper), unit(row[3]), known)
        made = guard(reading, lower, upper, unit(row[3]), known)
    except Refusal as refusal:
        writer.faults.append(fault((*here, "with"), refusal))
        return Accept("", "", "")
    return Accept(made.lower, made.upper, f"{known.source}.{ADVICE[made.share]}")


def _bare(cell: str) -> str:
    """The limit of a cell without its link; "" where there is none."""
    text = unlinked(cell)
    return "" if text in ("-", "record") else text


def _ticked(
    operations: Sequence[Mapping[str, Any]],
    reading: Reading,
    limits: tuple[str, str],
    scale: Unit,
    known: Uncertainty,
) -> Accept:
    """The accept limits for every column of the strip that answers the limits, so that nobody
    takes U off at the bench. Where a grid or two strips answer them, the lead does."""
    own, found = (reading.lower, reading.upper), _answered_by(operations, reading, limits)
    if found is None:
        lower, upper = (_TICKED if text == _TICKED else "" for text in limits)
        return Accept(lower, upper, f"{known.source}; {BY_THE_LEAD}.")
    strip = found["strip"]
    sides = [
        strip["answers"][name] if text == _TICKED else [text] * len(strip["heads"])
        for name, text in zip(own, limits, strict=True)
    ]
    guards = [guard(reading, low, high, scale, known) for low, high in zip(*sides, strict=True)]
    share = min((each.share for each in guards if each.share), default=0)
    lines = [
        (f"accept {word} {scale.text}", [getattr(g, side) for g in guards])
        for word, side, text in zip(("from", "to"), ("lower", "upper"), limits, strict=True)
        if text == _TICKED
    ]
    says = f"{known.source}.{ADVICE[share]}"
    return Accept(*_cells(limits, guards), says, tuple(lines))


def limits_as_ticked(
    operations: Sequence[Mapping[str, Any]], reading: Reading, row: Row, accept: Accept | None
) -> Mapping[str, Any] | None:
    """The limits of a reading for every column of the strip that answers them, and what is accepted
    there: its operation, corner, heads and lines. None where no strip does, or more than one."""
    limits = (_bare(row[1]), _bare(row[2]))
    found = _answered_by(operations, reading, limits) if _TICKED in limits else None
    if found is None:
        return None
    strip, own = found["strip"], (reading.lower, reading.upper)
    lines = [
        (f"{word} {row[3]}", strip["answers"][name])
        for word, name, text in zip(("lower", "upper"), own, limits, strict=True)
        if text == _TICKED
    ]
    return {
        "operation": found["number"], "corner": strip["corner"], "heads": strip["heads"],
        "lines": [*lines, *(accept.lines if accept else ())],
    }  # fmt: skip


def _answered_by(
    operations: Sequence[Mapping[str, Any]], reading: Reading, limits: tuple[str, str]
) -> Mapping[str, Any] | None:
    """The operation whose strip answers all limits of a reading that are ticked."""
    own = (reading.lower, reading.upper)
    names = [str(name) for name, text in zip(own, limits, strict=True) if text == _TICKED]
    return next((each for each in operations if _answers(each, names)), None)


def _cells(limits: tuple[str, str], guards: Sequence[Guard]) -> tuple[str, str]:
    lower, upper = limits
    return (
        _TICKED if lower == _TICKED else guards[0].lower,
        _TICKED if upper == _TICKED else guards[0].upper,
    )


def _answers(composed: Mapping[str, Any], names: Sequence[str]) -> bool:
    """Whether the strip of an operation answers all these numbers."""
    strip = composed.get("strip")
    return strip is not None and all(name in strip["answers"] for name in names)
