"""Every page of tests/cases/pages in; a workshop with that slip in it, and exactly its findings, out.

A page is plain text that a foreman could write: a title; the number of the situation in TRADE
section 7; for each file what stood there (was |) and what is written instead (now |); then every
finding as the terminal shows it, or "findings: none" with what the sheet then says. `now |` alone
is a whole file. <U+202E> is that sign, <byte E9> that byte, <40 of [> forty of them.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from generator.findings import Finding, listed
from tests.helping import SOUND, blocks_in, sheets_of, texts_in

PAGES = sorted((Path(__file__).parent / "cases" / "pages").rglob("*.txt"))
_SPECIAL = re.compile(r"<(?:U\+([0-9A-F]{4})|byte ([0-9A-F]{2})|(\d+) of (.))>")


@dataclass
class Page:
    """One case as written."""

    title: str
    situation: str
    changes: list[Change] = field(default_factory=list)
    findings: list[tuple[str, str, str]] = field(default_factory=list)
    says: list[str] = field(default_factory=list)
    keeps_its_blocks: bool = False


@dataclass
class Change:
    """What is changed in one file; was is empty where the whole file is written."""

    path: str
    edits: list[tuple[list[str], list[str]]] = field(default_factory=list)
    gone: bool = False
    crlf: bool = False


def read_page(text: str) -> Page:
    title, situation, *lines = text.rstrip("\n").split("\n")
    page = Page(title, situation)
    part = "changes"
    for line in lines:
        if line == "findings" or line.startswith("findings: none"):
            part = "findings"
        elif line == "the sheet says":
            part = "says"
        elif line == "the sheet keeps its blocks":
            page.keeps_its_blocks = True
        elif line.strip():
            _read_line(page, part, line)
    return page


def _read_line(page: Page, part: str, line: str) -> None:
    if part == "findings":
        if line.startswith("    Right: "):
            place, wrong, _ = page.findings.pop()
            page.findings.append((place, wrong, line.removeprefix("    Right: ")))
        else:
            place, _, wrong = line.partition(": ")
            page.findings.append((place, wrong, ""))
    elif part == "says":
        page.says.append(line)
    elif line.startswith(("was |", "now |")):
        _edit(page.changes[-1], line)
    elif line == "is gone":
        page.changes[-1].gone = True
    elif line == "is saved with CRLF":
        page.changes[-1].crlf = True
    else:
        page.changes.append(Change(line))


def _edit(change: Change, line: str) -> None:
    is_new = line.startswith("now |")
    last_has_new = bool(change.edits and change.edits[-1][1])
    if not change.edits or (not is_new and last_has_new):
        change.edits.append(([], []))
    change.edits[-1][is_new].append(line[5:])


def _bytes(lines: list[str]) -> bytes:
    made = b""
    end = 0
    text = "".join(line + "\n" for line in lines)
    for match in _SPECIAL.finditer(text):
        made += text[end : match.start()].encode()
        sign, byte, times, repeated = match.groups()
        made += (
            chr(int(sign, 16)).encode() if sign
            else bytes.fromhex(byte) if byte
            else repeated.encode() * int(times)
        )  # fmt: skip
        end = match.end()
    return made + text[end:].encode()


def written(page: Page, folder: Path) -> None:
    """The sound workshop with the page's changes in it."""
    shutil.copytree(SOUND, folder, dirs_exist_ok=True)
    for change in page.changes:
        file = folder / change.path
        if change.gone:
            file.unlink()
            continue
        before = file.read_bytes() if file.exists() else b""
        for was, now in change.edits:
            old = _bytes(was)
            assert not was or before.count(old) == 1, f"{page.title}: not there once: {was}"
            before = before.replace(old, _bytes(now)) if was else _bytes(now)
        if change.crlf:
            before = before.replace(b"\n", b"\r\n")
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(before)


def _mismatches(page: Page, findings: list[Finding]) -> Iterator[str]:
    if len(findings) != len(page.findings):
        yield f"{len(page.findings)} findings expected, {len(findings)} came"
    for wanted, came in zip(page.findings, findings, strict=False):
        place, wrong, right = wanted
        where = came.place
        have = f"{where.path}:{where.line}:{where.column}" if where.line else where.path
        if have != place:
            yield f"expected at {place}, came at {have}"
        code, _, fragment = wrong.partition(": ")
        if came.code != code or fragment not in came.wrong:
            yield f"expected '{wrong}', came '{came.code}: {came.wrong}'"
        if not right or right not in came.right:
            yield f"expected right '{right}', came '{came.right}'"


@pytest.mark.parametrize("file", PAGES, ids=lambda file: file.stem)
def test_page_gives_exactly_its_findings(file: Path, tmp_path: Path) -> None:
    page = read_page(file.read_text(encoding="utf-8"))
    written(page, tmp_path)
    sheets, findings = sheets_of(tmp_path)
    wrong = list(_mismatches(page, findings))
    assert not wrong, "\n".join([*wrong, "", "all that came:", listed(findings)])
    texts = "\n".join(text for sheet in sheets.values() for text in texts_in(sheet))
    for line in page.says:
        assert line in texts, f"the sheet does not say: {line}"
    if page.keeps_its_blocks:
        _keeps_its_blocks(page, sheets)


def _keeps_its_blocks(page: Page, sheets: dict[str, str]) -> None:
    sound, _ = sheets_of(SOUND)
    for change in page.changes:
        assert blocks_in(sheets[change.path]) == blocks_in(sound[change.path])


def test_sound_workshop_has_no_findings() -> None:
    sheets, findings = sheets_of(SOUND)
    assert listed(findings) == ""
    assert len(sheets) == 2


# Situations of TRADE section 7 that belong to reading, checking, working out and composing here.
OURS = {*range(1, 7), *range(8, 16), *range(19, 24), 25, *range(28, 32), *range(37, 41)}


def test_every_situation_has_a_page() -> None:
    told = {int(n) for file in PAGES for n in re.findall(r"\d+", _situation(file))}
    assert told >= OURS, f"no page for {sorted(OURS - told)}"


def _situation(file: Path) -> str:
    return read_page(file.read_text(encoding="utf-8")).situation
