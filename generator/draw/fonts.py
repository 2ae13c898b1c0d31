"""A face and a text, in; its width and the certainty that every sign can be drawn, out.

Four static TrueType faces are registered once. Signs that they lack are drawn as paths
(signs.py); a character that has neither a glyph nor a path is refused here, before any drawing.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Sequence
from functools import cache, lru_cache
from importlib.resources import as_file, files
from typing import Any

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


_USUAL = "°·−×±²³≤≥"
"""Signs that every sheet gets, used or not: so sheets of a pack have the same subset of a face."""


class _Font(TTFont):
    """A font that keeps its subsets as they are written into a file: cutting and packing the same
    one for each sheet took a tenth of the time of a traveller."""

    def addObjects(self, doc: Any) -> None:
        """Put the subsets of a finished document into it."""
        known = set(doc.idToObject)
        super().addObjects(doc)
        for name in doc.idToObject.keys() - known:
            written = doc.idToObject[name]
            if name.startswith(("fontFile:", "toUnicodeCMap:")):
                written.content = _packed(written.content)
                written.dictionary["Filter"] = "/FlateDecode"
            elif hasattr(written, "Widths"):
                written.Widths = _listed(tuple(written.Widths.sequence))


@lru_cache(maxsize=32)
def _packed(content: bytes | str) -> bytes:
    return zlib.compress(content.encode() if isinstance(content, str) else content)


@lru_cache(maxsize=32)
def _listed(widths: tuple[float, ...]) -> str:
    return f"[ {' '.join(f'{each:g}' for each in widths)} ]"


@cache
def font(face: str) -> TTFont:
    """The registered font of a face."""
    package, name = FILES[face]
    with as_file(files(package) / "files" / name) as path:
        made = _Font(face, str(path))
    cut = lru_cache(maxsize=8)(made.face.makeSubset)

    def kept(subset: Sequence[int]) -> Any:
        return cut(tuple(subset))

    made.face.makeSubset = kept  # type: ignore[method-assign]
    pdfmetrics.registerFont(made)
    return made


SIZE = "\0"
"""Stands for the letter size in what is said of a sign of a further subset."""


class Coded(dict[int, str]):
    """What stands in a string of a PDF for each sign of a face, by the number of the sign: for
    str.translate. document: the library's, which counts the signs that are used."""

    def __init__(self, face: str, document: Any) -> None:
        super().__init__()
        self._face, self._document = face, document
        shape = font(face)
        known = shape.face.charToGlyph
        shape.splitString("".join(sign for sign in _USUAL if ord(sign) in known), document)
        self.name: str = shape.getSubsetInternalName(0, document)
        """What the pages of the document call the face."""

    def __missing__(self, sign: int) -> str:
        shape, document = font(self._face), self._document
        ((subset, code),) = shape.splitString(plain_signs(self._face, chr(sign)), document)
        found = _in_string(code[0])
        if subset:  # a face holds 256 signs: what comes after them is another one to the reader
            name = shape.getSubsetInternalName(subset, document)
            found = f") Tj {name} {SIZE} Tf ({found}) Tj {self.name} {SIZE} Tf ("
        self[sign] = found
        return found


def _in_string(code: int) -> str:
    sign = chr(code)
    if sign in "()\\":
        return f"\\{sign}"
    return sign if " " <= sign <= "~" else f"\\{code:03o}"


def plain_signs(face: str, text: str) -> str:
    """The text with look-alikes replaced by the sign that the face has."""
    if text.isascii():
        return text
    return text.translate(_SAME) if face in (MONO, MONO_BOLD) else text.replace("\u2011", "-")


@lru_cache(maxsize=1 << 16)
def _ems(face: str, text: str) -> float:
    if not text.isascii() and SIGN.search(text):
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
    return _ems(face, text if text.isascii() else plain_signs(face, text)) * size * PT


def in_figures(text: str, bold: bool = False) -> str:
    """The face for a column of figures: Plex Mono where it has every sign, else the text face."""
    known = font(MONO).face.charToGlyph
    if text.isascii() or all(ord(sign) in known for sign in plain_signs(MONO, text)):
        return MONO_BOLD if bold else MONO
    return BOLD if bold else TEXT
