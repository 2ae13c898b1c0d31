"""Signs that no face of ours has, in; strokes in ems from the base line, out.

x runs right and y runs up, one unit is the letter size.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Stroke:
    """A run of points; closed joins the ends, filled makes the inside black."""

    points: Points
    closed: bool = False
    filled: bool = False


@dataclass(frozen=True)
class Sign:
    """How far the next letter stands off, and the strokes."""

    advance: float
    strokes: tuple[Stroke, ...]


def ring(x: float, y: float, radius: float, sides: int = 28) -> Points:
    """A circle as a polygon: at letter size no eye sees the sides."""
    turns = [2 * pi * i / sides for i in range(sides)]
    return tuple((x + radius * cos(t), y + radius * sin(t)) for t in turns)


def _square(side: float, low: float) -> Points:
    return ((0.08, low), (0.08 + side, low), (0.08 + side, low + side), (0.08, low + side))


_ROOT: Points = ((0.10, 0.32), (0.18, 0.36), (0.30, 0.0), (0.50, 0.84), (0.62, 0.84))
_THREE: Points = (
    (0.06, 0.80), (0.14, 0.84), (0.20, 0.78), (0.13, 0.70), (0.21, 0.62), (0.14, 0.54),
    (0.05, 0.58),
)  # fmt: skip

SIGNS: dict[str, Sign] = {
    "∛": Sign(0.66, (Stroke(_ROOT), Stroke(_THREE))),
    "⌀": Sign(0.76, (Stroke(ring(0.37, 0.34, 0.27), True), Stroke(((0.10, 0.0), (0.64, 0.68))))),
    "∠": Sign(0.72, (Stroke(((0.58, 0.60), (0.06, 0.03), (0.66, 0.03))),)),
    "⟂": Sign(0.72, (Stroke(((0.06, 0.03), (0.66, 0.03))), Stroke(((0.36, 0.03), (0.36, 0.66))))),
    "□": Sign(0.78, (Stroke(_square(0.62, 0.02), True),)),
    "■": Sign(0.78, (Stroke(_square(0.62, 0.02), True, True),)),
    "▶": Sign(0.74, (Stroke(((0.08, 0.02), (0.68, 0.33), (0.08, 0.64)), True, True),)),
    "◀": Sign(0.74, (Stroke(((0.66, 0.02), (0.06, 0.33), (0.66, 0.64)), True, True),)),
    "✓": Sign(0.74, (Stroke(((0.08, 0.30), (0.28, 0.06), (0.66, 0.64))),)),
    "′": Sign(0.26, (Stroke(((0.18, 0.72), (0.09, 0.46))),)),
    "″": Sign(0.40, (Stroke(((0.18, 0.72), (0.09, 0.46))), Stroke(((0.32, 0.72), (0.23, 0.46))))),
}
