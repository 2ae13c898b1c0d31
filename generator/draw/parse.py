"""A sheet as Markdown, in; a frozen tree of blocks, out. Whatever is not in the dialect is refused.

Standard headings, paragraphs, bold, tables, links to `#c3` and to `calculation-sheet.pdf#c3`, and
`:::` containers. The parser library mends unclosed containers, short rows and deep nests silently;
here they are refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.rules_block import StateBlock
from markdown_it.token import Token

from generator.draw.forms import Form, form_of
from generator.findings import Refusal


@dataclass(frozen=True, slots=True)
class Run:
    """Text in one style; link names the working or the given that it comes from, such as c3, or
    the place on another sheet, such as calculation-sheet.pdf#c3. low: it is set as a subscript;
    figure: in the face of figures, whose digits are of one width."""

    text: str
    bold: bool = False
    link: str = ""
    low: bool = False
    figure: bool = False


Runs = tuple[Run, ...]
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
_MARKED = re.compile(r"[\\*\[\n&<`_]")
_DASHES = re.compile(r":?-+:?")
_ANCHOR = re.compile(r"#([cgt]\d+)")
_ELSEWHERE = re.compile(r"calculation-sheet\.pdf#[cg]\d+")
_MARK = re.compile(r"[cgt]\d+")


def plain(runs: Sequence[Run]) -> str:
    """The words of runs without their style."""
    return "".join(run.text for run in runs)


def blocks_of(sheet: str) -> tuple[Block, ...]:
    """The blocks of a sheet in order; refuses with code "sheet" what the dialect does not have."""
    if (
        "\r" in sheet or "\0" in sheet
    ):  # the parser takes one for a line's end, one for another sign
        raise Refusal("sheet", "the sheet holds a sign that does not print", "lines that end in LF")
    lines = sheet.split("\n")
    closes = _closing_lines(lines)
    tokens = _parser().parse(sheet, {"closes": closes})
    return tuple(_blocks(tokens, lines))


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
    made = MarkdownIt("zero").enable(["heading", "table", "escape", "emphasis", "link", "newline"])
    # Inline text is parsed where a run is built, and only where it has a mark in it.
    made.disable(["inline", "text_join"])
    interrupts: Any = {"alt": ["paragraph", "blockquote"]}
    made.block.ruler.before("table", "container", _container, interrupts)
    return made


def _blocks(tokens: list[Token], lines: list[str]) -> Iterator[Block]:
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.type == "container_rows":
            yield _of_rows(token, lines)
            at += 1
            continue
        end = _closing(tokens, at)
        if token.type == "container_open":
            yield _filled(token, tokens[at + 1 : end], lines)
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


def _filled(opening: Token, inside: list[Token], lines: list[str]) -> Container:
    name, words, form = _opened(opening)
    line = (opening.map or [0])[0] + 1
    held = tuple(_blocks(inside, lines))
    if not held:
        raise Refusal("sheet", f"line {line}: '::: {name}' is empty", _wants(form))
    if not form.cells:
        return Container(name, words, (), _paragraphs(held, name, form), line)
    said = held[:1] if form.said and len(held) > 1 else ()
    rows = _one_table(held[len(said) :], name, form)
    return Container(name, words, rows, _paragraphs(said, name, form), line)


def _of_rows(opening: Token, lines: list[str]) -> Container:
    """A container of rows: the first, the line of dashes, and the others, all of equal cells."""
    start, close = opening.map or [0, 0]
    name, words, form = _opened(opening)
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


def _opened(opening: Token) -> tuple[str, str, Form]:
    match = _OPEN.fullmatch(opening.info)
    line = (opening.map or [0])[0] + 1
    if match is None:
        raise Refusal("sheet", f"line {line}: {opening.info!r} opens nothing", "::: name words")
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


def runs_of(content: str, line: int) -> Runs:
    """The styled runs of a stretch of inline Markdown."""
    if not _MARKED.search(content):
        return (Run(content),) if content else ()
    tokens: list[Token] = []
    md = _parser()
    md.inline.parse(content, md, {}, tokens)
    return _merged(_styled(tokens, line))


def _styled(tokens: list[Token], line: int) -> Iterator[Run]:
    bold, link = 0, ""
    for token in tokens:
        if token.type == "text":
            _no_loose_marks(token.content, line)
            _leads_to_itself(token.content, link, line)
            yield Run(token.content, bold > 0, link)
        elif token.type == "text_special":
            yield Run(token.content, bold > 0, link)
        elif token.type == "softbreak":
            yield Run(" ", bold > 0, link)
        elif token.type == "hardbreak":
            yield Run("\n", bold > 0, link)
        elif token.type in ("strong_open", "strong_close"):
            bold += token.nesting
        elif token.type == "link_open":
            link = _anchor(token, line)
        elif token.type == "link_close":
            link = ""
        else:
            raise Refusal(
                "sheet", f"line {line}: {token.type!r} is no style of a sheet", "**bold**"
            )


def _no_loose_marks(text: str, line: int) -> None:
    """What a user types is escaped, so a loose mark is bold or a link that went wrong."""
    if "**" in text or "](" in text:
        raise Refusal("sheet", f"line {line}: loose marks in {text!r}", "**bold** or [value](#c1)")


def _leads_to_itself(text: str, link: str, line: int) -> None:
    """A link that is called by a mark leads to that mark, in whichever file."""
    if link and _MARK.fullmatch(text) and text != link.rpartition("#")[2]:
        wrong = f"line {line}: {text} is a link to {link!r}"
        raise Refusal("sheet", wrong, f"[{text}](#{text})")


def _anchor(token: Token, line: int) -> str:
    target = str(token.attrs.get("href", ""))
    match = _ANCHOR.fullmatch(target)
    elsewhere = _ELSEWHERE.fullmatch(target)
    if (match or elsewhere) is None or "title" in token.attrs:
        right = "[value](#c3), [value](#g2) or [value](calculation-sheet.pdf#c3)"
        raise Refusal("sheet", f"line {line}: a link to {target!r}", right)
    return match[1] if match else target


def _merged(runs: Iterator[Run]) -> Runs:
    out: list[Run] = []
    for run in runs:
        if not run.text:
            continue
        last = out[-1] if out else None
        if last and (last.bold, last.link) == (run.bold, run.link):
            out[-1] = Run(last.text + run.text, run.bold, run.link)
        else:
            out.append(run)
    return tuple(out)
