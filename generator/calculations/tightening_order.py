"""How many fasteners stand in which pattern, in; one sound order of tightening them, out."""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass
from typing import Annotated

from generator.calculation import Example, Second, calculation, count, given, order
from generator.quantities.amount import Amount

OneOfSeveral = Annotated[
    tuple[int, ...], order("order", "tightening order, one of several valid ones")
]


def _room(place: int, tight: Collection[int], fasteners: int) -> tuple[int, int]:
    """Steps to the nearest tight fastener, and steps between the two it stands between."""
    ahead = next(d for d in range(1, fasteners + 1) if (place - 1 + d) % fasteners + 1 in tight)
    behind = next(d for d in range(1, fasteners + 1) if (place - 1 - d) % fasteners + 1 in tight)
    return min(ahead, behind), ahead + behind


def _by_walking(fasteners: int) -> tuple[int, ...]:
    """Walk from every loose fastener both ways; take the one with most room, opposite first."""
    tight = [1]
    while len(tight) < fasteners:
        loose = [n for n in range(1, fasteners + 1) if n not in tight]
        held = frozenset(tight)
        room = {n: _room(n, held, fasteners) for n in loose}
        best = [n for n in loose if room[n] == max(room.values())]
        if len(tight) % 2 == 1:
            far = {n: _room(n, [tight[-1]], fasteners)[0] for n in best}
            best = [n for n in best if far[n] == max(far.values())]
        tight.append(min(best))
    return tuple(tight)


