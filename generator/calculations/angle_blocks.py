"""An angle and a set of angle blocks in; the blocks that make it, added and taken off, out."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import Example, Second, calculation, given, gives, key, looked_up, word
from generator.findings import Refusal
from generator.quantities.amount import Amount

SECOND = math.pi / 180 / 3600


@dataclass(frozen=True)
class AngleRow:
    """The angle blocks of a set: each is there once."""

    angle_set: Annotated[str, key("set of angle blocks")]
    finest: Annotated[Amount, given("u", "°", "finest step of the set")]
    blocks: Annotated[tuple[Amount, ...], given("a", "°", "angle blocks of the set")]


@dataclass(frozen=True)
class AngleStack:
    """What is laid together."""

    blocks: Annotated[str, word("blocks", "blocks, minus is turned about")]
    made: Annotated[Amount, gives("φ_b", "°", "angle that the blocks make", to="0.00001")]
    off: Annotated[Amount, gives("Δφ", "°", "angle made less angle wanted", to="0.00001")]


Choice = tuple[tuple[int, int], ...]  # blocks with their signs, largest first


def _seconds(blocks: Sequence[float]) -> list[int]:
    return sorted((round(block / SECOND) for block in blocks), reverse=True)


def _sums(blocks: Sequence[int]) -> Iterator[tuple[int, Choice]]:
    """Every way to add a block, to take it off or to leave it, with what it comes to."""
    for signs in itertools.product((1, -1, 0), repeat=len(blocks)):
        chosen = tuple((b, s) for b, s in zip(blocks, signs, strict=True) if s)
        yield sum(b * s for b, s in chosen), chosen


def _rank(chosen: Choice) -> tuple[int, int, list[int]]:
    """Fewer blocks before more, fewer turned about, larger ones first."""
    return len(chosen), sum(s < 0 for _, s in chosen), [-b * s for b, s in chosen]


def _by_halves(blocks: Sequence[int], wanted: int) -> Choice | None:
    """The best choice that makes the angle: both halves of the set tried, then joined."""
    half = len(blocks) // 2
    coarse: dict[int, list[Choice]] = {}
    fine: dict[int, list[Choice]] = {}
    for part, into in ((blocks[:half], coarse), (blocks[half:], fine)):
        for total, chosen in _sums(part):
            into.setdefault(total, []).append(chosen)
    joined = [
        (*one, *other)
        for total, ones in coarse.items()
        for one in ones
        for other in fine.get(wanted - total, ())
    ]
    return min((each for each in joined if each), key=_rank, default=None)


def _by_growing(blocks: Sequence[int], wanted: int) -> Choice | None:
    """The same by taking one block after the other, and keeping what can still be made up."""
    rest = [sum(blocks[k:]) for k in range(len(blocks) + 1)]
    open_: list[tuple[int, Choice]] = [(0, ())]
    for k, block in enumerate(blocks):
        grown = [
            (total + block * sign, (*chosen, (block, sign)) if sign else chosen)
            for total, chosen in open_
            for sign in (0, 1, -1)
        ]
        open_ = [each for each in grown if abs(wanted - each[0]) <= rest[k + 1]]
    made = [chosen for total, chosen in open_ if total == wanted and chosen]
    return min(made, key=_rank, default=None)


def _named(size: int) -> str:
    if size % 3600 == 0:
        return f"{size // 3600}°"
    return f"{size // 60}′" if size % 60 == 0 else f"{size}″"


def _told(chosen: Choice) -> str:
    """41° + 9° - 27′ with the proper minus."""
    text = "".join(f" {'+' if sign > 0 else chr(0x2212)} {_named(block)}" for block, sign in chosen)
    return text.removeprefix(" + ").strip()


def _stack(angle: float, finest: float, chosen: Choice) -> AngleStack:
    made: Any = AngleStack
    stands = sum(block * sign for block, sign in chosen) * SECOND
    found: AngleStack = made(_told(chosen), stands, stands - angle)
    return found


def _angle_again(angle: float, row: Any) -> AngleStack:
    step = round(row.finest / SECOND)
    wanted = round(angle / SECOND / step) * step
    chosen = _by_growing(_seconds(row.blocks), wanted)
    return _stack(angle, row.finest, chosen or ())


@calculation(
    source="angle blocks are added, and taken off where they are turned about; those of the set's "
    "row",
    not_covered="wear, wringing and the squareness of their sides; which way the angle opens",
    method="every way to add, to take off or to leave each block, in two halves of the set that "
    "are joined; the fewest blocks, then the fewest that are turned about, then the largest",
    second=Second(_angle_again, "0.0000001", "grown block by block, what can still be made kept"),
    examples=(
        Example(
            {"angle": "31°", "angle_set": "13 blocks"},
            {"made": "31 °", "off": "0 °"},
            "visible arithmetic: 27 + 3 + 1; no two blocks of 41, 27, 9, 3 and 1 make 31",
        ),
    ),
)  # fmt: skip
def angle_stack(
    angle: Annotated[Amount, given("φ", "°", "angle to be made", above="0", at_most="90")],
    row: Annotated[AngleRow, looked_up("angle_blocks")],
) -> AngleStack:
    """Angle blocks: which blocks of the set are laid together for an angle.

    To the finest step of the set. An angle that they do not make is refused.
    """
    numbers: Any = (angle, row)
    wanted, held = numbers
    step = round(held.finest / SECOND)
    whole = round(wanted / SECOND / step) * step
    chosen = _by_halves(_seconds(held.blocks), whole)
    if chosen is None:
        shown = f"{math.degrees(wanted):.4f}°"
        raise Refusal("range", f"no blocks of the set make {shown}", "another set, or a sine bar")
    return _stack(wanted, held.finest, chosen)
