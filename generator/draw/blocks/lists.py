"""Lists of words that get a tick or a key, in; rows, out."""

from __future__ import annotations

from generator.draw.breaking import Text, one_line, typeset
from generator.draw.fonts import BOLD
from generator.draw.paper import BODY, SMALL, TICK
from generator.draw.parse import Container, Row, Runs, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces

_TICK_ROW = TICK + 2.6
_KEY_SIZE = SMALL


def _ticked(name: str, key: Text | None, text: Text, indent: float) -> Piece:
    """A tick box, a key such as a letter, and words; the first line stands beside the box."""
    height = max(_TICK_ROW, text.height + 2.2)

    def draw(pen: Pen, x: float, y: float) -> None:
        pen.box("check", x, y + 1.0, TICK, TICK, name, f"{name} done")
        down = y + 1.0 + (TICK - text.leading) / 2
        if key:
            key.draw(pen, x + TICK + 2.4, down)
        text.draw(pen, x + indent, down)

    return Piece(height, draw)


def steps(block: Container, area: Area) -> Pieces:
    """Lettered steps, each with a box to tick."""
    indent = TICK + 2.4 + max(one_line(row[0], BODY, BOLD) for row in block.rows) + 2.4
    return tuple(
        _ticked(
            plain(letter),
            typeset(letter, indent, BODY, BOLD),
            typeset(words, area.width - indent),
            indent,
        )
        for letter, words in block.rows
    )


def checklist(block: Container, area: Area) -> Pieces:
    """Things to have at hand, each with a box to tick; two columns where all of them are short."""
    indent = TICK + 2.6
    half = (area.width - 6.0) / 2
    short = all(one_line(row[0]) <= half - indent for row in block.rows)
    width = half if short else area.width
    made = [
        _ticked(plain(row[0]), None, typeset(row[0], width - indent), indent) for row in block.rows
    ]
    return _in_pairs(made, half + 6.0) if short else tuple(made)


def _in_pairs(pieces: list[Piece], across: float) -> Pieces:
    """Rows of two: the first half of the list goes down the left column."""
    rows = (len(pieces) + 1) // 2
    return tuple(
        _beside(pieces[i], pieces[rows + i] if rows + i < len(pieces) else None, across)
        for i in range(rows)
    )


def _beside(left: Piece, right: Piece | None, across: float) -> Piece:
    def draw(pen: Pen, x: float, y: float) -> None:
        left.draw(pen, x, y)
        if right:
            right.draw(pen, x + across, y)

    return Piece(max(left.height, right.height if right else 0.0), draw)


def _keyed(key: Runs, words: Runs, width: float, key_width: float, bold_key: bool) -> Piece:
    key_text = typeset(key, key_width, BODY if bold_key else _KEY_SIZE, BOLD)
    text = typeset(words, width - key_width)

    def draw(pen: Pen, x: float, y: float) -> None:
        lift = (text.leading - key_text.leading) / 2 + 0.15
        key_text.draw(pen, x, y + (0.0 if bold_key else lift))
        text.draw(pen, x + key_width, y)

    return Piece(max(key_text.height, text.height) + 0.9, draw)


def state(block: Container, area: Area) -> Pieces:
    """Start state, safe stopping state and what to do on failure: key in bold, then words."""
    wanted = max(one_line(row[0], _KEY_SIZE, BOLD) for row in block.rows) + 3.0
    width = min(wanted, area.width * 0.35)
    return tuple(_keyed(key, words, area.width, width, False) for key, words in block.rows)


def facts(block: Container, area: Area) -> Pieces:
    """Keys and values, two pairs a row where they fit."""
    wanted = max(one_line(row[0], _KEY_SIZE, BOLD) for row in block.rows) + 3.0
    key_width = min(wanted, area.width * 0.2)
    half = (area.width - 6.0) / 2
    made: list[Piece] = []
    waiting: Row | None = None
    for row in block.rows:
        fits = one_line(row[1]) <= half - key_width
        if waiting and fits:
            pair = [_keyed(r[0], r[1], half, key_width, False) for r in (waiting, row)]
            made.append(_beside(pair[0], pair[1], half + 6.0))
            waiting = None
            continue
        if waiting:
            made.append(_keyed(waiting[0], waiting[1], area.width, key_width, False))
            waiting = None
        if fits:
            waiting = row
        else:
            made.append(_keyed(row[0], row[1], area.width, key_width, False))
    if waiting:
        made.append(_keyed(waiting[0], waiting[1], area.width, key_width, False))
    return tuple(made)
