"""Parts, washers and a bolt in; its grip, its thread through the nut and its hole out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from generator.calculation import (
    Example,
    Second,
    calculation,
    choice,
    given,
    gives,
    key,
    looked_up,
)
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import step, total
from generator.quantities.window import Window, window

GRIP = (
    "head washer and parts ≤ grip < both washers and parts: common practice, no source; no thread "
    "in bearing, one at least through the nut: AC 43.13-1B (9/8/98) paragraph 7-37"
)
Parts = Annotated[
    tuple[Amount, ...], given("t", "mm", "thickness of part", at_least="0.2", at_most="200")
]
HeadWasher = Annotated[
    Amount, given("w_h", "mm", "washers under the head", at_least="0", at_most="12")
]
NutWasher = Annotated[
    Amount, given("w_n", "mm", "washers under the nut", above="0", at_most="12",
                  beyond="Without one the nut stands on the end of the shank or bears on a thread")
]  # fmt: skip
Grip = Annotated[
    Amount, given("g", "mm", "grip: plain length of the bolt", above="0", at_most="300",
                  at_bench="0.1")
]  # fmt: skip


@dataclass(frozen=True)
class BoltGrip:
    """A grip between its two limits."""

    stack: Annotated[Amount, gives("t_s", "mm", "parts together", to="0.001")]
    least: Annotated[Amount, gives("g_1", "mm", "least grip", to="0.001", safe="up")]
    most: Annotated[Amount, gives("g_2", "mm", "grip is less than", to="0.001", safe="down")]
    over: Annotated[
        Amount,
        gives("Δg_1", "mm", "grip over the least", to="0.001", safe="down", at_least="0",
              beyond="A longer bolt: the thread bears in the parts"),
    ]  # fmt: skip
    under: Annotated[
        Amount,
        gives("Δg_2", "mm", "room that the grip leaves the nut", to="0.001", safe="down",
              above="0", beyond="A shorter bolt, or a thicker washer under the nut: the nut "
              "stands on the end of the shank and clamps nothing"),
    ]  # fmt: skip


def _grip_from_nut(
    parts: tuple[float, ...], head_washer: float, nut_washer: float, grip: float
) -> BoltGrip:
    """From the face of the nut back to the head."""
    nut_face = head_washer + nut_washer + sum(parts)
    made: Any = BoltGrip
    bare: BoltGrip = made(
        nut_face - nut_washer - head_washer, nut_face - nut_washer, nut_face,
        grip + nut_washer - nut_face, nut_face - grip,
    )  # fmt: skip
    return bare


@calculation(
    source=GRIP,
    not_covered="the runout of the thread, which is not plain; paint and sealant between the "
    "parts; bolts that are clamped by a plate nut: shims go under the plate",
    second=Second(_grip_from_nut, "0.001 %", "from the face of the nut back to the head"),
    examples=(
        Example(
            {
                "parts": ["3 mm", "2 mm"],
                "head_washer": "1.6 mm",
                "nut_washer": "1.6 mm",
                "grip": "7 mm",
            },
            {"least": "6.6 mm", "most": "8.2 mm", "over": "0.4 mm", "under": "1.2 mm"},
            "visible: 5 mm of parts and a washer of 1.6 mm on either side",
        ),
    ),
)
def bolt_grip(parts: Parts, head_washer: HeadWasher, nut_washer: NutWasher, grip: Grip) -> BoltGrip:
    """Grip of a bolt: plain shank through all parts, and its end inside the washer of the nut.

    A grip as long as parts and both washers puts the nut on the shank before it clamps.
    """
    stack = step(total(parts), "t_s", "mm", "parts together")
    least = step(head_washer + stack, "g_1", "mm", "least grip")
    most = step(least + nut_washer, "g_2", "mm", "grip is less than")
    return BoltGrip(stack, least, most, grip - least, most - grip)


@dataclass(frozen=True)
class FromStock:
    """The bolt of the stores that goes."""

    grip: Annotated[Amount, gives("g", "mm", "grip of the bolt", to="0.01", settled=True)]
    goes: Annotated[Window, gives("g", "mm", "grip that goes, less than the upper", to="0.001")]


def _stock_by_room(
    parts: tuple[float, ...], head_washer: float, nut_washer: float, grips: tuple[float, ...]
) -> FromStock:
    """Each grip by the room it leaves in the washer of the nut; the most room that is allowed."""
    face = head_washer + sum(parts) + nut_washer
    hair = 1e-9 * face
    rooms = {face - each: each for each in grips}
    room = max(r for r in rooms if hair < r <= nut_washer + hair)
    made: Any = FromStock
    bare: FromStock = made(rooms[room], Window(face - nut_washer, face, "", ""))
    return bare


@calculation(
    source=GRIP,
    not_covered="the strength of the bolt; its thread: bolt_thread; grips that stores has not",
    method="the grips of the stores gone through for the shortest that is not below head washer "
    "and parts; it must be less than both washers and parts",
    second=Second(_stock_by_room, "0.000001 mm", "room that each grip leaves in the nut's washer"),
    examples=(
        Example(
            {
                "parts": ["3 mm", "2 mm"],
                "head_washer": "1.6 mm",
                "nut_washer": "1.6 mm",
                "grips": ["4.8 mm", "6.4 mm", "7.9 mm", "9.5 mm"],
            },
            {"grip": "7.9 mm", "goes.from": "6.6 mm", "goes.to": "8.2 mm"},
            "visible: 7.9 is the first from 6.6 on and less than 8.2",
        ),
    ),
)
def bolt_from_stock(
    parts: Parts,
    head_washer: HeadWasher,
    nut_washer: NutWasher,
    grips: Annotated[
        tuple[Amount, ...], given("g", "mm", "grip in stores", above="0", at_most="300")
    ],
) -> FromStock:
    """Bolt from the stores for a stack of parts and washers: the shortest grip that goes."""
    sheets: Any = parts
    under: Any = head_washer
    nut: Any = nut_washer
    listed: Any = grips
    least = under + sum(sheets)
    most = least + nut
    hair = 1e-9 * most
    found = [each for each in sorted(listed) if each >= least - hair and each < most - hair]
    if not found:
        wrong = "no grip of the stores lies between the parts and the face of the nut"
        raise Refusal("range", wrong, "another washer under the nut, or another length")
    made: Any = FromStock
    picked: FromStock = made(found[0], window({"parts": least}, {"the nut": most}))
    return picked


@dataclass(frozen=True)
class Through:
    """What of a bolt stands out of its nut."""

    out: Annotated[Amount, gives("l_o", "mm", "bolt outside the nut", to="0.1", safe="down")]
    threads: Annotated[
        Amount, gives("n_o", "", "threads outside the nut", to="0.1", safe="down", at_least="1",
                      beyond="A longer bolt: one whole thread at the least stands out")
    ]  # fmt: skip


def _through_by_threads(
    length: float, parts: tuple[float, ...], washers: float, nut: float, pitch: float
) -> Through:
    """Everything in threads."""
    used = sum(part / pitch for part in parts) + washers / pitch + nut / pitch
    threads = length / pitch - used
    made: Any = Through
    bare: Through = made(threads * pitch, threads)
    return bare


@calculation(
    source="AC 43.13-1B (9/8/98) paragraph 7-37: one thread at the least through the nut",
    not_covered="a chamfered end, which is no whole thread: take it off the length; a bolt that "
    "is too long and meets something behind",
    second=Second(_through_by_threads, "0.001 %", "everything in threads"),
    examples=(
        Example(
            {
                "length": "20 mm",
                "parts": ["5 mm"],
                "washers": "3.2 mm",
                "nut": "8 mm",
                "pitch": "1 mm",
            },
            {"out": "3.8 mm", "threads": "3.8"},
            "visible: 20 − 5 − 3.2 − 8",
        ),
    ),
)
def bolt_thread(
    length: Annotated[
        Amount, given("l", "mm", "length of the bolt under its head, chamfer taken off",
                      above="0", at_most="400", at_bench="0.1")
    ],
    parts: Parts,
    washers: Annotated[
        Amount, given("w", "mm", "washers on both sides together", at_least="0", at_most="24")
    ],
    nut: Annotated[Amount, given("h", "mm", "height of the nut", at_least="1", at_most="60")],
    pitch: Annotated[
        Amount, given("P", "mm", "pitch of the thread", at_least="0.2", at_most="6")
    ],
) -> Through:  # fmt: skip
    """Thread through the nut: how much of the bolt stands out when all is clamped."""
    stack = step(total(parts) + washers + nut, "t_n", "mm", "parts, washers and nut")
    out = step(length - stack, "l_o", "mm", "bolt outside the nut")
    return Through(out, out / pitch)


def _grip_of_sum(shank: float, threaded: float) -> float:
    return -(threaded - shank)


@calculation(
    source="grip: length under the head less the threaded length (FAA study notes on bolts)",
    not_covered="a bolt whose table gives the grip; the runout of the thread",
    second=Second(_grip_of_sum, "0.001 %", "taken the other way round"),
    examples=(
        Example(
            {"shank": "1.1875 in", "threaded": "0.625 in"},
            {"": "0.5625 in"},
            "FAA study notes: 1 3/16 in of shank, 5/8 in of thread, grip 9/16 in",
        ),
    ),
)
def bolt_plain_length(
    shank: Annotated[
        Amount, given("l_s", "mm", "length under the head", above="0", at_most="400")
    ],
    threaded: Annotated[
        Amount, given("l_t", "mm", "threaded length", above="0", at_most="200")
    ],
) -> Annotated[
    Amount, gives("g", "mm", "grip", to="0.01", above="0", beyond="It is threaded to the head")
]:  # fmt: skip
    """Grip of a bolt in hand: its length under the head less the threaded length."""
    return shank - threaded


@dataclass(frozen=True)
class HoleRow:
    """A drill for a bolt: it holds for this bolt only."""

    bolt: Annotated[str, key("bolt, as the table prints it")]
    drill: Annotated[str, key("drill, as the table prints it")]
    nominal: Annotated[Amount, given("D", "in", "bolt of the row")]
    hole: Annotated[Amount, given("d", "in", "drill of the row")]


@dataclass(frozen=True)
class BoltHole:
    """A drilled hole for a bolt."""

    hole: Annotated[Amount, gives("d", "mm", "diameter of the hole", to="0.01")]
    clearance: Annotated[Amount, gives("c", "mm", "hole over bolt", to="0.01", above="0")]


def _hole_by_ratio(row: Any) -> BoltHole:
    ratio = row.hole / row.nominal
    made: Any = BoltHole
    bare: BoltHole = made(ratio * row.nominal, (ratio - 1) * row.nominal)
    return bare


@calculation(
    source="AC 43.13-1B (9/8/98) paragraph 7-39: the first lettered drill above the bolt",
    not_covered="light-drive, close-tolerance and clevis bolts, which have reamed holes: "
    "bolt_hole_fit; primary joints, whose holes their drawing gives",
    second=Second(_hole_by_ratio, "0.001 %", "the hole as a multiple of the bolt"),
    examples=(
        Example(
            {"bolt": "1/4", "drill": "F"},
            {"hole": "0.257 in", "clearance": "0.007 in"},
            "lettered drills (from memory): E is 0.250, F 0.257 in",
        ),
    ),
)
def bolt_hole(row: Annotated[HoleRow, looked_up("bolt_hole_drill")]) -> BoltHole:
    """Drilled hole for a general bolt: the first lettered drill above its diameter."""
    return BoltHole(row.hole, row.hole - row.nominal)


Bolt = Annotated[
    Amount, given("D", "mm", "diameter of the bolt's shank", at_least="2", at_most="40")
]
Bore = Annotated[
    Amount, given("d", "mm", "diameter of the hole", at_least="2", at_most="41", at_bench="0.01")
]


def _clear_by_ratio(bolt: float, hole: float) -> float:
    return bolt * (hole / bolt - 1)


@calculation(
    source="hole less bolt: geometry",
    not_covered="which clearance the joint wants: its drawing, or a fit by ISO 286; holes that "
    "stand out of line, which take it up",
    second=Second(_clear_by_ratio, "0.0001 mm", "the hole as a multiple of the bolt"),
    examples=(
        Example({"bolt": "6.35 mm", "hole": "6.38 mm"}, {"": "0.03 mm"}, "visible: 6.38 − 6.35"),
    ),
)
def bolt_clearance(
    bolt: Bolt, hole: Bore
) -> Annotated[
    Amount,
    gives("c", "mm", "hole over bolt", to="0.001", safe="down", at_least="0",
          beyond="The bolt does not go in: ream, or another bolt"),
]:  # fmt: skip
    """Clearance of a bolt in its hole, which must be none or more."""
    return hole - bolt


def _driven_by_share(bolt: str, tight: float, most: float) -> float:
    return (1 - tight / most) * most


@calculation(
    source="AC 43.13-1B (9/8/98) paragraph 7-39: 0.0006 in for a 5/8 in bolt",
    not_covered="light drive of other diameters, for which the source has no number: the drawing "
    "gives hole and bolt",
    second=Second(_driven_by_share, "0.001 %", "as a share of the light drive"),
    examples=(
        Example(
            {"bolt": "5/8 in", "tight": "0.0005 in"},
            {"": "0.0001 in"},
            "AC 43.13-1B paragraph 7-39: 0.0006 in at the most",
            "0.0000001 in",
        ),
    ),
)
def bolt_light_drive(
    bolt: Annotated[str, choice("bolt that the source has a light drive for", "5/8 in")],
    tight: Annotated[
        Amount, given("i", "mm", "bolt over hole, as measured", above="0", at_most="0.1",
                      beyond="A bolt that is loose is no light drive")
    ],
    most: Annotated[Amount, given("i_2", "mm", "light drive", fixed="0.01524 mm")],
) -> Annotated[
    Amount, gives("Δi", "mm", "interference left", to="0.0001", safe="down", at_least="0",
                  beyond="Ream: it drives harder than a light drive")
]:  # fmt: skip
    """Light drive of a 5/8 in bolt: a little larger than its reamed hole."""
    return most - tight
