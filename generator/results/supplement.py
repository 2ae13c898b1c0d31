"""The sheets of a traveller and some of its operations, in; what is void behind those that are done
again, and the supplementary sheet on which they are done, out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from generator.draw.parse import Container, plain
from generator.draw.sheet import Operation, Part, spoken
from generator.results.elsewhere import LINK, Elsewhere, elsewhere, led_there, sections, to_the_next

_LOOKS = ("measure", "hold", "witness", "independent")
_WAITS = "wait"  # what was glued, sealed or treated again has not waited yet
_FEATURES = re.compile(r"\n::: features\n(.*?)\n:::\n", re.DOTALL)
_LIMITS = re.compile(r"## .*[Ll]imits of feature [0-9]+\n")
_TICKED = re.compile(r"((?:Tick the column that is|as) ticked in operation )([0-9]+)")
_MEANT = "Where a step names an operation that is done again here, the one with {} is meant."
_USES = re.compile(r"(?m)^\| uses \| (.*) \|$")
_KIT = re.compile(r"(?m)^\|(?: [^|]*\|){8}$")
_ANEW = "What is used this time, also where it is the batch of before, and not past its day."
_CLOSES = re.compile(r"(?m)^(\| closes operations \| )([0-9]+)(?: to ([0-9]+))? \|$")


def is_rework(sheet: str) -> bool:
    """Whether a supplementary sheet is of a rework, such as R1; R alone is a revision."""
    return sheet[:1] == "R" and sheet[1:2].isdigit()


def operations_of(parts: Iterable[Part]) -> list[Operation]:
    """The operations of a traveller that are to be done."""
    return [e for e in parts if isinstance(e, Operation) and e.kind != "deleted"]


def void_behind(
    operations: Sequence[Operation], again: Sequence[str], done: str
) -> tuple[str, ...]:
    """The operations whose result says nothing any more once those are done again: all behind the
    first of them that measure, inspect or wait, as far as the work has come.

    done: the last operation that was begun. What was only worked is for people to judge.
    """
    numbers = [each.number for each in operations]
    first = min(numbers.index(each) for each in again)
    return tuple(
        each.number
        for each in operations[first + 1 : numbers.index(done) + 1]
        if each.number not in again and (each.kind in (*_LOOKS, _WAITS) or _is_measured(each))
    )


def _is_measured(operation: Operation) -> bool:
    """Whether an operation has readings, here or on the record where it is written down."""
    blocks = [each for each in operation.blocks if isinstance(each, Container)]
    told = {plain(row[0]) for each in blocks if each.name == "state" for row in each.rows}
    return any(each.name == "readings" for each in blocks) or bool(told & {"written", "sense"})


def supplement(
    sheets: Mapping[str, str],
    named: tuple[str, str],
    numbers: Sequence[str],
    words: Sequence[str],
    day: str,
    again: Mapping[str, str] | None = None,
) -> str:
    """A supplementary sheet as Markdown: operations as they were printed, with what every sheet
    needs to be signed.

    sheets: those of the traveller as Markdown. named: what it is, such as REWORK R1, and what
    stands behind the numbers, such as R1. numbers: of the operations, in their order. words: lines
    on why, which are printed first. day: of the decision, as sheets show it. again: operations that
    earlier sheets have again, each with its name on the latest of them.
    """
    kind, suffix = named
    called = {**(again or {}), **{number: f"{number}{suffix}" for number in numbers}}
    head, _, body = sheets["traveller"].partition("\n:::\n")
    frame = head.replace("| kind | TRAVELLER |", f"| kind | {kind} |", 1)
    frame = re.sub(r"\| printed \| .* \|", f"| printed | {day} |", frame) + "\n:::\n"
    title = body.partition("\n# ")[2].partition("\n")[0]
    words = [*words, _MEANT.format(suffix)] if suffix else words
    lines = [frame, f"# {title}", "", f"## {spoken(kind)}", "", *_paragraphs(words)]
    lines += [_section(body, "## Warnings for the whole job"), _section(body, "## Approvals")]
    lines += ["# Operations", ""]
    records = elsewhere(sheets, numbers)
    lines += [_operation(body, number, suffix, numbers, records) for number in numbers]
    features = _features(sheets.get("inspection-sheet", ""), suffix, numbers)
    lines += [_ticked_there(each, called) for each in (*sections(records, suffix), *features)]
    lines += _material(sheets.get("kit-list", ""), lines if suffix else ())
    lines.append(_section(body, "## Boxes that do not apply"))
    whole = "\n".join([*lines, f"# End of {spoken(kind, begins=False)}", ""])
    return LINK.sub(r"](calculation-sheet.pdf#\1)", whole)


def _operation(
    body: str, number: str, suffix: str, numbers: Sequence[str], records: Sequence[Elsewhere]
) -> str:
    """An operation as it was printed, under its new name: it leads to what stands on this sheet,
    and a hold closes what is done again."""
    block = _section(body, f"## {number} ")
    block = block.replace(f"## {number} ", f"## {number}{suffix} ", 1)
    block = led_there(block, number, suffix, records)
    known = re.findall(r"(?m)^## ([0-9]+) (?!deleted$)", body)
    return _CLOSES.sub(lambda told: _closes(told, suffix, numbers, known), block)


def _closes(told: re.Match[str], suffix: str, numbers: Sequence[str], known: Sequence[str]) -> str:
    """The row of a hold with those operations that are on this sheet; where none is, it closes what
    it closed before."""
    first, last = told[2], told[3] or told[2]
    here = [n for n in numbers if int(first) <= int(n) <= int(last)]
    if not suffix or not here:
        return told[0]
    between = [n for n in known if int(here[0]) <= int(n) <= int(here[-1])]
    whole = len(here) > 2 and between == here
    named = [f"{n}{suffix}" for n in here]
    return f"{told[1]}{f'{named[0]} to {named[-1]}' if whole else ', '.join(named)} |"


def _ticked_there(text: str, called: Mapping[str, str]) -> str:
    """A text of a record with the operation on whose latest sheet a column is ticked."""
    return _TICKED.sub(lambda told: f"{told[1]}{called.get(told[2], told[2])}", text)


def _features(sheet: str, suffix: str, numbers: Sequence[str]) -> Iterator[str]:
    """The features of these operations, which are inspected again, each behind the limits that it
    is judged by as on the inspection sheet, and who signs for them."""
    found: list[tuple[str, list[str], list[str]]] = []
    for block in _FEATURES.finditer(sheet):
        limits, (head, own) = _limits_above(sheet, block.start()), _own(block[1], suffix, numbers)
        if own and not limits and found and not found[-1][0]:
            found[-1][2].extend(own)
        elif own:
            found.append((limits, head, own))
    if not found:
        return
    yield "# Inspected again\n"
    for n, (limits, head, own) in enumerate(found):
        if limits or n:
            yield limits or "## Further features\n"
        yield "\n".join(["::: features", *head, *own, ":::", ""])
    yield "\n".join(["## Signatures", "", "::: approvals", *_block(
        sheet, "\n## Signatures\n\n::: approvals\n"), ":::", ""])  # fmt: skip


def _material(kit: str, lines: Sequence[str]) -> Iterator[str]:
    """The lines of the kit list that these operations use, with a box for the batch and the day
    until which it may be used: what is used again need not be what was used before."""
    used = [items for text in lines for items in _USES.findall(text)]
    rows = [[cell.strip() for cell in row.split("|")[1:-1]] for row in _KIT.findall(kit)]
    wanted = [
        f"| {no} | {item} | {batch} | {use_by} |"
        for no, item, _, _, batch, _, _, use_by in rows
        if "box" in (batch, use_by) and any(_is_named(item, items) for items in used)
    ]
    if wanted:
        yield f"# Material used again\n\n{_ANEW}\n"
        yield "\n".join(["::: fill", "| no. | item | batch | use by |", "| --- | --- | --- | --- |",
                         *wanted, ":::", ""])  # fmt: skip


def _is_named(item: str, items: str) -> bool:
    called = re.escape(item.removesuffix(" (single use)"))
    return bool(re.search(rf"(?:^|, ){called}(?:$|, )", items))


def _own(block: str, suffix: str, numbers: Sequence[str]) -> tuple[list[str], list[str]]:
    """The head of a table of features, and its rows of these operations under their new names."""
    first, second, *rows = _lines(block)
    own = (row for row in rows if row.split("|")[2].strip() in numbers)
    again = [re.sub(r"^(\|[^|]*\| )(\d+) ", rf"\g<1>\g<2>{suffix} ", row) for row in own]
    return [first, second], again


def _limits_above(sheet: str, end: int) -> str:
    """The section of the limits of one feature that stands above its boxes, "" for none."""
    heading = sheet.rfind("\n## ", 0, end) + 1
    words = sheet[heading:end].strip("\n")
    return f"{words}\n" if _LIMITS.match(words) else ""


def _block(sheet: str, opening: str) -> list[str]:
    """The lines of a block of a sheet, none where it has no such block."""
    return _lines(sheet.partition(opening)[2].partition("\n:::\n")[0])


def _lines(text: str) -> list[str]:
    return [line for line in text.split("\n") if line]


def _paragraphs(words: Sequence[str]) -> list[str]:
    return [line for each in words for line in (each, "")]


def _section(body: str, heading: str) -> str:
    """The text of a section, from its heading to the next one of its rank or above."""
    return to_the_next(body, body.index(f"\n{heading}") + 1, 2)
