"""The operations of a process as they were composed, in; what the rigging sheet, the functional
test sheet and the heat treatment record ask of them, out.

An operation is written down in one place: where it says `recorded on`, its readings and times stand
on that sheet and not on the traveller, and so does the table that answers them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from generator.composing.escape import Markdown, escape
from generator.composing.there import said_there
from generator.composing.times import added, amount_of, bounds
from generator.composing.writer import Writer, linked
from generator.computing.working import Workings
from generator.process import HeatTreatment, Log, Operation
from generator.quantities.amount import Amount
from generator.quantities.rounding import plain
from generator.read import Steps

_ADJUST = re.compile(r"(?:^|\bthen |: )(?:adjust|tension|tighten|slacken|shorten|lengthen|turn)\b",
                     re.I)  # fmt: skip
RIGGING, TEST, HEAT = "rigging sheet", "functional test sheet", "heat treatment record"
LEAST_FULL_SCALE = "least full scale of the gauge"  # what a test pressure's calculation calls it
LOAD = "temperature of the load"
SOAKED = "soak, from the load at temperature"
BETWEEN = "between the least and the largest"  # of a window that is ticked
SOAKED_MOST = "longest soak, because it is clad"
DELAYED = "quench delay, door starts to open to last metal under"
WARMEST = "warmest reading of the cold store"
SOAK_STARTS, SOAK_ENDS = "load at temperature: soak starts", "soak ends"
DOOR_OPENS, QUENCH = "door starts to open", "last metal under: quench"
STORED, TAKEN_OUT = "into the cold store", "out of the cold store"
AGED = "natural ageing complete"
# What a process may set of a treatment, what the sheet calls it, and what is written in its box.
# Temperature and soak are always asked for; the others where the process sets them.
_ALWAYS = ("set", "soak")
_ASKED = (
    ("set", LOAD, "box °C"),
    ("soak", SOAKED, "box min"),
    ("soak_most", SOAKED_MOST, "box min"),
    ("delay", DELAYED, "box s"),
    ("store", WARMEST, "box °C"),
)


def written_on(operation: Operation) -> str:
    """The sheet on which an operation is written down, "" for the traveller."""
    if operation.recorded_on:
        return operation.recorded_on
    if operation.sense:
        return RIGGING
    if operation.log is not None:
        return TEST
    return HEAT if operation.heat_treatment is not None else ""


def recorded(operations: Sequence[Mapping[str, Any]], sheet: str) -> list[Mapping[str, Any]]:
    """The operations that are written down on a sheet, in their order; on the rigging sheet with
    the order of their steps, where they say what is adjusted first: a cable that waits for its turn
    is slack."""
    return [
        {
            **each,
            "order": each["steps"] if _adjusts(each["op"], sheet) else [],
            "there": said_there(each, written=True),
            "beside_sense": _beside_sense(each["op"]),
        }
        for each in operations
        if each["kind"] != "deleted" and written_on(each["op"]) == sheet
    ]


def _beside_sense(operation: Operation) -> str:
    """What is written down beside the points of a sense, as its heading; "" for nothing."""
    answers = operation.readings or operation.strip or operation.lookup
    has = [word for word, told in (("times", operation.clock), ("readings", answers)) if told]
    return " and ".join(has).capitalize() if operation.sense else ""


def _adjusts(operation: Operation, sheet: str) -> bool:
    if sheet != RIGGING or operation.sense:
        return False
    return any(_ADJUST.search(step) for step in operation.steps)


def log_table(log: Log | None) -> Mapping[str, Any] | None:
    """The rows of a log: the time since the start, a clock, a box for each value."""
    if log is None:
        return None
    count = round(log.lasts.value / log.every.value) if log.every.value > 0 else 0
    step, scale = log.every.number(), log.every.unit.text
    times = [f"{plain(n * step)} {scale}" for n in range(count + 1)]
    return {"names": list(log.of), "boxes": [f"box {u}" for u in log.of.values()], "times": times}


def treatment(writer: Writer, here: Steps, asked: HeatTreatment | None) -> Mapping[str, Any] | None:
    """What a heat treatment record asks: facts, values with the box for what was found, clocks."""
    if asked is None:
        return None
    values = [
        (says, _asked(writer, (*here, key.replace("_", " ")), getattr(asked, key), box), box)
        for key, says, box in _ASKED
        if key in _ALWAYS or getattr(asked, key) is not None
    ]
    clocks = list(_clocks(writer, here, asked))
    return {"of": asked, "values": values, "clocks": clocks}


def _clocks(writer: Writer, here: Steps, asked: HeatTreatment) -> Iterator[tuple[str, str]]:
    """Clock times in the order in which they happen; a limit of time is a sum to be filled in,
    from the time that its row names."""
    stored = asked.store is not None
    begins = "out of the store" if stored else "from the quench"
    earliest, latest = "earliest out, from the soak's start", "latest out, from the soak's start"
    kept = "latest out of the cold store"
    soaked = bounds(earliest * (asked.soak is not None), latest * (asked.soak_most is not None))
    for says, key, always, held in (
        (SOAK_STARTS, "", True, ""),
        (earliest, "soak", False, ""),
        (latest, "soak_most", False, ""),
        (SOAK_ENDS, "", True, soaked),
        (DOOR_OPENS, "", True, ""),
        (QUENCH, "", True, ""),
        (STORED, "", stored, ""),
        (kept, "keep", False, ""),
        (TAKEN_OUT, "", stored, bounds("", kept * (asked.keep is not None))),
        (f"the window ends, {begins}", "window", False, ""),
        (f"{AGED}, {begins}", "ageing", False, ""),
    ):
        if always:
            yield says, held
        elif key and getattr(asked, key) is not None:
            place = key.replace("_", " ")
            yield says, added(writer, (*here, place), getattr(asked, key))


def _asked(writer: Writer, here: Steps, asked: Amount | str | None, box: str) -> Markdown:
    """The value that the process sets, with its mark; else the specification sets it."""
    if asked is None:
        return escape("by the specification")
    amount = amount_of(writer, here, asked, box.removeprefix("box "))
    if isinstance(asked, Amount):
        return escape(asked.typed or asked.numbers)
    number = writer.workings.numbers.get(asked)
    if amount is None or number is None:
        return Markdown("-")
    return Markdown(f"[{escape(number.text)}](#{number.mark})")


def written_elsewhere(operation: Operation) -> list[tuple[str, Markdown]]:
    """What the traveller says in the place of readings that stand on another sheet."""
    sheet = written_on(operation)
    rows: list[tuple[str, Markdown]] = []
    if operation.sense:
        said = f"two people write what they see and stamp each point on the {sheet}"
        rows.append(("sense", escape(said)))
    answered = operation.strip is not None or operation.lookup is not None
    what = ", with its table" if answered else ""
    if sheet and (_beside_sense(operation) or not operation.sense):
        rows.append(("written", escape(f"on the {sheet}{what}, not here")))
    return rows


def full_scales(workings: Workings) -> Markdown:
    """The full scales that gauges have at least, the smallest first: by it a gauge is judged, as
    nobody says which gauge is which."""
    found = [
        (number.amount.value, f"{linked(number)} for {_entry(number.name)}")
        for number in workings.numbers.values()
        if number.meaning.startswith(LEAST_FULL_SCALE) and number.amount is not None
    ]
    return Markdown(", ".join(told for _, told in sorted(found, key=lambda each: each[0])))


def _entry(name: str) -> Markdown:
    """The entry of a number in words."""
    return escape(name.partition(".")[0].replace("_", " "))
