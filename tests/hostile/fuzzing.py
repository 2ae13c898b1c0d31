"""Sound texts, nasty tokens and a function that must withstand anything in; what broke it, out.

A mutation fuzzer of our own. It damages texts, keeps what reached a line of the program that no
text reached before, or was answered with words that were never heard, and damages that again. One
seed gives one run. Lines are watched by the interpreter's trace function, and only in functions of
which a line is still unseen, so that it soon costs next to nothing.
"""

from __future__ import annotations

import re
import signal
import sys
import time
import traceback
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from types import CodeType, FrameType
from typing import Any

ROOT = Path(__file__).parents[2]
HANGS = 20  # seconds of the processor after which one input is stopped: a safety line, no timing
_QUOTED = re.compile(r"'[^']*'|\"[^\"]*\"|[0-9]+")
_NUMBERS = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_WORDS = re.compile(r"\w+|\s+|[^\w\s]+")


@dataclass(frozen=True)
class Target:
    """One way into the program.

    run: what it does with a text; gives a few words on how it was answered; whatever it raises is a
    break. rooms: the parts of generator/ whose lines are watched. longest: signs of one text.
    """

    name: str
    run: Callable[[str], str]
    seeds: Sequence[str]
    tokens: Sequence[str]
    rooms: tuple[str, ...]
    longest: int = 4000


@dataclass
class Broken:
    """A text that broke the program, and where."""

    text: str
    where: str
    trace: str


@dataclass
class Told:
    """What a run found. seconds and slowest are of the processor."""

    name: str
    inputs: int = 0
    kept: int = 0
    lines: int = 0
    answers: set[str] = field(default_factory=set)
    seconds: float = 0
    slowest: float = 0
    slowest_text: str = ""
    broken: dict[str, Broken] = field(default_factory=dict)

    def __str__(self) -> str:
        rate = self.inputs / self.seconds if self.seconds else 0
        return (
            f"{self.name}: {self.inputs} inputs, {rate:.0f}/s, {len(self.answers)} answers, "
            f"{self.lines} lines, {self.kept} kept, slowest {self.slowest * 1000:.0f} ms, "
            f"{len(self.broken)} broken"
        )

    def report(self) -> str:
        """Every break with its text, as a test shows it."""
        each = (f"{b.where}\n{b.text[:1500]!r}\n{b.trace}" for b in self.broken.values())
        slowest = f"slowest: {self.slowest_text[:600]!r}"
        return "\n\n".join([str(self), slowest, *each])


def fuzz(target: Target, count: int, seed: int) -> Told:
    """Damage the target's texts `count` times; at most one break is kept for each place."""
    chance, told, seen = Random(f"{target.name} {seed}"), Told(target.name), Lines(target.rooms)
    kept = list(target.seeds)
    for text in target.seeds:
        _one(target, text, told, seen)
    told.inputs, told.slowest, start = 0, 0, time.process_time()
    while told.inputs < count:
        text = damaged(chance, chance.choice(kept), target, kept)
        if _one(target, text, told, seen):
            kept.append(text)
    told.seconds = time.process_time() - start
    told.kept, told.lines = len(kept) - len(target.seeds), len(seen.lines)
    return told


def _one(target: Target, text: str, told: Told, seen: Lines) -> bool:
    """Try one text; whether it showed something new."""
    before, start = len(seen.lines), time.process_time()
    answer = ""
    try:
        with stopped_after(HANGS), seen.watching():
            answer = target.run(text)
    except Exception as fault:
        where = _where(fault)
        trace = "".join(traceback.format_exception(fault)[-6:])
        told.broken.setdefault(where, Broken(text, where, trace))
    used = time.process_time() - start
    told.inputs += 1
    if used > told.slowest:
        told.slowest, told.slowest_text = used, text
    heard = _QUOTED.sub("", answer)[:200]
    new = heard not in told.answers
    told.answers.add(heard)
    return new or len(seen.lines) > before


def _where(fault: Exception) -> str:
    """The kind of a break and its last line in the program: one slip is told once."""
    frames = traceback.extract_tb(fault.__traceback__)
    own = [f for f in frames if "/generator/" in f.filename] or frames
    return f"{type(fault).__name__} in {Path(own[-1].filename).name}:{own[-1].lineno}"


