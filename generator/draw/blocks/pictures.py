"""A map of fasteners or a figure, in; its picture as one piece, out."""

from __future__ import annotations

import math

from generator.draw.fonts import BOLD, TEXT
from generator.draw.parse import Container, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Draw, Piece, Pieces
from generator.figures import figure as figure_of
from generator.figures.picture import Circle, Line, Mark, Outline, Picture, Tick, Words
from generator.findings import Refusal

_SLACK = 0.5
_SPARE = 4.0  # of a page, round a map that fills it
_BELOW = 32.0  # of a page, for the row below a map that says where work stopped


def fastener_map(block: Container, area: Area) -> Pieces:
    """A map of numbered fasteners to tick: beside the sign-off, or above it where that does not
    do or takes more pages. A page may end before each further part of a map."""
    made: list[Picture] = []
    for width in (area.width, area.wide):
        try:
            made.append(_picture(block, width, _height(area, width)))
        except Refusal as refusal:
            if width == area.wide and not made:
                raise refusal
        if made and not made[0].more:
            break
    fewest = min(made, key=lambda each: len(each.more))
    return _pieces(fewest, fewest.width > area.width + _SLACK)


def figure(block: Container, area: Area) -> Pieces:
    """A figure: beside the sign-off column where it fits, else above it. A chart stays with the
    table whose answers it shows."""
    made = fastener_map(block, area)
    return tuple(piece._replace(glued=True) for piece in made) if block.words == "chart" else made


def _height(area: Area, width: float) -> float:
    """How high a part of a map may be; of an operation's page its sign-off is taken already."""
    below = 0.0 if area.width < area.wide else _BELOW
    more = area.beside if width < area.wide else 0.0
    return area.page + more - _SPARE - below if area.page else math.inf


def _picture(block: Container, width: float, page: float) -> Picture:
    rows = {plain(row[0]): plain(row[1]) for row in block.rows}
    if len(rows) < len(block.rows):
        raise Refusal("sheet", f"line {block.line}: a row stands twice", "each row once")
    picture = figure_of(block.name, block.words, rows, width, page)
    if picture.width > width + _SLACK:
        raise Refusal("layout", f"a figure is {picture.width:.0f} mm wide", f"up to {width:.0f} mm")
    return picture


def _pieces(picture: Picture, wide: bool) -> Pieces:
    """A piece for the picture and for each in which it goes on."""
    parts = (picture, *picture.more)
    return tuple(
        Piece(part.height + 1.5, _drawing(part), gap=2.6, wide=wide, breaks=i > 0)
        for i, part in enumerate(parts)
    )


def _drawing(picture: Picture) -> Draw:
    return lambda pen, x, y: draw_picture(pen, x, y, picture)


def draw_picture(pen: Pen, x: float, y: float, picture: Picture) -> None:
    """All marks of a picture, its top left corner at x, y."""
    for mark in picture.marks:
        draw_mark(pen, x, y, mark)


def draw_mark(pen: Pen, x: float, y: float, mark: Mark) -> None:
    """One mark of a picture whose top left corner is at x, y."""
    match mark:
        case Line():
            pen.line(x + mark.x1, y + mark.y1, x + mark.x2, y + mark.y2, mark.weight)
        case Circle():
            pen.circle(x + mark.x, y + mark.y, mark.radius, mark.weight)
        case Outline():
            points = [(x + px, y + py) for px, py in mark.points]
            pen.outline(points, mark.weight, mark.closed, mark.filled)
        case Words():
            face = BOLD if mark.bold else TEXT
            pen.text(x + mark.x, y + mark.y, mark.text, face, mark.size, mark.anchor)
        case Tick():
            pen.box(
                "check", x + mark.x, y + mark.y, mark.size, mark.size, mark.meaning, mark.meaning
            )
