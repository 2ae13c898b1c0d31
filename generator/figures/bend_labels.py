"""A folded strip on paper, in; the places that the labels of its legs and bends may take, out.

Places come best first; whether one is free is not known here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.figures.clearance import Box, Stroke
from generator.figures.folded import Profile, Spot, Strip
from generator.figures.lettering import centred_baseline, text_box, text_width
from generator.figures.picture import Circle, Line, Mark, Outline, Point, Words
from generator.figures.placing import Label, Paper

SIZE = 10.5
HALF_LINE = 2.1  # half the height of a line of SIZE
BALLOON = 3.4
FINE = 0.25  # the thinnest stroke that outlives a copy of a copy
NEARER = 2.5  # so much nearer must words be to their own leg than to any other


def leg_words(words: str, profile: Profile, paper: Paper, leg: int) -> Iterator[Label]:
    """Places for a leg's words without a dimension line: beside it, then slid along at a leader."""
    skin = paper.scale * profile.strip.thickness / 2
    outside = _outside(profile.strip, leg)
    for slide in (0.0, 12.0, -12.0, 24.0, -24.0):
        for away in (2.0, 5.0, 9.0, 14.0, 20.0, 27.0):
            for part in (0.5, 0.3, 0.7, 0.1, 0.9):
                spot = _part_way(*profile.flats[leg], part)
                for side in (outside, -outside):
                    aside = Spot(*spot.off(0, slide / paper.scale), spot.heading)
                    words_there = _beside(words, aside, paper, side * (skin + away))
                    label = _led(words_there, spot, paper, skin)
                    if label.strokes or not _doubtful(label, profile, paper, leg, skin + away):
                        yield label


def _doubtful(label: Label, profile: Profile, paper: Paper, leg: int, away: float) -> bool:
    """Whether another leg lies about as near to the words as their own does, which is away."""
    near = label.boxes[0].grown(away + NEARER)
    others = (ends for other, ends in enumerate(profile.flats) if other != leg)
    return any(Stroke(paper.at((a.x, a.y)), paper.at((b.x, b.y))).enters(near) for a, b in others)


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
    return Label((*label.marks, _line(leader, FINE)), label.boxes, (leader,))


def _lettered(words: str, x: float, y: float) -> Label:
    named = (words.partition(":")[0],)
    mark = Words(x, centred_baseline(y, SIZE), words, SIZE, False, "middle", named)
    return Label((mark,), (text_box(mark),))


def dimensions(words: str, profile: Profile, paper: Paper, leg: int) -> Iterator[Label]:
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
    lines: tuple[Mark, ...] = (*(_line(s, FINE) for s in strokes), _head(a, b), _head(b, a))
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
    return Outline((tip, left, right), FINE, closed=True, filled=True)


def bend_labels(words: str, profile: Profile, paper: Paper, bend: int) -> Iterator[Label]:
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
        (named := (f"angle {number}", f"radius {number}")),
    )
    figure = Words(x, centred_baseline(y, SIZE), number, SIZE, True, "middle")
    circle = Box(x - BALLOON, y - BALLOON, x + BALLOON, y + BALLOON)
    ring = Circle(x, y, BALLOON, names=() if words else named)
    marks = (_line(leader, FINE), ring, figure)
    if not words:
        return Label(marks, (circle,), (leader,))
    return Label((*marks, text), (circle, text_box(text)), (leader,))
