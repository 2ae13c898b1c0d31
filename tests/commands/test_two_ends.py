"""A traveller that two desks ended, or ended and went on with, without knowing of each other, in;
an act by which somebody who looked at both settles it, out; and a part that both issued."""

from __future__ import annotations

import pytest

from tests.commands.changing import revise
from tests.commands.test_after_the_end import REMOVED
from tests.commands.test_commands import approve, issue, run
from tests.commands.test_slips import ON, close, concede, dispose, entered, slip
from tests.commands.test_trust import merged
from tests.commands.test_trust import two as two  # the fixture

WITHDRAW = ("withdraw", "A-0001", "--why", "Looked at both.", *ON, "LQ1")
REPLACE = ("replace", "A-0001", "--why", "Lost.", *ON, "LQ1")
SLIP = ("slip", "A-0001", "--operation", "10", "--what", "Crack.", *ON, "LQ14")


@pytest.mark.parametrize("here_too", [WITHDRAW, SLIP, REPLACE])
def test_an_end_that_knew_nothing_of_another_act_is_settled_by_a_withdrawal(two, here_too, capsys):
    here, there = two
    assert run(here, *here_too) == 0
    assert run(there, *(REPLACE if here_too == REPLACE else WITHDRAW)) == 0
    merged(here, there)
    capsys.readouterr()
    assert run(here, "verify") == 1
    assert "was recorded without knowing of the other" in capsys.readouterr().err
    assert run(here, *WITHDRAW) == 0
    if here_too == REPLACE:  # two sheets for one part
        assert run(here, "withdraw", "B-0001", "--why", "A-0002 is used.", *ON, "LQ1") == 0
    capsys.readouterr()
    assert run(here, "verify") == 0, capsys.readouterr().err
    assert run(here, *WITHDRAW) == 1  # it is withdrawn, and nothing is left to settle
    assert "A-0001 is withdrawn" in capsys.readouterr().err


def test_what_sits_on_an_airframe_comes_off_though_another_desk_replaced_it(two, capsys):
    here, there = two
    entered(here)
    assert close(here) == 0
    assert run(here, "fit", "A-0001", *ON, "LQ14") == 0
    assert run(there, *REPLACE) == 0
    merged(here, there)
    assert run(here, "list") == 0
    assert "witnessmark fit A-0001 --part 0001 --removed" in capsys.readouterr().out
    assert run(here, "fit", "A-0001", *REMOVED, *ON, "LQ14") == 0
    assert run(here, *WITHDRAW) == 0
    assert run(here, "verify") == 0


def test_a_slip_that_a_close_knew_nothing_of_is_settled_by_what_is_decided_on_it(two, capsys):
    here, there = two
    entered(here)
    assert close(here) == 0
    assert slip(there, what="A scratch.") == 0
    merged(here, there)
    assert run(here, "fit", "A-0001", *ON, "LQ14") == 1
    assert dispose(here, "NC-B-0001", "use") == 0
    assert run(here, "fit", "A-0001", *ON, "LQ14") == 1  # no concession yet
    assert concede(here, "NC-B-0001") == 0
    capsys.readouterr()
    assert run(here, "verify") == 0, capsys.readouterr().err
    assert run(here, "fit", "A-0001", *ON, "LQ14") == 0


def test_a_part_that_two_desks_issued_is_told_and_neither_is_closed(two, capsys):
    here, there = two
    for folder in two:
        assert issue(folder, "T6-P-0120", "0002") == 0
    merged(here, there)
    capsys.readouterr()
    assert run(here, "verify") == 1
    said = "B-0001 and A-0002 are both open for part 0002 of T6-P-0120"
    assert said in capsys.readouterr().err
    assert run(here, "close", "B-0001", *ON, "LQ1") == 1
    assert "B-0001 and A-0002 are both open for part 0002" in capsys.readouterr().err
    assert run(here, "withdraw", "B-0001", "--why", "It is A-0002.", *ON, "LQ1") == 0
    assert run(here, "verify") == 0
    assert run(here, "close", "A-0002", *ON, "LQ1") == 1
    assert "both open" not in capsys.readouterr().err


def test_two_decisions_on_a_slip_are_settled_by_a_third_and_until_then_the_part_goes(two, capsys):
    here, there = two
    assert slip(here) == 0
    merged(there, here)
    assert dispose(here, "NC-A-0001", "scrap") == 0
    assert dispose(there, "NC-A-0001", "use") == 0
    assert concede(there, "NC-A-0001") == 0
    merged(here, there)
    assert run(here, "replace", "A-0001", "--why", "Lost.", *ON, "LQ1") == 1
    capsys.readouterr()
    assert issue(here, "T6-P-0120", "0001", on="2026-11-26") == 1
    assert "part 0001 went by NC-A-0001: scrap" in capsys.readouterr().err
    assert run(here, "verify") == 1
    assert "two of 'dispose' on NC-A-0001" in capsys.readouterr().err
    assert dispose(here, "NC-A-0001", "use") == 0
    capsys.readouterr()
    assert run(here, "verify") == 0, capsys.readouterr().err
    assert dispose(here, "NC-A-0001", "scrap") == 1


def test_two_concessions_of_a_slip_are_settled_by_a_third(two, capsys):
    here, there = two
    assert slip(here) == 0
    assert dispose(here, "NC-A-0001", "use") == 0
    merged(there, here)
    assert concede(here, "NC-A-0001") == 0
    covers = ("concede", "NC-A-0001", "--what", "So much.", "--covers", "thickness=0.96")
    assert run(there, *covers, *ON, "INS2") == 0
    merged(here, there)
    assert run(here, "verify") == 1
    assert "two of 'concession' on NC-A-0001" in capsys.readouterr().err
    assert run(here, *covers, *ON, "INS2") == 0
    capsys.readouterr()
    assert run(here, "verify") == 0, capsys.readouterr().err
    assert concede(here, "NC-A-0001") == 1


def test_a_part_that_two_desks_fitted_in_two_places_is_fitted_anew(two, capsys):
    here, there = two
    entered(here)
    assert close(here) == 0
    merged(there, here)
    for folder, place in ((here, "left"), (there, "right")):
        assert run(folder, "fit", "A-0001", "--position", place, *ON, "LQ14") == 0
    merged(here, there)
    assert run(here, "verify") == 1
    assert "two of 'fit' on 0001" in capsys.readouterr().err
    assert run(here, "fit", "A-0001", *REMOVED, *ON, "LQ14") == 0
    assert run(here, "fit", "A-0001", "--position", "left", *ON, "LQ14") == 0
    capsys.readouterr()
    assert run(here, "verify") == 0, capsys.readouterr().err


def test_a_traveller_goes_over_at_the_desk_of_its_serial_alone(two, capsys):
    here, there = two
    revise(here)
    approve(here, "T6-P-0120", "2026-11-26")
    merged(there, here)
    over = ("decide", "A-0001", "--decision", "adopt", "--done", "0", "--why", "It is better.")
    assert run(there, *over, *ON, "INS2") == 1
    assert "A-0001 is of desk A, and goes over there" in capsys.readouterr().err
    assert run(there, "verify") == 0
    assert run(there, *over[:3], "finish", *over[6:], *ON, "INS2") == 0
