"""A working and the view of it that is wanted, in; the rows of its figure, out.

A figure is drawn from printed texts alone, so that it shows the numbers that stand on the sheets.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import groupby
from typing import Any

from generator.composing.figure_rows_of_hinges import (
    circle_rows,
    hinge_line_rows,
    pair_rows,
    plan_rows,
    swing_rows,
    tilt_rows,
    turn_rows,
)
from generator.composing.ordinates import rows_of
from generator.composing.writer import Writer
from generator.computing.running import with_unit
from generator.computing.working import Number, Working
from generator.findings import Fault, near_word
from generator.process import FigureWanted
from generator.read import Steps

Rows = list[tuple[str, str]]


def figure(writer: Writer, here: Steps, wanted: FigureWanted) -> Mapping[str, Any] | None:
    """The kind and rows of the figure that an operation asks for; a fault where it cannot be."""
    working = writer.workings.workings.get(wanted.of)
    if working is None or working.ran is None or not working.ran.calculation.figures:
        wrong = f"'{wanted.of}' has no figure"
        writer.faults.append(Fault(here, "figure", wrong, "a working with a figure"))
        return None
    kinds = working.ran.calculation.figures
    kind = wanted.view.replace(" ", "-") or kinds[0]
    if kind not in kinds:
        views = [each.replace("-", " ") for each in kinds]
        near = near_word(wanted.view, views)
        right = (f"{near}? " if near else "") + "one of: " + ", ".join(views)
        wrong = f"'{wanted.of}' has no view called '{wanted.view}'"
        writer.faults.append(Fault((*here, "view"), "figure", wrong, right))
        return None
    rows = figure_rows(working, kind)
    _same_hand(writer, here, wanted, dict(rows).get("of hand", ""))
    if kind == "development":
        rows.append(("of hand", writer.process.part.hand))
    nominal = any(number.name in writer.answered for number in working.results)
    return {
        "nominal": nominal and kind != "bend-profile",
        "kind": kind,
        "rows": [*rows, *_beside(writer, here, wanted, rows)],
    }


def _same_hand(writer: Writer, here: Steps, wanted: FigureWanted, told: str) -> None:
    """A fault where sections are of another hand than the part."""
    hand = writer.process.part.hand
    if told and told.partition(",")[0] != hand:
        wrong = f"the sections of '{wanted.of}' are of hand {told}, the part is of hand {hand}"
        writer.faults.append(Fault(here, "figure", wrong, f"wanted_hand: {hand}"))


def figure_rows(working: Working, kind: str) -> Rows:
    """What the figure of a calculation is drawn from."""
    return list(_ROWS[kind](working))


def _beside(
    writer: Writer, here: Steps, wanted: FigureWanted, rows: Rows
) -> Iterator[tuple[str, str]]:
    """What the lead adds to a view: the width of the blank, its grain, relief holes at the ends
    of every bend line, the order of bending."""
    if wanted.width:
        yield "width", _size(writer, (*here, "width"), wanted.width)
    if wanted.relief:
        hole = _size(writer, (*here, "relief"), wanted.relief)
        bends = [label for label, _ in rows if label.startswith("bend ")]
        yield from ((label.replace("bend", "relief"), f"Ø {hole}") for label in bends)
    if wanted.grain:
        yield "grain", wanted.grain
    if wanted.order:
        yield "order", wanted.order


def _size(writer: Writer, here: Steps, typed: str) -> str:
    """A size as a figure reads it: typed, or the number of a name."""
    number = writer.workings.numbers.get(typed)
    if number is not None:
        return _plain(number)
    if typed[:1].isalpha():
        writer.faults.append(writer.unnamed(here, typed))
    return typed


def _plain(number: Number) -> str:
    """A number as a figure reads it: in its own unit, without its tolerance."""
    if number.mark.startswith("g") and number.amount is not None:
        return number.amount.numbers
    return with_unit(number.shown, number.unit)


def _sizes(working: Working) -> tuple[str, Sequence[str], Sequence[Any]]:
    assert working.ran is not None
    inputs = working.ran.inputs
    return inputs["thickness"].numbers, [leg.numbers for leg in inputs["legs"]], inputs["bends"]


def _bend(bend: Any) -> str:
    return f"{bend.bend_angle.numbers} R {bend.radius.numbers} {bend.turns}"


def _profile_rows(working: Working) -> Iterator[tuple[str, str]]:
    thickness, legs, bends = _sizes(working)
    yield "thickness", thickness
    for n, leg in enumerate(legs, start=1):
        yield f"leg {n}", leg
        if n <= len(bends):
            yield f"bend {n}", _bend(bends[n - 1])


def _flat_rows(working: Working) -> Iterator[tuple[str, str]]:
    """The lines of the blank as they are printed, each from the first edge."""
    thickness, _, bends = _sizes(working)
    text = {n.name.removeprefix(f"{working.name}."): _plain(n) for n in working.results}
    yield "length", text["length"]
    yield "thickness", thickness
    for n, bend in enumerate(bends, start=1):
        yield f"flat {n}", text[f"flats.{n}"]
        yield f"bend {n}", _bend(bend)
        yield f"allowance {n}", text[f"allowances.{n}"]
        yield f"tangent {n}", f"{text[f'begins.{n}']} to {text[f'ends.{n}']}"
        yield f"sight {n}", text[f"sight_lines.{n}"]
        yield f"nose {n}", f"leg {n if bend.holds == 'leg before' else n + 1}"
    yield f"flat {len(bends) + 1}", text[f"flats.{len(bends) + 1}"]


def _former_rows(working: Working) -> Iterator[tuple[str, str]]:
    """The sections of a loft, station by station, as they are printed."""
    assert working.ran is not None
    words = {n.name.rpartition(".")[2]: n.shown for n in working.single}
    skin = working.ran.inputs["skin"]
    yield "looking", working.ran.inputs["looking"]
    yield "of hand", words["hand"]
    yield "inside", _other_side(working.ran.inputs["inside"], "mirrored" in words["hand"])
    yield "surface", f"{words['line']}, skin {skin.numbers}" if skin.value else words["line"]
    points, girths = (rows_of(working, out) for out in working.ran.calculation.listed)
    for n, (_, group) in enumerate(groupby(points, key=lambda row: row[0].text), start=1):
        section = list(group)
        yield f"at {n}", section[0][0].text
        yield f"points {n}", "; ".join(f"{_mm(across)} {_mm(up)}" for _, across, up in section)
        yield f"girth {n}", girths[n - 1][1].text


def _development_rows(working: Working) -> Iterator[tuple[str, str]]:
    """The lines of a flat pattern, as they are printed."""
    assert working.ran is not None
    inputs = working.ran.inputs
    words = {n.name.rpartition(".")[2]: n.shown for n in working.single}
    yield "marked", inputs["marked"]
    yield "rolls", words["rolls"]
    straight = str(inputs.get("edges", "")).startswith("straight")
    yield "edges", "straight" if straight else "smooth"
    sheet = inputs["thickness"] if "thickness" in inputs else inputs.get("skin")
    if sheet is not None and sheet.value:
        yield "sheet", sheet.numbers
    points = rows_of(working, working.ran.calculation.listed[0])
    for edge, at in (("edge a", 0), ("edge b", 2)):
        yield edge, "; ".join(f"{_mm(row[at])} {_mm(row[at + 1])}" for row in points)


def _other_side(inside: str, mirrored: bool) -> str:
    """The side of the inside, in the view, of a section that is mirrored or not."""
    return {"left": "right", "right": "left"}.get(inside, inside) if mirrored else inside


def _mm(number: Number) -> str:
    """A printed ordinate in mm, as a figure reads it."""
    assert number.amount is not None
    return number.shown if number.unit == "mm" else f"{1000 * number.amount.value:.3f}"


def _moment_rows(working: Working) -> Iterator[tuple[str, str]]:
    """Both parts of a clearance sweep and its closest moment, as printed."""
    assert working.ran is not None
    inputs = working.ran.inputs
    names = _OUTLINES if "first" in inputs else _WHEEL
    for label, name in names.items():
        yield label, inputs[name].numbers
    if "first" in inputs:
        for name in ("first", "second"):
            yield name, "; ".join(f"{_in_mm(c.across)} {_in_mm(c.up)}" for c in inputs[name])
    yield "hinge", f"{inputs['hinge_across'].numbers}; {inputs['hinge_up'].numbers}"
    low, high = ("from_turned", "to_turned") if "first" in inputs else ("from_leg", "to_leg")
    yield "sweep", f"{inputs[low].numbers} to {inputs[high].numbers}"
    text = {n.name.removeprefix(f"{working.name}."): _plain(n) for n in working.results}
    yield "at", text["at" if "first" in inputs else "leg"]
    yield "gap", text["gap"]
    yield "sure", text["sure"]
    yield "wanted", inputs["wanted"].numbers


def _linkage_rows(working: Working) -> Iterator[tuple[str, str]]:
    """A chain of levers at neutral, and how far its first and last are turned, as printed."""
    assert working.ran is not None
    inputs = working.ran.inputs
    for n, stage in enumerate(inputs["stages"], start=1):
        sizes = (stage.driver, stage.driver_angle, stage.driven, stage.driven_angle)
        told = [each.numbers for each in (*sizes, stage.across, stage.up)]
        yield f"stage {n}", "; ".join((*told, stage.by))
    text = {n.name.removeprefix(f"{working.name}."): _plain(n) for n in working.results}
    yield "turned", inputs["angle"].numbers if "angle" in inputs else text["first"]
    yield "last", text["last"] if "angle" in inputs else inputs["wanted"].numbers


_WHEEL = {
    "wheel": "wheel_radius",
    "half length": "half_length",
    "half width": "half_width",
    "fullness": "fullness",
    "door": "door_length",
    "open": "open_angle",
    "trigger": "trigger",
    "closed": "closed",
}
_OUTLINES = {"turns": "turns", "start": "start", "end": "end"}


def _in_mm(amount: Any) -> str:
    return f"{1000 * amount.value:.2f}"


_ROWS: Mapping[str, Callable[[Working], Iterator[tuple[str, str]]]] = {
    "bend-profile": _profile_rows,
    "flat-pattern": _flat_rows,
    "former-templates": _former_rows,
    "closest-moment": _moment_rows,
    "linkage": _linkage_rows,
    "hinge-line": hinge_line_rows,
    "tilt-arrows": tilt_rows,
    "door-swing": swing_rows,
    "tilt-plan": plan_rows,
    "bolt-circle": circle_rows,
    "pair-plan": pair_rows,
    "turn-view": turn_rows,
    "development": _development_rows,
}
