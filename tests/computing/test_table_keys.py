"""The keys of a table row, one of them wrong, in; what is offered in its place, out."""

from __future__ import annotations

import pytest

from generator.findings import Refusal
from generator.tables import find_row


def test_keys_with_commas_stand_in_quotes_and_the_one_that_holds_the_word_is_offered():
    keys = {"guide": "MIL-H-6088", "alloy": "2024", "begins": "quench"}
    with pytest.raises(Refusal) as told:
        find_row("working_window", keys)
    assert told.value.right == (
        "one of: '6061, 7075', '2014, 2024, 2219' (did you mean '2014, 2024, 2219'?)"
    )
