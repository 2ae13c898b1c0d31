"""`enter`: what was written on the sheets of a traveller, typed from the paper, into the record."""

from __future__ import annotations

import re
from argparse import Namespace
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from generator.check.readers import day as read_day
from generator.commands.acting import (
    as_recorded,
    head_of,
    in_turn,
    shop_of,
    unchanged,
    way_on,
)
from generator.commands.allowing import (
    books_of_parts,
    covered,
    listed_then,
    raised,
    since,
    waits,
)
from generator.commands.blank import write_blank
from generator.commands.in_force import (
    in_force,
    last_done_on,
    sheets_beside,
    void_on,
    where_done,
)
from generator.commands.people import because, may
from generator.commands.told import done_before, say, tell
from generator.composing.kinds import FIT_RECORD
from generator.findings import Fault, Finding, Refusal
from generator.process import Workshop
from generator.read import Document, read_file, source_of
from generator.signs import things_in
from generator.workshop import found

if TYPE_CHECKING:
    from generator.record import Traveller
    from generator.record.history import Recorded
    from generator.results.case import Books, Verdict
    from generator.results.entries import Entry
    from generator.results.form import Form, Key

_SUPPLEMENT = re.compile(r"R[1-9][0-9]*[A-Z]?|[A-Z]")
_KEYS = ("traveller", "boxes")
_FEW = 12  # empty boxes that are told by their names


def enter(asked: Namespace) -> int:
    """0 with the form written or the results recorded, 1 with findings and nothing recorded."""
    from generator.results.judge_fit import alone

    recording = asked.blank is None and bool(asked.file and asked.on and asked.stamp)
    shop = shop_of(asked) if recording else None  # before the record is read
    history = as_recorded(asked, asked.serial)
    form = form_read(history, asked.supplement)
    if asked.blank is not None:
        if history.status == "closed" and not asked.supplement:
            form = alone(form)
        write_blank(asked, history, form, named(asked.serial, asked.supplement))
        return 0
    if shop is None:
        raise Refusal(
            "misuse", "a result needs its file, --on DAY and --stamp STAMP",
            f"enter {asked.serial} result.yaml --on 2026-11-26 --stamp AR1; or --blank FILE",
        )  # fmt: skip
    return _entered(asked, shop, history, form)


def named(serial: str, supplement: str) -> str:
    """What people call the sheets: A-0001, or A-0001 R1 for the sheet of its first rework."""
    return f"{serial} {supplement}".strip()


def form_read(history: Traveller, supplement: str = "") -> Form:
    """The form of a traveller or of a supplementary sheet. Refusal where it cannot be read."""
    if supplement and not _SUPPLEMENT.fullmatch(supplement):
        raise Refusal("misuse", f"'{supplement}' is no supplementary sheet", "such as R1, or B")
    shown = _shown(history, supplement)
    file = history.folder / shown
    if supplement and not file.exists():
        raise Refusal(
            "misuse",
            f"{history.serial} has no supplementary sheet {supplement}",
            "such as R1, or B",
        )
    if not file.exists():
        wrong = f"{history.serial} was issued without a form"
        raise Refusal("record", wrong, "its results stay on paper: it is of an earlier version")
    try:
        return _form_from(source_of(file, file.name), file)
    except (KeyError, TypeError, AttributeError):
        wrong = f"form.yaml of {history.serial} is not what was issued"
        raise Refusal("record", wrong, f"git checkout HEAD -- {shown}") from None


# An act asks for the same few frozen forms many times; reading one takes longer than judging it.
@lru_cache(maxsize=8)
def _form_from(source: bytes | Finding, file: Path) -> Form:
    from generator.record import tree_from
    from generator.results.form_tree import form_from

    return form_from(tree_from(source, file))


def _shown(history: Traveller, supplement: str) -> str:
    if supplement:
        return f"output/completed/{history.serial}/{supplement}/form.yaml"
    return f"output/issued/{history.serial}/form.yaml"


def results_of(history: Traveller, supplement: str = "") -> tuple[Recorded, ...]:
    """What was entered of the traveller's own sheets, or of one of its supplementary sheets."""
    acts = history.of_kind("result")
    return tuple(each for each in acts if each.tree.get("supplement", "") == supplement)


