"""A traveller as Markdown, in; the same pages for a typesetter and as HTML, out.

The same words, tables, boxes, codes and figures, in the same faces and sizes. Left out: the marks
behind linked numbers and their links, page breaks that keep an operation whole, the map of boxes,
and the rules for what a pen may enter. Both set running text their own way.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from typing import NamedTuple

from generator.draw.codes import CODE_SIDE, CORNERS, squares, words_of_page
from generator.draw.parse import Block, Container, Heading, Paragraph, Run, Runs, Table, plain
from generator.draw.qr import SIDE
from generator.draw.sheet import Frame, Operation, Section, read_sheet
from generator.figures import figure as figure_of
from generator.figures.picture import Circle, Line, Outline, Picture, Words


class Box(NamedTuple):
    """A place to write (mm)."""

    width: float
    height: float


Cell = Runs | Box
STAMP, WRITE, TICK = Box(19.5, 19.2), Box(25.0, 8.5), Box(6.0, 6.0)
BOXES = {"sign": (STAMP, WRITE, WRITE), "approvals": (WRITE, WRITE), "checklist": (TICK,)}


class Item(NamedTuple):
    """A part of a page: a heading (its level is told), a text, a table or a picture."""

    kind: str
    runs: Runs = ()
    rows: Sequence[Sequence[Cell]] = ()
    level: int = 0
    picture: str = ""


def items_of(sheet: str) -> tuple[Frame, list[Item]]:
    """The frame of a sheet, and all that stands on its pages in its order."""
    read = read_sheet(sheet)
    made: list[Item] = []
    for part in read.parts:
        heading = part.heading if isinstance(part, Section) else getattr(part, "text", "")
        if isinstance(part, Operation):
            heading = f"{part.number} {part.kind.upper()} {part.words}".strip()
        if heading:
            made.append(Item("heading", (Run(heading),), level=1 + isinstance(part, Section)))
        for block in getattr(part, "blocks", ()):
            made += _items(block)
    return read.frame, made


def _items(block: Block) -> Iterator[Item]:
    if isinstance(block, Heading):
        yield Item("heading", block.runs, level=block.level)
    elif isinstance(block, Paragraph):
        yield Item("text", block.runs)
    elif isinstance(block, Table):
        yield Item("table", rows=block.rows)
    elif block.name in ("figure", "map"):
        rows = {plain(row[0]): plain(row[1]) for row in block.rows}
        yield Item("picture", picture=_svg(figure_of(block.name, block.words, rows, 118.0, 200.0)))
    else:
        yield from (Item(block.name, each) for each in block.paragraphs)
        if block.rows:
            yield Item("table", rows=[*_with_boxes(block)])


def _with_boxes(block: Container) -> Iterator[Sequence[Cell]]:
    """The rows with the places to write that the sheet has there."""
    for n, row in enumerate(block.rows):
        if block.name == "readings" and n:
            yield [*row[:4], *[WRITE] * int(plain(row[4]))]
        elif block.name == "numbers":
            yield [*row, WRITE]
        else:
            yield [*row, *BOXES.get(block.name, ())]
    if block.name == "strip":
        yield [(), *[TICK] * (len(block.rows[0]) - 1)]


def _svg(picture: Picture) -> str:
    size = f'width="{picture.width}mm" height="{picture.height}mm"'
    seen = f'viewBox="0 0 {picture.width} {picture.height}"'
    marks = "".join(map(_mark, picture.marks))
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size} {seen}>{marks}</svg>'


def _mark(mark: object) -> str:
    pen = f'fill="none" stroke="black" stroke-width="{getattr(mark, "weight", 0.25)}"'
    match mark:
        case Line():
            return f'<path d="M{mark.x1} {mark.y1}L{mark.x2} {mark.y2}" {pen}/>'
        case Outline():
            way = "L".join(f"{x:.3f} {y:.3f}" for x, y in mark.points)
            return f'<path d="M{way}{"Z" if mark.closed else ""}" {pen}/>'
        case Circle():
            return f'<circle cx="{mark.x}" cy="{mark.y}" r="{mark.radius}" {pen}/>'
        case Words():
            at = f'x="{mark.x:.3f}" y="{mark.y:.3f}" font-size="{mark.size * 25.4 / 72:.3f}"'
            return f'<text {at} text-anchor="{mark.anchor}">{escape(mark.text)}</text>'
    return ""


def codes_of_page(frame: Frame, number: int, count: int) -> dict[str, str]:
    """The picture of the code in each corner of a page."""
    words = words_of_page(frame, number, count)
    return {corner: _code(f"{words} {short}") for corner, short in CORNERS.items()}


def _code(words: str) -> str:
    parts = (line.split(" ") for line in squares(words).splitlines())
    way = "".join(f"M{x} {y}h{wide}v{high}h-{wide}z" for x, y, wide, high, _ in parts)
    size = f'width="{CODE_SIDE}mm" height="{CODE_SIDE}mm" viewBox="0 0 {SIDE} {SIDE}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}><path d="{way}"/></svg>'


STOPPED = ("last operation complete", "left as", "stamp or initials", "date YYYY-MM-DD")
SMALL_PRINT = (
    "WARNING: injury. CAUTION: damage. NOTE: help. "
    "Approved data, local code and the licensed inspector come before this sheet."
)
