"""Places of a file, what leads to them, and its outline, in; the objects of the PDF, out.

Each object is written in one stroke (ISO 32000-1, 12.3 and 12.5). The library puts the same
together from dictionaries of values, key by key, and a traveller has hundreds of them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from reportlab.pdfbase.pdfdoc import DummyDoc, PDFObject, PDFString
from reportlab.pdfgen.canvas import Canvas

from generator.findings import Refusal

Corners = tuple[float, float, float, float]
"""Left, low, right and high (pt)."""

_ESCAPED = re.compile(r"[^ -'*-\[\]-~]")  # what a string of a PDF may not hold as it is
_ROOT = -1  # the outline itself, among its entries


class Written(PDFObject):
    """An object of a file; what it says is asked when the file is written, as all objects have
    their numbers then."""

    __RefOnly__ = 1  # the library's word for an object with a number of its own

    def __init__(self, says: Callable[[Any], str]) -> None:
        self._says = says

    def format(self, document: Any) -> bytes:
        """The object as it stands in the file."""
        return self._says(document).encode("latin-1")


class _Outline(Written):
    """The outline as the library asks for it."""

    ready = 1

    def __init__(self, says: Callable[[Any], str], prepare: Callable[[Any, Any], None]) -> None:
        super().__init__(says)
        self.prepare = prepare


class _Entry(NamedTuple):
    """An entry of the outline: its depth, and where it leads to."""

    title: str
    level: int
    page: str
    top: float


class Places:
    """The named places of one file, its outline, and the links to both. Heights are in points from
    the lower edge."""

    def __init__(self, canvas: Canvas) -> None:
        self._canvas: Any = canvas
        self._at: dict[str, tuple[str, float]] = {}
        self._entries: list[_Entry] = []

    def name(self, name: str, top: float) -> None:
        """Give this height of the page that is drawn a name."""
        self._at[name] = self._canvas._doc.thisPageName(), top

    def entry(self, title: str, level: int, top: float) -> None:
        """An entry of the outline that leads to this height of the page that is drawn."""
        document = self._canvas._doc
        if not self._entries:
            document.Outlines = document.Catalog.Outlines = _Outline(self._outline, self._number)
        self._entries.append(_Entry(title, level, document.thisPageName(), top))

    def link(self, corners: Corners, name: str) -> None:
        """Lead from a rectangle of the page to a place of this file, which may come later."""
        self._add(corners, lambda document: f"/Dest {self._place(document, name)}")

    def link_to_file(self, corners: Corners, file: str, name: str) -> None:
        """Lead from a rectangle of the page to a named place of a file beside this one: the
        library's own way leads to a file's first page only."""
        self._add(corners, lambda _: f"/A << /S /GoToR /F {_string(file)} /D {_string(name)} >>")

    def name_for_others(self, names: Sequence[str]) -> None:
        """Let other files lead to these places by their names."""

        def says(document: Any) -> str:
            pairs = (f"{_string(each)} {self._place(document, each)}" for each in sorted(names))
            return "<< /Dests << /Names [ " + "\n".join(pairs) + " ] >> >>"

        if names:
            self._canvas._doc.Catalog.Names = Written(says)

    def _add(self, corners: Corners, leads: Callable[[Any], str]) -> None:
        left, low, right, high = corners
        # 4: to be printed with the page, which archive readers ask of every annotation.
        head = (
            "<< /Type /Annot /Subtype /Link /F 4 /Border [ 0 0 0 ] "
            f"/Rect [ {left:.2f} {low:.2f} {right:.2f} {high:.2f} ] "
        )
        self._canvas._addAnnotation(Written(lambda document: f"{head}{leads(document)} >>"))

    def _place(self, document: Any, name: str) -> str:
        if name not in self._at:
            raise Refusal("sheet", f"nothing is found under {name}", "a place of that name")
        return _destination(document, *self._at[name])

    def _number(self, document: Any, _canvas: Any) -> None:
        """Give every entry of the outline its number in the file."""
        document.Reference(document.Outlines, _numbered(_ROOT))
        for n, ways in _ways(self._entries).items():
            if n != _ROOT:
                document.Reference(Written(self._saying(n, ways)), _numbered(n))

    def _saying(self, n: int, ways: Mapping[str, int]) -> Callable[[Any], str]:
        entry = self._entries[n]
        below = next(
            (k for k, each in enumerate(self._entries[n + 1 :]) if each.level <= entry.level),
            len(self._entries) - n - 1,
        )
        count = f"/Count {below} " if below else ""
        head = f"<< /Title {_string(entry.title)} {count}"
        return lambda document: (
            f"{head}/Dest {_destination(document, entry.page, entry.top)} "
            f"{_leading(document, ways)} >>"
        )

    def _outline(self, document: Any) -> str:
        ways = _leading(document, _ways(self._entries)[_ROOT])
        return f"<< /Type /Outlines /Count {len(self._entries)} {ways} >>"


def _ways(entries: Sequence[_Entry]) -> dict[int, dict[str, int]]:
    """What each entry of an outline has above, beside and below it."""
    ways: dict[int, dict[str, int]] = {n: {} for n in range(_ROOT, len(entries))}
    above = [_ROOT]
    last: dict[int, int] = {}  # the last entry below each
    for n, entry in enumerate(entries):
        assert entry.level < len(above), "an outline goes down one level at a time"
        del above[entry.level + 1 :]
        parent = above[-1]
        ways[n]["Parent"] = parent
        if parent in last:
            ways[n]["Prev"] = last[parent]
            ways[last[parent]]["Next"] = n
        ways[parent].setdefault("First", n)
        ways[parent]["Last"] = last[parent] = n
        above.append(n)
    return ways


def _numbered(n: int) -> str:
    return f"Outline.{n}"


def _leading(document: Any, ways: Mapping[str, int]) -> str:
    return " ".join(f"/{key} {_reference(document, _numbered(n))}" for key, n in ways.items())


def _reference(document: Any, name: str) -> str:
    number, version = document.idToObjectNumberAndVersion[name]
    return f"{number} {version} R"


def _destination(document: Any, page: str, top: float) -> str:
    """This height of a page at its left edge, as large as the reader has it."""
    return f"[ {_reference(document, page)} /XYZ 0 {top:.2f} null ]"


def _string(words: str) -> str:
    if words.isascii() and not _ESCAPED.search(words):
        return f"({words})"
    said: bytes = PDFString(words).format(DummyDoc())
    return said.decode("latin-1")
