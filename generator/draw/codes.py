"""The frame of a sheet and a page number, in; what the page's codes say, and their squares, out.

    WM1 T6-P-0410 A-0042 TRAVELLER 3/12 C35E9B25F54C TL

The format, the process, the serial or DRAFT, the kind of sheet, the page of the pack (3B/12 is the
back of page 3), the short fingerprint, the corner: seven words, "-" where a sheet has none. So a
scanned page says by itself what it is and which way up it lies, and one corner may be lost.
"""

from __future__ import annotations

import re
from functools import cache

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
    height; the black of a row that hangs together is one."""
    heads, tails = _heads(), _tails()
    spans = map(re.Match.span, _RUN.finditer(modules_of(words)))
    return "".join([heads[start] + tails[end - start] for start, end in spans])


@cache
def _heads() -> tuple[str, ...]:
    return tuple(f"{x} {y} " for y in range(SIDE) for x in range(SIDE + 1))


@cache
def _tails() -> tuple[str, ...]:
    return tuple(f"{wide} 1 re\n" for wide in range(SIDE + 1))
