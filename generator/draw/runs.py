"""A stretch of inline Markdown, in; runs of text in one style each, out: bold words, links to `#c3`
and to `calculation-sheet.pdf#c3`, and escaped signs. Loose marks are refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from markdown_it import MarkdownIt
from markdown_it.token import Token

from generator.findings import Refusal


class Run(NamedTuple):
    """Text in one style; link names the working or the given that it comes from, such as c3, or
    the place on another sheet, such as calculation-sheet.pdf#c3. low: it is set as a subscript;
    figure: in the face of figures, whose digits are of one width."""

    text: str
    bold: bool = False
    link: str = ""
    low: bool = False
    figure: bool = False


Runs = tuple[Run, ...]
_MARKED = re.compile(r"[\\*\[\n&<`_]")
_ANCHOR = re.compile(r"#([cgt]\d+)")
_ELSEWHERE = re.compile(r"calculation-sheet\.pdf#[cg]\d+")
_MARK = re.compile(r"[cgt]\d+")
# What the escapes and links of a sheet are made of, in forms that need no look at their neighbours:
# bold words begin and end with a letter or a digit, and none stands beside them.
_ESCAPED = re.compile(r"\\([!-/:-@\[-`{-~])")
_WORDS = rf"(?:[^\\*\[\]\n&<`_~]|{_ESCAPED.pattern.replace('(', '').replace(')', '')})"
_PIECE = re.compile(
    rf"({_WORDS}+)"
    rf"|(?<![*\w\\])\*\*([^\W_](?:{_WORDS}*[^\W_])?)\*\*(?![*\w])"
    rf"|\[({_WORDS}+)\]\((#[cgt]\d+|calculation-sheet\.pdf#[cg]\d+)\)"
)


def plain(runs: Sequence[Run]) -> str:
    """The words of runs without their style."""
    return "".join(run.text for run in runs)


@lru_cache(maxsize=1)
def _parser() -> MarkdownIt:
    return MarkdownIt("zero").enable(["escape", "emphasis", "link", "newline"])


def runs_of(content: str, line: int) -> Runs:
    """The styled runs of a stretch of inline Markdown."""
    if not _MARKED.search(content):
        return (Run(content),) if content else ()
    known = _of_usual_form(content, line)
    return known if known is not None else _runs_by_library(content, line)


def _of_usual_form(content: str, line: int) -> Runs | None:
    """The runs of words, escaped signs, bold words and links, one after the other; None where there
    is anything else, or where the library has to judge what a mark means."""
    runs: list[Run] = []
    end = 0
    for piece in _PIECE.finditer(content):
        words, bold, link, target = piece.groups()
        if piece.start() != end or "\\" in (link or ""):
            return None
        end = piece.end()
        text = words or bold or link
        if link:
            target = target.removeprefix("#")
            _leads_to_itself(text, target, line)
        if "\\" in text:
            text = _ESCAPED.sub(_unescaped, text)
        runs.append(Run(text, bold is not None, target or ""))
    return _merged(runs) if end == len(content) else None


def _unescaped(found: re.Match[str]) -> str:
    return found[1]


def _runs_by_library(content: str, line: int) -> Runs:
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


def _merged(runs: Iterable[Run]) -> Runs:
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
