"""Styled text and a width, in; lines of placed pieces that fit the width, out.

Words part at spaces; a number keeps its unit and a linked value stays in one piece while the
width allows. A word wider than the line is cut between letters: nothing is ever left out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from generator.draw.fonts import BOLD, TEXT, in_figures, measured
from generator.draw.paper import BODY, CAPTION, PT
from generator.draw.parse import Run

if TYPE_CHECKING:
    from generator.draw.pen import Pen

MARK = 8.0
"""Letter size (pt) of the mark behind a value that leads to its working."""

_LOW_SIZE, _LOW_DROP = 0.72, 0.16  # of a subscript, in sizes of the letter that it belongs to
_SLACK = 1e-6
_UNIT = re.compile(
    r"(?<=\d) (?=(?:[a-zA-Zµμ°Ω]{1,3}|lbf·in|turns|N·m|%|1/[a-zA-Z°]{1,3})(?:[\s.,;:)]|$))"
    r"|(?<=bar) (?=[ga]\b)"
)


class Span(NamedTuple):
    """A stretch of text in one style; drop is how far below the base line it stands (mm)."""

    text: str
    face: str
    size: float
    link: str = ""
    drop: float = 0.0


class Placed(NamedTuple):
    """A stretch of one line: where it starts, what it says, how wide it is."""

    x: float
    span: Span
    width: float


Word = list[tuple[Span, float]]
Line = tuple[Placed, ...]


@dataclass(frozen=True, slots=True)
class Text:
    """Lines of text ready to be drawn: the size is in points, all else in millimetres."""

    lines: tuple[Line, ...]
    size: float
    leading: float

    @property
    def height(self) -> float:
        return len(self.lines) * self.leading

    @property
    def width(self) -> float:
        return max((line[-1].x + line[-1].width for line in self.lines if line), default=0.0)

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Draw with the top left corner at x, y."""
        base = y + self.leading / 2 + 0.34 * self.size * PT
        for line in self.lines:
            for placed in line:
                span = placed.span
                pen.text(
                    x + placed.x, base + span.drop, span.text, span.face, span.size,
                    width=placed.width,
                )  # fmt: skip
            for left, right, link in _linked(line):
                height = self.size * PT
                pen.link(x + left, base - 0.8 * height, right - left, height, link)
            base += self.leading


def _linked(line: Line) -> list[tuple[float, float, str]]:
    """From where to where a line leads to an anchor: a value and its mark are one link."""
    links: list[tuple[float, float, str]] = []
    for placed in line:
        if placed.span.link:
            left, right = placed.x, placed.x + placed.width
            if links and links[-1][2] == placed.span.link and abs(links[-1][1] - left) < _SLACK:
                left = links.pop()[0]
            links.append((left, right, placed.span.link))
    return links


def kept_together(text: str) -> str:
    """The text with the space between a number and its unit made unbreakable."""
    return _UNIT.sub("\u00a0", text) if " " in text else text


def mark_of(run: Run) -> str:
    """The number of the given or the calculation that a run leads to, such as c3."""
    return run.link.rpartition("#")[2]


def spans(
    words: str | Sequence[Run], size: float = BODY, face: str = TEXT, bold: str = BOLD
) -> list[Span]:
    """Runs of the sheet as styled spans: behind a linked value stands the mark of its working, in
    small letters and square brackets; a link that is the mark already gets none."""
    if isinstance(words, str):
        return [Span(kept_together(words), face, size)]
    made: list[Span] = []
    for run in words:
        style = in_figures(run.text, run.bold) if run.figure else bold if run.bold else face
        if run.low:
            small = max(CAPTION, size * _LOW_SIZE)
            made.append(Span(run.text, style, small, run.link, size * _LOW_DROP * PT))
        elif run.link:
            made.append(Span(run.text.replace(" ", "\u00a0"), style, size, run.link))
            if (mark := mark_of(run)) != run.text:
                made.append(Span(f"\u00a0[{mark}]", face, min(MARK, size), run.link))
        else:
            made.append(Span(kept_together(run.text), style, size))
    return made


@lru_cache(maxsize=1 << 12)
def typeset(
    words: str | tuple[Run, ...],
    width: float,
    size: float = BODY,
    face: str = TEXT,
    leading: float = 1.28,
    bold: str = BOLD,
) -> Text:
    """A text broken to a width (mm) at a letter size (pt); leading is in letter sizes.

    Kept, because captions and headings come again on every page and at every operation.
    """
    lines = tuple(broken(spans(words, size, face, bold), width))
    return Text(lines, size, size * PT * leading)


def one_line(words: str | Sequence[Run], size: float = BODY, face: str = TEXT) -> float:
    """Width in millimetres of a text that is not broken."""
    return sum(measured(s.face, s.size, s.text) for s in spans(words, size, face))


