"""Fasteners that follow no rule, each by its place, in; a map to scale with a box for each, out."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from generator.figures.map_parts import (
    LINE,
    ONE_OF_SEVERAL,
    foot,
    heading,
    known_rows,
    must_fit,
    order_list,
    order_of,
)
from generator.figures.picture import Mark, Picture, Point
from generator.figures.plan_map import MOST, TALL, boxes, boxes_height, plan
from generator.findings import Refusal

NEEDED = ("fasteners", "places", "datum", "looking")
KNOWN = (*NEEDED, "item", "numbering", "order")
_PLACE = re.compile(r"(-?[0-9.]+), (-?[0-9.]+)")


@dataclass(frozen=True)
class Asked:
    """What the rows say. places: number -> across to the right and up from the datum, in mm."""

    places: Mapping[int, Point]
    datum: str
    item: str
    looking: str
    order: tuple[int, ...]

    @property
    def count(self) -> int:
        return len(self.places)


def placed_map(rows: Mapping[str, str], width: float) -> Picture:
    """The map of 2 to 120 fasteners by their places; refuses rows that are not understood, two at
    one place, and places that cannot be told apart at the scale of the page."""
    asked = asked_for(rows)
    many = f"{asked.count} of {asked.item}" if asked.item else f"{asked.count}"
    told = filter(None, (many, f"datum: {asked.datum}", ONE_OF_SEVERAL if asked.order else ""))
    head = heading(f"looking {asked.looking}, numbered as listed", ", ".join(told), width)
    y = LINE * len(head) + 2
    order = order_list(asked.order, 0.0, width)
    room = TALL - y - boxes_height(asked.count, width) - (foot(order, LINE) if order else 0.0)
    down = {n: (x, -up) for n, (x, up) in asked.places.items()}
    drawn = plan(down, sorted(down), y, width, room, (0.0, 0.0))
    marks: list[Mark] = [*head, *drawn.marks, *boxes(asked.count, asked.item, drawn.low, width)]
    low = drawn.low + boxes_height(asked.count, width)
    marks += order_list(asked.order, low + LINE, width)
    must_fit(tuple(marks), width, asked.count)
    return Picture(width, (low + LINE + foot(order, 0.0) if order else low) + 2, tuple(marks))


def asked_for(rows: Mapping[str, str]) -> Asked:
    """What the rows ask for; refuses rows that are missing or cannot be read."""
    known_rows(rows, NEEDED, KNOWN)
    places: dict[int, Point] = {}
    for number, text in enumerate(rows["places"].split("; "), start=1):
        told = _PLACE.fullmatch(text)
        if told is None:
            wrong = f"the place {text!r} of the map is not understood"
            raise Refusal("figure", wrong, "across and up in mm, such as 12.5, 40")
        at = (float(told[1]), float(told[2]))
        twin = next((n for n, other in places.items() if math.dist(at, other) < 0.1), 0)
        if twin:
            wrong = f"fasteners {twin} and {number} stand at the same place"
            raise Refusal("figure", wrong, "each its own place")
        places[number] = at
    if not 2 <= len(places) <= MOST or str(len(places)) != rows["fasteners"].strip():
        wrong = f"{len(places)} places, and the map says {rows['fasteners']} fasteners"
        raise Refusal("figure", wrong, f"as many places, from 2 to {MOST}")
    return Asked(
        places,
        rows["datum"].strip(),
        rows.get("item", "").strip(),
        rows["looking"].strip(),
        order_of(rows.get("order", ""), len(places)),
    )
