"""`list`: the open travellers, whom each waits for, and the inspector's visit sheet."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.acting import shop_of
from generator.commands.draft import day_words, write_folder
from generator.commands.told import say
from generator.findings import Refusal

_LAST_DAY = "9999-12-31"
_FEW = 6  # places with findings that are named

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence
    from pathlib import Path

    from generator.findings import Finding
    from generator.process import Workshop
    from generator.record import Traveller
    from generator.results.case import Verdict
    from generator.results.progress import Filled, Late, Progress


def list(asked: Namespace) -> int:  # the word of the command
    """0 with the open travellers told, and where asked their sheet printed."""
    shop = shop_of(asked, acting=False)
    found = progress_of(asked, shop)
    for each in found:
        slips = f"; slips open: {', '.join(each.slips)}" if each.slips else ""
        found_at = f"; findings at {each.findings}" if each.findings else ""
        say(
            f"{each.serial}  {each.process} {each.revision}  {each.part}  "
            f"issued {each.issued}: {each.waits}{slips}{found_at}",
            asked,
        )
    late = ended_but_waiting(asked, shop)
    for one in late:
        say(f"{one.serial}  {one.process}  {one.part}  {one.state}: {one.waits}", asked)
    due = [each for each in found if each.stop]
    more = f"; ended ones that wait for somebody: {len(late)}" if late else ""
    say(f"{len(found)} open, {len(due)} at a stop{more}", asked)
    if asked.print:
        _printed(asked, shop, found, late)
    return 0


def ended_but_waiting(asked: Namespace, shop: Workshop) -> tuple[Late, ...]:
    """What waits on travellers that are closed, fitted or withdrawn. For the visit sheet their fit
    records are judged too, on all cores: that takes some 30 ms of each part that was ever fitted.
    """
    from generator.library.cores import on_all_cores
    from generator.record.slips import ended_and_waiting
    from generator.record.sound import by_traveller

    records = bool(asked.print)
    ended = [*ended_and_waiting(asked.workshop, records)]
    rows = by_traveller(asked.workshop) if ended else {}
    serials = [(each, rows.get(each, {})) for each in ended]
    found: tuple[Late, ...] = ()
    for told in on_all_cores(partial(_late, asked.workshop, shop, records), serials):
        if isinstance(told, str):
            say(told, asked)
        else:
            found += told
    return found


def _late(
    folder: Path, shop: Workshop, records: bool, named: tuple[str, Mapping[str, str]]
) -> tuple[Late, ...] | str:
    """What waits on one traveller that has ended, with its fit record where records says so, or
    what a stopped run has begun on it."""
    from generator.commands.fit_record import waits_at_fit_record
    from generator.commands.waiting import state_of, waiting
    from generator.results.progress import Late

    history = _held(folder, *named)
    if isinstance(history, str):
        return history
    facts = history.facts
    part = f"{facts['part']} {', '.join(facts['part serials'])}"
    process = f"{facts['process']} {facts['revision']}"
    waits = [*waiting(history)]
    if records:
        waits += waits_at_fit_record(shop, history, read_day(_LAST_DAY))
    return tuple(Late(history.serial, process, part, state_of(history), each) for each in waits)


def progress_of(asked: Namespace, shop: Workshop) -> tuple[Progress, ...]:
    """How far every open traveller has come, by what was entered; on all cores, as what was entered
    is judged."""
    from generator.library.cores import on_all_cores
    from generator.record.held import lists_as_held
    from generator.record.history import open_serials
    from generator.record.sound import by_traveller

    lists_as_held(asked.workshop)
    rows = by_traveller(asked.workshop)
    serials = [(each, rows.get(each, {})) for each in open_serials(asked.workshop, rows)]
    found = []
    for come in on_all_cores(partial(_progress, asked.workshop, shop), serials):
        if isinstance(come, str):
            say(come, asked)
        else:
            found.append(come)
    return tuple(found)


def _progress(folder: Path, shop: Workshop, named: tuple[str, Mapping[str, str]]) -> Progress | str:
    """How far one open traveller has come, or what a stopped run has begun on it."""
    history = _held(folder, *named)
    return history if isinstance(history, str) else _come(history, shop)


def _held(folder: Path, serial: str, rows: Mapping[str, str]) -> Traveller | str:
    """A traveller as it was recorded, or what a stopped run has begun on it."""
    from generator.record import traveller
    from generator.record.begun import begun_on
    from generator.record.sound import sound

    try:
        sound(folder, serial, rows)
        return traveller(folder, serial)
    except Refusal:
        if not (says := begun_on(folder).get(serial)):
            raise
        return f"{serial}: {says}"


def _come(history: Traveller, shop: Workshop) -> Progress:
    """How far one traveller has come. Of one on which nothing is entered nothing is judged."""
    from generator.commands.close import as_judged, told_of
    from generator.commands.waiting import waits_for
    from generator.record.slips import GONE, is_open, slips_of
    from generator.results.progress import progress

    slips = slips_of(history)
    undone = tuple(each.number for each in slips if is_open(each))
    gone = [(each, waits_for(history, each)) for each in slips if each.decision in GONE]
    goes = next((f"{each.number}: {'; '.join(told)}" for each, told in gone if told), "")
    entered = bool(history.of_kind("result"))
    waiting, judged = as_judged(history, shop, _LAST_DAY) if entered else ([], {})
    more = told_of(history, judged, _LAST_DAY) if entered else []
    come = progress(history.facts, tuple(_sheets(history, judged)), undone, goes)
    if not come.operation and not goes and (waiting or more):
        come = replace(come, waits=_signed_and_open(history.serial, [*waiting, *more]))
    return replace(come, findings=_places(history.serial, more))


def _places(serial: str, found: Iterable[Finding]) -> str:
    """Where on a traveller something is wrong, each place once. A box that is still empty is work
    to come, and no finding."""
    told = (each for each in found if each.code != "missing")
    words = (each.place.path.removeprefix(serial).strip() or each.wrong for each in told)
    places = [*dict.fromkeys(each.partition(", ")[0] for each in words)]
    more = len(places) - _FEW
    return ", ".join(places[:_FEW]) + (f" and {more} more" if more > 0 else "")


def _sheets(history: Traveller, judged: Mapping[str, Sequence[Verdict]]) -> Iterator[Filled]:
    """The sheets of a traveller with the operations that are done there and nowhere later.
    judged: what blocks on each of them. A stamp that is not there is no stamp that is no good."""
    from generator.commands.enter import entries_of, form_read
    from generator.commands.in_force import (
        in_force,
        last_done_on,
        sheets_beside,
        text_of_operations,
    )
    from generator.draw.sheet import kinds_in
    from generator.results.form_part import without
    from generator.results.judge_holds import PEOPLE
    from generator.results.progress import Filled
    from generator.results.supplement import is_rework

    for name in reversed(sheets_beside(history)):
        form = form_read(history, name)
        own = in_force(history, name, form)
        if not is_rework(name):
            own = without(own, {*last_done_on(history)})
        kinds = kinds_in(text_of_operations(history, name))
        wrong = [e for e in judged.get(name, ()) if e.code in PEOPLE and e.code != "missing"]
        no_good = {(e.operation, e.row): e.says for e in wrong}
        yield Filled(name, own, entries_of(history, form, name), kinds, no_good)


def _signed_and_open(serial: str, more: Sequence[Finding]) -> str:
    """What a traveller waits for whose own operations are signed: a slip goes before all else."""
    slips = [f"{each.place.path}: {each.wrong}" for each in more if each.code == "slip"]
    first = f"; {slips[0]}" if slips else ""
    things = "1 thing is open" if len(more) == 1 else f"{len(more)} things are open"
    return f"its operations are signed{first}; {things}: witnessmark close {serial}"


def _printed(
    asked: Namespace, shop: Workshop, found: tuple[Progress, ...], late: tuple[Late, ...]
) -> None:
    from generator.draw import draw_sheet
    from generator.results.progress import visit_sheet

    day = day_words(read_day(asked.on)) if asked.on else "not dated"
    text = visit_sheet(shop, found, day, late)
    files = {"visit-sheet.md": text.encode(), "visit-sheet.pdf": draw_sheet(text).pdf}
    place = write_folder(asked.workshop / "output" / "draft" / "visit", files)
    say(f"{place / 'visit-sheet.pdf'}", asked)
