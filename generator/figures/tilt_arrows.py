"""Tilted faces as rows, in; the plan of each with its arrow, and its section, out.

A face is seen as it lies in the vice, the shell face up and inboard away from whoever looks: the
bow is then to the left of STBD bases and to the right of PORT ones.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.figures.hinge_rows import amount, hand_of, numbered
from generator.figures.lettering import wrapped
from generator.figures.picture import Anchor, Circle, Line, Mark, Outline, Picture, Point, Words

SIZE, FINE, HEAVY = 10.5, 0.25, 0.9
LINE = 4.8
CELL, SIDE = 31.0, 20.0
HEAD = 3.2
STEEPEST = 22.0  # degrees that the largest slope along is drawn as
KEY = (
    "Seen onto the shell face as it lies in the vice. Arrow: from the middle to where the shell is "
    "highest and the base is cut lowest. Azimuth: from INBOARD (up), plus turns towards AFT. "
    "Below: section along the line, datum face on top, slope drawn larger. Ends: bow end taller "
    "than aft end."
)


@dataclass(frozen=True)
class Face:
    """One face: its angles, and what is printed of it."""

    along: float
    azimuth: float
    texts: tuple[str, ...]
    ends: str


def tilt_arrows(rows: Mapping[str, str], width: float) -> Picture:
    """Every face beside the others, as many in a row as the width takes."""
    faces = [_face(rows, n) for n in range(1, numbered(rows, "tilt") + 1)]
    each = max(1, min(len(faces), int(width // CELL)))
    cell = width / each
    steep = max(abs(face.along) for face in faces)
    aft = 1.0 if hand_of(rows) == "STBD" else -1.0
    marks: list[Mark] = []
    y = 0.0
    for start in range(0, len(faces), each):
        for k, face in enumerate(faces[start : start + each]):
            middle = cell * (k + 0.5)
            marks += _plan(face, start + k + 1, (middle, y + LINE + 1.5), aft)
            below = y + LINE + SIDE + 5.0 + LINE * len(face.texts)
            marks += _section(face, steep, (middle, below), aft)
        y += 2 * LINE + SIDE + 22.5 + LINE * len(faces[0].texts)
    for text in wrapped(f"{rows['of hand']}. {KEY}", SIZE, width):
        marks.append(Words(0.0, y + 1.0, text, SIZE))
        y += LINE
    return Picture(width, y, tuple(marks))


def _face(rows: Mapping[str, str], n: int) -> Face:
    azimuth, azimuth_text = amount(rows, f"azimuth {n}")
    along, _ = amount(rows, f"along {n}")
    _, tilt = amount(rows, f"tilt {n}")
    ends = amount(rows, f"ends {n}")[1] if f"ends {n}" in rows else ""
    return Face(along, azimuth, (f"tilt {tilt}", f"azim. {azimuth_text}"), ends)


def _plan(face: Face, number: int, at: Point, aft: float) -> Iterator[Mark]:
    """The face: its number, BOW at its edge, its arrow, what is printed of it. aft: 1 to the
    right."""
    (x, y), half = at, SIDE / 2
    yield Words(x, y - 1.6, f"base {number}", SIZE, True, "middle")
    box = ((x - half, y), (x + half, y), (x + half, y + SIDE), (x - half, y + SIDE))
    yield Outline(box, 0.35, True)
    yield Line(x, y, x, y + SIDE, FINE)
    anchor: Anchor = "start" if aft > 0 else "end"
    yield Words(x - aft * (half - 0.8), y + SIDE - 1.2, "BOW", 9.0, True, anchor)
    turn = math.radians(face.azimuth)
    ux, uy = aft * math.sin(turn), -math.cos(turn)
    middle = y + half
    reach = half - 1.2
    tip = (x + reach * ux, middle + reach * uy)
    yield Line(x - 0.6 * reach * ux, middle - 0.6 * reach * uy, *tip, HEAVY)
    yield head(tip, (ux, uy))
    yield Circle(x, middle, 0.6, 0.35)
    for k, text in enumerate(face.texts, start=1):
        yield Words(x, y + SIDE + LINE * k, text, SIZE, False, "middle")


def head(tip: Point, way: Point) -> Outline:
    back = (tip[0] - HEAD * way[0], tip[1] - HEAD * way[1])
    side = (-way[1] * HEAD / 2.6, way[0] * HEAD / 2.6)
    corners: Sequence[Point] = (
        tip, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1]),
    )  # fmt: skip
    return Outline(tuple(corners), FINE, True, True)


def _section(face: Face, steep: float, at: Point, aft: float) -> Iterator[Mark]:
    """The section along: the shell face rises towards aft where the slope along is plus."""
    (x, y), half = at, SIDE / 2
    angle = math.radians(STEEPEST * face.along / steep) if steep > 0 else 0.0
    rise = aft * half * math.tan(angle)
    low = y + 8.5
    yield Outline(
        ((x - half, y), (x + half, y), (x + half, low - rise), (x - half, low + rise)), 0.5, True
    )
    if face.ends:
        yield Words(x, low + 8.8, f"ends {face.ends}", SIZE, False, "middle")
