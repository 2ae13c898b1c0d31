"""Text and its size, in; the room it takes on paper in millimetres, out.

Figures know no font, so that they can be made and tested without one. The widths here are on the
generous side of the face that is used for print: a label never needs more than it was given.
"""

from __future__ import annotations

from functools import lru_cache

from generator.figures.clearance import Box
from generator.figures.picture import Words

POINT = 25.4 / 72
DIGIT_HEIGHT = 0.7
"""Height of a figure or a capital, in parts of the letter size."""

_ABOVE, _BELOW = 0.8, 0.24
_NARROW, _WIDE = frozenset("iljtfrI.,:;'|!()[] -·°"), frozenset("MWmw@%Œœ—")


def _em(letter: str) -> float:
    if letter in _NARROW:
        return 0.42
    if letter in _WIDE:
        return 0.95
    return 0.7 if letter.isupper() else 0.62


@lru_cache(maxsize=1 << 12)
def text_width(text: str, size: float) -> float:
    """Room that a line of text takes across, for a letter size in points."""
    return sum(map(_em, text)) * size * POINT


def centred_baseline(y: float, size: float) -> float:
    """The base line on which figures and capitals stand centred about y."""
    return y + DIGIT_HEIGHT * size * POINT / 2


def text_box(words: Words) -> Box:
    """The box around a line of text, accents and descenders included."""
    wide = text_width(words.text, words.size)
    left = words.x - {"start": 0.0, "middle": wide / 2, "end": wide}[words.anchor]
    em = words.size * POINT
    return Box(left, words.y - _ABOVE * em, left + wide, words.y + _BELOW * em)


def wrapped(text: str, size: float, width: float) -> tuple[str, ...]:
    """The text in lines no wider than width; a single word that is wider keeps its own line."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)
