"""An operation of a sheet, in; a unit with its number, its frame and its sign-off, out.

Number, kind and tick at the left, text and rows in the middle, the sign-off at the right beside
the last rows, so that whoever has filled the last box finds the stamp box next to it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from generator.draw import marks
from generator.draw.blocks import pieces_of
from generator.draw.blocks.plain import text_piece
from generator.draw.blocks.points import MARKS
from generator.draw.blocks.signs import CLUSTER_WIDTH, done_cluster, hold_cluster, hold_words
from generator.draw.breaking import one_line, typeset
from generator.draw.fonts import BOLD, TEXT
from generator.draw.paper import (
    BODY,
    CAPTION,
    HEADING,
    HEAVY,
    INSTRUCTION,
    NUMBER,
    PT,
    RULE,
    SMALL,
    WARNING_STROKE,
    Paper,
)  # fmt: skip
from generator.draw.parse import Block, Container, Heading, Paragraph
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, eased, eased_rows, with_gap
from generator.draw.sheet import Operation

_LEFT, _BETWEEN = 18.0, 3.0
_BLOCK_GAP, _TICK = 2.0, 7.0
_TOGETHER = 165.0
_SIGNED = 25.0  # of a page, for the sign-off
_AFTER = ("state", "numbers")  # what stands below maps and readings

Mark = Callable[[Pen, float, float, float], None]
FrameDraw = Callable[[Pen, float, float, float, float], None]


@dataclass(frozen=True)
class Shape:
    """How a kind of operation is framed: room between frame and words, mark and frame."""

    inset: float
    above: float
    below: float
    mark: Mark | None
    frame: FrameDraw


def _rule(pen: Pen, x: float, y: float, width: float, height: float) -> None:
    pen.line(x, y, x + width, y, RULE)


def _hold(pen: Pen, x: float, y: float, width: float, height: float) -> None:
    half = WARNING_STROKE / 2
    marks.double_frame(
        pen, x + half, y + half, width - 2 * half, height - 2 * half, WARNING_STROKE, HEAVY
    )


def _single(pen: Pen, x: float, y: float, width: float, height: float) -> None:
    half = HEAVY / 2
    pen.frame(x + half, y + half, width - 2 * half, height - 2 * half, HEAVY)


def _cut(pen: Pen, x: float, y: float, width: float, height: float) -> None:
    half = HEAVY / 2
    marks.cut_frame(pen, x + half, y + half, width - 2 * half, height - 2 * half)


_PLAIN = Shape(0.0, 2.4, 2.6, None, _rule)
_SHAPES = {
    "hold": Shape(4.4, 4.2, 4.4, MARKS["hold"], _hold),
    "witness": Shape(3.4, 3.2, 3.4, MARKS["witness"], _single),
    "independent": Shape(4.2, 4.0, 4.2, MARKS["independent"], _cut),
}
_OUTSIDE = 1.6  # between a frame and its neighbours
ABOVE_TITLE = 6.0
"""Space (mm) above the title of a part of a sheet that does not begin a page."""


@dataclass(frozen=True)
class OperationUnit:
    """An operation laid out: pieces in order, and the cluster that stands beside those before
    the place `signed`."""

    name: str
    operation: str
    kind: str
    words: str
    pieces: Pieces
    cluster: Piece | None
    signed: int
    paper: Paper
    lead: Piece | None
    title: str
    level: int
    shape: Shape
    new_page: bool = field(default=False)
    closes: bool = field(default=False, init=False)
    of: str = field(default="", init=False)

    @property
    def size(self) -> int:
        return len(self.pieces)

    @property
    def hold(self) -> bool:
        return self.kind == "hold"

    @property
    def framed(self) -> bool:
        return self.shape is not _PLAIN

    @property
    def gap(self) -> float:
        """Space above the unit, but not at the top of a page."""
        return ABOVE_TITLE if self.lead else _OUTSIDE if self.framed else 0.0

    def breaks(self, room: float) -> tuple[int, ...]:
        """Where a page of that room (mm) may end: before which pieces.

        Between rows of readings; only where the whole is taller than a page, also between a step
        and the tables, figures and readings that follow it.
        """
        tall = self.height(0, self.size) > room
        return tuple(
            i
            for i, piece in enumerate(self.pieces)
            if i and (piece.breaks or (tall and piece.eases))
        )

    def height(self, start: int, end: int) -> float:
        """Height of these pieces with their sign-off, frame and words of continuation."""
        return self._whole if (start, end) == (0, self.size) else self._height(start, end)

    @cached_property
    def _whole(self) -> float:
        return self._height(0, self.size)

    def _height(self, start: int, end: int) -> float:
        outside = _OUTSIDE if self.framed else 0.0
        lead = self.lead.height if self.lead and start == 0 else 0.0
        return lead + outside + self._inner(start, end)

    def _inner(self, start: int, end: int) -> float:
        body = self._layout(start, end)[2]
        notes = marks.OVERLEAF * ((start > 0) + (end < self.size))
        if start == 0:
            body = max(body, self._left_height())
        return self.shape.above + body + notes + self.shape.below

    def _left_height(self) -> float:
        return 0.0 if self.kind == "deleted" else 19.0 if self.framed else 23.0

    def _layout(self, start: int, end: int) -> tuple[list[tuple[Piece, float]], float, float]:
        """Each piece with its distance from the top, that of the cluster, and the height."""
        placed: list[tuple[Piece, float]] = []
        y = beside = sign_at = 0.0
        header = self.pieces[start].header if start else None
        if header:
            placed.append((header, y))
            y += header.height
        for i in range(start, end):
            piece = self.pieces[i]
            y += piece.gap if i > start else 0.0
            placed.append((piece, y))
            y += piece.height
            beside = y + 1.0 if piece.wide else beside
            if i + 1 == self.signed and self.cluster:
                y = max(y, beside + self.cluster.height)
                sign_at, beside = y - self.cluster.height, y + 1.0
        return placed, sign_at, y

    def draw(self, pen: Pen, y: float, start: int, end: int, first: bool) -> None:
        """Draw these pieces with all that belongs to them from a height on."""
        pen.operation = self.operation
        x = self.paper.left
        if start == 0:
            self._entries(pen, y)
            if self.lead:
                self.lead.draw(pen, x, y)
                y += self.lead.height
        # At the top of a page the rule of the header strip parts enough.
        if self.framed or not first or (self.lead and start == 0):
            self.shape.frame(pen, x, y, self.paper.content, self._inner(start, end))
        self._content(pen, x + self.shape.inset, y + self.shape.above, start, end)
        pen.operation = ""

    def _entries(self, pen: Pen, y: float) -> None:
        if self.title:
            pen.entry(self.title, 0, y)
        pen.entry(f"{self.operation} {self.kind}", self.level, y)

    def _content(self, pen: Pen, x: float, y: float, start: int, end: int) -> None:
        if start == 0:
            self._left_column(pen, x, y)
        else:
            pen.text(x, y + 4.6, f"{self.operation} continued", BOLD, HEADING)
            y += marks.OVERLEAF
        placed, sign_at, height = self._layout(start, end)
        for piece, down in placed:
            piece.draw(pen, x + _LEFT, y + down)
        if self.cluster and start < self.signed <= end:
            right = self.paper.right - self.shape.inset - CLUSTER_WIDTH
            self.cluster.draw(pen, right, y + sign_at)
        if end < self.size:
            self._overleaf(pen, y + height + marks.OVERLEAF - 1.6)

    def _overleaf(self, pen: Pen, base: float) -> None:
        marks.overleaf(pen, self.paper.right - self.shape.inset, base, self.operation)

    def _left_column(self, pen: Pen, x: float, y: float) -> None:
        pen.text(x, y + 5.0, self.operation, BOLD, self._number_size())
        if self.kind == "deleted":
            return
        if self.shape.mark:
            self.shape.mark(pen, x + 0.6, y + 8.0, 11.0)
            return
        size = SMALL if one_line(self.kind, SMALL) < _LEFT - 3.0 else CAPTION
        word = typeset(self.kind, _LEFT, size, TEXT)
        word.draw(pen, x, y + 6.6)
        for at, words in ((x, "done"), (x + _TICK + 2.4, "N/A")):
            pen.box("check", at, y + 12.2, _TICK, _TICK, "operation", f"{self.operation} {words}")
            pen.text(at + _TICK / 2, y + _TICK + 15.2, words, size=CAPTION, anchor="middle")

    def _number_size(self) -> float:
        """Five signs and more are set smaller; a number of four figures reworked, such as 1100R1,
        smaller still."""
        return NUMBER if len(self.operation) < 5 else HEADING if len(self.operation) < 6 else BODY


def operation_unit(
    operation: Operation,
    paper: Paper,
    lead: Piece | None,
    title: str,
    level: int,
    room: float = 0.0,
) -> OperationUnit:
    """The unit of an operation; lead is the title that stands above it on its new page. room: the
    height (mm) of a page, where it is known."""
    shape = _SHAPES.get(operation.kind, _PLAIN)
    wide = paper.content - 2 * shape.inset - _LEFT
    page = max(0.0, room - shape.above - shape.below - 2 * marks.OVERLEAF - _SIGNED)
    area = Area(wide - CLUSTER_WIDTH - _BETWEEN, wide, page)
    pieces, cluster, signed = _pieces(operation, area)
    return OperationUnit(
        f"operation {operation.number}", operation.number, operation.kind, operation.words,
        pieces, cluster, signed, paper, lead, title, level, shape, bool(title),
    )  # fmt: skip


def _pieces(operation: Operation, area: Area) -> tuple[Pieces, Piece | None, int]:
    made: list[Piece] = [*_headline(operation, area)]
    cluster, signed = None, 0
    for number, block in enumerate(operation.blocks):
        if isinstance(block, Container) and block.name == "sign" and block.words in _CLUSTERS:
            made = made or [Piece(0.0, _nothing)]
            cluster = _CLUSTERS[block.words](block)
            # The operator signs beside the words, above what the witness fills in.
            signed = len(made) - (number > 0 and _is_witness(operation.blocks[number - 1]))
            continue
        follows_heading = number and isinstance(operation.blocks[number - 1], Heading)
        pieces = pieces_of(
            block, _beside_it(block, operation.blocks[number + 1 :], area), in_operation=True
        )
        gap = 1.0 if follows_heading else max(pieces[0].gap, _BLOCK_GAP)
        pieces = with_gap(pieces, gap)
        if isinstance(block, Container) and block.name in ("steps", "clock"):
            pieces = eased_rows(pieces)
        parts = _follows_the_step(operation, number) and not _stays(made, pieces)
        parts = parts or _after_a_map(operation, number, area)
        made += eased(pieces) if parts else pieces
    return tuple(made or [Piece(0.0, _nothing)]), cluster, signed


def _said_after(following: Sequence[Block], area: Area) -> float:
    """How high it is (mm) what is said and written below a block, beside the sign-off."""
    said = [b for b in following if isinstance(b, Container) and b.name in _AFTER]
    pieces = [piece for block in said for piece in pieces_of(block, area, in_operation=True)]
    return sum(piece.height + piece.gap for piece in pieces)


def _beside_it(block: Block, following: Sequence[Block], area: Area) -> Area:
    """The area of a block; the page of a map is less by what is said below it, so that both stand
    with one sign-off, unless that is much: then it goes on another page, the sign-off beside it."""
    if not (isinstance(block, Container) and block.name == "map" and area.page):
        return area
    after = _said_after(following, area)
    if after > _SIGNED:
        return replace(area, page=area.page + _SIGNED)
    return replace(area, beside=_SIGNED - after)


def _after_a_map(operation: Operation, number: int, area: Area) -> bool:
    """Whether a block is the first of much that is said below a map."""
    before, block = operation.blocks[number - 1], operation.blocks[number]
    follows = isinstance(before, Container) and before.name == "map" and number > 0
    return (
        follows
        and isinstance(block, Container)
        and block.name in _AFTER
        and _said_after(operation.blocks[number:], area) > _SIGNED
    )


def _stays(made: Sequence[Piece], pieces: Pieces) -> bool:
    """Whether a block that is glued to the one before it makes no more with it than half a page."""
    return pieces[0].glued and bool(made) and made[-1].height + pieces[0].height <= _TOGETHER


def _is_witness(block: Block) -> bool:
    return isinstance(block, Container) and (block.name, block.words) == ("sign", "witness")


def _follows_the_step(operation: Operation, number: int) -> bool:
    """Whether a block stands after the instruction and no line of words leads into it."""
    before = operation.blocks[:number]
    if not any(isinstance(block, Paragraph) for block in before):
        return False
    block = operation.blocks[number]
    if isinstance(block, Container) and block.name in ("numbers", "state", "steps"):
        return False
    leads = [isinstance(each, Paragraph) for each in before]
    return isinstance(block, Paragraph) or not leads[-1] or sum(leads) == 1


_CLUSTERS: dict[str, Callable[[Container], Piece]] = {"done": done_cluster, "hold": hold_cluster}


def _nothing(pen: Pen, x: float, y: float) -> None:
    """An operation without words still has its number and its sign-off."""


def _headline(operation: Operation, area: Area) -> Pieces:
    """The word that goes with the frame's shape; a deleted operation keeps its number."""
    if operation.kind == "deleted":
        words = f"{operation.kind} {operation.words}".strip()
        return (text_piece(typeset(words, area.wide, INSTRUCTION, BOLD), 0.0),)
    if operation.kind in _SHAPES:
        return (_word_piece(operation, area),)
    if operation.words:
        return (text_piece(typeset(operation.words, area.width, INSTRUCTION, BOLD), 0.0),)
    return ()


def _word_piece(operation: Operation, area: Area) -> Piece:
    word = operation.kind.upper()
    beside, below = _said(operation)
    head = typeset(word, area.width, NUMBER, BOLD, 1.1)
    side = typeset(beside, area.width - head.width - 4.0, INSTRUCTION, BOLD, 1.2)
    foot = typeset(below, area.width, BODY) if below else None
    top = max(head.height, side.height)
    lift = 0.33 * (NUMBER - INSTRUCTION) * PT

    def draw(pen: Pen, x: float, y: float) -> None:
        head.draw(pen, x, y)
        side.draw(pen, x + head.width + 4.0, y + (head.height - side.leading) / 2 + lift)
        if foot:
            foot.draw(pen, x, y + top + 0.8)

    return Piece(top + (foot.height + 0.8 if foot else 0.0), draw)


def _said(operation: Operation) -> tuple[str, str]:
    """What stands beside the big word, and below it."""
    for block in operation.blocks:
        if isinstance(block, Container) and block.name == "sign" and block.words == "hold":
            return hold_words(block)
    return operation.words, ""
