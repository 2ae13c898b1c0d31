"""The rows of a figure as the sheet gives them, in; its picture in millimetres, out.

To add a picture is to add a file with one function and its line in PICTURES; to add one at full
size, one function that gives a FullSize and its line in FULL_SIZE.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import lru_cache

from generator.figures.balloons import ballooned, dimensions
from generator.figures.bend_profile import bend_profile
from generator.figures.bolt_circle import bolt_circle
from generator.figures.chart import chart
from generator.figures.circle_map import circle_map
from generator.figures.closest_moment import closest_moment
from generator.figures.development import development_plan, full_development
from generator.figures.door_swing import door_swing
from generator.figures.drilling_map import drilling_circle, drilling_placed, drilling_rectangle
from generator.figures.flat_full_size import full_flat_pattern
from generator.figures.flat_pattern import flat_pattern
from generator.figures.former import former_plan, former_template
from generator.figures.full_size import LARGEST, FullSize
from generator.figures.hinge_line import hinge_line
from generator.figures.linkage import linkage
from generator.figures.pair_plan import pair_plan
from generator.figures.picture import Picture
from generator.figures.placed_map import placed_map
from generator.figures.rectangle_map import rectangle_map
from generator.figures.rows_map import rows_map
from generator.figures.tilt_arrows import tilt_arrows
from generator.figures.tilt_plan import tilt_plan
from generator.figures.turn_view import turn_view
from generator.findings import Refusal, near_word

BALLOON = "balloon "
WIDE = 157.0  # the room of a figure across a page, in millimetres

PARTED: dict[tuple[str, str], Callable[[Mapping[str, str], float, float], Picture]] = {
    ("map", "circle"): circle_map,
    ("map", "rectangle"): rectangle_map,
    ("map", "rows"): rows_map,
    ("map", "placed"): placed_map,
}
"""Pictures that go on in further ones where a page does not hold them."""

PICTURES: dict[tuple[str, str], Callable[[Mapping[str, str], float], Picture]] = {
    ("figure", "bend-profile"): bend_profile,
    ("figure", "flat-pattern"): flat_pattern,
    ("figure", "chart"): chart,
    ("figure", "former-templates"): former_plan,
    ("figure", "closest-moment"): closest_moment,
    ("figure", "linkage"): linkage,
    ("figure", "hinge-line"): hinge_line,
    ("figure", "tilt-arrows"): tilt_arrows,
    ("figure", "door-swing"): door_swing,
    ("figure", "tilt-plan"): tilt_plan,
    ("figure", "bolt-circle"): bolt_circle,
    ("figure", "pair-plan"): pair_plan,
    ("figure", "turn-view"): turn_view,
    ("figure", "development"): development_plan,
}

FULL_SIZE: dict[str, Callable[[Mapping[str, str]], FullSize]] = {
    "circle": drilling_circle,
    "rectangle": drilling_rectangle,
    "placed": drilling_placed,
    "flat-pattern": full_flat_pattern,
    "former-template": former_template,
    "development": full_development,
}
OF_EVERY_DRAWING = ("name", "line", "hand", "operation", "station", "note")
"""Rows that any drawing at full size has beside its own: name, line and hand always."""


def figure(
    kind: str, words: str, rows: Mapping[str, str], width: float, height: float = math.inf
) -> Picture:
    """The picture that a sheet asks for.

    kind is "map" or "figure" and words the name that follows it; rows are label and value, as
    text; width is the room across in millimetres, which the picture takes in full, and height that
    of a page, which decides in how many parts a map is drawn. A row "balloon 7" names the
    dimensions that feature 7 measures, parted by ";". Refuses an unknown picture, rows it cannot
    use, and whatever does not fit the width.
    """
    name = (kind, words)
    if name not in PICTURES and name not in PARTED:
        known = [f"{a} {b}" for a, b in (*PARTED, *PICTURES)]
        right = near_word(f"{kind} {words}", known) or ", ".join(known)
        raise Refusal("figure", f"there is no picture called {kind} {words}", right)
    balloons = [
        (label.removeprefix(BALLOON), tuple(name.strip() for name in value.split(";")))
        for label, value in rows.items()
        if label.startswith(BALLOON)
    ]
    own = tuple((label, value) for label, value in rows.items() if not label.startswith(BALLOON))
    made = _made(name, own, width, height)
    if isinstance(made, Refusal):
        raise Refusal(made.code, made.wrong, made.right)
    return ballooned(made, balloons) if balloons else made


@lru_cache(maxsize=128)
def _made(
    name: tuple[str, str], rows: tuple[tuple[str, str], ...], width: float, height: float
) -> Picture | Refusal:
    """A picture, or why it cannot be made. A map stands on several sheets and is tried at several
    widths, and where two hundred numbers stand on a plan takes long to find."""
    try:
        own = dict(rows)
        return PICTURES[name](own, width) if name in PICTURES else PARTED[name](own, width, height)
    except Refusal as refusal:
        return refusal


def offered(kind: str, words: str, rows: Mapping[str, str]) -> tuple[str, ...]:
    """The dimensions that a picture names; refuses what `figure` refuses."""
    return tuple(dimensions(figure(kind, words, rows, WIDE)))


def full_size(kind: str, rows: Mapping[str, str]) -> FullSize:
    """The drawing at 1:1 that a sheet asks for; its notes begin with what every drawing says.

    Refuses an unknown kind, one that does not say what its line means, rows it cannot use, and a
    drawing larger than LARGEST.
    """
    draw = FULL_SIZE.get(kind)
    if draw is None:
        right = near_word(kind, FULL_SIZE) or ", ".join(FULL_SIZE)
        raise Refusal("figure", f"there is no drawing at full size called {kind}", right)
    missing = [name for name in OF_EVERY_DRAWING[:3] if not rows.get(name, "").strip()]
    if missing:
        raise Refusal("figure", f"a drawing at full size without its {missing[0]}", missing[0])
    made = draw({name: text for name, text in rows.items() if name not in OF_EVERY_DRAWING})
    if max(made.width, made.height) > LARGEST:
        wrong = f"a drawing of {made.width:.0f} by {made.height:.0f} mm"
        raise Refusal("figure", wrong, f"at most {LARGEST:.0f} mm a side, its words included")
    said = [f"{name}: {rows[name]}" for name in OF_EVERY_DRAWING[2:5] if name in rows]
    means = f"What the line means: {'; '.join((rows['line'], *said))}."
    notes = (means, f"Seen {made.view}.", *made.notes, *filter(None, (rows.get("note"),)))
    return replace(made, title=f"{made.title} {rows['name']}", notes=notes)
