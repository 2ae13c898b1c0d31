"""Values, words, clocks and days of a form in; what is beyond its limits or is none, out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date

from generator.composing.kinds import EVIDENCE_SHEET
from generator.results.case import Case, Verdict, is_not_applicable, said
from generator.results.entries import TICK, leaves_out
from generator.results.form import IN_HAND, Field
from generator.results.form_says import Answers, ordinal
from generator.results.values import day_of, is_clock, number_in
from generator.signs import LEFT_BLANK

NEEDED = "a slip is needed"
_DECIDES = "the lead decides, on a slip"
_COUNT = "count"  # the unit of what is counted, which nobody says
_COPIED = re.compile(r"(lower|upper|accept from|accept to),? as ticked")


def limits(case: Case) -> Iterator[Verdict]:
    for each in case.form.fields:
        if each.name == IN_HAND or each.kind != "number" or not (text := case.written(each)):
            continue
        number = number_in(text)
        found = text if each.unit == _COUNT else f"{text} {each.unit}".rstrip()
        lower, upper = limit(case, each, "lower"), limit(case, each, "upper")
        low, high = limit(case, each, "accept from"), limit(case, each, "accept to")
        if number is None:
            yield said(each, "number", f"'{text}' is no number")
        elif wrong := outside(number, lower or "", upper or ""):
            yield on_a_slip(case, each, "out", f"{found}{wrong}")
        elif each.unit == _COUNT and number < 0:
            yield said(each, "number", f"'{text}' is below nothing, and things are counted")
        elif each.unit == _COUNT and not number.is_integer() and not _in_parts(each):
            yield on_a_slip(case, each, "out", f"{text} is no whole count")
        elif None in (lower, upper, low, high):
            yield unticked(case, each, f"{found}, and no column is ticked that says its limits")
        elif wrong := outside(number, low or "", high or ""):
            beyond = f"{found}{wrong}, its accept limit"
            yield on_a_slip(case, each, "between", beyond, _DECIDES)


def _in_parts(of: Field) -> bool:
    """Whether parts of one are counted too, as half strokes: a limit says so by its point, or may
    where it is ticked."""
    return "." in of.lower + of.upper or bool(of.lower_by or of.upper_by)


def on_a_slip(
    case: Case, of: Field, code: str, wrong: str, wanted: str = NEEDED, decided: bool = False
) -> Verdict:
    """What only a slip settles. One that is raised and not done with is named, so that nobody is
    asked for another of the same. decided: whether who decided on another box decided on this."""
    if decided or case.allowed(of):
        done = ", which the lead decided on" if code == "between" else ", its slip is done with"
        return said(of, code, wrong + done, blocks=False)
    number, waits = case.slip(of)
    return said(of, code, f"{wrong}: {f'{number} {waits}' if number else wanted}", slip=number)


def unticked(case: Case, of: Field, wrong: str) -> Verdict:
    """What nobody can judge before a column is ticked; where none can be, on a slip."""
    return on_a_slip(case, of, "strip", wrong, f"tick it, or {NEEDED}")


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
    """The limit that a strip has for the column that was ticked: on the first sheet in turn that
    has the strip, there that of the same operation before any other. Of the marks the first goes
    before the others: the end of a window stands in one strip with the value in its middle."""
    operation = of.of or of.operation
    # The later sheets on which the column may be ticked by which a reading was taken go first.
    for sheet in (*case.later_for(operation), case, *case.before):
        rows = rows_of(case, of, sheet, marks)
        own = [row for row in rows if ordinal(row[0].operation) == ordinal(operation)]
        for some in (own, rows):
            for mark in marks:
                told = (_told(sheet, *row) for row in some if mark in row[0].marks)
                found = {each for each in told if each is not None}
                if found:
                    return found.pop() if len(found) == 1 else None
        if any(not _left_out(sheet, used) for _, used in rows):
            return None  # the column of another sheet is none for this one
    return None


def rows_of(
    case: Case, of: Field, sheet: Case, marks: Sequence[str]
) -> list[tuple[Answers, Field]]:
    """The rows of strips that have a limit and are ticked on a sheet, each with its boxes. Accept
    limits stand beside their feature, which may be on another sheet than its strip."""
    beside = case if of.accept_by and marks[0].startswith(f"{of.accept_by}.") else sheet
    rows = [a for a in beside.form.answers if {*a.marks} & {*marks}]
    found = [(row, used) for row in rows for used in _used(sheet, row)]
    return [each for each in found if beside is sheet or _same_heads(case, of, each[1])]


def _used(case: Case, row: Answers) -> list[Field]:
    """The boxes of a strip, where the sheet has it: 170R1 has the strip of 170."""
    used = [f for f in case.form.fields if (f.kind, f.row) == ("choice", "used")
            and f.operation and ordinal(f.operation) == ordinal(row.operation)]  # fmt: skip
    return used if len(used) == 1 and len(used[0].choices) == len(row.values) else []


def _same_heads(case: Case, of: Field, used: Field) -> bool:
    """Whether a strip beside a feature has the columns of one that is ticked on another sheet."""
    return any(f.choices == used.choices for f in case.form.fields if f.sheet == of.sheet)


def _told(case: Case, row: Answers, used: Field) -> str | None:
    """What a strip says for the one box that is ticked in it; None where none is."""
    choice = case.written(used)
    return row.values[used.choices.index(choice)] if choice in used.choices else None


def _left_out(case: Case, used: Field) -> bool:
    """Whether a strip or its whole operation does not apply on a sheet."""
    gone = (f for f in case.in_operation(used.operation) if is_not_applicable(f))
    return case.entry(used).state == "not applicable" or any(map(case.written, gone))


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
    """What must be one of several words, a time of day, a day, the sign of a tick."""
    for each in case.form.fields:
        text, entry = case.written(each), case.entry(each)
        if leaves_out(each) and not text and (entry.text or entry.state == "not applicable"):
            wrong = f"'{entry.text or 'N/A'}' is no tick"
            yield said(each, "tick", f"{wrong}: {TICK} where it is ticked, else {LEFT_BLANK}")
        if not text:
            continue
        if each.kind == "choice" and text not in each.choices:
            yield said(each, "choice", f"'{text}' is none of {', '.join(each.choices)}")
        elif each.kind == "choice" and text in ("no", "out"):
            yield on_a_slip(case, each, "out", f"answered {text}")
        elif each.kind == "choice" and text == "between":
            yield on_a_slip(case, each, "between", "neither in nor out", _DECIDES)
        elif each.kind == "clock" and not is_clock(text):
            yield said(each, "clock", f"'{text}' is no time such as 14:05")
        elif each.kind == "date" and day_of(text) is None:
            yield said(each, "day", f"'{text}' is no day such as 26 NOV 2026")
        elif each.kind == "tick" and text != "x":
            yield said(each, "tick", f"'{text}' is no tick: {TICK}")


def days(case: Case) -> Iterator[Verdict]:
    """A day beside a stamp, on whatever sheet, before the issue or after the day of entering. Who
    saw a number being measured may have seen it before."""
    for each in case.form.fields:
        day = day_of(case.written(each)) if each.kind == "date" else None
        if day is None or not case.form.is_done_on(each):
            continue
        wrong = beyond(case, each, day)
        if wrong and not (each.sheet == EVIDENCE_SHEET and day < (case.books.begun or day)):
            yield said(each, "day", wrong)


def late(case: Case) -> Iterator[Verdict]:
    """An entry written after the day of the work is told, and stops a close only where its own day
    cannot be."""
    for each in case.form.fields:
        entry = case.entry(each)
        if entry.state == "late":
            day = day_of(entry.written)
            wrong = beyond(case, each, day) if day is not None else "which is no day"
            says = f"late entry, written {entry.written}" + (f": {wrong}" if wrong else "")
            yield said(each, "late", says, blocks=bool(wrong))


def beyond(case: Case, of: Field, day: date) -> str:
    """What is wrong with a day on which what a field tells was done; "" where it can be."""
    begun, until = case.books.begun, case.until(of)
    if begun and day < begun:
        return f"{day.isoformat()} is before the issue of {begun.isoformat()}"
    if until and day > until:
        return f"{day.isoformat()} is after the day of entering, {until.isoformat()}"
    return ""
