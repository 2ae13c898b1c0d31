"""A section or an operation of a sheet, in; a unit that knows where a page may end in it, out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from generator.draw import marks
from generator.draw.blocks import pieces_of
from generator.draw.blocks.plain import section_heading, text_piece
from generator.draw.blocks.readings import ticked_pieces
from generator.draw.breaking import typeset
from generator.draw.fonts import BOLD
from generator.draw.operations import ABOVE_TITLE, OperationUnit, operation_unit
from generator.draw.paper import HEADING, HEAVY, NUMBER, Paper
from generator.draw.parse import Block, Container, Heading, Paragraph
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows, with_gap
from generator.draw.sheet import OF_OPERATION, Operation, Part, Section, Title
from generator.findings import Refusal

_BLOCK_GAP = 2.4
_CLOSER = 0.45  # of the space between blocks, where it saves a page
_FEW, _SHORT = 4, 110.0  # rows of a table, and height (mm) of a list, that stay on one page
_ANSWERS = ("strip", "grid", "lookup")
_LISTS = ("facts", "checklist", "steps", "state", "clock")


@dataclass(frozen=True)
class SectionUnit:
    """A heading with what stands under it; a page may end between any two of its pieces that
    say so. One that is of an operation parts as an operation does, and says so on both pages."""

    name: str
    pieces: Pieces
    left: float
    level: int
    new_page: bool = False
    closes: bool = False
    operation: str = field(default="", init=False)
    hold: bool = field(default=False, init=False)

    @property
    def size(self) -> int:
        return len(self.pieces)

    @property
    def of(self) -> str:
        """The operation that a section of a record is of, "" for none."""
        found = OF_OPERATION.fullmatch(self.name)
        return found[1] if found else ""

    def breaks(self, room: float) -> tuple[int, ...]:
        """Where a page of that room (mm) may end: before which pieces."""
        places = [(i, piece) for i, piece in enumerate(self.pieces) if i]
        free = tuple(i for i, piece in places if piece.breaks)
        if not self.of or self._fits(free, room):
            return free
        if self._fits(self.eased, room):
            return self.eased
        return tuple(i for i, p in places if p.breaks or p.eases or p.yields)

    @property
    def eased(self) -> tuple[int, ...]:
        """Where a page may end that would else be left nearly empty."""
        return tuple(i for i, p in enumerate(self.pieces) if i and (p.breaks or p.eases))

    def _fits(self, way: tuple[int, ...], room: float) -> bool:
        """Whether what stands between the places where a page may end is never taller than one."""
        return all(self.height(a, b) <= room for a, b in pairwise((0, *way, self.size)))

    @property
    def gap(self) -> float:
        """Space above the unit, but not at the top of a page."""
        return self.pieces[0].gap

    def height(self, start: int, end: int) -> float:
        """Height of these pieces as they stand on a page."""
        goes_on = (bool(start and self.of), bool(self._overleaf(end)))
        stack = sum(p.height + gap for p, gap in self._stack(start, end))
        return stack + marks.OVERLEAF * sum(goes_on)

    def _overleaf(self, end: int) -> str:
        """What goes on behind these pieces, "" where nobody needs to be told."""
        if end == self.size:
            return ""
        return f"Operation {self.of}" if self.of else self.pieces[end].overleaf

    def draw(self, pen: Pen, y: float, start: int, end: int, first: bool) -> None:
        """Draw these pieces from a height on; first on its page or not makes no difference."""
        if start == 0 and self.name:
            pen.entry(self.name, self.level, y)
        pen.operation = self.of
        if start and self.of:
            pen.text(self.left, y + 4.6, f"{self.name} continued", BOLD, HEADING)
            y += marks.OVERLEAF
        for piece, gap in self._stack(start, end):
            y += gap
            piece.draw(pen, self.left, y)
            y += piece.height
        if what := self._overleaf(end):
            marks.overleaf(pen, pen.paper.right, y + marks.OVERLEAF - 1.6, what)
        pen.operation = ""

    def _stack(self, start: int, end: int) -> Iterator[tuple[Piece, float]]:
        header = self.pieces[start].header if start else None
        if header:
            yield header, 0.0
        for i in range(start, end):
            piece = self.pieces[i]
            yield piece, piece.gap if i > start else 0.0


Unit = SectionUnit | OperationUnit


def closer(unit: Unit) -> Unit:
    """The unit with less space between its blocks; an operation as it is."""
    if isinstance(unit, OperationUnit):
        return unit
    pieces = (p._replace(gap=p.gap * _CLOSER) for p in unit.pieces)
    return replace(unit, pieces=tuple(pieces))


def units_of(parts: Sequence[Part], paper: Paper, room: float = 0.0) -> Iterator[Unit]:
    """The units of a sheet in order; a title joins the unit that follows it. room: the height
    (mm) of a page, which blocks that fill pages need."""
    title: Title | None = None
    seen = False
    for number, part in enumerate(parts):
        following = parts[number + 1] if number + 1 < len(parts) else None
        if isinstance(part, Title):
            if isinstance(following, Section | Operation):
                title = part
            else:
                yield _closing_unit(part, paper)
            continue
        seen = seen or title is not None
        try:
            made = _unit(part, paper, title, int(seen), room)
        except Refusal as refusal:
            raise _placed(refusal, part) from None
        yield made
        title = None


def _unit(
    part: Section | Operation, paper: Paper, title: Title | None, level: int, room: float
) -> Unit:
    lead = _title_piece(title, paper) if title else None
    if isinstance(part, Operation):
        words = title.text if title else ""
        return operation_unit(part, paper, lead, words, level, room)
    area = Area(paper.content, paper.content, room)
    return _section_unit(part, area, paper, lead, title, level)


def _placed(refusal: Refusal, part: Section | Operation) -> Refusal:
    """The refusal with the operation that it is of, so that its line in the file is found."""
    found = OF_OPERATION.fullmatch(part.heading) if isinstance(part, Section) else None
    number = part.number if isinstance(part, Operation) else found[1] if found else ""
    if not number or refusal.code != "layout":
        return refusal
    return Refusal(refusal.code, f"operation {number}: {refusal.wrong}", refusal.right)


def _title_piece(title: Title, paper: Paper) -> Piece:
    text = typeset(title.text, paper.content, NUMBER, BOLD, 1.2)
    return text_piece(text, ABOVE_TITLE)._replace(height=text.height + 1.0)


def _closing_unit(title: Title, paper: Paper) -> SectionUnit:
    """The words that say the sheet ends here, between two rules."""
    text = typeset(title.text, paper.content, 12.0, BOLD)

    def draw(pen: Pen, x: float, y: float) -> None:
        middle, half = x + paper.content / 2, text.width / 2 + 4.0
        text.draw(pen, middle - text.width / 2, y)
        across = y + text.height / 2
        pen.line(x, across, middle - half, across, HEAVY)
        pen.line(middle + half, across, x + paper.content, across, HEAVY)

    return SectionUnit(title.text, (Piece(text.height, draw, gap=3.0),), paper.left, 0, closes=True)


def _parted(block: Block, pieces: Pieces) -> Pieces:
    """The rows of a list may stand on two pages: a long list of tools is taller than one."""
    if isinstance(block, Container) and block.name in _LISTS:
        return breakable_rows(pieces, pieces[-1].header, 2)
    return pieces


def _of_operation(
    block: Block, pieces: Pieces, free: bool, eases: bool, page: float, ticked: int
) -> Pieces:
    """A block of a record of one operation: only rows of readings and of logs that are taller than
    a page (mm) part freely, what is signed stays with what it signs for, and so many rows as are
    ticked with the table above them."""
    first, *others = pieces
    name = block.name if isinstance(block, Container) else ""
    held = sum(piece.height for piece in pieces) <= page - 2 * marks.OVERLEAF
    few = name == "fill" and (held or len(others) <= _FEW)
    short = name in _LISTS and sum(piece.height for piece in pieces) <= _SHORT
    kept: Sequence[int] = (0, 1, len(others) - 1) if name == "fill" else range(ticked)
    kept = range(len(others)) if few or short else kept
    others = [
        piece._replace(breaks=False, yields=piece.breaks) if i in kept else piece
        for i, piece in enumerate(others)
    ]
    if 0 < ticked < len(others):
        # Behind them even one row may go overleaf: who signs for it goes with it.
        others[ticked] = others[ticked]._replace(breaks=True)
    free = free and not first.glued
    eases = eases and free and name != "numbers"
    return (first._replace(breaks=False, eases=eases, yields=free), *others)


def _answered(block: Block, before: Sequence[Block]) -> bool:
    """Whether a block holds the readings whose answers stand right above them: a limit that is
    carried from one page to another is carried wrong."""
    names = [each.name for each in (*before[-1:], block) if isinstance(each, Container)]
    return len(names) == 2 and names[0] in _ANSWERS and names[1] == "readings"


def _ticked(block: Block, before: Sequence[Block], area: Area) -> int:
    """How many rows of a block keep to the table right above it, which answers their limits."""
    if not _answered(block, before) or not isinstance(block, Container):
        return 0
    return ticked_pieces(block, area)


def _leads(block: Block, following: Sequence[Block]) -> bool:
    """Whether a block stays with what follows it: a heading, and words that lead into a table."""
    if isinstance(block, Paragraph):
        return bool(following) and not isinstance(following[0], Paragraph | Heading)
    if isinstance(block, Container) and block.name in ("strip", "grid") and following:
        # The answers stay with the boxes of the reading that they are for.
        return isinstance(following[0], Container) and following[0].name == "features"
    if _alerts(block):
        # A caution never parts from its step.
        step = next((each for each in following if not _alerts(each)), None)
        return isinstance(step, Paragraph)
    return isinstance(block, Heading)


def _has_map(section: Section) -> bool:
    """Whether what is signed last is signed for the fasteners of a map: it never stands alone."""
    return any(isinstance(b, Container) and b.name == "map" for b in section.blocks)


def _alerts(block: Block) -> bool:
    return isinstance(block, Container) and block.name in ("warning", "caution", "note")


def _section_unit(
    section: Section, area: Area, paper: Paper, lead: Piece | None, title: Title | None, level: int
) -> SectionUnit:
    heads = [lead] if lead else []
    if section.heading:
        heads.append(section_heading(section.heading, paper.content))
    name = section.heading if not title else title.text
    made: list[Piece] = [*heads]
    free = not heads
    for number, block in enumerate(section.blocks):
        pieces = pieces_of(block, area, in_operation=False)
        gap = max(pieces[0].gap, 1.4 if not free else _BLOCK_GAP)
        first, *others = _parted(block, with_gap(pieces, gap))
        last = number == len(section.blocks) - 1
        if OF_OPERATION.fullmatch(name):
            eases = not last and not _answered(block, section.blocks[:number])
            held = _ticked(block, section.blocks[:number], area)
            made += _of_operation(block, (first, *others), free, eases, area.page, held)
        else:
            ends = last and (isinstance(block, Paragraph) or _has_map(section))
            made += [first._replace(breaks=free and not first.glued and not ends), *others]
        free = not _leads(block, section.blocks[number + 1 :])
    return SectionUnit(name, tuple(made), paper.left, 0 if title else level, title is not None)
