"""`replace` and `withdraw`: how a traveller, or a revision of a process, goes out of use."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping
from dataclasses import replace as changed
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands import issue_rules as rules
from generator.commands.acting import (
    acted,
    head_of,
    in_use,
    not_gone,
    open_traveller,
    settled,
    shop_of,
    unchanged,
    way_on,
)
from generator.commands.freezing import Order, Stopped, as_it_was, frozen
from generator.commands.people import because, may
from generator.commands.told import done_before, say, tell
from generator.commands.waiting import parts_on
from generator.findings import Refusal

_ENDED = ("withdrawn", "replaced")

if TYPE_CHECKING:
    from generator.process import Workshop
    from generator.record import Traveller


def withdraw(asked: Namespace) -> int:
    """0 with the act recorded."""
    from generator.record.history import SERIAL

    shop = shop_of(asked)
    may(shop, asked.stamp, read_day(asked.on), "lead", "archivist")
    if not SERIAL.fullmatch(asked.what):
        return _withdraw_revision(asked, shop)
    if asked.revision:
        raise Refusal("misuse", "a traveller has one revision", "without --revision")
    history = open_traveller(asked, asked.what, ("closed", *_ENDED))
    _may_end(history)
    _taken_off(history)
    return acted(asked, shop, history, "withdraw", {"why": because(asked.why)})


def _may_end(history: Traveller) -> None:
    """Refusal of a second end, unless two desks wrote what cannot both hold: by a withdrawal
    somebody who looked at both says so, and no other act can."""
    from generator.record.apart import at_odds

    if history.status in _ENDED and not any(at_odds(history.acts)):
        raise Refusal("record", f"{history.serial} is {history.status}", way_on(history))


def _taken_off(history: Traveller) -> None:
    """Refusal where a part sits on an airframe: the record would say for ever that it does, on a
    traveller that is no more."""
    for part, place in parts_on(history):
        wrong = f"part {part} of {history.serial} sits at {place}"
        way = f'witnessmark fit {history.serial} --part {part} --removed --what "...", first'
        slip = f'witnessmark slip {history.serial} --operation N --what "..."'
        raise Refusal("record", wrong, f"{way}; while it sits there, {slip}")


def _withdraw_revision(asked: Namespace, shop: Workshop) -> int:
    from generator.record import Act, Desk, perform, text_of
    from generator.record.processes import acts_of, issued_of, place_of, withdrawn
    from generator.record.sound import judged

    known = [a for a in acts_of(asked.workshop, asked.what) if a.kind == "approve"]
    letters = sorted({str(each.tree.get("revision")) for each in known})
    letter = asked.revision or (letters[-1] if letters else "")
    if letter not in letters:
        wrong = f"no revision {letter} of {asked.what} was approved".replace("  ", " ")
        raise Refusal("record", wrong, ", ".join(letters) or "a process that was approved")
    if withdrawn(asked.workshop, asked.what, letter):
        raise Refusal("record", f"revision {letter} of {asked.what} is withdrawn", "nothing more")
    why = because(asked.why)

    def make(at: Desk) -> Act:
        path = at.next_file(place_of(asked.what), "withdraw")
        tree = {"act": "withdraw", "process": asked.what, "on": asked.on, "by": asked.stamp,
                "revision": letter, "why": why}  # fmt: skip
        words = f"Withdraw {asked.what} revision {letter}"
        return Act(path, words, {path: text_of(tree)})

    act, _ = perform(asked.workshop, shop.desk, make)
    say(act.title, asked)
    with done_before(lambda: f"revision {letter} of {asked.what} is withdrawn"):
        listed = [e for e in issued_of(asked.workshop, asked.what) if e.revision == letter]
        for each in judged(asked.workshop, [each.serial for each in listed]):
            if each.status == "open":
                say(f"{each.serial} is open: witnessmark withdraw {each.serial}", asked)
    return 0


def replace(asked: Namespace) -> int:
    """0 with the same sheets issued under a new serial; the old one stays, marked as replaced."""

    shop = shop_of(asked)
    day = read_day(asked.on)
    may(shop, asked.stamp, day, "lead", "archivist")
    because(asked.why)
    history = open_traveller(asked, asked.serial)
    in_use(history)
    _nothing_waits(history)
    settled(history)
    _part_stays(history)
    with as_it_was(history) as order:
        taken = changed(order, on=asked.on, by=asked.stamp, replaces=history.serial)
        try:
            serial = _replaced(asked, shop, history, taken)
        except Stopped as stop:
            tell(stop.findings, asked)
            return 1
    say(f"{serial} replaces {history.serial}", asked)
    say(f"{asked.workshop / 'output/issued' / serial / 'pack.pdf'}", asked)
    say("Operations done before are written on it only by inspection or evidence.", asked)
    return 0


def _nothing_waits(history: Traveller) -> None:
    """Refusal where a slip or a sheet beside the traveller would be left behind by the new one."""
    from generator.record.slips import slips_of

    for each in slips_of(history):
        if each.decision != "use" or each.concession is None:
            wrong = f"{each.number} stands on {history.serial}: {each.decision or 'undecided'}"
            right = f"witnessmark withdraw {history.serial}, and a new traveller for a new part"
            raise Refusal("record", wrong, right)
    if any(act.tree.get("decision") == "adopt" for act in history.of_kind("decide")):
        wrong = f"{history.serial} went over to a newer revision, whose sheets lie beside it"
        raise Refusal("record", wrong, f"witnessmark reprint {history.serial}, and its sheets")


def _part_stays(history: Traveller) -> None:
    """Refusal where `issue` would refuse the part: it is gone, or waits for a decision, by a slip
    on whatever traveller."""
    from generator.record.slips import against

    not_gone(history)
    part, serials = history.facts["part"], history.facts["part serials"]
    for serial, slip in against(history.folder, part, serials):
        wrong = f"part {serial} waits for a decision on {slip.number}: {slip.says}"
        raise Refusal("slip", wrong, f"witnessmark dispose {slip.number}")


def _replaced(asked: Namespace, shop: Workshop, history: Traveller, order: Order) -> str:
    """The serial of the replacement; its sheets and the end of the old traveller in one act."""
    from generator.record import Act, Desk, perform, text_of
    from generator.record.desk import ISSUED
    from generator.record.processes import Listed, list_of

    facts = history.facts
    more = {
        key: facts[key]
        for key in ("approved fingerprint", "approval", "made from commit")
        if key in facts
    }

    def make(at: Desk) -> Act:
        unchanged(history)
        _part_stays(history)
        serial = at.next_serial()
        if late := rules.back_dated(asked.workshop, serial, read_day(asked.on)):
            raise Stopped(late)
        place = f"{ISSUED}/{serial}"
        files = {f"{place}/{n}": c for n, c in frozen(order, serial, more).items()}
        files |= _end(at, serial)
        listed = Listed(serial, str(facts["revision"]), order.part_serials)
        lists = {list_of(str(facts["process"]), at.letter): listed.line}
        words = f"Issue {serial}: replaces {history.serial}"
        return Act(serial, words, files, lists, place)

    def _end(at: Desk, serial: str) -> Mapping[str, bytes]:
        path = at.next_file(f"output/completed/{history.serial}", "replace")
        own = {"with": serial, "why": asked.why.strip()}
        tree = {**head_of("replace", history, asked), **own}
        return {path: text_of(tree)}

    act, _ = perform(asked.workshop, shop.desk, make)
    return act.title
