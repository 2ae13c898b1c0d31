"""A traveller's form and what was entered, in; how far the work has come and whom it waits for,
out; and the sheet of it that an inspector takes along."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any

from generator.compose import short
from generator.composing.engine import rendered
from generator.composing.escape import escape
from generator.process import LARGE_PAPERS, Workshop
from generator.results.entries import BLANK, TICK, Entries
from generator.results.form import Field, Form
from generator.results.form_says import ordinal
from generator.results.supplement import is_rework


@dataclass(frozen=True)
class Progress:
    """One open traveller. waits: in words; stop: the kind of stop it waits at, "" for none; who:
    whose stamp is wanted; before: the next stop that comes, with its class; findings: where
    something is wrong."""

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
    findings: str = ""


@dataclass(frozen=True)
class Late:
    """A slip that waits on a traveller that has ended. state: closed or the like, and where its
    parts sit; waits: the slip, what it waits for and the way on."""

    serial: str
    process: str
    part: str
    state: str
    waits: str


@dataclass(frozen=True)
class Filled:
    """A sheet of a traveller with what of it is in force and what stands on it. name: "" for the
    traveller, R1 for a rework sheet, B for that of a newer revision; kinds: of its operations;
    no_good: what is wrong with a stamp, by its operation and its label."""

    name: str
    form: Form
    entries: Entries
    kinds: Mapping[str, str]
    no_good: Mapping[tuple[str, str], str] = field(default_factory=dict)


def progress(
    facts: Mapping[str, Any], sheets: Sequence[Filled], slips: tuple[str, ...], goes: str = ""
) -> Progress:
    """How far a traveller has come: the first operation without its stamps, on the sheet on which
    it is done. goes: why its part comes to no bench any more, "" where it does."""
    ahead = [] if goes else list(_ahead(sheets))
    number = ahead[0][1] if ahead else ""
    missing = ahead[0][2] if ahead else []
    who = ", ".join(dict.fromkeys(each.who or "a stamp" for each in missing))
    waits = goes or "everything is signed: close it"
    kind = ""
    if ahead:
        sheet = ahead[0][0]
        kind = sheet.kinds.get(number, "work")
        on = f", on {_called(sheet.name)}" if sheet.name else ""
        told = dict.fromkeys(sheet.no_good.get((number, each.label), "") for each in missing)
        why = "; ".join(filter(None, told))
        waits = f"operation {number}, {kind}{on}, waits for {who}" + f" ({why})" * bool(why)
    part = f"{facts['part']} {', '.join(facts['part serials'])}"
    return Progress(
        str(facts["traveller"]), str(facts["process"]), str(facts["revision"]), part,
        str(facts["issued on"]), number, waits, kind if _stops(ahead[:1]) else "", who,
        _next_stop(ahead[1:]), slips,
    )  # fmt: skip


_Ahead = tuple[Filled, str, list[Field]]


def _ahead(sheets: Sequence[Filled]) -> Iterator[_Ahead]:
    """The operations that want a stamp, in the order of the work whatever sheet they are on."""
    every = [(ordinal(n), i, n) for i, each in enumerate(sheets) for n in each.form.operations]
    for _, i, number in sorted(every):
        if missing := _unsigned(sheets[i], number):
            yield sheets[i], number, missing


def _stops(ahead: Sequence[_Ahead]) -> list[_Ahead]:
    return [e for e in ahead if e[1] in {stop.operation for stop in e[0].form.stops}]


def _next_stop(ahead: Sequence[_Ahead]) -> str:
    """The next stop that comes, with its class; "" for none."""
    for sheet, number, missing in _stops(ahead)[:1]:
        people = ", ".join(dict.fromkeys(each.who for each in missing))
        return f"{sheet.kinds.get(number, 'stop')} {number}, {people}"
    return ""


def _called(name: str) -> str:
    return f"rework sheet {name}" if is_rework(name) else f"the sheet of revision {name}"


def _unsigned(sheet: Filled, number: str) -> list[Field]:
    """The stamps that an operation still wants; none where it does not apply. At a stop one that is
    no good is none: nobody who may has released it."""
    here = [f for f in sheet.form.fields if f.sheet == "traveller" and f.operation == number]
    not_applicable = [f for f in here if f.row == "operation" and f.name.endswith("N/A")]
    if any(sheet.entries.get(each.key, BLANK).text == TICK for each in not_applicable):
        return []
    stops = any(stop.operation == number for stop in sheet.form.stops)
    bad = {label for at, label in sheet.no_good if at == number} if stops else set()
    stamps = [f for f in here if f.kind == "stamp" and not f.may_be_empty]
    instead = {"go on without": "sign witness", "sign witness": "go on without"}
    given = [f for f in stamps if sheet.entries.get(f.key, BLANK).stands and f.label not in bad]
    signed = {f.row for f in given}
    return [f for f in stamps if f not in given and instead.get(f.row) not in signed]


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
