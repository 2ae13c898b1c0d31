"""A closing sheet with its counts of slips, concessions and supplementary sheets, in; those that are
not what the record has, out."""

from __future__ import annotations

import pytest

from generator.record import traveller
from tests.commands.test_commands import run
from tests.commands.test_slips import ON, entered
from tests.record.whole import slipped
from tests.results.filled import counted


def closing(folder, capsys) -> list[str]:
    capsys.readouterr()
    run(folder, "close", "A-0001", *ON, "LQ1")
    told = capsys.readouterr().err.splitlines()
    return [line.partition("closing sheet, ")[2] for line in told if "closing sheet, " in line]


@pytest.fixture
def two_slips(issued):
    """One used as it is by a concession, one reworked on R1."""
    slipped(issued)
    return issued


def test_counts_that_are_not_those_of_the_record_keep_a_traveller_open(two_slips, capsys):
    assert closing(two_slips, capsys) == [
        "non-conformance slips: raised: count: 0, and the record has 2: NC-A-0001, NC-A-0002",
        "concession slips: raised: count: 0, and the record has 1: CN-A-0001",
        "supplementary sheets: raised: count: 0, and the record has 1: R1",
    ]
    entered(two_slips, {"10 thickness": "0.96", **counted(2, 1, 1)}, corrects="Counted.")
    assert closing(two_slips, capsys) == []
    assert traveller(two_slips, "A-0001").status == "closed"


def test_what_is_left_open_keeps_a_traveller_open(two_slips, capsys):
    words = counted(2, 1, 1)
    words |= {"non-conformance slips: closed": "1", "non-conformance slips: open": "1"}
    entered(two_slips, {"10 thickness": "0.96", **words}, corrects="Counted.")
    says = "non-conformance slips: open: count: 1 open, and a part with an open slip is not closed"
    assert closing(two_slips, capsys) == [says]


def test_nothing_raised_is_counted_as_nothing(issued, capsys):
    entered(issued, counted(1, 0, 0))
    told = "non-conformance slips: raised: count: 1, and the record has 0"
    assert closing(issued, capsys) == [told]
    entered(issued, counted(0, 0, 0), corrects="Counted.")
    assert closing(issued, capsys) == []
