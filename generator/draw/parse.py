"""A sheet as Markdown, in; a frozen tree of blocks, out. Whatever is not in the dialect is refused.

Standard headings, paragraphs, bold, tables, links to `#c3` and to `calculation-sheet.pdf#c3`, and
`:::` containers. The parser library mends unclosed containers, short rows and deep nests silently;
here they are refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.rules_block import StateBlock
from markdown_it.token import Token

from generator.draw.forms import Form, form_of
from generator.draw.runs import Run, Runs, plain, runs_of
from generator.findings import Refusal

__all__ = [
    "Block", "Container", "Heading", "Paragraph", "Row", "Run", "Runs", "Table", "blocks_of",
    "plain",
]  # fmt: skip

Row = tuple[Runs, ...]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading of level 1, 2 or 3."""

    level: int
    runs: Runs
    line: int


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph."""

    runs: Runs
    line: int


@dataclass(frozen=True, slots=True)
class Table:
    """A table; its first row names the columns."""

    rows: tuple[Row, ...]
    line: int


@dataclass(frozen=True, slots=True)
class Container:
    """A container: rows where its form has cells, else paragraphs; some have one above rows."""

    name: str
    words: str
    rows: tuple[Row, ...]
    paragraphs: tuple[Runs, ...]
    line: int


Block = Heading | Paragraph | Table | Container

_OPEN = re.compile(r"::: ([a-z]+(?:-[a-z]+)*)(?: (\S.*?))?\s*")
_PIPE = re.compile(r"(?<!\\)\|")
# Lines that the library reads as they stand: a heading without marks at its end, and words that no
# table and no container can begin with. Other white space than a space is left to the library.
_HEADING = re.compile(r"(#{1,3}) ([^\s#](?:[^#]*[^\s#])?)")
_ONE_LINE = re.compile(r"(?!:::|#)[^\s|](?:[^|]*[^\s|])?")
_STRANGE = re.compile(r"[\t\r\0\f\v]")
_DASHES = re.compile(r":?-+:?")


def blocks_of(sheet: str) -> tuple[Block, ...]:
    """The blocks of a sheet in order; refuses with code "sheet" what the dialect does not have."""
    if (
        "\r" in sheet or "\0" in sheet
    ):  # the parser takes one for a line's end, one for another sign
        raise Refusal("sheet", "the sheet holds a sign that does not print", "lines that end in LF")
    lines = sheet.split("\n")
    closes = _closing_lines(lines)
    usual = None if _STRANGE.search(sheet) else _of_usual_layout(lines, closes, 0, len(lines))
    return tuple(usual if usual is not None else _by_library(lines, closes))


def _by_library(lines: list[str], closes: Mapping[int, int]) -> Iterator[Block]:
    return _blocks(_parser().parse("\n".join(lines), {"closes": closes}), lines)


def _of_usual_layout(
    lines: list[str], closes: Mapping[int, int], start: int, end: int
) -> list[Block] | None:
    """The blocks between two lines, as the templates lay them out: each begins at the left edge of
    a line, paragraphs have one line, and a blank line stands behind them. None where a line is laid
    out otherwise: then the library says what it is."""
    made: list[Block] = []
    at = start
    while at < end:
        line, after = lines[at], at + 1
        if close := closes.get(at):
            inside = None
            if not lines[after].startswith("|"):
                inside = _of_usual_layout(lines, closes, after, close)
                if inside is None:
                    return None
            made.append(
                _of_rows(line, at, close, lines)
                if inside is None
                else _filled(line, after, tuple(inside))
            )
            after = close + 1
        elif heading := _HEADING.fullmatch(line):
            made.append(Heading(len(heading[1]), runs_of(heading[2], after), after))
        elif line.startswith("|"):
            while after < end and lines[after].startswith("|"):
                after += 1
            if after - at < 2 or not _ends_here(lines, after, end) or "\\|" in line:
                return None
            rows = _table_rows(lines, at, after)
            if rows is None:
                return None
            made.append(Table(rows, at + 1))
        elif line:
            if not _ONE_LINE.fullmatch(line) or not _ends_here(lines, after, end):
                return None
            made.append(Paragraph(runs_of(line, after), after))
        at = after
    return made


def _ends_here(lines: list[str], at: int, end: int) -> bool:
    return at >= end or not lines[at]


def _table_rows(lines: list[str], start: int, end: int) -> tuple[Row, ...] | None:
    """The rows of a table outside containers, None where the library has to look at them."""
    if any("\\|" in line or not line.endswith("|") for line in lines[start:end]):
        return None
    dashes = lines[start + 1].split("|")[1:-1]
    if not dashes or not all(_DASHES.fullmatch(cell.strip()) for cell in dashes):
        return None
    rows = []
    for number in (start, *range(start + 2, end)):
        cells = lines[number].split("|")[1:-1]
        if len(cells) != len(dashes):
            return None
        rows.append(tuple(runs_of(cell.strip(), number + 1) for cell in cells))
    return tuple(rows)


def _closing_lines(lines: list[str]) -> dict[int, int]:
    """Line of each opening -> line of its closing; lines count from 0."""
    closes: dict[int, int] = {}
    opened = -1
    for number, line in enumerate(lines):
        if not line.lstrip().startswith(":::"):
            continue
        if line.rstrip() == ":::":
            if opened < 0:
                raise Refusal(
                    "sheet", f"line {number + 1}: ':::' closes nothing", "an opening line"
                )
            closes[opened], opened = number, -1
        elif not _OPEN.fullmatch(line):
            raise Refusal("sheet", f"line {number + 1}: {line!r} opens nothing", "::: name words")
        elif opened >= 0:
            raise Refusal(
                "sheet",
                f"line {number + 1}: a container inside the one of line {opened + 1}",
                "close the first with ':::' before",
            )
        else:
            opened = number
    if opened >= 0:
        raise Refusal("sheet", f"line {opened + 1}: {lines[opened]!r} is never closed", ":::")
    return closes


def _container(state: StateBlock, start: int, end: int, silent: bool) -> bool:
    """The one block rule of our own: everything up to the closing line, as tokens between two."""
    if not state.src.startswith(":::", state.bMarks[start] + state.tShift[start]):
        return False
    if silent:
        return True
    close = state.env["closes"][start]
    if start + 1 < close and state.src.startswith("|", state.bMarks[start + 1]):
        # Rows are read straight from their lines: most of a sheet is rows.
        token = state.push("container_rows", "", 0)
        token.map, token.info = [start, close], state.getLines(start, start + 1, 0, False)
        state.line = close + 1
        return True
    token = state.push("container_open", "", 1)
    token.map, token.info = [start, close], state.getLines(start, start + 1, 0, False)
    kept, state.lineMax = state.lineMax, close
    state.md.block.tokenize(state, start + 1, close)
    state.lineMax, state.line = kept, close + 1
    state.push("container_close", "", -1)
    return True


@lru_cache(maxsize=1)
def _parser() -> MarkdownIt:
    made = MarkdownIt("zero").enable(["heading", "table"])
    # Inline text is read where a run is made.
    made.disable(["inline", "text_join"])
    interrupts: Any = {"alt": ["paragraph", "blockquote"]}
    made.block.ruler.before("table", "container", _container, interrupts)
    return made


def _blocks(tokens: list[Token], lines: list[str]) -> Iterator[Block]:
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.type == "container_rows":
            start, close = token.map or [0, 0]
            yield _of_rows(token.info, start, close, lines)
            at += 1
            continue
        end = _closing(tokens, at)
        if token.type == "container_open":
            inside = tuple(_blocks(tokens[at + 1 : end], lines))
            yield _filled(token.info, (token.map or [0])[0] + 1, inside)
        else:
            yield _plain_block(tokens[at : end + 1], lines)
        at = end + 1


def _closing(tokens: list[Token], at: int) -> int:
    closing = tokens[at].type.replace("_open", "_close")
    level = tokens[at].level
    return next(
        i for i in range(at, len(tokens)) if tokens[i].type == closing and tokens[i].level == level
    )


def _plain_block(tokens: list[Token], lines: list[str]) -> Block:
    first = tokens[0]
    line = (first.map or [0])[0] + 1
    if first.type == "heading_open":
        if len(first.tag) != 2 or first.tag[1] not in "123":
            raise Refusal(
                "sheet", f"line {line}: a heading of level {first.tag[1:]}", "#, ## or ###"
            )
        return Heading(int(first.tag[1]), runs_of(tokens[1].content, line), line)
    if first.type == "paragraph_open":
        return Paragraph(runs_of(tokens[1].content, line), line)
    if first.type == "table_open":
        return Table(_rows(tokens, lines), line)
    raise Refusal("sheet", f"line {line}: {first.type!r} is no block of a sheet", "")


def _rows(tokens: list[Token], lines: list[str]) -> tuple[Row, ...]:
    """The rows of a table; every row has as many cells as the first, or is refused."""
    rows: list[Row] = []
    for at, token in enumerate(tokens):
        if token.type != "tr_open":
            continue
        number = (token.map or [0])[0]
        end = _closing(tokens, at)
        row = tuple(runs_of(t.content, number + 1) for t in tokens[at:end] if t.type == "inline")
        _count_cells(lines[number], number + 1, len(row))
        rows.append(row)
    return tuple(rows)


def _count_cells(line: str, number: int, wanted: int) -> None:
    line = line.strip()
    if not line.startswith("|") or not line.endswith("|") or line.endswith("\\|"):
        raise Refusal("sheet", f"line {number}: a row begins and ends with '|'", "| cell | cell |")
    found = len(_PIPE.findall(line)) - 1
    if found != wanted:
        raise Refusal("sheet", f"line {number}: {found} cells in a row", f"{wanted} cells")


def _filled(opening: str, line: int, held: tuple[Block, ...]) -> Container:
    """A container of blocks: paragraphs, or a table that may have one above it."""
    name, words, form = _opened(opening, line)
    if not held:
        raise Refusal("sheet", f"line {line}: '::: {name}' is empty", _wants(form))
    if not form.cells:
        return Container(name, words, (), _paragraphs(held, name, form), line)
    said = held[:1] if form.said and len(held) > 1 else ()
    rows = _one_table(held[len(said) :], name, form)
    return Container(name, words, rows, _paragraphs(said, name, form), line)


def _of_rows(opening: str, start: int, close: int, lines: list[str]) -> Container:
    """A container of rows: the first, the line of dashes, and the others, all of equal cells."""
    name, words, form = _opened(opening, start + 1)
    if not form.cells:
        raise Refusal("sheet", f"line {start + 2}: not a paragraph in {name!r}", _wants(form))
    rows: list[Row] = []
    for number in range(start + 1, close):
        line = lines[number].strip()
        if not line.startswith("|"):
            raise Refusal("sheet", f"line {number + 1}: {name!r} holds one table", _wants(form))
        cells = [cell.strip() for cell in _PIPE.split(line)[1:-1]]
        _count_cells(line, number + 1, len(rows[0]) if rows else len(cells))
        if number == start + 2:
            if not all(_DASHES.fullmatch(cell) for cell in cells):
                raise Refusal("sheet", f"line {number + 1}: no line of dashes", "| --- | --- |")
            continue
        rows.append(tuple(runs_of(cell, number + 1) for cell in cells))
    if close - start < 3:
        raise Refusal(
            "sheet", f"line {start + 2}: a table without its line of dashes", _wants(form)
        )
    return Container(
        name, words, _one_table((Table(tuple(rows), start + 2),), name, form), (), start + 1
    )


def _opened(opening: str, line: int) -> tuple[str, str, Form]:
    match = _OPEN.fullmatch(opening)
    if match is None:
        raise Refusal("sheet", f"line {line}: {opening!r} opens nothing", "::: name words")
    name, words = match[1], match[2] or ""
    return name, words, form_of(name, words, line)


def _wants(form: Form) -> str:
    if not form.cells:
        return "paragraphs"
    least = "at least " if form.open_ended else ""
    return f"one table of {least}{form.cells} columns" + (" under a header" if form.header else "")


def _paragraphs(held: tuple[Block, ...], name: str, form: Form) -> tuple[Runs, ...]:
    for block in held:
        if not isinstance(block, Paragraph):
            raise Refusal("sheet", f"line {block.line}: not a paragraph in {name!r}", _wants(form))
    return tuple(block.runs for block in held if isinstance(block, Paragraph))


def _one_table(held: tuple[Block, ...], name: str, form: Form) -> tuple[Row, ...]:
    first = held[0]
    if len(held) != 1 or not isinstance(first, Table):
        raise Refusal("sheet", f"line {held[-1].line}: {name!r} holds one table", _wants(form))
    cells = len(first.rows[0])
    if cells < form.cells or (cells > form.cells and not form.open_ended):
        raise Refusal("sheet", f"line {first.line}: {cells} cells in {name!r}", _wants(form))
    if form.header and len(first.rows) < 2:
        raise Refusal("sheet", f"line {first.line}: {name!r} has a header and no row", _wants(form))
    return first.rows
