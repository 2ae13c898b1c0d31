"""A folder with processes/ in it; everything a command needs of it, checked and worked out, out.

The only room between the commands and the stages: it runs read -> check -> compute -> compose ->
draw on files and turns faults into findings with their places.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from generator.check.between import needs_of, set_faults
from generator.check.build import build_process, build_values, build_workshop
from generator.check.instrument_rules import guard_advice, reach_advice, uncertainty_faults
from generator.check.reading_rules import bound_advice
from generator.check.rules import process_faults
from generator.check.shop import name_fault, row_faults, second_unit_faults, twice_faults
from generator.check.structure import deleted_faults, structure_faults
from generator.check.unused import unused
from generator.check.wording import advice, binding_faults
from generator.check.workings import work_out_faults
from generator.compose import SheetFacts, Sheets, compose
from generator.computing.board import ShopFacts
from generator.computing.compute import compute
from generator.computing.working import Workings
from generator.files import LISTS, no_folder, not_named, process_files
from generator.findings import Fault, Finding, Place, Refusal
from generator.odd_files import odd_files
from generator.process import PartValues, Process, Workshop
from generator.read import Document, read_file

# How each list of a workshop begins: what somebody writes who has none yet.
_BEGINS = {
    "workshop": "four lines, such as {workshop: Our shop, aircraft: Type 6, desk: A, "
    "units: Lengths in mm.}",
    "stamps": "a line for each, such as stamps: [{stamp: LQ1, class: lead, from: 2026-01-05}]",
    "instruments": "a line for each, such as instruments: "
    "[{number: G-101, kind: micrometer, check due: 2027-03-15}]",
}
OwnRows = dict[str, tuple[Mapping[str, str], ...]]


@dataclass(frozen=True)
class Shop:
    """A workshop folder as read: its own facts, its processes by file, and all findings so far."""

    folder: Path
    workshop: Workshop | None
    documents: Mapping[str, Document]
    processes: Mapping[str, Process]
    findings: tuple[Finding, ...] = field(default=())


def open_shop(folder: Path, alone: bool = False) -> Shop:
    """Read and check everything below processes/. Never stops at the first fault.

    alone: a single process, of which nobody asks whether the others it names are there.
    """
    if not (folder / "processes").is_dir():
        return Shop(folder, None, {}, {}, (no_folder(folder),))
    findings: list[Finding] = []
    workshop = _workshop(folder, findings)
    documents: dict[str, Document] = {}
    processes: dict[str, Process] = {}
    all_read = True
    findings += odd_files(folder)
    for shown in process_files(folder):
        document, faults = _own_file(folder / shown, shown)
        findings += faults
        if document is None or faults:
            all_read = False
            continue
        documents[shown] = document
        process = process_of(document, workshop, findings)
        if process is not None:
            processes[shown] = process
    if alone:
        return Shop(folder, workshop, documents, processes, tuple(findings))
    unsound = [str(d.tree.get("process")) for s, d in documents.items() if s not in processes]
    named = {shown: needs_of(process) for shown, process in processes.items()}
    for shown, fault in set_faults(named, unsound, all_read):
        findings.append(found(documents[shown], fault))
    return Shop(folder, workshop, documents, processes, tuple(findings))


def open_workshop(folder: Path) -> tuple[Workshop | None, list[Finding]]:
    """The workshop's own lists alone, and what is wrong with them."""
    if not (folder / "processes").is_dir():
        return None, [no_folder(folder)]
    findings: list[Finding] = []
    return _workshop(folder, findings), findings


def _own_file(file: Path, shown: str) -> tuple[Document | None, list[Finding]]:
    """A file of the workshop itself; what a link leads to is not read, and told as an odd file."""
    return (None, []) if file.is_symlink() else read_file(file, shown)


def found(document: Document, fault: Fault) -> Finding:
    """A fault at its place in the file."""
    place = document.place(fault.steps, fault.of_key)
    return Finding(place, fault.code, fault.wrong, fault.right, fault.advice)


