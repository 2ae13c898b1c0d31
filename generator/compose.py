"""A process with its workings in; its sheets as Markdown out, each through its template.

Step text only names numbers: {{ name }} is replaced by the number as it stands on every sheet,
with its mark. Nothing is computed here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from typing import Any

from generator import __version__
from generator.composing import answers, balloons, charts, figures, strips
from generator.composing.engine import rendered
from generator.composing.escape import Markdown, escape
from generator.composing.full_size import battens, formers_on_block, full_size
from generator.composing.kinds import (
    CALCULATION_SHEET,
    CLOSING_SHEET,
    FULL_SIZE_PAGES,
    KINDS,
    OF_ONE_PRINT,
    TRAVELLER,
    kinds_of,
    ticked_elsewhere,
    ticked_on,
)
from generator.composing.lists import evidence, instrument_rows, made_ready, stop_rows
from generator.composing.ordinates import ordinates
from generator.composing.readings import reading_rows, thread_step
from generator.composing.recorded import (
    HEAT,
    RIGGING,
    TEST,
    full_scales,
    log_table,
    recorded,
    treatment,
    written_elsewhere,
    written_on,
)
from generator.composing.records import features, passes
from generator.composing.times import clock_rows, doubts, inside, windows, with_days
from generator.composing.workings import calculations, given_rows, names_in, result_rows
from generator.composing.writer import Writer
from generator.computing.board import ShopFacts
from generator.computing.working import Workings
from generator.findings import Fault
from generator.process import LARGE_PAPERS, Operation, Process, Workshop
from generator.quantities.amount import Amount
from generator.read import Steps
from generator.tables import table

__all__ = ["CALCULATION_SHEET", "KINDS", "TRAVELLER", "SheetFacts", "Sheets", "compose", "kinds_of"]

_DASH = Markdown("-")
_LINK = re.compile(r"(?<!\\)\]\(#([cg]\d+)\)")


@dataclass(frozen=True)
class SheetFacts:
    """What is known of one print: serial "" on a draft; day is the day of printing; replaces: the
    serial whose paper was lost; copy: the number of a copy, 0 for the print that is worked to."""

    serial: str
    part_serials: tuple[str, ...]
    day: str
    replaces: str = ""
    copy: int = 0

    @property
    def on(self) -> date | None:
        """The day of printing; None on a draft that is not dated."""
        try:
            return date.fromisoformat(self.day)
        except ValueError:
            return None


@dataclass(frozen=True)
class Sheets:
    """The composed sheets of one process: their Markdown by kind, in the order of `kinds_of`, and
    the one full fingerprint of what decides them all."""

    fingerprint: str
    sheets: Mapping[str, str]


def compose(
    process: Process, workings: Workings, workshop: Workshop, facts: SheetFacts
) -> tuple[Sheets | None, list[Fault]]:
    """All sheets of a process; none where a text names what does not exist."""
    writer = Writer(process, workings, ShopFacts(workshop.also, workshop.rows))
    warnings = writer.each((), "warning", process.warnings)
    operations = _operations(writer, process)
    windows(writer)
    stops = stop_rows(process, writer)
    riveted = answers.riveted(writer, operations)
    drawings = full_size(writer)
    if writer.faults:
        return None, list(dict.fromkeys(writer.faults))
    inspected = features(writer, operations, workshop.guarded)
    printed = features(writer, operations, workshop.guarded, workshop.instruments, facts.on)
    measured = balloons.figures(writer, operations, inspected)
    if writer.faults:
        return None, list(dict.fromkeys(writer.faults))
    values = {
        **_of_process(process, workings, workshop),
        **_of_operations(writer, operations, inspected),
        "warnings": warnings,
        "stops": stops,
        "drawings": drawings,
        "formers": formers_on_block(drawings),
        "battens": battens(formers_on_block(drawings)),
        "riveted": riveted,
        "guarded": workshop.guarded,
        "figures": measured,
    }
    return _printed(process, workshop, facts, values, printed, workings.amounts), []


def _of_process(process: Process, workings: Workings, workshop: Workshop) -> dict[str, Any]:
    """What the templates need of the process, its numbers and its workshop."""
    asked = names_in((process.operations, process.maps))
    return {
        "p": process,
        "families": _families(process),
        "instruments": instrument_rows(process),
        "ready": made_ready(process),
        "calculations": calculations(process, workings, asked),
        "results": result_rows(workings, asked),
        "ordinates": ordinates(workings),
        "givens": given_rows(process, workings.givens),
        "tally": [*process.tools, *(each.kind for each in process.instruments)],
        "kinds": [k.replace("-", " ") for k in kinds_of(process) if k != CLOSING_SHEET],
        "evidence": evidence(process, workings),
        "full_scales": full_scales(workings),
        "day": date.isoformat,
        "dash": _DASH,
        "workshop": workshop,
        "version": __version__,
    }


def _of_operations(
    writer: Writer, operations: Sequence[Mapping[str, Any]], inspected: Sequence[Mapping[str, Any]]
) -> dict[str, Any]:
    """What the templates need of the operations as they were composed."""
    return {
        "operations": operations,
        "features": inspected,
        "passes": passes(writer, operations),
        "rigging": recorded(operations, RIGGING),
        "test": recorded(operations, TEST),
        "heat": recorded(operations, HEAT),
        "orders": [each for each in operations if each["kind"] == "subcontract"],
        "ticked": any("ticked" in f"{each['lower']}{each['upper']}" for each in inspected),
    }


def _printed(
    process: Process,
    workshop: Workshop,
    facts: SheetFacts,
    values: Mapping[str, Any],
    printed: Sequence[Mapping[str, Any]],
    amounts: Mapping[str, Amount],
) -> Sheets:
    """The sheets of one print: their fingerprint is of what belongs to the process alone."""
    bodies = {kind: _body(kind, {**values, "this": None}) for kind in kinds_of(process)}
    rows = _fixed_rows(bodies, process, workshop)
    fingerprint = _fingerprint(bodies, rows)
    own = {**values, "this": _this_print(facts, fingerprint), "features": printed}
    own["instruments"] = instrument_rows(process, workshop, facts.on, amounts)
    bodies |= {kind: _body(kind, own) for kind in OF_ONE_PRINT if kind in bodies}
    printed_on = _print_rows(facts, fingerprint)
    sheets = {
        kind: _framed(kind, body, [*rows[kind], *printed_on], fingerprint)
        for kind, body in bodies.items()
    }
    return Sheets(fingerprint, sheets)


def _body(kind: str, values: Mapping[str, Any]) -> str:
    """The body of a sheet. Sheets that hold no numbers of their own lead to the calculation
    sheet, by the same marks."""
    body = rendered(f"{kind}.md.j2", **values)
    if kind in (TRAVELLER, CALCULATION_SHEET):
        return body
    return _LINK.sub(rf"]({CALCULATION_SHEET}.pdf#\1)", body)


def _fingerprint(bodies: Mapping[str, str], rows: Mapping[str, list[str]]) -> str:
    """It is of all sheets, so that a change of a method shows on the traveller too."""
    whole = "\n".join("\n".join([*rows[kind], body]) for kind, body in bodies.items())
    return sha256(whole.encode()).hexdigest()


def _this_print(facts: SheetFacts, fingerprint: str) -> Mapping[str, Any]:
    """What belongs to one print of a process."""
    return {
        "serial": facts.serial or "DRAFT",
        "part_serials": facts.part_serials,
        "day": facts.day,
        "on": facts.on,
        "fingerprint": short(fingerprint),
    }


def _framed(kind: str, body: str, rows: list[str], fingerprint: str) -> str:
    """A body with its frame and its end."""
    first, *others = rows
    lines = ["::: frame", first, "| --- | --- |", *others, ":::", "", body.rstrip()]
    lines += ["", f"Full fingerprint: {fingerprint}"]
    return "\n".join([*lines, "", f"# End of {kind.replace('-', ' ')}", ""])


def short(fingerprint: str) -> str:
    """The fingerprint as sheets show it: twelve signs in threes of four."""
    word = fingerprint[:12].upper()
    return f"{word[:4]} {word[4:8]} {word[8:]}"


def _row(key: str, value: str) -> str:
    return f"| {key} | {escape(value)} |"


def _paper_of(kind: str, workshop: Workshop) -> str:
    """A3 and Tabloid are for large print; what is drawn at full size is never made larger."""
    large = workshop.paper in LARGE_PAPERS and kind != FULL_SIZE_PAGES
    return f"{workshop.paper} large print" if large else workshop.paper


def _fixed_rows(kinds: Iterable[str], process: Process, workshop: Workshop) -> dict[str, list[str]]:
    """For each sheet the rows of its frame that belong to the process, not to one print of it."""
    alike = [
        _row("trade", process.trade[:1].upper() + process.trade[1:]),
        _row("title", process.title),
        _row("process", process.number),
        _row("revision", process.revision.letter),
        _row("part", process.part.number),
        _row("hand", process.part.hand),
        _row("airframe", process.airframe),
        _row("units", workshop.units),
        _row("language", workshop.language),
    ]
    return {
        kind: [
            _row("kind", kind.replace("-", " ").upper()),
            *alike,
            _row("paper", _paper_of(kind, workshop)),
        ]
        for kind in kinds
    }


def _print_rows(facts: SheetFacts, fingerprint: str) -> list[str]:
    rows = [
        _row("serial", facts.serial or "DRAFT"),
        _row("part serial", ", ".join(facts.part_serials) or "not given"),
        _row("fingerprint", short(fingerprint)),
        _row("printed", facts.day),
    ]
    if facts.replaces:
        rows.append(_row("replaces", facts.replaces))
    if facts.copy:
        rows.append(_row("draft", f"{facts.serial} COPY {facts.copy} - NOT FOR WORK"))
    return rows if facts.serial else [*rows, _row("draft", "DRAFT - NOT FOR WORK")]


def _families(process: Process) -> list[Mapping[str, Any]]:
    families = table("safety")["families"]
    return [
        {"name": name, "warning": "", "caution": "", **families[name]} for name in process.safety
    ]


def _operation(writer: Writer, i: int, operation: Operation) -> Mapping[str, Any]:
    """What the template needs of one operation."""
    here: Steps = ("operations", i)
    if operation.deleted_at:
        return {"op": operation, "number": operation.number, "kind": "deleted"}
    return {
        "op": operation,
        "number": operation.number,
        "kind": operation.kind,
        "do": _instruction(writer, here, operation),
        "steps": thread_step(writer, operation) + writer.each(here, "steps", operation.steps),
        "warnings": writer.each(here, "warning", operation.warnings),
        "cautions": writer.each(here, "caution", operation.cautions),
        "notes": writer.each(here, "note", operation.notes),
        "points": writer.each(here, "points", operation.points),
        "before": _before(writer, here, operation),
        "start": [*_state(writer, here, operation, "start"), *_timed(writer, operation)],
        "after": _state(writer, here, operation, "if it fails", "leave"),
        "elsewhere": bool(written_on(operation)),
        "log": log_table(operation.log),
        "heat": treatment(writer, (*here, "heat treatment"), operation.heat_treatment),
        "readings": reading_rows(writer, here, operation),
        "instruments": list(
            dict.fromkeys(r.instrument for r in operation.readings if r.instrument)
        ),
        "strip": strips.strip(writer, (*here, "strip"), operation.strip)
        if operation.strip
        else None,
        "lookup": answers.lookup(operation),
        "clock": clock_rows(writer, here, operation.clock),
        "clock_days": with_days(writer, i),
        "map": answers.fastener_map(writer, operation),
        "ticked_on": ticked_on(writer.process, operation),
        "figure": figures.figure(writer, (*here, "figure"), operation.figure)
        if operation.figure
        else None,
        "closes": _closes(writer, i),
        "notice": operation.notice.typed if operation.notice is not None else "",
    }


def _operations(writer: Writer, process: Process) -> list[Mapping[str, Any]]:
    """What the templates need of all operations; a chart has limits that readings anywhere give."""
    made = [_operation(writer, i, each) for i, each in enumerate(process.operations)]
    return [{**each, "charts": _charts(writer, made, i)} for i, each in enumerate(made)]


def _charts(
    writer: Writer, operations: Sequence[Mapping[str, Any]], i: int
) -> Mapping[str, charts.Rows]:
    """The rows of the charts below the strip and below the typed table of an operation."""
    strip, typed = operations[i].get("strip"), writer.process.operations[i].lookup
    here: Steps = ("operations", i, "lookup")
    plots = {
        "strip": strip["plot"] if strip else None,
        "lookup": charts.plot_of(writer, here, typed) if typed and typed.chart else None,
    }
    return {name: charts.chart(operations, plot) if plot else [] for name, plot in plots.items()}


def _instruction(writer: Writer, here: Steps, operation: Operation) -> Markdown:
    words = writer.text((*here, "do"), operation.do)
    if operation.kind in ("hold",):
        return words
    verb, space, rest = words.partition(" ")
    return Markdown(f"**{verb.upper()}**{space}{rest}") if verb.isalpha() else words


def _before(writer: Writer, here: Steps, operation: Operation) -> list[Any]:
    """What stands above the steps: how the work starts, what is written or ticked elsewhere."""
    return [
        *_state(writer, here, operation, "start", "uses"),
        *_timed(writer, operation),
        *written_elsewhere(operation),
        *ticked_elsewhere(writer.process, operation),
    ]


def _timed(writer: Writer, operation: Operation) -> list[tuple[str, Markdown]]:
    """The window of an operation, and its times of which the table is not sure."""
    return [*inside(writer, operation), *doubts(writer, operation)]


def _state(
    writer: Writer, here: Steps, operation: Operation, *keys: str
) -> list[tuple[str, Markdown]]:
    """How the operation starts, or how it ends: lines under short headings."""
    said = {
        "start": operation.start,
        "uses": ", ".join(operation.uses),
        "if it fails": operation.if_it_fails,
        "leave": operation.leave,
    }
    return [
        (key, escape(said[key]) if key == "uses" else writer.text((*here, key), said[key]))
        for key in keys
        if said[key]
    ]


def _closes(writer: Writer, i: int) -> str:
    """The operations that a hold closes: all since the hold before it."""
    numbers: list[int] = []
    for operation in reversed(writer.process.operations[:i]):
        if operation.kind == "hold":
            break
        if not operation.deleted_at:
            numbers.append(operation.number)
    if not numbers:
        return "none"
    first, last = numbers[-1], numbers[0]
    return str(first) if first == last else f"{first} to {last}"
