"""A small record with one file of it damaged, in; what every reader of the record makes of it, out:
for the fuzzer. The damaged file is taken as if the lists held its sum, as a hostile desk would
write it."""

from __future__ import annotations

import copy
import re
import tempfile
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from generator.commands.attach import sides_missing
from generator.commands.close import still_open
from generator.commands.enter import entries_of, form_read
from generator.commands.list import _come as come
from generator.record import register, text_of, tree_of
from generator.record.apart import at_odds
from generator.record.expected import expected
from generator.record.facts_of import rows_of
from generator.record.history import traveller
from generator.record.index import INDEX, found_in, indexed, rows_in
from generator.record.media import media_findings
from generator.record.processes import acts_of, issued_of
from generator.record.slips import slip_named, slips_of
from generator.record.sound import registered, sound
from generator.record.verify import verified
from generator.results.entries import OUTSIDE
from generator.results.form_tree import tree_of_form
from tests.hostile.boxes import WORDS, sweeps, words_typed
from tests.hostile.fuzzing import NASTY, Target
from tests.hostile.targets import encoded, heard, sound_form
from tests.results.filled import filled

ISSUED, DONE, PROCESS = "output/issued/A-0001", "output/completed/A-0001", "output/processes"
HEAD = "traveller: A-0001\n'on': '2026-11-26'\nby: LQ1\nafter: []\n"
RESULT, FIELDS = f"{DONE}/A-001-result.yaml", 40
SUM = "98e27bedc5f4cd4511c0228cdac52ed12c5c5acf241f3ff79aada83fccd904e2"
FILES = {
    f"{ISSUED}/facts.yaml": (
        "traveller: A-0001\nprocess: T6-P-0120\nrevision: A\ntrade: forming\npart: T6-120-1\n"
        f"part serials:\n- '0001'\nissued on: '2026-11-25'\nby: LQ1\nfingerprint: {SUM}\n"
        f"approval: {PROCESS}/T6-P-0120/A-001-approve.yaml\n"
    ),
    f"{ISSUED}/given.yaml": "values:\n  leg: {is: 30 mm, from: measured on A-0001}\n",
    f"{ISSUED}/workshop/instruments.yaml": (
        "instruments:\n- {number: G-101, kind: micrometer, reads to: 0.001 mm, check due: 2027-04-02}\n"
    ),
    f"{ISSUED}/traveller.md": "# A\n",
    f"{ISSUED}/boxes.json": '[{"sheet": "traveller", "page": 1}]',
    f"{DONE}/A-002-slip.yaml": (
        f"act: slip\n{HEAD}slip: NC-A-0001\noperation: '10'\nsays: 0.96 mm, limit 0.954.\n"
    ),
    f"{DONE}/A-003-dispose.yaml": (
        f"act: dispose\n{HEAD}slip: NC-A-0001\ndecision: use\nwhy: It is allowed.\n"
    ),
    f"{DONE}/A-004-concession.yaml": (
        f"act: concession\n{HEAD}concession: CN-A-0001\nslip: NC-A-0001\noperation: '10'\nsays: x\n"
        "covers:\n- {sheet: traveller, operation: '10', row: thickness, name: '', value: '0.9'}\n"
    ),
    f"{DONE}/B-001-attach.yaml": (
        f"act: attach\n{HEAD}files:\n- {{file: a.pdf, path: output/media/A-0001/a.pdf, "
        f"sha256: {SUM}, bytes: '9', kind: scan, says: scan, sheets: 1 to 5, side: both}}\n"
    ),
    f"{DONE}/B-002-decide.yaml": f"act: decide\n{HEAD}revision: B\ndecision: finish\nwhy: Small.\n",
    f"{DONE}/B-003-fit.yaml": (
        f"act: fit\n{HEAD}part: T6-120-1\npart serial: '0001'\nairframe: 6-03\nposition: hull\n"
    ),
    f"{PROCESS}/T6-P-0120/A-001-approve.yaml": (
        "act: approve\nprocess: T6-P-0120\n'on': '2026-11-25'\nby: LQ14\nentry: PR-A-0001\n"
        f"revision: A\nfingerprint: {SUM}\ncommit: 2bdf52ba\n"
    ),
    f"{PROCESS}/T6-P-0120/issued-A.txt": "A-0001 A 0001\n",
    "output/slips-A.txt": "NC-A-0001 A-0001 10 0.96 mm, limit 0.954.\n",
    "output/concessions-A.txt": "CN-A-0001 NC-A-0001 A-0001\n",
    "output/processes-A.txt": f"PR-A-0001 T6-P-0120 A {SUM}\n",
    "output/media/A-0001/a.pdf": "%PDF\n",
}


