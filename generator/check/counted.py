"""An operation in; what it counts exactly, and which of it is tightened, out."""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.findings import Fault
from generator.process import Operation, Process, Workshop
from generator.quantities.amount import Amount

# A count that says so is of what the wrench was put to: not of washers, pins or marks beside it.
_TIGHTENED = re.compile(r"torque|tighten|\btick(?:ed)?\b|\btight\b", re.I)


def exact_counts(operation: Operation) -> dict[str, int]:
    """The counts of an operation that must come out exactly: what is counted -> how many."""
    found: dict[str, int] = {}
    for each in operation.readings:
        ends = (each.lower, each.upper)
        told = [end.value for end in ends if isinstance(end, Amount)]
        if each.entry == "count" and len(told) == 2 and 1 < told[0] == told[1]:
            found[each.name] = round(told[0])
    return found


def tightened(process: Process, operation: Operation) -> dict[str, int]:
    """Those of its exact counts that are of what is tightened: they say so, or come to the number
    of fasteners of its map."""
    plan = process.maps.get(operation.map)
    return {
        name: count
        for name, count in exact_counts(operation).items()
        if _TIGHTENED.search(name) or (plan is not None and count == plan.fasteners)
    }


def counts_say_what_is_tightened(process: Process, _: Workshop) -> Iterator[Fault]:
    """Without a map the tightening record has a tick for each of what is counted as tightened; an
    operation whose counts are all of something else would have none."""
    for i, operation in enumerate(process.operations):
        counts = exact_counts(operation)
        if not operation.tightens or operation.map or not counts or tightened(process, operation):
            continue
        j = next(j for j, each in enumerate(operation.readings) if each.name in counts)
        told = ", ".join(f"'{name}'" for name in counts)
        wrong = f"operation {operation.number} tightens, and counts only {told}"
        right = "a count that says so, such as 'bolts torqued' with its exactly; or a map"
        yield Fault(("operations", i, "readings", j, "name"), "count", wrong, right)
