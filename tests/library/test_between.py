"""Circles of prerequisites as a plain search finds them, and a long chain in little work."""

from __future__ import annotations

import itertools
import random

import pytest

from generator.check.between import Needs, set_faults


def circles(processes: dict[str, Needs]) -> set[str]:
    """What is told of circles."""
    return {fault.wrong for _, fault in set_faults(processes) if fault.code == "circle"}


def shortest_circles(needs: dict[str, tuple[str, ...]]) -> set[frozenset[str]]:
    """The members of a shortest way from each process back to itself, by trying every way in the
    order of its length."""
    found = set()
    for start in sorted(needs):
        ways = [[start]]
        hit = None
        while ways and hit is None:
            hit = next((way for way in ways if start in needs[way[-1]]), None)
            ways = [[*w, n] for w in ways for n in needs[w[-1]] if n in needs and n not in w]
        if hit:
            found.add(frozenset(hit))
    return found


@pytest.mark.parametrize("seed", range(60))
def test_circles_are_those_of_a_plain_search(seed) -> None:
    chance = random.Random(seed)
    names = [f"P{n}" for n in range(chance.randrange(1, 8))]
    needs = {
        name: tuple(dict.fromkeys(chance.choices(names, k=chance.randrange(3)))) for name in names
    }
    told = circles({name: Needs(name, needs[name]) for name in names})
    members = {frozenset(words.split(": ")[1].split(" needs ")) for words in told}
    wanted = {len(each) for each in shortest_circles(needs)}
    assert bool(told) == bool(wanted)
    assert {len(each) for each in members} == wanted
    for words in told:  # each is a circle indeed
        way = words.split(": ")[1].split(" needs ")
        assert way[0] == way[-1]
        assert all(after in needs[before] for before, after in itertools.pairwise(way))


def test_a_chain_of_twenty_thousand_has_no_circle_and_one_link_more_makes_one() -> None:
    """A search from each process would go two hundred million steps."""
    chain = {f"{n:05d}": Needs(f"{n:05d}", (f"{n - 1:05d}",) if n else ()) for n in range(20_000)}
    assert list(set_faults(chain)) == []
    chain["00000"] = Needs("00000", ("00002",))
    assert len(circles(chain)) == 1
