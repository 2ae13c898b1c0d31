"""Clock times, times to add and what they may not lie before or after, in; rows of HH:MM boxes,
with a box for the day where it may be another, out."""

from __future__ import annotations

from generator.draw.breaking import Text, one_line, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import BODY, BOX_HEIGHT, BOX_WIDTH, CAPTION, INSTRUCTION, PT
from generator.draw.parse import Container, Row, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces
from generator.draw.runs import Run, Runs

HALF, COLON = 11.5, 2.6
CLOCK_WIDTH = 2 * HALF + COLON
_ONE_LINE = 1000.0  # wider than any paper: a sum is not broken
_GAP = 1.6  # from the box of a day to its hours
_BELOW = BOX_HEIGHT + 1.2  # what the second line of a sum with days takes


def clock_boxes(pen: Pen, x: float, y: float, row: str, meaning: str) -> None:
    """Two boxes with a colon between them, for hours and minutes."""
    pen.box("clock", x, y, HALF, BOX_HEIGHT, row, f"{meaning} hours".strip())
    pen.text(
        x + HALF + COLON / 2, y + BOX_HEIGHT / 2 + 0.3 * INSTRUCTION * PT, ":", BOLD,
        INSTRUCTION, anchor="middle",
    )  # fmt: skip
    pen.box("clock", x + HALF + COLON, y, HALF, BOX_HEIGHT, row, f"{meaning} minutes".strip())


def _moment_boxes(pen: Pen, x: float, y: float, row: str, meaning: str, days: bool) -> None:
    """The boxes of one time: its day where the clocks have days, then hours and minutes."""
    if days:
        pen.box("date", x, y, BOX_WIDTH, BOX_HEIGHT, row, f"{meaning} day")
        meaning = f"{meaning} time" if meaning == row else meaning
    clock_boxes(pen, x + _moment_width(days) - CLOCK_WIDTH, y, row, meaning)


def _moment_width(days: bool) -> float:
    return CLOCK_WIDTH + (BOX_WIDTH + _GAP) * days


def _row(row: Row, label_width: float, captioned: bool, days: bool) -> Piece:
    """The words of a clock, its boxes, and for a sum a second pair: beside the first, or below it
    where days take the room."""
    name, said = plain(row[0]), plain(row[1])
    summed = said.startswith("+")
    words = [typeset(row[0], label_width - 2.0)]
    words += [typeset(row[1], label_width - 2.0)] if said and not summed else []
    sum_of = _sum_of(row[1])
    high = sum(each.height for each in words)
    top, below = 3.4 if captioned else 0.8, _BELOW if summed and days else 0.0
    height = max(BOX_HEIGHT, high) + top + below + 0.8

    def draw(pen: Pen, x: float, y: float) -> None:
        down, at = y + top, x + label_width
        first = down + max(0.0, BOX_HEIGHT - high) / 2
        for each in words:
            each.draw(pen, x, first)
            first += each.height
        if captioned:
            _caption(pen, at, down - 0.9, days)
        down += max(0.0, high - BOX_HEIGHT) / 2
        _moment_boxes(pen, at, down, name, f"{name} from" if summed else name, days)
        if summed and days:
            down = y + height - 0.8 - BOX_HEIGHT
            _sum(pen, at - sum_of.width - 2.5, down, sum_of)
        elif summed:
            at = _sum(pen, at + CLOCK_WIDTH + 2.5, down, sum_of)
        if summed:
            _moment_boxes(pen, at, down, name, f"{name} to", days)

    return Piece(height, draw)


def _sum_of(cell: Runs) -> Text:
    """The time that is added, with the mark of its number, on one line."""
    return typeset((*cell, Run(" =")), _ONE_LINE, BODY, BOLD)


def _sum(pen: Pen, x: float, y: float, added: Text) -> float:
    added.draw(pen, x, y + (BOX_HEIGHT - added.leading) / 2)
    return x + added.width + 2.5


def clock(block: Container, area: Area) -> Pieces:
    """Rows of clock boxes; a time to add gives a second pair, for the sum worked out by hand. With
    the word days each time has its day."""
    days = block.words == "days"
    added = [row[1] for row in block.rows if plain(row[1]).startswith("+")]
    sums = [_sum_of(each).width for each in added]
    beside = max(sums) + 5.0 + CLOCK_WIDTH if sums and not days else 0.0
    words = [each for row in block.rows for each in row if not plain(each).startswith("+")]
    widest = max([one_line(each) + 4.0 for each in words] + [w + 2.5 for w in sums if days])
    label = min(widest, area.width - _moment_width(days) - beside)
    first, *others = (_row(row, label, i == 0, days) for i, row in enumerate(block.rows))
    caption = Piece(2.6, lambda pen, x, y: _caption(pen, x + label, y + 2.5, days))
    return (first, *(each._replace(header=caption) for each in others))


def _caption(pen: Pen, x: float, base: float, days: bool) -> None:
    """How a time is written, above the first boxes of a page."""
    if days:
        pen.text(x, base, "YYYY-MM-DD", size=CAPTION)
    pen.text(x + _moment_width(days) - CLOCK_WIDTH, base, "HH : MM, 24 hour", size=CAPTION)
