"""A process that is to be approved or issued, in; everything that stands in the way, out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from generator.compose import SheetFacts, Sheets
from generator.files import shop_files
from generator.findings import Finding, Place
from generator.process import Process
from generator.read import Steps
from generator.workshop import Given, Shop, found, sheets_of

if TYPE_CHECKING:
    from generator.record.history import Recorded
    from generator.record.processes import Listed

_SHOWN = 3  # lines of a difference; the rest is the work of compare


def drafted(
    shop: Shop, shown: str, given: Given | None = None
) -> tuple[Sheets | None, list[Finding]]:
    """The sheets as a checker sees them: the draft without the values of a part, or with them."""
    return sheets_of(shop, shown, SheetFacts("", (), "not dated"), given)


def before_its_revision(shop: Shop, shown: str, on: date) -> list[Finding]:
    """Nothing is approved or issued on a day before it was written."""
    process = shop.processes[shown]
    revision = process.revision
    if on >= revision.day:
        return []
    place = _at(shop, shown, ("revisions", len(process.revisions) - 1, "date"))
    wrong = f"revision {revision.letter} is of {revision.day.isoformat()}, after {on.isoformat()}"
    return [Finding(place, "date", wrong, "--on that day or a later one")]


def of_another_part(given: Given | None, serials: Sequence[str]) -> list[Finding]:
    """Numbers measured on one part are no numbers for another, and those of which nobody says on
    which part they were measured are for none."""
    if given is None or given.values.part_serial in serials:
        return []
    told = given.values.part_serial
    place = given.document.place(("part serial",) if told else ("process",))
    wrong = f"the values are of part {told}, not of {', '.join(serials)}"
    if not told:
        wrong = "the file does not say on which part its values were measured"
    right = "the values measured on this part" if told else f"part serial: {serials[0]}"
    return [Finding(place, "given", wrong, right)]


def out_of_date(shop: Shop, shown: str, on: date) -> list[Finding]:
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


def nobody_signs(shop: Shop, shown: str, on: date) -> list[Finding]:
    """A class that the sheets ask for and that nobody holds on the day of issue or later."""
    from generator.check.signing_rules import unsigned

    assert shop.workshop is not None
    faults = unsigned(shop.processes[shown], shop.workshop, on)
    return [found(shop.documents[shown], fault) for fault in faults]


def uncommitted(shop: Shop, shown: str) -> list[Finding]:
    """Only committed text is approved or issued: the process, the lists and tables of the shop."""
    from generator.record import is_clean

    paths = [shown, *shop_files(shop.folder)]
    return [
        Finding(
            Place(path),
            "uncommitted",
            "it is not what the last commit holds",
            'git add processes, then git commit -m "why"; or draft',
        )
        for path in is_clean(shop.folder, paths)
    ]


def unapproved(shop: Shop, shown: str, fingerprint: str) -> list[Finding]:
    """What the checker has not seen as it stands."""
    from generator.record.processes import acts_of, approval_of

    process = shop.processes[shown]
    letter = process.revision.letter
    if approval_of(shop.folder, process.number, letter, fingerprint):
        return []
    earlier = [a for a in acts_of(shop.folder, process.number) if a.kind == "approve"]
    wrong = f"revision {letter} is not approved"
    if any(a.tree.get("revision") == letter for a in earlier):
        wrong = f"revision {letter} is not as it was approved: text, table or formula changed"
    right = f"witnessmark approve {process.number} --stamp {process.checker} --on DAY"
    return [Finding(_at_revision(shop, shown), "approval", wrong, right)]


def approved_later(approval: Recorded, on: date) -> list[Finding]:
    """Nothing is issued before the day on which it was approved."""
    day = str(approval.tree.get("on", ""))
    if day <= on.isoformat():
        return []
    wrong = f"approved on {day}, after {on.isoformat()}"
    return [Finding(Place("witnessmark issue"), "date", wrong, f"--on {day} or a later day")]


def taken_back(shop: Shop, shown: str) -> list[Finding]:
    """A revision that was withdrawn stays withdrawn; letters only go forward."""
    from generator.record.processes import issued_of, withdrawn

    process = shop.processes[shown]
    letter = process.revision.letter
    place = _at_revision(shop, shown)
    if act := withdrawn(shop.folder, process.number, letter):
        wrong = f"revision {letter} was withdrawn on {act.tree.get('on')}: {act.tree.get('why')}"
        return [Finding(place, "withdrawn", wrong, "a new revision")]
    later = [e for e in issued_of(shop.folder, process.number) if e.revision > letter]
    if later:
        wrong = f"{later[0].serial} was issued of revision {later[0].revision} already"
        return [Finding(place, "revision", wrong, "a letter after it")]
    return []


def reissued(shop: Shop, shown: str, made: Sheets) -> list[Finding]:
    """A letter that was issued before with other content, and what differs."""
    from generator.record import traveller
    from generator.record.processes import issued_of
    from generator.record.sound import sound

    process = shop.processes[shown]
    letter = process.revision.letter
    listed = [e for e in issued_of(shop.folder, process.number) if e.revision == letter]
    for each in listed[-1:]:
        sound(shop.folder, each.serial)
        before = traveller(shop.folder, each.serial)
        if before.facts.get("approved fingerprint", made.fingerprint) == made.fingerprint:
            continue
        lines = _differences(before.sheets, made.sheets)
        wrong = f"revision {letter} was issued as {each.serial} with other content"
        right = "the next letter, with its reason. " + " / ".join(lines or ["what is worked out"])
        return [Finding(_at_revision(shop, shown), "revision", wrong, right)]
    return []


def _differences(before: Mapping[str, str], today: Mapping[str, str]) -> list[str]:
    """The first lines that are not the same, sheet by sheet in their order."""
    from difflib import ndiff

    found: list[str] = []
    for kind in [*today, *(each for each in before if each not in today)]:
        lines = ndiff(_body(before.get(kind, "")), _body(today.get(kind, "")))
        changed = [each for each in lines if each[:2] in ("- ", "+ ")]
        found += [f"{kind}: {'was' if e[0] == '-' else 'is'} {e[2:]}" for e in changed]
    return found[:_SHOWN]


def _body(sheet: str) -> list[str]:
    """The lines of a sheet without what belongs to one print: its frame and its fingerprint."""
    lines = sheet.partition("\n:::\n")[2].splitlines()
    return [line for line in lines if not line.startswith("Full fingerprint: ")]


def prerequisites_open(shop: Shop, shown: str, serials: Sequence[str]) -> list[Finding]:
    """Processes that must be closed before, and are not."""
    process = shop.processes[shown]
    found = []
    for i, needed in enumerate(process.prerequisites):
        if needed.process and (wrong := _not_done(shop, process, needed.process, serials)):
            place = shop.documents[shown].place(("prerequisites", i, "process"))
            right = f"a closed traveller of {needed.process}: {needed.says}"
            found.append(Finding(place, "prerequisite", wrong, right))
    return found


def _not_done(shop: Shop, process: Process, number: str, serials: Sequence[str]) -> str:
    """What is open of a process that comes before; of the same part, each of its serials counts."""
    from generator.record.processes import issued_of, withdrawn
    from generator.record.sound import judged, sound

    same = any(
        each.number == number and each.part.number == process.part.number
        for each in shop.processes.values()
    )
    states: dict[str, list[str]] = {serial: [] for serial in (serials if same else ("",))}
    listed = issued_of(shop.folder, number)
    for each, history in zip(listed, judged(shop.folder, _serials(listed)), strict=True):
        if {*serials} & {*each.part_serials} or not same:
            sound(shop.folder, each.serial)
        status = history.status
        if status == "closed" and withdrawn(shop.folder, number, each.revision):
            status = f"closed, but its revision {each.revision} is withdrawn"
        for serial, told in states.items():
            if not serial or serial in each.part_serials:
                told.append(f"{each.serial} is {status}")
    for serial, told in states.items():
        if not any(each.endswith(" closed") for each in told):
            of = f" for part {serial}" if serial else ""
            return f"{number} is not done{of}: " + (", ".join(told[-3:]) or "nothing was issued")
        if serial and told[-1].endswith(" open"):
            return f"{number} is open again for part {serial}: {told[-1]}"
    return ""


def older_open(shop: Shop, shown: str) -> list[Finding]:
    """Travellers of an older revision on the floor, of which nobody decided what becomes."""
    return [
        Finding(
            _at_revision(shop, shown),
            "open",
            f"{serial} of revision {revision} is open, and nobody decided what becomes of it",
            f"witnessmark compare {shop.processes[shown].number}, then witnessmark decide {serial}",
        )
        for serial, revision in _older(shop, shop.processes[shown])
    ]


def _older(shop: Shop, process: Process) -> Iterator[tuple[str, str]]:
    from generator.record.processes import issued_of
    from generator.record.sound import judged

    letter = process.revision.letter
    listed = [e for e in issued_of(shop.folder, process.number) if e.revision != letter]
    for each, history in zip(listed, judged(shop.folder, _serials(listed)), strict=True):
        decided = any(a.tree.get("revision") == letter for a in history.of_kind("decide"))
        if history.status == "open" and not decided:
            yield each.serial, each.revision


def _serials(listed: Sequence[Listed]) -> list[str]:
    return [each.serial for each in listed]


def issued_twice(shop: Shop, shown: str, serials: Sequence[str]) -> list[Finding]:
    """A part that is on the floor with a traveller of this process already."""
    from generator.record.processes import issued_of
    from generator.record.sound import judged

    number = shop.processes[shown].number
    found = []
    listed = [e for e in issued_of(shop.folder, number) if {*serials} & {*e.part_serials}]
    for each, history in zip(listed, judged(shop.folder, _serials(listed)), strict=True):
        same = [serial for serial in serials if serial in each.part_serials]
        if history.status == "open":
            wrong = f"part {', '.join(same)} has the open traveller {each.serial} of {number}"
            right = f"witnessmark replace {each.serial}, or withdraw it"
            found.append(Finding(_at(shop, shown, ("process",)), "open", wrong, right))
    return found


def scrapped(shop: Shop, shown: str, serials: Sequence[str]) -> list[Finding]:
    """A part that was scrapped or sent back comes to no bench again, whatever process made it; one
    with a slip on which nobody decided waits for that."""
    from generator.record.slips import GONE, against

    part = shop.processes[shown].part.number
    place = _at(shop, shown, ("part", "number"))
    found = []
    for serial, slip in against(shop.folder, part, serials):
        code, right = "scrapped", "the serial of a new part"
        wrong = f"part {serial} went by {slip.number}: {slip.decision}"
        if slip.decision not in GONE:
            code, right = "slip", f"witnessmark dispose {slip.number}"
            wrong = f"part {serial} waits for a decision on {slip.number}: {slip.says}"
        found.append(Finding(place, code, wrong, right))
    return list(dict.fromkeys(found))


def back_dated(folder: Path, serial: str, on: date) -> list[Finding]:
    """No traveller has an earlier day of issue than the one before it."""
    from generator.record.register import number_of, serial_of
    from generator.record.sound import judged

    desk = serial.partition("-")[0]
    number = number_of(desk, serial)
    if number == 1:
        return []
    before = serial_of(desk, number - 1)
    (last,) = judged(folder, [before])
    day = str(last.facts.get("issued on", ""))
    if day <= on.isoformat():
        return []
    wrong = f"{before} was issued on {day}, after {on.isoformat()}"
    return [Finding(Place("witnessmark issue"), "date", wrong, f"--on {day} or a later day")]


def _at_revision(shop: Shop, shown: str) -> Place:
    last = len(shop.processes[shown].revisions) - 1
    return _at(shop, shown, ("revisions", last, "letter"))


def _at(shop: Shop, shown: str, steps: Steps) -> Place:
    return shop.documents[shown].place(steps)
