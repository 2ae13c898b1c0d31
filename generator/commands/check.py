"""`check`: every process read, checked, worked out, composed and laid out; nothing written."""

from __future__ import annotations

from argparse import Namespace

from generator.commands.told import counted, say, tell
from generator.compose import SheetFacts
from generator.findings import Finding, Place, Refusal
from generator.workshop import Shop, chosen, open_shop, sheet_of, work_out


def check(asked: Namespace) -> int:
    """0 where all is sound, 1 with findings."""
    shop = open_shop(asked.workshop)
    findings = list(shop.findings)
    files = _files(shop, asked, findings)
    typed = 0
    for shown in counted(files, len(files), "checking"):
        count, more = _one(shop, shown)
        typed += count
        findings += more
    if findings:
        tell(findings, asked)
        return 1
    if asked.format == "json":
        tell([], asked)
    processes = f"{len(files)} process{'' if len(files) == 1 else 'es'} sound"
    waiting = f"{typed} TYPED number{'' if typed == 1 else 's'} and tables wait for a calculation"
    say(f"{processes}; {waiting}", asked)
    return 0


def _files(shop: Shop, asked: Namespace, findings: list[Finding]) -> list[str]:
    """The sound files asked for; findings of files not asked for are left out."""
    if shop.workshop is None:
        return []
    if not asked.process:
        if not shop.documents and not findings:
            raise Refusal("misuse", "processes/ holds no process", "a process file, such as processes/forming/skin.yaml")
        return list(shop.processes)
    unsound = {f.place.path for f in findings}
    files = []
    for word in asked.process:
        named = [p for p, d in shop.documents.items() if word in (p, d.tree.get("process"))]
        named = named or [p for p in unsound if p == word]
        if any(path in unsound for path in named):
            files += [path for path in named if path in shop.processes]
        else:
            files += chosen(shop, [word])
        findings[:] = findings if any(p in unsound for p in named) else findings
    return list(dict.fromkeys(files))


def _one(shop: Shop, shown: str) -> tuple[int, list[Finding]]:
    """How many numbers of one process are typed, and what stands in the way of its sheet."""
    process = shop.processes[shown]
    lacking = any(g.with_part and g.example is None for g in process.given.values())
    workings, findings = work_out(shop, shown, lenient=True)
    if findings or lacking:
        return workings.typed, findings
    sheet, findings = sheet_of(shop, shown, SheetFacts("", (), "not dated"))
    if sheet is not None:
        findings = _layout(shown, sheet.markdown)
    return workings.typed, findings


def _layout(shown: str, markdown: str) -> list[Finding]:
    from generator.draw import draw_sheet

    try:
        draw_sheet(markdown)
    except Refusal as refusal:
        return [Finding(Place(shown), refusal.code, refusal.wrong, refusal.right)]
    return []