def _entered(asked: Namespace, shop: Workshop, history: Traveller, form: Form) -> int:
    from generator.results.entries import entries_in, standing, unreadable

    document, findings = read_file(asked.file, str(asked.file))
    if document is None or findings:
        tell(findings, asked)
        return 1
    _may_enter(shop, history, asked, _is_fit_record(document, form))
    sheets = {named(asked.serial, each): each for each in sheets_beside(history)}
    faults = shape_faults(document, named(asked.serial, asked.supplement), sheets)
    entries: dict[Key, Entry] = {}
    if not faults:
        entries, faults = entries_in(document.tree["boxes"], form)
    earlier = entries_of(history, form, asked.supplement)
    if not faults:
        faults = unreadable(document.tree["boxes"], form, entries)
    if not faults and not any(each.state != "blank" for each in entries.values()):
        right = "the words of at least one box"
        faults = [Fault(("boxes",), "result", "nothing is filled in", right, True)]
    if not faults and asked.corrects is None:
        faults = _changed(document.tree["boxes"], form, earlier, entries)
    if faults:
        tell([found(document, each) for each in faults], asked)
        return 1
    if (corrects := asked.corrects is not None) or _is_new(earlier, entries):
        _recorded(asked, history, shop.desk, document)
    else:  # the same file once more is no act: nobody wrote anything
        say("all of it stands there already: nothing is recorded", asked)
    with done_before(lambda: f"what was entered of {asked.serial} is recorded"):
        _judged(asked, shop, history, form, standing(earlier, entries, corrects))
    return 0


def _may_enter(shop: Workshop, history: Traveller, asked: Namespace, fit_alone: bool) -> None:
    """Who types it holds a stamp on that day, and the traveller is open; one that is closed takes
    its fit record, which is filled in when the part is fitted."""
    day, wrong = read_day(asked.on), f"{history.serial} is {history.status}"
    if history.status == "closed":
        wrong += ", and takes its fit record alone"
    fits = history.status == "closed" and not asked.supplement and fit_alone
    if history.status != "open" and not fits:
        raise Refusal("record", wrong, way_on(history))
    if str(history.facts.get("issued on", "")) > day.isoformat():
        wrong = f"{history.serial} was issued on {history.facts['issued on']}, after that day"
        raise Refusal("date", wrong, "--on that day or a later one")
    in_turn(history, day.isoformat())
    may(shop, asked.stamp, day)


def _is_fit_record(document: Document, form: Form) -> bool:
    """Whether a file writes in no other boxes than those of the fit record, by what is read from
    it: `ticks: none` takes ticks back."""
    from generator.results.entries import BLANK, entries_in

    boxes = document.tree.get("boxes")
    entries, _ = entries_in(boxes, form) if isinstance(boxes, Mapping) else ({}, [])
    return {key[0] for key, each in entries.items() if each.state != BLANK.state} <= {FIT_RECORD}


def shape_faults(document: Document, wanted: str, sheets: Mapping[str, str]) -> list[Fault]:
    """What is wrong with a file that is to be of the sheet `wanted`, before its boxes are read;
    `sheets`: each sheet of the traveller and the supplement it is asked for by ("" for itself)."""
    tree = document.tree
    strange = [key for key in tree if key not in _KEYS]
    if strange:
        return [Fault((key,), "result", f"no key is called '{key}'", "traveller, boxes", True)
                for key in strange]  # fmt: skip
    if (told := tree.get("traveller")) != wanted:
        right = wanted
        if isinstance(told, str) and told in sheets:
            right = f"--supplement {sheets[told]}" if sheets[told] else "without --supplement"
        return [Fault(("traveller",), "result", f"this is no result of {wanted}", right)]
    if not isinstance(tree.get("boxes"), Mapping):
        return [Fault(("boxes",), "result", "there are no boxes", "enter SERIAL --blank FILE")]
    return []


def _changed(
    tree: Mapping[str, Any],
    form: Form,
    earlier: Mapping[Key, Entry],
    entries: Mapping[Key, Entry],
) -> list[Fault]:
    """What was entered once is not written over without saying so."""
    from generator.results.entries import BLANK, place_of

    faults = []
    for field in form.fields:
        entry, before = entries.get(field.key, BLANK), earlier.get(field.key)
        if before is None or entry.state == "blank" or before == entry:
            continue
        wrong = f"'{before.text or before.state}' was entered here before"
        right = "--corrects WHY, which keeps the old one too"
        faults.append(Fault(place_of(field, form, tree), "result", wrong, right))
    return faults


def _is_new(earlier: Mapping[Key, Entry], entries: Mapping[Key, Entry]) -> bool:
    """Whether a file says anything that does not stand there already."""
    from generator.results.entries import standing

    return standing(earlier, entries) != earlier


def _recorded(asked: Namespace, history: Traveller, desk: str, document: Document) -> None:
    from generator.record import Act, Desk, perform, text_of

    before = results_of(history, asked.supplement)
    tree: dict[str, Any] = head_of("result", history, asked)
    if asked.supplement:
        tree["supplement"] = asked.supplement
    if asked.corrects is not None:
        why = because(asked.corrects, "--corrects")
        if not before:
            raise Refusal("misuse", "nothing was entered yet", "without --corrects")
        tree["corrects"] = {"file": before[-1].path, "why": why}
    tree["boxes"] = document.tree["boxes"]

    def make(at: Desk) -> Act:
        unchanged(history)
        path = at.next_file(f"output/completed/{asked.serial}", "result")
        return Act(path, f"Enter results of {asked.serial}", {path: text_of(tree)})

    act, _ = perform(asked.workshop, desk, make)
    say(act.title, asked)


