"""A file of values that names travellers, in; the same with what was entered there, out.

What is frozen with a traveller is the value itself with the words where it was entered, so that it
can be printed again without the other traveller.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from generator.commands.in_force import last_done_on
from generator.findings import Fault, Refusal
from generator.read import Document

if TYPE_CHECKING:
    from generator.record import Traveller
    from generator.results.form import Field


def looked_up(folder: Path, document: Document) -> tuple[Document, list[Fault]]:
    """The document with an amount and its source for each value, or what stands in the way."""
    from generator.record import text_of

    values: Mapping[str, Any] = document.tree["values"]
    if not any("traveller" in each for each in values.values()):
        return document, []
    whole: dict[str, Any] = {}
    faults: list[Fault] = []
    for name, told in values.items():
        whole[name] = told
        if "traveller" in told:
            try:
                whole[name] = _entered(folder, told)
            except Refusal as no:
                faults.append(Fault(("values", name), no.code, no.wrong, no.right))
    tree = {**document.tree, "values": whole}
    return replace(document, tree=tree, source=text_of(tree)), faults


def _entered(folder: Path, told: Mapping[str, str]) -> dict[str, str]:
    """The amount that was entered, and where."""
    from generator.commands.enter import form_read, results_of
    from generator.record import traveller
    from generator.record.sound import sound
    from generator.results.entries import merged

    serial, operation, box = told["traveller"], told.get("operation", ""), told.get("box", "")
    history = traveller(folder, serial)
    sound(folder, serial)
    if history.status != "closed":
        wrong = f"{serial} is {history.status}: what was entered there is not accepted"
        raise Refusal("given", wrong, f"witnessmark close {serial}, first")
    supplement = _supplement(history, operation)
    form = form_read(history, supplement)
    field = _field(form.fields, serial, operation, box)
    trees = [each.tree["boxes"] for each in results_of(history, supplement)]
    entry = merged(trees, form).get(field.key)
    if entry is None or not entry.stands:
        wrong = f"nothing is entered in {box} of operation {operation} of {serial}"
        raise Refusal("given", wrong, "a reading that was taken")
    return {
        "is": f"{entry.text} {field.unit}".strip(),
        "from": f"{serial} operation {operation}, {box}",
    }


def _supplement(history: Traveller, operation: str) -> str:
    """The sheet on which an operation was done last. Refusal where another than it stands."""
    number, letter, rework = operation.partition("R")
    if again := last_done_on(history).get(number, ""):
        if f"{letter}{rework}" != again:
            wrong = f"operation {number} of {history.serial} was done again on {again}"
            raise Refusal("given", wrong, f"operation {number}{again}")
        return again
    changed = [
        str(each.tree["revision"])
        for each in history.of_kind("decide")
        if number in each.tree.get("operations", ())
    ]
    return changed[-1] if changed else ""


def _field(fields: tuple[Field, ...], serial: str, operation: str, box: str) -> Field:
    here = [each for each in fields if each.operation == operation and each.kind == "number"]
    named = [each for each in here if box in (each.label, each.row)]
    if len(named) == 1:
        return named[0]
    labels = ", ".join(dict.fromkeys(each.label for each in here)) or "no reading at all"
    wrong = f"operation {operation} of {serial} has no reading '{box}'"
    if named:
        wrong = f"'{box}' are {len(named)} boxes of operation {operation} of {serial}"
    raise Refusal("given", wrong, f"one of: {labels}")