def _workshop(folder: Path, findings: list[Finding]) -> Workshop | None:
    trees = {}
    sound = True
    for name in LISTS:
        file = folder / "processes" / "workshop" / f"{name}.yaml"
        shown = file.relative_to(folder).as_posix()
        if name == "materials" and not file.exists():
            continue
        if not os.path.lexists(file):
            findings.append(Finding(Place(shown), "file", "the file is missing", _BEGINS[name]))
            sound = False
            continue
        document, faults = _own_file(file, shown)
        findings += faults
        if document is None:
            sound = False
            continue
        wrong = structure_faults(document, name)
        if name == "workshop" and not wrong:
            wrong = list(second_unit_faults(document.tree))
        if name == "instruments" and not wrong:
            wrong = list(uncertainty_faults(document.tree))
            wrong += twice_faults(document.tree, name, "number")
        if name == "stamps" and not wrong:
            wrong = list(twice_faults(document.tree, name, "stamp"))
        findings += [found(document, each) for each in wrong]
        sound = sound and not (wrong or faults)
        trees[name] = document.tree
    rows, wrong_rows = own_rows(folder)
    findings += wrong_rows
    if not sound or wrong_rows:
        return None
    return build_workshop(trees["workshop"], trees["stamps"], trees["instruments"], rows)


def own_rows(folder: Path) -> tuple[OwnRows, list[Finding]]:
    """Rows that the workshop adds to published tables, and what is wrong with them."""
    found_rows: OwnRows = {}
    findings: list[Finding] = []
    for file in sorted((folder / "processes" / "workshop" / "tables").glob("*.yaml")):
        document, faults = _own_file(file, file.relative_to(folder).as_posix())
        findings += faults
        if document is None or faults:
            continue
        strange = name_fault(file.stem)
        wrong = [strange] if strange else structure_faults(document, "rows")
        wrong = wrong or list(row_faults(file.stem, document.tree["rows"]))
        findings += [found(document, each) for each in wrong]
        found_rows[file.stem] = tuple(document.tree.get("rows", ()))
    return found_rows, findings


def process_of(
    document: Document, workshop: Workshop | None, findings: list[Finding]
) -> Process | None:
    """The process of a document, or None; whatever is wrong with it is added to the findings."""
    faults = [*structure_faults(document, "process"), *deleted_faults(document.tree)]
    entries = work_out_faults(document.tree)
    findings += [found(document, each) for each in [*faults, *entries]]
    if faults or any(_unbuildable(each) for each in entries):
        return None
    process = build_process(document.tree)
    if workshop is not None:
        wrong = [*process_faults(process, workshop), *binding_faults(process, workshop)]
        findings += [found(document, each) for each in wrong]
    return None if entries else process


def advice_on(shop: Shop, shown: str, workings: Workings | None = None) -> list[Finding]:
    """Advice on one sound process, in the order of the file, which stops nothing: on its wording,
    dates without a bound, what nothing uses, limits of nothing that are guarded, and what no
    instrument reaches by the numbers that were worked out."""
    if shop.workshop is None:
        return []
    document, process = shop.documents[shown], shop.processes[shown]
    pieces = [
        *advice(process, shop.workshop),
        *bound_advice(process),
        *unused(process),
        *guard_advice(process, shop.workshop),
        *reach_advice(process, shop.workshop, workings.amounts if workings else {}),
    ]
    given = [found(document, each) for each in pieces]
    return sorted(given, key=Finding.reading_order)


def _unbuildable(fault: Fault) -> bool:
    codes = ("missing", "kind", "unknown", "calculation")
    return fault.code in codes or fault.steps[-1:] == ("to",)


@dataclass(frozen=True)
class Given:
    """The values of one part with the file they came from."""

    values: PartValues
    document: Document


