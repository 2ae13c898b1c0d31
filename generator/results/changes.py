"""The sheets of two revisions of a process as Markdown, in; what is not the same, operation by
operation, with what weighs most marked, out.

What is compared is what was printed: a number that changed through a table or a formula shows as
one that was typed anew.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from generator.draw.parse import Block, Container, Heading, Paragraph, Row, Table, plain
from generator.draw.sheet import Operation, Section, Title, read_sheet
from generator.signs import is_whole

_STOPS = ("hold", "witness", "independent")
_LIMITS = ("readings", "strip", "grid", "lookup", "points", "clock", "map")
_WEIGHS = ("limit", "stop", "material", "caution")
_MATERIAL = "kit-list"
# What belongs to one print, or says in other words what other sheets say.
_NOT_COMPARED = ("inspection-sheet", "hold-list", "closing-sheet", "tool-list", "slips",
                 "rework-sheet", "stop-work-notice", "part-labels", "fit-record")  # fmt: skip
_OWN_SECTIONS = ("This print", "Revisions", "Approvals", "Where the work stops for an inspector")
_NO_AIM = ("nominal", "-")  # a column that stands there for other readings
_FINGERPRINT = "Full fingerprint: "
_OF_ONE_PRINT = ("Print", "Traveller", "Serial")  # rows of a table of facts, and no line of text
_MARK = re.compile(r" ?\[[cgt][0-9]+\]|^[cgt][0-9]+$")
_OF_OPERATION = re.compile(r"Operation ([0-9]+)")


@dataclass(frozen=True)
class Change:
    """One thing that changed. operation: its number, "" for what belongs to the whole job.

    what: limit, stop, material, caution, number, text, added or removed; old, new: as printed, ""
    where there is none.
    """

    operation: str
    what: str
    where: str
    old: str
    new: str

    @property
    def weighs(self) -> bool:
        """Whether an inspector must see it before paper on the floor is changed."""
        return self.what in (*_WEIGHS, "added", "removed")


Line = tuple[str, str]  # what it is, its words


def changes(old: Mapping[str, str], new: Mapping[str, str]) -> tuple[Change, ...]:
    """All changes from one set of sheets to another, in the order of the new one's operations."""
    found: list[Change] = []
    for kind in dict.fromkeys([*new, *old]):
        if kind not in _NOT_COMPARED:
            before = _places(kind, old[kind]) if kind in old else {}
            after = _places(kind, new[kind]) if kind in new else {}
            found += _between(kind, before, after)
    return tuple(sorted(found, key=lambda each: int(each.operation or 0)))


def changed_operations(found: Iterable[Change]) -> tuple[str, ...]:
    """The numbers of the operations that changed, in their order."""
    return tuple(dict.fromkeys(each.operation for each in found if each.operation))


def _places(kind: str, sheet: str) -> dict[str, list[Line]]:
    """The lines of a sheet by operation, or by heading outside operations."""
    made: dict[str, list[Line]] = {}
    title = ""
    for part in read_sheet(sheet).parts:
        if isinstance(part, Title):
            title = part.text
            continue
        if isinstance(part, Operation):
            head = [("stop" if part.kind in _STOPS else "text", f"kind: {part.kind}")]
            made[part.number] = [*head, *_lines(part.blocks, kind)]
            continue
        place = _place(part, title)
        if place not in _OWN_SECTIONS:
            made.setdefault(place, []).extend(_lines(part.blocks, kind))
    return made


def _place(section: Section, title: str) -> str:
    heading = section.heading or title
    found = _OF_OPERATION.fullmatch(heading) or _OF_OPERATION.fullmatch(title)
    return found[1] if found else heading


def _lines(blocks: Sequence[Block], kind: str) -> Iterator[Line]:
    for block in blocks:
        if isinstance(block, Heading):
            continue
        what = _what(block, kind)
        if isinstance(block, Paragraph):
            words = [plain(block.runs)]
        elif isinstance(block, Table):
            words = [_row(row) for row in block.rows]
        else:
            own = block.name == "facts"
            rows = [row for row in block.rows if not (own and plain(row[0]) in _OF_ONE_PRINT)]
            in_rows = _readings(rows) if block.name == "readings" else map(_row, rows)
            words = [*map(plain, block.paragraphs), *in_rows]
        for each in words:
            told = _MARK.sub("", each).strip()
            if told and not told.startswith(_FINGERPRINT):
                yield what, told


def _row(cells: Sequence[object]) -> str:
    told = [_MARK.sub("", plain(cell)) for cell in cells]  # type: ignore[arg-type]
    return "  ".join(each for each in told if each)


def _readings(rows: Sequence[Row]) -> Iterator[str]:
    """Readings in words: a row of bare figures says nothing on a change sheet."""
    heads = [plain(cell) for cell in rows[0]]
    for row in rows[1:]:
        name, *cells = (_MARK.sub("", plain(cell)) for cell in row)
        yield f"{name}: " + ", ".join(
            f"{head} {cell}"
            for head, cell in zip(heads[1:], cells, strict=True)
            if cell and (head, cell) != _NO_AIM
        )


def _what(block: Block, kind: str) -> str:
    if kind == _MATERIAL:
        return "material"
    if not isinstance(block, Container):
        return "text"
    if block.name in ("warning", "caution"):
        return "caution"
    if block.name in _LIMITS:
        return "limit"
    if block.name == "sign":
        return "stop"
    return "number" if block.name in ("numbers", "results", "givens", "working") else "text"


def _between(
    kind: str, before: Mapping[str, list[Line]], after: Mapping[str, list[Line]]
) -> Iterator[Change]:
    for place in dict.fromkeys([*after, *before]):
        operation = place if is_whole(place) else ""
        where = kind.replace("-", " ") if operation else f"{kind.replace('-', ' ')}: {place}"
        if operation and kind == "traveller" and (place not in before or place not in after):
            there = after.get(place) or before[place]
            yield from _whole(operation, where, there, place in after)
            continue
        for what, old, new in _pairs(before.get(place, []), after.get(place, [])):
            yield Change(operation, what, where, old, new)


def _whole(operation: str, where: str, lines: Sequence[Line], added: bool) -> Iterator[Change]:
    """An operation that came or went, in its first words, and everything of it that weighs."""
    words = "; ".join(words for _, words in lines[:3])
    told = [("added" if added else "removed", words)]
    told += [(what, words) for what, words in lines if what in _WEIGHS]
    for what, each in told:
        yield Change(operation, what, where, "" if added else each, each if added else "")


def _pairs(old: Sequence[Line], new: Sequence[Line]) -> Iterator[tuple[str, str, str]]:
    """Lines that are not the same, old beside new where one took the place of the other."""
    for tag, a, b, c, d in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if tag == "equal":
            continue
        gone, come = old[a:b], new[c:d]
        for i in range(max(len(gone), len(come))):
            was = gone[i] if i < len(gone) else ("", "")
            now = come[i] if i < len(come) else ("", "")
            kinds = {was[0], now[0]}
            what = next((w for w in ("limit", "stop", "caution", "material") if w in kinds), "")
            yield what or now[0] or was[0], was[1], now[1]
