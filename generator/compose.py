"""A process with its workings in; the sheet as Markdown out, through a template.

Step text only names numbers: {{ name }} is replaced by the number as it stands on every sheet,
with its mark. Nothing is computed here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import Any

from generator import __version__
from generator.board import ShopFacts
from generator.composing import answers
from generator.composing.readings import reading_rows, thread_step
from generator.composing.writer import Writer
from generator.escape import Markdown, escape, finalize
from generator.findings import Fault
from generator.process import Operation, Process, Workshop
from generator.quantities.amount import Amount
from generator.read import Steps
from generator.tables import table
from generator.working import Working, Workings

_DASH = Markdown("-")


@dataclass(frozen=True)
class SheetFacts:
    """What is known of one print: serial "" on a draft; day is the day of printing."""

    serial: str
    part_serials: tuple[str, ...]
    day: str


@dataclass(frozen=True)
class Sheet:
    """A composed sheet: its Markdown and the full fingerprint of what decides it."""

    markdown: str
    fingerprint: str


def compose(
    process: Process, workings: Workings, workshop: Workshop, facts: SheetFacts
) -> tuple[Sheet | None, list[Fault]]:
    """The traveller of a process; no sheet where a text names what does not exist."""
    writer = Writer(process, workings, ShopFacts(workshop.also, workshop.rows))
    warnings = writer.each((), "warning", process.warnings)
    operations = [_operation(writer, i, each) for i, each in enumerate(process.operations)]
    if writer.faults:
        return None, writer.faults
    body = _template("traveller.md.j2").render(
        p=process,
        operations=operations,
        warnings=warnings,
        families=_families(process),
        holds=_holds(process, writer),
        workings=[_working(each) for each in workings.workings.values()],
        givens=workings.givens,
        day=lambda d: d.strftime("%d %b %Y").upper(),
        dash=_DASH,
        workshop=workshop,
        version=__version__,
    )
    body = _spaced_out(body)
    fixed = _fixed_rows(process, workshop)
    fingerprint = sha256("\n".join([*fixed, body]).encode()).hexdigest()
    first, *others = [*fixed, *_print_rows(facts, fingerprint)]
    lines = ["::: frame", first, "| --- | --- |", *others, ":::", "", body.rstrip()]
    lines += ["", f"Full fingerprint: {fingerprint}", ""]
    return Sheet("\n".join(lines), fingerprint), []


def _spaced_out(body: str) -> str:
    """The body with one blank line between blocks, so that it reads well as text."""
    lines: list[str] = []
    inside = False
    for line in filter(None, body.split("\n")):
        row = line.startswith("|")
        joins = inside or (row and lines and lines[-1].startswith("|"))
        if lines and not joins:
            lines.append("")
        lines.append(line)
        inside = line != ":::" and (inside or line.startswith(":::"))
    return "\n".join(lines) + "\n"


def short(fingerprint: str) -> str:
    """The fingerprint as sheets show it: twelve signs in threes of four."""
    word = fingerprint[:12].upper()
    return f"{word[:4]} {word[4:8]} {word[8:]}"


def _row(key: str, value: str) -> str:
    return f"| {key} | {escape(value)} |"


def _fixed_rows(process: Process, workshop: Workshop) -> list[str]:
    """The rows of the frame that belong to the process, not to one print of it."""
    return [
        _row("kind", "TRAVELLER"),
        _row("trade", process.trade[:1].upper() + process.trade[1:]),
        _row("title", process.title),
        _row("process", process.number),
        _row("revision", process.revision.letter),
        _row("part", process.part.number),
        _row("hand", process.part.hand),
        _row("airframe", process.airframe),
        _row("units", workshop.units),
        _row("language", workshop.language),
        _row("paper", workshop.paper),
    ]


def _print_rows(facts: SheetFacts, fingerprint: str) -> list[str]:
    rows = [
        _row("serial", facts.serial or "DRAFT"),
        _row("part serial", ", ".join(facts.part_serials) or "not given"),
        _row("fingerprint", short(fingerprint)),
        _row("printed", facts.day),
    ]
    return rows if facts.serial else [*rows, _row("draft", "DRAFT - NOT FOR WORK")]


@cache
def _template(name: str) -> Any:
    from jinja2 import Environment, StrictUndefined

    engine = Environment(
        finalize=finalize,
        undefined=StrictUndefined,
        trim_blocks=False,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        line_statement_prefix="%%",
        autoescape=False,  # finalize escapes every value for Markdown; HTML is never made
    )
    text = files("generator").joinpath("templates", name).read_text(encoding="utf-8")
    return engine.from_string(text)


def _families(process: Process) -> list[Mapping[str, Any]]:
    families = table("safety")["families"]
    return [
        {"name": name, "warning": "", "caution": "", **families[name]} for name in process.safety
    ]


def _working(working: Working) -> Mapping[str, Any]:
    rows: list[tuple[str, str]] = []
    for name, choice in working.keys.items():
        rows.append((name, choice))
    for line in working.lines:
        label = f"{line.symbol} {line.meaning}".strip()
        texts = [line.formula, line.numbers, line.result]
        shown = [text for i, text in enumerate(texts) if text and text not in texts[:i]]
        for n, text in enumerate(shown):
            rows.append((label if n == 0 else "", text if n == 0 else f"= {text}"))
    for number in working.results:
        if number.order:
            rows.append((number.meaning, number.text))
    rows += [
        (label, text)
        for label, text in (
            ("second method", working.second),
            ("holds for", working.range),
            ("does not cover", working.not_covered),
            ("source", working.source),
        )
        if text
    ]
    return {"mark": working.mark, "title": working.title, "rows": rows}


def _holds(process: Process, writer: Writer) -> list[tuple[str, str, str, Markdown]]:
    rows = []
    for i, operation in enumerate(process.operations):
        if operation.kind in ("hold", "witness", "independent"):
            by = (
                operation.released_by
                or operation.attended_by
                or f"{operation.first_by}, then {operation.second_by}"
            )
            text = writer.text(("operations", i, "do"), operation.do)
            rows.append((str(operation.number), operation.kind.upper(), by, text))
    return rows


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
        "before": _state(writer, here, operation, "start", "uses"),
        "after": _state(writer, here, operation, "if it fails", "leave"),
        "readings": reading_rows(writer, here, operation),
        "instruments": list(
            dict.fromkeys(r.instrument for r in operation.readings if r.instrument)
        ),
        "strip": answers.strip(writer, (*here, "strip"), operation.strip)
        if operation.strip
        else None,
        "lookup": answers.lookup(operation),
        "clock": [(line.label, _added(line.add)) for line in operation.clock],
        "map": answers.fastener_map(writer, (*here, "map"), operation),
        "figure": answers.figure(writer, (*here, "figure"), operation),
        "closes": _closes(writer, i),
        "notice": operation.notice.typed if operation.notice is not None else "",
    }


def _instruction(writer: Writer, here: Steps, operation: Operation) -> Markdown:
    words = writer.text((*here, "do"), operation.do)
    if operation.kind in ("hold",):
        return words
    verb, space, rest = words.partition(" ")
    return Markdown(f"**{verb.upper()}**{space}{rest}") if verb.isalpha() else words


def _state(
    writer: Writer, here: Steps, operation: Operation, *keys: str
) -> list[tuple[str, Markdown]]:
    """How the operation starts, or how it ends: lines under short headings."""
    texts = {
        "start": writer.text((*here, "start"), operation.start),
        "uses": escape(", ".join(operation.uses)),
        "if it fails": writer.text((*here, "if it fails"), operation.if_it_fails),
        "leave": writer.text((*here, "leave"), operation.leave),
    }
    return [(key, texts[key]) for key in keys if texts[key]]


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


def _added(amount: Amount | None) -> str:
    return f"+ {amount.typed}" if amount is not None else ""
