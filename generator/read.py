"""The text of a YAML file in; plain text values that remember line and column, or findings, out.

Every scalar stays the text that was typed: "no" is a word, 0.20 keeps its zero, 1:30 is text.
The treacherous half of YAML (anchors, tags, tabs, repeated keys, several documents) is refused.
"""

from __future__ import annotations

import errno
import os
import re
import stat
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from generator.files import LARGEST
from generator.findings import Finding, Place
from generator.signs import RIGHT, is_whole, named, strange

DEEPEST = 32
MOST_VALUES = 100_000  # of one file; the form of a traveller of a hundred sheets has a quarter

_COMMENT = re.compile(r"\s*#")
_ASKED = re.compile(r"[-:,\[{]\s*(\?)\s*(?:$|[,\]}])")  # where a value belongs
_UNKNOWN = "what is known there; in a form '' for an empty box, or unreadable"
Steps = tuple[str | int, ...]  # the way to a value: ("operations", 3, "do")
Tree = Any  # str, list[Tree] or dict[str, Tree]


class Mark(NamedTuple):
    """Line and column, both from 1, and how many signs the value or key is wide."""

    line: int
    column: int
    width: int


@dataclass(frozen=True)
class Document:
    """One file as read: its text tree, and where every value and key of the tree stands."""

    path: str
    lines: tuple[str, ...]
    tree: dict[str, Tree]
    values: Mapping[Steps, Mark]
    keys: Mapping[Steps, Mark]
    source: bytes

    def place(self, steps: Steps, of_key: bool = False) -> Place:
        """Where a value (or its key) stands; the nearest known parent where it is absent."""
        while True:
            mark = (self.keys if of_key else self.values).get(steps) or self.keys.get(steps)
            if mark is None and steps and isinstance(steps[-1], int):  # an item of a list
                mark = self.values.get(steps)
            if mark or not steps:
                break
            steps, of_key = steps[:-1], True
        return self.spot(mark or Mark(1, 1, 1))

    def spot(self, mark: Mark) -> Place:
        words = self.lines[mark.line - 1] if mark.line <= len(self.lines) else ""
        return Place(self.path, mark.line, mark.column, mark.width, words)


