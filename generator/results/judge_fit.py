"""The fit record of a form, in; a line of it that is not filled in, a place or a day that is
another than the process and the record have, out.

It is filled in once the traveller is closed, so that nothing here stops a close.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from generator.composing.kinds import FIT_RECORD
from generator.results.case import Case, Verdict, said
from generator.results.form import Field, Form
from generator.results.values import day_of

SERIAL, POSITION, DATE = "serial read off the part", "position on the airframe", "date"
_LINE = (SERIAL, POSITION, DATE, "fitted by")
_SIGNED = ("entered in the build book", "position and hand seen")
IS_HAND = "is "  # of the boxes for the hand, such as: is PORT


def alone(form: Form) -> Form:
    """The fit record of a form, without its other sheets."""
    return Form(tuple(f for f in form.fields if f.sheet == FIT_RECORD), (), ())


def fits(case: Case) -> Iterator[Verdict]:
    """Every line in which somebody wrote that a part was fitted."""
    lines: dict[str, dict[str, Field]] = {}
    here = [f for f in case.form.fields if f.sheet == FIT_RECORD]
    for each in here:
        if each.row.isdecimal():
            lines.setdefault(each.row, {})[each.boxes[0]] = each
    begun = [boxes for boxes in lines.values() if _is_begun(case, boxes)]
    for boxes in begun:
        yield from _empty(case, [f for name, f in boxes.items() if _is_asked(name)])
        yield from _elsewhere(case, boxes)
        yield from _too_early(case, boxes)
    yield from _lines(case, begun)
    if begun:
        yield from _empty(case, [f for f in here if f.row in _SIGNED])


def _is_asked(name: str) -> bool:
    return name in _LINE or name.startswith(IS_HAND)


def _is_begun(case: Case, boxes: dict[str, Field]) -> bool:
    return any(case.written(f) for name, f in boxes.items() if _is_asked(name))


def _empty(case: Case, fields: list[Field]) -> Iterator[Verdict]:
    for each in fields:
        if case.entry(each).state == "blank":
            yield said(each, "missing", "the box is empty", blocks=False)


def _elsewhere(case: Case, boxes: dict[str, Field]) -> Iterator[Verdict]:
    """Another place than the one at which the record has the part, or than that of the process,
    where the record does not have it there: who recorded that was told."""
    of, books = boxes.get(POSITION), case.books
    text = case.written(of) if of is not None else ""
    if of is None or not text:
        return
    part = _part_of(case, boxes) or (books.parts[0] if len(books.parts) == 1 else "")
    sits = books.fitted.get(part, "")
    if books.place and not any(same_place(text, place) for place in (books.place, sits)):
        yield said(of, "fit", f"{text}, and the process says {books.place}", blocks=False)
    if sits and not same_place(text, sits):
        yield said(of, "fit", f"{text}, and part {part} is recorded at {sits}", blocks=False)


def _part_of(case: Case, boxes: Mapping[str, Field]) -> str:
    """The part of the traveller that a line is of; "" where its serial is none of them."""
    return case.books.part_in(case.written(boxes[SERIAL])) if SERIAL in boxes else ""


def _lines(case: Case, begun: Sequence[Mapping[str, Field]]) -> Iterator[Verdict]:
    """Two lines of one part; a part that is fitted and has no line, where every line is of a
    part."""
    first: dict[str, Field] = {}
    parts = [_part_of(case, boxes) for boxes in begun]
    for part, boxes in zip(parts, begun, strict=True):
        if part and part in first:
            says = f"part {part} stands in line {first[part].row} too: read both again"
            yield said(boxes[SERIAL], "fit", says, blocks=False)
        elif part:
            first[part] = boxes[SERIAL]
    for part, sits in case.books.fitted.items() if parts and all(parts) else ():
        if part not in first:
            says = f"part {part} is recorded at {sits}, and no line has it"
            yield said(first[parts[0]], "fit", says, blocks=False)


def same_place(one: str, other: str) -> bool:
    """Whether two names of a place are one, however they are written."""
    return one.casefold().split() == other.casefold().split()


def _too_early(case: Case, boxes: dict[str, Field]) -> Iterator[Verdict]:
    """A part that was fitted before its traveller was closed: nobody had accepted it."""
    of, closed = boxes.get(DATE), case.books.closed
    day = day_of(case.written(of)) if of is not None else None
    if of is not None and day is not None and closed is not None and day < closed:
        says = f"{day.isoformat()} is before the close of {closed.isoformat()}"
        yield said(of, "day", says, blocks=False)
