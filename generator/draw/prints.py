"""The sheets of a process as Markdown, in; laid out as one pack, numbered through, then drawn: each
sheet as a file of its own, and all of them as one.

Pages are made from heights before a stroke is drawn, so every page knows the count of the pack.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from io import BytesIO

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from generator.draw.backs import draw_back
from generator.draw.fonts import BOLD, MONO, MONO_BOLD, TEXT, font
from generator.draw.frame import PageFrame, page_frame
from generator.draw.pages import Page, evened, paginate
from generator.draw.paper import PT, Paper, paper_named
from generator.draw.pen import Box, Pen
from generator.draw.places import Places
from generator.draw.sections import closer, units_of
from generator.draw.sheet import Frame, is_worked, read_sheet, spoken


@dataclass(frozen=True)
class Drawn:
    """A finished print: the PDF, every place to write on it, the codes in the corners of its pages,
    and how many pages it has. first: the number of its first page in the pack."""

    pdf: bytes
    boxes: tuple[Box, ...]
    codes: tuple[Box, ...]
    pages: int
    first: int


@dataclass(frozen=True)
class _Laid:
    """A sheet whose pages are made and not drawn."""

    framed: PageFrame
    pages: list[Page]

    def draw(self, pen: Pen, first: int, count: int, backs: bool = False) -> None:
        """Draw all pages, each with its back where wanted; the first has this number."""
        for number, page in enumerate(self.pages, first):
            pen.sheet = number
            self.framed.draw(pen, number, count)
            y = self.framed.top
            for place, fragment in enumerate(page):
                y += fragment.unit.gap if place else 0.0
                fragment.unit.draw(pen, y, fragment.start, fragment.end, first=not place)
                y += fragment.height
            pen.end_page()
            if backs:
                draw_back(pen, self.framed, number, count)
                pen.end_page()


@dataclass(frozen=True)
class Pack:
    """The sheets of a process by kind, laid out and numbered through in their order."""

    sheets: Mapping[str, _Laid]

    @property
    def count(self) -> int:
        """How many pages all sheets have together."""
        return sum(len(laid.pages) for laid in self.sheets.values())

    def first(self, kind: str) -> int:
        """The number of the first page of a sheet."""
        before = list(self.sheets)[: list(self.sheets).index(kind)]
        return 1 + sum(len(self.sheets[each].pages) for each in before)

    def sheet(self, kind: str) -> Drawn:
        """The print of one sheet, as a file of its own."""
        canvas, pen, target = self._on_canvas(kind)
        canvas.save()
        boxes, codes, pages = tuple(pen.boxes), tuple(pen.codes), len(self.sheets[kind].pages)
        return Drawn(target.getvalue(), boxes, codes, pages, self.first(kind))

    def tried(self) -> None:
        """Draw every sheet and make no file of it: refuses what `sheet` would refuse."""
        for kind in self.sheets:
            self._on_canvas(kind)

    def _on_canvas(self, kind: str) -> tuple[Canvas, Pen, BytesIO]:
        """A sheet drawn; the canvas makes its file when it is saved, and not before."""
        laid = self.sheets[kind]
        frame, paper = laid.framed.frame, laid.framed.paper
        target = BytesIO()
        canvas = _canvas(target, frame, paper, frame["kind"])
        pen = Pen(canvas, paper)
        laid.draw(pen, self.first(kind), self.count)
        pen.name_places()
        return canvas, pen, target

    def backs(self) -> Drawn:
        """The backs alone, in the order of the sheets, for the map of their boxes."""
        frame, paper = next((each.framed.frame, each.framed.paper) for each in self.sheets.values())
        canvas = _canvas(BytesIO(), frame, paper, "backs")
        boxes: list[Box] = []
        codes: list[Box] = []
        for kind, each in self.sheets.items():
            pen = Pen(canvas, each.framed.paper, self.first(kind))
            for number, _ in enumerate(each.pages, pen.page):
                draw_back(pen, each.framed, number, self.count)
                pen.end_page()
            boxes += pen.boxes
            codes += pen.codes
        return Drawn(b"", tuple(boxes), tuple(codes), self.count, 1)

    def whole(self, backs: bool = False) -> bytes:
        """One PDF of all sheets; what leads from one file to another leads inside it. backs: each
        page is followed by its back, for a printer that prints both sides."""
        frames = [laid.framed.frame for laid in self.sheets.values()]
        paper = next(iter(self.sheets.values())).framed.paper
        target = BytesIO()
        canvas = _canvas(target, frames[0], paper, ", ".join(frame["kind"] for frame in frames))
        files, places = [f"{kind}.pdf" for kind in self.sheets], Places(canvas)
        for kind, laid in self.sheets.items():
            paper, first = laid.framed.paper, self.first(kind)
            canvas.setPageSize(_size(paper))
            page = 2 * first - 1 if backs else first
            pen = Pen(canvas, paper, page, f"{kind}.pdf", files, places)
            pen.chapter(spoken(laid.framed.frame["kind"]))
            laid.draw(pen, first, self.count, backs)
        canvas.save()
        return target.getvalue()


def lay_out(sheets: Mapping[str, str]) -> Pack:
    """The pack of sheets, by kind; refuses one that is not in the dialect or does not fit."""
    for face in (TEXT, BOLD, MONO, MONO_BOLD):
        font(face)
    return Pack({kind: _laid(sheet) for kind, sheet in sheets.items()})


def _laid(sheet: str) -> _Laid:
    read = read_sheet(sheet)
    paper = paper_named(read.frame["paper"])
    worked = any(map(is_worked, read.parts))
    framed = page_frame(read.frame, paper, worked)
    room = framed.bottom - framed.top
    units = list(units_of(read.parts, paper, room))
    pages = paginate(units, room)
    if len(pages) > 1:
        tight = paginate(map(closer, units), room)
        pages = tight if len(tight) < len(pages) else pages
    return _Laid(framed, evened(pages, room))


def _size(paper: Paper) -> tuple[float, float]:
    return paper.width * paper.scale / PT, paper.height * paper.scale / PT


def _canvas(target: BytesIO, frame: Frame, paper: Paper, kind: str) -> Canvas:
    # Text as base 85 makes the file larger and costs time; no reader needs it.
    rl_config.useA85 = 0
    canvas = Canvas(
        target,
        pagesize=_size(paper),
        invariant=1,
        pageCompression=1,
        initialFontName=TEXT,  # type: ignore[arg-type]
        lang=frame["language"],
    )
    canvas.setTitle(f"{frame.told('serial')} {frame['title']}".strip())
    of = f", {frame['process']} revision {frame['revision']}" if frame.told("process") else ""
    canvas.setSubject(f"{kind}{of}")
    canvas.setAuthor("witnessmark")
    canvas.setCreator("witnessmark")
    words = [frame.told("part"), frame.told("part serial"), frame["fingerprint"]]
    canvas.setKeywords([word for word in words if word])  # type: ignore[arg-type]
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.showOutline()
    return canvas
