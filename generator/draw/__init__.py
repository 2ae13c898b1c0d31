"""A sheet as Markdown, in; a PDF and the map of its boxes, out. Only this room knows paper.

The same text gives the same bytes on any day. Refuses with generator.findings.Refusal only:
"sheet" (not in the dialect), "glyph" (a sign that cannot be printed), "layout" (does not fit).
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from io import BytesIO

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from generator.draw.fonts import BOLD, MONO, MONO_BOLD, TEXT, font
from generator.draw.frame import PageFrame, page_frame
from generator.draw.pages import Page, paginate
from generator.draw.paper import PT, Paper, paper_named
from generator.draw.pen import Box, Pen
from generator.draw.sections import units_of
from generator.draw.sheet import Frame, Operation, read_sheet

__all__ = ["Box", "Drawn", "box_map", "draw_sheet"]


@dataclass(frozen=True)
class Drawn:
    """A finished print: the PDF, every place to write on it, and how many pages it has."""

    pdf: bytes
    boxes: tuple[Box, ...]
    pages: int


def draw_sheet(sheet: str) -> Drawn:
    """The print of a sheet; refuses a sheet that is not in the dialect or does not fit."""
    for face in (TEXT, BOLD, MONO, MONO_BOLD):
        font(face)
    read = read_sheet(sheet)
    paper = paper_named(read.frame["paper"])
    worked = any(isinstance(part, Operation) for part in read.parts)
    framed = page_frame(read.frame, paper, worked)
    pages = paginate(units_of(read.parts, paper), framed.bottom - framed.top)
    target = BytesIO()
    canvas = _canvas(target, read.frame, paper)
    pen = Pen(canvas, paper)
    _draw_pages(pen, framed, pages)
    pen.name_places()
    canvas.save()
    return Drawn(target.getvalue(), tuple(pen.boxes), len(pages))


def _draw_pages(pen: Pen, framed: PageFrame, pages: list[Page]) -> None:
    for number, page in enumerate(pages, 1):
        framed.draw(pen, number, len(pages))
        y = framed.top
        for place, fragment in enumerate(page):
            y += fragment.unit.gap if place else 0.0
            fragment.unit.draw(pen, y, fragment.start, fragment.end, first=not place)
            y += fragment.height
        pen.end_page()


def _canvas(target: BytesIO, frame: Frame, paper: Paper) -> Canvas:
    # Text as base 85 makes the file larger and costs time; no reader needs it.
    rl_config.useA85 = 0
    size = (paper.width / PT, paper.height / PT)
    canvas = Canvas(
        target,
        pagesize=size,
        invariant=1,
        pageCompression=1,
        initialFontName=TEXT,  # type: ignore[arg-type]
        lang=frame["language"],
    )
    canvas.setTitle(f"{frame.told('serial')} {frame['title']}".strip())
    of = f", {frame['process']} revision {frame['revision']}" if frame.told("process") else ""
    canvas.setSubject(f"{frame['kind']}{of}")
    canvas.setAuthor("witnessmark")
    canvas.setCreator("witnessmark")
    words = [frame.told("part"), frame.told("part serial"), frame["fingerprint"]]
    canvas.setKeywords([word for word in words if word])  # type: ignore[arg-type]
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.showOutline()
    return canvas


def box_map(prints: Mapping[str, Drawn]) -> str:
    """The map of the boxes of all sheets of a print, by kind of sheet, as JSON: in the order they
    were drawn, one box a line."""
    boxes = ((kind, box) for kind, drawn in prints.items() for box in drawn.boxes)
    lines = (json.dumps({"sheet": k, **asdict(b)}, ensure_ascii=False) for k, b in boxes)
    return "[\n" + ",\n".join(lines) + "\n]\n"
