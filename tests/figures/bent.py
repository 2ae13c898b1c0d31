"""Rows of bent sections as a working prints them, and what a drawn flat pattern is read by."""

from __future__ import annotations

import re
from itertools import combinations, pairwise

from generator.figures import figure
from generator.figures.clearance import Box, Stroke
from generator.figures.picture import Circle, Line, Outline, Picture
from tests.figures.measured import (
    boxes,
    circle_enters,
    collisions,
    crossing,
    every,
    outside,
    strokes,
)

# FAA-H-8083-31 vol. 1 ch. 4: BA = (0.01743 R + 0.0078 T) A = 5.66 mm for R 3.2, T 0.914, 90°.
ANGLE = {
    "length": "72.5 mm",
    "thickness": "0.914 mm",
    "flat 1": "20.9 mm",
    "bend 1": "90° R 3.2 mm up",
    "allowance 1": "5.66 mm",
    "tangent 1": "20.9 mm to 26.6 mm",
    "sight 1": "24.1 mm",
    "flat 2": "45.9 mm",
}
Turns = list[tuple[float, float, str]]


def rows_of(
    thick: float, flats: list[float], bends: Turns, places: int = 1, unit: str = "mm", **more: str
) -> dict[str, str]:
    """The rows of a strip, worked out as a process would, rounded once each."""

    def said(value: float) -> str:
        return f"{value:.{places}f} {unit}"

    rows = {"thickness": f"{thick} {unit}", "flat 1": said(flats[0])}
    at = flats[0]
    for n, ((angle, radius, way), flat) in enumerate(zip(bends, flats[1:], strict=True), 1):
        allowance = (0.01743 * radius + 0.0078 * thick) * angle
        rows[f"bend {n}"] = f"{angle:g}° R {radius} {unit} {way}"
        rows[f"allowance {n}"] = said(allowance)
        rows[f"tangent {n}"] = f"{said(at)} to {said(at + allowance)}"
        sight = at + radius
        at += allowance + flat
        rows[f"sight {n}"] = said(min(sight, at))
        rows[f"flat {n + 1}"] = said(flat)
    return {"length": said(at), **rows, **{k.replace("_", " "): v for k, v in more.items()}}


UP, DOWN = (90.0, 3.2, "up"), (90.0, 3.2, "down")
SECTIONS = {
    "one bend": ANGLE,
    "U": rows_of(
        0.914, [20.9, 51.8, 20.9], [UP, UP],
        width="40 mm", grain="along the length", order="2 1", relief_1="Ø 3.2 mm",
    ),
    "joggle": rows_of(1.0, [30, 6, 40], [(30, 3.0, "up"), (30, 3.0, "down")], order="1 2"),
    "hat": rows_of(
        1.6, [13.2, 20.4, 50.4, 20.4, 13.2, 12.0], [DOWN, UP, UP, DOWN, (45, 3.2, "up")],
        grain="across the length", width="250 mm", order="2 3 1 4 5",
    ),
    "eight": rows_of(
        0.8, [12, 14, 14, 14, 24, 14, 14, 14, 12], [UP, DOWN] * 4,
        order="1 8 2 7 3 6 4 5", grain="along the length",
        **{f"relief_{n}": "Ø 3.0 mm" for n in range(1, 9)},
    ),
    "long": rows_of(1.2, [12, 864, 12], [UP, UP], width="80 mm", grain="along the length"),
    "clustered": rows_of(
        1.2, [1400, *[10.0] * 8], [(135, 3.2, "down"), (112.5, 3.2, "up")] * 4, order="8 7 6 5 4 3 2 1"
    ),
    "held": rows_of(
        1.6, [20.4, 30.4, 50.4, 30.4], [DOWN, UP, UP],
        order="2 3 1", nose_1="leg 1", nose_2="leg 2", nose_3="leg 3", relief_2="Ø 3.2 mm",
    ),
    "eight held": rows_of(
        0.8, [12, 14, 14, 14, 24, 14, 14, 14, 12], [UP, DOWN] * 4,
        order="1 8 2 7 3 6 4 5", **{f"nose_{n}": f"leg {n}" for n in range(1, 9)},
    ),
    "inches": rows_of(0.04, [0.8, 1.6, 0.8], [(90, 0.16, "up")] * 2, places=3, unit="in"),
}  # fmt: skip


def flat(rows: dict[str, str], wide: float = 165) -> Picture:
    return figure("figure", "flat-pattern", rows, wide)


def blank(picture: Picture) -> Box:
    """The rectangle: the one closed outline that is not filled."""
    (found,) = (o for o in every(picture, Outline) if o.closed and not o.filled)
    (left, top), _, (right, bottom), _ = found.points
    return Box(left, top, right, bottom)


def numbers(text: str) -> list[float]:
    return [float(found) for found in re.findall(r"[0-9]+(?:\.[0-9]+)?", text)]


def bends(rows: dict[str, str]) -> range:
    return range(1, 1 + sum(name.startswith("bend ") for name in rows))


def uprights(picture: Picture) -> list[Line]:
    """Upright strokes on the blank, its first edge left out."""
    held = blank(picture)
    return [
        line
        for line in every(picture, Line)
        if line.x1 == line.x2 and held.left < line.x1 < held.right
        and min(line.y1, line.y2) >= held.top and max(line.y1, line.y2) <= held.bottom
    ]  # fmt: skip


def along(picture: Picture, rows: dict[str, str], x: float) -> float:
    """How far from the first edge a place on paper is, in the unit of the rows."""
    held = blank(picture)
    return (x - held.left) / (held.right - held.left) * numbers(rows["length"])[0]


def neat(picture: Picture) -> bool:
    """No words on words or on any line, no leader over a leader, nothing outside the picture."""
    assert collisions(picture) == []
    assert outside(picture) == []
    drawn = strokes(picture)
    for name, held in boxes(picture).items():
        assert not any(stroke.enters(held) for stroke in drawn), name
        inside = [c for c in every(picture, Circle) if circle_enters(c, held)]
        assert len(inside) <= name.split(" ", 1)[1].isdecimal(), name
    leaders = [o for o in every(picture, Outline) if not o.closed]
    for one, other in combinations(leaders, 2):
        runs = [[Stroke(a, b) for a, b in pairwise(o.points)] for o in (one, other)]
        assert not any(crossing(a, b) for a in runs[0] for b in runs[1])
    return True
