"""A process and its texts in; the rows of the lists that go with a traveller, out."""

from __future__ import annotations

from generator.composing.kinds import stops
from generator.composing.writer import Writer
from generator.escape import Markdown
from generator.process import Operation, Process

StopRow = tuple[str, str, str, str, Markdown, Markdown]


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
            Markdown("; ".join(writer.each(("operations", i), "points", each.points))),
        )
        for i, each in enumerate(process.operations)
        if stops(each)
    ]


def _who(operation: Operation) -> str:
    both = f"{operation.first_by}, then {operation.second_by}"
    return operation.released_by or operation.attended_by or both
