"""What a process is: the frozen values that check builds and every later stage reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from generator.quantities.amount import Amount

AmountOrName = Amount | str  # a name where the text begins with a letter


@dataclass(frozen=True)
class Part:
    """What is made. serial_digits: how many digits a serial has; set_of: parts a traveller."""

    number: str
    name: str
    hand: str
    serial_digits: int
    set_of: int
    drawing: str
    position: str
    known_as: tuple[str, ...] = ()


@dataclass(frozen=True)
class Revision:
    letter: str
    day: date
    author: str
    approved_by: str
    changed: str
    why: str


@dataclass(frozen=True)
class Prerequisite:
    """Another process, or evidence from outside; one of the two is empty."""

    process: str
    evidence: str
    says: str


@dataclass(frozen=True)
class Paper:
    """A document that the job needs."""

    number: str
    issue: str
    title: str


@dataclass(frozen=True)
class KitLine:
    item: str
    sort: str
    quantity: str
    count: int | None
    spares: int
    batch: bool
    use_by: bool
    single_use: bool


@dataclass(frozen=True)
class InstrumentKind:
    kind: str
    reads_to: Amount | None
    needs: str
    uncertainty: Amount | None = None  # the largest that is allowed here


@dataclass(frozen=True)
class GivenNumber:
    """A number the job starts from. amount is None until the part brings it."""

    name: str
    amount: Amount | None
    with_part: bool
    example: Amount | None
    range: Amount | None
    source: str
    note: str
    each: bool = False  # the tolerance is each place's own, not one shared by all
    also: str = ""


@dataclass(frozen=True)
class WorkOut:
    """An entry under "work out": a calculation by name with its inputs as typed, or arithmetic."""

    name: str
    use: str
    inputs: Mapping[str, Any]
    formula: str
    to: Amount | None
    safe: str = "nearest"
    also: str = ""
    shown_in: str = ""  # the unit of its results of that kind, in place of the calculation's own


@dataclass(frozen=True)
class FastenerMap:
    """A map of numbered fasteners. shape: circle, rectangle with rows and columns, rows
    by name, or placed. facts: names of the numbers that hold for its fasteners.

    full_size: wanted at 1:1 too; line: what is drawn there, hole centres.
    """

    name: str
    shape: str
    fasteners: int
    item: str
    pitch_circle: Amount | None
    first: str
    numbering: str
    looking: str
    order: str
    each_takes: Mapping[str, int]
    rows: int = 0
    columns: int = 0
    pitch_across: Amount | None = None
    pitch_down: Amount | None = None
    full_size: bool = False
    line: str = ""
    fastening: str = "bolt"
    in_rows: Mapping[str, int] = field(default_factory=dict)
    facts: tuple[str, ...] = ()
    places: tuple[tuple[Amount, Amount], ...] = ()  # across and up from the datum
    datum: str = ""
    marks: tuple[str, ...] = ()  # of each place, empty for none


DAY_OF_USE = "day of use"
"""The bound of a date that says until when something holds, as it is typed and printed."""


@dataclass(frozen=True)
class Reading:
    """What is written down. entry: number, count, words, clock, date or tick.

    not_before: what a date must not be before, DAY_OF_USE or "" for nothing. on_figure: the
    dimensions that it measures on the figure of operation figure_at, its own for 0.
    """

    name: str
    entry: str
    nominal: AmountOrName | None
    lower: AmountOrName | None
    upper: AmountOrName | None
    unit: str
    to: Amount | None
    instrument: str
    times: int
    on_figure: tuple[str, ...] = ()
    figure_at: int = 0
    not_before: str = ""


@dataclass(frozen=True)
class Along:
    """The values of one number that the bench measures, from first to last by step.

    between: what the bench does between two of them: nearer, larger, smaller or stop.
    """

    over: str
    first: Amount
    last: Amount
    step: Amount
    between: str


@dataclass(frozen=True)
class FigureWanted:
    """A figure of a working. view "" is its first; width and relief are amounts or names.

    full_size: wanted at 1:1 too; line: what its line means there, such as cut line.
    """

    of: str
    view: str = ""
    width: str = ""
    relief: str = ""
    grain: str = ""
    order: str = ""
    full_size: bool = False
    line: str = ""


@dataclass(frozen=True)
class Strip:
    """Ready answers over one number that the bench measures, or over two where across is there."""

    of: tuple[str, ...]
    along: Along
    across: Along | None
    chart: bool = False


@dataclass(frozen=True)
class Lookup:
    """Ready answers that somebody typed."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    framed: str
    source: str
    chart: bool = False


