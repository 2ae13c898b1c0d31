"""A process and its texts in; the rows of the lists that go with a traveller, out."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from generator.check.instrument_rules import OutOfReach, out_of_reach
from generator.composing.escape import Markdown
from generator.composing.instruments import unfit
from generator.composing.kinds import stops
from generator.composing.workings import given_rows
from generator.composing.writer import Writer
from generator.computing.working import Workings
from generator.process import Instrument, InstrumentKind, Operation, Process, Workshop
from generator.quantities.amount import Amount

MEASURED = "measured from"
StopRow = tuple[str, str, str, str, Markdown, list[Markdown]]


def stop_rows(process: Process, writer: Writer) -> list[StopRow]:
    """Where the work stops: operation, kind, by whom, notice needed, what is done there, and
    the points that are looked at."""
    return [
        (
            str(each.number),
            each.kind.upper(),
            _who(each),
            each.notice.typed if each.notice is not None else "",
            writer.text(("operations", i, "do"), each.do),
            writer.each(("operations", i), "points", each.points),
        )
        for i, each in enumerate(process.operations)
        if stops(each)
    ]


def _who(operation: Operation) -> str:
    both = f"{operation.first_by}, then {operation.second_by}"
    return operation.released_by or operation.attended_by or both


def instrument_rows(
    process: Process,
    workshop: Workshop | None = None,
    on: date | None = None,
    amounts: Mapping[str, Amount] = {},
) -> list[Mapping[str, str]]:
    """The instruments of a job by kind: what each must do, and which of the workshop's are of that
    kind; the limits that none of them reaches. on: the day on which they are judged; None judges
    none. amounts: the numbers of the process by name."""
    held = workshop.instruments if workshop is not None else ()
    beyond = tuple(out_of_reach(process, held, amounts))
    return [
        {
            "kind": each.kind,
            "needs": _needs(each),
            "found": "; ".join(
                [
                    *(_state_of(i, each, on) for i in held if i.kind == each.kind),
                    *(_unreached(b) for b in beyond if b.kind == each.kind),
                ]
            ),
        }
        for each in process.instruments
    ]


def _unreached(beyond: OutOfReach) -> str:
    return f"NONE REACHES {beyond.limit} of operation {beyond.operation}"


def _needs(kind: InstrumentKind) -> str:
    reads = f"reads to {kind.reads_to.typed}" if kind.reads_to is not None else ""
    sure = f"U {kind.uncertainty.typed} at most" if kind.uncertainty is not None else ""
    return "; ".join(filter(None, (reads, sure, kind.needs)))


def _state_of(instrument: Instrument, kind: InstrumentKind, on: date | None) -> str:
    """An instrument and the day its check is due; why it does not do, where it does not."""
    due = f"{instrument.number} due {instrument.check_due.isoformat()}"
    why = unfit(instrument, kind, on)
    return f"{due}: {why}" if why else due


def evidence(
    process: Process, workings: Workings
) -> list[tuple[str, bool, list[Mapping[str, str]]]]:
    """The numbers that the job starts from: those that are measured and may be seen, the others.
    Each list has its title and says whether it is measured."""
    lines = [
        {**row, "range": _range(process, line.number.name)}
        for row, line in zip(given_rows(process, workings.givens), workings.givens, strict=True)
    ]
    seen = [_measured(process, line.number.name) for line in workings.givens]
    return [
        ("Measured", True, [row for row, is_so in zip(lines, seen, strict=True) if is_so]),
        ("Not measured", False, [row for row, is_so in zip(lines, seen, strict=True) if not is_so]),
    ]


def _measured(process: Process, name: str) -> bool:
    given = process.given[name]
    return given.with_part or given.source.startswith(MEASURED)


def _range(process: Process, name: str) -> str:
    given = process.given[name]
    return given.range.typed if given.range is not None else ""


def made_ready(process: Process) -> list[str]:
    """What is ticked before the work starts. The lists themselves are sheets of their own, so that
    each batch, number and count has one place to be written."""
    wanted = (
        (process.kit, "kit list: every line drawn from stores, batches and dates written there"),
        (process.tools, "tool list: every tool and fixture at hand and looked over"),
        (process.instruments, "tool list: every instrument at hand, in date, its number there"),
    )
    return [text for needed, text in wanted if needed]
