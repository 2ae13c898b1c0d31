"""A closed traveller, in; its fit record, the one sheet that it still takes, as it is judged, out:
for fitting a part and for the visit sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from generator.composing.kinds import FIT_RECORD

if TYPE_CHECKING:
    from generator.process import Workshop
    from generator.record import Traveller
    from generator.results.case import Verdict
    from generator.results.form import Form


def on_fit_record(shop: Workshop, history: Traveller, day: date) -> Sequence[Verdict] | None:
    """What is wrong with the fit record of a traveller, or still empty on it; None where nothing
    was entered of it."""
    from generator.commands.allowing import books_of_parts
    from generator.commands.enter import entries_of
    from generator.results.judge import judged

    form = _form_read(history)
    entries = entries_of(history, form)
    if not form.fields:
        return ()
    return judged(form, entries, books_of_parts(shop, history, day)) if entries else None


def _form_read(history: Traveller) -> Form:
    """The fields of the fit record alone, cut out of the frozen form before that is read: a large
    one takes a third of a second, and every fitted part has one. No field of a traveller that was
    issued by an earlier version, without a form: its results stay on paper."""
    from generator.read import read_text
    from generator.record.files import as_written
    from generator.results.form import Form
    from generator.results.form_tree import form_from, of_one_sheet

    file = history.folder / "output/issued" / history.serial / "form.yaml"
    if not file.exists():
        return Form((), (), ())
    with as_written(history.serial):
        own = of_one_sheet(file.read_text(encoding="utf-8"), FIT_RECORD)
        document, _ = read_text(own.encode(), file.name)
        return form_from(document.tree if document is not None else {})


def waits_at_fit_record(shop: Workshop, history: Traveller, day: date) -> Iterator[str]:
    """A line where the fit record of a closed traveller has a finding or an empty box. What was
    written late is told when it is entered: nobody can do anything about it."""
    told = on_fit_record(shop, history, day) or () if history.status == "closed" else ()
    found = [each for each in told if each.blocks or each.code != "late"]
    wrong = dict.fromkeys(each.row for each in found if each.code != "missing")
    blank = dict.fromkeys(each.row for each in found if each.code == "missing")
    both = (("findings at", wrong), ("empty", blank))
    lines = [f"{what} {'; '.join(rows)}" for what, rows in both if rows]
    if lines:
        how = f"witnessmark enter {history.serial} FILE --corrects WHY"
        yield f"fit record, {', and '.join(lines)}; {how}"
