"""Torques and the state of the threads in one process, in; where the two do not agree, out."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Fault, near_word
from generator.process import Process, Workshop

_STATE = "lubrication"


def threads_are_as_the_table_says(process: Process, _: Workshop) -> Iterator[Fault]:
    """A torque row for oil-free threads is no number for wet ones, nor for nobody knows which."""
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
                yield from _state_faults(here, operation.number, wanted, state, by)
        if operation.leaves_threads:
            state, by = operation.leaves_threads, operation.number


def _state_faults(
    here: tuple[str | int, ...], number: int, wanted: str, state: str, by: int
) -> Iterator[Fault]:
    wrong = f"operation {number} tightens by a row for {wanted} threads; "
    if not state:
        wrong += "no operation before it says how it leaves them. No number"
        yield Fault(here, "threads", wrong, f"leaves threads: {wanted}, at the one that does")
    elif state != wanted:
        wrong += f"operation {by} leaves them {state}. No number"
        right = f"a table row for {state} threads, or threads left {wanted}"
        yield Fault(here, "threads", wrong, right)


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
