"""Thickness, legs and bends as the sheet's rows give them, in; a side view with its sizes, out.

The view is in proportion, never to a scale one could measure from. Labels are placed one after
the other, each where it touches neither metal nor another label; where one finds no place, the
whole view is drawn smaller.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import chain, pairwise

from generator.figures.clearance import Box, Stroke, around
from generator.figures.folded import Bend, Profile, Spot, Strip, folded
from generator.figures.lettering import centred_baseline, text_box, text_width, wrapped
from generator.figures.picture import Circle, Line, Mark, Outline, Picture, Point, Words
from generator.figures.placing import Bench, Label, Paper, place
from generator.findings import Refusal
from generator.quantities.units import unit

SIZE = 10.5
SMALL = 9.0
LINE = 4.8
HALF_LINE = 2.1  # half the height of a line of SIZE
BALLOON = 3.4
DEPTH = 70.0
DEEPEST = 110.0
LARGEST = 2.0  # times real size
LENGTH = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?(mm|in)(?: \(.*\))?")
BEND = re.compile(
    r"([0-9]+(?:\.[0-9]+)?) ?° R ([0-9]+(?:\.[0-9]+)?) ?(mm|in)(?: \(.*\))? (up|down)"
)


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
    """The strip in millimetres, and the words of its rows as they are printed."""

    strip: Strip
    thickness: str
    legs: tuple[str, ...]
    bends: tuple[str, ...]


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
    if bends == 0 or sorted(rows) != sorted(wanted):
        wrong = f"a bend profile with the rows {', '.join(rows)}"
        raise Refusal("figure", wrong, "thickness, leg 1, bend 1, leg 2, and so on to a last leg")
    legs = tuple(rows[name] for name in wanted if name.startswith("leg"))
    turns = tuple(rows[name] for name in wanted if name.startswith("bend"))
    strip = Strip(_length(rows["thickness"]), tuple(map(_length, legs)), tuple(map(_bend, turns)))
    return Told(strip, rows["thickness"], legs, turns)


def _length(text: str) -> float:
    found = LENGTH.fullmatch(text.strip())
    if found is None or float(found[1]) == 0:
        raise Refusal("figure", f"{text!r} is no length for a bend profile", "such as 25.0 mm")
    return _millimetres(found[1], found[2])


def _millimetres(number: str, named: str) -> float:
    return float(number) * unit(named).factor / unit("mm").factor


def _bend(text: str) -> Bend:
    found = BEND.fullmatch(text.strip())
    if found is None:
        raise Refusal("figure", f"{text!r} is no bend", "such as 90° R 3.2 mm up")
    return Bend(float(found[1]), _millimetres(found[2], found[3]), found[4] == "up")


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
        lines = _dimensions(words, profile, paper, leg)
        beside = _leg_words(words, profile, paper, leg)
        legs.append(lines if plan.lined else chain(lines, beside))
    bends = [
        _bend_labels("" if plan.short else size, profile, paper, bend)
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


def _leg_words(words: str, profile: Profile, paper: Paper, leg: int) -> Iterator[Label]:
    """Places for a leg's words without a dimension line: beside it, then slid along at a leader."""
    skin = paper.scale * profile.strip.thickness / 2
    outside = _outside(profile.strip, leg)
    for slide in (0.0, 12.0, -12.0, 24.0, -24.0):
        for away in (2.0, 5.0, 9.0, 14.0, 20.0, 27.0):
            for part in (0.5, 0.3, 0.7, 0.1, 0.9):
                spot = _part_way(*profile.flats[leg], part)
                for side in (outside, -outside):
                    aside = Spot(*spot.off(0, slide / paper.scale), spot.heading)
                    label = _beside(words, aside, paper, side * (skin + away))
                    yield _led(label, spot, paper, skin)


def _part_way(start: Spot, end: Spot, part: float) -> Spot:
    x, y = start.x + part * (end.x - start.x), start.y + part * (end.y - start.y)
    return Spot(x, y, start.heading)


