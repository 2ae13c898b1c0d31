"""Points of a PORT part and a STBD part as rows, in; the plan of both about the middle line, out.

Seen from above with the bow up: PORT is to the left, STBD to the right, across plus to STBD.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.figures.hinge_rows import numbered, places
from generator.figures.lettering import centred_baseline, wrapped
from generator.figures.picture import Circle, Line, Mark, Outline, Picture, Point, Words

SIZE, SMALL, FINE, LINE = 10.5, 9.0, 0.25, 4.8
HIGHEST, TOP = 70.0, 12.0
KEY = (
    "Seen from above, bow up. Along: plus aft (down). Across: plus to STBD (right), so a true pair "
    "has the other sign of it on the other side. Up: plus towards you. Circles: PORT, crosses: "
    "STBD."
)


def pair_plan(rows: Mapping[str, str], width: float) -> Picture:
    """All points by their numbers; a sign that slipped lies on the wrong side."""
    count = numbered(rows, "port")
    numbers = range(1, count + 1)
    pairs = [(places(rows, f"port {n}")[0], places(rows, f"stbd {n}")[0]) for n in numbers]
    every = [point for pair in pairs for point in pair]
    far = max(max(abs(across) for _, across in every), 1e-6)
    first, last = min(along for along, _ in every), max(along for along, _ in every)
    scale = min((width / 2 - 10.0) / far, HIGHEST / max(last - first, 1e-6))
    high = scale * (last - first)

    def at(point: Point) -> Point:
        return width / 2 + scale * point[1], TOP + scale * (point[0] - first)

    marks: list[Mark] = list(_middle(width, TOP + high))
    for n, (port, stbd) in enumerate(pairs, start=1):
        marks += _port(at(port), n)
        marks += _stbd(at(stbd), n)
    y = TOP + high + 12.0
    for text in (f"Wrong sign at: {rows['slips']}.", f"Differs at: {rows['differ']}.", KEY):
        for line in wrapped(text, SIZE, width):
            marks.append(Words(0.0, y, line, SIZE))
            y += LINE
    return Picture(width, y - 1.0, tuple(marks))


def _middle(width: float, bottom: float) -> Iterator[Mark]:
    """The middle line with its arrow to the bow, and the names of the sides."""
    x = width / 2
    yield Line(x, 5.0, x, bottom + 5.0, FINE)
    yield Outline(((x, 3.0), (x - 1.2, 6.0), (x + 1.2, 6.0)), FINE, True, True)
    yield Words(x + 2.4, 5.6, "BOW", SIZE, True)
    yield Words(0.0, 5.6, "PORT", SIZE, True)
    yield Words(width, 5.6, "STBD", SIZE, True, "end")


def _port(at: Point, number: int) -> Iterator[Mark]:
    yield Circle(*at, 1.4, 0.5)
    yield Words(at[0] - 2.4, centred_baseline(at[1], SMALL), str(number), SMALL, True, "end")


def _stbd(at: Point, number: int) -> Iterator[Mark]:
    x, y = at
    yield Line(x - 1.4, y, x + 1.4, y, 0.5)
    yield Line(x, y - 1.4, x, y + 1.4, 0.5)
    yield Words(x + 2.4, centred_baseline(y, SMALL), str(number), SMALL, True)
