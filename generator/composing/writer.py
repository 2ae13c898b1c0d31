"""The texts of one process in; Markdown with its numbers put in, or faults, out."""

from __future__ import annotations

import re

from generator.composing.escape import Markdown, escape
from generator.computing.board import Runs, ShopFacts
from generator.computing.compute import answered_by_strips, unanswered
from generator.computing.working import Number, Workings
from generator.findings import Fault, near_word
from generator.process import Process
from generator.read import Steps

_SINGLE = re.compile(r"(?<!\{)\{\s*([a-z][a-z0-9_.]*)\s*\}(?!\})")
_NAMED = re.compile(r"\{\{\s*([^{}]*?)\s*\}\}")


def named_in(words: str) -> list[str]:
    """The names of the numbers that a text names, in its order."""
    return _NAMED.findall(words)


class Writer:
    """Puts the numbers of one process into its texts; gathers what it cannot."""

    def __init__(self, process: Process, workings: Workings, shop: ShopFacts | None = None) -> None:
        self.process, self.workings, self.shop = process, workings, shop or ShopFacts()
        self.faults: list[Fault] = []
        self.runs: Runs = {}
        self.answered = answered_by_strips(process, workings, self.shop, self.runs)
        self.unanswered = unanswered(process, workings, self.shop, self.runs)

    def text(self, here: Steps, words: str) -> Markdown:
        """A text with its named numbers put in; everything between them escaped."""
        if "{" not in words and "}" not in words:
            return escape(words)
        for match in _SINGLE.finditer(words):
            if match[1] in self.workings.numbers:
                wrong = f"{match[0]} prints as it stands: one brace names no number"
                self.faults.append(Fault(here, "text", wrong, f"{{{{ {match[1]} }}}}"))
        if "{{" not in words and "}}" not in words:
            return escape(words)
        parts, end = [], 0
        for match in _NAMED.finditer(words):
            parts.append(words[end : match.start()])
            parts.append(self._reference(here, match[1]))
            end = match.end()
        parts.append(words[end:])
        if any(brace in part for part in parts[::2] for brace in ("{{", "}}")):
            self.faults.append(Fault(here, "text", "a {{ without its }}", "{{ name }}"))
        return _spliced(parts)

    def _reference(self, here: Steps, name: str) -> Markdown:
        number = self.workings.numbers.get(name)
        if number is None:
            self.faults.append(self.unnamed(here, name))
            return Markdown("")
        self.ranges(name)
        return linked(number, "NOMINAL" if name in self.answered else "")

    def ranges(self, name: str) -> None:
        """A fault where one number is printed for what changes over the range of a given."""
        given = self.unanswered.get(name)
        if given is None:
            return
        told = self.process.given[given]
        assert told.range is not None
        here: Steps = ("given", given, "range")
        if any(fault.steps == here for fault in self.faults):
            return  # once for a given, however many numbers hang on it
        wrong = f"'{name}' is printed once, and changes while {given} goes from {told.range.typed}"
        right = f"a strip over {given}; or no range, where it is one number"
        self.faults.append(Fault(here, "range", wrong, right))

    def unnamed(self, here: Steps, name: str) -> Fault:
        """The fault of a name that no number has."""
        known = self.workings.numbers
        owner = name.partition(".")[0]
        if not re.match(r"[a-z][a-z0-9_.]*$", name):
            wrong = f"'{{{{ {name} }}}}' does more than name a number"
            return Fault(here, "name", wrong, "an entry under work out, and its name here")
        inside = [each for each in known if each.startswith(f"{owner}.")]
        near = near_word(name, known)
        right = (
            f"one of: {', '.join(inside)}"
            if inside
            else f"{near}?"
            if near
            else "a name under given or work out"
        )
        return Fault(here, "name", f"no number is named '{name}'", right)

    def each(self, here: Steps, key: str, texts: tuple[str, ...]) -> list[Markdown]:
        """All texts under one key."""
        return [self.text((*here, key), words) for words in texts]


def _spliced(parts: list[str]) -> Markdown:
    """Texts and references in turn. Each text is escaped as if it stood in the middle of a line."""
    made = []
    for n, part in enumerate(parts):
        if n % 2:
            made.append(part)
            continue
        lead = " " if part[:1].isspace() and n else ""
        # "!" before a link would make a picture of it in other readers of Markdown.
        last = n == len(parts) - 1
        trail = " " if part[-1:].isspace() and part.strip() else ""
        text = f"{lead}{escape(part)}{trail}" if part.strip() else (" " if part and n else "")
        made.append(f"{text[:-1]}\\!" if text.endswith("!") and not last else text)
    return Markdown("".join(made).strip())


def linked(number: Number, more: str = "") -> Markdown:
    """A number with its mark and what it is flagged as. more: another flag."""
    flags = " ".join(filter(None, (number.flag, more)))
    flag = f" **{flags}**" if flags else ""
    return Markdown(f"[{escape(number.text)}](#{number.mark}){flag}")
