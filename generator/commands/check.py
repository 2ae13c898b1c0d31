"""`check`: every process read, checked, worked out, composed and laid out; nothing is printed.

A process that was sound is not worked out again as long as nothing changed that decides it. Quick
stops behind reading and checking, and says so. Advice is counted, or printed behind the findings;
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
    """0 where all is sound, 1 with findings."""
    if asked.quick and asked.advice:
        wrong = "advice belongs to a whole check, and --quick is none"
        raise Refusal("misuse", wrong, "check --advice, or check --quick")
    one = bool(asked.process)
    library = surveyed(
        asked.workshop, whole=not one and not asked.quick, with_advice=asked.advice,
        anew=asked.anew, counted=lambda verdicts, total: counted(verdicts, total, "checking"),
    )  # fmt: skip
    files = _files(library, asked)
    if one and not asked.quick:
        library = completed(library, files, asked.advice)
    findings = library.about(files) if one else library.findings
    sound = [library.verdicts[file] for file in files if library.verdicts[file].built]
    advice = [piece for each in sound for piece in each.advice]
    if findings or asked.format == "json":
        tell([*findings, *(advice if asked.advice and asked.format == "json" else ())], asked)
    if not findings:
        _sound(sound, asked)
    if not asked.quick:  # it looked for none, and what is kept may know of some
        advise(advice, sum(each.pieces for each in sound), asked)
    return 1 if findings else 0


def _sound(files: Sequence[Verdict], asked: Namespace) -> None:
    processes = f"{len(files)} process{'' if len(files) == 1 else 'es'}"
    if asked.quick:
        ahead = "numbers, windows and sheets are not: check without --quick before a draft"
        say(f"{processes} read and checked; {ahead}", asked)
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
