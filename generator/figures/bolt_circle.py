"""Holes on a circle as rows, in; the circle with its axes and every hole at its place, out."""

from __future__ import annotations

from collections.abc import Mapping

from generator.figures.hinge_rows import amount, numbered
from generator.figures.lettering import centred_baseline, wrapped
from generator.figures.picture import Circle, Line, Mark, Picture, Words

SIZE, SMALL, FINE, LINE = 10.5, 9.0, 0.25, 4.8
LARGEST = 84.0
ROOM = 9.0  # round the circle for numbers and axes


def bolt_circle(rows: Mapping[str, str], width: float) -> Picture:
    """The pitch circle to scale, hole by hole. The places themselves stand in the table."""
    count = numbered(rows, "hole")
    diameter, text = amount(rows, "diameter")
    size = min(LARGEST, width - 2 * ROOM)
    scale = size / diameter
    x, y = width / 2, ROOM + size / 2
    marks: list[Mark] = [
        Circle(x, y, size / 2, 0.35),
        Line(x - size / 2 - 4, y, x + size / 2 + 4, y, FINE),
        Line(x, y + size / 2 + 4, x, y - size / 2 - 4, FINE),
        Words(x + size / 2 + 5.0, y + 1.3, "x", SIZE, True),
        Words(x + 1.4, y - size / 2 - 5.0, "y", SIZE, True),
    ]
    letters = SIZE if count <= 24 else SMALL
    for n in range(1, count + 1):
        across, up = _place(rows, n)
        at = (x + scale * across, y - scale * up)
        marks.append(Circle(*at, 1.2, 0.5))
        inside, beside = 1 - 10.0 / size, 6.0 / size  # off the axes, on which a hole may stand
        label = (
            x + scale * (across * inside - up * beside),
            y - scale * (up * inside + across * beside),
        )
        base = centred_baseline(label[1], letters)
        marks.append(Words(label[0], base, str(n), letters, True, "middle", (f"hole {n}",)))
    said = (
        f"Pitch circle {text}, {count} holes, {rows['way']} as seen here; x to the right, y upward "
        f"from the middle. Hole to hole {rows['chord']}."
    )
    down = y + size / 2 + 10.0
    for line in wrapped(said, SIZE, width):
        marks.append(Words(0.0, down, line, SIZE))
        down += LINE
    return Picture(width, down - 1.0, tuple(marks))


def _place(rows: Mapping[str, str], n: int) -> tuple[float, float]:
    across, _, up = rows[f"hole {n}"].partition("; ")
    both = {"x": across, "y": up}
    return amount(both, "x")[0], amount(both, "y")[0]
