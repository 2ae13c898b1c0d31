"""Values, words, clocks and days of a form in; what is beyond its limits or is none, out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date

from generator.results.case import Case, Verdict, is_clock, number_in, said
from generator.results.entries import day_of
from generator.results.form import IN_HAND, Field
from generator.results.form_says import Answers

_COPIED = re.compile(r"(lower|upper|accept from|accept to),? as ticked")
_SIGNED = re.compile(r"sign |date done|date accepted|^(prepared|checked|issued|approved) ")


def limits(case: Case) -> Iterator[Verdict]:
    for each in case.form.fields:
        if each.name == IN_HAND or each.kind != "number" or not (text := case.written(each)):
            continue
        number, allowed = number_in(text), case.allowed(each)
        found = f"{text} {each.unit}".rstrip()
        lower, upper = limit(case, each, "lower"), limit(case, each, "upper")
        low, high = limit(case, each, "accept from"), limit(case, each, "accept to")
        if number is None:
            yield said(each, "number", f"'{text}' is no number")
        elif wrong := outside(number, lower or "", upper or ""):
            more = ", its slip is done with" if allowed else ": a slip is needed"
            yield said(each, "out", f"{found}{wrong}{more}", not allowed)
        elif None in (lower, upper, low, high):
            says = f"{found}, and no column is ticked that says its limits"
            yield said(each, "strip", says, not allowed)
        elif wrong := outside(number, low or "", high or ""):
            more = ", which the lead decided on" if allowed else ": the lead decides, on a slip"
            yield said(each, "between", f"{found}{wrong}, its accept limit{more}", not allowed)


_STANDS = {"lower": "lower", "upper": "upper", "accept from": "accept_from",
           "accept to": "accept_to"}  # fmt: skip
_BY = {"lower": ("lower_by", "from"), "upper": ("upper_by", "to")}


def limit(case: Case, of: Field, end: str) -> str | None:
    """A limit of a field, "" where it has none; None where it is that of the column that is ticked
    and no column is, or none that is known.

    end: lower, upper, accept from or accept to.
    """
    if stands := getattr(of, _STANDS[end]):
        return str(stands)
    if end in _BY:
        name, side = _BY[end]
        mark = getattr(of, name)
        return ticked(case, of, (f"{mark}.{side}", mark)) if mark else ""
    marks = [f"{of.accept_by}.{each}" for each in ("accept from", "accept to")]
    known = {each.mark for each in case.form.answers} & {*marks}
    if not of.accept_by or (known and f"{of.accept_by}.{end}" not in known):
        return ""  # no strip, or one that has the other end alone
    return ticked(case, of, (f"{of.accept_by}.{end}",))


def ticked(case: Case, of: Field, marks: Sequence[str]) -> str | None:
    """The limit that a strip has for the column that was ticked: that of the same operation before
    any other, that of the latest sheet before that of an earlier one. Of the marks the first goes
    before the others: the end of a window stands in one strip with the value in its middle."""
    own = [a for a in case.form.answers if a.mark in marks and a.operation == of.operation]
    for sheet, rows in [(case, own), *((each, each.form.answers) for each in (*case.beside, case))]:
        for mark in marks:
            told = (_told(sheet, each) for each in rows if each.mark == mark)
            found = {each for each in told if each is not None}
            if found:
                return found.pop() if len(found) == 1 else None
    return None


def _told(case: Case, row: Answers) -> str | None:
    """What a strip says for the one box that is ticked in it; None where none is."""
    used = [f for f in case.form.fields
            if (f.operation, f.kind, f.row) == (row.operation, "choice", "used")]  # fmt: skip
    if len(used) != 1 or len(used[0].choices) != len(row.values):
        return None
    choice = case.written(used[0])
    return row.values[used[0].choices.index(choice)] if choice in used[0].choices else None


def copies(case: Case) -> Iterator[Verdict]:
    """A limit that somebody copied from a strip, and that is not what the strip says."""
    for each in case.form.fields:
        copied, text = _COPIED.match(each.name), case.written(each)
        if copied is None or not text:
            continue
        same_row = (f for f in case.form.fields if f.key[:3] == each.key[:3])
        of = next((f for f in same_row if f.kind == "number" and f.name != each.name), None)
        right = limit(case, of, copied[1]) if of is not None else None
        if right is not None and (not right or number_in(text) != number_in(right)):
            yield said(each, "copied", f"{text}, and the column that is ticked says {right}")


def outside(number: float, below: str, above: str) -> str:
    """Which of two limits a number is beyond, in words; a limit itself is inside."""
    lower, upper = number_in(below), number_in(above)
    if lower is not None and number < lower - 1e-9 * max(1.0, abs(lower)):
        return f" is below {below}"
    if upper is not None and number > upper + 1e-9 * max(1.0, abs(upper)):
        return f" is above {above}"
    return ""


def answers(case: Case) -> Iterator[Verdict]:
    """What must be one of several words, a time of day, a day."""
    for each in case.form.fields:
        text = case.written(each)
        if not text:
            continue
        if each.kind == "choice" and text not in each.choices:
            yield said(each, "choice", f"'{text}' is none of {', '.join(each.choices)}")
        elif each.kind == "choice" and text in ("no", "out"):
            allowed = case.allowed(each)
            more = "its slip is done with" if allowed else "a slip is needed"
            yield said(each, "out", f"answered {text}: {more}", not allowed)
        elif each.kind == "choice" and text == "between":
            allowed = case.allowed(each)
            more = "the lead decided" if allowed else "the lead decides, on a slip"
            yield said(each, "between", f"neither in nor out: {more}", not allowed)
        elif each.kind == "clock" and not is_clock(text):
            yield said(each, "clock", f"'{text}' is no time such as 14:05")
        elif each.kind == "date" and day_of(text) is None:
            yield said(each, "day", f"'{text}' is no day such as 26 NOV 2026")
        elif each.kind == "tick" and text != "x":
            yield said(each, "tick", f"'{text}' is no tick: x")


def days(case: Case) -> Iterator[Verdict]:
    """A day of signing before the issue or after the day of entering."""
    for each in case.form.fields:
        day = day_of(case.written(each)) if each.kind == "date" else None
        if day is None or not _SIGNED.search(f"{each.row} {each.name} {each.boxes[0]}"):
            continue
        if wrong := _beyond(case, day):
            yield said(each, "day", wrong)


def late(case: Case) -> Iterator[Verdict]:
    """An entry written after the day of the work is told, and stops a close only where its own day
    cannot be."""
    for each in case.form.fields:
        entry = case.entry(each)
        if entry.state == "late":
            day = day_of(entry.written)
            wrong = _beyond(case, day) if day is not None else "which is no day"
            says = f"late entry, written {entry.written}" + (f": {wrong}" if wrong else "")
            yield said(each, "late", says, blocks=bool(wrong))


def _beyond(case: Case, day: date) -> str:
    """What is wrong with a day on which something was written; "" where it can be."""
    begun, until = case.books.begun, case.books.until
    if begun and day < begun:
        return f"{day.isoformat()} is before the issue of {begun.isoformat()}"
    if until and day > until:
        return f"{day.isoformat()} is after the day of entering, {until.isoformat()}"
    return ""
