"""Batches and serials of a form in; what is another thing than its sheet is of, out."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from generator.composing.kinds import FIT_RECORD, PART_LABELS
from generator.results.case import Case, Verdict, said
from generator.results.form import Field
from generator.results.judge_fit import IS_HAND, SERIAL
from generator.results.serials import is_among
from generator.signs import things_in

_ITEM = re.compile(r"[0-9]+ (.+?)(?: \(single use\))?")
_LABEL, _CHARGE = "part serial", "serials in the charge"
_AS_IT_IS = "; used as it is, on a slip"
WORDS = ("batch", _CHARGE)  # boxes whose words a concession may allow


def batches(case: Case) -> Iterator[Verdict]:
    """A batch that the list of materials has as something else; one that it does not have, though
    it has batches of that item; a sign that names none. Where the list does not know the item it
    may be made of the batch: that is told, and stops nothing."""
    known = case.books.batches
    for each in case.form.fields:
        item, text = _ITEM.fullmatch(each.row), case.written(each)
        if item is None or each.boxes[0] != "batch" or not text:
            continue
        of_it = [n for n, all_of in known.items() if _is_of(item[1], all_of)]
        for number in [text] if text in known else things_in(text):
            if number in known and number not in of_it:
                is_it = " and ".join(sorted(known[number]))
                says = f"{number} is {is_it} on the list of materials"
                if of_it:
                    right = f"read the label again, or mend the list{_AS_IT_IS}"
                    yield _unless_allowed(case, each, "batch", says, right)
                else:
                    says += f", which has no {item[1]}: is it made of that?"
                    yield said(each, "batch", says, blocks=False)
            elif not any(map(str.isalnum, number)):
                right = "read the label again, or N/A with its reason"
                yield said(each, "batch", f"'{number}' names no batch: {right}")
            elif of_it and number not in known:
                says = f"the list of materials has no {number}, and of this {', '.join(of_it)}"
                right = f"read the label again, or enter it there{_AS_IT_IS}"
                yield _unless_allowed(case, each, "batch", says, right)


def _unless_allowed(case: Case, of: Field, code: str, wrong: str, right: str) -> Verdict:
    """What is put right where it was written wrongly; where it was so, a concession allows it."""
    if case.allowed(of):
        return said(of, code, f"{wrong}: its slip is done with", blocks=False)
    return said(of, code, f"{wrong}: {right}")


def _is_of(item: str, listed: Collection[str]) -> bool:
    """Whether a batch is of an item: the same words, in whatever order the list has them."""
    return _words(item) in map(_words, listed)


def _words(text: str) -> Collection[str]:
    return sorted(re.findall(r"[^\s,]+", text.casefold()))


# --- serials ------------------------------------------------------------------------------------


def serials(case: Case) -> Iterator[Verdict]:
    """A charge that does not have every part of the traveller in it; a label, or a part that is
    fitted, with a serial that is none of them."""
    parts, number = case.books.parts, case.books.part
    hands = {f.boxes[0].removeprefix(IS_HAND) for f in case.form.fields
           if f.sheet == FIT_RECORD and f.boxes[0].startswith(IS_HAND)}  # fmt: skip
    for each in case.form.fields if parts else ():
        text = case.written(each)
        if text and each.boxes[0] == _CHARGE:
            if lacking := [part for part in parts if not is_among(text, part, number)]:
                says = f"{text}, and {', '.join(lacking)} of this traveller is not among them"
                yield _unless_allowed(
                    case, each, "serial", says, "read the papers again, or a slip"
                )
        elif text and _is_of_the_part(each, hands) and not case.books.part_in(text):
            says = f"{text}, and this traveller is of {', '.join(parts)}: read the part again"
            yield said(each, "serial", says)


def _is_of_the_part(of: Field, own: Collection[str]) -> bool:
    """Whether a box is for the serial of a part of the traveller, and of none of the other hand."""
    if of.boxes[0] == SERIAL and of.sheet == FIT_RECORD:
        return of.row.isdecimal() or of.row in own
    return of.sheet == PART_LABELS and of.boxes[0] == _LABEL
