"""The text of one row of a figure of bends, in; a length, a bend or the order of bending, out."""

from __future__ import annotations

import re
from dataclasses import dataclass

from generator.figures.folded import Bend
from generator.findings import Refusal
from generator.quantities.units import unit

LENGTH = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?(mm|in)(?: \(.*\))?")
BEND = re.compile(
    r"([0-9]+(?:\.[0-9]+)?) ?° R ([0-9]+(?:\.[0-9]+)?) ?(mm|in)(?: \(.*\))? (up|down)"
)


@dataclass(frozen=True)
class Length:
    """A length above nothing: in millimetres, and its figures and its unit as they are printed."""

    millimetres: float
    figures: str
    unit: str

    @property
    def step(self) -> float:
        """One in the last printed place, in millimetres."""
        places = len(self.figures.partition(".")[2])
        return float(10.0**-places * unit(self.unit).factor / unit("mm").factor)


def length(text: str) -> Length:
    """Refuses what is no length, and none at all."""
    found = LENGTH.fullmatch(text.strip())
    if found is None or float(found[1]) == 0:
        raise Refusal("figure", f"{text!r} is no length for a figure of bends", "such as 25.0 mm")
    return Length(_millimetres(found[1], found[2]), found[1], found[2])


@dataclass(frozen=True)
class Turn:
    """A bend, and the figures of its angle and of its radius as they are printed."""

    bend: Bend
    angle: str
    radius: Length


def turn(text: str) -> Turn:
    """Refuses what does not say angle, inside radius and way."""
    found = BEND.fullmatch(text.strip())
    if found is None:
        raise Refusal("figure", f"{text!r} is no bend", "such as 90° R 3.2 mm up")
    radius = Length(_millimetres(found[2], found[3]), found[2], found[3])
    return Turn(Bend(float(found[1]), radius.millimetres, found[4] == "up"), found[1], radius)


def order(text: str, bends: int) -> tuple[int, ...]:
    """The bends by number in the order in which they are made; refuses one left out or named twice.

    No text is no order: the empty tuple.
    """
    named = text.replace(",", " ").split()
    if named and sorted(named) != sorted(map(str, range(1, bends + 1))):
        wrong = f"the order {text!r} does not name each of {bends} bends once"
        raise Refusal("figure", wrong, "such as " + " ".join(map(str, range(bends, 0, -1))))
    return tuple(map(int, named))


def ordinal(number: int) -> str:
    """1st, 2nd, 3rd, 4th, and so on."""
    teen = number % 100 in (11, 12, 13)
    return f"{number}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"


def _millimetres(number: str, named: str) -> float:
    return float(number) * unit(named).factor / unit("mm").factor
