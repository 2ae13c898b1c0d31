"""The sheets of a traveller, in; what its records have of some operations, as sections of a
supplementary sheet, and the words of an operation that lead there, out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

# Links of a sheet with numbers of its own; the other sheets have the file of the sheet before them.
LINK = re.compile(r"(?<!\\)\]\(#([cg][0-9]+)\)")
_OPERATION = re.compile(r"(?m)^#{1,2} Operation ([0-9]+)$")
_TREATMENT = re.compile(r"(?m)^## Treatment(?: of operation ([0-9]+))?\n+(.*)$")
_RIVETS = re.compile(
    r"(?m)^## (.*)\n+(?:::: (?:warning|caution)\n(?:[^:\n].*\n)*:::\n+)*"
    r"Operation ([0-9]+(?:, [0-9]+)*)\. Not stopped"
)
_OVER = re.compile(
    r"(?m)^## (?:Treatment(?: of operation [0-9]+)?|Operation [0-9]+|Boxes that do not apply)$"
)
# What the traveller says of an operation that is written down elsewhere (composing/recorded.py).
_SENT = re.compile(r"(?m)^\| (written|map|sense) \| (.*)\bon the ([a-z ]+?)(, .*|: .*|) \|$")
# What a record says of where the steps of its operation stand (composing/there.py).
_STEPS = re.compile(r"(?m)^(\| traveller \| operation )([0-9]+)(?=[:,])")


@dataclass(frozen=True)
class Elsewhere:
    """What a record has of some operations. kind: of the sheet; words: without their heading."""

    kind: str
    numbers: tuple[str, ...]
    words: str


def to_the_next(text: str, start: int, rank: int) -> str:
    """From a heading to the next one of its rank or above."""
    behind = re.search(rf"^#{{1,{rank}}} ", text[start + 3 :], re.MULTILINE)
    return text[start : start + 3 + behind.start()] if behind else text[start:]


def elsewhere(sheets: Mapping[str, str], numbers: Sequence[str]) -> list[Elsewhere]:
    """What other sheets than the traveller have of these operations, in their order: readings, rows
    of a log, a treatment, maps to be ticked."""
    found: list[Elsewhere] = []
    for kind, text in sheets.items():
        if kind not in ("traveller", "rework-sheet"):
            found += [*_treatments(kind, text, sheets["traveller"]), *_rivets(kind, text)]
            found += _operations(kind, text)
    own = (replace(e, numbers=tuple(n for n in e.numbers if n in numbers)) for e in found)
    return sorted((e for e in own if e.numbers), key=lambda e: numbers.index(e.numbers[0]))


def _operations(kind: str, text: str) -> Iterator[Elsewhere]:
    for found in _OPERATION.finditer(text):
        block = to_the_next(text, found.start(), found[0].index(" "))
        yield Elsewhere(kind, (found[1],), block.partition("\n")[2])


def _treatments(kind: str, text: str, traveller: str) -> Iterator[Elsewhere]:
    """A treatment names its operation, or begins with its words where an older print has it."""
    for found in _TREATMENT.finditer(text):
        before = LINK.sub(r"](calculation-sheet.pdf#\1)", traveller).partition(f"\n{found[2]}\n")
        number = re.findall(r"(?m)^## ([0-9]+) ", before[0])[-1:] if before[1] else []
        number = [found[1]] if found[1] else number
        end = _OVER.search(text, found.end())
        words = text[found.start() : end.start() if end else len(text)]
        words = words.replace(f"## Treatment of operation {found[1]}\n", "## Treatment\n")
        yield Elsewhere(kind, tuple(number), re.sub(r"(?m)^## ", "### ", words))


def _rivets(kind: str, text: str) -> Iterator[Elsewhere]:
    """A map of rivets stands once for all operations that rivet by it."""
    for found in _RIVETS.finditer(text):
        words = to_the_next(text, found.start(), 2).replace(f"Operation {found[2]}. ", "", 1)
        yield Elsewhere(kind, tuple(found[2].split(", ")), f"#{words}")


def sections(records: Sequence[Elsewhere], suffix: str) -> Iterator[str]:
    """The sections of a supplementary sheet, each named by the first of its operations; they lead
    to the steps as they stand on this sheet."""
    here = {number for each in records for number in each.numbers}

    def led(told: re.Match[str]) -> str:
        return f"{told[1]}{told[2]}{suffix} on this sheet" if told[2] in here else told[0]

    for first, group in groupby(records, key=lambda each: each.numbers[0]):
        words = _STEPS.sub(led, "\n".join(each.words for each in group))
        row = re.compile(rf"(?m)^\| operation {first}\b")
        yield f"# Operation {first}{suffix}\n{row.sub(f'| operation {first}{suffix}', words)}"


def led_there(block: str, number: str, suffix: str, records: Sequence[Elsewhere]) -> str:
    """An operation as the traveller has it, that leads to the section of this sheet."""
    there = {e.kind.replace("-", " "): e.numbers[0] for e in reversed(records)
             if number in e.numbers}  # fmt: skip

    def led(told: re.Match[str]) -> str:
        key, before, sheet, behind = told.groups()
        if sheet not in there:
            return told[0]
        place = f"under Operation {there[sheet]}{suffix} on this sheet"
        return f"| {key} | {before}{place}{behind.removesuffix(', not here')} |"

    return _SENT.sub(led, block)
