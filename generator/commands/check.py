"""`check`: every process read, checked, worked out, composed and laid out; nothing written.

Advice on the wording is counted, or printed behind the findings; it never changes the exit code.
"""

from __future__ import annotations

from argparse import Namespace

from generator.commands.draft import layout
from generator.commands.told import advise, counted, say, tell
from generator.compose import SheetFacts
from generator.findings import Finding, Refusal
from generator.workshop import Shop, advice_on, chosen, open_shop, sheets_of, work_out


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
    advice = [each for shown in files for each in advice_on(shop, shown)]
    if findings or asked.format == "json":
        tell([*findings, *(advice if asked.advice and asked.format == "json" else ())], asked)
    if not findings:
        _sound(len(files), typed, asked)
    advise(advice, asked)
    return 1 if findings else 0


def _sound(files: int, typed: int, asked: Namespace) -> None:
    processes = f"{files} process{'' if files == 1 else 'es'} sound"
    waiting = f"{typed} TYPED number{'' if typed == 1 else 's'} and tables wait for a calculation"
    say(f"{processes}; {waiting}", asked)


def _files(shop: Shop, asked: Namespace, findings: list[Finding]) -> list[str]:
    """The sound files that are asked for; of the findings, only those about them are kept."""
    if not asked.process:
        if not shop.documents and not findings:
            right = "a process file, such as processes/forming/skin.yaml"
            raise Refusal("misuse", "processes/ holds no process", right)
        return list(shop.processes) if shop.workshop else []
    files = [shown for word in asked.process for shown in _named(shop, word)]
    lists = "processes/workshop/"
    findings[:] = [f for f in findings if f.place.path in files or f.place.path.startswith(lists)]
    return [shown for shown in dict.fromkeys(files) if shown in shop.processes and shop.workshop]


def _named(shop: Shop, word: str) -> list[str]:
    """The files of a process number or path, sound or not."""
    numbers = {shown: d.tree.get("process") for shown, d in shop.documents.items()}
    unread = {finding.place.path for finding in shop.findings}
    named = [shown for shown in {*numbers, *unread} if word in (shown, numbers.get(shown))]
    if named or word in {process.number for process in shop.processes.values()}:
        return sorted(named)
    # The number may stand in a file that could not be read: its findings are the answer then.
    return sorted(unread - set(shop.documents)) or chosen(shop, [word])


def _one(shop: Shop, shown: str) -> tuple[int, list[Finding]]:
    """How many numbers of one process are typed, and what stands in the way of its sheet."""
    process = shop.processes[shown]
    lacking = any(g.with_part and g.example is None for g in process.given.values())
    workings, findings = work_out(shop, shown, lenient=True)
    told = any(finding.place.path == shown for finding in shop.findings)
    if findings or lacking or told:
        return workings.typed, findings
    made, findings = sheets_of(shop, shown, SheetFacts("", (), "not dated"))
    if made is not None:
        findings = layout(shop, shown, made.sheets)
    return workings.typed, findings
