"""Values, words, clocks and days of a form in; what is beyond its limits or is none, out."""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.results.case import Case, Verdict, is_clock, number_in, said
from generator.results.entries import day_of
from generator.results.form import IN_HAND

_SIGNED = re.compile(r"sign |date done|date accepted|^(prepared|checked|issued|approved) ")


def limits(case: Case) -> Iterator[Verdict]:
    for each in case.form.fields:
        if each.name == IN_HAND:
            continue
        if each.kind == "number" and (text := case.written(each)):
            number = number_in(text)
            found = f"{text} {each.unit}".rstrip()
            lower = each.lower or _ticked(case, each.lower_by, "from")
            upper = each.upper or _ticked(case, each.upper_by, "to")
            if number is None:
                yield said(each, "number", f"'{text}' is no number")
            elif wrong := _outside(number, lower, upper):
                conceded = each.operation in case.books.conceded
                more = ", its slip is done with" if conceded else ": a slip is needed"
                yield said(each, "out", f"{found}{wrong}{more}", not conceded)
            elif wrong := _outside(number, each.accept_from, each.accept_to):
                yield said(each, "between", f"{found}{wrong}, its accept limit: the lead decides")


def _ticked(case: Case, mark: str, end: str) -> str:
    """The limit that a strip has for the column that was ticked; "" where none is known.

    end: from or to, where the mark is that of a window with a row for either.
    """
    marks = (mark, f"{mark}.{end}") if mark else ()
    row = next((each for each in case.form.answers if each.mark in marks), None)
    if row is None:
        return ""
    used = [f for f in case.in_operation(row.operation, "choice") if f.row == "used"]
    if len(used) != 1 or len(used[0].choices) != len(row.values):
        return ""
    choice = case.written(used[0])
    return row.values[used[0].choices.index(choice)] if choice in used[0].choices else ""


def _outside(number: float, below: str, above: str) -> str:
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
            conceded = each.operation in case.books.conceded
            yield said(each, "out", f"answered {text}: a slip is needed", not conceded)
        elif each.kind == "choice" and text == "between":
            yield said(each, "between", "neither in nor out: the lead decides")
        elif each.kind == "clock" and not is_clock(text):
            yield said(each, "clock", f"'{text}' is no time such as 14:05")
        elif each.kind == "date" and day_of(text) is None:
            yield said(each, "day", f"'{text}' is no day such as 26 NOV 2026")
        elif each.kind == "tick" and text != "x":
            yield said(each, "tick", f"'{text}' is no tick: x")


def days(case: Case) -> Iterator[Verdict]:
    """A day of signing before the issue or after the day of entering."""
    begun, until = case.books.begun, case.books.until
    for each in case.form.fields:
        day = day_of(case.written(each)) if each.kind == "date" else None
        if day is None or not _SIGNED.search(f"{each.row} {each.name} {each.boxes[0]}"):
            continue
        if begun and day < begun:
            says = f"{day.isoformat()} is before the issue of {begun.isoformat()}"
            yield said(each, "day", says)
        elif until and day > until:
            says = f"{day.isoformat()} is after the day of entering, {until.isoformat()}"
            yield said(each, "day", says)
