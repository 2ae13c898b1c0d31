"""`issue`: the next numbered traveller, frozen into output/issued/, registered and committed."""

from __future__ import annotations

import re
from argparse import Namespace
from collections.abc import Mapping
from datetime import date

from generator import __version__
from generator.check.readers import day as read_day
from generator.commands.draft import day_words, given_values, printed
from generator.commands.enter import form_file
from generator.commands.told import say, tell
from generator.compose import SheetFacts, kinds_of
from generator.findings import Finding, Refusal
from generator.process import Process
from generator.workshop import Given, Shop, chosen, open_shop, shop_files


class _Findings(Exception):
    """What stood in the way once the serial was known; the serial is not taken."""

    def __init__(self, findings: list[Finding]) -> None:
        super().__init__()
        self.findings = findings


def issue(asked: Namespace) -> int:
    """0 with a traveller issued, 1 with findings and no number taken."""
    from generator.record import recover, take

    shop = open_shop(asked.workshop)
    if shop.findings:
        tell(shop.findings, asked)
        return 1
    shown = chosen(shop, [asked.process])[0]
    process = shop.processes[shown]
    day = day_words(read_day(asked.on))
    _serials_fit(process, asked.serials)
    given, findings = given_values(asked, shop, [shown])
    findings += _before_its_revision(shop, shown, read_day(asked.on))
    findings += _of_another_part(given, asked.serials)
    findings += _uncommitted(shop, shown)
    findings += _out_of_date(shop, shown, read_day(asked.on))
    if findings:
        tell(findings, asked)
        return 1
    assert shop.workshop is not None
    if finished := recover(shop.folder, shop.workshop.desk):
        say(
            f"{finished}, which an interrupted run had begun, is finished: look before issuing",
            asked,
        )
        return 0

    def make(serial: str) -> Mapping[str, bytes]:
        facts = SheetFacts(serial, tuple(asked.serials), day)
        files, wrong = printed(shop, shown, facts, given, drafting=False)
        if wrong:
            raise _Findings(wrong)
        files["form.yaml"] = form_file(files)
        return files | _frozen(shop, shown, asked, serial, files, given)

    try:
        issued = take(shop.folder, shop.workshop.desk, make, lambda s: _message(s, process, asked))
    except _Findings as stop:
        tell(stop.findings, asked)
        return 1
    say(f"{issued.serial} {process.number} revision {process.revision.letter}", asked)
    for kind in (*kinds_of(process), "pack"):
        say(f"{issued.folder / kind}.pdf", asked)
    return 0


def _message(serial: str, process: Process, asked: Namespace) -> str:
    parts = ", ".join(asked.serials)
    what = f"{process.number} revision {process.revision.letter}"
    return f"Issue {serial}: {what} for {process.part.number} {parts}"


def _serials_fit(process: Process, serials: list[str]) -> None:
    digits = process.part.serial_digits
    for serial in serials:
        if not re.fullmatch(rf"[0-9]{{{digits}}}", serial):
            raise Refusal(
                "misuse",
                f"part serial '{serial}' is not {digits} digits",
                f"such as {'1'.zfill(digits)}",
            )
    if len(set(serials)) < len(serials):
        raise Refusal("misuse", "a part serial stands twice", "each serial once")
    if len(serials) not in (1, process.part.set_of):
        wrong = f"{len(serials)} serials for a traveller of {process.part.set_of}"
        raise Refusal("misuse", wrong, f"1 or {process.part.set_of} serials")


def _before_its_revision(shop: Shop, shown: str, on: date) -> list[Finding]:
    """Nothing is issued on a day before it was written."""
    process = shop.processes[shown]
    if on >= process.revision.day:
        return []
    place = shop.documents[shown].place(("revisions", len(process.revisions) - 1, "date"))
    revision = process.revision
    wrong = f"revision {revision.letter} is of {revision.day.isoformat()}, after {on.isoformat()}"
    return [Finding(place, "date", wrong, "--on that day or a later one")]


def _of_another_part(given: Given | None, serials: list[str]) -> list[Finding]:
    """Numbers measured on one part are no numbers for another."""
    if given is None or given.values.part_serial in ("", *serials):
        return []
    place = given.document.place(("part serial",))
    wrong = f"the values are of part {given.values.part_serial}, not of {', '.join(serials)}"
    return [Finding(place, "given", wrong, "the values measured on this part")]


def _out_of_date(shop: Shop, shown: str, on: date) -> list[Finding]:
    """A kind of instrument of which none is in date on the day of issue."""
    assert shop.workshop is not None
    found = []
    for i, needed in enumerate(shop.processes[shown].instruments):
        due = [each.check_due for each in shop.workshop.instruments if each.kind == needed.kind]
        if all(day < on for day in due):
            place = shop.documents[shown].place(("instruments", i, "kind"))
            last = max(due).isoformat()
            wrong = f"no {needed.kind} is in date on {on.isoformat()}; the last was due {last}"
            found.append(Finding(place, "instrument", wrong, "one that is checked and in date"))
    return found


def _uncommitted(shop: Shop, shown: str) -> list[Finding]:
    """An issue is made from committed text only: the process, the lists and tables of the shop."""
    from generator.findings import Place
    from generator.record import is_clean

    paths = [shown, *shop_files(shop.folder)]
    return [
        Finding(
            Place(path), "uncommitted", "changed since the last commit", "git commit it, or draft"
        )
        for path in is_clean(shop.folder, paths)
    ]


def _frozen(
    shop: Shop,
    shown: str,
    asked: Namespace,
    serial: str,
    files: Mapping[str, bytes],
    given: Given | None,
) -> dict[str, bytes]:
    """What it took to print: the process as it was, the lists, the part's values, the facts."""
    from generator.record import head_commit

    frozen = {"process.yaml": shop.documents[shown].source}
    for path in shop_files(shop.folder):
        frozen[path.removeprefix("processes/")] = (shop.folder / path).read_bytes()
    if given is not None:
        frozen["given.yaml"] = given.document.source
    process = shop.processes[shown]
    facts = [
        f"traveller: {serial}",
        f"process: {process.number}",
        f"revision: {process.revision.letter}",
        f"part: {process.part.number}",
        "part serials: [" + ", ".join(f'"{s}"' for s in asked.serials) + "]",
        f"issued on: {asked.on}",
        f"fingerprint: {files['fingerprint.txt'].decode().strip()}",
        f"made from commit: {head_commit(shop.folder)}",
        f"made by: witnessmark {__version__}",
    ]
    frozen["facts.yaml"] = ("\n".join(facts) + "\n").encode()
    return frozen
