"""Words, strokes and boxes in millimetres from the top left corner, in; PDF operators, out.

Everything drawn passes here: text is measured and must have its signs, nothing leaves the frame
or enters the corners but their codes, and a box is drawn and put on the map in one act. Inside a
window strokes are cut at its edges, and words that do not lie wholly inside are left out and named.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from generator.draw.codes import CODE_SIDE, squares
from generator.draw.fonts import SIGN, SIZE, TEXT, Coded, measured
from generator.draw.paper import BODY, BOX_STROKE, CODE_MODULE, CORNER, CORNER_AT, PT, RULE, Paper
from generator.draw.places import Places
from generator.draw.signs import SIGNS
from generator.findings import Refusal

LEAST = {
    "write": (25.0, 8.5),
    "date": (25.0, 8.5),
    "stamp": (19.0, 19.0),
    "check": (5.5, 5.5),
    "clock": (11.0, 8.5),
}
"""Least width and height (mm) of a box by its kind."""

_NEAR = 0.05
_CORNER = CORNER_AT + CORNER
_BEND = 0.5523  # where a circle's control points stand, in radii


@dataclass(frozen=True, slots=True)
class Box:
    """A place to write, or a code: millimetres from the top left corner of its page."""

    page: int
    kind: str
    operation: str
    row: str
    x: float
    y: float
    width: float
    height: float
    meaning: str


def room_of_text(
    x: float, y: float, words: str, face: str, size: float, anchor: str = "start"
) -> tuple[float, float, float, float]:
    """Left, top, width and height of a line of text as the pen would draw it."""
    width = measured(face, size, words)
    x -= {"start": 0.0, "middle": width / 2, "end": width}[anchor]
    return x, y - 0.72 * size * PT, width, 0.94 * size * PT


class Pen:
    """Draws on the pages of one canvas, one page after the other.

    page: the number of its first page in the file; sheet: the number in the pack of the page that
    it draws, which the page's frame says. file: the name that a sheet has as a file of
    its own, where it is drawn into one file with others, and inside: the names of all of these.
    places: those of the file, where several pens draw on it.
    """

    def __init__(
        self,
        canvas: Canvas,
        paper: Paper,
        page: int = 1,
        file: str = "",
        inside: Collection[str] = (),
        places: Places | None = None,
    ) -> None:
        self.paper = paper
        self._height = paper.height
        self.page = page
        self.sheet = page
        self.operation = ""
        self.boxes: list[Box] = []
        self.codes: list[Box] = []
        self._file, self._inside = file, inside
        self._canvas = canvas
        self._places = places or Places(canvas)
        self._strokes: list[str] = []
        self._words: list[str] = []
        self._coded: dict[str, Coded] = {}
        self._weight = 0.0
        self._font: tuple[str, float] = ("", 0.0)
        self._edges = (paper.left, 0.0, paper.right, paper.height)
        self._named: list[str] = []
        self._left_out: list[str] | None = None

    def within(self, top: float, bottom: float) -> None:
        """Allow drawing between these heights only, and between the side margins."""
        self._edges = (self.paper.left, top, self.paper.right, bottom)

    @contextmanager
    def between(self, left: float, right: float) -> Iterator[None]:
        """Allow drawing between these places over the whole page, as on a back, whose margins are
        mirrored."""
        kept = self._edges
        self._edges = (left, 0.0, right, self.paper.height)
        yield
        self._edges = kept

    @contextmanager
    def in_margin(self, x: float) -> Iterator[None]:
        """Allow strokes and words in the left margin too, from x on, over the whole page."""
        kept = self._edges
        self._edges = (x, 0.0, kept[2], self.paper.height)
        yield
        self._edges = kept

    @contextmanager
    def window(self, x: float, y: float, width: float, height: float) -> Iterator[list[str]]:
        """A window on something larger. What is drawn inside it may reach over its edges: strokes
        are cut there, words that do not lie wholly inside are not drawn. Gives the list of these.
        No place to write may stand in it."""
        self._claim(x, y, width, height, "a window")
        kept, self._edges = self._edges, (x, y, x + width, y + height)
        left_out: list[str] = []
        self._left_out = left_out
        low = self._at(x, y + height)
        self._strokes.append(f"q {low} {width / PT:.3f} {height / PT:.3f} re W n")
        yield left_out
        self._strokes.append("Q")
        self._weight = 0.0  # what it was before the window is not worth remembering
        self._edges, self._left_out = kept, None

    def text(
        self,
        x: float,
        y: float,
        words: str,
        face: str = TEXT,
        size: float = BODY,
        anchor: str = "start",
        width: float | None = None,
    ) -> None:
        """One line of text; y is the base line, x the side or the middle that anchor names.

        width: its width (mm) where that is measured already.
        """
        if width is None:
            width = measured(face, size, words)
        if anchor != "start":
            x -= width if anchor == "end" else width / 2
        top, height = y - 0.72 * size * PT, 0.94 * size * PT
        if self._left_out is not None and not self._within(x, top, width, height):
            self._left_out.append(words)
            return
        self._claim(x, top, width, height, words)
        if not words.isascii() and SIGN.search(words):
            self._with_signs(x, y, words, face, size)
        else:
            at = f"1 0 0 1 {x / PT:.2f} {(self._height - y) / PT:.2f} Tm"
            self._say(at, words, face, size)

    def turned(self, x: float, y: float, words: str, face: str, size: float) -> None:
        """Text that reads upward; x is the base line, y where it starts."""
        width = measured(face, size, words)
        self._claim(x - 0.72 * size * PT, y - width, 0.94 * size * PT, width, words)
        at = f"0 1 -1 0 {x / PT:.2f} {(self.paper.height - y) / PT:.2f} Tm"
        self._say(at, words, face, size)

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float = RULE) -> None:
        """A straight stroke."""
        self.outline(((x1, y1), (x2, y2)), weight)

    def outline(
        self,
        points: Sequence[tuple[float, float]],
        weight: float = RULE,
        closed: bool = False,
        filled: bool = False,
    ) -> None:
        """Straight strokes from point to point; filled makes the inside black."""
        self._claim_points(points)
        self._draw_points(points, weight, closed, filled)

    def frame(self, x: float, y: float, width: float, height: float, weight: float = RULE) -> None:
        """A frame that is no place to write: drawn as an outline, never as a rectangle."""
        across, down = x + width, y + height
        self.outline(((x, y), (across, y), (across, down), (x, down)), weight, closed=True)

    def circle(self, x: float, y: float, radius: float, weight: float = RULE) -> None:
        """A stroked circle."""
        if self._left_out is None:
            self._claim(x - radius, y - radius, 2 * radius, 2 * radius, "a circle")
        self._set_weight(weight)
        at, r, b = self._at, radius, radius * _BEND
        self._strokes.append(
            f"{at(x + r, y)} m "
            f"{at(x + r, y - b)} {at(x + b, y - r)} {at(x, y - r)} c "
            f"{at(x - b, y - r)} {at(x - r, y - b)} {at(x - r, y)} c "
            f"{at(x - r, y + b)} {at(x - b, y + r)} {at(x, y + r)} c "
            f"{at(x + b, y + r)} {at(x + r, y + b)} {at(x + r, y)} c s"
        )

    def box(
        self, kind: str, x: float, y: float, width: float, height: float, row: str, meaning: str
    ) -> None:
        """A place to write, drawn and put on the map; refuses one too small for pen and glove."""
        least = LEAST[kind]
        if width < least[0] - 1e-6 or height < least[1] - 1e-6:
            right = f"at least {least[0]:g} x {least[1]:g} mm"
            raise Refusal("layout", f"a {kind} box of {width:.1f} x {height:.1f} mm", right)
        if self._left_out is not None:
            raise Refusal(
                "layout", f"{meaning!r} in a window", "a box outside it: none is ever cut"
            )
        self._claim(x, y, width, height, meaning)
        self._set_weight(BOX_STROKE)
        self._strokes.append(f"{self._at(x, y + height)} {width / PT:.3f} {height / PT:.3f} re S")
        at = self._true(x, y, width, height)
        self.boxes.append(Box(self.page, kind, self.operation, row, *at, meaning))

    def code(self, corner: str, words: str) -> None:
        """The code of a corner such as "top left", drawn and put on the map."""
        far = CORNER_AT + CODE_SIDE
        x = CORNER_AT if corner.endswith("left") else self.paper.width - far
        y = CORNER_AT if corner.startswith("top") else self.paper.height - far
        scale = f"{CODE_MODULE / PT:.5f}"
        self._strokes.append(f"q {scale} 0 0 -{scale} {self._at(x, y)} cm\n{squares(words)}f Q")
        at = self._true(x, y, CODE_SIDE, CODE_SIDE)
        self.codes.append(Box(self.page, "code", "", corner, *at, words))

    def _true(self, *lengths: float) -> tuple[float, float, float, float]:
        """Left, top, width and height on the paper as it is printed."""
        x, y, width, height = lengths
        by = self.paper.scale
        return round(x * by, 3), round(y * by, 3), round(width * by, 3), round(height * by, 3)

    def link(self, x: float, y: float, width: float, height: float, anchor: str) -> None:
        """Lead from this rectangle to an anchor, or to one of another file: "file.pdf#c3"."""
        low = (self.paper.height - y - height) / PT
        scale = self.paper.scale
        corners = (
            x / PT * scale, low * scale, (x + width) / PT * scale, (low + height / PT) * scale,
        )  # fmt: skip
        file, _, name = anchor.rpartition("#")
        if file and file not in self._inside:
            self._places.link_to_file(corners, file, name)
        else:
            self._places.link(corners, anchor if file else self._place(anchor))

    def anchor(self, name: str, y: float) -> None:
        """Make this height of the page the place that links to the name lead to."""
        self._named.append(name)
        self._places.name(self._place(name), self._top(y))

    def _place(self, name: str) -> str:
        """Two sheets in one file may have anchors of one name."""
        return f"{self._file}#{name}" if self._file else name

    def _top(self, y: float) -> float:
        return (self.paper.height - y) / PT * self.paper.scale

    def entry(self, title: str, level: int, y: float) -> None:
        """An entry in the outline that leads to this height of the page."""
        # In a file of several sheets their names are the highest level.
        self._places.entry(title, level + bool(self._file), self._top(y))

    def chapter(self, title: str) -> None:
        """The entry in the outline of a sheet among several, at the top of its first page."""
        self._places.entry(title, 0, self._top(0.0))

    def name_places(self) -> None:
        """Let other files lead to the anchors by their names: to be said once, after the last page,
        and only of a sheet in a file of its own."""
        self._places.name_for_others(self._named)

    def end_page(self) -> None:
        """Write the page out; the next stroke stands on a new one."""
        scale = self.paper.scale
        larger = f"{scale:.6f} 0 0 {scale:.6f} 0 0 cm\n" if scale != 1.0 else ""
        self._canvas.addLiteral(larger + "1 J 1 j\n" + "\n".join(self._strokes))
        self._canvas.addLiteral("BT\n" + "\n".join(self._words) + "\nET")
        document = self._canvas._doc  # type: ignore[attr-defined]
        name = document.thisPageName()
        self._canvas.showPage()
        # All pages need the same: the library asks each of them what it is.
        fonts, version = document.idToObjectNumberAndVersion["BasicFonts"]
        resources = f"<< /Font {fonts} {version} R /ProcSet [ /PDF /Text ] >>"
        document.idToObject[name].Resources = resources
        self._strokes, self._words = [], []
        self._weight, self._font = 0.0, ("", 0.0)
        self.page += 1

    def _at(self, x: float, y: float) -> str:
        return f"{x / PT:.3f} {(self._height - y) / PT:.3f}"

    def _set_weight(self, weight: float) -> None:
        if weight != self._weight:
            self._strokes.append(f"{weight / PT:.3f} w")
            self._weight = weight

    def _draw_points(
        self, points: Sequence[tuple[float, float]], weight: float, closed: bool, filled: bool
    ) -> None:
        self._set_weight(weight)
        at = self._at
        first, *others = [at(x, y) for x, y in points]
        end = ("b" if filled else "s") if closed else ("f" if filled else "S")
        self._strokes.append(f"{first} m {' l '.join(others)} l {end}")

    def _say(self, at: str, words: str, face: str, size: float) -> None:
        coded = self._coded.get(face)
        if coded is None:
            coded = self._coded[face] = Coded(face, self._canvas._doc)  # type: ignore[attr-defined]
        if (face, size) != self._font:
            self._words.append(f"{coded.name} {size:g} Tf")
            self._font = face, size
        said = words.translate(coded)
        if SIZE in said:
            said = said.replace(SIZE, f"{size:g}")
        self._words.append(f"{at} ({said}) Tj")

    def _with_signs(self, x: float, y: float, words: str, face: str, size: float) -> None:
        for part in SIGN.split(words):
            if part in SIGNS:
                self._sign(x, y, part, size)
            elif part:
                at = f"1 0 0 1 {x / PT:.2f} {(self._height - y) / PT:.2f} Tm"
                self._say(at, part, face, size)
            x += measured(face, size, part) if part else 0.0

    def _sign(self, x: float, y: float, sign: str, size: float) -> None:
        em = size * PT
        for stroke in SIGNS[sign].strokes:
            points = [(x + px * em, y - py * em) for px, py in stroke.points]
            self._draw_points(points, 0.075 * em, stroke.closed, stroke.filled)

    def _claim_points(self, points: Sequence[tuple[float, float]]) -> None:
        if self._left_out is not None:
            return
        if len(points) == 2:
            (left, top), (right, low) = points
            if left > right:
                left, right = right, left
            if top > low:
                top, low = low, top
        else:
            xs, ys = zip(*points, strict=True)
            left, top, right, low = min(xs), min(ys), max(xs), max(ys)
        self._claim(left, top, right - left, low - top, "a stroke")

    def _within(self, x: float, y: float, width: float, height: float) -> bool:
        left, top, right, bottom = self._edges
        across = x >= left - _NEAR and x + width <= right + _NEAR
        return across and y >= top - _NEAR and y + height <= bottom + _NEAR

    def _claim(self, x: float, y: float, width: float, height: float, what: str) -> None:
        left, top, right, bottom = self._edges
        end, low = x + width, y + height
        if x < left - _NEAR or end > right + _NEAR or y < top - _NEAR or low > bottom + _NEAR:
            raise Refusal(
                "layout",
                f"{what!r} at {x:.1f}, {y:.1f} mm of page {self.page} leaves the frame",
                f"between {left:.1f}, {top:.1f} and {right:.1f}, {bottom:.1f} mm; shorter words",
            )
        if (y < _CORNER or low > self._height - _CORNER) and (
            x < _CORNER or end > self.paper.width - _CORNER
        ):
            raise Refusal(
                "layout", f"{what!r} enters a corner of page {self.page}", "shorter words"
            )
