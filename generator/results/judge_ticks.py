"""Columns, rows and verdicts that are ticked, with the readings that they are ticked for, in; what
does not agree, out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.results.case import Case, Verdict
from generator.results.form import Field
from generator.results.judge_values import limit, on_a_slip, outside
from generator.results.values import number_in

_USED = "used"
_WORST = ("in", "between", "out")


def ticks(case: Case) -> Iterator[Verdict]:
    """A tick that is not the one that the reading asks for."""
    for each in case.form.fields:
        if each.kind != "choice" or not case.written(each):
            continue
        if each.row.startswith(_USED):
            yield from _told_again(case, each)
            yield from _of_the_reading(case, each)
        elif each.choices[:1] == ("in",):
            yield from _of_the_value(case, each)


def _ticked(case: Case, of: Field, says: str, decided: bool = False) -> Verdict:
    wrong = f"{case.written(of)} is ticked, and {says}"
    return on_a_slip(case, of, "ticked", wrong, decided=decided)


def _told_again(case: Case, of: Field) -> Iterator[Verdict]:
    """A column that is ticked again on another sheet is the one of the operation."""
    first = [f for f in case.form.fields if of.of and f.kind == "choice"
             and (f.operation, f.row) == (of.of, _USED)]  # fmt: skip
    for each in first if len(first) == 1 else ():
        text = case.written(each)
        if text and text != case.written(of):
            yield _ticked(case, of, f"operation {of.of} has {text}")


def _of_the_reading(case: Case, of: Field) -> Iterator[Verdict]:
    """The column or the row that belongs to what was read: where a reading of the operation is
    called as the table is."""
    corners, takes, chosen = (each.split(mark) for each, mark in (
        (of.corner, " / "), (of.take, " / "), (case.written(of), " × ")))  # fmt: skip
    if not of.corner or not len(corners) == len(takes) == len(chosen):
        return
    for n, (corner, take) in enumerate(zip(corners, takes, strict=True)):
        heads = list(dict.fromkeys(each.split(" × ")[n] for each in of.choices))
        read = [
            (f, value) for f in case.form.fields
            if f.key[:2] == of.key[:2] and f.kind == "number"
            and spoken(corner) in (spoken(f.row), spoken(f"{f.row} {f.unit}"))
            and (value := number_in(case.written(f))) is not None
        ]  # fmt: skip
        if not read or any(number_in(head) is None for head in heads):
            continue
        asked = asked_of(heads, [value for _, value in read], take)
        if chosen[n] not in asked:
            texts = " and ".join(dict.fromkeys(case.written(f) for f, _ in read))
            right = f"asks for {' or '.join(asked)}" if asked else "is for the lead to decide on"
            # Where the sheet leaves it to the lead, who decides on the reading decides on it.
            decided = not asked and any(case.allowed(f) for f, _ in read)
            yield _ticked(case, of, f"{read[0][0].row} {texts} {right}", decided)


def spoken(name: str) -> str:
    """A name as people say it: a table over hangar_temperature prints hangar temperature, and a
    reading prints its name as it was typed."""
    return name.replace("_", " ")


def asked_of(heads: Sequence[str], values: Sequence[float], take: str) -> Sequence[str]:
    """The heads of the table that may be ticked for some readings of one size; none where the lead
    decides."""
    if take in ("larger", "smaller"):
        values = [max(values) if take == "larger" else min(values)]
    found = [_places([number_in(head) or 0.0 for head in heads], value, take) for value in values]
    if not all(found):
        return ()
    every = [place for places in found for place in places]
    return heads[min(every) : max(every) + 1]


def _places(heads: Sequence[float], value: float, take: str) -> Sequence[int]:
    """Where in a table a value belongs. take: what the sheet says of a value between two heads;
    "" where it says nothing, and either of them goes."""
    near = 1e-9 * max(1.0, *map(abs, heads))
    for n, head in enumerate(heads):
        if abs(head - value) <= near:
            return (n,)
    below = [n for n, head in enumerate(heads) if head < value]
    above = [n for n, head in enumerate(heads) if head > value]
    if not below or not above or take == "stop":
        return ()
    low = max(below, key=lambda n: heads[n])
    high = min(above, key=lambda n: heads[n])
    further = (value - heads[low]) - (heads[high] - value)
    if take == "nearer":
        return () if abs(further) <= near else (high,) if further > 0 else (low,)
    return {"larger": (high,), "smaller": (low,)}.get(take, (low, high))


def _of_the_value(case: Case, of: Field) -> Iterator[Verdict]:
    """In, between or out, as the values of the row are; said where all of them are known."""
    values = [f for f in case.form.fields if f.key[:3] == of.key[:3] and f.kind == "number"]
    found = [_verdict(case, each) for each in values]
    if not values or not all(found):
        return
    right = max(found, key=_WORST.index)
    if right in of.choices and right != case.written(of) and case.written(of) in of.choices:
        told = " and ".join(dict.fromkeys(case.written(f) for f in values))
        yield _ticked(case, of, f"{told} {values[0].unit} is {right}".replace("  ", " "))


def _verdict(case: Case, of: Field) -> str:
    """What a value is, by its limits; "" where it or a limit is not known."""
    number = number_in(case.written(of))
    ends = [limit(case, of, end) for end in ("lower", "upper", "accept from", "accept to")]
    if number is None or None in ends:
        return ""
    lower, upper, low, high = (each or "" for each in ends)
    if outside(number, lower, upper):
        return "out"
    return "between" if outside(number, low, high) else "in"
