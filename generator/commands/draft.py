"""`draft`: travellers marked DRAFT - NOT FOR WORK into output/draft/; findings stop everything.

What stands there as it was drawn, and would be drawn the same again, is left alone. All that is
needed to see that is imported here; what reads, checks and draws is brought in when it is wanted.
"""

from __future__ import annotations

import os
from argparse import Namespace
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import partial
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from generator.beside import beside, is_ours, put_in_place
from generator.commands.told import counted, say, tell
from generator.files import source_of
from generator.findings import Finding, Place, Refusal, near_word
from generator.library.cores import on_all_cores
from generator.library.deciders import Deciders, program_sum
from generator.library.kept import Kept, Print, added, content_of, forget, place_of, recall, tidy
from generator.library.staging import staged
from generator.library.standing import Wanted, looks_of, settled, stands
from generator.library.survey import Library, named, opened, surveyed, with_prerequisites
from generator.library.verdicts import read_again

if TYPE_CHECKING:
    from datetime import date

    from generator.compose import SheetFacts
    from generator.workshop import Given, Shop


def draft(asked: Namespace) -> int:
    """0 with the drafts there, 1 with findings and nothing written."""
    _known(asked.only)
    wanted = Wanted(_made_with(asked, None), asked.only or "")
    of_all = wanted if asked.all and not asked.given else None
    library = surveyed(asked.workshop, False, anew=asked.anew, wanted=of_all)
    files = _asked_for(library, asked)
    findings = library.findings if asked.all else _in_the_way(library, files)
    if findings:
        tell(findings, asked)
        return 1
    if not files:
        raise Refusal(
            "misuse", "no process is named", "witnessmark draft T6-P-0410, or draft --all"
        )
    given, findings = _given_values(asked, [library.verdicts[each].number for each in files])
    if given is not None:
        wanted = Wanted(_made_with(asked, given), wanted.only)
    standing = [] if asked.anew else [f for f in files if _stands(library, f, wanted, of_all)]
    still = frozenset(standing)
    to_draw = [each for each in files if each not in still]
    if to_draw and not findings:
        findings = _drawn(opened(library), to_draw, wanted, given, asked)
    if findings:
        tell(findings, asked)
        return 1
    _told_what_stands(library, standing, len(to_draw), wanted, asked)
    return 0


def _known(only: str | None) -> None:
    """Refuses a kind of sheet that there is not."""
    if only is None:
        return
    from generator.compose import KINDS

    if only not in KINDS:
        near = near_word(only, KINDS)
        right = (f"{near}? " if near else "") + "one of: " + ", ".join(KINDS)
        raise Refusal("misuse", f"there is no sheet '{only}'", right)


def _asked_for(library: Library, asked: Namespace) -> list[str]:
    if not asked.all:
        return named(library, asked.process)
    told = library.verdicts.items()
    return [f for f, each in told if each.built and (not asked.only or asked.only in each.kinds)]


def _in_the_way(library: Library, files: Sequence[str]) -> list[Finding]:
    """A draft waits for its own process, for those it needs and for the lists, for no other."""
    return library.about(with_prerequisites(library, files))


def _made_with(asked: Namespace, given: Given | None) -> str:
    """The sum of what decides a draft besides its process, the lists and the program."""
    values = "" if given is None else f"{asked.given}\n{given.document.source!r}\n{given.values!r}"
    return sha256(f"{on_paper(asked.on)}\n{asked.only or ''}\n{values}".encode()).hexdigest()


def _stands(library: Library, shown: str, wanted: Wanted, asked: Wanted | None) -> bool:
    """Whether a print stands as it would be drawn; of all prints that was looked at already."""
    if wanted == asked:
        return shown in library.standing
    source = source_of(library.folder, shown)
    kept = recall(library.folder, shown, library.sums.key(shown, source), True) if source else None
    return kept is not None and stands(library.folder, kept, wanted)