@dataclass(frozen=True)
class ClockLine:
    """A time to be written. add: what is added to the time above it, an amount or the name of a
    number. not_before, not_after: the label of a clock that adds, here or in an operation before.
    """

    label: str
    add: AmountOrName | None
    not_before: str = ""
    not_after: str = ""


@dataclass(frozen=True)
class SensePoint:
    """What the hand does, and what must be seen to move and how."""

    do: str
    see: str


@dataclass(frozen=True)
class Log:
    """Rows of clock time and values. of: what is read -> its unit."""

    of: Mapping[str, str]
    every: Amount
    lasts: Amount


@dataclass(frozen=True)
class HeatTreatment:
    """What a process asks of a treatment; what it does not set is None or "", never guessed."""

    alloy: str
    treatment: str
    by: str
    coupon: str
    set: AmountOrName | None = None
    soak: AmountOrName | None = None
    soak_most: AmountOrName | None = None
    delay: AmountOrName | None = None
    quench: str = ""
    window: AmountOrName | None = None
    store: AmountOrName | None = None
    keep: AmountOrName | None = None
    ageing: AmountOrName | None = None
    most: int = 0


@dataclass(frozen=True)
class Operation:
    """One operation; a deleted one keeps its number and nothing else.

    within: the name of the window in which it must be done; takes: how much of it it needs.
    """

    number: int
    deleted_at: str = ""
    kind: str = ""
    do: str = ""
    steps: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    start: str = ""
    leave: str = ""
    uses: tuple[str, ...] = ()
    by: str = ""
    released_by: str = ""
    attended_by: str = ""
    notice: Amount | None = None
    first_by: str = ""
    second_by: str = ""
    points: tuple[str, ...] = ()
    readings: tuple[Reading, ...] = ()
    strip: Strip | None = None
    lookup: Lookup | None = None
    clock: tuple[ClockLine, ...] = ()
    map: str = ""
    figure: FigureWanted | None = None
    tightens: str = ""
    leaves_threads: str = ""
    inspects: tuple[str, ...] = ()
    hides: tuple[str, ...] = ()
    if_it_fails: str = ""
    within: str = ""
    takes: AmountOrName | None = None
    recorded_on: str = ""
    sense: tuple[SensePoint, ...] = ()
    log: Log | None = None
    heat_treatment: HeatTreatment | None = None


@dataclass(frozen=True)
class Process:
    number: str
    title: str
    trade: str
    part: Part
    airframe: str
    author: str
    checker: str
    revisions: tuple[Revision, ...]
    prerequisites: tuple[Prerequisite, ...]
    documents: tuple[Paper, ...]
    safety: tuple[str, ...]
    warnings: tuple[str, ...]
    kit: tuple[KitLine, ...]
    tools: tuple[str, ...]
    instruments: tuple[InstrumentKind, ...]
    given: Mapping[str, GivenNumber]
    work_out: Mapping[str, WorkOut]
    maps: Mapping[str, FastenerMap]
    operations: tuple[Operation, ...]

    @property
    def revision(self) -> Revision:
        return self.revisions[-1]


@dataclass(frozen=True)
class Stamp:
    """A stamp is a person here: its class, the days and the trades it holds for; none means all."""

    stamp: str
    role: str
    since: date
    until: date | None
    trades: tuple[str, ...] = ()

    def holds_on(self, day: date) -> bool:
        return self.since <= day and (self.until is None or day <= self.until)

    def holds_for(self, trade: str) -> bool:
        return not self.trades or trade in self.trades


@dataclass(frozen=True)
class Instrument:
    number: str
    kind: str
    reads_to: Amount | None
    check_due: date
    uncertainty: Amount | None = None  # U, as its certificate states it
    checked: date | None = None  # the day of its last check
    range: Amount | None = None  # what it can read, from low to high


LARGE_PAPERS = {"A3": "A4", "Tabloid": "Letter"}
"""Paper for large print, and the paper whose page is drawn larger on it."""


@dataclass(frozen=True)
class Workshop:
    name: str
    aircraft: str
    desk: str
    paper: str
    language: str
    units: str
    stamps: tuple[Stamp, ...]
    instruments: tuple[Instrument, ...]
    also: Mapping[str, str] = field(default_factory=dict)  # a unit -> the one printed in brackets
    rows: Mapping[str, tuple[Mapping[str, str], ...]] = field(default_factory=dict)
    binding_advice: tuple[str, ...] = ()  # codes of wording rules that stop a print here
    backs: bool = False  # a pack with backs for notes too
    guarded: bool = False  # limits are shrunk by the uncertainty of the instrument


@dataclass(frozen=True)
class PartValues:
    """The numbers that one part brings: name -> (amount, where it was measured)."""

    process: str
    part_serial: str
    values: Mapping[str, tuple[Amount, str]]
