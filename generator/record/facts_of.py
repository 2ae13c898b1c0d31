"""A traveller of the record, in; every fact of it that somebody may look for, out."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from generator.findings import Refusal
from generator.record.desk import COMPLETED, ISSUED
from generator.record.files import as_written, quick_tree
from generator.record.history import Recorded, acts_named, in_turn
from generator.signs import LEFT_BLANK, UNREADABLE, is_whole, things_in

_KINDS = ("batch", "certificate", "release")
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


@dataclass(frozen=True)
class _Word:
    """What stands in a box, the file that says so and the day on which that was entered."""

    row: str
    name: str
    text: str
    path: str
    day: str


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
    results: dict[str, list[Recorded]] = {}
    for path, kind, tree in acts:
        if not tree:
            raise _unreadable(path)
        day = str(tree.get("on", ""))
        yield Row(serial, "stamp", str(tree.get("by", "")), "", kind, day, "", path)
        if kind != "result":
            yield from _act(serial, path, kind, day, tree)
    for act in in_turn(acts):
        if act.kind == "result":
            results.setdefault(str(act.tree.get("supplement", "")), []).append(act)
    for named, entered in results.items():
        own = _form(folder / COMPLETED / serial / named / "form.yaml") if named else form
        standing = _in_force(entered, own)
        for row in _entered(serial, standing, own, instruments, means):
            # A sheet of rework or of a revision is called a traveller by its boxes.
            where = re.sub(r"^traveller(?=,)", f"sheet {named}", row.where) if named else row.where
            yield replace(row, where=where)


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


def _in_force(results: Sequence[Recorded], form: _Form) -> Mapping[tuple[str, str], list[_Word]]:
    """What stands in the boxes of each sheet and operation after all that was entered there: of one
    that was corrected, what was entered last."""
    beside: dict[tuple[str, str, str], list[str]] = {}
    kinds = {key: field.get("kind") for key, field in form.items()}
    for key in form:
        beside.setdefault(key[:3], []).append(key[3])
    found: dict[tuple[str, str], dict[tuple[str, str], _Word]] = {}
    for act in results:
        for sheet, operations in (act.tree.get("boxes") or {}).items():
            for operation, rows in (operations or {}).items():
                place = (sheet, "" if operation == "sheet" else operation)
                standing = found.setdefault(place, {})
                for row, value in (rows or {}).items():
                    names = beside.get((*place, row), [])
                    first = kinds[(*place, row, names[0])] if names else ""
                    alike = [n for n in names if kinds[(*place, row, n)] == first]
                    for name, word in _words(row, value, names, alike):
                        day = str(act.tree.get("on", ""))
                        standing[row, name] = _Word(row, name, word, act.path, day)
    return {place: list(filter(_is_told, words.values())) for place, words in found.items()}


def _words(
    row: str, value: Any, names: Sequence[str], alike: Sequence[str]
) -> Iterator[tuple[str, str]]:
    """Name and word of everything that is written in the boxes of a row. One word alone is that of
    each of them, such as N/A; a list is of those that are alike, in their order."""
    if row == "ticks":
        return
    named = value if isinstance(value, dict) else dict.fromkeys(names or [""], value)
    if isinstance(value, list):
        count = len(value) == len(alike)
        named = dict(
            zip(alike if count else map(str, range(1, len(value) + 1)), value, strict=True)
        )
    for name, word in named.items():
        if told := str(word or "").strip():
            yield name, told


def _is_told(word: _Word) -> bool:
    """Whether a word is a value, and none by which one was taken back."""
    return not word.text.startswith("N/A") and word.text not in (LEFT_BLANK, UNREADABLE)


def _entered(
    serial: str,
    standing: Mapping[tuple[str, str], Sequence[_Word]],
    form: _Form,
    instruments: Collection[str],
    means: _Means,
) -> Iterator[Row]:
    measuring = {key[:3] for key, field in form.items() if field.get("kind") == "number"}
    for (sheet, number), words in standing.items():
        days = [
            (w.row, w.text) for w in words if _DONE.fullmatch(w.name) and _DAY.fullmatch(w.text)
        ]
        own_days = dict(reversed(days))
        read = _readings(sheet, number, words, form)
        for word in words:
            row, name = word.row, word.name
            field = form.get((sheet, number, row, name), {})
            if kind := _kind(field, row, name, instruments):
                label = f"{row}: {name}" if name else row
                where = f"{sheet.replace('-', ' ')}, {label}"
                by = (name or row).removesuffix(" no.")
                # A feature has its own instrument, and that its own values alone.
                alone = row.startswith("feature ") and (sheet, number, row) in measuring
                own = [each for each in read if each[0] == row] if alone else read
                note = _read_with(by, number, own, means) if kind == "instrument" else ""
                first = days[0][1] if days else word.day
                # Who measured the features of a sheet signs for all of them in one row.
                first = own_days.get("measured", first) if row.startswith("feature ") else first
                on = own_days.get(row, first)
                for each in _each_of(word.text):
                    yield Row(serial, kind, each, number, where, on, note, word.path)


def _each_of(word: str) -> list[str]:
    """What stands in one box: several things, or what was written late."""
    late = _LATE.fullmatch(word)
    return things_in(late[1] if late else word)


def _readings(
    sheet: str,
    operation: str,
    words: Sequence[_Word],
    form: _Form,
) -> list[tuple[str, str]]:
    """What was measured in an operation: the row, and it in words."""
    told = []
    for word in words:
        field = form.get((sheet, operation, word.row, word.name), {})
        if field.get("kind") == "number" or (not field and is_whole(word.name)):
            told.append((word.row, f"{word.row} {word.text} {field.get('unit', '')}".strip()))
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
    if field.get("kind") in ("tick", "choice", "clock", "date", "number"):
        return ""  # a count of remnants that are marked with their batch is none
    # A row that is one box alone has no name: its box says what it is for.
    said = f"{row} {name or next(iter(field.get('boxes', ())), '')}".lower()
    if "slip no" in said:
        return "slip"
    if (name or row) in instruments:
        return "instrument"
    if "charge" in said:
        return _of_a_charge(said, field)
    found = next((kind for kind in _KINDS if kind in said), "")
    return found or ("number" if said.rstrip().endswith(" no.") else "")


def _of_a_charge(said: str, field: Mapping[str, Any]) -> str:
    """What a box beside a charge holds: its own number, its furnace or bath, its coupon; never what
    was measured of it, nor the serials that were in it."""
    if not said.rstrip().endswith((" no.", " charge")):
        return ""
    if "serials" in said:
        return ""
    return next((kind for kind in ("furnace", "coupon") if kind in said), "charge")


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