def _middles(start: int, size: int, fasteners: int) -> list[int]:
    """The one or two fasteners in the middle of a gap of that many steps after start."""
    return [(start - 1 + half) % fasteners + 1 for half in {size // 2, (size + 1) // 2}]


def _by_gaps(fasteners: int) -> tuple[int, ...]:
    """Keep the tight ones in ring order; the next goes into the middle of the largest gap."""
    ring, sequence = [1], [1]
    while len(sequence) < fasteners:
        ends = [*ring[1:], ring[0] + fasteners]
        sizes = {a: b - a for a, b in zip(ring, ends, strict=True)}
        largest = max(sizes.values())
        open_places = [
            m for a, size in sizes.items() if size == largest for m in _middles(a, size, fasteners)
        ]
        turn = sequence[-1] + fasteners / 2
        if len(sequence) % 2 == 1:
            open_places.sort(
                key=lambda m: (abs((m - turn + fasteners / 2) % fasteners - fasteners / 2), m)
            )
        else:
            open_places.sort()
        sequence.append(open_places[0])
        ring = sorted([*ring, open_places[0]])
    return tuple(sequence)


@calculation(
    source="common practice, no source: cross pattern, each next fastener in the largest gap",
    not_covered="gaskets and joints whose own data give an order; other valid orders exist",
    second=Second(_by_walking, "0", "walking both ways from every loose fastener"),
    examples=(Example({"fasteners": "8"}, {"": "1 5 3 7 2 6 4 8"}, "common practice, no source"),),
)
def tightening_order_circle(
    fasteners: Annotated[int, count("n", "number of fasteners", at_least=3, at_most=200)],
) -> OneOfSeveral:
    """Tightening order on a circle: every next fastener stands in the largest gap left.

    After each the one opposite, as near as the count allows; on ties the lowest number.
    """
    return _by_gaps(fasteners)


def _from_the_middle(number: int, rows: int, columns: int) -> int:
    """The square of a fastener's distance from the middle, in half pitches."""
    row, column = divmod(number - 1, columns)
    return (2 * row + 1 - rows) ** 2 + (2 * column + 1 - columns) ** 2


def _by_pairs(rows: int, columns: int) -> tuple[int, ...]:
    """Pairs of opposites in the order of their distance; a middle one is its own opposite."""
    last = rows * columns + 1
    firsts = sorted(range(1, last // 2 + 1), key=lambda n: (_from_the_middle(n, rows, columns), n))
    return tuple(number for n in firsts for number in ((n,) if n == last - n else (n, last - n)))


def _by_growing_rings(rows: int, columns: int) -> tuple[int, ...]:
    """Let a circle grow about the middle; read the plate row by row for what it has reached."""
    plate = [(row, column) for row in range(1, rows + 1) for column in range(1, columns + 1)]
    done: dict[tuple[int, int], None] = {}
    reach = 0
    while len(done) < len(plate):
        for row, column in plate:
            across, down = column - (columns + 1) / 2, row - (rows + 1) / 2
            if (row, column) not in done and across * across + down * down <= reach / 4:
                done[row, column] = None
                done[rows + 1 - row, columns + 1 - column] = None
        reach += 1
    return tuple((row - 1) * columns + column for row, column in done)


@calculation(
    source="common practice, no source: from the middle outwards, each followed by its opposite",
    not_covered="gaskets and joints whose own data give an order; rows with gaps; pitches across "
    "and down are taken as equal; other valid orders exist",
    second=Second(_by_growing_rings, "0", "a circle that grows about the middle"),
    examples=(
        Example(
            {"rows": "4", "columns": "6"},
            {"": "9 16 10 15 3 22 4 21 8 17 11 14 2 23 5 20 7 18 12 13 1 24 6 19"},
            "common practice, no source",
        ),
    ),
)
def tightening_order_rectangle(
    rows: Annotated[int, count("r", "rows of fasteners", at_least=1, at_most=12)],
    columns: Annotated[int, count("c", "fasteners in a row", at_least=2, at_most=24)],
) -> OneOfSeveral:
    """Tightening order on a rectangle: from the middle outwards, each followed by its opposite.

    Numbers run row by row from the corner of number 1. A fastener in the very middle comes first;
    of those equally far from it, counted in pitches, the lowest number comes first.
    """
    return _by_pairs(rows, columns)


@dataclass(frozen=True)
class Row:
    """A row of fasteners, numbered on from the row before."""

    fasteners: Annotated[int, count("n", "fasteners of the row", at_least=1, at_most=200)]


def _outwards(fasteners: int) -> list[int]:
    """The places of a row from its middle outwards, the lower of two alike first."""
    return sorted(range(1, fasteners + 1), key=lambda n: (abs(2 * n - fasteners - 1), n))


def _taking_turns(rows: tuple[Row, ...]) -> tuple[int, ...]:
    """Each row gives its next fastener in turn, as long as it has one."""
    begins = [sum(row.fasteners for row in rows[:i]) for i in range(len(rows))]
    ways = [_outwards(row.fasteners) for row in rows]
    return tuple(
        begin + way[turn]
        for turn in range(max(map(len, ways)))
        for begin, way in zip(begins, ways, strict=True)
        if turn < len(way)
    )


def _from_the_ends(rows: tuple[Row, ...]) -> tuple[int, ...]:
    """Each row taken apart from its ends inwards, the further end first, and read backwards."""
    ways: list[list[int]] = []
    done = 0
    for row in rows:
        left, right, way = 1, row.fasteners, []
        while left <= right:
            far = right if row.fasteners - right <= left - 1 else left
            way.append(done + far)
            left, right = (left + 1, right) if far == left != right else (left, right - 1)
        ways.append(way[::-1])
        done += row.fasteners
    longest = max(map(len, ways))
    return tuple(way[i] for i in range(longest) for way in ways if i < len(way))


@calculation(
    source="common practice, no source: rows in turn, each from its middle outwards",
    not_covered="gaskets and joints whose own data give an order; other valid orders exist",
    second=Second(_from_the_ends, "0", "from the ends inwards, read backwards"),
    examples=(
        Example(
            {"rows": [{"fasteners": "5"}, {"fasteners": "4"}]},
            {"": "3 7 2 8 4 6 1 9 5"},
            "common practice, no source",
        ),
    ),
)
def tightening_order_rows(rows: tuple[Row, ...]) -> OneOfSeveral:
    """Tightening order of rows: from the middle of each row outwards, the rows taking turns.

    Numbers run on from row to row. Of two as far from the middle the lower number comes first.
    """
    return _taking_turns(rows)


@dataclass(frozen=True)
class Place:
    """Where a fastener stands, from any datum."""

    across: Annotated[
        Amount, given("x", "mm", "place to the right", at_least="-20000", at_most="20000")
    ]
    up: Annotated[Amount, given("y", "mm", "place upwards", at_least="-20000", at_most="20000")]


_SAME = 9  # decimals of a distance, over the largest, that still tell two apart


def _opposites(places: list[tuple[float, float]]) -> tuple[int, ...]:
    """From the middle outwards, each followed by the loose one nearest to its mirror place."""
    middle = [math.fsum(each) / len(places) for each in zip(*places, strict=True)]
    away = {n: math.dist(at, middle) for n, at in enumerate(places, 1)}
    whole = max(away.values()) or 1.0
    loose = sorted(away, key=lambda n: (round(away[n] / whole, _SAME), n))
    found: list[int] = []
    while loose:
        first = loose.pop(0)
        found.append(first)
        if loose and round(away[first] / whole, _SAME) > 0:
            x, y = places[first - 1]
            mirror = (2 * middle[0] - x, 2 * middle[1] - y)
            far = {n: round(math.dist(places[n - 1], mirror) / whole, _SAME) for n in loose}
            opposite = min(loose, key=lambda n: (far[n], n))
            loose.remove(opposite)
            found.append(opposite)
    return tuple(found)


def _by_turned_places(places: tuple[Place, ...]) -> tuple[int, ...]:
    """Places as complex numbers about their middle; a mirror place is the negative."""
    at = [complex(float(each.across), float(each.up)) for each in places]  # type: ignore[arg-type]
    about = [each - sum(at) / len(at) for each in at]
    whole = max(map(abs, about)) or 1.0
    about = [each / whole for each in about]
    found: list[int] = []
    while len(found) < len(about):
        left = [n for n in range(1, len(about) + 1) if n not in found]
        near = min(round(abs(about[n - 1]), _SAME) for n in left)
        first = next(n for n in left if round(abs(about[n - 1]), _SAME) == near)
        found.append(first)
        left.remove(first)
        if left and near > 0:
            gaps = [round(abs(about[n - 1] + about[first - 1]), _SAME) for n in left]
            found.append(left[gaps.index(min(gaps))])
    return tuple(found)


@calculation(
    source="common practice, no source: from the middle outwards, each followed by its opposite",
    not_covered="gaskets and joints whose own data give an order; a middle that is not that of the "
    "load; other valid orders exist",
    method="fasteners ranked by their distance from the mean of all places; each is followed by "
    "the loose one nearest to the place opposite",
    second=Second(_by_turned_places, "0", "places turned about their middle"),
    examples=(
        Example(
            {
                "places": [
                    {"across": "0 mm", "up": "0 mm"},
                    {"across": "60 mm", "up": "0 mm"},
                    {"across": "60 mm", "up": "40 mm"},
                    {"across": "0 mm", "up": "40 mm"},
                    {"across": "30 mm", "up": "20 mm"},
                ]
            },
            {"": "5 1 3 2 4"},
            "common practice, no source",
        ),
    ),
)
def tightening_order_placed(places: tuple[Place, ...]) -> OneOfSeveral:
    """Tightening order of fasteners by their places: from the middle outwards, each followed by
    the one that lies opposite.

    The middle is the mean of all places. Of several as far from it the lowest number comes first.
    """
    told = [(float(each.across), float(each.up)) for each in places]  # type: ignore[arg-type]
    return _opposites(told)
