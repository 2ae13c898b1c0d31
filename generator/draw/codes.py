"""The frame of a sheet and a page number, in; what the page's codes say, and their squares, out.

    WM1 T6-P-0410 A-0042 TRAVELLER 3/12 C35E9B25F54C TL

The format, the process, the serial or DRAFT, the kind of sheet, the page of the pack (3B/12 is the
back of page 3), the short fingerprint, the corner: seven words, "-" where a sheet has none. So a
scanned page says by itself what it is and which way up it lies, and one corner may be lost.
"""

from __future__ import annotations

import re

from generator.draw.paper import CODE_MODULE
from generator.draw.qr import SIDE, modules_of
from generator.draw.sheet import Frame

CORNERS = {"top left": "TL", "top right": "TR", "bottom left": "BL", "bottom right": "BR"}
"""The corners of a page, and the word for each in its code."""

CODE_SIDE = SIDE * CODE_MODULE
"""Side of a code without the white round it (mm)."""

_FORMAT = "WM1"
_RUN = re.compile("1+")


def words_of_page(frame: Frame, number: int, count: int, back: bool = False) -> str:
    """What the codes of a page say, but for the corner; back: of the back of that page."""
    words = (
        _FORMAT, frame.told("process"), frame.told("serial"), frame["kind"],
        f"{number}{'B' if back else ''}/{count}", frame["fingerprint"].replace(" ", ""),
    )  # fmt: skip
    return " ".join(word.replace(" ", "-").upper() or "-" for word in words)


def squares(words: str) -> str:
    """The black of a code as rectangles of a PDF path, in modules: x and y of the top left, width,
    height. The squares in three corners are the same in every code."""
    rows = zip(_PARTS, modules_of(words).splitlines(), strict=True)
    first, second = _CUTS
    return _FINDERS + "".join(
        [
            left[row[:first]] + middle[row[first:second]] + right[row[second:]]
            for (left, middle, right), row in rows
        ]
    )


class _Part(dict[str, str]):
    """The rectangles of a part of a row for each way in which its modules may be black, kept once
    they are asked for."""

    def __init__(self, x: int, y: int) -> None:
        super().__init__()
        self._x, self._y = x, y

    def __missing__(self, modules: str) -> str:
        spans = ((self._x + run.start(), self._x + run.end()) for run in _RUN.finditer(modules))
        seen = ((x, end) for x, end in spans if not _in_finder(x, self._y))
        made = self[modules] = "".join(f"{x} {self._y} {end - x} 1 re\n" for x, end in seen)
        return made


def _in_finder(x: int, y: int) -> bool:
    """Whether a module stands in the square of a corner; white parts these from all others."""
    far = SIDE - _FINDER
    return (y < _FINDER and not _FINDER <= x < far) or (y >= far and x < _FINDER)


def _finder(x: int, y: int) -> str:
    """A ring and the square in it, as five rectangles."""
    parts = ((0, 0, 7, 1), (0, 6, 7, 1), (0, 1, 1, 5), (6, 1, 1, 5), (2, 2, 3, 3))
    return "".join(f"{x + dx} {y + dy} {wide} {high} re\n" for dx, dy, wide, high in parts)


_FINDER = 7
_FINDERS = _finder(0, 0) + _finder(SIDE - _FINDER, 0) + _finder(0, SIDE - _FINDER)
_CUTS = (10, 20)
_PARTS = tuple(tuple(_Part(x, y) for x in (0, *_CUTS)) for y in range(SIDE))
