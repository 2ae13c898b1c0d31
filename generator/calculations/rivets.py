"""Sheets and a rivet in; its diameter, length, code and formed head out."""

from __future__ import annotations

import math
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
    word,
)
from generator.findings import Refusal
from generator.quantities.amount import Amount
from generator.quantities.functions import largest, step
from generator.quantities.window import Window, window

NAVY = "NAVEDTRA 14018 ch. 13, rivet selection"
Diameter = Annotated[
    Amount, given("D", "mm", "diameter of the rivet", at_least="1.5", at_most="10")
]
Grip = Annotated[
    Amount, given("G", "mm", "grip: all that the rivet holds together", at_least="0.4",
                  at_most="60")
]  # fmt: skip
Times = Annotated[Amount, given("k_L", "", "diameters for the formed head", fixed="1.5 ratio")]


@dataclass(frozen=True)
class RivetSize:
    """A diameter against the sheets it holds, to the last figure of a size such as 3/32 in."""

    goes: Annotated[Window, gives("D", "mm", "diameter of the rivet", to="0.00001")]
    ratio: Annotated[Amount, gives("D/T", "", "diameter over thickest sheet", to="0.01")]
    other_guides: Annotated[
        Amount, gives("D_3T", "mm", "three times the thickest sheet", to="0.01", safe="up")
    ]


def _size_by_ratio(
    sheets: tuple[float, ...], diameter: float, most: float, structural: float
) -> RivetSize:
    """In thicknesses of the thickest sheet."""
    thickest = sorted(sheets)[-1]
    low = max(1.0, structural / thickest)
    made: Any = RivetSize
    goes = Window(low * thickest, most * thickest, "", "")
    bare: RivetSize = made(goes, diameter / thickest, sum([thickest] * round(most)))
    return bare


@calculation(
    source=f"{NAVY}, rules 5 to 7: from one to three times the thickest sheet, 3/32 in at the "
    "least where the rivet is structural",
    not_covered="the load: the count of rivets comes from a table or from approved data; other "
    "guides ask for at least three times the thickest sheet, where this one stops: that size is "
    "printed beside it",
    second=Second(_size_by_ratio, "0.001 %", "in thicknesses of the thickest sheet"),
    examples=(
        Example({"sheets": ["0.040 in", "0.040 in"], "diameter": "0.1 in"},
                {"other_guides": "0.12 in", "goes.from": "0.09375 in", "goes.to": "0.12 in"},
                "solid-rivet training document, two skins of .040: at least 0.120", "0.00001 in"),
    ),
)  # fmt: skip
def rivet_diameter(
    sheets: Annotated[
        tuple[Amount, ...], given("T", "mm", "thickness of sheet", at_least="0.3", at_most="20")
    ],
    diameter: Diameter,
    most: Annotated[Amount, given("k_T", "", "thicknesses at the most", fixed="3 ratio")],
    structural: Annotated[
        Amount, given("D_s", "in", "least of a structural rivet", fixed="0.09375 in")
    ],
) -> RivetSize:
    """Diameter of a solid rivet for the sheets that it joins."""
    thickest = step(
        largest(*sheets) if len(sheets) > 1 else sheets[0], "T_max", "mm", "thickest sheet"
    )
    goes = window(
        {"the thickest sheet": thickest, "structural rivets": structural},
        {"three times the thickest sheet": most * thickest},
    )
    step(diameter, "D", "mm", "diameter", at_least=goes.low, at_most=goes.high,
         wrong="a rivet of {value} does not suit the thickest sheet")  # fmt: skip
    return RivetSize(goes, diameter / thickest, most * thickest)


Sixteenth = Annotated[Amount, given("l_16", "mm", "a sixteenth of an inch", fixed="1.5875 mm")]


@dataclass(frozen=True)
class RivetLength:
    """How long a rivet is before it is driven."""

    length: Annotated[Amount, gives("L", "mm", "length of the rivet under its head", to="0.01")]
    sixteenths: Annotated[Amount, gives("N", "", "the same in sixteenths of an inch", to="0.01")]


def _length_by_head(grip: float, diameter: float, times: float, sixteenth: float) -> RivetLength:
    """What the head takes, and the grip on top of it, each in sixteenths."""
    head, held = times * diameter / sixteenth, grip / sixteenth
    made: Any = RivetLength
    bare: RivetLength = made((head + held) * sixteenth, head + held)
    return bare


