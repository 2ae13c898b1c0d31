"""The points where work stops, in; a row for each with its mark, its word and a stamp box, out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from generator.draw import marks
from generator.draw.breaking import Text, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import (
    BODY,
    HAIR,
    HEADING,
    INSTRUCTION,
    RULE,
    SMALL,
    STAMP_HEIGHT,
    STAMP_WIDTH,
)
from generator.draw.parse import Container, Row, Run, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows
from generator.findings import Refusal

MARKS: Mapping[str, Callable[[Pen, float, float, float], None]] = {
    "hold": marks.octagon,
    "witness": marks.ring,
    "independent": marks.two_squares,
}
"""The mark of each kind of stop: the same on the traveller and on lists."""

_MARK, _NUMBER_AT, _KIND_AT, _WHAT_AT = 9.0, 11.5, 27.0, 67.0
_PAD = 1.4
_POINT = "point"  # the kind of a row that says one of the points of the stop above it
_PART = 90.0  # of what is looked at, in one row; more goes on in a row of its own


def points(block: Container, area: Area) -> Pieces:
    """A row for each point: operation, kind by shape and word, who, notice, what, agreed."""
    header = _header(block.rows[0], area.width)
    found = list(_with_points(block.rows[1:]))
    rows = [each for row, said in found for each in _point(row, said, area.width, block.line)]
    return (header, *breakable_rows(rows, header, 1))


def _with_points(rows: Sequence[Row]) -> Iterator[tuple[Row, list[Row]]]:
    """Each stop with the rows of what is looked at there, point by point."""
    stop: tuple[Row, list[Row]] | None = None
    for row in rows:
        if plain(row[1]) == _POINT and stop and plain(stop[0][0]) == plain(row[0]):
            stop[1].append(row)
            continue
        if stop:
            yield stop
        stop = row, []
    if stop:
        yield stop


def _header(names: Row, width: float) -> Piece:
    number, kind, by, notice, what = (plain(cell) for cell in names)
    places = (
        (0.0, number),
        (_KIND_AT, f"{kind}, {by}, {notice}"),
        (_WHAT_AT, what),
        (width - STAMP_WIDTH, "agreed"),
    )

    def draw(pen: Pen, x: float, y: float) -> None:
        for at, words in places:
            pen.text(x + at, y + 3.8, words, BOLD, SMALL)
        pen.line(x, y + 5.4, x + width, y + 5.4, RULE)

    return Piece(5.4, draw)


def _point(row: Row, said: Sequence[Row], width: float, line: int) -> Iterator[Piece]:
    """The row of a stop, and the rows in which its words go on where they are many; each point
    that is looked at begins a line."""
    room = width - STAMP_WIDTH - 3.0 - _WHAT_AT
    told = [row[4], *((Run("\u2013\u00a0"), *each[4]) for each in said)]
    texts = [typeset(words, room, BODY) for words in told]
    what = replace(texts[0], lines=tuple(line for text in texts for line in text.lines))
    lines = max(1, int(_PART / what.leading))
    first, *others = [
        replace(what, lines=what.lines[i : i + lines])
        for i in range(0, max(1, len(what.lines)), lines)
    ]
    yield _head(row, first, width, line, bool(others))
    for i, words in enumerate(others, start=1):
        yield _more(row, words, width, i == len(others))


def _more(row: Row, what: Text, width: float, last: bool) -> Piece:
    """Further words of a point, under its number."""
    words = f"{plain(row[0])} {plain(row[1])} continued"
    head = typeset((Run(words),), _WHAT_AT - _NUMBER_AT - 3.0, BODY, BOLD)
    height = max(what.height, head.height) + 2 * _PAD

    def draw(pen: Pen, x: float, y: float) -> None:
        head.draw(pen, x + _NUMBER_AT, y + _PAD)
        what.draw(pen, x + _WHAT_AT, y + _PAD)
        if last:
            pen.line(x, y + height, x + width, y + height, HAIR)

    return Piece(height, draw)


def _head(row: Row, what: Text, width: float, line: int, goes_on: bool) -> Piece:
    number, kind, _, notice = (plain(cell) for cell in row[:4])
    mark = MARKS.get(kind.lower())
    if mark is None:
        raise Refusal("sheet", f"line {line}: {kind!r} is no point of work", ", ".join(MARKS))
    beside = _WHAT_AT - _KIND_AT - 2.0
    texts = [typeset((Run(kind),), beside, INSTRUCTION, BOLD), typeset(row[2], beside, BODY)]
    if notice not in ("", "-"):
        texts.append(typeset((Run(f"notice {notice}"),), beside, BODY))
    head = typeset(row[0], _KIND_AT - _NUMBER_AT, HEADING, BOLD)
    height = max(STAMP_HEIGHT, what.height, sum(t.height for t in texts)) + 2 * _PAD

    def draw(pen: Pen, x: float, y: float) -> None:
        top = y + _PAD
        mark(pen, x + 0.6, top + 0.6, _MARK)
        head.draw(pen, x + _NUMBER_AT, top + 0.6 + (_MARK - head.height) / 2)
        down = top
        for text in texts:
            text.draw(pen, x + _KIND_AT, down)
            down += text.height
        what.draw(pen, x + _WHAT_AT, top)
        at = x + width - STAMP_WIDTH
        pen.box("stamp", at, top, STAMP_WIDTH, STAMP_HEIGHT, f"{number} {kind}", "agreed stamp")
        if not goes_on:
            pen.line(x, y + height, x + width, y + height, HAIR)

    return Piece(height, draw)
