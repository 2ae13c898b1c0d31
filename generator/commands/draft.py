"""`draft`: travellers marked DRAFT - NOT FOR WORK into output/draft/; findings stop everything."""

from __future__ import annotations

import os
import shutil
from argparse import Namespace
from datetime import date
from pathlib import Path

from generator.check.readers import day as read_day
from generator.commands.told import counted, say, tell
from generator.compose import SheetFacts
from generator.findings import Finding, Place, Refusal
from generator.workshop import Given, Shop, chosen, open_shop, read_values, sheets_of


def draft(asked: Namespace) -> int:
    """0 with the drafts written, 1 with findings and nothing written."""
    shop = open_shop(asked.workshop)
    if shop.findings:
        tell(shop.findings, asked)
        return 1
    files = list(shop.processes) if asked.all else chosen(shop, asked.process)
    if not files:
        raise Refusal(
            "misuse", "no process is named", "witnessmark draft T6-P-0410, or draft --all"
        )
    given, findings = given_values(asked, shop, files)
    prints = {}
    facts = SheetFacts("", _serials(given), on_paper(asked.on))
    for shown in counted(files, len(files), "drawing") if not findings else ():
        made, more = printed(shop, shown, facts, given, drafting=True)
        findings += more
        prints[shop.processes[shown].number] = made
    if findings:
        tell(findings, asked)
        return 1
    for number, made in prints.items():
        written = write_folder(shop.folder / "output" / "draft" / number, made)
        for name in (each for each in made if each.endswith(".pdf")):
            say(f"{written / name}", asked)
    return 0


def on_paper(day: str | None) -> str:
    """The day of printing as sheets show it."""
    return day_words(read_day(day)) if day else "not dated"


def day_words(day: date) -> str:
    """25 NOV 2026"""
    return day.strftime("%d %b %Y").upper()


def _serials(given: Given | None) -> tuple[str, ...]:
    return (given.values.part_serial,) if given and given.values.part_serial else ()


def given_values(
    asked: Namespace, shop: Shop, files: list[str]
) -> tuple[Given | None, list[Finding]]:
    """The values of the part, which must be for the one process asked for."""
    if asked.given is None:
        return None, []
    given, findings = read_values(asked.given)
    if given is None:
        return None, findings
    numbers = [shop.processes[shown].number for shown in files]
    if numbers != [given.values.process]:
        place = given.document.place(("process",))
        wrong = f"the values are for {given.values.process}, not for {', '.join(numbers)}"
        return None, [Finding(place, "given", wrong, "the values of this process")]
    return given, []


def printed(
    shop: Shop, shown: str, facts: SheetFacts, given: Given | None, drafting: bool
) -> tuple[dict[str, bytes], list[Finding]]:
    """The files of one print: each sheet as text and as PDF, and one map of all their boxes."""
    from generator.draw import box_map, draw_sheet

    made, findings = sheets_of(shop, shown, facts, given, drafting)
    if made is None:
        return {}, findings
    try:
        drawn = {kind: draw_sheet(text) for kind, text in made.sheets.items()}
    except Refusal as refusal:
        return {}, [Finding(Place(shown), refusal.code, refusal.wrong, refusal.right)]
    files = {f"{kind}.md": text.encode() for kind, text in made.sheets.items()}
    files |= {f"{kind}.pdf": each.pdf for kind, each in drawn.items()}
    files["boxes.json"] = box_map(drawn).encode()
    files["fingerprint.txt"] = f"{made.fingerprint}\n".encode()
    return files, []


def write_folder(folder: Path, files: dict[str, bytes]) -> Path:
    """Write all files or none: into a new folder beside it, which then takes its place."""
    made = folder.with_name(f".{folder.name}.new")
    shutil.rmtree(made, ignore_errors=True)
    made.mkdir(parents=True)
    try:
        for name, content in files.items():
            (made / name).write_bytes(content)
        if folder.is_symlink() or folder.is_file():
            raise Refusal("file", f"{folder} is not a folder of ours", "another name there")
        shutil.rmtree(folder, ignore_errors=True)
        os.replace(made, folder)
    finally:
        shutil.rmtree(made, ignore_errors=True)
    return folder
