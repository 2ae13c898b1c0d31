"""A form and what was entered in it, in; what the rules of judging ask of them, out."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import date

from generator.process import Instrument, Stamp
from generator.results.entries import BLANK, Entries, Entry, day_of
from generator.results.form import Field, Form, Key


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
    """What the workshop knows on the day of judging: its stamps by number and its instruments by
    number, as they are today; for the instruments of the issue, when each was due then and of
    which kind it was.

    conceded: values that a concession allows, each in its field. done_again: operations that a
    complete rework sheet stands for. trade: of the process. begun, until: the days between which
    all is written, of the issue and of entering. doers: who did work on another sheet of the same
    traveller.
    """

    stamps: Mapping[str, Stamp]
    instruments: Mapping[str, Instrument]
    due_then: Mapping[str, date] = field(default_factory=dict)
    kinds_then: Mapping[str, str] = field(default_factory=dict)
    conceded: Collection[tuple[Key, str]] = ()
    done_again: Collection[str] = ()
    trade: str = ""
    begun: date | None = None
    until: date | None = None
    doers: Collection[str] = ()


@dataclass(frozen=True)
class Case:
    """beside: the other sheets of the same traveller, the latest first."""

    form: Form
    entries: Entries
    books: Books
    beside: tuple[Case, ...] = ()

    def entry(self, of: Field) -> Entry:
        return self.entries.get(of.key, BLANK)

    def written(self, of: Field) -> str:
        entry = self.entry(of)
        return entry.text if entry.stands else ""

    def allowed(self, of: Field) -> bool:
        """Whether what stands in a field is conceded, or its operation was done again."""
        conceded = (of.key, self.written(of)) in self.books.conceded
        return conceded or bool({of.operation, of.of} & {*self.books.done_again})

    def in_operation(self, operation: str, *kinds: str) -> list[Field]:
        return [
            f
            for f in self.form.fields
            if f.sheet == "traveller"
            and f.operation == operation
            and (f.kind in kinds or not kinds)
        ]

    def days(self, operation: str) -> list[date]:
        """The days on which an operation was signed; a day that is read or told is none of them."""
        beside = {f.row for f in self.in_operation(operation, "stamp")} - {"notice"}
        dates = self.in_operation(operation, "date")
        signed = [f for f in dates if f.row in beside or f.row.startswith("sign")]
        found = (day_of(self.written(f)) for f in signed)
        return [day for day in found if day is not None]

    def days_of(self, of: Field) -> list[date]:
        """The days on which that was done of which a field tells: those of its operation, else
        those of its row, of its sheet, of the whole traveller."""
        if of.operation:
            return self.days(of.operation)
        dates = [f for f in self.form.fields if f.kind == "date"]
        for near in (
            [f for f in dates if (f.sheet, f.row) == (of.sheet, of.row)],
            [f for f in dates if f.sheet == of.sheet],
            [f for f in dates if f.sheet == "traveller" and f.operation],
        ):
            found = [day for f in near if (day := day_of(self.written(f))) is not None]
            if found:
                return found
        return []


def said(of: Field, code: str, says: str, blocks: bool = True) -> Verdict:
    return Verdict(code, of.sheet, of.operation, of.label, says, blocks)


def number_in(text: str) -> float | None:
    """The number that a person wrote; None where it is none."""
    plain = text.replace("\N{MINUS SIGN}", "-").strip()
    try:
        return float(plain) if plain.replace(".", "", 1).lstrip("+-").isdigit() else None
    except ValueError:
        return None


def is_clock(text: str) -> bool:
    """Whether a person wrote a time of day."""
    hours, colon, minutes = text.partition(":")
    told = bool(colon) and hours.isdigit() and minutes.isdigit() and len(minutes) == 2
    return told and int(hours) < 24 and int(minutes) < 60
