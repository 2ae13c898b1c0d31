"""One process and the workshop, in; faults in what it wants written down on sheets of their own,
out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.findings import Fault, Refusal
from generator.process import Log, Operation, Process, Reading, Workshop
from generator.quantities.amount import Amount
from generator.quantities.units import unit

_FITS = (
    ("sense", "rigging sheet"),
    ("log", "functional test sheet"),
    ("heat_treatment", "heat treatment record"),
)
_MOST_ROWS = 60
# Two people look at every point: an inspector, and one who took no part.
LOOKS_AT_SENSE = ("inspector", "independent inspector")


def sense_is_seen(process: Process, workshop: Workshop) -> Iterator[Fault]:
    """A control that nobody has seen move the right way kills at the first take-off."""
    if process.trade == "control rigging" and not any(o.sense for o in process.operations):
        wrong = "a control is rigged and no operation says which way it must move"
        yield Fault(("trade",), "sense", wrong, "sense: [{do: column back, see: elevator edge UP}]")
    held = {each.role for each in workshop.stamps}
    for i, operation in enumerate(process.operations):
        for role in LOOKS_AT_SENSE:
            if operation.sense and role not in held:
                wrong = f"nobody of this workshop is '{role}', who looks at the sense"
                yield Fault(("operations", i, "sense"), "stamp", wrong, "a stamp in stamps.yaml")
        done = [point.do for point in operation.sense]
        for j, point in enumerate(operation.sense):
            here = ("operations", i, "sense", j)
            if point.do in done[:j]:
                wrong = f"'{point.do}' stands twice in operation {operation.number}"
                yield Fault((*here, "do"), "sense", wrong, "each movement once")


def logs_run_out_even(process: Process, _: Workshop) -> Iterator[Fault]:
    """Rows at equal times, and a temperature beside every pressure."""
    for i, operation in enumerate(process.operations):
        if operation.log is not None:
            yield from _log_faults(operation.log, operation, ("operations", i, "log"))


def _log_faults(log: Log, operation: Operation, here: tuple[str | int, ...]) -> Iterator[Fault]:
    if log.every.value <= 0:
        yield Fault((*here, "every"), "log", "rows at no time apart", "such as 2 min")
        return
    rows = log.lasts.value / log.every.value
    if abs(rows - round(rows)) > 1e-9 or not 1 <= round(rows) <= _MOST_ROWS:
        wrong = f"{log.lasts.typed} is not 1 to {_MOST_ROWS} steps of {log.every.typed}"
        yield Fault((*here, "for"), "log", wrong, f"a multiple of {log.every.typed}")
    kinds = {unit(text).dimension for text in log.of.values()}
    if unit("bar").dimension in kinds and unit("°C").dimension not in kinds:
        wrong = f"operation {operation.number} logs a pressure and no temperature: "
        wrong += "warming hides a leak"
        yield Fault((*here, "of"), "log", wrong, "a temperature beside it, such as oil: °C")


def loads_have_a_band(process: Process, _: Workshop) -> Iterator[Fault]:
    """A load that is set to a temperature with nothing around it: no furnace holds one degree, and
    what was found would be held against nothing."""
    for i, operation in enumerate(process.operations):
        asked = operation.heat_treatment.set if operation.heat_treatment else None
        if asked is None or not _is_one_number(asked, process):
            continue
        if any(_is_around(each, asked) for each in operation.readings):
            continue
        told = asked.typed if isinstance(asked, Amount) else asked
        wrong = f"{told} has no band: what is found is held against nothing"
        right = (
            "set with its range, such as 493 ± 5 °C, or a reading of the furnace with both limits"
        )
        yield Fault(("operations", i, "heat treatment", "set"), "band", wrong, right)


def _is_one_number(asked: Amount | str, process: Process) -> bool:
    """Whether it has no range of its own; a name that is none is told as such."""
    if isinstance(asked, Amount):
        return asked.low is None
    return asked.partition(".")[0] in {*process.given, *process.work_out}


def _is_around(reading: Reading, asked: Amount | str) -> bool:
    """Whether a reading has both limits of a temperature, around what is asked where both are
    numbers."""
    low, high = reading.lower, reading.upper
    if low is None or high is None or not _is_hot(reading.unit):
        return False
    if not (isinstance(low, Amount) and isinstance(high, Amount) and isinstance(asked, Amount)):
        return True
    return low.value <= asked.value <= high.value


def _is_hot(text: str) -> bool:
    try:
        return unit(text).dimension == unit("°C").dimension
    except Refusal:
        return False


def one_place_to_write(process: Process, _: Workshop) -> Iterator[Fault]:
    """What belongs to a sheet of its own is written there."""
    for i, operation in enumerate(process.operations):
        own = [(key, sheet) for key, sheet in _FITS if getattr(operation, key)]
        if len(own) > 1:
            yield _on_two_sheets(i, operation, own)
        elif own and operation.recorded_on not in ("", own[0][1]):
            key, sheet = own[0]
            wrong = f"operation {operation.number}: '{_spoken(key)}' is written on the"
            wrong += f" {sheet}, and 'recorded on' says {operation.recorded_on}"
            yield Fault(("operations", i, "recorded on"), "sheet", wrong, sheet)
        if operation.recorded_on and not (operation.readings or operation.clock or own):
            wrong = f"operation {operation.number} has nothing to be written down"
            right = "readings, a clock, or no 'recorded on'"
            yield Fault(("operations", i, "recorded on"), "sheet", wrong, right)


def _on_two_sheets(i: int, operation: Operation, own: Sequence[tuple[str, str]]) -> Fault:
    """One of the two would be on no sheet at all."""
    (first, sheet), (second, other), *_ = own
    wrong = f"operation {operation.number} has '{_spoken(first)}', which is written on the {sheet},"
    wrong += f" and '{_spoken(second)}', on the {other}"
    here = ("operations", i, _spoken(second))
    return Fault(here, "sheet", wrong, f"an operation of its own for '{_spoken(second)}'",
                 of_key=True)  # fmt: skip


def _spoken(key: str) -> str:
    return key.replace("_", " ")
