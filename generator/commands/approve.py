"""`approve`: the checker's act, recorded with the day and the fingerprint of what was looked at."""

from __future__ import annotations

from argparse import Namespace
from datetime import date

from generator.check.readers import day as read_day
from generator.commands.acting import recovered
from generator.commands.issue_rules import (
    before_its_revision,
    drafted,
    reissued,
    taken_back,
    uncommitted,
)
from generator.commands.people import may
from generator.commands.told import say, tell
from generator.findings import Refusal
from generator.process import Process
from generator.workshop import Shop, chosen, laid_out, open_shop


def approve(asked: Namespace) -> int:
    """0 with the approval recorded, 1 with findings and nothing recorded."""
    shop = open_shop(asked.workshop)
    recovered(shop.folder, shop.workshop)
    if shop.findings:
        tell(shop.findings, asked)
        return 1
    shown = chosen(shop, [asked.process])[0]
    day = read_day(asked.on)
    _is_checker(shop, shop.processes[shown], asked.stamp, day)
    findings = before_its_revision(shop, shown, day) + uncommitted(shop, shown)
    made, more = drafted(shop, shown) if not findings else (None, [])
    findings += more
    if made is not None:
        findings += reissued(shop, shown, made) + taken_back(shop, shown)
        findings += laid_out(shop, shown, made.sheets)
    if findings or made is None:
        tell(findings, asked)
        return 1
    assert shop.workshop is not None
    _record(asked, shop, shop.processes[shown], made.fingerprint)
    return 0


def _is_checker(shop: Shop, process: Process, stamp: str, day: date) -> None:
    """The checker whom the process names, and on that day a holder of the stamp."""
    assert shop.workshop is not None
    may(shop.workshop, stamp, day)
    if stamp != process.checker:
        wrong = f"{stamp} is not the checker of {process.number}"
        raise Refusal("stamp", wrong, f"--stamp {process.checker}, or another checker in the file")


def _record(asked: Namespace, shop: Shop, process: Process, fingerprint: str) -> None:
    from generator.record import Act, Desk, head_commit, perform, text_of
    from generator.record.processes import approval_of, place_of

    assert shop.workshop is not None
    number, letter = process.number, process.revision.letter

    def make(at: Desk) -> Act:
        if earlier := approval_of(shop.folder, number, letter, fingerprint):
            wrong = f"{number} revision {letter} is approved as it stands: {earlier.path}"
            raise Refusal("approved", wrong, f"witnessmark issue {number}")
        path = at.next_file(place_of(number), "approve")
        entry = at.next_of("processes", "PR")
        tree = {
            "act": "approve",
            "process": number,
            "on": asked.on,
            "by": asked.stamp,
            "entry": entry,
            "revision": letter,
            "fingerprint": fingerprint,
            "commit": head_commit(shop.folder),
        }
        row = f"{entry} {number} {letter} {fingerprint}\n"
        words = f"Approve {number} revision {letter}"
        return Act(path, words, {path: text_of(tree)}, {at.list_path("processes"): row})

    act, _ = perform(shop.folder, shop.workshop.desk, make)
    say(act.title, asked)
