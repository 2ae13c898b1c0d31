"""`issue`: the next numbered traveller, frozen into output/issued/, registered and committed."""

from __future__ import annotations

import re
from argparse import Namespace
from collections.abc import Mapping
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands import issue_rules as rules
from generator.commands.acting import recovered
from generator.commands.draft import given_values
from generator.commands.freezing import Order, Stopped, frozen
from generator.commands.people import may
from generator.commands.told import say, tell
from generator.compose import Sheets, kinds_of
from generator.findings import Finding, Refusal
from generator.process import Process
from generator.workshop import chosen, open_shop

if TYPE_CHECKING:
    from generator.record import Issued


def issue(asked: Namespace) -> int:
    """0 with a traveller issued, 1 with findings and no number taken."""
    shop = open_shop(asked.workshop)
    recovered(shop.folder, shop.workshop)
    if shop.findings:
        tell(shop.findings, asked)
        return 1
    shown = chosen(shop, [asked.process])[0]
    day = read_day(asked.on)
    _serials_fit(shop.processes[shown], asked.serials)
    assert shop.workshop is not None
    may(shop.workshop, asked.stamp, day, "lead", "archivist")
    given, findings = given_values(asked, shop, [shown])
    findings += rules.before_its_revision(shop, shown, day)
    findings += rules.of_another_part(given, asked.serials)
    findings += rules.uncommitted(shop, shown)
    findings += rules.out_of_date(shop, shown, day)
    findings += rules.nobody_signs(shop, shown, day)
    seen, more = rules.drafted(shop, shown) if not findings else (None, [])
    findings += more
    if findings or seen is None:
        tell(findings, asked)
        return 1
    order = Order(shop, shown, given, tuple(asked.serials), asked.on, asked.stamp)
    try:
        issued = _taken(order, seen)
    except Stopped as stop:
        tell(stop.findings, asked)
        return 1
    say(f"{issued.serial} {_what(shop.processes[shown])}", asked)
    for kind in (*kinds_of(shop.processes[shown]), "pack"):
        say(f"{issued.folder / kind}.pdf", asked)
    return 0


def _taken(order: Order, seen: Sheets) -> Issued:
    """The traveller in the record. Stopped where the record says no; it is asked while no other
    run can change it."""
    from generator.record import head_commit, take
    from generator.record.processes import Listed, approval_of, list_of

    shop, process = order.shop, order.shop.processes[order.shown]
    assert shop.workshop is not None
    desk = shop.workshop.desk

    def make(serial: str) -> Mapping[str, bytes]:
        if findings := _record_says_no(order, seen, serial):
            raise Stopped(findings)
        approval = approval_of(
            shop.folder, process.number, process.revision.letter, seen.fingerprint
        )
        assert approval is not None
        if findings := rules.approved_later(approval, read_day(order.on)):
            raise Stopped(findings)
        more = {
            "approved fingerprint": seen.fingerprint,
            "approval": approval.path,
            "made from commit": head_commit(shop.folder),
        }
        return frozen(order, serial, more)

    def lists(serial: str) -> Mapping[str, str]:
        listed = Listed(serial, process.revision.letter, order.part_serials)
        return {list_of(process.number, serial.partition("-")[0]): listed.line}

    def message(serial: str) -> str:
        parts = ", ".join(order.part_serials)
        return f"Issue {serial}: {_what(process)} for {process.part.number} {parts}"

    return take(shop.folder, desk, make, message, lists)


def _record_says_no(order: Order, seen: Sheets, serial: str) -> list[Finding]:
    """Approval, letters, what comes before, what is on the floor, and the days."""
    shop, shown, parts = order.shop, order.shown, order.part_serials
    return [
        *rules.unapproved(shop, shown, seen.fingerprint),
        *rules.reissued(shop, shown, seen),
        *rules.taken_back(shop, shown),
        *rules.prerequisites_open(shop, shown, parts),
        *rules.older_open(shop, shown),
        *rules.issued_twice(shop, shown, parts),
        *rules.scrapped(shop, shown, parts),
        *rules.back_dated(shop.folder, serial, read_day(order.on)),
    ]


def _what(process: Process) -> str:
    return f"{process.number} revision {process.revision.letter}"


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
        many = f"1 or {process.part.set_of} serials"
        right = many if process.part.set_of > 1 else "1 serial, or set: 2 at the part"
        raise Refusal("misuse", wrong, right)