@cache
def _record() -> tuple[Path, tempfile.TemporaryDirectory[str]]:
    """The record as it is before anything is damaged; the folder goes with the process."""
    held = tempfile.TemporaryDirectory(prefix="record")
    folder = Path(held.name)
    form, shop = sound_form()
    form = replace(form, fields=form.fields[:FIELDS])  # a whole one takes most of the time
    instruments = {each.kind: each.number for each in shop.instruments}
    boxes = filled(form, "A-0001", instruments).partition("boxes:")[2]
    process = (Path(__file__).parents[1] / "cases/sound/processes/shelf.yaml").read_text("utf-8")
    files = FILES | {
        f"{ISSUED}/form.yaml": text_of(tree_of_form(form)).decode(),
        f"{ISSUED}/process.yaml": process,
        RESULT: f"act: result\n{HEAD}boxes:{boxes}",
    }
    for path, text in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(text.encode())
    _listed(folder)
    return folder, held


def _listed(folder: Path) -> None:
    """The sums of what stands there, in the lists that hold them."""

    def rows(start: str) -> str:
        names = sorted(each.relative_to(folder).as_posix() for each in folder.rglob("*.*"))
        kept = (n for n in names if n.startswith(start) and not n.endswith((".txt", ".pdf")))
        return "".join(register.line(each, (folder / each).read_bytes()) for each in kept)

    sums = f"{ISSUED}/sums.txt"
    (folder / sums).write_text(rows(f"{ISSUED}/"), encoding="utf-8")
    told = (
        rows(f"{DONE}/") + rows(f"{PROCESS}/") + register.line(sums, (folder / sums).read_bytes())
    )
    (folder / "output/register-A.txt").write_text(told, encoding="utf-8")


def act(path: str, text: str) -> str:
    """A damaged file that the lists hold as it is: every reader refuses it or reads it."""
    folder, _ = _record()
    whole = (folder / path).read_bytes()
    content = encoded(text)
    lists = [folder / f"{ISSUED}/sums.txt", folder / "output/register-A.txt"]
    before = [each.read_bytes() for each in lists]
    try:
        (folder / path).write_bytes(content)
        old, new = sha256(whole).hexdigest().encode(), sha256(content).hexdigest().encode()
        inner = before[0].replace(old, new)
        lists[0].write_bytes(inner)
        sums = (sha256(each).hexdigest().encode() for each in (before[0], inner))
        lists[1].write_bytes(before[1].replace(old, new).replace(*sums))
        return _asked(folder, (_facts, _standing, _disagreeing))
    finally:
        (folder / path).write_bytes(whole)
        for each, told in zip(lists, before, strict=True):
            each.write_bytes(told)


def listing(path: str, text: str) -> str:
    """A damaged list, register or index."""
    folder, _ = _record()
    (folder / INDEX).unlink(missing_ok=True)
    whole = (folder / path).read_bytes() if path != INDEX else indexed(folder).text.encode()
    try:
        (folder / path).write_bytes(encoded(text))
        return _asked(folder, (_lists, _index))
    finally:
        (folder / path).write_bytes(whole)


def _asked(folder: Path, questions: tuple[Callable[[Path], str], ...]) -> str:
    return "; ".join(heard(lambda ask=ask: ask(folder)) for ask in questions)


