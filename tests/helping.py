"""What several tests borrow: a workshop folder in; its findings, its sheets and their text, out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from markdown_it import MarkdownIt

from generator.compose import SheetFacts, compose
from generator.findings import Finding
from generator.workshop import found, open_shop, work_out

SOUND = Path(__file__).parent / "cases" / "sound"
DRAFT = SheetFacts("", (), "2026-11-25")


def sheets_of(
    folder: Path, facts: SheetFacts = DRAFT, drafting: bool = True
) -> tuple[dict[str, str], list[Finding]]:
    """The sheets of a workshop by file, those of one process behind each other, and all findings
    in reading order, as `check` has them."""
    shop = open_shop(folder)
    findings = list(shop.findings)
    sheets = {}
    for file, process in shop.processes.items():
        workings, more = work_out(shop, file, drafting=drafting)
        findings += more
        if more or shop.workshop is None:
            continue
        made, faults = compose(process, workings, shop.workshop, facts)
        findings += [found(shop.documents[file], fault) for fault in faults]
        if made is not None:
            sheets[file] = "\n".join(made.sheets.values())
    return sheets, sorted(findings, key=Finding.reading_order)


def _reader() -> MarkdownIt:
    """Full CommonMark with tables: far more than our own dialect lets a text do."""
    return MarkdownIt("commonmark").enable("table")


def blocks_in(sheet: str) -> list[str]:
    """The sheet's blocks as full CommonMark sees them, and its ::: lines word for word."""
    tokens = _reader().parse(_without_containers(sheet))
    kinds = [f"{token.type} {token.tag}" for token in tokens if token.type != "inline"]
    inner = [child.type for token in tokens for child in token.children or ()]
    marks = [kind for kind in inner if kind not in ("text", "text_special", "softbreak")]
    return kinds + sorted(marks) + re.findall(r"(?m)^\s*:::.*$", sheet)


def texts_in(sheet: str) -> list[str]:
    """The text of every paragraph, heading and cell of a sheet, as a reader of the paper sees it."""
    tokens = _reader().parse(_without_containers(sheet))
    return ["".join(_words(token.children or ())) for token in tokens if token.type == "inline"]


def _without_containers(sheet: str) -> str:
    return re.sub(r"(?m)^:::.*$", "", sheet)


def _words(children: Any) -> Iterator[str]:
    for child in children:
        yield "\n" if child.type == "softbreak" else child.content
