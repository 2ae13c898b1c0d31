"""The sheets of an issued traveller, read, in; what they say of their boxes, out: limits, the
answers of strips, where the work stops and who signs."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.composing.recorded import (
    DELAYED,
    LEAST_FULL_SCALE,
    LOAD,
    SOAKED,
    SOAKED_MOST,
    WARMEST,
)
from generator.draw.parse import Block, Container, Row, Run, plain
from generator.draw.sheet import Operation, Part, Section, Title
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.rounding import plain as number_text
from generator.quantities.text import read_amount
from generator.quantities.units import unit
from generator.signs import is_whole

_ENDS = {"least": ".from", "largest": ".to"}
# Columns of a printed count, and the box that must come to it.
_COUNTED = (("fasteners", "ticked"), ("fasteners", "ticked in all"), ("in the map", "driven"))
_SECOND_UNIT = "the same in "  # a row of a strip: limits are written in the first one
_ACCEPT = "Accept limits of "
_NUMBERED = r"[0-9]+(?:R[0-9]+[A-Z]?)?"
_TICKED_IN = re.compile(rf"ticked in operation ({_NUMBERED})")
_STOPS = (("sign", "hold"), ("sign", "witness"))
_TREATED = re.compile(r"Treatment of operation ([0-9]+)")
# Of a treatment: columns that stand beside each other, and which end of what may be is asked.
_ASKED = {"asked", "found"}
_ENDS_ASKED = {SOAKED: "lower", SOAKED_MOST: "upper", DELAYED: "upper", WARMEST: "upper"}
SINCE = "since start"  # the first column of a log, and the unit of its clocks
IN_TURN = "HH:MM"  # the unit of clocks that stand in the order of time
_TIMES = ("s", "min", "h", "d")
_BEHIND = re.compile(r"(?: \([^()]*\))?(?: [A-Z]{2,})*$")
_HELD = re.compile(r"(?:not before: (.+?))?(?:; )?(?:not after: (.+))?")
_BETWEEN = re.compile(r"Between two [a-z ]+: (?:take the ([a-z]+)|tell the lead)")


@dataclass(frozen=True)
class Stop:
    """A hold, a witness or an independent inspection, the operations that a hold closes, and the
    notice that a witness is given, as it is printed."""

    operation: str
    kind: str
    closes: tuple[str, ...]
    notice: str = ""


@dataclass(frozen=True)
class Answers:
    """A row of a strip, or a whole grid: the mark of its number, the operation in which it is
    ticked, and a value for each box that may be ticked. unit: of a time, "" of all else. row: what
    the strip calls it."""

    mark: str
    operation: str
    values: tuple[str, ...]
    unit: str = ""
    row: str = ""

    @property
    def marks(self) -> tuple[str, str]:
        """By which it is asked for: the mark of its number, which several rows may have, and that
        with its row."""
        return self.mark, f"{self.mark} {self.row}"


@dataclass(frozen=True, kw_only=True)
class Limits:
    """What a sheet says of a row: what may stand there, and what it is held against.

    lower, upper: as printed, "" where there is none; accept_from, accept_to: the guarded ones where
    the sheet has them. lower_by, upper_by, accept_by: the mark of the row of a strip that has the
    limit for what was ticked, "?" where the sheet names none. of, reading: the operation and the
    reading of which an inspected feature is. added, added_by: what a clock adds, and the mark of
    the row of a strip that says it; not_before, not_after: the sums that a clock is held against,
    as the sheet calls them; waits: whether work goes on at its sum only. corner, take: what a table
    is ticked for, and which of two heads is taken for what lies between them, both " / " the other
    of a grid. set_to, set_by: what a wrench is set to as printed, or the mark and the row of the
    strip that says it.
    """

    lower: str = ""
    upper: str = ""
    unit: str = ""
    accept_from: str = ""
    accept_to: str = ""
    lower_by: str = ""
    upper_by: str = ""
    accept_by: str = ""
    of: str = ""
    reading: str = ""
    added: str = ""
    added_by: str = ""
    not_before: str = ""
    not_after: str = ""
    waits: bool = False
    corner: str = ""
    take: str = ""
    set_to: str = ""
    set_by: str = ""


def who_signs(
    parts: Mapping[str, tuple[Part, ...]],
) -> Iterator[tuple[tuple[str, str], str]]:
    """Sheet and row of every place where a sheet as a whole is signed -> class or stamp."""
    for kind, has in parts.items():
        for part in (each for each in has if not isinstance(each, Title)):
            for block in part.blocks:
                if isinstance(block, Container) and block.name == "approvals":
                    yield from (((kind, plain(r[0])), plain(r[1])) for r in block.rows)


def answers_of(parts: Iterable[Part]) -> Iterator[Answers]:
    """The rows of strips and the grids that operations have, on the traveller or on the record on
    which they are written. The two ends of a window have one mark; they are told apart by least and
    largest."""
    for number, part in with_operations(parts):
        for block in part.blocks if number else ():
            if isinstance(block, Container):
                yield from _answers_in(block, number)


def _answers_in(block: Container, operation: str) -> Iterator[Answers]:
    if block.name == "strip":
        for row in block.rows[1:]:
            label = plain(row[0])
            second = (label.partition(": ")[2] or label).startswith(_SECOND_UNIT)
            if not second and (link := next((run.link for run in row[0] if run.link), "")):
                mark = _of_end(link, plain(row[0]))
                last = label.rpartition(" ")[2]
                unit = last if last in _TIMES else ""
                yield Answers(mark, operation, tuple(map(plain, row[1:])), unit, label)
    elif block.name == "grid":
        runs = (run for words in block.paragraphs for run in words if run.link)
        mark, named = next(((r.link.rpartition("#")[2], r.text) for r in runs), ("", ""))
        cells = tuple(plain(cell) for row in block.rows[1:] for cell in row[1:])
        yield Answers(mark, operation, cells, row=named)


def accepting(parts: Iterable[Part]) -> Iterator[Answers]:
    """The accept limits of features whose limits are ticked: each stands beside its strip."""
    for part in parts:
        if not isinstance(part, Section) or not part.heading.startswith(_ACCEPT):
            continue
        for block in part.blocks:
            if isinstance(block, Container) and block.name == "strip":
                words = " ".join(map(plain, block.paragraphs))
                ticked = _TICKED_IN.search(words)
                for row in block.rows[1:]:
                    end = " ".join(plain(row[0]).split()[:2])
                    mark = f"{part.heading.removeprefix(_ACCEPT)}.{end}"
                    yield Answers(mark, ticked[1] if ticked else "", tuple(map(plain, row[1:])))


def _of_end(link: str, label: str) -> str:
    """The mark of a row of a strip, and which end of a window it is."""
    words = label.partition(": ")[2] or label
    return link.rpartition("#")[2] + _ENDS.get(words.partition(" ")[0], "")


def waiting(parts: Iterable[Part]) -> frozenset[str]:
    """The operations of a traveller that are a wait, wherever their times are written."""
    return frozenset(p.number for p in parts if isinstance(p, Operation) and p.kind == "wait")


def limits_of(
    kind: str, parts: Iterable[Part], waits: Collection[str] = ()
) -> Iterator[tuple[tuple[str, str, str], Limits]]:
    """The limits of a sheet by kind, operation and row; a row that stands there again has its
    count, such as "soak ends (2)". waits: the operations that are a wait."""
    treated = ""
    seen: Counter[tuple[str, str]] = Counter()
    for operation, part in with_operations(parts):
        if isinstance(part, Section) and (found := _TREATED.fullmatch(part.heading)):
            treated = found[1]
        told = [each for block in part.blocks for each in _limits_in(block)]
        for row, limits in told:
            seen[operation, row] += 1
            again = f" ({seen[operation, row]})" if seen[operation, row] > 1 else ""
            of = limits.of or ("" if operation else treated)
            own = replace(limits, of=of, waits=operation in waits and bool(limits.added))
            yield (kind, operation, row + again), own


def measured_with(parts: Iterable[Part]) -> Iterator[tuple[tuple[str, str], str]]:
    """Operation and name of every reading that is inspected -> its kind of instrument."""
    for part in parts:
        for block in part.blocks if not isinstance(part, Title) else ():
            if isinstance(block, Container) and block.name == "features":
                for told in _told(block):
                    if told["instrument"] != "-":
                        yield (told["operation"], told["what"]), told["instrument"]


def with_operations(parts: Iterable[Part]) -> Iterator[tuple[str, Operation | Section]]:
    """The parts of a sheet but for its titles, each with the operation that it is of by itself or
    by its title, "" for none."""
    title = ""
    for part in parts:
        if isinstance(part, Title):
            title = part.text
        elif isinstance(part, Operation):
            yield part.number, part
        else:
            found = re.fullmatch(rf"Operation ({_NUMBERED})", part.heading or title)
            yield found[1] if found else "", part


def _limits_in(block: Block) -> Iterator[tuple[str, Limits]]:
    if not isinstance(block, Container):
        return
    if block.name == "readings":
        for row in block.rows[1:]:
            name, lower, upper, unit = map(plain, row[:4])
            by = (_by(row[1]), _by(row[2]))
            yield name, replace(_from_to(lower, upper, unit), lower_by=by[0], upper_by=by[1])
    elif block.name == "features":
        for row, told in zip(block.rows[1:], _told(block), strict=True):
            named = f"feature {told['no.']}"
            yield named, _of_feature(named, row, told)
    elif block.name == "fill" and {"lower", "upper"} <= {plain(cell) for cell in block.rows[0]}:
        for told in _told(block):
            first, second, *_ = told.values()
            named = f"{first} {second}" if is_whole(first) else first
            if told["lower"].startswith("box"):
                continue  # limits that are written by hand
            ends = [told[end].partition(" ") for end in ("lower", "upper")]
            own = next((unit for _, _, unit in ends if unit), "count")
            yield named, _from_to(ends[0][0], ends[1][0], told.get("unit", own))
    elif block.name == "fill" and plain(block.rows[0][0]) == SINCE:
        yield from ((plain(row[0]), Limits(unit=SINCE)) for row in block.rows[1:])
    elif block.name == "fill" and _ASKED.issubset(map(plain, block.rows[0])):
        yield from map(_asked, block.rows[1:])
    elif block.name == "fill":
        yield from _counts_in(block)
    elif block.name in ("strip", "grid", "lookup"):
        yield "used", _of_table(block)
    elif block.name == "clock":
        for row in block.rows:
            yield plain(row[0]), _of_clock(row)


def _from_to(lower: str, upper: str, unit: str) -> Limits:
    return Limits(lower=lower, upper=upper, unit=unit)


def _of_feature(named: str, row: Row, told: Mapping[str, str]) -> Limits:
    """The limits of an inspected feature, by the names of its columns."""
    accept = (told.get("accept from", ""), told.get("accept to", ""))
    return Limits(
        lower=told["lower"], upper=told["upper"], unit=told["unit"],
        accept_from=accept[0], accept_to=accept[1], lower_by=_by(row[3]), upper_by=_by(row[4]),
        accept_by=named if "ticked" in accept else "", of=told["operation"], reading=told["what"],
    )  # fmt: skip


def _counts_in(block: Container) -> Iterator[tuple[str, Limits]]:
    """Rows that print a count which a box of theirs must come to, or may not pass."""
    names = [plain(cell) for cell in block.rows[0]]
    whole = next((one for one, box in _COUNTED if {one, box} <= {*names}), "")
    for told in _told(block):
        first, second, *_ = told.values()
        if whole:
            count = told[whole].rpartition(": ")[2].partition(" ")[0]
            named = f"{first} {second}" if is_whole(first) else first
            yield named, _from_to(count, count, "count")
        elif "treatments with this one" in told and is_whole(told["at most"]):
            yield first, _from_to("1", told["at most"], "count")


def _asked(row: Row) -> tuple[str, Limits]:
    """What a treatment asks, as a limit of what is found; none where the specification says it."""
    name, asked, box = map(plain, row)
    scale = box.removeprefix("box ")
    try:
        amount = printed_amount(asked)
    except Refusal:
        return name, Limits(unit=scale)
    low, high = amount.low, amount.high
    if low is None and high is None and name == LOAD:
        return name, Limits(unit=scale, set_to=_in_unit(amount.value, scale))
    if low is None or high is None:
        end = _ENDS_ASKED.get(name, "")
        low = amount.value if end == "lower" else None
        high = amount.value if end == "upper" else None
    lower, upper = ("" if each is None else _in_unit(each, scale) for each in (low, high))
    return name, _from_to(lower, upper, scale)


def printed_amount(text: str) -> Amount:
    """The amount of a printed number, without the same in a second unit and the flags that may
    stand behind it: 2 h (120.00 min) TYPED."""
    return read_amount(_BEHIND.sub("", text))


def _in_unit(value: float, scale: str) -> str:
    return number_text(unit(scale).from_base(value))


def _of_table(block: Container) -> Limits:
    """What a table of answers is ticked for: what is read, and which of two heads is taken."""
    words = " ".join(map(plain, block.paragraphs))
    ticked, corner = _TICKED_IN.search(words), plain(block.rows[0][0])
    if ticked:
        return Limits(of=ticked[1])
    takes = [take or "stop" for take in _BETWEEN.findall(words)]
    both = takes * 2 if block.name == "grid" and len(takes) == 1 else takes
    return Limits(corner=corner, take=" / ".join(both))


def _of_clock(row: Row) -> Limits:
    """What a clock is held against: the time that is added, or the sums before and after it."""
    said = plain(row[1])
    if said.startswith("+"):
        words = said.removeprefix("+").strip()
        by = next((run.link.rpartition("#")[2] for run in row[1] if run.link), "")
        return Limits(unit=IN_TURN, added=words, added_by=by if words == "as ticked" else "")
    held = _HELD.fullmatch(said)
    before, after = held.groups("") if held else ("", "")
    return Limits(unit=IN_TURN, not_before=before, not_after=after)


def _by(cell: Sequence[Run]) -> str:
    """The mark of the number by which a limit is ticked; "" for a limit that stands there."""
    if plain(cell) != "ticked":
        return ""
    return next((run.link.rpartition("#")[2] for run in cell if run.link), "?")


def _told(block: Container) -> Iterator[dict[str, str]]:
    """The rows of a table by the names of its columns."""
    names = [plain(cell) for cell in block.rows[0]]
    return (dict(zip(names, map(plain, row), strict=True)) for row in block.rows[1:])


def uses_of(operations: Sequence[Operation]) -> Iterator[tuple[str, str]]:
    """What every operation says that it uses, its things with commas between them."""
    for operation in operations:
        for block in operation.blocks:
            if isinstance(block, Container) and block.name == "state":
                rows = ((plain(row[0]), plain(row[1])) for row in block.rows)
                yield from ((operation.number, said) for key, said in rows if key == "uses")


def stops_of(operations: Sequence[Operation], numbers: Sequence[str]) -> Iterator[Stop]:
    for operation in operations:
        if operation.kind in ("hold", "witness", "independent"):
            told = _signing(operation)
            closes = _closed_by(told.get("closes operations", ""), numbers)
            yield Stop(operation.number, operation.kind, closes, told.get("notice", ""))


def _signing(operation: Operation) -> Mapping[str, str]:
    """What stands beside the place where a hold or a witness signs."""
    for block in operation.blocks:
        if isinstance(block, Container) and (block.name, block.words) in _STOPS:
            return {plain(row[0]): plain(row[1]) for row in block.rows}
    return {}


def _closed_by(closes: str, numbers: Sequence[str]) -> tuple[str, ...]:
    """The operations that a hold says it closes: one, from one to another, or several by name."""
    ends = [int(number) for number in re.findall(r"([0-9]+)(?:R[0-9]+[A-Z]?)?", closes)]
    if " to " in closes:
        return tuple(n for n in numbers if ends[0] <= ordinal(n) <= ends[-1])
    return tuple(n for n in numbers if ordinal(n) in ends)


def least_full_scale(parts: Iterable[Part]) -> str:
    """The full scale that a gauge has at least, as the traveller prints it: the smallest where
    several were worked out, since nobody says which gauge is which; "" for none."""
    told = [
        plain(row[2]).partition(" ")[0]
        for part in parts
        for block in (part.blocks if not isinstance(part, Title) else ())
        if isinstance(block, Container) and block.name == "results"
        for row in block.rows
        if plain(row[1]).startswith(LEAST_FULL_SCALE)
    ]
    return min(told, key=float, default="")


def ordinal(operation: str) -> int:
    """Where an operation stands among the others, 0 for none; 110R1 stands where 110 does."""
    return int(operation.partition("R")[0] or 0)
