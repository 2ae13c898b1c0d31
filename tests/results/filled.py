"""A form, in; entries with which a traveller can be closed, as a careful workshop would write them,
out, as the YAML of a result."""

from __future__ import annotations

import json
import math
import re
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from decimal import Decimal
from functools import cache
from pathlib import Path

from generator.composing.recorded import QUENCH
from generator.read import read_file
from generator.results.entries import OUTSIDE
from generator.results.form import Field, Form, Key
from generator.results.form_figures import SENT_ON
from generator.results.form_says import SINCE, ordinal
from generator.results.judge_heat import recorded_as

STAMPS = {
    "volunteer": "LQ14",
    "lead": "LQ1",
    "inspector": "INS2",
    "independent inspector": "IND4",
    "subcontractor": "HT9",
    "archivist": "AR1",
    "stores": "ST5",
    "": "LQ14",
}
_COPIED = re.compile(r"(lower|upper|accept from|accept to),? as ticked")
_COUNTS = {"raised": "0", "closed": "0", "open": "0", "scrapped": "0", "returned": "0"}
_TALLY = ("non-conformance slips", "concession slips", "supplementary sheets")
DAY, BEGUN = "2026-11-26", "2026-11-01"
EARLIER = "2026-11-12"  # of a notice


def filled(
    form: Form, serial: str, instruments: Mapping[str, str], own: Mapping[str, str] = {}
) -> str:
    """The result file. instruments: the number of one of each kind. own: words for fields that are
    called so, such as "30 thickness" or "feature 1: in", in place of good ones."""
    tree: dict[str, dict[str, dict[str, dict[str, str]]]] = {}
    clocks = dict(_clocks(form))
    rows: dict[tuple[str, str, str], list[Field]] = defaultdict(list)
    for field in form.fields:
        rows[field.key[:3]].append(field)
    rowed = {field.row for field in form.fields}
    for field in form.fields:
        label = f"{field.operation} {field.row}".strip()
        beside = rows[field.key[:3]]
        numbers = [f for f in beside if f.kind == "number"]
        mine = own.get(f"{label}: {field.name}", "")
        mine = mine or (own.get(label, "") if field in numbers or not numbers else "")
        word = (
            mine
            or _of_a_table(form, field, own)
            or clocks.get(field.key, "")
            or _of_a_wrench(form, field, beside, own)
            or _ticked(form, field, beside)
            or _mean(field, beside)
            or _of_a_map(form, field)
            or _of_a_log(form, field, rows)
            or _word(field, instruments, QUENCH in rowed)
        )
        if word:
            place = tree.setdefault(field.sheet, {}).setdefault(field.operation or OUTSIDE, {})
            place.setdefault(field.row, {})[field.name] = word
    lines = [f"traveller: {serial}", "boxes:"]
    for sheet, operations in tree.items():
        lines.append(f"  {sheet}:")
        for operation, rows in operations.items():
            lines.append(f"    {json.dumps(operation)}:")
            for row, words in rows.items():
                value = words[""] if list(words) == [""] else words
                lines.append(f"      {json.dumps(row)}: {json.dumps(value, ensure_ascii=False)}")
    return "\n".join(lines) + "\n"


def counted(*raised: int) -> dict[str, str]:
    """Words for the closing sheet: so many slips, concessions and supplementary sheets, all of them
    closed."""
    rows = list(zip(_TALLY, map(str, raised), strict=True))
    return {f"{row}: {name}": n for row, n in rows for name in ("raised", "closed")}


