"""The rows of a figure as the sheet gives them, in; its picture in millimetres, out.

To add a picture is to add a file with one function and its line in PICTURES.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from generator.figures.balloons import ballooned, dimensions
from generator.figures.bend_profile import bend_profile
from generator.figures.chart import chart
from generator.figures.circle_map import circle_map
from generator.figures.flat_pattern import flat_pattern
from generator.figures.picture import Picture
from generator.figures.rectangle_map import rectangle_map
from generator.findings import Refusal, near_word

BALLOON = "balloon "
WIDE = 157.0  # the room of a figure across a page, in millimetres

PICTURES: dict[tuple[str, str], Callable[[Mapping[str, str], float], Picture]] = {
    ("map", "circle"): circle_map,
    ("map", "rectangle"): rectangle_map,
    ("figure", "bend-profile"): bend_profile,
    ("figure", "flat-pattern"): flat_pattern,
    ("figure", "chart"): chart,
}


def figure(kind: str, words: str, rows: Mapping[str, str], width: float) -> Picture:
    """The picture that a sheet asks for.

    kind is "map" or "figure" and words the name that follows it; rows are label and value, as
    text; width is the room across in millimetres, which the picture takes in full. A row
    "balloon 7" names the dimensions that feature 7 measures, parted by ";". Refuses an unknown
    picture, rows it cannot use, and whatever does not fit the width.
    """
    draw = PICTURES.get((kind, words))
    if draw is None:
        known = [f"{a} {b}" for a, b in PICTURES]
        right = near_word(f"{kind} {words}", known) or ", ".join(known)
        raise Refusal("figure", f"there is no picture called {kind} {words}", right)
    balloons = [
        (label.removeprefix(BALLOON), tuple(name.strip() for name in value.split(";")))
        for label, value in rows.items()
        if label.startswith(BALLOON)
    ]
    if not balloons:
        return draw(rows, width)
    own = {label: value for label, value in rows.items() if not label.startswith(BALLOON)}
    return ballooned(draw(own, width), balloons)


def offered(kind: str, words: str, rows: Mapping[str, str]) -> tuple[str, ...]:
    """The dimensions that a picture names; refuses what `figure` refuses."""
    return tuple(dimensions(figure(kind, words, rows, WIDE)))
