"""Times that a process adds to a clock or sets as a window, in; rows of clock boxes, and windows
that are shorter than the work inside them, out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields

from generator.composing.escape import Markdown, escape
from generator.composing.writer import Writer, linked
from generator.findings import Fault, near_word
from generator.process import ClockLine, Operation
from generator.quantities.amount import Amount
from generator.quantities.rounding import plain
from generator.quantities.units import named, unit
from generator.read import Steps

_MINUTE = "min"
_UNCERTAIN = "from memory"
# A sum this long after a time in the day may lie beyond midnight: its clocks have a day.
_NEEDS_A_DAY = 6 * 3600.0


def amount_of(writer: Writer, here: Steps, asked: Amount | str | None, like: str) -> Amount | None:
    """The amount that is asked, of the kind of a unit; a fault where it is another or nothing."""
    amount = asked
    if isinstance(asked, str):
        number = writer.workings.numbers.get(asked)
        amount = number.amount if number is not None else None
        if amount is None:
            writer.faults.append(writer.unnamed(here, asked))
    assert not isinstance(amount, str)
    wanted = unit(like).dimension
    if amount is not None and amount.unit.dimension != wanted:
        wrong = f"{amount.typed or amount.numbers} is {named(amount.unit.dimension)}"
        writer.faults.append(Fault(here, "unit", wrong, f"{named(wanted)}, such as in {like}"))
    return amount


def added(writer: Writer, here: Steps, asked: Amount | str | None) -> str | Markdown:
    """What stands between the two clocks of a row: "+ 20 min", as it is printed elsewhere, with the
    mark of its number where it has one."""
    amount = amount_of(writer, here, asked, _MINUTE)
    if amount is None:
        return ""
    if isinstance(asked, Amount):
        return f"+ {asked.typed or asked.numbers}"
    assert isinstance(asked, str)
    writer.ranges(asked)
    number = writer.workings.numbers[asked]
    if asked in writer.answered:
        return Markdown(f"\\+ [as ticked](#{number.mark})")
    return Markdown(f"\\+ {linked(number)}")


def clock_rows(writer: Writer, here: Steps, lines: Sequence[ClockLine]) -> list[tuple[str, str]]:
    """Every clock of an operation: what happens then, and the time that is added, or the sums that
    it may not lie before or after."""
    rows = []
    for j, line in enumerate(lines):
        place: Steps = (*here, "clock", j)
        told = added(writer, (*place, "add"), line.add)
        rows.append((line.label, told or bounds(*_bounds(writer, place, line))))
    return rows


def bounds(not_before: str, not_after: str) -> str:
    """What a clock says of the sums that it may not lie before and after, each by its label."""
    ends = (("not before", not_before), ("not after", not_after))
    return "; ".join(f"{end}: {label}" for end, label in ends if label)


def with_days(writer: Writer, i: int) -> bool:
    """Whether the clocks of an operation have a day: a long time is added, or one of them is held
    against a sum that has a day."""
    lines = writer.process.operations[i].clock
    meant = [
        _meant(writer, i, j, label)
        for j, line in enumerate(lines)
        for label in (line.not_before, line.not_after)
    ]
    return any(_is_long(writer, each.add) for each in lines) or any(
        with_days(writer, found) for found in meant if found is not None and found < i
    )


def _is_long(writer: Writer, asked: Amount | str | None) -> bool:
    number = writer.workings.numbers.get(asked) if isinstance(asked, str) else None
    amount = asked if isinstance(asked, Amount) else number.amount if number else None
    if amount is None:
        return False
    return (amount.value if amount.high is None else amount.high) >= _NEEDS_A_DAY


def _bounds(writer: Writer, place: Steps, line: ClockLine) -> Iterator[str]:
    """The labels of the two sums, each with its operation where it is another; "" for none."""
    i, j = int(place[1]), int(place[3])
    for key, label in (("not before", line.not_before), ("not after", line.not_after)):
        found = _meant(writer, i, j, label)
        if label and found is None:
            writer.faults.append(_no_sum(writer, (*place, key), i, label))
        number = writer.process.operations[i if found is None else found].number
        yield label if found in (None, i) else f"{label}, operation {number}"


def _meant(writer: Writer, i: int, j: int, label: str) -> int | None:
    """The place of the operation whose sum a label means: the nearest above that is called so."""
    above = writer.process.operations[:i]
    if label in _sums(writer.process.operations[i].clock[:j]):
        return i
    return next((n for n in range(i - 1, -1, -1) if label in _sums(above[n].clock)), None)


def _sums(lines: Sequence[ClockLine]) -> list[str]:
    return [line.label for line in lines if line.add is not None]


def _no_sum(writer: Writer, here: Steps, i: int, label: str) -> Fault:
    known = [each for o in writer.process.operations[: i + 1] for each in _sums(o.clock)]
    wrong = f"no clock above that adds a time is called '{label}'"
    right = near_word(label, known) or ", ".join(known) or "{label: ..., add: 20 min} above it"
    return Fault(here, "clock", wrong, right)


def inside(writer: Writer, operation: Operation) -> Iterator[tuple[str, Markdown]]:
    """What the traveller says of the window in which an operation must be done."""
    window = _longest(writer, operation.within)
    if window is None:
        return
    mates = _mates(writer, operation.within)
    takes = sum(filter(None, (_taken(writer, each) for _, each in mates)))
    numbers = ", ".join(str(each.number) for _, each in mates)
    own = _taken(writer, operation)
    named = _marked(writer, operation.takes, own), _marked(writer, operation.within, window)
    words = f"{named[0]} of {named[1]}" if own else named[1]
    words += f"; operations {numbers} together take {_minutes(takes)}" if len(mates) > 1 else ""
    yield "window", Markdown(words)


def _marked(writer: Writer, asked: Amount | str | None, seconds: float | None) -> str:
    """A time in minutes with the mark of its number, if it has one."""
    if seconds is None:
        return ""
    number = writer.workings.numbers.get(asked) if isinstance(asked, str) else None
    told = escape(_minutes(seconds))
    return f"[{told}](#{number.mark})" if number is not None else told


def doubts(writer: Writer, operation: Operation) -> Iterator[tuple[str, Markdown]]:
    """What the times of an operation say of themselves that come from a table row by memory: who
    works by the clock has no calculation sheet in hand."""
    asked = [line.add for line in operation.clock] + [operation.within, operation.takes]
    heat = operation.heat_treatment
    asked += [getattr(heat, each.name) for each in fields(heat)] if heat is not None else []
    for name in dict.fromkeys(each for each in asked if isinstance(each, str)):
        number = writer.workings.numbers.get(name)
        working = writer.workings.workings.get(name.partition(".")[0])
        row = working.keys.get("row from", "") if working is not None else ""
        if number is not None and _UNCERTAIN in row:
            yield "be sure", Markdown(f"{linked(number)} is from {escape(row)}")


def windows(writer: Writer) -> None:
    """Faults of windows: shorter than the operations inside them, or with a gap between these."""
    names = dict.fromkeys(each.within for each in writer.process.operations if each.within)
    for name in names:
        mates = _mates(writer, name)
        for i, each in mates:
            here: Steps = ("operations", i)
            amount_of(writer, (*here, "within"), name, _MINUTE)
            if each.takes is None:
                wrong = f"operation {each.number} does not say how much of the window it takes"
                writer.faults.append(Fault((*here, "within"), "window", wrong, "takes: 5 min"))
            amount_of(writer, (*here, "takes"), each.takes, _MINUTE)
        if not writer.faults:
            _judge(writer, name, mates)


def _judge(writer: Writer, name: str, mates: Sequence[tuple[int, Operation]]) -> None:
    window = _longest(writer, name)
    assert window is not None
    first, last = mates[0][0], mates[-1][0]
    for i, each in enumerate(writer.process.operations[first:last], start=first):
        if each.within != name and not each.deleted_at:
            wrong = (
                f"operation {each.number} stands inside the window '{name}' and takes none of it"
            )
            right = f"within: {name}, takes: its time; or another place"
            writer.faults.append(Fault(("operations", i, "number"), "window", wrong, right))
    takes = [_taken(writer, each) or 0.0 for _, each in mates]
    if sum(takes) > window * (1 + 1e-12):
        which = ", ".join(str(each.number) for _, each in mates)
        needed = f"operation {which} needs" if len(mates) == 1 else f"operations {which} need"
        wrong = f"the window of {_minutes(window)} is too short: {needed} {_minutes(sum(takes))}"
        right = f"at most {_minutes(window)}: quicker work, more hands, or a longer window by its "
        writer.faults.append(
            Fault(("operations", last, "takes"), "window", wrong, right + "specification")
        )


def _mates(writer: Writer, name: str) -> list[tuple[int, Operation]]:
    """The operations of one window, with their places."""
    return [
        (i, each)
        for i, each in enumerate(writer.process.operations)
        if each.within == name and not each.deleted_at
    ]


def _longest(writer: Writer, name: str) -> float | None:
    """The window at its shortest, in seconds."""
    number = writer.workings.numbers.get(name)
    if number is None or number.amount is None:
        return None
    return number.amount.value if number.amount.low is None else number.amount.low


def _taken(writer: Writer, operation: Operation) -> float | None:
    """What an operation takes at its longest, in seconds."""
    takes = operation.takes
    if isinstance(takes, str):
        number = writer.workings.numbers.get(takes)
        takes = number.amount if number is not None else None
    if takes is None:
        return None
    return takes.value if takes.high is None else takes.high


def _minutes(seconds: float) -> str:
    return f"{plain(seconds / 60, 6)} min"
