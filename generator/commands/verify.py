"""`verify`: is the record what was written? Read only; every finding names a file and what next."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TypeVar

from generator.commands.told import say, tell
from generator.files import no_record
from generator.findings import Finding, Place, Refusal

Found = TypeVar("Found")


def verify(asked: Namespace) -> int:
    """0 where all is as it was written, 1 with what is not."""
    from generator.record.begun import NOTHING, begun_in
    from generator.record.git import opened
    from generator.record.held import held_files
    from generator.record.line_ends import told_once
    from generator.record.media import media_findings
    from generator.record.rewritten import CUT, cut_off, is_cut, rewritten
    from generator.record.verify import passing_in_git, verified

    _is_there(asked.workshop)
    tree = opened(asked.workshop)
    # A note that is damaged, a store that lost something: what stands there is told all the same.
    begun, lost = _or_else(lambda: begun_in(tree), NOTHING)
    held, more = _or_else(lambda: held_files(tree), None)
    lost += more
    found, told = verified(asked.workshop, begun, held)
    found += lost
    found += _or_refused(passing_in_git(tree))
    found += _or_refused(rewritten(tree, told.lists, begun.lists, asked.whole_history))
    if is_cut(tree):
        if asked.whole_history:
            found.append(cut_off())
        else:
            say(CUT, asked)
    paths = sorted({*told.sums, *begun.there})
    found += _or_refused(media_findings(asked.workshop, paths))
    if asked.scans_by:
        found += _or_refused(_unscanned(asked.workshop, asked.scans_by))
    if found:
        tell(told_once(dict.fromkeys(found)), asked, "; nothing was changed")
        return 1
    say(f"{len(told.sums) + len(told.lists)} files are what was written", asked)
    return 0


def _is_there(folder: Path) -> None:
    """Refusal where there is no record, or git was told to leave it out."""
    from generator.record.put_back import is_sparse, put_back

    if not (folder / "output").is_dir():
        no = no_record(folder)
        raise Refusal(no.code, no.wrong, put_back(folder, "output")) if is_sparse(folder) else no


def _or_else(ask: Callable[[], Found], nothing: Found) -> tuple[Found, list[Finding]]:
    """What is asked for; where it is refused, nothing and the refusal as a finding."""
    try:
        return ask(), []
    except Refusal as no:
        return nothing, [Finding(Place("output"), no.code, no.wrong, no.right)]


def _or_refused(findings: Iterable[Finding]) -> Iterator[Finding]:
    """The findings; where git or a file stops the search, that as the last of them: what was found
    without it is told all the same."""
    try:
        yield from findings
    except Refusal as no:
        yield Finding(Place("output"), no.code, no.wrong, no.right)


def _unscanned(folder: Path, day: str) -> Iterator[Finding]:
    """Travellers that were closed before the day and of which sides of sheets are not scanned."""
    from generator.check.readers import day as read_day
    from generator.commands.attach import sides_missing
    from generator.record import traveller
    from generator.record.desk import COMPLETED, ISSUED

    until = read_day(day).isoformat()
    done = folder / COMPLETED
    for place in sorted(done.iterdir()) if done.is_dir() else []:
        if not (folder / ISSUED / place.name).is_dir():
            continue
        history = traveller(folder, place.name)
        closed = history.of_kind("close")
        if not closed or str(closed[-1].tree.get("on", "")) >= until:
            continue
        if missing := sides_missing(history):
            sheet, side = missing[0]
            wrong = f"closed, and {len(missing)} sides are not scanned, first sheet {sheet} {side}"
            right = f"witnessmark attach {place.name} FILE --as scan"
            yield Finding(Place(f"{COMPLETED}/{place.name}"), "scan", wrong, right)
