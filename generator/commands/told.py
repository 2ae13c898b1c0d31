"""Findings and words for the user in; text on the terminal out: the one layout of findings."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import TypeVar

from generator.findings import Finding, Refusal, as_json, shown

Thing = TypeVar("Thing")
MENDED = "room on the disk, and a folder that can be written"


def tell(
    findings: Sequence[Finding], asked: Namespace, end: str = "", as_given: bool = False
) -> None:
    """All findings in reading order, or as they are given, and a line that counts them."""
    if getattr(asked, "format", "text") == "json":
        print(as_json(findings))
        return
    shown_so = findings if as_given else sorted(findings, key=Finding.reading_order)
    for finding in shown_so:
        print(_marked(shown(finding)), file=sys.stderr)
    count = f"{len(findings)} finding{'' if len(findings) == 1 else 's'}"
    print(f"{count}{end or ', nothing written'}", file=sys.stderr)


def advise(given: Sequence[Finding], pieces: int, asked: Namespace) -> None:
    """Advice in reading order where it is asked for, else how much there is; for people only."""
    if not pieces or getattr(asked, "format", "text") == "json":
        return
    count = f"{pieces} piece{'' if pieces == 1 else 's'} of advice"
    if not asked.advice:
        print(f"{count}: check --advice")
        return
    for each in sorted(given, key=Finding.reading_order):
        print(shown(each))
    print(f"{count}; advice stops nothing")


def say(words: str, asked: Namespace) -> None:
    """A line for the user, unless a program reads."""
    if getattr(asked, "format", "text") != "json":
        print(words)


def _marked(text: str) -> str:
    """The first line in bold on a terminal; NO_COLOR asks for none."""
    if not sys.stderr.isatty() or os.environ.get("NO_COLOR"):
        return text
    first, newline, rest = text.partition("\n")
    return f"\x1b[1m{first}\x1b[0m{newline}{rest}"


@contextmanager
def done_before(what: Callable[[], str]) -> Iterator[None]:
    """Inside, whatever is refused says at its end what was done already, so that nobody believes
    that nothing was; what says how it ended itself, or where nothing was done, stays."""
    try:
        yield
    except Refusal as no:
        raise Refusal(no.code, no.wrong, no.right, no.ends or what()) from no
    except OSError as fault:
        if fault.filename is None or not what():  # without a name it may be our own output
            raise
        wrong = f"{fault.filename}: {fault.strerror or fault}"
        raise Refusal("file", wrong, MENDED, what()) from fault


def counted(things: Iterable[Thing], total: int, what: str) -> Iterator[Thing]:
    """The things one by one, with a bar on a terminal and silence in a pipe."""
    bar = sys.stderr.isatty() and total > 3
    for n, thing in enumerate(things, start=1):
        if bar:
            done = round(24 * n / total)
            print(
                f"\r{what} [{'#' * done}{'.' * (24 - done)}] {n}/{total}", end="", file=sys.stderr
            )
        yield thing
    if bar:
        print("\r" + " " * (len(what) + 40) + "\r", end="", file=sys.stderr)
