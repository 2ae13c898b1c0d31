"""A traveller's form and what was entered, in; how far the work has come and whom it waits for,
out; and the sheet of it that an inspector takes along."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from generator.compose import short
from generator.composing.engine import rendered
from generator.composing.escape import escape
from generator.process import LARGE_PAPERS, Workshop
from generator.results.entries import BLANK, Entries
from generator.results.form import Field, Form


@dataclass(frozen=True)
class Progress:
    """One open traveller. waits: in words; stop: the kind of stop it waits at, "" for none; who:
    whose stamp is wanted; before: the next stop that comes, with its class."""

    serial: str
    process: str
    revision: str
    part: str
    issued: str
    operation: str
    waits: str
    stop: str
    who: str
    before: str
    slips: tuple[str, ...]


@dataclass(frozen=True)
class Late:
    """A slip that waits on a traveller that has ended. state: closed or the like, and where its
    parts sit; waits: the slip, what it waits for and the way on."""

    serial: str
    process: str
    part: str
    state: str
    waits: str


def progress(
    facts: Mapping[str, Any], form: Form, entries: Entries, slips: tuple[str, ...]
) -> Progress:
    """How far a traveller has come: the first operation without its stamps."""
    stops = {stop.operation: stop.kind for stop in form.stops}
    open_ones = [n for n in form.operations if _unsigned(form, entries, n)]
    number = open_ones[0] if open_ones else ""
    missing = _unsigned(form, entries, number) if number else []
    who = ", ".join(dict.fromkeys(each.who or "a stamp" for each in missing))
    kind = stops.get(number, "")
    waits = "everything is signed: close it" if not number else f"operation {number}"
    if number:
        waits += f", {kind or 'work'}, waits for {who}"
    ahead = [n for n in open_ones[1:] if n in stops]
    before = ""
    if ahead:
        people = ", ".join(dict.fromkeys(f.who for f in _unsigned(form, entries, ahead[0])))
        before = f"{stops[ahead[0]]} {ahead[0]}, {people}"
    part = f"{facts['part']} {', '.join(facts['part serials'])}"
    return Progress(
        str(facts["traveller"]), str(facts["process"]), str(facts["revision"]), part,
        str(facts["issued on"]), number, waits, kind, who, before, slips,
    )  # fmt: skip


def _unsigned(form: Form, entries: Entries, number: str) -> list[Field]:
    """The stamps that an operation still wants; none where it does not apply."""
    here = [f for f in form.fields if f.sheet == "traveller" and f.operation == number]
    not_applicable = [f for f in here if f.row == "operation" and f.name.endswith("N/A")]
    if any(entries.get(each.key, BLANK).stands for each in not_applicable):
        return []
    stamps = [f for f in here if f.kind == "stamp" and not f.may_be_empty]
    instead = {"go on without": "sign witness", "sign witness": "go on without"}
    signed = {f.row for f in stamps if entries.get(f.key, BLANK).stands}
    return [
        f
        for f in stamps
        if not entries.get(f.key, BLANK).stands and instead.get(f.row) not in signed
    ]


def visit_sheet(
    shop: Workshop, found: Sequence[Progress], day: str, late: Sequence[Late] = ()
) -> str:
    """What waits, as Markdown: holds due first, then all that is open, then slips on what has
    ended."""
    due = [each for each in found if each.stop]
    body = rendered("visit-sheet.md.j2", due=due, open=found, late=late)
    frame = {
        "kind": "VISIT SHEET", "trade": "all trades", "title": f"Open work, {shop.name}",
        "process": "none", "revision": "none", "part": "none", "hand": "none",
        "airframe": "none", "units": shop.units, "language": shop.language,
        "paper": LARGE_PAPERS.get(shop.paper, shop.paper), "serial": "none",
        "part serial": "none", "fingerprint": short(sha256(body.encode()).hexdigest()),
        "printed": day,
    }  # fmt: skip
    rows = [f"| {key} | {escape(value)} |" for key, value in frame.items()]
    head = "\n".join(["::: frame", rows[0], "| --- | --- |", *rows[1:], ":::", ""])
    return f"{head}\n# {escape(frame['title'])}\n\n{body}\n# End of visit sheet\n"