def _told_what_stands(
    library: Library, standing: Sequence[str], drawn: int, wanted: Wanted, asked: Namespace
) -> None:
    """What was not drawn again: by its folder where it was named, else counted."""
    drafts = library.folder / "output" / "draft"
    if not asked.all:
        for each in standing:
            say(f"{drafts / wanted.name(library.verdicts[each].number)} unchanged", asked)
        others = len(library.findings)
        if others:
            many = f"{others} finding{'' if others == 1 else 's'} elsewhere"
            say(f"{many}: witnessmark check", asked)
    elif standing:
        say(f"{drawn} drawn, {len(standing)} unchanged", asked)


@dataclass(frozen=True)
class _Work:
    """What a process of the machine needs to draw any of the drafts."""

    shop: Shop
    sums: Deciders
    facts: SheetFacts
    given: Given | None
    wanted: Wanted
    made: Path


@dataclass(frozen=True, slots=True)
class _Made:
    """What became of one draft; pdfs: the names of its files, to be told."""

    shown: str
    name: str
    pdfs: tuple[str, ...]
    findings: tuple[Finding, ...]


def _drawn(
    library: Library, files: Sequence[str], wanted: Wanted, given: Given | None, asked: Namespace
) -> list[Finding]:
    """Draw all beside the drafts, then put all in their places; or only what stands in the way."""
    from generator.compose import SheetFacts

    assert library.shop is not None
    if library.lists:
        return list(library.lists)
    drafts = library.folder / "output" / "draft"
    facts = SheetFacts("", _serials(given), on_paper(asked.on))
    for each in files:
        is_ours(drafts / wanted.name(library.verdicts[each].number))
    with staged(drafts) as made:
        work = _Work(library.shop, library.sums, facts, given, wanted, made)
        all_made, findings = [], list[Finding]()
        prints = on_all_cores(partial(_drafted, work), files)
        for done in counted(prints, len(files), "drawing"):
            all_made.append(done)
            findings += done.findings
        if findings:
            return findings
        for done in all_made:
            put_in_place(made / done.name, drafts / done.name)
            with suppress(OSError):  # what is not kept is drawn again
                os.replace(made / f"{done.name}.kept", place_of(library.folder, done.shown))
            _say_written(drafts / done.name, done, asked)
    if program_sum() != library.sums.program:  # it was changed meanwhile: who knows what ran
        forget(library.folder, files)
    tidy(library.folder, library.verdicts)
    settled()
    return []


def _drafted(work: _Work, shown: str) -> _Made:
    """One draft made beside the others, with what is to be kept of it."""
    folder, source = work.shop.folder, source_of(work.shop.folder, shown)
    own, verdict = read_again(work.shop, shown, source)
    if source is None or not verdict.sound:  # it was changed since it was looked at
        return _Made(shown, "", (), verdict.findings)
    only = work.wanted.only or None
    files, findings = printed(own, shown, work.facts, work.given, drafting=True, only=only)
    if findings:
        return _Made(shown, "", (), tuple(findings))
    name = work.wanted.name(verdict.number)
    place = work.made / name
    place.mkdir()
    for file, content in files.items():
        (place / file).write_bytes(content)
    key = work.sums.key(shown, source)
    kept = added(recall(folder, shown, key, True), key, verdict)
    kept = _with_print(kept, name, place, files, work.wanted)
    (work.made / f"{name}.kept").write_bytes(content_of(kept))
    return _Made(shown, name, tuple(each for each in files if each.endswith(".pdf")), ())


def _with_print(
    kept: Kept, name: str, place: Path, files: Mapping[str, bytes], wanted: Wanted
) -> Kept:
    """What is kept of a process, with a print that was just written: the sums of what was to be
    written, and what it looks like before anybody else can find it."""
    looks = looks_of(str(place))
    if looks is None:
        raise Refusal("file", f"{name} was altered while it was drawn", "the same again")
    sums = {file: sha256(content).hexdigest() for file, content in files.items()}
    made = Print(wanted.made_with, looks, sums)
    return replace(kept, prints={**kept.prints, name: made})