@calculation(
    source=f"L = G + 1.5 D: {NAVY}, rule 8",
    not_covered="the lengths that stores has: rivet_code; a formed head that is countersunk; "
    "sealant between the sheets, which the grip has to hold too",
    second=Second(_length_by_head, "0.001 %", "head and grip in sixteenths, added"),
    examples=(
        Example({"grip": "0.064 in", "diameter": "0.125 in"}, {"sixteenths": "4.024"},
                "builders' worked figure for grip 0.064 and a 1/8 in rivet"),
        Example({"grip": "0.128 in", "diameter": "0.125 in"}, {"sixteenths": "5.048"},
                "builders' worked figure for grip 0.128 and a 1/8 in rivet"),
    ),
)  # fmt: skip
def rivet_length(
    grip: Grip,
    diameter: Diameter,
    times: Times,
    sixteenth: Sixteenth,
) -> RivetLength:
    """Length of a solid rivet before it is driven: the grip and one and a half diameters."""
    length = step(grip + times * diameter, "L", "mm", "length of the rivet")
    return RivetLength(length, length / sixteenth)


MostOver = Annotated[
    Amount, given("k_2", "", "diameters that may stay for the head", fixed="1.75 ratio")
]
ROUNDINGS = ("nearest", "next longer")


@dataclass(frozen=True)
class RivetCode:
    """The length that stores gives out, and what it leaves for the head."""

    code: Annotated[
        Amount, gives("N", "", "length code, sixteenths of an inch", to="1", settled=True)
    ]
    length: Annotated[Amount, gives("L_N", "mm", "length of that code", to="0.01")]
    wanted: Annotated[Amount, gives("L", "mm", "length wanted, G + 1.5 D", to="0.01")]
    over: Annotated[Amount, gives("ΔL", "mm", "code over the length wanted", to="0.01")]
    head: Annotated[
        Amount,
        gives("k", "", "diameters left for the head", to="0.01", safe="down", at_least="1.2",
              beyond="The next code, trimmed"),
    ]  # fmt: skip
    do: Annotated[str, word("do", "what is done with it")]


def _code_by_list(
    grip: float, diameter: float, rounding: str, times: float, sixteenth: float, most: float
) -> RivetCode:
    """All codes up to two inches gone through."""
    wanted = grip + times * diameter
    codes = [sixteenth * n for n in range(1, 129)]
    hair = sixteenth * 1e-9
    if rounding == "nearest":
        gaps = [abs(each - wanted) for each in codes]
        place = max(n for n, gap in enumerate(gaps) if gap <= min(gaps) + hair)
    else:
        place = next(n for n, each in enumerate(codes) if each >= wanted - hair)
    length = codes[place]
    head = (length - grip) / diameter
    made: Any = RivetCode
    bare: RivetCode = made(
        place + 1.0,
        length,
        wanted,
        length - wanted,
        head,
        _done(head, most, length < wanted - hair),
    )
    return bare


def _done(head: Any, most: Any, short: bool) -> str:
    if short:
        return "stays as it is: shorter than wanted, with nothing to trim"
    return (
        "trim it to the length wanted"
        if head > most * (1 + 1e-9)
        else "may stay as it is, or be trimmed to the length wanted"
    )


