"""The maps of one process in; what does not suit their shape out."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.check.thread_rules import other_threads
from generator.findings import Fault, near_word
from generator.process import FastenerMap, Process, Workshop
from generator.quantities.units import unit

SAME = 0.1  # nearer than that is the same place (mm); the map and its drawing say so too
_ENDS = ("top", "bottom", "left", "right")
_CORNERS = ("top left", "top right", "bottom left", "bottom right")
# What each shape takes: where number 1 may stand, how it is numbered, and its own keys.
_CALLED = {"circle": "a circle", "rectangle": "a rectangle", "rows": "a map in rows",
           "placed": "a map by places"}  # fmt: skip
_FIRST = {"circle": _ENDS, "rectangle": _CORNERS, "rows": _ENDS, "placed": ("",)}
_NUMBERING = {
    "circle": ("clockwise", "anticlockwise"),
    "rectangle": ("row by row",),
    "rows": ("row by row",),
    "placed": ("",),
}
_MUST = {
    "circle": {"pitch circle": "its diameter, such as 640 mm"},
    "rectangle": {"rows": "how many, such as 4", "columns": "how many in a row, such as 6"},
    "rows": {"in rows": "{upper row: 24, lower row: 24}"},
    "placed": {
        "places": "[{across: 12.5 mm, up: 40 mm}, ...]",
        "datum": "from where they are measured, such as lower left corner of the flange",
    },
}
_MAY = {
    "circle": ("pitch circle", "order", "full size"),
    "rectangle": ("rows", "columns", "pitch across", "pitch down", "order", "full size"),
    "rows": ("in rows", "order"),
    "placed": ("places", "datum", "order", "full size"),
}


def maps_suit_their_shape(process: Process, workshop: Workshop) -> Iterator[Fault]:
    """A circle has a pitch circle, a rectangle rows and columns; neither has the other's keys.
    What is fastened is a line of the kit, and there is enough of it."""
    yield from _item_faults(process, workshop)
    yield from _short_faults(process)
    for name, plan in process.maps.items():
        yield from _key_faults(name, plan)
        yield from _word_faults(name, plan)
        yield from _count_faults(name, plan)
        yield from _place_faults(name, plan)


def _own(plan: FastenerMap) -> dict[str, bool]:
    return {
        "pitch circle": plan.pitch_circle is not None,
        "rows": plan.rows > 0,
        "columns": plan.columns > 0,
        "pitch across": plan.pitch_across is not None,
        "pitch down": plan.pitch_down is not None,
        "in rows": bool(plan.in_rows),
        "places": bool(plan.places),
        "datum": bool(plan.datum),
        "order": bool(plan.order),
        "full size": plan.full_size,
    }


def _key_faults(name: str, plan: FastenerMap) -> Iterator[Fault]:
    for key, said in _own(plan).items():
        if said and key not in _MAY[plan.shape]:
            wrong = f"map '{name}': {_CALLED[plan.shape]} has no '{key}'"
            right = ", ".join(_MAY[plan.shape])
            yield Fault(("maps", name, key), "kind", wrong, right, of_key=True)
        elif not said and key in _MUST[plan.shape]:
            wrong = f"map '{name}': {_CALLED[plan.shape]} needs '{key}'"
            right = f"{key}: {_MUST[plan.shape][key]}"
            yield Fault(("maps", name), "missing", wrong, right, of_key=True)


def _word_faults(name: str, plan: FastenerMap) -> Iterator[Fault]:
    for key, word, words in (
        ("first", plan.first, _FIRST[plan.shape]),
        ("numbering", plan.numbering, _NUMBERING[plan.shape]),
    ):
        if not word and words != ("",):
            wrong = f"map '{name}': {_CALLED[plan.shape]} needs '{key}'"
            yield Fault(("maps", name), "missing", wrong, f"{key}: {' or '.join(words)}", True)
        elif word not in words:
            wrong = f"map '{name}': '{word}' does not belong to {_CALLED[plan.shape]}"
            right = " or ".join(filter(None, words)) or f"no '{key}': number 1 is the first place"
            yield Fault(("maps", name, key), "choice", wrong, right)


def _count_faults(name: str, plan: FastenerMap) -> Iterator[Fault]:
    stand = sum(plan.in_rows.values())
    if plan.shape == "rows" and stand and stand != plan.fasteners:
        wrong = f"map '{name}': its rows hold {stand} fasteners, not {plan.fasteners}"
        right = f"fasteners: {stand}, or other rows"
        yield Fault(("maps", name, "fasteners"), "count", wrong, right)
    if plan.places and len(plan.places) != plan.fasteners:
        wrong = f"map '{name}': {len(plan.places)} places, and {plan.fasteners} fasteners"
        right = f"fasteners: {len(plan.places)}, or other places"
        yield Fault(("maps", name, "fasteners"), "count", wrong, right)
    count = plan.rows * plan.columns
    if plan.shape == "rectangle" and count and count != plan.fasteners:
        wrong = f"map '{name}': {plan.rows} rows of {plan.columns} are {count} fasteners, "
        wrong += f"not {plan.fasteners}"
        right = f"fasteners: {count}, or other rows and columns"
        yield Fault(("maps", name, "fasteners"), "count", wrong, right)


def _place_faults(name: str, plan: FastenerMap) -> Iterator[Fault]:
    """Two fasteners at one place, or of one mark; the later one is told."""
    at = [
        tuple(float(each.in_unit(unit("mm")).number()) for each in place) for place in plan.places
    ]
    for i, place in enumerate(at):
        twin = next((j for j in range(i) if math.dist(at[j], place) < SAME), None)
        if twin is not None:
            wrong = f"map '{name}': fasteners {twin + 1} and {i + 1} stand at the same place"
            right = f"places at least {SAME:g} mm apart, each fastener once"
            yield Fault(("maps", name, "places", i, "across"), "place", wrong, right)
    for i, mark in enumerate(plan.marks):
        if mark and mark in plan.marks[:i]:
            first = plan.marks.index(mark) + 1
            wrong = f"map '{name}': fasteners {first} and {i + 1} are both '{mark}'"
            yield Fault(("maps", name, "places", i, "mark"), "name", wrong, "a mark of its own")


def _item_faults(process: Process, workshop: Workshop) -> Iterator[Fault]:
    """Items that are no kit line, where the kit lists hardware. What stands under "each takes",
    and a thread that differs from the torque row's, are told by their own rules."""
    kit = [line.item for line in process.kit]
    if not any(line.sort == "hardware" for line in process.kit):
        return
    told = other_threads(process, workshop)
    for name, plan in process.maps.items():
        if plan.item not in (*kit, *plan.each_takes) and name not in told:
            near = near_word(plan.item, kit)
            right = f"{near}?" if near else "the words of a kit line"
            wrong = f"map '{name}': '{plan.item}' is not in the kit"
            yield Fault(("maps", name, "item"), "name", wrong, right)


def _short_faults(process: Process) -> Iterator[Fault]:
    """A kit with fewer than a map fastens. It may have more: for another map, or for places on
    none. What stands under "each takes" must agree, by a rule of its own."""
    kit = {line.item: (i, line) for i, line in enumerate(process.kit)}
    for name, plan in process.maps.items():
        i, line = kit.get(plan.item, (0, None))
        if line is None or line.count is None or plan.item in plan.each_takes:
            continue
        if line.count < plan.fasteners:
            wrong = f"map '{name}' has {plan.fasteners} fasteners; "
            wrong += f"the kit has {line.quantity} of '{plan.item}'"
            right = f"quantity: {plan.fasteners} or more, spares apart"
            yield Fault(("kit", i, "quantity"), "count", wrong, right)
