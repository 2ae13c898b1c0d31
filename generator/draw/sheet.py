"""The blocks of a sheet, in; its frame, titles, sections and operations, out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from generator.draw.parse import Block, Container, Heading, Paragraph, Run, Table, blocks_of, plain
from generator.findings import Refusal, near_word
from generator.signs import is_whole

KINDS = (
    "work", "measure", "hold", "witness", "independent", "subcontract", "wait", "close", "deleted",
)  # fmt: skip
_FRAME = (
    "kind", "trade", "title", "process", "revision", "serial", "part", "part serial", "hand",
    "airframe", "fingerprint", "printed", "units", "language", "paper",
)  # fmt: skip
_MAY_STAND = ("draft", "replaces")
_HANDS = ("PORT", "STBD", "none")
OF_OPERATION = re.compile(r"Operation (\d+(?:R\d+[A-Z]?)?)")
"""The heading of what a record has of one operation."""

_OPERATION = re.compile(r"(\d+(?:R\d+[A-Z]?)?) ([a-z]+)(?: (.+))?")


@dataclass(frozen=True)
class Frame:
    """What stands on every page, by the words of the sheet; draft is "" on an issued sheet, and
    on a draft or a copy the words that forbid to work to it."""

    rows: tuple[tuple[str, str], ...]

    def __getitem__(self, key: str) -> str:
        return dict(self.rows).get(key, "")

    def told(self, key: str) -> str:
        """The words of a row; "" where the sheet says that there is none."""
        return "" if self[key] == "none" else self[key]


@dataclass(frozen=True)
class Title:
    """A heading that begins a part of the sheet, on a page that is not filled by more than half."""

    text: str


@dataclass(frozen=True)
class Section:
    """A heading and what stands under it; a section right under a title has no heading."""

    heading: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Operation:
    """An operation: its number, its kind, what else its heading says, and its blocks."""

    number: str
    kind: str
    words: str
    blocks: tuple[Block, ...]


Part = Title | Section | Operation


@dataclass(frozen=True)
class Sheet:
    """A whole sheet."""

    frame: Frame
    parts: tuple[Part, ...]


def spoken(kind: str, begins: bool = True) -> str:
    """REWORK R1 as a heading says it: Rework R1, or rework R1 inside a sentence; CHANGE B is a
    change with its letter."""
    words = " ".join(w if _is_name(w) else w.lower() for w in kind.split(" "))
    return words[:1].upper() + words[1:] if begins else words


def _is_name(word: str) -> bool:
    return len(word) == 1 or any(map(str.isdigit, word))


def is_worked(part: Part) -> bool:
    """Whether work is written down here that may stop half way. A map has a line of its own for
    where its pass stopped."""
    if isinstance(part, Title):
        return False
    if isinstance(part, Operation) or OF_OPERATION.fullmatch(part.heading):
        return True
    return any(isinstance(block, Container) and block.name == "features" for block in part.blocks)


def read_sheet(text: str) -> Sheet:
    """A sheet from its Markdown; refuses with code "sheet" what cannot be one."""
    blocks = blocks_of(text)
    if not blocks or not isinstance(blocks[0], Container) or blocks[0].name != "frame":
        raise Refusal("sheet", "line 1: a sheet begins with its frame", "::: frame")
    frame = _frame(blocks[0])
    parts = tuple(_parts(blocks[1:], frame["title"]))
    _check_links(blocks)
    return Sheet(frame, parts)


def kinds_in(text: str) -> dict[str, str]:
    """The operations of a sheet, each with its kind, told by their headings alone."""
    heads = (_OPERATION.fullmatch(line[3:]) for line in text.splitlines() if line[:3] == "## ")
    return {head[1]: head[2] for head in heads if head and head[2] in KINDS}


def _frame(block: Container) -> Frame:
    rows = [(plain(row[0]), plain(row[1])) for row in block.rows]
    names = [name for name, _ in rows]
    for name in names:
        if name not in (*_FRAME, *_MAY_STAND):
            right = near_word(name, _FRAME) or ", ".join(_FRAME)
            raise Refusal("sheet", f"line {block.line}: the frame has no row {name!r}", right)
        if names.count(name) > 1:
            raise Refusal("sheet", f"line {block.line}: {name!r} stands twice in the frame", "once")
    missing = [name for name in _FRAME if name not in names]
    if missing:
        raise Refusal("sheet", f"line {block.line}: the frame lacks a row", ", ".join(missing))
    frame = Frame(tuple(rows))
    if frame["hand"] not in _HANDS:
        raise Refusal("sheet", f"line {block.line}: hand {frame['hand']!r}", ", ".join(_HANDS))
    return frame


def _parts(blocks: tuple[Block, ...], title: str) -> Iterator[Part]:
    heads = [i for i, block in enumerate(blocks) if isinstance(block, Heading) and block.level < 3]
    if heads[:1] != [0]:
        raise Refusal("sheet", "the frame is followed by a title", "# " + title)
    for start, end in pairwise([*heads, len(blocks)]):
        head, body = blocks[start], blocks[start + 1 : end]
        assert isinstance(head, Heading)
        _no_frame(body)
        text = plain(head.runs)
        if head.level == 2:
            yield _section_or_operation(text, body, head.line)
            continue
        # The title of the whole sheet stands in the header strip of every page.
        if start or text != title:
            yield Title(text)
        if body:
            yield Section("", body)


def _no_frame(body: tuple[Block, ...]) -> None:
    for block in body:
        if isinstance(block, Container) and block.name == "frame":
            raise Refusal("sheet", f"line {block.line}: a second frame", "one frame, at the top")


def _section_or_operation(text: str, body: tuple[Block, ...], line: int) -> Part:
    if not is_whole(text[:1]):
        _no_signs(body)
        return Section(text, body)
    match = _OPERATION.fullmatch(text)
    if match is None or match[2] not in KINDS:
        raise Refusal(
            "sheet", f"line {line}: heading {text!r}", "## 80 and one of " + ", ".join(KINDS)
        )
    operation = Operation(match[1], match[2], match[3] or "", body)
    _check_signs(operation, line)
    return operation


def _no_signs(body: tuple[Block, ...]) -> None:
    for block in body:
        if isinstance(block, Container) and block.name == "sign":
            raise Refusal("sheet", f"line {block.line}: a sign-off outside operations", "")


def _check_signs(operation: Operation, line: int) -> None:
    """A hold is never released by the operator, and no operation is signed off twice."""
    signs = [b.words for b in operation.blocks if isinstance(b, Container) and b.name == "sign"]
    if operation.kind == "hold" and signs != ["hold"]:
        raise Refusal("sheet", f"line {line}: hold {operation.number}", "one '::: sign hold' in it")
    if operation.kind != "hold" and "hold" in signs:
        raise Refusal("sheet", f"line {line}: '::: sign hold' in {operation.kind}", "## 60 hold")
    if len(signs) != len(set(signs)):
        raise Refusal("sheet", f"line {line}: {operation.number} is signed twice alike", "once")


def _cells(block: Block) -> Iterator[tuple[Run, ...]]:
    if isinstance(block, Heading | Paragraph):
        yield block.runs
    elif isinstance(block, Table):
        yield from (cell for row in block.rows for cell in row)
    else:
        yield from block.paragraphs
        yield from (cell for row in block.rows for cell in row)


def anchors(block: Block) -> tuple[str, ...]:
    """The anchors that a block makes."""
    if not isinstance(block, Container):
        return ()
    if block.name == "working":
        return (block.words,)
    if block.name not in ("givens", "results"):
        return ()
    # A calculation with several results has a row for each; its links lead to the first.
    return tuple(dict.fromkeys(plain(row[0]) for row in block.rows[1:]))


def _check_links(blocks: tuple[Block, ...]) -> None:
    made = [anchor for block in blocks for anchor in anchors(block)]
    for anchor in made:
        if made.count(anchor) > 1:
            raise Refusal("sheet", f"{anchor} stands twice on the sheet", "once")
        if not re.fullmatch(r"[cgt]\d+", anchor):
            raise Refusal("sheet", f"{anchor!r} is no number of a given", "g1")
    wanted = {run.link for block in blocks for cell in _cells(block) for run in cell if run.link}
    lost = sorted(link for link in wanted - set(made) if "#" not in link)
    if lost:
        raise Refusal("sheet", f"nothing is found under {lost[0]}", f"::: working {lost[0]}")
