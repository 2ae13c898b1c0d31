"""Words for the boxes of forms, in; what every reader of what was entered makes of them, out: for
the fuzzer. They are judged as if they were recorded: a record of before may hold any word."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cache

from generator.process import Workshop
from generator.read import read_text
from generator.results.case import Books, Case
from generator.results.entries import (
    Entry,
    as_printed,
    entries_in,
    entry_of,
    standing,
    unreadable,
)
from generator.results.form import Field, Form, Key
from generator.results.judge import judged
from generator.results.judge_across import across
from generator.results.progress import Filled, progress
from generator.signs import is_whole
from tests.compose.sheets import FILES, SHOP
from tests.hostile.fuzzing import NASTY, Target
from tests.hostile.targets import sound_form
from tests.results.filled import filled
from tests.results.test_form import form

ALL, TURN = "*", "turn "
KINDS = ("number", "clock", "date", "words", "choice", "tick", "stamp")
LONG = tuple("9" * digits for digits in (13, 20, 309, 400, 5_000))
WORDS = (
    *LONG, f"-{'9' * 400}", f"0.{'0' * 400}1", f"{'0' * 400}1", "1e400", "1e-400", "10e999999999",
    "0001-01-01", "9999-12-31", "1 JAN 0001", "31 DEC 9999", "0000-00-00", "23:59", "00:00",
    "999999999:00", f"{'9' * 5_000}:00", "&", "+", ";", ",", "-", "/", ".", ":", "±", "and", "to",
    f"0 to {'9' * 5_000}", f"{'9' * 20} to {'9' * 400}", "1 to 999999999", "B1 to B999999999",
    f"late: {'9' * 400}, written 9999-12-31", f"N/A: {'9' * 400}", "whole operation: x", "x",
    "G-101, G-101 & ;", "20 N·m", f"{'9' * 400} N·m", "left blank", "unreadable", "N/A",
)  # fmt: skip
FACTS = {"traveller": "A-0001", "process": "T6-P-0110", "revision": "A", "part": "T6-110-4P",
         "part serials": ("0001",), "issued on": "2026-11-01"}  # fmt: skip


@dataclass(frozen=True)
class Sheets:
    """A form with the words of a careful workshop in it, and what is known when it is judged."""

    form: Form
    entries: Mapping[Key, Entry]
    books: Books


def few_of_each(own: Form) -> Form:
    """A form with every clock, and of other rows that are alike the first: a whole one takes ten
    times as long to judge."""
    rows: dict[tuple[str, str, str], list[Field]] = {}
    for field in own.fields:
        rows.setdefault(field.key[:3], []).append(field)
    clocked = {field.operation for field in own.fields if field.kind == "clock"}
    kept: dict[object, list[Field]] = {}
    for key, fields in rows.items():
        of_times = any(f.kind == "clock" for f in fields) or (
            key[1] in clocked and "sign" in key[2]
        )
        alike = (
            key[0],
            *((f.kind, f.boxes[0] * bool(f.name), f.unit, bool(f.lower)) for f in fields),
        )
        kept.setdefault(key if of_times else alike, fields)
    return replace(own, fields=tuple(field for fields in kept.values() for field in fields))


def sheets_with(own: Form, shop: Workshop) -> Sheets:
    """A form, filled in whole, and few of each of its rows."""
    instruments = {each.number: each for each in shop.instruments}
    numbers = {each.kind: each.number for each in shop.instruments}
    document, findings = read_text(filled(own, "A-0001", numbers).encode(), "result.yaml")
    assert document is not None and not findings
    entries, faults = entries_in(document.tree["boxes"], own)
    assert not faults
    conceded = [(key, each.text) for key, each in entries.items() if is_whole(each.text)][:3]
    books = Books(
        {each.stamp: each for each in shop.stamps}, instruments, instruments, conceded,
        begun=date(2026, 11, 1), until=date(2026, 11, 30), parts=("0001", "B2"), trade="forming",
        batches={"B-01": {"block wax"}}, raised={"concession slips": ("CN-A-0001",)},
        on_slip={"10": ("NC-A-0001", "waits")},
    )  # fmt: skip
    return Sheets(few_of_each(own), entries, books)


def words_typed(text: str, fields: Sequence[Field]) -> Iterator[tuple[Field, str]]:
    """What an input writes in the boxes of a form: each line says in which of them, and the word,
    or with "turn 3" every word in its turn."""
    for key, _, word in (line.partition(": ") for line in text.split("\n")[:20]):
        first = word.removeprefix(TURN) if word.startswith(TURN) else ""
        turn = int(first) if is_whole(first) and len(first) < 6 else None
        for n, field in enumerate(_chosen(key, fields)):
            yield field, word if turn is None else WORDS[(n + turn) % len(WORDS)]


def _chosen(key: str, fields: Sequence[Field]) -> Collection[Field]:
    """The boxes that a line of an input means: all, those of a kind, or one by its number."""
    if key == ALL:
        return fields
    of_kind = [field for field in fields if field.kind == key]
    number = int(key) if is_whole(key) and len(key) < 6 else len(key)
    return of_kind or [fields[number % len(fields)]]


def told_by(text: str, of: Sheets) -> str:
    """Everything that is said of a traveller on which these words stand, each behind its box."""
    fields = of.form.fields
    told = {f.key: as_printed(f, entry_of(word)) for f, word in words_typed(text, fields)}
    for fault in unreadable({}, of.form, told):
        assert fault.wrong and fault.right
    entries = standing(of.entries, told)
    beside = [(of.form, entries)]
    verdicts = judged(of.form, entries, of.books, beside, [(of.form, of.entries)])
    assert all(each.says and each.where for each in verdicts)
    case = Case(of.form, entries, of.books)
    assert all(says for *_, says in across([("", case), ("R1", case)]))
    wrong = {(each.operation, each.row): each.says for each in verdicts}
    assert progress(FACTS, (Filled("", of.form, entries, {}, wrong),), ()).waits
    return " ".join(sorted({each.code for each in verdicts}))


def sweeps(turns: int) -> Iterator[str]:
    """All words in their turn in the boxes of each kind, the others filled in well, and in all boxes
    at once; then what breaks most in every number, every day and every word."""
    steps = range(0, len(WORDS), -(-len(WORDS) // turns))
    yield from (f"{key}: {TURN}{n}" for key in (*KINDS, ALL) for n in steps)
    yield from (f"number: {word}" for word in LONG)
    yield from (f"date: {day}" for day in ("0001-01-01", "9999-12-31"))
    yield from (f"words: {word}" for word in ("&", f"0 to {'9' * 5_000}"))


def _target(called: str, sheets: Sequence[Sheets]) -> Target:
    """The first line of an input says which of the forms it is of."""

    def run(text: str) -> str:
        which, _, rest = text.partition("\n")
        number = names.index(which) if which in names else len(which) % len(sheets)
        return told_by(rest, sheets[number])

    names = [str(n) for n in range(len(sheets))]
    own = (*WORDS, f"{TURN}1", *(f"{key}: " for key in (ALL, *KINDS)))
    seeds = tuple(f"{name}\n{text}" for name in names for text in sweeps(9))
    return Target(called, run, seeds, (*NASTY, *own), ("results",), 12_000)


@cache
def of_the_shelf() -> Sheets:
    """The sound shelf, which has a box of every kind."""
    return sheets_with(*sound_form())


@cache
def of_the_demo(file: str) -> Sheets:
    assert SHOP.workshop is not None
    return sheets_with(form(file)[0], SHOP.workshop)


def box_target() -> Target:
    return _target("boxes", [of_the_shelf()])


def demo_target() -> Target:
    """Every process of the demo: clocks, charges, maps, wrenches, logs and points."""
    return _target("boxes of the demo", [of_the_demo(file) for file in FILES])
