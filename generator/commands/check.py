"""`check`: the whole library read and checked, the processes that are named worked out, composed
and laid out too; `--whole` does that to all. Nothing is printed.

A process that was sound is not worked out again as long as nothing changed that decides it. Nothing
is called sound of which no sheet was laid out. Advice is counted, or printed behind the findings;
it never changes the exit code.
"""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Sequence

from generator.commands.told import advise, counted, say, tell
from generator.findings import Refusal
from generator.library.survey import Library, completed, named, surveyed
from generator.library.verdicts import Verdict


def check(asked: Namespace) -> int:
    """0 where nothing is wrong, 1 with findings."""
    one = bool(asked.process)
    library = surveyed(
        asked.workshop, whole=not one and (asked.whole or asked.advice), with_advice=asked.advice,
        anew=asked.anew, counted=lambda verdicts, total: counted(verdicts, total, "checking"),
    )  # fmt: skip
    files = _files(library, asked)
    if one:
        library = completed(library, files, asked.advice)
    findings = library.about(files) if one else library.findings
    verdicts = [library.verdicts[file] for file in files]
    advice = [piece for each in verdicts if each.built for piece in each.advice]
    if findings or asked.format == "json":
        tell([*findings, *(advice if asked.advice and asked.format == "json" else ())], asked)
    if not findings:
        _nothing_wrong(verdicts, asked)
    if all(each.whole for each in verdicts if each.built):  # else some of it was never looked for
        advise(advice, sum(each.pieces for each in verdicts if each.built), asked)
    return 1 if findings else 0


def _nothing_wrong(files: Sequence[Verdict], asked: Namespace) -> None:
    processes = f"{len(files)} process{'' if len(files) == 1 else 'es'}"
    ahead = sum(not each.whole for each in files)
    if ahead:
        which = "none is" if ahead == len(files) else f"{ahead} not"
        say(f"{processes} read and checked; {which} worked out and laid out yet: check --whole",
            asked)  # fmt: skip
        return
    typed = sum(each.typed for each in files)
    waiting = f"{typed} TYPED number{'' if typed == 1 else 's'} and tables wait for a calculation"
    say(f"{processes} sound; {waiting}", asked)


def _files(library: Library, asked: Namespace) -> list[str]:
    """The files that are asked for."""
    if asked.process:
        return named(library, asked.process)
    if not library.verdicts and not library.findings:
        right = "a process file, such as processes/forming/skin.yaml"
        raise Refusal("misuse", "processes/ holds no process", right)
    return list(library.verdicts)
