"""`compare`: the change sheet from an issued revision to the process as it stands today."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from generator.commands.acting import as_recorded
from generator.commands.alike import alike, unnamed
from generator.commands.draft import write_folder
from generator.commands.freezing import GIVEN
from generator.commands.in_force import adopted
from generator.commands.issue_rules import drafted
from generator.commands.told import say, tell
from generator.commands.waiting import parts_on
from generator.findings import Finding, Refusal
from generator.process import Process, Revision
from generator.workshop import Given, Shop, chosen, open_shop, read_values

if TYPE_CHECKING:
    from generator.record import Traveller
    from generator.results.changes import Change


def compare(asked: Namespace) -> int:
    """0 with the changes told and their sheet printed, 1 with findings."""
    from generator.draw import draw_sheet
    from generator.results.change_sheet import change_sheet

    shop = open_shop(asked.workshop)
    if shop.findings:
        tell(shop.findings, asked)
        return 1
    shown = chosen(shop, [asked.process])[0]
    process = shop.processes[shown]
    before = _before(asked, process.number)
    given, findings = _own_values(before, process)
    made, more = drafted(shop, shown, given)
    findings = findings or more
    told = None if findings else compared(shop, shown, before)
    if findings or made is None or told is None:
        tell(findings, asked)
        return 1
    letter = str(before.facts["revision"])
    was = f"revision {letter}, as issued with {before.serial}"
    _told(asked, told, was)
    reasons = newer(process.revisions, letter) if told.differs or _is_older(letter, process) else []
    for why in reasons:
        say(f"{why.letter}, {why.day.isoformat()}: {why.changed} {why.why}", asked)
    floor = _on_the_floor(asked, shop, shown, {before: told})
    sheet = change_sheet(
        made.sheets["traveller"], told.changes, was, reasons, floor, nothing=told.blind
    )
    files = {"change-sheet.md": sheet.encode(), "change-sheet.pdf": draw_sheet(sheet).pdf}
    place = asked.workshop / "output" / "draft" / f"{process.number}-change"
    say(f"{write_folder(place, files) / 'change-sheet.pdf'}", asked)
    return 0


def _is_older(letter: str, process: Process) -> bool:
    return letter != process.revision.letter


@dataclass(frozen=True)
class Compared:
    """What changed since a traveller was issued. blind: what is said where the prints differ and
    no change can be named, else ""."""

    changes: Sequence[Change]
    blind: str

    @property
    def differs(self) -> bool:
        return bool(self.changes or self.blind)


def compared(shop: Shop, shown: str, before: Traveller) -> Compared | None:
    """What changed for one traveller; None where today's process cannot be printed for it."""
    from generator.results.changes import changes

    given, wrong = _own_values(before, shop.processes[shown])
    made, _ = alike(shop, shown, before, given, drafting=True)
    if wrong or made is None:
        return None
    found = changes(before.sheets, made.sheets)
    return Compared(found, unnamed(found, made, before))


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
    """The traveller to compare with: the one that was named, else the last of those that are open,
    of those that are closed, of all."""
    from generator.record.processes import issued_of
    from generator.record.sound import judged

    if asked.since:
        history = as_recorded(asked, asked.since)
        if history.facts["process"] != number:
            wrong = f"{asked.since} is of {history.facts['process']}, not of {number}"
            raise Refusal("misuse", wrong, "a traveller of the same process")
        return history
    listed = issued_of(asked.workshop, number)
    if not listed:
        raise Refusal("record", f"nothing was issued of {number}", "a process that was issued")
    each = [*judged(asked.workshop, [one.serial for one in listed])]
    last = {history.status: history.serial for history in each}
    serial = last.get("open") or last.get("closed") or listed[-1].serial
    return as_recorded(asked, serial)


def _on_the_floor(
    asked: Namespace, shop: Shop, shown: str, known: Mapping[Traveller, Compared | None]
) -> list[Mapping[str, str]]:
    """The open travellers of other revisions than today's, each told with what changed for it;
    those that the change sheet is for: of the revision that it starts from. known: what it says."""
    from generator.record.processes import issued_of
    from generator.record.sound import judged

    process, (before,) = shop.processes[shown], known
    listed = [
        each
        for each in issued_of(asked.workshop, process.number)
        if each.revision != process.revision.letter
    ]
    histories = [*judged(asked.workshop, [each.serial for each in listed])]
    _accepted(asked, histories, process.revision.letter)
    # Prints of one text are compared once.
    changed = {str(before.facts["fingerprint"]): known[before]}
    found: list[Mapping[str, str]] = []
    for each, history in zip(listed, histories, strict=True):
        if history.status != "open":
            continue
        if told := _decided(history, process.revision.letter):
            say(f"open: {each.serial} of revision {each.revision}: {told}", asked)
            continue
        history = as_recorded(asked, each.serial)
        print_of = str(history.facts["fingerprint"])
        if print_of not in changed:
            changed[print_of] = compared(shop, shown, history)
        own = each.revision == before.facts["revision"]
        words = _effect(changed[print_of])
        if not own:
            words += f"; its sheet: witnessmark compare {process.number} --since {each.serial}"
        say(f"open: {each.serial} of revision {each.revision}: {words}", asked)
        found += [{"serial": each.serial, "revision": each.revision}] * own
    return found


def _decided(history: Traveller, letter: str) -> str:
    """What was decided to become of a traveller at a revision; "" where nobody decided."""
    acts = [each for each in history.of_kind("decide") if each.tree["revision"] == letter]
    became = {"finish": "it is finished as it is", "adopt": f"it went over to {letter}"}
    return f"{became[str(acts[-1].tree['decision'])]}, as decided" if acts else ""


def _accepted(asked: Namespace, histories: Sequence[Traveller], letter: str) -> None:
    """Names the parts that were accepted by older revisions: what was wrong there is on them."""
    told = []
    for each in histories:
        went_over = [str(act.tree["revision"]) for act in adopted(each)]
        if each.status == "closed" and letter not in went_over:
            places = ", ".join(place for _, place in parts_on(each))
            told.append(each.serial + (f" (fitted: {places})" if places else ""))
    if told:
        say(f"closed by an older revision: {', '.join(told)}; where what changed is wrong on one "
            "of them: witnessmark slip", asked)  # fmt: skip


def _told(asked: Namespace, told: Compared, was: str) -> None:
    count = len(told.changes)
    say(f"from {was}: " + (told.blind or f"{count} change{'' if count == 1 else 's'}"), asked)
    for each in told.changes:
        what = each.what.upper() if each.weighs else each.what
        say(f"{each.place}: {what}: {each.old or 'nothing'} -> {each.new or 'nothing'}", asked)


def _effect(told: Compared | None) -> str:
    from generator.results.changes import changed_operations

    if told is None:
        return "today's process cannot be printed with its values: the lead decides"
    if told.blind:
        return "what changed for it cannot be named: the inspector decides"
    if not told.changes:
        return "nothing changed for it"
    numbers = changed_operations(told.changes)
    first = f"before operation {numbers[0]} is begun" if numbers else "at any operation"
    who = "with the inspector" if any(each.weighs for each in told.changes) else "by the lead"
    return f"it may go over {first}, {who}"
