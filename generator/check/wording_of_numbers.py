"""One process with its texts in; numbers without unit, field, decimals or with a dash out.

Each docstring is the manual of its rule: what it looks for, why, where that comes from, what to
write instead.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.check.sentences import UNIT, Slip, Text, Wording, command, sentences
from generator.process import Operation, Reading
from generator.quantities.amount import Amount

WRITTEN = frozenset({"measure", "record", "count", "weigh", "read"})
_NUMBER = r"\d+(?:\.\d+)?"
_DASHED = re.compile(
    rf"(?<![\w./§-])(?P<low>[-−+]?{_NUMBER})(?P<mid>\s?{UNIT})?"
    rf"(?:(?P<wide>\s*[–—]\s*|\s+[-−]\s+)|-)(?P<high>[-−+]?{_NUMBER})(?![\w./-]*\w*/)"
    rf"(?P<unit>\s?{UNIT}(?![\w-]))?(?!\w|[.-]\w)"
)
_PRODUCT = re.compile(
    rf"(?<![\w./-]){_NUMBER}\s*[x×]\s*{_NUMBER}(?:\s*[x×]\s*{_NUMBER})?\s*(?P<unit>{UNIT})(?![\w-])"
)
_BARE = re.compile(
    r"(?<!\d )\b(?:to|at|than|by|below|above|over|under|within|least|most)\s+"
    rf"(?P<number>[-−+]?{_NUMBER})"
    rf"(?=\s*(?:±\s*{_NUMBER})?\s*(?:[,;)]|\.(?!\d)|\Z|\b(?:and|or|then|before|when|if|until)\b))",
    re.I,
)
_SETTING = frozenset(
    {"adjust", "cut", "drill", "file", "fill", "heat", "lower", "mill", "press", "pressurize",
     "raise", "ream", "relieve", "set", "tension", "tighten", "torque", "trim", "turn"}
)  # fmt: skip
_NO_ZERO = re.compile(r"(?<![\w.…])(?P<number>\.\d+)")
_EACH = re.compile(r"\b(each|every|both|all)\b", re.I)
_DECIMALS = re.compile(r"\d+\.(\d+)")


def range_has_no_dash(wording: Wording) -> Iterator[Slip]:
    """A range is written with a dash.

    Looks for a number, a dash and a number in every text and in the names of readings. A short
    dash between bare numbers may be a thread or a part number and is let be; one before a unit, or
    a long one, is a range. A dash reads as minus: -2-3 is anybody's guess.
    Source: NIST SP 811 section 7.7, ranges with "to".
    Better: "0.8 mm to 1.2 mm".
    """
    named = [
        Text(("operations", i, "readings", j, "name"), "name", reading.name, reading.name)
        for i, operation in enumerate(wording.process.operations)
        for j, reading in enumerate(operation.readings)
    ]
    for text in [*wording.texts, *named]:
        for found in _DASHED.finditer(text.words):
            if _is_range(text.words, found):
                unit = (found["unit"] or found["mid"] or "").strip()
                ends = [f"{end} {unit}".strip() for end in (found["low"], found["high"])]
                told = f"'{found[0]}' is a range with a dash, which reads as minus"
                yield Slip(text.steps, found.span(), told, " to ".join(ends))


def _is_range(words: str, found: re.Match[str]) -> bool:
    """Not where the dash belongs to a thread: 10-32, also in "10-32 in the plate"."""
    if (found["unit"] or "").strip() == "in" and re.match(r"\s+[a-z]", words[found.end() :]):
        return bool(found["wide"] or found["mid"])
    return bool(found["wide"] or found["unit"] or found["mid"])


def numbers_have_units(wording: Wording) -> Iterator[Slip]:
    """A number has no unit, or two numbers share one.

    Looks in steps for a number that ends its phrase behind to, at, over, than and the like, in a
    sentence that sets, cuts, torques, heats and so on, and for products such as "51 x 25 mm". The
    reader adds the unit he is used to.
    Source: NIST SP 811 sections 7.7 and 7.8, a unit at every number.
    Better: "Set to 25 mm."; "51 mm x 25 mm".
    """
    for text, _ in wording.actions:
        for sentence in sentences(text.words):
            for found in _BARE.finditer(sentence.words):
                if command(sentence) in _SETTING and float(_plain(found["number"])) != 0:
                    told = f"{found['number']} has no unit"
                    span = sentence.of(*found.span("number"))
                    yield Slip(text.steps, span, told, f"{found['number']} with its unit")
        for found in _PRODUCT.finditer(text.words):
            told = f"'{found[0]}' has one unit for several numbers"
            numbers = re.findall(_NUMBER, found[0][: found.start("unit") - found.start()])
            yield Slip(
                text.steps, found.span(), told, " x ".join(f"{n} {found['unit']}" for n in numbers)
            )


def _plain(number: str) -> str:
    return number.replace("−", "-")


def number_starts_with_a_digit(wording: Wording) -> Iterator[Slip]:
    """A decimal number has nothing before its point.

    Looks for .5 and the like in every text. The point is lost on a copy, and .5 becomes 5.
    Source: NIST SP 811 section 10.5, a zero before the point (from memory).
    Better: "0.5 mm".
    """
    for text in wording.texts:
        for found in _NO_ZERO.finditer(text.words):
            told = f"'{found['number']}' has no digit before its point"
            yield Slip(text.steps, found.span(), told, f"0{found['number']}")


def value_has_a_field(wording: Wording) -> Iterator[Slip]:
    """A step measures, counts or records, and the operation has no row to write into.

    Looks for steps that begin with measure, record, count, weigh or read in an operation without
    readings, clock, strip, table or points. A value without a row is written on the hand, or not.
    Source: DOE-STD-1029-92, recording of data.
    Better: a row under readings with its unit and limits.
    """
    for text, operation in wording.actions:
        if _has_rows(operation):
            continue
        for sentence in sentences(text.words):
            first = sentence.first_word()
            if first and command(sentence) in WRITTEN:
                told = f"'{first[0]}' without a row to write into"
                right = "readings: [{name: ..., lower: ..., upper: ..., to: ...}]"
                yield Slip(text.steps, sentence.of(*first.span()), told, right)


def _has_rows(operation: Operation) -> bool:
    tables = operation.strip is not None or operation.lookup is not None
    return bool(operation.readings or operation.clock or operation.points or tables)


def each_value_has_its_own_row(wording: Wording) -> Iterator[Slip]:
    """A row asks for several numbers and has one box.

    Looks for each, every, both or all in the name of a reading that is a number and is taken once.
    Several numbers in one box cannot be told apart later.
    Source: DOE-STD-1029-92, each datum in its own place.
    Better: "times: 4", or a row for each.
    """
    for i, operation in enumerate(wording.process.operations):
        for j, reading in enumerate(operation.readings):
            found = _EACH.search(reading.name)
            if found and reading.entry == "number" and reading.times == 1:
                steps = ("operations", i, "readings", j, "name")
                told = f"'{found[0]}' asks for several numbers, and there is one box"
                yield Slip(steps, found.span(), told, "times: how many, or a row for each")


def decimals_are_said(wording: Wording) -> Iterator[Slip]:
    """A number that is written has no step, or its limits have more decimals than its box.

    Looks at readings that are numbers: "to" says how many decimals are written, and a limit typed
    with more of them cannot be compared with what is written.
    Source: ASTM E29, say how a reading is rounded before it meets its limit (from a summary).
    Better: "to: 0.01 mm" at limits of 1.20 mm and 1.35 mm.
    """
    for i, operation in enumerate(wording.process.operations):
        for j, reading in enumerate(operation.readings):
            here = ("operations", i, "readings", j)
            if reading.entry == "number" and reading.to is None:
                told = f"'{reading.name}' does not say to how many decimals it is written"
                yield Slip((*here, "name"), (0, 0), told, "to: the finest step, such as 0.1 mm")
            elif reading.entry == "number":
                yield from _finer_limits((*here, "to"), reading)


def _finer_limits(steps: tuple[str | int, ...], reading: Reading) -> Iterator[Slip]:
    step = reading.to
    assert step is not None
    for limit in (reading.lower, reading.upper):
        if isinstance(limit, Amount) and limit.unit.text == step.unit.text:
            most = max((len(d) for d in _DECIMALS.findall(limit.typed)), default=0)
            if most > max((len(d) for d in _DECIMALS.findall(step.typed)), default=0):
                told = f"the limits {limit.typed} have more decimals than the step {step.typed}"
                yield Slip(steps, (0, 0), told, f"to: a step with {most} decimals")
                return
