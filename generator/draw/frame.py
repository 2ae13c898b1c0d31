"""The frame of a sheet, in; the header strip, the foot and the codes of every page, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.draw import marks
from generator.draw.breaking import Text, one_line, typeset
from generator.draw.codes import CORNERS, words_of_page
from generator.draw.fonts import BOLD, MONO, MONO_BOLD, TEXT, measured
from generator.draw.paper import BOX_HEIGHT, CAPTION, HEAVY, PT, TABLE, Paper
from generator.draw.pen import Pen
from generator.draw.sheet import Frame
from generator.findings import Refusal

_TOP, _FIELD_SIZE, _FIELD_GAP = 8.0, TABLE, 6.0
_SMALL_PRINT = 7.5
_SHEET_ROOM = 33.0  # for "sheet 100 of 100" and a space

_MEANINGS = "WARNING: injury. CAUTION: damage. NOTE: help. "
_FIRST = "Approved data, local code and the licensed inspector come before this sheet."
_OFF_CODES = 0.4  # the white round a code is free of the rule above it
_STOPPED = 14.2  # height of the line that says where work stopped


@dataclass(frozen=True)
class PageFrame:
    """Header strip and foot, laid out once for all pages of a sheet.

    worked: work is written down on the sheet, so its foot says where it stopped.
    """

    frame: Frame
    paper: Paper
    title: Text
    fields: tuple[tuple[tuple[float, str, str], ...], ...]
    """Lines of (place, words, face)."""
    units: Text
    worked: bool = True

    @property
    def draft(self) -> bool:
        return bool(self.frame["draft"])

    @property
    def rule(self) -> float:
        """Height of the rule under the header."""
        return _TOP + 14.6 + 6.4 * len(self.fields)

    @property
    def top(self) -> float:
        """Where the content begins."""
        return self.rule + 2.2

    @property
    def bottom(self) -> float:
        """Where the content ends."""
        return self.paper.height - 20.0 - (_STOPPED if self.worked else 0.0) - 1.8

    def draw(self, pen: Pen, number: int, count: int) -> None:
        """Draw header, foot and codes of one page: the number and the count are of the pack."""
        pen.within(_TOP - 1.0, self.paper.height - 7.0)
        self._header(pen, number, count)
        self._foot(pen)
        words = words_of_page(self.frame, number, count)
        for corner, short in CORNERS.items():
            pen.code(corner, f"{words} {short}")
        pen.within(self.top - 0.5, self.bottom + 0.5)

    def _header(self, pen: Pen, number: int, count: int) -> None:
        x, end = self.paper.left, self.paper.beside_corner
        pen.text(x, _TOP + 3.0, self.frame["kind"], BOLD, TABLE)
        after = x + one_line(self.frame["kind"], TABLE, BOLD) + 5.0
        pen.text(after, _TOP + 3.0, self.frame["trade"], size=TABLE)
        pen.text(end, _TOP + 3.0, f"sheet {number} of {count}", BOLD, TABLE, anchor="end")
        pen.text(
            end - _SHEET_ROOM, _TOP + 3.0, self.frame["fingerprint"], MONO, TABLE, anchor="end"
        )
        self.title.draw(pen, x, _TOP + 4.6 + (8.4 - self.title.height) / 2)
        self._serial(pen, end)
        for line, fields in enumerate(self.fields):
            for place, words, face in fields:
                base = _TOP + 18.0 + line * 6.4
                pen.text(x + place, base, words, face, _FIELD_SIZE)
        if self.frame["hand"] != "none":
            _hand(pen, x, _TOP + 13.6, self.frame["hand"])
        pen.line(x, self.rule, self.paper.right, self.rule, HEAVY)

    def _serial(self, pen: Pen, end: float) -> None:
        """The serial, large; on a draft the words that forbid to work to it, framed."""
        words = _big_words(self.frame)
        size = _big_size(words, self.draft)
        face = BOLD if self.draft else MONO_BOLD
        width = measured(face, size, words)
        inset = 2.0 if self.draft else 0.0
        pen.text(end - inset, _TOP + 8.8 + 0.35 * size * PT, words, face, size, anchor="end")
        if self.draft:
            pen.frame(end - width - 2 * inset, _TOP + 5.0, width + 2 * inset, 7.6, HEAVY)

    def _foot(self, pen: Pen) -> None:
        x, base = self.paper.left, self.paper.height - 20.0
        top = base - (_STOPPED if self.worked else _OFF_CODES)
        pen.line(x, top, self.paper.right, top, HEAVY)
        if self.worked:
            _stopped_here(pen, x, top + 4.4, self.paper.right)
        end = self.paper.beside_corner
        first, pitch = (3.2, 3.7) if len(self.units.lines) < 2 else (2.7, 3.0)
        pen.text(x, base + first, f"{_MEANINGS}{_FIRST}", size=_SMALL_PRINT)
        control = base + first + pitch
        pen.text(x, control, self._control(), BOLD if self.draft else TEXT, _SMALL_PRINT)
        for place, line in enumerate(self.units.lines, start=1):
            words = "".join(placed.span.text for placed in line)
            pen.text(x, control + place * pitch, words, size=_SMALL_PRINT)
        below = control + pitch * len(self.units.lines)
        pen.text(end, below, _printed(self.frame), size=_SMALL_PRINT, anchor="end")

    def _control(self) -> str:
        if self.draft:
            what = "draft" if self.frame.told("serial") == "DRAFT" else "copy"
            return f"A {what} is never worked to."
        serial = self.frame.told("serial")
        if not serial:
            return "Nothing is worked to this sheet: it has no serial."
        return f"Uncontrolled unless {serial} is in the register and the issue signature is in ink."


def page_frame(frame: Frame, paper: Paper, worked: bool = True) -> PageFrame:
    """Lay out header and foot; refuses a title or fields that do not fit.

    worked: whether work is written down on it.
    """
    words = _big_words(frame)
    draft = bool(frame["draft"])
    face = BOLD if draft else MONO_BOLD
    _check_first_line(frame, paper)
    taken = measured(face, _big_size(words, draft), words) + 10.0
    room = paper.beside_corner - paper.left - taken
    units = _units(frame, paper)
    title = _title(frame["title"], room)
    return PageFrame(frame, paper, title, _fields(frame, paper), units, worked)


def _check_first_line(frame: Frame, paper: Paper) -> None:
    taken = one_line(frame["kind"], TABLE, BOLD) + 5.0 + one_line(frame["trade"], TABLE)
    room = paper.beside_corner - paper.left - _SHEET_ROOM - 4.0
    if taken + measured(MONO, TABLE, frame["fingerprint"]) > room:
        raise Refusal(
            "layout", f"trade {frame['trade']!r} is too long for the header", "fewer words"
        )


def _units(frame: Frame, paper: Paper) -> Text:
    """The sentence about units, beside the day of printing; in two lines where it is long."""
    room = paper.beside_corner - paper.left - one_line(_printed(frame), _SMALL_PRINT) - 3.0
    text = typeset(frame["units"], room, _SMALL_PRINT, TEXT)
    if len(text.lines) > 2:
        wrong = f"{frame['units']!r} does not fit the foot of a page"
        raise Refusal("layout", wrong, "shorter units in workshop.yaml")
    return text


def _printed(frame: Frame) -> str:
    return f"printed {frame['printed']}"


def _big_words(frame: Frame) -> str:
    return frame["draft"] or frame.told("serial")


def _big_size(words: str, draft: bool) -> float:
    return 15.0 if draft else 18.0 if len(words) <= 12 else 12.0


def _title(words: str, room: float) -> Text:
    for size in (18.0, 16.0, 14.0, 12.0):
        text = typeset(words, room, size, BOLD, 1.15)
        if text.height <= 8.4:
            return text
    text = typeset(words, room, 11.0, BOLD, 1.08)
    if text.height > 9.0:
        raise Refusal("layout", f"the title {words!r} is longer than two lines", "a shorter title")
    return text


def _fields(frame: Frame, paper: Paper) -> tuple[tuple[tuple[float, str, str], ...], ...]:
    """Process, part, serial, airframe and fingerprint, on as many lines as they need."""
    begin = 0.0 if frame["hand"] == "none" else _hand_width(frame["hand"]) + _FIELD_GAP
    serials = frame["part serial"]
    named = "serials" if "," in serials else "serial"
    fields = [
        ("process", f"{frame['process']} revision {frame['revision']}", TEXT),
        ("part", f"part {frame['part']}, {named} {serials}", TEXT),
        ("airframe", f"airframe {frame['airframe']}", TEXT),
        ("replaces", f"REPLACES {frame['replaces']}", BOLD),
    ]
    lines: list[list[tuple[float, str, str]]] = [[]]
    at = begin
    told = [(words, face) for key, words, face in fields if frame.told(key)]
    for words, face in _short_enough(told, paper.content):
        width = measured(face, _FIELD_SIZE, words)
        if lines[-1] and at + width > paper.content:
            lines.append([])
            at = 0.0
        if at + width > paper.content:
            raise Refusal("layout", f"{words!r} is too long for the header", "a shorter text")
        lines[-1].append((at, words, face))
        at += width + _FIELD_GAP
    return tuple(tuple(line) for line in lines if line)


def _short_enough(fields: Iterable[tuple[str, str]], room: float) -> Iterator[tuple[str, str]]:
    """The fields; the serials of a set that are too long for a line part behind one of them."""
    for words, face in fields:
        line, *others = words.split(", ")
        for each in others:
            if measured(face, _FIELD_SIZE, f"{line}, {each},") > room:
                yield f"{line},", face
                line = each
            else:
                line += f", {each}"
        yield line, face


def _hand_width(hand: str) -> float:
    return one_line(hand, 12.0, BOLD) + 5.0 + 2.0 + 6.0 + 1.2 + one_line("BOW", CAPTION, BOLD)


def _hand(pen: Pen, x: float, y: float, hand: str) -> None:
    """The hand in a box, and the arrow that points to the bow as one looks at that side from
    outside: to the left on the port side, to the right on the starboard side."""
    width = one_line(hand, 12.0, BOLD) + 5.0
    pen.frame(x + HEAVY / 2, y, width - HEAVY, 6.2, HEAVY)
    pen.text(x + width / 2, y + 3.1 + 0.345 * 12.0 * PT, hand, BOLD, 12.0, anchor="middle")
    at, middle = x + width + 2.0, y + 3.1
    word, base = one_line("BOW", CAPTION, BOLD), middle + 0.345 * CAPTION * PT
    if hand == "PORT":
        marks.arrow(pen, at, middle, 6.0, to_left=True)
        pen.text(at + 7.2, base, "BOW", BOLD, CAPTION)
    else:
        pen.text(at, base, "BOW", BOLD, CAPTION)
        marks.arrow(pen, at + word + 1.2, middle, 6.0, to_left=False)


def _stopped_here(pen: Pen, x: float, y: float, end: float) -> None:
    """The line that says where work stopped, with its captions above the boxes."""
    pen.text(x, y + BOX_HEIGHT / 2 - 0.4, "Stopped", BOLD, TABLE)
    pen.text(x, y + BOX_HEIGHT / 2 + 4.0, "here", BOLD, TABLE)
    rest = end - x - 20.0 - 32.0 - 25.0 - 25.0 - 3 * 2.0
    at = x + 20.0
    for caption, kind, width in (
        ("last operation complete", "write", 32.0),
        ("left as", "write", rest),
        ("stamp or initials", "write", 25.0),
        ("date YYYY-MM-DD", "date", 25.0),
    ):
        pen.text(at, y - 1.0, caption, size=CAPTION)
        pen.box(kind, at, y, width, BOX_HEIGHT, "stopped here", caption)
        at += width + 2.0
