"""Marks in millimetres, in; one frozen picture, out, that knows nothing of paper or of PDF.

The origin is the picture's top left corner, x runs right, y runs down. Line weights are in
millimetres and letter sizes in points, because that is how a drawing office asks for them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

Anchor = Literal["start", "middle", "end"]
Names = tuple[str, ...]
"""What a mark is called as a dimension of its figure, such as leg 1; most marks are none."""
Point = tuple[float, float]


@dataclass(frozen=True)
class Line:
    """A straight stroke from one point to another."""

    x1: float
    y1: float
    x2: float
    y2: float
    weight: float = 0.35


@dataclass(frozen=True)
class Circle:
    """A stroked circle, never filled."""

    x: float
    y: float
    radius: float
    weight: float = 0.35
    names: Names = ()


@dataclass(frozen=True)
class Outline:
    """Straight strokes in a row; closed joins the last point to the first, filled blackens it."""

    points: tuple[Point, ...]
    weight: float = 0.35
    closed: bool = False
    filled: bool = False
    names: Names = ()


@dataclass(frozen=True)
class Words:
    """One line of text: y is the base line, x is where the anchor says."""

    x: float
    y: float
    text: str
    size: float = 10.5
    bold: bool = False
    anchor: Anchor = "start"
    names: Names = ()


@dataclass(frozen=True)
class Tick:
    """A square check box with its top left corner at x, y; meaning goes into the box map."""

    x: float
    y: float
    size: float
    meaning: str


Mark = Line | Circle | Outline | Words | Tick


@dataclass(frozen=True)
class Picture:
    """A finished picture: its size in millimetres and everything to be drawn, in order.

    more: the pictures in which it goes on, where one page does not hold it.
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    more: tuple[Picture, ...] = ()


def lowered(mark: Mark, by: float) -> Mark:
    """The mark so many millimetres farther down."""
    match mark:
        case Line():
            return replace(mark, y1=mark.y1 + by, y2=mark.y2 + by)
        case Outline():
            return replace(mark, points=tuple((x, y + by) for x, y in mark.points))
    return replace(mark, y=mark.y + by)
