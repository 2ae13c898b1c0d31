"""`close`: the end of a traveller, refused with the list while anything is open."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.acting import acted, open_traveller, shop_of
from generator.commands.enter import books_of, form_read, results_of, unknown_slips
from generator.commands.people import may
from generator.commands.told import tell
from generator.findings import Finding, Place

_NAMED = 6  # empty boxes of an operation that are named

if TYPE_CHECKING:
    from generator.process import Workshop
    from generator.record import Traveller
    from generator.record.history import Recorded
    from generator.record.slips import Slip
    from generator.results.case import Verdict


def close(asked: Namespace) -> int:
    """0 with the traveller closed, 1 with all that is open and nothing recorded."""
    shop = shop_of(asked)
    may(shop, asked.stamp, read_day(asked.on), "lead", "inspector", "archivist")
    history = open_traveller(asked, asked.serial)
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
    from generator.record.slips import slips_of

    slips = slips_of(history)
    settled: set[str] = set()
    waiting: list[Finding] = []
    for each in reversed(slips):  # what was raised on a rework sheet settles that sheet
        told = _slip_open(history, shop, each, settled)
        if told is None:
            settled.add(each.operation)
        else:
            waiting.insert(0, Finding(Place(each.number), "slip", *told))
    found: list[Finding] = []
    for name in ("", *(each.rework for each in slips if each.rework), *_changed_to(history)):
        found += _findings(history, name, standing(history, shop, settled, name, on))
    return [*waiting, *_unknown_slips(history), *_written_later(history, on), *found]


def standing(
    history: Traveller, shop: Workshop, settled: set[str], supplement: str = "", on: str = ""
) -> list[Verdict]:
    """What blocks: judged by the limits as printed, on the traveller or a supplementary sheet.

    settled: the operations whose slip is done with. on: the day behind which nothing is signed.
    """
    from generator.results.entries import merged
    from generator.results.form import without
    from generator.results.judge import judged

    form = without(form_read(history, supplement), _gone_over(history, supplement))
    until = read_day(on) if on else None
    entries = merged([each.tree["boxes"] for each in results_of(history, supplement)], form)
    verdicts = judged(form, entries, books_of(shop, history, until, sorted(settled)))
    return [each for each in verdicts if each.blocks]


def _adopted(history: Traveller) -> list[Recorded]:
    """The decisions by which the traveller went over to a newer revision."""
    return [e for e in history.of_kind("decide") if e.tree.get("decision") == "adopt"]


def _changed_to(history: Traveller) -> list[str]:
    """The revisions whose changed operations have a sheet of their own."""
    place = history.folder / "output/completed" / history.serial
    letters = [str(each.tree["revision"]) for each in _adopted(history)]
    return [each for each in letters if (place / each / "form.yaml").exists()]


def _gone_over(history: Traveller, supplement: str) -> set[str]:
    """The operations that are done on the sheet of a later revision and not on this one."""
    later = _adopted(history)
    letters = [str(each.tree["revision"]) for each in later]
    if supplement in letters:
        later = later[letters.index(supplement) + 1 :]
    return {number for each in later for number in each.tree.get("operations", ())}


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
    of = f"{history.serial} --supplement {supplement}" if supplement else history.serial
    right = {
        "out": f"witnessmark slip {history.serial} --operation {verdict.operation or 'N'}",
    }.get(verdict.code, f"witnessmark enter {of} FILE --corrects WHY")
    return Finding(Place(f"{where} {verdict.where}"), verdict.code, verdict.says, right)


def _slip_open(
    history: Traveller, shop: Workshop, slip: Slip, settled: set[str]
) -> tuple[str, str] | None:
    """What a slip waits for, and what would be right; None where it is done with."""
    if slip.decided is None:
        return f"nobody decided on: {slip.says}", f"witnessmark dispose {slip.number}"
    if slip.decision == "use" and slip.concession is None:
        wrong = "to be used as it is, without a concession"
        return wrong, f"witnessmark concede {slip.number}"
    if slip.decision in ("scrap", "return"):
        right = f"witnessmark withdraw {history.serial}, and a new traveller for the next part"
        return f"the part goes: {slip.decision}", right
    if slip.rework and standing(history, shop, settled, slip.rework):
        right = f"witnessmark enter {history.serial} --supplement {slip.rework} FILE"
        return f"rework {slip.rework} is not complete", right
    return None


def _unknown_slips(history: Traveller) -> Iterator[Finding]:
    from generator.results.entries import merged

    form = form_read(history)
    entries = merged([each.tree["boxes"] for each in results_of(history)], form)
    for wrong in unknown_slips(history, form, entries):
        right = f"witnessmark slip {history.serial}, or enter --corrects WHY"
        yield Finding(Place(history.serial), "slip", wrong, right)


def _written_later(history: Traveller, on: str) -> Iterator[Finding]:
    """Acts that are dated after the day of closing."""
    for each in history.acts:
        if str(each.tree.get("on", "")) > on:
            wrong = f"recorded on {each.tree['on']}, after {on}"
            yield Finding(Place(each.path), "date", wrong, "--on that day or a later one")
