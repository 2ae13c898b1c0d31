"""An operation as it was composed, and a record on which something of it is written or ticked, in;
what the record says above its boxes, out.

The steps stay on the traveller. Who works from the record must know what can hurt and how the work
starts without turning to another sheet, and where the rest stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from generator.composing.escape import Markdown, escape

Rows = list[tuple[str, Markdown]]
_ENDS = {"if it fails": "what to do if it fails", "leave": "how it is left"}
_LETTERS = "abcdefghijklmnopqrstuvwxyz"


def said_there(composed: Mapping[str, Any], written: bool) -> Rows:
    """How the operation starts, and what of it stands on the traveller. written: its readings and
    what is done when one fails are on the record, and only ticks of a map where it is False."""
    has = ", ".join(_on_the_traveller(composed, written))
    where = f"operation {composed['number']}" + (f": {has};" if has else ",")
    return [*composed["start"], ("traveller", escape(f"{where} ticked and stamped there"))]


def _on_the_traveller(composed: Mapping[str, Any], written: bool) -> Iterator[str]:
    steps, notes = len(composed["steps"]), len(composed["notes"])
    if steps:
        yield "step a" if steps == 1 else f"steps a to {_LETTERS[steps - 1]}"
    if composed["op"].uses:
        yield "what it uses"
    if notes:
        yield "note" if notes == 1 else "notes"
    if composed["figure"]:
        yield "figure"
    if written and composed["map"] and not composed["ticked_on"]:
        yield "map"
    if written:
        return
    if composed["clock"] and not composed["elsewhere"]:
        yield "times"
    if composed["readings"] and not composed["elsewhere"]:
        yield "readings"
    yield from (_ENDS[key] for key, _ in composed["after"])


def of_several(operations: Sequence[Mapping[str, Any]]) -> Mapping[str, Any]:
    """What a record that several operations share says above its boxes: every warning and every
    caution once, and how each of them starts."""
    rows = [(each["number"], row) for each in operations for row in said_there(each, False)]
    many = len(operations) > 1
    return {
        "warnings": _once(operations, "warnings"),
        "cautions": _once(operations, "cautions"),
        "there": [(f"{key}, {n}" if many and key != "traveller" else key, text)
                  for n, (key, text) in rows],
    }  # fmt: skip


def _once(operations: Sequence[Mapping[str, Any]], key: str) -> list[Markdown]:
    return list(dict.fromkeys(text for each in operations for text in each[key]))
