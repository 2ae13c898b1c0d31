"""`draft`: travellers marked DRAFT - NOT FOR WORK into output/draft/; findings stop everything."""

from __future__ import annotations

import re
from argparse import Namespace
from collections.abc import Mapping
from datetime import date
from pathlib import Path

from generator.check.readers import day as read_day
from generator.commands.entered_values import looked_up
from generator.commands.told import counted, say, tell
from generator.compose import KINDS, SheetFacts, kinds_of
from generator.findings import Finding, Place, Refusal, near_word
from generator.workshop import Given, Shop, chosen, open_shop, read_values, sheets_of


def draft(asked: Namespace) -> int:
    """0 with the drafts written, 1 with findings and nothing written."""
    shop = open_shop(asked.workshop)
    if shop.findings:
        tell(shop.findings, asked)
        return 1
    _known(asked.only)
    files = list(shop.processes) if asked.all else chosen(shop, asked.process)
    if asked.all and asked.only:
        files = [each for each in files if asked.only in kinds_of(shop.processes[each])]
    if not files:
        raise Refusal(
            "misuse", "no process is named", "witnessmark draft T6-P-0410, or draft --all"
        )
    given, findings = given_values(asked, shop, files)
    prints = {}
    facts = SheetFacts("", _serials(given), on_paper(asked.on))
    for shown in counted(files, len(files), "drawing") if not findings else ():
        made, more = printed(shop, shown, facts, given, drafting=True, only=asked.only)
        findings += more
        prints[shop.processes[shown].number] = made
    if findings:
        tell(findings, asked)
        return 1
    for number, made in prints.items():
        written = write_folder(shop.folder / "output" / "draft" / number, made)
        for name in made:
            if name.endswith(".pdf"):
                say(f"{written / name}", asked)
    return 0


def _known(only: str | None) -> None:
    """Refuses a kind of sheet that there is not."""
    if only is not None and only not in KINDS:
        near = near_word(only, KINDS)
        right = (f"{near}? " if near else "") + "one of: " + ", ".join(KINDS)
        raise Refusal("misuse", f"there is no sheet '{only}'", right)


def on_paper(day: str | None) -> str:
    """The day of printing as sheets show it."""
    return day_words(read_day(day)) if day else "not dated"


def day_words(day: date) -> str:
    """2026-11-25, the one form in which a day stands on paper"""
    return day.isoformat()


def _serials(given: Given | None) -> tuple[str, ...]:
    return (given.values.part_serial,) if given and given.values.part_serial else ()


def given_values(
    asked: Namespace, shop: Shop, files: list[str]
) -> tuple[Given | None, list[Finding]]:
    """The values of the part, which must be for the one process asked for."""
    if asked.given is None:
        return None, []
    given, findings = read_values(asked.given, lambda d: looked_up(asked.workshop, d))
    if given is None:
        return None, findings
    numbers = [shop.processes[shown].number for shown in files]
    if numbers != [given.values.process]:
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
        return {}, [_laid_out(shop, shown, refusal)]
    files = {f"{kind}.md": made.sheets[kind].encode() for kind in kinds}
    files |= {f"{kind}.pdf": each.pdf for kind, each in drawn.items()} | whole
    if shop.workshop is not None and shop.workshop.backs and only is None:
        files["pack-duplex.pdf"] = pack.whole(backs=True)
        drawn = {**drawn, "backs": pack.backs()}
    files["boxes.json"] = box_map(drawn).encode()
    files["fingerprint.txt"] = f"{made.fingerprint}\n".encode()
    return files, []


_OPERATION = re.compile(r"\boperation (\d+)\b")
_HEADED = (("the title", "title"), ("trade ", "trade"))


def layout(shop: Shop, shown: str, sheets: Mapping[str, str]) -> list[Finding]:
    """What cannot be drawn of composed sheets."""
    from generator.draw import draw_set

    try:
        draw_set(sheets)
    except Refusal as refusal:
        return [_laid_out(shop, shown, refusal)]
    return []


def _laid_out(shop: Shop, shown: str, refusal: Refusal) -> Finding:
    """What cannot be laid out, at the operation or the key of the file that it speaks of."""
    document = shop.documents[shown]
    place = Place(shown)
    named = _OPERATION.search(refusal.wrong)
    numbers = [str(each.number) for each in shop.processes[shown].operations]
    if named and named[1] in numbers:
        place = document.place(("operations", numbers.index(named[1]), "number"))
    for begins, key in _HEADED:
        if refusal.wrong.startswith(begins):
            place = document.place((key,))
    return Finding(place, refusal.code, refusal.wrong, refusal.right)


def write_folder(folder: Path, files: dict[str, bytes]) -> Path:
    """Write all files or none: into a new folder beside it, which then takes its place."""
    from generator.beside import beside

    if folder.is_symlink() or folder.is_file():
        raise Refusal("file", f"{folder} is not a folder of ours", "another name there")
    with beside(folder) as made:
        for name, content in files.items():
            file = made / name
            try:
                file.write_bytes(content)
            except OSError as fault:
                fault.filename = fault.filename or str(file)
                raise
    return folder
