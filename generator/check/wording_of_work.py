"""One process with its texts in; checks without a criterion, repeats without an end, and such, out.

Each docstring is the manual of its rule: what it looks for, why, where that comes from, what to
write instead.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.check.sentences import Sentence, Slip, Text, Wording, command, sentences
from generator.process import Operation

CHECKING = frozenset({"check", "inspect", "test", "verify", "gauge"})
_CRITERION = re.compile(
    r"\b(for|against|that|whether|with|no|none|not|zero|equal|until|agrees?|between)\b"
    r"|\d|§|:|±",
    re.I,
)
_END = re.compile(
    r"\b(until|once|twice|times|for (each|every|all|both)|at each|at every|all|to the end|same)\b",
    re.I,
)
_WITHIN = re.compile(
    r"\b(?:within|in less than|not later than)\s+(?:§+|\d[\d.]*\s*(?:s|min|h|d)\b)", re.I
)
_MOVING = re.compile(
    r"\bby\s+(turn|pull|push|mov|rock|shak|tighten|clos|open|adjust)(?:t?ing|e)?\b", re.I
)


def verify_is_a_second_person(wording: Wording) -> Iterator[Slip]:
    """Verify stands for a check by the same person, or check for an act that moves something.

    Looks for "verify" in an operation that is not independent, and for a check "by turning", "by
    pulling" and the like. To check is to compare and move nothing; to verify is what a second
    person does; to move is an act with a step of its own.
    Source: DOE-STD-1029-92, the meanings of check and verify.
    Better: "Check ...", or an operation of kind independent; "Open cock 3." before "Check: ..."
    """
    for text, operation in wording.actions:
        for sentence in sentences(text.words):
            first = sentence.first_word()
            verb = command(sentence)
            moves = _MOVING.search(sentence.words) if verb == "check" else None
            if first and verb == "verify" and operation.kind != "independent":
                told = "'verify' is done by a second person, and this operation has one"
                right = "Check ..., or an operation of kind independent"
                yield Slip(text.steps, sentence.of(*first.span()), told, right)
            elif first and moves:
                told = f"a check moves nothing; this one has '{moves[0]}'"
                right = "the act in a step of its own, then Check: ..."
                yield Slip(text.steps, sentence.of(*moves.span()), told, right)


def check_has_a_criterion(wording: Wording) -> Iterator[Slip]:
    """A check, an inspection or a test does not say what is right.

    Looks at steps that begin with check, inspect, test, gauge or verify: there must be a number,
    a listed defect ("for cracks"), a thing to compare with ("against"), or in the operation a
    reading with limits, a count or a tick. Without one, each person has a criterion of his own.
    Source: HSE's guidance on procedures after HSG48, clear pass or fail; DOE-STD-1029-92, check
    steps.
    Better: "Inspect the spar for cracks and for glue-line gaps over 0.2 mm."
    """
    for text, operation in wording.actions:
        for sentence in sentences(text.words):
            first = sentence.first_word()
            if first is None or command(sentence) not in CHECKING or _answers(operation):
                continue
            if not _CRITERION.search(sentence.words, first.end()):
                told = f"'{first[0]}' without what is right"
                right = f"{first[0]} ... for ..., or {first[0]} ...: what is seen when it is right"
                yield Slip(text.steps, sentence.of(*first.span()), told, right)


def _answers(operation: Operation) -> bool:
    """Whether the operation has rows, points or a table that say what is right."""
    limits = any(
        reading.entry == "tick" or reading.lower is not None or reading.upper is not None
        for reading in operation.readings
    )
    rows = operation.points or operation.strip is not None or operation.lookup is not None
    return bool(limits or rows)


def check_says_what_if_not(wording: Wording) -> Iterator[Slip]:
    """An operation that checks does not say what to do when a limit is not met.

    Looks at operations of kind measure with limits, and at those whose first sentence checks,
    inspects or tests: there must be a line "if it fails", or a step with IF. A person alone with a
    bad reading carries on.
    Source: DOE-STD-1029-92, what to do when a check is not met.
    Better: "if it fails: Tag the part. Raise a slip."
    """
    for text in wording.texts:
        operation = text.operation
        if text.sort != "do" or operation is None or operation.if_it_fails:
            continue
        if any(re.search(r"\bif\b", words, re.I) for words in (operation.do, *operation.steps)):
            continue
        checks = [s for s in sentences(text.words) if command(s) in CHECKING]
        working = operation.kind in ("work", "measure", "wait")
        if working and (checks or (operation.kind == "measure" and _limited(operation))):
            told = f"operation {operation.number} checks and does not say what if not"
            right = "if it fails: what is done, and who is told"
            yield Slip(text.steps, (0, 0), told, right)


def _limited(operation: Operation) -> bool:
    return any(r.lower is not None or r.upper is not None for r in operation.readings)


def repeat_has_an_end(wording: Wording) -> Iterator[Slip]:
    """A repeat has neither a count nor a stop.

    Looks for sentences that begin with repeat, in steps and in what is done on failure, without
    until, once, twice, times or "for each". A loop without an end is left when it seems enough.
    Source: DOE-STD-1029-92, repeated steps.
    Better: "Repeat steps 5 to 7 until two strokes show no bubbles, at most 5 times."
    """
    for text in wording.texts:
        if text.sort not in ("do", "step", "fail"):
            continue
        for sentence in sentences(text.words):
            if command(sentence) == "repeat" and not _END.search(sentence.words):
                yield _endless(text, sentence)


def _endless(text: Text, sentence: Sentence) -> Slip:
    start, end = sentence.of(sentence.head, len(sentence.words))
    said = text.typed[start:end].strip().rstrip(".;")
    return Slip(
        text.steps, (start, end), "a repeat without an end", f"{said} until ..., or ... times."
    )


def time_limit_has_a_clock(wording: Wording) -> Iterator[Slip]:
    """A step must be done within a time, and the operation has no clock.

    Looks for "within 20 min" and the like in a step of an operation without a clock and without a
    reading of the time. Nobody knows when the time began.
    Source: DOE-STD-1029-92, steps that hang on time.
    Better: "clock: [sealant mixed, {label: latest, add: 20 min}]"
    """
    for text, operation in wording.actions:
        if operation.clock or any(reading.entry == "clock" for reading in operation.readings):
            continue
        for found in _WITHIN.finditer(text.words):
            span = found.span()
            told = f"'{text.typed[span[0] : span[1]]}' without a box for the time it began"
            right = "clock: [the start, {label: latest, add: the time}]"
            yield Slip(text.steps, span, told, right)
