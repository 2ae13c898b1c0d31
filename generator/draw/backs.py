"""The frame of a sheet and its number in the pack, in; the back of that page for a printer that
prints both sides, out: a place for notes that are part of the record, with codes of its own.

The binding edge of a back is its right one. Numbers of pages are those of the fronts.
"""

from __future__ import annotations

from generator.draw.breaking import typeset
from generator.draw.codes import CORNERS, words_of_page
from generator.draw.fonts import BOLD, MONO
from generator.draw.frame import PageFrame
from generator.draw.paper import BODY, BOX_HEIGHT, CAPTION, CORNER, CORNER_AT, HEADING, TABLE
from generator.draw.pen import Pen

_EDGE = CORNER_AT + CORNER + 2.0  # free of the codes
_BINDING, _OUTER = 25.0, 10.0
_NOTES, _ROWS = "notes", 3
_SAYS = "NOTES HERE COUNT AS RECORD: initial and date each one"


def draw_back(pen: Pen, framed: PageFrame, number: int, count: int) -> None:
    """Draw the back of one page; number and count are those of its front."""
    frame, paper = framed.frame, framed.paper
    left, right = _OUTER, paper.width - _BINDING
    with pen.between(left, right):
        x = _EDGE
        pen.text(x, 12.0, "THIS SIDE IS BLANK", BOLD, HEADING)
        told = f"back of sheet {number} of {count}"
        pen.text(right - 1.0, 12.0, told, BOLD, TABLE, anchor="end")
        pen.text(x, 18.0, _SAYS, BOLD, BODY)
        words = " ".join(filter(None, (frame["kind"], frame.told("process"), frame.told("serial"))))
        typeset(words, right - _EDGE - 40.0, TABLE).draw(pen, x, 20.4)
        pen.text(right - 1.0, 24.4, frame["fingerprint"], MONO, TABLE, anchor="end")
        foot = paper.height - _EDGE - 4.0
        top, high = 30.0, foot - 30.0 - _ROWS * (BOX_HEIGHT + 4.6)
        pen.box("write", left, top, right - left, high, _NOTES, "notes and sketches")
        _signed(pen, left, top + high, right)
    for corner, short in CORNERS.items():
        pen.code(corner, f"{words_of_page(frame, number, count, back=True)} {short}")


def _signed(pen: Pen, left: float, y: float, right: float) -> None:
    """Who wrote what: a line each."""
    stamp, date = right - 62.0, right - 30.0
    for row in range(1, _ROWS + 1):
        base = y + 3.6
        for x, says in ((left, f"note {row}: about"), (stamp, "stamp or initials")):
            pen.text(x, base, says, size=CAPTION)
        pen.text(date, base, "date YYYY-MM-DD", size=CAPTION)
        top = base + 1.0
        pen.box("write", left, top, stamp - left - 2.0, BOX_HEIGHT, f"note {row}", "about")
        pen.box("write", stamp, top, 30.0, BOX_HEIGHT, f"note {row}", "stamp or initials")
        pen.box("date", date, top, 30.0, BOX_HEIGHT, f"note {row}", "date")
        y = top + BOX_HEIGHT
