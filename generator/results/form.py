"""The sheets of an issued traveller and the map of their boxes, in; every thing that somebody
writes there, with its limits as printed, out.

The form is frozen with the traveller, so that results are judged by what the paper said.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any

from generator.draw.parse import Block, Container, Run, plain
from generator.draw.sheet import Operation, Part, Title, read_sheet

SIGNING = ("lead", "volunteer", "independent inspector", "inspector", "subcontractor", "stores",
           "archivist")  # fmt: skip
# Sheets that are filled in only when something happens, and boxes that may stay empty anywhere.
_WHEN_NEEDED = ("slips", "part-labels", "rework-sheet", "stop-work-notice", "full-size-pages",
                "fit-record")  # fmt: skip
_MAY_BE_EMPTY = re.compile(
    r"slip no\.?|stopped here|.*\bN/A|stopped after no\.|went on from no\.|lost, and what was done|"
    r"point (?:added|left out)|.*date (?:into|out of) store",
    re.I,
)
_LOOSE_ROW = re.compile(r".*\breason\b.*|notes?\b.*|(first|second|third|fourth)\b.*", re.I)
_ENDS = {"least": ".from", "largest": ".to"}
IN_HAND = "sheets in hand"
# Columns of a printed count, and the box that must come to it.
_COUNTED = (("fasteners", "ticked"), ("fasteners", "ticked in all"), ("in the map", "driven"))
_STAMP = re.compile(r"[A-Z]+[0-9]+")
_VERDICTS = ("in", "between", "out")
_PAIRS = ((": yes", ": no"), ("in", "out"), ("came", "did not come"))

Key = tuple[str, str, str, str]


@dataclass(frozen=True)
class Field:
    """One thing that is written: a reading, a tick, a stamp, a date.

    operation: its number, "" outside operations. name: "" where its row has one field alone.
    kind: number, words, tick, choice, clock, date or stamp. boxes: their meanings on the box map.
    lower, upper: as printed, "" where there is none; accept_from, accept_to: the guarded ones where
    the sheet has them. who: the class whose stamp it is, or the stamp itself where the sheet names
    it. lower_by, upper_by: the mark of the row of a strip that has the limit for what was ticked.
    """

    sheet: str
    operation: str
    row: str
    name: str
    kind: str
    boxes: tuple[str, ...]
    choices: tuple[str, ...] = ()
    lower: str = ""
    upper: str = ""
    unit: str = ""
    who: str = ""
    may_be_empty: bool = False
    accept_from: str = ""
    accept_to: str = ""
    lower_by: str = ""
    upper_by: str = ""

    @property
    def key(self) -> Key:
        return (self.sheet, self.operation, self.row, self.name)

    @property
    def label(self) -> str:
        """What a person calls it."""
        return f"{self.row}: {self.name}" if self.name else self.row


@dataclass(frozen=True)
class Stop:
    """A hold, a witness or an independent inspection, and the operations that a hold closes."""

    operation: str
    kind: str
    closes: tuple[str, ...]


@dataclass(frozen=True)
class Answers:
    """A row of a strip: the mark of its number, its operation, and a value for each column."""

    mark: str
    operation: str
    values: tuple[str, ...]


@dataclass(frozen=True)
class Form:
    """Every field of a traveller in the order of its boxes, its operations, its stops, and the rows
    of its strips by which limits are judged."""

    fields: tuple[Field, ...]
    operations: tuple[str, ...]
    stops: tuple[Stop, ...]
    answers: tuple[Answers, ...] = ()


@dataclass(frozen=True)
class _Limits:
    lower: str
    upper: str
    unit: str
    accept_from: str = ""
    accept_to: str = ""
    lower_by: str = ""
    upper_by: str = ""


def form_of(sheets: Mapping[str, str], boxes: Sequence[Mapping[str, Any]]) -> Form:
    """The form of a print: its sheets as Markdown by kind, and the boxes of its map."""
    parts = {kind: read_sheet(text).parts for kind, text in sheets.items()}
    limits = {key: each for kind, has in parts.items() for key, each in _limits(kind, has)}
    operations = [p for p in parts.get("traveller", ()) if isinstance(p, Operation)]
    numbers = tuple(each.number for each in operations if each.kind != "deleted")
    signed = dict(_who_signs(parts))
    printed, made = _printed(boxes), _fields(boxes, limits)
    fields = tuple(_in_hand(_signed_by(each, signed), printed) for each in made)
    answers = tuple(_answers(_blocks_of_operations(parts)))
    return Form(fields, numbers, tuple(_stops(operations, numbers)), answers)


def _blocks_of_operations(
    parts: Mapping[str, tuple[Part, ...]],
) -> Iterator[tuple[str, Sequence[Block]]]:
    """What the traveller and the records have of each operation."""
    for part in (each for has in parts.values() for each in has if not isinstance(each, Title)):
        number = part.number if isinstance(part, Operation) else _of(part.heading)
        if number:
            yield number, part.blocks


def _printed(boxes: Sequence[Mapping[str, Any]]) -> Mapping[str, int]:
    """How many sheets of paper each kind of sheet has."""
    pages = sorted((box["sheet"], int(box["page"])) for box in boxes)
    return dict(pages)


def _in_hand(field: Field, printed: Mapping[str, int]) -> Field:
    count = str(printed.get(field.row.replace(" ", "-"), ""))
    if field.name != IN_HAND or not count:
        return field
    return replace(field, kind="number", lower=count, upper=count, unit="count")


def _who_signs(
    parts: Mapping[str, tuple[Part, ...]],
) -> Iterator[tuple[tuple[str, str], str]]:
    """Sheet and row of every place where a sheet as a whole is signed -> class or stamp."""
    for kind, has in parts.items():
        for part in (each for each in has if not isinstance(each, Title)):
            for block in part.blocks:
                if isinstance(block, Container) and block.name == "approvals":
                    yield from (((kind, plain(r[0])), plain(r[1])) for r in block.rows)


def _signed_by(field: Field, signed: Mapping[tuple[str, str], str]) -> Field:
    who = signed.get((field.sheet, field.row), "")
    if field.kind != "stamp" or field.who or not who:
        return field
    return replace(field, who=who) if who in SIGNING or _STAMP.fullmatch(who) else field


def _answers(operations: Iterable[tuple[str, Sequence[Block]]]) -> Iterator[Answers]:
    """The rows of strips whose mark no other row has: of two alike, nobody knows which is meant.
    The two ends of a window have one mark; they are told apart by least and largest."""
    found = [
        Answers(_of_end(link, plain(row[0])), number, tuple(map(plain, row[1:])))
        for number, blocks in operations
        for block in blocks
        if isinstance(block, Container) and block.name == "strip"
        for row in block.rows[1:]
        if (link := next((run.link for run in row[0] if run.link), ""))
    ]
    marks = [each.mark for each in found]
    return (each for each in found if marks.count(each.mark) == 1)


def _of_end(link: str, label: str) -> str:
    """The mark of a row of a strip, and which end of a window it is."""
    words = label.partition(": ")[2] or label
    return link.rpartition("#")[2] + _ENDS.get(words.partition(" ")[0], "")


def without(form: Form, operations: Collection[str]) -> Form:
    """The form without what belongs to some operations."""
    return Form(
        tuple(each for each in form.fields if each.operation not in operations),
        tuple(each for each in form.operations if each not in operations),
        tuple(each for each in form.stops if each.operation not in operations),
        form.answers,
    )


# --- from boxes to fields ---------------------------------------------------------------------


def _fields(
    boxes: Sequence[Mapping[str, Any]], limits: Mapping[tuple[str, str, str], _Limits]
) -> Iterator[Field]:
    written = [box for box in boxes if box["kind"] != "code"]
    seen: dict[tuple[str, str, str], int] = {}
    for (*told, _), group in groupby(written, key=_row_of):
        place = (told[0], told[1], told[2])
        seen[place] = seen.get(place, 0) + 1
        # The same row again, as on the foot of every page, is told apart by its count.
        again = f" ({seen[place]})" if seen[place] > 1 else ""
        for field in _of_row(place, list(group), limits.get(place)):
            yield replace(field, row=field.row + again)


def _row_of(box: Mapping[str, Any]) -> tuple[str, str, str, int]:
    """The row of a box: one may go on overleaf, but the foot of each page is a row of its own."""
    page = int(box["page"]) if box["row"] == "stopped here" else 0
    return box["sheet"], box["operation"], box["row"], page


def _of_row(
    place: tuple[str, str, str], group: list[Mapping[str, Any]], limits: _Limits | None
) -> list[Field]:
    sheet, operation, row = place
    made = []
    for kind, meanings in _grouped(row, group):
        unit = limits.unit if limits and kind == "number" else ""
        field = Field(sheet, operation, row, "", kind, tuple(meanings), unit=unit)
        made.append(_described(field, limits))
    if len(made) > 1:
        made = [replace(field, name=_name(field, row)) for field in made]
    return made


def _grouped(row: str, group: list[Mapping[str, Any]]) -> Iterator[tuple[str, list[str]]]:
    """The boxes of a row as things that are written: a clock has two boxes, a choice several."""
    said = [(str(box["kind"]), str(box["meaning"])) for box in group]
    if row == "used" and all(kind == "check" for kind, _ in said):
        yield "choice", [meaning for _, meaning in said]
        return
    while said:
        (kind, meaning), *said = said
        following = said[0] if said else ("", "")
        if kind == "clock" and following[0] == "clock":
            yield "clock", [meaning, following[1]]
            said = said[1:]
        elif kind == "check" and (meaning, *(m for _, m in said[:2])) == _VERDICTS:
            yield "choice", list(_VERDICTS)
            said = said[2:]
        elif kind == "check" and _is_pair(meaning, following[1]):
            yield "choice", [meaning, following[1]]
            said = said[1:]
        elif kind == "check" and meaning.endswith("N/A"):
            yield "words", [meaning]  # no tick among others: it is never one of "all"
        else:
            yield {"check": "tick", "write": "words"}.get(kind, kind), [meaning]


def _is_pair(one: str, other: str) -> bool:
    return any(one.endswith(a) and other.endswith(b) for a, b in _PAIRS)


def _described(field: Field, limits: _Limits | None) -> Field:
    """The field with what its boxes and its limits say of it."""
    meaning = field.boxes[0]
    if field.kind == "choice":
        words = tuple(re.split(r": | (?=used)|^used ", each)[-1] for each in field.boxes)
        field = replace(field, choices=words)
    if field.kind == "stamp":
        said = (w for words in (meaning, field.row) for w in SIGNING if w in words)
        field = replace(field, who=next(said, ""))
    if field.kind == "words" and limits is not None and _is_measured(field, limits):
        lower, upper, low, high = map(
            _fixed, (limits.lower, limits.upper, limits.accept_from, limits.accept_to)
        )
        field = replace(
            field, kind="number", lower=lower, upper=upper, unit=limits.unit,
            accept_from=low, accept_to=high, lower_by=limits.lower_by, upper_by=limits.upper_by,
        )  # fmt: skip
    return replace(field, may_be_empty=_is_optional(field, limits))


def _fixed(limit: str) -> str:
    """A limit that is a number on the sheet; "" for one that is open or ticked elsewhere."""
    return "" if limit in ("-", "record", "ticked") else limit


def _is_optional(field: Field, limits: _Limits | None) -> bool:
    """Whether a box may stay empty: never one of a reading, however the reading is called."""
    if field.sheet in _WHEN_NEEDED:
        return True
    if limits is not None:
        return False
    said = (field.row, field.boxes[0], field.name)
    loose = not field.operation and any(_LOOSE_ROW.fullmatch(each) for each in said)
    return loose or any(_MAY_BE_EMPTY.fullmatch(each) for each in said)


def _is_measured(field: Field, limits: _Limits) -> bool:
    """Whether a box takes a value of its reading, and not a word, a temperature or a sum."""
    if limits.unit in ("words", "clock", "date", "tick"):
        return False
    first = field.boxes[0].removesuffix(f", {limits.unit}")
    return bool(
        first == field.row
        or re.fullmatch(rf"{re.escape(field.row)} \d+", first)
        or re.fullmatch(r"actual|found|\d+ of \d+|ticked(?: in all)?|driven|treatments.*", first)
    )


def _name(field: Field, row: str) -> str:
    """What tells a field from the others of its row."""
    told = field.boxes[0]
    if field.unit:
        told = told.removesuffix(f", {field.unit}")
    for end in (" hours", ": yes", " from hours", " to hours") if field.kind != "words" else ():
        if told.endswith(end):
            told = told.removesuffix(end) + (end.removesuffix(" hours") if " " in end[1:] else "")
            break
    return told.removeprefix(row).strip() or told


# --- what the sheets say ----------------------------------------------------------------------


def _limits(kind: str, parts: Iterable[Part]) -> Iterator[tuple[tuple[str, str, str], _Limits]]:
    title = ""
    for part in parts:
        if isinstance(part, Title):
            title = part.text
            continue
        operation = part.number if isinstance(part, Operation) else _of(part.heading or title)
        for block in part.blocks:
            for row, limits in _limits_in(block):
                yield (kind, operation, row), limits


def _of(heading: str) -> str:
    """The operation that a section of a record is of, "" for none."""
    found = re.fullmatch(r"Operation (\d+(?:R\d+)?)", heading)
    return found[1] if found else ""


def _limits_in(block: Block) -> Iterator[tuple[str, _Limits]]:
    if not isinstance(block, Container):
        return
    if block.name == "readings":
        for row in block.rows[1:]:
            name, lower, upper, unit, _ = map(plain, row)
            by = [_mark(cell) if plain(cell) == "ticked" else "" for cell in row[1:3]]
            yield name, _Limits(lower, upper, unit, lower_by=by[0], upper_by=by[1])
    elif block.name == "features":
        for told in _told(block):
            named = f"feature {told['no.']}"
            accept = (told.get("accept from", ""), told.get("accept to", ""))
            yield named, _Limits(told["lower"], told["upper"], told["unit"], *accept)
    elif block.name == "fill" and {"lower", "upper"} <= {plain(cell) for cell in block.rows[0]}:
        for told in _told(block):
            first, second, *_ = told.values()
            named = f"{first} {second}" if first.isdigit() else first
            yield named, _Limits(told["lower"], told["upper"], told.get("unit", "count"))
    elif block.name == "fill":
        yield from _counts_in(block)


def _counts_in(block: Container) -> Iterator[tuple[str, _Limits]]:
    """Rows that print a count which a box of theirs must come to, or may not pass."""
    names = [plain(cell) for cell in block.rows[0]]
    whole = next((one for one, box in _COUNTED if {one, box} <= {*names}), "")
    for told in _told(block):
        first, second, *_ = told.values()
        if whole:
            count = told[whole].rpartition(": ")[2].partition(" ")[0]
            named = f"{first} {second}" if first.isdigit() else first
            yield named, _Limits(count, count, "count")
        elif "treatments with this one" in told and told["at most"].isdigit():
            yield first, _Limits("1", told["at most"], "count")


def _mark(cell: Sequence[Run]) -> str:
    """The mark of the number that a cell leads to."""
    return next((run.link.rpartition("#")[2] for run in cell if run.link), "")


def _told(block: Container) -> Iterator[dict[str, str]]:
    """The rows of a table by the names of its columns."""
    names = [plain(cell) for cell in block.rows[0]]
    return (dict(zip(names, map(plain, row), strict=True)) for row in block.rows[1:])


def _stops(operations: Sequence[Operation], numbers: Sequence[str]) -> Iterator[Stop]:
    for operation in operations:
        if operation.kind in ("hold", "witness", "independent"):
            yield Stop(operation.number, operation.kind, _closed_by(operation, numbers))


def _closed_by(operation: Operation, numbers: Sequence[str]) -> tuple[str, ...]:
    """The operations that a hold says it closes."""
    for block in operation.blocks:
        if isinstance(block, Container) and (block.name, block.words) == ("sign", "hold"):
            told = {plain(row[0]): plain(row[1]) for row in block.rows}
            ends = re.findall(r"\d+", told.get("closes operations", ""))
            return tuple(n for n in numbers if ends and int(ends[0]) <= ordinal(n) <= int(ends[-1]))
    return ()


def ordinal(operation: str) -> int:
    """Where an operation stands among the others, 0 for none; 110R1 stands where 110 does."""
    return int(operation.partition("R")[0] or 0)
