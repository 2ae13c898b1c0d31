"""Numbered features with their limits, in; a line of words for each, and boxes below it, out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from generator.draw.blocks.plain import text_piece
from generator.draw.blocks.readings import (
    TICKED,
    Columns,
    Reading,
    box_width,
    columns_of,
    draw_limits,
    named,
    number_box,
    reading_of,
    together,
)
from generator.draw.breaking import one_line, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import (
    BODY,
    BOX_HEIGHT,
    CAPTION,
    HAIR,
    HEADING,
    INSTRUCTION,
    PT,
    RULE,
    SMALL,
    TABLE,
    TICK,
)
from generator.draw.parse import Container, Row, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces
from generator.findings import Refusal

_OPERATION_AT, _WHAT_AT = 11.0, 27.0
_BOXES_AT, _GAP, _PAD, _ABOVE = 11.0, 2.0, 1.4, 3.6
_NUMBER_BOX, _VERDICTS = 30.0, {"in": 16.0, "between": 28.0, "out": 19.0}
_PLAIN, _GUARDED = 9, 12  # cells of a feature without accept limits, and with them
_NOMINAL = "nominal"  # the last column, where a feature has one
_WHOLE = 165.0  # height of a feature that never parts

Draw = Callable[[Pen, float, float], None]


@dataclass(frozen=True, slots=True)
class Place:
    """A place to write: what stands above it, how wide it is, and what draws it."""

    caption: str
    width: float
    draw: Draw


@dataclass(frozen=True, slots=True)
class Feature:
    """A row of the block: its number, its operation, its reading, what it is measured with."""

    number: str
    operation: str
    reading: Reading
    instrument: str
    temperature: str
    accept: tuple[str, str, str] | None = None
    """Where limits are guarded: the two accept limits and what U is, each "-" where there is
    none."""

    @property
    def guarded(self) -> bool:
        """Whether its value may lie between a limit and its accept limit."""
        return self.accept is not None and self.accept[2] != "-"

    @property
    def between(self) -> Reading:
        """The reading with its accept limits in place of its limits."""
        lower, upper, _ = self.accept or ("-", "-", "-")
        return replace(self.reading, lower=lower, upper=upper, links=("", ""))

    @property
    def row(self) -> str:
        """What it is called on the map of boxes."""
        return f"feature {self.number}"


def features(block: Container, area: Area) -> Pieces:
    """All features, each in one piece; one that is taller than two thirds of a page parts
    between its lines, and says so on both pages."""
    aimed = plain(block.rows[0][-1]) == _NOMINAL
    found = [_feature(row, block.line, aimed) for row in block.rows[1:]]
    limits = [limits for each in found for limits in (each.reading, each.between)]
    columns = columns_of(limits, area.width + 4.0, 0.0)
    columns = replace(columns, label=columns.label - _WHAT_AT)
    header = _header(block.rows[0], columns, area.width)
    made = [piece for each in found for piece in _pieces(each, columns, area.width, header)]
    return (header, made[0]._replace(breaks=False), *made[1:])


def _feature(row: Row, line: int, aimed: bool) -> Feature:
    """A row of the block; aimed: its last cell is the nominal."""
    row, nominal = (row[:-1], row[-1:]) if aimed else (row, ())
    words = [plain(cell) for cell in row]
    if len(words) not in (_PLAIN, _GUARDED):
        wrong = f"line {line}: a feature of {len(words)} cells"
        raise Refusal("sheet", wrong, f"{_PLAIN}, or {_GUARDED} with its accept limits")
    accept = (words[9], words[10], words[11]) if len(words) == _GUARDED else None
    reading = reading_of(row[2:7] + nominal, line)
    return Feature(words[0], words[1], reading, words[7], words[8], accept)


def _header(names: Row, columns: Columns, width: float) -> Piece:
    said = [plain(name) for name in names]
    middle = columns.limit / 2
    places = ((0.0, said[0]), (_OPERATION_AT, said[1]), (_WHAT_AT + 2.0, said[2]))

    def draw(pen: Pen, x: float, y: float) -> None:
        for at, words in places:
            pen.text(x + at, y + 3.8, words, BOLD, SMALL)
        for at, words in ((columns.lower, said[3]), (columns.upper, said[4])):
            pen.text(x + at + middle, y + 3.8, words, BOLD, SMALL, anchor="middle")
        pen.line(x, y + 5.4, x + width, y + 5.4, RULE)

    return Piece(5.4, draw)


def _pieces(one: Feature, columns: Columns, width: float, header: Piece) -> Pieces:
    head = together((_head(one, columns), *_accept(one, columns, width)))
    lines = [_line(each) for each in _lines(one, width - _BOXES_AT)]
    if head.height + sum(each.height for each in lines) <= _WHOLE:
        return (_ruled(together((head, *lines)), width)._replace(header=header, breaks=True),)
    first = together((head, *lines[:2]))._replace(header=header, breaks=True)
    again = together((header, _words(f"{one.row} continued"), head))
    body = [each._replace(header=again, breaks=True, overleaf=one.row) for each in lines[2:-1]]
    # What is in or out is ticked beside the last values, never alone on a page.
    end = _ruled(together((body.pop(), lines[-1])), width)
    return (first, *body, end._replace(header=again, breaks=True, overleaf=one.row))


def _words(words: str) -> Piece:
    return text_piece(typeset(words[:1].upper() + words[1:], 120.0, INSTRUCTION, BOLD), 0.0)


def _head(one: Feature, columns: Columns) -> Piece:
    """The number, the operation, what is measured, and both limits."""
    label = named(one.reading, columns.label - 2.0)
    marked = 3.2 if any(one.reading.links) else 0.0
    height = max(label.height, HEADING * PT * 1.2, label.label.leading + marked) + _PAD

    def draw(pen: Pen, x: float, y: float) -> None:
        middle = y + _PAD + (height - _PAD) / 2
        base = middle + 0.34 * BODY * PT
        pen.text(x, base, one.number, BOLD, HEADING)
        pen.text(x + _OPERATION_AT, base, one.operation, size=BODY)
        label.draw(pen, x + _WHAT_AT + 2.0, middle - label.height / 2)
        draw_limits(pen, x, middle, one.reading, columns)

    return Piece(height, draw)


def _accept(one: Feature, columns: Columns, width: float) -> Iterator[Piece]:
    """Below the limits the two between which a value is accepted; below those what U is."""
    if one.accept is None or not one.guarded:
        return
    if {one.accept[0], one.accept[1]} != {"-"}:
        yield Piece(5.4, partial(_draw_accept, one=one, columns=columns))
    words = typeset(one.accept[2], width - _WHAT_AT - 2.0, TABLE)
    yield Piece(words.height + 0.8, lambda pen, x, y: words.draw(pen, x + _WHAT_AT + 2.0, y))


def _draw_accept(pen: Pen, x: float, y: float, one: Feature, columns: Columns) -> None:
    middle = y + 2.7
    pen.text(x + _WHAT_AT + 2.0, middle + 0.34 * BODY * PT, "accept from, to", BOLD, BODY)
    draw_limits(pen, x, middle, one.between, columns)


def _lines(one: Feature, width: float) -> Iterator[list[Place]]:
    """The places to write, as many to a line as fit."""
    line: list[Place] = []
    used = 0.0
    for place in _places(one):
        if line and used + place.width > width:
            yield line
            line, used = [], 0.0
        line.append(place)
        used += place.width + _GAP
    yield line


def _places(one: Feature) -> Iterator[Place]:
    unit, times = one.reading.unit, one.reading.times
    if one.instrument != "-":
        caption = f"{one.instrument} no."
        wide = max(_NUMBER_BOX, one_line(caption, CAPTION) + 0.5)
        yield Place(caption, wide, _written(one.row, caption, wide))
    for side, limit in (("lower", one.reading.lower), ("upper", one.reading.upper)):
        if limit == TICKED:
            yield _number(f"{side} as ticked", unit, one.row)
    for end, limit in zip(("from", "to"), (one.accept or ())[:2], strict=False):
        if limit == TICKED:
            yield _number(f"accept {end}, as ticked", unit, one.row)
    if one.temperature != "-":
        yield _number("temperature", one.temperature, one.row)
    for n in range(1, times + 1):
        yield _number(f"{n} of {times}" if times > 1 else "actual", unit, one.row)
    if times > 1 and unit != "count":
        yield _number("mean", unit, one.row)
        yield _number("range", unit, one.row)
    words = [word for word in _VERDICTS if one.guarded or word != "between"]
    yield Place("", sum(_VERDICTS[word] for word in words), _verdict(one.row, words))


def _number(caption: str, unit: str, row: str) -> Place:
    def draw(pen: Pen, x: float, y: float) -> None:
        number_box(pen, x, y, unit, row, caption)

    return Place(caption, box_width(unit), draw)


def _written(row: str, caption: str, width: float) -> Draw:
    def draw(pen: Pen, x: float, y: float) -> None:
        pen.box("write", x, y, width, BOX_HEIGHT, row, caption)

    return draw


def _verdict(row: str, words: Sequence[str]) -> Draw:
    """In or out, or between where limits are guarded, ticked by who measured."""

    def draw(pen: Pen, x: float, y: float) -> None:
        base, at = y + BOX_HEIGHT / 2 + 0.34 * BODY * PT, x + 1.0
        for word in words:
            pen.box("check", at, y + (BOX_HEIGHT - TICK) / 2, TICK, TICK, row, word)
            pen.text(at + TICK + 1.6, base, word, size=BODY)
            at += _VERDICTS[word]

    return draw


def _line(places: Sequence[Place]) -> Piece:
    def draw(pen: Pen, x: float, y: float) -> None:
        at = x + _BOXES_AT
        for place in places:
            if place.caption:
                pen.text(at, y + _ABOVE - 0.9, place.caption, size=CAPTION)
            place.draw(pen, at, y + _ABOVE)
            at += place.width + _GAP

    return Piece(_ABOVE + BOX_HEIGHT + 1.2, draw)


def _ruled(piece: Piece, width: float) -> Piece:
    """The piece with a rule below it."""

    def draw(pen: Pen, x: float, y: float) -> None:
        piece.draw(pen, x, y)
        pen.line(x, y + piece.height + 0.4, x + width, y + piece.height + 0.4, HAIR)

    return piece._replace(height=piece.height + 0.8, draw=draw)
