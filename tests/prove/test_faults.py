"""The long proofs of faults: every act killed before each of its steps, its power cut at each moment,
each of its steps refused by the disk and each of its runs of git failing. tests/faults asks a seeded
part of it."""

from __future__ import annotations

import pytest

from tests.commands.conftest import copied
from tests.commands.conftest import issued_shop as issued_shop  # the fixture
from tests.faults import cutting
from tests.faults.acts import ACTS, doing
from tests.faults.conftest import _nobodys_settings as _nobodys_settings  # the fixture
from tests.faults.conftest import moment as moment  # the fixture
from tests.faults.conftest import room as room  # the fixture
from tests.faults.killing import assert_killed_anywhere, done
from tests.faults.model import CUTS, by_chance
from tests.faults.refusing import assert_refused_anywhere, faults
from tests.faults.touching import refusable

pytestmark = pytest.mark.prove

WHOLE = ("issue", "enter")  # the two that are done all day: every moment and every step
PART = 4  # of the moments and steps of the others, which are much the same


@pytest.mark.parametrize("act", ACTS)
def test_every_act_killed_before_each_of_its_steps(moment, act, capsys):
    at = moment(act)
    whole, steps = done(at.shop, act, at.papers, at.beside)
    count = assert_killed_anywhere(at.shop, act, at.papers, at.beside, steps, whole)
    assert count == len(steps) > 20


@pytest.mark.parametrize("act", ACTS)
def test_every_act_with_the_power_cut_at_each_moment(moment, act, capsys):
    at = moment(act)
    whole, steps = cutting.done(at.shop, act, at.papers, at.beside)
    told = range(0, len(steps), 1 if act in WHOLE else PART)
    moments = [
        (n, cut)
        for n in told
        for cut in (CUTS[n // (1 if act in WHOLE else PART) % len(CUTS)], by_chance(n))
    ]
    moments += [(len(steps), cut) for cut in (*CUTS, by_chance(0))]
    count = cutting.assert_cut_anywhere(at.shop, whole, steps, moments, at.beside)
    assert count == 2 * len(told) + 6 > 40


@pytest.mark.parametrize("act", ACTS)
def test_every_act_with_its_steps_refused(moment, act, capsys):
    at = moment(act)
    whole = copied(at.shop, at.beside)
    told = faults(refusable(doing(whole, act, at.papers)))
    told = told if act in WHOLE else told[::PART]
    count = assert_refused_anywhere(at.shop, act, at.papers, told, whole, at.beside)
    assert count == len(told) > 20
