"""Sizes of blocks as whole numbers of steps, and a wanted height, in; the fewest that make it, out.

Each block is there once. Of several stacks of as many blocks, that with the largest block is
taken, then that with the largest second block, and so on.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

PARTS = 100000  # of the unit that a block's number counts: no set has finer blocks


def in_steps(blocks: Sequence[float], counts: float) -> tuple[list[int], int]:
    """The blocks in parts of the unit, largest first, and the largest number of parts that all of
    them are made of."""
    sizes = sorted((round(PARTS * block / counts) for block in blocks), reverse=True)
    return sizes, math.gcd(*sizes)


def named(size: int) -> str:
    """What a block is called: its size in the unit of the set."""
    return f"{size / PARTS:.5f}".rstrip("0").rstrip(".")


def near(wanted: float, step: int, within: float) -> Iterator[int]:
    """Heights that can be made of such steps, nearest first, none off by more than within."""
    middle = round(wanted / step) * step
    steps = math.floor(within / step + 1e-6) + 1
    found = (middle + n * step for n in range(-steps, steps + 1))
    close = [each for each in found if abs(each - wanted) <= within * (1 + 1e-9) and each > 0]
    yield from sorted(close, key=lambda each: (round(abs(each - wanted), 6), each))


class Shelf:
    """Which heights can be made, of how many blocks, of those from each place on.

    A height is a bit of a whole number, so that adding a block to all of them is one shift.
    """

    def __init__(self, sizes: Sequence[int], step: int, highest: int, most: int) -> None:
        self.sizes = [size // step for size in sizes]
        self.step, self.most = step, most
        mask = (1 << (highest // step + 1)) - 1
        behind = [1] + [0] * most
        self.made = [behind]
        for size in reversed(self.sizes):
            more = [behind[k] | (behind[k - 1] << size & mask if k else 0) for k in range(most + 1)]
            self.made.append(more)
            behind = more
        self.made.reverse()

    def fewest(self, height: int) -> list[int] | None:
        """The stack of a height; None where no blocks make it."""
        left = height // self.step
        count = next((k for k in range(1, self.most + 1) if self.made[0][k] >> left & 1), None)
        if count is None:
            return None
        taken = []
        for place, size in enumerate(self.sizes):
            if count and size <= left and self.made[place + 1][count - 1] >> (left - size) & 1:
                taken.append(size * self.step)
                left, count = left - size, count - 1
        return taken


def fewest_again(sizes: Sequence[int], height: int, most: int) -> list[int] | None:
    """The same by trying all blocks but the last two, which a list of pairs gives."""
    pairs: dict[int, list[tuple[int, int]]] = {}
    for pair in itertools.combinations(sizes, 2):
        pairs.setdefault(sum(pair), []).append(pair)
    if height in sizes:
        return [height]
    for count in range(2, most + 1):
        for first in itertools.combinations(sizes, count - 2):
            left = height - sum(first)
            low = first[-1] if first else math.inf
            ends = [pair for pair in pairs.get(left, ()) if pair[0] < low]
            if ends:
                return [*first, *max(ends)]
    return None
