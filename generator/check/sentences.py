"""One process in; its texts with their places, their sentences, and the verbs in them, out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

from generator.process import Operation, Process
from generator.tables import table

Steps = tuple[str | int, ...]
Span = tuple[int, int]
SPOKEN = ("hold", "witness", "independent")  # their "do" says what is stamped, it commands nothing

# A unit as people write it behind a number, also one that the tool itself does not take.
UNIT = (
    r"(?:µm|mm[²³]?|cm[²³]?|km|m|in|ft|thou|°C|°|deg|%|min|s|h|d|kg|g|lbf?(?:·(?:in|ft))?|k?N(?:·m)?"
    r"|[kMG]?Pa|m?bar|[pk]si|L|ml|rpm|rev|drops|turns|strokes|K|V|A)"
)

_MASKED = re.compile(r"\{\{.*?\}\}|\"[^\"]*\"|“[^”]*”")
_END = re.compile(r"[.!?;](?=\s|\Z)")
_LABEL = re.compile(r"\s*([A-Z]\w*)(?: \w+){0,3}: ")
_CONDITION = re.compile(
    r"\s*(if|when|whenever|unless|once|after|before|until|while|with|in|on|at|from|during)\b", re.I
)
_NEGATION = re.compile(r"(do not|never)\s+", re.I)
_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")
_RUN = re.compile(r"\w+")


@dataclass(frozen=True)
class Text:
    """What the lead wrote at one place. sort: do, step, warning, note, fail, point or state.

    words: as typed, with names of numbers and quotations masked sign for sign; typed: as typed;
    holds: every word in it, in small letters.
    """

    steps: Steps
    sort: str
    typed: str
    words: str
    operation: Operation | None = None
    holds: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Sentence:
    """A sentence and its place in its text.

    head: where its command word may stand; forbids: whether "do not" or "never" stands before it.
    """

    words: str
    start: int
    head: int
    forbids: bool = False

    @property
    def span(self) -> Span:
        """Where it stands in its text, without the blanks before it."""
        blanks = len(self.words) - len(self.words.lstrip())
        return self.start + blanks, self.start + len(self.words)

    def of(self, start: int, end: int) -> Span:
        """A part of the sentence as a part of its text."""
        return self.start + start, self.start + end

    def first_word(self) -> re.Match[str] | None:
        return _WORD.match(self.words, self.head)


@dataclass(frozen=True)
class Slip:
    """A slip at a text: the signs of the text it is about, what is wrong, the better form."""

    steps: Steps
    span: Span
    wrong: str
    right: str


@dataclass(frozen=True)
class Wording:
    """A process with every text that the bench reads, in the order of the file.

    actions: those that command work, with their operations: the steps, and what an operation that
    works shall do.
    """

    process: Process
    texts: tuple[Text, ...]
    actions: tuple[tuple[Text, Operation], ...]


def wording_of(process: Process) -> Wording:
    """The texts of a process, gathered once for all rules."""
    texts = tuple(_texts(process))
    return Wording(process, texts, tuple(_actions(texts)))


def _texts(process: Process) -> Iterator[Text]:
    for k, words in enumerate(process.warnings):
        yield _text(("warning", k), "warning", words, None)
    for i, operation in enumerate(process.operations):
        for sort, key, many, written in _written(operation):
            for k, words in enumerate(written):
                here = ("operations", i, key, k) if many else ("operations", i, key)
                yield _text(here, sort, words, operation)


def _written(operation: Operation) -> Iterator[tuple[str, str, bool, tuple[str, ...]]]:
    """Sort, key, whether the key holds a list, and the texts."""
    yield "do", "do", False, (operation.do,) if operation.do else ()
    yield "step", "steps", True, operation.steps
    yield "warning", "warning", True, operation.warnings
    yield "warning", "caution", True, operation.cautions
    yield "note", "note", True, operation.notes
    yield "state", "start", False, (operation.start,) if operation.start else ()
    yield "state", "leave", False, (operation.leave,) if operation.leave else ()
    yield "point", "points", True, operation.points
    fails = operation.if_it_fails
    yield "fail", "if it fails", False, (fails,) if fails else ()


def _text(steps: Steps, sort: str, words: str, operation: Operation | None) -> Text:
    shown = masked(words)
    return Text(steps, sort, words, shown, operation, frozenset(_RUN.findall(shown.lower())))


def masked(words: str) -> str:
    """The words with every {{ name }} as § signs and every quotation as ¤ signs, sign for sign."""
    return _MASKED.sub(lambda m: ("§" if m[0].startswith("{{") else "¤") * len(m[0]), words)


def _actions(texts: Iterable[Text]) -> Iterator[tuple[Text, Operation]]:
    for text in texts:
        operation = text.operation
        if operation is None or text.sort not in ("do", "step"):
            continue
        if text.sort == "step" or operation.kind not in SPOKEN:
            yield text, operation


@lru_cache(maxsize=4096)
def sentences(words: str, labelled: bool = True) -> tuple[Sentence, ...]:
    """The sentences of a text; a semicolon ends one too. labelled: "Pass 1: " may stand first."""
    found = []
    start = 0
    for end in [*(m.end() for m in _END.finditer(words)), len(words)]:
        part = words[start:end]
        if part.strip():
            at = _head(part, labelled)
            negation = _NEGATION.match(part, at)
            head = negation.end() if negation else at
            found.append(Sentence(part, start, head, negation is not None))
        start = end
    return tuple(found)


def _head(part: str, labelled: bool) -> int:
    """Where the command word stands: behind a label, and behind a condition."""
    label = _LABEL.match(part) if labelled else None
    at = label.end() if label and label[1].lower() not in verbs() else 0
    if _CONDITION.match(part, at):
        thens = [m.end() for m in re.finditer(r"\bthen\s+", part, re.I)]
        commas = [m.end() for m in re.finditer(r",\s+", part)]
        at = (thens or commas or [at])[0]
    return at + len(part[at:]) - len(part[at:].lstrip())


@cache
def words_of(name: str) -> frozenset[str]:
    """The words of one list of the wording table."""
    return frozenset(table("wording")[name])


def better(name: str, word: str) -> str:
    """What the wording table says in place of a word."""
    known = table("wording")[name]
    return str(known.get(" ".join(word.casefold().split()), "a word with one meaning"))


def command(sentence: Sentence, of: frozenset[str] | None = None) -> str:
    """The verb that a sentence commands, in small letters, or "" where it commands nothing."""
    first = sentence.first_word()
    verb = first[0].lower().removeprefix("re-") if first else ""
    return verb if verb in (of or verbs()) else ""


@cache
def verbs() -> frozenset[str]:
    """The verbs with one meaning, and those of one word that have several."""
    return words_of("verbs") | {verb for verb in words_of("instead") if " " not in verb}


def is_imperative(sentence: Sentence) -> bool:
    """Whether a verb of the list stands first and what follows shows that it is no noun.

    "Drain the tank" is one, "Drain cocks leak" is none.
    """
    first = sentence.first_word()
    if not first or first[0].lower() not in words_of("verbs"):
        return False
    return takes_object(sentence.words, first.end())


def takes_object(words: str, at: int) -> bool:
    """Whether an article, a number or the like stands there."""
    rest = words[at:].lstrip(" ")
    if rest[:1].isdigit() or rest[:1] == "§":
        return True
    following = _WORD.match(rest)
    return bool(following and following[0].lower() in words_of("objects"))


def found_in(text: Text, words: frozenset[str]) -> Iterator[re.Match[str]]:
    """Where a text holds one of the words or groups of words."""
    if _beginnings(words).isdisjoint(text.holds):  # most texts hold none, and need no search
        return iter(())
    return alternatives(words).finditer(text.words)


@cache
def _beginnings(words: frozenset[str]) -> frozenset[str]:
    """The first run of letters of each, without which it cannot stand in a text."""
    return frozenset(run[0] for word in words if (run := _RUN.search(word.lower())))


@cache
def alternatives(words: frozenset[str]) -> re.Pattern[str]:
    """A pattern for any of the words or groups of words, the longest first."""
    ordered = sorted(words, key=lambda word: (-len(word), word))
    joined = "|".join(re.escape(word).replace(r"\ ", r"\s+") for word in ordered)
    return re.compile(rf"(?<![\w-])(?:{joined})(?![\w-])", re.I)