@contextmanager
def stopped_after(seconds: int) -> Iterator[None]:
    """A hang becomes an error after so many seconds of the processor."""

    def stop(*_: Any) -> None:
        raise TimeoutError(f"it hangs: {seconds} s of the processor")

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


class Lines:
    """The lines of some rooms that were reached so far."""

    def __init__(self, rooms: tuple[str, ...]) -> None:
        self.rooms = tuple(str((ROOT / "generator" / room).resolve()) for room in rooms)
        self.lines: set[tuple[CodeType, int]] = set()
        self.unseen: dict[CodeType, set[int]] = {}

    @contextmanager
    def watching(self) -> Iterator[None]:
        before = sys.gettrace()
        sys.settrace(self._enter)
        try:
            yield
        finally:
            sys.settrace(before)

    def _enter(self, frame: FrameType, event: str, _: Any) -> Any:
        code = frame.f_code
        unseen = self.unseen.get(code)
        if unseen is None:
            mine = code.co_filename.startswith(self.rooms)
            lines = {line for *_, line in code.co_lines() if line} if mine else set()
            unseen = self.unseen[code] = lines - {code.co_firstlineno}
        return self._line if unseen else None

    def _line(self, frame: FrameType, event: str, _: Any) -> Any:
        unseen = self.unseen[frame.f_code]
        if frame.f_lineno in unseen:
            unseen.discard(frame.f_lineno)
            self.lines.add((frame.f_code, frame.f_lineno))
        return self._line if unseen else None


# --- how a text is damaged ------------------------------------------------------------------


def damaged(chance: Random, text: str, target: Target, kept: Sequence[str]) -> str:
    """The text with one to five things done to it."""
    for _ in range(chance.choice((1, 1, 1, 2, 2, 3, 5))):
        way = chance.choice(_WAYS)
        text = _spliced(chance, text, kept) if way is None else way(chance, text, target.tokens)
        text = text[: target.longest]
    return text


def _place(chance: Random, text: str) -> tuple[int, int]:
    at = chance.randint(0, len(text))
    return at, min(len(text), at + chance.choice((0, 1, 1, 2, 5, 20, 200)))


def _put(chance: Random, text: str, tokens: Sequence[str]) -> str:
    at, end = _place(chance, text)
    return text[:at] + chance.choice(tokens) + text[chance.choice((at, end)) :]


def _cut(chance: Random, text: str, _: Sequence[str]) -> str:
    at, end = _place(chance, text)
    return text[:at] + text[end:]


def _ended(chance: Random, text: str, _: Sequence[str]) -> str:
    at, _end = _place(chance, text)
    return chance.choice((text[:at], text[at:]))


def _repeated(chance: Random, text: str, _: Sequence[str]) -> str:
    at, end = _place(chance, text)
    return text[:at] + text[at:end] * chance.choice((2, 2, 3, 30, 300)) + text[end:]


def _other_sign(chance: Random, text: str, _: Sequence[str]) -> str:
    if not text:
        return text
    at = chance.randrange(len(text))
    code = ord(text[at])
    return text[:at] + chr(code ^ (1 << chance.randrange(7))) + text[at + 1 :]


def _other_number(chance: Random, text: str, _: Sequence[str]) -> str:
    return _exchanged(chance, text, _NUMBERS, chance.choice(NUMBERS))


def _other_word(chance: Random, text: str, tokens: Sequence[str]) -> str:
    return _exchanged(chance, text, _WORDS, chance.choice(tokens))


def _exchanged(chance: Random, text: str, of: re.Pattern[str], new: str) -> str:
    found = list(of.finditer(text[:20_000]))
    if not found:
        return text + new
    hit = chance.choice(found)
    return text[: hit.start()] + new + text[hit.end() :]


def _swapped(chance: Random, text: str, _: Sequence[str]) -> str:
    words = _WORDS.findall(text)
    if len(words) < 2:
        return text
    one, two = chance.randrange(len(words)), chance.randrange(len(words))
    words[one], words[two] = words[two], words[one]
    return "".join(words)


def _wrapped(chance: Random, text: str, _: Sequence[str]) -> str:
    at, end = _place(chance, text)
    before, after = chance.choice((("(", ")"), ("[", "]"), ("{", "}"), ('"', '"'), ("'", "'"),
                                   ("**", "**"), ("{{ ", " }}"), ("\n", "\n")))  # fmt: skip
    times = chance.choice((1, 1, 1, 2, 40, 150))
    return text[:at] + before * times + text[at:end] + after * times + text[end:]


