"""Thickness, legs and bends as the sheet's rows give them, in; a side view with its sizes, out.

The view is in proportion, never to a scale one could measure from. Labels are placed one after
the other, each where it touches neither metal nor another label; where one finds no place, the
whole view is drawn smaller.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import chain, pairwise

from generator.figures.bend_labels import bend_labels, dimensions, leg_words
from generator.figures.bend_rows import length, order, ordinal, turn
from generator.figures.clearance import Box, Stroke, around
from generator.figures.folded import Profile, Spot, Strip, folded
from generator.figures.lettering import wrapped
from generator.figures.picture import Outline, Picture, Words, lowered
from generator.figures.placing import Bench, Label, Paper, place
from generator.findings import Refusal

SIZE = 10.5
SMALL = 9.0
LINE = 4.8
DEPTH = 70.0
DEEPEST = 110.0
LARGEST = 2.0  # times real size


@dataclass(frozen=True)
class Plan:
    """A way to label: bends before legs or after; a dimension line at every leg or where it fits;
    short labels, whose sizes are listed below; in so many steps, each a size smaller, on paper
    so many millimetres deep."""

    bends_first: bool
    lined: bool
    short: bool
    steps: int
    depth: float = DEPTH


Rail = tuple[tuple[float, float], ...]

PLANS = (
    Plan(bends_first=False, lined=True, short=False, steps=4),
    Plan(bends_first=True, lined=False, short=False, steps=5),
    Plan(bends_first=False, lined=False, short=False, steps=3),
    Plan(bends_first=False, lined=True, short=True, steps=4),
    Plan(bends_first=True, lined=False, short=True, steps=8),
    Plan(bends_first=False, lined=False, short=True, steps=8, depth=DEEPEST),
    Plan(bends_first=True, lined=False, short=True, steps=14, depth=DEEPEST),
)


@dataclass(frozen=True)
class Told:
    """The strip in millimetres, and the words of its rows as they are printed.

    order: the bends by number in the order in which they are made, or nothing.
    """

    strip: Strip
    thickness: str
    legs: tuple[str, ...]
    bends: tuple[str, ...]
    order: tuple[int, ...]


def bend_profile(rows: Mapping[str, str], width: float) -> Picture:
    """The side view of a bent strip, width in millimetres, about 85 mm high where that is enough.

    Refuses rows it cannot read, a strip that cannot be folded, and one whose labels find no
    place in the width.
    """
    told = _told(rows)
    profile = folded(told.strip)
    shape = around(Box(x, y, x, y) for x, y in profile.outline)
    half = told.strip.thickness / 2
    rails = (_rail(profile, 0), _rail(profile, half), _rail(profile, -half))
    for plan in PLANS:
        full = _largest(shape, width, plan.depth)
        for step in range(plan.steps):
            laid = _laid(told, profile, shape, rails, full * 0.88**step, width, plan)
            if laid is not None:
                return _finished(told, laid, width, plan.short)
    wrong = f"the sizes of {len(told.bends)} bends find no place in {width:.0f} mm"
    raise Refusal("figure", wrong, "a wider picture, or fewer bends in one figure")


def _told(rows: Mapping[str, str]) -> Told:
    bends = sum(name.startswith("bend ") for name in rows)
    wanted = ["thickness", "leg 1"]
    for number in range(1, bends + 1):
        wanted += [f"bend {number}", f"leg {number + 1}"]
    if bends == 0 or sorted(name for name in rows if name != "order") != sorted(wanted):
        wrong = f"a bend profile with the rows {', '.join(rows)}"
        raise Refusal("figure", wrong, "thickness, leg 1, bend 1, leg 2, and so on to a last leg")
    legs = tuple(rows[name] for name in wanted if name.startswith("leg"))
    turns = tuple(rows[name] for name in wanted if name.startswith("bend"))
    strip = Strip(
        length(rows["thickness"]).millimetres,
        tuple(length(leg).millimetres for leg in legs),
        tuple(turn(text).bend for text in turns),
    )
    made = order(rows.get("order", ""), bends)
    return Told(strip, rows["thickness"], legs, _with_order(turns, made), made)


def _with_order(turns: tuple[str, ...], made: tuple[int, ...]) -> tuple[str, ...]:
    """The words of each bend, and after them when it is made, where an order is given."""
    if not made:
        return turns
    return tuple(f"{text}, {ordinal(made.index(n) + 1)}" for n, text in enumerate(turns, 1))


def _largest(shape: Box, width: float, depth: float) -> float:
    """The largest scale at which the bare metal leaves room for labels at its sides."""
    across, deep = shape.right - shape.left, shape.bottom - shape.top
    return min(LARGEST, (width - 24) / across, (depth - 24) / deep)


def _laid(
    told: Told, profile: Profile, shape: Box, rails: tuple[Rail, ...], scale: float, width: float,
    plan: Plan,
) -> list[Label] | None:  # fmt: skip
    """Metal and all labels at one scale; None where a label finds no place."""
    middle = ((shape.left + shape.right) / 2, (shape.top + shape.bottom) / 2)
    paper = Paper(scale, width / 2 - scale * middle[0], plan.depth / 2 + scale * middle[1])
    middle_line, upper, lower = (_metal(rail, paper) for rail in rails)
    bench = Bench(
        frame=Box(0, 0, width, plan.depth),
        metal=middle_line,
        edges=(*upper, *lower),
        skin=scale * told.strip.thickness / 2,
    )
    placed = place(bench, _sought(told, profile, paper, plan))
    if placed is None:
        return None
    outline = tuple(map(paper.at, profile.outline))
    body = around(Box(x, y, x, y) for x, y in outline)
    return [Label((Outline(outline, 0.35, closed=True),), (body,)), *placed]


def _sought(told: Told, profile: Profile, paper: Paper, plan: Plan) -> list[Iterator[Label]]:
    """For each label in turn, the places it may take, best first."""
    legs = []
    for leg, size in enumerate(told.legs):
        words = f"leg {leg + 1}" + ("" if plan.short else f": {size}")
        lines = dimensions(words, profile, paper, leg)
        beside = leg_words(words, profile, paper, leg)
        legs.append(lines if plan.lined else chain(lines, beside))
    bends = [
        bend_labels("" if plan.short else size, profile, paper, bend)
        for bend, size in enumerate(told.bends)
    ]
    return bends + legs if plan.bends_first else legs + bends


def _rail(profile: Profile, off: float) -> Rail:
    """A line off the middle, coarse in the bends: enough to keep labels off the metal."""
    spots: list[Spot] = [*profile.flats[0]]
    for arc, flat in zip(profile.arcs, profile.flats[1:], strict=True):
        spots += [*arc[5::5], *flat]
    return tuple(spot.off(off) for spot in spots)


def _metal(rail: Rail, paper: Paper) -> tuple[Stroke, ...]:
    """The line as it lies on paper."""
    return tuple(Stroke(a, b) for a, b in pairwise(map(paper.at, rail)))


def _finished(told: Told, laid: list[Label], width: float, short: bool) -> Picture:
    """Cut to the height that is used, with the words that say how to read the view."""
    used = around(box for label in laid for box in (*label.boxes, *map(_span, label.strokes)))
    marks = [lowered(mark, 1 - used.top) for label in laid for mark in label.marks]
    y = used.bottom - used.top + 2
    if short:
        marks += _listed(told, y, width)
        y += LINE * len(told.legs) + 1
    lines = wrapped(_note(told), SMALL, width)
    marks += [Words(0, y + 4.2 * i, line, SMALL) for i, line in enumerate(lines, 1)]
    return Picture(width, y + 4.2 * len(lines) + 1.5, tuple(marks))


def _listed(told: Told, y: float, width: float) -> list[Words]:
    """The sizes in two columns, legs left and bends right."""
    columns = ((0.0, "leg", told.legs), (width * 0.45, "bend", told.bends))
    return [
        Words(x, y + LINE * number, f"{name} {number}: {size}", SIZE)
        for x, name, sizes in columns
        for number, size in enumerate(sizes, 1)
    ]


def _note(told: Told) -> str:
    order = ", ".join(map(str, told.order))
    return (
        f"Side view of sheet {told.thickness} thick, in proportion: not to be measured. "
        "Legs are to the mould lines. Angles are those through which the metal is bent, "
        f"up or down as seen with leg {told.strip.longest + 1} flat."
        + (f" Bend in the order {order}." if order else "")
    )


def _span(stroke: Stroke) -> Box:
    (ax, ay), (bx, by) = stroke.a, stroke.b
    return Box(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))
