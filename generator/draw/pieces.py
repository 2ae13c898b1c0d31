"""What a block function gives back: pieces that know their height before anything is drawn."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from generator.draw.pen import Pen

Draw = Callable[[Pen, float, float], None]
"""Draws a piece with its top left corner at x, y (mm)."""


class Piece(NamedTuple):
    """A part of a block that stays in one piece. A print is made of some thousand of them.

    height and gap are in millimetres; the gap stands above it, but not at the top of a page.
    breaks: a page may end before it; eases: it may where the whole is taller than a page; yields:
    it may where there is no other way.
    glued: it stays with the block before it.
    wide: it runs under the sign-off column too.
    header: what is drawn again above it when a page begins with it. overleaf: what goes on there,
    which is said at the foot of the page before.
    """

    height: float
    draw: Draw
    gap: float = 0.0
    breaks: bool = False
    wide: bool = False
    header: Piece | None = None
    eases: bool = False
    yields: bool = False
    glued: bool = False
    overleaf: str = ""


Pieces = tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Area:
    """The room of a block: width beside the sign-off column, and wide below it (mm).

    page: height of a whole page, where it is known, less the sign-off below; beside: how much more
    it is for what is no wider than the column beside the sign-off.
    """

    width: float
    wide: float
    page: float = 0.0
    beside: float = 0.0


def with_gap(pieces: Sequence[Piece], gap: float) -> Pieces:
    """The pieces with a gap above the first."""
    if not pieces:
        return ()
    return (pieces[0]._replace(gap=gap), *pieces[1:])


def stacked(pieces: Sequence[Piece]) -> Piece:
    """Pieces below each other as one."""

    def draw(pen: Pen, x: float, y: float) -> None:
        for piece in pieces:
            piece.draw(pen, x, y)
            y += piece.height

    return Piece(sum(piece.height for piece in pieces), draw)


def eased(pieces: Sequence[Piece]) -> Pieces:
    """The pieces of a block before which a page may end where the whole is taller than a page."""
    if not pieces:
        return ()
    return (pieces[0]._replace(eases=True), *pieces[1:])


def eased_rows(pieces: Sequence[Piece], kept: int = 2) -> Pieces:
    """Rows between which a page may end where the whole is taller than a page: two stay at each
    end, so that the first steps stand with the warning they need."""
    last = len(pieces) - kept
    return tuple(p._replace(eases=kept <= i <= last) for i, p in enumerate(pieces))


def breakable_rows(pieces: Sequence[Piece], header: Piece | None, kept: int) -> Pieces:
    """Rows between which a page may end; kept rows stay at each end, the header is repeated."""
    last = len(pieces) - kept
    return tuple(p._replace(header=header, breaks=kept <= i <= last) for i, p in enumerate(pieces))
