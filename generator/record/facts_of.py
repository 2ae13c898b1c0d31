"""A traveller of the record, in; every fact of it that somebody may look for, out."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generator.findings import Refusal
from generator.record.desk import COMPLETED, ISSUED
from generator.record.files import as_written, quick_tree
from generator.record.history import acts_named
from generator.signs import is_whole

_KINDS = ("batch", "charge", "certificate", "release")
_NAMED_TRAVELLER = re.compile(r"\b[A-Z]-[0-9]{4,}\b")
_LATE = re.compile(r"late: (.+), written .+")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}|[0-9]{1,2} [A-Z]{3} [0-9]{4}")
# What the box of a day on which something was done is called; use by and check due are none.
_DONE = re.compile(r"(?:.* )?date(?: done| accepted)?")

_Means = Mapping[tuple[str, str], str]
_Form = Mapping[tuple[str, str, str, str], Mapping[str, Any]]


@dataclass(frozen=True)
class Row:
    """One fact: on which traveller, what kind of thing, what it is, where and when it was written,
    what goes with it, and the file that says so."""

    traveller: str
    kind: str
    value: str
    operation: str
    where: str
    day: str
    note: str
    file: str


def rows_of(folder: Path, serial: str) -> Iterator[Row]:
    """All rows of a traveller: what it is, what was entered, and every act on it."""
    with as_written(serial):
        yield from _rows_of(folder, serial)


def _rows_of(folder: Path, serial: str) -> Iterator[Row]:
    yield from _issued(folder, serial)
    place = folder / ISSUED / serial / "workshop" / "instruments.yaml"
    told = quick_tree(place).get("instruments", ())
    instruments = {f"{each.get('kind')} no." for each in told}
    form = _form(folder / ISSUED / serial / "form.yaml")
    acts = list(acts_named(folder, f"{COMPLETED}/{serial}"))
    means = _means(quick_tree(folder / ISSUED / serial / "process.yaml"))
    if any(tree.get("decision") == "adopt" for _, _, tree in acts):
        means = {}  # another revision may measure with another instrument: none is left out
    for path, kind, tree in acts:
        if not tree:
            raise _unreadable(path)
        day = str(tree.get("on", ""))
        yield Row(serial, "stamp", str(tree.get("by", "")), "", kind, day, "", path)
        if kind == "result":
            named = str(tree.get("supplement", ""))
            own = _form(folder / COMPLETED / serial / named / "form.yaml") if named else form
            boxes = tree.get("boxes") or {}
            yield from _entered(serial, path, day, boxes, own, instruments, means)
        else:
            yield from _act(serial, path, kind, day, tree)


def _unreadable(path: str) -> Refusal:
    """What cannot be read is never left out in silence: somebody would find nothing and believe
    it."""
    return Refusal("record", f"{path} cannot be read", "witnessmark verify, which says what it is")


def _issued(folder: Path, serial: str) -> Iterator[Row]:
    place = f"{ISSUED}/{serial}"
    facts = quick_tree(folder / place / "facts.yaml")
    process = quick_tree(folder / place / "process.yaml")
    part = process.get("part", {})
    day, file = str(facts.get("issued on", "")), f"{place}/facts.yaml"
    if not facts:
        raise _unreadable(file)

    def row(kind: str, value: Any, note: str = "") -> Row:
        return Row(serial, kind, str(value), "", "issue", day, note, file)

    yield row("traveller", serial, f"{facts.get('process')} revision {facts.get('revision')}")
    yield row("process", facts.get("process"), f"revision {facts.get('revision')}")
    yield row("trade", process.get("trade", ""), str(facts.get("process")))
    for told in facts.get("part serials", ()):
        yield row("part", f"{facts.get('part')} {told}", str(part.get("name", "")))
    yield row("name", part.get("name", ""), str(facts.get("part")))
    for told in part.get("known as", ()):
        yield row("old name", told, str(part.get("name", "")))
    yield row("fingerprint", facts.get("fingerprint"))
    yield row("stamp", facts.get("by", ""))
    if facts.get("replaces"):
        yield row("replaces", facts["replaces"])
    if part.get("drawing"):
        yield row("drawing", part["drawing"])
    for told in process.get("documents", ()):
        yield row("drawing", told.get("number"), f"issue {told.get('issue')}")
    yield from _approved(folder, serial, str(facts.get("approval", "")))
    yield from _given(folder, serial, day)


def _approved(folder: Path, serial: str, path: str) -> Iterator[Row]:
    """Who approved what was issued."""
    act = quick_tree(folder / path) if path else {}
    if act:
        says = f"revision {act.get('revision')} of {act.get('process')}"
        by, day = str(act.get("by", "")), str(act.get("on", ""))
        yield Row(serial, "stamp", by, "", "approve", day, says, path)


def _given(folder: Path, serial: str, day: str) -> Iterator[Row]:
    """The values that came with the part, by what they were measured on and where."""
    path = f"{ISSUED}/{serial}/given.yaml"
    values = quick_tree(folder / path).get("values", {})
    for name, told in values.items():
        source = str(told.get("from", ""))
        note = f"{name} {told.get('is')}: {source}"
        yield Row(serial, "given", name, "", "issue", day, note, path)
        for each in _NAMED_TRAVELLER.findall(source):
            yield Row(serial, "measured on", each, "", "issue", day, note, path)


def _form(file: Path) -> _Form:
    """The fields of a form by their keys, as its file has them."""
    tree = quick_tree(file) if file.exists() else {}
    return {
        (f["sheet"], f.get("operation", ""), f["row"], f.get("name", "")): f
        for f in tree.get("fields", ())
    }


def _entered(
    serial: str,
    path: str,
    day: str,
    boxes: Mapping[str, Any],
    form: _Form,
    instruments: Collection[str],
    means: _Means,
) -> Iterator[Row]:
    measuring = {key[:3] for key, field in form.items() if field.get("kind") == "number"}
    for sheet, operations in boxes.items():
        for operation, rows in (operations or {}).items():
            number = "" if operation == "sheet" else operation
            words = list(_words(rows))
            days = [(r, w) for r, name, w in words if _DONE.fullmatch(name) and _DAY.fullmatch(w)]
            first = days[0][1] if days else day
            own_days = dict(reversed(days))
            read = _readings(sheet, number, words, form)
            for row, name, word in words:
                field = form.get((sheet, number, row, name), {})
                if kind := _kind(field, row, name, instruments):
                    label = f"{row}: {name}" if name else row
                    where = f"{sheet.replace('-', ' ')}, {label}"
                    by = (name or row).removesuffix(" no.")
                    # A feature has its own instrument, and that its own values alone.
                    alone = row.startswith("feature ") and (sheet, number, row) in measuring
                    own = [each for each in read if each[0] == row] if alone else read
                    note = _read_with(by, number, own, means) if kind == "instrument" else ""
                    on = own_days.get(row, first)
                    for each in _each_of(word):
                        yield Row(serial, kind, each, number, where, on, note, path)


def _each_of(word: str) -> list[str]:
    """What stands in one box: several things with a comma between them, or one that was written
    late."""
    late = _LATE.fullmatch(word)
    told = [each.strip() for each in re.split(r"[,;]", late[1] if late else word)]
    return [each for each in told if each]


def _words(rows: Mapping[str, Any]) -> Iterator[tuple[str, str, str]]:
    """Row, name and word of everything that is written in some boxes; lists count their names."""
    for row, value in (rows or {}).items():
        if row == "ticks":
            continue
        named = value if isinstance(value, dict) else {"": value}
        if isinstance(value, list):
            named = {str(i): each for i, each in enumerate(value, start=1)}
        for name, word in named.items():
            told = str(word or "").strip()
            if told and not told.startswith("N/A") and told != "unreadable":
                yield row, name, told


def _readings(
    sheet: str,
    operation: str,
    words: list[tuple[str, str, str]],
    form: _Form,
) -> list[tuple[str, str]]:
    """What was measured in an operation: the row, and it in words."""
    told = []
    for row, name, word in words:
        field = form.get((sheet, operation, row, name), {})
        if field.get("kind") == "number" or (not field and is_whole(name)):
            told.append((row, f"{row} {word} {field.get('unit', '')}".strip()))
    return told


def _means(process: Mapping[str, Any]) -> _Means:
    """Operation and name of each reading -> the kind of instrument that the process names for it,
    "" for a count, which needs none; what is measured, and the process does not say by what, is not
    there."""
    found = {}
    for operation in process.get("operations", ()):
        for reading in operation.get("readings", ()):
            counted = reading.get("entry") == "count" or "exactly" in reading
            if counted or "with" in reading:
                key = (str(operation.get("number")), str(reading.get("name")))
                found[key] = str(reading.get("with", ""))
    return found


def _read_with(kind: str, operation: str, read: Sequence[tuple[str, str]], means: _Means) -> str:
    """The readings of an operation that were taken with one kind of instrument, and those of which
    the process does not say with which."""
    at = operation.partition("R")[0]
    return "; ".join(says for row, says in read if means.get((at, row), kind) == kind)


def _kind(field: Mapping[str, Any], row: str, name: str, instruments: Collection[str]) -> str:
    """What a box holds that somebody may look for; "" for all else."""
    if field.get("kind") == "stamp":
        return "stamp"
    if field.get("kind") in ("tick", "choice", "clock", "date"):
        return ""
    # A row that is one box alone has no name: its box says what it is for.
    said = f"{row} {name or next(iter(field.get('boxes', ())), '')}".lower()
    if "slip no" in said:
        return "slip"
    if (name or row) in instruments:
        return "instrument"
    found = next((kind for kind in _KINDS if kind in said), "")
    return found or ("number" if said.rstrip().endswith(" no.") else "")


def _act(serial: str, path: str, kind: str, day: str, tree: Mapping[str, Any]) -> Iterator[Row]:
    operation, says = str(tree.get("operation", "")), str(tree.get("says", tree.get("why", "")))

    def row(what: str, value: Any, note: str = says) -> Row:
        return Row(serial, what, str(value), operation, kind, day, note, path)

    if kind in ("slip", "dispose", "concession"):
        note = f"{tree['decision']}: {says}" if kind == "dispose" else says
        yield row("slip", tree.get("slip"), note)
    if kind == "concession":
        yield row("concession", tree.get("concession"))
    if kind == "fit":
        off = " taken off" if tree.get("removed") else ""
        position = f"{tree.get('airframe', '')} {tree.get('position')}".strip()
        yield row("position", position, f"part {tree.get('part serial')}{off}")
    if kind == "replace":
        yield row("replaced by", tree.get("with"))
    for told in tree.get("files", ()):
        note = " ".join(filter(None, (told.get("says"), told.get("sheets"), told.get("side"))))
        yield row(str(told.get("kind")), told.get("file"), note)
