"""A working of a hinge, in; the rows of its figure, as it is printed, out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Any

from generator.calculations.space import Vector, cross, dot, minus, unit_vector
from generator.computing.running import with_unit
from generator.computing.working import Number, Working

Rows = Iterator[tuple[str, str]]


def _texts(working: Working) -> dict[str, str]:
    """Every result by its name within the working, as a figure reads it."""
    begins = f"{working.name}."
    return {n.name.removeprefix(begins): _plain(n) for n in working.results}


def _plain(number: Number) -> str:
    return with_unit(number.shown, number.unit) if number.amount is not None else number.shown


def hinge_line_rows(working: Working) -> Rows:
    """The stations as surveyed, and what is printed of the line at each."""
    assert working.ran is not None
    text = _texts(working)
    yield "of hand", working.ran.inputs["hand"]
    for name in ("fit", "rises", "turns", "thinnest"):
        yield name, text[name]
    for n, row in enumerate(working.ran.inputs["rows"], start=1):
        yield f"at {n}", row.at.numbers
        yield f"height {n}", row.up.numbers
        yield f"pad {n}", text[f"pads.{n}"]
        yield f"offset {n}", text[f"offsets.{n}"]


def tilt_rows(working: Working) -> Rows:
    """Every base by its number: tilt, azimuth, slope along and the difference of its ends."""
    assert working.ran is not None
    text = _texts(working)
    yield "of hand", working.ran.inputs["hand"]
    count = sum(name.endswith(".tilt") for name in text)
    for n in range(1, count + 1):
        for name in ("tilt", "azimuth", "along", "ends"):
            if f"{n}.{name}" in text:
                yield f"{name} {n}", text[f"{n}.{name}"]


def swing_rows(working: Working) -> Rows:
    """The outlines as typed, and the closest moment of each section."""
    assert working.ran is not None
    text = _texts(working)
    yield "opens", working.ran.inputs["opens"].numbers
    yield "sure", text["sure"]
    for name in ("door", "shell"):
        groups = groupby(working.ran.inputs[name], key=lambda corner: corner.at.value)
        for n, (_, corners) in enumerate(groups, start=1):
            yield f"{name} {n}", _corners(list(corners))
    count = sum(name.endswith(".gap") for name in text)
    for n in range(1, count + 1):
        for name in ("at", "gap", "opening"):
            yield f"{name} {n}", text[f"sections.{n}.{name}"]


def _corners(corners: Sequence[Any]) -> str:
    """Corners in mm, as a figure reads them."""
    return "; ".join(f"{1000 * c.across.value:.2f} {1000 * c.up.value:.2f}" for c in corners)


def plan_rows(working: Working) -> Rows:
    """A face by its tilt and azimuth, and by its slopes; what did not come out was put in."""
    assert working.ran is not None
    text = _texts(working)
    typed = {
        name: each.numbers
        for name, each in working.ran.inputs.items()
        if name in ("tilt", "azimuth", "along", "across")
    }
    for name, label in (("tilt", "tilt"), ("azimuth", "azimuth"), ("along", "x"), ("across", "y")):
        yield label, text.get(name, typed.get(name, ""))


def circle_rows(working: Working) -> Rows:
    """The pitch circle and the place of every hole."""
    assert working.ran is not None
    text, inputs = _texts(working), working.ran.inputs
    yield "diameter", inputs["diameter"].numbers
    yield "way", inputs["way"]
    yield "chord", text["chord"]
    for n in range(1, inputs["holes"] + 1):
        yield f"hole {n}", f"{text[f'holes.{n}.across']}; {text[f'holes.{n}.up']}"


def pair_rows(working: Working) -> Rows:
    """The points of both hands, and what was found."""
    assert working.ran is not None
    text = _texts(working)
    yield "slips", text["slips"]
    yield "differ", text["differ"]
    for n, row in enumerate(working.ran.inputs["rows"], start=1):
        for side in ("port", "stbd"):
            along, across = getattr(row, f"{side}_along"), getattr(row, f"{side}_across")
            yield f"{side} {n}", f"{1000 * along.value:.2f} {1000 * across.value:.2f}"


def turn_rows(working: Working) -> Rows:
    """Every point before and after, as it is seen along the line."""
    assert working.ran is not None
    inputs = working.ran.inputs
    line = inputs["line"][0]
    first = (line.x1.value, line.y1.value, line.z1.value)
    ahead = unit_vector(minus((line.x2.value, line.y2.value, line.z2.value), first), "the line")
    upward = (0.0, 0.0, 1.0) if abs(ahead[2]) < 0.999 else (1.0, 0.0, 0.0)
    right = unit_vector(cross(ahead, upward), "the view")
    up = cross(right, ahead)

    def seen(point: Vector) -> str:
        arm = minus(point, first)
        return f"{1000 * dot(arm, right):.2f} {1000 * dot(arm, up):.2f}"

    yield "turn", inputs["angle"].numbers
    moved = {n.name.removeprefix(f"{working.name}."): n.amount for n in working.results}
    for n, row in enumerate(inputs["points"], start=1):
        yield f"before {n}", seen((row.x.value, row.y.value, row.z.value))
        x, y, z = (moved[f"{n}.{axis}"] for axis in "xyz")
        assert x is not None and y is not None and z is not None
        yield f"after {n}", seen((x.value, y.value, z.value))
