"""A process in; the kinds of sheets that it needs, in the order in which they are printed, out.

Each kind has its template, templates/KIND.md.j2, and its files, KIND.md and KIND.pdf.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Mapping

from generator.calculations import calculations
from generator.check.counted import exact_counts, tightened
from generator.check.sentences import command, masked, sentences
from generator.composing.escape import Markdown, escape
from generator.composing.recorded import HEAT, RIGGING, TEST, written_on
from generator.process import Operation, Process, Reading
from generator.quantities.units import unit

TRAVELLER, CALCULATION_SHEET = "traveller", "calculation-sheet"
HOLD_LIST, KIT_LIST, TOOL_LIST = "hold-list", "kit-list", "tool-list"
EVIDENCE_SHEET, INSPECTION_SHEET = "evidence-sheet", "inspection-sheet"
TIGHTENING_RECORD, PART_LABELS = "tightening-record", "part-labels"
RIGGING_SHEET, TEST_SHEET = "rigging-sheet", "functional-test-sheet"
HEAT_TREATMENT_RECORD = "heat-treatment-record"
SUBCONTRACT_ORDER = "subcontract-order"
FULL_SIZE_PAGES, RIVET_MAP = "full-size-pages", "rivet-map"
TABLE_OF_ORDINATES = "table-of-ordinates"
TEMPLATE_CHECK = "template-check"
CLOSING_SHEET, FIT_RECORD = "closing-sheet", "fit-record"
SLIPS, REWORK_SHEET, STOP_WORK_NOTICE = "slips", "rework-sheet", "stop-work-notice"
# What these print also hangs on the day, the serial and the workshop's list of instruments. That is
# no part of the process, so it is no part of the fingerprint.
OF_ONE_PRINT = (
    TOOL_LIST, INSPECTION_SHEET, PART_LABELS, SLIPS, REWORK_SHEET, STOP_WORK_NOTICE,
)  # fmt: skip
# Trades whose work goes on no airframe.
_NOT_FITTED = ("block making", "survey")
_TIGHTENS = re.compile(r"torque|tighten", re.I)
_TORQUE_UNIT = re.compile(r"N·m|lbf·(?:in|ft)")
_PULLS = ("pull", "turn", "set", "adjust", "run")
_TORQUE = unit("N·m").dimension
_STOPS = ("hold", "witness", "independent")


def kinds_of(process: Process) -> tuple[str, ...]:
    """The sheets of a process: one that would be empty is not printed."""
    return tuple(kind for kind, needed in _NEEDED.items() if needed(process))


def stops(operation: Operation) -> bool:
    """Whether the work stops here for an inspector or for a second person."""
    return operation.kind in _STOPS


def tightens_round(process: Process, operation: Operation) -> bool:
    """Whether fasteners are tightened here one by one: round a map that has an order or a wrench
    setting, or without a map a number of them that is counted as tightened."""
    plan = process.maps.get(operation.map)
    if plan is None:
        return bool(operation.tightens and tightened(process, operation))
    return bool(plan.order or operation.tightens)


def tightens(operation: Operation, printed: Iterable[str] = ()) -> bool:
    """Whether a wrench is set here: the operation names its setting, speaks of torque, pulls or
    turns, reads a torque, or prints one. Where bolts are only put in, nobody asks for a wrench.

    printed: its texts with their numbers put in.
    """
    if operation.tightens or any(_reads_torque(reading) for reading in operation.readings):
        return True
    if any(_TORQUE_UNIT.search(text) for text in printed):
        return True
    texts = (operation.do, *operation.steps)
    said = [s for text in texts for s in sentences(masked(text)) if not s.forbids]
    return any(
        _TIGHTENS.search(s.words) or (command(s) in _PULLS and "by hand" not in s.words)
        for s in said
    )


def _reads_torque(reading: Reading) -> bool:
    return bool(reading.unit) and unit(reading.unit).dimension == _TORQUE


def ticked_on(process: Process, operation: Operation) -> str:
    """The record on which the fasteners of an operation are ticked, "" for the traveller: in two
    places a tick is made up in one."""
    if tightens_round(process, operation):
        return TIGHTENING_RECORD.replace("-", " ")
    plan = process.maps.get(operation.map)
    return RIVET_MAP.replace("-", " ") if plan is not None and plan.fastening == "rivet" else ""


def ticked_elsewhere(process: Process, operation: Operation) -> list[tuple[str, Markdown]]:
    """What the traveller says in the place of a map that is ticked on a record."""
    sheet = ticked_on(process, operation)
    return [("map", escape(f"on the {sheet}: tick each one there, not here"))] if sheet else []


def inspected(process: Process, operation: Operation, reading: Reading) -> bool:
    """Whether a reading is a feature to be inspected: it has a limit, and is no count of ticks nor
    of what the closing of the traveller finds. Those are written where they are counted."""
    ticked = reading.name in _ticked_counts(process, operation)
    counted = reading.entry == "count" and (operation.kind == "close" or ticked)
    return (reading.lower is not None or reading.upper is not None) and not counted


def _ticked_counts(process: Process, operation: Operation) -> Collection[str]:
    """The counts of an operation that are of ticks on a record of their own."""
    if tightens_round(process, operation):
        return tightened(process, operation)
    return exact_counts(operation) if ticked_on(process, operation) else ()


def _has_lists(name: str) -> bool:
    """Whether a calculation has results that are read as a table."""
    what = calculations().get(name)
    return what is not None and bool(what.listed)


def _draws_templates(process: Process) -> Callable[[Operation], bool]:
    """Whether an operation has templates of formers at full size."""

    def draws(operation: Operation) -> bool:
        wanted = operation.figure
        entry = process.work_out.get(wanted.of) if wanted is not None else None
        what = calculations().get(entry.use) if entry is not None else None
        return bool(
            wanted is not None
            and wanted.full_size
            and what is not None
            and "former-templates" in what.figures
        )

    return draws


def _writes_on(process: Process, sheet: str) -> bool:
    return any(written_on(each) == sheet for each in process.operations if not each.deleted_at)


_NEEDED: Mapping[str, Callable[[Process], bool]] = {
    TRAVELLER: lambda process: True,
    CALCULATION_SHEET: lambda process: True,
    HOLD_LIST: lambda process: any(stops(each) for each in process.operations),
    KIT_LIST: lambda process: bool(process.kit),
    TOOL_LIST: lambda process: bool(process.tools or process.instruments),
    EVIDENCE_SHEET: lambda process: bool(process.given),
    INSPECTION_SHEET: lambda process: any(
        inspected(process, each, reading)
        for each in process.operations
        for reading in each.readings
    ),
    TIGHTENING_RECORD: lambda process: any(
        tightens_round(process, each) for each in process.operations
    ),
    RIVET_MAP: lambda process: any(each.fastening == "rivet" for each in process.maps.values()),
    RIGGING_SHEET: lambda process: _writes_on(process, RIGGING),
    TEST_SHEET: lambda process: _writes_on(process, TEST),
    SUBCONTRACT_ORDER: lambda process: any(
        each.kind == "subcontract" and not each.deleted_at for each in process.operations
    ),
    HEAT_TREATMENT_RECORD: lambda process: _writes_on(process, HEAT),
    TABLE_OF_ORDINATES: lambda process: any(
        _has_lists(entry.use) for entry in process.work_out.values()
    ),
    TEMPLATE_CHECK: lambda process: any(map(_draws_templates(process), process.operations)),
    FULL_SIZE_PAGES: lambda process: (
        any(plan.full_size for plan in process.maps.values())
        or any(o.figure is not None and o.figure.full_size for o in process.operations)
    ),
    PART_LABELS: lambda process: True,
    CLOSING_SHEET: lambda process: True,
    FIT_RECORD: lambda process: process.trade not in _NOT_FITTED,
    SLIPS: lambda process: True,
    REWORK_SHEET: lambda process: True,
    STOP_WORK_NOTICE: lambda process: True,
}
KINDS = tuple(_NEEDED)