class _Stop(Exception):
    """Reading cannot go on past this finding."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.wrong)
        self.finding = finding


def read_file(file: Path, shown: str) -> tuple[Document | None, list[Finding]]:
    """Read one file; `shown` is the path as findings name it. No document where reading stopped."""
    source = source_of(file, shown)
    return read_text(source, shown) if isinstance(source, bytes) else (None, [source])


def source_of(file: Path, shown: str) -> bytes | Finding:
    """The bytes of a plain file, at most one more than a file may have, or why there are none."""
    try:
        handle = os.open(file, os.O_RDONLY | os.O_NONBLOCK)  # a pipe without a writer would wait
        with os.fdopen(handle, "rb") as opened:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                raise IsADirectoryError(errno.EISDIR, "it is no plain file")
            return opened.read(LARGEST + 1)
    except OSError as fault:
        reason = fault.strerror or "cannot be opened"
        return Finding(Place(shown), "file", f"cannot be read: {reason}", "a readable file")


def read_text(source: bytes, shown: str) -> tuple[Document | None, list[Finding]]:
    """Read the bytes of one YAML file."""
    if len(source) > LARGEST:
        wrong = "the file is larger than 1 MiB"
        right = "one process, or the results of one traveller, a file"
        return None, [Finding(Place(shown), "size", wrong, right)]
    try:
        text = source.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        before = source[: fault.start].decode("utf-8-sig").split("\n")
        place = Place(shown, len(before), len(before[-1]) + 1)
        wrong = f"a byte that is not UTF-8 text (byte {fault.start + 1})"
        return None, [Finding(place, "text", wrong, "save the file as UTF-8")]
    text = text.replace("\r\n", "\n")
    lines = tuple(text.split("\n"))
    faults = list(_strange_signs(lines, shown))
    if faults:
        return None, faults
    return _Reading(shown, lines, source).run(text)


def _strange_signs(lines: tuple[str, ...], shown: str) -> Iterator[Finding]:
    """Signs that hide, reorder or fake text: none of them may come near a printed sheet."""
    for number, line in enumerate(lines, start=1):
        if line.isascii() and line.isprintable():
            continue
        for column, sign in enumerate(line, start=1):
            if (why := strange(sign)) is not None:
                place = Place(shown, number, column, 1, line.replace("\t", " "))
                right = "two spaces" if sign == "\t" else RIGHT
                yield Finding(place, "text", f"{why}: {named(sign)}", right)
                break


class _Reading:
    """The walk over libyaml's events; it lives for one file."""

    def __init__(self, shown: str, lines: tuple[str, ...], source: bytes) -> None:
        self.shown, self.lines, self.source = shown, lines, source
        self.values: dict[Steps, Mark] = {}
        self.keys: dict[Steps, Mark] = {}
        self.faults: list[Finding] = []

    def run(self, text: str) -> tuple[Document | None, list[Finding]]:
        try:
            tree = self._tree(text)
        except _Stop as stop:
            self.faults.append(stop.finding)
            return None, self.faults
        except yaml.MarkedYAMLError as fault:
            self.faults.append(self._syntax(fault))
            return None, self.faults
        except (yaml.YAMLError, ValueError) as fault:
            place = Place(self.shown)
            self.faults.append(Finding(place, "yaml", f"not YAML: {fault}", "plain YAML"))
            return None, self.faults
        if not isinstance(tree, dict):
            self.faults.append(
                Finding(Place(self.shown, 1, 1), "yaml", "no keys in the file", "key: value lines")
            )
            return None, self.faults
        document = Document(self.shown, self.lines, tree, self.values, self.keys, self.source)
        return document, self.faults

    def _tree(self, text: str) -> Tree:
        """Not by yaml.parse, which asks before each event whether there is one."""
        loader = yaml.CLoader(text)
        try:
            return self._documents(iter(loader.get_event, None))
        finally:
            loader.dispose()

    def _documents(self, events: Iterator[Any]) -> Tree:
        tree: Tree = None
        documents = 0
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self._stop(event, "yaml", "a second document starts here", "one process a file")
            elif isinstance(event, yaml.NodeEvent):
                tree = self._node(event, events, ())
        return tree

    def _node(self, event: Any, events: Iterator[Any], steps: Steps) -> Tree:
        self._refuse_tricks(event)
        if len(steps) > DEEPEST:
            self._stop(event, "depth", f"nested deeper than {DEEPEST}", "a flatter file")
        if len(self.values) >= MOST_VALUES:
            wrong = f"more than {MOST_VALUES:,} values in one file"
            self._stop(event, "size", wrong, "one process a file")
        mark = self._mark(event)
        self.values[steps] = mark
        if isinstance(event, yaml.ScalarEvent):
            self._comment_after(event)
            self._strange_in_quotes(event, mark)
            return event.value.strip() if event.style in ("|", ">") else event.value
        if isinstance(event, yaml.SequenceStartEvent):
            return self._sequence(events, steps)
        return self._mapping(events, steps)

    def _sequence(self, events: Iterator[Any], steps: Steps) -> list[Tree]:
        items: list[Tree] = []
        while not isinstance(event := next(events), yaml.SequenceEndEvent):
            items.append(self._node(event, events, (*steps, len(items))))
        return items

    def _mapping(self, events: Iterator[Any], steps: Steps) -> dict[str, Tree]:
        items: dict[str, Tree] = {}
        cut: list[Any] = []
        while not isinstance(key := next(events), yaml.MappingEndEvent):
            self._refuse_tricks(key)
            if not isinstance(key, yaml.ScalarEvent):
                self._stop(key, "yaml", "a key must be plain text", "key: value")
            self._no_key(key)
            self._cut_by_comma(key)
            if self._without_colon(key):
                cut.append(key)
                self._node(next(events), events, (*steps, f"{key.value} alone"))
                continue
            self._text_in_pieces(cut, items)
            name, mark = key.value, self._mark(key)
            below: Steps = (*steps, name)
            if name in items:
                first = self.keys[below].line
                wrong = f"the key '{name}' stands twice; first on line {first}"
                self.faults.append(Finding(self._spot(mark), "repeated", wrong, "each key once"))
                self._node(next(events), events, (*steps, f"{name} again"))
                continue
            self.keys[below] = mark
            items[name] = self._node(next(events), events, below)
        self._text_in_pieces(cut, items)
        return items

    def _refuse_tricks(self, event: Any) -> None:
        plain = isinstance(event, yaml.ScalarEvent) and event.value != "<<"
        if plain and event.anchor is None and event.tag is None:
            return
        if isinstance(event, yaml.AliasEvent):
            self._stop(event, "yaml", "an alias (*name) is not read here", "write the value out")
        if event.anchor is not None:
            self._stop(event, "yaml", "an anchor (&name) is not read here", "write the value out")
        if event.tag is not None:
            self._stop(event, "yaml", f"a tag ({event.tag}) is not read here", "plain text")
        if isinstance(event, yaml.ScalarEvent) and event.value == "<<" and not event.style:
            self._stop(event, "yaml", "a merge key (<<) is not read here", "write the keys out")

    def _strange_in_quotes(self, event: Any, mark: Mark) -> None:
        """In double quotes a sign can be written as an escape, which no look at the lines finds."""
        if event.style != '"' or (event.value.isascii() and event.value.isprintable()):
            return
        for sign in event.value:
            if (why := strange(sign)) is not None:
                wrong = f"{why}, written as an escape: U+{ord(sign):04X}"
                self.faults.append(Finding(self._spot(mark), "text", wrong, RIGHT))
                return

    def _comment_after(self, event: Any) -> None:
        """A value followed by " #..." would lose its end without a word."""
        end = event.end_mark
        if not event.style and end.line < len(self.lines):
            line = self.lines[end.line]
            cut = _COMMENT.match(line, end.column)
            if cut:
                mark = Mark(end.line + 1, cut.end(), len(line[cut.end() - 1 :].rstrip()))
                wrong = "text after a value is cut off at #"
                right = "a comment on its own line, or the whole value in quotes"
                self.faults.append(Finding(self._spot(mark), "comment", wrong, right))

    def _no_key(self, key: Any) -> None:
        """A ? in the place of a value opens a key for YAML, and there is none."""
        if key.value or key.style:
            return
        mark = self._mark(key)
        if asked := _ASKED.search(self._spot(mark).words):
            raise _Stop(self._alone(Mark(mark.line, asked.start(1) + 1, 1)))

    def _cut_by_comma(self, key: Any) -> None:
        """Inside braces YAML reads 8,5 mm as 8 and a key "5 mm"."""
        if key.style or not is_whole(key.value[:1]):
            return
        start = key.start_mark
        line = self.lines[start.line] if start.line < len(self.lines) else ""
        before = line[max(0, start.column - 2) : start.column]
        if re.fullmatch(r"[0-9],", before):
            wrong = "a comma inside braces cuts the value in two"
            right = "a point for the decimals, or the whole value in quotes"
            self._stop(key, "comma", wrong, right)

    def _without_colon(self, key: Any) -> bool:
        """Whether YAML made a key of words behind which nobody typed a colon: only braces do."""
        end = key.end_mark
        line = self.lines[end.line] if end.line < len(self.lines) else ""
        after = line[end.column : end.column + 1]
        return not key.style and after != ":" and line[end.column :].lstrip()[:1] in (",", "}")

    def _text_in_pieces(self, cut: list[Any], items: dict[str, Tree]) -> None:
        """Inside braces YAML reads `note: nominal, each measured` as a note and a key beside it."""
        if not cut:
            return
        pieces = [" ".join(each.value.split()) for each in cut]  # over several lines, it may be
        first, owner = pieces[0], next(reversed(items), "")
        before = items.get(owner, "")
        wrong, right = f"'{first}' has no colon", f"a colon and a value behind '{first}'"
        if isinstance(before, str) and before:
            wrong += "; inside braces a comma ends the text before it"
            if '"' not in (whole := ", ".join((" ".join(before.split()), *pieces))):
                right = f'quotes round a text: {owner}: "{whole}"; or {right}'
        self.faults.append(Finding(self._spot(self._mark(cut[0])), "comma", wrong, right))
        cut.clear()

    def _mark(self, event: Any) -> Mark:
        start, end = event.start_mark, event.end_mark
        line, column = start.line, start.column
        width = end.column - column if end.line == line else 1
        return Mark(line + 1, column + 1, width if width > 1 else 1)

    def _spot(self, mark: Mark) -> Place:
        words = self.lines[mark.line - 1] if mark.line <= len(self.lines) else ""
        return Place(self.shown, mark.line, mark.column, mark.width, words)

    def _stop(self, event: Any, code: str, wrong: str, right: str) -> None:
        raise _Stop(Finding(self._spot(self._mark(event)), code, wrong, right))

    def _syntax(self, fault: yaml.MarkedYAMLError) -> Finding:
        mark = fault.problem_mark or fault.context_mark
        last = len(self.lines) - 1
        place = Place(self.shown)
        if mark and mark.line <= last:
            place = self._spot(Mark(mark.line + 1, mark.column + 1, 1))
        elif mark:  # the file ends before what was opened does
            place = self._spot(Mark(last + 1, len(self.lines[last]) + 1, 1))
        wrong = " ".join(part for part in (fault.problem, fault.context) if part)
        right = "quotes round text that contains ': ' or starts with a sign such as % @ ` * & ! { ["
        if asked := _ASKED.search(place.words):
            return self._alone(Mark(place.line, asked.start(1) + 1, 1))
        return Finding(place, "yaml", f"not YAML: {wrong}", right)

    def _alone(self, mark: Mark) -> Finding:
        wrong = "a ? that stands alone is a sign of YAML, and no text"
        return Finding(self._spot(mark), "yaml", wrong, _UNKNOWN)
