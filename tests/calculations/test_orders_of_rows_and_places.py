"""Orders of tightening in rows and by places: common practice, no source; proved permutations with
the stated rule, by counting and by random places."""

from __future__ import annotations

import math
import random
from fractions import Fraction
from itertools import pairwise

import pytest

from tests.calculations.asking import results

ROWS = [[columns] * rows for rows in range(1, 13) for columns in range(1, 13)]
UNEVEN = [[24, 6], [1, 7, 3], [5, 4], [200], [3, 3, 3, 9]]


def in_rows(plan: list[int]) -> tuple[int, ...]:
    rows = [{"fasteners": str(count)} for count in plan]
    return results("tightening_order_rows", rows=rows)[""].order


@pytest.mark.parametrize("plan", [*ROWS, *UNEVEN], ids=str)
def test_every_fastener_once_each_row_from_its_middle_outwards(plan):
    order = in_rows(plan)
    assert sorted(order) == list(range(1, sum(plan) + 1))
    begin = 0
    for count in plan:
        mine = [n - begin for n in order if begin < n <= begin + count]
        away = [abs(2 * n - count - 1) for n in mine]
        assert away == sorted(away)
        assert all(a < b for (a, b), (x, y) in zip(pairwise(mine), pairwise(away), strict=True)
                   if x == y)  # fmt: skip
        begin += count


@pytest.mark.parametrize("plan", [*ROWS, *UNEVEN], ids=str)
def test_the_rows_take_turns(plan):
    """After k turns no row is more than one fastener behind another that has as many."""
    order = in_rows(plan)
    row_of = [i for i, count in enumerate(plan) for _ in range(count)]
    done = [0] * len(plan)
    for number in order:
        done[row_of[number - 1]] += 1
        open_rows = [done[i] for i, count in enumerate(plan) if done[i] < count]
        if len(open_rows) > 1:
            assert max(open_rows) - min(open_rows) <= 1


def by_rank(plan: list[int]) -> tuple[int, ...]:
    """The same order by counting: a fastener's turn in its row, from its distance alone."""
    turns = []
    begin = 0
    for row, count in enumerate(plan):
        for place in range(1, count + 1):
            away = 2 * place - count - 1
            turns.append((away if away >= 0 else -away - 1, row, begin + place))
        begin += count
    return tuple(number for _, _, number in sorted(turns))


@pytest.mark.parametrize("plan", [*ROWS, *UNEVEN, [200], [67, 66, 67]], ids=str)
def test_the_order_of_rows_is_that_of_the_turns_counted_one_by_one(plan):
    assert in_rows(plan) == by_rank(plan)


def placed(places: list[tuple[float, float]]) -> tuple[int, ...]:
    typed = [{"across": f"{x:.6f} mm", "up": f"{y:.6f} mm"} for x, y in places]
    return results("tightening_order_placed", places=typed)[""].order


@pytest.mark.parametrize("seed", range(200))
def test_places_go_from_the_middle_outwards_each_followed_by_its_opposite(seed):
    chance = random.Random(seed)
    places = [(chance.uniform(-400, 400), chance.uniform(-400, 400))
              for _ in range(chance.randrange(2, 60))]  # fmt: skip
    order = placed(places)
    assert sorted(order) == list(range(1, len(places) + 1))
    cx = sum(x for x, _ in places) / len(places)
    cy = sum(y for _, y in places) / len(places)
    left = set(order)
    for first, second in zip(order[::2], order[1::2], strict=False):
        away = math.dist(places[first - 1], (cx, cy))
        assert away <= min(math.dist(places[n - 1], (cx, cy)) for n in left) + 1e-4
        left.remove(first)
        x, y = places[first - 1]
        mirror = (2 * cx - x, 2 * cy - y)
        gap = math.dist(places[second - 1], mirror)
        assert gap <= min(math.dist(places[n - 1], mirror) for n in left) + 1e-4
        left.remove(second)


def test_a_circle_of_places_is_tightened_in_pairs_of_opposites():
    """Twelve on a circle: each second one lies opposite, as on every map of a circle."""
    ring = [(100 * math.sin(math.radians(30 * i)), 100 * math.cos(math.radians(30 * i)))
            for i in range(12)]  # fmt: skip
    order = placed(ring)
    assert all((b - a) % 12 == 6 for a, b in zip(order[::2], order[1::2], strict=True))


def exactly(places: list[tuple[int, int]]) -> tuple[int, ...]:
    """The same order in whole fractions, where two distances are alike or not: no rounding."""
    n = len(places)
    mean = [Fraction(sum(each), n) for each in zip(*places, strict=True)]
    about = {k: (x - mean[0], y - mean[1]) for k, (x, y) in enumerate(places, start=1)}
    order: list[int] = []
    while about:
        first = min(about, key=lambda k: (about[k][0] ** 2 + about[k][1] ** 2, k))
        x, y = about.pop(first)
        order.append(first)
        if about and (x, y) != (0, 0):
            gaps = {k: (u + x) ** 2 + (v + y) ** 2 for k, (u, v) in about.items()}
            second = min(gaps, key=lambda k: (gaps[k], k))
            about.pop(second)
            order.append(second)
    return tuple(order)


@pytest.mark.parametrize("rows", range(1, 13))
def test_places_in_a_grid_have_the_order_that_fractions_give(rows):
    for columns in range(2, 13):
        grid = [(35 * column, 25 * row) for row in range(rows) for column in range(columns)]
        assert placed(grid) == exactly(grid), columns


@pytest.mark.parametrize("seed", range(60))
def test_places_on_whole_millimetres_have_the_order_that_fractions_give(seed):
    chance = random.Random(seed)
    spots = [(x, y) for x in range(12) for y in range(12)]
    places = chance.sample(spots, chance.randrange(2, 60))
    assert placed(places) == exactly(places)


def test_two_hundred_places_have_an_order():
    chance = random.Random(200)
    places = chance.sample([(x, y) for x in range(120) for y in range(70)], 200)
    assert placed(places) == exactly(places)
