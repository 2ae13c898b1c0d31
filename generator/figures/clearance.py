"""Boxes and strokes, in; whether they keep clear of each other, out. All in millimetres."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.figures.picture import Point


@dataclass(frozen=True)
class Box:
    """An upright rectangle; y runs down."""

    left: float
    top: float
    right: float
    bottom: float

    def grown(self, by: float) -> Box:
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def corners(self) -> tuple[Point, Point, Point, Point]:
        return (
            (self.left, self.top),
            (self.right, self.top),
            (self.right, self.bottom),
            (self.left, self.bottom),
        )

    def overlaps(self, other: Box) -> bool:
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def holds(self, other: Box) -> bool:
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.top <= other.top
            and other.bottom <= self.bottom
        )


@dataclass(frozen=True)
class Stroke:
    """A straight line from a to b."""

    a: Point
    b: Point

    def enters(self, box: Box) -> bool:
        """Whether any part of the stroke lies inside the box (clipped side by side)."""
        (ax, ay), (bx, by) = self.a, self.b
        # Most strokes are far from most boxes: this line alone makes a map or a profile quick.
        if (ax < box.left and bx < box.left) or (ax > box.right and bx > box.right):
            return False
        if (ay < box.top and by < box.top) or (ay > box.bottom and by > box.bottom):
            return False
        start, end = 0.0, 1.0
        for origin, to, low, high in (
            (ax, bx, box.left, box.right),
            (ay, by, box.top, box.bottom),
        ):
            run = to - origin
            if run == 0:
                if not low < origin < high:
                    return False
                continue
            near, far = sorted(((low - origin) / run, (high - origin) / run))
            start, end = max(start, near), min(end, far)
        return start < end

    def crosses(self, other: Stroke) -> bool:
        """Whether two strokes meet; parallel strokes never do."""
        (ax, ay), (bx, by) = self.a, self.b
        (cx, cy), (dx, dy) = other.a, other.b
        spread = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
        if spread == 0:
            return False
        along = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / spread
        across = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / spread
        return 0 <= along <= 1 and 0 <= across <= 1


def around(boxes: Iterable[Box]) -> Box:
    """The smallest box that holds all of them."""
    held = list(boxes)
    return Box(
        min(b.left for b in held),
        min(b.top for b in held),
        max(b.right for b in held),
        max(b.bottom for b in held),
    )
