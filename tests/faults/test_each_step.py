"""A seeded part of what `make prove` asks of every act at every step: kills, power cuts, faults of
the disk and of git."""

from __future__ import annotations

import random

import pytest

from tests.commands.conftest import copied
from tests.faults import cutting
from tests.faults.acts import doing
from tests.faults.killing import assert_killed_anywhere, done
from tests.faults.model import CUTS, by_chance
from tests.faults.refusing import assert_refused_anywhere, faults
from tests.faults.touching import refusable


def _some(things: list, count: int, seed: int) -> list:
    return random.Random(seed).sample(things, min(count, len(things)))


@pytest.mark.parametrize(("act", "count"), [("issue", 4), ("enter", 5), ("rework", 3)])
def test_a_kill_before_any_step_is_mended_by_typing_it_again(moment, act, count, capsys):
    at = moment(act)
    whole, steps = done(at.shop, act, at.papers, at.beside)
    assert len(steps) > 20
    some = _some(steps, count, seed=1)
    assert assert_killed_anywhere(at.shop, act, at.papers, at.beside, some, whole) == count


@pytest.mark.parametrize(("act", "count"), [("issue", 14), ("enter", 10), ("slip", 10)])
def test_a_power_cut_at_any_moment_loses_nothing(moment, act, count, capsys):
    at = moment(act)
    whole, steps = cutting.done(at.shop, act, at.papers, at.beside)
    moments = [(n, cut) for n in range(len(steps)) for cut in (*CUTS, by_chance(n))]
    told = [(len(steps), cut) for cut in (CUTS[0], by_chance(1))]
    some = [*_some(moments, count, seed=2), *told]
    assert cutting.assert_cut_anywhere(at.shop, whole, steps, some, at.beside) == count + 2


@pytest.mark.parametrize(("act", "count"), [("issue", 4), ("enter", 5), ("attach", 4)])
def test_what_the_disk_or_git_refuses_is_told_and_typed_again(moment, act, count, capsys):
    at = moment(act)
    whole = copied(at.shop, at.beside)
    steps = refusable(doing(whole, act, at.papers))
    some = _some(faults(steps), count, seed=3)
    assert assert_refused_anywhere(at.shop, act, at.papers, some, whole, at.beside) == count
