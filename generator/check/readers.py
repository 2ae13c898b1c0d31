"""One leaf of a file as typed in; its value, or a Refusal, out. The schema names these readers."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

from generator.findings import Refusal, near_word
from generator.quantities.amount import Amount
from generator.quantities.text import read_amount, read_count, read_plain, read_range
from generator.quantities.units import LENGTH, TIME, Dimension, named, unit
from generator.signs import is_whole

LETTERS = "ABCDEFGHJKLMNPRTUVWY"
ROLES = (
    "lead", "volunteer", "inspector", "independent inspector", "subcontractor", "stores",
    "archivist",
)  # fmt: skip
INSPECTOR_CLASSES = ("lead", "inspector", "independent inspector", "lead or inspector")
_CODE = re.compile(r"[A-Z0-9]+(-[A-Z0-9]+)*\Z")
_NAME = re.compile(r"[a-z][a-z0-9_]{0,39}\Z")
_RESULT_NAME = re.compile(r"[a-z][a-z0-9_]*(\.[a-z0-9_]+)*\Z")
_PLAIN = re.compile(r"[-+\N{MINUS SIGN}]?[0-9]+(\.[0-9]+)?\Z")
_DAY = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})\Z")


def code(text: str) -> str:
    if not _CODE.match(text) or len(text) > 24:
        raise Refusal(
            "code",
            f"'{text}' is not a number or stamp",
            "capitals, digits and -, such as T6-P-0410",
        )
    return text


def name(text: str) -> str:
    if not _NAME.match(text):
        raise Refusal(
            "name", f"'{text}' is not a name", "small letters, digits and _, a letter first"
        )
    return text


def result_name(text: str) -> str:
    if not _RESULT_NAME.match(text):
        raise Refusal("name", f"'{text}' is not a name", "such as drag or wrench.setting")
    return text


def line(text: str) -> str:
    if "\n" in text:
        raise Refusal("text", "the text runs over lines", "one line")
    return _no_curly_start(text)


def text(words: str) -> str:
    return _no_curly_start(" ".join(words.split()))


def _no_curly_start(words: str) -> str:
    if words[:1] in "\u201c\u201d\u2018" and words:
        raise Refusal(
            "text",
            "the text starts with a curly quote, which YAML does not read",
            "straight quotes, or none",
        )
    return words


def day(words: str) -> date:
    match = _DAY.match(words)
    if not match:
        raise Refusal("date", f"'{words}' is not a day that reads one way only", "as 2026-11-25")
    try:
        return date(int(match[1]), int(match[2]), int(match[3]))
    except ValueError:
        raise Refusal("date", f"{words} is no day of the calendar", "as 2026-11-25") from None


def revision_letter(words: str) -> str:
    if words not in LETTERS or len(words) != 1:
        raise Refusal(
            "revision",
            f"'{words}' is not a revision letter",
            "A, B, C ... without I, O, Q, S, X, Z",
        )
    return words


def operation_number(words: str) -> int:
    if re.match(r"0[0-9]+\Z", words):
        raise Refusal("number", f"'{words}' has a leading zero", words.lstrip("0"))
    if not re.match(r"[1-9][0-9]{0,3}\Z", words):
        raise Refusal(
            "number", f"'{words}' is not an operation number", "10, 20, 30 ... or 35 between two"
        )
    return int(words)


def serial_rule(words: str) -> int:
    match = re.match(r"([1-9]) digits?\Z", words)
    if not match:
        raise Refusal(
            "serial",
            f"'{words}' is not a rule for serials",
            "the number of digits, such as 4 digits",
        )
    return int(match[1])


def count(words: str) -> int:
    number = read_count(words)
    if number < 1:
        raise Refusal("count", "a count of none", "1 or more")
    return number


def count_or_none(words: str) -> int:
    return read_count(words)


def quantity_or_count(words: str) -> int | Amount:
    return read_count(words) if is_whole(words) else read_amount(words)


def amount(words: str) -> Amount:
    """One value; a range has no value of its own and is never taken at its middle."""
    found = read_amount(words)
    if " to " in words.replace("\u00a0", " "):
        right = "one value, with ± where it may vary; limits belong under range"
        raise Refusal("range", f"'{words}' is a range, not a value", right)
    return found


def amount_with_limits(words: str) -> Amount:
    return read_amount(words)


def duration(words: str) -> Amount:
    return _of_kind(words, TIME, "a time, such as 20 min")


def length(words: str) -> Amount:
    return _of_kind(words, LENGTH, "a length, such as 640 mm")


def _of_kind(words: str, dimension: Dimension, right: str) -> Amount:
    found = amount(words)
    if found.unit.dimension != dimension:
        raise Refusal("unit", f"'{words}' is {named(found.unit.dimension)}", right)
    return found


def step(words: str) -> Amount:
    """The step a number is printed or read to: an amount, or a plain number for a count."""
    found = read_plain(words) if _PLAIN.match(words) else read_amount(words)
    if found.number() <= 0:
        raise Refusal("number", f"a step of {words}", "a step above 0, such as 0.1 mm")
    return as_difference(found)


def uncertainty(words: str) -> Amount:
    """How far a reading may be off: an amount above zero, on a scale of points a difference."""
    found = amount(words)
    if found.number() <= 0:
        right = "the U of its certificate, such as 0.03 mm, or no uncertainty where none is known"
        raise Refusal("number", f"an uncertainty of {words}", right)
    return as_difference(found)


def as_difference(amount: Amount) -> Amount:
    """A step on the scale of a point, such as 0.1 °C, is a difference: 0.1 K."""
    if not amount.unit.point:
        return amount
    scale = replace(amount.unit, offset=0.0)
    return replace(amount, value=scale.to_base(amount.unit.from_base(amount.value)), unit=scale)


def amount_range(words: str) -> Amount:
    return read_range(words)


def amount_or_name(words: str) -> Amount | str:
    if words[:1].isalpha():
        return result_name(words)
    return read_plain(words) if _PLAIN.match(words) else read_amount(words)


def limit_or_name(words: str) -> Amount | str:
    """One value: a tolerance or a range here would be printed nowhere."""
    found = amount_or_name(words)
    if isinstance(found, Amount) and (found.low is not None or found.high is not None):
        right = "one value; limits go into lower and upper, or wanted: 12 ± 0.1 mm"
        raise Refusal("limits", f"'{words}' has limits of its own", right)
    return found


def duration_or_name(words: str) -> Amount | str:
    return result_name(words) if words[:1].isalpha() else duration(words)


def unit_text(words: str) -> str:
    return unit(words).text


def bend_order(words: str) -> str:
    """Numbers from 1 on, each once, in the order in which the bends are made."""
    numbers = words.split()
    if sorted(numbers, key=lambda n: (len(n), n)) != [str(n + 1) for n in range(len(numbers))]:
        raise Refusal("order", f"'{words}' is not an order of bends", "each number once: 2 1 3")
    return words


def role(words: str) -> str:
    return _one_of(words, ROLES, "class of stamp")


def inspector_class(words: str) -> str:
    return _one_of(words, INSPECTOR_CLASSES, "class of inspector")


def safety_family(words: str) -> str:
    from generator.tables import table

    return _one_of(words, tuple(table("safety")["families"]), "family of cautions")


def wording_rule(words: str) -> str:
    from generator.check.wording import WORDING_RULES

    return _one_of(words, tuple(WORDING_RULES), "rule of wording")


def desk_letter(words: str) -> str:
    if not re.match(r"[A-Z]\Z", words):
        raise Refusal("desk", f"'{words}' is not a desk", "one capital letter")
    return words


def _one_of(words: str, known: tuple[str, ...], what: str) -> str:
    if words not in known:
        near = near_word(words, known)
        right = (f"{near}? " if near else "") + "One of: " + ", ".join(known)
        raise Refusal("choice", f"'{words}' is not a {what}", right)
    return words


def anything(words: str) -> str:
    return words


READERS: dict[str, Callable[[str], Any]] = {
    "code": code,
    "name": name,
    "line": line,
    "text": text,
    "day": day,
    "revision_letter": revision_letter,
    "operation_number": operation_number,
    "serial_rule": serial_rule,
    "count": count,
    "count_or_none": count_or_none,
    "quantity_or_count": quantity_or_count,
    "amount": amount,
    "amount_with_limits": amount_with_limits,
    "duration": duration,
    "duration_or_name": duration_or_name,
    "number_name": result_name,
    "length": length,
    "step": step,
    "uncertainty": uncertainty,
    "amount_range": amount_range,
    "amount_or_name": amount_or_name,
    "limit_or_name": limit_or_name,
    "unit": unit_text,
    "bend_order": bend_order,
    "role": role,
    "inspector_class": inspector_class,
    "safety_family": safety_family,
    "desk_letter": desk_letter,
    "wording_rule": wording_rule,
    "working": anything,
}
