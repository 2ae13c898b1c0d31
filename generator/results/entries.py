"""A form and what somebody typed from the paper, in; the entry of each field, or faults, out.

One word per field: the figure as written (the box has its unit), x for a tick, a day, a stamp,
"N/A: reason", "unreadable", or "late: VALUE, written 26 NOV 2026"; "left blank" takes back what was
typed into a box that is empty.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from dataclasses import field as dataclass_field
from datetime import date
from itertools import groupby
from typing import Any

from generator.findings import Fault, near_word
from generator.quantities.text import WHOLE
from generator.read import Steps
from generator.results.form import Field, Form, Key
from generator.results.form_says import ordinal
from generator.results.values import day_of, is_clock, number_in
from generator.signs import LEFT_BLANK, UNREADABLE, is_whole

TICKS, OUTSIDE = "ticks", "sheet"
TICK = "x"
LONGEST = 1_000  # signs of a word; a box is a few lines at the most
_OPERATION = re.compile(r"[0-9]{1,4}(?:R.*)?")
_ASKED = re.compile(r"[?\s]*\?[?\s]*")
_DASHES = re.compile("[\N{MINUS SIGN}\N{EN DASH}]")
_TIMES = re.compile(r" ?[×*] ?|(?<=[0-9.]) ?x ?(?=[-+.0-9])")
_LATE = re.compile(r"late: (.+), written (.+)")


@dataclass(frozen=True)
class Entry:
    """What stands in one field. text: the value; state: blank, left blank (what stood there is
    taken back), written, not applicable, unreadable or late; why: the reason of N/A; written: the
    day of a late entry, as it was typed; entered: the day of the act by which it stands there."""

    text: str
    state: str
    why: str = ""
    written: str = ""
    entered: date | None = dataclass_field(default=None, compare=False)

    @property
    def stands(self) -> bool:
        """Whether there is a value to be judged."""
        return self.state in ("written", "late")


BLANK = Entry("", "blank")
_TAKEN_BACK = Entry("", LEFT_BLANK)
Entries = Mapping[Key, Entry]


def entry_of(word: str) -> Entry:
    """The entry that a word is."""
    word = word.strip()
    if not word:
        return BLANK
    if word == LEFT_BLANK:
        return _TAKEN_BACK
    if word == UNREADABLE:
        return Entry("", UNREADABLE)
    if word.startswith("N/A"):
        return Entry("", "not applicable", why=word[3:].lstrip(": ").strip())
    if late := _LATE.fullmatch(word):
        value = late[1].strip()
        return Entry(value, "late" if value else UNREADABLE, written=late[2].strip())
    return Entry(word, "written")


def entries_in(tree: Mapping[str, Any], form: Form) -> tuple[dict[Key, Entry], list[Fault]]:
    """The entries that a tree of boxes holds; a field that it does not name is blank."""
    found: dict[Key, Entry] = {}
    faults: list[Fault] = []
    sheets = {field.sheet for field in form.fields}
    for sheet, operations in tree.items():
        here: Steps = ("boxes", sheet)
        if sheet not in sheets or not isinstance(operations, Mapping):
            faults.append(_unknown(here, "sheet", sheet, sheets))
            continue
        numbers = {f.operation or OUTSIDE for f in form.fields if f.sheet == sheet}
        for operation, rows in operations.items():
            if operation not in numbers or not isinstance(rows, Mapping):
                faults.append(_unknown((*here, operation), "operation", operation, numbers))
                continue
            of = [f for f in form.fields if (f.sheet, f.operation or OUTSIDE) == (sheet, operation)]
            _read_rows((*here, operation), rows, of, found, faults)
    return {key: as_printed(form.by_key[key], each) for key, each in found.items()}, faults


def as_printed(field: Field, entry: Entry) -> Entry:
    """The entry of a choice as the sheet prints it: a keyboard has no such minus and no such times,
    and 0 is 0.0. A word that could be two of them stays as it is, and is none."""
    if field.kind != "choice" or not entry.stands or entry.text in field.choices:
        return entry
    alike = [each for each in field.choices if _spoken(each) == _spoken(entry.text)]
    return replace(entry, text=alike[0]) if len(alike) == 1 else entry


def _spoken(word: str) -> list[float | str]:
    """The sides of a word with "×" between them, numbers as such, other words without their case
    and their blanks."""
    plain = _DASHES.sub("-", " ".join(word.casefold().split()))
    sides = _TIMES.split(plain)
    told = (number_in(each) for each in sides)
    return [side if number is None else number for side, number in zip(sides, told, strict=True)]


def unreadable(tree: Mapping[str, Any], form: Form, entries: Mapping[Key, Entry]) -> list[Fault]:
    """Words that cannot stand in their box: they are told before anything is recorded, since what
    is recorded stays. tree: of the boxes, from which the entries were read."""
    faults = []
    for field in form.fields:
        entry = entries.get(field.key, BLANK)
        if (signs := max(map(len, (entry.text, entry.why, entry.written)))) > LONGEST:
            wrong = f"{signs} signs in the box {field.label}"
            right = f"at most {LONGEST} signs: more stands on the paper alone, or on a scan of it"
        elif asked := _ASKED.fullmatch(entry.text or entry.why):
            wrong = f"'{asked[0]}' in the box {field.label} says nothing"
            right = 'what stands on the paper; "" for an empty box, else unreadable'
        elif not _fits(field, entry):
            wrong = f"'{entry.text or 'N/A'}' does not fit the box {field.label}"
            right = _wanted(field) + _hint(field, entry.text)
        else:
            continue
        faults.append(Fault(place_of(field, form, tree), "result", wrong, right))
    return faults


def place_of(field: Field, form: Form, tree: Mapping[str, Any]) -> Steps:
    """The way to the word of a field in a tree of boxes: below its row by name, in a list, or with
    all ticks."""
    sheet, operation = field.sheet, field.operation or OUTSIDE
    steps: Steps = ("boxes", sheet, operation, field.row)
    rows = tree.get(sheet, {}).get(operation, {})
    if field.kind == "tick" and field.row not in rows:
        return (*steps[:-1], TICKS)
    if isinstance(rows.get(field.row), list):
        beside = _numbered([each for each in form.fields if each.key[:3] == field.key[:3]])
        return (*steps, beside.index(field)) if field in beside else steps
    return (*steps, field.name) if field.name else steps


def _numbered(fields: Sequence[Field]) -> list[Field]:
    """The fields of a row that a list of words fills in their order."""
    return [field for field in fields if field.kind == fields[0].kind]


def leaves_out(field: Field) -> bool:
    """Whether a box is ticked for N/A: it is no tick among others, and no text."""
    return field.kind == "words" and field.boxes[0].endswith("N/A")


def _fits(field: Field, entry: Entry) -> bool:
    text = entry.text
    if leaves_out(field):
        return text == TICK or (entry.state != "not applicable" and not entry.stands)
    if not entry.stands:
        return True
    if field.kind == "number":
        return number_in(text) is not None
    if field.kind == "date":
        return day_of(text) is not None
    if field.kind == "choice":
        return text in field.choices
    return is_clock(text) if field.kind == "clock" else field.kind != "tick" or text == TICK


def _wanted(field: Field) -> str:
    if leaves_out(field):
        return f'{TICK} where it is ticked, "" where it is not, {LEFT_BLANK} to take a tick back'
    return {
        "number": f"a number alone, its unit is {field.unit}" if field.unit else "a number",
        "clock": "a time such as 14:05",
        "date": "a day such as 2026-11-26",
        "tick": TICK,
    }.get(field.kind, "one of: " + ", ".join(field.choices))


def _hint(field: Field, text: str) -> str:
    """What is wrong with a number that is nearly one."""
    if field.kind != "number":
        return ""
    if "," in text:
        return ", with a point for its decimals"
    long = is_whole(text.partition(".")[0].lstrip("+-")) and len(text) > WHOLE
    return f", at most {WHOLE} digits before the point" if long else ""


def merged(results: Iterable[Mapping[str, Any]], form: Form) -> dict[Key, Entry]:
    """The entries that stand after several results, the latest last."""
    found: dict[Key, Entry] = {}
    for tree in results:
        found = standing(found, entries_in(tree, form)[0])
    return found


def standing(before: Entries, entries: Entries, corrects: bool = False) -> dict[Key, Entry]:
    """The entries that stand where more is written: blanks change nothing, and what is left blank
    takes back what stood there. What stands there already was written when it was first entered,
    also in a file that corrects something else; one that says nothing else corrects its day."""
    told = {key: each for key, each in entries.items() if each.state != "blank"}
    new = {key: each for key, each in told.items() if before.get(key) != each}
    changes = any(key in before or each.state != LEFT_BLANK for key, each in new.items())
    if corrects and not changes:
        new = told
    return {key: each for key, each in {**before, **new}.items() if each.state != LEFT_BLANK}


def _read_rows(
    here: Steps,
    rows: Mapping[str, Any],
    fields: Sequence[Field],
    found: dict[Key, Entry],
    faults: list[Fault],
) -> None:
    by_row = {row: list(group) for row, group in groupby(fields, key=lambda f: f.row)}
    for row, value in rows.items():
        if row == TICKS:
            ticked, wrong = _ticked((*here, row), value, [f for f in fields if f.kind == "tick"])
        elif row in by_row:
            ticked, wrong = _row((*here, row), value, by_row[row])
        else:
            ticked, wrong = {}, [_unknown((*here, row), "box", row, [*by_row, TICKS])]
        found |= ticked
        faults += wrong


def _row(here: Steps, value: Any, fields: list[Field]) -> tuple[dict[Key, Entry], list[Fault]]:
    """The entries of one row: a word, a list of words in order, or words by their names."""
    if isinstance(value, str):
        entry = entry_of(value)
        if len(fields) == 1 or not (entry.stands or entry.written):
            return {field.key: entry for field in fields}, []
        right = "one for each of: " + ", ".join(field.name for field in fields)
        return {}, [Fault(here, "result", f"one word for {len(fields)} boxes", right)]
    if isinstance(value, list):
        numbered = _numbered(fields)
        bare = [i for i, each in enumerate(value) if not isinstance(each, str)]
        if bare:
            right = 'one word, such as "" for blank'
            return {}, [Fault((*here, i), "result", "this is no word", right) for i in bare]
        if len(value) != len(numbered):
            asked, boxes = _several(len(numbered), "word"), _several(len(numbered), "box", "es")
            wrong = f"{_several(len(value), 'word')} for {boxes}"
            right = f'{asked}, such as "" for a box left blank'
            return {}, [Fault(here, "result", wrong, right)]
        return {f.key: entry_of(w) for f, w in zip(numbered, value, strict=True)}, []
    by_name = {field.name: field for field in fields}
    strange = [name for name in value if name not in by_name]
    if strange:
        return {}, [_unknown((*here, name), "box", name, by_name) for name in strange]
    for name, word in value.items():
        if not isinstance(word, str):
            wrong = f"'{name}' is one box, and this is no word"
            return {}, [Fault((*here, name), "result", wrong, 'one word, such as "" for blank')]
    return {by_name[name].key: entry_of(word) for name, word in value.items()}, []


def _several(count: int, thing: str, more: str = "s") -> str:
    return f"{count} {thing}{more * (count != 1)}"


def is_together(field: Field) -> bool:
    """Whether a tick is one of those that are typed in one word. One that may stay empty is typed
    in its row: all would say of each spare line that a rivet was replaced, and of a label that its
    part is serviceable and scrap."""
    return field.kind == "tick" and not field.may_be_empty


def _ticked(here: Steps, value: Any, fields: list[Field]) -> tuple[dict[Key, Entry], list[Fault]]:
    """Many ticks in one word: all, none, or a list of those that are not ticked under "not". Who
    says that one is not ticked takes it back where it stood."""
    asked = [field for field in fields if is_together(field)]
    if value in ("", "none", "all"):
        word = {"all": TICK, "none": LEFT_BLANK}.get(value, "")
        return {field.key: entry_of(word) for field in asked}, []
    missing = value.get("not") if isinstance(value, Mapping) and set(value) == {"not"} else None
    labels = [field.label for field in fields]
    if not isinstance(missing, list) or any(label not in labels for label in missing):
        right = "all, none, or not: and a list of " + ", ".join(labels[:6])
        return {}, [Fault(here, "result", "these ticks are not understood", right)]
    return {f.key: entry_of(LEFT_BLANK if f.label in missing else TICK) for f in asked}, []


def _unknown(steps: Steps, what: str, name: str, known: Iterable[str]) -> Fault:
    told = sorted(known, key=_by_number)
    near = near_word(name, [each for each in told if not is_whole(each)])
    right = near or "one of: " + ", ".join(told[:60])
    return Fault(steps, "result", f"there is no {what} '{name}' on this traveller", right, True)


def _by_number(name: str) -> tuple[int, str]:
    """Operations in their order, then all else: a line of a kit list may begin with a digit."""
    return (ordinal(name) if _OPERATION.fullmatch(name) else 10**6, name)