def read_values(
    file: Path, look_up: Callable[[Document], tuple[Document, list[Fault]]] = lambda d: (d, [])
) -> tuple[Given | None, list[Finding]]:
    """The values of one part from a --given file.

    look_up: puts what was entered on other travellers in the place of their names.
    """
    document, findings = read_file(file, str(file))
    if document is None or findings:
        return None, findings
    faults = structure_faults(document, "values")
    if faults:
        return None, [found(document, each) for each in faults]
    whole, faults = look_up(document)
    if faults:
        return None, [found(document, each) for each in faults]
    return Given(build_values(whole.tree), whole), []


def work_out(
    shop: Shop, shown: str, values: PartValues | None = None, drafting: bool = True,
    values_from: Document | None = None,
) -> tuple[Workings, list[Finding]]:  # fmt: skip
    """Compute one process of the shop; faults of the part's values are placed in their own file."""
    workings, faults = compute(shop.processes[shown], values, drafting, shop_facts(shop))
    document = shop.documents[shown]
    findings = []
    for each in faults:
        own = values_from if each.steps[:1] == ("values",) and values_from else document
        findings.append(found(own, each))
    return workings, findings


def shop_facts(shop: Shop) -> ShopFacts:
    """What the workshop adds to the numbers of every process."""
    if shop.workshop is None:
        return ShopFacts()
    return ShopFacts(shop.workshop.also, shop.workshop.rows)


def chosen(shop: Shop, words: Sequence[str]) -> list[str]:
    """The files that the words name: a process number, or the path of its file."""
    numbers = {process.number: shown for shown, process in shop.processes.items()}
    files = []
    for word in words:
        shown = numbers.get(word) or (word if word in shop.processes else _by_path(shop, word))
        if shown is None:
            raise not_named(shop.folder, word, numbers)
        files.append(shown)
    return files


def _by_path(shop: Shop, word: str) -> str | None:
    try:
        shown = Path(word).resolve().relative_to(shop.folder.resolve()).as_posix()
    except ValueError:
        return None
    return shown if shown in shop.processes else None


def sheets_of(
    shop: Shop, shown: str, facts: SheetFacts, given: Given | None = None, drafting: bool = True
) -> tuple[Sheets | None, list[Finding]]:
    """The composed sheets of one sound process, or the findings that stand in their way."""
    workings, findings = work_out(
        shop, shown, given.values if given else None, drafting, given.document if given else None
    )
    return (None, findings) if findings else composed(shop, shown, workings, facts)


def composed(
    shop: Shop, shown: str, workings: Workings, facts: SheetFacts
) -> tuple[Sheets | None, list[Finding]]:
    """The sheets of a process that is worked out, or the findings that stand in their way."""
    assert shop.workshop is not None
    sheets, faults = compose(shop.processes[shown], workings, shop.workshop, facts)
    return sheets, [found(shop.documents[shown], fault) for fault in faults]


_OPERATION = re.compile(r"\boperation (\d+)\b")
_HEADED = (("the title", "title"), ("trade ", "trade"))


def laid_out(shop: Shop, shown: str, sheets: Mapping[str, str]) -> list[Finding]:
    """What cannot be drawn of composed sheets: all is drawn, and nothing made of it."""
    from generator.draw import lay_out

    try:
        lay_out(sheets).tried()
    except Refusal as refusal:
        return [not_laid_out(shop, shown, refusal)]
    return []


def not_laid_out(shop: Shop, shown: str, refusal: Refusal) -> Finding:
    """What cannot be laid out, at the operation or the key of the file that it speaks of."""
    document = shop.documents[shown]
    place = Place(shown)
    named = _OPERATION.search(refusal.wrong)
    numbers = [str(each.number) for each in shop.processes[shown].operations]
    if named and named[1] in numbers:
        place = document.place(("operations", numbers.index(named[1]), "number"))
    for begins, key in _HEADED:
        if refusal.wrong.startswith(begins):
            place = document.place((key,))
    return Finding(place, refusal.code, refusal.wrong, refusal.right)