def _clocks(form: Form) -> Iterator[tuple[Key, str]]:
    """Times in their turn from ten o'clock on; what goes before a wait of days is signed days
    before the rest."""
    days = {f.key for f in form.fields if f.kind == "date"}
    clocks = [f for f in form.fields if f.kind == "clock" and f.unit]
    last = {_meant(f, f.not_after) for f in clocks} - {_meant(f, f.not_before) for f in clocks}
    times: dict[tuple[int, str], datetime] = {}
    now: dict[str, datetime] = {}
    above: dict[tuple[str, str], datetime] = {}
    for field in sorted(clocks, key=_in_turn):
        begun = datetime.fromisoformat(f"{BEGUN}T10:00")
        place = "" if field.operation else field.sheet
        when = now.get(place, begun)
        if field.name in ("from", "to"):  # a sum counts from the last time above it
            when = above.get(field.key[:2], when)
        copied = re.fullmatch(r"(.+) \(operation ([0-9]+)\)", field.row)
        if field.unit == "since start":
            when = begun + _long(field.row)
        elif field.added:
            when += _long(field.added if not field.added_by else _first_time(form, field))
        elif field.not_before:
            when = max(when, times[_meant(field, field.not_before)])
        elif copied:
            when = times[int(copied[2]), copied[1]]
        elif row := recorded_as(field):  # the record of its treatment stands before it
            when = max((n, t) for (n, r), t in times.items() if r == row)[1]
        own = (ordinal(field.operation or field.of), field.row)
        times[own] = when
        if field.name not in ("from", "to") or (field.waits and own not in last):
            now[place] = max(when, now.get(place, when))
        if field.name not in ("from", "to"):
            above[field.key[:2]] = when
        yield field.key, when.strftime("%H:%M")
        name = "day" if field.name == "time" else f"{field.name} day"
        if (*field.key[:3], name) in days:
            yield (*field.key[:3], name), when.date().isoformat()
    yield from _before_the_last_wait(form, days)


def _in_turn(field: Field) -> tuple[float, bool]:
    """The clocks of a treatment on its own sheet go before those of its operation."""
    return ordinal(field.operation or field.of) or math.inf, bool(field.operation)


def _meant(field: Field, label: str) -> tuple[int, str]:
    """The operation and the row of the sum that a clock is held against."""
    other = re.fullmatch(r"(.+), operation ([0-9]+)", label)
    again = re.search(r" \([0-9]+\)$|$", field.row)
    assert again is not None
    here = (ordinal(field.operation or field.of), label + again[0])
    return (int(other[2]), other[1]) if other else here


def _before_the_last_wait(form: Form, days: Collection[Key]) -> Iterator[tuple[Key, str]]:
    long = [f.operation for f in form.fields if f.waits and (*f.key[:3], "to day") in days]
    before = form.operations[: form.operations.index(long[-1])] if long else ()
    for each in form.fields:
        if each.operation in before and form.is_done_on(each):
            yield each.key, BEGUN


def _of_a_table(form: Form, field: Field, own: Mapping[str, str]) -> str:
    """What was read for a table of the operation, as its column that is ticked; the same column
    where it is ticked again."""
    if field.kind not in ("choice", "number"):
        return ""
    for used in (f for f in form.fields if f.kind == "choice" and f.row == "used" and not f.of):
        ticked = own.get(f"{used.operation} used", used.choices[0])
        if field.kind == "choice" and field.of == used.operation and field.row[:4] == "used":
            return ticked
        same = field.key[:2] == used.key[:2] and field.kind == "number"
        for corner, word in zip(used.corner.split(" / "), ticked.split(" × "), strict=False):
            if same and corner in (field.row, f"{field.row} {field.unit}"):
                return word
    return ""


def _long(words: str) -> timedelta:
    number, unit = words.split()[:2]  # behind it may stand the same in another unit
    return float(number) * {"s": timedelta(seconds=1), "min": timedelta(minutes=1),
                            "h": timedelta(hours=1), "d": timedelta(days=1)}[unit]  # fmt: skip


def _first_time(form: Form, field: Field) -> str:
    (row,) = [each for each in form.answers if each.mark == field.added_by]
    return f"{row.values[0]} {row.unit}"


def _of_a_wrench(form: Form, field: Field, beside: Sequence[Field], own: Mapping[str, str]) -> str:
    """A setting as it is printed or ticked, and what it is ticked for, in the boxes beside it."""
    by = next((f.set_by for f in beside if f.set_by), "")
    row = next((a for a in form.answers if by and by in a.marks), None)
    if field.set_to or row is None or field.kind != "number":
        return field.set_to
    (used,) = [f for f in form.fields if (f.kind, f.row, f.operation) ==
               ("choice", "used", row.operation)]  # fmt: skip
    ticked = own.get(f"{used.operation} used", used.choices[0])
    if field.set_by:
        return row.values[used.choices.index(ticked)]
    called = f"{field.name.removeprefix('running ')} {field.unit}"
    sides = zip(used.corner.split(" / "), ticked.split(" × "), strict=True)
    return next((word for corner, word in sides if corner.replace("_", " ").endswith(called)), "")


