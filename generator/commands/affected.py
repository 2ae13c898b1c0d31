"""`affected`: after a table, a formula or a process changed, which paper carries a number that
would be another one today: the workshop's recall list."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.acting import as_recorded
from generator.commands.draft import day_words
from generator.commands.freezing import GIVEN, PROCESS, as_it_was
from generator.commands.issue_rules import drafted
from generator.commands.told import say
from generator.compose import SheetFacts
from generator.files import no_record
from generator.findings import Refusal
from generator.workshop import Shop, open_shop, sheets_of

if TYPE_CHECKING:
    from generator.record import Traveller
    from generator.results.changes import Change


def affected(asked: Namespace) -> int:
    """0 where every number is what it would be today, 1 with those that are not."""
    from generator.record.held import none_lost

    if not (asked.workshop / "output").is_dir():
        raise no_record(asked.workshop)
    none_lost(asked.workshop)
    shop = open_shop(asked.workshop)
    _known(asked, shop)
    groups = _groups(asked)
    hit = sum([_told(asked, histories) for histories in groups.values()])
    approvals = _approvals(asked, shop)
    count = sum(len(each) for each in groups.values())
    say(f"{count} issued travellers, {hit} of them with other numbers today", asked)
    _texts(asked, shop, groups)
    return 1 if hit or approvals else 0


def _known(asked: Namespace, shop: Shop) -> None:
    """Refusal where a process is named that neither the workshop nor its record has."""
    from generator.record import traveller
    from generator.record.history import all_serials

    if not asked.process:
        return
    here = {each.number for each in shop.processes.values()}
    issued = {
        str(traveller(asked.workshop, serial).facts.get("process"))
        for serial in all_serials(asked.workshop)
    }
    for number in asked.process:
        if number not in here | issued:
            right = "one of: " + ", ".join(sorted(here | issued))
            raise Refusal("misuse", f"there is no process {number}", right)


def _groups(asked: Namespace) -> Mapping[tuple[str, str, str], list[Traveller]]:
    """The travellers by process, process text and values: those of a group have the same numbers
    and are worked out once."""
    from generator.record import traveller
    from generator.record.history import all_serials
    from generator.record.sound import registered, sums_of

    told = registered(asked.workshop)
    found: dict[tuple[str, str, str], list[Traveller]] = {}
    for serial in all_serials(asked.workshop):
        history = traveller(asked.workshop, serial)
        if history.status in ("void", "replaced"):
            continue
        sums = sums_of(asked.workshop, serial, told)
        number = str(history.facts.get("process", ""))
        if not asked.process or number in asked.process:
            lists = sums.get("fingerprint.txt", "")
            key = (number, sums.get(PROCESS, "") + lists, sums.get(GIVEN, ""))
            found.setdefault(key, []).append(history)
    return found


def _told(asked: Namespace, histories: Sequence[Traveller]) -> int:
    """How many travellers of a group are hit; what differs is told once."""
    first = histories[0]
    serials = ", ".join(f"{each.serial} ({each.status})" for each in histories)
    try:
        found = _differences(asked, first)
    except Refusal as no:
        say(f"{first.facts.get('process')} {first.facts.get('revision')}: {serials}", asked)
        say(f"  cannot be worked out with today's lists and tables: {no.wrong}: {no.right}", asked)
        return len(histories)
    if not found:
        return 0
    say(f"{first.facts['process']} {first.facts['revision']}: {serials}", asked)
    for each in found:
        say(
            f"  {each.place}: {each.what}: {each.old or 'nothing'} -> {each.new or 'nothing'}",
            asked,
        )
    return len(histories)


def _differences(asked: Namespace, history: Traveller) -> tuple[Change, ...]:
    """What the frozen process would print otherwise with today's code, lists and tables."""
    from generator.results.changes import Change, changes

    as_recorded(asked, history.serial)
    with as_it_was(history, asked.workshop) as order:
        day = day_words(read_day(order.on))
        facts = SheetFacts(history.serial, order.part_serials, day, order.replaces)
        made, findings = sheets_of(order.shop, order.shown, facts, order.given, drafting=False)
    if made is None:
        raise Refusal(findings[0].code, findings[0].wrong, findings[0].right)
    was = str(history.facts.get("fingerprint"))
    if made.fingerprint == was:
        return ()
    found = changes(history.sheets, made.sheets)
    if not found:
        return (Change("", "text", "full fingerprint", was, made.fingerprint),)
    # Who made the sheets, and words that say again what others say, are no number of the work.
    return tuple(each for each in found if each.weighs or not each.about)


def _approvals(asked: Namespace, shop: Shop) -> int:
    """Processes that are not any more what was approved of their revision."""
    from generator.record.processes import acts_of, approval_of

    hit = 0
    for shown, process in shop.processes.items():
        if asked.process and process.number not in asked.process:
            continue
        letter = process.revision.letter
        approved = [
            each
            for each in acts_of(asked.workshop, process.number)
            if each.kind == "approve" and each.tree.get("revision") == letter
        ]
        made, _ = drafted(shop, shown)
        if not approved or made is None:
            continue
        if approval_of(asked.workshop, process.number, letter, made.fingerprint) is None:
            hit += 1
            day = approved[-1].tree["on"]
            say(f"{process.number} {letter}: not what was approved on {day}", asked)
    return hit


def _texts(
    asked: Namespace, shop: Shop, groups: Mapping[tuple[str, str, str], Sequence[Traveller]]
) -> None:
    """Processes whose own text changed since they were issued: that is the work of compare."""
    today = {p.number: shop.documents[shown].source for shown, p in shop.processes.items()}
    told: set[str] = set()
    for (number, _, _), histories in groups.items():
        place = histories[0].folder / "output/issued" / histories[0].serial / PROCESS
        if number in today and number not in told and place.read_bytes() != today[number]:
            told.add(number)
            say(f"{number}: its text changed since; witnessmark compare {number}", asked)
