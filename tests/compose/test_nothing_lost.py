"""Operations of the demo, of the stress process and made-up ones with every two things beside each
other, in; that all they say is printed once where it is written down, or refused at its line, out.

An operation is written down on the traveller or on one record; the inspection sheet, the lists and
the table of numbers do not count.
"""

from __future__ import annotations

import json
import random
import re
import shutil
from bisect import bisect
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from generator.compose import SheetFacts
from generator.composing.escape import escape
from generator.draw import box_map, lay_out
from generator.process import Operation, Process, Reading
from generator.quantities.amount import Amount
from generator.results.form import Form, form_of
from generator.workshop import chosen, open_shop, sheets_of
from tests.compose.made_up import NEEDS, NUMBER, operations, process
from tests.compose.sheets import FACTS, FILES, SHOP, made
from tests.draw import stress_process
from tests.helping import SOUND, texts_in

RECORDS = (
    "rigging-sheet", "functional-test-sheet", "heat-treatment-record", "tightening-record",
)  # fmt: skip
TREATED = "heat-treatment-record"
OWN = re.compile(r"(?m)^(?:## (?:([0-9]+) [a-z]+|Treatment of operation ([0-9]+))"
                 r"|#{1,2} Operation ([0-9]+))$")  # fmt: skip
OTHER = re.compile(r"(?m)^#{1,2} (?!Asked and found$|Clock$|Count and tests$)")


@dataclass(frozen=True)
class Printed:
    """A process as it was printed: what each sheet has of each operation, and the form."""

    process: Process
    parts: Mapping[tuple[str, int], str]
    riveted: str
    form: Form


def printed(own: Process, sheets: Mapping[str, str]) -> Printed:
    pack = lay_out(sheets)
    boxes = json.loads(box_map({kind: pack.sheet(kind) for kind in sheets}))
    parts: dict[tuple[str, int], str] = {}
    for kind in ("traveller", *RECORDS):
        for number, words in _parts(sheets.get(kind, "")):
            parts[kind, number] = parts.get((kind, number), "") + words
    return Printed(own, parts, sheets.get("rivet-map", ""), form_of(sheets, boxes))


def _parts(sheet: str) -> Iterator[tuple[int, str]]:
    for head in OWN.finditer(sheet):
        end = OTHER.search(sheet, head.end())
        yield int(next(filter(None, head.groups()))), sheet[head.end() : end and end.start()]


# --- what must be there -------------------------------------------------------------------------


def lost(of: Printed) -> Iterator[str]:
    """Everything that an operation says and no sheet has, or that two sheets have boxes for."""
    fields: dict[int, Counter[str]] = {}
    for field in of.form.fields:
        if field.operation and field.sheet in ("traveller", *RECORDS):
            fields.setdefault(int(field.operation), Counter())[f"{field.sheet} {field.row}"] += 1
    for operation in of.process.operations:
        if operation.deleted_at:
            continue
        own = {kind: words for (kind, n), words in of.parts.items() if n == operation.number}
        yield from (f"{operation.number}: {each}" for each in _lost_words(operation, own))
        rows = fields.get(operation.number, Counter())
        yield from (f"{operation.number}: {each}" for each in _lost_boxes(of, operation, rows))


def _lost_words(operation: Operation, own: Mapping[str, str]) -> Iterator[str]:
    """Texts, each as a reader of the paper sees it, and tables, figures and maps."""
    said = [text for words in own.values() for text in texts_in(words)]
    for what, text in _texts(operation):
        whole = re.split(r"\{\{.*?\}\}", " ".join(text.split()))
        if not any(all(piece.strip() in line for piece in whole) for line in said):
            yield f"{what}: {text[:60]!r} is printed nowhere"
    aimed = [r.name for r in operation.readings if _is_aimed(r)]
    for name in aimed if "{{" not in "".join(aimed) else ():
        row = rf"(?m)^\| {re.escape(escape(name))} \|(?:[^|]*\|){{4}} (?!- \|)[^|]+ \|$"
        if not any(re.search(row, words) for words in own.values()):
            yield f"the nominal of {name!r} is printed nowhere"
    for what, wanted in (
        ("strip|grid", operation.strip), ("lookup", operation.lookup),
        ("figure (?!chart)", operation.figure),
    ):  # fmt: skip
        held = sum(len(re.findall(rf"(?m)^::: (?:{what})", words)) for words in own.values())
        if held != bool(wanted):
            yield f"{what} stands {held} times"


def _is_aimed(reading: Reading) -> bool:
    """Whether its limits do not say what is aimed at: they are not on both sides of it alike."""
    aim, lower, upper = reading.nominal, reading.lower, reading.upper
    if aim is None or lower == aim == upper:
        return False
    ends = [end.value for end in (lower, aim, upper) if isinstance(end, Amount)]
    wanted = isinstance(aim, Amount) and aim.low is not None
    return not (wanted and abs(ends[0] + ends[2] - 2 * ends[1]) < 1e-9 * abs(ends[2]))


def _texts(o: Operation) -> Iterator[tuple[str, str]]:
    for what, texts in (
        ("do", (o.do.partition(" ")[2],)), ("step", o.steps), ("warning", o.warnings),
        ("caution", o.cautions), ("note", o.notes), ("point", o.points), ("uses", o.uses),
        ("state", (o.start, o.leave, o.if_it_fails)), ("by", (o.by,)),
        ("stamp", (o.released_by, o.attended_by, o.first_by, o.second_by)),
        ("sense", [text for point in o.sense for text in (point.do, point.see)]),
        ("log", [*o.log.of] if o.log else ()), ("window", ("window",) if o.within else ()),
    ):  # fmt: skip
        yield from ((what, text) for text in texts if text)
    if o.notice is not None:
        yield "notice", o.notice.typed
    if o.lookup is not None:
        yield from (("lookup", cell) for row in o.lookup.rows for cell in row)
        yield "lookup", o.lookup.title
    if o.heat_treatment is not None:
        asked = o.heat_treatment
        for text in (asked.alloy, asked.treatment, asked.by, asked.coupon, asked.quench):
            yield from [("treatment", text)] if text else []


