"""What is measured, with its limits, in; a row for each with boxes to write in, out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.draw.blocks.clocks import CLOCK_WIDTH, clock_boxes
from generator.draw.breaking import MARK, Text, one_line, typeset
from generator.draw.fonts import BOLD, MONO, TEXT, in_figures, measured
from generator.draw.paper import BODY, BOX_HEIGHT, BOX_WIDTH, CAPTION, HAIR, PT, RULE, SMALL, TICK
from generator.draw.parse import Container, Row, Run, Runs, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows, with_gap
from generator.findings import Refusal
from generator.signs import is_whole

_NUMBER_BOX, _GRID_GAP, _PAD = 28.0, 1.6, 1.2
_MARK_DROP = 3.2  # from a limit down to the mark of its calculation
_OPEN = ("-", "record", "")
_CELLS = 5
_APART, _CLOSE = 2.5, 1.15  # of a nominal: room before it (mm), and its leading in letter sizes
TICKED = "ticked"  # a limit that stands in a strip, in the column that is ticked there


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing to measure; times says how many boxes it has."""

    label: Runs
    lower: str
    upper: str
    unit: str
    times: int
    links: tuple[str, str] = ("", "")
    """Where the lower and the upper limit come from, such as c3, or the same place in another
    file; "" where they are typed."""
    nominal: Runs = ()
    """What is aimed at between the limits; nothing where they say it all."""

    @property
    def name(self) -> str:
        return plain(self.label)


@dataclass(frozen=True, slots=True)
class Named:
    """What is measured, and in small letters what is aimed at: behind its last words where there is
    room, else below them. beside: how far from the left that is (mm), 0 for below."""

    label: Text
    nominal: Text | None
    beside: float

    @property
    def height(self) -> float:
        return self.label.height + (self.nominal.height if self.nominal and not self.beside else 0)

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Draw with the top left corner at x, y."""
        self.label.draw(pen, x, y)
        if self.nominal:
            # On the base line of the label's last words.
            up = (self.label.leading + self.nominal.leading) / 2 - 0.34 * (BODY - SMALL) * PT
            lift = up if self.beside else 0.0
            self.nominal.draw(pen, x + self.beside, y + self.label.height - lift)


def named(one: Reading, width: float) -> Named:
    """The words of a reading, broken to a width (mm)."""
    label = typeset(one.label, width)
    if not one.nominal:
        return Named(label, None, 0.0)
    aim = typeset((Run("nominal "), *one.nominal), width, SMALL, leading=_CLOSE)
    last = label.lines[-1][-1]
    at = last.x + last.width + _APART
    return Named(label, aim, at if at + aim.width <= width and len(aim.lines) == 1 else 0.0)


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the columns of a table of readings stand: distances (mm) from its left side."""

    label: float
    lower: float
    upper: float
    limit: float
    box: float
    box_width: float
    whole: float
    fraction: float


def readings(block: Container, area: Area) -> Pieces:
    """A row for each reading: label, two limits, box. Two rows stay together at each page's end."""
    read = [reading_of(row, block.line) for row in block.rows[1:]]
    columns = _columns(read, area.width)
    header = _header(block.rows[0], columns, area.width, any(one.times == 1 for one in read))
    body = [piece for one in read for piece in _pieces(one, columns, area.width)]
    rows = breakable_rows(body, header, 2)
    named = [_named(row, piece.header, header) for row, piece in zip(rows, body, strict=True)]
    return with_gap((header, *named), 2.2)


def ticked_pieces(block: Container, area: Area) -> int:
    """How many pieces below the header, from the first on, hold the rows whose limits are ticked:
    what answers them stands above, and a limit that is carried overleaf is carried wrong."""
    read = [reading_of(row, block.line) for row in block.rows[1:]]
    columns = _columns(read, area.width)
    counts = [len(_pieces(one, columns, area.width)) for one in read]
    ticked = [n for n, one in enumerate(read, 1) if TICKED in (one.lower, one.upper)]
    return sum(counts[: max(ticked, default=0)])


def _named(row: Piece, name: Piece | None, header: Piece) -> Piece:
    """A row that on a new page says again which reading its boxes belong to."""
    return row._replace(header=together((header, name))) if name else row