@calculation(
    source=f"{NAVY}, rule 8; nearest sixteenth: solid-rivet training document (two .040 skins, "
    "1/8 rivet: -4); next longer: TM 10-5410-229-13&P paragraph 5-6; 1.2 to 1.75 D for the head: "
    "common practice, no source",
    not_covered="a rivet shorter than 1.2 D over the grip, which makes no head; two sources round "
    "differently: the one that was followed stands in the entry",
    method="length wanted in sixteenths of an inch, to the nearest (a half goes up) or to the next "
    "whole one; what it leaves over the grip, in diameters",
    second=Second(_code_by_list, "0.000001 mm", "every code up to eight inches gone through"),
    examples=(
        Example(
            {"grip": "0.080 in", "diameter": "0.125 in", "rounding": "nearest"},
            {"code": "4", "wanted": "0.2675 in", "head": "1.36"},
            "solid-rivet training document: two skins of .040, 1/8 rivet, 0.267 in to 1/4 in",
        ),
        Example({"grip": "0.080 in", "diameter": "0.125 in", "rounding": "next longer"},
                {"code": "5"}, "TM 10-5410-229-13&P paragraph 5-6: the next standard length"),
    ),
)  # fmt: skip
def rivet_code(
    grip: Grip,
    diameter: Diameter,
    rounding: Annotated[str, choice("how the length is rounded to sixteenths", *ROUNDINGS)],
    times: Times,
    sixteenth: Sixteenth,
    most: MostOver,
) -> RivetCode:
    """Length code of a solid rivet, by the rounding that is named, and what it leaves the head."""
    wanted: Any = grip + times * diameter
    exact = wanted / sixteenth
    code = math.floor(exact + 0.5 + 1e-9) if rounding == "nearest" else math.ceil(exact - 1e-9)
    length: Any = code * sixteenth
    head = (length - grip) / diameter
    made: Any = RivetCode
    found: RivetCode = made(
        float(code),
        length,
        wanted,
        length - wanted,
        head,
        _done(head, most, length < wanted * (1 - 1e-9)),
    )
    return found


@dataclass(frozen=True)
class FormedHead:
    """The head that the bar makes."""

    width: Annotated[Amount, gives("d_h", "mm", "diameter aimed for", to="0.01", inside="widths")]
    height: Annotated[Amount, gives("h_h", "mm", "height aimed for", to="0.01", inside="heights")]
    widths: Annotated[Window, gives("d_h", "mm", "diameter of the formed head", to="0.01")]
    heights: Annotated[Window, gives("h_h", "mm", "height of the formed head", to="0.01")]


def _head_by_volume(
    diameter: float, width: float, height: float, low: float, high: float, flat: float, tall: float
) -> FormedHead:
    """Each limit as the aim and a share of it."""
    wide, up = width * diameter, height * diameter
    made: Any = FormedHead
    bare: FormedHead = made(
        wide,
        up,
        Window(wide - (width - low) / width * wide, wide + (high - width) / width * wide, "", ""),
        Window(up - (height - flat) / height * up, up + (tall - height) / height * up, "", ""),
    )
    return bare


@calculation(
    source="aim 1.5 D by 0.5 D: repair manual of a 1940s fighter, paragraph 14; limits 1.4 to 1.6 "
    "D and 0.4 to 0.65 D: common practice, no source",
    not_covered="cracked, stepped or cocked heads, which the eye finds; the wider limits of other "
    "guides: driven_head, and 1.3 D at the least in MIL-R-47196",
    second=Second(_head_by_volume, "0.001 %", "the aim and a share of it either way"),
    examples=(
        Example(
            {"diameter": "0.125 in"},
            {"width": "0.188 in", "height": "0.063 in"},
            "repair manual of a 1940s fighter, paragraph 14: 1/8 rivet",
            "0.001 in",
        ),
        Example(
            {"diameter": "0.15625 in"},
            {"width": "0.234 in", "height": "0.078 in"},
            "the same: 5/32 rivet",
            "0.001 in",
        ),
    ),
)
def formed_head(
    diameter: Diameter,
    width: Annotated[Amount, given("k_d", "", "diameters wide, aimed for", fixed="1.5 ratio")],
    height: Annotated[Amount, given("k_h", "", "diameters high, aimed for", fixed="0.5 ratio")],
    low: Annotated[Amount, given("k_d1", "", "wide, at the least", fixed="1.4 ratio")],
    high: Annotated[Amount, given("k_d2", "", "wide, at the most", fixed="1.6 ratio")],
    flat: Annotated[Amount, given("k_h1", "", "high, at the least", fixed="0.4 ratio")],
    tall: Annotated[Amount, given("k_h2", "", "high, at the most", fixed="0.65 ratio")],
) -> FormedHead:
    """Formed head of a solid rivet: limits for a go and no-go gauge."""
    return FormedHead(
        width * diameter,
        height * diameter,
        window({"go": low * diameter}, {"no-go": high * diameter}),
        window({"go": flat * diameter}, {"no-go": tall * diameter}),
    )


