"""A form and what was entered in it, in; what the rules of judging ask of them, out."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from generator.process import Instrument, Stamp
from generator.results.entries import BLANK, TICK, Entries, Entry, leaves_out
from generator.results.form import AGAIN, Field, Form, Key
from generator.results.form_says import ordinal
from generator.results.serials import is_named
from generator.results.values import Moment, day_of, days_later, minutes_of, number_in

_MEASURED = "measured"  # who signs for the features of a sheet, before another accepts them


@dataclass(frozen=True)
class Verdict:
    """One thing that is wrong: blocks says that the traveller cannot be closed while it stands; of,
    of which operation an inspected feature is."""

    code: str
    sheet: str
    operation: str
    row: str
    says: str
    blocks: bool = True
    slip: str = ""  # the one that is raised at its operation and not done with
    of: str = ""

    @property
    def where(self) -> str:
        at = f"operation {self.operation}" if self.operation else self.sheet.replace("-", " ")
        return f"{at}, {self.row}"


@dataclass(frozen=True)
class Books:
    """What the workshop knows on the day of judging: its stamps by number and its instruments by
    number, as they are today; then: the instruments as they were listed at the issue.

    conceded: values that a concession allows, each in its field; conceded_on: the first day on
    which one did. done_again: operations that a
    complete rework sheet stands for. trade: of the process. begun, until: the days between which
    all is written, of the issue and of entering. doers: who did work on another sheet of the same
    traveller. on_slip: operation -> the slip at it that is not done with, and what it waits for.
    parts: the serials that were issued with the traveller. raised: the numbers of its slips, its
    concessions and its supplementary sheets, by what the closing sheet calls them. place: the
    position that the process names; fitted: where each part sits by the record; closed: since when.
    batches: number -> what the workshop's list says that it is, today or at the issue. part: the
    number that all parts of the traveller have, such as T6-110-4P.
    """

    stamps: Mapping[str, Stamp]
    instruments: Mapping[str, Instrument]
    then: Mapping[str, Instrument] = field(default_factory=dict)
    conceded: Collection[tuple[Key, str]] = ()
    conceded_on: Mapping[tuple[Key, str], date] = field(default_factory=dict)
    done_again: Collection[str] = ()
    trade: str = ""
    begun: date | None = None
    until: date | None = None
    doers: Collection[str] = ()
    on_slip: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    parts: Sequence[str] = ()
    raised: Mapping[str, Sequence[str]] = field(default_factory=dict)
    place: str = ""
    fitted: Mapping[str, str] = field(default_factory=dict)
    closed: date | None = None
    batches: Mapping[str, Collection[str]] = field(default_factory=dict)
    part: str = ""

    def part_in(self, text: str) -> str:
        """The part of the traveller whose serial stands in a box; "" for none of them."""
        return next((each for each in self.parts if is_named(text, each, self.part)), "")


@dataclass(frozen=True)
class Case:
    """before, later: the other sheets of the same traveller that were printed before this one and
    after it, each the latest first."""

    form: Form
    entries: Entries
    books: Books
    before: tuple[Case, ...] = ()
    later: tuple[Case, ...] = ()

    def entry(self, of: Field) -> Entry:
        return self.entries.get(of.key, BLANK)

    def until(self, of: Field) -> date | None:
        """The last day that may stand in a field: that of the act which wrote it there, and never
        one behind the day of judging. None where neither is known."""
        known = (self.entry(of).entered, self.books.until)
        return min((day for day in known if day is not None), default=None)

    def written(self, of: Field) -> str:
        """What stands in a field; of a tick of N/A nothing but the sign of a tick."""
        entry = self.entry(of)
        stands = entry.stands and (entry.text == TICK or not leaves_out(of))
        return entry.text if stands else ""

    def allowed(self, of: Field) -> bool:
        """Whether what stands in a field is conceded, itself or as the reading that it is a copy
        of, or its operation was done again."""
        allows = self.books.conceded
        mine = (
            [(f.key, text) for f in (of, *self.copied_from(of)) for text in self._values(f)]
            if allows
            else []
        )
        conceded = any(
            key == known and _one_value(text, told) for key, text in mine for known, told in allows
        )
        return conceded or bool({of.operation, of.of} & {*self.books.done_again})

    def value(self, of: Field) -> str:
        """What stands in a field, as a concession names it: a time with its day, since the same
        hour of another day is another time."""
        now = self.at(of) if of.kind == "clock" else None
        return str(now) if now else self.written(of)

    def _values(self, of: Field) -> Collection[str]:
        """The words by which a concession may name what stands in a field: where the paper asks for
        no day, and none was known then, the hour alone."""
        dated = of.kind == "clock" and self.form.day_box(of) is not None
        return {self.value(of)} if dated else {self.value(of), self.written(of)}

    def later_for(self, operation: str) -> tuple[Case, ...]:
        """The later sheets that can tell of what was done at an operation here, the latest first:
        those until it is done again itself, which is another piece of work."""
        at = ordinal(operation)
        found: list[Case] = []
        for sheet in reversed(self.later):
            if not at or at in map(ordinal, sheet.form.operations):
                break
            found.insert(0, sheet)
        return tuple(found)

    def copied_from(self, of: Field) -> list[Field]:
        """The readings at its operation that a feature repeats: that of its place, all of them for
        its verdict. None where any of its values is another, or was not taken with the same
        instrument, or none is named: then it was measured anew, as far as the paper tells."""
        if not of.reading:
            return []
        fields = self.form.fields
        there = [f for f in fields if (f.kind, f.operation) == ("number", of.of)
                 and _of_reading(f.row, of.reading)]  # fmt: skip
        row = [f for f in fields if f.key[:3] == of.key[:3]]
        here = [f for f in row if f.kind == "number"]
        if not self._same(here, there) or not self._same_instrument(row, there[0]):
            return []
        return [there[here.index(of)]] if of in here else there

    def _same(self, here: Sequence[Field], there: Sequence[Field]) -> bool:
        """Whether the same numbers stand in both, all of them and in the same order."""
        one, other = ([number_in(self.written(f)) for f in fields] for fields in (here, there))
        return bool(one) and one == other and None not in one

    def _same_instrument(self, row: Sequence[Field], reading: Field) -> bool:
        named = [(f.name, self.written(f)) for f in row if f.name.endswith(" no.")]
        used = {f.row: self.written(f) for f in self.form.fields
                if (f.sheet, f.operation) == (reading.sheet, reading.operation)}  # fmt: skip
        return bool(named) and all(text and used.get(name) == text for name, text in named)

    def slip(self, of: Field) -> tuple[str, str]:
        """The slip at the operation of a field that is not done with, and what it waits for: until
        then nobody raises another. Twice "" where there is none."""
        told = (self.books.on_slip.get(number) for number in (of.operation, of.of) if number)
        return next(filter(None, told), ("", ""))

    def in_operation(self, operation: str, *kinds: str) -> list[Field]:
        return [
            f
            for f in self.form.fields
            if f.sheet == "traveller"
            and f.operation == operation
            and (f.kind in kinds or not kinds)
        ]

    def held(self, number: str) -> Instrument | None:
        """An instrument as today's list has it; where that does not say any more what it reads, as
        the list did that was frozen with the traveller."""
        today, then = self.books.instruments.get(number), self.books.then.get(number)
        return then if today is None or (today.range is None and then is not None) else today

    def days(self, operation: str) -> list[date]:
        """The days on which an operation was signed."""
        return self._days(self.form.signed.get(operation, ()))

    def all_days(self, operation: str) -> list[date]:
        """The days on which an operation was done, as the traveller has them and the record on
        which it is written down."""
        return self._days(self.form.dated.get(operation, ()))

    def _days(self, fields: Sequence[Field]) -> list[date]:
        found = (day_of(self.written(f)) for f in fields)
        return [day for day in found if day is not None]

    def done_on(self, operation: str) -> date | None:
        """The day of the work of an operation: who did it signed then, whoever looked at it later;
        where nobody signs for doing it, the last of its days."""
        signed = self.form.signed.get(operation, ())
        done = [f for f in signed if f.row == "sign done"] or signed
        return max(self._days(done), default=None)

    def at(self, of: Field) -> Moment | None:
        """When a clock says that it was; None where nothing stands there, or no time or day. A sum
        without a box for its day that is before what it counts from is of the day after."""
        minutes, own = minutes_of(self.written(of)), self.form.day_box(of)
        if minutes is None:
            return None
        if own is not None:
            day = day_of(self.written(own))
            return Moment(minutes, day) if day else None
        day, begins = self.done_on(of.operation), self.form.beside(of, "from")
        begun = minutes_of(self.written(begins)) if of.added and begins is not None else None
        if day is None or begun is None or minutes >= begun:
            return Moment(minutes, day)
        day = days_later(day, 1)
        return Moment(minutes, day) if day else None

    def days_of(self, of: Field) -> list[date]:
        """The days on which that was done of which a field tells: those of its operation, on the
        traveller and on its own sheet, else those of its row, of who measured, of the operations on
        its record, of its sheet, of the traveller. Who accepts it later used nothing of it."""
        if of.operation:
            dated = self.form.dated.get(of.operation, ())
            return self._days([f for f in dated if f.sheet in ("traveller", of.sheet)])
        dates = [f for f in self.form.fields if self.form.is_done_on(f)]
        here = [f for f in dates if f.sheet == of.sheet]
        for near in (
            [f for f in here if f.row == of.row],
            [f for f in here if f.row == _MEASURED],
            [f for f in here if f.operation and f.sheet != "traveller"],
            here,
            [f for f in dates if f.sheet == "traveller" and f.operation],
        ):
            found = [day for f in near if (day := day_of(self.written(f))) is not None]
            if found:
                return found
        return []


def _of_reading(row: str, reading: str) -> bool:
    """Whether a row is of a reading: one that goes on overleaf is there again with its count."""
    behind = row.removeprefix(reading)
    return row.startswith(reading) and (not behind or bool(AGAIN.fullmatch(behind)))


def is_not_applicable(of: Field) -> bool:
    """Whether it is the box that leaves a whole operation out."""
    return of.row == "operation" and of.name.endswith("N/A")


def said(of: Field, code: str, says: str, blocks: bool = True, slip: str = "") -> Verdict:
    return Verdict(code, of.sheet, of.operation, of.label, says, blocks, slip, of.of)


def _one_value(one: str, other: str) -> bool:
    """Whether two words are one value: 0.960 is what was allowed as 0.96."""
    return one == other or (number_in(one) is not None and number_in(one) == number_in(other))
