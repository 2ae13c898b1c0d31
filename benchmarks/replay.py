"""A sheet in; the same strokes and words drawn by bare reportlab, and written as finished pages.

The first floor draws what the pen was asked for, call by call, with nothing but the library's own
canvas. The second writes the finished page streams into a new canvas: no thinking left at all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from generator.draw import lay_out
from generator.draw.fonts import BOLD, MONO, MONO_BOLD, SIGN, TEXT, Coded, font, plain_signs
from generator.draw.paper import BODY, BOX_STROKE, PT, RULE, paper_named
from generator.draw.pen import Pen

A4 = paper_named("A4")
Call = tuple[str, tuple[Any, ...], dict[str, Any]]
_ASKED = (
    "text", "turned", "outline", "circle", "box", "code", "link", "anchor", "entry", "end_page",
)  # fmt: skip


@contextmanager
def _listening(calls: list[Call], streams: list[tuple[str, str]]) -> Iterator[None]:
    """Note every outermost call of the pen, and every page as it is written."""
    kept = {name: getattr(Pen, name) for name in _ASKED}
    depth = [0]

    def noting(name: str) -> Any:
        def call(pen: Pen, *args: Any, **more: Any) -> None:
            if name == "end_page":
                streams.append(("\n".join(pen._strokes), "\n".join(pen._words)))
            outermost = not depth[0]
            depth[0] += 1
            try:
                kept[name](pen, *args, **more)
            finally:
                depth[0] -= 1
            if outermost:
                # A code is replayed as the finished path: no drawing is cheaper.
                calls.append((name, (pen._strokes[-1],) if name == "code" else args, more))

        return call

    for name in _ASKED:
        setattr(Pen, name, noting(name))
    try:
        yield
    finally:
        for name, method in kept.items():
            setattr(Pen, name, method)


@dataclass(frozen=True)
class Recorded:
    """What drawing a sheet asks of the pen, the page streams it writes, and the signs that each
    face needs."""

    calls: Sequence[Call]
    streams: Sequence[tuple[str, str]]
    signs: Mapping[str, str]


def recorded(sheets: Mapping[str, str]) -> list[Recorded]:
    """The drawing of each sheet of a print."""
    pack = lay_out(sheets)
    made = []
    for kind in sheets:
        calls: list[Call] = []
        streams: list[tuple[str, str]] = []
        with _listening(calls, streams):
            pack.sheet(kind)
        made.append(Recorded(calls, streams, _signs_of(calls)))
    return made


def _fresh() -> tuple[Canvas, BytesIO]:
    for face in (TEXT, BOLD, MONO, MONO_BOLD):
        font(face)
    target = BytesIO()
    size = (A4.width / PT, A4.height / PT)
    canvas: Any = Canvas  # its published types know no initialFontName
    return canvas(
        target, pagesize=size, invariant=1, pageCompression=1, initialFontName=TEXT
    ), target


def replayed(what: Recorded) -> bytes:
    """The same drawing by the canvas's own methods."""
    canvas, target = _fresh()
    for name, args, more in what.calls:
        _PLAY[name](canvas, *args, **more)
    canvas.save()
    return target.getvalue()


def written(what: Recorded) -> bytes:
    """The finished page streams in a new canvas, with the fonts they need."""
    canvas, target = _fresh()
    document: Any = canvas
    for face, used in what.signs.items():
        used.translate(Coded(face, document._doc))
    for strokes, words in what.streams:
        canvas.addLiteral(strokes)
        canvas.addLiteral(f"BT\n{words}\nET")
        canvas.showPage()
    canvas.save()
    return target.getvalue()


def _signs_of(calls: Sequence[Call]) -> dict[str, str]:
    """The signs that each face needs."""
    signs: dict[str, set[str]] = {}
    for name, args, more in calls:
        if name == "text":
            face: str = more.get("face") or (args[3] if len(args) > 3 else TEXT)
            signs.setdefault(face, set()).update(SIGN.sub("", args[2]))
    return {face: "".join(sorted(used)) for face, used in signs.items()}


def _text(
    canvas: Canvas, x: float, y: float, words: str, face: str = TEXT, size: float = BODY,
    anchor: str = "start", width: float | None = None,
) -> None:  # fmt: skip
    canvas.setFont(face, size)
    draw = {"start": canvas.drawString, "end": canvas.drawRightString}
    draw.get(anchor, canvas.drawCentredString)(
        x / PT, (A4.height - y) / PT, plain_signs(face, words)
    )


def _turned(canvas: Canvas, x: float, y: float, words: str, face: str, size: float) -> None:
    canvas.saveState()
    canvas.translate(x / PT, (A4.height - y) / PT)
    canvas.rotate(90)
    canvas.setFont(face, size)
    canvas.drawString(0, 0, words)
    canvas.restoreState()


def _outline(
    canvas: Canvas, points: Sequence[tuple[float, float]], weight: float = RULE,
    closed: bool = False, filled: bool = False,
) -> None:  # fmt: skip
    canvas.setLineWidth(weight / PT)
    if len(points) == 2:
        (x1, y1), (x2, y2) = points
        canvas.line(x1 / PT, (A4.height - y1) / PT, x2 / PT, (A4.height - y2) / PT)
        return
    path = canvas.beginPath()
    for n, (x, y) in enumerate(points):
        (path.lineTo if n else path.moveTo)(x / PT, (A4.height - y) / PT)
    if closed:
        path.close()
    canvas.drawPath(path, stroke=1, fill=int(filled))


def _box(
    canvas: Canvas, kind: str, x: float, y: float, width: float, height: float, *_: str
) -> None:
    canvas.setLineWidth(BOX_STROKE / PT)
    canvas.rect(x / PT, (A4.height - y - height) / PT, width / PT, height / PT)


def _circle(canvas: Canvas, x: float, y: float, radius: float, weight: float = RULE) -> None:
    canvas.setLineWidth(weight / PT)
    canvas.circle(x / PT, (A4.height - y) / PT, radius / PT)


def _code(canvas: Canvas, path: str) -> None:
    canvas.addLiteral(path)


def _link(canvas: Canvas, x: float, y: float, width: float, height: float, anchor: str) -> None:
    low = (A4.height - y - height) / PT
    corners = (x / PT, low, (x + width) / PT, low + height / PT)
    file, _, _ = anchor.rpartition("#")
    if file:  # the library's own way to another file, which leads to its first page
        canvas.linkURL(file, corners, relative=0, thickness=0, kind="GoToR")
        return
    canvas.linkRect("", anchor, corners, relative=0, thickness=0)


def _anchor(canvas: Canvas, name: str, y: float) -> None:
    canvas.bookmarkPage(name, fit="XYZ", left=0, top=(A4.height - y) / PT)


def _entry(canvas: Canvas, title: str, level: int, y: float) -> None:
    canvas.bookmarkPage(title, fit="XYZ", left=0, top=(A4.height - y) / PT)
    canvas.addOutlineEntry(title, title, level, closed=0)


def _end_page(canvas: Canvas) -> None:
    canvas.showPage()


_PLAY: dict[str, Any] = {
    "text": _text,
    "turned": _turned,
    "outline": _outline,
    "circle": _circle,
    "box": _box,
    "code": _code,
    "link": _link,
    "anchor": _anchor,
    "entry": _entry,
    "end_page": _end_page,
}
