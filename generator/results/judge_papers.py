"""The sheets that are filled in only when something happens, in: stop work notice and slips; one
that was filled in and not gone through with, out."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date

from generator.results.case import Case, Verdict, said
from generator.results.form import Field
from generator.results.judge_holds import signed_on
from generator.results.judge_left_out import DECIDES
from generator.results.judge_values import on_a_slip
from generator.results.values import day_of

_NOTICE, _SLIPS = "stop-work-notice", "slips"
_LIFTED, _SEEN = "lifted, work goes on", "seen before it was lifted"
_NO_ACT = (_LIFTED, _SEEN, "on this notice")
_STOPPED = ("stopped", "stopped by", "kept")
_NUMBER = "slip no."
# The row with the number of each of the two slips, and the rows that are filled in with it.
_OF_A_SLIP = {
    "found": ("found", "measured", "raised by"),
    "decided, one only": ("decided, one only", "reason", "allowed by"),
}


def notices(case: Case) -> Iterator[Verdict]:
    """A notice, or its stub, that stops the work, and nobody lifted it: it hangs on the part. The
    inspector sees the part before; where none did, the line of the notice says so. Between the two
    days nobody works, on whatever sheet of the traveller."""
    here = _notice(case)
    if any(_is_filled(case, f) for f in here if f.row not in _NO_ACT):
        yield from _out_of_turn(case, here)
        for row in (_LIFTED, _SEEN):
            stamps = [f for f in here if f.row == row and f.kind == "stamp"]
            if any(map(case.written, stamps)) or (row == _SEEN and _is_excused(case, here)):
                continue
            says = f"the work is stopped, and nothing is stamped in '{row}'"
            yield from (said(each, "stopped", says) for each in stamps)
    for sheet in (case, *case.before, *case.later):
        begun, _, lifted = _stop(sheet, _notice(sheet))
        if begun is not None and lifted is not None:
            yield from _while_stopped(case, begun, lifted)


def _notice(case: Case) -> list[Field]:
    return [f for f in case.form.fields if f.sheet == _NOTICE]


def _stop(case: Case, here: Collection[Field]) -> tuple[date | None, date | None, date | None]:
    """When the work was stopped, the part seen and the notice lifted, as far as a notice tells."""
    begun = min(_days(case, here, *_STOPPED), default=None)
    seen, lifted = (max(_days(case, here, row), default=None) for row in (_SEEN, _LIFTED))
    return begun, seen, lifted


def _out_of_turn(case: Case, here: Collection[Field]) -> Iterator[Verdict]:
    """A notice that was lifted before it was written or before the inspector saw the part, who sees
    what it was stopped for: the first of these, as one wrong day makes the others."""
    begun, seen, lifted = _stop(case, here)
    look, lift = (
        next((f for f in here if f.row == row and f.kind == "date"), None)
        for row in (_SEEN, _LIFTED)
    )
    for of, did, day, what, other in (
        (lift, "lifted", lifted, "stopped", begun),
        (look, "seen", seen, "stopped", begun),
        (lift, "lifted", lifted, "seen", seen),
    ):
        if of is not None and day is not None and other is not None and day < other:
            yield said(of, "stopped", f"{did} {day}, and the part was {what} {other}")
            return


def _while_stopped(case: Case, begun: date, lifted: date) -> Iterator[Verdict]:
    """Work of a day on which a notice hung on the part, on the traveller or on the record on which
    it is written down: each day of an operation once."""
    for number in case.form.operations:
        told: set[date] = set()
        for each in case.form.dated.get(number, ()):
            day = day_of(case.written(each))
            if day is not None and begun < day < lifted and day not in told:
                told.add(day)
                wrong = f"{signed_on(each, day)}, while the work was stopped: {begun} to {lifted}"
                yield on_a_slip(case, each, "out", wrong)


def _days(case: Case, here: Collection[Field], *rows: str) -> list[date]:
    told = (day_of(case.written(f)) for f in here if f.row in rows and f.kind == "date")
    return [day for day in told if day is not None]


def _is_excused(case: Case, here: Collection[Field]) -> bool:
    """Whether the whole line of the notice names what the inspector stamps, by lead or inspector as
    every line of N/A."""
    line = [f for f in here if f.row == _NO_ACT[-1]]
    words = " ".join(case.written(f) for f in line if f.kind == "words")
    by = (case.books.stamps.get(case.written(f)) for f in line if f.kind == "stamp")
    decided = any(holder is not None and holder.role in DECIDES for holder in by)
    return decided and all(map(case.written, line)) and _SEEN in words.lower()


def slips(case: Case) -> Iterator[Verdict]:
    """A slip that is filled in without its number: nothing in the record stands for it."""
    here = [f for f in case.form.fields if f.sheet == _SLIPS]
    for first, rows in _OF_A_SLIP.items():
        number = next((f for f in here if (f.row, f.name) == (first, _NUMBER)), None)
        if number is None or case.written(number):
            continue
        if any(_is_filled(case, f) for f in here if f.row in rows):
            right = "raise it, and write its number here: witnessmark slip"
            yield said(number, "slip", f"a slip is filled in and has no number; {right}")


def _is_filled(case: Case, of: Field) -> bool:
    """Whether somebody wrote there, though nobody may be able to read it."""
    return bool(case.written(of)) or case.entry(of).state == "unreadable"
