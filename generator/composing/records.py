"""The operations of a process as they were composed, in; rows of the sheets on which numbers are
recorded, out: the same limits and the same marks as on the traveller."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from generator.check.counted import tightened
from generator.composing.accepting import accepted, limits_as_ticked
from generator.composing.escape import Markdown, escape
from generator.composing.instruments import uncertainty_of
from generator.composing.kinds import inspected, tightens, tightens_round
from generator.composing.readings import Row, thread_step
from generator.composing.recorded import BETWEEN
from generator.composing.strips import row_of
from generator.composing.there import said_there
from generator.composing.writer import Writer, named_in
from generator.process import Instrument, Operation, Process, Reading
from generator.quantities.amount import Amount
from generator.quantities.units import unit
from generator.read import Steps

# A length that is read this fine (mm) moves with the warmth of the workshop: 100 mm of aluminium
# grow by 0.012 mm in 5 °C (23 µm/m each °C, common handbook value, from memory).
_FINE = "0.01"
_CELLS = ("what", "lower", "upper", "unit", "times", "nominal")


def features(
    writer: Writer,
    operations: Sequence[Mapping[str, Any]],
    guarded: bool,
    held: Sequence[Instrument] = (),
    on: date | None = None,
) -> list[Mapping[str, Any]]:
    """Every reading with a limit as a numbered feature, in the order of the operations, but for
    counts that are written elsewhere.

    guarded: each has its accept limits, for the instruments that the workshop holds on that day.
    """
    found = _features(writer.process, operations)
    known = {
        r.instrument: uncertainty_of(r.instrument, writer.process, held, on)
        for _, _, _, r in found
        if guarded
    }
    accepts = [
        accepted(writer, operations, here, row, known[reading.instrument]) if guarded else None
        for here, _, row, reading in found
    ]
    return [
        {
            "number": n,
            "operation": operation,
            **dict(zip(_CELLS, row, strict=True)),
            "instrument": reading.instrument,
            "temperature": _is_fine_length(reading),
            "accept": accept,
            "strip": limits_as_ticked(operations, reading, row, accept),
        }
        for n, ((_, operation, row, reading), accept) in enumerate(
            zip(found, accepts, strict=True), start=1
        )
    ]


def _features(
    process: Process,
    operations: Sequence[Mapping[str, Any]],
) -> list[tuple[Steps, int, Row, Reading]]:
    """The readings with a limit: where each stands, its operation, its row on the traveller."""
    return [
        (("operations", i, "readings", j), each["number"], row, reading)
        for i, each in enumerate(operations)
        if each["kind"] != "deleted"
        for j, (row, reading) in enumerate(zip(each["readings"], each["op"].readings, strict=True))
        if inspected(process, each["op"], reading)
    ]


def _is_fine_length(reading: Reading) -> bool:
    """Whether it is a length read to 0.01 mm or finer."""
    scale = unit("mm")
    if reading.to is None or reading.to.unit.dimension != scale.dimension:
        return False
    return scale.from_base(reading.to.value) <= float(_FINE) * (1 + 1e-9)


def passes(writer: Writer, operations: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """Every operation in which fasteners are tightened round a map, as its record needs it."""
    return [
        _pass(writer, each)
        for each in operations
        if each["kind"] != "deleted" and tightens_round(writer.process, each["op"])
    ]


def _pass(writer: Writer, composed: Mapping[str, Any]) -> Mapping[str, Any]:
    operation: Operation = composed["op"]
    working = writer.workings.workings.get(operation.tightens)
    inputs = working.ran.inputs if working is not None and working.ran is not None else {}
    length, drag = (inputs.get(name) for name in ("wrench_length", "drag"))
    return {
        "number": operation.number,
        "do": composed["do"],
        "warnings": composed["warnings"],
        "cautions": composed["cautions"],
        "there": said_there(composed, written=False),
        "by": operation.by or "volunteer",
        "tightens": tightens(operation, (composed["do"], *composed["steps"])),
        "settings": _settings(writer, operation),
        "threads": " ".join(thread_step(writer, operation)),
        "length": length.unit.text if isinstance(length, Amount) else "",
        "drag": drag.unit.text if isinstance(drag, Amount) else "",
        "map": composed["map"],
        "lists": {} if operation.map else tightened(writer.process, operation),
        "count": _fasteners(writer, operation),
        "counted": _fasteners(writer, operation) in tightened(writer.process, operation).values(),
    }


def _fasteners(writer: Writer, operation: Operation) -> int:
    """How many are tightened: as the map has, else as the operation counts."""
    plan = writer.process.maps.get(operation.map)
    counts = tightened(writer.process, operation).values()
    return plan.fasteners if plan is not None else max(counts)


def _settings(writer: Writer, operation: Operation) -> list[Mapping[str, str]]:
    """What the wrench is set to, one setting after another, each with its name and its unit: the
    numbers that the operation names, or the rows of the strip that has them."""
    names, ends = _set_to(operation)
    if not names:
        return [{"says": escape("as the operation says"), "named": "", "unit": ""}]
    told = [(writer.workings.numbers[name], _says(writer, name)) for name in names]
    if ends:
        both = " to ".join(says for _, says in told)
        if where := next(filter(None, (_strip_of(writer, name) for name in names)), None):
            both = f"{_as_ticked(where)}[{escape(BETWEEN)}](#{told[0][0].mark})"
        return [{"says": Markdown(both), "named": "", "unit": told[0][0].unit}]
    many = len(names) > 1
    return [
        {"says": says, "named": f", {escape(number.meaning)}" if many else "", "unit": number.unit}
        for number, says in told
    ]


def _set_to(operation: Operation) -> tuple[list[str], bool]:
    """The names of the settings in the order of the texts, those of the steps before those of the
    notes: of a wrench setting its passes, else what is named first; and whether they are the ends
    of a window."""
    own = f"{operation.tightens}."
    texts = ((operation.do, *operation.steps), operation.notes)
    named = [
        [n for text in some for n in named_in(text) if operation.tightens and n.startswith(own)]
        for some in texts
    ]
    for some in named:
        settings = [n for n in some if n == f"{own}setting" or n.startswith(f"{own}passes.")]
        if settings:
            return list(dict.fromkeys(settings)), False
    every = list(dict.fromkeys(name for some in named for name in some))
    ends = [name for name in every if name in (f"{own}from", f"{own}to")]
    return (sorted(ends), True) if len(ends) > 1 else (every[:1], False)


def _says(writer: Writer, name: str) -> Markdown:
    where = _strip_of(writer, name)
    if where is not None and where.strip is not None:
        return Markdown(f"{_as_ticked(where)}{row_of(writer, where.strip, name)}")
    number = writer.workings.numbers[name]
    return Markdown(f"[{escape(number.text)}](#{number.mark})")


def _as_ticked(where: Operation) -> str:
    return f"as ticked in operation {where.number}: "


def _strip_of(writer: Writer, name: str) -> Operation | None:
    """The operation that has the strip of a number, one with a row of its own before a grid; None
    where the number is the same whatever is measured."""
    if name not in writer.answered:
        return None
    every = [o for o in reversed(writer.process.operations) if not o.deleted_at]
    has = [o for o in every if o.strip is not None and name in o.strip.of]
    rows = [o for o in has if o.strip is not None and o.strip.across is None]
    return next(iter((*rows, *has)), None)
