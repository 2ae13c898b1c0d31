"""A traveller and its operations, in; those that were begun by what was entered, out."""

from __future__ import annotations

from collections.abc import Sequence

from generator.commands.enter import form_read, results_of
from generator.record import Traveller
from generator.results.entries import BLANK, entries_in
from generator.signs import LEFT_BLANK


def begun_by_record(history: Traveller, known: Sequence[str]) -> list[str]:
    """The operations of which something is in the record: they were begun, whatever is said. Who
    says that nothing stands in a box, or took it back, has begun nothing by that."""
    found = set()
    for act in results_of(history):
        entries, _ = entries_in(act.tree["boxes"], form_read(history))
        nothing = (BLANK.state, LEFT_BLANK)
        found |= {key[1] for key, each in entries.items() if each.state not in nothing}
    return [each for each in known if each in found]
