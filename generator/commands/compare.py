"""`compare`: the change sheet from an issued revision to the process as it stands today."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from generator.commands.acting import as_recorded
from generator.commands.draft import write_folder
from generator.commands.freezing import GIVEN
from generator.commands.issue_rules import drafted
from generator.commands.told import say, tell
from generator.findings import Finding, Refusal
from generator.process import Process, Revision
from generator.workshop import Given, chosen, open_shop, read_values

if TYPE_CHECKING:
    from generator.record import Traveller
    from generator.results.changes import Change


def compare(asked: Namespace) -> int:
    """0 with the changes told and their sheet printed, 1 with findings."""
    from generator.draw import draw_sheet
    from generator.results.change_sheet import change_sheet
    from generator.results.changes import changes

    shop = open_shop(asked.workshop)
    if shop.findings:
        tell(shop.findings, asked)
        return 1
    shown = chosen(shop, [asked.process])[0]
    process = shop.processes[shown]
    before = _before(asked, process.number)
    given, findings = _own_values(before, process)
    made, more = drafted(shop, shown, given)
    findings += more
    if findings or made is None:
        tell(findings, asked)
        return 1
    found = changes(before.sheets, made.sheets)
    was = f"revision {before.facts['revision']}, as issued with {before.serial}"
    _told(asked, found, was)
    reasons = newer(process.revisions, str(before.facts["revision"])) if found else []
    for why in reasons:
        say(f"{why.letter}, {why.day.isoformat()}: {why.changed} {why.why}", asked)
    floor = _on_the_floor(asked, process.number, process.revision.letter)
    for each in floor:
        say(f"open: {each['serial']} of revision {each['revision']}: {_effect(found)}", asked)
    sheet = change_sheet(made.sheets["traveller"], found, was, reasons, floor)
    files = {"change-sheet.md": sheet.encode(), "change-sheet.pdf": draw_sheet(sheet).pdf}
    place = asked.workshop / "output" / "draft" / f"{process.number}-change"
    say(f"{write_folder(place, files) / 'change-sheet.pdf'}", asked)
    return 0


def _own_values(before: Traveller, process: Process) -> tuple[Given | None, list[Finding]]:
    """The values that the part of a traveller brought, as far as the process still asks for them:
    an example beside them would be no change."""
    place = before.folder / "output" / "issued" / before.serial / GIVEN
    given, findings = read_values(place) if place.exists() else (None, [])
    if given is None:
        return None, findings
    asked = {name for name, each in process.given.items() if each.with_part}
    known = {name: told for name, told in given.values.values.items() if name in asked}
    return replace(given, values=replace(given.values, values=known)), findings


def newer(revisions: Sequence[Revision], letter: str) -> list[Revision]:
    """The revisions behind a letter; the latest where the letter is that of the latest."""
    behind = [each for each in revisions if each.letter > letter]
    return behind or [revisions[-1]]


def _before(asked: Namespace, number: str) -> Traveller:
    """The traveller to compare with: the one that was named, else the last that was issued."""
    from generator.record.processes import issued_of

    if asked.since:
        history = as_recorded(asked, asked.since)
        if history.facts["process"] != number:
            wrong = f"{asked.since} is of {history.facts['process']}, not of {number}"
            raise Refusal("misuse", wrong, "a traveller of the same process")
        return history
    listed = issued_of(asked.workshop, number)
    if not listed:
        raise Refusal("record", f"nothing was issued of {number}", "a process that was issued")
    return as_recorded(asked, listed[-1].serial)


def _on_the_floor(asked: Namespace, number: str, letter: str) -> list[Mapping[str, str]]:
    """The open travellers of other revisions."""
    from generator.record.processes import issued_of
    from generator.record.sound import judged

    listed = [each for each in issued_of(asked.workshop, number) if each.revision != letter]
    histories = judged(asked.workshop, [each.serial for each in listed])
    return [
        {"serial": each.serial, "revision": each.revision}
        for each, history in zip(listed, histories, strict=True)
        if history.status == "open"
    ]


def _told(asked: Namespace, found: Sequence[Change], was: str) -> None:
    say(f"from {was}: {len(found)} change{'' if len(found) == 1 else 's'}", asked)
    for each in found:
        place = f"operation {each.operation}" if each.operation else each.where
        what = each.what.upper() if each.weighs else each.what
        say(f"{place}: {what}: {each.old or 'nothing'} -> {each.new or 'nothing'}", asked)


def _effect(found: Sequence[Change]) -> str:
    from generator.results.changes import changed_operations

    numbers = changed_operations(found)
    if not found:
        return "nothing changed for it"
    first = f"before operation {numbers[0]} is begun" if numbers else "at any operation"
    who = "with the inspector" if any(each.weighs for each in found) else "by the lead"
    return f"it may go over {first}, {who}"
