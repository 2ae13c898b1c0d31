"""Nothing in; a sheet of the largest maps that can be ticked, each in an operation, out."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Mapping
from pathlib import Path

SAMPLE = Path(__file__).parent / "sample.md"
COMMON = {"item": "bolt M6", "looking": "aft"}


def maps_sheet() -> str:
    """The frame of the sample, then an operation for each map of up to 200 fasteners."""
    front, _, _ = SAMPLE.read_text(encoding="utf-8").partition("\n# Main leg")
    body = "".join(
        _operation(10 * i, shape, rows) for i, (shape, rows) in enumerate(largest(), start=1)
    )
    return f"{front}\n# Operations\n\n{body}# End of traveller\n"


def largest() -> Iterator[tuple[str, Mapping[str, str]]]:
    """Shape and rows of each map."""
    ring = {"first": "top", "numbering": "clockwise", "pitch circle": "2400 mm", **COMMON}
    yield "circle", {"fasteners": "200", **ring}
    yield "circle", {"fasteners": "200", "order": _shuffled(200), **ring}
    yield "circle", {"fasteners": "49", "order": _shuffled(49), **ring}
    lines = {"numbering": "row by row", "first": "left", **COMMON}
    yield "rows", {"fasteners": "180", "in rows": "upper: 120; lower: 60", **lines}
    long = "; ".join(f"row {i}: {17 if i < 12 else 13}" for i in range(1, 13))
    yield "rows", {"fasteners": "200", "in rows": long, "order": _shuffled(200), **lines}
    named = [f"{x:g}, {up:g} P-{n}" for n, (x, up) in enumerate(spread(30, 70.0), 1)]
    by = {"datum": "lower left corner of the flange", **COMMON}
    yield "placed", {"fasteners": "30", "places": "; ".join(named), **by}
    many = [f"{x:g}, {up:g}" for x, up in spread(200, 35.0)]
    yield "placed", {
        "fasteners": "200", "places": "; ".join(many), "order": _shuffled(200), **by,
    }  # fmt: skip


def _shuffled(count: int) -> str:
    numbers = [*range(1, count + 1)]
    random.Random(count).shuffle(numbers)
    return " ".join(map(str, numbers))


def spread(count: int, apart: float) -> list[tuple[float, float]]:
    chance = random.Random(count)
    found: list[tuple[float, float]] = []
    while len(found) < count:
        at = (round(chance.uniform(0, 1200), 1), round(chance.uniform(0, 700), 1))
        if all(math.dist(at, other) >= apart for other in found):
            found.append(at)
    return found


def _operation(number: int, shape: str, rows: Mapping[str, str]) -> str:
    cells = [f"| {label} | {text} |" for label, text in rows.items()]
    table = "\n".join([cells[0], "| --- | --- |", *cells[1:]])
    sign = "::: sign done\n| done by | volunteer |\n| --- | --- |\n:::"
    do = f"**TIGHTEN** the fasteners of map {number}."
    return f"## {number} work\n\n{do}\n\n::: map {shape}\n{table}\n:::\n\n{sign}\n\n"
