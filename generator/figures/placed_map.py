"""Fasteners that follow no rule, each by its place, in; a map to scale with a box for each, out."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from generator.figures.map_parts import ONE_OF_SEVERAL, known_rows, order_of
from generator.figures.picture import Picture, Point
from generator.figures.plan_map import MOST, Wanted, plan_map
from generator.findings import Refusal

NEEDED = ("fasteners", "places", "datum", "looking")
KNOWN = (*NEEDED, "item", "numbering", "order")
_PLACE = re.compile(r"(-?[0-9.]+), (-?[0-9.]+)(?: (\S{1,8}))?")
SAME = 0.1  # nearer than that is the same place (mm)


@dataclass(frozen=True)
class Asked:
    """What the rows say. places: number -> across to the right and up from the datum, in mm;
    marks: number -> what it is called besides."""

    places: Mapping[int, Point]
    marks: Mapping[int, str]
    datum: str
    item: str
    looking: str
    order: tuple[int, ...]

    @property
    def count(self) -> int:
        return len(self.places)


def placed_map(rows: Mapping[str, str], width: float, height: float = math.inf) -> Picture:
    """The map of 2 to 200 fasteners by their places; refuses rows that are not understood, two at
    one place, and places that cannot be told apart at the scale of the page."""
    asked = asked_for(rows)
    many = f"{asked.count} of {asked.item}" if asked.item else f"{asked.count}"
    told = filter(None, (many, f"datum: {asked.datum}", ONE_OF_SEVERAL if asked.order else ""))
    wanted = Wanted(
        view=f"looking {asked.looking}, numbered as listed",
        facts=", ".join(told),
        places={n: (x, -up) for n, (x, up) in asked.places.items()},
        item=asked.item,
        order=asked.order,
        datum=(0.0, 0.0),
        marks=asked.marks,
    )
    return plan_map(wanted, width, height)


def asked_for(rows: Mapping[str, str]) -> Asked:
    """What the rows ask for; refuses rows that are missing or cannot be read."""
    known_rows(rows, NEEDED, KNOWN)
    places: dict[int, Point] = {}
    marks: dict[int, str] = {}
    for number, text in enumerate(rows["places"].split("; "), start=1):
        told = _PLACE.fullmatch(text)
        if told is None:
            wrong = f"the place {text!r} of the map is not understood"
            raise Refusal("figure", wrong, "across and up in mm, such as 12.5, 40")
        at = (float(told[1]), float(told[2]))
        twin = next((n for n, other in places.items() if math.dist(at, other) < SAME), 0)
        if twin:
            wrong = f"fasteners {twin} and {number} stand at the same place"
            raise Refusal("figure", wrong, "each its own place")
        places[number] = at
        marks |= {number: told[3]} if told[3] else {}
    if not 2 <= len(places) <= MOST or str(len(places)) != rows["fasteners"].strip():
        wrong = f"{len(places)} places, and the map says {rows['fasteners']} fasteners"
        raise Refusal("figure", wrong, f"as many places, from 2 to {MOST}")
    return Asked(
        places,
        marks,
        rows["datum"].strip(),
        rows.get("item", "").strip(),
        rows["looking"].strip(),
        order_of(rows.get("order", ""), len(places)),
    )
