"""A finished print and its Markdown, in; everything that is wrong on its pages, each in words, out.

The checks of the page inspector: `test_pages.py` asks them of every sheet, `test_inspector.py` of
prints that are wrong on purpose.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

import numpy as np

from generator.draw.pen import LEAST, Box
from tests.draw.inspector import Rect, Seen, letters
from tests.helping import texts_in

# Words of the dialect that tell draw what to do and are not printed themselves.
UNPRINTED = {
    "box", "wide box", "tall box", "sketch box", "stamp", "-", "record", "words", "clock", "date", "tick", "count", "unit", "times",
    "instrument", "temperature", "thickness", "in rows", "across", "up", "curves", "no-go", "nominal", "grain", "along the length", "across the length", "closes operations", "numbering", "fasteners", "item", "first", "looking", "notice", "by",
    "name", "rows", "columns", "width", "note", "places", "datum",
}  # fmt: skip
# Places are drawn, not printed; their marks are.
PLACES = re.compile(r"-?[\d.]+, -?[\d.]+( \S+)?(; -?[\d.]+, -?[\d.]+( \S+)?)*")
BAR_DOWN = "250 mm, from tick to tick"
CORNER = 20.0  # the corner codes' squares end here, from each edge
LEAST_LETTERS = 6.99  # points


def page_counts(
    pages: Sequence[Seen], count: int, first: int = 1, of: int | None = None
) -> Iterator[str]:
    """Every page says which of how many it is, and there are as many. first and of: the number of
    the first page, and how many there are, where the sheet is one of a pack."""
    if len(pages) != count:
        yield f"{len(pages)} pages, not {count}"
    for number, page in enumerate(pages, start=first):
        if f"sheet {number} of {of or len(pages)}" not in page.text:
            yield f"page {number} does not say so"


def outside_margins(pages: Sequence[Seen]) -> Iterator[str]:
    for page in pages:
        for said in page.said:
            place = said.place
            right, bottom = place.x + place.width, place.y + place.height
            # Beside the punch holes, which end 15 mm from the edge, stands one thing alone: what
            # the bar down a full-size page is called.
            in_margin = letters(said.text) in letters(BAR_DOWN)
            if place.x < (16.0 if in_margin else 24.5) or right > page.width - 9.0:
                yield f"{said.text!r} stands in a margin"
            in_corner_rows = place.y < CORNER or bottom > page.height - CORNER
            if in_corner_rows and right > page.width - CORNER:
                yield f"{said.text!r} stands in a corner"


def small_letters(pages: Sequence[Seen]) -> Iterator[str]:
    for page in pages:
        for said in page.said:
            if said.size and said.size < LEAST_LETTERS:
                yield f"{said.text!r} has {said.size:.1f} points"


def text_on_text(pages: Sequence[Seen]) -> Iterator[str]:
    for page in pages:
        places = [said.place for said in page.said]
        for i, j in _near(_bounds(places), _bounds(places)):
            one, other = page.said[i], page.said[j]
            if i < j and one.place.overlap(other.place) >= 0.2:
                yield f"{one.text!r} lies on {other.text!r}"


def boxes_not_mapped(pages: Sequence[Seen], boxes: Sequence[Box]) -> Iterator[str]:
    """Boxes of the map that are not in the PDF's own strokes, and strokes that are on no map."""
    for number, page in enumerate(pages, start=1):
        mapped = sorted((b.y, b.x, b.width, b.height) for b in boxes if b.page == number)
        left = sorted((b.y, b.x, b.width, b.height) for b in page.boxes)
        if len(mapped) != len(left):
            yield f"page {number}: {len(mapped)} boxes on the map, {len(left)} drawn"
        for box in mapped:
            near = min(
                left,
                default=None,
                key=lambda f: sum(abs(a - b) for a, b in zip(f, box, strict=True)),
            )
            if near is None or any(abs(a - b) >= 0.02 for a, b in zip(near, box, strict=True)):
                yield f"page {number}: no box is drawn at {box}"
            else:
                left.remove(near)


def small_boxes(boxes: Sequence[Box]) -> Iterator[str]:
    for box in boxes:
        wide, deep = LEAST[box.kind]
        if box.width < wide - 1e-3 or box.height < deep - 1e-3:
            yield f"{box.kind} {box.meaning!r} is {box.width:.1f} by {box.height:.1f} mm"


def boxes_not_free(pages: Sequence[Seen]) -> Iterator[str]:
    """Boxes that touch, and print in a box; only a unit may stand there, at its right."""
    for page in pages:
        held = _bounds(page.boxes)
        for i, j in _near(held, held):
            if i < j and page.boxes[i].overlap(page.boxes[j]) >= 0.01:
                yield f"boxes lie on each other at {page.boxes[i]}"
        for i, j in _near(held, _bounds([said.place for said in page.said])):
            box, said = page.boxes[i], page.said[j]
            if box.overlap(said.place) > 0.2 and said.place.x <= box.x + 20:
                yield f"{said.text!r} stands in a box"


def text_on_lines(pages: Sequence[Seen]) -> Iterator[str]:
    """Words that a frame, a rule or a line of a figure runs through."""
    for number, page in enumerate(pages, start=1):
        inner = [
            (said.text, said.place.within(0.35, 0.2 * said.place.height)) for said in page.said
        ]
        told = [(text, place) for text, place in inner if place]
        lines = np.array([(s.x1, s.y1, s.x2, s.y2) for s in page.strokes]).reshape(-1, 2, 2)
        ends = np.concatenate([lines.min(axis=1), lines.max(axis=1)], axis=1)
        for i, j in _near(ends, _bounds([place for _, place in told])):
            if page.strokes[i].crosses(told[j][1]):
                yield f"page {number}: a line runs through {told[j][0]!r}"


