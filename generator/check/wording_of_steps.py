"""One process with its texts in; slips in how its steps command out: verb, one act, condition,
promise.

Each docstring is the manual of its rule: what it looks for, why, where that comes from, what to
write instead.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise

from generator.check.sentences import (
    Sentence,
    Slip,
    Text,
    Wording,
    alternatives,
    better,
    command,
    found_in,
    sentences,
    takes_object,
    verbs,
    words_of,
)

_PASSIVE = re.compile(
    r"(?P<what>.+?)\s+(?:(?:must|shall|should|will|has to|have to|is to|are to)\s+be|is|are)\s+"
    r"(?P<done>[a-z]+ed)\b(?P<rest>.*)",
    re.I | re.S,
)
_LATE = re.compile(
    r"(?<![\w-])(if|when|whenever|unless|after|once(?=\s+(?:the|it|they|all|both|§)))\s+"
    r"(?!each\b|every\b)",
    re.I,
)
_OPENS_CONDITION = re.compile(r"(if|when|unless)\b", re.I)


def command_comes_first(wording: Wording) -> Iterator[Slip]:
    """The first word of a step is not a command.

    Looks at the first sentence of each step, behind "IF ..., THEN" and behind a label such as
    "Pass 1:". An article, a pronoun, an adverb or a noun there is a slip. The reader sees the act
    first and does it; a statement ("the strut must be removed") leaves open who acts and when.
    Source: DOE-STD-1029-92 section 4, action steps; ASD-STE100, active commands in procedures.
    Better: "Remove the strut."
    """
    for text, _ in wording.actions:
        for sentence in sentences(text.words)[:1]:
            first = sentence.first_word()
            if first and not _commands(sentence, first):
                told = f"a step that begins with '{first[0]}' is no command"
                yield Slip(text.steps, sentence.span, told, _as_command(text, sentence))


def _commands(sentence: Sentence, first: re.Match[str]) -> bool:
    """A verb of the list; or an unlisted word with an object behind it, such as "Varnish the"."""
    word = first[0].lower()
    if command(sentence) or any(_starts(sentence, verb) for verb in words_of("instead")):
        return True
    if any(_starts(sentence, promise) for promise in words_of("ensure")):
        return True
    opens = word in words_of("openers") or word.endswith("ly")
    return not opens and takes_object(sentence.words, first.end())


def _starts(sentence: Sentence, words: str) -> bool:
    return (
        re.match(rf"{re.escape(words)}(?![\w-])", sentence.words[sentence.head :], re.I) is not None
    )


def _as_command(text: Text, sentence: Sentence) -> str:
    """The sentence turned into a command where its verb can be found, else an example of one."""
    start, end = sentence.of(sentence.head, len(sentence.words))
    said = text.typed[start:end].strip().rstrip(".;")
    first, _, rest = said.partition(" ")
    if first.lower().endswith("ly") and rest.split()[:1] and rest.split()[0].lower() in verbs():
        return (
            f"{rest[:1].upper()}{rest[1:]}, with a time, a force or a value for '{first.lower()}'"
        )
    passive = _PASSIVE.fullmatch(said)
    verb = _stem(passive["done"]) if passive else ""
    if passive and verb:
        what = passive["what"]
        return f"{verb.capitalize()} {what[:1].lower()}{what[1:]}{passive['rest']}."
    return "the verb first: Install ..., Measure ..., Set ..."


def _stem(done: str) -> str:
    """The verb of a participle: removed -> remove, dipped -> dip."""
    done = done.lower()
    tries = (done[:-1], done[:-2], done[:-3], f"{done[:-3]}y")
    return next((verb for verb in tries if verb in verbs()), "")


def verb_has_one_meaning(wording: Wording) -> Iterator[Slip]:
    """A step commands with a verb that means several things in a workshop.

    Looks at the first word of every sentence of a step, for the words of the list "instead" of
    the wording table: "fit" may be put in, be shaped or be tried. Two readers do two things.
    Source: ASD-STE100, one word for one meaning; the verb list of DOE-STD-1029-92.
    Better: the verb of the list that says which act is meant, "Install the bush."
    """
    pattern = alternatives(words_of("instead"))
    for text, _ in wording.actions:
        for sentence in sentences(text.words):
            found = pattern.match(sentence.words, sentence.head)
            if found:
                told = f"'{found[0]}' has more than one meaning"
                span = sentence.of(*found.span())
                yield Slip(text.steps, span, told, better("instead", found[0]))


def ensure_is_a_check(wording: Wording) -> Iterator[Slip]:
    """A promise stands where an act or a check belongs: ensure, make sure, confirm, see that.

    Looks for these words in a step and in what is done when it fails. They ask for a state and do
    not say who brings it about, what is looked at, or what happens when it is not so.
    Source: ASD-STE100, which keeps one phrase of this group; DOE-STD-1029-92, check and verify.
    Better: "Check: the bilge is dry. IF NOT, THEN ..."
    """
    for text in wording.texts:
        if text.sort not in ("do", "step", "fail"):
            continue
        for found in found_in(text, words_of("ensure")):
            end = re.search(r"[.;](?=\s|\Z)", text.words[found.end() :])
            stop = found.end() + end.start() if end else len(text.words)
            state = text.typed[found.end() : stop].strip().removeprefix("that ")
            told = f"'{found[0]}' asks for a state and says neither act nor check"
            right = f"Check: {state or '...'}. IF NOT, THEN ..."
            yield Slip(text.steps, found.span(), told, right)


def one_action_a_step(wording: Wording) -> Iterator[Slip]:
    """A step holds more than one act.

    Looks for a second verb of the list behind "and", "then", a comma or a semicolon, and for a
    further sentence that commands. To write down, time or tell what was just done is part of the
    act, what follows IF ..., THEN is one branch, and acts "at the same time" are one. A step has
    one tick box: after a break nobody knows which half was done.
    Source: ASD-STE100, one instruction a sentence; DOE-STD-1029-92, one action a step; HSE's
    guidance on procedures after HSG48.
    Better: a step each.
    """
    for text, _ in wording.actions:
        if re.search(r"\b(at the same time|together)\b", text.words, re.I):
            continue
        heads = [s for s in sentences(text.words) if command(s)]
        for sentence in heads[:1]:
            yield from _joined(text, sentence)
        for before, sentence in pairwise(heads):
            if sentence.forbids or command(sentence) in words_of("closing"):
                continue
            if _OPENS_CONDITION.match(before.words.lstrip()):  # both belong to the branch
                continue
            start, end = sentence.span
            right = f"a step of its own: {_first_capital(text.typed[start:end].strip())}"
            yield Slip(text.steps, sentence.span, "one step holds two acts", right)


def _first_capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _joined(text: Text, sentence: Sentence) -> Iterator[Slip]:
    """A second act in the same sentence."""
    first = sentence.first_word()
    assert first is not None
    for found in _joint().finditer(sentence.words, first.end()):
        at_once = not sentence.words[first.end() : found.start()].strip()
        if at_once or takes_object(sentence.words, found.end("verb")):
            start, end = sentence.of(found.start("verb"), len(sentence.words))
            right = f"a step of its own: {_first_capital(text.typed[start:end].strip())}"
            yield Slip(text.steps, (start, end), "one step holds two acts", right)
            return


def condition_comes_first(wording: Wording) -> Iterator[Slip]:
    """A condition stands behind the act that hangs on it, or an IF has no THEN.

    Looks for if, when, whenever, unless, once and after behind the verb of a step ("before" and
    "until" keep the order of time and may stand there), and for a step that opens with a condition
    and has no THEN. Readers begin to act on the verb; what comes later comes too late. In the
    closing operation the rows are the condition, and it is let be.
    Source: Bovair and Kieras 1984 by way of public guides for procedure writers; the logic words
    of DOE-STD-1029-92.
    Better: "IF oil appears, THEN stop."
    """
    for text in wording.texts:
        operation = text.operation
        if (
            operation is None
            or text.sort not in ("do", "step", "fail")
            or operation.kind == "close"
        ):
            continue
        for sentence in sentences(text.words):
            opens = _OPENS_CONDITION.match(sentence.words.lstrip())
            if opens and not re.search(r"\bthen\b", sentence.words, re.I):
                told = f"'{opens[0]}' without THEN"
                start = sentence.span[0]
                right = _with_then(text.typed[start : sentence.span[1]].rstrip(";"))
                yield Slip(text.steps, (start, start + len(opens[0])), told, right)
            elif command(sentence):
                yield from _late(text, sentence)


def _with_then(said: str) -> str:
    """The sentence in the fixed style; where no comma parts it, only the style."""
    opener, _, rest = said.partition(" ")
    state, comma, act = rest.partition(", ")
    return f"{opener.upper()} {state}, THEN {act}" if comma else f"{opener.upper()} ..., THEN ..."


def _late(text: Text, sentence: Sentence) -> Iterator[Slip]:
    first = sentence.first_word()
    assert first is not None
    found = _LATE.search(sentence.words, first.end())
    if not found:
        return
    word = found[1].lower()
    opener = {"if": "IF", "unless": "IF NOT:", "after": "AFTER"}.get(word, "WHEN")
    act_start, act_end = sentence.of(sentence.head, found.start())
    start, end = sentence.of(found.start(), len(sentence.words))
    act = text.typed[act_start:act_end].strip(" ,")
    said = text.typed[sentence.of(found.end(), 0)[0] : end].strip().rstrip(".;")
    told = f"the condition '{found[1]} ...' stands behind its act"
    yield Slip(text.steps, (start, end), told, f"{opener} {said}, THEN {act[:1].lower()}{act[1:]}.")


@cache
def _joint() -> re.Pattern[str]:
    """What joins a second verb to a sentence."""
    known = "|".join(sorted(verbs() - words_of("closing"), key=len, reverse=True))
    joint = rf"(?:,|;|\band\b|\bthen\b)\s+(?:and\s+|then\s+)*(?P<verb>{known})(?![\w-])"
    return re.compile(joint, re.I)