@dataclass(frozen=True)
class DrivenRow:
    """Limits of a driven head: for this rivet only."""

    rivet: Annotated[str, key("rivet, as the table prints it")]
    narrow: Annotated[Amount, given("d_1", "in", "least diameter of the row")]
    wide: Annotated[Amount, given("d_2", "in", "largest diameter of the row")]
    flat: Annotated[Amount, given("h_1", "in", "least height of the row")]
    tall: Annotated[Amount, given("h_2", "in", "largest height of the row")]


@dataclass(frozen=True)
class DrivenHead:
    """The head that the table allows."""

    width: Annotated[Amount, gives("d_h", "in", "diameter aimed for", to="0.001", inside="widths")]
    height: Annotated[Amount, gives("h_h", "in", "height aimed for", to="0.001", inside="heights")]
    widths: Annotated[Window, gives("d_h", "in", "diameter of the driven head", to="0.001")]
    heights: Annotated[Window, gives("h_h", "in", "height of the driven head", to="0.001")]


def _driven_by_middle(row: Any) -> DrivenHead:
    ends = [((a + b) / 2, (b - a) / 2) for a, b in ((row.narrow, row.wide), (row.flat, row.tall))]
    made: Any = DrivenHead
    goes = (Window(middle - half, middle + half, "", "") for middle, half in ends)
    bare: DrivenHead = made(ends[0][0], ends[1][0], *goes)
    return bare


@calculation(
    source="solid-rivet training document, table of driven heads",
    not_covered="a tighter gauge of the workshop: formed_head; cracks and steps",
    second=Second(_driven_by_middle, "0.001 %", "middle and half width of the row"),
    examples=(
        Example(
            {"rivet": "1/8"},
            {"width": "0.185 in", "widths.from": "0.16 in", "heights.to": "0.08 in"},
            "the training document's row of 1/8, and its middle",
            "0.0001 in",
        ),
    ),
)
def driven_head(row: Annotated[DrivenRow, looked_up("driven_head_limits")]) -> DrivenHead:
    """Driven head of a solid rivet by a table of inspection limits."""
    return DrivenHead(
        (row.narrow + row.wide) / 2,
        (row.flat + row.tall) / 2,
        window({"the table": row.narrow}, {"the table": row.wide}),
        window({"the table": row.flat}, {"the table": row.tall}),
    )


@dataclass(frozen=True)
class SubstituteRow:
    """A rivet that may stand for another: up to this diameter only."""

    instead_of: Annotated[str, key("alloy of the rivet that is replaced")]
    largest: Annotated[Amount, given("D_max", "in", "largest rivet of the row")]
    more: Annotated[Amount, given("ΔD", "in", "how much larger the new one is")]


def _substitute_in_steps(row: Any, diameter: float) -> float:
    steps = round(diameter / row.more) + 1
    if abs(diameter / row.more - (steps - 1)) > 1e-6:
        raise Refusal("range", "a rivet between two standard diameters", "a multiple of 1/32 in")
    return float(steps * row.more)


@calculation(
    source="AC 43.13-1B (9/8/98) paragraph 4-57 b, p. 4-16: 2117 in place of 2017 and 2024",
    not_covered="edge and pitch, which the larger rivet needs too; any other alloy; approval of "
    "the change",
    second=Second(_substitute_in_steps, "0.001 %", "counted in thirty-seconds"),
    examples=(
        Example(
            {"instead_of": "2017", "diameter": "0.125 in"},
            {"": "0.15625 in"},
            "AC 43.13-1B paragraph 4-57 b: 1/32 in larger",
            "0.00001 in",
        ),
    ),
)
def rivet_substitute(
    row: Annotated[SubstituteRow, looked_up("rivet_substitutes")],
    diameter: Annotated[
        Amount, given("D", "in", "diameter of the rivet that is replaced", at_least="0.09375",
                      at_most="0.25")
    ],
) -> Annotated[Amount, gives("D_n", "in", "diameter of the 2117 rivet", to="0.00001")]:  # fmt: skip
    """Substitute of a heat-treated rivet: a 2117 rivet of the next size."""
    step(diameter, "D", "in", "diameter", at_most=row.largest,
         wrong="a rivet of {value} is too large for a 2117 rivet to stand for it")  # fmt: skip
    new: Amount = diameter + row.more
    return new
