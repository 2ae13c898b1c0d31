"""A process as it stands today and a traveller that was issued of it, in; its sheets as a print for
that traveller would have them, so that all that differs from what was issued is the process, out.

Day, serial, revision letter and the instruments of the workshop are those of the issue: what hangs
on them is no change of the process, and the fingerprints of both can be compared.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.draft import day_words
from generator.commands.freezing import as_it_was
from generator.compose import SheetFacts, Sheets, short
from generator.findings import Finding, Refusal
from generator.process import Instrument
from generator.workshop import Given, Shop, sheets_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from generator.record import Traveller
    from generator.results.changes import Change


def alike(
    shop: Shop, shown: str, history: Traveller, given: Given | None, drafting: bool
) -> tuple[Sheets | None, list[Finding]]:
    """The sheets of a sound process, or the findings that stand in their way."""
    assert shop.workshop is not None
    process = shop.processes[shown]
    letter, facts = str(history.facts["revision"]), history.facts
    known = tuple(each for each in process.revisions if each.letter <= letter)
    if known and known[-1].letter == letter:
        process = replace(process, revisions=known)
    then = replace(
        shop,
        workshop=replace(shop.workshop, instruments=_instruments(shop, history)),
        processes={**shop.processes, shown: process},
    )
    day = day_words(read_day(str(facts["issued on"])))
    serials, replaces = tuple(facts["part serials"]), str(facts.get("replaces", ""))
    print_of = SheetFacts(history.serial, serials, day, replaces)
    return sheets_of(then, shown, print_of, given, drafting)


def _instruments(shop: Shop, history: Traveller) -> tuple[Instrument, ...]:
    """Those of the issue; those of today where this version cannot read what was frozen."""
    assert shop.workshop is not None
    try:
        with as_it_was(history) as order:
            assert order.shop.workshop is not None
            return order.shop.workshop.instruments
    except Refusal:
        return shop.workshop.instruments


def unnamed(found: Sequence[Change], made: Sheets, history: Traveller) -> str:
    """What is said where two prints differ and no change can be named; "" where one can, or where
    they are the same."""
    was = str(history.facts["fingerprint"])
    if found or made.fingerprint == was:
        return ""
    both = f"{short(was)} and {short(made.fingerprint)}"
    return (
        f"The fingerprints differ ({both}), and no change can be named: the inspector holds a "
        "draft beside the print, sheet by sheet."
    )
