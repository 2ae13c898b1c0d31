"""The features of the inspection sheet and the figures of the operations in; each figure that is
measured, with the number of every feature at its dimension, out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.composing.kinds import inspected
from generator.composing.writer import Writer
from generator.figures import BALLOON, offered
from generator.findings import Fault, Refusal, near_word
from generator.process import Process, Reading
from generator.read import Steps

Composed = Sequence[Mapping[str, Any]]


@dataclass(frozen=True)
class View:
    """A figure or a map of an operation: the name of its container and of its picture, its rows,
    the dimensions that it names, and whether it is drawn at nominal."""

    operation: int
    block: str
    words: str
    rows: tuple[tuple[str, str], ...]
    names: tuple[str, ...]
    nominal: bool


def figures(
    writer: Writer, operations: Composed, features: Sequence[Mapping[str, Any]]
) -> list[Mapping[str, Any]]:
    """The figures that readings measure, in the order of their operations, with their balloons.

    A fault where a reading names what no figure has, or is no feature.
    """
    balloons: dict[View, list[tuple[str, str]]] = {}
    numbers = iter(features)
    for here, reading in _readings(writer.process):
        number = next(numbers)["number"] if _is_feature(writer.process, here, reading) else 0
        if reading.on_figure:
            for view, names in _measured(writer, operations, here, reading):
                row = (f"{BALLOON}{number}", "; ".join(names))
                balloons.setdefault(view, []).append(row)
    return [
        {
            "operation": view.operation,
            "block": view.block,
            "words": view.words,
            "rows": [*view.rows, *rows],
            "nominal": view.nominal,
        }
        for view, rows in sorted(balloons.items(), key=lambda each: each[0].operation)
    ]


def _is_feature(process: Process, here: Steps, reading: Reading) -> bool:
    return inspected(process, process.operations[int(here[1])], reading)


def _readings(process: Process) -> Iterator[tuple[Steps, Reading]]:
    for i, operation in enumerate(process.operations):
        for j, reading in enumerate(operation.readings):
            yield ("operations", i, "readings", j), reading


def _measured(
    writer: Writer, operations: Composed, here: Steps, reading: Reading
) -> Iterator[tuple[View, list[str]]]:
    """The views that a reading measures, with the dimensions on each; a fault for a wrong one."""
    if not _is_feature(writer.process, here, reading):
        wrong = f"'{reading.name}' has no limit, so it is no feature of the inspection sheet"
        right = "a limit, or no 'on figure'"
        writer.faults.append(Fault((*here, "on figure"), "figure", wrong, right, of_key=True))
        return
    views = _views_for(writer, operations, here, reading)
    names = [name for view in views for name in view.names]
    for name in reading.on_figure:
        if views and name not in names:
            wrong = f"the figure of operation {views[0].operation} has no dimension '{name}'"
            near = near_word(name, names)
            right = (f"{near}? " if near else "") + "one of: " + ", ".join(names)
            writer.faults.append(Fault((*here, "on figure"), "figure", wrong, right))
    for view in views:
        own = [name for name in dict.fromkeys(reading.on_figure) if name in view.names]
        if own:
            yield view, own


def _views_for(writer: Writer, operations: Composed, here: Steps, reading: Reading) -> list[View]:
    """The figure and the map of the operation that a reading names; a fault where it has none."""
    own = operations[int(here[1])]["number"]
    number = reading.figure_at or own
    found = [each for each in operations if each["number"] == number]
    views = list(_views(found[0])) if found else []
    named = [view for view in views if view.names]
    if not named:
        key = "figure at" if reading.figure_at else "on figure"
        wrong = f"operation {number} has no figure and no map with a dimension"
        having = [str(each["number"]) for each in operations if any(v.names for v in _views(each))]
        right = f"figure at: {' or '.join(having)}" if having else "a figure: at that operation"
        writer.faults.append(Fault((*here, key), "figure", wrong, right, of_key=key == "on figure"))
    return named


def _views(composed: Mapping[str, Any]) -> Iterator[View]:
    """What is drawn at an operation; the order in which a map is tightened is left out."""
    drawn = composed.get("figure")
    if drawn:
        yield _view(composed, "figure", drawn["kind"], drawn["rows"], drawn["nominal"])
    plan = composed.get("map")
    if plan:
        rows = [(key, value) for key, value in plan["cells"].items() if key != "order"]
        yield _view(composed, "map", plan["shape"], rows, False)


def _view(
    composed: Mapping[str, Any],
    block: str,
    words: str,
    rows: Sequence[tuple[str, str]],
    nominal: bool,
) -> View:
    try:
        names = offered(block, words, dict(rows))
    except Refusal:
        names = ()  # told where the traveller is laid out
    return View(composed["number"], block, words, tuple(rows), names, nominal)
