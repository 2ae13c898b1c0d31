"""One process with its texts in; vague words, misplaced steps, bare references, long sentences out.

Each docstring is the manual of its rule: what it looks for, why, where that comes from, what to
write instead.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from generator.check.sentences import (
    UNIT,
    Sentence,
    Slip,
    Text,
    Wording,
    better,
    command,
    found_in,
    is_imperative,
    sentences,
    words_of,
)

LONGEST_STEP = 20  # words in a sentence that commands
LONGEST_TEXT = 25  # words in a sentence that tells
BENCH = ("do", "step", "fail", "point", "state")
_LIMITED = re.compile(
    r"±|\d\s*\S*\s+to\s+\d|\b(at least|at most|least|most|between|or less)\b", re.I
)
_TOLD = re.compile(r"\b(that|which|who|it|they|there|what)\s+\Z", re.I)
_CODED = re.compile(r"\s+(?:no\.?\s*)?(?P<code>[A-Z]*[A-Z\d][\w./-]*\d[\w./-]*)")
_POINTS = re.compile(r"\b(see|per|to|by|in|from|as|with|against|of|on|follow|i\.a\.w\.)\s+\Z", re.I)
_STANDS_ALONE = re.compile(  # "to the standard", not "the standard colour"
    r"\s*(?:[,.;:)]|\Z|\b(?:of|for|in|at|on|and|or|with|from|to|before|until|says?)\b)", re.I
)
_ISSUE = re.compile(r"\s*,?\s*(issue|iss\.?|revision|rev\.?|edition)\s+\w", re.I)
_BACK = re.compile(
    r"(?<!\w)(?:(?:the\s+)?(?:above|previous|preceding)\s+(?:steps?|operations?)|the\s+above"
    r"|as\s+(?:before|above))(?!\w)",
    re.I,
)
_AMOUNT = re.compile(rf"§+|[-+]?\d[\d.,/]*(?:\s?{UNIT}(?![\w-]))?")
_WORDS = re.compile(r"[^\s]*\w[^\s]*")


def vague_word(wording: Wording) -> Iterator[Slip]:
    """A word that nobody can check: properly, as required, sufficient, until tight, etc.

    Looks for the words of the list "vague" of the wording table in steps, points, states and what
    is done on failure. Each reader puts his own value in their place.
    Source: the unverifiable terms of the NASA Systems Engineering Handbook, appendix C; ASD-STE100,
    give the value.
    Better: the value, the limits, or IF ..., THEN ...
    """
    for text in wording.texts:
        if text.sort in BENCH:
            for found in found_in(text, words_of("vague")):
                if found[0].lower() == "normal" and text.words[found.end() :].startswith(" to"):
                    continue
                told = f"'{found[0]}' cannot be checked"
                right = f"{better('vague', found[0])}, in place of '{found[0]}'"
                yield Slip(text.steps, found.span(), told, right)


def near_a_number(wording: Wording) -> Iterator[Slip]:
    """About, approximately or roughly before a number that has no limits.

    Looks for the words of the list "nearly" before a number where the text has neither ± nor
    "to", "at least" or "at most". How far off is still right?
    Source: HSE's guidance on procedures after HSG48, quantities with limits; the NASA handbook as
    for vague words.
    Better: "38 to 42 drops" for "about 40 drops".
    """
    pattern = _nearly()
    for text in wording.texts:
        if text.sort in BENCH and not _LIMITED.search(text.words):
            for found in pattern.finditer(text.words):
                told = f"'{found[1]}' before a number without limits"
                yield Slip(text.steps, found.span(), told, "both limits: ... to ..., or ± ...")


@cache
def _nearly() -> re.Pattern[str]:
    words = "|".join(re.escape(word) for word in sorted(words_of("nearly"), key=len, reverse=True))
    return re.compile(rf"(?<![\w-])({words})\s*(?=\d|§)", re.I)


def warning_commands_no_work(wording: Wording) -> Iterator[Slip]:
    """A warning or caution holds a step of the work.

    Looks for a sentence of a warning or caution that commands with a verb of the list. What
    protects (wear, keep, hold, isolate, never ...) belongs there. A step inside a warning has no
    tick box and is passed over.
    Source: DOE-STD-1029-92 and NUREG-0899, warnings and cautions hold no actions.
    Better: the step in its place, and the warning before it.
    """
    for text in wording.texts:
        if text.sort == "warning":
            for sentence in sentences(text.words, labelled=False):
                guards = sentence.forbids or command(sentence) in words_of("protective")
                if is_imperative(sentence) and not guards:
                    yield _misplaced(text, sentence, "a warning or caution")


def note_commands_nothing(wording: Wording) -> Iterator[Slip]:
    """A note commands something.

    Looks for a sentence of a note that opens with a verb of the list and its object. A note helps
    and may be skipped; a command in it is then skipped too.
    Source: DOE-STD-1029-92 and MIL-STD-38784, notes hold no actions.
    Better: a step with its tick box.
    """
    for text in wording.texts:
        if text.sort == "note":
            for sentence in sentences(text.words, labelled=False):
                if is_imperative(sentence) and not sentence.forbids:
                    yield _misplaced(text, sentence, "a note")


def _misplaced(text: Text, sentence: Sentence, where: str) -> Slip:
    start, end = sentence.span
    words = text.typed[start:end].strip()
    return Slip(text.steps, sentence.span, f"{where} holds a step", f"under steps: {words}")


def reference_is_whole(wording: Wording) -> Iterator[Slip]:
    """A reference lacks its number or its issue, or points back without a number.

    Looks for a drawing, manual, procedure and the like behind see, to, per, as, and for "the
    above" or "the previous step". A document that the process lists has its issue there. Without
    both, the bench takes whichever paper lies at hand.
    Source: DOE-STD-1029-92, references and branching; PPA AP-907-005, references.
    Better: "to drawing K-204 issue C"; "Repeat steps 3 to 5 once."
    """
    listed = {paper.number for paper in wording.process.documents}
    for text in wording.texts:
        if text.sort not in BENCH:
            continue
        for found in _BACK.finditer(text.words):
            told = f"'{found[0]}' names no number"
            yield Slip(text.steps, found.span(), told, "the number of the step or operation")
        for found in found_in(text, words_of("papers")):
            yield from _paper(text, found, listed)


def _paper(text: Text, found: re.Match[str], listed: set[str]) -> Iterator[Slip]:
    before = re.sub(r"\b(the|its|their|a)\s+\Z", "", text.words[: found.start()], flags=re.I)
    code = _CODED.match(text.words, found.end())
    alone = _STANDS_ALONE.match(text.words, found.end())
    if code is None and alone and _POINTS.search(before):
        told = f"'{found[0]}' has neither number nor issue"
        right = f"{found[0]} with its number and issue, such as {found[0]} GA-1-100 issue 2"
        yield Slip(text.steps, found.span(), told, right)
    elif code and code["code"] not in listed and not _ISSUE.match(text.words, code.end()):
        told = f"{found[0]} {code['code']} has no issue"
        right = f"{found[0]} {code['code']} issue ..., or a line under documents"
        yield Slip(text.steps, (found.start(), code.end()), told, right)


def modal_is_dropped(wording: Wording) -> Iterator[Slip]:
    """Should, may, must or shall in a step.

    Looks for these words in a step, but not in what is told about a thing ("that may move").
    "Should" reads as a wish; "must" makes the other steps sound free.
    Source: NASA Systems Engineering Handbook, appendix C (should is a goal); MIL-STD-961.
    Better: the bare command, "Wet the felt."
    """
    for text, _ in wording.actions:
        for found in found_in(text, words_of("modals")):
            if found[0].lower() == "can" or _TOLD.search(text.words[: found.start()]):
                continue
            told = f"'{found[0]}' in a step leaves open whether it is done"
            yield Slip(text.steps, found.span(), told, "the bare command: Install ..., Set ...")


def long_sentence(wording: Wording) -> Iterator[Slip]:
    """A sentence is too long: over 20 words in a step, over 25 elsewhere.

    Looks at each sentence to its full stop, semicolon or colon. A number with its unit counts as
    one word, a name in braces too; words in brackets are counted apart. Long sentences are read
    twice, or half.
    Source: ASD-STE100, sentence length in procedures and in descriptions (from a summary).
    Better: two sentences, or the values in readings.
    """
    for text in wording.texts:
        most = LONGEST_STEP if text.sort in ("do", "step", "fail") else LONGEST_TEXT
        if len(text.words.split()) <= most:
            continue
        for sentence in sentences(text.words, labelled=False):
            for start, part in _parts(sentence):
                words = list(_WORDS.finditer(_AMOUNT.sub(_same_width, part)))
                if len(words) > most:
                    told = f"a sentence of {len(words)} words"
                    span = sentence.of(start + words[most].start(), start + len(part))
                    yield Slip(text.steps, span, told, f"at most {most} words: two sentences")


def _same_width(found: re.Match[str]) -> str:
    """An amount as one word of the same width."""
    return "0" * len(found[0].rstrip()) + " " * (len(found[0]) - len(found[0].rstrip()))


def _parts(sentence: Sentence) -> Iterator[tuple[int, str]]:
    """The parts of a sentence at its colons, without what stands in brackets."""
    words = re.sub(r"\([^()]*\)", lambda m: " " * len(m[0]), sentence.words)
    start = 0
    for end in [*(m.end() for m in re.finditer(r":(?=\s)", words)), len(words)]:
        yield start, words[start:end]
        start = end
