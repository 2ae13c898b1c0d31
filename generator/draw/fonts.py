"""A face and a text, in; its width and the certainty that every sign can be drawn, out.

Four static TrueType faces are registered once. Signs that they lack are drawn as paths
(signs.py); a character that has neither a glyph nor a path is refused here, before any drawing.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache
from importlib.resources import as_file, files

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from generator.draw.paper import PT
from generator.draw.signs import SIGNS
from generator.faces import BOLD, FILES, MONO, MONO_BOLD, TEXT
from generator.findings import Refusal

__all__ = [
    "BOLD", "MONO", "MONO_BOLD", "SIGN", "TEXT", "font", "in_figures", "measured", "plain_signs",
]  # fmt: skip

SIGN = re.compile("([" + "".join(SIGNS) + "])")
# The same sign under another number: the non-breaking hyphen, and Greek mu in the figures' face.
_SAME = str.maketrans({"\u2011": "-", "\u03bc": "\u00b5"})


@cache
def font(face: str) -> TTFont:
    """The registered font of a face."""
    package, name = FILES[face]
    with as_file(files(package) / "files" / name) as path:
        made = TTFont(face, str(path))
    pdfmetrics.registerFont(made)
    return made


def plain_signs(face: str, text: str) -> str:
    """The text with look-alikes replaced by the sign that the face has."""
    if text.isascii():
        return text
    return text.translate(_SAME) if face in (MONO, MONO_BOLD) else text.replace("\u2011", "-")


@lru_cache(maxsize=1 << 16)
def _ems(face: str, text: str) -> float:
    if SIGN.search(text):
        return sum(
            SIGNS[part].advance if part in SIGNS else _ems(face, part)
            for part in SIGN.split(text)
            if part
        )
    _gate(face, text)
    return float(font(face).stringWidth(text, 1.0))


def _gate(face: str, text: str) -> None:
    known = font(face).face.charToGlyph
    for sign in text:
        if ord(sign) not in known or sign < " ":
            raise Refusal(
                "glyph",
                f"the sign {sign!r} (U+{ord(sign):04X}) cannot be printed",
                "a sign that the print face has; see the list of signs in the handbook",
            )


def measured(face: str, size: float, text: str) -> float:
    """Width of a text in millimetres; refuses a sign that cannot be printed."""
    return _ems(face, plain_signs(face, text)) * size * PT


def in_figures(text: str, bold: bool = False) -> str:
    """The face for a column of figures: Plex Mono where it has every sign, else the text face."""
    known = font(MONO).face.charToGlyph
    if all(ord(sign) in known for sign in plain_signs(MONO, text)):
        return MONO_BOLD if bold else MONO
    return BOLD if bold else TEXT