def widest_word(words: str | Sequence[Run], size: float = BODY, face: str = TEXT) -> float:
    """Width in millimetres of the widest word of a text."""
    found = _words(spans(words, size, face))
    return max((sum(w for _, w in word) for word in found if word), default=0.0)


def widest_part(words: str | Sequence[Run], size: float = BODY, face: str = TEXT) -> float:
    """Width in millimetres of the widest word where a number leaves its unit and a value its mark:
    the least that a text may be broken to without being cut between letters."""
    return max((_wide(w) for w in _words(map(_loose, spans(words, size, face))) if w), default=0.0)


def _loose(span: Span) -> Span:
    return span._replace(text=span.text.replace("\u00a0", " "))


def broken(text: Iterable[Span], width: float) -> Iterator[Line]:
    """Lines no wider than the width, greedily filled."""
    text = list(text)
    if whole_line := _in_one_line(text, width):
        yield whole_line
        return
    line: list[Word] = []
    used = 0.0
    for whole in _words(text):
        if whole is None:
            yield _joined(line)
            line, used = [], 0.0
            continue
        for word in (whole,) if _wide(whole) <= width + _SLACK else _fitting(whole, width):
            wide = _wide(word)
            space = _space(line[-1]) if line else 0.0
            if line and used + space + wide > width + _SLACK:
                yield _joined(line)
                line, used, space = [], 0.0, 0.0
            line.append(word)
            used += space + wide
    if line:
        yield _joined(line)


def _in_one_line(text: Sequence[Span], width: float) -> Line | None:
    """The spans as they stand, where they need no breaking: most cells, labels and instructions do
    not. None too where a space begins or ends them, or more than one stands together."""
    line: list[Placed] = []
    x, spaced = 0.0, False
    for span in text:
        words = span.text
        if "\n" in words or "  " in words or not words or words == " ":
            return None
        begins, ends = words[0] == " ", words[-1] == " "
        if line:
            last = line[-1].span
            if last[1:] == span[1:] or (spaced and begins):
                return None
            x += measured(last.face, last.size, " ") if spaced or begins else 0.0
        elif begins:
            return None
        if begins or ends:
            span = Span(words.strip(" "), *span[1:])
        wide = measured(span.face, span.size, span.text)
        line.append(Placed(x, span, wide))
        x += wide
        spaced = ends
    return tuple(line) if line and not spaced and x <= width + _SLACK else None


def _wide(word: Word) -> float:
    return word[0][1] if len(word) == 1 else sum(width for _, width in word)


def _space(word: Word) -> float:
    last = word[-1][0]
    return measured(last.face, last.size, " ")


def _words(text: Iterable[Span]) -> Iterator[Word | None]:
    """The words of the spans, a word being all that no space parts; None is a forced line end."""
    word: Word = []
    for span in text:
        for number, row in enumerate(span.text.split("\n")):
            if number:
                if word:
                    yield word
                yield None
                word = []
            for place, piece in enumerate(row.split(" ")):
                if place and word:
                    yield word
                    word = []
                if piece:
                    width = measured(span.face, span.size, piece)
                    word.append((Span(piece, *span[1:]), width))
    if word:
        yield word


def _fitting(word: Word, width: float) -> Iterator[Word]:
    """The word itself, or parts of it that fit: first at its unbreakable spaces, then anywhere."""
    if _wide(word) <= width + _SLACK:
        yield word
        return
    if any("\u00a0" in span.text for span, _ in word):
        for part in _words(_loose(span) for span, _ in word):
            yield from _fitting(part or [], width)
        return
    yield from _chopped(word, width)


def _chopped(word: Word, width: float) -> Iterator[Word]:
    part: Word = []
    used = 0.0
    for span, _ in word:
        for sign in span.text:
            wide = measured(span.face, span.size, sign)
            if part and used + wide > width + _SLACK:
                yield _gathered(part)
                part, used = [], 0.0
            part.append((span._replace(text=sign), wide))
            used += wide
    if part:
        yield _gathered(part)


def _gathered(letters: Word) -> Word:
    word: Word = []
    for span, width in letters:
        if word and word[-1][0][1:] == span[1:]:
            last, wide = word[-1]
            word[-1] = (last._replace(text=last.text + span.text), wide + width)
        else:
            word.append((span, width))
    return word


def _joined(line: list[Word]) -> Line:
    """One placed stretch for each run of equal style, spaces included."""
    out: list[Placed] = []
    x = 0.0
    for number, word in enumerate(line):
        gap = _space(line[number - 1]) if number else 0.0
        for span, width in word:
            last = out[-1] if out else None
            if last and last.span[1:] == span[1:]:
                text = last.span.text + (" " if gap else "") + span.text
                out[-1] = Placed(last.x, Span(text, *span[1:]), last.width + gap + width)
            else:
                out.append(Placed(x + gap, span, width))
            x += gap + width
            gap = 0.0
    return tuple(out)
