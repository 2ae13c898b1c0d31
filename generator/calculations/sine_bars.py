"""An angle and a sine bar in; the height of the stack and the blocks that make it, out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import (
    Example,
    Second,
    calculation,
    count,
    given,
    gives,
    key,
    looked_up,
    word,
)
from generator.calculations.gauge_search import PARTS, Shelf, fewest_again, in_steps, named, near
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import arctan, cos, sin, step

SINE = "h = L sin θ (definition of the sine)"
STEEP = {
    "at_most": "45",
    "beyond": "Above 45° a small error of the stack is a large one of the angle: set the other "
    "angle, from the plate's square",
}
Angle = Annotated[Amount, given("θ", "°", "angle to be set", above="0", at_bench="0.01", **STEEP)]
Bar = Annotated[
    Amount, given("L", "mm", "length of the sine bar between its rollers", at_least="50",
                  at_most="1000")
]  # fmt: skip


@dataclass(frozen=True)
class SineBar:
    """The stack under one roller."""

    stack: Annotated[Amount, gives("h", "mm", "height of the stack", to="0.001")]
    off: Annotated[
        Amount, gives("Δθ", "°", "angle off by the error of the stack", to="0.00001", safe="up")
    ]


def _by_cosine(angle: float, bar: float, error: float) -> SineBar:
    """The cosine of the rest of a quarter turn; the error by two stacks."""
    made: Any = SineBar
    stack = bar * math.cos(math.pi / 2 - angle)
    two = [math.asin((stack + side * error / 2) / bar) for side in (-1, 1)]
    bare: SineBar = made(stack, two[1] - two[0])
    return bare


@calculation(
    source=f"{SINE}; Δθ = Δh / (L cos θ), its slope",
    not_covered="rollers that are not alike, a plate that is not flat; the error of the angle "
    "grows with the tangent: 45° is the end by common practice",
    second=Second(_by_cosine, "0.001 %", "cosine of the rest of a quarter turn; two stacks"),
    examples=(
        Example(
            {"angle": "27°", "bar": "5 in", "error": "0.0001 in"},
            {"stack": "2.270 in"},
            "a precision tool maker's learning page, sine bars, worked example (5 in, 27°)",
        ),
        Example(
            {"angle": "30°", "bar": "5 in", "error": "0.0001 in"},
            {"stack": "2.500 in", "off": "0.00132 °"},
            "sin 30° = 0.5; error as a machining forum worked it: 0.00132°",
        ),
    ),
)
def sine_bar(
    angle: Angle,
    bar: Bar,
    error: Annotated[Amount, given("Δh", "mm", "error of the stack", above="0", at_most="0.1")],
) -> SineBar:
    """Sine bar: the stack for an angle, and what an error of the stack does to the angle."""
    run = step(bar * cos(angle), "L_c", "mm", "the bar on the plate")
    return SineBar(bar * sin(angle), arctan(error / run))


# --- blocks ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class BlockRow:
    """The blocks of a set: each is there once."""

    block_set: Annotated[str, key("set of gauge blocks")]
    counts: Annotated[Amount, given("u", "mm", "what the numbers on the blocks count")]
    blocks: Annotated[tuple[Amount, ...], given("b", "mm", "blocks of the set")]


@dataclass(frozen=True)
class Stack:
    """The stack of one angle."""

    wanted: Annotated[Amount, gives("h", "mm", "height of the stack wanted", to="0.0001")]
    blocks: Annotated[str, word("blocks", "blocks of the stack")]
    made: Annotated[Amount, gives("h_b", "mm", "height that the blocks make", to="0.0001")]
    off: Annotated[Amount, gives("Δθ", "°", "angle set less angle wanted", to="0.0001")]


def _stack(angle: float, bar: float, counts: float, height: float, blocks: list[int]) -> Stack:
    """A stack of blocks as it is printed."""
    made: Any = Stack
    stands = sum(blocks) / PARTS * counts
    found: Stack = made(
        height, " + ".join(map(named, blocks)), stands, math.asin(stands / bar) - angle
    )
    return found


def _stacks_again(
    angles: tuple[float, ...], bar: float, row: Any, within: float, most: int
) -> tuple[Stack, ...]:
    """Every choice of blocks tried, the last two of each by a list of pairs."""
    sizes, part = in_steps(row.blocks, row.counts)
    found = []
    for angle in angles:
        height = bar * math.cos(math.pi / 2 - angle)
        tried = near(PARTS * height / row.counts, part, PARTS * within / row.counts)
        stacks = (fewest_again(sizes, each, most) for each in tried)
        blocks = next(filter(None, stacks))
        found.append(_stack(angle, bar, row.counts, height, blocks))
    return tuple(found)


@calculation(
    source=f"{SINE}; the blocks are those of the set's row",
    not_covered="wear, wringing and temperature; blocks that are out on another job: a set of the "
    "workshop's own leaves them out",
    method="heights of the set's step nearest to the wanted one, the fewest blocks that make one, "
    "the largest block first; all heights that any blocks make found by adding block after block",
    second=Second(_stacks_again, "0.00001", "all choices of blocks tried, the last two as pairs"),
    examples=(
        Example(
            {
                "angles": ["30°"], "bar": "200 mm", "block_set": "46 metric", "within": "0.001 mm",
                "most": "5",
            },
            {"1.wanted": "100 mm", "1.made": "100 mm", "1.off": "0 °"},
            "sin 30° = 0.5: the block of 100 mm alone",
        ),
    ),
)  # fmt: skip
def sine_stacks(
    angles: Annotated[tuple[Amount, ...], given("θ", "°", "angle to be set", above="0", **STEEP)],
    bar: Bar,
    row: Annotated[BlockRow, looked_up("gauge_blocks")],
    within: Annotated[
        Amount, given("δ_h", "mm", "how far the stack may be off", above="0", at_most="0.1")
    ],
    most: Annotated[int, count("n_b", "most blocks of a stack", 1, 5)],
) -> tuple[Stack, ...]:
    """Stacks under a sine bar: for each angle the blocks of the set that make its height.

    The numbers of the blocks are what stands on them. A height that no blocks of the set make
    within the limit is refused.
    """
    numbers: Any = (angles, bar, row, within)
    wanted, long, held, off = numbers
    sizes, part = in_steps(held.blocks, held.counts)
    heights = [long * math.sin(angle) for angle in wanted]
    highest = PARTS * (max(heights) + off) / held.counts
    shelf = Shelf(sizes, part, math.ceil(highest), most)
    found = []
    for n, (angle, height) in enumerate(zip(wanted, heights, strict=True), start=1):
        tried = near(PARTS * height / held.counts, part, PARTS * off / held.counts)
        blocks = next(filter(None, map(shelf.fewest, tried)), None)
        if blocks is None:
            shown = f"{PARTS * height / held.counts / PARTS:.4f}"
            wrong = f"no {most} blocks of the set make {shown}, the stack of angle {n}"
            raise Refusal("range", wrong, "more blocks, another set, or a wider limit on the stack")
        found.append(_stack(angle, long, held.counts, height, blocks))
    return tuple(found)
