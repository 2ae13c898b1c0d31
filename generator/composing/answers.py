"""Tables of ready answers, maps and figures of one operation in; their rows out."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from generator.composing.escape import Markdown, escape
from generator.composing.there import of_several
from generator.composing.writer import Writer
from generator.computing.working import Working
from generator.figures import WIDE, figure
from generator.figures.placed_map import asked_for
from generator.findings import Fault, Refusal, fault
from generator.process import FastenerMap, Operation
from generator.quantities.amount import Amount
from generator.quantities.rounding import with_minus
from generator.quantities.units import unit
from generator.read import Steps


def lookup(operation: Operation) -> Mapping[str, Any] | None:
    lookup = operation.lookup
    if lookup is None:
        return None
    flag = " TYPED" if lookup.source == "calculated" else ""
    rows = []
    for row in lookup.rows:
        first, *others = (escape(with_minus_sign(cell)) for cell in row)
        framed = Markdown(f"**{first}**") if row[0] == lookup.framed else first
        rows.append([framed, *others])
    return {"title": lookup.title, "flag": flag, "columns": lookup.columns, "rows": rows}


def fastener_map(writer: Writer, operation: Operation) -> Mapping[str, Any] | None:
    plan = writer.process.maps.get(operation.map)
    return None if plan is None else {"shape": plan.shape, "cells": map_cells(writer, plan)}


def riveted(writer: Writer, operations: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """Every map of rivets, with the numbers that hold for it and the rows that are counted.

    operations: as they were composed; what warns those that rivet by a map stands above it.
    """
    by_map = {name: [o for o in operations if o["op"].map == name] for name in writer.process.maps}
    return [
        {
            "title": f"Map {name.replace('_', ' ')}",
            "map": {"shape": plan.shape, "cells": map_cells(writer, plan)},
            "facts": _facts(writer, plan),
            "rows": list(plan.in_rows.items()) or [("all", plan.fasteners)],
            "count": plan.fasteners,
            "operations": [str(each["number"]) for each in by_map[name]],
            **of_several(by_map[name]),
        }
        for name, plan in writer.process.maps.items()
        if plan.fastening == "rivet"
    ]


def _facts(writer: Writer, plan: FastenerMap) -> list[tuple[Markdown, Markdown]]:
    here: Steps = ("maps", plan.name, "facts")
    found = []
    for i, name in enumerate(plan.facts):
        number = writer.workings.numbers.get(name)
        if number is None:
            writer.faults.append(writer.unnamed((*here, i), name))
            continue
        value = Markdown(f"[{escape(number.text)}](#{number.mark})")
        found.append((escape(number.meaning or name.replace("_", " ")), value))
    return found


def map_cells(writer: Writer, plan: FastenerMap) -> Mapping[str, str]:
    """The rows of a map, by their labels."""
    own = {"pitch circle": plan.pitch_circle}
    rows = {"fasteners": str(plan.fasteners)}
    if plan.shape == "rectangle":
        rows |= {"rows": str(plan.rows), "columns": str(plan.columns)}
        own = {"pitch across": plan.pitch_across, "pitch down": plan.pitch_down}
    if plan.shape == "rows":
        rows["in rows"] = "; ".join(f"{name}: {count}" for name, count in plan.in_rows.items())
    if plan.shape == "placed":
        rows["places"] = "; ".join(map(_place, plan.places, plan.marks))
        rows["datum"] = plan.datum
    rows["item"] = plan.item
    rows |= {label: pitch.typed for label, pitch in own.items() if pitch is not None}
    told = {"first": plan.first, "numbering": plan.numbering, "looking": plan.looking}
    rows |= {label: words for label, words in told.items() if words}
    if plan.order:
        rows |= _order(writer, plan)
    if plan.places:
        _told_apart(writer, plan, rows)
    return rows


def _told_apart(writer: Writer, plan: FastenerMap, rows: Mapping[str, str]) -> None:
    """A fault where a map by places cannot be drawn: here its line in the file is known. What is
    wrong with the places themselves the rules have told."""
    try:
        asked_for(rows)
    except Refusal:
        return
    try:
        figure("map", plan.shape, rows, WIDE, _PAGE)
    except Refusal as refusal:
        writer.faults.append(fault(("maps", plan.name, "places"), refusal))


_PAGE = 183.0  # what an operation on A4 leaves of a page for a map (mm)
_ORDERS = {
    "circle": "tightening_order_circle",
    "rectangle": "tightening_order_rectangle",
    "rows": "tightening_order_rows",
    "placed": "tightening_order_placed",
}


_SPOKEN = {"rows": "map in rows", "placed": "map by places"}


def _place(place: tuple[Amount, Amount], mark: str) -> str:
    """Across and up in millimetres, and its mark."""
    across, up = map(_mm, place)
    return f"{across}, {up} {mark}" if mark else f"{across}, {up}"


def _mm(place: Amount) -> str:
    """A place in millimetres, to a hundredth; the drawing is no finer."""
    return f"{place.in_unit(unit('mm')).number():.2f}".rstrip("0").rstrip(".")


def _order(writer: Writer, plan: FastenerMap) -> Mapping[str, str]:
    here: Steps = ("maps", plan.name, "order")  # one slip, however many operations print it
    name, fasteners = plan.order, plan.fasteners
    number = writer.workings.numbers.get(name)
    if number is None or not number.order:
        writer.faults.append(
            Fault(
                here,
                "name",
                f"'{name}' is no tightening order",
                "a working that gives an order",
            )
        )
        return {}
    if sorted(number.order) != list(range(1, fasteners + 1)):
        wrong = f"the order '{name}' is for {len(number.order)} fasteners; the map has {fasteners}"
        writer.faults.append(Fault(here, "count", wrong, f"fasteners: {fasteners} in both"))
    elif wrong := _of_another_shape(writer.workings.workings[name], plan):
        use = f"use: {_ORDERS[plan.shape]}"
        right = f"{use}, rows: {plan.rows}, columns: {plan.columns}" if plan.rows else use
        right += f", rows of {_listed([*plan.in_rows.values()])}" if plan.in_rows else ""
        right += ", with the places of the map" if plan.places else ""
        writer.faults.append(Fault(here, "order", wrong, right))
    return {"order": number.text}


def _of_another_shape(working: Working, plan: FastenerMap) -> str:
    """What is wrong with an order that was worked out for other rows, or for another shape."""
    ran = working.ran
    if ran is None or ran.calculation.name != _ORDERS[plan.shape]:
        return f"the order '{plan.order}' is not for a {_SPOKEN.get(plan.shape, plan.shape)}"
    if plan.shape == "rows":
        counts = [row.fasteners for row in ran.inputs["rows"]]
        same = counts == [*plan.in_rows.values()]
        return "" if same else f"the order '{plan.order}' is for rows of {_listed(counts)}"
    if plan.shape == "placed":
        order = [(each.across.value, each.up.value) for each in ran.inputs["places"]]
        own = [(across.value, up.value) for across, up in plan.places]
        moved = [n for n, (a, b) in enumerate(zip(order, own, strict=False), 1) if a != b]
        return f"the order '{plan.order}' has fastener {moved[0]} elsewhere" if moved else ""
    rows, columns = ran.inputs.get("rows", 0), ran.inputs.get("columns", 0)
    if (rows, columns) != (plan.rows, plan.columns):
        return (
            f"the order '{plan.order}' is for {rows} rows of {columns}; "
            f"the map has {plan.rows} rows of {plan.columns}"
        )
    return ""


def _listed(counts: Sequence[int]) -> str:
    return ", ".join(map(str, counts))


def with_minus_sign(text: str) -> str:
    """A cell that begins with a hyphen and a digit begins with a true minus."""
    return with_minus(text) if re.match(r"-\d", text) else text
