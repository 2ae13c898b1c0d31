"""The fields of one row of a form, in; what a person who types the row has to know of it, out: how
many values, between which limits, one of which words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from generator.results.form import Field, Form

_SHORTLY = 2  # fields of a row that are named one by one


def comments(row: Sequence[Field], form: Form) -> Iterator[str]:
    """A line for each limit and each choice of the row, with the names of the boxes that have it
    where the row has others."""
    for words, group in groupby(row, key=lambda each: _says(each, form)):
        fields = list(group)
        if words and len(fields) == len(row):
            yield f"{len(row)} times, {words}" if len(row) > 1 else words
        elif words:
            yield f"{_named(fields)}: {words}"


def _named(fields: Sequence[Field]) -> str:
    names = [each.name for each in fields]
    return " and ".join(names) if len(names) <= _SHORTLY else f"{names[0]} to {names[-1]}"


def _says(field: Field, form: Form) -> str:
    if field.kind == "choice":
        return "one of: " + ", ".join(field.choices)
    if field.kind == "date" and field.lower:
        return f"not before the {field.lower}"
    return _number(field, form) if field.kind == "number" else ""


def _number(field: Field, form: Form) -> str:
    unit = "" if field.unit == "count" else f" {field.unit}".rstrip()
    fixed = (field.lower, field.upper)
    if field.set_to or field.set_by:  # the row of a strip has its unit
        by = f"as ticked: {field.set_by.partition(' ')[2]}"
        told = f"{field.set_to}{unit} as printed" if field.set_to else by
    elif all(fixed):
        told = f"exactly {fixed[0]}{unit}" if len({*fixed}) == 1 else f"{' to '.join(fixed)}{unit}"
    elif field.lower_by and field.upper_by:
        where = {_ticked(field, field.lower_by, form), _ticked(field, field.upper_by, form)}
        at = where.pop() if len(where) == 1 else ""
        told = f"limits as ticked{at},{unit or ' a count'}"
    else:
        told = ", ".join(_ends(field, form, unit)) or f"record,{unit or ' a count'}"
    if field.accept_from and field.accept_to:
        told += f", accepted {field.accept_from} to {field.accept_to}"
    return told


def _ends(field: Field, form: Form, unit: str) -> Iterator[str]:
    """The limits of which one end stands on the sheet at most."""
    if field.lower:
        yield f"{field.lower}{unit} or more"
    elif field.lower_by:
        yield f"not below the limit ticked{_ticked(field, field.lower_by, form)},{unit}".rstrip(",")
    if field.upper:
        yield f"{field.upper}{unit} or less"
    elif field.upper_by:
        yield f"not above the limit ticked{_ticked(field, field.upper_by, form)},{unit}".rstrip(",")


def _ticked(field: Field, mark: str, form: Form) -> str:
    """Where the column is ticked that has a limit, "" where the form has no such strip or several:
    that of the same operation goes before others."""
    strips = {a.operation for a in form.answers if a.mark.partition(".")[0] == mark}
    own = strips & {field.of or field.operation}
    where = own or strips
    return f" in operation {where.pop()}" if len(where) == 1 else ""
