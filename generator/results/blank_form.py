"""A form in; the same as YAML with empty boxes to be filled in, and comments over what needs one,
out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby
from textwrap import wrap

from generator.results.entries import OUTSIDE, TICKS, is_together
from generator.results.form import Field, Form
from generator.results.form_comments import comments
from generator.results.form_says import SINCE, ordinal
from generator.signs import is_whole

_COMMENT = "      # "


def blank_form(form: Form, serial: str, elsewhere: Iterable[str] = ()) -> str:
    """The form with blanks, as YAML with a comment over what needs one. elsewhere: what is done on
    another sheet, and on which."""
    lines = [
        f"# What was written on the sheets of {serial}, typed from the paper. A box holds the",
        '# figure as written, x for a tick, a stamp, a day; or "N/A: reason", unreadable, or',
        '# "late: VALUE, written 26 NOV 2026". ticks: all, none, or {not: [what is not ticked]};',
        "# what is ticked on a spare line, a label, a slip or as N/A is an x in its row.",
        "# left blank, with --corrects, takes back what was typed into a box that is empty.",
        *(f"# {line}" for line in elsewhere),
        f"traveller: {serial}",
        "boxes:",
    ]
    typed = (each for each in form.fields if each.sheet != "backs")  # notes are scanned, not typed
    for sheet, of_sheet in groupby(typed, key=lambda f: f.sheet):
        lines.append(f"  {sheet}:")
        whole = sorted(of_sheet, key=lambda f: ordinal(f.operation))
        for operation, of_operation in groupby(whole, key=lambda f: f.operation):
            lines.append(f'    "{operation}":' if operation else f"    {OUTSIDE}:")
            lines += _blank_rows(list(of_operation), form)
    return "\n".join(lines) + "\n"


def _blank_rows(fields: list[Field], form: Form) -> Iterator[str]:
    ticks = [each for each in fields if is_together(each)]
    if ticks:
        labels = ", ".join(field.label for field in ticks)
        lines = wrap(labels, 100 - len(_COMMENT), break_on_hyphens=False, break_long_words=False)
        yield from (_COMMENT + line for line in lines)
        yield f'      {TICKS}: ""'
    rest = [each for each in fields if not is_together(each) and each.row[:12] != "stopped here"]
    rows: dict[str, list[Field]] = {}
    for field in rest:
        rows.setdefault(field.row, []).append(field)
    above: list[str] = []
    for row, of_row in rows.items():
        alone = sum(field.row == row for field in fields) == 1
        told = list(comments(of_row, form))
        if not (of_row[0].unit == SINCE and told == above):  # every row of a log takes the same
            yield from (_COMMENT + words for words in told)
        above = told
        yield f"      {_quoted(row)}: {_blank_value(of_row, alone)}"


def _blank_value(fields: list[Field], alone: bool) -> str:
    if alone:
        return '""'
    if all(field.kind == "number" and is_whole(field.name) for field in fields):
        return "[" + ", ".join('""' for _ in fields) + "]"
    return "{" + ", ".join(f'{_quoted(field.name)}: ""' for field in fields) + "}"


def _quoted(word: str) -> str:
    return '"' + word.replace("\\", "\\\\").replace('"', '\\"') + '"'
