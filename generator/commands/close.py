"""`close`: the end of a traveller, refused with the list while anything is open."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.acting import acted, alone, in_use, not_gone, open_traveller, shop_of
from generator.commands.enter import (
    beside,
    books_of,
    entries_of,
    form_read,
    named,
    unknown_slips,
)
from generator.commands.in_force import changed_to, in_force, last_done_on, sheets_beside
from generator.commands.people import may
from generator.commands.told import tell
from generator.commands.waiting import waits_for
from generator.findings import Finding, Place

_ON_A_SLIP = ("out", "between", "strip", "ticked", "range", "over")
_ENTERED = {
    "strip": "the column that is ticked",
    "ticked": "the column that is ticked",
    "range": "the number of the instrument that read it",
}
_AS_IT_IS = ("batch", "serial")  # what can be right as it stands
_NAMED = 6  # empty boxes of an operation that are named

if TYPE_CHECKING:
    from generator.process import Workshop
    from generator.record import Traveller
    from generator.record.slips import Slip
    from generator.results.case import Verdict


def close(asked: Namespace) -> int:
    """0 with the traveller closed, 1 with all that is open and nothing recorded."""
    shop = shop_of(asked)
    history = open_traveller(asked, asked.serial)
    trade = str(history.facts.get("trade", ""))
    may(shop, asked.stamp, read_day(asked.on), "lead", "inspector", "archivist", trade=trade)
    in_use(history)
    not_gone(history)
    alone(history)
    findings = still_open(history, shop, asked.on)
    if findings:
        tell(findings, asked, f"; {asked.serial} stays open", as_given=True)
        return 1
    return acted(asked, shop, history, "close", {"slips": _slips_told(history)})


def _slips_told(history: Traveller) -> list[str]:
    from generator.record.slips import slips_of

    return [f"{each.number} {each.decision}" for each in slips_of(history)]


def still_open(history: Traveller, shop: Workshop, on: str) -> list[Finding]:
    """All that stands in the way of closing a traveller, in the order of its sheets."""
    waiting, judged = as_judged(history, shop, on)
    return [*waiting, *told_of(history, judged, on)]


def as_judged(
    history: Traveller, shop: Workshop, on: str
) -> tuple[list[Finding], dict[str, list[Verdict]]]:
    """The slips that wait, and what blocks on each sheet of a traveller."""
    from generator.record.slips import slips_of

    slips = slips_of(history)
    again: set[str] = set()
    told: dict[str, tuple[str, str] | None] = {}
    for each in _latest_first(history, slips):  # what a later rework settles, it settles before
        told[each.number] = _slip_open(history, shop, each, again)
        if each.rework and told[each.number] is None:
            again |= {*_done_again(history, each)}
    waiting = [Finding(Place(e.number), "slip", *words) for e in slips if (words := told[e.number])]
    names = ("", *(each.rework for each in slips if each.rework), *changed_to(history))
    return waiting, {name: standing(history, shop, again, name, on) for name in names}


def told_of(history: Traveller, judged: Mapping[str, list[Verdict]], on: str) -> list[Finding]:
    """What else is open than slips: of the whole traveller, then of each sheet as it was judged."""
    found = [each for name, of in judged.items() for each in _findings(history, name, of)]
    return [
        *_unknown_slips(history), *_written_later(history, on), *_apart(history),
        *_across(history), *found,
    ]  # fmt: skip


def _latest_first(history: Traveller, slips: Sequence[Slip]) -> list[Slip]:
    """The slips in the order of their rework sheets, the latest first, the others before them."""
    order = sheets_beside(history)
    return sorted(slips, key=lambda each: order.index(each.rework) if each.rework in order else -1)


def _done_again(history: Traveller, slip: Slip) -> Iterator[str]:
    """The operations that stand on a rework sheet, by the names they have on every sheet before;
    without those that a later sheet has again."""
    from generator.results.supplement import is_rework

    sheets = [sheet for sheet in sheets_beside(history) if is_rework(sheet)]
    earlier = sheets[sheets.index(slip.rework) + 1 :]
    for number, last in last_done_on(history).items():
        if last == slip.rework:
            yield from (f"{number}{sheet}" for sheet in ("", *earlier))


def standing(
    history: Traveller, shop: Workshop, again: set[str], supplement: str = "", on: str = ""
) -> list[Verdict]:
    """What blocks: judged by the limits as printed, on the traveller or a supplementary sheet.

    again: the operations that a complete rework sheet stands for. on: the day behind which nothing
    is signed.
    """
    from generator.results.judge import judged

    form = in_force(history, supplement, form_read(history, supplement))
    books = books_of(shop, history, read_day(on) if on else None, supplement)
    books = replace(books, done_again=again)
    entries = entries_of(history, form, supplement)
    verdicts = judged(form, entries, books, *beside(history, supplement))
    return [each for each in verdicts if each.blocks]


def _across(history: Traveller) -> Iterator[Finding]:
    """Holds of one sheet and work on another."""
    from generator.results.case import Books, Case
    from generator.results.judge_across import across

    sheets = []
    for name in sheets_beside(history):
        form = in_force(history, name, form_read(history, name))
        sheets.append((name, Case(form, entries_of(history, form, name), Books({}, {}))))
    for name, number, says in across(sheets):
        place = Place(f"{named(history.serial, name)} operation {number}")
        yield Finding(place, "hold", says, "a slip, and rework that has the hold again")


def _apart(history: Traveller) -> Iterator[Finding]:
    """Acts of two desks that cannot both hold."""
    from generator.record.apart import at_odds

    for one, other, says in at_odds(history.acts):
        right = "look at both, then enter --corrects WHY; or witnessmark withdraw"
        yield Finding(Place(other.path), "apart", f"{says} ({one.path})", right)


def _findings(history: Traveller, supplement: str, verdicts: list[Verdict]) -> list[Finding]:
    """A finding for each thing that is wrong, then one for all empty boxes of an operation."""
    found = [_finding(history, supplement, each) for each in verdicts if each.code != "missing"]
    blank: dict[tuple[str, str], list[str]] = {}
    for each in verdicts:
        if each.code == "missing":
            blank.setdefault((each.sheet, each.operation), []).append(each.row)
    where = f"{history.serial} {supplement}".strip()
    for (sheet, operation), rows in blank.items():
        at = f" operation {operation}" if operation else ""
        more = f" and {len(rows) - _NAMED} more" if len(rows) > _NAMED else ""
        wrong = f"empty: {'; '.join(rows[:_NAMED])}{more}"
        place = Place(f"{where} {sheet.replace('-', ' ')}{at}")
        right = "what stands on the paper, or N/A with its reason"
        found.append(Finding(place, "missing", wrong, right))
    return found


def _finding(history: Traveller, supplement: str, verdict: Verdict) -> Finding:
    where = f"{history.serial} {supplement}".strip()
    of = f" --supplement {supplement}" if supplement else ""
    right = f"witnessmark enter {history.serial} FILE{of} --corrects WHY"
    if verdict.code in _ON_A_SLIP:
        number = verdict.operation or verdict.of
        at = number or "N, N the operation that works by it"
        right = f"witnessmark slip {history.serial} --operation {at}"
        right += "" if number else f", then {_concession(verdict)}"
        if verdict.slip:
            right = f"{verdict.slip} done with; where it is of something else, {right}"
    if verdict.code in _AS_IT_IS and "a slip" in verdict.says:
        at = verdict.operation or verdict.of or "N, N any operation"
        right += f"; as it is, witnessmark slip {history.serial} --operation {at}"
        right += f", then {_concession(verdict)}"
    if verdict.code in _ENTERED:
        right = f"{_ENTERED[verdict.code]}, entered; or {right}"
    return Finding(Place(f"{where} {verdict.where}"), verdict.code, verdict.says, right)


def _concession(verdict: Verdict) -> str:
    """How a concession names what stands in a box of no operation."""
    return f'concede --covers "{verdict.row}=VALUE"'


def _slip_open(
    history: Traveller, shop: Workshop, slip: Slip, again: set[str]
) -> tuple[str, str] | None:
    """What a slip waits for, and what would be right; None where it is done with."""
    if found := waits_for(history, slip):
        return found
    if slip.rework and standing(history, shop, again, slip.rework):
        right = f"witnessmark enter {history.serial} FILE --supplement {slip.rework}"
        return f"rework {slip.rework} is not complete", right
    return None


def _unknown_slips(history: Traveller) -> Iterator[Finding]:
    for name in sheets_beside(history):
        form = form_read(history, name)
        for wrong in unknown_slips(history, form, entries_of(history, form, name)):
            right = f"witnessmark slip {history.serial}, or enter --corrects WHY"
            yield Finding(Place(f"{history.serial} {name}".strip()), "slip", wrong, right)


def _written_later(history: Traveller, on: str) -> Iterator[Finding]:
    """Acts that are dated after the day of closing."""
    for each in history.acts:
        if str(each.tree.get("on", "")) > on:
            wrong = f"recorded on {each.tree['on']}, after {on}"
            yield Finding(Place(each.path), "date", wrong, "--on that day or a later one")