def _ticked(form: Form, field: Field, beside: Sequence[Field]) -> str:
    """A value within what the first column says, which is the one that gets ticked; a limit that is
    copied from it."""
    of = next(filter(_by, beside), None)
    if of is None:
        return ""
    copied = _COPIED.match(field.name)
    if copied:
        return _first(form, of, copied[1])
    if field.kind != "number" or not _by(field):
        return ""
    for ends in (("accept from", "accept to"), ("lower", "upper")):
        told = [Decimal(each) for end in ends if (each := _first(form, field, end))]
        if told:
            return str((sum(told) / len(told)).quantize(told[0]))
    return ""


def _by(field: Field) -> str:
    return field.lower_by or field.upper_by or field.accept_by


def _first(form: Form, field: Field, end: str) -> str:
    marks = {
        "lower": (field.lower_by, f"{field.lower_by}.from"),
        "upper": (field.upper_by, f"{field.upper_by}.to"),
    }.get(end, (f"{field.accept_by}.{end}",))
    return next((a.values[0] for mark in marks for a in form.answers if a.mark == mark), "")


def _mean(field: Field, beside: Sequence[Field]) -> str:
    """The mean and the range of readings that are all alike; "" for any other field."""
    what = field.name.partition(",")[0]
    readings = [f for f in beside if " of " in f.name]
    if what not in ("mean", "range") or not readings:
        return ""
    return "0" if what == "range" else _number(readings[0])


def _of_a_map(form: Form, field: Field) -> str:
    """As many of the kit were issued and used as the maps have driven, each of one rejected once a
    row and replaced."""
    item = re.sub(r" \([0-9]+\)$", "", field.row.partition(" ")[2])
    if field.sheet != "kit-list" or field.name not in ("issued", "used"):
        return ""
    if not any(f.sheet == "rivet-map" and f.row == f"{item} no. 1" for f in form.fields):
        return ""
    rows = [f for f in form.fields if f.sheet == "rivet-map" and f.name in ("driven", "replaced")]
    return str(sum(int(_number(f)) for f in rows))


def _of_a_log(form: Form, field: Field, rows: Mapping[tuple[str, str, str], list[Field]]) -> str:
    """What is read at the end, in every row of a log."""
    if field.kind != "number" or all(f.unit != SINCE for f in rows[field.key[:3]]):
        return ""
    ends = [f for f in form.fields if f.operation == field.operation and f.kind == "number"
            and f.row.startswith(f"{field.name} at the end")]  # fmt: skip
    return next((_ticked(form, f, rows[f.key[:3]]) or _number(f) for f in ends), "")


def _word(field: Field, instruments: Mapping[str, str], treated: bool = False) -> str:
    said = field.name or field.row
    if field.may_be_empty or "N/A" in said or "stopped here" in field.row:
        return ""
    if field.row == "go on without":
        return ""
    if said in _COUNTS:
        return _COUNTS[said]
    if field.kind == "number":
        return _number(field)
    if field.kind == "words":
        kind = said.removesuffix(" no.")
        if field.boxes[0] == "number used":
            return instruments.get(kind, "1")
        if "batch" in said:
            return _batches().get(re.sub(r"^\d+ | \(single use\)$", "", field.row), "B-77")
        return instruments.get(kind, "") if said.endswith(" no.") and kind in instruments else "1"
    if field.kind == "choice":
        good = [c for c in field.choices if c not in ("no", "out", "between", "did not come")]
        return good[0]
    if field.kind == "stamp":
        by_two = "second" in field.row and field.who == "volunteer"
        if field.row == "seen before closing up":
            return "LQ1"
        if by_two:
            return "LQ17"
        return STAMPS.get(field.who.partition(" or ")[0], field.who)
    day = EARLIER if field.row == "notice" else DAY
    day = BEGUN if field.boxes[0] == SENT_ON and field.kind == "date" and treated else day
    return {"tick": "x", "clock": "10:00", "date": day}[field.kind]


@cache
def _batches() -> Mapping[str, str]:
    """What the list of the demo has of each item."""
    file = Path(__file__).parents[2] / "processes/workshop/materials.yaml"
    document, _ = read_file(file, file.name)
    assert document is not None
    return {each["material"]: each["batch"] for each in document.tree["batches"]}


def _number(field: Field) -> str:
    ends = [field.accept_from or field.lower, field.accept_to or field.upper]
    told = [Decimal(each.replace("\N{MINUS SIGN}", "-")) for each in ends if each]
    if not told:
        return "1"
    middle = sum(told) / len(told)
    return str(middle.quantize(told[0])) if len(told) == 2 else str(told[0])
