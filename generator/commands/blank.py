"""`enter --blank`: the form of a traveller or of a sheet beside it, to be typed from the paper."""

from __future__ import annotations

from argparse import Namespace
from typing import TYPE_CHECKING

from generator.commands.in_force import gone_over, where_done
from generator.commands.told import say
from generator.findings import Refusal
from generator.odd_files import refuse_in_record

if TYPE_CHECKING:
    from generator.record import Traveller
    from generator.results.form import Form


def write_blank(asked: Namespace, history: Traveller, form: Form, name: str) -> None:
    """The form with blanks, without what went over to a newer revision: that has its own sheet."""
    from generator.record.disk import replace_file
    from generator.results.blank_form import blank_form
    from generator.results.form_part import without

    if asked.blank.exists():
        raise Refusal("misuse", f"{asked.blank} is there already", "another name")
    refuse_in_record(asked.workshop, asked.blank)
    gone = gone_over(history, asked.supplement)
    elsewhere = list(where_done(history, asked.supplement, form.operations))
    replace_file(asked.blank, blank_form(without(form, gone), name, elsewhere).encode())
    for line in (str(asked.blank), *elsewhere):
        say(line, asked)
