"""Fasteners by their places, in; a plan of where each number stands and a box for each, out.

For what is too much for boxes beside the fasteners: a long circle, long rows with an order, or
places that follow no rule. The plan is to scale; the boxes stand below it, ten in a line, in the
order of tightening or else of the numbers. What one page does not hold goes on in further parts,
each with the plan and with the next of the boxes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from generator.figures.clearance import Box
from generator.figures.lettering import centred_baseline, text_box, text_width
from generator.figures.map_parts import LINE, NUMBER, TICK, heading, must_fit
from generator.figures.picture import Circle, Line, Mark, Picture, Point, Tick, Words
from generator.figures.plan_labels import Ground, labelled
from generator.findings import Refusal

MOST = 200
MOST_PARTS = 8
TALL = 170.0  # of a part, where the page is not known: it stands on a page of Letter, signed
PITCH = 7.2  # from one line of boxes to the next
DOTS = (0.7, 0.45)  # radii: the usual one, and the least that is seen on a photocopy
APART = 0.2  # between dots
SIZES = (12.0, 10.5, 9.0)  # points, of the numbers on the plan: the largest that finds room
CROSS = 4.0  # arms of the datum's mark
LEAST = 45.0  # a lower plan says too little, of whatever shape
EVERY = 5  # where numbers follow each other along a line, every fifth is written
ROUND = 9.0  # room for numbers outside the outermost fasteners


@dataclass(frozen=True)
class Wanted:
    """What is drawn. places: number -> where it stands, in millimetres of the work, y down.

    named: the numbers that are written on the plan, none for those of the part. datum: the point
    from which places are measured, drawn as a cross. marks: number -> what it is called besides.
    """

    view: str
    facts: str
    places: Mapping[int, Point]
    item: str
    order: tuple[int, ...]
    named: tuple[int, ...] = ()
    datum: Point | None = None
    marks: Mapping[int, str] = field(default_factory=dict)
    highest: float = math.inf  # the plan need not be higher
    lowest: float = LEAST  # a lower one says too little
    outwards: Point | None = None  # numbers stand on the side away from it first

    def label(self, number: int) -> str:
        """What stands before its box."""
        return f"{number} {self.marks[number]}" if number in self.marks else f"{number}"


def plan_map(wanted: Wanted, width: float, height: float = math.inf) -> Picture:
    """The map, its further parts behind it, each no higher than the height (mm): as few as hold
    the boxes and the numbers on the plan.

    Refuses places so near to each other that dots or numbers would run into each other, also in
    the most parts, and words that do not fit the width.
    """
    page = (width, TALL if math.isinf(height) else height)
    for parts in range(1, MOST_PARTS + 1):
        try:
            least = _in_parts(wanted, page, parts, SIZES[-1])
        except Refusal as refusal:
            if parts == MOST_PARTS:
                raise refusal
        else:
            first, *others = _largest(wanted, page, parts) or least
            return replace(first, more=tuple(others))
    raise AssertionError("a map in no part")


def _largest(wanted: Wanted, page: Point, parts: int) -> list[Picture] | None:
    """The parts with the largest numbers that find room, if any larger than the least do."""
    for size in SIZES[:-1]:
        try:
            return _in_parts(wanted, page, parts, size)
        except Refusal:
            continue
    return None


def _in_parts(wanted: Wanted, page: Point, parts: int, size: float) -> list[Picture]:
    sequence = wanted.order or tuple(sorted(wanted.places))
    long = -(-len(sequence) // parts)
    cut = [sequence[i : i + long] for i in range(0, len(sequence), long)]
    return [_part(wanted, page, cut, i, size) for i in range(len(cut))]


def _part(
    wanted: Wanted, page: Point, cut: Sequence[Sequence[int]], i: int, size: float
) -> Picture:
    """One page of the map, of that width and height: heading, plan, and the boxes of its share."""
    width, height = page
    view = wanted.view
    if len(cut) > 1:
        view += f", part {i + 1} of {len(cut)}"
    head = heading(view, wanted.facts, width)
    y = LINE * len(head) + 2
    high = _boxes_height(wanted, cut[i], width)
    named = wanted.named or tuple(sorted(cut[i]))
    marks, low = _plan(wanted, named, y, width, min(height - y - high - 2, wanted.highest), size)
    made = (*head, *marks, *_boxes(wanted, cut, i, low, width))
    must_fit(made, width, len(wanted.places))
    return Picture(width, low + high + 2, made)


def _said(wanted: Wanted, cut: Sequence[Sequence[int]], i: int) -> str:
    """The words above the boxes of a part."""
    if not wanted.order:
        only = f", {cut[i][0]} to {cut[i][-1]}" if len(cut) > 1 else ""
        return f"tick each one{only}"
    if i:
        return f"tick each one in this order, going on after {cut[i - 1][-1]} of part {i}"
    return f"tick each one in this order: begin at {cut[0][0]}"


def _in_a_line(wanted: Wanted, share: Sequence[int], width: float) -> int:
    """How many boxes stand side by side, each with its label before it: ten at the most."""
    widest = max(text_width(wanted.label(n), NUMBER) for n in share) + TICK + 3.4
    cell = max(widest, 13.0 if len(wanted.places) < 100 else 15.4)
    return max(1, min(10, int(width // cell)))


def _boxes_height(wanted: Wanted, share: Sequence[int], width: float) -> float:
    """How high the boxes of a share are, with the words above them."""
    return LINE + 3 + PITCH * -(-len(share) // _in_a_line(wanted, share, width))


def _boxes(
    wanted: Wanted, cut: Sequence[Sequence[int]], i: int, y: float, width: float
) -> Iterator[Mark]:
    """A box for each fastener of the part, its number before it, in lines."""
    before = f"{wanted.item} no. " if wanted.item else "no. "
    yield Words(0.0, y + LINE - 1, _said(wanted, cut, i), 10.5)
    across = _in_a_line(wanted, cut[i], width)
    step = width / across
    for k, number in enumerate(cut[i]):
        line, place = divmod(k, across)
        x, top = (place + 1) * step - TICK, y + LINE + 2 + line * PITCH
        base = centred_baseline(top + TICK / 2, NUMBER)
        yield Words(x - 1.4, base, wanted.label(number), NUMBER, True, "end")
        yield Tick(x, top, TICK, f"{before}{wanted.label(number)}")


def _plan(
    wanted: Wanted, named: Sequence[int], y: float, width: float, room: float, size: float
) -> tuple[tuple[Mark, ...], float]:
    """The plan below y, at most so high as there is room, and how far down it reaches."""
    if room < wanted.lowest:
        wrong = f"a map of {len(wanted.places)} fasteners is too high"
        raise Refusal("figure", wrong, "split the map")
    datum = wanted.datum
    every = [*wanted.places.values(), *([datum] if datum else [])]
    paper = _on_paper(every, y, width, room)
    at = {n: paper(place) for n, place in wanted.places.items()}
    dot = _dot(at)
    cross = paper(datum) if datum else None
    arms = tuple(_arms(cross)) if cross else ()
    texts = {str(number): at[number] for number in named}
    marks: list[Mark] = []
    if cross:
        marks += _cross(cross)
        texts["datum"] = cross
    frame = Box(0.0, y, width, y + room)
    out = paper(wanted.outwards) if wanted.outwards else None
    # Dots whose numbers are left out are thin where the others are heavy.
    rivals = tuple(at[n] for n in wanted.named or at)
    ground = Ground(frame, tuple(at.values()), dot, arms, rivals, size, out)
    labels = labelled(texts, ground)
    for words, leader in labels:
        marks += [words, *leader]
    heavy = {1} if len(named) == len(at) else set(wanted.named)
    dots = [Circle(*xy, dot, 0.6 if n in heavy else 0.35) for n, xy in at.items()]
    reached = [py + dot for _, py in at.values()]
    reached += [box.bottom for box in (*arms, *(text_box(words) for words, _ in labels))]
    return (*dots, *marks), max(reached) + 1


def _on_paper(
    places: Sequence[Point], y: float, width: float, room: float
) -> Callable[[Point], Point]:
    """Where a place of the work stands on paper: as large as fits, in the middle."""
    xs, ys = [x for x, _ in places], [y for _, y in places]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    fits = [(width - 2 * ROUND) / wide] if wide else []
    fits += [(room - 2 * ROUND) / high] if high else []
    scale, left, top = min(fits), min(xs), min(ys)
    margin = (width - wide * scale) / 2
    return lambda at: (margin + (at[0] - left) * scale, y + ROUND + (at[1] - top) * scale)


def _dot(at: Mapping[int, Point]) -> float:
    """The radius of the dots; refuses places so near that they would run into each other."""
    usual, least = DOTS
    apart, pair = 2 * usual + APART, (0, 0)
    numbers = sorted(at, key=lambda n: at[n])
    for i, one in enumerate(numbers):
        for other in numbers[i + 1 :]:
            if at[other][0] - at[one][0] > apart:
                break
            if math.dist(at[one], at[other]) < apart:
                apart, pair = math.dist(at[one], at[other]), (min(one, other), max(one, other))
    if (apart - APART) / 2 < least:
        wrong = f"fasteners {pair[0]} and {pair[1]} cannot be told apart on the map"
        raise Refusal("figure", wrong, "places farther apart, or a map of their own")
    return (apart - APART) / 2


def _cross(at: Point) -> Iterator[Line]:
    x, y = at
    yield Line(x - CROSS, y, x + CROSS, y, 0.25)
    yield Line(x, y - CROSS, x, y + CROSS, 0.25)


def _arms(at: Point) -> Iterator[Box]:
    """What the cross of the datum takes."""
    x, y = at
    yield Box(x - CROSS, y - 0.2, x + CROSS, y + 0.2)
    yield Box(x - 0.2, y - CROSS, x + 0.2, y + CROSS)
