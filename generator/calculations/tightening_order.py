"""How many fasteners stand in which pattern, in; one sound order of tightening them, out."""

from __future__ import annotations

from typing import Annotated

from generator.calculation import Example, Second, calculation, count, order

OneOfSeveral = Annotated[
    tuple[int, ...], order("order", "tightening order, one of several valid ones")
]


def _room(place: int, tight: list[int], fasteners: int) -> tuple[int, int]:
    """Steps to the nearest tight fastener, and steps between the two it stands between."""
    ahead = next(d for d in range(1, fasteners + 1) if (place - 1 + d) % fasteners + 1 in tight)
    behind = next(d for d in range(1, fasteners + 1) if (place - 1 - d) % fasteners + 1 in tight)
    return min(ahead, behind), ahead + behind


def _by_walking(fasteners: int) -> tuple[int, ...]:
    """Walk from every loose fastener both ways; take the one with most room, opposite first."""
    tight = [1]
    while len(tight) < fasteners:
        loose = [n for n in range(1, fasteners + 1) if n not in tight]
        room = {n: _room(n, tight, fasteners) for n in loose}
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
    fasteners: Annotated[int, count("n", "number of fasteners", at_least=3, at_most=72)],
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