def reading_of(row: Row, line: int) -> Reading:
    """A row of five cells: name, lower and upper limit, unit, times; a sixth is the nominal."""
    words = [plain(cell) for cell in row]
    if len(words) not in (_CELLS, _CELLS + 1):
        wrong = f"line {line}: a reading of {len(words)} cells"
        raise Refusal("sheet", wrong, f"{_CELLS}, or one more for the nominal")
    nominal = row[_CELLS] if len(row) > _CELLS and words[_CELLS] not in _OPEN else ()
    if not is_whole(words[4]) or not 1 <= int(words[4]) <= 99:
        raise Refusal("sheet", f"line {line}: {words[4]!r} times for {words[0]!r}", "1 to 99")
    links = (_link(row[1]), _link(row[2]))
    return Reading(row[0], words[1], words[2], words[3], int(words[4]), links, nominal)


def _link(cell: Runs) -> str:
    return next((run.link for run in cell if run.link), "")


def box_width(unit: str) -> float:
    """Width of a box for a number: 25 mm stay clear beside the unit that stands inside."""
    if unit == "count" or not unit:
        return _NUMBER_BOX
    return max(_NUMBER_BOX, BOX_WIDTH + one_line(unit, SMALL) + 2.0)


def _answer_width(one: Reading) -> float:
    fixed = {"tick": 31.0, "clock": CLOCK_WIDTH, "date": BOX_WIDTH, "words": 0.0}
    return fixed.get(one.unit, 0.0 if one.times > 1 else box_width(one.unit))


def _columns(read: Sequence[Reading], width: float) -> Columns:
    box = max([_NUMBER_BOX, *(_answer_width(one) for one in read)])
    return columns_of(read, width - box, box)


def columns_of(read: Sequence[Reading], at: float, box: float) -> Columns:
    """The columns of readings whose limits end before the place `at`; box: what stands there."""
    figures = [t for one in read if one.unit != "date" for t in (one.lower, one.upper)]
    limits = [t for t in figures if t not in _OPEN]
    days = [t for one in read if one.unit == "date" for t in (one.lower, one.upper)]
    whole = max((measured(MONO, BODY, t.partition(".")[0]) for t in limits), default=0.0)
    fraction = max((_fraction(t) for t in limits), default=0.0)
    words = max((measured(TEXT, SMALL, t) for t in days if t not in _OPEN), default=0.0)
    limit = max(whole + fraction, words, 13.0)
    if all(one.lower in _OPEN and one.upper in _OPEN for one in read):
        limit = 0.0
    gap = 3.0 if limit else 0.0
    upper = at - 4.0 - limit
    lower = upper - gap - limit
    label = lower - 3.0
    if label < 24.0:
        raise Refusal(
            "layout", f"limits leave {label:.0f} mm for a reading's name", "shorter limits"
        )
    return Columns(label, lower, upper, limit, at, box, whole, fraction)


def _fraction(limit: str) -> float:
    _, point, tail = limit.partition(".")
    return measured(MONO, BODY, point + tail) if point else 0.0


def _words_left(columns: Columns) -> float:
    """Where a box for words begins: under the limits, or where there are none as far left as
    leaves room for the labels."""
    return columns.lower if columns.limit else max(columns.box - 34.0, columns.label * 0.6)


def _header(names: Row, columns: Columns, width: float, single: bool) -> Piece:
    height = 5.4

    def draw(pen: Pen, x: float, y: float) -> None:
        base = y + height - 1.6
        pen.text(x, base, plain(names[0]), BOLD, SMALL)
        if columns.limit:
            for at, name in ((columns.lower, names[1]), (columns.upper, names[2])):
                middle = x + at + columns.limit / 2
                pen.text(middle, base, plain(name), BOLD, SMALL, anchor="middle")
        if single:
            pen.text(x + columns.box, base, "write here", BOLD, SMALL)
        pen.line(x, y + height, x + width, y + height, RULE)

    return Piece(height, draw)


