"""Torques and the state of the threads in one process, in; where the two do not agree, out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from generator.calculations import calculations
from generator.check.structure import rules
from generator.check.workings import listed
from generator.findings import Fault, near_word
from generator.process import Process, WorkOut, Workshop
from generator.tables import table

_STATE = "lubrication"


def threads_are_as_the_table_says(process: Process, workshop: Workshop) -> Iterator[Fault]:
    """A torque row for oil-free threads is no number for wet ones, nor for nobody knows which;
    nor is a row for one thread a number for the bolts of a map with another."""
    yield from _map_faults(process, workshop)
    state, by = "", 0
    for i, operation in enumerate(process.operations):
        if operation.tightens:
            entry = process.work_out.get(operation.tightens)
            here = ("operations", i, "tightens")
            if entry is None:
                near = near_word(operation.tightens, process.work_out)
                right = f"{near}?" if near else "the name of an entry under work out"
                told = f"nothing is worked out as '{operation.tightens}'"
                yield Fault(here, "name", told, right)
            elif not entry.use or _STATE not in entry.inputs:
                wrong = f"'{operation.tightens}' is no wrench setting"
                right = "the name of an entry that uses wrench_setting"
                yield Fault(here, "name", wrong, right)
            else:
                wanted = str(entry.inputs[_STATE])
                if wanted in _states() or _in_a_row(entry, _STATE, workshop):
                    yield from _state_faults(here, operation.number, wanted, state, by)
        if operation.leaves_threads:
            state, by = operation.leaves_threads, operation.number


def _state_faults(
    here: tuple[str | int, ...], number: int, wanted: str, state: str, by: int
) -> Iterator[Fault]:
    wrong = f"operation {number} tightens by a row for {wanted} threads; "
    if wanted not in _states():
        wrong += "no operation can say that it leaves them so. No number"
        yield Fault(here, "threads", wrong, f"a table row for {listed(_states())} threads")
    elif not state:
        wrong += "no operation before it says how it leaves them. No number"
        yield Fault(here, "threads", wrong, f"leaves threads: {wanted}, at the one that does")
    elif state != wanted:
        wrong += f"operation {by} leaves them {state}. No number"
        right = f"a table row for {state} threads, or threads left {wanted}"
        yield Fault(here, "threads", wrong, right)


def _states() -> tuple[str, ...]:
    """The states in which an operation can say that it leaves the threads."""
    operation = rules("process")["operations"]["schema"]["schema"]
    return tuple(operation["leaves threads"]["allowed"])


def torques_are_tightened_by(process: Process, _: Workshop) -> Iterator[Fault]:
    """A torque for one state of the threads, printed where nobody is asked to look at them."""
    torques = {n: e.inputs[_STATE] for n, e in process.work_out.items() if _STATE in e.inputs}
    tightened = {operation.tightens for operation in process.operations if operation.tightens}
    if tightened - set(torques):
        return  # a slip in a name is told once, at the operation
    for name, state in torques.items():
        if name not in tightened:
            wrong = f"'{name}' holds for {state} threads; no operation tightens by it"
            right = f"tightens: {name}, at the operation that does"
            yield Fault(("work out", name), "threads", wrong, right, of_key=True)


def _map_faults(process: Process, workshop: Workshop) -> Iterator[Fault]:
    for name, thread in other_threads(process, workshop).items():
        item = process.maps[name].item
        wrong = f"the map says '{item}', the torque row is for {thread}"
        yield Fault(("maps", name, "item"), "threads", wrong, f"one thread in both: {thread}?")


def other_threads(process: Process, workshop: Workshop) -> Mapping[str, str]:
    """Maps whose item does not name the thread they are tightened by: map -> that thread."""
    found: dict[str, str] = {}
    for operation in process.operations:
        plan = process.maps.get(operation.map)
        entry = process.work_out.get(operation.tightens)
        if plan is None or entry is None:
            continue
        thread = _in_a_row(entry, "thread", workshop)
        if thread and not _names(plan.item, thread):
            found.setdefault(operation.map, thread)
    return found


def _in_a_row(entry: WorkOut, column: str, workshop: Workshop) -> str:
    """The key of a table row as written; "" where no row has it: the look-up tells that."""
    used = calculations().get(entry.use)
    wanted = str(entry.inputs.get(column, ""))
    for item in used.inputs if used else ():
        if item.name == column and item.table:
            rows = [*table(item.table)["rows"], *workshop.rows.get(item.table, ())]
            return wanted if any(row[column] == wanted for row in rows) else ""
    return ""


def _names(item: str, thread: str) -> bool:
    """Whether the item names the thread, as a word and with no other thread beside it.

    M6 stands in "bolt M6" and in M6x20, which is a length; not in M60, M6x0.75 or M6 x 1, which
    is a pitch. 1/4-28 does not stand in 1 1/4-28.
    """
    words, wanted = _plain(item), re.escape(_plain(thread))
    pitch = r"(?! ?x ?(?:0\.\d+|[1-4](?:\.\d+)?)(?![\d.]))"
    found = re.search(rf"(?<![\w/.-])(?<!\d ){wanted}(?!\d|[/.]\d){pitch}", words)
    inch = set(re.findall(r"(?<![\w/.-])\d+(?:[ -]\d+)?(?:/\d+)?-\d+", words))
    return bool(found) and inch <= {_plain(thread)}


def _plain(text: str) -> str:
    """Signs that a reader takes for one another made one: 10 - 32 is 10-32, M6 × 1 is m6x1."""
    dashes = re.sub("[\u2010-\u2014\u2212]", "-", text).lower()
    tight = re.sub(r"\s*-\s*", "-", dashes)
    return re.sub(r"(?<=\d)\s*[x\u00d7]\s*(?=\d)", "x", " ".join(tight.split()))