def _outside(strip: Strip, leg: int) -> int:
    """+1 where a leg's upper side is the outer one, -1 where its lower side is."""
    beside = strip.bends[max(0, leg - 1) : leg + 1]
    return -1 if sum(bend.turn for bend in beside) >= 0 else 1


def _beside(words: str, spot: Spot, paper: Paper, away: float) -> Label:
    """The words off a spot, their box clear of the line through it by the distance away."""
    nx, ny = -math.sin(spot.heading), -math.cos(spot.heading)
    half = text_width(words, SIZE) / 2
    reach = math.copysign(abs(away) + half * abs(nx) + HALF_LINE * abs(ny), away)
    x, y = paper.at((spot.x, spot.y))
    return _lettered(words, x + nx * reach, y + ny * reach)


def _led(label: Label, spot: Spot, paper: Paper, skin: float) -> Label:
    """The label with a leader from the metal at spot, where the words stand far off it."""
    foot, box = paper.at((spot.x, spot.y)), label.boxes[0]
    to = (
        min(max(foot[0], box.left), box.right),
        min(max(foot[1], box.top), box.bottom),
    )
    length = math.dist(foot, to)
    if length < skin + 6:
        return label
    start, end = (skin + 0.6) / length, 1 - 0.8 / length
    ends = [
        (foot[0] + part * (to[0] - foot[0]), foot[1] + part * (to[1] - foot[1]))
        for part in (start, end)
    ]
    leader = Stroke(ends[0], ends[1])
    return Label((*label.marks, _line(leader, 0.18)), label.boxes, (leader,))


def _lettered(words: str, x: float, y: float) -> Label:
    mark = Words(x, centred_baseline(y, SIZE), words, SIZE, False, "middle")
    return Label((mark,), (text_box(mark),))


def _dimensions(words: str, profile: Profile, paper: Paper, leg: int) -> Iterator[Label]:
    """Places for a leg's dimension line, from mould line to mould line, outside first."""
    outside = _outside(profile.strip, leg)
    for away in (6.0, 9.0, 13.0):
        for side in (outside, -outside):
            strokes = _dimension_strokes(profile, paper, leg, side * away)
            if math.dist(strokes[0].a, strokes[0].b) >= 5:
                yield from _dimension(words, profile, paper, leg, side * away, strokes)


def _dimension_strokes(
    profile: Profile, paper: Paper, leg: int, away: float
) -> tuple[Stroke, Stroke, Stroke]:
    """The line, which lies so many millimetres of paper off the skin, and its two leads."""
    start, end = profile.flats[leg]
    before, after = profile.strip.setbacks(leg)
    side = math.copysign(1.0, away)
    ends = ((start, -before), (end, after))

    def row(on_paper: float) -> list[Point]:
        off = side * (profile.strip.thickness / 2 + on_paper / paper.scale)
        return [paper.at(spot.off(off, along)) for spot, along in ends]

    a, b = row(abs(away))
    leads = [Stroke(*pair) for pair in zip(row(1.2), row(abs(away) + 1.0), strict=True)]
    return (Stroke(a, b), leads[0], leads[1])


def _dimension(
    words: str,
    profile: Profile,
    paper: Paper,
    leg: int,
    away: float,
    strokes: tuple[Stroke, Stroke, Stroke],
) -> Iterator[Label]:
    """The strokes with the size written beside the line, at its middle first."""
    a, b = strokes[0].a, strokes[0].b
    lines: tuple[Mark, ...] = (*(_line(s, 0.18) for s in strokes), _head(a, b), _head(b, a))
    skin = paper.scale * profile.strip.thickness / 2
    beyond = math.copysign(abs(away) + skin + 1.4, away)
    for part in (0.5, 0.3, 0.7):
        spot = _part_way(*profile.flats[leg], part)
        text = _beside(words, spot, paper, beyond)
        if not any(stroke.enters(text.boxes[0]) for stroke in strokes):
            yield Label((*lines, *text.marks), text.boxes, strokes)


def _line(stroke: Stroke, weight: float) -> Line:
    return Line(*stroke.a, *stroke.b, weight)