def _facts(folder: Path) -> str:
    rows = list(rows_of(folder, "A-0001"))
    assert all(isinstance(cell, str) for row in rows for cell in (row.kind, row.value, row.note))
    return str(len(rows))


def _standing(folder: Path) -> str:
    """What a close asks of a traveller."""
    sound(folder, "A-0001")
    history = traveller(folder, "A-0001")
    form = form_read(history)
    entries_of(history, form)
    slips_of(history)
    heard(lambda: sides_missing(history))
    heard(lambda: come(history, sound_form()[1]))
    return str(len(still_open(history, sound_form()[1], "2026-11-30")))


def _disagreeing(folder: Path) -> str:
    history = traveller(folder, "A-0001")
    list(at_odds(history.acts))
    acts = [each.path for each in history.acts]
    found = list(media_findings(folder, acts))
    acts_of(folder, "T6-P-0120")
    return str(len(found))


def _lists(folder: Path) -> str:
    expected(folder)
    registered(folder)
    rows = (folder / "output/register-A.txt").read_bytes()
    assert register.last(rows, "A") >= 0
    heard(lambda: sound(folder, "A-0001"))
    heard(lambda: issued_of(folder, "T6-P-0120"))
    heard(lambda: slip_named(folder, "NC-A-0001"))
    found, _ = verified(folder)
    assert all(each.wrong for each in found)
    return str(len(found))


def _index(folder: Path) -> str:
    made = indexed(folder)
    list(rows_in(made.text))
    return str(len(list(found_in(made.text, "LQ1"))))


def _damaging(paths: tuple[str, ...], run: Callable[[str, str], str]) -> Callable[[str], str]:
    """The first line of an input says which file of the record it is in the place of."""

    def chosen(text: str) -> str:
        path, _, rest = text.partition("\n")
        return run(path if path in paths else paths[len(path) % len(paths)], rest)

    return chosen


def _target(name: str, paths: tuple[str, ...], run: Callable[[str, str], str]) -> Target:
    folder, _ = _record()
    indexed(folder)
    seeds = [f"{path}\n{(folder / path).read_text('utf-8')}" for path in paths]
    keys = sorted(set(re.findall(r"[a-z][a-z ]+:", "".join(seeds))))[:80]
    own = (*keys, SUM, f"{ISSUED}/sums.txt", "A-0001", "A-99999", "B-0001", "NC-A-0001", "&a [*a]",
           "- a", "[a]", "{a: b}", "~", "''", "../../../etc/passwd", f"{DONE}/../x", "registers,")  # fmt: skip
    return Target(name, _damaging(paths, run), seeds, (*NASTY, *own), ("record",), 12_000)


def words_target() -> Target:
    """Words in the boxes of the result that is recorded, as `list` and `close` come upon them."""
    folder, _ = _record()
    whole = tree_of(folder / RESULT)
    form, _ = sound_form()
    fields = form.fields[:FIELDS]

    def run(text: str) -> str:
        boxes: dict[str, Any] = copy.deepcopy(whole["boxes"])
        for field, word in words_typed(text, fields):
            rows = boxes.setdefault(field.sheet, {}).setdefault(field.operation or OUTSIDE, {})
            if isinstance(rows.setdefault(field.row, {}), str):
                rows[field.row] = {}
            rows[field.row][field.name] = word
        return act(RESULT, text_of({**whole, "boxes": boxes}).decode())

    return Target("words", run, (*sweeps(4),), (*NASTY, *WORDS), ("record", "commands"), 12_000)


def act_target() -> Target:
    acts = (each for each in FILES if each.endswith(".yaml"))
    return _target("acts", (*acts, RESULT, f"{ISSUED}/process.yaml"), act)


def list_target() -> Target:
    lists = (each for each in FILES if each.endswith(".txt"))
    more = ("output/register-A.txt", f"{ISSUED}/sums.txt", INDEX)
    return _target("lists", (*lists, *more), listing)
