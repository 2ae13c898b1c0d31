"""The sheets of an issued traveller and the map of their boxes, in; every thing that somebody
writes there, with its limits as printed, out.

The form is frozen with the traveller, so that results are judged by what the paper said.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import KW_ONLY, dataclass, replace
from functools import cached_property
from itertools import groupby
from typing import Any

from generator.composing.kinds import HEAT_TREATMENT_RECORD
from generator.draw.sheet import Operation, read_sheet
from generator.results.form_figures import WANTED, figure, furnaces_of, settings_of
from generator.results.form_says import (
    IN_TURN,
    SINCE,
    Answers,
    Limits,
    Stop,
    accepting,
    answers_of,
    least_full_scale,
    limits_of,
    measured_with,
    stops_of,
    uses_of,
    waiting,
    who_signs,
)  # fmt: skip

SIGNING = ("lead", "volunteer", "independent inspector", "inspector", "subcontractor", "stores",
           "archivist")  # fmt: skip
# Sheets that are filled in only when something happens, and boxes that may stay empty anywhere.
_WHEN_NEEDED = ("slips", "part-labels", "rework-sheet", "stop-work-notice", "fit-record")
_MAY_BE_EMPTY = re.compile(
    r"slip no\.?|stopped here|.*\bN/A|stopped after no\.|went on from no\.|lost, and what was done|"
    r"point (?:added|left out)|.*date (?:into|out of) store",
    re.I,
)
_LOOSE_ROW = re.compile(r".*\breason\b.*|notes?\b.*|(first|second|third|fourth)\b.*", re.I)
# Lines for what was rejected, also where a rework sheet has them below an operation.
_SPARE = re.compile(r"(?:first|second|third|fourth) of .+")
IN_HAND = "sheets in hand"
_CUT_SHORT = "stopped here"  # the foot of a page is of nothing that stands above it
FULL_SCALE = "full scale"
_TAKEN = re.compile(
    r"actual|found|\d+ of \d+|ticked(?: in all)?|driven|measured|treatments.*"
)  # what a box of a value is called, whatever its reading is
_STAMP = re.compile(r"[A-Z]+[0-9]+")
_SIGNER = re.compile("|".join(SIGNING))
_STOP_ROW = re.compile(r"\d+ (?:HOLD|WITNESS|INDEPENDENT)")
_VERDICTS = ("in", "between", "out")
# Boxes of lists that say until when a line of theirs may be used.
_LASTS = {("kit-list", "use by"), ("tool-list", "check due"), ("traveller", "use by")}
FURNACE_DUE = "its check due"  # on a heat treatment record, or where a rework sheet has it again
_ITEM = re.compile(r"\d+ (.+?)(?: \(single use\))?")
# Behind the name of a row that stands there again, as one that goes on on another page.
AGAIN = re.compile(r" \([0-9]+\)$")
_PAIRS = ((": yes", ": no"), ("in", "out"), ("came", "did not come"))

Key = tuple[str, str, str, str]


@dataclass(frozen=True)
class Field(Limits):
    """One thing that is written: a reading, a tick, a stamp, a date. What its sheet says is beside.

    operation: its number, "" outside operations. name: "" where its row has one field alone.
    kind: number, words, tick, choice, clock, date or stamp. boxes: their meanings on the box map.
    who: the class whose stamp it is, or the stamp itself where the sheet names it. used_in: the
    operations that name the line of a list of which a date is. measured_with: the kind of
    instrument of a reading that is inspected. The lower limit of a date is words.
    """

    sheet: str
    operation: str
    row: str
    name: str
    kind: str
    boxes: tuple[str, ...]
    choices: tuple[str, ...] = ()
    _: KW_ONLY
    who: str = ""
    may_be_empty: bool = False
    used_in: tuple[str, ...] = ()
    measured_with: str = ""

    @property
    def lasts(self) -> bool:
        """Whether it is a day before which something may be used, and no longer after it."""
        listed = (self.sheet, self.boxes[0]) in _LASTS and not self.operation
        listed = listed or self.boxes[0] == FURNACE_DUE
        return self.kind == "date" and (listed or bool(self.lower))

    @property
    def key(self) -> Key:
        return (self.sheet, self.operation, self.row, self.name)

    @property
    def label(self) -> str:
        """What a person calls it."""
        return f"{self.row}: {self.name}" if self.name else self.row


@dataclass(frozen=True)
class Form:
    """Every field of a traveller in the order of its boxes, its operations, its stops, and the rows
    of its strips by which limits are judged."""

    fields: tuple[Field, ...]
    operations: tuple[str, ...]
    stops: tuple[Stop, ...]
    answers: tuple[Answers, ...] = ()

    @cached_property
    def stamped(self) -> frozenset[Key]:
        """The rows that have a stamp: a day that stands there is one on which something was done,
        any other is a value, such as the end of a life."""
        return frozenset((*f.key[:3], "") for f in self.fields if f.kind == "stamp")

    @cached_property
    def by_key(self) -> Mapping[Key, Field]:
        return {each.key: each for each in self.fields}

    @cached_property
    def dated(self) -> Mapping[str, Sequence[Field]]:
        """Where the sheets have the days on which an operation was done, by its number."""
        found: dict[str, list[Field]] = {}
        for each in self.fields:
            if self.is_done_on(each):
                found.setdefault(each.operation, []).append(each)
        return found

    @cached_property
    def signed(self) -> Mapping[str, Sequence[Field]]:
        """Where the traveller has the days on which an operation is signed, by its number."""
        return {n: [f for f in of if f.sheet == "traveller"] for n, of in self.dated.items()}

    def beside(self, of: Field, name: str) -> Field | None:
        """Another box of the row of a field."""
        return self.by_key.get((of.sheet, of.operation, of.row, name))

    def day_box(self, of: Field) -> Field | None:
        """The box for the day of a clock."""
        found = self.beside(of, "day" if of.name in ("time", "") else f"{of.name} day")
        return found if found is not None and found.kind == "date" else None

    def is_done_on(self, of: Field) -> bool:
        """Whether a field is the day of a stamp, and not one that is only wished for."""
        done = of.kind == "date" and of.boxes[0] != WANTED
        return done and (*of.key[:3], "") in self.stamped


def form_of(sheets: Mapping[str, str], boxes: Sequence[Mapping[str, Any]]) -> Form:
    """The form of a print: its sheets as Markdown by kind, and the boxes of its map."""
    parts = {kind: read_sheet(text).parts for kind, text in sheets.items()}
    waits = waiting(parts.get("traveller", ()))
    limits = {key: each for kind, has in parts.items() for key, each in limits_of(kind, has, waits)}
    limits |= dict(furnaces_of(limits))
    limits |= dict(settings_of(parts))
    operations = [p for p in parts.get("traveller", ()) if isinstance(p, Operation)]
    numbers = tuple(each.number for each in operations if each.kind != "deleted")
    signed = dict(who_signs(parts))
    printed = dict(sorted((box["sheet"], int(box["page"])) for box in boxes))  # sheets of paper
    made = _fields(boxes, limits)
    uses = tuple(uses_of(operations))
    # A rework sheet has the features of its operations itself.
    kinds = {key: kind for has in parts.values() for key, kind in measured_with(has)}
    least = least_full_scale(parts.get("traveller", ()))
    fields = tuple(
        replace(
            _used_in(_in_hand(_signed_by(_gauge(each, least), signed), printed), uses),
            measured_with=kinds.get((each.operation, AGAIN.sub("", each.row)), ""),
        )
        for each in made
    )
    fields = tuple(_of_treatments(fields))
    every = parts.values()
    answers = [a for read in (answers_of, accepting) for has in every for a in read(has)]
    return Form(fields, numbers, tuple(stops_of(operations, numbers)), tuple(answers))


def _in_hand(field: Field, printed: Mapping[str, int]) -> Field:
    count = str(printed.get(field.row.replace(" ", "-"), ""))
    if field.name != IN_HAND or not count:
        return field
    return replace(field, kind="number", lower=count, upper=count, unit="count")


def _gauge(field: Field, least: str) -> Field:
    """The full scale of a gauge on the test sheet is at least what was worked out."""
    name, _, scale = field.boxes[0].partition(", ")
    if name != FULL_SCALE or not least:
        return field
    return replace(field, kind="number", lower=least, unit=scale)


def _used_in(field: Field, uses: Sequence[tuple[str, str]]) -> Field:
    """The field with the operations that name its line among what they use, or the reading of a
    life by its own name."""
    item = _ITEM.fullmatch(field.row) if not field.operation else None
    if not field.lasts or not (item or field.operation):
        return field
    named = re.compile(rf"(?:^|, ){re.escape(item[1] if item else field.row)}(?:$|, )")
    return replace(field, used_in=tuple(n for n, said in uses if named.search(said)))


def _signed_by(field: Field, signed: Mapping[tuple[str, str], str]) -> Field:
    who = signed.get((field.sheet, field.row), "")
    if field.kind != "stamp" or field.who or not who:
        return field
    return replace(field, who=who) if who in SIGNING or _STAMP.fullmatch(who) else field


def _of_treatments(fields: Sequence[Field]) -> Iterator[Field]:
    """The fields; those of the papers of a treatment with the operation that it is of. Charge and
    serials stand on its record before what is found of it; behind the last are lines of all."""
    of = ""
    found: list[Field] = []
    for each in reversed(fields):
        own = each.sheet == HEAT_TREATMENT_RECORD and not each.operation
        if own and each.of:
            of = each.of
        elif own and of and not each.row.startswith(_CUT_SHORT):
            each = replace(each, of=of)
        found.append(each)
    return reversed(found)


# --- from boxes to fields ---------------------------------------------------------------------


def _fields(
    boxes: Sequence[Mapping[str, Any]], limits: Mapping[tuple[str, str, str], Limits]
) -> Iterator[Field]:
    written = [box for box in boxes if box["kind"] != "code"]
    seen: dict[tuple[str, str, str], int] = {}
    for (*told, _), group in groupby(written, key=_row_of):
        place = (told[0], told[1], told[2])
        seen[place] = seen.get(place, 0) + 1
        # The same row again, as on the foot of every page, is told apart by its count.
        again = f" ({seen[place]})" if seen[place] > 1 else ""
        own = limits.get((*place[:2], place[2] + again), limits.get(place))
        for field in _of_row(place, list(group), own):
            yield replace(field, row=field.row + again)


def _row_of(box: Mapping[str, Any]) -> tuple[str, str, str, int]:
    """The row of a box: one may go on overleaf, but the foot of each page is a row of its own."""
    page = int(box["page"]) if box["row"] == "stopped here" else 0
    return box["sheet"], box["operation"], box["row"], page


def _of_row(
    place: tuple[str, str, str], group: list[Mapping[str, Any]], limits: Limits | None
) -> list[Field]:
    sheet, operation, row = place
    made = []
    for kind, meanings in _grouped(row, group):
        unit = limits.unit if limits and kind == "number" else ""
        field = Field(sheet, operation, row, "", kind, tuple(meanings), unit=unit)
        if limits is not None:
            field = replace(field, of=limits.of, reading=limits.reading)
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


def _described(field: Field, limits: Limits | None) -> Field:
    """The field with what its boxes and its limits say of it."""
    meaning = field.boxes[0]
    if field.kind == "choice":
        words = tuple(re.split(r": | (?=used)|^used ", each)[-1] for each in field.boxes)
        told = (limits.corner, limits.take) if limits is not None else ("", "")
        field = replace(field, choices=words, corner=told[0], take=told[1])
    if field.kind == "stamp":
        field = replace(field, who=_classes(field))
    if field.kind == "words" and limits is not None and _is_measured(field, limits):
        field = _measured(field, limits)
    if field.kind == "words" and (more := figure(field.sheet, meaning, limits)):
        field = replace(field, **more)
    if field.kind == "words" and limits is not None and limits.unit == SINCE:
        field = _logged(field)
    if field.kind == "date" and limits is not None:
        field = replace(field, lower=_fixed(limits.lower))
    if field.kind == "clock" and limits is not None and limits.unit in (IN_TURN, SINCE):
        field = _clock(field, limits)
    return replace(field, may_be_empty=_is_optional(field, limits))


def _measured(field: Field, limits: Limits) -> Field:
    """A reading with what it must be."""
    told = (limits.lower, limits.upper, limits.accept_from, limits.accept_to)
    lower, upper, low, high = map(_fixed, told)
    return replace(
        field, kind="number", lower=lower, upper=upper, unit=limits.unit,
        accept_from=low, accept_to=high, lower_by=limits.lower_by, upper_by=limits.upper_by,
        accept_by=limits.accept_by,
    )  # fmt: skip


def _logged(field: Field) -> Field:
    """A value of a log is a number in the unit that stands in its box; what was seen is words."""
    _, comma, scale = field.boxes[0].rpartition(", ")
    return replace(field, kind="number", unit=scale) if comma else field


def _clock(field: Field, limits: Limits) -> Field:
    """A clock with what it is held against; of the two of a sum, it is the second that adds."""
    field = replace(field, unit=limits.unit, of=limits.of)
    if limits.added and not field.boxes[0].endswith(" to hours"):
        return field
    return replace(
        field, added=limits.added, added_by=limits.added_by, not_before=limits.not_before,
        not_after=limits.not_after, waits=limits.waits,
    )  # fmt: skip


def _classes(field: Field) -> str:
    """The class whose stamp a box asks for, or several with "or" between them."""
    if field.sheet == "hold-list" and _STOP_ROW.fullmatch(field.row):
        return "inspector"  # who chooses the points
    if field.row == "go on without":
        return "lead or inspector"
    found = (_SIGNER.findall(words) for words in (field.boxes[0], field.row))
    return " or ".join(dict.fromkeys(next(filter(None, found), [])))


def _fixed(limit: str) -> str:
    """A limit that is a number on the sheet; "" for one that is open or ticked elsewhere."""
    return "" if limit in ("-", "record", "ticked") else limit


def _is_optional(field: Field, limits: Limits | None) -> bool:
    """Whether a box may stay empty: never one of a reading, however the reading is called."""
    if field.sheet in _WHEN_NEEDED:
        return True
    if limits is not None:
        return False
    if _SPARE.fullmatch(field.row):
        return True
    said = (field.row, field.boxes[0], field.name)
    loose = not field.operation and any(_LOOSE_ROW.fullmatch(each) for each in said)
    return loose or any(_MAY_BE_EMPTY.fullmatch(each) for each in said)


def _is_measured(field: Field, limits: Limits) -> bool:
    """Whether a box takes a value of its reading, and not a word, a temperature or a sum."""
    if limits.unit in ("words", "clock", "date", "tick"):
        return False
    first = field.boxes[0].removesuffix(f", {limits.unit}")
    numbered = re.fullmatch(rf"{re.escape(field.row)} \d+", first)
    return bool(first == field.row or numbered or _TAKEN.fullmatch(first))


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