def _head(tip: Point, towards: Point) -> Outline:
    """A slim black arrowhead at tip, on the line that comes from towards."""
    length = math.dist(tip, towards)
    ux, uy = (towards[0] - tip[0]) / length, (towards[1] - tip[1]) / length
    back = (tip[0] + 2.2 * ux, tip[1] + 2.2 * uy)
    left, right = ((back[0] - s * uy, back[1] + s * ux) for s in (0.5, -0.5))
    return Outline((tip, left, right), 0.18, closed=True, filled=True)


def _bend_labels(words: str, profile: Profile, paper: Paper, bend: int) -> Iterator[Label]:
    """Places for a bend's balloon and words: inside the bend first, then outside."""
    arc = profile.arcs[bend]
    spot = arc[len(arc) // 2]
    outer = -1.0 if profile.strip.bends[bend].up else 1.0
    clear = profile.strip.thickness / 2 + 0.6 / paper.scale
    for side in (-outer, outer):
        foot = paper.at(spot.off(side * clear))
        straight = math.atan2(-side * math.cos(spot.heading), -side * math.sin(spot.heading))
        for middle in _round_about(foot, straight):
            right = middle[0] >= foot[0] - 1
            for to_right in (right, not right):
                label = _balloon(str(bend + 1), words, foot, middle, to_right)
                if not label.strokes[0].enters(label.boxes[-1]) or not words:
                    yield label


def _round_about(foot: Point, straight: float) -> Iterator[Point]:
    """Middles for a balloon, ever farther from the bend and to both sides of straight off it."""
    for away in (5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 38.0):
        for turn in (0, 20, -20, 40, -40, 60, -60, 80, -80, 100, -100):
            angle, reach = straight + math.radians(turn), away + BALLOON
            yield (foot[0] + reach * math.cos(angle), foot[1] + reach * math.sin(angle))


def _balloon(number: str, words: str, foot: Point, middle: Point, to_right: bool) -> Label:
    """A numbered circle at middle, its words at one side and a leader from the bend at foot."""
    x, y = middle
    inward = BALLOON / math.dist(foot, middle)
    leader = Stroke(foot, (x + (foot[0] - x) * inward, y + (foot[1] - y) * inward))
    aside = BALLOON + 1.2
    text = Words(
        x + (aside if to_right else -aside),
        centred_baseline(y, SIZE),
        words,
        SIZE,
        False,
        "start" if to_right else "end",
    )
    figure = Words(x, centred_baseline(y, SIZE), number, SIZE, True, "middle")
    circle = Box(x - BALLOON, y - BALLOON, x + BALLOON, y + BALLOON)
    marks = (_line(leader, 0.18), Circle(x, y, BALLOON), figure)
    if not words:
        return Label(marks, (circle,), (leader,))
    return Label((*marks, text), (circle, text_box(text)), (leader,))


def _finished(told: Told, laid: list[Label], width: float, short: bool) -> Picture:
    """Cut to the height that is used, with the words that say how to read the view."""
    used = around(box for label in laid for box in (*label.boxes, *map(_span, label.strokes)))
    marks = [_raised(mark, used.top - 1) for label in laid for mark in label.marks]
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
    return (
        f"Side view of sheet {told.thickness} thick, in proportion: not to be measured. "
        "Legs are to the mould lines. Angles are those through which the metal is bent, "
        f"up or down as seen with leg {told.strip.longest + 1} flat."
    )


def _span(stroke: Stroke) -> Box:
    (ax, ay), (bx, by) = stroke.a, stroke.b
    return Box(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


def _raised(mark: Mark, by: float) -> Mark:
    match mark:
        case Line(x1, y1, x2, y2, weight):
            return Line(x1, y1 - by, x2, y2 - by, weight)
        case Circle(x, y, radius, weight):
            return Circle(x, y - by, radius, weight)
        case Outline(points, weight, closed, filled):
            return Outline(tuple((x, y - by) for x, y in points), weight, closed, filled)
        case Words(x, y, text, size, bold, anchor):
            return Words(x, y - by, text, size, bold, anchor)
    return mark
