"""One process, the stamps of the workshop and a day, in; the classes that must sign its sheets and
that nobody holds, out: a box that nobody can stamp shows up when the paper is in use already."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from generator.findings import Fault
from generator.process import Operation, Process, Workshop
from generator.read import Steps

# Whom every pack asks: who does the work, who looks at it, who is answerable for it.
_ALWAYS = ("lead", "inspector", "volunteer")


def classes_have_somebody(process: Process, workshop: Workshop) -> Iterator[Fault]:
    """Nothing is sound that asks for a stamp which nobody holds since its revision was written."""
    yield from unsigned(process, workshop, process.revision.day)


def unsigned(process: Process, workshop: Workshop, day: date) -> Iterator[Fault]:
    """The classes that nobody holds on a day or later, for the trade of the process; where several
    places ask for one, the first of them."""
    held = {
        stamp.role
        for stamp in workshop.stamps
        if (stamp.until is None or stamp.until >= day) and stamp.holds_for(process.trade)
    }
    told: set[str] = set()
    for steps, asked, who in _asked(process):
        if asked in told or held & {*asked.split(" or ")}:
            continue
        told.add(asked)
        wrong = f"nobody holds a stamp of class '{asked}', which {who} asks for"
        right = f"one in stamps.yaml that holds on {day.isoformat()} or later"
        if any(stamp.trades for stamp in workshop.stamps):
            right += f", for {process.trade}"
        yield Fault(steps, "stamp", wrong, right, of_key=len(steps) == 1)


def _asked(process: Process) -> Iterator[tuple[Steps, str, str]]:
    """Where a class is asked for, which, and for what. Who inspects independently is asked by a
    rule of its own."""
    for i, operation in enumerate(process.operations):
        if not operation.deleted_at:
            number = f"operation {operation.number}"
            yield from ((("operations", i, key), a, number) for key, a in _of_operation(operation))
    if process.kit:
        yield ("kit",), "stores", "the kit list"
    for asked in _ALWAYS:
        yield ("process",), asked, "every process"


def _of_operation(operation: Operation) -> Iterator[tuple[str, str]]:
    """The keys at which an operation asks for a class."""
    for key, asked in (
        ("released by", operation.released_by),
        ("attended by", operation.attended_by),
        ("by", operation.by),
    ):
        if asked:
            yield key, asked
    if operation.kind == "subcontract":
        yield "kind", "subcontractor"
        yield "kind", "stores"  # who checks what comes back
    if operation.heat_treatment is not None:
        yield "heat treatment", "subcontractor"