def _lines(chance: Random, text: str, tokens: Sequence[str]) -> str:
    """One line dropped, doubled, moved, pushed in or out, or with another value or key."""
    lines = text.split("\n")
    at, to = chance.randrange(len(lines)), chance.randrange(len(lines))
    way = chance.randrange(8)
    if way == 0:
        del lines[at]
    elif way == 1:
        lines.insert(to, lines[at])
    elif way == 2:
        lines[at], lines[to] = lines[to], lines[at]
    elif way == 3:
        lines[at] = "  " + lines[at]
    elif way == 4:
        lines[at] = lines[at].removeprefix("  ")
    elif way == 5:
        head, colon, _rest = lines[to].partition(": ")
        lines[at] = f"{head}{colon}{lines[at].partition(': ')[2]}"
    else:
        key, colon, _rest = lines[at].partition(": ")
        lines[at] = f"{key}{colon or ': '}{chance.choice(tokens)}"
    return "\n".join(lines)


def _spliced(chance: Random, text: str, kept: Sequence[str]) -> str:
    """The beginning of one text and the end of another."""
    other = chance.choice(kept)
    return text[: chance.randint(0, len(text))] + other[chance.randint(0, len(other)) :]


_WAYS = (
    _put, _put, _cut, _ended, _repeated, _other_sign, _other_number, _other_word, _other_word,
    _swapped, _wrapped, _lines, _lines, None,
)  # fmt: skip

NUMBERS = (
    "0", "-0", "00", "1", "-1", "0.0", "0.000000001", "1e400", "1e-400", "1e9", "nan", "inf",
    "-inf", "NaN", "Infinity", "0x10", "1_000", "0b1", "1j", "9" * 12, "9" * 13, "9" * 400,
    "9" * 4301, "0." + "9" * 400, "360", "90", "1/0", "1/3", "3/2", "1,5", "1.", ".5", "1..2", "٣",
    "³", "½", "１", "−1", "+1", "1 1/4", "999999999999.999999999", "2**99", "999999999",
)  # fmt: skip

NASTY = (
    *NUMBERS, "", " ", "\n", "\r\n", "\r", "\t", "\x00", "\x1b[31m", "\x7f", "\x85", "\u2028",
    "\u202e", "\u200b", "\ufeff", "\u00a0", "\u3000", "\u0301", "\ue000", "\U0010ffff", "\udc80",
    "é", "é", "А", "ﬁ", "ſ", "İ", "ß", "😀", "漢", "℃", "Ω", "µ", "μ", "≥", "::: sign", ":::",
    "\n:::\n", "\n::: sign | volunteer\n:::\n", "::: stop", "\n## 10 hold\n", "# ", "```", "~~~",
    "<img src='file:///etc/passwd'/>", "<font color='red'>", "<a href='http://x'>", "<b>", "</b>",
    "<!--", "&lt;", "&#x202e;", "&amp;", "[x](#c1)", "[x](http://x)", "![x](y)", "[x]: y",
    "http://example", "**", "__", "*", "_", "`", "\\", "|", "| --- |", "\\|", "~", "{{", "}}",
    "{{ x }}", "{% for i in x %}", "{% include '/etc/passwd' %}", "{{ ''.__class__ }}", "{#", "%s",
    "%n", "{0}", "$(x)", "`x`", ";", "../", "../../etc/passwd", "/etc/passwd", "C:\\x", "\\\\x",
    "CON", ".git", "-", "--", "--help", "=", "=1+1", "@", "&x", "*x", "&x [*x]", "<<: *x", "!!str",
    "!!python/object:os.system", "%YAML 1.1", "---", "...", "? a", "- ", ": ", ":", "#", " #x",
    "'", '"', "''", '""', "[", "]", "[]", "[[]]", "{", "}", "{}", "{a: b}", "[a, b]", "{a: {b: c}}",
    "|", ">", "|-", "null", "~", "true", "no", "on", "None", "N/A", "N/A: ", "unreadable",
    "late: 1, written 26 NOV 2026", "late: , written", "x" * 300, "x" * 5000, "a b c", "import os",
    "2026-02-30", "0000-00-00", "9999-12-31", "26 NOV 2026", "10000-01-01", "24:00", "99:99",
)  # fmt: skip