def _say_written(place: Path, made: _Made, asked: Namespace) -> None:
    """Every file of what was named; of a whole library its folders."""
    if asked.all:
        say(f"{place}: {len(made.pdfs)} PDFs", asked)
        return
    for name in made.pdfs:
        say(f"{place / name}", asked)


def on_paper(day: str | None) -> str:
    """The day of printing as sheets show it."""
    if not day:
        return "not dated"
    from generator.check.readers import day as read_day

    return day_words(read_day(day))


def day_words(day: date) -> str:
    """2026-11-25, the one form in which a day stands on paper"""
    return day.isoformat()


def _serials(given: Given | None) -> tuple[str, ...]:
    return (given.values.part_serial,) if given and given.values.part_serial else ()


def given_values(
    asked: Namespace, shop: Shop, files: list[str]
) -> tuple[Given | None, list[Finding]]:
    """The values of the part, which must be for the one process asked for."""
    return _given_values(asked, [shop.processes[shown].number for shown in files])


def _given_values(asked: Namespace, numbers: Sequence[str]) -> tuple[Given | None, list[Finding]]:
    if asked.given is None:
        return None, []
    from generator.commands.entered_values import looked_up
    from generator.workshop import read_values

    given, findings = read_values(asked.given, lambda d: looked_up(asked.workshop, d))
    if given is None:
        return None, findings
    if list(numbers) != [given.values.process]:
        place = given.document.place(("process",))
        wrong = f"the values are for {given.values.process}, not for {', '.join(numbers)}"
        return None, [Finding(place, "given", wrong, "the values of this process")]
    return given, []


def printed(
    shop: Shop,
    shown: str,
    facts: SheetFacts,
    given: Given | None,
    drafting: bool,
    only: str | None = None,
) -> tuple[dict[str, bytes], list[Finding]]:
    """The files of one print: each sheet as text and as PDF, one map of all their boxes, and where
    no single kind is asked for the pack of them. Pages are counted over the pack in any case."""
    from generator.draw import box_map, lay_out
    from generator.workshop import not_laid_out, sheets_of

    made, findings = sheets_of(shop, shown, facts, given, drafting)
    if made is None:
        return {}, findings
    if only is not None and only not in made.sheets:
        wrong = f"{shop.processes[shown].number} needs no {only}"
        return {}, [Finding(Place(shown), "sheet", wrong, "one of: " + ", ".join(made.sheets))]
    kinds = list(made.sheets) if only is None else [only]
    try:
        pack = lay_out(made.sheets)
        drawn = {kind: pack.sheet(kind) for kind in kinds}
        whole = {"pack.pdf": pack.whole()} if only is None else {}
    except Refusal as refusal:
        return {}, [not_laid_out(shop, shown, refusal)]
    files = {f"{kind}.md": made.sheets[kind].encode() for kind in kinds}
    files |= {f"{kind}.pdf": each.pdf for kind, each in drawn.items()} | whole
    if shop.workshop is not None and shop.workshop.backs and only is None:
        files["pack-duplex.pdf"] = pack.whole(backs=True)
        drawn = {**drawn, "backs": pack.backs()}
    files["boxes.json"] = box_map(drawn).encode()
    files["fingerprint.txt"] = f"{made.fingerprint}\n".encode()
    return files, []


def write_folder(folder: Path, files: dict[str, bytes]) -> Path:
    """Write all files or none: into a new folder beside it, which then takes its place."""
    is_ours(folder)
    with beside(folder) as made:
        for name, content in files.items():
            file = made / name
            try:
                file.write_bytes(content)
            except OSError as fault:
                fault.filename = fault.filename or str(file)
                raise
    return folder
