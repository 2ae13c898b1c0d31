"""A sheet as Markdown, in; everything that it prints by operation and by heading, out, so that two
prints can be held against each other line by line.

Left out is what belongs to one print (serial, day, fingerprint) and what moves where something is
put in before it: the marks behind numbers, the numbers of features and of rows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.draw.parse import Block, Container, Heading, Paragraph, Row, Table, plain
from generator.draw.sheet import Operation, Section, Sheet, Title, read_sheet
from generator.signs import is_whole

# Sheets that say again, for somebody else, what the traveller and the records say.
REPEATS = ("inspection-sheet", "hold-list", "closing-sheet", "tool-list", "slips", "rework-sheet",
           "stop-work-notice", "part-labels", "fit-record")  # fmt: skip
HEAD = "head of every page"
ALERTS = ("warning", "caution")  # a person can be hurt, or a part: never told by the other's name
REVISIONS = "Revisions"
_STOPS_TOLD = "Where the work stops for an inspector"
# Who made, checked and printed the sheets: nothing of it is a number of the work.
_ABOUT = ("This print", REVISIONS, "Approvals")
_STOPS = ("hold", "witness", "independent")
_LIMITS = ("readings", "strip", "grid", "lookup", "points", "clock", "map")
_MATERIAL = "kit-list"
_DRAWN = ("map", "figure", "full-size", "clock")  # the words behind their names change the drawing
_FINGERPRINT = "Full fingerprint: "
_OF_ONE_PRINT = ("Print", "Traveller", "Serial")  # rows of a table of facts, and no line of text
_PRINTED_ON = ("kind", "serial", "part serial", "fingerprint", "printed", "replaces", "draft")
_NO_AIM = ("nominal", "-")  # a column that stands there for other readings
_MARK = re.compile(r" ?\[[cgt][0-9]+\]|^[cgt][0-9]+$")
_OF_OPERATION = re.compile(r"Operation ([0-9]+)")
_OF_FEATURE = re.compile(r"(?:Accept limits|Limits) of feature [0-9]+")
_FIRST = ("lower", "upper", "unit", "times")  # of a feature, as the readings of the work have them


@dataclass(frozen=True)
class Line:
    """A line of a sheet. what: limit, stop, material, warning, caution, number or text; of: the
    reading that it is of, "" for none."""

    what: str
    words: str
    of: str = ""


Places = dict[str, list[Line]]


def is_about(kind: str, place: str) -> bool:
    """Whether a place says again what stands elsewhere, or who made the sheets."""
    return kind in REPEATS or place in (HEAD, _STOPS_TOLD, *_ABOUT)


def repeats(kind: str, place: str) -> bool:
    """Whether what changed there may be told already by what changed elsewhere."""
    return kind in REPEATS or place == _STOPS_TOLD or (place == HEAD and kind != "traveller")


def places_of(kind: str, text: str) -> Places:
    """The lines of a sheet by operation, or by heading outside operations."""
    sheet = read_sheet(text)
    made: Places = {HEAD: list(_head(sheet))}
    title = ""
    for part in sheet.parts:
        if isinstance(part, Title):
            title = part.text
            made.setdefault(title, []).append(Line("text", title))
        elif isinstance(part, Operation):
            head = Line("stop" if part.kind in _STOPS else "text", f"kind: {part.kind}")
            also = [Line("text", part.words)] if part.words else []
            made[part.number] = [head, *also, *_lines(part.blocks, kind)]
        else:
            _add(made, part, title, kind)
    return made


def _head(sheet: Sheet) -> Iterator[Line]:
    told = (row for row in sheet.frame.rows if row[0] not in _PRINTED_ON)
    yield from (Line("text", f"{key}: {value}") for key, value in told)


def _add(made: Places, section: Section, title: str, kind: str) -> None:
    """The lines of a section, at its operation where it has one."""
    place = _place(section, title)
    if kind not in REPEATS:
        made.setdefault(place, []).extend(_lines(section.blocks, kind))
        return
    feature = _OF_FEATURE.fullmatch(place) and _operation_of(section.blocks)
    for block in section.blocks:
        for at, line in _rows_of_all(block, kind):
            made.setdefault(at or feature or place, []).append(line)
    made.setdefault(feature or place, [])


def _place(section: Section, title: str) -> str:
    heading = section.heading or title
    found = _OF_OPERATION.fullmatch(heading) or _OF_OPERATION.fullmatch(title)
    return found[1] if found else heading


def _operation_of(blocks: Sequence[Block]) -> str:
    """The operation of the first feature among some blocks."""
    at = (number for block in blocks for number, _ in _rows_of_all(block, "") if number)
    return next(at, "")


def _rows_of_all(block: Block, kind: str) -> Iterator[tuple[str, Line]]:
    """The lines of a block of a sheet that repeats, each with the operation that its row names."""
    rows = block.rows if isinstance(block, Table | Container) else ()
    names = [plain(cell) for cell in rows[0]] if rows else []
    if isinstance(block, Container) and block.name == "features":
        yield from (("", Line("text", name)) for name in names)
        for row in rows[1:]:
            told = dict(zip(names, _cells(row), strict=True))
            yield from ((told["operation"], line) for line in _feature(told))
    elif "operation" in names and any(is_whole(plain(row[names.index("operation")]))
                                      for row in rows):  # fmt: skip
        column = names.index("operation")
        for row in rows:
            at = plain(row[column])
            rest = [cell for i, cell in enumerate(row) if i != column]
            yield at if is_whole(at) else "", Line("stop", _row(rest))
    else:
        unnumbered = names[:1] == ["no."]
        yield from (("", line) for line in _block(block, kind, unnumbered))


def _feature(told: Mapping[str, str]) -> Iterator[Line]:
    """A feature: its limits as a reading of the work, its instrument, what is accepted."""
    name = told["what"]
    rest = [key for key in told if key not in ("no.", "operation", "what", *_FIRST)]
    accept = [key for key in rest if key.startswith("accept") or key == "uncertainty"]
    others = [key for key in rest if key not in accept]
    for what, keys in (("limit", _FIRST), ("text", others), ("limit", accept)):
        if words := ", ".join(f"{key} {told[key]}" for key in keys if told[key]):
            yield Line(what, f"{name}: {words}", name)


def _lines(blocks: Sequence[Block], kind: str) -> Iterator[Line]:
    for block in blocks:
        yield from _block(block, kind)


def _block(block: Block, kind: str, unnumbered: bool = False) -> Iterator[Line]:
    """The lines of a block. unnumbered: its rows without their numbers."""
    if isinstance(block, Heading | Paragraph):
        words = [plain(block.runs)]
    elif isinstance(block, Table):
        words = [_row(row) for row in block.rows]
    elif block.name == "readings":
        words = [*map(plain, block.paragraphs), *_readings(block.rows)]
    else:
        rows = _facts(block.rows) if block.name in ("facts", "labels") else block.rows
        words = [*map(plain, block.paragraphs), *(_row(row[unnumbered:]) for row in rows)]
        words += [f"{block.name} {block.words}"] * (block.name in _DRAWN and bool(block.words))
    for each in words:
        told = _MARK.sub("", each).strip()
        if told and not told.startswith(_FINGERPRINT):
            yield Line(_what(block, kind), told)


def _facts(rows: Sequence[Row]) -> list[Row]:
    return [row for row in rows if plain(row[0]) not in _OF_ONE_PRINT]


def _cells(row: Row) -> list[str]:
    return [_MARK.sub("", plain(cell)) for cell in row]


def _row(cells: Sequence[object]) -> str:
    told = _cells(cells)  # type: ignore[arg-type]
    return "  ".join(each for each in told if each)


def _readings(rows: Sequence[Row]) -> Iterator[str]:
    """Readings in words: a row of bare figures says nothing on a change sheet."""
    heads = [plain(cell) for cell in rows[0]]
    yield from heads[:1] if heads[0] != "reading" else ()
    for row in rows[1:]:
        name, *cells = _cells(row)
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
    if block.name in ALERTS:
        return block.name
    if block.name in _LIMITS:
        return "limit"
    if block.name == "sign":
        return "stop"
    return "number" if block.name in ("numbers", "results", "givens", "working") else "text"