def _judged(
    asked: Namespace,
    shop: Workshop,
    history: Traveller,
    form: Form,
    entries: Mapping[Key, Entry],
) -> None:
    """All that is wrong or still open, a line each; many empty boxes are counted by their place."""
    from generator.results.judge import judged
    from generator.results.judge_fit import alone

    books = books_of(shop, history, read_day(asked.on), asked.supplement)
    asked_for = in_force(history, asked.supplement, form)
    if history.status == "closed":
        asked_for = alone(form)
    verdicts = judged(asked_for, entries, books, *beside(history, asked.supplement))
    for each in verdicts:
        if each.code != "missing":
            say(f"{each.where}: {each.code}: {each.says}", asked)
    for wrong in unknown_slips(history, form, entries):
        say(wrong, asked)
    if void := sorted({key[1] for key in entries} & void_on(history, asked.supplement)):
        say(f"{', '.join(void)}: void by a later rework, kept and not judged", asked)
    gone = list(where_done(history, asked.supplement, {key[1] for key in entries}))
    for where in gone:
        say(where.replace(": ", ": void: it counts for nothing; ", 1), asked)
    empty = [each for each in verdicts if each.code == "missing"]
    for line in _empty(empty):
        say(line, asked)
    say(
        f"{len(verdicts) + len(gone) - len(empty)} to be looked at, {len(empty)} boxes still empty",
        asked,
    )


def _empty(boxes: Sequence[Verdict]) -> Iterator[str]:
    """The boxes that are still empty: each by its name where they are few, else how many of them
    each operation and sheet has."""
    if len(boxes) <= _FEW:
        yield from (f"{each.where}: empty" for each in boxes)
        return
    places = Counter(each.where.partition(", ")[0] for each in boxes)
    yield "empty: " + ", ".join(f"{place} ({count})" for place, count in places.items())


def unknown_slips(history: Traveller, form: Form, entries: Mapping[Key, Entry]) -> Iterator[str]:
    """Numbers that stand in a box for a slip, and no slip of the traveller."""
    from generator.record.slips import slips_of

    known = {each.number for each in slips_of(history)}
    for each in form.fields:
        entry = entries.get(each.key)
        if "slip no" not in f"{each.row} {each.name}" or entry is None or not entry.stands:
            continue
        of = f"operation {each.operation}, " if each.operation else ""
        for number in things_in(entry.text):
            if number not in known:
                yield f"{of}{each.row}: slip: {number} is no slip of {history.serial}"


def books_of(shop: Workshop, history: Traveller, day: date | None, supplement: str = "") -> Books:
    """What the workshop knows of its stamps and instruments, and the record of who did the work.

    day: of entering or of closing. supplement: the sheet that is judged.
    """
    from generator.record.batches import batches_of
    from generator.record.slips import sheet_of, slips_of

    slips, last = slips_of(history), last_done_on(history)
    # What is measured anew on a rework sheet is another value, in a box of the same name.
    of_sheet = [e for e in slips if sheet_of(history, e.operation) == supplement]
    return replace(
        books_of_parts(shop, history, day, supplement),
        instruments={each.number: each for each in shop.instruments},
        then=listed_then(history),
        conceded=tuple(covered(of_sheet)),
        conceded_on=since(of_sheet),
        doers=_doers(history),
        on_slip={operation: told for each in slips for operation, told in waits(each, last)},
        raised=raised(history),
        batches=batches_of(history.folder, history.serial),
    )


def entries_of(history: Traveller, form: Form, supplement: str = "") -> dict[Key, Entry]:
    """What stands in the boxes of a form, after all that was entered."""
    from generator.results.entries import entries_in, standing

    found: dict[Key, Entry] = {}
    for act in results_of(history, supplement):
        day = read_day(str(act.tree["on"]))
        told = entries_in(act.tree["boxes"], form)[0]
        dated = {key: replace(each, entered=day) for key, each in told.items()}
        found = standing(found, dated, "corrects" in act.tree)
    return found


def _doers(history: Traveller) -> frozenset[str]:
    """Who did work on the traveller, on any of its sheets."""
    from generator.results.case import Books, Case
    from generator.results.judge import done_by

    named = {str(each.tree.get("supplement", "")) for each in history.of_kind("result")}
    found: set[str] = set()
    for name in named:
        form = form_read(history, name)
        found |= {*done_by(Case(form, entries_of(history, form, name), Books({}, {})))}
    return frozenset(found)


Filled = list[tuple["Form", Mapping["Key", "Entry"]]]


def beside(history: Traveller, supplement: str) -> tuple[Filled, Filled]:
    """The sheets of the traveller before one of them and the later ones, each with what stands on
    it and the latest first."""
    names = sheets_beside(history)
    at = names.index(supplement) if supplement in names else -1  # of no decision: the latest
    return _filled(history, names[at + 1 :]), _filled(history, names[: max(at, 0)])


def _filled(history: Traveller, names: Iterable[str]) -> Filled:
    forms = [(name, form_read(history, name)) for name in names]
    return [(form, entries_of(history, form, name)) for name, form in forms]
