"""Labels and the places they may take, in; the ones that keep clear of everything, out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from generator.figures.clearance import Box, Stroke
from generator.figures.picture import Mark, Point


@dataclass(frozen=True)
class Label:
    """Something to be placed: its marks, the boxes they need and the strokes that lead to it."""

    marks: tuple[Mark, ...]
    boxes: tuple[Box, ...]
    strokes: tuple[Stroke, ...] = ()


@dataclass
class Bench:
    """The paper while labels are laid out, and what has its place on it already.

    metal is the sheet's middle line and edges its two surfaces, both coarse.
    """

    frame: Box
    metal: tuple[Stroke, ...]
    edges: tuple[Stroke, ...]
    skin: float  # half the thickness of the metal on paper
    placed: list[Label] = field(default_factory=list)

    def takes(self, label: Label) -> bool:
        """Whether a label keeps clear of the metal and of all others."""
        return all(map(self._free, label.boxes)) and all(map(self._open, label.strokes))

    def _free(self, box: Box) -> bool:
        near, clear = box.grown(self.skin + 0.8), box.grown(0.8)
        return (
            self.frame.holds(box)
            and not any(clear.overlaps(b) for p in self.placed for b in p.boxes)
            and not any(stroke.enters(near) for stroke in self.metal)
            and not any(s.enters(box.grown(0.5)) for p in self.placed for s in p.strokes)
        )

    def _open(self, stroke: Stroke) -> bool:
        """Free of metal, boxes and other strokes."""
        ends = (stroke.a, stroke.b)
        return (
            all(self.frame.holds(Box(x, y, x, y)) for x, y in ends)
            and not any(stroke.crosses(edge) for edge in self.edges)
            and not any(stroke.enters(b.grown(0.5)) for p in self.placed for b in p.boxes)
            and not any(stroke.crosses(s) for p in self.placed for s in p.strokes)
        )


@dataclass(frozen=True)
class Paper:
    """Where the profile stands on paper; y turns over, because there it runs down."""

    scale: float
    x: float
    y: float

    def at(self, point: Point) -> Point:
        return (self.x + self.scale * point[0], self.y - self.scale * point[1])


def place(bench: Bench, sought: Iterable[Iterable[Label]]) -> tuple[Label, ...] | None:
    """Each label at its first free place, in turn; None where one finds none."""
    for places in sought:
        chosen = next(filter(bench.takes, places), None)
        if chosen is None:
            return None
        bench.placed.append(chosen)
    return tuple(bench.placed)