def _pieces(one: Reading, columns: Columns, width: float) -> Pieces:
    if one.times > 1:
        return _grid(one, columns, width)
    return (_row(one, columns, width),)


def _row(one: Reading, columns: Columns, width: float) -> Piece:
    words = one.unit == "words"
    label = named(one, _words_left(columns) - 3.0 if words else columns.label)
    captioned = one.unit in ("date", "clock")
    top = _PAD + (3.0 if captioned else 0.0)
    height = max(BOX_HEIGHT, label.height) + top + _PAD

    def draw(pen: Pen, x: float, y: float) -> None:
        middle = y + top + (height - top - _PAD) / 2
        label.draw(pen, x, middle - label.height / 2)
        if not words:
            draw_limits(pen, x, middle, one, columns)
        _answer(pen, x, middle - BOX_HEIGHT / 2, one, columns, width)
        pen.line(x, y + height, x + width, y + height, HAIR)

    return Piece(height, draw)


def draw_limits(pen: Pen, x: float, middle: float, one: Reading, columns: Columns) -> None:
    if not columns.limit:
        return
    base = middle + 0.34 * BODY * PT
    if one.lower in _OPEN and one.upper in _OPEN:
        if one.lower == "record":
            at = x + columns.lower + columns.limit + 1.5
            pen.text(at, base, "record", size=BODY, anchor="middle")
        return
    lift = _MARK_DROP / 2 if any(one.links) else 0.0
    sides = ((columns.lower, one.lower), (columns.upper, one.upper))
    for (at, limit), link in zip(sides, one.links, strict=True):
        if one.unit == "date" and limit not in _OPEN:
            pen.text(x + at + columns.limit / 2, base, limit, size=SMALL, anchor="middle")
        else:
            _limit(pen, x + at, base - lift, limit, columns)
        if link:
            mark = link.rpartition("#")[2]
            under = base - lift + _MARK_DROP
            pen.text(x + at + columns.limit / 2, under, f"[{mark}]", size=MARK, anchor="middle")
            top, high = base - lift - BODY * PT, BODY * PT + _MARK_DROP
            pen.link(x + at, top, columns.limit, high, link)


def _limit(pen: Pen, x: float, base: float, limit: str, columns: Columns) -> None:
    """One limit, its decimal point where all the others have theirs."""
    if limit in _OPEN:
        pen.text(x + columns.limit / 2, base, "–", MONO, BODY, anchor="middle")
        return
    side = (columns.limit - columns.whole - columns.fraction) / 2
    head = measured(MONO, BODY, limit.partition(".")[0])
    pen.text(x + side + columns.whole - head, base, limit, in_figures(limit), BODY)


def _answer(pen: Pen, x: float, y: float, one: Reading, columns: Columns, width: float) -> None:
    name, at = one.name, x + columns.box
    if one.unit == "tick":
        _yes_or_no(pen, at, y, name, name)
    elif one.unit == "clock":
        pen.text(at, y - 0.9, "HH : MM, 24 hour", size=CAPTION)
        clock_boxes(pen, at, y, name, name)
    elif one.unit == "date":
        pen.text(at, y - 0.9, "YYYY-MM-DD", size=CAPTION)
        pen.box("date", at, y, BOX_WIDTH, BOX_HEIGHT, name, name)
    elif one.unit == "words":
        left = _words_left(columns)
        pen.box("write", x + left, y, width - left, BOX_HEIGHT, name, f"{name}, words")
    else:
        number_box(pen, at, y, one.unit, name, name)


def _yes_or_no(pen: Pen, x: float, y: float, row: str, meaning: str) -> None:
    lift = (BOX_HEIGHT - TICK) / 2
    base = y + BOX_HEIGHT / 2 + 0.34 * BODY * PT
    for at, word in ((0.0, "yes"), (16.0, "no")):
        pen.box("check", x + at, y + lift, TICK, TICK, row, f"{meaning}: {word}")
        pen.text(x + at + TICK + 1.6, base, word)


