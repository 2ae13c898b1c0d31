"""The fields of a print, in; those of the papers of a treatment with the operation that it is of,
out: charge, furnace and serials stand on its record before what is found of it, and where the
treatment is done again, they are of what was."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from generator.composing.kinds import HEAT_TREATMENT_RECORD

if TYPE_CHECKING:
    from generator.results.form import Field

_CUT_SHORT = "stopped here"  # the foot of a page is of nothing that stands above it


def of_treatments(fields: Sequence[Field]) -> Iterator[Field]:
    """The fields in their order: one of a record without an operation is of the treatment behind
    it, and behind the last there are lines and signatures of all."""
    of = ""
    found: list[Field] = []
    for each in reversed(fields):
        own = each.sheet == HEAT_TREATMENT_RECORD and not each.operation
        if own and each.of:
            of = each.of
        elif own and of and not each.row.startswith(_CUT_SHORT):
            each = replace(each, of=of)
        found.append(each)
    return reversed(found)
