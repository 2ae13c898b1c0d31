"""`list`: the open travellers, whom each waits for, and the inspector's visit sheet."""

from __future__ import annotations

from argparse import Namespace
from typing import TYPE_CHECKING

from generator.check.readers import day as read_day
from generator.commands.acting import shop_of
from generator.commands.draft import day_words, write_folder
from generator.commands.told import say

if TYPE_CHECKING:
    from generator.results.progress import Progress


def list(asked: Namespace) -> int:  # the word of the command
    """0 with the open travellers told, and where asked their sheet printed."""
    found = progress_of(asked)
    for each in found:
        slips = f"; slips open: {', '.join(each.slips)}" if each.slips else ""
        say(
            f"{each.serial}  {each.process} {each.revision}  {each.part}  "
            f"issued {each.issued}: {each.waits}{slips}",
            asked,
        )
    due = [each for each in found if each.stop]
    say(f"{len(found)} open, {len(due)} at a stop", asked)
    if asked.print:
        _printed(asked, found)
    return 0


def progress_of(asked: Namespace) -> tuple[Progress, ...]:
    """How far every open traveller has come, by what was entered."""
    from generator.commands.enter import form_read, results_of
    from generator.record.history import all_serials, traveller
    from generator.record.slips import slips_of
    from generator.results.entries import merged
    from generator.results.progress import progress

    found = []
    for serial in all_serials(asked.workshop):
        history = traveller(asked.workshop, serial)
        if history.status != "open":
            continue
        form = form_read(history)
        entries = merged([each.tree["boxes"] for each in results_of(history)], form)
        undone = [each.number for each in slips_of(history) if each.decided is None]
        found.append(progress(history.facts, form, entries, tuple(undone)))
    return tuple(found)


def _printed(asked: Namespace, found: tuple[Progress, ...]) -> None:
    from generator.draw import draw_sheet
    from generator.results.progress import visit_sheet

    shop = shop_of(asked)
    day = day_words(read_day(asked.on)) if asked.on else "not dated"
    text = visit_sheet(shop, found, day)
    files = {"visit-sheet.md": text.encode(), "visit-sheet.pdf": draw_sheet(text).pdf}
    place = write_folder(asked.workshop / "output" / "draft" / "visit", files)
    say(f"{place / 'visit-sheet.pdf'}", asked)