def number_box(pen: Pen, x: float, y: float, unit: str, row: str, meaning: str) -> None:
    """A box for a number, its unit printed inside at the right."""
    shown = "" if unit == "count" else unit
    width = box_width(unit)
    pen.box("write", x, y, width, BOX_HEIGHT, row, f"{meaning}, {shown}" if shown else meaning)
    if shown:
        base = y + BOX_HEIGHT - 2.0
        pen.text(x + width - 1.3, base, shown, size=SMALL, anchor="end")


def _cell_width(unit: str) -> float:
    return {"tick": 31.0, "clock": CLOCK_WIDTH, "date": BOX_WIDTH, "words": 53.0}.get(
        unit, box_width(unit)
    )


def _grid(one: Reading, columns: Columns, width: float) -> Pieces:
    """A reading taken several times: its name and limits, then numbered boxes."""
    label = named(one, columns.label)
    cell = _cell_width(one.unit)
    across = int((width + _GRID_GAP) / (cell + _GRID_GAP))
    head = _grid_head(one, label, columns)
    lines = [
        _grid_line(one, first, min(first + across, one.times), cell, width)
        for first in range(0, one.times, across)
    ]
    return (together((head, lines[0])), *(line._replace(header=head) for line in lines[1:]))


def _grid_head(one: Reading, label: Named, columns: Columns) -> Piece:
    high = max(label.height, label.label.leading + _MARK_DROP if any(one.links) else 0.0)

    def draw(pen: Pen, x: float, y: float) -> None:
        middle = y + _PAD + high / 2
        label.draw(pen, x, middle - label.height / 2)
        draw_limits(pen, x, middle, one, columns)

    return Piece(high + _PAD + 0.9, draw)


def _grid_line(one: Reading, first: int, end: int, cell: float, width: float) -> Piece:
    top = 3.6
    height = top + BOX_HEIGHT + _PAD
    last = end == one.times

    def draw(pen: Pen, x: float, y: float) -> None:
        for place, number in enumerate(range(first + 1, end + 1)):
            at = x + place * (cell + _GRID_GAP)
            pen.text(at, y + top - 0.8, f"{number} of {one.times}", BOLD, CAPTION)
            _grid_box(pen, at, y + top, cell, one, f"{one.name} {number}")
        if last:
            pen.line(x, y + height, x + width, y + height, HAIR)

    return Piece(height, draw)


def _grid_box(pen: Pen, x: float, y: float, cell: float, one: Reading, meaning: str) -> None:
    if one.unit == "tick":
        _yes_or_no(pen, x, y, one.name, meaning)
    elif one.unit == "clock":
        clock_boxes(pen, x, y, one.name, meaning)
    elif one.unit in ("date", "words"):
        kind = "date" if one.unit == "date" else "write"
        pen.box(kind, x, y, cell, BOX_HEIGHT, one.name, meaning)
    else:
        number_box(pen, x, y, one.unit, one.name, meaning)


def together(pieces: Sequence[Piece]) -> Piece:
    """Pieces that never part, one below the other."""

    def draw(pen: Pen, x: float, y: float) -> None:
        for piece in pieces:
            piece.draw(pen, x, y)
            y += piece.height

    return Piece(sum(p.height for p in pieces), draw)


def numbers(block: Container, area: Area) -> Pieces:
    """Boxes for the numbers of the instruments used, each under its caption."""
    names = [row[0] for row in block.rows]
    across = min(3, len(names))
    widest = (area.width - 3.0 * (across - 1)) / across
    cell = max(34.0, min(widest, 44.0))
    rows = [names[i : i + across] for i in range(0, len(names), across)]
    made = [_captioned(row, min(cell, widest)) for row in rows]
    return with_gap(made, 2.0)


def _captioned(names: Sequence[Runs], cell: float) -> Piece:
    captions = [typeset(name, cell, SMALL, leading=1.15) for name in names]
    top = max(c.height for c in captions) + 0.5

    def draw(pen: Pen, x: float, y: float) -> None:
        for i, (name, caption) in enumerate(zip(names, captions, strict=True)):
            at = x + i * (cell + 3.0)
            caption.draw(pen, at, y + top - 0.5 - caption.height)
            pen.box("write", at, y + top, cell, BOX_HEIGHT, plain(name), plain(name))

    return Piece(top + BOX_HEIGHT + 0.6, draw)
