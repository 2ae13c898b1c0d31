"""A block of a sheet, in; its pieces, out: one small function for each kind of block."""

from __future__ import annotations

from collections.abc import Callable

from generator.draw.blocks import (
    alerts,
    clocks,
    features,
    fill_in,
    full_size,
    grids,
    labels,
    lists,
    pictures,
    plain,
    points,
    readings,
    signs,
    strips,
    tables,
    workings,
)
from generator.draw.parse import Block, Container, Heading, Paragraph, Table
from generator.draw.pieces import Area, Pieces
from generator.findings import Refusal

CONTAINERS: dict[str, Callable[[Container, Area], Pieces]] = {
    "facts": lists.facts,
    "warning": alerts.warning,
    "caution": alerts.caution,
    "note": alerts.note,
    "stop": alerts.stop,
    "references": fill_in.references,
    "fill": fill_in.fill,
    "points": points.points,
    "features": features.features,
    "labels": labels.labels,
    "checklist": lists.checklist,
    "approvals": fill_in.approvals,
    "steps": lists.steps,
    "state": lists.state,
    "clock": clocks.clock,
    "strip": strips.strip,
    "grid": grids.grid,
    "lookup": strips.lookup,
    "map": pictures.fastener_map,
    "figure": pictures.figure,
    "full-size": full_size.full_size,
    "readings": readings.readings,
    "numbers": readings.numbers,
    "givens": workings.givens,
    "results": workings.results,
    "working": workings.working,
    "inputs": workings.inputs,
    "lines": workings.lines,
}
"""What each container draws. A frame and a sign-off are drawn by the page and the operation."""

_SIGNS = {"witness": signs.witness, "independent": signs.independent}


def pieces_of(block: Block, area: Area, in_operation: bool) -> Pieces:
    """The pieces of a block; refuses one that nobody draws."""
    match block:
        case Paragraph():
            return (plain.instruction if in_operation else plain.paragraph)(block, area)
        case Heading():
            return plain.small_heading(block, area)
        case Table():
            return tables.table(block, area)
        case Container(name="sign", words=words) if words in _SIGNS:
            return _SIGNS[words](block, area)
        case Container(name=name) if name in CONTAINERS:
            return CONTAINERS[name](block, area)
    raise Refusal("sheet", f"line {block.line}: {block.name!r} has no place here", "")