def _bounds(places: Sequence[Rect]) -> Any:
    """Left, top, right and bottom of each."""
    made = [(p.x, p.y, p.x + p.width, p.y + p.height) for p in places]
    return np.array(made).reshape(-1, 4)


def _near(ones: Any, others: Any) -> Iterator[tuple[int, int]]:
    """The pairs whose bounds overlap."""
    one, other = ones[:, None, :], others[None, :, :]
    both = (one[..., :2] <= other[..., 2:]) & (one[..., 2:] >= other[..., :2])
    return ((int(i), int(j)) for i, j in np.argwhere(both.all(axis=-1)))


# Pictures that say their rows in words of their own: the rows that are lines, not print.
DRAWN = {
    "former-templates": r"inside|points \d+|girth \d+",
    "former-template": r"inside|points \d+|girth",
    "development": r"edges|edge [ab]",
    "hinge-line": r"at \d+|height \d+",
    "tilt-arrows": r"along \d+",
    "tilt-plan": r"along \d+",
    "door-swing": r"(?:door|shell) \d+",
    "bolt-circle": r"at \d+",
    "closest-moment": r"half length|half width|fullness|hinge|wheel|door",
    "linkage": r"stage \d+",
}
_PICTURED = re.compile(rf"(?ms)^::: (?:figure|full-size) ({'|'.join(DRAWN)})\n(.*?)^:::$")


def _said(block: re.Match[str]) -> str:
    """What a picture prints of its rows: their values, but for those that it draws."""
    cells = (row.strip("| ").split(" | ") for row in block[2].split("\n"))
    rows = [row for row in cells if len(row) == 2 and not set(row[0]) <= {"-"}]
    told = [value for label, value in rows if not re.fullmatch(DRAWN[block[1]], label)]
    return "\n\n".join(told)


def lost_words(pages: Sequence[Seen], markdown: str) -> Iterator[str]:
    """Words of the sheet that no page has: not drawn, or drawn with a sign that the face lacks."""
    together = letters("".join(page.text for page in pages))
    texts = texts_in(_PICTURED.sub(_said, markdown[markdown.index("\n:::\n") :]))
    for before, text in pairwise(["", *texts]):
        if re.fullmatch(r"balloon \d+", before):
            continue  # the dimensions that it names are drawn
        if text in UNPRINTED or re.fullmatch(
            r"(bend|leg|flat|allowance|tangent|sight|nose|relief|balloon) \d+|(box|at|verdict) \S+",
            text,
        ):
            continue
        if re.fullmatch(r"\d+ (hold|witness|independent)", text):
            text = text.upper()  # these kinds are printed in capitals
        if PLACES.fullmatch(text):
            text = " ".join(re.findall(r"[A-Z][^\s;]*", text))
        yield from (f"{word!r} is lost" for word in text.split() if letters(word) not in together)


# Warnings and cautions right above a paragraph.
_ALERTS = re.compile(r"(?m)((?:^::: (?:warning|caution)\n(?:[^:\n].*\n)+:::\n\n)+)([^:#|\n].*)$")


def instructions(markdown: str) -> list[tuple[str, str]]:
    """Each operation's number and the first words of its instruction."""
    parts = re.split(r"(?m)^## (\d+) [a-z]+.*$", markdown)
    found = []
    for number, body in zip(parts[1::2], parts[2::2], strict=True):
        outside = re.sub(r"(?ms)^:::.*?^:::$", "", body)
        line = next((ln for ln in outside.split("\n") if ln.strip()), "")
        found.append((number, re.split(r"[\[(\\]", line.replace("*", ""))[0][:60]))
    return found


def cautions_apart(pages: Sequence[Seen], markdown: str) -> Iterator[str]:
    """Warnings and cautions that stand on another page than the step they belong to."""
    parts = re.split(r"(?m)^## \d+ [a-z]+.*$", markdown)[1:]
    read = [letters(page.text) for page in pages]
    for (number, do), body in zip(instructions(markdown), parts, strict=True):
        alerts = re.findall(r"(?ms)^::: (?:warning|caution)\n(.*?)\n:::$", body.split("\n# ")[0])
        for text in alerts:
            start = letters(re.split(r"[\[\\]", text)[0][:50])
            on = {i for i, page in enumerate(read) if start in page}
            at = {i for i, page in enumerate(read) if letters(do) in page}
            if not on & at:
                yield f"operation {number}: {text[:50]!r} is not on its page"


def cautions_left(pages: Sequence[Seen], markdown: str) -> Iterator[str]:
    """Warnings and cautions of a record that stand on another page than the words below them."""
    read = [letters(page.text) for page in pages]
    for run, below in _ALERTS.findall(markdown):
        do = letters(re.split(r"[\[(\\]", below.replace("*", ""))[0][:60])
        for text in re.findall(r"(?ms)^::: [a-z]+\n(.*?)\n:::$", run):
            start = letters(re.split(r"[\[\\]", text)[0][:50])
            if not any(start in page and do in page for page in read):
                yield f"{text[:50]!r} is not on the page of {below[:50]!r}"
