"""The form of a traveller and what was entered, in; everything that is wrong or still open, out.

Values are judged by the limits as they were printed; stamps and instruments by the day on which
they were used. Nothing is repaired and nothing is guessed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from generator.process import Instrument, Stamp
from generator.results.entries import BLANK, Entries, Entry, day_of
from generator.results.form import SIGNING, Field, Form, Stop

_INSTRUMENT = " no."
_OF_TWO = re.compile(r"(.+): (?:first|second), .+")
_SIGNED = re.compile(r"sign |date done|date accepted|^(prepared|checked|issued|approved) ")
_INSTEAD = {"go on without": "sign witness", "sign witness": "go on without"}


@dataclass(frozen=True)
class Verdict:
    """One thing that is wrong: blocks says that the traveller cannot be closed while it stands."""

    code: str
    sheet: str
    operation: str
    row: str
    says: str
    blocks: bool = True

    @property
    def where(self) -> str:
        at = f"operation {self.operation}" if self.operation else self.sheet.replace("-", " ")
        return f"{at}, {self.row}"


@dataclass(frozen=True)
class Books:
    """What the workshop knows on the day of judging: its stamps by number, its instruments by
    number, the operations whose slip is done with, the trade of the process, and the days between
    which all is written: of the issue and of entering."""

    stamps: Mapping[str, Stamp]
    instruments: Mapping[str, Instrument]
    conceded: Sequence[str] = field(default=())
    trade: str = ""
    begun: date | None = None
    until: date | None = None


@dataclass(frozen=True)
class _Case:
    form: Form
    entries: Entries
    books: Books

    def entry(self, of: Field) -> Entry:
        return self.entries.get(of.key, BLANK)

    def written(self, of: Field) -> str:
        entry = self.entry(of)
        return entry.text if entry.stands else ""

    def in_operation(self, operation: str, *kinds: str) -> list[Field]:
        return [
            f
            for f in self.form.fields
            if f.sheet == "traveller"
            and f.operation == operation
            and (f.kind in kinds or not kinds)
        ]

    def days(self, operation: str) -> list[date]:
        """The days on which an operation was signed."""
        signed = [f for f in self.in_operation(operation, "date") if f.row != "notice"]
        found = (day_of(self.written(f)) for f in signed)
        return [day for day in found if day is not None]


def judged(form: Form, entries: Entries, books: Books) -> tuple[Verdict, ...]:
    """All that is wrong, rule after rule, each in the order of the form."""
    case = _Case(form, entries, books)
    return tuple(verdict for rule in _RULES for verdict in rule(case))


def _said(of: Field, code: str, says: str, blocks: bool = True) -> Verdict:
    return Verdict(code, of.sheet, of.operation, of.label, says, blocks)


# --- what is there and what is not -------------------------------------------------------------


def _blank(case: _Case) -> Iterator[Verdict]:
    """A box without an entry, an entry that nobody can read, an N/A without its reason."""
    for each in case.form.fields:
        entry = case.entry(each)
        if entry.state == "unreadable":
            yield _said(each, "unreadable", "an entry that cannot be read is no entry")
        elif entry.state == "not applicable" and not entry.why:
            yield _said(each, "reason", "N/A without a reason")
        elif entry.state == "blank" and not each.may_be_empty and not _left_open(case, each):
            yield _said(each, "missing", "the box is empty")


def _left_open(case: _Case, of: Field) -> bool:
    """A box that another makes needless: one of an operation that does not apply; who came as a
    witness needs no leave to go on without."""
    beside = case.in_operation(of.operation) if of.operation else []
    if any(_is_not_applicable(f) and case.written(f) for f in beside):
        return True
    other = _INSTEAD.get(of.row)
    return any(case.written(f) for f in beside if f.row == other)


def _is_not_applicable(of: Field) -> bool:
    return of.row == "operation" and of.name.endswith("N/A")


def _reasons(case: _Case) -> Iterator[Verdict]:
    """An operation that does not apply is named, with its reason, on the same sheet."""
    named = [
        word
        for f in case.form.fields
        if f.sheet == "traveller" and f.name == "operation or line"
        for word in re.findall(r"\d+(?:R\d+)?", case.written(f))
    ]
    for each in case.form.fields:
        if _is_not_applicable(each) and case.written(each) and each.operation not in named:
            yield _said(each, "reason", "N/A, and no line of the traveller gives its reason")


def _late(case: _Case) -> Iterator[Verdict]:
    """An entry written after the day of the work is told, and does not stop a close."""
    for each in case.form.fields:
        entry = case.entry(each)
        if entry.state == "late":
            told = "" if day_of(entry.written) else ", which is no day"
            says = f"late entry, written {entry.written}{told}"
            yield _said(each, "late", says, blocks=bool(told))


# --- values -------------------------------------------------------------------------------------


def number_in(text: str) -> float | None:
    """The number that a person wrote; None where it is none."""
    plain = text.replace("\N{MINUS SIGN}", "-").strip()
    try:
        return float(plain) if plain.replace(".", "", 1).lstrip("+-").isdigit() else None
    except ValueError:
        return None


def _limits(case: _Case) -> Iterator[Verdict]:
    for each in case.form.fields:
        if each.kind == "number" and (text := case.written(each)):
            number = number_in(text)
            found = f"{text} {each.unit}".rstrip()
            lower = each.lower or _ticked(case, each.lower_by)
            upper = each.upper or _ticked(case, each.upper_by)
            if number is None:
                yield _said(each, "number", f"'{text}' is no number")
            elif wrong := _outside(number, lower, upper):
                conceded = each.operation in case.books.conceded
                more = ", its slip is done with" if conceded else ": a slip is needed"
                yield _said(each, "out", f"{found}{wrong}{more}", not conceded)
            elif wrong := _outside(number, each.accept_from, each.accept_to):
                yield _said(each, "between", f"{found}{wrong}, its accept limit: the lead decides")


def _ticked(case: _Case, mark: str) -> str:
    """The limit that a strip has for the column that was ticked; "" where none is known."""
    row = next((each for each in case.form.answers if mark and each.mark == mark), None)
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


def _answers(case: _Case) -> Iterator[Verdict]:
    """What must be one of several words, a time of day, a day."""
    for each in case.form.fields:
        text = case.written(each)
        if not text:
            continue
        if each.kind == "choice" and text not in each.choices:
            yield _said(each, "choice", f"'{text}' is none of {', '.join(each.choices)}")
        elif each.kind == "choice" and text in ("no", "out"):
            conceded = each.operation in case.books.conceded
            yield _said(each, "out", f"answered {text}: a slip is needed", not conceded)
        elif each.kind == "choice" and text == "between":
            yield _said(each, "between", "neither in nor out: the lead decides")
        elif each.kind == "clock" and not is_clock(text):
            yield _said(each, "clock", f"'{text}' is no time such as 14:05")
        elif each.kind == "date" and day_of(text) is None:
            yield _said(each, "day", f"'{text}' is no day such as 26 NOV 2026")
        elif each.kind == "tick" and text != "x":
            yield _said(each, "tick", f"'{text}' is no tick: x")


def is_clock(text: str) -> bool:
    """Whether a person wrote a time of day."""
    hours, colon, minutes = text.partition(":")
    told = bool(colon) and hours.isdigit() and minutes.isdigit() and len(minutes) == 2
    return told and int(hours) < 24 and int(minutes) < 60


def _days(case: _Case) -> Iterator[Verdict]:
    """A day of signing before the issue or after the day of entering."""
    begun, until = case.books.begun, case.books.until
    for each in case.form.fields:
        day = day_of(case.written(each)) if each.kind == "date" else None
        if day is None or not _SIGNED.search(f"{each.row} {each.name} {each.boxes[0]}"):
            continue
        if begun and day < begun:
            says = f"{day.isoformat()} is before the issue of {begun.isoformat()}"
            yield _said(each, "day", says)
        elif until and day > until:
            says = f"{day.isoformat()} is after the day of entering, {until.isoformat()}"
            yield _said(each, "day", says)


# --- people -------------------------------------------------------------------------------------


def _stamps(case: _Case) -> Iterator[Verdict]:
    """A stamp that nobody holds, or not on that day, or of another class than the box asks; a stamp
    without a day is not signed."""
    for stamp, day_field in _pairs(case):
        text = case.written(stamp)
        if not text:
            continue
        day = day_of(case.written(day_field)) if day_field else None
        if day_field is not None and day is None:
            yield _said(stamp, "unsigned", f"{text} without a day is not signed")
        holder = case.books.stamps.get(text)
        if holder is None:
            yield _said(stamp, "stamp", f"nobody holds the stamp {text}")
        elif day is not None and not holder.holds_on(day):
            yield _said(stamp, "stamp", f"{text} did not hold on {day.isoformat()}")
        elif case.books.trade and not holder.holds_for(case.books.trade):
            yield _said(stamp, "trade", f"{text} does not hold for {case.books.trade}")
        elif stamp.who and stamp.who not in SIGNING:
            if text != stamp.who:
                yield _said(stamp, "class", f"{text}, where the sheet names {stamp.who}")
        elif stamp.who and holder.role != stamp.who:
            yield _said(stamp, "class", f"{text} is of class {holder.role}, not {stamp.who}")


def _pairs(case: _Case) -> Iterator[tuple[Field, Field | None]]:
    """Every stamp with the day of its row: the next behind it, else the last before it."""
    fields = case.form.fields
    for i, each in enumerate(fields):
        if each.kind == "stamp":
            behind = (f for f in fields[i + 1 :] if _same_row(f, each) and f.kind == "date")
            before = (f for f in reversed(fields[:i]) if _same_row(f, each) and f.kind == "date")
            yield each, next(behind, None) or next(before, None)


def _same_row(one: Field, other: Field) -> bool:
    return (one.sheet, one.operation, one.row) == (other.sheet, other.operation, other.row)


def _two_people(case: _Case) -> Iterator[Verdict]:
    """Two stamps of one point are of two people, and the second took no part in the work."""
    doers = {case.written(f) for f in case.form.fields if f.row == "sign done"} - {""}
    for first, second in _points(case):
        one, other = case.written(first), case.written(second)
        if other and one == other:
            yield _said(second, "same stamp", f"{other} stands twice where two people look")
        elif other in doers:
            yield _said(second, "took part", f"{other} did work on this traveller")


def _points(case: _Case) -> Iterator[tuple[Field, Field]]:
    """The stamps of the first and of the second person at each point that two people look at: in
    one row of an independent inspection, in two rows of another sheet."""
    independent = {stop.operation for stop in case.form.stops if stop.kind == "independent"}
    points: dict[tuple[str, str, str], list[Field]] = {}
    for each in case.form.fields:
        if each.kind != "stamp" or each.row == "sign done":
            continue
        of_two = _OF_TWO.fullmatch(each.row)
        if of_two or (each.sheet == "traveller" and each.operation in independent):
            point = of_two[1] if of_two else each.row
            points.setdefault((each.sheet, each.operation, point), []).append(each)
    return ((stamps[0], stamps[1]) for stamps in points.values() if len(stamps) == 2)


def _holds(case: _Case) -> Iterator[Verdict]:
    """Work behind a hold that is not released, or dated before its release; work that the hold
    closed, dated after it."""
    numbers = case.form.operations
    for stop in case.form.stops:
        if stop.kind != "hold":
            continue
        released = case.days(stop.operation)
        after = numbers[numbers.index(stop.operation) + 1 :]
        begun = [n for n in after if any(case.written(f) for f in case.in_operation(n))]
        if released:
            yield from _left_blank(case, stop)
        if begun and not released:
            field = case.in_operation(stop.operation)[0]
            yield _said(field, "hold", f"operation {begun[0]} is entered and the hold not released")
        if released:
            yield from _out_of_turn(case, stop, begun, max(released))


def _left_blank(case: _Case, stop: Stop) -> Iterator[Verdict]:
    """Work that a hold closes and of which a box is empty, though the hold is released."""
    for number in stop.closes:
        for each in case.in_operation(number):
            blank = case.entry(each).state == "blank" and not each.may_be_empty
            if blank and not _left_open(case, each):
                says = (
                    f"hold {stop.operation} is released, and a box of operation {number} is empty"
                )
                yield _said(each, "hold", says)
                break


def _out_of_turn(
    case: _Case, stop: Stop, begun: Sequence[str], released: date
) -> Iterator[Verdict]:
    """What was signed on the wrong side of the day on which a hold was released."""
    for number, words in (
        *((n, "before") for n in begun),
        *((n, "after") for n in stop.closes),
    ):
        days = case.days(number)
        wrong = [d for d in days if (d < released if words == "before" else d > released)]
        if wrong:
            says = f"signed {wrong[0].isoformat()}, {words} hold {stop.operation} was released"
            yield _said(case.in_operation(number)[0], "overrun", says)


# --- instruments and counts ---------------------------------------------------------------------


def _instruments(case: _Case) -> Iterator[Verdict]:
    """An instrument that the workshop does not have, of another kind, or overdue on the day."""
    kinds = {each.kind for each in case.books.instruments.values()}
    for each in case.form.fields:
        named = each.name or each.row
        kind, text = named.removesuffix(_INSTRUMENT), case.written(each)
        if not text or kind == named or kind not in kinds:
            continue
        held = case.books.instruments.get(text)
        days = case.days(each.operation) if each.operation else []
        if held is None:
            yield _said(each, "instrument", f"the workshop has no instrument {text}")
        elif held.kind != kind:
            yield _said(each, "instrument", f"{text} is a {held.kind}, no {kind}")
        elif days and held.check_due < max(days):
            due, on = held.check_due.isoformat(), max(days).isoformat()
            yield _said(each, "overdue", f"{text} was due {due}, used {on}")


def _counts(case: _Case) -> Iterator[Verdict]:
    """Issued = used + returned + scrapped; what went out comes back."""
    rows: dict[tuple[str, str, str], dict[str, Field]] = {}
    for each in case.form.fields:
        rows.setdefault((each.sheet, each.operation, each.row), {})[each.name] = each
    for fields in rows.values():
        yield from _sum(case, fields, "issued", ("used", "returned", "scrapped"))
        yield from _sum(case, fields, "out", ("back",))
        yield from _sum(case, fields, "raised", ("closed", "open"))


def _sum(
    case: _Case, fields: Mapping[str, Field], whole: str, parts: Sequence[str]
) -> Iterator[Verdict]:
    if not {whole, *parts} <= fields.keys():
        return
    told = [number_in(case.written(fields[name])) for name in (whole, *parts)]
    known = [each for each in told if each is not None]
    if len(known) == len(told) and abs(known[0] - sum(known[1:])) > 1e-9:
        says = f"{known[0]:g} {whole} is not " + " + ".join(
            f"{n:g} {name}" for n, name in zip(known[1:], parts, strict=True)
        )
        yield _said(fields[whole], "count", says)


_RULES: tuple[Callable[[_Case], Iterator[Verdict]], ...] = (
    _blank, _reasons, _late, _limits, _answers, _days, _stamps, _two_people, _holds, _instruments,
    _counts,
)  # fmt: skip
