"""Legs and bends of a strip of sheet, in; its side view as a run of points, out.

Lengths are in whatever unit the strip is given in, all the same one; x runs along the leg that
lies flat, y runs up. Legs are measured between mould lines: where the outer surfaces of two flats
would meet if they had no bend between them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.figures.clearance import Box, Stroke, around
from generator.figures.picture import Point
from generator.findings import Refusal

FINEST = math.radians(3)


@dataclass(frozen=True)
class Bend:
    """angle: degrees through which the metal is bent; radius: of its inner surface."""

    angle: float
    radius: float
    up: bool

    @property
    def turn(self) -> float:
        """Radians, positive upward."""
        return math.radians(self.angle if self.up else -self.angle)


@dataclass(frozen=True)
class Strip:
    """A strip of sheet: one more leg than bends."""

    thickness: float
    legs: tuple[float, ...]
    bends: tuple[Bend, ...]

    def setback(self, bend: Bend) -> float:
        """From the mould line to where the flat begins."""
        return math.tan(math.radians(bend.angle) / 2) * (bend.radius + self.thickness)

    def setbacks(self, leg: int) -> tuple[float, float]:
        """Set-back at the start and at the end of a leg; nothing at the strip's own ends."""
        before = self.setback(self.bends[leg - 1]) if leg else 0.0
        after = self.setback(self.bends[leg]) if leg < len(self.bends) else 0.0
        return before, after

    def flat(self, leg: int) -> float:
        return self.legs[leg] - sum(self.setbacks(leg))

    @property
    def longest(self) -> int:
        return max(range(len(self.legs)), key=lambda leg: self.legs[leg])


@dataclass(frozen=True)
class Spot:
    """A point of the middle line, and which way the sheet runs there in radians."""

    x: float
    y: float
    heading: float

    def off(self, upward: float, along: float = 0.0) -> Point:
        """The point that lies so far off the upper side of the sheet, and so far along it."""
        cos, sin = math.cos(self.heading), math.sin(self.heading)
        return (self.x + along * cos - upward * sin, self.y + along * sin + upward * cos)


@dataclass(frozen=True)
class Profile:
    """Where every flat and every bend of a strip lies, in order, as spots of its middle line."""

    strip: Strip
    flats: tuple[tuple[Spot, Spot], ...]
    arcs: tuple[tuple[Spot, ...], ...]

    @property
    def middle(self) -> tuple[Spot, ...]:
        spots = list(self.flats[0])
        for arc, flat in zip(self.arcs, self.flats[1:], strict=True):
            spots += [*arc[1:], flat[1]]
        return tuple(spots)

    @property
    def outline(self) -> tuple[Point, ...]:
        """Upper surface from start to end, then the lower one back."""
        half = self.strip.thickness / 2
        middle = self.middle
        back = [spot.off(-half) for spot in reversed(middle)]
        return (*(spot.off(half) for spot in middle), *back)


def folded(strip: Strip) -> Profile:
    """The side view, turned so that the longest leg lies flat with its upper side up.

    Refuses a bend of 180 degrees or more, a flat that the bends beside it use up, and a strip
    that runs through itself.
    """
    _possible(strip)
    heading = -sum(bend.turn for bend in strip.bends[: strip.longest])
    spot = Spot(0.0, 0.0, heading)
    flats: list[tuple[Spot, Spot]] = []
    arcs: list[tuple[Spot, ...]] = []
    for leg in range(len(strip.legs)):
        end = Spot(*spot.off(0, strip.flat(leg)), spot.heading)
        flats.append((spot, end))
        if leg < len(strip.bends):
            arcs.append(_arc(end, strip.bends[leg], strip.thickness))
            spot = arcs[-1][-1]
    made = Profile(strip, tuple(flats), tuple(arcs))
    _clear_of_itself(made)
    return made


def _arc(start: Spot, bend: Bend, thickness: float) -> tuple[Spot, ...]:
    parts = max(1, math.ceil(abs(bend.turn) / FINEST))
    radius = math.copysign(bend.radius + thickness / 2, bend.turn)
    middle = start.off(radius)
    headings = [start.heading + bend.turn * i / parts for i in range(parts + 1)]
    return tuple(Spot(*Spot(*middle, heading).off(-radius), heading) for heading in headings)


def _possible(strip: Strip) -> None:
    for number, bend in enumerate(strip.bends, 1):
        if not 0 < bend.angle < 180:
            wrong = f"bend {number} is bent through {bend.angle:g}°"
            raise Refusal("figure", wrong, "above 0° and below 180°; the set-back has no end there")
    for number in range(1, len(strip.legs) + 1):
        flat = strip.flat(number - 1)
        if flat < 0:
            wrong = f"leg {number} is {-flat:.2f} shorter than the set-backs of its bends"
            raise Refusal("figure", wrong, "a longer leg, a smaller radius or a smaller angle")


def _clear_of_itself(profile: Profile) -> None:
    """Refuses a surface that meets another part of the strip.

    Parts less than three apart never meet: a bend stays below 180°, and two with a flat between
    them below a full turn.
    """
    parts = _parts(profile)
    for first, (name, strokes, room) in enumerate(parts):
        for other, others, beside in parts[first + 3 :]:
            if room.overlaps(beside) and any(a.crosses(b) for a in strokes for b in others):
                wrong = f"{name} runs through {other}"
                raise Refusal("figure", wrong, "shorter legs, or a bend the other way")


def _parts(profile: Profile) -> list[tuple[str, list[Stroke], Box]]:
    """Flats and bends in turn, each with its name, its two surfaces and the room they need."""
    runs: list[tuple[str, Sequence[Spot]]] = [("leg 1", profile.flats[0])]
    for number, (arc, flat) in enumerate(zip(profile.arcs, profile.flats[1:], strict=True), 1):
        runs += [(f"bend {number}", arc), (f"leg {number + 1}", flat)]
    half = profile.strip.thickness / 2
    made = []
    for name, spots in runs:
        sides = [[spot.off(side) for spot in spots] for side in (half, -half)]
        strokes = [Stroke(a, b) for side in sides for a, b in pairwise(side)]
        made.append((name, strokes, around(Box(x, y, x, y) for side in sides for x, y in side)))
    return made