def _lost_boxes(of: Printed, operation: Operation, rows: Counter[str]) -> Iterator[str]:
    """Rows of boxes that are on no sheet or on two: a reading in two places is made up in one."""
    wanted = [
        *((r.name, "a reading") for r in operation.readings if "{{" not in r.name),
        *((line.label, "a clock") for line in operation.clock),
        *((f"point {n}: {who}", "a sense") for n, _ in enumerate(operation.sense, 1)
          for who in ("first, inspector", "second, independent inspector")),
        *(("used", "a table") for _ in [1] if operation.strip),
        *(("abcdefghijklmnopqrstuvwxy"[n], "a step") for n in range(len(operation.steps))),
    ]  # fmt: skip
    if operation.log is not None:
        step, last = operation.log.every, operation.log.lasts
        wanted += [(f"0 {step.unit.text}", "a log"), (last.typed, "a log")]
    for row, what in wanted:
        on = [key.partition(" ")[0] for key in rows if key.partition(" ")[2] == row]
        if len(on) != 1:
            yield f"{what}, {row!r}, has boxes on {on or 'no sheet'}"
    yield from _lost_ticks(of, operation)


def _lost_ticks(of: Printed, operation: Operation) -> Iterator[str]:
    """Every fastener of a map has its tick; rivets have theirs once for all operations."""
    plan = of.process.maps.get(operation.map)
    if plan is None:
        return
    if plan.fastening == "rivet":
        if not re.search(rf"(?m)^Operation .*\b{operation.number}\b.* Not stopped", of.riveted):
            yield "a map of rivets that does not name it"
        return
    ticks = Counter(
        meaning
        for field in of.form.fields
        if field.operation == str(operation.number) and field.kind in ("tick", "choice")
        for meaning in field.boxes
        if meaning.startswith(plan.item)
    )
    if len(ticks) != plan.fasteners or {*ticks.values()} != {1}:
        yield f"{len(ticks)} of {plan.fasteners} fasteners are ticked"


# --- the demo, the stress process, and all that can be made up ----------------------------------


@pytest.mark.parametrize("file", FILES)
def test_nothing_of_a_demo_process_is_lost(file):
    assert [*lost(printed(SHOP.processes[file], made(file).sheets))] == []


def test_nothing_of_the_stress_process_is_lost(tmp_path):
    shop = open_shop(stress_process.write_workshop(tmp_path, "A4"))
    (file,) = chosen(shop, [stress_process.NUMBER])
    sheets, findings = sheets_of(shop, file, SheetFacts("A-0001", ("000000001",), "2026-11-25"))
    assert sheets is not None, findings
    assert [*lost(printed(shop.processes[file], sheets.sheets))] == []


# So many operations of three to six things, of each kind: half in `make test`, all in `make prove`.
@pytest.mark.parametrize("more", [30, pytest.param(60, marks=pytest.mark.prove)])
@pytest.mark.parametrize("kind", NEEDS)
def test_whatever_an_operation_says_is_printed_or_refused_at_its_line(tmp_path, kind, more):
    """Those that are refused are left out, and the others are asked for all that they say."""
    left = [*operations(kind, random.Random(510), more)]
    asked, keys = len(left), {pair for each in left for pair in _pairs(each)}
    for _ in range(4):
        own, sheets, refused = _tried(tmp_path, left)
        if sheets is not None:
            break
        left = [each for n, each in enumerate(left) if n not in refused]
    assert sheets is not None
    assert [*lost(printed(own, sheets))] == []
    # Work may say nearly everything together; who only stamps has no boxes beside the stamps.
    least = 0.15 if kind in ("hold", "witness", "independent") else 0.6
    assert len(left) > least * asked
    kept = {pair for each in left for pair in _pairs(each)}
    assert len(kept) > least * len(keys) * 0.8


def _pairs(operation: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    yield from ((one, other) for one in operation for other in operation if one < other)


def _tried(
    folder: Path, left: Sequence[Mapping[str, Any]]
) -> tuple[Process, Mapping[str, str] | None, set[int]]:
    """The sheets, or the places of the operations that are refused, each by a finding in it."""
    shutil.copytree(SOUND / "processes/workshop", folder / "processes/workshop", dirs_exist_ok=True)
    tree = process(left)
    parts = [stress_process.yaml_of([each], "  ") for each in tree.pop("operations")]
    starts = [stress_process.yaml_of(tree).count("\n") + 2]
    for each in parts:
        starts.append(starts[-1] + each.count("\n"))
    text = f"{stress_process.yaml_of(tree)}operations:\n{''.join(parts)}"
    (folder / "processes/made-up.yaml").write_text(text, encoding="utf-8")
    shop = open_shop(folder)
    (file,) = chosen(shop, [NUMBER]) if shop.processes else ("",)
    sheets, findings = (None, shop.findings) if shop.findings else sheets_of(shop, file, FACTS)
    before = len(parts) - len(left)
    refused = {bisect(starts, each.place.line) - 1 - before for each in findings}
    assert min(refused, default=0) >= 0, findings
    return shop.processes.get(file), sheets.sheets if sheets else None, refused
