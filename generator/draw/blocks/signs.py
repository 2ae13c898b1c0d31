"""Who signs an operation, in; the cluster of stamp, date and slip boxes, out.

Captions stand above their boxes: the whole of a box is free for the pen and the stamp.
"""

from __future__ import annotations

from generator.draw.breaking import Text, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import (
    BODY,
    BOX_HEIGHT,
    BOX_WIDTH,
    CAPTION,
    HAIR,
    PT,
    SMALL,
    STAMP_HEIGHT,
    STAMP_WIDTH,
    TICK,
)  # fmt: skip
from generator.draw.parse import Container, Row, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows, with_gap

CLUSTER_WIDTH = 46.0
_NOTICE_WIDTH = 33.0
_CAPTION_LINE = CAPTION * PT * 1.12
_ABOVE = _CAPTION_LINE + 0.9


def _caption(words: str) -> Text:
    return typeset(words, STAMP_WIDTH, CAPTION, leading=1.12)


def cluster(who: str, row: str, slip: bool) -> Piece:
    """A stamp box with a date box at its right, and below that one for a slip number."""
    caption = _caption(who)
    least = 2 * (_ABOVE + BOX_HEIGHT) if slip else 0.0
    height = max(caption.height + 0.5 + STAMP_HEIGHT, least)

    def draw(pen: Pen, x: float, y: float) -> None:
        stamp_top, bottom = y + height - STAMP_HEIGHT, y + height
        caption.draw(pen, x, stamp_top - 0.5 - caption.height)
        pen.box("stamp", x, stamp_top, STAMP_WIDTH, STAMP_HEIGHT, row, f"{who} stamp")
        at = x + CLUSTER_WIDTH - BOX_WIDTH
        low = bottom - BOX_HEIGHT
        date = low - _ABOVE - BOX_HEIGHT if slip else stamp_top
        pen.text(at, date - 1.0, "date YYYY-MM-DD", size=CAPTION)
        pen.box("date", at, date, BOX_WIDTH, BOX_HEIGHT, row, f"{who} date")
        if slip:
            pen.text(at, low - 1.0, "slip no. if raised", size=CAPTION)
            pen.box("write", at, low, BOX_WIDTH, BOX_HEIGHT, row, "slip no.")

    return Piece(height, draw)


def _rows(block: Container) -> dict[str, str]:
    return {plain(row[0]): plain(row[1]) for row in block.rows}


def done_cluster(block: Container) -> Piece:
    """The operator's sign-off."""
    label, who = (plain(cell) for cell in block.rows[0])
    return cluster(f"{label} {who}", "sign done", slip=True)


def hold_cluster(block: Container) -> Piece:
    """The release of a hold; there is no box for the operator."""
    label, who = (plain(cell) for cell in block.rows[0])
    return cluster(f"{label} {who}", "sign hold", slip=True)


def hold_words(block: Container) -> tuple[str, str]:
    """What stands beside the word HOLD, and which operations it closes ("" where not said)."""
    rows = _rows(block)
    label, who = (plain(cell) for cell in block.rows[0])
    closes = " ".join(f"{k} {v}" for k, v in rows.items() if k.startswith("closes"))
    return f"{label} {who} only", closes[:1].upper() + closes[1:]


def witness(block: Container, area: Area) -> Pieces:
    """Notice given, came or not, the inspector's stamp or the authority to go on without."""
    rows = _rows(block)
    notice, who = rows.get("notice", ""), rows.get("by", "inspector")
    came = cluster(who, "sign witness", slip=False)
    absent = cluster("or go on: authority", "go on without", slip=False)
    height = max(came.height, absent.height, 2 * (_ABOVE + BOX_HEIGHT))

    def draw(pen: Pen, x: float, y: float) -> None:
        _notice(pen, x, y + height, notice)
        _attendance(pen, x + _NOTICE_WIDTH + 2.0, y + height)
        across = x + area.wide - 2 * CLUSTER_WIDTH - 3.0
        came.draw(pen, across, y + height - came.height)
        absent.draw(pen, across + CLUSTER_WIDTH + 3.0, y + height - absent.height)

    return (Piece(height + 0.5, draw, gap=3.0, wide=True),)


def _notice(pen: Pen, x: float, bottom: float, notice: str) -> None:
    low = bottom - BOX_HEIGHT
    high = low - _ABOVE - BOX_HEIGHT
    words = f"notice of {notice} given YYYY-MM-DD" if notice else "notice given YYYY-MM-DD"
    pen.text(x, high - 1.0, words, size=CAPTION)
    pen.box("date", x, high, _NOTICE_WIDTH, BOX_HEIGHT, "notice", "notice given on")
    pen.text(x, low - 1.0, "how given", size=CAPTION)
    pen.box("write", x, low, _NOTICE_WIDTH, BOX_HEIGHT, "notice", "notice given how")


def _attendance(pen: Pen, x: float, bottom: float) -> None:
    for up, words in ((2 * BOX_HEIGHT + _ABOVE, "came"), (BOX_HEIGHT, "did not\ncome")):
        top = bottom - up
        pen.box("check", x, top + (BOX_HEIGHT - TICK) / 2, TICK, TICK, "attendance",
                words.replace("\n", " "))  # fmt: skip
        text = typeset(words, 14.0, SMALL, leading=1.12)
        text.draw(pen, x + TICK + 1.6, top + (BOX_HEIGHT - text.height) / 2)


def independent(block: Container, area: Area) -> Pieces:
    """A row for each point: two clusters, for two people who each look for themselves."""
    rows = [_point(row, area.wide) for row in block.rows]
    return with_gap(breakable_rows(rows, None, 2), 2.0)


def _point(row: Row, width: float) -> Piece:
    name = plain(row[0])
    pair = [cluster(f"{i + 1}: {plain(cell)}", name, slip=False) for i, cell in enumerate(row[1:])]
    room = width - 2 * CLUSTER_WIDTH - 4.0
    text = typeset(row[0], room - 3.0, BODY, BOLD)
    tall = max(p.height for p in pair)
    height = max(tall, text.height) + 3.2

    def draw(pen: Pen, x: float, y: float) -> None:
        pen.line(x, y, x + width, y, HAIR)
        text.draw(pen, x, y + 2.4)
        for place, piece in enumerate(pair):
            at = x + room + place * (CLUSTER_WIDTH + 4.0)
            piece.draw(pen, at, y + 2.0 + tall - piece.height)

    return Piece(height, draw, wide=True)
