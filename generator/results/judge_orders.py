"""What went out on an order and what came back, in; counts that differ, and days out of their
order, out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from generator.composing.recorded import DOOR_OPENS, QUENCH, SOAK_ENDS, SOAK_STARTS
from generator.results.case import Case, Verdict, said
from generator.results.form import AGAIN, Field
from generator.results.form_figures import RETURNED, RETURNED_ON, SENT, SENT_ON
from generator.results.form_says import ordinal
from generator.results.judge_values import beyond, on_a_slip
from generator.results.values import day_of, number_in

_ORDER = re.compile(r"operation (\S+)")
_SLIP = "slip no."
_IN_THE_SHOP = (SOAK_STARTS, SOAK_ENDS, DOOR_OPENS, QUENCH)


@dataclass(frozen=True)
class _Order:
    """An order: the box of its day, and of each thing that went out its boxes by their names."""

    sent_on: Field
    things: dict[str, dict[str, Field]] = field(default_factory=dict)

    @property
    def operation(self) -> str:
        found = _ORDER.fullmatch(AGAIN.sub("", self.sent_on.row))
        return found[1] if found else ""


def returned(case: Case) -> Iterator[Verdict]:
    """As many come back as were sent, or a slip is named beside them."""
    for order in _orders(case.form.fields):
        for boxes in order.things.values():
            counts = [boxes.get(SENT), boxes.get(RETURNED)]
            told = [case.written(f) if f else "" for f in counts]
            numbers = [number_in(text) for text in told]
            for box, text, number in zip(counts, told, numbers, strict=True):
                if box is not None and box.kind == "words" and text and number is None:
                    yield said(box, "number", f"'{text}' is no number")
            if (box := counts[1]) is None or None in numbers or numbers[0] == numbers[1]:
                continue
            yield _on_its_slip(case, order, boxes, box, f"{told[1]} returned of {told[0]} sent")


def days(case: Case) -> Iterator[Verdict]:
    """What was sent came back on the same day or later, and between the issue and the entry."""
    for order in _orders(case.form.fields):
        sent = day_of(case.written(order.sent_on))
        for boxes in order.things.values():
            box = boxes.get(RETURNED_ON)
            back = day_of(case.written(box)) if box is not None else None
            if box is None or back is None:
                continue
            wrong = beyond(case, box, back)
            if not wrong and sent is not None and back < sent:
                wrong = f"{back.isoformat()} is before it was sent, {sent.isoformat()}"
            if wrong:
                yield _on_its_slip(case, order, boxes, box, wrong)


def treated(case: Case) -> Iterator[Verdict]:
    """A treatment that its record has before the part was sent or after it came back: then the
    record is of another charge. It is told once, at the first of its times."""
    clocks = [f for f in case.form.fields if f.kind == "clock" and f.row in _IN_THE_SHOP]
    for order in _orders(case.form.fields):
        sent = day_of(case.written(order.sent_on))
        boxes = (things.get(RETURNED_ON) for things in order.things.values())
        back = [day for f in boxes if f is not None and (day := day_of(case.written(f)))]
        place = ordinal(order.operation)
        for each in (f for f in clocks if place and ordinal(f.operation or f.of) == place):
            now = case.at(each)
            day = now.day if now is not None else None
            if day is None:
                continue
            wrong = _not_there(day, sent, max(back, default=None))
            if wrong:
                yield on_a_slip(case, each, "out", f"{now} {wrong}")
                break


def _not_there(day: date, sent: date | None, back: date | None) -> str:
    if sent is not None and day < sent:
        return f"is before it was sent, {sent}"
    return f"is after it came back, {back}" if back is not None and day > back else ""


def _on_its_slip(
    case: Case, order: _Order, boxes: Mapping[str, Field], of: Field, wrong: str
) -> Verdict:
    """What a slip settles: its number stands in the row, or the operation was done again."""
    slip = boxes.get(_SLIP)
    named = case.written(slip) if slip is not None else ""
    if named or case.allowed(of) or order.operation in case.books.done_again:
        return said(of, "count", f"{wrong}: {named or 'settled'}", blocks=False)
    return said(of, "count", f"{wrong}: a slip is needed, its number in the row")


def _orders(fields: Sequence[Field]) -> Iterator[_Order]:
    """The orders of the sheets: what stands below an order belongs to it, until the next."""
    order: _Order | None = None
    for each in fields:
        if each.boxes[0] == SENT_ON:
            if order is not None:
                yield order
            order = _Order(each)
        elif order is not None and each.sheet == order.sent_on.sheet:
            boxes = order.things.setdefault(AGAIN.sub("", each.row), {})
            boxes.setdefault(each.boxes[0], each)
    if order is not None:
        yield order
