"""What is wrong in a file or a command, in; the lines a person at the bench reads, out.

A Refusal is raised where the fault is seen and knows nothing of files; whoever knows the place
turns it into a Finding; this file alone lays findings out.
"""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterable
from dataclasses import dataclass, field

LONGEST_LINE, LONGEST_WRONG, LONGEST_RIGHT = 240, 500, 4_000  # signs that a finding shows
LONGEST_WORD = 100  # of a misspelt one; nobody looks for the nearest to a whole text


class Refusal(Exception):
    """Something cannot be done: what is wrong, and what would be right.

    code: short and stable, for tests and editors, such as "unit" or "range". ends: what is told at
    the end in place of "nothing written", where something was.
    """

    def __init__(self, code: str, wrong: str, right: str = "", ends: str = "") -> None:
        super().__init__(wrong)
        self.code = code
        self.wrong = wrong
        self.right = right
        self.ends = ends

    def __reduce__(self) -> tuple[type[Refusal], tuple[str, str, str, str]]:
        """All its words travel from one process of the machine to another."""
        return type(self), (self.code, self.wrong, self.right, self.ends)


class Finished(Exception):
    """An act that an interrupted run had begun is finished, in place of what was asked for.

    title: what people call the act.
    """

    def __init__(self, title: str) -> None:
        super().__init__(title)
        self.title = title


@dataclass(frozen=True)
class Place:
    """A spot in a file: line and column count from 1; words is the user's own line."""

    path: str
    line: int = 0
    column: int = 0
    width: int = 1
    words: str = ""


@dataclass(frozen=True)
class Finding:
    """One thing that is wrong, where, and what would be right."""

    place: Place
    code: str
    wrong: str
    right: str = ""
    advice: bool = field(default=False)

    def reading_order(self) -> tuple[str, int, int, str]:
        return (self.place.path, self.place.line, self.place.column, self.code)


def near_word(word: str, known: Iterable[str]) -> str:
    """The known word nearest to a misspelt one, or "" where none is near."""
    return next(iter(near_words(word, known, 1)), "")


def near_words(word: str, known: Iterable[str], most: int = 3) -> list[str]:
    """The known words near to a misspelt one, the nearest first.

    A size without a letter (1/4-28) has no near one, only itself with its signs set otherwise:
    1-1/8 is no slip of the pen for 1/8.
    """
    if len(word) > LONGEST_WORD:
        return []
    near = list(known)
    if not any(sign.isalpha() for sign in word):
        near = [each for each in near if _digits(each) == _digits(word)]
    return difflib.get_close_matches(word, near, n=most, cutoff=0.65)


def _digits(text: str) -> str:
    return "".join(sign for sign in text if sign.isdigit())


def shown(finding: Finding) -> str:
    """A finding as the terminal shows it: place, fault, the user's line, what would be right."""
    place = finding.place
    where = f"{place.path}:{place.line}:{place.column}" if place.line else place.path
    code = f"advice {finding.code}" if finding.advice else finding.code
    lines = [f"{_plain(where)}: {code}: {_short(_plain(finding.wrong))}"]
    if place.words.strip():
        lines += _line_of_the_user(place)
    if finding.right:
        lines.append(f"    Right: {_short(_plain(finding.right), LONGEST_RIGHT)}")
    return "\n".join(lines)


def _line_of_the_user(place: Place) -> list[str]:
    """The line with the place marked below; of a long one only what stands round the place."""
    first = max(0, place.column - LONGEST_LINE // 2) if len(place.words) > LONGEST_LINE else 0
    words = place.words[first : first + LONGEST_LINE]
    lead = len(words) - len(words.lstrip())
    seen = "".join(sign if sign.isprintable() else "?" for sign in words)
    lines = ["    " + seen.strip()]
    if place.column:
        before = max(0, place.column - 1 - first - lead)
        width = max(1, min(place.width, len(words) - before))
        lines.append("    " + " " * before + "^" * width)
    return lines


def _plain(text: str) -> str:
    """Signs that steer a terminal, or hide and reorder text, as what they are."""
    if text.isprintable():
        return text
    return "".join(s if s.isprintable() or s in "\n\u00a0" else f"\\u{ord(s):04x}" for s in text)


def _short(text: str, most: int = LONGEST_WRONG) -> str:
    """Both ends of a long text: the fault is told behind what was typed."""
    half = most // 2
    return text if len(text) <= most else f"{text[:half]} ... {text[-half:]}"


def listed(findings: Iterable[Finding]) -> str:
    """All findings in reading order."""
    return "\n".join(shown(f) for f in sorted(findings, key=Finding.reading_order))


def as_json(findings: Iterable[Finding]) -> str:
    """All findings in reading order, then all advice, as JSON for an editor."""
    rows = [
        {
            "path": f.place.path,
            "line": f.place.line,
            "column": f.place.column,
            "code": f.code,
            "wrong": _short(f.wrong),
            "right": f.right,
            "advice": f.advice,
        }
        for f in sorted(findings, key=lambda f: (f.advice, f.reading_order()))
    ]
    return json.dumps(rows, ensure_ascii=False, indent=1)


@dataclass(frozen=True)
class Fault:
    """A finding that knows its way in the tree ("operations", 3, "do") but no file yet."""

    steps: tuple[str | int, ...]
    code: str
    wrong: str
    right: str = ""
    of_key: bool = False
    advice: bool = False


def fault(steps: tuple[str | int, ...], refusal: Refusal) -> Fault:
    """A refusal at a place in the tree."""
    return Fault(steps, refusal.code, refusal.wrong, refusal.right)
