"""Look-up tables worked out beforehand, in; strips that say STOP at both ends, out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate

from generator.draw.breaking import Text, one_line, typeset, widest_part, widest_word
from generator.draw.fonts import BOLD, TEXT, in_figures, measured
from generator.draw.paper import BODY, HAIR, HEAVY, PT, RULE, SMALL, TABLE, TICK
from generator.draw.parse import Container, Row, plain
from generator.draw.pen import Pen
from generator.draw.pieces import Area, Piece, Pieces, breakable_rows, stacked
from generator.findings import Refusal

_STOP, _ENTRY, _RESULT, _USED = 8.0, 7.0, 7.6, 8.4
_LEAST_CELL = 8.6


def is_bold(cell: Sequence[object]) -> bool:
    """Whether a cell is to be framed: all of it is bold."""
    return bool(cell) and all(run.bold for run in cell)  # type: ignore[attr-defined]


def strip(block: Container, area: Area) -> Pieces:
    """A strip: entry values across, results below, a box to tick under the column used."""
    rows = block.rows
    entries = len(rows[0]) - 1
    label = min(max(one_line(row[0], SMALL) for row in rows) + 3.0, 30.0)
    cells = [part for row in rows for c in row[1:] for part in _whole(plain(c))]
    cell = max(_LEAST_CELL, *(measured(in_figures(c, True), TABLE, c) + 3.4 for c in cells))
    least = label + 2 * _STOP + entries * cell
    if least > area.wide:
        # Too wide to be read across: the same entries, read down.
        down = list(zip(*rows, strict=True))
        (piece,) = _read_down(down[0], down[1:], replace(area, page=0.0))
    else:
        piece = _strip_piece(rows, label, cell, least > area.width)
    return (said_above(block, piece, area),)


def said_above(block: Container, piece: Piece, area: Area) -> Piece:
    """The piece under the words that say how it is used, where there are any."""
    if not block.paragraphs:
        return piece
    words = typeset(block.paragraphs[0], area.wide if piece.wide else area.width, TABLE)
    lead = words.height + 1.6

    def draw(pen: Pen, x: float, y: float) -> None:
        words.draw(pen, x, y)
        piece.draw(pen, x, y + lead)

    return piece._replace(height=lead + piece.height, draw=draw)


def _whole(words: str) -> Sequence[str]:
    """What must stay on one line: a number, and each word of a verdict."""
    return words.split() if words[:1].isalpha() else (words,)


def _strip_piece(rows: Sequence[Row], label: float, cell: float, wide: bool) -> Piece:
    labels = [typeset(row[0], label - 2.0, SMALL) for row in rows]
    texts = [
        [_in_cell(plain(c), cell, number > 0) for c in row[1:]] for number, row in enumerate(rows)
    ]
    heights = [
        max(_ENTRY if i == 0 else _RESULT, *(each.height + 1.0 for each in (text, *texts[i])))
        for i, text in enumerate(labels)
    ]
    height = sum(heights) + _USED

    def draw(pen: Pen, x: float, y: float) -> None:
        _labels(pen, x, y, labels, heights)
        left = x + label
        _stops(pen, left, y, len(rows[0]) - 1, cell, height)
        for i in range(1, len(rows[0])):
            column = [row[i - 1] for row in texts]
            _column(pen, left + _STOP + (i - 1) * cell, y, cell, i, rows, column, heights)

    return Piece(height + 1.0, draw, gap=2.6, wide=wide)


def _labels(pen: Pen, x: float, y: float, labels: Sequence[Text], heights: Sequence[float]) -> None:
    for text, height in zip(labels, heights, strict=True):
        text.draw(pen, x, y + (height - text.height) / 2)
        y += height
    pen.text(x, y + _USED / 2 + 0.34 * SMALL * PT, "used", size=SMALL)


def _stops(pen: Pen, x: float, y: float, count: int, cell: float, height: float) -> None:
    inner = count * cell
    length = measured(BOLD, BODY, "STOP")
    for at in (x, x + _STOP + inner):
        pen.frame(at, y, _STOP, height, HEAVY)
        base = at + _STOP / 2 + 0.34 * BODY * PT
        pen.turned(base, y + (height + length) / 2, "STOP", BOLD, BODY)
    pen.line(x + _STOP, y, x + _STOP + inner, y, RULE)
    pen.line(x + _STOP, y + height, x + _STOP + inner, y + height, RULE)


def _column(
    pen: Pen, x: float, y: float, cell: float, i: int, rows: Sequence[Row],
    texts: Sequence[Text], heights: Sequence[float],
) -> None:  # fmt: skip
    entry, top = plain(rows[0][i]), y
    for text, height in zip(texts, heights, strict=True):
        text.draw(pen, x + (cell - text.width) / 2, y + (height - text.height) / 2)
        y += height
        pen.line(x, y, x + cell, y, HAIR)
    tick = (_USED - TICK) / 2
    pen.box("check", x + (cell - TICK) / 2, y + tick, TICK, TICK, "used", f"used {entry}")
    if i + 1 < len(rows[0]):
        pen.line(x + cell, top, x + cell, y + _USED, HAIR)
    if is_bold(rows[0][i]):
        pen.frame(x + 0.5, top + 0.4, cell - 1.0, y + _USED - top - 0.8, HEAVY)


def lookup(block: Container, area: Area) -> Pieces:
    """A table of ready answers, read down; its ends say STOP, the row used is ticked."""
    return _read_down(block.rows[0], block.rows[1:], area)


_USED_WIDTH, _PITCH, _STOP_HEIGHT, _WORDS_WIDTH = 12.0, 8.2, 6.4, 26.0


def _read_down(names: Row, body: Sequence[Row], area: Area) -> Pieces:
    """Entries below each other, between two rows that say STOP."""
    columns = [[row[i] for row in (names, *body)] for i in range(len(names))]
    wants, leasts, tightest = zip(*map(_lookup_widths, columns), strict=True)
    room = area.width
    wide = sum(wants) + _USED_WIDTH > room
    if wide:
        room = area.wide
    if sum(leasts) + _USED_WIDTH > room:
        leasts = tightest
    widths = _fitted(wants, leasts, room - _USED_WIDTH)
    spare = max(0.0, min(6.0, (room - sum(widths) - _USED_WIDTH) / len(widths)))
    return _lookup_pieces(names, body, [w + spare for w in widths], wide, area.page)


def _fitted(wants: Sequence[float], leasts: Sequence[float], room: float) -> list[float]:
    """The widths that columns want, or where there is less room a share that holds their words."""
    if sum(wants) <= room:
        return list(wants)
    if sum(leasts) > room:
        raise _too_wide(leasts, room)
    share = (room - sum(leasts)) / (sum(wants) - sum(leasts))
    return [least + (want - least) * share for want, least in zip(wants, leasts, strict=True)]


def _too_wide(leasts: Sequence[float], room: float) -> Refusal:
    fit = sum(used <= room for used in accumulate(leasts)) - 1
    wrong = f"a table of {len(leasts) - 1} answers to each value is {sum(leasts):.0f} mm wide; "
    right = f"the first {fit}, and a table of their own for the others; a second unit is one more"
    return Refusal("layout", f"{wrong}the page holds {room:.0f} mm", right)


def _face(words: str, bold: bool) -> str:
    """Figures in the face of figures, a verdict in the face of text."""
    if any(sign.isdigit() for sign in words):
        return in_figures(words, bold)
    return BOLD if bold else TEXT


def _lookup_widths(column: Sequence[Row | object]) -> tuple[float, float, float]:
    """The width that a column wants, the least that parts no word of it, and the least with a
    heading that is broken at every space."""
    head = typeset(column[0], 17.0, SMALL, BOLD).width
    words = [plain(cell) for cell in column[1:]]  # type: ignore[arg-type]
    longest = max(measured(_face(w, True), TABLE, w) for w in words)
    longest_word = max(measured(_face(w, True), TABLE, one) for w in words for one in w.split())
    least = longest_word if longest > _WORDS_WIDTH else longest
    name = widest_word(column[0], SMALL, BOLD)  # type: ignore[arg-type]
    part = widest_part(column[0], SMALL, BOLD)  # type: ignore[arg-type]
    want = max(head, min(longest, _WORDS_WIDTH))
    return want + 2.6, max(name, least) + 2.6, max(part, least) + 2.6


def _lookup_pieces(
    names: Row, body: Sequence[Row], widths: Sequence[float], wide: bool, page: float
) -> Pieces:
    """The table in one piece, or where a page does not hold it in rows between which a page may
    end, under the headings again: only its own ends say STOP."""
    width = sum(widths) + _USED_WIDTH
    head = _lookup_head(names, widths)
    rows = [_lookup_row(row, widths) for row in body]
    stop = Piece(_STOP_HEIGHT, lambda pen, x, y: stop_row(pen, x, y, width, _STOP_HEIGHT))
    whole = stacked([head, stop, *rows, stop])
    if not page or whole.height <= page:
        return (whole._replace(height=whole.height + 0.8, gap=2.6, wide=wide),)
    above = stacked([head, stop, rows[0]])
    below = stacked([rows[-1], stop._replace(height=stop.height + 0.8)])
    parts = breakable_rows([above, *rows[1:-1], below], head, 2)
    return tuple(part._replace(gap=0.0 if i else 2.6, wide=wide) for i, part in enumerate(parts))


def _lookup_head(names: Row, widths: Sequence[float]) -> Piece:
    heads = [typeset(c, w - 2.0, SMALL, BOLD) for c, w in zip(names, widths, strict=True)]
    top = max(h.height for h in heads) + 1.6

    def draw(pen: Pen, x: float, y: float) -> None:
        at = x
        for head, one in zip(heads, widths, strict=True):
            head.draw(pen, at + (one - head.width) / 2, y + top - 0.8 - head.height)
            at += one
        pen.text(at + _USED_WIDTH / 2, y + top - 1.6, "used", BOLD, SMALL, anchor="middle")

    return Piece(top, draw)


def _in_cell(words: str, cell: float, answer: bool) -> Text:
    """A number or a verdict as it stands in a column of a strip."""
    return typeset(words, cell - 2.4, TABLE, in_figures(words, answer))


def _cell(cell: object, width: float, column: int) -> Text:
    """Figures in one line, words wrapped: a verdict may be longer than its column."""
    words = plain(cell)  # type: ignore[arg-type]
    return typeset(words, width - 2.4, TABLE, _face(words, column > 0))


def stop_row(pen: Pen, x: float, y: float, width: float, height: float) -> None:
    """A bar that ends a table above or below."""
    pen.frame(x, y, width, height, HEAVY)
    base = y + height / 2 + 0.34 * BODY * PT
    pen.text(x + width / 2, base, "STOP", BOLD, BODY, anchor="middle")


def _lookup_row(row: Row, widths: Sequence[float]) -> Piece:
    """A row of answers, and a box to tick at its right."""
    texts = [_cell(c, w, i) for i, (c, w) in enumerate(zip(row, widths, strict=True))]
    pitch = max(_PITCH, *(text.height + 1.6 for text in texts))
    name, used = plain(row[0]), _USED_WIDTH

    def draw(pen: Pen, x: float, y: float) -> None:
        at = x
        for text, width in zip(texts, widths, strict=True):
            text.draw(pen, at + (width - text.width) / 2, y + (pitch - text.height) / 2)
            at += width
        left, top = at + (used - TICK) / 2, y + (pitch - TICK) / 2
        pen.box("check", left, top, TICK, TICK, "used", f"used {name}")
        pen.line(x, y + pitch, at + used, y + pitch, HAIR)
        for side in (x, at + used):
            pen.line(side, y, side, y + pitch, RULE)
        if is_bold(row[0]):
            pen.frame(x + 0.8, y + 0.5, at + used - x - 1.6, pitch - 1.0, HEAVY)

    return Piece(pitch, draw)
