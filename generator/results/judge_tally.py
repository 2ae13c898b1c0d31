"""The closing sheet of a form, in; counts of slips and supplementary sheets that are not those of
the record, out."""

from __future__ import annotations

from collections.abc import Iterator

from generator.results.case import Case, Verdict, said
from generator.results.form import Field
from generator.results.values import number_in

_SHEET, _RAISED, _OPEN = "closing-sheet", "raised", "open"


def raised(case: Case) -> Iterator[Verdict]:
    """How many were raised, as the record names them, and none of them left open."""
    for each in case.form.fields:
        known = case.books.raised.get(each.row) if _is_count(each) else None
        number = number_in(case.written(each))
        if known is None or number is None:
            continue
        if each.name == _RAISED and number != len(known):
            named = f": {', '.join(known)}" if known else ""
            says = f"{case.written(each)}, and the record has {len(known)}{named}"
            yield said(each, "count", says)
        elif each.name == _OPEN and number != 0:
            says = f"{case.written(each)} open, and a part with an open slip is not closed"
            yield said(each, "count", says)


def _is_count(of: Field) -> bool:
    return of.sheet == _SHEET and of.name in (_RAISED, _OPEN)
